/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plot: oil samples of one gearbox, a panel an element, the fills side by side over the hours on
 * the oil. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/samples_table.h>

#include "plot_script.h"

enum { WIDTH = 960, COLUMNS = 2, SIDE = 66, PANEL_WIDTH = 400, PANEL = 150, HEAD = 42, FOOT = 40 };
enum { BETWEEN_FILLS = 6 /* % of all hours */, LABEL_APART = 40 };

#define LOOK_WEDGE "fc rgb '#DCE8F2' fs solid noborder"
#define LOOK_LINE "lw 2 lc rgb '" PLOT_BLUE "'"
#define LOOK_READ "pt 7 ps 0.8 lc rgb '" PLOT_BLACK "'"
#define LOOK_CORRECTED "pt 6 ps 1.1 lw 1.6 lc rgb '" PLOT_BLUE "'"
#define LOOK_LIMIT "lw 1.8 dt (9,5) lc rgb '" PLOT_RED "'"
#define LOOK_CHANGE "lw 1.2 lc rgb '" PLOT_GREY "'"
#define LOOK_UNLOGGED "lw 2 dt (3,3) lc rgb '" PLOT_BLACK "'"

/* A fill of oil on the horizontal axis. */
typedef struct stretch {
    double begin_h, end_h; /* machine hours: birth or first sample, and last sample */
    double at;             /* place of begin_h */
    bool born, reset;      /* the hour of the change is known; nobody wrote it down */
} stretch;

typedef struct view {
    const trn_samples_table *table;
    const char *gearbox;
    stretch *fills;
    size_t fill_count;
    double span; /* of the axis */
    size_t row[TRN_ELEMENTS][2]; /* rows of an element: first, behind the last */
} view;

const char *trn_samples_gearbox(const trn_samples_table *table, size_t n)
{
    size_t found = 0;
    for (size_t i = 0; i < table->place_count; i++)
        if (i == 0 || table->places[i].gearbox != table->places[i - 1].gearbox)
            if (found++ == n)
                return table->places[i].sample->gearbox;
    return NULL;
}

/* ---- axis --------------------------------------------------------------------------------- */

static bool of_gearbox(const view *v, const trn_samples_row *row)
{
    return strcmp(row->gearbox, v->gearbox) == 0;
}

static bool place_fills(view *v)
{
    double all = 0;
    v->fills = calloc(v->table->place_count + 1, sizeof *v->fills);
    for (size_t i = 0; v->fills && i < v->table->place_count; i++) {
        const trn_samples_place *p = &v->table->places[i];
        if (strcmp(p->sample->gearbox, v->gearbox) != 0)
            continue;
        double now = p->sample->machine_hours;
        if (p->fill > v->fill_count)
            v->fills[v->fill_count++] = (stretch){.begin_h = isnan(p->birth_h) ? now : p->birth_h,
                                                  .born = !isnan(p->birth_h),
                                                  .reset = p->reset};
        v->fills[v->fill_count - 1].end_h = now;
    }
    for (size_t i = 0; v->fills && i < v->fill_count; i++)
        all += v->fills[i].end_h - v->fills[i].begin_h;
    all = all > 0 ? all : 1;
    for (size_t i = 0; v->fills && i < v->fill_count; i++) {
        v->fills[i].at = v->span;
        v->span += v->fills[i].end_h - v->fills[i].begin_h + all * BETWEEN_FILLS / 100;
    }
    return v->fills != NULL;
}

static double place(const view *v, const trn_samples_row *row, double machine_h)
{
    const stretch *f = &v->fills[row->fill - 1];
    return f->at + machine_h - f->begin_h;
}

static void add_tic(trn_buffer *out, const char *before, const char *text, double at)
{
    trn_buffer_add(out, before);
    plot_quote(out, text);
    trn_buffer_add(out, " ");
    plot_value(out, at);
}

/* 0 where a fill begins (? where nobody knows) and its hours at the last sample, as far as there
 * is room. */
