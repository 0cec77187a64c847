/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rolling bearings: equivalent load, thrust of an opposed pair, basic and modified life, oil
 * cleanliness, ratings, sums over a duty, systems. Lives are in hours and say so (life_h). */
#ifndef TRUNNION_BEARING_H
#define TRUNNION_BEARING_H

#include <stddef.h>
#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

/* In the order of the case tables. */
typedef enum trn_bearing_kind {
    TRN_BEARING_DEEP_GROOVE,
    TRN_BEARING_ANGULAR_15,
    TRN_BEARING_ANGULAR_20,
    TRN_BEARING_ANGULAR_25,
    TRN_BEARING_ANGULAR_30,
    TRN_BEARING_ANGULAR_35,
    TRN_BEARING_ANGULAR_40,
    TRN_BEARING_TAPERED,
    TRN_BEARING_CYLINDRICAL,
    TRN_BEARING_NEEDLE,
    TRN_BEARING_KINDS
} trn_bearing_kind;

typedef enum trn_rolling_element { TRN_ELEMENT_BALL, TRN_ELEMENT_ROLLER } trn_rolling_element;

typedef enum trn_life_kind {
    TRN_LIFE_RADIAL_BALL,
    TRN_LIFE_RADIAL_ROLLER,
    TRN_LIFE_THRUST_BALL,
    TRN_LIFE_THRUST_ROLLER
} trn_life_kind;

/* Ball or roller, and the life kind, of a (radial) bearing kind; needle counts as roller.
 * Standing: published (ISO 281 counts needles as rollers). Checked by tests/bearing.c */
trn_rolling_element trn_bearing_element(trn_bearing_kind kind);
/* Kind of the life equation of a (radial) bearing kind: radial ball or radial roller.
 * Source: ISO 281:2007, figures of a_ISO. Standing: published. Checked by tests/bearing_life.c */
trn_life_kind trn_bearing_life_kind(trn_bearing_kind kind);

/* Exponent of the life equation: 3 ball, 10/3 roller.
 * Source: ISO 281:2007, 5.2. Standing: published. Checked by tests/published/bearing.csv */
double trn_bearing_exponent(trn_rolling_element element);

/* ---- loads: src/physics/bearing.c --------------------------------------------------------- */

typedef struct trn_equivalent_load {
    double P;    /* N */
    double X, Y; /* as used: P = X Fr + Y Fa always */
    double e;    /* limit of Fa/Fr below which thrust does not count */
} trn_equivalent_load;

/* Dynamic equivalent load of a single-row radial bearing.
 *
 *   P = Fr where Fa <= e Fr or X Fr + Y Fa < Fr, else P = X Fr + Y Fa
 *
 * Given:    kind
 *           Fr, Fa     magnitudes, N, >= 0; Fa = 0 for cylindrical and needle
 *           C0         static rating, N, > 0; used by deep_groove and angular_15 alone
 *           f0         static factor, > 0 (14 where not known); used by the same two
 *           alpha_rad  contact angle, 0 < alpha <= pi/4; used by tapered alone
 * Returned: load
 * Status:   TRN_E_DOMAIN; TRN_R_BEARING_TABLE where f0 Fa/C0 is outside the table and Fa > 0
 * Valid for the rounded tables of the standard: X + Y e is 1 within 0.7 %.
 * Source:   ISO 281:2007 Table 3 and the rule for radial roller bearings
 * Standing: deep groove, 15, 30, 40 deg published; 20, 25, 35 deg and tapered constants memory
 * Checked by tests/published/bearing.csv, tests/bearing.c */
trn_status trn_bearing_load(trn_bearing_kind kind, double Fr, double Fa, double C0, double f0,
                            double alpha_rad, trn_equivalent_load *load);

/* Static equivalent load.
 *
 *   P0 = max(X0 Fr + Y0 Fa, Fr)
 *
 * Given:    kind, Fr, Fa (N, >= 0), alpha_rad (tapered alone) as trn_bearing_load
 * Returned: P0, N
 * Status:   TRN_E_DOMAIN
 * Source:   ISO 76:2006
 * Standing: deep groove, 15, 30, 40 deg published, the rest memory
 * Checked by tests/bearing.c */
trn_status trn_bearing_static_load(trn_bearing_kind kind, double Fr, double Fa, double alpha_rad,
                                   double *P0);

