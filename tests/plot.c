/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scripts of the plots: what they say, and that names of users are data in them. */
#include <criterion/criterion.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/interval_rows.h>
#include <trunnion/plot.h>

#include "plot_made.h"

static trn_plots built(const char *name)
{
    trn_plots plots;
    cr_assert_eq(trn_plots_for_report(plot_made(name), &plots), TRN_OK);
    return plots;
}

static const trn_plot *of(const trn_plots *plots, const char *name)
{
    for (size_t i = 0; i < plots->n; i++)
        if (strcmp(plots->list[i].name, name) == 0)
            return &plots->list[i];
    cr_assert_fail("no plot `%s`", name);
    return NULL;
}

static void expect_finding(const trn_plots *plots, const char *name, const char *wanted)
{
    const char *got = of(plots, name)->finding.text;
    cr_expect_str_eq(got, wanted, "%s: wanted `%s`, got `%s`", name, wanted, got);
}

/* derived: the numbers of plot_made.c, worked by hand */
Test(plot, findings_state_the_numbers)
{
    trn_plots plots = built(NULL);
    cr_expect_eq(plots.n, 7, "%zu plots", plots.n);
    expect_finding(&plots, "intervals",
                   "30 of 35 points are due before the manual says, most of all p1: every 10 h "
                   "instead of 50 h (dust)");
    expect_finding(&plots, "plan",
                   "a year of 420 h asks for 42 visits with 58 tasks; p1 alone 42 times");
    expect_finding(&plots, "one_turn",
                   "s8 runs least evenly: output swings 3.3 % at 540 rpm (c2)");
    expect_finding(&plots, "one_turn_2", "s9: output swings 3.7 % at 540 rpm (c2)");
    expect_finding(&plots, "losses",
                   "g6 loses most: 600 W of 12.5 kW, 40 % of it in the mesh (c2)");
    expect_finding(&plots, "warmup",
                   "g6 gets hottest: 61 degC after 8 h, 63 % of the rise after 32 min (c2)");
    expect_finding(&plots, "bearing_lives",
                   "3 of 23 bearings fall short of the design life of 3200 h; b1 of g1 is the "
                   "weakest with 1000 h; 1 not known");
    trn_plots_free(&plots);
}

static trn_plots changed(void)
{
    trn_plots plots;
    cr_assert_eq(trn_plots_for_report(plot_made_to_change(), &plots), TRN_OK);
    return plots;
}

Test(plot, findings_of_the_other_outcome)
{
    (void)plot_made(NULL);
    trn_results *r = plot_made_to_change();
    for (size_t i = 0; i < MADE_POINTS; i++)
        r->points[i].recommended_h = r->points[i].manual_h;
    r->points[3].recommended_h = 25;
    for (size_t i = 0; i < MADE_BEARINGS; i++)
        r->bearings[2 * MADE_BEARINGS + i].lnmh_h = 1e6 + (double)i;
    trn_plots plots = changed();
    expect_finding(&plots, "intervals",
                   "1 of 35 points is due before the manual says: p4: every 25 h instead of 50 h "
                   "(dust)");
    expect_finding(&plots, "bearing_lives",
                   "all 24 bearings reach the design life of 3200 h; b1 of g1 is the weakest "
                   "with > 100 000 h");
    trn_plots_free(&plots);
    r->points[3].recommended_h = 50;
    plots = changed();
    expect_finding(&plots, "intervals", "none of 35 points is due before the manual says");
    trn_plots_free(&plots);
}

Test(plot, medians_only_are_said_so)
{
    (void)plot_made(NULL);
    trn_results *r = plot_made_to_change();
    for (size_t i = 0; i < MADE_POINTS; i++) {
        r->points[i].at_risk_h = r->points[i].nominal_h;
        r->points[i].governed_by = TRN_CAUSE_CALENDAR;
        r->points[i].second_limit = TRN_CAUSE_WATER;
    }
    trn_plots plots = changed();
    expect_finding(&plots, "intervals",
                   "30 of 35 points are due before the manual says, most of all p1: every 10 h "
                   "instead of 50 h (water); medians only, no margin");
    cr_expect_null(strstr(of(&plots, "intervals")->script.text, "caution"));
    trn_plots_free(&plots);
}

Test(plot, takes_the_condition_of_largest_share)
{
    cr_expect_eq(trn_plot_condition(plot_made(NULL)), 1);
}

