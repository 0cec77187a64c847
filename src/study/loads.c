/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tooth forces, axle statics and bearing loads of every condition: once for the mean torque,
 * once with the application factor. */
#include <string.h>

#include "study.h"
#include "working_notes.h"

/* What the shafts attached to an axle do to it, mean torque. */
typedef struct attached {
    double couple; /* peaks added */
    double couples[TRN_TEXTS_MAX]; /* each, for a trace */
    size_t couple_n;
    size_t n;
    double thrust[2], sliding[2];
} attached;

static void attach(const trn_machine *m, const trn_joint_row *row, double couple, attached *at)
{
    if (!isnan(couple)) {
        at->couple += couple;
        if (at->couple_n < TRN_TEXTS_MAX)
            at->couples[at->couple_n++] = couple;
    }
    double thrust = row->thrust_n;
    if (isnan(thrust) || thrust == 0)
        return;
    if (at->n == 2) { /* a third thrust goes with the second: the safe side */
        at->thrust[1] += thrust;
        return;
    }
    at->thrust[at->n] = thrust;
    at->sliding[at->n++] = m->shafts[row->shaft].sliding;
}

static attached shafts_on(const trn_machine *m, const trn_results *r, size_t condition,
                          size_t axle)
{
    attached at = {.couple = 0};
    size_t g = m->axles[axle].gearbox_index;
    if (m->gearboxes[g].input_axle == axle) {
        const trn_joint_row *row = trn_results_joint(r, condition, m->gearboxes[g].shaft_index);
        attach(m, row, row->couple_out_nm, &at);
    }
    for (size_t s = 0; s < m->shafts_count; s++)
        if (m->shafts[s].from_axle == axle) {
            const trn_joint_row *row = trn_results_joint(r, condition, s);
            attach(m, row, row->couple_in_nm, &at);
        }
    return at;
}

/* ---- one gear ------------------------------------------------------------------------------ */

typedef struct tooth {
    double ft, fr, fa, d_m, torque;
} tooth;

static trn_status bevel_force(const trn_machine *m, size_t gear, double torque, tooth *t,
                              trn_trace *trace)
{
    const trn_gear *g = &m->gears[gear];
    const trn_gear *mate = &m->gears[g->mate_index];
    double pair[] = {g->teeth, mate->teeth, g->module, g->face_width, g->pressure_angle, g->shaft_angle,
                     g->spiral_angle};
    double shape[TRN_OUTPUTS_MAX];
    trn_status status = trn_step(trace, TRN_STEP_GEAR_BEVEL_VIRTUAL, pair, shape);
    if (status < 0)
        return status;
    double in[] = {torque,          g->teeth * g->module,
                   g->face_width,   g->pressure_angle,
                   shape[0],        g->spiral_angle,
                   g->hand,         g->rotation < 0 ? 0 : g->rotation,
                   g->driver ? 0 : 1};
    double out[4];
    status = trn_step(trace, TRN_STEP_GEAR_BEVEL_FORCE, in, out);
    if (status >= 0)
        *t = (tooth){.d_m = out[0], .ft = out[1], .fr = out[2], .fa = out[3], .torque = torque};
    return status;
}

static trn_status cylinder_force(const trn_gear *g, double torque, tooth *t, trn_trace *trace)
{
    double d = g->teeth * g->module / cos(g->spiral_angle);
    double in[] = {torque, d, g->pressure_angle, g->spiral_angle};
    double out[3];
    trn_status status = trn_step(
        trace, g->kind == TRN_SPUR ? TRN_STEP_GEAR_SPUR_FORCE : TRN_STEP_GEAR_HELICAL_FORCE, in,
        out);
    if (status >= 0)
        *t = (tooth){.d_m = d, .ft = out[0], .fr = out[1], .fa = out[2], .torque = torque};
    return status;
}

