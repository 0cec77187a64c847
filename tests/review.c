/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Failure reviews of whole cases: factors, sharing out, starved boxes, faults. The case is
 * tests/cases/failed, an invented rotary mower; scenarios are written by the tests. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/review.h>

#include "scratch.h"
#include "study_case.h"
#include "support.h"

static char folder[SCRATCH_PATH];
static trn_machine *machine;
static trn_review *review;

static void begin(void)
{
    (void)gsl_set_error_handler_off();
    scratch_make(folder);
    scratch_copy(folder, "cases/failed");
}

static void end(void)
{
    trn_review_free(review);
    trn_machine_free(machine);
    scratch_remove(folder);
}

TestSuite(review, .init = begin, .fini = end);

/* Reads the folder again and reviews it. */
static void run(unsigned jobs)
{
    trn_faults faults = {0};
    trn_review_free(review);
    trn_machine_free(machine);
    review = NULL;
    machine = scratch_case(folder);
    trn_status status = trn_review_run(machine, jobs, &faults, &review);
    char *text = scratch_faults(&faults);
    cr_assert_eq(status, TRN_OK, "status %d: %s", status, text);
    free(text);
    trn_faults_free(&faults);
}

static void refused(const char *wanted)
{
    trn_faults faults = {0};
    machine = scratch_case(folder);
    review = (trn_review *)folder;
    trn_status status = trn_review_run(machine, 1, &faults, &review);
    char *text = scratch_faults(&faults);
    cr_expect_eq(status, TRN_E_INPUT);
    cr_expect_null(review);
    cr_expect_not_null(strstr(text, wanted), "wanted %s\ngot %s", wanted, text);
    free(text);
    trn_faults_free(&faults);
}

static const trn_review_row *row(const char *scenario)
{
    for (size_t i = 0; i < review->explanation_count; i++)
        if (strcmp(review->rows[i].scenario, scenario) == 0)
            return &review->rows[i];
    cr_assert(false, "no row %s", scenario);
    return NULL;
}

static void write_scenarios(const char *rows)
{
    char text[4096];
    (void)snprintf(text, sizeof text, "scenario,quantity,value,note\n%s", rows);
    scratch_write(folder, "scenarios.csv", text);
}

static void near(const char *what, double got, double want, double relative)
{
    cr_expect(fabs(got - want) <= relative * fabs(want), "%s: wanted %.12g, got %.12g", what, want,
              got);
}

static bool has(const trn_review_row *r, const char *text)
{
    return strstr(r->remark, text) != NULL;
}

/* ---- the worked example ----------------------------------------------------------------------- */

static const double sisters_h[] = {380, 510, 640, 700, 820, 900, 950, 1100, 1200};
enum { SISTERS = 9 };

/* The example has 5000 h as specified; the case has another life, and factors depend on ratios of
 * hours only: every hour is taken in its unit. */
static double example_case(bool looks)
{
    write_scenarios("over-angle,life,36 %,\nover-speed,life,52..52 %,\nlow oil,life,7 %,\n"
                    "dirt,life,12%,\n");
    run(1);
    double unit = row("as specified")->life_h / 5000;
    char text[2048];
    (void)snprintf(text, sizeof text, "component,hours [h]\nin_rear,%.17g\n", 420 * unit);
    scratch_write(folder, "failure.csv", text);
    size_t n = (size_t)snprintf(text, sizeof text, looks ? "after [h],by [h]\n" : "hours [h],state\n");
    for (size_t i = 0; i < SISTERS; i++)
        n += (size_t)snprintf(text + n, sizeof text - n, looks ? "%.17g,\n" : "%.17g,running\n",
                              sisters_h[i] * unit);
    scratch_write(folder, "lives.csv", text);
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
        run(1);
        for (size_t i = 0; i < 5; i++) {
            const trn_review_row *r = row(names[i]);
            near(names[i], r->life_h, l10[i] * unit, 1e-12);
            const double got[] = {r->grid[TRN_ALONE][3], r->factor[TRN_ALONE],
                                  r->grid[TRN_FLEET][3], r->factor[TRN_FLEET]};
            for (size_t k = 0; k < 4; k++)
                cr_expect_float_eq(got[k], want[k][i], 6e-7, "%s, %zu: wanted %.6f, got %.9f",
                                   names[i], k, want[k][i], got[k]);
            double failed = 100 * (1 - pow(0.9, pow(420 / l10[i], 1.5)));
            near("failed by", r->failed_pct, failed, 1e-9);
            cr_expect_float_eq(r->ceiling, 143.788015924, 1e-6);
            double m = NAN;
            cr_assert_eq(trn_evidence_log_marginal(420 * unit, 0, NULL, l10[i] * unit, 1.5, 0, &m),
                         TRN_OK);
            cr_expect_float_eq(m + log(unit), ln_f[i], 6e-7);
        }
        cr_expect_float_eq(row("as specified")->failed_pct, 0.256176885202, 1e-9);
    }
}

