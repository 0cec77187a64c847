/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The root of the heat balance, of one box or of conditions that alternate. */
#include <gsl/gsl_math.h>
#include <math.h>

#include "../ground/root.h"
#include "balance_parts.h"

static const double bracket_k = 300; /* over the air */

const trn_balance_shared trn_balance_no_share = {NAN, NAN, NAN, NAN, NAN, 0, false};

/* By every law, weighted; T_surface_k: of the first. */
static trn_status mix_excesses(const trn_balance_mix *mix, double T_k,
                               double excess_w[TRN_BALANCE_LAWS], double *T_surface_k)
{
    double sum[TRN_BALANCE_LAWS] = {0};
    double weights = 0;
    trn_heat_path path;
    if (!mix->weight) {
        trn_status status = trn_balance_excesses(mix->ready, T_k, excess_w, &path);
        if (status >= 0)
            *T_surface_k = path.T_surface_k;
        return status;
    }
    for (size_t i = 0; i < mix->n; i++) {
        double own[TRN_BALANCE_LAWS];
        trn_status status = trn_balance_excesses(&mix->ready[i], T_k, own, &path);
        if (status < 0)
            return status;
        if (i == 0)
            *T_surface_k = path.T_surface_k;
        for (int law = 0; law < TRN_BALANCE_LAWS; law++)
            sum[law] += mix->weight[i] * own[law];
        weights += mix->weight[i];
    }
    for (int law = 0; law < TRN_BALANCE_LAWS; law++)
        excess_w[law] = sum[law] / weights;
    return TRN_OK;
}

trn_status trn_balance_mix_excess(const trn_balance_mix *mix, trn_balance_law law, double T_k,
                                  double *excess_w)
{
    double all[TRN_BALANCE_LAWS];
    double T_surface_k = NAN;
    trn_status status = mix_excesses(mix, T_k, all, &T_surface_k);
    if (status >= 0)
        *excess_w = all[law];
    return status;
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

static double excess_inside(double T_surface_k, void *context)
{
    const search *s = context;
    double excess = NAN;
    double T_k = NAN;
    (void)trn_balance_excess_inside(s->mix->ready, s->law, T_surface_k, &T_k, &excess);
    return excess;
}

/* Where the root lies: from the coolest air, to 300 K over the warmest. */
typedef struct bracket {
    double bottom_k, top_k;
    double bottom_w[TRN_BALANCE_LAWS], top_w[TRN_BALANCE_LAWS]; /* left over at its ends */
    double bottom_surface_k, top_surface_k;
} bracket;

/* The highest temperature of the bracket is one at which the oil still has a viscosity. */
static bracket bracket_of(const trn_balance_mix *mix)
{
    bracket b = {.bottom_k = mix->ready[0].T_air_k, .top_k = mix->ready[0].T_air_k};
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

static trn_status evaluate_ends(const trn_balance_mix *mix, bracket *b)
{
    trn_status status = mix_excesses(mix, b->bottom_k, b->bottom_w, &b->bottom_surface_k);
    return status < 0 ? status : mix_excesses(mix, b->top_k, b->top_w, &b->top_surface_k);
}

/* Found well below 1e-6 K, so that loss + sun meets what is given off to many digits. Where the
 * surface is computed, the root is sought over its temperature: that of the oil follows from it,
 * while from the oil's it would be a root within the root. */
static trn_status balance(const trn_balance_mix *mix, trn_balance_law law, const bracket *b,
                          double *T_k)
{
    search s = {mix, law};
    if (!(b->bottom_w[law] > 0)) {
        *T_k = b->bottom_k; /* neither loss nor sun */
        return TRN_OK;
    }
    if (b->top_w[law] > 0)
        return TRN_R_HEAT_NO_BALANCE;
    if (mix->weight || !isnan(mix->ready->surface.heat_transfer_w_m2k))
        return trn_root_between(excess_of, &s, b->bottom_k, b->top_k, 1e-10, T_k);
    double T_surface_k = NAN;
    double excess = NAN;
    trn_status status = trn_root_between(excess_inside, &s, b->bottom_surface_k, b->top_surface_k,
                                         1e-11, &T_surface_k);
    return status < 0 ? status
                      : trn_balance_excess_inside(mix->ready, law, T_surface_k, T_k, &excess);
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
    trn_status status = evaluate_ends(&mix, &b);
    if (status >= 0)
        status = balance(&mix, TRN_BALANCE_CENTRAL, &b, &r.modelled_k);
    if (status < 0)
        return status;
    if (status == TRN_R_HEAT_NO_BALANCE)
        r.warnings |= TRN_BALANCE_BIT(NO_BALANCE);
    if (wanted & TRN_BALANCE_WANT_BAND) {
        trn_status low = balance(&mix, TRN_BALANCE_LOW, &b, &r.low_k);
        trn_status high = balance(&mix, TRN_BALANCE_HIGH, &b, &r.high_k);
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
