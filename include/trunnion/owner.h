/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page that the owner of a machine gets: what is to be done from now on, how often, why, at
 * what cost, with a place to accept it. */
#ifndef TRUNNION_OWNER_H
#define TRUNNION_OWNER_H

#include <trunnion/study.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Given:    results   evaluated, with trn_study_extras
 * Returned: out       the page is added
 * Status:   TRN_E_UNKNOWN: no extras, out untouched; TRN_E_MEMORY */
trn_status trn_owner_page(const trn_results *results, trn_buffer *out);

#ifdef __cplusplus
}
#endif
#endif
