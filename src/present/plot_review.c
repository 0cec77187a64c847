/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plots of a failure review: factors, and the hours seen against the lives. */
#include <math.h>
#include <stdlib.h>
#include <trunnion/choices.h>
#include <trunnion/life.h>
#include <trunnion/review_outside.h>

#include "plot_script.h"

enum { CHOSEN = 4 };

static trn_review_model main_model(const trn_review *v)
{
    return v->has_fleet ? TRN_FLEET : TRN_ALONE;
}

static bool positive(double x)
{
    return isfinite(x) && x > 0;
}

/* ---- factors -------------------------------------------------------------------------------- */

static const struct {
    double from;
    const char *word;
} scale[] = {{1, "weak"}, {3, "positive"}, {20, "strong"}, {150, "very strong"}};
enum { WORDS = sizeof scale / sizeof scale[0] };

static size_t best_of(const trn_review *v, size_t part)
{
    size_t best = TRN_NONE;
    for (size_t e = 1; e < v->explanation_count; e++) {
        double f = trn_review_at(v, part, e)->factor[main_model(v)];
        if (positive(f) && (best == TRN_NONE ||
                            f > trn_review_at(v, part, best)->factor[main_model(v)]))
            best = e;
    }
    return best;
}

/* Explanations that the chosen factors do not part from the best: within the tie, or ahead of it
 * somewhere in the sensitivity table. */
static size_t ties(const trn_review *v, size_t part, size_t best, bool *tied)
{
    const trn_review_row *top = trn_review_at(v, part, best);
    trn_review_model model = main_model(v);
    double within = trn_choice_value(TRN_CHOICE_REVIEW_TIE);
    size_t n = 0;
    for (size_t e = 1; e < v->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(v, part, e);
        tied[e] = false;
        if (e == best || !positive(row->factor[model]))
            continue;
        tied[e] = row->factor[model] * within >= top->factor[model];
        for (size_t i = 0; i < TRN_REVIEW_GRID; i++)
            tied[e] = tied[e] || row->grid[model][i] > top->grid[model][i] * (1 + 1e-9);
        n += tied[e];
    }
    return n;
}

/* The tied one with the highest factor. */
static size_t second_of(const trn_review *v, size_t part, const bool *tied)
{
    size_t second = TRN_NONE;
    for (size_t e = 1; e < v->explanation_count; e++)
        if (tied[e] && (second == TRN_NONE ||
                        trn_review_at(v, part, e)->factor[main_model(v)] >
                            trn_review_at(v, part, second)->factor[main_model(v)]))
            second = e;
    return second;
}

static void best_title(const trn_review *v, size_t part, size_t best, trn_buffer *title)
{
    const trn_review_row *row = trn_review_at(v, part, best);
    double f = row->factor[main_model(v)];
    plot_name name = plot_name_of(row->scenario);
    plot_name what = plot_name_of(v->parts[part].name);
    bool *tied = calloc(v->explanation_count, sizeof *tied);
    size_t n = tied ? ties(v, part, best, tied) : 0;
    if (!tied)
        title->failed = true;
    if (n == 0) {
        trn_buffer_print(title, "the hours of %s fit %s best, %s times better than as specified (%s)",
                         what.text, name.text, plot_number_of(f, 2).text, trn_evidence_word(f));
    } else {
        size_t second = second_of(v, part, tied);
        double least = f;
        for (size_t e = 1; e < v->explanation_count; e++)
            if (tied[e])
                least = fmin(least, trn_review_at(v, part, e)->factor[main_model(v)]);
        trn_buffer_print(title, "the hours of %s fit %s%s%s", what.text, name.text,
                         n > 1 ? ", " : " and ",
                         plot_name_of(v->explanations[second].name).text);
        if (n > 1)
            trn_buffer_print(title, " and %zu more", n - 1);
        trn_buffer_print(title, " about equally well: %s to %s times as specified, in an order that "
                                "hangs on slope and model error",
                         plot_number_of(least, 2).text, plot_number_of(f, 2).text);
    }
    free(tied);
}

/* Findings that no life holds stand in the title: the factors know nothing of them. */
static void outside_title(const trn_review *v, trn_buffer *title)
{
    trn_outside *list = NULL;
    size_t n = 0;
    trn_faults faults = {0};
    if (trn_review_outside(v, &faults, &list, &n) == TRN_OK && n > 0)
        trn_buffer_print(title, "; in no factor: the shaft %s %s%s",
                         plot_name_of(v->machine->shafts[list[0].shaft].shaft).text,
                         list[0].kind == TRN_OUTSIDE_BOTTOMS ? "bottoms" : "parts",
                         list[0].explanation > 0 ? " under a scenario" : "");
    trn_faults_free(&faults);
    free(list);
}

