/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What happens at the pitch point of each mesh at the oil's temperature: force per width, friction,
 * loss, film. From the mean power, as the heat balance. */
#include <trunnion/film.h>
#include <trunnion/oil.h>

#include "balance_parts.h"
#include "heat_box.h"
#include "study.h"

static const double steel_pa = 206e9;
static const double steel_poisson = 0.3;
static const double rq_of_ground_flank = 1.25; /* Rq over Ra, from memory (lubricant page) */
static const double line_contact = 1e4;        /* Ry over Rx: as good as a cylinder on a plane */

static void film(const trn_balance_mesh *mesh, const trn_balance_pair *p, trn_oil_base base,
                 double nu, double rho, trn_gear_row *row, trn_trace *trace)
{
    double e_red = NAN;
    double alpha = NAN;
    double alpha_in[] = {nu, (double)base};
    if (trn_film_reduced_modulus(steel_pa, steel_poisson, steel_pa, steel_poisson, &e_red) < 0 ||
        trn_step(trace, TRN_STEP_OIL_PRESSURE_VISCOSITY, alpha_in, &alpha) < 0)
        return;
    double normal = p->touch.F_over_b_n_m * p->b_m / cos(mesh->helix_rad);
    double rx = p->touch.rho_red_m;
    double in[] = {nu * rho, p->touch.v_sum_m_s / 2, alpha, e_red, rx, rx * line_contact, normal};
    double h = NAN;
    if (trn_step(trace, TRN_STEP_WEAR_FILM, in, &h) < 0)
        return;
    row->film_um = h * 1e6;
    double lambda_in[] = {h, rq_of_ground_flank * mesh->member[0].Ra_m,
                          rq_of_ground_flank * mesh->member[1].Ra_m};
    double lambda = NAN;
    if (trn_step(trace, TRN_STEP_WEAR_LAMBDA, lambda_in, &lambda) >= 0)
        row->lambda = lambda;
}

static void contact(const trn_balance_mesh *mesh, trn_oil_base base, double nu, double rho,
                    trn_gear_row *row, trn_trace *trace)
{
    trn_balance_pair p;
    if (trn_balance_pair_of(mesh, base, &p) < 0 || !p.loaded)
        return;
    row->f_over_b = p.touch.F_over_b_n_m / 1000;
    double in[] = {p.touch.F_over_b_n_m, p.touch.v_sum_m_s, p.touch.rho_red_m, nu * rho, p.Ra_m,
                   p.X_L};
    double mu = NAN;
    if (trn_step(NULL, TRN_STEP_GEAR_FRICTION, in, &mu) >= 0) {
        row->friction = mu;
        row->mesh_loss_w = mesh->power_w * mu * p.H_v;
    }
    film(mesh, &p, base, nu, rho, row, trace);
}

static void of_gearbox(const trn_machine *m, trn_results *r, size_t condition, size_t gearbox,
                       trn_heat_parts *parts, trn_trace *trace)
{
    const trn_heat_row *heat = &r->heat[condition * m->gearboxes_count + gearbox];
    trn_balance_box box;
    if (isnan(heat->viscosity_mm2s) ||
        trn_heat_box(m, r, condition, gearbox, parts, &box, NULL) < 0)
        return;
    double density[] = {box.rho15_kg_m3, heat->oil_temperature_c + 273.15};
    double rho = NAN;
    if (trn_step(NULL, TRN_STEP_OIL_DENSITY, density, &rho) < 0)
        return;
    trn_trace_scope(trace, "film", m->duty[condition].condition, m->gearboxes[gearbox].gearbox);
    for (size_t i = 0; i < box.mesh_count; i++) {
        size_t first = trn_find_gear(m, parts->meshes[i].name);
        if (first == TRN_NONE)
            continue;
        trn_gear_row *row = &r->gears[condition * m->gears_count + first];
        trn_gear_row *mate = &r->gears[condition * m->gears_count + m->gears[first].mate_index];
        contact(&parts->meshes[i], box.base, heat->viscosity_mm2s * 1e-6, rho, row, trace);
        mate->f_over_b = row->f_over_b;
        mate->friction = row->friction;
        mate->mesh_loss_w = row->mesh_loss_w;
        mate->film_um = row->film_um;
        mate->lambda = row->lambda;
    }
}

void trn_study_contacts(const trn_machine *m, trn_results *r, trn_trace *trace)
{
    trn_heat_parts parts;
    for (size_t i = 0; i < m->duty_count; i++)
        for (size_t g = 0; g < m->gearboxes_count; g++)
            of_gearbox(m, r, i, g, &parts, trace);
}
