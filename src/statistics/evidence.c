/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Marginal likelihoods of explanations, and what follows from them. */
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <trunnion/evidence.h>

#include "statistics.h"

enum { PIECES_MAX = 400 };

static const double ln_sqrt_2pi = 0.91893853320467274178;

typedef struct integrand {
    trn_weibull_row failed;
    const trn_weibull_data *others;
    double alpha; /* beta ln(eta/scale) without model error */
    double beta, s;
    double offset; /* -ln t, or -ln of the width of the interval */
    double most;   /* taken out of the exponent */
} integrand;

/* log of the integrand over x ~ N(0,1): concave, for it is so in alpha */
static void hill_x(double x, void *context, double *value, double *first, double *second)
{
    const integrand *f = context;
    double alpha = f->alpha + f->beta * f->s * x;
    trn_slopes l = {0};
    if (f->others)
        trn_weibull_slopes(f->others, alpha, f->beta, 0, &l);
    trn_weibull_row_add(&f->failed, alpha, f->beta, 0, &l);
    double bs = f->beta * f->s;
    *value = l.l + f->offset - x * x / 2 - ln_sqrt_2pi;
    *first = bs * l.a - x;
    *second = bs * bs * l.aa - 1;
}

static double scaled(double x, void *context)
{
    const integrand *f = context;
    double value, first, second;
    hill_x(x, context, &value, &first, &second);
    return exp(value - f->most);
}

/* Sum of pieces from the mode outwards, each as wide as the integrand is there, until what is
 * left cannot be seen. */
static trn_status one_side(integrand *f, double from, double way, double *sum)
{
    gsl_function function = {scaled, f};
    for (int i = 0; i < PIECES_MAX; i++) {
        double value, first, second;
        hill_x(from, f, &value, &first, &second);
        if (value - f->most < -42) /* 1e-18 of the peak; it falls ever faster from here on */
            return TRN_OK;
        double to = from + way / sqrt(-second);
        double part, error;
        size_t calls;
        int code = gsl_integration_qng(&function, fmin(from, to), fmax(from, to), 0, 1e-11,
                                       &part, &error, &calls);
        if ((code != GSL_SUCCESS && code != GSL_ETOL) || !isfinite(part) ||
            (code == GSL_ETOL && error > 1e-9 * (*sum + part)))
            return TRN_E_CONVERGE;
        *sum += part;
        from = to;
    }
    return TRN_E_CONVERGE;
}

static trn_status integrate(integrand *f, double *ln_m)
{
    double mode = 0;
    trn_status status = trn_hill_climb(hill_x, f, 0, -INFINITY, INFINITY, &mode, &f->most);
    if (status != TRN_OK || !isfinite(f->most))
        return status != TRN_OK ? status : TRN_E_DOMAIN;
    double sum = 0;
    status = one_side(f, mode, 1, &sum);
    if (status == TRN_OK)
        status = one_side(f, mode, -1, &sum);
    if (status == TRN_OK)
        *ln_m = f->most + log(sum);
    return status;
}

trn_status trn_evidence_log_marginal(double hours_h, double spread_h,
                                     const trn_weibull_data *others, double l10_h, double beta,
                                     double s, double *ln_m)
{
    if (!trn_positive(hours_h) || !trn_not_negative(spread_h) || !(spread_h <= hours_h) ||
        !trn_positive(l10_h) || !trn_positive(beta) || !trn_not_negative(s))
        return TRN_E_DOMAIN;
    double scale = others ? others->scale_h : hours_h;
    integrand f = {.others = others, .beta = beta, .s = s};
    double low = spread_h < hours_h ? hours_h - spread_h : 0;
    double high = hours_h + spread_h;
    if (trn_weibull_row_make(low, high, 1, &f.failed) != TRN_OK)
        return TRN_E_DOMAIN;
    trn_weibull_row_scale(&f.failed, scale);
    f.offset = high > low ? -log(high - low) : -log(hours_h);
    f.alpha = beta * log(l10_h / scale) - TRN_LN_Q;
    double value, first, second;
    if (s > 0) {
        trn_status status = integrate(&f, &value);
        if (status != TRN_OK)
            return status;
    } else {
        hill_x(0, &f, &value, &first, &second);
        value += ln_sqrt_2pi;
    }
    if (!isfinite(value))
        return TRN_E_DOMAIN;
    *ln_m = value;
    return TRN_OK;
}

