/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study only: what the files of the checkup share. */
#ifndef TRUNNION_CHECKUP_INSIDE_H
#define TRUNNION_CHECKUP_INSIDE_H

#include <trunnion/checkup.h>

/* Adds an item; takes over `text`, which is freed. */
void trn_checkup_add(trn_checkup *checkup, trn_checkup_part part, trn_checkup_state state,
                     const char *item, trn_buffer *text);

/* What a remark is to someone who asks what is missing. */
typedef enum trn_remark_role {
    TRN_REMARK_NOTE,   /* how a figure was got; nothing to do */
    TRN_REMARK_REASON, /* why there is no figure */
    TRN_REMARK_LOOK    /* a figure that deserves a second look */
} trn_remark_role;

trn_remark_role trn_remark_role_of(const trn_remark *remark);

/* The reasons among the remarks; where there are none, all of them. */
void trn_remarks_reasons(const trn_remarks *remarks, trn_buffer *out);

/* ---- the same word about several subjects in several conditions, said once ---------------- */

typedef struct trn_gathered {
    trn_checkup_state state;
    char *text;
    trn_remark key;   /* of a remark: the same but for its number */
    bool by_key;
    double low, high; /* of the number */
    bool *where;      /* [subject * conditions + condition] */
} trn_gathered;

typedef struct trn_gathering {
    size_t subjects, conditions;
    const char *(*subject)(const void *context, size_t i);
    const char *(*condition)(const void *context, size_t i);
    const void *context;
    trn_gathered *v;
    size_t count;
    bool failed;
} trn_gathering;

/* Takes over text. */
void trn_gather_text(trn_gathering *g, trn_checkup_state state, size_t subject, size_t condition,
                     trn_buffer *text);
/* The remarks of a row that deserve a look. */
void trn_gather_looks(trn_gathering *g, size_t subject, size_t condition,
                      const trn_remarks *remarks);
/* Writes what was gathered as items of `item` (NULL: the names of the subjects are the item) and
 * frees it. */
void trn_gathering_write(trn_gathering *g, trn_checkup_part part, const char *item,
                         trn_checkup *checkup);

/* ---- parts -------------------------------------------------------------------------------- */

void trn_checkup_results(const trn_results *r, trn_checkup *checkup);
void trn_checkup_intervals(const trn_results *r, trn_checkup *checkup);
/* rated: results of the one condition at rated speed and power */
void trn_checkup_axles(const trn_results *rated, trn_checkup *checkup);
void trn_checkup_figures(const trn_results *r, const trn_results *rated, trn_checkup *checkup);
/* base: everything evaluated, nothing filled in */
void trn_checkup_blanks(const trn_results *base, trn_checkup *checkup);
void trn_checkup_tables(const trn_machine *m, trn_checkup *checkup);

#endif
