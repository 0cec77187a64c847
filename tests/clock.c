/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Table of intervals: recommendation, first change, services a year, what governs, course of the
 * oil, turning values, extension. Figures: worked example of the interval model (derived). */
#include <trunnion/clock.h>

#include <criterion/criterion.h>
#include <math.h>

#include "support.h"
#include "worked.h"

static const trn_clock common = {NULL, 0};

static trn_interval_settings defaults(void)
{
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    return settings;
}

static void near_to(const char *what, double got, double want, double within)
{
    cr_expect(fabs(got - want) <= within, "%s: wanted %.10g +- %g, got %.10g", what, want, within,
              got);
}

/* ---- recommendation ------------------------------------------------------------------------ */

Test(clock, recommendation_has_slack_and_a_ceiling)
{
    static const struct {
        double manual, at_risk, want;
        trn_status warning;
    } rows[] = {
        {500, 164.7, 125, TRN_OK}, {500, 242.52, 250, TRN_OK}, {500, 282, 250, TRN_OK},
        {500, 127, 125, TRN_OK},   {500, 43, 40, TRN_OK},      {500, 454.6, 500, TRN_OK},
        {500, 454.5, 400, TRN_OK}, {500, INFINITY, 500, TRN_OK}, {487, 443, 487, TRN_OK},
        {50, 12.25, 10, TRN_OK},   {50, 20.877, 20, TRN_OK},
        {50, 3.6, 4, TRN_R_INTERVAL_NOT_BY_GREASING},
        {3, 1.2, 3, TRN_R_INTERVAL_NOT_BY_GREASING}, {2000, 1500, 1000, TRN_OK},
    };
    trn_interval_settings settings = defaults();
    trn_service_point p;
    trn_service_point_clear(&p);
    p.task = TRN_TASK_GREASE_JOINT;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        trn_recommendation r = {0};
        p.manual_h = rows[i].manual;
        cr_assert_eq(trn_recommend(&p, rows[i].at_risk, common, &settings, NULL, &r), TRN_OK);
        cr_expect_eq(r.interval_h, rows[i].want, "T_m %g T_q %g: wanted %g, got %g",
                     rows[i].manual, rows[i].at_risk, rows[i].want, r.interval_h);
        cr_expect_eq(r.warning, rows[i].warning);
        cr_expect_leq(r.interval_h, rows[i].manual);
        cr_expect(r.warning != TRN_OK || r.manual ||
                  r.interval_h <= 1.1 * rows[i].at_risk * (1 + 1e-9));
    }
    trn_recommendation kept = {.interval_h = 2.385};
    cr_expect_eq(trn_recommend(&p, NAN, common, &settings, NULL, &kept), TRN_E_DOMAIN);
    cr_expect_eq(kept.interval_h, 2.385);
}

Test(clock, own_clock_replaces_the_common_one)
{
    static const double steps[] = {60, 12, 30, 240};
    static const double broken[] = {12, -1};
    trn_clock own = {steps, 4};
    trn_interval_settings settings = defaults();
    trn_service_point p;
    trn_service_point_clear(&p);
    p.task = TRN_TASK_CHANGE_OIL;
    p.manual_h = 300;
    trn_recommendation r = {0};
    cr_assert_eq(trn_recommend(&p, 54.6, own, &settings, NULL, &r), TRN_OK);
    cr_expect_eq(r.interval_h, 60);
    cr_assert_eq(trn_recommend(&p, 54.5, own, &settings, NULL, &r), TRN_OK);
    cr_expect_eq(r.interval_h, 30);
    cr_assert_eq(trn_recommend(&p, 10, own, &settings, NULL, &r), TRN_OK);
    cr_expect_eq(r.interval_h, 4);
    cr_expect_eq(r.warning, TRN_R_INTERVAL_BELOW_CLOCK);
    cr_assert_eq(trn_recommend(&p, 3, own, &settings, NULL, &r), TRN_OK);
    cr_expect_eq(r.warning, TRN_R_INTERVAL_NOT_BY_CHANGING);
    cr_expect_eq(trn_clock_next(own, 12), 30);
    cr_expect(isinf(trn_clock_next(own, 240)));
    cr_expect_eq(trn_clock_check((trn_clock){broken, 2}), TRN_E_INPUT);
    cr_expect_eq(trn_recommend(&p, 3, (trn_clock){broken, 2}, &settings, NULL, &r), TRN_E_DOMAIN);
}

