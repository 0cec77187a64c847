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

/* Length and joint angles (signed) of a row of dimensions. */
static trn_status dimension_step(const trn_geometry *g, double *length, double *beta1,
                                 double *beta2, trn_trace *trace)
{
    double out[8];
    trn_status status = TRN_E_MISSING;
    size_t first = 0;
    switch (g->layout) {
    case TRN_HITCH: {
        double in[] = {g->x, g->z, g->pitch};
        status = trn_step(trace, TRN_STEP_SHAFT_HITCH, in, out);
        break;
    }
    case TRN_DRAWBAR: {
        double in[] = {g->x, g->y, g->psi};
        status = trn_step(trace, TRN_STEP_SHAFT_DRAWBAR, in, out);
        break;
    }
    case TRN_WING: {
        double in[] = {g->a, g->h1, g->b, g->h2, g->tau};
        status = trn_step(trace, TRN_STEP_SHAFT_WING, in, out);
        break;
    }
    case TRN_LINKAGE: {
        double in[] = {g->lower_x,    g->lower_z, g->lower_link, g->upper_x,
                       g->upper_z,    g->upper_link, g->mast,    g->joint_x,
                       g->joint_z,    g->input_d, g->input_e,    g->link_angle};
        status = trn_step(trace, TRN_STEP_SHAFT_LINKAGE, in, out);
        /* outputs: L, pitch, beta1, beta2, beta_e */
        out[1] = status < 0 ? NAN : out[2];
        out[2] = status < 0 ? NAN : out[3];
        break;
    }
    default:
        break;
    }
    if (status >= 0) {
        *length = out[first];
        *beta1 = out[first + 1];
        *beta2 = out[first + 2];
    }
    return status;
}

static trn_status from_dimensions(const trn_machine *m, const trn_geometry *g, trn_setting *s,
                                  trn_trace *trace)
{
    const trn_shaft *shaft = &m->shafts[s->shaft];
    double length = NAN;
    double beta1 = NAN;
    double beta2 = NAN;
    trn_status status = dimension_step(g, &length, &beta1, &beta2, trace);
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
        s->pto_on = g->pto_on == 1;
        status = from_dimensions(m, g, s, trace);
    }
    s->known = status >= 0;
    trn_remark_status(&s->remarks, status);
    fit(m, s, trace);
}
