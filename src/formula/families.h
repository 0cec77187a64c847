/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/formula only: numbered families of inputs (h1 L1, h2 L2, ...). */
#ifndef TRUNNION_FAMILIES_H
#define TRUNNION_FAMILIES_H

#include <trunnion/formula.h>

enum { FAMILY_MAX = 8 };

/* Eight numbered pairs, a[0..7] at in[0..7] and b at in[8..15]; pairs left out are skipped.
 * TRN_E_MISSING where half of one is given, or none at all. */
static inline trn_status family_pairs(const trn_value *in, double *a, double *b, size_t *n)
{
    size_t count = 0;
    for (size_t i = 0; i < FAMILY_MAX; i++) {
        if (in[i].given != in[FAMILY_MAX + i].given)
            return TRN_E_MISSING;
        if (!in[i].given)
            continue;
        a[count] = in[i].x;
        b[count++] = in[FAMILY_MAX + i].x;
    }
    *n = count;
    return count > 0 ? TRN_OK : TRN_E_MISSING;
}

#endif
