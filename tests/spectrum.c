/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Load spectra of torque records: the published example, sums, units, gaps, refusals. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <trunnion/choices.h>
#include <trunnion/rainflow.h>
#include <trunnion/spectrum.h>
#include <unistd.h>

#include "replay.h"
#include "support.h"

static void quiet(void)
{
    (void)gsl_set_error_handler_off();
}

TestSuite(spectrum, .init = quiet);

static trn_status made_with(const char *text, const trn_spectrum_settings *settings,
                            trn_faults *faults, trn_spectrum *s)
{
    char path[64];
    trn_record record;
    replay_write(text, path);
    trn_status status = trn_record_read(path, faults, &record);
    (void)unlink(path);
    if (status != TRN_OK)
        return status;
    status = trn_spectrum_make(&record, settings, faults, s);
    trn_record_free(&record);
    return status;
}

static trn_spectrum made(const char *text, double step_nm, size_t bins, bool repeating)
{
    trn_faults faults = {0};
    trn_spectrum s = {.cycles = NULL};
    trn_spectrum_settings settings;
    trn_spectrum_settings_default(&settings);
    settings.step_nm = step_nm;
    settings.bins = bins;
    settings.repeating = repeating;
    trn_status status = made_with(text, &settings, &faults, &s);
    cr_assert_eq(status, TRN_OK, "%s: %s", trn_status_text(status),
                 faults.kept ? faults.list[0].text : "");
    trn_faults_free(&faults);
    return s;
}

static const trn_spectrum_part *part_of(const trn_spectrum *s, const char *name, double exponent)
{
    for (size_t i = 0; i < s->part_count; i++)
        if (strcmp(s->parts[i].part, name) == 0 && fabs(s->parts[i].exponent - exponent) < 1e-9)
            return &s->parts[i];
    cr_assert_fail("no part `%s` with %g", name, exponent);
    return NULL;
}

static const char standard[] = "torque [N.m]\n-2\n1\n-3\n5\n-1\n3\n-4\n4\n-2\n";

/* published: ASTM E1049, rainflow example: ranges with counts, and means by its figure */
Test(spectrum, standard_example)
{
    static const double wanted[][3] = {{3, -0.5, 0.5}, {4, -1, 0.5}, {4, 1, 1}, {6, 1, 0.5},
                                       {8, 0, 0.5},    {8, 1, 0.5},  {9, 0.5, 0.5}};
    trn_spectrum s = made(standard, NAN, 0, false);
    cr_assert_eq(s.cycle_count, 7, "%zu", s.cycle_count);
    for (size_t i = 0; i < 7; i++) {
        cr_expect_eq(s.cycles[i].range_nm, wanted[i][0], "%zu: %g", i, s.cycles[i].range_nm);
        cr_expect_eq(s.cycles[i].mean_nm, wanted[i][1], "%zu: %g", i, s.cycles[i].mean_nm);
        cr_expect_eq(s.cycles[i].count, wanted[i][2], "%zu: %g", i, s.cycles[i].count);
    }
    cr_expect_eq(s.cycles_sum, 4);
    /* derived: review page, equivalent ranges of the example */
    cr_expect(fabs(part_of(&s, "shafts and yokes", 3)->equivalent_nm - 6.491112) < 5e-7);
    cr_expect(fabs(part_of(&s, "shafts and yokes", 5)->equivalent_nm - 7.012657) < 5e-7);
    trn_spectrum_free(&s);
}

/* derived: lower edge in, upper edge out; counts and damage add up whatever the bins are */
Test(spectrum, bins_and_their_edges)
{
    trn_spectrum s = made(standard, 4, 0, false);
    cr_assert_eq(s.bin_count, 3);
    static const double counts[] = {0.5, 2, 1.5}; /* 3 | 4, 4, 6 | 8, 8, 9 */
    double damage = 0;
    for (size_t i = 0; i < 3; i++) {
        cr_expect_eq(s.bins[i].from_nm, 4 * (double)i);
        cr_expect_eq(s.bins[i].to_nm, 4 * (double)(i + 1));
        cr_expect_eq(s.bins[i].count, counts[i], "%zu: %g", i, s.bins[i].count);
        damage += s.bins[i].damage_pct;
    }
    cr_expect(test_near(damage, 100, 1e-12));
    cr_expect(s.bins[1].mean_low_nm == -1 && s.bins[1].mean_high_nm == 1);
    cr_expect(test_near(s.bins[1].mean_nm, 0.5, 1e-12)); /* (-1/2 + 1 + 1/2)/2 */
    trn_spectrum_free(&s);
    s = made(standard, 9, 0, false); /* 9 stands on an edge: it opens a bin of its own */
    cr_assert_eq(s.bin_count, 2);
    cr_expect_eq(s.bins[1].count, 0.5);
    trn_spectrum_free(&s);
    for (size_t bins = 1; bins < 40; bins += 3) {
        double sum = 0;
        s = made(standard, NAN, bins, false);
        cr_expect_leq(s.bin_count, bins, "%zu bins asked for, %zu given", bins, s.bin_count);
        for (size_t i = 0; i < s.bin_count; i++)
            sum += s.bins[i].count;
        cr_expect(test_near(sum, 4, 1e-12), "%zu bins: %g", bins, sum);
        trn_spectrum_free(&s);
    }
}

