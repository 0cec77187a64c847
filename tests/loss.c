/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Losses of bearings, gears in oil, seals. Published values: tests/published/heat.csv. */
#include <criterion/criterion.h>
#include <gsl/gsl_math.h>
#include <math.h>
#include <string.h>
#include <trunnion/formula.h>
#include <trunnion/loss.h>

#include "support.h"

static const double rpm = M_PI / 30;
static const double deg = M_PI / 180;

/* ---- bearings ----------------------------------------------------------------------------- */

static double moment(double nu_mm2_s, double n_rpm, double dm_m)
{
    double M0 = NAN;
    double M1, loss;
    cr_assert_eq(trn_bearing_friction(3.3, 0.0007, nu_mm2_s * 1e-6, n_rpm * rpm, dm_m, 2385, &M0,
                                      &M1, &loss),
                 TRN_OK);
    cr_expect(test_near(loss, (M0 + M1) * n_rpm * rpm, 1e-14)); /* derived: torque times speed */
    cr_expect(test_near(M1, 0.0007 * 2385 * dm_m, 1e-14));
    return M0;
}

/* memory: form of Palmgren's moment; the step at nu n = 2000 is 2000^(2/3) against 160 */
Test(loss, bearing_moment_follows_its_powers)
{
    cr_expect(test_near(moment(2 * 53.7, 612, 0.0525) / moment(53.7, 612, 0.0525), cbrt(4), 1e-13));
    cr_expect(test_near(moment(53.7, 612, 0.105) / moment(53.7, 612, 0.0525), 8, 1e-13));
    cr_expect(test_near(moment(53.7, 1, 0.0525), moment(53.7, 37.2, 0.0525), 1e-14));
    double below = moment(19.9999, 100, 0.0525);
    double above = moment(20, 100, 0.0525);
    cr_expect(test_near(below / above, 160 / pow(2000, 2.0 / 3), 1e-12));
    cr_expect(test_near(moment(10, 200, 0.0525), above, 1e-12));
    cr_expect(test_near(moment(40, 50, 0.0525), above, 1e-12)); /* 2000 after a trip through SI */
}

/* memory: table of friction values by kind */
Test(loss, friction_values_by_kind)
{
    static const struct {
        trn_friction_kind kind;
        double Fr, Fa, C0, angle, f0, f1, P1;
    } rows[] = {
        {TRN_FRICTION_DEEP_GROOVE, 2000, 500, 16000, NAN, 2, 0.0009, 2000},
        {TRN_FRICTION_DEEP_GROOVE, 1000, 2000, 16000, NAN, 2, 0.0009, 5900},
        {TRN_FRICTION_ANGULAR_15, 1000, 3000, 9000, NAN, 3.3, 0.001, 2900},
        {TRN_FRICTION_ANGULAR_40, 1000, 6000, 9000, NAN, 3.3, 0.001, 5900},
        {TRN_FRICTION_TAPERED, 1000, 3000, NAN, 15, 6, 0.0004, 8956.92193816530},
        {TRN_FRICTION_TAPERED, 9000, 1000, NAN, 15, 6, 0.0004, 9000},
        {TRN_FRICTION_CYLINDRICAL, 4170, 0, NAN, NAN, 3, 0.0003, 4170},
        {TRN_FRICTION_NEEDLE, 4170, 90, NAN, NAN, 12, 0.002, 4170},
    };
    static const double P0[] = {2000, 1600, 1880, 2060, 0, 0, 0, 0};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double f0, f1, P1;
        cr_assert_eq(trn_bearing_friction_values(rows[i].kind, rows[i].Fr, rows[i].Fa, rows[i].C0,
                                                 rows[i].angle * deg, &f0, &f1, &P1),
                     TRN_OK);
        double q = i < 2 ? 0.55 : 0.33;
        double wanted = P0[i] > 0 ? rows[i].f1 * pow(P0[i] / rows[i].C0, q) : rows[i].f1;
        cr_expect_eq(f0, rows[i].f0, "row %zu", i);
        cr_expect(test_near(f1, wanted, 1e-12), "row %zu: %.12g, %.12g", i, f1, wanted);
        cr_expect(test_near(P1, rows[i].P1, 1e-12), "row %zu: %.12g, %.12g", i, P1, rows[i].P1);
        cr_expect_eq(trn_bearing_friction_f0(rows[i].kind), rows[i].f0);
    }
    double f[3] = {-7.1, -7.1, -7.1};
    cr_expect_eq(trn_bearing_friction_values(TRN_FRICTION_DEEP_GROOVE, 1e3, 0, NAN, NAN, &f[0],
                                             &f[1], &f[2]),
                 TRN_E_DOMAIN);
    cr_expect_eq(
        trn_bearing_friction_values(TRN_FRICTION_TAPERED, 1e3, 0, 1e4, NAN, &f[0], &f[1], &f[2]),
        TRN_E_DOMAIN);
    cr_expect_eq(
        trn_bearing_friction_values(TRN_FRICTION_KINDS, 1e3, 0, 1e4, 0.2, &f[0], &f[1], &f[2]),
        TRN_E_DOMAIN);
    cr_expect(f[0] == -7.1 && f[1] == -7.1 && f[2] == -7.1);
    cr_expect(isnan(trn_bearing_friction_f0(TRN_FRICTION_KINDS)));
}

