/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Assumptions and chosen numbers, the inputs, where each comes from. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/ledger.h>

#include "page_parts.h"

/* ---- chosen numbers ------------------------------------------------------------------------- */

static void choice_row(trn_html *html, const trn_choice_row *row)
{
    char text[400];
    trn_html_row_begin(html);
    trn_html_cell(html, row->what);
    text[0] = '\0';
    if (!isnan(row->value))
        (void)snprintf(text, sizeof text, "%.4g %s", row->value,
                       strcmp(row->unit, "1") == 0 ? "" : row->unit);
    trn_html_cell(html, text);
    trn_html_cell(html, strcmp(row->spread, "-") == 0 ? "" : row->spread);
    trn_html_cell(html, row->reason);
    (void)snprintf(text, sizeof text, "%zu", row->governs);
    trn_html_cell(html, row->governs > 0 ? text : "");
    trn_html_row_end(html);
}

/* Inputs that are alike but for their keys: same table, column, value, origin. */
static bool alike(const trn_input *a, const trn_input *b)
{
    return a->table == b->table && a->column == b->column && a->origin == b->origin &&
           strcmp(a->value, b->value) == 0;
}

static bool wanted(const trn_input *in, trn_origin_kind origin, bool used)
{
    return in->origin == origin && (!used || in->used > 0);
}

/* `duty.*.shock`, or the path itself where there is one. */
static void row_of_alike(trn_html *html, const trn_inputs *inputs, size_t first,
                         trn_origin_kind origin, bool used)
{
    const trn_input *in = &inputs->list[first];
    size_t cells = 0;
    size_t results = 0;
    char text[300];
    for (size_t i = first; i < inputs->count; i++)
        if (wanted(&inputs->list[i], origin, used) && alike(in, &inputs->list[i])) {
            cells++;
            if (inputs->list[i].used > results)
                results = inputs->list[i].used;
        }
    trn_html_row_begin(html);
    if (cells > 1) {
        (void)snprintf(text, sizeof text, "%s.*.%s (%zu cells)", in->table->name, in->column->name,
                       cells);
        trn_html_cell(html, text);
    } else {
        trn_html_cell(html, in->path);
    }
    trn_html_cell(html, in->column->what);
    double number = NAN;
    if (origin == TRN_ORIGIN_COMPUTED && trn_text_number(in->value, &number) == TRN_OK)
        (void)snprintf(text, sizeof text, "%.4g %s", number, in->unit);
    else
        (void)snprintf(text, sizeof text, "%.200s %s", in->value, in->unit);
    trn_html_cell(html, text);
    (void)snprintf(text, sizeof text, "%zu", results);
    trn_html_cell(html, text);
    trn_html_row_end(html);
}

static void table_of_origin(trn_page *page, trn_origin_kind origin, bool used,
                            const char *caption, const char *without)
{
    static const trn_html_column columns[] = {
        {"Input", false}, {"What it is", false}, {"Value", false}, {"Results on it", true}};
    const trn_inputs *inputs = page->facts->inputs;
    bool begun = false;
    for (size_t i = 0; i < inputs->count; i++) {
        bool first = wanted(&inputs->list[i], origin, used);
        for (size_t k = 0; k < i && first; k++)
            first = !wanted(&inputs->list[k], origin, used) ||
                    !alike(&inputs->list[k], &inputs->list[i]);
        if (!first)
            continue;
        if (!begun)
            trn_html_table_begin(&page->html, caption, columns,
                                 sizeof columns / sizeof columns[0]);
        begun = true;
        row_of_alike(&page->html, inputs, i, origin, used);
    }
    if (begun)
        trn_html_table_end(&page->html);
    else
        trn_html_paragraph(&page->html, "%s", without);
}

void trn_page_choices(trn_page *page)
{
    static const trn_html_column columns[] = {{"Chosen", false},
                                              {"Value", false},
                                              {"Drawn with", false},
                                              {"Why", false},
                                              {"Sets points", true}};
    trn_html *html = &page->html;
    const trn_ledger *ledger = page->r->ledger;
    trn_html_paragraph(html,
                       "Numbers without a published source that results of this page rest on, "
                       "each with its reason. Where uncertainty.csv has a spread, that one is "
                       "drawn. Defaults of blank cells stand at the head of the inputs below. "
                       "What the model leaves out altogether is in docs/limits.md of the "
                       "program.");
    if (!ledger || ledger->choices_count == 0) {
        trn_html_paragraph(html, "None is in use.");
        return;
    }
    trn_buffer_add(html->out, "<div class=\"small\">\n");
    trn_html_table_begin(html, "Chosen numbers in use", columns,
                         sizeof columns / sizeof columns[0]);
    for (size_t i = 0; i < ledger->choices_count; i++)
        choice_row(html, &ledger->choices[i]);
    trn_html_table_end(html);
    trn_buffer_add(html->out, "</div>\n");
}

