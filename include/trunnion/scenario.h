/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scenarios together, and explanations without a model of their life. */
#ifndef TRUNNION_SCENARIO_H
#define TRUNNION_SCENARIO_H

#include <trunnion/machine.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Applies several scenarios of scenarios.csv as if their rows stood under one name: absolute
 * values, then factors, then offsets, in the order of the table whatever the order of names.
 * Rows of the quantity `life` change nothing. trn_machine_link is to be called afterwards.
 * Status: TRN_E_INPUT (faults name the line): no such scenario, a path or value that is wrong,
 *         two absolute values on one cell; TRN_E_MEMORY */
trn_status trn_machine_scenarios(trn_machine *machine, const char *const *names, size_t count,
                                 trn_faults *faults);

/* A path on which two different scenarios both put an absolute value; NULL: they go together. */
const char *trn_scenarios_exclude(const trn_machine *machine, const char *a, const char *b);

/* Value of a row whose quantity is `life`: `low..high` or one value, in hours (or another unit of
 * time), or in % of the life as specified; blank: no life can be stated. */
typedef struct trn_life_range {
    bool known;
    bool relative; /* low, high are fractions of the life as specified; else hours */
    double low, high;
} trn_life_range;

/* Status: TRN_E_INPUT with `why` filled */
trn_status trn_life_range_parse(const char *text, trn_life_range *out, trn_buffer *why);

/* Does the row give a range of the life, so that nothing is evaluated for it? */
bool trn_scenario_is_life(const trn_scenario *row);

#ifdef __cplusplus
}
#endif
#endif
