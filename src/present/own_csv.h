/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/present only: reads back what csv_write.h wrote, cell by cell. */
#ifndef TRUNNION_PRESENT_OWN_CSV_H
#define TRUNNION_PRESENT_OWN_CSV_H

#include <trunnion/handover.h>

/* The next cell, its text in *cell (emptied first), without the apostrophe that keeps a
 * spreadsheet from running it. *at is the place in the file, 0 at first; *last: it ends its line.
 * false behind the last cell. cell->failed where memory ran out. */
bool trn_own_csv_cell(const trn_package_file *file, size_t *at, trn_buffer *cell, bool *last);

/* Does the name end in `.csv`? */
bool trn_own_csv(const trn_package_file *file);

#endif
