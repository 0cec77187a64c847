/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads the tables of a case folder into rows, column by column as the schema says. */
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "arena.h"

/* A column of a sheet and what it is in the schema. */
typedef struct place {
    const trn_column *column; /* NULL: a further note */
    char *unit;
} place;

static void set_rows(trn_machine *machine, const trn_table *table, void *rows, size_t count)
{
    memcpy((char *)machine + table->rows, &rows, sizeof rows);
    memcpy((char *)machine + table->count, &count, sizeof count);
}

static trn_status memory_fault(trn_faults *faults, const char *file)
{
    trn_fault_add(faults, file, 0, NULL, "%s", trn_status_text(TRN_E_MEMORY));
    return TRN_E_MEMORY;
}

/* ---- headers ------------------------------------------------------------------------------ */

static bool takes_unit(const trn_column *column)
{
    return (column->cell == TRN_CELL_NUMBER || column->cell == TRN_CELL_NUMBERS) &&
           strcmp(column->unit, "1") != 0;
}

static void check_header(const trn_sheet *sheet, size_t c, const trn_table *table, place *at,
                         char *name, trn_faults *faults)
{
    const char *header = sheet->header[c];
    at->column = trn_column_find(table, name);
    if (!at->column) {
        if (strncmp(name, "note", 4) != 0)
            trn_fault_add(faults, sheet->name, sheet->header_line, header,
                          "%s has no such column; the nearest is `%s` (a column of your own "
                          "begins with `note`)",
                          table->name, trn_column_nearest(table, name));
        return;
    }
    if (takes_unit(at->column) && !at->unit)
        trn_fault_add(faults, sheet->name, sheet->header_line, header,
                      "the unit is missing; write `%s [%s]`", at->column->name, at->column->unit);
    else if (!takes_unit(at->column) && at->unit && strcmp(at->unit, "-") != 0 &&
             strcmp(at->unit, "1") != 0)
        trn_fault_add(faults, sheet->name, sheet->header_line, header,
                      "the column has no unit; write `%s`", at->column->name);
}

static size_t place_columns(const trn_sheet *sheet, const trn_table *table, place *at,
                            trn_faults *faults)
{
    size_t before = faults->count;
    bool unread = false; /* what a header without its bracket means is not known */
    for (size_t c = 0; c < sheet->columns; c++) {
        char *name = NULL;
        at[c] = (place){NULL, NULL};
        if (trn_header_split(sheet->header[c], &name, &at[c].unit) != TRN_OK) {
            trn_fault_add(faults, sheet->name, sheet->header_line, sheet->header[c],
                          "the bracket is not closed; write `name [unit]`");
            unread = true;
            continue;
        }
        check_header(sheet, c, table, &at[c], name, faults);
        free(name);
        for (size_t k = 0; k < c; k++)
            if (at[c].column && at[c].column == at[k].column &&
                at[c].column->cell != TRN_CELL_TEXTS)
                trn_fault_add(faults, sheet->name, sheet->header_line, sheet->header[c],
                              "the column stands twice");
    }
    for (size_t i = 0; i < table->column_count && !unread; i++) {
        size_t c = 0;
        while (c < sheet->columns && at[c].column != &table->columns[i])
            c++;
        if (c == sheet->columns && table->columns[i].required)
            trn_fault_add(faults, sheet->name, sheet->header_line, table->columns[i].name,
                          "the column is missing: %s", table->columns[i].what);
    }
    return faults->count - before;
}

/* ---- rows --------------------------------------------------------------------------------- */

static void add_note(const trn_table *table, void *row, const char *text,
                     struct trn_arena *arena)
{
    const trn_column *note = trn_column_find(table, "note");
    if (!note || *text == '\0')
        return;
    const char *before = trn_cell_text(note, row);
    trn_buffer both = {0};
    trn_buffer_print(&both, "%s%s%s", before ? before : "", before ? "; " : "", text);
    if (!both.failed) {
        const char *copy = trn_arena_text(arena, both.text, both.length);
        memcpy((char *)row + note->offset, &copy, sizeof copy);
    }
    trn_buffer_free(&both);
}

