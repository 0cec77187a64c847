/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plot: recommended intervals against the manual's. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/interval_rows.h>
#include <trunnion/schema.h>

#include "plot_script.h"
#include "plot_points.h"

size_t plot_point_label(const trn_machine *m, size_t point, char *out, size_t size)
{
    plot_name name = plot_name_of(m->points[point].point);
    bool twice = false;
    for (size_t i = 0; i < m->points_count; i++)
        twice = twice || (i != point && strcmp(m->points[i].point, m->points[point].point) == 0);
    if (!twice) {
        (void)snprintf(out, size, "%s", name.text);
        return name.columns;
    }
    const char *task =
        trn_column_find(trn_table_find("points"), "task")->words[m->points[point].task];
    (void)snprintf(out, size, "%s, %s", name.text, task);
    return name.columns + 2 + strlen(task);
}

/* ---- order and finding -------------------------------------------------------------------- */

static int by_shortening(const void *a, const void *b)
{
    const trn_point_row *p = *(const trn_point_row *const *)a;
    const trn_point_row *q = *(const trn_point_row *const *)b;
    bool unknown = isnan(p->shortening);
    if (unknown != isnan(q->shortening))
        return unknown ? 1 : -1;
    if (!unknown && p->shortening != q->shortening)
        return p->shortening > q->shortening ? -1 : 1;
    return p->point < q->point ? -1 : p->point > q->point;
}

static const trn_point_row **sorted(const trn_results *r)
{
    size_t n = r->machine->points_count;
    const trn_point_row **list = calloc(n + 1, sizeof *list);
    for (size_t i = 0; list && i < n; i++)
        list[i] = &r->points[i];
    if (list)
        qsort(list, n, sizeof *list, by_shortening);
    return list;
}

static bool earlier(const trn_point_row *row)
{
    return row->recommended_h < row->manual_h * (1 - 1e-9);
}

/* Without draws there is no caution: the two figures are the same. */
static bool drawn(const trn_results *r)
{
    for (size_t i = 0; i < r->machine->points_count; i++)
        if (r->points[i].at_risk_h < r->points[i].nominal_h ||
            r->points[i].at_risk_h > r->points[i].nominal_h)
            return true;
    return false;
}

static void find(const trn_results *r, const trn_point_row **list, trn_buffer *title)
{
    size_t n = r->machine->points_count;
    size_t due = 0;
    const trn_point_row *most = NULL;
    for (size_t i = 0; i < n; i++) {
        due += earlier(list[i]);
        if (!most && earlier(list[i]))
            most = list[i];
    }
    if (!most) {
        trn_buffer_print(title, "none of %zu points is due before the manual says", n);
        return;
    }
    trn_buffer_print(title, "%zu of %zu points %s due before the manual says%s %s: every %s h "
                            "instead of %s h",
                     due, n, due == 1 ? "is" : "are", due == 1 ? ":" : ", most of all",
                     plot_name_of(r->machine->points[most->point].point).text,
                     plot_number_of(most->recommended_h, 3).text,
                     plot_number_of(most->manual_h, 3).text);
    /* the year is shorter than the interval: what made the interval short comes second */
    trn_cause cause =
        most->governed_by == TRN_CAUSE_CALENDAR ? most->second_limit : most->governed_by;
    if (cause != TRN_CAUSE_NONE)
        trn_buffer_print(title, " (%s)", trn_cause_word(cause));
}

/* ---- picture ------------------------------------------------------------------------------ */

static bool positive(double x)
{
    return isfinite(x) && x > 0;
}

/* The axis holds what is asked for and what is recommended; the two in between only where they
 * do not stretch it. */
static plot_hours range_of(const trn_point_row **list, size_t n)
{
    double least = INFINITY;
    double most = 0;
    for (size_t i = 0; i < n; i++) {
        double all[] = {list[i]->manual_h, list[i]->recommended_h, list[i]->nominal_h,
                        list[i]->at_risk_h};
        for (size_t k = 0; k < 4; k++)
            if (positive(all[k]))
                least = fmin(least, all[k]);
        for (size_t k = 0; k < 2; k++)
            if (positive(all[k]))
                most = fmax(most, all[k]);
    }
    /* the bar of the shortest one is to be seen */
    return plot_hours_of(least / 1.5, most * 1.5);
}

static double held(double value, plot_hours range)
{
    return value > range.high ? range.high : positive(value) ? value : NAN;
}

