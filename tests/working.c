/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/draws.h>
#include <trunnion/interval_rows.h>
#include <trunnion/units.h>
#include <trunnion/working.h>

#include "support.h"

/* The invented case tests/cases/working: wide-angle main shaft, a wing by its dimensions, an idler
 * axle, a measured oil temperature, dirt from the dust, a condition without power. */
typedef struct fixture {
    trn_machine *machine;
    trn_results *results;
    trn_trace trace;
} fixture;

static fixture evaluated(void)
{
    fixture f = {NULL, NULL, {0}};
    char path[512];
    trn_faults faults = {0};
    (void)gsl_set_error_handler_off();
    (void)snprintf(path, sizeof path, "%s/cases/working", test_root());
    cr_assert_eq(trn_machine_read(path, &faults, &f.machine), TRN_OK, "%s",
                 faults.kept ? faults.list[0].text : "");
    f.results = trn_results_new(f.machine);
    cr_assert(f.results);
    (void)trn_study_evaluate(f.machine, TRN_WANT_ALL, f.results, &f.trace);
    trn_faults_free(&faults);
    return f;
}

static void finish(fixture *f)
{
    trn_trace_free(&f->trace);
    trn_results_free(f->results);
    trn_machine_free(f->machine);
}

static const char *const files[] = {"joints", "heat", "bearing_lives", "gearbox_life",
                                    "intervals"};
enum { FILES = sizeof files / sizeof files[0] };

static double value_at(const fixture *f, const trn_working_place *a, const trn_field *field)
{
    double value = NAN;
    memcpy(&value, (const char *)a->view->row(f->results, a->row) + field->offset, sizeof value);
    return value;
}

static bool is_number(const trn_field *field)
{
    return field->kind == TRN_FIELD_NUMBER || field->kind == TRN_FIELD_LIFE;
}

typedef void (*visit)(const fixture *f, const trn_working_place *address, const char *name);

/* Every number of every result file with a working. */
static void each_cell(const fixture *f, visit what)
{
    for (size_t i = 0; i < FILES; i++) {
        const trn_view *view = trn_view_find(files[i]);
        for (size_t row = 0; row < view->rows(f->results); row++)
            for (size_t c = 0; c < view->field_count; c++) {
                trn_working_place address = {view, row, &view->fields[c]};
                trn_buffer name = {0};
                if (!is_number(address.field) || isnan(value_at(f, &address, address.field)))
                    continue;
                trn_working_place_text(f->results, &address, &name);
                cr_assert(name.text);
                what(f, &address, name.text);
                trn_buffer_free(&name);
            }
    }
}

/* ---- the end of a chain ------------------------------------------------------------------- */

/* derived: what the last step gives, in the unit of the column, is what the file shows */
static void ends_at_the_value(const fixture *f, const trn_working_place *address, const char *name)
{
    trn_working *w = NULL;
    cr_assert_eq(trn_working_make(f->results, &f->trace, address, &w), TRN_OK);
    cr_assert_eq(w->end_count, 1);
    double value = value_at(f, address, address->field);
    const trn_from *from = &w->ends[0].from;
    cr_expect(w->ends[0].value == value || isinf(value), "%s", name);
    if (isfinite(value))
        cr_expect_neq(from->kind, TRN_FROM_NOWHERE, "%s: no step gives %.12g", name, value);
    if (from->kind == TRN_FROM_STEP) {
        const trn_note *note = &f->trace.list[from->note];
        const trn_symbol *out = &note->formula->outputs[from->output];
        double got = NAN;
        cr_expect_eq(trn_unit_value(note->out[from->output], out->si,
                                    address->field->unit ? address->field->unit : "1", &got),
                     TRN_OK);
        if (strcmp(note->stage, "position") == 0)
            got = fabs(got); /* a layout gives angles with a sign */
        cr_expect(test_near(got, value, 1e-9), "%s: step %s gives %.12g, wanted %.12g", name,
                  note->formula->name, got, value);
        cr_expect(trn_working_number(w, note) > 0, "%s: the last step is not in the chain", name);
    }
    trn_working_free(w);
}

Test(working, last_step_gives_the_shown_value)
{
    fixture f = evaluated();
    each_cell(&f, ends_at_the_value);
    finish(&f);
}

/* ---- steps -------------------------------------------------------------------------------- */

