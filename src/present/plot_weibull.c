/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plot: Weibull paper, on which a Weibull line is straight: ln(-ln(1 - F)) over ln t. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/lives_paper.h>

#include "plot_script.h"

enum { TICKS_MAX = 2000 };

typedef struct paper {
    const trn_lives_paper *of;
    const trn_lives_table *table;
    const trn_lives_line *fit;   /* NULL: nothing failed, or no slope */
    const trn_lives_line *fixed; /* at the slope asked for, NULL: none */
    double low_pct, high_pct;    /* of the vertical axis */
    plot_hours range;
    double running;              /* units */
} paper;

static double height_of(double failed_pct)
{
    return log(-log1p(-failed_pct / 100));
}

static const trn_lives_line *line_named(const trn_lives_table *t, const char *method)
{
    for (size_t i = 0; i < t->count; i++)
        if (strcmp(t->lines[i].method, method) == 0)
            return &t->lines[i];
    return NULL;
}

/* ---- finding ------------------------------------------------------------------------------ */

static void limits_text(double low, double high, double confidence, trn_buffer *out)
{
    if (low > 0 && isfinite(high))
        trn_buffer_print(out, " (%s to %s, %s %%)", plot_life_of(low).text,
                         plot_life_of(high).text, plot_number_of(100 * confidence, 4).text);
    else if (low > 0)
        trn_buffer_print(out, " (%s or more, %s %%)", plot_number_of(low, 3).text,
                         plot_number_of(100 * confidence, 4).text);
    else
        trn_buffer_print(out, " (no lower limit)");
}

static void find(const paper *p, trn_buffer *title)
{
    const trn_weibull_data *d = &p->table->data;
    if (!p->fit) {
        trn_buffer_print(title,
                         "nothing failed: at an assumed slope of %s, 10 %% fail no sooner than %s h "
                         "(lower end of %s %%)",
                         plot_number_of(p->table->slope, 3).text,
                         plot_number_of(p->fixed->limits.b10_low_h, 3).text,
                         plot_number_of(100 * p->table->confidence, 4).text);
        return;
    }
    const trn_weibull_limits *l = &p->fit->limits;
    trn_buffer_print(title, "10 %% have failed by %s h", plot_life_of(p->fit->line.b10_h).text);
    limits_text(l->b10_low_h, l->b10_high_h, p->table->confidence, title);
    trn_buffer_print(title, "; slope %s", plot_number_of(p->fit->line.beta, 3).text);
    if (l->beta_low > 1)
        trn_buffer_print(title, ", above 1 within its limits: parts wear out");
    else if (l->beta_high < 1)
        trn_buffer_print(title, ", below 1 within its limits: early defects");
    else
        trn_buffer_print(title, ", but anything from %s to %s fits",
                         plot_number_of(l->beta_low, 2).text,
                         isinf(l->beta_high) ? "any height" : plot_number_of(l->beta_high, 2).text);
    trn_buffer_print(title, " (%s of %s failed)", plot_number_of(d->failed, 6).text,
                     plot_number_of(d->units, 6).text);
}

/* ---- axes --------------------------------------------------------------------------------- */

static const double shares[] = {0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1,  2, 5,
                                10,    20,    30,    50,   63.2, 80,   90,  95,  99,  99.9};
enum { SHARES = sizeof shares / sizeof shares[0] };

static double lowest_point(const paper *p)
{
    double least = 2;
    for (size_t i = 0; i < p->of->rank_count; i++)
        least = fmin(least, p->of->ranks[i].benard_pct);
    double before = 0;
    for (size_t i = 0; i < p->of->survival_count && p->table->data.grouped; i++) {
        double behind = 100 - p->of->survival[i].survive_pct;
        if (behind > before)
            least = fmin(least, (before + behind) / 2);
        before = behind;
    }
    return least;
}

static void widen(double hours, double *least, double *most)
{
    if (!(hours > 0) || !isfinite(hours))
        return;
    *least = fmin(*least, hours);
    *most = fmax(*most, hours);
}

/* The hours of the units and the B10 with its limits, as far as these are of use; then the line
 * where it leaves the paper. */
