/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures of what a change of oil interval buys, and the costs behind them. */
#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/draws.h>
#include <trunnion/ledger.h>
#include <trunnion/plot.h>

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

static const trn_buys_row *buys(const trn_results *r, const char *quantity)
{
    for (size_t i = 0; i < r->ledger->buys_count; i++)
        if (strcmp(r->ledger->buys[i].quantity, quantity) == 0)
            return &r->ledger->buys[i];
    cr_assert_fail("no %s", quantity);
    return NULL;
}

/* derived: g(T) year = c/T year + wear linear in T, so that three points tell the whole curve; the
 * least of it lies at the cheapest interval, whose cost is in buys.csv */
Test(plot_buys, cost_course_is_the_law_and_its_least_the_cheapest)
{
    trn_machine *m = study_read("cases/sampled");
    trn_results *r = ledger_of(m, 0);
    const trn_cost_row *c = r->ledger->costs;
    cr_assert_eq(r->ledger->costs_count, TRN_COST_POINTS);
    double year = m->head.hours_per_year;
    double change = m->gearboxes[0].change_cost * year;
    double base = m->gearboxes[0].gearbox_cost / m->head.design_life * year;
    double slope = (c[0].cost - change / c[0].interval_h - base) / c[0].interval_h;
    double least = INFINITY;
    for (size_t i = 0; i < TRN_COST_POINTS; i++) {
        double law = change / c[i].interval_h + base + slope * c[i].interval_h;
        cr_expect(test_near(c[i].cost, law, 1e-9), "%g h: %.12g, %.12g", c[i].interval_h,
                  c[i].cost, law);
        cr_expect(isnan(c[i].low) && isnan(c[i].high)); /* medians alone have no spread */
        cr_expect(i == 0 || c[i].interval_h > c[i - 1].interval_h);
        least = fmin(least, c[i].cost);
    }
    cr_expect_geq(least, buys(r, "cost_per_year")->cheapest * (1 - 1e-12));
    cr_expect(test_near(least, buys(r, "cost_per_year")->cheapest, 0.01));
    cr_expect_lt(c[0].interval_h, buys(r, "interval")->recommended);
    cr_expect_gt(c[TRN_COST_POINTS - 1].interval_h, buys(r, "interval")->manual);
    trn_results_free(r);
    trn_machine_free(m);
}

/* derived: the spread is that of the wear, which vanishes with the interval */
Test(plot_buys, band_opens_with_the_interval)
{
    trn_machine *m = study_read("cases/sampled");
    trn_results *r = ledger_of(m, 2000);
    const trn_cost_row *c = r->ledger->costs;
    for (size_t i = 0; i < TRN_COST_POINTS; i++) {
        cr_expect(c[i].low < c[i].cost && c[i].cost < c[i].high, "%g h", c[i].interval_h);
        cr_expect(i == 0 || c[i].high - c[i].low > c[i - 1].high - c[i - 1].low);
    }
    trn_results_free(r);
    trn_machine_free(m);
}

/* derived: the numbers of buys.csv: life 552 against 371 h, cost 268.4 against 258.3 EUR */
Test(plot_buys, findings_state_the_numbers)
{
    trn_machine *m = study_read("cases/sampled");
    trn_results *r = ledger_of(m, 500);
    trn_buffer script = {0};
    trn_buffer finding = {0};
    char wanted[300];
    double gain = 100 * (buys(r, "bearing_life")->recommended / buys(r, "bearing_life")->manual - 1);
    double more = buys(r, "cost_per_year")->recommended - buys(r, "cost_per_year")->manual;
    (void)snprintf(wanted, sizeof wanted,
                   "oil changed as recommended in 1 of 1 gearboxes: bearing life up to %.0f %% "
                   "longer (box), %.0f EUR more a year",
                   gain, more);
    cr_assert_eq(trn_plot_buys(r, &script, &finding), TRN_OK);
    cr_expect_str_eq(finding.text, wanted);
    cr_expect(strstr(script.text, "set multiplot") != NULL);
    trn_buffer_free(&script);
    trn_buffer_free(&finding);
    cr_assert_eq(trn_plot_cost(r, 0, &script, &finding), TRN_OK);
    cr_expect(strncmp(finding.text, "box: changes and wear cost least at ", 36) == 0, "%s",
              finding.text);
    cr_expect_eq(trn_plot_cost(r, 1, &script, &finding), TRN_E_UNKNOWN); /* no seventh box */
    trn_buffer_free(&script);
    trn_buffer_free(&finding);
    trn_results_free(r);
    trn_machine_free(m);
}

Test(plot_buys, nothing_known_nothing_drawn)
{
    trn_machine *m = study_read("cases/tedder");
    trn_results *r = study_evaluated(m);
    trn_buffer script = {0};
    trn_buffer finding = {0};
    cr_expect_eq(trn_plot_buys(r, &script, &finding), TRN_E_UNKNOWN); /* no ledger yet */
    cr_assert_eq(trn_study_ledger(r), TRN_OK);
    cr_expect_eq(trn_plot_buys(r, &script, &finding), TRN_E_UNKNOWN); /* no gearbox */
    cr_expect_eq(trn_plot_cost(r, 0, &script, &finding), TRN_E_UNKNOWN);
    cr_expect_eq(script.length + finding.length, 0);
    trn_results_free(r);
    trn_machine_free(m);
}

/* A name of the user is quoted data in the script, not a command. */
Test(plot_buys, names_stay_in_quotes)
{
    trn_machine *m = study_read("cases/sampled");
    m->gearboxes[0].gearbox = "x'; system 'touch y";
    for (size_t i = 0; i < m->points_count; i++)
        if (m->points[i].gearbox_index == 0)
            m->points[i].component = m->gearboxes[0].gearbox;
    trn_results *r = ledger_of(m, 0);
    trn_buffer script = {0};
    trn_buffer finding = {0};
    cr_assert_eq(trn_plot_buys(r, &script, &finding), TRN_OK);
    cr_assert_eq(trn_plot_cost(r, 0, &script, &finding), TRN_OK);
    cr_expect(strstr(script.text, "x'; system") == NULL);
    cr_expect(strstr(script.text, "'x'.quote.'; system '.quote.'touch y'") != NULL);
    trn_buffer_free(&script);
    trn_buffer_free(&finding);
    trn_results_free(r);
    trn_machine_free(m);
}
