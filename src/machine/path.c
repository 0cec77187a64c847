/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Override paths and what their values do to the case. */
#include <trunnion/path.h>

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/formula.h>
#include <trunnion/units.h>

#include "arena.h"

/* Key columns of a table: up to two; points have the task as the second. */
static size_t key_columns(const trn_table *table, const trn_column *keys[2])
{
    size_t n = 0;
    for (size_t i = 0; i < table->column_count && n < 2; i++)
        if (table->columns[i].cell == TRN_CELL_KEY)
            keys[n++] = &table->columns[i];
    if (n == 1 && strcmp(table->name, "points") == 0)
        keys[n++] = trn_column_find(table, "task");
    return n;
}

static const char *key_text(const trn_column *column, const void *row)
{
    if (column->cell == TRN_CELL_WORD) {
        int word = 0;
        memcpy(&word, (const char *)row + column->offset, sizeof word);
        return word < 0 ? "" : column->words[word];
    }
    const char *text = trn_cell_text(column, row);
    return text ? text : "";
}

size_t trn_path_row(const trn_machine *machine, const trn_path *path, size_t row)
{
    if (path->table == trn_table_head())
        return row == 0 ? 0 : TRN_NONE;
    const trn_column *keys[2];
    size_t n = key_columns(path->table, keys);
    for (; row < trn_table_rows(machine, path->table); row++) {
        const void *r = trn_table_row(machine, path->table, row);
        bool same = true;
        for (size_t k = 0; k < n; k++)
            same = same && (path->key[k][0] == '\0' || strcmp(path->key[k], "*") == 0 ||
                            strcmp(path->key[k], key_text(keys[k], r)) == 0);
        if (same)
            return row;
    }
    return TRN_NONE;
}

static void say_nearest(const char *given, const char *const *names, size_t count,
                        trn_buffer *why)
{
    for (size_t told = 0, limit = 0; told < 3 && limit < 64; limit++)
        for (size_t i = 0; i < count && told < 3; i++) {
            bool before = false;
            for (size_t k = 0; k < i; k++)
                before = before || strcmp(names[k], names[i]) == 0;
            if (!before && trn_edit_distance(given, names[i]) == limit)
                trn_buffer_print(why, "%s`%s`", told++ ? ", " : "", names[i]);
        }
}

static trn_status unknown_table(const char *name, trn_buffer *why)
{
    const char *names[32];
    size_t n = 0;
    names[n++] = trn_table_head()->name;
    for (size_t i = 0; i < trn_table_count() && n < 32; i++) {
        const trn_column *keys[2];
        if (key_columns(trn_table_at(i), keys) > 0)
            names[n++] = trn_table_at(i)->name;
    }
    trn_buffer_print(why, "there is no table `%s`; the nearest: ", name);
    say_nearest(name, names, n, why);
    return TRN_E_INPUT;
}

static trn_status unknown_column(const trn_table *table, const char *name, trn_buffer *why)
{
    const char *names[64];
    size_t n = 0;
    for (size_t i = 0; i < table->column_count && n < 64; i++)
        if (table->columns[i].cell != TRN_CELL_KEY)
            names[n++] = table->columns[i].name;
    trn_buffer_print(why, "%s has no column `%s` to set; the nearest: ", table->name, name);
    say_nearest(name, names, n, why);
    return TRN_E_INPUT;
}

