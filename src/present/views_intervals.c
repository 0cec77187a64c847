/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Columns of the result files about intervals: what sets them, what they buy, the plan. */
#include "views.h"

static const char *task_word(int task)
{
    return trn_column_find(trn_table_find("points"), "task")->words[task];
}

TEXT_OF(point_name, trn_point_row, r->machine->points[row->point].point)
TEXT_OF(point_component, trn_point_row, r->machine->points[row->point].component)
TEXT_OF(point_task, trn_point_row, task_word(r->machine->points[row->point].task))
TEXT_OF(point_governed, trn_point_row, trn_cause_word(row->governed_by))
TEXT_OF(point_second, trn_point_row, trn_cause_word(row->second_limit))
TEXT_OF(point_reason, trn_point_row, row->reason)
TEXT_OF(point_source, trn_point_row,
        r->machine->points[row->point].source ? r->machine->points[row->point].source : "")
TEXT_OF(turning_point, trn_turning_row, r->machine->points[row->point].point)
TEXT_OF(turning_task, trn_turning_row, task_word(r->machine->points[row->point].task))
TEXT_OF(turning_quantity, trn_turning_row, row->quantity)
TEXT_OF(turning_unit, trn_turning_row, row->unit)
TEXT_OF(mechanism_point, trn_mechanism_row, r->machine->points[row->point].point)
TEXT_OF(mechanism_task, trn_mechanism_row, task_word(r->machine->points[row->point].task))
TEXT_OF(mechanism_name, trn_mechanism_row, trn_cause_word(row->cause))
TEXT_OF(next_point, trn_next_row, r->machine->points[row->point].point)
TEXT_OF(next_task, trn_next_row, task_word(r->machine->points[row->point].task))
TEXT_OF(next_quantity, trn_next_row, row->quantity)
TEXT_OF(band_quantity, trn_band_row, row->quantity)
TEXT_OF(band_condition, trn_band_row, row->condition)
TEXT_OF(band_object, trn_band_row, row->object)
TEXT_OF(band_unit, trn_band_row, row->unit)
TEXT_OF(plan_point, trn_plan_row, row->name)
TEXT_OF(plan_task, trn_plan_row, row->task)
TEXT_OF(plan_when, trn_plan_row, row->when)
TEXT_OF(plan_manual, trn_plan_row, row->manual)
TEXT_OF(plan_why, trn_plan_row, row->why)
TEXT_OF(plan_source, trn_plan_row, row->source)
TEXT_OF(visit_point, trn_visit_row, r->machine->points[row->point].point)
TEXT_OF(visit_task, trn_visit_row, task_word(r->machine->points[row->point].task))
TEXT_OF(calibration_gearbox, trn_calibration_row, r->machine->gearboxes[row->gearbox].gearbox)
TEXT_OF(calibration_quantity, trn_calibration_row, row->quantity)
TEXT_OF(calibration_unit, trn_calibration_row, row->unit)
TEXT_OF(calibration_basis, trn_calibration_row, row->basis)
TEXT_OF(before_point, trn_before_row, r->machine->points[row->point].point)
TEXT_OF(before_task, trn_before_row, task_word(r->machine->points[row->point].task))
TEXT_OF(before_governed, trn_before_row, trn_cause_word(row->governed_before))
TEXT_OF(before_now, trn_before_row, trn_cause_word(row->governed_by))
TEXT_OF(buys_object, trn_buys_row, row->object)
TEXT_OF(buys_quantity, trn_buys_row, row->quantity)
TEXT_OF(buys_unit, trn_buys_row, row->unit)
TEXT_OF(buys_basis, trn_buys_row, row->basis)
TEXT_OF(cost_gearbox, trn_cost_row, r->machine->gearboxes[row->gearbox].gearbox)
TEXT_OF(choice_name, trn_choice_row, row->name)
TEXT_OF(choice_what, trn_choice_row, row->what)
TEXT_OF(choice_unit, trn_choice_row, row->unit)
TEXT_OF(choice_spread, trn_choice_row, row->spread)
TEXT_OF(choice_reason, trn_choice_row, row->reason)
TEXT_OF(choice_governs, trn_choice_row, row->governs_text)
TEXT_OF(choice_part, trn_choice_row, row->part)
TEXT_OF(choice_points, trn_choice_row, row->points)

#define ROW trn_point_row
static const trn_field point_fields[] = {
    TEXT("point", point_name, "point"),
    TEXT("component", point_component, NULL),
    TEXT("task", point_task, "task"),
    NUMBER("manual", "h", manual_h, "manual h"),
    NUMBER("median", "h", median_h, NULL),
    NUMBER("low", "h", low_h, NULL),
    NUMBER("high", "h", high_h, NULL),
    NUMBER("recommended", "h", recommended_h, "do every h"),
    TEXT("governed_by", point_governed, "governed by"),
    TEXT("second_limit", point_second, "then"),
    NUMBER("shortening", NULL, shortening, NULL),
    NUMBER("times_per_year", NULL, times_per_year, "a year"),
    TEXT("reason", point_reason, NULL),
    NUMBER("nominal", "h", nominal_h, "duty h"),
    NUMBER("at_risk", "h", at_risk_h, "caution h"),
    NUMBER("first_change", "h", first_change_h, NULL),
    REMARK,
    NUMBER("too_long", "%", too_long_pct, NULL),
    NUMBER("at_risk_error", "h", at_risk_error_h, NULL),
    NUMBER("samples_support", "h", support_h, NULL),
    NUMBER("severe", "h", severe_h, NULL),
    TEXT("source", point_source, NULL),
};
#undef ROW

