/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turning_rows.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/balance.h>
#include <trunnion/clock.h>
#include <trunnion/interval_rows.h>

#include "draws_inside.h"
#include "heat_box.h"
#include "parallel.h"
#include "service_points.h"
#include "study.h"

/* One point with room for a changed copy of its duty. */
typedef struct probe {
    const trn_results *r;
    trn_turn_id quantity;
    size_t point, n;
    trn_service_point sp;
    trn_duty_state *states, *changed;
    const trn_interval_settings *settings;
    trn_heat_room heat;
    double *warmer_c; /* rise of the modelled oil under another power */
    trn_draw_room room;
    double sought_h[2]; /* intervals that are sought: that of the manual and the next step */
} probe;

/* Modelled oil temperature of a state under `factor` times the power: the losses' loads and the
 * mesh power scale with it. NaN where there is no balance. */
static double warmer(probe *p, size_t state, double factor)
{
    const trn_machine *m = p->r->machine;
    size_t gearbox = m->points[p->point].gearbox_index;
    if (m->points[p->point].bearing_index != TRN_NONE)
        gearbox = m->axles[m->bearings[m->points[p->point].bearing_index].axle_index].gearbox_index;
    if (gearbox == TRN_NONE)
        return p->states[state].oil_c;
    trn_heat_as as = {.T_air_k = NAN, .cooling_factor = NAN, .power = factor};
    trn_balance_shared shared;
    if (trn_heat_together(m, p->r, state, gearbox, &as, &p->heat) < 0)
        return p->states[state].oil_c;
    if (trn_balance_share(p->heat.ready, p->heat.n > 1 ? p->heat.weight : NULL, p->heat.n, 0,
                          &shared) < 0)
        return NAN;
    return shared.modelled_k - 273.15;
}

/* A tenth of the draws gives T_q to about 2 %: near what is sought all of them must decide. */
static bool near_sought(const probe *p, double t)
{
    for (size_t i = 0; i < 2; i++)
        if (!(t < 0.85 * p->sought_h[i] || t > 1.18 * p->sought_h[i]))
            return true;
    return false;
}

/* T_q of the same draws. */
static double at_risk(probe *p, double v, unsigned use)
{
    trn_draw_change change = {.id = p->quantity, .v = v};
    if (p->quantity == TRN_TURN_POWER) {
        for (size_t i = 0; i < p->n; i++)
            p->warmer_c[i] = p->states[i].oil_measured || isnan(p->states[i].oil_c)
                                 ? 0
                                 : p->changed[i].oil_c - p->states[i].oil_c;
        change.warmer_c = p->warmer_c;
    }
    change.few = p->r->draws->few_blocks && v != trn_turn_used(p->quantity, &p->sp);
    trn_draws_of_point(p->r, p->point, &p->sp, p->states, use, TRN_DRAWS, 0, &change, &p->room);
    double t = trn_draws_risk_quantile(p->r, &p->room);
    if (!change.few || !near_sought(p, t))
        return t;
    change.few = false;
    trn_draws_of_point(p->r, p->point, &p->sp, p->states, use, TRN_DRAWS, 0, &change, &p->room);
    return trn_draws_risk_quantile(p->r, &p->room);
}

static double interval_at(double v, void *context)
{
    probe *p = context;
    trn_service_point sp;
    trn_turn_apply(p->quantity, v, &p->sp, p->states, p->n, &sp, p->changed);
    if (p->quantity == TRN_TURN_POWER)
        for (size_t i = 0; i < p->n; i++)
            if (!p->states[i].oil_measured && !isnan(p->states[i].oil_c) && p->states[i].share > 0)
                p->changed[i].oil_c = warmer(p, i, v);
    trn_nominal nominal;
    if (trn_point_nominal(&sp, p->changed, p->n, p->settings, NULL, &nominal) < 0)
        return NAN;
    return p->r->draws ? at_risk(p, v, nominal.use) : nominal.life_h;
}

