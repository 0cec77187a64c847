/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines with a slope that is known, and the product limit, which asks for none. */
#include <trunnion/weibull.h>

#include "statistics.h"

trn_status trn_weibull_weibayes(const trn_weibull_data *data, double beta, double confidence,
                                trn_weibull_line *line, trn_weibull_limits *limits)
{
    if (data->grouped || !trn_positive(beta) || !trn_inside(confidence))
        return TRN_E_DOMAIN;
    double most = -INFINITY;
    double sum = 0;
    for (size_t i = 0; i < data->n; i++)
        most = fmax(most, data->rows[i].x);
    for (size_t i = 0; i < data->n; i++) /* t^beta over that of the longest: cannot overflow */
        sum += (double)data->rows[i].count * exp(beta * (data->rows[i].x - most));
    double r = data->failed;
    double q = exp(TRN_LN_Q / beta);
    double top = data->scale_h * exp(most);
    double low = top * pow(2 * sum / trn_chi2_quantile((1 + confidence) / 2, 2 * r + 2),
                           1 / beta);
    if (!isfinite(low))
        return TRN_E_DOMAIN;
    trn_weibull_line fitted = {beta, NAN, NAN, NAN, NAN};
    trn_weibull_limits found = {NAN, NAN, low, NAN, low * q, NAN};
    if (r > 0) {
        fitted.mu = most + log(sum / r) / beta;
        fitted.eta_h = data->scale_h * exp(fitted.mu);
        fitted.b10_h = fitted.eta_h * q;
        trn_slopes s;
        trn_weibull_slopes(data, 0, beta, fitted.mu, &s);
        fitted.log_likelihood = s.l;
        found.eta_high_h =
            top * pow(2 * sum / trn_chi2_quantile((1 - confidence) / 2, 2 * r), 1 / beta);
        found.b10_high_h = found.eta_high_h * q;
        if (!isfinite(fitted.eta_h) || isnan(found.eta_high_h))
            return TRN_E_DOMAIN;
    }
    *line = fitted;
    *limits = found;
    return TRN_OK;
}

trn_status trn_weibull_weibayes_times(const double *times_h, size_t n, double failed,
                                      double beta, double confidence, double *eta_h,
                                      double *b10_h, double *eta_low_h, double *b10_low_h)
{
    if (n == 0)
        return TRN_E_MISSING;
    if (!trn_positive(beta) || !trn_inside(confidence) || !trn_count_ok(failed) ||
        failed > (double)n)
        return TRN_E_DOMAIN;
    double longest = 0;
    for (size_t i = 0; i < n; i++) {
        if (!trn_not_negative(times_h[i]))
            return TRN_E_DOMAIN;
        longest = fmax(longest, times_h[i]);
    }
    if (!(longest > 0))
        return TRN_E_DOMAIN;
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        sum += pow(times_h[i] / longest, beta);
    double eta = longest * pow(sum / failed, 1 / beta);
    double low =
        longest * pow(2 * sum / trn_chi2_quantile(confidence, 2 * failed + 2), 1 / beta);
    double q = exp(TRN_LN_Q / beta);
    if (!isfinite(eta) || !isfinite(low))
        return TRN_E_DOMAIN;
    *eta_h = eta;
    *b10_h = eta * q;
    *eta_low_h = low;
    *b10_low_h = low * q;
    return TRN_OK;
}

trn_status trn_weibull_product_limit(const trn_weibull_data *data, double t_h,
                                     double confidence, double *survive, double *se,
                                     double *low, double *high)
{
    if (data->grouped || !trn_not_negative(t_h) || !trn_inside(confidence))
        return TRN_E_DOMAIN;
    double s = 1;
    double sum = 0;
    double at_risk = data->units;
    size_t i = 0;
    while (i < data->n && data->rows[i].after_h <= t_h) {
        double time = data->rows[i].after_h;
        double d = 0;
        double gone = 0;
        for (; i < data->n && !(data->rows[i].after_h > time); i++) {
            double count = (double)data->rows[i].count;
            gone += count;
            if (data->rows[i].kind == TRN_WEIBULL_EXACT)
                d += count;
        }
        s *= (at_risk - d) / at_risk;
        if (d > 0)
            sum += d / (at_risk * (at_risk - d)); /* Greenwood; inf where the last one fails */
        at_risk -= gone;
    }
    bool beyond = i == data->n && s > 0 && t_h > data->rows[data->n - 1].after_h;
    if (!(s > 0)) {
        *survive = *se = *low = *high = 0;
    } else if (!(sum > 0)) {
        *survive = *low = *high = 1;
        *se = 0;
    } else {
        double error = s * sqrt(sum);
        double spread = trn_normal_two_sided(confidence) * error / (-s * log(s));
        *survive = s;
        *se = error;
        *low = exp(log(s) * exp(spread));
        *high = exp(log(s) * exp(-spread));
    }
    return beyond ? TRN_R_STATISTICS_BEYOND : TRN_OK;
}
