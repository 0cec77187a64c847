/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Angles, length, clearance and overlap of each shaft in each position, whatever the duty. */
#include <string.h>

#include "settings.h"
#include "study.h"

static const trn_position *measured_row(const trn_machine *m, const trn_setting *s)
{
    for (size_t i = 0; i < m->positions_count; i++)
        if (m->positions[i].shaft_index == s->shaft &&
            strcmp(m->positions[i].position, s->position) == 0)
            return &m->positions[i];
    return NULL;
}

static const trn_geometry *dimension_row(const trn_machine *m, const trn_setting *s)
{
    for (size_t i = 0; i < m->geometry_count; i++)
        if (m->geometry[i].shaft_index == s->shaft &&
            strcmp(m->geometry[i].position, s->position) == 0)
            return &m->geometry[i];
    return NULL;
}

/* Bent the same way at both joints: the normals of the two joint planes point alike. */
static bool bent_alike(const trn_position *p)
{
    double a[3][3] = {{1, tan(p->drive_plan), tan(p->drive_side)},
                      {1, tan(p->tube_plan), tan(p->tube_side)},
                      {1, tan(p->driven_plan), tan(p->driven_side)}};
    double n[2][3];
    for (size_t k = 0; k < 2; k++)
        for (size_t i = 0; i < 3; i++)
            n[k][i] = a[k][(i + 1) % 3] * a[k + 1][(i + 2) % 3] -
                      a[k][(i + 2) % 3] * a[k + 1][(i + 1) % 3];
    return n[0][0] * n[1][0] + n[0][1] * n[1][1] + n[0][2] * n[1][2] > 0;
}

static trn_status from_slopes(const trn_machine *m, const trn_position *p, trn_setting *s,
                              trn_trace *trace)
{
    const trn_shaft *shaft = &m->shafts[s->shaft];
    bool one = shaft->kind == TRN_ONE_JOINT; /* the tube is the driven axis */
    double in[] = {p->drive_plan, p->drive_side, p->tube_plan, p->tube_side,
                   one ? p->tube_plan : p->driven_plan, one ? p->tube_side : p->driven_side,
                   shaft->yoke_error};
    double out[4];
    trn_status status = trn_step(trace, TRN_STEP_JOINT_PAIR_SPACE, in, out);
    if (status < 0)
        return status;
    s->w_shape = !one && bent_alike(p);
    s->angle_in_rad = out[0];
    s->angle_out_rad = one ? NAN : out[1];
    s->zeta_rad = out[2];
    s->angle_equivalent_rad = shaft->kind == TRN_TWO_JOINT ? out[3] : one ? out[0] : out[1];
    return status;
}

/* The dimensions that a layout takes, with their names, in the order of its formula. */
typedef struct dimension {
    const char *name;
    size_t offset;
} dimension;

#define OF(member) {#member, offsetof(trn_geometry, member)}
static const dimension hitch_takes[] = {OF(x), OF(z), OF(pitch)};
static const dimension drawbar_takes[] = {OF(x), OF(y), OF(psi)};
static const dimension wing_takes[] = {OF(a), OF(h1), OF(b), OF(h2), OF(tau)};
static const dimension linkage_takes[] = {
    OF(lower_x), OF(lower_z), OF(lower_link), OF(upper_x), OF(upper_z), OF(upper_link),
    OF(mast),    OF(joint_x), OF(joint_z),    OF(input_d), OF(input_e), OF(link_angle)};
#undef OF

typedef struct layout {
    trn_step_id step;
    const dimension *takes;
    size_t count;
    size_t angles; /* place of beta1 among the outputs, after the length */
} layout;

#define ROW(step, takes, angles) {step, takes, sizeof takes / sizeof takes[0], angles}
static const layout layouts[] = {
    [TRN_HITCH] = ROW(TRN_STEP_SHAFT_HITCH, hitch_takes, 1),
    [TRN_DRAWBAR] = ROW(TRN_STEP_SHAFT_DRAWBAR, drawbar_takes, 1),
    [TRN_WING] = ROW(TRN_STEP_SHAFT_WING, wing_takes, 1),
    [TRN_LINKAGE] = ROW(TRN_STEP_SHAFT_LINKAGE, linkage_takes, 2), /* L, pitch, beta1, beta2 */
};
#undef ROW

static double dimension_value(const trn_geometry *g, const dimension *d)
{
    double value = NAN;
    memcpy(&value, (const char *)g + d->offset, sizeof value);
    return value;
}

trn_status trn_geometry_layout(const trn_geometry *g, double *length, double *beta1,
                               double *beta2, trn_trace *trace)
{
    double in[TRN_INPUTS_MAX];
    double out[TRN_OUTPUTS_MAX];
    if (g->layout < TRN_HITCH || g->layout > TRN_LINKAGE)
        return TRN_E_MISSING;
    const layout *l = &layouts[g->layout];
    for (size_t i = 0; i < l->count; i++)
        in[i] = dimension_value(g, &l->takes[i]);
    trn_status status = trn_step(trace, l->step, in, out);
    if (status >= 0) {
        *length = out[0];
        *beta1 = out[l->angles];
        *beta2 = out[l->angles + 1];
    }
    return status;
}