static void set_axes(paper *p)
{
    double least = INFINITY;
    double most = 0;
    p->low_pct = shares[0];
    double lowest = lowest_point(p);
    for (size_t i = 0; i < SHARES && shares[i] < lowest; i++)
        p->low_pct = shares[i];
    p->high_pct = 99.9;
    for (size_t i = 0; i < p->table->data.n; i++) {
        const trn_weibull_row *row = &p->table->data.rows[i];
        widen(row->after_h, &least, &most);
        widen(row->by_h, &least, &most);
    }
    const trn_lives_line *main = p->fit ? p->fit : p->fixed;
    double b10[] = {main->line.b10_h, main->limits.b10_low_h, main->limits.b10_high_h};
    for (size_t i = 0; i < 3; i++)
        if (b10[i] > least / 30 && b10[i] < 30 * most)
            widen(b10[i], &least, &most);
    p->range = plot_hours_of(least, most);
    p->range.low *= 1 - 1e-6; /* gnuplot drops a tic that rounding puts before the axis */
}

static void share_axis(const plot_canvas *c, const paper *p)
{
    trn_buffer_add(c->out, "set yrange [");
    plot_value(c->out, height_of(p->low_pct));
    trn_buffer_add(c->out, ":");
    plot_value(c->out, height_of(p->high_pct));
    trn_buffer_add(c->out, "]\nset ytics (");
    const char *before = "";
    for (size_t i = 0; i < SHARES; i++) {
        if (shares[i] < p->low_pct || shares[i] > p->high_pct)
            continue;
        trn_buffer_add(c->out, before);
        plot_quote(c->out, plot_number_of(shares[i], 3).text);
        trn_buffer_add(c->out, " ");
        plot_value(c->out, height_of(shares[i]));
        before = ", ";
    }
    trn_buffer_add(c->out, ")\n");
}

/* ---- data --------------------------------------------------------------------------------- */

static double held(double hours, plot_hours range)
{
    return hours < range.low / 10 ? range.low / 10 : hours > 10 * range.high ? 10 * range.high
                                                                             : hours;
}

static void band(const paper *p, trn_buffer *out)
{
    trn_buffer_add(out, "$L << END\n");
    for (size_t i = 0; i < p->of->line_count; i++) {
        const trn_lives_percentile *at = &p->of->line[i];
        plot_value(out, height_of(at->failed_pct));
        plot_value(out, at->life_h);
        plot_value(out, held(at->low_h, p->range));
        plot_value(out, held(at->high_h, p->range));
        trn_buffer_add(out, "\n");
    }
    trn_buffer_add(out, "END\n$A << END\n"); /* once round the band, for its filling */
    for (size_t i = 0; i < p->of->line_count; i++) {
        plot_value(out, held(p->of->line[i].low_h, p->range));
        plot_value(out, height_of(p->of->line[i].failed_pct));
        trn_buffer_add(out, "\n");
    }
    for (size_t i = p->of->line_count; i-- > 0;) {
        plot_value(out, held(p->of->line[i].high_h, p->range));
        plot_value(out, height_of(p->of->line[i].failed_pct));
        trn_buffer_add(out, "\n");
    }
    trn_buffer_add(out, "END\n");
}

/* Points by ranks; with looks a stretch from the last sound look to the first failed one, at the
 * middle of the share that fails in it. */
static size_t points(const paper *p, trn_buffer *out)
{
    size_t n = 0;
    trn_buffer_add(out, "$P << END\n");
    for (size_t i = 0; i < p->of->rank_count; i++, n++) {
        plot_value(out, p->of->ranks[i].life_h);
        plot_value(out, height_of(p->of->ranks[i].benard_pct));
        trn_buffer_add(out, "\n");
    }
    double before = 0;
    for (size_t i = 0; i < p->of->survival_count && p->table->data.grouped; i++) {
        const trn_lives_survival *s = &p->of->survival[i];
        double behind = 100 - s->survive_pct;
        double middle = (before + behind) / 2;
        before = behind;
        if (!isfinite(s->to_h) || !(middle > 0) || !(middle < 100))
            continue;
        plot_value(out, fmax(s->from_h, p->range.low / 10));
        plot_value(out, height_of(middle));
        trn_buffer_add(out, "\n");
        plot_value(out, s->to_h);
        plot_value(out, height_of(middle));
        trn_buffer_add(out, "\n\n");
        n++;
    }
    trn_buffer_add(out, "END\n");
    return n;
}

