/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The starter case: every table of the schema with its columns explained and an example. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <trunnion/csv_write.h>
#include <trunnion/file.h>
#include <trunnion/formula.h>
#include <trunnion/schema.h>

#include "starter_rows.h"

bool trn_column_has_unit(const trn_column *column)
{
    return (column->cell == TRN_CELL_NUMBER || column->cell == TRN_CELL_NUMBERS) &&
           strcmp(column->unit, "1") != 0;
}

void trn_column_header(const trn_column *column, trn_buffer *out)
{
    trn_buffer_add(out, column->name);
    if (trn_column_has_unit(column))
        trn_buffer_print(out, " [%s]", column->unit);
}

/* ---- explanations ------------------------------------------------------------------------- */

static size_t width_of_headers(const trn_table *table)
{
    size_t widest = 0;
    for (size_t i = 0; i < table->column_count; i++) {
        const trn_column *c = &table->columns[i];
        size_t n = strlen(c->name) + (trn_column_has_unit(c) ? strlen(c->unit) + 3 : 0);
        widest = n > widest ? n : widest;
    }
    return widest;
}

/* Words of a sign column: the catalogue knows them. */
static const char *const *words_of(const trn_column *column)
{
    if (column->words)
        return column->words;
    const trn_formula *f = trn_formula_find("statistics.damage_sign");
    if (column->cell != TRN_CELL_TEXTS || strcmp(column->name, "sign") != 0 || !f)
        return NULL;
    for (size_t i = 0; i < f->input_count; i++)
        if (strcmp(f->inputs[i].name, "sign") == 0)
            return f->inputs[i].words;
    return NULL;
}

/* A line of a comment, broken at blanks; later lines are indented. */
static void add_wrapped(const char *text, size_t indent, trn_buffer *out)
{
    enum { WIDTH = 100 };
    size_t at = 0;
    for (const char *p = text; *p;) {
        size_t gap = strspn(p, " ");
        size_t n = strcspn(p + gap, " ");
        if (at > indent && at + gap + n > WIDTH) {
            trn_buffer_print(out, "\n#%*s", (int)indent - 1, "");
            at = indent;
            gap = 0;
            p += strspn(p, " ");
        }
        trn_buffer_add_n(out, p, gap + n);
        at += gap + n;
        p += gap + n;
    }
    trn_buffer_add(out, "\n");
}

static void add_column(const trn_column *c, size_t width, trn_buffer *out)
{
    trn_buffer header = {0};
    trn_buffer line = {0};
    trn_column_header(c, &header);
    trn_buffer_print(&line, "#   %-*s  %s", (int)width, header.text ? header.text : "", c->what);
    const char *const *words = words_of(c);
    for (size_t i = 0; words && words[i]; i++)
        trn_buffer_print(&line, "%s%s", i ? " | " : "; one of: ", words[i]);
    if (c->range) {
        trn_buffer_add(&line, "; ");
        trn_range_words(c->range, &line);
    }
    if (c->only)
        trn_buffer_print(&line, "; in %s only",
                         strcmp(c->only, "h/min") == 0 ? "h or min" : c->only);
    if (c->required)
        trn_buffer_add(&line, "; REQUIRED");
    else if (c->fallback)
        trn_buffer_print(&line, "; blank: %s", c->fallback);
    add_wrapped(line.text ? line.text : "", width + 6, out);
    out->failed = out->failed || header.failed || line.failed;
    trn_buffer_free(&header);
    trn_buffer_free(&line);
}

static void add_head(const trn_table *table, bool acts, trn_buffer *out)
{
    trn_buffer_print(out, "# %s.csv: %s\n", table->name, table->what);
    trn_buffer_print(out, "# What it is good for: %s.%s\n", table->buys,
                     table->required ? " Every case needs this table." : "");
    if (acts)
        trn_buffer_add(out, "# The rows below are those of an INVENTED example machine: put your "
                            "own in their place.\n");
    else
        trn_buffer_add(out, "# The rows below are EXAMPLES that do not act: take away the # of a "
                            "row to use it.\n");
    trn_buffer_add(out, "# A line that begins with # is a comment. What is not known stays blank "
                        "unless it is REQUIRED.\n# Another unit that converts may stand in a "
                        "bracket, as [in] for [mm].\n#\n");
    size_t width = width_of_headers(table);
    for (size_t i = 0; i < table->column_count; i++)
        add_column(&table->columns[i], width, out);
    trn_buffer_add(out, "#\n");
}

/* ---- rows --------------------------------------------------------------------------------- */

/* Value of a column in the text of a row; length 0 where it is not named. */
static const char *value_in(const char *row, const char *column, size_t *length)
{
    size_t n = strlen(column);
    for (const char *p = row; *p;) {
        size_t pair = strcspn(p, "|");
        if (pair > n && p[n] == '=' && strncmp(p, column, n) == 0) {
            *length = pair - n - 1;
            return p + n + 1;
        }
        p += pair + (p[pair] == '|');
    }
    *length = 0;
    return "";
}

