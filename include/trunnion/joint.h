/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Universal joints: motion, equivalent joint of a pair, couples, life of the cross, heat.
 *
 * Conventions. beta is the angle between two axes, 0 = straight. theta is the turn of the driving
 * shaft, 0 where its yoke lies in the plane of both axes. Axes in space: x along the power flow,
 * z up, y = z cross x (to the left along the power flow). Sources by key: the source table of the
 * catalogue (src/formula/joint.c). */
#ifndef TRUNNION_JOINT_H
#define TRUNNION_JOINT_H

#include <stdbool.h>
#include <stddef.h>
#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ---- one joint (src/physics/joint.c) ------------------------------------------------------- */

/* Speed ratio of one universal joint at a turn of its driving shaft.
 *
 *   r = cos beta / (1 - sin^2 beta cos^2 theta)
 *
 * Given:    beta_rad   angle between the two axes, 0 <= beta < pi/2
 *           theta_rad  turn of the driving shaft, any; 0 where the driving yoke lies in the
 *                      plane of both axes
 * Returned: ratio      speed of the driven over speed of the driving shaft
 * Status:   TRN_E_DOMAIN
 * Valid for rigid shafts that meet in one point.
 * Source:   encyclopaedia article on the universal joint, equation of motion [JointE1]
 * Standing: published
 * Checked by tests/published/joint.csv, tests/joint.c */
trn_status trn_joint_ratio(double beta_rad, double theta_rad, double *ratio);

/* Turn of the driven shaft, continuous over any number of turns.
 *
 *   phi = theta + atan2(kappa sin 2 theta, 1 - kappa cos 2 theta),  kappa = tan^2(beta/2)
 *
 * Given:    beta_rad   0 <= beta < pi/2
 *           theta_rad  any
 * Returned: phi_rad    0 at theta = 0, a whole turn at a whole turn
 * Status:   TRN_E_DOMAIN
 * Valid for as trn_joint_ratio.
 * Source:   tan phi = tan theta/cos beta [JointE1]; the continuous form follows from it
 * Standing: published; continuous form derived
 * Checked by tests/published/joint.csv, tests/joint.c */
trn_status trn_joint_output_angle(double beta_rad, double theta_rad, double *phi_rad);

/* Acceleration of the driven shaft while the driving shaft turns steadily.
 *
 *   alpha = -omega^2 cos beta sin^2 beta sin 2 theta / (1 - sin^2 beta cos^2 theta)^2
 *
 * Given:    beta_rad     0 <= beta < pi/2
 *           theta_rad    any
 *           omega_rad_s  speed of the driving shaft, >= 0
 * Returned: alpha_rad_s2 negative while the driven shaft slows (0 < theta < pi/2)
 * Status:   TRN_E_DOMAIN
 * Valid for as trn_joint_ratio.
 * Source:   the speed ratio differentiated
 * Standing: derived
 * Checked by tests/published/joint.csv, tests/joint.c (numerical derivative of the ratio) */
trn_status trn_joint_acceleration(double beta_rad, double theta_rad, double omega_rad_s,
                                  double *alpha_rad_s2);

typedef struct trn_joint_swing {
    double ratio_max;       /* 1/cos beta, at theta = 0 and 180 deg */
    double ratio_min;       /* cos beta, at 90 and 270 deg */
    double fluctuation;     /* (max - min)/mean, a fraction */
    double angle_error_rad; /* largest phi - theta */
    double omega_max_rad_s, omega_min_rad_s;
} trn_joint_swing;

/* Extremes over a turn.
 *
 *   ratio_max = 1/cos beta, ratio_min = cos beta, U = sin beta tan beta,
 *   angle_error = arcsin tan^2(beta/2) = atan2(sin^2(beta/2), sqrt(cos beta))
 *
 * Given:    beta_rad     0 <= beta < pi/2
 *           omega_rad_s  speed of the driving shaft, >= 0
 * Returned: swing
 * Status:   TRN_E_DOMAIN
 * Valid for as trn_joint_ratio.
 * Source:   ratio at theta = 0 and 90 deg [JointE3]; the rest follows from the ratio
 * Standing: extremes published, angle error derived
 * Checked by tests/published/joint.csv, tests/joint.c */