/* derived: odds times factor, for 20 % before; the check file of the page has 46.23 for 3.4391 */
Test(review, posterior_table)
{
    (void)example_case(false);
    run(1);
    trn_buffer out = {0};
    trn_review_csv(review, 2, &out);
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
    run(1);
    for (size_t i = 1; i < review->explanation_count; i++)
        for (size_t g = 0; g < TRN_REVIEW_GRID; g += 3) {
            const trn_review_row *r = &review->rows[i];
            near(r->scenario, r->grid[TRN_FLEET_APART][g], r->grid[TRN_ALONE][g], 1e-9);
            cr_expect(fabs(r->grid[TRN_FLEET_APART][g + 1] / r->grid[TRN_ALONE][g + 1] - 1) > 1e-4);
        }
}

/* derived: quantiles of nine values with interpolation: between the first and second, the eighth
 * and ninth */
Test(review, range_of_a_factor)
{
    run(1);
    const trn_review_row *r = row("overspeed");
    double sorted[TRN_REVIEW_GRID];
    memcpy(sorted, r->grid[TRN_ALONE], sizeof sorted);
    for (size_t i = 0; i < TRN_REVIEW_GRID; i++)
        for (size_t k = i + 1; k < TRN_REVIEW_GRID; k++)
            if (sorted[k] < sorted[i]) {
                double x = sorted[i];
                sorted[i] = sorted[k];
                sorted[k] = x;
            }
    near("low", r->low[TRN_ALONE], sorted[0] + 0.8 * (sorted[1] - sorted[0]), 1e-12);
    near("high", r->high[TRN_ALONE], sorted[7] + 0.2 * (sorted[8] - sorted[7]), 1e-12);
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
    run(1);
    const trn_review_row *r = &review->rows[0];
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
    run(1);
    trn_results *r = evaluated(machine);
    double a1 = NAN;
    double at_95 = row("as specified")->life_h;
    size_t all = machine->duty_count * machine->bearings_count + trn_find_bearing(machine, "in_rear");
    double lnmh = r->bearings[all].lnmh_h;
    a1 = lnmh / at_95;
    cr_expect_float_eq(a1, 0.64, 0.005, "%g", a1);
    trn_results_free(r);
    scratch_edit(folder, "machine.csv", "reliability,95", "reliability,90");
    run(1);
    near("at 90 %", row("as specified")->life_h, at_95, 1e-12);
}

Test(review, gearbox_and_shaft)
{
    scratch_write(folder, "failure.csv",
                  "component,hours [h]\nbox,310\nmain,310\nout_low,310\n");
    run(1);
    trn_results *r = evaluated(machine);
    double a1 = 0.64;
    size_t n = review->explanation_count;
    near("gearbox", review->rows[0].life_h, r->gearboxes[0].lnmh_h / a1, 0.01);
    const trn_joint_row *j = &r->joints[machine->duty_count * machine->shafts_count];
    near("shaft", review->rows[n].life_h, fmin(j->life_in_h, j->life_out_h), 1e-12);
    cr_expect(has(&review->rows[n], "upper bound"));
    /* derived: a system of four lives by the rule of one slope */
    double sum = 0;
    for (size_t b = 0; b < machine->bearings_count; b++) {
        const trn_bearing_row *row_b =
            &r->bearings[machine->duty_count * machine->bearings_count + b];
        sum += pow(row_b->lnmh_h, -1.5);
    }
    double factor = r->gearboxes[0].lnmh_h / review->rows[0].life_h;
    near("system", review->rows[0].life_h * factor, pow(sum, -1 / 1.5), 1e-9);
    trn_results_free(r);
    /* low oil starves the box and its bearing, not the shaft before it */
    cr_expect(trn_review_at(review, 0, 4)->starved && trn_review_at(review, 2, 4)->starved);
    cr_expect_not(trn_review_at(review, 1, 4)->starved);
    cr_expect_eq(trn_review_at(review, 1, 4)->factor[TRN_ALONE], 1);
}

