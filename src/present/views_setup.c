/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Columns of the result files about shafts, gearboxes and bearings, and what a terminal shows. */
#include "views.h"

/* ---- texts -------------------------------------------------------------------------------- */

static const char *condition_text(const trn_results *r, size_t condition)
{
    return condition == TRN_NONE                   ? ""
           : condition == r->machine->duty_count   ? "all"
                                                   : r->machine->duty[condition].condition;
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
TEXT_OF(reading_gearbox, trn_reading_row, r->machine->readings[row->reading].gearbox)
TEXT_OF(reading_condition, trn_reading_row, r->machine->readings[row->reading].condition)
TEXT_OF(reading_where, trn_reading_row,
        r->machine->readings[row->reading].where == TRN_READ_SKIN ? "skin" : "oil")
TEXT_OF(reading_used, trn_reading_row, row->used ? "yes" : "no")
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

/* ---- fields ------------------------------------------------------------------------------- */

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
    NUMBER("cooling_factor", NULL, cooling_factor, NULL),
};
#undef ROW

#define ROW trn_reading_row
static const trn_field cooling_fields[] = {
    TEXT("gearbox", reading_gearbox, "gearbox"),
    TEXT("condition", reading_condition, "condition"),
    TEXT("where", reading_where, "where"),
    NUMBER("oil_at_stop", "degC", oil_c, "oil"),
    NUMBER("loss", "W", loss_w, "loss"),
    NUMBER("sun", "W", sun_w, "sun"),
    NUMBER("heat_transfer_area", "W/K", transfer_w_k, "k A"),
    NUMBER("time_constant", "min", time_constant_min, "min"),
    NUMBER("cooling_factor", NULL, cooling_factor, "factor"),
    TEXT("used", reading_used, "used"),
    REMARK,
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

ROWS(joints, r->joints_count, joints)
ROWS(fit, r->fits_count, fits)
ROWS(heat, m->duty_count *m->gearboxes_count, heat)
ROWS(cooling, m->readings_count, readings)
ROWS(bearings, (m->duty_count + 1) * m->bearings_count, bearings)
ROWS(gearbox, m->gearboxes_count, gearboxes)

ROWS(gears, m->duty_count *m->gears_count, gears)
ROWS(reactions, m->duty_count *m->bearings_count, loads)
ROWS(turns, r->extras ? r->extras->turns_count : 0, extras->turns)
ROWS(warmup, r->extras ? r->extras->warmup_count : 0, extras->warmup)
ROWS(course, r->extras ? r->extras->course_count : 0, extras->course)

const trn_view trn_views_of_setup[] = {
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
    VIEW("cooling", "What the readings say of the cooling",
         "One row a reading: oil at the stop, losses and heat transfer at it as modelled, and the "
         "factor that makes them agree.",
         cooling_fields, cooling, NULL),
    VIEW("bearing_lives", "Bearing loads and lives",
         "rpm, N, degC and h. Fr, Fa and P with shock and ripple, without the thrust of sliding shafts, "
         "which is in the lives. L10h: basic, Lnmh: with oil film, dirt and the reliability asked for.", bearing_fields, bearings, bearing_group),
    VIEW("gearbox_life", "Gearboxes as systems of their bearings",
         "Bearings only: teeth, axles, splines, seals and housing are not in it.", gearbox_fields,
         gearbox, NULL),
    VIEW("gear_loads", "Tooth loads", NULL, gear_fields, gears, gear_group),
    VIEW("reactions", "Reactions of the bearings",
         "R_y, R_z: reactions on the axle in its own frame, y toward azimuth 0; couple: added in "
         "magnitude; thrust: of the gears along +; all with shock, without the thrust of shafts.",
         reaction_fields, reactions, reaction_group),
    VIEW("one_turn", "One turn of each shaft", NULL, turn_fields, turns, NULL),
    VIEW("warmup", "Warm-up from the air's temperature", NULL, warmup_fields, warmup, NULL),
    VIEW("oil_course", "Oil from change to change", NULL, course_fields, course, NULL),
};
const size_t trn_views_of_setup_count =
    sizeof trn_views_of_setup / sizeof trn_views_of_setup[0];
