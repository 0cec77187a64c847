/* SPDX-License-Identifier: GPL-3.0-or-later */
/* PTO shafts: layouts, telescoping length, tube, torsional ripple.
 *
 * Conventions as in trunnion/joint.h; x along the power flow, z up, y to the left along the power
 * flow. Sources by key: the source tables of the catalogue (src/formula/joint.c, shaft.c). */
#ifndef TRUNNION_SHAFT_H
#define TRUNNION_SHAFT_H

#include <stdbool.h>
#include <trunnion/joint.h>
#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ---- tube and profile (src/physics/shaft.c) ------------------------------------------------ */

/* Torque of a shaft, T = P/omega.
 *
 * Given:    power_w >= 0; omega_rad_s > 0
 * Returned: torque_nm
 * Status:   TRN_E_DOMAIN
 * Source:   definition of power
 * Standing: derived
 * Checked by tests/shaft.c */
trn_status trn_shaft_torque(double power_w, double omega_rad_s, double *torque_nm);

/* First bending frequency of a tube on pinned ends.
 *
 *   omega_c = (pi/L)^2 sqrt(E/rho) sqrt(D^2 + d^2)/4
 *
 * Given:    outside_m D > 0; inside_m 0 <= d < D; length_m > 0 (between the joint centres);
 *           modulus_pa > 0; density_kg_m3 > 0
 * Returned: omega_c_rad_s  as a speed of rotation
 * Status:   TRN_E_DOMAIN
 * Valid for uniform tubes without shear and rotary inertia; two telescoped tubes run lower.
 * Source:   beam frequency table [ShaftV1 (table 1)]
 * Standing: published
 * Checked by tests/published/joint.csv, tests/shaft.c */
trn_status trn_shaft_critical_speed(double outside_m, double inside_m, double length_m,
                                    double modulus_pa, double density_kg_m3,
                                    double *omega_c_rad_s);

/* Torsion of a round tube.
 *
 *   tau = 16 T D/(pi (D^4 - d^4)),  k = G pi (D^4 - d^4)/(32 L),  twist = T/k
 *
 * Given:    torque_nm >= 0; outside_m, inside_m, length_m as above; shear_pa > 0
 * Returned: tau_pa, twist_rad, stiffness_nm_rad
 * Status:   TRN_E_DOMAIN
 * Valid for round tubes in the elastic range.
 * Source:   any text; worked examples [ShaftP1 (ch. 6, 15)]
 * Standing: published
 * Checked by tests/published/joint.csv, tests/shaft.c */
trn_status trn_shaft_torsion(double torque_nm, double outside_m, double inside_m,
                             double length_m, double shear_pa, double *tau_pa,
                             double *twist_rad, double *stiffness_nm_rad);

/* Torsion of a thin closed profile that is not round (Bredt).
 *
 *   tau = T/(2 A_m t),  k = 4 A_m^2 G t/(s L),  twist = T/k
 *
 * Given:    torque_nm >= 0; area_m2 inside the middle line, > 0; perimeter_m length of the middle
 *           line, > 0; wall_m > 0; length_m > 0; shear_pa > 0
 * Returned: tau_pa, twist_rad, stiffness_nm_rad
 * Status:   TRN_E_DOMAIN
 * Valid for walls that are thin against the profile: a round 50/42 tube comes out 7 % too low.
 * Source:   thin-walled torsion
 * Standing: derived
 * Checked by tests/shaft.c */
trn_status trn_shaft_profile_torsion(double torque_nm, double area_m2, double perimeter_m,
                                     double wall_m, double length_m, double shear_pa,
                                     double *tau_pa, double *twist_rad,
                                     double *stiffness_nm_rad);

/* Mass and polar inertia of a tube.
 *
 *   m = rho pi (D^2 - d^2) L/4,  J = m (D^2 + d^2)/8
 *
 * Given:    outside_m, inside_m, length_m, density_kg_m3 as above
 * Returned: mass_kg, inertia_kg_m2
 * Status:   TRN_E_DOMAIN
 * Source:   geometry
 * Standing: derived
 * Checked by tests/published/joint.csv, tests/shaft.c */
trn_status trn_shaft_inertia(double outside_m, double inside_m, double length_m,
                             double density_kg_m3, double *mass_kg, double *inertia_kg_m2);

