/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rows.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/csv_write.h>

static const void *cell_of(const trn_row_set *set, size_t row, size_t column)
{
    return (const char *)set->rows + row * set->row_size + set->fields[column].offset;
}

static double number_of(const void *cell)
{
    double value = NAN;
    memcpy(&value, cell, sizeof value);
    return value;
}

static size_t count_of(const void *cell)
{
    size_t value = 0;
    memcpy(&value, cell, sizeof value);
    return value;
}

static const char *text_of(const void *cell)
{
    const char *text = NULL;
    memcpy(&text, cell, sizeof text);
    return text ? text : "";
}

void trn_rows_csv(const trn_row_set *set, trn_buffer *out)
{
    trn_csv_writer csv = {.out = out};
    for (size_t c = 0; c < set->field_count; c++) {
        trn_buffer name = {0};
        const trn_row_field *f = &set->fields[c];
        trn_buffer_print(&name, f->unit ? "%s [%s]" : "%s", f->name, f->unit ? f->unit : "");
        trn_csv_word(&csv, name.text ? name.text : "");
        out->failed = out->failed || name.failed;
        trn_buffer_free(&name);
    }
    trn_csv_end(&csv);
    for (size_t r = 0; r < set->count; r++) {
        for (size_t c = 0; c < set->field_count; c++) {
            const void *cell = cell_of(set, r, c);
            switch (set->fields[c].cell) {
            case TRN_ROW_WORD: trn_csv_word(&csv, text_of(cell)); break;
            case TRN_ROW_TEXT: trn_csv_text(&csv, text_of(cell)); break;
            case TRN_ROW_COUNT: trn_csv_number(&csv, (double)count_of(cell)); break;
            case TRN_ROW_WHOLE:
            case TRN_ROW_NUMBER: trn_csv_number(&csv, number_of(cell)); break;
            case TRN_ROW_REMARK: trn_csv_word(&csv, cell); break;
            }
        }
        trn_csv_end(&csv);
    }
}

/* ---- terminal ----------------------------------------------------------------------------- */

enum { DIGITS = 4 };

/* Number of a note, from 1; the same text has the same number. */
static size_t note_number(trn_grid *notes, const char *text, size_t n)
{
    for (size_t i = 0; i < notes->rows; i++)
        if (strlen(notes->cell[i]) == n && strncmp(notes->cell[i], text, n) == 0)
            return i + 1;
    char *copy = trn_text_copy_n(text, n);
    if (copy)
        trn_grid_add(notes, copy);
    notes->failed = notes->failed || !copy;
    free(copy);
    return notes->rows;
}

static void remark_cell(const char *remarks, trn_grid *notes, trn_grid *grid)
{
    trn_buffer numbers = {0};
    for (const char *p = remarks; *p;) {
        const char *end = strstr(p, "; ");
        size_t n = end ? (size_t)(end - p) : strlen(p);
        trn_buffer_print(&numbers, "%s%zu", numbers.length ? "," : "", note_number(notes, p, n));
        p += n + (end ? 2 : 0);
    }
    trn_grid_add(grid, numbers.text ? numbers.text : "");
    grid->failed = grid->failed || numbers.failed;
    trn_buffer_free(&numbers);
}

static void add_cell(const trn_row_field *field, const void *cell, trn_grid *notes,
                     trn_grid *grid)
{
    char text[48];
    switch (field->cell) {
    case TRN_ROW_WORD:
    case TRN_ROW_TEXT: trn_grid_add(grid, text_of(cell)); break;
    case TRN_ROW_COUNT:
        (void)snprintf(text, sizeof text, "%zu", count_of(cell));
        trn_grid_add(grid, text);
        break;
    case TRN_ROW_WHOLE:
        if (!isnan(number_of(cell)))
            (void)snprintf(text, sizeof text, "%.0f", number_of(cell));
        trn_grid_add(grid, isnan(number_of(cell)) ? "" : text);
        break;
    case TRN_ROW_NUMBER:
        trn_number_for_people(number_of(cell), DIGITS, text, sizeof text);
        trn_grid_add(grid, text);
        break;
    case TRN_ROW_REMARK: remark_cell(cell, notes, grid); break;
    }
}

void trn_rows_text(const trn_row_set *set, size_t width, trn_buffer *out)
{
    enum { COLUMNS_MAX = 24 };
    bool right[COLUMNS_MAX] = {false};
    trn_grid grid = {0};
    trn_grid notes = {.columns = 1};
    for (size_t c = 0; c < set->field_count && grid.columns < COLUMNS_MAX; c++)
        if (set->fields[c].head) {
            trn_row_cell cell = set->fields[c].cell;
            right[grid.columns++] = cell == TRN_ROW_NUMBER || cell == TRN_ROW_WHOLE || cell == TRN_ROW_COUNT;
            trn_grid_add(&grid, set->fields[c].head);
        }
    for (size_t r = 0; r < set->count; r++)
        for (size_t c = 0; c < set->field_count; c++)
            if (set->fields[c].head)
                add_cell(&set->fields[c], cell_of(set, r, c), &notes, &grid);
    trn_grid_print(&grid, right, out);
    for (size_t i = 0; i < notes.rows; i++) {
        char label[24];
        int n = snprintf(label, sizeof label, "%s%4zu  ", i ? "" : "\n", i + 1);
        trn_buffer_add(out, label);
        trn_text_wrap(notes.cell[i], n > 0 ? 6 : 0, 6, width, out);
    }
    out->failed = out->failed || grid.failed || notes.failed;
    trn_grid_free(&grid);
    trn_grid_free(&notes);
}