Test(clock, step_of_a_step_is_itself)
{
    for (double t = 4; t < 1500; t *= 1.0137) {
        double step = trn_clock_floor(common, t);
        cr_expect_leq(step, t * (1 + 1e-9));
        cr_expect_eq(trn_clock_floor(common, step), step, "%g", t);
        cr_expect_gt(trn_clock_next(common, step), step);
    }
    cr_expect(isnan(trn_clock_floor(common, 3.99)));
}

Test(clock, first_change_and_services_a_year)
{
    trn_interval_settings settings = defaults();
    cr_expect_eq(trn_first_change_h(500, 125, common, &settings), 50);
    cr_expect_eq(trn_first_change_h(300, 250, common, &settings), 25);
    cr_expect_eq(trn_first_change_h(30, 20, common, &settings), 4);
    cr_expect_eq(trn_first_change_h(500, 40, common, &settings), 40);
    trn_service_point p;
    trn_duty_state s[2];
    worked_oil(&p, s);
    near_to("oil", trn_times_per_year(&p, s, 2, 125, 300, NULL), 2.4, 1e-12);
    cr_expect_eq(trn_times_per_year(&p, s, 2, 500, 300, NULL), 1);
    worked_joint(&p, s);
    near_to("washes", trn_washes_per_year(s, 2, 300), 1.2, 1e-12);
    near_to("joint", trn_times_per_year(&p, s, 2, 10, 300, NULL), 30.6, 0.05);
    s[1].washes_per_100h = 0;
    cr_expect_eq(trn_times_per_year(&p, s, 2, 10, 300, NULL), 30);
}

Test(clock, manual_and_calendar_come_before_mechanisms)
{
    trn_cause order[] = {TRN_CAUSE_ADDITIVE, TRN_CAUSE_DUST};
    trn_service_point p;
    trn_service_point_clear(&p);
    p.task = TRN_TASK_CHANGE_OIL;
    trn_recommendation r = {.interval_h = 125};
    trn_governing g = trn_govern(&p, order, 2, &r, 300);
    cr_expect(g.first == TRN_CAUSE_ADDITIVE && g.second == TRN_CAUSE_DUST);
    g = trn_govern(&p, order, 2, &r, 100);
    cr_expect(g.first == TRN_CAUSE_CALENDAR && g.second == TRN_CAUSE_ADDITIVE);
    r.manual = true;
    r.interval_h = 250;
    g = trn_govern(&p, order, 2, &r, 300);
    cr_expect(g.first == TRN_CAUSE_MANUAL && g.second == TRN_CAUSE_ADDITIVE);
    g = trn_govern(&p, order, 2, &r, 100);
    cr_expect(g.first == TRN_CAUSE_CALENDAR && g.second == TRN_CAUSE_MANUAL);
    p.task = TRN_TASK_GREASE_TUBE;
    g = trn_govern(&p, order, 2, &r, 100);
    cr_expect(g.first == TRN_CAUSE_MANUAL);
}

