/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The owner's page: the plan of the year on one sheet, lines that say the same put together. */
#include <trunnion/owner.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/cautions.h>
#include <trunnion/extras.h>
#include <trunnion/interval_rows.h>
#include <trunnion/machine.h>

#include "html.h"

static const char style[] =
    "@page{margin:9mm 11mm 12mm}\n"
    "html{font-size:9pt;line-height:1.2}\n"
    "h1{font-size:15pt}\n"
    "h2{font-size:11pt;margin:2mm 0 0.5mm;padding-top:0.8mm}\n"
    "p{margin:0.5mm 0 1mm}\n"
    ".caution{margin:0.6mm 0;font-size:7.8pt}\n"
    "table{width:100%;line-height:1.15;margin:1mm 0}\n"
    "caption{padding-bottom:0.5mm}\n"
    "th,td{padding:0.35mm 1mm;box-sizing:border-box}\n"
    ".plan table{table-layout:fixed}\n"
    ".plan th:nth-child(1){width:25%}\n"
    ".plan th:nth-child(2){width:8%}\n"
    ".plan th:nth-child(3){width:10%}\n"
    ".plan th:nth-child(4){width:14%}\n"
    ".plan th:nth-child(5){width:10%}\n"
    ".plan th:nth-child(6){width:7%}\n"
    ".plan td:nth-child(4){font-weight:bold}\n"
    ".sign td{border:0.6pt solid #111;height:14mm;width:50%}\n"
    ".sign{break-inside:avoid}\n";

/* The more lines, the smaller the print: one page is read, two are not. */
static const char *size_of(size_t lines)
{
    return lines <= 14 ? ".plan table{font-size:9pt}\n"
           : lines <= 24 ? ".plan table{font-size:7.8pt}\n"
                         : ".plan table{font-size:7.2pt}\n";
}

/* ---- lines that say the same --------------------------------------------------------------- */

static const char *task_of(const trn_plan_row *row)
{
    if (strcmp(row->task, "check_oil") == 0)
        return "check oil";
    if (strcmp(row->task, "change_oil") == 0)
        return "change oil";
    if (strncmp(row->task, "grease", 6) == 0)
        return "grease";
    return strcmp(row->task, "other") == 0 ? "see to" : row->task;
}

static bool same(double a, double b)
{
    return (isnan(a) && isnan(b)) || a == b;
}

static bool together(const trn_plan_row *a, const trn_plan_row *b)
{
    return same(a->due_h, b->due_h) && same(a->visit_h, b->visit_h) &&
           strcmp(task_of(a), task_of(b)) == 0 && strcmp(a->when, b->when) == 0 &&
           strcmp(a->manual, b->manual) == 0 && strcmp(a->why, b->why) == 0;
}

/* `2×7` strokes of the gun, `4.2 L` of oil; "" where neither is known. */
static void take_of(const trn_plan_row *row, char *out, size_t size)
{
    out[0] = '\0';
    if (!isnan(row->strokes_each) && !isnan(row->fittings))
        (void)snprintf(out, size, "%.4g\u00d7%.4g", row->fittings, row->strokes_each);
    else if (!isnan(row->strokes) && row->fittings_open > 0)
        (void)snprintf(out, size, "%.4g strokes, and %.4g fittings of no stated quantity",
                       row->strokes, row->fittings_open);
    else if (!isnan(row->strokes))
        (void)snprintf(out, size, "%.4g strokes", row->strokes);
    else if (!isnan(row->oil_l))
        (void)snprintf(out, size, "%.3g\u00a0L", row->oil_l);
}

/* What each of the lines takes: once where it is the same, else in the order of the names. */
static void add_takes(const trn_extras *x, size_t first, const bool *mine, trn_buffer *out)
{
    char one[96];
    char other[96];
    bool alike = true;
    take_of(&x->plan[first], one, sizeof one);
    for (size_t i = first; i < x->plan_count; i++) {
        take_of(&x->plan[i], other, sizeof other);
        alike = alike && (!mine[i] || strcmp(one, other) == 0);
    }
    for (size_t i = first; i < x->plan_count; i++) {
        if (!mine[i] || (alike && i > first))
            continue;
        take_of(&x->plan[i], other, sizeof other);
        trn_buffer_print(out, "%s%s", i > first ? "; " : "",
                         other[0] || alike ? other : "not stated");
    }
}

