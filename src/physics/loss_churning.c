/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gears and wheels that turn in oil. */
#include <gsl/gsl_math.h>
#include <math.h>
#include <stdbool.h>
#include <trunnion/loss.h>

#include "constant_tables.h"

static const double gravity = 9.81; /* m/s2, as the published checks take it */

/* from memory: the dimensionless law, the law of the rating report, the disc */
static double low_viscous = 1.366, low_inertial = 0.239;
static double high_viscous = 20.797, high_inertial = 3.644;
static double low_depth = 0.45, low_fill = 0.1, low_froude = -0.6;
static double high_depth = 0.1, high_fill = -0.35, high_froude = -0.88, high_width = 0.85;
static double iso_tooth = 7.37, iso_sides = 1.474, iso_arrangement = 0.2;
static double iso_rough = 7.93, iso_rough_module = 4.648, iso_diameter = 4.7;
static double disc_coefficient[] = {0, 3.70, 0.080, 0.102}; /* the first is 2 pi, exact */

/* guards are written so that NaN fails them */
static int positive(double x)
{
    return x > 0 && isfinite(x);
}

static bool within(double x, double low, double high)
{
    return x >= low * (1 - 1e-9) && x <= high * (1 + 1e-9);
}

/* ---- dimensionless law -------------------------------------------------------------------- */

static trn_status tested(const trn_churning_gear *g)
{
    if (g->h_m > 0.8 * g->R_m * (1 + 1e-9))
        return TRN_R_LOSS_DEEP;
    if (!within(g->m_m, 1.5e-3, 5e-3) || !within(g->b_m, 10e-3, 40e-3) ||
        !within(2 * g->R_m, 100e-3, 160e-3) || !within(g->n_rad_s, 0, 7000 * M_PI / 30))
        return TRN_R_LOSS_GROUND;
    return TRN_OK;
}

trn_status trn_loss_churning_prepare(const trn_churning_gear *gear, trn_churning_ready *ready)
{
    const trn_churning_gear *g = gear;
    if (!positive(g->R_m) || !positive(g->b_m) || !positive(g->m_m) || !positive(g->z) ||
        !(g->h_m >= 0 && g->h_m <= 2 * g->R_m * (1 + 1e-9)) || !positive(g->V_oil_m3) ||
        !positive(g->n_rad_s) || !(g->alpha_rad > 0 && g->alpha_rad < M_PI_4) ||
        !(fabs(g->beta_rad) < M_PI / 3))
        return TRN_E_DOMAIN;
    double R = g->R_m;
    double D = 2 * R;
    double depth = fmin(g->h_m / D, 1);
    double theta = 2 * asin(sqrt(depth)); /* acos(1 - h/R) with all its digits near 0 */
    double tooth = 2.25 * g->m_m;
    double S_m = R * R * (2 * theta - sin(2 * theta)) + D * g->b_m * theta +
                 2 * g->z * theta * tooth * g->b_m / (M_PI * cos(g->alpha_rad) * cos(g->beta_rad));
    double omega2 = g->n_rad_s * g->n_rad_s;
    double Fr = omega2 * R / gravity;
    double gamma = omega2 * cbrt(R * g->b_m * g->m_m);
    double fast = fmin(fmax((gamma - 750) / 500, 0), 1);
    double fill = g->V_oil_m3 / (D * D * D);
    trn_churning_ready r = {.Re_nu = g->n_rad_s * R * g->b_m,
                            .Re_power = pow(g->n_rad_s * R * g->b_m, -0.21),
                            .Fr = Fr,
                            .gamma = gamma,
                            .low = (1 - fast) * pow(depth, low_depth) * pow(fill, low_fill) *
                                   pow(Fr, low_froude),
                            .high = fast * pow(depth, high_depth) * pow(fill, high_fill) *
                                    pow(Fr, high_froude) * pow(g->b_m / D, high_width),
                            .torque_rho = 0.5 * omega2 * R * R * R * S_m,
                            .S_m_m2 = S_m,
                            .n_rad_s = g->n_rad_s,
                            .ground = tested(g)};
    if (!isfinite(r.low) || !isfinite(r.high) || !isfinite(r.torque_rho) || !positive(r.Re_nu))
        return TRN_E_DOMAIN;
    *ready = r;
    return TRN_OK;
}

/* E(c, d) of the law; power = Re^-0.21 */
static double reynolds_part(double c, double d, double Re, double power)
{
    static const double power_6000 = 0.160911927614698; /* 6000^-0.21 */
    if (Re <= 6000)
        return c * power;
    if (Re >= 9000)
        return d;
    double at_6000 = c * power_6000;
    return at_6000 + (d - at_6000) * (Re - 6000) / 3000;
}

