/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The result files: fixed names, columns and units, and what of them a terminal shows. */
#include <string.h>
#include <trunnion/draws.h>
#include <trunnion/extras.h>
#include <trunnion/interval_rows.h>
#include <trunnion/ledger.h>
#include <trunnion/lift.h>
#include <trunnion/present.h>
#include <trunnion/schema.h>

/* ---- texts -------------------------------------------------------------------------------- */

static const char *condition_text(const trn_results *r, size_t condition)
{
    return condition == TRN_NONE                   ? ""
           : condition == r->machine->duty_count   ? "all"
                                                   : r->machine->duty[condition].condition;
}

static const char *task_word(int task)
{
    return trn_column_find(trn_table_find("points"), "task")->words[task];
}

#define TEXT_OF(name, type, expression)                                      \
    static const char *name(const trn_results *r, const void *row_)          \
    {                                                                        \
        const type *row = row_;                                              \
        (void)r;                                                             \
        return expression;                                                   \
    }

TEXT_OF(joint_condition, trn_joint_row, condition_text(r, row->condition))
TEXT_OF(joint_shaft, trn_joint_row, r->machine->shafts[row->shaft].shaft)
TEXT_OF(joint_position, trn_joint_row,
        row->setting != TRN_NONE                      ? r->settings[row->setting].position
        : row->condition < r->machine->duty_count     ? r->machine->duty[row->condition].position
                                                      : "")
TEXT_OF(fit_shaft, trn_fit_row, r->machine->shafts[row->shaft].shaft)
TEXT_OF(fit_shortest, trn_fit_row, row->shortest_at)
TEXT_OF(fit_longest, trn_fit_row, row->longest_at)
TEXT_OF(fit_angle_at, trn_fit_row, row->angle_at)
TEXT_OF(fit_word, trn_fit_row, trn_fit_word(row->fits))
TEXT_OF(heat_condition, trn_heat_row, condition_text(r, row->condition))
TEXT_OF(heat_gearbox, trn_heat_row, r->machine->gearboxes[row->gearbox].gearbox)
TEXT_OF(bearing_condition, trn_bearing_row, condition_text(r, row->condition))
TEXT_OF(bearing_name, trn_bearing_row, r->machine->bearings[row->bearing].bearing)
TEXT_OF(bearing_axle, trn_bearing_row, r->machine->bearings[row->bearing].axle)
TEXT_OF(bearing_gearbox, trn_bearing_row,
        r->machine->axles[r->machine->bearings[row->bearing].axle_index].gearbox)
TEXT_OF(system_gearbox, trn_gearbox_row, r->machine->gearboxes[row - r->gearboxes].gearbox)
TEXT_OF(system_weakest, trn_gearbox_row,
        row->weakest == TRN_NONE ? "" : r->machine->bearings[row->weakest].bearing)
TEXT_OF(point_name, trn_point_row, r->machine->points[row->point].point)
TEXT_OF(point_component, trn_point_row, r->machine->points[row->point].component)
TEXT_OF(point_task, trn_point_row, task_word(r->machine->points[row->point].task))
TEXT_OF(point_governed, trn_point_row, trn_cause_word(row->governed_by))
TEXT_OF(point_second, trn_point_row, trn_cause_word(row->second_limit))
TEXT_OF(point_reason, trn_point_row, row->reason)

TEXT_OF(gear_condition, trn_gear_row,
        r->machine->duty[(size_t)(row - r->gears) / r->machine->gears_count].condition)
TEXT_OF(gear_name, trn_gear_row,
        r->machine->gears[(size_t)(row - r->gears) % r->machine->gears_count].gear)
TEXT_OF(gear_axle, trn_gear_row,
        r->machine->gears[(size_t)(row - r->gears) % r->machine->gears_count].axle)
#define GEAR_OF (&r->machine->gears[(size_t)(row - r->gears) % r->machine->gears_count])
TEXT_OF(gear_role, trn_gear_row, GEAR_OF->driver ? "driver" : "driven")
TEXT_OF(gear_rotation, trn_gear_row,
        GEAR_OF->rotation < 0 ? "" : GEAR_OF->rotation == 0 ? "cw" : "ccw")
