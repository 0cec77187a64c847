/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/formula.h>
#include <trunnion/rainflow.h>
#include <trunnion/table.h>

#include "support.h"

enum { MOST = 256 };

static size_t load_set(const char *set, double *load)
{
    char path[512];
    (void)snprintf(path, sizeof path, "%s/published/rainflow/%s.csv", test_root(), set);
    trn_faults faults = {0};
    trn_sheet *sheet = NULL;
    cr_assert_eq(trn_sheet_read(path, &faults, &sheet), TRN_OK, "%s", path);
    size_t n = sheet->rows;
    for (size_t i = 0; i < n; i++)
        load[i] = strtod(trn_sheet_cell(sheet, i, 0), NULL);
    trn_sheet_free(sheet);
    return n;
}

/* published and derived: tests/published/rainflow, each row names its source */
Test(rainflow, histories_with_known_counts)
{
    char path[512];
    (void)snprintf(path, sizeof path, "%s/published/rainflow/expected.csv", test_root());
    trn_faults faults = {0};
    trn_sheet *sheet = NULL;
    cr_assert_eq(trn_sheet_read(path, &faults, &sheet), TRN_OK);
    cr_expect_geq(sheet->rows, 60);
    for (size_t i = 0; i < sheet->rows; i++) {
        double load[MOST], work[MOST + 1], cycles, count, equivalent;
        size_t n = load_set(trn_sheet_cell(sheet, i, 0), load);
        const char *quantity = trn_sheet_cell(sheet, i, 1);
        const char *what = strchr(quantity, '.') + 1;
        bool sum = strcmp(what, "cycles") == 0;
        bool repeating = strncmp(quantity, "repeating", 9) == 0;
        double range = sum ? NAN : strtod(what, NULL);
        cr_assert_eq(trn_rainflow_summary(load, n, repeating, range, 3, work, &cycles, &count,
                                          &equivalent),
                     TRN_OK);
        double computed = sum ? cycles : count;
        double expected = strtod(trn_sheet_cell(sheet, i, 2), NULL);
        cr_expect_float_eq(computed, expected, 1e-6, "%s %s: wanted %g, got %g",
                           trn_sheet_cell(sheet, i, 0), quantity, expected, computed);
    }
    trn_sheet_free(sheet);
}

typedef struct cycles {
    double from[2 * MOST], to[2 * MOST], count[2 * MOST];
    size_t n;
} cycles;

static void keep(void *context, double from, double to, double count)
{
    cycles *c = context;
    c->from[c->n] = from;
    c->to[c->n] = to;
    c->count[c->n++] = count;
}

/* published: ASTM E1049, order of extraction of the worked example */
Test(rainflow, order_of_extraction)
{
    const double load[] = {-2, 1, -3, 5, -1, 3, -4, 4, -2};
    const double range[] = {3, 4, 4, 8, 9, 8, 6}, count[] = {0.5, 0.5, 1, 0.5, 0.5, 0.5, 0.5};
    double work[10];
    cycles c = {.n = 0};
    cr_assert_eq(trn_rainflow_count(load, 9, false, work, keep, &c), TRN_OK);
    cr_assert_eq(c.n, 7);
    for (size_t i = 0; i < 7; i++)
        cr_expect(test_near(fabs(c.to[i] - c.from[i]), range[i], 1e-15) &&
                      test_near(c.count[i], count[i], 1e-15),
                  "%zu: %g (%g)", i, fabs(c.to[i] - c.from[i]), c.count[i]);
    double n, e, dummy;
    const double m[] = {3, 5, 10}, wanted[] = {6.491112, 7.012657, 7.678259};
    for (size_t i = 0; i < 3; i++) {
        cr_assert_eq(trn_rainflow_summary(load, 9, false, NAN, m[i], work, &n, &dummy, &e), TRN_OK);
        cr_expect_float_eq(e, wanted[i], 6e-7, "m %g: %.9g", m[i], e);
        cr_expect(isnan(dummy));
    }
}

