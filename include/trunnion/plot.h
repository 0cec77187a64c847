/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plots of results. A pure function builds the text of a gnuplot script for each plot; one other
 * runs a script with the gnuplot that is installed and gives the bytes of the picture.
 *
 * Texts of the user are single-quoted labels without control characters, cut after 40 columns and
 * never enhanced, so that no name of a row can be a command or a mark-up. Series are data inside
 * the script. The same results give the same script, and the same script the same picture, byte
 * for byte. */
#ifndef TRUNNION_PLOT_H
#define TRUNNION_PLOT_H

#include <trunnion/extras.h>
#include <trunnion/study.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Condition of the largest share of the hours, the first of several; TRN_NONE without duty. */
size_t trn_plot_condition(const trn_results *results);

/* Each of the next takes evaluated results, adds a script to *script and its finding, a sentence
 * computed from the numbers that is also the title of the picture, to *finding.
 * Status: TRN_E_UNKNOWN where there is nothing to show (both buffers untouched), TRN_E_MEMORY. */

/* Speed of tube and output over one turn of the driving axis, a panel a shaft, all on one
 * relative scale. Eight shafts to a picture: `part` 0 is the first eight whose turn is known.
 * Takes results->extras.
 * Status: TRN_E_UNKNOWN, TRN_E_MEMORY, as above. */
trn_status trn_plot_turn(const trn_results *results, size_t condition, size_t part,
                         trn_buffer *script, trn_buffer *finding);

/* Losses as stacked bars by gearbox, with the span of the churning laws.
 * Status: TRN_E_UNKNOWN, TRN_E_MEMORY, as above. */
trn_status trn_plot_losses(const trn_results *results, size_t condition, trn_buffer *script,
                           trn_buffer *finding);

/* Oil temperature from a cold start, a line a gearbox. Takes results->extras.
 * Status: TRN_E_UNKNOWN, TRN_E_MEMORY, as above. */
trn_status trn_plot_warmup(const trn_results *results, size_t condition, trn_buffer *script,
                           trn_buffer *finding);

/* L10h and Lnmh of each bearing over the duty, by gearbox, shortest first.
 * Status: TRN_E_UNKNOWN, TRN_E_MEMORY, as above. */
trn_status trn_plot_lives(const trn_results *results, trn_buffer *script, trn_buffer *finding);

/* Recommended interval of each point against the manual's, with the duty's and the cautious one
 * and what governs; most shortened first.
 * Status: TRN_E_UNKNOWN, TRN_E_MEMORY, as above. */
trn_status trn_plot_intervals(const trn_results *results, trn_buffer *script,
                              trn_buffer *finding);

/* Manual, recommended and cheapest oil interval side by side, a line a gearbox: bearing life and
 * reliability, wear, oil, work and cost of a year. Takes results->ledger.
 * Status: TRN_E_UNKNOWN, TRN_E_MEMORY, as above. */
trn_status trn_plot_buys(const trn_results *results, trn_buffer *script, trn_buffer *finding);

/* Cost a year over the change interval with the three intervals marked. Six gearboxes to a
 * picture: `part` 0 is the first six with a known cost. Takes results->ledger.
 * Status: TRN_E_UNKNOWN, TRN_E_MEMORY, as above. */
trn_status trn_plot_cost(const trn_results *results, size_t part, trn_buffer *script,
                         trn_buffer *finding);

/* Visits of a year, a line a point. Takes results->extras.
 * Status: TRN_E_UNKNOWN, TRN_E_MEMORY, as above. */
trn_status trn_plot_plan(const trn_results *results, trn_buffer *script, trn_buffer *finding);

/* ---- all of a report ------------------------------------------------------------------------ */

typedef struct trn_plot {
    char name[32];      /* of the file, without `.svg` */
    const char *topic;  /* heading: `Losses by gearbox` */
    trn_buffer script;
    trn_buffer finding; /* the title; alternative text */
} trn_plot;

typedef struct trn_plots { /* of a report or a review */
    trn_plot *list;
    size_t n;
} trn_plots;

/* Every plot for which there are numbers, in the order of the report; those over one condition
 * are of the condition of largest share. Without results->extras or results->ledger the ones
 * that take it are missing.
 * Returned: *plots, to be freed with trn_plots_free
 * Status:   TRN_E_MEMORY, *plots then is empty */
trn_status trn_plots_for_report(const trn_results *results, trn_plots *plots);
/* Frees scripts and findings; the list is then empty. */
void trn_plots_free(trn_plots *plots);

/* ---- pictures ------------------------------------------------------------------------------- */

/* Runs a script: gnuplot from an absolute folder of PATH, by exec with an argument vector and an
 * environment of its own, in a temporary folder that is removed; at most 30 s.
 * Given:    format  `svg` or `png`
 * Returned: bytes   the picture is added
 * Status:   TRN_E_MISSING: no gnuplot is installed (say so once and go on without pictures);
 *           TRN_E_IO: it failed (the fault holds what it said on stderr) or took too long;
 *           TRN_E_USAGE: no such format; TRN_E_MEMORY. bytes is untouched then. */
trn_status trn_plot_run(const char *script, const char *format, trn_buffer *bytes,
                        trn_faults *faults);

/* The same with another limit of time.
 * Status: as trn_plot_run */
trn_status trn_plot_run_within(const char *script, const char *format, unsigned seconds,
                               trn_buffer *bytes, trn_faults *faults);

/* An SVG of trn_plot_run as an element for the inside of a page: without prologue, every id
 * begun with `prefix` (letters and digits, another for each picture of a page), role img, title
 * and description for those who do not see it.
 * Status: TRN_E_INPUT: no SVG; TRN_E_MEMORY */
trn_status trn_plot_inline(const char *svg, const char *prefix, const char *title,
                           const char *description, trn_buffer *out);

#ifdef __cplusplus
}
#endif
#endif
