/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a change of interval buys, and which chosen numbers the results rest on. */
#include <criterion/criterion.h>
#include <math.h>
#include <string.h>
#include <trunnion/choices.h>
#include <trunnion/draws.h>
#include <trunnion/interval_rows.h>
#include <trunnion/ledger.h>
#include <trunnion/oil.h>

#include "study_case.h"
#include "support.h"

static trn_results *ledger_of(const trn_machine *m, size_t draws)
{
    trn_results *r = study_evaluated(m);
    trn_draw_plan plan = {.draws = draws, .seed = 1, .jobs = 1};
    trn_faults faults = {0};
    if (draws > 0)
        cr_assert_eq(trn_study_draws(r, &plan, false, &faults), TRN_OK);
    trn_faults_free(&faults);
    cr_assert_eq(trn_study_ledger(r), TRN_OK);
    return r;
}

static const trn_buys_row *buys(const trn_results *r, const char *object, const char *name)
{
    for (size_t i = 0; i < r->ledger->buys_count; i++)
        if (strcmp(r->ledger->buys[i].quantity, name) == 0 &&
            strcmp(r->ledger->buys[i].object, object) == 0)
            return &r->ledger->buys[i];
    cr_assert_fail("there is no %s of %s", name, object);
    return NULL;
}

static const trn_choice_row *choice(const trn_results *r, const char *name)
{
    for (size_t i = 0; i < r->ledger->choices_count; i++)
        if (strcmp(r->ledger->choices[i].name, name) == 0)
            return &r->ledger->choices[i];
    return NULL;
}

/* derived: 85 a change, 1650 a gearbox, 2500 h, C_s 100 ppm, 0.56385 mg/h in 1.8795 kg = 0.3 ppm/h,
 * rho 10 %: A = 1/0.9 - 1/2 */
Test(money, costs_follow_from_the_dust_that_silicon_shows)
{
    trn_machine *m = study_read("cases/sampled");
    trn_results *r = ledger_of(m, 0);
    double a = 1 / 0.9 - 0.5;
    double best = sqrt(85.0 * 2500 * 100 / (1650 * 0.3 * a));
    const trn_buys_row *interval = buys(r, "box", "interval");
    const trn_buys_row *cost = buys(r, "box", "cost_per_hour");
    cr_expect_eq(interval->manual, 500);
    cr_expect(test_near(interval->cheapest, best, 1e-9), "%.12g", interval->cheapest);
    cr_expect(test_near(cost->manual, 85.0 / 500 + 0.66 * (1 + 0.003 * 500 * a), 1e-9));
    cr_expect(test_near(cost->cheapest, 0.66 + 2 * 85 / best, 1e-9), "%.12g", cost->cheapest);
    cr_expect_leq(cost->cheapest, cost->recommended);
    cr_expect(test_near(buys(r, "box", "cost_per_year")->manual, 180 * cost->manual, 1e-12));
    cr_expect(test_near(buys(r, "box", "relative_wear")->manual, 1 + 0.003 * 500 * a, 1e-9));
    trn_results_free(r);
    trn_machine_free(m);
}

/* At the dust that breaks even both intervals cost the same. */
Test(money, break_even_dust_put_back_costs_the_same)
{
    trn_machine *m = study_read("cases/sampled");
    trn_results *r = ledger_of(m, 0);
    double even = buys(r, "box", "break_even_dust")->recommended;
    double recommended = r->points[2].recommended_h;
    double a = 1 / 0.9 - 0.5;
    double source = 0.56385 / 9.4 * even; /* silicon: 0.56385 mg/h at 9.4 mg/m3 */
    double manual_cost = 85.0 / 500 + 0.66 * (1 + source * 500 * a / (1.8795 * 100));
    double short_cost =
        85.0 / recommended + 0.66 * (1 + source * recommended * a / (1.8795 * 100));
    cr_expect(recommended < 500);
    cr_expect(test_near(manual_cost, short_cost, 1e-9), "%.12g %.12g", manual_cost, short_cost);
    trn_results_free(r);
    trn_machine_free(m);
}

/* Independent route: the mean damage as a sum over many small steps of the cycle, each with the
 * cleanliness of its dust put into the case. */
Test(money, bearing_life_is_the_time_mean_of_damage)
{
    trn_machine *m = study_read("cases/sampled");
    trn_results *r = ledger_of(m, 0);
    static const char *const codes[] = {"-/13/10", "-/15/12", "-/17/14", "-/19/16", "-/21/18",
                                        "-/25/22"}; /* the last: dirtier than the classes */
    static const double upper[] = {10, 12, 14, 16, 18};
    double life[6];
    for (size_t k = 0; k < 6; k++) {
        m->gearboxes[0].cleanliness = codes[k];
        trn_results *one = study_evaluated(m);
        life[k] = one->bearings[m->duty_count * m->bearings_count + r->gearboxes[0].weakest].lnmh_h;
        trn_results_free(one);
    }
    enum { STEPS = 20000 };
    double damage = 0;
    for (size_t i = 0; i < STEPS; i++) {
        double ppm = 0.3 * 500 * (0.1 / 0.9 + ((double)i + 0.5) / STEPS);
        int code = 0;
        size_t k = 0;
        if (trn_oil_code(ppm * 1e-6 * 895, &code) < 0)
            code = 99;
        while (k < 5 && code > upper[k])
            k++;
        damage += 1 / life[k] / STEPS;
    }
    cr_expect(test_near(buys(r, "box", "bearing_life")->manual, 1 / damage, 2e-4), "%.9g %.9g",
              buys(r, "box", "bearing_life")->manual, 1 / damage);
    cr_expect_gt(buys(r, "box", "bearing_life")->recommended,
                 buys(r, "box", "bearing_life")->manual);
    cr_expect_gt(buys(r, "box", "reliability_at_design_life")->recommended,
                 buys(r, "box", "reliability_at_design_life")->manual);
    trn_results_free(r);
    trn_machine_free(m);
}

