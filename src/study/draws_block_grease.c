/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The closed form of mechanism_grease.c for blocks of draws. */
#include <trunnion/interval.h>

#include "draws_block.h"

typedef struct grease_task {
    const trn_blocks *b;
    const trn_service_point *p;
    unsigned acts;
    trn_draw_id frozen;
    size_t at;
} grease_task;

/* Product of the factors that draws do not change. */
static double steady(const grease_task *t, trn_grease_state s)
{
    trn_grease_factors f = {0};
    (void)t;
    if (trn_interval_grease_factor(0, 1, s.t_c + trn_zero_c, s.load, s.motion, &f) < 0)
        return NAN;
    return f.heat * f.load * f.motion;
}

static void dust_factor(const grease_task *t, double mg_m3, double weight, double *factor)
{
    const trn_blocks *b = t->b;
    const trn_interval_settings *s = b->settings;
    const double *z = &b->normals->z[(size_t)TRN_DRAW_DUST * b->room + t->at];
    if (!(t->acts & TRN_BIT(TRN_CAUSE_DUST)) || mg_m3 == 0) {
        for (size_t k = 0; k < TRN_BLOCK; k++)
            factor[k] = weight;
        return;
    }
    double slope = t->frozen == TRN_DRAW_DUST ? 0 : trn_block_sigma(mg_m3, s);
    if (t->frozen != TRN_DRAW_DUST && !s->dust_from_class) {
        trn_spread spread = s->spread[TRN_DRAW_DUST];
        slope = spread.kind == TRN_SPREAD_LOGNORMAL ? log(spread.size) : 0;
        if (spread.kind != TRN_SPREAD_LOGNORMAL && spread.kind != TRN_SPREAD_NONE) {
            double level[TRN_BLOCK];
            for (size_t k = 0; k < TRN_BLOCK; k++)
                level[k] = log(fmax(1e-300, mg_m3 + b->of[TRN_DRAW_DUST].add[t->at + k]));
            trn_vector_hinges(&b->dust, weight, 0, 1, level, factor);
            return;
        }
    }
    trn_vector_hinges(&b->dust, weight, log(mg_m3), slope, z, factor);
}

static void shock_factor(const grease_task *t, double shock, double *factor)
{
    const trn_blocks *b = t->b;
    double drawn_shock[TRN_BLOCK];
    drawn d = HERE(t, TRN_DRAW_SHOCK);
    if (!(t->acts & TRN_BIT(TRN_CAUSE_SHOCK))) {
        for (size_t k = 0; k < TRN_BLOCK; k++)
            factor[k] = 1;
        return;
    }
    trn_vector_drawn(shock, 1, d.mul, d.add, drawn_shock);
    trn_vector_hinges(&b->shock, 1, 0, 1, drawn_shock, factor);
}

void trn_blocks_grease(const trn_blocks *blocks, const trn_service_point *point,
                       const trn_duty_state *states, size_t n, trn_draw_id frozen,
                       unsigned at_reference, double *life)
{
    const trn_interval_settings *s = blocks->settings;
    grease_task t = {.b = blocks, .p = point, .frozen = frozen,
                     .acts = trn_grease_factors_of(point->task)};
    trn_grease_state ref = trn_grease_taken(point, NULL, s, trn_medians, 0);
    double ref_steady = steady(&t, ref);
    double frozen_exponent[TRN_BLOCK];
    for (size_t k = 0; k < TRN_BLOCK; k++)
        frozen_exponent[k] = s->exponent;
    for (t.at = 0; t.at < blocks->room; t.at += TRN_BLOCK) {
        double reference[TRN_BLOCK];
        double dust[TRN_BLOCK];
        double shock[TRN_BLOCK];
        double sum[TRN_BLOCK] = {0};
        dust_factor(&t, ref.dust_mg_m3, ref_steady, dust);
        shock_factor(&t, ref.shock, shock);
        for (size_t k = 0; k < TRN_BLOCK; k++)
            reference[k] = fmax(trn_interval_product_floor, dust[k] * shock[k]);
        for (size_t i = 0; i < n; i++) {
            if (!(states[i].share > 0))
                continue;
            trn_grease_state taken =
                trn_grease_taken(point, &states[i], s, trn_medians, at_reference);
            dust_factor(&t, taken.dust_mg_m3, steady(&t, taken), dust);
            shock_factor(&t, taken.shock, shock);
            trn_vector_add_spent(states[i].share, trn_interval_product_floor, dust, shock,
                                 reference,
                                 frozen == TRN_DRAW_GREASE_EXPONENT ? frozen_exponent
                                                                    : blocks->exponent + t.at,
                                 sum);
        }
        for (size_t k = 0; k < TRN_BLOCK; k++)
            life[t.at + k] = point->manual_h / sum[k];
    }
}
