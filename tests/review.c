/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Failure reviews of whole cases: factors, lives, starved boxes, stated lives. */
#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/review.h>

#include "review_case.h"
#include "study_case.h"
#include "support.h"

TestSuite(review, .init = review_begin, .fini = review_end);

/* ---- the worked example ----------------------------------------------------------------------- */

static const double sisters_h[] = {380, 510, 640, 700, 820, 900, 950, 1100, 1200};
enum { SISTERS = 9 };

/* The example has 5000 h as specified; the case has another life, and factors depend on ratios of
 * hours only: every hour is taken in its unit. */
static double example_case(bool looks)
{
    review_scenarios("over-angle,life,36 %,\nover-speed,life,52..52 %,\nlow oil,life,7 %,\n"
                    "dirt,life,12%,\n");
    review_again(1);
    double unit = review_row("as specified")->life_h / 5000;
    char text[2048];
    (void)snprintf(text, sizeof text, "component,hours [h]\nin_rear,%.17g\n", 420 * unit);
    scratch_write(review_folder, "failure.csv", text);
    size_t n = (size_t)snprintf(text, sizeof text, looks ? "after [h],by [h]\n" : "hours [h],state\n");
    for (size_t i = 0; i < SISTERS; i++)
        n += (size_t)snprintf(text + n, sizeof text - n, looks ? "%.17g,\n" : "%.17g,running\n",
                              sisters_h[i] * unit);
    scratch_write(review_folder, "lives.csv", text);
    return unit;
}

/* derived: worked table of the reference page, to its printed digits; both forms of lives.csv */
Test(review, worked_example)
{
    static const char *const names[] = {"as specified", "over-angle", "over-speed", "low oil",
                                        "dirt"};
    static const double l10[] = {5000, 1800, 2600, 350, 600};
    static const double ln_f[] = {-11.603130, -10.079963, -10.626516, -7.750175, -8.481875};
    /* alone and with sisters, without and with the model error 0.5 */
    static const double want[4][5] = {{1, 4.586727, 2.655450, 47.132139, 22.674812},
                                      {1, 4.531700, 2.640662, 40.597544, 21.110591},
                                      {1, 3.648996, 2.390690, 1.671258, 5.303709},
                                      {1, 2.984816, 2.150985, 1.842556, 3.439093}};
    for (int looks = 0; looks < 2; looks++) {
        double unit = example_case(looks);
        review_again(1);
        for (size_t i = 0; i < 5; i++) {
            const trn_review_row *r = review_row(names[i]);
            review_near(names[i], r->life_h, l10[i] * unit, 1e-12);
            const double got[] = {r->grid[TRN_ALONE][3], r->factor[TRN_ALONE],
                                  r->grid[TRN_FLEET][3], r->factor[TRN_FLEET]};
            for (size_t k = 0; k < 4; k++)
                cr_expect_float_eq(got[k], want[k][i], 6e-7, "%s, %zu: wanted %.6f, got %.9f",
                                   names[i], k, want[k][i], got[k]);
            double failed = 100 * (1 - pow(0.9, pow(420 / l10[i], 1.5)));
            review_near("failed by", r->failed_pct, failed, 1e-9);
            cr_expect_float_eq(r->ceiling, 143.788015924, 1e-6);
            double m = NAN;
            cr_assert_eq(trn_evidence_log_marginal(420 * unit, 0, NULL, l10[i] * unit, 1.5, 0, &m),
                         TRN_OK);
            cr_expect_float_eq(m + log(unit), ln_f[i], 6e-7);
        }
        cr_expect_float_eq(review_row("as specified")->failed_pct, 0.256176885202, 1e-9);
    }
}

/* derived: odds times factor, for 20 % before; the check file of the page has 46.23 for 3.4391 */
Test(review, posterior_table)
{
    (void)example_case(false);
    review_again(1);
    trn_buffer out = {0};
    trn_review_csv(review_made, 2, &out);
    cr_assert(!out.failed);
    const char *at = strstr(out.text, "dirt,in_rear,20,");
    cr_assert_not_null(at);
    double alone = 0, with = 0;
    cr_assert_eq(sscanf(at, "dirt,in_rear,20,%lf,%lf", &alone, &with), 2);
    cr_expect_float_eq(with, 46.2300, 2e-4, "%g", with);
    double odds = 0.25 * 21.110591;
    cr_expect_float_eq(alone, 100 * odds / (1 + odds), 1e-5);
    trn_buffer_free(&out);
}

