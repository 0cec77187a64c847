/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page of a report: its order, head and style. */
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <trunnion.h>
#include <trunnion/cautions.h>

#include "page_parts.h"

typedef struct part {
    const char *id, *heading;
    void (*write)(trn_page *page);
} part;

/* The order of the page: what is decided, how sure it is, what it rests on, where it comes from. */
static const part parts[] = {
    {"decision", "Decision: service intervals", trn_page_decision},
    {"sure", "What governs, and how sure it is", trn_page_sure},
    {"buys", "What it buys", trn_page_buys},
    {"setup", "Set-up: fit and angles", trn_page_setup},
    {"temperatures", "Losses and oil temperatures", trn_page_heat},
    {"lives", "Lives", trn_page_lives},
    {"review", "Failure review", trn_page_review},
    {"choices", "Assumptions and chosen numbers", trn_page_choices},
    {"sources", "Sources", trn_page_sources},
    {"cautions", "Cautions, and what goes before this page", trn_page_cautions},
    {"gaps", "What was not computed, and why", trn_page_gaps},
    {"inputs", "Inputs", trn_page_inputs},
    {"trace", "Version, seed and files", trn_page_trace},
    {"signatures", "Signatures", trn_page_signatures},
};

static const char page_style[] =
    "@page{margin:11mm 12mm 12mm}\n"
    "html{font-size:8.8pt;line-height:1.25}\n"
    "h2{font-size:12pt;margin-top:4mm}\n"
    "table{font-size:7.6pt;line-height:1.17;width:100%;margin:1.5mm 0 2mm}\n"
    "th,td{padding:0.28mm 1mm}\n"
    "th.n,td.n{white-space:normal}\n"
    "td.n,tbody th.n{white-space:nowrap}\n"
    "table.pairs{width:auto}\n"
    "figure{margin:2mm 0 3mm}\n"
    "figure svg{display:block;margin:0 auto;width:100%;max-height:112mm}\n"
    "tbody th{min-width:19mm}\n"
    "tbody th.n{min-width:0}\n"
    "td{min-width:11.5mm}\n"
    "td.n{min-width:0}\n"
    "td:last-child{min-width:19mm}\n"
    "thead th,td.n{overflow-wrap:break-word}\n"
    ".small ul{columns:2;column-gap:6mm;margin:1mm 0}\n"
    ".small li{break-inside:avoid}\n"
    ".small,.small table,.notes{font-size:6.8pt}\n"
    ".small p,.small li{margin:0.3mm 0}\n"
    ".small table{margin:1.4mm 0 1.6mm;line-height:1.15}\n"
    ".small th,.small td{padding:0.25mm 1mm}\n"
    ".small td{min-width:8mm}\n"
    ".small td:last-child{min-width:9mm}\n"
    ".small tbody th{min-width:22mm}\n"
    ".small td:nth-child(-n+4):not(.n){min-width:16mm}\n"
    "#sure svg{max-height:132mm}\n"
    "#buys svg,#setup svg{max-height:94mm}\n"
    "#lives svg{max-height:106mm}\n"
    "tr:has(>th.group),thead tr{break-after:avoid}\n"
    "#signatures{break-inside:avoid}\n"
    ".sign{margin:7mm 0 0;border-top:0.5pt solid #111;width:85mm;padding-top:0.6mm}\n"
    ".reasons{font-size:8pt}\n"
    ".reasons p{margin:0.5mm 0}\n"
    ".caution{font-size:8.5pt}\n"
    ".notes ol{columns:2;column-gap:6mm;margin:0.5mm 0}\n"
    "section.apart{break-before:page}\n";

/* ---- small things --------------------------------------------------------------------------- */

void trn_number_within(double value, double low, double high, char *out, size_t size)
{
    double half = (high - low) / 2;
    if (size > 0)
        out[0] = '\0';
    if (isnan(value))
        return;
    if (!isfinite(value) || value == 0 || !(half > 0) || !isfinite(half)) {
        trn_number_for_people(value, 3, out, size);
        return;
    }
    int first = (int)floor(log10(fabs(value)));        /* place of its first digit */
    int last = (int)ceil(log10(half / 10) - 1e-12);    /* of the last that says something */
    int digits = first - last + 1;
    trn_number_for_people(value, digits < 1 ? 1 : digits > 3 ? 3 : digits, out, size);
}

