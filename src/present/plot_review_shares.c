/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plot of a failure review: the life lost, shared out; and the list of its plots. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <trunnion/review.h>

#include "plot_script.h"

static void title_of(const trn_review *v, size_t part, trn_buffer *title)
{
    const trn_review_row *most = NULL;
    for (size_t e = 1; e < v->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(v, part, e);
        if (!isnan(row->share_pct) && (!most || row->share_pct > most->share_pct))
            most = row;
    }
    const trn_review_row *next = NULL;
    for (size_t e = 1; e < v->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(v, part, e);
        if (row != most && !isnan(row->share_pct) &&
            (!next || row->share_pct > next->share_pct))
            next = row;
    }
    if (most)
        trn_buffer_print(title, "of the %s h of life that all %zu departures listed would take from %s together, %s "
                         "takes %s %%",
                         plot_number_of(v->parts[part].lost_h, 3).text, v->parts[part].departures,
                         plot_name_of(v->parts[part].name).text,
                         plot_name_of(most->scenario).text,
                         plot_number_of(most->share_pct, 3).text);
    if (most && next && most->share_pct - next->share_pct < 1)
        trn_buffer_print(title, ", %s hardly less", plot_name_of(next->scenario).text);
    if (most)
        trn_buffer_add(title, "; no share of fault");
}

static void draw(const trn_review *v, size_t part, const char *title, trn_buffer *out)
{
    static const plot_key keys[] = {
        {PLOT_BOX, "fc rgb '" PLOT_SKY "' fs solid border lc rgb '" PLOT_BLACK "'",
         "share of the hours lost"},
        {PLOT_POINT, "pt 13 ps 1.1 lc rgb '" PLOT_RED "'", "share of the log of the life"},
    };
    plot_rows rows = {.pitch = 28, .text_columns = 10, .name_columns = 8};
    double least = 0;
    double most = 0;
    for (size_t e = 1; e < v->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(v, part, e);
        size_t columns = plot_name_of(row->scenario).columns;
        if (isnan(row->share_pct))
            continue;
        rows.n++;
        rows.name_columns = columns > rows.name_columns ? columns : rows.name_columns;
        least = fmin(least, fmin(row->share_pct, row->share_log_pct));
        most = fmax(most, fmax(row->share_pct, row->share_log_pct));
    }
    plot_canvas c = plot_rows_canvas(&rows, title, out);
    plot_rows_begin(&c, &rows, title, keys, 2);
    plot_below(&c, "share of the life lost [%]");
    trn_buffer_add(out, "$D << END\n");
    size_t at = 0;
    for (size_t e = 1; e < v->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(v, part, e);
        if (isnan(row->share_pct))
            continue;
        plot_value(out, (double)at + 0.5);
        plot_value(out, row->share_pct);
        plot_value(out, row->share_log_pct);
        trn_buffer_add(out, "\n");
        at++;
    }
    trn_buffer_add(out, "END\n");
    at = 0;
    for (size_t e = 1; e < v->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(v, part, e);
        if (isnan(row->share_pct))
            continue;
        trn_buffer text = {0};
        trn_buffer_print(&text, "%s %%", plot_number_of(row->share_pct, 3).text);
        plot_row(&c, &rows, at++, plot_name_of(row->scenario).text, text.text ? text.text : "");
        trn_buffer_free(&text);
    }
    trn_buffer_add(out, "set xrange [");
    plot_value(out, least < 0 ? -plot_step_above(-least) : 0);
    trn_buffer_add(out, ":");
    plot_value(out, plot_step_above(fmax(most, 10)));
    trn_buffer_add(out, "]\nset xtics auto\n"
                        "plot $D using ($2/2):1:(abs($2)/2):(0.28) with boxxyerror fs solid border lc "
                        "rgb '" PLOT_BLACK "' fc rgb '" PLOT_SKY
                        "', $D using 3:1 with points pt 13 ps 1.1 lc rgb '" PLOT_RED "'\n");
}

trn_status trn_plot_review_shares(const trn_review *v, size_t part, trn_buffer *script,
                                  trn_buffer *finding)
{
    trn_buffer out = {0};
    trn_buffer title = {0};
    if (isnan(v->parts[part].lost_h))
        return TRN_E_UNKNOWN;
    title_of(v, part, &title);
    if (title.text)
        draw(v, part, title.text, &out);
    return plot_hand_over(title.text ? TRN_OK : TRN_E_UNKNOWN, &out, &title, script, finding);
}

/* ---- all of a review ------------------------------------------------------------------------ */

trn_status trn_plots_for_review(const trn_review *review, trn_plots *plots)
{
    static const struct {
        const char *name, *topic;
        trn_status (*make)(const trn_review *, size_t, trn_buffer *, trn_buffer *);
    } kinds[] = {
        {"review_factors", "Factors of the explanations", trn_plot_review_factors},
        {"review_lives", "Hours seen against the lives", trn_plot_review_lives},
        {"review_shares", "Life lost, shared out", trn_plot_review_shares},
    };
    enum { KINDS = sizeof kinds / sizeof kinds[0] };
    *plots = (trn_plots){.list = calloc(KINDS * review->part_count + 1, sizeof *plots->list)};
    trn_status status = plots->list ? TRN_OK : TRN_E_MEMORY;
    for (size_t p = 0; p < review->part_count && status == TRN_OK; p++)
        for (size_t k = 0; k < KINDS && status == TRN_OK; k++) {
            trn_plot *plot = &plots->list[plots->n];
            status = kinds[k].make(review, p, &plot->script, &plot->finding);
            if (status == TRN_OK) {
                plot->topic = kinds[k].topic;
                (void)snprintf(plot->name, sizeof plot->name, p ? "%s_%zu" : "%s", kinds[k].name,
                               p + 1);
                plots->n++;
            } else if (status == TRN_E_UNKNOWN) {
                status = TRN_OK;
            }
        }
    if (status != TRN_OK)
        trn_plots_free(plots);
    return status;
}
