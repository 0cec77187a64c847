/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Losses of a gearbox: mesh, churning, a wheel under oil, bearings, seals. */
#ifndef TRUNNION_LOSS_H
#define TRUNNION_LOSS_H

#include <stddef.h>
#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Power lost in a mesh: P mu H_v.
 *
 * Given:    P_w   power through the mesh, >= 0
 *           mu    mean friction along the path, >= 0 (trn_gear_friction)
 *           H_v   loss factor of the pair, > 0 (trn_gear_loss_factor, trn_gear_bevel_virtual)
 * Returned: loss_w
 * Status:   TRN_E_DOMAIN
 * Source:   ISO/TR 14179-2:2001
 * Standing: memory
 * Checked by tests/balance.c */
trn_status trn_loss_mesh(double P_w, double mu, double H_v, double *loss_w);

/* ---- bearings ----------------------------------------------------------------------------- */

/* Kinds in the order of the case tables. */
typedef enum trn_friction_kind {
    TRN_FRICTION_DEEP_GROOVE = 0,
    TRN_FRICTION_ANGULAR_15,
    TRN_FRICTION_ANGULAR_20,
    TRN_FRICTION_ANGULAR_25,
    TRN_FRICTION_ANGULAR_30,
    TRN_FRICTION_ANGULAR_35,
    TRN_FRICTION_ANGULAR_40,
    TRN_FRICTION_TAPERED,
    TRN_FRICTION_CYLINDRICAL,
    TRN_FRICTION_NEEDLE,
    TRN_FRICTION_KINDS
} trn_friction_kind;

/* Friction moment of a rolling bearing, part without load and part with it, and their loss.
 *
 *   M0 = 1e-7 f0 (nu n)^(2/3) dm^3 for nu n >= 2000, 160e-7 f0 dm^3 below
 *   M1 = f1 P1 dm                                               [N.mm, mm2/s, rev/min, mm, N]
 *
 * Given:    f0, f1       friction values of the kind, >= 0 (trn_bearing_friction_values; f0 is not
 *                        the static factor of bearing.load)
 *           nu_m2_s      viscosity at the oil temperature, > 0
 *           n_rad_s      speed, >= 0
 *           dm_m         mean diameter, (bore + outside)/2, > 0
 *           P1_n         load that decides friction, >= 0
 * Returned: M0_nm, M1_nm, loss_w
 * Status:   TRN_E_DOMAIN
 * Valid for an oil bath up to the lowest rolling element; measured moments scatter by 30 to 50 %.
 *           The step of 0.8 % at nu n = 2000 is in the source.
 * Source:   Palmgren; ISO/TR 14179-1 and -2:2001; ISO 15312
 * Standing: memory, M0 published by one worked value
 * Checked by tests/published/heat.csv, tests/published/bearing.csv, tests/loss.c */
trn_status trn_bearing_friction(double f0, double f1, double nu_m2_s, double n_rad_s, double dm_m,
                                double P1_n, double *M0_nm, double *M1_nm, double *loss_w);

/* Friction values of a kind under its load.
 *
 * Given:    kind
 *           Fr_n, Fa_n   radial load and thrust, >= 0
 *           C0_n         static rating, > 0 (deep groove and angular; others: not looked at)
 *           angle_rad    contact angle, 0 < angle <= pi/4 (tapered; others: not looked at)
 * Returned: f0, f1, P1_n (never below Fr)
 * Status:   TRN_E_DOMAIN
 * Source:   handbook tables after Palmgren; ISO 76 (static equivalent load)
 * Standing: memory (medium to high)
 * Checked by tests/loss.c */
trn_status trn_bearing_friction_values(trn_friction_kind kind, double Fr_n, double Fa_n,
                                       double C0_n, double angle_rad, double *f0, double *f1,
                                       double *P1_n);

/* Product of viscosity and speed, mm2/s rev/min, below which M0 is constant. */
#define TRN_BEARING_FRICTION_STEP 2000.0

/* f0 of a kind alone, for a bearing whose load is not known; NaN for no such kind.
 * Source, standing: as trn_bearing_friction. Checked by tests/loss.c */
double trn_bearing_friction_f0(trn_friction_kind kind);

