/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Oils in service: ageing, water, balance of a sump, breathing; the generic oils. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>
#include <string.h>
#include <trunnion/formula.h>
#include <trunnion/oil.h>

#include "support.h"

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

static const double mm2 = 1e-6, ppm = 1e-6, ice = 273.15, hour = 3600;
static const double mark = -77.25; /* what an untouched output still holds */

/* ---- ageing and water --------------------------------------------------------------------- */

Test(oil, ageing_life)
{
    /* derived figures of drain anchors, whole hours: 4000 h and 15000 h at 80 degC */
    const double wanted[][3] = {
        {60, 25676, 96285}, {70, 9863, 36988}, {80, 4000, 15000}, {90, 1705, 6393},
        {100, 761, 2852},
    };
    for (size_t i = 0; i < COUNT(wanted); i++) {
        double mineral = NAN;
        double pao = NAN;
        cr_expect_eq(trn_oil_ageing_life(4000 * hour, 80 + ice, wanted[i][0] + ice, &mineral),
                     TRN_OK);
        (void)trn_oil_ageing_life(15000 * hour, 80 + ice, wanted[i][0] + ice, &pao);
        cr_expect_float_eq(mineral / hour, wanted[i][1], 0.5, "got %g", mineral / hour);
        cr_expect_float_eq(pao / hour, wanted[i][2], 0.5, "got %g", pao / hour);
    }
    /* there and back; the halving step log10(2) T^2/4750 is the slope at T (derived) */
    double there = NAN;
    double back = NAN;
    (void)trn_oil_ageing_life(2385 * hour, 71.3 + ice, 104.9 + ice, &there);
    (void)trn_oil_ageing_life(there, 104.9 + ice, 71.3 + ice, &back);
    cr_expect(test_near(back, 2385 * hour, 1e-12), "got %g", back / hour);
    double t = 81.7 + ice;
    (void)trn_oil_ageing_life(hour, t, t + 0.01, &there);
    (void)trn_oil_ageing_life(hour, t, t - 0.01, &back);
    double step = 0.02 / (log2(back) - log2(there));
    cr_expect(test_near(step, log10(2) * t * t / 4750, 1e-6), "halving step %g K", step);
    /* remarks at the edges of 40 and 150 degC, of either temperature */
    cr_expect_eq(trn_oil_ageing_life(hour, 40 + ice, 150 + ice, &there), TRN_OK);
    cr_expect_eq(trn_oil_ageing_life(hour, 80 + ice, 150.1 + ice, &there), TRN_R_OIL_AGEING);
    cr_expect_eq(trn_oil_ageing_life(hour, 39.9 + ice, 80 + ice, &there), TRN_R_OIL_AGEING);
    const double bad[][3] = {{0, 353, 353}, {-1, 353, 353}, {NAN, 353, 353}, {1, 0, 353},
                             {1, 353, 0},   {1, NAN, 353},  {1, 353, INFINITY}, {1, 353, 0.3}};
    for (size_t i = 0; i < COUNT(bad); i++) {
        double life = mark;
        cr_expect_eq(trn_oil_ageing_life(bad[i][0], bad[i][1], bad[i][2], &life), TRN_E_DOMAIN);
        cr_expect(life == mark, "row %zu", i);
    }
}

