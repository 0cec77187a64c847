/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study only. */
#ifndef TRUNNION_SETTINGS_H
#define TRUNNION_SETTINGS_H

#include <trunnion/study.h>

/* Fills a setting from its row of positions.csv, else of geometry.csv. */
void trn_setting_evaluate(const trn_machine *m, trn_setting *s, trn_trace *trace);

/* Length and joint angles (signed) of a row of dimensions; outputs untouched on failure. */
trn_status trn_geometry_layout(const trn_geometry *g, double *length, double *beta1,
                               double *beta2, trn_trace *trace);

/* First dimension that the row's layout takes and the row does not give, NULL for none. */
const char *trn_geometry_missing(const trn_geometry *g);

/* Row of dimensions between two of one layout, linear in all of them; share 0: a, 1: b. */
void trn_geometry_between(const trn_geometry *a, const trn_geometry *b, double share,
                          trn_geometry *out);

#endif
