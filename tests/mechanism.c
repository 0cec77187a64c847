/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Mechanisms of a service point against the worked example of the interval model (derived: every
 * figure follows from its equations; quantiles to 3 %, the noise of 10 000 draws), and what must
 * hold whatever the numbers. */
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

Test(mechanism, worked_oil_nominal)
{
    trn_service_point p;
    trn_duty_state s[2];
    trn_nominal m;
    worked_oil(&p, s);
    nominal_of(&p, s, 2, &m);
    near_digits("Lbar", m.ageing_mean_h, 2403.6, 0.05);
    near_digits("T1", m.limit[TRN_CAUSE_AGEING].life_h, 2403.6, 0.05);
    near_digits("mean r", m.limit[TRN_CAUSE_DUST].rate, 1.672, 1e-12);
    near_digits("T2", m.limit[TRN_CAUSE_DUST].life_h, 299.04, 0.005);
    near_digits("s_w", m.water_mg_h, 1.3234, 0.00005);
    near_digits("kbar", m.drying_per_h, 0.018, 1e-12);
    near_digits("w at the start", m.water_start_ppm, 130, 1e-9);
    cr_expect(isinf(m.limit[TRN_CAUSE_WATER].life_h));
    near_digits("r4", m.limit[TRN_CAUSE_ADDITIVE].rate, 2.0617, 0.00005);
    near_digits("T4", m.limit[TRN_CAUSE_ADDITIVE].life_h, 242.52, 0.005);
    near_digits("nominal", m.life_h, 242.52, 0.005);
    cr_expect_eq(m.order[0], TRN_CAUSE_ADDITIVE);
    cr_expect_eq(m.order[1], TRN_CAUSE_DUST);
    cr_expect_eq(m.order[2], TRN_CAUSE_AGEING);
    cr_expect_eq(m.order_count, 3);
    cr_expect_eq(m.limit[TRN_CAUSE_ADDITIVE].worst, 0);
    cr_expect_eq(m.limit[TRN_CAUSE_WATER].worst, 1);
    cr_expect_eq(m.remark_count, 1);
    cr_expect_eq(m.remarks[0], TRN_R_INTERVAL_WATER_NEVER);
    cr_expect(isnan(m.limit[TRN_CAUSE_WEAR].life_h));
    cr_expect_eq(m.limit[TRN_CAUSE_WEAR].why, TRN_R_INTERVAL_NO_SAMPLES);
}

Test(mechanism, worked_oil_draws)
{
    static double life[WORKED_DRAWS];
    static double sorted[WORKED_DRAWS];
    static trn_cause smallest[WORKED_DRAWS];
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    trn_service_point p;
    trn_duty_state s[2];
    trn_nominal m;
    worked_oil(&p, s);
    nominal_of(&p, s, 2, &m);
    clock_t start = clock();
    worked_draws(&p, s, 2, &settings, m.use, 0, life, smallest);
    double seconds = (double)(clock() - start) / CLOCKS_PER_SEC;
    cr_expect_lt(seconds, 0.5, "10 000 draws took %g s", seconds);
    memcpy(sorted, life, sizeof sorted);
    static const double want[][2] = {{0.05, 145.4}, {0.10, 164.7}, {0.25, 195.8},
                                     {0.50, 228.3}, {0.75, 257.9}, {0.90, 282.3}};
    for (size_t i = 0; i < 6; i++)
        near_digits("quantile", worked_quantile(sorted, want[i][0]), want[i][1],
                    0.03 * want[i][1]);
    double tq = worked_quantile(sorted, 0.10);
    double count[TRN_LIMITS] = {0};
    double low[TRN_LIMITS] = {0};
    double below = 0;
    for (size_t k = 0; k < WORKED_DRAWS; k++) {
        count[smallest[k]]++;
        if (life[k] <= tq) {
            low[smallest[k]]++;
            below++;
        }
    }
    near_digits("additive smallest", count[TRN_CAUSE_ADDITIVE] / WORKED_DRAWS, 0.734, 0.015);
    near_digits("dust smallest", count[TRN_CAUSE_DUST] / WORKED_DRAWS, 0.265, 0.015);
    near_digits("additive below T_q", low[TRN_CAUSE_ADDITIVE] / below, 0.562, 0.05);
    trn_cause order[TRN_LIMITS];
    size_t n = trn_cause_rank(m.use, low, count, order);
    cr_expect_eq(n, 3);
    cr_expect_eq(order[0], TRN_CAUSE_ADDITIVE);
    cr_expect_eq(order[1], TRN_CAUSE_DUST);
    static const struct {
        unsigned use;
        double want;
    } alone[] = {{TRN_BIT(TRN_CAUSE_AGEING), 881},
                 {TRN_BIT(TRN_CAUSE_DUST), 194.4},
                 {TRN_BIT(TRN_CAUSE_ADDITIVE), 180.4},
                 {TRN_BIT(TRN_CAUSE_AGEING) | TRN_BIT(TRN_CAUSE_WATER), 849}};
    for (size_t i = 0; i < 4; i++) {
        worked_draws(&p, s, 2, &settings, alone[i].use, 0, life, NULL);
        near_digits("10 % alone", worked_quantile(life, 0.10), alone[i].want,
                    0.03 * alone[i].want);
    }
}

