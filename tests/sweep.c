/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Addresses of results, points of a sweep against closed forms, places where limits are crossed. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <trunnion/address.h>
#include <trunnion/shaft.h>
#include <trunnion/sweep_plot.h>

#include "support.h"

#define PI 3.14159265358979323846
#define DEG (PI / 180)

static trn_machine *read_case(const char *name)
{
    char folder[1024];
    trn_faults faults = {0};
    trn_machine *m = NULL;
    (void)gsl_set_error_handler_off();
    (void)snprintf(folder, sizeof folder, "%s/cases/%s", test_root(), name);
    cr_assert_eq(trn_machine_read(folder, &faults, &m), TRN_OK);
    trn_faults_free(&faults);
    return m;
}

static void set(trn_machine *m, const char *path, const char *value)
{
    trn_faults faults = {0};
    cr_assert_eq(trn_machine_set(m, path, value, "test", &faults), TRN_OK, "%s", path);
    cr_assert_eq(trn_machine_link(m, &faults), TRN_OK, "%s", path);
    trn_faults_free(&faults);
}

static trn_results *results_of(const trn_machine *m)
{
    trn_results *r = trn_results_new(m);
    cr_assert_not_null(r);
    cr_assert_eq(trn_study_evaluate(m, TRN_WANT_ALL, r, NULL), TRN_OK);
    return r;
}

static trn_status evaluate(const trn_machine *m, trn_results *r, void *context)
{
    return trn_study_evaluate(m, *(unsigned *)context, r, NULL);
}

/* ---- addresses ------------------------------------------------------------------------------ */

Test(sweep, addresses)
{
    static const char *const rows[][2] = {
        {"heat.dry stalks.centre.oil_temperature", "heat.dry stalks.centre.oil_temperature [degC]"},
        {"joints.firm grass.left.angle_in", "joints.firm grass.left.angle_in [deg]"},
        {"joints.firm grass.left.slope.angle_in", "joints.firm grass.left.angle_in [deg]"},
        {"joints.left.life_in", "joints.all.left.life_in [h]"}, /* `all` left out */
        {"joints.all.left", "joints.all.left"},                 /* the column left out */
        {"joints.left.folded.length", "joints.left.folded.length [mm]"},
        {"fit.main.cut", "fit.main.cut [mm]"},
        {"gearbox_life.centre.Lnmh", "gearbox_life.centre.Lnmh [h]"},
    };
    trn_machine *m = read_case("winged_shredder");
    trn_results *r = results_of(m);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        trn_addresses found = {0};
        trn_buffer why = {0};
        trn_buffer text = {0};
        cr_expect_eq(trn_address_find(r, rows[i][0], &found, &why), TRN_OK, "%s: %s", rows[i][0],
                     why.text ? why.text : "");
        cr_assert_eq(found.n, 1, "%s", rows[i][0]);
        trn_address_text(&found.list[0], true, &text);
        cr_expect_str_eq(text.text, rows[i][1]);
        trn_addresses_free(&found);
        trn_buffer_free(&why);
        trn_buffer_free(&text);
    }
    trn_results_free(r);
    trn_machine_free(m);
}

Test(sweep, wrong_addresses_name_the_nearest)
{
    static const char *const rows[][2] = {
        {"heats.dry stalks.centre", "there is no result `heats`; the nearest: `heat`"},
        {"heat.dry.centre.oil_temperature", "`dry stalks`"},
        {"heat.dry stalks.centra.oil_temperature", "`centre`"},
        {"fit.main.overlapp", "fit has no row or column `overlapp`; the nearest: `overlap`"},
        {"joints.left.angle", "`angle_in`"},
        {"one_turn.left.torque", "a series without named rows"},
        {"heat.oil_temperature", "names several results"},
        {"heat.centre.dry stalks.oil_temperature", "in this order"},
        {"heat..centre", "write file.keys.column"},
        {"", "write file.keys.column"},
        {"heat", "names several results"},
    };
    trn_machine *m = read_case("winged_shredder");
    trn_results *r = results_of(m);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        trn_addresses found = {0};
        trn_buffer why = {0};
        cr_expect_eq(trn_address_find(r, rows[i][0], &found, &why), TRN_E_INPUT, "%s", rows[i][0]);
        cr_expect_eq(found.n, 0);
        cr_expect(why.text && strstr(why.text, rows[i][1]), "%s: wanted `%s` in `%s`", rows[i][0],
                  rows[i][1], why.text ? why.text : "");
        trn_addresses_free(&found);
        trn_buffer_free(&why);
    }
    trn_results_free(r);
    trn_machine_free(m);
}

