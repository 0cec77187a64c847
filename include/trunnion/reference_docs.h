/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reference pages in Markdown, written from the schema of the tables and from the formula
 * catalogue: docs/case-tables.md, docs/formulas.md, docs/sources.md. */
#ifndef TRUNNION_REFERENCE_DOCS_H
#define TRUNNION_REFERENCE_DOCS_H

#include <trunnion/text.h>

#ifdef __cplusplus
extern "C" {
#endif

/* docs/case-tables.md, from the schema. out->failed where memory ran out; so the next two. */
void trn_docs_case_tables(trn_buffer *out);
/* docs/formulas.md, from the catalogue. */
void trn_docs_formulas(trn_buffer *out);
/* docs/sources.md, from the sources of the catalogue. */
void trn_docs_sources(trn_buffer *out);

typedef struct trn_docs_page {
    const char *file;
    void (*write)(trn_buffer *out);
} trn_docs_page;

/* The three pages by file name. */
extern const trn_docs_page trn_docs_pages[];
extern const size_t trn_docs_page_count;

#ifdef __cplusplus
}
#endif
#endif
