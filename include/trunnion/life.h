/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One Weibull life distribution, given by its ten-percent life and slope; several of them in
 * series; what a test without failure shows. Hours stand for any unit of life. */
#ifndef TRUNNION_LIFE_H
#define TRUNNION_LIFE_H

#include <stddef.h>
#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Share of units that have failed by an age.
 *
 *   F(t) = 1 - 0.9^((t/L10)^beta)
 *
 * Given:    t_h      age, h, t >= 0
 *           l10_h    life that 90 % reach, h, > 0
 *           beta     slope, > 0
 * Returned: failed   F, fraction
 * Status:   TRN_E_DOMAIN
 * Valid for two-parameter Weibull lives (no minimum life).
 * Source:   Weibull distribution, any textbook of life statistics (Nelson 1982)
 * Standing: memory, confirmed by arithmetic
 * Checked by tests/published/review.csv, tests/life.c */
trn_status trn_life_probability(double t_h, double l10_h, double beta, double *failed);

/* Age by which a share of the units has failed.
 *
 *   t = L10 (ln(1 - p)/ln 0.9)^(1/beta)
 *
 * Given:    p        share failed, fraction, 0 < p < 1
 *           l10_h, beta   as above
 * Returned: t_h      h
 * Status:   TRN_E_DOMAIN
 * Valid for, Source, Standing, Checked by: as trn_life_probability */
trn_status trn_life_quantile(double p, double l10_h, double beta, double *t_h);

/* Characteristic life, median and mean.
 *
 *   eta = L10 q^(-1/beta),  q = -ln 0.9;  L50 = eta (ln 2)^(1/beta);  mean = eta Gamma(1 + 1/beta)
 *
 * Given:    l10_h, beta   as above
 * Returned: eta_h, l50_h, mean_h   h
 * Status:   TRN_E_DOMAIN, also where a slope near 0 puts one of them beyond any number
 * Valid for, Source, Standing, Checked by: as trn_life_probability */
trn_status trn_life_scale(double l10_h, double beta, double *eta_h, double *l50_h,
                          double *mean_h);

/* Probability that a unit sound at age t0 fails within H more hours.
 *
 *   F = 1 - exp(-q (((t0 + H)/L10)^beta - (t0/L10)^beta))
 *
 * Given:    t0_h, further_h   h, >= 0; l10_h, beta as above
 * Returned: failed            fraction
 * Status:   TRN_E_DOMAIN
 * Valid for, Source, Standing, Checked by: as trn_life_probability */
trn_status trn_life_conditional(double t0_h, double further_h, double l10_h, double beta,
                                double *failed);

/* Further hours in which a share of the units sound at age t0 fails.
 *
 *   H = L10 ((t0/L10)^beta + ln(1 - p)/ln 0.9)^(1/beta) - t0
 *
 * Given:    t0_h h, >= 0; p fraction, 0 < p < 1; l10_h, beta as above
 * Returned: further_h   h
 * Status:   TRN_E_DOMAIN
 * Valid for, Source, Standing, Checked by: as trn_life_probability */
trn_status trn_life_conditional_quantile(double t0_h, double p, double l10_h, double beta,
                                         double *further_h);

/* Mean of the hours still to come for a unit sound at age t0.
 *
 *   m = eta e^z Gamma(1 + 1/beta) Q(1/beta, z),  z = (t0/eta)^beta
 *
 * Given:    t0_h h, >= 0; l10_h, beta as above
 * Returned: mean_h   h
 * Status:   TRN_E_DOMAIN
 * Valid for, Source, Standing, Checked by: as trn_life_probability */
trn_status trn_life_mean_residual(double t0_h, double l10_h, double beta, double *mean_h);

