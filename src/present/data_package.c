/* SPDX-License-Identifier: GPL-3.0-or-later */
/* datapackage.json: which CSV files there are and what their columns hold. */
#include <ctype.h>
#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion.h>

#include "own_csv.h"

typedef struct maker {
    bool failed;
} maker;

/* Takes the reference to value; NULL is memory that ran out. */
static void set(maker *m, json_t *object, const char *key, json_t *value)
{
    if (json_object_set_new(object, key, value) != 0)
        m->failed = true;
}

static void append(maker *m, json_t *array, json_t *value)
{
    if (json_array_append_new(array, value) != 0)
        m->failed = true;
}

static void set_text(maker *m, json_t *object, const char *key, const char *text)
{
    trn_buffer clean = {0};
    if (!text || !*text)
        return;
    trn_text_clean(text, 100000, &clean);
    m->failed = m->failed || clean.failed;
    set(m, object, key, json_string(clean.text ? clean.text : ""));
    trn_buffer_free(&clean);
}

/* Lower-case letters, digits and '-' of a text, as names of packages are written. */
static void set_name(maker *m, json_t *object, const char *text, const char *fallback)
{
    char name[64];
    size_t n = 0;
    for (const unsigned char *p = (const unsigned char *)text; *p && n + 1 < sizeof name; p++) {
        if (*p < 0x80 && isalnum(*p))
            name[n++] = (char)tolower(*p);
        else if (n > 0 && name[n - 1] != '-')
            name[n++] = '-';
    }
    while (n > 0 && name[n - 1] == '-')
        n--;
    name[n] = '\0';
    set(m, object, "name", json_string(n ? name : fallback));
}

static json_t *field(maker *m, const char *header, const char *unit, const char *type,
                     const char *head)
{
    json_t *object = json_object();
    set_text(m, object, "name", header);
    set_text(m, object, "type", type);
    set_text(m, object, "unit", unit);
    set_text(m, object, "title", head);
    return object;
}

static void add_view_fields(maker *m, json_t *fields, const trn_view *view)
{
    for (size_t i = 0; i < view->field_count; i++) {
        const trn_field *f = &view->fields[i];
        trn_buffer header = {0};
        trn_field_header(f, &header);
        bool number = f->kind == TRN_FIELD_NUMBER || f->kind == TRN_FIELD_LIFE;
        m->failed = m->failed || header.failed;
        append(m, fields,
               field(m, header.text, f->unit, number ? "number" : "string", f->head));
        trn_buffer_free(&header);
    }
}

enum { COLUMNS_MAX = 64 };

/* Columns that hold a text somewhere; `columns` of them by the header. */
static void look_for_texts(maker *m, const trn_package_file *file, bool text[COLUMNS_MAX],
                           bool filled[COLUMNS_MAX])
{
    trn_buffer cell = {0};
    size_t at = 0;
    size_t column = 0;
    size_t row = 0;
    for (bool last = false; trn_own_csv_cell(file, &at, &cell, &last);) {
        double number = 0;
        bool empty = cell.length == 0;
        if (row > 0 && column < COLUMNS_MAX && !empty) {
            filled[column] = true;
            text[column] = text[column] || (strcmp(cell.text, "inf") != 0 &&
                                            trn_text_number(cell.text, &number) != TRN_OK);
        }
        column = last ? 0 : column + 1;
        row += last;
    }
    m->failed = m->failed || cell.failed;
    trn_buffer_free(&cell);
}

/* A file without a view: names and units as its header line has them, types by its cells. */
static void add_read_fields(maker *m, json_t *fields, const trn_package_file *file)
{
    bool text[COLUMNS_MAX] = {false};
    bool filled[COLUMNS_MAX] = {false};
    trn_buffer header = {0};
    size_t at = 0;
    size_t column = 0;
    look_for_texts(m, file, text, filled);
    for (bool last = false; !last && trn_own_csv_cell(file, &at, &header, &last); column++) {
        const char *open = header.text ? strchr(header.text, '[') : NULL;
        char unit[64] = "";
        if (open)
            (void)snprintf(unit, sizeof unit, "%.*s", (int)strcspn(open + 1, "]"), open + 1);
        bool number = column < COLUMNS_MAX && !text[column] && (open || filled[column]);
        append(m, fields, field(m, header.text, unit, number ? "number" : "string", NULL));
    }
    m->failed = m->failed || header.failed;
    trn_buffer_free(&header);
}

static json_t *schema(maker *m, const trn_package_file *file)
{
    json_t *object = json_object();
    json_t *fields = json_array();
    json_t *missing = json_array();
    if (file->view)
        add_view_fields(m, fields, file->view);
    else
        add_read_fields(m, fields, file);
    append(m, missing, json_string(""));
    set(m, object, "fields", fields);
    set(m, object, "missingValues", missing);
    return object;
}

static json_t *dialect(maker *m)
{
    json_t *object = json_object();
    set(m, object, "delimiter", json_string(","));
    set(m, object, "lineTerminator", json_string("\n"));
    set(m, object, "quoteChar", json_string("\""));
    set(m, object, "doubleQuote", json_true());
    set(m, object, "header", json_true());
    return object;
}

static json_t *resource(maker *m, const trn_package_file *file)
{
    json_t *object = json_object();
    char name[64];
    (void)snprintf(name, sizeof name, "%.*s", (int)(strlen(file->name) - strlen(".csv")),
                   file->name);
    set_text(m, object, "name", name);
    set_text(m, object, "path", file->name);
    set_text(m, object, "profile", "tabular-data-resource");
    set_text(m, object, "title", file->view ? file->view->title : NULL);
    set_text(m, object, "description", file->view ? file->view->caption : NULL);
    set_text(m, object, "format", "csv");
    set_text(m, object, "mediatype", "text/csv");
    set_text(m, object, "encoding", "utf-8");
    if (!file->unsized)
        set(m, object, "bytes", json_integer((json_int_t)file->size));
    set(m, object, "dialect", dialect(m));
    set(m, object, "schema", schema(m, file));
    return object;
}

trn_status trn_data_package(const trn_results *results, const trn_package_file *files,
                            size_t count, trn_buffer *out)
{
    maker m = {false};
    json_t *package = json_object();
    json_t *resources = json_array();
    const trn_head *head = &results->machine->head;
    set_text(&m, package, "profile", "tabular-data-package");
    set_name(&m, package, head->name ? head->name : "", "machine");
    set_text(&m, package, "title", head->name);
    set_text(&m, package, "description",
             "Results of trunnion " TRN_VERSION ". An empty cell: not known, the row's remark says "
             "why. `inf` in a column of numbers: no end. A text that begins with = + - @ has an "
             "apostrophe before it, so that no spreadsheet runs it.");
    for (size_t i = 0; i < count; i++)
        if (trn_own_csv(&files[i]))
            append(&m, resources, resource(&m, &files[i]));
    set(&m, package, "resources", resources);
    char *text = m.failed ? NULL : json_dumps(package, JSON_INDENT(2) | JSON_PRESERVE_ORDER);
    if (text) {
        trn_buffer_add(out, text);
        trn_buffer_add(out, "\n");
    }
    free(text);
    json_decref(package);
    return text && !out->failed ? TRN_OK : TRN_E_MEMORY;
}
