/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Joint effects of each shaft, condition by condition, and the verdict over all positions. */
#include <string.h>

#include "settings.h"
#include "study.h"
#include "working_notes.h"

static const double smallest_cross_angle = 2 * TRN_PI / 180; /* below: false brinelling */

static trn_joint_row blank(size_t condition, size_t shaft)
{
    return (trn_joint_row){
        .condition = condition, .shaft = shaft, .setting = TRN_NONE, .speed_rpm = NAN,
        .power_w = NAN, .torque_nm = NAN, .angle_in_deg = NAN, .angle_out_deg = NAN,
        .angle_equivalent_deg = NAN, .fluctuation_pct = NAN, .speed_max_rpm = NAN,
        .speed_min_rpm = NAN, .acceleration_out = NAN, .acceleration_tube = NAN,
        .ripple_nm = NAN, .couple_in_nm = NAN, .couple_out_nm = NAN, .length_mm = NAN,
        .clearance_mm = NAN, .overlap_mm = NAN, .thrust_n = NAN, .life_in_h = NAN,
        .life_out_h = NAN, .cross_load_n = NAN, .cross_angle_rad = NAN, .rho = 0};
}

static size_t find_setting(const trn_results *r, size_t shaft, const char *position)
{
    for (size_t i = 0; position && i < r->settings_count; i++)
        if (r->settings[i].shaft == shaft && strcmp(r->settings[i].position, position) == 0)
            return i;
    return TRN_NONE;
}

/* Angles, unevenness and speeds: what needs no torque. */
static void geometry(const trn_machine *m, const trn_setting *s, trn_joint_row *row, double omega,
                     bool turns, trn_trace *trace)
{
    const trn_shaft *shaft = &m->shafts[s->shaft];
    trn_remarks_join(&row->remarks, &s->remarks);
    row->length_mm = 1000 * s->length_m;
    row->clearance_mm = 1000 * s->clearance_m;
    row->overlap_mm = 1000 * s->overlap_m;
    if (s->clearance_m <= 0)
        trn_remark_add(&row->remarks, TRN_M_BOTTOMS, NULL, row->clearance_mm);
    if (s->overlap_m <= 0)
        trn_remark_add(&row->remarks, TRN_M_PARTS, NULL, row->overlap_mm);
    if (!s->known)
        return;
    row->angle_in_deg = s->angle_in_rad / trn_degree;
    row->angle_out_deg = s->angle_out_rad / trn_degree;
    row->angle_equivalent_deg = s->angle_equivalent_rad / trn_degree;
    double in[] = {s->angle_equivalent_rad, omega};
    double out[6];
    trn_status status = trn_step(trace, TRN_STEP_JOINT_FLUCTUATION, in, out);
    trn_remark_status(&row->remarks, status);
    if (status < 0)
        return;
    row->fluctuation_pct = 100 * out[2];
    if (!turns)
        return;
    row->speed_max_rpm = out[4] / trn_rpm;
    row->speed_min_rpm = out[5] / trn_rpm;
    if (trn_step(trace, TRN_STEP_JOINT_PEAK_ACCELERATION, in, out) >= 0)
        row->acceleration_out = out[0];
    if (shaft->kind == TRN_WIDE_ANGLE) {
        row->acceleration_tube = 0; /* taken as constant velocity */
        return;
    }
    double tube_in[] = {s->angle_in_rad, omega};
    if (trn_step(trace, TRN_STEP_JOINT_PEAK_ACCELERATION, tube_in, out) >= 0)
        row->acceleration_tube = out[0];
}

static void check_angle(const trn_machine *m, const trn_setting *s, bool power,
                        trn_joint_row *row)
{
    const trn_shaft *shaft = &m->shafts[s->shaft];
    double angle = fmax(s->angle_in_rad, isnan(s->angle_out_rad) ? 0 : s->angle_out_rad);
    double slack = 1 + 1e-9;
    if (power && angle > shaft->angle_limit * slack)
        trn_remark_add(&row->remarks, TRN_M_ANGLE_LIMIT, NULL, angle / trn_degree);
    else if (!power && s->pto_on && angle > shaft->angle_limit_brief * slack)
        trn_remark_add(&row->remarks, TRN_M_ANGLE_BRIEF, NULL, angle / trn_degree);
    else if (!power && !s->pto_on && angle > shaft->angle_limit_brief * slack)
        trn_remark_add(&row->remarks, TRN_M_ANGLE_STANDING, NULL, angle / trn_degree);
}

static double couple(double torque, double angle, trn_remarks *remarks, trn_trace *trace)
{
    double in[] = {torque, angle};
    double out[2];
    trn_status status = trn_step(trace, TRN_STEP_JOINT_SECONDARY_COUPLE, in, out);
    if (status < 0)
        trn_remark_status(remarks, status);
    return status < 0 ? NAN : out[0]; /* T tan beta at both ends */
}

