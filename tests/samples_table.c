/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of `samples` as a whole: files of tests/published/samples in, CSV out; samples in
 * memory; what they say to the interval model. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/samples_table.h>
#include <trunnion/trend.h>
#include <unistd.h>

#include "replay.h"
#include "support.h"

static void quiet(void)
{
    (void)gsl_set_error_handler_off();
}

TestSuite(samples_table, .init = quiet);

/* ---- published ---------------------------------------------------------------------------- */

/* Options of a set, from its first line `# options: --oil-volume 5`. */
static void options_of(const char *path, trn_samples_settings *settings)
{
    char line[256] = "";
    double value = 0;
    const char *end = NULL;
    FILE *file = fopen(path, "rb");
    cr_assert_not_null(file, "%s", path);
    cr_assert_not_null(fgets(line, sizeof line, file));
    (void)fclose(file);
    trn_samples_settings_default(settings);
    const char *at = strstr(line, "--oil-volume ");
    if (at && trn_text_number_start(at + strlen("--oil-volume "), &value, &end) == TRN_OK)
        settings->oil_volume = value / 1000;
    at = strstr(line, "--residual-oil ");
    if (at && trn_text_number_start(at + strlen("--residual-oil "), &value, &end) == TRN_OK)
        settings->residual = value / 100;
}

static trn_sheet *run(const char *set)
{
    char path[512];
    trn_faults faults = {0};
    trn_samples_settings settings;
    trn_samples_table table;
    trn_machine *machine = NULL;
    trn_buffer csv = {0};
    (void)snprintf(path, sizeof path, "%s/published/samples/%s.csv", test_root(), set);
    options_of(path, &settings);
    cr_assert_eq(trn_machine_read_table(path, "samples", &faults, &machine), TRN_OK, "%s", path);
    trn_status status = trn_samples_table_make(machine->samples, machine->samples_count, path,
                                               &settings, &faults, &table);
    trn_sheet *sheet = NULL;
    if (status == TRN_OK) {
        trn_samples_csv(&table, &csv);
        sheet = replay_table(&csv);
        trn_buffer_free(&csv);
        trn_samples_table_free(&table);
    }
    cr_expect_eq(faults.count > 0, status < 0, "%s", set);
    trn_faults_free(&faults);
    trn_machine_free(machine);
    return sheet;
}

/* GEARBOX.ELEMENT.FILL.COLUMN */
static const char *find(const trn_sheet *sheet, const char *quantity, char *column)
{
    char key[3][64];
    cr_assert_eq(sscanf(quantity, "%63[^.].%63[^.].%63[^.].%63s", key[0], key[1], key[2], column),
                 4, "%s", quantity);
    for (size_t r = 0; r < sheet->rows; r++)
        if (strcmp(replay_cell(sheet, r, "gearbox"), key[0]) == 0 &&
            strcmp(replay_cell(sheet, r, "element"), key[1]) == 0 &&
            strcmp(replay_cell(sheet, r, "fill"), key[2]) == 0)
            return replay_cell(sheet, r, column);
    return NULL;
}

/* published, practice and derived, as each row says */
Test(samples_table, published_rows)
{
    trn_sheet *rows = replay_file("published/samples/expected.csv");
    for (size_t r = 0; r < rows->rows; r++) {
        const char *set = replay_cell(rows, r, "set");
        const char *quantity = replay_cell(rows, r, "quantity");
        const char *expected = replay_cell(rows, r, "expected");
        const char *tolerance = replay_cell(rows, r, "tolerance");
        trn_sheet *got = run(set);
        if (strcmp(quantity, "exit") == 0) {
            cr_expect_null(got, "%s: not refused", set);
            trn_sheet_free(got);
            continue;
        }
        char column[64];
        cr_assert_not_null(got, "%s: refused", set);
        const char *cell = find(got, quantity, column);
        bool same = cell && (strcmp(column, "remark") == 0
                                 ? strstr(cell, expected) != NULL
                                 : replay_matches(cell, expected, tolerance));
        cr_expect(same, "%s %s: wanted `%s`, got `%s`", set, quantity, expected,
                  cell ? cell : "no such row");
        trn_sheet_free(got);
    }
    cr_expect_geq(rows->rows, 200);
    trn_sheet_free(rows);
}

