/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The decision: interval table and reasons; how sure it is; what it buys. */
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <trunnion/cautions.h>
#include <trunnion/interval_rows.h>

#include "page_parts.h"
#include "views.h"

static const char *task_of(const trn_page *page, size_t point)
{
    return trn_column_find(trn_table_find("points"), "task")->words[page->m->points[point].task];
}

static void task_cell(const trn_page *page, size_t point, char *out, size_t size)
{
    (void)snprintf(out, size, "%s", task_of(page, point));
    for (char *p = out; *p; p++)
        if (*p == '_')
            *p = ' ';
}

static void address_of(const trn_page *page, size_t point, char *out, size_t size)
{
    (void)snprintf(out, size, "intervals.%s.%s", page->m->points[point].point,
                   task_of(page, point));
}

/* A step of the service clock or an interval of the manual: exact as it is. */
static void exact(trn_html *html, double value)
{
    char text[48] = "";
    if (!isnan(value))
        (void)snprintf(text, sizeof text, "%.4g", value);
    trn_html_cell(html, isinf(value) ? "never" : text);
}

static void within(trn_html *html, double value, double low, double high)
{
    char text[48] = "";
    trn_number_within(value, low, high, text, sizeof text);
    trn_html_cell(html, isinf(value) ? "never" : text);
}

/* ---- decision ------------------------------------------------------------------------------- */

static void decision_row(trn_page *page, const trn_point_row *row)
{
    trn_html *html = &page->html;
    char text[400];
    trn_buffer basis = {0};
    (void)snprintf(text, sizeof text, "%zu", row->point + 1);
    trn_html_row_begin(html);
    trn_html_cell(html, text);
    trn_html_cell(html, page->m->points[row->point].point);
    task_cell(page, row->point, text, sizeof text);
    trn_html_cell(html, text);
    exact(html, row->manual_h);
    exact(html, row->recommended_h);
    trn_html_cell_number(html, row->times_per_year, 2);
    trn_html_cell(html, trn_cause_word(row->governed_by));
    address_of(page, row->point, text, sizeof text);
    trn_page_basis(page, text, &basis);
    trn_html_cell(html, basis.text);
    trn_html_row_end(html);
    html->out->failed = html->out->failed || basis.failed;
    trn_buffer_free(&basis);
}

static void reason_of(const trn_point_row *row, trn_buffer *out)
{
    trn_buffer_add(out, row->reason);
    if (!isnan(row->first_change_h) && row->first_change_h < row->recommended_h)
        trn_buffer_print(out, "; first change of a new or rebuilt box at %.3g h",
                         row->first_change_h);
    if (row->remarks.n > 0) {
        trn_buffer_add(out, ". Note: ");
        trn_remarks_text(&row->remarks, out);
    }
}

/* Points with the same reason share one paragraph. */
static void write_reasons(trn_page *page)
{
    size_t n = page->m->points_count;
    for (size_t i = 0; i < n; i++) {
        trn_buffer mine = {0};
        trn_buffer label = {0};
        bool told = false;
        reason_of(&page->r->points[i], &mine);
        for (size_t k = 0; k < n && !told; k++) {
            trn_buffer other = {0};
            reason_of(&page->r->points[k], &other);
            bool same = mine.text && other.text && strcmp(mine.text, other.text) == 0;
            told = same && k < i;
            if (same && k >= i)
                trn_buffer_print(&label, "%s%zu", label.length ? ", " : "", k + 1);
            trn_buffer_free(&other);
        }
        if (!told && label.text)
            trn_html_paragraph(&page->html, "%s: %s.", label.text, mine.text ? mine.text : "");
        page->html.out->failed = page->html.out->failed || mine.failed || label.failed;
        trn_buffer_free(&mine);
        trn_buffer_free(&label);
    }
}

static const char *finding_of(const trn_page *page, const char *name)
{
    for (size_t i = 0; i < page->facts->picture_count; i++)
        if (strcmp(page->facts->pictures[i].name, name) == 0)
            return page->facts->pictures[i].finding;
    return NULL;
}