Test(sweep, star_and_columns_left_out)
{
    trn_machine *m = read_case("winged_shredder");
    trn_results *r = results_of(m);
    trn_addresses found = {0};
    trn_buffer why = {0};
    cr_assert_eq(trn_address_find(r, "intervals.*.recommended", &found, &why), TRN_OK);
    cr_expect_eq(found.n, m->points_count);
    cr_assert_eq(trn_address_find(r, "heat.*.centre.loss", &found, &why), TRN_OK);
    cr_expect_eq(found.n, m->points_count + m->duty_count);
    trn_addresses_free(&found);
    cr_assert_eq(trn_address_find(r, "gearbox_life.centre", &found, &why), TRN_OK);
    cr_expect_null(found.list[0].field);
    cr_assert_eq(trn_address_spread(&found), TRN_OK);
    cr_expect_eq(found.n, 7); /* L10h, Lnmh, reliability and the limits that draws give */
    cr_expect(found.list[0].spread);
    trn_addresses_free(&found);
    trn_buffer_free(&why);
    trn_results_free(r);
    trn_machine_free(m);
}

/* ---- what is varied ------------------------------------------------------------------------- */

Test(sweep, quantities_as_written)
{
    trn_vary v = {.steps = 77};
    trn_buffer why = {0};
    cr_expect_eq(trn_vary_read("duty.*.dust=0.35:4.1:5", &v, &why), TRN_OK);
    cr_expect_str_eq(v.path, "duty.*.dust");
    cr_expect(v.from == 0.35 && v.to == 4.1 && v.steps == 5);
    cr_expect(trn_vary_value(&v, 0) == 0.35 && trn_vary_value(&v, 5) == 4.1);
    cr_expect(test_near(trn_vary_value(&v, 2), 0.35 + 0.4 * 3.75, 1e-15));
    static const char *const wrong[] = {"duty.*.dust",         "duty.*.dust=1:2",
                                        "duty.*.dust=1:2:0",   "duty.*.dust=1:2:2.5",
                                        "duty.*.dust=1:2:3:4", "duty.*.dust=1:1:3",
                                        "=1:2:3",              "duty.*.dust=a:2:3",
                                        "duty.*.dust=1:2:-3",  "duty.*.dust=1:nan:3",
                                        "duty.*.dust=1:2:1e9", "duty.*.dust=1 kW:2:3"};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        cr_expect_eq(trn_vary_read(wrong[i], &v, &why), TRN_E_USAGE, "%s", wrong[i]);
        cr_expect(v.steps == 5, "untouched: %s", wrong[i]);
    }
    trn_buffer_free(&why);
}

Test(sweep, wrong_paths_name_the_nearest)
{
    static const char *const rows[][2] = {{"duty.*.speed=1:2:3", "`pto_speed`"},
                                          {"dooty.*.dust=1:2:3", "`duty`"},
                                          {"gearboxes.center.area=1:2:3", "`centre`"},
                                          {"duty.*.position=1:2:3", "is no number"}};
    trn_machine *m = read_case("winged_shredder");
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        trn_vary v;
        trn_buffer why = {0};
        cr_assert_eq(trn_vary_read(rows[i][0], &v, &why), TRN_OK);
        cr_expect_eq(trn_vary_check(m, &v, &why), TRN_E_INPUT, "%s", rows[i][0]);
        cr_expect(why.text && strstr(why.text, rows[i][1]), "%s: %s", rows[i][0],
                  why.text ? why.text : "");
        trn_buffer_free(&why);
    }
    trn_machine_free(m);
}

/* ---- runs ----------------------------------------------------------------------------------- */

typedef struct swept {
    trn_machine *m;
    trn_addresses addresses;
    trn_sweep *s;
} swept;

