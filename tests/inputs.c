/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where inputs come from, what they rest on, what results stand on; SHA-256. Expectations are
 * those of docs/report.md unless a comment names another source. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/hash.h>
#include <trunnion/stands.h>

#include "../src/machine/rules.h"
#include "scratch.h"
#include "support.h"

typedef struct fixture {
    char folder[SCRATCH_PATH];
    trn_machine *base, *machine;
    trn_results *results;
    trn_trace trace;
    trn_inputs inputs;
    trn_stands stands;
} fixture;

static void open_case(fixture *f)
{
    memset(f, 0, sizeof *f);
    (void)gsl_set_error_handler_off();
    scratch_make(f->folder);
    scratch_copy(f->folder, "bad/case/base");
}

static void evaluate(fixture *f)
{
    f->results = trn_results_new(f->machine);
    cr_assert(f->results);
    cr_assert_eq(trn_study_evaluate(f->machine, TRN_WANT_ALL, f->results, &f->trace), TRN_OK);
    cr_assert_eq(trn_inputs_make(f->results, &f->trace, &f->inputs), TRN_OK);
    f->stands = (trn_stands){.results = f->results, .trace = &f->trace, .inputs = &f->inputs};
}

/* path NULL: nothing is set */
static void read_case(fixture *f, const char *path, const char *value)
{
    trn_faults faults = {0};
    f->base = scratch_case(f->folder);
    f->machine = trn_machine_copy(f->base);
    cr_assert(f->machine);
    if (path) {
        cr_assert_eq(trn_machine_set(f->machine, path, value, "--set", &faults), TRN_OK);
        cr_assert_eq(trn_machine_link(f->machine, &faults), TRN_OK);
    }
    evaluate(f);
}

static void close_case(fixture *f)
{
    trn_stands_free(&f->stands);
    trn_inputs_free(&f->inputs);
    trn_trace_free(&f->trace);
    trn_results_free(f->results);
    trn_machine_free(f->machine);
    trn_machine_free(f->base);
    scratch_remove(f->folder);
}

static const trn_input *input_of(const fixture *f, const char *path)
{
    size_t i = trn_inputs_find(&f->inputs, path);
    cr_assert_neq(i, TRN_NONE, "%s is no input", path);
    return &f->inputs.list[i];
}

static void expect_input(const fixture *f, const char *path, const char *value, const char *unit,
                         trn_origin_kind origin)
{
    const trn_input *in = input_of(f, path);
    cr_expect_str_eq(in->value, value, "%s: `%s`, wanted `%s`", path, in->value, value);
    cr_expect_str_eq(in->unit, unit, "%s: unit `%s`", path, in->unit);
    cr_expect_eq(in->origin, origin, "%s: %s, wanted %s", path, trn_origin_word(in->origin),
                 trn_origin_word(origin));
}

/* The base case by hand: shares 70 and 30 %, dust by class, no hours_per_year, no shock bounds. */
Test(inputs, each_cell_has_its_origin)
{
    fixture f;
    open_case(&f);
    read_case(&f, "gearboxes.box.oil_volume", "x1.5");
    expect_input(&f, "gearboxes.box.oil_volume", "3.15", "L", TRN_ORIGIN_OVERRIDE);
    expect_input(&f, "gearboxes.drum.oil_volume", "1.3", "L", TRN_ORIGIN_GIVEN);
    expect_input(&f, "gearboxes.drum.residual_oil", "10", "%", TRN_ORIGIN_DEFAULT);
    expect_input(&f, "duty.grass.share", "70", "%", TRN_ORIGIN_GIVEN);
    expect_input(&f, "duty.grass.humidity", "60", "%", TRN_ORIGIN_DEFAULT);
    expect_input(&f, "duty.grass.dust_class", "damp", "", TRN_ORIGIN_GIVEN);
    cr_expect_eq(input_of(&f, "duty.grass.dust")->origin, TRN_ORIGIN_COMPUTED);
    cr_expect_eq(input_of(&f, "duty.grass.ambient")->origin, TRN_ORIGIN_DEFAULT);
    expect_input(&f, "duty.grass.ambient", input_of(&f, "machine.ambient")->value, "degC",
                 TRN_ORIGIN_DEFAULT);
    /* keys and notes are no inputs */
    cr_expect_eq(trn_inputs_find(&f.inputs, "gearboxes.box.gearbox"), TRN_NONE);
    cr_expect_eq(trn_inputs_find(&f.inputs, "gearboxes.box.note"), TRN_NONE);
    close_case(&f);
}

/* derived: shares follow from hours; 90/(90 + 30) */
Test(inputs, shares_from_hours_are_computed)
{
    fixture f;
    open_case(&f);
    scratch_write(f.folder, "duty.csv",
                  "condition,hours [h],pto_speed [rpm],power [kW]\ngrass,90,540,22\n"
                  "stubble,30,500,31\n");
    read_case(&f, NULL, NULL);
    expect_input(&f, "duty.grass.share", "75", "%", TRN_ORIGIN_COMPUTED);
    expect_input(&f, "duty.grass.hours", "90", "h", TRN_ORIGIN_GIVEN);
    close_case(&f);
}

