/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statics of an axle on two bearings.
 *
 * Frame: x along the axle (+ = rising station), y and z square to it, right-handed; on a level
 * axle z is up. Azimuth of a mesh: from y toward z. e_r = (0, cos, sin), e_t = (0, -sin, cos). */
#ifndef TRUNNION_AXLE_H
#define TRUNNION_AXLE_H

#include <stddef.h>
#include <trunnion/bearing.h>
#include <trunnion/gear_force.h>
#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Side of the axle on which the apex of the pitch cone lies; of no meaning for spur, helical. */
typedef enum trn_apex { TRN_APEX_PLUS, TRN_APEX_MINUS } trn_apex;

/* Which thrust a bearing takes: PLUS that of a shaft pushed along +x. Order of the case tables. */
typedef enum trn_thrust_word {
    TRN_THRUST_NONE,
    TRN_THRUST_PLUS,
    TRN_THRUST_MINUS,
    TRN_THRUST_BOTH
} trn_thrust_word;

/* Sense of turning of an axle from one of its gears: sign of omega along x.
 *
 *   bevel: cw with apex + or ccw with apex - gives +1, else -1
 *   spur, helical: ccw gives +1, cw -1
 *
 * Given:    kind, apex (bevel alone), rotation
 * Returned: sigma  +1 or -1
 * Status:   TRN_E_DOMAIN (unknown word)
 * Valid for rotation seen from the large end toward the apex (bevel), from the + end (others).
 * Source:   definition of the words
 * Standing: derived
 * Checked by tests/axle.c */
trn_status trn_axle_turn(trn_mesh_kind kind, trn_apex apex, trn_rotation rotation, int *sigma);

/* The reverse: the word of a gear from the sense of its axle (sigma = +1 or -1).
 * Status: TRN_E_DOMAIN (unknown word, sigma neither). Standing: derived. Checked by tests/axle.c */
trn_status trn_axle_rotation(trn_mesh_kind kind, trn_apex apex, int sigma,
                             trn_rotation *rotation);

/* Word of the mate: the opposite. Cylindrical: both axles with + on the same side.
 * Status: TRN_E_DOMAIN (unknown word). Standing: derived. Checked by tests/axle.c */
trn_status trn_axle_mate_rotation(trn_rotation rotation, trn_rotation *mate);

typedef struct trn_axle_load {
    double Fx, Fy, Fz; /* N */
    double Mx, My, Mz; /* N.m, about the origin of the stations */
} trn_axle_load;

typedef struct trn_axle_mesh {
    trn_mesh_kind kind;
    trn_mesh_role role;
    int sigma;             /* sense of the axle, +1 or -1 */
    trn_tooth_force force; /* on this gear; Ft >= 0; helical Fa >= 0 */
    trn_apex apex;         /* bevel alone */
    trn_hand hand;         /* helical alone */
    double azimuth_rad;
    double station; /* middle of the face, m */
    double r_m;     /* d_m/2 (bevel), d/2 (others), m, > 0 */
} trn_axle_mesh;

/* Force and moment of one mesh on its axle.
 *
 *   F = k sigma Ft e_t - Fr e_r + F_x e_x at (station, r_m e_r) ;  k = -1 driver, +1 driven
 *   bevel F_x = -Fa (apex +), +Fa (apex -) ;  helical F_x = h (-k) sigma Fa, h = +1 right, -1 left
 *   spur F_x = 0
 *
 * Given:    mesh
 * Returned: load    force, and moment about the origin
 * Status:   TRN_E_DOMAIN
 * Source:   vector statics
 * Standing: derived
 * Checked by tests/axle.c */
trn_status trn_axle_mesh_load(trn_axle_mesh mesh, trn_axle_load *load);

/* Sum of n loads (n = 0: none, all zero).
 * Given: loads[n], N and N.m about the origin. Status: TRN_E_DOMAIN (a load that is not finite).
 * Standing: derived. Checked by tests/axle.c */
trn_status trn_axle_sum(size_t n, const trn_axle_load *loads, trn_axle_load *sum);

typedef struct trn_axle_reaction {
    double R_Ay, R_Az, R_By, R_Bz; /* N, of the bearings on the axle */
    double FrA, FrB;               /* N, radial */
    double K;                      /* N, thrust along +x left for the bearings */
    double T;                      /* N.m along +x left for the joint */
} trn_axle_reaction;

/* Radial reactions of two bearings.
 *
 *   R_By = -M_z/L ;  R_Bz = M_y/L ;  R_A = -F - R_B ;  M about A, L = x_B - x_A
 *
 * Given:    sum       all loads of the axle, about the origin
 *           x_A, x_B  stations of the pressure centres, m, not equal, in any order
 * Returned: reaction
 * Status:   TRN_E_DOMAIN
 * Valid for a stiff axle on two bearings that take no moment.
 * Source:   Budynas and Nisbett, solutions to ch. 13 (a worked case)
 * Standing: published
 * Checked by tests/axle.c */