/* Thrust that a radial load induces in a bearing with inclined contact.
 *
 *   tapered: S = 0.5 Fr/Y, Y = 0.4 cot alpha ;  angular: S = e Fr ;  others: S = 0
 *   angular_15: S = e(f0 S/C0) Fr, iterated from e = 0.5
 *
 * Given:    kind, Fr (N, >= 0), C0, f0 (angular_15 alone), alpha_rad (tapered alone)
 * Returned: S, N
 * Status:   TRN_E_DOMAIN, TRN_E_CONVERGE
 * Valid for a bearing in which half of the circumference carries.
 * Source:   tapered: catalogues of bearings; angular contact: e as the ratio S/Fr
 * Standing: tapered published, angular practice
 * Checked by tests/bearing.c */
trn_status trn_bearing_induced_thrust(trn_bearing_kind kind, double Fr, double C0, double f0,
                                      double alpha_rad, double *S);

/* Axial loads of two opposed bearings, from their induced thrusts.
 *
 *   FaA = max(SA, SB + Ka) ;  FaB = max(SB, SA - Ka)
 *
 * Given:    SA, SB  N, >= 0
 *           Ka      outer thrust, N, + pushes the shaft into A
 * Returned: FaA, FaB, N; FaA - FaB = Ka
 * Status:   TRN_E_DOMAIN
 * Valid without preload and without clearance.
 * Source:   equilibrium of the axle
 * Standing: derived
 * Checked by tests/published/bearing.csv, tests/bearing.c */
trn_status trn_bearing_opposed(double SA, double SB, double Ka, double *FaA, double *FaB);

/* The same from radial loads and thrust factors, with S = 0.5 Fr/Y.
 *
 * Given:    FrA, FrB (N, >= 0), YA, YB (> 0; angular contact: 0.5/e), Ka (N)
 * Returned: FaA, FaB, N
 * Status:   TRN_E_DOMAIN
 * Checked by tests/published/bearing.csv, tests/bearing.c
 * Source:   common practice for paired tapered and angular bearings
 * Standing: practice */
trn_status trn_bearing_pair(double FrA, double FrB, double YA, double YB, double Ka, double *FaA,
                            double *FaB);

/* ---- lives: src/physics/bearing_life.c ---------------------------------------------------- */

/* Basic rating life.
 *
 *   L10 = (C/P)^p revolutions x 1e6 ;  p = 3 ball, 10/3 roller
 *
 * Given:    element
 *           C, P   dynamic rating and equivalent load, N, > 0
 *           omega  speed of rotation, rad/s, > 0
 * Returned: L10_rev  revolutions
 *           L10_h    hours
 * Status:   TRN_E_DOMAIN; TRN_R_BEARING_HEAVY where P > 0.5 C, TRN_R_BEARING_LIGHT where P is
 *           below 0.01 C (ball), 0.02 C (roller)
 * Source:   ISO 281:2007
 * Standing: published; upper limit memory, minimum load practice
 * Checked by tests/published/bearing.csv, tests/bearing_life.c */
trn_status trn_bearing_basic_life(trn_rolling_element element, double C, double P, double omega,
                                  double *L10_rev, double *L10_h);

typedef enum trn_a1_edition { TRN_A1_2007, TRN_A1_1990 } trn_a1_edition;

/* Minimum life over L10 behind a1 (2007): 0.05 unless it was replaced (constants.h).
 * Source: ISO 281:2007. Standing: memory. Checked by tests/constants.c */
double trn_bearing_minimum_life(void);

/* Y tan alpha of tapered bearings: 0.4 unless it was replaced (constants.h).
 * Source: ISO 281:2007, table 10. Standing: memory. Checked by tests/constants.c */
double trn_bearing_tapered_factor(void);

/* Life factor for reliability.
 *
 *   a1 = g + (1 - g) [ln(1/R)/ln(1/0.9)]^(2/3) ;  g = 0.05 (2007), 0 (1990)
 *
 * Given:    R        reliability, fraction, 0 < R < 1
 *           edition
 * Returned: a1       not rounded
 * Status:   TRN_E_DOMAIN; TRN_R_BEARING_RELIABILITY outside 0.90 to 0.9995 (2007), 0.99 (1990)
 * Source:   ISO 281:2007 Table 12; ISO 281:1990
 * Standing: 2007 memory, 1990 published
 * Checked by tests/published/bearing.csv, tests/bearing_life.c */
