/* SPDX-License-Identifier: GPL-3.0-or-later */
/* interval.*, wear.archard, statistics.extension_limit beyond their published rows: limits, round
 * trips, continuity, independent routes (GSL integration, minimisation), refused inputs. */
#include <trunnion/interval.h>

#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>
#include <stdio.h>
#include <trunnion/extension.h>
#include <trunnion/formula.h>
#include <trunnion/wear.h>

#include "support.h"

static const double hour = 3600;
static const double ppm = 1e-6;
static const double mg_h = 1e-6 / 3600;

static double evaluate(const char *name, const char *const *pairs, size_t n, size_t output)
{
    const trn_formula *f = trn_formula_find(name);
    trn_answer answer;
    cr_assert_not_null(f, "%s", name);
    cr_assert_geq(trn_formula_evaluate(f, pairs, n, &answer), 0, "%s: %s %s", name, answer.faulty,
                  answer.why);
    return trn_formula_shown(&f->outputs[output], answer.out[output].x);
}

/* ---- grease -------------------------------------------------------------------------------- */

static trn_grease_factors factors(double dust, double shock, double t_c, double load, double motion)
{
    trn_grease_factors f = {0};
    cr_assert_eq(trn_interval_grease_factor(dust * 1e-6, shock, t_c + 273.15, load, motion, &f),
                 TRN_OK);
    return f;
}

Test(interval, grease_factors_are_continuous_at_every_knee)
{
    static const double dust[] = {3, 15, 50, 150};
    static const double shock[] = {1.25, 1.5, 1.75, 2.25};
    static const double load[] = {0.1, 0.15, 0.25, 0.35};
    double e = 1e-8;
    for (size_t i = 0; i < 4; i++) {
        trn_grease_factors a = factors(dust[i] * (1 - e), shock[i] * (1 - e), 70 * (1 - e),
                                       load[i] * (1 - e), 1 - e);
        trn_grease_factors b = factors(dust[i] * (1 + e), shock[i] * (1 + e), 70 * (1 + e),
                                       load[i] * (1 + e), 1 + e);
        cr_expect(fabs(a.dust - b.dust) < 1e-7 && fabs(a.shock - b.shock) < 1e-7 &&
                      fabs(a.load - b.load) < 1e-7 && fabs(a.heat - b.heat) < 1e-7 &&
                      fabs(a.motion - b.motion) < 1e-7,
                  "knee %zu", i);
        cr_expect(a.dust >= b.dust && a.shock >= b.shock && a.load >= b.load);
    }
    cr_expect_eq(factors(0, 1, -20, 0, 0).f, 1);
    cr_expect_eq(factors(2e6, 9, 300, 4, 50).f, 0.1);
}

Test(interval, grease_factor_refuses_and_leaves_the_output)
{
    static const double bad[][5] = {{-1, 1, 300, 0, 1},  {1, 0.99, 300, 0, 1}, {1, 1, -1, 0, 1},
                                    {1, 1, 300, -1, 1},  {1, 1, 300, 0, -1},   {NAN, 1, 300, 0, 1},
                                    {1, INFINITY, 1, 0, 1}, {1, 1, NAN, 0, 1}, {1, 1, 300, NAN, 1}};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        trn_grease_factors f = {.f = 2.385};
        cr_expect_eq(trn_interval_grease_factor(bad[i][0], bad[i][1], bad[i][2], bad[i][3],
                                                bad[i][4], &f),
                     TRN_E_DOMAIN, "row %zu", i);
        cr_expect_eq(f.f, 2.385);
    }
}

/* ---- sump ---------------------------------------------------------------------------------- */

static int balance(double t, const double *y, double *dy, void *context)
{
    (void)t;
    const double *p = context; /* s/m, k, C_eq */
    dy[0] = p[0] - p[1] * (y[0] - p[2]);
    return GSL_SUCCESS;
}

