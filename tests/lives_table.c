/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of `lives` as a whole: files of tests/published/lives in, CSV out. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/lives_paper.h>
#include <trunnion/lives_table.h>
#include <unistd.h>

#include "replay.h"
#include "support.h"

static void quiet(void)
{
    (void)gsl_set_error_handler_off();
}

TestSuite(lives_table, .init = quiet);

static void path_of(const char *set, char *path, size_t size)
{
    (void)snprintf(path, size, "%s/published/lives/%s.csv", test_root(), set);
}

/* The table of a set as a sheet; NULL with *status where it was refused. */
static trn_sheet *run(const char *set, double slope, double confidence, trn_status *status)
{
    char path[512];
    trn_faults faults = {0};
    trn_lives_table table;
    trn_buffer csv = {0};
    path_of(set, path, sizeof path);
    *status = trn_lives_table_read(path, slope, confidence, &faults, &table);
    cr_expect_eq(faults.count > 0, *status < 0, "%s: a refusal has a reason, an answer none", set);
    trn_faults_free(&faults);
    if (*status < 0)
        return NULL;
    trn_lives_csv(&table, &csv);
    trn_sheet *sheet = replay_table(&csv);
    trn_buffer_free(&csv);
    trn_lives_table_free(&table);
    return sheet;
}

static const char *cell_of(const trn_sheet *sheet, const char *method, const char *column)
{
    for (size_t r = 0; r < sheet->rows; r++)
        if (strcmp(replay_cell(sheet, r, "method"), method) == 0)
            return replay_cell(sheet, r, column);
    return NULL;
}

/* quantity METHOD.COLUMN[@90 | @slope=2] */
static void replay_row(const trn_sheet *rows, size_t r)
{
    char quantity[96];
    const char *set = replay_cell(rows, r, "set");
    double slope = NAN;
    double confidence = 0.95;
    trn_status status = TRN_OK;
    (void)snprintf(quantity, sizeof quantity, "%s", replay_cell(rows, r, "quantity"));
    char *at = strchr(quantity, '@');
    if (at && strncmp(at, "@slope=", 7) == 0)
        cr_assert_eq(trn_text_number(at + 7, &slope), TRN_OK);
    else if (at && trn_text_number(at + 1, &confidence) == TRN_OK)
        confidence /= 100;
    if (at)
        *at = '\0';
    trn_sheet *got = run(set, slope, confidence, &status);
    char *dot = strchr(quantity, '.');
    if (!dot) {
        cr_expect(!got && status == TRN_E_INPUT, "%s: not refused", set);
        trn_sheet_free(got);
        return;
    }
    *dot = '\0';
    cr_assert_not_null(got, "%s: refused", set);
    const char *cell = cell_of(got, quantity, dot + 1);
    const char *expected = replay_cell(rows, r, "expected");
    cr_expect(cell && replay_matches(cell, expected, replay_cell(rows, r, "tolerance")),
              "%s %s.%s: wanted `%s`, got `%s`", set, quantity, dot + 1, expected,
              cell ? cell : "no such row");
    trn_sheet_free(got);
}

/* published and derived, as each row says */
Test(lives_table, published_rows)
{
    static const char *const names[] = {"published/lives/expected.csv",
                                        "published/lives/expected-options.csv"};
    size_t all = 0;
    for (size_t i = 0; i < 2; i++) {
        trn_sheet *rows = replay_file(names[i]);
        for (size_t r = 0; r < rows->rows; r++)
            replay_row(rows, r);
        all += rows->rows;
        trn_sheet_free(rows);
    }
    cr_expect_geq(all, 200, "%zu rows", all);
}

/* ---- forms, counts, units ----------------------------------------------------------------- */

static trn_status make(const char *text, double slope, trn_faults *faults,
                       trn_lives_table *table)
{
    char path[64];
    replay_write(text, path);
    trn_status status = trn_lives_table_read(path, slope, 0.95, faults, table);
    (void)unlink(path);
    return status;
}

