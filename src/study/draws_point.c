/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The draws of one service point and what its row says from them. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "calibration.h"
#include "draws_inside.h"
#include "mechanism_inside.h"
#include "service_points.h"

enum { OIL_CAUSES = TRN_CAUSE_WEAR + 1 };

bool trn_draw_room_make(const trn_draws *draws, size_t states, trn_draw_room *room)
{
    size_t n = draws->normals.room;
    *room = (trn_draw_room){.pool = malloc((OIL_CAUSES + 2) * n * sizeof(double)),
                            .cause = malloc(n),
                            .states = calloc(states + 1, sizeof *room->states),
                            .changed = calloc(states + 1, sizeof *room->changed)};
    if (!room->pool || !room->cause || !room->states || !room->changed) {
        trn_draw_room_free(room);
        return false;
    }
    for (size_t c = 0; c < OIL_CAUSES; c++)
        room->life[c] = room->pool + c * n;
    room->t = room->pool + OIL_CAUSES * n;
    room->work = room->t + n;
    return true;
}

void trn_draw_room_free(trn_draw_room *room)
{
    free(room->pool);
    free(room->cause);
    free(room->states);
    free(room->changed);
    *room = (trn_draw_room){0};
}

/* ---- T_k ------------------------------------------------------------------------------------ */

/* The shortest of the limits in use; ties keep the order of the columns. */
static void shortest(unsigned use, size_t n, trn_draw_room *room)
{
    for (size_t k = 0; k < n; k++) {
        room->t[k] = INFINITY;
        room->cause[k] = TRN_CAUSE_NONE;
    }
    for (size_t c = 0; c < OIL_CAUSES; c++) {
        const double *life = room->life[c];
        if (!(use & TRN_BIT(c)))
            continue;
        for (size_t k = 0; k < n; k++)
            if (life[k] < room->t[k]) {
                room->t[k] = life[k];
                room->cause[k] = (unsigned char)c;
            }
    }
}

static void apply(const trn_draw_change *change, const trn_service_point *sp,
                  const trn_duty_state *states, size_t n, trn_service_point *out,
                  trn_duty_state *changed)
{
    trn_turn_apply(change->id, change->v, sp, states, n, out, changed);
    for (size_t i = 0; change->warmer_c && i < n; i++)
        if (!states[i].oil_measured)
            changed[i].oil_c += change->warmer_c[i];
}

/* Draws that went through the whole evaluation have a point and a duty of their own. */
static void one_by_one(const trn_results *r, size_t point, const trn_service_point *sp,
                       const trn_duty_state *states, unsigned use, trn_draw_id frozen,
                       unsigned at_reference, const trn_draw_change *change, trn_draw_room *room)
{
    const trn_draws *d = r->draws;
    const trn_drawn_points *drawn = room->drawn ? room->drawn : d->drawn;
    size_t n = drawn->states;
    bool oil = trn_grease_factors_of(sp->task) == 0;
    for (size_t k = 0; k < room->count; k++) {
        double z[TRN_DRAWS];
        for (size_t i = 0; i < TRN_DRAWS; i++)
            z[i] = i == (size_t)frozen ? 0 : d->normals.z[i * d->normals.room + k];
        const trn_service_point *own = drawn->service[point] ? &drawn->service[point][k] : sp;
        trn_service_point bare;
        if (room->uncalibrated) {
            bare = *own;
            trn_uncalibrate_point(&bare);
            own = &bare;
        }
        const trn_duty_state *duty = drawn->state[point] ? &drawn->state[point][k * n] : states;
        trn_service_point turned;
        if (change) {
            apply(change, own, duty, n, &turned, room->changed);
            own = &turned;
            duty = room->changed;
        }
        if (!oil) {
            room->t[k] = trn_greasing_life(own, duty, n, &d->settings, z, at_reference);
            continue;
        }
        trn_lives lives;
        trn_oil_lives(own, duty, n, &d->settings, z, &lives);
        bool rootless = drawn->rootless[point] && drawn->rootless[point][k];
        for (size_t c = 0; c < OIL_CAUSES; c++)
            room->life[c][k] = rootless ? 0 : lives.of[c]; /* it cannot run so */
    }
    if (oil)
        shortest(use, room->count, room);
}

