/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Addresses of results, held against the views. */
#include <trunnion/address.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "../machine/arena.h"

enum { PARTS_MAX = 8, NAMES_MAX = 512 };

/* What identifies the rows of a file; the other texts before the first number only describe. */
typedef struct identity {
    const char *view;
    const char *key[TRN_ADDRESS_KEYS];
    unsigned wanted;
    bool extras;
} identity;

enum {
    HEAT = TRN_WANT_JOINTS | TRN_WANT_HEAT,
    LIVES = HEAT | TRN_WANT_LIVES,
    EVERYTHING = TRN_WANT_ALL
};

static const identity identities[] = {
    {"fit", {"shaft"}, TRN_WANT_JOINTS | TRN_WANT_FIT, false},
    {"joints", {"condition", "shaft", "position"}, TRN_WANT_JOINTS, false},
    {"heat", {"condition", "gearbox"}, HEAT, false},
    {"bearing_lives", {"condition", "bearing"}, LIVES, false},
    {"gearbox_life", {"gearbox"}, LIVES, false},
    {"intervals", {"point", "task"}, EVERYTHING, false},
    {"gear_loads", {"condition", "gear"}, HEAT | TRN_WANT_CONTACTS, false},
    {"reactions", {"condition", "bearing"}, HEAT, false},
    {"turning", {"point", "task", "quantity"}, EVERYTHING, true},
};

/* NULL for series, whose rows no text tells apart. */
static const identity *identity_of(const char *view)
{
    for (size_t i = 0; i < sizeof identities / sizeof identities[0]; i++)
        if (strcmp(identities[i].view, view) == 0)
            return &identities[i];
    return NULL;
}

static bool is_text(const trn_field *f)
{
    return f->kind == TRN_FIELD_TEXT || f->kind == TRN_FIELD_WORD;
}

static bool is_number(const trn_field *f)
{
    return f->kind == TRN_FIELD_NUMBER || f->kind == TRN_FIELD_LIFE;
}

static const char *text_of(const trn_results *r, const trn_field *f, const void *row)
{
    const char *text = f->text(r, row);
    return text ? text : "";
}

/* Texts before the first number: what an address may name. */
static size_t text_count(const trn_view *view)
{
    size_t n = 0;
    while (n < view->field_count && is_text(&view->fields[n]))
        n++;
    return n;
}

static bool identifies(const identity *id, const trn_field *f)
{
    for (size_t k = 0; k < TRN_ADDRESS_KEYS && id->key[k]; k++)
        if (strcmp(id->key[k], f->name) == 0)
            return true;
    return false;
}

/* ---- parts ---------------------------------------------------------------------------------- */

typedef struct parts {
    size_t n;
    char text[PARTS_MAX][TRN_ADDRESS_KEY];
} parts;

static bool cut(const char *text, parts *out)
{
    out->n = 0;
    for (;;) {
        size_t length = strcspn(text, ".");
        if (out->n == PARTS_MAX || length == 0 || length >= TRN_ADDRESS_KEY)
            return false;
        memcpy(out->text[out->n], text, length);
        out->text[out->n++][length] = '\0';
        if (text[length] == '\0')
            return true;
        text += length + 1;
    }
}

/* Do the parts stand, in their order, among the texts of the row? known[c]: text c was named. */
static bool fits(const trn_results *r, const trn_view *view, const void *row, const parts *p,
                 size_t from, size_t to, bool *named)
{
    size_t texts = text_count(view);
    size_t c = 0;
    memset(named, 0, texts * sizeof *named);
    for (size_t i = from; i < to; i++) {
        while (c < texts && strcmp(p->text[i], "*") != 0 &&
               strcmp(p->text[i], text_of(r, &view->fields[c], row)) != 0)
            c++;
        if (c == texts)
            return false;
        named[c++] = true;
    }
    return true;
}

