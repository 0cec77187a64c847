/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The uncertainty study of a case: points shared out among threads. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "cleanliness.h"
#include "draws_inside.h"
#include "parallel.h"

static bool built_in(const char *path, trn_draw_id *id)
{
    for (int i = 0; i < TRN_DRAWS; i++)
        if (strcmp(path, trn_draw_path((trn_draw_id)i)) == 0) {
            *id = (trn_draw_id)i;
            return true;
        }
    return false;
}

/* Spread of the life model, which is in no interval. */
static const char life_model[] = "choices.life_model";

void trn_draw_settings(const trn_machine *m, trn_interval_settings *settings)
{
    trn_interval_settings_default(settings);
    for (size_t i = 0; i < m->uncertainty_count; i++) {
        const trn_spread_row *row = &m->uncertainty[i];
        trn_draw_id id = TRN_DRAWS;
        if (row->kind < 0)
            continue;
        trn_spread spread = {(trn_spread_kind)(TRN_SPREAD_LOGNORMAL + row->kind), row->spread};
        if (built_in(row->quantity, &id))
            trn_interval_settings_spread(settings, id, spread);
        else if (strcmp(row->quantity, life_model) == 0)
            settings->life_model = spread;
    }
}

/* ---- quantities of their own ------------------------------------------------------------------ */

static bool any_known(const trn_machine *m, const trn_path *path)
{
    for (size_t r = 0; (r = trn_path_row(m, path, r)) != TRN_NONE; r++) {
        double value = NAN;
        memcpy(&value, (const char *)trn_table_row(m, path->table, r) + path->column->offset,
               sizeof value);
        if (!isnan(value))
            return true;
    }
    return false;
}

static trn_status check_spread(const trn_spread_row *row, trn_faults *faults)
{
    if (row->kind == 0 ? row->spread >= 1 : row->spread >= 0)
        return TRN_OK;
    trn_fault_add(faults, "uncertainty.csv", row->row.line, "spread",
                  row->kind == 0 ? "a geometric standard deviation is 1 or more: %g"
                                 : "a spread is 0 or more: %g",
                  row->spread);
    return TRN_E_INPUT;
}

/* Path and column of a quantity of its own. */
static trn_status find_custom(const trn_machine *m, const char *quantity, trn_custom *custom,
                              trn_buffer *why)
{
    trn_status status = trn_path_parse(m, quantity, &custom->path, why);
    if (status != TRN_OK)
        return status;
    if (custom->path.column->cell != TRN_CELL_NUMBER)
        trn_buffer_print(why, "%s is no number that could be drawn", custom->path.column->name);
    else if (!any_known(m, &custom->path))
        trn_buffer_print(why, "not known in the case: nothing to draw round");
    else {
        trn_custom_column(custom);
        return TRN_OK;
    }
    return TRN_E_INPUT;
}

static trn_status read_row(const trn_machine *m, const trn_spread_row *row, trn_customs *out,
                           trn_faults *faults)
{
    trn_draw_id id = TRN_DRAWS;
    trn_buffer why = {0};
    trn_custom custom = {
        .name = row->quantity,
        .spread = {(trn_spread_kind)(TRN_SPREAD_LOGNORMAL + row->kind), row->spread}};
    trn_status status = check_spread(row, faults);
    if (status != TRN_OK || built_in(row->quantity, &id))
        return status;
    if (strcmp(row->quantity, life_model) == 0) {
        if (row->kind != 0)
            return TRN_OK;
        trn_fault_add(faults, "uncertainty.csv", row->row.line, "kind",
                      "%s is a spread of ln L: normal or uniform", life_model);
        return TRN_E_INPUT;
    }
    status = find_custom(m, row->quantity, &custom, &why);
    if (status == TRN_OK)
        out->v[out->n++] = custom;
    else
        trn_fault_add(faults, "uncertainty.csv", row->row.line, "quantity", "%s: %s",
                      row->quantity, why.text ? why.text : trn_status_text(status));
    trn_buffer_free(&why);
    return status;
}

trn_status trn_customs_of(const trn_machine *m, trn_customs *out, trn_faults *faults)
{
    *out = (trn_customs){calloc(m->uncertainty_count + 1, sizeof *out->v), 0};
    trn_status status = out->v ? TRN_OK : TRN_E_MEMORY;
    for (size_t i = 0; out->v && i < m->uncertainty_count; i++) {
        trn_status one = read_row(m, &m->uncertainty[i], out, faults);
        status = status == TRN_OK ? one : status;
    }
    return status;
}