Test(oil, water_life)
{
    double life = NAN;
    double fourfold = NAN;
    int extrapolated = -1;
    /* published: a fourfold change of water changes life 2.3 times, anywhere */
    for (double x = 21.3; x < 3000; x *= 1.87) {
        (void)trn_oil_water_life(x * ppm, &life, &extrapolated);
        cr_expect_eq(extrapolated, x < 25 || x > 400);
        (void)trn_oil_water_life(4 * x * ppm, &fourfold, &extrapolated);
        cr_expect_float_eq(life / fourfold, 2.3, 0.05);
    }
    cr_expect_eq(trn_oil_water_life(25 * ppm, &life, &extrapolated), TRN_OK);
    cr_expect_eq(trn_oil_water_life(400 * ppm, &life, &extrapolated), TRN_OK);
    cr_expect_eq(extrapolated, 0);
    cr_expect_eq(trn_oil_water_life(24.99 * ppm, &life, &extrapolated), TRN_R_OIL_WATER);
    cr_expect_eq(trn_oil_water_life(400.01 * ppm, &life, &extrapolated), TRN_R_OIL_WATER);
    cr_expect_eq(extrapolated, 1);
    life = mark;
    extrapolated = -1;
    cr_expect_eq(trn_oil_water_life(0, &life, &extrapolated), TRN_E_DOMAIN);
    cr_expect_eq(trn_oil_water_life(NAN, &life, &extrapolated), TRN_E_DOMAIN);
    cr_expect(life == mark && extrapolated == -1);
}

/* ---- balance of a sump -------------------------------------------------------------------- */

static const trn_oil_sump sumps[] = {
    {.oil_kg = 2.2, .source_kgs = 0.6e-6 / 3600},
    {.oil_kg = 2.2, .source_kgs = 0.6e-6 / 3600, .leak_kgs = 0.002 / 3600},
    {.oil_kg = 1.87, .source_kgs = 1.35e-6 / 3600, .leak_kgs = 0.0035 / 3600, .fresh = 37.5e-6,
     .removal_per_s = 0.0008 / 3600, .start = 52.5e-6},
    {.oil_kg = 3.41, .source_kgs = 0, .removal_per_s = 0.07 / 3600, .start = 812e-6},
    {.oil_kg = 0.62, .source_kgs = 2.3e-6 / 3600, .leak_kgs = 1e-9 / 3600, .start = 3.7e-6},
};

/* mass of contaminant in the sump, time in hours so that the steps are of order 1 */
static int sump_slope(double t, const double y[], double dydt[], void *context)
{
    const trn_oil_sump *s = context;
    (void)t;
    double out = s->leak_kgs * y[0] / s->oil_kg + s->removal_per_s * y[0];
    dydt[0] = 3600 * (s->source_kgs + s->leak_kgs * s->fresh - out);
    return GSL_SUCCESS;
}

/* the oil itself goes too; nothing comes back */
static int leak_slope(double t, const double y[], double dydt[], void *context)
{
    const trn_oil_sump *s = context;
    double oil = s->oil_kg - s->leak_kgs * 3600 * t;
    dydt[0] = 3600 * (s->source_kgs - s->leak_kgs * y[0] / oil);
    return GSL_SUCCESS;
}

static double integrated(int (*slope)(double, const double[], double[], void *),
                         trn_oil_sump sump, double hours)
{
    gsl_set_error_handler_off();
    gsl_odeiv2_system system = {slope, NULL, 1, &sump};
    gsl_odeiv2_driver *driver =
        gsl_odeiv2_driver_alloc_y_new(&system, gsl_odeiv2_step_rk8pd, 0.1, 1e-30, 1e-12);
    double t = 0;
    double mass = sump.start * sump.oil_kg;
    int state = gsl_odeiv2_driver_apply(driver, &t, hours, &mass);
    gsl_odeiv2_driver_free(driver);
    return state == GSL_SUCCESS ? mass : NAN;
}

Test(oil, contamination_against_integration)
{
    for (size_t i = 0; i < COUNT(sumps); i++)
        for (double t = 3.7; t < 900; t *= 3.31) {
            double c = NAN;
            double limit = NAN;
            cr_expect_eq(trn_oil_contamination(sumps[i], t * hour, &c, &limit), TRN_OK);
            double wanted = integrated(sump_slope, sumps[i], t) / sumps[i].oil_kg;
            cr_expect(test_near(c, wanted, 1e-9), "sump %zu at %g h: wanted %.12g got %.12g", i, t,
                      wanted / ppm, c / ppm);
        }
}