trn_status trn_joint_fluctuation(double beta_rad, double omega_rad_s, trn_joint_swing *swing);

/* Largest acceleration of the driven shaft over a turn, exact.
 *
 *   s = sin^2 beta, A = 1 - s/2, D = A + sqrt(A^2 + 2 s^2), cos 2 theta = 2 s/D
 *   alpha = omega^2 F,  F = tan^2 beta sqrt(2/D) ((D + s)/(D + 2 s))^(3/2)
 *
 * which is the acceleration at that theta with the cancellations near 0 and 90 deg removed.
 *
 * Given:    beta_rad     0 <= beta < pi/2
 *           omega_rad_s  >= 0
 * Returned: alpha_rad_s2 largest magnitude, >= 0
 *           theta_rad    where it slows most, 0 < theta <= pi/4 (pi/4 for a straight joint)
 * Status:   TRN_E_DOMAIN
 * Valid for as trn_joint_ratio.
 * Source:   stationary point of the acceleration (the textbook's 2 s/(2 - s) [JointT1] is not it)
 * Standing: derived
 * Checked by tests/published/joint.csv, tests/joint.c (minimum search) */
trn_status trn_joint_peak_acceleration(double beta_rad, double omega_rad_s, double *alpha_rad_s2,
                                       double *theta_rad);

/* Angle whose fluctuation is U.
 *
 *   cos beta = 1/(u/2 + sqrt(u^2/4 + 1)),  beta = atan2(sqrt(u cos beta), cos beta)
 *
 * Given:    fluctuation  (max - min)/mean, a fraction, >= 0
 * Returned: beta_rad
 * Status:   TRN_E_DOMAIN
 * Source:   1/cos beta - cos beta = U solved
 * Standing: derived
 * Checked by tests/published/joint.csv, tests/joint.c (round trip) */
trn_status trn_joint_angle_for_fluctuation(double fluctuation, double *beta_rad);

/* Angle whose peak acceleration is alpha: the root of omega^2 F(beta) = alpha.
 *
 * Given:    omega_rad_s   > 0
 *           alpha_rad_s2  >= 0
 * Returned: beta_rad
 * Status:   TRN_E_DOMAIN, TRN_E_CONVERGE
 * Source:   trn_joint_peak_acceleration inverted
 * Standing: derived
 * Checked by tests/published/joint.csv, tests/joint.c (round trip) */
trn_status trn_joint_angle_for_acceleration(double omega_rad_s, double alpha_rad_s2,
                                            double *beta_rad);

typedef enum trn_joint_views {
    TRN_JOINT_VIEWS_PROJECTED, /* slopes read in plan and in side view */
    TRN_JOINT_VIEWS_SUCCESSIVE /* turned by h, then tilted by v */
} trn_joint_views;

/* Angle of a joint from the angles seen in two views.
 *
 *   projected:  beta = atan(hypot(tan h, tan v))      successive:  cos beta = cos h cos v
 *
 * Given:    h_rad, v_rad  plan and side view, between -pi/2 and pi/2; signs without effect
 *           views
 * Returned: beta_rad
 * Status:   TRN_E_DOMAIN
 * Source:   geometry
 * Standing: derived
 * Checked by tests/published/joint.csv, tests/joint.c (unit vectors) */
trn_status trn_joint_compound_angle(double h_rad, double v_rad, trn_joint_views views,
                                    double *beta_rad);

/* ---- two and more joints (src/physics/joint_pair.c) ---------------------------------------- */

