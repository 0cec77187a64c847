/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Heat balance of every gearbox in every condition, from the rows of the case. */
#include <trunnion/balance.h>

#include "heat_box.h"
#include "study.h"

/* Room for the parts of one gearbox: on the stack of the caller. */
void trn_heat_box_clear(trn_heat_parts *parts)
{
    parts->meshes_n = parts->bearings_n = parts->seals_n = 0;
}

static double axle_speed(const trn_machine *m, const trn_joint_row *in, size_t axle)
{
    return in->speed_rpm * trn_rpm * m->axles[axle].ratio;
}

static trn_balance_member member(const trn_gear *g)
{
    return (trn_balance_member){
        .z = g->teeth, .b_m = g->face_width, .dip_m = g->dip, .Ra_m = g->roughness};
}

static bool add_meshes(const trn_machine *m, size_t gearbox, const trn_joint_row *in,
                       trn_heat_parts *parts)
{
    for (size_t i = 0; i < m->gears_count; i++) {
        const trn_gear *g = &m->gears[i];
        if (m->axles[g->axle_index].gearbox_index != gearbox || g->mate_index < i)
            continue;
        if (parts->meshes_n == TRN_BALANCE_MESHES_MAX)
            return false;
        const trn_gear *mate = &m->gears[g->mate_index];
        const trn_gear *first = g->driver ? g : mate;
        const trn_gear *second = g->driver ? mate : g;
        double speed = axle_speed(m, in, first->axle_index);
        if (isnan(speed))
            return false;
        parts->meshes[parts->meshes_n++] = (trn_balance_mesh){
            .name = first->gear,
            .bevel = g->kind <= TRN_SPIRAL_BEVEL,
            .member = {member(first), member(second)},
            .module_m = g->module,
            .alpha_rad = g->pressure_angle,
            .helix_rad = g->spiral_angle,
            .shaft_angle_rad = g->shaft_angle,
            .power_w = in->power_w * g->power_share,
            .omega1_rad_s = speed};
    }
    return true;
}

static bool add_bearings(const trn_machine *m, const trn_results *r, size_t condition,
                         size_t gearbox, const trn_joint_row *in, trn_heat_parts *parts)
{
    for (size_t i = 0; i < m->bearings_count; i++) {
        const trn_bearing *b = &m->bearings[i];
        double speed = axle_speed(m, in, b->axle_index);
        if (m->axles[b->axle_index].gearbox_index != gearbox || isnan(speed))
            continue;
        if (parts->bearings_n == TRN_BALANCE_BEARINGS_MAX)
            return false;
        const trn_load_row *load = &r->loads_mean[condition * m->bearings_count + i];
        trn_balance_bearing *out = &parts->bearings[parts->bearings_n++];
        *out = (trn_balance_bearing){.name = b->bearing,
                                     .kind = (trn_friction_kind)b->kind,
                                     .omega_rad_s = speed,
                                     .bore_m = b->bore,
                                     .outside_m = b->outside,
                                     .C0_n = b->C0,
                                     .angle_rad = b->contact_angle};
        for (size_t k = 0; load->known && k < load->cases; k++)
            out->cases[out->case_count++] = (trn_balance_case){
                .Fr_n = load->fr_n, .Fa_n = load->fa_n[k], .share = load->share[k]};
    }
    return true;
}

static bool add_seals(const trn_machine *m, size_t gearbox, const trn_joint_row *in,
                      trn_heat_parts *parts)
{
    for (size_t a = 0; a < m->axles_count; a++) {
        double speed = axle_speed(m, in, a);
        if (m->axles[a].gearbox_index != gearbox || isnan(speed))
            continue;
        for (size_t k = 0; k < m->axles[a].seals.n; k++) {
            if (parts->seals_n == TRN_HEAT_SEALS_MAX)
                return false;
            parts->seals[parts->seals_n++] =
                (trn_balance_seal){.d_m = m->axles[a].seals.v[k], .omega_rad_s = speed};
        }
    }
    return true;
}

/* No gears, or no bearings on an axle with gears: no loss and no balance. */
static bool complete(const trn_machine *m, size_t gearbox)
{
    size_t gears = 0;
    for (size_t i = 0; i < m->gears_count; i++) {
        const trn_axle *axle = &m->axles[m->gears[i].axle_index];
        if (axle->gearbox_index != gearbox)
            continue;
        gears++;
        if (axle->bearing_count == 0)
            return false;
    }
    return gears > 0;
}

