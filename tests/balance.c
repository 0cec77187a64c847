/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The heat balance of one gearbox: worked case and identities. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>

#include "balance_case.h"
#include "support.h"

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
        trn_churning_gear g1 = {31 * m_t / 2,
                                0.0335,
                                0.00475,
                                31,
                                0.0314 - 0.00475,
                                h.box.V_oil_m3,
                                h.meshes[0].omega1_rad_s,
                                20 * deg,
                                beta};
        trn_churning_gear g2 = {
            22 * 0.00475 / 2,         0.0361,   0.00475, 22, 0.0093 - 0.00475, h.box.V_oil_m3,
            h.meshes[1].omega1_rad_s, 20 * deg, 0};
        trn_churning_gear g3 = {37 * 0.00475 / 2,
                                0.0297,
                                0.00475,
                                37,
                                0.0274 - 0.00475,
                                h.box.V_oil_m3,
                                h.meshes[1].omega1_rad_s * 22 / 37,
                                20 * deg,
                                0};
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
