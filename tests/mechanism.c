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

/* ---- invariants ---------------------------------------------------------------------------- */

static const trn_task greasing[] = {TRN_TASK_GREASE_JOINT, TRN_TASK_GREASE_TUBE,
                                    TRN_TASK_GREASE_BEARING, TRN_TASK_GREASE_CLUTCH,
                                    TRN_TASK_GREASE_PIVOT};

/* derived: the reference condition as the only state gives the manual's interval, every draw */
Test(mechanism, reference_duty_gives_the_manual_interval_in_every_draw)
{
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    const double *z = worked_normals();
    trn_service_point p;
    trn_duty_state s[2];
    worked_joint(&p, s);
    p.point_c = 70;
    s[0] = (trn_duty_state){.condition = "reference", .share = 1, .dust_mg_m3 = 3, .oil_c = 70,
                            .ambient_c = 20, .humidity_pct = 60, .starts_per_100h = 12,
                            .washes_per_100h = 0, .wash_water_ml = 0.2, .load_ratio = 1,
                            .shock = 1.25, .load_pc = 0.1, .speed_rpm = 540, .angle_deg = 10};
    for (size_t t = 0; t < 5; t++) {
        p.task = greasing[t];
        for (size_t k = 0; k < 500; k++) {
            double life = trn_greasing_life(&p, s, 1, &settings, z + k * TRN_DRAWS, 0);
            cr_expect(test_near(life, 50, 1e-12), "task %zu draw %zu: %g", t, k, life);
        }
    }
    trn_duty_state spare[2];
    worked_oil(&p, spare);
    for (size_t k = 0; k < 500; k++) {
        trn_lives lives;
        trn_oil_lives(&p, s, 1, &settings, z + k * TRN_DRAWS, &lives);
        cr_expect(test_near(lives.of[TRN_CAUSE_DUST], 500, 1e-12), "%g",
                  lives.of[TRN_CAUSE_DUST]);
        cr_expect(test_near(lives.of[TRN_CAUSE_ADDITIVE], 500, 1e-12), "%g",
                  lives.of[TRN_CAUSE_ADDITIVE]);
    }
}

static void same_lives(const char *what, const trn_service_point *p, const trn_duty_state *a,
                       size_t na, const trn_duty_state *b, size_t nb)
{
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    const double *z = worked_normals();
    for (size_t k = 0; k < 200; k++) {
        trn_lives x;
        trn_lives y;
        trn_oil_lives(p, a, na, &settings, z + k * TRN_DRAWS, &x);
        trn_oil_lives(p, b, nb, &settings, z + k * TRN_DRAWS, &y);
        for (size_t c = 0; c < TRN_LIMITS; c++)
            cr_expect((isnan(x.of[c]) && isnan(y.of[c])) || x.of[c] == y.of[c] ||
                          test_near(x.of[c], y.of[c], 1e-9),
                      "%s, %s: %.12g and %.12g", what, trn_cause_word((trn_cause)c), x.of[c],
                      y.of[c]);
        double f = trn_greasing_life(p, a, na, &settings, z + k * TRN_DRAWS, 0);
        double g = trn_greasing_life(p, b, nb, &settings, z + k * TRN_DRAWS, 0);
        cr_expect(test_near(f, g, 1e-12), "%s: %.12g and %.12g", what, f, g);
    }
}

Test(mechanism, splitting_and_order_of_states_change_nothing)
{
    trn_service_point p;
    trn_service_point joint;
    trn_duty_state s[2];
    trn_duty_state j[2];
    trn_duty_state split[4];
    worked_joint(&joint, j);
    worked_oil(&p, s);
    for (size_t i = 0; i < 2; i++) {
        s[i].load_pc = j[i].load_pc;
        s[i].angle_deg = j[i].angle_deg;
        s[i].speed_rpm = 540;
        s[i].shock = j[i].shock;
    }
    p.ref_load = 0.1;
    p.ref_angle_deg = 10;
    p.ref_speed_rpm = 540;
    split[0] = s[1];
    split[1] = s[0];
    split[2] = s[0];
    split[1].share = 0.25;
    split[2].share = 0.35;
    split[3] = s[0];
    split[3].share = 0;
    split[3].dust_mg_m3 = NAN; /* a state without a share is not asked for its inputs */
    split[3].oil_c = NAN;
    same_lives("oil", &p, s, 2, split, 4);
    p.task = TRN_TASK_GREASE_JOINT;
    same_lives("joint", &p, s, 2, split, 4);
}