Test(review, a_scenario_is_evaluated_in_full)
{
    run(1);
    trn_machine *changed = trn_machine_copy(machine);
    trn_faults faults = {0};
    cr_assert_eq(trn_machine_scenario(changed, "overspeed", &faults), TRN_OK);
    cr_assert_eq(trn_machine_link(changed, &faults), TRN_OK);
    trn_results *a = evaluated(machine);
    trn_results *b = evaluated(changed);
    size_t all = machine->duty_count * machine->bearings_count + trn_find_bearing(machine, "in_rear");
    near("ratio of lives", row("overspeed")->life_h / row("as specified")->life_h,
         b->bearings[all].lnmh_h / a->bearings[all].lnmh_h, 1e-12);
    trn_results_free(a);
    trn_results_free(b);
    trn_machine_free(changed);
}

Test(review, without_modified_lives_the_basic_ones)
{
    scratch_edit(folder, "gearboxes.csv", "19/16", "");
    write_scenarios("overspeed,duty.*.power,x1.2,\nclean,gearboxes.box.cleanliness,15/12,\n");
    run(1);
    trn_results *r = evaluated(machine);
    size_t all = machine->duty_count * machine->bearings_count + trn_find_bearing(machine, "in_rear");
    near("L10h", row("as specified")->life_h, r->bearings[all].l10h_h, 1e-12);
    cr_expect(has(row("as specified"), "no Lnmh: L10h compared"));
    /* like with like: a scenario that makes Lnmh known is compared by its L10h */
    near("alike", row("clean")->life_h, r->bearings[all].l10h_h, 1e-12);
    cr_expect_eq(row("clean")->factor[TRN_ALONE], 1);
    trn_results_free(r);
}

/* ---- starved ---------------------------------------------------------------------------------- */

static const char starved[] = "starved: no life can be stated, the signs decide";

static void expect_blank(const trn_review_row *r)
{
    cr_expect(isnan(r->life_h) && isnan(r->failed_pct) && isnan(r->share_pct), "%s", r->scenario);
    for (size_t m = 0; m < TRN_MODELS; m++)
        cr_expect(isnan(r->factor[m]) && isnan(r->ln_m[m]) && isnan(r->low[m]), "%s", r->scenario);
    cr_expect(has(r, starved), "%s: %s", r->scenario, r->remark);
}

Test(review, less_oil_with_the_dips_left_is_starved)
{
    run(1);
    expect_blank(row("low oil"));
    cr_expect_str_eq(row("low oil")->cause, "low_oil");
    /* the others share the life out among themselves */
    double sum = 0;
    for (size_t i = 0; i < review->explanation_count; i++)
        if (!isnan(review->rows[i].share_pct))
            sum += review->rows[i].share_pct;
    cr_expect_float_eq(sum, 100, 1e-9);
    cr_expect_eq(review->parts[0].departures, 4);
}

