/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wear by sliding. */
#ifndef TRUNNION_WEAR_H
#define TRUNNION_WEAR_H

#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Volume worn off the softer of two bodies that slide on each other.
 *
 *   V = k F s/H
 *
 * Given:    k         wear coefficient, >= 0, no dimension (k/H is the specific wear rate)
 *           force_n   normal force, N, >= 0
 *           slid_m    distance slid, m, >= 0
 *           hard_pa   indentation hardness of the softer body, Pa, > 0
 * Returned: volume_m3 worn volume, m3
 * Status:   TRN_E_DOMAIN
 * Valid for steady mild wear; k scatters tenfold between set-ups, so for plausibility only.
 * Source:   Archard 1953, J. Appl. Phys. 24:981
 * Standing: published
 * Checked by tests/published/interval.csv, tests/interval.c */
trn_status trn_wear_archard(double k, double force_n, double slid_m, double hard_pa,
                            double *volume_m3);

#ifdef __cplusplus
}
#endif
#endif