static bool any_extension(const trn_page *page)
{
    for (size_t i = 0; i < page->m->points_count; i++)
        if (page->r->points[i].support_h > 0)
            return true;
    return false;
}

void trn_page_decision(trn_page *page)
{
    static const trn_html_column columns[] = {
        {"", true},           {"Point", false},   {"Task", false},   {"Manual [h]", true},
        {"Do every [h]", true}, {"A year", true}, {"Set by", false}, {"Weakest basis", false},
    };
    trn_html *html = &page->html;
    const char *finding = finding_of(page, "intervals");
    if (finding)
        trn_html_paragraph(html, "In short: %s.", finding);
    if (!page->r->draws)
        trn_html_paragraph(html, "Medians only (no draws were asked for): there is no margin for "
                                 "what is not known in these figures.");
    trn_html_table_begin(html, "Recommended intervals, in hours of turning PTO", columns,
                         sizeof columns / sizeof columns[0]);
    for (size_t i = 0; i < page->m->points_count; i++)
        decision_row(page, &page->r->points[i]);
    trn_html_table_end(html);
    trn_html_paragraph(html,
                       "Manual: as the operator's manual says. Do every: the longest step of the "
                       "service clock up to %g %% over what the margin leaves. Set by: what the recommendation "
                       "hangs on. Weakest basis: of the inputs behind the row, the weakest kind "
                       "and how many there are of it, from measured, catalogue, drawing, manual, "
                       "stated to assumed; the inputs themselves stand at the end.",
                       trn_choice_value(TRN_CHOICE_SLACK));
    if (any_extension(page))
        trn_html_caution(html, "%s", trn_caution_text(TRN_CAUTION_EXTENSION));
    trn_html_subheading(html, "Reasons");
    trn_buffer_add(html->out, "<div class=\"reasons\">\n");
    write_reasons(page);
    trn_buffer_add(html->out, "</div>\n");
}

/* ---- how sure ------------------------------------------------------------------------------- */

/* The change of a single quantity that would let the manual's interval stand, the smallest one. */
static const trn_turning_row *nearest_turning(const trn_page *page, size_t point)
{
    const trn_extras *e = page->r->extras;
    const trn_turning_row *best = NULL;
    double least = INFINITY;
    for (size_t i = 0; e && i < e->turning_count; i++) {
        const trn_turning_row *t = &e->turning[i];
        double step = fabs(log(t->manual_stands_at / t->used));
        if (t->point != point || strncmp(t->quantity, "ref_", 4) == 0 || !(step > 0) ||
            !(step < least))
            continue;
        least = step;
        best = t;
    }
    return best;
}

static void add_plain(const char *text, trn_buffer *out)
{
    for (const char *p = text; *p; p++)
        trn_buffer_add_n(out, *p == '_' ? " " : p, 1);
}

/* Which knowledge would lengthen the interval most; what would let the manual's stand. */
static void add_better(trn_page *page, size_t point, trn_buffer *out)
{
    const trn_draws *d = page->r->draws;
    const trn_turning_row *t = nearest_turning(page, point);
    char a[48];
    char b[48];
    for (size_t i = 0; d && i < d->next_count; i++)
        if (d->next[i].point == point && d->next[i].quantity && d->next[i].gain_h > 0) {
            const char *name = d->next[i].quantity;
            trn_number_for_people(d->next[i].gain_h, 2, a, sizeof a);
            trn_buffer_add(out, "known ");
            add_plain(strncmp(name, "choices.", 8) == 0 ? name + 8 : name, out);
            trn_buffer_print(out, ": + %s h", a);
        }
    if (t) {
        trn_number_for_people(t->used, 3, a, sizeof a);
        trn_number_for_people(t->manual_stands_at, 3, b, sizeof b);
        trn_buffer_print(out, "%smanual's stands with ", out->length ? "; " : "");
        add_plain(t->quantity, out);
        if (strcmp(t->unit, "1") == 0)
            trn_buffer_print(out, " x %s", b);
        else
            trn_buffer_print(out, " %s in place of %s %s", b, a, t->unit);
    }
}

