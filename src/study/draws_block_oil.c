/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The closed form of mechanism_oil.c for blocks of draws: one step after the other over all draws
 * of a block, everything that no draw changes worked out before. */
#include <trunnion/oil.h>

#include "draws_block.h"

typedef struct oil_task {
    const trn_blocks *b;
    const trn_service_point *p;
    const trn_duty_state *states;
    size_t n, at; /* first draw of the block */
    trn_draw_id frozen;
    bool temperatures, loads, absolute;
} oil_task;

/* weight times a dust in the draws, onto sum. */
static void add_dust(const oil_task *t, double mg_m3, double weight, double *sum)
{
    const trn_blocks *b = t->b;
    double own[TRN_BLOCK];
    if (t->frozen == TRN_DRAW_DUST || mg_m3 == 0) {
        trn_vector_add(weight * mg_m3, b->ones, sum);
        return;
    }
    if (!b->settings->dust_from_class) {
        drawn d = HERE(t, TRN_DRAW_DUST);
        trn_vector_drawn(mg_m3, 0, d.mul, d.add, own);
        trn_vector_add(weight, own, sum);
        return;
    }
    for (size_t i = 0; i < b->level_count; i++)
        if (b->levels[i] == mg_m3) {
            trn_vector_add(weight * mg_m3, b->level[i] + t->at, sum);
            return;
        }
    trn_block_dust(b, mg_m3, t->at, own);
    trn_vector_add(weight * mg_m3, own, sum);
}

static void dust_anchored(const oil_task *t, double *life)
{
    const trn_service_point *p = t->p;
    double ref = p->ref_dust_mg_m3;
    double duty[TRN_BLOCK] = {0};
    double base[TRN_BLOCK] = {0};
    double shares = 0;
    add_dust(t, ref, 1 / ref, base);
    for (size_t i = 0; i < t->n; i++) {
        const trn_duty_state *s = &t->states[i];
        if (!(s->share > 0))
            continue;
        shares += s->share;
        if (s->dust_mg_m3 >= 0)
            add_dust(t, s->dust_mg_m3, s->share / ref, duty);
        else
            trn_vector_add(s->share, base, duty);
    }
    const double *x = t->b->x + t->at;
    double median = t->b->settings->x;
    for (size_t k = 0; k < TRN_BLOCK; k++) {
        double share = t->frozen == TRN_DRAW_X ? median : x[k];
        double rate = shares * (1 - share) + share * duty[k];
        double margin = p->dust_margin * ((1 - share) + share * base[k]);
        life[k] = rate > 0 ? margin * p->manual_h / rate : INFINITY;
    }
}

static void dust_absolute(const oil_task *t, double *life)
{
    double mean = 0;
    for (size_t i = 0; i < t->n; i++)
        if (t->states[i].share > 0)
            mean += t->states[i].share * t->states[i].dust_mg_m3;
    drawn q = HERE(t, TRN_DRAW_INTAKE);
    drawn c = HERE(t, TRN_DRAW_DUST_BUDGET);
    double fresh = (1 - t->p->residual) * t->p->oil_kg;
    for (size_t k = 0; k < TRN_BLOCK; k++) {
        double intake = fmax(0, t->p->intake_l_h * q.mul[k] + q.add[k]);
        double budget = t->b->settings->dust_budget_ppm * c.mul[k] + c.add[k];
        double source = intake / 1000 * mean;
        life[k] = !(budget > 0) ? 0 : source > 0 ? budget * fresh / source : INFINITY;
    }
}

static void additive(const oil_task *t, double *life)
{
    const trn_interval_settings *s = t->b->settings;
    double frozen[TRN_BLOCK];
    double sum[TRN_BLOCK] = {0};
    const double *step = t->b->step + t->at;
    if (t->frozen == TRN_DRAW_ADDITIVE_STEP) {
        for (size_t k = 0; k < TRN_BLOCK; k++)
            frozen[k] = 1 / fmax(s->additive_step_least_k, s->additive_step_k);
        step = frozen;
    }
    for (size_t i = 0; i < t->n; i++) {
        const trn_duty_state *state = &t->states[i];
        double rise = isfinite(state->oil_c) ? state->oil_c - t->p->ref_temperature_c : 0;
        if (state->share > 0)
            trn_vector_add_exp2(state->share * state->load_ratio, rise, step, sum);
    }
    for (size_t k = 0; k < TRN_BLOCK; k++)
        life[k] = sum[k] > 0 ? s->additive_margin * t->p->manual_h / sum[k] : INFINITY;
}

