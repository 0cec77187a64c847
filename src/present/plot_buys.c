/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plot: what the recommended oil interval buys against the manual's and the cheapest. */
#include <math.h>
#include <string.h>
#include <trunnion/ledger.h>

#include "plot_script.h"

enum { PANELS = 6, ACROSS = 3, GAP = 26, PITCH = 22, HEAD = 34, FOOT = 40, BOXES_MAX = 40 };

typedef struct panel {
    const char *quantity, *words;
    bool money;
} panel;

static const panel panels[PANELS] = {
    {"bearing_life", "life of the weakest bearing [h]", false},
    {"reliability_at_design_life", "bearings that reach the design life [%]", false},
    {"relative_wear", "wear against clean oil [1]", false},
    {"oil_per_year", "oil used a year [L]", false},
    {"work_per_year", "work a year [h]", false},
    {"cost_per_year", "changes and wear a year", true},
};

static const trn_buys_row *row_of(const trn_ledger *l, const char *object, const char *quantity)
{
    for (size_t i = 0; i < l->buys_count; i++)
        if (strcmp(l->buys[i].object, object) == 0 &&
            strcmp(l->buys[i].quantity, quantity) == 0)
            return &l->buys[i];
    return NULL;
}

/* Gearboxes with an oil change. */
typedef struct boxes {
    const char *name[BOXES_MAX];
    size_t n, columns;
} boxes;

static boxes boxes_of(const trn_results *r)
{
    boxes b = {.n = 0};
    for (size_t g = 0; g < r->machine->gearboxes_count && b.n < BOXES_MAX; g++) {
        const char *name = r->machine->gearboxes[g].gearbox;
        const trn_buys_row *interval = row_of(r->ledger, name, "interval");
        if (!interval || isnan(interval->manual) || isnan(interval->recommended))
            continue;
        b.name[b.n++] = name;
        size_t columns = plot_name_of(name).columns;
        b.columns = columns > b.columns ? columns : b.columns;
    }
    return b;
}

/* ---- finding ------------------------------------------------------------------------------- */

static bool same(double a, double b)
{
    return fabs(a - b) <= 1e-9 * fabs(b);
}

/* Sum over the boxes of recommended less manual; NaN where none is known. */
static double more_of(const trn_ledger *l, const boxes *b, const char *quantity)
{
    double sum = NAN;
    for (size_t i = 0; i < b->n; i++) {
        const trn_buys_row *row = row_of(l, b->name[i], quantity);
        double more = row ? row->recommended - row->manual : NAN;
        if (isfinite(more))
            sum = isnan(sum) ? more : sum + more;
    }
    return sum;
}

static void say_more(double more, const char *unit, trn_buffer *title)
{
    trn_buffer_print(title, "%s %s %s a year", plot_number_of(fabs(more), 2).text, unit,
                     more < 0 ? "less" : "more");
}

static void find(const trn_results *r, const boxes *b, trn_buffer *title)
{
    const trn_ledger *l = r->ledger;
    size_t changed = 0;
    size_t best = TRN_NONE;
    double gain = 0;
    for (size_t i = 0; i < b->n; i++) {
        const trn_buys_row *interval = row_of(l, b->name[i], "interval");
        const trn_buys_row *life = row_of(l, b->name[i], "bearing_life");
        changed += !same(interval->recommended, interval->manual);
        if (life && isfinite(life->manual) && life->recommended / life->manual - 1 > gain) {
            gain = life->recommended / life->manual - 1;
            best = i;
        }
    }
    if (changed == 0) {
        trn_buffer_add(title, "the manual's oil interval stands in every gearbox: nothing changes");
        return;
    }
    trn_buffer_print(title, "oil changed as recommended in %zu of %zu gearboxes: ", changed, b->n);
    if (best != TRN_NONE)
        trn_buffer_print(title, "bearing life up to %s %% longer (%s), ",
                         plot_number_of(100 * gain, 2).text, plot_name_of(b->name[best]).text);
    double cost = more_of(l, b, "cost_per_year");
    const trn_buys_row *unit = row_of(l, b->name[0], "cost_per_year");
    if (isfinite(cost))
        say_more(cost, plot_name_of(unit ? unit->unit : "").text, title);
    else
        say_more(more_of(l, b, "oil_per_year"), "L of oil", title);
    if (best == TRN_NONE)
        trn_buffer_add(title, "; lives not known without the dust intake");
}

