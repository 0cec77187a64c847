/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draws_vector.h"

#include <string.h>

/* No library that is kept has powers of whole arrays (that of the C library needs -ffast-math),
 * so 2^x and log2 x are written here as series without a branch. No contraction to fused
 * operations: the same digits on every machine. */
#if defined(__clang__)
#pragma STDC FP_CONTRACT OFF
#endif
#if defined(__x86_64__) && defined(__gnu_linux__) && !defined(__clang__)
#define WIDE __attribute__((target_clones("avx512f", "avx2", "default"), optimize("O3")))
#else
#define WIDE
#endif

static inline int64_t bits_of(double x)
{
    int64_t bits;
    memcpy(&bits, &x, sizeof bits);
    return bits;
}

static inline double of_bits(int64_t bits)
{
    double x;
    memcpy(&x, &bits, sizeof x);
    return x;
}

static inline double larger(double a, double b)
{
    return a > b ? a : b;
}

static inline double smaller(double a, double b)
{
    return a < b ? a : b;
}

/* 2^x: x = n + r with |r| <= 1/2, e^(r ln 2) by its series (next term 4e-18), n to the exponent. */
static inline double two_to(double x)
{
    const double round = 0x1.8p52;
    x = smaller(1023, larger(-1021, x));
    double n = x + round;
    double y = (x - (n - round)) * 0.693147180559945309417;
    double p = 1.0 / 6227020800;
    p = p * y + 1.0 / 479001600;
    p = p * y + 1.0 / 39916800;
    p = p * y + 1.0 / 3628800;
    p = p * y + 1.0 / 362880;
    p = p * y + 1.0 / 40320;
    p = p * y + 1.0 / 5040;
    p = p * y + 1.0 / 720;
    p = p * y + 1.0 / 120;
    p = p * y + 1.0 / 24;
    p = p * y + 1.0 / 6;
    p = p * y + 0.5;
    p = p * y + 1;
    p = p * y + 1;
    return of_bits(bits_of(p) + (int64_t)((uint64_t)bits_of(n) << 52));
}

/* log2 x of a normal x > 0: x = 2^n m, 0.707 <= m < 1.414, ln m = 2 artanh[(m - 1)/(m + 1)] by
 * its series (next term 2e-18). */
static inline double log_two(double x)
{
    const int64_t half = 0x3FE6A09E667F3BCD; /* sqrt(1/2) */
    int64_t bits = bits_of(x);
    int64_t up = (int64_t)((uint64_t)(bits - half) >> 52); /* exponent over that of sqrt(1/2) */
    int64_t n = up & 0xFFF;
    /* below 1 the difference wraps: 12 bits hold it with an offset */
    double exponent = of_bits(0x4330000000000000 | ((n + 2048) & 0xFFF)) - (0x1p52 + 2048);
    double m = of_bits(bits - (int64_t)((uint64_t)n << 52));
    double s = (m - 1) / (m + 1);
    double q = s * s;
    double p = 1.0 / 21;
    p = p * q + 1.0 / 19;
    p = p * q + 1.0 / 17;
    p = p * q + 1.0 / 15;
    p = p * q + 1.0 / 13;
    p = p * q + 1.0 / 11;
    p = p * q + 1.0 / 9;
    p = p * q + 1.0 / 7;
    p = p * q + 1.0 / 5;
    p = p * q + 1.0 / 3;
    p = p * q + 1;
    return exponent + 2.88539008177792681472 * s * p;
}

WIDE void trn_vector_exp2(const double *restrict x, double *restrict y)
{
    for (int k = 0; k < TRN_BLOCK; k++)
        y[k] = two_to(x[k]);
}

WIDE void trn_vector_add_exp2(double weight, double slope, const double *restrict t,
                              double *restrict sum)
{
    for (int k = 0; k < TRN_BLOCK; k++)
        sum[k] += weight * two_to(slope * t[k]);
}

WIDE void trn_vector_drawn(double median, double least, const double *restrict mul,
                           const double *restrict add, double *restrict t)
{
    for (int k = 0; k < TRN_BLOCK; k++)
        t[k] = larger(least, median * mul[k] + add[k]);
}

WIDE void trn_vector_add_arrhenius(double weight, double slope, double inverse,
                                   const double *restrict t, double *restrict sum)
{
    for (int k = 0; k < TRN_BLOCK; k++)
        sum[k] += weight * two_to(slope * (1 / (t[k] + 273.15) - inverse));
}

WIDE void trn_vector_add_ramp(double weight, double from, double full, const double *restrict t,
                              double *restrict sum)
{
    double span = full - from;
    for (int k = 0; k < TRN_BLOCK; k++)
        sum[k] += weight * smaller(1, larger(0, (t[k] - from) / span));
}

WIDE void trn_vector_add_breath(double weight, double cold_k, const double *restrict t,
                                double *restrict sum)
{
    for (int k = 0; k < TRN_BLOCK; k++) {
        double rise = larger(0, t[k] + 273.15 - cold_k);
        sum[k] += weight * rise / (cold_k + rise);
    }
}

WIDE void trn_vector_add(double weight, const double *restrict x, double *restrict sum)
{
    for (int k = 0; k < TRN_BLOCK; k++)
        sum[k] += weight * x[k];
}

WIDE void trn_vector_hinges(const trn_hinges *hinges, double weight, double x0, double slope,
                            const double *restrict z, double *restrict y)
{
    double start = hinges->start;
    for (int k = 0; k < TRN_BLOCK; k++)
        y[k] = start;
    for (size_t i = 0; i < hinges->n; i++) {
        double at = hinges->at[i];
        double turn = hinges->turn[i];
        for (int k = 0; k < TRN_BLOCK; k++)
            y[k] += turn * larger(0, x0 + slope * z[k] - at);
    }
    for (int k = 0; k < TRN_BLOCK; k++)
        y[k] *= weight;
}

WIDE void trn_vector_add_spent(double weight, double floor, const double *restrict a,
                               const double *restrict b, const double *restrict reference,
                               const double *restrict exponent, double *restrict sum)
{
    double ratio[TRN_BLOCK];
    double least = 1;
    for (int k = 0; k < TRN_BLOCK; k++)
        ratio[k] = smaller(1, larger(floor, a[k] * b[k]) / reference[k]);
    for (int k = 0; k < TRN_BLOCK; k++)
        least = smaller(least, ratio[k]);
    if (least == 1) { /* as at the reference in all these draws */
        for (int k = 0; k < TRN_BLOCK; k++)
            sum[k] += weight;
        return;
    }
    for (int k = 0; k < TRN_BLOCK; k++)
        sum[k] += weight / larger(floor, two_to(exponent[k] * log_two(ratio[k])));
}
