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
    const trn_html_plan *plan;
    trn_html_pick picks[COLUMNS_MAX];
    const trn_field *fields[COLUMNS_MAX]; /* NULL: a column of the plan's */
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
    return !t->plan->keep || t->plan->keep(t->plan->context, t->results, row);
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

static bool is_number(const trn_field *field)
{
    return field->kind == TRN_FIELD_NUMBER || field->kind == TRN_FIELD_LIFE;
}

static void add_column(view_table *t, const trn_field *field, const trn_html_pick *pick)
{
    const char *head = pick && pick->head ? pick->head : field ? field->head : "";
    if (t->column_count == COLUMNS_MAX || !head ||
        (field && field->kind == TRN_FIELD_REMARK && !any_remark(t, field)))
        return;
    size_t c = t->column_count++;
    t->fields[c] = field;
    t->picks[c] = pick ? *pick : (trn_html_pick){.head = head};
    t->columns[c] = (trn_html_column){head, field ? is_number(field) : pick->number};
}

static const trn_field *field_named(const trn_view *view, const char *name)
{
    for (size_t i = 0; i < view->field_count; i++)
        if (strcmp(view->fields[i].name, name) == 0)
            return &view->fields[i];
    return NULL;
}

static void choose_columns(view_table *t)
{
    if (!t->plan->picks)
        for (size_t c = 0; c < t->view->field_count; c++)
            add_column(t, &t->view->fields[c], NULL);
    for (size_t i = 0; t->plan->picks && i < t->plan->count; i++) {
        const trn_html_pick *pick = &t->plan->picks[i];
        const trn_field *field = pick->field ? field_named(t->view, pick->field) : NULL;
        if (field || !pick->field)
            add_column(t, field, pick);
    }
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

static void write_cell(view_table *t, size_t c, const void *row)
{
    const trn_field *field = t->fields[c];
    char text[48];
    if (t->picks[c].text) {
        trn_buffer own = {0};
        t->picks[c].text(t->plan->context, t->results, row, &own);
        trn_html_cell(t->html, own.text);
        t->html->out->failed = t->html->out->failed || own.failed;
        trn_buffer_free(&own);
    } else if (!field) {
        trn_html_cell(t->html, "");
    } else if (field->kind == TRN_FIELD_TEXT || field->kind == TRN_FIELD_WORD) {
        trn_html_cell(t->html, field->text(t->results, row));
    } else if (field->kind == TRN_FIELD_REMARK) {
        note_cell(t, remarks_of(field, row));
    } else {
        trn_field_for_people(field, row, text, sizeof text);
        trn_html_cell(t->html, text);
    }
}

static void write_row(view_table *t, const void *row)
{
    trn_html_row_begin(t->html);
    for (size_t c = 0; c < t->column_count; c++)
        write_cell(t, c, row);
    trn_html_row_end(t->html);
}

static void begin_group(view_table *t, const void *row, trn_buffer *last)
{
    trn_buffer text = {0};
    if (!t->view->group || t->plan->no_groups)
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

static void write_notes(view_table *t)
{
    if (t->notes.rows == 0)
        return;
    trn_buffer_add(t->html->out, "<div class=\"notes\">\n");
    trn_html_list(t->html, true, (const char *const *)t->notes.cell, t->notes.rows);
    trn_buffer_add(t->html->out, "</div>\n");
}

void trn_html_view_planned(trn_html *html, const trn_view *view, const trn_results *results,
                           const trn_html_plan *plan)
{
    view_table t = {.html = html, .view = view, .results = results, .plan = plan,
                    .notes = {.columns = 1}};
    const char *title = plan->title ? plan->title : view->title;
    const char *caption = plan->caption ? plan->caption : view->caption;
    trn_buffer group = {0};
    size_t rows = 0;
    for (size_t i = 0; i < view->rows(results); i++)
        rows += kept(&t, view->row(results, i));
    if (rows == 0) {
        trn_html_paragraph(html, "%s: nothing to show.", title);
        return;
    }
    choose_columns(&t);
    trn_html_table_begin(html, title, t.columns, t.column_count);
    for (size_t i = 0; i < view->rows(results); i++) {
        const void *row = view->row(results, i);
        if (!kept(&t, row))
            continue;
        begin_group(&t, row, &group);
        write_row(&t, row);
    }
    trn_html_table_end(html);
    if (caption)
        trn_html_paragraph(html, "%s", caption);
    write_notes(&t);
    html->out->failed = html->out->failed || t.notes.failed;
    trn_grid_free(&t.notes);
    trn_buffer_free(&group);
}

void trn_html_view(trn_html *html, const trn_view *view, const trn_results *results,
                   trn_html_keep keep, const void *context)
{
    trn_html_view_planned(html, view, results,
                          &(trn_html_plan){.keep = keep, .context = context});
}
