/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A working by hand: what a step prints is enough to compute it again. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/bearing.h>
#include <trunnion/working.h>

#include "support.h"

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

typedef struct chain {
    trn_machine *machine;
    trn_results *results;
    trn_trace trace;
    trn_working *w;
} chain;

static chain chain_of(const char *folder, const char *text)
{
    chain c = {NULL, NULL, {0}, NULL};
    char path[512];
    trn_faults faults = {0};
    trn_working_place address;
    trn_buffer why = {0};
    (void)gsl_set_error_handler_off();
    (void)snprintf(path, sizeof path, "%s/%s", test_root(), folder);
    cr_assert_eq(trn_machine_read(path, &faults, &c.machine), TRN_OK, "%s",
                 faults.kept ? faults.list[0].text : "");
    c.results = trn_results_new(c.machine);
    cr_assert(c.results);
    (void)trn_study_evaluate(c.machine, TRN_WANT_ALL, c.results, &c.trace);
    cr_assert_eq(trn_working_find(c.results, text, &address, &why), TRN_OK, "%s",
                 why.text ? why.text : "");
    cr_assert_eq(trn_working_make(c.results, &c.trace, &address, &c.w), TRN_OK);
    trn_buffer_free(&why);
    trn_faults_free(&faults);
    return c;
}

static void finish(chain *c)
{
    trn_working_free(c->w);
    trn_trace_free(&c->trace);
    trn_results_free(c->results);
    trn_machine_free(c->machine);
}

static bool is(const trn_working_step *step, const char *formula)
{
    return strcmp(step->note->formula->name, formula) == 0;
}

static size_t place_of(const trn_symbol *symbols, size_t n, const char *name)
{
    for (size_t k = 0; k < n; k++)
        if (strcmp(symbols[k].name, name) == 0)
            return k;
    cr_assert_fail("no symbol %s", name);
    return 0;
}

static double in(const trn_note *n, const char *name)
{
    return n->in[place_of(n->formula->inputs, n->formula->input_count, name)];
}

static double out(const trn_note *n, const char *name)
{
    return n->out[place_of(n->formula->outputs, n->formula->output_count, name)];
}

static const trn_from *from(const trn_working_step *step, const char *name)
{
    const trn_formula *f = step->note->formula;
    return &step->from[place_of(f->inputs, f->input_count, name)];
}

/* The step that an input comes from; fails where it comes from none. */
static const trn_note *origin(const chain *c, const trn_working_step *step, const char *name)
{
    const trn_from *f = from(step, name);
    cr_assert_eq(f->kind, TRN_FROM_STEP, "%s %s: %s", step->note->formula->name, name, f->text);
    return &c->trace.list[f->note];
}

/* ---- bearings ----------------------------------------------------------------------------- */

/* published (ISO 281 9.3, radial), memory (thrust): a_iso from the constants as printed */
Test(working_steps, life_factor_from_what_is_printed)
{
    static const double kappas[] = {0.137, 0.385, 0.431, 0.97, 1.063, 2.385, 3.87};
    static const char *const printed[] = {"2.5671", "1.5859",   "2.2649",  "1.3993",  "1.9987",
                                          "1.2348", "0.054381", "0.19087", "0.071739"};
    const trn_formula *f = trn_formula_find("bearing.life_factor");
    for (size_t i = 0; i < COUNT(printed); i++)
        cr_expect(strstr(f->equation, printed[i]), "%s", printed[i]);
    for (size_t i = 0; i < COUNT(kappas); i++)
        for (size_t kind = 0; kind < 4; kind++) {
            double kappa = kappas[i];
            bool ball = kind == 0 || kind == 2;
            double divisor = kind == 2 ? 3 : kind == 3 ? 2.5 : 1;
            double B = kappa < 0.4 ? (ball ? 2.2649 : 1.3993) : ball ? 1.9987 : 1.2348;
            double c = kappa < 0.4 ? 0.054381 : kappa < 1 ? 0.19087 : 0.071739;
            double s = fmax(0, (ball ? 2.5671 : 1.5859) - B * pow(kappa, -c));
            double x = 0.2385 / divisor;
            double wanted = ball ? 0.1 * pow(1 - pow(s, 0.83) * cbrt(x), -9.3)
                                 : 0.1 * pow(1 - s * pow(x, 0.4), -9.185);
            double a_iso = NAN;
            double given[] = {(double)kind, kappa, 0.2385};
            cr_assert(trn_formula_numbers(f, given, &a_iso) >= 0);
            wanted = fmin(wanted, 50); /* memory: the limit */
            cr_expect(test_near(a_iso, wanted, 1e-12), "kind %zu kappa %g: %.12g, by hand %.12g",
                      kind, kappa, a_iso, wanted);
        }
}