/* The one joint that two joints in series are equal to, exactly.
 *
 *   tan^2(beta_e/2) = sqrt( [sin^2 eps (1 - c1 c2)^2 + cos^2 eps (c1 - c2)^2]
 *                         / [sin^2 eps (1 + c1 c2)^2 + cos^2 eps (c1 + c2)^2] ),  c = cos beta
 *
 * Given:    beta1_rad, beta2_rad  0 <= beta < pi/2 (magnitudes)
 *           epsilon_rad           actual angle between the yokes of the tube minus the one that
 *                                 would be right, any
 * Returned: beta_e_rad            put it into the functions for one joint
 *           fluctuation           sin beta_e tan beta_e
 * Status:   TRN_E_DOMAIN
 * Valid for rigid shafts; ends parallel (Z) and bent the same way twice (W) alike.
 * Source:   composition of the two motions; roles of the angles and the phase [JointF1]
 * Standing: derived; roles published
 * Checked by tests/published/joint.csv, tests/joint_pair.c (chain of vectors) */
trn_status trn_joint_pair(double beta1_rad, double beta2_rad, double epsilon_rad,
                          double *beta_e_rad, double *fluctuation);

/* Turn of the driving shaft, in [0, pi), at which the output of the pair is fastest; 0 where the
 * output is steady. Same inputs as trn_joint_pair, epsilon signed as in trn_joint_turn.
 * Status:   TRN_E_DOMAIN
 * Source:   composition of the two motions
 * Standing: derived
 * Checked by tests/joint_pair.c (chain of vectors in space)
 * Given:    rad; Returned: theta0_rad, rad */
trn_status trn_joint_pair_phase(double beta1_rad, double beta2_rad, double epsilon_rad,
                                double *theta0_rad);

/* Speeds of the tube and of the output at a turn of the driving shaft, over its own speed.
 *
 *   tube = r(beta1, theta),  theta2 = pi/2 + phi(beta1, theta) + epsilon,
 *   out = tube r(beta2, theta2),   epsilon = offset - zeta of trn_joint_pair_space
 *
 * Given:    beta1_rad, beta2_rad  0 <= beta < pi/2
 *           epsilon_rad, theta_rad  any
 * Returned: tube_ratio, out_ratio
 * Status:   TRN_E_DOMAIN
 * Source:   two joints in turn
 * Standing: derived
 * Checked by tests/joint_pair.c (chain of vectors in space) */
trn_status trn_joint_turn(double beta1_rad, double beta2_rad, double epsilon_rad,
                          double theta_rad, double *tube_ratio, double *out_ratio);

/* The one joint that n joints in series are equal to.
 *
 *   M = D(beta_n) R(pi/2 + eps_{n-1}) ... R(pi/2 + eps_1) D(beta_1),  D = diag(cos beta, 1):
 *   cos beta_e = ratio of its singular values
 *
 * Worked in the form M z = A z + B conj z (z = turn as a complex number), where each joint only
 * adds -kappa times the conjugate of the other part: nothing cancels near beta_e = 0.
 *
 * Given:    beta_rad[n]         0 <= beta < pi/2, n >= 1
 *           epsilon_rad[n - 1]  phase errors between joint i and i + 1, any (not read for n = 1)
 * Returned: beta_e_rad
 *           theta0_rad          turn of the first shaft at which the last is fastest, [0, pi)
 * Status:   TRN_E_DOMAIN
 * Source:   composition of the motions
 * Standing: derived
 * Checked by tests/joint_pair.c */
trn_status trn_joint_chain(const double *beta_rad, const double *epsilon_rad, size_t n,
                           double *beta_e_rad, double *theta0_rad);

typedef struct trn_joint_space {
    double beta1_rad, beta2_rad; /* bend of the two joints */
    double zeta_rad;             /* plane of joint 1 to plane of joint 2, right-handed about the
                                    tube, in (-pi/2, pi/2]; 0 where a joint is straight */
    double beta_e_rad;           /* equivalent single joint */
} trn_joint_space;

