/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One evaluation of a case, part by part. */
#include <trunnion/lift.h>

#include "calibration.h"
#include "study.h"

trn_status trn_study_evaluate(const trn_machine *machine, unsigned wanted, trn_results *results,
                              trn_trace *trace)
{
    results->machine = machine;
    trn_study_joints(machine, results, trace);
    if (wanted & TRN_WANT_FIT)
        trn_study_fit(machine, results, trace);
    if (wanted & (TRN_WANT_HEAT | TRN_WANT_LIVES | TRN_WANT_INTERVALS | TRN_WANT_CONTACTS)) {
        trn_study_loads(machine, results, trace);
        trn_study_heat(machine, results, (wanted & TRN_WANT_LEAN) != 0, trace);
        trn_calibrations_water(machine, results);
    }
    if (wanted & TRN_WANT_CONTACTS)
        trn_study_contacts(machine, results, trace);
    if (wanted & (TRN_WANT_LIVES | TRN_WANT_INTERVALS))
        trn_study_lives(machine, results, trace);
    if (wanted & TRN_WANT_INTERVALS)
        trn_study_intervals(machine, results, trace);
    return TRN_OK;
}