#define ROW trn_turning_row
static const trn_field turning_fields[] = {
    TEXT("point", turning_point, "point"),
    TEXT("task", turning_task, "task"),
    TEXT("quantity", turning_quantity, "quantity"),
    NUMBER("used", NULL, used, "used"),
    NUMBER("manual_stands_at", NULL, manual_stands_at, "manual stands at"),
    NUMBER("next_step_at", NULL, next_step_at, "next step at"),
    TEXT("unit", turning_unit, "unit"),
};
#undef ROW

#define ROW trn_mechanism_row
static const trn_field mechanism_fields[] = {
    TEXT("point", mechanism_point, "point"),
    TEXT("task", mechanism_task, "task"),
    TEXT("mechanism", mechanism_name, "mechanism"),
    NUMBER("low", "h", low_h, "low h"),
    NUMBER("median", "h", median_h, "median h"),
    NUMBER("high", "h", high_h, "high h"),
    NUMBER("first", "%", first_pct, "first %"),
    NUMBER("sets", "%", sets_pct, "sets %"),
};
#undef ROW

#define ROW trn_next_row
static const trn_field next_fields[] = {
    TEXT("point", next_point, "point"),
    TEXT("task", next_task, "task"),
    TEXT("quantity", next_quantity, "to measure"),
    NUMBER("at_risk", "h", at_risk_h, "caution h"),
    NUMBER("known", "h", known_h, "if known h"),
    NUMBER("gain", "h", gain_h, "gain h"),
};
#undef ROW

#define ROW trn_band_row
static const trn_field band_fields[] = {
    TEXT("quantity", band_quantity, "quantity"),
    TEXT("condition", band_condition, "condition"),
    TEXT("object", band_object, "of"),
    NUMBER("low", NULL, low, "low"),
    NUMBER("median", NULL, median, "median"),
    NUMBER("high", NULL, high, "high"),
    TEXT("unit", band_unit, "unit"),
};
#undef ROW

#define ROW trn_plan_row
static const trn_field plan_fields[] = {
    NUMBER("visit", "h", visit_h, "at h"),
    TEXT("point", plan_point, "point"),
    TEXT("task", plan_task, "task"),
    NUMBER("quantity", "g", quantity_g, "g"),
    NUMBER("minutes", NULL, minutes, "min"),
    NUMBER("due", "h", due_h, "hour meter"),
    TEXT("when", plan_when, "when"),
    NUMBER("times", NULL, times, "times"),
    NUMBER("fittings", NULL, fittings, NULL),
    NUMBER("strokes_each", NULL, strokes_each, NULL),
    NUMBER("strokes", NULL, strokes, "strokes"),
    NUMBER("oil", "L", oil_l, "oil L"),
    TEXT("manual", plan_manual, NULL),
    TEXT("why", plan_why, NULL),
    TEXT("source", plan_source, NULL),
    NUMBER("overdue", "h", overdue_h, NULL),
    NUMBER("cost_manual", NULL, cost_manual, NULL),
    NUMBER("cost_recommended", NULL, cost_recommended, NULL),
};
#undef ROW

#define ROW trn_visit_row
static const trn_field visit_fields[] = {
    NUMBER("visit", "h", visit_h, "at h"),
    TEXT("point", visit_point, "point"),
    TEXT("task", visit_task, "task"),
    NUMBER("quantity", "g", quantity_g, "g"),
    NUMBER("minutes", NULL, minutes, "min"),
    NUMBER("due", "h", due_h, "hour meter"),
};
#undef ROW

#define ROW trn_calibration_row
static const trn_field calibration_fields[] = {
    TEXT("gearbox", calibration_gearbox, "gearbox"),
    TEXT("quantity", calibration_quantity, "quantity"),
    NUMBER("before", NULL, before, "before"),
    NUMBER("after", NULL, after, "after"),
    TEXT("unit", calibration_unit, "unit"),
    TEXT("basis", calibration_basis, NULL),
};
#undef ROW

#define ROW trn_before_row
static const trn_field before_fields[] = {
    TEXT("point", before_point, "point"),
    TEXT("task", before_task, "task"),
    NUMBER("nominal_before", "h", nominal_before_h, "duty before"),
    NUMBER("nominal", "h", nominal_h, "after"),
    NUMBER("at_risk_before", "h", at_risk_before_h, "caution before"),
    NUMBER("at_risk", "h", at_risk_h, "after"),
    NUMBER("recommended_before", "h", recommended_before_h, "do before"),
    NUMBER("recommended", "h", recommended_h, "after"),
    TEXT("governed_before", before_governed, NULL),
    TEXT("governed_by", before_now, NULL),
};
#undef ROW

