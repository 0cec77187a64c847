/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sums over a duty, parts in series, survival. */
#include <math.h>
#include <trunnion/bearing.h>

#include "bearing_guard.h"

static trn_status of_shares(double sum)
{
    return fabs(sum - 1) <= SLACK ? TRN_OK : TRN_R_BEARING_SHARES;
}

/* a life; infinite where nothing is damaged */
static bool is_life(double life_h)
{
    return life_h > 0;
}

trn_status trn_bearing_duty_life(size_t n, const double *q, const double *level_h, double *life_h)
{
    if (n == 0)
        return TRN_E_MISSING;
    double damage = 0;
    double shares = 0;
    for (size_t i = 0; i < n; i++) {
        if (!not_negative(q[i]) || !is_life(level_h[i]))
            return TRN_E_DOMAIN;
        damage += q[i] / level_h[i]; /* Palmgren, Miner */
        shares += q[i];
    }
    if (!is_positive(shares) || !isfinite(damage))
        return TRN_E_DOMAIN;
    *life_h = 1 / damage;
    return of_shares(shares);
}

trn_status trn_bearing_equivalent_load(size_t n, const double *P, const double *omega,
                                       const double *q, double p, double *Pm, double *omega_m)
{
    if (n == 0)
        return TRN_E_MISSING;
    if (!is_positive(p))
        return TRN_E_DOMAIN;
    double turns = 0;
    double shares = 0;
    double largest = 0;
    for (size_t i = 0; i < n; i++) {
        if (!not_negative(P[i]) || !not_negative(omega[i]) || !not_negative(q[i]))
            return TRN_E_DOMAIN;
        turns += q[i] * omega[i];
        shares += q[i];
        largest = fmax(largest, P[i]);
    }
    if (!is_positive(turns) || !isfinite(shares))
        return TRN_E_DOMAIN;
    double damage = 0; /* over the largest load: P^p alone may overflow */
    for (size_t i = 0; i < n && largest > 0; i++)
        damage += q[i] * omega[i] * pow(P[i] / largest, p);
    *Pm = largest * pow(damage / turns, 1 / p);
    *omega_m = turns / shares;
    return of_shares(shares);
}

trn_status trn_bearing_system_life(size_t n, const double *part_h, double e, double *life_h)
{
    if (n == 0)
        return TRN_E_MISSING;
    if (!is_positive(e))
        return TRN_E_DOMAIN;
    double least = INFINITY;
    for (size_t i = 0; i < n; i++) {
        if (!is_life(part_h[i]))
            return TRN_E_DOMAIN;
        least = fmin(least, part_h[i]);
    }
    if (isinf(least)) {
        *life_h = INFINITY;
        return TRN_OK;
    }
    double sum = 0; /* over the least life, so that no power overflows */
    for (size_t i = 0; i < n; i++)
        sum += pow(least / part_h[i], e);
    *life_h = least * pow(sum, -1 / e);
    return TRN_OK;
}

trn_status trn_bearing_survival(double t_h, double L10_h, double beta, double gamma, double *R)
{
    if (!not_negative(t_h) || !is_positive(L10_h) || !is_positive(beta) ||
        !(gamma >= 0 && gamma < 1))
        return TRN_E_DOMAIN;
    double past = fmax(0, (t_h / L10_h - gamma) / (1 - gamma));
    *R = exp(log(0.9) * pow(past, beta));
    return TRN_OK;
}