Test(oil, contamination_without_loss_is_the_limit)
{
    /* derived: C - (C_0 + s t/m) = -lam t (C_0 + s t/(2 m)) + ..., for lam to 0 */
    trn_oil_sump sump = {.oil_kg = 2.2, .source_kgs = 0.6e-6 / 3600, .start = 13.7e-6};
    double t = 250 * hour;
    double none = NAN;
    double limit = NAN;
    (void)trn_oil_contamination(sump, t, &none, &limit);
    cr_expect(isinf(limit) && limit > 0);
    for (double k = 1e-4; k > 1e-19; k /= 10) {
        sump.removal_per_s = k / 3600;
        double c = NAN;
        cr_expect_eq(trn_oil_contamination(sump, t, &c, &limit), TRN_OK);
        double y = 250 * k;
        double first = none - y * (sump.start + sump.source_kgs * t / sump.oil_kg / 2);
        cr_expect(fabs(c - first) <= (y * y + 1e-15) * none, "k %g: wanted %.16g got %.16g", k,
                  first, c);
        cr_expect(test_near(limit, sump.source_kgs / sump.oil_kg / sump.removal_per_s, 1e-12));
    }
    sump.removal_per_s = 0;
    sump.source_kgs = 0;
    (void)trn_oil_contamination(sump, t, &none, &limit);
    cr_expect(none == sump.start && limit == sump.start, "nothing in, nothing out");
}

Test(oil, contamination_tends_to_its_limit)
{
    for (size_t i = 1; i < 4; i++) {
        double c = NAN;
        double limit = NAN;
        (void)trn_oil_contamination(sumps[i], 1e5 * hour, &c, &limit);
        cr_expect(fabs(c - limit) < 1e-12, "sump %zu: %g and %g ppm", i, c / ppm, limit / ppm);
        /* steady: what comes in goes out */
        double in = sumps[i].source_kgs + sumps[i].leak_kgs * sumps[i].fresh;
        double out = (sumps[i].leak_kgs + sumps[i].removal_per_s * sumps[i].oil_kg) * limit;
        cr_expect(test_near(in, out, 1e-12), "in %g out %g", in, out);
    }
    /* two steps are one */
    double half = NAN;
    double whole = NAN;
    double twice = NAN;
    double limit = NAN;
    trn_oil_sump later = sumps[2];
    (void)trn_oil_contamination(sumps[2], 413 * hour, &whole, &limit);
    (void)trn_oil_contamination(sumps[2], 131.7 * hour, &half, &limit);
    later.start = half;
    (void)trn_oil_contamination(later, (413 - 131.7) * hour, &twice, &limit);
    cr_expect(test_near(whole, twice, 1e-13), "%.15g %.15g", whole, twice);
}

Test(oil, source_is_found_again)
{
    for (size_t i = 0; i < COUNT(sumps); i++)
        for (double t = 8.7; t < 900; t *= 2.7) {
            double c = NAN;
            double limit = NAN;
            double source = NAN;
            (void)trn_oil_contamination(sumps[i], t * hour, &c, &limit);
            cr_expect_eq(trn_oil_source(sumps[i], sumps[i].start, c, t * hour, &source), TRN_OK);
            double scale = sumps[i].oil_kg * fmax(c, sumps[i].start) / (t * hour);
            /* conditioning: digits lost where the removal has eaten nearly all of the rise */
            double lost = 1 + (sumps[i].leak_kgs / sumps[i].oil_kg + sumps[i].removal_per_s) * t *
                                  hour;
            cr_expect(fabs(source - sumps[i].source_kgs) < 1e-13 * scale * lost,
                      "sump %zu, %g h: wanted %g got %g", i, t, sumps[i].source_kgs, source);
        }
}