void trn_draws_of_point(const trn_results *r, size_t point, const trn_service_point *sp,
                        const trn_duty_state *states, unsigned use, trn_draw_id frozen,
                        unsigned at_reference, const trn_draw_change *change, trn_draw_room *room)
{
    const trn_draws *d = r->draws;
    size_t n = r->machine->duty_count;
    bool few = change && change->few && d->few_blocks;
    const trn_blocks *blocks = few ? d->few_blocks : d->blocks;
    room->count = few ? d->few.draws : d->normals.draws;
    const trn_drawn_points *drawn = room->drawn ? room->drawn : d->drawn;
    if (drawn && (drawn->service[point] || drawn->state[point])) {
        room->count = room->most > 0 && room->most < room->count ? room->most : room->count;
        one_by_one(r, point, sp, states, use, frozen, at_reference, change, room);
        return;
    }
    trn_service_point turned;
    if (change) {
        apply(change, sp, states, n, &turned, room->changed);
        sp = &turned;
        states = room->changed;
    }
    if (trn_grease_factors_of(sp->task) != 0) {
        trn_blocks_grease(blocks, sp, states, n, frozen, at_reference, room->t);
        return;
    }
    trn_blocks_oil(blocks, sp, states, n, frozen, room->life);
    shortest(use, room->count, room);
}

double trn_draws_risk_quantile(const trn_results *r, trn_draw_room *room)
{
    memcpy(room->work, room->t, room->count * sizeof *room->t);
    return trn_draw_quantile(room->work, room->count, r->machine->head.risk);
}

/* ---- rows ----------------------------------------------------------------------------------- */

typedef struct study {
    trn_results *r;
    size_t point, n;
    trn_service_point sp;
    trn_draw_room *room;
    trn_point_row *row;
    trn_mechanism_row *mechanisms;
    size_t count;
    trn_cause order[TRN_LIMITS];
    size_t order_count;
    double oil_h;
} study;

static trn_mechanism_row *add_mechanism(study *s, trn_cause cause, const double *life)
{
    trn_mechanism_row *m = &s->mechanisms[s->count++];
    double *work = s->room->work;
    size_t n = s->r->draws->normals.draws;
    *m = (trn_mechanism_row){.point = s->point, .cause = cause};
    memcpy(work, life, n * sizeof *life);
    m->low_h = trn_draw_quantile(work, n, 0.1);
    m->median_h = trn_draw_quantile(work, n, 0.5);
    m->high_h = trn_draw_quantile(work, n, 0.9);
    return m;
}

/* Quantiles of T_k, from room->t. */
static void fill_row(study *s)
{
    const double *t = s->room->t;
    size_t n = s->r->draws->normals.draws;
    double *work = s->room->work;
    trn_point_row *row = s->row;
    double risk = s->r->machine->head.risk;
    memcpy(work, t, n * sizeof *t);
    row->low_h = trn_draw_quantile(work, n, 0.1);
    row->median_h = trn_draw_quantile(work, n, 0.5);
    row->high_h = trn_draw_quantile(work, n, 0.9);
    row->at_risk_h = trn_draw_quantile(work, n, risk);
    row->at_risk_error_h = trn_draw_error(t, n, risk, work);
    size_t short_of = 0;
    for (size_t k = 0; k < n; k++)
        short_of += t[k] < row->manual_h * (1 - 1e-9);
    row->too_long_pct = 100 * (double)short_of / (double)n;
    row->drawn = true;
}

/* Shares of the draws in which a cause is first, of all and of those at or below T_q. */
static void count_first(study *s, const unsigned char *cause, const double *t)
{
    size_t n = s->r->draws->normals.draws;
    double all[TRN_CAUSES] = {0};
    double low[TRN_CAUSES] = {0};
    double below = 0;
    for (size_t k = 0; k < n; k++) {
        all[cause[k]]++;
        if (t[k] <= s->row->at_risk_h) {
            low[cause[k]]++;
            below++;
        }
    }
    for (size_t i = 0; i < s->count; i++) {
        trn_mechanism_row *m = &s->mechanisms[i];
        m->first_pct = 100 * all[m->cause] / (double)n;
        m->sets_pct = below > 0 ? 100 * low[m->cause] / below : 0;
    }
}