/* derived: the differential equation itself, integrated by GSL */
Test(interval, budget_against_integration_of_the_balance)
{
    double start = 0;
    double t = 0;
    cr_assert_eq(trn_interval_budget(400 * ppm, 3.415, 7.319 * mg_h, 0.0041 / hour, 92 * ppm,
                                     71 * ppm, 0.127, &start, &t),
                 TRN_OK);
    double p[] = {7.319 / 3.415, 0.0041, 71}; /* per h, ppm */
    gsl_odeiv2_system system = {balance, NULL, 1, p};
    gsl_odeiv2_driver *driver =
        gsl_odeiv2_driver_alloc_y_new(&system, gsl_odeiv2_step_rk8pd, 1e-3, 1e-12, 1e-12);
    double now = 0;
    double y[1] = {start / ppm};
    cr_assert_eq(gsl_odeiv2_driver_apply(driver, &now, t / hour, y), GSL_SUCCESS);
    gsl_odeiv2_driver_free(driver);
    cr_expect(test_near(y[0], 400, 1e-9), "%.12g", y[0]);
    double content = 0;
    cr_assert_eq(trn_interval_content(t, start, 3.415, 7.319 * mg_h, 0.0041 / hour, 71 * ppm,
                                      &content),
                 TRN_OK);
    cr_expect(test_near(content, 400 * ppm, 1e-12));
}

Test(interval, budget_limits)
{
    double start = 0;
    double straight = 0;
    double t = 0;
    cr_assert_eq(trn_interval_budget(100 * ppm, 2.2, 0.6 * mg_h, 0, 0, 0, 0.1, &start, &straight),
                 TRN_OK);
    for (double k = 1e-6; k > 1e-300; k *= 1e-11) {
        cr_assert_eq(trn_interval_budget(100 * ppm, 2.2, 0.6 * mg_h, k / hour, 0, 0, 0.1, &start,
                                         &t),
                     TRN_OK);
        /* derived: first order in k, (B + C_0)/(B - C_0) k T/2 */
        cr_expect(fabs(t / straight - 1) <= 0.62 * k * straight / hour + 1e-14,
                  "k %g: %.15g and %.15g", k, t, straight);
    }
    /* nothing comes in; equilibrium exactly at the budget; spent at once */
    cr_assert_eq(trn_interval_budget(100 * ppm, 2.2, 0, 0, 0, 0, 0.1, &start, &t), TRN_OK);
    cr_expect(isinf(t));
    cr_assert_eq(trn_interval_budget(400 * ppm, 2, 12 * mg_h, 0.02 / hour, 100 * ppm, 100 * ppm,
                                     0.1, &start, &t),
                 TRN_OK);
    cr_expect(isinf(t), "%g", t);
    cr_assert_eq(trn_interval_budget(100 * ppm, 2, 0, 0, 100 * ppm, 0, 0.127, &start, &t), TRN_OK);
    cr_expect_eq(t, 0);
    start = t = 2.385;
    cr_expect_eq(trn_interval_budget(0, 2, 1, 0, 0, 0, 0, &start, &t), TRN_E_DOMAIN);
    cr_expect_eq(trn_interval_budget(1, 2, -1, 0, 0, 0, 0, &start, &t), TRN_E_DOMAIN);
    cr_expect_eq(trn_interval_budget(1, 2, 1, NAN, 0, 0, 0, &start, &t), TRN_E_DOMAIN);
    cr_expect_eq(trn_interval_budget(1, 2, 1, 0, 0, 0, 1, &start, &t), TRN_E_DOMAIN);
    cr_expect(start == 2.385 && t == 2.385);
}

/* derived: residual oil of 5, 10, 20, 40 % starts a steady cycle at 3.6, 7.6, 17.0, 45.5 ppm */
Test(interval, steady_cycle_with_residual_oil)
{
    static const double rho[] = {0.05, 0.1, 0.2, 0.4};
    static const double end[] = {71.8, 75.8, 85.2, 113.6};
    double rise = 0.6 * 250 / 2.2;
    cr_expect(fabs(rise - 68.18) < 0.005);
    for (size_t i = 0; i < 4; i++) {
        double start = 0;
        double t = 0;
        double b = rise / (1 - rho[i]); /* drained where the cycle ends */
        cr_expect(fabs(b - end[i]) < 0.05, "%g", b);
        cr_assert_eq(trn_interval_budget(b * ppm, 2.2, 0.6 * mg_h, 0, 0, 0, rho[i], &start, &t),
                     TRN_OK);
        cr_expect(test_near(t, 250 * hour, 1e-12), "%g", t / hour);
    }
}