/* Clearance and overlap of a telescoping shaft.
 *
 *   clearance = length_min - length_closed
 *   overlap   = overlap_closed - (length_max - length_closed)
 *
 * Given:    length_closed_m   joint to joint, fully telescoped, > 0
 *           overlap_closed_m  overlap of the tubes then, > 0, not above length_closed
 *           length_min_m      of all positions, > 0
 *           length_max_m      of those in which it turns, >= length_min
 *           clearance_needed_m, overlap_needed_m  >= 0 (practice: 50 mm, a third of the tube)
 * Returned: clearance_m, overlap_m (below 0 too); fits: both bounds met, within 1e-6 mm
 * Status:   TRN_E_DOMAIN; TRN_R_SHAFT_BOTTOMS (clearance <= 0), TRN_R_SHAFT_PARTS (overlap <= 0),
 *           TRN_R_SHAFT_SHORT_OVERLAP (below 150 mm)
 * Source:   geometry; bounds [JointPractice]
 * Standing: derived, bounds practice
 * Checked by tests/published/joint.csv, tests/shaft.c */
trn_status trn_shaft_fit(double length_closed_m, double overlap_closed_m, double length_min_m,
                         double length_max_m, double clearance_needed_m,
                         double overlap_needed_m, double *clearance_m, double *overlap_m,
                         bool *fits);

/* Thrust of the profile while the length changes under torque, F = mu T/r_m, either way.
 *
 * Given:    torque_nm >= 0; mu >= 0; radius_m mean radius of the flanks that carry, > 0
 * Returned: thrust_n
 * Status:   TRN_E_DOMAIN
 * Valid for radial flanks; lemon and lobed profiles press harder: take the smaller effective
 *           radius.
 * Source:   friction at the flanks
 * Standing: derived
 * Checked by tests/published/joint.csv, tests/shaft.c */
trn_status trn_shaft_telescoping_thrust(double torque_nm, double mu, double radius_m,
                                        double *thrust_n);

/* Torque at the driving end under a steady driven torque, with the tube's own inertia.
 *
 *   T1 = T3 omega3/omega1 + J_tube alpha_tube omega2/omega1
 *
 * Given:    torque_nm >= 0 (driven, steady); inertia_kg_m2 >= 0 of the tube;
 *           omega_rad_s >= 0; beta1_rad, beta2_rad, epsilon_rad, theta_rad as trn_joint_turn
 * Returned: input_nm
 * Status:   TRN_E_DOMAIN
 * Source:   balance of power at the tube
 * Standing: derived
 * Checked by tests/shaft.c */
trn_status trn_shaft_input_torque(double torque_nm, double inertia_kg_m2, double omega_rad_s,
                                  double beta1_rad, double beta2_rad, double epsilon_rad,
                                  double theta_rad, double *input_nm);

/* ---- torsional ripple (src/physics/shaft_ripple.c) ----------------------------------------- */

/* Two inertias with the shaft's stiffness between them, referred to the shaft's speed. */
typedef struct trn_shaft_line {
    double torque_nm;            /* mean, > 0 */
    double omega_rad_s;          /* >= 0 */
    double beta_e_rad;           /* equivalent single joint, 0 <= beta_e < pi/2 */
    double stiffness_nm_rad;     /* tube, profile and axles in series, > 0 */
    double inertia_driven_kg_m2; /* > 0 */
    double inertia_driving_kg_m2;/* > 0; 1e6 = as good as held */
    double damping;              /* ratio zeta of the relative motion, >= 0 */
} trn_shaft_line;

typedef struct trn_shaft_ripple {
    double amplitude_nm;           /* of the torque, spring and damper together */
    double share;                  /* amplitude over mean torque */
    double frequency_ratio;        /* excitation over natural frequency */
    double omega_resonance_rad_s;  /* shaft speed at which the two meet */
} trn_shaft_ripple;

/* Torque ripple of the second harmonic of the angle error.
 *
 *   w = 2 omega, w_n = sqrt(k/J_r), J_r = J1 J2/(J1 + J2), r = w/w_n, kappa = tan^2(beta_e/2)
 *   amplitude = k kappa r^2 sqrt((1 + (2 zeta r)^2)/((1 - r^2)^2 + (2 zeta r)^2))
 *
 * Given:    line
 * Returned: ripple
 * Status:   TRN_E_DOMAIN, also for zeta = 0 at r = 1 (within 1e-9);
 *           TRN_R_SHAFT_TORQUE_REVERSES (share above 1), TRN_R_SHAFT_RESONANCE (0.8 < r < 1.25)
 * Valid for linear torsion, one shaft; backlash, clutches that overrun and parametric excitation
 *           are not in it.
 * Source:   model of two inertias [ShaftD1]
 * Standing: derived, model published
 * Checked by tests/published/joint.csv, tests/shaft.c (time solution) */
