/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a case to results: one evaluation function, re-entrant, without allocation once its
 * results exist. What could not be computed is NaN, with the reason among the remarks.
 * Numbers carry their unit in the name of the field. */
#ifndef TRUNNION_STUDY_H
#define TRUNNION_STUDY_H

#include <trunnion/machine.h>
#include <trunnion/step.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ---- remarks ------------------------------------------------------------------------------ */

/* X(id, text): `$` stands for the name, `#` and `~` for the numbers that go with the remark. */
#define TRN_REMARK_TEXTS(X)                                                                      \
    X(TRN_M_STATUS, "")                                                                          \
    X(TRN_M_TEXT, "$") \
    X(TRN_M_NO_POSITION, "no row of positions for `$`: no angles, couples, ripple or joint life") \
    X(TRN_M_NO_DUTY_POSITION, "no position given: no angles, couples, ripple or joint life")     \
    X(TRN_M_LEFT_OUT, "speed not known (no axle names the shaft, or no gear reaches it): left out") \
    X(TRN_M_PTO_OFF, "power in the position `$`, whose pto_on is no")                            \
    X(TRN_M_QUASI_STATIC, "quasi-static")                                                        \
    X(TRN_M_REVERSES, "torque reverses, teeth hammer")                                           \
    X(TRN_M_RESONANCE, "near resonance: ripple # to ~ N.m for damping 0.05 to 0.01")             \
    X(TRN_M_HANGS_ON_RESONANCE, "hangs on the damping near the resonance of a shaft")            \
    X(TRN_M_ANGLE_LIMIT, "angle # deg above the limit for turning under power")                  \
    X(TRN_M_ANGLE_BRIEF, "angle # deg above the limit for turning without power")                \
    X(TRN_M_ANGLE_STANDING, "angle # deg standing: see that joint and guard can fold so far")    \
    X(TRN_M_BOTTOMS, "THE SHAFT BOTTOMS (clearance # mm): a fault that no life covers")          \
    X(TRN_M_PARTS, "the tubes part (overlap # mm)")                                              \
    X(TRN_M_SMALL_ANGLE, "cross taken at 2 deg: below it false brinelling, not fatigue, governs") \
    X(TRN_M_OSCILLATION, "angle below the critical oscillation of # deg: upper bound of life")   \
    X(TRN_M_NO_CROSS, "no cross_rating or cross_arm: no life of the cross")                      \
    X(TRN_M_DUTY_UNKNOWN, "not known in the condition `$`: no life over the duty")               \
    X(TRN_M_CLEARANCE, "# mm of clearance at the shortest, `$`")                                 \
    X(TRN_M_CLEARANCE_SHORT, "DOES NOT FIT: # mm of clearance at the shortest, `$`; 50 are asked for") \
    X(TRN_M_OVERLAP, "# mm of overlap at the longest that turns, `$`")                           \
    X(TRN_M_OVERLAP_SHORT,                                                                       \
      "DOES NOT FIT: # mm of overlap at the longest that turns, `$`; ~ are asked for")           \
    X(TRN_M_OVERLAP_150, "overlap # mm is below 150 mm")                                         \
    X(TRN_M_FITS, "fits")                                                                        \
    X(TRN_M_FIT_UNKNOWN, "no length_closed, overlap_closed or lengths: fit not judged")          \
    X(TRN_M_CRITICAL_SPEED, "speed above 0.65 of the tube's critical speed of # rpm")            \
    X(TRN_M_OFF_CENTRE, "measured and dimensioned position differ by # deg")                     \
    X(TRN_M_OFF_LENGTH, "measured and dimensioned length differ by # mm")                        \
    X(TRN_M_UPPER_BOUND, "fatigue of the needles only: an upper bound")                          \
    X(TRN_M_NO_LOAD, "no load")                                                                  \
    X(TRN_M_TWO_BEARINGS, "bearings on the axle: #, not two: loads are not determined")           \
    X(TRN_M_NO_SENSE, "sense of turn not known (give `rotation` of one gear): no loads")         \
    X(TRN_M_NO_SPEED, "no gear reaches the axle: no speed, no loads")                            \
    X(TRN_M_NOT_HELD, "the axle is not held against thrust: no loads")                           \
    X(TRN_M_OVER_LOCATED, "located twice: all the thrust on each bearing")                       \
    X(TRN_M_SAME_STATION, "both bearings at one station: no loads")                              \
    X(TRN_M_SIDE_FORCE, "W shaft: side force # N at the nearer bearing exceeds the added couple") \
    X(TRN_M_NO_AREA, "no area: losses only at a measured temperature, no balance")               \
    X(TRN_M_NO_GEARS, "no gears, or no bearings on an axle with gears: no losses, no balance")   \
    X(TRN_M_NO_ROOT, "no balance up to 300 K above the air: the box cannot run so continuously") \
    X(TRN_M_MEASURED, "measured oil temperature used")                                           \
    X(TRN_M_READ, "cooling factor # from readings (~)")                                          \
    X(TRN_M_READ_SHORT, "reading in `$` not used: it ran # min, below two time constants of ~ min") \
    X(TRN_M_READ_STOP, "reading in `$` not used: no mass, so the oil at the stop is not known")  \
    X(TRN_M_READ_FAILED, "reading in `$` not used: no losses or no heat transfer to compare it with") \
    X(TRN_M_READ_UNSETTLED, "reading in `$`: taken to have run for two time constants")          \
    X(TRN_M_READ_LONG_STOP,                                                                      \
      "reading in `$`: stopped for more than a time constant, the oil at the stop is extrapolated") \
    X(TRN_M_SHARED, "alternates with the conditions of the group `$`: one oil temperature")      \
    X(TRN_M_MEASURED_IN_GROUP, "measured in a condition that it alternates with")                \
    X(TRN_M_NO_TEMPERATURE, "oil temperature not known: no viscosity, basic life only")          \
    X(TRN_M_NO_CLEANLINESS, "no cleanliness, and no dust_intake with a change_oil point")        \
    X(TRN_M_DIRTIER, "dirtier than -/21/18: e_C = 0")                                            \
    X(TRN_M_BAD_CODE, "cleanliness `$` is no ISO 4406 class")                                    \
    X(TRN_M_LOW_OIL, "LOW OIL: no starved film is modelled, the life is not to be trusted")      \
    X(TRN_M_MIN_LOAD, "load below the minimum: skidding, the life says nothing")                 \
    X(TRN_M_NO_BEARINGS, "no bearings given")                                                      \
    X(TRN_M_WITHOUT, "without `$`")                                                                \
    X(TRN_M_NOTHING_TURNS, "no position in which it turns: overlap and angle not judged")          \
    X(TRN_M_CUT, "cut # mm off both tubes and both guard tubes")                                   \
    X(TRN_M_CUT_FAILS, "# mm off both halves would give the clearance but not leave the overlap")  \
    X(TRN_M_TOO_SHORT, "overlap # mm short of what is needed: no cut can mend that")               \
    X(TRN_M_TURNS_ABOVE, "turns at # deg, above the limit under power: briefly, without load")     \
    X(TRN_M_INSIDE, "angles stay inside the limit on the whole sweep of geometry.csv")             \
    X(TRN_M_OUTSIDE, "no row of geometry.csv that turns is inside the angle limit")                \
    X(TRN_M_LINK_STOP, "stop of the lift: lower links at # deg")                                   \
    X(TRN_M_SUPPORT, "samples support # h (no recommendation: the table stays)")                   \
    X(TRN_M_SUPPORT_NO_STEP, "samples do not lengthen the interval: no longer step is left")       \
    X(TRN_M_SUPPORT_WARRANTY_UNKNOWN,                                                              \
      "samples do not support # h: warranty_hours not given")                                      \
    X(TRN_M_SUPPORT_WARRANTY, "samples do not lengthen the interval inside the warranty of # h")   \
    X(TRN_M_SUPPORT_FEW, "samples do not support # h: fewer than four of `$` at known oil hours")  \
    X(TRN_M_SUPPORT_TREND,                                                                         \
      "samples do not support # h: `$` may come to ~ by then, beyond its limit")                   \
    X(TRN_M_SUPPORT_OIL, "samples do not support # h: ageing and water allow ~ h with caution") \
    X(TRN_M_SAMPLES_REFUSED, "samples.csv refused (`trunnion samples` says why): not used")        \
    X(TRN_M_SWEEP_OPEN, "part of the sweep cannot be: the linkage does not close or a joint folds")

