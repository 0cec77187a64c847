/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A view of results as a table of a page. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "html.h"

enum { COLUMNS_MAX = 40 };

typedef struct view_table {
    trn_html *html;
    const trn_view *view;
    const trn_results *results;
    trn_html_keep keep;
    const void *context;
    trn_html_column columns[COLUMNS_MAX];
    size_t column_count;
    trn_grid notes; /* one column: each text once */
} view_table;

static const trn_remarks *remarks_of(const trn_field *field, const void *row)
{
    return (const trn_remarks *)(const void *)((const char *)row + field->offset);
}

static bool kept(const view_table *t, const void *row)
{
    return !t->keep || t->keep(t->context, t->results, row);
}

/* Columns without a remark in any row that is shown are not worth their width. */
static bool any_remark(const view_table *t, const trn_field *field)
{
    for (size_t i = 0; i < t->view->rows(t->results); i++) {
        const void *row = t->view->row(t->results, i);
        if (kept(t, row) && remarks_of(field, row)->n > 0)
            return true;
    }
    return false;
}

static bool shown(const view_table *t, const trn_field *field)
{
    return field->head && (field->kind != TRN_FIELD_REMARK || any_remark(t, field));
}

static size_t note_number(trn_grid *notes, const char *text)
{
    for (size_t i = 0; i < notes->rows; i++)
        if (strcmp(notes->cell[i], text) == 0)
            return i + 1;
    trn_grid_add(notes, text);
    return notes->rows;
}

static void note_cell(view_table *t, const trn_remarks *remarks)
{
    trn_buffer numbers = {0};
    for (size_t i = 0; i < remarks->n; i++) {
        trn_remarks one = {.n = 1};
        trn_buffer text = {0};
        one.v[0] = remarks->v[i];
        trn_remarks_text(&one, &text);
        trn_buffer_print(&numbers, "%s%zu", i ? ", " : "",
                         note_number(&t->notes, text.text ? text.text : ""));
        trn_buffer_free(&text);
    }
    trn_html_cell(t->html, numbers.text);
    t->html->out->failed = t->html->out->failed || numbers.failed;
    trn_buffer_free(&numbers);
}

static void write_row(view_table *t, const void *row)
{
    trn_html_row_begin(t->html);
    for (size_t c = 0; c < t->view->field_count; c++) {
        const trn_field *field = &t->view->fields[c];
        char text[48];
        if (!shown(t, field))
            continue;
        if (field->kind == TRN_FIELD_TEXT || field->kind == TRN_FIELD_WORD) {
            trn_html_cell(t->html, field->text(t->results, row));
        } else if (field->kind == TRN_FIELD_REMARK) {
            note_cell(t, remarks_of(field, row));
        } else {
            trn_field_for_people(field, row, text, sizeof text);
            trn_html_cell(t->html, text);
        }
    }
    trn_html_row_end(t->html);
}

static void begin_group(view_table *t, const void *row, trn_buffer *last)
{
    trn_buffer text = {0};
    if (!t->view->group)
        return;
    t->view->group(t->results, row, &text);
    if (text.text && (!last->text || strcmp(last->text, text.text) != 0)) {
        trn_html_group(t->html, text.text);
        trn_buffer_free(last);
        *last = text;
        text = (trn_buffer){0};
    }
    trn_buffer_free(&text);
}

void trn_html_view(trn_html *html, const trn_view *view, const trn_results *results,
                   trn_html_keep keep, const void *context)
{
    view_table t = {.html = html, .view = view, .results = results, .keep = keep,
                    .context = context, .notes = {.columns = 1}};
    trn_buffer group = {0};
    size_t rows = 0;
    for (size_t i = 0; i < view->rows(results); i++)
        rows += kept(&t, view->row(results, i));
    if (rows == 0) {
        trn_html_paragraph(html, "%s: nothing to show.", view->title);
        return;
    }
    for (size_t c = 0; c < view->field_count && t.column_count < COLUMNS_MAX; c++)
        if (shown(&t, &view->fields[c]))
            t.columns[t.column_count++] = (trn_html_column){
                view->fields[c].head, view->fields[c].kind == TRN_FIELD_NUMBER ||
                                          view->fields[c].kind == TRN_FIELD_LIFE};
    trn_html_table_begin(html, view->title, t.columns, t.column_count);
    for (size_t i = 0; i < view->rows(results); i++) {
        const void *row = view->row(results, i);
        if (!kept(&t, row))
            continue;
        begin_group(&t, row, &group);
        write_row(&t, row);
    }
    trn_html_table_end(html);
    if (view->caption)
        trn_html_paragraph(html, "%s", view->caption);
    if (t.notes.rows > 0) {
        trn_buffer_add(html->out, "<div class=\"notes\">\n");
        trn_html_list(html, true, (const char *const *)t.notes.cell, t.notes.rows);
        trn_buffer_add(html->out, "</div>\n");
    }
    html->out->failed = html->out->failed || t.notes.failed;
    trn_grid_free(&t.notes);
    trn_buffer_free(&group);
}
