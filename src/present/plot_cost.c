/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plot: cost a year over the change interval, a panel a gearbox. */
#include <math.h>
#include <string.h>
#include <trunnion/ledger.h>

#include "plot_script.h"

enum { PANELS = 6, ACROSS = 2, SIDE = 74, GAP = 16, HEAD = 42, PANEL = 150, FOOT = 44 };

typedef struct panel {
    size_t gearbox;
    const trn_cost_row *course; /* TRN_COST_POINTS */
    const trn_buys_row *interval, *cost;
} panel;

typedef struct sheet {
    panel list[PANELS];
    size_t n;
    double low, high, shortest, longest;
} sheet;

static const trn_buys_row *row_of(const trn_ledger *l, const char *object, const char *quantity)
{
    for (size_t i = 0; i < l->buys_count; i++)
        if (strcmp(l->buys[i].object, object) == 0 && strcmp(l->buys[i].quantity, quantity) == 0)
            return &l->buys[i];
    return NULL;
}

static void collect(const trn_results *r, size_t part, sheet *s)
{
    const trn_ledger *l = r->ledger;
    size_t known = 0;
    s->shortest = INFINITY;
    for (size_t i = 0; i + TRN_COST_POINTS <= l->costs_count; i += TRN_COST_POINTS) {
        const char *name = r->machine->gearboxes[l->costs[i].gearbox].gearbox;
        panel p = {.gearbox = l->costs[i].gearbox, .course = &l->costs[i],
                   .interval = row_of(l, name, "interval"),
                   .cost = row_of(l, name, "cost_per_year")};
        if (!p.interval || !p.cost)
            continue;
        if (known++ / PANELS == part)
            s->list[s->n++] = p;
    }
    for (size_t i = 0; i < s->n; i++) {
        const panel *p = &s->list[i];
        const trn_cost_row *end = &p->course[TRN_COST_POINTS - 1];
        s->shortest = fmin(s->shortest, p->course[0].interval_h);
        s->longest = fmax(s->longest, end->interval_h);
        s->high = fmax(s->high, 1.6 * fmax(p->cost->manual, p->cost->recommended));
    }
}

static const char *name_of(const trn_results *r, const panel *p)
{
    return r->machine->gearboxes[p->gearbox].gearbox;
}

/* Of the box in which the recommendation costs most beyond the cheapest. */
static void find(const trn_results *r, const sheet *s, trn_buffer *title)
{
    const panel *p = &s->list[0];
    for (size_t i = 1; i < s->n; i++)
        if (s->list[i].cost->recommended - s->list[i].cost->cheapest >
            p->cost->recommended - p->cost->cheapest)
            p = &s->list[i];
    trn_buffer_print(title, "%s: changes and wear cost least at %s h; ",
                     plot_name_of(name_of(r, p)).text,
                     plot_number_of(p->interval->cheapest, 2).text);
    double manual = 100 * (p->cost->manual / p->cost->cheapest - 1);
    double now = 100 * (p->cost->recommended / p->cost->cheapest - 1);
    if (fabs(p->interval->manual - p->interval->recommended) <= 1e-9 * p->interval->manual)
        trn_buffer_print(title, "the manual's %s h, recommended too, cost %s %% more",
                         plot_number_of(p->interval->manual, 3).text,
                         plot_number_of(manual, 2).text);
    else
        trn_buffer_print(title, "the manual's %s h cost %s %% more, the recommended %s h %s %%",
                         plot_number_of(p->interval->manual, 3).text,
                         plot_number_of(manual, 2).text,
                         plot_number_of(p->interval->recommended, 3).text,
                         plot_number_of(now, 2).text);
    trn_buffer_add(title, " (no sudden failure, no ageing in it)");
}

static void data(const sheet *s, trn_buffer *out)
{
    for (size_t i = 0; i < s->n; i++) {
        const panel *p = &s->list[i];
        trn_buffer_print(out, "$C%zu << END\n", i);
        for (size_t k = 0; k < TRN_COST_POINTS; k++) {
            const trn_cost_row *row = &p->course[k];
            plot_value(out, row->interval_h);
            plot_value(out, row->cost);
            plot_value(out, row->low);
            plot_value(out, row->high);
            trn_buffer_add(out, "\n");
        }
        trn_buffer_print(out, "END\n$M%zu << END\n", i);
        const trn_buys_row *h = p->interval;
        const double at[3][2] = {{h->manual, p->cost->manual},
                                 {h->recommended, p->cost->recommended},
                                 {h->cheapest, p->cost->cheapest}};
        for (size_t k = 0; k < 3; k++) {
            plot_value(out, at[k][0]);
            plot_value(out, at[k][1]);
            trn_buffer_add(out, "\n");
        }
        trn_buffer_add(out, "END\n");
    }
}

