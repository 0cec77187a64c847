/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Decoded text to a grid of texts, on libcsv. */
#include <csv.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reader.h"

/* ---- cells and rows as libcsv gives them -------------------------------------------------- */

/* Cells stand in one text, each ended by NUL; at[] says where. Row 0 is the header. */
typedef struct grid {
    const char *name;
    trn_faults *faults;
    trn_buffer text;
    size_t *at, count, capacity;
    size_t *row_start, *row_line, rows, row_capacity;
    size_t line;    /* physical line where the row at hand begins */
    size_t columns; /* of the header */
    size_t width;   /* the same with the empty cells at its end */
    size_t longer, longer_line; /* rows with more cells than that, all empty; the first of them */
    bool faulty;    /* a fault was added, reading goes on for more of them */
    bool bare;      /* a piece of a stream: header and widths are the receiver's affair */
    bool headed;    /* bare: the header came in a piece before */
    trn_status stop; /* negative: nothing further is read */
} grid;

static const char *cell(const grid *g, size_t k)
{
    return g->text.text + g->at[k];
}

static void *grown(void *list, size_t *capacity, size_t size)
{
    size_t more = *capacity ? 2 * *capacity : 256;
    void *bigger = realloc(list, more * size);
    if (bigger)
        *capacity = more;
    return bigger;
}

static void stop_with(grid *g, size_t line, const char *why)
{
    trn_fault_add(g->faults, g->name, line, NULL, "%s", why);
    g->stop = TRN_E_INPUT;
}

static void on_cell(void *bytes, size_t size, void *data)
{
    grid *g = data;
    if (g->stop < 0)
        return;
    size_t start = g->rows ? g->row_start[g->rows] : 0;
    if (g->count - start >= TRN_COLUMNS_MAX) {
        stop_with(g, g->line, "more than 4096 cells in a line");
        return;
    }
    if (g->count >= TRN_CELLS_MAX) {
        stop_with(g, g->line, "more than 16 million cells");
        return;
    }
    if (g->count == g->capacity) {
        size_t *at = grown(g->at, &g->capacity, sizeof *at);
        if (!at) {
            g->stop = TRN_E_MEMORY;
            return;
        }
        g->at = at;
    }
    size_t from = g->text.length;
    trn_buffer_add_n(&g->text, bytes ? bytes : "", bytes ? size : 0);
    trn_buffer_add_n(&g->text, "", 1);
    if (g->text.failed) {
        g->stop = TRN_E_MEMORY;
        return;
    }
    /* outer blanks go, also those within quotes */
    const char *p = g->text.text;
    size_t end = g->text.length - 1;
    while (from < end && trn_blank_length(p + from) > 0)
        from += trn_blank_length(p + from);
    for (size_t n = 3; n > 0; n--)
        while (end >= from + n && trn_blank_length(p + end - n) == n) {
            end -= n;
            n = 3;
        }
    g->text.text[end] = '\0';
    g->text.length = end + 1;
    g->at[g->count++] = from;
}

static bool name_equal(const char *a, const char *b)
{
    size_t n = strcspn(a, "[");
    size_t m = strcspn(b, "[");
    while (n > 0 && a[n - 1] == ' ')
        n--;
    while (m > 0 && b[m - 1] == ' ')
        m--;
    return n == m && strncmp(a, b, n) == 0;
}

static void check_header(grid *g)
{
    for (size_t i = 0; i < g->columns; i++) {
        if (cell(g, i)[0] == '\0') {
            trn_fault_add(g->faults, g->name, g->line, NULL, "column %zu has no name", i + 1);
            g->faulty = true;
            continue;
        }
        for (size_t k = 0; k < i; k++)
            if (name_equal(cell(g, k), cell(g, i))) {
                trn_fault_add(g->faults, g->name, g->line, cell(g, i),
                              "the name is there twice, as column %zu and column %zu", k + 1,
                              i + 1);
                g->faulty = true;
                break;
            }
    }
}

static void check_width(grid *g, size_t start, size_t n)
{
    if (n <= g->columns)
        return;
    g->faulty = true;
    if (g->rows == 2 && 2 * g->columns <= n) {
        trn_fault_add(g->faults, g->name, g->row_line[0], NULL,
                      "this looks like a title (%zu cell%s above a line of %zu); the first line "
                      "must be the header: begin a title with #",
                      g->columns, g->columns == 1 ? "" : "s", n);
        g->stop = TRN_E_INPUT;
        return;
    }
    trn_fault_add(g->faults, g->name, g->line, NULL,
                  "%zu cells, but the header in line %zu has %zu; the first too many is `%.40s`",
                  n, g->row_line[0], g->columns, cell(g, start + g->columns));
}

