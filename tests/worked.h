/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The worked points of docs/interval.md and a plain loop of draws, shared by the tests. */
#ifndef TRUNNION_TEST_WORKED_H
#define TRUNNION_TEST_WORKED_H

#include <trunnion/clock.h>

enum { WORKED_DRAWS = 10000 };

void worked_oil(trn_service_point *point, trn_duty_state states[2]);
void worked_joint(trn_service_point *point, trn_duty_state states[2]);

/* Standard normals, WORKED_DRAWS x TRN_DRAWS, the same at every call. */
const double *worked_normals(void);

/* T_k of every draw, unsorted; smallest may be NULL. */
void worked_draws(const trn_service_point *point, const trn_duty_state *states, size_t n,
                  const trn_interval_settings *settings, unsigned use, unsigned at_reference,
                  double *life, trn_cause *smallest);

/* Element ceil(p N) of the sorted draws; sorts in place. */
double worked_quantile(double *life, double p);

#endif
