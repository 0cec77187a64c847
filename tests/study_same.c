/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The same answer however a case is written down, mirrored, overridden, copied or evaluated again
 * (derived: none of these changes the machine). */
#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/units.h>

#include "scratch.h"
#include "study_case.h"
#include "support.h"

static const double pi = 3.14159265358979323846;

/* ---- the same case written otherwise ------------------------------------------------------ */

/* Compares a case with itself after an edit of its duty. */
static void same_after(const char *what, const char *duty)
{
    char folder[SCRATCH_PATH];
    scratch_make(folder);
    scratch_copy(folder, "cases/rotary_mower");
    trn_machine *m = scratch_case(folder);
    trn_results *a = study_evaluated(m);
    scratch_write(folder, "duty.csv", duty);
    trn_machine *n = scratch_case(folder);
    trn_results *b = study_evaluated(n);
    study_same_outcome(what, a, b, 1e-12, STUDY_BOTH);
    trn_results_free(a);
    trn_results_free(b);
    trn_machine_free(m);
    trn_machine_free(n);
    scratch_remove(folder);
}

#define DUTY_COLUMNS \
    ",pto_speed [rpm],power [kW],shock,position,ambient [degC],dust [mg/m3],humidity [%]," \
    "washes_per_100h\n"
#define GRASS "540,22,1.35,work,18,4,65,1\n"
#define STUBBLE "500,31,1.6,headland,29,22,40,0\n"

/* 14.4 */
Test(study, splitting_a_state_changes_nothing)
{
    same_after("split", "condition,share [%]" DUTY_COLUMNS "one,35," GRASS "two,35," GRASS
                        "stubble,30," STUBBLE);
}

Test(study, the_order_of_states_changes_nothing)
{
    same_after("order", "condition,share [%]" DUTY_COLUMNS "stubble,30," STUBBLE "grass,70," GRASS);
}

Test(study, hours_in_place_of_shares_change_nothing)
{
    same_after("hours",
               "condition,hours [h]" DUTY_COLUMNS "grass,126," GRASS "stubble,54," STUBBLE);
    same_after("minutes",
               "condition,hours [min]" DUTY_COLUMNS "grass,4200," GRASS "stubble,1800," STUBBLE);
}

Test(study, a_state_without_share_changes_nothing)
{
    same_after("share 0", "condition,share [%]" DUTY_COLUMNS "grass,70," GRASS "stubble,30," STUBBLE
                          "never,0,700,90,2,work,40,400,20,60\n");
}

/* Units of the tables and others for the same quantity. */
static const char *const inches[][2] = {
    {"mm", "in"},          {"kN", "lbf"},      {"kW", "hp"},        {"rpm", "rad/s"},
    {"degC", "degF"},      {"L", "gal"},       {"kg", "lb"},        {"m2", "ft2"},
    {"deg", "rad"},        {"g", "oz"},        {"h", "min"},        {"mm2/s", "ft2/s"},
    {"kg/m3", "lb/ft3"},   {"um", "in"},       {"kg.m2", "lb.ft2"}, {"m/s", "ft/s"},
    {"mg/m3", "g/ft3"},    {"W/m2", "hp/ft2"}, {"L/h", "gal/min"},  {"N.m/deg", "lbf.ft/deg"},
    {"W/m2/K", "W/ft2/K"}, {"mL", "in3"}};

static const char *other_unit(const char *unit)
{
    for (size_t i = 0; unit && i < sizeof inches / sizeof inches[0]; i++)
        if (strcmp(inches[i][0], unit) == 0)
            return inches[i][1];
    return NULL;
}

/* A cell in another unit, piece by piece where it is a list. */
static void put_converted(const char *cell, const char *from, const char *to, trn_buffer *out)
{
    while (*cell) {
        const char *end = NULL;
        double value = 0;
        cr_assert_eq(trn_text_number_start(cell, &value, &end), TRN_OK, "%s", cell);
        cr_assert_eq(trn_unit_value(value, from, to, &value), TRN_OK, "%s to %s", from, to);
        trn_buffer_print(out, "%.17g", value);
        cell = *end == '/' ? end + 1 : end;
        if (*end == '/')
            trn_buffer_add(out, "/");
    }
}

