/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The heat balance of one gearbox. The worked case is invented; its figures follow from the
 * formulas (derived), so they test the code, not the physics. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_math.h>
#include <gsl/gsl_odeiv2.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <string.h>
#include <trunnion/balance.h>

#include "support.h"

static const double rpm = M_PI / 30;
static const double deg = M_PI / 180;
static const double zero_c = 273.15;

typedef struct worked {
    trn_balance_mesh mesh;
    trn_balance_bearing bearings[4];
    trn_balance_seal seals[2];
    trn_balance_box box;
} worked;

/* A tapered bearing of 15 deg whose thrust gives the P1 of the worked case, 2 Y Fa. */
static trn_balance_bearing tapered(double P1_n, double omega_rad_s)
{
    double Y = 0.4 / tan(15 * deg);
    return (trn_balance_bearing){.kind = TRN_FRICTION_TAPERED,
                                 .omega_rad_s = omega_rad_s,
                                 .bore_m = 0.040,
                                 .outside_m = 0.080,
                                 .C0_n = NAN,
                                 .angle_rad = 15 * deg,
                                 .case_count = 1,
                                 .cases = {{P1_n / 3, P1_n / (2 * Y), 1}}};
}

static void worked_case(worked *w)
{
    double n1 = 540.0 * 27 / 14 * rpm;
    double n2 = 540 * rpm;
    /* printed as 42.762 mm; the depth of the pitch circle is 40 mm to the digit */
    double dip = 0.040 + 0.006 * cos(atan(27.0 / 14));
    *w = (worked){
        .mesh = {.bevel = true,
                 .member = {{14, 0.032, 0, 1e-6}, {27, 0.032, dip, 1e-6}},
                 .module_m = 0.006,
                 .alpha_rad = 20 * deg,
                 .helix_rad = 0,
                 .shaft_angle_rad = 90 * deg,
                 .power_w = 18000,
                 .omega1_rad_s = n1},
        .bearings = {tapered(2700, n1), tapered(1600, n1), tapered(2300, n2), tapered(1400, n2)},
        .seals = {{0.040, n1}, {0.040, n2}},
        .box = {.mesh_count = 1,
                .bearing_count = 4,
                .seal_count = 2,
                .base = TRN_OIL_MINERAL,
                .kv40_m2_s = 220e-6,
                .kv100_m2_s = 19e-6,
                .rho15_kg_m3 = 895,
                .V_oil_m3 = 2.5e-3,
                .area_m2 = 0.40,
                .surface = trn_balance_surface(),
                .sun_area_m2 = 0.12,
                .sun_absorption = 0.8,
                .sun_w_m2 = 900,
                .T_air_k = 30 + 273.15,
                .mass_kg = 35,
                .power_w = 18000,
                .disc_gap_m = TRN_BALANCE_DISC_GAP_M,
                .churning_scatter = TRN_BALANCE_CHURNING_SCATTER,
                .steel_j_kg_k = TRN_BALANCE_STEEL_J_KG_K}};
    w->box.meshes = &w->mesh;
    w->box.bearings = w->bearings;
    w->box.seals = w->seals;
    w->box.surface.heat_transfer_w_m2k = 18;
}

static trn_balance_result solved(const trn_balance_box *box)
{
    trn_balance_result r;
    trn_status status = trn_balance_solve(box, NAN, TRN_BALANCE_WANT_ALL, NULL, &r);
    cr_assert_eq(status, TRN_OK, "status %d", (int)status);
    return r;
}

/* half a unit of the last digit printed; `what` is printed on failure */
static void printed(const char *what, double wanted, double got, double digit)
{
    cr_expect(fabs(got - wanted) <= 0.5001 * digit, "%s: wanted %.9g, got %.9g", what, wanted, got);
}

/* ---- the worked case ---------------------------------------------------------------------- */

