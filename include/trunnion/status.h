/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Status of every call: 0 fine; positive, a number outside the stated validity (a remark that
 * travels with the result); negative, no number, and the outputs are untouched. */
#ifndef TRUNNION_STATUS_H
#define TRUNNION_STATUS_H

#ifdef __cplusplus
extern "C" {
#endif

/* X(name, number, word, text): word is what `error:WORD` in a check file means. */
#define TRN_ERROR_LIST(X)                                                              \
    X(TRN_E_DOMAIN, -1, "domain", "an input is outside the domain of the formula")     \
    X(TRN_E_MISSING, -2, "missing", "a required input is missing")                     \
    X(TRN_E_UNIT, -3, "unit", "the unit does not convert to the one asked for")        \
    X(TRN_E_SYMBOL, -4, "symbol", "no such symbol")                                    \
    X(TRN_E_FORMULA, -5, "formula", "no such formula")                                 \
    X(TRN_E_NUMBER, -6, "number", "not a number")                                      \
    X(TRN_E_MEMORY, -7, "memory", "out of memory")                                     \
    X(TRN_E_IO, -8, "io", "a file could not be read or written")                       \
    X(TRN_E_INPUT, -9, "input", "the input is wrong")                                  \
    X(TRN_E_CONVERGE, -10, "converge", "no convergence")                               \
    X(TRN_E_USAGE, -11, "usage", "the command line is wrong")                          \
    X(TRN_E_UNKNOWN, -12, "unknown", "an input is not known")

/* Remarks, a block a subject: X(name, text). The text is a clause without full stop. */
#define TRN_REMARKS_GENERAL(X)                                                         \
    X(TRN_R_OUTSIDE, "outside the stated range of validity")

#define TRN_REMARKS_JOINT(X)

#define TRN_REMARKS_SHAFT(X)

#define TRN_REMARKS_OIL(X)                                                             \
    X(TRN_R_OIL_DENSITY,                                                               \
      "the density rule covers oils of 800 to 1164 kg/m3 from -20 to 150 degC")        \
    X(TRN_R_OIL_HEAT_CAPACITY, "the heat capacity rule covers 0 to 150 degC")          \
    X(TRN_R_OIL_ALPHA,                                                                 \
      "the pressure coefficient is not vouched for outside 3 to 1000 mm2/s")           \
    X(TRN_R_OIL_AGEING, "the slope of ageing is known from 40 to 150 degC only")       \
    X(TRN_R_OIL_WATER, "extrapolated: tests were made from 25 to 400 ppm of water")    \
    X(TRN_R_OIL_VAPOUR, "the vapour pressure holds for air of -20 to 50 degC")

#define TRN_REMARKS_GREASE(X)                                                          \
    X(TRN_R_GREASE_AGES, "above 30000 h: the oil in the grease ages before that")      \
    X(TRN_R_GREASE_SPEED, "speed times bore is above the limit of the grease")         \
    X(TRN_R_GREASE_COOL, "the forecast of grease life begins at 70 degC")

#define TRN_REMARKS_BEARING(X)

#define TRN_REMARKS_GEAR(X)

#define TRN_REMARKS_AXLE(X)

#define TRN_REMARKS_LOSS(X)

#define TRN_REMARKS_HEAT(X)

#define TRN_REMARKS_WEAR(X)                                                            \
    X(TRN_R_WEAR_FLAT, "Ry is below Rx: the film formula was not fitted there")        \
    X(TRN_R_WEAR_LINE,                                                                 \
      "ellipticity above 8: nearly a line contact, film 11 to 18 % on the low side")

#define TRN_REMARKS_INTERVAL(X)                                                        \
    X(TRN_R_INTERVAL_ADDITIVE_RANGE,                                                   \
      "the 10 K rule of the additives is not meant for oil outside 50 to 110 degC")    \
    X(TRN_R_INTERVAL_AGE_FAR, "the best age is beyond any number: run to failure")     \
    X(TRN_R_INTERVAL_NO_OIL_TEMPERATURE,                                               \
      "the oil temperature is not known in every condition")                           \
    X(TRN_R_INTERVAL_NO_AGEING_LIFE, "the ageing life of the oil is not known")        \
    X(TRN_R_INTERVAL_NO_OIL_MASS, "the oil quantity is not known")                     \
    X(TRN_R_INTERVAL_NO_WATER, "starts, washes or the air are not known")              \
    X(TRN_R_INTERVAL_NO_HEADSPACE, "headspace not given: breathing is left out")       \
    X(TRN_R_INTERVAL_NO_RATED_POWER, "the rated power is not known")                   \
    X(TRN_R_INTERVAL_NO_SAMPLES, "there are no samples for it")                        \
    X(TRN_R_INTERVAL_WATER_NEVER,                                                      \
      "water never gets to its limit: look for milky oil after each wash")             \
    X(TRN_R_INTERVAL_NEVER, "it never gets to its limit")                              \
    X(TRN_R_INTERVAL_STILL,                                                            \
      "a joint that does not swing wears its needles into the trunnion (false brinelling)") \
    X(TRN_R_INTERVAL_GREASE_LIMIT, "the point is hotter than its grease is meant for") \
    X(TRN_R_INTERVAL_FLOOR,                                                            \
      "the product of factors is below 0.1: automatic feed, a better seal or another part") \
    X(TRN_R_INTERVAL_BELOW_CLOCK, "the interval is below the machine's service clock") \
    X(TRN_R_INTERVAL_NOT_BY_GREASING,                                                  \
      "it cannot be kept by greasing: automatic feed, a better seal or a change of the machine") \
    X(TRN_R_INTERVAL_NOT_BY_CHANGING,                                                  \
      "it cannot be kept by changing oil: a better seal or a change of the machine")

#define TRN_REMARKS_STATISTICS(X)

#define TRN_REMARK_LIST(X)                                                             \
    TRN_REMARKS_GENERAL(X)                                                             \
    TRN_REMARKS_JOINT(X)                                                               \
    TRN_REMARKS_SHAFT(X)                                                               \
    TRN_REMARKS_OIL(X)                                                                 \
    TRN_REMARKS_GREASE(X)                                                              \
    TRN_REMARKS_BEARING(X)                                                             \
    TRN_REMARKS_GEAR(X)                                                                \
    TRN_REMARKS_AXLE(X)                                                                \
    TRN_REMARKS_LOSS(X)                                                                \
    TRN_REMARKS_HEAT(X)                                                                \
    TRN_REMARKS_WEAR(X)                                                                \
    TRN_REMARKS_INTERVAL(X)                                                            \
    TRN_REMARKS_STATISTICS(X)

typedef enum trn_status {
#define TRN_X(name, number, word, text) name = number,
    TRN_ERROR_LIST(TRN_X)
#undef TRN_X
    TRN_OK = 0,
#define TRN_X(name, text) name,
    TRN_REMARK_LIST(TRN_X)
#undef TRN_X
    TRN_STATUS_END
} trn_status;

/* Text of a status: "" for TRN_OK, a clause otherwise; never NULL. */
const char *trn_status_text(trn_status status);

/* Word of a negative status as check files write it after `error:`; "" for the others. */
const char *trn_status_word(trn_status status);

#ifdef __cplusplus
}
#endif
#endif
