/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The root of the heat balance, of one box or of conditions that alternate. */
#include <gsl/gsl_math.h>
#include <math.h>

#include "../ground/root.h"
#include "balance_parts.h"

static const double bracket_k = 300; /* over the air */

const trn_balance_shared trn_balance_no_share = {NAN, NAN, NAN, NAN, NAN, 0, false};

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
static trn_status balance(const trn_balance_mix *mix, trn_balance_law law, bracket b, double *T_k)
{
    double bottom = 0;
    double top = 0;
    trn_status status = trn_balance_mix_excess(mix, law, b.bottom_k, &bottom);
    if (status >= 0)
        status = trn_balance_mix_excess(mix, law, b.top_k, &top);
    if (status < 0)
        return status;
    if (!(bottom > 0)) {
        *T_k = b.bottom_k; /* neither loss nor sun */
        return TRN_OK;
    }
    if (top > 0)
        return TRN_R_HEAT_NO_BALANCE;
    search s = {mix, law};
    return trn_root_between(excess_of, &s, b.bottom_k, b.top_k, 1e-10, T_k);
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
    trn_status status = balance(&mix, TRN_BALANCE_CENTRAL, b, &r.modelled_k);
    if (status < 0)
        return status;
    if (status == TRN_R_HEAT_NO_BALANCE)
        r.warnings |= TRN_BALANCE_BIT(NO_BALANCE);
    if (wanted & TRN_BALANCE_WANT_BAND) {
        trn_status low = balance(&mix, TRN_BALANCE_LOW, b, &r.low_k);
        trn_status high = balance(&mix, TRN_BALANCE_HIGH, b, &r.high_k);
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