TEXT_OF(gear_apex, trn_gear_row, GEAR_OF->apex < 0 ? "" : GEAR_OF->apex == 0 ? "+" : "-")

#define REACTION_BEARING (&r->machine->bearings[(size_t)(row - r->loads) % r->machine->bearings_count])
TEXT_OF(reaction_condition, trn_load_row,
        r->machine->duty[(size_t)(row - r->loads) / r->machine->bearings_count].condition)
TEXT_OF(reaction_bearing, trn_load_row, REACTION_BEARING->bearing)
TEXT_OF(reaction_axle, trn_load_row, REACTION_BEARING->axle)
TEXT_OF(reaction_takes, trn_load_row,
        trn_column_find(trn_table_find("bearings"), "thrust")->words[REACTION_BEARING->thrust])
TEXT_OF(reaction_sense, trn_load_row,
        r->machine->axles[REACTION_BEARING->axle_index].sense > 0   ? "+"
        : r->machine->axles[REACTION_BEARING->axle_index].sense < 0 ? "-"
                                                                    : "")

TEXT_OF(turn_condition, trn_turn_row, r->machine->duty[row->condition].condition)
TEXT_OF(turn_shaft, trn_turn_row, r->machine->shafts[row->shaft].shaft)
TEXT_OF(warmup_condition, trn_warmup_row, r->machine->duty[row->condition].condition)
TEXT_OF(warmup_gearbox, trn_warmup_row, r->machine->gearboxes[row->gearbox].gearbox)
TEXT_OF(course_gearbox, trn_course_row, r->machine->gearboxes[row->gearbox].gearbox)
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
TEXT_OF(plan_point, trn_plan_row, r->machine->points[row->point].point)
TEXT_OF(plan_task, trn_plan_row, task_word(r->machine->points[row->point].task))

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
TEXT_OF(choice_name, trn_choice_row, row->name)
TEXT_OF(choice_what, trn_choice_row, row->what)
TEXT_OF(choice_unit, trn_choice_row, row->unit)
TEXT_OF(choice_spread, trn_choice_row, row->spread)
TEXT_OF(choice_reason, trn_choice_row, row->reason)
TEXT_OF(choice_governs, trn_choice_row, row->governs_text)
TEXT_OF(choice_part, trn_choice_row, row->part)
TEXT_OF(choice_points, trn_choice_row, row->points)

/* ---- fields ------------------------------------------------------------------------------- */

#define TEXT(name, get, head) {name, NULL, TRN_FIELD_TEXT, 0, get, head}
#define WORD(name, get, head) {name, NULL, TRN_FIELD_WORD, 0, get, head}
#define NUMBER(name, unit, member, head) \
    {name, unit, TRN_FIELD_NUMBER, offsetof(ROW, member), NULL, head}
#define LIFE(name, member, head) {name, "h", TRN_FIELD_LIFE, offsetof(ROW, member), NULL, head}
#define REMARK {"remark", NULL, TRN_FIELD_REMARK, offsetof(ROW, remarks), NULL, "notes"}

#define ROW trn_joint_row
static const trn_field joint_fields[] = {
    TEXT("condition", joint_condition, NULL),
    TEXT("shaft", joint_shaft, "shaft"),
    TEXT("position", joint_position, NULL),
    NUMBER("speed", "rpm", speed_rpm, "rpm"),
    NUMBER("torque", "N.m", torque_nm, "N.m"),
    NUMBER("angle_in", "deg", angle_in_deg, "in"),
    NUMBER("angle_out", "deg", angle_out_deg, "out"),
    NUMBER("angle_equivalent", "deg", angle_equivalent_deg, NULL),
    NUMBER("fluctuation", "%", fluctuation_pct, "U %"),
    NUMBER("speed_max", "rpm", speed_max_rpm, NULL),
    NUMBER("speed_min", "rpm", speed_min_rpm, NULL),
    NUMBER("acceleration_out", "rad/s2", acceleration_out, NULL),
    NUMBER("acceleration_tube", "rad/s2", acceleration_tube, NULL),
    NUMBER("ripple", "N.m", ripple_nm, "ripple"),
    NUMBER("couple_in", "N.m", couple_in_nm, NULL),
    NUMBER("couple_out", "N.m", couple_out_nm, NULL),
    NUMBER("length", "mm", length_mm, NULL),
    NUMBER("clearance", "mm", clearance_mm, "clear"),
    NUMBER("overlap", "mm", overlap_mm, "cover"),
    NUMBER("thrust", "N", thrust_n, NULL),
    LIFE("life_in", life_in_h, "life in"),
    LIFE("life_out", life_out_h, "life out"),
    REMARK,
};
#undef ROW

