/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <trunnion/heat.h>

/* ISO/TR 14179-2:2001, housings, from memory */
static double free_scale = 18, free_height = -0.1, free_rise = 0.3;
static double forced_scale = 0.0086, forced_buoyancy = 2.5, forced_exponent = 0.32;

#include "constant_tables.h"
#include "../ground/root.h"

static const double gravity = 9.81;         /* m/s2, as the published checks take it */
static const double sigma = 5.670374419e-8; /* W/m2/K4, CODATA */

/* guards are written so that NaN fails them */
static int positive(double x)
{
    return x > 0 && isfinite(x);
}

static int not_negative(double x)
{
    return x >= 0 && isfinite(x);
}

static int known_law(trn_heat_law law)
{
    return law == TRN_HEAT_HOUSING || law == TRN_HEAT_PLATE;
}

/* Dry air at 101325 Pa: US Standard Atmosphere 1976, cp constant; memory, high. */
typedef struct air {
    double k, nu, Pr;
} air;

static air air_at(double T_k)
{
    double root3 = T_k * sqrt(T_k);
    double mu = 1.458e-6 * root3 / (T_k + 110.4);
    double k = 2.64638e-3 * root3 / (T_k + 245.4 * pow(10, -12 / T_k));
    double rho = 101325 / (287.05287 * T_k);
    return (air){.k = k, .nu = mu / rho, .Pr = mu * 1006 / k};
}

static trn_status give(double value, double *out)
{
    if (!isfinite(value))
        return TRN_E_DOMAIN;
    *out = value;
    return TRN_OK;
}

trn_status trn_heat_free_convection(double h_m, double T_wall_k, double T_air_k, trn_heat_law law,
                                    double *alpha_w_m2k)
{
    if (!positive(h_m) || !positive(T_wall_k) || !positive(T_air_k) || !known_law(law))
        return TRN_E_DOMAIN;
    double dT = fabs(T_wall_k - T_air_k);
    if (law == TRN_HEAT_HOUSING) /* ISO/TR 14179-2 */
        return give(free_scale * pow(h_m, free_height) * pow(dT / T_air_k, free_rise), alpha_w_m2k);
    double T_f = (T_wall_k + T_air_k) / 2;
    air a = air_at(T_f);
    double Ra = gravity * dT * h_m * h_m * h_m * a.Pr / (T_f * a.nu * a.nu);
    double Nu = 0.825 + 0.387 * pow(Ra, 1.0 / 6) /
                            pow(1 + pow(0.492 / a.Pr, 9.0 / 16), 8.0 / 27); /* Churchill and Chu */
    return give(Nu * Nu * a.k / h_m, alpha_w_m2k);
}

trn_status trn_heat_forced_convection(double l_m, double v_m_s, double T_wall_k, double T_air_k,
                                      trn_heat_law law, double *alpha_w_m2k)
{
    if (!positive(l_m) || !not_negative(v_m_s) || !positive(T_wall_k) || !positive(T_air_k) ||
        !known_law(law))
        return TRN_E_DOMAIN;
    air a = air_at((T_wall_k + T_air_k) / 2);
    double Re = v_m_s * l_m / a.nu;
    if (law == TRN_HEAT_HOUSING) { /* ISO/TR 14179-2 */
        double Gr = gravity * l_m * l_m * l_m * fabs(T_wall_k - T_air_k) / (T_air_k * a.nu * a.nu);
        return give(forced_scale * pow(Re * Re + Gr / forced_buoyancy, forced_exponent) / l_m, alpha_w_m2k);
    }
    double Nu = Re <= 5e5 ? 0.664 * sqrt(Re) : 0.037 * pow(Re, 0.8) - 871;
    return give(Nu * cbrt(a.Pr) * a.k / l_m, alpha_w_m2k);
}

trn_status trn_heat_radiation(double epsilon, double T_wall_k, double T_air_k, double *alpha_w_m2k)
{
    if (!(epsilon >= 0 && epsilon <= 1 + 1e-9) || !positive(T_wall_k) || !positive(T_air_k))
        return TRN_E_DOMAIN;
    /* factored: nothing is divided by the difference of the temperatures */
    return give(epsilon * sigma * (T_wall_k + T_air_k) * (T_wall_k * T_wall_k + T_air_k * T_air_k),
                alpha_w_m2k);
}

trn_status trn_heat_layered(double k_w_m2k, double d_m, double lambda_w_mk, double *k_eff_w_m2k)
{
    if (!positive(k_w_m2k) || !not_negative(d_m) || !positive(lambda_w_mk))
        return TRN_E_DOMAIN;
    return give(k_w_m2k / (1 + k_w_m2k * d_m / lambda_w_mk), k_eff_w_m2k);
}