/* Survival with the minimum life that the reliability factors of rolling bearings imply.
 *
 *   R = 1 for t <= 0.05 L10, else 0.9^(((t/L10 - 0.05)/0.95)^1.5);  F = 1 - R
 *
 * Given:    t_h h, >= 0; l10_h h, > 0
 * Returned: survive, failed   with the minimum life, fractions
 *           failed_plain      slope 1.5 without it, fraction
 * Status:   TRN_E_DOMAIN
 * Valid for rolling bearings; far below L10 the two differ by a factor: show both.
 * Source:   ISO 281:2007, table of the reliability factor, which this form reproduces to its
 *           printed digits
 * Standing: table memory, form derived
 * Checked by tests/published/review.csv, tests/life.c */
trn_status trn_life_iso281(double t_h, double l10_h, double *survive, double *failed,
                           double *failed_plain);

/* Ten-percent life of parts in series: the unit fails with its first part.
 *
 *   root of sum (t/L_i)^beta_i = 1
 *
 * Given:    l10_h[n] h, > 0; beta[n] > 0; n >= 1
 * Returned: system_h   h
 * Status:   TRN_E_DOMAIN, TRN_E_MISSING (n = 0), TRN_E_MEMORY
 * Valid for parts that fail independently of each other.
 * Source:   product of the survivals; with one slope the usual sum of L^-beta
 * Standing: derived
 * Checked by tests/published/review.csv, tests/life.c */
trn_status trn_life_system(const double *l10_h, const double *beta, size_t n, double *system_h);

/* Life used up by hours at several conditions, and the probability of failure it implies.
 *
 *   D = sum h_j/L_j;  F = 1 - 0.9^(D^beta)
 *
 * Given:    hours_h[n] h, >= 0; l10_h[n] h, > 0; n >= 1; beta > 0
 * Returned: damage (D), failed   fractions
 * Status:   TRN_E_DOMAIN, TRN_E_MISSING (n = 0)
 * Valid for lives of one slope whatever the condition: exposure adds up, not probability.
 * Source:   cumulative exposure; linear damage rule
 * Standing: memory
 * Checked by tests/published/review.csv, tests/life.c */
trn_status trn_life_consumed(const double *hours_h, const double *l10_h, size_t n, double beta,
                             double *damage, double *failed);

/* Probability that at least one of n units fails.
 *
 *   P = 1 - (1 - F)^n
 *
 * Given:    failed   of each, fraction, 0 <= F <= 1
 *           units    n, whole, >= 1
 * Returned: any      fraction
 * Status:   TRN_E_DOMAIN
 * Valid for independent units.
 * Source:   binomial distribution
 * Standing: derived
 * Checked by tests/published/review.csv, tests/life.c */
trn_status trn_life_at_least_one(double failed, double units, double *any);

/* Lower limits of life from a test in which nothing failed, slope known.
 *
 *   eta_low = t (n/(-ln(1 - C)))^(1/beta);  B10_low = eta_low q^(1/beta)
 *
 * Given:    units n, whole, >= 1; t_h run by each, h, >= 0; beta > 0
 *           confidence   C, one-sided, fraction, 0 < C < 1
 * Returned: eta_low_h, b10_low_h   h
 * Status:   TRN_E_DOMAIN
 * Valid for a slope that is an input from elsewhere: the test says nothing about it.
 * Source:   binomial distribution with no failure
 * Standing: memory, confirmed by arithmetic
 * Checked by tests/published/review.csv, tests/life.c */
trn_status trn_life_zero_failure(double units, double t_h, double beta, double confidence,
                                 double *eta_low_h, double *b10_low_h);

/* Units to be run without failure to show a reliability.
 *
 *   n = ln(1 - C)/(k^beta ln R)
 *
 * Given:    reliability R at the required life, confidence C, fractions inside 0..1
 *           k      hours run over required life, > 0
 *           beta   slope, > 0
 * Returned: exact  n
 *           units  next whole number, at least 1; an n within 1e-9 of a whole one is that one
 * Status:   TRN_E_DOMAIN
 * Valid for, Source, Standing, Checked by: as trn_life_zero_failure */
trn_status trn_life_success_run(double reliability, double confidence, double k, double beta,
                                double *exact, double *units);

#ifdef __cplusplus
}
#endif
#endif