static void data(const trn_point_row **list, size_t n, plot_hours range, bool caution,
                 trn_buffer *out)
{
    trn_buffer_add(out, "$P << END\n");
    for (size_t i = 0; i < n; i++) {
        plot_value(out, (double)i + 0.5);
        plot_value(out, range.low);
        plot_value(out, held(list[i]->recommended_h, range));
        plot_value(out, held(list[i]->manual_h, range));
        plot_value(out, held(list[i]->nominal_h, range));
        plot_value(out, caution ? held(list[i]->at_risk_h, range) : NAN);
        plot_value(out, caution ? held(list[i]->low_h, range) : NAN);
        plot_value(out, caution ? held(list[i]->high_h, range) : NAN);
        trn_buffer_add(out, "\n");
    }
    trn_buffer_add(
        out, "END\n"
             "plot $P using 3:1:2:3:($1-0.32):($1+0.32) with boxxyerror lw 0.8 lc rgb '" PLOT_SKY
             "' fs solid 1 border rgb 'black', \\\n"
             " '' using 4:($1-0.42):(0):(0.84) with vectors nohead lw 3.5 lc rgb '" PLOT_BLACK
             "', \\\n"
             " '' using 7:1:7:8 with xerrorbars pt 0 lw 1.4 lc rgb '" PLOT_BLACK
             "', \\\n"
             " '' using 5:1 with points pt 6 ps 1.3 lw 1.8 lc rgb '" PLOT_RED
             "', \\\n"
             " '' using 6:1 with points pt 9 ps 0.8 lc rgb '" PLOT_BLUE
             "'\n");
}

static void row_text(const trn_point_row *row, trn_buffer *text)
{
    if (isnan(row->recommended_h)) {
        trn_buffer_add(text, "not known");
        return;
    }
    trn_buffer_print(text, "%s h", plot_number_of(row->recommended_h, 3).text);
    if (row->governed_by != TRN_CAUSE_NONE)
        trn_buffer_print(text, ", %s", trn_cause_word(row->governed_by));
}

static const plot_key keys[] = {
    {PLOT_BOX, "fs solid 1 border rgb 'black' fc rgb '" PLOT_SKY "'", "recommended"},
    {PLOT_TICK, "lw 3.5 lc rgb '" PLOT_BLACK "'", "manual"},
    {PLOT_POINT, "pt 6 ps 1.3 lw 1.8 lc rgb '" PLOT_RED "'", "under this duty"},
    {PLOT_POINT, "pt 9 ps 0.8 lc rgb '" PLOT_BLUE "'", "with caution"},
    {PLOT_SPAN, "lw 1.4 lc rgb '" PLOT_BLACK "'", "10 to 90 % of the draws"},
};

static void draw(const trn_results *r, const trn_point_row **list, const char *title,
                 trn_buffer *out)
{
    size_t n = r->machine->points_count;
    plot_rows rows = {.n = n, .pitch = n > 20 ? 18 : 22, .text_columns = 16};
    char name[PLOT_LABEL_SIZE];
    for (size_t i = 0; i < n; i++) {
        size_t columns = plot_point_label(r->machine, list[i]->point, name, sizeof name);
        rows.name_columns = columns > rows.name_columns ? columns : rows.name_columns;
    }
    plot_hours range = range_of(list, n);
    bool caution = drawn(r);
    plot_canvas c = plot_rows_canvas(&rows, title, out);
    plot_rows_begin(&c, &rows, title, keys, sizeof keys / sizeof keys[0] - (caution ? 0 : 2));
    plot_below(&c, "interval [h]");
    for (size_t i = 0; i < n; i++) {
        trn_buffer text = {0};
        row_text(list[i], &text);
        (void)plot_point_label(r->machine, list[i]->point, name, sizeof name);
        plot_row(&c, &rows, i, name, text.text ? text.text : "");
        trn_buffer_free(&text);
        if (list[i]->nominal_h > range.high || list[i]->at_risk_h > range.high)
            plot_label(&c, c.right + 8, c.top + rows.pitch * (int)i + rows.pitch / 2, "left", ">");
    }
    plot_hours_axis(&c, range, range.high, NULL, 0);
    data(list, n, range, caution, out);
}

trn_status trn_plot_intervals(const trn_results *results, trn_buffer *script,
                              trn_buffer *finding)
{
    bool any = false;
    for (size_t i = 0; i < results->machine->points_count; i++)
        any = any || positive(results->points[i].recommended_h);
    if (!any)
        return TRN_E_UNKNOWN;
    const trn_point_row **list = sorted(results);
    trn_buffer out = {0};
    trn_buffer title = {0};
    if (list) {
        find(results, list, &title);
        if (!drawn(results))
            trn_buffer_add(&title, "; medians only, no margin");
    }
    if (title.text)
        draw(results, list, title.text, &out);
    trn_status status = list ? TRN_OK : TRN_E_MEMORY;
    free(list);
    return plot_hand_over(status, &out, &title, script, finding);
}
