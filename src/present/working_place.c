/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which rows of the case a step, or a row of a result file, is about. */
#include <math.h>
#include <string.h>
#include <trunnion/interval_rows.h>

#include "working_inside.h"

static trn_place nowhere(const trn_results *results, const trn_trace *trace)
{
    return (trn_place){.results = results, .trace = trace, .stage = "", .variant = "",
                       .condition_text = "", .condition = TRN_NONE, .shaft = TRN_NONE,
                       .gearbox = TRN_NONE, .axle = TRN_NONE, .gear = TRN_NONE,
                       .bearing = TRN_NONE, .point = TRN_NONE, .limit = trace->count,
                       .worked = TRN_NONE};
}

size_t trn_working_driving_gear(const trn_machine *m, size_t axle)
{
    for (size_t i = 0; i < m->gears_count; i++)
        if (m->gears[i].driver && m->gears[m->gears[i].mate_index].axle_index == axle)
            return i;
    return TRN_NONE;
}

static size_t find_condition(const trn_machine *m, const char *key)
{
    for (size_t i = 0; i < m->duty_count; i++)
        if (strcmp(m->duty[i].condition, key) == 0)
            return i;
    return TRN_NONE;
}

/* Rows that follow from those that are known: bearing and gear to axle to gearbox to shaft. */
static void follow(trn_place *p)
{
    const trn_machine *m = p->results->machine;
    if (p->point != TRN_NONE) {
        p->gearbox = m->points[p->point].gearbox_index;
        p->shaft = m->points[p->point].shaft_index;
        p->bearing = m->points[p->point].bearing_index;
    }
    if (p->bearing != TRN_NONE)
        p->axle = m->bearings[p->bearing].axle_index;
    if (p->gear != TRN_NONE && p->axle == TRN_NONE)
        p->axle = m->gears[p->gear].axle_index;
    if (p->axle != TRN_NONE)
        p->gearbox = m->axles[p->axle].gearbox_index;
    if (p->gearbox != TRN_NONE && p->shaft == TRN_NONE)
        p->shaft = m->gearboxes[p->gearbox].shaft_index;
    if (!p->position && p->condition < m->duty_count && p->shaft != TRN_NONE) {
        const trn_joint_row *row = trn_results_joint(p->results, p->condition, p->shaft);
        if (row->setting != TRN_NONE)
            p->position = p->results->settings[row->setting].position;
    }
}

/* A seal has no name: it is on the one axle of the box with this diameter and speed. */
static size_t axle_of_seal(const trn_place *p, const trn_note *note)
{
    const trn_machine *m = p->results->machine;
    size_t found = TRN_NONE;
    if (p->condition == TRN_NONE || p->shaft == TRN_NONE)
        return TRN_NONE;
    double omega = m->duty[p->condition].pto_speed * m->shafts[p->shaft].speed_ratio;
    for (size_t a = 0; a < m->axles_count; a++) {
        if (m->axles[a].gearbox_index != p->gearbox)
            continue;
        for (size_t k = 0; k < m->axles[a].seals.n; k++)
            if (m->axles[a].seals.v[k] == note->in[0] &&
                fabs(omega * m->axles[a].ratio - note->in[1]) <= 1e-9 * fabs(note->in[1])) {
                if (found != TRN_NONE && found != a)
                    return TRN_NONE;
                found = a;
            }
    }
    return found;
}

static void of_heat(trn_place *p, const trn_note *note)
{
    const trn_machine *m = p->results->machine;
    const char *part = note->stage + strlen("heat");
    if (*part == '\0') {
        p->gearbox = trn_find_gearbox(m, note->object);
        follow(p);
        if (strcmp(note->formula->name, "loss.seal") == 0)
            p->axle = axle_of_seal(p, note);
    } else if (strcmp(part, " bearing") == 0) {
        p->bearing = trn_find_bearing(m, note->object);
    } else {
        p->gear = trn_find_gear(m, note->object);
        if (strcmp(part, " driven") == 0 && p->gear != TRN_NONE)
            p->gear = m->gears[p->gear].mate_index;
    }
}