typedef enum trn_remark_id {
#define TRN_X(id, text) id,
    TRN_REMARK_TEXTS(TRN_X)
#undef TRN_X
    TRN_M_COUNT
} trn_remark_id;

typedef struct trn_remark {
    trn_remark_id id;
    trn_status status;  /* for TRN_M_STATUS: the text is that of the status */
    const char *name;   /* a key of the case, or a static text; NULL */
    double number, second;
} trn_remark;

enum { TRN_ROW_REMARKS_MAX = 12 };

typedef struct trn_remarks {
    size_t n;
    trn_remark v[TRN_ROW_REMARKS_MAX];
} trn_remarks;

/* Adds a remark with the name (kept by reference) and number that its text asks for; each once.
 * A list that is full takes no more. */
void trn_remark_add(trn_remarks *list, trn_remark_id id, const char *name, double number);
/* The same for a text with two numbers. */
void trn_remark_add2(trn_remarks *list, trn_remark_id id, const char *name, double number,
                     double second);
/* A positive or negative status as a remark; TRN_OK adds nothing. Each remark once. */
void trn_remark_status(trn_remarks *list, trn_status status);
/* Adds those of `more` that are not there yet. */
void trn_remarks_join(trn_remarks *list, const trn_remarks *more);
/* Is a remark of this kind in the list? */
bool trn_remark_has(const trn_remarks *list, trn_remark_id id);
/* Does one of them say that a number lies outside what its formula was made for? (--strict) */
bool trn_remarks_outside(const trn_remarks *list);
/* Adds their texts to `out`, parted by `; `. */
void trn_remarks_text(const trn_remarks *list, trn_buffer *out);