trn_status trn_bearing_reliability_factor(double R, trn_a1_edition edition, double *a1);

/* Reference viscosity nu1; kappa = nu/nu1.
 *
 *   nu1 = 45000 n^-0.83 Dpw^-0.5 below 1000 r/min, else 4500 n^-0.5 Dpw^-0.5 (mm2/s, r/min, mm)
 *
 * Given:    omega  speed of rotation, rad/s, > 0
 *           Dpw    pitch diameter, m, > 0; (bore + outside)/2 will do
 * Returned: nu1    m2/s
 * Status:   TRN_E_DOMAIN
 * Valid for the operating temperature. The step of 2.3 % at 1000 r/min is in the standard.
 * Source:   ISO 281:2007
 * Standing: published
 * Checked by tests/published/bearing.csv, tests/bearing_life.c */
trn_status trn_bearing_reference_viscosity(double omega, double Dpw, double *nu1);

/* Life modification factor a_ISO.
 *
 *   ball   0.1 [1 - s^0.83 x^(1/3)]^-9.3 ;  roller  0.1 [1 - s x^0.4]^-9.185
 *   thrust bearings with x/3 (ball), x/2.5 (roller); s(kappa) in three branches
 *
 * Given:    kind
 *           kappa  > 0; above 4 counts as 4
 *           x      e_C Cu/P, >= 0; above 5 counts as 5
 * Returned: a_iso  0.1 to 50
 * Status:   TRN_E_DOMAIN; TRN_R_BEARING_KAPPA below 0.1 (a_iso = 0.1), TRN_R_BEARING_X
 * Source:   ISO 281:2007 9.3
 * Standing: radial published, thrust and limits memory
 * Checked by tests/published/bearing.csv, tests/bearing_life.c */
trn_status trn_bearing_life_factor(trn_life_kind kind, double kappa, double x, double *a_iso);

/* Fatigue load limit, short form.
 *
 *   ball Cu = C0/22 min(1, (100/Dpw)^0.5) ;  roller Cu = C0/8.2 min(1, (100/Dpw)^0.3), Dpw in mm
 *
 * Given:    element, C0 (N, > 0), Dpw (m, > 0)
 * Returned: Cu, N
 * Status:   TRN_E_DOMAIN
 * Source:   ISO 281:2007 Annex B
 * Standing: memory
 * Checked by tests/published/bearing.csv, tests/bearing_life.c */
trn_status trn_bearing_fatigue_limit(trn_rolling_element element, double C0, double Dpw,
                                     double *Cu);

/* ---- oil cleanliness: src/physics/bearing_clean.c ----------------------------------------- */

typedef enum trn_bath_regime {
    TRN_REGIME_FILTERED, /* circulating, on-line filter */
    TRN_REGIME_BATH,     /* bath, or circulating with an off-line filter only */
    TRN_REGIME_GREASE
} trn_bath_regime;

typedef enum trn_cleanliness_class {
    TRN_CLASS_13_10,
    TRN_CLASS_15_12,
    TRN_CLASS_17_14,
    TRN_CLASS_19_16,
    TRN_CLASS_21_18, /* bath alone */
    TRN_CLASS_HIGH,  /* this and the next four: grease alone */
    TRN_CLASS_NORMAL,
    TRN_CLASS_SLIGHT,
    TRN_CLASS_SEVERE,
    TRN_CLASS_VERY_SEVERE,
    TRN_CLASS_BEYOND, /* dirtier than 21/18, bath alone: e_C = 0 */
    TRN_CLASSES
} trn_cleanliness_class;

/* Constants of the contamination factor.
 *
 *   e_C = min(1, c kappa^0.68 Dpw^0.55) (1 - b Dpw^(-1/3)), Dpw in mm
 *
 * Given:    regime, clean
 *           Dpw    m, > 0; from 500 mm on another b where grease is slightly dirty
 * Returned: c, b
 * Status:   TRN_E_DOMAIN, also for a class that the regime does not have and for beyond
 * Source:   ISO 281:2007 Annex A
 * Standing: memory; bath 13/10 in dispute
 * Checked by tests/bearing_life.c */
trn_status trn_bearing_cleanliness_values(trn_bath_regime regime, trn_cleanliness_class clean,
                                          double Dpw, double *c, double *b);

