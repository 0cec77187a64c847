/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Temperatures that were read, and conditions that alternate. All checks derived (energy balance;
 * a true case is evaluated and its temperature taken as the reading), the 5 K of the skin and the
 * bounds common practice, no source. */
#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/choices.h>
#include <trunnion/draws.h>
#include <trunnion/extras.h>
#include <trunnion/heat_reading.h>
#include <trunnion/lift.h>

#include "scratch.h"
#include "study_case.h"
#include "support.h"

#define HEADER "gearbox,condition,where,temperature [degC],ambient [degC],running [min],stopped [min]\n"
#define MOWER "cases/rotary_mower" /* conditions grass (18 degC, 70 %), stubble (29 degC, 30 %) */

static bool still_power;

/* rotary_mower with another area (m2) and these readings; its duty may get groups. */
static trn_machine *mower(const char *area, const char *readings, const char *duty)
{
    char folder[SCRATCH_PATH];
    char text[1024];
    scratch_make(folder);
    scratch_copy(folder, MOWER);
    if (area)
        scratch_edit(folder, "gearboxes.csv", ",0.34,", area);
    if (readings) {
        (void)snprintf(text, sizeof text, HEADER "%.800s", readings);
        scratch_write(folder, "readings.csv", text);
    }
    if (duty)
        scratch_write(folder, "duty.csv", duty);
    if (still_power) /* else the bands hold a drawn power too */
        scratch_write(folder, "uncertainty.csv",
                      "quantity,kind,spread\nduty.*.power,lognormal,1\n");
    trn_machine *m = scratch_case(folder);
    scratch_remove(folder);
    return m;
}

static const char two_thirds[] = ",0.2266666666666667,";

typedef struct evaluated {
    trn_machine *m;
    trn_results *r;
} evaluated;

static evaluated made(trn_machine *m)
{
    return (evaluated){m, study_evaluated(m)};
}

static void done(evaluated e)
{
    trn_results_free(e.r);
    trn_machine_free(e.m);
}

static double oil(const evaluated *e, size_t i)
{
    return e->r->heat[i].oil_temperature_c;
}

/* One reading in `grass`, of the true box. */
static trn_machine *wrong_area(const char *where, double temperature, double ambient,
                               double running, double stopped)
{
    char row[160];
    (void)snprintf(row, sizeof row, "box,grass,%s,%.12g,%.12g,%.12g,%.12g\n", where, temperature,
                   ambient, running, stopped);
    return mower(two_thirds, row, NULL);
}

static void same_at_other_ambients(const trn_machine *a, const trn_machine *b, double within)
{
    static const char *const ambients[] = {"-3.7", "12.4", "21.9", "36.3"};
    for (size_t k = 0; k < 4; k++) {
        trn_machine *x = study_changed(a, "duty.*.ambient", ambients[k]);
        trn_machine *y = study_changed(b, "duty.*.ambient", ambients[k]);
        trn_results *p = study_evaluated(x);
        trn_results *q = study_evaluated(y);
        for (size_t i = 0; i < 2; i++) {
            cr_expect_float_eq(q->heat[i].oil_temperature_c, p->heat[i].oil_temperature_c, within,
                               "%s degC, condition %zu: wanted %.9g got %.9g", ambients[k], i,
                               p->heat[i].oil_temperature_c, q->heat[i].oil_temperature_c);
            cr_expect_float_eq(q->heat[i].oil_temperature_high_c, p->heat[i].oil_temperature_high_c,
                               within);
            cr_expect(test_near(q->heat[i].time_constant_min, p->heat[i].time_constant_min, 1e-6));
        }
        trn_results_free(p);
        trn_results_free(q);
        trn_machine_free(x);
        trn_machine_free(y);
    }
}

