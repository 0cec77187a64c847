/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Likelihoods behind a failure review: sisters with a life of their own, lives known to a range,
 * every kind of row of a lives table. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <math.h>
#include <trunnion/evidence.h>

#include "support.h"

static void quiet(void)
{
    (void)gsl_set_error_handler_off();
}

TestSuite(review_evidence, .init = quiet);

static const double q = 0.10536051565782630;

enum { KINDS = 6 };
/* sound, failed, seen failed at a first look, failed between two looks */
static const double after_h[KINDS] = {387, 512.5, 0, 233, 1207, 95.5};
static const double by_h[KINDS] = {INFINITY, 512.5, 187.3, 605, INFINITY, 95.5};
static const size_t counts[KINDS] = {3, 1, 2, 4, 1, 2};

static void fleet(trn_weibull_row *rows, trn_weibull_data *data)
{
    for (size_t i = 0; i < KINDS; i++)
        cr_assert_eq(trn_weibull_row_make(after_h[i], by_h[i], counts[i], &rows[i]), TRN_OK);
    cr_assert_eq(trn_weibull_prepare(rows, KINDS, data), TRN_OK);
}

static double ln_survive(double t, double l, double beta)
{
    return -q * pow(t / l, beta);
}

static double ln_density(double t, double l, double beta)
{
    return log(beta * q / l) + (beta - 1) * log(t / l) - q * pow(t / l, beta);
}

static double ln_between(double a, double b, double l, double beta)
{
    return log(exp(ln_survive(a, l, beta)) - exp(ln_survive(b, l, beta)));
}

/* the table above, each row written out */
static double ln_fleet(double l, double beta)
{
    double sum = 0;
    for (size_t i = 0; i < KINDS; i++)
        sum += (double)counts[i] *
               (isinf(by_h[i])            ? ln_survive(after_h[i], l, beta)
                : after_h[i] == by_h[i]   ? ln_density(by_h[i], l, beta)
                                          : ln_between(after_h[i], by_h[i], l, beta));
    return sum;
}

typedef struct problem {
    double t, w, beta, s;
    bool with_fleet;
    double others; /* NaN: the life of the unit */
    double shift;  /* taken out of the exponent */
    double ln_life;
} problem;

static double at_x(double x, void *context)
{
    const problem *p = context;
    double error = exp(p->s * x);
    double life = exp(p->ln_life) * error;
    double l = p->w > 0 ? ln_between(p->t - p->w, p->t + p->w, life, p->beta) - log(2 * p->w)
                        : ln_density(p->t, life, p->beta);
    if (p->with_fleet)
        l += ln_fleet(isnan(p->others) ? life : p->others * error, p->beta);
    return exp(l - x * x / 2 - log(sqrt(2 * 3.14159265358979323846)) - p->shift);
}

static double over_x(double ln_life, void *context)
{
    problem *p = context;
    double sum = 0, error = 0;
    p->ln_life = ln_life;
    if (p->s == 0)
        return at_x(0, p) * sqrt(2 * 3.14159265358979323846);
    gsl_function f = {at_x, p};
    gsl_integration_workspace *room = gsl_integration_workspace_alloc(500);
    (void)gsl_integration_qags(&f, -9, 9, 0, 1e-11, 500, room, &sum, &error);
    gsl_integration_workspace_free(room);
    return sum;
}

/* derived: the double integral by GSL over densities written out */
static double by_gsl(problem p, double low, double high)
{
    double sum = 0, error = 0;
    p.shift = p.with_fleet ? -90 : -8;
    if (low == high)
        return p.shift + log(over_x(log(low), &p));
    gsl_function f = {over_x, &p};
    gsl_integration_workspace *room = gsl_integration_workspace_alloc(500);
    (void)gsl_integration_qags(&f, log(low), log(high), 0, 1e-10, 500, room, &sum, &error);
    gsl_integration_workspace_free(room);
    return p.shift + log(sum / log(high / low));
}

static const double no = NAN;

