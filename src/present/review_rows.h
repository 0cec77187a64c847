/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/present only: what the pages of a failure review have in common. */
#ifndef TRUNNION_PRESENT_REVIEW_ROWS_H
#define TRUNNION_PRESENT_REVIEW_ROWS_H

#include <trunnion/review.h>

#include "rows.h"

/* The rows of a part, TRN_NONE: all. */
trn_row_set trn_review_set(const trn_review *review, size_t part);

double trn_review_posterior(double prior, double factor);

#endif