static void wear(const oil_task *t, double *life)
{
    double least = NAN;
    for (size_t i = 0; i < t->p->element_count; i++)
        least = fmin(least, trn_wear_of_element(t->p, i));
    drawn d = HERE(t, TRN_DRAW_DEBRIS);
    double median = t->b->settings->debris;
    for (size_t k = 0; k < TRN_BLOCK; k++) {
        double faster = fmax(0, (median * d.mul[k] + d.add[k]) / median);
        life[k] = faster > 0 || isnan(least) ? least / faster : INFINITY;
    }
}

/* Water of one state, mg/h: what washes bring, and the breath per unit of rise/(cold + rise). */
static double breath_of(const trn_service_point *p, const trn_duty_state *s)
{
    static const double rise = 10; /* any: the law is rise/(cold + rise) times this */
    if (!(p->headspace_l > 0) || s->starts_per_100h == 0)
        return 0;
    trn_duty_state warm = *s;
    double cold = s->ambient_c + trn_zero_c;
    double mg = trn_breath_mg(p, &warm, s->ambient_c + rise);
    return s->starts_per_100h / 100 * mg * (cold + rise) / rise;
}

static double washed_of(const trn_duty_state *s)
{
    return s->washes_per_100h == 0 ? 0 : s->washes_per_100h / 100 * 1000 * s->wash_water_ml;
}

/* Adds the state's temperature, its ageing, drying and water. */
static void add_state(const oil_task *t, const trn_duty_state *s, double *spent, double *drying,
                      double *water)
{
    const trn_interval_settings *set = t->b->settings;
    static const double slope = 4750 * 3.32192809488736234787; /* log2 10 */
    double temperature[TRN_BLOCK];
    drawn own = s->oil_measured || s->oil_read ? t->b->oil_measured
                : s->oil_calibrated            ? t->b->oil_calibrated
                                               : t->b->of[TRN_DRAW_OIL_TEMPERATURE];
    drawn d = here(t->b, own, TRN_DRAW_OIL_TEMPERATURE, t->frozen, t->at);
    double least = isnan(s->ambient_c) ? trn_never : s->ambient_c;
    trn_vector_drawn(s->oil_c, least, d.mul, d.add, temperature);
    trn_vector_add_arrhenius(s->share, -slope, 1 / (t->p->ageing_c + trn_zero_c), temperature,
                             spent);
    trn_vector_add_ramp(s->share * set->drying_per_h, set->drying_from_c, set->drying_full_c,
                        temperature, drying);
    if (isfinite(t->p->water_source_mg_h))
        return;
    trn_vector_add(s->share * washed_of(s), t->b->ones, water);
    double breath = breath_of(t->p, s);
    if (breath != 0)
        trn_vector_add_breath(s->share * breath, s->ambient_c + trn_zero_c, temperature, water);
}

/* Hours from start to level, ppm; gain ppm/h, removal 1/h: trn_interval_time_to of the physics. */
static double climb(double level, double start, double gain, double removal, double equilibrium)
{
    if (start >= level)
        return 0;
    double pull = removal * (level - equilibrium);
    double net = gain - pull;
    if (!(net > 1e-12 * fabs(pull)))
        return INFINITY;
    double x = removal * ((level - start) / net);
    return x > 0 ? log1p(x) / removal : (level - start) / net;
}

typedef struct water_levels {
    double start, damp, budget, fresh;
} water_levels;

static water_levels levels_of(const oil_task *t)
{
    const trn_interval_settings *s = t->b->settings;
    water_levels w = {.budget = s->water_budget_ppm, .fresh = s->water_fresh_ppm};
    if (isfinite(t->p->water_budget_ppm))
        w.budget = fmin(t->p->water_budget_ppm, w.budget);
    w.start = w.fresh + t->p->residual * (w.budget - w.fresh);
    w.damp = fmin(s->water_damp_ppm, w.budget);
    return w;
}