Test(mechanism, shares_from_percent_and_from_hours)
{
    double share[2] = {9, 9};
    const double pct[] = {60.04, 40};
    const double bad[] = {60.2, 40};
    const double hours[] = {180, 120};
    const double unknown[] = {NAN, NAN};
    const double negative[] = {110, -10};
    cr_expect_eq(trn_duty_shares(bad, NULL, 2, share), TRN_E_INPUT);
    cr_expect_eq(trn_duty_shares(negative, NULL, 2, share), TRN_E_INPUT);
    cr_expect_eq(trn_duty_shares(unknown, NULL, 2, share), TRN_E_MISSING);
    cr_expect_eq(share[0], 9);
    cr_expect_eq(trn_duty_shares(pct, NULL, 2, share), TRN_OK);
    cr_expect(test_near(share[0] + share[1], 1, 1e-15));
    cr_expect_eq(trn_duty_shares(unknown, hours, 2, share), TRN_OK);
    cr_expect(test_near(share[0], 0.6, 1e-15));
}

/* one quantity of the duty raised */
static void raise_one(size_t which, double by, trn_duty_state *s, trn_service_point *p)
{
    switch (which) {
    case 0: s->dust_mg_m3 *= by; break;
    case 1: s->shock *= by; break;
    case 2: s->load_pc *= by; break;
    case 3: s->angle_deg *= by; break;
    case 4: s->load_ratio *= by; break;
    case 5: s->washes_per_100h = (s->washes_per_100h + 1) * by; break;
    default: p->point_c += 10 * by; break;
    }
}

Test(mechanism, more_of_anything_never_lengthens)
{
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    const double *z = worked_normals();
    trn_service_point oil;
    trn_service_point joint;
    trn_duty_state so[2];
    trn_duty_state sj[2];
    worked_oil(&oil, so);
    worked_joint(&joint, sj);
    joint.point_c = 64;
    for (size_t which = 0; which < 7; which++)
        for (size_t k = 0; k < 300; k++)
            for (double by = 1.07; by < 40; by *= 1.83) {
                trn_service_point p = joint;
                trn_duty_state more[2] = {sj[0], sj[1]};
                raise_one(which, by, &more[1], &p);
                double a = trn_greasing_life(&joint, sj, 2, &settings, z + k * TRN_DRAWS, 0);
                double b = trn_greasing_life(&p, more, 2, &settings, z + k * TRN_DRAWS, 0);
                cr_expect(b <= a * (1 + 1e-12), "joint, quantity %zu x %g: %g to %g", which, by, a,
                          b);
                p = oil;
                more[0] = so[0];
                more[1] = so[1];
                raise_one(which, by, &more[1], &p);
                trn_lives x;
                trn_lives y;
                trn_oil_lives(&oil, so, 2, &settings, z + k * TRN_DRAWS, &x);
                trn_oil_lives(&p, more, 2, &settings, z + k * TRN_DRAWS, &y);
                for (size_t c = 0; c < TRN_LIMITS; c++)
                    cr_expect(isnan(x.of[c]) || y.of[c] <= x.of[c] * (1 + 1e-12),
                              "oil, quantity %zu x %g: %s %g to %g", which, by,
                              trn_cause_word((trn_cause)c), x.of[c], y.of[c]);
            }
}

