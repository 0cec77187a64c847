/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plot: time by torque and speed, a box a cell of the histogram. */
#include <math.h>
#include <stdlib.h>
#include <trunnion/digest.h>

#include "plot_script.h"

typedef struct spread {
    double speed_low, speed_high, torque_low, torque_high; /* of the cells with time */
    double seconds, most;
    size_t top; /* cell with most time */
} spread;

static spread spread_of(const trn_digest_cell *cells, size_t n)
{
    spread s = {INFINITY, -INFINITY, INFINITY, -INFINITY, 0, 0, 0};
    for (size_t i = 0; i < n; i++) {
        s.speed_low = fmin(s.speed_low, cells[i].speed_from_rpm);
        s.speed_high = fmax(s.speed_high, cells[i].speed_to_rpm);
        s.torque_low = fmin(s.torque_low, cells[i].torque_from_nm);
        s.torque_high = fmax(s.torque_high, cells[i].torque_to_nm);
        s.seconds += cells[i].seconds;
        if (cells[i].seconds > s.most) {
            s.most = cells[i].seconds;
            s.top = i;
        }
    }
    return s;
}

static void find(const trn_digest_cell *cells, const spread *s, trn_buffer *title)
{
    const trn_digest_cell *c = &cells[s->top];
    trn_buffer_print(title, "most time (%s %%) at %s to %s rpm and %s to %s N.m",
                     plot_number_of(100 * c->seconds / s->seconds, 3).text,
                     plot_number_of(c->speed_from_rpm, 6).text,
                     plot_number_of(c->speed_to_rpm, 6).text,
                     plot_number_of(c->torque_from_nm, 6).text,
                     plot_number_of(c->torque_to_nm, 6).text);
    trn_buffer_print(title, "; %s h in all", plot_number_of(s->seconds / 3600, 3).text);
}

/* Columns: edges of the cell, share of the time in %. */
static void data(const trn_digest_cell *cells, size_t n, const spread *s, trn_buffer *out)
{
    trn_buffer_add(out, "$C << END\n");
    for (size_t i = 0; i < n; i++) {
        const trn_digest_cell *c = &cells[i];
        plot_value(out, 0.5 * (c->speed_from_rpm + c->speed_to_rpm));
        plot_value(out, 0.5 * (c->torque_from_nm + c->torque_to_nm));
        plot_value(out, c->speed_from_rpm);
        plot_value(out, c->speed_to_rpm);
        plot_value(out, c->torque_from_nm);
        plot_value(out, c->torque_to_nm);
        plot_value(out, 100 * c->seconds / s->seconds);
        trn_buffer_add(out, "\n");
    }
    trn_buffer_add(out, "END\n");
}

static void range(const char *which, double low, double high, trn_buffer *out)
{
    trn_buffer_print(out, "set %srange [", which);
    plot_value(out, low);
    trn_buffer_add(out, ":");
    plot_value(out, high);
    trn_buffer_add(out, "]\n");
}

static void draw(const trn_digest_cell *cells, size_t n, const spread *s, const char *title,
                 trn_buffer *out)
{
    static const plot_key keys[] = {{PLOT_BOX, "lc rgb '" PLOT_BLUE "' fs solid 1 noborder",
                                     "share of the time, darker is more (logarithmic)"}};
    plot_canvas c = {.out = out, .width = 800, .left = 90, .right = 680};
    c.top = plot_head_height(title, c.width);
    c.bottom = c.top + 380;
    c.height = c.bottom + 60;
    plot_begin(&c, title);
    plot_key_line(&c, title, keys, 1);
    plot_edges(&c);
    data(cells, n, s, out);
    plot_below(&c, "PTO speed [rpm]");
    trn_buffer_add(out, "set ylabel 'torque [N.m]' noenhanced\n");
    range("x", s->speed_low, s->speed_high, out);
    range("y", s->torque_low, s->torque_high, out);
    double share = 100 * s->most / s->seconds;
    trn_buffer_add(out, "set palette defined (0 '#E3EEF7', 1 '" PLOT_BLUE "', 2 '#002A45')\n"
                        "set logscale cb\nset format cb '%g'\n"
                        "set cblabel 'share of the time [%]' noenhanced\n");
    range("cb", fmin(share / 10, 0.01), share, out);
    trn_buffer_add(out, "plot $C using 1:2:3:4:5:6:7 with boxxyerror palette fs solid 1 border "
                        "lc rgb '#FFFFFF' notitle\n");
}

trn_status trn_plot_digest(const trn_digest *d, trn_buffer *script, trn_buffer *finding)
{
    trn_digest_cell *cells = NULL;
    size_t n = 0;
    trn_status status = trn_digest_histogram(d, &cells, &n);
    if (status == TRN_OK && n == 0)
        status = TRN_E_UNKNOWN;
    trn_buffer out = {0};
    trn_buffer title = {0};
    if (status == TRN_OK) {
        spread s = spread_of(cells, n);
        find(cells, &s, &title);
        if (title.text)
            draw(cells, n, &s, title.text, &out);
    }
    free(cells);
    return plot_hand_over(status, &out, &title, script, finding);
}