Test(readings, one_reading_mends_an_area_of_two_thirds)
{
    evaluated truth = made(mower(NULL, NULL, NULL));
    evaluated e = made(wrong_area("oil", oil(&truth, 0), 18, 140, 0));
    cr_expect(test_near(e.r->cooling[0].factor, 1.5, 1e-9), "%.12g", e.r->cooling[0].factor);
    cr_expect_eq(e.r->cooling[0].used, 1);
    cr_expect(test_near(e.r->heat[0].cooling_factor, 1.5, 1e-9));
    cr_expect(test_near(e.r->heat[1].cooling_factor, 1.5, 1e-9)); /* all conditions of the box */
    same_at_other_ambients(truth.m, e.m, 1e-4);                   /* 0.1 K is asked for */
    /* without it the same area is some 25 K out */
    evaluated without = made(mower(two_thirds, NULL, NULL));
    cr_expect_gt(oil(&without, 0), oil(&truth, 0) + 15);
    cr_expect(isnan(without.r->heat[0].cooling_factor));
    done(truth);
    done(e);
    done(without);
}

Test(readings, read_on_another_day_in_other_air)
{
    /* the true box on a day of 7.3 degC is what the thermometer saw */
    evaluated truth = made(mower(NULL, NULL, NULL));
    trn_machine *cold = study_changed(truth.m, "duty.*.ambient", "7.3");
    trn_results *r = study_evaluated(cold);
    evaluated e = made(wrong_area("oil", r->heat[0].oil_temperature_c, 7.3, 300, 0));
    cr_expect(test_near(e.r->cooling[0].factor, 1.5, 1e-9));
    same_at_other_ambients(truth.m, e.m, 1e-4);
    trn_results_free(r);
    trn_machine_free(cold);
    done(truth);
    done(e);
}

Test(readings, skin_and_stop_lead_back_to_the_oil)
{
    evaluated truth = made(mower(NULL, NULL, NULL));
    double T = oil(&truth, 0);
    double tau = truth.r->heat[0].time_constant_min;
    double rise = trn_choice_value(TRN_CHOICE_SKIN_RISE);
    cr_expect_eq(rise, 5);
    static const double stopped[] = {2.3, 11.7, 38.9};
    for (size_t k = 0; k < 3; k++) {
        double later = 18 + (T - 18) * exp(-stopped[k] / tau);
        evaluated a = made(wrong_area("oil", later, 18, 140, stopped[k]));
        evaluated b = made(wrong_area("skin", later - rise, 18, 140, stopped[k]));
        cr_expect(test_near(a.r->cooling[0].factor, 1.5, 1e-6), "%.12g", a.r->cooling[0].factor);
        cr_expect(test_near(b.r->cooling[0].factor, 1.5, 1e-6), "%.12g", b.r->cooling[0].factor);
        cr_expect_float_eq(a.r->readings[0].oil_c, T, 1e-5);
        cr_expect(test_near(a.r->readings[0].time_constant_min, tau, 1e-6));
        done(a);
        done(b);
    }
    done(truth);
}

Test(readings, a_box_that_was_not_warm_is_not_used)
{
    evaluated truth = made(mower(NULL, NULL, NULL));
    double T = oil(&truth, 0);
    double tau = truth.r->heat[0].time_constant_min;
    evaluated shorter = made(wrong_area("oil", T, 18, 1.99 * tau, 0));
    evaluated longer = made(wrong_area("oil", T, 18, 2.01 * tau, 0));
    evaluated without = made(mower(two_thirds, NULL, NULL));
    cr_expect_eq(shorter.r->cooling[0].used, 0);
    cr_expect(!shorter.r->readings[0].used);
    cr_expect(trn_remark_has(&shorter.r->heat[0].remarks, TRN_M_READ_SHORT));
    cr_expect_eq(oil(&shorter, 0), oil(&without, 0));
    cr_expect(!shorter.r->heat[0].read && !shorter.r->heat[1].calibrated);
    cr_expect_eq(longer.r->cooling[0].used, 1);
    done(truth);
    done(shorter);
    done(longer);
    done(without);
}

Test(readings, several_give_their_geometric_mean)
{
    evaluated a = made(mower(NULL, "box,grass,oil,66.1,18,200,0\n", NULL));
    evaluated b = made(mower(NULL, "box,stubble,oil,108.2,27,200,0\n", NULL));
    evaluated both = made(
        mower(NULL, "box,grass,oil,66.1,18,200,0\nbox,stubble,oil,108.2,27,200,0\n", NULL));
    double ca = a.r->cooling[0].factor;
    double cb = b.r->cooling[0].factor;
    cr_expect(ca > 1 && cb < 1);
    cr_expect(test_near(both.r->cooling[0].factor, sqrt(ca * cb), 1e-12));
    cr_expect_eq(both.r->cooling[0].used, 2);
    cr_expect_float_eq(oil(&a, 0), 66.1, 1e-6); /* its own reading comes back: same air */
    done(a);
    done(b);
    done(both);
}

