/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdbool.h>
#include <trunnion/heat_reading.h>

static bool positive(double x)
{
    return x > 0 && isfinite(x);
}

static bool not_negative(double x)
{
    return x >= 0 && isfinite(x);
}

trn_status trn_heat_oil_at_stop(double T_read_k, double rise_k, double T_air_k, double stopped_s,
                                double tau_s, double *T_k)
{
    if (!positive(T_read_k) || !positive(T_air_k) || !not_negative(rise_k) ||
        !not_negative(stopped_s) || !(T_read_k + rise_k > T_air_k))
        return TRN_E_DOMAIN;
    if (stopped_s == 0) {
        *T_k = T_read_k + rise_k;
        return TRN_OK;
    }
    double later = positive(tau_s) ? stopped_s / tau_s : NAN;
    double T = T_air_k + (T_read_k + rise_k - T_air_k) * exp(later);
    if (!isfinite(T))
        return TRN_E_DOMAIN;
    *T_k = T;
    return later > 1 + 1e-9 ? TRN_R_HEAT_LONG_STOP : TRN_OK;
}

trn_status trn_heat_cooling_factor(double loss_w, double sun_w, double k_w_m2k, double area_m2,
                                   double T_k, double T_air_k, double low, double high, double *c)
{
    if (!not_negative(loss_w) || !not_negative(sun_w) || !(loss_w + sun_w > 0) ||
        !positive(k_w_m2k) || !positive(area_m2) || !positive(T_air_k) || !isfinite(T_k) ||
        !(T_k > T_air_k) || !positive(low) || !positive(high) || !(low < high))
        return TRN_E_DOMAIN;
    double factor = (loss_w + sun_w) / (k_w_m2k * area_m2 * (T_k - T_air_k));
    if (!positive(factor))
        return TRN_E_DOMAIN;
    *c = factor;
    return factor < low * (1 - 1e-9) || factor > high * (1 + 1e-9) ? TRN_R_HEAT_DISAGREE : TRN_OK;
}

trn_status trn_heat_share_add(double share, double loss_w, double sun_w, double k_w_m2k,
                              double area_m2, double T_air_k, trn_heat_shared *sum)
{
    if (!positive(share) || !not_negative(loss_w) || !not_negative(sun_w) || !positive(k_w_m2k) ||
        !positive(area_m2) || !positive(T_air_k) || !not_negative(sum->heat_w) ||
        !not_negative(sum->transfer_w_k) || !not_negative(sum->T_air_k))
        return TRN_E_DOMAIN;
    double own = share * k_w_m2k * area_m2;
    trn_heat_shared s = {.heat_w = sum->heat_w + share * (loss_w + sun_w),
                         .transfer_w_k = sum->transfer_w_k + own};
    s.T_air_k = sum->T_air_k + (T_air_k - sum->T_air_k) * (own / s.transfer_w_k);
    *sum = s;
    return TRN_OK;
}

trn_status trn_heat_shared_temperature(const trn_heat_shared *sum, double *T_k)
{
    if (!not_negative(sum->heat_w) || !positive(sum->transfer_w_k) || !positive(sum->T_air_k))
        return TRN_E_DOMAIN;
    *T_k = sum->T_air_k + sum->heat_w / sum->transfer_w_k;
    return TRN_OK;
}
