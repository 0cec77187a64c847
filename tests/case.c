/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whole cases against results that an independent program computed (tests/cases/README.md). */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <trunnion/extras.h>
#include <trunnion/present.h>

#include "support.h"

static const char *const cases[] = {"rotary_mower", "winged_shredder", "tedder"};

enum { KEYS_MAX = 3 };

typedef struct result_file {
    const char *name;
    const char *keys[KEYS_MAX]; /* columns that tell the rows apart */
    bool thinned;
    double relative;
} result_file;

static const result_file files[] = {
    {"joints", {"condition", "shaft", "position"}, false, 1e-6},
    {"heat", {"condition", "gearbox"}, false, 1e-6},
    {"bearing_lives", {"condition", "bearing"}, false, 1e-6},
    {"gearbox_life", {"gearbox"}, false, 1e-6},
    {"intervals", {"point", "task"}, false, 1e-6},
    {"one_turn", {"condition", "shaft", "turn"}, true, 1e-6},
    {"warmup", {"condition", "gearbox", "time"}, true, 1e-6},
    {"oil_course", {"gearbox", "hours"}, false, 1e-6},
    {"visits", {"visit", "point", "task"}, false, 1e-6},
    {"turning", {"point", "task", "quantity"}, false, 2e-4},
};

enum { FILES = sizeof files / sizeof files[0] };

/* ---- sheets ------------------------------------------------------------------------------- */

/* Does a header `name [unit]` name this column? */
static bool named(const char *header, const char *name)
{
    size_t n = strlen(name);
    return strncmp(header, name, n) == 0 && (header[n] == '\0' || header[n] == ' ');
}

static size_t column_of(const trn_sheet *sheet, const char *name)
{
    for (size_t c = 0; c < sheet->columns; c++)
        if (named(sheet->header[c], name))
            return c;
    return TRN_NONE;
}

static bool same_key(const char *a, const char *b)
{
    double x = 0;
    double y = 0;
    if (trn_text_number(a, &x) == TRN_OK && trn_text_number(b, &y) == TRN_OK)
        return fabs(x - y) <= 1e-8 * fmax(fabs(x), 1);
    return strcmp(a, b) == 0;
}

static size_t find_row(const trn_sheet *in, const trn_sheet *wanted, size_t row,
                       const result_file *file)
{
    for (size_t r = 0; r < in->rows; r++) {
        bool same = true;
        for (size_t k = 0; same && k < KEYS_MAX && file->keys[k]; k++)
            same = same_key(trn_sheet_cell(in, r, column_of(in, file->keys[k])),
                            trn_sheet_cell(wanted, row, column_of(wanted, file->keys[k])));
        if (same)
            return r;
    }
    return TRN_NONE;
}

static bool cells_agree(const char *wanted, const char *got, double relative, double absolute)
{
    double x = 0;
    double y = 0;
    if (trn_text_number(wanted, &x) != TRN_OK || trn_text_number(got, &y) != TRN_OK)
        return strcmp(wanted, got) == 0; /* names, blanks, inf */
    return fabs(x - y) <= fmax(relative * fmax(fabs(x), fabs(y)), absolute);
}

static void compare_row(const char *where, const result_file *file, const trn_sheet *wanted,
                        size_t r, const trn_sheet *got, size_t q)
{
    const char *quantity = "";
    if (strcmp(file->name, "turning") == 0)
        quantity = trn_sheet_cell(wanted, r, column_of(wanted, "quantity"));
    /* temperatures of turning values are sought to 0.01 K; elsewhere 0 but for rounding */
    double absolute = strstr(quantity, "temperature") ? 0.011 : 1e-9;
    for (size_t c = 0; c < wanted->columns; c++) {
        const char *head = wanted->header[c];
        const char *a = trn_sheet_cell(wanted, r, c);
        if (named(head, "remark") || named(head, "reason") ||
            (named(head, "sun") && *a == '\0'))
            continue;
        size_t d = 0;
        while (d < got->columns && strcmp(got->header[d], head) != 0)
            d++;
        cr_assert(d < got->columns, "%s: no column `%s`", where, head);
        const char *b = trn_sheet_cell(got, q, d);
        cr_expect(cells_agree(a, b, file->relative, absolute),
                  "%s, line %zu, %s: wanted `%s` got `%s`", where, wanted->line[r], head, a, b);
    }
}

static void compare(const char *where, const result_file *file, const trn_sheet *wanted,
                    const trn_sheet *got)
{
    if (!file->thinned)
        cr_expect_eq(got->rows, wanted->rows, "%s: wanted %zu rows got %zu", where, wanted->rows,
                     got->rows);
    for (size_t r = 0; r < wanted->rows; r++) {
        size_t q = find_row(got, wanted, r, file);
        cr_expect(q != TRN_NONE, "%s, line %zu: no such row", where, wanted->line[r]);
        if (q != TRN_NONE)
            compare_row(where, file, wanted, r, got, q);
    }
}

