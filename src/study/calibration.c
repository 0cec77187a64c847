/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "calibration.h"

#include <stdlib.h>
#include <string.h>

#include "cleanliness.h"
#include "samples_fill.h"
#include "service_points.h"

/* Half the width of an ISO VG class about its midpoint: oil that leaves it has become another
 * grade. Source: ISO 3448. Standing: published */
static const double grade_half_width = 0.1;

static size_t samples_of(const trn_machine *m, size_t gearbox, trn_sample *rows)
{
    size_t n = 0;
    for (size_t i = 0; i < m->samples_count; i++)
        if (m->samples[i].gearbox_index == gearbox)
            rows[n++] = m->samples[i];
    return n;
}

/* ---- readings over the hours on the oil ----------------------------------------------------- */

static double reading(const trn_sample *s, size_t which)
{
    return which < TRN_ELEMENTS ? s->content[which] : s->kv40 * 1e6;
}

/* Readings at known hours since the change, of every fill: the same machine and duty. */
static void list_readings(const trn_samples_place *places, size_t n, size_t which, double limit,
                          bool falls, double **room, trn_calibration *out)
{
    double *times = *room;
    double *values = times + n;
    size_t count = 0;
    for (size_t i = 0; i < n; i++) {
        double y = reading(places[i].sample, which);
        if (isnan(y) || isnan(places[i].birth_h))
            continue;
        times[count] = places[i].sample->machine_hours - places[i].birth_h;
        values[count++] = y;
    }
    if (count == 0 || isnan(limit))
        return;
    out->list[out->list_count++] = (trn_measurand){
        .name = which < TRN_ELEMENTS ? trn_samples_element_word(which) : "kv40",
        .times_h = times, .values = values, .n = count, .limit = limit, .falls = falls};
    *room += 2 * n;
}

static void measurands(const trn_machine *m, size_t gearbox, const trn_samples_settings *settings,
                       const trn_samples_table *table, trn_calibration *out)
{
    double *room = out->pool;
    size_t n = table->place_count;
    for (size_t e = 0; e < TRN_ELEMENTS; e++)
        list_readings(table->places, n, e, settings->limit_ppm[e], false, &room, out);
    double fresh = m->oils[m->gearboxes[gearbox].oil_index].kv40 * 1e6;
    list_readings(table->places, n, TRN_ELEMENTS, fresh * (1 + grade_half_width), false, &room,
                  out);
    list_readings(table->places, n, TRN_ELEMENTS, fresh * (1 - grade_half_width), true, &room,
                  out);
}

/* ---- once for the results -------------------------------------------------------------------- */

static trn_status readings_of(const trn_machine *m, size_t gearbox, const trn_sample *rows,
                              size_t n, trn_calibration *out)
{
    trn_samples_settings settings;
    trn_samples_table table;
    trn_faults faults = {0};
    trn_samples_settings_default(&settings);
    settings.gearboxes = m->gearboxes;
    settings.gearbox_count = m->gearboxes_count;
    trn_status status =
        trn_samples_table_make(rows, n, "samples.csv", &settings, &faults, &table);
    trn_faults_free(&faults);
    if (status < 0)
        return status;
    out->work = calloc(n, sizeof *out->work);
    out->pool = calloc(2 * n * TRN_MEASURANDS_MAX, sizeof *out->pool);
    out->machine_hours = table.places[n - 1].sample->machine_hours;
    if (out->pool)
        measurands(m, gearbox, &settings, &table, out);
    trn_samples_table_free(&table);
    return out->work && out->pool ? TRN_OK : TRN_E_MEMORY;
}

static trn_status make(const trn_machine *m, size_t gearbox, trn_sample *rows,
                       trn_calibration *out)
{
    size_t n = samples_of(m, gearbox, rows);
    out->water_mg_h = out->machine_hours = NAN;
    if (n == 0)
        return TRN_OK;
    out->status = trn_samples_calibrate(m, gearbox, &out->of);
    if (out->status == TRN_OK)
        out->status = readings_of(m, gearbox, rows, n, out);
    return out->status == TRN_E_MEMORY ? TRN_E_MEMORY : TRN_OK;
}

trn_status trn_calibrations_make(const trn_machine *machine, trn_calibration **out)
{
    const trn_machine *m = machine->origin ? machine->origin : machine;
    trn_calibration *list = calloc(machine->gearboxes_count + 1, sizeof *list);
    trn_sample *rows = calloc(m->samples_count + 1, sizeof *rows);
    trn_status status = list && rows ? TRN_OK : TRN_E_MEMORY;
    for (size_t g = 0; status == TRN_OK && g < m->gearboxes_count; g++)
        status = make(m, g, rows, &list[g]);
    free(rows);
    if (status != TRN_OK) {
        trn_calibrations_free(list, machine->gearboxes_count);
        return status;
    }
    *out = list;
    return TRN_OK;
}