Test(readings, the_balance_of_the_reading_holds)
{
    evaluated e = made(mower(two_thirds, "box,stubble,oil,96.4,22.5,200,0\n", NULL));
    const trn_reading_row *d = &e.r->readings[0];
    cr_expect(test_near(d->loss_w + d->sun_w,
                        d->cooling_factor * d->transfer_w_k * (96.4 - 22.5), 1e-12));
    for (size_t i = 0; i < 2; i++) { /* and of every condition with it */
        const trn_heat_row *h = &e.r->heat[i];
        double air = e.m->duty[i].ambient - 273.15;
        cr_expect(test_near(h->loss_w + h->sun_w,
                            h->cooling_factor * 18 * 0.2266666666666667 *
                                (h->oil_temperature_c - air),
                            1e-8));
    }
    done(e);
}

Test(readings, what_cannot_be_is_said)
{
    evaluated e = made(mower(",0.11,", "box,grass,oil,70.5,18,300,0\n", NULL));
    cr_expect_gt(e.r->cooling[0].factor, 2);
    cr_expect(e.r->cooling[0].disagree);
    for (size_t i = 0; i < 2; i++) {
        bool said = false;
        for (size_t k = 0; k < e.r->heat[i].remarks.n; k++)
            said = said || e.r->heat[i].remarks.v[k].status == TRN_R_HEAT_DISAGREE;
        cr_expect(said, "condition %zu", i);
    }
    done(e);
    cr_expect_str_eq(trn_status_text(TRN_R_HEAT_DISAGREE),
                     "power, area, level or reading do not agree");
}

Test(readings, a_changed_copy_keeps_the_factor_of_the_case_as_read)
{
    evaluated e = made(mower(NULL, "box,grass,oil,66.1,18,200,0\n", NULL));
    static const char *const changes[][2] = {{"gearboxes.box.area", "x0.8"},
                                             {"duty.*.power", "x1.4"},
                                             {"gearboxes.box.residue", "3"}};
    for (size_t i = 0; i < 3; i++) {
        trn_machine *m = study_changed(e.m, changes[i][0], changes[i][1]);
        trn_results *r = study_evaluated(m);
        cr_expect(test_near(r->cooling[0].factor, e.r->cooling[0].factor, 1e-13), "%s",
                  changes[i][0]);
        cr_expect_gt(r->heat[0].oil_temperature_c, oil(&e, 0) + 1, "%s", changes[i][0]);
        trn_results_free(r);
        trn_machine_free(m);
    }
    /* the reading itself may be tried otherwise */
    trn_machine *m = study_changed(e.m, "readings.box.grass.temperature", "+4");
    trn_results *r = study_evaluated(m);
    cr_expect_float_eq(r->heat[0].oil_temperature_c, 70.1, 1e-6);
    trn_results_free(r);
    trn_machine_free(m);
    done(e);
}

Test(readings, a_given_temperature_goes_before_them)
{
    evaluated e = made(mower(NULL, "box,grass,oil,66.1,18,200,0\n", NULL));
    trn_machine *m = study_changed(e.m, "duty.grass.oil_temperature", "81.2");
    trn_results *r = study_evaluated(m);
    cr_expect_float_eq(r->heat[0].oil_temperature_c, 81.2, 1e-9);
    cr_expect(r->heat[0].measured);
    cr_expect_float_eq(r->heat[0].modelled_temperature_c, 66.1, 1e-6); /* the balance beside it */
    cr_expect_float_eq(r->heat[1].oil_temperature_c, oil(&e, 1), 1e-9);
    trn_results_free(r);
    trn_machine_free(m);
    done(e);
}

