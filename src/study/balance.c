/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Heat balance of one gearbox in one condition. */
#include <gsl/gsl_math.h>
#include <math.h>

#include "balance_parts.h"

static const char *const warning_texts[] = {
#define TRN_X(name, text) text,
    TRN_BALANCE_WARNING_LIST(TRN_X)
#undef TRN_X
};

const char *trn_balance_warning_text(size_t place)
{
    return place < TRN_BALANCE_WARNINGS ? warning_texts[place] : "";
}

trn_heat_surface trn_balance_surface(void)
{
    return (trn_heat_surface){.heat_transfer_w_m2k = NAN,
                              .air_speed_m_s = 1.4,
                              .height_m = 0.3,
                              .emissivity = 0.9,
                              .residue_m = 0,
                              .residue_w_mk = TRN_HEAT_RESIDUE_W_MK,
                              .film_w_m2k = TRN_HEAT_OIL_FILM_W_M2K,
                              .wall_m = TRN_HEAT_WALL_MM * 1e-3,
                              .wall_w_mk = TRN_HEAT_WALL_W_MK};
}

static bool positive(double x)
{
    return x > 0 && isfinite(x);
}

static bool not_negative(double x)
{
    return x >= 0 && isfinite(x);
}

/* ---- preparation -------------------------------------------------------------------------- */

static trn_status prepare_gear(const trn_balance_box *box, const trn_balance_mesh *mesh,
                               const trn_balance_pair *pair, size_t member,
                               trn_balance_ready *ready)
{
    const trn_balance_gear *gear = &pair->gear[member];
    if (!gear->in_oil)
        return TRN_OK;
    double tooth = 0;
    double sides = 0;
    trn_status status =
        trn_loss_churning_iso(1e-6, gear->omega_rad_s, gear->D_m, mesh->member[member].b_m,
                              gear->m_t_m, mesh->helix_rad, gear->dip, &tooth, &sides);
    if (status < 0)
        return status;
    ready->iso += tooth + sides;
    if (gear->under_oil) {
        ready->disc[ready->disc_count].R_m = gear->D_m / 2;
        ready->disc[ready->disc_count++].omega_rad_s = gear->omega_rad_s;
        return TRN_OK;
    }
    trn_churning_gear in = trn_balance_churning_gear(box, mesh, pair, member);
    trn_churning_ready *churning = &ready->churning[ready->churning_count];
    status = trn_loss_churning_prepare(&in, churning);
    if (status < 0)
        return status;
    ready->churning_count++;
    if (churning->ground == TRN_R_LOSS_GROUND)
        ready->warnings |= TRN_BALANCE_BIT(GROUND);
    if (churning->ground == TRN_R_LOSS_DEEP)
        ready->warnings |= TRN_BALANCE_BIT(DEEP);
    return TRN_OK;
}

static trn_status prepare_mesh(const trn_balance_box *box, const trn_balance_mesh *mesh,
                               trn_balance_ready *ready)
{
    trn_balance_pair pair;
    trn_status status = trn_balance_pair_of(mesh, box->base, &pair);
    if (status < 0)
        return status;
    ready->warnings |= trn_balance_pair_warnings(mesh, &pair);
    if (pair.loaded) {
        double mu = 0; /* at 1 mPa.s, where the factor of viscosity is 1 */
        double loss = 0;
        status = trn_gear_friction(pair.touch.F_over_b_n_m, pair.touch.v_sum_m_s,
                                   pair.touch.rho_red_m, 1e-3, pair.Ra_m, pair.X_L, &mu);
        if (status == TRN_R_GEAR_LIGHT)
            ready->warnings |= TRN_BALANCE_BIT(LIGHT);
        if (status >= 0)
            status = trn_loss_mesh(mesh->power_w, mu, pair.H_v, &loss);
        ready->mesh += loss;
    }
    for (size_t i = 0; i < 2 && status >= 0; i++)
        status = prepare_gear(box, mesh, &pair, i, ready);
    return status;
}

/* Load part of the loss, mean over the cases by their weights. The load part does not depend on
 * viscosity: any value will do in the call. */
