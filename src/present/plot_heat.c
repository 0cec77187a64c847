/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plots: where the power is lost, and how the oil warms up. */
#include <math.h>
#include <stdlib.h>

#include "plot_script.h"

/* ---- losses ------------------------------------------------------------------------------- */

static const trn_heat_row *row_of(const trn_results *r, size_t condition, size_t gearbox)
{
    return &r->heat[condition * r->machine->gearboxes_count + gearbox];
}

/* The churning laws are not known to better than their band, so the rest goes below. */
static double without_churning(const trn_heat_row *h)
{
    return h->mesh_w + h->bearings_w + h->seals_w;
}

static bool has_losses(const trn_heat_row *h)
{
    return isfinite(without_churning(h) + h->churning_w);
}

static void lost(const trn_heat_row *h, trn_buffer *out)
{
    trn_buffer_print(out, "%s W of %s kW", plot_number_of(h->loss_w, 3).text,
                     plot_number_of(h->power_kw, 3).text);
}

static void find_losses(const trn_results *r, size_t condition, size_t most, trn_buffer *title)
{
    static const char *const where[] = {"in the mesh", "in the bearings", "at the seals",
                                        "in churning"};
    const trn_heat_row *h = row_of(r, condition, most);
    double parts[] = {h->mesh_w, h->bearings_w, h->seals_w, h->churning_w};
    size_t largest = 0;
    for (size_t i = 1; i < 4; i++)
        if (parts[i] > parts[largest])
            largest = i;
    trn_buffer_print(title, "%s loses %s", plot_name_of(r->machine->gearboxes[most].gearbox).text,
                     r->machine->gearboxes_count > 1 ? "most: " : "");
    lost(h, title);
    if (h->loss_w > 0)
        trn_buffer_print(title, ", %s %% of it %s",
                         plot_number_of(100 * parts[largest] / h->loss_w, 2).text,
                         where[largest]);
    plot_add_condition(r, condition, title);
}

static void loss_text(const trn_heat_row *h, trn_buffer *out)
{
    if (!has_losses(h)) {
        trn_buffer_add(out, "not known");
        return;
    }
    lost(h, out);
    if (isfinite(h->oil_temperature_c))
        trn_buffer_print(out, ", %s degC", plot_number_of(h->oil_temperature_c, 2).text);
}

static double loss_data(const trn_results *r, size_t condition, trn_buffer *out)
{
    double reach = 0;
    trn_buffer_add(out, "$L << END\n");
    for (size_t g = 0; g < r->machine->gearboxes_count; g++) {
        const trn_heat_row *h = row_of(r, condition, g);
        double base = without_churning(h);
        double columns[] = {(double)g + 0.5,
                            h->mesh_w,
                            h->mesh_w + h->bearings_w,
                            base,
                            base + h->churning_w,
                            base + h->churning_low_w,
                            base + h->churning_high_w};
        for (size_t i = 0; i < sizeof columns / sizeof columns[0]; i++) {
            plot_value(out, columns[i]);
            if (i > 0 && isfinite(columns[i]))
                reach = fmax(reach, columns[i]);
        }
        trn_buffer_add(out, "\n");
    }
    trn_buffer_add(out, "END\n");
    return reach;
}

static const plot_key loss_key[] = {
    {PLOT_BOX, "fs solid 1 border rgb 'black' fc rgb '" PLOT_BLUE "'", "mesh"},
    {PLOT_BOX, "fs pattern 4 border rgb 'black' fc rgb '" PLOT_RED "'", "bearings"},
    {PLOT_BOX, "fs solid 1 border rgb 'black' fc rgb '" PLOT_YELLOW "'", "seals"},
    {PLOT_BOX, "fs pattern 1 border rgb 'black' fc rgb '" PLOT_BLACK "'", "churning"},
    {PLOT_SPAN, "lw 1.6 lc rgb '" PLOT_BLACK "'", "span of the churning laws"},
};

