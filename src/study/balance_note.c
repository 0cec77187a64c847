/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The heat balance as a person would work it: its steps at the temperature found, noted. */
#include <math.h>

#include "balance_parts.h"

enum { SUM_PARTS = 16 };

/* Losses of one kind, to be added up. */
typedef struct tally {
    double loss[TRN_BALANCE_MESHES_MAX * 4 + TRN_BALANCE_BEARINGS_MAX];
    size_t n;
} tally;

typedef struct scribe {
    const trn_balance_box *box;
    const trn_balance_result *result;
    trn_trace *trace;
    const char *object; /* of the gearbox */
    trn_balance_law law;
    tally *mesh, *churning, *iso, *bearings, *seals;
} scribe;

static void at(const scribe *s, const char *stage, const char *name)
{
    trn_trace_scope(s->trace, stage, s->trace->condition, name ? name : s->object);
}

static void call(const scribe *s, trn_step_id id, const double *in, double *out)
{
    (void)trn_step(s->trace, id, in, out); /* the same numbers were computed before */
}

static void tell(tally *t, double loss)
{
    if (t->n < sizeof t->loss / sizeof t->loss[0])
        t->loss[t->n++] = loss;
}

/* Nothing is to be added where there is one loss. */
static void add_up(const scribe *s, const tally *t)
{
    double whole = NAN;
    for (size_t i = 0; t->n > 1 && i < t->n;) {
        double in[SUM_PARTS];
        size_t k = 0;
        if (!isnan(whole))
            in[k++] = whole;
        while (k < SUM_PARTS && i < t->n)
            in[k++] = t->loss[i++];
        while (k < SUM_PARTS)
            in[k++] = NAN;
        call(s, TRN_STEP_LOSS_SUM, in, &whole);
    }
}

static void note_oil(const scribe *s)
{
    const trn_balance_box *b = s->box;
    double out[1];
    at(s, "heat", NULL);
    call(s, TRN_STEP_OIL_VISCOSITY, (const double[]){b->kv40_m2_s, b->kv100_m2_s, s->result->T_k},
         out);
    call(s, TRN_STEP_OIL_DENSITY, (const double[]){b->rho15_kg_m3, s->result->T_k}, out);
    call(s, TRN_STEP_OIL_DYNAMIC_VISCOSITY,
         (const double[]){s->result->at.nu_m2_s, s->result->at.rho_kg_m3}, out);
}

static void note_shape(const scribe *s, const trn_balance_mesh *m, const trn_balance_pair *p)
{
    double out[TRN_OUTPUTS_MAX];
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
}

static void note_mesh(const scribe *s, const trn_balance_mesh *m, const trn_balance_pair *p)
{
    double out[TRN_OUTPUTS_MAX];
    call(s, TRN_STEP_POWER_SHARE, (const double[]){s->box->power_w, m->power_w / s->box->power_w},
         out);
    call(s, TRN_STEP_SHAFT_TORQUE, (const double[]){m->power_w, m->omega1_rad_s}, out);
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
    tell(s->mesh, out[0]);
}

