/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of a life table, their log-likelihood with its derivatives, and its maximum. */
#include <stdlib.h>
#include <trunnion/weibull.h>

#include "statistics.h"

enum { NEWTON_STEPS = 200, HALVINGS = 60 };

/* inspected units only: beyond these slopes the looks set no slope */
static const double slope_most = 300;
static const double slope_least = 1e-4;
static const double few_failures = 20;

trn_status trn_weibull_row_make(double after_h, double by_h, size_t count,
                                trn_weibull_row *row)
{
    if (!(after_h >= 0) || !isfinite(after_h) || !(by_h > 0) || !(by_h >= after_h) ||
        (after_h == 0 && isinf(by_h)))
        return TRN_E_DOMAIN;
    trn_weibull_kind kind = isinf(by_h)       ? TRN_WEIBULL_RIGHT
                            : after_h == by_h ? TRN_WEIBULL_EXACT
                            : after_h == 0    ? TRN_WEIBULL_LEFT
                                              : TRN_WEIBULL_INTERVAL;
    *row = (trn_weibull_row){.kind = kind, .after_h = after_h, .by_h = by_h, .count = count};
    return TRN_OK;
}

static double time_of(const trn_weibull_row *row)
{
    return row->kind == TRN_WEIBULL_LEFT ? row->by_h : row->after_h;
}

static bool row_sound(const trn_weibull_row *row)
{
    switch (row->kind) {
    case TRN_WEIBULL_EXACT: return trn_positive(row->after_h) && row->by_h == row->after_h;
    case TRN_WEIBULL_RIGHT: return trn_positive(row->after_h);
    case TRN_WEIBULL_LEFT: return trn_positive(row->by_h);
    case TRN_WEIBULL_INTERVAL:
        return trn_positive(row->after_h) && isfinite(row->by_h) && row->by_h > row->after_h;
    }
    return false;
}

/* rows without units last; then by time; failures before running units at equal times */
static int compare_rows(const void *a, const void *b)
{
    const trn_weibull_row *p = a;
    const trn_weibull_row *q = b;
    if ((p->count == 0) != (q->count == 0))
        return p->count == 0 ? 1 : -1;
    double tp = time_of(p);
    double tq = time_of(q);
    if (tp < tq || tp > tq)
        return tp < tq ? -1 : 1;
    return (p->kind == TRN_WEIBULL_RIGHT) - (q->kind == TRN_WEIBULL_RIGHT);
}

/* ln(a/b) that keeps its digits where the two are close */
static double ln_ratio(double a, double b)
{
    double change = (a - b) / b;
    return fabs(change) < 0.5 ? log1p(change) : log(a / b);
}

void trn_weibull_row_scale(trn_weibull_row *row, double scale_h)
{
    row->x = ln_ratio(time_of(row), scale_h);
    row->dx = row->kind == TRN_WEIBULL_INTERVAL ? ln_ratio(row->by_h, row->after_h) : 0;
}

trn_status trn_weibull_prepare(trn_weibull_row *rows, size_t n, trn_weibull_data *data)
{
    trn_weibull_data d = {.rows = rows};
    for (size_t i = 0; i < n; i++)
        if (!row_sound(&rows[i]))
            return TRN_E_DOMAIN;
    if (n > 0)
        qsort(rows, n, sizeof *rows, compare_rows);
    double sum_ln = 0;
    for (; d.n < n && rows[d.n].count > 0; d.n++) {
        const trn_weibull_row *row = &rows[d.n];
        double count = (double)row->count;
        d.units += count;
        sum_ln += count * log(time_of(row));
        if (row->kind != TRN_WEIBULL_RIGHT)
            d.failed += count;
        if (row->kind == TRN_WEIBULL_EXACT)
            d.sum_ln_exact += count * log(row->after_h);
        else if (row->kind != TRN_WEIBULL_RIGHT)
            d.grouped = true;
    }
    if (d.n == 0)
        return TRN_E_MISSING;
    d.scale_h = exp(sum_ln / d.units);
    for (size_t i = 0; i < n; i++)
        trn_weibull_row_scale(&rows[i], d.scale_h);
    *data = d;
    return TRN_OK;
}

/* ---- log-likelihood ------------------------------------------------------------------------ */

static void add_exponential(double c, double x, double z, trn_slopes *s)
{
    double e = c * exp(z);
    s->l -= e;
    s->a += e;
    s->g -= x * e;
    s->aa -= e;
    s->ag += x * e;
    s->gg -= x * x * e;
}

/* Adds c ln(1 - e^-D), D = e^zb - e^za, z from ln D. d_alpha D = -D; d_gamma D = q D;
 * bend = (d2_gamma D)/D - q^2. u = D/(e^D - 1); u - v with v = u (u + D) in a form that keeps
 * its digits for small D. */
