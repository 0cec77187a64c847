/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_fit.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <trunnion/extension.h>

static int all_finite(const double *x, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (!isfinite(x[i]))
            return 0;
    return 1;
}

trn_status trn_extension_limit(const double *times_h, const double *values, size_t n, double t_h,
                               double confidence, double *upper, double *slope_per_h)
{
    if (n < 3 || !times_h || !values || !isfinite(t_h) || !(confidence >= 0.5) ||
        !(confidence < 1) || !all_finite(times_h, n) || !all_finite(values, n))
        return TRN_E_DOMAIN;
    /* equality is asked of the times themselves: rounding can leave a sum of squares above 0 */
    double first = 0;
    double last = 0;
    gsl_stats_minmax(&first, &last, times_h, 1, n);
    if (!(first < last))
        return TRN_E_DOMAIN;

    double a = 0;
    double b = 0;
    double c00 = 0;
    double c01 = 0;
    double c11 = 0;
    double squares = 0;
    if (gsl_fit_linear(times_h, 1, values, 1, n, &a, &b, &c00, &c01, &c11, &squares) != 0)
        return TRN_E_DOMAIN;
    double mean = gsl_stats_mean(times_h, 1, n);
    double level = gsl_stats_mean(values, 1, n);
    double sxx = gsl_stats_tss_m(times_h, 1, n, mean);
    double s = sqrt(squares / (double)(n - 2));
    double t = gsl_cdf_tdist_Pinv(confidence, (double)(n - 2));
    double d = t_h - mean;
    /* Draper: level + b (T - mean) keeps the digits that a + b T loses far from the origin */
    double bound = level + b * d + t * s * sqrt(1 + 1 / (double)n + d * d / sxx);
    if (!isfinite(bound) || !isfinite(b))
        return TRN_E_DOMAIN;
    *upper = bound;
    *slope_per_h = b;
    return TRN_OK;
}