/* derived: the steps stand in an order in which each needs only those before it, each once, and
 * every input says where it came from */
static void is_whole(const fixture *f, const trn_working_place *address, const char *name)
{
    trn_working *w = NULL;
    cr_assert_eq(trn_working_make(f->results, &f->trace, address, &w), TRN_OK);
    for (size_t i = 0; i < w->count; i++) {
        const trn_working_step *step = &w->steps[i];
        const trn_formula *formula = step->note->formula;
        cr_expect(i == 0 || step->note > w->steps[i - 1].note, "%s: step %zu", name, i + 1);
        for (size_t k = 0; k < formula->input_count; k++) {
            const trn_from *from = &step->from[k];
            bool optional = isnan(step->note->in[k]) && formula->inputs[k].fallback &&
                            !formula->inputs[k].fallback[0];
            cr_expect(optional || from->kind != TRN_FROM_NOWHERE,
                      "%s: step %zu %s: nothing is known of %s = %.12g", name, i + 1,
                      formula->name, formula->inputs[k].name, step->note->in[k]);
            if (from->kind != TRN_FROM_STEP)
                continue;
            size_t number = trn_working_number(w, &f->trace.list[from->note]);
            cr_expect(number > 0 && number <= i, "%s: step %zu takes from step %zu", name, i + 1,
                      number);
        }
    }
    trn_working_free(w);
}

Test(working, every_input_has_an_origin_before_it)
{
    fixture f = evaluated();
    each_cell(&f, is_whole);
    finish(&f);
}

/* derived: a step is its formula, so its inputs give its outputs again */
Test(working, outputs_follow_from_the_inputs)
{
    fixture f = evaluated();
    size_t compared = 0;
    cr_assert(f.trace.count > 1000);
    for (size_t i = 0; i < f.trace.count; i++) {
        const trn_note *n = &f.trace.list[i];
        double out[TRN_OUTPUTS_MAX];
        trn_status status = trn_formula_numbers(n->formula, n->in, out);
        cr_expect_eq(status, n->status, "%s", n->formula->name);
        for (size_t k = 0; status >= 0 && k < n->formula->output_count; k++)
            if (!isnan(n->out[k])) {
                compared++;
                cr_expect(out[k] == n->out[k] || test_near(out[k], n->out[k], 1e-12),
                          "%s %s: got %.15g, wanted %.15g", n->formula->name,
                          n->formula->outputs[k].name, out[k], n->out[k]);
            }
    }
    cr_expect(compared > 3000, "%zu", compared);
    finish(&f);
}

/* derived: a trace takes notes and changes nothing */
Test(working, trace_changes_no_number)
{
    fixture f = evaluated();
    trn_results *plain = trn_results_new(f.machine);
    cr_assert(plain);
    (void)trn_study_evaluate(f.machine, TRN_WANT_ALL, plain, NULL);
    for (size_t i = 0; i < FILES; i++) {
        trn_buffer with = {0};
        trn_buffer without = {0};
        trn_view_csv(trn_view_find(files[i]), f.results, NULL, true, &with);
        trn_view_csv(trn_view_find(files[i]), plain, NULL, true, &without);
        cr_expect_str_eq(with.text, without.text);
        trn_buffer_free(&with);
        trn_buffer_free(&without);
    }
    trn_results_free(plain);
    finish(&f);
}

/* derived: cells and results named as origins are there, and hold the value of the input */
static void origins_hold(const fixture *f, const trn_working_place *address, const char *name)
{
    trn_working *w = NULL;
    cr_assert_eq(trn_working_make(f->results, &f->trace, address, &w), TRN_OK);
    for (size_t i = 0; i < w->count; i++) {
        const trn_note *n = w->steps[i].note;
        for (size_t k = 0; k < n->formula->input_count; k++) {
            const trn_from *from = &w->steps[i].from[k];
            const trn_symbol *symbol = &n->formula->inputs[k];
            double value = NAN;
            const char *unit = "1";
            if (from->kind == TRN_FROM_RESULT) {
                trn_working_place other;
                trn_buffer why = {0};
                cr_assert_eq(trn_working_find(f->results, from->text, &other, &why), TRN_OK,
                             "%s: %s", name, from->text);
                trn_buffer_free(&why);
                value = value_at(f, &other, other.field);
                unit = other.field->unit ? other.field->unit : "1";
            } else if (from->kind == TRN_FROM_STEP) {
                const trn_note *other = &f->trace.list[from->note];
                value = from->part * other->out[from->output];
                unit = other->formula->outputs[from->output].si;
                if (strcmp(other->stage, "position") == 0)
                    value = fabs(value);
                if (symbol->kind == TRN_WORD) /* a class from a code */
                    continue;
            } else {
                continue;
            }
            cr_expect_eq(trn_unit_value(value, unit, symbol->si, &value), TRN_OK);
            cr_expect(test_near(value, n->in[k], 1e-9), "%s: step %zu %s: %.12g is not %.12g",
                      name, i + 1, symbol->name, value, n->in[k]);
        }
    }
    trn_working_free(w);
}

