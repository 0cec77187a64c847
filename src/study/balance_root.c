/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The root of the heat balance, of one box or of conditions that alternate. */
#include <gsl/gsl_math.h>
#include <math.h>

#include "../ground/root.h"
#include "balance_parts.h"

static const double bracket_k = 300; /* over the air */

const trn_balance_shared trn_balance_no_share = {NAN, NAN, NAN, NAN, NAN, 0, false};

/* Heat left over at an oil temperature: churning apart, so that all laws share the rest. */
static double left_over(const trn_balance_ready *ready, const trn_balance_loss *loss,
                        const trn_heat_path *path, double T_k, trn_balance_law law)
{
    double churning = law == TRN_BALANCE_LOW    ? loss->churning_low_w
                      : law == TRN_BALANCE_HIGH ? loss->churning_high_w
                                                : loss->churning_w;
    double off_w =
        ready->cooling_factor * path->k_w_m2k * ready->area_m2 * (T_k - ready->T_air_k);
    return loss->loss_w - loss->churning_w + churning + trn_balance_sun(ready, path) - off_w;
}

trn_status trn_balance_excess(const trn_balance_ready *ready, trn_balance_law law, double T_k,
                              double *excess_w)
{
    trn_balance_loss loss;
    trn_heat_path path;
    trn_status status = trn_balance_loss_at(ready, T_k, &loss);
    if (status >= 0)
        status = trn_heat_wall(&ready->surface, T_k, ready->T_air_k, &path);
    if (status < 0)
        return status;
    *excess_w = left_over(ready, &loss, &path, T_k, law);
    return TRN_OK;
}

trn_status trn_balance_mix_excess(const trn_balance_mix *mix, trn_balance_law law, double T_k,
                                  double *excess_w)
{
    if (!mix->weight)
        return trn_balance_excess(mix->ready, law, T_k, excess_w);
    double sum = 0;
    double weights = 0;
    for (size_t i = 0; i < mix->n; i++) {
        double own = 0;
        trn_status status = trn_balance_excess(&mix->ready[i], law, T_k, &own);
        if (status < 0)
            return status;
        sum += mix->weight[i] * own;
        weights += mix->weight[i];
    }
    *excess_w = sum / weights;
    return TRN_OK;
}

/* An end of the bracket. */
typedef struct end {
    double T_k, excess_w[3]; /* by law */
    trn_heat_path path;      /* of the first box */
} end;

static trn_status end_at(const trn_balance_mix *mix, double T_k, end *e)
{
    *e = (end){.T_k = T_k};
    double weights = 0;
    for (size_t i = 0; i < mix->n; i++) {
        const trn_balance_ready *ready = &mix->ready[i];
        double weight = mix->weight ? mix->weight[i] : 1;
        trn_balance_loss loss;
        trn_heat_path path;
        trn_status status = trn_balance_loss_at(ready, T_k, &loss);
        if (status >= 0)
            status = trn_heat_wall(&ready->surface, T_k, ready->T_air_k, &path);
        if (status < 0)
            return status;
        if (i == 0)
            e->path = path;
        for (int law = TRN_BALANCE_CENTRAL; law <= TRN_BALANCE_HIGH; law++)
            e->excess_w[law] +=
                weight * left_over(ready, &loss, &path, T_k, (trn_balance_law)law);
        weights += weight;
    }
    for (int law = TRN_BALANCE_CENTRAL; law <= TRN_BALANCE_HIGH; law++)
        e->excess_w[law] /= weights;
    return TRN_OK;
}

typedef struct search {
    const trn_balance_mix *mix;
    trn_balance_law law;
} search;

static double excess_of(double T_k, void *context)
{
    const search *s = context;
    double excess = NAN;
    (void)trn_balance_mix_excess(s->mix, s->law, T_k, &excess);
    return excess;
}

/* The same of one box by the temperature of the surface, which gives that of the oil without a
 * root of its own: one root instead of one within another. */
static double excess_of_surface(double T_surface_k, void *context)
{
    const search *s = context;
    const trn_balance_ready *r = s->mix->ready;
    trn_balance_loss loss;
    trn_heat_path path;
    double T_k = NAN;
    if (trn_heat_wall_inside(&r->surface, T_surface_k, r->T_air_k, &T_k, &path) < 0 ||
        trn_balance_loss_at(r, T_k, &loss) < 0)
        return NAN;
    return left_over(r, &loss, &path, T_k, s->law);
}

/* Where the root lies: from the coolest air, to 300 K over the warmest. */
typedef struct bracket {
    double bottom_k, top_k;
} bracket;

