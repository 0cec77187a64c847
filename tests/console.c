/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The console blocks of README and pages whose first line begins with `$ trunnion`: what they show
 * is what the program gives. `sh scripts/replay.sh --update` writes it anew.
 * A block may hold several commands. Only stdout is compared, and the exit code must be 0, unless
 * the command holds 2>&1 (it shows a refusal) or --strict. */
#include <criterion/criterion.h>
#include <criterion/parameterized.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "command.h"

static bool starts(const char *text, const char *with)
{
    return strncmp(text, with, strlen(with)) == 0;
}

static const char *line_after(const char *text)
{
    text += strcspn(text, "\n");
    return *text ? text + 1 : text;
}

static size_t next_command(const char *text, size_t line)
{
    bool inside = false;
    size_t n = 1;
    for (const char *p = text; *p; p = line_after(p), n++) {
        if (!inside && starts(p, "```console\n")) {
            inside = starts(line_after(p), "$ trunnion ");
        } else if (starts(p, "```\n"))
            inside = false;
        else if (inside && n > line && starts(p, "$ "))
            return n;
    }
    return 0;
}

ParameterizedTestParameters(replay, block)
{
    static const char *const patterns[] = {"README.md", "docs/*.md", "docs/*/*.md",
                                           "docs/*/*/*.md", "sample-data/*/README.md"};
    test_place *list = NULL;
    size_t n = test_places(patterns, sizeof patterns / sizeof patterns[0], next_command, &list);
    return cr_make_param_array(test_place, list, n);
}

/* The command, joined where its lines end with a backslash; *p goes to the line behind it. */
static void take_command(const char **p, char *command, size_t size)
{
    size_t used = 0;
    const char *line = *p + 2;
    for (;;) {
        size_t n = strcspn(line, "\n");
        bool more = n > 0 && line[n - 1] == '\\';
        cr_assert_lt(used + n, size);
        memcpy(command + used, line, n - more);
        used += n - more;
        command[used] = '\0';
        line = line_after(line);
        if (!more)
            break;
    }
    *p = line;
}

ParameterizedTest(test_place *place, replay, block, .timeout = 300)
{
    char command[2000];
    static char why[2000];
    char *text = test_place_text(place);
    const char *p = text;
    for (size_t line = 1; line < place->line; line++)
        p = line_after(p);
    take_command(&p, command, sizeof command);
    const char *end = p;
    while (*end && !starts(end, "$ ") && !starts(end, "```\n"))
        end = line_after(end);
    text[end - text] = '\0';
    test_output got = test_command(command);
    if (!strstr(command, "2>&1") && !strstr(command, "--strict"))
        cr_expect_eq(got.exit, 0, "%s:%zu: exit code %d: %.1000s", place->file, place->line,
                     got.exit, got.err);
    cr_expect(test_same_text(p, got.out, why, sizeof why),
              "%s:%zu: $ %s\n%s\n(`sh scripts/replay.sh --update` writes the pages anew)",
              place->file, place->line, command, why);
    test_output_free(&got);
    free(text);
}
