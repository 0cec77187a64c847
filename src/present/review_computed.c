/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The report of a failure review: what is computed. */
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <trunnion/life.h>

#include "review_rows.h"

enum { CHOSEN = 4 };

static const char *kind_of_life(const trn_review_part *part)
{
    return part->kind == TRN_PART_SHAFT ? "fatigue of the needles of its crosses, the shorter of the "
                                          "two over the duty (joint.cross_life); an upper bound"
           : !part->modified            ? "basic life L10h over the duty (bearing.basic_life)"
           : part->kind == TRN_PART_GEARBOX
               ? "the gearbox's bearings as a system (bearing.system_life of the modified lives, a1 "
                 "left out)"
               : "modified life over the duty (bearing.life_factor), a1 left out";
}

/* Notes of the rows, numbered, each once. */
typedef struct notes {
    trn_grid list; /* one column */
} notes;

static void note_numbers(const char *remarks, notes *all, trn_buffer *out)
{
    for (const char *p = remarks; *p;) {
        const char *end = strstr(p, "; ");
        size_t n = end ? (size_t)(end - p) : strlen(p);
        size_t i = 0;
        while (i < all->list.rows && (strlen(all->list.cell[i]) != n ||
                                      strncmp(all->list.cell[i], p, n) != 0))
            i++;
        if (i == all->list.rows) {
            char text[TRN_REVIEW_REMARK];
            (void)snprintf(text, sizeof text, "%.*s", (int)n, p);
            trn_grid_add(&all->list, text);
        }
        trn_buffer_print(out, "%s%zu", out->length ? "," : "", i + 1);
        p += n + (end ? 2 : 0);
    }
}

static void life_cell(const trn_review_row *row, trn_grid *grid)
{
    char low[48];
    char high[48];
    char text[112];
    trn_number_for_people(row->life_low_h, 4, low, sizeof low);
    trn_number_for_people(row->life_high_h, 4, high, sizeof high);
    if (isnan(row->life_low_h))
        (void)snprintf(text, sizeof text, "not known");
    else if (isnan(row->life_h))
        (void)snprintf(text, sizeof text, "%s..%s", low, high);
    else
        (void)snprintf(text, sizeof text, "%s", low);
    trn_grid_add(grid, text);
}

static void lives(const review_page *page, size_t p)
{
    const trn_review *v = page->v;
    const trn_review_part *part = &v->parts[p];
    trn_grid grid = {.columns = 5};
    notes all = {.list = {.columns = 1}};
    static const char *const head[] = {"explanation", "life at 90 % h", "failed by then %",
                                       "same, minimum life %", "notes"};
    review_head(page, "Lives by explanation");
    for (size_t i = 0; i < sizeof head / sizeof head[0]; i++)
        trn_grid_add(&grid, head[i]);
    for (size_t e = 0; e < v->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(v, p, e);
        trn_buffer numbers = {0};
        trn_grid_add(&grid, row->scenario);
        life_cell(row, &grid);
        review_cell(&grid, row->failed_pct, 3);
        review_cell(&grid, row->failed_least_pct, 3);
        note_numbers(row->remark, &all, &numbers);
        trn_grid_add(&grid, numbers.text ? numbers.text : "");
        trn_buffer_free(&numbers);
    }
    review_grid(page, &grid);
    trn_buffer_add(page->out, "\n");
    for (size_t i = 0; i < all.list.rows; i++) {
        char mark[32];
        (void)snprintf(mark, sizeof mark, "%4zu  ", i + 1);
        review_item(page, mark, "%s", all.list.cell[i]);
    }
    trn_grid_free(&all.list);
    review_say(page, "Life: %s. Failed by %.6g h without model error: statistics.weibull_probability, "
                     "slope %.3g%s.",
               kind_of_life(part), part->failure->hours, trn_review_slope(CHOSEN),
               part->kind == TRN_PART_BEARING
                   ? "; with the minimum life of rolling bearings: statistics.iso281_survival. Far below "
                     "the life the two part by a factor: both stand here"
                   : "");
}

/* An explanation by dirt: where its class comes from decides. */
static void dirt(const review_page *page)
{
    const trn_machine *m = page->v->machine;
    for (size_t i = 0; i < m->scenarios_count; i++) {
        const char *column = strrchr(m->scenarios[i].quantity, '.');
        if (!column || strcmp(column + 1, "cleanliness") != 0)
            continue;
        review_say(page, "Cleanliness is an input. A class counted in oil drained after the failure holds "
                         "the debris of the failure itself: dirtier than the oil was while the part "
                         "still ran, so that it makes dirt look better than it is. A sample from "
                         "before, the drain of a sister unit or of the season before is the one "
                         "to enter.");
        return;
    }
}