/* derived: in a closed loop every cycle counts 1 and the largest range is there */
Test(spectrum, closed_loop)
{
    trn_spectrum s = made(standard, NAN, 0, true);
    for (size_t i = 0; i < s.cycle_count; i++)
        cr_expect(fabs(s.cycles[i].count - round(s.cycles[i].count)) < 1e-12 &&
                      s.cycles[i].count >= 1,
                  "%g: %g", s.cycles[i].range_nm, s.cycles[i].count);
    cr_expect_eq(s.cycles[s.cycle_count - 1].range_nm, 9);
    cr_expect_eq(s.cycles_sum, 4);
    trn_spectrum_free(&s);
}

/* derived: the same torque all along is its own equivalent, whatever the exponent; no cycles */
Test(spectrum, even_torque)
{
    trn_spectrum s = made("time [s],torque [N.m],speed [rpm]\n0,238.5,540\n3,238.5,521\n"
                          "7.5,238.5,560\n",
                          NAN, 0, false);
    cr_expect_eq(s.cycle_count, 0);
    cr_expect_eq(s.part_count, 8, "%zu: bearings and teeth, no shafts", s.part_count);
    for (size_t i = 0; i < s.part_count; i++) {
        cr_expect(test_near(s.parts[i].equivalent_nm, 238.5, 1e-12), "%s", s.parts[i].part);
        cr_expect(test_near(s.parts[i].damage, s.parts[i].count, 1e-12));
        cr_expect(test_near(s.parts[i].peak_share_pct, 100, 1e-12));
    }
    /* derived: 3 s at 540 rpm, 4.5 s at 521 rpm; the last stamp holds nothing */
    cr_expect(test_near(s.revolutions, 3 * 9.0 + 4.5 * 521 / 60, 1e-12), "%g", s.revolutions);
    cr_expect(test_near(s.known_s, 7.5, 1e-12));
    trn_spectrum_free(&s);
}

/* published exponents of bearings, memory those of teeth; worked spectrum of the review page:
 * 400/600/900/1500 N.m for 60/30/9/1 % of the revolutions */
Test(spectrum, worked_spectrum)
{
    trn_spectrum s = made("time [s],torque [N.m],speed [rpm]\n0,400,60\n6,600,60\n9,900,60\n"
                          "9.9,1500,60\n10,0,0\n",
                          100, 0, false);
    const trn_spectrum_part *ball = part_of(&s, "ball bearings", 3);
    cr_expect(fabs(ball->equivalent_nm - 587.288) < 5e-4, "%.7g", ball->equivalent_nm);
    cr_expect(fabs(ball->peak_share_pct - 17) < 0.5, "%g", ball->peak_share_pct);
    const trn_spectrum_part *roller = part_of(&s, "roller bearings", 10.0 / 3);
    cr_expect(fabs(roller->equivalent_nm - 602.699) < 5e-4);
    cr_expect(fabs(roller->peak_share_pct - 21) < 0.5);
    const trn_spectrum_part *pitting = part_of(&s, "teeth, case-hardened, pitting", 6.610);
    cr_expect(fabs(pitting->equivalent_nm - 785.293) < 5e-4);
    cr_expect(fabs(pitting->peak_share_pct - 72) < 0.5);
    const trn_spectrum_part *bending = part_of(&s, "teeth, case-hardened, bending", 8.738);
    cr_expect(fabs(bending->equivalent_nm - 896.568) < 5e-4);
    cr_expect(fabs(bending->peak_share_pct - 90) < 0.5);
    /* derived: the table of levels says the same: its highest level is the peak */
    const trn_spectrum_level *top = &s.levels[s.level_count - 1];
    cr_expect_eq(top->from_nm, 1500);
    cr_expect(test_near(top->revolutions_pct, 1, 1e-9), "%g", top->revolutions_pct);
    cr_expect(test_near(top->ball_pct, ball->peak_share_pct, 1e-9));
    cr_expect(test_near(top->roller_pct, roller->peak_share_pct, 1e-9));
    cr_expect(test_near(top->pitting_pct, pitting->peak_share_pct, 1e-9));
    cr_expect(test_near(top->bending_pct, bending->peak_share_pct, 1e-9));
    trn_spectrum_free(&s);
}