Test(review, a_low_oil_warning_is_starved_and_lowered_dips_are_not)
{
    write_scenarios("a,gearboxes.box.oil_volume,x0.9,\na,gears.wheel.dip,34 mm,\n"
                    "a,gears.pinion.dip,25 mm,\nb,gears.wheel.dip,0,\nb,gears.pinion.dip,0,\n"
                    "c,life,,leaked at the rear seal\nd,gearboxes.box.oil_volume,x1.1,\n");
    run(1);
    cr_expect_not(row("a")->starved);
    cr_expect(row("a")->life_h > 0 && row("a")->factor[TRN_ALONE] > 0);
    expect_blank(row("b"));
    expect_blank(row("c"));
    cr_expect(has(row("c"), "leaked at the rear seal"));
    cr_expect_str_eq(row("c")->cause, "low_oil");
    cr_expect(row("d")->life_h > 0);
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
    write_scenarios("range,life,30..1500 h,\nminutes,life,1800..90000 min,\npoint,life,250,\n"
                    "share,life,1..100 %,\n");
    run(1);
    trn_review_row r = *row("range");
    enum { STEPS = 400 };
    double a = log(30), b = log(1500), sum = 0;
    for (int i = 0; i <= STEPS; i++)
        sum += likelihood(a + (b - a) * i / STEPS, &r) * (i == 0 || i == STEPS ? 1 : i % 2 ? 4 : 2);
    near("range", r.ln_m[TRN_ALONE], log(sum / 3 / STEPS), 1e-8);
    near("minutes", row("minutes")->factor[TRN_ALONE], r.factor[TRN_ALONE], 1e-12);
    cr_expect(isnan(r.life_h) && r.life_low_h == 30 && r.life_high_h == 1500);
    near("point", row("point")->factor[TRN_ALONE],
         exp(log(likelihood(log(250), &r)) - row("as specified")->ln_m[TRN_ALONE]), 1e-9);
    cr_expect_eq(row("point")->life_h, 250);
    near("share", row("share")->life_high_h, row("as specified")->life_h, 1e-12);
    near("share", row("share")->life_low_h, row("as specified")->life_h / 100, 1e-12);
    cr_expect_str_eq(row("range")->cause, "part");
    cr_expect(review->parts[0].fault_compared);
    cr_expect(isnan(r.share_pct));
}

Test(review, a_fault_of_the_part_counts_where_it_is)
{
    write_scenarios("other,bearings.out_low.C,x0.5,\nspeed,duty.*.power,x1.2,\n");
    run(1);
    cr_expect_not(review->parts[0].fault_compared);
    trn_buffer out = {0};
    trn_review_text(review, 100, &out);
    cr_expect_not_null(strstr(out.text, "NOT COMPARED: a fault of in_rear itself"));
    trn_buffer_free(&out);
    write_scenarios("all,bearings.*.C,x0.5,\n");
    run(1);
    cr_expect(review->parts[0].fault_compared);
}

/* ---- shares ------------------------------------------------------------------------------------ */

/* Mean marginal loss over all orders, order by order. */
static double by_orders(const double *life, size_t n, size_t i)
{
    double sum = 0;
    size_t orders = 1;
    for (size_t k = 2; k <= n; k++)
        orders *= k;
    for (size_t number = 0; number < orders; number++) {
        size_t rest = number;
        bool used[TRN_DEPARTURES_MAX] = {false};
        size_t set = 0;
        for (size_t k = 0; k < n; k++) { /* k-th of the order, by factorial digits */
            size_t pick = rest % (n - k);
            rest /= n - k;
            size_t at = 0;
            for (;; at++)
                if (!used[at] && pick-- == 0)
                    break;
            used[at] = true;
            if (at == i)
                sum += life[set] - life[set | (size_t)1 << at];
            set |= (size_t)1 << at;
        }
    }
    return sum / (double)orders / (life[0] - life[((size_t)1 << n) - 1]);
}

/* derived: the definition, every order in turn; shares add to 100 % on both scales */
Test(review, shares_are_the_mean_over_all_orders)
{
    run(1);
    double sum = 0, logs = 0;
    for (size_t bit = 0; bit < review->parts[0].departures; bit++) {
        const trn_review_row *r = trn_review_at(review, 0, review->departing[bit]);
        near(r->scenario, r->share_pct, 100 * by_orders(review->subset_lives, 4, bit), 1e-9);
        sum += r->share_pct;
        logs += r->share_log_pct;
    }
    cr_expect_float_eq(sum, 100, 1e-9);
    cr_expect_float_eq(logs, 100, 1e-9);
    cr_expect_eq(review->parts[0].departures, 4);
    near("none", review->subset_lives[0], row("as specified")->life_h, 1e-12);
    near("one", review->subset_lives[1], row("dirt")->life_h, 1e-12);
}

Test(review, shares_keep_the_axioms)
{
    write_scenarios("nothing,gearboxes.box.change_cost,90,\none,duty.*.power,x1.1,\n"
                    "twin,duty.*.power,x1.1,\nhelp,bearings.in_rear.C,x1.05,\n"
                    "dirt,gearboxes.box.cleanliness,20/17,\n");
    run(1);
    cr_expect_float_eq(row("nothing")->share_pct, 0, 1e-9);
    near("twins", row("twin")->share_pct, row("one")->share_pct, 1e-9);
    cr_expect(row("help")->share_pct < 0);
    cr_expect(row("dirt")->share_pct > 0);
    cr_expect_eq(row("nothing")->factor[TRN_ALONE], 1);
}

