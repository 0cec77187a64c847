/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The report of a failure review: what would decide, what rests on judgement, and what may not be
 * concluded. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "review_rows.h"

/* ---- further evidence ----------------------------------------------------------------------- */

static void next_of(const review_page *page, size_t p, trn_next_kind kind, size_t most)
{
    const trn_review *v = page->v;
    size_t told = 0;
    for (size_t i = 0; i < v->next_count && told < most; i++) {
        const trn_review_next *n = &v->next[i];
        if (n->part != p || n->kind != kind)
            continue;
        told++;
        if (isnan(n->then)) {
            review_item(page, "      ", "%s (`%s`)", n->what, n->scenario);
            continue;
        }
        review_item(page, "      ", "%s: the factor of `%s` goes from %s to %s", n->what, n->scenario,
                    review_number_of(n->now, 2).text, review_number_of(n->then, 2).text);
    }
    if (told == 0)
        review_item(page, "      ", "nothing that can be computed from what is there");
}

/* Signs nobody recorded on which the explanations differ, and how each is told from the others. */
static void next_signs(const review_page *page, size_t p)
{
    const trn_review *v = page->v;
    size_t told = 0;
    for (size_t i = 0; trn_evidence_signs[i]; i++) {
        bool wanted = false;
        for (size_t k = 0; k < v->next_count; k++)
            wanted = wanted || (v->next[k].part == p && v->next[k].kind == TRN_NEXT_SIGN &&
                                strncmp(v->next[k].what, trn_evidence_signs[i],
                                        strlen(trn_evidence_signs[i])) == 0);
        if (!wanted)
            continue;
        trn_buffer text = {0};
        for (size_t e = 0; e < v->explanation_count; e++)
            if (v->explanations[e].causes)
                trn_buffer_print(&text, "%s%s %+d", text.length ? ", " : "",
                                 v->explanations[e].name,
                                 trn_review_weight(v->explanations[e].causes,
                                                   trn_evidence_signs[i]));
        review_item(page, "      ", "%s (%s): %s", trn_evidence_signs[i], trn_evidence_signs_seen[i],
                    text.text ? text.text : "");
        trn_buffer_free(&text);
        told++;
    }
    if (told == 0)
        review_item(page, "      ", "none of the table");
}

void review_next_evidence(const review_page *page, size_t p)
{
    static const struct {
        trn_next_kind kind;
        const char *title;
    } kinds[] = {
        {TRN_NEXT_SISTERS, "hours of sister units"},
        {TRN_NEXT_HOURS, "the hours of the failure themselves"},
        {TRN_NEXT_EXTENT, "how far the departure went (measure it, or find a record of it)"},
    };
    review_head(page, "What further evidence would decide");
    review_say(page, "Each finding is supposed in turn and the factor computed again "
                     "(statistics.bayes_factor%s); the largest changes first, all of them in "
                     "review_next.csv.",
               page->v->has_fleet ? ", with the sisters" : "");
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        review_item(page, "  ", "%s", kinds[i].title);
        next_of(page, p, kinds[i].kind, 4);
    }
    review_item(page, "  ", "damage signs not recorded that would separate two explanations "
                            "(statistics.damage_sign, judgement)");
    next_signs(page, p);
}

/* ---- signs ---------------------------------------------------------------------------------- */

static void count_cell(double n, trn_grid *grid)
{
    char text[32] = "";
    if (!isnan(n))
        (void)snprintf(text, sizeof text, "%.0f", n);
    trn_grid_add(grid, text);
}

void review_signs_of(const review_page *page, size_t p)
{
    const trn_review *v = page->v;
    const trn_texts *signs = &v->parts[p].failure->sign;
    if (signs->n == 0) {
        review_say(page, "%s: no signs recorded, so nothing is weighed.", v->parts[p].name);
        return;
    }
    trn_grid grid = {.columns = 5};
    static const char *const head[] = {"explanation", "stands for", "for", "against", "neutral"};
    for (size_t i = 0; i < sizeof head / sizeof head[0]; i++)
        trn_grid_add(&grid, head[i]);
    for (size_t e = 0; e < v->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(v, p, e);
        trn_grid_add(&grid, row->scenario);
        trn_grid_add(&grid, *row->cause ? row->cause : "(no cause of the table)");
        count_cell(row->signs_for, &grid);
        count_cell(row->signs_against, &grid);
        count_cell(row->signs_neutral, &grid);
    }
    review_grid(page, &grid);
    for (size_t i = 0; i < signs->n; i++) {
        trn_buffer text = {0};
        for (size_t e = 0; e < v->explanation_count; e++)
            if (v->explanations[e].causes)
                trn_buffer_print(&text, "%s%s %+d", text.length ? ", " : "",
                                 v->explanations[e].name,
                                 trn_review_weight(v->explanations[e].causes, signs->v[i]));
        review_item(page, "  ", "%s: %s", signs->v[i], text.text ? text.text : "");
        trn_buffer_free(&text);
    }
}