static void note_gear(const scribe *s, const trn_balance_mesh *m, const trn_balance_pair *p,
                      size_t member)
{
    const trn_balance_gear *g = &p->gear[member];
    const trn_balance_loss *l = &s->result->at;
    double out[TRN_OUTPUTS_MAX];
    if (!g->in_oil)
        return;
    call(s, TRN_STEP_GEAR_DIAMETER,
         (const double[]){m->member[member].z, m->module_m, m->bevel ? 0 : m->helix_rad}, out);
    call(s, TRN_STEP_GEAR_LEVEL,
         (const double[]){2 * g->R_m, m->module_m, g->delta_rad, m->member[member].dip_m}, out);
    if (g->under_oil) {
        call(s, TRN_STEP_LOSS_DISC,
             (const double[]){g->D_m / 2, s->box->disc_gap_m, g->omega_rad_s, l->nu_m2_s,
                              l->rho_kg_m3},
             out);
        tell(s->churning, out[4]);
    } else {
        trn_churning_gear c = trn_balance_churning_gear(s->box, m, p, member);
        call(s, TRN_STEP_LOSS_CHURNING,
             (const double[]){c.R_m, c.b_m, c.m_m, c.z, c.h_m, c.V_oil_m3, l->rho_kg_m3, l->nu_m2_s,
                              c.n_rad_s, c.alpha_rad, c.beta_rad},
             out);
        tell(s->churning, out[5]);
    }
    call(s, TRN_STEP_LOSS_CHURNING_ISO,
         (const double[]){l->nu_m2_s, g->omega_rad_s, g->D_m, m->member[member].b_m, g->m_t_m,
                          m->helix_rad, g->dip},
         out);
    tell(s->iso, out[0]);
    tell(s->iso, out[1]);
}