/* Two joints in space from the slopes of the three axes.
 *
 *   a = (1, tan h, tan v)/norm;  beta = atan2(|a x b|, a.b);  n12 = a1 x a2, n23 = a2 x a3
 *   zeta = atan2((n12 x n23).a2, n12.n23) modulo pi;  eps = offset - zeta into trn_joint_pair
 *
 * Given:    h1_rad v1_rad ... v3_rad  slopes of driving axis, tube, driven axis in plan (+ to the
 *                       left along the power flow) and side view (+ up), between -pi/2 and pi/2
 *           offset_rad  angle of the tube's second yoke from its first, right-handed about the
 *                       tube along the power flow, any; offset = zeta is the best there is
 * Returned: space
 * Status:   TRN_E_DOMAIN, also where a joint is bent by 90 deg or more
 * Valid for a joint below 1e-9 rad counts as straight: beta_e is then the other angle.
 * Source:   geometry
 * Standing: derived
 * Checked by tests/published/joint.csv, tests/joint_pair.c (chain of vectors) */
trn_status trn_joint_pair_space(double h1_rad, double v1_rad, double h2_rad, double v2_rad,
                                double h3_rad, double v3_rad, double offset_rad,
                                trn_joint_space *space);

/* The same from three directions of any length above 0 along the power flow.
 * Status:   TRN_E_DOMAIN
 * Checked by tests/joint_pair.c
 * Given, Returned: directions without unit, offset_rad; space, rad. Standing: derived. */
trn_status trn_joint_pair_axes(const double axis1[3], const double axis2[3],
                               const double axis3[3], double offset_rad, trn_joint_space *space);

/* ---- couples, life, heat (src/physics/joint_load.c) ---------------------------------------- */

/* Largest couples that a bent joint puts on its two shafts.
 *
 *   driving = T tan beta (yoke of shaft 1 across the plane), driven = T sin beta
 *
 * Given:    torque_nm  constant torque of the driving shaft, >= 0
 *           beta_rad   0 <= beta < pi/2
 * Returned: driving_nm, driven_nm
 * Status:   TRN_E_DOMAIN; TRN_R_JOINT_DRIVEN_COUPLE above 45 deg
 * Valid for no friction, massless cross.
 * Source:   statics of the cross
 * Standing: derived
 * Checked by tests/published/joint.csv, tests/joint_pair.c */
trn_status trn_joint_secondary_couple(double torque_nm, double beta_rad, double *driving_nm,
                                      double *driven_nm);

/* Couple that the cross passes on, shaft 1 along x, joint plane x-y.
 *
 *   M = T1 (1, tan beta sin^2 theta, -tan beta sin theta cos theta)
 *
 * Given:    torque_nm >= 0, beta_rad (0 <= beta < pi/2), theta_rad any
 * Returned: couple_nm[3]
 * Status:   TRN_E_DOMAIN
 * Source:   statics of the cross
 * Standing: derived
 * Checked by tests/joint_pair.c */
trn_status trn_joint_couple(double torque_nm, double beta_rad, double theta_rad,
                            double couple_nm[3]);

typedef enum trn_joint_shape {
    TRN_JOINT_SHAPE_Z, /* ends bent opposite ways */
    TRN_JOINT_SHAPE_W  /* bent the same way twice */
} trn_joint_shape;

/* Peak of the transverse force at the joint centres (0 to peak twice a turn).
 *
 *   F = T (sin beta1 + cos beta1 tan beta2)/L = T sin(beta1 + beta2)/(L cos beta2)   W
 *   with minus for Z, as a magnitude
 *
 * Given:    torque_nm >= 0; beta1_rad, beta2_rad (0 <= beta < pi/2); length_m > 0
 * Returned: force_n
 * Status:   TRN_E_DOMAIN; TRN_R_JOINT_LARGE_ANGLE above 45 deg
 * Valid for one plane, yokes of the tube in line.
 * Source:   balance of the tube
 * Standing: derived
 * Checked by tests/joint_pair.c */
trn_status trn_joint_transverse_force(double torque_nm, double beta1_rad, double beta2_rad,
                                      double length_m, trn_joint_shape shape, double *force_n);