/* ---- rows --------------------------------------------------------------------------------- */

/* A shaft in a position, whatever the duty. */
typedef struct trn_setting {
    const char *position;
    size_t shaft;
    bool known, pto_on, used; /* used: a condition stands in it */
    bool w_shape;             /* bent the same way at both joints */
    double angle_in_rad, angle_out_rad, zeta_rad, angle_equivalent_rad;
    double length_m, clearance_m, overlap_m;
    trn_remarks remarks;
} trn_setting;

typedef struct trn_joint_row {
    size_t condition; /* TRN_NONE: of no condition; machine->duty_count: `all` */
    size_t shaft;
    size_t setting; /* TRN_NONE: none */
    double speed_rpm, power_w, torque_nm, angle_in_deg, angle_out_deg, angle_equivalent_deg,
        fluctuation_pct, speed_max_rpm, speed_min_rpm, acceleration_out, acceleration_tube,
        ripple_nm, couple_in_nm, couple_out_nm, length_mm, clearance_mm, overlap_mm, thrust_n,
        life_in_h, life_out_h;
    double cross_load_n;  /* larger P of the two crosses, shock 1 */
    double cross_angle_rad; /* largest angle at which one of its crosses works */
    double rho;           /* ripple over torque */
    bool near_resonance;
    trn_remarks remarks;
} trn_joint_row;

typedef struct trn_gear_row { /* with shock, of the condition */
    double torque_nm, d_m_mm, ft_n, fr_n, fa_n, v_t, f_over_b, friction, mesh_loss_w, film_um,
        lambda, azimuth_deg;
    trn_status status;
} trn_gear_row;

enum { TRN_CASES_MAX = 9 };

/* Loads of a bearing in a condition for one scale of the loads. */
typedef struct trn_load_row {
    bool known;
    double fr_n, radial_y_n, radial_z_n; /* fr with the couple, radial without */
    double couple_n, thrust_n;           /* added by couples; K of the gears, along + */
    size_t cases;
    double share[TRN_CASES_MAX], fa_n[TRN_CASES_MAX]; /* case 0: without shaft thrust */
    trn_remarks remarks;
} trn_load_row;

typedef struct trn_heat_row {
    size_t condition, gearbox;
    double power_kw, cooling_factor, mesh_w, churning_w, churning_low_w, churning_high_w, bearings_w, seals_w,
        sun_w, loss_w, oil_temperature_c, oil_temperature_low_c, oil_temperature_high_c,
        viscosity_mm2s, efficiency_pct, time_constant_min, modelled_temperature_c;
    bool measured, low_oil;
    bool read;       /* a reading of this box in this condition, or in one it alternates with */
    bool calibrated; /* a reading of this box in any condition */
    uint32_t warnings; /* of the balance */
    trn_remarks remarks;
} trn_heat_row;

/* A row of readings.csv and what it says. */
typedef struct trn_reading_row {
    size_t reading;
    double oil_c;             /* at the stop */
    double loss_w, sun_w;     /* at that temperature; of a group: means over it */
    double transfer_w_k;      /* k A as computed and entered; of a group: its mean */
    double time_constant_min; /* with the factor of this reading */
    double cooling_factor;
    bool used;
    trn_remarks remarks;
} trn_reading_row;

/* Of a gearbox, from its readings that are used. */
typedef struct trn_cooling {
    double factor; /* on k, geometric mean; 0: no reading is used */
    size_t used;
    bool disagree; /* power, area, level or reading do not agree */
} trn_cooling;

