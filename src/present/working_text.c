/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A working as text and as CSV. */
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <trunnion/csv_write.h>

#include "working_inside.h"

enum { DIGITS = 6, VALUE_SIZE = 64 };

void trn_from_text(const trn_working *working, const trn_trace *trace, const trn_from *from,
                   trn_buffer *out)
{
    switch (from->kind) {
    case TRN_FROM_STEP: {
        const trn_note *note = &trace->list[from->note];
        trn_buffer_print(out, "%sstep %zu: %s", from->part == 0.5 ? "half of " : "",
                         trn_working_number(working, note),
                         note->formula->outputs[from->output].name);
        break;
    }
    case TRN_FROM_RESULT:
        trn_buffer_print(out, "--working %s", from->text);
        break;
    case TRN_FROM_DEFAULT:
        trn_buffer_add(out, "default of the formula");
        break;
    case TRN_FROM_NOWHERE:
        break;
    default:
        trn_buffer_add(out, from->text);
    }
}

/* Six digits, without zeros at the end. */
static void for_people(double x, char *text, size_t size)
{
    trn_number_for_people(x, DIGITS, text, size);
    size_t n = strlen(text);
    if (!strchr(text, '.') || strpbrk(text, "en"))
        return;
    while (n > 0 && text[n - 1] == '0')
        n--;
    if (n > 0 && text[n - 1] == '.')
        n--;
    text[n] = '\0';
}

static const char *unit_of(const char *unit)
{
    return !unit || strcmp(unit, "1") == 0 ? "" : unit;
}

/* Value of a symbol in its catalogue unit; a default as the catalogue writes it. */
static void value_text(const trn_symbol *symbol, double x, bool people, char *text, size_t size)
{
    if (isnan(x))
        (void)snprintf(text, size, "%s", symbol->fallback ? symbol->fallback : "");
    else if (symbol->kind == TRN_WORD)
        (void)snprintf(text, size, "%s", symbol->words[(size_t)x]);
    else if (people)
        for_people(trn_formula_shown(symbol, x), text, size);
    else
        trn_text_of_number(trn_formula_shown(symbol, x), text, size);
}

static bool shown(const trn_working_step *step, size_t k)
{
    return !isnan(step->note->in[k]) || step->from[k].kind == TRN_FROM_DEFAULT;
}

/* A sum over parts that leaves out those without damage: that its shares do not add up says
 * nothing. */
static const char *remark_of(const trn_note *note)
{
    if (note->status <= 0 || note->status == TRN_R_BEARING_SHARES)
        return "";
    return trn_status_text(note->status);
}

/* ---- text --------------------------------------------------------------------------------- */

/* Lines of a text, each set in by `indent` and broken at blanks. */
static void wrap(const char *text, size_t indent, size_t width, trn_buffer *out)
{
    size_t at = 0;
    for (const char *p = text; *p;) {
        if (*p == '\n' || *p == ' ') {
            if (*p == '\n') {
                trn_buffer_add(out, "\n");
                at = 0;
            }
            p++;
            continue;
        }
        size_t n = strcspn(p, " \n");
        if (at > 0 && at + 1 + n > width) {
            trn_buffer_print(out, "\n%*s", (int)(indent + 2), "");
            at = indent + 2;
        } else if (at == 0) {
            trn_buffer_print(out, "%*s", (int)indent, "");
            at = indent;
        } else {
            trn_buffer_add(out, " ");
            at++;
        }
        trn_buffer_add_n(out, p, n);
        at += n;
        p += n;
    }
    trn_buffer_add(out, "\n");
}

typedef struct widths {
    size_t symbol, value, unit;
} widths;

static size_t larger(size_t a, const char *text)
{
    size_t n = strlen(text);
    return n > a ? n : a;
}

static void measure(const trn_symbol *symbol, double x, widths *w)
{
    char value[VALUE_SIZE];
    value_text(symbol, x, true, value, sizeof value);
    w->symbol = larger(w->symbol, symbol->name);
    w->value = larger(w->value, value);
    w->unit = larger(w->unit, unit_of(symbol->unit));
}

static void line(const char *sign, const char *symbol, const char *value, const char *unit,
                 const char *more, const widths *w, trn_buffer *out)
{
    trn_buffer text = {0};
    trn_buffer_print(&text, "    %s %-*s = %*s %-*s  %s", sign, (int)w->symbol, symbol,
                     (int)w->value, value, (int)w->unit, unit, more);
    size_t n = text.length;
    while (n > 0 && text.text[n - 1] == ' ')
        n--;
    trn_buffer_add_n(out, text.text ? text.text : "", n);
    trn_buffer_add(out, "\n");
    out->failed = out->failed || text.failed;
    trn_buffer_free(&text);
}