/* Both tables hold the same lines, times `scale`. */
static void expect_same(const char *a_text, const char *b_text, double scale)
{
    trn_faults faults = {0};
    trn_lives_table a, b;
    cr_assert_eq(make(a_text, 1.7, &faults, &a), TRN_OK, "%s", a_text);
    cr_assert_eq(make(b_text, 1.7, &faults, &b), TRN_OK, "%s", b_text);
    cr_assert_eq(a.count, 5);
    cr_assert_eq(b.count, a.count);
    for (size_t i = 0; i < a.count; i++) {
        cr_expect_str_eq(b.lines[i].method, a.lines[i].method);
        cr_expect(test_near(a.lines[i].line.beta, b.lines[i].line.beta, 1e-9), "%s: %.15g %.15g",
                  a.lines[i].method, a.lines[i].line.beta, b.lines[i].line.beta);
        cr_expect(test_near(a.lines[i].line.eta_h * scale, b.lines[i].line.eta_h, 1e-9));
        cr_expect(test_near(a.lines[i].line.b10_h * scale, b.lines[i].line.b10_h, 1e-9));
    }
    trn_lives_table_free(&a);
    trn_lives_table_free(&b);
}

/* derived: one record in two forms */
Test(lives_table, both_forms_say_the_same)
{
    expect_same("hours [h],state,count\n238.5,failed,1\n417.25,running,3\n689,failed,2\n"
                "1204,running,1\n",
                "after [h],by [h],count\n1204,,1\n689,689,2\n238.5,238.5,1\n417.25,,3\n", 1);
}

/* derived: a count is so many rows, none is no row */
Test(lives_table, counts_are_rows)
{
    expect_same("hours [h],state\n238.5,failed\n689,failed\n689,failed\n1204,running\n",
                "hours [h],state,count\n100,failed,0\n238.5,failed,\n689,failed,2\n"
                "1204,running,1\n",
                1);
}

/* derived: 60 min are an hour, a day 24 */
Test(lives_table, times_convert)
{
    const char *hours = "hours [h],state\n12,failed\n36,failed\n60,running\n";
    expect_same(hours, "hours [min],state\n720,failed\n2160,failed\n3600,running\n", 1);
    expect_same(hours, "hours [day],state\n0.5,failed\n1.5,failed\n2.5,running\n", 1);
    expect_same(hours, "hours [h];state\n24,0;failed\n72,0;failed\n120,0;running\n", 2);
}

Test(lives_table, refuses)
{
    static const char *const texts[] = {
        "hours [h],state\n0,failed\n50,running\n",
        "hours [h],state\n-3,failed\n50,running\n",
        "hours [h],state\nmany,failed\n50,running\n",
        "hours [h],state\n40,failed\n50,\n",
        "hours [h],state\n40,failed\n,running\n",
        "hours [h],state,count\n40,failed,1.5\n50,running,1\n",
        "hours [h],state,count\n40,failed,-1\n50,running,1\n",
        "hours [h],state,count\n40,failed,0\n50,running,0\n",
        "hours [h],state\n",
        "hours [kg],state\n40,failed\n50,running\n",
        "hours,state\n40,failed\n50,running\n",
        "hours [h],state,after [h],by [h]\n40,failed,,\n,,30,60\n",
        "hours [h],state,after [h],by [h]\n40,failed,30,60\n50,running,,\n",
        "after [h],by [h]\n0,0\n100,\n",
        "after [h],by [h]\n0,\n100,200\n",
        "after [h],by [h]\n,\n100,200\n",
        "after [h],by [h]\n300,200\n100,\n",
        /* early looks all sound, late looks all failed */
        "after [h],by [h],count\n500,,8\n,500,0\n0,900,8\n",
        "after [h],by [h],count\n0,500,8\n",
    };
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        trn_faults faults = {0};
        trn_lives_table table;
        memset(&table, 0x5a, sizeof table);
        trn_lives_table before = table;
        cr_expect_eq(make(texts[i], NAN, &faults, &table), TRN_E_INPUT, "not refused:\n%s",
                     texts[i]);
        cr_expect_gt(faults.count, 0, "no reason:\n%s", texts[i]);
        cr_expect_eq(memcmp(&table, &before, sizeof table), 0, "touched:\n%s", texts[i]);
        trn_faults_free(&faults);
    }
}