Test(working, origins_hold_the_value)
{
    fixture f = evaluated();
    each_cell(&f, origins_hold);
    finish(&f);
}

/* ---- addresses ---------------------------------------------------------------------------- */

static void round_trip(const fixture *f, const trn_working_place *address, const char *name)
{
    trn_working_place again;
    trn_buffer why = {0};
    cr_expect_eq(trn_working_find(f->results, name, &again, &why), TRN_OK, "%s: %s", name,
                 why.text ? why.text : "");
    cr_expect(again.view == address->view && again.row == address->row &&
                  again.field == address->field,
              "%s", name);
    trn_buffer_free(&why);
}

Test(working, addresses_round_trip)
{
    fixture f = evaluated();
    each_cell(&f, round_trip);
    finish(&f);
}

Test(working, short_addresses)
{
    static const char *const pairs[][2] = {
        {"bearing_lives.s_out_a", "bearing_lives.all.s_out_a"},
        {"bearing_lives.s_out_a.Lnmh", "bearing_lives.all.s_out_a.Lnmh"},
        {"joints.main.life_in", "joints.all.main.life_in"},
        {"joints.dry stalks.left.torque", "joints.dry stalks.left.slope.torque"},
        {"joints.main.folded", "joints.main.folded"},
        {"intervals.side oil.nominal", "intervals.side oil.change_oil.nominal"},
        {"gearbox_life.side", "gearbox_life.side"},
    };
    fixture f = evaluated();
    for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++) {
        trn_working_place address;
        trn_buffer why = {0};
        trn_buffer full = {0};
        cr_assert_eq(trn_working_find(f.results, pairs[i][0], &address, &why), TRN_OK, "%s: %s",
                     pairs[i][0], why.text ? why.text : "");
        trn_working_place_text(f.results, &address, &full);
        cr_expect_str_eq(full.text, pairs[i][1]);
        trn_buffer_free(&full);
        trn_buffer_free(&why);
    }
    finish(&f);
}

Test(working, refused_addresses_name_the_nearest)
{
    static const struct {
        const char *text;
        int status;
        const char *named;
    } rows[] = {
        {"", TRN_E_USAGE, "file.keys.column"},
        {"heat..centre", TRN_E_USAGE, "file.keys.column"},
        {"haet.idle.side.mesh", TRN_E_USAGE, "`heat`"},
        {"plan.15", TRN_E_USAGE, "`joints`"},
        {"heat.idle.side.mush", TRN_E_USAGE, "`mesh`"},
        {"heat.idle.side.remark", TRN_E_USAGE, "remark"},
        {"gearbox_life.side.weakest", TRN_E_USAGE, "`L10h`"},
        {"gearbox_life.side.Lnmh_low", TRN_E_USAGE, "of the medians is `Lnmh`"},
        {"gearbox_life.side.reliability_high", TRN_E_USAGE, "is `reliability_at_design_life`"},
        {"heat.idle.*.mesh", TRN_E_INPUT, "a working is of one"},
        {"heat.dry.centre.mesh", TRN_E_INPUT, "`dry stalks`"},
        {"heat.centre.mesh", TRN_E_INPUT, "`heat.dry stalks.centre.mesh`"},
        {"bearing_lives.all.s_out_c", TRN_E_INPUT, "`s_out_a`"},
        {"joints.idle", TRN_E_INPUT, "`joints.idle.main`"},
        {"intervals.left shaft", TRN_E_INPUT, "`intervals.left shaft.grease_tube`"},
        {"intervals.left shaft.nominal", TRN_E_INPUT, "`intervals.left shaft.grease_joint.nominal`"},
    };
    fixture f = evaluated();
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        trn_working_place address = {NULL, 4711, NULL};
        trn_buffer why = {0};
        cr_expect_eq(trn_working_find(f.results, rows[i].text, &address, &why), rows[i].status,
                     "%s", rows[i].text);
        cr_expect(why.text && strstr(why.text, rows[i].named), "%s: %s does not name %s",
                  rows[i].text, why.text ? why.text : "", rows[i].named);
        cr_expect(address.view == NULL && address.row == 4711);
        trn_buffer_free(&why);
    }
    cr_expect_eq(trn_working_wanted("heat.x"), TRN_WANT_JOINTS | TRN_WANT_HEAT);
    cr_expect_eq(trn_working_wanted("intervals"), TRN_WANT_ALL);
    cr_expect_eq(trn_working_wanted("plan.1"), 0);
    finish(&f);
}

