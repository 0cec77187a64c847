/* SPDX-License-Identifier: GPL-3.0-or-later */
/* report.html: order, policy, escapes, exactness of numbers. Expectations are those of
 * docs/report.md unless a comment names another source. */
#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/page.h>

#include "command.h"
#include "scratch.h"

/* A file of the report of a case; on the heap. */
static char *report_of(const char *folder, const char *options, const char *file)
{
    char line[2 * SCRATCH_PATH];
    (void)snprintf(line, sizeof line,
                   "trunnion report '%s' --quiet --draws 200 %s --out $OUT/r >&2 && cat $OUT/r/%s",
                   folder, options, file);
    test_output made = test_command(line);
    cr_assert_eq(made.exit, 0, "%s: exit %d: %s", line, made.exit, made.err);
    char *text = made.out;
    free(made.err);
    return text;
}

static void make_base(char folder[SCRATCH_PATH])
{
    scratch_make(folder);
    scratch_copy(folder, "bad/case/base");
}

static void expect_order(const char *page, const char *const *marks, size_t count)
{
    const char *at = page;
    for (size_t i = 0; i < count; i++) {
        const char *next = strstr(at, marks[i]);
        cr_expect_not_null(next, "`%s` is not there, or before `%s`", marks[i],
                           i ? marks[i - 1] : "");
        at = next ? next : at;
    }
}

/* derived: the order that the issue of the page asks for */
Test(page, parts_stand_in_the_order_of_a_decision)
{
    static const char *const marks[] = {
        "<h1>",
        "operator's manual",
        "id=\"decision\"",
        "Weakest basis",
        "Reasons</h3>",
        "id=\"sure\"",
        "id=\"buys\"",
        "id=\"setup\"",
        "id=\"temperatures\"",
        "id=\"lives\"",
        "id=\"choices\"",
        "id=\"sources\"",
        "id=\"cautions\"",
        "id=\"gaps\"",
        "id=\"inputs\"",
        "Defaults that a result used",
        "machine.csv",
        "id=\"trace\"",
        "reliability factor",
        "id=\"signatures\"",
        "class=\"sign\"",
    };
    char *page = report_of("sample-data/winged", "", "report.html");
    char *plain = strstr(page, "operator&#39;s manual"); /* as it is escaped */
    cr_assert_not_null(plain);
    memcpy(plain, "operator's manual", 17);
    expect_order(page, marks, sizeof marks / sizeof marks[0]);
    free(page);
}

/* Parts without their tables are there all the same and say what is missing. */
Test(page, a_case_of_three_tables_has_every_part)
{
    char *page = report_of("sample-data/small", "", "report.html");
    static const char *const marks[] = {
        "id=\"setup\"", "no shafts.csv", "id=\"temperatures\"", "no gearboxes.csv",
        "id=\"lives\"", "no bearings.csv", "id=\"signatures\"",
    };
    expect_order(page, marks, sizeof marks / sizeof marks[0]);
    free(page);
}

static size_t times(const char *text, const char *what)
{
    size_t n = 0;
    for (const char *p = text; (p = strstr(p, what)) != NULL; p += strlen(what))
        n++;
    return n;
}

/* derived: HTML, CSP level 3, SVG 2 (role img with title and desc) */
Test(page, loads_nothing_and_runs_nothing)
{
    static const char *const never[] = {"<script", "<link",  "<iframe", "<object", "@import",
                                        "<img",    "onload", "src=",    "url(http", "url(//",
                                        "href=\"http"};
    char *page = report_of("sample-data/winged", "", "report.html");
    cr_expect_not_null(strstr(page, "Content-Security-Policy\" content=\"default-src 'none'; "
                                    "style-src 'unsafe-inline'; img-src data:\""));
    for (size_t i = 0; i < sizeof never / sizeof never[0]; i++)
        cr_expect_null(strstr(page, never[i]), "`%s` in the page", never[i]);
    size_t pictures = times(page, "<svg");
    cr_expect_geq(pictures, 8);
    cr_expect_eq(times(page, "role=\"img\""), pictures);
    cr_expect_eq(times(page, "<figcaption>"), pictures);
    cr_expect_geq(times(page, "<desc"), pictures);
    cr_expect_eq(times(page, "<h1>"), 1);
    cr_expect_eq(times(page, "<table"), times(page, "<caption>"));
    cr_expect_not_null(strstr(page, "size:A4"));
    cr_expect_not_null(strstr(page, "counter(page)"));
    free(page);
}