Test(inputs, the_list_is_as_long_as_the_case_and_each_path_once)
{
    fixture f;
    open_case(&f);
    read_case(&f, NULL, NULL);
    for (size_t i = 0; i < f.inputs.count; i++)
        cr_expect_eq(trn_inputs_find(&f.inputs, f.inputs.list[i].path), i, "%s",
                     f.inputs.list[i].path);
    trn_buffer csv = {0};
    trn_inputs_csv(&f.inputs, &csv);
    size_t lines = 0;
    for (size_t i = 0; i < csv.length; i++)
        lines += csv.text[i] == '\n';
    cr_expect_eq(lines, f.inputs.count + 1);
    cr_expect_eq(strncmp(csv.text, "path,value,unit,origin,basis,results\n", 37), 0);
    trn_buffer_free(&csv);
    close_case(&f);
}

Test(inputs, the_row_with_the_fewest_stars_holds)
{
    fixture f;
    open_case(&f);
    scratch_write(f.folder, "basis.csv",
                  "quantity,basis,plus_minus,date\n"
                  "gearboxes.box.oil_volume,measured,0.1 L,2026-05-14\n"
                  "gearboxes.*.oil_volume,manual,2 %,2026\n"
                  "duty.*.humidity,drawing,,\n");
    read_case(&f, "duty.grass.power", "25");
    cr_expect_eq(input_of(&f, "gearboxes.box.oil_volume")->basis, TRN_BASED_MEASURED);
    cr_expect_eq(input_of(&f, "gearboxes.drum.oil_volume")->basis, TRN_BASED_MANUAL);
    /* a blank cell with a row rests on what the row says, without one it is assumed */
    cr_expect_eq(input_of(&f, "duty.grass.humidity")->basis, TRN_BASED_DRAWING);
    cr_expect_eq(input_of(&f, "duty.grass.sun")->basis, TRN_BASED_ASSUMED);
    cr_expect_eq(input_of(&f, "duty.stubble.power")->basis, TRN_BASED_STATED);
    cr_expect_eq(input_of(&f, "duty.grass.power")->basis, TRN_BASED_ASSUMED);
    close_case(&f);
}

/* What was measured is not what an override puts there. */
Test(inputs, an_override_takes_the_basis_away)
{
    fixture f;
    open_case(&f);
    scratch_write(f.folder, "basis.csv", "quantity,basis\nduty.*.power,measured\n");
    read_case(&f, "duty.grass.power", "25");
    cr_expect_eq(input_of(&f, "duty.grass.power")->basis, TRN_BASED_ASSUMED);
    cr_expect_eq(input_of(&f, "duty.stubble.power")->basis, TRN_BASED_MEASURED);
    close_case(&f);
}

static void expect_uses(fixture *f, const char *address, const char *path, bool wanted)
{
    const trn_stand *stand = trn_stands_of(&f->stands, address);
    cr_assert_not_null(stand, "%s has no chain", address);
    size_t i = trn_inputs_find(&f->inputs, path);
    cr_assert_neq(i, TRN_NONE, "%s", path);
    cr_expect_eq(stand->uses[i], wanted, "%s %s %s", address,
                 wanted ? "does not stand on" : "stands on", path);
}

/* derived: T = P/omega and the angles go into a cross's life, and nothing of a gearbox does */
Test(inputs, a_result_stands_on_the_cells_of_its_chain)
{
    fixture f;
    open_case(&f);
    read_case(&f, NULL, NULL);
    expect_uses(&f, "joints.grass.main", "duty.grass.power", true);
    expect_uses(&f, "joints.grass.main", "duty.grass.pto_speed", true);
    expect_uses(&f, "joints.grass.main", "duty.stubble.power", false);
    expect_uses(&f, "joints.grass.main", "gearboxes.box.oil_volume", false);
    cr_assert_eq(trn_stands_count(&f.stands, &f.inputs), TRN_OK);
    cr_expect_gt(input_of(&f, "duty.grass.power")->used, 1);
    cr_expect_eq(input_of(&f, "machine.name")->used, 0);
    close_case(&f);
}

/* Adds a row for each input of a result but one. */
static void all_measured_but(const fixture *f, const trn_stand *stand, size_t odd,
                             const char *basis)
{
    trn_buffer text = {0};
    trn_buffer_add(&text, "quantity,basis\n");
    for (size_t i = 0; i < f->inputs.count; i++)
        if (stand->uses[i])
            trn_buffer_print(&text, "%s,%s\n", f->inputs.list[i].path,
                             i == odd ? basis : "measured");
    scratch_write(f->folder, "basis.csv", text.text);
    trn_buffer_free(&text);
}

