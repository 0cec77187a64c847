/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trends, and wear rates from oil samples. */
#include <criterion/criterion.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_permutation.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/formula.h>
#include <trunnion/samples_rate.h>
#include <trunnion/table.h>
#include <trunnion/trend.h>

#include "support.h"

static void quiet(void)
{
    (void)gsl_set_error_handler_off();
}

TestSuite(trend, .init = quiet);

enum { MOST = 60 };

/* derived: cover of the limits counted over all orders of n errors about a line */
Test(trend, exact_cover_by_enumeration)
{
    const double t[] = {1, 2.5, 3.1, 7.7, 9.2, 11};
    for (size_t n = 2; n <= 6; n++)
        for (int c = 0; c < 4; c++) {
            double confidence = (const double[]){0.3, 0.6, 0.9, 0.95}[c];
            double work[MOST], coverage = -1;
            gsl_permutation *order = gsl_permutation_calloc(n);
            int inside = 0, all = 0;
            do {
                double y[6];
                for (size_t i = 0; i < n; i++) /* rank errors about a slope of 2, tiny */
                    y[i] = 2 * t[i] + 1e-6 * (double)gsl_permutation_get(order, i);
                trn_trend trend;
                cr_assert_geq((int)trn_trend_theil_sen(t, y, n, confidence, work, &trend), 0);
                inside += trend.low < 2 && 2 < trend.high;
                all++;
                coverage = trend.coverage;
            } while (gsl_permutation_next(order) == GSL_SUCCESS);
            gsl_permutation_free(order);
            cr_expect_float_eq((double)inside / all, coverage, 1e-12, "n %zu, %g: %d of %d, %g", n,
                               confidence, inside, all, coverage);
        }
}

/* derived: n = 3 and 4 cannot reach 95 %; the cover of the page is reported with a remark */
Test(trend, short_cover)
{
    const double t[] = {1, 2, 4, 8}, y[] = {3.1, 2.2, 7.9, 8.8};
    double work[MOST];
    trn_trend trend;
    cr_expect_eq(trn_trend_theil_sen(t, y, 3, 0.95, work, &trend), TRN_R_STATISTICS_COVERAGE);
    cr_expect(test_near(trend.coverage, 2.0 / 3, 1e-14));
    cr_expect_eq(trn_trend_theil_sen(t, y, 4, 0.95, work, &trend), TRN_R_STATISTICS_COVERAGE);
    cr_expect(test_near(trend.coverage, 11.0 / 12, 1e-14));
    cr_expect_eq(trn_trend_theil_sen(t, y, 4, 11.0 / 12, work, &trend), TRN_OK);
}

/* derived: the line moves with the data, does not mind the order, shrugs at one wild reading */
Test(trend, equivariance_and_robustness)
{
    const double t[] = {52, 101, 149, 203, 251, 298, 349};
    double y[] = {14.2, 29.5, 41.1, 58.3, 71.9, 86.2, 99.7};
    double work[MOST], back_t[7], back_y[7];
    trn_trend a, b;
    cr_assert_eq(trn_trend_theil_sen(t, y, 7, 0.95, work, &a), TRN_OK);
    for (size_t i = 0; i < 7; i++) {
        back_t[6 - i] = t[i] * 2;
        back_y[6 - i] = 31 - 5 * y[i] + 0.3 * t[i];
    }
    cr_assert_eq(trn_trend_theil_sen(back_t, back_y, 7, 0.95, work, &b), TRN_OK);
    cr_expect(test_near(b.slope, (0.3 - 5 * a.slope) / 2, 1e-12), "%.15g", b.slope);
    cr_expect(test_near(b.low, (0.3 - 5 * a.high) / 2, 1e-12));
    cr_expect(test_near(b.high, (0.3 - 5 * a.low) / 2, 1e-12));
    cr_expect(test_near(b.intercept, 31 - 5 * a.intercept, 1e-10), "%.15g", b.intercept);
    y[3] = 5000;
    cr_assert_eq(trn_trend_theil_sen(t, y, 7, 0.95, work, &b), TRN_OK);
    cr_expect(fabs(b.slope / a.slope - 1) < 0.05, "%g %g", a.slope, b.slope);
}

/* published (Sen 1968): the variance with ties; d by hand */
Test(trend, ties)
{
    const double t[] = {1, 1, 2, 3, 4, 5, 6, 7}, y[] = {2, 3, 3, 5, 4, 7, 8, 8};
    double work[8 * 7], slope[28];
    trn_trend trend;
    cr_assert_eq(trn_trend_theil_sen(t, y, 8, 0.9, work, &trend), TRN_OK);
    size_t n = 0;
    for (size_t i = 0; i < 8; i++)
        for (size_t j = i + 1; j < 8; j++)
            if (t[j] > t[i])
                slope[n++] = (y[j] - y[i]) / (t[j] - t[i]);
    for (size_t i = 1; i < n; i++) /* insertion sort, an own route */
        for (size_t j = i; j > 0 && slope[j] < slope[j - 1]; j--) {
            double s = slope[j];
            slope[j] = slope[j - 1];
            slope[j - 1] = s;
        }
    cr_assert_eq(n, 27);
    double v = (8.0 * 7 * 21 - 3 * (2.0 * 1 * 9)) / 18;
    double d = floor((27 - gsl_cdf_ugaussian_Pinv(0.95) * sqrt(v)) / 2);
    cr_expect(test_near(trend.slope, slope[13], 1e-15));
    cr_expect(test_near(trend.low, slope[(size_t)d - 1], 1e-15));
    cr_expect(test_near(trend.high, slope[27 - (size_t)d], 1e-15));
    cr_expect(test_near(trend.coverage, 0.9, 1e-15));
}