static void step_text(const trn_working *working, const trn_trace *trace,
                      const trn_working_step *step, size_t number, size_t width, trn_buffer *out)
{
    const trn_note *n = step->note;
    const trn_formula *f = n->formula;
    widths w = {0, 0, 0};
    char value[VALUE_SIZE];
    for (size_t k = 0; k < f->input_count; k++)
        if (shown(step, k))
            measure(&f->inputs[k], n->in[k], &w);
    for (size_t k = 0; k < f->output_count; k++)
        if (!isnan(n->out[k]))
            measure(&f->outputs[k], n->out[k], &w);
    trn_buffer head = {0};
    trn_buffer_print(&head, "%zu. %s: %s", number, f->name, f->what);
    if (*n->object)
        trn_buffer_print(&head, " (%s%s%s)", n->object, *n->condition ? ", " : "", n->condition);
    wrap(head.text ? head.text : "", 0, width, out);
    trn_buffer_free(&head);
    wrap(f->equation, 4, width, out);
    for (size_t k = 0; k < f->input_count; k++) {
        trn_buffer from = {0};
        if (!shown(step, k))
            continue;
        value_text(&f->inputs[k], n->in[k], true, value, sizeof value);
        trn_from_text(working, trace, &step->from[k], &from);
        line(" ", f->inputs[k].name, value, unit_of(f->inputs[k].unit),
             from.text ? from.text : "", &w, out);
        trn_buffer_free(&from);
    }
    for (size_t k = 0; k < f->output_count; k++)
        if (!isnan(n->out[k])) {
            value_text(&f->outputs[k], n->out[k], true, value, sizeof value);
            line(">", f->outputs[k].name, value, unit_of(f->outputs[k].unit), "", &w, out);
        }
    trn_buffer tail = {0};
    if (*remark_of(n))
        trn_buffer_print(&tail, "remark: %s\n", remark_of(n));
    trn_buffer_print(&tail, "%s: %s", f->source, f->standing);
    wrap(tail.text ? tail.text : "", 4, width, out);
    trn_buffer_free(&tail);
    trn_buffer_add(out, "\n");
}

/* Key of a source at the start of a text, and what stands behind it. */
static const trn_source *next_source(const char **text)
{
    const char *p = *text;
    while (*p == ' ' || *p == ';')
        p++;
    const trn_source *source = *p ? trn_source_find(p, strcspn(p, " ;(")) : NULL;
    p += strcspn(p, ";");
    *text = p;
    return source;
}

static bool told_before(const trn_working *w, size_t step, const char *at, const trn_source *source)
{
    for (size_t i = 0; i <= step; i++) {
        const char *p = w->steps[i].note->formula->source;
        while (*p && !(i == step && p >= at))
            if (next_source(&p) == source)
                return !(i == step && p >= at);
    }
    return false;
}

static void sources_text(const trn_working *w, size_t width, trn_buffer *out)
{
    bool first = true;
    for (size_t i = 0; i < w->count; i++)
        for (const char *p = w->steps[i].note->formula->source; *p;) {
            const trn_source *source = next_source(&p);
            if (!source || told_before(w, i, p, source))
                continue;
            trn_buffer text = {0};
            if (first)
                trn_buffer_add(out, "Sources\n");
            first = false;
            trn_buffer_print(&text, "%s: %s (%s)", source->key, source->text, source->standing);
            wrap(text.text ? text.text : "", 4, width, out);
            out->failed = out->failed || text.failed;
            trn_buffer_free(&text);
        }
    if (!first)
        trn_buffer_add(out, "\n");
}

static void remarks_text(const trn_working *w, size_t width, trn_buffer *out)
{
    const trn_view *view = w->address.view;
    const char *row = view->row(w->results, w->address.row);
    for (size_t c = 0; c < view->field_count; c++)
        if (view->fields[c].kind == TRN_FIELD_REMARK) {
            trn_buffer text = {0};
            trn_remarks_text((const void *)(row + view->fields[c].offset), &text);
            if (text.text && *text.text) {
                trn_buffer whole = {0};
                trn_buffer_print(&whole, "remark: %s", text.text);
                wrap(whole.text ? whole.text : "", 4, width, out);
                trn_buffer_free(&whole);
            }
            trn_buffer_free(&text);
        }
}

static const char *end_words(const trn_working *w, const trn_working_end *end)
{
    if (isnan(end->value))
        return "not known";
    if (!isinf(end->value))
        return "";
    return strcmp(w->address.view->name, "intervals") == 0 ? "never reached" : "no load, no damage";
}

