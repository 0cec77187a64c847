/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <trunnion/reference_docs.h>

#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/formula.h>
#include <trunnion/present.h>
#include <trunnion/schema.h>

#include "reference_notes.h"

#define GENERATED "<!-- Written by `make docs` from the program's own tables; edit those. -->\n\n"

/* ---- Markdown ----------------------------------------------------------------------------- */

/* A text as Markdown takes it: what would end a cell or begin a tag or emphasis is defused. */
static void add_text(const char *text, trn_buffer *out)
{
    bool code = false;
    for (const char *p = text; *p; p++) {
        if (*p == '`')
            code = !code;
        if (*p == '|')
            trn_buffer_add(out, "\\|");
        else if (*p == '<' && !code)
            trn_buffer_add(out, "&lt;");
        else if (*p == '*' && !code)
            trn_buffer_add(out, "\\*");
        else if (*p == '\n')
            trn_buffer_add(out, " ");
        else
            trn_buffer_add_n(out, p, 1);
    }
}

/* Markdown of our own, its lines broken; tables and headings stay as they are. */
static void add_prose(const char *text, trn_buffer *out)
{
    enum { WIDTH = 100 };
    for (const char *p = text; *p;) {
        size_t n = strcspn(p, "\n");
        char *line = trn_text_copy_n(p, n);
        if (!line)
            out->failed = true;
        else if (n == 0 || *p == '|' || *p == '#')
            trn_buffer_print(out, "%s\n", line);
        else
            trn_text_wrap(line, 0, *p == '-' ? 2 : 0, WIDTH, out);
        free(line);
        p += n + (p[n] == '\n');
    }
}

static void add_cell(const char *text, trn_buffer *out)
{
    trn_buffer_add(out, " ");
    add_text(text, out);
    trn_buffer_add(out, " |");
}

static void add_code_cell(const char *text, trn_buffer *out)
{
    trn_buffer_add(out, " ");
    if (*text) {
        trn_buffer_add(out, "`");
        for (const char *p = text; *p; p++)
            trn_buffer_add_n(out, *p == '|' ? "\\|" : p, *p == '|' ? 2 : 1);
        trn_buffer_add(out, "` ");
    }
    trn_buffer_add(out, "|");
}

/* Anchor of a heading: small letters, blanks as hyphens, no other signs. */
static void add_anchor(const char *text, size_t n, trn_buffer *out)
{
    for (size_t i = 0; i < n; i++) {
        char c = (char)tolower((unsigned char)text[i]);
        if (c == ' ')
            c = '-';
        if (isalnum((unsigned char)c) || c == '-' || c == '_')
            trn_buffer_add_n(out, &c, 1);
    }
}

static void add_words(const char *const *words, trn_buffer *out)
{
    for (size_t i = 0; words[i]; i++)
        trn_buffer_print(out, "%s`%s`", i ? ", " : "", words[i]);
}

/* ---- case tables -------------------------------------------------------------------------- */

static void add_column(const trn_column *c, trn_buffer *out)
{
    trn_buffer takes = {0};
    trn_buffer_add(out, "|");
    add_code_cell(c->name, out);
    add_cell(trn_column_has_unit(c) ? c->unit : "", out);
    add_cell(c->required ? "required" : c->fallback ? c->fallback : "", out);
    if (c->words)
        add_words(c->words, &takes);
    else if (c->range)
        trn_range_words(c->range, &takes);
    else if (c->cell == TRN_CELL_NUMBER || c->cell == TRN_CELL_NUMBERS)
        trn_buffer_add(&takes, "any number");
    else
        trn_buffer_add(&takes, c->cell == TRN_CELL_TEXT ? "text" : "name");
    if (c->cell == TRN_CELL_NUMBERS || c->cell == TRN_CELL_TEXTS)
        trn_buffer_add(&takes, "; list parted by /");
    if (c->only)
        trn_buffer_add(&takes, "; in h or min");
    trn_buffer_print(out, " %s |", takes.text ? takes.text : "");
    add_cell(c->what, out);
    trn_buffer_add(out, "\n");
    out->failed = out->failed || takes.failed;
    trn_buffer_free(&takes);
}

static void add_table(const trn_table *table, trn_buffer *out)
{
    trn_buffer_print(out, "\n## %s.csv\n\n", table->name);
    trn_buffer_print(out, "%c", toupper((unsigned char)table->what[0]));
    add_text(table->what + 1, out);
    trn_buffer_print(out, ". %s. What it is good for: ",
                     table->required ? "Required" : "May be left out");
    add_text(table->buys, out);
    trn_buffer_print(out, ".\n\n| %s | unit | default | takes | meaning |\n|---|---|---|---|---|\n",
                     table == trn_table_head() ? "quantity" : "column");
    for (size_t i = 0; i < table->column_count; i++)
        add_column(&table->columns[i], out);
    const char *notes = trn_notes_table(table->name);
    if (notes) {
        trn_buffer_add(out, "\n");
        add_prose(notes, out);
    }
}