/* derived: an id names one element of a page */
Test(page, every_id_is_there_once)
{
    char *page = report_of("sample-data/winged", "", "report.html");
    size_t n = 0;
    for (const char *p = page; (p = strstr(p, " id=\"")) != NULL; p++) {
        char id[160];
        size_t length = strcspn(p + 5, "\"") + 6;
        cr_assert_lt(length, sizeof id);
        memcpy(id, p, length);
        id[length] = '\0';
        cr_expect_eq(times(page, id), 1, "%s stands %zu times", id, times(page, id));
        n++;
    }
    cr_expect_geq(n, 13);
    free(page);
}

/* Texts of the user are texts on the page, wherever they stand. */
Test(page, mark_up_in_the_case_is_text_on_the_page)
{
    char folder[SCRATCH_PATH];
    make_base(folder);
    scratch_write(folder, "machine.csv",
                  "quantity,value,unit\nname,<script>alert(1)</script>,\npto_speed,540,rpm\n"
                  "rated_power,30,kW\nowner,\"</style></table><img src=x onerror=alert(2)>\",\n"
                  "manual,\"\"\"quoted\"\" & 'so' <b>\",\n");
    scratch_write(folder, "points.csv",
                  "point,component,task,manual_interval [h],note\n"
                  "<u>cross,main,grease_joint,8,<script>note</script>\n");
    scratch_write(folder, "basis.csv",
                  "quantity,basis,evidence\nduty.*.power,stated,<script>proof</script>\n");
    char *page = report_of(folder, "--set 'machine.serial=<script>set</script>'", "report.html");
    cr_expect_null(strstr(page, "<script"));
    cr_expect_null(strstr(page, "<img"));
    cr_expect_null(strstr(page, "<b>"));
    cr_expect_null(strstr(page, "<u>"));
    cr_expect_null(strstr(page, "</style></table>"));
    cr_expect_not_null(strstr(page, "<h1>&lt;script&gt;alert(1)&lt;/script&gt;</h1>"));
    cr_expect_not_null(strstr(page, "&lt;/style&gt;&lt;/table&gt;&lt;img src=x"));
    cr_expect_not_null(strstr(page, "&quot;quoted&quot; &amp; &#39;so&#39; &lt;b&gt;"));
    cr_expect_not_null(strstr(page, "&lt;u&gt;cross"));
    cr_expect_not_null(strstr(page, "&lt;script&gt;note&lt;/script&gt;"));
    cr_expect_not_null(strstr(page, "&lt;script&gt;proof&lt;/script&gt;"));
    cr_expect_not_null(strstr(page, "&lt;script&gt;set&lt;/script&gt;"));
    free(page);
    scratch_remove(folder);
}

/* Without draws the page says that there is no margin, and shows no band. */
Test(page, medians_only_is_said)
{
    char *page = report_of("sample-data/small", "--draws 0", "report.html");
    cr_expect_not_null(strstr(page, "Medians only"));
    cr_expect_not_null(strstr(page, "none: medians only"));
    free(page);
}

/* derived: three digits, and none below a tenth of the half width, rounded up to a place */
Test(page, numbers_are_as_exact_as_their_spread)
{
    static const struct {
        double value, low, high;
        const char *text;
    } rows[] = {
        {77.476, 70, 84, "77"},        /* half width 7: places of 1 */
        {5.5712, 4.4835, 6.4237, "5.6"}, /* 0.97: tenths */
        {3438.7, 3400, 3480, "3440"},  /* 40: tens */
        {3438.7, 800, 9000, "3000"},   /* 4100: thousands */
        {383.04, 383.04, 383.04, "383"}, /* no width: three digits */
        {0.034567, 0.03, 0.04, "0.035"}, /* 0.005: thousandths */
        {NAN, 1, 2, ""},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[48];
        trn_number_within(rows[i].value, rows[i].low, rows[i].high, text, sizeof text);
        char bare[48] = ""; /* thousands marks apart */
        for (const char *p = text; *p; p++)
            if (*p != ' ')
                bare[strlen(bare)] = *p;
        cr_expect_str_eq(bare, rows[i].text, "%g in %g to %g: `%s`, wanted `%s`", rows[i].value,
                         rows[i].low, rows[i].high, text, rows[i].text);
    }
}