/* derived: shares of the year; oil drained is what does not stay behind */
Test(money, work_and_oil_of_a_year)
{
    trn_machine *m = study_read("cases/sampled");
    m->head.hours_per_year = 600;
    trn_results *r = ledger_of(m, 0);
    double times = 600 / r->points[2].recommended_h;
    cr_assert_gt(times, 1);
    cr_expect(test_near(buys(r, "box", "changes_per_year")->manual, 1.2, 1e-12));
    cr_expect(test_near(buys(r, "box", "changes_per_year")->recommended, times, 1e-12));
    cr_expect(test_near(buys(r, "box", "oil_per_year")->recommended, times * 2.1 * 0.9, 1e-12));
    cr_expect(test_near(buys(r, "box", "work_per_year")->recommended, times * 35 / 60, 1e-12));
    double work = 0;
    for (size_t i = 0; i < m->points_count; i++)
        work += r->points[i].times_per_year * m->points[i].minutes / 60;
    cr_expect(test_near(buys(r, "machine", "work_per_year")->recommended, work, 1e-12));
    double grease = buys(r, "machine", "grease_work_per_year")->recommended;
    cr_expect(test_near(buys(r, "machine", "grease_cost_per_year")->recommended, 45 * grease,
                        1e-12));
    cr_expect(test_near(buys(r, "machine", "service_cost_per_year")->recommended,
                        45 * (work - times * 35 / 60) + 85 * times, 1e-9));
    trn_results_free(r);
    trn_machine_free(m);
}

/* ln of intake over C_s is normal with sqrt(ln^2 1.5 + ln^2 1.6), so the quantiles are known */
Test(money, spread_of_the_cost_against_its_closed_form)
{
    trn_machine *m = study_read("cases/sampled");
    trn_results *r = ledger_of(m, 10000);
    double s = 1.2815515655446 * sqrt(log(1.5) * log(1.5) + log(1.6) * log(1.6));
    double a = 1 / 0.9 - 0.5;
    double fixed = 85.0 / 500 + 0.66;
    double wear = 0.66 * 0.003 * 500 * a;
    cr_expect(test_near(buys(r, "box", "cost_per_year_low")->manual,
                        180 * (fixed + wear * exp(-s)), 0.01));
    cr_expect(test_near(buys(r, "box", "cost_per_year_high")->manual,
                        180 * (fixed + wear * exp(s)), 0.01));
    trn_results_free(r);
    trn_machine_free(m);
}

Test(money, without_intake_there_is_no_life_or_cost)
{
    trn_machine *m = study_read("cases/rotary_mower");
    trn_results *r = ledger_of(m, 0);
    cr_expect(isnan(buys(r, "box", "bearing_life")->manual));
    cr_expect(isnan(buys(r, "box", "cost_per_hour")->recommended));
    cr_expect(isnan(buys(r, "box", "interval")->cheapest));
    cr_expect(buys(r, "box", "changes_per_year")->recommended >= 1);
    cr_expect(isnan(buys(r, "machine", "grease_cost_per_year")->manual));
    trn_results_free(r);
    trn_machine_free(m);
}

/* ---- chosen numbers -------------------------------------------------------------------------- */

Test(money, choices_listed_are_those_in_use)
{
    trn_machine *m = study_read("cases/sampled");
    trn_results *r = ledger_of(m, 200);
    cr_expect(choice(r, "x") == NULL); /* silicon is in the place of the anchored dust */
    cr_assert_not_null(choice(r, "f_Si"));
    cr_expect_str_eq(choice(r, "f_Si")->points, "box oil");
    cr_expect_eq(choice(r, "f_Si")->governs, 1);
    cr_expect_eq(choice(r, "f_Si")->value, trn_choice_value(TRN_CHOICE_F_SI));
    cr_expect(choice(r, "ageing_life_synthetic") == NULL);
    cr_expect(choice(r, "oil_temperature") == NULL); /* measured */
    cr_assert_not_null(choice(r, "oil_temperature_measured"));
    cr_assert_not_null(choice(r, "grease_points"));
    cr_expect_str_eq(choice(r, "grease_points")->points, "crosses; tube");
    cr_expect(choice(r, "soil_exponent") == NULL);
    cr_expect(choice(r, "level_check") == NULL);
    cr_assert_not_null(choice(r, "extension_step"));
    trn_results_free(r);
    trn_machine_free(m);
}

Test(money, a_case_without_samples_lists_the_anchored_numbers)
{
    trn_machine *m = study_read("cases/rotary_mower");
    trn_results *r = ledger_of(m, 200);
    cr_assert_not_null(choice(r, "x"));
    cr_expect(choice(r, "f_Si") == NULL);
    cr_expect(choice(r, "extension_step") == NULL);
    cr_expect(choice(r, "dust_budget") == NULL);
    cr_assert_not_null(choice(r, "oil_temperature"));
    cr_expect_str_eq(choice(r, "oil_temperature")->spread, "normal 7");
    trn_results_free(r);
    trn_machine_free(m);
}

Test(money, medians_alone_rest_on_no_spread)
{
    trn_machine *m = study_read("cases/rotary_mower");
    trn_results *r = ledger_of(m, 0);
    cr_expect(choice(r, "oil_temperature") == NULL); /* medians only: no spread is used */
    cr_expect(choice(r, "risk") == NULL);
    cr_assert_not_null(choice(r, "x"));
    cr_expect_str_eq(choice(r, "x")->spread, "lognormal 1.33");
    trn_results_free(r);
    trn_machine_free(m);
}