const char *trn_geometry_missing(const trn_geometry *g)
{
    if (g->layout < TRN_HITCH || g->layout > TRN_LINKAGE)
        return "layout";
    for (size_t i = 0; i < layouts[g->layout].count; i++)
        if (isnan(dimension_value(g, &layouts[g->layout].takes[i])))
            return layouts[g->layout].takes[i].name;
    return NULL;
}

void trn_geometry_between(const trn_geometry *a, const trn_geometry *b, double share,
                          trn_geometry *out)
{
    const layout *l = &layouts[a->layout];
    *out = *a;
    for (size_t i = 0; i < l->count; i++) {
        double from = dimension_value(a, &l->takes[i]);
        double to = dimension_value(b, &l->takes[i]);
        double value = (1 - share) * from + share * to;
        memcpy((char *)out + l->takes[i].offset, &value, sizeof value);
    }
}

static trn_status from_dimensions(const trn_machine *m, const trn_geometry *g, trn_setting *s,
                                  trn_trace *trace)
{
    const trn_shaft *shaft = &m->shafts[s->shaft];
    double length = NAN;
    double beta1 = NAN;
    double beta2 = NAN;
    trn_status status = trn_geometry_layout(g, &length, &beta1, &beta2, trace);
    if (status < 0)
        return status;
    double in[] = {fabs(beta1), fabs(beta2), shaft->yoke_error};
    double out[2];
    status = trn_step(trace, TRN_STEP_JOINT_PAIR, in, out);
    if (status < 0)
        return status;
    s->angle_in_rad = in[0];
    s->angle_out_rad = in[1];
    s->zeta_rad = 0;
    /* hitch and linkage: slopes of the tube against each axis, equal signs = Z */
    s->w_shape = (beta1 * beta2 > 0) == (g->layout == TRN_DRAWBAR || g->layout == TRN_WING);
    s->angle_equivalent_rad = shaft->kind == TRN_TWO_JOINT ? out[0] : in[1];
    s->length_m = length;
    return status;
}

/* A measured row wins; the dimensioned one beside it is compared. */
static void compare(const trn_machine *m, trn_setting *s, trn_trace *trace)
{
    const trn_geometry *g = dimension_row(m, s);
    trn_setting other = *s;
    if (!g || from_dimensions(m, g, &other, trace) < 0)
        return;
    double difference = fmax(fabs(other.angle_in_rad - s->angle_in_rad),
                             fabs(other.angle_out_rad - s->angle_out_rad));
    if (difference > 2 * trn_degree)
        trn_remark_add(&s->remarks, TRN_M_OFF_CENTRE, NULL, difference / trn_degree);
    if (fabs(other.length_m - s->length_m) > 0.010)
        trn_remark_add(&s->remarks, TRN_M_OFF_LENGTH, NULL,
                       1000 * fabs(other.length_m - s->length_m));
}

static void fit(const trn_machine *m, trn_setting *s, trn_trace *trace)
{
    const trn_shaft *shaft = &m->shafts[s->shaft];
    s->clearance_m = NAN;
    s->overlap_m = NAN;
    if (isnan(s->length_m) || isnan(shaft->length_closed) || isnan(shaft->overlap_closed))
        return;
    double in[] = {shaft->length_closed, shaft->overlap_closed, s->length_m, s->length_m, NAN,
                   NAN};
    double out[3];
    trn_status status = trn_step(trace, TRN_STEP_SHAFT_FIT, in, out);
    if (status >= 0) {
        s->clearance_m = out[0];
        s->overlap_m = out[1];
    }
}

void trn_setting_evaluate(const trn_machine *m, trn_setting *s, trn_trace *trace)
{
    s->remarks.n = 0;
    s->length_m = NAN;
    s->angle_in_rad = s->angle_out_rad = s->angle_equivalent_rad = s->zeta_rad = NAN;
    trn_trace_scope(trace, "position", s->position, m->shafts[s->shaft].shaft);
    const trn_position *p = measured_row(m, s);
    trn_status status;
    if (p) {
        s->pto_on = p->pto_on == 1;
        s->length_m = p->length;
        status = from_slopes(m, p, s, trace);
        if (status >= 0)
            compare(m, s, trace);
    } else {
        const trn_geometry *g = dimension_row(m, s);
        const char *missing = trn_geometry_missing(g);
        s->pto_on = g->pto_on == 1;
        status = missing ? TRN_E_MISSING : from_dimensions(m, g, s, trace);
        if (missing)
            trn_remark_add(&s->remarks, TRN_M_WITHOUT, missing, 0);
    }
    s->known = status >= 0;
    if (status != TRN_E_MISSING) /* what is missing has been named */
        trn_remark_status(&s->remarks, status);
    fit(m, s, trace);
}
