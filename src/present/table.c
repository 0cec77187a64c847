/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Views of results as CSV and as tables for reading. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/csv_write.h>
#include <trunnion/present.h>

static const double longest_shown_life_h = 100000;

void trn_field_header(const trn_field *field, trn_buffer *out)
{
    trn_buffer_add(out, field->name);
    if (field->unit)
        trn_buffer_print(out, " [%s]", field->unit);
}

static double number_of(const trn_field *field, const void *row)
{
    double value = NAN;
    memcpy(&value, (const char *)row + field->offset, sizeof value);
    return value;
}

static const trn_remarks *remarks_of(const trn_field *field, const void *row)
{
    return (const trn_remarks *)(const void *)((const char *)row + field->offset);
}

void trn_view_csv(const trn_view *view, const trn_results *results, const char *lead, bool header,
                  trn_buffer *out)
{
    trn_csv_writer csv = {.out = out};
    if (header) {
        if (lead)
            trn_csv_word(&csv, "machine");
        for (size_t c = 0; c < view->field_count; c++) {
            trn_buffer name = {0};
            trn_field_header(&view->fields[c], &name);
            trn_csv_word(&csv, name.text ? name.text : "");
            trn_buffer_free(&name);
        }
        trn_csv_end(&csv);
    }
    for (size_t i = 0; i < view->rows(results); i++) {
        const void *row = view->row(results, i);
        if (lead)
            trn_csv_text(&csv, lead);
        for (size_t c = 0; c < view->field_count; c++) {
            const trn_field *field = &view->fields[c];
            if (field->kind == TRN_FIELD_TEXT) {
                trn_csv_text(&csv, field->text(results, row));
            } else if (field->kind == TRN_FIELD_WORD) {
                const char *word = field->text(results, row);
                trn_csv_word(&csv, word ? word : "");
            } else if (field->kind == TRN_FIELD_REMARK) {
                trn_buffer text = {0};
                trn_remarks_text(remarks_of(field, row), &text);
                trn_csv_text(&csv, text.text ? text.text : "");
                trn_buffer_free(&text);
            } else {
                trn_csv_number(&csv, number_of(field, row));
            }
        }
        trn_csv_end(&csv);
    }
}

void trn_number_for_people(double value, int digits, char *out, size_t size)
{
    if (size == 0)
        return;
    if (isnan(value)) {
        out[0] = '\0';
        return;
    }
    if (isinf(value)) {
        (void)snprintf(out, size, "inf");
        return;
    }
    double magnitude = fabs(value);
    if (magnitude >= 1e7 || (magnitude > 0 && magnitude < 1e-4)) {
        (void)snprintf(out, size, "%.*e", digits - 1, value);
        return;
    }
    int exponent = magnitude > 0 ? (int)floor(log10(magnitude)) : 0;
    if (magnitude >= (1 - 0.5 * pow(10, -digits)) * pow(10, exponent + 1))
        exponent++; /* rounds up to the next power of ten */
    int decimals = digits - 1 - exponent;
    if (decimals < 0) {
        double unit = pow(10, -decimals);
        value = round(value / unit) * unit;
        decimals = 0;
    }
    (void)snprintf(out, size, "%.*f", decimals, value == 0 ? 0.0 : value);
}

/* ---- grids -------------------------------------------------------------------------------- */

void trn_grid_add(trn_grid *grid, const char *text)
{
    if (grid->failed)
        return;
    size_t used = grid->rows;
    if (used == grid->capacity) {
        size_t capacity = grid->capacity ? 2 * grid->capacity : 128;
        char **cell = realloc(grid->cell, capacity * sizeof *cell);
        if (!cell) {
            grid->failed = true;
            return;
        }
        grid->cell = cell;
        grid->capacity = capacity;
    }
    grid->cell[used] = trn_text_copy(text);
    if (!grid->cell[used])
        grid->failed = true;
    else
        grid->rows++; /* counts cells until printed */
}

static const char heading_mark = '\x01'; /* first cell of a row that is a heading */

