/* SPDX-License-Identifier: GPL-3.0-or-later */
/* CSV tables in: bytes to a grid of texts, with the dialect settled once per file, and the list
 * of faults that everything which reads input adds to. */
#ifndef TRUNNION_TABLE_H
#define TRUNNION_TABLE_H

#include <stddef.h>
#include <trunnion/status.h>
#include <trunnion/text.h>

#ifdef __cplusplus
extern "C" {
#endif

enum { TRN_FAULTS_KEPT = 20 };

/* One fault of an input, as `file:line: column NAME: text`. line 0 and column NULL: not about
 * a line, not about a column. */
typedef struct trn_fault {
    char *file;
    size_t line;
    char *column;
    char *text;
} trn_fault;

/* Start with {0}. The first twenty are kept, all are counted. */
typedef struct trn_faults {
    trn_fault list[TRN_FAULTS_KEPT];
    size_t kept, count;
} trn_faults;

/* Adds a fault whose text is printed by format. Memory that runs out leaves it counted only. */
void trn_fault_add(trn_faults *faults, const char *file, size_t line, const char *column,
                   const char *format, ...) TRN_PRINTF(5, 6);
/* `duty.csv:5: column power [kW]: -3 is below 0` */
void trn_fault_text(const trn_fault *fault, trn_buffer *out);
/* Frees the texts; the list is then empty. */
void trn_faults_free(trn_faults *faults);

/* A table as texts. Comment lines (first character '#'), blank lines and lines of blank cells
 * are gone; line[] keeps the physical line of each row. Cells have no outer blanks, newlines in
 * them are '\n', and a missing cell is "". Text is UTF-8. Columns at the end without a name and
 * without a filled cell are dropped.
 *
 * The dialect is settled once for the whole file:
 *   separator  by a first line `sep=;`, else the one of comma, semicolon and tab that the header
 *              line holds most of; as many of two: a fault
 *   decimal    by the numbers of the file. A number that has one reading only (0.5, 12,75,
 *              1.234,5) settles it; columns with a unit in brackets are asked first, the others
 *              where those are silent, columns named note... never. Both signs: a fault. None:
 *              point under a comma or tab, comma under a semicolon. 1.234 under a semicolon,
 *              1,234 under a comma, either under a tab are then numbers in two readings: a fault
 *              that names both. */
typedef struct trn_sheet {
    char *name;        /* as faults print it */
    size_t columns, rows;
    size_t header_line;
    char **header;     /* columns texts */
    char **cell;       /* rows * columns texts, row by row */
    size_t *line;      /* rows */
    char separator;    /* ',' ';' or tab */
    char decimal;      /* '.' or ',' */
    char *text;        /* where the texts stand */
} trn_sheet;

/* Reads a file, or bytes under a name: UTF-8 with or without byte-order mark, UTF-16 with one;
 * LF, CRLF or CR. At most 64 MiB, 1 MiB a cell, 4096 cells a line, 2^24 cells. Titles above the
 * header, cells beyond it, names that come twice, NUL bytes, invalid UTF-8 and quotes out of
 * place are faults.
 * Returned: *out, to be freed with trn_sheet_free
 * Status:   TRN_E_IO (not readable), TRN_E_INPUT (faults say what), TRN_E_MEMORY; *out then is
 *           NULL and nothing is kept. */
trn_status trn_sheet_read(const char *path, trn_faults *faults, trn_sheet **out);
/* The same from bytes in memory; `name` is what faults print. Status: as above */
trn_status trn_sheet_parse(const char *name, const void *bytes, size_t size, trn_faults *faults,
                           trn_sheet **out);
/* As trn_sheet_read, under another name in faults (`duty.csv` for cases/x/duty.csv).
 * Status: as trn_sheet_read */
trn_status trn_sheet_read_as(const char *path, const char *name, trn_faults *faults,
                             trn_sheet **out);
/* NULL is allowed. */
void trn_sheet_free(trn_sheet *sheet);

/* Cell of a row and column, never NULL. */
const char *trn_sheet_cell(const trn_sheet *sheet, size_t row, size_t column);

/* Text of a cell as a number with the sheet's decimal sign; TRN_E_NUMBER otherwise, out
 * untouched. Thousands marks are taken where every group behind the first has three digits and
 * the marks are alike: U+00A0, U+202F, apostrophe, and point or comma where it is not the
 * decimal sign. U+2212 is a minus. No hexadecimal, no nan, no inf. */
trn_status trn_sheet_number(const trn_sheet *sheet, const char *text, double *out);

/* The number at the start of a cell (`12,5 kW`, `35,5/40`); *end is where it stops. Same rules;
 * TRN_E_NUMBER also where its marks are out of order, so that 1,5 is never read as 1. */
trn_status trn_sheet_number_start(const trn_sheet *sheet, const char *text, double *out,
                                  const char **end);

/* Splits `name [unit]`: name without outer blanks (heap), unit (heap, NULL without bracket).
 * Status: TRN_E_INPUT (a bracket that is not closed), TRN_E_MEMORY; nothing is kept then */
trn_status trn_header_split(const char *header, char **name, char **unit);

#ifdef __cplusplus
}
#endif
#endif
