/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study only. */
#ifndef TRUNNION_SERVICE_POINTS_H
#define TRUNNION_SERVICE_POINTS_H

#include <trunnion/mechanism.h>
#include <trunnion/study.h>

/* A point with its reference condition, and where its component is a gearbox its oil and what
 * samples say of it. */
void trn_service_point_of(const trn_machine *m, const trn_results *r, size_t point,
                          trn_service_point *sp);

/* The duty as the point sees it, states[duty_count]; false where the heat balance of its gearbox
 * has no root in a condition with a share. */
bool trn_duty_states_of(const trn_machine *m, const trn_results *r, size_t point,
                        trn_duty_state *states);

#endif
