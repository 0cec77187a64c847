/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inputs that are cells of the case, or follow from two of them, or were chosen here. */
#include <string.h>
#include <trunnion/choices.h>
#include <trunnion/path.h>
#include <trunnion/units.h>

#include "working_origin.h"

/* ---- keys of a place ---------------------------------------------------------------------- */

const char *trn_place_bearing(const trn_place *p, size_t which)
{
    const trn_machine *m = p->results->machine;
    if (p->axle == TRN_NONE || m->axles[p->axle].bearing_count <= which)
        return NULL;
    return m->bearings[m->axles[p->axle].bearing[which]].bearing;
}

static const char *oil_key(const trn_place *p)
{
    const trn_machine *m = p->results->machine;
    if (p->gearbox != TRN_NONE)
        return m->gearboxes[p->gearbox].oil;
    return p->point == TRN_NONE ? NULL : m->points[p->point].lubricant;
}

static const char *task_key(const trn_place *p)
{
    const trn_column *task = trn_column_find(trn_table_find("points"), "task");
    return p->point == TRN_NONE ? NULL : task->words[p->results->machine->points[p->point].task];
}

/* Key that stands for a name such as `shaft` in a path; NULL: the place has none. */
static const char *key_of(const trn_place *p, const char *name, size_t n)
{
    const trn_machine *m = p->results->machine;
#define IS(word) (n == sizeof(word) - 1 && strncmp(name, word, n) == 0)
#define KEY(word, table, index)                                              \
    if (IS(#word))                                                           \
        return p->index == TRN_NONE ? NULL : m->table[p->index].word;
    KEY(shaft, shafts, shaft)
    KEY(gearbox, gearboxes, gearbox)
    KEY(axle, axles, axle)
    KEY(gear, gears, gear)
    KEY(bearing, bearings, bearing)
    KEY(point, points, point)
    KEY(condition, duty, condition)
#undef KEY
    if (IS("mate"))
        return p->gear == TRN_NONE ? NULL : m->gears[p->gear].mate;
    if (IS("position"))
        return p->position;
    if (IS("A"))
        return trn_place_bearing(p, 0);
    if (IS("B"))
        return trn_place_bearing(p, 1);
    if (IS("oil"))
        return oil_key(p);
    if (IS("task"))
        return task_key(p);
#undef IS
    return NULL;
}

char trn_place_side(const trn_place *p)
{
    const char *a = trn_place_bearing(p, 0);
    const char *own = key_of(p, "bearing", 7);
    return a && own && strcmp(a, own) == 0 ? 'A' : 'B';
}

/* Writes a rule with the keys of the place; false where one is missing. */
bool trn_rule_filled(const trn_sought *s, const char *rule, size_t n, char *out, size_t size)
{
    size_t used = 0;
    for (size_t i = 0; i < n;) {
        const char *piece = rule + i;
        size_t length = 1;
        char side[2] = {trn_place_side(s->place), '\0'};
        if (rule[i] == '@') {
            size_t k = 1;
            while (i + k < n && ((rule[i + k] >= 'a' && rule[i + k] <= 'z') ||
                                 rule[i + k] == 'A' || rule[i + k] == 'B'))
                k++;
            piece = key_of(s->place, rule + i + 1, k - 1);
            if (!piece)
                return false;
            length = strlen(piece);
            i += k;
        } else {
            if (rule[i] == '~') {
                piece = s->symbol;
                length = strlen(piece);
            } else if (rule[i] == '#') {
                piece = side;
            }
            i++;
        }
        if (used + length + 1 > size)
            return false;
        memcpy(out + used, piece, length);
        used += length;
    }
    out[used] = '\0';
    return true;
}

/* ---- cells -------------------------------------------------------------------------------- */

/* Numbers of a cell in the unit asked for; 0 where it has none or is not known. */
size_t trn_cell_values(const trn_machine *m, const char *path_text, const char *si,
                       double values[TRN_CELL_VALUES])
{
    trn_path path;
    trn_buffer why = {0};
    trn_status status = trn_path_parse(m, path_text, &path, &why);
    trn_buffer_free(&why);
    if (status != TRN_OK)
        return 0;
    const char *at = trn_table_row(m, path.table, trn_path_row(m, &path, 0));
    size_t n = 0;
    if (path.column->cell == TRN_CELL_NUMBER) {
        memcpy(values, at + path.column->offset, sizeof *values);
        if (!isnan(values[0]))
            n = 1;
    } else if (path.column->cell == TRN_CELL_NUMBERS) {
        const trn_numbers *list = (const void *)(at + path.column->offset);
        n = list->n;
        memcpy(values, list->v, n * sizeof *values);
    }
    for (size_t i = 0; i < n; i++)
        if (strcmp(path.column->inner, si) != 0 &&
            trn_unit_value(values[i], path.column->inner, si, &values[i]) != TRN_OK)
            return 0;
    return n;
}

/* Filled in by the user, or by an override; has the column a default? */
bool trn_cell_filled(const trn_machine *m, const char *path_text, bool *changed, bool *fallback)
{
    *changed = *fallback = false;
    trn_path path;
    trn_buffer why = {0};
    trn_status status = trn_path_parse(m, path_text, &path, &why);
    trn_buffer_free(&why);
    if (status != TRN_OK)
        return false;
    const trn_row *row = trn_table_row(m, path.table, trn_path_row(m, &path, 0));
    uint64_t bit = (uint64_t)1 << (unsigned)(path.column - path.table->columns);
    *changed = (row->changed & bit) != 0;
    *fallback = path.column->fallback != NULL;
    return (row->given & bit) != 0 || *changed;
}

trn_from trn_from_path(const trn_machine *m, const char *path)
{
    bool changed = false;
    bool fallback = false;
    bool given = trn_cell_filled(m, path, &changed, &fallback);
    trn_from from = trn_from_say(TRN_FROM_CELL, path);
    size_t n = strlen(from.text);
    if (!given || changed)
        (void)snprintf(from.text + n, sizeof from.text - n, "%s",
                       changed ? " (set)" : " (default)");
    return from;
}

trn_from trn_from_cell(const trn_sought *s, bool compared)
{
    const trn_machine *m = s->place->results->machine;
    char path[160];
    double values[TRN_CELL_VALUES];
    if (!trn_rule_filled(s, s->rule, strlen(s->rule), path, sizeof path))
        return trn_from_unknown;
    if (!compared) {
        bool changed = false;
        bool fallback = false;
        bool told = trn_cell_filled(m, path, &changed, &fallback) || fallback;
        return told ? trn_from_path(m, path) : trn_from_unknown;
    }
    size_t n = trn_cell_values(m, path, s->si, values);
    for (size_t i = 0; i < n; i++)
        if (trn_agrees(values[i], s->value, trn_cell_digits))
            return trn_from_path(m, path);
    return trn_from_unknown;
}

/* Two cells joined by + (their mean), * or /. */
trn_from trn_from_two(const trn_sought *s, char sign)
{
    const trn_machine *m = s->place->results->machine;
    const char *middle = strchr(s->rule, sign);
    char path[2][120];
    double v[2][TRN_CELL_VALUES];
    if (!middle || middle == s->rule ||
        !trn_rule_filled(s, s->rule, (size_t)(middle - s->rule) - 1, path[0], sizeof path[0]) ||
        !trn_rule_filled(s, middle + 2, strlen(middle + 2), path[1], sizeof path[1]))
        return trn_from_unknown;
    bool mean = sign == '+';
    for (size_t i = 0; i < 2; i++) {
        trn_path p;
        trn_buffer why = {0};
        bool known = trn_path_parse(m, path[i], &p, &why) == TRN_OK;
        trn_buffer_free(&why);
        if (!known || trn_cell_values(m, path[i], mean ? s->si : p.column->inner, v[i]) != 1)
            return trn_from_unknown;
    }
    double value = mean        ? (v[0][0] + v[1][0]) / 2
                   : sign == '*' ? v[0][0] * v[1][0]
                                 : v[0][0] / v[1][0];
    if (!trn_agrees(value, s->value, trn_cell_digits))
        return trn_from_unknown;
    trn_from from = trn_from_say(TRN_FROM_WORDS, "");
    if (mean)
        (void)snprintf(from.text, sizeof from.text, "mean of %s and %s", path[0], path[1]);
    else
        (void)snprintf(from.text, sizeof from.text, "%s %c %s", path[0], sign, path[1]);
    return from;
}

trn_from trn_from_part(const trn_sought *s)
{
    double values[TRN_CELL_VALUES];
    char path[160];
    const char *end = s->rule;
    double n = 1;
    if (trn_text_number_start(s->rule, &n, &end) != TRN_OK ||
        !trn_rule_filled(s, end + 1, strlen(end + 1), path, sizeof path) ||
        trn_cell_values(s->place->results->machine, path, s->si, values) != 1 ||
        !trn_agrees(values[0] / n, s->value, trn_cell_digits))
        return trn_from_unknown;
    trn_from from = trn_from_say(TRN_FROM_WORDS, "");
    (void)snprintf(from.text, sizeof from.text, "%s/%g", path, n);
    return from;
}

trn_from trn_from_choice(const trn_sought *s)
{
    for (size_t i = 0; trn_choice_at(i); i++) {
        const trn_choice *c = trn_choice_at(i);
        double value = trn_choice_value((trn_choice_id)i);
        if (strcmp(c->name, s->rule) != 0 || isnan(value))
            continue;
        if (strcmp(c->unit, s->si) != 0 && trn_unit_value(value, c->unit, s->si, &value) != TRN_OK)
            continue;
        if (!trn_agrees(value, s->value, trn_cell_digits))
            continue;
        trn_from from = trn_from_say(TRN_FROM_CHOICE, "");
        (void)snprintf(from.text, sizeof from.text, "choices.%s", c->name);
        return from;
    }
    return trn_from_unknown;
}
