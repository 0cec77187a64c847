/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two and more joints as one, in a plane and in space. */
#include <complex.h>
#include <trunnion/joint.h>

#include "joint_guard.h"

/* Everything here has a period of half a turn in the phase error; taking whole half turns out
 * first keeps an error of exactly 180 deg exactly without effect. */
static double half_turn_error(double epsilon_rad)
{
    return remainder(epsilon_rad, JOINT_PI);
}

static double equivalent_angle(double beta1_rad, double beta2_rad, double epsilon_rad)
{
    double e = half_turn_error(epsilon_rad);
    double c1 = cos(beta1_rad);
    double c2 = cos(beta2_rad);
    double s1 = sin(beta1_rad);
    double s2 = c1 * sin(beta2_rad);
    double difference =
        -2 * sin((beta1_rad + beta2_rad) / 2) * sin((beta1_rad - beta2_rad) / 2);
    double rest = (s1 * s1 + s2 * s2) / (1 + c1 * c2); /* 1 - c1 c2 */
    double kappa = hypot(sin(e) * rest, cos(e) * difference) /
                   hypot(sin(e) * (1 + c1 * c2), cos(e) * (c1 + c2));
    return 2 * atan(sqrt(kappa));
}

trn_status trn_joint_pair(double beta1_rad, double beta2_rad, double epsilon_rad,
                          double *beta_e_rad, double *fluctuation)
{
    if (!joint_bend_angle(beta1_rad) || !joint_bend_angle(beta2_rad) || !isfinite(epsilon_rad))
        return TRN_E_DOMAIN;
    double beta_e = equivalent_angle(beta1_rad, beta2_rad, epsilon_rad);
    *beta_e_rad = beta_e;
    *fluctuation = sin(beta_e) * tan(beta_e);
    return TRN_OK;
}

trn_status trn_joint_pair_phase(double beta1_rad, double beta2_rad, double epsilon_rad,
                                double *theta0_rad)
{
    if (!joint_bend_angle(beta1_rad) || !joint_bend_angle(beta2_rad) || !isfinite(epsilon_rad))
        return TRN_E_DOMAIN;
    /* |M u|^2 = const + (p - q)/2 cos 2 theta + m sin 2 theta is least where the output is
     * fastest; p, q, m are the elements of M'M of the two-joint product */
    double e = half_turn_error(epsilon_rad);
    double c1 = cos(beta1_rad);
    double s1 = sin(beta1_rad);
    double s2 = sin(beta2_rad);
    double in_line = sin(beta1_rad + beta2_rad) * sin(beta1_rad - beta2_rad);
    double q_less_p = cos(e) * cos(e) * in_line + sin(e) * sin(e) * (s1 * s1 + c1 * c1 * s2 * s2);
    double m = -c1 * s2 * s2 * sin(e) * cos(e);
    double theta0 = atan2(-2 * m, q_less_p) / 2;
    *theta0_rad = theta0 < 0 ? theta0 + JOINT_PI : theta0;
    return TRN_OK;
}

trn_status trn_joint_turn(double beta1_rad, double beta2_rad, double epsilon_rad,
                          double theta_rad, double *tube_ratio, double *out_ratio)
{
    double tube = 0;
    double phi = 0;
    double second = 0;
    if (!isfinite(epsilon_rad) || trn_joint_ratio(beta1_rad, theta_rad, &tube) < 0 ||
        trn_joint_output_angle(beta1_rad, theta_rad, &phi) < 0 ||
        trn_joint_ratio(beta2_rad, JOINT_RIGHT_ANGLE + phi + epsilon_rad, &second) < 0)
        return TRN_E_DOMAIN;
    *tube_ratio = tube;
    *out_ratio = tube * second;
    return TRN_OK;
}