Test(oil, leak_that_is_not_topped_up)
{
    trn_oil_sump sump = sumps[2];
    for (double t = 7.7; t < 534; t += 61.3) {
        double c = NAN;
        cr_expect_eq(trn_oil_leaking(sump, t * hour, &c), TRN_OK);
        double left = sump.oil_kg - sump.leak_kgs * t * hour;
        double wanted = integrated(leak_slope, sump, t) / left;
        cr_expect(test_near(c, wanted, 1e-9), "%g h: wanted %g got %g", t, wanted, c);
    }
    double c = mark;
    cr_expect_eq(trn_oil_leaking(sump, 534.4 * hour, &c), TRN_E_DOMAIN, "no oil left");
    cr_expect(c == mark);
    sump.leak_kgs = 0;
    (void)trn_oil_leaking(sump, 100 * hour, &c);
    cr_expect(test_near(c, sump.start + sump.source_kgs * 100 * hour / sump.oil_kg, 1e-14));
}

Test(oil, residual_oil_cycle)
{
    /* independent route: change after change until it repeats itself */
    double start = NAN;
    double end = NAN;
    double share = 0.173;
    cr_expect_eq(trn_oil_residual_cycle(2.2, 0.6e-6 / 3600, 385 * hour, share, &start, &end),
                 TRN_OK);
    double c = 0;
    double last = 0;
    for (int i = 0; i < 60; i++) {
        last = c + 0.6e-6 * 385 / 2.2;
        c = share * last;
    }
    cr_expect(test_near(end, last, 1e-13) && test_near(start, c, 1e-13), "%g %g", start, end);
    const double bad[][4] = {{0, 1, 1, 0.1},  {1, -1, 1, 0.1}, {1, 1, -1, 0.1},
                             {1, 1, 1, -0.1}, {1, 1, 1, 1},    {1, 1, 1, NAN}};
    for (size_t i = 0; i < COUNT(bad); i++) {
        start = end = mark;
        trn_status status = trn_oil_residual_cycle(bad[i][0], bad[i][1], bad[i][2], bad[i][3],
                                                   &start, &end);
        cr_expect(status == TRN_E_DOMAIN && start == mark && end == mark, "row %zu", i);
    }
}

Test(oil, contamination_refuses)
{
    for (size_t i = 0; i < 14; i++) {
        trn_oil_sump sump = sumps[2];
        double wrong = i < 7 ? -1e-9 : NAN;
        double t = 10;
        double *members[] = {&sump.oil_kg, &sump.source_kgs,    &sump.leak_kgs, &sump.fresh,
                             &sump.start,  &sump.removal_per_s, &t};
        *members[i % 7] = wrong;
        double c = mark;
        double limit = mark;
        trn_status status = trn_oil_contamination(sump, t, &c, &limit);
        cr_expect(status == TRN_E_DOMAIN && c == mark && limit == mark, "member %zu", i);
    }
    trn_oil_sump empty = {0};
    double c = mark;
    double limit = mark;
    cr_expect_eq(trn_oil_contamination(empty, 1, &c, &limit), TRN_E_DOMAIN);
    cr_expect_eq(trn_oil_leaking(empty, 1, &c), TRN_E_DOMAIN);
    cr_expect_eq(trn_oil_source(empty, 1e-6, 2e-6, 1, &c), TRN_E_DOMAIN);
    cr_expect_eq(trn_oil_source(sumps[0], 1e-6, 2e-6, 0, &c), TRN_E_DOMAIN);
    cr_expect_eq(trn_oil_source(sumps[0], -1e-6, 2e-6, 1, &c), TRN_E_DOMAIN);
    cr_expect(c == mark && limit == mark);
}

/* ---- breathing ---------------------------------------------------------------------------- */

static const trn_oil_box box = {
    .oil_m3 = 2.5e-3,
    .air_m3 = 1.5e-3,
    .cold_k = 25 + 273.15,
    .hot_k = 80 + 273.15,
    .dust_kgm3 = 25e-6,
    .humidity = 0.8,
};

