/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "working_notes.h"

#include <trunnion/clock.h>

#include "cleanliness.h"
#include "study.h"

enum { CONDITIONS = 16, SURVIVORS = 8, COUPLES = 4 };

static const double hour = 3600; /* s */
static const double zero_c = 273.15; /* K */

/* The numbers were computed before: what a step gives here is only looked at by readers. */
static double call(trn_trace *trace, trn_step_id id, const double *in)
{
    double out[TRN_OUTPUTS_MAX] = {NAN};
    return trn_step(trace, id, in, out) < 0 ? NAN : out[0];
}

/* ---- power and speed ---------------------------------------------------------------------- */

/* Gear that drives an axle: the first whose mate sits on it. */
static size_t driving_gear(const trn_machine *m, size_t axle)
{
    for (size_t i = 0; i < m->gears_count; i++)
        if (m->gears[i].driver && m->gears[m->gears[i].mate_index].axle_index == axle)
            return i;
    return TRN_NONE;
}

static void speed_of_axle(const trn_machine *m, size_t condition, size_t axle, trn_trace *trace)
{
    size_t gear = driving_gear(m, axle);
    if (gear == TRN_NONE)
        return;
    const trn_gear *g = &m->gears[gear];
    const trn_axle *from = &m->axles[g->axle_index];
    const trn_shaft *shaft = &m->shafts[m->gearboxes[from->gearbox_index].shaft_index];
    double omega = m->duty[condition].pto_speed * shaft->speed_ratio * from->ratio;
    trn_trace_scope(trace, "speed", m->duty[condition].condition, m->axles[axle].axle);
    (void)call(trace, TRN_STEP_POWER_SPEED,
               (const double[]){omega, g->teeth, m->gears[g->mate_index].teeth});
}

/* How many meshes lie between the tractor and an axle; axles are worked in this order. */
static size_t depth_of(const trn_machine *m, size_t axle)
{
    size_t depth = 0;
    for (size_t turn = 0; axle != TRN_NONE && turn <= m->axles_count; turn++) {
        size_t gear = driving_gear(m, axle);
        if (gear != TRN_NONE) {
            depth++;
            axle = m->gears[gear].axle_index;
        } else {
            axle = m->shafts[m->gearboxes[m->axles[axle].gearbox_index].shaft_index].from_axle;
        }
    }
    return depth;
}

void trn_working_speeds(const trn_machine *m, trn_trace *trace)
{
    if (!trace)
        return;
    size_t deepest = 0;
    for (size_t a = 0; a < m->axles_count; a++)
        deepest = depth_of(m, a) > deepest ? depth_of(m, a) : deepest;
    for (size_t i = 0; i < m->duty_count; i++)
        for (size_t depth = 1; depth <= deepest; depth++)
            for (size_t a = 0; a < m->axles_count; a++)
                if (!isnan(m->axles[a].ratio) && depth_of(m, a) == depth)
                    speed_of_axle(m, i, a, trace);
}

void trn_working_share(double power_w, double share, trn_trace *trace)
{
    if (trace)
        (void)call(trace, TRN_STEP_POWER_SHARE, (const double[]){power_w, share});
}

void trn_working_cross(double angle_rad, bool wide, double least_rad, trn_trace *trace)
{
    if (trace && (wide || angle_rad < least_rad))
        (void)call(trace, TRN_STEP_JOINT_CROSS_ANGLE,
                   (const double[]){angle_rad, wide ? 1 : 0, least_rad});
}

void trn_working_ripple(double torque_nm, double fluctuation, trn_trace *trace)
{
    if (trace)
        (void)call(trace, TRN_STEP_SHAFT_STEADY_RIPPLE, (const double[]){torque_nm, fluctuation});
}

/* ---- axles -------------------------------------------------------------------------------- */

void trn_working_tooth(const trn_gear *g, double torque_nm, double scale, trn_trace *trace)
{
    if (!trace)
        return;
    if (torque_nm > 0 && scale != 1)
        (void)call(trace, TRN_STEP_POWER_SHOCK, (const double[]){torque_nm, scale});
    bool bevel = g->kind <= TRN_SPIRAL_BEVEL;
    (void)call(trace, TRN_STEP_GEAR_DIAMETER,
               (const double[]){g->teeth, g->module, bevel ? 0 : g->spiral_angle});
}