Test(clock, ties_of_draws_fall_to_the_smaller_median_then_to_the_columns)
{
    double score[TRN_LIMITS] = {0};
    double tie[TRN_LIMITS] = {0};
    trn_cause order[TRN_LIMITS];
    unsigned use = TRN_BIT(TRN_CAUSE_AGEING) | TRN_BIT(TRN_CAUSE_DUST) |
                   TRN_BIT(TRN_CAUSE_ADDITIVE);
    tie[TRN_CAUSE_AGEING] = 2.385;
    tie[TRN_CAUSE_DUST] = 1.9;
    tie[TRN_CAUSE_ADDITIVE] = 1.9;
    cr_assert_eq(trn_cause_rank(use, score, tie, order), 3);
    cr_expect(order[0] == TRN_CAUSE_DUST && order[1] == TRN_CAUSE_ADDITIVE &&
              order[2] == TRN_CAUSE_AGEING);
    score[TRN_CAUSE_AGEING] = 1;
    cr_assert_eq(trn_cause_rank(use, score, tie, order), 3);
    cr_expect_eq(order[0], TRN_CAUSE_AGEING);
}

/* ---- course of the oil --------------------------------------------------------------------- */

Test(clock, course_of_the_oil)
{
    trn_interval_settings settings = defaults();
    trn_service_point p;
    trn_duty_state s[2];
    trn_nominal m;
    worked_oil(&p, s);
    cr_assert_eq(trn_point_nominal(&p, s, 2, &settings, NULL, &m), TRN_OK);
    trn_oil_course c;
    cr_assert_eq(trn_oil_course_at(&p, &m, &settings, 500, 137.9, 890, &c), TRN_OK);
    cr_expect(isnan(c.dust_ppm) && c.code == -1);
    near_to("ageing", c.ageing_pct, 100 * 137.9 / m.ageing_mean_h, 1e-9);
    /* derived: equilibrium 133.0 ppm, start 130 */
    double eq = 100 + m.water_mg_h / (2.225 * 0.018);
    near_to("equilibrium", eq, 133.0, 0.05);
    near_to("water", c.water_ppm, eq + (130 - eq) * exp(-0.018 * 137.9), 1e-9);
    p.intake_l_h = 9;
    cr_assert_eq(trn_point_nominal(&p, s, 2, &settings, NULL, &m), TRN_OK);
    cr_assert_eq(trn_oil_course_at(&p, &m, &settings, 500, 0, 890, &c), TRN_OK);
    double start = c.dust_ppm;
    cr_assert_eq(trn_oil_course_at(&p, &m, &settings, 500, 500, 890, &c), TRN_OK);
    /* derived: steady cycle, the start is the residual part of the end */
    near_to("steady cycle", start, 0.1 * c.dust_ppm, 1e-12 * c.dust_ppm);
    near_to("rise", c.dust_ppm - start, 0.2538 / 2.225 * 500, 0.02);
    cr_expect_gt(c.code, 14);
    cr_expect_eq(trn_oil_course_at(&p, &m, &settings, 500, -1, 890, &c), TRN_E_DOMAIN);
}

/* ---- turning values ------------------------------------------------------------------------ */

typedef struct turned {
    trn_turn_id id;
    const trn_service_point *point;
    const trn_duty_state *states;
    size_t n;
    trn_interval_settings settings;
    bool draws;
} turned;

static double turned_life(double v, void *context)
{
    static double life[WORKED_DRAWS];
    turned *t = context;
    trn_service_point p;
    trn_duty_state s[4];
    trn_nominal m;
    trn_turn_apply(t->id, v, t->point, t->states, t->n, &p, s);
    if (trn_point_nominal(&p, s, t->n, &t->settings, NULL, &m) < 0)
        return NAN;
    if (!t->draws)
        return m.life_h;
    worked_draws(&p, s, t->n, &t->settings, m.use, 0, life, NULL);
    return worked_quantile(life, 0.1);
}

typedef struct turn_row {
    trn_turn_id id;
    double manual, next; /* 0: blank */
    double within, within_manual;
} turn_row;