double trn_loss_churning_coefficient(const trn_churning_ready *ready, double nu_m2_s, double nu_021)
{
    double Re = ready->Re_nu / nu_m2_s;
    double power = nu_021 * ready->Re_power; /* Re^-0.21 */
    double C_m = ready->low > 0 ? ready->low * reynolds_part(low_viscous, low_inertial, Re, power) : 0;
    if (ready->high > 0)
        C_m += ready->high * reynolds_part(high_viscous, high_inertial, Re, power);
    return C_m;
}

trn_status trn_loss_churning(const trn_churning_gear *gear, double rho_kg_m3, double nu_m2_s,
                             trn_churning *churning)
{
    trn_churning_ready r;
    if (!positive(rho_kg_m3) || !positive(nu_m2_s) || trn_loss_churning_prepare(gear, &r) < 0)
        return TRN_E_DOMAIN;
    double C_m = trn_loss_churning_coefficient(&r, nu_m2_s, pow(nu_m2_s, 0.21));
    double torque = r.torque_rho * rho_kg_m3 * C_m;
    if (!isfinite(torque * r.n_rad_s))
        return TRN_E_DOMAIN;
    *churning = (trn_churning){.Re = r.Re_nu / nu_m2_s,
                               .Fr = r.Fr,
                               .gamma_m_s2 = r.gamma,
                               .C_m = C_m,
                               .torque_nm = torque,
                               .loss_w = torque * r.n_rad_s};
    if (r.ground == TRN_OK && !within(nu_m2_s, 30e-6, 400e-6))
        return TRN_R_LOSS_GROUND;
    return r.ground;
}

/* ---- law of the thermal rating report ----------------------------------------------------- */

trn_status trn_loss_churning_iso(double nu_m2_s, double n_rad_s, double D_m, double b_m,
                                 double m_t_m, double beta_rad, double dip, double *tooth_w,
                                 double *sides_w)
{
    double R_f = iso_rough - iso_rough_module / (m_t_m * 1e3);
    if (!positive(nu_m2_s) || !(n_rad_s >= 0) || !isfinite(n_rad_s) || !positive(D_m) ||
        !positive(b_m) || !positive(m_t_m) || !(R_f > 0) || !(fabs(beta_rad) < M_PI / 3) ||
        !(dip >= 0 && dip <= 1 + 1e-9))
        return TRN_E_DOMAIN;
    double nu = nu_m2_s * 1e6;
    double n = n_rad_s * 30 / M_PI;
    double D = D_m * 1e3;
    double helix = fmax(fabs(beta_rad), 10 * M_PI / 180); /* part of the method */
    /* kW in the source; the large divisor comes last so that nothing small is rounded away */
    double common = 1e3 * dip * nu * n * n * n * pow(D, iso_diameter);
    double tooth = iso_tooth * common * (b_m * 1e3) * R_f / sqrt(tan(helix)) / (iso_arrangement * 1e26);
    double sides = iso_sides * common * D / (iso_arrangement * 1e26);
    if (!isfinite(tooth) || !isfinite(sides))
        return TRN_E_DOMAIN;
    *tooth_w = tooth;
    *sides_w = sides;
    return TRN_OK;
}

trn_status trn_loss_churning_band(double central_w, double iso_w, double scatter, double *low_w,
                                  double *high_w)
{
    if (!(central_w >= 0) || !isfinite(central_w) || !(iso_w >= 0) || !isfinite(iso_w) ||
        !(scatter >= 1) || !isfinite(scatter))
        return TRN_E_DOMAIN;
    *low_w = fmin(iso_w, central_w / scatter);
    *high_w = fmax(iso_w, central_w * scatter);
    return TRN_OK;
}

/* ---- wheel under oil ---------------------------------------------------------------------- */

trn_status trn_loss_disc(double R_m, double gap_m, double n_rad_s, double nu_m2_s, double rho_kg_m3,
                         trn_disc *disc)
{
    if (!positive(R_m) || !positive(gap_m) || !positive(n_rad_s) || !positive(nu_m2_s) ||
        !positive(rho_kg_m3))
        return TRN_E_DOMAIN;
    double Re = n_rad_s * R_m * R_m / nu_m2_s;
    double G = gap_m / R_m;
    double width = pow(G, 0.1);
    const double regimes[] = {2 * M_PI / (G * Re), disc_coefficient[1] * width / sqrt(Re),
                              disc_coefficient[2] / pow(G, 1.0 / 6) / sqrt(sqrt(Re)),
                              disc_coefficient[3] * width * pow(Re, -0.2)}; /* Daily and Nece */
    int largest = 0;
    for (int i = 1; i < 4; i++)
        if (regimes[i] > regimes[largest])
            largest = i;
    double C_M = regimes[largest];
    double torque = 0.5 * rho_kg_m3 * n_rad_s * n_rad_s * pow(R_m, 5) * C_M;
    if (!isfinite(torque * n_rad_s))
        return TRN_E_DOMAIN;
    *disc = (trn_disc){.Re = Re,
                       .C_M = C_M,
                       .regime = largest + 1,
                       .torque_nm = torque,
                       .loss_w = torque * n_rad_s};
    bool inside = Re > 1e3 && Re < 1e7 && G > 0.0127 && G < 0.217;
    return inside ? TRN_OK : TRN_R_LOSS_DISC;
}

