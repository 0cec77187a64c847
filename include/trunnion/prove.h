/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Check files: published and derived values replayed through the catalogue. */
#ifndef TRUNNION_PROVE_H
#define TRUNNION_PROVE_H

#include <trunnion/table.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef struct trn_check {
    char *id, *formula, *output, *computed, *expected, *tolerance, *standing, *source;
    bool pass;
    size_t line;
} trn_check;

typedef struct trn_checks {
    trn_check *list;
    size_t count, capacity, passed;
} trn_checks;

/* Results of a case, so that a row may have an address (`bearing_lives.all.c_in_B.L10h`) in the
 * place of a formula. */
typedef struct trn_prove_cell {
    double value;     /* NaN: blank */
    const char *unit; /* of the result file, "1" without */
    const char *word; /* of a column of texts, else NULL */
} trn_prove_cell;

typedef struct trn_prove_results {
    /* TRN_E_INPUT where nothing has that address; column may be "" */
    trn_status (*find)(void *context, const char *address, const char *column,
                       trn_prove_cell *cell);
    void *context;
} trn_prove_results;

/* Replays the rows of a check file (or of bytes under a name) and adds them to checks.
 * Columns: id,formula,inputs,output,expected,tolerance,standing,source.
 * results: NULL, or what rows with an address are judged against.
 * Status: TRN_OK where every row could be judged (a row that fails is no error);
 *         TRN_E_INPUT (faults name line and column), TRN_E_IO, TRN_E_MEMORY */
trn_status trn_prove_file(const char *path, const trn_prove_results *results, trn_faults *faults,
                          trn_checks *checks);
/* The same from bytes under a name that faults print. Status: as above */
trn_status trn_prove_bytes(const char *name, const void *bytes, size_t size, trn_faults *faults,
                           trn_checks *checks);
/* The published checks that are built into the library: tests/published/SUBJECT.csv, line by
 * line, each list ended by NULL. */
typedef struct trn_built_in_file {
    const char *name;
    const char *const *lines;
} trn_built_in_file;
extern const trn_built_in_file trn_built_in[];
extern const size_t trn_built_in_count;

/* Frees the rows; the list is then empty. */
void trn_checks_free(trn_checks *checks);

#ifdef __cplusplus
}
#endif
#endif
