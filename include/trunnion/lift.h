/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fit of a shaft over its whole sweep: every listed position, and every position between two
 * neighbouring rows of geometry.csv of one shaft and layout, linear in their dimensions. */
#ifndef TRUNNION_LIFT_H
#define TRUNNION_LIFT_H

#include <trunnion/study.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Common practice, no source: 50 to 80 mm are left in the shortest position, transport height
 * included; the tubes cover each other over a third, and not less than 150 mm. */
#define TRN_CLEARANCE_NEEDED_M 0.050
#define TRN_OVERLAP_LEAST_M 0.150
#define TRN_CUT_STEP_M 0.005

/* Clearance and overlap before and after both halves are shortened alike.
 *
 *   a cut c makes the closed shaft c shorter and the overlap 2 c smaller at any length:
 *   c = 5 mm ceil((clearance_needed - clearance)/5 mm), not below 0
 *   overlap after = overlap - 2 c
 *
 * Given:    clearance_m, overlap_m   of the shaft as it is (trn_shaft_fit)
 *           clearance_needed_m       >= 0
 * Returned: cut_m, overlap_after_m (below 0 too)
 * Status:   TRN_E_DOMAIN
 * Valid for tubes that are as long as their closed overlap lets them be; a bound that is met
 *           within 1e-6 mm counts as met.
 * Source:   geometry. Standing: derived. Checked by tests/lift.c (the cut shaft judged again) */
trn_status trn_shaft_cut(double clearance_m, double overlap_m, double clearance_needed_m,
                         double *cut_m, double *overlap_after_m);

typedef enum trn_fit {
    TRN_FIT_UNKNOWN,
    TRN_FIT_YES,
    TRN_FIT_CUT,   /* fits once both halves are cut */
    TRN_FIT_OTHER  /* clearance and overlap cannot both be had */
} trn_fit;

enum { TRN_PLACE_MAX = 96 };

/* A place on the sweep: a position, or `work to transport at 37 %`. */
typedef struct trn_fit_row {
    size_t shaft;
    char shortest_at[TRN_PLACE_MAX]; /* of all positions */
    char longest_at[TRN_PLACE_MAX];  /* of those in which it turns */
    char angle_at[TRN_PLACE_MAX];
    double length_min_mm, length_max_mm, clearance_mm, clearance_needed_mm, overlap_mm,
        overlap_needed_mm, cut_mm, overlap_after_cut_mm, largest_angle_deg, angle_limit_deg,
        critical_speed_rpm;
    trn_fit fits;
    /* where a joint comes to angle_limit on the sweep; NaN: not on the rows given */
    double lift_stop_mm;                       /* joint 2 above joint 1 */
    double tilt_stop_up_deg, tilt_stop_down_deg; /* wing */
    double turn_stop_deg;                      /* drawbar, either way */
    trn_remarks remarks;
} trn_fit_row;

/* Fills results->fits, one row a shaft, from settings that are evaluated already. Part of
 * trn_study_evaluate with TRN_WANT_FIT.
 * A part of the sweep turns where both its rows turn, and has power where a condition with power
 * stands in both; where a row is measured too, the sweep is led through what was measured. */
void trn_study_fit(const trn_machine *machine, trn_results *results, trn_trace *trace);

/* `yes`, `no` or what the verdict is where it cannot be known; a static text. */
const char *trn_fit_word(trn_fit fit);

#ifdef __cplusplus
}
#endif
#endif
