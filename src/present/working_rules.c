/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the inputs of each formula come from. One line a symbol; a symbol without a digit at its
 * end stands for the numbered ones too (L for L1, L2 ...).
 *
 *   c PATH      cell of the case          k PATH   the same where it decides a word
 *   s F.OUT@P   output of a step of place P (none: the place of the step itself)
 *   S F.OUT@P   the same without comparing the values
 *   h F.OUT@P   half of such an output
 *   m PATH + PATH, w PATH * PATH, v PATH / PATH   mean, product, ratio of cells
 *   x N PATH    one part in N of a cell
 *   n P         speed of a shaft, an axle, the axle of a gear
 *   r ADDRESS   another result            o NAME   a number chosen here
 *   H ADDRESS   the same where the working does not solve a balance itself
 *   a           margin of an anchored interval, by the mechanism before it
 *   l           share or life of a condition in a sum over the duty
 *   t WORDS     said in words          z WORDS  the same where the value is 0
 *   g WORDS     the same where the condition alternates with others
 * In paths @shaft ... stand for the keys of the place, # for A or B of a bearing, ~ for the symbol
 * (of a step: without the digits at its end). */
#include <string.h>

#include "working_inside.h"

typedef struct rule {
    const char *formula, *symbols; /* symbols parted by blanks */
    const char *from;
    const char *stage; /* NULL: any */
} rule;

#define POSITION_IN                                                                          \
    "s joint.pair_space.beta1@position | s shaft.hitch.beta1@position | "                    \
    "s shaft.drawbar.beta1@position | s shaft.wing.beta1@position | "                        \
    "s shaft.linkage.beta1@position"
#define POSITION_OUT                                                                         \
    "s joint.pair_space.beta2@position | s shaft.hitch.beta2@position | "                    \
    "s shaft.drawbar.beta2@position | s shaft.wing.beta2@position | "                        \
    "s shaft.linkage.beta2@position"
#define EQUIVALENT                                                                           \
    "s joint.pair_space.beta_e@position | s joint.pair.beta_e@position | " POSITION_IN       \
    " | " POSITION_OUT
#define LENGTH                                                                               \
    "c positions.@position.@shaft.length | s shaft.hitch.L@position | "                      \
    "s shaft.drawbar.L@position | s shaft.wing.L@position | s shaft.linkage.L@position"
#define GEAR_TORQUE "s power.shock.T_shock | s shaft.torque.T | z no power"
#define TORQUE "s shaft.torque.T | z no power"
#define FORCE(f)                                                                             \
    "s gear.bevel_force." f " | s gear.spur_force." f " | s gear.helical_force." f
#define FORCE_AT(f, p)                                                                       \
    "s gear.bevel_force." f p " | s gear.spur_force." f p " | s gear.helical_force." f p
#define DPW "m bearings.@bearing.bore + bearings.@bearing.outside"
#define RADIAL "s axle.radial_load.Fr_#@axle | s axle.reactions.Fr#@axle"
#define OIL_T                                                                                \
    "s heat.oil_at_stop.T | s heat.oil_at_stop.T@gearbox | "                                 \
    "c duty.@condition.oil_temperature | H heat.@condition.@gearbox.oil_temperature | "      \
    "g by trial: heat.shared_temperature gives the same back | "                              \
    "t by trial: heat.temperature gives the same back"
#define AIR                                                                                  \
    "c duty.@condition.ambient | c machine.ambient | "                                       \
    "c readings.@gearbox.@condition.ambient | t air of the reading"
#define SUN_OF "s heat.sun.sun_to_oil | z no sun_area"
#define AREA "c gearboxes.@gearbox.area"
#define HEAT_T                                                                               \
    "r heat.@condition.@gearbox.oil_temperature | c duty.@condition.oil_temperature"
#define DUST "c duty.@condition.dust | k duty.@condition.dust_class"
#define TASK "points.@point.@task."
#define MEDIAN                                                                               \
    "s interval.least.T@point | s interval.anchored.T@point | c " TASK "manual_interval"
#define SAMPLES "t from the oil samples"
#define QUANTILE "t a quantile of the draws (`--draws 0` works the medians)"
#define STEP_AT(p)                                                                           \
    "s interval.step.T_step" p " | s interval.own_step.T_step" p                             \
    " | s interval.below_clock.T_step" p
#define FACE "c gears.@gear.face_width | c gears.@mate.face_width"