trn_status trn_heat_cycle(double P_w, double kA_w_k, double C_j_k, double on_s, double off_s,
                          double *peak_k, double *trough_k, double *mean_k)
{
    double whole = on_s + off_s;
    if (!not_negative(P_w) || !positive(kA_w_k) || !positive(C_j_k) || !not_negative(on_s) ||
        !not_negative(off_s) || !positive(whole))
        return TRN_E_DOMAIN;
    double steady = P_w / kA_w_k;
    double tau = C_j_k / kA_w_k;
    double period = expm1(-whole / tau);
    /* phases so short that they vanish beside tau leave the mean */
    double peak = steady * (period < 0 ? expm1(-on_s / tau) / period : on_s / whole);
    if (!isfinite(peak))
        return TRN_E_DOMAIN;
    *peak_k = peak;
    *trough_k = peak * exp(-off_s / tau);
    *mean_k = steady * (on_s / whole);
    return TRN_OK;
}

/* ---- oil to air --------------------------------------------------------------------------- */

typedef struct wall {
    const trn_heat_surface *surface;
    double T_k, T_air_k, R_in;
} wall;

/* NaN where a law refuses */
static double alpha_out(const wall *w, double T_s)
{
    const trn_heat_surface *s = w->surface;
    double free_air = 0;
    double moving = 0;
    double radiated = 0;
    if (trn_heat_free_convection(s->height_m, T_s, w->T_air_k, TRN_HEAT_HOUSING, &free_air) < 0 ||
        trn_heat_forced_convection(s->height_m, s->air_speed_m_s, T_s, w->T_air_k, TRN_HEAT_HOUSING,
                                   &moving) < 0 ||
        trn_heat_radiation(s->emissivity, T_s, w->T_air_k, &radiated) < 0)
        return NAN;
    /* the law of moving air holds the buoyancy: the larger one, not the sum */
    return fmax(free_air, moving) + radiated;
}

static double surface_excess(double T_s, void *context)
{
    const wall *w = context;
    return alpha_out(w, T_s) * (T_s - w->T_air_k) - (w->T_k - T_s) / w->R_in;
}

static trn_status surface_temperature(wall *w, double *T_s)
{
    if (w->T_k == w->T_air_k) {
        *T_s = w->T_k;
        return TRN_OK;
    }
    return trn_root_between(surface_excess, w, fmin(w->T_k, w->T_air_k), fmax(w->T_k, w->T_air_k),
                            1e-11, T_s);
}

/* To air at this temperature of the surface. alpha 0: no radiation, still air, no difference of
 * temperature: nothing flows. */
static trn_status path_at(const wall *w, double T_s, trn_heat_path *path)
{
    double alpha = alpha_out(w, T_s);
    if (!isfinite(alpha))
        return TRN_E_DOMAIN;
    *path = (trn_heat_path){
        .T_surface_k = T_s, .alpha_out_w_m2k = alpha, .k_w_m2k = alpha / (1 + w->R_in * alpha)};
    return TRN_OK;
}

static trn_status wall_of(const trn_heat_surface *s, double T_k, double T_air_k, wall *w)
{
    if (!positive(s->height_m) || !not_negative(s->air_speed_m_s) ||
        !(s->emissivity >= 0 && s->emissivity <= 1 + 1e-9) || !positive(s->film_w_m2k) ||
        !not_negative(s->wall_m) || !positive(s->wall_w_mk))
        return TRN_E_DOMAIN;
    *w = (wall){.surface = s, .T_k = T_k, .T_air_k = T_air_k};
    w->R_in = 1 / s->film_w_m2k + s->wall_m / s->wall_w_mk + s->residue_m / s->residue_w_mk;
    return TRN_OK;
}

static trn_status computed_path(const trn_heat_surface *s, double T_k, double T_air_k,
                                trn_heat_path *path)
{
    wall w;
    double T_s = 0;
    trn_status status = wall_of(s, T_k, T_air_k, &w);
    if (status >= 0)
        status = surface_temperature(&w, &T_s);
    return status < 0 ? status : path_at(&w, T_s, path);
}

trn_status trn_heat_wall_inside(const trn_heat_surface *surface, double T_surface_k,
                                double T_air_k, double *T_k, trn_heat_path *path)
{
    wall w;
    trn_heat_path to_air;
    if (!positive(T_surface_k) || !positive(T_air_k) || !isnan(surface->heat_transfer_w_m2k) ||
        !not_negative(surface->residue_m) || !positive(surface->residue_w_mk))
        return TRN_E_DOMAIN;
    trn_status status = wall_of(surface, NAN, T_air_k, &w);
    if (status >= 0)
        status = path_at(&w, T_surface_k, &to_air);
    if (status < 0)
        return status;
    *T_k = T_surface_k + w.R_in * to_air.alpha_out_w_m2k * (T_surface_k - T_air_k);
    *path = to_air;
    return TRN_OK;
}

