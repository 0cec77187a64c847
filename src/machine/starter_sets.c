/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which tables, columns and rows of the starter case belong to which question. */
#include <string.h>

#include "starter_rows.h"

static const struct {
    const char *word, *what;
} starters[] = {
#define TRN_X(id, word, what) [id] = {word, what},
    TRN_STARTER_LIST(TRN_X)
#undef TRN_X
};

/* machine, points and duty are in each: no case is without them. */
static const char *const tables[TRN_STARTERS] = {
    [TRN_STARTER_INTERVALS] = "machine points duty",
    [TRN_STARTER_SHAFTS] = "machine shafts positions geometry points duty",
    [TRN_STARTER_HEAT] = "machine shafts gearboxes axles gears bearings oils points duty "
                           "readings",
    [TRN_STARTER_BEARINGS] =
        "machine shafts positions gearboxes axles gears bearings oils points duty readings",
    [TRN_STARTER_REVIEW] = "machine shafts positions gearboxes axles gears bearings oils points "
                           "duty lives scenarios failure",
};

const char *trn_starter_word(trn_starter starter)
{
    return (unsigned)starter < TRN_STARTERS ? starters[starter].word : "";
}

const char *trn_starter_what(trn_starter starter)
{
    return (unsigned)starter < TRN_STARTERS ? starters[starter].what : "";
}

trn_status trn_starter_find(const char *word, trn_starter *out)
{
    for (size_t i = 0; i < TRN_STARTERS; i++)
        if (strcmp(starters[i].word, word) == 0) {
            *out = (trn_starter)i;
            return TRN_OK;
        }
    return TRN_E_UNKNOWN;
}

static bool word_in(const char *words, const char *word)
{
    size_t n = strlen(word);
    for (const char *p = words; *p;) {
        size_t k = strcspn(p, " ");
        if (k == n && strncmp(p, word, n) == 0)
            return true;
        p += k + (p[k] == ' ');
    }
    return false;
}

bool trn_starter_has(trn_starter starter, const char *table)
{
    return starter == TRN_STARTER_ALL || word_in(tables[starter], table);
}

/* Columns that act only where one of these tables has rows. */
static const struct {
    const char *table, *column;
    const char *with[2];
} only_with[] = {
    {"machine", "design_life", {"bearings"}},
    {"machine", "reliability", {"bearings"}},
    {"duty", "position", {"positions", "geometry"}},
    {"duty", "sun", {"gearboxes"}},
    {"duty", "alternates_with", {"gearboxes"}},
    {"points", "lubricant", {"oils", "greases"}},
    {"points", "ref_load", {"shafts", "bearings"}},
    {"points", "ref_angle", {"shafts"}},
    {"points", "ref_speed", {"shafts"}},
};

bool trn_starter_column(trn_starter starter, const char *table, const char *column)
{
    if (!trn_starter_has(starter, table))
        return false;
    for (size_t i = 0; i < sizeof only_with / sizeof only_with[0]; i++)
        if (strcmp(only_with[i].table, table) == 0 && strcmp(only_with[i].column, column) == 0)
            return trn_starter_has(starter, only_with[i].with[0]) ||
                   (only_with[i].with[1] && trn_starter_has(starter, only_with[i].with[1]));
    return true;
}

/* Points that a question has a use for; the others stay with `all` and `intervals`. */
bool trn_starter_row_in(trn_starter starter, const char *table, const char *row)
{
    if (starter == TRN_STARTER_ALL || starter == TRN_STARTER_INTERVALS ||
        strcmp(table, "points") != 0)
        return true;
    return strstr(row, starter == TRN_STARTER_SHAFTS ? "|component=pto|" : "|component=box|");
}

/* Cells that stand in place of those of the whole example: without gearboxes the oil temperature
 * is one that was read. */
static const struct {
    trn_starter starter;
    const char *table, *row, *cells;
} instead[] = {
    {TRN_STARTER_INTERVALS, "duty", "condition=cutting", "oil_temperature=68"},
    {TRN_STARTER_INTERVALS, "duty", "condition=headland", "oil_temperature=56"},
    {TRN_STARTER_INTERVALS, "points", "point=crosses", "component=PTO shaft|note=8 h in the manual"},
    {TRN_STARTER_INTERVALS, "points", "point=tubes", "component=PTO shaft"},
    {TRN_STARTER_INTERVALS, "points", "point=rotor_bearing", "note=read on the hub after stopping"},
    {TRN_STARTER_INTERVALS, "points", "point=box_level", "component=gearbox"},
    {TRN_STARTER_INTERVALS, "points", "point=box_oil", "component=gearbox"},
};

const char *trn_starter_instead(trn_starter starter, const char *table, const char *row)
{
    for (size_t i = 0; i < sizeof instead / sizeof instead[0]; i++)
        if (instead[i].starter == starter && strcmp(instead[i].table, table) == 0 &&
            strncmp(instead[i].row, row, strlen(instead[i].row)) == 0)
            return instead[i].cells;
    return "";
}

/* For a review the scenarios and the failure act; else evidence only shows how it is written. */
bool trn_starter_acts(trn_starter starter, const trn_starter_rows *rows)
{
    return rows->acts ||
           (starter == TRN_STARTER_REVIEW && (strcmp(rows->table, "scenarios") == 0 ||
                                              strcmp(rows->table, "failure") == 0));
}