/* ---- what inputs rest on -------------------------------------------------------------------- */

static void basis_row(trn_html *html, const trn_inputs *inputs, const trn_machine *m, size_t b)
{
    const trn_basis_row *row = &m->basis[b];
    size_t cells = 0;
    char text[32];
    for (size_t i = 0; i < inputs->count; i++)
        cells += inputs->list[i].basis_row == b;
    (void)snprintf(text, sizeof text, "%zu", cells);
    trn_html_row_begin(html);
    trn_html_cell(html, row->quantity);
    trn_html_cell(html, trn_basis_word((trn_input_basis)row->basis));
    trn_html_cell(html, row->plus_minus);
    trn_html_cell(html, row->instrument);
    trn_html_cell(html, row->by);
    trn_html_cell(html, row->date);
    trn_html_cell(html, row->evidence);
    trn_html_cell(html, text);
    trn_html_row_end(html);
}

static void write_bases(trn_page *page)
{
    static const trn_html_column columns[] = {
        {"Quantity", false}, {"Basis", false}, {"+/-", false},      {"Instrument", false},
        {"By", false},       {"Date", false},  {"Evidence", false}, {"Cells", true}};
    const trn_inputs *inputs = page->facts->inputs;
    size_t origins[4] = {0};
    for (size_t i = 0; i < inputs->count; i++)
        origins[inputs->list[i].origin]++;
    trn_html_paragraph(&page->html,
                       "%zu inputs: %zu given, %zu defaults, %zu overrides, %zu computed from "
                       "others. Each is in inputs.csv with its origin and basis. A given cell "
                       "without a row in basis.csv counts as stated, a default, an override or a "
                       "computed value as assumed.",
                       inputs->count, origins[TRN_ORIGIN_GIVEN], origins[TRN_ORIGIN_DEFAULT],
                       origins[TRN_ORIGIN_OVERRIDE], origins[TRN_ORIGIN_COMPUTED]);
    if (page->m->basis_count == 0) {
        trn_html_paragraph(&page->html, "The case has no basis.csv: what the given values rest on "
                                        "is not recorded.");
        return;
    }
    trn_html_table_begin(&page->html, "What the inputs rest on, as recorded (basis.csv)", columns,
                         sizeof columns / sizeof columns[0]);
    for (size_t i = 0; i < page->m->basis_count; i++)
        basis_row(&page->html, inputs, page->m, i);
    trn_html_table_end(&page->html);
}

/* ---- the tables ----------------------------------------------------------------------------- */

/* A table of the case with what was filled in or set. */
typedef struct sheet {
    const trn_inputs *inputs;
    const trn_machine *m;
    const trn_table *table;
    size_t rows, first, end; /* first, end: its inputs in the list */
} sheet;

static const char *value_at(const sheet *s, size_t row, const trn_column *column)
{
    for (size_t i = s->first; i < s->end; i++) {
        const trn_input *in = &s->inputs->list[i];
        if (in->row == row && in->column == column &&
            (in->origin == TRN_ORIGIN_GIVEN || in->origin == TRN_ORIGIN_OVERRIDE))
            return in->value;
    }
    return "";
}

static bool any_value(const sheet *s, const trn_column *column)
{
    for (size_t r = 0; r < s->rows; r++)
        if (*value_at(s, r, column))
            return true;
    return false;
}

/* Keys and notes are texts of the row. */
static const char *text_at(const sheet *s, size_t row, const trn_column *column)
{
    const char *text = NULL;
    if (strcmp(column->name, "task") == 0 && strcmp(s->table->name, "points") == 0)
        return column->words[s->m->points[row].task];
    memcpy(&text, (const char *)trn_table_row(s->m, s->table, row) + column->offset, sizeof text);
    return text ? text : "";
}

static bool is_key(const sheet *s, const trn_column *column)
{
    if (strcmp(column->name, "quantity") == 0)
        return false;
    return column->cell == TRN_CELL_KEY ||
           (strcmp(column->name, "task") == 0 && strcmp(s->table->name, "points") == 0);
}

static bool is_note(const trn_column *column)
{
    return strcmp(column->name, "note") == 0;
}