static void of_stage(trn_place *p, const trn_note *note)
{
    const trn_machine *m = p->results->machine;
    const char *stage = note->stage;
    const char *key = note->object;
    if (strcmp(stage, "position") == 0 || strcmp(stage, "unused") == 0) {
        p->position = note->condition;
        p->shaft = trn_find_shaft(m, key);
    } else if (strcmp(stage, "joint") == 0 || strcmp(stage, "fit") == 0) {
        p->shaft = trn_find_shaft(m, key);
    } else if (strcmp(stage, "speed") == 0) {
        p->gear = trn_working_driving_gear(m, trn_find_axle(m, key));
    } else if (strcmp(stage, "gear") == 0) {
        p->gear = trn_find_gear(m, key);
    } else if (strcmp(stage, "axle") == 0) {
        p->axle = trn_find_axle(m, key);
    } else if (strcmp(stage, "axle bearing") == 0 || strcmp(stage, "life") == 0 ||
               strcmp(stage, "duty") == 0) {
        p->bearing = trn_find_bearing(m, key);
    } else if (strncmp(stage, "heat", 4) == 0) {
        of_heat(p, note);
    } else if (strcmp(stage, "cleanliness") == 0 || strcmp(stage, "gearbox") == 0) {
        p->gearbox = trn_find_gearbox(m, key);
    } else if (strcmp(stage, "interval") == 0) {
        /* two tasks of a point have one name: the text of the row itself was noted */
        for (size_t i = 0; i < m->points_count; i++)
            if (m->points[i].point == key)
                p->point = i;
    }
}

trn_place trn_place_of_note(const trn_results *results, const trn_trace *trace, size_t note)
{
    const trn_note *n = &trace->list[note];
    trn_place p = nowhere(results, trace);
    p.note = n;
    p.stage = n->stage;
    p.variant = n->variant;
    p.condition_text = n->condition;
    p.condition = find_condition(results->machine, n->condition);
    p.limit = note;
    if (strcmp(p.stage, "position") == 0 || strcmp(p.stage, "unused") == 0)
        p.condition = TRN_NONE;
    of_stage(&p, n);
    follow(&p);
    return p;
}

static void set_condition(trn_place *p, size_t condition)
{
    const trn_machine *m = p->results->machine;
    p->condition = condition < m->duty_count ? condition : TRN_NONE;
    p->condition_text = condition == TRN_NONE          ? ""
                        : condition == m->duty_count ? "all"
                                                     : m->duty[condition].condition;
}

trn_place trn_place_of_row(const trn_results *results, const trn_trace *trace,
                           const trn_view *view, size_t row)
{
    trn_place p = nowhere(results, trace);
    const void *at = view->row(results, row);
    if (strcmp(view->name, "joints") == 0) {
        const trn_joint_row *r = at;
        p.shaft = r->shaft;
        set_condition(&p, r->condition);
        p.stage = r->condition == TRN_NONE ? "unused" : "joint";
        if (r->setting != TRN_NONE)
            p.position = results->settings[r->setting].position;
    } else if (strcmp(view->name, "heat") == 0) {
        const trn_heat_row *r = at;
        p.stage = "heat";
        p.gearbox = r->gearbox;
        set_condition(&p, r->condition);
    } else if (strcmp(view->name, "bearing_lives") == 0) {
        const trn_bearing_row *r = at;
        p.stage = "life";
        p.bearing = r->bearing;
        set_condition(&p, r->condition);
    } else if (strcmp(view->name, "gearbox_life") == 0) {
        p.stage = "gearbox";
        p.gearbox = row;
        p.condition_text = "all";
    } else {
        p.stage = "interval";
        p.point = ((const trn_point_row *)at)->point;
        p.condition_text = "all";
    }
    follow(&p);
    return p;
}

size_t trn_working_heaviest(const trn_results *r, const trn_view *view, size_t row,
                            const trn_field *field)
{
    const trn_machine *m = r->machine;
    bool joint = strcmp(view->name, "joints") == 0;
    if (!joint && strcmp(view->name, "bearing_lives") != 0)
        return TRN_NONE;
    size_t parts = joint ? m->shafts_count : m->bearings_count;
    size_t part = row - m->duty_count * parts;
    if (row < m->duty_count * parts || part >= parts)
        return TRN_NONE;
    size_t found = TRN_NONE;
    double most = 0;
    for (size_t i = 0; i < m->duty_count; i++) {
        double life = NAN;
        memcpy(&life, (const char *)view->row(r, i * parts + part) + field->offset, sizeof life);
        double damage = m->duty[i].share / life;
        if (damage > most) {
            most = damage;
            found = i;
        }
    }
    return found;
}