/* The highest temperature of the bracket is one at which the oil still has a viscosity. */
static bracket bracket_of(const trn_balance_mix *mix)
{
    bracket b = {mix->ready[0].T_air_k, mix->ready[0].T_air_k};
    for (size_t i = 1; i < mix->n; i++) {
        b.bottom_k = fmin(b.bottom_k, mix->ready[i].T_air_k);
        b.top_k = fmax(b.top_k, mix->ready[i].T_air_k);
    }
    double low = b.top_k;
    double high = b.top_k + bracket_k;
    double nu = 0;
    if (trn_oil_line_viscosity(mix->ready[0].line, high, &nu) >= 0) {
        b.top_k = high;
        return b;
    }
    while (high - low > 1e-3) {
        double middle = (low + high) / 2;
        if (trn_oil_line_viscosity(mix->ready[0].line, middle, &nu) >= 0)
            low = middle;
        else
            high = middle;
    }
    b.top_k = low;
    return b;
}

/* Found well below 1e-6 K, so that loss + sun meets what is given off to many digits. */
static trn_status balance(const trn_balance_mix *mix, trn_balance_law law, const end *bottom,
                          const end *top, double *T_k)
{
    const trn_balance_ready *ready = mix->ready;
    search s = {mix, law};
    if (!(bottom->excess_w[law] > 0)) {
        *T_k = bottom->T_k; /* neither loss nor sun */
        return TRN_OK;
    }
    if (top->excess_w[law] > 0)
        return TRN_R_HEAT_NO_BALANCE;
    if (mix->n > 1 || !isnan(ready->surface.heat_transfer_w_m2k))
        return trn_root_between(excess_of, &s, bottom->T_k, top->T_k, 1e-10, T_k);
    double T_surface = NAN;
    trn_heat_path path;
    trn_status status = trn_root_between(excess_of_surface, &s, bottom->path.T_surface_k,
                                         top->path.T_surface_k, 1e-11, &T_surface);
    if (status < 0)
        return status;
    return trn_heat_wall_inside(&ready->surface, T_surface, ready->T_air_k, T_k, &path);
}

/* Losses change with temperature too: this is shorter than C/(k A). */
double trn_balance_mix_time(const trn_balance_mix *mix, double T_k)
{
    double warmer = NAN;
    double cooler = NAN;
    (void)trn_balance_mix_excess(mix, TRN_BALANCE_CENTRAL, T_k + 0.01, &warmer);
    (void)trn_balance_mix_excess(mix, TRN_BALANCE_CENTRAL, T_k - 0.01, &cooler);
    return mix->ready[0].capacity_j_k * 0.02 / (cooler - warmer);
}

static bool holds(const trn_balance_mix *mix)
{
    for (size_t i = 0; i < mix->n; i++)
        if (mix->weight && !(mix->weight[i] > 0 && isfinite(mix->weight[i])))
            return false;
    return mix->n > 0 && (mix->weight || mix->n == 1);
}

trn_status trn_balance_share(const trn_balance_ready *ready, const double *weight, size_t n,
                             unsigned wanted, trn_balance_shared *shared)
{
    trn_balance_mix mix = {ready, weight, n};
    if (!holds(&mix))
        return TRN_E_DOMAIN;
    if (isnan(ready[0].area_m2))
        return TRN_E_UNKNOWN;
    trn_balance_shared r = trn_balance_no_share;
    r.capacity_j_k = ready[0].capacity_j_k;
    r.together = n > 1;
    bracket b = bracket_of(&mix);
    end bottom;
    end top;
    trn_status status = end_at(&mix, b.bottom_k, &bottom);
    if (status >= 0)
        status = end_at(&mix, b.top_k, &top);
    if (status >= 0)
        status = balance(&mix, TRN_BALANCE_CENTRAL, &bottom, &top, &r.modelled_k);
    if (status < 0)
        return status;
    if (status == TRN_R_HEAT_NO_BALANCE)
        r.warnings |= TRN_BALANCE_BIT(NO_BALANCE);
    if (wanted & TRN_BALANCE_WANT_BAND) {
        trn_status low = balance(&mix, TRN_BALANCE_LOW, &bottom, &top, &r.low_k);
        trn_status high = balance(&mix, TRN_BALANCE_HIGH, &bottom, &top, &r.high_k);
        if (low < 0 || high < 0)
            return low < 0 ? low : high;
        if (high == TRN_R_HEAT_NO_BALANCE && status == TRN_OK)
            r.warnings |= TRN_BALANCE_BIT(NO_BALANCE_HIGH);
    }
    if ((wanted & TRN_BALANCE_WANT_TIME) && status == TRN_OK)
        r.time_constant_s = trn_balance_mix_time(&mix, r.modelled_k);
    *shared = r;
    return status;
}
