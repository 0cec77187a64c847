/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_math.h>
#include <math.h>
#include <trunnion/gear_loss.h>

#include "constant_tables.h"

/* ISO/TR 14179-2:2001, Schlenk's mesh friction, from memory */
static double friction_scale = 0.048;
static double friction_load = 0.2;
static const double friction_viscosity = -0.05; /* a shape: the heat balance works with it too */
static double friction_roughness = 0.25;

/* guards are written so that NaN fails them */
static int positive(double x)
{
    return x > 0 && isfinite(x);
}

static int pressure_angle(double alpha_rad)
{
    return alpha_rad > 0 && alpha_rad < M_PI_4;
}

static int helix_angle(double beta_rad)
{
    return fabs(beta_rad) < M_PI / 3;
}

/* Transverse section of a pair: radii, pitch on the base circle, base helix. */
typedef struct section {
    double z1, z2;
    double r_b1, r_b2, r_a1, r_a2;
    double a, p_bt, sin_beta_b;
} section;

/* sqrt(a^2 - b^2) without the loss of digits of the squares */
static double leg(double a, double b)
{
    return sqrt((a - b) * (a + b));
}

static trn_status path_of(const section *s, trn_gear_path *path)
{
    double bases = s->r_b1 + s->r_b2;
    if (!(s->a >= bases) || !(s->r_a1 > s->r_b1) || !(s->r_a2 > s->r_b2))
        return TRN_E_DOMAIN;
    double line = leg(s->a, bases); /* a sin alpha_wt: between the points where the bases touch */
    double share = s->z1 / (s->z1 + s->z2);
    double reach1 = leg(s->r_a1, s->r_b1);
    double reach2 = leg(s->r_a2, s->r_b2);
    double eps_1 = (reach1 - share * line) / s->p_bt;
    double eps_2 = (reach2 - (1 - share) * line) / s->p_bt;
    double eps_a = eps_1 + eps_2;
    double H_v = M_PI * (1 / s->z1 + 1 / s->z2) / sqrt(1 - s->sin_beta_b * s->sin_beta_b) *
                 (1 - eps_a + eps_1 * eps_1 + eps_2 * eps_2); /* Ohlendorf */
    if (!(eps_a > 0) || !isfinite(H_v))
        return TRN_E_DOMAIN;
    *path = (trn_gear_path){.eps_1 = eps_1,
                            .eps_2 = eps_2,
                            .eps_a = eps_a,
                            .H_v = H_v,
                            .alpha_wt_rad = atan2(line, bases),
                            .beta_b_rad = asin(fabs(s->sin_beta_b))};
    if (reach1 > line || reach2 > line)
        return TRN_R_GEAR_INTERFERENCE;
    if (eps_a < 1 || eps_a > 2 || eps_1 < 0 || eps_2 < 0)
        return TRN_R_GEAR_PATH;
    return TRN_OK;
}

trn_status trn_gear_loss_factor(double z1, double z2, double m_m, double alpha_rad, double beta_rad,
                                double a_w_m, double d_a1_m, double d_a2_m, trn_gear_path *path)
{
    if (!positive(z1) || !positive(z2) || !positive(m_m) || !pressure_angle(alpha_rad) ||
        !helix_angle(beta_rad) || !positive(a_w_m) || !positive(d_a1_m) || !positive(d_a2_m))
        return TRN_E_DOMAIN;
    double m_t = m_m / cos(beta_rad);
    double cos_alpha_t = cos(atan(tan(alpha_rad) / cos(beta_rad)));
    section s = {.z1 = z1,
                 .z2 = z2,
                 .r_b1 = z1 * m_t * cos_alpha_t / 2,
                 .r_b2 = z2 * m_t * cos_alpha_t / 2,
                 .r_a1 = d_a1_m / 2,
                 .r_a2 = d_a2_m / 2,
                 .a = a_w_m,
                 .p_bt = M_PI * m_t * cos_alpha_t,
                 .sin_beta_b = sin(beta_rad) * cos(alpha_rad)};
    return path_of(&s, path);
}

/* Cone angle and whether it is an ordinary one. Crown and inner bevels have no virtual cylinder;
 * the slack keeps the crown gear itself out, whose cosine is rounding only. */
static int cone_angle(double mate_over_own, double Sigma_rad, double *delta_rad)
{
    double x = mate_over_own + cos(Sigma_rad);
    *delta_rad = atan2(sin(Sigma_rad), x);
    return x > 1e-9 * mate_over_own;
}

