/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The starter case: every table of the schema with its columns explained and an example. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <trunnion/csv_write.h>
#include <trunnion/file.h>
#include <trunnion/formula.h>

#include "starter_rows.h"

const char trn_starter_mark[] = "EXAMPLE";

/* What is being written. */
typedef struct writing {
    trn_starter starter;
    const trn_table *table;
    const trn_starter_rows *rows; /* NULL: none */
    bool acts;
} writing;

static bool written(const writing *w, const trn_column *column)
{
    return trn_starter_column(w->starter, w->table->name, column->name);
}

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

static size_t width_of_headers(const writing *w)
{
    size_t widest = 0;
    for (size_t i = 0; i < w->table->column_count; i++) {
        const trn_column *c = &w->table->columns[i];
        if (!written(w, c))
            continue;
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

static void add_head(const writing *w, trn_buffer *out)
{
    const trn_table *table = w->table;
    trn_buffer_print(out, "# %s.csv: %s\n", table->name, table->what);
    trn_buffer_print(out, "# What it is good for: %s.%s\n", table->buys,
                     table->required ? " Every case needs this table." : "");
    if (w->acts)
        trn_buffer_add(out, "# The rows below are those of an INVENTED example machine, each "
                            "marked EXAMPLE: put your own\n# in their place and take the mark "
                            "away.\n");
    else
        trn_buffer_add(out, "# The rows below are EXAMPLES that do not act: take away the # of a "
                            "row to use it.\n");
    trn_buffer_add(out, "# A line that begins with # is a comment. What is not known stays blank "
                        "unless it is REQUIRED.\n# Another unit that converts may stand in a "
                        "bracket, as [in] for [mm].\n");
    if (strcmp(table->name, "scenarios") != 0)
        trn_buffer_add(out, "# field-sheet.html says where each is measured, and with what.\n");
    trn_buffer_add(out, "#\n");
    size_t width = width_of_headers(w);
    for (size_t i = 0; i < table->column_count; i++)
        if (written(w, &table->columns[i]))
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

/* The note of an example row begins with the mark. */
static void add_note(const writing *w, const char *value, size_t n, trn_csv_writer *csv)
{
    trn_buffer note = {0};
    if (w->acts)
        trn_buffer_add(&note, trn_starter_mark);
    if (w->acts && n > 0)
        trn_buffer_add(&note, ": ");
    trn_buffer_add_n(&note, value, n);
    trn_csv_word(csv, note.text);
    csv->out->failed = csv->out->failed || note.failed;
    trn_buffer_free(&note);
}

static void add_cell(const writing *w, const char *row, const char *column, trn_csv_writer *csv)
{
    size_t n = 0;
    const char *value =
        value_in(trn_starter_instead(w->starter, w->table->name, row), column, &n);
    if (n == 0)
        value = value_in(row, column, &n);
    if (strcmp(column, "note") == 0) {
        add_note(w, value, n, csv);
        return;
    }
    char *cell = trn_text_copy_n(value, n);
    if (cell)
        trn_csv_word(csv, cell);
    else
        csv->out->failed = true;
    free(cell);
}

static void add_rows(const writing *w, trn_buffer *out)
{
    trn_csv_writer csv = {.out = out};
    const trn_table *table = w->table;
    for (size_t i = 0; i < table->column_count; i++) {
        trn_buffer header = {0};
        if (!written(w, &table->columns[i]))
            continue;
        trn_column_header(&table->columns[i], &header);
        trn_csv_word(&csv, header.text ? header.text : "");
        out->failed = out->failed || header.failed;
        trn_buffer_free(&header);
    }
    trn_csv_end(&csv);
    for (size_t r = 0; w->rows && r < w->rows->count; r++) {
        const char *row = w->rows->rows[r];
        bool comment = *row == '#'; /* shown, never acts */
        row += comment;
        if (!trn_starter_row_in(w->starter, table->name, row))
            continue;
        if (!w->acts || comment)
            trn_buffer_add(out, "#");
        for (size_t i = 0; i < table->column_count; i++)
            if (written(w, &table->columns[i]))
                add_cell(w, row, table->columns[i].name, &csv);
        trn_csv_end(&csv);
    }
}

/* machine.csv: one quantity a row, all of them, so that a blank value is there to be filled. */
static void add_quantities(const writing *w, trn_buffer *out)
{
    trn_csv_writer csv = {.out = out};
    static const char *const head[] = {"quantity", "value", "unit", "note"};
    for (size_t i = 0; i < sizeof head / sizeof head[0]; i++)
        trn_csv_word(&csv, head[i]);
    trn_csv_end(&csv);
    for (size_t i = 0; i < w->table->column_count; i++) {
        const trn_column *c = &w->table->columns[i];
        size_t n = 0;
        if (!written(w, c))
            continue;
        trn_csv_word(&csv, c->name);
        add_cell(w, w->rows->rows[0], c->name, &csv);
        trn_csv_word(&csv, trn_column_has_unit(c) ? c->unit : "");
        (void)value_in(w->rows->rows[0], c->name, &n);
        trn_csv_word(&csv, n > 0 ? trn_starter_mark : "");
        trn_csv_end(&csv);
    }
}

static void write_table(const trn_table *table, trn_starter starter, trn_buffer *out)
{
    writing w = {.starter = starter, .table = table, .rows = trn_starter_rows_of(table->name)};
    w.acts = !w.rows || trn_starter_acts(starter, w.rows);
    add_head(&w, out);
    if (table == trn_table_head())
        add_quantities(&w, out);
    else
        add_rows(&w, out);
}

/* ---- the folder --------------------------------------------------------------------------- */

static const trn_table *table_of(size_t i)
{
    return i == 0 ? trn_table_head() : trn_table_at(i - 1);
}

/* Files of a case, and those beside them, that are there already. */
typedef struct found {
    trn_buffer first;
    size_t count;
    bool failed;
} found;

static void look_for(const char *folder, const char *name, const char *ending, found *f)
{
    trn_buffer path = {0};
    struct stat info;
    trn_buffer_print(&path, "%s/%s%s", folder, name, ending);
    f->failed = f->failed || path.failed;
    if (!path.failed && lstat(path.text, &info) == 0 && f->count++ == 0)
        trn_buffer_add(&f->first, path.text);
    trn_buffer_free(&path);
}

/* One fault for all of them: the first, and how many more. */
static trn_status refuse_existing(const char *folder, const trn_file *more, size_t more_count,
                                  trn_faults *faults)
{
    found f = {.count = 0};
    for (size_t i = 0; i <= trn_table_count(); i++)
        look_for(folder, table_of(i)->name, ".csv", &f);
    for (size_t i = 0; i < more_count; i++)
        look_for(folder, more[i].name, "", &f);
    trn_status status = f.failed || f.first.failed ? TRN_E_MEMORY : TRN_OK;
    if (status == TRN_OK && f.count > 0) {
        char others[48] = "";
        if (f.count > 1)
            (void)snprintf(others, sizeof others, " (and %zu more of the tables)", f.count - 1);
        trn_fault_add(faults, f.first.text, 0, NULL,
                      "is there already%s; nothing was written: give a folder without a case",
                      others);
        status = TRN_E_INPUT;
    }
    trn_buffer_free(&f.first);
    return status;
}

/* The files of a case; texts[i] and names[i] hold what files[i] points to. */
static trn_status make_files(trn_starter starter, trn_buffer *names, trn_buffer *texts,
                             trn_file *files, size_t *count)
{
    for (size_t i = 0; i <= trn_table_count(); i++) {
        size_t k = *count;
        if (!trn_starter_has(starter, table_of(i)->name))
            continue;
        write_table(table_of(i), starter, &texts[k]);
        trn_buffer_print(&names[k], "%s.csv", table_of(i)->name);
        if (texts[k].failed || names[k].failed)
            return TRN_E_MEMORY;
        files[k] = (trn_file){names[k].text, texts[k].text, texts[k].length};
        ++*count;
    }
    return TRN_OK;
}

trn_status trn_starter_write(const char *folder, trn_starter starter, const trn_file *more,
                             size_t more_count, trn_faults *faults)
{
    size_t room = trn_table_count() + 1 + more_count;
    size_t count = 0;
    trn_status status = refuse_existing(folder, more, more_count, faults);
    if (status < 0)
        return status;
    trn_file *files = calloc(room, sizeof *files);
    trn_buffer *names = calloc(room, sizeof *names);
    trn_buffer *texts = calloc(room, sizeof *texts);
    status = files && names && texts ? make_files(starter, names, texts, files, &count)
                                     : TRN_E_MEMORY;
    for (size_t i = 0; status == TRN_OK && i < more_count; i++)
        files[count++] = more[i];
    if (status == TRN_OK)
        status = trn_files_write(folder, files, count, faults);
    for (size_t i = 0; i < room; i++) {
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

trn_status trn_machine_new(const char *folder, trn_faults *faults)
{
    return trn_starter_write(folder, TRN_STARTER_ALL, NULL, 0, faults);
}