/* ---- the study -------------------------------------------------------------------------------- */


/* Mechanisms of the points one after the other, without the empty places. */
static void close_up(trn_draws *d, const size_t *counts, size_t points)
{
    for (size_t i = 0; i < points; i++)
        for (size_t k = 0; k < counts[i]; k++)
            d->mechanisms[d->mechanisms_count++] = d->mechanisms[i * TRN_LIMITS + k];
    d->next_count = points;
}

/* Room of every thread; NULL: no memory. */
typedef struct rooms {
    unsigned jobs;
    trn_draw_room v[TRN_JOBS_MAX];
} rooms;

static void rooms_free(rooms *all)
{
    for (unsigned i = 0; all && i < all->jobs; i++)
        trn_draw_room_free(&all->v[i]);
    free(all);
}

static rooms *rooms_new(const trn_results *r)
{
    rooms *all = calloc(1, sizeof *all);
    bool whole = all != NULL;
    if (all)
        all->jobs = trn_jobs(r->draws->plan.jobs, r->machine->points_count);
    for (unsigned i = 0; whole && i < all->jobs; i++)
        whole = trn_draw_room_make(r->draws, r->machine->duty_count, &all->v[i]);
    if (whole)
        return all;
    rooms_free(all);
    return NULL;
}

typedef struct worth_run {
    trn_results *r;
    rooms *rooms;
    const trn_drawn_points *drawn;
    size_t known;
} worth_run;

static void gain_of(void *context, unsigned worker, size_t point)
{
    worth_run *run = context;
    trn_draws *d = run->r->draws;
    d->own_gain_h[point * d->own_count + run->known] =
        trn_draws_gain(run->r, point, run->drawn, &run->rooms->v[worker]);
}

/* Whole evaluations: all draws, then some with each quantity in turn at its median, for what it
 * would be worth to know it. */
static trn_status study_own(trn_results *r, trn_customs *customs, double done, trn_faults *faults)
{
    trn_draws *d = r->draws;
    size_t known = d->normals.draws < TRN_KNOWN_DRAWS ? d->normals.draws : TRN_KNOWN_DRAWS;
    double first = done * (double)d->normals.draws /
                   (double)(d->normals.draws + customs->n * known);
    double each = (done - first) / (double)customs->n;
    rooms *all = rooms_new(r);
    d->own = calloc(customs->n, sizeof *d->own);
    d->own_gain_h = calloc(customs->n * r->machine->points_count + 1, sizeof *d->own_gain_h);
    d->own_count = customs->n;
    trn_status status = all && d->own && d->own_gain_h ? TRN_OK : TRN_E_MEMORY;
    if (status == TRN_OK)
        status = trn_draws_whole(r, d, customs, first, &d->drawn, faults);
    for (size_t i = 0; status == TRN_OK && i < customs->n; i++) {
        trn_drawn_points *drawn = NULL;
        d->own[i] = customs->v[i].name;
        status = trn_draws_known(r, d, customs, i, first + each * (double)i,
                                 first + each * (double)(i + 1), &drawn);
        worth_run run = {r, all, drawn, i};
        if (status == TRN_OK)
            trn_parallel(all->jobs, &(trn_parallel_task){.n = r->machine->points_count,
                                                         .run = gain_of, .context = &run});
        trn_drawn_points_free(drawn);
    }
    rooms_free(all);
    return status;
}

typedef struct points_run {
    trn_results *r;
    rooms *rooms;
    size_t *counts;
} points_run;

static void run_point(void *context, unsigned worker, size_t point)
{
    points_run *run = context;
    trn_draws *d = run->r->draws;
    run->counts[point] = trn_draws_study_point(run->r, point, &run->rooms->v[worker],
                                               &d->mechanisms[point * TRN_LIMITS],
                                               &d->next[point]);
}

static trn_status study_points(trn_results *r, double from)
{
    trn_draws *d = r->draws;
    size_t points = r->machine->points_count;
    points_run run = {r, rooms_new(r), calloc(points + 1, sizeof *run.counts)};
    bool whole = run.rooms && run.counts;
    if (whole) {
        trn_parallel(run.rooms->jobs,
                     &(trn_parallel_task){.n = points, .run = run_point, .context = &run,
                                          .progress = d->plan.progress,
                                          .progress_context = d->plan.context,
                                          .from = from, .to = 1});
        close_up(d, run.counts, points);
    }
    rooms_free(run.rooms);
    free(run.counts);
    return whole ? TRN_OK : TRN_E_MEMORY;
}

