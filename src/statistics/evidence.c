/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Marginal likelihoods of explanations, and what follows from them. */
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <trunnion/evidence.h>

#include "statistics.h"

enum { PIECES_MAX = 400 };

static const double ln_sqrt_2pi = 0.91893853320467274178;

/* Other units at one slope: known hours and running units come to one sum, so that a fleet of any
 * size costs as much as one unit; looks are added row by row. */
typedef struct sisters {
    const trn_weibull_data *data; /* NULL: none */
    double ln_sum;                /* ln sum of count (t/scale)^beta */
    double exact;                 /* failures at known hours */
    double constant;              /* what does not depend on alpha */
} sisters;

typedef struct integrand {
    trn_weibull_row failed;
    sisters others;
    double alpha, alpha_others; /* beta ln(eta/scale) without model error */
    double beta, s;
    double offset; /* -ln t, or -ln of the width of the interval */
    double most;   /* taken out of the exponent */
} integrand;

static sisters sisters_of(const trn_weibull_data *data, double beta)
{
    sisters s = {.data = data, .ln_sum = -INFINITY};
    double most = -INFINITY;
    double sum = 0;
    if (!data)
        return s;
    for (size_t i = 0; i < data->n; i++)
        most = fmax(most, data->rows[i].x);
    s.constant = -data->sum_ln_exact;
    for (size_t i = 0; i < data->n; i++) {
        const trn_weibull_row *row = &data->rows[i];
        double count = (double)row->count;
        if (row->kind != TRN_WEIBULL_EXACT && row->kind != TRN_WEIBULL_RIGHT)
            continue;
        sum += count * exp(beta * (row->x - most));
        if (row->kind == TRN_WEIBULL_EXACT) {
            s.exact += count;
            s.constant += count * (beta * row->x + log(beta));
        }
    }
    if (sum > 0)
        s.ln_sum = beta * most + log(sum);
    return s;
}

static void add_sisters(const sisters *others, double alpha, double beta, trn_slopes *l)
{
    if (!others->data)
        return;
    double e = exp(others->ln_sum - alpha);
    l->l += others->constant - others->exact * alpha - e;
    l->a += e - others->exact;
    l->aa -= e;
    for (size_t i = 0; others->data->grouped && i < others->data->n; i++) {
        trn_weibull_kind kind = others->data->rows[i].kind;
        if (kind == TRN_WEIBULL_LEFT || kind == TRN_WEIBULL_INTERVAL)
            trn_weibull_row_add(&others->data->rows[i], alpha, beta, 0, l);
    }
}

