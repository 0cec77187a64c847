/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _XOPEN_SOURCE 700 /* realpath */
#include "command.h"

#include <criterion/alloc.h>
#include <criterion/criterion.h>
#include <ctype.h>
#include <fcntl.h>
#include <glob.h>
#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "support.h"

enum { SECONDS_MAX = 120 };

/* ---- files -------------------------------------------------------------------------------- */

static char *read_all(FILE *file)
{
    char *text = NULL;
    size_t length = 0;
    size_t room = 0;
    for (;;) {
        if (length + 1 >= room) {
            room = room ? 2 * room : 4096;
            char *more = realloc(text, room);
            if (!more) {
                free(text);
                return NULL;
            }
            text = more;
        }
        size_t n = fread(text + length, 1, room - length - 1, file);
        length += n;
        text[length] = '\0';
        if (n == 0)
            return text;
    }
}

char *test_file(const char *path)
{
    FILE *file = fopen(path, "r");
    if (!file)
        return NULL;
    char *text = read_all(file);
    (void)fclose(file);
    return text;
}

static void in_project(const char *name, char *path, size_t size)
{
    (void)snprintf(path, size, "%s/../%s", test_root(), name);
}

char *test_place_text(const test_place *place)
{
    char path[PATH_MAX];
    in_project(place->file, path, sizeof path);
    char *text = test_file(path);
    cr_assert(text, "%s cannot be read", path);
    return text;
}

static void add_places(const char *path, size_t skip, test_next next, test_place **list,
                       size_t *n)
{
    char *text = test_file(path);
    for (size_t line = 0; text && (line = next(text, line)) > 0;) {
        test_place *more = realloc(*list, (*n + 1) * sizeof **list);
        if (!more)
            break;
        *list = more;
        (*list)[*n].line = line;
        (void)snprintf((*list)[*n].file, sizeof (*list)[*n].file, "%s", path + skip);
        *n += 1;
    }
    free(text);
}

size_t test_places(const char *const *patterns, size_t count, test_next next, test_place **list)
{
    size_t n = 0;
    test_place *places = NULL;
    for (size_t i = 0; i < count; i++) {
        char path[PATH_MAX];
        in_project(patterns[i], path, sizeof path);
        size_t skip = strlen(path) - strlen(patterns[i]);
        glob_t found = {0};
        if (glob(path, 0, NULL, &found) == 0)
            for (size_t k = 0; k < found.gl_pathc; k++)
                add_places(found.gl_pathv[k], skip, next, &places, &n);
        globfree(&found);
    }
    *list = cr_malloc((n + 1) * sizeof **list);
    if (n > 0)
        memcpy(*list, places, n * sizeof **list);
    free(places);
    return n;
}

/* ---- running ------------------------------------------------------------------------------ */

/* The program's folder goes before the others, so that a line can call it by its name. */
static bool set_path(void)
{
    const char *program = getenv("TRUNNION");
    char path[PATH_MAX];
    if (!realpath(program && *program ? program : TEST_PROGRAM, path))
        return false;
    char *slash = strrchr(path, '/');
    if (strcmp(slash, "/trunnion") != 0)
        return false;
    *slash = '\0';
    const char *old = getenv("PATH");
    char both[2 * PATH_MAX];
    int n = snprintf(both, sizeof both, "%s:%s", path, old ? old : "/usr/bin:/bin");
    return n > 0 && (size_t)n < sizeof both && setenv("PATH", both, 1) == 0;
}

static _Noreturn void run_child(const char *line, int out, int err)
{
    const struct rlimit limit = {SECONDS_MAX, SECONDS_MAX + 1};
    char root[PATH_MAX];
    in_project("", root, sizeof root);
    int in = open("/dev/null", O_RDONLY);
    bool ready = set_path() && chdir(root) == 0 && dup2(in, STDIN_FILENO) >= 0 &&
                 dup2(out, STDOUT_FILENO) >= 0 && dup2(err, STDERR_FILENO) >= 0 &&
                 setrlimit(RLIMIT_CPU, &limit) == 0;
    if (ready)
        (void)execl("/bin/sh", "sh", "-c", line, (char *)NULL);
    _exit(127);
}

static char *rewound(FILE *file)
{
    if (!file)
        return NULL;
    rewind(file);
    char *text = read_all(file);
    (void)fclose(file);
    return text;
}

