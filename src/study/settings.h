/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study only. */
#ifndef TRUNNION_SETTINGS_H
#define TRUNNION_SETTINGS_H

#include <trunnion/study.h>

/* Fills a setting from its row of positions.csv, else of geometry.csv. */
void trn_setting_evaluate(const trn_machine *m, trn_setting *s, trn_trace *trace);

#endif