void trn_working_add(const double before[6], const double mesh[6], trn_trace *trace)
{
    if (!trace)
        return;
    double in[12];
    for (size_t k = 0; k < 6; k++) {
        in[k] = before[k];
        in[6 + k] = mesh[k];
    }
    (void)call(trace, TRN_STEP_AXLE_ADD_LOAD, in);
}

void trn_working_couple(const double *couples, size_t n, double scale, trn_trace *trace)
{
    double in[COUPLES + 1] = {NAN, NAN, NAN, NAN, scale};
    if (!trace || n == 0 || n > COUPLES)
        return;
    for (size_t i = 0; i < n; i++)
        in[i] = couples[i];
    (void)call(trace, TRN_STEP_AXLE_ATTACHED_COUPLE, in);
}

void trn_working_radial(double fr_a, double fr_b, double added, trn_trace *trace)
{
    if (trace && added > 0)
        (void)call(trace, TRN_STEP_AXLE_RADIAL_LOAD, (const double[]){fr_a, fr_b, added});
}

void trn_working_case(double k_n, const double thrust[2], const double sliding[2], size_t n,
                      size_t place, double scale, trn_trace *trace)
{
    static const double ways[3] = {0, 1, -1};
    if (!trace || n == 0)
        return;
    double in[] = {k_n, thrust[0], ways[n > 1 ? place / 3 : place], sliding[0], NAN, NAN, NAN,
                   scale};
    if (n > 1) {
        in[4] = thrust[1];
        in[5] = ways[place % 3];
        in[6] = sliding[1];
    }
    (void)call(trace, TRN_STEP_AXLE_THRUST_CASE, in);
}

/* ---- lives -------------------------------------------------------------------------------- */

void trn_working_life(trn_step_id id, const double *in, trn_trace *trace)
{
    if (trace)
        (void)call(trace, id, in);
}

void trn_working_sum(const double *share, const double *life_h, size_t n, trn_trace *trace)
{
    double in[2 * CONDITIONS];
    size_t k = 0;
    if (!trace)
        return;
    for (size_t i = 0; i < 2 * CONDITIONS; i++)
        in[i] = NAN;
    for (size_t i = 0; i < n; i++) {
        if (!(share[i] > 0) || !isfinite(life_h[i]))
            continue;
        if (k == CONDITIONS) /* more than the entry takes */
            return;
        in[k] = share[i];
        in[CONDITIONS + k++] = life_h[i];
    }
    if (k > 0)
        (void)call(trace, TRN_STEP_BEARING_DUTY_LIFE, in);
}

/* Shares and lives of the conditions, as far as the entry goes. */
typedef struct levels {
    double share[CONDITIONS + 1], life[CONDITIONS + 1];
    size_t n;
} levels;

static void add_level(levels *l, double share, double life_h)
{
    if (!(share > 0) || !isfinite(life_h) || l->n > CONDITIONS)
        return;
    l->share[l->n] = share;
    l->life[l->n++] = life_h;
}

void trn_working_duty(const trn_machine *m, const trn_results *r, size_t bearing, double a1,
                      trn_trace *trace)
{
    if (!trace)
        return;
    const trn_bearing_row *all = &r->bearings[m->duty_count * m->bearings_count + bearing];
    levels basic = {.n = 0};
    levels modified = {.n = 0};
    for (size_t i = 0; i < m->duty_count; i++) {
        const trn_bearing_row *row = &r->bearings[i * m->bearings_count + bearing];
        add_level(&basic, m->duty[i].share, row->l10h_h);
        add_level(&modified, m->duty[i].share, row->lnmh_h);
    }
    trn_trace_scope(trace, "duty", "all", m->bearings[bearing].bearing);
    if (isfinite(all->l10h_h))
        trn_working_sum(basic.share, basic.life, basic.n, trace);
    if (isfinite(all->lnmh_h))
        trn_working_sum(modified.share, modified.life, modified.n, trace);
    if (isfinite(all->l10h_h) && isfinite(all->lnmh_h))
        (void)call(trace, TRN_STEP_BEARING_MEAN_FACTOR,
                   (const double[]){all->lnmh_h, a1, all->l10h_h});
}