/* log of the integrand over x ~ N(0,1): concave, for it is so in alpha */
static void hill_x(double x, void *context, double *value, double *first, double *second)
{
    const integrand *f = context;
    double bs = f->beta * f->s;
    trn_slopes l = {0};
    add_sisters(&f->others, f->alpha_others + bs * x, f->beta, &l);
    trn_weibull_row_add(&f->failed, f->alpha + bs * x, f->beta, 0, &l);
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

/* The failed unit and its sisters at a slope and a model error; the lives come later. */
static trn_status integrand_of(double hours_h, double spread_h, const trn_weibull_data *others,
                               double beta, double s, integrand *out)
{
    if (!trn_positive(hours_h) || !trn_not_negative(spread_h) || !(spread_h <= hours_h) ||
        !trn_positive(beta) || !trn_not_negative(s))
        return TRN_E_DOMAIN;
    integrand f = {.beta = beta, .s = s};
    double low = spread_h < hours_h ? hours_h - spread_h : 0;
    double high = hours_h + spread_h;
    if (trn_weibull_row_make(low, high, 1, &f.failed) != TRN_OK)
        return TRN_E_DOMAIN;
    trn_weibull_row_scale(&f.failed, others ? others->scale_h : hours_h);
    f.offset = high > low ? -log(high - low) : -log(hours_h);
    f.others = sisters_of(others, beta);
    *out = f;
    return TRN_OK;
}

static trn_status log_marginal(integrand *f, double scale_h, double l10_h, double l10_others_h,
                               double *ln_m)
{
    f->alpha = f->beta * log(l10_h / scale_h) - TRN_LN_Q;
    f->alpha_others = f->beta * log(l10_others_h / scale_h) - TRN_LN_Q;
    double value, first, second;
    if (f->s > 0) {
        trn_status status = integrate(f, &value);
        if (status != TRN_OK)
            return status;
    } else {
        hill_x(0, f, &value, &first, &second);
        value += ln_sqrt_2pi;
    }
    if (!isfinite(value))
        return TRN_E_DOMAIN;
    *ln_m = value;
    return TRN_OK;
}

trn_status trn_evidence_log_marginal_apart(double hours_h, double spread_h,
                                           const trn_weibull_data *others, double l10_h,
                                           double l10_others_h, double beta, double s,
                                           double *ln_m)
{
    integrand f;
    if (!trn_positive(l10_h) || !trn_positive(l10_others_h))
        return TRN_E_DOMAIN;
    trn_status status = integrand_of(hours_h, spread_h, others, beta, s, &f);
    return status == TRN_OK ? log_marginal(&f, others ? others->scale_h : hours_h, l10_h,
                                           l10_others_h, ln_m)
                            : status;
}

trn_status trn_evidence_log_marginal(double hours_h, double spread_h,
                                     const trn_weibull_data *others, double l10_h, double beta,
                                     double s, double *ln_m)
{
    return trn_evidence_log_marginal_apart(hours_h, spread_h, others, l10_h, l10_h, beta, s, ln_m);
}

/* ---- a life known to a range ---------------------------------------------------------------- */

typedef struct range {
    integrand f;
    double scale_h;
    double others_h; /* NaN: the sisters have the life of the unit */
    double most;
} range;

/* Log of the marginal at a log of the life; log-concave, so one hill. */
static double ln_at(double ln_life, range *r)
{
    double life = exp(ln_life);
    double ln_m = -INFINITY;
    return log_marginal(&r->f, r->scale_h, life, isnan(r->others_h) ? life : r->others_h,
                        &ln_m) == TRN_OK
               ? ln_m
               : -INFINITY;
}

static double range_scaled(double ln_life, void *context)
{
    range *r = context;
    return exp(ln_at(ln_life, r) - r->most);
}

/* Top of the hill in [low, high]: the best of a grid, then a golden section round it. */
static double top(range *r, double low, double high)
{
    enum { GRID = 32, STEPS = 40 };
    const double golden = 0.61803398874989485;
    size_t best = 0;
    double most = -INFINITY;
    for (size_t i = 0; i <= GRID; i++) {
        double value = ln_at(low + (high - low) * (double)i / GRID, r);
        if (value > most) {
            most = value;
            best = i;
        }
    }
    double step = (high - low) / GRID;
    double a = fmax(low, low + step * ((double)best - 1));
    double b = fmin(high, low + step * ((double)best + 1));
    for (int i = 0; i < STEPS; i++) {
        double p = b - golden * (b - a);
        double q = a + golden * (b - a);
        if (ln_at(p, r) < ln_at(q, r))
            a = p;
        else
            b = q;
    }
    return (a + b) / 2;
}

static trn_status average(range *r, double low, double high, double *ln_m)
{
    enum { INTERVALS = 200 };
    double mode = top(r, low, high);
    r->most = ln_at(mode, r);
    if (!isfinite(r->most))
        return TRN_E_DOMAIN;
    gsl_integration_workspace *room = gsl_integration_workspace_alloc(INTERVALS);
    if (!room)
        return TRN_E_MEMORY;
    gsl_function function = {range_scaled, r};
    double ends[] = {low, mode, high};
    double sum = 0;
    int code = GSL_SUCCESS;
    for (size_t i = 0; i < 2 && code == GSL_SUCCESS; i++) {
        double part = 0;
        double error = 0;
        if (ends[i + 1] > ends[i])
            code = gsl_integration_qag(&function, ends[i], ends[i + 1], 0, 1e-10, INTERVALS,
                                       GSL_INTEG_GAUSS21, room, &part, &error);
        if (code == GSL_EROUND && error <= 1e-8 * part) /* as good as the inner integral */
            code = GSL_SUCCESS;
        sum += part;
    }
    gsl_integration_workspace_free(room);
    if (code != GSL_SUCCESS || !(sum > 0))
        return TRN_E_CONVERGE;
    *ln_m = r->most + log(sum / (high - low));
    return TRN_OK;
}

trn_status trn_evidence_log_marginal_range(double hours_h, double spread_h,
                                           const trn_weibull_data *others, double low_h,
                                           double high_h, double l10_others_h, double beta,
                                           double s, double *ln_m)
{
    bool apart = !isnan(l10_others_h);
    if (!trn_positive(low_h) || !trn_positive(high_h) || !(high_h >= low_h) ||
        (apart && !trn_positive(l10_others_h)))
        return TRN_E_DOMAIN;
    if (!(high_h > low_h * (1 + 1e-9))) /* a point, but for rounding */
        return trn_evidence_log_marginal_apart(hours_h, spread_h, others, low_h,
                                               apart ? l10_others_h : low_h, beta, s, ln_m);
    range r = {.scale_h = others ? others->scale_h : hours_h, .others_h = l10_others_h};
    trn_status status = integrand_of(hours_h, spread_h, others, beta, s, &r.f);
    return status == TRN_OK ? average(&r, log(low_h), log(high_h), ln_m) : status;
}

typedef struct failed_by {
    double t_h, beta;
} failed_by;

static double failed_at(double ln_life, void *context)
{
    const failed_by *f = context;
    return -expm1(-TRN_Q * exp(f->beta * (log(f->t_h) - ln_life)));
}

trn_status trn_evidence_failed_range(double t_h, double low_h, double high_h, double beta,
                                     double *failed)
{
    if (!trn_positive(t_h) || !trn_positive(low_h) || !trn_positive(high_h) ||
        !(high_h >= low_h) || !trn_positive(beta))
        return TRN_E_DOMAIN;
    failed_by f = {t_h, beta};
    if (!(high_h > low_h * (1 + 1e-9))) {
        *failed = failed_at(log(low_h), &f);
        return TRN_OK;
    }
    gsl_function function = {failed_at, &f};
    double sum = 0;
    double error = 0;
    enum { INTERVALS = 200 };
    gsl_integration_workspace *room = gsl_integration_workspace_alloc(INTERVALS);
    if (!room)
        return TRN_E_MEMORY;
    double low = log(low_h);
    double high = log(high_h);
    int code = gsl_integration_qag(&function, low, high, 0, 1e-11, INTERVALS, GSL_INTEG_GAUSS21,
                                   room, &sum, &error);
    gsl_integration_workspace_free(room);
    if (code != GSL_SUCCESS && !(code == GSL_EROUND && error <= 1e-8 * sum))
        return TRN_E_CONVERGE;
    *failed = sum / (high - low);
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