static trn_status read_row(const trn_sheet *sheet, size_t r, const trn_table *table,
                           const place *at, void *row, struct trn_arena *arena,
                           trn_faults *faults)
{
    trn_row *origin = row;
    origin->line = sheet->line[r];
    for (size_t i = 0; i < table->column_count; i++)
        trn_cell_default(&table->columns[i], row);
    for (size_t c = 0; c < sheet->columns; c++) {
        const char *text = trn_sheet_cell(sheet, r, c);
        const trn_column *column = at[c].column;
        if (!column || strcmp(column->name, "note") == 0) { /* several notes join */
            add_note(table, row, text, arena);
            continue;
        }
        if (*text == '\0') {
            if (column->required)
                trn_fault_add(faults, sheet->name, sheet->line[r], sheet->header[c],
                              "the cell is blank but required: %s", column->what);
            continue;
        }
        trn_buffer why = {0};
        trn_status status = trn_cell_put(column, row, text, at[c].unit, sheet, arena, &why);
        if (status == TRN_OK)
            origin->given |= (uint64_t)1 << (column - table->columns);
        else if (status != TRN_E_MEMORY)
            trn_fault_add(faults, sheet->name, sheet->line[r], sheet->header[c], "%s",
                          why.text ? why.text : trn_status_text(status));
        trn_buffer_free(&why);
        if (status == TRN_E_MEMORY)
            return memory_fault(faults, sheet->name);
    }
    return TRN_OK;
}

/* Units that do not convert are the same fault in every row: said once, at the header. */
static size_t check_units(const trn_sheet *sheet, const place *at, trn_faults *faults)
{
    size_t before = faults->count;
    for (size_t c = 0; c < sheet->columns; c++) {
        if (!at[c].column || !at[c].unit || !takes_unit(at[c].column))
            continue;
        union {
            double number;
            trn_numbers list;
        } cell;
        trn_column probe = *at[c].column;
        probe.offset = 0;
        probe.range = NULL;
        trn_buffer why = {0};
        if (trn_cell_put(&probe, &cell, "1", at[c].unit, NULL, NULL, &why) != TRN_OK)
            trn_fault_add(faults, sheet->name, sheet->header_line, sheet->header[c], "%s",
                          why.text ? why.text : "not a unit");
        trn_buffer_free(&why);
    }
    return faults->count - before;
}

static void check_keys(const trn_machine *machine, const trn_table *table, const char *file,
                       trn_faults *faults)
{
    const trn_column *keys[2] = {NULL, NULL};
    size_t n = 0;
    for (size_t i = 0; i < table->column_count && n < 2; i++)
        if (table->columns[i].cell == TRN_CELL_KEY)
            keys[n++] = &table->columns[i];
    /* a point has a row a task; a gearbox may be read on several days */
    if (n == 0 || strcmp(table->name, "points") == 0 || strcmp(table->name, "readings") == 0)
        return;
    size_t rows = trn_table_rows(machine, table);
    for (size_t i = 0; i < rows; i++)
        for (size_t k = 0; k < i; k++) {
            bool same = true;
            for (size_t c = 0; c < n; c++) {
                const char *a = trn_cell_text(keys[c], trn_table_row(machine, table, i));
                const char *b = trn_cell_text(keys[c], trn_table_row(machine, table, k));
                same = same && a && b && strcmp(a, b) == 0;
            }
            if (same) {
                const trn_row *row = trn_table_row(machine, table, i);
                const trn_row *first = trn_table_row(machine, table, k);
                const char *with = n == 2 ? trn_cell_text(keys[1], row) : NULL;
                trn_fault_add(faults, file, row->line, keys[0]->name,
                              "`%s%s%s` stands in line %zu already; %s",
                              trn_cell_text(keys[0], row), with ? "` with `" : "",
                              with ? with : "", first->line,
                              with ? "each pair has one row" : "names are unique");
                break;
            }
        }
}

static trn_status load_sheet(trn_machine *machine, const trn_table *table,
                             const trn_sheet *sheet, trn_faults *faults)
{
    place *at = calloc(sheet->columns + 1, sizeof *at);
    char *rows = calloc(sheet->rows + 1, table->row_size);
    trn_status status = TRN_OK;
    if (!at || !rows) {
        free(at);
        free(rows);
        return memory_fault(faults, sheet->name);
    }
    set_rows(machine, table, rows, sheet->rows);
    size_t wrong = place_columns(sheet, table, at, faults);
    wrong += check_units(sheet, at, faults);
    for (size_t r = 0; wrong == 0 && r < sheet->rows && status == TRN_OK; r++)
        status = read_row(sheet, r, table, at, rows + r * table->row_size, machine->arena, faults);
    if (wrong == 0 && status == TRN_OK)
        check_keys(machine, table, sheet->name, faults);
    if (wrong == 0 && sheet->rows == 0 && table->required)
        trn_fault_add(faults, sheet->name, sheet->header_line, NULL,
                      "the table has no rows; at least one is needed");
    for (size_t c = 0; c < sheet->columns; c++)
        free(at[c].unit);
    free(at);
    return status;
}