/* Torque of a gear on its own axle: the power of its mesh over its own speed. */
static trn_status tooth_of(const trn_machine *m, const trn_results *r, size_t condition,
                           size_t gear, double scale, tooth *t, trn_trace *trace)
{
    const trn_gear *g = &m->gears[gear];
    const trn_axle *axle = &m->axles[g->axle_index];
    const trn_joint_row *in =
        trn_results_joint(r, condition, m->gearboxes[axle->gearbox_index].shaft_index);
    double omega = in->speed_rpm * trn_rpm * axle->ratio;
    double power = in->power_w * g->power_share;
    double torque = 0;
    if (isnan(omega) || isnan(power))
        return TRN_E_UNKNOWN;
    trn_working_share(in->power_w, g->power_share, trace);
    if (power > 0 && omega > 0) {
        double torque_in[] = {power, omega};
        double out[1];
        trn_status status = trn_step(trace, TRN_STEP_SHAFT_TORQUE, torque_in, out);
        if (status < 0)
            return status;
        torque = scale * out[0];
    }
    trn_working_tooth(g, torque / scale, scale, trace);
    return g->kind <= TRN_SPIRAL_BEVEL ? bevel_force(m, gear, torque, t, trace)
                                       : cylinder_force(g, torque, t, trace);
}

/* ---- one axle ------------------------------------------------------------------------------ */

typedef struct statics {
    double sum[6];  /* forces and moments about the origin */
    double largest; /* tooth force */
} statics;

static bool sense_matters(const trn_machine *m, size_t axle)
{
    size_t gears = 0;
    bool slanted = false;
    for (size_t i = 0; i < m->gears_count; i++)
        if (m->gears[i].axle_index == axle) {
            gears++;
            slanted = slanted || m->gears[i].spiral_angle != 0;
        }
    return gears > 1 || slanted;
}

static trn_status add_mesh(const trn_machine *m, size_t gear, int sense, const tooth *t,
                           bool further, statics *s, trn_trace *trace)
{
    const trn_gear *g = &m->gears[gear];
    double in[] = {g->kind,
                   g->driver ? 0 : 1,
                   sense,
                   t->ft,
                   t->fr,
                   t->fa,
                   g->kind <= TRN_SPIRAL_BEVEL ? (double)g->apex : NAN,
                   g->hand,
                   g->azimuth,
                   g->station,
                   t->d_m / 2};
    double out[6];
    trn_status status = trn_step(trace, TRN_STEP_AXLE_MESH_LOAD, in, out);
    if (status < 0)
        return status;
    if (further)
        trn_working_add(s->sum, out, trace);
    for (size_t k = 0; k < 6; k++)
        s->sum[k] += out[k];
    s->largest = fmax(s->largest, fmax(t->ft, fmax(fabs(t->fr), fabs(t->fa))));
    return TRN_OK;
}

static trn_status sum_meshes(const trn_machine *m, const trn_results *r, size_t condition,
                             size_t axle, double scale, statics *s, trn_trace *trace)
{
    int sense = m->axles[axle].sense != 0 ? m->axles[axle].sense : 1;
    *s = (statics){.largest = 0};
    size_t meshes = 0;
    for (size_t i = 0; i < m->gears_count; i++) {
        if (m->gears[i].axle_index != axle)
            continue;
        trn_trace_scope(trace, "gear", m->duty[condition].condition, m->gears[i].gear);
        tooth t;
        trn_status status = tooth_of(m, r, condition, i, scale, &t, trace);
        if (status >= 0)
            status = add_mesh(m, i, sense, &t, meshes++ > 0, s, trace);
        if (status < 0)
            return status;
    }
    trn_trace_scope(trace, "axle", m->duty[condition].condition, m->axles[axle].axle);
    return TRN_OK;
}

/* Load cases of the shaft thrusts: case 0 without, then every combination of signs. */
static size_t list_cases(const attached *at, double scale, double thrust[TRN_CASES_MAX],
                         double share[TRN_CASES_MAX])
{
    static const double signs[3] = {0, 1, -1};
    size_t first = at->n > 0 ? 3 : 1;
    size_t second = at->n > 1 ? 3 : 1;
    size_t n = 0;
    for (size_t i = 0; i < first; i++)
        for (size_t k = 0; k < second; k++) {
            double part_i = at->n < 1 ? 1 : i ? at->sliding[0] / 2 : 1 - at->sliding[0];
            double part_k = at->n < 2 ? 1 : k ? at->sliding[1] / 2 : 1 - at->sliding[1];
            thrust[n] = scale * (signs[i] * at->thrust[0] + signs[k] * at->thrust[1]);
            share[n++] = part_i * part_k;
        }
    return n;
}

static trn_status induced(const trn_bearing *b, double fr, double *s, trn_trace *trace)
{
    if (trace)
        trn_trace_scope(trace, "axle bearing", trace->condition, b->bearing);
    double in[] = {b->kind, fr, b->C0, b->f0, b->contact_angle};
    return trn_step(trace, TRN_STEP_BEARING_INDUCED_THRUST, in, s);
}

