/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `formula`: the catalogue by subject, one entry in full, one evaluation. */
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/constants.h>
#include <trunnion/csv_write.h>

#include "cli.h"

enum { TERMINAL_WIDTH = 100 };

static size_t subject_length(const char *name)
{
    return strcspn(name, ".");
}

static void list_symbols(const trn_symbol *symbols, size_t count, bool inputs, trn_buffer *out)
{
    for (size_t i = 0; i < count; i++) {
        const char *fallback = symbols[i].fallback;
        bool optional = inputs && fallback;
        trn_buffer_print(out, "%s%s%s%s%s%s", i ? ", " : "", optional ? "[" : "", symbols[i].name,
                         optional && *fallback ? "=" : "", optional ? fallback : "",
                         optional ? "]" : "");
    }
}

static void list_all(bool csv, trn_buffer *out)
{
    trn_csv_writer rows = {.out = out};
    if (csv) {
        static const char *const head[] = {"formula", "inputs", "outputs", "standing", "what"};
        for (size_t i = 0; i < sizeof head / sizeof head[0]; i++)
            trn_csv_word(&rows, head[i]);
        trn_csv_end(&rows);
    }
    const char *subject = "";
    for (size_t i = 0; i < trn_formula_count(); i++) {
        const trn_formula *f = trn_formula_at(i);
        trn_buffer inputs = {0};
        trn_buffer outputs = {0};
        list_symbols(f->inputs, f->input_count, true, &inputs);
        list_symbols(f->outputs, f->output_count, false, &outputs);
        if (csv) {
            trn_csv_word(&rows, f->name);
            trn_csv_word(&rows, inputs.text ? inputs.text : "");
            trn_csv_word(&rows, outputs.text ? outputs.text : "");
            trn_csv_word(&rows, f->standing);
            trn_csv_word(&rows, f->what);
            trn_csv_end(&rows);
        } else {
            size_t n = subject_length(f->name);
            if (strncmp(subject, f->name, n) != 0 || subject[n] != '.') {
                trn_buffer_print(out, "%s%.*s\n", i ? "\n" : "", (int)n, f->name);
                subject = f->name;
            }
            trn_buffer_print(out, "  %-32s %s\n", f->name, f->what);
        }
        trn_buffer_free(&inputs);
        trn_buffer_free(&outputs);
    }
    if (!csv)
        trn_buffer_print(out, "\n%zu formulas. `trunnion formula NAME` shows one in full.\n",
                         trn_formula_count());
}

static void show_symbol(const trn_symbol *s, bool input, trn_buffer *out)
{
    trn_buffer_print(out, "  %-20s", s->name);
    trn_buffer kind = {0};
    if (s->kind == TRN_WORD) {
        for (size_t i = 0; s->words[i]; i++)
            trn_buffer_print(&kind, "%s%s", i ? " | " : "", s->words[i]);
    } else {
        trn_buffer_print(&kind, "%s%s%s", s->kind == TRN_LIST ? "list, " : "", s->unit,
                         s->range ? "  in " : "");
        trn_buffer_add(&kind, s->range ? s->range : "");
    }
    if (input && s->fallback && *s->fallback)
        trn_buffer_print(&kind, "  default %s", s->fallback);
    else if (input && s->fallback)
        trn_buffer_add(&kind, "  may be left out");
    trn_buffer_add(out, " ");
    trn_text_wrap(kind.text ? kind.text : "", 23, 23, TERMINAL_WIDTH, out);
    trn_buffer_add(out, "                       ");
    trn_text_wrap(s->what, 23, 23, TERMINAL_WIDTH, out);
    trn_buffer_free(&kind);
}

static void indent_lines(const char *text, trn_buffer *out)
{
    for (const char *p = text; *p;) {
        size_t n = strcspn(p, "\n");
        char *line = trn_text_copy_n(p, n);
        trn_buffer_add(out, "  ");
        if (line)
            trn_text_wrap(line, 2, 4, TERMINAL_WIDTH, out);
        else
            out->failed = true;
        free(line);
        p += n + (p[n] == '\n');
    }
}