static trn_status load_part(const trn_balance_bearing *b, double dm_m, double *loss_w)
{
    double losses[TRN_BALANCE_CASES_MAX];
    double weights[TRN_BALANCE_CASES_MAX];
    for (size_t i = 0; i < b->case_count; i++) {
        double f0 = 0;
        double f1 = 0;
        double P1 = 0;
        double M0 = 0;
        double M1 = 0;
        if (trn_bearing_friction_values(b->kind, b->cases[i].Fr_n, b->cases[i].Fa_n, b->C0_n,
                                        b->angle_rad, &f0, &f1, &P1) < 0 ||
            trn_bearing_friction(0, f1, 1e-6, b->omega_rad_s, dm_m, P1, &M0, &M1, &losses[i]) < 0)
            return TRN_E_DOMAIN;
        weights[i] = b->cases[i].share;
    }
    return trn_loss_cases(losses, weights, b->case_count, loss_w);
}

bool trn_balance_load_known(const trn_balance_bearing *b)
{
    if (b->case_count == 0)
        return false;
    if (b->kind <= TRN_FRICTION_ANGULAR_40)
        return !isnan(b->C0_n);
    return b->kind != TRN_FRICTION_TAPERED || !isnan(b->angle_rad);
}

static trn_status prepare_bearing(const trn_balance_bearing *b, trn_balance_ready *ready)
{
    double dm_m = (b->bore_m + b->outside_m) / 2;
    double f0 = trn_bearing_friction_f0(b->kind);
    if (!not_negative(b->omega_rad_s) || !positive(b->bore_m) || !(b->outside_m > b->bore_m) ||
        isnan(f0) || b->case_count > TRN_BALANCE_CASES_MAX)
        return TRN_E_DOMAIN;
    if (!trn_balance_load_known(b))
        ready->warnings |= TRN_BALANCE_BIT(BEARING_LOAD);
    if (b->omega_rad_s == 0)
        return TRN_OK;
    double step = 1e-6 * TRN_BEARING_FRICTION_STEP / (b->omega_rad_s * 30 / M_PI);
    double M0 = 0;
    double M1 = 0;
    double flat = 0;
    double rising = 0;
    if (trn_bearing_friction(f0, 0, step / 2, b->omega_rad_s, dm_m, 0, &M0, &M1, &flat) < 0 ||
        trn_bearing_friction(f0, 0, step * 8, b->omega_rad_s, dm_m, 0, &M0, &M1, &rising) < 0)
        return TRN_E_DOMAIN;
    double root = cbrt(step * 8);
    ready->bearing[ready->bearing_count].nu_step = step * (1 - 1e-9);
    ready->bearing[ready->bearing_count].flat_w = flat;
    ready->bearing[ready->bearing_count++].rising = rising / (root * root);
    double load = 0;
    if (trn_balance_load_known(b) && load_part(b, dm_m, &load) < 0)
        return TRN_E_DOMAIN;
    ready->bearings_load_w += load;
    return TRN_OK;
}

static bool no_dip_known(const trn_balance_box *box)
{
    for (size_t i = 0; i < box->mesh_count; i++)
        if (!isnan(box->meshes[i].member[0].dip_m) || !isnan(box->meshes[i].member[1].dip_m))
            return false;
    return true;
}