static char *text_of_file(const char *name)
{
    char path[512];
    (void)snprintf(path, sizeof path, "%s/../%s", test_root(), name);
    FILE *file = fopen(path, "r");
    cr_assert(file, "%s", path);
    char *text = calloc(1, 200000);
    cr_assert(text);
    cr_assert(fread(text, 1, 199999, file) > 0);
    cr_expect_eq(fclose(file), 0);
    return text;
}

/* memory (ISO 281 Annex A): c and b of a step give its e_C, and stand in the table of the docs */
Test(working_steps, e_C_from_its_constants)
{
    static const char *const regimes[] = {"on-line filter", "bath", "grease"};
    const trn_formula *f = trn_formula_find("bearing.cleanliness");
    char *docs = text_of_file("docs/bearing.md");
    size_t found = 0;
    for (size_t regime = 0; regime < 3; regime++)
        for (size_t class = 0; class < TRN_CLASS_BEYOND; class++) {
            double given[] = {(double)regime, (double)class, 1.137, 0.0973};
            double got[3] = {NAN, NAN, NAN};
            char row[160];
            if (trn_formula_numbers(f, given, got) < 0)
                continue;
            double a = fmin(1, got[1] * pow(1.137, 0.68) * pow(97.3, 0.55));
            double e = fmax(0, a * (1 - got[2] * pow(97.3, -1.0 / 3)));
            cr_expect(test_near(got[0], e, 1e-12), "%zu %zu: %.12g", regime, class, got[0]);
            (void)snprintf(row, sizeof row, "| %s | %s | %g | %g |", regimes[regime],
                           f->inputs[1].words[class], got[1], got[2]);
            cr_expect(strstr(docs, row), "docs/bearing.md has no row %s", row);
            found++;
        }
    cr_expect_eq(found, 14);
    double beyond[] = {1, TRN_CLASS_BEYOND, 1.137, 0.0973};
    double got[3] = {4711, 4711, 4711};
    cr_expect(trn_formula_numbers(f, beyond, got) >= 0);
    cr_expect(got[0] == 0 && isnan(got[1]) && isnan(got[2]));
    free(docs);
}

/* derived: constants of a class that the regime does not have are refused and left alone */
Test(working_steps, constants_of_no_class)
{
    double c = 4711;
    double b = 4712;
    cr_expect_eq(trn_bearing_cleanliness_values(TRN_REGIME_FILTERED, TRN_CLASS_21_18, 0.06, &c, &b),
                 TRN_E_DOMAIN);
    cr_expect_eq(trn_bearing_cleanliness_values(TRN_REGIME_BATH, TRN_CLASS_BEYOND, 0.06, &c, &b),
                 TRN_E_DOMAIN);
    cr_expect_eq(trn_bearing_cleanliness_values(TRN_REGIME_BATH, TRN_CLASS_17_14, NAN, &c, &b),
                 TRN_E_DOMAIN);
    cr_expect(c == 4711 && b == 4712);
    cr_expect_eq(
        trn_bearing_cleanliness_values(TRN_REGIME_GREASE, TRN_CLASS_SLIGHT, 0.5, &c, &b), TRN_OK);
    cr_expect(b == 1.677, "%g", b); /* memory: another b from 500 mm on */
}

