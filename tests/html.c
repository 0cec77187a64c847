/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page writer: nothing of the user's is ever mark-up. Checks are derived from the rules of
 * HTML and CSS (where a text, an attribute and a string end) unless another source is named. */
#include <criterion/criterion.h>
#include <string.h>
#include <trunnion/draws.h>
#include <trunnion/study.h>

#include "../src/present/html.h"
#include "support.h"

static const char *escaped(const char *text, trn_buffer *out)
{
    trn_buffer_free(out);
    trn_html_escape(text, out);
    return out->text ? out->text : "";
}

Test(html, escapes_hostile_text)
{
    static const char *const rows[][2] = {
        {"plain 12.5 kW", "plain 12.5 kW"},
        {"", ""},
        {"<script>alert(1)</script>", "&lt;script&gt;alert(1)&lt;/script&gt;"},
        {"\"><img src=x onerror='1'>", "&quot;&gt;&lt;img src=x onerror=&#39;1&#39;&gt;"},
        {"R&D &amp; co", "R&amp;D &amp;amp; co"},
        {"two\nlines\tand\rmore", "two lines and more"},
        {"bell\a, escape\033[31m", "bell[U+0007], escape[U+001B][31m"},
        {"delete\x7f", "delete[U+007F]"},
        {"C1 \xc2\x85 end", "C1 [U+0085] end"},
        {"left box\xe2\x80\xae" "xob thgir", "left box[U+202E]xob thgir"},
        {"\xe2\x81\xa6isolate\xe2\x81\xa9", "[U+2066]isolate[U+2069]"},
        {"mark\xe2\x80\x8f\xd8\x9c", "mark[U+200F][U+061C]"},
        {"no\xe2\x80\x8bwidth \xef\xbb\xbf", "no[U+200B]width [U+FEFF]"},
        {"tag \xf3\xa0\x81\x81", "tag [U+E0041]"},
        {"gr\xc3\xbc\xc3\x9f \xe6\xb2\xb9 \xf0\x9f\x94\xa9", "gr\xc3\xbc\xc3\x9f \xe6\xb2\xb9 \xf0\x9f\x94\xa9"},
        {"\xd7\xa9\xd7\x9e\xd7\x9f", "\xd7\xa9\xd7\x9e\xd7\x9f"}, /* letters stay letters */
        {"cut \xe2\x80", "cut [0xE2][0x80]"},
        {"overlong \xc0\xbc", "overlong [0xC0][0xBC]"},
        {"surrogate \xed\xa0\x80", "surrogate [0xED][0xA0][0x80]"},
        {"beyond \xf4\x90\x80\x80", "beyond [0xF4][0x90][0x80][0x80]"},
        {"stray \x9f<", "stray [0x9F]&lt;"},
    };
    trn_buffer out = {0};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const char *got = escaped(rows[i][0], &out);
        cr_expect(strcmp(got, rows[i][1]) == 0, "row %zu: wanted %s, got %s", i, rows[i][1], got);
    }
    trn_buffer_free(&out);
}

/* No byte of the 256, alone or before a `<`, gets a `<`, a quote or a control byte through. */
Test(html, no_byte_breaks_out)
{
    trn_buffer out = {0};
    for (int a = 1; a < 256; a++)
        for (int b = 1; b < 256; b++) {
            char text[4] = {(char)a, (char)b, '<', 0};
            const char *got = escaped(text, &out);
            cr_expect(strpbrk(got, "<>\"'") == NULL, "%02x %02x: %s", (unsigned)a, (unsigned)b,
                      got);
            for (const unsigned char *p = (const unsigned char *)got; *p; p++)
                cr_expect(*p >= 0x20 && *p != 0x7f, "%02x %02x", (unsigned)a, (unsigned)b);
        }
    trn_buffer_free(&out);
}

static size_t times(const char *text, const char *word)
{
    size_t n = 0;
    for (const char *p = strstr(text, word); p; p = strstr(p + 1, word))
        n++;
    return n;
}

