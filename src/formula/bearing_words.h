/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/formula only: a word as its place, -1 (which the library refuses) for nonsense. */
#ifndef TRUNNION_BEARING_WORDS_H
#define TRUNNION_BEARING_WORDS_H

#include <trunnion/formula.h>

static inline int word_at(const trn_value *value)
{
    return value->x >= 0 && value->x < 1000 ? (int)value->x : -1;
}

/* trn_bearing_kind in words */
static const char *const bearing_kinds[] = {"deep_groove", "angular_15", "angular_20",  "angular_25",
                                            "angular_30",  "angular_35", "angular_40",  "tapered",
                                            "cylindrical", "needle",     NULL};

#endif
