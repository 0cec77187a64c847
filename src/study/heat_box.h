/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study only: a gearbox of the case as the heat balance takes it. */
#ifndef TRUNNION_HEAT_BOX_H
#define TRUNNION_HEAT_BOX_H

#include <trunnion/balance.h>
#include <trunnion/heat_reading.h>
#include <trunnion/study.h>

#include "balance_parts.h"

enum { TRN_HEAT_SEALS_MAX = 64 };

typedef struct trn_heat_parts {
    trn_balance_mesh meshes[TRN_BALANCE_MESHES_MAX];
    trn_balance_bearing bearings[TRN_BALANCE_BEARINGS_MAX];
    trn_balance_seal seals[TRN_HEAT_SEALS_MAX];
    size_t meshes_n, bearings_n, seals_n;
} trn_heat_parts;

void trn_heat_box_clear(trn_heat_parts *parts);

/* Fills parts and a box that points into them, for one gearbox and condition.
 * Status: TRN_E_UNKNOWN (no gears, an axle without bearings, no speed), TRN_E_INPUT (more parts
 *         than the balance takes), TRN_E_DOMAIN */
trn_status trn_heat_box(const trn_machine *m, const trn_results *r, size_t condition,
                        size_t gearbox, trn_heat_parts *parts, trn_balance_box *box,
                        trn_trace *trace);

/* ---- conditions that alternate (heat_together.c) -------------------------------------------- */

/* How many conditions share with i, itself among them. */
size_t trn_alternates_of(const trn_machine *m, size_t i);

/* Oil temperature given for a condition, or for one that it alternates with; NaN: none. */
double trn_oil_given(const trn_machine *m, size_t condition);

/* Room for the conditions of a group. Start with {0}; grows when asked for more. */
typedef struct trn_heat_room {
    trn_balance_ready *ready;
    double *weight;
    size_t n, room;
} trn_heat_room;

bool trn_heat_room_grow(trn_heat_room *room, size_t n);
void trn_heat_room_free(trn_heat_room *room);

/* How the boxes of a group differ from the duty. */
typedef struct trn_heat_as {
    double T_air_k;        /* of all of them; NaN: that of each condition */
    double cooling_factor; /* NaN: that of the results */
    double power;          /* factor on power and loads; 1 */
} trn_heat_as;
extern const trn_heat_as trn_heat_as_is;

/* trn_heat_box under other circumstances. */
trn_status trn_heat_box_as(const trn_machine *m, const trn_results *r, size_t condition,
                           size_t gearbox, const trn_heat_as *as, trn_heat_parts *parts,
                           trn_balance_box *box, trn_trace *trace);

/* Prepares a condition, or the group that it is in, into the room; weights are the shares (all
 * alike where none has one).
 * Status: as trn_heat_box and trn_balance_prepare; TRN_E_MEMORY */
trn_status trn_heat_together(const trn_machine *m, const trn_results *r, size_t condition,
                             size_t gearbox, const trn_heat_as *as, trn_heat_room *room);

/* Notes the shared temperature T_k of a prepared group under a churning law, or (factor) what a
 * reading of it gives: heat and transfer added up condition by condition.
 * Returned: the sums */
trn_heat_shared trn_heat_note_together(const trn_machine *m, size_t condition, size_t gearbox,
                                       const trn_heat_room *room, trn_balance_law law, double T_k,
                                       double cooling_factor, trn_trace *trace);

/* ---- temperatures that were read (cooling.c) ------------------------------------------------ */

/* Works the readings into cooling factors, before the balances; r has the loads. */
void trn_study_cooling(const trn_machine *m, trn_results *r, trn_trace *trace);

/* Viscosity at 40 degC of an oil, from its index where only that is given. */
trn_status trn_oil_kv40(const trn_machine *m, size_t oil, double *kv40, trn_trace *trace);

#endif
