/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Addresses of results: file.keys.column. */
#include <stdlib.h>
#include <string.h>

#include "../machine/arena.h"
#include "working_inside.h"

enum { PARTS = 6, PART_SIZE = 128, KEYS = 3 };

/* Files with chains, their keys, and what has to be evaluated. */
static const struct {
    const char *view;
    const char *keys[KEYS + 1];
    unsigned wanted;
} files[] = {
    {"joints", {"condition", "shaft", "position", NULL}, TRN_WANT_JOINTS},
    {"heat", {"condition", "gearbox", NULL}, TRN_WANT_JOINTS | TRN_WANT_HEAT},
    {"bearing_lives",
     {"condition", "bearing", NULL},
     TRN_WANT_JOINTS | TRN_WANT_HEAT | TRN_WANT_LIVES},
    {"gearbox_life", {"gearbox", NULL}, TRN_WANT_JOINTS | TRN_WANT_HEAT | TRN_WANT_LIVES},
    {"intervals", {"point", "task", NULL}, TRN_WANT_ALL},
};
enum { FILES = sizeof files / sizeof files[0] };

static size_t file_of(const char *name, size_t n)
{
    for (size_t i = 0; i < FILES; i++)
        if (strlen(files[i].view) == n && strncmp(files[i].view, name, n) == 0)
            return i;
    return TRN_NONE;
}

unsigned trn_working_wanted(const char *text)
{
    size_t file = file_of(text, strcspn(text, "."));
    return file == TRN_NONE ? 0 : files[file].wanted;
}

static const trn_field *field_named(const trn_view *view, const char *name)
{
    for (size_t i = 0; i < view->field_count; i++)
        if (strcmp(view->fields[i].name, name) == 0)
            return &view->fields[i];
    return NULL;
}

static bool has_chain(const trn_view *view, const trn_field *field)
{
    return (field->kind == TRN_FIELD_NUMBER || field->kind == TRN_FIELD_LIFE) &&
           trn_working_rule(view->name, field->name, "");
}

/* Keys of a row that are not empty, in order. */
static size_t keys_of(const trn_results *results, size_t file, const trn_view *view, size_t row,
                      const char *keys[KEYS])
{
    size_t n = 0;
    for (size_t k = 0; files[file].keys[k]; k++) {
        const trn_field *field = field_named(view, files[file].keys[k]);
        const char *text = field->text(results, view->row(results, row));
        if (text && *text)
            keys[n++] = text;
    }
    return n;
}

/* How a row answers to keys: 3 all of them, 2 with `all` left out, 1 with its last key (position,
 * task) left out, 0 not at all. */
static int answers(size_t file, const char *const *keys, size_t n,
                   char (*given)[PART_SIZE], size_t count)
{
    bool joints = strcmp(files[file].view, "joints") == 0;
    bool last = joints ? n == 3 : strcmp(files[file].view, "intervals") == 0;
    size_t first = 0;
    int how = 3;
    if (count < n && strcmp(keys[0], "all") == 0) {
        first = 1;
        how = 2;
    } else if (count + 1 == n && last) {
        n--;
        how = 1;
    }
    if (n - first != count)
        return 0;
    for (size_t k = 0; k < count; k++)
        if (strcmp(keys[first + k], given[k]) != 0)
            return 0;
    return how;
}

/* Nearest of some names, up to three; each once. */
static void say_nearest(const char *given, const char *const *names, size_t count,
                        trn_buffer *why)
{
    size_t told = 0;
    for (size_t limit = 0; told < 3 && limit < 64; limit++)
        for (size_t i = 0; i < count && told < 3; i++) {
            bool before = false;
            for (size_t k = 0; k < i && !before; k++)
                before = strcmp(names[k], names[i]) == 0;
            /* a part of a name is nearest to it, whatever the number of letters */
            bool part = *given && strstr(names[i], given);
            size_t far = part ? 0 : trn_edit_distance(given, names[i]);
            if (!before && far == limit)
                trn_buffer_print(why, "%s`%s`", told++ ? ", " : "", names[i]);
        }
}

static trn_status no_file(const char *name, trn_buffer *why)
{
    const char *names[FILES];
    for (size_t i = 0; i < FILES; i++)
        names[i] = files[i].view;
    trn_buffer_print(why, "there is no result file `%.60s` with a working; the nearest: ", name);
    say_nearest(name, names, FILES, why);
    return TRN_E_USAGE;
}

static trn_status no_column(const trn_view *view, const char *name, trn_buffer *why)
{
    const char *names[64];
    size_t n = 0;
    for (size_t i = 0; i < view->field_count && n < 64; i++)
        if (has_chain(view, &view->fields[i]))
            names[n++] = view->fields[i].name;
    trn_buffer_print(why, "the column `%.60s` of %s has no working; the nearest with one: ", name,
                     view->name);
    say_nearest(name, names, n, why);
    return TRN_E_USAGE;
}