static void check_turns(const trn_service_point *p, const trn_duty_state *s, bool draws,
                        const turn_row *rows, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        turned t = {.id = rows[i].id, .point = p, .states = s, .n = 2, .settings = defaults(),
                    .draws = draws};
        trn_turning found;
        const char *name = trn_turn_name(rows[i].id);
        cr_assert_eq(trn_turning_find(rows[i].id, p, false, common, &t.settings, turned_life, &t,
                                      &found),
                     TRN_OK);
        if (rows[i].manual == 0)
            cr_expect(isnan(found.manual_stands_at), "%s manual %g", name, found.manual_stands_at);
        else
            near_to(name, found.manual_stands_at, rows[i].manual, rows[i].within_manual);
        if (rows[i].next == 0)
            cr_expect(isnan(found.next_step_at), "%s next %g", name, found.next_step_at);
        else
            near_to(name, found.next_step_at, rows[i].next, rows[i].within);
    }
}

Test(clock, turning_values_of_the_worked_joint)
{
    trn_service_point p;
    trn_duty_state s[2];
    worked_joint(&p, s);
    /* derived: printed digits, and 1e-4 of the search */
    static const turn_row nominal[] = {
        {TRN_TURN_DUST, 0, 0.795, 0.0006, 0},
        {TRN_TURN_SHOCK, 0, 0.937, 0.0006, 0},
        {TRN_TURN_POWER, 0, 0.868, 0.0006, 0},
        {TRN_TURN_REF_DUST, 59.9, 5.07, 0.0056, 0.056},
        {TRN_TURN_REF_SHOCK, 1.890, 1.360, 0.0006, 0.0007},
        {TRN_TURN_REF_TEMPERATURE, 92.7, 72.2, 0.06, 0.06},
        {TRN_TURN_REF_LOAD, 0.266, 0.116, 0.0005, 0.0005},
        {TRN_TURN_REF_ANGLE, 0, 11.08, 0.006, 0},
        {TRN_TURN_REF_SPEED, 0, 598.5, 0.11, 0},
    };
    check_turns(&p, s, false, nominal, sizeof nominal / sizeof nominal[0]);
    cr_expect_not(trn_turn_acts(TRN_TURN_OIL_TEMPERATURE, &p, s, 2));
    cr_expect_not(trn_turn_acts(TRN_TURN_WASHES, &p, s, 2));
}

Test(clock, turning_values_of_the_joint_at_risk)
{
    trn_service_point p;
    trn_duty_state s[2];
    worked_joint(&p, s);
    static const turn_row at_risk[] = {
        {TRN_TURN_DUST, 0, 0.509, 0.02, 0},
        {TRN_TURN_REF_DUST, 95.7, 11.1, 0.4, 3},
        {TRN_TURN_REF_SHOCK, 2.07, 1.555, 0.02, 0.03},
        {TRN_TURN_REF_TEMPERATURE, 101.8, 78.0, 0.5, 1.2},
        {TRN_TURN_REF_LOAD, 0.307, 0.153, 0.004, 0.006},
        {TRN_TURN_REF_ANGLE, 0, 0, 0, 0},
        {TRN_TURN_POWER, 0, 0, 0, 0},
    };
    check_turns(&p, s, true, at_risk, sizeof at_risk / sizeof at_risk[0]);
}

/* The page prints a next step (20 h) at 0.667 of the shock. There 1.5 x 0.667 is the least
 * factor, 1, and a smaller one changes nothing any more: T_q stays at 18.13 h (independent draws in
 * another language, four times 2 million plain ones: 18.116, 18.126, 18.131, 18.140), a little
 * below the 18.18 = 20/1.1 that the step asks for. With ever more draws the value is blank; the
 * 10 000 of the page have an error of 0.7 % (0.13 h), so theirs is either blank or lies where
 * T_q > 18.18 - 3 x 0.13: between 2/3 and 0.72 (17.75 h, same source). */
