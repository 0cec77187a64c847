/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Small probabilities go through expm1 and log1p, or they lose all their digits. */
#include <gsl/gsl_sf_gamma.h>
#include <trunnion/bearing.h>
#include <trunnion/life.h>

#include "statistics.h"

enum { FRACTION_STEPS = 100000 };

static bool life_ok(double l10_h, double beta)
{
    return trn_positive(l10_h) && trn_positive(beta);
}

trn_status trn_life_probability(double t_h, double l10_h, double beta, double *failed)
{
    if (!trn_not_negative(t_h) || !life_ok(l10_h, beta))
        return TRN_E_DOMAIN;
    *failed = -expm1(-TRN_Q * pow(t_h / l10_h, beta));
    return TRN_OK;
}

trn_status trn_life_quantile(double p, double l10_h, double beta, double *t_h)
{
    if (!trn_inside(p) || !life_ok(l10_h, beta))
        return TRN_E_DOMAIN;
    double t = l10_h * pow(-log1p(-p) / TRN_Q, 1 / beta);
    if (!isfinite(t))
        return TRN_E_DOMAIN;
    *t_h = t;
    return TRN_OK;
}

trn_status trn_life_scale(double l10_h, double beta, double *eta_h, double *l50_h,
                          double *mean_h)
{
    if (!life_ok(l10_h, beta))
        return TRN_E_DOMAIN;
    double ln_eta = log(l10_h) - TRN_LN_Q / beta;
    if (!isfinite(exp(ln_eta)))
        return TRN_E_DOMAIN;
    double eta = l10_h * exp(-TRN_LN_Q / beta);
    double mean = exp(ln_eta + gsl_sf_lngamma(1 + 1 / beta));
    if (!isfinite(mean))
        return TRN_E_DOMAIN;
    if (1 / beta < 100) /* without the logarithm, which costs digits */
        mean = eta * gsl_sf_gamma(1 + 1 / beta);
    *eta_h = eta;
    *l50_h = eta * pow(log(2), 1 / beta);
    *mean_h = mean;
    return TRN_OK;
}

trn_status trn_life_conditional(double t0_h, double further_h, double l10_h, double beta,
                                double *failed)
{
    if (!trn_not_negative(t0_h) || !trn_not_negative(further_h) || !life_ok(l10_h, beta))
        return TRN_E_DOMAIN;
    double before = pow(t0_h / l10_h, beta);
    double more = further_h < t0_h
                      ? before * expm1(beta * log1p(further_h / t0_h))
                      : pow((t0_h + further_h) / l10_h, beta) - before;
    if (isnan(more)) /* both powers beyond any number */
        return TRN_E_DOMAIN;
    *failed = -expm1(-TRN_Q * more);
    return TRN_OK;
}

trn_status trn_life_conditional_quantile(double t0_h, double p, double l10_h, double beta,
                                         double *further_h)
{
    if (!trn_not_negative(t0_h) || !trn_inside(p) || !life_ok(l10_h, beta))
        return TRN_E_DOMAIN;
    double y = -log1p(-p) / TRN_Q;
    double x = y / pow(t0_h / l10_h, beta);
    double further = isfinite(x) ? t0_h * expm1(log1p(x) / beta)
                                 : l10_h * pow(y, 1 / beta) - t0_h; /* as good as new */
    if (!isfinite(further) || further < 0)
        return TRN_E_DOMAIN;
    *further_h = further;
    return TRN_OK;
}

/* e^z z^(1-a) Gamma(a, z) by its continued fraction (modified Lentz), for z > a: what is left
 * of the factors that overflow one by one */
static double scaled_tail(double a, double z)
{
    double b = z + 1 - a;
    double c = 1e300;
    double d = 1 / b;
    double h = d;
    for (int i = 1; i < FRACTION_STEPS; i++) {
        double an = -i * (i - a);
        b += 2;
        d = 1 / (an * d + b);
        c = b + an / c;
        double factor = d * c;
        h *= factor;
        if (fabs(factor - 1) < 1e-16)
            break;
    }
    return z * h;
}

trn_status trn_life_mean_residual(double t0_h, double l10_h, double beta, double *mean_h)
{
    double eta, median, mean;
    trn_status status = trn_not_negative(t0_h) ? trn_life_scale(l10_h, beta, &eta, &median, &mean)
                                               : TRN_E_DOMAIN;
    if (status != TRN_OK)
        return status;
    double a = 1 / beta;
    double z = TRN_Q * pow(t0_h / l10_h, beta);
    double m = mean * exp(z) * gsl_sf_gamma_inc_Q(a, z);
    if (z > a + 1) /* eta z^a = t0, and Gamma(1 + a)/Gamma(a) = a */
        m = isfinite(z) ? a * t0_h / z * scaled_tail(a, z) : 0;
    if (!isfinite(m))
        return TRN_E_DOMAIN;
    *mean_h = m;
    return TRN_OK;
}