/* derived: the sisters as specified enter both likelihoods alike; without model error they cancel */
Test(review, sisters_as_specified_cancel_without_model_error)
{
    (void)example_case(false);
    review_again(1);
    for (size_t i = 1; i < review_made->explanation_count; i++)
        for (size_t g = 0; g < TRN_REVIEW_GRID; g += 3) {
            const trn_review_row *r = &review_made->rows[i];
            review_near(r->scenario, r->grid[TRN_FLEET_APART][g], r->grid[TRN_ALONE][g], 1e-9);
            cr_expect(fabs(r->grid[TRN_FLEET_APART][g + 1] / r->grid[TRN_ALONE][g + 1] - 1) > 1e-4);
        }
}

/* derived: quantiles of nine values with interpolation: between the first and second, the eighth
 * and ninth */
Test(review, range_of_a_factor)
{
    review_again(1);
    const trn_review_row *r = review_row("overspeed");
    double sorted[TRN_REVIEW_GRID];
    memcpy(sorted, r->grid[TRN_ALONE], sizeof sorted);
    for (size_t i = 0; i < TRN_REVIEW_GRID; i++)
        for (size_t k = i + 1; k < TRN_REVIEW_GRID; k++)
            if (sorted[k] < sorted[i]) {
                double x = sorted[i];
                sorted[i] = sorted[k];
                sorted[k] = x;
            }
    review_near("low", r->low[TRN_ALONE], sorted[0] + 0.8 * (sorted[1] - sorted[0]), 1e-12);
    review_near("high", r->high[TRN_ALONE], sorted[7] + 0.2 * (sorted[8] - sorted[7]), 1e-12);
    cr_expect(r->low[TRN_ALONE] < r->factor[TRN_ALONE] &&
              r->factor[TRN_ALONE] < r->high[TRN_ALONE]);
    const double slopes[] = {1.1, 1.5, 2};
    const double errors[] = {0, 0.5, 1};
    for (size_t g = 0; g < TRN_REVIEW_GRID; g++) {
        cr_expect_eq(trn_review_slope(g), slopes[g / 3]);
        cr_expect_eq(trn_review_error(g), errors[g % 3]);
    }
}

/* ---- lives ------------------------------------------------------------------------------------ */

static trn_results *evaluated(const trn_machine *m)
{
    trn_results *r = trn_results_new(m);
    cr_assert_eq(trn_study_evaluate(m, TRN_WANT_ALL, r, NULL), TRN_OK);
    return r;
}

Test(review, the_case_itself_comes_first)
{
    review_again(1);
    const trn_review_row *r = &review_made->rows[0];
    cr_expect_str_eq(r->scenario, "as specified");
    cr_expect_eq(r->factor[TRN_ALONE], 1);
    cr_expect_eq(r->factor[TRN_FLEET], 1);
    cr_expect_eq(r->factor[TRN_FLEET_APART], 1);
    for (size_t g = 0; g < TRN_REVIEW_GRID; g++)
        cr_expect_eq(r->grid[TRN_ALONE][g], 1);
    cr_expect(isnan(r->share_pct));
}

/* derived: Lnmh of the study over a1 of ISO 281's table (95 %: 0.64), whatever is asked for */
Test(review, the_reliability_factor_is_left_out)
{
    review_again(1);
    trn_results *r = evaluated(review_machine);
    double a1 = NAN;
    double at_95 = review_row("as specified")->life_h;
    size_t all = review_machine->duty_count * review_machine->bearings_count + trn_find_bearing(review_machine, "in_rear");
    double lnmh = r->bearings[all].lnmh_h;
    a1 = lnmh / at_95;
    cr_expect_float_eq(a1, 0.64, 0.005, "%g", a1);
    trn_results_free(r);
    scratch_edit(review_folder, "machine.csv", "reliability,95", "reliability,90");
    review_again(1);
    review_near("at 90 %", review_row("as specified")->life_h, at_95, 1e-12);
}