Test(readings, warm_up_ends_at_the_balance_with_the_factor)
{
    evaluated e = made(mower(two_thirds, "box,grass,oil,70.5,18,300,0\n", NULL));
    cr_assert_eq(trn_study_extras(e.r), TRN_OK);
    size_t last = TRN_WARMUP_POINTS - 1;
    cr_expect_float_eq(e.r->extras->warmup[last].oil_temperature_c, oil(&e, 0), 0.02);
    cr_expect_float_eq(e.r->extras->warmup[0].oil_temperature_c, 18, 1e-9);
    done(e);
}

/* ---- conditions that alternate -------------------------------------------------------------- */

#define DUTY(group_a, group_b, share_a, share_b)                                              \
    "condition,share [%],pto_speed [rpm],power [kW],shock,position,ambient [degC],"            \
    "dust [mg/m3],alternates_with\n"                                                           \
    "grass," share_a ",540,22,1.35,work,18,4," group_a "\n"                                    \
    "stubble," share_b ",500,31,1.6,headland,29,22," group_b "\n"

/* What is left over of a row at its own temperature and air, W. */
static double left_over(const evaluated *e, size_t i)
{
    const trn_heat_row *h = &e->r->heat[i];
    double factor = isnan(h->cooling_factor) ? 1 : h->cooling_factor;
    return h->loss_w + h->sun_w -
           factor * 18 * 0.34 * (h->oil_temperature_c - (e->m->duty[i].ambient - 273.15));
}

Test(readings, a_group_has_the_temperature_at_which_its_sum_is_zero)
{
    evaluated alone = made(mower(NULL, NULL, DUTY("", "", "70", "30")));
    evaluated e = made(mower(NULL, NULL, DUTY("passes", "passes", "70", "30")));
    cr_expect_eq(oil(&e, 0), oil(&e, 1));
    cr_expect(oil(&e, 0) > oil(&alone, 0) && oil(&e, 0) < oil(&alone, 1));
    cr_expect_float_eq(0.7 * left_over(&e, 0) + 0.3 * left_over(&e, 1), 0, 1e-6);
    cr_expect_eq(e.r->heat[0].time_constant_min, e.r->heat[1].time_constant_min);
    cr_expect(e.r->heat[0].oil_temperature_low_c < oil(&e, 0) &&
              e.r->heat[0].oil_temperature_high_c > oil(&e, 0));
    /* the lives see it */
    size_t n = e.m->bearings_count;
    cr_expect_eq(e.r->bearings[0].oil_temperature_c, e.r->bearings[n].oil_temperature_c);
    done(alone);
    done(e);
}

Test(readings, equal_losses_in_a_group_change_nothing)
{
#define ROW_OF(name, group)                                                                   \
    name ",50,540,22,1.35,work,18,4," group "\n"
#define HEAD                                                                                  \
    "condition,share [%],pto_speed [rpm],power [kW],shock,position,ambient [degC],"            \
    "dust [mg/m3],alternates_with\n"
    evaluated a = made(mower(NULL, NULL, HEAD ROW_OF("grass", "") ROW_OF("stubble", "")));
    evaluated b = made(mower(NULL, NULL, HEAD ROW_OF("grass", "to") ROW_OF("stubble", "to")));
    for (size_t i = 0; i < 2; i++) {
        cr_expect_float_eq(oil(&b, i), oil(&a, i), 1e-9);
        cr_expect(test_near(b.r->heat[i].loss_w, a.r->heat[i].loss_w, 1e-10));
        cr_expect(test_near(b.r->heat[i].time_constant_min, a.r->heat[i].time_constant_min, 1e-7));
        cr_expect_float_eq(b.r->heat[i].oil_temperature_high_c,
                           a.r->heat[i].oil_temperature_high_c, 1e-9);
    }
    study_same_outcome("equal losses", a.r, b.r, 1e-9, STUDY_BOTH);
    done(a);
    done(b);
}

Test(readings, a_member_without_share_is_only_along)
{
    evaluated alone = made(mower(NULL, NULL, DUTY("", "", "100", "0")));
    evaluated e = made(mower(NULL, NULL, DUTY("to", "to", "100", "0")));
    cr_expect_float_eq(oil(&e, 0), oil(&alone, 0), 1e-9);
    cr_expect_float_eq(oil(&e, 1), oil(&alone, 0), 1e-9);
    done(alone);
    done(e);
}

