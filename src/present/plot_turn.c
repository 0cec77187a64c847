/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plot: speed over one turn. */
#include <math.h>

#include "plot_script.h"

enum { TURN_POINTS = 361, PANELS = 8, SIDE = 78, GAP = 24, PANEL_HEAD = 40, PANEL = 112 };

typedef struct panel {
    size_t shaft;
    const trn_turn_row *turn; /* TURN_POINTS of them */
    double mean_rpm, swing_pct, reach; /* reach: largest deviation over mean */
} panel;

typedef struct sheet {
    panel list[PANELS];
    size_t n;
    double span; /* of every panel, over its mean */
} sheet;

static const trn_turn_row *turn_of(const trn_results *r, size_t condition, size_t shaft)
{
    const trn_extras *x = r->extras;
    for (size_t i = 0; i + TURN_POINTS <= x->turns_count; i += TURN_POINTS)
        if (x->turns[i].condition == condition && x->turns[i].shaft == shaft)
            return &x->turns[i];
    return NULL;
}

static double deviation(double speed, double mean)
{
    return isfinite(speed) ? fabs(speed / mean - 1) : 0;
}

static panel panel_of(const trn_results *r, size_t condition, size_t shaft,
                      const trn_turn_row *turn)
{
    const trn_joint_row *row = trn_results_joint(r, condition, shaft);
    panel p = {shaft, turn, row->speed_rpm, row->fluctuation_pct, 0};
    double least = INFINITY;
    double most = 0;
    for (size_t i = 0; i < TURN_POINTS; i++) {
        p.reach = fmax(p.reach, deviation(turn[i].at.out_speed_rpm, p.mean_rpm));
        p.reach = fmax(p.reach, deviation(turn[i].at.tube_speed_rpm, p.mean_rpm));
        least = fmin(least, turn[i].at.out_speed_rpm);
        most = fmax(most, turn[i].at.out_speed_rpm);
    }
    if (!isfinite(p.swing_pct))
        p.swing_pct = 100 * (most - least) / p.mean_rpm;
    return p;
}

static void collect(const trn_results *r, size_t condition, size_t part, sheet *s)
{
    size_t known = 0;
    s->span = 0.01;
    for (size_t i = 0; i < r->machine->shafts_count; i++) {
        const trn_turn_row *turn = turn_of(r, condition, i);
        if (!turn || !(trn_results_joint(r, condition, i)->speed_rpm > 0))
            continue;
        panel p = panel_of(r, condition, i, turn);
        s->span = fmax(s->span, 1.15 * p.reach);
        if (known / PANELS == part)
            s->list[s->n++] = p;
        known++;
    }
}

static void find(const trn_results *r, size_t condition, const sheet *s, trn_buffer *title)
{
    const panel *most = &s->list[0];
    for (size_t i = 1; i < s->n; i++)
        if (s->list[i].swing_pct > most->swing_pct)
            most = &s->list[i];
    trn_buffer_print(title, "%s%s: output swings %s %% at %s rpm",
                     plot_name_of(r->machine->shafts[most->shaft].shaft).text,
                     s->n > 1 ? " runs least evenly" : "", plot_number_of(most->swing_pct, 2).text,
                     plot_number_of(most->mean_rpm, 3).text);
    plot_add_condition(r, condition, title);
}

static void data(const sheet *s, trn_buffer *out)
{
    for (size_t i = 0; i < s->n; i++) {
        trn_buffer_print(out, "$S%zu << END\n", i);
        for (size_t k = 0; k < TURN_POINTS; k++) {
            plot_value(out, s->list[i].turn[k].turn_deg);
            plot_value(out, s->list[i].turn[k].at.tube_speed_rpm);
            plot_value(out, s->list[i].turn[k].at.out_speed_rpm);
            trn_buffer_add(out, "\n");
        }
        trn_buffer_add(out, "END\n");
    }
}