/* Mean of a loss over load cases: sum(q_i loss_i)/sum(q_i).
 *
 * Given:    loss_w[n], weight[n]   each >= 0, the weights not all 0
 * Returned: mean_w
 * Status:   TRN_E_DOMAIN
 * Standing: derived
 * Checked by tests/balance.c */
trn_status trn_loss_cases(const double *loss_w, const double *weight, size_t n, double *mean_w);

/* ---- churning ----------------------------------------------------------------------------- */

/* A gear in oil, everything in SI. */
typedef struct trn_churning_gear {
    double R_m;       /* pitch radius (bevel: outer) */
    double b_m;       /* face width */
    double m_m;       /* normal module (bevel: outer transverse) */
    double z;         /* teeth */
    double h_m;       /* depth of the pitch circle in the oil, 0 to 2 R */
    double V_oil_m3;  /* all the oil of the sump */
    double n_rad_s;   /* speed */
    double alpha_rad; /* pressure angle */
    double beta_rad;  /* helix or spiral angle */
} trn_churning_gear;

/* What does not change with the oil, so that one evaluation more costs little. */
typedef struct trn_churning_ready {
    double Re_nu;        /* Reynolds number times viscosity, m2/s */
    double Re_power;     /* Re_nu^-0.21 */
    double Fr, gamma;    /* Froude number; centrifugal measure, m/s2 */
    double low, high;    /* share and geometry of the slow and the fast law */
    double torque_rho;   /* torque = torque_rho * density * C_m */
    double S_m_m2;       /* wetted surface */
    double n_rad_s;
    trn_status ground;   /* remark on the geometry, or TRN_OK */
} trn_churning_ready;

typedef struct trn_churning {
    double Re, Fr, gamma_m_s2, C_m, torque_nm, loss_w;
} trn_churning;

/* Churning of one gear by the dimensionless law, in two steps and in one.
 *
 *   S_m = R^2 (2 theta - sin 2 theta) + D b theta + 2 z theta h_t b/(pi cos alpha cos beta)
 *   torque = 1/2 rho omega^2 R^3 S_m C_m,   cos theta = 1 - h/R,  h_t = 2.25 m
 *   C_low  = E(1.366, 0.239)  (h/D)^0.45 (V/D^3)^0.1   Fr^-0.6
 *   C_high = E(20.797, 3.644) (h/D)^0.1  (V/D^3)^-0.35 Fr^-0.88 (b/D)^0.85
 *   E(c, d) = c Re^-0.21 up to Re 6000, d from 9000, linear between
 *   C_m: low up to gamma = 750 m/s2, high from 1250, linear between; gamma = omega^2 (R b m)^(1/3)
 *
 * Given:    gear (n > 0), rho_kg_m3, nu_m2_s, all > 0, 0 <= h <= 2R
 * Returned: all numbers of the law; h = 0 gives torque 0
 * Status:   TRN_E_DOMAIN; TRN_R_LOSS_DEEP for h > 0.8 R; TRN_R_LOSS_GROUND outside the ground
 *           that was tested
 * Valid for modules 1.5 to 5 mm, widths 10 to 40 mm, D 100 to 160 mm, 30 to 400 mm2/s, to 7000 rpm
 * Source:   Changenet and Velex, J. Mech. Des. 129 (2007) 128; Changenet, Leprince, Ville and
 *           Velex, J. Mech. Des. 133 (2011) 121009; the blending between laws is common practice
 * Standing: memory (laws high, gamma medium to high, tested range low); blending practice
 * Checked by tests/published/heat.csv, tests/loss.c */
trn_status trn_loss_churning(const trn_churning_gear *gear, double rho_kg_m3, double nu_m2_s,
                             trn_churning *churning);
/* What of the law does not hang on the oil, for loops over temperatures.
 * Given:    gear as in trn_loss_churning
 * Returned: ready
 * Status:   as trn_loss_churning, source and standing too
 * Checked by tests/loss.c, tests/balance.c */
trn_status trn_loss_churning_prepare(const trn_churning_gear *gear, trn_churning_ready *ready);
/* C_m alone; nu_021 = nu^0.21 is shared by the gears of a box. Arguments are not checked.
 * Given: nu_m2_s in m2/s, > 0. Source, standing: as trn_loss_churning. Checked by tests/loss.c */
double trn_loss_churning_coefficient(const trn_churning_ready *ready, double nu_m2_s,
                                     double nu_021);

