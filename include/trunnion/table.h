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

void trn_fault_add(trn_faults *faults, const char *file, size_t line, const char *column,
                   const char *format, ...) TRN_PRINTF(5, 6);
/* `duty.csv:5: column power [kW]: -3 is below 0` */
void trn_fault_text(const trn_fault *fault, trn_buffer *out);
void trn_faults_free(trn_faults *faults);

/* A table as texts. Comment lines (first character '#') and blank lines are gone; line[] keeps
 * the physical line of each row. Cells have no outer blanks; a missing cell is "". */
typedef struct trn_sheet {
    char *name;        /* as faults print it */
    size_t columns, rows;
    size_t header_line;
    char **header;     /* columns texts */
    char **cell;       /* rows * columns texts, row by row */
    size_t *line;      /* rows */
    char separator;    /* ',' ';' or tab */
    char decimal;      /* '.' or ',' */
} trn_sheet;

/* Reads a file, or bytes under a name.
 * Returned: *out, to be freed with trn_sheet_free
 * Status:   TRN_E_IO (not readable), TRN_E_INPUT (faults say what), TRN_E_MEMORY; *out then is
 *           NULL and nothing is kept. */
trn_status trn_sheet_read(const char *path, trn_faults *faults, trn_sheet **out);
trn_status trn_sheet_parse(const char *name, const void *bytes, size_t size, trn_faults *faults,
                           trn_sheet **out);
/* As trn_sheet_read, under another name in faults (`duty.csv` for cases/x/duty.csv). */
trn_status trn_sheet_read_as(const char *path, const char *name, trn_faults *faults,
                             trn_sheet **out);
void trn_sheet_free(trn_sheet *sheet);

/* Cell of a row and column, never NULL. */
const char *trn_sheet_cell(const trn_sheet *sheet, size_t row, size_t column);

/* Text of a cell as a number with the sheet's decimal sign; TRN_E_NUMBER otherwise. */
trn_status trn_sheet_number(const trn_sheet *sheet, const char *text, double *out);

/* Splits `name [unit]`: name without outer blanks (heap), unit (heap, NULL without bracket). */
trn_status trn_header_split(const char *header, char **name, char **unit);

#ifdef __cplusplus
}
#endif
#endif