void trn_docs_case_tables(trn_buffer *out)
{
    trn_buffer_add(out, "# The tables of a case\n\n" GENERATED);
    add_prose(trn_notes_case, out);
    add_prose("\n## The tables\n\nIn the column `default`, *required* means that the cell must be "
              "filled; nothing there means that it may be blank and is then not known.\n\n",
              out);
    for (size_t i = 0; i <= trn_table_count(); i++) {
        const trn_table *table = i == 0 ? trn_table_head() : trn_table_at(i - 1);
        trn_buffer_print(out, "- [%s.csv](#%scsv): ", table->name, table->name);
        add_text(table->what, out);
        trn_buffer_add(out, "\n");
    }
    add_table(trn_table_head(), out);
    for (size_t i = 0; i < trn_table_count(); i++)
        add_table(trn_table_at(i), out);
}

/* ---- formulas ----------------------------------------------------------------------------- */

static void add_symbol(const trn_symbol *s, bool input, trn_buffer *out)
{
    trn_buffer takes = {0};
    trn_buffer_add(out, "|");
    add_code_cell(s->name, out);
    add_cell(strcmp(s->unit, "1") == 0 ? "" : s->unit, out);
    if (s->kind == TRN_WORD && s->words)
        add_words(s->words, &takes);
    else
        trn_range_words(s->range, &takes);
    if (s->kind == TRN_LIST)
        trn_buffer_print(&takes, "%slist parted by /", takes.length ? "; " : "");
    if (input) {
        trn_buffer_print(out, " %s |", takes.text ? takes.text : "any number");
        add_cell(!s->fallback ? "required" : *s->fallback ? s->fallback : "may be left out", out);
    }
    add_cell(s->what, out);
    trn_buffer_add(out, "\n");
    out->failed = out->failed || takes.failed;
    trn_buffer_free(&takes);
}

/* Keys of a source text as links; what stands in parentheses goes with them. */
static void add_sources(const char *keys, trn_buffer *out)
{
    bool first = true;
    for (const char *p = keys; *p;) {
        while (*p == ' ' || *p == ';')
            p++;
        size_t n = strcspn(p, ";");
        size_t key = strcspn(p, " ;(");
        if (n == 0)
            break;
        trn_buffer_print(out, "%s[%.*s](sources.md#", first ? "" : "; ", (int)key, p);
        add_anchor(p, key, out);
        trn_buffer_print(out, ")%.*s", (int)(n - key), p + key);
        first = false;
        p += n;
    }
}

static void add_formula(const trn_formula *f, trn_buffer *out)
{
    trn_buffer_print(out, "\n### %s\n\n%c", f->name, toupper((unsigned char)f->what[0]));
    add_text(f->what + 1, out);
    trn_buffer_print(out, ".\n\n```text\n%s\n```\n\n", f->equation);
    if (f->input_count > 0)
        trn_buffer_add(out,
                       "| input | unit | takes | default | meaning |\n|---|---|---|---|---|\n");
    for (size_t i = 0; i < f->input_count; i++)
        add_symbol(&f->inputs[i], true, out);
    trn_buffer_add(out, "\n| output | unit | meaning |\n|---|---|---|\n");
    for (size_t i = 0; i < f->output_count; i++)
        add_symbol(&f->outputs[i], false, out);
    trn_buffer_add(out, "\n- Valid: ");
    add_text(f->validity, out);
    trn_buffer_add(out, "\n- Source: ");
    add_sources(f->source, out);
    trn_buffer_add(out, "\n- Standing: ");
    add_text(f->standing, out);
    if (strstr(f->standing, "memory"))
        trn_buffer_add(out, " (memory: not yet compared with the printed source)");
    trn_buffer_print(out, "\n- Example: `trunnion formula %s %s`\n", f->name, f->example);
}

/* Whether no entry before i has its subject. */
static bool first_of_subject(size_t i, size_t length)
{
    const char *name = trn_formula_at(i)->name;
    for (size_t k = 0; k < i; k++)
        if (strncmp(trn_formula_at(k)->name, name, length + 1) == 0)
            return false;
    return true;
}

static void add_subject(size_t first, size_t length, trn_buffer *out)
{
    const char *subject = trn_formula_at(first)->name;
    const trn_subject_note *note = trn_notes_subject(subject, length);
    trn_buffer_print(out, "\n## %.*s\n", (int)length, subject);
    if (note)
        trn_buffer_print(out, "\n%s. Ground and worked cases: [%s](%s).\n", note->title, note->page,
                         note->page);
    for (size_t i = first; i < trn_formula_count(); i++)
        if (strncmp(trn_formula_at(i)->name, subject, length + 1) == 0)
            add_formula(trn_formula_at(i), out);
}