/* ---- what is printed ---------------------------------------------------------------------- */

static trn_working *working_of(const fixture *f, const char *text)
{
    trn_working_place address;
    trn_buffer why = {0};
    trn_working *w = NULL;
    cr_assert_eq(trn_working_find(f->results, text, &address, &why), TRN_OK, "%s",
                 why.text ? why.text : "");
    cr_assert_eq(trn_working_make(f->results, &f->trace, &address, &w), TRN_OK);
    trn_buffer_free(&why);
    return w;
}

/* A life over the duty is worked in full for one condition and names the others. */
Test(working, over_the_duty_one_condition_in_full)
{
    fixture f = evaluated();
    trn_working *w = working_of(&f, "bearing_lives.c_cross_b.Lnmh");
    trn_buffer text = {0};
    cr_expect_str_eq(w->worked, "severe mulch");
    trn_working_text(w, &f.trace, 100, &text);
    cr_expect(strstr(text.text, "in full for `severe mulch`"));
    cr_expect(strstr(text.text, "--working bearing_lives.damp grass.c_cross_b.Lnmh"));
    cr_expect(strstr(text.text, "--working bearing_lives.dry stalks.c_cross_b.Lnmh"));
    cr_expect(!strstr(text.text, "--working bearing_lives.severe mulch.c_cross_b"));
    cr_expect(strstr(text.text, "bearings.c_cross_b.C\n"));
    cr_expect(strstr(text.text, "Sources\n") && strstr(text.text, "ISO281: ISO 281:2007"));
    cr_expect(w->count > 20 && w->count < 100, "%zu steps", w->count);
    trn_buffer_free(&text);
    trn_working_free(w);
    finish(&f);
}

/* Lines as wide as asked for, but for what has no blank to break at. */
Test(working, text_keeps_its_width)
{
    fixture f = evaluated();
    trn_working *w = working_of(&f, "heat.dry stalks.centre");
    trn_buffer text = {0};
    trn_working_text(w, &f.trace, 100, &text);
    for (const char *p = text.text; *p;) {
        size_t n = strcspn(p, "\n");
        cr_expect(n <= 100, "%.*s", (int)n, p);
        p += n + (p[n] == '\n');
    }
    trn_buffer_free(&text);
    trn_working_free(w);
    finish(&f);
}

/* derived: numbers of the CSV are those of the notes, to the 12 digits of every CSV */
static double twelve_digits(double x)
{
    char text[64];
    double value = NAN;
    trn_text_of_number(x, text, sizeof text);
    cr_expect_eq(trn_text_number(text, &value), TRN_OK);
    cr_expect(test_near(value, x, 1e-11), "%.17g", x);
    return value;
}

