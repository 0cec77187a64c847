/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <trunnion/review.h>

#include "review_rows.h"

void trn_review_table(const trn_review *review, size_t width, trn_buffer *out)
{
    for (size_t p = 0; p < review->part_count; p++) {
        trn_row_set set = trn_review_set(review, p);
        trn_rows_text(&set, width, out);
    }
}

void trn_review_text(const trn_review *review, size_t width, trn_buffer *out)
{
    trn_review_table(review, width, out);
}
