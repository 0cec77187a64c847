/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Catalogue formulas as steps of a calculation: called by number, noted when a trace asks. */
#ifndef TRUNNION_STEP_H
#define TRUNNION_STEP_H

#include <trunnion/formula.h>

#ifdef __cplusplus
extern "C" {
#endif

/* X(id, catalogue name): every formula that the study may call. */
#define TRN_STEP_LIST(X) \
    X(TRN_STEP_JOINT_RATIO, "joint.ratio")                                            \
    X(TRN_STEP_JOINT_OUTPUT_ANGLE, "joint.output_angle")                              \
    X(TRN_STEP_JOINT_ACCELERATION, "joint.acceleration")                              \
    X(TRN_STEP_JOINT_FLUCTUATION, "joint.fluctuation")                                \
    X(TRN_STEP_JOINT_PEAK_ACCELERATION, "joint.peak_acceleration")                    \
    X(TRN_STEP_JOINT_ANGLE_FOR_FLUCTUATION, "joint.angle_for_fluctuation")            \
    X(TRN_STEP_JOINT_ANGLE_FOR_ACCELERATION, "joint.angle_for_acceleration")          \
    X(TRN_STEP_JOINT_COMPOUND_ANGLE, "joint.compound_angle")                          \
    X(TRN_STEP_JOINT_PAIR, "joint.pair")                                              \
    X(TRN_STEP_JOINT_PAIR_SPACE, "joint.pair_space")                                  \
    X(TRN_STEP_JOINT_SECONDARY_COUPLE, "joint.secondary_couple")                      \
    X(TRN_STEP_JOINT_CROSS_LIFE, "joint.cross_life")                                  \
    X(TRN_STEP_JOINT_CRITICAL_OSCILLATION, "joint.critical_oscillation")              \
    X(TRN_STEP_JOINT_HEAT, "joint.heat")                                              \
    X(TRN_STEP_SHAFT_CRITICAL_SPEED, "shaft.critical_speed")                          \
    X(TRN_STEP_SHAFT_TORSION, "shaft.torsion")                                        \
    X(TRN_STEP_SHAFT_INERTIA, "shaft.inertia")                                        \
    X(TRN_STEP_SHAFT_FIT, "shaft.fit")                                                \
    X(TRN_STEP_SHAFT_TELESCOPING_THRUST, "shaft.telescoping_thrust")                  \
    X(TRN_STEP_SHAFT_RIPPLE, "shaft.ripple")                                          \
    X(TRN_STEP_SHAFT_HITCH, "shaft.hitch")                                            \
    X(TRN_STEP_SHAFT_DRAWBAR, "shaft.drawbar")                                        \
    X(TRN_STEP_SHAFT_WING, "shaft.wing")                                              \
    X(TRN_STEP_OIL_VISCOSITY, "oil.viscosity")                                        \
    X(TRN_STEP_OIL_VISCOSITY_INDEX, "oil.viscosity_index")                            \
    X(TRN_STEP_OIL_KV40_FROM_INDEX, "oil.kv40_from_index")                            \
    X(TRN_STEP_OIL_GEAR_GRADE, "oil.gear_grade")                                      \
    X(TRN_STEP_OIL_VG, "oil.vg")                                                      \
    X(TRN_STEP_OIL_DENSITY, "oil.density")                                            \
    X(TRN_STEP_OIL_HEAT_CAPACITY, "oil.heat_capacity")                                \
    X(TRN_STEP_OIL_PRESSURE_VISCOSITY, "oil.pressure_viscosity")                      \
    X(TRN_STEP_OIL_AGEING_LIFE, "oil.ageing_life")                                    \
    X(TRN_STEP_OIL_WATER_LIFE, "oil.water_life")                                      \
    X(TRN_STEP_OIL_CODE, "oil.code")                                                  \
    X(TRN_STEP_OIL_CONTAMINATION, "oil.contamination")                                \
    X(TRN_STEP_OIL_BREATHING, "oil.breathing")                                        \
    X(TRN_STEP_GREASE_INTERVAL, "grease.interval")                                    \
    X(TRN_STEP_GREASE_QUANTITY, "grease.quantity")                                    \
    X(TRN_STEP_GREASE_LIFE, "grease.life")                                            \
    X(TRN_STEP_GREASE_HEAT_FACTOR, "grease.heat_factor")                              \
    X(TRN_STEP_BEARING_BASIC_LIFE, "bearing.basic_life")                              \
    X(TRN_STEP_BEARING_RELIABILITY_FACTOR, "bearing.reliability_factor")              \
    X(TRN_STEP_BEARING_REFERENCE_VISCOSITY, "bearing.reference_viscosity")            \
    X(TRN_STEP_BEARING_LIFE_FACTOR, "bearing.life_factor")                            \
    X(TRN_STEP_BEARING_CLEANLINESS, "bearing.cleanliness")                            \
    X(TRN_STEP_BEARING_FATIGUE_LIMIT, "bearing.fatigue_limit")                        \
    X(TRN_STEP_BEARING_MODIFIED_LIFE, "bearing.modified_life")                        \
    X(TRN_STEP_BEARING_LOAD, "bearing.load")                                          \
    X(TRN_STEP_BEARING_PAIR, "bearing.pair")                                          \
    X(TRN_STEP_BEARING_RATING, "bearing.rating")                                      \
    X(TRN_STEP_BEARING_FRICTION, "bearing.friction")                                  \
    X(TRN_STEP_BEARING_SYSTEM_LIFE, "bearing.system_life")                            \
    X(TRN_STEP_BEARING_SURVIVAL, "bearing.survival")                                  \
    X(TRN_STEP_BEARING_EQUIVALENT_LOAD, "bearing.equivalent_load")                    \
    X(TRN_STEP_GEAR_SPUR_FORCE, "gear.spur_force")                                    \
    X(TRN_STEP_GEAR_HELICAL_FORCE, "gear.helical_force")                              \
    X(TRN_STEP_GEAR_BEVEL_FORCE, "gear.bevel_force")                                  \
    X(TRN_STEP_GEAR_LOSS_FACTOR, "gear.loss_factor")                                  \
    X(TRN_STEP_GEAR_BEVEL_VIRTUAL, "gear.bevel_virtual")                              \
    X(TRN_STEP_GEAR_FRICTION, "gear.friction")                                        \
    X(TRN_STEP_LOSS_CHURNING_ISO, "loss.churning_iso")                                \
    X(TRN_STEP_LOSS_CHURNING, "loss.churning")                                        \
    X(TRN_STEP_LOSS_DISC, "loss.disc")                                                \
    X(TRN_STEP_LOSS_SEAL, "loss.seal")                                                \
    X(TRN_STEP_HEAT_FREE_CONVECTION, "heat.free_convection")                          \
    X(TRN_STEP_HEAT_FORCED_CONVECTION, "heat.forced_convection")                      \
    X(TRN_STEP_HEAT_RADIATION, "heat.radiation")                                      \
    X(TRN_STEP_HEAT_LAYERED, "heat.layered")                                          \
    X(TRN_STEP_HEAT_CYCLE, "heat.cycle")                                              \
    X(TRN_STEP_WEAR_ARCHARD, "wear.archard")                                          \
    X(TRN_STEP_WEAR_FILM, "wear.film")                                                \
    X(TRN_STEP_WEAR_LAMBDA, "wear.lambda")                                            \
    X(TRN_STEP_INTERVAL_DUST_RATE, "interval.dust_rate")                              \
    X(TRN_STEP_INTERVAL_GREASE_FACTOR, "interval.grease_factor")                      \
    X(TRN_STEP_INTERVAL_OIL_COST, "interval.oil_cost")                                \
    X(TRN_STEP_INTERVAL_AGE_REPLACEMENT, "interval.age_replacement")                  \
    X(TRN_STEP_INTERVAL_STEP, "interval.step")                                        \
    X(TRN_STEP_INTERVAL_INTAKE, "interval.intake")                                    \
    X(TRN_STEP_INTERVAL_BUDGET, "interval.budget")                                    \
    X(TRN_STEP_INTERVAL_VISITS, "interval.visits")                                    \
    X(TRN_STEP_INTERVAL_ADD_RATE, "interval.add_rate")                                \
    X(TRN_STEP_INTERVAL_ADD_LIFE, "interval.add_life")                                \
    X(TRN_STEP_INTERVAL_ADD_WATER, "interval.add_water")                              \
    X(TRN_STEP_INTERVAL_ADD_DUST, "interval.add_dust")                                \
    X(TRN_STEP_INTERVAL_AGEING, "interval.ageing")                                    \
    X(TRN_STEP_INTERVAL_DRYING, "interval.drying")                                    \
    X(TRN_STEP_INTERVAL_TIME_TO, "interval.time_to")                                  \
    X(TRN_STEP_INTERVAL_ADDITIVE_RATE, "interval.additive_rate")                      \
    X(TRN_STEP_INTERVAL_GREASE_RATIO, "interval.grease_ratio")                        \
    X(TRN_STEP_INTERVAL_ANCHORED, "interval.anchored")                                \
    X(TRN_STEP_STATISTICS_EXTENSION_LIMIT, "statistics.extension_limit")              \
    X(TRN_STEP_STATISTICS_WEIBULL_PROBABILITY, "statistics.weibull_probability")      \
    X(TRN_STEP_STATISTICS_WEIBULL_LIFE, "statistics.weibull_life")                    \
    X(TRN_STEP_STATISTICS_WEIBULL_SCALE, "statistics.weibull_scale")                  \
    X(TRN_STEP_STATISTICS_CONDITIONAL_FAILURE, "statistics.conditional_failure")      \
    X(TRN_STEP_STATISTICS_CONDITIONAL_LIFE, "statistics.conditional_life")            \
    X(TRN_STEP_STATISTICS_MEAN_RESIDUAL, "statistics.mean_residual")                  \
    X(TRN_STEP_STATISTICS_ISO281_SURVIVAL, "statistics.iso281_survival")              \
    X(TRN_STEP_STATISTICS_SYSTEM_LIFE, "statistics.system_life")                      \
    X(TRN_STEP_STATISTICS_CONSUMED_LIFE, "statistics.consumed_life")                  \
    X(TRN_STEP_STATISTICS_AT_LEAST_ONE, "statistics.at_least_one")                    \
    X(TRN_STEP_STATISTICS_WEIBULL_FIT, "statistics.weibull_fit")                      \
    X(TRN_STEP_STATISTICS_WEIBAYES, "statistics.weibayes")                            \
    X(TRN_STEP_STATISTICS_WEIBAYES_ZERO_FAILURE, "statistics.weibayes_zero_failure")  \
    X(TRN_STEP_STATISTICS_SUCCESS_RUN, "statistics.success_run")                      \
    X(TRN_STEP_STATISTICS_BENARD_RANK, "statistics.benard_rank")                      \
    X(TRN_STEP_STATISTICS_ADJUSTED_RANK, "statistics.adjusted_rank")                  \
    X(TRN_STEP_STATISTICS_PRODUCT_LIMIT, "statistics.product_limit")                  \
    X(TRN_STEP_STATISTICS_BAYES_FACTOR, "statistics.bayes_factor")                    \
    X(TRN_STEP_STATISTICS_BAYES_FACTOR_CEILING, "statistics.bayes_factor_ceiling")    \
    X(TRN_STEP_STATISTICS_POSTERIOR, "statistics.posterior")                          \
    X(TRN_STEP_STATISTICS_SHARES, "statistics.shares")                                \
    X(TRN_STEP_STATISTICS_DAMAGE_SIGN, "statistics.damage_sign")                      \
    X(TRN_STEP_STATISTICS_SAMPLE_RATE, "statistics.sample_rate")                      \
    X(TRN_STEP_STATISTICS_RESIDUAL_OIL_RATE, "statistics.residual_oil_rate")          \
    X(TRN_STEP_STATISTICS_TOP_UP_RATE, "statistics.top_up_rate")                      \
    X(TRN_STEP_STATISTICS_THEIL_SEN, "statistics.theil_sen")                          \
    X(TRN_STEP_STATISTICS_ROBUST_LIMIT, "statistics.robust_limit")                    \
    X(TRN_STEP_STATISTICS_DUST_RATIO, "statistics.dust_ratio")                        \
    X(TRN_STEP_STATISTICS_RAINFLOW, "statistics.rainflow")                            \
    X(TRN_STEP_STATISTICS_MINER_EQUIVALENT, "statistics.miner_equivalent")            \
    X(TRN_STEP_STATISTICS_MINER_SUM, "statistics.miner_sum")                          \
    X(TRN_STEP_SHAFT_RIPPLE_FACTOR, "shaft.ripple_factor")                            \
    X(TRN_STEP_SHAFT_TORQUE, "shaft.torque")                                          \
    X(TRN_STEP_SHAFT_LINKAGE, "shaft.linkage")                                        \
    X(TRN_STEP_AXLE_MESH_LOAD, "axle.mesh_load")                                      \
    X(TRN_STEP_AXLE_REACTIONS, "axle.reactions")                                      \
    X(TRN_STEP_AXLE_COUPLE, "axle.couple")                                            \
    X(TRN_STEP_AXLE_SIDE_FORCE, "axle.side_force")                                    \
    X(TRN_STEP_AXLE_HELD, "axle.held")                                                \
    X(TRN_STEP_AXLE_THRUST, "axle.thrust")                                            \
    X(TRN_STEP_BEARING_INDUCED_THRUST, "bearing.induced_thrust")                      \
    X(TRN_STEP_BEARING_CLASS_OF_CODE, "bearing.class_of_code")                        \
    X(TRN_STEP_BEARING_DUTY_LIFE, "bearing.duty_life")                                \
    X(TRN_STEP_GEAR_CONTACT, "gear.contact")                                          \
    X(TRN_STEP_LOSS_MESH, "loss.mesh")                                                \
    X(TRN_STEP_BEARING_FRICTION_VALUES, "bearing.friction_values")                    \
    X(TRN_STEP_LOSS_CASES, "loss.cases")                                              \
    X(TRN_STEP_LOSS_CHURNING_BAND, "loss.churning_band")                              \
    X(TRN_STEP_HEAT_WALL, "heat.wall")                                                \
    X(TRN_STEP_HEAT_SUN, "heat.sun")                                                  \
    X(TRN_STEP_HEAT_LOSSES, "heat.losses")                                            \
    X(TRN_STEP_HEAT_BALANCE, "heat.balance")                                          \
    X(TRN_STEP_POWER_SPEED, "power.speed")                                            \
    X(TRN_STEP_POWER_SHARE, "power.share")                                            \
    X(TRN_STEP_POWER_SHOCK, "power.shock")                                            \
    X(TRN_STEP_JOINT_CROSS_ANGLE, "joint.cross_angle")                                \
    X(TRN_STEP_SHAFT_STEADY_RIPPLE, "shaft.steady_ripple")                            \
    X(TRN_STEP_OIL_DYNAMIC_VISCOSITY, "oil.dynamic_viscosity")                        \
    X(TRN_STEP_OIL_MEAN_DUST, "oil.mean_dust")                                        \
    X(TRN_STEP_BEARING_KAPPA, "bearing.kappa")                                        \
    X(TRN_STEP_BEARING_RIPPLE_LOAD, "bearing.ripple_load")                            \
    X(TRN_STEP_BEARING_STRESS_RATIO, "bearing.stress_ratio")                          \
    X(TRN_STEP_BEARING_ADJUSTED_LIFE, "bearing.adjusted_life")                        \
    X(TRN_STEP_BEARING_MEAN_FACTOR, "bearing.mean_factor")                            \
    X(TRN_STEP_BEARING_SYSTEM_SURVIVAL, "bearing.system_survival")                    \
    X(TRN_STEP_GEAR_DIAMETER, "gear.diameter")                                        \
    X(TRN_STEP_GEAR_LEVEL, "gear.level")                                              \
    X(TRN_STEP_AXLE_ADD_LOAD, "axle.add_load")                                        \
    X(TRN_STEP_AXLE_ATTACHED_COUPLE, "axle.attached_couple")                          \
    X(TRN_STEP_AXLE_RADIAL_LOAD, "axle.radial_load")                                  \
    X(TRN_STEP_AXLE_THRUST_CASE, "axle.thrust_case")                                  \
    X(TRN_STEP_LOSS_SUM, "loss.sum")                                                  \
    X(TRN_STEP_HEAT_TEMPERATURE, "heat.temperature")                                  \
    X(TRN_STEP_HEAT_TIME_CONSTANT, "heat.time_constant")                              \
    X(TRN_STEP_HEAT_OIL_AT_STOP, "heat.oil_at_stop")                                  \
    X(TRN_STEP_HEAT_COOLING_FACTOR, "heat.cooling_factor")                            \
    X(TRN_STEP_HEAT_SHARED_FACTOR, "heat.shared_factor")                              \
    X(TRN_STEP_HEAT_COOLING_MEAN, "heat.cooling_mean")                                \
    X(TRN_STEP_HEAT_READ_TRANSFER, "heat.read_transfer")                              \
    X(TRN_STEP_HEAT_ADD_SHARE, "heat.add_share")                                      \
    X(TRN_STEP_HEAT_SHARED_TEMPERATURE, "heat.shared_temperature")                    \
    X(TRN_STEP_INTERVAL_LEAST, "interval.least")                                      \
    X(TRN_STEP_INTERVAL_ALLOWED, "interval.allowed")                                  \
    X(TRN_STEP_INTERVAL_OWN_STEP, "interval.own_step")                                \
    X(TRN_STEP_INTERVAL_YEARLY, "interval.yearly")                                    \
    X(TRN_STEP_INTERVAL_SHORTENING, "interval.shortening")                            \
    X(TRN_STEP_INTERVAL_FIRST_WANTED, "interval.first_wanted")                         \
    X(TRN_STEP_INTERVAL_FIRST_CHANGE, "interval.first_change")                        \
    X(TRN_STEP_INTERVAL_BELOW_CLOCK, "interval.below_clock")                          \
    X(TRN_STEP_INTERVAL_CROSS_LOAD, "interval.cross_load")                            \
    X(TRN_STEP_INTERVAL_BEARING_LOAD, "interval.bearing_load")                        \
    X(TRN_STEP_INTERVAL_MOTION, "interval.motion")                                    \
    X(TRN_STEP_INTERVAL_POINT_TEMPERATURE, "interval.point_temperature")

typedef enum trn_step_id {
#define TRN_X(id, name) id,
    TRN_STEP_LIST(TRN_X)
#undef TRN_X
    TRN_STEP_COUNT
} trn_step_id;

/* What a trace holds of one step: the formula with its inputs and outputs in the library's
 * units (NaN: left out), and the place in the calculation it belongs to. */
typedef struct trn_note {
    const trn_formula *formula;
    const char *stage;     /* "joint", "gear", "axle", "heat", "life", "duty", "interval" ... */
    const char *condition; /* duty condition, or "" */
    const char *object;    /* shaft, gear, axle, gearbox, bearing, point ... */
    const char *variant;   /* "" or which of several evaluations of one place: "mean", "low" ... */
    double in[TRN_INPUTS_MAX];
    double out[TRN_OUTPUTS_MAX];
    trn_status status;
} trn_note;

/* Start with {0}. The texts of the scope must outlive the trace (they are the case's keys). */
typedef struct trn_trace {
    trn_note *list;
    size_t count, capacity;
    const char *stage, *condition, *object;
    const char *variant; /* set by whoever evaluates a place more than once; NULL: "" */
    bool failed; /* memory ran out: the chain is not whole */
} trn_trace;

/* Notes that follow belong to this place. Nothing is done where trace is NULL. */
void trn_trace_scope(trn_trace *trace, const char *stage, const char *condition,
                     const char *object);
/* Which of several evaluations of a place the notes that follow belong to; NULL: the main one. */
void trn_trace_variant(trn_trace *trace, const char *variant);
/* Frees the notes; the trace is then empty. */
void trn_trace_free(trn_trace *trace);

/* Calls a formula with numbers in the library's units (NaN: left out; words by their place),
 * as trn_formula_numbers, and notes it where trace is not NULL.
 * Status: as trn_formula_numbers */
trn_status trn_step(trn_trace *trace, trn_step_id id, const double *in, double *out);

/* Entry behind a step, NULL where the catalogue has none of that name. */
const trn_formula *trn_step_formula(trn_step_id id);

#ifdef __cplusplus
}
#endif
#endif
