/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by the tests: where the test data are, and comparison with a printed reason. */
#ifndef TRUNNION_TEST_SUPPORT_H
#define TRUNNION_TEST_SUPPORT_H

/* Folder `tests`, from the environment variable TRUNNION_TESTS or the current folder. */
const char *test_root(void);

/* |a - b| <= relative * max(|a|, |b|), or both below tiny. */
int test_near(double a, double b, double relative);

#endif