static void next_of(const trn_plan_row *row, char *out, size_t size)
{
    out[0] = '\0';
    if (row->overdue_h > 0 || (row->visit_h == 0 && !isnan(row->due_h)))
        (void)snprintf(out, size, "NOW");
    else if (!isnan(row->due_h))
        (void)snprintf(out, size, "%.5g h", row->due_h);
    else if (!isnan(row->visit_h) && !isnan(row->every_h))
        (void)snprintf(out, size, "in %.4g h", row->visit_h);
}

static void write_line(trn_html *page, const trn_extras *x, size_t first, const bool *mine)
{
    const trn_plan_row *row = &x->plan[first];
    trn_buffer names = {0};
    trn_buffer takes = {0};
    char next[64];
    for (size_t i = first; i < x->plan_count; i++)
        if (mine[i])
            trn_buffer_print(&names, "%s%s", names.length ? ", " : "", x->plan[i].name);
    add_takes(x, first, mine, &takes);
    next_of(row, next, sizeof next);
    trn_html_row_begin(page);
    trn_html_cell(page, names.text);
    trn_html_cell(page, task_of(row));
    trn_html_cell(page, row->manual);
    trn_html_cell(page, row->when);
    trn_html_cell(page, takes.text);
    trn_html_cell(page, next);
    trn_html_cell(page, row->why);
    trn_html_row_end(page);
    page->out->failed = page->out->failed || names.failed || takes.failed;
    trn_buffer_free(&names);
    trn_buffer_free(&takes);
}

/* Writes each line once (page NULL: only counts them). */
static size_t write_lines(trn_html *page, const trn_extras *x)
{
    size_t lines = 0;
    bool *done = calloc(x->plan_count + 1, sizeof *done);
    bool *mine = calloc(x->plan_count + 1, sizeof *mine);
    for (size_t i = 0; done && mine && i < x->plan_count; i++) {
        if (done[i])
            continue;
        for (size_t k = i; k < x->plan_count; k++) {
            mine[k] = !done[k] && together(&x->plan[i], &x->plan[k]);
            done[k] = done[k] || mine[k];
        }
        if (page)
            write_line(page, x, i, mine);
        lines++;
    }
    if (page)
        page->out->failed = page->out->failed || !done || !mine;
    free(done);
    free(mine);
    return lines;
}

/* ---- the page ------------------------------------------------------------------------------ */

static void write_head(trn_html *page, const trn_machine *m)
{
    char meter[64] = "";
    char rated[96];
    char hours[96];
    if (!isnan(m->head.machine_hours))
        (void)snprintf(meter, sizeof meter, "%.6g h", m->head.machine_hours);
    (void)snprintf(rated, sizeof rated, "%.4g rpm, %.4g kW",
                   m->head.pto_speed * 30 / 3.14159265358979323846, m->head.rated_power / 1000);
    (void)snprintf(hours, sizeof hours, "%.5g h with the PTO turning", m->head.hours_per_year);
    const char *const cells[][2] = {
        {"Serial", m->head.serial},  {"Rated", rated},
        {"Owner", m->head.owner},
        {"Hour meter", meter},       {"A season", hours},
        {"Manual", m->head.manual},  {"Prepared by", m->head.prepared_by},
        {"Date", m->head.date},
    };
    enum { CELLS = sizeof cells / sizeof cells[0] };
    trn_buffer line = {0};
    for (size_t i = 0; i < CELLS; i++)
        if (cells[i][1] && *cells[i][1])
            trn_buffer_print(&line, "%s%s: %s", line.length ? " · " : "", cells[i][0],
                             cells[i][1]);
    trn_html_paragraph(page, "%s", line.text ? line.text : "");
    page->out->failed = page->out->failed || line.failed;
    trn_buffer_free(&line);
}

static void write_duty(trn_html *page, const trn_machine *m)
{
    trn_buffer line = {0};
    for (size_t i = 0; i < m->duty_count; i++)
        if (m->duty[i].share > 0)
            trn_buffer_print(&line, "%s%s %.3g %%", line.length ? ", " : "", m->duty[i].condition,
                             100 * m->duty[i].share);
    trn_html_paragraph(page,
                       "Worked out for this machine in this work: %s. Intervals are hours with the "
                       "PTO turning; none is longer than the manual's.",
                       line.text ? line.text : "");
    page->out->failed = page->out->failed || line.failed;
    trn_buffer_free(&line);
}