Test(review, gearbox_and_shaft)
{
    scratch_write(review_folder, "failure.csv",
                  "component,hours [h]\nbox,310\nmain,310\nout_low,310\n");
    review_again(1);
    trn_results *r = evaluated(review_machine);
    double a1 = 0.64;
    size_t n = review_made->explanation_count;
    review_near("gearbox", review_made->rows[0].life_h, r->gearboxes[0].lnmh_h / a1, 0.01);
    const trn_joint_row *j = &r->joints[review_machine->duty_count * review_machine->shafts_count];
    review_near("shaft", review_made->rows[n].life_h, fmin(j->life_in_h, j->life_out_h), 1e-12);
    cr_expect(review_has(&review_made->rows[n], "upper bound"));
    /* derived: a system of four lives by the rule of one slope */
    double sum = 0;
    for (size_t b = 0; b < review_machine->bearings_count; b++) {
        const trn_bearing_row *row_b =
            &r->bearings[review_machine->duty_count * review_machine->bearings_count + b];
        sum += pow(row_b->lnmh_h, -1.5);
    }
    double factor = r->gearboxes[0].lnmh_h / review_made->rows[0].life_h;
    review_near("system", review_made->rows[0].life_h * factor, pow(sum, -1 / 1.5), 1e-9);
    trn_results_free(r);
    /* low oil starves the box and its bearing, not the shaft before it */
    cr_expect(trn_review_at(review_made, 0, 4)->starved && trn_review_at(review_made, 2, 4)->starved);
    cr_expect_not(trn_review_at(review_made, 1, 4)->starved);
    cr_expect_eq(trn_review_at(review_made, 1, 4)->factor[TRN_ALONE], 1);
}

Test(review, a_scenario_is_evaluated_in_full)
{
    review_again(1);
    trn_machine *changed = trn_machine_copy(review_machine);
    trn_faults faults = {0};
    cr_assert_eq(trn_machine_scenario(changed, "overspeed", &faults), TRN_OK);
    cr_assert_eq(trn_machine_link(changed, &faults), TRN_OK);
    trn_results *a = evaluated(review_machine);
    trn_results *b = evaluated(changed);
    size_t all = review_machine->duty_count * review_machine->bearings_count + trn_find_bearing(review_machine, "in_rear");
    review_near("ratio of lives", review_row("overspeed")->life_h / review_row("as specified")->life_h,
         b->bearings[all].lnmh_h / a->bearings[all].lnmh_h, 1e-12);
    trn_results_free(a);
    trn_results_free(b);
    trn_machine_free(changed);
}

Test(review, without_modified_lives_the_basic_ones)
{
    scratch_edit(review_folder, "gearboxes.csv", "19/16", "");
    review_scenarios("overspeed,duty.*.power,x1.2,\nclean,gearboxes.box.cleanliness,15/12,\n");
    review_again(1);
    trn_results *r = evaluated(review_machine);
    size_t all = review_machine->duty_count * review_machine->bearings_count + trn_find_bearing(review_machine, "in_rear");
    review_near("L10h", review_row("as specified")->life_h, r->bearings[all].l10h_h, 1e-12);
    cr_expect(review_has(review_row("as specified"), "no Lnmh: L10h compared"));
    /* like with like: a scenario that makes Lnmh known is compared by its L10h */
    review_near("alike", review_row("clean")->life_h, r->bearings[all].l10h_h, 1e-12);
    cr_expect_eq(review_row("clean")->factor[TRN_ALONE], 1);
    trn_results_free(r);
}

/* ---- starved ---------------------------------------------------------------------------------- */

static const char starved[] = "starved: no life can be stated, the signs decide";

static void expect_blank(const trn_review_row *r)
{
    cr_expect(isnan(r->life_h) && isnan(r->failed_pct) && isnan(r->share_pct), "%s", r->scenario);
    for (size_t m = 0; m < TRN_MODELS; m++)
        cr_expect(isnan(r->factor[m]) && isnan(r->ln_m[m]) && isnan(r->low[m]), "%s", r->scenario);
    cr_expect(review_has(r, starved), "%s: %s", r->scenario, r->remark);
}

