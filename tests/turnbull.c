/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Survival of units that were looked at: the condition of the maximum, and known estimates. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <trunnion/turnbull.h>

#include "support.h"

enum { ROWS = 200 };

static void quiet(void)
{
    (void)gsl_set_error_handler_off();
}

TestSuite(turnbull, .init = quiet);

static trn_weibull_row made(double after, double by, size_t count)
{
    trn_weibull_row row;
    cr_assert_eq(trn_weibull_row_make(after, by, count, &row), TRN_OK);
    return row;
}

/* What the masses give the rows; the largest and, over stretches with mass, the least rate. */
static double rate_at(const trn_weibull_data *d, const trn_turnbull_step *s, size_t n, double from,
                      double to)
{
    double rate = 0;
    for (size_t i = 0; i < d->n; i++) {
        const trn_weibull_row *r = &d->rows[i];
        double low = r->kind == TRN_WEIBULL_LEFT ? 0 : r->after_h;
        double high = r->kind == TRN_WEIBULL_RIGHT ? INFINITY : r->by_h;
        bool exact = r->kind == TRN_WEIBULL_EXACT;
        double part = 0;
        bool holds = exact ? from >= low && to <= high : (from >= low && to <= high && to > low);
        for (size_t j = 0; j < n; j++) {
            bool in = exact ? s[j].from_h >= low && s[j].to_h <= high
                            : s[j].from_h >= low && s[j].to_h <= high && s[j].to_h > low;
            part += in ? s[j].mass : 0;
        }
        if (holds)
            rate += (double)r->count / part;
    }
    return rate / d->units;
}

/* derived: at the maximum every stretch with mass has the rate 1 (Kuhn and Tucker) */
static void expect_maximum(const trn_weibull_data *d, const trn_turnbull_step *s, size_t n)
{
    double sum = 0;
    for (size_t j = 0; j < n; j++) {
        double rate = rate_at(d, s, n, s[j].from_h, s[j].to_h);
        cr_expect(fabs(rate - 1) < 1e-6 || (rate < 1 && s[j].mass < 1e-4), "%g..%g: rate %.12g",
                  s[j].from_h, s[j].to_h, rate);
        sum += s[j].mass;
    }
    cr_expect(fabs(sum - 1) < 1e-9, "masses add up to %.15g", sum);
}

/* memory: 46 patients looked at now and then (radiotherapy alone; Finkelstein and Wolfe 1985), the
 * masses as later textbooks and program manuals print them; months stand for hours */
Test(turnbull, known_estimate_of_46_patients)
{
    static const double looks[][2] = {
        {45, 0},  {6, 10},  {0, 7},   {46, 0}, {46, 0},  {7, 16},  {17, 0}, {7, 14},
        {37, 44}, {0, 8},   {4, 11},  {15, 0}, {11, 15}, {22, 0},  {46, 0}, {46, 0},
        {25, 37}, {46, 0},  {26, 40}, {46, 0}, {27, 34}, {36, 44}, {46, 0}, {36, 48},
        {37, 0},  {40, 0},  {17, 25}, {46, 0}, {11, 18}, {38, 0},  {5, 12}, {37, 0},
        {0, 5},   {18, 0},  {24, 0},  {36, 0}, {5, 11},  {19, 35}, {17, 25}, {24, 0},
        {32, 0},  {33, 0},  {19, 26}, {37, 0}, {34, 0},  {36, 0}};
    static const double wanted[][3] = {
        {4, 5, 0.0463},   {6, 7, 0.0334},   {7, 8, 0.0887},   {11, 12, 0.0708},
        {24, 25, 0.0926}, {33, 34, 0.0818}, {38, 40, 0.1209}, {46, 48, 0.4656}};
    trn_weibull_row rows[ROWS];
    trn_weibull_data data;
    trn_turnbull_step step[2 * ROWS + 1];
    size_t n = sizeof looks / sizeof looks[0];
    size_t count = 0;
    for (size_t i = 0; i < n; i++)
        rows[i] = made(looks[i][0], looks[i][1] > 0 ? looks[i][1] : INFINITY, 1);
    cr_assert_eq(trn_weibull_prepare(rows, n, &data), TRN_OK);
    cr_assert_eq(trn_turnbull(&data, step, &count), TRN_OK);
    cr_assert_eq(count, 8, "%zu stretches", count);
    for (size_t j = 0; j < count; j++) {
        cr_expect_eq(step[j].from_h, wanted[j][0], "%g", step[j].from_h);
        cr_expect_eq(step[j].to_h, wanted[j][1], "%g", step[j].to_h);
        cr_expect(fabs(step[j].mass - wanted[j][2]) < 6e-5, "%g: mass %.6g, not %g",
                  step[j].to_h, step[j].mass, wanted[j][2]);
    }
    expect_maximum(&data, step, count);
}

