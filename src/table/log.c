/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Logs opened, their dialect settled, handed out in blocks of whole rows. */
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "log_inside.h"

/* ---- the first rows ------------------------------------------------------------------------ */

/* Rows of the head as a sheet, so that the decimal sign is settled as in the case tables. Cells
 * beyond the header are left to the reading of the rows. */
typedef struct head {
    trn_buffer text;
    size_t *at;        /* of each cell, 0: an empty one (the text begins with a NUL) */
    size_t count, capacity;
    size_t *line;
    size_t rows, row_capacity;
    size_t columns;    /* of the first row, which is the header */
    bool failed;
} head;

static void *larger(void *list, size_t *capacity, size_t need, size_t size)
{
    if (list && need <= *capacity)
        return list;
    size_t more = *capacity ? *capacity : 256;
    while (more < need)
        more *= 2;
    void *bigger = realloc(list, more * size);
    if (bigger)
        *capacity = more;
    return bigger;
}

static void on_head_row(void *context, const char *const *cells, size_t n, size_t line)
{
    head *h = context;
    if (h->rows == 0)
        h->columns = n;
    size_t *at = larger(h->at, &h->capacity, h->count + h->columns, sizeof *at);
    size_t *lines = larger(h->line, &h->row_capacity, h->rows + 1, sizeof *lines);
    h->at = at ? at : h->at;
    h->line = lines ? lines : h->line;
    h->failed = h->failed || !at || !lines;
    if (h->failed)
        return;
    for (size_t c = 0; c < h->columns; c++) {
        at[h->count++] = c < n ? h->text.length : 0;
        if (c < n)
            trn_buffer_add_n(&h->text, cells[c], strlen(cells[c]) + 1);
    }
    lines[h->rows++] = line;
    h->failed = h->text.failed;
}

static void head_free(head *h)
{
    trn_buffer_free(&h->text);
    free(h->at);
    free(h->line);
}

static trn_status settle(trn_log *log, head *h, const trn_log_names *names, trn_faults *faults)
{
    char **cell = calloc(h->count + 1, sizeof *cell);
    if (!cell)
        return TRN_E_MEMORY;
    for (size_t i = 0; i < h->count; i++)
        cell[i] = h->text.text + h->at[i];
    log->columns = h->columns;
    log->header_line = h->line[0];
    log->header = calloc(h->columns + 1, sizeof *log->header);
    log->role = calloc(h->columns + 1, 1);
    trn_status status = log->header && log->role ? TRN_OK : TRN_E_MEMORY;
    for (size_t c = 0; c < h->columns && status == TRN_OK; c++)
        if (!(log->header[c] = trn_text_copy(cell[c])))
            status = TRN_E_MEMORY;
    trn_sheet sheet = {.name = log->name,
                       .columns = h->columns,
                       .rows = h->rows - 1,
                       .header_line = h->line[0],
                       .header = cell,
                       .cell = cell + h->columns,
                       .line = h->line + 1,
                       .separator = log->separator};
    if (status == TRN_OK)
        status = trn_dialect_decimal(&sheet, faults);
    log->decimal = sheet.decimal;
    for (size_t i = h->columns; i < h->count; i++)
        log->settled = log->settled || (strchr(cell[i % h->columns], '[') &&
                                        strpbrk(cell[i], ".,"));
    if (status == TRN_OK)
        status = log_layout(log, names, &sheet, faults);
    free(cell);
    return status;
}

/* Takes title lines, comments and the header off the carry. */
static void drop_header(trn_log *log, size_t start)
{
    const char *p = log->carry.p;
    size_t n = log->carry.size;
    size_t line = log->line;
    size_t at = start;
    bool quotes = false;
    while (line <= log->header_line && at < n) {
        size_t k = log_cut(p + at, n - at, 1, &quotes);
        if (k == 0)
            k = n - at;
        line += log_newlines(p + at, k);
        at += k;
        if (at == n)
            break;
    }
    memmove(log->carry.p, p + at, n - at);
    log->carry.size = n - at;
    log->line = line;
}

static trn_status read_head(trn_log *log, const trn_log_names *names, trn_faults *faults)
{
    trn_status status = TRN_OK;
    size_t cut = 0;
    bool quotes = false;
    size_t start = 0;
    /* more where a header is longer than the head */
    for (size_t want = LOG_HEAD; status == TRN_OK && cut == 0; want *= 2) {
        while (status == TRN_OK && !log->ended && log->carry.size < want)
            status = log_fill(log, faults);
        cut = log_cut(log->carry.p, log->carry.size, log->carry.size, &quotes);
        if (log->ended || want > LOG_ROW_MAX)
            cut = log->carry.size;
        if (cut == 0 && log->ended)
            break;
    }
    if (status == TRN_OK)
        status = trn_dialect_separator(log->name, log->carry.p, cut, faults, &log->separator,
                                       &start, &log->line);
    head h = {0};
    trn_buffer_add_n(&h.text, "", 1);
    if (status == TRN_OK) {
        trn_piece piece = {.name = log->name,
                           .text = log->carry.p + start,
                           .size = cut - start,
                           .line = log->line,
                           .separator = log->separator};
        trn_faults later = {0};
        /* quotes out of order behind the header are said in their turn */
        status = trn_rows_read(&piece, &later, on_head_row, &h);
        if (status == TRN_E_INPUT && h.rows > 0)
            status = TRN_OK;
        else if (status < 0)
            (void)trn_rows_read(&piece, faults, on_head_row, &h);
        trn_faults_free(&later);
    }
    if (h.failed)
        status = TRN_E_MEMORY;
    if (status == TRN_OK && h.rows == 0) {
        trn_fault_add(faults, log->name, 0, NULL, "the log is empty: not even a header line");
        status = TRN_E_INPUT;
    }
    if (status == TRN_OK)
        status = settle(log, &h, names, faults);
    head_free(&h);
    if (status == TRN_OK)
        drop_header(log, start);
    return status;
}

