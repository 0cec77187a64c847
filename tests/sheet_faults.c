/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table reader: malformed files, sizes at the limit, the locale. */
#include <criterion/criterion.h>
#include <dirent.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <trunnion/prove.h>

#include "../src/table/reader.h"
#include "support.h"

static trn_sheet *parse_n(const char *bytes, size_t size, trn_faults *faults, trn_status *status)
{
    trn_sheet *sheet = NULL;
    *status = trn_sheet_parse("t.csv", bytes, size, faults, &sheet);
    return sheet;
}

/* Parses a text that must be good. */
static trn_sheet *good_n(const char *bytes, size_t size)
{
    trn_faults faults = {0};
    trn_status status = TRN_OK;
    trn_sheet *sheet = parse_n(bytes, size, &faults, &status);
    cr_assert_eq(status, TRN_OK, "`%.60s`: %s", bytes,
                 faults.kept ? faults.list[0].text : trn_status_text(status));
    cr_assert_eq(faults.count, 0);
    cr_assert_not_null(sheet);
    return sheet;
}

static trn_sheet *good(const char *text)
{
    return good_n(text, strlen(text));
}

static void expect_cell(const trn_sheet *s, size_t row, size_t column, const char *wanted)
{
    cr_assert_lt(row, s->rows);
    cr_assert_lt(column, s->columns);
    const char *got = trn_sheet_cell(s, row, column);
    cr_expect_str_eq(got, wanted, "row %zu column %zu: wanted `%s`, got `%s`", row, column, wanted,
                     got);
}

static void expect_number(const trn_sheet *s, size_t row, size_t column, double wanted)
{
    double got = NAN;
    const char *text = trn_sheet_cell(s, row, column);
    trn_status status = trn_sheet_number(s, text, &got);
    cr_expect(status == TRN_OK && got == wanted, "`%s`: wanted %.15g, got %.15g (%s)", text, wanted,
              got, trn_status_text(status));
}

/* '|' becomes the separator, '~' the decimal sign, '\n' the line end. */
static void spell(const char *text, char separator, char decimal, const char *line_end, char *out)
{
    for (; *text; text++) {
        if (*text == '\n') {
            size_t n = strlen(line_end);
            memcpy(out, line_end, n);
            out += n;
        } else {
            *out++ = *text == '|' ? separator : *text == '~' ? decimal : *text;
        }
    }
    *out = '\0';
}

static const char matrix_text[] = "# Gr\xC3\xB6\xC3\x9F" "e\nshaft|power [kW]|angle [deg]|note\n"
                                  "main|\"1\xC2\xA0" "234~5\"|\"\xE2\x88\x92" "12~75\"|\n\n"
                                  "w\xE2\x82\xACng|\"0~125\"|12|\"two\nlines\"\ntail|7|8|\n";

static void check_matrix(const trn_sheet *s, char separator, char decimal)
{
    cr_expect_eq(s->separator, separator, "wanted %d, got %d", separator, s->separator);
    cr_expect_eq(s->decimal, decimal, "wanted %c, got %c", decimal, s->decimal);
    cr_assert_eq(s->columns, 4);
    cr_assert_eq(s->rows, 3);
    cr_expect_eq(s->header_line, 2);
    cr_expect(s->line[0] == 3 && s->line[1] == 5 && s->line[2] == 7);
    expect_number(s, 0, 1, 1234.5);
    expect_number(s, 0, 2, -12.75);
    expect_number(s, 1, 1, 0.125);
    expect_cell(s, 1, 0, "w\xE2\x82\xACng");
    expect_cell(s, 1, 3, "two\nlines");
}

/* ---- malformed files: one fault each ------------------------------------------------------- */

