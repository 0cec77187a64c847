/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sources, cautions, what was not computed, how the page was made, signatures. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion.h>
#include <trunnion/cautions.h>
#include <trunnion/draws.h>
#include <trunnion/formula.h>

#include "page_parts.h"

/* ---- sources -------------------------------------------------------------------------------- */

static void mark_keys(const char *keys, bool *used)
{
    for (const char *p = keys; *p;) {
        size_t n = strcspn(p, " ;(");
        const trn_source *source = trn_source_find(p, n);
        for (size_t i = 0; source && i < trn_source_count(); i++)
            if (trn_source_at(i) == source)
                used[i] = true;
        p += strcspn(p, ";");
        p += strspn(p, "; ");
    }
}

static void list_of_standing(trn_page *page, const bool *used, const char *standing, bool exact,
                             const char *heading)
{
    static const char *const named[] = {"published", "memory"};
    const char *list[512];
    size_t n = 0;
    for (size_t i = 0; i < trn_source_count() && n < sizeof list / sizeof list[0]; i++) {
        const char *own = trn_source_at(i)->standing;
        bool other = true;
        for (size_t k = 0; k < sizeof named / sizeof named[0]; k++)
            other = other && strcmp(own, named[k]) != 0;
        if (used[i] && (exact ? strcmp(own, standing) == 0 : other))
            list[n++] = trn_source_at(i)->text;
    }
    if (n == 0)
        return;
    trn_html_subheading(&page->html, heading);
    trn_html_list(&page->html, false, list, n);
}

void trn_page_sources(trn_page *page)
{
    const trn_trace *trace = page->facts->trace;
    bool *used = calloc(trn_source_count() + 1, sizeof *used);
    bool *seen = calloc(TRN_STEP_COUNT + 1, sizeof *seen);
    size_t formulas = 0;
    page->html.out->failed = page->html.out->failed || !used || !seen;
    for (size_t s = 0; used && seen && s < TRN_STEP_COUNT; s++) {
        const trn_formula *f = trn_step_formula((trn_step_id)s);
        for (size_t i = 0; f && i < trace->count && !seen[s]; i++)
            seen[s] = trace->list[i].formula == f;
        if (seen[s]) {
            formulas++;
            mark_keys(f->source, used);
        }
    }
    if (used && seen) {
        trn_html_paragraph(&page->html,
                           "Sources of the %zu formulas that this case went through. `trunnion "
                           "formula NAME` shows each with equation, range and source; `--working "
                           "RESULT` shows the chain behind a number; `trunnion prove` replays the "
                           "published check values on the copy at hand.",
                           formulas);
        trn_buffer_add(page->html.out, "<div class=\"small\">\n");
        list_of_standing(page, used, "published", true, "Published, text seen");
        list_of_standing(page, used, "memory", true,
                         "Recalled: not yet compared with the printed source");
        list_of_standing(page, used, "", false, "Practice, derived and mixed");
        trn_buffer_add(page->html.out, "</div>\n");
    }
    free(used);
    free(seen);
}

/* ---- cautions ------------------------------------------------------------------------------- */

void trn_page_cautions(trn_page *page)
{
    static const char *const before[] = {
        "The operator's manual of the machine and of each shaft, and the maker's bulletins: where "
        "they ask for more, or sooner, or for another lubricant, they hold.",
        "Local law and the rules of whoever insures or supervises the work.",
        "What only a licensed or qualified person may judge or repair: guards, a driveline after an "
        "accident, a claim, a machine that was changed. Their inspection goes before any number "
        "here.",
        "What is seen, heard and felt at the machine: a part that is hot, loose, noisy or leaking "
        "is stopped whatever this page says.",
    };
    static const char *const not_said[] = {
        "No figure here says that a machine may be used, sold, or put back to work.",
        "No figure here says who is to blame for a failure.",
        "An interval holds for the machine, the use and the inputs listed, and for no other.",
    };
    trn_html *html = &page->html;
    const char *lines[TRN_CAUTIONS];
    size_t n = 0;
    for (int i = 0; i < TRN_CAUTIONS; i++)
        if (i != TRN_CAUTION_EXTENSION && (i != TRN_CAUTION_REVIEW || page->m->failure_count > 0))
            lines[n++] = trn_caution_line((trn_caution)i);
    trn_html_paragraph(html, "In full they stand at the head of the part that they belong to. In "
                             "short:");
    trn_html_list(html, false, lines, n);
    trn_html_subheading(html, "What goes before this page");
    trn_html_list(html, true, before, sizeof before / sizeof before[0]);
    trn_html_subheading(html, "What may not be concluded from it");
    trn_html_list(html, false, not_said, sizeof not_said / sizeof not_said[0]);
}

/* ---- gaps ----------------------------------------------------------------------------------- */

static bool same_text(const trn_checkup_item *a, const trn_checkup_item *b)
{
    return a->part == b->part && a->state == b->state && strcmp(a->text, b->text) == 0;
}