static void add_difference(double c, double ln_d, double q, double bend, trn_slopes *s)
{
    double d = exp(ln_d);
    double u = d > 700 ? 0 : d > 0 ? d / expm1(d) : 1;
    double u_minus_v = 0;
    if (d < 0.01)
        u_minus_v = -u * d * (0.5 + d / 12 - d * d * d / 720);
    else if (d <= 700)
        u_minus_v = u * (1 - u - d);
    double l = d < 1e-8 ? ln_d - d / 2 : d < 0.7 ? log(-expm1(-d)) : log1p(-exp(-d));
    s->l += c * l;
    s->a -= c * u;
    s->g += c * u * q;
    s->aa += c * u_minus_v;
    s->ag -= c * q * u_minus_v;
    s->gg += c * (u * bend + q * q * u_minus_v);
}

void trn_weibull_row_add(const trn_weibull_row *row, double alpha, double gamma, double shift,
                         trn_slopes *s)
{
    double c = (double)row->count;
    double x = row->x - shift;
    double z = gamma * x - alpha;
    switch (row->kind) {
    case TRN_WEIBULL_EXACT:
        add_exponential(c, x, z, s);
        s->l += c * (z + log(gamma));
        s->a -= c;
        s->g += c * (x + 1 / gamma);
        s->gg -= c / (gamma * gamma);
        break;
    case TRN_WEIBULL_RIGHT: add_exponential(c, x, z, s); break;
    case TRN_WEIBULL_LEFT: add_difference(c, z, x, 0, s); break;
    case TRN_WEIBULL_INTERVAL: {
        double step = gamma * row->dx;
        double e = 1 / expm1(step);
        add_exponential(c, x, z, s);
        add_difference(c, z + step + log(-expm1(-step)), x + row->dx * (1 + e),
                       -row->dx * row->dx * e * (1 + e), s);
        break;
    }
    }
}

void trn_weibull_slopes(const trn_weibull_data *data, double alpha, double gamma, double shift,
                        trn_slopes *s)
{
    *s = (trn_slopes){.l = -data->sum_ln_exact};
    for (size_t i = 0; i < data->n; i++)
        trn_weibull_row_add(&data->rows[i], alpha, gamma, shift, s);
}

trn_status trn_weibull_log_likelihood(const trn_weibull_data *data, double beta, double eta_h,
                                      double *value)
{
    if (!trn_positive(beta) || !trn_positive(eta_h))
        return TRN_E_DOMAIN;
    trn_slopes s;
    trn_weibull_slopes(data, 0, beta, ln_ratio(eta_h, data->scale_h), &s);
    if (isnan(s.l))
        return TRN_E_DOMAIN;
    *value = s.l;
    return TRN_OK;
}

typedef struct slope_point {
    const trn_weibull_data *data;
    double gamma, shift;
} slope_point;

static void hill_alpha(double t, void *context, double *value, double *first, double *second)
{
    const slope_point *p = context;
    trn_slopes s;
    trn_weibull_slopes(p->data, t, p->gamma, p->shift, &s);
    *value = s.l;
    *first = s.a;
    *second = s.aa;
}

trn_status trn_weibull_at_slope(const trn_weibull_data *data, double gamma, double shift,
                                double *mu, double *value)
{
    /* start: all failures taken as exact at their last time, sum e^z = r in logs */
    double most = -INFINITY;
    double sum = 0;
    for (int pass = 0; pass < 2; pass++)
        for (size_t i = 0; i < data->n; i++) {
            const trn_weibull_row *row = &data->rows[i];
            double y = gamma * (row->x + row->dx - shift);
            if (pass == 0)
                most = fmax(most, y);
            else
                sum += (double)row->count * exp(y - most);
        }
    double alpha = most + log(sum / data->failed);
    slope_point point = {data, gamma, shift};
    if (data->grouped) {
        trn_status status = trn_hill_climb(hill_alpha, &point, alpha, -INFINITY, INFINITY,
                                           &alpha, value);
        if (status != TRN_OK)
            return status;
    } else {
        double first, second;
        hill_alpha(alpha, &point, value, &first, &second);
    }
    *mu = shift + alpha / gamma;
    return TRN_OK;
}

/* ---- maximum ------------------------------------------------------------------------------- */

/* d l/d gamma at the best alpha: its sign tells on which side of the slope the maximum lies */
static trn_status profile_slope(const trn_weibull_data *data, double gamma, double *slope)
{
    double mu = 0;
    double value = 0;
    trn_status status = trn_weibull_at_slope(data, gamma, 0, &mu, &value);
    if (status != TRN_OK)
        return status;
    trn_slopes s;
    trn_weibull_slopes(data, 0, gamma, mu, &s);
    *slope = s.g;
    return isnan(s.g) ? TRN_E_CONVERGE : TRN_OK;
}

