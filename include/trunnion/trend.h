/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Robust trend of readings over hours, and robust limits of a population. */
#ifndef TRUNNION_TREND_H
#define TRUNNION_TREND_H

#include <stddef.h>
#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef struct trn_trend {
    double slope;     /* of the values, per hour */
    double intercept; /* value at 0 h */
    double low, high; /* limits of the slope */
    double coverage;  /* how often limits made so hold the true slope, fraction */
} trn_trend;

/* Doubles that trn_trend_theil_sen needs as work space for n readings. */
static inline size_t trn_trend_work(size_t n)
{
    return n < 2 ? 2 : n * (n - 1);
}

/* Theil-Sen line: median of the slopes of all pairs, intercept median(y - slope t).
 * Limits: the slopes in places d and N + 1 - d; without ties d by the exact distribution of
 * the inversions of a random order, with ties by its normal approximation.
 *
 * Given:    time_h[n] h, any order; value[n], any unit; n >= 2, not all times equal
 *           confidence   two-sided, fraction, 0 < C < 1
 *           work         trn_trend_work(n) doubles
 * Returned: trend        coverage is the exact one, with ties the one asked for
 * Status:   TRN_E_DOMAIN; TRN_R_STATISTICS_COVERAGE where even the widest limits cover less
 *           than asked for
 * Valid for a straight trend with independent errors, outliers allowed.
 * Source:   Sen, P.K., J. Amer. Statist. Assoc. 63 (1968) 1379
 * Standing: published
 * Checked by tests/published/review.csv, tests/trend.c */
trn_status trn_trend_theil_sen(const double *time_h, const double *value, size_t n,
                               double confidence, double *work, trn_trend *trend);

/* Limits of a population from its own readings.
 *
 *   scale = 1.482602 median |y - median|;  warn = median + 2 scale;  alarm = median + 3 scale
 *
 * Given:    value[n], n >= 2; work n doubles
 * Returned: median, scale, warn, alarm   in the unit of the values
 * Status:   TRN_E_DOMAIN; TRN_R_STATISTICS_FEW_VALUES (under 12)
 * Valid for readings of like machines and like oil hours.
 * Source:   common practice, no source
 * Standing: practice
 * Checked by tests/published/review.csv, tests/trend.c */
trn_status trn_trend_robust_limit(const double *value, size_t n, double *work, double *median,
                                  double *scale, double *warn, double *alarm);

#ifdef __cplusplus
}
#endif
#endif
