/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What results stand on: the inputs in their chains of formulas, and the weakest basis of these. */
#ifndef TRUNNION_STANDS_H
#define TRUNNION_STANDS_H

#include <trunnion/inputs.h>
#include <trunnion/working.h>

#ifdef __cplusplus
extern "C" {
#endif

/* A result and the inputs in its chain of formulas, as `--working` finds them. */
typedef struct trn_stand {
    char *address;
    bool *uses;     /* one a place of the inputs */
    bool open;      /* its own chain is being looked at */
    size_t count;   /* inputs in the chain */
    size_t weakest; /* of them with the weakest basis, the first; TRN_NONE: the chain has none */
    size_t as_weak; /* that have this basis */
} trn_stand;

typedef struct trn_stands {
    const trn_results *results;
    const trn_trace *trace;
    const trn_inputs *inputs;
    trn_stand *list;
    size_t count, capacity;
    bool failed;
} trn_stands;

/* Looks at the chain of a result and at those that it rests on.
 * Given:    address  as --working takes it: `intervals.rotor oil.recommended`
 * Returned: NULL where the result has no chain or memory ran out. The answer holds until the
 *           next call. */
const trn_stand *trn_stands_of(trn_stands *stands, const char *address);
/* Frees what was looked at; it is then empty. */
void trn_stands_free(trn_stands *stands);

/* Looks at every result of intervals, heat, bearing lives over the duty, gearboxes and shafts,
 * and counts for each input how many of these rest on it.
 * Status: TRN_E_MEMORY */
trn_status trn_stands_count(trn_stands *stands, trn_inputs *inputs);

#ifdef __cplusplus
}
#endif
#endif