void trn_page_band(double low, double high, trn_buffer *out)
{
    char text[2][48];
    if (isnan(low) || isnan(high))
        return;
    trn_number_within(low, low, high, text[0], sizeof text[0]);
    trn_number_within(high, low, high, text[1], sizeof text[1]);
    trn_buffer_print(out, "%s to %s", text[0], text[1]);
}

void trn_page_basis(const trn_page *page, const char *address, trn_buffer *out)
{
    const trn_inputs *inputs = page->facts->inputs;
    const trn_stand *stand = trn_stands_of(page->facts->stands, address);
    if (!stand || stand->weakest == TRN_NONE)
        return;
    trn_buffer_print(out, "%s\xC2\xA0%zu/%zu", trn_basis_word(inputs->list[stand->weakest].basis),
                     stand->as_weak, stand->count);
}

static bool goes_on(const char *name, const char *begin)
{
    size_t n = strlen(begin);
    return strncmp(name, begin, n) == 0 &&
           (name[n] == '\0' || (name[n] == '_' && name[n + 1] >= '0' && name[n + 1] <= '9'));
}

void trn_page_pictures(trn_page *page, const char *name, const char *numbers)
{
    for (size_t i = 0; i < page->facts->picture_count; i++) {
        const trn_page_picture *p = &page->facts->pictures[i];
        char line[200];
        char description[900];
        if (!goes_on(p->name, name))
            continue;
        (void)snprintf(line, sizeof line, "Figure %zu: %s. The same numbers: %s.",
                       page->html.figures + 1, p->topic, numbers);
        (void)snprintf(description, sizeof description, "%s. The same numbers: %s.", p->finding,
                       numbers);
        (void)trn_html_figure_under(&page->html, p->svg, p->finding, description, line);
    }
}

/* ---- the whole ------------------------------------------------------------------------------ */

static void write_head(trn_page *page)
{
    const trn_head *h = &page->m->head;
    char speed[48];
    char power[48];
    char hours[48];
    char text[300];
    trn_number_for_people(h->pto_speed * 30 / 3.14159265358979323846, 4, speed, sizeof speed);
    trn_number_for_people(h->rated_power / 1000, 3, power, sizeof power);
    trn_number_for_people(h->hours_per_year, 3, hours, sizeof hours);
    (void)snprintf(text, sizeof text,
                   "%s rpm at the PTO, rated for %s kW, %s hours of turning PTO a year", speed,
                   power, hours);
    const trn_html_pair pairs[] = {
        {"machine", text},          {"serial number", h->serial}, {"owner", h->owner},
        {"operator's manual", h->manual}, {"prepared by", h->prepared_by}, {"date", h->date},
    };
    trn_html_pairs(&page->html, "The machine", pairs, sizeof pairs / sizeof pairs[0]);
    trn_html_caution(&page->html, "%s %s", trn_caution_text(TRN_CAUTION_INTERVALS),
                     trn_caution_text(TRN_CAUTION_ALL));
}

trn_status trn_page_write(const trn_page_facts *facts, trn_buffer *out)
{
    trn_page page = {.facts = facts, .r = facts->results, .m = facts->results->machine};
    char margin[200];
    (void)snprintf(margin, sizeof margin, "trunnion %s, inputs %.16s", TRN_VERSION,
                   facts->inputs_sha256);
    trn_html_begin(&page.html,
                   &(trn_html_page){.title = page.m->head.name,
                                    .lead = "Recommended service intervals of a PTO-driven "
                                            "machine, and what they rest on",
                                    .margin = margin,
                                    .style = page_style},
                   out);
    write_head(&page);
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        if (parts[i].write == trn_page_review && !facts->review)
            continue;
        trn_html_section_begin(&page.html, parts[i].id, parts[i].heading);
        parts[i].write(&page);
        trn_html_section_end(&page.html);
    }
    trn_html_end(&page.html);
    return out->failed || facts->stands->failed ? TRN_E_MEMORY : TRN_OK;
}
