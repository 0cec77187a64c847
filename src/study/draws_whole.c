/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Draws of quantities that reach an interval only through the whole evaluation: each thread has
 * a copy of the case, puts the drawn cells in, links and evaluates it. */
#include <math.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/text.h>
#include <trunnion/units.h>

#include "draws_inside.h"
#include "parallel.h"
#include "service_points.h"

/* ---- a quantity ------------------------------------------------------------------------------- */

/* One end of a range such as `[0,90)`: an open end lies just inside. */
static double bound_of(const char *text, bool open, double side)
{
    double x = 0;
    const char *end = NULL;
    while (*text == ' ')
        text++;
    if (trn_text_number_start(text, &x, &end) != TRN_OK)
        return side * INFINITY; /* inf and -inf */
    return open ? x - side * 1e-9 * fmax(1, fabs(x)) : x;
}

void trn_custom_column(trn_custom *custom)
{
    const trn_column *column = custom->path.column;
    custom->scale = 1;
    custom->offset = 0;
    if (column->unit && column->inner && strcmp(column->unit, column->inner) != 0)
        (void)trn_unit_convert(column->unit, column->inner, &custom->scale, &custom->offset);
    custom->least = -INFINITY;
    custom->most = INFINITY;
    const char *comma = column->range ? strchr(column->range, ',') : NULL;
    if (!comma)
        return;
    custom->least = bound_of(column->range + 1, column->range[0] == '(', -1);
    custom->most = bound_of(comma + 1, column->range[strlen(column->range) - 1] == ')', 1);
}

bool trn_custom_draw(const trn_machine *base, trn_machine *copy, const trn_custom *c, double z)
{
    bool clamped = false;
    for (size_t r = 0; (r = trn_path_row(base, &c->path, r)) != TRN_NONE; r++) {
        const char *from = trn_table_row(base, c->path.table, r);
        char *to = trn_table_row(copy, c->path.table, r);
        double value = NAN;
        memcpy(&value, from + c->path.column->offset, sizeof value);
        if (isnan(value))
            continue;
        double drawn = trn_spread_draw((value - c->offset) / c->scale, c->spread, z);
        double kept = fmin(c->most, fmax(c->least, drawn));
        clamped = clamped || kept != drawn;
        double member = c->scale * kept + c->offset;
        memcpy(to + c->path.column->offset, &member, sizeof member);
    }
    return clamped;
}

/* Every row as in the case: linking works on what it finds (shares are made to add up), so a
 * draw must not see what the one before left. */
