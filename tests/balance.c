/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The heat balance of one gearbox. The worked case is invented; its figures follow from the
 * formulas (derived), so they test the code, not the physics. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_math.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>
#include <stdio.h>
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

/* ---- identities --------------------------------------------------------------------------- */

/* A second box: helical and spur meshes on one axle, ball and roller bearings, load cases. */
typedef struct helical_box {
    trn_balance_mesh meshes[2];
    trn_balance_bearing bearings[3];
    trn_balance_seal seal;
    trn_balance_box box;
} helical_box;

static void helical_case(helical_box *h)
{
    worked w;
    worked_case(&w);
    double n1 = 612.7 * rpm;
    double n2 = n1 * 31 / 22;
    *h = (helical_box){
        .meshes = {{.name = "first",
                    .member = {{31, 0.0335, 0.0314, 0.85e-6}, {22, 0.0361, NAN, 1.15e-6}},
                    .module_m = 0.00475,
                    .alpha_rad = 20 * deg,
                    .helix_rad = 14.3 * deg,
                    .power_w = 23700,
                    .omega1_rad_s = n1},
                   {.name = "second",
                    .member = {{22, 0.0361, 0.0093, 1.15e-6}, {37, 0.0297, 0.0274, 0.7e-6}},
                    .module_m = 0.00475,
                    .alpha_rad = 20 * deg,
                    .power_w = 9800,
                    .omega1_rad_s = n2}},
        .bearings = {{.name = "ball",
                      .kind = TRN_FRICTION_DEEP_GROOVE,
                      .omega_rad_s = n1,
                      .bore_m = 0.035,
                      .outside_m = 0.072,
                      .C0_n = 15300,
                      .angle_rad = NAN,
                      .case_count = 3,
                      .cases = {{2120, 1430, 0.15}, {2380, 310, 0.15}, {2250, 0, 0.7}}},
                     {.kind = TRN_FRICTION_CYLINDRICAL,
                      .omega_rad_s = n2,
                      .bore_m = 0.040,
                      .outside_m = 0.090,
                      .C0_n = NAN,
                      .angle_rad = NAN,
                      .case_count = 1,
                      .cases = {{5130, 0, 1}}},
                     {.kind = TRN_FRICTION_ANGULAR_30,
                      .omega_rad_s = n2,
                      .bore_m = 0.030,
                      .outside_m = 0.062,
                      .C0_n = 14200,
                      .angle_rad = NAN}},
        .seal = {0.0385, n2},
        .box = w.box};
    h->box.meshes = h->meshes;
    h->box.mesh_count = 2;
    h->box.bearings = h->bearings;
    h->box.bearing_count = 3;
    h->box.seals = &h->seal;
    h->box.seal_count = 1;
    h->box.power_w = 23700;
    h->box.surface.heat_transfer_w_m2k = NAN;
}

/* derived: first law, loss + sun = k A (T - T_air), and loss is the sum of its parts */
Test(balance, energy_closes)
{
    static const trn_oil_base bases[] = {TRN_OIL_MINERAL, TRN_OIL_PAO, TRN_OIL_ESTER, TRN_OIL_PAG};
    helical_box h;
    helical_case(&h);
    for (size_t i = 0; i < 48; i++) {
        h.box.base = bases[i % 4];
        h.box.area_m2 = 0.31 + 0.037 * (double)(i % 7);
        h.box.T_air_k = 263.7 + 4.31 * (double)(i % 11);
        h.box.surface.residue_m = 0.7e-3 * (double)(i % 3);
        h.box.surface.heat_transfer_w_m2k = i % 5 == 4 ? 17.3 : NAN;
        h.box.surface.air_speed_m_s = 0.83 * (double)(i % 6);
        trn_balance_result r = solved(&h.box);
        double out = r.path.k_w_m2k * h.box.area_m2 * (r.T_k - h.box.T_air_k);
        cr_expect(test_near(r.at.loss_w + r.sun_w, out, 1e-9), "%zu: %.12g in, %.12g out", i,
                  r.at.loss_w + r.sun_w, out);
        double parts = r.at.mesh_w + r.at.churning_w + r.at.bearings_w + r.at.seals_w;
        cr_expect(test_near(parts, r.at.loss_w, 1e-14));
        cr_expect(r.low_k <= r.T_k && r.T_k <= r.high_k, "%zu: %.9g %.9g %.9g", i, r.low_k, r.T_k,
                  r.high_k);
        double efficiency = 1 - r.at.loss_w / h.box.power_w;
        cr_expect(test_near(efficiency, r.efficiency, 1e-14));
    }
}