trn_status trn_axle_reactions(trn_axle_load sum, double x_A, double x_B,
                              trn_axle_reaction *reaction);

/* Radial load that the couple of a joint adds at each bearing, in magnitude.
 *
 *   F = M_p/|L|
 *
 * Given:    M_p   peak of the secondary couple, N.m, >= 0 (two shafts on one axle add)
 *           span  L, m, not 0
 * Returned: F, N
 * Status:   TRN_E_DOMAIN
 * Valid as the safe side: the couple turns against the tooth force.
 * Source:   statics of the axle
 * Standing: derived, addition in magnitude practice
 * Checked by tests/axle.c */
trn_status trn_axle_couple(double M_p, double span, double *F);

/* The couple of a joint at a turn, as a vector square to the axle.
 *
 *   M = (M_p/2) [(1 + cos 2 theta) u + sin 2 theta w] ;  w = e_x cross u
 *
 * Given:    M_p        N.m, >= 0
 *           theta_rad  turn of the axle
 *           plane_rad  azimuth of u, the direction square to x in the plane of axle and shaft
 * Returned: My, Mz     N.m; magnitude M_p |cos theta|
 * Status:   TRN_E_DOMAIN
 * Valid for small joint angles: at 25 deg a component is up to 5 % of M_p off.
 * Source:   frictionless cross, moment along the normal of its plane
 * Standing: derived
 * Checked by tests/axle.c */
trn_status trn_axle_couple_vector(double M_p, double theta_rad, double plane_rad, double *My,
                                  double *Mz);

/* Largest side force of a shaft in the W arrangement, and what it adds at the nearer bearing.
 *
 *   F = 2 T sin beta/L_t ;  F_near = F (1 + overhang/|span|)
 *
 * Given:    T         N.m, >= 0
 *           beta_rad  larger of the two joint angles, 0 <= beta < pi/2
 *           L_t       joint centre to joint centre, m, > 0
 *           overhang  joint centre from the nearer bearing, m, >= 0
 *           span      m, not 0
 * Returned: F, F_near, N; upper bounds (zero in the Z arrangement)
 * Status:   TRN_E_DOMAIN
 * Source:   equilibrium of the tube under both couples
 * Standing: derived
 * Checked by tests/axle.c */
trn_status trn_axle_side_force(double T, double beta_rad, double L_t, double overhang,
                               double span, double *F, double *F_near);

typedef enum trn_axle_hold {
    TRN_HOLD_HELD,
    TRN_HOLD_OVER_LOCATED, /* both bearings locate it: the thrust counts at each */
    TRN_HOLD_NOT_HELD,     /* no bearing takes a thrust of this sign */
    TRN_HOLD_NOT_OPPOSED   /* a tapered or angular bearing without `+` or `-`, or without an
                              opposed partner */
} trn_axle_hold;

typedef struct trn_axle_support {
    trn_bearing_kind kind;
    trn_thrust_word thrust;
    double S; /* induced thrust, N, >= 0 (trn_bearing_induced_thrust); used in opposed pairs */
} trn_axle_support;

/* Is the axle held along x?
 *
 * Given:    A, B     its bearings
 *           K        thrust along +x, N
 *           largest  largest tooth force of the axle, N, >= 0: K within 1e-9 of it counts as 0
 * Returned: hold
 * Status:   TRN_E_DOMAIN
 * Source:   meaning of the thrust words
 * Standing: derived; two bearings with the same single sign practice
 * Checked by tests/axle.c */
trn_status trn_axle_held(trn_axle_support A, trn_axle_support B, double K, double largest,
                         trn_axle_hold *hold);

/* Axial loads of the two bearings.
 *
 *   one `both`: |K| there ;  `+` and `-`: opposed pair ;  one sign: |K| of that sign there
 *   `both` and `both`: |K| on each ;  none: K = 0
 *
 * Given:    as trn_axle_held
 * Returned: FaA, FaB  N, >= 0
 * Status:   TRN_E_DOMAIN, also where the axle is not held or a partner is missing (ask
 *           trn_axle_held which); TRN_R_AXLE_OVER_LOCATED
 * Valid without preload and without clearance.
 * Source:   equilibrium of the axle, trn_bearing_opposed
 * Standing: derived
 * Checked by tests/axle.c */
trn_status trn_axle_thrust(trn_axle_support A, trn_axle_support B, double K, double largest,
                           double *FaA, double *FaB);

#ifdef __cplusplus
}
#endif
#endif
