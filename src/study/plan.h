/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study only. */
#ifndef TRUNNION_PLAN_H
#define TRUNNION_PLAN_H

#include <trunnion/extras.h>

/* Visits of a year, the lines of the plan, cost of a season. False: no memory. */
bool trn_plan_make(const trn_results *r, trn_extras *x);

#endif