trn_status trn_heat_wall(const trn_heat_surface *surface, double T_k, double T_air_k,
                         trn_heat_path *path)
{
    const trn_heat_surface *s = surface;
    if (!positive(T_k) || !positive(T_air_k) || !not_negative(s->residue_m) ||
        !positive(s->residue_w_mk))
        return TRN_E_DOMAIN;
    if (isnan(s->heat_transfer_w_m2k))
        return computed_path(s, T_k, T_air_k, path);
    double k = 0;
    if (trn_heat_layered(s->heat_transfer_w_m2k, s->residue_m, s->residue_w_mk, &k) < 0)
        return TRN_E_DOMAIN;
    *path = (trn_heat_path){.T_surface_k = T_air_k + (T_k - T_air_k) * k / s->heat_transfer_w_m2k,
                            .alpha_out_w_m2k = s->heat_transfer_w_m2k,
                            .k_w_m2k = k};
    return TRN_OK;
}

trn_status trn_heat_sun(double absorption, double sun_w_m2, double area_m2, double k_w_m2k,
                        double alpha_out_w_m2k, double *absorbed_w, double *sun_w)
{
    if (!(absorption >= 0 && absorption <= 1 + 1e-9) || !not_negative(sun_w_m2) ||
        !not_negative(area_m2) || !positive(k_w_m2k) || !positive(alpha_out_w_m2k) ||
        !(k_w_m2k <= alpha_out_w_m2k * (1 + 1e-9)))
        return TRN_E_DOMAIN;
    *absorbed_w = absorption * sun_w_m2 * area_m2;
    *sun_w = *absorbed_w * (k_w_m2k / alpha_out_w_m2k);
    return TRN_OK;
}

trn_status trn_heat_losses(double mesh_w, double churning_w, double bearings_w, double seals_w,
                           double P_w, double *loss_w, double *efficiency)
{
    if (!not_negative(mesh_w) || !not_negative(churning_w) || !not_negative(bearings_w) ||
        !not_negative(seals_w) || !not_negative(P_w))
        return TRN_E_DOMAIN;
    *loss_w = mesh_w + churning_w + bearings_w + seals_w;
    *efficiency = P_w > 0 ? 1 - *loss_w / P_w : NAN;
    return TRN_OK;
}

trn_status trn_heat_balance(double loss_w, double sun_w, double k_w_m2k, double area_m2, double T_k,
                            double T_air_k, double *given_off_w, double *residual_w)
{
    if (!not_negative(loss_w) || !not_negative(sun_w) || !not_negative(k_w_m2k) ||
        !positive(area_m2) || !positive(T_k) || !positive(T_air_k))
        return TRN_E_DOMAIN;
    *given_off_w = k_w_m2k * area_m2 * (T_k - T_air_k);
    *residual_w = loss_w + sun_w - *given_off_w;
    return TRN_OK;
}

/* ---- recalled, not yet compared with the printed source -------------------------------------- */

const trn_constant trn_constants_heat[] = {
    {"tr14179_2.free.scale", "ISO/TR 14179-2:2001", "housing, free convection",
     "constant (m, K)", "1",
     "heat.free_convection", &free_scale},
    {"tr14179_2.free.height_exponent", "ISO/TR 14179-2:2001", "housing, free convection",
     "exponent of the height in m", "1",
     "heat.free_convection", &free_height},
    {"tr14179_2.free.rise_exponent", "ISO/TR 14179-2:2001", "housing, free convection",
     "exponent of the rise over the air in K", "1",
     "heat.free_convection", &free_rise},
    {"tr14179_2.forced.scale", "ISO/TR 14179-2:2001", "housing, forced convection",
     "constant (m)", "1",
     "heat.forced_convection", &forced_scale},
    {"tr14179_2.forced.exponent", "ISO/TR 14179-2:2001", "housing, forced convection",
     "exponent", "1",
     "heat.forced_convection", &forced_exponent},
    {"tr14179_2.forced.buoyancy", "ISO/TR 14179-2:2001", "housing, forced convection",
     "divisor of Gr", "1",
     "heat.forced_convection", &forced_buoyancy},
};
const size_t trn_constants_heat_count =
    sizeof trn_constants_heat / sizeof trn_constants_heat[0];