Test(review, shares_do_not_hang_on_the_order_of_the_rows)
{
    static const char *const rows[] = {"a,duty.*.power,x1.3,\n", "b,duty.*.power,+2,\n",
                                       "c,duty.grass.power,25 kW,\n",
                                       "d,gearboxes.box.cleanliness,20/17,\n"};
    static const size_t orders[][4] = {{0, 1, 2, 3}, {3, 2, 1, 0}, {2, 0, 3, 1}};
    double first[4] = {0};
    for (size_t o = 0; o < 3; o++) {
        char text[512] = "";
        for (size_t i = 0; i < 4; i++)
            (void)snprintf(text + strlen(text), sizeof text - strlen(text), "%s",
                           rows[orders[o][i]]);
        write_scenarios(text);
        run(o == 1 ? 3 : 1);
        for (size_t i = 0; i < 4; i++) {
            const char name[] = {(char)('a' + (char)i), '\0'};
            if (o == 0)
                first[i] = row(name)->share_pct;
            near(name, row(name)->share_pct, first[i], 1e-9);
        }
    }
}

/* derived: 25 kW x 1.3 + 2 kW, whatever the order of names */
Test(review, together_values_come_first_then_factors_then_offsets)
{
    static const char *const orders[][3] = {{"a", "b", "c"}, {"c", "b", "a"}, {"b", "c", "a"}};
    write_scenarios("b,duty.*.power,+2,\na,duty.*.power,x1.3,\nc,duty.grass.power,25 kW,\n");
    machine = scratch_case(folder);
    for (size_t o = 0; o < 3; o++) {
        trn_faults faults = {0};
        trn_machine *m = trn_machine_copy(machine);
        cr_assert_eq(trn_machine_scenarios(m, orders[o], 3, &faults), TRN_OK);
        cr_expect_float_eq(m->duty[0].power, 34500, 1e-9);
        cr_expect_float_eq(m->duty[1].power, 31000 * 1.3 + 2000, 1e-9);
        trn_machine_free(m);
    }
}

Test(review, two_values_on_one_path_exclude_each_other)
{
    write_scenarios("a,duty.grass.power,25,\nb,duty.*.power,26,\nc,duty.*.shock,+0.1,\n");
    run(1);
    for (size_t i = 1; i < review->explanation_count; i++) {
        cr_expect(isnan(review->rows[i].share_pct));
        cr_expect(has(&review->rows[i], "duty.grass.power"), "%s", review->rows[i].remark);
        cr_expect(review->rows[i].factor[TRN_ALONE] > 0);
    }
}

Test(review, nine_departures_are_too_many_and_eight_are_not)
{
    char text[1024] = "";
    for (int i = 0; i < 9; i++)
        (void)snprintf(text + strlen(text), sizeof text - strlen(text), "s%d,duty.*.power,x1.0%d,\n",
                       i, i + 1);
    write_scenarios(text);
    run(1);
    cr_expect(isnan(row("s3")->share_pct) && has(row("s3"), "too many departures to share out"));
    text[strlen(text) - strlen("s8,duty.*.power,x1.09,\n")] = '\0';
    write_scenarios(text);
    run(2);
    double sum = 0;
    for (size_t i = 1; i < 9; i++)
        sum += review->rows[i].share_pct;
    cr_expect_float_eq(sum, 100, 1e-9);
}

Test(review, no_life_lost_is_not_shared_out)
{
    write_scenarios("help,bearings.in_rear.C,x1.2,\n");
    run(1);
    cr_expect(isnan(row("help")->share_pct));
    cr_expect(has(row("help"), "no life is lost"));
    cr_expect(row("help")->factor[TRN_ALONE] < 1);
}

Test(review, threads_change_nothing)
{
    run(1);
    trn_buffer one = {0}, four = {0};
    for (size_t f = 0; f < TRN_REVIEW_FILES; f++)
        trn_review_csv(review, f, &one);
    run(4);
    for (size_t f = 0; f < TRN_REVIEW_FILES; f++)
        trn_review_csv(review, f, &four);
    cr_expect_str_eq(one.text, four.text);
    trn_buffer_free(&one);
    trn_buffer_free(&four);
}

