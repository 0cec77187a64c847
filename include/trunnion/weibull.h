/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Weibull lines fitted to tables of lives: failed, running and inspected units, with counts.
 * Fill an array of rows, hand it to trn_weibull_prepare once, then ask for what is wanted.
 *
 * Common to all of it. Sources: Nelson 1982, Lawless 1982, Meeker & Escobar 1998. Standing:
 * equations memory; every figure confirmed by two independent programs. Checked by
 * tests/published/lives, tests/published/review.csv, tests/weibull.c. */
#ifndef TRUNNION_WEIBULL_H
#define TRUNNION_WEIBULL_H

#include <stdbool.h>
#include <stddef.h>
#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef enum trn_weibull_kind {
    TRN_WEIBULL_EXACT = 0, /* failed at after_h = by_h */
    TRN_WEIBULL_RIGHT,     /* still sound at after_h */
    TRN_WEIBULL_LEFT,      /* failed before the first look, at by_h */
    TRN_WEIBULL_INTERVAL   /* sound at after_h, failed at by_h */
} trn_weibull_kind;

/* The caller fills kind to count (trn_weibull_row_make helps); x and dx belong to the library. */
typedef struct trn_weibull_row {
    trn_weibull_kind kind;
    double after_h, by_h;
    size_t count;
    double x;  /* ln(time/scale); interval: of after_h */
    double dx; /* interval: ln(by_h/after_h) */
} trn_weibull_row;

typedef struct trn_weibull_data {
    const trn_weibull_row *rows; /* the caller's array, sorted; rows of count 0 are left out */
    size_t n;                    /* rows that count */
    double scale_h;              /* geometric mean of the times, the unit of the arithmetic */
    double units, failed;        /* sums of the counts */
    double sum_ln_exact;         /* sum of ln(hours) of the exact failures */
    bool grouped;                /* some rows are left or interval */
} trn_weibull_data;

/* A fitted line. log_likelihood is NaN where the method has none. */
typedef struct trn_weibull_line {
    double beta, eta_h, b10_h, log_likelihood;
    double mu; /* ln(eta_h/scale_h) of the data it was fitted to */
} trn_weibull_line;

/* Two-sided limits; 0 or inf where the data set none; NaN where the method gives none. */
typedef struct trn_weibull_limits {
    double beta_low, beta_high, eta_low_h, eta_high_h, b10_low_h, b10_high_h;
} trn_weibull_limits;

/* One row from its two times: after = by exact, by = inf running, after = 0 left.
 * Given:    after_h >= 0, by_h > 0, by_h >= after_h; by_h = INFINITY for a running unit, whose
 *           after_h must be above 0
 * Status:   TRN_E_DOMAIN
 * Returned: row, hours. Standing: definition. Checked by tests/weibull.c */
trn_status trn_weibull_row_make(double after_h, double by_h, size_t count,
                                trn_weibull_row *row);

/* Checks and sorts the rows (by hours, failures before running units at equal hours) and fills
 * in the library's members. The rows must stay where they are as long as data is used.
 * Given:    rows[n]
 * Returned: data
 * Status:   TRN_E_MISSING (no unit at all), TRN_E_DOMAIN (a time not above 0, by below after,
 *           a kind that does not fit its times); rows may have been reordered by then
 * Checked by tests/weibull.c */
trn_status trn_weibull_prepare(trn_weibull_row *rows, size_t n, trn_weibull_data *data);

/* Log-likelihood of a line: with x = ln t, z = (x - ln eta) beta, each row times its count,
 *
 *   exact z - e^z + ln beta - ln t;  right -e^z;  left ln(1 - exp(-e^z));
 *   interval -e^za + ln(1 - exp(-(e^zb - e^za)))
 *
 * Given:    data, beta > 0, eta_h > 0
 * Returned: value   density per hour for exact rows
 * Status:   TRN_E_DOMAIN
 * Source:   likelihood of censored Weibull data; Meeker and Escobar 1998, chapter 8
 * Standing: derived
 * Checked by tests/weibull.c */
trn_status trn_weibull_log_likelihood(const trn_weibull_data *data, double beta, double eta_h,
                                      double *value);

/* Line of the greatest likelihood, by Newton steps in alpha = beta ln eta and gamma = beta, in
 * which the log-likelihood is concave.
 * Returned: line
 * Status:   TRN_E_DOMAIN where no finite slope exists: no failure; exact and running rows with
 *           every failure at the largest time; inspections whose climb passes a slope of 300
 *           or sinks below 0.0001, or of which none was ever sound. TRN_E_CONVERGE.
 *           TRN_R_STATISTICS_ONE_FAILURE (1 failure), TRN_R_STATISTICS_FEW_FAILURES (under 20)
 * Valid for one failure mode; units failed by another count as running.
 * Source:   concavity: Burridge 1981
 * Given:    data from trn_weibull_prepare
 * Standing: equations derived
 * Checked by tests/published/lives, tests/weibull.c */
trn_status trn_weibull_fit(const trn_weibull_data *data, trn_weibull_line *line);