/* ---- picture ------------------------------------------------------------------------------- */

static void widen(double x, double range[2])
{
    if (isfinite(x)) {
        range[0] = fmin(range[0], x);
        range[1] = fmax(range[1], x);
    }
}

static bool range_of(const trn_ledger *l, const boxes *b, const panel *p, double range[2])
{
    range[0] = INFINITY;
    range[1] = -INFINITY;
    for (size_t i = 0; i < b->n; i++) {
        const trn_buys_row *rows[] = {row_of(l, b->name[i], p->quantity),
                                      p->money ? row_of(l, b->name[i], "cost_per_year_low") : NULL,
                                      p->money ? row_of(l, b->name[i], "cost_per_year_high") : NULL};
        for (size_t k = 0; k < 3; k++)
            if (rows[k]) {
                widen(rows[k]->manual, range);
                widen(rows[k]->recommended, range);
                widen(rows[k]->cheapest, range);
            }
    }
    if (!(range[0] <= range[1]))
        return false;
    double room = fmax(range[1] - range[0], 0.02 * fabs(range[1]));
    room = room > 0 ? room : 1;
    range[0] -= 0.12 * room;
    range[1] += 0.12 * room;
    return true;
}

static void data(const trn_ledger *l, const boxes *b, size_t k, trn_buffer *out)
{
    const panel *p = &panels[k];
    trn_buffer_print(out, "$P%zu << END\n", k);
    for (size_t i = 0; i < b->n; i++) {
        const trn_buys_row *row = row_of(l, b->name[i], p->quantity);
        const trn_buys_row *low = p->money ? row_of(l, b->name[i], "cost_per_year_low") : NULL;
        const trn_buys_row *high = p->money ? row_of(l, b->name[i], "cost_per_year_high") : NULL;
        plot_value(out, (double)i + 0.5);
        plot_value(out, row ? row->manual : NAN);
        plot_value(out, row ? row->recommended : NAN);
        plot_value(out, row ? row->cheapest : NAN);
        plot_value(out, low ? low->manual : NAN);
        plot_value(out, high ? high->manual : NAN);
        plot_value(out, low ? low->recommended : NAN);
        plot_value(out, high ? high->recommended : NAN);
        trn_buffer_add(out, "\n");
    }
    trn_buffer_add(out, "END\n");
}

static void marks(size_t k, bool money, const double range[2], trn_buffer *out)
{
    trn_buffer_add(out, "set xrange [");
    plot_value(out, range[0]);
    trn_buffer_add(out, ":");
    plot_value(out, range[1]);
    trn_buffer_add(out, "]\nset xtics ");
    plot_value(out, plot_step_above((range[1] - range[0]) / 5));
    trn_buffer_print(out,
                     "\nplot $P%zu using 2:1:($3-$2):(0) with vectors nohead lw 1.2 "
                     "lc rgb '" PLOT_GREY "', \\\n",
                     k);
    if (money)
        trn_buffer_print(out,
                         " $P%zu using 2:($1-0.42):5:6 with xerrorbars pt 0 lw 1.4 "
                         "lc rgb '" PLOT_BLACK "', \\\n"
                         " $P%zu using 3:($1+0.4):7:8 with xerrorbars pt 0 lw 1.4 "
                         "lc rgb '" PLOT_BLUE "', \\\n",
                         k, k);
    trn_buffer_print(out,
                     " $P%zu using 4:1 with points pt 12 ps 1.2 lw 1.6 lc rgb '" PLOT_RED "', \\\n"
                     " $P%zu using 3:1 with points pt 7 ps 1.3 lc rgb '" PLOT_SKY "', \\\n"
                     " $P%zu using 3:1 with points pt 6 ps 1.3 lw 1 lc rgb '" PLOT_BLACK "', \\\n"
                     " $P%zu using 2:($1-0.34):(0):(0.68) with vectors nohead lw 3.5 "
                     "lc rgb '" PLOT_BLACK "'\n",
                     k, k, k, k);
}

