/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/statistics only: constants, roots, quantiles, and slopes of the log-likelihood. */
#ifndef TRN_STATISTICS_INTERNAL_H
#define TRN_STATISTICS_INTERNAL_H

#include <math.h>
#include <trunnion/weibull.h>

#define TRN_Q 0.10536051565782630123     /* -ln 0.9 */
#define TRN_LN_Q (-2.25036732731244528633) /* ln(-ln 0.9) */

static inline bool trn_positive(double x)
{
    return x > 0 && isfinite(x);
}

static inline bool trn_not_negative(double x)
{
    return x >= 0 && isfinite(x);
}

/* open interval 0..1: shares and confidences */
static inline bool trn_inside(double p)
{
    return p > 0 && p < 1;
}

/* whole number of units, at least 1 */
static inline bool trn_count_ok(double n)
{
    return n >= 1 && isfinite(n) && floor(n) == n;
}

/* Root of f in [low, high], where it changes sign, by Brent's method to the last digits. */
trn_status trn_root_exact(double (*f)(double, void *), void *context, double low,
                            double high, double *root);

/* A concave (or at least single-peaked) function with its first two derivatives. */
typedef void (*trn_hill)(double t, void *context, double *value, double *first, double *second);

/* Peak of a hill from a starting point, sought within [low, high]; a peak at an end of that
 * range is the end. TRN_E_CONVERGE where the slope is not a number. */
trn_status trn_hill_climb(trn_hill hill, void *context, double start, double low, double high,
                          double *peak, double *value);

/* k of a two-sided confidence: normal quantile at (1 + C)/2; k^2 is chi2(C, 1). */
double trn_normal_two_sided(double confidence);

/* x with P(chi2_f <= x) = p */
double trn_chi2_quantile(double p, double f);

/* Log-likelihood in alpha = gamma mu and gamma, z = gamma (x - shift) - alpha, with first and
 * second derivatives; x = ln(t/scale). */
typedef struct trn_slopes {
    double l, a, g, aa, ag, gg;
} trn_slopes;

/* Fills x and dx of a row. */
void trn_weibull_row_scale(trn_weibull_row *row, double scale_h);

/* Adds one row; without the -ln t of an exact one. */
void trn_weibull_row_add(const trn_weibull_row *row, double alpha, double gamma, double shift,
                         trn_slopes *s);

/* All rows, the -ln t included. */
void trn_weibull_slopes(const trn_weibull_data *data, double alpha, double gamma, double shift,
                        trn_slopes *s);

/* Greatest log-likelihood at a slope; ln(eta/scale) that has it. */
trn_status trn_weibull_at_slope(const trn_weibull_data *data, double gamma, double shift,
                                double *mu, double *value);

#endif
