/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/present/working*.c only: one alternative of a rule, tried against a value. */
#ifndef TRUNNION_WORKING_ORIGIN_H
#define TRUNNION_WORKING_ORIGIN_H

#include <math.h>
#include <stdio.h>

#include "working_inside.h"

enum { TRN_CELL_VALUES = TRN_LIST_MAX };

static const double trn_cell_digits = 1e-12; /* the same number, unit to unit */

typedef struct trn_sought {
    const trn_place *place;
    const char *symbol;
    double value;
    const char *si;
    bool *used;
    const char *rule; /* of this alternative */
} trn_sought;

static const trn_from trn_from_unknown = {.kind = TRN_FROM_NOWHERE, .part = 1};

static inline bool trn_agrees(double a, double b, double digits)
{
    return a == b || fabs(a - b) <= digits * fmax(fabs(a), fabs(b));
}

static inline trn_from trn_from_say(trn_from_kind kind, const char *text)
{
    trn_from from = {.kind = kind, .part = 1};
    (void)snprintf(from.text, sizeof from.text, "%s", text);
    return from;
}

/* Key of the first or second bearing of the axle of a place, NULL; A or B for its own. */
const char *trn_place_bearing(const trn_place *place, size_t which);
char trn_place_side(const trn_place *place);

/* Writes a rule with the keys of the place; false where one is missing. */
bool trn_rule_filled(const trn_sought *s, const char *rule, size_t n, char *out, size_t size);

/* Numbers of a cell in the unit asked for; 0 where it has none or is not known. */
size_t trn_cell_values(const trn_machine *m, const char *path, const char *si,
                       double values[TRN_CELL_VALUES]);
/* Filled in by the user, or by an override; has the column a default? */
bool trn_cell_filled(const trn_machine *m, const char *path, bool *changed, bool *fallback);
trn_from trn_from_path(const trn_machine *m, const char *path);

trn_from trn_from_cell(const trn_sought *s, bool compared);
/* Two cells joined by + (their mean), * or /. */
trn_from trn_from_two(const trn_sought *s, char sign);
trn_from trn_from_part(const trn_sought *s);
trn_from trn_from_choice(const trn_sought *s);

/* Shaft whose joints act on an axle. */
bool trn_shaft_attached(const trn_machine *m, size_t shaft, size_t axle);
/* The nearest note before; with `used`, the first that is not taken yet. */
trn_from trn_from_step(const trn_sought *s, double part, bool compared);
/* The step of the load case of this one: the n-th of its kind for the n-th. */
trn_from trn_from_case(const trn_sought *s);

#endif
