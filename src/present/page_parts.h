/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/present/page*.c only: the page being written, and its parts. */
#ifndef TRUNNION_PRESENT_PAGE_PARTS_H
#define TRUNNION_PRESENT_PAGE_PARTS_H

#include <trunnion/page.h>

#include "html.h"

typedef struct trn_page {
    trn_html html;
    const trn_page_facts *facts;
    const trn_results *r;
    const trn_machine *m;
} trn_page;

/* Each writes the inside of its section. */
void trn_page_decision(trn_page *page);
void trn_page_sure(trn_page *page);
void trn_page_buys(trn_page *page);
void trn_page_setup(trn_page *page);
void trn_page_heat(trn_page *page);
void trn_page_lives(trn_page *page);
void trn_page_review(trn_page *page);
void trn_page_choices(trn_page *page);
void trn_page_sources(trn_page *page);
void trn_page_cautions(trn_page *page);
void trn_page_gaps(trn_page *page);
void trn_page_inputs(trn_page *page);
void trn_page_trace(trn_page *page);
void trn_page_signatures(trn_page *page);

/* Pictures of a name and those that go on with it (`one_turn`, `one_turn_2`); says in words where
 * the same numbers stand. */
void trn_page_pictures(trn_page *page, const char *name, const char *numbers);

/* `assumed 5/42`: weakest basis of a result and how many inputs have it; nothing where it
 * has no chain. */
void trn_page_basis(const trn_page *page, const char *address, trn_buffer *out);

/* `12 to 15` of a band, as exact as it is; nothing without one. */
void trn_page_band(double low, double high, trn_buffer *out);

#endif