/* Contamination factor e_C.
 *
 *   e_C = min(1, c kappa^0.68 Dpw^0.55) (1 - b Dpw^(-1/3)), limited to 0 ... 1, Dpw in mm
 *
 * Given:    regime, clean
 *           kappa  > 0; above 4 counts as 4
 *           Dpw    m, > 0
 * Returned: e_C
 * Status:   TRN_E_DOMAIN, also for a class that the regime does not have;
 *           TRN_R_BEARING_NO_E_C where e_C = 0
 * Source:   ISO 281:2007 Annex A
 * Standing: memory, all constants; bath 13/10 in dispute
 * Checked by tests/published/bearing.csv, tests/bearing_life.c */
trn_status trn_bearing_cleanliness(trn_bath_regime regime, trn_cleanliness_class clean,
                                   double kappa, double Dpw, double *e_C);

/* Bath class of an ISO 4406 code: the cleanest class that neither number exceeds.
 *
 * Given:    r6, r14  code numbers at 6 and 14 um (the last two of three), r6 >= r14 >= 0
 * Returned: clean    TRN_CLASS_BEYOND past 21/18
 * Status:   TRN_E_DOMAIN, also where r14 > r6: no oil has more large particles than small
 * Source:   ISO 281:2007 Annex A; in between, the dirtier class
 * Standing: memory, practice
 * Checked by tests/bearing_life.c */
trn_status trn_bearing_class_of_code(double r6, double r14, trn_cleanliness_class *clean);

/* The same from the number at 14 um alone (r14 >= 0): up to 10, 12, 14, 16, 18.
 * Status: TRN_E_DOMAIN. Standing: memory, practice. Checked by tests/bearing_life.c */
trn_status trn_bearing_class_of_r14(double r14, trn_cleanliness_class *clean);

/* Reads `19/16` or `21/19/16` (`-/19/16`): r6 and r14 are the last two of it. TRN_E_NUMBER where
 * the text is no such code.
 * Returned: code numbers, pure. Checked by tests/bearing_life.c */
trn_status trn_bearing_code_of_text(const char *text, double *r6, double *r14);

/* ---- modified life: src/physics/bearing_life.c -------------------------------------------- */

typedef struct trn_modified_life_case {
    trn_life_kind kind;
    double C, Cu, P; /* N, > 0 */
    double omega;    /* rad/s, > 0 */
    double nu;       /* m2/s at the operating temperature, > 0 */
    double Dpw;      /* m, > 0 */
    trn_bath_regime regime;
    trn_cleanliness_class clean;
    double R; /* reliability, fraction, 0 < R < 1 */
} trn_modified_life_case;

typedef struct trn_modified_life {
    double kappa; /* nu/nu1, not limited */
    double e_C, a_iso;
    double L10_h, Lnm_h; /* hours; Lnm = a1 (2007) a_iso L10 */
} trn_modified_life;

/* Modified rating life in one call.
 *
 *   kappa = nu/nu1 ;  a_iso(kappa, e_C Cu/P) ;  Lnmh = a1 a_iso L10h
 *
 * Given:    in    P is the equivalent load, never Fr alone
 * Returned: out
 * Status:   TRN_E_DOMAIN; of the remarks of its parts the first in the list of status.h
 * Source:   ISO 281:2007 with Annex A
 * Standing: memory
 * Checked by tests/published/bearing.csv, tests/bearing_life.c */
trn_status trn_bearing_modified_life(trn_modified_life_case in, trn_modified_life *out);

/* ---- sums and systems: src/physics/bearing_system.c --------------------------------------- */

/* Life over a duty: 1/L = sum q_i/L_i.
 *
 * Given:    n          levels, >= 1
 *           q[n]       shares of time, fractions, >= 0, their sum > 0
 *           level_h[n] life at each level, h, > 0; INFINITY for a level without damage
 * Returned: life_h     h; INFINITY where no level does damage
 * Status:   TRN_E_MISSING (n = 0), TRN_E_DOMAIN; TRN_R_BEARING_SHARES where the sum of q is not 1
 * Source:   Palmgren, Miner
 * Standing: derived
 * Checked by tests/bearing_life.c */
trn_status trn_bearing_duty_life(size_t n, const double *q, const double *level_h,
                                 double *life_h);