/* Viscosity at 40 degC, from the index where only that is given. */
static trn_status oil_line(const trn_oil *oil, double *kv40, trn_trace *trace)
{
    if (!isnan(oil->kv40)) {
        *kv40 = oil->kv40;
        return TRN_OK;
    }
    double in[] = {oil->kv100, oil->index};
    return trn_step(trace, TRN_STEP_OIL_KV40_FROM_INDEX, in, kv40);
}

trn_status trn_oil_kv40(const trn_machine *m, size_t oil, double *kv40, trn_trace *trace)
{
    return oil_line(&m->oils[oil], kv40, trace);
}

trn_status trn_heat_box(const trn_machine *m, const trn_results *r, size_t condition,
                        size_t gearbox, trn_heat_parts *parts, trn_balance_box *box,
                        trn_trace *trace)
{
    const trn_gearbox *g = &m->gearboxes[gearbox];
    const trn_oil *oil = &m->oils[g->oil_index];
    const trn_duty *duty = &m->duty[condition];
    const trn_joint_row *in = trn_results_joint(r, condition, g->shaft_index);
    trn_heat_box_clear(parts);
    if (isnan(in->speed_rpm) || !complete(m, gearbox))
        return TRN_E_UNKNOWN;
    double kv40 = NAN;
    trn_status status = oil_line(oil, &kv40, trace);
    if (status < 0)
        return status;
    if (!add_meshes(m, gearbox, in, parts) ||
        !add_bearings(m, r, condition, gearbox, in, parts) || !add_seals(m, gearbox, in, parts))
        return TRN_E_INPUT;
    *box = (trn_balance_box){.meshes = parts->meshes,
                             .mesh_count = parts->meshes_n,
                             .bearings = parts->bearings,
                             .bearing_count = parts->bearings_n,
                             .seals = parts->seals,
                             .seal_count = parts->seals_n,
                             .base = (trn_oil_base)oil->base,
                             .kv40_m2_s = kv40,
                             .kv100_m2_s = oil->kv100,
                             .rho15_kg_m3 = oil->density15,
                             .V_oil_m3 = g->oil_volume,
                             .area_m2 = g->area,
                             .cooling_factor = r->cooling[gearbox].factor,
                             .surface = trn_balance_surface(),
                             .sun_area_m2 = g->sun_area,
                             .sun_absorption = g->sun_absorption,
                             .sun_w_m2 = duty->sun,
                             .T_air_k = isnan(duty->ambient) ? m->head.ambient : duty->ambient,
                             .mass_kg = g->mass,
                             .power_w = in->power_w,
                             .disc_gap_m = TRN_BALANCE_DISC_GAP_M,
                             .churning_scatter = TRN_BALANCE_CHURNING_SCATTER,
                             .steel_j_kg_k = TRN_BALANCE_STEEL_J_KG_K};
    box->surface.heat_transfer_w_m2k = g->heat_transfer;
    box->surface.air_speed_m_s = g->air_speed;
    box->surface.height_m = g->height;
    box->surface.emissivity = g->emissivity;
    box->surface.residue_m = g->residue;
    return TRN_OK;
}

static void clear_row(trn_heat_row *row, size_t condition, size_t gearbox)
{
    *row = (trn_heat_row){.condition = condition, .gearbox = gearbox, .power_kw = NAN,
                          .cooling_factor = NAN,
                          .mesh_w = NAN, .churning_w = NAN, .churning_low_w = NAN,
                          .churning_high_w = NAN, .bearings_w = NAN, .seals_w = NAN,
                          .sun_w = NAN, .loss_w = NAN, .oil_temperature_c = NAN,
                          .oil_temperature_low_c = NAN, .oil_temperature_high_c = NAN,
                          .viscosity_mm2s = NAN, .efficiency_pct = NAN,
                          .time_constant_min = NAN, .modelled_temperature_c = NAN};
}

/* Viscosity at a measured temperature where there is no balance. */
static void viscosity_alone(const trn_machine *m, size_t gearbox, double t_k, trn_heat_row *row)
{
    const trn_oil *oil = &m->oils[m->gearboxes[gearbox].oil_index];
    double in[] = {NAN, oil->kv100, t_k};
    double out[1];
    if (oil_line(oil, &in[0], NULL) >= 0 && trn_step(NULL, TRN_STEP_OIL_VISCOSITY, in, out) >= 0)
        row->viscosity_mm2s = out[0] * 1e6;
}

