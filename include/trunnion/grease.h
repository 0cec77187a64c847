/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Grease of rolling bearings: interval, quantity, life, heat; generic greases; mixing. */
#ifndef TRUNNION_GREASE_H
#define TRUNNION_GREASE_H

#include <stddef.h>
#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef enum trn_grease_bearing {
    TRN_GREASE_BALL = 0,
    TRN_GREASE_CYLINDRICAL,
    TRN_GREASE_NEEDLE,
    TRN_GREASE_SPHERICAL,
    TRN_GREASE_TAPERED,
    TRN_GREASE_BEARINGS
} trn_grease_bearing;

/* Names of the kinds by number, NULL at the end. */
extern const char *const trn_grease_bearings[];

/* Relubrication interval.
 *
 *   t_f = k (14e6/(n sqrt d) - 4 d)   h, n in rev/min, d in mm
 *   k = 10 ball, 5 cylindrical and needle, 1 spherical and tapered
 *
 * Given:    kind
 *           n_rads   speed, rad/s, above 0
 *           bore_m   d, m, above 0
 * Returned: interval_s  s
 * Status:   TRN_E_DOMAIN, also where nothing is left (too fast for grease);
 *           TRN_R_GREASE_AGES above 30 000 h
 * Valid for up to 70 degC, clean, P/C up to 0.1, horizontal shaft, turning inner ring; not for
 *           the oscillating bearings of a universal joint
 * Source:   Tribology Handbook (Neale, ed.), section A20 [GREASE-NEALE]
 * Standing: published
 * Checked by tests/published/lubricant.csv, tests/grease.c */
trn_status trn_grease_interval(trn_grease_bearing kind, double n_rads, double bore_m,
                               double *interval_s);

/* Quantity of one relubrication.
 *
 *   G = 0.005 D B   g, mm
 *
 * Given:    outside_m, width_m  of the bearing, m, above 0
 * Returned: grease_kg           kg
 * Status:   TRN_E_DOMAIN
 * Source:   Tribology Handbook (Neale, ed.), section A20 [GREASE-NEALE]
 * Standing: published
 * Checked by tests/published/lubricant.csv, tests/grease.c */
trn_status trn_grease_quantity(double outside_m, double width_m, double *grease_kg);

typedef struct trn_grease_duty {
    double t_k;          /* above 0.15 K, where the law of the forecast has its pole */
    double n_rads;       /* above 0 */
    double bore_m;       /* above 0 */
    double nd_limit_mps; /* turns a second times bore that the grease allows, above 0 */
    double radial_n;     /* 0 or more */
    double rating_n;     /* dynamic rating, above 0 */
    double kind_loss;    /* S_G: 0 for good modern greases, more for old soaps */
} trn_grease_duty;

/* Life of the grease in a ball bearing, median.
 *
 *   log10 L50 = -2.60 + 2450/(273 + T) - 0.301 (S_G + S_N + S_W)   h, T in degC
 *   S_N = 0.86 n D/n_d_limit,  S_W = 0.61 n D W/C^2   rev/min, mm, pounds-force
 *
 * Given:    duty
 * Returned: life_s   L50, s
 * Status:   TRN_E_DOMAIN; TRN_R_GREASE_SPEED above the limit of speed; TRN_R_GREASE_COOL below
 *           70 degC
 * Valid for 70 degC to the limit of the grease
 * Source:   Booser 1974; Khonsari and Booser, Applied Tribology [GREASE-BOOSER]
 * Standing: memory
 * Checked by tests/published/lubricant.csv, tests/grease.c */
trn_status trn_grease_life(trn_grease_duty duty, double *life_s);

/* Factor on a relubrication interval for heat.
 *
 *   f = 2^(-(T - 70 degC)/15 K) above 70 degC, 1 at and below
 *
 * Given:    t_k      bearing temperature, K, above 0
 * Returned: factor   1
 * Status:   TRN_E_DOMAIN
 * Valid for up to the limit of the grease; no credit below 70 degC is a choice
 * Source:   rolling-bearing relubrication tables [GREASE-TABLES]
 * Standing: published above 70 degC, choice below
 * Checked by tests/published/lubricant.csv, tests/grease.c */
trn_status trn_grease_heat_factor(double t_k, double *factor);

/* A generic grease, no product, in the units of the case tables and with their digits. */
typedef struct trn_grease_data {
    const char *name, *thickener, *nlgi;
    double base_kv40_mm2s, base_kv100_mm2s; /* of the base oil */
    double limit_degc;                      /* highest lasting temperature */
    const char *note;
} trn_grease_data;

/* Row i of the generic greases, NULL past the end.
 * Standing: chosen and memory, as each row says. Checked by tests/grease.c */
const trn_grease_data *trn_grease_generic(size_t i);

/* What to say in a plan that changes a grease or an oil; paragraphs parted by \n. */
extern const char trn_grease_mixing_caution[];

#ifdef __cplusplus
}
#endif
#endif