/* ---- signs ------------------------------------------------------------------------------------- */

/* the rules of the reference page */
Test(review, causes_of_what_is_changed)
{
    static const struct {
        const char *path, *cause;
    } rules[] = {{"duty.*.power", "overload"},          {"duty.grass.shock", "overload"},
                 {"machine.rated_power", "overload"},   {"positions.a.b.tube_side", "over_angle"},
                 {"geometry.a.b.tau", "over_angle"},    {"shafts.main.yoke_error", "over_angle"},
                 {"duty.grass.position", "over_angle"}, {"gearboxes.box.oil_volume", "low_oil"},
                 {"gears.wheel.dip", "low_oil"},        {"gearboxes.box.level_margin", "low_oil"},
                 {"duty.*.pto_speed", "heat"},          {"machine.ambient", "heat"},
                 {"duty.*.ambient", "heat"},            {"duty.*.oil_temperature", "heat"},
                 {"gearboxes.*.heat_transfer", "heat"}, {"gearboxes.*.air_speed", "heat"},
                 {"gearboxes.*.residue", "heat"},       {"duty.*.sun", "heat"},
                 {"duty.*.dust", "contamination"},      {"gearboxes.*.dust_intake", "contamination"},
                 {"duty.*.washes_per_100h", "water"},   {"duty.*.wash_water", "water"},
                 {"duty.*.humidity", "water"},          {"bearings.in_rear.C", "part"},
                 {"gears.wheel.face_width", "part"},    {"life", "part"},
                 {"oils.ep90.kv100", ""},               {"machine.reliability", ""}};
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++) {
        unsigned want = 0;
        for (unsigned c = 0; trn_evidence_causes[c]; c++)
            if (strcmp(trn_evidence_causes[c], rules[i].cause) == 0)
                want = 1U << c;
        cr_expect_eq(trn_review_causes(rules[i].path), want, "%s", rules[i].path);
    }
}

/* derived: by hand from the sign table of the page */
Test(review, signs_are_counted_and_several_causes_add)
{
    scratch_write(folder, "failure.csv",
                  "component,hours [h],sign,sign of heat,sign 3\n"
                  "in_rear,310,rimmed_dents/clean_spall,all_tinted,scuffing / wrong_oil\n");
    run(1);
    const trn_review_row *r = row("dirt"); /* 2 -1 0 0 0 */
    cr_expect(r->signs_for == 1 && r->signs_against == 1 && r->signs_neutral == 3);
    cr_expect(has(r, "signs: 1 for, 1 against, 3 neutral"), "%s", r->remark);
    r = row("overspeed"); /* overload + heat: 0, 0 - 1, 0 + 2, 0 + 1, 0 + 1 */
    cr_expect_str_eq(r->cause, "overload/heat");
    cr_expect(r->signs_for == 3 && r->signs_against == 1 && r->signs_neutral == 1);
    cr_expect_eq(r->sign_weight, 3);
    r = row("as specified"); /* normal: -1 +2 -1 -1 -1 */
    cr_expect(r->signs_for == 1 && r->signs_against == 4 && r->signs_neutral == 0);
    r = row("low oil"); /* 0 -1 1 2 1: the hours say nothing, the signs count */
    cr_expect(r->signs_for == 3 && r->signs_against == 1 && r->signs_neutral == 1);
}

/* Signs are no part of any factor. */
Test(review, signs_leave_the_factors_alone)
{
    run(1);
    double before = row("dirt")->factor[TRN_FLEET];
    scratch_edit(folder, "failure.csv", "rimmed_dents", "clean_spall");
    run(1);
    cr_expect_eq(row("dirt")->factor[TRN_FLEET], before);
    cr_expect_eq(row("dirt")->signs_against, 1);
}

/* ---- further evidence ------------------------------------------------------------------------- */

