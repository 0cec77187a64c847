/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The chosen numbers in use, for reading: one paragraph each. */
#include <math.h>
#include <string.h>
#include <trunnion/ledger.h>
#include <trunnion/present.h>

static void paragraph(const trn_choice_row *row, trn_buffer *out)
{
    trn_buffer_add(out, row->name);
    if (!isnan(row->value))
        trn_buffer_print(out, " = %.4g%s%s", row->value, strcmp(row->unit, "1") == 0 ? "" : " ",
                         strcmp(row->unit, "1") == 0 ? "" : row->unit);
    if (strcmp(row->spread, "-") != 0)
        trn_buffer_print(out, ", drawn %s", row->spread);
    trn_buffer_print(out, " (%s): %s. Why: %s. For: %s", row->part, row->what, row->reason,
                     row->points);
    if (row->governs > 0)
        trn_buffer_print(out, "; what it belongs to governs %zu of the points", row->governs);
}

void trn_choices_text(const trn_results *results, size_t width, trn_buffer *out)
{
    const trn_ledger *ledger = results->ledger;
    trn_buffer_add(out, "Chosen numbers in use: they have no published source\n\n");
    for (size_t i = 0; ledger && i < ledger->choices_count; i++) {
        trn_buffer text = {0};
        paragraph(&ledger->choices[i], &text);
        if (text.text)
            trn_text_wrap(text.text, 0, 4, width, out);
        out->failed = out->failed || text.failed;
        trn_buffer_free(&text);
    }
}
