/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <trunnion/lives_table.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/rank.h>

/* ---- rows --------------------------------------------------------------------------------- */

static const double few_failures = 20;  /* Fisher limits are too narrow below */
static const double very_few_failures = 10; /* likelihood limits too, by a few per cent */

typedef enum form { FORM_NONE, FORM_AGE, FORM_LOOKS } form;

static form form_of(const trn_life_row *row, bool *both)
{
    bool age = !isnan(row->hours) || row->state >= 0;
    bool looks = !isnan(row->after) || !isnan(row->by);
    *both = age && looks;
    return age ? FORM_AGE : looks ? FORM_LOOKS : FORM_NONE;
}

/* The two times of a row, after = by for a failure, by = inf for a running unit. */
static bool times_of(const trn_life_row *row, form is, const char *file, trn_faults *faults,
                     double *after, double *by)
{
    size_t line = row->row.line;
    if (is == FORM_LOOKS) {
        *after = isnan(row->after) ? 0 : row->after;
        *by = isnan(row->by) ? INFINITY : row->by;
        if (!(*after > 0) && isinf(*by))
            trn_fault_add(faults, file, line, "after [h]",
                          "a running unit that was seen at 0 h says nothing; give the hours at "
                          "which it was last seen sound");
        else if (*by < *after)
            trn_fault_add(faults, file, line, "by [h]",
                          "found failed at %.10g h, before it was seen sound at %.10g h", *by,
                          *after);
        else
            return true;
        return false;
    }
    if (isnan(row->hours) || row->state < 0) {
        trn_fault_add(faults, file, line, isnan(row->hours) ? "hours [h]" : "state",
                      "the cell is blank; every unit needs hours and a state, failed or running");
        return false;
    }
    *after = row->hours;
    *by = row->state == 0 ? row->hours : INFINITY;
    return true;
}

static void row_of(const trn_life_row *row, form is, const char *file, trn_faults *faults,
                   trn_weibull_row *unit)
{
    double after = 0;
    double by = 0;
    if (!(row->count >= 0) || row->count > 1e15 || floor(row->count) < row->count) {
        trn_fault_add(faults, file, row->row.line, "count",
                      "%.10g is no whole number of units from 0 on", row->count);
        return;
    }
    if (times_of(row, is, file, faults, &after, &by) &&
        trn_weibull_row_make(after, by, (size_t)row->count, unit) != TRN_OK)
        trn_fault_add(faults, file, row->row.line, is == FORM_AGE ? "hours [h]" : "by [h]",
                      "hours must be above 0");
}

trn_status trn_lives_rows(const trn_life_row *rows, size_t n, const char *file,
                          trn_faults *faults, trn_weibull_row *units)
{
    size_t before = faults->count;
    form first = FORM_NONE;
    double sum = 0;
    for (size_t i = 0; i < n; i++) {
        bool both = false;
        form is = form_of(&rows[i], &both);
        if (first == FORM_NONE)
            first = is;
        if (is == FORM_NONE)
            trn_fault_add(faults, file, rows[i].row.line, NULL,
                          "neither hours and state nor after and by are filled in");
        else if (both || is != first)
            trn_fault_add(faults, file, rows[i].row.line, NULL,
                          "the table has both forms; take hours and state for all rows, or after "
                          "and by (equal where the hours of a failure are known)");
        else
            row_of(&rows[i], is, file, faults, &units[i]);
        sum += rows[i].count;
    }
    if (faults->count == before && !(sum > 0))
        trn_fault_add(faults, file, 0, NULL, "the table has no units; at least one is needed");
    return faults->count == before ? TRN_OK : TRN_E_INPUT;
}

/* ---- remarks ------------------------------------------------------------------------------ */

static void remark(trn_lives_line *row, const char *text)
{
    size_t n = strlen(row->remark);
    (void)snprintf(row->remark + n, sizeof row->remark - n, "%s%s", n ? "; " : "", text);
}

static void remark_on_failures(trn_lives_line *row, double failed, bool fisher)
{
    if (failed == 1)
        remark(row, trn_status_text(TRN_R_STATISTICS_ONE_FAILURE));
    if (failed < few_failures && fisher)
        remark(row, "few failures: these limits are too narrow, take those of likelihood");
    else if (failed < very_few_failures)
        remark(row, trn_status_text(TRN_R_STATISTICS_FEW_FAILURES));
    else if (failed < few_failures)
        remark(row, "few failures: the slope comes out too high on average");
}

static bool open_ended(const trn_weibull_limits *l)
{
    const double ends[] = {l->beta_low,   l->beta_high, l->eta_low_h,
                           l->eta_high_h, l->b10_low_h, l->b10_high_h};
    for (size_t i = 0; i < sizeof ends / sizeof ends[0]; i++)
        if (ends[i] == 0 || isinf(ends[i]))
            return true;
    return false;
}

static bool survivors_beyond(const trn_weibull_data *data)
{
    return data->n > 0 && data->rows[data->n - 1].kind == TRN_WEIBULL_RIGHT;
}

/* ---- lines -------------------------------------------------------------------------------- */

static const trn_weibull_limits no_limits = {NAN, NAN, NAN, NAN, NAN, NAN};

static trn_lives_line *add_line(trn_lives_table *table, const char *method,
                                const trn_weibull_line *line, const trn_weibull_limits *limits)
{
    trn_lives_line *row = &table->lines[table->count++];
    *row = (trn_lives_line){.method = method, .line = *line, .limits = *limits};
    return row;
}

