/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Path of contact, virtual gears, friction of a mesh. Published values: tests/published/heat.csv.
 */
#include <criterion/criterion.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_math.h>
#include <math.h>
#include <string.h>
#include <trunnion/formula.h>
#include <trunnion/gear_loss.h>

#include "support.h"

static const double deg = M_PI / 180;

/* Load share times sliding at u pitches from the start of the path; pitch point at eps_2. */
static double sliding(double u, void *context)
{
    const trn_gear_path *p = context;
    double share = u >= 1 || u + 1 <= p->eps_a ? 0.5 : 1;
    return share * fabs(u - p->eps_2);
}

/* Sliding speed over base circle speed is 2 pi (1/z1 + 1/z2) per pitch from the pitch point; the
 * flank force is 1/cos beta_b of its transverse part. One turn of the teeth takes one pitch. */
static double by_integration(double z1, double z2, trn_gear_path *p)
{
    gsl_integration_workspace *w = gsl_integration_workspace_alloc(100);
    gsl_function f = {.function = sliding, .params = p};
    double cuts[5] = {0, p->eps_a - 1, p->eps_2, 1, p->eps_a};
    if (cuts[1] > cuts[2]) {
        double t = cuts[1];
        cuts[1] = cuts[2];
        cuts[2] = t;
    }
    double sum = 0;
    double error = 0;
    cr_assert_eq(gsl_integration_qagp(&f, cuts, 5, 1e-13, 1e-13, 100, w, &sum, &error), 0);
    gsl_integration_workspace_free(w);
    return 2 * M_PI * (1 / z1 + 1 / z2) / cos(p->beta_b_rad) * sum;
}

/* derived: friction work along the path, load halved in double contact, while no part exceeds 1 */
Test(gear_loss, loss_factor_is_the_integral_over_the_path)
{
    size_t used = 0;
    for (double z1 = 13.7; z1 < 40; z1 += 5.3)
        for (double beta = 0; beta < 35; beta += 11.7)
            for (double shift = -0.11; shift < 0.2; shift += 0.097) {
                double z2 = 2.385 * z1;
                double m = 0.00435;
                double d1 = z1 * m / cos(beta * deg);
                double d2 = z2 * m / cos(beta * deg);
                trn_gear_path p;
                trn_status status = trn_gear_loss_factor(
                    z1, z2, m, 20 * deg, beta * deg, (d1 + d2) / 2 * 1.003,
                    d1 + 2 * m * (0.9 + shift), d2 + 2 * m * (0.9 - shift), &p);
                cr_assert_geq(status, 0);
                if (p.eps_1 > 1 || p.eps_2 > 1 || p.eps_a < 1)
                    continue;
                used++;
                double integral = by_integration(z1, z2, &p);
                cr_expect(test_near(p.H_v, integral, 1e-9), "z1 %g beta %g: %.12g, %.12g", z1, beta,
                          p.H_v, integral);
            }
    cr_expect_gt(used, 20);
}

/* derived: with one part above 1 the closed form lies (eps - 1)^2/2 of the bracket higher */
Test(gear_loss, closed_form_is_above_the_integral_for_a_long_part)
{
    trn_gear_path p;
    cr_assert_geq(trn_gear_loss_factor(16, 24, 0.0045, 20 * deg, 0, 0.0915, 0.08877, 0.1125, &p),
                  0);
    cr_assert_gt(p.eps_1, 1);
    double factor = M_PI * (1.0 / 16 + 1.0 / 24);
    double excess = factor * (p.eps_1 - 1) * (p.eps_1 - 1) / 2;
    cr_expect(fabs(p.H_v - excess - by_integration(16, 24, &p)) < 0.02 * p.H_v);
}

/* memory: ISO 14635 type C test gear */
Test(gear_loss, test_gear_of_type_c)
{
    trn_gear_path p;
    cr_assert_eq(trn_gear_loss_factor(16, 24, 0.0045, 20 * deg, 0, 0.0915, 0.08246, 0.11836, &p),
                 TRN_OK);
    cr_expect(fabs(p.alpha_wt_rad / deg - 22.439) < 5e-4);
    cr_expect(fabs(p.eps_1 - 0.7226) < 5e-5);
    cr_expect(fabs(p.eps_2 - 0.7149) < 5e-5);
    cr_expect(fabs(p.H_v - 0.1950) < 5e-5);
}

