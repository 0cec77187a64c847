/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plot: lives of the bearings over the duty. */
#include <math.h>
#include <stdlib.h>

#include "plot_script.h"

/* Longer lives are not told apart for people. */
static const double longest_h = 100000;

typedef struct life {
    size_t bearing, gearbox;
    double l10h_h, lnmh_h, low_h, high_h; /* low, high: 10 and 90 % of the draws, NaN */
    double governs; /* lnmh, without it l10h; NaN where neither is known */
    double group;   /* shortest of its gearbox; inf where none is known */
} life;

static int before(double a, double b)
{
    if (isnan(a) || isnan(b))
        return isnan(a) - isnan(b);
    return (a > b) - (a < b);
}

static int by_life(const void *a, const void *b)
{
    const life *p = a;
    const life *q = b;
    int order = before(p->group, q->group);
    if (order == 0)
        order = (p->gearbox > q->gearbox) - (p->gearbox < q->gearbox);
    if (order == 0)
        order = before(p->governs, q->governs);
    return order ? order : (p->bearing > q->bearing) - (p->bearing < q->bearing);
}

static life *collect(const trn_results *r)
{
    const trn_machine *m = r->machine;
    life *list = calloc(m->bearings_count + 1, sizeof *list);
    if (!list)
        return NULL;
    for (size_t i = 0; i < m->bearings_count; i++) {
        const trn_bearing_row *row = &r->bearings[m->duty_count * m->bearings_count + i];
        list[i] = (life){.bearing = i,
                         .gearbox = m->axles[m->bearings[i].axle_index].gearbox_index,
                         .l10h_h = row->l10h_h,
                         .lnmh_h = row->lnmh_h,
                         .low_h = r->draws ? row->lnmh_low_h : NAN,
                         .high_h = r->draws ? row->lnmh_high_h : NAN,
                         .group = INFINITY};
        list[i].governs = isnan(row->lnmh_h) ? row->l10h_h : row->lnmh_h;
    }
    for (size_t i = 0; i < m->bearings_count; i++)
        for (size_t k = 0; k < m->bearings_count; k++)
            if (list[k].gearbox == list[i].gearbox)
                list[i].group = fmin(list[i].group, list[k].governs);
    qsort(list, m->bearings_count, sizeof *list, by_life);
    return list;
}

/* The weakest is the first of the list. */
static void find(const trn_results *r, const life *list, trn_buffer *title)
{
    const trn_machine *m = r->machine;
    size_t known = 0;
    size_t reach = 0;
    for (size_t i = 0; i < m->bearings_count; i++) {
        known += isnan(list[i].governs) ? 0 : 1;
        reach += list[i].governs >= m->head.design_life;
    }
    plot_number design = plot_number_of(m->head.design_life, 4);
    if (reach == known)
        trn_buffer_print(title, "%s %zu bearings%s reach the design life of %s h",
                         known == m->bearings_count ? "all" : "the", known,
                         known == m->bearings_count ? "" : " whose life is known", design.text);
    else
        trn_buffer_print(title, "%zu of %zu bearings %s short of the design life of %s h",
                         known - reach, known, known - reach == 1 ? "falls" : "fall",
                         design.text);
    plot_name bearing = plot_name_of(m->bearings[list[0].bearing].bearing);
    plot_name gearbox = plot_name_of(m->gearboxes[list[0].gearbox].gearbox);
    trn_buffer_print(title, "; %s of %s is the weakest with %s h", bearing.text, gearbox.text,
                     plot_life_of(list[0].governs).text);
    if (known < m->bearings_count)
        trn_buffer_print(title, "; %zu not known", m->bearings_count - known);
}

static bool positive(double x)
{
    return isfinite(x) && x > 0;
}

static plot_hours range_of(const life *list, size_t n, double design, bool *beyond)
{
    double least = design;
    double most = design;
    *beyond = false;
    for (size_t i = 0; i < n; i++) {
        double lives[] = {list[i].l10h_h, list[i].lnmh_h};
        for (size_t k = 0; k < 2; k++) {
            *beyond = *beyond || lives[k] > longest_h;
            if (positive(lives[k]) && lives[k] <= longest_h) {
                least = fmin(least, lives[k]);
                most = fmax(most, lives[k]);
            }
        }
        if (list[i].lnmh_h <= longest_h && positive(list[i].low_h)) {
            least = fmin(least, list[i].low_h);
            most = fmax(most, fmin(list[i].high_h, longest_h));
        }
    }
    if (!*beyond && most <= longest_h)
        return plot_hours_of(least, most);
    plot_hours range = plot_hours_of(least, fmax(longest_h, most));
    range.high *= 2.5; /* room for those beyond */
    return range;
}

/* Ends of a band stay on the axis. */
static double end_of(double hours, plot_hours range)
{
    return positive(hours) ? fmin(fmax(hours, range.low), fmin(range.high, 2.2 * longest_h)) : NAN;
}

/* Columns: y, L10h, Lnmh, ends of its band; those beyond the axis side by side behind its end. */
static void data(const life *list, const size_t *row, size_t n, plot_hours range,
                 trn_buffer *out)
{
    trn_buffer_add(out, "$B << END\n");
    for (size_t i = 0; i < n; i++) {
        plot_value(out, (double)row[i] + 0.5);
        plot_value(out, list[i].l10h_h > longest_h ? 1.45 * longest_h
                        : positive(list[i].l10h_h) ? list[i].l10h_h
                                                   : NAN);
        plot_value(out, list[i].lnmh_h > longest_h ? 1.9 * longest_h
                        : positive(list[i].lnmh_h) ? list[i].lnmh_h
                                                   : NAN);
        bool both = list[i].lnmh_h <= longest_h && list[i].high_h >= list[i].low_h;
        plot_value(out, both ? end_of(list[i].low_h, range) : NAN);
        plot_value(out, both ? end_of(list[i].high_h, range) : NAN);
        trn_buffer_add(out, "\n");
    }
    trn_buffer_add(out, "END\n");
}

