/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table reader: dialects, faults with their lines, and the same grid however the bytes are
 * cut. Expectations are derived from RFC 4180 and the rules in table.h. */
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

/* Parses a text that must be refused; the first fault as `file:line: column ...`. */
static void bad(const char *text, char *said, size_t size)
{
    trn_faults faults = {0};
    trn_status status = TRN_OK;
    trn_sheet *sheet = parse_n(text, strlen(text), &faults, &status);
    cr_expect_eq(status, TRN_E_INPUT, "`%s` was not refused", text);
    cr_expect_null(sheet);
    trn_buffer out = {0};
    if (faults.kept)
        trn_fault_text(&faults.list[0], &out);
    (void)snprintf(said, size, "%s", out.text ? out.text : "");
    trn_buffer_free(&out);
    trn_faults_free(&faults);
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

/* ---- the grid ----------------------------------------------------------------------------- */

Test(sheet, reads_cells_lines_and_comments)
{
    trn_sheet *s = good("# title, \"of\" it\n\nshaft,power [kW], note\n"
                        "main , 41.5 ,\"a \"\"b\"\", c\"\n   \n#x\n ,,\n"
                        "\"two\nlines\n# no comment\",3\n  # also a comment, \"\ntail,\"  7 \",\n");
    cr_expect_eq(s->columns, 3);
    cr_expect_eq(s->rows, 3);
    cr_expect_eq(s->header_line, 3);
    cr_expect_str_eq(s->header[2], "note");
    expect_cell(s, 0, 0, "main");
    expect_cell(s, 0, 1, "41.5");
    expect_cell(s, 0, 2, "a \"b\", c");
    expect_cell(s, 1, 0, "two\nlines\n# no comment");
    expect_cell(s, 1, 2, "");
    expect_cell(s, 2, 1, "7");
    cr_expect_eq(s->line[0], 4);
    cr_expect_eq(s->line[1], 8);
    cr_expect_eq(s->line[2], 12, "got %zu", s->line[2]);
    trn_sheet_free(s);
}

Test(sheet, drops_trailing_empty_columns_and_rows)
{
    trn_sheet *s = good("a,b,,,\n1,2,,,\n3,,,\n,,,,,,,,\n");
    cr_expect_eq(s->columns, 2);
    cr_expect_eq(s->rows, 2);
    expect_cell(s, 1, 1, "");
    trn_sheet_free(s);
    s = good("a,b\n1,2,\n3,4,\n"); /* the habit of whoever wrote it */
    cr_expect_eq(s->columns, 2);
    trn_sheet_free(s);
}

Test(sheet, takes_a_comment_that_a_spreadsheet_quoted)
{
    trn_sheet *s = good("\"# cutter, rebuilt \"\"2019\"\"\",,\na,b,c\n\"# said, twice\",,\n"
                        "\"#1\",2,3\n");
    cr_expect_eq(s->header_line, 2);
    cr_expect_eq(s->rows, 1);
    expect_cell(s, 0, 0, "#1"); /* data stand beside it: no comment */
    trn_sheet_free(s);
}

Test(sheet, header_without_rows_and_single_column)
{
    trn_sheet *s = good("a,b\n");
    cr_expect_eq(s->rows, 0);
    trn_sheet_free(s);
    s = good("component\ncentre\nmain");
    cr_expect_eq(s->columns, 1);
    cr_expect_eq(s->rows, 2);
    expect_cell(s, 1, 0, "main");
    trn_sheet_free(s);
}

Test(sheet, cells_hold_the_other_separators)
{
    /* check files: pairs parted by semicolons, lists parted by slashes */
    trn_sheet *s = good("id,inputs\nx1,a=1; b=2; c=10/32/56\nx2,a=1;b=2;c=3;d=4\n");
    cr_expect_eq(s->separator, ',');
    expect_cell(s, 0, 1, "a=1; b=2; c=10/32/56");
    expect_cell(s, 1, 1, "a=1;b=2;c=3;d=4");
    trn_sheet_free(s);
    s = good("id;inputs;note, of mine\nx1;\"a=1; b=2\";3,5/4,25\n");
    cr_expect_eq(s->separator, ';');
    expect_cell(s, 0, 1, "a=1; b=2");
    expect_cell(s, 0, 2, "3,5/4,25");
    trn_sheet_free(s);
    s = good("id,inputs\na=1;b=2\n"); /* a row that ends early is no header of semicolons */
    expect_cell(s, 0, 0, "a=1;b=2");
    trn_sheet_free(s);
}

/* ---- dialects: encoding x line end x separator x decimal sign -------------------------------- */

static size_t encode(const char *text, int encoding, char *out)
{
    static const char marks[4][4] = {"", "\xEF\xBB\xBF", "\xFF\xFE", "\xFE\xFF"};
    size_t n = strlen(marks[encoding]);
    memcpy(out, marks[encoding], n);
    for (const unsigned char *p = (const unsigned char *)text; *p; p++) {
        unsigned c = *p;
        if (encoding < 2) {
            out[n++] = (char)c;
            continue;
        }
        if (c >= 0xE0) {
            c = (c & 0xFu) << 12 | (p[1] & 0x3Fu) << 6 | (p[2] & 0x3Fu);
            p += 2;
        } else if (c >= 0xC0) {
            c = (c & 0x1Fu) << 6 | (p[1] & 0x3Fu);
            p += 1;
        }
        out[n++] = (char)(encoding == 2 ? c & 0xFF : c >> 8);
        out[n++] = (char)(encoding == 2 ? c >> 8 : c & 0xFF);
    }
    return n;
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

Test(sheet, dialect_matrix)
{
    static const char separators[] = {',', ';', '\t'};
    static const char *const line_ends[] = {"\n", "\r\n", "\r"};
    char text[1024];
    char bytes[2048];
    for (size_t s = 0; s < 3; s++)
        for (size_t l = 0; l < 3; l++)
            for (int d = 0; d < 2; d++)
                for (int e = 0; e < 4; e++) {
                    char decimal = d ? ',' : '.';
                    spell(matrix_text, separators[s], decimal, line_ends[l], text);
                    size_t n = encode(text, e, bytes);
                    trn_sheet *sheet = good_n(bytes, n);
                    check_matrix(sheet, separators[s], decimal);
                    trn_sheet_free(sheet);
                }
}

Test(sheet, separator_hint)
{
    trn_sheet *s = good("sep=;\nnote, long, and, long;b\n1;2\n");
    cr_expect_eq(s->separator, ';');
    cr_expect_eq(s->columns, 2);
    cr_expect_eq(s->header_line, 2);
    cr_expect_eq(s->line[0], 3);
    trn_sheet_free(s);
    s = good("\xEF\xBB\xBF\"sep=,\"\r\na,b;c;d\r\n1,2\r\n");
    cr_expect_eq(s->separator, ',');
    cr_expect_str_eq(s->header[1], "b;c;d");
    trn_sheet_free(s);
    s = good("sep=\t\na\tb\n1\t2\n");
    cr_expect_eq(s->separator, '\t');
    trn_sheet_free(s);
}

/* ---- decimal sign ------------------------------------------------------------------------- */

Test(sheet, decimal_sign_is_settled_by_the_whole_file)
{
    static const struct {
        const char *text;
        char decimal;
        double first; /* of row 0, column 1 */
    } rows[] = {
        {"a;b [mm]\nx;1.234\ny;0.9\n", '.', 1.234},
        {"a;b [mm]\nx;1.234\ny;0,9\n", ',', 1234},
        {"a;b [mm];c [mm]\nx;1.234;12,5\n", ',', 1234},
        {"a;b [mm];c\nx;1.234;12,5 kW\n", ',', 1234},
        {"a;b [mm];c\nx;1.234;x1,2\n", ',', 1234},
        {"a;b [mm];c\nx;1.234;30/32,5/40\n", ',', 1234},
        {"a;b [mm]\nx;1.234.567\n", ',', 1234567},
        {"a;b [mm]\nx;1.234,5\n", ',', 1234.5},
        {"a;b [mm]\nx;1,234.5\n", '.', 1234.5},
        {"a;b [mm]\nx;1'234.5\n", '.', 1234.5},
        {"a;b [mm]\nx;1\xE2\x80\x99" "234,5\n", ',', 1234.5},
        {"a;b [mm]\nx;1\xE2\x80\xAF" "234,567\n", ',', 1234.567},
        {"a;b [mm]\nx;1.234e2\n", '.', 123.4},
        {"a;b [mm]\nx;1234.567\n", '.', 1234.567},
        {"a;b [mm]\nx;19,050\n", ',', 19.05}, /* the semicolon speaks for the comma */
        {"a;b [mm]\nx;12\n", ',', 12},
        {"a\tb [mm]\nx\t12\n", '.', 12},
        {"a,b [mm]\nx,1.234\n", '.', 1.234},
        {"a,b [mm]\nx,\"1,234\"\ny,2.5\n", '.', 1234},
        {"a,b [mm]\nx,\"1,234\"\ny,\"2,5\"\n", ',', 1.234},
        /* names such as 1.1 are no evidence against columns with a unit */
        {"a;b [mm]\n1.1;12,5\n1.2;3\n", ',', 12.5},
        {"a;b [mm];note\n1;12,5;2.5\n", ',', 12.5},
        {"quantity;value\ndate;12.05.2025\nrated_power;45,5\n", ',', NAN},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        trn_sheet *s = good(rows[i].text);
        cr_expect_eq(s->decimal, rows[i].decimal, "`%s`: %c", rows[i].text, s->decimal);
        if (!isnan(rows[i].first))
            expect_number(s, 0, 1, rows[i].first);
        trn_sheet_free(s);
    }
}

Test(sheet, unclear_decimal_sign_names_both_readings)
{
    char said[512];
    bad("a;b [mm]\nx;12\ny;1.234\n", said, sizeof said);
    cr_expect(strncmp(said, "t.csv:3: column b [mm]: `1.234` is 1.234 with a decimal point and "
                            "1234 with a decimal comma", 84) == 0, "%s", said);
    bad("a\tb [mm]\nx\t1.234\n", said, sizeof said);
    cr_expect_not_null(strstr(said, "1234"), "%s", said);
    bad("a,b [mm]\nx,\"1,234\"\ny,1.234\n", said, sizeof said);
    cr_expect_not_null(strstr(said, "`1,234` is 1234 with a decimal point and 1.234"), "%s", said);
    bad("a;b [mm];c [mm]\nx;1.5;3\ny;2;2,5\n", said, sizeof said);
    cr_expect_str_eq(said, "t.csv:3: column c [mm]: `2,5` has a decimal comma, but `1.5` in line 2 "
                           "has a decimal point; a file has one decimal sign throughout");
}

static void numbers(char decimal, const char *const *texts, const double *values)
{
    trn_sheet s = {.decimal = decimal};
    for (size_t i = 0; texts[i]; i++) {
        double x = -7.25;
        trn_status status = trn_sheet_number(&s, texts[i], &x);
        if (isnan(values[i]))
            cr_expect(status == TRN_E_NUMBER && x == -7.25, "`%s` under %c gave %.15g", texts[i],
                      decimal, x);
        else
            cr_expect(status == TRN_OK && x == values[i], "`%s` under %c: wanted %.15g, got %.15g",
                      texts[i], decimal, values[i], x);
    }
}

Test(sheet, numbers_with_a_point)
{
    static const char *const texts[] = {
        "12.5", " 12.5 ", "+3", ".5", "1e3", "1.5E-2", "1,234", "1,234,567.25", "-1'234",
        "\xE2\x88\x92" "4", "1e\xE2\x88\x92" "3", "1\xC2\xA0" "234\xC2\xA0" "567", "12\xC2\xA0",
        /* refused */
        "", "-", "1,5", "1,23", "1,2345", "12,34,567", "1234,567", "0,125", "1,234'567", "1.2.3",
        "12 kW", "1 234", "nan", "inf", "0x10", "1e", "1e999", "12\xC2\xA0" "34", "1,", "--1",
        NULL};
    static const double values[] = {12.5, 12.5, 3, .5, 1000, .015, 1234, 1234567.25, -1234, -4,
                                    .001, 1234567, 12,
                                    NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN,
                                    NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    numbers('.', texts, values);
}

Test(sheet, numbers_with_a_comma)
{
    static const char *const texts[] = {"12,5", ",5", "1,5e3", "1.234,5", "1.234", "1'234,5",
                                        "1.234.567",
                                        /* refused */
                                        "1.5", "12.34", "0.125", "1,2,3", "1,234.5", "1.5e3", NULL};
    static const double values[] = {12.5, .5, 1500, 1234.5, 1234, 1234.5, 1234567,
                                    NAN, NAN, NAN, NAN, NAN, NAN};
    numbers(',', texts, values);
}

Test(sheet, number_at_the_start)
{
    trn_sheet s = {.decimal = ','};
    double x = 0;
    const char *end = NULL;
    cr_expect_eq(trn_sheet_number_start(&s, "1.234,5 kW", &x, &end), TRN_OK);
    cr_expect(x == 1234.5 && strcmp(end, " kW") == 0);
    cr_expect_eq(trn_sheet_number_start(&s, "35,5/40", &x, &end), TRN_OK);
    cr_expect(x == 35.5 && strcmp(end, "/40") == 0);
    cr_expect_eq(trn_sheet_number_start(&s, "12\xC2\xA0kW", &x, &end), TRN_OK);
    cr_expect(x == 12 && strcmp(end, "\xC2\xA0kW") == 0);
    x = 4;
    cr_expect_eq(trn_sheet_number_start(&s, "1.5 kW", &x, &end), TRN_E_NUMBER);
    cr_expect_eq(x, 4.0);
}

/* ---- chunks ------------------------------------------------------------------------------- */

static trn_status in_pieces(const char *bytes, size_t size, size_t chunk, size_t piece,
                            trn_faults *faults, trn_sheet **out)
{
    trn_reader *reader = trn_reader_open("t.csv", faults, piece);
    cr_assert_not_null(reader);
    for (size_t i = 0; i < size; i += chunk)
        if (trn_reader_push(reader, bytes + i, size - i < chunk ? size - i : chunk) < 0)
            break;
    return trn_reader_close(reader, out);
}

static bool same_sheet(const trn_sheet *a, const trn_sheet *b)
{
    if (!a || !b)
        return a == b;
    if (a->columns != b->columns || a->rows != b->rows || a->separator != b->separator ||
        a->decimal != b->decimal || a->header_line != b->header_line)
        return false;
    for (size_t c = 0; c < a->columns; c++)
        if (strcmp(a->header[c], b->header[c]) != 0)
            return false;
    for (size_t r = 0; r < a->rows; r++) {
        if (a->line[r] != b->line[r])
            return false;
        for (size_t c = 0; c < a->columns; c++)
            if (strcmp(trn_sheet_cell(a, r, c), trn_sheet_cell(b, r, c)) != 0)
                return false;
    }
    return true;
}

static bool same_faults(const trn_faults *a, const trn_faults *b)
{
    if (a->count != b->count || a->kept != b->kept)
        return false;
    for (size_t i = 0; i < a->kept; i++)
        if (a->list[i].line != b->list[i].line || strcmp(a->list[i].text, b->list[i].text) != 0)
            return false;
    return true;
}

/* Every size of chunk for small inputs, a spread of them for larger ones. */
static void cut_everywhere(const char *what, const char *bytes, size_t size)
{
    trn_faults whole = {0};
    trn_sheet *wanted = NULL;
    trn_status status = trn_sheet_parse("t.csv", bytes, size, &whole, &wanted);
    for (size_t chunk = 1; chunk <= size; chunk += size < 300 ? 1 : chunk < 9 ? 1 : size / 7) {
        trn_faults faults = {0};
        trn_sheet *got = NULL;
        trn_status s = in_pieces(bytes, size, chunk, chunk, &faults, &got);
        cr_expect_eq(s, status, "%s in chunks of %zu", what, chunk);
        cr_expect(same_sheet(wanted, got), "%s in chunks of %zu: another grid", what, chunk);
        cr_expect(same_faults(&whole, &faults), "%s in chunks of %zu: other faults", what, chunk);
        trn_sheet_free(got);
        trn_faults_free(&faults);
    }
    trn_sheet_free(wanted);
    trn_faults_free(&whole);
}

static char *slurp(const char *path, size_t *size)
{
    FILE *file = fopen(path, "rb");
    cr_assert_not_null(file, "%s", path);
    trn_buffer b = {0};
    char piece[4096];
    size_t n = 0;
    while ((n = fread(piece, 1, sizeof piece, file)) > 0)
        trn_buffer_add_n(&b, piece, n);
    trn_buffer_add_n(&b, "", 1);
    (void)fclose(file);
    cr_assert_not(b.failed);
    *size = b.length - 1;
    return b.text;
}

static void cut_folder(const char *folder)
{
    char path[512];
    (void)snprintf(path, sizeof path, "%s/%s", test_root(), folder);
    DIR *dir = opendir(path);
    cr_assert_not_null(dir, "%s", path);
    size_t files = 0;
    for (struct dirent *d; (d = readdir(dir)) != NULL;) {
        if (!strstr(d->d_name, ".csv"))
            continue;
        char file[1024];
        (void)snprintf(file, sizeof file, "%s/%s", path, d->d_name);
        size_t size = 0;
        char *bytes = slurp(file, &size);
        cut_everywhere(d->d_name, bytes, size);
        free(bytes);
        files++;
    }
    (void)closedir(dir);
    cr_expect_gt(files, 3);
}

Test(sheet, chunks_of_published_files) { cut_folder("published"); }
Test(sheet, chunks_of_malformed_files) { cut_folder("bad/sheet"); }

Test(sheet, chunks_of_every_dialect)
{
    static const char separators[] = {',', ';', '\t'};
    char text[1024];
    char bytes[2048];
    for (size_t s = 0; s < 3; s++)
        for (int e = 0; e < 4; e++) {
            spell(matrix_text, separators[s], s == 1 ? ',' : '.', e % 2 ? "\r\n" : "\n", text);
            size_t n = encode(text, e, bytes);
            cut_everywhere("dialect", bytes, n);
        }
    static const char quotes[] = "a,b\n\"\"\"x\"\"\",\"y\"\"\"\n\"\n#\r\n\",\" \"\n,\"\"\n";
    cut_everywhere("quotes", quotes, sizeof quotes - 1);
    static const char clef[] = "\xFF\xFE" "a\0\n\0\x34\xD8\x1E\xDD\n"; /* U+1D11E, then a half */
    cut_everywhere("surrogates", clef, sizeof clef - 1);
}