/* Growth of the trunnion loads with the bend, as a mean over the rocking (exponent 10/3).
 *
 *   k_beta  = [ (1/beta) int_0^beta sec^(10/3) d dd ]^(3/10)            yoke with constant torque
 *   k_other = [ (1/beta) int_0^beta (cos d/cos beta)^(10/3) dd ]^(3/10)  the other yoke
 *
 * Given:    beta_rad  0 <= beta < pi/2 (1 and 1 at 0)
 * Returned: k_beta, k_other
 * Status:   TRN_E_DOMAIN, TRN_E_CONVERGE
 * Source:   load T/(2 R cos d) of a trunnion, averaged
 * Standing: derived
 * Checked by tests/published/joint.csv, tests/joint_load.c (quadrature, hypergeometric form) */
trn_status trn_joint_load_growth(double beta_rad, double *k_beta, double *k_other);

typedef struct trn_joint_life {
    double load_n;        /* equivalent load of one needle bearing */
    double k_beta;        /* growth used */
    double omega_eq_rad_s;/* equivalent speed of full turns */
    double life_s;        /* L10 */
} trn_joint_life;

/* Basic rating life of one needle bearing of the cross.
 *
 *   P = K_beta shock T/(2 R),  n_eq = n beta/90 deg,  L10h = 1e6 (C/P)^(10/3)/(60 n_eq)
 *
 * Given:    rating_n     dynamic rating of one needle bearing, > 0
 *           arm_m        joint centre to the middle of the needles, > 0
 *           torque_nm    > 0
 *           omega_rad_s  > 0
 *           beta_rad     0 < beta < pi/2: without rocking there is no life to state
 *           shock        application factor, > 0
 *           growth       false: K_beta = 1
 * Returned: life
 * Status:   TRN_E_DOMAIN; TRN_R_JOINT_OVERLOADED (P > C/2), TRN_R_JOINT_SMALL_ANGLE (< 2 deg),
 *           TRN_R_JOINT_LARGE_ANGLE (> 45 deg)
 * Valid for amplitudes above trn_joint_critical_oscillation (TRN_R_JOINT_BELOW_CRITICAL is for
 *           callers that know the needles).
 * Source:   roller exponent 10/3 [JointISO281]; travel 4 beta a turn [JointT2]
 * Standing: exponent published, travel and growth derived
 * Checked by tests/published/joint.csv, tests/joint_load.c */
trn_status trn_joint_cross_life(double rating_n, double arm_m, double torque_nm,
                                double omega_rad_s, double beta_rad, double shock, bool growth,
                                trn_joint_life *life);

/* Half-amplitudes below which the tracks of neighbouring needles do not overlap.
 *
 *   inner = 2 pi/(Z (1 + gamma)),  outer = 2 pi/(Z (1 - gamma))
 *
 * Given:    needles  whole number >= 3
 *           gamma    needle diameter over pitch diameter, 0 < gamma < 1
 * Returned: inner_rad, outer_rad
 * Status:   TRN_E_DOMAIN
 * Source:   motion of the needle set; notion [JointR1; JointR2]
 * Standing: derived, notion published
 * Checked by tests/published/joint.csv, tests/joint_load.c */
trn_status trn_joint_critical_oscillation(double needles, double gamma, double *inner_rad,
                                          double *outer_rad);

/* Friction heat of the four needle bearings of one joint.
 *
 *   loss = (2/pi) mu (r/R) [asinh tan beta + tan beta] T omega
 *
 * (asinh tan beta = ln tan(45 deg + beta/2))
 *
 * Given:    torque_nm >= 0, constant on the driving side; omega_rad_s >= 0;
 *           beta_rad (0 <= beta < pi/2); mu >= 0; r_over_arm trunnion radius over arm, in (0, 1)
 * Returned: loss_w
 * Status:   TRN_E_DOMAIN
 * Source:   friction work over a turn with the growth of the load
 * Standing: derived
 * Checked by tests/published/joint.csv, tests/joint_load.c (quadrature) */
trn_status trn_joint_heat(double torque_nm, double omega_rad_s, double beta_rad, double mu,
                          double r_over_arm, double *loss_w);

#ifdef __cplusplus
}
#endif
#endif