/* ---- samples in memory -------------------------------------------------------------------- */

static trn_sample sample_at(double machine_h, double oil_h)
{
    trn_sample s = {.gearbox = "centre", .machine_hours = machine_h, .oil_hours = oil_h,
                    .kv40 = NAN, .top_up = NAN};
    for (size_t e = 0; e < TRN_ELEMENTS; e++)
        s.content[e] = NAN;
    return s;
}

static trn_sample iron_at(double machine_h, double oil_h, double fe)
{
    trn_sample s = sample_at(machine_h, oil_h);
    s.content[TRN_FE] = fe;
    return s;
}

static trn_samples_table made(const trn_sample *rows, size_t n,
                              const trn_samples_settings *settings)
{
    trn_samples_settings usual;
    trn_samples_table table = {0};
    trn_faults faults = {0};
    trn_samples_settings_default(&usual);
    trn_status status = trn_samples_table_make(rows, n, "samples.csv",
                                               settings ? settings : &usual, &faults, &table);
    cr_assert_eq(status, TRN_OK, "%s", faults.kept ? faults.list[0].text : "");
    return table;
}

static void refused(const trn_sample *rows, size_t n, const char *why)
{
    trn_samples_settings usual;
    trn_samples_table table;
    memset(&table, 0x5a, sizeof table);
    trn_samples_table before = table;
    trn_faults faults = {0};
    trn_samples_settings_default(&usual);
    cr_expect_eq(trn_samples_table_make(rows, n, "t", &usual, &faults, &table), TRN_E_INPUT, "%s",
                 why);
    cr_expect_gt(faults.count, 0, "%s: no reason", why);
    cr_expect_eq(memcmp(&table, &before, sizeof table), 0, "%s: touched", why);
    trn_faults_free(&faults);
}

Test(samples_table, refuses)
{
    trn_sample twice[] = {iron_at(120.5, 50, 20), iron_at(60, 10, 9), iron_at(120.5, 50, 21)};
    trn_sample older[] = {iron_at(100, 40, 12), iron_at(150, 95.5, 31)};
    refused(twice, 3, "equal hours");
    refused(older, 2, "birth falls by 5.5 h");
    refused(twice, 0, "no samples");
}

/* rule: more than 5 h */
Test(samples_table, birth_that_moves_five_hours_is_the_same_fill)
{
    trn_sample same[] = {iron_at(105.3, 45.3, 12), iron_at(160.7, 95.7, 21),
                         iron_at(210.1, 150.1, 33)};
    trn_sample other[] = {iron_at(105.3, 45.3, 12), iron_at(160.7, 95.6, 21)};
    trn_samples_table table = made(same, 3, NULL);
    cr_expect_eq(table.places[2].fill, 1);
    trn_samples_table_free(&table);
    table = made(other, 2, NULL);
    cr_expect_eq(table.places[1].fill, 2);
    cr_expect(!table.places[1].reset);
    trn_samples_table_free(&table);
}

/* derived: oil younger than the sample before is other oil, though its age was not logged */
Test(samples_table, blank_oil_hours_are_the_same_fill)
{
    trn_sample rows[] = {iron_at(40, NAN, 12), iron_at(90, NAN, 22), iron_at(140, NAN, 33),
                         iron_at(200, 30, 31)};
    trn_samples_table table = made(rows, 4, NULL);
    cr_expect_eq(table.places[2].fill, 1);
    cr_expect_eq(table.places[3].fill, 2);
    cr_expect(isnan(table.places[2].birth_h));
    cr_expect_float_eq(table.places[3].birth_h, 170, 1e-9);
    cr_expect_str_eq(table.rows[1].method_word, "from_change");
    cr_expect(test_near(table.rows[1].rate, 100 * (31 - 0.1 * 33) / 30, 1e-12));
    trn_samples_table_free(&table);
}

