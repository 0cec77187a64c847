/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Forces on the teeth of spur, helical and bevel gears. */
#ifndef TRUNNION_GEAR_FORCE_H
#define TRUNNION_GEAR_FORCE_H

#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Kinds of mesh and words of a gear, in the order of the case tables. */
typedef enum trn_mesh_kind {
    TRN_MESH_STRAIGHT_BEVEL,
    TRN_MESH_SPIRAL_BEVEL,
    TRN_MESH_SPUR,
    TRN_MESH_HELICAL
} trn_mesh_kind;

/* Of a tooth seen from outside, the large end (bevel) up: right leans to the right. */
typedef enum trn_hand { TRN_HAND_RIGHT, TRN_HAND_LEFT } trn_hand;

/* Bevel: seen from the large end toward the apex. Cylindrical: seen from the + end of the axle. */
typedef enum trn_rotation { TRN_TURN_CW, TRN_TURN_CCW } trn_rotation;

/* Of two gears in mesh the driver is the one nearer the tractor. */
typedef enum trn_mesh_role { TRN_MESH_DRIVER, TRN_MESH_DRIVEN } trn_mesh_role;

typedef struct trn_tooth_force {
    double Ft; /* N, tangential, >= 0 */
    double Fr; /* N, + = toward the own axis */
    double Fa; /* N, bevel: + = away from the own apex; helical: magnitude */
} trn_tooth_force;

/* Spur gear.
 *
 *   F_t = 2 T/d ;  F_r = F_t tan alpha ;  F_a = 0
 *
 * Given:    T          torque of this gear, N.m, >= 0
 *           d          its reference diameter, m, > 0
 *           alpha_rad  pressure angle, 0 < alpha < pi/4
 * Returned: force      N
 * Status:   TRN_E_DOMAIN
 * Valid for one pair of teeth without friction.
 * Source:   Budynas and Nisbett, Mechanical Engineering Design, ch. 13
 * Standing: published
 * Checked by tests/published/bearing.csv, tests/gear_force.c */
trn_status trn_gear_spur_force(double T, double d, double alpha_rad, trn_tooth_force *force);

/* Helical gear on parallel axles.
 *
 *   F_t = 2 T/d ;  F_r = F_t tan alpha_n/cos beta ;  F_a = F_t tan beta
 *
 * Given:    T            torque of this gear, N.m, >= 0
 *           d            its transverse reference diameter, m, > 0
 *           alpha_n_rad  normal pressure angle, 0 < alpha_n < pi/4
 *           beta_rad     helix angle, 0 <= beta < pi/3 (the hand is a word of trn_axle_mesh_load)
 * Returned: force        N; Fa is a magnitude
 * Status:   TRN_E_DOMAIN
 * Source:   Budynas and Nisbett, Mechanical Engineering Design, ch. 13; Jindal ch. 26
 * Standing: published
 * Checked by tests/published/bearing.csv, tests/gear_force.c */
trn_status trn_gear_helical_force(double T, double d, double alpha_n_rad, double beta_rad,
                                  trn_tooth_force *force);

typedef struct trn_bevel_mesh {
    double T;           /* torque of this gear, N.m, >= 0 */
    double d_e;         /* reference diameter at the large end, m, > 0 */
    double b;           /* face width, m, 0 <= b < d_e/(2 sin delta); 0: forces at the large end */
    double alpha_n_rad; /* normal pressure angle, 0 < alpha_n < pi/4 */
    double delta_rad;   /* half cone angle, 0 < delta < pi/2 */
    double psi_rad;     /* mean spiral angle, 0 <= psi < pi/3 */
    trn_hand hand;      /* of this gear; its mate has the opposite of hand and rotation */
    trn_rotation rotation;
    trn_mesh_role role; /* on overrun the driven gear is the driver: swap both roles */
} trn_bevel_mesh;

/* Straight or spiral bevel gear.
 *
 *   d_m = d_e - b sin delta ;  F_t = 2 T/d_m
 *   F_a = F_t/cos psi (tan alpha_n sin delta + s sin psi cos delta)
 *   F_r = F_t/cos psi (tan alpha_n cos delta - s sin psi sin delta)
 *   s = -1 for a driver that is right and cw or left and ccw, else +1; the reverse when driven
 *
 * Given:    mesh   this gear
 * Returned: d_m    mean diameter, m
 *           force  N at the mean diameter; Fa + = away from the own apex, out of mesh; Fr may be
 *                  negative
 * Status:   TRN_E_DOMAIN; TRN_R_GEAR_WIDE where b > R_e/3
 * Source:   straight: Budynas and Nisbett, ch. 13; signs from the tooth normal in space
 * Standing: straight published, signs derived, limit of the face practice
 * Checked by tests/published/bearing.csv, tests/gear_force.c */
trn_status trn_gear_bevel_force(trn_bevel_mesh mesh, double *d_m, trn_tooth_force *force);

#ifdef __cplusplus
}
#endif
#endif