static const struct malformed {
    const char *file;
    size_t line;
    const char *text; /* part of the message */
} malformed[] = {
    {"empty", 0, "the table is empty: not even a header line"},
    {"only_comments", 0, "the table is empty: not even a header line"},
    {"title_line", 1, "looks like a title"},
    {"title_filled_up", 1, "looks like a title (1 cell above a line of 3)"},
    {"title_with_comma", 1, "looks like a title"},
    {"duplicate_name", 1, "the name is there twice, as column 2 and column 4"},
    {"column_without_name", 2, "column 2 has no name"},
    {"too_many_cells", 5, "4 cells, but the header in line 1 has 3; the first too many is `12`"},
    {"decimal_comma_before_an_empty_note", 3, "more cells than the header in line 1, the last of "
                                              "them empty: a number with a decimal comma"},
    {"decimal_comma_under_comma", 3, "4 cells, but the header in line 1 has 3"},
    {"quote_inside", 3, "a misplaced quote; a cell with quotes"},
    {"quote_then_text", 2, "a misplaced quote; a cell with quotes"},
    {"quote_not_closed", 3, "a quoted cell begins in this line and is not closed"},
    {"quote_closed_too_late", 4, "the quoted cell before it began in line 2"},
    {"nul_byte", 3, "a NUL byte"},
    {"utf16_without_mark", 1, "a NUL byte"},
    {"latin1", 3, "not valid UTF-8 (byte 0xFC)"},
    {"overlong_utf8", 2, "not valid UTF-8 (byte 0xC0)"},
    {"surrogate_in_utf8", 2, "not valid UTF-8 (byte 0xED)"},
    {"cut_within_character", 3, "the file ends within a character"},
    {"utf16_half_character", 2, "the file ends within a character"},
    {"utf16_lone_surrogate", 2, "not valid UTF-16LE"},
    {"separator_unclear", 1, "as many of comma as of semicolon"},
    {"separator_hint_unknown", 1, "sep=|: cells are parted by"},
    {"point_alone_under_semicolon", 2, "`1.234` is 1.234 with a decimal point and 1234 with"},
    {"comma_alone_under_tab", 2, "`12,345` is 12345 with a decimal point and 12.345 with"},
    {"thousands_under_comma", 2, "`41,500` is 41500 with a decimal point and 41.500 with"},
    {"both_decimal_signs", 3, "`20.5` has a decimal point, but `41,5` in line 2 has a decimal comma"},
    {"unclear_in_list", 2, "`35/40.125` is 40.125 with a decimal point and 40125 with"},
    {"too_many_columns", 1, "more than 4096 cells in a line"},
};

Test(sheet, malformed_files)
{
    for (size_t i = 0; i < sizeof malformed / sizeof malformed[0]; i++) {
        const struct malformed *m = &malformed[i];
        char path[512];
        (void)snprintf(path, sizeof path, "%s/bad/sheet/%s.csv", test_root(), m->file);
        trn_faults faults = {0};
        trn_sheet *sheet = NULL;
        trn_status status = trn_sheet_read(path, &faults, &sheet);
        cr_expect_eq(status, TRN_E_INPUT, "%s: %d", m->file, status);
        cr_expect_null(sheet, "%s", m->file);
        cr_expect_eq(faults.count, 1, "%s: %zu faults", m->file, faults.count);
        if (faults.kept > 0) {
            const trn_fault *f = &faults.list[0];
            cr_expect_str_eq(f->file, path);
            cr_expect_eq(f->line, m->line, "%s: line %zu", m->file, f->line);
            cr_expect_not_null(strstr(f->text, m->text), "%s: `%s`", m->file, f->text);
        }
        trn_faults_free(&faults);
    }
}

Test(sheet, file_that_is_not_there)
{
    trn_faults faults = {0};
    trn_sheet *sheet = NULL;
    cr_expect_eq(trn_sheet_read_as("no/such.csv", "such.csv", &faults, &sheet), TRN_E_IO);
    cr_assert_eq(faults.kept, 1);
    cr_expect_str_eq(faults.list[0].file, "such.csv");
    trn_faults_free(&faults);
    cr_expect_eq(trn_sheet_read("no/such.csv", &faults, &sheet), TRN_E_IO);
    cr_expect_null(sheet);
    cr_assert_eq(faults.kept, 1);
    cr_expect_str_eq(faults.list[0].file, "no/such.csv");
    cr_expect_str_eq(faults.list[0].text, "No such file or directory");
    trn_faults_free(&faults);
    cr_expect_eq(trn_sheet_read(".", &faults, &sheet), TRN_E_IO);
    trn_faults_free(&faults);
}