static trn_status add_fit(trn_lives_table *table, const trn_weibull_line *line)
{
    trn_weibull_limits limits;
    const trn_weibull_data *data = &table->data;
    trn_status status =
        trn_weibull_likelihood_limits(data, line, table->confidence, &limits);
    if (status < 0)
        return status;
    trn_lives_line *row = add_line(table, "likelihood", line, &limits);
    remark_on_failures(row, data->failed, false);
    if (open_ended(&limits))
        remark(row, "0 or inf: the data set no limit on that side");
    status = trn_weibull_fisher_limits(data, line, table->confidence, &limits);
    if (status < 0)
        return status == TRN_E_DOMAIN ? TRN_OK : status;
    remark_on_failures(add_line(table, "fisher", line, &limits), data->failed, true);
    return TRN_OK;
}

static void add_ranks(trn_lives_table *table)
{
    static const char *const names[] = {"rank_y_on_x", "rank_x_on_y"};
    static const trn_rank_direction ways[] = {TRN_RANK_Y_ON_X, TRN_RANK_X_ON_Y};
    for (size_t i = 0; i < 2; i++) {
        trn_weibull_line line;
        if (trn_rank_fit(&table->data, ways[i], &line) < 0)
            continue; /* inspected units, or all failed at one time */
        trn_lives_line *row = add_line(table, names[i], &line, &no_limits);
        remark_on_failures(row, table->data.failed, false);
        if (survivors_beyond(&table->data))
            remark(row, "units that run beyond the last failure do not count here");
    }
}

static trn_status add_fixed(trn_lives_table *table)
{
    trn_weibull_line line;
    trn_weibull_limits limits;
    trn_status status =
        trn_weibull_weibayes(&table->data, table->slope, table->confidence, &line, &limits);
    if (status < 0)
        return status;
    trn_lives_line *row = add_line(table, "weibayes", &line, &limits);
    remark(row, "the slope is assumed");
    if (table->data.failed == 0)
        remark(row, "no failure: lower limits only");
    return TRN_OK;
}

/* Why trn_weibull_fit finds no slope. */
static const char *no_slope(const trn_weibull_data *data)
{
    if (data->failed == 0)
        return "no unit failed, and survivors alone set no slope";
    if (!data->grouped)
        return "every failure stands at the largest time of the table, so that no slope is "
               "steep enough";
    return "the looks part cleanly into sound and failed, so that they set no finite slope";
}

static trn_status refuse(const trn_weibull_data *data, const char *file, trn_faults *faults)
{
    trn_fault_add(faults, file, 0, NULL, "no Weibull line: %s; %s", no_slope(data),
                  data->grouped ? "look again at shorter times, or find out the hours of the "
                                  "failures (--slope takes known hours only)"
                                : "with a slope that is known from elsewhere, --slope B gives "
                                  "what they do say");
    return TRN_E_INPUT;
}

static trn_status add_lines(trn_lives_table *table, const char *file, trn_faults *faults)
{
    const trn_weibull_data *data = &table->data;
    bool fixed = !isnan(table->slope) && !data->grouped;
    trn_weibull_line line;
    trn_status status = trn_weibull_fit(data, &line);
    if (status == TRN_E_DOMAIN && !fixed)
        return refuse(data, file, faults);
    if (status >= 0)
        status = add_fit(table, &line);
    else if (status == TRN_E_DOMAIN) {
        (void)snprintf(table->note, sizeof table->note, "the slope is the one given: %s",
                       no_slope(data));
        status = TRN_OK;
    }
    if (status < 0)
        return status;
    if (data->failed > 0)
        add_ranks(table);
    if (!isnan(table->slope) && data->grouped)
        (void)snprintf(table->note, sizeof table->note,
                       "a line at a fixed slope needs known hours of failure; the row weibayes "
                       "is left out");
    return fixed ? add_fixed(table) : TRN_OK;
}

trn_status trn_lives_table_make(const trn_life_row *rows, size_t n, const char *file,
                                double slope, double confidence, trn_faults *faults,
                                trn_lives_table *table)
{
    if (!(confidence > 0) || !(confidence < 1) ||
        (!isnan(slope) && (!(slope > 0) || isinf(slope))))
        return TRN_E_DOMAIN;
    trn_lives_table made = {.slope = slope, .confidence = confidence};
    made.units = calloc(n + 1, sizeof *made.units);
    if (!made.units)
        return TRN_E_MEMORY;
    trn_status status = trn_lives_rows(rows, n, file, faults, made.units);
    if (status == TRN_OK)
        status = trn_weibull_prepare(made.units, n, &made.data);
    if (status == TRN_OK)
        status = add_lines(&made, file, faults);
    if (status < 0) {
        free(made.units);
        return status;
    }
    *table = made;
    return TRN_OK;
}

trn_status trn_lives_table_read(const char *path, double slope, double confidence,
                                trn_faults *faults, trn_lives_table *table)
{
    trn_machine *machine = NULL;
    trn_status status = trn_machine_read_table(path, "lives", faults, &machine);
    if (status == TRN_OK)
        status = trn_lives_table_make(machine->lives, machine->lives_count, path, slope,
                                      confidence, faults, table);
    trn_machine_free(machine);
    return status;
}

void trn_lives_table_free(trn_lives_table *table)
{
    free(table->units);
    *table = (trn_lives_table){0};
}
