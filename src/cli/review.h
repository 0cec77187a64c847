/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/cli only: the files of a failure review, for `review` and `report`. */
#ifndef TRUNNION_CLI_REVIEW_H
#define TRUNNION_CLI_REVIEW_H

#include <trunnion/review.h>

#include "outputs.h"

/* NULL with *code where it fails; what is wrong is said on stderr. */
trn_review *cli_review_run(const cli_options *options, const trn_machine *machine,
                           cli_exit *code);

/* Adds all files, and the plots where gnuplot is there. */
void cli_review_files(const trn_review *review, cli_outputs *outputs);

#endif
