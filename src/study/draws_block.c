/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What all points share in the same draws: the drawn factors, worked out once. */
#include <gsl/gsl_cdf.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/interval.h>
#include <trunnion/oil.h>

#include "draws_block.h"

/* ---- what all points share ------------------------------------------------------------------ */

static trn_hinges hinges_of(const trn_grease_knee *knee, size_t n, bool logarithmic)
{
    trn_hinges h = {.n = n, .start = knee[0].f};
    double before = 0;
    for (size_t i = 0; i < n; i++) {
        h.at[i] = logarithmic ? log(knee[i].x) : knee[i].x;
        double next = i + 1 == n      ? h.at[i]
                      : logarithmic ? log(knee[i + 1].x)
                                    : knee[i + 1].x;
        double slope = i + 1 == n ? 0 : (knee[i + 1].f - knee[i].f) / (next - h.at[i]);
        h.turn[i] = slope - before;
        before = slope;
    }
    return h;
}

static double *take(double **pool, size_t room)
{
    double *at = *pool;
    *pool += room;
    return at;
}

static drawn drawn_of(trn_blocks *b, trn_spread spread, trn_draw_id id, double **pool)
{
    const double *z = &b->normals->z[(size_t)id * b->room];
    drawn d = {b->ones, b->zeros};
    if (spread.kind == TRN_SPREAD_NONE)
        return d;
    if (spread.kind == TRN_SPREAD_LOGNORMAL) {
        d.mul = take(pool, b->room);
        double slope = log2(spread.size);
        double work[TRN_BLOCK];
        for (size_t k = 0; k < b->room; k += TRN_BLOCK) {
            trn_vector_drawn(0, trn_never, b->ones, &z[k], work);
            for (size_t i = 0; i < TRN_BLOCK; i++)
                work[i] *= slope;
            trn_vector_exp2(work, &d.mul[k]);
        }
        return d;
    }
    d.add = take(pool, b->room);
    for (size_t k = 0; k < b->room; k++)
        d.add[k] = trn_spread_draw(0, spread, z[k]);
    return d;
}

double trn_block_sigma(double mg_m3, const trn_interval_settings *s)
{
    return sqrt(s->dust_stays) * log(trn_dust_gsd(mg_m3));
}

void trn_block_dust(const trn_blocks *b, double mg_m3, size_t first, double *factor)
{
    const double *z = &b->normals->z[(size_t)TRN_DRAW_DUST * b->room + first];
    double slope = trn_block_sigma(mg_m3, b->settings) / log(2);
    double x[TRN_BLOCK];
    for (size_t k = 0; k < TRN_BLOCK; k++)
        x[k] = slope * z[k];
    trn_vector_exp2(x, factor);
}

static void fill(trn_blocks *b, const double *levels, size_t count, double *pool)
{
    const trn_interval_settings *s = b->settings;
    b->ones = take(&pool, b->room);
    b->zeros = take(&pool, b->room);
    for (size_t k = 0; k < b->room; k++)
        b->ones[k] = 1;
    for (size_t i = 0; i < TRN_DRAWS; i++)
        b->of[i] = drawn_of(b, s->spread[i], (trn_draw_id)i, &pool);
    b->oil_measured = drawn_of(b, s->oil_measured, TRN_DRAW_OIL_TEMPERATURE, &pool);
    b->oil_calibrated = drawn_of(b, s->oil_calibrated, TRN_DRAW_OIL_TEMPERATURE, &pool);
    b->ageing_firm = drawn_of(b, s->ageing_firm, TRN_DRAW_AGEING_LIFE, &pool);
    b->water_sampled = drawn_of(b, s->water_sampled, TRN_DRAW_WATER, &pool);
    b->x = take(&pool, b->room);
    b->step = take(&pool, b->room);
    b->exponent = take(&pool, b->room);
    const drawn *x = &b->of[TRN_DRAW_X];
    const drawn *h = &b->of[TRN_DRAW_ADDITIVE_STEP];
    const drawn *e = &b->of[TRN_DRAW_GREASE_EXPONENT];
    for (size_t k = 0; k < b->room; k++) {
        b->x[k] = fmax(0, fmin(s->x_most, s->x * x->mul[k] + x->add[k]));
        b->step[k] = 1 / fmax(s->additive_step_least_k, s->additive_step_k * h->mul[k] + h->add[k]);
        b->exponent[k] = fmax(0, s->exponent * e->mul[k] + e->add[k]);
    }
    for (size_t i = 0; i < count && s->dust_from_class; i++) {
        size_t k = 0;
        while (k < b->level_count && b->levels[k] != levels[i])
            k++;
        if (k < b->level_count || !(levels[i] > 0))
            continue;
        b->levels[k] = levels[i];
        b->level[k] = take(&pool, b->room);
        for (size_t first = 0; first < b->room; first += TRN_BLOCK)
            trn_block_dust(b, levels[i], first, &b->level[k][first]);
        b->level_count++;
    }
}

trn_blocks *trn_blocks_new(const trn_interval_settings *settings, const trn_normals *normals,
                           const double *levels, size_t level_count)
{
    size_t arrays = 2 + TRN_DRAWS + 4 + 3 + level_count;
    trn_blocks *b = calloc(1, sizeof *b);
    if (!b)
        return NULL;
    b->settings = settings;
    b->normals = normals;
    b->room = normals->room;
    b->pool = calloc(arrays * b->room, sizeof *b->pool);
    b->levels = calloc(level_count + 1, sizeof *b->levels);
    b->level = calloc(level_count + 1, sizeof *b->level);
    if (!b->pool || !b->levels || !b->level) {
        trn_blocks_free(b);
        return NULL;
    }
    size_t n = 0;
    const trn_grease_knee *knee = trn_interval_dust_knees(&n);
    b->dust = hinges_of(knee, n, true);
    knee = trn_interval_shock_knees(&n);
    b->shock = hinges_of(knee, n, false);
    fill(b, levels, level_count, b->pool);
    return b;
}

void trn_blocks_free(trn_blocks *blocks)
{
    if (!blocks)
        return;
    free(blocks->pool);
    free(blocks->levels);
    free(blocks->level);
    free(blocks);
}
