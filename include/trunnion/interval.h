/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Service intervals: rates at which dust, water, heat, shock and motion use a lubricant up, budgets
 * of a sump, the service clock, and what an interval costs. */
#ifndef TRUNNION_INTERVAL_H
#define TRUNNION_INTERVAL_H

#include <stddef.h>
#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Rate at which dust spends an oil's dirt budget, against the reference condition.
 *
 *   r = (1 - x) + x C/C_ref
 *
 * Given:    c, c_ref  dust in the air, kg/m3, c >= 0, c_ref > 0
 *           x         share of the dirt load that is airborne dust at the reference, 0 to 1
 * Returned: rate      1 at the reference
 * Status:   TRN_E_DOMAIN
 * Valid for the comparison of a duty with the condition that the manual's interval holds for.
 * Source:   chosen line through the reference; x so that C/C_ref of 10 to 20 halves the interval
 * Standing: form chosen, halving published
 * Checked by tests/published/interval.csv, tests/interval.c */
trn_status trn_interval_dust_rate(double c, double c_ref, double x, double *rate);

/* Factors of a greasing interval; each is 1 or less, f is their product, not below 0.1. */
typedef struct trn_grease_factors {
    double dust, shock, heat, load, motion;
    double f;
} trn_grease_factors;

/* Floor of that product. */
extern const double trn_interval_product_floor;

/* Factors of a greasing interval against an ideal condition.
 *
 *   straight lines through the edges of the worksheet's bands, constant outside; dust in ln C;
 *   heat 2^(-(T - 70 degC)/15 K) above 70 degC; motion min(1, 1/motion)
 *
 * Given:    dust    kg/m3, >= 0
 *           shock   application factor, >= 1
 *           t_k     temperature of the point, K, >= 0
 *           load    P/C without the shock factor, >= 0
 *           motion  speed times angle over the same at the reference, >= 0
 * Returned: factors
 * Status:   TRN_E_DOMAIN
 * Valid for points greased by hand; a product below 0.1 calls for automatic feed or a better seal.
 * Source:   GfT Arbeitsblatt 3 (bands); relubrication adjustment tables (heat)
 * Standing: bands memory, mg/m3 and shock put on their edges chosen, heat published, motion chosen
 * Checked by tests/published/interval.csv, tests/interval.c */
trn_status trn_interval_grease_factor(double dust, double shock, double t_k, double load,
                                      double motion, trn_grease_factors *factors);

/* The lines of its factors of dust (mg/m3, straight in the logarithm) and of shock, for code that
 * goes along them for many values at once. */
typedef struct trn_grease_knee {
    double x, f;
} trn_grease_knee;
/* Knees of the dust factor, mg/m3 against factor 0.1 to 1; *count of them. Straight in the
 * logarithm between. Source: grease worksheet of the interval page. Standing: memory, chosen.
 * Checked by tests/published/interval.csv */
const trn_grease_knee *trn_interval_dust_knees(size_t *count);
/* Knees of the shock factor, application factor against factor 0.1 to 1; *count of them.
 * Standing: memory, chosen. Checked by tests/published/interval.csv */
const trn_grease_knee *trn_interval_shock_knees(size_t *count);

/* Part of an interval that a condition leaves: min(1, f/f_ref), both 0.1 to 1 as above.
 * Status: TRN_E_DOMAIN. Standing: chosen (never longer than the manual's).
 * Checked by tests/interval.c, tests/mechanism.c */
trn_status trn_interval_grease_ratio(double f, double f_ref, double *ratio);

/* Rate at which friction and heat use additives up, against full power at the reference.
 *
 *   r = lambda 2^[(T - T_ref)/step]
 *
 * Given:    load_ratio  power over rated power, >= 0
 *           t_k, ref_k  oil temperature and that of the reference, K, > 0
 *           step_k      rise that doubles the rate, K, > 0
 * Returned: rate
 * Status:   TRN_E_DOMAIN; TRN_R_INTERVAL_ADDITIVE_RANGE outside 50 to 110 degC
 * Source:   10 K rule, gear-unit manual B
 * Standing: form chosen, 10 K practice
 * Checked by tests/interval.c */
trn_status trn_interval_additive_rate(double load_ratio, double t_k, double ref_k, double step_k,
                                      double *rate);

/* Interval of an anchored mechanism: T = s T_m/r; r = 0 gives inf.
 * Given: manual_s > 0 (s), rate >= 0, margin > 0. Status: TRN_E_DOMAIN. Standing: chosen.
 * Returned: t_s (s). Checked by tests/interval.c, tests/mechanism.c */
trn_status trn_interval_anchored(double manual_s, double rate, double margin, double *t_s);