/* machine.csv: each row is one column of the schema. */
static trn_status load_head(trn_machine *machine, const trn_sheet *sheet, trn_faults *faults)
{
    static const char *const names[] = {"quantity", "value", "unit", "note"};
    const trn_table *table = trn_table_head();
    size_t at[4];
    uint64_t named = 0; /* what is named but faulty is not missing besides */
    for (size_t i = 0; i < 4; i++) {
        at[i] = 0;
        while (at[i] < sheet->columns && strcmp(sheet->header[at[i]], names[i]) != 0)
            at[i]++;
        if (at[i] == sheet->columns && i < 2) {
            trn_fault_add(faults, sheet->name, sheet->header_line, names[i],
                          "the column is missing; machine.csv has quantity,value,unit,note");
            return TRN_E_INPUT;
        }
    }
    for (size_t r = 0; r < sheet->rows; r++) {
        const char *name = trn_sheet_cell(sheet, r, at[0]);
        const char *text = trn_sheet_cell(sheet, r, at[1]);
        const char *unit = at[2] < sheet->columns ? trn_sheet_cell(sheet, r, at[2]) : "";
        const trn_column *column = trn_column_find(table, name);
        if (!column) {
            trn_fault_add(faults, sheet->name, sheet->line[r], "quantity",
                          "`%s` is no quantity of the machine; the nearest is `%s`", name,
                          trn_column_nearest(table, name));
            continue;
        }
        uint64_t bit = (uint64_t)1 << (column - table->columns);
        if (named & bit)
            trn_fault_add(faults, sheet->name, sheet->line[r], "quantity", "`%s` stands twice",
                          name);
        named |= bit;
        if (*text == '\0') {
            if (column->required)
                trn_fault_add(faults, sheet->name, sheet->line[r], "value",
                              "%s is blank but required: %s", name, column->what);
            continue;
        }
        if (takes_unit(column) && *unit == '\0') {
            trn_fault_add(faults, sheet->name, sheet->line[r], "unit",
                          "the unit of %s is missing; write `%s` or one that converts", name,
                          column->unit);
            continue;
        }
        if (column->cell == TRN_CELL_NUMBER && !takes_unit(column) && *unit != '\0' &&
            strcmp(unit, "-") != 0 && strcmp(unit, "1") != 0) {
            trn_fault_add(faults, sheet->name, sheet->line[r], "unit",
                          "%s takes no unit; leave the cell blank", name);
            continue;
        }
        trn_buffer why = {0};
        trn_status status =
            trn_cell_put(column, &machine->head, text, takes_unit(column) ? unit : NULL, sheet,
                         machine->arena, &why);
        if (status == TRN_OK)
            machine->head.row.given |= bit;
        else if (status != TRN_E_MEMORY)
            trn_fault_add(faults, sheet->name, sheet->line[r],
                          status == TRN_E_UNIT ? "unit" : "value", "%s: %s", name,
                          why.text ? why.text : trn_status_text(status));
        trn_buffer_free(&why);
        if (status == TRN_E_MEMORY)
            return memory_fault(faults, sheet->name);
    }
    for (size_t i = 0; i < table->column_count; i++)
        if (table->columns[i].required && !(named & (uint64_t)1 << i))
            trn_fault_add(faults, sheet->name, 0, NULL, "the quantity `%s` is missing: %s",
                          table->columns[i].name, table->columns[i].what);
    return TRN_OK;
}

/* ---- files -------------------------------------------------------------------------------- */

/* The file's bytes under its bare name, so that faults read `duty.csv:5: ...`. */
static trn_status read_table(const char *folder, const trn_table *table, trn_faults *faults,
                             trn_sheet **sheet)
{
    *sheet = NULL;
    char name[64];
    char path[4096];
    (void)snprintf(name, sizeof name, "%s.csv", table->name);
    int n = snprintf(path, sizeof path, "%s/%s", folder, name);
    if (n < 0 || (size_t)n >= sizeof path) {
        trn_fault_add(faults, name, 0, NULL, "the path of the case is too long");
        return TRN_E_IO;
    }
    if (access(path, F_OK) != 0) {
        if (!table->required)
            return TRN_OK;
        trn_fault_add(faults, name, 0, NULL, "the table is missing; every case needs it: %s",
                      table->what);
        return TRN_E_INPUT;
    }
    return trn_sheet_read_as(path, name, faults, sheet);
}

