/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/present only: how the columns of result files are written down. */
#ifndef TRUNNION_VIEWS_H
#define TRUNNION_VIEWS_H

#include <trunnion/draws.h>
#include <trunnion/extras.h>
#include <trunnion/interval_rows.h>
#include <trunnion/ledger.h>
#include <trunnion/lift.h>
#include <trunnion/present.h>
#include <trunnion/schema.h>

/* Views of one subject, in the order of the page. */
extern const trn_view trn_views_of_setup[];
extern const size_t trn_views_of_setup_count;
extern const trn_view trn_views_of_intervals[];
extern const size_t trn_views_of_intervals_count;

#define TEXT_OF(name, type, expression)                                      \
    static const char *name(const trn_results *r, const void *row_)          \
    {                                                                        \
        const type *row = row_;                                              \
        (void)r;                                                             \
        return expression;                                                   \
    }

#define TEXT(name, get, head) {name, NULL, TRN_FIELD_TEXT, 0, get, head}
#define WORD(name, get, head) {name, NULL, TRN_FIELD_WORD, 0, get, head}
#define NUMBER(name, unit, member, head) \
    {name, unit, TRN_FIELD_NUMBER, offsetof(ROW, member), NULL, head}
#define LIFE(name, member, head) {name, "h", TRN_FIELD_LIFE, offsetof(ROW, member), NULL, head}
#define REMARK {"remark", NULL, TRN_FIELD_REMARK, offsetof(ROW, remarks), NULL, "notes"}

#define ROWS(name, count, member)                                            \
    static size_t name##_rows(const trn_results *r)                          \
    {                                                                        \
        const trn_machine *m = r->machine;                                   \
        (void)m;                                                             \
        return count;                                                        \
    }                                                                        \
    static const void *name##_row(const trn_results *r, size_t i)            \
    {                                                                        \
        return &r->member[i];                                                \
    }

#define VIEW(file, title, caption, fields, name, group)                                   \
    {file, title, caption, fields, sizeof fields / sizeof fields[0], name##_rows, name##_row, group}

#endif
