/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside the library: a root without allocation. */
#ifndef TRUNNION_ROOT_H
#define TRUNNION_ROOT_H

#include <trunnion/status.h>

/* Root of f between low and high, where it changes sign, by Brent's method (GSL).
 * Returned: root, to within `slack`
 * Status:   TRN_E_CONVERGE where the sign does not change, or f is not finite */
trn_status trn_root_between(double (*f)(double, void *), void *context, double low, double high,
                            double slack, double *root);

#endif