static void note_bearing(const scribe *s, const trn_balance_bearing *b)
{
    double dm = (b->bore_m + b->outside_m) / 2;
    double nu = s->result->at.nu_m2_s;
    double moments[3] = {0, 0, 0};
    at(s, "heat bearing", b->name);
    if (!trn_balance_load_known(b)) {
        call(s, TRN_STEP_BEARING_FRICTION,
             (const double[]){trn_bearing_friction_f0(b->kind), 0, nu, b->omega_rad_s, dm, 0},
             moments);
        tell(s->bearings, moments[2]);
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
        call(s, TRN_STEP_LOSS_CASES, in, &moments[2]);
    tell(s->bearings, moments[2]);
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

/* The balance solved for the temperature; how fast it is reached. */
static void note_balance(const scribe *s, double loss_w)
{
    const trn_balance_result *r = s->result;
    const trn_balance_box *b = s->box;
    double out[TRN_OUTPUTS_MAX];
    if (isnan(b->area_m2) || !(r->path.k_w_m2k > 0))
        return;
    if (s->law == TRN_BALANCE_CENTRAL && r->T_k != r->modelled_k)
        return; /* a measured temperature: it balances nothing */
    double k = r->path.k_w_m2k;
    if (b->cooling_factor > 0)
        call(s, TRN_STEP_HEAT_READ_TRANSFER, (const double[]){k, b->cooling_factor}, &k);
    if (r->together)
        return; /* several conditions give it: heat_together.c */
    call(s, TRN_STEP_HEAT_TEMPERATURE,
         (const double[]){loss_w, r->sun_w, k, b->area_m2, b->T_air_k}, out);
    if (s->law != TRN_BALANCE_CENTRAL || !(r->time_constant_s > 0))
        return;
    trn_balance_note_time(b, r->capacity_j_k / r->time_constant_s, s->trace);
}

void trn_balance_note_time(const trn_balance_box *b, double slope, trn_trace *trace)
{
    double out[TRN_OUTPUTS_MAX];
    double cp = NAN;
    (void)trn_step(trace, TRN_STEP_OIL_HEAT_CAPACITY, (const double[]){b->rho15_kg_m3, 333.15},
                   &cp);
    (void)trn_step(trace, TRN_STEP_HEAT_TIME_CONSTANT,
                   (const double[]){b->mass_kg, b->steel_j_kg_k, b->V_oil_m3, b->rho15_kg_m3, cp,
                                    slope},
                   out);
}

static void note_sums(const scribe *s)
{
    const trn_balance_loss *l = &s->result->at;
    double churning = l->churning_w;
    double band[2] = {NAN, NAN};
    double out[TRN_OUTPUTS_MAX] = {NAN};
    at(s, "heat", NULL);
    add_up(s, s->mesh);
    add_up(s, s->churning);
    add_up(s, s->iso);
    add_up(s, s->bearings);
    add_up(s, s->seals);
    call(s, TRN_STEP_LOSS_CHURNING_BAND,
         (const double[]){l->churning_w, l->churning_iso_w, s->box->churning_scatter}, band);
    if (s->law != TRN_BALANCE_CENTRAL)
        churning = band[s->law == TRN_BALANCE_HIGH];
    call(s, TRN_STEP_HEAT_LOSSES,
         (const double[]){l->mesh_w, churning, l->bearings_w, l->seals_w, s->box->power_w}, out);
    note_surface(s);
    note_balance(s, out[0]);
}

static void note_at(const trn_balance_box *box, const trn_balance_result *result,
                    trn_balance_law law, trn_trace *trace)
{
    tally mesh = {.n = 0};
    tally churning = {.n = 0};
    tally iso = {.n = 0};
    tally bearings = {.n = 0};
    tally seals = {.n = 0};
    scribe s = {box, result, trace, trace->object, law, &mesh, &churning, &iso, &bearings, &seals};
    double out[TRN_OUTPUTS_MAX] = {NAN};
    note_oil(&s);
    for (size_t i = 0; i < box->mesh_count; i++) {
        trn_balance_pair pair;
        if (trn_balance_pair_of(&box->meshes[i], box->base, &pair) < 0)
            continue;
        at(&s, "heat mesh", box->meshes[i].name);
        note_shape(&s, &box->meshes[i], &pair);
        if (pair.loaded)
            note_mesh(&s, &box->meshes[i], &pair);
        for (size_t g = 0; g < 2; g++) {
            at(&s, g ? "heat driven" : "heat driver", box->meshes[i].name);
            note_gear(&s, &box->meshes[i], &pair, g);
        }
    }
    for (size_t i = 0; i < box->bearing_count; i++)
        note_bearing(&s, &box->bearings[i]);
    at(&s, "heat", NULL);
    for (size_t i = 0; i < box->seal_count; i++) {
        call(&s, TRN_STEP_LOSS_SEAL,
             (const double[]){box->seals[i].d_m, box->seals[i].omega_rad_s, NAN, NAN}, out);
        tell(&seals, out[0]);
    }
    note_sums(&s);
    trn_trace_scope(trace, "heat", trace->condition, s.object);
}

/* Once more at another temperature of the balance: its model's, or with another churning law. */
static void note_again(const trn_balance_box *box, const trn_balance_ready *ready,
                       const trn_balance_result *result, trn_balance_law law, double T_k,
                       const char *variant, trn_trace *trace)
{
    trn_balance_result other = *result;
    other.T_k = T_k;
    if (isnan(T_k) || trn_balance_loss_at(ready, T_k, &other.at) < 0 ||
        trn_heat_wall(&ready->surface, T_k, ready->T_air_k, &other.path) < 0)
        return;
    other.sun_w = trn_balance_sun(ready, &other.path);
    trn_trace_variant(trace, variant);
    note_at(box, &other, law, trace);
    trn_trace_variant(trace, NULL);
}

void trn_balance_note_reading(const trn_balance_box *box, const trn_balance_ready *ready,
                              double T_k, const char *variant, trn_trace *trace)
{
    trn_balance_result r = {.T_k = T_k, .modelled_k = NAN, .time_constant_s = NAN};
    note_again(box, ready, &r, TRN_BALANCE_CENTRAL, T_k, variant, trace);
}

void trn_balance_note(const trn_balance_box *box, const trn_balance_ready *ready,
                      const trn_balance_result *result, trn_trace *trace)
{
    note_at(box, result, TRN_BALANCE_CENTRAL, trace);
    if (result->T_k != result->modelled_k)
        note_again(box, ready, result, TRN_BALANCE_CENTRAL, result->modelled_k, "model", trace);
    note_again(box, ready, result, TRN_BALANCE_LOW, result->low_k, "low", trace);
    note_again(box, ready, result, TRN_BALANCE_HIGH, result->high_k, "high", trace);
}
