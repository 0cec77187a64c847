/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ranks, survival, limits along the line and Weibull paper of whole tables. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <trunnion/lives_paper.h>

#include "replay.h"
#include "support.h"

static void quiet(void)
{
    (void)gsl_set_error_handler_off();
}

TestSuite(lives_paper, .init = quiet);

static trn_lives_table table;

static trn_lives_paper of(const char *set, double slope)
{
    char path[512];
    trn_faults faults = {0};
    trn_lives_paper paper;
    (void)snprintf(path, sizeof path, "%s/published/lives/%s.csv", test_root(), set);
    cr_assert_eq(trn_lives_table_read(path, slope, 0.95, &faults, &table), TRN_OK, "%s", set);
    cr_assert_eq(trn_lives_paper_make(&table, &paper), TRN_OK, "%s", set);
    return paper;
}

static void done(trn_lives_paper *paper)
{
    trn_lives_paper_free(paper);
    trn_lives_table_free(&table);
}

static const char *const sets[] = {"ball_bearings", "bearing_cages",  "generator_fans",
                                   "one_failure",   "mixed_records",  "inspected_gearboxes",
                                   "handbook_test", "handbook_removals"};

/* derived: life rises with the share failed, the limits hold it and rise too; at 10 % the row is
 * the B10 of the table; the band is narrowest where the data lie */
Test(lives_paper, line_with_limits_at_every_share)
{
    for (size_t k = 0; k < sizeof sets / sizeof sets[0]; k++) {
        trn_lives_paper p = of(sets[k], NAN);
        const trn_lives_line *fit = &table.lines[0];
        bool tenth = false;
        cr_assert_geq(p.line_count, 40, "%s", sets[k]);
        for (size_t i = 0; i < p.line_count; i++) {
            const trn_lives_percentile *at = &p.line[i];
            cr_expect(at->low_h <= at->life_h && at->life_h <= at->high_h, "%s %g %%", sets[k],
                      at->failed_pct);
            cr_expect(i == 0 || (at->life_h > at[-1].life_h && at->low_h >= at[-1].low_h &&
                                 at->high_h >= at[-1].high_h && at->failed_pct > at[-1].failed_pct),
                      "%s: row %zu does not rise", sets[k], i);
            if (fabs(at->failed_pct - 10) > 1e-9)
                continue;
            tenth = true;
            cr_expect(test_near(at->life_h, fit->line.b10_h, 1e-9) &&
                          test_near(at->low_h, fit->limits.b10_low_h, 1e-8) &&
                          test_near(at->high_h, fit->limits.b10_high_h, 1e-8),
                      "%s: %g %g %g", sets[k], at->low_h, at->life_h, at->high_h);
        }
        cr_expect(tenth, "%s: no row at 10 %%", sets[k]);
        done(&p);
    }
}

/* derived: without removals the ith failure has the rank i; memory: Benard's approximation and the
 * median of the first of ten; adjusted ranks by hand: 9 of 10 left at the failure, i = 11/10 */
Test(lives_paper, ranks)
{
    trn_lives_paper p = of("ball_bearings", NAN);
    cr_assert_eq(p.rank_count, 23);
    for (size_t i = 0; i < 23; i++) {
        cr_expect(test_near(p.ranks[i].rank, (double)i + 1, 1e-12));
        cr_expect(test_near(p.ranks[i].benard_pct, 100 * ((double)i + 0.7) / 23.4, 1e-12));
        cr_expect(fabs(p.ranks[i].benard_pct - p.ranks[i].exact_pct) < 0.2);
    }
    /* derived: median of the least of 23 */
    cr_expect(test_near(p.ranks[0].exact_pct, 100 * (1 - pow(0.5, 1.0 / 23)), 1e-9));
    done(&p);
    p = of("one_failure", NAN);
    cr_assert_eq(p.rank_count, 1);
    cr_expect(test_near(p.ranks[0].rank, 1.1, 1e-12), "%g", p.ranks[0].rank);
    cr_expect_eq(p.ranks[0].life_h, 420);
    done(&p);
    p = of("inspected_gearboxes", NAN);
    cr_expect_eq(p.rank_count, 0, "nobody knows an hour");
    done(&p);
}