static trn_status prepare_rest(const trn_balance_box *box, trn_balance_ready *ready)
{
    if (!(isnan(box->area_m2) || positive(box->area_m2)) || !positive(box->T_air_k) ||
        !(isnan(box->mass_kg) || positive(box->mass_kg)) || !positive(box->V_oil_m3) ||
        !not_negative(box->power_w) || !not_negative(box->cooling_factor) ||
        !not_negative(box->sun_area_m2) ||
        !not_negative(box->sun_w_m2) || !(box->sun_absorption >= 0 && box->sun_absorption <= 1) ||
        !positive(box->disc_gap_m) ||
        !(box->churning_scatter >= 1 && isfinite(box->churning_scatter)) ||
        !positive(box->steel_j_kg_k) || (unsigned)box->base >= TRN_OIL_BASES)
        return TRN_E_DOMAIN;
    double cp = 0;
    if (trn_oil_line_fit(box->kv40_m2_s, box->kv100_m2_s, &ready->line) < 0 ||
        trn_oil_heat_capacity(box->rho15_kg_m3, 333.15, &cp) < 0)
        return TRN_E_DOMAIN;
    ready->capacity_j_k = box->mass_kg * box->steel_j_kg_k + box->rho15_kg_m3 * box->V_oil_m3 * cp;
    ready->rho15_kg_m3 = box->rho15_kg_m3;
    ready->scatter = box->churning_scatter;
    ready->disc_gap_m = box->disc_gap_m;
    ready->area_m2 = box->area_m2;
    ready->cooling_factor = box->cooling_factor > 0 ? box->cooling_factor : 1;
    ready->T_air_k = box->T_air_k;
    ready->sun_absorbed_w = box->sun_absorption * box->sun_w_m2 * box->sun_area_m2;
    ready->surface = box->surface;
    trn_heat_path path; /* a surface that cannot be computed is refused here, not in the root */
    double T_k = box->T_air_k + 10;
    return isnan(box->surface.heat_transfer_w_m2k)
               ? trn_heat_wall_inside(&box->surface, T_k, box->T_air_k, &T_k, &path)
               : trn_heat_wall(&box->surface, T_k, box->T_air_k, &path);
}

trn_status trn_balance_prepare(const trn_balance_box *box, trn_balance_ready *ready)
{
    if (box->mesh_count == 0)
        return TRN_E_UNKNOWN;
    if (box->mesh_count > TRN_BALANCE_MESHES_MAX || box->bearing_count > TRN_BALANCE_BEARINGS_MAX)
        return TRN_E_INPUT;
    ready->mesh = ready->iso = ready->bearings_load_w = ready->seals_w = 0;
    ready->churning_count = ready->disc_count = ready->bearing_count = 0;
    ready->warnings = no_dip_known(box) ? TRN_BALANCE_BIT(DIP_UNKNOWN) : 0;
    trn_status status = prepare_rest(box, ready);
    for (size_t i = 0; i < box->mesh_count && status >= 0; i++)
        status = prepare_mesh(box, &box->meshes[i], ready);
    for (size_t i = 0; i < box->bearing_count && status >= 0; i++)
        status = prepare_bearing(&box->bearings[i], ready);
    for (size_t i = 0; i < box->seal_count && status >= 0; i++) {
        double loss = 0;
        status =
            trn_loss_seal(box->seals[i].d_m, box->seals[i].omega_rad_s, 2, TRN_SEAL_NITRILE, &loss);
        ready->seals_w += loss;
    }
    return status < 0 ? status : TRN_OK;
}

/* ---- one evaluation ----------------------------------------------------------------------- */

static trn_status central_churning(const trn_balance_ready *ready, double nu, double rho,
                                   double *loss_w)
{
    double sum = 0;
    double nu_021 = ready->churning_count ? pow(nu, 0.21) : 0;
    for (size_t i = 0; i < ready->churning_count; i++) {
        const trn_churning_ready *c = &ready->churning[i];
        sum += c->torque_rho * rho * trn_loss_churning_coefficient(c, nu, nu_021) * c->n_rad_s;
    }
    for (size_t i = 0; i < ready->disc_count; i++) {
        trn_disc disc;
        trn_status status = trn_loss_disc(ready->disc[i].R_m, ready->disc_gap_m,
                                          ready->disc[i].omega_rad_s, nu, rho, &disc);
        if (status < 0)
            return status;
        sum += disc.loss_w;
    }
    *loss_w = sum;
    return TRN_OK;
}

