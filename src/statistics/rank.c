/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_cdf.h>
#include <trunnion/rank.h>

#include "statistics.h"

typedef struct rank_point {
    double a, b;
} rank_point;

static double above_half(double x, void *context)
{
    const rank_point *p = context;
    return gsl_cdf_beta_P(x, p->a, p->b) - 0.5;
}

static double benard(double i, double n)
{
    return (i - 0.3) / (n + 0.4);
}

trn_status trn_rank_median(double i, double n, double *approximate, double *exact)
{
    if (!trn_count_ok(n) || !(i >= 1) || !(i <= n))
        return TRN_E_DOMAIN;
    rank_point point = {i, n + 1 - i};
    double median = 0;
    trn_status status = trn_root_exact(above_half, &point, 0, 1, &median);
    if (status != TRN_OK)
        return status;
    *approximate = benard(i, n);
    *exact = median;
    return TRN_OK;
}

static double adjusted(double before, double n, double left)
{
    return before + (n + 1 - before) / (1 + left);
}

trn_status trn_rank_adjusted(double before, double n, double left, double *rank)
{
    if (!trn_count_ok(n) || !trn_count_ok(left) || !(left <= n) || !(before >= 0) ||
        !(before <= (n - left) * (1 + 1e-9))) /* a rank summed up may miss its end by a bit */
        return TRN_E_DOMAIN;
    *rank = adjusted(before, n, left);
    return TRN_OK;
}

/* running means and products of the points (X, Y) */
typedef struct moments {
    double n, x, y, xx, xy, yy;
} moments;

static void add_point(moments *m, double x, double y)
{
    m->n += 1;
    double dx = x - m->x;
    double dy = y - m->y;
    m->x += dx / m->n;
    m->y += dy / m->n;
    m->xx += dx * (x - m->x);
    m->xy += dx * (y - m->y);
    m->yy += dy * (y - m->y);
}

trn_status trn_rank_fit(const trn_weibull_data *data, trn_rank_direction direction,
                        trn_weibull_line *line)
{
    if (data->grouped)
        return TRN_E_DOMAIN;
    moments m = {0};
    double rank = 0;
    double left = data->units;
    double first = NAN;
    bool two_times = false;
    for (size_t i = 0; i < data->n; i++) {
        const trn_weibull_row *row = &data->rows[i];
        if (row->kind == TRN_WEIBULL_EXACT) {
            if (isnan(first))
                first = row->after_h;
            two_times = two_times || row->after_h > first;
            for (size_t k = 0; k < row->count; k++) { /* tied units are a point each */
                rank = adjusted(rank, data->units, left);
                left -= 1;
                add_point(&m, row->x, log(-log1p(-benard(rank, data->units))));
            }
        } else {
            left -= (double)row->count;
        }
    }
    if (!two_times)
        return TRN_E_DOMAIN;
    double beta = direction == TRN_RANK_Y_ON_X ? m.xy / m.xx : m.yy / m.xy;
    if (!trn_positive(beta))
        return TRN_E_DOMAIN;
    double mu = m.x - m.y / beta;
    *line = (trn_weibull_line){
        .beta = beta,
        .eta_h = data->scale_h * exp(mu),
        .b10_h = data->scale_h * exp(mu + TRN_LN_Q / beta),
        .log_likelihood = NAN,
        .mu = mu,
    };
    return TRN_OK;
}