static void expect_nothing(const char *what, trn_status status, const trn_buffer *script,
                           const trn_buffer *finding)
{
    cr_expect_eq(status, TRN_E_UNKNOWN, "%s: status %d", what, (int)status);
    cr_expect(script->text == NULL && finding->text == NULL, "%s: a buffer was touched", what);
}

Test(plot, without_numbers_there_is_no_plot)
{
    (void)plot_made(NULL);
    trn_results *r = plot_made_to_change();
    trn_buffer s = {0};
    trn_buffer f = {0};
    r->extras = NULL;
    expect_nothing("turn", trn_plot_turn(r, 0, 0, &s, &f), &s, &f);
    expect_nothing("warm-up", trn_plot_warmup(r, 0, &s, &f), &s, &f);
    expect_nothing("plan", trn_plot_plan(r, &s, &f), &s, &f);
    expect_nothing("condition", trn_plot_losses(r, TRN_NONE, &s, &f), &s, &f);
    for (size_t g = 0; g < MADE_GEARBOXES; g++)
        r->heat[g].mesh_w = NAN;
    expect_nothing("losses", trn_plot_losses(r, 0, &s, &f), &s, &f);
    for (size_t i = 0; i < MADE_BEARINGS; i++)
        r->bearings[2 * MADE_BEARINGS + i] =
            (trn_bearing_row){.bearing = i, .l10h_h = NAN, .lnmh_h = NAN};
    expect_nothing("lives", trn_plot_lives(r, &s, &f), &s, &f);
    for (size_t i = 0; i < MADE_POINTS; i++)
        r->points[i].recommended_h = NAN;
    expect_nothing("intervals", trn_plot_intervals(r, &s, &f), &s, &f);
    trn_plots plots = changed();
    cr_expect_eq(plots.n, 1, "%zu plots: losses of the other condition only", plots.n);
    trn_plots_free(&plots);
}

/* ---- names are data ------------------------------------------------------------------------- */

static const char *const hostile[] = {
    "`touch marker`",
    "$(touch marker)",
    "it's",
    "'; system('touch marker'); '",
    "' . system('touch marker') . '",
    "'\nset output '|touch marker'\n'",
    "\"`touch marker`\"",
    "\" . system(\"touch marker\")",
    "END",
    "a\nEND\n!touch marker\n",
    "a\rb\tc\x1b[31m\x7f",
    "@marker",
    "100 %s %d %%",
    "back\\",
    "<b>&amp;</text><script>",
    "{/Symbol a}_b^c~d",
    "\xC3\xA9\xE2\x82\xAC \xF0\x9F\x98\x80",
    "broken \xff\xc3 \xed\xa0\x80",
    "turn \xE2\x80\xAEround \xEF\xBF\xBF",
    "",
};
enum { HOSTILE = sizeof hostile / sizeof hostile[0] };

/* The words that a script may hold outside of quotes: its own. Whatever a name brought there
 * would be another character. */
static void expect_only_own_words(const char *script, const char *name)
{
    bool quoted = false;
    for (const char *p = script; *p; p++) {
        unsigned char c = (unsigned char)*p;
        cr_assert(c == '\n' || (c >= 0x20 && c != 0x7F), "control character %u with `%s`", c,
                  name);
        if (*p == '\'')
            quoted = !quoted;
        cr_assert(!(quoted && *p == '\n'), "a line ends in a quotation with `%s`", name);
        if (!quoted)
            cr_assert(!strchr("`\"@!|;^<>&", *p) || strncmp(p, "<< END", 6) == 0 ||
                          strncmp(p - 1, "<< END", 6) == 0 ||
                          strncmp(p, "!exists(", 8) == 0,
                      "`%c` outside of quotes with `%s`: %.40s", *p, name, p);
    }
    cr_assert(!quoted, "an open quotation with `%s`", name);
    cr_assert_null(strstr(script, "system"), "a call of the system with `%s`", name);
}

/* What stands between quotes may hold the word; it is taken out before the check above. */
static char *without_quotations(const char *script)
{
    char *copy = malloc(strlen(script) + 1);
    size_t n = 0;
    bool quoted = false;
    for (const char *p = script; *p; p++) {
        if (*p == '\'')
            quoted = !quoted;
        if (!quoted || *p == '\'' || *p == '\n')
            copy[n++] = *p;
    }
    copy[n] = '\0';
    return copy;
}

