/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Results as CSV and as tables for a terminal. One description of each column drives both. */
#ifndef TRUNNION_PRESENT_H
#define TRUNNION_PRESENT_H

#include <trunnion/study.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef enum trn_field_kind {
    TRN_FIELD_TEXT,    /* text() gives it: a text of the user's */
    TRN_FIELD_WORD,    /* text() gives it: a word of the program's, such as `+` */
    TRN_FIELD_NUMBER,  /* double at offset */
    TRN_FIELD_LIFE,    /* the same; people see `> 100 000` above that */
    TRN_FIELD_REMARK   /* trn_remarks at offset */
} trn_field_kind;

typedef struct trn_field {
    const char *name;  /* fixed name of the column */
    const char *unit;  /* in the header's bracket; NULL: none */
    trn_field_kind kind;
    size_t offset;
    const char *(*text)(const trn_results *results, const void *row);
    const char *head;  /* heading on a terminal; NULL: not shown there */
} trn_field;

typedef struct trn_view {
    const char *name;    /* file name without .csv */
    const char *title;   /* heading for people */
    const char *caption; /* what has to be said with the table, NULL: nothing */
    const trn_field *fields;
    size_t field_count;
    size_t (*rows)(const trn_results *results);
    const void *(*row)(const trn_results *results, size_t i);
    /* heading of the group that a row belongs to, for people; NULL: no groups */
    void (*group)(const trn_results *results, const void *row, trn_buffer *out);
} trn_view;

/* joints, heat, bearing_lives, gearbox_life, gear_loads, intervals ...; NULL if unknown. */
const trn_view *trn_view_find(const char *name);
/* Number of result files. */
size_t trn_view_count(void);
/* View i, in the order of the page; NULL past the end. */
const trn_view *trn_view_at(size_t i);

/* Header `name [unit]` of a field. */
void trn_field_header(const trn_field *field, trn_buffer *out);

/* Number of a field in a row as people see it: three digits, `>100 000` for a life above that. */
void trn_field_for_people(const trn_field *field, const void *row, char *out, size_t size);

/* lead: text of a first column (`machine`), NULL for none; header: write the header line. */
void trn_view_csv(const trn_view *view, const trn_results *results, const char *lead, bool header,
                  trn_buffer *out);

/* Table for reading at `width` columns, remarks as numbered notes under it. */
void trn_view_table(const trn_view *view, const trn_results *results, size_t width,
                    trn_buffer *out);

/* Rows of ready texts as a table: the first row is the heading. Texts are UTF-8 or ASCII;
 * right[c] true: aligned to the right. */
typedef struct trn_grid {
    size_t columns, rows, capacity;
    char **cell;
    bool failed;
} trn_grid;
/* Adds the next cell, row by row; the text is copied. grid->failed where memory ran out. */
void trn_grid_add(trn_grid *grid, const char *text);
/* A line of its own between the rows, from the left margin on. */
void trn_grid_heading(trn_grid *grid, const char *text);
/* Adds the table to `out`, columns aligned, a line under the first row. */
void trn_grid_print(const trn_grid *grid, const bool *right, trn_buffer *out);
/* Frees the cells; the grid is then empty. */
void trn_grid_free(trn_grid *grid);

/* Breaks a text at blanks so that no line passes `width` columns; `first` columns are taken
 * already, later lines begin at `indent`. Ends with a newline. */
void trn_text_wrap(const char *text, size_t first, size_t indent, size_t width, trn_buffer *out);

/* The interval table with the four figures side by side, each reason under its row. */
void trn_intervals_table(const trn_results *results, size_t width, trn_buffer *out);

/* The chosen numbers in use (results->ledger), a paragraph each. */
void trn_choices_text(const trn_results *results, size_t width, trn_buffer *out);

/* A number for people: `digits` significant digits, no exponent below 1e7. */
void trn_number_for_people(double value, int digits, char *out, size_t size);

#ifdef __cplusplus
}
#endif
#endif