/* Is all that identifies the row and was not named `all` or blank? */
static bool rest_is_all(const trn_results *r, const trn_view *view, const void *row,
                        const bool *named)
{
    const identity *id = identity_of(view->name);
    bool condition = false; /* a row of a condition needs no position */
    for (size_t c = 0; c < text_count(view); c++) {
        const char *text = text_of(r, &view->fields[c], row);
        bool position = strcmp(view->fields[c].name, "position") == 0;
        condition = condition || (strcmp(view->fields[c].name, "condition") == 0 && *text);
        if (identifies(id, &view->fields[c]) && !named[c] && *text && strcmp(text, "all") != 0 &&
            !(position && condition))
            return false;
    }
    return true;
}

/* ---- what there is -------------------------------------------------------------------------- */

/* Steps of editing; a name that holds what was given is near. */
static size_t apart(const char *given, const char *name)
{
    size_t d = trn_edit_distance(given, name);
    return strstr(name, given) && d > 1 ? 1 : d;
}

static void say_nearest(const char *given, const char *const *names, size_t count,
                        trn_buffer *why)
{
    size_t told = 0;
    for (size_t limit = 0; told < 3 && limit < 64; limit++)
        for (size_t i = 0; i < count && told < 3; i++) {
            bool before = *names[i] == '\0';
            for (size_t k = 0; k < i && !before; k++)
                before = strcmp(names[k], names[i]) == 0;
            if (!before && apart(given, names[i]) == limit)
                trn_buffer_print(why, "%s`%s`", told++ ? ", " : "", names[i]);
        }
}

static trn_status no_file(const char *name, trn_buffer *why)
{
    const char *names[sizeof identities / sizeof identities[0]];
    size_t n = 0;
    for (; n < sizeof identities / sizeof identities[0]; n++)
        names[n] = identities[n].view;
    if (trn_view_find(name))
        trn_buffer_print(why, "`%s` is a series without named rows; others: ", name);
    else
        trn_buffer_print(why, "there is no result `%s`; the nearest: ", name);
    say_nearest(name, names, n, why);
    return TRN_E_INPUT;
}

/* A column that an address may end in: any but those that name the row. */
static const trn_field *result_field(const trn_view *view, const char *name)
{
    const identity *id = identity_of(view->name);
    for (size_t c = 0; c < view->field_count; c++)
        if (!identifies(id, &view->fields[c]) && view->fields[c].kind != TRN_FIELD_REMARK &&
            strcmp(view->fields[c].name, name) == 0)
            return &view->fields[c];
    return NULL;
}

/* Does any row have this text among its keys? */
static bool key_known(const trn_results *r, const trn_view *view, const char *key)
{
    for (size_t i = 0; i < view->rows(r); i++)
        for (size_t c = 0; c < text_count(view); c++)
            if (strcmp(text_of(r, &view->fields[c], view->row(r, i)), key) == 0)
                return true;
    return strcmp(key, "*") == 0;
}

static trn_status no_row(const trn_results *r, const trn_view *view, const parts *p,
                         trn_buffer *why)
{
    const char *names[NAMES_MAX];
    size_t n = 0;
    size_t bad = 1;
    if (view->rows(r) == 0) {
        trn_buffer_print(why, "the case has nothing from which %s could follow", view->name);
        return TRN_E_INPUT;
    }
    while (bad + 1 < p->n && key_known(r, view, p->text[bad]))
        bad++;
    bool last = bad + 1 == p->n; /* may be a column too */
    if (p->n == 1 || (last && (key_known(r, view, p->text[bad]) ||
                               result_field(view, p->text[bad])))) {
        trn_buffer_print(why, "no row of %s has these names together, in this order", view->name);
        return TRN_E_INPUT;
    }
    for (size_t c = 0; last && c < view->field_count && n < NAMES_MAX; c++)
        if (is_number(&view->fields[c]))
            names[n++] = view->fields[c].name;
    for (size_t i = 0; i < view->rows(r); i++)
        for (size_t c = 0; c < text_count(view) && n < NAMES_MAX; c++)
            names[n++] = text_of(r, &view->fields[c], view->row(r, i));
    trn_buffer_print(why, "%s has no %s`%s`; the nearest: ", view->name,
                     last && p->n > 2 ? "row or column " : "", p->text[bad]);
    say_nearest(p->text[bad], names, n, why);
    return TRN_E_INPUT;
}