trn_status trn_gear_bevel_virtual(double z1, double z2, double m_et_m, double b_m, double alpha_rad,
                                  double Sigma_rad, double psi_rad, trn_gear_bevel *pair)
{
    trn_gear_bevel p = {0};
    if (!positive(z1) || !positive(z2) || !positive(m_et_m) || !positive(b_m) ||
        !pressure_angle(alpha_rad) || !(Sigma_rad > 0 && Sigma_rad < M_PI) ||
        !helix_angle(psi_rad) || !cone_angle(z2 / z1, Sigma_rad, &p.delta1_rad) ||
        !cone_angle(z1 / z2, Sigma_rad, &p.delta2_rad))
        return TRN_E_DOMAIN;
    p.R_e_m = z1 * m_et_m / (2 * sin(p.delta1_rad));
    if (!(b_m < p.R_e_m))
        return TRN_E_DOMAIN;
    p.R_m_m = p.R_e_m - b_m / 2;
    double m_mt = m_et_m * p.R_m_m / p.R_e_m;
    double m_mn = m_mt * cos(psi_rad);
    p.d_m1_m = z1 * m_mt;
    p.d_m2_m = z2 * m_mt;
    p.z_v1 = z1 / cos(p.delta1_rad);
    p.z_v2 = z2 / cos(p.delta2_rad);
    p.d_v1_m = p.z_v1 * m_mt;
    p.d_v2_m = p.z_v2 * m_mt;
    double cos_alpha_vt = cos(atan(tan(alpha_rad) / cos(psi_rad)));
    section s = {.z1 = p.z_v1,
                 .z2 = p.z_v2,
                 .r_b1 = p.d_v1_m * cos_alpha_vt / 2,
                 .r_b2 = p.d_v2_m * cos_alpha_vt / 2,
                 .r_a1 = p.d_v1_m / 2 + m_mn,
                 .r_a2 = p.d_v2_m / 2 + m_mn,
                 .a = (p.d_v1_m + p.d_v2_m) / 2,
                 .p_bt = M_PI * m_mt * cos_alpha_vt,
                 .sin_beta_b = sin(psi_rad) * cos(alpha_rad)};
    trn_status status = path_of(&s, &p.path);
    if (status < 0)
        return status;
    *pair = p;
    if (status == TRN_OK && b_m > 0.35 * p.R_e_m * (1 + 1e-9))
        return TRN_R_GEAR_FACE;
    return status;
}

trn_status trn_gear_contact(double T1_nm, double omega1_rad_s, double d1_m, double b_m,
                            double d_v1_m, double d_v2_m, double alpha_rad, double beta_rad,
                            trn_gear_touch *touch)
{
    if (!(T1_nm >= 0) || !isfinite(T1_nm) || !(omega1_rad_s >= 0) || !isfinite(omega1_rad_s) ||
        !positive(d1_m) || !positive(b_m) || !positive(d_v1_m) || !positive(d_v2_m) ||
        !pressure_angle(alpha_rad) || !helix_angle(beta_rad))
        return TRN_E_DOMAIN;
    double alpha_t = atan(tan(alpha_rad) / cos(beta_rad));
    double sin_beta_b = sin(beta_rad) * cos(alpha_rad);
    double r1 = d_v1_m / 2;
    double r2 = d_v2_m / 2;
    double v_t = omega1_rad_s * d1_m / 2;
    *touch = (trn_gear_touch){.F_over_b_n_m = 2 * T1_nm / (d1_m * cos(alpha_t) * b_m),
                              .v_t_m_s = v_t,
                              .v_sum_m_s = 2 * v_t * sin(alpha_t),
                              .rho_red_m = r1 * r2 * sin(alpha_t) /
                                           ((r1 + r2) * sqrt(1 - sin_beta_b * sin_beta_b))};
    return TRN_OK;
}

trn_status trn_gear_friction(double F_over_b_n_m, double v_sum_m_s, double rho_red_m,
                             double eta_pa_s, double Ra_m, double X_L, double *mu)
{
    static const double floor_n_mm = 150; /* part of the method: ISO/TR 14179-2 */
    if (!(F_over_b_n_m >= 0) || !isfinite(F_over_b_n_m) || !positive(v_sum_m_s) ||
        !positive(rho_red_m) || !positive(eta_pa_s) || !positive(Ra_m) || !positive(X_L))
        return TRN_E_DOMAIN;
    double line_load = F_over_b_n_m * 1e-3;
    double value = friction_scale *
                   pow(fmax(line_load, floor_n_mm) / (v_sum_m_s * rho_red_m * 1e3), friction_load) *
                   pow(eta_pa_s * 1e3, friction_viscosity) *
                   pow(Ra_m * 1e6, friction_roughness) * X_L; /* Schlenk */
    if (!isfinite(value))
        return TRN_E_DOMAIN;
    *mu = value;
    return line_load < floor_n_mm * (1 - 1e-9) ? TRN_R_GEAR_LIGHT : TRN_OK;
}

/* ---- recalled, not yet compared with the printed source -------------------------------------- */

const trn_constant trn_constants_gear_loss[] = {
    {"tr14179_2.friction.scale", "ISO/TR 14179-2:2001", "mesh friction (Schlenk)",
     "constant", "1",
     "gear.friction", &friction_scale},
    {"tr14179_2.friction.load_exponent", "ISO/TR 14179-2:2001", "mesh friction (Schlenk)",
     "exponent of load over speed and radius", "1",
     "gear.friction", &friction_load},
    {"tr14179_2.friction.roughness_exponent", "ISO/TR 14179-2:2001", "mesh friction (Schlenk)",
     "exponent of Ra in um", "1",
     "gear.friction", &friction_roughness},
};
const size_t trn_constants_gear_loss_count =
    sizeof trn_constants_gear_loss / sizeof trn_constants_gear_loss[0];