/* Ticks at the foot, one an hour at which units still ran. */
static size_t survivors(paper *p, trn_buffer *out)
{
    size_t n = 0;
    double last = -1;
    double foot = height_of(p->low_pct);
    double step = (height_of(p->high_pct) - foot) * 0.028;
    trn_buffer_add(out, "$S << END\n");
    for (size_t i = 0; i < p->table->data.n; i++) {
        const trn_weibull_row *row = &p->table->data.rows[i];
        if (row->kind != TRN_WEIBULL_RIGHT)
            continue;
        p->running += (double)row->count;
        if (!(row->after_h > last) || n == TICKS_MAX)
            continue;
        last = row->after_h;
        plot_value(out, row->after_h);
        plot_value(out, foot);
        plot_value(out, step);
        trn_buffer_add(out, "\n");
        n++;
    }
    trn_buffer_add(out, "END\n");
    return n;
}

static void straight(const trn_lives_line *line, double eta_h, const paper *p, trn_buffer *out)
{
    const double ends[] = {height_of(p->low_pct), height_of(p->high_pct)};
    for (size_t i = 0; i < 2; i++) {
        plot_value(out, eta_h * exp(ends[i] / line->line.beta));
        plot_value(out, ends[i]);
        trn_buffer_add(out, "\n");
    }
}

/* ---- picture ------------------------------------------------------------------------------ */

#define LOOK_FIT "lw 2.4 lc rgb '" PLOT_BLUE "'"
#define LOOK_BAND "lw 1.2 dt (7,4) lc rgb '" PLOT_BLUE "'"
#define LOOK_FILL "fc rgb '#DCE8F2' fs solid noborder"
#define LOOK_FIXED "lw 1.8 dt (2,4) lc rgb '" PLOT_BLACK "'"
#define LOOK_POINT "pt 7 ps 0.9 lc rgb '" PLOT_BLACK "'"
#define LOOK_LOOKS "lw 2.6 lc rgb '" PLOT_BLACK "'"
#define LOOK_TICK "lw 1.4 lc rgb '" PLOT_BLACK "'"
#define LOOK_B10 "pt 4 ps 1.5 lw 2 lc rgb '" PLOT_RED "'"

static void keys(const plot_canvas *c, const paper *p, const char *title)
{
    plot_key key[6];
    size_t n = 0;
    char limits[64];
    bool grouped = p->table->data.grouped;
    (void)snprintf(limits, sizeof limits, "limits %s %%",
                   plot_number_of(100 * p->table->confidence, 4).text);
    if (p->fit) {
        key[n++] = grouped ? (plot_key){PLOT_LINE, LOOK_LOOKS, "failed in between"}
                           : (plot_key){PLOT_POINT, LOOK_POINT, "failed (median ranks)"};
        key[n++] = (plot_key){PLOT_LINE, LOOK_FIT, "likelihood line"};
        key[n++] = (plot_key){PLOT_LINE, LOOK_BAND, limits};
        key[n++] = (plot_key){PLOT_POINT, LOOK_B10, "B10"};
    }
    if (p->fixed)
        key[n++] = (plot_key){PLOT_LINE, LOOK_FIXED, p->fit ? "assumed slope" : "lower limit"};
    if (p->running > 0)
        key[n++] = (plot_key){PLOT_TICK, LOOK_TICK, "still running"};
    plot_key_line(c, title, key, n);
}

static void below_text(const plot_canvas *c, const paper *p)
{
    trn_buffer text = {0};
    trn_buffer_add(&text, "age [h]");
    if (p->running > 0)
        trn_buffer_print(&text, " (%s still running, ticks)", plot_number_of(p->running, 6).text);
    plot_below(c, text.text ? text.text : "");
    c->out->failed = c->out->failed || text.failed;
    trn_buffer_free(&text);
}

