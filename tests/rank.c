/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines through ranks are replayed from tests/published/lives in tests/weibull.c. */
#include <criterion/criterion.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <trunnion/rank.h>

#include "support.h"

static void quiet(void)
{
    (void)gsl_set_error_handler_off();
}

TestSuite(rank, .init = quiet);

/* derived: the exact rank is the median of the beta distribution, and mirrors */
Test(rank, exact_median)
{
    const double n[] = {1, 2, 5, 20, 1703, 1e6};
    for (size_t k = 0; k < 6; k++)
        for (double i = 1; i <= n[k]; i += 1 + n[k] / 7.3) {
            double f, exact, mirror, other;
            cr_assert_eq(trn_rank_median(i, n[k], &f, &exact), TRN_OK);
            cr_assert_eq(trn_rank_median(n[k] + 1 - i, n[k], &other, &mirror), TRN_OK);
            double half = gsl_cdf_beta_P(exact, i, n[k] + 1 - i);
            cr_expect_float_eq(half, 0.5, 1e-9, "i %g of %g: %.15g", i, n[k], half);
            cr_expect_float_eq(exact + mirror, 1, 1e-11, "i %g of %g", i, n[k]);
            cr_expect_float_eq(f + other, 1, 1e-13);
            cr_expect_float_eq(f, exact, 0.01);
        }
    double f, first;
    cr_assert_eq(trn_rank_median(1, 23, &f, &first), TRN_OK); /* closed form of the first */
    cr_expect(test_near(first, 1 - pow(0.5, 1.0 / 23), 1e-11), "%.15g", first);
}

/* from memory: Johnson's ranks are 1, 2, 3 ... as long as nothing is taken out */
Test(rank, adjusted_ranks)
{
    double i = 0;
    for (double left = 9; left >= 1; left--) {
        cr_assert_eq(trn_rank_adjusted(i, 9, left, &i), TRN_OK);
        cr_expect(test_near(i, 10 - left, 1e-14), "%.17g", i);
    }
    double untouched = 7;
    cr_expect_eq(trn_rank_adjusted(6, 9, 4, &untouched), TRN_E_DOMAIN);
    cr_expect_eq(trn_rank_adjusted(-0.1, 9, 4, &untouched), TRN_E_DOMAIN);
    cr_expect_eq(trn_rank_adjusted(1, 9, 10, &untouched), TRN_E_DOMAIN);
    cr_expect_eq(trn_rank_adjusted(1, 9, 2.5, &untouched), TRN_E_DOMAIN);
    cr_expect_eq(trn_rank_adjusted(NAN, 9, 2, &untouched), TRN_E_DOMAIN);
    double b = 7;
    cr_expect_eq(trn_rank_median(0.9, 5, &untouched, &b), TRN_E_DOMAIN);
    cr_expect_eq(trn_rank_median(5.1, 5, &untouched, &b), TRN_E_DOMAIN);
    cr_expect_eq(trn_rank_median(NAN, 5, &untouched, &b), TRN_E_DOMAIN);
    cr_expect_eq(trn_rank_median(2, 5.5, &untouched, &b), TRN_E_DOMAIN);
    cr_expect(untouched >= 7 && untouched <= 7 && b >= 7 && b <= 7);
}

/* derived: points that lie on a line give that line both ways; two points always do */
Test(rank, lives_on_the_line)
{
    trn_weibull_row rows[12];
    for (size_t i = 0; i < 12; i++) {
        double t = 3170 * pow(-log1p(-((double)i + 0.7) / 12.4), 1 / 1.83);
        cr_assert_eq(trn_weibull_row_make(t, t, 1, &rows[i]), TRN_OK);
    }
    trn_weibull_data data;
    trn_weibull_line y, x;
    cr_assert_eq(trn_weibull_prepare(rows, 12, &data), TRN_OK);
    cr_assert_eq(trn_rank_fit(&data, TRN_RANK_Y_ON_X, &y), TRN_OK);
    cr_assert_eq(trn_rank_fit(&data, TRN_RANK_X_ON_Y, &x), TRN_OK);
    cr_expect(test_near(y.beta, 1.83, 1e-12), "%.15g", y.beta);
    cr_expect(test_near(x.beta, 1.83, 1e-12), "%.15g", x.beta);
    cr_expect(test_near(y.eta_h, 3170, 1e-12), "%.15g", y.eta_h);
    cr_expect(test_near(y.b10_h, 3170 * pow(0.10536051565782630, 1 / 1.83), 1e-12));
    cr_expect(isnan(y.log_likelihood));
}

Test(rank, refused_tables)
{
    trn_weibull_row tied[2], boxed[2];
    trn_weibull_data data;
    trn_weibull_line line = {7, 7, 7, 7, 7};
    cr_assert_eq(trn_weibull_row_make(412, 412, 5, &tied[0]), TRN_OK);
    cr_assert_eq(trn_weibull_row_make(900, INFINITY, 5, &tied[1]), TRN_OK);
    cr_assert_eq(trn_weibull_prepare(tied, 2, &data), TRN_OK);
    cr_expect_eq(trn_rank_fit(&data, TRN_RANK_Y_ON_X, &line), TRN_E_DOMAIN);
    cr_assert_eq(trn_weibull_row_make(412, 500, 5, &boxed[0]), TRN_OK);
    cr_assert_eq(trn_weibull_row_make(900, 900, 5, &boxed[1]), TRN_OK);
    cr_assert_eq(trn_weibull_prepare(boxed, 2, &data), TRN_OK);
    cr_expect_eq(trn_rank_fit(&data, TRN_RANK_X_ON_Y, &line), TRN_E_DOMAIN);
    cr_expect(line.beta >= 7 && line.beta <= 7);
}
