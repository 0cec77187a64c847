/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/cli: files for --out, tables and pictures, written whole or not at all. */
#ifndef TRUNNION_CLI_OUTPUTS_H
#define TRUNNION_CLI_OUTPUTS_H

#include <trunnion/file.h>

#include "cli.h"

typedef struct cli_output {
    char name[64];
    trn_buffer text;
} cli_output;

/* Start with {0}. */
typedef struct cli_outputs {
    cli_output *list;
    size_t n, capacity;
    bool failed;      /* memory ran out */
    bool no_pictures; /* gnuplot is not installed, said once */
} cli_outputs;

/* Takes a text over as a file. */
void cli_outputs_take(cli_outputs *outputs, const char *name, trn_buffer *text);

/* A script as NAME.svg and NAME.png. Without gnuplot, or where it fails, the tables are written
 * all the same, and it is said. Returned: the SVG, which lives as long as the outputs; NULL */
const char *cli_outputs_draw(cli_outputs *outputs, const char *name, const char *script);

/* The same of a script just built; frees script and finding. TRN_E_UNKNOWN: nothing to show. */
void cli_outputs_picture(cli_outputs *outputs, const char *name, trn_status built,
                         trn_buffer *script, trn_buffer *finding);

/* File i of them, as it will be written. */
trn_file cli_outputs_file(const cli_outputs *outputs, size_t i);

/* Writes them to --out, says how many, frees them. A folder that holds a case is CLI_MISUSE. An
 * interrupt waits until the files stand: all of the old ones or all of the new. */
cli_exit cli_outputs_write(const cli_options *options, cli_outputs *outputs);
void cli_outputs_free(cli_outputs *outputs);

#endif
