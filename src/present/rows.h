/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/present only: tables of plain rows that belong to no trn_results. One description
 * of the columns drives CSV and terminal. */
#ifndef TRUNNION_PRESENT_ROWS_H
#define TRUNNION_PRESENT_ROWS_H

#include <trunnion/present.h>

typedef enum trn_row_cell {
    TRN_ROW_WORD,   /* const char *, a word of the program */
    TRN_ROW_TEXT,   /* const char *, from outside */
    TRN_ROW_COUNT,  /* size_t */
    TRN_ROW_NUMBER, /* double */
    TRN_ROW_WHOLE,  /* double that counts things: no digits behind the point for people */
    TRN_ROW_REMARK  /* char array, remarks parted by `; ` */
} trn_row_cell;

typedef struct trn_row_field {
    const char *name;
    const char *unit; /* NULL: none */
    trn_row_cell cell;
    size_t offset;
    const char *head; /* heading on a terminal; NULL: not shown there */
} trn_row_field;

typedef struct trn_row_set {
    const trn_row_field *fields;
    size_t field_count;
    const void *rows;
    size_t row_size, count;
} trn_row_set;

void trn_rows_csv(const trn_row_set *set, trn_buffer *out);

/* Remarks as numbered notes under the table. */
void trn_rows_text(const trn_row_set *set, size_t width, trn_buffer *out);

#endif