static void compare(double low, double high, double others, double w, double beta, double s,
                    bool with_fleet)
{
    trn_weibull_row rows[KINDS];
    trn_weibull_data data;
    double got = no;
    fleet(rows, &data);
    double want = by_gsl((problem){.t = 423.7, .w = w, .beta = beta, .s = s,
                                   .with_fleet = with_fleet, .others = others},
                         low, high);
    cr_assert_eq(trn_evidence_log_marginal_range(423.7, w, with_fleet ? &data : NULL, low, high,
                                                 others, beta, s, &got),
                 TRN_OK);
    cr_expect_float_eq(got, want, 1e-8, "%g..%g, others %g, w %g, beta %g, s %g: %.12g, %.12g", low,
                       high, others, w, beta, s, want, got);
}

/* derived: GSL over the integrand written out, another route and another rule */
Test(review_evidence, ranges_against_a_double_integral)
{
    const double betas[] = {1.1, 1.5, 2};
    const double errors[] = {0, 0.5, 1};
    for (size_t b = 0; b < 3; b++)
        for (size_t e = 0; e < 3; e++)
            for (int with = 0; with < 2; with++) {
                compare(53.1, 5310, no, 0, betas[b], errors[e], with);
                compare(53.1, 5310, no, 21.5, betas[b], errors[e], with);
                compare(350, 350, no, 21.5, betas[b], errors[e], with);
                if (with) {
                    compare(53.1, 5310, 2180, 0, betas[b], errors[e], true);
                    compare(617.3, 617.3, 2180, 21.5, betas[b], errors[e], true);
                }
            }
}

/* derived: without model error nothing is integrated, and the rows are those of a Weibull fit */
Test(review_evidence, every_kind_of_row_enters_as_in_a_fit)
{
    trn_weibull_row rows[KINDS];
    trn_weibull_data data;
    double m = no, l = no;
    fleet(rows, &data);
    const double l10[] = {61.7, 443, 5230};
    for (size_t i = 0; i < 3; i++) {
        double eta = l10[i] * pow(q, -1 / 1.37);
        cr_assert_eq(trn_evidence_log_marginal(423.7, 0, &data, l10[i], 1.37, 0, &m), TRN_OK);
        cr_assert_eq(trn_weibull_log_likelihood(&data, 1.37, eta, &l), TRN_OK);
        cr_expect_float_eq(m, ln_density(423.7, l10[i], 1.37) + l, 1e-9 * fabs(m));
        cr_expect_float_eq(l, ln_fleet(l10[i], 1.37), 1e-9 * fabs(l));
    }
}

Test(review_evidence, a_count_is_as_many_rows)
{
    trn_weibull_row one[1], many[7];
    trn_weibull_data a, b;
    double x = no, y = no;
    for (size_t kind = 0; kind < 4; kind++) {
        cr_assert_eq(trn_weibull_row_make(after_h[kind], by_h[kind], 7, &one[0]), TRN_OK);
        for (size_t i = 0; i < 7; i++)
            cr_assert_eq(trn_weibull_row_make(after_h[kind], by_h[kind], 1, &many[i]), TRN_OK);
        cr_assert_eq(trn_weibull_prepare(one, 1, &a), TRN_OK);
        cr_assert_eq(trn_weibull_prepare(many, 7, &b), TRN_OK);
        cr_assert_eq(trn_evidence_log_marginal(423.7, 15, &a, 873, 1.5, 0.5, &x), TRN_OK);
        cr_assert_eq(trn_evidence_log_marginal(423.7, 15, &b, 873, 1.5, 0.5, &y), TRN_OK);
        cr_expect_float_eq(x, y, 1e-10 * fabs(x), "kind %zu", kind);
    }
}

