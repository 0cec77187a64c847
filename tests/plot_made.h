/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by the plot tests: results made by hand, so that what a picture must say is known. */
#ifndef TRUNNION_TEST_PLOT_MADE_H
#define TRUNNION_TEST_PLOT_MADE_H

#include <trunnion/plot.h>

enum { MADE_SHAFTS = 9, MADE_GEARBOXES = 6, MADE_BEARINGS = 24, MADE_POINTS = 35 };

/* Every name begins with `name`, followed by a number; NULL: short names. Belongs to the test
 * and stands until the next call. */
const trn_results *plot_made(const char *name);
trn_results *plot_made_to_change(void);

#endif