/* Likelihood-ratio limits of beta, eta and B10: all values whose profile log-likelihood is not
 * more than chi2(confidence, 1)/2 below the maximum. inf or 0 where that is not reached within
 * a factor of 1e12 (beta downwards: 1e4).
 * Given:    data; line from trn_weibull_fit; confidence fraction, 0 < C < 1, two-sided
 * Returned: limits
 * Status:   TRN_E_DOMAIN, TRN_E_MEMORY, TRN_E_CONVERGE
 * Source:   Meeker and Escobar 1998, chapter 8
 * Standing: derived
 * Checked by tests/published/lives, tests/weibull.c */
trn_status trn_weibull_likelihood_limits(const trn_weibull_data *data,
                                         const trn_weibull_line *line, double confidence,
                                         trn_weibull_limits *limits);

/* Life by which a share has failed, along the fitted line, with its likelihood-ratio limits. Taken
 * over all shares they are also the limits of the failed share at an age: the same line through
 * age and share decides both.
 * Given:    data; line from trn_weibull_fit; confidence as above; failed fraction, 0 < F < 1
 * Returned: life_h = eta (-ln(1 - F))^(1/beta); low_h, high_h   0 or inf as above
 * Status:   TRN_E_DOMAIN, TRN_E_MEMORY, TRN_E_CONVERGE */
trn_status trn_weibull_life_limits(const trn_weibull_data *data, const trn_weibull_line *line,
                                   double confidence, double failed, double *life_h,
                                   double *low_h, double *high_h);

/* Observed information of (ln eta, ln sigma), sigma = 1/beta, at the maximum.
 * Given:    data; line from trn_weibull_fit
 * Returned: i_mm, i_ms, i_ss
 * Status:   TRN_E_DOMAIN
 * Standing: derived (second derivatives). Checked by tests/weibull.c */
trn_status trn_weibull_information(const trn_weibull_data *data, const trn_weibull_line *line,
                                   double *i_mm, double *i_ms, double *i_ss);

/* Fisher limits, on the log scale: beta exp(-+k se(ln sigma)), eta exp(+-k se(ln eta)),
 * B10 exp(+-k se(ln B10)).
 * Given, Returned: as trn_weibull_likelihood_limits
 * Status:   TRN_E_DOMAIN
 * Valid for many failures; too narrow with under 20: never to be shown alone then.
 * Standing: derived. Checked by tests/published/lives, tests/weibull.c */
trn_status trn_weibull_fisher_limits(const trn_weibull_data *data, const trn_weibull_line *line,
                                     double confidence, trn_weibull_limits *limits);

/* Line with a slope that is known: T = sum t^beta, eta = (T/r)^(1/beta); with two-sided
 * confidence C: eta_low = (2T/chi2((1+C)/2, 2r+2))^(1/beta),
 * eta_high = (2T/chi2((1-C)/2, 2r))^(1/beta); B10 = eta q^(1/beta).
 * Given:    data without left and interval rows; beta > 0; confidence fraction, 0 < C < 1
 * Returned: line, limits; beta_low = beta_high = NaN. Without a failure only the lower limits
 *           are numbers
 * Status:   TRN_E_DOMAIN
 * Source:   Abernethy et al., AFWAL-TR-83-2079 (1983), Weibayes
 * Standing: equations derived
 * Checked by tests/published/lives, tests/weibull.c */
trn_status trn_weibull_weibayes(const trn_weibull_data *data, double beta, double confidence,
                                trn_weibull_line *line, trn_weibull_limits *limits);

/* The same from a plain list of all units' times, one-sided (test practice):
 * eta_low = (2T/chi2(C, 2r+2))^(1/beta).
 * Given:    times_h[n] h, >= 0, one of them above; failed r, whole, 1 <= r <= n; beta > 0;
 *           confidence one-sided, fraction
 * Returned: eta_h, b10_h, eta_low_h, b10_low_h
 * Status:   TRN_E_DOMAIN, TRN_E_MISSING (n = 0)
 * Source, standing: as above. Checked by tests/published/review.csv, tests/weibull.c */
trn_status trn_weibull_weibayes_times(const double *times_h, size_t n, double failed,
                                      double beta, double confidence, double *eta_h,
                                      double *b10_h, double *eta_low_h, double *b10_low_h);

/* Product-limit (Kaplan-Meier) survival at an age, with Greenwood's error and log-log limits:
 *
 *   S(t) = prod over failure times <= t of (1 - d/at risk)
 *   se = S sqrt(sum d/(n (n - d)));  exp(-exp(ln(-ln S) -+ k se/(S ln S)))
 *
 * Given:    data without left and interval rows, t_h >= 0, confidence fraction, two-sided
 * Returned: survive, se, low, high   fractions; 1, 0, 1, 1 before the first failure
 * Status:   TRN_E_DOMAIN; TRN_R_STATISTICS_BEYOND where t_h lies after the last time and some
 *           units still ran then
 * Source:   Kaplan and Meier 1958; Greenwood 1926
 * Standing: published
 * Checked by tests/published/review.csv, tests/weibull.c */
trn_status trn_weibull_product_limit(const trn_weibull_data *data, double t_h,
                                     double confidence, double *survive, double *se,
                                     double *low, double *high);

#ifdef __cplusplus
}
#endif
#endif
