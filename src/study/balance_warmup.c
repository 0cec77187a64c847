/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>

#include "balance_parts.h"

static double warmest_air(const trn_balance_mix *mix)
{
    double air = mix->ready[0].T_air_k;
    for (size_t i = 1; i < mix->n; i++)
        air = fmax(air, mix->ready[i].T_air_k);
    return air;
}

static double mean_air(const trn_balance_mix *mix)
{
    double sum = 0;
    double weights = 0;
    if (!mix->weight)
        return mix->ready[0].T_air_k;
    for (size_t i = 0; i < mix->n; i++) {
        sum += mix->weight[i] * mix->ready[i].T_air_k;
        weights += mix->weight[i];
    }
    return sum / weights;
}

static int slope(double t, const double y[], double dydt[], void *context)
{
    const trn_balance_mix *mix = context;
    double excess = 0;
    (void)t;
    if (y[0] > warmest_air(mix) + 300 ||
        trn_balance_mix_excess(mix, TRN_BALANCE_CENTRAL, y[0], &excess) < 0)
        return GSL_EBADFUNC;
    dydt[0] = excess / mix->ready[0].capacity_j_k;
    return GSL_SUCCESS;
}

trn_status trn_balance_warmup_of(const trn_balance_ready *ready, const double *weight, size_t n,
                                 double step_s, double *T_k, size_t count)
{
    trn_balance_mix mix = {ready, weight, n};
    if (isnan(ready[0].area_m2) || isnan(ready[0].capacity_j_k))
        return TRN_E_UNKNOWN;
    trn_balance_loss start;
    double T = mean_air(&mix);
    if (!(step_s > 0 && isfinite(step_s)) || trn_balance_loss_at(&ready[0], T, &start) < 0)
        return TRN_E_DOMAIN;
    gsl_odeiv2_system system = {.function = slope, .dimension = 1, .params = &mix};
    gsl_odeiv2_driver *driver =
        gsl_odeiv2_driver_alloc_y_new(&system, gsl_odeiv2_step_rkf45, 1, 1e-8, 0);
    if (!driver)
        return TRN_E_MEMORY;
    double t = 0;
    bool cut = false;
    for (size_t i = 0; i < count; i++) {
        cut = cut ||
              (i > 0 && gsl_odeiv2_driver_apply(driver, &t, (double)i * step_s, &T) != GSL_SUCCESS);
        T_k[i] = cut ? NAN : T;
    }
    gsl_odeiv2_driver_free(driver);
    if (cut)
        return TRN_R_HEAT_NO_BALANCE;
    return start.nu_m2_s > 2000e-6 ? TRN_R_HEAT_COLD_START : TRN_OK;
}

trn_status trn_balance_warmup(const trn_balance_box *box, double step_s, double *T_k, size_t count)
{
    trn_balance_ready ready;
    trn_status status = trn_balance_prepare(box, &ready);
    if (status < 0)
        return status;
    return trn_balance_warmup_of(&ready, NULL, 1, step_s, T_k, count);
}
