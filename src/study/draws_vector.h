/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study/draws*.c only: steps of a block of draws, each one loop over TRN_BLOCK values
 * that compilers turn into vector instructions. */
#ifndef TRUNNION_DRAWS_VECTOR_H
#define TRUNNION_DRAWS_VECTOR_H

#include <trunnion/draws.h>

/* y = 2^x */
void trn_vector_exp2(const double *restrict x, double *restrict y);

/* sum += weight 2^(slope t) */
void trn_vector_add_exp2(double weight, double slope, const double *restrict t,
                         double *restrict sum);

/* t = max(least, median mul + add) */
void trn_vector_drawn(double median, double least, const double *restrict mul,
                      const double *restrict add, double *restrict t);

/* sum += weight 2^(slope [1/(t + 273.15) - inverse]) */
void trn_vector_add_arrhenius(double weight, double slope, double inverse,
                              const double *restrict t, double *restrict sum);

/* sum += weight clip[(t - from)/(full - from)] to 0 ... 1 */
void trn_vector_add_ramp(double weight, double from, double full, const double *restrict t,
                         double *restrict sum);

/* sum += weight rise/(cold + rise), rise = t - (cold - 273.15), not below 0 */
void trn_vector_add_breath(double weight, double cold_k, const double *restrict t,
                           double *restrict sum);

/* sum += weight x */
void trn_vector_add(double weight, const double *restrict x, double *restrict sum);

/* Straight lines through knots, constant outside, as a sum of hinges. */
enum { TRN_HINGES_MAX = 6 };
typedef struct trn_hinges {
    size_t n;
    double start, at[TRN_HINGES_MAX], turn[TRN_HINGES_MAX];
} trn_hinges;

/* y = weight f(x0 + slope z) */
void trn_vector_hinges(const trn_hinges *hinges, double weight, double x0, double slope,
                       const double *restrict z, double *restrict y);

/* sum += weight/max(floor, min(1, max(floor, a b)/reference)^exponent) */
void trn_vector_add_spent(double weight, double floor, const double *restrict a,
                          const double *restrict b, const double *restrict reference,
                          const double *restrict exponent, double *restrict sum);

#endif