Test(sheet, several_faults_in_one_run)
{
    trn_buffer text = {0};
    trn_buffer_add(&text, "a,b,c\n1,2,3\n");
    for (int i = 0; i < 30; i++)
        trn_buffer_add(&text, "1,2,3,4\n");
    trn_faults faults = {0};
    trn_status status = TRN_OK;
    (void)parse_n(text.text, text.length, &faults, &status);
    cr_expect_eq(status, TRN_E_INPUT);
    cr_expect_eq(faults.kept, TRN_FAULTS_KEPT);
    cr_expect_eq(faults.count, 30);
    cr_expect_eq(faults.list[19].line, 22);
    trn_faults_free(&faults);
    trn_buffer_free(&text);
}

Test(sheet, sizes_at_the_limit)
{
    size_t n = TRN_CELL_MAX;
    char *text = malloc(n + 16);
    cr_assert_not_null(text);
    memcpy(text, "a,b\n1,", 6);
    memset(text + 6, 'x', n);
    text[6 + n] = '\n';
    trn_sheet *s = good_n(text, n + 7);
    cr_expect_eq(strlen(trn_sheet_cell(s, 0, 1)), n);
    trn_sheet_free(s);

    memcpy(text + 6 + n, "x,3\n", 4);
    trn_faults faults = {0};
    trn_status status = TRN_OK;
    cr_expect_null(parse_n(text, n + 10, &faults, &status));
    cr_assert_eq(faults.kept, 1);
    cr_expect_eq(faults.list[0].line, 2);
    cr_expect_not_null(strstr(faults.list[0].text, "a cell is longer than 1 MiB"));
    trn_faults_free(&faults);
    free(text);

    size_t size = (size_t)TRN_FILE_MAX + 1;
    char *large = malloc(size);
    cr_assert_not_null(large);
    memset(large, '\n', size);
    (void)parse_n(large, size, &faults, &status);
    cr_expect_eq(status, TRN_E_INPUT);
    cr_assert_eq(faults.kept, 1);
    cr_expect_not_null(strstr(faults.list[0].text, "larger than 64 MiB"));
    trn_faults_free(&faults);
    free(large);
}

Test(sheet, faults_are_printable)
{
    trn_faults faults = {0};
    trn_fault_add(&faults, "a\nb.csv", 3, "c\x1B[31m", "`%.5s` \xC3\xA9", "abcd\xC3\xA9");
    cr_assert_eq(faults.kept, 1);
    trn_buffer out = {0};
    trn_fault_text(&faults.list[0], &out);
    cr_expect_str_eq(out.text, "a b.csv:3: column c [31m: `abcd` \xC3\xA9");
    trn_buffer_free(&out);
    trn_faults_free(&faults);
}

/* ---- locale, speed ------------------------------------------------------------------------ */

Test(sheet, comma_locale)
{
    static const char *const names[] = {"de_DE.UTF-8", "de_DE.utf8", "de_DE", "fr_FR.UTF-8",
                                        "nl_NL.UTF-8"};
    const char *set = NULL;
    for (size_t i = 0; !set && i < sizeof names / sizeof names[0]; i++)
        set = setlocale(LC_ALL, names[i]);
    if (!set)
        cr_skip_test("no locale with a decimal comma is installed");
    cr_expect_eq(localeconv()->decimal_point[0], ',');
    char text[1024];
    for (int d = 0; d < 2; d++) {
        spell(matrix_text, ';', d ? ',' : '.', "\n", text);
        trn_sheet *s = good(text);
        check_matrix(s, ';', d ? ',' : '.');
        trn_sheet_free(s);
    }
}

/* 20 000 rows as check files have them, in a second on a busy machine. */
Test(sheet, reads_check_rows_fast_enough)
{
    trn_buffer text = {0};
    trn_buffer_add(&text, "id,formula,inputs,output,expected,tolerance,standing,source\n");
    for (int i = 0; i < 20000; i++)
        trn_buffer_print(&text, "j-%d,joint.ratio,beta=12.5 deg; theta=30,ratio,1.0119,1e-4,"
                                "derived,\"arithmetic, by hand\"\n", i);
    clock_t before = clock();
    trn_sheet *s = good_n(text.text, text.length);
    double seconds = (double)(clock() - before) / CLOCKS_PER_SEC;
    cr_expect_eq(s->rows, 20000);
    cr_expect_lt(seconds, 1.0, "%.3f s", seconds);
    trn_sheet_free(s);
    trn_buffer_free(&text);
}