static trn_status thrust_cases(const trn_machine *m, const trn_axle *axle, double k_n,
                               double largest, const attached *at, double scale,
                               trn_load_row *a, trn_load_row *b, trn_trace *trace)
{
    const trn_bearing *bearing_a = &m->bearings[axle->bearing[0]];
    const trn_bearing *bearing_b = &m->bearings[axle->bearing[1]];
    double s_a = 0;
    double s_b = 0;
    trn_status status = induced(bearing_a, a->fr_n, &s_a, trace);
    if (status >= 0)
        status = induced(bearing_b, b->fr_n, &s_b, trace);
    if (trace)
        trn_trace_scope(trace, "axle", trace->condition, axle->axle);
    double thrust[TRN_CASES_MAX];
    size_t n = list_cases(at, scale, thrust, a->share);
    a->cases = b->cases = n;
    memcpy(b->share, a->share, sizeof b->share);
    for (size_t i = 0; i < n && status >= 0; i++) {
        double in[] = {bearing_a->kind,   bearing_a->thrust, s_a, bearing_b->kind,
                       bearing_b->thrust, s_b,               k_n + thrust[i], largest};
        double out[2];
        trn_trace *noted = a->share[i] > 0 || i == 0 ? trace : NULL;
        trn_working_case(k_n, at->thrust, at->sliding, at->n, i, scale, noted);
        status = trn_step(noted, TRN_STEP_AXLE_THRUST, in, out);
        if (status < 0) {
            double hold = 0;
            bool held = trn_step(NULL, TRN_STEP_AXLE_HELD, in, &hold) >= 0 && hold < 2;
            trn_remark_add(&a->remarks, held ? TRN_M_STATUS : TRN_M_NOT_HELD, NULL, 0);
            break;
        }
        if (status > 0)
            trn_remark_add(&a->remarks, TRN_M_OVER_LOCATED, NULL, 0);
        a->fa_n[i] = out[0];
        b->fa_n[i] = out[1];
    }
    return status;
}

/* A W shaft's side force at the nearer bearing against the couple that is added. */
static void compare_side_force(const trn_machine *m, const trn_results *r, size_t condition,
                               size_t axle_index, double added, double span, trn_remarks *remarks)
{
    const trn_axle *axle = &m->axles[axle_index];
    for (size_t s = 0; s < m->shafts_count; s++) {
        bool attached_here = m->shafts[s].from_axle == axle_index ||
                             (m->gearboxes[axle->gearbox_index].input_axle == axle_index &&
                              m->gearboxes[axle->gearbox_index].shaft_index == s);
        const trn_joint_row *row = trn_results_joint(r, condition, s);
        if (!attached_here || row->setting == TRN_NONE || !(row->torque_nm > 0))
            continue;
        const trn_setting *set = &r->settings[row->setting];
        if (!set->known || !set->w_shape || isnan(set->length_m))
            continue;
        double in[] = {row->torque_nm, fmax(set->angle_in_rad, set->angle_out_rad),
                       set->length_m, axle->overhang, span};
        double out[2];
        if (trn_step(NULL, TRN_STEP_AXLE_SIDE_FORCE, in, out) >= 0 && out[1] > added)
            trn_remark_add(remarks, TRN_M_SIDE_FORCE, NULL, out[1]);
    }
}

static trn_status axle_loads(const trn_machine *m, const trn_results *r, size_t condition,
                             size_t index, double scale, trn_load_row *a,
                             trn_load_row *b, trn_trace *trace)
{
    const trn_axle *axle = &m->axles[index];
    statics s;
    trn_status status = sum_meshes(m, r, condition, index, scale, &s, trace);
    if (status < 0)
        return status;
    double x_a = m->bearings[axle->bearing[0]].station;
    double x_b = m->bearings[axle->bearing[1]].station;
    double in[] = {s.sum[0], s.sum[1], s.sum[2], s.sum[3], s.sum[4], s.sum[5], x_a, x_b};
    double out[8];
    status = trn_step(trace, TRN_STEP_AXLE_REACTIONS, in, out);
    if (status < 0) {
        trn_remark_add(&a->remarks, TRN_M_SAME_STATION, NULL, 0);
        return status;
    }
    attached at = shafts_on(m, r, condition, index);
    double couple_in[] = {scale * at.couple, x_b - x_a};
    double added = 0;
    if (at.couple > 0)
        trn_working_couple(at.couples, at.couple_n, scale, trace);
    status = trn_step(trace, TRN_STEP_AXLE_COUPLE, couple_in, &added);
    if (status < 0)
        return status;
    a->radial_y_n = out[0];
    a->radial_z_n = out[1];
    b->radial_y_n = out[2];
    b->radial_z_n = out[3];
    a->couple_n = b->couple_n = added;
    a->thrust_n = b->thrust_n = out[6];
    trn_working_radial(out[4], out[5], added, trace);
    a->fr_n = out[4] + added;
    b->fr_n = out[5] + added;
    compare_side_force(m, r, condition, index, added, x_b - x_a, &a->remarks);
    return thrust_cases(m, axle, out[6], s.largest, &at, scale, a, b, trace);
}