static size_t convert_table(const char *folder, const char *name)
{
    char path[SCRATCH_PATH];
    trn_faults faults = {0};
    trn_sheet *sheet = NULL;
    trn_buffer out = {0};
    size_t converted = 0;
    (void)snprintf(path, sizeof path, "%.200s/%.200s", folder, name);
    cr_assert_eq(trn_sheet_read(path, &faults, &sheet), TRN_OK);
    for (size_t r = 0; r <= sheet->rows; r++)
        for (size_t c = 0; c < sheet->columns; c++) {
            char *title = NULL;
            char *unit = NULL;
            cr_assert_eq(trn_header_split(sheet->header[c], &title, &unit), TRN_OK);
            const char *to = other_unit(unit);
            converted += r == 0 && to;
            if (r == 0 && to)
                trn_buffer_print(&out, "%s [%s]", title, to);
            else if (r == 0)
                trn_buffer_add(&out, sheet->header[c]);
            else if (to)
                put_converted(trn_sheet_cell(sheet, r - 1, c), unit, to, &out);
            else
                trn_buffer_print(&out, "\"%s\"", trn_sheet_cell(sheet, r - 1, c));
            trn_buffer_add(&out, c + 1 < sheet->columns ? "," : "\n");
            free(title);
            free(unit);
        }
    cr_assert(!out.failed);
    scratch_write(folder, name, out.text);
    trn_buffer_free(&out);
    trn_sheet_free(sheet);
    trn_faults_free(&faults);
    return converted;
}

Test(study, inches_and_millimetres_agree)
{
    static const char *const tables[] = {"shafts",  "positions", "geometry", "gearboxes",
                                         "axles",   "gears",     "bearings", "oils",
                                         "greases", "points",    "duty"};
    static const char *const both[] = {"cases/winged_shredder", "../sample-data/winged"};
    for (size_t k = 0; k < 2; k++) {
        char folder[SCRATCH_PATH];
        size_t converted = 0;
        scratch_make(folder);
        scratch_copy(folder, both[k]);
        trn_machine *m = scratch_case(folder);
        trn_results *a = study_evaluated(m);
        for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++) {
            char name[64];
            (void)snprintf(name, sizeof name, "%s.csv", tables[i]);
            converted += convert_table(folder, name);
        }
        cr_expect(converted > 50, "%zu columns", converted);
        trn_machine *n = scratch_case(folder);
        trn_results *b = study_evaluated(n);
        study_same_outcome("inch", a, b, 1e-9, STUDY_BOTH);
        for (size_t i = 0; i < m->duty_count * m->gearboxes_count; i++)
            study_same("oil temperature", a->heat[i].oil_temperature_c,
                       b->heat[i].oil_temperature_c, 1e-9);
        trn_results_free(a);
        trn_results_free(b);
        trn_machine_free(m);
        trn_machine_free(n);
        scratch_remove(folder);
    }
}

/* ---- symmetry ----------------------------------------------------------------------------- */

static void turn_other_way(trn_gear *g)
{
    if (g->rotation >= 0)
        g->rotation = 1 - g->rotation;
}

/* The machine as a mirror shows it: left and right hands, senses of turn and sides change. */
static void mirror(trn_machine *m)
{
    for (size_t i = 0; i < m->gears_count; i++) {
        trn_gear *g = &m->gears[i];
        g->hand = 1 - g->hand;
        g->azimuth = pi - g->azimuth; /* y to -y */
        turn_other_way(g);
    }
    for (size_t i = 0; i < m->positions_count; i++) {
        m->positions[i].drive_plan *= -1;
        m->positions[i].tube_plan *= -1;
        m->positions[i].driven_plan *= -1;
    }
    for (size_t i = 0; i < m->shafts_count; i++)
        m->shafts[i].yoke_error *= -1;
}