void trn_working_cross_duty(const trn_machine *m, const trn_results *r, size_t shaft,
                            trn_trace *trace)
{
    if (!trace)
        return;
    const trn_joint_row *all = &r->joints[m->duty_count * m->shafts_count + shaft];
    levels in = {.n = 0};
    levels out = {.n = 0};
    for (size_t i = 0; i < m->duty_count; i++) {
        const trn_joint_row *row = trn_results_joint(r, i, shaft);
        add_level(&in, m->duty[i].share, row->life_in_h);
        add_level(&out, m->duty[i].share, row->life_out_h);
    }
    if (isfinite(all->life_in_h))
        trn_working_sum(in.share, in.life, in.n, trace);
    if (isfinite(all->life_out_h))
        trn_working_sum(out.share, out.life, out.n, trace);
}

void trn_working_survival(double design_h, double a1, const double *life_h, size_t n,
                          trn_trace *trace)
{
    if (!trace)
        return;
    double whole = NAN;
    for (size_t i = 0; i < n;) {
        double in[SURVIVORS + 3] = {design_h, a1, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, whole};
        for (size_t k = 0; k < SURVIVORS && i < n; k++)
            in[2 + k] = life_h[i++];
        whole = call(trace, TRN_STEP_BEARING_SYSTEM_SURVIVAL, in);
    }
}

/* ---- dust --------------------------------------------------------------------------------- */

void trn_working_dust(const trn_machine *m, double intake, size_t gearbox, trn_trace *trace)
{
    if (!trace)
        return;
    const trn_gearbox *g = &m->gearboxes[gearbox];
    double sum = 0;
    for (size_t i = 0; i < m->duty_count; i++) {
        if (!(m->duty[i].share > 0))
            continue;
        trn_trace_scope(trace, "cleanliness", m->duty[i].condition, g->gearbox);
        sum = call(trace, TRN_STEP_INTERVAL_ADD_DUST,
                   (const double[]){sum, m->duty[i].share, intake,
                                    trn_duty_dust(&m->duty[i])});
    }
    trn_trace_scope(trace, "cleanliness", "", g->gearbox);
    (void)call(trace, TRN_STEP_OIL_MEAN_DUST,
               (const double[]){sum, trn_manual_change(m, gearbox) * hour, g->oil_volume,
                                g->residual_oil});
}

/* ---- intervals ---------------------------------------------------------------------------- */

static double limit_s(const trn_nominal *n, trn_cause cause)
{
    double life = n->limit[cause].life_h;
    return (n->use & TRN_BIT(cause)) && isfinite(life) ? life * hour : NAN;
}

static double own_step(const trn_machine *m, double allowed_h, trn_trace *trace)
{
    double in[1 + TRN_LIST_MAX];
    in[0] = allowed_h * hour;
    for (size_t i = 0; i < TRN_LIST_MAX; i++)
        in[1 + i] = i < m->head.service_clock.n ? m->head.service_clock.v[i] * hour : NAN;
    return call(trace, TRN_STEP_INTERVAL_OWN_STEP, in);
}

void trn_working_point(const trn_machine *m, const trn_service_point *sp,
                       const trn_point_row *row, trn_trace *trace)
{
    if (!trace)
        return;
    const trn_nominal *n = &row->nominal;
    trn_trace_scope(trace, "interval", "all", sp->name);
    if (sp->task == TRN_TASK_CHANGE_OIL && n->order_count > 0)
        (void)call(trace, TRN_STEP_INTERVAL_LEAST,
                   (const double[]){limit_s(n, TRN_CAUSE_AGEING), limit_s(n, TRN_CAUSE_DUST),
                                    limit_s(n, TRN_CAUSE_WATER), limit_s(n, TRN_CAUSE_ADDITIVE),
                                    limit_s(n, TRN_CAUSE_WEAR)});
    if (!isfinite(row->at_risk_h) || !(row->at_risk_h > 0))
        return;
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    double allowed = call(trace, TRN_STEP_INTERVAL_ALLOWED,
                          (const double[]){row->at_risk_h * hour, settings.slack,
                                           row->manual_h * hour}) /
                     hour;
    trn_clock clock = {m->head.service_clock.v, m->head.service_clock.n};
    if (isnan(trn_clock_floor(clock, allowed)) && allowed < row->manual_h)
        (void)call(trace, TRN_STEP_INTERVAL_BELOW_CLOCK,
                   (const double[]){allowed * hour, row->manual_h * hour,
                                    trn_clock_next(clock, 0) * hour});
    else if (clock.count > 0 && allowed < row->manual_h)
        (void)own_step(m, allowed, trace); /* the common clock notes itself */
    if (row->low_h > 0 && isfinite(row->low_h))
        (void)call(trace, TRN_STEP_INTERVAL_SHORTENING,
                   (const double[]){row->manual_h * hour, row->low_h * hour});
}

