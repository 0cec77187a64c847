/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include <math.h>
#include <stdlib.h>

const char *test_root(void)
{
    const char *root = getenv("TRUNNION_TESTS");
    return root && *root ? root : "tests";
}

int test_near(double a, double b, double relative)
{
    double size = fmax(fabs(a), fabs(b));
    return fabs(a - b) <= relative * size || size < 1e-300;
}