/* derived: each part by its own library function, not by the prepared sums */
Test(balance, prepared_sums_equal_the_single_formulas)
{
    helical_box h;
    helical_case(&h);
    trn_balance_ready ready;
    cr_assert_eq(trn_balance_prepare(&h.box, &ready), TRN_OK);
    for (double T = 270; T < 440; T += 17.3) {
        trn_balance_loss l;
        cr_assert_eq(trn_balance_loss_at(&ready, T, &l), TRN_OK);
        double bearings = 0;
        for (size_t i = 0; i < 3; i++) {
            const trn_balance_bearing *b = &h.bearings[i];
            double mean = 0;
            double f[3] = {trn_bearing_friction_f0(b->kind), 0, 0};
            double M0, M1, loss;
            for (size_t c = 0; c < b->case_count; c++) {
                cr_assert_eq(trn_bearing_friction_values(b->kind, b->cases[c].Fr_n,
                                                         b->cases[c].Fa_n, b->C0_n, b->angle_rad,
                                                         &f[0], &f[1], &f[2]),
                             TRN_OK);
                cr_assert_eq(trn_bearing_friction(f[0], f[1], l.nu_m2_s, b->omega_rad_s,
                                                  (b->bore_m + b->outside_m) / 2, f[2], &M0, &M1,
                                                  &loss),
                             TRN_OK);
                mean += b->cases[c].share * loss;
            }
            if (b->case_count == 0)
                cr_assert_eq(trn_bearing_friction(f[0], 0, l.nu_m2_s, b->omega_rad_s,
                                                  (b->bore_m + b->outside_m) / 2, 0, &M0, &M1,
                                                  &mean),
                             TRN_OK);
            bearings += mean;
        }
        cr_expect(test_near(bearings, l.bearings_w, 1e-12), "%g K: %.15g, %.15g", T, bearings,
                  l.bearings_w);
        double beta = 14.3 * deg;
        double m_t = 0.00475 / cos(beta);
        trn_churning_gear g1 = {31 * m_t / 2,   0.0335, 0.00475, 31, 0.0314 - 0.00475,
                                h.box.V_oil_m3, h.meshes[0].omega1_rad_s, 20 * deg, beta};
        trn_churning_gear g2 = {22 * 0.00475 / 2, 0.0361, 0.00475, 22, 0.0093 - 0.00475,
                                h.box.V_oil_m3,   h.meshes[1].omega1_rad_s, 20 * deg, 0};
        trn_churning_gear g3 = {37 * 0.00475 / 2, 0.0297, 0.00475, 37, 0.0274 - 0.00475,
                                h.box.V_oil_m3,   h.meshes[1].omega1_rad_s * 22 / 37, 20 * deg, 0};
        trn_churning c1, c2, c3;
        cr_assert_geq(trn_loss_churning(&g1, l.rho_kg_m3, l.nu_m2_s, &c1), 0);
        cr_assert_geq(trn_loss_churning(&g2, l.rho_kg_m3, l.nu_m2_s, &c2), 0);
        cr_assert_geq(trn_loss_churning(&g3, l.rho_kg_m3, l.nu_m2_s, &c3), 0);
        double churning = c1.loss_w + c2.loss_w + c3.loss_w;
        cr_expect(test_near(churning, l.churning_w, 1e-12), "%g K: %.15g, %.15g", T, churning,
                  l.churning_w);
    }
}