/* derived: the four-point rule with a half-counted residue, on the turning points */
static void four_point(const double *load, size_t n, cycles *c)
{
    double p[MOST];
    size_t k = 0;
    for (size_t i = 0; i < n; i++) {
        if (k >= 1 && load[i] == p[k - 1])
            continue;
        if (k >= 2 && (load[i] - p[k - 1]) * (p[k - 1] - p[k - 2]) > 0)
            k--;
        p[k++] = load[i];
    }
    for (bool found = true; found;) {
        found = false;
        for (size_t i = 0; i + 3 < k; i++) {
            double inner = fabs(p[i + 2] - p[i + 1]);
            if (inner <= fabs(p[i + 1] - p[i]) && inner <= fabs(p[i + 3] - p[i + 2])) {
                keep(c, p[i + 1], p[i + 2], 1);
                memmove(p + i + 1, p + i + 3, (k - i - 3) * sizeof *p);
                k -= 2;
                found = true;
                break;
            }
        }
    }
    for (size_t i = 0; i + 1 < k; i++)
        keep(c, p[i], p[i + 1], 0.5);
}

static double counted(const cycles *c, double range)
{
    double sum = 0;
    for (size_t i = 0; i < c->n; i++)
        if (test_near(fabs(c->to[i] - c->from[i]), range, 1e-12))
            sum += c->count[i];
    return sum;
}

Test(rainflow, same_table_as_the_four_point_rule)
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(rng, 1968);
    for (int k = 0; k < 400; k++) {
        double load[80], work[81];
        size_t n = 3 + gsl_rng_uniform_int(rng, 77);
        for (size_t i = 0; i < n; i++)
            load[i] = (double)gsl_rng_uniform_int(rng, 25);
        load[0] = 30; /* at least two turning points */
        cycles three = {.n = 0}, four = {.n = 0}, shifted = {.n = 0}, closed = {.n = 0};
        cr_assert_eq(trn_rainflow_count(load, n, false, work, keep, &three), TRN_OK);
        four_point(load, n, &four);
        cr_assert_eq(trn_rainflow_count(load, n, true, work, keep, &closed), TRN_OK);
        /* repeating: the same loop from another point on, and every count whole */
        double turned[80];
        for (size_t i = 0; i < n; i++)
            turned[i] = load[(i + n / 3) % n];
        cr_assert_eq(trn_rainflow_count(turned, n, true, work, keep, &shifted), TRN_OK);
        for (double range = 1; range <= 30; range++) {
            cr_expect(fabs(counted(&three, range) - counted(&four, range)) < 1e-12,
                      "history %d, range %g: %g, by four points %g", k, range,
                      counted(&three, range), counted(&four, range));
            cr_expect(fabs(counted(&closed, range) - counted(&shifted, range)) < 1e-12,
                      "history %d, range %g", k, range);
        }
        for (size_t i = 0; i < closed.n; i++)
            cr_expect(closed.count[i] >= 1);
    }
    gsl_rng_free(rng);
}

/* derived: scaling and reversing loads; points that do not turn change nothing */
Test(rainflow, invariance)
{
    double load[MOST], other[MOST], dense[2 * MOST], work[2 * MOST + 1];
    size_t n = load_set("pto_torque", load);
    double a, b, c, d, e, f;
    for (size_t i = 0; i < n; i++) {
        other[i] = 17.3 - 2.385 * load[i];
        dense[2 * i] = load[i];
        dense[2 * i + 1] = i + 1 < n ? 0.37 * load[i] + 0.63 * load[i + 1] : load[i];
    }
    for (int repeating = 0; repeating < 2; repeating++) {
        cr_assert_eq(trn_rainflow_summary(load, n, repeating, 411, 4.2, work, &a, &b, &c), TRN_OK);
        cr_assert_eq(
            trn_rainflow_summary(other, n, repeating, 2.385 * 411, 4.2, work, &d, &e, &f), TRN_OK);
        cr_expect(test_near(a, d, 1e-14) && test_near(b, e, 1e-14), "%g %g", b, e);
        cr_expect(test_near(2.385 * c, f, 1e-12));
        cr_assert_eq(trn_rainflow_summary(dense, 2 * n, repeating, 411, 4.2, work, &d, &e, &f),
                     TRN_OK);
        cr_expect(test_near(a, d, 1e-14) && test_near(b, e, 1e-14) && test_near(c, f, 1e-13));
    }
}