/* Varies the texts of `vary`, follows one result. */
static void sweep_one(swept *w, trn_machine *m, const char *first, const char *second,
                      const char *result, unsigned wanted)
{
    trn_vary vary[2];
    trn_buffer why = {0};
    size_t n = second ? 2 : 1;
    w->m = m;
    w->addresses = (trn_addresses){0};
    cr_assert_eq(trn_vary_read(first, &vary[0], &why), TRN_OK);
    cr_assert_eq(trn_vary_check(m, &vary[0], &why), TRN_OK, "%s", why.text ? why.text : "");
    if (second) {
        cr_assert_eq(trn_vary_read(second, &vary[1], &why), TRN_OK);
        cr_assert_eq(trn_vary_check(m, &vary[1], &why), TRN_OK);
    }
    trn_results *r = results_of(m);
    cr_assert_eq(trn_address_find(r, result, &w->addresses, &why), TRN_OK, "%s: %s", result,
                 why.text ? why.text : "");
    cr_assert_eq(w->addresses.n, 1);
    trn_results_free(r);
    trn_follow follow = trn_address_follow(&w->addresses.list[0]);
    cr_assert_eq(trn_sweep_run(m, vary, n, &follow, 1, (trn_evaluation){evaluate, &wanted}, &w->s),
                 TRN_OK);
    trn_buffer_free(&why);
}

static void done(swept *w)
{
    trn_sweep_free(w->s);
    trn_addresses_free(&w->addresses);
    trn_machine_free(w->m);
}

/* derived: T = P/omega at every point of a grid, second quantity inside */
Test(sweep, torque_over_speed_and_power)
{
    swept w;
    sweep_one(&w, read_case("rotary_mower"), "duty.grass.pto_speed=310:610:4",
              "duty.grass.power=11.5:34:3", "joints.grass.main.torque", TRN_WANT_JOINTS);
    cr_assert_eq(w.s->points, 20);
    cr_expect_str_eq(w.s->vary[0].unit, "rpm");
    cr_expect_str_eq(w.s->vary[1].unit, "kW");
    for (size_t p = 0; p < w.s->points; p++) {
        double n = 310 + 75.0 * (double)(p / 4);
        double kw = 11.5 + 7.5 * (double)(p % 4);
        cr_expect(test_near(w.s->value[p], 1000 * kw / (n * PI / 30), 1e-12), "%zu", p);
        cr_expect_null(w.s->why[p]);
    }
    cr_expect_eq(w.s->crossings, 0);
    done(&w);
}

/* Tilt at which a joint of a wing comes to a limit, by halving (no library root finder). */
static double wing_tilt_at(double limit, double low, double high, bool out)
{
    for (int i = 0; i < 200; i++) {
        double tau = (low + high) / 2;
        trn_shaft_layout a = {0, 0, 0, 0};
        (void)trn_shaft_wing(0.430, 0.120, 0.470, 0.095, tau, &a);
        if (fabs(out ? a.beta2_rad : a.beta1_rad) < limit)
            low = tau;
        else
            high = tau;
    }
    return (low + high) / 2;
}

/* derived: the wing formula solved by halving; the grid has no point near the crossing */
Test(sweep, angle_limit_is_crossed_where_the_formula_says)
{
    trn_machine *m = read_case("winged_shredder");
    set(m, "shafts.left.angle_limit", "11.3");
    swept w;
    sweep_one(&w, m, "geometry.ditch.left.tau=2:57:3", NULL, "joints.dry stalks.left.angle_out",
              TRN_WANT_JOINTS);
    cr_assert_eq(w.s->crossings, 1);
    const trn_crossing *c = &w.s->crossing[0];
    cr_expect_str_eq(c->bound, "angle_limit");
    cr_expect(test_near(c->bound_value, 11.3, 1e-12));
    cr_expect(c->above && !c->jumps);
    double wanted = wing_tilt_at(11.3 * DEG, 2 * DEG, 57 * DEG, true) / DEG;
    cr_expect(fabs(c->at - wanted) < 1e-9, "wanted %.12g, got %.12g", wanted, c->at);
    done(&w);
}

/* The same from the other side: one place, the sides changed. */
Test(sweep, direction_does_not_move_a_crossing)
{
    double at[2];
    for (int back = 0; back < 2; back++) {
        trn_machine *m = read_case("winged_shredder");
        set(m, "shafts.left.angle_limit", "11.3");
        swept w;
        sweep_one(&w, m, back ? "geometry.ditch.left.tau=57:2:4" : "geometry.ditch.left.tau=2:57:3",
                  NULL, "joints.dry stalks.left.angle_out", TRN_WANT_JOINTS);
        cr_assert_eq(w.s->crossings, 1);
        cr_expect_eq(w.s->crossing[0].above, !back);
        at[back] = w.s->crossing[0].at;
        done(&w);
    }
    cr_expect(fabs(at[0] - at[1]) < 1e-9, "%.12g and %.12g", at[0], at[1]);
}