/* Risk quantile of the shorter of ageing and water, whatever water is nominally. */
static void oil_quantile(study *s)
{
    size_t n = s->r->draws->normals.draws;
    for (size_t k = 0; k < n; k++) {
        double least = trn_lesser_known(s->room->life[TRN_CAUSE_AGEING][k],
                                        s->room->life[TRN_CAUSE_WATER][k]);
        s->room->work[k] = isnan(least) ? 0 : least; /* not known supports nothing */
    }
    s->oil_h = trn_draw_quantile(s->room->work, n, s->r->machine->head.risk);
}

static void study_oil(study *s, const trn_duty_state *states)
{
    const trn_nominal *nominal = &s->row->nominal;
    trn_draws_of_point(s->r, s->point, &s->sp, states, nominal->use, TRN_DRAWS, 0, NULL, s->room);
    fill_row(s);
    double score[TRN_LIMITS] = {0};
    double tie[TRN_LIMITS] = {0};
    for (size_t c = 0; c < OIL_CAUSES; c++)
        if (!isnan(nominal->limit[c].life_h))
            tie[c] = add_mechanism(s, (trn_cause)c, s->room->life[c])->median_h;
    count_first(s, s->room->cause, s->room->t);
    oil_quantile(s);
    for (size_t i = 0; i < s->count; i++)
        score[s->mechanisms[i].cause] = s->mechanisms[i].sets_pct;
    s->order_count = trn_cause_rank(nominal->use, score, tie, s->order);
}

/* Factors of a grease: each alone off the reference, and each put back to it. */
static void study_grease(study *s, const trn_duty_state *states)
{
    const trn_nominal *nominal = &s->row->nominal;
    unsigned acts = trn_grease_factors_of(s->sp.task);
    size_t n = s->r->draws->normals.draws;
    trn_draw_room *room = s->room;
    double *least = room->life[0]; /* rooms of an oil serve here */
    double *all = room->life[1];
    double score[TRN_LIMITS] = {0};
    double tie[TRN_LIMITS] = {0};
    trn_draws_of_point(s->r, s->point, &s->sp, states, 0, TRN_DRAWS, 0, NULL, room);
    fill_row(s);
    memcpy(all, room->t, n * sizeof *all);
    for (size_t k = 0; k < n; k++) {
        least[k] = INFINITY;
        room->cause[k] = TRN_CAUSE_NONE;
    }
    for (size_t c = 0; c < TRN_LIMITS; c++) {
        if (!(acts & TRN_BIT(c)))
            continue;
        trn_draws_of_point(s->r, s->point, &s->sp, states, 0, TRN_DRAWS, acts & ~TRN_BIT(c), NULL,
                           room);
        (void)add_mechanism(s, (trn_cause)c, room->t);
        for (size_t k = 0; k < n; k++)
            if (room->t[k] < least[k] * (1 - 1e-9) && room->t[k] < s->sp.manual_h * (1 - 1e-9)) {
                least[k] = room->t[k];
                room->cause[k] = (unsigned char)c;
            }
        trn_draws_of_point(s->r, s->point, &s->sp, states, 0, TRN_DRAWS, TRN_BIT(c), NULL, room);
        score[c] = trn_draws_risk_quantile(s->r, room);
        tie[c] = nominal->limit[c].life_h;
    }
    count_first(s, room->cause, all);
    s->order_count = trn_cause_rank(nominal->use, score, tie, s->order);
}

/* Level checks have nothing that is drawn. */
static void study_level(study *s)
{
    const trn_nominal *nominal = &s->row->nominal;
    bool known = nominal->order_count > 0;
    s->row->drawn = true;
    s->row->at_risk_error_h = 0;
    s->row->too_long_pct = s->row->nominal_h < s->row->manual_h * (1 - 1e-9) ? 100 : 0;
    memcpy(s->order, nominal->order, sizeof s->order);
    s->order_count = nominal->order_count;
    if (known)
        s->mechanisms[s->count++] =
            (trn_mechanism_row){s->point, TRN_CAUSE_LOSS, s->row->nominal_h, s->row->nominal_h,
                                s->row->nominal_h, 100, 100};
}

/* ---- what to measure next --------------------------------------------------------------------- */

