/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by the tests of failure reviews: tests/cases/failed in a folder of its own, an invented
 * rotary mower; scenarios are written by the tests. */
#ifndef TRUNNION_TEST_REVIEW_CASE_H
#define TRUNNION_TEST_REVIEW_CASE_H

#include <trunnion/review.h>

#include "scratch.h"

extern char review_folder[SCRATCH_PATH];
extern trn_machine *review_machine;
extern trn_review *review_made;

/* Set-up and end of a suite. */
void review_begin(void);
void review_end(void);

/* Reads the folder again and reviews it; refused: what a fault must say. */
void review_again(unsigned jobs);
void review_refused(const char *wanted);

/* Row of a scenario of the first component. */
const trn_review_row *review_row(const char *scenario);
bool review_has(const trn_review_row *r, const char *text);
/* scenarios.csv below its header. */
void review_scenarios(const char *rows);
void review_near(const char *what, double got, double want, double relative);

#endif
