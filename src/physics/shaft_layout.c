/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the joints of a shaft stand: hitch, drawbar, wing, linkage, in a plane and in space. */
#include <trunnion/shaft.h>

#include "joint_guard.h"

static bool turn(double angle_rad)
{
    return fabs(angle_rad) < JOINT_PI;
}

/* beta1 and beta2 signed, of one plane with the yokes in line. */
static trn_status lay_out(double x_m, double z_m, double beta1, double beta2,
                          trn_shaft_layout *layout)
{
    double beta_e = 0;
    double fluctuation = 0;
    if (!joint_computed_bend(beta1) || !joint_computed_bend(beta2) ||
        trn_joint_pair(fabs(beta1), fabs(beta2), 0, &beta_e, &fluctuation) < 0)
        return TRN_E_DOMAIN;
    double length = hypot(x_m, z_m);
    if (!joint_positive(length))
        return TRN_E_DOMAIN;
    *layout = (trn_shaft_layout){length, beta1, beta2, beta_e};
    return TRN_OK;
}

trn_status trn_shaft_hitch(double x_m, double z_m, double pitch_rad, trn_shaft_layout *layout)
{
    if (!joint_positive(x_m) || !isfinite(z_m) || !joint_slope(pitch_rad))
        return TRN_E_DOMAIN;
    double beta1 = atan2(z_m, x_m);
    return lay_out(x_m, z_m, beta1, beta1 - pitch_rad, layout);
}

trn_status trn_shaft_drawbar(double x_m, double y_m, double psi_rad, trn_shaft_layout *layout)
{
    if (!joint_positive(x_m) || !joint_positive(y_m) || !turn(psi_rad))
        return TRN_E_DOMAIN;
    double along = x_m + y_m * cos(psi_rad);
    double across = y_m * sin(psi_rad);
    double beta1 = atan2(across, along);
    return lay_out(along, across, beta1, psi_rad - beta1, layout);
}

trn_status trn_shaft_wing(double a_m, double h1_m, double b_m, double h2_m, double tau_rad,
                          trn_shaft_layout *layout)
{
    if (!joint_positive(a_m) || !joint_positive(b_m) || !isfinite(h1_m) || !isfinite(h2_m) ||
        !turn(tau_rad))
        return TRN_E_DOMAIN;
    double x = a_m + b_m * cos(tau_rad) - h2_m * sin(tau_rad);
    double z = b_m * sin(tau_rad) + h2_m * cos(tau_rad) - h1_m;
    double beta1 = atan2(z, x);
    return lay_out(x, z, beta1, tau_rad - beta1, layout);
}

/* Upper of the two points at distances `mast` from A and `top` from the upper pivot, as seen
 * from A; (ux, uz) leads from A to the upper pivot. */
static bool mast_top(double ux, double uz, double mast, double top, double *bx, double *bz)
{
    double distance = hypot(ux, uz);
    if (!joint_positive(distance))
        return false;
    double along = (distance * distance + (mast - top) * (mast + top)) / (2 * distance);
    double square = (mast - along) * (mast + along);
    if (!(square >= -1e-12 * mast * mast)) /* stretched links just meet */
        return false;
    double across = sqrt(fmax(square, 0));
    double side = ux < 0 ? -1 : 1; /* normal with a z component that is not negative */
    *bx = (along * ux - side * across * uz) / distance;
    *bz = (along * uz + side * across * ux) / distance;
    return true;
}

trn_status trn_shaft_linkage(trn_shaft_four_bar linkage, double *pitch_rad,
                             trn_shaft_layout *layout)
{
    const trn_shaft_four_bar *k = &linkage;
    if (!joint_positive(k->lower_link_m) || !joint_positive(k->upper_link_m) ||
        !joint_positive(k->mast_m) || !isfinite(k->link_angle_rad))
        return TRN_E_DOMAIN;
    double ax = k->lower_x_m + k->lower_link_m * cos(k->link_angle_rad);
    double az = k->lower_z_m + k->lower_link_m * sin(k->link_angle_rad);
    double bx = 0;
    double bz = 0;
    if (!mast_top(k->upper_x_m - ax, k->upper_z_m - az, k->mast_m, k->upper_link_m, &bx, &bz))
        return TRN_E_DOMAIN;
    double pitch = atan2(-bx, bz);
    double d = k->input_d_m;
    double e = k->input_e_m;
    double x = ax + d * cos(pitch) - e * sin(pitch) - k->joint_x_m;
    double z = az + d * sin(pitch) + e * cos(pitch) - k->joint_z_m;
    trn_status status = trn_shaft_hitch(x, z, pitch, layout);
    if (status >= 0)
        *pitch_rad = pitch;
    return status;
}

