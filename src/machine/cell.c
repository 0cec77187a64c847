/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One cell of the case: its text, its number in the member's unit, its default. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/formula.h>
#include <trunnion/units.h>

#include "arena.h"

typedef struct piece {
    struct piece *next;
    char text[];
} piece;

struct trn_arena {
    piece *first;
};

struct trn_arena *trn_arena_new(void)
{
    return calloc(1, sizeof(struct trn_arena));
}

void trn_arena_free(struct trn_arena *arena)
{
    if (!arena)
        return;
    for (piece *p = arena->first; p;) {
        piece *next = p->next;
        free(p);
        p = next;
    }
    free(arena);
}

const char *trn_arena_text(struct trn_arena *arena, const char *text, size_t n)
{
    piece *p = malloc(sizeof *p + n + 1);
    if (!p)
        return NULL;
    memcpy(p->text, text, n);
    p->text[n] = '\0';
    p->next = arena->first;
    arena->first = p;
    return p->text;
}

double *trn_cell_number(const trn_column *column, void *row)
{
    return (double *)(void *)((char *)row + column->offset);
}

const char *trn_cell_text(const trn_column *column, const void *row)
{
    const char *text = NULL;
    memcpy(&text, (const char *)row + column->offset, sizeof text);
    return text;
}

static void put_text(const trn_column *column, void *row, const char *text)
{
    memcpy((char *)row + column->offset, &text, sizeof text);
}

static int *word_of(const trn_column *column, void *row)
{
    return (int *)(void *)((char *)row + column->offset);
}

/* `-3 is below 0`; what would be right */
static void say_range(const trn_column *column, double shown, trn_buffer *why)
{
    const char *p = column->range + 1;
    double low = -INFINITY;
    double high = INFINITY;
    bool open_low = column->range[0] == '(';
    if (*p != '-' || p[1] != 'i')
        (void)trn_text_number_start(p, &low, &p);
    p = strchr(column->range, ',') + 1;
    bool open_high = column->range[strlen(column->range) - 1] == ')';
    if (*p != 'i')
        (void)trn_text_number_start(p, &high, &p);
    const char *unit = strcmp(column->unit, "1") == 0 ? "" : column->unit;
    const char *gap = *unit ? " " : "";
    if (!isfinite(shown))
        trn_buffer_print(why, "%g is no finite number", shown);
    else if (open_low ? shown <= low : shown < low)
        trn_buffer_print(why, "%.10g is %s %g", shown, open_low ? "not above" : "below", low);
    else
        trn_buffer_print(why, "%.10g is %s %g", shown, open_high ? "not below" : "above", high);
    trn_buffer_print(why, "; a value %s %g", open_low ? "above" : "from", low);
    if (isfinite(high))
        trn_buffer_print(why, " %s %g", open_high ? "and below" : "to", high);
    trn_buffer_print(why, "%s%s is expected", gap, unit);
}

/* Scale from the unit written to the member's and to the documented unit. */
static trn_status find_unit(const trn_column *column, const char *unit, double to_inner[2],
                            double to_shown[2], trn_buffer *why)
{
    const char *from = unit && *unit ? unit : column->unit;
    if (strcmp(from, "-") == 0)
        from = "1";
    bool allowed = !column->only || strcmp(from, "h") == 0 || strcmp(from, "min") == 0;
    if (allowed && trn_unit_convert(from, column->inner, &to_inner[0], &to_inner[1]) == TRN_OK &&
        trn_unit_convert(from, column->unit, &to_shown[0], &to_shown[1]) == TRN_OK)
        return TRN_OK;
    if (!allowed)
        trn_buffer_print(why, "hours of use take h or min, not `%s`: a day is 24 h to the units "
                              "library, 8 or 10 h to a manual", from);
    else if (strcmp(column->unit, "1") == 0)
        trn_buffer_print(why, "a pure number is expected, without unit, not `%s`", from);
    else
        trn_buffer_print(why, "`%s` does not convert to %s; write %s or a unit of its kind", from,
                         column->unit, column->unit);
    return TRN_E_UNIT;
}

