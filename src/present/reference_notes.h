/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/present only: what the reference pages say that no registry holds. */
#ifndef TRUNNION_REFERENCE_NOTES_H
#define TRUNNION_REFERENCE_NOTES_H

#include <stddef.h>

/* Text above the tables of docs/case-tables.md. */
extern const char *const trn_notes_case;

/* Rules of a table that its columns cannot say, as Markdown; NULL: none. */
const char *trn_notes_table(const char *table);

/* Title and page of a subject of the catalogue. */
typedef struct trn_subject_note {
    const char *subject, *title, *page;
} trn_subject_note;
const trn_subject_note *trn_notes_subject(const char *subject, size_t length);

#endif
