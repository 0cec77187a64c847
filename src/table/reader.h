/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of the table reader: bytes are pushed in pieces of any size, decoded to one UTF-8 text,
 * parted into cells by libcsv, and the decimal sign is settled over all cells. */
#ifndef TRUNNION_TABLE_READER_H
#define TRUNNION_TABLE_READER_H

#include <iconv.h>
#include <stdbool.h>
#include <trunnion/table.h>

enum {
    TRN_FILE_MAX = 64 << 20,  /* bytes of a file */
    TRN_CELL_MAX = 1 << 20,   /* bytes of a cell, in UTF-8 */
    TRN_COLUMNS_MAX = 4096,   /* cells of a line */
    TRN_CELLS_MAX = 1 << 24,  /* cells of a table */
    TRN_PIECE = 65536         /* bytes that libcsv is given at a time */
};

/* ---- decode.c: bytes to UTF-8 with '\n' at every line end --------------------------------- */

typedef struct trn_decoder {
    const char *name;
    trn_faults *faults;
    trn_buffer text;
    iconv_t converter;
    const char *encoding;   /* NULL until the first bytes have shown it */
    unsigned char held[8];  /* a character, or a byte-order mark, that is not complete yet */
    size_t held_count;
    size_t size;            /* bytes pushed */
    size_t line;            /* of the next character, from 1 */
    bool after_cr;
    bool endless;           /* a stream: no bound on its size */
    trn_status status;      /* negative: a fault was added, nothing further is taken */
} trn_decoder;

void trn_decoder_start(trn_decoder *decoder, const char *name, trn_faults *faults);
void trn_decoder_push(trn_decoder *decoder, const void *bytes, size_t size);
void trn_decoder_finish(trn_decoder *decoder);
void trn_decoder_free(trn_decoder *decoder);

/* ---- dialect.c: what parts the cells, what the decimal sign is ---------------------------- */

/* Separator by the `sep=` line or the header line; *start is where the table begins (after the
 * `sep=` line) and *line the physical line there. */
trn_status trn_dialect_separator(const char *name, const char *text, size_t size,
                                 trn_faults *faults, char *separator, size_t *start,
                                 size_t *line);

/* Decimal sign by the evidence of all cells; sets sheet->decimal. */
trn_status trn_dialect_decimal(trn_sheet *sheet, trn_faults *faults);

/* ---- number.c ----------------------------------------------------------------------------- */

/* Number at the start of text, written with a decimal sign and thousands marks, as a plain
 * number: the bytes it takes, 0 where there is none or its marks are not in order. */
size_t trn_number_plain(const char *text, char decimal, char *plain, size_t size);

/* Length of a blank at p: ASCII white space, U+00A0, U+202F; 0 if there is none. */
size_t trn_blank_length(const char *p);

/* ---- sheet.c: the rows of a piece of a stream ---------------------------------------------- */

/* Decoded text that begins and ends between two rows. */
typedef struct trn_piece {
    const char *name, *text;
    size_t size;
    size_t line;    /* physical line where it begins */
    char separator;
    bool headed;    /* the header came before it */
} trn_piece;

/* Cells as in a sheet: without outer blanks, those at the end that are empty left out. Blank
 * lines and comments give no row. The texts live for the call. */
typedef void (*trn_row_sink)(void *context, const char *const *cells, size_t n, size_t line);

/* All rows of the piece, also those before a fault: quotes out of place, cells too many or too
 * long (TRN_E_INPUT), TRN_E_MEMORY. */
trn_status trn_rows_read(const trn_piece *piece, trn_faults *faults, trn_row_sink sink,
                         void *context);

/* ---- sheet.c: the push interface ---------------------------------------------------------- */

typedef struct trn_reader trn_reader;

/* piece: bytes that libcsv is given at a time, at least 1. NULL without memory. */
trn_reader *trn_reader_open(const char *name, trn_faults *faults, size_t piece);
/* Negative once a fault was found: the rest need not be pushed. */
trn_status trn_reader_push(trn_reader *reader, const void *bytes, size_t size);
/* Ends the input, gives the sheet (NULL with a negative status) and frees the reader. */
trn_status trn_reader_close(trn_reader *reader, trn_sheet **out);
/* Frees the reader without a sheet. */
void trn_reader_drop(trn_reader *reader);

#endif