static void draw_losses(const trn_results *r, size_t condition, const char *title,
                        trn_buffer *out)
{
    size_t n = r->machine->gearboxes_count;
    plot_rows rows = {.n = n, .pitch = n > 8 ? 26 : 38, .text_columns = 28};
    for (size_t g = 0; g < n; g++) {
        plot_name name = plot_name_of(r->machine->gearboxes[g].gearbox);
        rows.name_columns = name.columns > rows.name_columns ? name.columns : rows.name_columns;
    }
    plot_canvas c = plot_rows_canvas(&rows, title, out);
    plot_rows_begin(&c, &rows, title, loss_key, sizeof loss_key / sizeof loss_key[0]);
    for (size_t g = 0; g < n; g++) {
        trn_buffer text = {0};
        loss_text(row_of(r, condition, g), &text);
        plot_row(&c, &rows, g, plot_name_of(r->machine->gearboxes[g].gearbox).text,
                 text.text ? text.text : "");
        trn_buffer_free(&text);
    }
    plot_below(&c, "power lost [W]");
    double reach = loss_data(r, condition, out);
    trn_buffer_add(out, "set xrange [0:");
    plot_value(out, reach > 0 ? 1.04 * reach : 1);
    trn_buffer_add(out,
                   "]\nset xtics autofreq\n"
                   "set style fill solid 1 border rgb 'black'\nset errorbars large\n"
                   "plot $L using 2:1:(0):2:($1-0.3):($1+0.3) with boxxyerror lw 0.8 "
                   "lc rgb '" PLOT_BLUE "' fs solid 1, \\\n"
                   " '' using 3:1:2:3:($1-0.3):($1+0.3) with boxxyerror lw 0.8 "
                   "lc rgb '" PLOT_RED "' fs pattern 4, \\\n"
                   " '' using 4:1:3:4:($1-0.3):($1+0.3) with boxxyerror lw 0.8 "
                   "lc rgb '" PLOT_YELLOW "' fs solid 1, \\\n"
                   " '' using 5:1:4:5:($1-0.3):($1+0.3) with boxxyerror lw 0.8 "
                   "lc rgb '" PLOT_BLACK "' fs pattern 1, \\\n"
                   " '' using 5:1:6:7 with xerrorbars pt 7 ps 0.5 lw 1.6 lc rgb '" PLOT_BLACK
                   "'\n");
}

trn_status trn_plot_losses(const trn_results *results, size_t condition, trn_buffer *script,
                           trn_buffer *finding)
{
    size_t most = TRN_NONE;
    if (condition < results->machine->duty_count)
        for (size_t g = 0; g < results->machine->gearboxes_count; g++)
            if (has_losses(row_of(results, condition, g)) &&
                (most == TRN_NONE || row_of(results, condition, g)->loss_w >
                                         row_of(results, condition, most)->loss_w))
                most = g;
    if (most == TRN_NONE)
        return TRN_E_UNKNOWN;
    trn_buffer out = {0};
    trn_buffer title = {0};
    find_losses(results, condition, most, &title);
    if (title.text)
        draw_losses(results, condition, title.text, &out);
    return plot_hand_over(TRN_OK, &out, &title, script, finding);
}

/* ---- warm-up ------------------------------------------------------------------------------ */

enum { LINES_MAX = 64 };

typedef struct lines {
    size_t n;
    const trn_warmup_row *at[LINES_MAX]; /* TRN_WARMUP_POINTS of each */
} lines;

static double end_of(const trn_warmup_row *line)
{
    return line[TRN_WARMUP_POINTS - 1].oil_temperature_c;
}

/* Hottest first, so that the key reads in the order of the lines. */
static void collect_lines(const trn_extras *x, size_t condition, lines *l)
{
    for (size_t i = 0; i + TRN_WARMUP_POINTS <= x->warmup_count; i += TRN_WARMUP_POINTS) {
        if (x->warmup[i].condition != condition || l->n == LINES_MAX)
            continue;
        size_t k = l->n++;
        for (; k > 0 && end_of(l->at[k - 1]) < end_of(&x->warmup[i]); k--)
            l->at[k] = l->at[k - 1];
        l->at[k] = &x->warmup[i];
    }
}

