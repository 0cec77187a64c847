/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <trunnion/formula.h>
#include <trunnion/life.h>

#include "support.h"

static void quiet(void)
{
    (void)gsl_set_error_handler_off();
}

TestSuite(life, .init = quiet);

static const double slopes[] = {0.37, 0.8, 1, 10.0 / 9, 1.5, 2.385, 6.2, 41};
enum { SLOPES = sizeof slopes / sizeof slopes[0] };

/* derived: ratios of the page, from memory for the slopes themselves */
Test(life, scale_against_the_ratios_of_the_page)
{
    const double beta[] = {1.1, 10.0 / 9, 1.5, 2};
    const double eta[] = {7.735255, 7.578616, 4.482787, 3.080783};
    const double l50[] = {5.543327, 5.449201, 3.511007, 2.564920};
    const double l1[] = {0.118107, 0.120657, 0.208770, 0.308853};
    for (size_t i = 0; i < 4; i++) {
        double e, m, mean, t;
        cr_assert_eq(trn_life_scale(2385, beta[i], &e, &m, &mean), TRN_OK);
        cr_assert_eq(trn_life_quantile(0.01, 2385, beta[i], &t), TRN_OK);
        cr_expect_float_eq(e / 2385, eta[i], 6e-7, "%.9g", e / 2385);
        cr_expect_float_eq(m / 2385, l50[i], 6e-7, "%.9g", m / 2385);
        cr_expect_float_eq(t / 2385, l1[i], 6e-7, "%.9g", t / 2385);
    }
}

/* derived: quantile and probability undo each other, also after an age */
Test(life, round_trips)
{
    const double p[] = {1e-12, 0.0017, 0.1, 0.632, 0.9999};
    const double t0[] = {0, 0.3, 811.7, 5917.3, 48000};
    for (size_t i = 0; i < SLOPES; i++)
        for (size_t j = 0; j < 5; j++) {
            double t, f, h;
            cr_assert_eq(trn_life_quantile(p[j], 2113.9, slopes[i], &t), TRN_OK);
            cr_assert_eq(trn_life_probability(t, 2113.9, slopes[i], &f), TRN_OK);
            cr_expect(test_near(f, p[j], 1e-11), "%g: wanted %g, got %.15g", slopes[i], p[j], f);
            for (size_t k = 0; k < 5; k++) {
                cr_assert_eq(
                    trn_life_conditional_quantile(t0[k], p[j], 2113.9, slopes[i], &h), TRN_OK);
                cr_assert_eq(trn_life_conditional(t0[k], h, 2113.9, slopes[i], &f), TRN_OK);
                cr_expect(test_near(f, p[j], 1e-11), "%g, %g: wanted %g, got %.15g", slopes[i],
                          t0[k], p[j], f);
            }
        }
}

typedef struct tail {
    double t0, l10, beta;
} tail;

static double survive_further(double h, void *context)
{
    const tail *a = context;
    double f = 0;
    cr_assert_eq(trn_life_conditional(a->t0, h, a->l10, a->beta, &f), TRN_OK);
    return 1 - f;
}

/* derived: mean residual life is the integral of the conditional survival */
Test(life, mean_residual_is_an_integral)
{
    const double t0[] = {0, 500, 3000, 20000, 200000};
    gsl_integration_workspace *space = gsl_integration_workspace_alloc(500);
    for (size_t i = 1; i < SLOPES; i++)
        for (size_t k = 0; k < 5; k++) {
            tail a = {t0[k], 5000, slopes[i]};
            gsl_function f = {survive_further, &a};
            double m, top, sum = 0;
            cr_assert_eq(trn_life_mean_residual(a.t0, a.l10, a.beta, &m), TRN_OK);
            cr_assert_eq(trn_life_conditional_quantile(a.t0, 1 - 1e-15, a.l10, a.beta, &top),
                         TRN_OK);
            double error;
            (void)gsl_integration_qag(&f, 0, top, 0, 1e-12, 500, GSL_INTEG_GAUSS61, space, &sum,
                                      &error);
            cr_expect(test_near(m, sum, 1e-10), "beta %g, t0 %g: wanted %.13g, got %.13g",
                      a.beta, a.t0, sum, m);
        }
    gsl_integration_workspace_free(space);
}

/* derived: both forms of the tail meet, and z > 700 overflows nothing */
Test(life, mean_residual_is_smooth)
{
    for (size_t i = 0; i < SLOPES; i++) {
        double beta = slopes[i];
        double t = 5000 * pow((1 / beta + 1) / 0.10536051565782630, 1 / beta);
        double a, b;
        cr_assert_eq(trn_life_mean_residual(t * (1 - 1e-12), 5000, beta, &a), TRN_OK);
        cr_assert_eq(trn_life_mean_residual(t * (1 + 1e-12), 5000, beta, &b), TRN_OK);
        cr_expect(test_near(a, b, 1e-9), "%g: %.14g %.14g", beta, a, b);
    }
    double m;
    cr_assert_eq(trn_life_mean_residual(5000 * pow(1e5, 0.4), 5000, 2.5, &m), TRN_OK);
    double z = 0.10536051565782630 * 1e5; /* m -> (t0/(beta z))(1 - (1 - a)/z ...) */
    double t0 = 5000 * pow(1e5, 0.4);
    cr_expect(test_near(m, t0 / (2.5 * z) * (1 - 0.6 / z), 1e-7), "%.12g", m);
}