static void row_name(const trn_results *results, size_t file, const trn_view *view, size_t row,
                     trn_buffer *out)
{
    const char *keys[KEYS];
    size_t n = keys_of(results, file, view, row, keys);
    for (size_t k = 0; k < n; k++)
        trn_buffer_print(out, "%s%s", k ? "." : "", keys[k]);
}

/* Rows in words, to name the nearest: of the case, or where an address fits several. */
static trn_status no_row(const trn_results *results, size_t file, const trn_view *view,
                         char (*given)[PART_SIZE], size_t count, bool several,
                         trn_buffer *why)
{
    size_t rows = view->rows(results);
    char **names = calloc(rows + 1, sizeof *names);
    trn_buffer asked = {0};
    size_t n = 0;
    bool failed = !names;
    for (size_t k = 0; k < count; k++)
        trn_buffer_print(&asked, "%s%s", k ? "." : "", given[k]);
    for (size_t i = 0; names && i < rows; i++) {
        trn_buffer name = {0};
        const char *keys[KEYS];
        size_t key_count = keys_of(results, file, view, i, keys);
        if (several && !answers(file, keys, key_count, given, count))
            continue;
        row_name(results, file, view, i, &name);
        failed = failed || name.failed || !name.text;
        if (name.text)
            names[n++] = name.text;
    }
    const char *what = asked.text ? asked.text : "";
    if (several)
        trn_buffer_print(why, "`%s` of %s is one of several: ", what, view->name);
    else
        trn_buffer_print(why, "%s has no row `%s`; the nearest: ", view->name, what);
    say_nearest(what, (const char *const *)names, n, why);
    for (size_t i = 0; i < n; i++)
        free(names[i]);
    free(names);
    trn_buffer_free(&asked);
    return failed ? TRN_E_MEMORY : TRN_E_INPUT;
}

/* Row that the keys name; TRN_NONE with *several set where they name more than one. */
static size_t find_row(const trn_results *results, size_t file, const trn_view *view,
                       char (*given)[PART_SIZE], size_t count, bool *several)
{
    size_t found = TRN_NONE;
    int best = 0;
    *several = false;
    for (size_t i = 0; count > 0 && i < view->rows(results); i++) {
        const char *keys[KEYS];
        size_t n = keys_of(results, file, view, i, keys);
        int how = answers(file, keys, n, given, count);
        if (how > best) {
            best = how;
            found = i;
            *several = false;
        } else if (how > 0 && how == best) {
            *several = true;
        }
    }
    return *several ? TRN_NONE : found;
}

static size_t cut(const char *text, char parts[PARTS][PART_SIZE])
{
    size_t n = 0;
    for (;;) {
        size_t length = strcspn(text, ".");
        if (n == PARTS || length == 0 || length >= PART_SIZE)
            return 0;
        memcpy(parts[n], text, length);
        parts[n++][length] = '\0';
        if (text[length] == '\0')
            return n;
        text += length + 1;
    }
}

trn_status trn_working_find(const trn_results *results, const char *text, trn_working_place *out,
                             trn_buffer *why)
{
    char parts[PARTS][PART_SIZE];
    size_t n = cut(text, parts);
    if (n == 0) {
        trn_buffer_print(why, "`%.120s` is no result; write file.keys.column, as "
                              "heat.dry.centre.oil_temperature",
                         text);
        return TRN_E_USAGE;
    }
    size_t file = file_of(parts[0], strlen(parts[0]));
    if (file == TRN_NONE)
        return no_file(parts[0], why);
    const trn_view *view = trn_view_find(files[file].view);
    bool several = false;
    /* keys first: a shaft may have the name of a column */
    size_t row = find_row(results, file, view, &parts[1], n - 1, &several);
    if (row != TRN_NONE) {
        *out = (trn_working_place){view, row, NULL};
        return TRN_OK;
    }
    if (several)
        return no_row(results, file, view, &parts[1], n - 1, true, why);
    const trn_field *field = n > 2 ? field_named(view, parts[n - 1]) : NULL;
    row = n > 2 ? find_row(results, file, view, &parts[1], n - 2, &several) : TRN_NONE;
    if (row != TRN_NONE && (!field || !has_chain(view, field)))
        return no_column(view, parts[n - 1], why);
    if (row == TRN_NONE)
        return no_row(results, file, view, &parts[1], field ? n - 2 : n - 1, several, why);
    *out = (trn_working_place){view, row, field};
    return TRN_OK;
}

void trn_working_place_text(const trn_results *results, const trn_working_place *address,
                            trn_buffer *out)
{
    size_t file = file_of(address->view->name, strlen(address->view->name));
    trn_buffer_print(out, "%s.", address->view->name);
    row_name(results, file, address->view, address->row, out);
    if (address->field)
        trn_buffer_print(out, ".%s", address->field->name);
}
