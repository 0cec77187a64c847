/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Addresses of results: file.keys.column. */
#include <stdio.h>
#include <string.h>
#include <trunnion/address.h>

#include "../machine/arena.h"
#include "working_inside.h"

enum { PART_SIZE = 128, KEYS = 3 };

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

static trn_status no_file(const char *text, size_t n, trn_buffer *why)
{
    char name[PART_SIZE];
    const char *names[FILES];
    (void)snprintf(name, sizeof name, "%.*s", (int)(n < 60 ? n : 60), text);
    for (size_t i = 0; i < FILES; i++)
        names[i] = files[i].view;
    trn_buffer_print(why, "there is no result file `%s` with a working; the nearest: ", name);
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

/* Quantiles of draws have no chain of their own. */
static trn_status of_draws(const trn_view *view, const char *name, trn_buffer *why)
{
    size_t n = strlen(name) - (strcmp(name + strlen(name) - 4, "_low") == 0 ? 4 : 5);
    const char *median = strncmp(name, "reliability", n) == 0 ? "reliability_at_design_life" : "Lnmh";
    trn_buffer_print(why,
                     "`%s` of %s is a quantile of several hundred whole evaluations, no single "
                     "working leads to it; that of the medians is `%s`",
                     name, view->name, median);
    return TRN_E_USAGE;
}

static bool band(const trn_view *view, const char *name)
{
    const char *end = strrchr(name, '_');
    bool lives =
        strcmp(view->name, "gearbox_life") == 0 || strcmp(view->name, "bearing_lives") == 0;
    return lives && end && (strcmp(end, "_low") == 0 || strcmp(end, "_high") == 0);
}

/* Place of a row in its view. */
static size_t index_of(const trn_results *results, const trn_view *view, const void *row)
{
    size_t i = 0;
    while (i < view->rows(results) && view->row(results, i) != row)
        i++;
    return i;
}

/* The last part is no column, but what stands before it is a result? */
static bool only_column_wrong(const trn_results *results, const char *text)
{
    const char *last = strrchr(text, '.');
    trn_buffer row = {0};
    trn_buffer why = {0};
    trn_addresses list = {0};
    if (!last || strchr(text, '.') == last)
        return false;
    trn_buffer_add_n(&row, text, (size_t)(last - text));
    bool found = row.text && trn_address_find(results, row.text, &list, &why) == TRN_OK;
    trn_addresses_free(&list);
    trn_buffer_free(&row);
    trn_buffer_free(&why);
    return found;
}

trn_status trn_working_find(const trn_results *results, const char *text, trn_working_place *out,
                             trn_buffer *why)
{
    trn_addresses list = {0};
    size_t n = strcspn(text, ".");
    size_t file = file_of(text, n);
    if (n == 0 || strstr(text, "..")) {
        trn_buffer_print(why, "`%.120s` is no result; write file.keys.column, as "
                              "heat.dry.centre.oil_temperature",
                         text);
        return TRN_E_USAGE;
    }
    if (file == TRN_NONE)
        return no_file(text, n, why);
    const trn_view *view = trn_view_find(files[file].view);
    trn_buffer reason = {0};
    trn_status status = trn_address_find(results, text, &list, &reason);
    if (status == TRN_OK && list.n > 1) {
        trn_buffer_print(why, "`%.120s` names %zu results; a working is of one", text, list.n);
        status = TRN_E_INPUT;
    } else if (status == TRN_OK) {
        const trn_address *a = &list.list[0];
        if (a->field && band(view, a->field->name))
            status = of_draws(view, a->field->name, why);
        else if (a->field && !has_chain(view, a->field))
            status = no_column(view, a->field->name, why);
        else
            *out = (trn_working_place){
                view, index_of(results, view, trn_address_row(a, results)), a->field};
    } else if (status == TRN_E_INPUT && only_column_wrong(results, text))
        status = no_column(view, strrchr(text, '.') + 1, why);
    else
        trn_buffer_add(why, reason.text ? reason.text : "");
    trn_addresses_free(&list);
    trn_buffer_free(&reason);
    return status;
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