/* Every input of a result in turn is the weakest one. */
Test(inputs, the_weakest_input_is_named)
{
    static const char address[] = "joints.grass.main";
    fixture first;
    open_case(&first);
    read_case(&first, NULL, NULL);
    const trn_stand *all = trn_stands_of(&first.stands, address);
    cr_assert_not_null(all);
    cr_expect_gt(all->count, 5);
    size_t tried = 0;
    for (size_t odd = 0; odd < first.inputs.count; odd++) {
        fixture f;
        if (!all->uses[odd])
            continue;
        open_case(&f);
        const fixture written = {.inputs = first.inputs};
        fixture target = written;
        memcpy(target.folder, f.folder, sizeof target.folder);
        all_measured_but(&target, all, odd, tried % 2 ? "catalogue" : "stated");
        read_case(&f, NULL, NULL);
        const trn_stand *stand = trn_stands_of(&f.stands, address);
        cr_assert_not_null(stand);
        cr_expect_eq(stand->weakest, odd, "%s, wanted %s", f.inputs.list[stand->weakest].path,
                     first.inputs.list[odd].path);
        cr_expect_eq(stand->as_weak, 1);
        cr_expect_eq(stand->count, all->count);
        close_case(&f);
        tried++;
    }
    cr_expect_gt(tried, 5);
    close_case(&first);
}

/* Results of a case with everything in it have chains with inputs in them. */
Test(inputs, results_stand_on_something)
{
    fixture f;
    memset(&f, 0, sizeof f);
    (void)gsl_set_error_handler_off();
    scratch_make(f.folder);
    scratch_copy(f.folder, "cases/working");
    read_case(&f, NULL, NULL);
    const trn_machine *m = f.machine;
    cr_assert_eq(trn_stands_count(&f.stands, &f.inputs), TRN_OK);
    for (size_t i = 0; i < f.stands.count; i++) {
        const char *column = strrchr(f.stands.list[i].address, '.'); /* whole rows: two points */
        const char *key = strchr(f.stands.list[i].address, '.');
        if (strncmp(f.stands.list[i].address, "heat.", 5) == 0 && strchr(key + 1, '.') == column)
            cr_expect_gt(f.stands.list[i].count, 3, "%s: %zu inputs", f.stands.list[i].address,
                         f.stands.list[i].count);
    }
    for (size_t i = 0; i < m->gearboxes_count; i++) {
        char address[200];
        (void)snprintf(address, sizeof address, "gearbox_life.%s", m->gearboxes[i].gearbox);
        const trn_stand *stand = trn_stands_of(&f.stands, address);
        cr_assert_not_null(stand, "%s", address);
        cr_expect_gt(stand->count, 10, "%s: %zu inputs", address, stand->count);
    }
    cr_expect_null(trn_stands_of(&f.stands, "heat.grass.none"));
    cr_expect_null(trn_stands_of(&f.stands, "fit.main"));
    close_case(&f);
}

/* published: ISO 8601 calendar dates, 5.2.1; the rules of leap years */
Test(inputs, dates_are_those_of_iso_8601)
{
    static const char *const good[] = {"2026", "2026-05", "2026-05-14", "2024-02-29",
                                       "2000-02-29", "2026-05-14T08:30", "2026-05-14T08:30:59Z",
                                       "2026-05-14T08:30+02:00"};
    static const char *const bad[] = {"", "26-05-14", "2026-13", "2026-00", "2026-02-29",
                                      "1900-02-29", "2026-04-31", "2026-5-4", "14.5.2026",
                                      "2026/05/14", "2026-05-14 08:30", "2026-05-14T24:30",
                                      "2026-05-14T08", "2026-05-14x", "2026-05-14T08:30+2"};
    for (size_t i = 0; i < sizeof good / sizeof good[0]; i++)
        cr_expect(trn_is_iso_date(good[i]), "%s", good[i]);
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++)
        cr_expect_not(trn_is_iso_date(bad[i]), "%s", bad[i]);
}

/* published: FIPS 180-4, examples of the secure hash standard (one block, two blocks, empty) */
Test(inputs, sha256_gives_the_standards_examples)
{
    static const struct {
        const char *text, *hash;
    } rows[] = {
        {"abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"},
        {"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
         "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"},
        {"", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"},
    };
    char hash[TRN_SHA256_TEXT];
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        trn_sha256(rows[i].text, strlen(rows[i].text), hash);
        cr_expect_str_eq(hash, rows[i].hash);
    }
    char folder[SCRATCH_PATH];
    char path[2 * SCRATCH_PATH];
    scratch_make(folder);
    scratch_write(folder, "abc.csv", "abc");
    (void)snprintf(path, sizeof path, "%s/abc.csv", folder);
    cr_expect_eq(trn_sha256_file(path, hash), TRN_OK);
    cr_expect_str_eq(hash, rows[0].hash);
    char untouched[TRN_SHA256_TEXT] = "as it was";
    (void)snprintf(path, sizeof path, "%s/none.csv", folder);
    cr_expect_eq(trn_sha256_file(path, untouched), TRN_E_IO);
    cr_expect_str_eq(untouched, "as it was");
    scratch_remove(folder);
}
