/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The program from outside: the files of tests/program/, one test a command.
 *
 *     # what the command shows (printed where it fails)
 *     ? locale de_DE.UTF-8        skipped where this locale is not to be had
 *     $ trunnion joints nowhere   run by sh in the project's folder; $OUT is a folder of its own
 *     = 3                         exit code, 0 where nothing is said
 *     > line of stdout            each line; `> ...` any lines; none: nothing may be printed
 *     ! part of stderr            each must be found; `!` alone anything; none: nothing is said
 *
 * Numbers are compared within a millionth, text as it is. */
#include <criterion/criterion.h>
#include <criterion/parameterized.h>
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "command.h"

typedef struct wish {
    char what[400];
    char command[2000];
    char locale[40];
    int exit;
    char out[16000];
    char err[20][400];
    size_t errs;
} wish;

static size_t next_command(const char *text, size_t line)
{
    size_t n = 1;
    for (const char *p = text; *p; n++) {
        if (n > line && p[0] == '$' && p[1] == ' ')
            return n;
        p += strcspn(p, "\n");
        p += *p == '\n';
    }
    return 0;
}

ParameterizedTestParameters(program, command)
{
    static const char *const patterns[] = {"tests/program/*.test"};
    test_place *list = NULL;
    size_t n = test_places(patterns, 1, next_command, &list);
    return cr_make_param_array(test_place, list, n);
}

static void copy(char *to, size_t size, const char *from, size_t n, const test_place *place)
{
    cr_assert(n < size, "%s:%zu: the line is too long", place->file, place->line);
    memcpy(to, from, n);
    to[n] = '\0';
}

/* A line of the file: before the command what goes with it, behind it what is wanted. */
static void take(wish *w, const char *line, size_t n, bool behind, const test_place *place)
{
    const char *rest = n > 1 && line[1] == ' ' ? line + 2 : line + n;
    size_t length = (size_t)(line + n - rest);
    if (line[0] == '#')
        copy(w->what, sizeof w->what, rest, length, place);
    else if (line[0] == '?' && strncmp(rest, "locale ", 7) == 0)
        copy(w->locale, sizeof w->locale, rest + 7, length - 7, place);
    else if (line[0] == '=' && behind)
        w->exit = (int)strtol(rest, NULL, 10);
    else if (line[0] == '>' && behind) {
        size_t used = strlen(w->out);
        copy(w->out + used, sizeof w->out - used - 1, rest, length, place);
        (void)strncat(w->out, "\n", 2);
    } else if (line[0] == '!' && behind) {
        cr_assert_lt(w->errs, sizeof w->err / sizeof w->err[0]);
        copy(w->err[w->errs++], sizeof w->err[0], rest, length, place);
    } else
        cr_assert(n == 0 || line[0] == '$', "%s: no such line: %.*s", place->file, (int)n, line);
}

static void read_wish(const test_place *place, wish *w)
{
    char *text = test_place_text(place);
    size_t line = 1;
    for (const char *p = text; *p; line++) {
        size_t n = strcspn(p, "\n");
        if (line > place->line && (*p == '$' || *p == '#' || *p == '?'))
            break; /* of the next command */
        if (*p == '$' && line < place->line)
            w->what[0] = w->locale[0] = '\0';
        if (line == place->line)
            copy(w->command, sizeof w->command, p + 2, n - 2, place);
        else if (line > place->line || *p == '#' || *p == '?')
            take(w, p, n, line > place->line, place);
        p += n + (p[n] == '\n');
    }
    free(text);
}

ParameterizedTest(test_place *place, program, command, .timeout = 300)
{
    static wish w;
    static char why[2000];
    read_wish(place, &w);
    if (w.locale[0] && !setlocale(LC_ALL, w.locale))
        cr_skip_test("there is no locale %s", w.locale);
    (void)setlocale(LC_ALL, "C");
    test_output got = test_command(w.command);
    cr_expect_eq(got.exit, w.exit, "%s:%zu: %s\n$ %s\nexit code %d, not %d; stderr: %.1000s",
                 place->file, place->line, w.what, w.command, got.exit, w.exit, got.err);
    cr_expect(test_same_text(w.out, got.out, why, sizeof why), "%s:%zu: %s\n$ %s\n%s",
              place->file, place->line, w.what, w.command, why);
    for (size_t i = 0; i < w.errs; i++)
        cr_expect(strstr(got.err, w.err[i]), "%s:%zu: %s\n$ %s\nstderr without `%s`: %.1000s",
                  place->file, place->line, w.what, w.command, w.err[i], got.err);
    cr_expect(w.errs > 0 || !*got.err, "%s:%zu: %s\n$ %s\nunexpected on stderr: %.1000s",
              place->file, place->line, w.what, w.command, got.err);
    test_output_free(&got);
}