static void sure_row(trn_page *page, const trn_point_row *row)
{
    trn_html *html = &page->html;
    trn_buffer band = {0};
    trn_buffer better = {0};
    char text[16];
    (void)snprintf(text, sizeof text, "%zu", row->point + 1);
    trn_html_row_begin(html);
    trn_html_cell(html, text);
    trn_html_cell(html, page->m->points[row->point].point);
    within(html, row->nominal_h, row->low_h, row->high_h);
    within(html, row->at_risk_h, row->low_h, row->high_h);
    trn_page_band(row->low_h, row->high_h, &band);
    trn_html_cell(html, row->drawn ? band.text : "");
    trn_html_cell_number(html, row->too_long_pct, 2);
    trn_html_cell(html, trn_cause_word(row->second_limit));
    add_better(page, row->point, &better);
    trn_html_cell(html, better.text);
    trn_html_row_end(html);
    html->out->failed = html->out->failed || band.failed || better.failed;
    trn_buffer_free(&band);
    trn_buffer_free(&better);
}

void trn_page_sure(trn_page *page)
{
    static const trn_html_column columns[] = {
        {"", true},
        {"Point", false},
        {"Duty [h]", true},
        {"With caution [h]", true},
        {"10 to 90 % [h]", true},
        {"Manual too long [%]", true},
        {"Then", false},
        {"What would lengthen it", false},
    };
    trn_html *html = &page->html;
    trn_html_table_begin(html, "What the duty allows, and how sure that is", columns,
                         sizeof columns / sizeof columns[0]);
    for (size_t i = 0; i < page->m->points_count; i++)
        sure_row(page, &page->r->points[i]);
    trn_html_table_end(html);
    char risk[48];
    trn_number_for_people(100 * page->m->head.risk, 3, risk, sizeof risk);
    trn_html_paragraph(html,
                       "Duty: what this use allows, with every input at its middle value. With "
                       "caution: the interval that %s %% of the draws fall below. Manual too long: "
                       "draws whose interval is shorter than the manual's. Then: what comes next "
                       "when the first limit is lifted. What would lengthen it: the quantity "
                       "whose knowledge would lengthen the cautious interval most, and by how "
                       "much; the smallest change of one quantity that would let the manual's "
                       "interval stand. All of it is in turning.csv, mechanisms.csv and measure_next.csv.",
                       risk);
    trn_page_pictures(page, "intervals", "the tables above and intervals.csv");
}

/* ---- what it buys --------------------------------------------------------------------------- */

/* Quantities of buys.csv that go on paper, each a column: manual and recommended in one cell. */
static const struct {
    const char *quantity, *head;
} bought[] = {
    {"interval", "Oil change [h]"},
    {"bearing_life", "Bearing life [h]"},
    {"reliability_at_design_life", "Reach the design life [%]"},
    {"relative_wear", "Wear against clean oil"},
    {"oil_per_year", "Oil a year [L]"},
    {"work_per_year", "Work a year [h]"},
    {"cost_per_year", "Changes and wear a year"},
    {"changes_cost_per_year", "Changes a year"},
};
enum { BOUGHT = sizeof bought / sizeof bought[0] };

static const trn_buys_row *bought_row(const trn_ledger *ledger, const char *object, size_t column)
{
    for (size_t i = 0; i < ledger->buys_count; i++)
        if (strcmp(ledger->buys[i].object, object) == 0 &&
            strcmp(ledger->buys[i].quantity, bought[column].quantity) == 0)
            return &ledger->buys[i];
    return NULL;
}

static void bought_cell(trn_html *html, const trn_buys_row *row)
{
    char from[48];
    char to[48];
    char text[100] = "";
    if (row && !isnan(row->manual) && !isnan(row->recommended)) {
        trn_number_for_people(row->manual, 3, from, sizeof from);
        trn_number_for_people(row->recommended, 3, to, sizeof to);
        (void)snprintf(text, sizeof text, strcmp(from, to) == 0 ? "%s" : "%s to %s", from, to);
    }
    trn_html_cell(html, text);
}