static const char *shown_at(const sheet *s, size_t row, const trn_column *column)
{
    return is_key(s, column) ? text_at(s, row, column) : value_at(s, row, column);
}

static bool shown(const sheet *s, const trn_column *column)
{
    if (is_key(s, column))
        return true;
    return !is_note(column) && any_value(s, column);
}

static bool constant(const sheet *s, const trn_column *column)
{
    if (is_key(s, column) || is_note(column) || s->rows < 2)
        return false;
    for (size_t r = 1; r < s->rows; r++)
        if (strcmp(shown_at(s, r, column), shown_at(s, 0, column)) != 0)
            return false;
    return true;
}

/* Free texts go below a table that has no room for them. */
static bool goes_below(const sheet *s, const trn_column *column)
{
    size_t filled = 0;
    for (size_t i = 0; i < s->table->column_count; i++)
        filled += shown(s, &s->table->columns[i]);
    return is_note(column) || (column->cell == TRN_CELL_TEXT && filled > 8);
}

enum { COLUMNS_MAX = 64, UPRIGHT_MOST = 12, LYING_MOST = 9 };

typedef struct choice_of_columns {
    const trn_column *list[COLUMNS_MAX];
    char head[COLUMNS_MAX][64];
    size_t n;
} choice_of_columns;

static void choose(const sheet *s, choice_of_columns *c)
{
    c->n = 0;
    for (size_t i = 0; i < s->table->column_count && c->n < COLUMNS_MAX; i++) {
        const trn_column *column = &s->table->columns[i];
        if (!shown(s, column) || constant(s, column) || goes_below(s, column))
            continue;
        bool unit = trn_column_has_unit(column);
        (void)snprintf(c->head[c->n], sizeof c->head[0], "%s%s%s%s", column->name,
                       unit ? " [" : "", unit ? column->unit : "", unit ? "]" : "");
        for (char *p = c->head[c->n]; *p; p++)
            if (*p == '_')
                *p = ' ';
        c->list[c->n++] = column;
    }
}

/* What is the same in every row is said once. */
static void write_constants(trn_page *page, const sheet *s)
{
    trn_buffer text = {0};
    for (size_t i = 0; i < s->table->column_count; i++) {
        const trn_column *column = &s->table->columns[i];
        if (!shown(s, column) || !constant(s, column))
            continue;
        bool unit = trn_column_has_unit(column);
        trn_buffer_print(&text, "%s%s %s%s%s", text.length ? "; " : "", column->name,
                         shown_at(s, 0, column), unit ? " " : "", unit ? column->unit : "");
    }
    if (text.text)
        trn_html_paragraph(&page->html, "In all rows: %s.", text.text);
    page->html.out->failed = page->html.out->failed || text.failed;
    trn_buffer_free(&text);
}

static void add_keys(const sheet *s, size_t row, trn_buffer *out)
{
    bool keyed = false;
    for (size_t i = 0; i < s->table->column_count; i++)
        if (is_key(s, &s->table->columns[i])) {
            trn_buffer_print(out, "%s%s", keyed ? " " : "",
                             text_at(s, row, &s->table->columns[i]));
            keyed = true;
        }
    if (!keyed)
        trn_buffer_print(out, "row %zu", row + 1);
}

static bool first_with(const sheet *s, const trn_column *column, size_t row)
{
    for (size_t r = 0; r < row; r++)
        if (strcmp(text_at(s, r, column), text_at(s, row, column)) == 0)
            return false;
    return *text_at(s, row, column) != '\0';
}

/* Texts of the rows, each with the keys of those that have it. */
static void write_texts(trn_page *page, const sheet *s, const trn_column *column)
{
    trn_buffer text = {0};
    for (size_t r = 0; r < s->rows; r++) {
        if (!first_with(s, column, r))
            continue;
        trn_buffer_print(&text, "%s`%s` (", text.length ? "; " : "", text_at(s, r, column));
        for (size_t k = r, told = 0; k < s->rows; k++)
            if (strcmp(text_at(s, k, column), text_at(s, r, column)) == 0) {
                trn_buffer_add(&text, told++ ? ", " : "");
                add_keys(s, k, &text);
            }
        trn_buffer_add(&text, ")");
    }
    if (text.text)
        trn_html_paragraph(&page->html, "%s: %s.", column->name, text.text);
    page->html.out->failed = page->html.out->failed || text.failed;
    trn_buffer_free(&text);
}

