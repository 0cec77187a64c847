/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The heat balance as a person would work it: its steps at the temperature found, noted. */
#include <math.h>

#include "balance_parts.h"

typedef struct scribe {
    const trn_balance_box *box;
    const trn_balance_result *result;
    trn_trace *trace;
    const char *object; /* of the gearbox */
} scribe;

static void at(const scribe *s, const char *name)
{
    trn_trace_scope(s->trace, s->trace->stage, s->trace->condition, name ? name : s->object);
}

static void call(const scribe *s, trn_step_id id, const double *in, double *out)
{
    (void)trn_step(s->trace, id, in, out); /* the same numbers were computed before */
}

static void note_oil(const scribe *s)
{
    const trn_balance_box *b = s->box;
    double out[1];
    at(s, NULL);
    call(s, TRN_STEP_OIL_VISCOSITY, (const double[]){b->kv40_m2_s, b->kv100_m2_s, s->result->T_k},
         out);
    call(s, TRN_STEP_OIL_DENSITY, (const double[]){b->rho15_kg_m3, s->result->T_k}, out);
}

static void note_mesh(const scribe *s, const trn_balance_mesh *m, const trn_balance_pair *p)
{
    double out[TRN_OUTPUTS_MAX];
    at(s, m->name);
    if (m->bevel)
        call(s, TRN_STEP_GEAR_BEVEL_VIRTUAL,
             (const double[]){m->member[0].z, m->member[1].z, m->module_m, p->b_m, m->alpha_rad,
                              m->shaft_angle_rad, m->helix_rad},
             out);
    else
        call(s, TRN_STEP_GEAR_LOSS_FACTOR,
             (const double[]){m->member[0].z, m->member[1].z, m->module_m, m->alpha_rad,
                              m->helix_rad, p->a_m, p->d_a1_m, p->d_a2_m},
             out);
    call(s, TRN_STEP_GEAR_CONTACT,
         (const double[]){p->T1_nm, m->omega1_rad_s, p->d1_m, p->b_m, p->d_v1_m, p->d_v2_m,
                          m->alpha_rad, m->helix_rad},
         out);
    double mu = NAN;
    double eta = s->result->at.nu_m2_s * s->result->at.rho_kg_m3;
    call(s, TRN_STEP_GEAR_FRICTION,
         (const double[]){p->touch.F_over_b_n_m, p->touch.v_sum_m_s, p->touch.rho_red_m, eta,
                          p->Ra_m, p->X_L},
         &mu);
    call(s, TRN_STEP_LOSS_MESH, (const double[]){m->power_w, mu, p->H_v}, out);
}

static void note_gear(const scribe *s, const trn_balance_mesh *m, const trn_balance_pair *p,
                      size_t member)
{
    const trn_balance_gear *g = &p->gear[member];
    const trn_balance_loss *l = &s->result->at;
    double out[TRN_OUTPUTS_MAX];
    if (!g->in_oil)
        return;
    if (g->under_oil) {
        call(s, TRN_STEP_LOSS_DISC,
             (const double[]){g->D_m / 2, s->box->disc_gap_m, g->omega_rad_s, l->nu_m2_s,
                              l->rho_kg_m3},
             out);
    } else {
        trn_churning_gear c = trn_balance_churning_gear(s->box, m, p, member);
        call(s, TRN_STEP_LOSS_CHURNING,
             (const double[]){c.R_m, c.b_m, c.m_m, c.z, c.h_m, c.V_oil_m3, l->rho_kg_m3, l->nu_m2_s,
                              c.n_rad_s, c.alpha_rad, c.beta_rad},
             out);
    }
    call(s, TRN_STEP_LOSS_CHURNING_ISO,
         (const double[]){l->nu_m2_s, g->omega_rad_s, g->D_m, m->member[member].b_m, g->m_t_m,
                          m->helix_rad, g->dip},
         out);
}

