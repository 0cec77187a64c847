/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/evidence.h>
#include <trunnion/formula.h>
#include <trunnion/life.h>

#include "support.h"

static void quiet(void)
{
    (void)gsl_set_error_handler_off();
}

TestSuite(evidence, .init = quiet);

static const double q = 0.10536051565782630;
static const double sisters_h[] = {380, 510, 640, 700, 820, 900, 950, 1100, 1200};

static void sisters(trn_weibull_row *rows, trn_weibull_data *data)
{
    for (size_t i = 0; i < 9; i++)
        cr_assert_eq(trn_weibull_row_make(sisters_h[i], INFINITY, 1, &rows[i]), TRN_OK);
    cr_assert_eq(trn_weibull_prepare(rows, 9, data), TRN_OK);
}

/* derived: worked table of the page, beta 1.5, 420 h, nine sisters */
Test(evidence, worked_table)
{
    const double l10[] = {5000, 1800, 2600, 350, 600};
    const double ln_f[] = {-11.603130, -10.079963, -10.626516, -7.750175, -8.481875};
    const double want[4][5] = {{1, 4.586727, 2.655450, 47.132139, 22.674812},
                               {1, 4.531700, 2.640662, 40.597544, 21.110591},
                               {1, 3.648996, 2.390690, 1.671258, 5.303709},
                               {1, 2.984816, 2.150985, 1.842556, 3.439093}};
    trn_weibull_row rows[9];
    trn_weibull_data data;
    sisters(rows, &data);
    for (size_t i = 0; i < 5; i++)
        for (size_t k = 0; k < 4; k++) {
            double m, ref, factor;
            cr_assert_eq(trn_evidence_bayes_factor(420, 0, k < 2 ? NULL : &data, l10[i], 5000,
                                                   1.5, k % 2 ? 0.5 : 0, &m, &ref, &factor),
                         TRN_OK);
            cr_expect_float_eq(factor, want[k][i], 6e-7, "%g, %zu: wanted %.6f, got %.9g", l10[i],
                               k, want[k][i], factor);
            if (k == 0)
                cr_expect_float_eq(m, ln_f[i], 6e-7, "%.9f", m);
        }
}

/* A plain trapezoidal sum over x, with the densities written out: an own route. It converges
 * faster than any power of the step for integrands that die out at both ends. */
static double by_sum(double t, double w, const double *run, size_t n, double l10, double beta,
                     double s)
{
    double most = -INFINITY, sum = 0, h = 1.0 / 256;
    for (int pass = 0; pass < 2; pass++)
        for (double x = -12; x <= 30; x += h) {
            double life = l10 * exp(s * x);
            double l = -x * x / 2;
            for (size_t i = 0; i < n; i++)
                l -= q * pow(run[i] / life, beta);
            double za = q * pow((t - w) / life, beta), zb = q * pow((t + w) / life, beta);
            double z = q * pow(t / life, beta);
            l += w > 0 ? -za + log(-expm1(-(zb - za)) / (2 * w)) : log(beta * z / t) - z;
            if (pass == 0)
                most = fmax(most, l);
            else if (l > -INFINITY)
                sum += exp(l - most) * h;
        }
    return most + log(sum) - 0.91893853320467274;
}

Test(evidence, integral_against_a_plain_sum)
{
    double run[50];
    trn_weibull_row rows[50];
    trn_weibull_data data;
    for (size_t i = 0; i < 50; i++) { /* fifty survivors, beta 3, s 1: a narrow integrand */
        run[i] = 800 + 13.7 * (double)i;
        cr_assert_eq(trn_weibull_row_make(run[i], INFINITY, 1, &rows[i]), TRN_OK);
    }
    cr_assert_eq(trn_weibull_prepare(rows, 50, &data), TRN_OK);
    const double beta[] = {0.8, 1.5, 3, 6}, s[] = {0.05, 0.5, 1, 2}, w[] = {0, 25, 412};
    for (size_t i = 0; i < 4; i++)
        for (size_t j = 0; j < 4; j++)
            for (size_t k = 0; k < 3; k++)
                for (size_t fleet = 0; fleet < 2; fleet++) {
                    double m;
                    cr_assert_eq(trn_evidence_log_marginal(420, w[k], fleet ? &data : NULL, 350,
                                                           beta[i], s[j], &m),
                                 TRN_OK);
                    double sum =
                        by_sum(420, w[k], run, fleet ? 50 : 0, 350, beta[i], s[j]);
                    if (sum < -200) /* the mode lies outside the sum's range */
                        continue;
                    cr_expect_float_eq(m, sum, 1e-9, "%g %g %g %zu: wanted %.12g, got %.12g",
                                       beta[i], s[j], w[k], fleet, sum, m);
                }
}