/* rule: median of the metals below 0.6 e^(-u), readings from 10 ppm on */
Test(samples_table, fall_of_the_metals_is_a_change)
{
    trn_sample rows[2] = {sample_at(100, 100), sample_at(150, 150)};
    rows[0].content[TRN_FE] = 50;
    rows[0].content[TRN_CU] = 20;
    rows[0].content[TRN_AL] = 9.9; /* does not count */
    rows[0].content[TRN_WATER] = 800;
    rows[1].content[TRN_FE] = 29.5;
    rows[1].content[TRN_CU] = 12.2;
    rows[1].content[TRN_AL] = 0.1;
    rows[1].content[TRN_WATER] = 90;
    trn_samples_settings settings;
    trn_samples_settings_default(&settings);
    trn_samples_table table = made(rows, 2, &settings); /* 0.59 and 0.61: median 0.6 */
    cr_expect_eq(table.places[1].fill, 1);
    trn_samples_table_free(&table);

    rows[1].content[TRN_CU] = 12.0;
    table = made(rows, 2, &settings);
    cr_expect_eq(table.places[1].fill, 2);
    cr_expect(table.places[1].reset);
    cr_expect_str_eq(table.rows[4].remark, "reset not logged");
    cr_expect_str_eq(table.rows[4].method_word, "none");
    cr_expect(isnan(table.rows[4].rate));
    trn_samples_table_free(&table);

    rows[1].top_up = 0.2e-3; /* a tenth of the oil explains it */
    settings.oil_volume = 2e-3;
    table = made(rows, 2, &settings);
    cr_expect_eq(table.places[1].fill, 1);
    trn_samples_table_free(&table);
}

/* derived: rows in any order, gearboxes mixed, give the same table */
Test(samples_table, order_of_the_rows_changes_nothing)
{
    trn_sample rows[7];
    for (size_t i = 0; i < 7; i++) {
        rows[i] = iron_at(23.85 + 51.3 * (double)i, NAN, 11.4 + 19.7 * (double)i * (double)(7 - i));
        rows[i].content[TRN_SI] = 3.1 + 1.7 * (double)i;
    }
    rows[3].gearbox = rows[5].gearbox = "wing";
    trn_sample mixed[7] = {rows[6], rows[2], rows[0], rows[4], rows[5], rows[1], rows[3]};
    trn_samples_table a = made(rows, 7, NULL);
    trn_samples_table b = made(mixed, 7, NULL);
    cr_assert_eq(a.count, b.count);
    for (size_t i = 0; i < a.count; i++) {
        cr_expect_str_eq(a.rows[i].gearbox, b.rows[i].gearbox);
        cr_expect_eq(a.rows[i].element, b.rows[i].element);
        cr_expect_eq(a.rows[i].samples, b.rows[i].samples);
        cr_expect(memcmp(&a.rows[i].rate, &b.rows[i].rate, sizeof(double)) == 0, "%.17g %.17g",
                  a.rows[i].rate, b.rows[i].rate);
    }
    trn_samples_table_free(&a);
    trn_samples_table_free(&b);
}

/* ---- top-up ------------------------------------------------------------------------------- */

/* Reading after `hours` of wear a ppm/h and a steady leak: solution of V dC/dt = a V - Q C. */
static double reading(double start, double a, double turnover_h, double hours)
{
    double limit = a * turnover_h;
    return limit + (start - limit) * exp(-hours / turnover_h);
}

/* derived: readings of the exact balance give the wear that made them, however many they are */
Test(samples_table, top_up_is_put_back)
{
    static const double volume = 2.385e-3, leak_m3_h = 7.3e-6, wear = 0.317;
    trn_samples_settings settings;
    trn_samples_settings_default(&settings);
    settings.oil_volume = volume;
    for (size_t n = 1; n <= 6; n++) {
        trn_sample rows[7];
        double c = 57.3;
        double hours = 0;
        rows[0] = iron_at(900, NAN, c); /* the fill before */
        c *= 0.1;
        for (size_t i = 1; i <= n; i++) {
            double step = 41.7 + 13.1 * (double)(i % 3);
            hours += step;
            c = reading(c, wear, volume / leak_m3_h, step);
            rows[i] = iron_at(1000 + hours, hours, c);
            rows[i].top_up = leak_m3_h * step;
        }
        trn_samples_table table = made(rows, n + 1, &settings);
        const trn_samples_row *row = &table.rows[1];
        cr_assert_eq(row->samples, n);
        cr_expect(test_near(row->rate, 100 * wear, 1e-9), "%zu readings: wanted %.12g, got %.12g",
                  n, 100 * wear, row->rate);
        cr_expect_not_null(strstr(row->remark, "top-up corrected"));
        trn_samples_table_free(&table);
    }
}

