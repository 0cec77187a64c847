/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The reference pages: whole, well formed, and those of docs/ are not stale. */
#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/formula.h>
#include <trunnion/reference_docs.h>
#include <trunnion/schema.h>

#include "support.h"

static char *committed(const char *file)
{
    char path[512];
    (void)snprintf(path, sizeof path, "%s/../docs/%s", test_root(), file);
    FILE *in = fopen(path, "rb");
    cr_assert_not_null(in, "%s is missing; run `make docs`", path);
    trn_buffer text = {0};
    char piece[4096];
    for (size_t n; (n = fread(piece, 1, sizeof piece, in)) > 0;)
        trn_buffer_add_n(&text, piece, n);
    (void)fclose(in);
    cr_assert_not_null(text.text);
    return text.text;
}

static size_t line_of(const char *text, const char *at)
{
    size_t line = 1;
    for (const char *p = text; p < at; p++)
        line += *p == '\n';
    return line;
}

Test(reference_docs, pages_are_not_stale)
{
    for (size_t i = 0; i < trn_docs_page_count; i++) {
        trn_buffer now = {0};
        trn_docs_pages[i].write(&now);
        cr_assert(!now.failed);
        char *then = committed(trn_docs_pages[i].file);
        const char *p = now.text;
        const char *q = then;
        while (*p && *p == *q) {
            p++;
            q++;
        }
        cr_expect(*p == *q, "docs/%s is stale from line %zu on: run `make docs`",
                  trn_docs_pages[i].file, line_of(then, q));
        free(then);
        trn_buffer_free(&now);
    }
}

static void expect_in(const trn_buffer *page, const char *format, const char *name)
{
    trn_buffer text = {0};
    trn_buffer_add(&text, format);
    char *mark = strchr(text.text, '@');
    trn_buffer wanted = {0};
    trn_buffer_add_n(&wanted, text.text, (size_t)(mark - text.text));
    trn_buffer_add(&wanted, name);
    trn_buffer_add(&wanted, mark + 1);
    cr_expect_not_null(strstr(page->text, wanted.text), "no `%s`", wanted.text);
    trn_buffer_free(&wanted);
    trn_buffer_free(&text);
}

Test(reference_docs, hold_every_table_column_formula_and_source)
{
    trn_buffer page = {0};
    trn_docs_case_tables(&page);
    for (size_t i = 0; i <= trn_table_count(); i++) {
        const trn_table *table = i == 0 ? trn_table_head() : trn_table_at(i - 1);
        expect_in(&page, "\n## @.csv\n", table->name);
        for (size_t c = 0; c < table->column_count; c++)
            expect_in(&page, "\n| `@` |", table->columns[c].name);
    }
    trn_buffer_free(&page);
    trn_docs_formulas(&page);
    for (size_t i = 0; i < trn_formula_count(); i++)
        expect_in(&page, "\n### @\n", trn_formula_at(i)->name);
    trn_buffer_free(&page);
    trn_docs_sources(&page);
    for (size_t i = 0; i < trn_source_count(); i++)
        expect_in(&page, "\n### @\n", trn_source_at(i)->key);
    trn_buffer_free(&page);
}

/* Bars that part cells: not those behind a backslash. */
static size_t bars(const char *line, size_t n)
{
    size_t count = 0;
    for (size_t i = 0; i < n; i++)
        count += line[i] == '|' && (i == 0 || line[i - 1] != '\\');
    return count;
}

Test(reference_docs, rows_of_a_table_have_the_same_cells)
{
    for (size_t i = 0; i < trn_docs_page_count; i++) {
        trn_buffer page = {0};
        trn_docs_pages[i].write(&page);
        size_t wanted = 0;
        bool code = false;
        for (const char *p = page.text; *p;) {
            size_t n = strcspn(p, "\n");
            if (strncmp(p, "```", 3) == 0)
                code = !code;
            if (*p != '|' || code)
                wanted = 0;
            else if (wanted == 0)
                wanted = bars(p, n);
            else
                cr_expect_eq(bars(p, n), wanted, "%s: %.*s", trn_docs_pages[i].file, (int)n, p);
            p += n + (p[n] == '\n');
        }
        cr_expect(!code, "%s: a code block is open", trn_docs_pages[i].file);
        trn_buffer_free(&page);
    }
}

Test(reference_docs, links_between_the_pages_lead_somewhere)
{
    trn_buffer formulas = {0};
    trn_buffer sources = {0};
    trn_docs_formulas(&formulas);
    trn_docs_sources(&sources);
    size_t links = 0;
    for (const char *p = formulas.text; (p = strstr(p, "](sources.md#")) != NULL; p++) {
        const char *key = p;
        while (key > formulas.text && key[-1] != '[')
            key--;
        trn_buffer wanted = {0};
        trn_buffer_print(&wanted, "\n### %.*s\n", (int)(p - key), key);
        cr_expect_not_null(strstr(sources.text, wanted.text), "no source%s", wanted.text);
        trn_buffer_free(&wanted);
        links++;
    }
    cr_expect_geq(links, trn_formula_count());
    trn_buffer_free(&formulas);
    trn_buffer_free(&sources);
}