static void fill(const trn_balance_result *b, trn_heat_row *row)
{
    row->mesh_w = b->at.mesh_w;
    row->churning_w = b->at.churning_w;
    row->churning_low_w = b->at.churning_low_w;
    row->churning_high_w = b->at.churning_high_w;
    row->bearings_w = b->at.bearings_w;
    row->seals_w = b->at.seals_w;
    row->sun_w = b->sun_w;
    row->loss_w = b->at.loss_w;
    row->oil_temperature_c = b->T_k - 273.15;
    row->oil_temperature_low_c = b->low_k - 273.15;
    row->oil_temperature_high_c = b->high_k - 273.15;
    row->modelled_temperature_c = b->modelled_k - 273.15;
    row->viscosity_mm2s = b->at.nu_m2_s * 1e6;
    row->efficiency_pct = 100 * b->efficiency;
    row->time_constant_min = b->time_constant_s / 60;
    row->warnings = b->warnings;
    row->low_oil = (b->warnings & TRN_BALANCE_BIT(LOW_OIL)) != 0;
}

/* A box in a condition that is being evaluated. */
typedef struct seat {
    const trn_machine *m;
    const trn_results *r;
    size_t condition, gearbox;
    double given; /* measured oil temperature, NaN */
    trn_heat_row *row;
} seat;

static seat begin(const trn_machine *m, trn_results *r, size_t condition, size_t gearbox)
{
    seat s = {m, r, condition, gearbox, trn_oil_given(m, condition),
              &r->heat[condition * m->gearboxes_count + gearbox]};
    const trn_cooling *cooling = &r->cooling[gearbox];
    clear_row(s.row, condition, gearbox);
    s.row->measured = !isnan(s.given);
    s.row->power_kw =
        trn_results_joint(r, condition, m->gearboxes[gearbox].shaft_index)->power_w / 1000;
    s.row->calibrated = cooling->used > 0;
    if (s.row->calibrated)
        s.row->cooling_factor = cooling->factor;
    return s;
}

/* What the readings of the box have to say: of this condition in full, of others the factor. */
static void remark_readings(const seat *s)
{
    const trn_machine *m = s->m;
    const trn_cooling *cooling = &s->r->cooling[s->gearbox];
    for (size_t i = 0; i < m->readings_count; i++) {
        const trn_reading_row *read = &s->r->readings[i];
        if (m->readings[i].gearbox_index != s->gearbox ||
            !trn_alternating(m, m->readings[i].duty_index, s->condition))
            continue;
        s->row->read = s->row->read || read->used;
        trn_remarks_join(&s->row->remarks, &read->remarks);
    }
    if (cooling->used > 0)
        trn_remark_add2(&s->row->remarks, TRN_M_READ, NULL, cooling->factor,
                        (double)cooling->used);
    if (cooling->disagree)
        trn_remark_status(&s->row->remarks, TRN_R_HEAT_DISAGREE);
    if (trn_alternates_of(m, s->condition) > 1)
        trn_remark_add(&s->row->remarks, TRN_M_SHARED, m->duty[s->condition].alternates_with, 0);
}

static void finish(const seat *s, trn_status status, const trn_balance_result *result)
{
    const trn_machine *m = s->m;
    trn_heat_row *row = s->row;
    if (status >= 0)
        fill(result, row);
    if (row->measured) {
        bool own = !isnan(m->duty[s->condition].oil_temperature);
        trn_remark_add(&row->remarks, TRN_M_MEASURED, NULL, 0);
        if (!own)
            trn_remark_add(&row->remarks, TRN_M_MEASURED_IN_GROUP, NULL, 0);
        row->oil_temperature_c = s->given - 273.15;
        if (isnan(row->viscosity_mm2s))
            viscosity_alone(m, s->gearbox, s->given, row);
    }
    if (status == TRN_E_UNKNOWN)
        trn_remark_add(&row->remarks, complete(m, s->gearbox) ? TRN_M_NO_AREA : TRN_M_NO_GEARS,
                       NULL, 0);
    else if (status < 0)
        trn_remark_status(&row->remarks, status);
    else if (isnan(m->gearboxes[s->gearbox].area)) {
        row->sun_w = NAN; /* how much of it reaches the oil is not known */
        trn_remark_add(&row->remarks, TRN_M_NO_AREA, NULL, 0);
    }
    if (status >= 0)
        for (size_t i = 0; i < TRN_BALANCE_WARNINGS; i++)
            if (result->warnings & (1u << i))
                trn_remark_add(&row->remarks, TRN_M_TEXT, trn_balance_warning_text(i), 0);
    remark_readings(s);
}

static void evaluate(const trn_machine *m, trn_results *r, size_t condition, size_t gearbox,
                     unsigned wanted, trn_trace *trace)
{
    seat s = begin(m, r, condition, gearbox);
    trn_trace_scope(trace, "heat", m->duty[condition].condition, m->gearboxes[gearbox].gearbox);
    trn_heat_parts parts;
    trn_balance_box box;
    trn_balance_result result;
    trn_status status = trn_heat_box(m, r, condition, gearbox, &parts, &box, trace);
    if (status >= 0)
        status = trn_balance_solve(&box, s.given, wanted, trace, &result);
    finish(&s, status, &result);
}