Test(interval, water_source_is_the_inverse_of_the_content)
{
    static const double k[] = {0, 1e-12, 0.0041, 0.31};
    for (size_t i = 0; i < 4; i++) {
        double w = 0;
        double s = 0;
        cr_assert_eq(trn_interval_content(71.9 * hour, 150 * ppm, 3.415, 7.319 * mg_h,
                                          k[i] / hour, 83 * ppm, &w),
                     TRN_OK);
        cr_assert_eq(trn_interval_water_source(150 * ppm, w, 71.9 * hour, 3.415, k[i] / hour,
                                               83 * ppm, &s),
                     TRN_OK);
        cr_expect(test_near(s, 7.319 * mg_h, 1e-10), "k %g: %.12g", k[i], s / mg_h);
    }
}

Test(interval, intake_round_trip_and_edges)
{
    double s = 0;
    double q = 0;
    cr_assert_eq(trn_interval_intake(17.3 * ppm, 183 * hour, 3.415, 23.85e-6, 0.287, &s, &q),
                 TRN_OK);
    cr_expect(test_near(s * 183 * hour / 3.415 * 0.287, 17.3 * ppm, 1e-14));
    cr_expect_eq(trn_interval_intake(17.3 * ppm, 183 * hour, 3.415, 23.85e-6, 0.467, &s, &q),
                 TRN_OK);
    double kept = s;
    cr_expect_eq(trn_interval_intake(17.3 * ppm, 183, 3.4, 1e-6, 0.468, &s, &q), TRN_E_DOMAIN);
    cr_expect_eq(trn_interval_intake(17.3 * ppm, 183, 3.4, 0, 0.3, &s, &q), TRN_E_DOMAIN);
    cr_expect_eq(trn_interval_intake(-1, 183, 3.4, 1e-6, 0.3, &s, &q), TRN_E_DOMAIN);
    cr_expect_eq(s, kept);
}

/* ---- ageing, additive, drying -------------------------------------------------------------- */

Test(interval, ageing_spends_exactly_its_budget)
{
    static const double times[][2] = {{INFINITY, INFINITY}, {900, INFINITY}, {900, 1400},
                                      {0, 0},               {0, 700},        {2403.6, 2500}};
    for (size_t i = 0; i < 6; i++) {
        double t = 0;
        double spent = 0;
        cr_assert_eq(trn_interval_ageing(2403.6, times[i][0], times[i][1], 2, 5, &t), TRN_OK);
        cr_assert_eq(trn_interval_aged(t, 2403.6, times[i][0], times[i][1], 2, 5, &spent), TRN_OK);
        cr_expect(test_near(spent, 1, 1e-14), "row %zu: %.15g", i, spent);
        cr_expect(t <= 2403.6 && t >= 2403.6 / 5);
    }
    double t = 2.385;
    cr_expect_eq(trn_interval_ageing(2403.6, 10, 9, 2, 5, &t), TRN_E_DOMAIN);
    cr_expect_eq(trn_interval_ageing(NAN, 10, 19, 2, 5, &t), TRN_E_DOMAIN);
    cr_expect_eq(trn_interval_ageing(10, 10, 19, 5, 2, &t), TRN_E_DOMAIN);
    cr_expect_eq(t, 2.385);
}

Test(interval, additive_rate_doubles_per_step_and_remarks_outside)
{
    double a = 0;
    double b = 0;
    cr_expect_eq(trn_interval_additive_rate(0.7333, 363.15, 343.15, 10, &a), TRN_OK);
    cr_expect_eq(trn_interval_additive_rate(0.7333, 373.15, 343.15, 10, &b), TRN_OK);
    cr_expect(test_near(b, 2 * a, 1e-14));
    cr_expect_eq(trn_interval_additive_rate(1, 383.15, 343.15, 10, &b), TRN_OK);
    cr_expect_eq(trn_interval_additive_rate(1, 383.25, 343.15, 10, &b),
                 TRN_R_INTERVAL_ADDITIVE_RANGE);
    cr_expect_eq(trn_interval_additive_rate(-1, 383.25, 343.15, 10, &b), TRN_E_DOMAIN);
}