static bool told_before(const trn_checkup *c, size_t i)
{
    for (size_t k = 0; k < i; k++)
        if (same_text(&c->items[k], &c->items[i]))
            return true;
    return false;
}

static void gaps_of(trn_page *page, trn_checkup_state state, const char *caption)
{
    static const trn_html_column columns[] = {{"Part", false}, {"Of", false}, {"Why", false}};
    const trn_checkup *c = page->facts->checkup;
    bool begun = false;
    for (size_t i = 0; i < c->count; i++) {
        const trn_checkup_item *item = &c->items[i];
        if (item->state != state || told_before(c, i))
            continue;
        if (!begun)
            trn_html_table_begin(&page->html, caption, columns,
                                 sizeof columns / sizeof columns[0]);
        begun = true;
        trn_html_row_begin(&page->html);
        trn_html_cell(&page->html, trn_checkup_part_word(item->part));
        trn_buffer of = {0};
        for (size_t k = i; k < c->count; k++)
            if (same_text(&c->items[k], item))
                trn_buffer_print(&of, "%s%s", of.length ? ", " : "", c->items[k].item);
        trn_html_cell(&page->html, of.text);
        trn_html_cell(&page->html, item->text);
        trn_html_row_end(&page->html);
        page->html.out->failed = page->html.out->failed || of.failed;
        trn_buffer_free(&of);
    }
    if (begun)
        trn_html_table_end(&page->html);
}

void trn_page_gaps(trn_page *page)
{
    trn_html_paragraph(&page->html, "What a case does not hold is not invented: a calculation that "
                                    "lacks an input is left out, or takes the reference of the "
                                    "manual's interval, and says so here.");
    trn_buffer_add(page->html.out, "<div class=\"small\">\n");
    gaps_of(page, TRN_CHECKUP_MISSING, "Not computed, or taken as at a reference");
    gaps_of(page, TRN_CHECKUP_LOOK, "Computed, but worth a second look");
    trn_buffer_add(page->html.out, "</div>\n");
    trn_html_paragraph(&page->html,
                       "Never computed: teeth, axles, splines, seals and housings as parts that "
                       "fail, sudden failure, ageing of seals and hoses, and whatever nobody "
                       "entered.");
}

/* ---- how the page was made ------------------------------------------------------------------ */

const char trn_a1_edition_text[] = "ISO 281:2007 (a1 of the minimum-life form)";

static const trn_draw_plan *plan_of(const trn_page_facts *facts)
{
    return facts->results->draws ? &facts->results->draws->plan : NULL;
}

void trn_page_trace(trn_page *page)
{
    static const trn_html_column columns[] = {{"Table read", false}, {"SHA-256", false}};
    const trn_page_facts *facts = page->facts;
    const trn_draw_plan *plan = plan_of(facts);
    char draws[64] = "none: medians only";
    char seed[32] = "";
    if (plan) {
        (void)snprintf(draws, sizeof draws, "%zu%s", plan->draws,
                       plan->plain ? ", plain" : ", shifted Sobol points");
        (void)snprintf(seed, sizeof seed, "%llu", (unsigned long long)plan->seed);
    }
    const trn_html_pair pairs[] = {
        {"program", "trunnion " TRN_VERSION},
        {"command", facts->command},
        {"draws", draws},
        {"seed", seed},
        {"reliability factor", trn_a1_edition_text},
        {"SHA-256 of inputs.csv", facts->inputs_sha256},
    };
    trn_html_pairs(&page->html, "How this page was made", pairs, sizeof pairs / sizeof pairs[0]);
    trn_buffer_add(page->html.out, "<div class=\"small\">\n");
    trn_html_table_begin(&page->html, "Tables that were read", columns,
                         sizeof columns / sizeof columns[0]);
    for (size_t i = 0; i < facts->file_count; i++) {
        trn_html_row_begin(&page->html);
        trn_html_cell(&page->html, facts->files[i].name);
        trn_html_cell(&page->html, facts->files[i].sha256);
        trn_html_row_end(&page->html);
    }
    trn_html_table_end(&page->html);
    trn_buffer_add(page->html.out, "</div>\n");
    trn_html_paragraph(&page->html,
                       "The foot of each page has the first 16 digits of the SHA-256 of "
                       "inputs.csv, the list of all values that were used; manifest.csv has those "
                       "of every file. The same tables, command and version give the same page.");
}

void trn_page_signatures(trn_page *page)
{
    static const char *const who[] = {
        "Prepared by, date", "Inputs confirmed by (owner or operator), date",
        "Inspected by (qualified person), date"};
    trn_html_paragraph(&page->html, "Signed for the inputs and for having read the cautions, not "
                                    "for the numbers.");
    for (size_t i = 0; i < sizeof who / sizeof who[0]; i++)
        trn_html_paragraph_of(&page->html, "sign", who[i]);
}
