/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A row of points.csv and the duty as the interval model takes them. */
#include "service_points.h"

#include <trunnion/balance.h>
#include <trunnion/bearing.h>

#include "calibration.h"
#include "cleanliness.h"
#include "heat_box.h"
#include "study.h"

static const double freezing_k = 273.15;

static void references(const trn_machine *m, const trn_point *p, trn_service_point *sp)
{
    sp->name = p->point;
    sp->task = (trn_task)p->task;
    sp->manual_h = p->manual_interval;
    sp->ref_dust_mg_m3 = p->ref_dust * 1e6;
    sp->ref_shock = p->ref_shock;
    sp->ref_temperature_c = p->ref_temperature - freezing_k;
    sp->ref_load = p->ref_load;
    sp->ref_angle_deg = p->ref_angle / trn_degree;
    sp->ref_speed_rpm = p->ref_speed / trn_rpm;
    if (isnan(sp->ref_speed_rpm) && p->shaft_index != TRN_NONE)
        sp->ref_speed_rpm = m->head.pto_speed * m->shafts[p->shaft_index].speed_ratio / trn_rpm;
}

static void oil_of(const trn_machine *m, size_t oil, trn_service_point *sp)
{
    const trn_oil *o = &m->oils[oil];
    trn_ageing_base base = o->base == 1 || o->base == 3 ? TRN_AGEING_SYNTHETIC
                                                        : TRN_AGEING_MINERAL;
    trn_ageing_anchor(sp, base, o->ageing_life, o->ageing_temperature - freezing_k);
}

void trn_service_point_of(const trn_machine *m, const trn_results *r, size_t point,
                          trn_service_point *sp)
{
    const trn_point *p = &m->points[point];
    trn_service_point_clear(sp);
    references(m, p, sp);
    sp->at_oil_temperature = p->bearing_index != TRN_NONE;
    sp->point_c = p->temperature - freezing_k;
    if (p->grease_index != TRN_NONE)
        sp->grease_limit_c = m->greases[p->grease_index].limit - freezing_k;
    if (p->gearbox_index == TRN_NONE) {
        if (p->oil_index != TRN_NONE)
            oil_of(m, p->oil_index, sp);
        return;
    }
    const trn_gearbox *g = &m->gearboxes[p->gearbox_index];
    sp->oil_kg = trn_oil_mass(m, p->gearbox_index);
    sp->oil_l = g->oil_volume * 1000;
    sp->headspace_l = g->headspace * 1000;
    sp->residual = g->residual_oil;
    sp->dust_margin = g->dust_margin;
    sp->intake_l_h = g->dust_intake * 1000 * 3600;
    sp->level_margin_l = g->level_margin * 1000;
    oil_of(m, g->oil_index, sp);
    trn_calibrate_point(&r->calibrations[p->gearbox_index], sp);
}

/* Oil temperature that the point sees, degC; false where the balance has no root. */
static bool oil_temperature(const trn_machine *m, const trn_results *r, size_t condition,
                            size_t gearbox, trn_duty_state *s)
{
    const trn_duty *d = &m->duty[condition];
    double given = trn_oil_given(m, condition);
    s->oil_measured = !isnan(given);
    s->oil_c = given - freezing_k;
    if (gearbox == TRN_NONE)
        return true;
    const trn_heat_row *heat = &r->heat[condition * m->gearboxes_count + gearbox];
    s->oil_c = heat->oil_temperature_c;
    s->oil_read = heat->read;
    s->oil_calibrated = heat->calibrated;
    return s->oil_measured || !(heat->warnings & TRN_BALANCE_BIT(NO_BALANCE)) || d->share == 0;
}

static void shaft_state(const trn_machine *m, const trn_results *r, size_t condition,
                        size_t shaft, trn_duty_state *s)
{
    const trn_joint_row *row = trn_results_joint(r, condition, shaft);
    s->speed_rpm = row->speed_rpm;
    s->angle_deg = row->cross_angle_rad / trn_degree;
    s->load_pc = row->cross_load_n / m->shafts[shaft].cross_rating;
    if (row->torque_nm == 0 && !isnan(m->shafts[shaft].cross_rating))
        s->load_pc = 0;
}

bool trn_duty_states_of(const trn_machine *m, const trn_results *r, size_t point,
                        trn_duty_state *states)
{
    const trn_point *p = &m->points[point];
    size_t gearbox = p->gearbox_index;
    if (p->bearing_index != TRN_NONE)
        gearbox = m->axles[m->bearings[p->bearing_index].axle_index].gearbox_index;
    bool balanced = true;
    for (size_t i = 0; i < m->duty_count; i++) {
        const trn_duty *d = &m->duty[i];
        trn_duty_state *s = &states[i];
        trn_duty_state_clear(s);
        s->condition = d->condition;
        s->share = d->share;
        s->dust_mg_m3 = trn_duty_dust(d) * 1e6;
        balanced = oil_temperature(m, r, i, gearbox, s) && balanced;
        s->ambient_c = (isnan(d->ambient) ? m->head.ambient : d->ambient) - freezing_k;
        s->humidity_pct = 100 * d->humidity;
        s->starts_per_100h = d->starts_per_100h;
        s->washes_per_100h = d->washes_per_100h;
        s->wash_water_ml = d->wash_water * 1e6;
        s->load_ratio = d->power / m->head.rated_power;
        s->shock = d->shock;
        if (p->shaft_index != TRN_NONE)
            shaft_state(m, r, i, p->shaft_index, s);
        if (p->bearing_index != TRN_NONE)
            s->load_pc = r->bearings[i * m->bearings_count + p->bearing_index].p_mean_n /
                         m->bearings[p->bearing_index].C;
    }
    return balanced;
}