/* derived: a class worked out of the dust comes from a code by a step of its own */
Test(working_steps, class_follows_from_the_code)
{
    chain c = chain_of("cases/working", "bearing_lives.dry stalks.s_out_a.Lnmh");
    size_t seen = 0;
    for (size_t i = 0; i < c.w->count; i++) {
        if (!is(&c.w->steps[i], "bearing.cleanliness"))
            continue;
        const trn_note *class = origin(&c, &c.w->steps[i], "class");
        cr_expect_str_eq(class->formula->name, "bearing.class_of_code");
        cr_expect_eq(out(class, "class"), in(c.w->steps[i].note, "class"));
        seen++;
    }
    cr_expect_eq(seen, 1);
    for (size_t i = 0; i < c.w->count; i++)
        if (is(&c.w->steps[i], "bearing.class_of_code"))
            cr_expect_str_eq(origin(&c, &c.w->steps[i], "R14")->formula->name, "oil.code");
    finish(&c);
}

/* derived: the limit of a branch is met within 1e-9 of itself, as the entry says */
Test(working_steps, branch_of_the_reference_viscosity)
{
    const trn_formula *f = trn_formula_find("bearing.reference_viscosity");
    const double rpm = acos(-1) / 30;
    double at[2] = {999.9999999999999 * rpm, 0.0725};
    double below[2] = {999.99 * rpm, 0.0725};
    double nu1 = NAN;
    cr_expect(strstr(f->validity, "1e-9"));
    cr_assert_eq(trn_formula_numbers(f, at, &nu1), TRN_OK);
    cr_expect(test_near(nu1 * 1e6, 4500 * pow(1000, -0.5) * pow(72.5, -0.5), 1e-9));
    cr_assert_eq(trn_formula_numbers(f, below, &nu1), TRN_OK);
    cr_expect(test_near(nu1 * 1e6, 45000 * pow(999.99, -0.83) * pow(72.5, -0.5), 1e-9));
}

/* ---- greasing intervals ------------------------------------------------------------------- */

/* derived: P/C is that of joint.cross_life at the end with the larger load, its shock taken out */
static void loads_of(const char *address, const char *condition, size_t loaded)
{
    chain c = chain_of("cases/working", address);
    size_t seen = 0;
    for (size_t i = 0; i < c.w->count; i++) {
        const trn_working_step *step = &c.w->steps[i];
        if (!is(step, "interval.cross_load"))
            continue;
        const trn_note *life = origin(&c, step, "K_beta");
        double load = out(step->note, "load");
        cr_expect_str_eq(life->condition, step->note->condition);
        cr_expect(test_near(load, out(life, "P") / (in(life, "shock") * in(life, "C")), 1e-9),
                  "%s, %s: %.12g", address, life->condition, load);
        for (size_t k = 0; k < c.trace.count; k++) {
            const trn_note *other = &c.trace.list[k];
            if (other->formula == life->formula && strcmp(other->object, life->object) == 0 &&
                strcmp(other->condition, life->condition) == 0)
                cr_expect(out(other, "P") <= out(life, "P") * (1 + 1e-9), "%s", life->condition);
        }
        seen++;
    }
    cr_expect_eq(seen, loaded, "%s: %zu", address, seen);
    for (size_t i = 0; i < c.w->count; i++) {
        const trn_working_step *step = &c.w->steps[i];
        if (is(step, "interval.motion")) {
            cr_expect_eq(from(step, "beta")->kind, TRN_FROM_STEP);
            cr_expect_eq(from(step, "beta_ref")->kind, TRN_FROM_CELL);
        }
        if (is(step, "interval.point_temperature"))
            cr_expect_str_eq(from(step, "rise")->text, "choices.point_rise");
        if (is(step, "interval.grease_factor") &&
            strcmp(step->note->condition, condition) == 0) {
            cr_expect_str_eq(origin(&c, step, "load")->formula->name, "interval.cross_load");
            cr_expect_str_eq(origin(&c, step, "motion")->formula->name, "interval.motion");
            cr_expect_str_eq(origin(&c, step, "T")->formula->name, "interval.point_temperature");
        }
    }
    finish(&c);
}