/* derived: clearance = L - length_closed, so it is 0 and 50 mm where length_closed says */
Test(sweep, clearance_crosses_both_limits)
{
    swept w;
    sweep_one(&w, read_case("rotary_mower"), "shafts.main.length_closed=700:903:2", NULL,
              "fit.main.clearance", TRN_WANT_JOINTS | TRN_WANT_FIT);
    cr_assert_eq(w.s->crossings, 2); /* shortest: lifted, 842 mm */
    for (size_t i = 0; i < 2; i++) {
        const trn_crossing *c = &w.s->crossing[i];
        double wanted = 842 - c->bound_value;
        cr_expect(fabs(c->at - wanted) < 1e-8, "%s: wanted %.12g, got %.12g", c->bound, wanted,
                  c->at);
        cr_expect(!c->above);
    }
    done(&w);
}

/* derived: lives fall with the power to the exponent 10/3, so the place follows from one value */
Test(sweep, life_crosses_the_design_life)
{
    trn_machine *m = read_case("rotary_mower");
    set(m, "duty.stubble.power", "0");
    trn_results *r = results_of(m);
    double life = trn_results_joint(r, m->duty_count, 0)->life_in_h;
    double now = m->duty[0].power;
    double wanted = now * pow(life / m->head.design_life, 0.3) / 1000;
    trn_results_free(r);
    char vary[128];
    (void)snprintf(vary, sizeof vary, "duty.grass.power=0:%.17g:3", 2.3 * wanted);
    swept w;
    sweep_one(&w, m, vary, NULL, "joints.all.main.life_in", TRN_WANT_JOINTS);
    cr_expect(isinf(w.s->value[0]), "no load, no damage");
    size_t found = 0;
    for (size_t i = 0; i < w.s->crossings; i++)
        if (strcmp(w.s->crossing[i].bound, "design_life") == 0) {
            cr_expect(test_near(w.s->crossing[i].at, wanted, 1e-9), "wanted %.12g, got %.12g",
                      wanted, w.s->crossing[i].at);
            found++;
        }
    cr_expect_eq(found, 1);
    done(&w);
}

/* A recommended interval stands on the service clock: it leaves the manual's in a step. */
Test(sweep, recommended_interval_passes_in_a_step)
{
    swept w;
    sweep_one(&w, read_case("rotary_mower"), "duty.*.shock=1:1.85:3", NULL,
              "joints.grass.main.life_in", TRN_WANT_JOINTS);
    for (size_t i = 0; i < w.s->crossings; i++)
        cr_expect(!w.s->crossing[i].jumps, "lives change smoothly");
    done(&w);
    trn_machine *m = read_case("winged_shredder");
    trn_results *r = results_of(m);
    trn_addresses all = {0};
    trn_buffer why = {0};
    cr_assert_eq(trn_address_find(r, "intervals.*.recommended", &all, &why), TRN_OK);
    trn_results_free(r);
    trn_follow follow[64];
    cr_assert(all.n < 64);
    for (size_t i = 0; i < all.n; i++)
        follow[i] = trn_address_follow(&all.list[i]);
    trn_vary v;
    cr_assert_eq(trn_vary_read("duty.*.dust=0.3:90:5", &v, &why), TRN_OK);
    cr_assert_eq(trn_vary_check(m, &v, &why), TRN_OK);
    unsigned wanted = TRN_WANT_ALL;
    trn_sweep *s = NULL;
    cr_assert_eq(trn_sweep_run(m, &v, 1, follow, all.n, (trn_evaluation){evaluate, &wanted}, &s),
                 TRN_OK);
    cr_expect(s->crossings > 0);
    for (size_t i = 0; i < s->crossings; i++) {
        cr_expect(s->crossing[i].jumps && !s->crossing[i].above, "dust shortens, in steps");
        cr_expect_str_eq(s->crossing[i].bound, "the manual's interval");
    }
    trn_sweep_free(s);
    trn_addresses_free(&all);
    trn_buffer_free(&why);
    trn_machine_free(m);
}

/* What the case refuses is left out with its reason, the other points stand. */
Test(sweep, refused_points_say_why)
{
    swept w;
    sweep_one(&w, read_case("rotary_mower"), "duty.grass.pto_speed=-90:510:2", NULL,
              "joints.grass.main.torque", TRN_WANT_JOINTS);
    cr_assert_not_null(w.s->why[0]);
    cr_expect(strstr(w.s->why[0], "below 0") != NULL, "%s", w.s->why[0]);
    cr_expect(isnan(w.s->value[0]) && isfinite(w.s->value[1]) && isfinite(w.s->value[2]));
    done(&w);
}