static void add_cell(const char *row, const char *column, trn_csv_writer *csv)
{
    size_t n = 0;
    const char *value = value_in(row, column, &n);
    char *cell = trn_text_copy_n(value, n);
    if (cell)
        trn_csv_word(csv, cell);
    else
        csv->out->failed = true;
    free(cell);
}

static void add_rows(const trn_table *table, const trn_starter_rows *rows, trn_buffer *out)
{
    trn_csv_writer csv = {.out = out};
    for (size_t i = 0; i < table->column_count; i++) {
        trn_buffer header = {0};
        trn_column_header(&table->columns[i], &header);
        trn_csv_word(&csv, header.text ? header.text : "");
        out->failed = out->failed || header.failed;
        trn_buffer_free(&header);
    }
    trn_csv_end(&csv);
    for (size_t r = 0; rows && r < rows->count; r++) {
        if (!rows->acts)
            trn_buffer_add(out, "#");
        for (size_t i = 0; i < table->column_count; i++)
            add_cell(rows->rows[r], table->columns[i].name, &csv);
        trn_csv_end(&csv);
    }
}

/* machine.csv: one quantity a row, all of them, so that a blank value is there to be filled. */
static void add_quantities(const trn_table *table, const trn_starter_rows *rows, trn_buffer *out)
{
    trn_csv_writer csv = {.out = out};
    static const char *const head[] = {"quantity", "value", "unit", "note"};
    for (size_t i = 0; i < sizeof head / sizeof head[0]; i++)
        trn_csv_word(&csv, head[i]);
    trn_csv_end(&csv);
    for (size_t i = 0; i < table->column_count; i++) {
        const trn_column *c = &table->columns[i];
        trn_csv_word(&csv, c->name);
        add_cell(rows ? rows->rows[0] : "", c->name, &csv);
        trn_csv_word(&csv, trn_column_has_unit(c) ? c->unit : "");
        trn_csv_blank(&csv);
        trn_csv_end(&csv);
    }
}

static void write_table(const trn_table *table, trn_buffer *out)
{
    const trn_starter_rows *rows = trn_starter_rows_of(table->name);
    add_head(table, !rows || rows->acts, out);
    if (table == trn_table_head())
        add_quantities(table, rows, out);
    else
        add_rows(table, rows, out);
}

/* ---- the folder --------------------------------------------------------------------------- */

static const trn_table *table_of(size_t i)
{
    return i == 0 ? trn_table_head() : trn_table_at(i - 1);
}

/* One fault for all of them: the first, and how many more. */
static trn_status refuse_existing(const char *folder, trn_faults *faults)
{
    trn_buffer first = {0};
    size_t found = 0;
    trn_status status = TRN_OK;
    for (size_t i = 0; i <= trn_table_count() && status == TRN_OK; i++) {
        trn_buffer path = {0};
        struct stat info;
        trn_buffer_print(&path, "%s/%s.csv", folder, table_of(i)->name);
        if (path.failed)
            status = TRN_E_MEMORY;
        else if (lstat(path.text, &info) == 0 && found++ == 0)
            trn_buffer_add(&first, path.text);
        trn_buffer_free(&path);
    }
    if (status == TRN_OK && found > 0) {
        char more[48] = "";
        if (found > 1)
            (void)snprintf(more, sizeof more, " (and %zu more of the tables)", found - 1);
        trn_fault_add(faults, first.text ? first.text : folder, 0, NULL,
                      "is there already%s; nothing was written: give a folder without a case",
                      more);
        status = TRN_E_INPUT;
    }
    trn_buffer_free(&first);
    return status;
}

trn_status trn_machine_new(const char *folder, trn_faults *faults)
{
    size_t count = trn_table_count() + 1;
    trn_status status = refuse_existing(folder, faults);
    if (status < 0)
        return status;
    trn_file *files = calloc(count, sizeof *files);
    trn_buffer *names = calloc(count, sizeof *names);
    trn_buffer *texts = calloc(count, sizeof *texts);
    status = files && names && texts ? TRN_OK : TRN_E_MEMORY;
    for (size_t i = 0; status == TRN_OK && i < count; i++) {
        write_table(table_of(i), &texts[i]);
        trn_buffer_print(&names[i], "%s.csv", table_of(i)->name);
        if (texts[i].failed || names[i].failed)
            status = TRN_E_MEMORY;
        else
            files[i] = (trn_file){names[i].text, texts[i].text, texts[i].length};
    }
    if (status == TRN_OK)
        status = trn_files_write(folder, files, count, faults);
    for (size_t i = 0; i < count; i++) {
        if (names)
            trn_buffer_free(&names[i]);
        if (texts)
            trn_buffer_free(&texts[i]);
    }
    free(files);
    free(names);
    free(texts);
    return status;
}
