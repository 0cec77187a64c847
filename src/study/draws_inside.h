/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study only: the parts of the uncertainty study. */
#ifndef TRUNNION_DRAWS_INSIDE_H
#define TRUNNION_DRAWS_INSIDE_H

#include <trunnion/clock.h>
#include <trunnion/draws.h>
#include <trunnion/interval_rows.h>
#include <trunnion/path.h>

/* ---- quantities that go through the whole evaluation ---------------------------------------- */

typedef struct trn_custom {
    const char *name; /* the path as written */
    trn_path path;
    trn_spread spread;            /* in the column's unit */
    double scale, offset;         /* member = scale value + offset */
    double least, most;           /* the column's range */
    size_t clamped;               /* draws set to a bound of it */
} trn_custom;

typedef struct trn_customs {
    trn_custom *v;
    size_t n;
} trn_customs;

/* Rows of uncertainty.csv that are no built-in spread. Status: TRN_E_INPUT, TRN_E_MEMORY */
trn_status trn_customs_of(const trn_machine *machine, trn_customs *out, trn_faults *faults);

/* Scale and bounds of its column. */
void trn_custom_column(trn_custom *custom);

/* Puts the cells of a quantity into `copy` as drawn from those of `base`; true where one was set
 * to a bound. */
bool trn_custom_draw(const trn_machine *base, trn_machine *copy, const trn_custom *custom,
                     double z);

/* All of them in a draw, then the links. known: one held at its median, or TRN_NONE. clamped:
 * NULL, or told which were set to a bound. */
trn_status trn_customs_draw(const trn_machine *base, trn_machine *copy, const trn_customs *customs,
                            const trn_normals *normals, size_t first, size_t draw, size_t known,
                            bool *clamped, trn_faults *faults);

/* What points saw in each draw. */
typedef struct trn_drawn_points {
    size_t draws, states;
    trn_duty_state **state;      /* [point], NULL where no draw changes it: [draw * states] */
    trn_service_point **service; /* the same: [draw] */
    unsigned char **rootless;    /* [point]: the heat balance had no root in the draw */
    size_t points;
} trn_drawn_points;

void trn_drawn_points_free(trn_drawn_points *drawn);

/* Evaluates every draw; `done`: part of the progress at the end. */
trn_status trn_draws_whole(const trn_results *results, const trn_draws *draws, trn_customs *customs,
                           double done, trn_drawn_points **out, trn_faults *faults);

enum { TRN_KNOWN_DRAWS = 2048 }; /* whole evaluations for the worth of a quantity */

/* The first TRN_KNOWN_DRAWS again with the quantity `known` at its median. */
trn_status trn_draws_known(const trn_results *results, const trn_draws *draws,
                           const trn_customs *customs, size_t known, double from, double to,
                           trn_drawn_points **out);

/* Temperatures and lives of fewer draws, with power, shock, cleanliness and the life model. */
trn_status trn_draws_bands(trn_results *results, trn_draws *draws, trn_customs *customs);

/* Whether the bands draw powers that are stated, and that come from a log (trn_power_basis). */
void trn_draws_power_bases(const trn_machine *machine, bool of[2]);

/* ---- draws of one point --------------------------------------------------------------------- */

/* Room of one thread. */
typedef struct trn_draw_room {
    double *life[TRN_LIMITS]; /* of the causes of an oil */
    double *t, *work;
    size_t count; /* draws in t */
    unsigned char *cause;
    trn_duty_state *states, *changed;
    double *pool;
    bool uncalibrated; /* as if there were no oil samples */
    const trn_drawn_points *drawn; /* in place of those of the study; NULL: those */
    size_t most;                   /* draws that went through the whole evaluation; 0: all */
} trn_draw_room;

bool trn_draw_room_make(const trn_draws *draws, size_t states, trn_draw_room *room);
void trn_draw_room_free(trn_draw_room *room);

/* A quantity set otherwise in all draws (turning values). */
typedef struct trn_draw_change {
    trn_turn_id id;
    double v;
    const double *warmer_c; /* rise of modelled oil temperatures by state, NULL: none */
    bool few;               /* the first block of draws alone, for a rough answer */
} trn_draw_change;

/* T_k of every draw into room->t, over the limits in `use`; room->cause where oil. change NULL:
 * as it is. */
void trn_draws_of_point(const trn_results *results, size_t point, const trn_service_point *sp,
                        const trn_duty_state *states, unsigned use, trn_draw_id frozen,
                        unsigned at_reference, const trn_draw_change *change, trn_draw_room *room);

/* Quantile of room->t at the machine's risk. */
double trn_draws_risk_quantile(const trn_results *results, trn_draw_room *room);

/* What it would be worth to know a quantity that goes through the whole evaluation, h. */
double trn_draws_gain(trn_results *results, size_t point, const trn_drawn_points *known,
                      trn_draw_room *room);

/* Rows of a point from its draws; mechanisms[TRN_LIMITS] and their number. */
size_t trn_draws_study_point(trn_results *results, size_t point, trn_draw_room *room,
                             trn_mechanism_row *mechanisms, trn_next_row *next);

/* ---- settling a row (intervals.c) ----------------------------------------------------------- */

/* Recommendation, what governs and why, from the row's numbers and an order of causes. */
void trn_interval_settle(const trn_machine *m, const trn_service_point *sp,
                         const trn_duty_state *states, const trn_cause *order, size_t count,
                         trn_point_row *row, trn_trace *trace);

#endif