/* derived: the interval form tends to the density, the model error to none; rows of all kinds
 * in the fleet count as in a life table */
Test(evidence, limits_and_fleet)
{
    double exact, narrow, none, little;
    cr_assert_eq(trn_evidence_log_marginal(420, 0, NULL, 600, 1.5, 0.5, &exact), TRN_OK);
    cr_assert_eq(trn_evidence_log_marginal(420, 1e-4, NULL, 600, 1.5, 0.5, &narrow), TRN_OK);
    cr_expect(test_near(exact, narrow, 1e-11), "%.14g %.14g", exact, narrow);
    cr_assert_eq(trn_evidence_log_marginal(420, 420, NULL, 600, 1.5, 0, &narrow), TRN_OK);
    double f = 0;
    cr_assert_eq(trn_life_probability(840, 600, 1.5, &f), TRN_OK);
    cr_expect(test_near(narrow, log(f / 840), 1e-13));
    cr_assert_eq(trn_evidence_log_marginal(420, 0, NULL, 600, 1.5, 0, &none), TRN_OK);
    cr_assert_eq(trn_evidence_log_marginal(420, 0, NULL, 600, 1.5, 1e-5, &little), TRN_OK);
    cr_expect(fabs(none - little) < 1e-9, "%.14g %.14g", none, little);
    trn_weibull_row rows[4];
    trn_weibull_data data;
    cr_assert_eq(trn_weibull_row_make(531, 531, 2, &rows[0]), TRN_OK);
    cr_assert_eq(trn_weibull_row_make(0, 733, 1, &rows[1]), TRN_OK);
    cr_assert_eq(trn_weibull_row_make(412, 688, 3, &rows[2]), TRN_OK);
    cr_assert_eq(trn_weibull_row_make(911, INFINITY, 4, &rows[3]), TRN_OK);
    cr_assert_eq(trn_weibull_prepare(rows, 4, &data), TRN_OK);
    double fleet, l;
    cr_assert_eq(trn_evidence_log_marginal(420, 0, &data, 600, 1.5, 0, &fleet), TRN_OK);
    cr_assert_eq(trn_weibull_log_likelihood(&data, 1.5, 600 * pow(q, -1 / 1.5), &l), TRN_OK);
    cr_expect(test_near(fleet, none + l, 1e-13), "%.15g %.15g", fleet, none + l);
}

/* derived: no life beats the best one, and that one reaches the ceiling */
Test(evidence, ceiling)
{
    double ceiling, best, m, ref, factor;
    cr_assert_eq(trn_evidence_ceiling(420, 5000, 1.5, &ceiling, &best), TRN_OK);
    for (double scale = 0.5; scale < 3; scale *= 1.07) {
        cr_assert_eq(trn_evidence_bayes_factor(420, 0, NULL, best * scale, 5000, 1.5, 0, &m, &ref,
                                               &factor),
                     TRN_OK);
        cr_expect_leq(factor, ceiling * (1 + 1e-12));
    }
    cr_assert_eq(trn_evidence_bayes_factor(420, 0, NULL, best, 5000, 1.5, 0, &m, &ref, &factor),
                 TRN_OK);
    cr_expect(test_near(factor, ceiling, 1e-12), "%.15g %.15g", factor, ceiling);
}

