/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a result stands on: the cells of its chain of formulas, found as `--working` finds them,
 * and the weakest basis among them. */
#include <trunnion/stands.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/csv_write.h>

/* ---- inputs of one chain -------------------------------------------------------------------- */

static trn_stand *room(trn_stands *s)
{
    if (s->count == s->capacity) {
        size_t more = s->capacity ? 2 * s->capacity : 64;
        trn_stand *list = realloc(s->list, more * sizeof *list);
        if (!list) {
            s->failed = true;
            return NULL;
        }
        s->list = list;
        s->capacity = more;
    }
    trn_stand *stand = &s->list[s->count];
    *stand = (trn_stand){.weakest = TRN_NONE, .open = true};
    return stand;
}

static size_t known(const trn_stands *s, const char *address)
{
    for (size_t i = 0; i < s->count; i++)
        if (strcmp(s->list[i].address, address) == 0)
            return i;
    return TRN_NONE;
}

static size_t look(trn_stands *s, const char *address);

/* A path alone, with ` (set)` or ` (default)` behind it. */
static void take_cell(trn_stands *s, size_t stand, const char *text)
{
    char path[256];
    (void)snprintf(path, sizeof path, "%s", text);
    char *tail = strstr(path, " (set)");
    tail = tail ? tail : strstr(path, " (default)");
    if (tail)
        *tail = '\0';
    size_t i = trn_inputs_find(s->inputs, path);
    if (i != TRN_NONE)
        s->list[stand].uses[i] = true;
}

static bool ends_path(char c)
{
    return c == '\0' || c == ' ' || c == '/' || c == ',' || c == ')';
}

/* Paths inside words: `mean of A and B`, `A * B`, `A/4`. */
static void take_words(trn_stands *s, size_t stand, const char *text)
{
    if (!strchr(text, '.'))
        return;
    for (size_t i = 0; i < s->inputs->count; i++) {
        const char *path = s->inputs->list[i].path;
        const char *at = strstr(text, path);
        if (at && ends_path(at[strlen(path)]))
            s->list[stand].uses[i] = true;
    }
}

static void take(trn_stands *s, size_t stand, const trn_from *from)
{
    if (from->kind == TRN_FROM_CELL) {
        take_cell(s, stand, from->text);
    } else if (from->kind == TRN_FROM_WORDS) {
        take_words(s, stand, from->text);
    } else if (from->kind == TRN_FROM_RESULT) {
        size_t other = look(s, from->text);
        for (size_t i = 0; other != TRN_NONE && i < s->inputs->count; i++)
            if (s->list[other].uses[i])
                s->list[stand].uses[i] = true;
    }
}

static void judge(const trn_inputs *inputs, trn_stand *stand)
{
    for (size_t i = 0; i < inputs->count; i++) {
        if (!stand->uses[i])
            continue;
        trn_input_basis basis = inputs->list[i].basis;
        stand->count++;
        if (stand->weakest == TRN_NONE || basis > inputs->list[stand->weakest].basis) {
            stand->weakest = i;
            stand->as_weak = 0;
        }
        stand->as_weak += basis == inputs->list[stand->weakest].basis;
    }
}

static void look_at(trn_stands *s, size_t stand, const trn_working_place *place)
{
    trn_working *working = NULL;
    if (trn_working_make(s->results, s->trace, place, &working) != TRN_OK) {
        s->failed = true;
        return;
    }
    for (size_t i = 0; i < working->count; i++)
        for (size_t k = 0; k < working->steps[i].note->formula->input_count; k++)
            take(s, stand, &working->steps[i].from[k]);
    for (size_t i = 0; i < working->end_count; i++)
        take(s, stand, &working->ends[i].from);
    trn_working_free(working);
}