static void find_warmup(const trn_results *r, size_t condition, const lines *l,
                        trn_buffer *title)
{
    const trn_warmup_row *line = l->at[0];
    double start = line[0].oil_temperature_c;
    double rise = end_of(line) - start;
    size_t k = 0;
    while (k + 1 < TRN_WARMUP_POINTS &&
           line[k].oil_temperature_c - start < (1 - exp(-1)) * rise)
        k++;
    trn_buffer_print(title, "%s %s: %s degC after 8 h",
                     plot_name_of(r->machine->gearboxes[line->gearbox].gearbox).text,
                     l->n > 1 ? "gets hottest" : "warms up",
                     plot_number_of(end_of(line), 2).text);
    if (rise > 0)
        trn_buffer_print(title, ", 63 %% of the rise after %s min",
                         plot_number_of(line[k].time_min, 2).text);
    plot_add_condition(r, condition, title);
}

static void warmup_data(const lines *l, trn_buffer *out)
{
    trn_buffer_add(out, "$W << END\n");
    for (size_t k = 0; k < TRN_WARMUP_POINTS; k++) {
        plot_value(out, l->at[0][k].time_min);
        for (size_t i = 0; i < l->n; i++)
            plot_value(out, l->at[i][k].oil_temperature_c);
        trn_buffer_add(out, "\n");
    }
    trn_buffer_add(out, "END\n");
}

static void draw_warmup(const trn_results *r, const lines *l, const char *title, trn_buffer *out)
{
    static const char *const colours[] = {PLOT_RED,    PLOT_BLUE, PLOT_GREEN, PLOT_PURPLE,
                                          PLOT_ORANGE, PLOT_SKY,  PLOT_BLACK};
    static const char *const dashes[] = {"1", "(10,4)", "(3,3)", "(12,4,3,4)", "(6,3,2,3,2,3)"};
    static const int marks[] = {7, 4, 9, 12, 5, 6, 11, 8};
    size_t widest = 0;
    for (size_t i = 0; i < l->n; i++) {
        plot_name name = plot_name_of(r->machine->gearboxes[l->at[i]->gearbox].gearbox);
        widest = name.columns > widest ? name.columns : widest;
    }
    plot_canvas c = {.out = out, .width = 800, .left = 70};
    c.top = plot_head_height(title, c.width) - 16;
    c.right = c.width - plot_text_width(widest) - 70;
    c.bottom = c.top + (l->n > 14 ? 18 * (int)l->n : 300);
    c.height = c.bottom + 54;
    plot_begin(&c, title);
    plot_edges(&c);
    plot_below(&c, "time from cold [min]");
    warmup_data(l, out);
    trn_buffer_print(out,
                     "set key at screen %d./%d, screen %d./%d left top Left reverse vertical "
                     "maxcols 1 samplen 3 spacing 1.25 noenhanced\n"
                     "set xrange [0:480]\nset xtics 0,60\n\n"
                     "set ylabel 'oil temperature [degC]'\nset ytics autofreq\nplot ",
                     c.right + 8, c.width, c.height - c.top, c.height);
    for (size_t i = 0; i < l->n; i++) {
        char style[64];
        (void)snprintf(style, sizeof style, "pt %d ps 0.8 lc rgb '%s'", marks[i % 8],
                       colours[i % 7]);
        /* marks are staggered, so that those of lines that lie on each other are all seen */
        trn_buffer_print(out,
                         "%s$W using 1:%zu with lines lw 2 dt %s lc rgb '%s' notitle, \\\n"
                         " $W using 1:%zu every 60::%zu with points %s notitle, \\\n"
                         " NaN with linespoints lw 2 dt %s %s title ",
                         i ? ", \\\n " : "", i + 2, dashes[i % 5], colours[i % 7], i + 2,
                         60 * i / l->n, style, dashes[i % 5], style);
        plot_quote(out, plot_name_of(r->machine->gearboxes[l->at[i]->gearbox].gearbox).text);
    }
    trn_buffer_add(out, "\n");
}

trn_status trn_plot_warmup(const trn_results *results, size_t condition, trn_buffer *script,
                           trn_buffer *finding)
{
    lines l = {.n = 0};
    if (results->extras && condition < results->machine->duty_count)
        collect_lines(results->extras, condition, &l);
    if (l.n == 0)
        return TRN_E_UNKNOWN;
    trn_buffer out = {0};
    trn_buffer title = {0};
    find_warmup(results, condition, &l, &title);
    if (title.text)
        draw_warmup(results, &l, title.text, &out);
    return plot_hand_over(TRN_OK, &out, &title, script, finding);
}