/* derived: more power, sun or residue is hotter, more surface or air is cooler */
Test(balance, temperature_moves_the_right_way)
{
    helical_box h;
    helical_case(&h);
    double T = solved(&h.box).T_k;
    double *more_is_cooler[] = {&h.box.area_m2, &h.box.surface.air_speed_m_s,
                                &h.box.surface.emissivity};
    double *more_is_hotter[] = {&h.box.sun_w_m2, &h.box.T_air_k, &h.meshes[0].power_w,
                                &h.meshes[0].member[0].dip_m, &h.meshes[1].member[1].Ra_m};
    for (size_t i = 0; i < 3; i++) {
        double was = *more_is_cooler[i];
        *more_is_cooler[i] = was * 1.07;
        cr_expect(solved(&h.box).T_k < T, "input %zu", i);
        *more_is_cooler[i] = was;
    }
    for (size_t i = 0; i < 5; i++) {
        double was = *more_is_hotter[i];
        *more_is_hotter[i] = was * 1.07;
        cr_expect(solved(&h.box).T_k > T, "input %zu", i);
        *more_is_hotter[i] = was;
    }
    h.box.surface.residue_m = 0.0023;
    cr_expect(solved(&h.box).T_k > T);
}

/* derived: nothing turns, no sun: the oil is as warm as the air */
Test(balance, a_box_at_rest_has_the_temperature_of_the_air)
{
    worked w;
    worked_case(&w);
    w.mesh.power_w = w.mesh.omega1_rad_s = w.box.power_w = w.box.sun_w_m2 = 0;
    for (size_t i = 0; i < 4; i++)
        w.bearings[i].omega_rad_s = 0;
    w.seals[0].omega_rad_s = w.seals[1].omega_rad_s = 0;
    trn_balance_result r = solved(&w.box);
    cr_expect_eq(r.T_k, w.box.T_air_k);
    cr_expect_eq(r.at.loss_w, 0);
    cr_expect(isnan(r.efficiency));
    w.box.sun_w_m2 = 900; /* the sun alone: 86.4 W over 7.2 W/K */
    cr_expect(test_near(solved(&w.box).T_k, w.box.T_air_k + 12, 1e-12));
}

static double excess_by_parts(double T_k, void *context)
{
    const trn_balance_ready *ready = context;
    trn_balance_loss l;
    if (trn_balance_loss_at(ready, T_k, &l) < 0)
        return NAN;
    return l.loss_w + 86.4 - 7.2 * (T_k - ready->T_air_k);
}

static int warming(double T, const double t[], double slope[], void *context)
{
    (void)t;
    const trn_balance_ready *ready = context;
    slope[0] = ready->capacity_j_k / excess_by_parts(T, context);
    return isfinite(slope[0]) ? GSL_SUCCESS : GSL_EBADFUNC;
}

/* derived: time over temperature, dt = C dT/f, gives the warm-up back; and f' gives the time
 * constant by which the last kelvin fades */
Test(balance, warmup_by_another_route)
{
    worked w;
    worked_case(&w);
    trn_balance_ready ready;
    cr_assert_eq(trn_balance_prepare(&w.box, &ready), TRN_OK);
    double T[481];
    cr_assert_eq(trn_balance_warmup(&w.box, 60, T, 481), TRN_OK);
    gsl_odeiv2_system system = {.function = warming, .dimension = 1, .params = &ready};
    gsl_odeiv2_driver *driver =
        gsl_odeiv2_driver_alloc_y_new(&system, gsl_odeiv2_step_rk8pd, 1e-2, 1e-9, 1e-11);
    double at = ready.T_air_k;
    double t = 0;
    static const size_t minutes[] = {1, 7, 43, 97, 180};
    for (size_t i = 0; i < 5; i++) {
        double wanted = 60 * (double)minutes[i];
        cr_assert_eq(gsl_odeiv2_driver_apply(driver, &at, T[minutes[i]], &t), GSL_SUCCESS);
        double slack = 2e-6 * ready.capacity_j_k / excess_by_parts(at, &ready); /* of 2e-6 K */
        cr_expect(fabs(t - wanted) < slack, "minute %zu after %.9g s", minutes[i], t);
    }
    gsl_odeiv2_driver_free(driver);
    trn_balance_result r = solved(&w.box);
    double tau = 60 * 60 / log((r.T_k - T[300]) / (r.T_k - T[360]));
    cr_expect(test_near(tau, r.time_constant_s, 2e-3), "%.9g, %.9g", tau, r.time_constant_s);
}

/* ---- given temperature, what is missing --------------------------------------------------- */

