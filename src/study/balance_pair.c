/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A mesh and its two gears for the heat balance: geometry, level, warnings. */
#include <math.h>

#include "balance_parts.h"

static bool not_negative(double x)
{
    return x >= 0 && isfinite(x);
}

static double lubricant_factor(trn_oil_base base, double v_sum_m_s)
{
    switch (base) { /* ISO/TR 14179-2, memory, medium */
    case TRN_OIL_PAO:
    case TRN_OIL_ESTER:
        return 0.8;
    case TRN_OIL_PAG:
        return 0.75 * pow(6 / v_sum_m_s, 0.2);
    default:
        return 1;
    }
}

static trn_status bevel_geometry(const trn_balance_mesh *mesh, trn_balance_pair *p)
{
    trn_gear_bevel bevel;
    p->path_status =
        trn_gear_bevel_virtual(mesh->member[0].z, mesh->member[1].z, mesh->module_m, p->b_m,
                               mesh->alpha_rad, mesh->shaft_angle_rad, mesh->helix_rad, &bevel);
    if (p->path_status < 0)
        return p->path_status;
    p->d1_m = bevel.d_m1_m;
    p->d_v1_m = bevel.d_v1_m;
    p->d_v2_m = bevel.d_v2_m;
    p->H_v = bevel.path.H_v;
    p->gear[0].delta_rad = bevel.delta1_rad;
    p->gear[1].delta_rad = bevel.delta2_rad;
    for (size_t i = 0; i < 2; i++) {
        trn_balance_gear *g = &p->gear[i];
        g->m_t_m = mesh->module_m;
        g->R_m = mesh->member[i].z * mesh->module_m / 2;
        g->D_m = 2 * (g->R_m + mesh->module_m * cos(g->delta_rad));
    }
    return TRN_OK;
}

static trn_status cylindrical_geometry(const trn_balance_mesh *mesh, trn_balance_pair *p)
{
    double m_t = mesh->module_m / cos(mesh->helix_rad);
    for (size_t i = 0; i < 2; i++) {
        trn_balance_gear *g = &p->gear[i];
        g->m_t_m = m_t;
        g->R_m = mesh->member[i].z * m_t / 2;
        g->D_m = 2 * (g->R_m + mesh->module_m);
    }
    p->d1_m = p->d_v1_m = 2 * p->gear[0].R_m;
    p->d_v2_m = 2 * p->gear[1].R_m;
    p->a_m = p->gear[0].R_m + p->gear[1].R_m;
    p->d_a1_m = p->gear[0].D_m;
    p->d_a2_m = p->gear[1].D_m;
    trn_gear_path path;
    p->path_status =
        trn_gear_loss_factor(mesh->member[0].z, mesh->member[1].z, mesh->module_m, mesh->alpha_rad,
                             mesh->helix_rad, p->a_m, p->d_a1_m, p->d_a2_m, &path);
    if (p->path_status < 0)
        return p->path_status;
    p->H_v = path.H_v;
    return TRN_OK;
}

/* Tooth tip above the pitch circle, measured square to the oil level at the lowest point. */
static double tip_height(const trn_balance_mesh *mesh, const trn_balance_gear *gear)
{
    return mesh->module_m * cos(gear->delta_rad);
}

static void level(const trn_balance_mesh *mesh, size_t member, trn_balance_gear *gear)
{
    double dip = mesh->member[member].dip_m;
    gear->in_oil = dip > 0 && gear->omega_rad_s > 0;
    gear->under_oil = gear->in_oil && dip >= gear->D_m * (1 - 1e-9);
    gear->dip = dip > 0 ? fmin(1, dip / gear->D_m) : 0;
    gear->h_m = dip > 0 ? fmin(fmax(0, dip - tip_height(mesh, gear)), 2 * gear->R_m) : 0;
}