/* A result that is not known comes with the remark of its row. */
Test(sweep, unknown_results_say_why)
{
    swept w;
    sweep_one(&w, read_case("rotary_mower"), "duty.grass.pto_speed=410:510:2", NULL,
              "joints.all.main.clearance", TRN_WANT_JOINTS);
    cr_expect(isnan(w.s->value[1]));
    cr_expect(w.s->note[1] && strstr(w.s->note[1], "clearance"), "%s",
              w.s->note[1] ? w.s->note[1] : "");
    done(&w);
}

/* The case itself is left alone, and the sweep meets it where the value is the case's own. */
Test(sweep, meets_the_case)
{
    trn_machine *m = read_case("rotary_mower");
    trn_results *r = results_of(m);
    double oil = r->heat[0].oil_temperature_c;
    trn_results_free(r);
    double ambient = m->duty[0].ambient - 273.15;
    char vary[128];
    (void)snprintf(vary, sizeof vary, "duty.grass.ambient=%.17g:%.17g:4", ambient - 14,
                   ambient + 14);
    swept w;
    sweep_one(&w, m, vary, NULL, "heat.grass.box.oil_temperature",
              TRN_WANT_JOINTS | TRN_WANT_HEAT);
    cr_expect(fabs(w.s->value[2] - oil) < 1e-6, "wanted %.12g, got %.12g", oil, w.s->value[2]);
    cr_expect(fabs(m->duty[0].ambient - 273.15 - ambient) < 1e-12);
    for (size_t i = 1; i < w.s->points; i++)
        cr_expect(w.s->value[i] > w.s->value[i - 1], "warmer air, warmer oil");
    done(&w);
}

Test(sweep, too_many_points_are_refused)
{
    trn_vary v[2] = {{.path = "duty.*.dust", .from = 1, .to = 2, .steps = 999, .unit = ""},
                     {.path = "duty.*.dust", .from = 1, .to = 2, .steps = 999, .unit = ""}};
    trn_follow follow = {NULL, NULL, NULL, NULL};
    unsigned wanted = TRN_WANT_JOINTS;
    trn_sweep *s = NULL;
    trn_machine *m = read_case("rotary_mower");
    cr_expect_eq(trn_sweep_run(m, v, 2, &follow, 1, (trn_evaluation){evaluate, &wanted}, &s),
                 TRN_E_USAGE);
    cr_expect_null(s);
    trn_machine_free(m);
}

/* ---- plots ---------------------------------------------------------------------------------- */

Test(sweep, plots_say_what_was_found)
{
    swept w;
    trn_buffer script = {0};
    trn_buffer finding = {0};
    sweep_one(&w, read_case("rotary_mower"), "shafts.main.length_closed=700:903:2", NULL,
              "fit.main.clearance", TRN_WANT_JOINTS | TRN_WANT_FIT);
    cr_assert_eq(trn_plot_sweep(w.s, &w.addresses, 0, &script, &finding), TRN_OK);
    cr_expect(strstr(finding.text, "fit.main.clearance falls below") != NULL, "%s", finding.text);
    cr_expect(strstr(script.text, "plot $D") && strstr(script.text, "$X using 1:2 with points"));
    trn_buffer_free(&script);
    trn_buffer_free(&finding);
    done(&w);
    sweep_one(&w, read_case("rotary_mower"), "duty.grass.pto_speed=310:610:4",
              "duty.grass.power=11.5:34:3", "joints.grass.main.torque", TRN_WANT_JOINTS);
    cr_assert_eq(trn_plot_sweep(w.s, &w.addresses, 0, &script, &finding), TRN_OK);
    cr_expect(strstr(finding.text, "lies between 180 and 1050 N.m") != NULL, "%s", finding.text);
    cr_expect(strstr(script.text, "set contour") != NULL);
    trn_buffer_free(&script);
    trn_buffer_free(&finding);
    done(&w);
    sweep_one(&w, read_case("rotary_mower"), "duty.grass.pto_speed=410:510:2", NULL,
              "joints.all.main.clearance", TRN_WANT_JOINTS);
    cr_expect_eq(trn_plot_sweep(w.s, &w.addresses, 0, &script, &finding), TRN_E_UNKNOWN);
    cr_expect(script.text == NULL && finding.text == NULL);
    done(&w);
}
