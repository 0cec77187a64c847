/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study only: the sentence that says why an interval is what it is. */
#ifndef TRUNNION_REASON_H
#define TRUNNION_REASON_H

#include <trunnion/interval_rows.h>

void trn_reason_write(const trn_machine *m, const trn_service_point *sp,
                      const trn_duty_state *states, trn_point_row *row);
/* No interval could be computed. */
void trn_reason_none(trn_point_row *row, const char *why);

#endif