static void evaluate_axle(const trn_machine *m, const trn_results *r, size_t condition,
                          size_t index, double scale, trn_load_row *loads, trn_trace *trace)
{
    const trn_axle *axle = &m->axles[index];
    trn_load_row *a = NULL;
    trn_load_row *b = NULL;
    for (size_t i = 0; i < m->bearings_count; i++)
        if (m->bearings[i].axle_index == index) {
            trn_load_row *load = &loads[condition * m->bearings_count + i];
            *load = (trn_load_row){
                .fr_n = NAN, .radial_y_n = NAN, .radial_z_n = NAN, .couple_n = NAN, .thrust_n = NAN};
            if (axle->bearing_count != 2)
                trn_remark_add(&load->remarks, TRN_M_TWO_BEARINGS, NULL,
                               (double)axle->bearing_count);
            else if (isnan(axle->ratio))
                trn_remark_add(&load->remarks, TRN_M_NO_SPEED, NULL, 0);
            else if (axle->sense == 0 && sense_matters(m, index))
                trn_remark_add(&load->remarks, TRN_M_NO_SENSE, NULL, 0);
            else if (!a)
                a = load;
            else
                b = load;
        }
    if (!a || !b)
        return;
    trn_trace_scope(trace, "axle", m->duty[condition].condition, axle->axle);
    trn_status status = axle_loads(m, r, condition, index, scale, a, b, trace);
    a->known = b->known = status >= 0;
    if (status < 0 && a->remarks.n == 0)
        trn_remark_status(&a->remarks, status);
    trn_remarks_join(&b->remarks, &a->remarks);
}

/* ---- all ------------------------------------------------------------------------------------ */

static void evaluate_gear(const trn_machine *m, const trn_results *r, size_t condition,
                          size_t gear, trn_gear_row *row)
{
    tooth t;
    *row = (trn_gear_row){.torque_nm = NAN, .d_m_mm = NAN, .ft_n = NAN, .fr_n = NAN, .fa_n = NAN,
                          .v_t = NAN, .f_over_b = NAN, .friction = NAN, .mesh_loss_w = NAN,
                          .film_um = NAN, .lambda = NAN,
                          .azimuth_deg = m->gears[gear].azimuth / trn_degree};
    row->status = tooth_of(m, r, condition, gear, m->duty[condition].shock, &t, NULL);
    if (row->status < 0)
        return;
    const trn_axle *axle = &m->axles[m->gears[gear].axle_index];
    const trn_joint_row *in =
        trn_results_joint(r, condition, m->gearboxes[axle->gearbox_index].shaft_index);
    row->torque_nm = t.torque;
    row->d_m_mm = 1000 * t.d_m;
    row->ft_n = t.ft;
    row->fr_n = t.fr;
    row->fa_n = t.fa;
    row->v_t = in->speed_rpm * trn_rpm * axle->ratio * t.d_m / 2;
}

void trn_study_loads(const trn_machine *m, trn_results *r, trn_trace *trace)
{
    for (size_t i = 0; i < m->duty_count; i++) {
        for (size_t g = 0; g < m->gears_count; g++)
            evaluate_gear(m, r, i, g, &r->gears[i * m->gears_count + g]);
        for (size_t a = 0; a < m->axles_count; a++) {
            trn_trace_variant(trace, "mean");
            evaluate_axle(m, r, i, a, 1, r->loads_mean, trace);
            trn_trace_variant(trace, NULL);
            evaluate_axle(m, r, i, a, m->duty[i].shock, r->loads, trace);
        }
    }
}