static void random_record(char *text, size_t size, const char *header, double per_torque,
                          double per_speed)
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    size_t used = (size_t)snprintf(text, size, "%s\n", header);
    double t = 0;
    gsl_rng_set(rng, 1125);
    for (int i = 0; i < 400; i++) {
        t += 0.1 + 0.2 * gsl_rng_uniform(rng) + (i == 150 ? 238.5 : 0);
        double torque = floor(1300 * gsl_rng_uniform(rng)) - 200;
        double speed = 500 + floor(60 * gsl_rng_uniform(rng));
        used += (size_t)snprintf(text + used, size - used, "%.17g,%.17g,%.17g\n", t,
                                 torque * per_torque, speed * per_speed);
    }
    gsl_rng_free(rng);
}

/* derived: a foot pound-force is 0.3048 m times 4.4482216152605 N; the record says the same */
Test(spectrum, units)
{
    static char metric[40000], other[40000];
    random_record(metric, sizeof metric, "time [s],torque [N.m],speed [rpm]", 1, 1);
    random_record(other, sizeof other, "time [s],torque [ft.lbf],speed [rad/s]",
                  1 / (0.3048 * 4.4482216152605), 2 * 3.14159265358979323846 / 60);
    trn_spectrum a = made(metric, NAN, 12, false);
    trn_spectrum b = made(other, NAN, 12, false);
    cr_assert_eq(a.cycle_count, b.cycle_count, "%zu, %zu", a.cycle_count, b.cycle_count);
    for (size_t i = 0; i < a.cycle_count; i++)
        cr_expect(test_near(a.cycles[i].range_nm, b.cycles[i].range_nm, 1e-9) &&
                  test_near(a.cycles[i].count, b.cycles[i].count, 1e-12));
    cr_assert_eq(a.level_count, b.level_count);
    for (size_t i = 0; i < a.level_count; i++) {
        cr_expect(test_near(a.levels[i].from_nm, b.levels[i].from_nm, 1e-9));
        cr_expect(test_near(a.levels[i].revolutions, b.levels[i].revolutions, 1e-9));
    }
    for (size_t i = 0; i < a.part_count; i++)
        cr_expect(test_near(a.parts[i].equivalent_nm, b.parts[i].equivalent_nm, 1e-9), "%s",
                  a.parts[i].part);
    trn_spectrum_free(&a);
    trn_spectrum_free(&b);
}

/* derived: sums of shares, times and revolutions; flanks apart; equivalents by the library from
 * the rows themselves */
Test(spectrum, sums_of_a_record_with_a_gap)
{
    static char text[40000];
    random_record(text, sizeof text, "time [s],torque [N.m],speed [rpm]", 1, 1);
    trn_spectrum s = made(text, 100, 0, false);
    double sum[6] = {0}, time = 0, turns = 0;
    for (size_t i = 0; i < s.level_count; i++) {
        const trn_spectrum_level *l = &s.levels[i];
        const double part[6] = {l->time_pct,    l->revolutions_pct, l->ball_pct,
                                l->roller_pct, l->pitting_pct,     l->bending_pct};
        for (size_t k = 0; k < 6; k++)
            sum[k] += part[k];
        time += l->time_s;
        turns += l->revolutions;
        cr_expect(!(l->to_nm <= 0) || (l->pitting_pct <= 0 && l->bending_pct <= 0),
                  "reversed torque is on the other flank");
    }
    for (size_t k = 0; k < 6; k++)
        cr_expect(test_near(sum[k], 100, 1e-9), "%zu: %g", k, sum[k]);
    cr_expect(test_near(time, s.known_s, 1e-9) && test_near(turns, s.revolutions, 1e-9));
    cr_expect_eq(s.pieces, 2);
    cr_expect(s.unknown_s > 238.5 && s.unknown_s < 239, "%g", s.unknown_s);
    double counts = 0;
    for (size_t i = 0; i < s.cycle_count; i++)
        counts += s.cycles[i].count;
    cr_expect(test_near(counts, s.cycles_sum, 1e-12));
    (void)part_of(&s, "other flank, nitrided, bending", 17.035);
    trn_spectrum_free(&s);
}

