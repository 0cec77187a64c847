/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the inputs of each formula come from. One line a symbol; a symbol without a digit at its
 * end stands for the numbered ones too (L for L1, L2 ...).
 *
 *   c PATH      cell of the case          k PATH   the same where it decides a word
 *   s F.OUT@P   output of a step of place P (none: the place of the step itself)
 *   S F.OUT@P   the same without comparing the values
 *   e F.OUT@P   the same, of the load case whose turn it is: the n-th step from the n-th
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
 *   R WORDS     the same in the chain of a reading
 * A symbol +1, +2 ... is no input: a step that belongs to this one and is shown before it.
 * In paths @shaft ... stand for the keys of the place, # for A or B of a bearing, ~ for the symbol
 * (of a step: without the digits at its end). */
#ifndef TRUNNION_WORKING_RULES_H
#define TRUNNION_WORKING_RULES_H

#include "working_inside.h"

typedef struct trn_rule {
    const char *formula, *symbols; /* symbols parted by blanks */
    const char *from;
    const char *stage; /* NULL: any */
} trn_rule;

extern const trn_rule trn_rules_loads[];
extern const size_t trn_rules_loads_count;
extern const trn_rule trn_rules_heat[];
extern const size_t trn_rules_heat_count;
extern const trn_rule trn_rules_intervals[];
extern const size_t trn_rules_intervals_count;

/* what more than one of the tables says */
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
#define RADIAL "s axle.radial_load.Fr_#@axle | s axle.reactions.Fr#@axle"
#define AIR                                                                                  \
    "c duty.@condition.ambient | c machine.ambient | "                                       \
    "c readings.@gearbox.@condition.ambient | t air of the reading"
#define DUST "c duty.@condition.dust | k duty.@condition.dust_class"
#define FACE "c gears.@gear.face_width | c gears.@mate.face_width"

#endif
