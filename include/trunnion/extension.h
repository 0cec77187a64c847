/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far a measured trend may rise: the bound on which a longer interval rests. */
#ifndef TRUNNION_EXTENSION_H
#define TRUNNION_EXTENSION_H

#include <stddef.h>
#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Upper one-sided prediction bound of a straight line through samples.
 *
 *   b = Sxy/Sxx, a = mean y - b mean t, s^2 = sum (y - a - b t)^2/(n - 2)
 *   upper = a + b T + t_{confidence, n-2} s sqrt(1 + 1/n + (T - mean t)^2/Sxx)
 *
 * Given:    times_h, values  n samples, any order, finite; times not all equal
 *           n                3 or more
 *           t_h              hours asked for, finite
 *           confidence       one-sided, fraction, 0.5 <= confidence < 1
 * Returned: upper            bound at t_h, in the unit of the values
 *           slope_per_h      b
 * Status:   TRN_E_DOMAIN
 * Valid for a trend that is straight with even, normal scatter.
 * Source:   Draper & Smith, Applied Regression Analysis (prediction of a single value)
 * Standing: published
 * Checked by tests/published/interval.csv, tests/interval.c */
trn_status trn_extension_limit(const double *times_h, const double *values, size_t n, double t_h,
                               double confidence, double *upper, double *slope_per_h);

#ifdef __cplusplus
}
#endif
#endif
