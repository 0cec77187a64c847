/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study only. */
#ifndef TRUNNION_TURNING_ROWS_H
#define TRUNNION_TURNING_ROWS_H

#include <trunnion/extras.h>

/* What would have to be otherwise for the manual's interval to stand: rows of turning.csv.
 * false without memory; *out is to be freed. */
bool trn_turning_rows(const trn_results *r, trn_turning_row **out, size_t *count);

#endif