static double aged(const trn_interval_settings *s, double life, double damp, double wet)
{
    double t1 = life;
    if (life > damp)
        t1 = damp + (life - damp) / s->catalyst_damp;
    if (t1 > wet)
        t1 = wet + (life - damp - s->catalyst_damp * (wet - damp)) / s->catalyst_wet;
    return t1;
}

static void ageing_and_water(const oil_task *t, double *ageing, double *water_life)
{
    const trn_interval_settings *s = t->b->settings;
    const trn_service_point *p = t->p;
    double spent[TRN_BLOCK] = {0};
    double drying[TRN_BLOCK] = {0};
    double water[TRN_BLOCK] = {0};
    for (size_t i = 0; i < t->n; i++)
        if (t->states[i].share > 0)
            add_state(t, &t->states[i], spent, drying, water);
    bool sampled = isfinite(p->water_source_mg_h);
    drawn anchor = p->ageing_firm ? here(t->b, t->b->ageing_firm, TRN_DRAW_AGEING_LIFE, t->frozen,
                                         t->at)
                                  : HERE(t, TRN_DRAW_AGEING_LIFE);
    drawn dry = HERE(t, TRN_DRAW_DRYING);
    drawn in = sampled ? here(t->b, t->b->water_sampled, TRN_DRAW_WATER, t->frozen, t->at)
                       : HERE(t, TRN_DRAW_WATER);
    water_levels w = levels_of(t);
    double median = s->drying_per_h;
    for (size_t k = 0; k < TRN_BLOCK; k++) {
        double life = (p->ageing_life_h * s->ageing_fraction * anchor.mul[k] + anchor.add[k]);
        life = life > 0 ? life / spent[k] : NAN;
        double removal =
            median > 0 ? drying[k] * fmax(0, (median * dry.mul[k] + dry.add[k]) / median) : 0;
        double source = sampled ? fmax(0, p->water_source_mg_h * in.mul[k] + in.add[k])
                                : water[k] * fmax(0, (s->wash_water_ml * in.mul[k] + in.add[k]) /
                                                         s->wash_water_ml);
        double wet = INFINITY;
        double damp = INFINITY;
        water_life[k] = NAN;
        if (p->oil_kg > 0 && isfinite(source)) {
            double gain = source / p->oil_kg;
            wet = climb(w.budget, w.start, gain, removal, w.fresh);
            damp = fmin(climb(w.damp, w.start, gain, removal, w.fresh), wet);
            water_life[k] = wet;
        }
        ageing[k] = aged(s, life, damp, wet);
    }
}

static void set_nan(double *life)
{
    for (size_t k = 0; k < TRN_BLOCK; k++)
        life[k] = NAN;
}

void trn_blocks_oil(const trn_blocks *blocks, const trn_service_point *point,
                    const trn_duty_state *states, size_t n, trn_draw_id frozen,
                    double *const life[TRN_LIMITS])
{
    oil_task t = {.b = blocks, .p = point, .states = states, .n = n, .frozen = frozen};
    t.temperatures = trn_temperatures_known(states, n);
    t.loads = trn_loads_known(states, n);
    t.absolute = trn_dust_absolute(point, states, n);
    for (t.at = 0; t.at < blocks->room; t.at += TRN_BLOCK) {
        if (t.temperatures) {
            ageing_and_water(&t, life[TRN_CAUSE_AGEING] + t.at, life[TRN_CAUSE_WATER] + t.at);
        } else {
            set_nan(life[TRN_CAUSE_AGEING] + t.at);
            set_nan(life[TRN_CAUSE_WATER] + t.at);
        }
        if (t.absolute)
            dust_absolute(&t, life[TRN_CAUSE_DUST] + t.at);
        else
            dust_anchored(&t, life[TRN_CAUSE_DUST] + t.at);
        if (t.loads)
            additive(&t, life[TRN_CAUSE_ADDITIVE] + t.at);
        else
            set_nan(life[TRN_CAUSE_ADDITIVE] + t.at);
        wear(&t, life[TRN_CAUSE_WEAR] + t.at);
    }
}