static void restore(const trn_machine *base, trn_machine *copy)
{
    copy->head = base->head;
#define TRN_X(field, type) \
    if (base->field##_count > 0)                                                \
        memcpy(copy->field, base->field, base->field##_count * sizeof(type));
    TRN_TABLE_LIST(TRN_X)
#undef TRN_X
}

trn_status trn_customs_draw(const trn_machine *base, trn_machine *copy, const trn_customs *customs,
                            const trn_normals *normals, size_t first, size_t draw, size_t known,
                            bool *clamped, trn_faults *faults)
{
    restore(base, copy);
    for (size_t i = 0; i < customs->n; i++) {
        double z = i == known ? 0 : normals->z[(first + i) * normals->room + draw];
        bool bounded = trn_custom_draw(base, copy, &customs->v[i], z);
        if (clamped)
            clamped[i] = bounded;
    }
    return customs->n > 0 ? trn_machine_link(copy, faults) : TRN_OK;
}

/* ---- every draw --------------------------------------------------------------------------------- */

typedef struct seat { /* of one thread */
    trn_machine *machine;
    trn_results *results;
    bool *clamped;
    size_t *clamps;
    trn_faults faults;
} seat;

typedef struct whole_run {
    const trn_results *r;
    const trn_draws *draws;
    const trn_customs *customs;
    trn_drawn_points *out;
    seat seats[TRN_JOBS_MAX];
    const trn_drawn_points *like; /* moves the same points as this; NULL: to be found */
    size_t draws_wanted, known;   /* known: a quantity held at its median, TRN_NONE */
    atomic_bool failed;
} whole_run;

static bool sit(whole_run *run, seat *s)
{
    const trn_machine *m = run->r->machine;
    s->machine = trn_machine_copy(m);
    s->results = s->machine ? trn_results_new(s->machine) : NULL;
    s->clamped = calloc(run->customs->n + 1, sizeof *s->clamped);
    s->clamps = calloc(run->customs->n + 1, sizeof *s->clamps);
    return s->results && s->clamped && s->clamps;
}

static void stand(seat *s)
{
    trn_results_free(s->results);
    trn_machine_free(s->machine);
    free(s->clamped);
    free(s->clamps);
    trn_faults_free(&s->faults);
}

static bool evaluate(whole_run *run, seat *s, size_t draw)
{
    if (trn_customs_draw(run->r->machine, s->machine, run->customs, &run->draws->normals,
                         TRN_DRAWS, draw, run->known, s->clamped, &s->faults) != TRN_OK)
        return false;
    (void)trn_study_evaluate(s->machine, TRN_WANT_JOINTS | TRN_WANT_HEAT | TRN_WANT_LIVES |
                                              TRN_WANT_LEAN,
                             s->results, NULL);
    return true;
}

static void run_draw(void *context, unsigned worker, size_t draw)
{
    whole_run *run = context;
    seat *s = &run->seats[worker];
    trn_drawn_points *out = run->out;
    if (atomic_load(&run->failed))
        return;
    if (!evaluate(run, s, draw)) {
        atomic_store(&run->failed, true);
        return;
    }
    for (size_t i = 0; i < run->customs->n; i++)
        s->clamps[i] += s->clamped[i];
    for (size_t p = 0; p < out->points; p++) {
        if (out->service[p])
            trn_service_point_of(s->machine, s->results, p, &out->service[p][draw]);
        if (!out->state[p])
            continue;
        bool balanced = trn_duty_states_of(s->machine, s->results, p,
                                           &out->state[p][draw * out->states]);
        out->rootless[p][draw] =
            !balanced && run->r->machine->points[p].gearbox_index != TRN_NONE;
    }
}

/* Which points do draws change? A few of them tell, since they move every drawn quantity. */
static bool find_moved(whole_run *run, bool *service, bool *state)
{
    enum { TRIED = 8 };
    const trn_machine *m = run->r->machine;
    seat *s = &run->seats[0];
    size_t n = m->duty_count;
    trn_duty_state *a = calloc(2 * n + 1, sizeof *a);
    trn_duty_state *b = a ? a + n : NULL;
    for (size_t k = 0; a && k < TRIED && k < run->draws->normals.draws; k++) {
        if (!evaluate(run, s, k))
            break; /* the run itself will say so */
        for (size_t p = 0; p < m->points_count; p++) {
            trn_service_point x;
            trn_service_point y;
            memset(&x, 0, sizeof x);
            memset(&y, 0, sizeof y);
            trn_service_point_of(m, run->r, p, &x);
            trn_service_point_of(s->machine, s->results, p, &y);
            service[p] = service[p] || memcmp(&x, &y, sizeof x) != 0;
            memset(a, 0, 2 * n * sizeof *a);
            (void)trn_duty_states_of(m, run->r, p, a);
            (void)trn_duty_states_of(s->machine, s->results, p, b);
            state[p] = state[p] || memcmp(a, b, n * sizeof *a) != 0;
        }
    }
    free(a);
    return a != NULL;
}

static trn_drawn_points *room_for(whole_run *run)
{
    const trn_machine *m = run->r->machine;
    size_t points = m->points_count;
    size_t draws = run->draws_wanted;
    trn_drawn_points *d = calloc(1, sizeof *d);
    bool *moved = calloc(2 * points + 1, sizeof *moved);
    bool whole = d && moved && (run->like || find_moved(run, moved, moved + points));
    for (size_t p = 0; whole && run->like && p < points; p++) {
        moved[p] = run->like->service[p] != NULL;
        moved[points + p] = run->like->state[p] != NULL;
    }
    if (whole) {
        *d = (trn_drawn_points){.draws = draws, .states = m->duty_count, .points = points};
        d->state = calloc(points + 1, sizeof *d->state);
        d->service = calloc(points + 1, sizeof *d->service);
        d->rootless = calloc(points + 1, sizeof *d->rootless);
        whole = d->state && d->service && d->rootless;
    }
    for (size_t p = 0; whole && p < points; p++) {
        if (moved[p])
            whole = (d->service[p] = calloc(draws, sizeof **d->service)) != NULL;
        if (whole && moved[points + p]) {
            d->state[p] = calloc(draws * m->duty_count + 1, sizeof **d->state);
            d->rootless[p] = calloc(draws, 1);
            whole = d->state[p] && d->rootless[p];
        }
    }
    free(moved);
    if (!whole) {
        trn_drawn_points_free(d);
        return NULL;
    }
    return d;
}

static void say_fault(const whole_run *run, trn_faults *faults)
{
    for (size_t i = 0; i < TRN_JOBS_MAX; i++)
        if (run->seats[i].faults.count > 0) {
            trn_buffer text = {0};
            trn_fault_text(&run->seats[i].faults.list[0], &text);
            trn_fault_add(faults, "uncertainty.csv", 0, NULL,
                          "a draw gives no case that holds together (%s)",
                          text.text ? text.text : "");
            trn_buffer_free(&text);
            return;
        }
}

/* Draws of a run whose fields are set; its answer, or NULL. */
static trn_status go(whole_run *run, unsigned jobs, double from, double to, trn_faults *faults)
{
    const trn_draw_plan *plan = &run->draws->plan;
    bool whole = true;
    atomic_init(&run->failed, false);
    for (unsigned i = 0; whole && i < jobs; i++)
        whole = sit(run, &run->seats[i]);
    if (whole)
        whole = (run->out = room_for(run)) != NULL;
    trn_status status = whole ? TRN_OK : TRN_E_MEMORY;
    if (whole)
        trn_parallel(jobs, &(trn_parallel_task){.n = run->draws_wanted, .run = run_draw,
                                                .context = run, .progress = plan->progress,
                                                .progress_context = plan->context,
                                                .from = from, .to = to});
    if (whole && atomic_load(&run->failed)) {
        say_fault(run, faults);
        status = TRN_E_INPUT;
    }
    if (status != TRN_OK) {
        trn_drawn_points_free(run->out);
        run->out = NULL;
    }
    return status;
}

static whole_run *run_of(const trn_results *r, const trn_draws *draws, const trn_customs *customs,
                         size_t wanted, size_t known)
{
    whole_run *run = calloc(1, sizeof *run);
    if (!run)
        return NULL;
    run->r = r;
    run->draws = draws;
    run->customs = customs;
    run->draws_wanted = wanted;
    run->known = known;
    return run;
}

static void end(whole_run *run, unsigned jobs)
{
    for (unsigned i = 0; i < jobs; i++)
        stand(&run->seats[i]);
    free(run);
}

trn_status trn_draws_whole(const trn_results *r, const trn_draws *draws, trn_customs *customs,
                           double done, trn_drawn_points **out, trn_faults *faults)
{
    size_t n = draws->normals.draws;
    unsigned jobs = trn_jobs(draws->plan.jobs, n);
    whole_run *run = run_of(r, draws, customs, n, TRN_NONE);
    if (!run)
        return TRN_E_MEMORY;
    trn_status status = go(run, jobs, 0, done, faults);
    for (unsigned w = 0; status == TRN_OK && w < jobs; w++)
        for (size_t i = 0; i < customs->n; i++)
            customs->v[i].clamped += run->seats[w].clamps[i];
    *out = run->out;
    end(run, jobs);
    return status;
}

trn_status trn_draws_known(const trn_results *r, const trn_draws *draws,
                           const trn_customs *customs, size_t known, double from, double to,
                           trn_drawn_points **out)
{
    size_t n = draws->normals.draws < TRN_KNOWN_DRAWS ? draws->normals.draws : TRN_KNOWN_DRAWS;
    unsigned jobs = trn_jobs(draws->plan.jobs, n);
    trn_faults ignored = {0}; /* the draws held together when all moved */
    whole_run *run = run_of(r, draws, customs, n, known);
    if (!run)
        return TRN_E_MEMORY;
    run->like = draws->drawn;
    trn_status status = go(run, jobs, from, to, &ignored);
    *out = run->out;
    end(run, jobs);
    trn_faults_free(&ignored);
    return status;
}

void trn_drawn_points_free(trn_drawn_points *drawn)
{
    if (!drawn)
        return;
    for (size_t p = 0; p < drawn->points; p++) {
        if (drawn->state)
            free(drawn->state[p]);
        if (drawn->service)
            free(drawn->service[p]);
        if (drawn->rootless)
            free(drawn->rootless[p]);
    }
    free(drawn->state);
    free(drawn->service);
    free(drawn->rootless);
    free(drawn);
}