/* derived: exchange of the members, hand of the helix */
Test(gear_loss, symmetric_in_members_and_hand)
{
    trn_gear_path a, b;
    cr_assert_geq(
        trn_gear_loss_factor(21, 34, 3.5e-3, 20 * deg, 17.5 * deg, 0.1013, 0.0851, 0.1319, &a), 0);
    cr_assert_geq(
        trn_gear_loss_factor(34, 21, 3.5e-3, 20 * deg, -17.5 * deg, 0.1013, 0.1319, 0.0851, &b), 0);
    cr_expect(test_near(a.H_v, b.H_v, 1e-14));
    cr_expect(test_near(a.eps_1, b.eps_2, 1e-12));
    cr_expect(test_near(a.eps_2, b.eps_1, 1e-12));
    trn_gear_bevel c, d;
    cr_assert_geq(
        trn_gear_bevel_virtual(13, 31, 7.3e-3, 0.0365, 20 * deg, 83 * deg, 32.5 * deg, &c), 0);
    cr_assert_geq(
        trn_gear_bevel_virtual(31, 13, 7.3e-3, 0.0365, 20 * deg, 83 * deg, -32.5 * deg, &d), 0);
    cr_expect(test_near(c.path.H_v, d.path.H_v, 1e-13));
    cr_expect(test_near(c.delta1_rad, d.delta2_rad, 1e-14));
    cr_expect(test_near(c.R_e_m, d.R_e_m, 1e-14));
    cr_expect(test_near(c.delta1_rad + c.delta2_rad, 83 * deg, 1e-14));
    cr_expect(test_near(sin(c.delta1_rad) / sin(c.delta2_rad), 13.0 / 31, 1e-14));
}

/* derived: axes almost parallel, a bevel pair is the cylindrical pair of its mean module */
Test(gear_loss, bevel_pair_tends_to_the_cylindrical_one)
{
    trn_gear_bevel bevel;
    trn_gear_path spur;
    double m = 4.27e-3;
    cr_assert_geq(trn_gear_bevel_virtual(17, 29, m, 0.023, 20 * deg, 1e-4 * deg, 0, &bevel), 0);
    cr_assert_geq(trn_gear_loss_factor(17, 29, m, 20 * deg, 0, 23 * m, 19 * m, 31 * m, &spur), 0);
    cr_expect(test_near(bevel.path.H_v, spur.H_v, 1e-6), "%.12g %.12g", bevel.path.H_v, spur.H_v);
    cr_expect(test_near(bevel.path.eps_a, spur.eps_a, 1e-6));
}

Test(gear_loss, remarks)
{
    trn_gear_path p;
    /* derived: the tip of the wheel passes the pinion's base circle */
    cr_expect_eq(trn_gear_loss_factor(9, 71, 4e-3, 20 * deg, 0, 0.160, 0.044, 0.292, &p),
                 TRN_R_GEAR_INTERFERENCE);
    /* derived: stub teeth */
    cr_expect_eq(trn_gear_loss_factor(23, 41, 4e-3, 20 * deg, 0, 0.128, 0.0955, 0.1675, &p),
                 TRN_R_GEAR_PATH);
    cr_expect_lt(p.eps_a, 1);
    trn_gear_bevel b;
    cr_expect_eq(trn_gear_bevel_virtual(19, 33, 5e-3, 0.0333, 20 * deg, M_PI_2, 0, &b), TRN_OK);
    cr_expect_eq(trn_gear_bevel_virtual(19, 33, 5e-3, 0.0334, 20 * deg, M_PI_2, 0, &b),
                 TRN_R_GEAR_FACE); /* 0.35 R_e is 33.32 mm */
}

/* derived: exponents of the printed form, by ratios */
Test(gear_loss, friction_follows_its_powers)
{
    double a, b;
    cr_assert_eq(trn_gear_friction(238.6e3, 3.17, 9.42e-3, 31.8e-3, 0.65e-6, 1, &a), TRN_OK);
    cr_assert_eq(trn_gear_friction(2 * 238.6e3, 3.17, 9.42e-3, 31.8e-3, 0.65e-6, 1, &b), TRN_OK);
    cr_expect(test_near(b / a, pow(2, 0.2), 1e-13));
    cr_assert_eq(trn_gear_friction(238.6e3, 2 * 3.17, 9.42e-3, 31.8e-3, 0.65e-6, 1, &b), TRN_OK);
    cr_expect(test_near(b / a, pow(2, -0.2), 1e-13));
    cr_assert_eq(trn_gear_friction(238.6e3, 3.17, 2 * 9.42e-3, 31.8e-3, 0.65e-6, 1, &b), TRN_OK);
    cr_expect(test_near(b / a, pow(2, -0.2), 1e-13));
    cr_assert_eq(trn_gear_friction(238.6e3, 3.17, 9.42e-3, 2 * 31.8e-3, 0.65e-6, 1, &b), TRN_OK);
    cr_expect(test_near(b / a, pow(2, -0.05), 1e-13));
    cr_assert_eq(trn_gear_friction(238.6e3, 3.17, 9.42e-3, 31.8e-3, 2 * 0.65e-6, 1, &b), TRN_OK);
    cr_expect(test_near(b / a, pow(2, 0.25), 1e-13));
    /* memory: the floor of the method, and no step at it */
    cr_expect_eq(trn_gear_friction(0, 3.17, 9.42e-3, 31.8e-3, 0.65e-6, 1, &a), TRN_R_GEAR_LIGHT);
    cr_expect_eq(trn_gear_friction(150e3, 3.17, 9.42e-3, 31.8e-3, 0.65e-6, 1, &b), TRN_OK);
    cr_expect(test_near(a, b, 1e-13));
}