Test(trend, refused_inputs_leave_outputs_untouched)
{
    const double t[] = {5, 5, 5}, y[] = {1, 2, NAN}, ok[] = {1, 2, 3};
    double work[MOST], a = 7, b = 7, c = 7, d = 7;
    trn_trend trend = {.slope = 7};
    cr_expect_eq(trn_trend_theil_sen(t, ok, 3, 0.95, work, &trend), TRN_E_DOMAIN);
    cr_expect_eq(trn_trend_theil_sen(ok, y, 3, 0.95, work, &trend), TRN_E_DOMAIN);
    cr_expect_eq(trn_trend_theil_sen(ok, ok, 1, 0.95, work, &trend), TRN_E_DOMAIN);
    cr_expect_eq(trn_trend_theil_sen(ok, ok, 3, 1, work, &trend), TRN_E_DOMAIN);
    cr_expect_eq(trn_trend_robust_limit(ok, 1, work, &a, &b, &c, &d), TRN_E_DOMAIN);
    cr_expect_eq(trn_trend_robust_limit(y, 3, work, &a, &b, &c, &d), TRN_E_DOMAIN);
    cr_expect_eq(trn_samples_rate(1, 2, 5, 5, 0, &a, &b), TRN_E_DOMAIN);
    cr_expect_eq(trn_samples_rate(-1, 2, 5, 6, 0, &a, &b), TRN_E_DOMAIN);
    cr_expect_eq(trn_samples_rate(1, NAN, 5, 6, 0, &a, &b), TRN_E_DOMAIN);
    cr_expect_eq(trn_samples_residual(1, 2, 3, 1, 0, &a, &b, &c), TRN_E_DOMAIN);
    cr_expect_eq(trn_samples_residual(1, 0, 3, 0.1, 0, &a, &b, &c), TRN_E_DOMAIN);
    cr_expect_eq(trn_samples_top_up(1, 2, 0, 0.1, 0, &a, &b, &c, &d), TRN_E_DOMAIN);
    cr_expect_eq(trn_samples_top_up(1, 2, 5, -0.1, 0, &a, &b, &c, &d), TRN_E_DOMAIN);
    bool dust = true;
    cr_expect_eq(trn_samples_dust(1, 0, 2, 7, &a, &dust), TRN_E_DOMAIN);
    cr_expect_eq(trn_samples_dust(1, 2, 7, 2, &a, &dust), TRN_E_DOMAIN);
    const double all[] = {trend.slope, a, b, c, d};
    for (size_t i = 0; i < 5; i++)
        cr_expect(all[i] >= 7 && all[i] <= 7, "%zu", i);
    cr_expect(dust);
}

/* derived: the leak's rate solves the balance V dC/dt = a V - Q C (Runge-Kutta), and becomes
 * the plain rate as the leak vanishes */
Test(trend, leak_balance)
{
    double c = 6.1, a = 0.318, v = 3.4, leak = 0.021, t = 118;
    int steps = 2000;
    double h = t / steps;
    for (int i = 0; i < steps; i++) {
        double k1 = a - leak / v * c;
        double k2 = a - leak / v * (c + h / 2 * k1);
        double k3 = a - leak / v * (c + h / 2 * k2);
        double k4 = a - leak / v * (c + h * k3);
        c += h / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
    }
    double rate, naive, limit, tau;
    cr_assert_eq(trn_samples_top_up(c, t, v, leak, 6.1, &rate, &naive, &limit, &tau), TRN_OK);
    cr_expect(test_near(rate, a, 1e-11), "%.14g", rate);
    cr_expect(test_near(limit, a * v / leak, 1e-11));
    cr_expect(naive < rate);
    for (double q = 1e-3; q > 1e-300; q /= 37) {
        cr_assert_eq(trn_samples_top_up(41.2, t, v, q, 6.1, &rate, &naive, &limit, &tau), TRN_OK);
        cr_expect(fabs(rate / naive - 1) <= q * t / v + 1e-12, "Q %g: %.15g %.15g", q, rate, naive);
    }
    cr_assert_eq(trn_samples_top_up(41.2, t, v, 0, 6.1, &rate, &naive, &limit, &tau), TRN_OK);
    cr_expect(isinf(limit) && isinf(tau) && test_near(rate, naive, 1e-15));
}

/* published: 15 % of 80 ppm left behind reads 12 ppm without any wear; nothing left, no
 * correction */
