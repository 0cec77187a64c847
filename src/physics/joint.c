/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One universal joint: angles, speeds, accelerations. */
#include <float.h>
#include <trunnion/joint.h>

#include "joint_guard.h"

/* 1 - sin^2 beta cos^2 theta as a sum: the difference loses digits near 90 deg */
static double ratio_denominator(double beta_rad, double theta_rad)
{
    double c = cos(beta_rad);
    double across = sin(beta_rad) * sin(theta_rad);
    return c * c + across * across;
}

trn_status trn_joint_ratio(double beta_rad, double theta_rad, double *ratio)
{
    if (!joint_bend_angle(beta_rad) || !isfinite(theta_rad))
        return TRN_E_DOMAIN;
    *ratio = cos(beta_rad) / ratio_denominator(beta_rad, theta_rad); /* JointE1 */
    return TRN_OK;
}

trn_status trn_joint_output_angle(double beta_rad, double theta_rad, double *phi_rad)
{
    if (!joint_bend_angle(beta_rad) || !isfinite(theta_rad))
        return TRN_E_DOMAIN;
    double kappa = joint_kappa(beta_rad);
    *phi_rad =
        theta_rad + atan2(kappa * sin(2 * theta_rad), 1 - kappa * cos(2 * theta_rad));
    return TRN_OK;
}

trn_status trn_joint_acceleration(double beta_rad, double theta_rad, double omega_rad_s,
                                  double *alpha_rad_s2)
{
    if (!joint_bend_angle(beta_rad) || !isfinite(theta_rad) || !joint_not_negative(omega_rad_s))
        return TRN_E_DOMAIN;
    double s = sin(beta_rad) * sin(beta_rad);
    double q = ratio_denominator(beta_rad, theta_rad);
    *alpha_rad_s2 =
        -omega_rad_s * omega_rad_s * cos(beta_rad) * s * sin(2 * theta_rad) / (q * q);
    return TRN_OK;
}

trn_status trn_joint_fluctuation(double beta_rad, double omega_rad_s, trn_joint_swing *swing)
{
    if (!joint_bend_angle(beta_rad) || !joint_not_negative(omega_rad_s))
        return TRN_E_DOMAIN;
    double c = cos(beta_rad);
    double half = sin(beta_rad / 2);
    swing->ratio_max = 1 / c; /* JointE3 */
    swing->ratio_min = c;
    swing->fluctuation = sin(beta_rad) * tan(beta_rad);
    swing->angle_error_rad = atan2(half * half, sqrt(c)); /* arcsin kappa */
    swing->omega_max_rad_s = omega_rad_s / c;
    swing->omega_min_rad_s = omega_rad_s * c;
    return TRN_OK;
}

/* The larger root D of D^2 - (2 - s) D - 2 s^2 = 0; cos 2 theta = 2 s/D at the peak. */
static double peak_root(double s)
{
    double a = 1 - s / 2;
    return a + sqrt(a * a + 2 * s * s);
}

/* F/tan^2 beta, from 1 at s = 0 down to 0.65 at s = 1 */
static double peak_shape(double s)
{
    double d = peak_root(s);
    double q = (d + s) / (d + 2 * s);
    return sqrt(2 / d) * q * sqrt(q);
}

trn_status trn_joint_peak_acceleration(double beta_rad, double omega_rad_s, double *alpha_rad_s2,
                                       double *theta_rad)
{
    if (!joint_bend_angle(beta_rad) || !joint_not_negative(omega_rad_s))
        return TRN_E_DOMAIN;
    double s = sin(beta_rad) * sin(beta_rad);
    double t = tan(beta_rad);
    double d = peak_root(s);
    *alpha_rad_s2 = omega_rad_s * omega_rad_s * t * t * peak_shape(s);
    /* sin^2 theta = cos^2 beta/(D + s), cos^2 theta = (D + 2 s)/(2 D) */
    *theta_rad = atan2(cos(beta_rad) / sqrt(d + s), sqrt((d + 2 * s) / (2 * d)));
    return TRN_OK;
}

trn_status trn_joint_angle_for_fluctuation(double fluctuation, double *beta_rad)
{
    if (!joint_not_negative(fluctuation))
        return TRN_E_DOMAIN;
    double half = fluctuation / 2;
    double c = 1 / (half + hypot(half, 1));
    *beta_rad = atan2(sqrt(fluctuation * c), c);
    return TRN_OK;
}

/* With t = tan^2 beta the equation is t g(s) = f, s = t/(1 + t). g changes so slowly that
 * t <- f/g(t) closes the distance at least ninefold a step; it starts at the small-angle value. */
trn_status trn_joint_angle_for_acceleration(double omega_rad_s, double alpha_rad_s2,
                                            double *beta_rad)
{
    if (!joint_positive(omega_rad_s) || !joint_not_negative(alpha_rad_s2))
        return TRN_E_DOMAIN;
    double f = alpha_rad_s2 / omega_rad_s / omega_rad_s;
    if (!isfinite(f))
        return TRN_E_DOMAIN;
    double t = f;
    for (int i = 0; i < 100; i++) {
        double next = f / peak_shape(t / (1 + t));
        double change = fabs(next - t);
        t = next;
        if (change <= 2 * DBL_EPSILON * t) {
            *beta_rad = atan(sqrt(t));
            return TRN_OK;
        }
    }
    return TRN_E_CONVERGE;
}

trn_status trn_joint_compound_angle(double h_rad, double v_rad, trn_joint_views views,
                                    double *beta_rad)
{
    if (!joint_slope(h_rad) || !joint_slope(v_rad))
        return TRN_E_DOMAIN;
    switch (views) {
    case TRN_JOINT_VIEWS_PROJECTED:
        *beta_rad = atan(hypot(tan(h_rad), tan(v_rad)));
        return TRN_OK;
    case TRN_JOINT_VIEWS_SUCCESSIVE: /* the sine beside the cosine: acos loses small angles */
        *beta_rad = atan2(hypot(sin(h_rad), cos(h_rad) * sin(v_rad)), cos(h_rad) * cos(v_rad));
        return TRN_OK;
    }
    return TRN_E_DOMAIN;
}