static void marks(double design, bool beyond, bool drawn, trn_buffer *out)
{
    trn_buffer_add(out, "$D << END\n");
    plot_value(out, design);
    trn_buffer_add(out, "0\n");
    plot_value(out, design);
    trn_buffer_print(out, "1000\nEND\n");
    if (beyond)
        trn_buffer_add(out, "set arrow from 1e5, graph 0 to 1e5, graph 1 nohead lw 1 dt (2,4) "
                            "lc rgb '" PLOT_GREY "'\n");
    trn_buffer_add(
        out, "plot $D using 1:2 with lines lw 2 dt (9,5) lc rgb '" PLOT_BLACK
             "', \\\n"
             " $B using 2:1:($3-$2):(0) with vectors nohead lw 1.4 lc rgb '" PLOT_GREY
             "', \\\n");
    if (drawn)
        trn_buffer_add(out, " $B using 4:1:4:5 with xerrorbars pt 0 lw 1.2 lc rgb '" PLOT_BLACK
                            "', \\\n");
    trn_buffer_add(
        out,
             " $B using 2:1 with points pt 6 ps 1 lw 1.6 lc rgb '" PLOT_BLUE
             "', \\\n"
             " $B using 3:1 with points pt 13 ps 1.1 lc rgb '" PLOT_RED
             "'\n");
}

static const plot_key keys[] = {
    {PLOT_LINE, "lw 2 dt (9,5) lc rgb '" PLOT_BLACK "'", "design life"},
    {PLOT_POINT, "pt 6 ps 1 lw 1.6 lc rgb '" PLOT_BLUE "'", "L10h"},
    {PLOT_POINT, "pt 13 ps 1.1 lc rgb '" PLOT_RED "'", "Lnmh (oil and dirt counted in)"},
    {PLOT_SPAN, "lw 1.2 lc rgb '" PLOT_BLACK "'", "10 to 90 % of the draws"},
};

static void head_of_group(const plot_canvas *c, const plot_rows *rows, size_t i,
                          const char *gearbox)
{
    int y = c->top + rows->pitch * (int)i;
    trn_buffer_add(c->out, "set label ");
    plot_quote(c->out, gearbox);
    trn_buffer_print(c->out,
                     " at screen 14./%d, screen %d./%d left noenhanced front\n"
                     "set arrow from screen 14./%d, screen %d./%d to screen %d./%d, screen "
                     "%d./%d nohead lw 0.8 lc rgb '" PLOT_GREY "'\n",
                     c->width, c->height - y - rows->pitch / 2, c->height, c->width,
                     c->height - y, c->height, c->width - 14, c->width, c->height - y, c->height);
}

static void draw(const trn_results *r, const life *list, size_t *row, const char *title,
                 trn_buffer *out)
{
    const trn_machine *m = r->machine;
    size_t n = m->bearings_count;
    plot_rows rows = {.text_columns = 16, .name_columns = 8};
    for (size_t i = 0; i < n; i++) {
        rows.n += i == 0 || list[i].gearbox != list[i - 1].gearbox;
        row[i] = rows.n++;
        size_t columns = plot_name_of(m->bearings[list[i].bearing].bearing).columns;
        rows.name_columns = columns > rows.name_columns ? columns : rows.name_columns;
    }
    rows.pitch = rows.n > 20 ? 18 : 22;
    bool beyond = false;
    plot_hours range = range_of(list, n, m->head.design_life, &beyond);
    plot_canvas c = plot_rows_canvas(&rows, title, out);
    plot_rows_begin(&c, &rows, title, keys, sizeof keys / sizeof keys[0] - (r->draws ? 0 : 1));
    plot_below(&c, "life over the duty [h]");
    for (size_t i = 0; i < n; i++) {
        trn_buffer text = {0};
        if (isnan(list[i].governs))
            trn_buffer_add(&text, "not known");
        else if (isinf(list[i].governs))
            trn_buffer_add(&text, "no load");
        else
            trn_buffer_print(&text, "%s%s h", isnan(list[i].lnmh_h) ? "L10h " : "",
                             plot_life_of(list[i].governs).text);
        plot_row(&c, &rows, row[i], plot_name_of(m->bearings[list[i].bearing].bearing).text,
                 text.text ? text.text : "");
        trn_buffer_free(&text);
        if (i == 0 || list[i].gearbox != list[i - 1].gearbox)
            head_of_group(&c, &rows, row[i] - 1,
                          plot_name_of(m->gearboxes[list[i].gearbox].gearbox).text);
    }
    plot_hours_axis(&c, range, beyond ? longest_h / 2 : range.high,
                    beyond ? "> 100 000" : NULL, 1.66 * longest_h);
    data(list, row, n, range, out);
    marks(m->head.design_life, beyond, r->draws != NULL, out);
}

trn_status trn_plot_lives(const trn_results *results, trn_buffer *script, trn_buffer *finding)
{
    size_t n = results->machine->bearings_count;
    if (n == 0)
        return TRN_E_UNKNOWN;
    life *list = collect(results);
    size_t *row = calloc(n, sizeof *row);
    trn_status status = !list || !row ? TRN_E_MEMORY
                        : isnan(list[0].governs) ? TRN_E_UNKNOWN
                                                 : TRN_OK;
    trn_buffer out = {0};
    trn_buffer title = {0};
    if (status == TRN_OK) {
        find(results, list, &title);
        if (title.text)
            draw(results, list, row, title.text, &out);
    }
    free(list);
    free(row);
    return plot_hand_over(status, &out, &title, script, finding);
}
