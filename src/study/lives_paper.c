/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <trunnion/lives_paper.h>

#include <math.h>
#include <stdlib.h>
#include <trunnion/rank.h>
#include <trunnion/turnbull.h>

enum { PERCENTILES = 41, RANKS_MAX = 100000 };

/* ---- ranks -------------------------------------------------------------------------------- */

static trn_status add_ranks(trn_lives_paper *paper)
{
    const trn_weibull_data *data = &paper->table->data;
    if (data->grouped || !(data->failed > 0) || data->failed > RANKS_MAX)
        return TRN_OK;
    paper->ranks = calloc((size_t)data->failed, sizeof *paper->ranks);
    if (!paper->ranks)
        return TRN_E_MEMORY;
    double rank = 0;
    double left = data->units;
    for (size_t i = 0; i < data->n; i++) {
        const trn_weibull_row *row = &data->rows[i];
        if (row->kind != TRN_WEIBULL_EXACT) {
            left -= (double)row->count;
            continue;
        }
        for (size_t k = 0; k < row->count; k++) {
            double benard, exact;
            trn_status status = trn_rank_adjusted(rank, data->units, left, &rank);
            if (status == TRN_OK)
                status = trn_rank_median(fmin(rank, data->units), data->units, &benard, &exact);
            if (status < 0)
                return status;
            left -= 1;
            paper->ranks[paper->rank_count++] =
                (trn_lives_rank){row->after_h, rank, 100 * benard, 100 * exact};
        }
    }
    return TRN_OK;
}

/* ---- survival ----------------------------------------------------------------------------- */

/* Every hour at which something failed. */
static trn_status by_product_limit(trn_lives_paper *paper)
{
    const trn_weibull_data *data = &paper->table->data;
    double left = data->units;
    for (size_t i = 0; i < data->n;) {
        double time = data->rows[i].after_h;
        trn_lives_survival row = {.from_h = time, .to_h = time, .at_risk = left,
                                  .method = "product_limit"};
        for (; i < data->n && !(data->rows[i].after_h > time); i++) {
            left -= (double)data->rows[i].count;
            if (data->rows[i].kind == TRN_WEIBULL_EXACT)
                row.failed += (double)data->rows[i].count;
        }
        if (!(row.failed > 0))
            continue;
        double survive, se, low, high;
        trn_status status = trn_weibull_product_limit(data, time, paper->table->confidence,
                                                      &survive, &se, &low, &high);
        if (status < 0)
            return status;
        row.survive_pct = 100 * survive;
        row.se_pct = 100 * se;
        row.low_pct = 100 * low;
        row.high_pct = 100 * high;
        paper->survival[paper->survival_count++] = row;
    }
    return TRN_OK;
}

static trn_status by_looks(trn_lives_paper *paper)
{
    const trn_weibull_data *data = &paper->table->data;
    size_t n = 0;
    trn_turnbull_step *step = calloc(2 * data->n + 1, sizeof *step);
    trn_status status = step ? trn_turnbull(data, step, &n) : TRN_E_MEMORY;
    for (size_t i = 0; i < n; i++)
        paper->survival[paper->survival_count++] =
            (trn_lives_survival){.from_h = step[i].from_h,
                                 .to_h = step[i].to_h,
                                 .at_risk = NAN,
                                 .failed = NAN,
                                 .survive_pct = 100 * step[i].survive,
                                 .se_pct = NAN,
                                 .low_pct = NAN,
                                 .high_pct = NAN,
                                 .method = "turnbull"};
    free(step);
    return status;
}

/* ---- line --------------------------------------------------------------------------------- */

static const trn_lives_line *fitted(const trn_lives_table *table)
{
    return table->count > 0 && !isnan(table->lines[0].line.log_likelihood) &&
                   !isnan(table->lines[0].limits.beta_low)
               ? &table->lines[0]
               : NULL;
}

/* Shares evenly spaced on the paper, from below the first failure to 99.9 %, with 10 % among them. */
static trn_status add_line(trn_lives_paper *paper)
{
    const trn_lives_line *fit = fitted(paper->table);
    if (!fit)
        return TRN_OK;
    paper->line = calloc(PERCENTILES + 1, sizeof *paper->line);
    if (!paper->line)
        return TRN_E_MEMORY;
    double tenth = log(-log1p(-0.1));
    double low = log(-log1p(-fmin(0.01, 0.2 / paper->table->data.units)));
    double high = log(-log1p(-0.999));
    double before = -INFINITY;
    for (size_t i = 0; i < PERCENTILES; i++) {
        double y = low + (high - low) * (double)i / (PERCENTILES - 1);
        double places[2] = {y, tenth};
        bool passes = before < tenth && y > tenth;
        before = y;
        for (size_t k = 0; k < (passes ? 2 : 1); k++) {
            double share = -expm1(-exp(places[passes ? 1 - k : 0]));
            trn_lives_percentile *p = &paper->line[paper->line_count];
            p->failed_pct = 100 * share;
            trn_status status =
                trn_weibull_life_limits(&paper->table->data, &fit->line, paper->table->confidence,
                                        share, &p->life_h, &p->low_h, &p->high_h);
            if (status < 0)
                return status;
            paper->line_count++;
        }
    }
    return TRN_OK;
}

trn_status trn_lives_paper_make(const trn_lives_table *table, trn_lives_paper *paper)
{
    trn_lives_paper made = {.table = table};
    made.survival = calloc(2 * table->data.n + 1, sizeof *made.survival);
    trn_status status = made.survival ? add_ranks(&made) : TRN_E_MEMORY;
    if (status == TRN_OK)
        status = table->data.grouped ? by_looks(&made) : by_product_limit(&made);
    if (status == TRN_OK)
        status = add_line(&made);
    if (status < 0)
        trn_lives_paper_free(&made);
    else
        *paper = made;
    return status;
}

void trn_lives_paper_free(trn_lives_paper *paper)
{
    free(paper->ranks);
    free(paper->survival);
    free(paper->line);
    *paper = (trn_lives_paper){0};
}
