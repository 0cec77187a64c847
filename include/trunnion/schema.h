/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The schema of the case tables: one description of every column, from which reading,
 * checking, the starter case, override paths and docs/case-tables.md are derived. */
#ifndef TRUNNION_SCHEMA_H
#define TRUNNION_SCHEMA_H

#include <trunnion/machine.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef enum trn_cell {
    TRN_CELL_KEY,     /* text that names the row (with the other keys of the table) */
    TRN_CELL_NAME,    /* text that names a row of another table, or a place */
    TRN_CELL_TEXT,    /* free text */
    TRN_CELL_NUMBER,
    TRN_CELL_WORD,    /* int: place in words */
    TRN_CELL_NUMBERS, /* trn_numbers, parted by '/' */
    TRN_CELL_TEXTS    /* trn_texts, parted by '/'; several columns may add (prefix) */
} trn_cell;

typedef struct trn_column {
    const char *name;
    trn_cell cell;
    size_t offset;        /* of the member in the row */
    const char *unit;     /* unit of the header as documented; "1": pure number; "" for texts */
    const char *inner;    /* unit of the member */
    const char *range;    /* interval in the documented unit, NULL: any finite number */
    bool required;
    const char *fallback; /* default in the documented unit, NULL: none */
    const char *const *words;
    const char *what;     /* what it is, for headers of the starter case and the docs */
    const char *only;     /* units accepted beside conversion, "h/min"; NULL: all that convert */
} trn_column;

typedef struct trn_table {
    const char *name; /* `shafts`: file shafts.csv, first part of a path */
    const char *what;
    size_t row_size, rows, count; /* offsets of the row array and its count in trn_machine */
    const trn_column *columns;
    size_t column_count;
    bool required;
    const char *buys; /* what the table adds */
} trn_table;

/* Number of tables of a case, machine.csv not counted. */
size_t trn_table_count(void);
/* Table i, in the order of docs/case-tables.md; NULL past the end. */
const trn_table *trn_table_at(size_t i);
/* Table of a name without `.csv`; NULL if there is none. */
const trn_table *trn_table_find(const char *name);
/* machine.csv, one row whose columns are its quantities */
const trn_table *trn_table_head(void);

/* Header of a column as it is documented: `oil_volume [L]`, `teeth`. */
void trn_column_header(const trn_column *column, trn_buffer *out);
/* Does its header carry a bracket (words, money and pure numbers do not)? */
bool trn_column_has_unit(const trn_column *column);

/* Column of a table by name, NULL if it has none. */
const trn_column *trn_column_find(const trn_table *table, const char *name);

/* Row i of a table. */
void *trn_table_row(const trn_machine *machine, const trn_table *table, size_t i);
/* Number of rows of a table in a case. */
size_t trn_table_rows(const trn_machine *machine, const trn_table *table);

#ifdef __cplusplus
}
#endif
#endif