static void list_subjects(trn_buffer *out)
{
    for (size_t i = 0; i < trn_formula_count(); i++) {
        const char *name = trn_formula_at(i)->name;
        size_t n = strcspn(name, ".");
        if (!first_of_subject(i, n))
            continue;
        const trn_subject_note *note = trn_notes_subject(name, n);
        trn_buffer_print(out, "- [%.*s](#%.*s)%s%s:", (int)n, name, (int)n, name, note ? ", " : "",
                         note ? note->title : "");
        for (size_t k = i, said = 0; k < trn_formula_count(); k++)
            if (strncmp(trn_formula_at(k)->name, name, n + 1) == 0)
                trn_buffer_print(out, "%s %s", said++ ? "," : "", trn_formula_at(k)->name + n + 1);
        trn_buffer_add(out, "\n");
    }
}

void trn_docs_formulas(trn_buffer *out)
{
    trn_buffer_add(out, "# The formulas\n\n" GENERATED);
    trn_buffer intro = {0};
    trn_buffer_print(
        &intro,
        "All %zu formulas that the program uses, by subject. `trunnion formula NAME` shows one of "
        "them, and `trunnion formula NAME symbol=value ...` works it out; a value may carry its "
        "own unit (`n=540rpm`), else it is in the unit given here.\n\n"
        "Standing says how far a formula can be leaned on: *published*, its source was read; "
        "*derived*, it follows from the source by arithmetic; *memory*, recalled and not yet "
        "compared with the printed source; *practice*, common in the trade without a source; "
        "*chosen*, ours, because nobody publishes a figure. [sources.md](sources.md) gives the "
        "sources in full.\n\n",
        trn_formula_count());
    add_prose(intro.text ? intro.text : "", out);
    out->failed = out->failed || intro.failed;
    trn_buffer_free(&intro);
    list_subjects(out);
    for (size_t i = 0; i < trn_formula_count(); i++) {
        size_t n = strcspn(trn_formula_at(i)->name, ".");
        if (first_of_subject(i, n))
            add_subject(i, n, out);
    }
}

/* ---- sources ------------------------------------------------------------------------------ */

static bool names_source(const trn_formula *f, const char *key)
{
    size_t length = strlen(key);
    for (const char *p = f->source; *p;) {
        while (*p == ' ' || *p == ';')
            p++;
        size_t n = strcspn(p, " ;(");
        if (n == length && strncmp(p, key, n) == 0)
            return true;
        p += strcspn(p, ";");
    }
    return false;
}

/* Index of the source that stands at place i in the order of the keys. */
static const trn_source *in_order(size_t place)
{
    for (size_t i = 0; i < trn_source_count(); i++) {
        size_t before = 0;
        for (size_t k = 0; k < trn_source_count(); k++) {
            const char *a = trn_source_at(k)->key;
            const char *b = trn_source_at(i)->key;
            int order = strcmp(a, b);
            before += order < 0 || (order == 0 && k < i);
        }
        if (before == place)
            return trn_source_at(i);
    }
    return NULL;
}

static void add_source(const trn_source *source, trn_buffer *out)
{
    size_t used = 0;
    trn_buffer_print(out, "\n### %s\n\n%c", source->key, toupper((unsigned char)source->text[0]));
    add_text(source->text + 1, out);
    trn_buffer_add(out, "\n\n- Standing: ");
    add_text(source->standing, out);
    trn_buffer_add(out, "\n- Used by: ");
    for (size_t i = 0; i < trn_formula_count(); i++) {
        const trn_formula *f = trn_formula_at(i);
        if (!names_source(f, source->key))
            continue;
        trn_buffer_print(out, "%s[%s](formulas.md#", used++ ? ", " : "", f->name);
        add_anchor(f->name, strlen(f->name), out);
        trn_buffer_add(out, ")");
    }
    trn_buffer_add(out, used ? "\n" : "no formula; it is background of the pages\n");
}

void trn_docs_sources(trn_buffer *out)
{
    trn_buffer_add(out, "# Sources\n\n" GENERATED);
    trn_buffer intro = {0};
    trn_buffer_print(&intro,
                     "The %zu sources of the [formulas](formulas.md), by their keys. *Published*: "
                     "the text was read; *memory*: recalled, not yet compared with the printed "
                     "source; *practice*: common in the trade; *derived*: worked out here.\n",
                     trn_source_count());
    add_prose(intro.text ? intro.text : "", out);
    out->failed = out->failed || intro.failed;
    trn_buffer_free(&intro);
    for (size_t i = 0; i < trn_source_count(); i++)
        add_source(in_order(i), out);
}

const trn_docs_page trn_docs_pages[] = {
    {"case-tables.md", trn_docs_case_tables},
    {"formulas.md", trn_docs_formulas},
    {"sources.md", trn_docs_sources},
};
const size_t trn_docs_page_count = sizeof trn_docs_pages / sizeof trn_docs_pages[0];
