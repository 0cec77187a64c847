/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ranks of failed units, and Weibull lines through them. */
#ifndef TRUNNION_RANK_H
#define TRUNNION_RANK_H

#include <trunnion/weibull.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Median rank of a failed unit.
 *
 *   F = (i - 0.3)/(n + 0.4);  F_exact = median of Beta(i, n + 1 - i)
 *
 * Given:    i        rank, need not be whole, 1 <= i <= n
 *           n        units, whole, >= 1
 * Returned: approximate, exact   fractions
 * Status:   TRN_E_DOMAIN, TRN_E_MEMORY
 * Valid for units of one population; the approximation is within 0.01 of the median.
 * Source:   Benard's approximation; tables of median ranks
 * Standing: memory
 * Checked by tests/published/review.csv, tests/rank.c */
trn_status trn_rank_median(double i, double n, double *approximate, double *exact);

/* Rank of the next failed unit when units were taken out before it.
 *
 *   i = i_before + (n + 1 - i_before)/(1 + left)
 *
 * Given:    before   rank of the failure before, 0 without one, 0 <= before <= n - left
 *           n        units, whole, >= 1
 *           left     units not yet failed or removed, this one too, whole, 1 <= left <= n
 * Returned: rank
 * Status:   TRN_E_DOMAIN
 * Valid for removals that have nothing to do with the coming failure.
 * Source:   Johnson's adjusted ranks
 * Standing: memory
 * Checked by tests/published/review.csv, tests/rank.c */
trn_status trn_rank_adjusted(double before, double n, double left, double *rank);

typedef enum trn_rank_direction {
    TRN_RANK_Y_ON_X = 0, /* errors in the ranks: beta = Sxy/Sxx */
    TRN_RANK_X_ON_Y      /* errors in the lives: beta = Syy/Sxy */
} trn_rank_direction;

/* Line by least squares through adjusted median ranks, X = ln t, Y = ln(-ln(1 - F)).
 * Given:    data without left and interval rows
 * Returned: line; its log_likelihood is NaN
 * Status:   TRN_E_DOMAIN (inspected rows; fewer than two different failure times)
 * Valid for plots; it does not see survivors beyond the last failure.
 * Source:   AFWAL-TR-83-2079; NIST/SEMATECH e-Handbook 8.4.1.3
 * Standing: published
 * Checked by tests/published/lives, tests/rank.c */
trn_status trn_rank_fit(const trn_weibull_data *data, trn_rank_direction direction,
                        trn_weibull_line *line);

#ifdef __cplusplus
}
#endif
#endif