Test(evidence, posterior_and_words)
{
    double p, back;
    cr_assert_eq(trn_evidence_posterior(0.237, 13.7, &p), TRN_OK);
    cr_assert_eq(trn_evidence_posterior(p, 1 / 13.7, &back), TRN_OK);
    cr_expect(test_near(back, 0.237, 1e-14), "%.15g", back);
    cr_assert_eq(trn_evidence_posterior(0.237, 0, &p), TRN_OK);
    cr_expect(p >= 0 && p <= 0);
    /* published: Kass and Raftery 1995, bounds of the words */
    cr_expect_str_eq(trn_evidence_word(2.9), "weak");
    cr_expect_str_eq(trn_evidence_word(1 / 2.9), "weak");
    cr_expect_str_eq(trn_evidence_word(19), "positive");
    cr_expect_str_eq(trn_evidence_word(1.0 / 140), "strong");
    cr_expect_str_eq(trn_evidence_word(151), "very strong");
    cr_expect_str_eq(trn_evidence_word(NAN), "");
}

/* Mean of the marginal losses over all k! orders, written out. */
static void by_orders(const double *life, size_t k, size_t set, double weight, double *share)
{
    size_t left = 0;
    for (size_t i = 0; i < k; i++)
        left += !(set >> i & 1);
    for (size_t i = 0; i < k; i++)
        if (!(set >> i & 1)) {
            size_t with = set | (size_t)1 << i;
            share[i] += weight / (double)left * (life[set] - life[with]);
            by_orders(life, k, with, weight / (double)left, share);
        }
}

/* derived: Shapley's axioms, and all orders written out */
Test(evidence, shares)
{
    double life[32], share[8], orders[5] = {0}, lost, sum = 0;
    size_t k;
    for (size_t j = 0; j < 32; j++)
        life[j] = 9000 * pow(0.61, (double)(j & 1)) * pow(0.83, (double)(j >> 1 & 1)) *
                      pow(1.07, (double)(j >> 2 & 1)) * pow(0.5, (double)(j >> 3 & 1)) -
                  37.0 * (double)(j >> 4 & 1) * (double)(1 + (j & 1));
    cr_assert_eq(trn_evidence_shares(life, 32, false, &lost, share, &k), TRN_OK);
    cr_assert_eq(k, 5);
    by_orders(life, 5, 0, 1, orders);
    for (size_t i = 0; i < 5; i++) {
        cr_expect(test_near(share[i] * lost, orders[i], 1e-12), "%zu: %.14g %.14g", i,
                  share[i] * lost, orders[i]);
        sum += share[i];
    }
    cr_expect(test_near(sum, 1, 1e-13));
    cr_expect_lt(share[2], 0); /* one that helps */
    for (size_t j = 0; j < 32; j++) /* factors keep their log share */
        life[j] = 9000 * pow(0.61, (double)(j & 1)) * pow(0.83, (double)(j >> 1 & 1)) *
                  pow(0.7, (double)(j >> 2 & 1)) * pow(0.5, (double)(j >> 3 & 1));
    cr_assert_eq(trn_evidence_shares(life, 32, true, &lost, share, &k), TRN_OK);
    cr_expect(test_near(share[0], log(0.61) / log(0.61 * 0.83 * 0.7 * 0.5), 1e-12));
    cr_expect_float_eq(share[4], 0, 1e-14); /* no effect, no share */
    double two[] = {4000, 1000, 1000, 700};
    cr_assert_eq(trn_evidence_shares(two, 4, false, &lost, share, &k), TRN_OK);
    cr_expect(test_near(share[0], 0.5, 1e-15) && test_near(share[1], 0.5, 1e-15));
}

/* practice: the table of signs; every sign has its words, weights stay in their range */
Test(evidence, damage_signs)
{
    size_t signs = 0, causes = 0, seen = 0;
    while (trn_evidence_signs[signs])
        signs++;
    while (trn_evidence_signs_seen[seen])
        seen++;
    while (trn_evidence_causes[causes])
        causes++;
    cr_expect_eq(signs, seen);
    for (size_t i = 0; i < signs; i++)
        for (size_t j = 0; j < causes; j++) {
            int w = 9;
            cr_expect_eq(trn_evidence_sign_weight(i, j, &w), TRN_OK);
            cr_expect(w >= -1 && w <= 2);
        }
    int w = 9;
    cr_expect_eq(trn_evidence_sign_weight(signs, 0, &w), TRN_E_DOMAIN);
    cr_expect_eq(trn_evidence_sign_weight(0, causes, &w), TRN_E_DOMAIN);
    cr_expect_eq(w, 9);
    cr_expect_eq(trn_evidence_sign_weight(signs - 1, 2, &w), TRN_OK); /* wrong_oil, low_oil */
    cr_expect_eq(w, 1);
}

