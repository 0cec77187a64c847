/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_roots.h>

#include "statistics.h"

enum { ROOT_STEPS = 200, CLIMB_STEPS = 200 };

trn_status trn_root_exact(double (*f)(double, void *), void *context, double low,
                            double high, double *root)
{
    double at_low = f(low, context);
    double at_high = f(high, context);
    if (at_low == 0 || at_high == 0) {
        *root = at_low == 0 ? low : high;
        return TRN_OK;
    }
    if (!((at_low < 0 && at_high > 0) || (at_low > 0 && at_high < 0)))
        return TRN_E_CONVERGE;
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    if (!solver)
        return TRN_E_MEMORY;
    gsl_function function = {f, context};
    int code = gsl_root_fsolver_set(solver, &function, fmin(low, high), fmax(low, high));
    for (int i = 0; code == GSL_SUCCESS && i < ROOT_STEPS; i++) {
        code = gsl_root_fsolver_iterate(solver);
        if (gsl_root_test_interval(gsl_root_fsolver_x_lower(solver),
                                   gsl_root_fsolver_x_upper(solver), 1e-15, 1e-15) ==
            GSL_SUCCESS)
            break;
    }
    double x = gsl_root_fsolver_root(solver);
    gsl_root_fsolver_free(solver);
    if (code != GSL_SUCCESS || !isfinite(x))
        return TRN_E_CONVERGE;
    *root = x;
    return TRN_OK;
}

/* Brackets the peak by steps that double; *low and *high end up on its two sides. */
static trn_status bracket(trn_hill hill, void *context, double start, double *low, double *high)
{
    double value, first, second;
    hill(start, context, &value, &first, &second);
    if (isnan(first))
        return TRN_E_CONVERGE;
    double way = first > 0 ? 1 : -1;
    double end = first > 0 ? *high : *low;
    double from = start;
    for (double step = 0.5; first * way > 0; step *= 2) {
        double to = from + way * step;
        if (way * (to - end) >= 0)
            to = end;
        hill(to, context, &value, &first, &second);
        if (isnan(first))
            return TRN_E_CONVERGE;
        if (to == end || first * way <= 0) {
            *low = way > 0 ? from : to;
            *high = way > 0 ? to : from;
            return TRN_OK;
        }
        from = to;
    }
    *low = *high = start; /* already flat */
    return TRN_OK;
}

trn_status trn_hill_climb(trn_hill hill, void *context, double start, double low, double high,
                          double *peak, double *value)
{
    trn_status status = bracket(hill, context, start, &low, &high);
    if (status != TRN_OK)
        return status;
    double t = 0.5 * (low + high);
    double v = 0;
    for (int i = 0; i < CLIMB_STEPS; i++) {
        double first, second;
        hill(t, context, &v, &first, &second);
        if (isnan(first))
            return TRN_E_CONVERGE;
        if (first == 0 || high - low <= 1e-14 * (1 + fabs(t)))
            break;
        if (first > 0)
            low = t;
        else
            high = t;
        double next = second < 0 ? t - first / second : NAN;
        bool newton = next > low && next < high;
        if (!newton)
            next = 0.5 * (low + high);
        bool done = newton && fabs(next - t) <= 1e-12 * (1 + fabs(t));
        t = next;
        if (done) {
            hill(t, context, &v, &first, &second);
            break;
        }
    }
    *peak = t;
    *value = v;
    return TRN_OK;
}

double trn_normal_two_sided(double confidence)
{
    return gsl_cdf_ugaussian_Qinv((1 - confidence) / 2);
}

double trn_chi2_quantile(double p, double f)
{
    double x = gsl_cdf_chisq_Pinv(p, f);
    for (int i = 0; i < 3; i++) { /* the library's quantile stops some digits early */
        double miss = p < 0.5 ? gsl_cdf_chisq_P(x, f) - p : (1 - p) - gsl_cdf_chisq_Q(x, f);
        double better = x - miss / gsl_ran_chisq_pdf(x, f);
        if (!(better > 0) || !isfinite(better))
            break;
        x = better;
    }
    return x;
}