trn_status trn_life_iso281(double t_h, double l10_h, double *survive, double *failed,
                           double *failed_plain)
{
    if (!trn_not_negative(t_h) || !trn_positive(l10_h))
        return TRN_E_DOMAIN;
    double least = trn_bearing_minimum_life(); /* of L10: ISO 281, reliability factor */
    double u = t_h / l10_h;
    double hazard = u > least ? TRN_Q * pow((u - least) / (1 - least), 1.5) : 0;
    *survive = exp(-hazard);
    *failed = -expm1(-hazard);
    *failed_plain = -expm1(-TRN_Q * pow(u, 1.5));
    return TRN_OK;
}

typedef struct series {
    const double *l10_h;
    const double *beta;
    size_t n;
    double shortest;
} series;

/* ln of the sum, over ln(t/shortest): straight for equal slopes */
static double series_excess(double y, void *context)
{
    const series *s = context;
    double sum = 0;
    for (size_t i = 0; i < s->n; i++)
        sum += exp(s->beta[i] * (y - log(s->l10_h[i] / s->shortest)));
    return log(sum);
}

trn_status trn_life_system(const double *l10_h, const double *beta, size_t n, double *system_h)
{
    if (n == 0)
        return TRN_E_MISSING;
    series s = {l10_h, beta, n, INFINITY};
    double flattest = INFINITY;
    for (size_t i = 0; i < n; i++) {
        if (!life_ok(l10_h[i], beta[i]))
            return TRN_E_DOMAIN;
        s.shortest = fmin(s.shortest, l10_h[i]);
        flattest = fmin(flattest, beta[i]);
    }
    if (n == 1) {
        *system_h = l10_h[0];
        return TRN_OK;
    }
    /* no part can do more than n times its damage at the shortest life; a little beyond that,
     * so that rounding cannot spoil the change of sign */
    double y = 0;
    trn_status status = trn_root_exact(series_excess, &s,
                                         -log((double)n) / flattest * (1 + 1e-9) - 1e-9, 1e-9, &y);
    if (status == TRN_OK)
        *system_h = s.shortest * exp(y);
    return status;
}

trn_status trn_life_consumed(const double *hours_h, const double *l10_h, size_t n, double beta,
                             double *damage, double *failed)
{
    if (n == 0)
        return TRN_E_MISSING;
    if (!trn_positive(beta))
        return TRN_E_DOMAIN;
    double sum = 0;
    for (size_t i = 0; i < n; i++) {
        if (!trn_not_negative(hours_h[i]) || !trn_positive(l10_h[i]))
            return TRN_E_DOMAIN;
        sum += hours_h[i] / l10_h[i];
    }
    if (!isfinite(sum))
        return TRN_E_DOMAIN;
    *damage = sum;
    *failed = -expm1(-TRN_Q * pow(sum, beta));
    return TRN_OK;
}

trn_status trn_life_at_least_one(double failed, double units, double *any)
{
    if (!(failed >= 0) || !(failed <= 1) || !trn_count_ok(units))
        return TRN_E_DOMAIN;
    *any = failed < 1 ? -expm1(units * log1p(-failed)) : 1;
    return TRN_OK;
}

trn_status trn_life_zero_failure(double units, double t_h, double beta, double confidence,
                                 double *eta_low_h, double *b10_low_h)
{
    if (!trn_count_ok(units) || !trn_not_negative(t_h) || !trn_positive(beta) ||
        !trn_inside(confidence))
        return TRN_E_DOMAIN;
    double eta = t_h * pow(units / -log1p(-confidence), 1 / beta);
    if (!isfinite(eta))
        return TRN_E_DOMAIN;
    *eta_low_h = eta;
    *b10_low_h = eta * exp(TRN_LN_Q / beta);
    return TRN_OK;
}

trn_status trn_life_success_run(double reliability, double confidence, double k, double beta,
                                double *exact, double *units)
{
    if (!trn_inside(reliability) || !trn_inside(confidence) || !trn_positive(k) ||
        !trn_positive(beta))
        return TRN_E_DOMAIN;
    double n = log1p(-confidence) / (pow(k, beta) * log(reliability));
    if (!isfinite(n))
        return TRN_E_DOMAIN;
    *exact = n;
    *units = fmax(1, ceil(n - 1e-9));
    return TRN_OK;
}