Test(interval, drying_is_a_ramp)
{
    double k = 0;
    static const double t[] = {20, 60, 75, 80, 140};
    static const double want[] = {0, 0, 0.015, 0.02, 0.02};
    for (size_t i = 0; i < 5; i++) {
        cr_assert_eq(trn_interval_drying(t[i] + 273.15, 0.02, 333.15, 353.15, &k), TRN_OK);
        cr_expect(fabs(k - want[i]) < 1e-15, "%g: %g", t[i], k);
    }
    cr_expect_eq(trn_interval_drying(300, 0.02, 353.15, 333.15, &k), TRN_E_DOMAIN);
}

/* ---- clock, visits ------------------------------------------------------------------------- */

Test(interval, step_takes_eight_hours_in_minutes)
{
    cr_expect(test_near(evaluate("interval.step", (const char *[]){"T=480 min"}, 1, 0), 8, 1e-12));
    double step = 2.385;
    cr_expect_eq(trn_interval_step(INFINITY, &step), TRN_E_DOMAIN);
    cr_expect_eq(trn_interval_step(NAN, &step), TRN_E_DOMAIN);
    cr_expect_eq(trn_interval_step(3.99 * hour, &step), TRN_E_DOMAIN);
    cr_expect_eq(step, 2.385);
    size_t n = 0;
    const double *steps = trn_interval_steps_h(&n);
    for (size_t i = 0; i < n; i++) {
        cr_assert_eq(trn_interval_step(steps[i] * hour * (1 - 1e-10), &step), TRN_OK);
        cr_expect_eq(step, steps[i] * hour);
    }
}

Test(interval, visits_go_to_hours_over_interval_without_washes)
{
    double n = 0;
    for (double w = 1; w > 1e-300; w *= 1e-13) {
        cr_assert_eq(trn_interval_visits(23.85 * hour, 317 * hour, w, &n), TRN_OK);
        cr_expect(fabs(n - 317 / 23.85) <= 0.51 * w + 1e-13, "%g: %.15g", w, n);
    }
    cr_assert_eq(trn_interval_visits(23.85 * hour, 317 * hour, 0, &n), TRN_OK);
    cr_expect(test_near(n, 317 / 23.85, 1e-15));
    cr_expect_eq(trn_interval_visits(23.85, NAN, 0, &n), TRN_E_DOMAIN);
    cr_expect_eq(trn_interval_visits(23.85, 1, -1, &n), TRN_E_DOMAIN);
}

/* ---- money --------------------------------------------------------------------------------- */

Test(interval, cheapest_oil_interval_is_a_minimum)
{
    double t = 0;
    double g = 0;
    /* derived: 85 a change, 1650 a gearbox, 3000 h, 100 ppm, residual 10 % */
    double s = 0.2538 * mg_h;
    cr_assert_eq(trn_interval_oil_cost_best(0.1, 85, 1650, 3000 * hour, 100 * ppm, 2.225, s, &t,
                                            &g),
                 TRN_OK);
    cr_expect(fabs(t / hour - 470.9) < 0.05, "%g", t / hour);
    static const double at[] = {125, 200, 250, 500};
    static const double want[] = {1.278, 1.052, 0.986, 0.912};
    for (size_t i = 0; i < 4; i++) {
        double here = 0;
        cr_assert_eq(trn_interval_oil_cost_at(at[i] * hour, 0.1, 85, 1650, 3000 * hour, 100 * ppm,
                                              2.225, s, &here),
                     TRN_OK);
        cr_expect(fabs(here * hour - want[i]) < 0.0006, "%g: %g", at[i], here * hour);
        cr_expect_gt(here, g);
    }
    double same = 0;
    cr_assert_eq(trn_interval_oil_cost_at(t, 0.1, 85, 1650, 3000 * hour, 100 * ppm, 2.225, s,
                                          &same),
                 TRN_OK);
    cr_expect(test_near(same, g, 1e-14));
    double plain_t = 0;
    double plain_g = 0;
    cr_assert_eq(trn_interval_oil_cost(85, 1650, 3000 * hour, 100 * ppm, 2.225, s, &plain_t,
                                       &plain_g),
                 TRN_OK);
    cr_assert_eq(trn_interval_oil_cost_best(0, 85, 1650, 3000 * hour, 100 * ppm, 2.225, s, &t, &g),
                 TRN_OK);
    cr_expect(t == plain_t && g == plain_g);
    cr_expect_eq(trn_interval_oil_cost(85, 1650, 0, 1, 1, s, &t, &g), TRN_E_DOMAIN);
}

