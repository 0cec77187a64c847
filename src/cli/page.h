/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/cli: report.html, inputs.csv and manifest.csv. */
#ifndef TRUNNION_CLI_PAGE_H
#define TRUNNION_CLI_PAGE_H

#include <trunnion/page.h>

#include "cli.h"

enum { CLI_TABLES_MAX = 48 };

/* The tables of a case folder that are there, with their SHA-256. */
typedef struct cli_tables {
    trn_page_file file[CLI_TABLES_MAX];
    size_t n;
    bool failed; /* one cannot be read */
} cli_tables;

void cli_tables_hash(const char *folder, cli_tables *tables);
/* Are they the same, byte for byte? */
bool cli_tables_same(const cli_tables *a, const cli_tables *b);

typedef struct cli_page {
    trn_trace trace;
    trn_inputs inputs;
    trn_stands stands;
    trn_checkup checkup;
    trn_buffer command;
    char inputs_sha256[65];
    trn_page_facts facts;
} cli_page;

/* What the page is made of, from drawn results; inputs.csv is added to the buffer. To be freed
 * with cli_page_free, also after a failure. results: taken as they are, their notes of the draws
 * are worked out once more. */
trn_status cli_page_make(const cli_options *options, trn_results *results,
                         const cli_tables *tables, cli_page *page, trn_buffer *inputs);
void cli_page_free(cli_page *page);

#endif