/* ---- cases -------------------------------------------------------------------------------- */

static trn_machine *read_case(const char *name)
{
    char folder[1024];
    trn_faults faults = {0};
    trn_machine *machine = NULL;
    (void)snprintf(folder, sizeof folder, "%s/cases/%s", test_root(), name);
    trn_status status = trn_machine_read(folder, &faults, &machine);
    cr_assert_eq(status, TRN_OK, "%s: %s: %s", name, faults.kept ? faults.list[0].file : "",
                 faults.kept ? faults.list[0].text : "");
    trn_faults_free(&faults);
    return machine;
}

static trn_results *evaluated(const trn_machine *machine)
{
    trn_results *results = trn_results_new(machine);
    cr_assert_not_null(results);
    cr_assert_eq(trn_study_evaluate(machine, TRN_WANT_ALL, results, NULL), TRN_OK);
    cr_assert_eq(trn_study_extras(results), TRN_OK);
    return results;
}

static trn_sheet *rendered(const trn_view *view, const trn_results *results)
{
    trn_buffer text = {0};
    trn_faults faults = {0};
    trn_sheet *sheet = NULL;
    trn_view_csv(view, results, NULL, true, &text);
    cr_assert(!text.failed);
    trn_status status = trn_sheet_parse(view->name, text.text, text.length, &faults, &sheet);
    cr_assert_eq(status, TRN_OK, "%s as written is not readable: %s", view->name,
                 faults.kept ? faults.list[0].text : "");
    trn_faults_free(&faults);
    trn_buffer_free(&text);
    return sheet;
}

/* Expected file, NULL where the case has none (three tables only). */
static trn_sheet *expected(const char *name, const char *file)
{
    char path[1024];
    trn_faults faults = {0};
    trn_sheet *sheet = NULL;
    (void)snprintf(path, sizeof path, "%s/cases/%s/expected/%s.csv", test_root(), name, file);
    FILE *there = fopen(path, "rb");
    if (!there)
        return NULL;
    (void)fclose(there);
    cr_assert_eq(trn_sheet_read(path, &faults, &sheet), TRN_OK, "%s: %s", path,
                 faults.kept ? faults.list[0].text : "");
    trn_faults_free(&faults);
    return sheet;
}

static void check_file(size_t f)
{
    gsl_set_error_handler_off();
    size_t compared = 0;
    const trn_view *view = trn_view_find(files[f].name);
    cr_assert_not_null(view, "no view %s", files[f].name);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        trn_sheet *wanted = expected(cases[i], files[f].name);
        trn_machine *machine = read_case(cases[i]);
        trn_results *results = evaluated(machine);
        if (wanted) {
            char where[128];
            trn_sheet *got = rendered(view, results);
            (void)snprintf(where, sizeof where, "%s/%s", cases[i], files[f].name);
            compare(where, &files[f], wanted, got);
            compared += wanted->rows;
            trn_sheet_free(got);
        } else {
            cr_expect_eq(machine->gearboxes_count, 0, "%s has no expected %s.csv", cases[i],
                         files[f].name);
        }
        trn_sheet_free(wanted);
        trn_results_free(results);
        trn_machine_free(machine);
    }
    cr_expect(compared > 0, "nothing compared for %s", files[f].name);
}

#define CASE_TEST(view, place)                           \
    Test(case, view##_agree_with_an_independent_program) \
    {                                                    \
        cr_assert_str_eq(files[place].name, #view);      \
        check_file(place);                               \
    }

CASE_TEST(joints, 0)
CASE_TEST(heat, 1)
CASE_TEST(bearing_lives, 2)
CASE_TEST(gearbox_life, 3)
CASE_TEST(intervals, 4)
CASE_TEST(one_turn, 5)
CASE_TEST(warmup, 6)
CASE_TEST(oil_course, 7)
CASE_TEST(visits, 8)
CASE_TEST(turning, 9)

/* The comparison itself: what is wrong must not pass. */
Test(case, the_comparison_sees_differences)
{
    cr_expect(!cells_agree("1.000002", "1.0000000", 1e-6, 1e-9));
    cr_expect(cells_agree("1.0000005", "1.0000000", 1e-6, 1e-9));
    cr_expect(!cells_agree("", "0", 1e-6, 1e-9));
    cr_expect(!cells_agree("inf", "1e99", 1e-6, 1e-9));
    cr_expect(!cells_agree("dust", "shock", 1e-6, 1e-9));
    cr_expect(named("sun [W]", "sun") && !named("sunny [W]", "sun"));
    cr_expect_eq((size_t)FILES, 10);
}