/* derived: heat page, worked case, table of losses */
Test(balance, losses_of_the_worked_case)
{
    static const double rows[][12] = {
        {30, 412.449, 885.554, 165.137, 214.782, 16.276, 19.458, 25.843, 100.380, 17.228, 100.380,
         441.496},
        {60, 78.8199, 866.499, 179.578, 71.259, 16.276, 19.458, 17.863, 19.183, 11.909, 26.795,
         304.435},
        {80, 35.6046, 853.688, 186.997, 41.952, 16.276, 19.458, 14.894, 8.665, 8.665, 22.341,
         279.577},
        {95, 21.9453, 844.030, 191.685, 30.384, 16.276, 19.458, 13.874, 5.341, 5.341, 20.812,
         271.678},
    };
    worked w;
    worked_case(&w);
    trn_balance_ready ready;
    cr_assert_eq(trn_balance_prepare(&w.box, &ready), TRN_OK);
    for (size_t i = 0; i < 4; i++) {
        const double *row = rows[i];
        trn_balance_loss l;
        cr_assert_eq(trn_balance_loss_at(&ready, row[0] + zero_c, &l), TRN_OK);
        printed("nu", row[1], l.nu_m2_s * 1e6, i ? 1e-4 : 1e-3);
        printed("rho", row[2], l.rho_kg_m3, 1e-3);
        printed("mesh", row[3], l.mesh_w, 1e-3);
        printed("bearings no-load", row[4], l.bearings_no_load_w, 1e-3);
        printed("bearings load", row[5], l.bearings_load_w, 1e-3);
        printed("seals", row[6], l.seals_w, 1e-3);
        printed("churning A", row[7], l.churning_w, 1e-3);
        printed("churning B", row[8], l.churning_iso_w, 1e-3);
        printed("low", row[9], l.churning_low_w, 1e-3);
        printed("high", row[10], l.churning_high_w, 1e-3);
        printed("loss", row[11], l.loss_w, 1e-3);
    }
}

/* derived: heat page, worked case, geometry and contact */
Test(balance, geometry_of_the_worked_case)
{
    trn_gear_bevel b;
    cr_assert_eq(trn_gear_bevel_virtual(14, 27, 0.006, 0.032, 20 * deg, 90 * deg, 0, &b),
                 TRN_R_GEAR_FACE); /* 32 mm is 0.351 of the cone distance */
    printed("delta1", 27.4076, b.delta1_rad / deg, 1e-4);
    printed("delta2", 62.5924, b.delta2_rad / deg, 1e-4);
    printed("R_e", 91.241, b.R_e_m * 1e3, 1e-3);
    printed("R_m", 75.241, b.R_m_m * 1e3, 1e-3);
    printed("d_m1", 69.2699, b.d_m1_m * 1e3, 1e-4);
    printed("d_m2", 133.5919, b.d_m2_m * 1e3, 1e-4);
    printed("z_v1", 15.7701, b.z_v1, 1e-4);
    printed("z_v2", 58.6552, b.z_v2, 1e-4);
    printed("eps_1", 0.7474, b.path.eps_1, 1e-4);
    printed("eps_2", 0.8906, b.path.eps_2, 1e-4);
    printed("eps_a", 1.638012, b.path.eps_a, 1e-6);
    printed("H_v", 0.180422, b.path.H_v, 1e-6);
    double omega1 = 540.0 * 27 / 14 * rpm;
    trn_gear_touch t;
    cr_assert_eq(trn_gear_contact(18000 / omega1, omega1, b.d_m1_m, 0.032, b.d_v1_m, b.d_v2_m,
                                  20 * deg, 0, &t),
                 TRN_OK);
    printed("T1", 165.0496, 18000 / omega1, 1e-4);
    printed("F_mt", 4765.41, 2 * 18000 / omega1 / b.d_m1_m, 1e-2);
    printed("F_bt/b", 158.476, t.F_over_b_n_m * 1e-3, 1e-3);
    printed("v_t", 3.77722, t.v_t_m_s, 1e-5);
    printed("v_sum", 2.58377, t.v_sum_m_s, 1e-5);
    printed("rho_red", 10.5162, t.rho_red_m * 1e3, 1e-4);
}

/* derived: heat page, worked case, friction and churning numbers */
Test(balance, friction_and_churning_of_the_worked_case)
{
    static const double mu[][2] = {{30, .050849}, {60, .055296}, {80, .057580}, {95, .059024}};
    worked w;
    worked_case(&w);
    trn_balance_ready ready;
    cr_assert_eq(trn_balance_prepare(&w.box, &ready), TRN_OK);
    for (size_t i = 0; i < 4; i++) {
        trn_balance_loss l;
        cr_assert_eq(trn_balance_loss_at(&ready, mu[i][0] + zero_c, &l), TRN_OK);
        double friction = 0;
        cr_assert_eq(trn_gear_friction(158476.4, 2.583767, 0.01051619, l.nu_m2_s * l.rho_kg_m3,
                                       1e-6, 1, &friction),
                     TRN_OK);
        printed("mu", mu[i][1], friction, 1e-6);
    }
    cr_assert_eq(ready.churning_count, 1);
    printed("S_m", 0.0215296, ready.churning[0].S_m_m2, 1e-7);
    printed("Fr", 26.4035, ready.churning[0].Fr, 1e-4);
    printed("gamma", 79.82, ready.churning[0].gamma, 1e-2);
    double R = 0.081 + 0.006 * cos(atan(27.0 / 14));
    printed("D", 167.524, 2 * R * 1e3, 1e-3);
    printed("f_g", 0.25526, w.mesh.member[1].dip_m / (2 * R), 1e-5);
}