typedef struct trn_bearing_row {
    size_t condition; /* machine->duty_count: over the duty */
    size_t bearing;
    double speed_rpm, fr_n, fa_n, p_n, oil_temperature_c, kappa, e_c, a_iso, l10h_h, lnmh_h;
    double p_mean_n; /* mean torque: shock 1, no ripple, no shaft thrust */
    double lnmh_low_h, lnmh_high_h; /* 10 and 90 % of draws, over the duty only */
    trn_remarks remarks;
} trn_bearing_row;

typedef struct trn_gearbox_row {
    double l10h_h, lnmh_h, reliability_pct;
    double lnmh_low_h, lnmh_high_h, reliability_low_pct, reliability_high_pct; /* of draws */
    size_t weakest; /* bearing, TRN_NONE */
    trn_remarks remarks;
} trn_gearbox_row;

typedef struct trn_point_row trn_point_row; /* interval_rows.h */
typedef struct trn_fit_row trn_fit_row;     /* lift.h */

typedef struct trn_results {
    const trn_machine *machine;
    trn_setting *settings;
    size_t settings_count;
    trn_joint_row *joints; /* condition by condition, then `all`, then unused positions */
    size_t joints_count;
    trn_gear_row *gears;           /* [condition * gears + gear] */
    trn_load_row *loads;       /* with shock, [condition * bearings + bearing] */
    trn_load_row *loads_mean;  /* mean torque, the same */
    trn_heat_row *heat;            /* [condition * gearboxes + gearbox] */
    trn_bearing_row *bearings;     /* [condition * bearings + bearing], then over the duty */
    trn_gearbox_row *gearboxes;
    trn_reading_row *readings; /* one a row of readings.csv */
    trn_cooling *cooling;      /* one a gearbox */
    struct trn_results *as_read; /* loads of the case as read, of a changed copy; NULL: not yet */
    struct trn_heat_room *room;  /* of conditions that alternate; grows once */
    trn_point_row *points;
    trn_fit_row *fits; /* one a shaft */
    size_t fits_count; /* 0 until evaluated */
    struct trn_calibration *calibrations; /* of the oil samples, one a gearbox */
    size_t calibrations_count;
    struct trn_duty_state *states; /* room for the duty as a point sees it */
    struct trn_extras *extras;     /* NULL until trn_study_extras */
    struct trn_draws *draws;       /* NULL until trn_study_draws */
    struct trn_ledger *ledger;     /* NULL until trn_study_ledger */
} trn_results;

/* Room for the results of a case, which must outlive it; nothing is evaluated yet.
 * Returned: to be freed with trn_results_free; NULL without memory */
trn_results *trn_results_new(const trn_machine *machine);
/* Frees results with extras, draws and ledger; NULL is allowed. */
void trn_results_free(trn_results *results);

typedef enum trn_wanted {
    TRN_WANT_JOINTS = 1,
    TRN_WANT_HEAT = 2, /* with the loads */
    TRN_WANT_LIVES = 4,
    TRN_WANT_INTERVALS = 8,
    TRN_WANT_CONTACTS = 16, /* of the teeth; nothing else needs them */
    TRN_WANT_FIT = 32,      /* of the shafts over their whole sweep; nothing else needs it */
    TRN_WANT_ALL = 63,
    TRN_WANT_LEAN = 1 << 16 /* without the churning band and the time constant of the balance */
} trn_wanted;

/* Evaluates a case. `results` was made by trn_results_new for a machine of the same shape (a
 * copy with other numbers will do). trace: NULL, or takes a note of every step.
 * Status: TRN_OK (what could not be computed stands in the results); TRN_E_MEMORY never. */
trn_status trn_study_evaluate(const trn_machine *machine, unsigned wanted, trn_results *results,
                              trn_trace *trace);

typedef struct trn_turn {
    double tube_speed_rpm, out_speed_rpm, torque_nm;
} trn_turn;

/* Speeds (rpm) and torque (N.m) over one turn of the driving axis, at turns of 0, 1 ... 360
 * degrees, of a condition and shaft by their places.
 * Status: TRN_E_UNKNOWN where the shaft has no position in the condition, turn untouched. */
trn_status trn_study_turn(const trn_results *results, size_t condition, size_t shaft,
                          trn_turn turn[361]);

/* Joint row of a condition and shaft. */
const trn_joint_row *trn_results_joint(const trn_results *results, size_t condition,
                                       size_t shaft);

#ifdef __cplusplus
}
#endif
#endif