/* The same machine with every axle measured from its other end: x to -x, y to -y. */
static void from_other_end(trn_machine *m)
{
    for (size_t i = 0; i < m->gears_count; i++) {
        trn_gear *g = &m->gears[i];
        g->station = -g->station;
        g->azimuth = pi - g->azimuth;
        if (g->kind <= TRN_SPIRAL_BEVEL)
            g->apex = 1 - g->apex;
        else
            turn_other_way(g); /* seen from the other end */
    }
    for (size_t i = 0; i < m->bearings_count; i++) {
        trn_bearing *b = &m->bearings[i];
        b->station = -b->station;
        if (b->thrust == 1 || b->thrust == 2)
            b->thrust = 3 - b->thrust;
    }
}

static void check_symmetry(const char *what, void (*change)(trn_machine *))
{
    static const char *const names[] = {"cases/rotary_mower", "cases/winged_shredder",
                                        "../sample-data/winged"};
    for (size_t c = 0; c < sizeof names / sizeof names[0]; c++) {
        trn_machine *m = study_read(names[c]);
        trn_machine *n = trn_machine_copy(m);
        cr_assert_not_null(n);
        change(n);
        study_link_again(n);
        trn_results *a = study_evaluated(m);
        trn_results *b = study_evaluated(n);
        study_same_outcome(what, a, b, 1e-9, STUDY_BOTH);
        trn_results_free(a);
        trn_results_free(b);
        trn_machine_free(n);
        trn_machine_free(m);
    }
}

Test(study, the_mirrored_machine_lives_as_long)
{
    check_symmetry("mirrored", mirror);
}

Test(study, axles_may_be_measured_from_either_end)
{
    check_symmetry("other end", from_other_end);
}

/* Neither is an identity that holds whatever is changed. */
Test(study, a_wrong_hand_moves_the_thrust)
{
    trn_machine *m = study_read("../sample-data/winged");
    trn_machine *n = trn_machine_copy(m);
    cr_assert_not_null(n);
    for (size_t i = 0; i < n->gears_count; i++)
        n->gears[i].hand = 1 - n->gears[i].hand;
    study_link_again(n);
    trn_results *a = study_evaluated(m);
    trn_results *b = study_evaluated(n);
    size_t front = trn_find_bearing(m, "centre rotor in front");
    size_t head = trn_find_bearing(m, "centre rotor in head");
    const trn_bearing_row *right = &a->bearings[m->duty_count * m->bearings_count];
    const trn_bearing_row *wrong = &b->bearings[m->duty_count * m->bearings_count];
    cr_expect(wrong[front].l10h_h < right[front].l10h_h / 2, "front: %g against %g h",
              wrong[front].l10h_h, right[front].l10h_h);
    cr_expect(wrong[head].l10h_h > right[head].l10h_h, "head: %g against %g h", wrong[head].l10h_h,
              right[head].l10h_h);
    trn_results_free(a);
    trn_results_free(b);
    trn_machine_free(n);
    trn_machine_free(m);
}

/* ---- overrides, copies, repetition -------------------------------------------------------- */

static void same_text(const char *what, const trn_results *a, const trn_results *b)
{
    char *x = study_all_views(a);
    char *y = study_all_views(b);
    cr_expect_str_eq(x, y, "%s", what);
    free(x);
    free(y);
}

