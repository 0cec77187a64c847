/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The part of the page about a failure: explanations compared, in short; review.txt has it whole. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <trunnion/cautions.h>
#include <trunnion/review_outside.h>

#include "page_parts.h"

static void factor(trn_html *html, const trn_review_row *row, trn_review_model model)
{
    char text[3][48];
    char cell[160];
    if (isnan(row->factor[model])) {
        trn_html_cell(html, "");
        return;
    }
    trn_number_for_people(row->factor[model], 2, text[0], sizeof text[0]);
    trn_number_for_people(row->low[model], 2, text[1], sizeof text[1]);
    trn_number_for_people(row->high[model], 2, text[2], sizeof text[2]);
    if (row->explanation == 0)
        (void)snprintf(cell, sizeof cell, "%s", text[0]);
    else
        (void)snprintf(cell, sizeof cell, "%s (%s to %s)", text[0], text[1], text[2]);
    trn_html_cell(html, cell);
}

static void part_table(trn_page *page, const trn_review *review, size_t part)
{
    static const trn_html_column columns[] = {
        {"Explanation", false},          {"Life at 90 % [h]", true},
        {"Failed by then [%]", true},    {"Factor, this unit alone", true},
        {"Factor, with the sisters", true}, {"Share of life lost [%]", true},
        {"Remark", false},
    };
    const trn_review_part *p = &review->parts[part];
    trn_html *html = &page->html;
    char caption[300];
    char hours[48];
    trn_number_for_people(p->failure->hours, 3, hours, sizeof hours);
    (void)snprintf(caption, sizeof caption, "%s, failed at %s h", p->name, hours);
    trn_html_table_begin(html, caption, columns, sizeof columns / sizeof columns[0]);
    for (size_t e = 0; e < review->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(review, part, e);
        trn_html_row_begin(html);
        trn_html_cell(html, row->scenario);
        trn_html_cell_number(html, row->life_h, 3);
        trn_html_cell_number(html, row->failed_pct, 3);
        factor(html, row, TRN_ALONE);
        factor(html, row, TRN_FLEET);
        trn_html_cell_number(html, row->share_pct, 2);
        trn_html_cell(html, row->remark);
        trn_html_row_end(html);
    }
    trn_html_table_end(html);
}

/* Findings that no factor of the table holds. */
static void outside(trn_page *page, const trn_review *review)
{
    trn_outside *list = NULL;
    size_t n = 0;
    trn_faults faults = {0};
    if (trn_review_outside(review, &faults, &list, &n) != TRN_OK)
        n = 0;
    for (size_t i = 0; i < n; i++) {
        bool told = false;
        for (size_t k = 0; k < i; k++)
            told = told || (list[k].kind == list[i].kind && list[k].shaft == list[i].shaft);
        if (!told)
            trn_html_caution(&page->html,
                             "In no life and no factor below: %s %s %s in %s%s%s. Measure that first.",
                             list[i].kind == TRN_OUTSIDE_BOTTOMS ? "the shaft" : "the tubes of",
                             review->machine->shafts[list[i].shaft].shaft,
                             list[i].kind == TRN_OUTSIDE_BOTTOMS ? "bottoms" : "part",
                             list[i].place,
                             list[i].explanation > 0 ? ", under " : "",
                             list[i].explanation > 0
                                 ? review->explanations[list[i].explanation].name
                                 : "");
    }
    trn_faults_free(&faults);
    free(list);
}

void trn_page_review(trn_page *page)
{
    const trn_review *review = page->facts->review;
    trn_html *html = &page->html;
    trn_html_caution(html, "%s", trn_caution_text(TRN_CAUTION_REVIEW));
    outside(page, review);
    for (size_t i = 0; i < review->part_count; i++)
        part_table(page, review, i);
    trn_html_paragraph(html,
                       "Factor: how many times better the hours seen fit the explanation than the "
                       "case as specified; in brackets 10 to 90 %% over the slopes and model errors "
                       "of the sensitivity table. It is no probability of an explanation: what was "
                       "held before the hours were known belongs to the reader, and only the "
                       "explanations listed are compared. A share of the life lost is no share of "
                       "fault; it is of what all departures listed would take together, and another "
                       "list gives other shares.");
    trn_html_paragraph(html,
                       "Facts, computed results and opinion apart, damage signs, what may not be "
                       "concluded and what further evidence would decide: review.txt. The numbers: "
                       "review.csv, review_sensitivity.csv, review_posterior.csv, review_signs.csv, "
                       "review_shares.csv, review_next.csv.");
}
