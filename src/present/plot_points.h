/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/present only: names of service points. */
#ifndef TRUNNION_PLOT_POINTS_H
#define TRUNNION_PLOT_POINTS_H

#include "plot_script.h"

enum { PLOT_LABEL_SIZE = PLOT_NAME_SIZE + 24 };

/* Name of a point, with its task where the name comes twice; its columns. */
size_t plot_point_label(const trn_machine *machine, size_t point, char *out, size_t size);

#endif