/* derived: the same life for all is no life apart */
Test(review_evidence, apart_meets_together)
{
    trn_weibull_row rows[KINDS];
    trn_weibull_data data;
    double a = no, b = no, c = no;
    fleet(rows, &data);
    cr_assert_eq(trn_evidence_log_marginal(423.7, 10, &data, 731.2, 1.5, 0.5, &a), TRN_OK);
    cr_assert_eq(trn_evidence_log_marginal_apart(423.7, 10, &data, 731.2, 731.2, 1.5, 0.5, &b),
                 TRN_OK);
    cr_expect_float_eq(a, b, 1e-12);
    /* without sisters their life does not matter */
    cr_assert_eq(trn_evidence_log_marginal_apart(423.7, 10, NULL, 731.2, 9, 1.5, 0.5, &b), TRN_OK);
    cr_assert_eq(trn_evidence_log_marginal(423.7, 10, NULL, 731.2, 1.5, 0.5, &c), TRN_OK);
    cr_expect_float_eq(b, c, 1e-12);
}

/* derived: the mean over a short range differs from the middle by its square */
Test(review_evidence, a_short_range_is_a_point)
{
    double point = no, range = no;
    cr_assert_eq(trn_evidence_log_marginal(423.7, 0, NULL, 700, 1.5, 0.5, &point), TRN_OK);
    double before = INFINITY;
    for (double width = 0.4; width > 0.01; width /= 2) {
        cr_assert_eq(trn_evidence_log_marginal_range(423.7, 0, NULL, 700 * exp(-width),
                                                     700 * exp(width), no, 1.5, 0.5, &range),
                     TRN_OK);
        double off = fabs(range - point);
        cr_expect(off < 0.3 * before, "width %g: off by %g after %g", width, off, before);
        before = off;
    }
    cr_assert_eq(trn_evidence_log_marginal_range(423.7, 0, NULL, 700, 700, no, 1.5, 0.5, &range),
                 TRN_OK);
    cr_expect_float_eq(range, point, 1e-13);
}

/* derived: (S(H-w) - S(H+w))/2w -> f(H) with the square of w */
Test(review_evidence, an_interval_tends_to_the_density)
{
    double exact = no, wide = no;
    cr_assert_eq(trn_evidence_log_marginal(423.7, 0, NULL, 700, 1.5, 0.5, &exact), TRN_OK);
    for (double w = 40; w > 1; w /= 4) {
        cr_assert_eq(trn_evidence_log_marginal(423.7, w, NULL, 700, 1.5, 0.5, &wide), TRN_OK);
        cr_expect_float_eq(wide, exact, 0.4 * w * w / (423.7 * 423.7), "w %g", w);
    }
    cr_expect_float_neq(wide, exact, 1e-9);
}

/* derived: one failure time can favour no life by more than the ceiling */
Test(review_evidence, nothing_passes_the_ceiling)
{
    double ceiling = no, best = no, ref = no, m = no;
    cr_assert_eq(trn_evidence_ceiling(423.7, 3170, 1.5, &ceiling, &best), TRN_OK);
    cr_assert_eq(trn_evidence_log_marginal(423.7, 0, NULL, 3170, 1.5, 0, &ref), TRN_OK);
    for (double life = 10; life < 1e5; life *= 1.11) {
        cr_assert_eq(trn_evidence_log_marginal(423.7, 0, NULL, life, 1.5, 0, &m), TRN_OK);
        cr_expect(exp(m - ref) <= ceiling * (1 + 1e-12), "%g h", life);
        cr_assert_eq(trn_evidence_log_marginal_range(423.7, 0, NULL, life, 3 * life, no, 1.5, 0,
                                                     &m),
                     TRN_OK);
        cr_expect(exp(m - ref) <= ceiling * (1 + 1e-12), "%g h, range", life);
    }
    cr_assert_eq(trn_evidence_log_marginal(423.7, 0, NULL, best, 1.5, 0, &m), TRN_OK);
    cr_expect_float_eq(exp(m - ref), ceiling, 1e-9 * ceiling);
}

static double failed_at(double ln_life, void *context)
{
    (void)context;
    return 1 - pow(0.9, pow(423.7 / exp(ln_life), 1.5));
}