/* Churning of one gear by the thermal rating report: teeth, and both sides together.
 *
 *   tooth = 7370 dip nu n^3 D^4.7 b R_f/(sqrt(tan beta) 0.2e26),  R_f = 7.93 - 4.648/m_t
 *   sides = 1474 dip nu n^3 D^5.7/0.2e26                          [W, mm2/s, rev/min, mm]
 *
 * Given:    nu_m2_s    viscosity at the oil temperature, > 0
 *           n_rad_s    speed, >= 0
 *           D_m        outside diameter, > 0
 *           b_m        face width, > 0
 *           m_t_m      transverse module, above 0.5861 mm
 *           beta_rad   helix angle, |beta| < pi/3; below 10 deg taken as 10
 *           dip        0 clear of the oil to 1 wholly under
 * Returned: tooth_w, sides_w
 * Status:   TRN_E_DOMAIN
 * Valid for splash lubrication; exaggerates cold starts (nu^1) and high speed (n^3)
 * Source:   AGMA 96FTM9 (Phillips); ISO/TR 14179-1:2001
 * Standing: memory (form high, constants medium to high)
 * Checked by tests/published/heat.csv, tests/loss.c */
trn_status trn_loss_churning_iso(double nu_m2_s, double n_rad_s, double D_m, double b_m,
                                 double m_t_m, double beta_rad, double dip, double *tooth_w,
                                 double *sides_w);

/* Band between two churning laws.
 *
 *   low = min(iso, central/scatter),  high = max(iso, scatter central)
 *
 * Given:    central_w, iso_w   sums over the gears, >= 0
 *           scatter            >= 1
 * Returned: low_w, high_w
 * Status:   TRN_E_DOMAIN
 * Standing: practice (scatter of the better law on other rigs)
 * Checked by tests/balance.c */
trn_status trn_loss_churning_band(double central_w, double iso_w, double scatter, double *low_w,
                                  double *high_w);

typedef struct trn_disc {
    double Re, C_M;
    int regime; /* 1 merged laminar, 2 separate laminar, 3 merged turbulent, 4 separate turbulent */
    double torque_nm, loss_w;
} trn_disc;

/* A smooth wheel wholly under oil in its housing, both faces.
 *
 *   Re = omega R^2/nu,  G = gap/R,  torque = 1/2 rho omega^2 R^5 C_M,  C_M the largest of
 *   2 pi/(G Re),  3.70 G^0.1 Re^-0.5,  0.080 G^(-1/6) Re^-0.25,  0.102 G^0.1 Re^-0.2
 *
 * Given:    R_m outside radius, gap_m axial clearance to the housing, n_rad_s, nu_m2_s, rho_kg_m3;
 *           all > 0
 * Returned: disc
 * Status:   TRN_E_DOMAIN; TRN_R_LOSS_DISC outside 1e3 < Re < 1e7 or 0.0127 < G < 0.217
 * Valid for a smooth disc: teeth are not in it, it bounds from below
 * Source:   Daily and Nece, J. Basic Eng. 82 (1960) 217
 * Standing: memory (high); tested range published
 * Checked by tests/published/heat.csv, tests/loss.c */
trn_status trn_loss_disc(double R_m, double gap_m, double n_rad_s, double nu_m2_s,
                         double rho_kg_m3, trn_disc *disc);

/* ---- seals -------------------------------------------------------------------------------- */

typedef enum trn_seal_material { TRN_SEAL_NITRILE = 0, TRN_SEAL_FLUOROELASTOMER } trn_seal_material;

/* One lip of a radial shaft seal.
 *
 *   part 2: loss = 7.69e-6 d^2 n                          [W, mm, rev/min]
 *   part 1: torque = 2.429e-3 d or 3.737e-3 d             [N.m, mm]
 *
 * Given:    d_m        shaft diameter, > 0
 *           n_rad_s    speed, >= 0
 *           part       1 or 2, of the thermal rating report
 *           material   used by part 1
 * Returned: loss_w
 * Status:   TRN_E_DOMAIN
 * Source:   ISO/TR 14179-1:2001 and ISO/TR 14179-2:2001
 * Standing: memory (high)
 * Checked by tests/published/heat.csv, tests/loss.c */
trn_status trn_loss_seal(double d_m, double n_rad_s, int part, trn_seal_material material,
                         double *loss_w);

#ifdef __cplusplus
}
#endif
#endif