#define ROW trn_fit_row
static const trn_field fit_fields[] = {
    TEXT("shaft", fit_shaft, "shaft"),
    TEXT("shortest_at", fit_shortest, NULL),
    NUMBER("clearance", "mm", clearance_mm, "clear"),
    NUMBER("clearance_needed", "mm", clearance_needed_mm, NULL),
    TEXT("longest_at", fit_longest, NULL),
    NUMBER("overlap", "mm", overlap_mm, "cover"),
    NUMBER("overlap_needed", "mm", overlap_needed_mm, "of"),
    NUMBER("cut", "mm", cut_mm, "cut"),
    NUMBER("overlap_after_cut", "mm", overlap_after_cut_mm, "then"),
    NUMBER("largest_angle_turning", "deg", largest_angle_deg, "deg"),
    TEXT("at", fit_angle_at, NULL),
    NUMBER("angle_limit", "deg", angle_limit_deg, "limit"),
    NUMBER("critical_speed", "rpm", critical_speed_rpm, NULL),
    TEXT("fits", fit_word, "fits"),
    REMARK,
    NUMBER("lift_stop", "mm", lift_stop_mm, NULL),
    NUMBER("tilt_stop_up", "deg", tilt_stop_up_deg, NULL),
    NUMBER("tilt_stop_down", "deg", tilt_stop_down_deg, NULL),
    NUMBER("turn_stop", "deg", turn_stop_deg, NULL),
    NUMBER("length_min", "mm", length_min_mm, NULL),
    NUMBER("length_max", "mm", length_max_mm, NULL),
};
#undef ROW

#define ROW trn_heat_row
static const trn_field heat_fields[] = {
    TEXT("condition", heat_condition, NULL),
    TEXT("gearbox", heat_gearbox, "gearbox"),
    NUMBER("power", "kW", power_kw, "kW"),
    NUMBER("mesh", "W", mesh_w, "mesh"),
    NUMBER("churning", "W", churning_w, "churn"),
    NUMBER("churning_low", "W", churning_low_w, NULL),
    NUMBER("churning_high", "W", churning_high_w, NULL),
    NUMBER("bearings", "W", bearings_w, "bearings"),
    NUMBER("seals", "W", seals_w, "seals"),
    NUMBER("sun", "W", sun_w, "sun"),
    NUMBER("loss", "W", loss_w, "loss"),
    NUMBER("oil_temperature", "degC", oil_temperature_c, "oil"),
    NUMBER("oil_temperature_low", "degC", oil_temperature_low_c, "low"),
    NUMBER("oil_temperature_high", "degC", oil_temperature_high_c, "high"),
    NUMBER("viscosity", "mm2/s", viscosity_mm2s, "mm2/s"),
    NUMBER("efficiency", "%", efficiency_pct, NULL),
    NUMBER("time_constant", "min", time_constant_min, NULL),
    REMARK,
    NUMBER("modelled_temperature", "degC", modelled_temperature_c, NULL),
};
#undef ROW