/* Dusts that points meet as the case stands. */
static double *levels_of(const trn_machine *m, size_t *count)
{
    double *levels = calloc(m->duty_count + m->points_count + 1, sizeof *levels);
    *count = 0;
    for (size_t i = 0; levels && i < m->duty_count; i++)
        levels[(*count)++] = trn_duty_dust(&m->duty[i]) * 1e6;
    for (size_t i = 0; levels && i < m->points_count; i++)
        levels[(*count)++] = m->points[i].ref_dust * 1e6;
    return levels;
}

/* The first block of draws with blocks of its own. */
static bool first_few(trn_draws *d, const double *levels, size_t count)
{
    if (d->normals.room < 4 * TRN_BLOCK)
        return true;
    d->few = (trn_normals){TRN_BLOCK, TRN_BLOCK, TRN_DRAWS, NULL};
    d->few.z = calloc((size_t)TRN_DRAWS * TRN_BLOCK, sizeof *d->few.z);
    for (size_t i = 0; d->few.z && i < TRN_DRAWS; i++)
        memcpy(&d->few.z[i * TRN_BLOCK], &d->normals.z[i * d->normals.room],
               TRN_BLOCK * sizeof *d->few.z);
    if (d->few.z)
        d->few_blocks = trn_blocks_new(&d->settings, &d->few, levels, count);
    return d->few_blocks != NULL;
}

static trn_draws *begin(const trn_machine *m, const trn_draw_plan *plan, size_t customs,
                        trn_status *status)
{
    trn_draws *d = calloc(1, sizeof *d);
    *status = TRN_E_MEMORY;
    if (!d)
        return NULL;
    d->plan = *plan;
    trn_draw_settings(m, &d->settings);
    *status = trn_normals_make(plan, TRN_DRAWS + customs, &d->normals);
    if (*status != TRN_OK)
        return d;
    size_t count = 0;
    double *levels = levels_of(m, &count);
    if (levels)
        d->blocks = trn_blocks_new(&d->settings, &d->normals, levels, count);
    bool few = levels && first_few(d, levels, count);
    free(levels);
    d->mechanisms = calloc(m->points_count * TRN_LIMITS + 1, sizeof *d->mechanisms);
    d->next = calloc(m->points_count + 1, sizeof *d->next);
    *status = d->blocks && few && d->mechanisms && d->next ? TRN_OK : TRN_E_MEMORY;
    return d;
}

trn_status trn_study_draws(trn_results *r, const trn_draw_plan *plan, bool bands,
                           trn_faults *faults)
{
    const trn_machine *m = r->machine;
    trn_customs customs;
    trn_status status = trn_customs_of(m, &customs, faults);
    trn_draws_free(r->draws);
    r->draws = NULL;
    if (status == TRN_OK)
        r->draws = begin(m, plan, customs.n, &status);
    double begun = customs.n > 0 ? 0.9 : 0;
    if (status == TRN_OK && customs.n > 0)
        status = study_own(r, &customs, begun, faults);
    if (status == TRN_OK && bands)
        status = trn_draws_bands(r, r->draws, &customs);
    if (status == TRN_OK)
        status = study_points(r, begun);
    for (size_t i = 0; status == TRN_OK && i < customs.n; i++)
        if (customs.v[i].clamped > 0)
            trn_buffer_print(&r->draws->notes, "%s: %zu of %zu draws set to a bound of its range\n",
                             customs.v[i].name, customs.v[i].clamped, plan->draws);
    free(customs.v);
    if (status != TRN_OK) {
        trn_draws_free(r->draws);
        r->draws = NULL;
    }
    return status;
}

void trn_draws_free(trn_draws *draws)
{
    if (!draws)
        return;
    trn_blocks_free(draws->blocks);
    trn_blocks_free(draws->few_blocks);
    trn_normals_free(&draws->few);
    trn_normals_free(&draws->normals);
    trn_drawn_points_free(draws->drawn);
    free(draws->own);
    free(draws->own_gain_h);
    free(draws->mechanisms);
    free(draws->next);
    free(draws->bands);
    trn_buffer_free(&draws->notes);
    free(draws);
}