/* Torque amplitude on the driven side; with the model where stiffness and inertia are known. */
static void ripple(const trn_shaft *shaft, const trn_setting *s, double torque, double omega,
                   trn_joint_row *row, trn_trace *trace)
{
    if (isnan(shaft->stiffness) || isnan(shaft->inertia_driven)) {
        row->ripple_nm = torque * row->fluctuation_pct / 200;
        row->rho = torque > 0 ? row->fluctuation_pct / 200 : 0;
        if (torque > 0)
            trn_remark_add(&row->remarks, TRN_M_QUASI_STATIC, NULL, 0);
        trn_working_ripple(torque, row->fluctuation_pct / 100, trace);
        return;
    }
    /* the amplitude does not depend on the mean torque: an idling shaft shows its inertia's */
    double in[] = {torque > 0 ? torque : 1, omega, s->angle_equivalent_rad, shaft->stiffness,
                   shaft->inertia_driven, NAN, NAN};
    double out[4];
    trn_status status = trn_step(trace, TRN_STEP_SHAFT_RIPPLE, in, out);
    if (status < 0) {
        trn_remark_status(&row->remarks, status);
        return;
    }
    row->ripple_nm = out[0];
    row->rho = torque > 0 ? out[0] / torque : 0; /* no load, no damage */
    if (row->rho > 1)
        trn_remark_add(&row->remarks, TRN_M_REVERSES, NULL, 0);
    double r = out[2];
    if (!(r > 0.8 && r < 1.25))
        return;
    row->near_resonance = true;
    double low[4];
    in[6] = 0.05;
    trn_status soft = trn_step(NULL, TRN_STEP_SHAFT_RIPPLE, in, low);
    in[6] = 0.01;
    if (soft >= 0 && trn_step(NULL, TRN_STEP_SHAFT_RIPPLE, in, out) >= 0)
        trn_remark_add2(&row->remarks, TRN_M_RESONANCE, NULL, low[0], out[0]);
}

/* Life of the cross of one joint; shock 1 gives the load alone. */
static double cross_life(const trn_shaft *shaft, double torque, double omega, double angle,
                         double shock, trn_joint_row *row, trn_trace *trace)
{
    if (isnan(shaft->cross_rating) || isnan(shaft->cross_arm)) {
        trn_remark_add(&row->remarks, TRN_M_NO_CROSS, NULL, 0);
        return NAN;
    }
    if (torque == 0)
        return INFINITY;
    double worked = angle;
    if (angle < smallest_cross_angle) {
        worked = smallest_cross_angle;
        trn_remark_add(&row->remarks, TRN_M_SMALL_ANGLE, NULL, 0);
    }
    double in[] = {shaft->cross_rating, shaft->cross_arm, torque, omega, worked, shock, NAN};
    double out[4];
    trn_status status = trn_step(trace, TRN_STEP_JOINT_CROSS_LIFE, in, out);
    trn_remark_status(&row->remarks, status);
    if (status < 0)
        return NAN;
    double life = out[3] / 3600;
    double load = out[1] * torque / (2 * shaft->cross_arm); /* with a shock of 1 */
    row->cross_load_n = isnan(row->cross_load_n) ? load : fmax(row->cross_load_n, load);
    if (!isnan(shaft->needles)) {
        double oscillation[] = {shaft->needles, sin(TRN_PI / shaft->needles)};
        if (trn_step(trace, TRN_STEP_JOINT_CRITICAL_OSCILLATION, oscillation, out) >= 0 &&
            angle < out[1])
            trn_remark_add(&row->remarks, TRN_M_OSCILLATION, NULL, out[1] / trn_degree);
    }
    return life;
}

static void with_torque(const trn_shaft *shaft, const trn_setting *s, double omega, double shock,
                        trn_joint_row *row, trn_trace *trace)
{
    double torque = row->torque_nm;
    bool one = shaft->kind == TRN_ONE_JOINT;
    double works_in = shaft->kind == TRN_WIDE_ANGLE ? s->angle_in_rad / 2 : s->angle_in_rad;
    trn_working_cross(s->angle_in_rad, shaft->kind == TRN_WIDE_ANGLE, smallest_cross_angle, trace);
    if (!one)
        trn_working_cross(s->angle_out_rad, false, smallest_cross_angle, trace);
    row->couple_in_nm = couple(torque, works_in, &row->remarks, trace);
    row->couple_out_nm =
        one ? row->couple_in_nm : couple(torque, s->angle_out_rad, &row->remarks, trace);
    ripple(shaft, s, torque, omega, row, trace);
    row->cross_angle_rad = one ? works_in : fmax(works_in, s->angle_out_rad);
    row->life_in_h = cross_life(shaft, torque, omega, works_in, shock, row, trace);
    if (!one)
        row->life_out_h = cross_life(shaft, torque, omega, s->angle_out_rad, shock, row, trace);
}