/* Start of a steady cycle and hours until a stirred sump with residual oil reaches a content.
 *
 *   C_0 = (1 - rho) C_new + rho B,  dC/dt = s/m - k (C - C_eq)
 *   T = ln[1 + k (B - C_0)/(s/m - k (B - C_eq))]/k   (k = 0: (B - C_0) m/s)
 *
 * Given:    budget     B, mass fraction, > 0
 *           oil_kg     m, > 0
 *           source     s, kg/s, >= 0
 *           removal    k, 1/s, >= 0
 *           fresh, equilibrium  C_new, C_eq, mass fractions, >= 0
 *           residual   rho, fraction of old oil left at a change, 0 <= rho < 1
 * Returned: start      C_0, mass fraction
 *           t_s        s; 0 where C_0 is at B or above; inf where B is never reached
 * Status:   TRN_E_DOMAIN
 * Source:   mass balance
 * Standing: derived
 * Checked by tests/published/interval.csv, tests/interval.c */
trn_status trn_interval_budget(double budget, double oil_kg, double source, double removal,
                               double fresh, double equilibrium, double residual, double *start,
                               double *t_s);

/* Time in which the same sump goes from one content up to a level: 0 where it starts there or
 * above, inf where it never gets there. Units and status as above; start, level >= 0.
 * Standing: derived. Checked by tests/interval.c */
trn_status trn_interval_time_to(double level, double start, double oil_kg, double source,
                                double removal, double equilibrium, double *t_s);

/* Content of the same sump after t_s (>= 0): start + (s/m - k (start - C_eq)) (1 - e^(-k t))/k.
 * Units, status as above. Standing: derived. Checked by tests/interval.c */
trn_status trn_interval_content(double t_s, double start, double oil_kg, double source,
                                double removal, double equilibrium, double *content);

/* Water source that two samples of one fill show, dt apart (the inverse of the above).
 *
 *   s = m k [(w2 - C_eq) - (w1 - C_eq) e^(-k dt)]/(1 - e^(-k dt)),  k = 0: m (w2 - w1)/dt
 *
 * Given:    w1, w2 mass fractions >= 0; dt_s > 0; oil_kg > 0; removal 1/s >= 0; equilibrium >= 0
 * Returned: source kg/s, not below 0
 * Status:   TRN_E_DOMAIN. Standing: derived. Checked by tests/interval.c */
trn_status trn_interval_water_source(double w1, double w2, double dt_s, double oil_kg,
                                     double removal, double equilibrium, double *source);

/* Drying of warm oil: 0 up to dry_k, full from full_k, straight between.
 * Given: t_k >= 0; full_rate 1/s >= 0; 0 <= dry_k < full_k. Status: TRN_E_DOMAIN.
 * Standing: chosen.
 * Returned: removal (1/s). Checked by tests/interval.c */
trn_status trn_interval_drying(double t_k, double full_rate, double dry_k, double full_k,
                               double *removal);

/* Ageing interval with water as a catalyst.
 *
 *   integral_0^T F(w) dt = Lbar;  F = 1 up to t1, f_damp up to t2, f_wet after
 *
 * Given:    life_s        Lbar, duty-averaged life of the dry oil, > 0
 *           t1_s, t2_s    times at which the water gets to the two levels, t1 <= t2, inf: never
 *           f_damp, f_wet factors, 1 <= f_damp <= f_wet
 * Returned: t_s
 * Status:   TRN_E_DOMAIN
 * Source:   bench catalyst hours (Weinschelbaum), factors set far below them
 * Standing: chosen
 * Checked by tests/interval.c, tests/mechanism.c */
trn_status trn_interval_ageing(double life_s, double t1_s, double t2_s, double f_damp,
                               double f_wet, double *t_s);

/* Part of the ageing budget spent after t_s: the integral of F over Lbar, same inputs.
 * Returned: spent, fraction (1: all). Status: TRN_E_DOMAIN. Standing: chosen.
 * Checked by tests/interval.c */
trn_status trn_interval_aged(double t_s, double life_s, double t1_s, double t2_s, double f_damp,
                             double f_wet, double *spent);

/* Dust rate and outside-air equivalent that a silicon rise shows.
 *
 *   s = (dSi/f_Si) m/t,  Q = s/C
 *
 * Given:    silicon    rise above the new oil's own, mass fraction, >= 0
 *           t_s        over this time, s, > 0
 *           oil_kg     > 0
 *           dust       mean dust of the same time, kg/m3, > 0
 *           f_si       silicon in the dust, 0 < f_si <= 0.467 (pure silica)
 * Returned: source     dust, kg/s
 *           intake     Q, m3/s
 * Status:   TRN_E_DOMAIN
 * Valid for silicon that is dirt (aluminium rises too) after at least 50 h on the oil; a lower
 * bound, because a spectrometer misses most of what is above 5 to 8 um.
 * Source:   mass balance; silicon share of soils and test dusts
 * Standing: derived, f_Si chosen
 * Checked by tests/published/interval.csv, tests/interval.c */