Test(oil, breathing_by_amounts_of_gas)
{
    /* derived, by hand: amount of air at both temperatures from p V = n R T at 101325 Pa */
    trn_oil_breath breath = {0};
    cr_expect_eq(trn_oil_breathing(box, &breath), TRN_OK);
    double p = 101325;
    double gas = 8.314462618;
    double hot_air = 1.5e-3 - 7e-4 * 2.5e-3 * 55;
    double cold_amount = p * 1.5e-3 / (gas * 298.15);
    double hot_amount = p * hot_air / (gas * 353.15);
    double wanted = (cold_amount - hot_amount) * gas * 298.15 / p;
    cr_expect(test_near(breath.inhaled_m3, wanted, 1e-12), "wanted %g got %g", wanted,
              breath.inhaled_m3);
    cr_expect(test_near(breath.dust_kg, wanted * 25e-6, 1e-12));
    /* worked figures: 0.31 L; 0.004 ppm of dust, 2.6 ppm of water in 2.5 L at 0.89 kg/L */
    cr_expect_float_eq(breath.inhaled_m3 * 1e3, 0.31, 0.005);
    cr_expect_float_eq(breath.dust_kg / (2.5 * 0.89) / ppm, 0.004, 0.0005);
    cr_expect_float_eq(breath.water_kg / (2.5 * 0.89) / ppm, 2.6, 0.05);
}

Test(oil, breathing_saturated_air)
{
    /* from memory but for 20 and 30 degC (published, CRC Handbook, 62nd edition): saturated
     * vapour, g/m3; the law meets them within 0.4 % */
    const double vapour[][2] = {{0, 4.847}, {10, 9.399}, {20, 17.33}, {30, 30.43}, {40, 51.19}};
    for (size_t i = 0; i < COUNT(vapour); i++) {
        trn_oil_box moist = box;
        moist.cold_k = vapour[i][0] + ice;
        moist.humidity = 1;
        trn_oil_breath breath = {0};
        cr_expect_eq(trn_oil_breathing(moist, &breath), TRN_OK);
        double got = breath.water_kg / breath.inhaled_m3 * 1e3;
        cr_expect(test_near(got, vapour[i][1], 4e-3), "%g degC: wanted %g got %g", vapour[i][0],
                  vapour[i][1], got);
    }
}

Test(oil, breathing_limits)
{
    trn_oil_breath breath = {0};
    trn_oil_box other = box;
    other.hot_k = other.cold_k;
    cr_expect_eq(trn_oil_breathing(other, &breath), TRN_OK);
    cr_expect(breath.inhaled_m3 == 0 && breath.dust_kg == 0 && breath.water_kg == 0);
    /* headspace just filled: all of it is drawn in again */
    other = box;
    other.air_m3 = 7e-4 * 2.5e-3 * (other.hot_k - other.cold_k);
    cr_expect_eq(trn_oil_breathing(other, &breath), TRN_OK);
    cr_expect(test_near(breath.inhaled_m3, other.air_m3, 1e-12));
    /* a small step against the derivative V_air/T + 7e-4 V_oil */
    other = box;
    other.hot_k = other.cold_k + 1e-6;
    (void)trn_oil_breathing(other, &breath);
    double slope = 1.5e-3 / 298.15 + 7e-4 * 2.5e-3;
    cr_expect(test_near(breath.inhaled_m3 / (other.hot_k - other.cold_k), slope, 1e-8));
    other = box;
    other.cold_k = ice - 20.1;
    cr_expect_eq(trn_oil_breathing(other, &breath), TRN_R_OIL_VAPOUR);
    other.cold_k = ice - 20;
    cr_expect_eq(trn_oil_breathing(other, &breath), TRN_OK);
    other.cold_k = ice + 50.1;
    cr_expect_eq(trn_oil_breathing(other, &breath), TRN_R_OIL_VAPOUR);
}

Test(oil, breathing_refuses)
{
    const double bad[][2] = {
        /* place, value */
        {0, 0},      {0, NAN},  {1, 0},        {1, -1e-3}, {2, NAN}, {2, 354.15}, {2, 20},
        {3, 297},    {3, NAN},  {3, INFINITY}, {4, -1},    {4, NAN}, {5, -0.01},  {5, 1.01},
        {5, NAN},    {1, 9e-5},
    };
    for (size_t i = 0; i < COUNT(bad); i++) {
        trn_oil_box other = box;
        double *members[] = {&other.oil_m3, &other.air_m3,    &other.cold_k,
                             &other.hot_k,  &other.dust_kgm3, &other.humidity};
        *members[(size_t)bad[i][0]] = bad[i][1];
        trn_oil_breath breath = {mark, mark, mark};
        trn_status status = trn_oil_breathing(other, &breath);
        cr_expect(status == TRN_E_DOMAIN && breath.inhaled_m3 == mark && breath.dust_kg == mark &&
                      breath.water_kg == mark,
                  "row %zu: status %d", i, status);
    }
}

