/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the interval that the mechanisms allow to the one in the table: service clock, first
 * change, services a year, what governs, course of the oil, turning values, extension. */
#ifndef TRUNNION_CLOCK_H
#define TRUNNION_CLOCK_H

#include <trunnion/mechanism.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Steps of a machine's own service clock, h, any order; count 0: those of interval.step. */
typedef struct trn_clock {
    const double *steps_h;
    size_t count;
} trn_clock;

/* Status: TRN_E_INPUT where a step is not above 0. */
trn_status trn_clock_check(trn_clock clock);

/* Largest step not above t_h (1 + 1e-9); NaN below the lowest. */
double trn_clock_floor(trn_clock clock, double t_h);

/* Smallest step above t_h; inf beyond the longest. */
double trn_clock_next(trn_clock clock, double t_h);

typedef struct trn_recommendation {
    double interval_h;
    bool manual;        /* nothing shortens it */
    bool severe;        /* the manual's own interval for severe service */
    trn_status warning; /* TRN_OK, or why it lies below the clock */
} trn_recommendation;

/* Interval for the table from T_q.
 *
 *   T_q >= T_m/1.1: T_m as it is; else the largest step not above 1.1 T_q; below the clock
 *   min(T_m, 4 h) with a warning
 *
 * Given:    point      task and manual_h > 0
 *           at_risk_h  T_q > 0, may be inf
 * Status:   TRN_E_DOMAIN
 * Standing: slack chosen, clock practice
 * Checked by tests/clock.c */
trn_status trn_recommend(const trn_service_point *point, double at_risk_h, trn_clock clock,
                         const trn_interval_settings *settings, trn_trace *trace,
                         trn_recommendation *recommendation);

/* Mean dust of the duty, mg/m3; a condition whose dust is not known counts as at the reference. */
double trn_mean_dust(const trn_service_point *point, const trn_duty_state *states, size_t n);

/* Puts the manual's own interval for severe service in the place of a longer one, as it stands,
 * where the duty is dusty or worse: mean dust at the median of the class `dusty` or above.
 * severe_h NaN: the manual has none. Standing: chosen. Checked by tests/service.c */
void trn_recommend_severe(double severe_h, double dust_mg_m3, trn_recommendation *recommendation);

/* First change of a new or rebuilt gearbox: step(min(50 h, 0.1 T_m)), at least 4 h, not above the
 * recommended interval. */
double trn_first_change_h(double manual_h, double recommended_h, trn_clock clock,
                          const trn_interval_settings *settings);

/* Washes in a year of hours_per_year: H sum share w/100; unknown washes count as none. */
double trn_washes_per_year(const trn_duty_state *states, size_t n, double hours_per_year);

/* Services a year: oil max(1, H/T), grease max(1, interval.visits). */
double trn_times_per_year(const trn_service_point *point, const trn_duty_state *states, size_t n,
                          double recommended_h, double hours_per_year, trn_trace *trace);

/* What governs and what would next. */
typedef struct trn_governing {
    trn_cause first, second;
} trn_governing;

/* From an order of causes (nominal.order, or trn_cause_rank of draws), the recommendation and the
 * year: `manual` and `calendar` come before the mechanisms. */
trn_governing trn_govern(const trn_service_point *point, const trn_cause *order, size_t count,
                         const trn_recommendation *recommendation, double hours_per_year);

/* Causes of draws, most first.
 * Given:    use      bits of the causes that may stand in the order
 *           score    [TRN_LIMITS] oil: draws at or below T_q in which the cause was smallest;
 *                    grease: T_q with its factor at the reference
 *           tie      [TRN_LIMITS] oil: median of all draws, smaller first; grease: nominal
 *                    one-factor interval, smaller first
 * Returned: order    and their number. Scores equal to 9 digits are a tie; then the columns. */
size_t trn_cause_rank(unsigned use, const double *score, const double *tie, trn_cause *order);

/* Calendar of an oil change: months. */
enum { TRN_CALENDAR_MONTHS = 12 };

/* ---- course of the oil between changes ------------------------------------------------------ */

typedef struct trn_oil_course {
    double dust_ppm;   /* NaN where no intake is known */
    int code;          /* ISO 4406 third number, -1 where dust is not known */
    double water_ppm;  /* NaN where it was left out */
    double ageing_pct; /* NaN where it was left out */
} trn_oil_course;

/* Oil after t_h of an interval in the steady cycle.
 * Given:    nominal     of the point (an oil point)
 *           interval_h  change interval, > 0
 *           t_h         0 to interval_h
 *           density     kg/m3 at 15 degC, for the code
 * Status:   TRN_E_DOMAIN */
trn_status trn_oil_course_at(const trn_service_point *point, const trn_nominal *nominal,
                             const trn_interval_settings *settings, double interval_h, double t_h,
                             double density, trn_oil_course *course);

/* ---- turning values ------------------------------------------------------------------------ */