Test(review_evidence, mean_of_the_share_failed)
{
    double got = no, want = 0, error = 0;
    gsl_function f = {failed_at, NULL};
    size_t calls = 0;
    (void)gsl_integration_qng(&f, log(53.1), log(5310), 0, 1e-9, &want, &error, &calls);
    want /= log(100);
    cr_assert_eq(trn_evidence_failed_range(423.7, 53.1, 5310, 1.5, &got), TRN_OK);
    cr_expect_float_eq(got, want, 1e-8);
    cr_assert_eq(trn_evidence_failed_range(423.7, 5310, 5310, 1.5, &got), TRN_OK);
    cr_expect_float_eq(got, failed_at(log(5310), NULL), 1e-13);
}

/* derived: many sisters and steep slopes, where a rule round x = 0 would be out */
Test(review_evidence, a_narrow_peak_far_from_the_middle)
{
    trn_weibull_row row[1];
    trn_weibull_data data;
    cr_assert_eq(trn_weibull_row_make(900, INFINITY, 400, row), TRN_OK);
    cr_assert_eq(trn_weibull_prepare(row, 1, &data), TRN_OK);
    double got = no, most = -INFINITY, sum = 0;
    const double h = 1.0 / 512;
    for (int pass = 0; pass < 2; pass++)
        for (double x = -10; x <= 10; x += h) {
            double life = 300 * exp(x);
            double l = ln_density(423.7, life, 3) + 400 * ln_survive(900, life, 3) - x * x / 2;
            if (pass == 0)
                most = fmax(most, l);
            else
                sum += exp(l - most) * h;
        }
    double want = most + log(sum / sqrt(2 * 3.14159265358979323846));
    cr_assert_eq(trn_evidence_log_marginal(423.7, 0, &data, 300, 3, 1, &got), TRN_OK);
    cr_expect_float_eq(got, want, 1e-8, "%.12g, %.12g", want, got);
}

Test(review_evidence, refused)
{
    double m = 7.5;
    const double bad[] = {0, -3.2, NAN, INFINITY};
    for (size_t i = 0; i < 4; i++) {
        cr_expect_eq(trn_evidence_log_marginal_apart(bad[i], 0, NULL, 9, 9, 1.5, 0.5, &m),
                     TRN_E_DOMAIN);
        cr_expect_eq(trn_evidence_log_marginal_apart(9, 0, NULL, bad[i], 9, 1.5, 0.5, &m),
                     TRN_E_DOMAIN);
        cr_expect_eq(trn_evidence_log_marginal_apart(9, 0, NULL, 9, bad[i], 1.5, 0.5, &m),
                     TRN_E_DOMAIN);
        cr_expect_eq(trn_evidence_log_marginal_range(9, 0, NULL, bad[i], 9, no, 1.5, 0.5, &m),
                     TRN_E_DOMAIN);
        cr_expect_eq(trn_evidence_log_marginal_range(9, 0, NULL, 9, 12, no, bad[i], 0.5, &m),
                     TRN_E_DOMAIN);
        cr_expect_eq(trn_evidence_failed_range(bad[i], 9, 12, 1.5, &m), TRN_E_DOMAIN);
        cr_expect_eq(trn_evidence_failed_range(9, bad[i], 12, 1.5, &m), TRN_E_DOMAIN);
    }
    cr_expect_eq(trn_evidence_log_marginal_range(9, 0, NULL, 12, 9, no, 1.5, 0.5, &m),
                 TRN_E_DOMAIN);
    cr_expect_eq(trn_evidence_log_marginal_range(9, 9.1, NULL, 9, 12, no, 1.5, 0.5, &m),
                 TRN_E_DOMAIN);
    cr_expect_eq(trn_evidence_log_marginal_range(9, 0, NULL, 9, 12, no, 1.5, -1, &m),
                 TRN_E_DOMAIN);
    cr_expect_eq(trn_evidence_failed_range(9, 12, 9, 1.5, &m), TRN_E_DOMAIN);
    cr_expect_eq(m, 7.5, "outputs untouched");
}
