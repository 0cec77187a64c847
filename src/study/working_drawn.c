/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the quantiles of the draws to the row of the interval table, once more as steps. */
#include <trunnion/working.h>

#include "draws_inside.h"
#include "service_points.h"
#include "study.h"
#include "working_notes.h"

void trn_working_note_drawn(trn_results *results, trn_trace *trace)
{
    const trn_machine *m = results->machine;
    for (size_t i = 0; i < m->points_count; i++) {
        trn_point_row row = results->points[i]; /* the table itself stays as it is */
        trn_service_point sp;
        if (!row.drawn)
            continue;
        trn_service_point_of(m, results, i, &sp);
        (void)trn_duty_states_of(m, results, i, results->states);
        trn_trace_variant(trace, "drawn");
        trn_interval_settle(m, &sp, results->states, row.nominal.order, row.nominal.order_count,
                            &row, trace);
        trn_trace_variant(trace, NULL);
    }
}