Test(working_steps, load_of_a_joint_is_that_of_the_larger_end)
{
    /* idle has no load; nor has the wide-angle shaft in a position where its angles are not known */
    loads_of("intervals.left shaft.grease_joint.nominal", "dry stalks", 3);
    loads_of("intervals.main crosses.grease_joint.nominal", "severe mulch", 2);
}

/* ---- heat --------------------------------------------------------------------------------- */

/* US Standard Atmosphere 1976, cp constant, as printed in the step (memory) */
static double viscosity_of_air(double T_k)
{
    double mu = 1.458e-6 * pow(T_k, 1.5) / (T_k + 110.4);
    return mu / (101325 / (287.05287 * T_k));
}

/* derived: the heat transfer of a housing by hand, from the three steps before it */
Test(working_steps, heat_of_a_wall_from_what_is_printed)
{
    chain c = chain_of("../sample-data/winged", "heat.dry grass.rotor box centre.oil_temperature");
    const trn_working_step *free_air = NULL;
    const trn_working_step *moving = NULL;
    const trn_working_step *rays = NULL;
    size_t walls = 0;
    for (size_t i = 0; i < c.w->count; i++) {
        const trn_working_step *step = &c.w->steps[i];
        free_air = is(step, "heat.free_convection") ? step : free_air;
        moving = is(step, "heat.forced_convection") ? step : moving;
        rays = is(step, "heat.radiation") ? step : rays;
        if (!is(step, "heat.wall"))
            continue;
        cr_assert(free_air && moving && rays);
        const trn_note *n = step->note;
        double T_s = out(n, "T_s");
        double T_air = in(n, "T_air");
        double l = in(n, "height");
        cr_expect(in(free_air->note, "h") == l && in(moving->note, "l") == l);
        cr_expect(test_near(in(rays->note, "T_wall"), T_s, 1e-12));
        double nu = viscosity_of_air((T_s + T_air) / 2);
        double Re = in(moving->note, "v") * l / nu;
        double Gr = 9.81 * l * l * l * (T_s - T_air) / (T_air * nu * nu);
        double forced = 0.0086 * pow(Re * Re + Gr / 2.5, 0.32) / l;
        double still = 18 * pow(l, -0.1) * pow((T_s - T_air) / T_air, 0.3);
        double radiated = in(rays->note, "epsilon") * 5.670374419e-8 * (T_s + T_air) *
                          (T_s * T_s + T_air * T_air);
        cr_expect(test_near(out(moving->note, "alpha"), forced, 1e-12));
        cr_expect(test_near(out(free_air->note, "alpha"), still, 1e-12));
        double alpha = fmax(still, forced) + radiated;
        cr_expect(test_near(out(n, "alpha_out"), alpha, 1e-10), "%.12g", alpha);
        cr_expect(test_near(out(n, "k"), (T_s - T_air) * alpha / (in(n, "T") - T_air), 1e-8));
        walls++;
    }
    cr_expect_eq(walls, 2); /* of the reading, and of the condition */
    finish(&c);
}

/* derived: a reading that was led back to the stop shows C, slope and the tau that follows */
Test(working_steps, time_constant_of_a_reading)
{
    chain c = chain_of("../sample-data/winged", "heat.dry grass.rotor box centre.oil_temperature");
    size_t seen = 0;
    for (size_t i = 0; i < c.w->count; i++) {
        if (!is(&c.w->steps[i], "heat.oil_at_stop"))
            continue;
        const trn_note *tau = origin(&c, &c.w->steps[i], "tau");
        cr_expect_str_eq(tau->formula->name, "heat.time_constant");
        cr_expect(test_near(out(tau, "tau"), out(tau, "C") / in(tau, "slope"), 1e-12));
        cr_expect(test_near(out(tau, "C"),
                            in(tau, "m") * 500 + in(tau, "rho15") * in(tau, "V_oil") * in(tau, "cp"),
                            1e-12));
        seen++;
    }
    cr_expect_eq(seen, 1);
    finish(&c);
}