/* Place in the list, TRN_NONE where there is no chain. */
static size_t look(trn_stands *s, const char *address)
{
    size_t at = known(s, address);
    if (at != TRN_NONE)
        return at;
    trn_working_place place;
    trn_buffer why = {0};
    bool found = trn_working_wanted(address) != 0 &&
                 trn_working_find(s->results, address, &place, &why) == TRN_OK;
    trn_buffer_free(&why);
    trn_stand *stand = found ? room(s) : NULL;
    if (!stand)
        return TRN_NONE;
    stand->address = trn_text_copy(address);
    stand->uses = calloc(s->inputs->count + 1, sizeof *stand->uses);
    if (!stand->address || !stand->uses) {
        free(stand->address);
        free(stand->uses);
        s->failed = true;
        return TRN_NONE;
    }
    at = s->count++;
    look_at(s, at, &place);
    judge(s->inputs, &s->list[at]);
    s->list[at].open = false;
    return at;
}

const trn_stand *trn_stands_of(trn_stands *stands, const char *address)
{
    size_t at = look(stands, address);
    return at == TRN_NONE ? NULL : &stands->list[at];
}

void trn_stands_free(trn_stands *stands)
{
    for (size_t i = 0; i < stands->count; i++) {
        free(stands->list[i].address);
        free(stands->list[i].uses);
    }
    free(stands->list);
    *stands = (trn_stands){.count = 0};
}

/* ---- all results ---------------------------------------------------------------------------- */

static void count_one(trn_stands *stands, trn_inputs *inputs, const char *format, const char *a,
                      const char *b)
{
    char address[400];
    (void)snprintf(address, sizeof address, format, a, b);
    const trn_stand *stand = trn_stands_of(stands, address);
    for (size_t i = 0; stand && i < inputs->count; i++)
        inputs->list[i].used += stand->uses[i];
}

trn_status trn_stands_count(trn_stands *stands, trn_inputs *inputs)
{
    const trn_machine *m = stands->results->machine;
    const trn_column *task = trn_column_find(trn_table_find("points"), "task");
    for (size_t i = 0; i < m->points_count; i++)
        count_one(stands, inputs, "intervals.%s.%s", m->points[i].point,
                  task->words[m->points[i].task]);
    for (size_t i = 0; i < m->duty_count; i++) {
        for (size_t g = 0; g < m->gearboxes_count; g++)
            count_one(stands, inputs, "heat.%s.%s", m->duty[i].condition, m->gearboxes[g].gearbox);
        for (size_t k = 0; k < m->shafts_count; k++)
            count_one(stands, inputs, "joints.%s.%s", m->duty[i].condition, m->shafts[k].shaft);
    }
    for (size_t i = 0; i < m->bearings_count; i++)
        count_one(stands, inputs, "bearing_lives.all.%s%s", m->bearings[i].bearing, "");
    for (size_t i = 0; i < m->gearboxes_count; i++)
        count_one(stands, inputs, "gearbox_life.%s%s", m->gearboxes[i].gearbox, "");
    for (size_t i = 0; i < m->shafts_count; i++)
        count_one(stands, inputs, "joints.all.%s%s", m->shafts[i].shaft, "");
    return stands->failed ? TRN_E_MEMORY : TRN_OK;
}

void trn_inputs_csv(const trn_inputs *inputs, trn_buffer *out)
{
    static const char *const head[] = {"path", "value", "unit", "origin", "basis", "results"};
    trn_csv_writer csv = {.out = out};
    for (size_t i = 0; i < sizeof head / sizeof head[0]; i++)
        trn_csv_word(&csv, head[i]);
    trn_csv_end(&csv);
    for (size_t i = 0; i < inputs->count; i++) {
        const trn_input *in = &inputs->list[i];
        bool number = in->column->cell == TRN_CELL_NUMBER || in->column->cell == TRN_CELL_WORD;
        trn_csv_text(&csv, in->path);
        if (number)
            trn_csv_word(&csv, in->value);
        else
            trn_csv_text(&csv, in->value);
        trn_csv_word(&csv, in->unit);
        trn_csv_word(&csv, trn_origin_word(in->origin));
        trn_csv_word(&csv, trn_basis_word(in->basis));
        trn_csv_number(&csv, (double)in->used);
        trn_csv_end(&csv);
    }
}