/* derived: continuity at the minimum life, and the plain form far beyond */
Test(life, minimum_life)
{
    double r, f, plain;
    cr_assert_eq(trn_life_iso281(0.05 * 4711, 4711, &r, &f, &plain), TRN_OK);
    cr_expect(test_near(r, 1, 1e-15) && f < 1e-15);
    cr_assert_eq(trn_life_iso281(0.0500001 * 4711, 4711, &r, &f, &plain), TRN_OK);
    cr_expect(f > 0 && f < 1e-9);
    cr_assert_eq(trn_life_iso281(4711, 4711, &r, &f, &plain), TRN_OK);
    cr_expect(test_near(f, 0.1, 1e-13) && test_near(plain, 0.1, 1e-13));
    cr_assert_eq(trn_life_iso281(0.084 * 5000, 5000, &r, &f, &plain), TRN_OK);
    cr_expect_float_eq(plain / f, 3.6, 0.05); /* factor of the page */
}

/* derived: closed form for one slope; any order; one part alone; defining equation */
Test(life, series)
{
    const double l[] = {5217, 8113, 12077, 777000};
    const double one[] = {1.27, 1.27, 1.27, 1.27};
    double sum = 0, t, u;
    for (size_t i = 0; i < 4; i++)
        sum += pow(l[i], -1.27);
    cr_assert_eq(trn_life_system(l, one, 4, &t), TRN_OK);
    cr_expect(test_near(t, pow(sum, -1 / 1.27), 1e-13), "%.15g", t);
    const double back[] = {777000, 12077, 8113, 5217};
    const double b[] = {0.7, 1.1, 2.5, 9}, rb[] = {9, 2.5, 1.1, 0.7};
    cr_assert_eq(trn_life_system(l, b, 4, &t), TRN_OK);
    cr_assert_eq(trn_life_system(back, rb, 4, &u), TRN_OK);
    cr_expect(test_near(t, u, 1e-13));
    sum = 0;
    for (size_t i = 0; i < 4; i++)
        sum += pow(t / l[i], b[i]);
    cr_expect(test_near(sum, 1, 1e-12), "%.15g", sum);
    const double same[] = {1000, 1000};
    cr_assert_eq(trn_life_system(same, one, 2, &t), TRN_OK);
    cr_expect(test_near(t, 1000 * pow(2, -1 / 1.27), 1e-13), "%.15g", t);
    cr_assert_eq(trn_life_system(l, b, 1, &t), TRN_OK);
    cr_expect_eq(t, l[0]);
    t = 7;
    cr_expect_eq(trn_life_system(l, b, 0, &t), TRN_E_MISSING);
    const double bad[] = {5217, NAN};
    cr_expect_eq(trn_life_system(bad, b, 2, &t), TRN_E_DOMAIN);
    cr_expect_eq(t, 7);
}

/* derived: shown reliability is what the count came from; small F keep their digits */
Test(life, tests_without_failure)
{
    double n, units, eta, b10, any;
    cr_assert_eq(trn_life_success_run(0.873, 0.918, 1.37, 1.83, &n, &units), TRN_OK);
    cr_expect(test_near(pow(0.873, n * pow(1.37, 1.83)), 1 - 0.918, 1e-12));
    cr_assert_eq(trn_life_success_run(0.5, 0.75, 1, 1.5, &n, &units), TRN_OK);
    cr_expect(units >= 2 && units <= 2, "%g from %.17g", units, n); /* a whole number, nearly */
    cr_assert_eq(trn_life_success_run(0.01, 0.02, 1, 1.5, &n, &units), TRN_OK);
    cr_expect(units >= 1 && units <= 1);
    cr_assert_eq(trn_life_zero_failure(7, 1234.5, 1.83, 0.918, &eta, &b10), TRN_OK);
    cr_expect(test_near(exp(-7 * pow(1234.5 / eta, 1.83)), 1 - 0.918, 1e-12));
    cr_assert_eq(trn_life_at_least_one(1e-14, 1e6, &any), TRN_OK);
    cr_expect(test_near(any, 1e-8, 1e-7), "%.12g", any);
    cr_assert_eq(trn_life_at_least_one(1, 3, &any), TRN_OK);
    cr_expect(any >= 1);
}

