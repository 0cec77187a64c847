/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers of the interval model that have no published source: each with its spread and reason. */
#ifndef TRUNNION_CHOICES_H
#define TRUNNION_CHOICES_H

#include <stddef.h>
#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef enum trn_spread_kind {
    TRN_SPREAD_NONE = 0,
    TRN_SPREAD_LOGNORMAL, /* size = geometric standard deviation */
    TRN_SPREAD_NORMAL,    /* size = standard deviation in the quantity's unit */
    TRN_SPREAD_UNIFORM,   /* size = half width in the quantity's unit */
} trn_spread_kind;

typedef struct trn_spread {
    trn_spread_kind kind;
    double size;
} trn_spread;

/* Value of a quantity in a draw, from its median and a standard normal z (z = 0: the median). */
double trn_spread_draw(double median, trn_spread spread, double z);

typedef enum trn_choice_id {
    TRN_CHOICE_DUST_STAYS,
    TRN_CHOICE_X,
    TRN_CHOICE_X_MOST,
    TRN_CHOICE_REF_DUST,
    TRN_CHOICE_REF_DUST_DAILY,
    TRN_CHOICE_DAILY,
    TRN_CHOICE_DUST_MARGIN,
    TRN_CHOICE_ADDITIVE_MARGIN,
    TRN_CHOICE_F_SI,
    TRN_CHOICE_DUST_BUDGET,
    TRN_CHOICE_INTAKE,
    TRN_CHOICE_AGEING_MINERAL,
    TRN_CHOICE_AGEING_SYNTHETIC,
    TRN_CHOICE_AGEING_GIVEN,
    TRN_CHOICE_AGEING_TEMPERATURE,
    TRN_CHOICE_AGEING_FRACTION,
    TRN_CHOICE_WATER_DAMP,
    TRN_CHOICE_WATER_BUDGET,
    TRN_CHOICE_CATALYST_DAMP,
    TRN_CHOICE_CATALYST_WET,
    TRN_CHOICE_WATER_FRESH,
    TRN_CHOICE_DRYING,
    TRN_CHOICE_DRYING_FROM,
    TRN_CHOICE_DRYING_FULL,
    TRN_CHOICE_WATER_INTAKE,
    TRN_CHOICE_WATER_SAMPLED,
    TRN_CHOICE_ADDITIVE_STEP,
    TRN_CHOICE_ADDITIVE_STEP_LEAST,
    TRN_CHOICE_OIL_MODELLED,
    TRN_CHOICE_OIL_MEASURED,
    TRN_CHOICE_OIL_CALIBRATED,
    TRN_CHOICE_SKIN_RISE,
    TRN_CHOICE_SETTLED,
    TRN_CHOICE_COOLING_LOW,
    TRN_CHOICE_COOLING_HIGH,
    TRN_CHOICE_GREASE_POINTS,
    TRN_CHOICE_GREASE_EXPONENT,
    TRN_CHOICE_SHOCK,
    TRN_CHOICE_MOTION,
    TRN_CHOICE_FLOOR,
    TRN_CHOICE_POINT_RISE,
    TRN_CHOICE_DEBRIS,
    TRN_CHOICE_LEVEL,
    TRN_CHOICE_RISK,
    TRN_CHOICE_SLACK,
    TRN_CHOICE_FIRST_CHANGE,
    TRN_CHOICE_FIRST_SHARE,
    TRN_CHOICE_EXTENSION_SAMPLES,
    TRN_CHOICE_EXTENSION_STEP,
    TRN_CHOICE_EXTENSION_ALL,
    TRN_CHOICE_EXTENSION_CONFIDENCE,
    TRN_CHOICE_SOIL_EXPONENT,
    TRN_CHOICE_SHAFT_SLOPE,
    TRN_CHOICE_RECORD_GAP,
    TRN_CHOICE_SEVERE_DUST,
    TRN_CHOICE_REVIEW_SLOPE,
    TRN_CHOICE_REVIEW_SLOPE_LOW,
    TRN_CHOICE_REVIEW_SLOPE_HIGH,
    TRN_CHOICE_REVIEW_ERROR,
    TRN_CHOICE_REVIEW_ERROR_LOW,
    TRN_CHOICE_REVIEW_ERROR_HIGH,
    TRN_CHOICE_REVIEW_OIL_LEFT,
    TRN_CHOICE_REVIEW_DIP_FOLLOWS,
    TRN_CHOICE_REVIEW_TIE,
    TRN_CHOICE_POWER,
    TRN_CHOICE_POWER_LOG,
    TRN_CHOICE_CLEANLINESS,
    TRN_CHOICE_LIFE_MODEL,
    TRN_CHOICE_COUNT
} trn_choice_id;

typedef struct trn_choice {
    const char *name;    /* as uncertainty.csv (choices.NAME) and reports write it */
    const char *what;
    const char *unit;    /* "" where the choice is a form and no number */
    double value;        /* NaN: a form, a spread alone, or it stands at `formula` or `at` */
    const char *formula; /* catalogue entry whose default it is, or NULL */
    const char *symbol;
    const double *at;    /* constant of the library that it is, or NULL */
    trn_spread spread;
    const char *reason;
} trn_choice;

/* The table, in the order of the list above; NULL past the end. */
const trn_choice *trn_choice_at(size_t i);

/* Value in the unit of the table, from wherever it stands; NaN where it is no number. */
double trn_choice_value(trn_choice_id id);
/* Its built-in spread, size as its kind says; TRN_SPREAD_NONE where it has none. */
trn_spread trn_choice_spread(trn_choice_id id);

/* Chosen numbers of `trunnion digest`, in the units of trn_digest_settings; NULL past the end. They
 * enter no interval: a log is read with them, or with what its reader sets in their place. */
const trn_choice *trn_choice_of_digest(size_t i);

/* Dust classes, total dust in the air round the machine. Standing: chosen between measurements. */
typedef struct trn_dust_class {
    const char *name;
    double median_mg_m3;
    double gsd; /* geometric standard deviation of single shifts */
    const char *typical;
} trn_dust_class;

/* Dust class i from the cleanest on; NULL past the end. Standing: chosen. */
const trn_dust_class *trn_dust_class_at(size_t i);
/* Dust class of a name (`dusty`); NULL if there is none. */
const trn_dust_class *trn_dust_class_find(const char *name);

/* Geometric standard deviation of a dust level: linear in ln C between the classes, constant
 * outside. NaN for NaN. */
double trn_dust_gsd(double mg_m3);

/* Dust of a drier or moister soil: C (u/6)^-1, u % of water. Status: TRN_E_DOMAIN (C < 0, u <= 0);
 * TRN_R_OUTSIDE outside 2 to 14 %, where the nearer end is taken. Standing: form published,
 * exponent chosen. */
trn_status trn_dust_of_soil(double mg_m3, double soil_water_pct, double *dust_mg_m3);

#ifdef __cplusplus
}
#endif
#endif