Test(mechanism, worked_oil_with_silicon)
{
    static double life[WORKED_DRAWS];
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    trn_service_point p;
    trn_duty_state s[2];
    trn_nominal m;
    worked_oil(&p, s);
    p.intake_l_h = 9;
    nominal_of(&p, s, 2, &m);
    near_digits("s_d", m.dust_mg_h, 0.2538, 0.00005);
    near_digits("T2, stated intake", m.limit[TRN_CAUSE_DUST].life_h, 299.04, 0.005);
    p.intake_from_silicon = true;
    nominal_of(&p, s, 2, &m);
    near_digits("T2, silicon", m.limit[TRN_CAUSE_DUST].life_h, 789.0, 0.05);
    cr_expect_eq(m.limit[TRN_CAUSE_DUST].basis, TRN_BASIS_SAMPLES);
    worked_draws(&p, s, 2, &settings, m.use, 0, life, NULL);
    static const double want[][2] = {{0.10, 177.9}, {0.50, 240.9}, {0.90, 294.2}};
    for (size_t i = 0; i < 3; i++)
        near_digits("quantile", worked_quantile(life, want[i][0]), want[i][1], 0.03 * want[i][1]);
}

Test(mechanism, worked_joint_nominal)
{
    trn_service_point p;
    trn_duty_state s[2];
    trn_nominal m;
    worked_joint(&p, s);
    nominal_of(&p, s, 2, &m);
    near_digits("T5", m.life_h, 20.877, 0.0005);
    near_digits("dust", m.limit[TRN_CAUSE_DUST].life_h, 32.51, 0.005);
    near_digits("shock", m.limit[TRN_CAUSE_SHOCK].life_h, 42.68, 0.005);
    near_digits("motion", m.limit[TRN_CAUSE_MOTION].life_h, 44.64, 0.005);
    near_digits("load", m.limit[TRN_CAUSE_LOAD].life_h, 46.22, 0.005);
    near_digits("heat", m.limit[TRN_CAUSE_HEAT].life_h, 50, 1e-9);
    cr_expect_eq(m.order[0], TRN_CAUSE_DUST);
    cr_expect_eq(m.order[1], TRN_CAUSE_SHOCK);
    cr_expect_eq(m.order_count, 5);
    cr_expect_eq(m.worst, 0);
    cr_expect_eq(m.assumed, 0);
}

Test(mechanism, worked_joint_draws)
{
    static double life[WORKED_DRAWS];
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    trn_service_point p;
    trn_duty_state s[2];
    trn_nominal m;
    worked_joint(&p, s);
    nominal_of(&p, s, 2, &m);
    worked_draws(&p, s, 2, &settings, m.use, 0, life, NULL);
    static const double want[][2] = {{0.05, 10.0}, {0.10, 12.3}, {0.25, 16.3},
                                     {0.50, 20.9}, {0.75, 25.4}, {0.90, 29.0}};
    for (size_t i = 0; i < 6; i++)
        near_digits("quantile", worked_quantile(life, want[i][0]), want[i][1],
                    0.03 * want[i][1] + 0.05);
    static const struct {
        trn_cause cause;
        double want;
    } set[] = {{TRN_CAUSE_DUST, 28.8}, {TRN_CAUSE_SHOCK, 16.3}, {TRN_CAUSE_MOTION, 14.8},
               {TRN_CAUSE_LOAD, 14.0}, {TRN_CAUSE_HEAT, 12.25}};
    double score[TRN_LIMITS] = {0};
    double tie[TRN_LIMITS] = {0};
    for (size_t i = 0; i < 5; i++) {
        worked_draws(&p, s, 2, &settings, m.use, TRN_BIT(set[i].cause), life, NULL);
        score[set[i].cause] = worked_quantile(life, 0.10);
        tie[set[i].cause] = m.limit[set[i].cause].life_h;
        near_digits("T_q with a factor at the reference", score[set[i].cause], set[i].want,
                    0.03 * set[i].want);
    }
    trn_cause order[TRN_LIMITS];
    cr_assert_eq(trn_cause_rank(m.use, score, tie, order), 5);
    for (size_t i = 0; i < 5; i++)
        cr_expect_eq(order[i], set[i].cause, "place %zu: %s", i, trn_cause_word(order[i]));
}

/* derived: one class all year at 65 degC, T_m 500 h, dust alone */
Test(mechanism, one_dust_class_all_year)
{
    static double life[WORKED_DRAWS];
    static const struct {
        const char *name;
        double nominal, low;
    } want[] = {{"dusty", 378.8, 282}, {"severe", 221.9, 127}, {"extreme", 101.6, 43}};
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    trn_service_point p;
    trn_duty_state s[2];
    trn_nominal m;
    worked_oil(&p, s);
    s[0].share = 1;
    s[0].oil_c = 65;
    for (size_t i = 0; i < 3; i++) {
        const trn_dust_class *class = trn_dust_class_find(want[i].name);
        cr_assert_not_null(class);
        s[0].dust_mg_m3 = class->median_mg_m3;
        nominal_of(&p, s, 1, &m);
        near_digits(want[i].name, m.limit[TRN_CAUSE_DUST].life_h, want[i].nominal, 0.05);
        worked_draws(&p, s, 1, &settings, TRN_BIT(TRN_CAUSE_DUST), 0, life, NULL);
        near_digits("10 %", worked_quantile(life, 0.1), want[i].low, 0.03 * want[i].low + 0.5);
    }
}