/* ---- churning ----------------------------------------------------------------------------- */

static trn_churning_gear wheel(void)
{
    return (trn_churning_gear){.R_m = 0.0724,
                               .b_m = 0.0285,
                               .m_m = 0.00425,
                               .z = 34,
                               .h_m = 0.0317,
                               .V_oil_m3 = 2.9e-3,
                               .n_rad_s = 873 * rpm,
                               .alpha_rad = 20 * deg,
                               .beta_rad = 12.5 * deg};
}

static trn_churning churned(trn_churning_gear g, double nu_mm2_s)
{
    trn_churning c = {NAN, NAN, NAN, NAN, NAN, NAN};
    cr_assert_geq(trn_loss_churning(&g, 861.3, nu_mm2_s * 1e-6, &c), 0);
    return c;
}

/* derived: torque and power, density, no oil no loss, wetted surface of a gear wholly under */
Test(loss, churning_identities)
{
    trn_churning_gear g = wheel();
    trn_churning c = churned(g, 87.3), d;
    cr_expect(test_near(c.loss_w, c.torque_nm * g.n_rad_s, 1e-14));
    cr_assert_geq(trn_loss_churning(&g, 2 * 861.3, 87.3e-6, &d), 0);
    cr_expect(test_near(d.torque_nm, 2 * c.torque_nm, 1e-14));
    cr_expect(test_near(c.Re, g.n_rad_s * g.R_m * g.b_m / 87.3e-6, 1e-14));
    g.h_m = 0;
    cr_expect_eq(churned(g, 87.3).torque_nm, 0);
    g.h_m = 2 * g.R_m;
    trn_churning_ready r;
    cr_assert_geq(trn_loss_churning_prepare(&g, &r), 0);
    double cylinder = 2 * M_PI * g.R_m * g.R_m + 2 * M_PI * g.R_m * g.b_m;
    double flanks = 2 * g.z * 2.25 * g.m_m * g.b_m / (cos(20 * deg) * cos(12.5 * deg));
    cr_expect(test_near(r.S_m_m2, cylinder + flanks, 1e-13));
    g = wheel();
    g.beta_rad = -g.beta_rad;
    cr_expect(test_near(churned(g, 87.3).loss_w, c.loss_w, 1e-15));
}

/* derived: the linear pieces meet at Re 6000 and 9000 and at gamma 750 and 1250 */
Test(loss, churning_is_continuous)
{
    trn_churning_gear g = wheel();
    double Re_nu = g.n_rad_s * g.R_m * g.b_m * 1e6;
    for (size_t i = 0; i < 2; i++) {
        double nu = Re_nu / (i ? 9000 : 6000);
        double a = churned(g, nu * (1 - 1e-9)).C_m;
        double b = churned(g, nu * (1 + 1e-9)).C_m;
        cr_expect(test_near(a, b, 1e-8), "%.12g %.12g", a, b);
    }
    for (size_t i = 0; i < 2; i++) {
        double n = sqrt((i ? 1250 : 750) / cbrt(g.R_m * g.b_m * g.m_m));
        g.n_rad_s = n * (1 - 1e-10);
        double a = churned(g, 61.7).C_m;
        g.n_rad_s = n * (1 + 1e-10);
        double b = churned(g, 61.7).C_m;
        cr_expect(test_near(a, b, 1e-8), "%.12g %.12g", a, b);
    }
}

