/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Findings of a failure review that lie outside every life model: shafts that bottom, tubes that
 * part. No factor holds them, since no life does. */
#ifndef TRUNNION_REVIEW_OUTSIDE_H
#define TRUNNION_REVIEW_OUTSIDE_H

#include <trunnion/lift.h>
#include <trunnion/review.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef enum trn_outside_kind {
    TRN_OUTSIDE_BOTTOMS, /* no push-in travel left: the halves stand on each other */
    TRN_OUTSIDE_PARTS    /* no overlap left where it turns */
} trn_outside_kind;

typedef struct trn_outside {
    trn_outside_kind kind;
    size_t explanation; /* 0: the case as specified */
    size_t shaft;
    char place[TRN_PLACE_MAX];
    double travel_mm;   /* clearance or overlap, at most 0 */
    double needed_mm;   /* that are asked for */
    bool turns;         /* the PTO is on there; parts of a sweep: no */
} trn_outside;

/* How a shaft touches a failed part. */
typedef enum trn_outside_touch {
    TRN_TOUCH_NONE,
    TRN_TOUCH_GEARBOX, /* it drives, or is driven by, the gearbox of the part */
    TRN_TOUCH_AXLE,    /* it is attached to the very axle that the part carries */
    TRN_TOUCH_ITSELF   /* it is the part */
} trn_outside_touch;

/* How near a shaft is to a part, both by their places; never fails. */
trn_outside_touch trn_review_touch(const trn_review *review, size_t shaft, size_t part);

/* Findings under every explanation that changes the case.
 * Given:    review with explanations and parts
 * Returned: *list (to be freed), *count   explanation by explanation, shaft by shaft
 * Status:   TRN_E_INPUT with faults, TRN_E_MEMORY */
trn_status trn_review_outside(const trn_review *review, trn_faults *faults, trn_outside **list,
                              size_t *count);

#ifdef __cplusplus
}
#endif
#endif
