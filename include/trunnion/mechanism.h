/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The adjusted interval of one service point: how long each way of using up its lubricant allows,
 * under one duty, nominal or in a draw. Re-entrant, no allocation; arrays are the caller's.
 * Model, equations and standing: docs/interval.md. */
#ifndef TRUNNION_MECHANISM_H
#define TRUNNION_MECHANISM_H

#include <stdbool.h>
#include <stddef.h>
#include <trunnion/choices.h>
#include <trunnion/status.h>
#include <trunnion/step.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef enum trn_task {
    TRN_TASK_GREASE_JOINT = 0,
    TRN_TASK_GREASE_TUBE,
    TRN_TASK_GREASE_BEARING,
    TRN_TASK_GREASE_CLUTCH,
    TRN_TASK_GREASE_PIVOT,
    TRN_TASK_CHECK_OIL,
    TRN_TASK_CHANGE_OIL,
    TRN_TASK_OTHER
} trn_task;

/* Done as the manual says: no mechanism shortens it (a level check: only the oil that is lost). */
static inline bool trn_task_stands(trn_task task)
{
    return task == TRN_TASK_CHECK_OIL || task == TRN_TASK_OTHER;
}

/* X(id, word): what may govern. The first ten are limits (an index of trn_lives), in the order
 * that settles ties. */
#define TRN_CAUSE_LIST(X)              \
    X(TRN_CAUSE_AGEING, "ageing")      \
    X(TRN_CAUSE_DUST, "dust")          \
    X(TRN_CAUSE_WATER, "water")        \
    X(TRN_CAUSE_ADDITIVE, "additive")  \
    X(TRN_CAUSE_WEAR, "wear")          \
    X(TRN_CAUSE_SHOCK, "shock")        \
    X(TRN_CAUSE_HEAT, "heat")          \
    X(TRN_CAUSE_LOAD, "load")          \
    X(TRN_CAUSE_MOTION, "motion")      \
    X(TRN_CAUSE_LOSS, "loss")          \
    X(TRN_CAUSE_MANUAL, "manual")      \
    X(TRN_CAUSE_CALENDAR, "calendar")  \
    X(TRN_CAUSE_SEVERE, "manual severe") \
    X(TRN_CAUSE_NONE, "")

typedef enum trn_cause {
#define TRN_X(id, word) id,
    TRN_CAUSE_LIST(TRN_X)
#undef TRN_X
    TRN_CAUSES,
    TRN_LIMITS = TRN_CAUSE_MANUAL
} trn_cause;

/* Word of a cause as `governed_by` has it; "" past the list. */
const char *trn_cause_word(trn_cause cause);
#define TRN_BIT(cause) (1u << (unsigned)(cause))

/* One duty condition as this point sees it. NaN: not known. */
typedef struct trn_duty_state {
    const char *condition;
    double share;          /* of the hours, fraction; all add up to 1 (trn_duty_shares) */
    double dust_mg_m3;     /* total, at the machine */
    double oil_c;          /* gearbox oil, degC */
    bool oil_measured;     /* else modelled */
    bool oil_read;         /* modelled by a balance that meets a reading in this condition */
    bool oil_calibrated;   /* the same, read in another condition */
    double ambient_c;      /* degC */
    double humidity_pct;   /* % */
    double starts_per_100h, washes_per_100h;
    double wash_water_ml;  /* gets in per wash, mL */
    double load_ratio;     /* power over rated power */
    double shock;          /* application factor */
    double load_pc;        /* P/C without the shock factor */
    double speed_rpm;      /* of the shaft */
    double angle_deg;      /* larger joint angle of the shaft; 0: does not swing */
} trn_duty_state;

enum { TRN_ELEMENTS_MAX = 10 };

typedef struct trn_wear_element {
    const char *name;
    double rate_ppm_h, limit_ppm, fresh_ppm;
} trn_wear_element;

