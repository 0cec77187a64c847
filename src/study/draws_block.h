/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study/draws_block*.c only: what all points share in the same draws. */
#ifndef TRUNNION_DRAWS_BLOCK_H
#define TRUNNION_DRAWS_BLOCK_H

#include "draws_vector.h"
#include "mechanism_inside.h"

static const double trn_never = -1e300; /* a lower bound that binds nothing */

/* v = median mul + add in every draw */
typedef struct drawn {
    double *mul, *add;
} drawn;

struct trn_blocks {
    const trn_interval_settings *settings;
    const trn_normals *normals;
    size_t room, level_count;
    double *ones, *zeros;
    drawn of[TRN_DRAWS];                           /* the dust: only where it has a spread of its own */
    drawn oil_measured, oil_calibrated, ageing_firm, water_sampled;
    double *x, *step, *exponent; /* as used, within their bounds; step: 1/h */
    double *levels, **level;     /* dust factor of known levels */
    double *pool;
    trn_hinges dust, shock;
};

/* Arrays of a quantity from the block on; at its median where it is frozen. */
static inline drawn here(const trn_blocks *b, drawn d, trn_draw_id id, trn_draw_id frozen, size_t at)
{
    if (id == frozen)
        return (drawn){b->ones, b->zeros};
    return (drawn){d.mul + at, d.add + at};
}

#define HERE(t, id) here((t)->b, (t)->b->of[id], id, (t)->frozen, (t)->at)

/* Spread of ln C, and the factor of a dust in a block of draws. */
double trn_block_sigma(double mg_m3, const trn_interval_settings *settings);
void trn_block_dust(const trn_blocks *blocks, double mg_m3, size_t first, double *factor);

#endif