Test(lives_table, refuses_options_outside)
{
    trn_life_row row = {.hours = 40, .state = 0, .after = NAN, .by = NAN, .count = 1};
    static const double slopes[] = {0, -1, INFINITY};
    static const double confidences[] = {0, 1, -0.1, NAN};
    trn_faults faults = {0};
    trn_lives_table table;
    for (size_t i = 0; i < 3; i++)
        cr_expect_eq(trn_lives_table_make(&row, 1, "t", slopes[i], 0.9, &faults, &table),
                     TRN_E_DOMAIN);
    for (size_t i = 0; i < 4; i++)
        cr_expect_eq(trn_lives_table_make(&row, 1, "t", NAN, confidences[i], &faults, &table),
                     TRN_E_DOMAIN);
}

/* ---- rows that are there ------------------------------------------------------------------ */

static void expect_methods(const char *set, double slope, const char *wanted)
{
    trn_status status = TRN_OK;
    trn_sheet *sheet = run(set, slope, 0.95, &status);
    trn_buffer methods = {0};
    cr_assert_not_null(sheet, "%s at %g", set, slope);
    for (size_t r = 0; r < sheet->rows; r++)
        trn_buffer_print(&methods, "%s%s", r ? " " : "", replay_cell(sheet, r, "method"));
    cr_expect_str_eq(methods.text, wanted, "%s at %g: %s", set, slope, methods.text);
    trn_buffer_free(&methods);
    trn_sheet_free(sheet);
}

/* rules of docs/lives.md */
Test(lives_table, rows_that_the_data_allow)
{
    expect_methods("bearing_cages", NAN, "likelihood fisher rank_y_on_x rank_x_on_y");
    expect_methods("bearing_cages", 2, "likelihood fisher rank_y_on_x rank_x_on_y weibayes");
    expect_methods("one_failure", NAN, "likelihood fisher");
    expect_methods("inspected_gearboxes", NAN, "likelihood fisher");
    expect_methods("inspected_gearboxes", 2, "likelihood fisher");
    expect_methods("refused/survivors_only", 1.5, "weibayes");
    expect_methods("refused/failure_last", 1.5, "weibayes");
    expect_methods("refused/all_at_one_time", 1.5, "weibayes");
}

Test(lives_table, reason_offers_a_slope)
{
    char path[512];
    trn_faults faults = {0};
    trn_lives_table table;
    path_of("refused/survivors_only", path, sizeof path);
    cr_assert_eq(trn_lives_table_read(path, NAN, 0.95, &faults, &table), TRN_E_INPUT);
    cr_expect(strstr(faults.list[0].text, "--slope"), "%s", faults.list[0].text);
    trn_faults_free(&faults);
}

static void expect_remark(const char *set, const char *method, const char *wanted, bool there)
{
    trn_status status = TRN_OK;
    trn_sheet *sheet = run(set, 1.5, 0.95, &status);
    cr_assert_not_null(sheet);
    const char *remark = cell_of(sheet, method, "remark");
    cr_assert_not_null(remark);
    cr_expect_eq(strstr(remark, wanted) != NULL, there, "%s %s: `%s`", set, method, remark);
    trn_sheet_free(sheet);
}

