/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The report of a failure review: what it is made of, and its facts. */
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion.h>

#include "review_rows.h"

/* ---- writing -------------------------------------------------------------------------------- */

static void paragraph(const review_page *page, const char *mark, const char *format, va_list args)
{
    va_list again;
    va_copy(again, args);
    int n = vsnprintf(NULL, 0, format, args);
    char *text = n >= 0 ? malloc((size_t)n + 1) : NULL;
    if (text) {
        (void)vsnprintf(text, (size_t)n + 1, format, again);
        trn_buffer_add(page->out, mark);
        trn_text_wrap(text, strlen(mark), strlen(mark), page->width, page->out);
    } else {
        page->out->failed = true;
    }
    va_end(again);
    free(text);
}

void review_say(const review_page *page, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    paragraph(page, "", format, args);
    va_end(args);
}

void review_item(const review_page *page, const char *mark, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    paragraph(page, mark, format, args);
    va_end(args);
}

void review_kind(const review_page *page, const char *title, const char *what)
{
    trn_buffer_add(page->out, "\n");
    for (size_t i = 0; i < page->width; i++)
        trn_buffer_add(page->out, "=");
    trn_buffer_print(page->out, "\n%s: %s\n", title, what);
    for (size_t i = 0; i < page->width; i++)
        trn_buffer_add(page->out, "=");
    trn_buffer_add(page->out, "\n");
}

void review_head(const review_page *page, const char *title)
{
    trn_buffer_print(page->out, "\n%s\n", title);
    for (size_t i = 0; title[i]; i++)
        trn_buffer_add(page->out, "-");
    trn_buffer_add(page->out, "\n");
}

void review_grid(const review_page *page, trn_grid *grid)
{
    bool right[16] = {false};
    for (size_t i = 1; i < grid->columns && i < 16; i++)
        right[i] = true;
    trn_grid_print(grid, right, page->out);
    page->out->failed = page->out->failed || grid->failed;
    trn_grid_free(grid);
}

review_number review_number_of(double value, int digits)
{
    review_number n = {""};
    if (!isnan(value))
        trn_number_for_people(value, digits, n.text, sizeof n.text);
    return n;
}

void review_cell(trn_grid *grid, double value, int digits)
{
    trn_grid_add(grid, review_number_of(value, digits).text);
}

/* ---- facts ---------------------------------------------------------------------------------- */

static const char *or_blank(const char *text)
{
    return text && *text ? text : "(not stated)";
}

static void identity(const review_page *page)
{
    const trn_head *h = &page->v->machine->head;
    review_head(page, "Identity and hours");
    review_item(page, "  ", "machine: %s; serial %s; owner %s", h->name, or_blank(h->serial),
                or_blank(h->owner));
    review_item(page, "  ", "manual taken as the specification: %s", or_blank(h->manual));
    review_item(page, "  ", "prepared by: %s; date %s", or_blank(h->prepared_by),
                or_blank(h->date));
    for (size_t p = 0; p < page->v->part_count; p++) {
        const trn_failure *f = page->v->parts[p].failure;
        trn_buffer hours = {0};
        trn_buffer_print(&hours, "%.6g h", f->hours);
        if (f->hours_spread > 0)
            trn_buffer_print(&hours, " +- %.6g h", f->hours_spread);
        review_item(page, "  ", "failed: %s at %s%s%s", f->component, hours.text ? hours.text : "",
                    f->note ? "; " : "", f->note ? f->note : "");
        trn_buffer_free(&hours);
    }
    review_item(page, "  ", "Hours are hours in which the PTO turns. Which meter was read, by whom, "
                            "and how far it can be off: to be stated with the record.");
}