Test(balance, a_given_temperature_stands_beside_the_balance)
{
    worked w;
    worked_case(&w);
    trn_balance_result free_run = solved(&w.box);
    trn_balance_result r;
    cr_assert_eq(trn_balance_solve(&w.box, 60 + zero_c, TRN_BALANCE_WANT_ALL, NULL, &r), TRN_OK);
    printed("loss at 60", 304.435, r.at.loss_w, 1e-3);
    printed("nu at 60", 78.8199, r.at.nu_m2_s * 1e6, 1e-4);
    cr_expect_eq(r.T_k, 60 + zero_c);
    cr_expect_eq(r.modelled_k, free_run.T_k);
    cr_expect_eq(r.low_k, free_run.low_k);
    cr_expect_eq(r.high_k, free_run.high_k);
    cr_expect_eq(r.time_constant_s, free_run.time_constant_s);
    cr_expect(test_near(r.efficiency, 1 - r.at.loss_w / 18000, 1e-14));

    w.box.area_m2 = NAN; /* losses at the given temperature only */
    trn_balance_result bare;
    cr_assert_eq(trn_balance_solve(&w.box, 60 + zero_c, TRN_BALANCE_WANT_ALL, NULL, &bare), TRN_OK);
    cr_expect_eq(bare.at.loss_w, r.at.loss_w);
    cr_expect(isnan(bare.modelled_k) && isnan(bare.low_k) && isnan(bare.time_constant_s));
    memset(&bare, 0x5a, sizeof bare);
    trn_balance_result before = bare;
    cr_expect_eq(trn_balance_solve(&w.box, NAN, TRN_BALANCE_WANT_ALL, NULL, &bare), TRN_E_UNKNOWN);
    cr_expect_eq(memcmp(&before, &bare, sizeof bare), 0);
}

Test(balance, without_mass_no_time_constant_and_no_warmup)
{
    worked w;
    worked_case(&w);
    w.box.mass_kg = NAN;
    trn_balance_result r = solved(&w.box);
    printed("balance", 80.751, r.T_k - zero_c, 1e-3);
    cr_expect(isnan(r.time_constant_s));
    double T[2] = {-7.1, -7.1};
    cr_expect_eq(trn_balance_warmup(&w.box, 60, T, 2), TRN_E_UNKNOWN);
    cr_expect_eq(T[0], -7.1);
}

/* derived: a box that loses more than 300 K can carry off has no oil temperature */
Test(balance, no_balance_is_said)
{
    worked w;
    worked_case(&w);
    w.box.area_m2 = 0.031;
    trn_balance_result r;
    cr_expect_eq(trn_balance_solve(&w.box, NAN, TRN_BALANCE_WANT_ALL, NULL, &r),
                 TRN_R_HEAT_NO_BALANCE);
    cr_expect(isnan(r.T_k) && isnan(r.at.loss_w) && isnan(r.modelled_k) && isnan(r.sun_w));
    cr_expect(r.warnings & TRN_BALANCE_BIT(NO_BALANCE));
    cr_expect_eq(trn_balance_solve(&w.box, 350, TRN_BALANCE_WANT_ALL, NULL, &r),
                 TRN_R_HEAT_NO_BALANCE);
    cr_expect(r.at.loss_w > 200 && isnan(r.modelled_k));
    double T[481];
    cr_expect_eq(trn_balance_warmup(&w.box, 60, T, 481), TRN_R_HEAT_NO_BALANCE);
    cr_expect_eq(T[0], w.box.T_air_k);
    cr_expect(isnan(T[480]));
}

static void refuse(const trn_balance_box *box, trn_status wanted, const char *what)
{
    trn_balance_result r;
    memset(&r, 0x5a, sizeof r);
    trn_balance_result before = r;
    trn_status status = trn_balance_solve(box, NAN, TRN_BALANCE_WANT_ALL, NULL, &r);
    cr_expect_eq(status, wanted, "%s: status %d", what, (int)status);
    cr_expect_eq(memcmp(&before, &r, sizeof r), 0, "%s", what);
}

