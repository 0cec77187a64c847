/* SPDX-License-Identifier: GPL-3.0-or-later */
/* CSV bytes to a grid of texts, on libcsv. */
#include <csv.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/table.h>

typedef struct reader {
    char **cells;
    size_t count, capacity;
    size_t *row_start, *row_line;
    size_t rows, row_capacity;
    size_t line; /* physical line of the next row */
    bool failed;
} reader;

static void on_cell(void *bytes, size_t size, void *data)
{
    reader *r = data;
    if (r->failed)
        return;
    if (r->count == r->capacity) {
        size_t capacity = r->capacity ? 2 * r->capacity : 256;
        char **cells = realloc(r->cells, capacity * sizeof *cells);
        if (!cells) {
            r->failed = true;
            return;
        }
        r->cells = cells;
        r->capacity = capacity;
    }
    char *text = trn_text_copy_n(bytes ? bytes : "", bytes ? size : 0);
    if (!text) {
        r->failed = true;
        return;
    }
    r->cells[r->count++] = text;
}

static void on_row(int end, void *data)
{
    (void)end;
    reader *r = data;
    if (r->failed)
        return;
    if (r->rows == r->row_capacity) {
        size_t capacity = r->row_capacity ? 2 * r->row_capacity : 64;
        size_t *start = realloc(r->row_start, (capacity + 1) * sizeof *start);
        if (start)
            r->row_start = start;
        size_t *line = realloc(r->row_line, (capacity + 1) * sizeof *line);
        if (line)
            r->row_line = line;
        if (!start || !line) {
            r->failed = true;
            return;
        }
        r->row_capacity = capacity;
    }
    r->row_start[++r->rows] = r->count;
    if (r->rows == 1)
        r->row_start[0] = 0;
    r->row_line[r->rows - 1] = r->line;
}

static void reader_free(reader *r)
{
    for (size_t i = 0; i < r->count; i++)
        free(r->cells[i]);
    free(r->cells);
    free(r->row_start);
    free(r->row_line);
}

void trn_sheet_free(trn_sheet *sheet)
{
    if (!sheet)
        return;
    free(sheet->name);
    for (size_t i = 0; sheet->header && i < sheet->columns; i++)
        free(sheet->header[i]);
    for (size_t i = 0; sheet->cell && i < sheet->rows * sheet->columns; i++)
        free(sheet->cell[i]);
    free(sheet->header);
    free(sheet->cell);
    free(sheet->line);
    free(sheet);
}

static trn_sheet *build(const char *name, reader *r)
{
    trn_sheet *sheet = calloc(1, sizeof *sheet);
    if (!sheet)
        return NULL;
    sheet->separator = ',';
    sheet->decimal = '.';
    sheet->name = trn_text_copy(name);
    sheet->columns = r->row_start[1];
    sheet->header_line = r->row_line[0];
    sheet->rows = 0;
    sheet->header = calloc(sheet->columns + 1, sizeof *sheet->header);
    sheet->cell = calloc((r->rows - 1) * sheet->columns + 1, sizeof *sheet->cell);
    sheet->line = calloc(r->rows, sizeof *sheet->line);
    if (!sheet->name || !sheet->header || !sheet->cell || !sheet->line) {
        trn_sheet_free(sheet);
        return NULL;
    }
    for (size_t i = 0; i < sheet->columns; i++) {
        sheet->header[i] = r->cells[i];
        r->cells[i] = NULL;
    }
    for (size_t row = 1; row < r->rows; row++) {
        for (size_t i = 0; i < sheet->columns; i++) {
            size_t k = r->row_start[row] + i;
            if (k < r->row_start[row + 1]) {
                sheet->cell[(row - 1) * sheet->columns + i] = r->cells[k];
                r->cells[k] = NULL;
            }
        }
        sheet->line[row - 1] = r->row_line[row];
        sheet->rows = row;
    }
    return sheet;
}

trn_status trn_sheet_parse(const char *name, const void *bytes, size_t size, trn_faults *faults,
                           trn_sheet **out)
{
    struct csv_parser parser;
    if (csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI) != 0)
        return TRN_E_MEMORY;
    reader r = {.line = 1};
    const char *p = bytes;
    const char *end = p + size;
    size_t line = 1;
    bool bad = false;
    while (p < end && !bad) {
        const char *stop = memchr(p, '\n', (size_t)(end - p));
        size_t n = stop ? (size_t)(stop - p) + 1 : (size_t)(end - p);
        r.line = line;
        if (*p != '#')
            bad = csv_parse(&parser, p, n, on_cell, on_row, &r) != n;
        p += n;
        line++;
    }
    if (!bad)
        bad = csv_fini(&parser, on_cell, on_row, &r) != 0;
    csv_free(&parser);
    trn_status status = TRN_OK;
    if (bad) {
        trn_fault_add(faults, name, line - 1, NULL, "a quote is misplaced or not closed");
        status = TRN_E_INPUT;
    } else if (r.failed) {
        status = TRN_E_MEMORY;
    } else if (r.rows == 0) {
        trn_fault_add(faults, name, 0, NULL, "the table is empty");
        status = TRN_E_INPUT;
    } else if (!(*out = build(name, &r))) {
        status = TRN_E_MEMORY;
    }
    reader_free(&r);
    return status;
}

trn_status trn_sheet_read(const char *path, trn_faults *faults, trn_sheet **out)
{
    return trn_sheet_read_as(path, path, faults, out);
}

trn_status trn_sheet_read_as(const char *path, const char *name, trn_faults *faults,
                             trn_sheet **out)
{
    *out = NULL;
    FILE *file = fopen(path, "rb");
    if (!file) {
        trn_fault_add(faults, name, 0, NULL, "%s", strerror(errno));
        return TRN_E_IO;
    }
    trn_buffer text = {0};
    char piece[65536];
    size_t n = 0;
    while ((n = fread(piece, 1, sizeof piece, file)) > 0)
        trn_buffer_add_n(&text, piece, n);
    trn_status status = TRN_OK;
    if (ferror(file)) {
        trn_fault_add(faults, name, 0, NULL, "%s", strerror(errno));
        status = TRN_E_IO;
    } else if (text.failed) {
        status = TRN_E_MEMORY;
    } else {
        status = trn_sheet_parse(name, text.text ? text.text : "", text.length, faults, out);
    }
    (void)fclose(file);
    trn_buffer_free(&text);
    return status;
}

const char *trn_sheet_cell(const trn_sheet *sheet, size_t row, size_t column)
{
    const char *text = sheet->cell[row * sheet->columns + column];
    return text ? text : "";
}

trn_status trn_sheet_number(const trn_sheet *sheet, const char *text, double *out)
{
    (void)sheet;
    return trn_text_number(text, out);
}
