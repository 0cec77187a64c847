/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>

#include "root.h"

/* The solver's own allocator is left out: its state fits on the stack, and a root is found tens
 * of thousands of times in a study of uncertainty. */
trn_status trn_root_between(double (*f)(double, void *), void *context, double low, double high,
                            double slack, double *root)
{
    union {
        double align;
        unsigned char bytes[128];
    } state;
    gsl_function function = {.function = f, .params = context};
    gsl_root_fsolver solver = {.type = gsl_root_fsolver_brent, .state = &state};
    if (solver.type->size > sizeof state ||
        gsl_root_fsolver_set(&solver, &function, low, high) != GSL_SUCCESS)
        return TRN_E_CONVERGE;
    for (int i = 0; i < 200; i++) {
        if (gsl_root_fsolver_iterate(&solver) != GSL_SUCCESS)
            return TRN_E_CONVERGE;
        if (gsl_root_test_interval(solver.x_lower, solver.x_upper, slack, 0) == GSL_SUCCESS) {
            *root = solver.root;
            return TRN_OK;
        }
    }
    return TRN_E_CONVERGE;
}
