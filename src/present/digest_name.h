/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/present only: the name of a duty row from a log. */
#ifndef TRUNNION_DIGEST_NAME_H
#define TRUNNION_DIGEST_NAME_H

#include <trunnion/digest.h>

void digest_condition(const trn_digest_cell *cell, char *out, size_t size);

#endif