#define TRN_TURN_LIST(X)                                   \
    X(TRN_TURN_DUST, "dust", "1")                          \
    X(TRN_TURN_POWER, "power", "1")                        \
    X(TRN_TURN_WASHES, "washes_per_100h", "1")             \
    X(TRN_TURN_SHOCK, "shock", "1")                        \
    X(TRN_TURN_OIL_TEMPERATURE, "oil_temperature", "K")    \
    X(TRN_TURN_REF_DUST, "ref_dust", "mg/m3")              \
    X(TRN_TURN_REF_SHOCK, "ref_shock", "1")                \
    X(TRN_TURN_REF_TEMPERATURE, "ref_temperature", "degC") \
    X(TRN_TURN_REF_LOAD, "ref_load", "1")                  \
    X(TRN_TURN_REF_ANGLE, "ref_angle", "deg")              \
    X(TRN_TURN_REF_SPEED, "ref_speed", "rpm")

typedef enum trn_turn_id {
#define TRN_X(id, name, unit) id,
    TRN_TURN_LIST(TRN_X)
#undef TRN_X
    TRN_TURNS
} trn_turn_id;

/* Name of a quantity as turning.csv has it; "" past the list. */
const char *trn_turn_name(trn_turn_id id);
/* Unit of the same quantity, "1" for a pure number; "" past the list. */
const char *trn_turn_unit(trn_turn_id id);

/* Value in use: 1 for a common factor, 0 for a shift, else the point's own. NaN: not known. */
double trn_turn_used(trn_turn_id id, const trn_service_point *point);

/* Does the quantity act on the point at all? (Cheap: no evaluation.) */
bool trn_turn_acts(trn_turn_id id, const trn_service_point *point, const trn_duty_state *states,
                   size_t n);

/* Copies of point and states with the quantity at v. Power changes load_ratio and load_pc; the
 * caller puts modelled temperatures in. point_out, states_out[n] are the caller's. */
void trn_turn_apply(trn_turn_id id, double v, const trn_service_point *point,
                    const trn_duty_state *states, size_t n, trn_service_point *point_out,
                    trn_duty_state *states_out);

typedef struct trn_turning {
    double used;
    double manual_stands_at; /* NaN: not reached */
    double next_step_at;     /* NaN: not reached, or the manual's interval stands */
} trn_turning;

/* T_q in h with the quantity at v; NaN where it cannot be computed (counts as not holding). */
typedef double (*trn_turn_call)(double v, void *context);

/* Turning values of one quantity.
 * Given:    turns  T(v) may rise and fall (oil temperature; power where it moves a modelled one):
 *                  then both sides are searched outward and the nearest counts
 * Status:   TRN_E_DOMAIN. Checked by tests/clock.c */
trn_status trn_turning_find(trn_turn_id id, const trn_service_point *point, bool turns,
                            trn_clock clock, const trn_interval_settings *settings,
                            trn_turn_call call, void *context, trn_turning *turning);

/* The same with fewer calls, for a T(v) that is dear (draws): within the same precision.
 * Status: TRN_E_DOMAIN. Checked by tests/clock.c */
trn_status trn_turning_find_dear(trn_turn_id id, const trn_service_point *point, bool turns,
                                 trn_clock clock, const trn_interval_settings *settings,
                                 trn_turn_call call, void *context, trn_turning *turning);

/* ---- longer than the manual ---------------------------------------------------------------- */

typedef struct trn_measurand {
    const char *name;
    const double *times_h, *values;
    size_t n;
    double limit;
    bool falls; /* the limit is a lower one */
} trn_measurand;

typedef enum trn_extension_bar {
    TRN_EXTENSION_ALLOWED = 0,
    TRN_EXTENSION_NOT_LONGER,      /* no step up is left */
    TRN_EXTENSION_WARRANTY_UNKNOWN,
    TRN_EXTENSION_WARRANTY,        /* not over yet */
    TRN_EXTENSION_FEW_SAMPLES,
    TRN_EXTENSION_TREND,           /* measurand `which` */
    TRN_EXTENSION_OIL              /* ageing or water at the risk quantile */
} trn_extension_bar;

typedef struct trn_extension {
    double candidate_h;
    trn_extension_bar bar;
    size_t which;
    double bound; /* of measurand `which` at the candidate */
} trn_extension;

/* Interval longer than the manual's, one step: min(1.25 present, 2 T_m) rounded down to 25 h (5 h
 * below 100 h).
 * Given:    present_h, manual_h > 0
 *           machine_h, warranty_h  last hours seen and end of the warranty; NaN: not given
 *           list, count            every measurand with its samples of the same machine and duty
 *           oil_h                  risk quantile of min(T1, T3), T3 of every draw
 * Status:   TRN_E_DOMAIN. Standing: chosen, on a published bound. Checked by tests/clock.c */
trn_status trn_extend(double present_h, double manual_h, double machine_h, double warranty_h,
                      const trn_measurand *list, size_t count, double oil_h,
                      trn_extension *extension);

#ifdef __cplusplus
}
#endif
#endif