Test(working, csv_has_twelve_digits)
{
    static const char head[] = "step,formula,role,symbol,value,unit,from,source,standing\n";
    fixture f = evaluated();
    trn_working *w = working_of(&f, "heat.dry stalks.side.oil_temperature");
    trn_buffer csv = {0};
    trn_sheet *sheet = NULL;
    trn_faults faults = {0};
    trn_working_csv(w, &f.trace, true, &csv);
    cr_assert(strncmp(csv.text, head, strlen(head)) == 0);
    cr_assert_eq(trn_sheet_parse("working", csv.text, csv.length, &faults, &sheet), TRN_OK, "%s",
                 faults.kept ? faults.list[0].text : "");
    size_t compared = 0;
    for (size_t r = 0; r < sheet->rows; r++) {
        double number = 0;
        double value = 0;
        if (trn_sheet_number(sheet, trn_sheet_cell(sheet, r, 0), &number) != TRN_OK) {
            cr_expect_str_eq(trn_sheet_cell(sheet, r, 1), "heat.dry stalks.side");
            cr_expect_str_eq(trn_sheet_cell(sheet, r, 2), "result");
            cr_expect_eq(trn_sheet_number(sheet, trn_sheet_cell(sheet, r, 4), &value), TRN_OK);
            cr_expect_eq(value, twelve_digits(w->ends[0].value));
            continue;
        }
        const trn_note *n = w->steps[(size_t)number - 1].note;
        cr_expect_str_eq(trn_sheet_cell(sheet, r, 1), n->formula->name);
        if (strcmp(trn_sheet_cell(sheet, r, 2), "output") != 0)
            continue;
        for (size_t k = 0; k < n->formula->output_count; k++) {
            const trn_symbol *out = &n->formula->outputs[k];
            if (strcmp(out->name, trn_sheet_cell(sheet, r, 3)) != 0 || out->kind != TRN_NUMBER)
                continue;
            cr_expect_eq(trn_sheet_number(sheet, trn_sheet_cell(sheet, r, 4), &value), TRN_OK);
            cr_expect_eq(value, twelve_digits(trn_formula_shown(out, n->out[k])), "%s: got %.17g",
                         out->name, value);
            compared++;
        }
    }
    cr_expect(compared > 40, "%zu", compared);
    trn_sheet_free(sheet);
    trn_faults_free(&faults);
    trn_buffer_free(&csv);
    trn_working_free(w);
    finish(&f);
}

/* derived: with draws the table's own steps lead to the recommended interval */
Test(working, drawn_intervals_end_at_the_table)
{
    static const char *const columns[] = {"recommended", "shortening", "times_per_year",
                                          "first_change"};
    fixture f = evaluated();
    trn_draw_plan plan = {.draws = 300, .seed = 7, .jobs = 1};
    trn_faults faults = {0};
    size_t shorter = 0;
    cr_assert_eq(trn_study_draws(f.results, &plan, false, &faults), TRN_OK);
    trn_working_note_drawn(f.results, &f.trace);
    for (size_t i = 0; i < f.machine->points_count; i++) {
        trn_working_place place = {trn_view_find("intervals"), i, NULL};
        const trn_point_row *row = &f.results->points[i];
        shorter += row->at_risk_h < 0.9 * row->nominal_h;
        for (size_t c = 0; c < 4; c++)
            for (size_t k = 0; k < place.view->field_count; k++)
                if (strcmp(place.view->fields[k].name, columns[c]) == 0) {
                    place.field = &place.view->fields[k];
                    if (!isnan(value_at(&f, &place, place.field)))
                        ends_at_the_value(&f, &place, columns[c]);
                }
    }
    cr_expect(shorter > 3, "%zu", shorter);
    trn_faults_free(&faults);
    finish(&f);
}

/* A trace that is not whole gives no chain rather than a part of one. */
Test(working, a_trace_that_ran_out_of_memory_is_refused)
{
    fixture f = evaluated();
    trn_working_place address = {trn_view_find("heat"), 0, NULL};
    trn_working *w = NULL;
    f.trace.failed = true;
    cr_expect_eq(trn_working_make(f.results, &f.trace, &address, &w), TRN_E_MEMORY);
    cr_expect_null(w);
    finish(&f);
}

/* ---- entries of the catalogue that workings need ------------------------------------------ */