static void evaluate_row(const trn_machine *m, const trn_results *r, size_t condition,
                         size_t index, trn_joint_row *row, trn_trace *trace)
{
    const trn_shaft *shaft = &m->shafts[index];
    const trn_duty *duty = &m->duty[condition];
    *row = blank(condition, index);
    trn_trace_scope(trace, "joint", duty->condition, shaft->shaft);
    if (isnan(shaft->speed_ratio)) {
        trn_remark_add(&row->remarks, TRN_M_LEFT_OUT, NULL, 0);
        return;
    }
    double omega = duty->pto_speed * shaft->speed_ratio;
    row->speed_rpm = omega / trn_rpm;
    row->power_w = duty->power * shaft->power_total;
    trn_working_share(duty->power, shaft->power_total, trace);
    row->torque_nm = 0;
    if (row->power_w > 0 && omega > 0) {
        double in[] = {row->power_w, omega};
        double out[1];
        trn_status status = trn_step(trace, TRN_STEP_SHAFT_TORQUE, in, out);
        row->torque_nm = status < 0 ? NAN : out[0];
    } else {
        trn_remark_add(&row->remarks, TRN_M_NO_LOAD, NULL, 0);
    }
    if (!isnan(shaft->profile_radius)) {
        double in[] = {row->torque_nm, shaft->profile_friction, shaft->profile_radius};
        double out[1];
        trn_status status = trn_step(trace, TRN_STEP_SHAFT_TELESCOPING_THRUST, in, out);
        row->thrust_n = status < 0 ? NAN : out[0];
    }
    row->setting = find_setting(r, index, duty->position);
    if (row->setting == TRN_NONE) {
        trn_remark_add(&row->remarks, duty->position ? TRN_M_NO_POSITION : TRN_M_NO_DUTY_POSITION,
                       duty->position, 0);
        return;
    }
    const trn_setting *s = &r->settings[row->setting];
    bool power = row->torque_nm > 0;
    if (power && !s->pto_on)
        trn_remark_add(&row->remarks, TRN_M_PTO_OFF, s->position, 0);
    geometry(m, s, row, omega, true, trace);
    if (!s->known)
        return;
    check_angle(m, s, power, row);
    with_torque(shaft, s, omega, duty->shock, row, trace);
}

/* ---- over the duty and over all positions -------------------------------------------------- */

static double duty_life(const trn_machine *m, const trn_results *r, size_t shaft, bool out,
                        const char **unknown)
{
    double damage = 0;
    for (size_t i = 0; i < m->duty_count; i++) {
        const trn_joint_row *row = trn_results_joint(r, i, shaft);
        double life = out ? row->life_out_h : row->life_in_h;
        if (m->duty[i].share == 0)
            continue;
        if (isnan(life)) {
            *unknown = m->duty[i].condition;
            return NAN;
        }
        damage += m->duty[i].share / life; /* inf: no damage */
    }
    return damage > 0 ? 1 / damage : INFINITY;
}

static void judge_speed(const trn_machine *m, const trn_results *r, size_t index, double length,
                        trn_joint_row *row, trn_trace *trace)
{
    const trn_shaft *shaft = &m->shafts[index];
    if (isnan(shaft->tube_outside) || isnan(shaft->tube_bore))
        return;
    double in[] = {shaft->tube_outside, shaft->tube_bore, length, NAN, NAN};
    double out[1];
    if (trn_step(trace, TRN_STEP_SHAFT_CRITICAL_SPEED, in, out) < 0)
        return;
    double fastest = 0;
    for (size_t i = 0; i < m->duty_count; i++)
        fastest = fmax(fastest, trn_results_joint(r, i, index)->speed_rpm);
    if (fastest > 0.65 * out[0] / trn_rpm)
        trn_remark_add(&row->remarks, TRN_M_CRITICAL_SPEED, NULL, out[0] / trn_rpm);
}

