/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Results of several versions of a case, and what changed. */
#include <trunnion/compare.h>

#include <math.h>
#include <stdlib.h>

trn_difference trn_difference_of(double base, double value)
{
    if (base == value) /* also where both are without end */
        return (trn_difference){0, 0};
    if (!isfinite(base) || !isfinite(value))
        return (trn_difference){NAN, NAN};
    if (fabs(value - base) <= 1e-9 * fmax(fabs(value), fabs(base)))
        return (trn_difference){0, base != 0 ? 0 : NAN}; /* rounding is no difference */
    return (trn_difference){value - base, base != 0 ? 100 * (value - base) / fabs(base) : NAN};
}

static trn_status run_one(const trn_machine *machine, const trn_follow *follow,
                          trn_evaluation evaluation, size_t column, trn_comparison *out)
{
    trn_results *r = trn_results_new(machine);
    trn_status status = r ? evaluation.run(machine, r, evaluation.context) : TRN_E_MEMORY;
    for (size_t i = 0; i < out->follows && status == TRN_OK; i++)
        out->value[i * out->columns + column] = follow[i].value(follow[i].self, r);
    trn_results_free(r);
    return status;
}

trn_status trn_compare_run(trn_machine *const *machines, size_t count, const trn_follow *follow,
                           size_t follow_count, trn_evaluation evaluation, trn_comparison **out)
{
    *out = NULL;
    trn_comparison *c = calloc(1, sizeof *c);
    if (!c)
        return TRN_E_MEMORY;
    c->columns = count;
    c->follows = follow_count;
    c->value = calloc(count * follow_count + 1, sizeof *c->value);
    trn_status status = c->value ? TRN_OK : TRN_E_MEMORY;
    for (size_t i = 0; i < count && status == TRN_OK; i++)
        status = run_one(machines[i], follow, evaluation, i, c);
    if (status != TRN_OK) {
        trn_comparison_free(c);
        return status;
    }
    *out = c;
    return TRN_OK;
}

void trn_comparison_free(trn_comparison *comparison)
{
    if (!comparison)
        return;
    free(comparison->value);
    free(comparison);
}