/* derived: P = F_bt v_bt, the base force and the base circle speed carry the power */
Test(gear_loss, contact_carries_the_power)
{
    trn_gear_touch t;
    double alpha_t = atan(tan(20 * deg) / cos(17.5 * deg));
    double T1 = 231.7;
    double omega = 71.3;
    double d1 = 0.0771;
    double b = 0.0337;
    cr_assert_eq(trn_gear_contact(T1, omega, d1, b, d1, 0.1249, 20 * deg, 17.5 * deg, &t), TRN_OK);
    cr_expect(test_near(t.F_over_b_n_m * b * omega * d1 / 2 * cos(alpha_t), T1 * omega, 1e-14));
    cr_expect(test_near(t.v_sum_m_s, 2 * t.v_t_m_s * sin(alpha_t), 1e-14));
    trn_gear_touch mirror;
    cr_assert_eq(trn_gear_contact(T1, omega, d1, b, d1, 0.1249, 20 * deg, -17.5 * deg, &mirror),
                 TRN_OK);
    cr_expect(test_near(t.rho_red_m, mirror.rho_red_m, 1e-15));
}

/* derived: the same pair in mm and in inch */
Test(gear_loss, inch_and_millimetre)
{
    const trn_formula *f = trn_formula_find("gear.bevel_virtual");
    cr_assert_not_null(f);
    const char *mm[] = {"z1=13", "z2=31", "m_et=7.3 mm", "b=36.5 mm", "alpha=20", "psi=32.5 deg"};
    const char *inch[] = {"z1=13",
                          "z2=31",
                          "m_et=0.28740157480315 in",
                          "b=1.43700787401575 in",
                          "alpha=0.349065850398866 rad",
                          "psi=0.567232006898157 rad"};
    trn_answer a, b;
    cr_assert_geq(trn_formula_evaluate(f, mm, 6, &a), 0);
    cr_assert_geq(trn_formula_evaluate(f, inch, 6, &b), 0);
    for (size_t i = 0; i < f->output_count; i++)
        cr_expect(test_near(a.out[i].x, b.out[i].x, 1e-12), "%s", f->outputs[i].name);
}

Test(gear_loss, refused_inputs_leave_outputs_alone)
{
    static const double good[8] = {21, 34, 3.5e-3, 0.349, 0.31, 0.1013, 0.0851, 0.1319};
    static const double bad[] = {0, -1, NAN, INFINITY, -INFINITY};
    trn_gear_path p;
    memset(&p, 0x5a, sizeof p);
    trn_gear_path before = p;
    for (size_t i = 0; i < 8; i++)
        for (size_t k = 0; k < 5; k++) {
            double x[8];
            memcpy(x, good, sizeof x);
            x[i] = bad[k];
            if (i == 4 && k == 0)
                continue; /* a helix of 0 is a spur gear */
            cr_expect_eq(trn_gear_loss_factor(x[0], x[1], x[2], x[3], x[4], x[5], x[6], x[7], &p),
                         TRN_E_DOMAIN, "input %zu, %g", i, bad[k]);
        }
    cr_expect_eq(memcmp(&p, &before, sizeof p), 0);
    trn_gear_bevel b;
    memset(&b, 0x5a, sizeof b);
    trn_gear_bevel b_before = b;
    /* crown gear, inner bevel, face as long as the cone, right pressure angle */
    cr_expect_eq(trn_gear_bevel_virtual(17, 34, 4e-3, 0.01, 20 * deg, 120 * deg, 0, &b),
                 TRN_E_DOMAIN);
    cr_expect_eq(trn_gear_bevel_virtual(17, 34, 4e-3, 0.01, 20 * deg, 140 * deg, 0, &b),
                 TRN_E_DOMAIN);
    cr_expect_eq(trn_gear_bevel_virtual(14, 27, 6e-3, 0.0913, 20 * deg, M_PI_2, 0, &b),
                 TRN_E_DOMAIN);
    cr_expect_eq(trn_gear_bevel_virtual(14, 27, 6e-3, 0.03, 46 * deg, M_PI_2, 0, &b), TRN_E_DOMAIN);
    cr_expect_eq(trn_gear_bevel_virtual(14, 27, 6e-3, 0.03, 20 * deg, NAN, 0, &b), TRN_E_DOMAIN);
    cr_expect_eq(trn_gear_bevel_virtual(14, 27, 6e-3, 0.03, 20 * deg, M_PI_2, 61 * deg, &b),
                 TRN_E_DOMAIN);
    cr_expect_eq(memcmp(&b, &b_before, sizeof b), 0);
    double mu = -7.1;
    cr_expect_eq(trn_gear_friction(-1, 3, 0.01, 0.03, 1e-6, 1, &mu), TRN_E_DOMAIN);
    cr_expect_eq(trn_gear_friction(2e5, 0, 0.01, 0.03, 1e-6, 1, &mu), TRN_E_DOMAIN);
    cr_expect_eq(trn_gear_friction(2e5, 3, 0.01, NAN, 1e-6, 1, &mu), TRN_E_DOMAIN);
    cr_expect_eq(trn_gear_friction(2e5, 3, 0.01, 0.03, 1e-6, 0, &mu), TRN_E_DOMAIN);
    cr_expect_eq(mu, -7.1);
}
