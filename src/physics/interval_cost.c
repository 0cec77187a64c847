/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_errno.h>
#include <gsl/gsl_sf_gamma.h>
#include <math.h>
#include <trunnion/interval.h>

static int positive(double x)
{
    return x > 0 && isfinite(x);
}

static int costs_hold(double change, double gear, double life_s, double c_s, double oil_kg,
                      double source)
{
    return positive(change) && positive(gear) && positive(life_s) && positive(c_s) &&
           positive(oil_kg) && positive(source);
}

/* Best interval where the mean content of the oil is `mean` times what one interval brings in. */
static trn_status cheapest(double mean, double change, double gear, double life_s, double c_s,
                           double oil_kg, double source, double *t_s, double *cost_per_s)
{
    if (!costs_hold(change, gear, life_s, c_s, oil_kg, source))
        return TRN_E_DOMAIN;
    double t = sqrt(change / mean * (oil_kg * c_s / source) * (life_s / gear));
    double g = gear / life_s + 2 * change / t;
    if (!positive(t) || !isfinite(g))
        return TRN_E_DOMAIN;
    *t_s = t;
    *cost_per_s = g;
    return TRN_OK;
}

trn_status trn_interval_oil_cost(double change, double gear, double life_s, double c_s,
                                 double oil_kg, double source, double *t_s, double *cost_per_s)
{
    return cheapest(0.5, change, gear, life_s, c_s, oil_kg, source, t_s, cost_per_s);
}

trn_status trn_interval_oil_cost_best(double residual, double change, double gear, double life_s,
                                      double c_s, double oil_kg, double source, double *t_s,
                                      double *cost_per_s)
{
    if (!(residual >= 0) || !(residual < 1))
        return TRN_E_DOMAIN;
    return cheapest(1 / (1 - residual) - 0.5, change, gear, life_s, c_s, oil_kg, source, t_s,
                    cost_per_s);
}

trn_status trn_interval_oil_cost_at(double t_s, double residual, double change, double gear,
                                    double life_s, double c_s, double oil_kg, double source,
                                    double *cost_per_s)
{
    if (!positive(t_s) || !(residual >= 0) || !(residual < 1) ||
        !costs_hold(change, gear, life_s, c_s, oil_kg, source))
        return TRN_E_DOMAIN;
    double content = source * t_s / oil_kg * (1 / (1 - residual) - 0.5);
    double g = change / t_s + gear / life_s * (1 + content / c_s);
    if (!isfinite(g))
        return TRN_E_DOMAIN;
    *cost_per_s = g;
    return TRN_OK;
}

/* ---- age replacement ---------------------------------------------------------------------- */

typedef struct age {
    double beta, ratio; /* ratio = c_p/(c_f - c_p) */
    double whole;       /* Gamma(1/beta)/beta: mean life over eta */
} age;

/* Integral of R from 0 to u, in units of eta; v = ln u. */
static double run(const age *a, double v)
{
    double z = exp(a->beta * v);
    if (z > 700)
        return a->whole;
    gsl_sf_result p;
    if (gsl_sf_gamma_inc_P_e(1 / a->beta, z, &p) != GSL_SUCCESS)
        return z < 1e-6 ? exp(v) : a->whole; /* underflow: R is 1 so far */
    return a->whole * p.val;
}

/* Barlow: h(T) integral R - F(T) - c_p/(c_f - c_p), rising in v = ln(T/eta). */
static double balance(const age *a, double v)
{
    double hazard = a->beta * exp((a->beta - 1) * v);
    return hazard * run(a, v) + expm1(-exp(a->beta * v)) - a->ratio;
}

/* (beta - 1) u^beta is above the left side everywhere, so its root is a lower bound; from there
 * upward in growing steps, because near beta = 1 the best age runs off to many eta. */
static trn_status best_age(const age *a, double *v)
{
    double low = log(a->ratio / (a->beta - 1)) / a->beta - 1e-9;
    double step = 1e-3;
    double high = low + step;
    while (balance(a, high) < 0) {
        low = high;
        step *= 2;
        high += step;
        if (high > 700)
            return TRN_R_INTERVAL_AGE_FAR;
    }
    /* plain halving: it needs no workspace of the library, and so no allocation */
    for (int i = 0; i < 200; i++) {
        double middle = 0.5 * (low + high);
        if (middle <= low || middle >= high)
            break;
        if (balance(a, middle) < 0)
            low = middle;
        else
            high = middle;
    }
    *v = 0.5 * (low + high);
    return TRN_OK;
}

trn_status trn_interval_age_replacement(double beta, double eta_s, double planned, double failure,
                                        double *t_s, double *cost_per_s, double *run_to_failure)
{
    if (!(beta > 1) || !isfinite(beta) || !positive(eta_s) || !positive(planned) ||
        !(failure > planned) || !isfinite(failure))
        return TRN_E_DOMAIN;
    gsl_sf_result gamma;
    if (gsl_sf_gamma_e(1 + 1 / beta, &gamma) != GSL_SUCCESS)
        return TRN_E_CONVERGE;
    age a = {.beta = beta, .ratio = planned / (failure - planned), .whole = gamma.val};
    double idle = failure / (eta_s * gamma.val);
    double v = 0;
    trn_status status = best_age(&a, &v);
    if (status != TRN_OK || !isfinite(eta_s * exp(v))) {
        *t_s = INFINITY;
        *cost_per_s = idle;
        *run_to_failure = idle;
        return TRN_R_INTERVAL_AGE_FAR;
    }
    double z = exp(beta * v);
    *t_s = eta_s * exp(v);
    *cost_per_s = (planned * exp(-z) - failure * expm1(-z)) / (eta_s * run(&a, v));
    *run_to_failure = idle;
    return TRN_OK;
}