/* Takes back the cells from k on. */
static void drop(grid *g, size_t k)
{
    if (k < g->count)
        g->text.length = g->at[k];
    g->count = k;
}

static void on_row(int end, void *data)
{
    (void)end;
    grid *g = data;
    if (g->stop < 0)
        return;
    size_t start = g->rows ? g->row_start[g->rows] : 0;
    size_t cells = g->count - start;
    size_t n = cells;
    while (n > 0 && cell(g, start + n - 1)[0] == '\0')
        n--;
    drop(g, start + n);
    /* a comment that a spreadsheet has put in quotes stands alone on its line */
    bool first = g->rows == 0 && !g->headed;
    bool comment = n == 1 && cell(g, start)[0] == '#' && (cells > 1 || first);
    if (n == 0 || comment) {
        drop(g, start);
        return;
    }
    if (g->rows + 2 > g->row_capacity) {
        size_t before = g->row_capacity;
        size_t *starts = grown(g->row_start, &g->row_capacity, sizeof *starts);
        if (starts)
            g->row_start = starts;
        g->row_capacity = before;
        size_t *lines = starts ? grown(g->row_line, &g->row_capacity, sizeof *lines) : NULL;
        if (!lines) {
            g->stop = TRN_E_MEMORY;
            return;
        }
        g->row_line = lines;
    }
    g->row_start[g->rows] = start;
    g->row_line[g->rows] = g->line;
    g->row_start[++g->rows] = g->count;
    if (g->bare)
        return;
    if (g->rows == 1) {
        g->columns = n;
        g->width = cells;
        check_header(g);
    } else {
        check_width(g, start, n);
        if (cells > g->width && n <= g->columns && g->longer++ == 0)
            g->longer_line = g->line;
    }
}

static void grid_free(grid *g)
{
    trn_buffer_free(&g->text);
    free(g->at);
    free(g->row_start);
    free(g->row_line);
}

/* ---- feeding libcsv ----------------------------------------------------------------------- */

/* libcsv asks for more memory as a cell grows: this is where its size is capped. */
static void *capped(void *memory, size_t size)
{
    return size > TRN_CELL_MAX + 1 ? NULL : realloc(memory, size);
}

typedef struct feeder {
    struct csv_parser parser;
    grid *grid;
    size_t piece;
    size_t line;   /* physical line at hand */
    size_t opened; /* line of the last opening quote */
    size_t before; /* the same of a quote that was open when the line at hand began, else 0 */
    bool quoted;
} feeder;

static void explain(feeder *f)
{
    grid *g = f->grid;
    char why[192];
    int error = csv_error(&f->parser);
    if (error == CSV_ENOMEM && csv_get_buffer_size(&f->parser) < TRN_CELL_MAX + 1) {
        g->stop = TRN_E_MEMORY;
    } else if (error == CSV_ENOMEM || error == CSV_ETOOBIG) {
        stop_with(g, g->line, "a cell is longer than 1 MiB; is a quote not closed?");
    } else if (f->before > 0) {
        (void)snprintf(why, sizeof why,
                       "a misplaced quote; the quoted cell before it began in line %zu: is it "
                       "closed?",
                       f->before);
        stop_with(g, f->line, why);
    } else {
        stop_with(g, f->line,
                  "a misplaced quote; a cell with quotes stands in quotes as a whole, its own "
                  "quotes doubled");
    }
}

/* One line, or the rest of one, with its '\n' if it has one. */
static void feed_line(feeder *f, const char *p, size_t n)
{
    grid *g = f->grid;
    f->before = f->quoted ? f->opened : 0;
    if (!f->quoted) {
        while (n > 0 && *p == ' ') {
            p++;
            n--;
        }
        if (n > 0 && *p == '#')
            return;
        g->line = f->line;
    }
    for (const char *q = memchr(p, '"', n); q; q = memchr(q, '"', n - (size_t)(q - p))) {
        f->quoted = !f->quoted;
        if (f->quoted && (q == p || q[-1] != '"'))
            f->opened = f->line;
        q++;
        if (q == p + n)
            break;
    }
    while (n > 0 && g->stop == TRN_OK) {
        size_t k = n < f->piece ? n : f->piece;
        if (csv_parse(&f->parser, p, k, on_cell, on_row, g) != k)
            explain(f);
        p += k;
        n -= k;
    }
}