#define ROW trn_bearing_row
static const trn_field bearing_fields[] = {
    TEXT("condition", bearing_condition, NULL),
    TEXT("bearing", bearing_name, "bearing"),
    TEXT("gearbox", bearing_gearbox, NULL),
    TEXT("axle", bearing_axle, NULL),
    NUMBER("speed", "rpm", speed_rpm, "rpm"),
    NUMBER("Fr", "N", fr_n, "Fr N"),
    NUMBER("Fa", "N", fa_n, "Fa N"),
    NUMBER("P", "N", p_n, "P N"),
    NUMBER("oil_temperature", "degC", oil_temperature_c, "oil"),
    NUMBER("kappa", NULL, kappa, "kappa"),
    NUMBER("e_C", NULL, e_c, "e_C"),
    NUMBER("a_iso", NULL, a_iso, "a_iso"),
    LIFE("L10h", l10h_h, "L10h h"),
    LIFE("Lnmh", lnmh_h, "Lnmh h"),
    REMARK,
    NUMBER("Lnmh_low", "h", lnmh_low_h, NULL),
    NUMBER("Lnmh_high", "h", lnmh_high_h, NULL),
};
#undef ROW

#define ROW trn_gearbox_row
static const trn_field gearbox_fields[] = {
    TEXT("gearbox", system_gearbox, "gearbox"),
    LIFE("L10h", l10h_h, "L10h h"),
    LIFE("Lnmh", lnmh_h, "Lnmh h"),
    NUMBER("reliability_at_design_life", "%", reliability_pct, "reliability %"),
    TEXT("weakest", system_weakest, "weakest"),
    REMARK,
    NUMBER("Lnmh_low", "h", lnmh_low_h, NULL),
    NUMBER("Lnmh_high", "h", lnmh_high_h, NULL),
    NUMBER("reliability_low", "%", reliability_low_pct, NULL),
    NUMBER("reliability_high", "%", reliability_high_pct, NULL),
};
#undef ROW

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
};
#undef ROW

#define ROW trn_gear_row
static const trn_field gear_fields[] = {
    TEXT("condition", gear_condition, NULL),
    TEXT("gear", gear_name, "gear"),
    TEXT("axle", gear_axle, NULL),
    NUMBER("torque", "N.m", torque_nm, "N.m"),
    NUMBER("d_m", "mm", d_m_mm, "d_m mm"),
    NUMBER("Ft", "N", ft_n, "Ft N"),
    NUMBER("Fr", "N", fr_n, "Fr N"),
    NUMBER("Fa", "N", fa_n, "Fa N"),
    NUMBER("v_t", "m/s", v_t, "v_t m/s"),
    NUMBER("F_over_b", "N/mm", f_over_b, "N/mm"),
    NUMBER("friction", NULL, friction, "friction"),
    NUMBER("mesh_loss", "W", mesh_loss_w, "loss"),
    NUMBER("film_min", "um", film_um, "film um"),
    NUMBER("lambda", NULL, lambda, "lambda"),
    WORD("role", gear_role, NULL),
    WORD("rotation", gear_rotation, NULL),
    WORD("apex", gear_apex, NULL),
    NUMBER("azimuth", "deg", azimuth_deg, NULL),
};
#undef ROW

#define ROW trn_load_row
static const trn_field reaction_fields[] = {
    TEXT("condition", reaction_condition, NULL),
    TEXT("bearing", reaction_bearing, "bearing"),
    TEXT("axle", reaction_axle, "axle"),
    WORD("turns", reaction_sense, "turns"),
    WORD("takes", reaction_takes, "takes"),
    NUMBER("R_y", "N", radial_y_n, "R_y N"),
    NUMBER("R_z", "N", radial_z_n, "R_z N"),
    NUMBER("couple", "N", couple_n, "couple N"),
    NUMBER("Fr", "N", fr_n, "Fr N"),
    NUMBER("thrust", "N", thrust_n, "thrust N"),
    NUMBER("Fa", "N", fa_n[0], "Fa N"),
    REMARK,
};
#undef ROW

