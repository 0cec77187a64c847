/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plot: the service plan of a year. */
#include <math.h>
#include <stdlib.h>

#include "plot_points.h"

typedef struct task {
    size_t point, visits;
} task;

static int by_visits(const void *a, const void *b)
{
    const task *p = a;
    const task *q = b;
    if (p->visits != q->visits)
        return p->visits > q->visits ? -1 : 1;
    return p->point < q->point ? -1 : p->point > q->point;
}

/* Points with visits, most often due first; *n of them. */
static task *collect(const trn_results *r, size_t *n)
{
    size_t points = r->machine->points_count;
    task *list = calloc(points + 1, sizeof *list);
    *n = 0;
    if (!list)
        return NULL;
    for (size_t i = 0; i < points; i++)
        list[i].point = i;
    for (size_t i = 0; i < r->extras->visits_count; i++)
        list[r->extras->visits[i].point].visits++;
    qsort(list, points, sizeof *list, by_visits);
    while (*n < points && list[*n].visits > 0)
        (*n)++;
    return list;
}

/* The rows of the plan are sorted by hours; equal hours are one visit. */
static size_t visits_of(const trn_extras *x)
{
    size_t n = 0;
    for (size_t i = 0; i < x->visits_count; i++)
        n += i == 0 || x->visits[i].visit_h > x->visits[i - 1].visit_h * (1 + 1e-9);
    return n;
}

static void find(const trn_results *r, const task *list, size_t n, trn_buffer *title)
{
    const trn_extras *x = r->extras;
    trn_buffer_print(title, "a year of %s h asks for %zu visits with %zu tasks",
                     plot_number_of(r->machine->head.hours_per_year, 4).text, visits_of(x),
                     x->visits_count);
    if (n > 1 && list[0].visits > list[1].visits)
        trn_buffer_print(title, "; %s alone %zu times",
                         plot_name_of(r->machine->points[list[0].point].point).text,
                         list[0].visits);
}

static void data(const trn_extras *x, const task *list, size_t n, trn_buffer *out)
{
    trn_buffer_add(out, "$V << END\n");
    for (size_t k = 0; k < n; k++)
        for (size_t i = 0; i < x->visits_count; i++)
            if (x->visits[i].point == list[k].point) {
                plot_value(out, x->visits[i].visit_h);
                plot_value(out, (double)k + 0.5);
                trn_buffer_print(out, "%zu\n", k % 2);
            }
    trn_buffer_add(out, "END\n");
}

static void draw(const trn_results *r, const task *list, size_t n, const char *title,
                 trn_buffer *out)
{
    static const plot_key key = {PLOT_TICK, NULL, "a mark: the task is due at this visit"};
    plot_rows rows = {.n = n, .pitch = n > 20 ? 18 : 22, .text_columns = 9};
    char name[PLOT_LABEL_SIZE];
    for (size_t i = 0; i < n; i++) {
        size_t columns = plot_point_label(r->machine, list[i].point, name, sizeof name);
        rows.name_columns = columns > rows.name_columns ? columns : rows.name_columns;
    }
    plot_canvas c = plot_rows_canvas(&rows, title, out);
    plot_rows_begin(&c, &rows, title, &key, 1);
    plot_below(&c, "hours of the year [h]");
    for (size_t i = 0; i < n; i++) {
        char text[32];
        (void)snprintf(text, sizeof text, "%zu x", list[i].visits);
        (void)plot_point_label(r->machine, list[i].point, name, sizeof name);
        plot_row(&c, &rows, i, name, text);
    }
    data(r->extras, list, n, out);
    trn_buffer_add(out, "set xrange [0:");
    plot_value(out, r->machine->head.hours_per_year * 1.005);
    /* neighbours in two colours lead the eye to the name */
    trn_buffer_add(out,
                   "]\nset xtics autofreq\n"
                   "plot $V using 1:($3 == 0 ? $2 - 0.36 : NaN):(0):(0.72) with vectors nohead "
                   "lw 2 lc rgb '" PLOT_BLUE "', \\\n"
                   " '' using 1:($3 == 1 ? $2 - 0.36 : NaN):(0):(0.72) with vectors nohead "
                   "lw 2 lc rgb '" PLOT_RED "'\n");
}

trn_status trn_plot_plan(const trn_results *results, trn_buffer *script, trn_buffer *finding)
{
    if (!results->extras || results->extras->visits_count == 0)
        return TRN_E_UNKNOWN;
    size_t n = 0;
    task *list = collect(results, &n);
    trn_buffer out = {0};
    trn_buffer title = {0};
    if (list)
        find(results, list, n, &title);
    if (title.text)
        draw(results, list, n, title.text, &out);
    trn_status status = list ? TRN_OK : TRN_E_MEMORY;
    free(list);
    return plot_hand_over(status, &out, &title, script, finding);
}