static void custody(const review_page *page)
{
    static const char *const list[] = {
        "pictures of everything before a hand touches it, with a scale, loaded and unloaded side",
        "oil level, plug, breather and outside of the seals noted before any oil is let out",
        "nothing turned over, washed, pulled apart or topped up before that",
        "the other party told in time of every step that cannot be undone, and present or waived",
        "first drain, sediment, magnet and filter debris kept apart, each in a clean bottle of its "
        "own, capped and labelled at once",
        "each sample halved: one half stays sealed",
        "a blank bottle, new oil of the same drum, grease of the same cartridge and soil of the "
        "field kept for comparison",
        "oil and its hours, hours of the box, top-ups and operator written on each label",
        "parts oiled, dry, in separate bags so that no faces rub; seal numbers noted",
        "every hand-over with date, two names and signatures",
        "log and picture files copied once, their hash written down",
        "the hour meter photographed; how it counts and how far it is off",
        "work only on a cold machine at rest: key out, lowered or propped",
    };
    review_head(page, "Custody and condition as received (to be ticked and signed by hand)");
    for (size_t i = 0; i < sizeof list / sizeof list[0]; i++)
        review_item(page, "  [ ] ", "%s", list[i]);
    review_item(page, "  ", "Standards on this, from memory and to be looked up before they are "
                            "cited: ASTM E1188, E860, E1459, E1492, E620, E678, D4840.");
}

static const double rpm = 3.14159265358979323846 / 30;

static void duty_cell(trn_grid *grid, double value, int digits, bool changed)
{
    char text[64];
    (void)snprintf(text, sizeof text, "%s%s", review_number_of(value, digits).text,
                   changed ? "*" : "");
    trn_grid_add(grid, text);
}

static void duty(const review_page *page)
{
    const trn_machine *m = page->v->machine;
    trn_grid grid = {.columns = 7};
    static const char *const head[] = {"condition", "share %", "pto rpm", "power kW", "shock",
                                       "ambient degC", "dust mg/m3"};
    static const char *const columns[] = {"share", "pto_speed", "power", "shock", "ambient", "dust"};
    const trn_table *table = trn_table_find("duty");
    bool changed = review_is_changed(&m->head, trn_table_head(), "ambient");
    for (size_t i = 0; i < m->duty_count; i++)
        changed = changed || m->duty[i].row.changed;
    review_head(page, changed ? "Duty, NOT as entered (* changed by --set or --scenario)"
                              : "Duty, as entered");
    for (size_t i = 0; i < sizeof head / sizeof head[0]; i++)
        trn_grid_add(&grid, head[i]);
    for (size_t i = 0; i < m->duty_count; i++) {
        const trn_duty *d = &m->duty[i];
        trn_grid_add(&grid, d->condition);
        const double values[] = {100 * d->share, d->pto_speed / rpm, d->power / 1000, d->shock,
                                 (isnan(d->ambient) ? m->head.ambient : d->ambient) - 273.15,
                                 d->dust * 1e6};
        for (size_t k = 0; k < sizeof values / sizeof values[0]; k++) {
            bool mine = review_is_changed(d, table, columns[k]) ||
                        (isnan(d->ambient) && strcmp(columns[k], "ambient") == 0 &&
                         review_is_changed(&m->head, trn_table_head(), "ambient"));
            duty_cell(&grid, values[k], k == 1 || k == 2 ? 4 : 3, mine);
        }
    }
    review_grid(page, &grid);
}

static const char *looks_like(const char *sign)
{
    for (size_t i = 0; trn_evidence_signs[i]; i++)
        if (strcmp(trn_evidence_signs[i], sign) == 0)
            return trn_evidence_signs_seen[i];
    return "";
}

static void seen(const review_page *page)
{
    review_head(page, "Damage signs recorded");
    for (size_t p = 0; p < page->v->part_count; p++) {
        const trn_failure *f = page->v->parts[p].failure;
        for (size_t i = 0; i < f->sign.n; i++)
            review_item(page, "  ", "%s: %s (%s)", f->component, f->sign.v[i],
                        looks_like(f->sign.v[i]));
        if (page->v->parts[p].sign_twice)
            review_item(page, "  ! ", "%s: a sign is entered more than once; each counts once",
                        f->component);
        if (f->sign.n == 0)
            review_item(page, "  ", "%s: none recorded", f->component);
    }
    review_item(page, "  ", "The first damage counts: most rubbed over, fewest hours. Low oil, heat "
                            "and debris are also what a collapse leaves behind.");
    if (page->v->machine->samples_count > 0)
        review_item(page, "  ", "Oil: %zu samples in samples.csv; `trunnion samples CASE` gives their "
                                "rates and resets.", page->v->machine->samples_count);
    else
        review_item(page, "  ", "Oil: no samples in the case.");
}

