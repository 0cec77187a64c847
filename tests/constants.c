/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Recalled constants: listed, compared, replaced. Criterion runs each test in its own process, so a
 * replaced value does not reach another test. */
#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <trunnion/bearing.h>
#include <trunnion/constants.h>
#include <trunnion/formula.h>

#include "scratch.h"

static const char head[] = "key,printed_value,edition,compared_by,date\n";

/* Writes a filled list beside the other scratch files and reads it. */
static trn_status read_list(const char *rows, trn_faults *faults, size_t *taken, size_t *changed)
{
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 32];
    char text[2048];
    scratch_make(folder);
    (void)snprintf(text, sizeof text, "%s%s", head, rows);
    scratch_write(folder, "constants.csv", text);
    (void)snprintf(path, sizeof path, "%s/constants.csv", folder);
    trn_status status = trn_constants_read(path, faults, taken, changed);
    scratch_remove(folder);
    return status;
}

static double e_c_of_cleanest_bath(void)
{
    double e_c = NAN;
    (void)trn_bearing_cleanliness(TRN_REGIME_BATH, TRN_CLASS_13_10, 1, 0.0612, &e_c);
    return e_c;
}

Test(constants, keys_are_unique_and_formulas_exist)
{
    cr_expect_gt(trn_constant_count(), 190);
    for (size_t i = 0; i < trn_constant_count(); i++) {
        const trn_constant *c = trn_constant_at(i);
        cr_expect(isfinite(*c->value), "%s", c->key);
        cr_expect_eq(trn_constant_find(c->key), c, "%s stands twice", c->key);
        for (const char *p = c->formulas; *p;) {
            char name[64];
            size_t n = strcspn(p, " ");
            (void)snprintf(name, sizeof name, "%.*s", (int)n, p);
            cr_expect(trn_formula_find(name), "%s names %s", c->key, name);
            p += n + (p[n] == ' ');
        }
    }
}

/* derived: the other recollection of b lowers e_C by (1 - b' Dpw^(-1/3))/(1 - b Dpw^(-1/3)) */
Test(constants, a_printed_value_takes_the_place)
{
    trn_faults faults = {0};
    size_t taken = 0;
    size_t changed = 0;
    double before = e_c_of_cleanest_bath();
    cr_assert_eq(read_list("iso281.e_c.bath.13_10.b,0.6796,2007,A. Reader,2026-11-25\n"
                           "iso281.e_c.bath.13_10.c,0.0864,2007,A. Reader,2026-11-25\n"
                           "iso281.e_c.bath.15_12.c,,,,\n",
                           &faults, &taken, &changed),
                 TRN_OK);
    cr_expect_eq(taken, 2);
    cr_expect_eq(changed, 1);
    double root = cbrt(61.2);
    double ratio = (1 - 0.6796 / root) / (1 - 0.5796 / root);
    cr_expect_float_eq(e_c_of_cleanest_bath() / before, ratio, 1e-12);
    trn_buffer list = {0};
    trn_constants_csv(&list);
    cr_expect(strstr(list.text, "iso281.e_c.bath.13_10.b,ISO 281:2007,Annex A"));
    cr_expect(strstr(list.text, ",0.6796,1,compared,0.6796,2007,A. Reader,2026-11-25,"));
    trn_buffer_free(&list);
}

Test(constants, a_faulty_row_changes_nothing)
{
    static const struct {
        const char *rows, *says;
    } faulty[] = {
        {"iso281.e_c.bath.13_10.b,0.6796,2007,A. Reader,2026-11-25\nnobody.knows,1,2007,a,b\n",
         "there is no constant"},
        {"iso281.e_c.bath.13_10.b,67.96,2007,A. Reader,2026-11-25\n", "more than ten times"},
        {"iso281.e_c.bath.13_10.b,-0.6,2007,A. Reader,2026-11-25\n", "another sign"},
        {"iso281.e_c.bath.13_10.b,b,2007,A. Reader,2026-11-25\n", "not a number"},
        {"iso281.e_c.bath.13_10.b,0.6796,,A. Reader,2026-11-25\n", "names edition"},
        {"iso281.e_c.bath.13_10.b,0.6796,2007,a,b\niso281.e_c.bath.13_10.b,0.5,2007,a,b\n",
         "stands twice"},
    };
    double before = e_c_of_cleanest_bath();
    for (size_t i = 0; i < sizeof faulty / sizeof faulty[0]; i++) {
        trn_faults faults = {0};
        size_t taken = 0;
        size_t changed = 0;
        cr_expect_eq(read_list(faulty[i].rows, &faults, &taken, &changed), TRN_E_INPUT);
        cr_expect(faults.kept > 0 && strstr(faults.list[0].text, faulty[i].says), "row %zu: %s", i,
                  faults.kept ? faults.list[0].text : "");
        cr_expect_eq(taken, 0);
        cr_expect_eq(e_c_of_cleanest_bath(), before);
        trn_faults_free(&faults);
    }
}

/* A number in the column that only shows, or a text that would be cut, is said and not lost. */
Test(constants, nothing_typed_is_lost_without_a_word)
{
    static const struct {
        const char *row, *says;
    } rows[] = {
        {"iso281.e_c.bath.13_10.b,0.6796,,,,\n", "goes into printed_value"},
        {"iso281.e_c.bath.13_10.b,text,,,,\n", "goes into printed_value"},
        {"iso281.e_c.bath.13_10.b,,0.6796,"
         "a title of an edition that is longer than the sixty-three bytes that are kept of it,"
         "A. Reader,2026-11-25\n",
         "at most 63 are kept"},
        {"iso281.e_c.bath.13_10.b,,0.6796,2007,A. Reader,25th of November 2026\n",
         "at most 15 are kept"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char folder[SCRATCH_PATH];
        char path[SCRATCH_PATH + 32];
        char text[1024];
        trn_faults faults = {0};
        size_t taken = 0;
        size_t changed = 0;
        scratch_make(folder);
        (void)snprintf(text, sizeof text, "key,value,printed_value,edition,compared_by,date\n%s",
                       rows[i].row);
        scratch_write(folder, "constants.csv", text);
        (void)snprintf(path, sizeof path, "%s/constants.csv", folder);
        cr_expect_eq(trn_constants_read(path, &faults, &taken, &changed), TRN_E_INPUT, "%zu", i);
        cr_expect(faults.kept > 0 && strstr(faults.list[0].text, rows[i].says), "row %zu: %s", i,
                  faults.kept ? faults.list[0].text : "");
        cr_expect_eq(taken, 0);
        trn_faults_free(&faults);
        scratch_remove(folder);
    }
}
