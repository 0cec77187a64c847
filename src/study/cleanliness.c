/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cleanliness.h"

#include <trunnion/choices.h>
#include <trunnion/mechanism.h>

#include "calibration.h"
#include "study.h"
#include "working_notes.h"

double trn_duty_dust(const trn_duty *duty)
{
    if (!isnan(duty->dust))
        return duty->dust;
    const trn_dust_class *known =
        duty->dust_class < 0 ? NULL : trn_dust_class_at((size_t)duty->dust_class);
    return known ? known->median_mg_m3 * 1e-6 : NAN;
}

double trn_oil_mass(const trn_machine *m, size_t gearbox)
{
    const trn_gearbox *g = &m->gearboxes[gearbox];
    return g->oil_volume * m->oils[g->oil_index].density15;
}

double trn_manual_change(const trn_machine *m, size_t gearbox)
{
    double least = NAN;
    for (size_t i = 0; i < m->points_count; i++)
        if (m->points[i].gearbox_index == gearbox && m->points[i].task == TRN_TASK_CHANGE_OIL)
            least = isnan(least) ? m->points[i].manual_interval
                                 : fmin(least, m->points[i].manual_interval);
    return least;
}

double trn_dust_source(const trn_machine *m, const trn_results *r, size_t gearbox)
{
    double sum = 0;
    double intake = trn_intake_of(m, r, gearbox); /* m3/s */
    for (size_t i = 0; i < m->duty_count; i++)
        if (m->duty[i].share > 0)
            sum += m->duty[i].share * trn_duty_dust(&m->duty[i]);
    return intake * sum * 1e6 * 3600;
}

static trn_cleanliness of_third_number(double number)
{
    trn_cleanliness c = {.known = true};
    static const double upper[] = {10, 12, 14, 16, 18};
    for (size_t i = 0; i < sizeof upper / sizeof upper[0]; i++)
        if (number <= upper[i]) {
            c.clean = (trn_cleanliness_class)(TRN_CLASS_13_10 + i);
            return c;
        }
    c.beyond = true;
    return c;
}

trn_cleanliness trn_cleanliness_of_dust(const trn_machine *m, size_t gearbox, double dust_ppm,
                                        trn_trace *trace)
{
    double in[] = {dust_ppm * 1e-6 * m->oils[m->gearboxes[gearbox].oil_index].density15};
    double code = NAN;
    if (trn_step(trace, TRN_STEP_OIL_CODE, in, &code) < 0) /* more than the table holds */
        return (trn_cleanliness){.known = true, .beyond = true};
    double clean = 0;
    if (trace) /* the class below, as a step */
        (void)trn_step(trace, TRN_STEP_BEARING_CLASS_OF_CODE, (const double[]){NAN, code}, &clean);
    return of_third_number(code);
}

trn_cleanliness trn_cleanliness_of(const trn_machine *m, const trn_results *r, size_t gearbox,
                                   trn_trace *trace)
{
    const trn_gearbox *g = &m->gearboxes[gearbox];
    trn_trace_scope(trace, "cleanliness", "", g->gearbox);
    if (g->cleanliness) {
        double number[2];
        double clean = TRN_CLASS_BEYOND;
        if (trn_bearing_code_of_text(g->cleanliness, &number[0], &number[1]) < 0 ||
            trn_step(trace, TRN_STEP_BEARING_CLASS_OF_CODE, number, &clean) < 0)
            return (trn_cleanliness){.remark = TRN_M_BAD_CODE, .text = g->cleanliness};
        return (trn_cleanliness){
            .known = true, .clean = (trn_cleanliness_class)clean, .beyond = clean == TRN_CLASS_BEYOND};
    }
    double change = trn_manual_change(m, gearbox);
    double source = trn_dust_source(m, r, gearbox);
    if (isnan(change) || isnan(source))
        return (trn_cleanliness){.remark = TRN_M_NO_CLEANLINESS};
    trn_working_dust(m, trn_intake_of(m, r, gearbox), gearbox, trace);
    double kept = g->residual_oil;
    double mean = source * change / trn_oil_mass(m, gearbox) * (kept / (1 - kept) + 0.5);
    return trn_cleanliness_of_dust(m, gearbox, mean, trace);
}
