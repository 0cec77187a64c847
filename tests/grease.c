/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Grease of rolling bearings. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <string.h>
#include <trunnion/formula.h>
#include <trunnion/grease.h>
#include <trunnion/oil.h>

#include "support.h"

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

static const double ice = 273.15, hour = 3600, mm = 1e-3;
static const double rpm = 0.10471975511965977462;
static const double mark = -77.25; /* what an untouched output still holds */

Test(grease, interval_by_kind)
{
    /* published: k = 10, 5, 5, 1, 1 */
    const double k[TRN_GREASE_BEARINGS] = {10, 5, 5, 1, 1};
    for (int kind = 0; kind < TRN_GREASE_BEARINGS; kind++)
        for (double n = 133.7; n < 2500; n *= 1.93) {
            double t = NAN;
            double d = 43.7;
            double wanted = k[kind] * (14e6 / (n * sqrt(d)) - 4 * d);
            trn_status status = trn_grease_interval((trn_grease_bearing)kind, n * rpm, d * mm, &t);
            cr_expect_eq(status, wanted > 30000 ? TRN_R_GREASE_AGES : TRN_OK);
            cr_expect(test_near(t / hour, wanted, 1e-12), "%s: wanted %g got %g",
                      trn_grease_bearings[kind], wanted, t / hour);
        }
}

Test(grease, interval_falls_with_speed_and_bore)
{
    double before = INFINITY;
    double t = NAN;
    for (double n = 50; n < 9000; n *= 1.37) {
        if (trn_grease_interval(TRN_GREASE_BALL, n * rpm, 51.3 * mm, &t) < 0)
            break;
        cr_expect_lt(t, before);
        before = t;
    }
    /* derived: it ends where n = 3.5e6/d^1.5; a hair above nothing is left */
    double end = 3.5e6 / pow(51.3, 1.5);
    cr_expect_eq(trn_grease_interval(TRN_GREASE_BALL, end * 0.9999 * rpm, 51.3 * mm, &t), TRN_OK);
    cr_expect(t > 0);
    t = mark;
    cr_expect_eq(trn_grease_interval(TRN_GREASE_BALL, end * 1.0001 * rpm, 51.3 * mm, &t),
                 TRN_E_DOMAIN);
    cr_expect(t == mark);
}

Test(grease, interval_and_quantity_refuse)
{
    const double bad[][2] = {{0, 0.04}, {-1, 0.04}, {NAN, 0.04}, {INFINITY, 0.04},
                             {50, 0},   {50, -1},   {50, NAN},   {50, INFINITY}};
    for (size_t i = 0; i < COUNT(bad); i++) {
        double t = mark;
        double g = mark;
        cr_expect_eq(trn_grease_interval(TRN_GREASE_NEEDLE, bad[i][0], bad[i][1], &t),
                     TRN_E_DOMAIN);
        cr_expect_eq(trn_grease_quantity(bad[i][0], bad[i][1], &g), TRN_E_DOMAIN);
        cr_expect(t == mark && g == mark, "row %zu", i);
    }
    double t = mark;
    cr_expect_eq(trn_grease_interval(TRN_GREASE_BEARINGS, 50, 0.04, &t), TRN_E_DOMAIN);
    cr_expect_eq(trn_grease_interval((trn_grease_bearing)-1, 50, 0.04, &t), TRN_E_DOMAIN);
    cr_expect(t == mark);
}

Test(grease, quantity_in_other_units)
{
    const trn_formula *formula = trn_formula_find("grease.quantity");
    const char *metric[] = {"D=80.01 mm", "B=20.955 mm"};
    const char *inch[] = {"D=3.15 in", "B=0.825 in"};
    trn_answer a, b;
    cr_expect_eq(trn_formula_evaluate(formula, metric, 2, &a), TRN_OK);
    cr_expect_eq(trn_formula_evaluate(formula, inch, 2, &b), TRN_OK);
    cr_expect(test_near(a.out[0].x, b.out[0].x, 1e-12));
    cr_expect(test_near(a.out[0].x, 0.005e-3 * 80.01 * 20.955, 1e-12), "got %g", a.out[0].x);
}

static const trn_grease_duty duty = {
    .t_k = 87.3 + 273.15,
    .n_rads = 733 * 0.10471975511965977462,
    .bore_m = 45e-3,
    .nd_limit_mps = 250000e-3 / 60,
    .radial_n = 2150,
    .rating_n = 33200,
    .kind_loss = 0.17,
};

Test(grease, life_in_pounds)
{
    /* memory: the forecast as it stands, in pounds-force, rev/min and mm */
    double life = NAN;
    cr_expect_eq(trn_grease_life(duty, &life), TRN_OK);
    double pound = 4.4482216152605;
    double nd = 733 * 45.0;
    double load = 0.61 * nd * (2150 / pound) / pow(33200 / pound, 2);
    double wanted = pow(10, -2.60 + 2450 / (273 + 87.3) -
                                0.301 * (0.17 + 0.86 * nd / 250000 + load));
    cr_expect(test_near(life / hour, wanted, 1e-11), "wanted %.12g got %.12g", wanted,
              life / hour);
    /* the constant in newtons, six digits */
    cr_expect(fabs(0.61 * pound - 2.71342) < 6e-6);
}

static double half_left(double step, void *context)
{
    const trn_grease_duty *from = context;
    trn_grease_duty hotter = *from;
    hotter.t_k += step;
    double a = NAN;
    double b = NAN;
    (void)trn_grease_life(*from, &a);
    (void)trn_grease_life(hotter, &b);
    return b / a - 0.5;
}

