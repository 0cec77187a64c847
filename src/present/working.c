/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Selects the steps of a result: from its end backwards, along where each input came from. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "working_inside.h"

typedef struct selection {
    const trn_results *results;
    const trn_trace *trace;
    trn_working_step **step; /* one a note of the trace; NULL: not needed */
    bool *used;              /* outputs of notes, or rows of the case, that a numbered input took */
    size_t used_count;
    size_t *open; /* notes whose inputs are not looked at yet */
    size_t open_count;
    size_t worked;
    bool solves;
    bool failed; /* memory ran out */
} selection;

static void want(selection *s, const trn_from *from)
{
    if (from->kind != TRN_FROM_STEP || s->step[from->note])
        return;
    trn_working_step *step = calloc(1, sizeof *step);
    s->failed = s->failed || !step;
    if (!step)
        return;
    step->note = &s->trace->list[from->note];
    s->step[from->note] = step;
    s->open[s->open_count++] = from->note;
}

static size_t name_length(const char *symbol)
{
    size_t n = strlen(symbol);
    while (n > 1 && symbol[n - 1] >= '0' && symbol[n - 1] <= '9')
        n--;
    return n;
}

/* Are two symbols of one numbered family? */
static bool of_family(const trn_formula *f, size_t k, size_t i)
{
    size_t n = name_length(f->inputs[k].name);
    return i != k && n < strlen(f->inputs[k].name) && name_length(f->inputs[i].name) == n &&
           n < strlen(f->inputs[i].name) &&
           strncmp(f->inputs[i].name, f->inputs[k].name, n) == 0;
}

/* Is this symbol one of a numbered family, and does the family begin here? */
static bool in_family(const trn_formula *f, size_t k, bool *first)
{
    bool family = false;
    *first = true;
    for (size_t i = 0; i < f->input_count; i++)
        if (of_family(f, k, i)) {
            family = true;
            *first = *first && i > k;
        }
    return family;
}

static bool is_default(const trn_symbol *symbol, double x)
{
    double fallback = NAN;
    const char *end = NULL;
    if (!symbol->fallback || symbol->fallback[0] == '\0')
        return false;
    if (symbol->kind == TRN_WORD)
        return strcmp(symbol->words[(size_t)x], symbol->fallback) == 0;
    double shown = trn_formula_shown(symbol, x);
    return trn_text_number_start(symbol->fallback, &fallback, &end) == TRN_OK &&
           fabs(shown - fallback) <= 1e-12 * fabs(fallback);
}

static void resolve_input(selection *s, size_t note, const trn_place *place, size_t k, bool *used)
{
    const trn_note *n = &s->trace->list[note];
    const trn_symbol *input = &n->formula->inputs[k];
    trn_from *from = &s->step[note]->from[k];
    *from = (trn_from){.kind = TRN_FROM_NOWHERE, .part = 1};
    if (isnan(n->in[k])) {
        if (input->fallback && input->fallback[0])
            from->kind = TRN_FROM_DEFAULT;
        return;
    }
    *from = trn_origin(place, n->formula->name, input->name, n->in[k], input->si, used);
    if (from->kind == TRN_FROM_NOWHERE && is_default(input, n->in[k]))
        from->kind = TRN_FROM_DEFAULT;
    want(s, from);
}

/* Steps that belong to one without being an input of it. */
static void resolve_more(selection *s, const trn_formula *f, const trn_place *place)
{
    for (char k = '1'; k <= '9'; k++) {
        const char more[] = {'+', k, '\0'};
        if (!trn_working_rule(f->name, more, place->stage))
            return;
        trn_from from = trn_origin(place, f->name, more, NAN, "1", NULL);
        want(s, &from);
    }
}

/* A numbered family as a whole: what one of it took, the next does not take again. */
static void resolve(selection *s, size_t note)
{
    const trn_formula *f = s->trace->list[note].formula;
    trn_place place = trn_place_of_note(s->results, s->trace, note);
    place.worked = s->worked;
    place.solves = s->solves;
    for (size_t k = 0; k < f->input_count; k++) {
        bool first = false;
        bool family = in_family(f, k, &first);
        if (!family)
            resolve_input(s, note, &place, k, NULL);
        if (!family || !first)
            continue;
        memset(s->used, 0, s->used_count * sizeof *s->used);
        for (size_t i = k; i < f->input_count; i++)
            if (i == k || of_family(f, k, i))
                resolve_input(s, note, &place, i, s->used);
    }
    resolve_more(s, f, &place);
}

static double value_of(const trn_results *r, const trn_working_place *address,
                       const trn_field *field)
{
    double value = NAN;
    memcpy(&value, (const char *)address->view->row(r, address->row) + field->offset,
           sizeof value);
    return value;
}

/* A balance at another temperature (the band, the model beside a measured one) has as many steps
 * again: a row shows them only when its column is asked for. */
static bool own_balance(const selection *s, const trn_from *from)
{
    return from->kind == TRN_FROM_STEP && s->trace->list[from->note].variant[0] != '\0';
}

