/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scenarios of scenarios.csv: one or several at once, and the quantity `life`. */
#include <trunnion/scenario.h>

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/path.h>
#include <trunnion/units.h>

#include "arena.h"

bool trn_scenario_is_life(const trn_scenario *row)
{
    return strcmp(row->quantity, "life") == 0;
}

static bool is_absolute(const trn_scenario *row)
{
    return row->value && !trn_scenario_is_life(row) &&
           trn_change_of(row->value) == TRN_ABSOLUTE;
}

/* Do two paths meet on a cell? */
static bool meet(const trn_machine *m, const char *a, const char *b)
{
    trn_path x;
    trn_path y;
    trn_buffer ignored = {0};
    bool known = trn_path_parse(m, a, &x, &ignored) == TRN_OK &&
                 trn_path_parse(m, b, &y, &ignored) == TRN_OK;
    trn_buffer_free(&ignored);
    if (!known || x.table != y.table || x.column != y.column)
        return false;
    for (size_t r = 0; (r = trn_path_row(m, &x, r)) != TRN_NONE; r++)
        if (trn_path_row(m, &y, r) == r)
            return true;
    return false;
}

static bool named(const char *name, const char *const *names, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (strcmp(names[i], name) == 0)
            return true;
    return false;
}

static void check_absolutes(const trn_machine *m, const char *const *names, size_t count,
                            size_t row, trn_faults *faults)
{
    const trn_scenario *s = &m->scenarios[row];
    if (!is_absolute(s))
        return;
    for (size_t k = 0; k < row; k++) {
        const trn_scenario *t = &m->scenarios[k];
        if (named(t->scenario, names, count) && is_absolute(t) &&
            meet(m, s->quantity, t->quantity))
            trn_fault_add(faults, "scenarios.csv", s->row.line, "quantity",
                          "`%s` gives a second absolute value to what line %zu sets", s->scenario,
                          t->row.line);
    }
}

static trn_status apply(trn_machine *m, const trn_scenario *row, trn_faults *faults)
{
    char where[64];
    (void)snprintf(where, sizeof where, "scenarios.csv:%zu", row->row.line);
    return trn_machine_set(m, row->quantity, row->value ? row->value : "", where, faults);
}

trn_status trn_machine_scenarios(trn_machine *machine, const char *const *names, size_t count,
                                 trn_faults *faults)
{
    size_t before = faults->count;
    for (size_t n = 0; n < count; n++) {
        size_t rows = 0;
        for (size_t i = 0; i < machine->scenarios_count; i++)
            rows += strcmp(machine->scenarios[i].scenario, names[n]) == 0;
        if (rows == 0)
            trn_fault_add(faults, "scenarios.csv", 0, NULL, "there is no scenario `%s`", names[n]);
    }
    if (faults->count > before)
        return TRN_E_INPUT;
    for (size_t i = 0; i < machine->scenarios_count; i++)
        if (named(machine->scenarios[i].scenario, names, count))
            check_absolutes(machine, names, count, i, faults);
    trn_status status = TRN_OK;
    for (int pass = TRN_ABSOLUTE; pass <= TRN_OFFSET; pass++)
        for (size_t i = 0; i < machine->scenarios_count && status != TRN_E_MEMORY; i++) {
            const trn_scenario *s = &machine->scenarios[i];
            if (named(s->scenario, names, count) && !trn_scenario_is_life(s) &&
                (int)trn_change_of(s->value ? s->value : "") == pass)
                status = apply(machine, s, faults);
        }
    if (status == TRN_E_MEMORY)
        return status;
    return faults->count == before ? TRN_OK : TRN_E_INPUT;
}

trn_status trn_machine_scenario(trn_machine *machine, const char *name, trn_faults *faults)
{
    return trn_machine_scenarios(machine, &name, 1, faults);
}

const char *trn_scenarios_exclude(const trn_machine *machine, const char *a, const char *b)
{
    for (size_t i = 0; i < machine->scenarios_count; i++) {
        const trn_scenario *s = &machine->scenarios[i];
        if (strcmp(s->scenario, a) != 0 || !is_absolute(s))
            continue;
        for (size_t k = 0; k < machine->scenarios_count; k++) {
            const trn_scenario *t = &machine->scenarios[k];
            if (strcmp(t->scenario, b) == 0 && is_absolute(t) &&
                meet(machine, s->quantity, t->quantity))
                return s->quantity;
        }
    }
    return NULL;
}

/* ---- life --------------------------------------------------------------------------------- */

static const char *skip_blanks(const char *text)
{
    while (isspace((unsigned char)*text))
        text++;
    return text;
}

/* Number and unit; the first of two has no unit of its own. */
static trn_status ends_of(const char *text, double *low, double *high, const char **unit)
{
    const char *dots = strstr(text, "..");
    *low = -1;
    if (dots) { /* cut first: `1..` would read as the number 1. */
        char *first = trn_text_copy_n(text, (size_t)(dots - text));
        trn_status status = first ? trn_text_number(first, low) : TRN_E_MEMORY;
        free(first);
        if (status != TRN_OK)
            return status;
        text = dots + 2;
    }
    trn_status status = trn_text_number_start(skip_blanks(text), high, unit);
    if (status == TRN_OK && !dots)
        *low = *high;
    return status;
}

trn_status trn_life_range_parse(const char *text, trn_life_range *out, trn_buffer *why)
{
    trn_life_range found = {.known = false};
    text = text ? skip_blanks(text) : "";
    if (*text == '\0') {
        *out = found;
        return TRN_OK;
    }
    const char *unit = "";
    double low = 0;
    double high = 0;
    trn_status status = ends_of(text, &low, &high, &unit);
    if (status == TRN_E_MEMORY)
        return status;
    if (status != TRN_OK) {
        trn_buffer_print(why, "`%.60s`: write LOW..HIGH h, or LOW..HIGH %% of the life as "
                              "specified; or leave it blank where none can be stated", text);
        return TRN_E_INPUT;
    }
    unit = skip_blanks(unit);
    double scale = 1;
    double offset = 0;
    found.known = true;
    found.relative = *unit == '%';
    if (found.relative) {
        unit = skip_blanks(unit + 1);
        scale = *unit ? 0 : 0.01;
    } else if (*unit && trn_unit_convert(unit, "h", &scale, &offset) != TRN_OK) {
        scale = 0;
    }
    if (!(scale > 0)) {
        trn_buffer_print(why, "`%.60s`: a life is given in h or in %% of the life as specified",
                         text);
        return TRN_E_INPUT;
    }
    found.low = scale * low;
    found.high = scale * high;
    if (!(found.low > 0) || !(found.high >= found.low)) {
        trn_buffer_print(why, "`%.60s`: the lower life must be above 0 and not above the higher",
                         text);
        return TRN_E_INPUT;
    }
    *out = found;
    return TRN_OK;
}
