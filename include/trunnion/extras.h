/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Results that are series rather than one row an object: one turn, warm-up, course of the oil,
 * turning values, service plan. Made from evaluated results when asked. */
#ifndef TRUNNION_EXTRAS_H
#define TRUNNION_EXTRAS_H

#include <trunnion/study.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef struct trn_turn_row {
    size_t condition, shaft;
    double turn_deg;
    trn_turn at;
} trn_turn_row;

typedef struct trn_warmup_row {
    size_t condition, gearbox;
    double time_min, oil_temperature_c;
} trn_warmup_row;

typedef struct trn_course_row {
    size_t gearbox;
    double hours_h, dust_ppm, code, water_ppm, ageing_pct, e_c;
} trn_course_row;

typedef struct trn_turning_row {
    size_t point;
    const char *quantity, *unit;
    double used, manual_stands_at, next_step_at;
} trn_turning_row;

typedef struct trn_plan_row {
    double visit_h;
    size_t point;
    double quantity_g, minutes;
} trn_plan_row;

typedef struct trn_extras {
    trn_turn_row *turns;
    trn_warmup_row *warmup;
    trn_course_row *course;
    trn_turning_row *turning;
    trn_plan_row *plan;
    size_t turns_count, warmup_count, course_count, turning_count, plan_count;
} trn_extras;

enum { TRN_WARMUP_POINTS = 481, TRN_COURSE_STEPS = 50 };

/* Everything above from results of trn_study_evaluate with TRN_WANT_ALL; the answer belongs to
 * the results and is freed with them.
 * Status: TRN_E_MEMORY */
trn_status trn_study_extras(trn_results *results);

/* Frees what trn_study_extras made; NULL is allowed. trn_results_free calls it. */
void trn_extras_free(trn_extras *extras);

#ifdef __cplusplus
}
#endif
#endif
