/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a bent joint does to its bearings: couples, side force, life of the cross, heat. */
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <trunnion/joint.h>

#include "joint_guard.h"

/* limits of remarks, deg to rad and back loses the last bits */
static const double slack = 1e-9;

static bool above_45(double beta_rad)
{
    return beta_rad > 45 * JOINT_DEG * (1 + slack);
}

trn_status trn_joint_secondary_couple(double torque_nm, double beta_rad, double *driving_nm,
                                      double *driven_nm)
{
    if (!joint_not_negative(torque_nm) || !joint_bend_angle(beta_rad))
        return TRN_E_DOMAIN;
    *driving_nm = torque_nm * tan(beta_rad);
    *driven_nm = torque_nm * sin(beta_rad);
    return above_45(beta_rad) ? TRN_R_JOINT_DRIVEN_COUPLE : TRN_OK;
}

trn_status trn_joint_couple(double torque_nm, double beta_rad, double theta_rad,
                            double couple_nm[3])
{
    if (!joint_not_negative(torque_nm) || !joint_bend_angle(beta_rad) || !isfinite(theta_rad))
        return TRN_E_DOMAIN;
    double across = torque_nm * tan(beta_rad) * sin(theta_rad);
    couple_nm[0] = torque_nm;
    couple_nm[1] = across * sin(theta_rad);
    couple_nm[2] = -across * cos(theta_rad);
    return TRN_OK;
}

trn_status trn_joint_transverse_force(double torque_nm, double beta1_rad, double beta2_rad,
                                      double length_m, trn_joint_shape shape, double *force_n)
{
    if (!joint_not_negative(torque_nm) || !joint_bend_angle(beta1_rad) ||
        !joint_bend_angle(beta2_rad) || !joint_positive(length_m) ||
        (shape != TRN_JOINT_SHAPE_Z && shape != TRN_JOINT_SHAPE_W))
        return TRN_E_DOMAIN;
    double turn = shape == TRN_JOINT_SHAPE_W ? beta1_rad + beta2_rad : beta1_rad - beta2_rad;
    *force_n = torque_nm * fabs(sin(turn)) / (cos(beta2_rad) * length_m);
    return above_45(fmax(beta1_rad, beta2_rad)) ? TRN_R_JOINT_LARGE_ANGLE : TRN_OK;
}

/* ---- life of the cross --------------------------------------------------------------------- */

static const double exponent = 10.0 / 3; /* rollers, JointISO281 */

/* With tan d = sinh u, sec^(10/3) d dd becomes cosh^(7/3) u du: smooth up to any bend. */
static double growing(double u, void *unused)
{
    (void)unused;
    return pow(cosh(u), 7.0 / 3);
}

static double falling(double d, void *unused)
{
    (void)unused;
    return pow(cos(d), exponent);
}

/* Integral from 0; the fixed Gauss-Kronrod rules need no workspace. */
static trn_status integral(double (*f)(double, void *), double end, double *out)
{
    gsl_function g = {.function = f, .params = NULL};
    double error = 0;
    size_t calls = 0;
    if (gsl_integration_qng(&g, 0, end, 0, 1e-11, out, &error, &calls) != GSL_SUCCESS)
        return TRN_E_CONVERGE;
    return TRN_OK;
}

/* Of the yoke with constant torque. */
static trn_status own_growth(double beta_rad, double *k_beta)
{
    double own = 0;
    if (integral(growing, asinh(tan(beta_rad)), &own) < 0)
        return TRN_E_CONVERGE;
    *k_beta = pow(own / beta_rad, 1 / exponent);
    return TRN_OK;
}

trn_status trn_joint_load_growth(double beta_rad, double *k_beta, double *k_other)
{
    if (!joint_bend_angle(beta_rad))
        return TRN_E_DOMAIN;
    if (beta_rad == 0) {
        *k_beta = 1;
        *k_other = 1;
        return TRN_OK;
    }
    double own = 0;
    double other = 0;
    if (own_growth(beta_rad, &own) < 0 || integral(falling, beta_rad, &other) < 0)
        return TRN_E_CONVERGE;
    *k_beta = own;
    *k_other = pow(other / beta_rad, 1 / exponent) / cos(beta_rad);
    return TRN_OK;
}

trn_status trn_joint_cross_life(double rating_n, double arm_m, double torque_nm,
                                double omega_rad_s, double beta_rad, double shock, bool growth,
                                trn_joint_life *life)
{
    if (!joint_positive(rating_n) || !joint_positive(arm_m) || !joint_positive(torque_nm) ||
        !joint_positive(omega_rad_s) || !joint_bend_angle(beta_rad) || !(beta_rad > 0) ||
        !joint_positive(shock))
        return TRN_E_DOMAIN;
    double k = 1;
    if (growth && own_growth(beta_rad, &k) < 0)
        return TRN_E_CONVERGE;
    double load = k * shock * torque_nm / (2 * arm_m);
    double omega_eq = omega_rad_s * beta_rad / JOINT_RIGHT_ANGLE;
    *life = (trn_joint_life){
        .load_n = load,
        .k_beta = k,
        .omega_eq_rad_s = omega_eq,
        .life_s = 1e6 * pow(rating_n / load, exponent) * 2 * JOINT_PI / omega_eq,
    };
    if (load > rating_n / 2 * (1 + slack))
        return TRN_R_JOINT_OVERLOADED;
    if (beta_rad < 2 * JOINT_DEG * (1 - slack))
        return TRN_R_JOINT_SMALL_ANGLE;
    return above_45(beta_rad) ? TRN_R_JOINT_LARGE_ANGLE : TRN_OK;
}

trn_status trn_joint_critical_oscillation(double needles, double gamma, double *inner_rad,
                                          double *outer_rad)
{
    if (!(needles >= 3) || !isfinite(needles) || needles != floor(needles) || !(gamma > 0) ||
        !(gamma < 1))
        return TRN_E_DOMAIN;
    *inner_rad = 2 * JOINT_PI / (needles * (1 + gamma));
    *outer_rad = 2 * JOINT_PI / (needles * (1 - gamma));
    return TRN_OK;
}

trn_status trn_joint_heat(double torque_nm, double omega_rad_s, double beta_rad, double mu,
                          double r_over_arm, double *loss_w)
{
    if (!joint_not_negative(torque_nm) || !joint_not_negative(omega_rad_s) ||
        !joint_bend_angle(beta_rad) || !joint_not_negative(mu) || !(r_over_arm > 0) ||
        !(r_over_arm < 1))
        return TRN_E_DOMAIN;
    double t = tan(beta_rad);
    *loss_w = 2 / JOINT_PI * mu * r_over_arm * (asinh(t) + t) * torque_nm * omega_rad_s;
    return TRN_OK;
}