trn_status trn_joint_chain(const double *beta_rad, const double *epsilon_rad, size_t n,
                           double *beta_e_rad, double *theta0_rad)
{
    if (n < 1)
        return TRN_E_DOMAIN;
    for (size_t i = 0; i < n; i++)
        if (!joint_bend_angle(beta_rad[i]) || (i + 1 < n && !isfinite(epsilon_rad[i])))
            return TRN_E_DOMAIN;
    double complex a = 1;
    double complex b = -joint_kappa(beta_rad[0]);
    for (size_t i = 1; i < n; i++) {
        double e = half_turn_error(epsilon_rad[i - 1]);
        double complex turn = cos(e) * I - sin(e); /* a quarter turn and the error */
        double kappa = joint_kappa(beta_rad[i]);
        double complex a_turned = turn * a;
        double complex b_turned = turn * b;
        a = a_turned - kappa * conj(b_turned);
        b = b_turned - kappa * conj(a_turned);
    }
    double theta0 = cabs(b) > 0 ? carg(-b * conj(a)) / 2 : 0;
    *beta_e_rad = 2 * atan(sqrt(cabs(b) / cabs(a)));
    *theta0_rad = theta0 < 0 ? theta0 + JOINT_PI : theta0;
    return TRN_OK;
}

/* ---- in space ------------------------------------------------------------------------------ */

static double dot(const double a[3], const double b[3])
{
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

static void cross(const double a[3], const double b[3], double out[3])
{
    out[0] = a[1] * b[2] - a[2] * b[1];
    out[1] = a[2] * b[0] - a[0] * b[2];
    out[2] = a[0] * b[1] - a[1] * b[0];
}

static double norm(const double a[3])
{
    return hypot(hypot(a[0], a[1]), a[2]);
}

static bool unit_vector(const double axis[3], double out[3])
{
    double length = norm(axis);
    if (!joint_positive(length))
        return false;
    for (int k = 0; k < 3; k++)
        out[k] = axis[k] / length;
    return true;
}

/* Angle between the two joint planes, half turns taken out, into (-pi/2, pi/2]. */
static double plane_angle(const double n12[3], const double n23[3], const double a2[3])
{
    double normal[3];
    cross(n12, n23, normal);
    double zeta = atan2(dot(normal, a2), dot(n12, n23));
    /* -pi/2 belongs to the other end; the slack keeps planes that stand square there */
    if (zeta <= -JOINT_RIGHT_ANGLE * (1 - 1e-12))
        zeta = fmin(zeta + JOINT_PI, JOINT_RIGHT_ANGLE);
    if (zeta > JOINT_RIGHT_ANGLE * (1 + 1e-12))
        zeta -= JOINT_PI;
    return fmin(zeta, JOINT_RIGHT_ANGLE);
}

trn_status trn_joint_pair_axes(const double axis1[3], const double axis2[3],
                               const double axis3[3], double offset_rad, trn_joint_space *space)
{
    static const double straight = 1e-9;
    double a1[3];
    double a2[3];
    double a3[3];
    if (!isfinite(offset_rad) || !unit_vector(axis1, a1) || !unit_vector(axis2, a2) ||
        !unit_vector(axis3, a3))
        return TRN_E_DOMAIN;
    double n12[3];
    double n23[3];
    cross(a1, a2, n12);
    cross(a2, a3, n23);
    double beta1 = atan2(norm(n12), dot(a1, a2));
    double beta2 = atan2(norm(n23), dot(a2, a3));
    if (!joint_computed_bend(beta1) || !joint_computed_bend(beta2))
        return TRN_E_DOMAIN;
    double zeta = 0;
    double beta_e = beta1 < straight ? beta2 : beta1;
    if (beta1 >= straight && beta2 >= straight) {
        zeta = plane_angle(n12, n23, a2);
        beta_e = equivalent_angle(beta1, beta2, offset_rad - zeta);
    }
    *space = (trn_joint_space){beta1, beta2, zeta, beta_e};
    return TRN_OK;
}

trn_status trn_joint_pair_space(double h1_rad, double v1_rad, double h2_rad, double v2_rad,
                                double h3_rad, double v3_rad, double offset_rad,
                                trn_joint_space *space)
{
    if (!joint_slope(h1_rad) || !joint_slope(v1_rad) || !joint_slope(h2_rad) ||
        !joint_slope(v2_rad) || !joint_slope(h3_rad) || !joint_slope(v3_rad))
        return TRN_E_DOMAIN;
    const double a1[3] = {1, tan(h1_rad), tan(v1_rad)};
    const double a2[3] = {1, tan(h2_rad), tan(v2_rad)};
    const double a3[3] = {1, tan(h3_rad), tan(v3_rad)};
    return trn_joint_pair_axes(a1, a2, a3, offset_rad, space);
}
