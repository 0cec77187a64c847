/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/cli: results that `sweep` and `compare` follow, named by --show. */
#ifndef TRUNNION_CLI_FOLLOW_H
#define TRUNNION_CLI_FOLLOW_H

#include <trunnion/address.h>

#include "cli.h"

typedef struct cli_study { /* what an evaluation has to hold */
    unsigned wanted;
    bool extras;
    trn_draw_plan plan; /* of the intervals */
    bool bands;         /* of lives too */
    const struct trn_addresses *strict; /* NULL, or results whose validity is watched */
    bool outside;       /* a file that holds one of them has a row outside its validity */
} cli_study;

trn_evaluation cli_evaluation(cli_study *study);

typedef struct cli_followed {
    trn_addresses addresses;
    trn_follow *follow; /* one an address */
    cli_study study;
} cli_followed;

/* Finds the results named, in the case as it is. CLI_MISUSE where there is none of a name. */
cli_exit cli_follow(const trn_machine *machine, const char *command, const char *const *names,
                    size_t count, cli_followed *out);
/* Sets the draws of what is followed: none where no interval and no spread is among it. */
cli_exit cli_follow_drawn(const cli_options *options, size_t fallback, cli_followed *followed);
void cli_followed_free(cli_followed *followed);

#endif
