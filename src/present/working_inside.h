/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/present/working*.c only. */
#ifndef TRUNNION_WORKING_INSIDE_H
#define TRUNNION_WORKING_INSIDE_H

#include <trunnion/working.h>

/* The rows of the case that a step or a result is about; TRN_NONE where it is about none. */
typedef struct trn_place {
    const trn_results *results;
    const trn_trace *trace;
    const trn_note *note;        /* NULL: a result */
    const char *stage, *variant; /* of the note; "" */
    const char *condition_text;  /* as notes of the place carry it */
    const char *position;        /* NULL */
    size_t condition, shaft, gearbox, axle, gear, bearing, point;
    size_t limit;                /* notes before this one may be taken from */
    size_t worked;               /* condition of an `all` result that is worked in full */
    bool solves;                 /* the working solves a heat balance itself */
} trn_place;

trn_place trn_place_of_note(const trn_results *results, const trn_trace *trace, size_t note);
trn_place trn_place_of_row(const trn_results *results, const trn_trace *trace,
                           const trn_view *view, size_t row);

/* Where a value came from. si: unit of the value; used: what may not be taken again by numbered
 * inputs of one kind (a flag each output of a note, or each row of the case; NULL: none). */
trn_from trn_origin(const trn_place *place, const char *formula, const char *symbol, double value,
                    const char *si, bool *used);

/* Rules of a symbol of a formula, or a column of a view; NULL: none. Alternatives are parted by
 * `|`; the first that gives the value is taken. See working_rules.h. */
const char *trn_working_rule(const char *formula, const char *symbol, const char *stage);

/* Gear that drives an axle, TRN_NONE for one that a shaft drives. */
size_t trn_working_driving_gear(const trn_machine *m, size_t axle);

/* Condition that does most of the damage of a life over the duty; TRN_NONE: none does. */
size_t trn_working_heaviest(const trn_results *r, const trn_view *view, size_t row,
                            const trn_field *field);

#endif
