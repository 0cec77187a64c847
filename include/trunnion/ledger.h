/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands behind a recommended interval and what it buys: samples before and after, the
 * manual's interval against the recommended one, the chosen numbers in use. Made from evaluated
 * results when asked. Method and standing: docs/interval.md */
#ifndef TRUNNION_LEDGER_H
#define TRUNNION_LEDGER_H

#include <trunnion/choices.h>
#include <trunnion/mechanism.h>
#include <trunnion/study.h>

#ifdef __cplusplus
extern "C" {
#endif

/* A quantity of a gearbox without and with its oil samples. NaN: not known. */
typedef struct trn_calibration_row {
    size_t gearbox;
    char quantity[24];
    double before, after;
    const char *unit;
    char basis[128];
} trn_calibration_row;

/* An oil point without and with them. */
typedef struct trn_before_row {
    size_t point;
    double nominal_before_h, nominal_h, at_risk_before_h, at_risk_h, recommended_before_h,
        recommended_h;
    trn_cause governed_before, governed_by;
} trn_before_row;

/* A quantity under three intervals. NaN: not known, or it has no such value. */
typedef struct trn_buys_row {
    const char *object; /* a gearbox, or `machine` */
    const char *quantity;
    double manual, recommended, cheapest;
    const char *unit, *basis;
} trn_buys_row;

/* Cost of a gearbox over the change interval: changes and wear, a year of hours. */
enum { TRN_COST_POINTS = 41 };
typedef struct trn_cost_row {
    size_t gearbox;
    double interval_h, cost, low, high; /* low, high: 10 and 90 % of the draws, NaN without */
} trn_cost_row;

/* A chosen number that results rest on. */
typedef struct trn_choice_row {
    const char *name, *what, *unit;
    double value;      /* NaN: a form, or a spread alone */
    char spread[40];   /* in use: uncertainty.csv goes before the built-in one */
    const char *reason;
    const char *part;  /* ageing, dust, water, additive, wear, grease, temperature, clock ... */
    char *points;      /* that rest on it, parted by `; ` */
    char governs_text[12];
    size_t governs;    /* number of points whose recommendation that part sets */
} trn_choice_row;

typedef struct trn_ledger {
    trn_calibration_row *calibration;
    trn_before_row *before;
    trn_buys_row *buys;
    trn_cost_row *costs; /* TRN_COST_POINTS a gearbox, shortest interval first */
    trn_choice_row *choices;
    size_t calibration_count, before_count, buys_count, costs_count, choices_count;
} trn_ledger;

/* From results of trn_study_evaluate with TRN_WANT_ALL, after trn_study_draws where there are
 * draws; the answer belongs to the results and is freed with them.
 * Status: TRN_E_MEMORY */
trn_status trn_study_ledger(trn_results *results);

/* NULL is allowed. trn_results_free calls it. */
void trn_ledger_free(trn_ledger *ledger);

#ifdef __cplusplus
}
#endif
#endif
