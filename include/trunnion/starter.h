/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The starter case: tables with every header explained and an invented machine in them, all of
 * them or those that one question needs. */
#ifndef TRUNNION_STARTER_H
#define TRUNNION_STARTER_H

#include <trunnion/file.h>
#include <trunnion/schema.h>

#ifdef __cplusplus
extern "C" {
#endif

/* X(id, word, what it is for) */
#define TRN_STARTER_LIST(X)                                         \
    X(TRN_STARTER_ALL, "all", "everything that the program does")   \
    X(TRN_STARTER_INTERVALS, "intervals", "service intervals")      \
    X(TRN_STARTER_SHAFTS, "shafts", "shaft fit and joint angles")   \
    X(TRN_STARTER_HEAT, "heat", "power losses and oil temperature") \
    X(TRN_STARTER_BEARINGS, "bearings", "bearing loads and lives")  \
    X(TRN_STARTER_REVIEW, "review", "explanations of a failure")

typedef enum trn_starter {
#define TRN_X(id, word, what) id,
    TRN_STARTER_LIST(TRN_X)
#undef TRN_X
    TRN_STARTERS
} trn_starter;

/* `shafts`, `shaft fit and joint angles`. */
const char *trn_starter_word(trn_starter starter);
/* The same for people. */
const char *trn_starter_what(trn_starter starter);
/* Status: TRN_E_UNKNOWN where there is none of this word, out untouched. */
trn_status trn_starter_find(const char *word, trn_starter *out);

/* Is the table (`machine` too) written for this question? */
bool trn_starter_has(trn_starter starter, const char *table);
/* Is the column of such a table written? Columns that act only together with a table that is not
 * written are left out. */
bool trn_starter_column(trn_starter starter, const char *table, const char *column);

/* A note that begins so marks a row of the invented machine. */
extern const char trn_starter_mark[];

/* Writes the tables, and `more` files beside them, into a folder; all of them or none.
 * Status: TRN_E_INPUT: one of the files of a case, or of `more`, is there already;
 *         TRN_E_IO; TRN_E_MEMORY */
trn_status trn_starter_write(const char *folder, trn_starter starter, const trn_file *more,
                             size_t more_count, trn_faults *faults);

#ifdef __cplusplus
}
#endif
#endif
