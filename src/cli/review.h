/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/cli only: the files of a failure review, for `review` and `report`. */
#ifndef TRUNNION_CLI_REVIEW_H
#define TRUNNION_CLI_REVIEW_H

#include <trunnion/review.h>

#include "cli.h"

enum { CLI_MADE_MAX = 48 };

typedef struct cli_made {
    char name[CLI_MADE_MAX][64];
    trn_buffer text[CLI_MADE_MAX];
    size_t n;
} cli_made;

/* NULL with *code where it fails; what is wrong is said on stderr. */
trn_review *cli_review_run(const cli_options *options, const trn_machine *machine,
                           cli_exit *code);

/* All files, plots too where gnuplot is there. */
bool cli_review_make(const trn_review *review, cli_made *made);
void cli_made_free(cli_made *made);

#endif