/* Is there a finite slope? The order of the rows is that of trn_weibull_prepare. */
static trn_status slope_exists(const trn_weibull_data *data)
{
    if (!(data->failed > 0))
        return TRN_E_DOMAIN;
    bool some_sound = false;    /* some unit was seen to live */
    bool first_looks = true;    /* every failure was found at a first look */
    double first_failed = INFINITY;
    double last = 0;
    for (size_t i = 0; i < data->n; i++) {
        const trn_weibull_row *row = &data->rows[i];
        some_sound = some_sound || row->kind != TRN_WEIBULL_LEFT;
        first_looks =
            first_looks && (row->kind == TRN_WEIBULL_LEFT || row->kind == TRN_WEIBULL_RIGHT);
        if (row->kind == TRN_WEIBULL_EXACT)
            first_failed = fmin(first_failed, row->after_h);
        last = fmax(last, time_of(row));
    }
    if (!data->grouped)
        return first_failed < last ? TRN_OK : TRN_E_DOMAIN;
    if (!some_sound)
        return TRN_E_DOMAIN;
    double slope = 0;
    trn_status status = profile_slope(data, slope_most, &slope);
    if (status != TRN_OK || slope >= 0) /* 0: all terms have run under, the looks part cleanly */
        return status != TRN_OK ? status : TRN_E_DOMAIN;
    if (first_looks) {
        status = profile_slope(data, slope_least, &slope);
        if (status != TRN_OK || slope <= 0)
            return status != TRN_OK ? status : TRN_E_DOMAIN;
    }
    return TRN_OK;
}

/* slope that the spread of the failures' logarithms suggests */
static double first_slope(const trn_weibull_data *data)
{
    double n = 0, mean = 0, square = 0;
    for (size_t i = 0; i < data->n; i++) {
        const trn_weibull_row *row = &data->rows[i];
        if (row->kind == TRN_WEIBULL_RIGHT)
            continue;
        double c = (double)row->count;
        double x = row->x + row->dx / 2;
        n += c;
        double change = x - mean;
        mean += change * c / n;
        square += c * change * (x - mean);
    }
    double spread = sqrt(square / n);
    return spread > 0 ? 1.2825 / spread : 1; /* pi/sqrt 6 of the extreme value distribution */
}

/* One step from (mu, gamma), taken about mu so that the two hardly depend on each other.
 * *gain is the rise that a parabola promises. */
static trn_status newton_step(const trn_weibull_data *data, double *mu, double *gamma,
                              double *gain)
{
    trn_slopes s;
    trn_weibull_slopes(data, 0, *gamma, *mu, &s);
    double det = s.aa * s.gg - s.ag * s.ag;
    double da = (s.ag * s.g - s.gg * s.a) / det;
    double dg = (s.ag * s.a - s.aa * s.g) / det;
    *gain = s.a * da + s.g * dg;
    if (!isfinite(da) || !isfinite(dg) || !(det > 0))
        return TRN_E_CONVERGE;
    double share = dg < -0.9 * *gamma ? -0.9 * *gamma / dg : 1;
    for (int i = 0; i < HALVINGS; i++) {
        double g = *gamma + share * dg;
        double m = *mu + share * da / g;
        trn_slopes t;
        trn_weibull_slopes(data, 0, g, m, &t);
        if (*gain < 1e-9 || t.l > s.l) { /* close by, rounding hides the rise: take the step */
            *gamma = g;
            *mu = m;
            return TRN_OK;
        }
        share /= 2;
    }
    return TRN_E_CONVERGE;
}

trn_status trn_weibull_fit(const trn_weibull_data *data, trn_weibull_line *line)
{
    trn_status status = slope_exists(data);
    if (status != TRN_OK)
        return status;
    double gamma = first_slope(data);
    double mu = 0;
    double value = 0;
    status = trn_weibull_at_slope(data, gamma, 0, &mu, &value);
    int polish = 0;
    for (int i = 0; status == TRN_OK && polish < 3; i++) {
        if (i == NEWTON_STEPS)
            return TRN_E_CONVERGE;
        double gain = 0;
        status = newton_step(data, &mu, &gamma, &gain);
        if (gain < 1e-9)
            polish++;
    }
    if (status != TRN_OK)
        return status;
    if (data->grouped && gamma > slope_most)
        return TRN_E_DOMAIN;
    trn_slopes s;
    trn_weibull_slopes(data, 0, gamma, mu, &s);
    *line = (trn_weibull_line){
        .beta = gamma,
        .eta_h = data->scale_h * exp(mu),
        .b10_h = data->scale_h * exp(mu + TRN_LN_Q / gamma),
        .log_likelihood = s.l,
        .mu = mu,
    };
    if (data->failed == 1)
        return TRN_R_STATISTICS_ONE_FAILURE;
    return data->failed < few_failures ? TRN_R_STATISTICS_FEW_FAILURES : TRN_OK;
}