/* Constant load and speed with the same damage, for the basic life alone.
 *
 *   Pm = [sum q n P^p/sum q n]^(1/p) ;  nm = sum q n/sum q
 *
 * Given:    n          levels, >= 1
 *           P[n]       N, >= 0
 *           omega[n]   rad/s, >= 0
 *           q[n]       weights of time, fractions, >= 0; sum q n > 0
 *           p          > 0
 * Returned: Pm (N), omega_m (rad/s)
 * Status:   TRN_E_MISSING (n = 0), TRN_E_DOMAIN; TRN_R_BEARING_SHARES where the sum of q is not 1
 * Source:   Palmgren, Miner
 * Standing: derived
 * Checked by tests/published/bearing.csv, tests/bearing_life.c */
trn_status trn_bearing_equivalent_load(size_t n, const double *P, const double *omega,
                                       const double *q, double p, double *Pm, double *omega_m);

/* Life of parts in series: L = (sum L_i^-e)^(-1/e).
 *
 * Given:    n          parts, >= 1
 *           part_h[n]  h, > 0; INFINITY for a part that does not fail
 *           e          Weibull slope common to them, > 0
 * Returned: life_h     h
 * Status:   TRN_E_MISSING (n = 0), TRN_E_DOMAIN
 * Source:   product of the survivals
 * Standing: derived; older slopes 10/9, 9/8 published
 * Checked by tests/published/bearing.csv, tests/bearing_life.c */
trn_status trn_bearing_system_life(size_t n, const double *part_h, double e, double *life_h);

/* Probability of survival.
 *
 *   R = exp{-ln(1/0.9) [max(0, (t/L10 - gamma)/(1 - gamma))]^beta}
 *
 * Given:    t_h     h, >= 0
 *           L10_h   h, > 0: the life at 90 %, without a1
 *           beta    slope, > 0
 *           gamma   minimum life over L10, 0 <= gamma < 1; 0 is the safe side
 * Returned: R       fraction
 * Status:   TRN_E_DOMAIN
 * Source:   Weibull through 90 % at L10; gamma 0.05 with beta 1.5 is the inverse of a1 (2007)
 * Standing: derived
 * Checked by tests/published/bearing.csv, tests/bearing_life.c */
trn_status trn_bearing_survival(double t_h, double L10_h, double beta, double gamma, double *R);

/* ---- ratings from the inside dimensions: src/physics/bearing_rating.c --------------------- */

typedef struct trn_bearing_build {
    trn_bearing_kind kind; /* deep_groove, cylindrical, tapered */
    unsigned Z;            /* rolling elements in a row, >= 1 */
    unsigned rows;         /* >= 1 */
    double Dw;             /* diameter of the element, m, > 0 */
    double Dpw;            /* pitch diameter, m; gamma = Dw cos alpha/Dpw <= 0.4 */
    double Lwe;            /* effective length of the roller, m, > 0; not used for balls */
    double alpha_rad;      /* contact angle, 0 to pi/4; cylindrical 0, tapered > 0 */
} trn_bearing_build;

typedef struct trn_bearing_rating {
    double f_c;   /* geometry factor for N and mm */
    double C, C0; /* N */
} trn_bearing_rating;

/* Dynamic and static rating.
 *
 *   ball    C = 1.3 f_c (i cos alpha)^0.7 Z^(2/3) Dw^1.8 ;  C0 = f0 i Z Dw^2 cos alpha
 *   roller  C = 1.1 f_c (i Lwe cos alpha)^(7/9) Z^(3/4) Dw^(29/27)
 *           C0 = 44 (1 - gamma) i Z Lwe Dw cos alpha        (N, mm)
 *
 * Given:    build
 * Returned: rating
 * Status:   TRN_E_DOMAIN, also where the elements do not fit in the circle;
 *           TRN_R_BEARING_GAMMA for rollers above gamma = 0.3
 * Valid for groove radii of 0.52 Dw (ball); makers quote up to 10 to 20 % more.
 * Source:   ISO 281:2007 5.1, 7.1; ISO 76:2006
 * Standing: memory
 * Checked by tests/published/bearing.csv, tests/bearing.c */
trn_status trn_bearing_rate(trn_bearing_build build, trn_bearing_rating *rating);

#ifdef __cplusplus
}
#endif
#endif