/* The true group gives the reading in the reading's air; the wrong area must come back to it. */
Test(readings, a_reading_in_a_group_is_of_the_whole_group)
{
    evaluated truth = made(mower(NULL, NULL, DUTY("to", "to", "70", "30")));
    trn_machine *cold = study_changed(truth.m, "duty.*.ambient", "11.6");
    trn_results *r = study_evaluated(cold);
    char row[120];
    (void)snprintf(row, sizeof row, "box,stubble,oil,%.12g,11.6,240,0\n",
                   r->heat[1].oil_temperature_c);
    evaluated e = made(mower(two_thirds, row, DUTY("to", "to", "70", "30")));
    cr_expect(test_near(e.r->cooling[0].factor, 1.5, 1e-8), "%.12g", e.r->cooling[0].factor);
    same_at_other_ambients(truth.m, e.m, 1e-4);
    for (size_t i = 0; i < 2; i++) /* both conditions count as read */
        cr_expect(e.r->heat[i].read && e.r->heat[i].calibrated);
    trn_results_free(r);
    trn_machine_free(cold);
    done(truth);
    done(e);
}

Test(readings, one_given_temperature_serves_the_group)
{
    evaluated e = made(mower(NULL, NULL, DUTY("to", "to", "70", "30")));
    trn_machine *m = study_changed(e.m, "duty.grass.oil_temperature", "77.7");
    trn_results *r = study_evaluated(m);
    for (size_t i = 0; i < 2; i++) {
        cr_expect_float_eq(r->heat[i].oil_temperature_c, 77.7, 1e-9);
        cr_expect(r->heat[i].measured);
        cr_expect_float_eq(r->heat[i].modelled_temperature_c, oil(&e, i), 1e-9);
    }
    cr_expect(trn_remark_has(&r->heat[1].remarks, TRN_M_MEASURED_IN_GROUP));
    trn_results_free(r);
    trn_machine_free(m);
    done(e);
}

/* ---- draws ---------------------------------------------------------------------------------- */

Test(readings, spread_of_three_four_and_seven_kelvin)
{
    evaluated e = made(mower(NULL, "box,grass,oil,66.1,18,200,0\n", NULL));
    cr_expect(e.r->heat[0].read && e.r->heat[0].calibrated);
    cr_expect(!e.r->heat[1].read && e.r->heat[1].calibrated);
    trn_interval_settings s;
    trn_interval_settings_default(&s);
    trn_duty_state state;
    trn_duty_state_clear(&state);
    cr_expect_eq(trn_oil_spread(&state, &s).size, 7);
    state.oil_calibrated = true;
    cr_expect_eq(trn_oil_spread(&state, &s).size, 4);
    state.oil_read = true;
    cr_expect_eq(trn_oil_spread(&state, &s).size, 3);
    state = (trn_duty_state){.oil_measured = true};
    cr_expect_eq(trn_oil_spread(&state, &s).size, 3);
    /* a row of uncertainty.csv goes before all of them */
    trn_interval_settings_spread(&s, TRN_DRAW_OIL_TEMPERATURE,
                                 (trn_spread){TRN_SPREAD_NORMAL, 1.3});
    state = (trn_duty_state){.oil_calibrated = true};
    cr_expect_eq(trn_oil_spread(&state, &s).size, 1.3);
    done(e);
}

