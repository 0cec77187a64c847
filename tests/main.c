/* SPDX-License-Identifier: GPL-3.0-or-later
 * Criterion calls a run in which no test ran a success, and a group of parameters that came to
 * nothing too: a filter with a slip in it, or a moved folder, would pass unseen. Here they fail. */
#include <criterion/criterion.h>
#include <criterion/hooks.h>
#include <criterion/options.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support.h"

/* Groups whose tests are made from files, and a shell's count of what must have been run. */
static const struct {
    const char *suite;
    const char *count;
} groups[] = {
    {"program", "cat %s/program/*.test | grep -c '^[$] '"},
    {"replay", "cd %s/.. && cat README.md docs/*.md docs/*/*.md docs/*/*/*.md "
               "sample-data/*/README.md | grep -A1 '^```console$' | grep -c '^[$] trunnion '"},
};

static bool ran;       /* the report came */
static bool too_few;

static size_t wanted(const char *count)
{
    char command[600];
    char text[32] = "";
    (void)snprintf(command, sizeof command, count, test_root());
    FILE *pipe = popen(command, "r");
    if (!pipe || !fgets(text, sizeof text, pipe))
        text[0] = '\0';
    if (pipe)
        (void)pclose(pipe);
    return (size_t)strtoul(text, NULL, 10);
}

static size_t tests_of(const struct criterion_global_stats *stats, const char *suite)
{
    for (const struct criterion_suite_stats *s = stats->suites; s; s = s->next)
        if (strcmp(s->suite->name, suite) == 0)
            return s->nb_tests - s->tests_skipped;
    return 0;
}

ReportHook(POST_ALL)(struct criterion_global_stats *stats)
{
    ran = true;
    if (stats->nb_tests == stats->tests_skipped) { /* which those of a filter are, too */
        (void)fprintf(stderr, "no test ran: nothing is called so\n");
        too_few = true;
    }
    for (size_t i = 0; !criterion_options.pattern && i < sizeof groups / sizeof groups[0]; i++) {
        size_t want = wanted(groups[i].count);
        size_t got = tests_of(stats, groups[i].suite);
        if (want > 0 && got >= want)
            continue;
        (void)fprintf(stderr, "%s/*: %zu tests ran, the files hold %zu or more\n",
                      groups[i].suite, got, want);
        too_few = true;
    }
}

int main(int argc, char **argv)
{
    struct criterion_test_set *tests = criterion_initialize();
    int code = 0;
    if (criterion_handle_args(argc, argv, true))
        code = !criterion_run_all_tests(tests);
    criterion_finalize(tests);
    return code || (ran && too_few);
}
