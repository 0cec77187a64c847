/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The ledger, and its first part: what the oil samples changed. */
#include "ledger.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/interval_rows.h>

#include "calibration.h"
#include "cleanliness.h"
#include "draws_inside.h"
#include "service_points.h"

trn_status trn_study_ledger(trn_results *results)
{
    trn_ledger *ledger = calloc(1, sizeof *ledger);
    bool whole = ledger && trn_ledger_calibration(results, ledger) &&
                 trn_ledger_buys(results, ledger) && trn_ledger_choices(results, ledger);
    if (!whole) {
        trn_ledger_free(ledger);
        return TRN_E_MEMORY;
    }
    trn_ledger_free(results->ledger);
    results->ledger = ledger;
    return TRN_OK;
}

void trn_ledger_free(trn_ledger *ledger)
{
    if (!ledger)
        return;
    for (size_t i = 0; i < ledger->choices_count; i++)
        free(ledger->choices[i].points);
    free(ledger->calibration);
    free(ledger->before);
    free(ledger->buys);
    free(ledger->costs);
    free(ledger->choices);
    free(ledger);
}

/* ---- quantities ------------------------------------------------------------------------------ */

enum { QUANTITIES_MAX = 4 + TRN_ELEMENTS_MAX };

static void add(trn_ledger *out, size_t gearbox, const char *quantity, double before, double after,
                const char *unit, const char *basis, ...) TRN_PRINTF(7, 8);

static void add(trn_ledger *out, size_t gearbox, const char *quantity, double before, double after,
                const char *unit, const char *basis, ...)
{
    trn_calibration_row *row = &out->calibration[out->calibration_count++];
    *row = (trn_calibration_row){.gearbox = gearbox, .before = before, .after = after,
                                 .unit = unit};
    (void)snprintf(row->quantity, sizeof row->quantity, "%s", quantity);
    va_list args;
    va_start(args, basis);
    (void)vsnprintf(row->basis, sizeof row->basis, basis, args);
    va_end(args);
}

static void add_dust(const trn_results *r, size_t g, trn_ledger *out)
{
    const trn_machine *m = r->machine;
    const trn_samples_calibration *of = &r->calibrations[g].of;
    double stated = m->gearboxes[g].dust_intake * 1000 * 3600;
    double dust = 0;
    for (size_t i = 0; i < m->duty_count; i++)
        if (m->duty[i].share > 0)
            dust += m->duty[i].share * trn_duty_dust(&m->duty[i]) * 1e6;
    if (!of->silicon_is_dirt) {
        add(out, g, "dust_intake", stated, NAN, "L/h",
            "silicon not taken as dirt: it has to rise with aluminium, 2 to 7 to 1, over 50 h");
        return;
    }
    add(out, g, "dust_intake", stated, of->intake_l_h, "L/h",
        "silicon %.3g ppm in %.4g h at a mean dust of %.3g mg/m3", of->silicon_rise_ppm,
        of->silicon_hours, of->mean_dust_mg_m3);
    add(out, g, "dust_source", stated / 1000 * dust, of->intake_l_h / 1000 * dust, "mg/h",
        "intake times the mean dust of the duty");
}

/* Oil point of the gearbox, TRN_NONE. */
static size_t oil_point(const trn_machine *m, size_t gearbox)
{
    for (size_t i = 0; i < m->points_count; i++)
        if (m->points[i].gearbox_index == gearbox && m->points[i].task == TRN_TASK_CHANGE_OIL)
            return i;
    return TRN_NONE;
}

static double modelled_water(const trn_results *r, size_t point)
{
    const trn_machine *m = r->machine;
    trn_service_point sp;
    trn_nominal nominal;
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    trn_service_point_of(m, r, point, &sp);
    trn_uncalibrate_point(&sp);
    if (!trn_duty_states_of(m, r, point, r->states) ||
        trn_point_nominal(&sp, r->states, m->duty_count, &settings, NULL, &nominal) < 0)
        return NAN;
    return nominal.water_mg_h;
}