/* Blocks of draws against one draw at a time. */
Test(readings, blocks_draw_them_as_single_draws_do)
{
    enum { N = TRN_BLOCK };
    trn_interval_settings s;
    trn_interval_settings_default(&s);
    trn_normals normals;
    trn_draw_plan plan = {.draws = N, .seed = 41};
    cr_assert_eq(trn_normals_make(&plan, TRN_DRAWS, &normals), TRN_OK);
    trn_blocks *blocks = trn_blocks_new(&s, &normals, NULL, 0);
    cr_assert_not_null(blocks);
    trn_service_point p;
    trn_service_point_clear(&p);
    p.task = TRN_TASK_CHANGE_OIL;
    p.manual_h = 430;
    p.ref_dust_mg_m3 = 3;
    p.ref_temperature_c = 70;
    trn_ageing_anchor(&p, TRN_AGEING_MINERAL, NAN, NAN);
    trn_duty_state states[3];
    for (size_t i = 0; i < 3; i++) {
        trn_duty_state_clear(&states[i]);
        states[i].share = 1.0 / 3;
        states[i].oil_c = 71.3 + 7.7 * (double)i;
        states[i].ambient_c = 22.1;
    }
    states[1].oil_read = states[1].oil_calibrated = true;
    states[2].oil_calibrated = true;
    double *pool = calloc(5 * N, sizeof *pool);
    double *life[TRN_LIMITS] = {NULL};
    for (size_t c = 0; c < 5; c++)
        life[c] = pool + c * N;
    trn_blocks_oil(blocks, &p, states, 3, TRN_DRAWS, life);
    for (size_t k = 0; k < N; k += 97) {
        double z[TRN_DRAWS];
        trn_lives one;
        for (size_t i = 0; i < TRN_DRAWS; i++)
            z[i] = normals.z[i * normals.room + k];
        trn_oil_lives(&p, states, 3, &s, z, &one);
        cr_expect(test_near(life[TRN_CAUSE_AGEING][k], one.of[TRN_CAUSE_AGEING], 1e-10),
                  "draw %zu: %.12g %.12g", k, life[TRN_CAUSE_AGEING][k],
                  one.of[TRN_CAUSE_AGEING]);
    }
    free(pool);
    trn_blocks_free(blocks);
    trn_normals_free(&normals);
}

/* 7, 3 and 4 K: the bands of 512 draws lie as far apart. */
Test(readings, a_reading_narrows_the_bands_of_temperature)
{
    double width[2][2];
    still_power = true;
    for (size_t k = 0; k < 2; k++) {
        evaluated truth = made(mower(NULL, NULL, NULL));
        char row[120];
        (void)snprintf(row, sizeof row, "box,grass,oil,%.12g,18,200,0\n", oil(&truth, 0));
        done(truth);
        evaluated e = made(mower(NULL, k ? row : NULL, NULL));
        trn_faults faults = {0};
        trn_draw_plan plan = {.draws = 512, .seed = 3, .jobs = 1};
        cr_assert_eq(trn_study_draws(e.r, &plan, true, &faults), TRN_OK);
        for (size_t i = 0; i < 2; i++) {
            const trn_band_row *band = &e.r->draws->bands[i];
            cr_expect_str_eq(band->condition, i ? "stubble" : "grass");
            width[k][i] = band->high - band->low;
        }
        trn_faults_free(&faults);
        done(e);
    }
    cr_expect(test_near(width[1][0] / width[0][0], 3.0 / 7, 1e-6), "%.9g %.9g", width[1][0],
              width[0][0]);
    cr_expect(test_near(width[1][1] / width[0][1], 4.0 / 7, 1e-6), "%.9g %.9g", width[1][1],
              width[0][1]);
}

/* ---- formulas ------------------------------------------------------------------------------- */

Test(readings, refused_inputs_leave_outputs_alone)
{
    double kept = 3.75;
    cr_expect_eq(trn_heat_oil_at_stop(290, 0, 300, 60, 600, &kept), TRN_E_DOMAIN);
    cr_expect_eq(trn_heat_oil_at_stop(350, -1, 300, 60, 600, &kept), TRN_E_DOMAIN);
    cr_expect_eq(trn_heat_oil_at_stop(350, 0, 300, 60, NAN, &kept), TRN_E_DOMAIN);
    cr_expect_eq(trn_heat_oil_at_stop(NAN, 0, 300, 0, 600, &kept), TRN_E_DOMAIN);
    cr_expect_eq(trn_heat_cooling_factor(0, 0, 18, 0.4, 350, 300, 0.5, 2, &kept), TRN_E_DOMAIN);
    cr_expect_eq(trn_heat_cooling_factor(300, 0, 18, 0.4, 300, 300, 0.5, 2, &kept), TRN_E_DOMAIN);
    cr_expect_eq(trn_heat_cooling_factor(300, 0, NAN, 0.4, 350, 300, 0.5, 2, &kept), TRN_E_DOMAIN);
    cr_expect_eq(trn_heat_cooling_factor(300, 0, 18, 0.4, INFINITY, 300, 0.5, 2, &kept),
                 TRN_E_DOMAIN);
    trn_heat_shared none = {0};
    cr_expect_eq(trn_heat_shared_temperature(&none, &kept), TRN_E_DOMAIN);
    trn_heat_shared sum = {12.5, 3.25, 291.5};
    cr_expect_eq(trn_heat_share_add(0, 300, 0, 18, 0.4, 300, &sum), TRN_E_DOMAIN);
    cr_expect_eq(trn_heat_share_add(0.4, NAN, 0, 18, 0.4, 300, &sum), TRN_E_DOMAIN);
    cr_expect(sum.heat_w == 12.5 && sum.transfer_w_k == 3.25 && sum.T_air_k == 291.5);
    cr_expect_eq(kept, 3.75);
}

