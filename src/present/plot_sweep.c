/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A result over one or two quantities, with the places where it crosses a limit. */
#include <trunnion/sweep_plot.h>

#include <math.h>

#include "plot_script.h"

static void with_unit(double value, const char *unit, trn_buffer *out)
{
    trn_buffer_print(out, "%.6g%s%s", value, unit && *unit ? " " : "", unit ? unit : "");
}

void trn_crossing_text(const trn_sweep *s, const trn_addresses *followed,
                       const trn_crossing *c, trn_buffer *out)
{
    const trn_address *a = &followed->list[c->follow];
    trn_address_text(a, false, out);
    trn_buffer_add(out, c->above ? " rises above " : " falls below ");
    with_unit(c->bound_value, a->field->unit, out);
    trn_buffer_print(out, " (%s)%s at %s = ", c->bound, c->jumps ? " in a step" : "",
                     s->vary[0].path);
    with_unit(c->at, s->vary[0].unit, out);
    if (s->vary_count > 1) {
        trn_buffer_print(out, ", where %s = ", s->vary[1].path);
        with_unit(trn_vary_value(&s->vary[1], c->second), s->vary[1].unit, out);
    }
}

static double value_at(const trn_sweep *s, size_t follow, size_t point)
{
    return s->value[point * s->follows + follow];
}

static size_t known(const trn_sweep *s, size_t follow)
{
    size_t n = 0;
    for (size_t p = 0; p < s->points; p++)
        n += isfinite(value_at(s, follow, p)) ? 1 : 0;
    return n;
}

/* The first crossing; else from which to which value it goes. */
static void find(const trn_sweep *s, const trn_addresses *followed, size_t follow,
                 trn_buffer *title)
{
    for (size_t i = 0; i < s->crossings; i++)
        if (s->crossing[i].follow == follow) {
            trn_crossing_text(s, followed, &s->crossing[i], title);
            return;
        }
    double least = INFINITY;
    double most = -INFINITY;
    for (size_t p = 0; p < s->points; p++) {
        double v = value_at(s, follow, p);
        if (isfinite(v)) {
            least = fmin(least, v);
            most = fmax(most, v);
        }
    }
    const char *unit = followed->list[follow].field->unit;
    trn_address_text(&followed->list[follow], false, title);
    trn_buffer_print(title, " lies between %s and %s%s%s", plot_number_of(least, 3).text,
                     plot_number_of(most, 3).text, unit ? " " : "", unit ? unit : "");
}

static void quantity(const char *name, const char *unit, trn_buffer *out)
{
    trn_buffer_print(out, "%s%s%s%s", name, unit && *unit ? " [" : "", unit ? unit : "",
                     unit && *unit ? "]" : "");
}

static void below(const plot_canvas *c, const trn_vary *v)
{
    trn_buffer text = {0};
    quantity(v->path, v->unit, &text);
    plot_below(c, text.text ? text.text : "");
    c->out->failed = c->out->failed || text.failed;
    trn_buffer_free(&text);
}

static void beside(const char *name, const char *unit, trn_buffer *out)
{
    trn_buffer text = {0};
    quantity(name, unit, &text);
    trn_buffer_add(out, "set ylabel ");
    plot_quote(out, text.text ? text.text : "");
    trn_buffer_add(out, " noenhanced\n");
    out->failed = out->failed || text.failed;
    trn_buffer_free(&text);
}

static void range(const char *which, const trn_vary *v, trn_buffer *out)
{
    trn_buffer_print(out, "set %srange [", which);
    plot_value(out, fmin(v->from, v->to));
    trn_buffer_add(out, ":");
    plot_value(out, fmax(v->from, v->to));
    trn_buffer_add(out, "]\n");
}