Test(study, an_override_equals_the_edited_case)
{
    char folder[SCRATCH_PATH];
    scratch_make(folder);
    scratch_copy(folder, "cases/rotary_mower");
    scratch_write(folder, "scenarios.csv",
                  "scenario,quantity,value\n"
                  "edited,duty.*.power,x1.5\n"
                  "edited,positions.work.main.tube_side,-13.25\n"
                  "edited,gearboxes.box.oil_volume,1.75\n"
                  "edited,points.crosses.manual_interval,16\n"
                  "edited,gears.*.module,5\n"
                  "edited,bearings.in_rear.C,120\n"
                  "edited,duty.stubble.position,work\n");
    trn_machine *m = scratch_case(folder);
    trn_machine *n = trn_machine_copy(m);
    trn_faults faults = {0};
    cr_assert_not_null(n);
    cr_assert_eq(trn_machine_scenario(n, "edited", &faults), TRN_OK);
    study_link_again(n);
    scratch_edit(folder, "duty.csv", "540,22,", "540,33,");
    scratch_edit(folder, "duty.csv", "500,31,", "500,46.5,");
    scratch_edit(folder, "duty.csv", "1.6,headland", "1.6,work");
    scratch_edit(folder, "positions.csv", "work,main,0,0,-9,", "work,main,0,0,-13.25,");
    scratch_edit(folder, "gearboxes.csv", "ep90,2.1,", "ep90,1.75,");
    scratch_edit(folder, "points.csv", "grease_joint,,10,", "grease_joint,,16,");
    scratch_edit(folder, "gears.csv", ",5.5,", ",5,");
    scratch_edit(folder, "bearings.csv", "box_in,tapered,78,91,", "box_in,tapered,78,120,");
    trn_machine *edited = scratch_case(folder);
    trn_results *a = study_evaluated(edited);
    trn_results *b = study_evaluated(n);
    same_text("edited", a, b);
    trn_results_free(a);
    trn_results_free(b);
    trn_machine_free(edited);
    trn_machine_free(n);
    trn_machine_free(m);
    scratch_remove(folder);
}

Test(study, a_copy_gives_the_results_of_the_original)
{
    for (size_t c = 0; c < STUDY_CASES; c++) {
        trn_machine *m = study_read(study_cases[c]);
        trn_machine *copy = trn_machine_copy(m);
        cr_assert_not_null(copy);
        trn_results *a = study_evaluated(m);
        trn_results *b = study_evaluated(copy);
        same_text(study_cases[c], a, b);
        study_link_again(copy); /* linking again changes nothing */
        cr_assert_eq(trn_study_evaluate(copy, TRN_WANT_ALL, b, NULL), TRN_OK);
        same_text(study_cases[c], a, b);
        trn_results_free(a);
        trn_results_free(b);
        trn_machine_free(copy);
        trn_machine_free(m);
    }
}

/* Results hold nothing of an earlier evaluation. */
Test(study, results_can_be_used_again)
{
    for (size_t c = 0; c < STUDY_CASES; c++) {
        trn_machine *m = study_read(study_cases[c]);
        trn_machine *other = study_changed(m, "duty.*.power", "x2.5");
        trn_results *a = study_evaluated(m);
        trn_results *b = study_evaluated(other);
        char *first = study_all_views(b);
        cr_assert_eq(trn_study_evaluate(m, TRN_WANT_ALL, b, NULL), TRN_OK);
        same_text(study_cases[c], a, b);
        char *second = study_all_views(b);
        if (m->gearboxes_count > 0)
            cr_expect_str_neq(first, second);
        free(first);
        free(second);
        trn_results_free(a);
        trn_results_free(b);
        trn_machine_free(other);
        trn_machine_free(m);
    }
}

/* Unknown is blank, never a word for no number. */
Test(study, no_result_is_written_as_nan)
{
    for (size_t c = 0; c < STUDY_CASES; c++) {
        trn_machine *m = study_read(study_cases[c]);
        trn_machine *idle = study_changed(m, "duty.*.power", "0");
        trn_results *a = study_evaluated(m);
        trn_results *b = study_evaluated(idle);
        char *texts[2] = {study_all_views(a), study_all_views(b)};
        for (size_t i = 0; i < 2; i++) {
            cr_expect(!strstr(texts[i], ",nan") && !strstr(texts[i], "NaN") &&
                          !strstr(texts[i], "-nan"),
                      "%s", study_cases[c]);
            free(texts[i]);
        }
        for (size_t i = 0; i < idle->bearings_count; i++)
            cr_expect(isinf(b->bearings[i].l10h_h), "%s without load: %g h",
                      idle->bearings[i].bearing, b->bearings[i].l10h_h);
        trn_results_free(a);
        trn_results_free(b);
        trn_machine_free(idle);
        trn_machine_free(m);
    }
}