static void rows_of_point(probe *p, trn_clock clock, trn_turning_row *rows)
{
    const trn_point_row *result = &p->r->points[p->point];
    trn_service_point_of(p->r->machine, p->r, p->point, &p->sp);
    (void)trn_duty_states_of(p->r->machine, p->r, p->point, p->states);
    p->sought_h[0] = p->sp.manual_h / (1 + p->settings->slack);
    p->sought_h[1] = fmin(p->sp.manual_h, trn_clock_next(clock, result->recommended_h)) /
                     (1 + p->settings->slack);
    for (size_t k = 0; k < TRN_TURNS; k++) {
        trn_turn_id id = (trn_turn_id)k;
        rows[k] = (trn_turning_row){.point = p->point,
                                    .quantity = trn_turn_name(id),
                                    .unit = trn_turn_unit(id),
                                    .used = trn_turn_used(id, &p->sp),
                                    .manual_stands_at = NAN,
                                    .next_step_at = NAN};
        if (isnan(result->recommended_h) || !trn_turn_acts(id, &p->sp, p->states, p->n))
            continue;
        p->quantity = id;
        bool turns = id == TRN_TURN_OIL_TEMPERATURE || id == TRN_TURN_POWER;
        trn_turning found;
        trn_status status =
            p->r->draws ? trn_turning_find_dear(id, &p->sp, turns, clock, p->settings, interval_at,
                                                p, &found)
                        : trn_turning_find(id, &p->sp, turns, clock, p->settings, interval_at, p,
                                           &found);
        if (status < 0)
            continue;
        rows[k].manual_stands_at = found.manual_stands_at;
        rows[k].next_step_at = found.next_step_at;
    }
}

typedef struct turning_run {
    const trn_results *r;
    probe probes[TRN_JOBS_MAX];
    trn_clock clock;
    const size_t *points;
    trn_turning_row *rows;
} turning_run;

static void run_point(void *context, unsigned worker, size_t item)
{
    turning_run *run = context;
    probe *p = &run->probes[worker];
    p->point = run->points[item];
    rows_of_point(p, run->clock, &run->rows[item * TRN_TURNS]);
}

static bool probe_make(const trn_results *r, const trn_interval_settings *settings, probe *p)
{
    size_t n = r->machine->duty_count;
    *p = (probe){.r = r, .n = n, .settings = settings};
    p->states = calloc(n + 1, sizeof *p->states);
    p->changed = calloc(n + 1, sizeof *p->changed);
    p->warmer_c = calloc(n + 1, sizeof *p->warmer_c);
    bool room = !r->draws || trn_draw_room_make(r->draws, n, &p->room);
    return room && p->states && p->changed && p->warmer_c;
}

static void probe_free(probe *p)
{
    free(p->states);
    free(p->changed);
    free(p->warmer_c);
    trn_heat_room_free(&p->heat);
    trn_draw_room_free(&p->room);
}

bool trn_turning_rows(const trn_results *r, trn_turning_row **out, size_t *count)
{
    const trn_machine *m = r->machine;
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    turning_run *run = calloc(1, sizeof *run);
    size_t *points = calloc(m->points_count + 1, sizeof *points);
    trn_turning_row *rows = calloc(m->points_count * TRN_TURNS + 1, sizeof *rows);
    bool whole = run && points && rows;
    size_t n = 0;
    for (size_t i = 0; whole && i < m->points_count; i++)
        if (!trn_task_stands((trn_task)m->points[i].task))
            points[n++] = i;
    unsigned jobs = trn_jobs(r->draws ? r->draws->plan.jobs : 1, n);
    for (unsigned i = 0; whole && i < jobs; i++)
        whole = probe_make(r, &settings, &run->probes[i]);
    if (whole) {
        run->r = r;
        run->clock = (trn_clock){m->head.service_clock.v, m->head.service_clock.n};
        run->points = points;
        run->rows = rows;
        trn_parallel(jobs, &(trn_parallel_task){.n = n, .run = run_point, .context = run});
        *out = rows;
        *count = n * TRN_TURNS;
    } else {
        free(rows);
    }
    for (unsigned i = 0; run && i < jobs; i++)
        probe_free(&run->probes[i]);
    free(points);
    free(run);
    return whole;
}
