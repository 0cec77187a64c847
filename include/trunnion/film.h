/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Oil film of a rolling contact against its roughness. */
#ifndef TRUNNION_FILM_H
#define TRUNNION_FILM_H

#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef struct trn_film_contact {
    double eta_pas;      /* dynamic viscosity of the bulk oil at normal pressure */
    double u_mps;        /* mean of both surface speeds relative to the contact */
    double alpha_per_pa; /* pressure coefficient of viscosity */
    double e_red_pa;     /* E' = 2/[(1 - v1^2)/E1 + (1 - v2^2)/E2] */
    double rx_m, ry_m;   /* reduced radii along and across the rolling direction */
    double load_n;
} trn_film_contact;

/* Smallest film thickness of a point contact.
 *
 *   U = eta u/(E' Rx),  G = alpha E',  W = F/(E' Rx^2),  k = 1.0339 (Ry/Rx)^0.636
 *   h = 3.63 Rx U^0.68 G^0.49 W^-0.073 [1 - exp(-0.68 k)]
 *
 * Given:    contact  all above 0
 * Returned: h_m      m
 * Status:   TRN_E_DOMAIN; TRN_R_WEAR_FLAT where Ry < Rx; TRN_R_WEAR_LINE where k > 8
 * Valid for smooth surfaces, steady, isothermal, fully flooded
 * Source:   Hamrock and Dowson 1977 [HD1977]; k Hamrock and Brewe 1983 [HB1983]
 * Standing: published, four digits of k memory
 * Checked by tests/published/lubricant.csv, tests/film.c */
trn_status trn_film_thickness(trn_film_contact contact, double *h_m);

/* Film ratio.
 *
 *   lambda = h/sqrt(Rq1^2 + Rq2^2)
 *
 * Given:    h_m      film thickness, m, 0 or more
 *           rq1_m, rq2_m  root-mean-square roughness of the surfaces, m, 0 or more, not both 0
 * Returned: lambda   1; below 1 the surfaces touch, 1 to 3 mixed, above 3 parted
 * Status:   TRN_E_DOMAIN
 * Source:   definition [WEAR-LAMBDA]
 * Standing: derived, bands memory
 * Checked by tests/published/lubricant.csv, tests/film.c */
trn_status trn_film_lambda(double h_m, double rq1_m, double rq2_m, double *lambda);

/* Reduced modulus with the factor 2.
 *
 *   E' = 2/[(1 - v1^2)/E1 + (1 - v2^2)/E2]
 *
 * Given:    e1_pa, e2_pa  moduli, Pa, above 0
 *           v1, v2        Poisson ratios, above -1, up to 0.5
 * Returned: e_red_pa      Pa
 * Status:   TRN_E_DOMAIN
 * Source:   Hamrock and Dowson 1977 [HD1977]
 * Standing: published
 * Checked by tests/film.c */
trn_status trn_film_reduced_modulus(double e1_pa, double v1, double e2_pa, double v2,
                                    double *e_red_pa);

/* Entrainment speed u of a rolling bearing of contact angle 0 whose outer ring stands still.
 *
 *   u = omega (dp^2 - dw^2)/(4 dp)
 *
 * Given:    n_rads     speed of the inner ring, rad/s, above 0
 *           pitch_m    dp, m
 *           element_m  dw, m, above 0, below dp
 * Returned: u_mps      m/s
 * Status:   TRN_E_DOMAIN
 * Source:   kinematics of pure rolling
 * Standing: derived
 * Checked by tests/film.c */
trn_status trn_film_bearing_speed(double n_rads, double pitch_m, double element_m,
                                  double *u_mps);

/* Share of the film that is left by heating in the inlet; trn_film_thickness leaves it out.
 *
 *   factor = 1/[1 + 1.84e-9 (n dm)^1.28 nu^0.64]   n in rev/min, dm in mm, nu in mm2/s
 *
 * Given:    n_rads     rad/s, above 0
 *           mean_m     mean diameter dm, m, above 0
 *           nu_m2s     m2/s, above 0
 * Returned: factor     1; below 0.95 it is worth a word
 * Status:   TRN_E_DOMAIN
 * Source:   rolling-bearing friction practice [WEAR-INLET]
 * Standing: memory
 * Checked by tests/film.c */
trn_status trn_film_inlet_heating(double n_rads, double mean_m, double nu_m2s, double *factor);

#ifdef __cplusplus
}
#endif
#endif