/* One point and task of the manual. NaN: not known. */
typedef struct trn_service_point {
    const char *name;
    trn_task task;
    double manual_h;
    double ref_dust_mg_m3, ref_shock, ref_temperature_c, ref_load, ref_angle_deg, ref_speed_rpm;
    /* grease */
    bool at_oil_temperature; /* a bearing in a gearbox */
    double point_c;          /* measured at the point; else ambient and a rise */
    double grease_limit_c;
    /* oil */
    double oil_kg, oil_l, headspace_l;
    double residual;         /* old oil left at a change, fraction */
    double ageing_life_h, ageing_c; /* NaN: not known; trn_ageing_anchor fills defaults in */
    bool ageing_firm;        /* synthetic or given: the narrower spread */
    bool ageing_given;       /* of this oil, not of a drain table */
    double dust_margin;
    double intake_l_h;       /* outside air past the seals; NaN: not known */
    bool intake_from_silicon; /* only then does it set an interval */
    double water_source_mg_h; /* from samples; NaN: modelled */
    double water_budget_ppm; /* of this oil; NaN: the default */
    trn_wear_element elements[TRN_ELEMENTS_MAX]; /* from samples */
    size_t element_count;
    double level_margin_l, top_up_l_h; /* of check_oil */
} trn_service_point;

/* All unknown, no elements, no residual oil, dust margin at its default. */
void trn_service_point_clear(trn_service_point *point);
/* All unknown but share 1. */
void trn_duty_state_clear(trn_duty_state *state);

/* Quantities that draws vary: one standard normal each, the same for all states and the
 * reference. */
typedef enum trn_draw_id {
    TRN_DRAW_DUST = 0,
    TRN_DRAW_X,
    TRN_DRAW_INTAKE,
    TRN_DRAW_DUST_BUDGET,
    TRN_DRAW_OIL_TEMPERATURE,
    TRN_DRAW_AGEING_LIFE,
    TRN_DRAW_WATER,
    TRN_DRAW_DRYING,
    TRN_DRAW_ADDITIVE_STEP,
    TRN_DRAW_SHOCK,
    TRN_DRAW_GREASE_EXPONENT,
    TRN_DRAW_DEBRIS,
    TRN_DRAWS
} trn_draw_id;

/* Path of the quantity in uncertainty.csv. */
const char *trn_draw_path(trn_draw_id id);

/* Chosen values and spreads in use. */
typedef struct trn_interval_settings {
    trn_spread spread[TRN_DRAWS];
    trn_spread oil_measured, oil_calibrated, ageing_firm, water_sampled; /* in place of the
                                                                              modelled ones */
    trn_spread life_model; /* of ln L, in the bands of lives */
    bool dust_from_class; /* spread[TRN_DRAW_DUST] is not used: it follows from the dust itself */
    double dust_stays, x, x_most, dust_budget_ppm, additive_margin, additive_step_k,
        additive_step_least_k, water_damp_ppm, water_budget_ppm, water_fresh_ppm, catalyst_damp,
        catalyst_wet, drying_per_h, drying_from_c, drying_full_c, wash_water_ml, point_rise_k,
        exponent, debris, level_part, slack, first_change_h, first_part, ageing_fraction;
} trn_interval_settings;

/* Settings of a case that states nothing: medians of choices.h, risk 10 %, the built-in clock. */
void trn_interval_settings_default(trn_interval_settings *settings);

/* A row of uncertainty.csv in place of a built-in spread, in all its variants. */
void trn_interval_settings_spread(trn_interval_settings *settings, trn_draw_id id,
                                  trn_spread spread);

/* No spread at all: every draw is the nominal evaluation. */
void trn_interval_settings_still(trn_interval_settings *settings);

/* Spread of the oil temperature of a condition. */
trn_spread trn_oil_spread(const trn_duty_state *state, const trn_interval_settings *settings);

/* Shares of the duty from % or from hours.
 * Given:    share_pct, hours  n each; either may be NULL or hold NaN where the other is given
 * Returned: share             fractions that add up to 1
 * Status:   TRN_E_INPUT: negative, none, or percentages that do not add up to 100 +- 0.1;
 *           TRN_E_MISSING: a state without either */
trn_status trn_duty_shares(const double *share_pct, const double *hours, size_t n, double *share);

typedef enum trn_ageing_base { TRN_AGEING_MINERAL, TRN_AGEING_SYNTHETIC } trn_ageing_base;

/* Anchor of ageing: given life and temperature (NaN: not given) before those of the base (ester
 * counts as mineral, pag as pao). */
