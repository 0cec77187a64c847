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

/* A task at one of its visits: hours from now, with last_done and machine_hours in mind. */
typedef struct trn_visit_row {
    double visit_h;
    size_t point;
    double quantity_g, minutes;
    double due_h; /* hour meter; NaN: not known */
} trn_visit_row;

enum { TRN_PLAN_NAME_MAX = 240, TRN_PLAN_TEXT_MAX = 160 };

/* A line of the plan: a task with its next visit and how it goes on, or an event. */
typedef struct trn_plan_row {
    double visit_h;       /* next, hours from now; NaN: an event that has no hour */
    size_t point;         /* TRN_NONE: of several points */
    char name[TRN_PLAN_NAME_MAX]; /* of the point or points */
    const char *task;
    double quantity_g, minutes;   /* each time, all fittings */
    double due_h;         /* hour meter at that visit; NaN: not known */
    double overdue_h;     /* past its hour by; 0: not */
    double every_h;       /* recommended interval; NaN: an event */
    double times;         /* in the year; NaN: not known */
    double fittings, strokes_each, strokes; /* of the grease gun: one fitting, all of them */
    double fittings_open; /* of several points: fittings without a quantity, not in strokes */
    double oil_l;
    char when[TRN_PLAN_TEXT_MAX];   /* `each working day`, `every 50 h`, `after each wash` */
    char manual[TRN_PLAN_TEXT_MAX]; /* the manual's interval in the same words */
    char why[TRN_PLAN_TEXT_MAX];    /* about ten words */
    const char *source;   /* the manual's clause; "" */
    double cost_manual, cost_recommended; /* of a year; NaN: not known */
} trn_plan_row;

/* An interval in words: `twice a day` from 4 h, `each working day` from 8 to 10 h, `every 50 h`. */
void trn_interval_words(double interval_h, char *out, size_t size);

/* Is it part of the daily round: 10 h or less? */
bool trn_interval_is_routine(double interval_h);

typedef struct trn_extras {
    trn_turn_row *turns;
    trn_warmup_row *warmup;
    trn_course_row *course;
    trn_turning_row *turning;
    trn_plan_row *plan;
    trn_visit_row *visits;
    size_t turns_count, warmup_count, course_count, turning_count, plan_count,
        visits_count;
    double season_cost_manual, season_cost_recommended; /* of all tasks; NaN: none is known */
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