/* Clearance at the shortest position, overlap at the longest one that turns. */
static void judge_fit(const trn_machine *m, const trn_results *r, size_t index,
                      trn_joint_row *row, trn_trace *trace)
{
    const trn_shaft *shaft = &m->shafts[index];
    size_t shortest = TRN_NONE;
    size_t longest = TRN_NONE;
    for (size_t i = 0; i < r->settings_count; i++) {
        const trn_setting *s = &r->settings[i];
        if (s->shaft != index || isnan(s->length_m))
            continue;
        if (shortest == TRN_NONE || s->length_m < r->settings[shortest].length_m)
            shortest = i;
        if (s->pto_on && (longest == TRN_NONE || s->length_m > r->settings[longest].length_m))
            longest = i;
    }
    if (longest != TRN_NONE)
        judge_speed(m, r, index, r->settings[longest].length_m, row, trace);
    if (shortest == TRN_NONE || longest == TRN_NONE || isnan(shaft->length_closed) ||
        isnan(shaft->overlap_closed)) {
        trn_remark_add(&row->remarks, TRN_M_FIT_UNKNOWN, NULL, 0);
        return;
    }
    double needed = isnan(shaft->tube_length) ? NAN : shaft->tube_length / 3;
    /* the longest may turn and be shorter than one that stands: fit takes min <= max */
    double in[] = {shaft->length_closed, shaft->overlap_closed, r->settings[shortest].length_m,
                   r->settings[longest].length_m, NAN, needed};
    double out[3];
    if (trn_step(trace, TRN_STEP_SHAFT_FIT, in, out) < 0) {
        trn_remark_add(&row->remarks, TRN_M_FIT_UNKNOWN, NULL, 0);
        return;
    }
    if (isnan(needed))
        needed = shaft->overlap_closed / 3;
    bool clear = out[0] >= 0.050 - 1e-9;
    bool covered = out[1] >= needed - 1e-9;
    if (clear && covered)
        trn_remark_add(&row->remarks, TRN_M_FITS, NULL, 0);
    trn_remark_add(&row->remarks, clear ? TRN_M_CLEARANCE : TRN_M_CLEARANCE_SHORT,
                   r->settings[shortest].position, 1000 * out[0]);
    if (out[0] <= 0)
        trn_remark_add(&row->remarks, TRN_M_BOTTOMS, NULL, 1000 * out[0]);
    trn_remark_add2(&row->remarks, covered ? TRN_M_OVERLAP : TRN_M_OVERLAP_SHORT,
                    r->settings[longest].position, 1000 * out[1], 1000 * needed);
    if (out[1] <= 0)
        trn_remark_add(&row->remarks, TRN_M_PARTS, NULL, 1000 * out[1]);
    if (out[1] > 0 && out[1] < 0.150 - 1e-9)
        trn_remark_add(&row->remarks, TRN_M_OVERLAP_150, NULL, 1000 * out[1]);
}

static void evaluate_all(const trn_machine *m, const trn_results *r, size_t shaft,
                         trn_joint_row *row, trn_trace *trace)
{
    *row = blank(m->duty_count, shaft);
    trn_trace_scope(trace, "fit", "all", m->shafts[shaft].shaft);
    const char *unknown = NULL;
    row->life_in_h = duty_life(m, r, shaft, false, &unknown);
    if (m->shafts[shaft].kind != TRN_ONE_JOINT)
        row->life_out_h = duty_life(m, r, shaft, true, &unknown);
    trn_working_cross_duty(m, r, shaft, trace);
    judge_fit(m, r, shaft, row, trace);
    if (unknown)
        trn_remark_add(&row->remarks, TRN_M_DUTY_UNKNOWN, unknown, 0);
    else
        trn_remark_add(&row->remarks, TRN_M_UPPER_BOUND, NULL, 0);
}

static void evaluate_unused(const trn_machine *m, size_t setting, const trn_setting *s,
                            trn_joint_row *row, trn_trace *trace)
{
    const trn_shaft *shaft = &m->shafts[s->shaft];
    *row = blank(TRN_NONE, s->shaft);
    row->setting = setting;
    trn_trace_scope(trace, "unused", s->position, shaft->shaft);
    if (isnan(shaft->speed_ratio)) {
        trn_remark_add(&row->remarks, TRN_M_LEFT_OUT, NULL, 0);
        return;
    }
    double omega = m->head.pto_speed * shaft->speed_ratio;
    if (s->pto_on)
        row->speed_rpm = omega / trn_rpm;
    geometry(m, s, row, omega, s->pto_on, trace);
    if (s->known)
        check_angle(m, s, false, row);
}

void trn_study_joints(const trn_machine *m, trn_results *r, trn_trace *trace)
{
    for (size_t i = 0; i < r->settings_count; i++)
        trn_setting_evaluate(m, &r->settings[i], trace);
    trn_working_speeds(m, trace);
    for (size_t i = 0; i < m->duty_count; i++)
        for (size_t s = 0; s < m->shafts_count; s++)
            evaluate_row(m, r, i, s, &r->joints[i * m->shafts_count + s], trace);
    for (size_t s = 0; s < m->shafts_count; s++)
        evaluate_all(m, r, s, &r->joints[m->duty_count * m->shafts_count + s], trace);
    trn_joint_row *row = &r->joints[trn_unused_rows(m)];
    for (size_t i = 0; i < r->settings_count; i++)
        if (!r->settings[i].used)
            evaluate_unused(m, i, &r->settings[i], row++, trace);
}