/* Without tables, the quantities of machine.csv at their defaults. */
static trn_machine *new_machine(const char *folder)
{
    trn_machine *machine = calloc(1, sizeof *machine);
    if (machine)
        machine->arena = trn_arena_new();
    if (!machine || !machine->arena || !(machine->folder = trn_text_copy(folder))) {
        trn_machine_free(machine);
        return NULL;
    }
    const trn_table *head = trn_table_head();
    for (size_t i = 0; i < head->column_count; i++)
        trn_cell_default(&head->columns[i], &machine->head);
    return machine;
}

trn_status trn_machine_read(const char *folder, trn_faults *faults, trn_machine **out)
{
    *out = NULL;
    struct stat info;
    if (stat(folder, &info) != 0 || !S_ISDIR(info.st_mode)) {
        trn_fault_add(faults, folder, 0, NULL, "%s",
                      errno == ENOENT ? "there is no such folder" : "not a folder that can be read");
        return TRN_E_IO;
    }
    trn_machine *machine = new_machine(folder);
    if (!machine)
        return memory_fault(faults, folder);
    const trn_table *head = trn_table_head();
    size_t before = faults->count;
    trn_status status = TRN_OK;
    for (size_t i = 0; i <= trn_table_count() && status != TRN_E_MEMORY; i++) {
        const trn_table *table = i == 0 ? head : trn_table_at(i - 1);
        trn_sheet *sheet = NULL;
        status = read_table(folder, table, faults, &sheet);
        if (sheet)
            status = table == head ? load_head(machine, sheet, faults)
                                   : load_sheet(machine, table, sheet, faults);
        trn_sheet_free(sheet);
    }
    if (status != TRN_E_MEMORY && faults->count == before)
        status = trn_machine_link(machine, faults);
    if (status == TRN_E_MEMORY || faults->count > before) {
        trn_machine_free(machine);
        return status == TRN_E_MEMORY ? status : TRN_E_INPUT;
    }
    *out = machine;
    return TRN_OK;
}

trn_status trn_machine_read_table(const char *path, const char *name, trn_faults *faults,
                                  trn_machine **out)
{
    *out = NULL;
    const trn_table *table = trn_table_find(name);
    if (!table)
        return TRN_E_UNKNOWN;
    trn_sheet *sheet = NULL;
    size_t before = faults->count;
    trn_status status = trn_sheet_read(path, faults, &sheet);
    if (status != TRN_OK)
        return status;
    trn_machine *machine = new_machine("");
    status = machine ? load_sheet(machine, table, sheet, faults) : memory_fault(faults, path);
    trn_sheet_free(sheet);
    if (status != TRN_OK || faults->count > before) {
        trn_machine_free(machine);
        return status != TRN_OK ? status : TRN_E_INPUT;
    }
    *out = machine;
    return TRN_OK;
}

void trn_machine_free(trn_machine *machine)
{
    if (!machine)
        return;
#define TRN_X(name, type) free(machine->name);
    TRN_TABLE_LIST(TRN_X)
#undef TRN_X
    free(machine->folder);
    trn_arena_free(machine->arena);
    free(machine);
}

trn_machine *trn_machine_copy(const trn_machine *machine)
{
    trn_machine *copy = malloc(sizeof *copy);
    if (!copy)
        return NULL;
    *copy = *machine;
    copy->folder = NULL;
    copy->origin = machine->origin ? machine->origin : machine;
    copy->arena = trn_arena_new();
    bool whole = copy->arena != NULL;
#define TRN_X(field, type) copy->field = NULL;
    TRN_TABLE_LIST(TRN_X)
#undef TRN_X
#define TRN_X(field, type)                                                          \
    copy->field = malloc((machine->field##_count + 1) * sizeof *copy->field);       \
    if (copy->field && machine->field)                                              \
        memcpy(copy->field, machine->field, machine->field##_count * sizeof *copy->field); \
    whole = whole && copy->field;
    TRN_TABLE_LIST(TRN_X)
#undef TRN_X
    whole = whole && (copy->folder = trn_text_copy(machine->folder ? machine->folder : ""));
    if (!whole) {
        trn_machine_free(copy);
        return NULL;
    }
    return copy;
}
