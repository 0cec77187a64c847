/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page of a report: one self-contained HTML file that prints on A4. */
#ifndef TRUNNION_PAGE_H
#define TRUNNION_PAGE_H

#include <trunnion/checkup.h>
#include <trunnion/review.h>
#include <trunnion/stands.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef struct trn_page_picture {
    const char *name;    /* of the plot: `losses`, `one_turn_2` */
    const char *topic, *finding;
    const char *svg;
} trn_page_picture;

/* A file and its SHA-256. */
typedef struct trn_page_file {
    char name[64];
    char sha256[65];
} trn_page_file;

/* All that the page is made of; nothing is evaluated while it is written, so that the same facts
 * give the same bytes. */
typedef struct trn_page_facts {
    const trn_results *results; /* TRN_WANT_ALL, with draws (or none asked for), extras, ledger */
    const trn_trace *trace;     /* of that evaluation, for the sources */
    const trn_inputs *inputs;   /* counted by trn_stands_count */
    trn_stands *stands;
    const trn_checkup *checkup;
    const trn_review *review;   /* NULL: no failure to review */
    const trn_page_picture *pictures;
    size_t picture_count;
    const trn_page_file *files; /* tables that were read */
    size_t file_count;
    const char *inputs_sha256;  /* of inputs.csv */
    const char *command;        /* command line */
} trn_page_facts;

/* Status: TRN_E_MEMORY; nothing of use is in out then */
trn_status trn_page_write(const trn_page_facts *facts, trn_buffer *out);

/* A number as exact as its spread lets it be: three digits, and none below a tenth of the half
 * width (high - low)/2. NaN: nothing is written. */
void trn_number_within(double value, double low, double high, char *out, size_t size);

/* manifest.csv: `kind,name,value`. kind input and result: SHA-256 of a file; about: the rest. */
typedef struct trn_manifest {
    const trn_page_facts *facts;
    const trn_page_file *results; /* files written */
    size_t result_count;
} trn_manifest;
/* Adds manifest.csv to `out`; out->failed where memory ran out. */
void trn_manifest_csv(const trn_manifest *manifest, trn_buffer *out);

/* Edition of the reliability factor a1 that lives are computed with. */
extern const char trn_a1_edition_text[];

#ifdef __cplusplus
}
#endif
#endif