void trn_ageing_anchor(trn_service_point *point, trn_ageing_base base, double life_h,
                       double temperature_c);

/* Interval that each limit allows, h; NaN: left out; inf: never. */
typedef struct trn_lives {
    double of[TRN_LIMITS];
} trn_lives;

/* Oil point: the lives of ageing, dust, water, additive, wear. z[TRN_DRAWS], NULL: medians. */
void trn_oil_lives(const trn_service_point *point, const trn_duty_state *states, size_t n,
                   const trn_interval_settings *settings, const double *z, trn_lives *lives);

/* Grease point: its interval, with the factors of `at_reference` (bits) at the reference in all
 * states. */
double trn_greasing_life(const trn_service_point *point, const trn_duty_state *states, size_t n,
                       const trn_interval_settings *settings, const double *z,
                       unsigned at_reference);

/* Factors that a task has: bits of dust, shock, heat, load, motion; 0 for oil. */
unsigned trn_grease_factors_of(trn_task task);

typedef enum trn_basis {
    TRN_BASIS_CHOSEN = 0,   /* anchored on the manual's interval by a chosen form */
    TRN_BASIS_DRAIN_TABLE,  /* default ageing anchor */
    TRN_BASIS_GIVEN,        /* the oil's own ageing life */
    TRN_BASIS_MODEL,        /* water by breathing and washing */
    TRN_BASIS_SAMPLES
} trn_basis;

/* What one limit says. */
typedef struct trn_limit {
    double life_h;      /* NaN left out, inf never */
    double rate;        /* mean over the duty against the reference; NaN where it has none */
    size_t worst;       /* state that spends most of the budget, share x rate */
    size_t element;     /* of wear */
    trn_basis basis;
    trn_status why;     /* why it is left out or never */
} trn_limit;

enum { TRN_REMARKS_MAX = 12 };

/* Nominal evaluation of a point. */
typedef struct trn_nominal {
    trn_limit limit[TRN_LIMITS]; /* grease: with one factor as in the duty, others at reference */
    double life_h;               /* the minimum; grease: the product of factors; inf: none */
    unsigned use;                /* limits that count in draws: computed and finite */
    trn_cause order[TRN_LIMITS]; /* limits, shortest first; only those in `use` */
    size_t order_count;
    size_t worst;                /* grease: state that spends most with all factors */
    unsigned assumed;            /* bits of causes taken as at the reference: not known */
    trn_status remarks[TRN_REMARKS_MAX];
    size_t remark_count;
    /* what stands between: NaN where it was not computed */
    double ageing_mean_h, water_mg_h, drying_per_h, water_start_ppm, damp_h, wet_h, dust_mg_h;
} trn_nominal;

/* Everything at its median. A trace that is not NULL gets the chain of steps.
 * Status: TRN_E_DOMAIN; TRN_OK (what is not known stands in nominal) */
trn_status trn_point_nominal(const trn_service_point *point, const trn_duty_state *states,
                             size_t n, const trn_interval_settings *settings, trn_trace *trace,
                             trn_nominal *nominal);

/* One draw: T_k over the limits in `use` (of the nominal evaluation), and which was smallest
 * (oil; may be NULL). `at_reference` as in trn_greasing_life. */
double trn_point_draw(const trn_service_point *point, const trn_duty_state *states, size_t n,
                      const trn_interval_settings *settings, const double *z, unsigned use,
                      unsigned at_reference, trn_cause *smallest);

/* Water source from samples of one oil: pairs of one fill each, w in ppm, hours apart; the
 * median of their sources (see trn_interval_water_source), with the nominal drying of the duty.
 * work[pairs] is the caller's. Status: TRN_E_DOMAIN, TRN_E_UNKNOWN (temperatures). */
trn_status trn_water_from_samples(const trn_service_point *point, const trn_duty_state *states,
                                  size_t n, const trn_interval_settings *settings,
                                  const double *first_ppm, const double *second_ppm,
                                  const double *apart_h, size_t pairs, double *work,
                                  double *source_mg_h);

/* Adds a remark once. */
void trn_nominal_remark(trn_nominal *nominal, trn_status remark);

#ifdef __cplusplus
}
#endif
#endif