/* Sources in full: the keys of an entry, each looked up. */
static void show_sources(const char *keys, trn_buffer *out)
{
    for (const char *p = keys; *p;) {
        while (*p == ' ' || *p == ';')
            p++;
        size_t n = strcspn(p, ";");
        size_t key = strcspn(p, " ;(");
        const trn_source *source = trn_source_find(p, key);
        trn_buffer line = {0};
        trn_buffer_print(&line, "%.*s%s%s%s%s", (int)n, p, source ? ": " : "",
                         source ? source->text : "", source ? "; standing: " : "",
                         source ? source->standing : "");
        indent_lines(line.text ? line.text : "", out);
        trn_buffer_free(&line);
        p += n;
    }
}

static bool word_in(const char *words, const char *word)
{
    size_t n = strlen(word);
    for (const char *p = strstr(words, word); p; p = strstr(p + 1, word))
        if ((p == words || p[-1] == ' ') && (p[n] == ' ' || p[n] == '\0'))
            return true;
    return false;
}

/* Constants of the formula that were recalled, with what was compared since. */
static void show_constants(const trn_formula *f, trn_buffer *out)
{
    bool any = false;
    for (size_t i = 0; i < trn_constant_count(); i++) {
        const trn_constant *c = trn_constant_at(i);
        const trn_compared *seen = trn_constant_comparison(i);
        if (!word_in(c->formulas, f->name))
            continue;
        if (!any)
            trn_buffer_add(out, "\nRecalled constants\n");
        any = true;
        trn_buffer_print(out, "  %-36s %-10.6g ", c->key, *c->value);
        if (seen->compared)
            trn_buffer_print(out, "compared: %s, %s, %s\n", seen->edition, seen->by, seen->date);
        else
            trn_buffer_add(out, "memory\n");
    }
}

static void show_one(const trn_formula *f, trn_buffer *out)
{
    trn_buffer_print(out, "%s: %s\n\nEquation\n", f->name, f->what);
    indent_lines(f->equation, out);
    trn_buffer_add(out, "\nInputs\n");
    for (size_t i = 0; i < f->input_count; i++)
        show_symbol(&f->inputs[i], true, out);
    trn_buffer_add(out, "\nOutputs\n");
    for (size_t i = 0; i < f->output_count; i++)
        show_symbol(&f->outputs[i], false, out);
    trn_buffer_add(out, "\nValidity\n");
    indent_lines(f->validity, out);
    trn_buffer_add(out, "\nSource\n");
    show_sources(f->source, out);
    trn_buffer_print(out, "\nStanding\n  %s%s\n", f->standing,
                     strstr(f->standing, "memory") ? " (memory: not yet compared with the printed source)"
                                                   : "");
    show_constants(f, out);
    trn_buffer_print(out, "\nExample\n  trunnion formula %s %s\n", f->name, f->example);
}