static review_number chance(double share)
{
    review_number n = {"more than 99.9"};
    if (share <= 0.9995)
        (void)snprintf(n.text, sizeof n.text, "%.3g", 100 * share);
    return n;
}

static void in_a_fleet(const review_page *page, size_t p)
{
    const trn_review_row *row = trn_review_at(page->v, p, 0);
    double hundred, thousand;
    if (!(row->failed_pct > 0) ||
        trn_life_at_least_one(row->failed_pct / 100, 100, &hundred) < 0 ||
        trn_life_at_least_one(row->failed_pct / 100, 1000, &thousand) < 0)
        return;
    review_say(page, "As specified %.3g %% of such parts fail by then; of 100 units at least one does "
                     "with %s %%, of 1000 with %s %% (statistics.at_least_one). This case was "
                     "looked at because it failed.",
               row->failed_pct, chance(hundred).text, chance(thousand).text);
}

/* ---- factors -------------------------------------------------------------------------------- */

static void factor_cell(const trn_review_row *row, size_t model, trn_grid *grid)
{
    char text[160] = "";
    if (!isnan(row->factor[model]) && row->explanation == 0)
        (void)snprintf(text, sizeof text, "1");
    else if (!isnan(row->factor[model]))
        (void)snprintf(text, sizeof text, "%s (%s to %s)",
                       review_number_of(row->factor[model], 2).text,
                       review_number_of(row->low[model], 2).text,
                       review_number_of(row->high[model], 2).text);
    trn_grid_add(grid, text);
}

static void factor_table(const review_page *page, size_t p)
{
    static const char *const names[TRN_MODELS] = {"this unit alone", "with the sisters",
                                                  "sisters as specified"};
    const trn_review *v = page->v;
    size_t models = v->has_fleet ? TRN_MODELS : 1;
    trn_grid grid = {.columns = 1 + models};
    trn_grid_add(&grid, "explanation");
    for (size_t m = 0; m < models; m++)
        trn_grid_add(&grid, names[m]);
    for (size_t e = 0; e < v->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(v, p, e);
        trn_grid_add(&grid, row->scenario);
        for (size_t m = 0; m < models; m++)
            factor_cell(row, m, &grid);
    }
    review_grid(page, &grid);
    review_say(page, "In brackets: 10 to 90 %% over the slopes and model errors of the next table.");
}

/* Better under some slopes and model errors, worse under others: then nothing is decided. */
static void undecided(const trn_review_row *row, size_t model, trn_buffer *text)
{
    double least = row->grid[model][0];
    double most = least;
    for (size_t i = 1; i < TRN_REVIEW_GRID; i++) {
        least = fmin(least, row->grid[model][i]);
        most = fmax(most, row->grid[model][i]);
    }
    if (least < 1 && most > 1)
        trn_buffer_print(text, " (not decided: %s to %s over the models)",
                         review_number_of(least, 2).text, review_number_of(most, 2).text);
}

static void add_better(const char *lead, const trn_review_row *row, size_t model, trn_buffer *text)
{
    double factor = row->factor[model];
    if (fabs(log(factor)) < 1e-6) { /* the same life */
        trn_buffer_print(text, "%s neither better nor worse%s", lead,
                         model == TRN_ALONE ? " than as specified" : "");
        return;
    }
    trn_buffer_print(text, "%s %s times %s (%s)", lead,
                     review_number_of(factor < 1 ? 1 / factor : factor, 2).text,
                     factor < 1 ? "worse" : "better", trn_evidence_word(factor));
    if (model == TRN_ALONE)
        trn_buffer_add(text, " than as specified");
    undecided(row, model, text);
}