trn_status trn_balance_pair_of(const trn_balance_mesh *mesh, trn_oil_base base,
                               trn_balance_pair *pair)
{
    const trn_balance_member *m = mesh->member;
    if (!not_negative(mesh->power_w) || !not_negative(mesh->omega1_rad_s) || !(m[0].b_m > 0) ||
        !(m[1].b_m > 0) || !(m[0].Ra_m > 0) || !(m[1].Ra_m > 0) ||
        !(isnan(m[0].dip_m) || not_negative(m[0].dip_m)) ||
        !(isnan(m[1].dip_m) || not_negative(m[1].dip_m)))
        return TRN_E_DOMAIN;
    trn_balance_pair p = {.b_m = fmin(m[0].b_m, m[1].b_m),
                          .Ra_m = (m[0].Ra_m + m[1].Ra_m) / 2,
                          .loaded = mesh->power_w > 0 && mesh->omega1_rad_s > 0};
    trn_status status = mesh->bevel ? bevel_geometry(mesh, &p) : cylindrical_geometry(mesh, &p);
    if (status < 0)
        return status;
    p.T1_nm = p.loaded ? mesh->power_w / mesh->omega1_rad_s : 0;
    status = trn_gear_contact(p.T1_nm, mesh->omega1_rad_s, p.d1_m, p.b_m, p.d_v1_m, p.d_v2_m,
                              mesh->alpha_rad, mesh->helix_rad, &p.touch);
    if (status < 0)
        return status;
    p.X_L = p.loaded ? lubricant_factor(base, p.touch.v_sum_m_s) : 1;
    p.gear[0].omega_rad_s = mesh->omega1_rad_s;
    p.gear[1].omega_rad_s = mesh->omega1_rad_s * m[0].z / m[1].z;
    for (size_t i = 0; i < 2; i++)
        level(mesh, i, &p.gear[i]);
    *pair = p;
    return TRN_OK;
}

trn_churning_gear trn_balance_churning_gear(const trn_balance_box *box,
                                            const trn_balance_mesh *mesh,
                                            const trn_balance_pair *pair, size_t member)
{
    const trn_balance_gear *g = &pair->gear[member];
    return (trn_churning_gear){.R_m = g->R_m,
                               .b_m = mesh->member[member].b_m,
                               .m_m = mesh->module_m,
                               .z = mesh->member[member].z,
                               .h_m = g->h_m,
                               .V_oil_m3 = box->V_oil_m3,
                               .n_rad_s = g->omega_rad_s,
                               .alpha_rad = mesh->alpha_rad,
                               .beta_rad = mesh->helix_rad};
}

static bool below(double x, double limit)
{
    return x < limit * (1 - 1e-9);
}

static bool above(double x, double limit)
{
    return x > limit * (1 + 1e-9);
}

/* Nothing is said of a mesh whose level is known on one side only: its other gear may be the
 * deep one, or its level stands with another mate's row. */
static unsigned level_warnings(const trn_balance_mesh *mesh, const trn_balance_pair *p)
{
    double dips[] = {mesh->member[0].dip_m, mesh->member[1].dip_m};
    if (isnan(dips[0]) || isnan(dips[1]))
        return 0;
    size_t deep = dips[1] > dips[0];
    if (below(dips[deep], 2.25 * mesh->module_m))
        return TRN_BALANCE_BIT(LOW_OIL);
    if (!mesh->bevel)
        return below(dips[deep], 4.5 * mesh->module_m) ? TRN_BALANCE_BIT(SHALLOW) : 0;
    double face = mesh->member[deep].b_m * sin(p->gear[deep].delta_rad);
    return below(p->gear[deep].h_m, face) ? TRN_BALANCE_BIT(TOE_DRY) : 0;
}

unsigned trn_balance_pair_warnings(const trn_balance_mesh *mesh, const trn_balance_pair *pair)
{
    const trn_balance_pair *p = pair;
    unsigned bits = level_warnings(mesh, p);
    for (size_t i = 0; i < 2; i++)
        if (above(p->gear[i].h_m, p->gear[i].R_m))
            bits |= TRN_BALANCE_BIT(OVERFULL);
    double v_t = p->touch.v_t_m_s;
    if (above(v_t, mesh->bevel ? 12.5 : 25))
        bits |= TRN_BALANCE_BIT(FAST);
    if (above(v_t, 50))
        bits |= TRN_BALANCE_BIT(FAST_FRICTION);
    if (v_t > 0 && below(v_t, 3))
        bits |= TRN_BALANCE_BIT(SLOW);
    if (p->path_status == TRN_R_GEAR_PATH || p->path_status == TRN_R_GEAR_INTERFERENCE)
        bits |= TRN_BALANCE_BIT(PATH);
    if (p->path_status == TRN_R_GEAR_FACE)
        bits |= TRN_BALANCE_BIT(FACE);
    return bits;
}