static trn_status read_number(const char *text, const trn_sheet *sheet, double *out)
{
    return sheet ? trn_sheet_number(sheet, text, out) : trn_text_number(text, out);
}

static trn_status put_number(const trn_column *column, const char *text, const char *unit,
                             const trn_sheet *sheet, double *out, trn_buffer *why)
{
    double inner[2];
    double shown[2];
    trn_status status = find_unit(column, unit, inner, shown, why);
    if (status != TRN_OK)
        return status;
    double value = 0;
    if (read_number(text, sheet, &value) != TRN_OK) {
        trn_buffer_print(why, "`%.60s` is not a number%s", text,
                         column->only ? " of hours; `daily` in a manual is 8 or 10 h" : "");
        return TRN_E_NUMBER;
    }
    double documented = strcmp(unit && *unit ? unit : column->unit, column->unit) == 0
                            ? value
                            : shown[0] * value + shown[1];
    if (column->range && !trn_range_holds(column->range, documented)) {
        say_range(column, documented, why);
        return TRN_E_DOMAIN;
    }
    *out = strcmp(column->unit, column->inner) == 0 ? documented : inner[0] * value + inner[1];
    return TRN_OK;
}

static trn_status put_numbers(const trn_column *column, void *row, const char *text,
                              const char *unit, const trn_sheet *sheet, trn_buffer *why)
{
    trn_numbers list = {.n = 0};
    const char *p = text;
    for (;;) {
        const char *slash = strchr(p, '/');
        size_t n = slash ? (size_t)(slash - p) : strlen(p);
        char part[64];
        if (n >= sizeof part || list.n == TRN_LIST_MAX) {
            trn_buffer_print(why, "a list of at most %d numbers parted by / is expected",
                             TRN_LIST_MAX);
            return TRN_E_INPUT;
        }
        memcpy(part, p, n);
        part[n] = '\0';
        if (part[strspn(part, " \t")] == '\0') {
            trn_buffer_print(why, "an empty place in the list");
            return TRN_E_INPUT;
        }
        trn_status status = put_number(column, part, unit, sheet, &list.v[list.n], why);
        if (status != TRN_OK)
            return status;
        list.n++;
        if (!slash)
            break;
        p = slash + 1;
    }
    memcpy((char *)row + column->offset, &list, sizeof list);
    return TRN_OK;
}

static trn_status put_texts(const trn_column *column, void *row, const char *text,
                            struct trn_arena *arena, trn_buffer *why)
{
    trn_texts list;
    memcpy(&list, (char *)row + column->offset, sizeof list);
    const char *p = text;
    for (;;) {
        size_t n = strcspn(p, "/");
        size_t lead = strspn(p, " \t");
        size_t end = n;
        while (end > lead && (p[end - 1] == ' ' || p[end - 1] == '\t'))
            end--;
        if (list.n == TRN_TEXTS_MAX || end <= lead) {
            trn_buffer_print(why, end <= lead ? "an empty place in the list"
                                              : "too many entries in the list");
            return TRN_E_INPUT;
        }
        list.v[list.n] = trn_arena_text(arena, p + lead, end - lead);
        if (!list.v[list.n++])
            return TRN_E_MEMORY;
        if (p[n] == '\0')
            break;
        p += n + 1;
    }
    memcpy((char *)row + column->offset, &list, sizeof list);
    return TRN_OK;
}

static trn_status put_word(const trn_column *column, void *row, const char *text, trn_buffer *why)
{
    for (int i = 0; column->words[i]; i++)
        if (strcmp(column->words[i], text) == 0) {
            *word_of(column, row) = i;
            return TRN_OK;
        }
    trn_buffer_print(why, "`%.60s` is none of", text);
    for (int i = 0; column->words[i]; i++)
        trn_buffer_print(why, "%s %s", i ? "," : "", column->words[i]);
    return TRN_E_INPUT;
}