static unsigned drawn_by(const study *s)
{
    unsigned oil = TRN_BIT(TRN_DRAW_DUST) | TRN_BIT(TRN_DRAW_X) | TRN_BIT(TRN_DRAW_INTAKE) |
                   TRN_BIT(TRN_DRAW_DUST_BUDGET) | TRN_BIT(TRN_DRAW_OIL_TEMPERATURE) |
                   TRN_BIT(TRN_DRAW_AGEING_LIFE) | TRN_BIT(TRN_DRAW_WATER) |
                   TRN_BIT(TRN_DRAW_DRYING) | TRN_BIT(TRN_DRAW_ADDITIVE_STEP) |
                   TRN_BIT(TRN_DRAW_DEBRIS);
    unsigned grease = TRN_BIT(TRN_DRAW_DUST) | TRN_BIT(TRN_DRAW_SHOCK) |
                      TRN_BIT(TRN_DRAW_GREASE_EXPONENT);
    return trn_grease_factors_of(s->sp.task) ? grease : oil;
}

static void measure_next(study *s, const trn_duty_state *states, trn_next_row *next)
{
    unsigned varied = drawn_by(s);
    *next = (trn_next_row){.point = s->point, .quantity = "", .at_risk_h = s->row->at_risk_h,
                           .known_h = NAN, .gain_h = NAN};
    if (trn_task_stands(s->sp.task) || !isfinite(s->row->at_risk_h))
        return;
    const trn_draws *d = s->r->draws;
    for (size_t i = 0; i < d->own_count; i++) {
        double gain = d->own_gain_h[s->point * d->own_count + i];
        if (gain > 1e-9 * s->row->at_risk_h && !(gain <= next->gain_h)) {
            next->quantity = d->own[i];
            next->known_h = s->row->at_risk_h + gain;
            next->gain_h = gain;
        }
    }
    for (unsigned id = 0; id < TRN_DRAWS; id++) {
        if (!(varied & TRN_BIT(id)))
            continue;
        trn_draws_of_point(s->r, s->point, &s->sp, states, s->row->nominal.use, (trn_draw_id)id, 0,
                           NULL, s->room);
        double known = trn_draws_risk_quantile(s->r, s->room);
        double gain = known - s->row->at_risk_h;
        if (gain > 1e-9 * s->row->at_risk_h && !(gain <= next->gain_h)) {
            next->quantity = trn_draw_path((trn_draw_id)id);
            next->known_h = known;
            next->gain_h = gain;
        }
    }
}

/* Risk quantile of the first draws, as they are and with a quantity of its own at its median. */
double trn_draws_gain(trn_results *r, size_t point, const trn_drawn_points *known,
                      trn_draw_room *room)
{
    const trn_draws *d = r->draws;
    const trn_point_row *row = &r->points[point];
    trn_service_point sp;
    double t_q[2];
    if (isnan(row->nominal_h) || r->machine->points[point].task == TRN_TASK_CHECK_OIL ||
        !(d->drawn->service[point] || d->drawn->state[point]))
        return NAN;
    trn_service_point_of(r->machine, r, point, &sp);
    (void)trn_duty_states_of(r->machine, r, point, room->states);
    room->most = known->draws;
    for (size_t i = 0; i < 2; i++) {
        room->drawn = i == 0 ? NULL : known;
        trn_draws_of_point(r, point, &sp, room->states, row->nominal.use, TRN_DRAWS, 0, NULL, room);
        t_q[i] = trn_draws_risk_quantile(r, room);
    }
    room->drawn = NULL;
    room->most = 0;
    return t_q[1] - t_q[0];
}

size_t trn_draws_study_point(trn_results *r, size_t point, trn_draw_room *room,
                             trn_mechanism_row *mechanisms, trn_next_row *next)
{
    const trn_machine *m = r->machine;
    study s = {.r = r, .point = point, .room = room, .row = &r->points[point],
               .mechanisms = mechanisms};
    *next = (trn_next_row){.point = point, .quantity = "", .at_risk_h = NAN, .known_h = NAN,
                           .gain_h = NAN};
    if (isnan(s.row->nominal_h))
        return 0;
    trn_service_point_of(m, r, point, &s.sp);
    (void)trn_duty_states_of(m, r, point, room->states);
    if (trn_task_stands(s.sp.task))
        study_level(&s);
    else if (trn_grease_factors_of(s.sp.task))
        study_grease(&s, room->states);
    else
        study_oil(&s, room->states);
    s.row->sets = s.order_count ? s.order[0] : TRN_CAUSE_NONE;
    measure_next(&s, room->states, next);
    trn_interval_settle(m, &s.sp, room->states, s.order, s.order_count, s.row, NULL);
    trn_calibration_support(m, r, point, s.oil_h, s.row);
    return s.count;
}