static void curves(const panel *p, size_t i, trn_buffer *out)
{
    trn_buffer_add(out, "plot ");
    if (isfinite(p->course[0].low) && isfinite(p->course[0].high))
        trn_buffer_print(out,
                         "$C%zu using 1:3:4 with filledcurves fs solid 1 noborder "
                         "fc rgb '#E0E0E0', \\\n ",
                         i);
    trn_buffer_print(out,
                     "$C%zu using 1:2 with lines lw 2.2 lc rgb '" PLOT_BLUE "', \\\n"
                     " $M%zu every ::2::2 using 1:2 with points pt 12 ps 1.5 lw 1.8 "
                     "lc rgb '" PLOT_RED "', \\\n"
                     " $M%zu every ::1::1 using 1:2 with points pt 7 ps 1.4 "
                     "lc rgb '" PLOT_SKY "', \\\n"
                     " $M%zu every ::1::1 using 1:2 with points pt 6 ps 1.4 lw 1.2 "
                     "lc rgb '" PLOT_BLACK "', \\\n"
                     " $M%zu every ::0::0 using 1:2 with points pt 5 ps 1.0 "
                     "lc rgb '" PLOT_BLACK "'\n",
                     i, i, i, i, i);
}

static const plot_key keys[] = {
    {PLOT_LINE, "lw 2.2 lc rgb '" PLOT_BLUE "'", "median"},
    {PLOT_BOX, "fs solid 1 noborder fc rgb '#E0E0E0'", "10 to 90 % of the draws"},
    {PLOT_POINT, "pt 5 ps 1 lc rgb '" PLOT_BLACK "'", "manual"},
    {PLOT_POINT, "pt 7 ps 1.4 lc rgb '" PLOT_SKY "'", "recommended"},
    {PLOT_POINT, "pt 12 ps 1.5 lw 1.8 lc rgb '" PLOT_RED "'", "cheapest"},
};

static void heads(const trn_results *r, const panel *p, const plot_canvas *at)
{
    trn_buffer words = {0};
    trn_buffer_print(&words, "manual %s h, recommended %s h, cheapest %s h",
                     plot_number_of(p->interval->manual, 3).text,
                     plot_number_of(p->interval->recommended, 3).text,
                     plot_number_of(p->interval->cheapest, 2).text);
    plot_label(at, at->left, at->top - 27, "left", plot_name_of(name_of(r, p)).text);
    plot_label_small(at, at->left, at->top - 11, "left", words.text ? words.text : "");
    at->out->failed = at->out->failed || words.failed;
    trn_buffer_free(&words);
}

static void draw(const trn_results *r, const sheet *s, plot_canvas c)
{
    int width = (c.width - ACROSS * (SIDE + GAP)) / ACROSS;
    plot_hours range = plot_hours_of(s->shortest, s->longest);
    for (size_t i = 0; i < s->n; i++) {
        const panel *p = &s->list[i];
        bool lowest = i + ACROSS >= s->n;
        plot_canvas at = c;
        at.left = SIDE + (int)(i % ACROSS) * (width + SIDE + GAP);
        at.right = at.left + width;
        at.top = c.top + (int)(i / ACROSS) * (HEAD + PANEL + FOOT) + HEAD;
        at.bottom = at.top + PANEL;
        if (i > 0)
            trn_buffer_add(c.out, "unset label\nunset arrow\nunset object\n");
        plot_edges(&at);
        heads(r, p, &at);
        trn_buffer unit = {0};
        trn_buffer_print(&unit, "cost a year [%s]", plot_name_of(p->cost->unit).text);
        plot_label_small(&at, at.left - 48, (at.top + at.bottom) / 2, "center rotate",
                         unit.text ? unit.text : "");
        trn_buffer_free(&unit);
        if (lowest)
            plot_below(&at, "interval [h]");
        plot_hours_axis(&at, range, range.high, NULL, 0);
        curves(p, i, c.out);
    }
}

trn_status trn_plot_cost(const trn_results *results, size_t part, trn_buffer *script,
                         trn_buffer *finding)
{
    sheet s = {.n = 0};
    if (results->ledger)
        collect(results, part, &s);
    if (s.n == 0)
        return TRN_E_UNKNOWN;
    trn_buffer out = {0};
    trn_buffer title = {0};
    find(results, &s, &title);
    size_t rows = (s.n + ACROSS - 1) / ACROSS;
    plot_canvas c = {.out = &out, .width = 800};
    if (title.text) {
        c.top = plot_head_height(title.text, c.width);
        c.height = c.top + (int)rows * (HEAD + PANEL + FOOT) + 8;
        plot_begin(&c, title.text);
        plot_key_line(&c, title.text, keys, sizeof keys / sizeof keys[0]);
        data(&s, &out);
        trn_buffer_add(&out, "set multiplot\nset yrange [0:");
        plot_value(&out, s.high);
        trn_buffer_add(&out, "]\n");
        draw(results, &s, c);
        trn_buffer_add(&out, "unset multiplot\n");
    }
    return plot_hand_over(TRN_OK, &out, &title, script, finding);
}