trn_status trn_evidence_bayes_factor(double hours_h, double spread_h,
                                     const trn_weibull_data *others, double l10_h,
                                     double l10_ref_h, double beta, double s, double *ln_m,
                                     double *ln_m_ref, double *factor)
{
    double here, there;
    trn_status status =
        trn_evidence_log_marginal(hours_h, spread_h, others, l10_h, beta, s, &here);
    if (status == TRN_OK)
        status = trn_evidence_log_marginal(hours_h, spread_h, others, l10_ref_h, beta, s, &there);
    if (status != TRN_OK)
        return status;
    *ln_m = here;
    *ln_m_ref = there;
    *factor = exp(here - there);
    return TRN_OK;
}

trn_status trn_evidence_ceiling(double t_h, double l10_h, double beta, double *ceiling,
                                double *best_h)
{
    if (!trn_positive(t_h) || !trn_positive(l10_h) || !trn_positive(beta))
        return TRN_E_DOMAIN;
    double z = TRN_Q * pow(t_h / l10_h, beta);
    *ceiling = exp(z - 1 - log(z));
    *best_h = t_h * exp(TRN_LN_Q / beta);
    return TRN_OK;
}

trn_status trn_evidence_posterior(double prior, double factor, double *posterior)
{
    if (!trn_inside(prior) || !trn_not_negative(factor))
        return TRN_E_DOMAIN;
    double against = (1 - prior) / prior;
    *posterior = factor / (factor + against);
    return TRN_OK;
}

const char *trn_evidence_word(double factor)
{
    if (!(factor > 0))
        return "";
    double f = factor < 1 ? 1 / factor : factor;
    return f <= 3 ? "weak" : f <= 20 ? "positive" : f <= 150 ? "strong" : "very strong";
}

static size_t bits(size_t set)
{
    size_t n = 0;
    for (; set; set &= set - 1)
        n++;
    return n;
}

trn_status trn_evidence_shares(const double *life_h, size_t n, bool logarithmic, double *lost_h,
                               double *share, size_t *departures)
{
    size_t k = 0;
    while (k <= TRN_DEPARTURES_MAX && ((size_t)1 << k) < n)
        k++;
    if (k < 1 || k > TRN_DEPARTURES_MAX || ((size_t)1 << k) != n)
        return TRN_E_DOMAIN;
    for (size_t j = 0; j < n; j++)
        if (!trn_positive(life_h[j]))
            return TRN_E_DOMAIN;
    double lost = life_h[0] - life_h[n - 1];
    if (!(lost > 0))
        return TRN_E_DOMAIN;
    double total = logarithmic ? log(life_h[0] / life_h[n - 1]) : lost;
    /* orders that put a set of size m before a departure: m! (k - m - 1)!/k! */
    double weight[TRN_DEPARTURES_MAX];
    weight[0] = 1 / (double)k;
    for (size_t m = 1; m < k; m++)
        weight[m] = weight[m - 1] * (double)m / (double)(k - m);
    for (size_t i = 0; i < k; i++) {
        size_t bit = (size_t)1 << i;
        double sum = 0;
        for (size_t set = 0; set < n; set++)
            if (!(set & bit)) {
                double with = life_h[set | bit];
                double loss = logarithmic ? log(life_h[set] / with) : life_h[set] - with;
                sum += weight[bits(set)] * loss;
            }
        share[i] = sum / total;
    }
    *lost_h = lost;
    *departures = k;
    return TRN_OK;
}
