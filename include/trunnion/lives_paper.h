/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands behind the table of `lives`: ranks of the failed units, survival without a line, and
 * the fitted line with its limits at every share failed. As tables and on Weibull paper. */
#ifndef TRUNNION_LIVES_PAPER_H
#define TRUNNION_LIVES_PAPER_H

#include <trunnion/lives_table.h>

#ifdef __cplusplus
extern "C" {
#endif

/* A failed unit at a known hour. Tied units have a row each. */
typedef struct trn_lives_rank {
    double life_h, rank, benard_pct, exact_pct;
} trn_lives_rank;

/* Survival behind a stretch of time in which units failed. */
typedef struct trn_lives_survival {
    double from_h, to_h;    /* equal where every hour is known; to_h inf: after the last look */
    double at_risk, failed; /* NaN where units were only looked at */
    double survive_pct, se_pct, low_pct, high_pct; /* se, low, high: NaN with looks */
    const char *method;     /* product_limit, turnbull */
} trn_lives_survival;

/* The fitted line at a share failed, with likelihood-ratio limits of the life. */
typedef struct trn_lives_percentile {
    double failed_pct, life_h, low_h, high_h;
} trn_lives_percentile;

typedef struct trn_lives_paper {
    const trn_lives_table *table;
    trn_lives_rank *ranks; /* none where units were only looked at */
    size_t rank_count;
    trn_lives_survival *survival;
    size_t survival_count;
    trn_lives_percentile *line; /* none without a fit */
    size_t line_count;
} trn_lives_paper;

/* Everything that can be said of the table.
 * Given:    table   made; it must outlive the paper
 * Returned: paper   to be freed
 * Status:   TRN_E_MEMORY, TRN_E_CONVERGE */
trn_status trn_lives_paper_make(const trn_lives_table *table, trn_lives_paper *paper);
/* Frees its rows; it is then empty. */
void trn_lives_paper_free(trn_lives_paper *paper);

/* As CSV. src/present */
void trn_lives_ranks_csv(const trn_lives_paper *paper, trn_buffer *out);
/* Survival by the product limit, with its limits. */
void trn_lives_survival_csv(const trn_lives_paper *paper, trn_buffer *out);
/* The line and its limits over the hours. */
void trn_lives_line_csv(const trn_lives_paper *paper, trn_buffer *out);

/* Survival for reading; of many rows about forty, the last of them always. */
void trn_lives_survival_text(const trn_lives_paper *paper, size_t width, trn_buffer *out);

/* Weibull paper: a gnuplot script, and the finding that is its title.
 * Status: TRN_E_UNKNOWN where there is no line at all, TRN_E_MEMORY */
trn_status trn_plot_weibull(const trn_lives_paper *paper, trn_buffer *script,
                            trn_buffer *finding);

#ifdef __cplusplus
}
#endif
#endif