/* ---- open and close ------------------------------------------------------------------------ */

static trn_status open_file(trn_log *log, const char *path, trn_faults *faults)
{
    int fd = strcmp(path, "-") == 0 ? dup(STDIN_FILENO) : open(path, O_RDONLY | O_CLOEXEC);
    if (fd < 0) {
        trn_fault_add(faults, log->name, 0, NULL, "%s", strerror(errno));
        return TRN_E_IO;
    }
    log->file = gzdopen(fd, "rb");
    if (!log->file) {
        (void)close(fd);
        return TRN_E_MEMORY;
    }
    (void)gzbuffer(log->file, LOG_CHUNK / 4);
    return TRN_OK;
}

trn_status trn_log_open(const char *path, const trn_log_names *names, size_t block,
                        trn_faults *faults, trn_log **out)
{
    *out = NULL;
    trn_log *log = calloc(1, sizeof *log);
    if (!log)
        return TRN_E_MEMORY;
    log->name = trn_text_copy(strcmp(path, "-") == 0 ? "standard input" : path);
    log->line = 1;
    log->block = block ? block : LOG_BLOCK;
    trn_decoder_start(&log->decoder, log->name, faults);
    log->decoder.endless = true;
    trn_status status = log->name ? open_file(log, path, faults) : TRN_E_MEMORY;
    if (status == TRN_OK)
        status = read_head(log, names, faults);
    if (status == TRN_OK)
        *out = log;
    else
        trn_log_close(log);
    return status;
}

void trn_log_close(trn_log *log)
{
    if (!log)
        return;
    if (log->file)
        (void)gzclose(log->file);
    trn_decoder_free(&log->decoder);
    for (size_t c = 0; log->header && c < log->columns; c++)
        free(log->header[c]);
    free(log->header);
    free(log->role);
    free(log->carry.p);
    trn_buffer_free(&log->unused);
    free(log->name);
    free(log);
}

bool trn_log_has(const trn_log *log, trn_log_channel channel)
{
    return log->column_of[channel] != SIZE_MAX;
}

bool trn_log_has_position(const trn_log *log)
{
    return log->column_of[TRN_LOG_POSITION] != SIZE_MAX;
}

trn_log_clock trn_log_clock_of(const trn_log *log)
{
    return log->clock;
}

const char *trn_log_unused(const trn_log *log)
{
    return log->unused.text ? log->unused.text : "";
}

/* ---- blocks -------------------------------------------------------------------------------- */

trn_log_block *trn_log_block_new(void)
{
    return calloc(1, sizeof(trn_log_block));
}

void trn_log_block_free(trn_log_block *block)
{
    if (block)
        free(block->text.p);
    free(block);
}

bool trn_log_block_plain(const trn_log_block *block)
{
    return !block->odd && !block->quotes;
}

trn_status trn_log_next(trn_log *log, trn_log_block *block, trn_faults *faults, bool *more)
{
    size_t cut = 0;
    block->quotes = false;
    do {
        trn_status status = TRN_OK;
        size_t before = log->carry.size;
        size_t target = cut == 0 && before >= log->block ? before + LOG_CHUNK : log->block;
        if (before > 0 && before >= log->block)
            cut = log_cut(log->carry.p, before, log->block, &block->quotes);
        if (cut > 0)
            break;
        while (status == TRN_OK && !log->ended && log->carry.size < target)
            status = log_fill(log, faults);
        if (status < 0)
            return status;
        cut = log_cut(log->carry.p, log->carry.size, log->block, &block->quotes);
        if (cut == 0 && (log->ended || log->carry.size > LOG_ROW_MAX))
            cut = log->carry.size;
    } while (cut == 0 && !log->ended);
    *more = cut > 0;
    if (!*more)
        return TRN_OK;
    /* the carry becomes the block, what is behind the cut the new carry */
    size_t rest = log->carry.size - cut;
    if (!log_reserve(&block->text, rest))
        return TRN_E_MEMORY;
    if (rest > 0)
        memcpy(block->text.p, log->carry.p + cut, rest);
    log_text swap = block->text;
    block->text = log->carry;
    log->carry = swap;
    log->carry.size = rest;
    block->text.size = cut;
    block->text.p[cut] = '\n'; /* what stood there is in the carry */
    block->odd = log->carry_odd;
    log->carry_odd = log->carry_odd && log_odd(log->carry.p, rest);
    block->line = log->line;
    log->line += log_newlines(block->text.p, cut);
    return TRN_OK;
}
