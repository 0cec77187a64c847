/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/cli: files for --out, tables and pictures, written whole or not at all. */
#ifndef TRUNNION_CLI_OUTPUTS_H
#define TRUNNION_CLI_OUTPUTS_H

#include "cli.h"

/* Start with {0}. */
typedef struct cli_outputs {
    trn_buffer *texts;
    char (*names)[48];
    size_t n, capacity;
    bool failed;      /* memory ran out, or a picture failed */
    bool no_pictures; /* gnuplot is not installed, said once */
} cli_outputs;

/* Takes a text over as a file. */
void cli_outputs_take(cli_outputs *outputs, const char *name, trn_buffer *text);

/* A script as NAME.svg and NAME.png; frees script and finding. TRN_E_UNKNOWN: nothing to show. */
void cli_outputs_picture(cli_outputs *outputs, const char *name, trn_status built,
                         trn_buffer *script, trn_buffer *finding);

/* Writes them to --out, says how many, frees them. A folder that holds a case is CLI_MISUSE. */
cli_exit cli_outputs_write(const cli_options *options, cli_outputs *outputs);
void cli_outputs_free(cli_outputs *outputs);

#endif
