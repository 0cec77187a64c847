/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside the library: the constants that each file of formulas holds. */
#ifndef TRUNNION_CONSTANT_TABLES_H
#define TRUNNION_CONSTANT_TABLES_H

#include <trunnion/constants.h>

/* X(file): trn_constants_FILE and its count */
#define TRN_CONSTANT_TABLES(X) \
    X(bearing_clean) \
    X(bearing_life) \
    X(bearing) \
    X(bearing_rating) \
    X(loss) \
    X(loss_churning) \
    X(gear_loss) \
    X(heat) \
    X(oil) \
    X(grease) \
    X(interval) \
    X(film)

#define TRN_X(name)                                 \
    extern const trn_constant trn_constants_##name[]; \
    extern const size_t trn_constants_##name##_count;
TRN_CONSTANT_TABLES(TRN_X)
#undef TRN_X

#endif