Test(readings, formulas_by_hand)
{
    double T = NAN;
    double c = NAN;
    cr_expect_eq(trn_heat_oil_at_stop(334.15, 5, 296.15, 360, 2820, &T), TRN_OK);
    cr_expect(test_near(T, 296.15 + 43 * exp(360.0 / 2820), 1e-14));
    cr_expect_eq(trn_heat_oil_at_stop(334.15, 5, 296.15, 2900, 2820, &T), TRN_R_HEAT_LONG_STOP);
    cr_expect_eq(trn_heat_oil_at_stop(334.15, 5, 296.15, 0, NAN, &T), TRN_OK);
    cr_expect_eq(T, 339.15);
    cr_expect_eq(trn_heat_cooling_factor(270, 30, 20, 0.3, 340, 300, 0.5, 2, &c), TRN_OK);
    cr_expect(test_near(c, 1.25, 1e-15));
    cr_expect_eq(trn_heat_cooling_factor(700, 30, 20, 0.3, 340, 300, 0.5, 2, &c),
                 TRN_R_HEAT_DISAGREE);
    /* one condition alone: the plain balance; two: the root of the sum */
    trn_heat_shared sum = {0};
    cr_assert_eq(trn_heat_share_add(0.37, 280, 20, 15, 0.4, 295, &sum), TRN_OK);
    cr_assert_eq(trn_heat_shared_temperature(&sum, &T), TRN_OK);
    cr_expect(test_near(T, 295 + 300 / 6.0, 1e-14));
    cr_assert_eq(trn_heat_share_add(0.21, 90, 0, 25, 0.4, 305, &sum), TRN_OK);
    cr_assert_eq(trn_heat_shared_temperature(&sum, &T), TRN_OK);
    cr_expect_float_eq(0.37 * (300 - 6 * (T - 295)) + 0.21 * (90 - 10 * (T - 305)), 0, 1e-11);
}

/* ---- a shaft that was cut ------------------------------------------------------------------- */

/* What fit.csv prints for after the cut is what the cut shaft has. */
Test(readings, a_cut_shaft_has_the_overlap_that_was_printed)
{
    trn_machine *m = study_read("../sample-data/winged");
    trn_results *r = study_evaluated(m);
    size_t s = trn_find_shaft(m, "wing right");
    double cut = r->fits[s].cut_mm;
    cr_assert_gt(cut, 0);
    char value[3][32];
    (void)snprintf(value[0], sizeof value[0], "+-%.6g", cut);
    trn_machine *after = trn_machine_copy(m);
    study_set(after, "shafts.wing right.length_closed", value[0]);
    study_set(after, "shafts.wing right.overlap_closed", value[0]);
    study_set(after, "shafts.wing right.tube_length", value[0]);
    study_link_again(after);
    trn_results *q = study_evaluated(after);
    cr_expect_float_eq(q->fits[s].overlap_mm, r->fits[s].overlap_after_cut_mm, 1e-6);
    cr_expect_float_eq(q->fits[s].clearance_mm, r->fits[s].clearance_mm + cut, 1e-6);
    cr_expect_eq(q->fits[s].cut_mm, 0);
    cr_expect_eq(q->fits[s].fits, TRN_FIT_YES);
    trn_results_free(q);
    trn_results_free(r);
    trn_machine_free(after);
    trn_machine_free(m);
}