/* derived: heat page, worked case, balance */
Test(balance, temperatures_of_the_worked_case)
{
    worked w;
    worked_case(&w);
    trn_balance_result r = solved(&w.box);
    printed("balance", 80.751, r.T_k - zero_c, 1e-3);
    printed("low law", 79.969, r.low_k - zero_c, 1e-3);
    printed("high law", 81.678, r.high_k - zero_c, 1e-3);
    printed("nu", 34.681, r.at.nu_m2_s * 1e6, 1e-3);
    printed("loss", 279.009, r.at.loss_w, 1e-3);
    printed("efficiency", 98.450, 100 * r.efficiency, 1e-3);
    printed("sun", 86.4, r.sun_w, 1e-9);
    printed("C", 21966.3, r.capacity_j_k, 1e-1);
    printed("time constant", 46.09, r.time_constant_s / 60, 1e-2);
    printed("C/kA", 50.85, r.capacity_j_k / (18 * 0.4) / 60, 1e-2);
    w.box.sun_area_m2 = 0;
    printed("without sun", 70.147, solved(&w.box).T_k - zero_c, 1e-3);
}

/* derived: heat page, worked case, heat transfer and residue */
Test(balance, heat_transfer_moves_the_worked_case)
{
    static const double by_k[][2] = {{10, 118.665}, {13, 98.711}, {15, 89.961},
                                     {20, 76.150},  {25, 67.835}, {30, 62.233}};
    static const double by_layer[][3] = {{2, 11.25, 102.081}, {5, 7.2, 134.887}};
    worked w;
    worked_case(&w);
    for (size_t i = 0; i < 6; i++) {
        w.box.surface.heat_transfer_w_m2k = by_k[i][0];
        printed("balance", by_k[i][1], solved(&w.box).T_k - zero_c, 1e-3);
    }
    for (size_t i = 0; i < 2; i++) {
        worked_case(&w);
        w.box.surface.residue_m = by_layer[i][0] * 1e-3;
        trn_balance_result r = solved(&w.box);
        printed("k", by_layer[i][1], r.path.k_w_m2k, 1e-2);
        printed("balance", by_layer[i][2], r.T_k - zero_c, 1e-3);
        /* a layer shades as well as it insulates */
        printed("sun", 86.4 * by_layer[i][1] / 18, r.sun_w, 1e-9);
    }
}

/* derived: heat page, worked case, heat transfer left out */
Test(balance, computed_heat_transfer_of_the_worked_case)
{
    worked w;
    worked_case(&w);
    w.box.surface.heat_transfer_w_m2k = NAN;
    trn_heat_path path;
    cr_assert_eq(trn_heat_wall(&w.box.surface, 80 + zero_c, w.box.T_air_k, &path), TRN_OK);
    printed("k", 22.447, path.k_w_m2k, 1e-3);
    printed("T_s", 74.209, path.T_surface_k - zero_c, 1e-3);
    printed("alpha_out", 25.387, path.alpha_out_w_m2k, 1e-3);
    printed("balance", 70.766, solved(&w.box).T_k - zero_c, 1e-3);
}

/* derived: heat page, worked case, warm-up */
Test(balance, warmup_of_the_worked_case)
{
    static const double rows[][2] = {{0, 30},         {300, 36.497},  {600, 41.878},
                                     {1800, 56.770},  {3600, 68.630}, {7200, 77.520},
                                     {14400, 80.514}, {28800, 80.750}};
    worked w;
    worked_case(&w);
    double T[TRN_BALANCE_WARMUP_POINTS];
    cr_assert_eq(trn_balance_warmup(&w.box, 60, T, TRN_BALANCE_WARMUP_POINTS), TRN_OK);
    for (size_t i = 0; i < 8; i++)
        printed("T", rows[i][1], T[(size_t)rows[i][0] / 60] - zero_c, 1e-3);
    for (size_t i = 1; i < TRN_BALANCE_WARMUP_POINTS; i++)
        cr_expect(T[i] > T[i - 1], "minute %zu: %.9g after %.9g", i, T[i], T[i - 1]);
}