/* derived: the product limit at each failure time; looks: the self-consistent estimate, which for
 * looks that all units have in common is the share of those looked at (units that ran before the
 * look left in between do not count) */
Test(lives_paper, survival)
{
    trn_lives_paper p = of("bearing_cages", NAN);
    cr_expect_eq(p.survival_count, 6);
    for (size_t i = 0; i < p.survival_count; i++) {
        double s, se, low, high;
        cr_assert_geq(trn_weibull_product_limit(&table.data, p.survival[i].to_h, 0.95, &s, &se,
                                                &low, &high),
                      0);
        cr_expect(test_near(p.survival[i].survive_pct, 100 * s, 1e-12) &&
                  test_near(p.survival[i].low_pct, 100 * low, 1e-12) &&
                  test_near(p.survival[i].high_pct, 100 * high, 1e-12));
        cr_expect_str_eq(p.survival[i].method, "product_limit");
    }
    done(&p);
    p = of("inspected_gearboxes", NAN);
    cr_assert_geq(p.survival_count, 2);
    for (size_t i = 0; i < p.survival_count; i++) {
        cr_expect_str_eq(p.survival[i].method, "turnbull");
        cr_expect(p.survival[i].from_h < p.survival[i].to_h);
        cr_expect(i == 0 || p.survival[i].survive_pct < p.survival[i - 1].survive_pct);
        cr_expect(isnan(p.survival[i].low_pct) && isnan(p.survival[i].at_risk));
    }
    done(&p);
}

static void expect_plot(const char *set, double slope, const char *const *said, size_t n)
{
    trn_buffer script = {0};
    trn_buffer finding = {0};
    trn_lives_paper p = of(set, slope);
    cr_assert_eq(trn_plot_weibull(&p, &script, &finding), TRN_OK);
    for (size_t i = 0; i < n; i++)
        cr_expect(strstr(finding.text, said[i]) || strstr(script.text, said[i]),
                  "%s: `%s` is in neither finding nor script: %s", set, said[i], finding.text);
    trn_buffer_free(&script);
    trn_buffer_free(&finding);
    done(&p);
}

/* derived: numbers of checks/lives, rounded */
Test(lives_paper, plot_says_what_the_numbers_say)
{
    static const char *const balls[] = {"10 % have failed by 28.1 h (16.3 to 40.8, 95 %); slope 2.1, "
                                        "above 1 within its limits: parts wear out (23 of 23 failed)"};
    expect_plot("ball_bearings", NAN, balls, 1);
    static const char *const cages[] = {"anything from 0.97 to 3.6 fits (6 of 1703 failed)",
                                        "1697 still running", "still running"};
    expect_plot("bearing_cages", NAN, cages, 3);
    static const char *const looks[] = {"failed in between", "(58 of 150 failed)"};
    expect_plot("inspected_gearboxes", NAN, looks, 2);
    static const char *const none[] = {"nothing failed: at an assumed slope of 1.5", "lower limit"};
    expect_plot("refused/survivors_only", 1.5, none, 2);
}

/* derived: the CSV has what the rows have, empty cells where nothing is known */
Test(lives_paper, tables)
{
    trn_buffer out = {0};
    trn_lives_paper p = of("one_failure", NAN);
    trn_lives_survival_csv(&p, &out);
    trn_sheet *sheet = replay_table(&out);
    cr_expect_str_eq(replay_cell(sheet, 0, "from [h]"), "420");
    cr_expect_str_eq(replay_cell(sheet, 0, "at_risk"), "9");
    cr_expect(replay_matches(replay_cell(sheet, 0, "survive [%]"), "88.888888889", "1e-9"));
    trn_sheet_free(sheet);
    trn_buffer_free(&out);
    trn_lives_ranks_csv(&p, &out);
    sheet = replay_table(&out);
    cr_expect(replay_matches(replay_cell(sheet, 0, "failed_benard [%]"), "7.6923076923", "1e-9"));
    trn_sheet_free(sheet);
    trn_buffer_free(&out);
    trn_lives_line_csv(&p, &out);
    sheet = replay_table(&out);
    cr_expect_eq(sheet->rows, p.line_count);
    trn_sheet_free(sheet);
    trn_buffer_free(&out);
    done(&p);
}