trn_status trn_shaft_ripple_of(trn_shaft_line line, trn_shaft_ripple *ripple);

/* Torque at a turn of the driving shaft.
 *
 *   T_s = T - k kappa r^2 |H| sin(2 (theta - theta0) + arg H),
 *   H = (1 + 2 i zeta r)/(1 - r^2 + 2 i zeta r)
 *
 * Given:    line; theta_rad any; theta0_rad turn at which the output is fastest, any
 *           (trn_joint_pair_phase)
 * Returned: torque_nm
 * Status:   as trn_shaft_ripple_of
 * Source:   as trn_shaft_ripple_of
 * Standing: derived
 * Checked by tests/shaft.c (time solution) */
trn_status trn_shaft_torque_wave(trn_shaft_line line, double theta_rad, double theta0_rad,
                                 double *torque_nm);

/* Load factor of a ripple: p-mean of the load over a turn.
 *
 *   K = [mean over a turn of |1 + rho cos x|^p]^(1/p)
 *
 * Given:    rho  amplitude over mean, >= 0 (above 1 the load reverses)
 *           p    load-life exponent, 1 <= p <= 100
 * Returned: factor
 * Status:   TRN_E_DOMAIN, TRN_E_CONVERGE
 * Source:   linear damage over a turn; Legendre's integral for the mean
 * Standing: derived
 * Checked by tests/shaft.c (quadrature) */
trn_status trn_shaft_ripple_factor(double rho, double p, double *factor);

/* ---- layouts (src/physics/shaft_layout.c) -------------------------------------------------- */

typedef struct trn_shaft_layout {
    double length_m;             /* between the joint centres */
    double beta1_rad, beta2_rad; /* signed */
    double beta_e_rad;           /* yokes of the tube in line */
} trn_shaft_layout;

/* Three-point hitch: joint 2 at (x, z) from joint 1, driven axis pitched up rearward.
 *
 *   L = hypot(x, z),  beta1 = atan2(z, x),  beta2 = beta1 - pitch     (equal signs: Z)
 *
 * Given:    x_m > 0 (rearward); z_m any (up); pitch_rad between -pi/2 and pi/2
 * Returned: layout  slopes of the tube against each axis
 * Status:   TRN_E_DOMAIN, also where a joint reaches 90 deg
 * Source:   plane geometry
 * Standing: derived
 * Checked by tests/published/joint.csv, tests/shaft_layout.c */
trn_status trn_shaft_hitch(double x_m, double z_m, double pitch_rad, trn_shaft_layout *layout);

/* Drawbar: hitch pin x behind joint 1 and y before joint 2, turned by psi.
 *
 *   beta1 = atan2(y sin psi, x + y cos psi),  beta2 = psi - beta1     (always W)
 *
 * Given:    x_m > 0; y_m > 0; psi_rad between -pi and pi
 * Returned: layout  shares of the turn
 * Status:   TRN_E_DOMAIN, also where a joint reaches 90 deg
 * Source:   plane geometry
 * Standing: derived
 * Checked by tests/published/joint.csv, tests/shaft_layout.c */
trn_status trn_shaft_drawbar(double x_m, double y_m, double psi_rad, trn_shaft_layout *layout);

/* Wing: hinge at the origin, joint 1 at (-a, h1), joint 2 at (b, h2) when level, turned by tau.
 *
 *   X = a + b cos tau - h2 sin tau,  Z = b sin tau + h2 cos tau - h1
 *   L = hypot(X, Z),  beta1 = atan2(Z, X),  beta2 = tau - beta1       (same sign: W)
 *
 * Given:    a_m, b_m > 0; h1_m, h2_m any (above the hinge); tau_rad between -pi and pi, up +
 * Returned: layout  shares of the tilt
 * Status:   TRN_E_DOMAIN, also where a joint reaches 90 deg
 * Source:   plane geometry
 * Standing: derived
 * Checked by tests/published/joint.csv, tests/shaft_layout.c */
trn_status trn_shaft_wing(double a_m, double h1_m, double b_m, double h2_m, double tau_rad,
                          trn_shaft_layout *layout);