trn_status trn_balance_loss_at(const trn_balance_ready *ready, double T_k, trn_balance_loss *loss)
{
    trn_balance_loss l = {0};
    trn_status status = trn_oil_line_viscosity(ready->line, T_k, &l.nu_m2_s);
    if (status >= 0)
        status = trn_oil_density(ready->rho15_kg_m3, T_k, &l.rho_kg_m3);
    if (status >= 0)
        status = central_churning(ready, l.nu_m2_s, l.rho_kg_m3, &l.churning_w);
    if (status < 0)
        return status;
    l.mesh_w = ready->mesh * pow(l.nu_m2_s * l.rho_kg_m3 * 1e3, -0.05);
    l.churning_iso_w = ready->iso * l.nu_m2_s * 1e6;
    (void)trn_loss_churning_band(l.churning_w, l.churning_iso_w, ready->scatter, &l.churning_low_w,
                                 &l.churning_high_w);
    double root = cbrt(l.nu_m2_s);
    for (size_t i = 0; i < ready->bearing_count; i++)
        l.bearings_no_load_w += l.nu_m2_s >= ready->bearing[i].nu_step
                                    ? ready->bearing[i].rising * root * root
                                    : ready->bearing[i].flat_w;
    l.bearings_load_w = ready->bearings_load_w;
    l.bearings_w = l.bearings_no_load_w + l.bearings_load_w;
    l.seals_w = ready->seals_w;
    l.loss_w = l.mesh_w + l.churning_w + l.bearings_w + l.seals_w;
    if (!isfinite(l.loss_w) || !isfinite(l.churning_high_w))
        return TRN_E_DOMAIN;
    *loss = l;
    return TRN_OK;
}

double trn_balance_sun(const trn_balance_ready *ready, const trn_heat_path *path)
{
    /* nothing leaves a surface without heat transfer: all of the sun goes inward */
    double share = path->alpha_out_w_m2k > 0 ? path->k_w_m2k / path->alpha_out_w_m2k : 1;
    return share * ready->sun_absorbed_w;
}

/* ---- balance ------------------------------------------------------------------------------ */

/* Heat left over, W, by law: the laws differ in the churning alone. */
static void left_over(const trn_balance_ready *ready, const trn_balance_loss *loss, double T_k,
                      const trn_heat_path *path, double excess_w[TRN_BALANCE_LAWS])
{
    const double churning[TRN_BALANCE_LAWS] = {loss->churning_w, loss->churning_low_w,
                                               loss->churning_high_w};
    double off = ready->cooling_factor * path->k_w_m2k * ready->area_m2 * (T_k - ready->T_air_k);
    for (int law = 0; law < TRN_BALANCE_LAWS; law++)
        excess_w[law] = loss->loss_w - loss->churning_w + churning[law] +
                        trn_balance_sun(ready, path) - off;
}

trn_status trn_balance_excesses(const trn_balance_ready *ready, double T_k,
                                double excess_w[TRN_BALANCE_LAWS], trn_heat_path *path)
{
    trn_balance_loss loss;
    trn_status status = trn_balance_loss_at(ready, T_k, &loss);
    if (status >= 0)
        status = trn_heat_wall(&ready->surface, T_k, ready->T_air_k, path);
    if (status >= 0)
        left_over(ready, &loss, T_k, path, excess_w);
    return status < 0 ? status : TRN_OK;
}

trn_status trn_balance_excess(const trn_balance_ready *ready, trn_balance_law law, double T_k,
                              double *excess_w)
{
    trn_heat_path path;
    double all[TRN_BALANCE_LAWS];
    trn_status status = trn_balance_excesses(ready, T_k, all, &path);
    if (status >= 0)
        *excess_w = all[law];
    return status;
}

trn_status trn_balance_excess_inside(const trn_balance_ready *ready, trn_balance_law law,
                                     double T_surface_k, double *T_k, double *excess_w)
{
    trn_balance_loss loss;
    trn_heat_path path;
    double all[TRN_BALANCE_LAWS];
    double T = NAN;
    trn_status status =
        trn_heat_wall_inside(&ready->surface, T_surface_k, ready->T_air_k, &T, &path);
    if (status >= 0)
        status = trn_balance_loss_at(ready, T, &loss);
    if (status < 0)
        return status;
    left_over(ready, &loss, T, &path, all);
    *T_k = T;
    *excess_w = all[law];
    return TRN_OK;
}