Test(balance, refused_inputs_leave_the_result_alone)
{
    worked w;
    worked_case(&w);
    double *numbers[] = {&w.box.kv40_m2_s,       &w.box.rho15_kg_m3,        &w.box.V_oil_m3,
                         &w.box.T_air_k,         &w.box.power_w,            &w.box.sun_w_m2,
                         &w.box.sun_absorption,  &w.box.disc_gap_m,         &w.mesh.module_m,
                         &w.mesh.power_w,        &w.mesh.omega1_rad_s,      &w.mesh.member[0].z,
                         &w.mesh.member[1].b_m,  &w.mesh.member[0].Ra_m,    &w.bearings[2].bore_m,
                         &w.bearings[1].omega_rad_s, &w.bearings[0].cases[0].Fr_n,
                         &w.seals[1].d_m,        &w.box.surface.residue_w_mk,
                         &w.box.churning_scatter, &w.mesh.alpha_rad,
                         &w.mesh.shaft_angle_rad, &w.mesh.member[1].dip_m};
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++) {
        double was = *numbers[i];
        char what[32];
        (void)snprintf(what, sizeof what, "input %zu", i);
        *numbers[i] = -was;
        refuse(&w.box, TRN_E_DOMAIN, what);
        *numbers[i] = INFINITY;
        refuse(&w.box, TRN_E_DOMAIN, what);
        *numbers[i] = NAN;
        if (numbers[i] != &w.mesh.member[1].dip_m) /* there NaN says: not known */
            refuse(&w.box, TRN_E_DOMAIN, what);
        *numbers[i] = was;
    }
    w.box.mesh_count = 0;
    refuse(&w.box, TRN_E_UNKNOWN, "no gears");
    w.box.mesh_count = TRN_BALANCE_MESHES_MAX + 1;
    refuse(&w.box, TRN_E_INPUT, "too many gears");
}

/* ---- warnings ----------------------------------------------------------------------------- */

static unsigned warnings_of(const trn_balance_box *box)
{
    trn_balance_result r = {.warnings = 0};
    (void)trn_balance_solve(box, NAN, TRN_BALANCE_WANT_ALL, NULL, &r);
    return r.warnings;
}

Test(balance, low_oil_runs_cooler_and_is_said)
{
    worked w;
    worked_case(&w);
    double full = solved(&w.box).T_k;
    cr_expect_not(warnings_of(&w.box) & TRN_BALANCE_BIT(LOW_OIL));
    w.mesh.member[1].dip_m = 0.0134; /* 2.25 modules are 13.5 mm */
    trn_balance_result low = solved(&w.box);
    cr_expect(low.T_k < full);
    cr_expect(low.warnings & TRN_BALANCE_BIT(LOW_OIL));
    w.mesh.member[1].dip_m = 0.0135;
    cr_expect_not(warnings_of(&w.box) & TRN_BALANCE_BIT(LOW_OIL));
    cr_expect(warnings_of(&w.box) & TRN_BALANCE_BIT(TOE_DRY));
    /* b sin delta = 28.408 mm, tip height 2.762 mm */
    w.mesh.member[1].dip_m = 0.0312;
    cr_expect_not(warnings_of(&w.box) & TRN_BALANCE_BIT(TOE_DRY));
    w.mesh.member[0].dip_m = NAN; /* the pinion may be the deep one */
    w.mesh.member[1].dip_m = 0.001;
    cr_expect_not(warnings_of(&w.box) & TRN_BALANCE_BIT(LOW_OIL));
    w.mesh.member[1].dip_m = NAN;
    trn_balance_result r = solved(&w.box);
    cr_expect(r.warnings & TRN_BALANCE_BIT(DIP_UNKNOWN));
    cr_expect_eq(r.at.churning_w, 0);
}