#define ROW trn_turn_row
static const trn_field turn_fields[] = {
    TEXT("condition", turn_condition, NULL),
    TEXT("shaft", turn_shaft, "shaft"),
    NUMBER("turn", "deg", turn_deg, "turn"),
    NUMBER("tube_speed", "rpm", at.tube_speed_rpm, "tube rpm"),
    NUMBER("out_speed", "rpm", at.out_speed_rpm, "out rpm"),
    NUMBER("torque", "N.m", at.torque_nm, "N.m"),
};
#undef ROW

#define ROW trn_warmup_row
static const trn_field warmup_fields[] = {
    TEXT("condition", warmup_condition, NULL),
    TEXT("gearbox", warmup_gearbox, "gearbox"),
    NUMBER("time", "min", time_min, "min"),
    NUMBER("oil_temperature", "degC", oil_temperature_c, "oil degC"),
};
#undef ROW

#define ROW trn_course_row
static const trn_field course_fields[] = {
    TEXT("gearbox", course_gearbox, "gearbox"),
    NUMBER("hours", "h", hours_h, "h"),
    NUMBER("dust", "ppm", dust_ppm, "dust ppm"),
    NUMBER("code", NULL, code, "code"),
    NUMBER("water", "ppm", water_ppm, "water ppm"),
    NUMBER("ageing", "%", ageing_pct, "ageing %"),
    NUMBER("e_C", NULL, e_c, "e_C"),
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

/* ---- groups ------------------------------------------------------------------------------- */

static void condition_group(const trn_results *r, size_t condition, trn_buffer *out)
{
    const trn_machine *m = r->machine;
    if (condition == m->duty_count) {
        trn_buffer_add(out, "over the duty");
        return;
    }
    const trn_duty *d = &m->duty[condition];
    trn_buffer_print(out, "%s: %.3g %% of the hours", d->condition, 100 * d->share);
    if (d->position)
        trn_buffer_print(out, ", position %s", d->position);
}

static void joint_group(const trn_results *r, const void *row_, trn_buffer *out)
{
    const trn_joint_row *row = row_;
    if (row->condition != TRN_NONE)
        condition_group(r, row->condition, out);
    else
        trn_buffer_print(out, "position %s, which no condition uses%s", joint_position(r, row),
                         r->settings[row->setting].pto_on ? "" : ", PTO off");
}

static void heat_group(const trn_results *r, const void *row, trn_buffer *out)
{
    condition_group(r, ((const trn_heat_row *)row)->condition, out);
}

static void bearing_group(const trn_results *r, const void *row, trn_buffer *out)
{
    condition_group(r, ((const trn_bearing_row *)row)->condition, out);
}

static void reaction_group(const trn_results *r, const void *row, trn_buffer *out)
{
    size_t i = (size_t)((const trn_load_row *)row - r->loads);
    condition_group(r, i / r->machine->bearings_count, out);
}

static void gear_group(const trn_results *r, const void *row, trn_buffer *out)
{
    size_t i = (size_t)((const trn_gear_row *)row - r->gears);
    condition_group(r, i / r->machine->gears_count, out);
}

/* ---- views -------------------------------------------------------------------------------- */

#define ROWS(name, count, member)                                            \
    static size_t name##_rows(const trn_results *r)                          \
    {                                                                        \
        const trn_machine *m = r->machine;                                   \
        (void)m;                                                             \
        return count;                                                        \
    }                                                                        \
    static const void *name##_row(const trn_results *r, size_t i)            \
    {                                                                        \
        return &r->member[i];                                                \
    }

ROWS(joints, r->joints_count, joints)
ROWS(fit, r->fits_count, fits)
ROWS(heat, m->duty_count *m->gearboxes_count, heat)
ROWS(bearings, (m->duty_count + 1) * m->bearings_count, bearings)
ROWS(gearbox, m->gearboxes_count, gearboxes)
ROWS(points, m->points_count, points)

ROWS(gears, m->duty_count *m->gears_count, gears)
ROWS(reactions, m->duty_count *m->bearings_count, loads)
ROWS(turns, r->extras ? r->extras->turns_count : 0, extras->turns)
ROWS(warmup, r->extras ? r->extras->warmup_count : 0, extras->warmup)
ROWS(course, r->extras ? r->extras->course_count : 0, extras->course)
ROWS(turning, r->extras ? r->extras->turning_count : 0, extras->turning)
ROWS(mechanism, r->draws ? r->draws->mechanisms_count : 0, draws->mechanisms)
ROWS(next, r->draws ? r->draws->next_count : 0, draws->next)
ROWS(band, r->draws ? r->draws->bands_count : 0, draws->bands)
ROWS(calibration, r->ledger ? r->ledger->calibration_count : 0, ledger->calibration)
ROWS(before, r->ledger ? r->ledger->before_count : 0, ledger->before)
ROWS(buys, r->ledger ? r->ledger->buys_count : 0, ledger->buys)
ROWS(choice, r->ledger ? r->ledger->choices_count : 0, ledger->choices)
ROWS(plan, r->extras ? r->extras->plan_count : 0, extras->plan)

#define VIEW(file, title, caption, fields, name, group)                                   \
    {file, title, caption, fields, sizeof fields / sizeof fields[0], name##_rows, name##_row, group}

static const trn_view views[] = {
    VIEW("fit", "Does each shaft fit",
         "mm and degrees, over every position and the sweep of geometry.csv between them. clear: "
         "push-in travel left; cover: overlap left, `of` what is needed; cut: off both tubes and "
         "both guard tubes, then: the overlap that remains; deg: largest angle turning.",
         fit_fields, fit, NULL),
    VIEW("joints", "Joints and shaft fit",
         "rpm, N.m, degrees, mm and h. in, out: joint angles; U: unevenness of the output; clear: push-in travel left; cover: overlap left. Lives are those of "
         "the needles against fatigue alone, an upper bound: dirt and poor "
         "grease end most crosses long before.",
         joint_fields, joints, joint_group),
    VIEW("heat", "Losses and oil temperatures",
         "kW, W, degC and mm2/s. low and high: spread of the churning laws alone; the whole balance is good to some 7 K "
         "either way, to more where `area` is a guess.",
         heat_fields, heat, heat_group),
    VIEW("bearing_lives", "Bearing loads and lives",
         "rpm, N, degC and h. Fr, Fa and P with shock and ripple, without the thrust of sliding shafts, "
         "which is in the lives. L10h: basic, Lnmh: with oil film, dirt and the reliability asked for.", bearing_fields, bearings, bearing_group),
    VIEW("gearbox_life", "Gearboxes as systems of their bearings",
         "Bearings only: teeth, axles, splines, seals and housing are not in it.", gearbox_fields,
         gearbox, NULL),
    VIEW("intervals", "Recommended intervals", NULL, point_fields, points, NULL),
    VIEW("gear_loads", "Tooth loads", NULL, gear_fields, gears, gear_group),
    VIEW("reactions", "Reactions of the bearings",
         "R_y, R_z: reactions on the axle in its own frame, y toward azimuth 0; couple: added in "
         "magnitude; thrust: of the gears along +; all with shock, without the thrust of shafts.",
         reaction_fields, reactions, reaction_group),
    VIEW("one_turn", "One turn of each shaft", NULL, turn_fields, turns, NULL),
    VIEW("warmup", "Warm-up from the air's temperature", NULL, warmup_fields, warmup, NULL),
    VIEW("oil_course", "Oil from change to change", NULL, course_fields, course, NULL),
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
    VIEW("plan", "Plan for a year", NULL, plan_fields, plan, NULL),
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
    VIEW("choices", "Chosen numbers in use",
         "Numbers without a published source that these results rest on. governs: points whose "
         "interval is set by the part of the model that it belongs to.",
         choice_fields, choice, NULL),
};

size_t trn_view_count(void)
{
    return sizeof views / sizeof views[0];
}

const trn_view *trn_view_at(size_t i)
{
    return &views[i];
}

const trn_view *trn_view_find(const char *name)
{
    for (size_t i = 0; i < trn_view_count(); i++)
        if (strcmp(views[i].name, name) == 0)
            return &views[i];
    return NULL;
}