static const char hostile[] = "</style><script>\"'}*{x:y}\\ \xe2\x80\xae&";

Test(html, hostile_words_at_every_place)
{
    trn_buffer out = {0};
    trn_html page;
    trn_html_column columns[] = {{hostile, false}, {hostile, true}};
    trn_html_pair pairs[] = {{hostile, hostile}, {"left out", ""}, {"left out", NULL}};
    const char *texts[] = {hostile, hostile};
    trn_html_begin(&page, &(trn_html_page){hostile, hostile, hostile, NULL}, &out);
    trn_html_section_begin(&page, hostile, hostile);
    trn_html_subheading(&page, hostile);
    trn_html_paragraph(&page, "%s", hostile);
    trn_html_caution(&page, "%s", hostile);
    trn_html_paragraph_of(&page, hostile, hostile);
    trn_html_list(&page, false, texts, 2);
    trn_html_link(&page, "javascript:alert(1)", hostile);
    trn_html_link(&page, hostile, hostile);
    trn_html_table_begin(&page, hostile, columns, 2);
    trn_html_group(&page, hostile);
    trn_html_row_begin(&page);
    trn_html_cell(&page, hostile);
    trn_html_cell_box(&page, hostile);
    trn_html_row_end(&page);
    trn_html_table_end(&page);
    trn_html_pairs(&page, hostile, pairs, 3);
    cr_assert_eq(trn_html_figure(&page, "<svg width='1'><path id='a'/></svg>", hostile, hostile),
                 TRN_OK);
    trn_html_section_end(&page);
    trn_html_end(&page);
    cr_assert(!out.failed);
    cr_expect_eq(times(out.text, "<script"), 0);
    cr_expect_eq(times(out.text, "javascript"), 0);
    cr_expect_eq(times(out.text, "</style>"), 1);
    cr_expect_eq(times(out.text, "\xe2\x80\xae"), 0);
    cr_expect_eq(times(out.text, "left out"), 0);
    /* the string of the margin: nothing in it but letters, digits, blanks and escapes */
    const char *margin = strstr(out.text, "content:\"");
    cr_assert(margin);
    margin += strlen("content:\"");
    size_t n = strcspn(margin, "\"");
    cr_expect_eq(margin[n + 1], '}', "the string ends before its rule does: %.*s", (int)n, margin);
    cr_expect(strcspn(margin, "<>'{}") >= n, "%.*s", (int)n, margin);
    trn_buffer_free(&out);
}

/* Every element that is opened is closed, in order (void elements of HTML apart). */
static bool balanced(const char *text)
{
    char stack[64][16];
    size_t depth = 0;
    for (const char *p = strchr(text, '<'); p; p = strchr(p + 1, '<')) {
        bool close = p[1] == '/';
        const char *name = p + 1 + close;
        size_t n = strcspn(name, " \n>/");
        size_t all = strcspn(p, ">");
        if (*name == '!' || (n == 4 && strncmp(name, "meta", 4) == 0) || p[all - 1] == '/')
            continue;
        if (close && (depth == 0 || strncmp(stack[depth - 1], name, n) != 0 ||
                      stack[depth - 1][n] != '\0'))
            return false;
        if (close) {
            depth--;
        } else if (depth < 64 && n < 16) {
            memcpy(stack[depth], name, n);
            stack[depth++][n] = '\0';
        } else {
            return false;
        }
    }
    return depth == 0;
}