/* derived: worked spectrum of the page */
Test(rainflow, equivalent_torque)
{
    const double t[] = {400, 600, 900, 1500}, q[] = {60, 30, 9, 1};
    const double p[] = {3, 10.0 / 3, 6.610, 8.738};
    const double wanted[] = {587.288, 602.699, 785.293, 896.568}, peak[] = {0.17, 0.21, 0.72, 0.90};
    for (size_t i = 0; i < 4; i++) {
        double eq, share;
        cr_assert_eq(trn_rainflow_equivalent(t, q, 4, p[i], &eq, &share), TRN_OK);
        cr_expect_float_eq(eq, wanted[i], 6e-4, "%.9g", eq);
        cr_expect_float_eq(share, peak[i], 0.005, "%.4g", share);
    }
    double eq, share;
    cr_assert_eq(trn_rainflow_equivalent(t, q, 4, 400, &eq, &share), TRN_OK); /* no overflow */
    cr_expect(test_near(eq, 1500 * pow(0.01, 1.0 / 400), 1e-12), "%.15g", eq);
    cr_assert_eq(trn_rainflow_equivalent(t + 1, q, 1, 3.3, &eq, &share), TRN_OK);
    cr_expect(test_near(eq, 600, 1e-15) && test_near(share, 1, 1e-15));
    const double idle[] = {0};
    cr_assert_eq(trn_rainflow_equivalent(idle, q, 1, 3, &eq, &share), TRN_OK);
    cr_expect(eq <= 0 && isnan(share));
}

Test(rainflow, refused_inputs_leave_outputs_untouched)
{
    const double flat[] = {3, 3, 3}, bad[] = {1, NAN, 3}, fine[] = {1, 3}, none[] = {0, 0};
    double work[8], a = 7, b = 7, c = 7;
    cr_expect_eq(trn_rainflow_summary(flat, 3, false, NAN, 3, work, &a, &b, &c), TRN_E_DOMAIN);
    cr_expect_eq(trn_rainflow_summary(bad, 3, true, NAN, 3, work, &a, &b, &c), TRN_E_DOMAIN);
    cr_expect_eq(trn_rainflow_summary(fine, 2, true, NAN, 0, work, &a, &b, &c), TRN_E_DOMAIN);
    cr_expect_eq(trn_rainflow_summary(fine, 2, true, -1, 3, work, &a, &b, &c), TRN_E_DOMAIN);
    cr_expect_eq(trn_rainflow_summary(fine, 0, true, 1, 3, work, &a, &b, &c), TRN_E_MISSING);
    cr_expect_eq(trn_rainflow_equivalent(fine, none, 2, 3, &a, &b), TRN_E_DOMAIN);
    cr_expect_eq(trn_rainflow_equivalent(bad, fine, 2, 3, &a, &b), TRN_E_DOMAIN);
    cr_expect_eq(trn_rainflow_equivalent(fine, fine, 2, -3, &a, &b), TRN_E_DOMAIN);
    cr_expect_eq(trn_rainflow_miner(fine, none, 2, &a), TRN_E_DOMAIN);
    cr_expect_eq(trn_rainflow_miner(fine, fine, 0, &a), TRN_E_MISSING);
    cr_expect(a >= 7 && a <= 7 && b >= 7 && b <= 7 && c >= 7 && c <= 7);
}

/* loads in N.m and in lbf.ft through the catalogue */
Test(rainflow, units_through_the_catalogue)
{
    trn_answer a, b;
    const trn_formula *f = trn_formula_find("statistics.rainflow");
    const char *metric[] = {"load=0/351/87/429/12N.m", "range=264", "m=5"};
    const char *inch[] = {"load=0/258.8843/64.16790/316.4142/8.850746lbf.ft",
                          "range=194.7164 lbf.ft", "m=5"};
    cr_assert_eq(trn_formula_evaluate(f, metric, 3, &a), TRN_OK);
    cr_assert_eq(trn_formula_evaluate(f, inch, 3, &b), TRN_OK);
    cr_expect(test_near(a.out[2].x, b.out[2].x, 1e-6), "%.9g %.9g", a.out[2].x, b.out[2].x);
    const char *open[] = {"T1=400", "q1=60", "T2=300", "p=3"};
    cr_expect_eq(trn_formula_evaluate(trn_formula_find("statistics.miner_equivalent"), open, 4, &a),
                 TRN_E_MISSING);
}
