/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers of a draw from seed, draw and dimension alone. */
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_qrng.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/draws.h>

void trn_philox(const uint32_t counter[4], const uint32_t key[2], uint32_t word[4])
{
    uint32_t c[4] = {counter[0], counter[1], counter[2], counter[3]};
    uint32_t k0 = key[0];
    uint32_t k1 = key[1];
    for (int round = 0; round < 10; round++) {
        uint64_t a = (uint64_t)0xD2511F53u * c[0];
        uint64_t b = (uint64_t)0xCD9E8D57u * c[2];
        uint32_t next[4] = {(uint32_t)(b >> 32) ^ c[1] ^ k0, (uint32_t)b,
                            (uint32_t)(a >> 32) ^ c[3] ^ k1, (uint32_t)a};
        memcpy(c, next, sizeof c);
        k0 += 0x9E3779B9u;
        k1 += 0xBB67AE85u;
    }
    memcpy(word, c, sizeof c);
}

double trn_stream_uniform(uint64_t seed, uint64_t draw, uint32_t dimension)
{
    uint32_t counter[4] = {(uint32_t)draw, (uint32_t)(draw >> 32), dimension, 0};
    uint32_t key[2] = {(uint32_t)seed, (uint32_t)(seed >> 32)};
    uint32_t word[4];
    trn_philox(counter, key, word);
    uint64_t bits = ((uint64_t)word[1] << 32 | word[0]) >> 12;
    return ((double)bits + 0.5) * 0x1p-52; /* neither 0 nor 1 */
}

double trn_stream_normal(uint64_t seed, uint64_t draw, uint32_t dimension)
{
    return gsl_cdf_ugaussian_Pinv(trn_stream_uniform(seed, draw, dimension));
}

enum { SOBOL_DIMENSIONS = 40, SOBOL_BITS = 30 }; /* of gsl_qrng_sobol */

/* Draws are far fewer than this: shifts do not meet the stream of a draw. */
static uint32_t shift_of(uint64_t seed, size_t shift, size_t dimension)
{
    double u = trn_stream_uniform(seed, UINT64_MAX - shift, (uint32_t)dimension);
    return (uint32_t)ldexp(u, SOBOL_BITS);
}

/* A digital shift: the binary digits of a coordinate and of the shift are added without carry.
 * A shift modulo 1 would tear the cells that the sequence fills evenly; this one maps them onto
 * each other. */
static double moved(double u, uint32_t shift)
{
    uint32_t digits = (uint32_t)ldexp(u, SOBOL_BITS) ^ shift;
    return gsl_cdf_ugaussian_Pinv(ldexp((double)digits + 0.5, -SOBOL_BITS));
}

static bool fill_sobol(const trn_draw_plan *plan, size_t dimensions, trn_normals *out)
{
    gsl_qrng *sobol = gsl_qrng_alloc(gsl_qrng_sobol, (unsigned)dimensions);
    if (!sobol)
        return false;
    uint32_t shift[TRN_DRAW_SHIFTS][SOBOL_DIMENSIONS];
    for (size_t s = 0; s < TRN_DRAW_SHIFTS; s++)
        for (size_t d = 0; d < dimensions; d++)
            shift[s][d] = shift_of(plan->seed, s, d);
    double point[SOBOL_DIMENSIONS] = {0}; /* the first point, which GSL leaves out */
    for (size_t k = 0; k < plan->draws; k++) {
        size_t s = k % TRN_DRAW_SHIFTS;
        if (s == 0 && k > 0 && gsl_qrng_get(sobol, point) != 0)
            break;
        for (size_t d = 0; d < dimensions; d++)
            out->z[d * out->room + k] = moved(point[d], shift[s][d]);
    }
    gsl_qrng_free(sobol);
    return true;
}

trn_status trn_normals_make(const trn_draw_plan *plan, size_t dimensions, trn_normals *normals)
{
    if (plan->draws == 0 || plan->draws > TRN_DRAWS_MOST || dimensions == 0)
        return TRN_E_DOMAIN;
    size_t room = (plan->draws + TRN_BLOCK - 1) / TRN_BLOCK * TRN_BLOCK;
    trn_normals made = {.draws = plan->draws, .room = room, .dimensions = dimensions};
    made.z = calloc(room * dimensions, sizeof *made.z);
    if (!made.z)
        return TRN_E_MEMORY;
    size_t sobol = plan->plain                       ? 0
                   : dimensions < SOBOL_DIMENSIONS ? dimensions
                                                   : SOBOL_DIMENSIONS;
    if (sobol > 0 && !fill_sobol(plan, sobol, &made)) {
        free(made.z);
        return TRN_E_MEMORY;
    }
    for (size_t d = sobol; d < dimensions; d++)
        for (size_t k = 0; k < plan->draws; k++)
            made.z[d * room + k] = trn_stream_normal(plan->seed, k, (uint32_t)d);
    *normals = made;
    return TRN_OK;
}

void trn_normals_free(trn_normals *normals)
{
    free(normals->z);
    *normals = (trn_normals){0};
}

double trn_draw_quantile(double *values, size_t n, double p)
{
    if (n == 0)
        return NAN;
    double at = ceil(p * (double)n * (1 - 1e-12));
    size_t k = at < 1 ? 0 : (size_t)at - 1;
    return gsl_stats_select(values, 1, n, k < n ? k : n - 1);
}

double trn_draw_error(const double *values, size_t n, double p, double *work)
{
    double of[TRN_DRAW_SHIFTS];
    if (n < 2 * TRN_DRAW_SHIFTS)
        return NAN;
    for (size_t s = 0; s < TRN_DRAW_SHIFTS; s++) {
        size_t count = 0;
        for (size_t k = s; k < n; k += TRN_DRAW_SHIFTS)
            work[count++] = values[k];
        of[s] = trn_draw_quantile(work, count, p);
        if (!isfinite(of[s]))
            return NAN;
    }
    return gsl_stats_sd(of, 1, TRN_DRAW_SHIFTS) / sqrt(TRN_DRAW_SHIFTS);
}