Test(mechanism, hotter_oil_never_lengthens_ageing_or_additive)
{
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    trn_service_point p;
    trn_duty_state s[2];
    worked_oil(&p, s);
    s[0].washes_per_100h = s[1].washes_per_100h = 0;
    double ageing = INFINITY;
    double additive = INFINITY;
    for (double t = 40; t < 130; t += 1.37) {
        trn_lives lives;
        s[0].oil_c = t;
        trn_oil_lives(&p, s, 2, &settings, NULL, &lives);
        cr_expect_lt(lives.of[TRN_CAUSE_AGEING], ageing);
        cr_expect_lt(lives.of[TRN_CAUSE_ADDITIVE], additive);
        ageing = lives.of[TRN_CAUSE_AGEING];
        additive = lives.of[TRN_CAUSE_ADDITIVE];
    }
}

Test(mechanism, damp_dust_lengthens_by_the_share_that_is_no_dust_at_most)
{
    trn_service_point p;
    trn_duty_state s[2];
    trn_nominal m;
    worked_oil(&p, s);
    s[0].dust_mg_m3 = s[1].dust_mg_m3 = 0;
    nominal_of(&p, s, 2, &m);
    cr_expect(test_near(m.limit[TRN_CAUSE_DUST].life_h, 500 / (1 - 0.08), 1e-12));
}

Test(mechanism, scale_of_the_manual_and_of_the_sump)
{
    trn_service_point p;
    trn_duty_state s[2];
    trn_nominal a;
    trn_nominal b;
    worked_oil(&p, s);
    s[1].washes_per_100h = 300; /* wet enough for a finite T3 */
    nominal_of(&p, s, 2, &a);
    cr_assert(isfinite(a.limit[TRN_CAUSE_WATER].life_h));
    p.manual_h *= 2.385;
    nominal_of(&p, s, 2, &b);
    cr_expect_eq(a.limit[TRN_CAUSE_AGEING].life_h, b.limit[TRN_CAUSE_AGEING].life_h);
    cr_expect_eq(a.limit[TRN_CAUSE_WATER].life_h, b.limit[TRN_CAUSE_WATER].life_h);
    cr_expect(test_near(2.385 * a.limit[TRN_CAUSE_DUST].life_h, b.limit[TRN_CAUSE_DUST].life_h,
                        1e-12));
    p.oil_kg *= 2;
    p.water_source_mg_h = 2 * a.water_mg_h;
    nominal_of(&p, s, 2, &b);
    cr_expect(test_near(a.limit[TRN_CAUSE_WATER].life_h, b.limit[TRN_CAUSE_WATER].life_h, 1e-12));
}

Test(mechanism, a_stated_intake_changes_no_interval)
{
    trn_service_point p;
    trn_duty_state s[2];
    worked_oil(&p, s);
    trn_service_point q = p;
    q.intake_l_h = 23.85;
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    const double *z = worked_normals();
    for (size_t k = 0; k < 200; k++) {
        trn_lives x;
        trn_lives y;
        trn_oil_lives(&p, s, 2, &settings, z + k * TRN_DRAWS, &x);
        trn_oil_lives(&q, s, 2, &settings, z + k * TRN_DRAWS, &y);
        cr_expect_eq(x.of[TRN_CAUSE_DUST], y.of[TRN_CAUSE_DUST]);
    }
}

Test(mechanism, draws_without_spread_are_the_nominal_evaluation)
{
    trn_interval_settings still;
    trn_interval_settings_default(&still);
    trn_interval_settings_still(&still);
    const double *z = worked_normals();
    trn_service_point p;
    trn_duty_state s[2];
    trn_nominal m;
    worked_oil(&p, s);
    nominal_of(&p, s, 2, &m);
    for (size_t k = 0; k < 50; k++)
        cr_expect_eq(trn_point_draw(&p, s, 2, &still, z + k * TRN_DRAWS, m.use, 0, NULL),
                     m.life_h);
    worked_joint(&p, s);
    nominal_of(&p, s, 2, &m);
    for (size_t k = 0; k < 50; k++)
        cr_expect(test_near(trn_point_draw(&p, s, 2, &still, z + k * TRN_DRAWS, m.use, 0, NULL),
                            m.life_h, 1e-12));
}