trn_status trn_cell_put(const trn_column *column, void *row, const char *text, const char *unit,
                        const trn_sheet *decimal, struct trn_arena *arena, trn_buffer *why)
{
    switch (column->cell) {
    case TRN_CELL_NUMBER:
        return put_number(column, text, unit, decimal, trn_cell_number(column, row), why);
    case TRN_CELL_NUMBERS:
        return put_numbers(column, row, text, unit, decimal, why);
    case TRN_CELL_WORD:
        return put_word(column, row, text, why);
    case TRN_CELL_TEXTS:
        return put_texts(column, row, text, arena, why);
    case TRN_CELL_KEY:
    case TRN_CELL_NAME:
    case TRN_CELL_TEXT:
        break;
    }
    if (column->cell == TRN_CELL_KEY && strcmp(column->name, "quantity") != 0) {
        if (strpbrk(text, "./*=")) {
            trn_buffer_print(why, "the name `%.60s` holds one of . / * = which paths need; choose one "
                                  "without", text);
            return TRN_E_INPUT;
        }
        if (strcmp(text, "all") == 0 || strcmp(text, "tractor") == 0) {
            trn_buffer_print(why, "the name `%s` is taken; choose another", text);
            return TRN_E_INPUT;
        }
    }
    const char *copy = trn_arena_text(arena, text, strlen(text));
    if (!copy)
        return TRN_E_MEMORY;
    put_text(column, row, copy);
    return TRN_OK;
}

void trn_cell_default(const trn_column *column, void *row)
{
    trn_buffer why = {0};
    switch (column->cell) {
    case TRN_CELL_NUMBER:
        *trn_cell_number(column, row) = NAN;
        break;
    case TRN_CELL_WORD:
        *word_of(column, row) = -1;
        break;
    case TRN_CELL_NUMBERS:
    case TRN_CELL_TEXTS:
    case TRN_CELL_KEY:
    case TRN_CELL_NAME:
    case TRN_CELL_TEXT:
        return; /* the row was zeroed */
    }
    if (column->fallback)
        (void)trn_cell_put(column, row, column->fallback, NULL, NULL, NULL, &why);
    trn_buffer_free(&why);
}

const trn_column *trn_column_find(const trn_table *table, const char *name)
{
    for (size_t i = 0; i < table->column_count; i++) {
        const trn_column *column = &table->columns[i];
        if (strcmp(column->name, name) == 0)
            return column;
        /* any number of columns whose name begins with `sign` */
        if (column->cell == TRN_CELL_TEXTS && strcmp(column->name, "sign") == 0 &&
            strncmp(name, "sign", 4) == 0)
            return column;
    }
    return NULL;
}

size_t trn_edit_distance(const char *a, const char *b)
{
    enum { LONGEST = 63 };
    size_t n = strlen(a);
    size_t m = strlen(b);
    if (n > LONGEST || m > LONGEST)
        return LONGEST;
    size_t row[LONGEST + 1];
    for (size_t j = 0; j <= m; j++)
        row[j] = j;
    for (size_t i = 1; i <= n; i++) {
        size_t corner = row[0];
        row[0] = i;
        for (size_t j = 1; j <= m; j++) {
            size_t best = corner + (a[i - 1] != b[j - 1]);
            if (row[j] + 1 < best)
                best = row[j] + 1;
            if (row[j - 1] + 1 < best)
                best = row[j - 1] + 1;
            corner = row[j];
            row[j] = best;
        }
    }
    return row[m];
}

const char *trn_column_nearest(const trn_table *table, const char *name)
{
    const char *nearest = table->columns[0].name;
    size_t best = (size_t)-1;
    for (size_t i = 0; i < table->column_count; i++) {
        size_t d = trn_edit_distance(name, table->columns[i].name);
        if (d < best) {
            best = d;
            nearest = table->columns[i].name;
        }
    }
    return nearest;
}