static trn_status unknown_key(const trn_machine *machine, const trn_path *path, trn_buffer *why)
{
    const trn_column *keys[2];
    size_t n = key_columns(path->table, keys);
    size_t rows = trn_table_rows(machine, path->table);
    const char **names = calloc(rows + 1, sizeof *names);
    if (!names)
        return TRN_E_MEMORY;
    size_t k = 0; /* the first key that no row has */
    for (; k < n; k++) {
        bool found = path->key[k][0] == '\0' || strcmp(path->key[k], "*") == 0;
        for (size_t r = 0; r < rows; r++) {
            names[r] = key_text(keys[k], trn_table_row(machine, path->table, r));
            found = found || strcmp(names[r], path->key[k]) == 0;
        }
        if (!found)
            break;
    }
    if (rows == 0)
        trn_buffer_print(why, "the case has no table %s", path->table->name);
    else if (k == n)
        trn_buffer_print(why, "no row of %s has both `%s` and `%s`", path->table->name,
                         path->key[0], path->key[1]);
    else {
        trn_buffer_print(why, "%s has no `%s`; the nearest: ", path->table->name, path->key[k]);
        say_nearest(path->key[k], names, rows, why);
    }
    free(names);
    return TRN_E_INPUT;
}

enum { PARTS = 4 };

static size_t cut(const char *text, char parts[PARTS][128])
{
    size_t n = 0;
    for (;;) {
        size_t length = strcspn(text, ".");
        if (n == PARTS || length == 0 || length >= 128)
            return 0;
        memcpy(parts[n], text, length);
        parts[n++][length] = '\0';
        if (text[length] == '\0')
            return n;
        text += length + 1;
    }
}

trn_status trn_path_parse(const trn_machine *machine, const char *text, trn_path *out,
                          trn_buffer *why)
{
    char parts[PARTS][128];
    size_t n = cut(text, parts);
    if (n < 2) {
        trn_buffer_print(why, "`%.120s` is no path; write table.key.column or machine.quantity",
                         text);
        return TRN_E_INPUT;
    }
    trn_path path = {.table = trn_table_find(parts[0])};
    const trn_column *keys[2];
    size_t key_count = path.table ? key_columns(path.table, keys) : 0;
    if (!path.table || (path.table != trn_table_head() && key_count == 0))
        return unknown_table(parts[0], why);
    bool points = strcmp(path.table->name, "points") == 0;
    if (path.table == trn_table_head())
        key_count = 0;
    if (n != key_count + 2 && !(points && n == 3)) {
        trn_buffer_print(why, "`%.120s`: write %s%s%s", text, path.table->name,
                         key_count > 1   ? ".KEY.KEY"
                         : key_count > 0 ? ".KEY"
                                         : "",
                         key_count ? ".COLUMN" : ".QUANTITY");
        return TRN_E_INPUT;
    }
    for (size_t k = 0; k + 2 < n; k++)
        memcpy(path.key[k], parts[k + 1], sizeof path.key[k]);
    path.column = trn_column_find(path.table, parts[n - 1]);
    if (!path.column || path.column->cell == TRN_CELL_KEY ||
        (key_count > 1 && path.column == keys[1]))
        return unknown_column(path.table, parts[n - 1], why);
    size_t first = trn_path_row(machine, &path, 0);
    if (first == TRN_NONE)
        return unknown_key(machine, &path, why);
    if (points && n == 3 && strcmp(path.key[0], "*") != 0 &&
        trn_path_row(machine, &path, first + 1) != TRN_NONE) {
        trn_buffer_print(why, "the point `%s` has several tasks; write points.%s.TASK.%s",
                         path.key[0], path.key[0], path.column->name);
        return TRN_E_INPUT;
    }
    *out = path;
    return TRN_OK;
}

trn_change trn_change_of(const char *value)
{
    while (isspace((unsigned char)*value))
        value++;
    if (value[0] == 'x' && (isdigit((unsigned char)value[1]) || value[1] == '.'))
        return TRN_FACTOR;
    if (value[0] == '+' && value[1] != '\0')
        return TRN_OFFSET; /* the word `+` alone is a side */
    return TRN_ABSOLUTE;
}

static trn_status put_changed(const trn_column *column, void *row, double documented,
                              trn_buffer *why)
{
    trn_buffer exact = {0};
    trn_buffer_print(&exact, "%.17g", documented);
    trn_status status = exact.failed ? TRN_E_MEMORY
                                     : trn_cell_put(column, row, exact.text, NULL, NULL, NULL, why);
    trn_buffer_free(&exact);
    return status;
}

