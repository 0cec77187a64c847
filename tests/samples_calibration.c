/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What oil samples say to the interval model. Figures: derived. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/samples_table.h>
#include <trunnion/trend.h>
#include <unistd.h>

#include "replay.h"
#include "support.h"

static trn_sample sample_at(double machine_h, double oil_h)
{
    trn_sample s = {.gearbox = "centre", .machine_hours = machine_h, .oil_hours = oil_h,
                    .kv40 = NAN, .top_up = NAN};
    for (size_t e = 0; e < TRN_ELEMENTS; e++)
        s.content[e] = NAN;
    return s;
}

static trn_sample iron_at(double machine_h, double oil_h, double fe)
{
    trn_sample s = sample_at(machine_h, oil_h);
    s.content[TRN_FE] = fe;
    return s;
}

/* ---- calibration -------------------------------------------------------------------------- */

/* A case of two gearboxes with the duty of the worked example of the interval page: mean dust
 * 28.2 mg/m3, 2.225 kg of oil. */
typedef struct small_case {
    trn_machine machine;
    trn_gearbox boxes[2];
    trn_oil oil;
    trn_duty duty[2];
    trn_sample samples[8];
} small_case;

static void small(small_case *c, const trn_sample *rows, size_t n)
{
    *c = (small_case){
        .boxes = {{.gearbox = "wing", .oil_volume = 9e-3, .residual_oil = 0.1},
                  {.gearbox = "centre", .oil_volume = 2.5e-3, .residual_oil = 0.1}},
        .oil = {.density15 = 890},
        .duty = {{.share = 0.6, .dust = 45e-6, .dust_class = -1},
                 {.share = 0.4, .dust = 3e-6, .dust_class = -1}},
    };
    memcpy(c->samples, rows, n * sizeof *rows);
    for (size_t i = 0; i < n; i++)
        c->samples[i].gearbox_index = strcmp(rows[i].gearbox, "centre") == 0;
    c->machine = (trn_machine){.gearboxes = c->boxes,     .gearboxes_count = 2,
                               .oils = &c->oil,           .oils_count = 1,
                               .duty = c->duty,           .duty_count = 2,
                               .samples = c->samples,     .samples_count = n};
}

static trn_sample dusty(double machine_h, double oil_h, double si, double al, double water)
{
    trn_sample s = iron_at(machine_h, oil_h, 5 + 0.3 * oil_h);
    s.content[TRN_SI] = si;
    s.content[TRN_AL] = al;
    s.content[TRN_WATER] = water;
    return s;
}

static trn_samples_calibration calibrated(const trn_sample *rows, size_t n)
{
    small_case c;
    trn_samples_calibration out;
    small(&c, rows, n);
    cr_assert_eq(trn_samples_calibrate(&c.machine, 1, &out), TRN_OK);
    return out;
}

/* derived: 9 L/h at 28.2 mg/m3 is 0.2538 mg/h, and with 30 % silicon 0.2538 x 0.3/2.225 ppm/h */
Test(samples_table, silicon_gives_the_intake_behind_it)
{
    double rate = 9 * 28.2 / 1000 * 0.3 / 2.225;
    trn_sample rows[] = {dusty(300, 40, 6, 2, 110), dusty(400, 140, 6 + 100 * rate, 3, 150),
                         dusty(460, 200, 6 + 160 * rate, 4, 130)};
    trn_samples_calibration k = calibrated(rows, 3);
    cr_expect(k.silicon_is_dirt);
    cr_expect_eq(k.samples, 3);
    cr_expect(test_near(k.silicon_rise_ppm, 160 * rate, 1e-9));
    cr_expect(test_near(k.silicon_hours, 160, 1e-12));
    cr_expect(test_near(k.oil_hours, 200, 1e-12));
    cr_expect(test_near(k.mean_dust_mg_m3, 28.2, 1e-12));
    cr_expect(test_near(k.dust_mg_h, 0.2538, 1e-9), "%.12g", k.dust_mg_h);
    cr_expect(test_near(k.intake_l_h, 9, 1e-9), "%.12g", k.intake_l_h);
    cr_expect_eq(k.element_count, 3); /* fe si al; water is none */
    cr_expect_str_eq(k.elements[0].name, "fe");
    cr_expect(test_near(k.elements[0].rate_ppm_h, 0.3, 1e-9));
    cr_expect_eq(k.elements[0].limit_ppm, 300);
    cr_expect_eq(k.water_pairs, 2);
    cr_expect_eq(k.water_first_ppm[1], 150);
    cr_expect_eq(k.water_second_ppm[1], 130);
    cr_expect(test_near(k.water_apart_h[1], 60, 1e-12));
    cr_expect(isnan(k.top_up_l_h));
    trn_samples_calibration_free(&k);
}

