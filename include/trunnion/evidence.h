/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What failure hours say about explanations: likelihoods, factors, shares of the life lost,
 * damage signs. */
#ifndef TRUNNION_EVIDENCE_H
#define TRUNNION_EVIDENCE_H

#include <stdbool.h>
#include <stddef.h>
#include <trunnion/status.h>
#include <trunnion/weibull.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Log of the marginal likelihood of a failure, and of its sisters, under one explanation.
 *
 *   ln m = ln integral over x ~ N(0,1) of exp(l(x)),  life L10 e^(s x)
 *   l = ln f(H), or ln((S(H - w) - S(H + w))/(2w)) with S(below 0) = S(0), plus the sisters' rows
 *
 * Given:    hours_h H, > 0; spread_h w, half width, 0 <= w <= H
 *           others   prepared rows of the other units, NULL without; the failed one not among
 *                    them
 *           l10_h > 0, beta > 0 of the explanation; s >= 0, model error of ln L10
 * Returned: ln_m     per hour; s = 0: no integral
 * Status:   TRN_E_DOMAIN (also where the likelihood is too small for a number), TRN_E_CONVERGE
 * Valid for one model error common to the unit and its sisters.
 * Source:   Kass, R.E. and Raftery, A.E., J. Amer. Statist. Assoc. 90 (1995) 773
 * Standing: derived
 * Checked by tests/published/review.csv, tests/evidence.c */
trn_status trn_evidence_log_marginal(double hours_h, double spread_h,
                                     const trn_weibull_data *others, double l10_h, double beta,
                                     double s, double *ln_m);

/* The same with another life for the sisters: a cause that can only concern the failed unit
 * leaves them as specified. The model error stays one and the same for all.
 * Given:    as above; l10_others_h > 0
 * Returned, Status, Source, Standing: as above
 * Checked by tests/review_evidence.c */
trn_status trn_evidence_log_marginal_apart(double hours_h, double spread_h,
                                           const trn_weibull_data *others, double l10_h,
                                           double l10_others_h, double beta, double s,
                                           double *ln_m);

/* The same for a life that is known to a range only, log-uniform in it:
 *
 *   ln m = ln (integral over ln L from ln low to ln high of m(L))/(ln high - ln low)
 *
 * Given:    low_h, high_h   h, 0 < low <= high; equal: no average
 *           l10_others_h    of the sisters; NaN: the same life as the unit, whatever it is
 *           others          as above
 * Returned: ln_m
 * Status:   as above, TRN_E_MEMORY
 * Valid for explanations without a model of their life.
 * Standing: derived; that the range is log-uniform is chosen
 * Checked by tests/review_evidence.c */
trn_status trn_evidence_log_marginal_range(double hours_h, double spread_h,
                                           const trn_weibull_data *others, double low_h,
                                           double high_h, double l10_others_h, double beta,
                                           double s, double *ln_m);

/* Share of units failed by t, averaged over a log-uniform range of the ten-percent life.
 * Given:    t_h > 0; low_h, high_h as above; beta > 0
 * Returned: failed   fraction
 * Status:   TRN_E_DOMAIN, TRN_E_MEMORY, TRN_E_CONVERGE
 * Standing: derived
 * Checked by tests/review_evidence.c */
trn_status trn_evidence_failed_range(double t_h, double low_h, double high_h, double beta,
                                     double *failed);

/* Bayes factor of one explanation against another, m/m_ref.
 * Given:    as above, with the L10 of both
 * Returned: ln_m, ln_m_ref, factor
 * Status, Source, Standing, Checked by: as above */
trn_status trn_evidence_bayes_factor(double hours_h, double spread_h,
                                     const trn_weibull_data *others, double l10_h,
                                     double l10_ref_h, double beta, double s, double *ln_m,
                                     double *ln_m_ref, double *factor);

/* The most that one failure time can favour any life over L10.
 *
 *   L10_best = t q^(1/beta);  ceiling = e^(-1)/(z e^(-z)),  z = q (t/L10)^beta
 *
 * Given:    t_h > 0, l10_h > 0, beta > 0
 * Returned: ceiling (may be inf), best_h h
 * Status:   TRN_E_DOMAIN
 * Valid for one unit, exact hours, no model error.
 * Source:   maximum of the density over the scale
 * Standing: derived
 * Checked by tests/published/review.csv, tests/evidence.c */
trn_status trn_evidence_ceiling(double t_h, double l10_h, double beta, double *ceiling,
                                double *best_h);

/* Posterior probability of one of two explanations.
 *
 *   odds = prior/(1 - prior) x factor
 *
 * Given:    prior fraction, 0 < p < 1; factor >= 0
 * Returned: posterior   fraction
 * Status:   TRN_E_DOMAIN
 * Valid for two explanations; the prior belongs to the reader.
 * Source:   Bayes' theorem
 * Standing: derived
 * Checked by tests/published/review.csv, tests/evidence.c */
trn_status trn_evidence_posterior(double prior, double factor, double *posterior);

/* Word for a factor (below 1: for its inverse): weak, positive, strong, very strong with bounds
 * 3, 20, 150; "" for a factor that is none. Source: Kass & Raftery 1995. Standing: published.
 * Returned: a static text. Checked by tests/evidence.c */
const char *trn_evidence_word(double factor);

enum { TRN_DEPARTURES_MAX = 8 };

/* Life lost shared out among departures: each gets the mean of its marginal loss over all
 * orders in which they may be applied (Shapley values).
 *
 * Given:    life_h[n] h, > 0; n = 2^k, k = 1..8; departure i acts in place j where bit i of j
 *           (from 0) is set
 *           logarithmic   loss v = ln(L_none/L), else hours L_none - L
 * Returned: lost_h        h; share[k], fractions that add to 1, may be negative
 *           departures    k
 * Status:   TRN_E_DOMAIN, also where no life is lost
 * Source:   Shapley 1953
 * Standing: derived from the axioms
 * Checked by tests/published/review.csv, tests/evidence.c */
trn_status trn_evidence_shares(const double *life_h, size_t n, bool logarithmic, double *lost_h,
                               double *share, size_t *departures);

/* Damage signs and causes as words, NULL at the end, and what each sign looks like. */
extern const char *const trn_evidence_signs[];
extern const char *const trn_evidence_signs_seen[];
extern const char *const trn_evidence_causes[];

/* Weight of a sign for a cause: 2 strongly expected, 1 expected, 0 neutral, -1 argues against.
 * Given:    sign, cause   places in the lists above
 * Returned: weight
 * Status:   TRN_E_DOMAIN
 * Valid for the first damage only: a collapse leaves signs of its own.
 * Source:   engineering judgement, to be calibrated by the user
 * Standing: practice
 * Checked by tests/published/review.csv, tests/evidence.c */
trn_status trn_evidence_sign_weight(size_t sign, size_t cause, int *weight);

#ifdef __cplusplus
}
#endif
#endif