static void hours_axis(const view *v, trn_buffer *out)
{
    double px = PANEL_WIDTH / v->span;
    double last = -INFINITY;
    const char *before = "";
    trn_buffer_add(out, "set xrange [0:");
    plot_value(out, v->span);
    trn_buffer_add(out, "]\nset xtics (");
    for (size_t i = 0; i < v->fill_count; i++) {
        const stretch *f = &v->fills[i];
        double ends[] = {f->at, f->at + f->end_h - f->begin_h};
        for (size_t k = f->end_h > f->begin_h ? 0 : 1; k < 2; k++) {
            const char *text = k == 0 ? (f->born ? "0" : "?") : NULL;
            plot_number hours = plot_number_of(f->end_h - f->begin_h, 4);
            if (k == 1)
                text = f->born ? hours.text : "?";
            if (k == 1 && !f->born && f->end_h > f->begin_h)
                (void)snprintf(hours.text + strlen(hours.text),
                               sizeof hours.text - strlen(hours.text), "+?");
            if (k == 1 && !f->born && f->end_h > f->begin_h)
                text = hours.text;
            bool room = px * (ends[k] - last) >= LABEL_APART;
            add_tic(out, before, room ? text : "", ends[k]);
            last = room ? ends[k] : last;
            before = ", ";
        }
    }
    trn_buffer_add(out, ")\n");
}

/* Where the oil was changed, with the number of the fill. */
static void changes(const view *v, trn_buffer *out)
{
    double px = PANEL_WIDTH / v->span;
    double last = -INFINITY;
    for (size_t i = 0; i < v->fill_count; i++) {
        const stretch *f = &v->fills[i];
        char text[40];
        trn_buffer_add(out, "set arrow from ");
        plot_value(out, f->at);
        trn_buffer_add(out, ", graph 0 to ");
        plot_value(out, f->at);
        trn_buffer_print(out, ", graph 1 nohead front %s\n", f->reset ? LOOK_UNLOGGED : LOOK_CHANGE);
        if (px * (f->at - last) < LABEL_APART)
            continue;
        (void)snprintf(text, sizeof text, "fill %zu", i + 1);
        trn_buffer_add(out, "set label ");
        plot_quote(out, text);
        trn_buffer_add(out, " at ");
        plot_value(out, f->at);
        trn_buffer_add(out, ", graph 1 left noenhanced front offset 0.4,-0.6 font ',11' "
                            "textcolor rgb '#505050'\n");
        last = f->at;
    }
}

/* ---- data --------------------------------------------------------------------------------- */

static void pair(trn_buffer *out, double x, double y)
{
    plot_value(out, x);
    plot_value(out, y);
    trn_buffer_add(out, "\n");
}

static double line_at(const trn_samples_row *row, double rate, double hours)
{
    return row->line_ppm + rate / 100 * (hours - row->line_h);
}

/* First and last hour that a line is drawn over. */
static void reach_of(const view *v, const trn_samples_row *row, size_t r, double *from, double *to)
{
    *from = INFINITY;
    *to = -INFINITY;
    for (size_t i = 0; i < v->table->point_count; i++)
        if (v->table->points[i].row == r) {
            *from = fmin(*from, v->table->points[i].machine_h);
            *to = fmax(*to, v->table->points[i].machine_h);
        }
    if (row->samples == 1)
        *from = fmin(*from, row->line_h);
}

static void row_lines(const view *v, const trn_samples_row *row, size_t r, trn_buffer *wedge,
                      trn_buffer *line, double *most)
{
    double from, to;
    if (isnan(row->rate))
        return;
    reach_of(v, row, r, &from, &to);
    double pivot = fmin(fmax(row->line_h, from), to);
    double ends[] = {from, to};
    for (size_t i = 0; i < 2; i++) {
        double x = place(v, row, ends[i]);
        pair(wedge, place(v, row, pivot), line_at(row, row->rate, pivot));
        pair(wedge, x, line_at(row, row->rate_low, ends[i]));
        pair(wedge, x, line_at(row, row->rate_high, ends[i]));
        pair(wedge, place(v, row, pivot), line_at(row, row->rate, pivot));
        trn_buffer_add(wedge, "\n\n");
        pair(line, x, line_at(row, row->rate, ends[i]));
        *most = fmax(*most, line_at(row, row->rate, ends[i]));
    }
    trn_buffer_add(line, "\n\n");
}

static void row_points(const view *v, const trn_samples_row *row, size_t r, trn_buffer *read,
                       trn_buffer *corrected, double *most)
{
    for (size_t i = 0; i < v->table->point_count; i++) {
        const trn_samples_point *p = &v->table->points[i];
        if (p->row != r)
            continue;
        pair(read, place(v, row, p->machine_h), p->ppm);
        if (fabs(p->corrected_ppm - p->ppm) > 1e-9 * p->ppm)
            pair(corrected, place(v, row, p->machine_h), p->corrected_ppm);
        *most = fmax(*most, fmax(p->ppm, p->corrected_ppm));
    }
}

static void block(const char *name, trn_buffer *rows, trn_buffer *out)
{
    trn_buffer_print(out, "%s << END\n", name);
    trn_buffer_add(out, rows->length ? rows->text : "NaN NaN\n");
    trn_buffer_add(out, "END\n");
    out->failed = out->failed || rows->failed;
    trn_buffer_free(rows);
}

