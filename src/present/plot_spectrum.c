/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plot: rainflow ranges above, torque levels below, each with the damage that goes with it. */
#include <math.h>
#include <string.h>
#include <trunnion/spectrum.h>

#include "plot_script.h"

enum { WIDTH = 800, LEFT = 90, RIGHT = 776, PANEL = 250, BETWEEN = 84, KEY = 26 };

#define LOOK_COUNT "fc rgb '#BFD3E2' fs solid border lc rgb '" PLOT_BLUE "'"
#define LOOK_SWING "lw 2.2 lc rgb '" PLOT_BLACK "'"
#define LOOK_ROLLER "lw 2 dt (9,4) lc rgb '" PLOT_RED "'"
#define LOOK_BENDING "lw 2.2 lc rgb '" PLOT_BLACK "'"

/* ---- finding ------------------------------------------------------------------------------ */

/* The highest levels that together do half of the bending damage. */
static void find(const trn_spectrum *s, trn_buffer *title)
{
    const trn_spectrum_level *top = NULL;
    double bending = 0, roller = 0, part = 0;
    for (size_t i = s->level_count; i-- > 0 && bending < 50;) {
        const trn_spectrum_level *l = &s->levels[i];
        if (isnan(l->bending_pct))
            break;
        bending += l->bending_pct;
        roller += l->roller_pct;
        part += s->turning ? l->revolutions_pct : l->time_pct;
        top = l;
    }
    if (!top)
        trn_buffer_print(title, "torque from %s to %s N.m, none of it on the driving flank",
                         plot_number_of(s->least_nm, 3).text, plot_number_of(s->most_nm, 3).text);
    else
        trn_buffer_print(title,
                         "torque from %s N.m up is %s %% of the %s and does %s %% of the damage to "
                         "tooth roots, %s %% of that to roller bearings",
                         plot_number_of(top->from_nm, 4).text, plot_number_of(part, 2).text,
                         s->turning ? "revolutions" : "time", plot_number_of(bending, 2).text,
                         plot_number_of(roller, 2).text);
    if (s->cycle_count == 0)
        return;
    double most = s->cycles[s->cycle_count - 1].range_nm;
    double large = 0, damage = 0;
    for (size_t i = 0; i < s->cycle_count; i++)
        if (s->cycles[i].range_nm >= most / 2) {
            large += s->cycles[i].count;
            damage += s->cycles[i].damage_pct;
        }
    trn_buffer_print(title, "; the %s largest of %s swings do %s %% of that to shafts",
                     plot_number_of(large, 4).text, plot_number_of(s->cycles_sum, 4).text,
                     plot_number_of(damage, 2).text);
}

/* ---- data --------------------------------------------------------------------------------- */

static void row(trn_buffer *out, const double *value, size_t n)
{
    for (size_t i = 0; i < n; i++)
        plot_value(out, value[i]);
    trn_buffer_add(out, "\n");
}

/* from, to, count, damage of every bin; without bins a narrow one about each range */
static double cycle_data(const trn_spectrum *s, trn_buffer *out)
{
    double end = s->cycle_count > 0 ? s->cycles[s->cycle_count - 1].range_nm * 1.04 : 1;
    trn_buffer_add(out, "$C << END\n");
    for (size_t i = 0; i < s->bin_count; i++) {
        const trn_spectrum_bin *b = &s->bins[i];
        if (b->count > 0)
            row(out, (double[]){b->from_nm, b->to_nm, b->count, b->damage_pct}, 4);
        end = fmax(end, b->to_nm);
    }
    for (size_t i = 0; i < s->cycle_count && s->bin_count == 0;) {
        double from = s->cycles[i].range_nm;
        double count = 0, damage = 0;
        for (; i < s->cycle_count && s->cycles[i].range_nm <= from + 1e-9 * end; i++) {
            count += s->cycles[i].count;
            damage += s->cycles[i].damage_pct;
        }
        row(out, (double[]){from - end / 160, from + end / 160, count, damage}, 4);
    }
    trn_buffer_add(out, "END\n");
    return end;
}

static void level_data(const trn_spectrum *s, trn_buffer *out)
{
    trn_buffer_add(out, "$V << END\n");
    for (size_t i = 0; i < s->level_count; i++) {
        const trn_spectrum_level *l = &s->levels[i];
        row(out,
            (double[]){l->from_nm, l->to_nm, s->turning ? l->revolutions_pct : l->time_pct,
                       l->roller_pct, l->bending_pct},
            5);
    }
    trn_buffer_add(out, "END\n");
}

/* ---- panels ------------------------------------------------------------------------------- */

static void name_axes(const plot_canvas *c, const char *above, const char *below,
                      const char *beside)
{
    plot_label(c, LEFT, c->top - 34, "left", above);
    plot_below(c, below);
    trn_buffer_add(c->out, "set ylabel ");
    plot_quote(c->out, beside);
    trn_buffer_add(c->out, " noenhanced\n");
}