/* ---- in space ------------------------------------------------------------------------------ */

trn_status trn_shaft_attitude(double yaw_rad, double pitch_rad, double roll_rad,
                              double rotation[9])
{
    if (!turn(yaw_rad) || !joint_slope(pitch_rad) || !turn(roll_rad))
        return TRN_E_DOMAIN;
    double cy = cos(yaw_rad);
    double sy = sin(yaw_rad);
    double cp = cos(pitch_rad);
    double sp = sin(pitch_rad);
    double cr = cos(roll_rad);
    double sr = sin(roll_rad);
    const double r[9] = {
        cy * cp, -sy * cr - cy * sp * sr, sy * sr - cy * sp * cr,
        sy * cp, cy * cr - sy * sp * sr,  -cy * sr - sy * sp * cr,
        sp,      cp * sr,                 cp * cr,
    };
    for (int i = 0; i < 9; i++)
        rotation[i] = r[i];
    return TRN_OK;
}

trn_status trn_shaft_between(const double point1_m[3], const double axis1[3],
                             const double point2_m[3], const double axis3[3], double offset_rad,
                             double *length_m, trn_joint_space *space)
{
    double tube[3];
    for (int k = 0; k < 3; k++)
        tube[k] = point2_m[k] - point1_m[k];
    trn_status status = trn_joint_pair_axes(axis1, tube, axis3, offset_rad, space);
    if (status >= 0)
        *length_m = hypot(hypot(tube[0], tube[1]), tube[2]);
    return status;
}

static const double origin[3] = {0, 0, 0};
static const double straight_back[3] = {1, 0, 0};

/* Machine turned about `pivot`; joint 2 at (along, 0, up) from the pivot when level. */
static trn_status turned_machine(const double pivot[3], double along, double up,
                                 const double rotation[9], double offset_rad, double *length_m,
                                 trn_joint_space *space)
{
    double point2[3];
    double axis3[3];
    for (int k = 0; k < 3; k++) {
        axis3[k] = rotation[3 * k];
        point2[k] = pivot[k] + rotation[3 * k] * along + rotation[3 * k + 2] * up;
    }
    return trn_shaft_between(origin, straight_back, point2, axis3, offset_rad, length_m, space);
}

trn_status trn_shaft_hitch_space(const double hitch_point_m[3], double d_m, double e_m,
                                 double yaw_rad, double pitch_rad, double roll_rad,
                                 double offset_rad, double *length_m, trn_joint_space *space)
{
    double rotation[9];
    trn_status status = trn_shaft_attitude(yaw_rad, pitch_rad, roll_rad, rotation);
    if (status < 0)
        return status;
    return turned_machine(hitch_point_m, d_m, e_m, rotation, offset_rad, length_m, space);
}

trn_status trn_shaft_drawbar_space(double x_m, double d1_m, double y_m, double d2_m,
                                   double yaw_rad, double pitch_rad, double roll_rad,
                                   double offset_rad, double *length_m, trn_joint_space *space)
{
    double rotation[9];
    if (!joint_positive(x_m) || !joint_positive(y_m))
        return TRN_E_DOMAIN;
    trn_status status = trn_shaft_attitude(yaw_rad, pitch_rad, roll_rad, rotation);
    if (status < 0)
        return status;
    const double pin[3] = {x_m, 0, -d1_m};
    return turned_machine(pin, y_m, d2_m, rotation, offset_rad, length_m, space);
}

trn_status trn_shaft_wing_space(double a_m, double c1_m, double h1_m, double b_m, double c2_m,
                                double h2_m, double tau_rad, double offset_rad,
                                double *length_m, trn_joint_space *space)
{
    if (!joint_positive(a_m) || !joint_positive(b_m) || !turn(tau_rad))
        return TRN_E_DOMAIN;
    double c = cos(tau_rad);
    double s = sin(tau_rad);
    const double point1[3] = {-a_m, c1_m, h1_m};
    const double point2[3] = {c * b_m - s * h2_m, c2_m, s * b_m + c * h2_m};
    const double axis3[3] = {c, 0, s};
    return trn_shaft_between(point1, straight_back, point2, axis3, offset_rad, length_m, space);
}