static void signs(const review_page *page)
{
    review_head(page, "Signs weighed against the explanations");
    for (size_t p = 0; p < page->v->part_count; p++)
        review_signs_of(page, p);
    review_say(page, "Weights are engineering judgement (statistics.damage_sign), to be calibrated: 2 "
                     "strongly expected, 1 expected, 0 neutral, -1 argues against. They are counted, never "
                     "multiplied into a factor: how probable a sign is under a cause is not known, and "
                     "signs of one collapse hang together.");
}

/* ---- alternatives --------------------------------------------------------------------------- */

static double reading(const trn_review *v, const trn_review_row *row)
{
    return row->factor[v->has_fleet ? TRN_FLEET : TRN_ALONE];
}

static void alternatives_of(const review_page *page, size_t p)
{
    const double strong = 20; /* Kass and Raftery: where `strong` begins */
    const trn_review *v = page->v;
    double best = 0;
    const char *yardstick = "";
    for (size_t e = 0; e < v->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(v, p, e);
        if (reading(v, row) > best) {
            best = reading(v, row);
            yardstick = row->scenario;
        }
    }
    for (size_t e = 0; e < v->explanation_count; e++) {
        const trn_review_row *row = trn_review_at(v, p, e);
        double f = reading(v, row);
        trn_buffer text = {0};
        if (f * strong < best)
            trn_buffer_print(&text, "%s: the hours speak for `%s` against it, %s to 1 (strong), which "
                                    "excludes nothing by itself",
                             row->scenario, yardstick, review_number_of(best / f, 2).text);
        else
            trn_buffer_print(&text, "%s: %s", row->scenario,
                             isnan(f) ? "the hours say nothing about it" : "not excluded by the hours");
        if (row->signs_against > 0)
            trn_buffer_print(&text, "; %.0f sign%s against it", row->signs_against,
                             row->signs_against > 1 ? "s" : "");
        else if (row->signs_for > 0)
            trn_buffer_print(&text, "; %.0f sign%s for it, none against", row->signs_for,
                             row->signs_for > 1 ? "s" : "");
        review_item(page, "  ", "%s", text.text ? text.text : "");
        trn_buffer_free(&text);
    }
    if (*yardstick)
        review_item(page, "  ", "Measured against `%s`, which of those listed fits the hours best%s. With "
                                "another list the yardstick is another.",
                    yardstick, v->has_fleet ? ", with the sisters" : "");
    if (!v->parts[p].fault_compared)
        review_item(page, "  ", "a fault of %s itself: not compared, so not excluded", v->parts[p].name);
}

static void alternatives(const review_page *page)
{
    review_head(page, "Alternatives not excluded");
    for (size_t p = 0; p < page->v->part_count; p++)
        alternatives_of(page, p);
    review_outside_alternatives(page);
}

static void not_concluded(const review_page *page)
{
    static const char *const list[] = {
        "That a part which failed before its rated life was misused: one in ten of rightly used ones "
        "does, and this one is looked at because it failed.",
        "How probable a cause is, from how well the hours fit it. That also hangs on what was held "
        "before, which is the reader's.",
        "A stronger case from several signs that one collapse leaves together.",
        "Anything from a fitted line below the first failure or beyond the hours observed.",
        "Anything from the narrow (Fisher) limits of a fit with fewer than 20 failures.",
        "Anything from lives of different failure modes thrown together.",
        "A prediction from a number whose row is marked as outside its validity (loads above half the "
        "rating, for example).",
        "A share of fault from a share of life lost, least of all from one order of taking the "
        "departures away.",
        "That an explanation which nobody listed is out.",
    };
    review_head(page, "What may not be concluded from this page");
    for (size_t i = 0; i < sizeof list / sizeof list[0]; i++)
        review_item(page, "  - ", "%s", list[i]);
}

void review_opinion(const review_page *page)
{
    review_kind(page, "OPINION", "judgement begins here; it belongs to those who sign");
    signs(page);
    alternatives(page);
    not_concluded(page);
    review_head(page, "Conclusion (opinion of the undersigned, with the record that each step rests on)");
    trn_buffer_add(page->out, "  ____________________________________________________________________\n"
                              "  ____________________________________________________________________\n"
                              "  name, date, signature: _____________________________________________\n");
}