/* rule: top-ups before the first reading say nothing about a rate between readings */
Test(samples_table, top_up_before_the_first_reading_does_not_count)
{
    trn_sample rows[] = {iron_at(50, 50, 15), iron_at(110, 110, 32)};
    rows[0].top_up = 0.5e-3;
    trn_samples_table table = made(rows, 2, NULL);
    cr_expect_str_eq(table.rows[0].remark, "");
    trn_samples_table_free(&table);
    table = made(rows, 1, NULL);
    cr_expect_str_eq(table.rows[0].remark, "upper bound; top-up not corrected");
    trn_samples_table_free(&table);
}

/* derived: the volume of the case and that of the option do the same; the option goes first */
Test(samples_table, gearbox_of_the_case_gives_volume_and_residual_oil)
{
    trn_gearbox boxes[] = {{.gearbox = "wing", .oil_volume = 9e-3, .residual_oil = 0.4},
                           {.gearbox = "centre", .oil_volume = 2.2e-3, .residual_oil = 0.17}};
    trn_sample rows[] = {iron_at(200, 200, 63), iron_at(260, 55, 31)};
    rows[1].top_up = 0.3e-3;
    trn_samples_settings by_case, by_option;
    trn_samples_settings_default(&by_case);
    by_option = by_case;
    by_case.gearboxes = boxes;
    by_case.gearbox_count = 2;
    by_option.oil_volume = 2.2e-3;
    by_option.residual = 0.17;
    trn_samples_table a = made(rows, 2, &by_case);
    trn_samples_table b = made(rows, 2, &by_option);
    cr_expect(a.rows[1].rate == b.rows[1].rate);
    by_case.residual = 0.02;
    trn_samples_table c = made(rows, 2, &by_case);
    cr_expect_gt(c.rows[1].rate, a.rows[1].rate);
    trn_samples_table_free(&a);
    trn_samples_table_free(&b);
    trn_samples_table_free(&c);
}

/* ---- rates -------------------------------------------------------------------------------- */

/* derived: the same by the library's trend of the bare readings */
Test(samples_table, four_readings_are_a_trend)
{
    static const double hours[] = {52.5, 101.3, 148.9, 202.1, 251.7};
    static const double fe[] = {14.2, 29.5, 29.5, 57.8, 70.4};
    trn_sample rows[5];
    double work[20];
    trn_trend trend;
    for (size_t i = 0; i < 5; i++)
        rows[i] = iron_at(hours[i], hours[i], fe[i]);
    (void)trn_trend_theil_sen(hours, fe, 5, 0.95, work, &trend);
    trn_samples_table table = made(rows, 5, NULL);
    cr_expect(test_near(table.rows[0].rate, 100 * trend.slope, 1e-12));
    cr_expect(test_near(table.rows[0].rate_low, 100 * trend.low, 1e-12));
    cr_expect(test_near(table.rows[0].rate_high, 100 * trend.high, 1e-12));
    cr_expect(test_near(table.rows[0].hours_to_limit, (300 - 70.4) / trend.slope, 1e-12));
    trn_samples_table_free(&table);
}

/* rule: 0 when already there, blank where nothing rises */
Test(samples_table, hours_to_a_limit)
{
    trn_sample rows[] = {iron_at(50, 50, 280), iron_at(110, 110, 320)};
    trn_samples_table table = made(rows, 2, NULL);
    cr_expect_eq(table.rows[0].hours_to_limit, 0);
    trn_samples_table_free(&table);
    rows[1].content[TRN_FE] = 270;
    table = made(rows, 2, NULL);
    cr_expect_lt(table.rows[0].rate, 0);
    cr_expect(isnan(table.rows[0].hours_to_limit));
    trn_samples_table_free(&table);
}

