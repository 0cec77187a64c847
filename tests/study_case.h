/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by the tests of whole evaluations: cases, their results, comparisons. */
#ifndef TRUNNION_TEST_STUDY_CASE_H
#define TRUNNION_TEST_STUDY_CASE_H

#include <trunnion/study.h>

enum { STUDY_CASES = 5 };
extern const char *const study_cases[STUDY_CASES]; /* folders below tests/ */

trn_machine *study_read(const char *name);
trn_results *study_evaluated(const trn_machine *m);
void study_link_again(trn_machine *m);
/* An override that must be accepted; study_changed: on a copy, linked. */
void study_set(trn_machine *m, const char *path, const char *value);
trn_machine *study_changed(const trn_machine *m, const char *path, const char *value);
/* Every view as one text, on the heap. */
char *study_all_views(const trn_results *r);

/* Equal to a relative difference, or both unknown. */
void study_same(const char *what, double wanted, double got, double relative);

typedef enum study_compared { STUDY_DUTY_LIVES, STUDY_INTERVALS, STUDY_BOTH } study_compared;

/* Lives over the duty and intervals of two evaluations of machines with the same rows. */
void study_same_outcome(const char *what, const trn_results *a, const trn_results *b,
                        double relative, study_compared which);

#endif