/* derived: a record in two pieces has the cycles of the pieces; a row without torque is a gap */
Test(spectrum, gaps_split)
{
    trn_spectrum whole = made("time [s],torque [N.m]\n0,0\n1,5\n2,1\n3,4\n30,0\n31,7\n32,2\n33,9\n",
                              NAN, 0, false);
    trn_spectrum blank = made("time [s],torque [N.m]\n0,0\n1,5\n2,1\n3,4\n4,\n5,0\n6,7\n7,2\n8,9\n",
                              NAN, 0, false);
    trn_spectrum a = made("time [s],torque [N.m]\n0,0\n1,5\n2,1\n3,4\n", NAN, 0, false);
    trn_spectrum b = made("time [s],torque [N.m]\n0,0\n1,7\n2,2\n3,9\n", NAN, 0, false);
    cr_expect_eq(whole.pieces, 2);
    cr_expect_eq(blank.pieces, 2);
    cr_expect(test_near(whole.cycles_sum, a.cycles_sum + b.cycles_sum, 1e-12));
    cr_expect(test_near(blank.cycles_sum, whole.cycles_sum, 1e-12));
    cr_expect_eq(whole.cycle_count, blank.cycle_count);
    cr_expect(test_near(blank.unknown_s, 1, 1e-12) && test_near(blank.known_s, 7, 1e-12));
    trn_spectrum_free(&whole);
    trn_spectrum_free(&blank);
    trn_spectrum_free(&a);
    trn_spectrum_free(&b);
    /* 10 s is no gap, a bit more is one */
    a = made("time [s],torque [N.m]\n0,1\n10,2\n20,1\n", NAN, 0, false);
    b = made("time [s],torque [N.m]\n0,1\n10.001,2\n20,1\n", NAN, 0, false);
    cr_expect(a.pieces == 1 && b.pieces == 2);
    trn_spectrum_free(&a);
    trn_spectrum_free(&b);
}

/* derived: without a speed revolutions are even in time, without time every row is alike */
Test(spectrum, what_is_missing_is_weighed_evenly)
{
    trn_spectrum full = made("time [s],torque [N.m],speed [rpm]\n0,400,540\n2,100,540\n3,400,540\n"
                             "5,100,540\n6,0,540\n",
                             NAN, 0, false);
    trn_spectrum timed = made("time [s],torque [N.m]\n0,400\n2,100\n3,400\n5,100\n6,0\n", NAN, 0,
                              false);
    trn_spectrum turning = made("torque [N.m],speed [rpm]\n400,200\n100,100\n400,200\n100,100\n",
                                NAN, 0, false);
    trn_spectrum bare = made("torque [N.m]\n400\n400\n100\n", NAN, 0, false);
    double wanted = pow((2 * pow(400, 3) + pow(100, 3)) / 3, 1.0 / 3);
    const trn_spectrum *all[] = {&full, &timed, &turning, &bare};
    static const char *const counted[] = {"revolutions", "seconds", "rows x speed", "rows"};
    for (size_t i = 0; i < 4; i++) {
        const trn_spectrum_part *ball = part_of(all[i], "ball bearings", 3);
        cr_expect(test_near(ball->equivalent_nm, wanted, 1e-12), "%zu: %g, not %g", i,
                  ball->equivalent_nm, wanted);
        cr_expect_str_eq(ball->counted, counted[i]);
    }
    cr_expect(isnan(timed.revolutions) && isnan(turning.revolutions) && isnan(bare.known_s));
    cr_expect(isnan(timed.levels[0].revolutions_pct) && isnan(bare.levels[0].time_s));
    cr_expect(test_near(bare.levels[0].time_pct, 100.0 / 3, 1e-12));
    trn_spectrum_free(&full);
    trn_spectrum_free(&timed);
    trn_spectrum_free(&turning);
    trn_spectrum_free(&bare);
}

static void expect_refused(const char *text, const char *reason)
{
    trn_faults faults = {0};
    trn_spectrum s = {.cycle_count = 7};
    trn_spectrum_settings settings;
    trn_spectrum_settings_default(&settings);
    cr_expect_eq(made_with(text, &settings, &faults, &s), TRN_E_INPUT, "%s", text);
    cr_assert_geq(faults.kept, 1, "%s", text);
    trn_buffer said = {0};
    trn_fault_text(&faults.list[0], &said);
    cr_expect_not_null(strstr(said.text, reason), "wanted `%s`, got `%s`", reason, said.text);
    cr_expect_eq(s.cycle_count, 7, "outputs are untouched");
    trn_buffer_free(&said);
    trn_faults_free(&faults);
}