/* ---- finding -------------------------------------------------------------------------------- */

static trn_status add(const trn_results *r, const trn_view *view, const trn_field *field,
                      const void *row, trn_addresses *out)
{
    trn_address a = {.view = view, .field = field};
    const identity *id = identity_of(view->name);
    bool condition = false;
    for (size_t c = 0; c < text_count(view); c++) {
        const trn_field *f = &view->fields[c];
        const char *text = text_of(r, f, row);
        if (!identifies(id, f))
            continue;
        condition = condition || (strcmp(f->name, "condition") == 0 && *text);
        if (strcmp(f->name, "position") == 0 && condition)
            text = ""; /* the condition says which */
        if (a.keys == TRN_ADDRESS_KEYS || strlen(text) >= TRN_ADDRESS_KEY)
            return TRN_E_MEMORY;
        memcpy(a.key[a.keys++], text, strlen(text) + 1);
    }
    trn_address *grown = realloc(out->list, (out->n + 1) * sizeof *grown);
    if (!grown)
        return TRN_E_MEMORY;
    out->list = grown;
    out->list[out->n++] = a;
    return TRN_OK;
}

/* Rows that the parts from 1 to `to` name; with `*` all of them, else the one that is meant. */
static trn_status rows_of(const trn_results *r, const trn_view *view, const trn_field *field,
                          const parts *p, size_t to, trn_addresses *out, size_t *found)
{
    enum { TEXTS_MAX = 16 };
    bool named[TEXTS_MAX];
    bool any = false;
    size_t whole = 0; /* rows of which nothing but `all` was left out */
    size_t start = out->n;
    trn_status status = TRN_OK;
    for (size_t i = 1; i < to; i++)
        any = any || strcmp(p->text[i], "*") == 0;
    if (text_count(view) > TEXTS_MAX)
        return TRN_E_MEMORY;
    for (size_t pass = 0; pass < 2; pass++) {
        for (size_t i = 0; i < view->rows(r) && status == TRN_OK; i++) {
            const void *row = view->row(r, i);
            if (!fits(r, view, row, p, 1, to, named))
                continue;
            bool rest = rest_is_all(r, view, row, named);
            if (pass == 0)
                whole += rest;
            else if (rest || whole == 0)
                status = add(r, view, field, row, out);
        }
    }
    *found = out->n - start;
    if (status == TRN_OK && !any && *found > 1)
        status = TRN_E_USAGE; /* several: the caller names them */
    return status;
}

static trn_status say_several(const trn_addresses *list, size_t start, const char *text,
                              trn_buffer *why)
{
    trn_buffer_print(why, "`%.200s` names several results:", text);
    for (size_t i = start; i < list->n && i < start + 4; i++) {
        trn_buffer_add(why, i > start ? ", `" : " `");
        trn_address_text(&list->list[i], false, why);
        trn_buffer_add(why, "`");
    }
    trn_buffer_add(why, list->n > start + 4 ? " ..." : "");
    return TRN_E_INPUT;
}

trn_status trn_address_find(const trn_results *results, const char *text, trn_addresses *out,
                            trn_buffer *why)
{
    parts p;
    size_t start = out->n;
    size_t found = 0;
    if (!cut(text, &p)) {
        trn_buffer_print(why, "`%.200s` names no result; write file.keys.column", text);
        return TRN_E_INPUT;
    }
    const trn_view *view = identity_of(p.text[0]) ? trn_view_find(p.text[0]) : NULL;
    if (!view)
        return no_file(p.text[0], why);
    const trn_field *field = p.n > 1 ? result_field(view, p.text[p.n - 1]) : NULL;
    trn_status status =
        rows_of(results, view, field, &p, field ? p.n - 1 : p.n, out, &found);
    if (status == TRN_OK && found == 0 && field) /* a key that is called like a column */
        status = rows_of(results, view, NULL, &p, p.n, out, &found);
    if (status == TRN_E_USAGE)
        status = say_several(out, start, text, why);
    else if (status == TRN_OK && found == 0)
        status = no_row(results, view, &p, why);
    if (status != TRN_OK)
        out->n = start;
    return status;
}