/* derived: what is supposed, put into lives.csv, gives what was foretold */
Test(review, supposed_sisters_come_true)
{
    run(1);
    double then = NAN;
    for (size_t i = 0; i < review->next_count; i++)
        if (strcmp(review->next[i].scenario, "overspeed") == 0 &&
            strcmp(review->next[i].what, "5 more sister units found sound at 620 h") == 0) {
            then = review->next[i].then;
            near("now", review->next[i].now, row("overspeed")->factor[TRN_FLEET], 1e-12);
        }
    cr_assert(then > 0);
    char *lives = scratch_read(folder, "lives.csv");
    char text[1024];
    (void)snprintf(text, sizeof text, "%s", lives);
    free(lives);
    for (int i = 0; i < 5; i++)
        (void)snprintf(text + strlen(text), sizeof text - strlen(text), "n%d,620,running\n", i);
    scratch_write(folder, "lives.csv", text);
    run(1);
    near("then", row("overspeed")->factor[TRN_FLEET], then, 1e-8);
}

Test(review, half_a_departure_comes_true)
{
    run(1);
    double then = NAN;
    for (size_t i = 0; i < review->next_count; i++)
        if (strstr(review->next[i].what, "bearings.in_rear.C found to have gone only half way"))
            then = review->next[i].then;
    cr_assert(then > 0);
    scratch_edit(folder, "scenarios.csv", "x0.8", "x0.89442719099991588");
    run(1);
    near("then", row("small bearing")->factor[TRN_FLEET], then, 1e-9);
}

/* ---- faults ------------------------------------------------------------------------------------ */

static void take_away(const char *file)
{
    char path[SCRATCH_PATH + 32];
    (void)snprintf(path, sizeof path, "%s/%s", folder, file);
    cr_assert_eq(remove(path), 0);
}

Test(review, missing_tables_are_named)
{
    take_away("failure.csv");
    refused("failure.csv: a review needs it");
    trn_machine_free(machine);
    scratch_copy(folder, "cases/failed");
    take_away("scenarios.csv");
    refused("scenarios.csv: a review needs it");
}

Test(review, a_wrong_path_is_named_with_its_line)
{
    write_scenarios("a,duty.*.power,x1.1,\nb,duty.*.powr,x1.1,\n");
    refused("scenarios.csv:3: duty.*.powr = x1.1: duty has no column `powr` to set");
}

Test(review, the_failed_unit_is_not_among_the_others)
{
    scratch_edit(folder, "lives.csv", "RM-009", "RM-017");
    refused("lives.csv:5: column unit: `RM-017` is the serial of the machine that failed");
}

Test(review, a_sister_of_the_very_hours_is_remarked_on)
{
    scratch_edit(folder, "lives.csv", "290", "310");
    run(1);
    cr_expect_not_null(strstr(review->fleet_remark, "line 5 failed at the very hours of in_rear"));
}

/* ---- text -------------------------------------------------------------------------------------- */

Test(review, the_text_says_what_it_must_and_no_more)
{
    static const char *const wanted[] = {
        "FACTS", "COMPUTED", "OPINION", "share of the life lost is no share of fault",
        "statistics.bayes_factor", "statistics.bayes_factor_ceiling", "statistics.posterior",
        "statistics.shares", "statistics.weibull_probability", "statistics.at_least_one",
        "statistics.damage_sign", "Listed by: workshop of the dealer (invented)",
        "What further evidence would decide", "Alternatives not excluded",
        "What may not be concluded", "do not run the machine again"};
    static const char *const never[] = {"guarantee", " safe", "proves", "misuse ", "probability of"};
    run(1);
    trn_buffer out = {0}, flat = {0};
    trn_review_text(review, 100, &out);
    cr_assert(!out.failed);
    for (const char *p = out.text; *p; p++) /* lines joined, so that a break hides nothing */
        if (*p != '\n' && !(*p == ' ' && p[1] == ' '))
            trn_buffer_add_n(&flat, p, 1);
        else if (*p == '\n' && p[1] != ' ')
            trn_buffer_add(&flat, " ");
    for (size_t i = 0; i < sizeof wanted / sizeof wanted[0]; i++)
        cr_expect_not_null(strstr(flat.text, wanted[i]), "%s", wanted[i]);
    for (size_t i = 0; i < sizeof never / sizeof never[0]; i++)
        cr_expect_null(strstr(flat.text, never[i]), "%s", never[i]);
    for (const char *line = out.text; line;) {
        const char *next = strchr(line, '\n');
        cr_expect(!next || next - line <= 100, "%.*s", next ? (int)(next - line) : 0, line);
        line = next ? next + 1 : NULL;
    }
    trn_buffer_free(&out);
    trn_buffer_free(&flat);
}