static const plot_key keys[] = {
    {PLOT_TICK, "lw 3.5 lc rgb '" PLOT_BLACK "'", "manual"},
    {PLOT_POINT, "pt 7 ps 1.3 lc rgb '" PLOT_SKY "'", "recommended"},
    {PLOT_POINT, "pt 12 ps 1.2 lw 1.6 lc rgb '" PLOT_RED "'", "cheapest by changes and wear"},
    {PLOT_SPAN, "lw 1.4 lc rgb '" PLOT_BLACK "'", "10 to 90 % of the draws"},
};

static bool known(const trn_ledger *l, const char *object, const panel *p)
{
    const trn_buys_row *row = row_of(l, object, p->quantity);
    return row && (isfinite(row->manual) || isfinite(row->recommended));
}

static void panel_words(const trn_results *r, const boxes *b, const panel *p, trn_buffer *out)
{
    const trn_buys_row *row = row_of(r->ledger, b->name[0], p->quantity);
    trn_buffer_add(out, p->words);
    if (p->money)
        trn_buffer_print(out, " [%s]", plot_name_of(row ? row->unit : "").text);
}

static void draw(const trn_results *r, const boxes *b, plot_canvas c)
{
    int names = plot_text_width(b->columns) + 20;
    int width = (c.width - names - ACROSS * GAP) / ACROSS;
    int height = PITCH * (int)b->n;
    for (size_t k = 0; k < PANELS; k++) {
        double range[2];
        trn_buffer words = {0};
        plot_canvas at = c;
        at.left = names + (int)(k % ACROSS) * (width + GAP);
        at.right = at.left + width;
        at.top = c.top + (int)(k / ACROSS) * (HEAD + height + FOOT) + HEAD;
        at.bottom = at.top + height;
        if (k > 0)
            trn_buffer_add(c.out, "unset label\nunset arrow\nunset object\n");
        plot_edges(&at);
        panel_words(r, b, &panels[k], &words);
        plot_label(&at, at.left, at.top - 14, "left", words.text ? words.text : "");
        trn_buffer_free(&words);
        for (size_t i = 0; k % ACROSS == 0 && i < b->n; i++)
            plot_label(&at, at.left - 8, at.top + PITCH * (int)i + PITCH / 2, "right",
                       plot_name_of(b->name[i]).text);
        bool any = range_of(r->ledger, b, &panels[k], range);
        for (size_t i = 0; any && i < b->n; i++)
            if (!known(r->ledger, b->name[i], &panels[k]))
                plot_label_small(&at, at.left + 8, at.top + PITCH * (int)i + PITCH / 2, "left",
                                 "not known");
        if (any) {
            marks(k, panels[k].money, range, c.out);
            continue;
        }
        plot_label_small(&at, at.left + 8, at.top + height / 2, "left", "not known");
        trn_buffer_add(c.out, "set xrange [0:1]\nunset xtics\nplot NaN notitle\nset xtics\n");
    }
}

trn_status trn_plot_buys(const trn_results *results, trn_buffer *script, trn_buffer *finding)
{
    if (!results->ledger)
        return TRN_E_UNKNOWN;
    boxes b = boxes_of(results);
    if (b.n == 0)
        return TRN_E_UNKNOWN;
    trn_buffer out = {0};
    trn_buffer title = {0};
    find(results, &b, &title);
    if (title.text) {
        plot_canvas c = {.out = &out, .width = 960};
        c.top = plot_head_height(title.text, c.width);
        c.height = c.top + (PANELS / ACROSS) * (HEAD + PITCH * (int)b.n + FOOT) + 8;
        plot_begin(&c, title.text);
        plot_key_line(&c, title.text, keys, sizeof keys / sizeof keys[0]);
        for (size_t k = 0; k < PANELS; k++)
            data(results->ledger, &b, k, &out);
        trn_buffer_print(&out, "set multiplot\nset yrange [%zu:0]\nunset ytics\nset border 1\n",
                         b.n);
        draw(results, &b, c);
        trn_buffer_add(&out, "unset multiplot\n");
    }
    return plot_hand_over(TRN_OK, &out, &title, script, finding);
}