static void factors_title(const trn_review *v, size_t part, size_t best, trn_buffer *title)
{
    const trn_review_row *row = trn_review_at(v, part, best);
    double f = row->factor[main_model(v)];
    if (f < 1)
        trn_buffer_print(title, "no explanation fits the hours of %s better than as specified",
                         plot_name_of(v->parts[part].name).text);
    else
        best_title(v, part, best, title);
    trn_buffer_add(title, v->has_fleet ? ", with the sisters" : ", by this unit alone");
    if (!isnan(v->parts[part].ceiling))
        trn_buffer_print(title, "; one unit's hours can never give more than %s",
                         plot_number_of(v->parts[part].ceiling, 3).text);
    outside_title(v, title);
}

static plot_hours factor_range(const trn_review *v, size_t part)
{
    double least = 0.5;
    double most = 5;
    for (size_t e = 1; e < v->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(v, part, e);
        for (size_t m = 0; m < 2; m++) {
            const double all[] = {row->factor[m], row->low[m], row->high[m]};
            for (size_t k = 0; k < 3; k++)
                if (positive(all[k])) {
                    least = fmin(least, all[k]);
                    most = fmax(most, all[k]);
                }
        }
    }
    if (positive(v->parts[part].ceiling))
        most = fmax(most, v->parts[part].ceiling);
    return plot_hours_of(fmax(least, 1e-6), fmin(1.1 * most, 1e6));
}

static void upright(trn_buffer *out, double x, const char *style)
{
    trn_buffer_add(out, "set arrow from ");
    plot_value(out, x);
    trn_buffer_add(out, ", graph 0 to ");
    plot_value(out, x);
    trn_buffer_print(out, ", graph 1 nohead %s\n", style);
}

static void word_scale(const plot_canvas *c, plot_hours range)
{
    for (size_t i = 0; i < WORDS; i++) {
        double from = fmax(scale[i].from, range.low);
        double to = i + 1 < WORDS ? fmin(scale[i + 1].from, range.high) : range.high;
        if (!(from < range.high) || !(to > from))
            continue;
        upright(c->out, scale[i].from,
                i ? "back lw 0.8 dt (2,4) lc rgb '" PLOT_GREY "'"
                  : "back lw 1.2 lc rgb '" PLOT_BLACK "'");
        if (log(to / from) < 0.06 * log(range.high / range.low))
            continue;
        trn_buffer_add(c->out, "set label ");
        plot_quote(c->out, scale[i].word);
        trn_buffer_add(c->out, " at ");
        plot_value(c->out, sqrt(from * to));
        trn_buffer_add(c->out, ", 0.5 center noenhanced front font ',11'\n");
    }
}

static void factor_data(const trn_review *v, size_t part, trn_buffer *out)
{
    for (size_t m = 0; m < 2; m++) {
        trn_buffer_print(out, "$F%zu << END\n", m);
        for (size_t e = 1; e < v->explanation_count; e++) {
            const trn_review_row *row = trn_review_at(v, part, e);
            plot_value(out, (double)e + (m ? 0.62 : 0.38));
            plot_value(out, row->factor[m]);
            plot_value(out, row->low[m]);
            plot_value(out, row->high[m]);
            trn_buffer_add(out, "\n");
        }
        trn_buffer_add(out, "END\n");
    }
}