static trn_status relative_change(const trn_column *column, void *row, const char *text,
                                  trn_change change, trn_buffer *why)
{
    if (column->cell != TRN_CELL_NUMBER) {
        trn_buffer_print(why, "`%.60s` needs a number to act on; %s is none", text, column->name);
        return TRN_E_INPUT;
    }
    double amount = 0;
    const char *end = NULL;
    double now = *trn_cell_number(column, row);
    double scale = 1;
    double offset = 0;
    if (trn_text_number_start(text + 1, &amount, &end) != TRN_OK) {
        trn_buffer_print(why, "`%.60s` is no number", text);
        return TRN_E_NUMBER;
    }
    while (isspace((unsigned char)*end))
        end++;
    if (isnan(now)) {
        trn_buffer_print(why, "%s is not known in the case, so `%.60s` has nothing to act on",
                         column->name, text);
        return TRN_E_UNKNOWN;
    }
    if (*end && change == TRN_FACTOR) {
        trn_buffer_print(why, "a factor has no unit: `%.60s`", text);
        return TRN_E_UNIT;
    }
    /* differences: degC adds as K, so only the scale counts */
    if (*end && trn_unit_convert(end, column->unit, &scale, &offset) != TRN_OK) {
        trn_buffer_print(why, "`%.60s` does not convert to %s", end, column->unit);
        return TRN_E_UNIT;
    }
    double shown = now;
    (void)trn_unit_value(now, column->inner, column->unit, &shown);
    return put_changed(column, row, change == TRN_FACTOR ? shown * amount : shown + scale * amount,
                       why);
}

/* A value with its own unit: the number up to its end, the rest is the unit. */
static trn_status absolute_change(const trn_column *column, void *row, const char *text,
                                  struct trn_arena *arena, trn_buffer *why)
{
    if (column->cell == TRN_CELL_NUMBER) {
        const char *end = NULL;
        double value = 0;
        if (trn_text_number_start(text, &value, &end) == TRN_OK) {
            char *number = trn_text_copy_n(text, (size_t)(end - text));
            while (isspace((unsigned char)*end))
                end++;
            trn_status status = number ? trn_cell_put(column, row, number, *end ? end : NULL, NULL,
                                                      arena, why)
                                       : TRN_E_MEMORY;
            free(number);
            return status;
        }
    }
    if (column->cell == TRN_CELL_TEXTS)
        memset((char *)row + column->offset, 0, sizeof(trn_texts));
    return trn_cell_put(column, row, text, NULL, NULL, arena, why);
}

trn_status trn_machine_set(trn_machine *machine, const char *path_text, const char *value,
                           const char *where, trn_faults *faults)
{
    trn_path path;
    trn_buffer why = {0};
    trn_status status = trn_path_parse(machine, path_text, &path, &why);
    while (isspace((unsigned char)*value))
        value++;
    if (status == TRN_OK && *value == '\0') {
        trn_buffer_print(&why, "no value is given");
        status = TRN_E_INPUT;
    }
    for (size_t r = 0; status == TRN_OK; r++) {
        r = trn_path_row(machine, &path, r);
        if (r == TRN_NONE)
            break;
        void *row = trn_table_row(machine, path.table, r);
        trn_change change = trn_change_of(value);
        status = change == TRN_ABSOLUTE || path.column->cell != TRN_CELL_NUMBER
                     ? absolute_change(path.column, row, value, machine->arena, &why)
                     : relative_change(path.column, row, value, change, &why);
        ((trn_row *)row)->changed |= (uint64_t)1 << (path.column - path.table->columns);
        if (path.table == trn_table_head())
            break;
    }
    if (status != TRN_OK)
        trn_fault_add(faults, where, 0, NULL, "%s = %s: %s", path_text, value,
                      why.text ? why.text : trn_status_text(status));
    trn_buffer_free(&why);
    return status == TRN_OK || status == TRN_E_MEMORY ? status : TRN_E_INPUT;
}
