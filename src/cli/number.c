/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>

#include "cli.h"

cli_exit cli_number(const char *command, const char *option, const cli_texts *given,
                    const char *unit, const char *range, double *out)
{
    if (given->n == 0)
        return CLI_DONE;
    const char *text = given->v[given->n - 1];
    const char *end = NULL;
    double value = 0;
    trn_status status = trn_text_number_start(text, &value, &end);
    while (status == TRN_OK && *end == ' ')
        end++;
    if (status == TRN_OK && *end)
        status = trn_unit_value(value, end, unit, &value);
    if (status == TRN_OK && trn_range_holds(range, value)) {
        *out = value;
        return CLI_DONE;
    }
    (void)fprintf(stderr, "trunnion %s: --%s %s: a number in %s%s%s is expected\n", command,
                  option, text, range, *unit ? " " : "", unit);
    return CLI_MISUSE;
}