static void write_plan(trn_html *page, const trn_results *r)
{
    static const trn_html_column columns[] = {
        {"point", false},           {"task", false},    {"manual", false}, {"from now on", false},
        {"fittings x strokes, or oil", false}, {"next at", false}, {"why", false},
    };
    trn_buffer none = {0};
    trn_buffer_add(page->out, "<div class=\"plan\">\n");
    trn_html_table_begin(page, "From now on", columns, sizeof columns / sizeof columns[0]);
    (void)write_lines(page, r->extras);
    trn_html_table_end(page);
    trn_buffer_add(page->out, "</div>\n");
    for (size_t i = 0; i < r->machine->points_count; i++)
        if (!(r->points[i].recommended_h > 0))
            trn_buffer_print(&none, "%s%s", none.length ? ", " : "", r->machine->points[i].point);
    if (none.length > 0)
        trn_html_paragraph(page, "Nothing could be worked out for: %s. There the manual's interval "
                                 "stands.", none.text);
    page->out->failed = page->out->failed || none.failed;
    trn_buffer_free(&none);
}

static void write_cost(trn_html *page, const trn_results *r)
{
    const trn_extras *x = r->extras;
    const char *currency = r->machine->head.currency ? r->machine->head.currency : "";
    if (isnan(x->season_cost_manual) || isnan(x->season_cost_recommended)) {
        trn_html_paragraph(page, "Cost of a season: not worked out, since labour rate, minutes or "
                                 "the cost of an oil change are not given.");
        return;
    }
    double more = x->season_cost_recommended - x->season_cost_manual;
    trn_html_paragraph(page,
                       "Cost of a season of %.5g h, of the tasks whose cost is known: %.0f %s as "
                       "the manual says, %.0f %s from now on (%.0f %s %s).",
                       r->machine->head.hours_per_year, x->season_cost_manual, currency,
                       x->season_cost_recommended, currency, fabs(more), currency,
                       more < 0 ? "less" : "more");
}

static void write_acceptance(trn_html *page)
{
    static const char *const cells[] = {
        "accepted by the owner or operator: name, date, signature",
        "explained and handed over by: name, date, signature",
    };
    trn_html_section_begin(page, "acceptance", "Acceptance");
    trn_buffer_add(page->out, "<table class=\"sign\"><tbody><tr>");
    for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++)
        trn_buffer_print(page->out, "<td>%s</td>", cells[i]);
    trn_buffer_add(page->out, "</tr></tbody></table>\n");
    trn_html_section_end(page);
}

trn_status trn_owner_page(const trn_results *results, trn_buffer *out)
{
    static const trn_caution cautions[] = {TRN_CAUTION_INTERVALS, TRN_CAUTION_GREASE,
                                           TRN_CAUTION_OIL, TRN_CAUTION_ALL};
    const trn_machine *m = results->machine;
    trn_html page;
    trn_buffer rules = {0};
    trn_buffer title = {0};
    if (!results->extras)
        return TRN_E_UNKNOWN;
    trn_buffer_print(&rules, "%s%s", style, size_of(write_lines(NULL, results->extras)));
    trn_buffer_print(&title, "Service from now on: %s", m->head.name);
    if (!rules.failed && !title.failed) {
        trn_html_begin(&page,
                       &(trn_html_page){.title = title.text, .margin = title.text,
                                        .style = rules.text},
                       out);
        write_head(&page, m);
        trn_html_caution(&page, "%s", trn_caution_line(TRN_CAUTION_SHAFTS));
        for (size_t i = 0; i < sizeof cautions / sizeof cautions[0]; i++)
            trn_html_caution(&page, "%s", trn_caution_text(cautions[i]));
        write_duty(&page, m);
        write_plan(&page, results);
        write_cost(&page, results);
        write_acceptance(&page);
        trn_html_end(&page);
    } else {
        out->failed = true;
    }
    trn_buffer_free(&rules);
    trn_buffer_free(&title);
    return out->failed ? TRN_E_MEMORY : TRN_OK;
}