/* derived: every example evaluates, and what is out of range or left out is refused */
Test(working, entries_evaluate_their_example)
{
    static const char *const names[] = {
        "power.speed", "power.share", "power.shock", "joint.cross_angle", "shaft.steady_ripple",
        "oil.dynamic_viscosity", "oil.mean_dust", "bearing.kappa", "bearing.ripple_load",
        "bearing.stress_ratio", "bearing.adjusted_life", "bearing.mean_factor",
        "bearing.system_survival", "gear.diameter", "gear.level", "axle.add_load",
        "axle.attached_couple", "axle.radial_load", "axle.thrust_case", "loss.sum",
        "heat.temperature", "heat.time_constant", "interval.least", "interval.allowed",
        "interval.own_step", "interval.yearly", "interval.shortening", "interval.first_wanted",
        "interval.first_change", "interval.below_clock", "interval.cross_load",
        "interval.bearing_load", "interval.motion", "interval.point_temperature"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        const trn_formula *f = trn_formula_find(names[i]);
        cr_assert(f, "%s", names[i]);
        char example[512];
        const char *pairs[TRN_INPUTS_MAX];
        size_t n = 0;
        trn_answer answer;
        (void)snprintf(example, sizeof example, "%s", f->example);
        for (char *p = example; *p && n < TRN_INPUTS_MAX;) {
            pairs[n++] = p;
            p += strcspn(p, " ");
            if (*p)
                *p++ = '\0';
        }
        cr_expect_eq(trn_formula_evaluate(f, pairs, n, &answer), TRN_OK, "%s: %s", names[i],
                     answer.why);
        double out[TRN_OUTPUTS_MAX];
        double in[TRN_INPUTS_MAX];
        for (size_t k = 0; k < TRN_OUTPUTS_MAX; k++)
            out[k] = 4711;
        for (size_t k = 0; k < TRN_INPUTS_MAX; k++)
            in[k] = -INFINITY;
        if (f->input_count < 2 || f->inputs[1].kind != TRN_WORD) {
            cr_expect(trn_formula_numbers(f, in, out) < 0, "%s", names[i]);
            cr_expect_eq(out[0], 4711, "%s", names[i]);
        }
        for (size_t k = 0; k < TRN_INPUTS_MAX; k++)
            in[k] = NAN;
        cr_expect(trn_formula_numbers(f, in, out) < 0, "%s", names[i]);
        cr_expect_eq(out[0], 4711, "%s", names[i]);
    }
}

static double evaluate(const char *name, const char *const *pairs, size_t n)
{
    trn_answer answer;
    cr_expect(trn_formula_evaluate(trn_formula_find(name), pairs, n, &answer) >= 0, "%s %s", name,
              answer.why);
    return answer.out[0].x;
}

/* derived: survival of two is the product of each */
Test(working, system_survival_is_a_product)
{
    const char *both[] = {"t=2385h", "a1=0.64", "L1=8210h", "L2=5140h"};
    const char *first[] = {"t=2385h", "a1=0.64", "L1=8210h"};
    const char *second[] = {"t=2385h", "a1=0.64", "L1=5140h"};
    double product = evaluate("bearing.system_survival", first, 3) *
                     evaluate("bearing.system_survival", second, 3);
    cr_expect(test_near(evaluate("bearing.system_survival", both, 4), product, 1e-14));
}

/* derived: the shares of the nine cases of two shafts add up to 1, thrusts to nothing on average */
Test(working, thrust_cases_are_complete)
{
    double share = 0;
    double mean = 0;
    for (int i = -1; i <= 1; i++)
        for (int k = -1; k <= 1; k++) {
            double in[] = {1234.5, 861.3, i, 0.153, 517.9, k, 0.087, 1.35};
            double out[2] = {0, 0};
            const trn_formula *f = trn_formula_find("axle.thrust_case");
            cr_assert_eq(trn_formula_numbers(f, in, out), TRN_OK);
            share += out[1];
            mean += out[1] * out[0];
        }
    cr_expect(test_near(share, 1, 1e-14));
    cr_expect(test_near(mean, 1234.5, 1e-13));
}

/* derived: inch against mm */
Test(working, gear_level_in_inch)
{
    const char *metric[] = {"d=137.5mm", "m=5.5mm", "delta=52.8deg", "dip=36.32mm"};
    const char *inch[] = {"d=5.413385826771654inch", "m=0.216535433070866inch",
                          "delta=0.921533845053006rad", "dip=1.429921259842520inch"};
    cr_expect(test_near(evaluate("gear.level", metric, 4), evaluate("gear.level", inch, 4), 1e-12));
}

/* derived: sixteen levels of a duty, and none but the first */
Test(working, duty_life_takes_sixteen_levels)
{
    double in[32];
    double out[1] = {NAN};
    for (size_t i = 0; i < 16; i++) {
        in[i] = 1.0 / 16;
        in[16 + i] = 2385;
    }
    cr_assert_eq(trn_formula_numbers(trn_formula_find("bearing.duty_life"), in, out), TRN_OK);
    cr_expect(test_near(out[0], 2385, 1e-14));
}