static size_t turn_of(const chain *c, const trn_note *note)
{
    size_t n = 0;
    for (const trn_note *o = c->trace.list; o < note; o++)
        n += o->formula == note->formula && strcmp(o->object, note->object) == 0 &&
             strcmp(o->condition, note->condition) == 0 && strcmp(o->stage, note->stage) == 0 &&
             strcmp(o->variant, note->variant) == 0;
    return n;
}

/* derived: friction of the n-th load case takes the thrust and the values of the n-th, and each
 * case stands once in the mean, also where cases give equal values */
Test(working_steps, origins_are_of_the_same_load_case)
{
    chain c = chain_of("../sample-data/winged", "heat.dry grass.rotor box centre.bearings");
    size_t cases = 0;
    size_t means = 0;
    for (size_t i = 0; i < c.w->count; i++) {
        const trn_working_step *step = &c.w->steps[i];
        if (is(step, "bearing.friction_values")) {
            size_t turn = turn_of(&c, step->note);
            cr_expect_eq(turn_of(&c, origin(&c, step, "Fa")), turn, "%s: case %zu",
                         step->note->object, turn + 1);
            cases = turn + 1 > cases ? turn + 1 : cases;
        } else if (is(step, "bearing.friction") && from(step, "f0")->kind == TRN_FROM_STEP) {
            static const char *const values[] = {"f0", "f1", "P1"};
            for (size_t k = 0; k < 3; k++)
                cr_expect_eq(turn_of(&c, origin(&c, step, values[k])), turn_of(&c, step->note));
        } else if (is(step, "loss.cases")) {
            cr_expect_eq(turn_of(&c, origin(&c, step, "loss1")), 0);
            cr_expect_eq(turn_of(&c, origin(&c, step, "loss2")), 1);
            cr_expect_eq(turn_of(&c, origin(&c, step, "loss3")), 2);
            cr_expect_eq(turn_of(&c, origin(&c, step, "q3")), 2);
            means++;
        }
    }
    cr_expect_eq(cases, 3);
    cr_expect(means > 0);
    finish(&c);
}

/* derived: the virtual gear of a bevel pair has z_v teeth of the mean transverse module */
Test(working_steps, diameters_of_a_contact)
{
    chain c = chain_of("../sample-data/winged", "heat.dry grass.rotor box centre.mesh");
    size_t seen = 0;
    for (size_t i = 0; i < c.w->count; i++) {
        const trn_working_step *step = &c.w->steps[i];
        if (!is(step, "gear.contact"))
            continue;
        const trn_note *bevel = origin(&c, step, "d_v1");
        cr_expect_str_eq(bevel->formula->name, "gear.bevel_virtual");
        cr_expect(origin(&c, step, "d_v2") == bevel);
        double m_mt = out(bevel, "d_m1") / in(bevel, "z1");
        cr_expect(test_near(in(step->note, "d_v1"), out(bevel, "z_v1") * m_mt, 1e-12));
        cr_expect(test_near(in(step->note, "d_v2"), out(bevel, "z_v2") * m_mt, 1e-12));
        seen++;
    }
    cr_expect(seen > 0);
    finish(&c);
}

/* derived: what a law takes as g stands in it, and gives its numbers */
Test(working_steps, g_of_the_churning_law)
{
    const trn_formula *f = trn_formula_find("loss.churning");
    cr_expect(strstr(f->equation, "g = 9.81 m/s2"));
    cr_expect(strstr(trn_formula_find("heat.forced_convection")->equation, "g = 9.81 m/s2"));
}