/* What a greased bearing carries: the loads of the mean torque, no shaft sliding. */
static void bearing_load(const trn_machine *m, const trn_results *r, size_t condition,
                         size_t bearing, trn_trace *trace)
{
    const trn_bearing *b = &m->bearings[bearing];
    const trn_load_row *mean = &r->loads_mean[condition * m->bearings_count + bearing];
    if (!mean->known)
        return;
    double p = call(trace, TRN_STEP_BEARING_LOAD,
                    (const double[]){b->kind, mean->fr_n, mean->fa_n[0], b->C0, b->f0,
                                     b->contact_angle});
    (void)call(trace, TRN_STEP_INTERVAL_BEARING_LOAD, (const double[]){p, b->C});
}

static void joint_motion(const trn_machine *m, const trn_results *r, size_t condition,
                         size_t shaft, const trn_service_point *sp, trn_trace *trace)
{
    const trn_joint_row *row = trn_results_joint(r, condition, shaft);
    const trn_shaft *s = &m->shafts[shaft];
    if (row->torque_nm > 0 && row->cross_load_n > 0) {
        double growth = row->cross_load_n * 2 * s->cross_arm / row->torque_nm;
        (void)call(trace, TRN_STEP_INTERVAL_CROSS_LOAD,
                   (const double[]){growth, row->torque_nm, s->cross_arm, s->cross_rating});
    }
    if (isfinite(row->speed_rpm * row->cross_angle_rad) && sp->ref_speed_rpm > 0)
        (void)call(trace, TRN_STEP_INTERVAL_MOTION,
                   (const double[]){row->speed_rpm * trn_rpm, row->cross_angle_rad,
                                    sp->ref_speed_rpm * trn_rpm, sp->ref_angle_deg * trn_degree});
}

void trn_working_grease(const trn_machine *m, const trn_results *r, size_t point,
                        const trn_service_point *sp, const trn_duty_state *states,
                        const trn_interval_settings *settings, trn_trace *trace)
{
    const trn_point *p = &m->points[point];
    unsigned acts = trn_grease_factors_of(sp->task);
    if (!trace)
        return;
    for (size_t i = 0; i < m->duty_count; i++) {
        const trn_duty_state *s = &states[i];
        if (!(s->share > 0))
            continue;
        trn_trace_scope(trace, "interval", s->condition, sp->name);
        if ((acts & TRN_BIT(TRN_CAUSE_HEAT)) && !sp->at_oil_temperature && isnan(sp->point_c) &&
            isfinite(s->ambient_c))
            (void)call(trace, TRN_STEP_INTERVAL_POINT_TEMPERATURE,
                       (const double[]){s->ambient_c + zero_c, settings->point_rise_k});
        if ((acts & TRN_BIT(TRN_CAUSE_MOTION)) && p->shaft_index != TRN_NONE)
            joint_motion(m, r, i, p->shaft_index, sp, trace);
        if ((acts & TRN_BIT(TRN_CAUSE_LOAD)) && p->bearing_index != TRN_NONE)
            bearing_load(m, r, i, p->bearing_index, trace);
    }
}

void trn_working_first(const trn_machine *m, const trn_service_point *sp, const trn_point_row *row,
                       trn_trace *trace)
{
    if (!trace)
        return;
    trn_clock clock = {m->head.service_clock.v, m->head.service_clock.n};
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    trn_trace_scope(trace, "interval", "all", sp->name);
    const char *before = trace->variant;
    trn_trace_variant(trace, before ? "firstdrawn" : "first");
    double wanted = call(trace, TRN_STEP_INTERVAL_FIRST_WANTED,
                         (const double[]){row->manual_h * hour, settings.first_change_h * hour,
                                          settings.first_part});
    double step = NAN;
    if (trn_clock_floor(clock, wanted / hour) > 0) /* else half a day */
        step = clock.count > 0 ? own_step(m, wanted / hour, trace)
                               : call(trace, TRN_STEP_INTERVAL_STEP, &wanted);
    (void)call(trace, TRN_STEP_INTERVAL_FIRST_CHANGE,
               (const double[]){step, row->recommended_h * hour});
    trn_trace_variant(trace, before);
}
