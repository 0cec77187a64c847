/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/present only: what the pages of a failure review have in common. */
#ifndef TRUNNION_PRESENT_REVIEW_ROWS_H
#define TRUNNION_PRESENT_REVIEW_ROWS_H

#include <trunnion/review.h>
#include <trunnion/schema.h>

#include "rows.h"

/* The rows of a part, TRN_NONE: all. */
trn_row_set trn_review_set(const trn_review *review, size_t part);

double trn_review_posterior(double prior, double factor);

/* A text being written at a width, paragraph by paragraph. */
typedef struct review_page {
    const trn_review *v;
    size_t width;
    trn_buffer *out;
} review_page;

/* A paragraph, broken into lines; review_item: with a mark before it and later lines indented. */
void review_say(const review_page *page, const char *format, ...) TRN_PRINTF(2, 3);
void review_item(const review_page *page, const char *mark, const char *format, ...)
    TRN_PRINTF(3, 4);
/* Headings: of the three kinds of text, and of a section. */
void review_kind(const review_page *page, const char *title, const char *what);
void review_head(const review_page *page, const char *title);
/* A grid that is done with: printed and freed. */
void review_grid(const review_page *page, trn_grid *grid);
void review_cell(trn_grid *grid, double value, int digits);

/* A number for people inside a sentence. */
typedef struct review_number {
    char text[48];
} review_number;
review_number review_number_of(double value, int digits);

/* What was changed before anything was compared; nothing where nothing was. */
void review_changed(const review_page *page);
bool review_is_changed(const void *row, const trn_table *table, const char *column);

/* The three kinds, and the parts of them that a terminal shows. */
void review_facts(const review_page *page);
void review_computed(const review_page *page);
/* Findings outside the life models, in full and as alternatives; nothing where there are none. */
void review_outside(const review_page *page);
void review_outside_alternatives(const review_page *page);
void review_opinion(const review_page *page);
void review_next_evidence(const review_page *page, size_t part);
void review_signs_of(const review_page *page, size_t part);

#endif