Test(balance, warnings_of_level_speed_and_heat)
{
    helical_box h;
    helical_case(&h);
    unsigned bits = warnings_of(&h.box);
    cr_expect_not(bits & (TRN_BALANCE_BIT(SHALLOW) | TRN_BALANCE_BIT(LOW_OIL)));
    cr_expect(bits & TRN_BALANCE_BIT(BEARING_LOAD)); /* the third bearing */
    h.meshes[1].member[1].dip_m = 0.0213;            /* 4.5 modules are 21.375 mm */
    cr_expect(warnings_of(&h.box) & TRN_BALANCE_BIT(SHALLOW));
    h.meshes[1].member[1].dip_m = 0.0275;

    cr_expect_not(bits & TRN_BALANCE_BIT(OVERFULL));
    h.meshes[0].member[0].dip_m = 0.0813; /* pitch radius 75.98, module 4.75 */
    bits = warnings_of(&h.box);
    cr_expect(bits & TRN_BALANCE_BIT(OVERFULL));
    cr_expect(bits & TRN_BALANCE_BIT(DEEP));

    worked w;
    worked_case(&w);
    bits = warnings_of(&w.box);
    cr_expect_eq(bits, TRN_BALANCE_BIT(GROUND) | TRN_BALANCE_BIT(FACE), "bits %x", bits);
    w.box.surface.heat_transfer_w_m2k = 13; /* 98.7 degC */
    bits = warnings_of(&w.box);
    cr_expect(bits & TRN_BALANCE_BIT(HOT_MINERAL));
    cr_expect_not(bits & TRN_BALANCE_BIT(HOT_SEALS));
    w.box.surface.heat_transfer_w_m2k = 10; /* 118.7 degC */
    bits = warnings_of(&w.box);
    cr_expect(bits & TRN_BALANCE_BIT(HOT_SEALS));
    w.box.base = TRN_OIL_PAO;
    cr_expect_not(warnings_of(&w.box) & TRN_BALANCE_BIT(HOT_SYNTHETIC)); /* less mesh loss */
    w.box.surface.heat_transfer_w_m2k = 8.5;
    bits = warnings_of(&w.box);
    cr_expect(bits & TRN_BALANCE_BIT(HOT_SYNTHETIC));
    cr_expect_not(bits & TRN_BALANCE_BIT(HOT_MINERAL));

    worked_case(&w);
    w.mesh.omega1_rad_s *= 3.4; /* v_t 12.84 m/s */
    cr_expect(warnings_of(&w.box) & TRN_BALANCE_BIT(FAST));
    worked_case(&w);
    w.mesh.omega1_rad_s *= 0.79;
    cr_expect(warnings_of(&w.box) & TRN_BALANCE_BIT(SLOW));
    worked_case(&w);
    w.mesh.power_w *= 0.9;
    cr_expect(warnings_of(&w.box) & TRN_BALANCE_BIT(LIGHT));
    worked_case(&w);
    w.box.surface.residue_m = 0.0034; /* 18 becomes 8.91 */
    cr_expect(warnings_of(&w.box) & TRN_BALANCE_BIT(RESIDUE));
    w.box.surface.residue_m = 0.0033; /* 9.05 */
    cr_expect_not(warnings_of(&w.box) & TRN_BALANCE_BIT(RESIDUE));
    worked_case(&w);
    w.box.T_air_k = 251.4;
    w.box.kv40_m2_s = 460e-6;
    trn_balance_result r;
    cr_assert_eq(trn_balance_solve(&w.box, 262, 0, NULL, &r), TRN_OK);
    cr_expect(r.warnings & TRN_BALANCE_BIT(COLD));
    double T[1];
    cr_expect_eq(trn_balance_warmup(&w.box, 60, T, 1), TRN_R_HEAT_COLD_START);
    for (size_t i = 0; i < TRN_BALANCE_WARNINGS; i++)
        cr_expect(trn_balance_warning_text(i)[0] != '\0');
    cr_expect_str_eq(trn_balance_warning_text(TRN_BALANCE_WARNINGS), "");
}

/* A wheel wholly under oil takes the law of the disc (derived: same inputs, same number). */
Test(balance, a_wheel_under_oil_is_a_disc)
{
    worked w;
    worked_case(&w);
    double D = 2 * (0.081 + 0.006 * cos(atan(27.0 / 14)));
    w.mesh.member[1].dip_m = D * 1.08;
    trn_balance_result r = solved(&w.box);
    trn_disc disc;
    cr_assert_geq(trn_loss_disc(D / 2, 0.010, 540 * rpm, r.at.nu_m2_s, r.at.rho_kg_m3, &disc), 0);
    cr_expect(test_near(disc.loss_w, r.at.churning_w, 1e-12));
    double tooth, sides;
    cr_assert_eq(trn_loss_churning_iso(r.at.nu_m2_s, 540 * rpm, D, 0.032, 0.006, 0, 1, &tooth, &sides),
                 TRN_OK);
    cr_expect(test_near(tooth + sides, r.at.churning_iso_w, 1e-12));
    /* just short of it the pitch circle counts as wholly under */
    w.mesh.member[1].dip_m = D * 0.99;
    cr_expect(solved(&w.box).at.churning_w > 0);
}