static trn_from itself(const trn_results *r, const trn_working_place *row, const trn_field *field)
{
    trn_working_place address = {row->view, row->row, field};
    trn_from from = {.kind = TRN_FROM_RESULT, .part = 1};
    trn_buffer text = {0};
    trn_working_place_text(r, &address, &text);
    (void)snprintf(from.text, sizeof from.text, "%s", text.text ? text.text : "");
    trn_buffer_free(&text);
    return from;
}

static void add_end(selection *s, trn_working *w, const trn_field *field)
{
    double value = value_of(s->results, &w->address, field);
    if (w->end_count == TRN_WORKING_ENDS_MAX)
        return;
    trn_working_end *end = &w->ends[w->end_count++];
    trn_place place =
        trn_place_of_row(s->results, s->trace, w->address.view, w->address.row);
    const char *unit = field->unit ? field->unit : "1";
    *end = (trn_working_end){.field = field, .value = value};
    end->from = (trn_from){.kind = TRN_FROM_NOWHERE, .part = 1};
    if (isfinite(value))
        end->from = trn_origin(&place, w->address.view->name, field->name, value, unit, NULL);
    bool heat = strcmp(w->address.view->name, "heat") == 0;
    if (heat && !w->address.field && own_balance(s, &end->from))
        end->from = itself(s->results, &w->address, field);
    want(s, &end->from);
}

/* The condition that an `all` result is worked in full for: by the modified life where there is
 * one. */
static void choose_condition(selection *s, trn_working *w)
{
    static const char *const lives[] = {"Lnmh", "L10h", "life_in", "life_out"};
    const trn_view *view = w->address.view;
    s->worked = TRN_NONE;
    if (w->address.field)
        s->worked = trn_working_heaviest(s->results, view, w->address.row, w->address.field);
    for (size_t i = 0; i < 4 && (!w->address.field || strcmp(w->address.field->name, "a_iso") == 0);
         i++)
        for (size_t c = 0; c < view->field_count; c++)
            if (strcmp(view->fields[c].name, lives[i]) == 0) {
                size_t found =
                    trn_working_heaviest(s->results, view, w->address.row, &view->fields[c]);
                if (found != TRN_NONE) {
                    s->worked = found;
                    i = 4;
                    break;
                }
            }
    if (s->worked != TRN_NONE)
        w->worked = s->results->machine->duty[s->worked].condition;
}

static void add_ends(selection *s, trn_working *w)
{
    const trn_view *view = w->address.view;
    choose_condition(s, w);
    s->solves = strcmp(view->name, "heat") == 0 &&
                (!w->address.field || strstr(w->address.field->name, "_temperature"));
    if (w->address.field) {
        add_end(s, w, w->address.field);
        return;
    }
    for (size_t c = 0; c < view->field_count; c++) {
        const trn_field *field = &view->fields[c];
        if ((field->kind == TRN_FIELD_NUMBER || field->kind == TRN_FIELD_LIFE) &&
            trn_working_rule(view->name, field->name, "") &&
            !isnan(value_of(s->results, &w->address, field)))
            add_end(s, w, field);
    }
}

static bool keep_steps(const selection *s, trn_working *w)
{
    size_t n = 0;
    for (size_t i = 0; i < s->trace->count; i++)
        n += s->step[i] != NULL;
    w->steps = calloc(n + 1, sizeof *w->steps);
    if (!w->steps)
        return false;
    for (size_t i = 0; i < s->trace->count; i++)
        if (s->step[i])
            w->steps[w->count++] = *s->step[i];
    return true;
}

trn_status trn_working_make(const trn_results *results, const trn_trace *trace,
                            const trn_working_place *address, trn_working **out)
{
    const trn_machine *m = results->machine;
    size_t rows = m->bearings_count > m->shafts_count ? m->bearings_count : m->shafts_count;
    size_t flags = trace->count * TRN_OUTPUTS_MAX + rows + 1;
    selection s = {.results = results, .trace = trace, .used_count = flags, .worked = TRN_NONE};
    trn_working *w = calloc(1, sizeof *w);
    s.step = calloc(trace->count + 1, sizeof *s.step);
    s.used = calloc(flags, sizeof *s.used);
    s.open = calloc(trace->count + 1, sizeof *s.open);
    bool whole = w && s.step && s.used && s.open && !trace->failed;
    if (whole) {
        w->results = results;
        w->address = *address;
        add_ends(&s, w);
        while (s.open_count > 0)
            resolve(&s, s.open[--s.open_count]);
        whole = !s.failed && keep_steps(&s, w);
    }
    for (size_t i = 0; s.step && i < trace->count; i++)
        free(s.step[i]);
    free(s.step);
    free(s.used);
    free(s.open);
    if (!whole) {
        trn_working_free(w);
        return TRN_E_MEMORY;
    }
    *out = w;
    return TRN_OK;
}

void trn_working_free(trn_working *working)
{
    if (!working)
        return;
    free(working->steps);
    free(working);
}

size_t trn_working_number(const trn_working *working, const trn_note *note)
{
    for (size_t i = 0; i < working->count; i++)
        if (working->steps[i].note == note)
            return i + 1;
    return 0;
}