static void b10_mark(const plot_canvas *c, const paper *p)
{
    double b10 = p->fit->line.b10_h;
    trn_buffer_add(c->out, "$B << END\n");
    plot_value(c->out, b10);
    plot_value(c->out, height_of(10));
    trn_buffer_add(c->out, "\nEND\nset arrow from ");
    plot_value(c->out, b10);
    trn_buffer_add(c->out, ", graph 0 to ");
    plot_value(c->out, b10);
    trn_buffer_add(c->out, ", ");
    plot_value(c->out, height_of(10));
    trn_buffer_print(c->out, "nohead front lw 1.2 dt (2,3) lc rgb '" PLOT_RED "'\n");
    if (b10 < p->range.low || b10 > p->range.high)
        return;
    trn_buffer text = {0};
    trn_buffer_print(&text, "B10 %s h", plot_life_of(b10).text);
    trn_buffer_add(c->out, "set label ");
    plot_quote(c->out, text.text ? text.text : "");
    trn_buffer_add(c->out, " at ");
    plot_value(c->out, b10);
    trn_buffer_add(c->out, ", ");
    plot_value(c->out, height_of(10));
    bool right = log(b10 / p->range.low) < 0.7 * log(p->range.high / p->range.low);
    trn_buffer_print(c->out, "%s noenhanced front offset %s,-0.9\n", right ? "left" : "right",
                     right ? "1.2" : "-1.2");
    c->out->failed = c->out->failed || text.failed;
    trn_buffer_free(&text);
}

static void draw(paper *p, const char *title, trn_buffer *out)
{
    plot_canvas c = {.out = out, .width = 800, .left = 84, .right = 776};
    c.top = plot_head_height(title, c.width);
    c.bottom = c.top + 460;
    c.height = c.bottom + 60;
    plot_begin(&c, title);
    plot_edges(&c);
    plot_hours_axis(&c, p->range, p->range.high, NULL, 0);
    share_axis(&c, p);
    trn_buffer_add(out, "set clip two\nset ylabel 'failed [%]' noenhanced\n");
    bool grouped = p->table->data.grouped;
    size_t marks = points(p, out);
    size_t ticks = survivors(p, out);
    keys(&c, p, title);
    below_text(&c, p);
    if (p->fit) {
        band(p, out);
        b10_mark(&c, p);
    }
    if (p->fixed) {
        trn_buffer_add(out, "$F << END\n");
        straight(p->fixed, p->fit ? p->fixed->line.eta_h : p->fixed->limits.eta_low_h, p, out);
        trn_buffer_add(out, "END\n");
    }
    const char *before = "plot ";
    if (p->fit) {
        trn_buffer_print(out, "%s$A using 1:2 with filledcurves closed " LOOK_FILL, before);
        before = ", \\\n ";
        trn_buffer_print(out, "%s$L using 3:1 with lines " LOOK_BAND, before);
        trn_buffer_print(out, "%s$L using 4:1 with lines " LOOK_BAND, before);
        trn_buffer_print(out, "%s$L using 2:1 with lines " LOOK_FIT, before);
    }
    if (p->fixed) {
        trn_buffer_print(out, "%s$F using 1:2 with lines " LOOK_FIXED, before);
        before = ", \\\n ";
    }
    if (ticks > 0) {
        trn_buffer_print(out, "%s$S using 1:2:(0):3 with vectors nohead " LOOK_TICK, before);
        before = ", \\\n ";
    }
    if (marks > 0)
        trn_buffer_print(out, "%s$P using 1:2 with %s", before,
                         grouped ? "lines " LOOK_LOOKS : "points " LOOK_POINT);
    if (p->fit)
        trn_buffer_print(out, "%s$B using 1:2 with points " LOOK_B10, before);
    trn_buffer_add(out, "\n");
}

trn_status trn_plot_weibull(const trn_lives_paper *of, trn_buffer *script, trn_buffer *finding)
{
    paper p = {.of = of, .table = of->table};
    p.fit = of->line_count > 0 ? line_named(of->table, "likelihood") : NULL;
    p.fixed = line_named(of->table, "weibayes");
    if (!p.fit && !p.fixed)
        return TRN_E_UNKNOWN;
    trn_buffer out = {0};
    trn_buffer title = {0};
    set_axes(&p);
    find(&p, &title);
    if (title.text)
        draw(&p, title.text, &out);
    return plot_hand_over(title.text ? TRN_OK : TRN_E_MEMORY, &out, &title, script, finding);
}
