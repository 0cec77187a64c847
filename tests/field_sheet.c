/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The field sheet: every cell that it names exists, every cell that a table cannot do without is
 * on it, and it holds what it must (wording of the issue). */
#include <criterion/criterion.h>
#include <string.h>
#include <trunnion/field_sheet.h>

static const trn_table *table_of(const char *name)
{
    return strcmp(name, "machine") == 0 ? trn_table_head() : trn_table_find(name);
}

Test(field_sheet, every_entry_is_a_cell_of_the_case)
{
    for (size_t i = 0; i < trn_field_entry_count(); i++) {
        const trn_field_entry *e = trn_field_entry_at(i);
        const trn_table *table = table_of(e->table);
        cr_assert(table, "%s", e->table);
        cr_expect(trn_column_find(table, e->column), "%s.%s", e->table, e->column);
        cr_expect((e->what == NULL) == (e->with == NULL), "%s.%s", e->table, e->column);
        for (size_t k = 0; k < i; k++)
            cr_expect(strcmp(trn_field_entry_at(k)->table, e->table) != 0 ||
                          strcmp(trn_field_entry_at(k)->column, e->column) != 0,
                      "%s.%s twice", e->table, e->column);
    }
}

static bool on_sheet(const char *table, const char *column)
{
    for (size_t i = 0; i < trn_field_entry_count(); i++)
        if (strcmp(trn_field_entry_at(i)->table, table) == 0 &&
            strcmp(trn_field_entry_at(i)->column, column) == 0)
            return true;
    return false;
}

/* derived: names that are given at the desk are not measured; all else that is required is */
Test(field_sheet, what_is_required_is_asked_for)
{
    static const char *const tables[] = {"machine", "shafts",   "positions", "gearboxes", "axles",
                                         "gears",   "bearings", "oils",      "points",    "duty"};
    for (size_t t = 0; t < sizeof tables / sizeof tables[0]; t++) {
        const trn_table *table = table_of(tables[t]);
        for (size_t i = 0; i < table->column_count; i++) {
            const trn_column *c = &table->columns[i];
            if (c->required && (c->cell == TRN_CELL_NUMBER || c->cell == TRN_CELL_WORD))
                cr_expect(on_sheet(tables[t], c->name), "%s.%s", tables[t], c->name);
        }
    }
}

static bool ordered(const char *text, const char *const *words, size_t n)
{
    const char *p = text;
    for (size_t i = 0; i < n; i++) {
        p = strstr(p, words[i]);
        if (!p)
            return false;
    }
    return true;
}

Test(field_sheet, cautions_first_then_cold_warm_stopped)
{
    static const char *const words[] = {
        "Never go near a turning shaft", "Engine off, key out", "rotors run on", "burn",
        "infrared",       "outside the guard", "Bare metal reads far too low", "Before starting",
        "hour meter",     "Warm, at work",     "from the seat",                "After stopping",
        "within two minutes",
    };
    for (size_t k = 0; k < TRN_STARTERS; k++) {
        trn_buffer out = {0};
        cr_assert_eq(trn_field_sheet((trn_starter)k, &out), TRN_OK);
        cr_expect(ordered(out.text, words, sizeof words / sizeof words[0]), "%s",
                  trn_starter_word((trn_starter)k));
        cr_expect(strstr(out.text, "class=\"box\""));
        trn_buffer_free(&out);
    }
}

/* A sheet asks for nothing that its tables have no place for, and for all that they have one. */
Test(field_sheet, follows_the_tables_of_the_question)
{
    for (size_t k = 0; k < TRN_STARTERS; k++) {
        trn_buffer out = {0};
        cr_assert_eq(trn_field_sheet((trn_starter)k, &out), TRN_OK);
        for (size_t i = 0; i < trn_field_entry_count(); i++) {
            const trn_field_entry *e = trn_field_entry_at(i);
            trn_buffer file = {0};
            trn_buffer cell = {0};
            trn_buffer_print(&file, "%s.csv", e->table);
            trn_buffer_print(&cell, "%s", e->what ? "<td>" : ">");
            trn_column_header(trn_column_find(table_of(e->table), e->column), &cell);
            trn_buffer_add(&cell, "</t");
            bool has = trn_starter_has((trn_starter)k, e->table);
            cr_expect_eq(strstr(out.text, file.text) != NULL, has, "%s: %s",
                         trn_starter_word((trn_starter)k), file.text);
            if (trn_starter_column((trn_starter)k, e->table, e->column))
                cr_expect(strstr(out.text, cell.text), "%s: %s", trn_starter_word((trn_starter)k),
                          cell.text);
            trn_buffer_free(&file);
            trn_buffer_free(&cell);
        }
        trn_buffer_free(&out);
    }
}