Test(review, less_oil_with_the_dips_left_is_starved)
{
    review_again(1);
    expect_blank(review_row("low oil"));
    cr_expect_str_eq(review_row("low oil")->cause, "low_oil");
    /* the others share the life out among themselves */
    double sum = 0;
    for (size_t i = 0; i < review_made->explanation_count; i++)
        if (!isnan(review_made->rows[i].share_pct))
            sum += review_made->rows[i].share_pct;
    cr_expect_float_eq(sum, 100, 1e-9);
    cr_expect_eq(review_made->parts[0].departures, 4);
}

Test(review, a_low_oil_warning_is_starved_and_lowered_dips_are_not)
{
    review_scenarios("a,gearboxes.box.oil_volume,x0.9,\na,gears.wheel.dip,34 mm,\n"
                    "a,gears.pinion.dip,25 mm,\nb,gears.wheel.dip,0,\nb,gears.pinion.dip,0,\n"
                    "c,life,,leaked at the rear seal\nd,gearboxes.box.oil_volume,x1.1,\n");
    review_again(1);
    cr_expect_not(review_row("a")->starved);
    cr_expect(review_row("a")->life_h > 0 && review_row("a")->factor[TRN_ALONE] > 0);
    expect_blank(review_row("b"));
    expect_blank(review_row("c"));
    cr_expect(review_has(review_row("c"), "leaked at the rear seal"));
    cr_expect_str_eq(review_row("c")->cause, "low_oil");
    cr_expect(review_row("d")->life_h > 0);
}

/* ---- stated lives ------------------------------------------------------------------------------ */

static double likelihood(double ln_life, void *context)
{
    const trn_review_row *r = context;
    double m = NAN;
    (void)trn_evidence_log_marginal(r->hours_h, r->spread_h, NULL, exp(ln_life), 1.5, 0.5, &m);
    return exp(m);
}

/* derived: mean of the likelihood over ln L, by Simpson's rule */
Test(review, a_stated_range)
{
    review_scenarios("range,life,30..1500 h,\nminutes,life,1800..90000 min,\npoint,life,250,\n"
                    "share,life,1..100 %,\n");
    review_again(1);
    trn_review_row r = *review_row("range");
    enum { STEPS = 400 };
    double a = log(30), b = log(1500), sum = 0;
    for (int i = 0; i <= STEPS; i++)
        sum += likelihood(a + (b - a) * i / STEPS, &r) * (i == 0 || i == STEPS ? 1 : i % 2 ? 4 : 2);
    review_near("range", r.ln_m[TRN_ALONE], log(sum / 3 / STEPS), 1e-8);
    review_near("minutes", review_row("minutes")->factor[TRN_ALONE], r.factor[TRN_ALONE], 1e-12);
    cr_expect(isnan(r.life_h) && r.life_low_h == 30 && r.life_high_h == 1500);
    review_near("point", review_row("point")->factor[TRN_ALONE],
         exp(log(likelihood(log(250), &r)) - review_row("as specified")->ln_m[TRN_ALONE]), 1e-9);
    cr_expect_eq(review_row("point")->life_h, 250);
    review_near("share", review_row("share")->life_high_h, review_row("as specified")->life_h, 1e-12);
    review_near("share", review_row("share")->life_low_h, review_row("as specified")->life_h / 100, 1e-12);
    cr_expect_str_eq(review_row("range")->cause, "part");
    cr_expect(review_made->parts[0].fault_compared);
    cr_expect(isnan(r.share_pct));
}

Test(review, a_fault_of_the_part_counts_where_it_is)
{
    review_scenarios("other,bearings.out_low.C,x0.5,\nspeed,duty.*.power,x1.2,\n");
    review_again(1);
    cr_expect_not(review_made->parts[0].fault_compared);
    trn_buffer out = {0};
    trn_review_text(review_made, 100, &out);
    cr_expect_not_null(strstr(out.text, "NOT COMPARED: a fault of in_rear itself"));
    trn_buffer_free(&out);
    review_scenarios("all,bearings.*.C,x0.5,\n");
    review_again(1);
    cr_expect(review_made->parts[0].fault_compared);
}