trn_status trn_interval_intake(double silicon, double t_s, double oil_kg, double dust, double f_si,
                               double *source, double *intake);

/* Steps of the service clock, rising, h.
 * *count of them; a static list. Source: the interval page. Standing: practice.
 * Checked by tests/published/interval.csv */
const double *trn_interval_steps_h(size_t *count);

/* Largest step of the service clock not above t_s (1 + 1e-9).
 *
 * Given:    t_s  any interval, s, at least the lowest step (4 h), finite
 * Returned: step_s
 * Status:   TRN_E_DOMAIN
 * Source:   tractor and implement schedules
 * Standing: practice
 * Checked by tests/published/interval.csv, tests/interval.c */
trn_status trn_interval_step(double t_s, double *step_s);

/* Services a year where each wash calls for one and restarts the clock, washes at random.
 *
 *   N = W/(1 - exp(-W T/H)),  W = 0: H/T
 *
 * Given:    t_s, hours_s  interval and use in the year, > 0;  washes  in the year, >= 0
 * Returned: visits
 * Status:   TRN_E_DOMAIN
 * Source:   renewal process
 * Standing: derived
 * Checked by tests/published/interval.csv, tests/interval.c */
trn_status trn_interval_visits(double t_s, double hours_s, double washes, double *visits);

/* Cheapest oil-change interval where wear grows linearly with the dust in the oil.
 *
 *   g(T) = c_change/T + (c_gear/L0)(1 + s T/(2 m C_s))
 *   T_opt = sqrt[2 c_change m C_s L0/(c_gear s)],  g_opt = c_gear/L0 + 2 c_change/T_opt
 *
 * Given:    change, gear  cost of a change and of the gearbox, one currency, > 0
 *           life_s        gear life in clean oil, s, > 0
 *           c_s           dust in oil that doubles the wear, mass fraction, > 0
 *           oil_kg        > 0
 *           source        dust, kg/s, > 0
 * Returned: t_s, cost_per_s
 * Status:   TRN_E_DOMAIN
 * Valid without sudden failures and without ageing: beside a recommendation, never instead of it.
 * Source:   linear wear law, balance of costs
 * Standing: derived
 * Checked by tests/published/interval.csv, tests/interval.c */
trn_status trn_interval_oil_cost(double change, double gear, double life_s, double c_s,
                                 double oil_kg, double source, double *t_s, double *cost_per_s);

/* Cost per time of a given interval, with residual oil in the steady cycle:
 * g = change/T + (gear/L0){1 + [s T/(m C_s)][1/(1 - rho) - 1/2]}. Inputs as above, all > 0,
 * 0 <= residual < 1. Status: TRN_E_DOMAIN.
 * Returned: cost_per_s, money per second. Standing: derived. Checked by tests/interval.c */
trn_status trn_interval_oil_cost_at(double t_s, double residual, double change, double gear,
                                    double life_s, double c_s, double oil_kg, double source,
                                    double *cost_per_s);

/* The interval at which that cost is least, and the cost there.
 * Units, status as above; t_s in s. Standing: derived. Checked by tests/interval.c */
trn_status trn_interval_oil_cost_best(double residual, double change, double gear, double life_s,
                                      double c_s, double oil_kg, double source, double *t_s,
                                      double *cost_per_s);

/* Cheapest age at which to replace a part before it fails, Weibull life.
 *
 *   g(T) = [c_p R + c_f (1 - R)]/integral_0^T R dt
 *   h(T) integral_0^T R dt - F(T) = c_p/(c_f - c_p)
 *
 * Given:    beta, eta_s     slope > 1 and scale > 0, s
 *           planned, failure  cost of a planned replacement > 0 and of one after failure > planned
 * Returned: t_s             best age (inf: beyond any number, with the remark)
 *           cost_per_s      g there
 *           run_to_failure  c_f/(eta Gamma(1 + 1/beta)), per s
 * Status:   TRN_E_DOMAIN (beta <= 1 too: no finite best age); TRN_E_CONVERGE;
 *           TRN_R_INTERVAL_AGE_FAR
 * Source:   Barlow & Proschan 1965; Glasser 1967
 * Standing: published
 * Checked by tests/published/interval.csv, tests/interval.c */
trn_status trn_interval_age_replacement(double beta, double eta_s, double planned, double failure,
                                        double *t_s, double *cost_per_s, double *run_to_failure);

#ifdef __cplusplus
}
#endif
#endif