Test(plot, names_stay_in_single_quotes)
{
    for (size_t i = 0; i < HOSTILE; i++) {
        trn_plots plots = built(hostile[i]);
        for (size_t k = 0; k < plots.n; k++) {
            char *plain = without_quotations(plots.list[k].script.text);
            expect_only_own_words(plain, hostile[i]);
            free(plain);
            for (const char *p = plots.list[k].finding.text; *p; p++)
                cr_assert((unsigned char)*p >= 0x20, "control character in a finding");
        }
        trn_plots_free(&plots);
    }
}

/* A name of letters as wide gives the same layout, so all else must be the same. */
Test(plot, scripts_differ_in_quotations_only)
{
    size_t compared = 0;
    for (size_t i = 0; i < HOSTILE; i++) {
        char same[64] = "";
        size_t n = strlen(hostile[i]);
        if (strspn(hostile[i], "`$()tuchmarke @10%sd\\b</>&;ixpS{ylo}_^~END\"") != n)
            continue; /* what is left out or quoted otherwise has another width */
        memset(same, 'x', n);
        trn_plots plain = built(same);
        char *wanted = without_quotations(of(&plain, "bearing_lives")->script.text);
        trn_plots_free(&plain);
        trn_plots bad = built(hostile[i]);
        char *got = without_quotations(of(&bad, "bearing_lives")->script.text);
        cr_expect_str_eq(got, wanted, "`%s` changed the script", hostile[i]);
        trn_plots_free(&bad);
        free(got);
        free(wanted);
        compared++;
    }
    cr_expect_gt(compared, 6, "%zu names", compared);
}

Test(plot, long_names_are_cut)
{
    trn_plots plots = built("a name of thirty-five letters abcdefg");
    cr_expect_not_null(strstr(of(&plots, "bearing_lives")->script.text,
                              "'a name of thirty-five letters abcdefg b1'"));
    trn_plots_free(&plots);
    plots = built("a name that is rather longer than forty columns and goes on");
    const char *script = of(&plots, "bearing_lives")->script.text;
    cr_expect_not_null(strstr(script, "'a name that is rather longer than forty\xE2\x80\xA6'"));
    cr_expect_null(strstr(script, "columns and goes"));
    trn_plots_free(&plots);
}

Test(plot, a_name_of_two_points_brings_its_task)
{
    (void)plot_made(NULL);
    trn_results *r = plot_made_to_change();
    trn_point *points = r->machine->points;
    points[0].point = points[1].point = "hub";
    points[1].task = 4;
    trn_plots plots = changed();
    cr_expect_not_null(strstr(of(&plots, "intervals")->script.text, "'hub, grease_joint'"));
    cr_expect_not_null(strstr(of(&plots, "plan")->script.text, "'hub, grease_pivot'"));
    trn_plots_free(&plots);
}

Test(plot, scripts_do_not_hang_on_the_locale)
{
    trn_plots point = built(NULL);
    if (!setlocale(LC_ALL, "de_DE.UTF-8") && !setlocale(LC_ALL, "de_DE.utf8"))
        cr_log_info("no locale with a comma is installed");
    trn_plots comma = built(NULL);
    (void)setlocale(LC_ALL, "C");
    for (size_t i = 0; i < point.n; i++) {
        cr_expect_str_eq(point.list[i].script.text, comma.list[i].script.text);
        cr_expect_str_eq(point.list[i].finding.text, comma.list[i].finding.text);
    }
    trn_plots_free(&point);
    trn_plots_free(&comma);
}

/* Lives and intervals that a logarithmic axis cannot hold. */
Test(plot, infinite_and_zero_values)
{
    (void)plot_made(NULL);
    trn_results *r = plot_made_to_change();
    for (size_t i = 0; i < MADE_POINTS; i++) {
        r->points[i].nominal_h = INFINITY;
        r->points[i].at_risk_h = i % 2 ? INFINITY : 1e12;
    }
    for (size_t i = 0; i < MADE_BEARINGS; i++) {
        r->bearings[2 * MADE_BEARINGS + i].lnmh_h = i % 2 ? INFINITY : 0;
        r->bearings[2 * MADE_BEARINGS + i].l10h_h = i % 3 ? INFINITY : 1e-3;
    }
    trn_plots plots = changed();
    cr_expect_null(strstr(of(&plots, "intervals")->script.text, "inf"));
    cr_expect_null(strstr(of(&plots, "bearing_lives")->script.text, "inf "));
    trn_plots_free(&plots);
}