/* derived: known hours and running units alone give the product limit */
Test(turnbull, product_limit_where_every_hour_is_known)
{
    static const double hours[] = {23.85, 61, 61, 87.2, 99.3, 120, 150.5, 150.5, 201, 260};
    static const int failed[] = {1, 1, 0, 0, 1, 1, 1, 0, 1, 0};
    trn_weibull_row rows[ROWS];
    trn_weibull_data data;
    trn_turnbull_step step[2 * ROWS + 1];
    size_t n = sizeof hours / sizeof hours[0];
    size_t count = 0;
    for (size_t i = 0; i < n; i++)
        rows[i] = made(hours[i], failed[i] ? hours[i] : INFINITY, 1 + i % 3);
    cr_assert_eq(trn_weibull_prepare(rows, n, &data), TRN_OK);
    cr_assert_eq(trn_turnbull(&data, step, &count), TRN_OK);
    cr_expect_eq(count, 7, "%zu: six hours of failure, and those that run on", count);
    for (size_t j = 0; j < count; j++) {
        double s = 0, se, low, high;
        if (isinf(step[j].to_h))
            continue;
        cr_expect_eq(step[j].from_h, step[j].to_h);
        cr_assert_geq(trn_weibull_product_limit(&data, step[j].to_h, 0.95, &s, &se, &low, &high),
                      0);
        cr_expect(fabs(step[j].survive - s) < 1e-7, "%g h: %.12g, product limit %.12g",
                  step[j].to_h, step[j].survive, s);
    }
}

/* derived: Kuhn and Tucker on 40 seeded tables of all four kinds of row; order does not matter */
Test(turnbull, seeded_tables_meet_the_condition_of_the_maximum)
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(rng, 20261125);
    for (int k = 0; k < 40; k++) {
        trn_weibull_row rows[ROWS], turned[ROWS];
        trn_weibull_data data, other;
        trn_turnbull_step step[2 * ROWS + 1], again[2 * ROWS + 1];
        size_t n = 5 + (size_t)k * 3;
        size_t count = 0, same = 0;
        for (size_t i = 0; i < n; i++) {
            double t = gsl_ran_weibull(rng, 100, 1.7);
            double grid = 1 + floor(40 * gsl_rng_uniform(rng));
            double after = floor(t / grid) * grid;
            double kind = gsl_rng_uniform(rng);
            rows[i] = kind < 0.3   ? made(ceil(t), ceil(t), 1)
                      : kind < 0.5 ? made(ceil(t * 0.8), INFINITY, 2)
                                   : made(after, after + grid, 1);
            turned[i] = rows[i];
        }
        for (size_t i = 0; i < n / 2; i++) {
            trn_weibull_row swap = turned[i];
            turned[i] = turned[n - 1 - i];
            turned[n - 1 - i] = swap;
        }
        cr_assert_eq(trn_weibull_prepare(rows, n, &data), TRN_OK);
        cr_assert_eq(trn_turnbull(&data, step, &count), TRN_OK, "table %d", k);
        expect_maximum(&data, step, count);
        cr_assert_eq(trn_weibull_prepare(turned, n, &other), TRN_OK);
        cr_assert_eq(trn_turnbull(&other, again, &same), TRN_OK);
        cr_assert_eq(count, same);
        for (size_t j = 0; j < count; j++)
            cr_expect(fabs(step[j].survive - again[j].survive) < 1e-6);
    }
    gsl_rng_free(rng);
}

/* derived: two looks that part the units cleanly leave one stretch; all unseen: one after the
 * last look */
Test(turnbull, few_rows)
{
    trn_weibull_row rows[2] = {made(100, 238.5, 3), made(0, 150, 2)};
    trn_weibull_data data;
    trn_turnbull_step step[5];
    size_t count = 7;
    cr_assert_eq(trn_weibull_prepare(rows, 2, &data), TRN_OK);
    cr_assert_eq(trn_turnbull(&data, step, &count), TRN_OK);
    cr_assert_eq(count, 1);
    cr_expect(step[0].from_h == 100 && step[0].to_h == 150 && test_near(step[0].mass, 1, 1e-12));
    cr_expect_eq(step[0].survive, 0);
    rows[0] = made(238.5, INFINITY, 4);
    cr_assert_eq(trn_weibull_prepare(rows, 1, &data), TRN_OK);
    cr_assert_eq(trn_turnbull(&data, step, &count), TRN_OK);
    cr_expect(count == 1 && step[0].from_h == 238.5 && isinf(step[0].to_h));
}
