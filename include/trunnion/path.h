/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Override paths: `table.key.column`, `machine.quantity`, `*` for every key. */
#ifndef TRUNNION_PATH_H
#define TRUNNION_PATH_H

#include <trunnion/schema.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef struct trn_path {
    const trn_table *table;
    const trn_column *column;
    char key[2][128]; /* "*" for every key; "" where the table has no such key */
} trn_path;

/* Finds table, column and keys of a path text in a case.
 * Status: TRN_E_INPUT with `why` filled (nearest right names), where any part is unknown, the
 *         column is a key, or no row matches. */
trn_status trn_path_parse(const trn_machine *machine, const char *text, trn_path *out,
                          trn_buffer *why);

/* Next row that the path names, from *row on; TRN_NONE if there is none. Start with 0 and go
 * on with the answer + 1. */
size_t trn_path_row(const trn_machine *machine, const trn_path *path, size_t row);

typedef enum trn_change { TRN_ABSOLUTE, TRN_FACTOR, TRN_OFFSET } trn_change;

/* What a value text does: `x1.2` times, `+10` and `+-10` plus, else absolute. */
trn_change trn_change_of(const char *value);

#ifdef __cplusplus
}
#endif
#endif