/* Largest value that the panel has to hold. */
static double panel_data(const view *v, size_t element, trn_buffer *out)
{
    trn_buffer wedge = {0}, line = {0}, read = {0}, corrected = {0};
    double most = 1;
    for (size_t r = v->row[element][0]; r < v->row[element][1]; r++) {
        const trn_samples_row *row = &v->table->rows[r];
        if (row->element != element || !of_gearbox(v, row))
            continue;
        row_lines(v, row, r, &wedge, &line, &most);
        row_points(v, row, r, &read, &corrected, &most);
    }
    block("$W", &wedge, out);
    block("$L", &line, out);
    block("$P", &read, out);
    block("$K", &corrected, out);
    return most;
}

/* ---- panels ------------------------------------------------------------------------------- */

static const trn_samples_row *latest(const view *v, size_t element)
{
    for (size_t r = v->row[element][1]; r-- > v->row[element][0];)
        if (v->table->rows[r].element == element && of_gearbox(v, &v->table->rows[r]))
            return &v->table->rows[r];
    return NULL;
}

/* `fe: 36 ppm/100 h (31 to 41), limit in 747 h` of the latest fill that has the element. */
static void panel_title(const trn_samples_row *row, trn_buffer *out)
{
    trn_buffer_print(out, "%s: ", row->element_word);
    if (isnan(row->rate))
        trn_buffer_print(out, "%s ppm at last", plot_number_of(row->last_ppm, 3).text);
    else
        trn_buffer_print(out, "%s ppm/100 h (%s to %s)", plot_number_of(row->rate, 3).text,
                         plot_number_of(row->rate_low, 3).text,
                         plot_number_of(row->rate_high, 3).text);
    if (row->last_ppm >= row->limit_ppm)
        trn_buffer_add(out, ", past its limit");
    else if (row->hours_to_limit > 0)
        trn_buffer_print(out, ", limit in %s h", plot_life_of(row->hours_to_limit).text);
}

static void content_axis(const view *v, size_t element, double most, trn_buffer *out)
{
    double limit = latest(v, element)->limit_ppm;
    bool shown = limit <= 2.5 * most;
    double top = 1.25 * (shown ? fmax(most, limit) : most);
    trn_buffer_add(out, "set yrange [0:");
    plot_value(out, top);
    trn_buffer_add(out, "]\nset ytics autofreq\n");
    if (isnan(limit))
        return;
    if (shown) {
        trn_buffer_add(out, "set arrow from graph 0, first ");
        plot_value(out, limit);
        trn_buffer_add(out, "to graph 1, first ");
        plot_value(out, limit);
        trn_buffer_add(out, "nohead front " LOOK_LIMIT "\n");
        return;
    }
    char text[64];
    (void)snprintf(text, sizeof text, "limit %s, above", plot_number_of(limit, 3).text);
    trn_buffer_add(out, "set label ");
    plot_quote(out, text);
    trn_buffer_add(out, " at graph 1, graph 1 right noenhanced front offset 0,0.7 font ',11' "
                        "textcolor rgb '" PLOT_RED "'\n");
}

static void panel(const view *v, size_t element, plot_canvas *c)
{
    trn_buffer *out = c->out;
    trn_buffer title = {0};
    panel_title(latest(v, element), &title);
    plot_label(c, c->left, c->top - 22, "left", title.text ? title.text : "");
    out->failed = out->failed || title.failed;
    trn_buffer_free(&title);
    plot_edges(c);
    double most = panel_data(v, element, out);
    content_axis(v, element, most, out);
    changes(v, out);
    trn_buffer_add(out, "plot $W using 1:2 with filledcurves closed " LOOK_WEDGE
                        ", $L using 1:2 with lines " LOOK_LINE
                        ", $P using 1:2 with points " LOOK_READ
                        ", $K using 1:2 with points " LOOK_CORRECTED "\n"
                        "unset label\nunset arrow\nunset object\n");
}

/* ---- whole -------------------------------------------------------------------------------- */

static void fills_text(const view *v, trn_buffer *title)
{
    size_t unlogged = 0;
    for (size_t i = 0; i < v->fill_count; i++)
        unlogged += v->fills[i].reset;
    trn_buffer_print(title, "; %zu fill%s", v->fill_count, v->fill_count == 1 ? "" : "s");
    if (unlogged > 0)
        trn_buffer_print(title, ", %zu of them begun by a change that nobody logged", unlogged);
}

