/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every input that a case comes to: where it comes from and what it rests on. */
#ifndef TRUNNION_INPUTS_H
#define TRUNNION_INPUTS_H

#include <trunnion/schema.h>
#include <trunnion/study.h>
#include <trunnion/step.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef enum trn_origin_kind {
    TRN_ORIGIN_GIVEN,    /* a filled cell of the case */
    TRN_ORIGIN_DEFAULT,  /* a blank cell whose column has a default */
    TRN_ORIGIN_OVERRIDE, /* set by --set or --scenario */
    TRN_ORIGIN_COMPUTED  /* a blank cell that follows from other inputs */
} trn_origin_kind;

/* Word of an origin as inputs.csv has it. */
const char *trn_origin_word(trn_origin_kind origin);

/* Strongest first; the words of basis.csv. */
typedef enum trn_input_basis {
    TRN_BASED_MEASURED,
    TRN_BASED_CATALOGUE,
    TRN_BASED_DRAWING,
    TRN_BASED_MANUAL,
    TRN_BASED_STATED,
    TRN_BASED_ASSUMED
} trn_input_basis;

/* Path of a cell as overrides write it (table.NUMBER.column where rows have no key), and what it
 * holds in the documented unit; nothing where it is not known. Added to out. */
void trn_cell_path(const trn_machine *machine, const trn_table *table, size_t row,
                   const trn_column *column, trn_buffer *out);
/* Value of the cell, without its unit. */
void trn_cell_value(const trn_machine *machine, const trn_table *table, size_t row,
                    const trn_column *column, trn_buffer *out);

/* Word of a basis as basis.csv has it. */
const char *trn_basis_word(trn_input_basis basis);

typedef struct trn_input {
    const trn_table *table;
    const trn_column *column;
    size_t row;
    char *path;       /* as overrides write it; table.NUMBER.column where rows have no key */
    char *value;      /* in the documented unit */
    const char *unit; /* "" where it has none */
    trn_origin_kind origin;
    trn_input_basis basis;  /* of basis.csv; without a row: given = stated, others = assumed */
    size_t basis_row; /* of basis.csv, TRN_NONE */
    size_t used;      /* results that rest on it */
} trn_input;

/* Start with {0}. */
typedef struct trn_inputs {
    trn_input *list; /* table by table, row by row */
    size_t count, capacity;
    size_t *sorted; /* by path */
    bool failed;
} trn_inputs;

/* All inputs that are known. Keys of rows and notes are not among them.
 * Given:    results  evaluated with TRN_WANT_ALL; trace: of that evaluation (NULL: without what
 *                    only a trace knows)
 * Returned: inputs   to be freed with trn_inputs_free, also after a failure
 * Status:   TRN_E_MEMORY */
trn_status trn_inputs_make(const trn_results *results, const trn_trace *trace,
                           trn_inputs *inputs);
/* Frees paths and values; the list is then empty. */
void trn_inputs_free(trn_inputs *inputs);

/* Place in the list, TRN_NONE. */
size_t trn_inputs_find(const trn_inputs *inputs, const char *path);

/* path,value,unit,origin,basis,results */
void trn_inputs_csv(const trn_inputs *inputs, trn_buffer *out);

#ifdef __cplusplus
}
#endif
#endif