/* ---- at the temperature found ------------------------------------------------------------- */

static unsigned state_warnings(const trn_balance_box *box, const trn_balance_result *result)
{
    double T_c = result->T_k - 273.15;
    unsigned bits = 0;
    if (box->base == TRN_OIL_MINERAL ? T_c > 95 : T_c > 110)
        bits |= box->base == TRN_OIL_MINERAL ? TRN_BALANCE_BIT(HOT_MINERAL)
                                             : TRN_BALANCE_BIT(HOT_SYNTHETIC);
    if (T_c > 100)
        bits |= TRN_BALANCE_BIT(HOT_SEALS);
    if (result->at.nu_m2_s > 2000e-6)
        bits |= TRN_BALANCE_BIT(COLD);
    trn_heat_surface clean = box->surface;
    trn_heat_path bare;
    clean.residue_m = 0;
    if (box->surface.residue_m > 0 &&
        trn_heat_wall(&clean, result->T_k, box->T_air_k, &bare) >= 0 &&
        result->path.k_w_m2k < bare.k_w_m2k / 2)
        bits |= TRN_BALANCE_BIT(RESIDUE);
    return bits;
}

static trn_status state(const trn_balance_box *box, const trn_balance_ready *ready,
                        trn_balance_result *result)
{
    trn_status status = trn_balance_loss_at(ready, result->T_k, &result->at);
    if (status >= 0)
        status = trn_heat_wall(&ready->surface, result->T_k, ready->T_air_k, &result->path);
    if (status < 0)
        return status;
    result->sun_w = trn_balance_sun(ready, &result->path);
    const trn_balance_loss *at = &result->at;
    double loss = 0;
    (void)trn_heat_losses(at->mesh_w, at->churning_w, at->bearings_w, at->seals_w, box->power_w,
                          &loss, &result->efficiency);
    result->warnings |= state_warnings(box, result);
    return TRN_OK;
}

static trn_balance_result nothing(void)
{
    return (trn_balance_result){.T_k = NAN,
                                .at = {NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN},
                                .sun_w = NAN,
                                .efficiency = NAN,
                                .path = {NAN, NAN, NAN},
                                .modelled_k = NAN,
                                .low_k = NAN,
                                .high_k = NAN,
                                .time_constant_s = NAN,
                                .capacity_j_k = NAN};
}

trn_status trn_balance_member_of(const trn_balance_box *box, const trn_balance_ready *ready,
                                 const trn_balance_shared *shared, double T_given_k,
                                 trn_trace *trace, trn_balance_result *result)
{
    trn_balance_result r = nothing();
    r.warnings = ready->warnings | shared->warnings;
    r.capacity_j_k = ready->capacity_j_k;
    r.modelled_k = shared->modelled_k;
    r.low_k = shared->low_k;
    r.high_k = shared->high_k;
    r.time_constant_s = shared->time_constant_s;
    r.together = shared->together;
    r.T_k = isnan(T_given_k) ? r.modelled_k : T_given_k;
    if (!isnan(r.T_k)) {
        trn_status at = state(box, ready, &r);
        if (at < 0)
            return at;
        if (trace)
            trn_balance_note(box, ready, &r, trace);
    }
    *result = r;
    return TRN_OK;
}

trn_status trn_balance_solve(const trn_balance_box *box, double T_given_k, unsigned wanted,
                             trn_trace *trace, trn_balance_result *result)
{
    trn_balance_ready ready;
    trn_status status = trn_balance_prepare(box, &ready);
    if (status < 0)
        return status;
    if (!isnan(T_given_k) && !positive(T_given_k))
        return TRN_E_DOMAIN;
    if (isnan(T_given_k) && isnan(ready.area_m2))
        return TRN_E_UNKNOWN;
    trn_balance_shared own = trn_balance_no_share;
    if (!isnan(ready.area_m2))
        status = trn_balance_share(&ready, NULL, 1, wanted, &own);
    if (status < 0)
        return status;
    trn_status at = trn_balance_member_of(box, &ready, &own, T_given_k, trace, result);
    return at < 0 ? at : status;
}