Test(trend, residual_oil)
{
    double start, rate, naive;
    cr_assert_eq(trn_samples_residual(12, 10, 80, 0.15, 0, &start, &rate, &naive), TRN_OK);
    cr_expect(test_near(start, 12, 1e-15) && fabs(rate) < 1e-15 && test_near(naive, 1.2, 1e-15));
    cr_assert_eq(trn_samples_residual(5, 10, 80, 0.15, 0, &start, &rate, &naive), TRN_OK);
    cr_expect_lt(rate, 0);
    cr_assert_eq(trn_samples_residual(31.7, 83.4, 80, 0, 0, &start, &rate, &naive), TRN_OK);
    cr_expect(test_near(rate, naive, 1e-15));
}

static double expected_of(const trn_sheet *sheet, const char *set, const char *quantity)
{
    for (size_t i = 0; i < sheet->rows; i++)
        if (strcmp(trn_sheet_cell(sheet, i, 0), set) == 0 &&
            strcmp(trn_sheet_cell(sheet, i, 1), quantity) == 0)
            return strtod(trn_sheet_cell(sheet, i, 2), NULL);
    return NAN;
}

/* derived: trends of the sample table tests/published/samples/one_fill.csv */
Test(trend, sample_table_of_one_fill)
{
    char path[512];
    trn_faults faults = {0};
    trn_sheet *data = NULL, *wanted = NULL;
    (void)snprintf(path, sizeof path, "%s/published/samples/one_fill.csv", test_root());
    cr_assert_eq(trn_sheet_read(path, &faults, &data), TRN_OK);
    (void)snprintf(path, sizeof path, "%s/published/samples/expected.csv", test_root());
    cr_assert_eq(trn_sheet_read(path, &faults, &wanted), TRN_OK);
    size_t checked = 0;
    for (size_t column = 3; column < data->columns; column++) {
        double t[16], y[16], work[16 * 15];
        size_t n = 0;
        char *element = NULL, *unit = NULL;
        cr_assert_eq(trn_header_split(data->header[column], &element, &unit), TRN_OK);
        for (size_t i = 0; i < data->rows; i++)
            if (*trn_sheet_cell(data, i, column)) {
                t[n] = strtod(trn_sheet_cell(data, i, 1), NULL);
                y[n++] = strtod(trn_sheet_cell(data, i, column), NULL);
            }
        static const char *const names[] = {"rate", "rate_low", "rate_high"};
        trn_trend trend;
        bool fitted = n >= 4 && trn_trend_theil_sen(t, y, n, 0.95, work, &trend) >= 0;
        for (size_t k = 0; k < 3 && fitted; k++) {
            char quantity[64];
            (void)snprintf(quantity, sizeof quantity, "centre.%s.1.%s", element, names[k]);
            double expected = expected_of(wanted, "one_fill", quantity);
            double computed = 100 * (const double[]){trend.slope, trend.low, trend.high}[k];
            if (isnan(expected) || strcmp(element, "water") == 0)
                continue;
            cr_expect(test_near(computed, expected, 1e-5), "%s: wanted %.9g, got %.9g", quantity,
                      expected, computed);
            checked++;
        }
        free(element);
        free(unit);
    }
    trn_sheet_free(data);
    trn_sheet_free(wanted);
    cr_expect_geq(checked, 12, "%zu", checked);
}

/* practice: MAD of a known list; the limits do not move with one wild reading */
Test(trend, robust_limits)
{
    const double y[] = {3.5, 1.25, 4.75, 2.5, 900};
    double work[5], m, s, warn, alarm;
    cr_expect_eq(trn_trend_robust_limit(y, 5, work, &m, &s, &warn, &alarm),
                 TRN_R_STATISTICS_FEW_VALUES);
    cr_expect(test_near(m, 3.5, 1e-15));
    cr_expect(test_near(s, 1.25 / gsl_cdf_ugaussian_Pinv(0.75), 1e-12), "%.15g", s);
    cr_expect(test_near(warn, m + 2 * s, 1e-15) && test_near(alarm, m + 3 * s, 1e-15));
}

/* the same leak in litres and in cubic metres and days, through the catalogue */
Test(trend, units_through_the_catalogue)
{
    trn_answer a, b;
    const trn_formula *f = trn_formula_find("statistics.top_up_rate");
    const char *litres[] = {"C=62.955ppm", "t=250h", "V=5L", "Q=0.01L/h", "C_0=3.1ppm"};
    const char *cubic[] = {"C=0.0062955 %", "t=15000 min", "V=0.005 m3", "Q=0.00024 m3/d",
                           "C_0=3.1"};
    cr_assert_eq(trn_formula_evaluate(f, litres, 5, &a), TRN_OK);
    cr_assert_eq(trn_formula_evaluate(f, cubic, 5, &b), TRN_OK, "%s: %s", b.faulty, b.why);
    for (size_t i = 0; i < 4; i++)
        cr_expect(test_near(a.out[i].x, b.out[i].x, 1e-12), "%zu: %.15g %.15g", i, a.out[i].x,
                  b.out[i].x);
    const char *uneven[] = {"times=1/2/3", "values=4/5"};
    cr_expect_eq(trn_formula_evaluate(trn_formula_find("statistics.theil_sen"), uneven, 2, &a),
                 TRN_E_DOMAIN);
}
