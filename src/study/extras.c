/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Series made from evaluated results. */
#include <trunnion/extras.h>

#include <stdlib.h>
#include <string.h>
#include <trunnion/balance.h>
#include <trunnion/clock.h>
#include <trunnion/interval_rows.h>

#include "cleanliness.h"
#include "heat_box.h"
#include "plan.h"
#include "service_points.h"
#include "study.h"
#include "turning_rows.h"

void trn_extras_free(trn_extras *extras)
{
    if (!extras)
        return;
    free(extras->turns);
    free(extras->warmup);
    free(extras->course);
    free(extras->turning);
    free(extras->plan);
    free(extras->visits);
    free(extras);
}

static bool list_turns(const trn_results *r, trn_extras *x)
{
    const trn_machine *m = r->machine;
    x->turns = calloc(m->duty_count * m->shafts_count * 361 + 1, sizeof *x->turns);
    for (size_t i = 0; x->turns && i < m->duty_count; i++)
        for (size_t s = 0; s < m->shafts_count; s++) {
            trn_turn turn[361];
            if (trn_study_turn(r, i, s, turn) < 0)
                continue;
            for (size_t k = 0; k <= 360; k++)
                x->turns[x->turns_count++] = (trn_turn_row){
                    .condition = i, .shaft = s, .turn_deg = (double)k, .at = turn[k]};
        }
    return x->turns != NULL;
}

static bool list_warmup(const trn_results *r, trn_extras *x)
{
    const trn_machine *m = r->machine;
    size_t most = m->duty_count * m->gearboxes_count * TRN_WARMUP_POINTS;
    x->warmup = calloc(most + 1, sizeof *x->warmup);
    trn_heat_room room = {0};
    trn_status status = x->warmup ? TRN_OK : TRN_E_MEMORY;
    for (size_t i = 0; status != TRN_E_MEMORY && i < m->duty_count; i++)
        for (size_t g = 0; g < m->gearboxes_count && status != TRN_E_MEMORY; g++) {
            double t_k[TRN_WARMUP_POINTS];
            if (isnan(r->heat[i * m->gearboxes_count + g].modelled_temperature_c) ||
                (status = trn_heat_together(m, r, i, g, &trn_heat_as_is, &room)) < 0 ||
                (status = trn_balance_warmup_of(room.ready, room.n > 1 ? room.weight : NULL, room.n,
                                                60, t_k, TRN_WARMUP_POINTS)) < 0)
                continue;
            for (size_t k = 0; k < TRN_WARMUP_POINTS; k++)
                x->warmup[x->warmup_count++] =
                    (trn_warmup_row){.condition = i,
                                     .gearbox = g,
                                     .time_min = (double)k,
                                     .oil_temperature_c = t_k[k] - 273.15};
        }
    trn_heat_room_free(&room);
    return status != TRN_E_MEMORY;
}

/* The change_oil point of a gearbox with the least manual interval. */
static size_t change_point(const trn_machine *m, size_t gearbox)
{
    size_t found = TRN_NONE;
    for (size_t i = 0; i < m->points_count; i++)
        if (m->points[i].gearbox_index == gearbox && m->points[i].task == TRN_TASK_CHANGE_OIL &&
            (found == TRN_NONE ||
             m->points[i].manual_interval < m->points[found].manual_interval))
            found = i;
    return found;
}

static size_t largest_share(const trn_machine *m)
{
    size_t found = 0;
    for (size_t i = 1; i < m->duty_count; i++)
        if (m->duty[i].share > m->duty[found].share)
            found = i;
    return found;
}

/* e_C of the weakest bearing under a dust content, in the condition of largest share. */
static double e_c_of(const trn_results *r, size_t gearbox, double dust_ppm)
{
    const trn_machine *m = r->machine;
    size_t weakest = r->gearboxes[gearbox].weakest;
    if (weakest == TRN_NONE || isnan(dust_ppm))
        return NAN;
    const trn_bearing *b = &m->bearings[weakest];
    double kappa = r->bearings[largest_share(m) * m->bearings_count + weakest].kappa;
    trn_cleanliness clean = trn_cleanliness_of_dust(m, gearbox, dust_ppm, NULL);
    double in[] = {1, (double)clean.clean, kappa, (b->bore + b->outside) / 2};
    double out[TRN_OUTPUTS_MAX] = {NAN};
    if (clean.beyond)
        return isnan(kappa) ? NAN : 0;
    return isnan(kappa) || trn_step(NULL, TRN_STEP_BEARING_CLEANLINESS, in, out) < 0 ? NAN
                                                                                     : out[0];
}

static void course_of(const trn_results *r, size_t gearbox, size_t point,
                      const trn_interval_settings *settings, trn_extras *x)
{
    const trn_machine *m = r->machine;
    trn_service_point sp;
    trn_service_point_of(m, r, point, &sp);
    double interval = m->points[point].manual_interval;
    double density = m->oils[m->gearboxes[gearbox].oil_index].density15;
    for (size_t k = 0; k <= TRN_COURSE_STEPS; k++) {
        trn_course_row *row = &x->course[x->course_count++];
        *row = (trn_course_row){.gearbox = gearbox,
                                .hours_h = interval * (double)k / TRN_COURSE_STEPS,
                                .dust_ppm = NAN,
                                .code = NAN,
                                .water_ppm = NAN,
                                .ageing_pct = NAN,
                                .e_c = NAN};
        trn_oil_course at;
        if (trn_oil_course_at(&sp, &r->points[point].nominal, settings, interval, row->hours_h,
                              density, &at) < 0)
            continue;
        row->dust_ppm = at.dust_ppm;
        row->code = at.code < 0 ? NAN : (double)at.code;
        row->water_ppm = at.water_ppm;
        row->ageing_pct = at.ageing_pct;
        row->e_c = e_c_of(r, gearbox, at.dust_ppm);
    }
}

static bool list_course(const trn_results *r, trn_extras *x)
{
    const trn_machine *m = r->machine;
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    x->course = calloc(m->gearboxes_count * (TRN_COURSE_STEPS + 1) + 1, sizeof *x->course);
    for (size_t g = 0; x->course && g < m->gearboxes_count; g++) {
        size_t point = change_point(m, g);
        if (point != TRN_NONE)
            course_of(r, g, point, &settings, x);
    }
    return x->course != NULL;
}

trn_status trn_study_extras(trn_results *results)
{
    trn_extras *x = calloc(1, sizeof *x);
    bool whole = x && list_turns(results, x) && list_warmup(results, x) &&
                 list_course(results, x) && trn_plan_make(results, x) &&
                 trn_turning_rows(results, &x->turning, &x->turning_count);
    if (!whole) {
        trn_extras_free(x);
        return TRN_E_MEMORY;
    }
    trn_extras_free(results->extras);
    results->extras = x;
    return TRN_OK;
}
