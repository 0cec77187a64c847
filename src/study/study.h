/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study only: the parts of one evaluation, in the order in which they run. */
#ifndef TRUNNION_STUDY_PARTS_H
#define TRUNNION_STUDY_PARTS_H

#include <math.h>
#include <trunnion/study.h>

#define TRN_PI 3.14159265358979323846
static const double trn_degree = TRN_PI / 180;
static const double trn_rpm = TRN_PI / 30;

/* angles, fit, couples, ripple and cross lives: settings and joints */
void trn_study_joints(const trn_machine *m, trn_results *r, trn_trace *trace);
/* tooth forces and bearing loads of every condition, for the mean torque and with shock */
void trn_study_loads(const trn_machine *m, trn_results *r, trn_trace *trace);
/* heat balance of every gearbox in every condition; lean: its oil temperature alone, no band */
void trn_study_heat(const trn_machine *m, trn_results *r, bool lean, trn_trace *trace);
/* force per width, friction and film of every mesh, at the oil's temperature */
void trn_study_contacts(const trn_machine *m, trn_results *r, trn_trace *trace);
/* bearing lives by condition and over the duty, gearboxes as systems */
void trn_study_lives(const trn_machine *m, trn_results *r, trn_trace *trace);
/* recommended intervals of the service points */
void trn_study_intervals(const trn_machine *m, trn_results *r, trn_trace *trace);

/* First row of the unused positions among the joint rows. */
static inline size_t trn_unused_rows(const trn_machine *m)
{
    return (m->duty_count + 1) * m->shafts_count;
}

#endif