static double survival(double t, void *context)
{
    const double *p = context;
    return exp(-pow(t / p[1], p[0]));
}

static double replacement_cost(double t, double *weibull, double planned, double failure)
{
    double area = 0;
    double error = 0;
    gsl_function f = {survival, weibull};
    gsl_integration_workspace *work = gsl_integration_workspace_alloc(200);
    cr_assert_eq(gsl_integration_qag(&f, 0, t, 0, 1e-10, 200, GSL_INTEG_GAUSS41, work, &area,
                                     &error),
                 GSL_SUCCESS);
    gsl_integration_workspace_free(work);
    double r = survival(t, weibull);
    return (planned * r + failure * (1 - r)) / area;
}

/* derived: cost by quadrature is the same there, and higher on both sides */
Test(interval, best_age_is_a_minimum)
{
    static const double rows[][4] = {{2.385, 3170, 137, 1293}, {1.31, 871, 10, 97},
                                     {1.05, 2385, 1, 40},      {6.3, 500, 100, 130},
                                     {3.45, 1100, 1450, 5400}};
    for (size_t i = 0; i < 5; i++) {
        double weibull[] = {rows[i][0], rows[i][1]};
        double t = 0;
        double g = 0;
        double idle = 0;
        cr_assert_eq(trn_interval_age_replacement(rows[i][0], rows[i][1], rows[i][2], rows[i][3],
                                                  &t, &g, &idle),
                     TRN_OK);
        double here = replacement_cost(t, weibull, rows[i][2], rows[i][3]);
        cr_expect(test_near(here, g, 1e-9), "row %zu: %.12g and %.12g", i, here, g);
        cr_expect_geq(replacement_cost(1.05 * t, weibull, rows[i][2], rows[i][3]), here);
        cr_expect_geq(replacement_cost(0.95 * t, weibull, rows[i][2], rows[i][3]), here);
        cr_expect_lt(g, idle);
        double h = rows[i][0] / rows[i][1] * pow(t / rows[i][1], rows[i][0] - 1);
        cr_expect(test_near(g, (rows[i][3] - rows[i][2]) * h, 1e-9),
                  "cost equals the extra cost times the hazard");
    }
}

Test(interval, age_near_slope_one_runs_off)
{
    double t = 0;
    double g = 0;
    double idle = 0;
    cr_assert_eq(trn_interval_age_replacement(1.02, 1000, 1, 3, &t, &g, &idle), TRN_OK);
    cr_expect_gt(t, 1e6);
    cr_expect(test_near(g, idle, 1e-9));
    cr_expect_eq(trn_interval_age_replacement(1.00001, 1000, 1, 3, &t, &g, &idle),
                 TRN_R_INTERVAL_AGE_FAR);
    cr_expect(isinf(t) && g == idle);
    t = 2.385;
    cr_expect_eq(trn_interval_age_replacement(1, 1000, 1, 3, &t, &g, &idle), TRN_E_DOMAIN);
    cr_expect_eq(trn_interval_age_replacement(2, 1000, 3, 3, &t, &g, &idle), TRN_E_DOMAIN);
    cr_expect_eq(trn_interval_age_replacement(NAN, 1000, 1, 3, &t, &g, &idle), TRN_E_DOMAIN);
    cr_expect_eq(t, 2.385);
}

/* ---- trend, wear --------------------------------------------------------------------------- */

