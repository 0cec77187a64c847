/* SPDX-License-Identifier: GPL-3.0-or-later */
/* CSV out. Expectations are derived from RFC 4180 (quoting) and from what the table reader gives
 * back. */
#include <criterion/criterion.h>
#include <locale.h>
#include <math.h>
#include <string.h>
#include <trunnion/csv_write.h>
#include <trunnion/table.h>

static void expect_text(trn_buffer *out, const char *wanted)
{
    cr_assert_not(out->failed);
    const char *got = out->text ? out->text : "";
    cr_expect_str_eq(got, wanted, "wanted `%s`, got `%s`", wanted, got);
    trn_buffer_free(out);
}

Test(csv_write, quotes_where_needed_only)
{
    trn_buffer out = {0};
    trn_csv_writer csv = {.out = &out};
    static const char *const texts[] = {"plain", "a,b", "say \"no\"", "\"", "two\nlines", "cr\rin",
                                        "a;b=2", " outer ", "", "Gr\xC3\xB6\xC3\x9F" "e", NULL};
    for (size_t i = 0; texts[i]; i++)
        trn_csv_text(&csv, texts[i]);
    trn_csv_text(&csv, NULL);
    trn_csv_end(&csv);
    expect_text(&out, "plain,\"a,b\",\"say \"\"no\"\"\",\"\"\"\",\"two\nlines\",\"cr\rin\",a;b=2,"
                      "\" outer \",,Gr\xC3\xB6\xC3\x9F" "e,\n");
}

Test(csv_write, formulas_are_defused_in_texts_only)
{
    trn_buffer out = {0};
    trn_csv_writer csv = {.out = &out};
    static const char *const texts[] = {"=1+1", "+", "-12.5", "@x", "\tx", "\rx", "=a,\"b\"",
                                        "a=b", NULL};
    for (size_t i = 0; texts[i]; i++)
        trn_csv_text(&csv, texts[i]);
    trn_csv_end(&csv);
    trn_csv_number(&csv, -12.5);
    trn_csv_word(&csv, "+");
    trn_csv_word(&csv, "-");
    trn_csv_end(&csv);
    expect_text(&out, "'=1+1,'+,'-12.5,'@x,\"'\tx\",\"'\rx\",\"'=a,\"\"b\"\"\",a=b\n-12.5,+,-\n");
}

Test(csv_write, numbers)
{
    trn_buffer out = {0};
    trn_csv_writer csv = {.out = &out};
    static const double values[] = {0, -0.0, 540, 1.0 / 3, -2.385e-9, 1e300, 123456789012.0};
    for (size_t i = 0; i < sizeof values / sizeof values[0]; i++)
        trn_csv_number(&csv, values[i]);
    trn_csv_number(&csv, NAN);
    trn_csv_number(&csv, INFINITY);
    trn_csv_blank(&csv);
    trn_csv_number(&csv, -INFINITY);
    trn_csv_end(&csv);
    expect_text(&out, "0,0,540,0.333333333333,-2.385e-09,1e+300,123456789012,,inf,,-inf\n");
}

Test(csv_write, lines_that_would_be_lost)
{
    trn_buffer out = {0};
    trn_csv_writer csv = {.out = &out};
    trn_csv_text(&csv, "#1");
    trn_csv_text(&csv, "#2");
    trn_csv_end(&csv);
    trn_csv_blank(&csv);
    trn_csv_end(&csv);
    trn_csv_end(&csv);
    trn_csv_blank(&csv);
    trn_csv_text(&csv, "x");
    trn_csv_end(&csv);
    expect_text(&out, "\"#1\",#2\n\"\"\n\"\"\n,x\n");
}

Test(csv_write, reader_gives_it_back)
{
    static const char *const texts[] = {"main", "a,b;c\td", "\"quoted\" \"\"", "two\n\nlines\n#x",
                                        "#1", "x y", "\xE2\x88\x92 5", "1,5", "\"", "\",\""};
    enum { N = sizeof texts / sizeof texts[0] };
    trn_buffer out = {0};
    trn_csv_writer csv = {.out = &out};
    for (size_t i = 0; i < N; i++) {
        char name[8] = {'c', (char)('0' + i)};
        trn_csv_word(&csv, name);
    }
    trn_csv_word(&csv, "x [mm]");
    trn_csv_end(&csv);
    for (size_t row = 0; row < N; row++) { /* each text once in each column */
        for (size_t i = 0; i < N; i++)
            trn_csv_text(&csv, texts[(row + i) % N]);
        trn_csv_number(&csv, -0.125 * (double)row);
        trn_csv_end(&csv);
    }
    trn_faults faults = {0};
    trn_sheet *s = NULL;
    trn_status status = trn_sheet_parse("t", out.text, out.length, &faults, &s);
    cr_assert_eq(status, TRN_OK, "%s", faults.kept ? faults.list[0].text : "");
    cr_assert_eq(s->rows, N);
    for (size_t row = 0; row < N; row++) {
        double x = 1;
        for (size_t i = 0; i < N; i++)
            cr_expect_str_eq(trn_sheet_cell(s, row, i), texts[(row + i) % N]);
        cr_expect_eq(trn_sheet_number(s, trn_sheet_cell(s, row, N), &x), TRN_OK);
        cr_expect_eq(x, -0.125 * (double)row);
    }
    trn_sheet_free(s);
    trn_buffer_free(&out);
}

Test(csv_write, comma_locale)
{
    if (!setlocale(LC_ALL, "de_DE.UTF-8") && !setlocale(LC_ALL, "de_DE.utf8"))
        cr_skip_test("no locale with a decimal comma is installed");
    trn_buffer out = {0};
    trn_csv_writer csv = {.out = &out};
    trn_csv_number(&csv, 2.385);
    trn_csv_end(&csv);
    expect_text(&out, "2.385\n");
}