static const rule rules[] = {
    /* power and speed */
    {"power.speed", "n", "n gear", NULL},
    {"power.speed", "z", "c gears.@gear.teeth", NULL},
    {"power.speed", "z_mate", "c gears.@mate.teeth", NULL},
    {"power.share", "P", "c duty.@condition.power", "joint"},
    {"power.share", "share", "c shafts.@shaft.power_share", "joint"},
    {"power.share", "P", "s power.share.P_share@shaft", NULL},
    {"power.share", "share", "c gears.@gear.power_share", NULL},
    {"power.shock", "T", "s shaft.torque.T", NULL},
    {"*", "shock", "c duty.@condition.shock", NULL},
    {"shaft.torque", "P", "s power.share.P_share", NULL},
    {"shaft.torque", "n", "n shaft", "joint"},
    {"shaft.torque", "n", "n axle", NULL},
    /* positions */
    {"joint.pair_space", "h1", "c positions.@position.@shaft.drive_plan", NULL},
    {"joint.pair_space", "v1", "c positions.@position.@shaft.drive_side", NULL},
    {"joint.pair_space", "h2", "c positions.@position.@shaft.tube_plan", NULL},
    {"joint.pair_space", "v2", "c positions.@position.@shaft.tube_side", NULL},
    {"joint.pair_space", "h3",
     "c positions.@position.@shaft.driven_plan | c positions.@position.@shaft.tube_plan", NULL},
    {"joint.pair_space", "v3",
     "c positions.@position.@shaft.driven_side | c positions.@position.@shaft.tube_side", NULL},
    {"joint.pair_space", "offset", "c shafts.@shaft.yoke_error", NULL},
    {"joint.pair", "beta1", POSITION_IN, NULL},
    {"joint.pair", "beta2", POSITION_OUT, NULL},
    {"joint.pair", "epsilon", "c shafts.@shaft.yoke_error", NULL},
    {"shaft.hitch", "*", "c geometry.@position.@shaft.~", NULL},
    {"shaft.drawbar", "*", "c geometry.@position.@shaft.~", NULL},
    {"shaft.wing", "*", "c geometry.@position.@shaft.~", NULL},
    {"shaft.linkage", "*", "c geometry.@position.@shaft.~", NULL},
    {"shaft.fit", "length_closed", "c shafts.@shaft.length_closed", NULL},
    {"shaft.fit", "overlap_closed", "c shafts.@shaft.overlap_closed", NULL},
    {"shaft.fit", "length_min length_max", LENGTH, NULL},
    {"shaft.fit", "overlap_needed", "x 3 shafts.@shaft.tube_length", NULL},
    /* joints */
    {"joint.fluctuation", "beta", EQUIVALENT, NULL},
    {"joint.peak_acceleration", "beta", EQUIVALENT, NULL},
    {"joint.fluctuation", "n", "n shaft", NULL},
    {"joint.peak_acceleration", "n", "n shaft", NULL},
    {"joint.cross_angle", "beta", POSITION_IN " | " POSITION_OUT, NULL},
    {"joint.cross_angle", "arrangement", "k shafts.@shaft.kind", NULL},
    {"joint.secondary_couple", "T", TORQUE, NULL},
    {"joint.secondary_couple", "beta",
     "s joint.cross_angle.works | " POSITION_IN " | " POSITION_OUT, NULL},
    {"shaft.ripple", "T", "s shaft.torque.T | t any: the amplitude does not depend on it", NULL},
    {"shaft.ripple", "n", "n shaft", NULL},
    {"shaft.ripple", "beta_e", EQUIVALENT, NULL},
    {"shaft.ripple", "k", "c shafts.@shaft.stiffness", NULL},
    {"shaft.ripple", "J_driven", "c shafts.@shaft.inertia_driven", NULL},
    {"shaft.steady_ripple", "T", TORQUE, NULL},
    {"shaft.steady_ripple", "U", "s joint.fluctuation.U", NULL},
    {"joint.cross_life", "C", "c shafts.@shaft.cross_rating", NULL},
    {"joint.cross_life", "R", "c shafts.@shaft.cross_arm", NULL},
    {"joint.cross_life", "T", "s shaft.torque.T", NULL},
    {"joint.cross_life", "n", "n shaft", NULL},
    {"joint.cross_life", "beta", "s joint.cross_angle.life | " POSITION_IN " | " POSITION_OUT,
     NULL},
    {"shaft.telescoping_thrust", "T", TORQUE, NULL},
    {"shaft.telescoping_thrust", "mu", "c shafts.@shaft.profile_friction", NULL},
    {"shaft.telescoping_thrust", "r_m", "c shafts.@shaft.profile_radius", NULL},
    /* teeth */
    {"*", "z z1", "c gears.@gear.teeth", NULL},
    {"*", "z2", "c gears.@mate.teeth", NULL},
    {"*", "m_et", "c gears.@gear.module", NULL},
    {"*", "Sigma", "c gears.@gear.shaft_angle", NULL},
    {"*", "psi", "c gears.@gear.spiral_angle", NULL},
    {"gear.bevel_virtual", "b", FACE, NULL},
    {"gear.bevel_virtual", "alpha", "c gears.@gear.pressure_angle", NULL},
    {"gear.diameter", "m", "c gears.@gear.module", NULL},
    {"gear.diameter", "beta", "c gears.@gear.spiral_angle", NULL},
    {"gear.bevel_force", "T", GEAR_TORQUE, NULL},
    {"gear.bevel_force", "d_e", "s gear.diameter.d", NULL},
    {"gear.bevel_force", "b", "c gears.@gear.face_width", NULL},
    {"gear.bevel_force", "alpha_n", "c gears.@gear.pressure_angle", NULL},
    {"gear.bevel_force", "delta", "s gear.bevel_virtual.delta1", NULL},
    {"gear.bevel_force", "hand", "k gears.@gear.hand", NULL},
    {"gear.bevel_force", "rotation", "k gears.@gear.rotation | t from the gears that drive it",
     NULL},
    {"gear.bevel_force", "role", "t the driver is nearer the tractor", NULL},
    {"gear.spur_force", "T", GEAR_TORQUE, NULL},
    {"gear.spur_force", "d", "s gear.diameter.d", NULL},
    {"gear.spur_force", "alpha", "c gears.@gear.pressure_angle", NULL},
    {"gear.helical_force", "T", GEAR_TORQUE, NULL},
    {"gear.helical_force", "d", "s gear.diameter.d", NULL},
    {"gear.helical_force", "alpha_n", "c gears.@gear.pressure_angle", NULL},
    {"gear.helical_force", "beta", "c gears.@gear.spiral_angle", NULL},
    /* axles */
    {"axle.mesh_load", "kind", "k gears.@gear.kind", NULL},
    {"axle.mesh_load", "role", "t the driver is nearer the tractor", NULL},
    {"axle.mesh_load", "sigma", "t sense of turn of the axle, + along its x", NULL},
    {"axle.mesh_load", "Ft", FORCE("Ft"), NULL},
    {"axle.mesh_load", "Fr", FORCE("Fr"), NULL},
    {"axle.mesh_load", "Fa", FORCE("Fa"), NULL},
    {"axle.mesh_load", "apex", "k gears.@gear.apex", NULL},
    {"axle.mesh_load", "hand", "k gears.@gear.hand", NULL},
    {"axle.mesh_load", "azimuth", "c gears.@gear.azimuth", NULL},
    {"axle.mesh_load", "station", "c gears.@gear.station", NULL},
    {"axle.mesh_load", "r_m", "h gear.bevel_force.d_m | h gear.diameter.d", NULL},
    {"axle.add_load", "Fx1 Fy1 Fz1 Mx1 My1 Mz1",
     "s axle.add_load.~@teeth | s axle.mesh_load.~@teeth", NULL},
    {"axle.add_load", "Fx2 Fy2 Fz2 Mx2 My2 Mz2", "s axle.mesh_load.~", NULL},
    {"axle.reactions", "Fx Fy Fz Mx My Mz", "s axle.add_load.~@teeth | s axle.mesh_load.~@teeth",
     NULL},
    {"axle.reactions", "x_A", "c bearings.@A.station", NULL},
    {"axle.reactions", "x_B", "c bearings.@B.station", NULL},
    {"axle.attached_couple", "M", "s joint.secondary_couple.driving@attached", NULL},
    {"axle.couple", "M_p", "s axle.attached_couple.M_p", NULL},
    {"axle.couple", "L", "t from bearings.@A.station to bearings.@B.station", NULL},
    {"axle.radial_load", "FrA FrB", "s axle.reactions.~", NULL},
    {"axle.radial_load", "F", "s axle.couple.F", NULL},
    {"bearing.induced_thrust", "kind", "k bearings.@bearing.kind", NULL},
    {"bearing.induced_thrust", "Fr", RADIAL, NULL},
    {"*", "C0", "c bearings.@bearing.C0", NULL},
    {"*", "f0", "c bearings.@bearing.f0", NULL},
    {"axle.thrust_case", "K", "s axle.reactions.K", NULL},
    {"axle.thrust_case", "F", "s shaft.telescoping_thrust.F@attached", NULL},
    {"axle.thrust_case", "way", "t the load cases: none, one way, the other", NULL},
    {"axle.thrust_case", "sliding", "c shafts.@attached.sliding", NULL},
    {"axle.thrust", "kind_A", "k bearings.@A.kind", NULL},
    {"axle.thrust", "kind_B", "k bearings.@B.kind", NULL},
    {"axle.thrust", "thrust_A", "k bearings.@A.thrust", NULL},
    {"axle.thrust", "thrust_B", "k bearings.@B.thrust", NULL},
    {"axle.thrust", "S_A", "s bearing.induced_thrust.S@A", NULL},
    {"axle.thrust", "S_B", "s bearing.induced_thrust.S@B", NULL},
    {"axle.thrust", "K", "s axle.thrust_case.K_case | s axle.reactions.K", NULL},
    {"axle.thrust", "F_max",
     FORCE_AT("Ft", "@teeth") " | " FORCE_AT("Fr", "@teeth") " | " FORCE_AT("Fa", "@teeth"),
     NULL},
    /* heat */
    {"oil.kv40_from_index", "kv100", "c oils.@oil.kv100", NULL},
    {"oil.kv40_from_index", "VI", "c oils.@oil.index", NULL},
    {"oil.viscosity", "kv40", "c oils.@oil.kv40 | s oil.kv40_from_index.kv40@oil", NULL},
    {"oil.viscosity", "kv100", "c oils.@oil.kv100", NULL},
    {"oil.viscosity", "T", OIL_T, NULL},
    {"oil.density", "T", OIL_T, NULL},
    {"*", "rho15", "c oils.@oil.density15", NULL},
    {"oil.heat_capacity", "T", "t 60 degC", NULL},
    {"oil.dynamic_viscosity", "nu", "s oil.viscosity.nu", NULL},
    {"oil.dynamic_viscosity", "rho", "s oil.density.rho", NULL},
    {"gear.loss_factor", "m", "c gears.@gear.module", NULL},
    {"gear.loss_factor", "alpha", "c gears.@gear.pressure_angle", NULL},
    {"gear.loss_factor", "beta", "c gears.@gear.spiral_angle", NULL},
    {"gear.loss_factor", "a_w", "t half the sum of the pitch diameters z m/cos beta", NULL},
    {"gear.loss_factor", "d_a1 d_a2", "t pitch diameter and two modules", NULL},
    {"gear.contact", "T1", "s shaft.torque.T", NULL},
    {"gear.contact", "n1", "n axle", NULL},
    {"gear.contact", "d1", "s gear.bevel_virtual.d_m1 | t pitch diameter z m/cos beta", NULL},
    {"gear.contact", "b", FACE, NULL},
    {"gear.contact", "d_v1 d_v2",
     "t of the virtual gear: z_v m_m for bevels, else the pitch diameter", NULL},
    {"gear.contact", "alpha", "c gears.@gear.pressure_angle", NULL},
    {"gear.contact", "beta", "c gears.@gear.spiral_angle", NULL},
    {"gear.friction", "F_over_b v_sum rho_red", "s gear.contact.~", NULL},
    {"gear.friction", "eta", "s oil.dynamic_viscosity.eta@gearbox", NULL},
    {"gear.friction", "Ra", "m gears.@gear.roughness + gears.@mate.roughness", NULL},
    {"gear.friction", "X_L", "t by the base of the oil", NULL},
    {"loss.mesh", "P", "s power.share.P_share", NULL},
    {"loss.mesh", "mu", "s gear.friction.mu", NULL},
    {"loss.mesh", "H_v", "s gear.bevel_virtual.H_v | s gear.loss_factor.H_v", NULL},
    {"gear.level", "d", "s gear.diameter.d", NULL},
    {"gear.level", "m", "c gears.@gear.module", NULL},
    {"gear.level", "delta", "s gear.bevel_virtual.delta1@mesh | s gear.bevel_virtual.delta2@mesh",
     NULL},
    {"gear.level", "dip", "c gears.@gear.dip", NULL},
    {"loss.churning", "R", "h gear.diameter.d", NULL},
    {"loss.churning", "b", "c gears.@gear.face_width", NULL},
    {"loss.churning", "m", "c gears.@gear.module", NULL},
    {"loss.churning", "h", "s gear.level.h", NULL},
    {"*", "V_oil", "c gearboxes.@gearbox.oil_volume", NULL},
    {"*", "rho", "s oil.density.rho@gearbox", "heat driver"},
    {"*", "rho", "s oil.density.rho@gearbox", "heat driven"},
    {"loss.churning", "nu", "s oil.viscosity.nu@gearbox", NULL},
    {"loss.churning", "n", "n axle", NULL},
    {"loss.churning", "alpha", "c gears.@gear.pressure_angle", NULL},
    {"loss.churning", "beta", "c gears.@gear.spiral_angle", NULL},
    {"loss.disc", "R", "h gear.level.D", NULL},
    {"loss.disc", "gap", "t from disc to wall: chosen", NULL},
    {"loss.disc", "n", "n axle", NULL},
    {"loss.disc", "nu", "s oil.viscosity.nu@gearbox", NULL},
    {"loss.churning_iso", "nu", "s oil.viscosity.nu@gearbox", NULL},
    {"loss.churning_iso", "n", "n axle", NULL},
    {"loss.churning_iso", "D", "s gear.level.D", NULL},
    {"loss.churning_iso", "b", "c gears.@gear.face_width", NULL},
    {"loss.churning_iso", "m_t", "s gear.diameter.m_t", NULL},
    {"loss.churning_iso", "beta", "c gears.@gear.spiral_angle", NULL},
    {"loss.churning_iso", "dip", "s gear.level.share", NULL},
    {"bearing.friction_values", "kind", "k bearings.@bearing.kind", NULL},
    {"bearing.friction_values", "Fr", RADIAL, NULL},
    {"bearing.friction_values", "Fa", "s axle.thrust.Fa#@axle", NULL},
    {"bearing.friction", "f0", "s bearing.friction_values.f0 | t by the kind of bearing", NULL},
    {"bearing.friction", "f1 P1", "s bearing.friction_values.~ | z loads not known", NULL},
    {"bearing.friction", "nu", "s oil.viscosity.nu@gearbox", NULL},
    {"bearing.friction", "n", "n axle", NULL},
    {"bearing.friction", "dm", DPW, NULL},
    {"loss.cases", "loss", "s bearing.friction.loss", NULL},
    {"loss.cases", "q", "s axle.thrust_case.q@axle", NULL},
    {"loss.seal", "d", "c axles.@axle.seals", NULL},
    {"loss.seal", "n", "n axle", NULL},
    {"loss.sum", "loss",
     "s loss.mesh.loss@parts | s loss.churning.loss@parts | s loss.disc.loss@parts | "
     "s loss.cases.loss@parts | s bearing.friction.loss@parts | s loss.seal.loss | "
     "s loss.churning_iso.tooth@parts | s loss.churning_iso.sides@parts | s loss.sum.loss",
     NULL},
    {"loss.churning_band", "central",
     "s loss.sum.loss | s loss.churning.loss@parts | s loss.disc.loss@parts", NULL},
    {"loss.churning_band", "iso", "s loss.sum.loss", NULL},
    {"heat.losses", "mesh", "s loss.sum.loss | s loss.mesh.loss@parts | z no power", NULL},
    {"heat.losses", "churning",
     "s loss.sum.loss | s loss.churning.loss@parts | s loss.disc.loss@parts | "
     "s loss.churning_band.low | s loss.churning_band.high",
     NULL},
    {"heat.losses", "bearings",
     "s loss.sum.loss | s loss.cases.loss@parts | s bearing.friction.loss@parts", NULL},
    {"heat.losses", "seals", "s loss.sum.loss | s loss.seal.loss", NULL},
    {"heat.losses", "P", "s power.share.P_share@shaft", NULL},
    {"heat.wall", "T", OIL_T, NULL},
    {"*", "T_air", AIR, NULL},
    {"heat.wall", "heat_transfer air_speed height emissivity", "c gearboxes.@gearbox.~", NULL},
    {"heat.wall", "d", "c gearboxes.@gearbox.residue", NULL},
    {"heat.sun", "absorption", "c gearboxes.@gearbox.sun_absorption", NULL},
    {"heat.sun", "sun", "c duty.@condition.sun", NULL},
    {"heat.sun", "area", "c gearboxes.@gearbox.sun_area", NULL},
    {"heat.sun", "k alpha_out", "s heat.wall.~", NULL},
    {"heat.temperature", "loss", "s heat.losses.loss", NULL},
    {"heat.temperature", "sun", SUN_OF, NULL},
    {"heat.temperature", "k", "s heat.read_transfer.k_c | s heat.wall.k", NULL},
    {"heat.temperature", "A", AREA, NULL},
    {"heat.oil_at_stop", "T_read",
     "c readings.@gearbox.@condition.temperature | t a reading of the group or of another day",
     NULL},
    {"heat.oil_at_stop", "rise", "o skin_rise | z read in the oil", NULL},
    {"heat.oil_at_stop", "T_air", "c readings.@gearbox.@condition.ambient | t air of the reading",
     NULL},
    {"heat.oil_at_stop", "stopped",
     "c readings.@gearbox.@condition.stopped | t minutes of the reading", NULL},
    {"heat.oil_at_stop", "tau", "t by trial: that of the balance with the factor of the reading",
     NULL},
    {"heat.cooling_factor", "loss", "s heat.losses.loss", NULL},
    {"heat.cooling_factor", "sun", SUN_OF, NULL},
    {"heat.cooling_factor", "k", "s heat.wall.k", NULL},
    {"heat.cooling_factor", "A", AREA, NULL},
    {"heat.cooling_factor", "T", "s heat.oil_at_stop.T", NULL},
    {"heat.cooling_factor", "T_air",
     "c readings.@gearbox.@condition.ambient | t air of the reading", NULL},
    {"heat.shared_factor", "T_air",
     "c readings.@gearbox.@condition.ambient | t air of the reading", NULL},
    {"*", "low", "o cooling_low", "heat"},
    {"*", "high", "o cooling_high", "heat"},
    {"heat.shared_factor", "heat transfer", "s heat.add_share.~", NULL},
    {"heat.shared_factor", "T", "s heat.oil_at_stop.T", NULL},
    {"heat.cooling_mean", "c", "s heat.cooling_factor.c@read | s heat.shared_factor.c@read", NULL},
    {"heat.read_transfer", "k", "s heat.wall.k", NULL},
    {"heat.read_transfer", "c",
     "s heat.cooling_mean.c@read | s heat.cooling_factor.c@read | s heat.shared_factor.c@read | "
     "t from the readings of the case as it was read",
     NULL},
    {"heat.add_share", "heat_sum", "s heat.add_share.heat@group", NULL},
    {"heat.add_share", "transfer_sum", "s heat.add_share.transfer@group", NULL},
    {"heat.add_share", "air_sum", "s heat.add_share.T_mean@group", NULL},
    {"heat.add_share", "share", "l | t all alike: none has a share", NULL},
    {"heat.add_share", "loss", "s heat.losses.loss", NULL},
    {"heat.add_share", "sun", SUN_OF, NULL},
    {"heat.add_share", "k", "s heat.read_transfer.k_c | s heat.wall.k", NULL},
    {"heat.add_share", "A", AREA, NULL},
    {"heat.shared_temperature", "heat transfer", "s heat.add_share.~", NULL},
    {"heat.shared_temperature", "T_air", "s heat.add_share.T_mean", NULL},
    {"heat.time_constant", "m", "c gearboxes.@gearbox.mass", NULL},
    {"heat.time_constant", "cp", "s oil.heat_capacity.cp", NULL},
    {"heat.time_constant", "slope", "t from two balances 0.02 K apart", NULL},
    /* lives */
    {"bearing.class_of_code", "R6 R14", "k gearboxes.@gearbox.cleanliness", NULL},
    {"oil.code", "dust", "s oil.mean_dust.dust", NULL},
    {"oil.mean_dust", "s", "s interval.add_dust.s", NULL},
    {"oil.mean_dust", "T_m", "c points.@change.change_oil.manual_interval", NULL},
    {"*", "residual", "c gearboxes.@gearbox.residual_oil", NULL},
    {"interval.add_dust", "s_sum", "s interval.add_dust.s@point | s interval.add_dust.s", NULL},
    {"*", "share", "l", NULL},
    {"interval.add_dust", "Q", "c gearboxes.@gearbox.dust_intake", NULL},
    {"interval.add_dust", "C", DUST, NULL},
    {"bearing.reliability_factor", "R", "c machine.reliability", NULL},
    {"bearing.reference_viscosity", "n", "n axle", NULL},
    {"*", "Dpw", DPW, NULL},
    {"bearing.kappa", "nu", "s oil.viscosity.nu@gearbox", NULL},
    {"bearing.kappa", "nu1", "s bearing.reference_viscosity.nu1", NULL},
    {"bearing.cleanliness", "regime", "t oil sump", NULL},
    {"bearing.cleanliness", "class",
     "S bearing.class_of_code.class@clean | S oil.code.R14@clean", NULL},
    {"bearing.cleanliness", "kappa", "s bearing.kappa.kappa", NULL},
    {"shaft.ripple_factor", "rho",
     "s shaft.ripple.share@shaft | s shaft.steady_ripple.share@shaft", NULL},
    {"shaft.ripple_factor", "p", "t 3 for balls, 10/3 for rollers", NULL},
    {"bearing.fatigue_limit", "kind", "k bearings.@bearing.kind", NULL},
    {"bearing.load", "kind", "k bearings.@bearing.kind", NULL},
    {"bearing.load", "Fr", RADIAL, NULL},
    {"bearing.load", "Fa", "s axle.thrust.Fa#@axle", NULL},
    {"*", "alpha", "c bearings.@bearing.contact_angle", NULL},
    {"bearing.ripple_load", "P", "s bearing.load.P", NULL},
    {"bearing.ripple_load", "K", "s shaft.ripple_factor.K", NULL},
    {"bearing.basic_life", "kind", "k bearings.@bearing.kind", NULL},
    {"bearing.basic_life", "C", "c bearings.@bearing.C", NULL},
    {"bearing.basic_life", "P", "s bearing.ripple_load.P_ripple | s bearing.load.P", NULL},
    {"bearing.basic_life", "n", "n axle", NULL},
    {"bearing.stress_ratio", "e_C",
     "s bearing.cleanliness.e_C | t dirtier than the classes go: 0", NULL},
    {"bearing.stress_ratio", "Cu", "c bearings.@bearing.Cu | s bearing.fatigue_limit.Cu", NULL},
    {"bearing.stress_ratio", "P", "s bearing.ripple_load.P_ripple | s bearing.load.P", NULL},
    {"bearing.life_factor", "kind", "k bearings.@bearing.kind", NULL},
    {"bearing.life_factor", "kappa", "s bearing.kappa.kappa", NULL},
    {"bearing.life_factor", "x", "s bearing.stress_ratio.x", NULL},
    {"bearing.adjusted_life", "L10h", "s bearing.basic_life.L10h", NULL},
    {"bearing.adjusted_life", "a_iso", "s bearing.life_factor.a_iso", NULL},
    {"*", "a1", "s bearing.reliability_factor.a1@reliability", NULL},
    {"bearing.duty_life", "q", "s axle.thrust_case.q@axle", "life"},
    {"bearing.duty_life", "L", "s bearing.basic_life.L10h | s bearing.adjusted_life.Lnmh", "life"},
    {"bearing.duty_life", "q L", "l", NULL},
    {"bearing.mean_factor", "Lnmh L10h", "s bearing.duty_life.L", NULL},
    {"bearing.system_life", "L",
     "r bearing_lives.all.@inside.L10h | r bearing_lives.all.@inside.Lnmh | "
     "s bearing.system_life.L",
     NULL},
    {"bearing.system_survival", "t", "c machine.design_life", NULL},
    {"bearing.system_survival", "L", "r bearing_lives.all.@inside.Lnmh", NULL},
    {"bearing.system_survival", "R0", "s bearing.system_survival.R", NULL},
    /* intervals */
    {"oil.ageing_life", "L_ref",
     "c oils.@oil.ageing_life | o ageing_life | o ageing_life_synthetic", NULL},
    {"oil.ageing_life", "T_ref", "c oils.@oil.ageing_temperature | o ageing_temperature", NULL},
    {"oil.ageing_life", "T", HEAT_T, NULL},
    {"interval.add_life", "sum", "s interval.add_life.total@point", NULL},
    {"interval.add_life", "L", "s oil.ageing_life.L", NULL},
    {"interval.drying", "T", HEAT_T, NULL},
    {"interval.drying", "k_full", "o drying", NULL},
    {"interval.drying", "T_dry", "o drying_from", NULL},
    {"interval.drying", "T_full", "o drying_full", NULL},
    {"oil.breathing", "V_air", "c gearboxes.@gearbox.headspace", NULL},
    {"oil.breathing", "T_cold", AIR, NULL},
    {"oil.breathing", "T_hot", HEAT_T, NULL},
    {"oil.breathing", "dust", "t not counted here", NULL},
    {"oil.breathing", "RH", "c duty.@condition.humidity", NULL},
    {"interval.add_water", "s_sum", "s interval.add_water.s@point", NULL},
    {"interval.add_water", "k_sum", "s interval.add_water.drying@point", NULL},
    {"interval.add_water", "k", "s interval.drying.k", NULL},
    {"interval.add_water", "starts", "c duty.@condition.starts_per_100h", NULL},
    {"interval.add_water", "breath", "s oil.breathing.water", NULL},
    {"interval.add_water", "washes", "c duty.@condition.washes_per_100h", NULL},
    {"interval.add_water", "wash_water", "c duty.@condition.wash_water | o water_intake", NULL},
    {"interval.budget", "B", "o water_budget | o dust_budget | " SAMPLES, NULL},
    {"interval.budget", "m",
     "w gearboxes.@gearbox.oil_volume * oils.@oil.density15 | t 1 kg: all by the mass of the oil",
     NULL},
    {"interval.time_to", "m", "w gearboxes.@gearbox.oil_volume * oils.@oil.density15", NULL},
    {"interval.budget", "s",
     "s interval.add_water.s@point | s interval.add_dust.s@point | " SAMPLES, NULL},
    {"interval.time_to", "s", "s interval.add_water.s@point | " SAMPLES, NULL},
    {"interval.budget", "k", "s interval.add_water.drying@point | z none", NULL},
    {"interval.time_to", "k", "s interval.add_water.drying@point", NULL},
    {"interval.budget", "C_new C_eq", "o water_fresh | z none | " SAMPLES, NULL},
    {"interval.time_to", "C_eq", "o water_fresh", NULL},
    {"interval.time_to", "level", "o water_damp", NULL},
    {"interval.time_to", "C_0", "s interval.budget.C_0@point", NULL},
    {"interval.ageing", "rate", "s interval.add_life.total@point", NULL},
    {"interval.ageing", "t1", "s interval.time_to.t@point", NULL},
    {"interval.ageing", "t2", "s interval.budget.T@point", NULL},
    {"interval.ageing", "F_damp", "o catalyst_damp", NULL},
    {"interval.ageing", "F_wet", "o catalyst_wet", NULL},
    {"interval.dust_rate", "C", DUST " | c " TASK "ref_dust", NULL},
    {"interval.dust_rate", "C_ref", "c " TASK "ref_dust", NULL},
    {"interval.dust_rate", "x", "o x", NULL},
    {"interval.add_rate", "sum", "s interval.add_rate.total@point", NULL},
    {"interval.add_rate", "rate",
     "s interval.dust_rate.r | s interval.additive_rate.r | s interval.grease_ratio.rate", NULL},
    {"interval.anchored", "T_m", "c " TASK "manual_interval", NULL},
    {"interval.anchored", "rate", "s interval.add_rate.total@point", NULL},
    {"interval.anchored", "margin", "a", NULL},
    {"interval.additive_rate", "lambda", "v duty.@condition.power / machine.rated_power", NULL},
    {"interval.additive_rate", "T", HEAT_T " | c " TASK "ref_temperature", NULL},
    {"interval.additive_rate", "T_ref", "c " TASK "ref_temperature", NULL},
    {"interval.additive_rate", "step", "o additive_step", NULL},
    {"interval.grease_factor", "dust", DUST " | c " TASK "ref_dust", NULL},
    {"interval.grease_factor", "shock", "c duty.@condition.shock | c " TASK "ref_shock", NULL},
    {"interval.grease_factor", "T",
     "c " TASK "temperature | c " TASK "ref_temperature | " HEAT_T
     " | t the air and the rise of a point",
     NULL},
    {"interval.grease_factor", "load",
     "c " TASK "ref_load | t P/C with shock 1: --working joints.@condition.@shaft.life_in | "
     "z no load, or none that acts here",
     NULL},
    {"interval.grease_factor", "motion",
     "t speed times angle over the reference: --working joints.@condition.@shaft", NULL},
    {"interval.grease_ratio", "f", "s interval.grease_factor.f", NULL},
    {"interval.grease_ratio", "f_ref", "s interval.grease_factor.f@point", NULL},
    {"interval.least", "ageing", "s interval.ageing.T@point", NULL},
    {"interval.least", "dust", "s interval.anchored.T@point | s interval.budget.T@point", NULL},
    {"interval.least", "water wear", "s interval.budget.T@point", NULL},
    {"interval.least", "additive", "s interval.anchored.T@point", NULL},
    {"interval.allowed", "T", MEDIAN " | " QUANTILE, NULL},
    {"interval.allowed", "slack", "o clock_slack", NULL},
    {"*", "T_m", "c " TASK "manual_interval", NULL},
    {"interval.step", "T",
     "s interval.first_wanted.T_wanted | s interval.allowed.T_allowed@point", NULL},
    {"interval.own_step", "T",
     "s interval.first_wanted.T_wanted | s interval.allowed.T_allowed@point", NULL},
    {"interval.own_step", "S", "c machine.service_clock", NULL},
    {"interval.below_clock", "T", "s interval.allowed.T_allowed@point", NULL},
    {"interval.below_clock", "S", "c machine.service_clock", NULL},
    {"interval.visits", "T",
     "s interval.step.T_step@point | s interval.own_step.T_step@point | "
     "s interval.below_clock.T_step@point | "
     "c " TASK "manual_interval | c " TASK "severe_interval",
     NULL},
    {"interval.visits", "hours", "c machine.hours_per_year", NULL},
    {"interval.visits", "washes", "t washes of the duty in a year, oil: none", NULL},
    {"interval.yearly", "N", "s interval.visits.N@point", NULL},
    {"interval.first_wanted", "first", "o first_change", NULL},
    {"interval.first_wanted", "part", "o first_share", NULL},
    {"interval.first_change", "T_step", "s interval.step.T_step | s interval.own_step.T_step",
     NULL},
    {"interval.first_change", "T",
     "s interval.step.T_step@point | s interval.own_step.T_step@point | "
     "s interval.below_clock.T_step@point | "
     "c " TASK "manual_interval | c " TASK "severe_interval",
     NULL},
    {"interval.shortening", "low", MEDIAN " | " QUANTILE, NULL},
    /* results */
    {"joints", "speed", "n shaft", NULL},
    {"joints", "torque", "s shaft.torque.T@shaft | z no power", NULL},
    {"joints", "angle_in", POSITION_IN, NULL},
    {"joints", "angle_out", POSITION_OUT, NULL},
    {"joints", "angle_equivalent", EQUIVALENT, NULL},
    {"joints", "fluctuation", "s joint.fluctuation.U@shaft", NULL},
    {"joints", "speed_max", "s joint.fluctuation.n_max@shaft", NULL},
    {"joints", "speed_min", "s joint.fluctuation.n_min@shaft", NULL},
    {"joints", "acceleration_out acceleration_tube",
     "s joint.peak_acceleration.alpha@shaft | z taken as constant velocity", NULL},
    {"joints", "ripple", "s shaft.ripple.amplitude@shaft | s shaft.steady_ripple.amplitude@shaft",
     NULL},
    {"joints", "couple_in couple_out", "s joint.secondary_couple.driving@shaft", NULL},
    {"joints", "length", LENGTH, NULL},
    {"joints", "clearance", "s shaft.fit.clearance@position", NULL},
    {"joints", "overlap", "s shaft.fit.overlap@position", NULL},
    {"joints", "thrust", "s shaft.telescoping_thrust.F@shaft", NULL},
    {"joints", "life_in life_out", "s joint.cross_life.L10h@shaft | s bearing.duty_life.L@fit",
     NULL},
    {"heat", "power", "s power.share.P_share@shaft", NULL},
    {"heat", "mesh", "s loss.sum.loss@gearbox | s loss.mesh.loss@parts | z no power", NULL},
    {"heat", "churning",
     "s loss.sum.loss@gearbox | s loss.churning.loss@parts | s loss.disc.loss@parts", NULL},
    {"heat", "churning_low", "s loss.churning_band.low@gearbox", NULL},
    {"heat", "churning_high", "s loss.churning_band.high@gearbox", NULL},
    {"heat", "bearings",
     "s loss.sum.loss@gearbox | s loss.cases.loss@parts | s bearing.friction.loss@parts", NULL},
    {"heat", "seals", "s loss.sum.loss@gearbox | s loss.seal.loss@gearbox", NULL},
    {"heat", "sun", "s heat.sun.sun_to_oil@gearbox | z no sun_area", NULL},
    {"heat", "loss", "s heat.losses.loss@gearbox", NULL},
    {"heat", "efficiency", "s heat.losses.efficiency@gearbox", NULL},
    {"heat", "oil_temperature",
     "c duty.@condition.oil_temperature | s heat.temperature.T@gearbox | "
     "s heat.shared_temperature.T@group | t measured in a condition that it alternates with",
     NULL},
    {"heat", "oil_temperature_low",
     "s heat.temperature.T@low | s heat.shared_temperature.T@grouplow", NULL},
    {"heat", "oil_temperature_high",
     "s heat.temperature.T@high | s heat.shared_temperature.T@grouphigh", NULL},
    {"heat", "modelled_temperature",
     "s heat.temperature.T@gearbox | s heat.temperature.T@model | "
     "s heat.shared_temperature.T@group | s heat.shared_temperature.T@groupmodel",
     NULL},
    {"heat", "cooling_factor",
     "s heat.cooling_mean.c@read | s heat.cooling_factor.c@read | s heat.shared_factor.c@read | "
     "t from the readings of the case as it was read",
     NULL},
    {"heat", "viscosity", "s oil.viscosity.nu@gearbox", NULL},
    {"heat", "time_constant",
     "s heat.time_constant.tau@gearbox | s heat.time_constant.tau@model | "
     "s heat.time_constant.tau@group | s heat.time_constant.tau@groupmodel",
     NULL},
    {"bearing_lives", "speed", "n axle", NULL},
    {"bearing_lives", "Fr", RADIAL, NULL},
    {"bearing_lives", "Fa", "s axle.thrust.Fa#@axle", NULL},
    {"bearing_lives", "P", "s bearing.ripple_load.P_ripple@bearing | s bearing.load.P@bearing",
     NULL},
    {"bearing_lives", "oil_temperature", "r heat.@condition.@gearbox.oil_temperature", NULL},
    {"bearing_lives", "kappa", "s bearing.kappa.kappa@bearing", NULL},
    {"bearing_lives", "e_C", "s bearing.cleanliness.e_C@bearing", NULL},
    {"bearing_lives", "a_iso",
     "s bearing.mean_factor.a_iso@bearing | s bearing.life_factor.a_iso@bearing | "
     "s bearing.mean_factor.a_iso@duty",
     NULL},
    {"bearing_lives", "L10h",
     "s bearing.duty_life.L@bearing | s bearing.basic_life.L10h@bearing | "
     "s bearing.duty_life.L@duty",
     NULL},
    {"bearing_lives", "Lnmh",
     "s bearing.duty_life.L@bearing | s bearing.adjusted_life.Lnmh@bearing | "
     "s bearing.duty_life.L@duty",
     NULL},
    {"gearbox_life", "L10h Lnmh", "s bearing.system_life.L@system", NULL},
    {"gearbox_life", "reliability_at_design_life", "s bearing.system_survival.R@system", NULL},
    {"intervals", "manual", "c " TASK "manual_interval", NULL},
    {"intervals", "nominal", MEDIAN, NULL},
    {"intervals", "median low high at_risk", MEDIAN " | " QUANTILE, NULL},
    {"intervals", "recommended",
     STEP_AT("@drawn") " | " STEP_AT("@point") " | c " TASK "manual_interval | c " TASK
     "severe_interval", NULL},
    {"intervals", "shortening",
     "s interval.shortening.times@drawn | s interval.shortening.times@point", NULL},
    {"intervals", "first_change",
     "s interval.first_change.T_first@firstdrawn | s interval.first_change.T_first@first", NULL},
    {"intervals", "times_per_year",
     "s interval.yearly.times@drawn | s interval.yearly.times@point", NULL},
};

/* A symbol against a list of symbols, with and without the digits at its end. */
static bool symbol_in(const char *list, const char *symbol, bool numbered)
{
    size_t n = strlen(symbol);
    if (numbered)
        while (n > 1 && symbol[n - 1] >= '0' && symbol[n - 1] <= '9')
            n--;
    for (const char *p = list; *p;) {
        size_t k = strcspn(p, " ");
        if ((k == n && strncmp(p, symbol, n) == 0) || (k == 1 && *p == '*'))
            return true;
        p += k + (p[k] == ' ');
    }
    return false;
}

static const char *find(const char *formula, const char *symbol, const char *stage, bool numbered)
{
    const char *general = NULL;
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++) {
        const rule *r = &rules[i];
        bool any = strcmp(r->formula, "*") == 0;
        if ((!any && strcmp(r->formula, formula) != 0) ||
            (r->stage && strcmp(r->stage, stage) != 0) || !symbol_in(r->symbols, symbol, numbered))
            continue;
        if (!any)
            return r->from;
        if (!general)
            general = r->from;
    }
    return general;
}

const char *trn_working_rule(const char *formula, const char *symbol, const char *stage)
{
    const char *from = find(formula, symbol, stage, false);
    return from ? from : find(formula, symbol, stage, true);
}
