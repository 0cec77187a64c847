/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The owner's page: all that the plan says, in words, and none of the words that it must not have
 * (wording of the issue). */
#include <criterion/criterion.h>
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <trunnion/extras.h>
#include <trunnion/interval_rows.h>
#include <trunnion/owner.h>

static trn_machine *m;
static trn_results *r;

static void read_case(const char *folder)
{
    trn_faults faults = {0};
    cr_assert_eq(trn_machine_read(folder, &faults, &m), TRN_OK);
    r = trn_results_new(m);
    cr_assert(r && trn_study_evaluate(m, TRN_WANT_ALL, r, NULL) == TRN_OK);
}

static void page_of(trn_buffer *out)
{
    if (!r->extras)
        cr_assert_eq(trn_study_extras(r), TRN_OK);
    cr_assert_eq(trn_owner_page(r, out), TRN_OK);
}

static void tear_down(void)
{
    trn_results_free(r);
    trn_machine_free(m);
}

TestSuite(owner, .fini = tear_down);

Test(owner, holds_every_task_of_the_plan_in_words)
{
    trn_buffer page = {0};
    read_case("sample-data/winged");
    page_of(&page);
    cr_assert_gt(r->extras->plan_count, 20);
    for (size_t i = 0; i < r->extras->plan_count; i++) {
        const trn_plan_row *row = &r->extras->plan[i];
        char cell[400];
        cr_expect(strstr(page.text, row->name), "%s", row->name);
        (void)snprintf(cell, sizeof cell, "<td>%s</td>", row->when);
        cr_expect(strstr(page.text, cell), "%s", cell);
        if (!isnan(row->due_h) && !(row->overdue_h > 0)) {
            (void)snprintf(cell, sizeof cell, "<td>%.5g h</td>", row->due_h);
            cr_expect(strstr(page.text, cell), "%s: %s", row->name, cell);
        }
        if (!isnan(row->strokes_each)) {
            (void)snprintf(cell, sizeof cell, "%.4g\u00d7%.4g", row->fittings, row->strokes_each);
            cr_expect(strstr(page.text, cell), "%s: %s", row->name, cell);
        }
    }
    trn_buffer_free(&page);
}

Test(owner, head_cautions_cost_and_acceptance)
{
    static const char *const words[] = {
        "Service from now on: Invented winged mulcher 5 m", "Serial: none (invented)",
        "Hour meter: 655 h", "Manual: invented operator&#39;s manual, first edition",
        "Never near a turning shaft", "never replace the manual", "hands off the nozzle", "burn",
        "damp grass 24 %", "point", "manual", "from now on", "why", "Cost of a season of 450 h",
        "as the manual says", "more", "accepted by the owner or operator: name, date, signature",
    };
    trn_buffer page = {0};
    read_case("sample-data/winged");
    page_of(&page);
    const char *p = page.text;
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        const char *found = strstr(p, words[i]);
        cr_expect(found, "%s", words[i]);
        p = found ? found : p;
    }
    char cost[200];
    (void)snprintf(cost, sizeof cost, "%.0f EUR as the manual says, %.0f EUR from now on",
                   r->extras->season_cost_manual, r->extras->season_cost_recommended);
    cr_expect(strstr(page.text, cost), "%s", cost);
    trn_buffer_free(&page);
}

Test(owner, has_none_of_the_words_that_promise)
{
    static const char *const words[] = {"guarantee", "safe", "proves", "misuse"};
    static const char *const cases[] = {"sample-data/winged", "sample-data/small"};
    for (size_t k = 0; k < 2; k++) {
        trn_buffer page = {0};
        read_case(cases[k]);
        page_of(&page);
        for (char *p = page.text; *p; p++)
            *p = (char)tolower((unsigned char)*p);
        const char *body = strstr(page.text, "<body>"); /* the head has `unsafe-inline` */
        cr_assert(body);
        for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
            cr_expect_null(strstr(body, words[i]), "%s: %s", cases[k], words[i]);
        trn_buffer_free(&page);
        if (k == 0)
            tear_down();
    }
}

Test(owner, names_are_text)
{
    trn_buffer page = {0};
    read_case("sample-data/small");
    m->head.name = "<script>\"x\" & \xe2\x80\xae'y'";
    m->points[0].point = "</table><b>\a";
    m->duty[0].condition = "<i>";
    page_of(&page);
    cr_expect(strstr(page.text, "&lt;script&gt;&quot;x&quot; &amp; [U+202E]&#39;y&#39;"));
    cr_expect(strstr(page.text, "&lt;/table&gt;&lt;b&gt;[U+0007]"));
    cr_expect_null(strstr(page.text, "<script"));
    cr_expect_null(strstr(page.text, "<i>"));
    cr_expect_null(strstr(page.text, "<b>"));
    trn_buffer_free(&page);
}

Test(owner, without_costs_and_without_a_meter)
{
    trn_buffer page = {0};
    read_case("sample-data/small");
    page_of(&page);
    cr_assert(isnan(m->head.machine_hours));
    cr_expect(strstr(page.text, "Cost of a season: not worked out"));
    cr_expect_null(strstr(page.text, "Hour meter"));
    cr_expect(strstr(page.text, "<td>in "), "hours from now");
    trn_buffer_free(&page);
}

Test(owner, a_point_without_an_interval_is_named)
{
    trn_buffer page = {0};
    read_case("sample-data/small");
    r->points[1].recommended_h = NAN;
    page_of(&page);
    cr_expect(strstr(page.text, "Nothing could be worked out for: shaft tube. There the "
                                "manual&#39;s interval stands."));
    trn_buffer_free(&page);
}

Test(owner, takes_extras)
{
    trn_buffer page = {0};
    read_case("sample-data/small");
    cr_expect_eq(trn_owner_page(r, &page), TRN_E_UNKNOWN);
    cr_expect_eq(page.length, 0);
}

/* derived: 847 mm between the joints in transport, 860 mm of closed shaft */
Test(owner, a_shaft_that_bottoms_comes_first)
{
    trn_buffer page = {0};
    read_case("sample-data/short_shaft");
    page_of(&page);
    const char *first = strstr(page.text, "FIRST OF ALL: the shaft main bottoms at transport (-13 mm");
    cr_assert_not_null(first);
    cr_expect_lt(first, strstr(page.text, "Serial:"), "before all else");
    cr_expect_not_null(strstr(first, "both halves are cut as its own manual says"));
    trn_buffer_free(&page);
    tear_down();
    read_case("sample-data/sisters");
    page_of(&page);
    cr_expect_null(strstr(page.text, "FIRST OF ALL"));
    trn_buffer_free(&page);
}