static void curves(const sheet *s, const panel *p, size_t i, bool one_joint, trn_buffer *out)
{
    trn_buffer_add(out, "set yrange [");
    plot_value(out, p->mean_rpm * (1 - s->span));
    trn_buffer_add(out, ":");
    plot_value(out, p->mean_rpm * (1 + s->span));
    trn_buffer_add(out, "]\nset ytics ");
    plot_value(out, plot_step_above(2 * s->span * p->mean_rpm / 5));
    trn_buffer_print(out, "\nplot $S%zu using 1:3 with lines lw 2.4 dt 1 lc rgb '" PLOT_RED
                          "'", i);
    /* one joint: the tube is the driven axis */
    if (!one_joint)
        trn_buffer_print(out, ", $S%zu using 1:2 with lines lw 2 dt (8,5) lc rgb '" PLOT_BLUE
                              "'", i);
    trn_buffer_add(out, "\n");
}

static const plot_key keys[] = {
    {PLOT_LINE, "lw 2.4 dt 1 lc rgb '" PLOT_RED "'", "output"},
    {PLOT_LINE, "lw 2 dt (8,5) lc rgb '" PLOT_BLUE "'", "tube (with one joint it is the output)"},
    {PLOT_LINE, NULL, "one relative scale for all"},
};

static void draw(const trn_results *r, const sheet *s, plot_canvas c, size_t columns)
{
    int width = (c.width - GAP - (int)columns * SIDE) / (int)columns;
    for (size_t i = 0; i < s->n; i++) {
        const panel *p = &s->list[i];
        const trn_shaft *shaft = &r->machine->shafts[p->shaft];
        bool lowest = i + columns >= s->n;
        plot_canvas at = c;
        at.left = SIDE + (int)(i % columns) * (width + SIDE);
        at.right = at.left + width - 8;
        at.top = c.top + (int)(i / columns) * (PANEL_HEAD + PANEL) + PANEL_HEAD;
        at.bottom = at.top + PANEL - 12;
        plot_edges(&at);
        if (i > 0)
            trn_buffer_add(c.out, "unset label\nunset arrow\n");
        trn_buffer words = {0};
        trn_buffer_print(&words, "output swings %s %% at %s rpm",
                         plot_number_of(p->swing_pct, 2).text,
                         plot_number_of(p->mean_rpm, 3).text);
        plot_label(&at, at.left, at.top - 25, "left", plot_name_of(shaft->shaft).text);
        plot_label_small(&at, at.left, at.top - 10, "left", words.text ? words.text : "");
        c.out->failed = c.out->failed || words.failed;
        trn_buffer_free(&words);
        plot_label_small(&at, at.left - 60, (at.top + at.bottom) / 2, "center rotate",
                         "speed [rpm]");
        trn_buffer_add(c.out, lowest ? "set format x '%.0f'\n" : "set format x ''\n");
        if (lowest)
            plot_below(&at, "turn of the driving axis [deg]");
        curves(s, p, i, shaft->kind == TRN_ONE_JOINT, c.out);
    }
}

trn_status trn_plot_turn(const trn_results *results, size_t condition, size_t part,
                         trn_buffer *script, trn_buffer *finding)
{
    sheet s = {.n = 0};
    if (results->extras && condition < results->machine->duty_count)
        collect(results, condition, part, &s);
    if (s.n == 0)
        return TRN_E_UNKNOWN;
    trn_buffer out = {0};
    trn_buffer title = {0};
    find(results, condition, &s, &title);
    size_t columns = s.n > 3 ? 2 : 1;
    size_t rows = (s.n + columns - 1) / columns;
    plot_canvas c = {.out = &out, .width = 800};
    if (title.text) {
        c.top = plot_head_height(title.text, c.width);
        c.height = c.top + (int)rows * (PANEL_HEAD + PANEL) + 40;
        plot_begin(&c, title.text);
        plot_key_line(&c, title.text, keys, s.n > 1 ? 3 : 2);
        data(&s, &out);
        trn_buffer_add(&out, "set multiplot\nset xrange [0:360]\nset xtics 0,90\n");
        draw(results, &s, c, columns);
        trn_buffer_add(&out, "unset multiplot\n");
    }
    return plot_hand_over(TRN_OK, &out, &title, script, finding);
}