/* A key inside the head of a panel. */
static void panel_key(const plot_canvas *c, const plot_key *keys, size_t n)
{
    int x = LEFT;
    int y = c->top - 14;
    for (size_t i = 0; i < n; i++) {
        trn_buffer_print(c->out,
                         keys[i].swatch == PLOT_BOX
                             ? "set object rectangle from screen %d./%d, screen %d./%d to screen "
                               "%d./%d, screen %d./%d front %s\n"
                             : "set arrow from screen %d./%d, screen %d./%d to screen %d./%d, "
                               "screen %d./%d nohead front %s\n",
                         x, c->width, c->height - y - (keys[i].swatch == PLOT_BOX ? 6 : 0),
                         c->height, x + 26, c->width,
                         c->height - y + (keys[i].swatch == PLOT_BOX ? 6 : 0), c->height,
                         keys[i].style);
        plot_label(c, x + 34, y, "left", keys[i].text);
        x += 34 + plot_text_width(strlen(keys[i].text)) + 14;
    }
}

static void range_of(const char *axis, double low, double high, trn_buffer *out)
{
    trn_buffer_print(out, "set %srange [", axis);
    plot_value(out, low);
    trn_buffer_add(out, ":");
    plot_value(out, high);
    trn_buffer_add(out, "]\n");
}

static void clear_panel(trn_buffer *out)
{
    trn_buffer_add(out, "unset label\nunset arrow\nunset object\n");
}

static void cycle_panel(const plot_canvas *c, const trn_spectrum *s, double end)
{
    static const plot_key keys[] = {
        {PLOT_BOX, LOOK_COUNT, "share of the cycles"},
        {PLOT_LINE, LOOK_SWING, "share of the damage to shafts and yokes"},
    };
    char above[120];
    if (s->cycle_count == 0) {
        plot_label(c, LEFT, c->top + PANEL / 2, "left", "the torque never turns: no cycles");
        trn_buffer_add(c->out, "set border 0\nunset tics\nplot [0:1] [0:1] NaN\nset border 3\n"
                               "set tics nomirror out scale 0.6\nset xtics offset 0,0.5\n");
        return;
    }
    (void)snprintf(above, sizeof above, "shafts, yokes: rainflow cycles, %s of them, slope %s",
                   plot_number_of(s->cycles_sum, 5).text,
                   plot_number_of(s->settings.slope, 4).text);
    name_axes(c, above, "range [N.m]", "share [%]");
    panel_key(c, keys, 2);
    plot_edges(c);
    range_of("x", 0, end, c->out);
    trn_buffer_add(c->out, "set yrange [0:*]\n");
    trn_buffer_print(c->out,
                     "plot $C using 1:(100*$3/%.12g):1:2:(0):(100*$3/%.12g) with boxxyerror " LOOK_COUNT
                     ", $C using 1:4:($2-$1):(0) with vectors nohead " LOOK_SWING "\n",
                     s->cycles_sum, s->cycles_sum);
}

static void level_panel(const plot_canvas *c, const trn_spectrum *s)
{
    plot_key keys[] = {
        {PLOT_BOX, LOOK_COUNT, s->turning ? "share of the revolutions" : "share of the time"},
        {PLOT_LINE, LOOK_ROLLER, "of the damage to roller bearings"},
        {PLOT_LINE, LOOK_BENDING, "to tooth roots"},
    };
    double low = s->levels[0].from_nm;
    double high = s->levels[s->level_count - 1].to_nm;
    name_axes(c, s->turning ? "bearings, teeth: revolutions at torque level"
                            : "bearings, teeth: time at torque level",
              "torque [N.m]", "share [%]");
    panel_key(c, keys, 3);
    plot_edges(c);
    range_of("x", fmin(low, 0), high, c->out);
    trn_buffer_add(c->out, "set yrange [0:*]\n"
                           "plot $V using 1:3:1:2:(0):3 with boxxyerror " LOOK_COUNT
                           ", $V using 1:4:($2-$1):(0) with vectors nohead " LOOK_ROLLER
                           ", $V using 1:5:($2-$1):(0) with vectors nohead " LOOK_BENDING "\n");
}

trn_status trn_plot_spectrum(const trn_spectrum *s, trn_buffer *script, trn_buffer *finding)
{
    trn_buffer out = {0};
    trn_buffer title = {0};
    find(s, &title);
    const char *said = title.text ? title.text : "";
    plot_canvas c = {.out = &out, .width = WIDTH, .left = LEFT, .right = RIGHT};
    int first = plot_head_height(said, WIDTH) + KEY;
    c.height = first + 2 * PANEL + BETWEEN + 60 + KEY;
    c.top = first;
    c.bottom = first + PANEL;
    plot_begin(&c, said);
    double end = cycle_data(s, &out);
    level_data(s, &out);
    trn_buffer_add(&out, "set multiplot\n");
    cycle_panel(&c, s, end);
    clear_panel(&out);
    c.top = c.bottom + BETWEEN + KEY;
    c.bottom = c.top + PANEL;
    level_panel(&c, s);
    trn_buffer_add(&out, "unset multiplot\n");
    return plot_hand_over(title.text ? TRN_OK : TRN_E_MEMORY, &out, &title, script, finding);
}
