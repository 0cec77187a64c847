/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tube and profile of a PTO shaft: torque, bending frequency, torsion, inertia, fit, thrust. */
#include <trunnion/shaft.h>

#include "joint_guard.h"

static bool tube(double outside_m, double inside_m, double length_m)
{
    return joint_positive(outside_m) && inside_m >= 0 && inside_m < outside_m &&
           joint_positive(length_m);
}

trn_status trn_shaft_torque(double power_w, double omega_rad_s, double *torque_nm)
{
    if (!joint_not_negative(power_w) || !joint_positive(omega_rad_s))
        return TRN_E_DOMAIN;
    *torque_nm = power_w / omega_rad_s;
    return TRN_OK;
}

trn_status trn_shaft_critical_speed(double outside_m, double inside_m, double length_m,
                                    double modulus_pa, double density_kg_m3,
                                    double *omega_c_rad_s)
{
    if (!tube(outside_m, inside_m, length_m) || !joint_positive(modulus_pa) ||
        !joint_positive(density_kg_m3))
        return TRN_E_DOMAIN;
    double wave = JOINT_PI / length_m;
    *omega_c_rad_s = wave * wave * sqrt(modulus_pa / density_kg_m3) *
                     hypot(outside_m, inside_m) / 4; /* ShaftV1 table 1 */
    return TRN_OK;
}

trn_status trn_shaft_torsion(double torque_nm, double outside_m, double inside_m,
                             double length_m, double shear_pa, double *tau_pa,
                             double *twist_rad, double *stiffness_nm_rad)
{
    if (!joint_not_negative(torque_nm) || !tube(outside_m, inside_m, length_m) ||
        !joint_positive(shear_pa))
        return TRN_E_DOMAIN;
    /* D^4 - d^4 as a product: the difference of powers loses the digits of a thin wall */
    double fourth = (outside_m - inside_m) * (outside_m + inside_m) *
                    (outside_m * outside_m + inside_m * inside_m);
    double k = shear_pa * JOINT_PI * fourth / (32 * length_m);
    *tau_pa = 16 * torque_nm * outside_m / (JOINT_PI * fourth); /* ShaftP1 ch. 6 */
    *twist_rad = torque_nm / k;
    *stiffness_nm_rad = k;
    return TRN_OK;
}

trn_status trn_shaft_profile_torsion(double torque_nm, double area_m2, double perimeter_m,
                                     double wall_m, double length_m, double shear_pa,
                                     double *tau_pa, double *twist_rad,
                                     double *stiffness_nm_rad)
{
    if (!joint_not_negative(torque_nm) || !joint_positive(area_m2) ||
        !joint_positive(perimeter_m) || !joint_positive(wall_m) || !joint_positive(length_m) ||
        !joint_positive(shear_pa))
        return TRN_E_DOMAIN;
    double k = 4 * area_m2 * area_m2 * shear_pa * wall_m / (perimeter_m * length_m);
    *tau_pa = torque_nm / (2 * area_m2 * wall_m);
    *twist_rad = torque_nm / k;
    *stiffness_nm_rad = k;
    return TRN_OK;
}

trn_status trn_shaft_inertia(double outside_m, double inside_m, double length_m,
                             double density_kg_m3, double *mass_kg, double *inertia_kg_m2)
{
    if (!tube(outside_m, inside_m, length_m) || !joint_positive(density_kg_m3))
        return TRN_E_DOMAIN;
    double m = density_kg_m3 * JOINT_PI * (outside_m - inside_m) * (outside_m + inside_m) *
               length_m / 4;
    *mass_kg = m;
    *inertia_kg_m2 = m * (outside_m * outside_m + inside_m * inside_m) / 8;
    return TRN_OK;
}

trn_status trn_shaft_fit(double length_closed_m, double overlap_closed_m, double length_min_m,
                         double length_max_m, double clearance_needed_m,
                         double overlap_needed_m, double *clearance_m, double *overlap_m,
                         bool *fits)
{
    static const double slack_m = 1e-9;           /* mm to m and back loses the last digits */
    static const double least_overlap_m = 0.150;  /* JointPractice */
    if (!joint_positive(length_closed_m) || !joint_positive(overlap_closed_m) ||
        !joint_positive(length_min_m) || !joint_positive(length_max_m) ||
        length_max_m < length_min_m - slack_m || overlap_closed_m > length_closed_m + slack_m ||
        !joint_not_negative(clearance_needed_m) || !joint_not_negative(overlap_needed_m))
        return TRN_E_DOMAIN;
    double clearance = length_min_m - length_closed_m;
    double overlap = overlap_closed_m - (length_max_m - length_closed_m);
    *clearance_m = clearance;
    *overlap_m = overlap;
    *fits = clearance >= clearance_needed_m - slack_m && overlap >= overlap_needed_m - slack_m;
    if (clearance <= slack_m)
        return TRN_R_SHAFT_BOTTOMS;
    if (overlap <= slack_m)
        return TRN_R_SHAFT_PARTS;
    return overlap < least_overlap_m - slack_m ? TRN_R_SHAFT_SHORT_OVERLAP : TRN_OK;
}

trn_status trn_shaft_telescoping_thrust(double torque_nm, double mu, double radius_m,
                                        double *thrust_n)
{
    if (!joint_not_negative(torque_nm) || !joint_not_negative(mu) || !joint_positive(radius_m))
        return TRN_E_DOMAIN;
    *thrust_n = mu * torque_nm / radius_m;
    return TRN_OK;
}

trn_status trn_shaft_input_torque(double torque_nm, double inertia_kg_m2, double omega_rad_s,
                                  double beta1_rad, double beta2_rad, double epsilon_rad,
                                  double theta_rad, double *input_nm)
{
    double tube_ratio = 0;
    double out_ratio = 0;
    double alpha = 0;
    if (!joint_not_negative(torque_nm) || !joint_not_negative(inertia_kg_m2) ||
        trn_joint_turn(beta1_rad, beta2_rad, epsilon_rad, theta_rad, &tube_ratio, &out_ratio) <
            0 ||
        trn_joint_acceleration(beta1_rad, theta_rad, omega_rad_s, &alpha) < 0)
        return TRN_E_DOMAIN;
    *input_nm = torque_nm * out_ratio + inertia_kg_m2 * alpha * tube_ratio;
    return TRN_OK;
}