/* Points of the result, a blank line between values of the first quantity where there are two. */
static void data(const trn_sweep *s, size_t follow, trn_buffer *out)
{
    size_t at[TRN_VARY_MAX];
    size_t before = 0;
    trn_buffer_add(out, "$D << END\n");
    for (size_t p = 0; p < s->points; p++) {
        trn_sweep_place(s, p, at);
        if (s->vary_count > 1 && at[0] != before)
            trn_buffer_add(out, "\n");
        before = at[0];
        for (size_t i = 0; i < s->vary_count; i++)
            plot_value(out, trn_vary_value(&s->vary[i], at[i]));
        plot_value(out, value_at(s, follow, p));
        trn_buffer_add(out, "\n");
    }
    trn_buffer_add(out, "END\n$X << END\n");
    for (size_t i = 0; i < s->crossings; i++) {
        const trn_crossing *c = &s->crossing[i];
        if (c->follow != follow)
            continue;
        plot_value(out, c->at);
        if (s->vary_count > 1)
            plot_value(out, trn_vary_value(&s->vary[1], c->second));
        plot_value(out, c->bound_value);
        trn_buffer_add(out, "\n");
    }
    trn_buffer_add(out, "END\n");
}

static bool crosses(const trn_sweep *s, size_t follow)
{
    for (size_t i = 0; i < s->crossings; i++)
        if (s->crossing[i].follow == follow)
            return true;
    return false;
}

static void draw(const trn_sweep *s, const trn_addresses *followed, size_t follow,
                 const char *title, trn_buffer *out)
{
    static const plot_key line[] = {{PLOT_LINE, "lw 2 lc rgb '" PLOT_BLUE "'", "computed"},
                                    {PLOT_POINT, "pt 7 ps 1 lc rgb '" PLOT_RED "'",
                                     "a limit is crossed"}};
    static const plot_key contour[] = {{PLOT_LINE, "lw 2 lc rgb '" PLOT_BLUE "'", "equal values"},
                                       {PLOT_POINT, "pt 7 ps 1 lc rgb '" PLOT_RED "'",
                                        "a limit is crossed"}};
    const trn_address *a = &followed->list[follow];
    bool two = s->vary_count > 1;
    bool marks = crosses(s, follow);
    plot_canvas c = {.out = out, .width = 800, .left = 90, .right = 770};
    c.top = plot_head_height(title, c.width);
    c.bottom = c.top + (two ? 400 : 300);
    c.height = c.bottom + 60;
    plot_begin(&c, title);
    plot_key_line(&c, title, two ? contour : line, marks ? 2 : 1);
    plot_edges(&c);
    data(s, follow, out);
    below(&c, &s->vary[0]);
    range("x", &s->vary[0], out);
    if (two) {
        beside(s->vary[1].path, s->vary[1].unit, out);
        range("y", &s->vary[1], out);
        trn_buffer_add(out, "set view map\nset contour base\n"
                            "set cntrparam levels auto 8\nunset clabel\n"
                            "set cntrlabel onecolor format '%.4g' start 4 interval 30\n"
                            "splot $D using 1:2:3 with lines lw 2 lc rgb '" PLOT_BLUE
                            "' nosurface notitle, "
                            "$D using 1:2:3 with labels nosurface notitle");
    } else {
        trn_buffer name = {0};
        trn_address_text(a, false, &name);
        beside(plot_name_of(name.text ? name.text : "").text, a->field->unit, out);
        trn_buffer_free(&name);
        trn_buffer_add(out, "set offsets 0,0,graph 0.05,graph 0.05\n"
                            "plot $D using 1:2 with lines lw 2 lc rgb '" PLOT_BLUE "' notitle");
    }
    if (marks)
        trn_buffer_print(out, ", $X using 1:2%s with points pt 7 ps 1 lc rgb '" PLOT_RED
                              "' notitle%s",
                         two ? ":3" : "", two ? " nocontour" : "");
    trn_buffer_add(out, "\n");
}

trn_status trn_plot_sweep(const trn_sweep *sweep, const trn_addresses *followed, size_t follow,
                          trn_buffer *script, trn_buffer *finding)
{
    size_t n = known(sweep, follow);
    if (n < 2 || (sweep->vary_count > 1 && n < sweep->points))
        return TRN_E_UNKNOWN;
    trn_buffer out = {0};
    trn_buffer title = {0};
    find(sweep, followed, follow, &title);
    if (title.text)
        draw(sweep, followed, follow, title.text, &out);
    return plot_hand_over(TRN_OK, &out, &title, script, finding);
}