#define ROW trn_buys_row
static const trn_field buys_fields[] = {
    TEXT("object", buys_object, "of"),
    TEXT("quantity", buys_quantity, "quantity"),
    NUMBER("manual", NULL, manual, "manual"),
    NUMBER("recommended", NULL, recommended, "recommended"),
    NUMBER("cheapest", NULL, cheapest, "cheapest"),
    TEXT("unit", buys_unit, "unit"),
    TEXT("basis", buys_basis, NULL),
};
#undef ROW

#define ROW trn_cost_row
static const trn_field cost_fields[] = {
    TEXT("gearbox", cost_gearbox, "gearbox"),
    NUMBER("interval", "h", interval_h, "every h"),
    NUMBER("cost_per_year", NULL, cost, "a year"),
    NUMBER("cost_per_year_low", NULL, low, "10 %"),
    NUMBER("cost_per_year_high", NULL, high, "90 %"),
};
#undef ROW

#define ROW trn_choice_row
static const trn_field choice_fields[] = {
    WORD("choice", choice_name, "choice"),
    WORD("what", choice_what, NULL),
    NUMBER("value", NULL, value, "value"),
    WORD("unit", choice_unit, "unit"),
    WORD("spread", choice_spread, "spread"),
    WORD("part", choice_part, "part"),
    WORD("governs", choice_governs, "governs"),
    WORD("reason", choice_reason, "reason"),
    TEXT("points", choice_points, NULL),
};
#undef ROW

ROWS(points, m->points_count, points)
ROWS(turning, r->extras ? r->extras->turning_count : 0, extras->turning)
ROWS(mechanism, r->draws ? r->draws->mechanisms_count : 0, draws->mechanisms)
ROWS(next, r->draws ? r->draws->next_count : 0, draws->next)
ROWS(band, r->draws ? r->draws->bands_count : 0, draws->bands)
ROWS(plan, r->extras ? r->extras->plan_count : 0, extras->plan)
ROWS(visit, r->extras ? r->extras->visits_count : 0, extras->visits)
ROWS(calibration, r->ledger ? r->ledger->calibration_count : 0, ledger->calibration)
ROWS(before, r->ledger ? r->ledger->before_count : 0, ledger->before)
ROWS(buys, r->ledger ? r->ledger->buys_count : 0, ledger->buys)
ROWS(cost, r->ledger ? r->ledger->costs_count : 0, ledger->costs)
ROWS(choice, r->ledger ? r->ledger->choices_count : 0, ledger->choices)

const trn_view trn_views_of_intervals[] = {
    VIEW("intervals", "Recommended intervals", NULL, point_fields, points, NULL),
    VIEW("turning", "What would have to be true", NULL, turning_fields, turning, NULL),
    VIEW("mechanisms", "What uses the lubricant up",
         "low, median, high: 10, 50 and 90 % of the draws (of grease: that factor alone off the "
         "reference). first: draws in which it comes first; sets: the same among the draws at or "
         "below the risk quantile.",
         mechanism_fields, mechanism, NULL),
    VIEW("measure_next", "What to measure next",
         "The drawn quantity whose knowledge would lengthen the interval with caution most, were it "
         "found at its median.",
         next_fields, next, NULL),
    VIEW("bands", "Temperatures and lives in the draws",
         "10, 50 and 90 % of draws of power, shock, oil temperature, cleanliness and life model.",
         band_fields, band, NULL),
    VIEW("plan", "Plan for a year",
         "visit: hours from now of the next time; due: the hour meter then. Quantity, minutes, strokes "
         "and oil are for one time. cost: of a year, at the manual's and at the recommended interval.",
         plan_fields, plan, NULL),
    VIEW("visits", "Visits of the year", "Every visit of the plan by its hour.", visit_fields, visit,
         NULL),
    VIEW("calibration", "What the oil samples say",
         "before: as modelled or stated; after: from the samples.", calibration_fields,
         calibration, NULL),
    VIEW("intervals_before", "Oil intervals without and with the samples", NULL, before_fields,
         before, NULL),
    VIEW("buys", "What the recommended interval buys",
         "manual, recommended: under that change interval; cheapest: the one at which changes and "
         "wear cost least, without sudden failure and ageing: it stands beside the recommendation, "
         "never instead. Lives, wear and their cost as if changed by hours alone; changes a year "
         "with the calendar.",
         buys_fields, buys, NULL),
    VIEW("cost_course", "Cost over the change interval",
         "Changes and wear, without sudden failure and ageing, as if oil were changed by hours "
         "alone; low and high: 10 and 90 % of the draws.",
         cost_fields, cost, NULL),
    VIEW("choices", "Chosen numbers in use",
         "Numbers without a published source that these results rest on. governs: points whose "
         "interval is set by the part of the model that it belongs to.",
         choice_fields, choice, NULL),
};
const size_t trn_views_of_intervals_count =
    sizeof trn_views_of_intervals / sizeof trn_views_of_intervals[0];