static void quantities(const trn_results *r, size_t g, trn_ledger *out)
{
    const trn_calibration *c = &r->calibrations[g];
    size_t point = oil_point(r->machine, g);
    add_dust(r, g, out);
    if (c->of.water_pairs > 0 && point != TRN_NONE)
        add(out, g, "water_source", modelled_water(r, point), c->water_mg_h, "mg/h",
            "median of %zu pairs of readings", c->of.water_pairs);
    for (size_t i = 0; i < c->of.element_count; i++) {
        char name[24];
        (void)snprintf(name, sizeof name, "rate_%s", c->of.elements[i].name);
        add(out, g, name, NAN, c->of.elements[i].rate_ppm_h, "ppm/h", "fill %zu, limit %.4g ppm",
            c->of.fill, c->of.elements[i].limit_ppm);
    }
    if (!isnan(c->of.top_up_l_h))
        add(out, g, "top_up", NAN, c->of.top_up_l_h, "L/h", "oil added in fill %zu", c->of.fill);
}

/* ---- intervals ------------------------------------------------------------------------------- */

static double drawn_at_risk(const trn_results *r, size_t point, const trn_service_point *sp,
                            const trn_nominal *nominal, trn_draw_room *room)
{
    if (!r->draws || trn_task_stands(sp->task))
        return nominal->life_h;
    room->uncalibrated = true;
    trn_draws_of_point(r, point, sp, r->states, nominal->use, TRN_DRAWS, 0, NULL, room);
    return trn_draws_risk_quantile(r, room);
}

static void before_of(const trn_results *r, size_t point, trn_draw_room *room, trn_ledger *out)
{
    const trn_machine *m = r->machine;
    const trn_point_row *with = &r->points[point];
    trn_before_row *row = &out->before[out->before_count++];
    *row = (trn_before_row){
        .point = point, .nominal_before_h = NAN, .nominal_h = with->nominal_h,
        .at_risk_before_h = NAN, .at_risk_h = with->at_risk_h, .recommended_before_h = NAN,
        .recommended_h = with->recommended_h, .governed_before = TRN_CAUSE_NONE,
        .governed_by = with->governed_by};
    trn_point_row bare = *with;
    trn_service_point sp;
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    trn_service_point_of(m, r, point, &sp);
    trn_uncalibrate_point(&sp);
    if (!trn_duty_states_of(m, r, point, r->states) ||
        trn_point_nominal(&sp, r->states, m->duty_count, &settings, NULL, &bare.nominal) < 0)
        return;
    row->nominal_before_h = bare.nominal.life_h;
    row->at_risk_before_h = drawn_at_risk(r, point, &sp, &bare.nominal, room);
    trn_clock clock = {m->head.service_clock.v, m->head.service_clock.n};
    trn_recommendation rec;
    if (trn_recommend(&sp, row->at_risk_before_h, clock, &settings, NULL, &rec) < 0)
        return;
    trn_recommend_severe(m->points[point].severe_interval,
                         trn_mean_dust(&sp, r->states, m->duty_count), &rec);
    row->recommended_before_h = rec.interval_h;
    row->governed_before = trn_govern(&sp, bare.nominal.order, bare.nominal.order_count, &rec,
                                      m->head.hours_per_year)
                               .first;
}

bool trn_ledger_calibration(trn_results *r, trn_ledger *out)
{
    const trn_machine *m = r->machine;
    trn_draw_room room = {0};
    out->calibration = calloc(m->gearboxes_count * QUANTITIES_MAX + 1, sizeof *out->calibration);
    out->before = calloc(m->points_count + 1, sizeof *out->before);
    if (!out->calibration || !out->before ||
        (r->draws && !trn_draw_room_make(r->draws, m->duty_count, &room)))
        return false;
    for (size_t g = 0; g < m->gearboxes_count; g++) {
        const trn_calibration *c = &r->calibrations[g];
        if (c->status != TRN_OK || c->of.samples == 0)
            continue;
        quantities(r, g, out);
        for (size_t i = 0; i < m->points_count; i++)
            if (m->points[i].gearbox_index == g && m->points[i].task != TRN_TASK_OTHER &&
                !trn_grease_factors_of((trn_task)m->points[i].task))
                before_of(r, i, &room, out);
    }
    trn_draw_room_free(&room);
    return true;
}
