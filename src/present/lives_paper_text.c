/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ranks, survival and the line of `lives` as CSV; survival for reading. */
#include <math.h>
#include <stdlib.h>
#include <trunnion/lives_paper.h>

#include "rows.h"

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

#define AT(member) offsetof(trn_lives_rank, member)
static const trn_row_field rank_fields[] = {
    {"life", "h", TRN_ROW_NUMBER, AT(life_h), NULL},
    {"rank", NULL, TRN_ROW_NUMBER, AT(rank), NULL},
    {"failed_benard", "%", TRN_ROW_NUMBER, AT(benard_pct), NULL},
    {"failed_median", "%", TRN_ROW_NUMBER, AT(exact_pct), NULL},
};
#undef AT

#define AT(member) offsetof(trn_lives_survival, member)
static const trn_row_field survival_fields[] = {
    {"from", "h", TRN_ROW_NUMBER, AT(from_h), NULL},
    {"to", "h", TRN_ROW_NUMBER, AT(to_h), NULL},
    {"at_risk", NULL, TRN_ROW_WHOLE, AT(at_risk), NULL},
    {"failed", NULL, TRN_ROW_WHOLE, AT(failed), NULL},
    {"survive", "%", TRN_ROW_NUMBER, AT(survive_pct), NULL},
    {"standard_error", "%", TRN_ROW_NUMBER, AT(se_pct), NULL},
    {"survive_low", "%", TRN_ROW_NUMBER, AT(low_pct), NULL},
    {"survive_high", "%", TRN_ROW_NUMBER, AT(high_pct), NULL},
    {"method", NULL, TRN_ROW_WORD, AT(method), NULL},
};
static const trn_row_field limit_shown[] = {
    {"", NULL, TRN_ROW_NUMBER, AT(to_h), "age h"},
    {"", NULL, TRN_ROW_WHOLE, AT(at_risk), "at risk"},
    {"", NULL, TRN_ROW_WHOLE, AT(failed), "failed"},
    {"", NULL, TRN_ROW_NUMBER, AT(survive_pct), "survive %"},
    {"", NULL, TRN_ROW_NUMBER, AT(low_pct), "low"},
    {"", NULL, TRN_ROW_NUMBER, AT(high_pct), "high"},
};
static const trn_row_field looks_shown[] = {
    {"", NULL, TRN_ROW_NUMBER, AT(from_h), "from h"},
    {"", NULL, TRN_ROW_NUMBER, AT(to_h), "to h"},
    {"", NULL, TRN_ROW_NUMBER, AT(survive_pct), "survive behind it %"},
};
#undef AT

#define AT(member) offsetof(trn_lives_percentile, member)
static const trn_row_field line_fields[] = {
    {"failed", "%", TRN_ROW_NUMBER, AT(failed_pct), NULL},
    {"life", "h", TRN_ROW_NUMBER, AT(life_h), NULL},
    {"life_low", "h", TRN_ROW_NUMBER, AT(low_h), NULL},
    {"life_high", "h", TRN_ROW_NUMBER, AT(high_h), NULL},
};
#undef AT

void trn_lives_ranks_csv(const trn_lives_paper *paper, trn_buffer *out)
{
    trn_row_set set = {rank_fields, COUNT(rank_fields), paper->ranks, sizeof *paper->ranks,
                       paper->rank_count};
    trn_rows_csv(&set, out);
}

void trn_lives_survival_csv(const trn_lives_paper *paper, trn_buffer *out)
{
    trn_row_set set = {survival_fields, COUNT(survival_fields), paper->survival,
                       sizeof *paper->survival, paper->survival_count};
    trn_rows_csv(&set, out);
}

void trn_lives_line_csv(const trn_lives_paper *paper, trn_buffer *out)
{
    trn_row_set set = {line_fields, COUNT(line_fields), paper->line, sizeof *paper->line,
                       paper->line_count};
    trn_rows_csv(&set, out);
}

enum { ROWS_SHOWN = 40 };

void trn_lives_survival_text(const trn_lives_paper *paper, size_t width, trn_buffer *out)
{
    bool looks = paper->table->data.grouped;
    size_t all = paper->survival_count;
    size_t each = (all + ROWS_SHOWN - 1) / ROWS_SHOWN;
    size_t n = 0;
    if (all == 0)
        return;
    trn_lives_survival *shown = calloc(ROWS_SHOWN + 1, sizeof *shown);
    if (!shown) {
        out->failed = true;
        return;
    }
    for (size_t i = 0; i < all; i++)
        if ((i + 1) % each == 0 || i + 1 == all)
            shown[n++] = paper->survival[i];
    trn_row_set set = {looks ? looks_shown : limit_shown,
                       looks ? COUNT(looks_shown) : COUNT(limit_shown), shown, sizeof *shown, n};
    trn_buffer_add(out, looks ? "\nSurvival without any line, from looks (self-consistent)\n\n"
                              : "\nSurvival without any line, by the product limit\n\n");
    trn_rows_text(&set, width, out);
    if (each > 1)
        trn_buffer_print(out, "\n%zu of the %zu %s are shown.\n", n, all,
                         looks ? "stretches" : "failure times");
    if (looks) {
        trn_buffer_add(out, "\n");
        trn_text_wrap("Units fail somewhere in such a stretch; the looks do not say where, and "
                      "between two stretches none failed. No limits go with it.",
                      0, 0, width, out);
    }
    free(shown);
}