Test(clock, shock_of_the_joint_at_risk_ends_just_short_of_the_step)
{
    trn_service_point p;
    trn_duty_state s[2];
    worked_joint(&p, s);
    turned t = {.id = TRN_TURN_SHOCK, .point = &p, .states = s, .n = 2, .settings = defaults(),
                .draws = true};
    trn_turning found;
    near_to("T_q at 2/3", turned_life(2.0 / 3, &t), 18.13, 3 * 0.13);
    near_to("T_q at 0.72", turned_life(0.72, &t), 17.75, 3 * 0.13);
    cr_expect_eq(turned_life(0.6, &t), turned_life(0.5, &t)); /* both at the floor */
    cr_assert_eq(trn_turning_find(t.id, &p, false, common, &t.settings, turned_life, &t, &found),
                 TRN_OK);
    cr_expect(isnan(found.manual_stands_at));
    cr_expect(isnan(found.next_step_at) ||
                  (found.next_step_at >= 2.0 / 3 * (1 - 1e-4) && found.next_step_at <= 0.72),
              "next %g", found.next_step_at);
}

Test(clock, turning_values_of_the_oil_at_risk)
{
    trn_service_point p;
    trn_duty_state s[2];
    worked_oil(&p, s);
    static const turn_row rows[] = {
        {TRN_TURN_POWER, 0, 0.808, 0.02, 0},
        {TRN_TURN_OIL_TEMPERATURE, 0, -2.2, 0.4, 0},
        {TRN_TURN_REF_TEMPERATURE, 0, 72.2, 0.4, 0},
    };
    check_turns(&p, s, true, rows, 3);
    static const turn_row none[] = {
        {TRN_TURN_DUST, 0, 0, 0, 0},
        {TRN_TURN_POWER, 0, 0, 0, 0},
        {TRN_TURN_OIL_TEMPERATURE, 0, 0, 0, 0},
        {TRN_TURN_REF_DUST, 0, 0, 0, 0},
        {TRN_TURN_REF_TEMPERATURE, 0, 0, 0, 0},
        {TRN_TURN_WASHES, 0, 0, 0, 0},
    };
    check_turns(&p, s, false, none, sizeof none / sizeof none[0]);
}

/* A turning value put back gives the longer interval; a little short of it does not. */
Test(clock, turning_values_put_back)
{
    trn_service_point p;
    trn_duty_state s[2];
    trn_interval_settings settings = defaults();
    worked_joint(&p, s);
    for (unsigned id = 0; id < TRN_TURNS; id++) {
        turned t = {.id = (trn_turn_id)id, .point = &p, .states = s, .n = 2,
                    .settings = settings};
        trn_turning f;
        if (!trn_turn_acts(t.id, &p, s, 2))
            continue;
        cr_assert_eq(trn_turning_find(t.id, &p, false, common, &settings, turned_life, &t, &f),
                     TRN_OK);
        double sought[2] = {f.next_step_at, f.manual_stands_at};
        trn_recommendation r = {0};
        cr_assert_eq(trn_recommend(&p, turned_life(f.used, &t), common, &settings, NULL, &r),
                     TRN_OK);
        double before = r.interval_h;
        for (size_t i = 0; i < 2; i++) {
            if (isnan(sought[i]))
                continue;
            double back = f.used + (sought[i] - f.used) * (i == 0 ? 0.97 : 0.995);
            cr_assert_eq(trn_recommend(&p, turned_life(sought[i], &t), common, &settings, NULL, &r),
                         TRN_OK);
            cr_expect(i == 1 ? r.manual : r.interval_h > before, "%s at %g: %g h",
                      trn_turn_name(t.id), sought[i], r.interval_h);
            cr_assert_eq(trn_recommend(&p, turned_life(back, &t), common, &settings, NULL, &r),
                         TRN_OK);
            cr_expect(i == 1 ? !r.manual : r.interval_h <= before, "%s short of it, at %g: %g h",
                      trn_turn_name(t.id), back, r.interval_h);
        }
        if (!isnan(sought[0]) && !isnan(sought[1]))
            cr_expect(fabs(sought[0] - f.used) <= fabs(sought[1] - f.used));
    }
}