static void factor_sentences(const review_page *page, size_t p)
{
    const trn_review *v = page->v;
    const trn_review_part *part = &v->parts[p];
    for (size_t e = 1; e < v->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(v, p, e);
        double f = row->factor[TRN_ALONE];
        if (isnan(f)) {
            review_item(page, "  ", "%s: no factor%s", row->scenario,
                        row->starved ? "; starved: no life can be stated, the signs decide" : "");
            continue;
        }
        trn_buffer text = {0};
        add_better("the hours fit this", row, TRN_ALONE, &text);
        if (!isnan(row->factor[TRN_FLEET]))
            add_better("; with the sisters under the same explanation", row, TRN_FLEET, &text);
        review_item(page, "  ", "%s: %s", row->scenario, text.text ? text.text : "");
        trn_buffer_free(&text);
    }
    if (!isnan(part->ceiling))
        review_say(page, "Hours of one unit alone can never exceed %s times over as specified, "
                         "whatever the explanation; the life that would reach it is %s h. Beyond that "
                         "only physical evidence counts (statistics.bayes_factor_ceiling).",
                   review_number_of(part->ceiling, 3).text,
                   review_number_of(part->ceiling_life_h, 3).text);
}

static void factors(const review_page *page, size_t p)
{
    const trn_review_part *part = &page->v->parts[p];
    review_head(page, "Hours compared: factor of each explanation over `as specified`");
    factor_table(page, p);
    trn_buffer_add(page->out, "\n");
    factor_sentences(page, p);
    trn_buffer_add(page->out, "\n");
    review_say(page, "Computed with statistics.bayes_factor: slope %.3g, model error of ln L10 %.3g, "
                     "integrated, one and the same for the unit and its sisters; %s. Words after Kass and Raftery (1995): 1 "
                     "to 3 weak, 3 to 20 positive, 20 to 150 strong, above very strong.",
               trn_review_slope(CHOSEN), trn_review_error(CHOSEN),
               part->failure->hours_spread > 0 ? "the hours are an interval"
                                               : "the hours are taken as exact");
    if (page->v->has_fleet)
        review_say(page, "With the sisters: every unit under the same explanation. That is right for what "
                         "all machines share (design, a batch, the same field). Where the cause can only "
                         "concern this unit (this box was low on oil), read the last column: there the "
                         "sisters are as specified and the unit alone departs.");
}

/* Sisters that may be the failed unit: what is left without them. */
static void less_suspects(const review_page *page, size_t p)
{
    const trn_review *v = page->v;
    trn_buffer text = {0};
    for (size_t e = 1; v->has_less && e < v->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(v, p, e);
        if (!isnan(row->factor_less))
            trn_buffer_print(&text, "%s%s %s instead of %s", text.length ? "; " : "", row->scenario,
                             review_number_of(row->factor_less, 2).text,
                             review_number_of(row->factor[TRN_FLEET], 2).text);
    }
    if (text.text)
        review_say(page, "If %s of lives.csv that may be the failed unit %s left out, the factors with "
                         "the sisters are: %s.",
                   v->suspects > 1 ? "the rows" : "the row", v->suspects > 1 ? "are" : "is",
                   text.text);
    page->out->failed = page->out->failed || text.failed;
    trn_buffer_free(&text);
}

/* The range of a stated life is whoever states it: how the factor moves with its lower end. */
static void stated_ranges(const review_page *page, size_t p)
{
    const trn_review *v = page->v;
    trn_review_model model = v->has_fleet ? TRN_FLEET : TRN_ALONE;
    for (size_t e = 1; e < v->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(v, p, e);
        double wider = trn_review_range_factor(v, p, e, 0.1, model);
        double closer = trn_review_range_factor(v, p, e, 10, model);
        if (!v->explanations[e].has_life || !(row->life_low_h < row->life_high_h) ||
            isnan(row->factor[model]) || isnan(wider))
            continue;
        trn_buffer text = {0};
        trn_buffer_print(&text, "%s with a range that begins ten times lower", 
                         review_number_of(wider, 2).text);
        if (!isnan(closer))
            trn_buffer_print(&text, ", %s with one that begins ten times higher",
                             review_number_of(closer, 2).text);
        review_say(page, "%s: its range of lives is stated, not computed, and the factor hangs on it: "
                         "%s as stated, %s.",
                   row->scenario, review_number_of(row->factor[model], 2).text,
                   text.text ? text.text : "");
        page->out->failed = page->out->failed || text.failed;
        trn_buffer_free(&text);
    }
}

