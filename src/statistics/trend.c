/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sort_double.h>
#include <gsl/gsl_statistics_double.h>
#include <string.h>
#include <trunnion/trend.h>

#include "statistics.h"

static double median_of(double *list, size_t n)
{
    gsl_sort(list, 1, n);
    return gsl_stats_median_from_sorted_data(list, 1, n);
}

/* sum of k (k - 1)(2k + 5) over groups of k equal members; work is overwritten */
static double tie_sum(const double *list, size_t n, double *work)
{
    memcpy(work, list, n * sizeof *list);
    gsl_sort(work, 1, n);
    double sum = 0;
    for (size_t i = 0; i < n;) {
        size_t next = i + 1;
        while (next < n && !(work[next] > work[i]))
            next++;
        double k = (double)(next - i);
        sum += k * (k - 1) * (2 * k + 5);
        i = next;
    }
    return sum;
}

/* Chance of k inversions in a random order of n, for k = 0 .. most, by adding one member at a
 * time: chance_n(k) = sum over j < n of chance_(n-1)(k - j)/n. */
static void inversion_chances(size_t n, size_t most, double *chance)
{
    for (size_t k = 0; k <= most; k++)
        chance[k] = k == 0;
    for (size_t m = 2; m <= n; m++) {
        for (size_t k = 1; k <= most; k++)
            chance[k] += chance[k - 1];
        for (size_t k = most + 1; k-- > 0;) /* downwards: lower sums are still needed */
            chance[k] = (chance[k] - (k >= m ? chance[k - m] : 0)) / (double)m;
    }
}

/* Largest place d whose limits cover at least `confidence`, or 1. */
static size_t exact_place(size_t n, size_t pairs, double confidence, double *chance,
                          double *coverage)
{
    size_t most = pairs / 2;
    inversion_chances(n, most, chance);
    double below = chance[0]; /* P(inversions <= d - 1) */
    size_t d = 1;
    while (d < most && 1 - 2 * (below + chance[d]) >= confidence - 1e-12) {
        below += chance[d];
        d++;
    }
    *coverage = 1 - 2 * below;
    return d;
}

trn_status trn_trend_theil_sen(const double *time_h, const double *value, size_t n,
                               double confidence, double *work, trn_trend *trend)
{
    if (n < 2 || !trn_inside(confidence))
        return TRN_E_DOMAIN;
    for (size_t i = 0; i < n; i++)
        if (!isfinite(time_h[i]) || !isfinite(value[i]))
            return TRN_E_DOMAIN;
    double ties = tie_sum(time_h, n, work) + tie_sum(value, n, work);
    size_t pairs = 0;
    for (size_t i = 0; i < n; i++)
        for (size_t j = i + 1; j < n; j++)
            if (time_h[j] < time_h[i] || time_h[j] > time_h[i])
                work[pairs++] = (value[j] - value[i]) / (time_h[j] - time_h[i]);
    if (pairs == 0)
        return TRN_E_DOMAIN;
    trn_trend t = {.slope = median_of(work, pairs), .coverage = confidence};
    if (!isfinite(work[0]) || !isfinite(work[pairs - 1]))
        return TRN_E_DOMAIN;
    size_t d = 1;
    if (ties > 0) {
        double count = (double)n;
        double variance = (count * (count - 1) * (2 * count + 5) - ties) / 18;
        double place =
            floor(((double)pairs - trn_normal_two_sided(confidence) * sqrt(variance)) / 2);
        d = place > 1 ? (size_t)place : 1;
    } else {
        d = exact_place(n, pairs, confidence, work + pairs, &t.coverage);
    }
    t.low = work[d - 1];
    t.high = work[pairs - d];
    for (size_t i = 0; i < n; i++)
        work[i] = value[i] - t.slope * time_h[i];
    t.intercept = median_of(work, n);
    *trend = t;
    return t.coverage < confidence - 1e-12 ? TRN_R_STATISTICS_COVERAGE : TRN_OK;
}

trn_status trn_trend_robust_limit(const double *value, size_t n, double *work, double *median,
                                  double *scale, double *warn, double *alarm)
{
    if (n < 2)
        return TRN_E_DOMAIN;
    for (size_t i = 0; i < n; i++)
        if (!isfinite(value[i]))
            return TRN_E_DOMAIN;
    double s = gsl_stats_mad(value, 1, n, work); /* 1.4826 x the median deviation */
    memcpy(work, value, n * sizeof *value);
    double m = median_of(work, n);
    if (!isfinite(s) || !isfinite(m + 3 * s))
        return TRN_E_DOMAIN;
    *median = m;
    *scale = s;
    *warn = m + 2 * s;
    *alarm = m + 3 * s;
    return n < 12 ? TRN_R_STATISTICS_FEW_VALUES : TRN_OK;
}