/* published: bounds of a printed example at 250, 300, 350, 400 h */
Test(interval, extension_limit_example_in_any_order)
{
    static const double t[] = {250, 50, 200, 150, 100};
    static const double fe[] = {39, 8, 30, 24, 15};
    static const double at[] = {250, 300, 350, 400};
    static const double want[] = {40.97, 49.01, 57.13, 65.30};
    double upper = 0;
    double slope = 0;
    for (size_t i = 0; i < 4; i++) {
        cr_assert_eq(trn_extension_limit(t, fe, 5, at[i], 0.95, &upper, &slope), TRN_OK);
        cr_expect(fabs(upper - want[i]) < 0.005, "%g", upper);
        cr_expect(fabs(slope - 0.154) < 1e-12);
    }
    /* even confidence: the line itself */
    cr_assert_eq(trn_extension_limit(t, fe, 5, 150, 0.5, &upper, &slope), TRN_OK);
    cr_expect(fabs(upper - 23.2) < 1e-12);
    static const double equal[] = {0.1, 0.1, 0.1, 0.1, 0.1};
    upper = 2.385;
    cr_expect_eq(trn_extension_limit(equal, fe, 5, 150, 0.95, &upper, &slope), TRN_E_DOMAIN);
    cr_expect_eq(trn_extension_limit(t, fe, 2, 150, 0.95, &upper, &slope), TRN_E_DOMAIN);
    cr_expect_eq(trn_extension_limit(t, fe, 5, 150, 1, &upper, &slope), TRN_E_DOMAIN);
    cr_expect_eq(trn_extension_limit(t, fe, 5, 150, 0.49, &upper, &slope), TRN_E_DOMAIN);
    cr_expect_eq(trn_extension_limit(t, fe, 5, NAN, 0.95, &upper, &slope), TRN_E_DOMAIN);
    cr_expect_eq(upper, 2.385);
}

Test(interval, inch_against_millimetre)
{
    double a = evaluate("wear.archard",
                        (const char *[]){"k=3.71e-6", "F=2385 N", "s=41873 in", "H=6.43 GPa"}, 4,
                        0);
    double b = evaluate("wear.archard",
                        (const char *[]){"k=3.71e-6", "F=2.385 kN", "s=1063574.2 mm",
                                         "H=6430 MPa"},
                        4, 0);
    cr_expect(test_near(a, b, 1e-12), "%.15g %.15g", a, b);
    a = evaluate("interval.grease_factor",
                 (const char *[]){"dust=23.85", "shock=1.385", "T=173.12 degF", "load=0.1272"}, 4,
                 2);
    b = evaluate("interval.grease_factor",
                 (const char *[]){"dust=0.02385 g/m3", "shock=1.385", "T=351.55 K", "load=0.1272"},
                 4, 2);
    cr_expect(test_near(a, b, 1e-12), "%.15g %.15g", a, b);
}

/* derived: 50 ppm of iron in 250 h in 2.2 kg are 110 mg, 1.4 um over 100 cm2 */
Test(interval, ppm_of_iron_as_depth)
{
    double kg = 50 * ppm * 2.2;
    cr_expect(test_near(kg, 110e-6, 1e-12));
    cr_expect(fabs(kg / 7850 / 100e-4 - 1.4e-6) < 0.05e-6);
    double v = 2.385;
    cr_expect_eq(trn_wear_archard(1, 1, 1, 0, &v), TRN_E_DOMAIN);
    cr_expect_eq(trn_wear_archard(1, NAN, 1, 1, &v), TRN_E_DOMAIN);
    cr_expect_eq(trn_wear_archard(INFINITY, 1, 1, 1, &v), TRN_E_DOMAIN);
    cr_expect_eq(v, 2.385);
}

Test(interval, every_example_of_the_catalogue_evaluates)
{
    static const char *const names[] = {
        "wear.archard",         "interval.dust_rate",     "interval.grease_factor",
        "interval.oil_cost",    "interval.age_replacement", "interval.step",
        "interval.intake",      "interval.budget",        "interval.visits",
        "interval.add_rate",    "interval.add_life",      "interval.add_water",
        "interval.add_dust",    "interval.ageing",        "interval.drying",
        "interval.time_to",     "interval.additive_rate", "interval.grease_ratio",
        "interval.anchored",    "statistics.extension_limit"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        const trn_formula *f = trn_formula_find(names[i]);
        cr_assert_not_null(f, "%s", names[i]);
        char text[256];
        char *pairs[TRN_INPUTS_MAX];
        size_t n = 0;
        (void)snprintf(text, sizeof text, "%s", f->example);
        for (char *p = text; *p;) {
            pairs[n++] = p;
            while (*p && *p != ' ')
                p++;
            if (*p)
                *p++ = '\0';
        }
        trn_answer answer;
        cr_expect_geq(trn_formula_evaluate(f, (const char *const *)pairs, n, &answer), 0,
                      "%s: %s %s", names[i], answer.faulty, answer.why);
    }
}