/* What comes to its limit first. */
static void find(const view *v, trn_buffer *title)
{
    const trn_samples_row *first = NULL;
    trn_buffer_print(title, "%s: ", plot_name_of(v->gearbox).text);
    for (size_t e = 0; e < TRN_ELEMENTS; e++) {
        const trn_samples_row *row = latest(v, e);
        double least = first ? first->hours_to_limit : INFINITY;
        if (row && row->last_ppm >= row->limit_ppm && !(least <= 0))
            first = row;
        else if (row && row->hours_to_limit < least &&
                 !(first && first->last_ppm >= first->limit_ppm))
            first = row;
    }
    if (!first)
        trn_buffer_add(title, "nothing rises towards a limit");
    else if (first->last_ppm >= first->limit_ppm)
        trn_buffer_print(title, "%s is past its limit, %s ppm where %s are allowed",
                         first->element_word, plot_number_of(first->last_ppm, 3).text,
                         plot_number_of(first->limit_ppm, 3).text);
    else
        trn_buffer_print(title, "%s rises %s ppm/100 h and comes to its limit of %s ppm first, in %s h",
                         first->element_word, plot_number_of(first->rate, 3).text,
                         plot_number_of(first->limit_ppm, 3).text,
                         plot_life_of(first->hours_to_limit).text);
    const trn_samples_row *si = latest(v, TRN_SI);
    if (si && strstr(si->remark, "mineral dust"))
        trn_buffer_add(title, "; silicon and aluminium as of mineral dust");
    fills_text(v, title);
}

static void draw(const view *v, const char *title, trn_buffer *out)
{
    static const plot_key keys[] = {
        {PLOT_POINT, LOOK_READ, "reading"},
        {PLOT_POINT, LOOK_CORRECTED, "without the top-ups"},
        {PLOT_LINE, LOOK_LINE, "rate of a fill, 95 % shaded"},
        {PLOT_LINE, LOOK_LIMIT, "limit"},
        {PLOT_LINE, LOOK_CHANGE, "oil changed"},
        {PLOT_LINE, LOOK_UNLOGGED, "not logged"},
    };
    size_t shown = 0;
    for (size_t e = 0; e < TRN_ELEMENTS; e++)
        shown += latest(v, e) != NULL;
    int rows = ((int)shown + COLUMNS - 1) / COLUMNS;
    int head = plot_head_height(title, WIDTH) + 6;
    plot_canvas c = {.out = out, .width = WIDTH,
                     .height = head + rows * (HEAD + PANEL + FOOT) + 30};
    plot_begin(&c, title);
    plot_key_line(&c, title, keys, sizeof keys / sizeof keys[0]);
    plot_label(&c, WIDTH / 2, c.height - 18, "center",
               "hours on the oil of each fill [h]; contents in ppm (mg/kg)");
    hours_axis(v, out);
    trn_buffer_add(out, "set multiplot\n");
    int i = 0;
    for (size_t e = 0; e < TRN_ELEMENTS; e++) {
        if (!latest(v, e))
            continue;
        c.left = SIDE + (i % COLUMNS) * (PANEL_WIDTH + SIDE);
        c.right = c.left + PANEL_WIDTH;
        c.top = head + HEAD + (i / COLUMNS) * (HEAD + PANEL + FOOT);
        c.bottom = c.top + PANEL;
        panel(v, e, &c);
        i++;
    }
    trn_buffer_add(out, "unset multiplot\n");
}

static void find_rows(view *v)
{
    for (size_t e = 0; e < TRN_ELEMENTS; e++)
        for (size_t r = 0; r < v->table->count; r++)
            if (v->table->rows[r].element == e && of_gearbox(v, &v->table->rows[r])) {
                if (v->row[e][1] == 0)
                    v->row[e][0] = r;
                v->row[e][1] = r + 1;
            }
}

trn_status trn_plot_samples(const trn_samples_table *table, const char *gearbox,
                            trn_buffer *script, trn_buffer *finding)
{
    view v = {.table = table, .gearbox = gearbox};
    bool any = false;
    find_rows(&v);
    for (size_t e = 0; e < TRN_ELEMENTS; e++)
        any = any || v.row[e][1] > 0;
    if (!any)
        return TRN_E_UNKNOWN;
    if (!place_fills(&v))
        return TRN_E_MEMORY;
    trn_buffer out = {0};
    trn_buffer title = {0};
    find(&v, &title);
    if (title.text)
        draw(&v, title.text, &out);
    free(v.fills);
    return plot_hand_over(title.text ? TRN_OK : TRN_E_MEMORY, &out, &title, script, finding);
}
