/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/machine only: the example machine of the starter case. */
#ifndef TRUNNION_STARTER_ROWS_H
#define TRUNNION_STARTER_ROWS_H

#include <trunnion/starter.h>

/* One row: cells as `column=value`, parted by '|'. Columns that are not named stay blank.
 * machine.csv has one row whose columns are its quantities. */
typedef struct trn_starter_rows {
    const char *table;
    bool acts; /* else the rows stand behind a # */
    const char *const *rows;
    size_t count;
} trn_starter_rows;

/* Rows of a table, NULL if the example has none. */
const trn_starter_rows *trn_starter_rows_of(const char *table);

/* Does the row belong to this question? */
bool trn_starter_row_in(trn_starter starter, const char *table, const char *row);
/* Cells that go before those of the row, "" where there are none. */
const char *trn_starter_instead(trn_starter starter, const char *table, const char *row);
bool trn_starter_acts(trn_starter starter, const trn_starter_rows *rows);

#endif
