/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Limits of a fitted line: by the likelihood ratio, and by the information at the maximum. */
#include <trunnion/weibull.h>

#include "statistics.h"

typedef struct profile {
    const trn_weibull_data *data;
    const trn_weibull_line *line;
    bool slope;        /* the slope is held, else a life */
    double w;          /* ln(-ln(1 - F)) of the life held: 0 for eta */
    double critical;   /* chi-square quantile */
    double centre, d;  /* a line z = gamma (x - centre) - d through the quantity held */
    trn_status status; /* of the inner maximum */
} profile;

/* along the lines through a fixed life, over t = ln gamma */
static void hill_gamma(double t, void *context, double *value, double *first, double *second)
{
    const profile *p = context;
    double gamma = exp(t);
    trn_slopes s;
    trn_weibull_slopes(p->data, p->d, gamma, p->centre, &s);
    *value = s.l;
    *first = gamma * s.g;
    *second = gamma * s.g + gamma * gamma * s.gg;
}

/* deviance less its critical value, at y = ln(quantity/estimate) */
static double excess(double y, void *context)
{
    profile *p = context;
    double value = -INFINITY;
    double where = 0;
    if (p->slope) {
        p->status = trn_weibull_at_slope(p->data, p->line->beta * exp(y), p->line->mu, &where,
                                         &value);
    } else {
        double start = log(p->line->beta);
        p->centre = p->line->mu + y + p->w / p->line->beta;
        p->d = -p->w;
        p->status = trn_hill_climb(hill_gamma, p, start, -600, 600, &where, &value);
    }
    return 2 * (p->line->log_likelihood - value) - p->critical;
}

/* One limit as a factor on the estimate: 0 or inf where the data set none. */
static trn_status find_limit(profile *p, double farthest, double *factor)
{
    double way = farthest > 0 ? 1 : -1;
    double from = 0;
    for (double step = 0.1;; step *= 2) {
        double to = from + way * step;
        if (way * (to - farthest) > 0)
            to = farthest;
        double above = excess(to, p);
        if (p->status != TRN_OK)
            return p->status;
        if (above > 0) {
            double root = 0;
            trn_status status = trn_root_exact(excess, p, from, to, &root);
            if (status == TRN_OK)
                *factor = exp(root);
            return status != TRN_OK ? status : p->status;
        }
        if (to == farthest) {
            *factor = way > 0 ? INFINITY : 0;
            return TRN_OK;
        }
        from = to;
    }
}

trn_status trn_weibull_likelihood_limits(const trn_weibull_data *data,
                                         const trn_weibull_line *line, double confidence,
                                         trn_weibull_limits *limits)
{
    if (!trn_inside(confidence) || !trn_positive(line->beta) ||
        !isfinite(line->log_likelihood))
        return TRN_E_DOMAIN;
    double k = trn_normal_two_sided(confidence);
    double far = log(1e12);
    static const double w[6] = {0, 0, 0, 0, TRN_LN_Q, TRN_LN_Q};
    double end[6] = {log(1e-4), far, -far, far, -far, far};
    double factor[6];
    for (size_t i = 0; i < 6; i++) {
        profile p = {
            .data = data, .line = line, .slope = i < 2, .w = w[i], .critical = k * k};
        trn_status status = find_limit(&p, end[i], &factor[i]);
        if (status != TRN_OK)
            return status;
    }
    *limits = (trn_weibull_limits){
        .beta_low = line->beta * factor[0],
        .beta_high = line->beta * factor[1],
        .eta_low_h = line->eta_h * factor[2],
        .eta_high_h = line->eta_h * factor[3],
        .b10_low_h = line->b10_h * factor[4],
        .b10_high_h = line->b10_h * factor[5],
    };
    return TRN_OK;
}

trn_status trn_weibull_life_limits(const trn_weibull_data *data, const trn_weibull_line *line,
                                   double confidence, double failed, double *life_h,
                                   double *low_h, double *high_h)
{
    if (!trn_inside(confidence) || !trn_inside(failed) || !trn_positive(line->beta) ||
        !isfinite(line->log_likelihood))
        return TRN_E_DOMAIN;
    double k = trn_normal_two_sided(confidence);
    double far = log(1e12);
    double factor[2];
    profile p = {.data = data, .line = line, .w = log(-log1p(-failed)), .critical = k * k};
    for (size_t i = 0; i < 2; i++) {
        trn_status status = find_limit(&p, i == 0 ? -far : far, &factor[i]);
        if (status != TRN_OK)
            return status;
    }
    *life_h = data->scale_h * exp(line->mu + p.w / line->beta);
    *low_h = *life_h * factor[0];
    *high_h = *life_h * factor[1];
    return TRN_OK;
}

trn_status trn_weibull_information(const trn_weibull_data *data, const trn_weibull_line *line,
                                   double *i_mm, double *i_ms, double *i_ss)
{
    if (!trn_positive(line->beta) || !isfinite(line->mu))
        return TRN_E_DOMAIN;
    /* about mu: d alpha = gamma d mu, d gamma = -gamma d ln sigma; the gradient is 0 there */
    trn_slopes s;
    trn_weibull_slopes(data, 0, line->beta, line->mu, &s);
    double g2 = line->beta * line->beta;
    if (!isfinite(s.aa) || !isfinite(s.ag) || !isfinite(s.gg))
        return TRN_E_DOMAIN;
    *i_mm = -g2 * s.aa;
    *i_ms = g2 * s.ag;
    *i_ss = -g2 * s.gg;
    return TRN_OK;
}

trn_status trn_weibull_fisher_limits(const trn_weibull_data *data, const trn_weibull_line *line,
                                     double confidence, trn_weibull_limits *limits)
{
    double mm, ms, ss;
    if (!trn_inside(confidence))
        return TRN_E_DOMAIN;
    trn_status status = trn_weibull_information(data, line, &mm, &ms, &ss);
    if (status != TRN_OK)
        return status;
    double det = mm * ss - ms * ms;
    if (!(det > 0))
        return TRN_E_DOMAIN;
    double k = trn_normal_two_sided(confidence);
    double w = TRN_LN_Q / line->beta;
    double v_mm = ss / det;
    double v_ms = -ms / det;
    double v_ss = mm / det;
    double beta = exp(k * sqrt(v_ss));
    double eta = exp(k * sqrt(v_mm));
    double b10 = exp(k * sqrt(v_mm + 2 * w * v_ms + w * w * v_ss));
    *limits = (trn_weibull_limits){
        .beta_low = line->beta / beta,
        .beta_high = line->beta * beta,
        .eta_low_h = line->eta_h / eta,
        .eta_high_h = line->eta_h * eta,
        .b10_low_h = line->b10_h / b10,
        .b10_high_h = line->b10_h * b10,
    };
    return TRN_OK;
}