Test(grease, life_halves_each_fifteen_kelvin)
{
    /* derived: 15.1 K at 70 degC, 17.9 K at 100 degC, root x of 1/T - 1/(T + x) = log10(2)/2450 */
    gsl_set_error_handler_off();
    const double at[][2] = {{70, 15.1}, {100, 17.9}};
    for (size_t i = 0; i < COUNT(at); i++) {
        trn_grease_duty from = duty;
        from.t_k = at[i][0] + ice;
        double t = at[i][0] + 273;
        gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
        gsl_function f = {.function = half_left, .params = &from};
        cr_assert_eq(gsl_root_fsolver_set(solver, &f, 1, 40), GSL_SUCCESS);
        for (int n = 0; n < 60; n++)
            (void)gsl_root_fsolver_iterate(solver);
        double step = gsl_root_fsolver_root(solver);
        gsl_root_fsolver_free(solver);
        double wanted = 1 / (1 / t - log10(2) / 2450) - t;
        cr_expect(test_near(step, wanted, 1e-9), "wanted %g got %g", wanted, step);
        cr_expect_float_eq(step, at[i][1], 0.05, "got %g", step);
    }
}

Test(grease, life_remarks_and_refusals)
{
    double life = NAN;
    trn_grease_duty other = duty;
    other.t_k = 70 + ice;
    cr_expect_eq(trn_grease_life(other, &life), TRN_OK);
    other.t_k = 69.9 + ice;
    cr_expect_eq(trn_grease_life(other, &life), TRN_R_GREASE_COOL);
    other.nd_limit_mps = 30000e-3 / 60; /* n D is 32985 */
    cr_expect_eq(trn_grease_life(other, &life), TRN_R_GREASE_SPEED, "the more important remark");
    other = duty;
    other.nd_limit_mps = 733 * 45e-3 / 60;
    cr_expect_eq(trn_grease_life(other, &life), TRN_OK, "the limit itself is allowed");
    other = duty;
    other.radial_n = 0;
    cr_expect_eq(trn_grease_life(other, &life), TRN_OK);
    const struct {
        size_t member;
        double value;
    } bad[] = {{0, 0.15},  {0, NAN}, {0, INFINITY}, {1, 0}, {1, NAN}, {2, 0}, {2, INFINITY},
               {3, 0},     {3, NAN}, {4, -1},       {4, NAN}, {5, 0}, {5, NAN}, {6, NAN},
               {6, INFINITY}, {4, INFINITY}};
    for (size_t i = 0; i < COUNT(bad); i++) {
        other = duty;
        double *members[] = {&other.t_k,      &other.n_rads,   &other.bore_m, &other.nd_limit_mps,
                             &other.radial_n, &other.rating_n, &other.kind_loss};
        *members[bad[i].member] = bad[i].value;
        life = mark;
        cr_expect(trn_grease_life(other, &life) == TRN_E_DOMAIN && life == mark, "row %zu", i);
    }
}

Test(grease, heat_factor)
{
    double f = NAN;
    for (double t = 70; t < 150; t += 3.7) {
        double hotter = NAN;
        cr_expect_eq(trn_grease_heat_factor(t + ice, &f), TRN_OK);
        (void)trn_grease_heat_factor(t + 15 + ice, &hotter);
        cr_expect(test_near(hotter / f, 0.5, 1e-12), "published: half each 15 K; %g", hotter / f);
    }
    /* continuous at 70 degC, no credit below (choice) */
    (void)trn_grease_heat_factor(70 + 1e-7 + ice, &f);
    cr_expect(f < 1 && f > 1 - 1e-8);
    for (double t = -30; t <= 70; t += 10) {
        (void)trn_grease_heat_factor(t + ice, &f);
        cr_expect(f == 1, "%g degC: %.17g", t, f);
    }
    f = mark;
    cr_expect_eq(trn_grease_heat_factor(0, &f), TRN_E_DOMAIN);
    cr_expect_eq(trn_grease_heat_factor(NAN, &f), TRN_E_DOMAIN);
    cr_expect_eq(trn_grease_heat_factor(INFINITY, &f), TRN_E_DOMAIN);
    cr_expect(f == mark);
}

Test(grease, generic_greases)
{
    /* derived: kv100 of the base oils from index 95, to the digits of the table */
    size_t n = 0;
    for (const trn_grease_data *grease; (grease = trn_grease_generic(n)) != NULL; n++) {
        double kv40 = NAN;
        cr_expect_eq(trn_oil_kv40_from_index(grease->base_kv100_mm2s * 1e-6, 95, &kv40), TRN_OK);
        cr_expect(test_near(kv40 * 1e6, grease->base_kv40_mm2s, 5e-3), "%s: %g", grease->name,
                  kv40 * 1e6);
        cr_expect(grease->limit_degc >= 60 && grease->limit_degc <= 150);
        cr_expect(strstr(grease->name, grease->nlgi) && grease->thickener[0] && grease->note[0]);
    }
    cr_expect_eq(n, 7, "%zu greases", n);
}

Test(grease, mixing_caution_names_the_pairs)
{
    const char *const said[] = {"lithium",  "polyurea", "clay", "sodium",  "barium",
                                "ASTM D6185", "polyglycol", "softens"};
    for (size_t i = 0; i < COUNT(said); i++)
        cr_expect_not_null(strstr(trn_grease_mixing_caution, said[i]), "%s", said[i]);
}