Test(clock, where_the_manual_stands_the_turning_value_is_how_far)
{
    trn_service_point p;
    trn_duty_state s[2];
    trn_interval_settings settings = defaults();
    worked_joint(&p, s);
    s[0].dust_mg_m3 = 3;
    s[0].shock = 1.25;
    s[0].load_pc = 0.08;
    s[0].angle_deg = 8;
    turned t = {.id = TRN_TURN_DUST, .point = &p, .states = s, .n = 2, .settings = settings};
    trn_turning f;
    cr_assert_eq(trn_turning_find(t.id, &p, false, common, &settings, turned_life, &t, &f),
                 TRN_OK);
    cr_expect(isnan(f.next_step_at));
    /* derived: 1 - 0.3 ln v/ln 5 = 1/1.1 */
    near_to("dust", f.manual_stands_at, exp((1 - 1 / 1.1) / 0.3 * log(5)), 1.5e-4 * 1.63);
    t.id = TRN_TURN_REF_LOAD;
    cr_assert_eq(trn_turning_find(t.id, &p, false, common, &settings, turned_life, &t, &f),
                 TRN_OK);
    cr_expect(isnan(f.manual_stands_at), "P/C of 0.08 costs nothing at any reference");
}

/* ---- longer than the manual ---------------------------------------------------------------- */

Test(clock, extension_needs_every_condition)
{
    static const double t[] = {50, 100, 150, 200, 250};
    static const double fe[] = {8, 15, 24, 30, 39};
    static const double falling[] = {-8, -15, -24, -30, -39};
    trn_measurand list[] = {{"fe", t, fe, 5, 60, false}, {"kv40", t, falling, 5, -60, true}};
    trn_extension e;
    cr_assert_eq(trn_extend(250, 250, 900, 800, list, 2, 400, &e), TRN_OK);
    cr_expect_eq(e.candidate_h, 300);
    cr_expect_eq(e.bar, TRN_EXTENSION_ALLOWED);
    near_to("bound of the falling one", e.bound, -49.01, 0.005);
    cr_assert_eq(trn_extend(250, 250, 700, 800, list, 2, 400, &e), TRN_OK);
    cr_expect_eq(e.bar, TRN_EXTENSION_WARRANTY);
    cr_assert_eq(trn_extend(250, 250, 900, NAN, list, 2, 400, &e), TRN_OK);
    cr_expect_eq(e.bar, TRN_EXTENSION_WARRANTY_UNKNOWN);
    cr_assert_eq(trn_extend(250, 250, 900, 800, list, 2, 299, &e), TRN_OK);
    cr_expect_eq(e.bar, TRN_EXTENSION_OIL);
    list[1].limit = -49;
    cr_assert_eq(trn_extend(250, 250, 900, 800, list, 2, 400, &e), TRN_OK);
    cr_expect(e.bar == TRN_EXTENSION_TREND && e.which == 1);
    list[0].n = 3;
    cr_assert_eq(trn_extend(250, 250, 900, 800, list, 2, 400, &e), TRN_OK);
    cr_expect(e.bar == TRN_EXTENSION_FEW_SAMPLES && e.which == 0);
    cr_assert_eq(trn_extend(500, 250, 900, 800, list, 2, 400, &e), TRN_OK);
    cr_expect_eq(e.bar, TRN_EXTENSION_NOT_LONGER);
    /* steps of 5 h below 100 h, of 25 h from there on */
    cr_assert_eq(trn_extend(50, 50, 900, 800, list, 2, 400, &e), TRN_OK);
    cr_expect_eq(e.candidate_h, 60);
    cr_assert_eq(trn_extend(80, 80, 900, 800, list, 2, 400, &e), TRN_OK);
    cr_expect_eq(e.candidate_h, 100);
    cr_assert_eq(trn_extend(450, 250, 900, 800, list, 2, 400, &e), TRN_OK);
    cr_expect_eq(e.candidate_h, 500);
    cr_expect_eq(trn_extend(NAN, 250, 900, 800, list, 2, 400, &e), TRN_E_DOMAIN);
}
