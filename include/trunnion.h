/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Umbrella header of libtrunnion. */
#ifndef TRUNNION_H
#define TRUNNION_H

#define TRN_VERSION "0.1.0"

#include <trunnion/formula.h>
#include <trunnion/joint.h>
#include <trunnion/prove.h>
#include <trunnion/status.h>
#include <trunnion/table.h>
#include <trunnion/text.h>
#include <trunnion/units.h>

#endif