void trn_grid_heading(trn_grid *grid, const char *text)
{
    trn_buffer marked = {0};
    trn_buffer_print(&marked, "%c%s", heading_mark, text);
    trn_grid_add(grid, marked.text ? marked.text : "");
    for (size_t c = 1; c < grid->columns; c++)
        trn_grid_add(grid, "");
    trn_buffer_free(&marked);
}

void trn_grid_free(trn_grid *grid)
{
    for (size_t i = 0; i < grid->rows; i++)
        free(grid->cell[i]);
    free(grid->cell);
    *grid = (trn_grid){0};
}

/* Columns that a UTF-8 text takes on a terminal (no wide characters are ever printed). */
static size_t width_of(const char *text)
{
    size_t n = 0;
    for (const char *p = text; *p; p++)
        n += ((unsigned char)*p & 0xc0) != 0x80;
    return n;
}

static void pad(trn_buffer *out, size_t n, char with)
{
    for (size_t i = 0; i < n; i++)
        trn_buffer_add_n(out, &with, 1);
}

static size_t widest_cell(const trn_grid *grid, size_t column, size_t rows)
{
    size_t widest = 0;
    for (size_t r = 0; r < rows; r++) {
        const char *text = grid->cell[r * grid->columns + column];
        size_t w = *text == heading_mark ? 0 : width_of(text);
        widest = w > widest ? w : widest;
    }
    return widest;
}

void trn_grid_print(const trn_grid *grid, const bool *right, trn_buffer *out)
{
    size_t columns = grid->columns;
    size_t rows = columns ? grid->rows / columns : 0;
    size_t total = 0;
    for (size_t c = 0; c < columns; c++)
        total += widest_cell(grid, c, rows) + (c ? 2 : 0);
    for (size_t r = 0; r < rows; r++) {
        const char *const *cells = (const char *const *)&grid->cell[r * columns];
        if (*cells[0] == heading_mark) {
            trn_buffer_print(out, "%s%s\n", r > 1 ? "\n" : "", cells[0] + 1);
            continue;
        }
        size_t owed = 0; /* blanks are only written before something */
        for (size_t c = 0; c < columns; c++) {
            size_t widest = widest_cell(grid, c, rows);
            size_t blanks = widest - width_of(cells[c]);
            size_t before = right[c] ? blanks : 0;
            if (*cells[c]) {
                pad(out, owed + before, ' ');
                trn_buffer_add(out, cells[c]);
                owed = blanks - before + 2;
            } else {
                owed += widest + 2;
            }
        }
        trn_buffer_add(out, "\n");
        if (r == 0) {
            pad(out, total, '-');
            trn_buffer_add(out, "\n");
        }
    }
}

/* ---- a view for people -------------------------------------------------------------------- */

typedef struct notes {
    char **text;
    size_t count;
    bool failed;
} notes;

/* Number of a note, from 1; the same text has the same number. */
static size_t note_number(notes *n, const char *text)
{
    for (size_t i = 0; i < n->count; i++)
        if (strcmp(n->text[i], text) == 0)
            return i + 1;
    char **grown = realloc(n->text, (n->count + 1) * sizeof *grown);
    if (!grown) {
        n->failed = true;
        return 0;
    }
    n->text = grown;
    n->text[n->count] = trn_text_copy(text);
    if (!n->text[n->count]) {
        n->failed = true;
        return 0;
    }
    return ++n->count;
}

static void note_cell(const trn_remarks *remarks, notes *all, trn_grid *grid)
{
    trn_buffer numbers = {0};
    for (size_t i = 0; i < remarks->n; i++) {
        trn_remarks one = {.n = 1};
        one.v[0] = remarks->v[i];
        trn_buffer text = {0};
        trn_remarks_text(&one, &text);
        trn_buffer_print(&numbers, "%s%zu", i ? "," : "",
                         note_number(all, text.text ? text.text : ""));
        trn_buffer_free(&text);
    }
    trn_grid_add(grid, numbers.text ? numbers.text : "");
    trn_buffer_free(&numbers);
}

