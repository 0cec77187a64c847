/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Room for the results of a case, and remarks as text. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/draws.h>
#include <trunnion/extras.h>
#include <trunnion/interval_rows.h>
#include <trunnion/ledger.h>
#include <trunnion/lift.h>
#include <trunnion/study.h>

#include "calibration.h"
#include "heat_box.h"

static const char *const remark_texts[] = {
#define TRN_X(id, text) text,
    TRN_REMARK_TEXTS(TRN_X)
#undef TRN_X
};

static void append(trn_remarks *list, trn_remark remark)
{
    for (size_t i = 0; i < list->n; i++)
        if (list->v[i].id == remark.id && list->v[i].status == remark.status &&
            list->v[i].name == remark.name)
            return;
    if (list->n < TRN_ROW_REMARKS_MAX)
        list->v[list->n++] = remark;
}

void trn_remark_add(trn_remarks *list, trn_remark_id id, const char *name, double number)
{
    append(list, (trn_remark){.id = id, .name = name, .number = number});
}

void trn_remark_add2(trn_remarks *list, trn_remark_id id, const char *name, double number,
                     double second)
{
    append(list,
           (trn_remark){.id = id, .name = name, .number = number, .second = second});
}

void trn_remark_status(trn_remarks *list, trn_status status)
{
    if (status != TRN_OK)
        append(list, (trn_remark){.id = TRN_M_STATUS, .status = status});
}

void trn_remarks_join(trn_remarks *list, const trn_remarks *more)
{
    for (size_t i = 0; i < more->n; i++)
        append(list, more->v[i]);
}

bool trn_remark_has(const trn_remarks *list, trn_remark_id id)
{
    for (size_t i = 0; i < list->n; i++)
        if (list->v[i].id == id)
            return true;
    return false;
}

/* Three digits, more before the point. */
static void add_number(double x, trn_buffer *out)
{
    bool large = fabs(x) >= 999.5 && fabs(x) < 1e7;
    trn_buffer_print(out, large ? "%.0f" : "%.3g", x);
}

void trn_remarks_text(const trn_remarks *list, trn_buffer *out)
{
    for (size_t i = 0; i < list->n; i++) {
        const trn_remark *r = &list->v[i];
        const char *text = r->id == TRN_M_STATUS ? trn_status_text(r->status) : remark_texts[r->id];
        if (i)
            trn_buffer_add(out, "; ");
        for (const char *p = text; *p; p++)
            if (*p == '$')
                trn_buffer_add(out, r->name ? r->name : "");
            else if (*p == '#' || *p == '~')
                add_number(*p == '#' ? r->number : r->second, out);
            else
                trn_buffer_add_n(out, p, 1);
    }
}

/* Positions of a shaft: its measured rows, then dimensioned ones without a measured row. */
static bool measured(const trn_machine *m, size_t shaft, const char *position)
{
    for (size_t i = 0; i < m->positions_count; i++)
        if (m->positions[i].shaft_index == shaft && strcmp(m->positions[i].position, position) == 0)
            return true;
    return false;
}

static size_t list_settings(const trn_machine *m, trn_setting *out)
{
    size_t n = 0;
    for (size_t i = 0; i < m->positions_count; i++, n++)
        if (out)
            out[n] = (trn_setting){.position = m->positions[i].position,
                                   .shaft = m->positions[i].shaft_index};
    for (size_t i = 0; i < m->geometry_count; i++) {
        const trn_geometry *g = &m->geometry[i];
        if (measured(m, g->shaft_index, g->position))
            continue;
        if (out)
            out[n] = (trn_setting){.position = g->position, .shaft = g->shaft_index};
        n++;
    }
    return n;
}

static bool stands_in(const trn_machine *m, const char *position)
{
    for (size_t i = 0; i < m->duty_count; i++)
        if (m->duty[i].position && strcmp(m->duty[i].position, position) == 0)
            return true;
    return false;
}

static bool make_rows(trn_results *r, const trn_machine *m)
{
    size_t states = m->duty_count;
    r->settings_count = list_settings(m, NULL);
    r->settings = calloc(r->settings_count + 1, sizeof *r->settings);
    if (!r->settings)
        return false;
    (void)list_settings(m, r->settings);
    size_t unused = 0;
    for (size_t i = 0; i < r->settings_count; i++) {
        r->settings[i].used = stands_in(m, r->settings[i].position);
        unused += !r->settings[i].used;
    }
    r->joints_count = (states + 1) * m->shafts_count + unused;
    r->joints = calloc(r->joints_count + 1, sizeof *r->joints);
    r->gears = calloc(states * m->gears_count + 1, sizeof *r->gears);
    r->loads = calloc(states * m->bearings_count + 1, sizeof *r->loads);
    r->loads_mean = calloc(states * m->bearings_count + 1, sizeof *r->loads_mean);
    r->heat = calloc(states * m->gearboxes_count + 1, sizeof *r->heat);
    r->bearings = calloc((states + 1) * m->bearings_count + 1, sizeof *r->bearings);
    r->gearboxes = calloc(m->gearboxes_count + 1, sizeof *r->gearboxes);
    r->points = calloc(m->points_count + 1, sizeof *r->points);
    r->fits = calloc(m->shafts_count + 1, sizeof *r->fits);
    r->states = calloc(states + 1, sizeof *r->states);
    r->readings = calloc(m->readings_count + 1, sizeof *r->readings);
    r->cooling = calloc(m->gearboxes_count + 1, sizeof *r->cooling);
    r->room = calloc(1, sizeof *r->room);
    r->calibrations_count = m->gearboxes_count;
    return trn_calibrations_make(m, &r->calibrations) == TRN_OK && r->states && r->joints &&
           r->gears && r->loads && r->loads_mean && r->heat && r->bearings && r->gearboxes &&
           r->points && r->fits && r->readings && r->cooling && r->room;
}

trn_results *trn_results_new(const trn_machine *machine)
{
    trn_results *results = calloc(1, sizeof *results);
    if (results && !make_rows(results, machine)) {
        trn_results_free(results);
        return NULL;
    }
    return results;
}

void trn_results_free(trn_results *results)
{
    if (!results)
        return;
    free(results->settings);
    free(results->joints);
    free(results->gears);
    free(results->loads);
    free(results->loads_mean);
    free(results->heat);
    free(results->bearings);
    free(results->gearboxes);
    free(results->points);
    free(results->fits);
    free(results->states);
    free(results->readings);
    free(results->cooling);
    trn_heat_room_free(results->room);
    free(results->room);
    trn_results_free(results->as_read);
    trn_calibrations_free(results->calibrations, results->calibrations_count);
    trn_ledger_free(results->ledger);
    trn_extras_free(results->extras);
    trn_draws_free(results->draws);
    free(results);
}

const trn_joint_row *trn_results_joint(const trn_results *results, size_t condition, size_t shaft)
{
    return &results->joints[condition * results->machine->shafts_count + shaft];
}