/* derived: the plain text of the law, at random places of all regimes */
Test(loss, churning_by_the_law_as_printed)
{
    for (size_t i = 0; i < 60; i++) {
        trn_churning_gear g = wheel();
        g.n_rad_s = (213 + 61.3 * (double)i) * rpm;
        g.h_m = 0.0011 + 0.0021 * (double)(i % 31);
        double nu = (11.3 + 17.9 * (double)(i % 13)) * 1e-6;
        trn_churning c = churned(g, nu * 1e6);
        double D = 2 * g.R_m;
        double E[2] = {1.366 * pow(c.Re, -0.21), 20.797 * pow(c.Re, -0.21)};
        if (c.Re >= 9000) {
            E[0] = 0.239;
            E[1] = 3.644;
        } else if (c.Re > 6000) {
            E[0] = 1.366 * pow(6000, -0.21);
            E[1] = 20.797 * pow(6000, -0.21);
            E[0] += (0.239 - E[0]) * (c.Re - 6000) / 3000;
            E[1] += (3.644 - E[1]) * (c.Re - 6000) / 3000;
        }
        double low =
            E[0] * pow(g.h_m / D, 0.45) * pow(g.V_oil_m3 / pow(D, 3), 0.1) * pow(c.Fr, -0.6);
        double high = E[1] * pow(g.h_m / D, 0.1) * pow(g.V_oil_m3 / pow(D, 3), -0.35) *
                      pow(c.Fr, -0.88) * pow(g.b_m / D, 0.85);
        double w = fmin(fmax((c.gamma_m_s2 - 750) / 500, 0), 1);
        double C_m = (1 - w) * low + w * high;
        cr_expect(test_near(c.C_m, C_m, 1e-12), "%zu: %.15g, %.15g", i, c.C_m, C_m);
        double theta = acos(1 - g.h_m / g.R_m);
        double S =
            g.R_m * g.R_m * (2 * theta - sin(2 * theta)) + D * g.b_m * theta +
            2 * g.z * theta * 2.25 * g.m_m * g.b_m / (M_PI * cos(g.alpha_rad) * cos(g.beta_rad));
        double torque = 0.5 * 861.3 * pow(g.n_rad_s, 2) * pow(g.R_m, 3) * S * C_m;
        cr_expect(test_near(c.torque_nm, torque, 1e-12));
    }
}

Test(loss, churning_remarks)
{
    trn_churning_gear g = wheel();
    trn_churning c;
    cr_expect_eq(trn_loss_churning(&g, 861, 60e-6, &c), TRN_OK);
    cr_expect_eq(trn_loss_churning(&g, 861, 29e-6, &c), TRN_R_LOSS_GROUND);
    g.R_m = 0.081;
    cr_expect_eq(trn_loss_churning(&g, 861, 60e-6, &c), TRN_R_LOSS_GROUND);
    g.R_m = 0.080; /* the limit itself belongs to the tested ground */
    cr_expect_eq(trn_loss_churning(&g, 861, 60e-6, &c), TRN_OK);
    g.h_m = 0.0641;
    cr_expect_eq(trn_loss_churning(&g, 861, 60e-6, &c), TRN_R_LOSS_DEEP);
}

/* derived: linear in viscosity and depth, cubic in speed, faces as a cylinder of length D/5 */
Test(loss, iso_churning_follows_its_powers)
{
    double t1, s1, t2, s2;
    cr_assert_eq(
        trn_loss_churning_iso(63.4e-6, 81.2, 0.1735, 0.0345, 5.75e-3, 24 * deg, 0.214, &t1, &s1),
        TRN_OK);
    cr_assert_eq(trn_loss_churning_iso(2 * 63.4e-6, 2 * 81.2, 0.1735, 0.0345, 5.75e-3, 24 * deg,
                                       3 * 0.214, &t2, &s2),
                 TRN_OK);
    cr_expect(test_near(t2 / t1, 48, 1e-13));
    cr_expect(test_near(s2 / s1, 48, 1e-13));
    cr_assert_eq(trn_loss_churning_iso(63.4e-6, 81.2, 2 * 0.1735, 0.0345, 5.75e-3, -24 * deg, 0.214,
                                       &t2, &s2),
                 TRN_OK);
    cr_expect(test_near(t2 / t1, pow(2, 4.7), 1e-13));
    cr_expect(test_near(s2 / s1, pow(2, 5.7), 1e-13));
    double R_f = 7.93 - 4.648 / 5.75;
    cr_expect(test_near(t1 / s1, 5 * 34.5 * R_f / sqrt(tan(24 * deg)) / 173.5, 1e-13));
    cr_expect_eq(trn_loss_churning_iso(63e-6, 81, 0.17, 0.03, 0.5861e-3, 0, 0.2, &t2, &s2),
                 TRN_E_DOMAIN);
    cr_expect_eq(trn_loss_churning_iso(63e-6, 81, 0.17, 0.03, 0.5862e-3, 0, 0.2, &t2, &s2), TRN_OK);
}