static void show_answer(const trn_formula *f, const trn_answer *answer, trn_status status,
                        bool csv, trn_buffer *out)
{
    const char *remark = trn_status_text(status);
    trn_csv_writer rows = {.out = out};
    bool right[4] = {false, true, false, false};
    trn_grid grid = {.columns = 4};
    static const char *const head[] = {"output", "value", "unit", "remark"};
    for (size_t i = 0; i < 4; i++) {
        if (csv)
            trn_csv_word(&rows, head[i]);
        else
            trn_grid_add(&grid, i < 3 ? head[i] : "meaning");
    }
    if (csv)
        trn_csv_end(&rows);
    for (size_t i = 0; i < f->output_count; i++) {
        const trn_symbol *s = &f->outputs[i];
        char value[64];
        trn_formula_text(s, &answer->out[i], csv ? 0 : 7, value, sizeof value);
        if (csv) {
            trn_csv_word(&rows, s->name);
            if (s->kind == TRN_NUMBER && answer->out[i].given)
                trn_csv_number(&rows, trn_formula_shown(s, answer->out[i].x));
            else
                trn_csv_word(&rows, value);
            trn_csv_word(&rows, s->unit);
            trn_csv_word(&rows, i == 0 ? remark : "");
            trn_csv_end(&rows);
        } else {
            trn_grid_add(&grid, s->name);
            trn_grid_add(&grid, value);
            trn_grid_add(&grid, strcmp(s->unit, "1") == 0 ? "" : s->unit);
            trn_grid_add(&grid, s->what);
        }
    }
    if (!csv) {
        trn_grid_print(&grid, right, out);
        if (*remark)
            trn_buffer_print(out, "\nremark: %s\n", remark);
    }
    trn_grid_free(&grid);
}

static cli_exit unknown(const char *name)
{
    size_t n = subject_length(name);
    trn_buffer near = {0};
    for (size_t i = 0; i < trn_formula_count(); i++) {
        const char *other = trn_formula_at(i)->name;
        if (strncmp(other, name, n) == 0 && other[n] == '.')
            trn_buffer_print(&near, " %s", other);
    }
    if (near.text)
        (void)fprintf(stderr, "trunnion: there is no formula `%s`; of this subject there are:%s\n",
                      name, near.text);
    else
        (void)fprintf(stderr, "trunnion: there is no formula `%s`; `trunnion formula` lists them\n",
                      name);
    trn_buffer_free(&near);
    return CLI_MISUSE;
}

/* Says in which units numbers without one were taken. */
static void tell_units(const trn_formula *f, const char *const *pairs, size_t n)
{
    trn_buffer told = {0};
    for (size_t i = 0; i < n; i++) {
        const char *sign = strchr(pairs[i], '=');
        double value = 0;
        if (!sign || trn_text_number(sign + 1, &value) != TRN_OK)
            continue;
        for (size_t k = 0; k < f->input_count; k++) {
            const trn_symbol *s = &f->inputs[k];
            if (s->kind == TRN_NUMBER && strcmp(s->unit, "1") != 0 &&
                strlen(s->name) == (size_t)(sign - pairs[i]) &&
                strncmp(s->name, pairs[i], strlen(s->name)) == 0)
                trn_buffer_print(&told, "%s%s in %s", told.text ? ", " : "", s->name, s->unit);
        }
    }
    if (told.text)
        (void)fprintf(stderr, "trunnion: without a unit, taken: %s\n", told.text);
    trn_buffer_free(&told);
}

cli_exit cli_formula(const cli_options *options)
{
    trn_buffer out = {0};
    cli_exit code = CLI_DONE;
    if (options->inputs.n == 0) {
        list_all(options->as_csv, &out);
        return cli_print(&out);
    }
    const trn_formula *f = trn_formula_find(options->inputs.v[0]);
    if (!f)
        return unknown(options->inputs.v[0]);
    if (options->inputs.n == 1) {
        show_one(f, &out);
        return cli_print(&out);
    }
    trn_answer answer;
    trn_status status =
        trn_formula_evaluate(f, options->inputs.v + 1, options->inputs.n - 1, &answer);
    if (status < 0) {
        (void)fprintf(stderr, "trunnion: %s: %s%s%s (error:%s)\n", f->name, answer.faulty,
                      *answer.faulty ? ": " : "", answer.why, trn_status_word(status));
        return status == TRN_E_MEMORY ? CLI_FAILED : CLI_INPUT;
    }
    if (!options->quiet.n)
        tell_units(f, options->inputs.v + 1, options->inputs.n - 1);
    show_answer(f, &answer, status, options->as_csv, &out);
    code = cli_print(&out);
    return code == CLI_DONE && status > 0 && options->strict.n ? CLI_OUTSIDE : code;
}
