/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of `lives`: Weibull lines through the rows of a lives table, with limits and with
 * what has to be said of them. Rules: docs/lives.md. */
#ifndef TRUNNION_LIVES_TABLE_H
#define TRUNNION_LIVES_TABLE_H

#include <trunnion/machine.h>
#include <trunnion/text.h>
#include <trunnion/weibull.h>

#ifdef __cplusplus
extern "C" {
#endif

enum { TRN_LIVES_LINES_MAX = 5, TRN_LIVES_TEXT = 256 };

/* One row of the table. NaN: the method gives none (an empty cell). */
typedef struct trn_lives_line {
    const char *method; /* likelihood, fisher, rank_y_on_x, rank_x_on_y, weibayes */
    trn_weibull_line line;
    trn_weibull_limits limits;
    char remark[TRN_LIVES_TEXT]; /* parted by `; ` */
} trn_lives_line;

typedef struct trn_lives_table {
    double slope;      /* asked for; NaN: none */
    double confidence; /* two-sided, fraction */
    trn_weibull_row *units;
    trn_weibull_data data; /* of units */
    trn_lives_line lines[TRN_LIVES_LINES_MAX];
    size_t count;
    char note[TRN_LIVES_TEXT]; /* rows that are left out, and why; "" */
} trn_lives_table;

/* Rows of lives.csv as rows of a Weibull fit.
 * Given:    rows[n] in one form: hours with state, or after with by
 *           file      as faults name it
 * Returned: units[n], in the order of the rows; faults
 * Status:   TRN_E_INPUT: both forms, a row without hours or looks, a count that is not whole,
 *           times out of order; no unit at all */
trn_status trn_lives_rows(const trn_life_row *rows, size_t n, const char *file,
                          trn_faults *faults, trn_weibull_row *units);

/* The whole table.
 * Given:    rows[n], file   as above
 *           slope           > 0 for a row at this slope, NaN: none
 *           confidence      two-sided, fraction, 0 < C < 1
 * Returned: table           to be freed; faults
 * Status:   TRN_E_INPUT: as above, or no finite slope and none given; the fault says why.
 *           TRN_E_DOMAIN (slope, confidence), TRN_E_CONVERGE, TRN_E_MEMORY */
trn_status trn_lives_table_make(const trn_life_row *rows, size_t n, const char *file,
                                double slope, double confidence, trn_faults *faults,
                                trn_lives_table *table);
/* Frees the rows of a table; it is then empty. */
void trn_lives_table_free(trn_lives_table *table);

/* The same from a file.
 * Status: as above; TRN_E_IO */
trn_status trn_lives_table_read(const char *path, double slope, double confidence,
                                trn_faults *faults, trn_lives_table *table);

/* As CSV (`method,beta,eta [h] ...`), and as tables for reading: the lines, other fixed slopes,
 * what a test without failure shows (survival: lives_paper.h). src/present */
void trn_lives_csv(const trn_lives_table *table, trn_buffer *out);
/* For reading, at most `width` columns a line where words allow it. */
void trn_lives_text(const trn_lives_table *table, size_t width, trn_buffer *out);

#ifdef __cplusplus
}
#endif
#endif