void trn_field_for_people(const trn_field *field, const void *row, char *out, size_t size)
{
    double value = number_of(field, row);
    if (field->kind == TRN_FIELD_LIFE && value > longest_shown_life_h)
        (void)snprintf(out, size, ">100 000");
    else
        trn_number_for_people(value, 3, out, size);
}

static void number_cell(const trn_field *field, const void *row, trn_grid *grid)
{
    char text[48];
    trn_field_for_people(field, row, text, sizeof text);
    trn_grid_add(grid, text);
}

void trn_text_wrap(const char *text, size_t first, size_t indent, size_t width,
                   trn_buffer *out)
{
    size_t at = first;
    const char *p = text;
    while (*p) {
        size_t n = strcspn(p, " ");
        if (at > indent && at + n + 1 > width) {
            trn_buffer_add(out, "\n");
            pad(out, indent, ' ');
            at = indent;
        } else if (p != text) {
            trn_buffer_add(out, " ");
            at++;
        }
        trn_buffer_add_n(out, p, n);
        at += n;
        p += n;
        while (*p == ' ')
            p++;
    }
    trn_buffer_add(out, "\n");
}

/* Heading before a row where its group differs from that of the row before. */
static void begin_group(const trn_view *view, const trn_results *results, size_t i, char **last,
                        trn_grid *grid)
{
    trn_buffer text = {0};
    if (!view->group)
        return;
    view->group(results, view->row(results, i), &text);
    if (text.text && (!*last || strcmp(*last, text.text) != 0)) {
        trn_grid_heading(grid, text.text);
        free(*last);
        *last = text.text;
        text = (trn_buffer){0};
    }
    trn_buffer_free(&text);
}

static void row_cells(const trn_view *view, const trn_results *results, const void *row,
                      notes *all, trn_grid *grid)
{
    for (size_t c = 0; c < view->field_count; c++) {
        const trn_field *field = &view->fields[c];
        if (!field->head)
            continue;
        if (field->kind == TRN_FIELD_TEXT || field->kind == TRN_FIELD_WORD) {
            const char *text = field->text(results, row);
            trn_grid_add(grid, text ? text : "");
        } else if (field->kind == TRN_FIELD_REMARK) {
            note_cell(remarks_of(field, row), all, grid);
        } else {
            number_cell(field, row, grid);
        }
    }
}

void trn_view_table(const trn_view *view, const trn_results *results, size_t width,
                    trn_buffer *out)
{
    enum { COLUMNS_MAX = 40 };
    bool right[COLUMNS_MAX] = {false};
    trn_grid grid = {0};
    notes all = {0};
    char *group = NULL;
    for (size_t c = 0; c < view->field_count && grid.columns < COLUMNS_MAX; c++)
        if (view->fields[c].head) {
            right[grid.columns++] = view->fields[c].kind == TRN_FIELD_NUMBER ||
                                    view->fields[c].kind == TRN_FIELD_LIFE;
            trn_grid_add(&grid, view->fields[c].head);
        }
    for (size_t i = 0; i < view->rows(results); i++) {
        begin_group(view, results, i, &group, &grid);
        row_cells(view, results, view->row(results, i), &all, &grid);
    }
    free(group);
    trn_buffer_print(out, "%s\n\n", view->title);
    trn_grid_print(&grid, right, out);
    for (size_t i = 0; i < all.count; i++) {
        if (i == 0)
            trn_buffer_add(out, "\n");
        char label[24];
        int n = snprintf(label, sizeof label, "%4zu  ", i + 1);
        trn_buffer_add(out, label);
        trn_text_wrap(all.text[i], n > 0 ? (size_t)n : 0, 6, width, out);
        free(all.text[i]);
    }
    free(all.text);
    if (view->caption) {
        trn_buffer_add(out, "\n");
        trn_text_wrap(view->caption, 0, 0, width, out);
    }
    out->failed = out->failed || grid.failed || all.failed;
    trn_grid_free(&grid);
}
