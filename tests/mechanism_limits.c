/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Mechanisms of a service point where inputs are missing or wrong; water, wear, level; the trace.
 * Figures: derived from the equations of the interval model. */
#include <criterion/criterion.h>
#include <math.h>
#include <string.h>
#include <time.h>

#include "support.h"
#include "worked.h"

static void near_digits(const char *what, double got, double want, double half_digit)
{
    cr_expect(fabs(got - want) <= half_digit, "%s: wanted %.10g +- %g, got %.10g", what, want,
              half_digit, got);
}

static void nominal_of(const trn_service_point *point, const trn_duty_state *states, size_t n,
                       trn_nominal *nominal)
{
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    cr_assert_eq(trn_point_nominal(point, states, n, &settings, NULL, nominal), TRN_OK);
}

/* ---- what is not known --------------------------------------------------------------------- */

Test(mechanism, unknown_inputs_leave_out_or_count_as_the_reference)
{
    trn_service_point p;
    trn_duty_state s[2];
    trn_nominal m;
    worked_oil(&p, s);
    s[1].oil_c = NAN;
    nominal_of(&p, s, 2, &m);
    cr_expect(isnan(m.limit[TRN_CAUSE_AGEING].life_h));
    cr_expect_eq(m.limit[TRN_CAUSE_AGEING].why, TRN_R_INTERVAL_NO_OIL_TEMPERATURE);
    cr_expect(isnan(m.limit[TRN_CAUSE_WATER].life_h));
    cr_expect(m.assumed & TRN_BIT(TRN_CAUSE_ADDITIVE));
    near_digits("r4", m.limit[TRN_CAUSE_ADDITIVE].rate, 0.6 * 2.9333333 + 0.4 * 0.5333333, 1e-5);

    worked_oil(&p, s);
    s[0].dust_mg_m3 = NAN;
    s[0].load_ratio = NAN;
    p.headspace_l = NAN;
    nominal_of(&p, s, 2, &m);
    near_digits("unknown dust", m.limit[TRN_CAUSE_DUST].life_h, 500, 1e-9);
    cr_expect(m.assumed & TRN_BIT(TRN_CAUSE_DUST));
    cr_expect_eq(m.limit[TRN_CAUSE_ADDITIVE].why, TRN_R_INTERVAL_NO_RATED_POWER);
    cr_expect(isnan(m.limit[TRN_CAUSE_ADDITIVE].life_h));
    near_digits("washes alone", m.water_mg_h, 0.4 * 2, 1e-12);
    cr_expect(isinf(m.limit[TRN_CAUSE_WATER].life_h));

    p.oil_kg = NAN;
    nominal_of(&p, s, 2, &m);
    cr_expect_eq(m.limit[TRN_CAUSE_WATER].why, TRN_R_INTERVAL_NO_OIL_MASS);
    near_digits("dry ageing", m.limit[TRN_CAUSE_AGEING].life_h, 2403.6, 0.05);

    worked_joint(&p, s);
    for (size_t i = 0; i < 2; i++) {
        s[i].dust_mg_m3 = NAN;
        s[i].load_pc = NAN;
        s[i].angle_deg = NAN;
        s[i].shock = 1.25;
    }
    nominal_of(&p, s, 2, &m);
    near_digits("all at the reference", m.life_h, 50, 1e-9);
    cr_expect_eq(m.assumed, TRN_BIT(TRN_CAUSE_DUST) | TRN_BIT(TRN_CAUSE_LOAD) |
                                TRN_BIT(TRN_CAUSE_MOTION));
    s[0].angle_deg = 0;
    p.grease_limit_c = 50;
    nominal_of(&p, s, 2, &m);
    cr_expect_eq(m.remark_count, 2);
    cr_expect_eq(m.remarks[0], TRN_R_INTERVAL_STILL);
    cr_expect_eq(m.remarks[1], TRN_R_INTERVAL_GREASE_LIMIT);
}

