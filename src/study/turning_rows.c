/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "turning_rows.h"

#include <stdlib.h>
#include <string.h>
#include <trunnion/balance.h>
#include <trunnion/clock.h>
#include <trunnion/interval_rows.h>

#include "heat_box.h"
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
    trn_heat_parts *parts;
} probe;

/* Modelled oil temperature of a state under `factor` times the power: the losses' loads and the
 * mesh power scale with it. NaN where there is no balance. */
static double warmer(const probe *p, size_t state, double factor)
{
    const trn_machine *m = p->r->machine;
    size_t gearbox = m->points[p->point].gearbox_index;
    if (m->points[p->point].bearing_index != TRN_NONE)
        gearbox = m->axles[m->bearings[m->points[p->point].bearing_index].axle_index].gearbox_index;
    if (gearbox == TRN_NONE)
        return p->states[state].oil_c;
    trn_balance_box box;
    trn_balance_result result;
    if (trn_heat_box(m, p->r, state, gearbox, p->parts, &box, NULL) < 0)
        return p->states[state].oil_c;
    for (size_t i = 0; i < box.mesh_count; i++)
        p->parts->meshes[i].power_w *= factor;
    for (size_t i = 0; i < box.bearing_count; i++)
        for (size_t k = 0; k < p->parts->bearings[i].case_count; k++) {
            p->parts->bearings[i].cases[k].Fr_n *= factor;
            p->parts->bearings[i].cases[k].Fa_n *= factor;
        }
    box.power_w *= factor;
    if (trn_balance_solve(&box, NAN, 0, NULL, &result) < 0)
        return NAN;
    return result.T_k - 273.15;
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
    return nominal.life_h;
}

static void rows_of_point(probe *p, trn_clock clock, trn_turning_row *rows)
{
    const trn_point_row *result = &p->r->points[p->point];
    trn_service_point_of(p->r->machine, p->point, &p->sp);
    (void)trn_duty_states_of(p->r->machine, p->r, p->point, p->states);
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
        if (trn_turning_find(id, &p->sp, turns, clock, p->settings, interval_at, p, &found) < 0)
            continue;
        rows[k].manual_stands_at = found.manual_stands_at;
        rows[k].next_step_at = found.next_step_at;
    }
}

bool trn_turning_rows(const trn_results *r, trn_turning_row **out, size_t *count)
{
    const trn_machine *m = r->machine;
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    trn_clock clock = {m->head.service_clock.v, m->head.service_clock.n};
    probe p = {.r = r, .n = m->duty_count, .settings = &settings};
    p.states = calloc(m->duty_count + 1, sizeof *p.states);
    p.changed = calloc(m->duty_count + 1, sizeof *p.changed);
    p.parts = malloc(sizeof *p.parts);
    trn_turning_row *rows = calloc(m->points_count * TRN_TURNS + 1, sizeof *rows);
    bool whole = p.states && p.changed && p.parts && rows;
    size_t n = 0;
    for (size_t i = 0; whole && i < m->points_count; i++) {
        if (m->points[i].task == TRN_TASK_CHECK_OIL)
            continue;
        p.point = i;
        rows_of_point(&p, clock, &rows[n]);
        n += TRN_TURNS;
    }
    free(p.states);
    free(p.changed);
    free(p.parts);
    if (!whole) {
        free(rows);
        return false;
    }
    *out = rows;
    *count = n;
    return true;
}