static void note_bearing(const scribe *s, const trn_balance_bearing *b)
{
    double dm = (b->bore_m + b->outside_m) / 2;
    double nu = s->result->at.nu_m2_s;
    double moments[3];
    at(s, b->name);
    if (!trn_balance_load_known(b)) {
        call(s, TRN_STEP_BEARING_FRICTION,
             (const double[]){trn_bearing_friction_f0(b->kind), 0, nu, b->omega_rad_s, dm, 0},
             moments);
        return;
    }
    double in[2 * TRN_BALANCE_CASES_MAX];
    for (size_t i = 0; i < TRN_BALANCE_CASES_MAX; i++)
        in[2 * i] = in[2 * i + 1] = NAN;
    for (size_t i = 0; i < b->case_count; i++) {
        double f[3] = {NAN, NAN, NAN};
        call(s, TRN_STEP_BEARING_FRICTION_VALUES,
             (const double[]){(double)b->kind, b->cases[i].Fr_n, b->cases[i].Fa_n, b->C0_n,
                              b->angle_rad},
             f);
        call(s, TRN_STEP_BEARING_FRICTION,
             (const double[]){f[0], f[1], nu, b->omega_rad_s, dm, f[2]}, moments);
        in[2 * i] = moments[2];
        in[2 * i + 1] = b->cases[i].share;
    }
    if (b->case_count > 1)
        call(s, TRN_STEP_LOSS_CASES, in, moments);
}

static void note_surface(const scribe *s)
{
    const trn_heat_surface *w = &s->box->surface;
    const trn_heat_path *path = &s->result->path;
    double T_s = path->T_surface_k;
    double T_air = s->box->T_air_k;
    double out[TRN_OUTPUTS_MAX];
    if (isnan(w->heat_transfer_w_m2k)) {
        call(s, TRN_STEP_HEAT_FREE_CONVECTION, (const double[]){w->height_m, T_s, T_air, NAN}, out);
        call(s, TRN_STEP_HEAT_FORCED_CONVECTION,
             (const double[]){w->height_m, w->air_speed_m_s, T_s, T_air, NAN}, out);
        call(s, TRN_STEP_HEAT_RADIATION, (const double[]){w->emissivity, T_s, T_air}, out);
    } else if (w->residue_m > 0) {
        call(s, TRN_STEP_HEAT_LAYERED,
             (const double[]){w->heat_transfer_w_m2k, w->residue_m, w->residue_w_mk}, out);
    }
    call(s, TRN_STEP_HEAT_WALL,
         (const double[]){s->result->T_k, T_air, w->heat_transfer_w_m2k, w->air_speed_m_s,
                          w->height_m, w->emissivity, w->residue_m, w->residue_w_mk, w->film_w_m2k,
                          w->wall_m, w->wall_w_mk},
         out);
    if (s->box->sun_area_m2 > 0)
        call(s, TRN_STEP_HEAT_SUN,
             (const double[]){s->box->sun_absorption, s->box->sun_w_m2, s->box->sun_area_m2,
                              path->k_w_m2k, path->alpha_out_w_m2k},
             out);
}

static void note_sums(const scribe *s)
{
    const trn_balance_result *r = s->result;
    const trn_balance_loss *l = &r->at;
    double out[TRN_OUTPUTS_MAX];
    at(s, NULL);
    call(s, TRN_STEP_LOSS_CHURNING_BAND,
         (const double[]){l->churning_w, l->churning_iso_w, s->box->churning_scatter}, out);
    call(s, TRN_STEP_HEAT_LOSSES,
         (const double[]){l->mesh_w, l->churning_w, l->bearings_w, l->seals_w, s->box->power_w},
         out);
    note_surface(s);
    if (!isnan(s->box->area_m2))
        call(s, TRN_STEP_HEAT_BALANCE,
             (const double[]){l->loss_w, r->sun_w, r->path.k_w_m2k, s->box->area_m2, r->T_k,
                              s->box->T_air_k},
             out);
}

void trn_balance_note(const trn_balance_box *box, const trn_balance_result *result,
                      trn_trace *trace)
{
    scribe s = {box, result, trace, trace->object};
    double out[TRN_OUTPUTS_MAX];
    note_oil(&s);
    for (size_t i = 0; i < box->mesh_count; i++) {
        trn_balance_pair pair;
        if (trn_balance_pair_of(&box->meshes[i], box->base, &pair) < 0)
            continue;
        if (pair.loaded)
            note_mesh(&s, &box->meshes[i], &pair);
        for (size_t g = 0; g < 2; g++) {
            at(&s, box->meshes[i].name);
            note_gear(&s, &box->meshes[i], &pair, g);
        }
    }
    for (size_t i = 0; i < box->bearing_count; i++)
        note_bearing(&s, &box->bearings[i]);
    at(&s, NULL);
    for (size_t i = 0; i < box->seal_count; i++)
        call(&s, TRN_STEP_LOSS_SEAL,
             (const double[]){box->seals[i].d_m, box->seals[i].omega_rad_s, NAN, NAN}, out);
    note_sums(&s);
}
