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

#define TRN_REMARKS_JOINT(X)                                                           \
    X(TRN_R_JOINT_OVERLOADED,                                                          \
      "the load is above half the rating, where the life equation does not hold")      \
    X(TRN_R_JOINT_SMALL_ANGLE,                                                         \
      "below 2 deg false brinelling decides, not fatigue")                             \
    X(TRN_R_JOINT_BELOW_CRITICAL,                                                      \
      "the needles rock below the critical oscillation, the life is an upper bound")   \
    X(TRN_R_JOINT_LARGE_ANGLE, "the joint is bent by more than 45 deg")                \
    X(TRN_R_JOINT_DRIVEN_COUPLE,                                                       \
      "above 45 deg the largest driven couple of the turn is T/(2 cos beta)")

#define TRN_REMARKS_SHAFT(X)                                                           \
    X(TRN_R_SHAFT_BOTTOMS, "the shaft bottoms in its shortest position")               \
    X(TRN_R_SHAFT_PARTS, "the tubes part in the longest position")                     \
    X(TRN_R_SHAFT_SHORT_OVERLAP,                                                       \
      "the overlap is below the 150 mm that common practice asks for")                 \
    X(TRN_R_SHAFT_TORQUE_REVERSES,                                                     \
      "torque reverses, backlash hammers and the figure is a lower bound")             \
    X(TRN_R_SHAFT_RESONANCE,                                                           \
      "near resonance, where the amplitude hangs on a damping that nobody knows well")

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

#define TRN_REMARKS_BEARING(X)                                                         \
    X(TRN_R_BEARING_KAPPA, "kappa is below 0.1, where the method ends: a_ISO = 0.1")   \
    X(TRN_R_BEARING_HEAVY, "the load is above half the dynamic rating, outside the "   \
                           "method")                                                   \
    X(TRN_R_BEARING_NO_E_C, "e_C is 0: the bath is too dirty for a bearing of this "   \
                            "size, a_ISO is 0.1 whatever the oil")                     \
    X(TRN_R_BEARING_LIGHT, "the load is below the minimum load (skidding): the life "  \
                           "says nothing")                                             \
    X(TRN_R_BEARING_X, "e_C Cu/P is above 5 and counts as 5")                          \
    X(TRN_R_BEARING_RELIABILITY, "the reliability is outside the table of a1")         \
    X(TRN_R_BEARING_TABLE, "f0 Fa/C0 is outside the table, whose end values are used") \
    X(TRN_R_BEARING_SHARES, "the shares of time do not add up to 100 %")               \
    X(TRN_R_BEARING_GAMMA, "Dw cos alpha/Dpw is above 0.3, outside the roller table")

#define TRN_REMARKS_GEAR(X)                                                            \
    X(TRN_R_GEAR_WIDE, "the face is wider than a third of the cone distance")          \
    X(TRN_R_GEAR_INTERFERENCE, "a tip reaches past the base circle of its mate: the "  \
                               "teeth interfere")                                      \
    X(TRN_R_GEAR_PATH, "the path of contact is unusual: contact ratio below 1 or "     \
                       "above 2, or one part of it below 0")                           \
    X(TRN_R_GEAR_FACE, "the face is wider than 0.35 of the cone distance")             \
    X(TRN_R_GEAR_LIGHT, "below 150 N/mm the method takes 150 N/mm: the share that is " \
                        "lost is too high at light load")

#define TRN_REMARKS_AXLE(X)                                                            \
    X(TRN_R_AXLE_OVER_LOCATED, "both bearings locate the axle: the whole thrust is "   \
                               "put on each")

#define TRN_REMARKS_LOSS(X)                                                            \
    X(TRN_R_LOSS_DEEP, "the gear dips more than 0.8 of its radius")                    \
    X(TRN_R_LOSS_GROUND, "outside the ground on which the churning law was tested")    \
    X(TRN_R_LOSS_DISC, "outside the ground on which the disc law was tested")

#define TRN_REMARKS_HEAT(X)                                                            \
    X(TRN_R_HEAT_NO_BALANCE, "no balance within 300 K over the air: the gearbox "      \
                             "cannot run like this without a break")                   \
    X(TRN_R_HEAT_DISAGREE, "power, area, level or reading do not agree")               \
    X(TRN_R_HEAT_LONG_STOP, "stopped for more than a time constant: the oil at the "   \
                            "stop is extrapolated")                                    \
    X(TRN_R_HEAT_COLD_START, "the oil is above 2000 mm2/s at the start: the laws are " \
                             "extrapolated there")

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

#define TRN_REMARKS_STATISTICS(X)                                                      \
    X(TRN_R_STATISTICS_ONE_FAILURE, "one failure: the slope is hardly known")          \
    X(TRN_R_STATISTICS_FEW_FAILURES,                                                   \
      "few failures: limits may be a few per cent short")                              \
    X(TRN_R_STATISTICS_BEYOND, "beyond the hours observed")                            \
    X(TRN_R_STATISTICS_COVERAGE, "the limits cover less than was asked for")           \
    X(TRN_R_STATISTICS_FEW_VALUES, "fewer than 12 values: a guess")

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