/* practice: the band holds both laws and the scatter of the central one */
Test(loss, churning_band_holds_both_laws)
{
    static const double iso[] = {0, 3.7, 11.9, 17.9, 26.7, 26.9, 400};
    for (size_t i = 0; i < 7; i++) {
        double low, high;
        cr_assert_eq(trn_loss_churning_band(17.863, iso[i], 1.5, &low, &high), TRN_OK);
        cr_expect(low <= fmin(iso[i], 17.863 / 1.5) && high >= fmax(iso[i], 17.863 * 1.5));
        cr_expect(low < 17.863 && high > 17.863);
    }
}

/* published: free disc in laminar flow, 3.870 Re^-0.5 (Bird, Stewart, Lightfoot): an enclosed
 * disc in separate layers stays below it; derived: the largest regime wins, so no steps */
Test(loss, disc_regimes)
{
    trn_disc a, b;
    for (double n = 3; n < 400; n *= 1.31) {
        cr_assert_geq(trn_loss_disc(0.088, 0.0095, n, 74e-6, 861, &a), 0);
        cr_assert_geq(trn_loss_disc(0.088, 0.0095, n * (1 + 1e-9), 74e-6, 861, &b), 0);
        cr_expect(test_near(a.torque_nm, b.torque_nm, 1e-8));
        cr_expect(test_near(a.loss_w, a.torque_nm * n, 1e-14));
        double G = 9.5 / 88;
        double laws[4] = {2 * M_PI / (G * a.Re), 3.7 * pow(G, 0.1) * pow(a.Re, -0.5),
                          0.08 * pow(G, -1.0 / 6) * pow(a.Re, -0.25),
                          0.102 * pow(G, 0.1) * pow(a.Re, -0.2)};
        for (size_t i = 0; i < 4; i++)
            cr_expect_leq(laws[i], a.C_M * (1 + 1e-13));
        cr_expect(test_near(laws[a.regime - 1], a.C_M, 1e-13));
        if (a.regime == 2)
            cr_expect_lt(a.C_M, 3.870 / sqrt(a.Re));
    }
    cr_expect_eq(trn_loss_disc(0.088, 0.0095, 67, 74e-6, 861, &a), TRN_OK);
    cr_expect_eq(trn_loss_disc(0.088, 0.0195, 67, 74e-6, 861, &a), TRN_R_LOSS_DISC);
    cr_expect_eq(trn_loss_disc(0.088, 0.0095, 6, 74e-6, 861, &a), TRN_R_LOSS_DISC);
}

/* derived: the two parts of the report meet at one diameter for each material */
Test(loss, seal_parts_meet)
{
    static const double factor[] = {2.429e-3, 3.737e-3};
    static const double printed_mm[] = {33.1, 50.9};
    for (int i = 0; i < 2; i++) {
        double d = factor[i] * 2 * M_PI / 60 / 7.69e-6;
        cr_expect(fabs(d - printed_mm[i]) < 0.05, "%.6g", d);
        double one, two;
        cr_assert_eq(trn_loss_seal(d * 1e-3, 61.7, 1, (trn_seal_material)i, &one), TRN_OK);
        cr_assert_eq(trn_loss_seal(d * 1e-3, 61.7, 2, (trn_seal_material)i, &two), TRN_OK);
        cr_expect(test_near(one, two, 1e-13));
    }
}

/* ---- units and refused inputs ------------------------------------------------------------- */