static void write_small(trn_buffer *out)
{
    static const trn_html_column columns[] = {{"point", false}, {"hours", true}, {"box", false}};
    trn_html page;
    trn_html_begin(&page, &(trn_html_page){"Oil", NULL, "input 1234", NULL}, out);
    trn_html_section_begin(&page, "oil", "Losses");
    trn_html_table_begin(&page, "Hours", columns, 3);
    trn_html_row_begin(&page);
    trn_html_cell(&page, "crosses");
    trn_html_cell_number(&page, 2.385, 3);
    trn_html_cell_box(&page, "kN");
    trn_html_cell(&page, "dropped");
    trn_html_row_end(&page);
    trn_html_group(&page, "Oil");
    trn_html_row_begin(&page);
    trn_html_cell(&page, "level");
    trn_html_row_end(&page);
    trn_html_table_end(&page);
    for (int i = 0; i < 2; i++)
        cr_assert_eq(trn_html_figure(&page, "<svg><path id='a'/><use href='#a'/></svg>", "It is.",
                                     "The table."),
                     TRN_OK);
    trn_html_section_end(&page);
    trn_html_end(&page);
    cr_assert(!out->failed);
}

/* derived: the rules of the design page on the page */
Test(html, a_page_has_what_every_page_must_have)
{
    static const char *const once[] = {
        "<!doctype html>", "<html lang=\"en\">", "<meta charset=\"utf-8\">", "<h1>Oil</h1>",
        "content=\"default-src 'none'; style-src 'unsafe-inline'; img-src data:\"",
        "<title>Oil</title>", "size:A4", "counter(page)", "display:table-header-group",
        "content:\"input 1234\"", "<caption>Hours</caption>", "<section id=\"oil\">",
        "<th scope=\"row\">crosses</th><td class=\"n\">2.38</td>", /* half to even, as printf */
        "<tr><th scope=\"row\">level</th><td class=\"n\"></td><td></td></tr>",
        "id='f1-a'", "href='#f1-a'", "id='f2-a'", "href='#f2-a'",
    };
    trn_buffer out = {0};
    write_small(&out);
    for (size_t i = 0; i < sizeof once / sizeof once[0]; i++)
        cr_expect_eq(times(out.text, once[i]), 1, "%s: %zu times", once[i],
                     times(out.text, once[i]));
    cr_expect_eq(times(out.text, "<th scope=\"col\""), 3);
    cr_expect_eq(times(out.text, "role=\"img\""), 2);
    cr_expect_eq(times(out.text, "dropped"), 0);
    cr_expect_eq(times(out.text, "http"), 1, "only http-equiv"); /* nothing is loaded */
    cr_expect(balanced(out.text));
    trn_buffer_free(&out);
}

Test(html, no_picture_is_no_page_part)
{
    trn_buffer out = {0};
    trn_html page = {.out = &out};
    cr_expect_eq(trn_html_figure(&page, "no picture", "a", "b"), TRN_E_INPUT);
    cr_expect_eq(out.length, 0);
    trn_buffer_free(&out);
}

Test(html, a_long_paragraph_is_whole)
{
    enum { LENGTH = 9000 };
    static char text[LENGTH + 1];
    trn_buffer out = {0};
    trn_html page = {.out = &out};
    memset(text, 'x', LENGTH);
    trn_html_paragraph(&page, "%s<", text);
    cr_expect_eq(out.length, LENGTH + strlen("<p>&lt;</p>\n"));
    trn_buffer_free(&out);
}

Test(html, a_view_is_a_table_with_notes)
{
    trn_faults faults = {0};
    trn_machine *m = NULL;
    cr_assert_eq(trn_machine_read("sample-data/winged", &faults, &m), TRN_OK);
    trn_results *r = trn_results_new(m);
    cr_assert(r && trn_study_evaluate(m, TRN_WANT_ALL, r, NULL) == TRN_OK);
    for (size_t i = 0; i < trn_view_count(); i++) {
        trn_buffer out = {0};
        trn_html page = {.out = &out};
        const trn_view *view = trn_view_at(i);
        trn_html_view(&page, view, r, NULL, NULL);
        cr_expect(balanced(out.text), "%s", view->name);
        if (view->rows(r) > 0)
            cr_expect_geq(times(out.text, "<tr>"), view->rows(r) + 1, "%s", view->name);
        cr_expect_eq(times(out.text, "nan"), 0, "%s", view->name);
        trn_buffer_free(&out);
    }
    trn_results_free(r);
    trn_machine_free(m);
    trn_faults_free(&faults);
}