/* Four-bar linkage of a three-point hitch, in the plane of the tractor. */
typedef struct trn_shaft_four_bar {
    double lower_x_m, lower_z_m, lower_link_m; /* lower pivot on the tractor, length to point A */
    double upper_x_m, upper_z_m, upper_link_m; /* upper pivot on the tractor, top-link length */
    double mast_m;                             /* A to the mast top of the machine */
    double joint_x_m, joint_z_m;               /* joint 1 */
    double input_d_m, input_e_m;               /* joint 2 behind and above A, level machine */
    double link_angle_rad;                     /* lower links against the level, up + */
} trn_shaft_four_bar;

/* Pitch of the machine on its linkage, and the shaft between.
 *
 *   A = lower pivot + l (cos q, sin q);  B = upper intersection of the circles (A, mast) and
 *   (upper pivot, top link);  pitch = atan2(-(B_x - A_x), B_z - A_z);
 *   joint 2 = A + (d cos p - e sin p, d sin p + e cos p);  then trn_shaft_hitch
 *
 * Given:    linkage  links and mast > 0, the rest any
 * Returned: pitch_rad, layout
 * Status:   TRN_E_DOMAIN, also where the links do not close or a joint reaches 90 deg
 * Source:   plane geometry
 * Standing: derived
 * Checked by tests/shaft_layout.c */
trn_status trn_shaft_linkage(trn_shaft_four_bar linkage, double *pitch_rad,
                             trn_shaft_layout *layout);

/* Rotation of a machine, R = Rz(yaw) Ry(-pitch) Rx(roll), right-handed about z, y, x; row by row.
 * Given:    yaw_rad, roll_rad between -pi and pi; pitch_rad between -pi/2 and pi/2
 * Status:   TRN_E_DOMAIN
 * Checked by tests/shaft_layout.c
 * Returned: rotation, pure. Source: rotation matrices. Standing: derived. */
trn_status trn_shaft_attitude(double yaw_rad, double pitch_rad, double roll_rad,
                              double rotation[9]);

/* Shaft between two joints in space: L = |p2 - p1|, then trn_joint_pair_axes.
 *
 * Given:    point1_m, axis1   joint 1 and the direction of its driving axis along the power flow
 *           point2_m, axis3   joint 2 and the direction of its driven axis
 *           offset_rad        of the tube's second yoke (trn_joint_pair_space), any
 * Returned: length_m, space
 * Status:   TRN_E_DOMAIN, also where a joint is bent by 90 deg or more
 * Source:   geometry
 * Standing: derived
 * Checked by tests/shaft_layout.c */
trn_status trn_shaft_between(const double point1_m[3], const double axis1[3],
                             const double point2_m[3], const double axis3[3], double offset_rad,
                             double *length_m, trn_joint_space *space);

/* The three layouts with several angles at once; joint 1 of hitch and drawbar at the origin.
 *
 *   hitch     p2 = A + R (d, 0, e)
 *   drawbar   p2 = (x, 0, -d1) + R (y, 0, d2)    d1: PTO above the pin, d2: joint 2 above it
 *   wing      p1 = (-a, c1, h1), p2 = Ry(-tau) (b, c2, h2)     c: along the hinge
 *
 * Given:    hitch_point_m[3]  A from joint 1;  d_m, e_m  joint 2 behind and above A when level
 *           x_m, y_m, a_m, b_m > 0; angles as trn_shaft_attitude, tau between -pi and pi
 * Returned: length_m, space
 * Status:   TRN_E_DOMAIN
 * Source:   geometry
 * Standing: derived
 * Checked by tests/shaft_layout.c */
trn_status trn_shaft_hitch_space(const double hitch_point_m[3], double d_m, double e_m,
                                 double yaw_rad, double pitch_rad, double roll_rad,
                                 double offset_rad, double *length_m, trn_joint_space *space);
/* Drawbar: yaw is the turn between tractor and machine. Given, Returned, Status: as above.
 * Standing: derived. Checked by tests/shaft_layout.c */
trn_status trn_shaft_drawbar_space(double x_m, double d1_m, double y_m, double d2_m,
                                   double yaw_rad, double pitch_rad, double roll_rad,
                                   double offset_rad, double *length_m, trn_joint_space *space);
/* Wing: tau_rad is the tilt about the hinge, up positive. Given, Returned, Status: as above.
 * Standing: derived. Checked by tests/shaft_layout.c */
trn_status trn_shaft_wing_space(double a_m, double c1_m, double h1_m, double b_m, double c2_m,
                                double h2_m, double tau_rad, double offset_rad,
                                double *length_m, trn_joint_space *space);

#ifdef __cplusplus
}
#endif
#endif