/* derived: the same gear in mm and L, and in inch and US gallons */
Test(loss, inch_and_millimetre)
{
    const trn_formula *f = trn_formula_find("loss.churning");
    cr_assert_not_null(f);
    const char *mm[] = {"R=81.28",           "b=33.02", "m=5.08",  "z=32", "h=38.1",
                        "V_oil=3.785411784", "rho=861", "nu=73.1", "n=612"};
    const char *inch[] = {"R=3.2 in",       "b=1.3 in",    "m=0.2 in",
                          "z=32",           "h=1.5 in",    "V_oil=1 gal",
                          "rho=0.861 kg/L", "nu=73.1 cSt", "n=64.0884901332188 rad/s"};
    trn_answer a, b;
    cr_assert_geq(trn_formula_evaluate(f, mm, 9, &a), 0);
    cr_assert_geq(trn_formula_evaluate(f, inch, 9, &b), 0);
    for (size_t i = 0; i < f->output_count; i++)
        cr_expect(test_near(a.out[i].x, b.out[i].x, 1e-12), "%s", f->outputs[i].name);
}

Test(loss, refused_inputs_leave_outputs_alone)
{
    static const double bad[] = {-1, NAN, INFINITY, -INFINITY};
    double out[3] = {-7.1, -7.1, -7.1};
    for (size_t k = 0; k < 4; k++) {
        for (size_t i = 0; i < 6; i++) {
            double x[6] = {2, 3e-4, 60e-6, 57, 0.06, 1e3};
            x[i] = bad[k];
            cr_expect_eq(
                trn_bearing_friction(x[0], x[1], x[2], x[3], x[4], x[5], &out[0], &out[1], &out[2]),
                TRN_E_DOMAIN);
        }
        for (size_t i = 0; i < 6; i++) {
            double x[6] = {60e-6, 57, 0.17, 0.03, 5e-3, 0.2};
            x[i] = bad[k];
            cr_expect_eq(
                trn_loss_churning_iso(x[0], x[1], x[2], x[3], x[4], 0.2, x[5], &out[0], &out[1]),
                TRN_E_DOMAIN);
        }
        cr_expect_eq(trn_loss_seal(bad[k], 57, 2, TRN_SEAL_NITRILE, &out[0]), TRN_E_DOMAIN);
        cr_expect_eq(trn_loss_seal(0.04, bad[k], 1, TRN_SEAL_NITRILE, &out[0]), TRN_E_DOMAIN);
        cr_expect_eq(trn_loss_mesh(bad[k], 0.05, 0.2, &out[0]), TRN_E_DOMAIN);
        cr_expect_eq(trn_loss_churning_band(bad[k], 3, 1.5, &out[0], &out[1]), TRN_E_DOMAIN);
        cr_expect_eq(trn_loss_churning_band(3, 3, bad[k], &out[0], &out[1]), TRN_E_DOMAIN);
        cr_expect_eq(trn_loss_cases((const double[]){bad[k]}, (const double[]){1}, 1, &out[0]),
                     TRN_E_DOMAIN);
        trn_disc disc = {.Re = -7.1};
        cr_expect_eq(trn_loss_disc(0.1, bad[k], 57, 60e-6, 860, &disc), TRN_E_DOMAIN);
        cr_expect_eq(disc.Re, -7.1);
        trn_churning c = {.Re = -7.1};
        trn_churning_gear g = wheel();
        double *inputs[] = {&g.R_m, &g.b_m, &g.m_m, &g.z, &g.h_m, &g.V_oil_m3, &g.n_rad_s};
        for (size_t i = 0; i < 7; i++) {
            double was = *inputs[i];
            *inputs[i] = bad[k];
            cr_expect_eq(trn_loss_churning(&g, 861, 60e-6, &c), TRN_E_DOMAIN, "input %zu", i);
            *inputs[i] = was;
        }
        cr_expect_eq(trn_loss_churning(&g, bad[k], 60e-6, &c), TRN_E_DOMAIN);
        cr_expect_eq(trn_loss_churning(&g, 861, bad[k], &c), TRN_E_DOMAIN);
        cr_expect_eq(c.Re, -7.1);
    }
    cr_expect_eq(trn_loss_seal(0.04, 57, 3, TRN_SEAL_NITRILE, &out[0]), TRN_E_DOMAIN);
    cr_expect_eq(trn_loss_cases((const double[]){1}, (const double[]){0}, 1, &out[0]),
                 TRN_E_DOMAIN);
    cr_expect(out[0] == -7.1 && out[1] == -7.1 && out[2] == -7.1);
}