static void feed(grid *g, const char *text, size_t size, char separator, size_t line, size_t piece)
{
    feeder f = {.grid = g, .piece = piece, .line = line};
    if (csv_init(&f.parser, CSV_STRICT | CSV_STRICT_FINI) != 0) {
        g->stop = TRN_E_MEMORY;
        return;
    }
    csv_set_delim(&f.parser, (unsigned char)separator);
    csv_set_realloc_func(&f.parser, capped);
    csv_set_blk_size(&f.parser, 4096);
    const char *end = text + size;
    while (text < end && g->stop == TRN_OK) {
        const char *stop = memchr(text, '\n', (size_t)(end - text));
        size_t n = stop ? (size_t)(stop - text) + 1 : (size_t)(end - text);
        feed_line(&f, text, n);
        text += n;
        f.line++;
    }
    if (g->stop < 0) {
        (void)csv_fini(&f.parser, NULL, NULL, NULL); /* with callbacks it would give half a row */
    } else if (f.quoted) {
        stop_with(g, f.opened, "a quoted cell begins in this line and is not closed");
        (void)csv_fini(&f.parser, NULL, NULL, NULL);
    } else if (csv_fini(&f.parser, on_cell, on_row, g) != 0 && g->stop == TRN_OK) {
        explain(&f);
    }
    csv_free(&f.parser);
}

trn_status trn_rows_read(const trn_piece *piece, trn_faults *faults, trn_row_sink sink,
                         void *context)
{
    trn_faults own = {0}; /* said behind those that the receiver finds in the rows before */
    grid g = {.name = piece->name, .faults = &own, .bare = true, .headed = piece->headed};
    feed(&g, piece->text, piece->size, piece->separator, piece->line, TRN_PIECE);
    for (size_t row = 0; row < g.rows; row++) {
        const char *cells[TRN_COLUMNS_MAX];
        size_t n = 0;
        for (size_t k = g.row_start[row]; k < g.row_start[row + 1]; k++)
            cells[n++] = cell(&g, k);
        sink(context, cells, n, g.row_line[row]);
    }
    for (size_t i = 0; i < own.kept; i++)
        trn_fault_add(faults, own.list[i].file, own.list[i].line, NULL, "%s", own.list[i].text);
    trn_faults_free(&own);
    grid_free(&g);
    return g.stop;
}

/* ---- the sheet ---------------------------------------------------------------------------- */

void trn_sheet_free(trn_sheet *sheet)
{
    if (!sheet)
        return;
    free(sheet->name);
    free(sheet->header);
    free(sheet->cell);
    free(sheet->line);
    free(sheet->text);
    free(sheet);
}

static trn_sheet *build(grid *g, char separator)
{
    trn_sheet *sheet = calloc(1, sizeof *sheet);
    if (!sheet)
        return NULL;
    sheet->separator = separator;
    sheet->name = trn_text_copy(g->name);
    sheet->columns = g->columns;
    sheet->header_line = g->row_line[0];
    sheet->rows = g->rows - 1;
    sheet->header = calloc(sheet->columns + 1, sizeof *sheet->header);
    sheet->cell = calloc(sheet->rows * sheet->columns + 1, sizeof *sheet->cell);
    sheet->line = calloc(sheet->rows + 1, sizeof *sheet->line);
    if (!sheet->name || !sheet->header || !sheet->cell || !sheet->line) {
        trn_sheet_free(sheet);
        return NULL;
    }
    sheet->text = g->text.text;
    g->text = (trn_buffer){0};
    for (size_t row = 0; row < g->rows; row++) {
        char **to = row == 0 ? sheet->header : sheet->cell + (row - 1) * sheet->columns;
        for (size_t k = g->row_start[row]; k < g->row_start[row + 1]; k++)
            *to++ = sheet->text + g->at[k];
        if (row > 0)
            sheet->line[row - 1] = g->row_line[row];
    }
    return sheet;
}