test_output test_command(const char *line)
{
    static const char folder[] = "OUT=$(mktemp -d) || exit 127\n"
                                 "trap 'rm -rf \"$OUT\"' EXIT\n";
    test_output output = {.exit = -1};
    FILE *out = tmpfile();
    FILE *err = tmpfile();
    size_t size = sizeof folder + strlen(line) + 1;
    char *script = malloc(size);
    if (out && err && script) {
        (void)snprintf(script, size, "%s%s", strstr(line, "$OUT") ? folder : "", line);
        (void)fflush(NULL);
        pid_t child = fork();
        if (child == 0)
            run_child(script, fileno(out), fileno(err));
        int status = 0;
        if (child > 0 && waitpid(child, &status, 0) == child)
            output.exit = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    }
    free(script);
    output.out = rewound(out);
    output.err = rewound(err);
    cr_assert(output.exit >= 0 && output.exit != 127 && output.out && output.err,
              "cannot be run: %s", line);
    return output;
}

void test_output_free(test_output *output)
{
    free(output->out);
    free(output->err);
}

/* ---- comparing ---------------------------------------------------------------------------- */

static bool number_starts(const char *text, const char *at)
{
    if (at > text && (isalnum((unsigned char)at[-1]) || at[-1] == '_'))
        return false;
    const char *p = at + (*at == '-' || *at == '+');
    p += *p == '.';
    return isdigit((unsigned char)*p);
}

/* Length of a number without strtod: its sign for decimals is the locale's. */
static size_t number_length(const char *at)
{
    const char *p = at + (*at == '-' || *at == '+');
    p += strspn(p, "0123456789");
    if (*p == '.')
        p += 1 + strspn(p + 1, "0123456789");
    if (*p == 'e' || *p == 'E') {
        const char *q = p + 1 + (p[1] == '-' || p[1] == '+');
        if (isdigit((unsigned char)*q))
            p = q + strspn(q, "0123456789");
    }
    return (size_t)(p - at);
}

static bool same_number(const char *a, size_t m, const char *b, size_t n)
{
    char text[2][64];
    if (m >= sizeof text[0] || n >= sizeof text[1])
        return m == n && strncmp(a, b, n) == 0;
    memcpy(text[0], a, m);
    memcpy(text[1], b, n);
    text[0][m] = text[1][n] = '\0';
    double x = strtod(text[0], NULL);
    double y = strtod(text[1], NULL);
    return test_near(x, y, 1e-6) || (fabs(x) < 1e-12 && fabs(y) < 1e-12);
}

static size_t trimmed(const char *line)
{
    size_t n = strcspn(line, "\n");
    while (n > 0 && isspace((unsigned char)line[n - 1]))
        n--;
    return n;
}

static bool same(const char *want, const char *got)
{
    const char *const want_end = want + trimmed(want);
    const char *const got_end = got + trimmed(got);
    const char *a = want;
    const char *b = got;
    while (a < want_end && b < got_end) {
        if (number_starts(want, a) && number_starts(got, b)) {
            size_t m = number_length(a);
            size_t n = number_length(b);
            if (!same_number(a, m, b, n))
                return false;
            a += m;
            b += n;
        } else if (*a++ != *b++) {
            return false;
        }
    }
    return a == want_end && b == got_end;
}

bool test_same_line(const char *want, const char *got)
{
    return same(want, got);
}

static const char *line_after(const char *text)
{
    text += strcspn(text, "\n");
    return *text ? text + 1 : text;
}

static bool any_lines(const char *line)
{
    return trimmed(line) == 3 && strncmp(line, "...", 3) == 0;
}

/* Both texts from here on; *failed is the farthest wanted line that nothing stood for. */
static bool match(const char *want, const char *got, const char **failed, const char **instead)
{
    for (; *want && !any_lines(want); want = line_after(want), got = line_after(got))
        if (!*got || !same(want, got)) {
            if (want >= *failed) {
                *failed = want;
                *instead = got;
            }
            return false;
        }
    if (!*want) {
        if (*got && want >= *failed) {
            *failed = want;
            *instead = got;
        }
        return !*got;
    }
    for (want = line_after(want);; got = line_after(got)) {
        if (match(want, got, failed, instead))
            return true;
        if (!*got)
            return false;
    }
}

bool test_same_text(const char *want, const char *got, char *why, size_t size)
{
    const char *failed = want;
    const char *instead = got;
    if (match(want, got, &failed, &instead))
        return true;
    size_t line = 1;
    for (const char *p = want; p < failed; p++)
        line += *p == '\n';
    (void)snprintf(why, size, "output line %zu: wanted `%.*s`%s, got `%.*s`%s", line,
                   (int)trimmed(failed), failed, *failed ? "" : " (the end)",
                   (int)trimmed(instead), instead, *instead ? "" : " (the end)");
    return false;
}