void trn_calibrations_free(trn_calibration *list, size_t count)
{
    for (size_t i = 0; list && i < count; i++) {
        trn_samples_calibration_free(&list[i].of);
        free(list[i].work);
        free(list[i].pool);
    }
    free(list);
}

/* ---- into the model -------------------------------------------------------------------------- */

static bool taken(const trn_calibration *c)
{
    return c->status == TRN_OK && c->of.samples > 0;
}

double trn_intake_of(const trn_machine *m, const trn_results *r, size_t gearbox)
{
    const trn_calibration *c = &r->calibrations[gearbox];
    return taken(c) && isfinite(c->of.intake_l_h) ? c->of.intake_l_h / 1000 / 3600
                                                  : m->gearboxes[gearbox].dust_intake;
}

void trn_calibrate_point(const trn_calibration *c, trn_service_point *sp)
{
    if (!taken(c))
        return;
    if (isfinite(c->of.intake_l_h)) {
        sp->intake_l_h = c->of.intake_l_h;
        sp->intake_from_silicon = true;
    }
    sp->water_source_mg_h = c->water_mg_h;
    sp->element_count = c->of.element_count;
    memcpy(sp->elements, c->of.elements, sizeof sp->elements);
    sp->top_up_l_h = c->of.top_up_l_h;
}

void trn_uncalibrate_point(trn_service_point *sp)
{
    sp->intake_from_silicon = false; /* as stated it sets no interval */
    sp->water_source_mg_h = NAN;
    sp->element_count = 0;
    sp->top_up_l_h = NAN;
}

void trn_calibrations_water(const trn_machine *m, trn_results *r)
{
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    for (size_t i = 0; i < m->points_count; i++) {
        size_t g = m->points[i].gearbox_index;
        trn_calibration *c = g == TRN_NONE ? NULL : &r->calibrations[g];
        if (m->points[i].task != TRN_TASK_CHANGE_OIL || !c || !taken(c) || c->of.water_pairs == 0)
            continue;
        trn_service_point sp;
        c->water_mg_h = NAN;
        trn_service_point_of(m, r, i, &sp);
        (void)trn_duty_states_of(m, r, i, r->states);
        double source = NAN;
        if (trn_water_from_samples(&sp, r->states, m->duty_count, &settings, c->of.water_first_ppm,
                                   c->of.water_second_ppm, c->of.water_apart_h, c->of.water_pairs,
                                   c->work, &source) >= 0)
            c->water_mg_h = source;
    }
}

/* ---- longer than the manual ------------------------------------------------------------------ */

static trn_remark_id bar_of(const trn_extension *e)
{
    switch (e->bar) {
    case TRN_EXTENSION_ALLOWED:
        return TRN_M_SUPPORT;
    case TRN_EXTENSION_NOT_LONGER:
        return TRN_M_SUPPORT_NO_STEP;
    case TRN_EXTENSION_WARRANTY_UNKNOWN:
        return TRN_M_SUPPORT_WARRANTY_UNKNOWN;
    case TRN_EXTENSION_WARRANTY:
        return TRN_M_SUPPORT_WARRANTY;
    case TRN_EXTENSION_FEW_SAMPLES:
        return TRN_M_SUPPORT_FEW;
    case TRN_EXTENSION_TREND:
        return TRN_M_SUPPORT_TREND;
    case TRN_EXTENSION_OIL:
        return TRN_M_SUPPORT_OIL;
    }
    return TRN_M_SUPPORT_NO_STEP;
}

void trn_calibration_support(const trn_machine *m, const trn_results *r, size_t point,
                             double oil_h, trn_point_row *row)
{
    size_t g = m->points[point].gearbox_index;
    if (m->points[point].task != TRN_TASK_CHANGE_OIL || g == TRN_NONE)
        return;
    const trn_calibration *c = &r->calibrations[g];
    if (c->status != TRN_OK)
        trn_remark_add(&row->remarks, TRN_M_SAMPLES_REFUSED, NULL, 0);
    trn_extension e;
    if (!taken(c) || trn_extend(row->manual_h, row->manual_h, c->machine_hours,
                                m->head.warranty_hours, c->list, c->list_count, oil_h, &e) < 0)
        return;
    const char *which = e.which < c->list_count ? c->list[e.which].name : "";
    row->support_h = e.bar == TRN_EXTENSION_ALLOWED ? e.candidate_h : NAN;
    trn_remark_add2(&row->remarks, bar_of(&e), which,
                    e.bar == TRN_EXTENSION_WARRANTY ? m->head.warranty_hours : e.candidate_h,
                    e.bar == TRN_EXTENSION_TREND ? e.bound : oil_h);
}
