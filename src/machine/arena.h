/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/machine only: the texts of a case, freed together; small helpers for cells. */
#ifndef TRUNNION_ARENA_H
#define TRUNNION_ARENA_H

#include <trunnion/schema.h>

struct trn_arena *trn_arena_new(void);
void trn_arena_free(struct trn_arena *arena);
/* A copy of n bytes that lives as long as the arena; NULL without memory. */
const char *trn_arena_text(struct trn_arena *arena, const char *text, size_t n);

/* Puts the column's default, or `not known`, into the cell of a row. */
void trn_cell_default(const trn_column *column, void *row);

/* Puts a text into a cell. unit: unit of the text's number, NULL for the documented one.
 * decimal: the sheet whose decimal sign holds, NULL for the point. why: message without place.
 * Status: TRN_E_NUMBER, TRN_E_UNIT, TRN_E_DOMAIN, TRN_E_INPUT, TRN_E_MEMORY with why filled. */
trn_status trn_cell_put(const trn_column *column, void *row, const char *text, const char *unit,
                        const trn_sheet *decimal, struct trn_arena *arena, trn_buffer *why);

/* Numbers of a cell, for factors and offsets. */
double *trn_cell_number(const trn_column *column, void *row);
const char *trn_cell_text(const trn_column *column, const void *row);

/* Column of a table by name, NULL if it has none; the most similar name otherwise. */
const char *trn_column_nearest(const trn_table *table, const char *name);
/* Number of letters to change; for `did you mean`. */
size_t trn_edit_distance(const char *a, const char *b);

#endif