Test(lives_table, remarks_warn_of_traps)
{
    expect_remark("one_failure", "likelihood", "one failure", true);
    expect_remark("bearing_cages", "likelihood", "few failures", true);
    expect_remark("bearing_cages", "fisher", "too narrow", true);
    expect_remark("bearing_cages", "rank_y_on_x", "beyond the last failure", true);
    expect_remark("bearing_cages", "weibayes", "slope is assumed", true);
    expect_remark("refused/survivors_only", "weibayes", "no failure", true);
    expect_remark("ball_bearings", "likelihood", "failure", false);
    expect_remark("ball_bearings", "rank_y_on_x", "beyond", false);
}

/* derived: a limit that the data do not set is `inf` or 0 and said */
Test(lives_table, open_limits_are_said)
{
    trn_faults faults = {0};
    trn_lives_table table;
    cr_assert_eq(make("hours [h],state,count\n400,failed,1\n401,running,1\n", NAN, &faults, &table),
                 TRN_OK);
    const trn_lives_line *l = &table.lines[0];
    bool open = isinf(l->limits.eta_high_h) || isinf(l->limits.b10_high_h) ||
                isinf(l->limits.beta_high) || l->limits.b10_low_h == 0;
    cr_expect_eq(open, strstr(l->remark, "no limit on that side") != NULL, "%s", l->remark);
    trn_lives_table_free(&table);
}

/* ---- for people --------------------------------------------------------------------------- */

static void expect_said(const char *set, double slope, const char *wanted)
{
    char path[512];
    trn_faults faults = {0};
    trn_lives_table table;
    trn_buffer text = {0};
    path_of(set, path, sizeof path);
    cr_assert_eq(trn_lives_table_read(path, slope, 0.95, &faults, &table), TRN_OK);
    trn_lives_paper paper;
    cr_assert_eq(trn_lives_paper_make(&table, &paper), TRN_OK);
    trn_lives_text(&table, 100, &text);
    trn_lives_survival_text(&paper, 100, &text);
    trn_lives_paper_free(&paper);
    cr_assert(!text.failed && text.text);
    cr_expect(strstr(text.text, wanted), "%s: no `%s` in\n%s", set, wanted, text.text);
    trn_buffer_free(&text);
    trn_lives_table_free(&table);
}

/* derived: fixed slopes, product limit 1 - 1/1267, ln 0.05/ln 0.9 = 28.4 units, exp(-...) bound
 * 666.7 = [sum t^1.5/(-ln 0.05)]^(1/1.5) */
Test(lives_table, terminal_says_what_else_is_known)
{
    expect_said("bearing_cages", NAN, "6465");
    expect_said("bearing_cages", NAN, "assumed decides");
    expect_said("bearing_cages", NAN, "99.92");
    expect_said("ball_bearings", NAN, "product limit");
    expect_said("locomotive_controls", NAN, "product limit");
    expect_said("refused/survivors_only", 1.5, "29 units");
    expect_said("refused/survivors_only", 1.5, "666.7 h");
}

/* derived: long tables of survival are thinned, the last failure stays */
Test(lives_table, long_survival_is_thinned)
{
    trn_buffer text = {0};
    trn_buffer out = {0};
    trn_faults faults = {0};
    trn_lives_table table;
    trn_buffer_add(&text, "hours [h],state\n");
    for (int i = 1; i <= 301; i++)
        trn_buffer_print(&text, "%.3f,failed\n", 17.25 * i + 0.003 * i * i);
    cr_assert_eq(make(text.text, NAN, &faults, &table), TRN_OK);
    trn_lives_paper paper;
    cr_assert_eq(trn_lives_paper_make(&table, &paper), TRN_OK);
    trn_lives_survival_text(&paper, 100, &out);
    trn_lives_paper_free(&paper);
    cr_expect(strstr(out.text, "38 of the 301 failure times"), "%s", out.text);
    cr_expect(strstr(out.text, " 5464 "), "the last time is missing");
    trn_buffer_free(&text);
    trn_buffer_free(&out);
    trn_lives_table_free(&table);
}