static void draw_factors(const trn_review *v, size_t part, const char *title, trn_buffer *out)
{
    static const plot_key keys[] = {
        {PLOT_POINT, "pt 6 ps 1 lw 1.6 lc rgb '" PLOT_BLUE "'", "this unit alone"},
        {PLOT_POINT, "pt 13 ps 1.1 lc rgb '" PLOT_RED "'", "with the sisters"},
        {PLOT_LINE, "lw 2 lc rgb '" PLOT_GREY "'", "10-90 % over slope and error"},
        {PLOT_LINE, "lw 2 dt (9,5) lc rgb '" PLOT_BLACK "'", "ceiling"},
    };
    static const plot_key alone[] = {
        {PLOT_POINT, "pt 6 ps 1 lw 1.6 lc rgb '" PLOT_BLUE "'", "this unit alone"},
        {PLOT_LINE, "lw 2 lc rgb '" PLOT_GREY "'", "10-90 % over slope and error"},
        {PLOT_LINE, "lw 2 dt (9,5) lc rgb '" PLOT_BLACK "'", "ceiling"},
    };
    plot_rows rows = {.n = v->explanation_count, .pitch = 34, .text_columns = 16,
                      .name_columns = 8};
    for (size_t e = 1; e < v->explanation_count; e++) {
        size_t columns = plot_name_of(v->explanations[e].name).columns;
        rows.name_columns = columns > rows.name_columns ? columns : rows.name_columns;
    }
    plot_canvas c = plot_rows_canvas(&rows, title, out);
    plot_hours range = factor_range(v, part);
    plot_rows_begin(&c, &rows, title, v->has_fleet ? keys : alone, v->has_fleet ? 4 : 3);
    plot_below(&c, "factor over as specified");
    for (size_t e = 1; e < v->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(v, part, e);
        double f = row->factor[main_model(v)];
        trn_buffer text = {0};
        trn_buffer_print(&text, "%s",
                         isnan(f) ? (row->starved ? "starved: the signs" : "no factor")
                                  : plot_number_of(f, 2).text);
        plot_row(&c, &rows, e, plot_name_of(row->scenario).text, text.text ? text.text : "");
        trn_buffer_free(&text);
    }
    plot_hours_axis(&c, range, range.high, NULL, 0);
    word_scale(&c, range);
    if (positive(v->parts[part].ceiling) && v->parts[part].ceiling < range.high)
        upright(out, v->parts[part].ceiling, "lw 2 dt (9,5) lc rgb '" PLOT_BLACK "'");
    factor_data(v, part, out);
    trn_buffer_add(out, "plot $F0 using 3:1:($4-$3):(0) with vectors nohead lw 2 lc rgb '" PLOT_GREY
                        "', $F1 using 3:1:($4-$3):(0) with vectors nohead lw 2 lc rgb '" PLOT_GREY
                        "', $F0 using 2:1 with points pt 6 ps 1 lw 1.6 lc rgb '" PLOT_BLUE
                        "', $F1 using 2:1 with points pt 13 ps 1.1 lc rgb '" PLOT_RED "'\n");
}

trn_status trn_plot_review_factors(const trn_review *v, size_t part, trn_buffer *script,
                                   trn_buffer *finding)
{
    size_t best = best_of(v, part);
    trn_buffer out = {0};
    trn_buffer title = {0};
    if (best == TRN_NONE)
        return TRN_E_UNKNOWN;
    factors_title(v, part, best, &title);
    if (title.text)
        draw_factors(v, part, title.text, &out);
    return plot_hand_over(TRN_OK, &out, &title, script, finding);
}

/* ---- lives ---------------------------------------------------------------------------------- */

/* Age by which a share has failed; ranges from their lower to their higher life. */
static double age_at(double life_h, double failed)
{
    double age = NAN;
    return trn_life_quantile(failed, life_h, trn_review_slope(CHOSEN), &age) < 0 ? NAN : age;
}

static void lives_title(const trn_review *v, size_t part, trn_buffer *title)
{
    const trn_review_row *least = NULL;
    const trn_review_row *row = trn_review_at(v, part, 0);
    for (size_t e = 1; e < v->explanation_count; e++) {
        const trn_review_row *r = trn_review_at(v, part, e);
        if (positive(r->failed_pct) && (!least || r->failed_pct > least->failed_pct))
            least = r;
    }
    plot_name what = plot_name_of(v->parts[part].name);
    trn_buffer_print(title, "by %s h as specified %s %% of such parts as %s have failed",
                     plot_number_of(row->hours_h, 4).text,
                     plot_number_of(row->failed_pct, 2).text, what.text);
    if (least)
        trn_buffer_print(title, ", under %s %s %%", plot_name_of(least->scenario).text,
                         plot_number_of(least->failed_pct, 2).text);
}

static plot_hours lives_range(const trn_review *v, size_t part)
{
    const trn_failure *f = v->parts[part].failure;
    double least = f->hours;
    double most = f->hours;
    for (size_t e = 0; e < v->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(v, part, e);
        if (positive(row->life_low_h) && positive(row->life_high_h)) {
            least = fmin(least, age_at(row->life_low_h, 0.01));
            most = fmax(most, age_at(row->life_high_h, 0.9));
        }
    }
    for (size_t i = 0; v->has_fleet && i < v->fleet.n; i++) {
        const trn_weibull_row *u = &v->fleet.rows[i];
        double from = u->after_h > 0 ? u->after_h : u->by_h;
        least = fmin(least, from);
        most = fmax(most, isfinite(u->by_h) ? u->by_h : u->after_h);
    }
    return plot_hours_of(fmax(least, 0.1), fmin(most, 1e6));
}

