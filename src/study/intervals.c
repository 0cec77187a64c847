/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The interval table: every service point of the case at its medians. */
#include <string.h>
#include <trunnion/clock.h>
#include <trunnion/interval_rows.h>

#include "calibration.h"
#include "draws_inside.h"
#include "reason.h"
#include "service_points.h"
#include "study.h"
#include "working_notes.h"

static void clear(trn_point_row *row, size_t point, double manual)
{
    *row = (trn_point_row){.point = point, .manual_h = manual, .nominal_h = NAN, .median_h = NAN,
                           .low_h = NAN, .high_h = NAN, .at_risk_h = NAN, .recommended_h = NAN,
                           .first_change_h = NAN, .shortening = NAN, .times_per_year = NAN,
                           .too_long_pct = NAN, .at_risk_error_h = NAN, .support_h = NAN,
                           .severe_h = NAN, .dust_mg_m3 = NAN,
                           .governed_by = TRN_CAUSE_NONE, .second_limit = TRN_CAUSE_NONE};
}

static void share_remarks(const trn_nominal *nominal, trn_point_row *row)
{
    for (size_t i = 0; i < nominal->remark_count; i++)
        trn_remark_status(&row->remarks, nominal->remarks[i]);
    if (nominal->order_count > 0) {
        trn_status why = nominal->limit[nominal->order[0]].why;
        if (why > 0)
            trn_remark_status(&row->remarks, why);
    }
}

static void recommend(const trn_machine *m, const trn_service_point *sp,
                      const trn_duty_state *states, const trn_cause *order, size_t count,
                      trn_point_row *row, trn_trace *trace)
{
    trn_clock clock = {m->head.service_clock.v, m->head.service_clock.n};
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    trn_recommendation rec;
    trn_working_point(m, sp, row, trace);
    if (trn_recommend(sp, row->at_risk_h, clock, &settings, trace, &rec) < 0)
        return;
    row->dust_mg_m3 = trn_mean_dust(sp, states, m->duty_count);
    row->severe_h = m->points[row->point].severe_interval;
    trn_recommend_severe(row->severe_h, row->dust_mg_m3, &rec);
    row->severe = rec.severe;
    row->recommended_h = rec.interval_h;
    trn_remark_status(&row->remarks, rec.warning);
    trn_governing g = trn_govern(sp, order, count, &rec, m->head.hours_per_year);
    row->governed_by = g.first;
    row->second_limit = g.second;
    row->shortening = row->manual_h / row->low_h;
    if (sp->task == TRN_TASK_CHANGE_OIL) {
        row->first_change_h =
            trn_first_change_h(row->manual_h, row->recommended_h, clock, &settings);
        trn_working_first(m, sp, row, trace);
    }
    row->times_per_year = trn_times_per_year(sp, states, m->duty_count, row->recommended_h,
                                             m->head.hours_per_year, trace);
}

void trn_interval_settle(const trn_machine *m, const trn_service_point *sp,
                         const trn_duty_state *states, const trn_cause *order, size_t count,
                         trn_point_row *row, trn_trace *trace)
{
    row->remarks.n = 0;
    share_remarks(&row->nominal, row);
    recommend(m, sp, states, order, count, row, trace);
    trn_reason_write(m, sp, states, row);
}

static void evaluate(const trn_machine *m, trn_results *r, size_t point, trn_point_row *row,
                     trn_trace *trace)
{
    trn_service_point sp;
    clear(row, point, m->points[point].manual_interval);
    trn_service_point_of(m, r, point, &sp);
    trn_trace_scope(trace, "interval", "", m->points[point].point);
    if (!trn_duty_states_of(m, r, point, r->states) &&
        m->points[point].gearbox_index != TRN_NONE && sp.task != TRN_TASK_OTHER) {
        trn_remark_add(&row->remarks, TRN_M_NO_ROOT, NULL, 0);
        trn_reason_none(row, "the heat balance has no root up to 300 K above the air");
        return;
    }
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    trn_working_grease(m, r, point, &sp, r->states, &settings, trace);
    trn_status status =
        trn_point_nominal(&sp, r->states, m->duty_count, &settings, trace, &row->nominal);
    if (status < 0) {
        trn_remark_status(&row->remarks, status);
        trn_reason_none(row, trn_status_text(status));
        return;
    }
    row->nominal_h = row->nominal.life_h;
    const trn_limit *limit = row->nominal.limit;
    row->at_risk_h = row->median_h = row->low_h = row->high_h = row->nominal_h;
    trn_interval_settle(m, &sp, r->states, row->nominal.order, row->nominal.order_count, row,
                        trace);
    trn_calibration_support(m, r, point,
                            trn_lesser_known(limit[TRN_CAUSE_AGEING].life_h,
                                             limit[TRN_CAUSE_WATER].life_h),
                            row);
}

void trn_study_intervals(const trn_machine *m, trn_results *r, trn_trace *trace)
{
    for (size_t i = 0; i < m->points_count; i++)
        evaluate(m, r, i, &r->points[i], trace);
}
