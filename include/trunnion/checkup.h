/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a case that reads without faults can and cannot give, and what to look at again. All of
 * it is read off the results of one evaluation; reasons are the remarks that stand in them. */
#ifndef TRUNNION_CHECKUP_H
#define TRUNNION_CHECKUP_H

#include <trunnion/study.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef enum trn_checkup_state {
    TRN_CHECKUP_OK,      /* computed */
    TRN_CHECKUP_MISSING, /* not computed, or taken as at a reference; the text says why */
    TRN_CHECKUP_LOOK     /* computed, but worth a second look */
} trn_checkup_state;

/* X(id, word, heading) */
#define TRN_CHECKUP_PARTS(X)                                                                   \
    X(TRN_CHECKUP_FIGURES, "figures", "Figures to read once more")                             \
    X(TRN_CHECKUP_AXLES, "axles", "Turning and thrust: does the machine do this?")             \
    X(TRN_CHECKUP_JOINTS, "joints", "Joints and shaft fit")                                    \
    X(TRN_CHECKUP_OIL, "oil", "Losses and oil temperatures")                                   \
    X(TRN_CHECKUP_BEARINGS, "bearings", "Bearing lives")                                       \
    X(TRN_CHECKUP_INTERVALS, "intervals", "Service intervals")                                 \
    X(TRN_CHECKUP_BLANKS, "blanks", "What blanks cost, the dearest first")                     \
    X(TRN_CHECKUP_TABLES, "tables", "Tables without rows, and what they would add")

typedef enum trn_checkup_part {
#define TRN_X(id, word, heading) id,
    TRN_CHECKUP_PARTS(TRN_X)
#undef TRN_X
    TRN_CHECKUP_PART_COUNT
} trn_checkup_part;

typedef struct trn_checkup_item {
    trn_checkup_part part;
    trn_checkup_state state;
    char *item; /* shaft, gearbox, point, axle, file */
    char *text;
} trn_checkup_item;

typedef struct trn_checkup {
    trn_checkup_item *items; /* in the order of reading: see trn_checkup_stage_of */
    size_t count, capacity;
    bool outside; /* a result lies outside its validity */
    bool failed;  /* out of memory */
} trn_checkup;

/* What a person reads first: what deserves a second look, whatever part it belongs to; which way
 * things turn; what is computed and what is not; what blanks cost; tables that are not there. */
typedef enum trn_checkup_stage {
    TRN_CHECKUP_STAGE_LOOK,
    TRN_CHECKUP_STAGE_TURN,
    TRN_CHECKUP_STAGE_COMPUTED,
    TRN_CHECKUP_STAGE_BLANKS,
    TRN_CHECKUP_STAGE_TABLES,
    TRN_CHECKUP_STAGES
} trn_checkup_stage;

/* Stage that a line belongs to; never fails. */
trn_checkup_stage trn_checkup_stage_of(const trn_checkup_item *item);

/* Evaluates the case and says what came of it.
 * Given:    machine   read and linked
 * Returned: checkup   to be freed with trn_checkup_free, also after a failure
 * Status:   TRN_E_MEMORY */
trn_status trn_checkup_make(const trn_machine *machine, trn_checkup *checkup);
/* Frees the lines of a checkup; it is then empty. */
void trn_checkup_free(trn_checkup *checkup);

/* `joints`, `Joints and shaft fit`; `ok`, `missing`, `look`. */
const char *trn_checkup_part_word(trn_checkup_part part);
/* Heading of a part for people, a static text. */
const char *trn_checkup_part_heading(trn_checkup_part part);
/* Word of a state, as CSV and terminal show it; a static text. */
const char *trn_checkup_state_word(trn_checkup_state state);

#ifdef __cplusplus
}
#endif
#endif