/* ---- conditions that alternate -------------------------------------------------------------- */

static trn_status member_result(const seat *s, const trn_balance_shared *shared,
                                trn_trace *trace, trn_balance_result *result)
{
    trn_heat_parts parts;
    trn_balance_box box;
    trn_balance_ready ready;
    trn_trace_scope(trace, "heat", s->m->duty[s->condition].condition,
                    s->m->gearboxes[s->gearbox].gearbox);
    trn_status status =
        trn_heat_box(s->m, s->r, s->condition, s->gearbox, &parts, &box, trace);
    if (status >= 0)
        status = trn_balance_prepare(&box, &ready);
    if (status < 0)
        return status;
    if (isnan(s->given) && isnan(ready.area_m2))
        return TRN_E_UNKNOWN;
    return trn_balance_member_of(&box, &ready, shared, s->given, trace, result);
}

/* The sums from which the shared temperature follows, after the losses of all conditions. */
static void note_shared(const seat *s, const trn_balance_shared *shared, trn_trace *trace)
{
    const trn_machine *m = s->m;
    struct {
        trn_balance_law law;
        double T_k;
        const char *variant;
    } all[] = {
        {TRN_BALANCE_CENTRAL, shared->modelled_k, isnan(s->given) ? NULL : "model"},
        {TRN_BALANCE_LOW, shared->low_k, "low"},
        {TRN_BALANCE_HIGH, shared->high_k, "high"},
    };
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        double out[TRN_OUTPUTS_MAX];
        if (isnan(all[i].T_k))
            continue;
        trn_trace_variant(trace, all[i].variant);
        trn_heat_shared sum =
            trn_heat_note_together(m, s->condition, s->gearbox, s->r->room, all[i].law, all[i].T_k,
                                   s->r->cooling[s->gearbox].factor, trace);
        (void)trn_step(trace, TRN_STEP_HEAT_SHARED_TEMPERATURE,
                       (double[]){sum.heat_w, sum.transfer_w_k, sum.T_air_k}, out);
        trn_heat_parts parts;
        trn_balance_box box;
        if (i == 0 && shared->time_constant_s > 0 &&
            trn_heat_box(m, s->r, s->condition, s->gearbox, &parts, &box, NULL) >= 0)
            trn_balance_note_time(&box, shared->capacity_j_k / shared->time_constant_s, trace);
        trn_trace_variant(trace, NULL);
    }
}

static void evaluate_group(const trn_machine *m, trn_results *r, size_t first, size_t gearbox,
                           unsigned wanted, trn_trace *trace)
{
    trn_balance_shared shared = trn_balance_no_share;
    trn_status status = trn_heat_together(m, r, first, gearbox, &trn_heat_as_is, r->room);
    if (status >= 0 && !isnan(r->room->ready[0].area_m2)) {
        status = trn_balance_share(r->room->ready, r->room->weight, r->room->n, wanted,
                                   &shared);
        shared.together = true;
    }
    for (size_t k = first; k < m->duty_count; k++) {
        if (!trn_alternating(m, first, k))
            continue;
        seat s = begin(m, r, k, gearbox);
        trn_balance_result result;
        trn_status own = status < 0 ? status : member_result(&s, &shared, trace, &result);
        finish(&s, own, &result);
    }
    seat s = {.m = m, .r = r, .condition = first, .gearbox = gearbox,
              .given = trn_oil_given(m, first)};
    if (trace && status >= 0)
        note_shared(&s, &shared, trace);
}

/* The first of its group, which stands for all of them? */
static bool leads(const trn_machine *m, size_t condition)
{
    for (size_t k = 0; k < condition; k++)
        if (trn_alternating(m, k, condition))
            return false;
    return true;
}

void trn_study_heat(const trn_machine *m, trn_results *r, bool lean, trn_trace *trace)
{
    unsigned wanted = lean ? 0 : TRN_BALANCE_WANT_ALL;
    trn_study_cooling(m, r, trace);
    for (size_t i = 0; i < m->duty_count; i++) {
        bool group = trn_alternates_of(m, i) > 1;
        if (!leads(m, i))
            continue;
        for (size_t g = 0; g < m->gearboxes_count; g++)
            if (group)
                evaluate_group(m, r, i, g, wanted, trace);
            else
                evaluate(m, r, i, g, wanted, trace);
    }
}