static void lives_data(const trn_review *v, size_t part, trn_buffer *out)
{
    trn_buffer_add(out, "$L << END\n");
    for (size_t e = 0; e < v->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(v, part, e);
        const double shares[] = {0.01, 0.1, 0.5, 0.9};
        plot_value(out, (double)e + 0.5);
        for (size_t k = 0; k < 4; k++)
            plot_value(out, age_at(k < 2 ? row->life_low_h : row->life_high_h, shares[k]));
        trn_buffer_add(out, "\n");
    }
    trn_buffer_add(out, "END\n$S << END\n");
    for (size_t i = 0; v->has_fleet && i < v->fleet.n; i++) {
        const trn_weibull_row *u = &v->fleet.rows[i];
        plot_value(out, (double)v->explanation_count + 0.5);
        plot_value(out, u->kind == TRN_WEIBULL_RIGHT ? u->after_h : NAN);
        plot_value(out, u->kind == TRN_WEIBULL_EXACT  ? u->by_h
                        : u->kind == TRN_WEIBULL_LEFT ? u->by_h
                                                      : sqrt(u->after_h * u->by_h));
        trn_buffer_add(out, "\n");
    }
    trn_buffer_add(out, "END\n");
}

static void hours_seen(const trn_failure *f, trn_buffer *out)
{
    if (f->hours_spread > 0) {
        trn_buffer_add(out, "set object rectangle from ");
        plot_value(out, fmax(f->hours - f->hours_spread, 1e-3));
        trn_buffer_add(out, ", graph 0 to ");
        plot_value(out, f->hours + f->hours_spread);
        trn_buffer_add(out, ", graph 1 behind fs solid 0.25 noborder fc rgb '" PLOT_GREY "'\n");
    }
    upright(out, f->hours, "lw 2 dt (9,5) lc rgb '" PLOT_BLACK "'");
}

static void draw_lives(const trn_review *v, size_t part, const char *title, trn_buffer *out)
{
    static const plot_key keys[] = {
        {PLOT_LINE, "lw 2 dt (9,5) lc rgb '" PLOT_BLACK "'", "hours seen"},
        {PLOT_LINE, "lw 1.4 lc rgb '" PLOT_GREY "'", "1 to 90 % failed"},
        {PLOT_LINE, "lw 5 lc rgb '" PLOT_BLUE "'", "10 to 50 %"},
        {PLOT_POINT, "pt 6 ps 1 lw 1.6 lc rgb '" PLOT_GREEN "'", "sister sound"},
        {PLOT_POINT, "pt 2 ps 1 lw 2 lc rgb '" PLOT_RED "'", "sister failed"},
    };
    plot_rows rows = {.n = v->explanation_count + (v->has_fleet ? 1 : 0), .pitch = 26,
                      .text_columns = 16, .name_columns = 12};
    for (size_t e = 0; e < v->explanation_count; e++) {
        size_t columns = plot_name_of(v->explanations[e].name).columns;
        rows.name_columns = columns > rows.name_columns ? columns : rows.name_columns;
    }
    plot_canvas c = plot_rows_canvas(&rows, title, out);
    plot_hours range = lives_range(v, part);
    plot_rows_begin(&c, &rows, title, keys, v->has_fleet ? 5 : 3);
    plot_below(&c, "hours in which the PTO turns [h]");
    for (size_t e = 0; e < v->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(v, part, e);
        trn_buffer text = {0};
        if (isnan(row->failed_pct))
            trn_buffer_add(&text, row->starved ? "starved" : "not known");
        else
            trn_buffer_print(&text, "%s %% by then", plot_number_of(row->failed_pct, 2).text);
        plot_row(&c, &rows, e, plot_name_of(row->scenario).text, text.text ? text.text : "");
        trn_buffer_free(&text);
    }
    if (v->has_fleet)
        plot_row(&c, &rows, v->explanation_count, "sister units", "");
    plot_hours_axis(&c, range, range.high, NULL, 0);
    hours_seen(v->parts[part].failure, out);
    lives_data(v, part, out);
    trn_buffer_add(out, "plot $L using 2:1:($5-$2):(0) with vectors nohead lw 1.4 lc rgb '" PLOT_GREY
                        "', $L using 3:1:($4-$3):(0) with vectors nohead lw 5 lc rgb '" PLOT_BLUE
                        "', $S using 2:1 with points pt 6 ps 1 lw 1.6 lc rgb '" PLOT_GREEN
                        "', $S using 3:1 with points pt 2 ps 1 lw 2 lc rgb '" PLOT_RED "'\n");
}

trn_status trn_plot_review_lives(const trn_review *v, size_t part, trn_buffer *script,
                                 trn_buffer *finding)
{
    trn_buffer out = {0};
    trn_buffer title = {0};
    if (!positive(trn_review_at(v, part, 0)->life_h))
        return TRN_E_UNKNOWN;
    lives_title(v, part, &title);
    if (title.text)
        draw_lives(v, part, title.text, &out);
    return plot_hand_over(TRN_OK, &out, &title, script, finding);
}