/* rules: aluminium with it in the band, 50 h on the oil, iron not falling */
Test(samples_table, silicon_that_is_no_dirt)
{
    static const struct {
        double oil_h, si, al, fe;
        bool dirt;
    } cases[] = {
        {200, 20, 6, 90, true},    {200, 20, 2, 90, false},  {200, 20, 3.5, 90, false},
        {200, 20, NAN, 90, false}, {200, 5, 6, 90, false},   {200, 20, 12, 90, false},
        {200, 20, 6, 4, false},    {200, 20, 6, NAN, true},  {50, 20, 6, 90, true},
        {49.9, 20, 6, 90, false},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        double oil_h = cases[i].oil_h;
        trn_sample rows[] = {dusty(300, 20, 6, 2, NAN), dusty(280 + oil_h, oil_h, 0, 0, NAN)};
        rows[1].content[TRN_SI] = cases[i].si;
        rows[1].content[TRN_AL] = cases[i].al;
        rows[1].content[TRN_FE] = cases[i].fe;
        if (isnan(cases[i].fe))
            rows[0].content[TRN_FE] = NAN;
        trn_samples_calibration k = calibrated(rows, 2);
        cr_expect_eq(k.silicon_is_dirt, cases[i].dirt, "row %zu", i);
        cr_expect_eq(isnan(k.silicon_rise_ppm), !cases[i].dirt, "row %zu", i);
        cr_expect_eq(isnan(k.intake_l_h), !cases[i].dirt, "row %zu", i);
        trn_samples_calibration_free(&k);
    }
}

/* the latest fill speaks; other gearboxes do not; water pairs never cross a change */
Test(samples_table, calibration_takes_the_latest_fill)
{
    trn_sample rows[] = {dusty(100, 100, 10, 3, 200), dusty(160, 160, 13, 4, 260),
                         dusty(240, 60, 21, 8, 120),  dusty(300, 120, 36, 12, 150),
                         dusty(310, 10, 90, 90, 900)};
    rows[1].top_up = 0.9e-3;
    rows[2].top_up = 0.1e-3;
    rows[3].top_up = 0.18e-3;
    rows[4].gearbox = "wing";
    trn_samples_calibration k = calibrated(rows, 5);
    cr_expect_eq(k.samples, 4);
    cr_expect_eq(k.fill, 2);
    cr_expect(k.silicon_is_dirt);
    cr_expect(test_near(k.silicon_hours, 60, 1e-12));
    cr_expect_eq(k.water_pairs, 2);
    cr_expect_eq(k.water_first_ppm[1], 120);
    cr_expect(test_near(k.top_up_l_h, 0.28 / 140, 1e-12), "%.12g", k.top_up_l_h);
    trn_samples_calibration_free(&k);
}

/* what falls does not wear; what has no rate is left out */
Test(samples_table, wear_is_never_below_zero)
{
    trn_sample rows[] = {dusty(300, 40, 9, 2, NAN), dusty(400, 140, 6, 3, NAN)};
    rows[1].content[TRN_PB] = 4; /* one reading: from the change */
    trn_samples_calibration k = calibrated(rows, 2);
    cr_assert_eq(k.element_count, 4);
    cr_expect_eq(k.elements[1].rate_ppm_h, 0);
    cr_expect_str_eq(k.elements[3].name, "pb");
    cr_expect(test_near(k.elements[3].rate_ppm_h, 4.0 / 140, 1e-12));
    trn_samples_calibration_free(&k);
    rows[1].oil_hours = NAN;
    rows[0].oil_hours = NAN;
    k = calibrated(rows, 2);
    cr_expect_eq(k.element_count, 3);
    trn_samples_calibration_free(&k);
}

Test(samples_table, calibration_without_samples)
{
    trn_sample row = dusty(300, 40, 9, 2, NAN);
    small_case c;
    trn_samples_calibration out;
    memset(&out, 0x5a, sizeof out);
    trn_samples_calibration before = out;
    small(&c, &row, 1);
    cr_expect_eq(trn_samples_calibrate(&c.machine, 2, &out), TRN_E_DOMAIN);
    cr_expect_eq(memcmp(&out, &before, sizeof out), 0);
    cr_expect_eq(trn_samples_calibrate(&c.machine, 0, &out), TRN_OK);
    cr_expect_eq(out.samples, 0);
    cr_expect(isnan(out.top_up_l_h) && !out.silicon_is_dirt && out.element_count == 0);
    trn_samples_calibration_free(&out);
    trn_sample wrong[] = {row, row};
    small(&c, wrong, 2);
    out = before;
    cr_expect_eq(trn_samples_calibrate(&c.machine, 1, &out), TRN_E_INPUT);
    cr_expect_eq(memcmp(&out, &before, sizeof out), 0);
}