static bool first_of(const trn_ledger *ledger, size_t i)
{
    for (size_t k = 0; k < i; k++)
        if (strcmp(ledger->buys[k].object, ledger->buys[i].object) == 0)
            return false;
    return true;
}

static bool any_bought(const trn_ledger *ledger, const char *object)
{
    if (strcmp(object, "machine") == 0)
        return false; /* a table of its own */
    for (size_t c = 0; c < BOUGHT; c++) {
        const trn_buys_row *row = bought_row(ledger, object, c);
        if (row && !isnan(row->manual) && !isnan(row->recommended))
            return true;
    }
    return false;
}

static void bought_table(trn_page *page, const trn_ledger *ledger)
{
    trn_html_column columns[BOUGHT + 1] = {{"Gearbox", false}};
    bool any = false;
    for (size_t i = 0; i < ledger->buys_count; i++)
        any = any || any_bought(ledger, ledger->buys[i].object);
    if (!any)
        return;
    for (size_t c = 0; c < BOUGHT; c++)
        columns[c + 1] = (trn_html_column){bought[c].head, false};
    trn_html_table_begin(&page->html, "From the manual's oil interval to the recommended one",
                         columns, BOUGHT + 1);
    for (size_t i = 0; i < ledger->buys_count; i++) {
        if (!first_of(ledger, i) || !any_bought(ledger, ledger->buys[i].object))
            continue;
        trn_html_row_begin(&page->html);
        trn_html_cell(&page->html, ledger->buys[i].object);
        for (size_t c = 0; c < BOUGHT; c++)
            bought_cell(&page->html, bought_row(ledger, ledger->buys[i].object, c));
        trn_html_row_end(&page->html);
    }
    trn_html_table_end(&page->html);
}

/* The whole machine's year: every quantity that is known at both intervals. */
static void bought_machine(trn_page *page, const trn_ledger *ledger)
{
    static const trn_html_column columns[] = {
        {"Of the whole machine, a year", false}, {"Manual", true}, {"Recommended", true}, {"Unit", false}};
    bool begun = false;
    for (size_t i = 0; i < ledger->buys_count; i++) {
        const trn_buys_row *row = &ledger->buys[i];
        char text[64];
        if (strcmp(row->object, "machine") != 0 || isnan(row->manual) || isnan(row->recommended))
            continue;
        if (!begun)
            trn_html_table_begin(&page->html, "All points of the machine", columns, 4);
        begun = true;
        (void)snprintf(text, sizeof text, "%s", row->quantity);
        for (char *p = text; *p; p++)
            if (*p == '_')
                *p = ' ';
        trn_html_row_begin(&page->html);
        trn_html_cell(&page->html, text);
        trn_html_cell_number(&page->html, row->manual, 3);
        trn_html_cell_number(&page->html, row->recommended, 3);
        trn_html_cell(&page->html, strcmp(row->unit, "1") == 0 ? "" : row->unit);
        trn_html_row_end(&page->html);
    }
    if (begun)
        trn_html_table_end(&page->html);
}

void trn_page_buys(trn_page *page)
{
    const trn_ledger *ledger = page->r->ledger;
    trn_html_caution(&page->html, "%s", trn_caution_text(TRN_CAUTION_OIL));
    trn_html_caution(&page->html, "%s", trn_caution_text(TRN_CAUTION_GREASE));
    if (!ledger || ledger->buys_count == 0) {
        trn_html_paragraph(&page->html, "No oil change with a gearbox of the case: nothing to "
                                        "compare.");
    } else {
        bought_table(page, ledger);
        bought_machine(page, ledger);
        trn_html_paragraph(&page->html, "%s", trn_view_find("buys")->caption);
    }
    trn_page_pictures(page, "buys", "the table above and buys.csv");
    trn_page_pictures(page, "cost_course", "cost_course.csv");
    trn_page_pictures(page, "plan", "plan.csv");
}