Test(mechanism, wrong_inputs_are_refused_and_leave_the_result_alone)
{
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    trn_service_point p;
    trn_duty_state s[2];
    trn_nominal m = {.life_h = 2.385};
    worked_oil(&p, s);
    s[0].share = 0.7;
    cr_expect_eq(trn_point_nominal(&p, s, 2, &settings, NULL, &m), TRN_E_INPUT);
    s[0].share = 0.6;
    p.manual_h = 0;
    cr_expect_eq(trn_point_nominal(&p, s, 2, &settings, NULL, &m), TRN_E_INPUT);
    worked_joint(&p, s);
    p.ref_shock = NAN;
    cr_expect_eq(trn_point_nominal(&p, s, 2, &settings, NULL, &m), TRN_E_INPUT);
    cr_expect_eq(m.life_h, 2.385);
}

/* ---- water, wear, level -------------------------------------------------------------------- */

Test(mechanism, damp_and_wet_oil_ages_faster)
{
    trn_service_point p;
    trn_duty_state s[2];
    trn_nominal m;
    worked_oil(&p, s);
    p.water_source_mg_h = 18;
    nominal_of(&p, s, 2, &m);
    /* derived: w(t) = eq + (130 - eq) e^(-kt), ageing by the three pieces */
    double k = 0.018;
    double eq = 100 + 18 / (2.225 * k);
    double t1 = log((eq - 130) / (eq - 200)) / k;
    double t2 = log((eq - 130) / (eq - 400)) / k;
    near_digits("t1", m.damp_h, t1, 1e-9);
    near_digits("t2", m.limit[TRN_CAUSE_WATER].life_h, t2, 1e-9);
    double life = m.ageing_mean_h;
    near_digits("T1", m.limit[TRN_CAUSE_AGEING].life_h, t2 + (life - t1 - 2 * (t2 - t1)) / 5,
                1e-6);
    cr_expect_eq(m.limit[TRN_CAUSE_WATER].basis, TRN_BASIS_SAMPLES);
    p.water_budget_ppm = 120; /* below the start: spent at once */
    nominal_of(&p, s, 2, &m);
    cr_expect(m.limit[TRN_CAUSE_WATER].life_h > 0);
    p.water_budget_ppm = 99;
    nominal_of(&p, s, 2, &m);
    cr_expect_eq(m.limit[TRN_CAUSE_WATER].life_h, 0);
}

Test(mechanism, water_source_from_samples_is_the_median_of_pairs)
{
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    trn_service_point p;
    trn_duty_state s[2];
    worked_oil(&p, s);
    double k = 0.018;
    double first[3];
    double second[3];
    double apart[3] = {40, 71.9, 118.4};
    double source[3] = {2.385, 7.19, 11.84};
    double work[3];
    for (size_t i = 0; i < 3; i++) {
        double eq = 100 + source[i] / (2.225 * k);
        first[i] = 150;
        second[i] = eq + (150 - eq) * exp(-k * apart[i]);
    }
    double found = 0;
    cr_assert_eq(trn_water_from_samples(&p, s, 2, &settings, first, second, apart, 3, work,
                                        &found),
                 TRN_OK);
    cr_expect(test_near(found, 7.19, 1e-9), "%g", found);
    second[1] = 0; /* drier than drying explains: counts as none */
    cr_assert_eq(trn_water_from_samples(&p, s, 2, &settings, first + 1, second + 1, apart + 1, 1,
                                        work, &found),
                 TRN_OK);
    cr_expect_eq(found, 0);
}

Test(mechanism, wear_debris_by_the_first_element_at_its_limit)
{
    trn_service_point p;
    trn_duty_state s[2];
    trn_nominal m;
    worked_oil(&p, s);
    p.elements[0] = (trn_wear_element){"fe", 0.2, 300, 5};
    p.elements[1] = (trn_wear_element){"si", 0.31, 60, 8};
    p.elements[2] = (trn_wear_element){"cu", -0.1, 275, 1};
    p.element_count = 3;
    nominal_of(&p, s, 2, &m);
    /* derived: (B - C_0)/rate, C_0 = 0.9 x 8 + 0.1 x 60 */
    near_digits("T6", m.limit[TRN_CAUSE_WEAR].life_h, (60 - 13.2) / 0.31, 1e-9);
    cr_expect_eq(m.limit[TRN_CAUSE_WEAR].element, 1);
    cr_expect_eq(m.order[0], TRN_CAUSE_WEAR);
}