static void fleet(const review_page *page)
{
    const trn_review *v = page->v;
    review_head(page, "Sister units (lives.csv)");
    if (!v->has_fleet) {
        review_item(page, "  ", "None given. Survivors can turn the order of the explanations round: "
                                "ask for their hours before anything is concluded.");
        return;
    }
    review_item(page, "  ", "%.0f other units, %.0f of them failed. The same part in machines alike; "
                            "the failed unit is not among them. A unit lost to another part belongs "
                            "there as running.", v->fleet.units, v->fleet.failed);
    trn_buffer ages = {0};
    for (size_t i = 0; i < v->fleet.n; i++) {
        const trn_weibull_row *r = &v->fleet.rows[i];
        trn_buffer_add(&ages, i ? ", " : "");
        if (r->count != 1)
            trn_buffer_print(&ages, "%zu x ", r->count);
        if (r->kind == TRN_WEIBULL_EXACT)
            trn_buffer_print(&ages, "%.6g failed", r->by_h);
        else if (r->kind == TRN_WEIBULL_RIGHT)
            trn_buffer_print(&ages, "%.6g sound", r->after_h);
        else
            trn_buffer_print(&ages, "%.6g to %.6g failed", r->after_h, r->by_h);
    }
    review_item(page, "  ", "ages in h: %s", ages.text ? ages.text : "");
    trn_buffer_free(&ages);
    if (*v->fleet_remark)
        review_item(page, "  ! ", "%s%s", v->fleet_remark,
                    v->has_less ? ". The factors without are computed below" : "");
}

static void explanations(const review_page *page)
{
    const trn_review *v = page->v;
    const trn_machine *m = v->machine;
    review_head(page, "Explanations listed");
    review_item(page, "  ", "Listed by: %s. `as specified` is the case: what this person specified, no "
                            "more.", or_blank(m->head.prepared_by));
    for (size_t e = 1; e < v->explanation_count; e++) {
        review_item(page, "  ", "%s", v->explanations[e].name);
        for (size_t i = 0; i < m->scenarios_count; i++) {
            const trn_scenario *s = &m->scenarios[i];
            if (strcmp(s->scenario, v->explanations[e].name) == 0)
                review_item(page, "      ", "%s = %s%s%s", s->quantity,
                            s->value && *s->value ? s->value : "(blank)", s->note ? "   # " : "",
                            s->note ? s->note : "");
        }
    }
    for (size_t p = 0; p < v->part_count; p++)
        if (!v->parts[p].fault_compared)
            review_item(page, "  ! ", "NOT COMPARED: a fault of %s itself (material, machining, "
                                      "assembly). It is always among the explanations; here nobody "
                                      "listed it.", v->parts[p].name);
    review_item(page, "  ", "Not compared either: whatever else nobody listed.");
}

void review_facts(const review_page *page)
{
    review_kind(page, "FACTS", "as they stand in the tables, changes named; nothing here is computed");
    identity(page);
    review_changed(page);
    custody(page);
    duty(page);
    seen(page);
    fleet(page);
    explanations(page);
}

/* ---- all ------------------------------------------------------------------------------------ */

static void ending(const review_page *page)
{
    review_head(page, "Limits, version, data");
    review_item(page, "  ", "trunnion %s. Limits of the models: docs/limits.md. The numbers hold for the "
                            "tables as they are now; write down their hashes (sha256sum CASE/*.csv) "
                            "with this page.", TRN_VERSION);
    review_item(page, "  ", "%s", trn_caution_text(TRN_CAUTION_ALL));
}

void trn_review_text(const trn_review *review, size_t width, trn_buffer *out)
{
    review_page page = {review, width, out};
    trn_buffer_print(out, "FAILURE REVIEW: %s\n\n", review->machine->head.name);
    review_say(&page, "%s", trn_caution_text(TRN_CAUTION_REVIEW));
    trn_buffer_add(out, "\n");
    review_say(&page, "Three kinds of text, kept apart: FACTS (what was entered), COMPUTED (what follows "
                      "from them by named formulas), OPINION (what rests on judgement).");
    review_facts(&page);
    review_computed(&page);
    review_opinion(&page);
    ending(&page);
}

void trn_review_table(const trn_review *review, size_t width, trn_buffer *out)
{
    for (size_t p = 0; p < review->part_count; p++) {
        trn_row_set set = trn_review_set(review, p);
        trn_buffer_print(out, "%s%s\n\n", p ? "\n" : "", review->parts[p].name);
        trn_rows_text(&set, width, out);
    }
}