/* A comma at the end of every row is a habit. At the end of some it is the trace of a number
 * with a decimal comma, which has moved all cells behind it by one. */
static void check_longer(grid *g, char separator)
{
    if (separator != ',' || g->longer == 0 || (g->longer == g->rows - 1 && g->longer > 1))
        return;
    g->faulty = true;
    trn_fault_add(g->faults, g->name, g->longer_line, NULL,
                  "more cells than the header in line %zu, the last of them empty: a number with "
                  "a decimal comma stands in quotes here (\"71,5\") or is written 71.5; else take "
                  "the comma at the end away",
                  g->row_line[0]);
}

static trn_status finish(grid *g, char separator, trn_sheet **out)
{
    if (g->stop < 0)
        return g->stop;
    if (g->rows == 0) {
        trn_fault_add(g->faults, g->name, 0, NULL, "the table is empty: not even a header line");
        return TRN_E_INPUT;
    }
    check_longer(g, separator);
    if (g->faulty)
        return TRN_E_INPUT;
    if (g->rows * g->columns > TRN_CELLS_MAX) {
        trn_fault_add(g->faults, g->name, 0, NULL, "more than 16 million cells");
        return TRN_E_INPUT;
    }
    trn_sheet *sheet = build(g, separator);
    if (!sheet)
        return TRN_E_MEMORY;
    trn_status status = trn_dialect_decimal(sheet, g->faults);
    if (status < 0)
        trn_sheet_free(sheet);
    else
        *out = sheet;
    return status;
}

struct trn_reader {
    trn_decoder decoder;
    size_t piece;
};

trn_reader *trn_reader_open(const char *name, trn_faults *faults, size_t piece)
{
    trn_reader *reader = calloc(1, sizeof *reader);
    if (reader) {
        trn_decoder_start(&reader->decoder, name, faults);
        reader->piece = piece;
    }
    return reader;
}

trn_status trn_reader_push(trn_reader *reader, const void *bytes, size_t size)
{
    trn_decoder_push(&reader->decoder, bytes, size);
    return reader->decoder.status;
}

void trn_reader_drop(trn_reader *reader)
{
    if (reader)
        trn_decoder_free(&reader->decoder);
    free(reader);
}

trn_status trn_reader_close(trn_reader *reader, trn_sheet **out)
{
    *out = NULL;
    trn_decoder *d = &reader->decoder;
    trn_decoder_finish(d);
    trn_status status = d->status;
    if (status == TRN_OK) {
        const char *text = d->text.text ? d->text.text : "";
        char separator = ',';
        size_t start = 0;
        size_t line = 1;
        status = trn_dialect_separator(d->name, text, d->text.length, d->faults, &separator,
                                       &start, &line);
        if (status == TRN_OK) {
            grid g = {.name = d->name, .faults = d->faults};
            feed(&g, text + start, d->text.length - start, separator, line, reader->piece);
            status = finish(&g, separator, out);
            grid_free(&g);
        }
    }
    trn_reader_drop(reader);
    return status;
}

trn_status trn_sheet_parse(const char *name, const void *bytes, size_t size, trn_faults *faults,
                           trn_sheet **out)
{
    *out = NULL;
    trn_reader *reader = trn_reader_open(name, faults, TRN_PIECE);
    if (!reader)
        return TRN_E_MEMORY;
    (void)trn_reader_push(reader, bytes, size); /* its status is kept for the end */
    return trn_reader_close(reader, out);
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
    trn_reader *reader = trn_reader_open(name, faults, TRN_PIECE);
    trn_status status = reader ? TRN_OK : TRN_E_MEMORY;
    char piece[TRN_PIECE];
    size_t n = 0;
    while (status == TRN_OK && (n = fread(piece, 1, sizeof piece, file)) > 0)
        status = trn_reader_push(reader, piece, n);
    int error = ferror(file) ? errno : 0;
    (void)fclose(file);
    if (reader && error == 0)
        return trn_reader_close(reader, out);
    if (error != 0) {
        trn_fault_add(faults, name, 0, NULL, "%s", strerror(error));
        status = TRN_E_IO;
    }
    trn_reader_drop(reader);
    return status;
}

const char *trn_sheet_cell(const trn_sheet *sheet, size_t row, size_t column)
{
    const char *text = sheet->cell[row * sheet->columns + column];
    return text ? text : "";
}
