/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study only: a gearbox of the case as the heat balance takes it. */
#ifndef TRUNNION_HEAT_BOX_H
#define TRUNNION_HEAT_BOX_H

#include <trunnion/balance.h>
#include <trunnion/study.h>

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

/* Viscosity at 40 degC of an oil, from its index where only that is given. */
trn_status trn_oil_kv40(const trn_machine *m, size_t oil, double *kv40, trn_trace *trace);

#endif