static void sensitivity(const review_page *page, size_t p)
{
    const trn_review *v = page->v;
    trn_review_model model = v->has_fleet ? TRN_FLEET : TRN_ALONE;
    trn_grid grid = {.columns = 1 + TRN_REVIEW_GRID};
    review_head(page, "Sensitivity");
    trn_grid_add(&grid, "slope / model error");
    for (size_t i = 0; i < TRN_REVIEW_GRID; i++) {
        char text[32];
        (void)snprintf(text, sizeof text, "%.3g / %.3g", trn_review_slope(i), trn_review_error(i));
        trn_grid_add(&grid, text);
    }
    for (size_t e = 1; e < v->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(v, p, e);
        if (isnan(row->factor[model]))
            continue;
        trn_grid_add(&grid, row->scenario);
        for (size_t i = 0; i < TRN_REVIEW_GRID; i++)
            review_cell(&grid, row->grid[model][i], 3);
    }
    review_grid(page, &grid);
    review_say(page, "Factor %s, by statistics.bayes_factor. The lives do not change with the slope here. "
                     "The other models are in review_sensitivity.csv.",
               v->has_fleet ? "with the sisters" : "of this unit alone");
    stated_ranges(page, p);
    less_suspects(page, p);
}

/* Nobody is to read certainty from a rounding. */
static void percent_cell(trn_grid *grid, double percent)
{
    if (percent > 99 && percent < 100)
        trn_grid_add(grid, "> 99");
    else if (percent > 0 && percent < 1)
        trn_grid_add(grid, "< 1");
    else
        review_cell(grid, percent, 2);
}

static void posterior(const review_page *page, size_t p)
{
    const trn_review *v = page->v;
    trn_review_model model = v->has_fleet ? TRN_FLEET : TRN_ALONE;
    trn_grid grid = {.columns = 1 + TRN_REVIEW_PRIORS};
    review_head(page, "What a reader would hold after, for what was held before");
    trn_grid_add(&grid, "held before %");
    for (size_t k = 0; k < TRN_REVIEW_PRIORS; k++)
        review_cell(&grid, 100 * trn_review_priors[k], 3);
    for (size_t e = 1; e < v->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(v, p, e);
        if (isnan(row->factor[model]))
            continue;
        trn_grid_add(&grid, row->scenario);
        for (size_t k = 0; k < TRN_REVIEW_PRIORS; k++)
            percent_cell(&grid,
                         100 * trn_review_posterior(trn_review_priors[k], row->factor[model]));
    }
    review_grid(page, &grid);
    review_say(page, "Each line compares one explanation with `as specified` and with nothing else; the "
                     "column is the reader's own, and no column is the right one. Computed with "
                     "statistics.posterior, factor %s.",
               v->has_fleet ? "with the sisters" : "of this unit alone");
}

/* ---- shares --------------------------------------------------------------------------------- */

static void shares(const review_page *page, size_t p)
{
    const trn_review *v = page->v;
    const trn_review_part *part = &v->parts[p];
    review_head(page, "Life lost, shared out");
    if (isnan(part->lost_h)) {
        review_say(page, "No shares: %s.", part->no_shares);
        return;
    }
    trn_grid grid = {.columns = 4};
    trn_grid_add(&grid, "departure");
    trn_grid_add(&grid, "share of hours %");
    trn_grid_add(&grid, "share of log life %");
    trn_grid_add(&grid, "alone, life h");
    for (size_t e = 1; e < v->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(v, p, e);
        if (isnan(row->share_pct))
            continue;
        trn_grid_add(&grid, row->scenario);
        review_cell(&grid, row->share_pct, 3);
        review_cell(&grid, row->share_log_pct, 3);
        review_cell(&grid, row->life_h, 4);
    }
    review_grid(page, &grid);
    review_say(page, "A share of the life lost is no share of fault. All %zu departures together would "
                     "take %.4g h from %.4g h. Mean of what each takes away over all orders of applying "
                     "them (statistics.shares); the lives of all combinations are in "
                     "review_shares.csv. Whether a departure happened at all is not in these numbers. They "
                     "also hang on who is listed: another departure in the list, or one fewer, moves "
                     "every share.",
               part->departures, part->lost_h, trn_review_at(v, p, 0)->life_h);
}

void review_computed(const review_page *page)
{
    review_kind(page, "COMPUTED", "from the facts above, under the inputs listed, by named formulas");
    review_outside(page);
    for (size_t p = 0; p < page->v->part_count; p++) {
        const trn_review_part *part = &page->v->parts[p];
        trn_buffer_print(page->out, "\n%s, failed at %.6g h\n", part->name, part->failure->hours);
        lives(page, p);
        dirt(page);
        in_a_fleet(page, p);
        factors(page, p);
        sensitivity(page, p);
        posterior(page, p);
        shares(page, p);
        review_next_evidence(page, p);
    }
}
