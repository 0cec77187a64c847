/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a gear mesh loses: path of contact, virtual cylindrical gears of bevels, friction. */
#ifndef TRUNNION_GEAR_LOSS_H
#define TRUNNION_GEAR_LOSS_H

#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Transverse path of contact of a pair, and its loss factor. */
typedef struct trn_gear_path {
    double eps_1, eps_2; /* parts of the path on the tip side of gear 1 and of gear 2, in pitches */
    double eps_a;        /* transverse contact ratio, eps_1 + eps_2 */
    double H_v;          /* loss of the mesh = power * mean friction * H_v */
    double alpha_wt_rad; /* working transverse pressure angle */
    double beta_b_rad;   /* base helix angle, without sign */
} trn_gear_path;

/* Bevel pair and the virtual cylindrical pair at its mean cone distance. */
typedef struct trn_gear_bevel {
    double delta1_rad, delta2_rad; /* cone angles */
    double R_e_m, R_m_m;           /* outer and mean cone distance */
    double d_m1_m, d_m2_m;         /* mean pitch diameters */
    double d_v1_m, d_v2_m;         /* pitch diameters of the virtual gears */
    double z_v1, z_v2;             /* teeth of the virtual gears, with fractions */
    trn_gear_path path;
} trn_gear_bevel;

/* What the friction of a mesh depends on, at the pitch point. */
typedef struct trn_gear_touch {
    double F_over_b_n_m; /* transverse base tangential force per face width */
    double v_t_m_s;      /* pitch line speed */
    double v_sum_m_s;    /* sum of both flanks' rolling speeds */
    double rho_red_m;    /* reduced radius of curvature */
} trn_gear_touch;

/* Path of contact and loss factor of an external cylindrical pair.
 *
 *   r_b = z m cos alpha_t/(2 cos beta),  cos alpha_wt = (r_b1 + r_b2)/a_w
 *   eps_i = (sqrt(r_ai^2 - r_bi^2) - r_wi sin alpha_wt)/p_bt
 *   H_v = pi (1/z1 + 1/z2)/cos beta_b (1 - eps_a + eps_1^2 + eps_2^2)
 *
 * Given:    z1, z2          teeth, any real number > 0
 *           m_m             normal module, > 0
 *           alpha_rad       normal pressure angle, 0 < alpha < pi/4
 *           beta_rad        helix angle at the reference circle, |beta| < pi/3, sign without effect
 *           a_w_m           centre distance, not below r_b1 + r_b2
 *           d_a1_m, d_a2_m  tip diameters, outside the base circles
 * Returned: path
 * Status:   TRN_E_DOMAIN (also: no path, eps_a <= 0); TRN_R_GEAR_INTERFERENCE where a path reaches
 *           past the other gear's base circle; TRN_R_GEAR_PATH for eps_a < 1 or > 2 or one part < 0
 * Valid for spur and helical pairs without mesh deviations; load halved in double contact. With
 *           one part above 1 the closed form lies about 1 % above the integral over the path.
 * Source:   Ohlendorf; Niemann and Winter, Maschinenelemente II; ISO/TR 14179-2:2001
 * Standing: memory; derived by integration over the path
 * Checked by tests/published/heat.csv, tests/gear_loss.c */
trn_status trn_gear_loss_factor(double z1, double z2, double m_m, double alpha_rad,
                                double beta_rad, double a_w_m, double d_a1_m, double d_a2_m,
                                trn_gear_path *path);

/* Bevel pair without offset as a virtual cylindrical pair at the mean cone distance.
 *
 *   tan delta1 = sin Sigma/(z2/z1 + cos Sigma),  R_m = R_e - b/2,  d_v = d_m/cos delta
 *   d_va = d_v + 2 m_mn,  tan alpha_vt = tan alpha/cos psi,  sin beta_vb = sin psi cos alpha
 *
 * Given:    z1, z2      teeth, > 0
 *           m_et_m      outer transverse module, > 0
 *           b_m         face width, 0 < b < R_e
 *           alpha_rad   normal pressure angle, 0 < alpha < pi/4
 *           Sigma_rad   shaft angle, 0 < Sigma < pi; both cone angles below a right angle
 *           psi_rad     mean spiral angle, |psi| < pi/3
 * Returned: pair
 * Status:   TRN_E_DOMAIN; the remarks of trn_gear_loss_factor; TRN_R_GEAR_FACE for b > 0.35 R_e
 * Valid for straight and spiral bevels with one mean normal module of addendum on both gears; other
 *           addenda shift the parts of the path by a few per cent. No hypoid offset.
 * Source:   ISO 10300-1, virtual cylindrical gears; ISO 23509, standard addendum
 * Standing: memory (forms), derived (geometry)
 * Checked by tests/published/heat.csv, tests/gear_loss.c */
trn_status trn_gear_bevel_virtual(double z1, double z2, double m_et_m, double b_m,
                                  double alpha_rad, double Sigma_rad, double psi_rad,
                                  trn_gear_bevel *pair);

/* Force, speeds and curvature at the pitch point of a pair at its standard centre distance.
 *
 *   F_bt/b = 2 T1/(d1 cos alpha_t b),  v_t = omega1 d1/2,  v_sum = 2 v_t sin alpha_t
 *   rho_red = r_v1 r_v2 sin alpha_t/((r_v1 + r_v2) cos beta_b)
 *
 * Given:    T1_nm            torque of gear 1, >= 0
 *           omega1_rad_s     its speed, >= 0
 *           d1_m             its pitch diameter, bevel: the mean one; > 0
 *           b_m              the smaller face width, > 0
 *           d_v1_m, d_v2_m   pitch diameters, bevel: of the virtual gears; > 0
 *           alpha_rad, beta_rad  normal pressure angle, helix or spiral angle, as above
 * Returned: touch
 * Status:   TRN_E_DOMAIN
 * Source:   ISO/TR 14179-2:2001
 * Standing: memory (force and speeds as the method takes them), derived (geometry)
 * Checked by tests/gear_loss.c */
trn_status trn_gear_contact(double T1_nm, double omega1_rad_s, double d1_m, double b_m,
                            double d_v1_m, double d_v2_m, double alpha_rad, double beta_rad,
                            trn_gear_touch *touch);

/* Mean friction along the path of contact.
 *
 *   mu = 0.048 (max(F_bt/b, 150)/(v_sum rho_red))^0.2 eta^-0.05 Ra^0.25 X_L
 *                                                            [N/mm, m/s, mm, mPa.s, um]
 *
 * Given:    F_over_b_n_m   transverse base tangential force per width, >= 0
 *           v_sum_m_s      sum speed at the pitch point, > 0
 *           rho_red_m      reduced radius there, > 0
 *           eta_pa_s       dynamic viscosity at the oil temperature, > 0
 *           Ra_m           mean of both flanks' roughness, > 0
 *           X_L            lubricant factor, > 0: mineral 1, polyalphaolefin and ester 0.8,
 *                          polyglycol 0.75 (6/v_sum)^0.2
 * Returned: mu
 * Status:   TRN_E_DOMAIN; TRN_R_GEAR_LIGHT below 150 N/mm, where the method takes 150
 * Valid for pitch line speeds up to 50 m/s
 * Source:   Schlenk; ISO/TR 14179-2:2001
 * Standing: memory (form high, lubricant factor medium)
 * Checked by tests/published/heat.csv, tests/gear_loss.c */
trn_status trn_gear_friction(double F_over_b_n_m, double v_sum_m_s, double rho_red_m,
                             double eta_pa_s, double Ra_m, double X_L, double *mu);

#ifdef __cplusplus
}
#endif
#endif
