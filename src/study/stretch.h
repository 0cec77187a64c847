/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study only: the sweep of a shaft, stretch by stretch. */
#ifndef TRUNNION_STRETCH_H
#define TRUNNION_STRETCH_H

#include <trunnion/study.h>

/* What a shaft is at a place of its sweep. */
typedef struct trn_place {
    double length, angle; /* larger of the two joints */
    double stop;          /* what a stop is set by: height of joint 2, tilt or turn */
    double link_angle;
} trn_place;

/* What was measured at a row, less what its dimensions give. */
typedef struct trn_led {
    double length, in, out;
} trn_led;

typedef struct trn_stretch { /* between two neighbouring rows */
    const trn_geometry *from, *to;
    trn_led at_from, at_to;
    bool turns, power;
} trn_stretch;

/* Dimensions of one row; false where the linkage does not close or a joint folds. */
bool trn_place_of(const trn_geometry *g, trn_led by, trn_place *out);
/* A share of a stretch, 0 at its first row. */
bool trn_stretch_place(const trn_stretch *s, double share, trn_place *out);
trn_led trn_led_of(const trn_results *r, const trn_geometry *g);
/* Does a condition with power stand in the position? */
bool trn_position_powered(const trn_machine *m, const char *position);
/* pto_on of the row's position, the measured one where there is one. */
bool trn_row_turns(const trn_results *r, const trn_geometry *g);
/* The stretch that begins at a row; false where the shaft's next row is of another layout. */
bool trn_stretch_from(const trn_results *r, size_t row, trn_stretch *out);

#endif
