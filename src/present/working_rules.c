/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rule of a symbol, looked up in the tables. */
#include "working_rules.h"

#include <string.h>

typedef struct table {
    const trn_rule *rules;
    const size_t *count;
} table;

static const table tables[] = {
    {trn_rules_loads, &trn_rules_loads_count},
    {trn_rules_heat, &trn_rules_heat_count},
    {trn_rules_intervals, &trn_rules_intervals_count},
};

/* A symbol against a list of symbols, with and without the digits at its end. */
static bool symbol_in(const char *list, const char *symbol, bool numbered)
{
    size_t n = strlen(symbol);
    if (numbered)
        while (n > 1 && symbol[n - 1] >= '0' && symbol[n - 1] <= '9')
            n--;
    for (const char *p = list; *p;) {
        size_t k = strcspn(p, " ");
        if ((k == n && strncmp(p, symbol, n) == 0) || (k == 1 && *p == '*'))
            return true;
        p += k + (p[k] == ' ');
    }
    return false;
}

static bool fits(const trn_rule *r, const char *symbol, const char *stage, bool numbered)
{
    return (!r->stage || strcmp(r->stage, stage) == 0) &&
           symbol_in(r->symbols, symbol, numbered);
}

/* A rule of the formula before one of any (`*`). */
static const char *find(const char *formula, const char *symbol, const char *stage, bool numbered)
{
    const char *general = NULL;
    for (size_t t = 0; t < sizeof tables / sizeof tables[0]; t++)
        for (size_t i = 0; i < *tables[t].count; i++) {
            const trn_rule *r = &tables[t].rules[i];
            bool any = strcmp(r->formula, "*") == 0;
            if ((any ? general != NULL : strcmp(r->formula, formula) != 0) ||
                !fits(r, symbol, stage, numbered))
                continue;
            if (!any)
                return r->from;
            general = r->from;
        }
    return general;
}

const char *trn_working_rule(const char *formula, const char *symbol, const char *stage)
{
    const char *from = find(formula, symbol, stage, false);
    return from ? from : find(formula, symbol, stage, true);
}
