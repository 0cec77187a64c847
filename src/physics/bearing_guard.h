/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/physics only: guards that NaN and inf fail, and the slack of branch limits. */
#ifndef TRUNNION_BEARING_GUARD_H
#define TRUNNION_BEARING_GUARD_H

#include <math.h>
#include <stdbool.h>

/* A limit is met within this share of it: a conversion of units must not choose the branch. */
#define SLACK 1e-9

static inline bool is_positive(double x)
{
    return x > 0 && isfinite(x);
}

static inline bool not_negative(double x)
{
    return x >= 0 && isfinite(x);
}

static inline bool at_least(double x, double limit)
{
    return x >= limit - SLACK * fabs(limit);
}

static inline bool at_most(double x, double limit)
{
    return x <= limit + SLACK * fabs(limit);
}

#endif
