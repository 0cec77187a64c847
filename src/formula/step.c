/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <pthread.h>
#include <stdlib.h>
#include <trunnion/step.h>

#include "catalogue.h"

static const char *const names[] = {
#define TRN_X(id, name) name,
    TRN_STEP_LIST(TRN_X)
#undef TRN_X
};

static const trn_formula *formulas[TRN_STEP_COUNT];
static const trn_value *defaults[TRN_STEP_COUNT];
static pthread_once_t once = PTHREAD_ONCE_INIT;

static void find_all(void)
{
    for (size_t i = 0; i < TRN_STEP_COUNT; i++) {
        formulas[i] = trn_formula_find(names[i]);
        defaults[i] = formulas[i] ? trn_formula_defaults(formulas[i]) : NULL;
    }
}

const trn_formula *trn_step_formula(trn_step_id id)
{
    (void)pthread_once(&once, find_all);
    return formulas[id];
}

void trn_trace_scope(trn_trace *trace, const char *stage, const char *condition,
                     const char *object)
{
    if (!trace)
        return;
    trace->stage = stage;
    trace->condition = condition;
    trace->object = object;
}

void trn_trace_variant(trn_trace *trace, const char *variant)
{
    if (trace)
        trace->variant = variant;
}

void trn_trace_free(trn_trace *trace)
{
    free(trace->list);
    *trace = (trn_trace){0};
}

static void note(trn_trace *trace, const trn_formula *formula, const double *in,
                 const double *out, trn_status status)
{
    if (trace->count == trace->capacity) {
        size_t capacity = trace->capacity ? 2 * trace->capacity : 64;
        trn_note *list = realloc(trace->list, capacity * sizeof *list);
        if (!list) {
            trace->failed = true;
            return;
        }
        trace->list = list;
        trace->capacity = capacity;
    }
    trn_note *n = &trace->list[trace->count++];
    *n = (trn_note){.formula = formula,
                    .stage = trace->stage ? trace->stage : "",
                    .condition = trace->condition ? trace->condition : "",
                    .object = trace->object ? trace->object : "",
                    .variant = trace->variant ? trace->variant : "",
                    .status = status};
    for (size_t k = 0; k < formula->input_count; k++)
        n->in[k] = in[k];
    for (size_t k = 0; k < formula->output_count; k++)
        n->out[k] = status >= 0 ? out[k] : NAN;
}

trn_status trn_step(trn_trace *trace, trn_step_id id, const double *in, double *out)
{
    const trn_formula *formula = trn_step_formula(id);
    if (!formula)
        return TRN_E_FORMULA;
    trn_status status = trn_formula_run(formula, defaults[id], in, out);
    if (trace)
        note(trace, formula, in, out, status);
    return status;
}