static void write_upright(trn_page *page, const sheet *s, const choice_of_columns *c,
                          const char *caption)
{
    trn_html_column columns[COLUMNS_MAX];
    for (size_t i = 0; i < c->n; i++)
        columns[i] = (trn_html_column){c->head[i], c->list[i]->cell == TRN_CELL_NUMBER};
    trn_html_table_begin(&page->html, caption, columns, c->n);
    for (size_t r = 0; r < s->rows; r++) {
        trn_html_row_begin(&page->html);
        for (size_t i = 0; i < c->n; i++)
            trn_html_cell(&page->html, shown_at(s, r, c->list[i]));
        trn_html_row_end(&page->html);
    }
    trn_html_table_end(&page->html);
}

/* Quantities downward and rows of the case across. */
static void write_lying(trn_page *page, const sheet *s, const choice_of_columns *c,
                        const char *caption)
{
    trn_html_column columns[LYING_MOST + 1] = {{c->head[0], false}};
    for (size_t r = 0; r < s->rows; r++)
        columns[r + 1] = (trn_html_column){shown_at(s, r, c->list[0]), false};
    trn_html_table_begin(&page->html, caption, columns, s->rows + 1);
    for (size_t i = 1; i < c->n; i++) {
        trn_html_row_begin(&page->html);
        trn_html_cell(&page->html, c->head[i]);
        for (size_t r = 0; r < s->rows; r++)
            trn_html_cell(&page->html, shown_at(s, r, c->list[i]));
        trn_html_row_end(&page->html);
    }
    trn_html_table_end(&page->html);
}

static void write_head_table(trn_page *page, const sheet *s)
{
    static const trn_html_column columns[] = {
        {"Quantity", false}, {"Value", false}, {"Unit", false}, {"Origin", false}};
    trn_html_table_begin(&page->html, "machine.csv", columns, sizeof columns / sizeof columns[0]);
    for (size_t i = s->first; i < s->end; i++) {
        const trn_input *in = &s->inputs->list[i];
        trn_html_row_begin(&page->html);
        trn_html_cell(&page->html, in->column->name);
        trn_html_cell(&page->html, in->value);
        trn_html_cell(&page->html, in->unit);
        trn_html_cell(&page->html, trn_origin_word(in->origin));
        trn_html_row_end(&page->html);
    }
    trn_html_table_end(&page->html);
}

static void write_table(trn_page *page, const trn_table *table)
{
    const trn_inputs *inputs = page->facts->inputs;
    sheet s = {.inputs = inputs, .m = page->m, .table = table};
    while (s.first < inputs->count && inputs->list[s.first].table != table)
        s.first++;
    for (s.end = s.first; s.end < inputs->count && inputs->list[s.end].table == table; s.end++)
        ;
    if (s.first == s.end)
        return;
    if (table == trn_table_head()) {
        write_head_table(page, &s);
        return;
    }
    s.rows = trn_table_rows(page->m, table);
    choice_of_columns *c = calloc(1, sizeof *c);
    char caption[160];
    (void)snprintf(caption, sizeof caption, "%s.csv: %s", table->name, table->what);
    if (!c) {
        page->html.out->failed = true;
        return;
    }
    choose(&s, c);
    if (c->n > 0) {
        if (c->n > UPRIGHT_MOST && s.rows <= LYING_MOST)
            write_lying(page, &s, c, caption);
        else
            write_upright(page, &s, c, caption);
        write_constants(page, &s);
        for (size_t i = 0; i < table->column_count; i++)
            if (goes_below(&s, &table->columns[i]) && !constant(&s, &table->columns[i]))
                write_texts(page, &s, &table->columns[i]);
    }
    free(c);
}

void trn_page_inputs(trn_page *page)
{
    trn_html *html = &page->html;
    trn_buffer_add(html->out, "<div class=\"small\">\n");
    table_of_origin(page, TRN_ORIGIN_DEFAULT, true,
                    "Defaults that a result used: blank cells of the case",
                    "No result used a default.");
    table_of_origin(page, TRN_ORIGIN_OVERRIDE, false, "Overrides: set for this report",
                    "Nothing was set by --set or --scenario.");
    table_of_origin(page, TRN_ORIGIN_COMPUTED, false, "Blank cells that follow from others",
                    "No blank cell was filled from others.");
    write_bases(page);
    write_table(page, trn_table_head());
    for (size_t i = 0; i < trn_table_count(); i++)
        write_table(page, trn_table_at(i));
    trn_buffer_add(html->out, "</div>\n");
}