Test(mechanism, level_check_by_the_top_up)
{
    trn_service_point p;
    trn_duty_state s[2];
    trn_nominal m;
    worked_oil(&p, s);
    p.task = TRN_TASK_CHECK_OIL;
    p.manual_h = 50;
    nominal_of(&p, s, 2, &m);
    cr_expect_eq(m.life_h, 50);
    cr_expect_eq(m.use, 0);
    p.level_margin_l = 0.4;
    p.top_up_l_h = 0.0083;
    nominal_of(&p, s, 2, &m);
    near_digits("half of the margin", m.life_h, 0.5 * 0.4 / 0.0083, 1e-9);
    cr_expect_eq(m.order[0], TRN_CAUSE_LOSS);
}

Test(mechanism, a_small_headspace_carries_on_evenly)
{
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    trn_service_point p;
    trn_duty_state s[2];
    trn_nominal a;
    trn_nominal b;
    worked_oil(&p, s);
    double swell = 7e-4 * 2.5 * (90 - 28); /* the oil fills the headspace at this size */
    p.headspace_l = swell * (1 + 1e-7);
    nominal_of(&p, s, 2, &a);
    p.headspace_l = swell * (1 - 1e-7);
    nominal_of(&p, s, 2, &b);
    cr_expect(test_near(a.water_mg_h, b.water_mg_h, 1e-6), "%.12g %.12g", a.water_mg_h,
              b.water_mg_h);
}

/* ---- trace --------------------------------------------------------------------------------- */

static double last_of(const trn_trace *trace, const char *formula, size_t output)
{
    for (size_t i = trace->count; i-- > 0;)
        if (strcmp(trace->list[i].formula->name, formula) == 0)
            return trace->list[i].out[output];
    return NAN;
}

Test(mechanism, the_trace_ends_at_the_same_figures)
{
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    trn_service_point p;
    trn_duty_state s[2];
    trn_nominal m;
    trn_trace trace = {0};
    worked_oil(&p, s);
    p.water_source_mg_h = NAN;
    p.intake_l_h = 9;
    p.intake_from_silicon = true;
    cr_assert_eq(trn_point_nominal(&p, s, 2, &settings, &trace, &m), TRN_OK);
    cr_expect_gt(trace.count, 12);
    for (size_t i = 0; i < trace.count; i++)
        cr_expect(trace.list[i].status >= 0, "%s: %s", trace.list[i].formula->name,
                  trn_status_text(trace.list[i].status));
    cr_expect(test_near(last_of(&trace, "interval.ageing", 1) / 3600,
                        m.limit[TRN_CAUSE_AGEING].life_h, 1e-12));
    cr_expect(test_near(last_of(&trace, "interval.add_water", 0) * 3600e6, m.water_mg_h, 1e-12));
    cr_expect(test_near(last_of(&trace, "interval.add_water", 1) * 3600, m.drying_per_h, 1e-12));
    cr_expect(test_near(last_of(&trace, "interval.budget", 1) / 3600,
                        m.limit[TRN_CAUSE_DUST].life_h, 1e-12));
    cr_expect(test_near(last_of(&trace, "interval.anchored", 0) / 3600,
                        m.limit[TRN_CAUSE_ADDITIVE].life_h, 1e-12));
    trn_trace_free(&trace);
    worked_joint(&p, s);
    cr_assert_eq(trn_point_nominal(&p, s, 2, &settings, &trace, &m), TRN_OK);
    cr_expect(test_near(last_of(&trace, "interval.anchored", 0) / 3600, m.life_h, 1e-12));
    trn_trace_free(&trace);
}