Test(evidence, refused_inputs_leave_outputs_untouched)
{
    double a = 7, b = 7, c = 7, share[8];
    size_t k = 7;
    const double bad[] = {0, -1, NAN, INFINITY};
    for (size_t i = 0; i < 4; i++) {
        cr_expect_eq(trn_evidence_log_marginal(bad[i], 0, NULL, 600, 1.5, 0.5, &a), TRN_E_DOMAIN);
        cr_expect_eq(trn_evidence_log_marginal(420, 0, NULL, bad[i], 1.5, 0.5, &a), TRN_E_DOMAIN);
        cr_expect_eq(trn_evidence_log_marginal(420, 0, NULL, 600, bad[i], 0.5, &a), TRN_E_DOMAIN);
        cr_expect_eq(trn_evidence_bayes_factor(420, 0, NULL, 600, bad[i], 1.5, 0.5, &a, &b, &c),
                     TRN_E_DOMAIN);
        cr_expect_eq(trn_evidence_ceiling(bad[i], 600, 1.5, &a, &b), TRN_E_DOMAIN);
        cr_expect_eq(trn_evidence_posterior(bad[i], 1, &a), TRN_E_DOMAIN);
    }
    cr_expect_eq(trn_evidence_log_marginal(420, 421, NULL, 600, 1.5, 0.5, &a), TRN_E_DOMAIN);
    cr_expect_eq(trn_evidence_log_marginal(420, 0, NULL, 600, 1.5, -0.5, &a), TRN_E_DOMAIN);
    cr_expect_eq(trn_evidence_log_marginal(1e9, 0, NULL, 1, 200, 0, &a), TRN_E_DOMAIN);
    cr_expect_eq(trn_evidence_posterior(0.2, -1, &a), TRN_E_DOMAIN);
    const double gain[] = {900, 1000}, odd[] = {900, 800, 700};
    cr_expect_eq(trn_evidence_shares(gain, 2, false, &a, share, &k), TRN_E_DOMAIN);
    cr_expect_eq(trn_evidence_shares(odd, 3, false, &a, share, &k), TRN_E_DOMAIN);
    cr_expect_eq(trn_evidence_shares(odd, 1, false, &a, share, &k), TRN_E_DOMAIN);
    cr_expect_eq(trn_evidence_shares(odd, 0, false, &a, share, &k), TRN_E_DOMAIN);
    cr_expect(a >= 7 && a <= 7 && b >= 7 && b <= 7 && c >= 7 && c <= 7 && k == 7);
}

/* through the catalogue: hours and days; a sister of 0 h says nothing */
Test(evidence, catalogue)
{
    trn_answer a, b;
    const trn_formula *f = trn_formula_find("statistics.bayes_factor");
    const char *hours[] = {"t=432", "L10=600", "L10_ref=4800", "running=384/504/648h"};
    const char *days[] = {"t=18d", "L10=25d", "L10_ref=200d", "running=0/16/21/27d"};
    cr_assert_eq(trn_formula_evaluate(f, hours, 4, &a), TRN_OK);
    cr_assert_eq(trn_formula_evaluate(f, days, 4, &b), TRN_OK);
    for (size_t i = 0; i < 3; i++)
        cr_expect(test_near(a.out[i].x, b.out[i].x, 1e-12), "%zu", i);
    const char *alone[] = {"failed=20/30", "confidence=90"};
    cr_expect_eq(trn_formula_evaluate(trn_formula_find("statistics.weibull_fit"), alone, 2, &a),
                 TRN_R_STATISTICS_FEW_FAILURES);
    const char *none[] = {"running=20/30"};
    cr_expect_eq(trn_formula_evaluate(trn_formula_find("statistics.weibull_fit"), none, 1, &a),
                 TRN_E_MISSING);
    const char *two[] = {"lives=4000/1000"};
    cr_assert_eq(trn_formula_evaluate(trn_formula_find("statistics.shares"), two, 1, &a), TRN_OK);
    cr_expect(a.out[1].given && !a.out[2].given);
}
