/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study only: the parts of the ledger. False: no memory. */
#ifndef TRUNNION_STUDY_LEDGER_H
#define TRUNNION_STUDY_LEDGER_H

#include <trunnion/ledger.h>

bool trn_ledger_calibration(trn_results *r, trn_ledger *out);
bool trn_ledger_buys(trn_results *r, trn_ledger *out);
bool trn_ledger_choices(trn_results *r, trn_ledger *out);

#endif