trn_status trn_address_spread(trn_addresses *addresses)
{
    trn_addresses spread = {0};
    for (size_t i = 0; i < addresses->n; i++) {
        const trn_address *a = &addresses->list[i];
        for (size_t c = 0; c < a->view->field_count; c++) {
            const trn_field *f = &a->view->fields[c];
            if (a->field ? f != a->field : !is_number(f))
                continue;
            trn_address *grown = realloc(spread.list, (spread.n + 1) * sizeof *grown);
            if (!grown) {
                trn_addresses_free(&spread);
                return TRN_E_MEMORY;
            }
            spread.list = grown;
            spread.list[spread.n] = *a;
            spread.list[spread.n].spread = a->spread || !a->field;
            spread.list[spread.n++].field = f;
        }
    }
    trn_addresses_free(addresses);
    *addresses = spread;
    return TRN_OK;
}

void trn_addresses_free(trn_addresses *addresses)
{
    free(addresses->list);
    *addresses = (trn_addresses){0};
}

unsigned trn_address_wanted(const char *text, bool *extras)
{
    parts p;
    const identity *id = cut(text, &p) ? identity_of(p.text[0]) : NULL;
    if (id && id->extras)
        *extras = true;
    return id ? id->wanted : 0;
}

/* ---- reading -------------------------------------------------------------------------------- */

const void *trn_address_row(const trn_address *a, const trn_results *r)
{
    const identity *id = identity_of(a->view->name);
    for (size_t i = 0; i < a->view->rows(r); i++) {
        const void *row = a->view->row(r, i);
        bool same = true;
        size_t k = 0;
        for (size_t c = 0; c < text_count(a->view) && same; c++)
            if (identifies(id, &a->view->fields[c])) {
                const char *key = a->key[k++];
                same = *key == '\0' || strcmp(key, text_of(r, &a->view->fields[c], row)) == 0;
            }
        if (same)
            return row;
    }
    return NULL;
}

double trn_address_value(const trn_address *a, const trn_results *r)
{
    const void *row = a->field && is_number(a->field) ? trn_address_row(a, r) : NULL;
    double value = NAN;
    if (row)
        memcpy(&value, (const char *)row + a->field->offset, sizeof value);
    return value;
}

void trn_address_remarks(const trn_address *a, const trn_results *r, trn_buffer *out)
{
    const void *row = trn_address_row(a, r);
    for (size_t c = 0; row && c < a->view->field_count; c++)
        if (a->view->fields[c].kind == TRN_FIELD_REMARK)
            trn_remarks_text(
                (const trn_remarks *)(const void *)((const char *)row + a->view->fields[c].offset),
                out);
}

void trn_address_text(const trn_address *a, bool with_unit, trn_buffer *out)
{
    trn_buffer_add(out, a->view->name);
    for (size_t k = 0; k < a->keys; k++)
        if (a->key[k][0])
            trn_buffer_print(out, ".%s", a->key[k]);
    if (!a->field)
        return;
    trn_buffer_print(out, ".%s", a->field->name);
    if (with_unit && a->field->unit)
        trn_buffer_print(out, " [%s]", a->field->unit);
}

static double follow_value(const void *self, const trn_results *r)
{
    return trn_address_value(self, r);
}

static size_t follow_bounds(const void *self, const trn_results *r,
                            trn_bound out[TRN_BOUNDS_MAX])
{
    return trn_address_bounds(self, r, out);
}

static void follow_remarks(const void *self, const trn_results *r, trn_buffer *out)
{
    trn_address_remarks(self, r, out);
}

trn_follow trn_address_follow(const trn_address *address)
{
    return (trn_follow){address, follow_value, follow_bounds,
                        address->spread ? NULL : follow_remarks};
}
