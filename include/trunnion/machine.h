/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The case: one PTO-driven machine as built, set up, used and serviced, as tables of rows.
 *
 * Units: every number is in SI (m, kg, N, W, K, rad, rad/s, m3, m2/s, kg/m3; shares and % as
 * fractions), but times and intervals, which are in hours (h), and the sample contents, which
 * stay in ppm. A number that is not known is NaN, a word -1, a text NULL, an index TRN_NONE. */
#ifndef TRUNNION_MACHINE_H
#define TRUNNION_MACHINE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <trunnion/status.h>
#include <trunnion/table.h>

#ifdef __cplusplus
extern "C" {
#endif

#define TRN_NONE ((size_t)-1)

enum { TRN_LIST_MAX = 16, TRN_TEXTS_MAX = 24 };

typedef struct trn_numbers {
    size_t n;
    double v[TRN_LIST_MAX];
} trn_numbers;

typedef struct trn_texts {
    size_t n;
    const char *v[TRN_TEXTS_MAX];
} trn_texts;

/* First member of every row: where it came from. Bit i of given: column i was filled in;
 * of changed: an override set it. */
typedef struct trn_row {
    size_t line;
    uint64_t given, changed;
} trn_row;

typedef struct trn_head { /* machine.csv */
    trn_row row;
    const char *name;
    double pto_speed, rated_power, hours_per_year, design_life, reliability, risk, ambient;
    const char *currency;
    double labour_rate;
    trn_numbers service_clock; /* h */
    double warranty_hours;
    double machine_hours;    /* h, the hour meter now */
    double grams_per_stroke; /* kg, of the grease gun */
    const char *serial, *owner, *prepared_by, *date, *manual;
} trn_head;

typedef enum trn_shaft_kind { TRN_TWO_JOINT, TRN_ONE_JOINT, TRN_WIDE_ANGLE } trn_shaft_kind;

typedef struct trn_shaft {
    trn_row row;
    const char *shaft, *from, *to;
    int kind;
    double power_share, yoke_error, cross_rating, cross_arm, needles, tube_outside, tube_bore,
        length_closed, overlap_closed, tube_length, profile_radius, profile_friction, sliding,
        stiffness, inertia_driven, angle_limit, angle_limit_brief;
    const char *note;
    /* found when the case is checked */
    size_t from_gearbox; /* TRN_NONE: the tractor */
    size_t to_gearbox;   /* TRN_NONE: a rotor */
    size_t from_axle;    /* axle of from_gearbox that it is attached to, TRN_NONE */
    double power_total;  /* share of the machine's power, as a fraction */
    double speed_ratio;  /* its speed over the tractor's; NaN: left out */
} trn_shaft;

typedef struct trn_position { /* positions.csv */
    trn_row row;
    const char *position, *shaft;
    double drive_side, drive_plan, tube_side, tube_plan, driven_side, driven_plan, length;
    int pto_on; /* 1 yes, 0 no */
    const char *note;
    size_t shaft_index;
} trn_position;

typedef enum trn_layout { TRN_HITCH, TRN_DRAWBAR, TRN_WING, TRN_LINKAGE } trn_layout;

typedef struct trn_geometry { /* geometry.csv */
    trn_row row;
    const char *shaft, *position;
    int layout, pto_on;
    double x, y, z, pitch, psi, a, h1, b, h2, tau;
    double lower_x, lower_z, lower_link, upper_x, upper_z, upper_link, mast, joint_x, joint_z,
        input_d, input_e, link_angle;
    const char *note;
    size_t shaft_index;
} trn_geometry;

typedef struct trn_gearbox {
    trn_row row;
    const char *gearbox, *shaft, *oil;
    double oil_volume, headspace, level_margin, residual_oil, area, heat_transfer, air_speed,
        height, emissivity, sun_area, sun_absorption, residue, mass;
    const char *cleanliness;
    double dust_intake, dust_margin, change_cost, gearbox_cost;
    const char *note;
    size_t shaft_index, oil_index, input_axle;
} trn_gearbox;

typedef enum trn_role { TRN_INPUT, TRN_OUTPUT, TRN_THROUGH, TRN_IDLE } trn_role;

typedef struct trn_axle {
    trn_row row;
    const char *axle, *gearbox;
    int role;
    trn_texts shaft;
    trn_numbers seals;
    double overhang;
    const char *note;
    size_t gearbox_index;
    size_t bearing_count, bearing[2]; /* the first two; bearing_count may be more */
    double ratio;                     /* speed over the gearbox's input axle; NaN: not reached */
    int sense;                        /* sign of omega along +, 0: not known */
} trn_axle;

typedef enum trn_gear_kind {
    TRN_STRAIGHT_BEVEL,
    TRN_SPIRAL_BEVEL,
    TRN_SPUR,
    TRN_HELICAL
} trn_gear_kind;

typedef struct trn_gear {
    trn_row row;
    const char *gear, *axle, *mate;
    int kind;
    double teeth, module, face_width, pressure_angle, spiral_angle;
    int hand; /* 0 right, 1 left */
    double shaft_angle, station;
    int apex; /* 0 +, 1 -, -1 not given */
    double azimuth;
    int rotation; /* 0 cw, 1 ccw, -1 follows */
    double power_share, dip, roughness;
    const char *note;
    size_t axle_index, mate_index;
    bool driver; /* nearer the tractor than its mate */
} trn_gear;

typedef struct trn_bearing {
    trn_row row;
    const char *bearing, *axle;
    int kind; /* trn_bearing_kind order: deep_groove, angular_15 ... tapered, cylindrical, needle */
    double station, C, C0, Cu, bore, outside, contact_angle, f0;
    int thrust; /* 0 none, 1 +, 2 -, 3 both */
    const char *note;
    size_t axle_index;
} trn_bearing;

typedef struct trn_oil {
    trn_row row;
    const char *oil;
    int base; /* 0 mineral, 1 pao, 2 ester, 3 pag */
    double kv40, index, kv100, density15, ageing_life, ageing_temperature;
    const char *note;
} trn_oil;

typedef struct trn_grease {
    trn_row row;
    const char *grease, *nlgi;
    double base_kv40, base_kv100, limit;
    const char *thickener, *note;
} trn_grease;

typedef struct trn_point {
    trn_row row;
    const char *point, *component;
    int task; /* trn_task of mechanism.h */
    const char *lubricant;
    double manual_interval, severe_interval, last_done, quantity, fittings, minutes, ref_dust, ref_shock, ref_temperature,
        ref_load, ref_angle, ref_speed, temperature;
    const char *source; /* the manual's own clause */
    const char *note;
    size_t shaft_index, gearbox_index, bearing_index; /* what component is, others TRN_NONE */
    size_t oil_index, grease_index;                   /* what lubricant is */
} trn_point;

typedef enum trn_power_basis { TRN_POWER_STATED, TRN_POWER_LOG } trn_power_basis;

typedef struct trn_duty {
    trn_row row;
    const char *condition;
    double share, hours, pto_speed, power, shock;
    int power_basis; /* trn_power_basis */
    const char *position;
    double ambient, dust;
    int dust_class; /* 0 damp, reference, dusty, severe, extreme; -1 none */
    double humidity, starts_per_100h, washes_per_100h, wash_water, sun, oil_temperature;
    const char *alternates_with; /* word of a group of conditions that share one temperature */
    const char *note;
} trn_duty;

typedef enum trn_reading_place { TRN_READ_OIL, TRN_READ_SKIN } trn_reading_place;

typedef struct trn_reading { /* readings.csv: a temperature read at a gearbox */
    trn_row row;
    const char *gearbox, *condition;
    int where;                   /* trn_reading_place */
    double temperature, ambient; /* at the reading */
    double running, stopped;     /* s, in the condition before the stop, and since */
    const char *note;
    size_t gearbox_index, duty_index;
} trn_reading;

enum { TRN_FE, TRN_CU, TRN_SI, TRN_AL, TRN_CR, TRN_PB, TRN_WATER, TRN_ELEMENTS };

/* Chosen: machine and oil hours of a sample are read by hand, and agree to so many. */
enum { TRN_METERS_AGREE_H = 5 };

typedef struct trn_sample {
    trn_row row;
    const char *gearbox;
    double machine_hours, oil_hours, content[TRN_ELEMENTS], kv40, top_up;
    const char *note;
    size_t gearbox_index;
} trn_sample;

typedef struct trn_life_row { /* lives.csv */
    trn_row row;
    const char *unit;
    double hours;
    int state; /* 0 failed, 1 running, -1 interval form */
    double after, by, count;
    const char *note;
} trn_life_row;

typedef struct trn_spread_row {
    trn_row row;
    const char *quantity;
    int kind; /* 0 lognormal, 1 normal, 2 uniform */
    double spread;
    const char *note;
} trn_spread_row;

typedef struct trn_scenario {
    trn_row row;
    const char *scenario, *quantity, *value, *note;
} trn_scenario;

typedef struct trn_failure {
    trn_row row;
    const char *component;
    double hours, hours_spread;
    trn_texts sign;
    const char *note;
} trn_failure;

typedef struct trn_basis_row { /* basis.csv: where inputs come from */
    trn_row row;
    const char *quantity;
    int basis; /* trn_input_basis of inputs.h: 0 measured ... 5 assumed */
    const char *plus_minus, *instrument, *by, *date, *evidence, *note;
} trn_basis_row;

/* X(name, row type): the tables of a case, in the order in which they are written and checked */
#define TRN_TABLE_LIST(X)          \
    X(shafts, trn_shaft)           \
    X(positions, trn_position)     \
    X(geometry, trn_geometry)      \
    X(gearboxes, trn_gearbox)      \
    X(axles, trn_axle)             \
    X(gears, trn_gear)             \
    X(bearings, trn_bearing)       \
    X(oils, trn_oil)               \
    X(greases, trn_grease)         \
    X(points, trn_point)           \
    X(duty, trn_duty)              \
    X(readings, trn_reading)       \
    X(samples, trn_sample)         \
    X(lives, trn_life_row)         \
    X(uncertainty, trn_spread_row)     \
    X(scenarios, trn_scenario)     \
    X(failure, trn_failure)        \
    X(basis, trn_basis_row)

struct trn_arena; /* texts of the case */

typedef struct trn_machine {
    trn_head head;
#define TRN_X(name, type) \
    type *name;           \
    size_t name##_count;
    TRN_TABLE_LIST(TRN_X)
#undef TRN_X
    char *folder; /* as given */
    const struct trn_machine *origin; /* of a copy: the case as read; NULL: this is it */
    struct trn_arena *arena;
} trn_machine;

/* Reads a case folder, checks it and links its tables.
 * Returned: *out, to be freed with trn_machine_free
 * Status:   TRN_E_INPUT (faults say what, with file, line, column), TRN_E_IO, TRN_E_MEMORY */
trn_status trn_machine_read(const char *folder, trn_faults *faults, trn_machine **out);
/* Frees a case or a copy; NULL is allowed. Copies go before their original. */
void trn_machine_free(trn_machine *machine);

/* One table alone, from a file of any name, into a case that has no other: `lives`, `samples`.
 * Columns, units and ranges are checked, nothing is linked.
 * Returned, Status: as trn_machine_read; TRN_E_UNKNOWN: there is no such table */
trn_status trn_machine_read_table(const char *path, const char *table, trn_faults *faults,
                                  trn_machine **out);

/* A copy whose numbers can be changed; it has its own rows and shares the texts, so the
 * original must outlive it. NULL without memory. */
trn_machine *trn_machine_copy(const trn_machine *machine);

/* Links the tables, derives what follows from several of them (speeds, power, senses of turn)
 * and checks it; called by trn_machine_read and again after overrides.
 * Status: TRN_E_INPUT, faults say what; TRN_E_MEMORY */
trn_status trn_machine_link(trn_machine *machine, trn_faults *faults);

/* Sets `path` to `value` (`x1.2`, `+10`, an absolute value with or without unit, a word), the
 * rules of docs/case-tables.md. Faults name the place (`where`) and the nearest right paths.
 * trn_machine_link is to be called afterwards.
 * Status: TRN_E_INPUT, TRN_E_MEMORY */
trn_status trn_machine_set(trn_machine *machine, const char *path, const char *value,
                           const char *where, trn_faults *faults);

/* Applies the rows of one scenario of scenarios.csv: absolute values, then factors, then
 * offsets; two absolute values on one cell are a fault.
 * Status: TRN_E_INPUT (no such scenario, a wrong path or value), TRN_E_MEMORY */
trn_status trn_machine_scenario(trn_machine *machine, const char *name, trn_faults *faults);

/* Does condition i share its oil temperature with k (one group of alternates_with, or the same)? */
bool trn_alternating(const trn_machine *machine, size_t i, size_t k);

/* Row by key, TRN_NONE if there is none. */
size_t trn_find_shaft(const trn_machine *machine, const char *key);
/* Gearbox by key, TRN_NONE if there is none. */
size_t trn_find_gearbox(const trn_machine *machine, const char *key);
/* Axle by key, TRN_NONE if there is none. */
size_t trn_find_axle(const trn_machine *machine, const char *key);
/* Gear by key, TRN_NONE if there is none. */
size_t trn_find_gear(const trn_machine *machine, const char *key);
/* Bearing by key, TRN_NONE if there is none. */
size_t trn_find_bearing(const trn_machine *machine, const char *key);
/* Condition by key, TRN_NONE if there is none. */
size_t trn_find_condition(const trn_machine *machine, const char *key);
/* Oil by key, TRN_NONE if there is none. */
size_t trn_find_oil(const trn_machine *machine, const char *key);
/* Grease by key, TRN_NONE if there is none. */
size_t trn_find_grease(const trn_machine *machine, const char *key);

/* Starter case: every table with header, explanation and an example. Refuses a folder that
 * holds one of the files already.
 * Status: TRN_E_IO, TRN_E_INPUT, TRN_E_MEMORY */
trn_status trn_machine_new(const char *folder, trn_faults *faults);

#ifdef __cplusplus
}
#endif
#endif