/* ---- recalled, not yet compared with the printed source -------------------------------------- */

const trn_constant trn_constants_loss_churning[] = {
    {"churning.low_viscous", "Changenet and Velex 2007; Changenet et al. 2011", "C_m",
     "low speed, Re below 6000: factor", "1",
     "loss.churning", &low_viscous},
    {"churning.low_inertial", "Changenet and Velex 2007; Changenet et al. 2011", "C_m",
     "low speed, Re above 9000: constant", "1",
     "loss.churning", &low_inertial},
    {"churning.high_viscous", "Changenet and Velex 2007; Changenet et al. 2011", "C_m",
     "high speed, Re below 6000: factor", "1",
     "loss.churning", &high_viscous},
    {"churning.high_inertial", "Changenet and Velex 2007; Changenet et al. 2011", "C_m",
     "high speed, Re above 9000: constant", "1",
     "loss.churning", &high_inertial},
    {"churning.low_depth", "Changenet and Velex 2007; Changenet et al. 2011", "C_m",
     "low speed, exponent of h/D", "1",
     "loss.churning", &low_depth},
    {"churning.low_fill", "Changenet and Velex 2007; Changenet et al. 2011", "C_m",
     "low speed, exponent of V/D3", "1",
     "loss.churning", &low_fill},
    {"churning.low_froude", "Changenet and Velex 2007; Changenet et al. 2011", "C_m",
     "low speed, exponent of Fr", "1",
     "loss.churning", &low_froude},
    {"churning.high_depth", "Changenet and Velex 2007; Changenet et al. 2011", "C_m",
     "high speed, exponent of h/D", "1",
     "loss.churning", &high_depth},
    {"churning.high_fill", "Changenet and Velex 2007; Changenet et al. 2011", "C_m",
     "high speed, exponent of V/D3", "1",
     "loss.churning", &high_fill},
    {"churning.high_froude", "Changenet and Velex 2007; Changenet et al. 2011", "C_m",
     "high speed, exponent of Fr", "1",
     "loss.churning", &high_froude},
    {"churning.high_width", "Changenet and Velex 2007; Changenet et al. 2011", "C_m",
     "high speed, exponent of b/D", "1",
     "loss.churning", &high_width},
    {"tr14179_1.churning.tooth", "ISO/TR 14179-1:2001", "churning",
     "constant of the tooth part", "1",
     "loss.churning_iso", &iso_tooth},
    {"tr14179_1.churning.sides", "ISO/TR 14179-1:2001", "churning",
     "constant of the sides", "1",
     "loss.churning_iso", &iso_sides},
    {"tr14179_1.churning.arrangement", "ISO/TR 14179-1:2001", "churning",
     "arrangement constant", "1",
     "loss.churning_iso", &iso_arrangement},
    {"tr14179_1.churning.roughness", "ISO/TR 14179-1:2001", "churning",
     "constant of the roughness factor", "1",
     "loss.churning_iso", &iso_rough},
    {"tr14179_1.churning.roughness_module", "ISO/TR 14179-1:2001", "churning",
     "its part over the module", "mm",
     "loss.churning_iso", &iso_rough_module},
    {"tr14179_1.churning.diameter_exponent", "ISO/TR 14179-1:2001", "churning",
     "exponent of the outside diameter", "1",
     "loss.churning_iso", &iso_diameter},
    {"disc.regime_2", "Daily and Nece 1960", "C_M",
     "coefficient, separate laminar", "1",
     "loss.disc", &disc_coefficient[1]},
    {"disc.regime_3", "Daily and Nece 1960", "C_M",
     "coefficient, merged turbulent", "1",
     "loss.disc", &disc_coefficient[2]},
    {"disc.regime_4", "Daily and Nece 1960", "C_M",
     "coefficient, separate turbulent", "1",
     "loss.disc", &disc_coefficient[3]},
};
const size_t trn_constants_loss_churning_count =
    sizeof trn_constants_loss_churning / sizeof trn_constants_loss_churning[0];
