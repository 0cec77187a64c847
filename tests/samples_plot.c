/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Picture and readings of oil samples: what they rest on, and names that are data. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/samples_table.h>
#include <unistd.h>

#include "replay.h"
#include "support.h"

static void quiet(void)
{
    (void)gsl_set_error_handler_off();
}

TestSuite(samples_plot, .init = quiet);

static trn_machine *machine;

static trn_samples_table of(const char *path, double volume_m3)
{
    trn_faults faults = {0};
    trn_samples_settings settings;
    trn_samples_table table;
    trn_samples_settings_default(&settings);
    settings.oil_volume = volume_m3;
    cr_assert_eq(trn_machine_read_table(path, "samples", &faults, &machine), TRN_OK, "%s", path);
    cr_assert_eq(trn_samples_table_make(machine->samples, machine->samples_count, path, &settings,
                                        &faults, &table),
                 TRN_OK);
    return table;
}

static trn_samples_table of_set(const char *set, double volume_m3)
{
    char path[512];
    (void)snprintf(path, sizeof path, "%s/published/samples/%s.csv", test_root(), set);
    return of(path, volume_m3);
}

static void done(trn_samples_table *table)
{
    trn_samples_table_free(table);
    trn_machine_free(machine);
}

/* derived: each row has its readings, and its line goes through what it was fitted to: two
 * readings through both, one through the reading and the start */
Test(samples_plot, lines_go_through_their_readings)
{
    trn_samples_table t = of_set("three_fills", NAN);
    size_t lines = 0;
    for (size_t r = 0; r < t.count; r++) {
        const trn_samples_row *row = &t.rows[r];
        size_t n = 0;
        for (size_t i = 0; i < t.point_count; i++) {
            const trn_samples_point *p = &t.points[i];
            if (p->row != r)
                continue;
            n++;
            double at = row->line_ppm + row->rate / 100 * (p->machine_h - row->line_h);
            if (row->samples < 4 && !isnan(row->rate)) {
                cr_expect(fabs(at - p->corrected_ppm) < 1e-9, "%s fill %zu: %g, not %g",
                          row->element_word, row->fill, at, p->corrected_ppm);
                lines++;
            }
            cr_expect_eq(p->ppm, p->corrected_ppm, "no top-ups here");
        }
        cr_expect_eq(n, row->samples, "%s fill %zu", row->element_word, row->fill);
    }
    cr_expect_geq(lines, 8, "%zu", lines);
    done(&t);
}

/* derived: with top-ups the readings corrected lie on the line of 32 ppm/100 h of the set */
Test(samples_plot, top_ups_are_put_back)
{
    trn_samples_table t = of_set("leak", 0.005);
    size_t lifted = 0;
    for (size_t i = 0; i < t.point_count; i++) {
        const trn_samples_point *p = &t.points[i];
        double at = t.rows[0].line_ppm + 0.32 * (p->machine_h - t.rows[0].line_h);
        cr_expect(fabs(at - p->corrected_ppm) < 1e-4, "%g, not %g", p->corrected_ppm, at);
        lifted += p->corrected_ppm > p->ppm + 0.1;
    }
    cr_expect_geq(lifted, 3);
    done(&t);
}

static void expect_finding(const char *set, double volume_m3, const char *wanted)
{
    trn_buffer script = {0};
    trn_buffer finding = {0};
    trn_samples_table t = of_set(set, volume_m3);
    cr_assert_eq(trn_plot_samples(&t, trn_samples_gearbox(&t, 0), &script, &finding), TRN_OK);
    cr_expect_str_eq(finding.text, wanted, "%s: %s", set, finding.text);
    trn_buffer_free(&script);
    trn_buffer_free(&finding);
    cr_expect_eq(trn_plot_samples(&t, "no such box", &script, &finding), TRN_E_UNKNOWN);
    cr_expect(script.length == 0 && finding.length == 0);
    cr_expect_null(trn_samples_gearbox(&t, 99));
    done(&t);
}

Test(samples_plot, findings_state_the_numbers)
{
    expect_finding("three_fills", NAN,
                   "centre: si rises 20.9 ppm/100 h and comes to its limit of 60 ppm first, in 213 h; "
                   "silicon and aluminium as of mineral dust; 3 fills");
    expect_finding("change_not_logged", 0.005,
                   "centre: si rises 7.83 ppm/100 h and comes to its limit of 60 ppm first, in 640 h; "
                   "2 fills, 1 of them begun by a change that nobody logged");
    expect_finding("leak", 0.005,
                   "wing: fe rises 32 ppm/100 h and comes to its limit of 300 ppm first, in 696 h; "
                   "1 fill");
}

/* a name of the user's is a quoted text, whatever it holds */
Test(samples_plot, names_are_data)
{
    static const char *const names[] = {"'; system('touch marker'); '", "`touch marker`", "END",
                                        "\"$(touch marker)"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        char path[64], text[400];
        trn_buffer script = {0}, finding = {0};
        bool quoted = false;
        (void)snprintf(text, sizeof text,
                       "gearbox,machine_hours [h],oil_hours [h],fe [ppm]\n\"%s%s\",100,50,20\n"
                       "\"%s%s\",150,100,31\n",
                       names[i][0] == '"' ? "\"" : "", names[i], names[i][0] == '"' ? "\"" : "",
                       names[i]);
        replay_write(text, path);
        trn_samples_table t = of(path, NAN);
        (void)unlink(path);
        cr_assert_eq(trn_plot_samples(&t, trn_samples_gearbox(&t, 0), &script, &finding), TRN_OK);
        for (const char *p = script.text; *p; p++) {
            quoted = *p == '\'' ? !quoted : quoted;
            cr_assert(!(quoted && *p == '\n'), "a line ends in a quotation");
            cr_assert(quoted || !strchr("`\"@|^", *p), "`%c` outside of quotes", *p);
            cr_assert(quoted || strncmp(p, "system", 6) != 0, "a call of the system");
        }
        cr_assert(!quoted);
        trn_buffer_free(&script);
        trn_buffer_free(&finding);
        done(&t);
    }
}