static void ends_text(const trn_working *w, const trn_trace *trace, size_t width, trn_buffer *out)
{
    widths sizes = {0, 0, 0};
    char value[VALUE_SIZE];
    for (size_t i = 0; i < w->end_count; i++) {
        for_people(w->ends[i].value, value, sizeof value);
        sizes.symbol = larger(sizes.symbol, w->ends[i].field->name);
        sizes.value = larger(sizes.value, value);
        sizes.unit = larger(sizes.unit, unit_of(w->ends[i].field->unit));
    }
    trn_working_place row = {w->address.view, w->address.row, NULL};
    trn_buffer_add(out, "Result ");
    trn_working_place_text(w->results, &row, out);
    trn_buffer_add(out, "\n");
    for (size_t i = 0; i < w->end_count; i++) {
        trn_buffer from = {0};
        trn_from_text(w, trace, &w->ends[i].from, &from);
        for_people(w->ends[i].value, value, sizeof value);
        line(" ", w->ends[i].field->name, value, unit_of(w->ends[i].field->unit),
             from.text ? from.text : end_words(w, &w->ends[i]), &sizes, out);
        trn_buffer_free(&from);
    }
    remarks_text(w, width, out);
}

void trn_working_text(const trn_working *working, const trn_trace *trace, size_t width,
                      trn_buffer *out)
{
    trn_buffer head = {0};
    trn_buffer_add(&head, "Working of ");
    trn_working_place_text(working->results, &working->address, &head);
    if (working->worked)
        trn_buffer_print(&head,
                         ", in full for `%s`, which does most of the damage; the lives of the "
                         "other conditions say what to ask for",
                         working->worked);
    wrap(head.text ? head.text : "", 0, width, out);
    out->failed = out->failed || head.failed;
    trn_buffer_free(&head);
    trn_buffer_add(out, "\n");
    for (size_t i = 0; i < working->count; i++)
        step_text(working, trace, &working->steps[i], i + 1, width, out);
    sources_text(working, width, out);
    ends_text(working, trace, width, out);
}

/* ---- CSV ---------------------------------------------------------------------------------- */

/* A number that is the program's own stands as it is, a word or a text is quoted as needed. */
static void csv_line(trn_csv_writer *csv, const char *number, const char *const words[8])
{
    trn_csv_word(csv, number);
    for (size_t i = 0; i < 8; i++)
        if (i == 5) /* `from` holds keys of the user's */
            trn_csv_text(csv, words[i]);
        else
            trn_csv_word(csv, words[i]);
    trn_csv_end(csv);
}

static void step_csv(const trn_working *working, const trn_trace *trace, size_t i,
                     trn_csv_writer *csv)
{
    const trn_working_step *step = &working->steps[i];
    const trn_note *n = step->note;
    const trn_formula *f = n->formula;
    char number[24];
    char value[VALUE_SIZE];
    (void)snprintf(number, sizeof number, "%zu", i + 1);
    for (size_t k = 0; k < f->input_count; k++) {
        trn_buffer from = {0};
        if (!shown(step, k))
            continue;
        value_text(&f->inputs[k], n->in[k], false, value, sizeof value);
        trn_from_text(working, trace, &step->from[k], &from);
        const char *words[8] = {f->name, "input", f->inputs[k].name, value, f->inputs[k].unit,
                                from.text ? from.text : "", f->source, f->standing};
        csv_line(csv, number, words);
        trn_buffer_free(&from);
    }
    for (size_t k = 0; k < f->output_count; k++)
        if (!isnan(n->out[k])) {
            value_text(&f->outputs[k], n->out[k], false, value, sizeof value);
            const char *words[8] = {f->name, "output", f->outputs[k].name, value,
                                    f->outputs[k].unit, "", f->source, f->standing};
            csv_line(csv, number, words);
        }
}

void trn_working_csv(const trn_working *working, const trn_trace *trace, bool header,
                     trn_buffer *out)
{
    static const char *const head[] = {"formula", "role", "symbol", "value",
                                       "unit",    "from", "source", "standing"};
    trn_csv_writer csv = {.out = out};
    trn_working_place row = {working->address.view, working->address.row, NULL};
    trn_buffer name = {0};
    if (header)
        csv_line(&csv, "step", head);
    for (size_t i = 0; i < working->count; i++)
        step_csv(working, trace, i, &csv);
    trn_working_place_text(working->results, &row, &name);
    for (size_t i = 0; i < working->end_count; i++) {
        const trn_working_end *end = &working->ends[i];
        char value[VALUE_SIZE];
        trn_buffer from = {0};
        trn_text_of_number(end->value, value, sizeof value);
        trn_from_text(working, trace, &end->from, &from);
        trn_csv_blank(&csv);
        trn_csv_text(&csv, name.text ? name.text : "");
        trn_csv_word(&csv, "result");
        trn_csv_word(&csv, end->field->name);
        trn_csv_word(&csv, value);
        trn_csv_word(&csv, end->field->unit ? end->field->unit : "1");
        trn_csv_text(&csv, from.text ? from.text : end_words(working, end));
        trn_csv_blank(&csv);
        trn_csv_blank(&csv);
        trn_csv_end(&csv);
        trn_buffer_free(&from);
    }
    trn_buffer_free(&name);
}