/* ---- working ------------------------------------------------------------------------------ */

static double noted(const trn_trace *trace, const char *formula, size_t output, const char *object)
{
    double sum = 0;
    for (size_t i = 0; i < trace->count; i++) {
        const trn_note *n = &trace->list[i];
        if (strcmp(n->formula->name, formula) == 0 &&
            (!object || strcmp(n->object, object) == 0)) {
            cr_expect_geq(n->status, 0, "%s", formula);
            sum += n->out[output];
        }
    }
    return sum;
}

/* derived: the noted steps give the result again */
Test(balance, working_adds_up)
{
    helical_box h;
    helical_case(&h);
    trn_trace trace = {0};
    trn_trace_scope(&trace, "heat", "dry", "centre");
    trn_balance_result r;
    cr_assert_eq(trn_balance_solve(&h.box, NAN, TRN_BALANCE_WANT_ALL, &trace, &r), TRN_OK);
    static const char *const order[] = {"oil.viscosity", "oil.density", "gear.loss_factor",
                                        "gear.contact", "gear.friction", "loss.mesh",
                                        "loss.churning", "loss.churning_iso"};
    cr_assert_geq(trace.count, 8);
    for (size_t i = 0; i < 8; i++)
        cr_expect_str_eq(trace.list[i].formula->name, order[i]);
    const trn_note *last = &trace.list[trace.count - 1];
    cr_expect_str_eq(last->formula->name, "heat.balance");
    cr_expect_str_eq(last->object, "centre");
    cr_expect(fabs(last->out[1]) < 1e-6, "residual %.3g", last->out[1]);
    cr_expect_str_eq(trace.object, "centre");
    cr_expect(test_near(noted(&trace, "oil.viscosity", 0, "centre"), r.at.nu_m2_s, 1e-12));
    cr_expect(test_near(noted(&trace, "loss.mesh", 0, NULL), r.at.mesh_w, 1e-12));
    cr_expect(test_near(noted(&trace, "loss.churning", 5, NULL), r.at.churning_w, 1e-12));
    cr_expect(test_near(noted(&trace, "loss.churning_iso", 0, NULL) +
                            noted(&trace, "loss.churning_iso", 1, NULL),
                        r.at.churning_iso_w, 1e-12));
    cr_expect(test_near(noted(&trace, "loss.churning_band", 1, NULL), r.at.churning_high_w, 1e-12));
    cr_expect(test_near(noted(&trace, "loss.seal", 0, NULL), r.at.seals_w, 1e-12));
    cr_expect(test_near(noted(&trace, "loss.cases", 0, "ball") +
                            noted(&trace, "bearing.friction", 2, "centre"),
                        r.at.bearings_w, 1e-12));
    cr_expect(test_near(noted(&trace, "heat.losses", 0, NULL), r.at.loss_w, 1e-12));
    cr_expect(test_near(noted(&trace, "heat.wall", 2, NULL), r.path.k_w_m2k, 1e-9));
    cr_expect(test_near(noted(&trace, "heat.sun", 1, NULL), r.sun_w, 1e-9));
    trn_trace_free(&trace);

    worked w;
    worked_case(&w);
    w.box.surface.residue_m = 0.002;
    cr_assert_eq(trn_balance_solve(&w.box, NAN, TRN_BALANCE_WANT_ALL, &trace, &r), TRN_OK);
    cr_expect_str_eq(trace.list[2].formula->name, "gear.bevel_virtual");
    cr_expect(test_near(noted(&trace, "heat.layered", 0, NULL), 11.25, 1e-12));
    cr_expect_not(trace.failed);
    trn_trace_free(&trace);
}
