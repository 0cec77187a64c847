/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Replay of expected cells: `set,quantity,expected,tolerance,...` against tables that the library
 * wrote as CSV. */
#ifndef TRUNNION_TEST_REPLAY_H
#define TRUNNION_TEST_REPLAY_H

#include <stdbool.h>
#include <trunnion/table.h>
#include <trunnion/text.h>

/* A file of tests/, or the CSV text of a table, as a sheet; ends the test where that fails. */
trn_sheet *replay_file(const char *name);
trn_sheet *replay_table(const trn_buffer *csv);

/* Column whose header is `name` or `name [unit]`; ends the test where there is none. */
size_t replay_column(const trn_sheet *sheet, const char *name);

/* Cell of a column by name. */
const char *replay_cell(const trn_sheet *sheet, size_t row, const char *column);

/* Is the cell as expected? tolerance: absolute, or `0.001%`; empty: the same text. */
bool replay_matches(const char *cell, const char *expected, const char *tolerance);

/* Writes a text to a new file under the temporary folder; path holds at least 64 bytes. */
void replay_write(const char *text, char *path);

#endif