/* ---- generic oils ------------------------------------------------------------------------- */

Test(oil, generic_oils_agree_with_themselves)
{
    size_t n = 0;
    for (const trn_oil_data *oil; (oil = trn_oil_generic(n)) != NULL; n++) {
        double index = NAN;
        double printed = NAN;
        cr_expect_eq(trn_oil_index(oil->kv40_mm2s * mm2, oil->kv100_mm2s * mm2, &index, &printed),
                     TRN_OK);
        cr_expect(printed == oil->index, "%s: index %g, table says %g", oil->name, index,
                  oil->index);
        const double value[] = {oil->kv40_mm2s, oil->kv100_mm2s, oil->density15_kgm3};
        const trn_oil_span span[] = {oil->kv40_span, oil->kv100_span, oil->density15_span};
        for (size_t k = 0; k < 3; k++)
            cr_expect((span[k].low == 0 && span[k].high == 0) ||
                          (span[k].low <= value[k] && value[k] <= span[k].high),
                      "%s: %g outside %g to %g", oil->name, value[k], span[k].low, span[k].high);
        size_t grade = 0;
        if (strncmp(oil->name, "VG ", 3) == 0) {
            (void)trn_oil_vg(oil->kv40_mm2s * mm2, &grade);
            const char *name = trn_oil_vg_grades[grade];
            cr_expect_eq(strncmp(oil->name, name, strlen(name)), 0, "%s is %s", oil->name, name);
        } else {
            (void)trn_oil_gear_grade(oil->kv100_mm2s * mm2, 2019, &grade);
            const char *dash = strchr(oil->name, '-');
            const char *name = trn_oil_gear_grades[grade];
            cr_expect_eq(strncmp(dash + 1, name, strlen(name)), 0, "%s is %s", oil->name, name);
        }
    }
    cr_expect_eq(n, 9, "%zu oils", n);
}

Test(oil, entries_are_complete)
{
    const char *const subjects[] = {"oil.", "grease.", "wear.film", "wear.lambda"};
    size_t seen = 0;
    for (size_t i = 0; i < trn_formula_count(); i++) {
        const trn_formula *f = trn_formula_at(i);
        int ours = 0;
        for (size_t k = 0; k < COUNT(subjects); k++)
            ours |= strncmp(f->name, subjects[k], strlen(subjects[k])) == 0;
        if (!ours)
            continue;
        seen++;
        char pairs[8][64];
        const char *list[8];
        size_t n = 0;
        for (const char *p = f->example; *p && n < COUNT(pairs); n++) {
            size_t length = strcspn(p, " ");
            cr_assert_lt(length, sizeof pairs[n]);
            memcpy(pairs[n], p, length);
            pairs[n][length] = '\0';
            list[n] = pairs[n];
            p += length + strspn(p + length, " ");
        }
        trn_answer answer;
        trn_status status = trn_formula_evaluate(f, list, n, &answer);
        cr_expect_eq(status, TRN_OK, "%s %s: %s %s", f->name, f->example, answer.faulty,
                     answer.why);
        cr_expect(f->what && f->equation && f->validity && f->standing);
        for (const char *p = f->source; *p;) {
            size_t length = strcspn(p, "; (");
            cr_expect_not_null(trn_source_find(p, length), "%s: source %s", f->name, p);
            p = strchr(p, ';');
            p = p ? p + 1 + strspn(p + 1, " ") : "";
        }
    }
    cr_expect_geq(seen, 19, "%zu entries", seen);
}