Test(life, refused_inputs_leave_outputs_untouched)
{
    double a = 7, b = 7, c = 7;
    const double bad[] = {-1, NAN, INFINITY};
    for (size_t i = 0; i < 3; i++) {
        cr_expect_eq(trn_life_probability(bad[i], 5000, 1.5, &a), TRN_E_DOMAIN);
        cr_expect_eq(trn_life_probability(100, bad[i], 1.5, &a), TRN_E_DOMAIN);
        cr_expect_eq(trn_life_probability(100, 5000, bad[i], &a), TRN_E_DOMAIN);
        cr_expect_eq(trn_life_quantile(bad[i], 5000, 1.5, &a), TRN_E_DOMAIN);
        cr_expect_eq(trn_life_scale(bad[i], 1.5, &a, &b, &c), TRN_E_DOMAIN);
        cr_expect_eq(trn_life_conditional(bad[i], 1, 5000, 1.5, &a), TRN_E_DOMAIN);
        cr_expect_eq(trn_life_conditional(1, bad[i], 5000, 1.5, &a), TRN_E_DOMAIN);
        cr_expect_eq(trn_life_conditional_quantile(bad[i], 0.1, 5000, 1.5, &a), TRN_E_DOMAIN);
        cr_expect_eq(trn_life_mean_residual(bad[i], 5000, 1.5, &a), TRN_E_DOMAIN);
        cr_expect_eq(trn_life_iso281(bad[i], 5000, &a, &b, &c), TRN_E_DOMAIN);
        cr_expect_eq(trn_life_consumed(&bad[i], &c, 1, 1.5, &a, &b), TRN_E_DOMAIN);
        cr_expect_eq(trn_life_at_least_one(bad[i], 5, &a), TRN_E_DOMAIN);
        cr_expect_eq(trn_life_at_least_one(0.1, bad[i], &a), TRN_E_DOMAIN);
        cr_expect_eq(trn_life_zero_failure(bad[i], 5, 1.5, 0.9, &a, &b), TRN_E_DOMAIN);
        cr_expect_eq(trn_life_success_run(0.9, 0.9, bad[i], 1.5, &a, &b), TRN_E_DOMAIN);
    }
    cr_expect_eq(trn_life_scale(5000, 1e-3, &a, &b, &c), TRN_E_DOMAIN); /* beyond any number */
    cr_expect_eq(trn_life_at_least_one(0.1, 2.5, &a), TRN_E_DOMAIN);
    cr_expect_eq(trn_life_quantile(0, 5000, 1.5, &a), TRN_E_DOMAIN);
    cr_expect_eq(trn_life_quantile(1, 5000, 1.5, &a), TRN_E_DOMAIN);
    cr_expect_eq(trn_life_consumed(&c, &c, 0, 1.5, &a, &b), TRN_E_MISSING);
    cr_expect(a >= 7 && a <= 7 && b >= 7 && b <= 7 && c >= 7 && c <= 7);
}

/* the same through the catalogue in hours and in days; halves of pairs are missing */
Test(life, catalogue)
{
    trn_answer day, hour;
    const trn_formula *f = trn_formula_find("statistics.conditional_failure");
    const char *days[] = {"t0=41.5 d", "H=11.25 d", "L10=208.7 d", "beta=1.27"};
    const char *hours[] = {"t0=996h", "H=270h", "L10=5008.8h", "beta=1.27"};
    cr_assert_eq(trn_formula_evaluate(f, days, 4, &day), TRN_OK);
    cr_assert_eq(trn_formula_evaluate(f, hours, 4, &hour), TRN_OK);
    cr_expect(test_near(day.out[0].x, hour.out[0].x, 1e-13));
    const char *half[] = {"h1=100", "L1=500", "L3=600"};
    cr_expect_eq(trn_formula_evaluate(trn_formula_find("statistics.consumed_life"), half, 3, &day),
                 TRN_E_MISSING);
    const char *none[] = {"beta1=2"};
    cr_expect_eq(trn_formula_evaluate(trn_formula_find("statistics.system_life"), none, 1, &day),
                 TRN_E_MISSING);
    const char *all[] = {"F=100", "n=3"};
    cr_expect_eq(trn_formula_evaluate(trn_formula_find("statistics.at_least_one"), all, 2, &day),
                 TRN_OK);
    cr_expect(test_near(day.out[0].x, 1, 1e-15));
}

/* every entry of the section can be worked as its example says, and names known sources */
Test(life, examples_of_the_section)
{
    size_t checked = 0;
    for (size_t i = 0; i < trn_formula_count(); i++) {
        const trn_formula *f = trn_formula_at(i);
        if (strncmp(f->name, "statistics.", 11) != 0)
            continue;
        char text[512];
        (void)snprintf(text, sizeof text, "%s", f->example);
        const char *pairs[24];
        size_t n = 0;
        for (char *p = text; *p && n < 24;) {
            pairs[n++] = p;
            p += strcspn(p, " ");
            if (*p)
                *p++ = '\0';
        }
        trn_answer answer;
        trn_status status = trn_formula_evaluate(f, pairs, n, &answer);
        cr_expect_geq((int)status, 0, "%s: %s %s", f->name, answer.faulty, answer.why);
        cr_expect(trn_source_find(f->source, strcspn(f->source, " ;")) != NULL, "%s", f->name);
        checked++;
    }
    cr_expect_geq(checked, 30, "%zu", checked);
}
