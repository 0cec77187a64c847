/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The worksheets of docs/course: their check files hold against the case, and no sheet is without
 * solution and check file. What their console blocks show is compared in console.c.
 * derived: the expected figures were worked by hand as the sheets say, tolerance half a digit. */
#include <criterion/criterion.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "command.h"

static const char *const sheets[] = {
    "1-fluctuation-and-the-pair-of-joints",
    "2-yoke-error",
    "3-shaft-fit",
    "4-bevel-forces",
    "5-oil-and-temperature",
    "6-bearing-life-and-cleanliness",
    "7-interval-and-cost",
    "8-failure-and-evidence",
};
enum { SHEETS = sizeof sheets / sizeof sheets[0] };

/* Output of a command that has to succeed. */
static test_output done(const char *command)
{
    test_output got = test_command(command);
    cr_expect_eq(got.exit, 0, "%s: exit code %d\n%s%s", command, got.exit, got.out, got.err);
    return got;
}

Test(course, answers_are_what_the_program_gives, .timeout = 300)
{
    for (size_t i = 0; i < SHEETS; i++) {
        char command[200];
        (void)snprintf(command, sizeof command,
                       "trunnion prove --case docs/course/cases/topper docs/course/answers/%zu.csv",
                       i + 1);
        test_output got = done(command);
        cr_expect(strstr(got.out, ",pass,") != NULL, "%s", got.err);
        test_output_free(&got);
    }
}

Test(course, a_wrong_answer_fails)
{
    test_output got = test_command(
        "mkdir -p \"$OUT\" && sed 's/,1.87,/,1.91,/' docs/course/answers/1.csv > \"$OUT/1.csv\" && "
        "trunnion prove --case docs/course/cases/topper \"$OUT/1.csv\"");
    cr_expect_eq(got.exit, 1, "exit code %d\n%s%s", got.exit, got.out, got.err);
    cr_expect(strstr(got.err, "6 pass, 1 fail"), "%s", got.err);
    test_output_free(&got);
}

Test(course, each_sheet_is_listed_and_has_its_solution, .timeout = 60)
{
    for (size_t i = 0; i < SHEETS; i++) {
        char command[500];
        (void)snprintf(command, sizeof command,
                       "cd docs/course && grep -q '(%s.md)' README.md && "
                       "grep -q '(solutions/%s.md)' %s.md && test -s solutions/%s.md",
                       sheets[i], sheets[i], sheets[i], sheets[i]);
        test_output got = done(command);
        test_output_free(&got);
    }
}