Test(spectrum, refuses)
{
    expect_refused("time [s]\n1\n", "the column `torque [N.m]` is needed");
    expect_refused("torque [N.m],load [N.m]\n1,2\n", "column 1 holds the torque already");
    expect_refused("torque [m]\n1\n", ":1: column torque [m]: N.m or a unit that converts");
    expect_refused("torque\n1\n", "write `torque [N.m]`");
    expect_refused("torque [N.m],power [kW]\n1,2\n", ":1: column power [kW]: the columns are");
    expect_refused("torque [N.m]\n1\nx\n", ":3: column torque [N.m]: `x` is not a number");
    expect_refused("time [s],torque [N.m]\n0,1\n2,2\n2,3\n", ":4: column time [s]: 2 is not later");
    expect_refused("time [s],torque [N.m]\n0,1\n,2\n", ":3: column time [s]: the cell is blank");
    expect_refused("torque [N.m],speed [rpm]\n1,540\n1,-540\n", ":3: column speed [rpm]: -540 is");
    expect_refused("torque [N.m],note\n,a\n", "no row has a torque");
    expect_refused("torque [N.m],speed [rpm]\n1,0\n2,0\n", "nothing turns");
    expect_refused("time [s],torque [N.m]\n1,5\n", "no row holds for any time");
    expect_refused("torque [N.m]\n", "no rows");
}

Test(spectrum, refused_settings_leave_the_output)
{
    static const double bad[] = {0, -1, NAN, INFINITY};
    trn_faults faults = {0};
    for (size_t i = 0; i < 4; i++)
        for (int k = 0; k < 3; k++) {
            trn_spectrum s = {.cycle_count = 7};
            trn_spectrum_settings settings;
            trn_spectrum_settings_default(&settings);
            if ((k == 0 && isnan(bad[i])) || (k == 2 && isinf(bad[i])))
                continue; /* no step asked for; no gap at all */
            *(k == 0 ? &settings.step_nm : k == 1 ? &settings.slope : &settings.gap_s) = bad[i];
            cr_expect_eq(made_with(standard, &settings, &faults, &s), TRN_E_DOMAIN, "%d %g", k,
                         bad[i]);
            cr_expect_eq(s.cycle_count, 7);
        }
    trn_spectrum s = {.cycle_count = 7};
    trn_spectrum_settings settings;
    trn_spectrum_settings_default(&settings);
    settings.step_nm = 1e-6;
    cr_expect_eq(made_with(standard, &settings, &faults, &s), TRN_E_INPUT);
    cr_expect_eq(faults.count, 1);
    trn_faults_free(&faults);
}

/* the usual settings stand among the choices */
Test(spectrum, usual_settings_are_choices)
{
    trn_spectrum_settings settings;
    trn_spectrum_settings_default(&settings);
    cr_expect_eq(settings.slope, trn_choice_value(TRN_CHOICE_SHAFT_SLOPE));
    cr_expect_eq(settings.gap_s, trn_choice_value(TRN_CHOICE_RECORD_GAP));
    cr_expect_eq(settings.slope, 5);
    cr_expect_eq(settings.gap_s, 10);
}

/* the finding is computed from the numbers; a name in it cannot be a command */
Test(spectrum, plot_states_what_the_peak_does)
{
    trn_buffer script = {0};
    trn_buffer finding = {0};
    trn_spectrum s = made("time [s],torque [N.m],speed [rpm]\n0,400,60\n6,600,60\n9,900,60\n"
                          "9.9,1500,60\n10,0,0\n",
                          100, 0, false);
    cr_assert_eq(trn_plot_spectrum(&s, &script, &finding), TRN_OK);
    cr_expect_not_null(strstr(finding.text, "torque from 1500 N.m up is 1 % of the revolutions and "
                                            "does 90 % of the damage to tooth roots, 21 % of that to "
                                            "roller bearings"),
                       "%s", finding.text);
    trn_buffer_free(&script);
    trn_buffer_free(&finding);
    trn_spectrum_free(&s);
    s = made("torque [N.m]\n5\n5\n", NAN, 0, false);
    cr_assert_eq(trn_plot_spectrum(&s, &script, &finding), TRN_OK);
    cr_expect_not_null(strstr(script.text, "no cycles"));
    trn_buffer_free(&script);
    trn_buffer_free(&finding);
    trn_spectrum_free(&s);
}
