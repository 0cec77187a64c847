/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which way each axle turns and which bearing its gears push at, in words for a person to
 * compare with the machine. */
#include <string.h>
#include <trunnion/axle.h>

#include "checkup_parts.h"
#include "study.h"

/* Thrust of the gears of an axle along +, N; the largest tooth force beside it. */
static trn_status gear_thrust(const trn_results *r, size_t axle, size_t *gears, double *thrust,
                              double *largest)
{
    const trn_machine *m = r->machine;
    *gears = 0;
    *thrust = *largest = 0;
    for (size_t i = 0; i < m->gears_count; i++) {
        const trn_gear *g = &m->gears[i];
        const trn_gear_row *row = &r->gears[i];
        if (g->axle_index != axle)
            continue;
        if (row->status < 0)
            return row->status;
        trn_axle_mesh mesh = {.kind = (trn_mesh_kind)g->kind,
                              .role = g->driver ? TRN_MESH_DRIVER : TRN_MESH_DRIVEN,
                              .sigma = m->axles[axle].sense,
                              .force = {row->ft_n, row->fr_n, row->fa_n},
                              .apex = g->apex == 1 ? TRN_APEX_MINUS : TRN_APEX_PLUS,
                              .hand = (trn_hand)g->hand,
                              .azimuth_rad = g->azimuth,
                              .station = g->station,
                              .r_m = row->d_m_mm / 2000};
        trn_axle_load load;
        trn_status status = trn_axle_mesh_load(mesh, &load);
        if (status < 0)
            return status;
        *thrust += load.Fx;
        *largest = fmax(*largest, row->ft_n);
        (*gears)++;
    }
    return TRN_OK;
}

static bool takes(const trn_bearing *b, bool plus)
{
    return b->thrust == TRN_THRUST_BOTH || b->thrust == (plus ? TRN_THRUST_PLUS : TRN_THRUST_MINUS);
}

/* `bearing in_rear takes it (5.2 kN with the pair's own thrust)` */
static bool add_bearing(const trn_results *r, const trn_axle *axle, double thrust,
                        trn_buffer *out)
{
    const trn_machine *m = r->machine;
    size_t said = 0;
    for (size_t k = 0; k < 2 && k < axle->bearing_count; k++) {
        const trn_bearing *b = &m->bearings[axle->bearing[k]];
        const trn_load_row *load = &r->loads_mean[axle->bearing[k]];
        if (!load->known || !takes(b, thrust > 0))
            continue;
        trn_buffer_print(out, "%s bearing %s takes it", said ? " and" : ";", b->bearing);
        if (fabs(load->fa_n[0] - fabs(thrust)) > 0.005 * fabs(thrust))
            trn_buffer_print(out, " (%.3g kN with the pair's own thrust)",
                             load->fa_n[0] / 1000);
        said++;
    }
    return said > 0;
}

static void add_turn(const trn_results *r, const trn_axle *axle, trn_buffer *out)
{
    const trn_machine *m = r->machine;
    const char *end = NULL;
    double station = -INFINITY;
    for (size_t i = 0; i < m->bearings_count; i++)
        if (strcmp(m->bearings[i].axle, axle->axle) == 0 && m->bearings[i].station > station) {
            station = m->bearings[i].station;
            end = m->bearings[i].bearing;
        }
    const trn_joint_row *in =
        trn_results_joint(r, 0, m->gearboxes[axle->gearbox_index].shaft_index);
    trn_buffer_print(out, "turns %s seen from its + end",
                     axle->sense < 0 ? "clockwise" : "counter-clockwise");
    if (end && axle->bearing_count > 1)
        trn_buffer_print(out, " (where %s is)", end);
    if (!isnan(in->speed_rpm * axle->ratio))
        trn_buffer_print(out, " at %.4g rpm", in->speed_rpm * axle->ratio);
}

/* Why no bearing load is known, from the remarks of the bearings. */
static void add_reason(const trn_results *r, size_t axle, trn_buffer *out)
{
    const trn_machine *m = r->machine;
    size_t before = out->length;
    for (size_t i = 0; i < m->bearings_count && out->length == before; i++)
        if (m->bearings[i].axle_index == axle)
            trn_remarks_reasons(&r->loads_mean[i].remarks, out);
    if (out->length == before)
        trn_buffer_add(out, m->axles[axle].bearing_count == 0 ? "it has no bearings in bearings.csv"
                                                              : "an input is not known");
}

static void add_axle(const trn_results *r, size_t index, trn_checkup *checkup)
{
    const trn_axle *axle = &r->machine->axles[index];
    trn_buffer text = {0};
    trn_checkup_state state = TRN_CHECKUP_OK;
    size_t gears = 0;
    double thrust = 0;
    double largest = 0;
    if (axle->sense == 0) {
        trn_buffer_add(&text, "which way it turns is not known: give the rotation of one gear of "
                              "its gearbox");
        trn_checkup_add(checkup, TRN_CHECKUP_AXLES, TRN_CHECKUP_MISSING, axle->axle, &text);
        return;
    }
    add_turn(r, axle, &text);
    trn_status status = gear_thrust(r, index, &gears, &thrust, &largest);
    if (status < 0) {
        trn_buffer_print(&text, "; no tooth forces: %s", trn_status_text(status));
        state = TRN_CHECKUP_MISSING;
    } else if (gears > 0 && fabs(thrust) <= 1e-6 * largest) {
        trn_buffer_print(&text, "; its gear%s push%s it neither way", gears > 1 ? "s" : "",
                         gears > 1 ? "" : "es");
    } else if (gears > 0) {
        trn_buffer_print(&text, "; at rated power its gear%s push%s it toward %s with %.3g kN",
                         gears > 1 ? "s" : "", gears > 1 ? "" : "es", thrust > 0 ? "+" : "-",
                         fabs(thrust) / 1000);
        if (!add_bearing(r, axle, thrust, &text)) {
            trn_buffer_add(&text, "; which bearing takes it is not known: ");
            add_reason(r, index, &text);
            state = TRN_CHECKUP_MISSING;
        }
    }
    trn_checkup_add(checkup, TRN_CHECKUP_AXLES, state, axle->axle, &text);
}

void trn_checkup_axles(const trn_results *rated, trn_checkup *checkup)
{
    for (size_t i = 0; i < rated->machine->axles_count; i++)
        add_axle(rated, i, checkup);
}