static const char *silicon_remark(double fe, double si, double al, char *out, size_t size)
{
    trn_sample rows[2] = {sample_at(50, 50), sample_at(150, 150)};
    const double rise[TRN_ELEMENTS] = {[TRN_FE] = fe, [TRN_SI] = si, [TRN_AL] = al};
    static const size_t read[] = {TRN_FE, TRN_SI, TRN_AL};
    for (size_t i = 0; i < 3; i++) {
        if (isnan(rise[read[i]]))
            continue;
        rows[0].content[read[i]] = 8;
        rows[1].content[read[i]] = 8 + rise[read[i]];
    }
    trn_samples_table table = made(rows, 2, NULL);
    for (size_t i = 0; i < table.count; i++)
        if (table.rows[i].element == TRN_SI)
            (void)snprintf(out, size, "%s", table.rows[i].remark);
    trn_samples_table_free(&table);
    return out;
}

/* rule: silicon over aluminium from 2 to 7 */
Test(samples_table, dust_signature)
{
    static const char dust[] = "mineral dust";
    static const char alone[] = "silicon without aluminium";
    static const struct {
        double fe, si, al;
        const char *wanted;
    } cases[] = {
        {30, 12, 3, dust},  {30, 12, 6, dust}, {30, 14, 2, dust},  {30, 12, 6.1, ""},
        {30, 14, 1.9, alone}, {30, 12, 0, alone}, {30, 12, -1, alone}, {30, 12, NAN, ""},
        {-2, 12, 3, ""},    {NAN, 12, 3, ""},  {30, -4, -1, ""},   {30, 0, 0, ""},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char got[TRN_SAMPLES_TEXT];
        silicon_remark(cases[i].fe, cases[i].si, cases[i].al, got, sizeof got);
        cr_expect_str_eq(got, cases[i].wanted, "fe %g si %g al %g: `%s`", cases[i].fe, cases[i].si,
                         cases[i].al, got);
    }
}

/* ---- limits ------------------------------------------------------------------------------- */

static trn_status limits(const char *text, trn_samples_settings *settings)
{
    char path[64];
    trn_faults faults = {0};
    replay_write(text, path);
    trn_status status = trn_samples_limits_read(path, &faults, settings);
    (void)unlink(path);
    cr_expect_eq(faults.count > 0, status < 0, "%s", text);
    trn_faults_free(&faults);
    return status;
}

Test(samples_table, limits_are_inputs)
{
    trn_samples_settings s;
    trn_samples_settings_default(&s);
    cr_expect_eq(s.limit_ppm[TRN_CU], 275);
    cr_expect_eq(limits("element,limit [ppm],note\nfe,75,strict\nsi,\n", &s), TRN_OK);
    cr_expect_eq(s.limit_ppm[TRN_FE], 75);
    cr_expect(isnan(s.limit_ppm[TRN_SI]));
    cr_expect_eq(s.limit_ppm[TRN_CU], 275);
    cr_expect_eq(limits("limit [%];element\n0,02;water\n", &s), TRN_OK);
    cr_expect(test_near(s.limit_ppm[TRN_WATER], 200, 1e-12));
}

Test(samples_table, refuses_limits)
{
    static const char *const texts[] = {
        "element,limit [ppm]\nsn,30\n",      "element,limit [ppm]\nfe,0\n",
        "element,limit [ppm]\nfe,many\n",    "element,limit [ppm]\nfe,75\nfe,80\n",
        "element,limit\nfe,75\n",            "element,limit [h]\nfe,75\n",
        "element,limit [ppm],who\nfe,75,x\n", "element\nfe\n",
    };
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        trn_samples_settings s, before;
        trn_samples_settings_default(&s);
        before = s;
        cr_expect_eq(limits(texts[i], &s), TRN_E_INPUT, "not refused:\n%s", texts[i]);
        cr_expect_eq(memcmp(s.limit_ppm, before.limit_ppm, sizeof s.limit_ppm), 0, "touched");
    }
}

/* a spreadsheet runs no name */
Test(samples_table, names_are_defused)
{
    trn_sample row = iron_at(50, 50, 15);
    trn_buffer csv = {0};
    row.gearbox = "=1+1";
    trn_samples_table table = made(&row, 1, NULL);
    trn_samples_csv(&table, &csv);
    cr_expect_not_null(strstr(csv.text, "\n'=1+1,fe,1,1,"));
    trn_buffer_free(&csv);
    trn_samples_text(&table, 100, &csv);
    cr_expect_not_null(strstr(csv.text, "upper bound"));
    trn_buffer_free(&csv);
    trn_samples_table_free(&table);
}
