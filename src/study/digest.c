/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Logs to a digest. Workers take turns in reading blocks of whole rows, take them apart side by
 * side into sums of their own, and join the edges of their blocks in the order of the file. */
#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/choices.h>

#include "digest_inside.h"
#include "parallel.h"

static const struct event {
    const char *word, *text;
} events[] = {
#define TRN_X(name, word, text) {word, text},
    TRN_DIGEST_EVENTS(TRN_X)
#undef TRN_X
};

const char *trn_digest_event_word(trn_digest_event event)
{
    return events[event].word;
}

const char *trn_digest_event_text(trn_digest_event event)
{
    return events[event].text;
}

void trn_digest_defaults(trn_digest_settings *settings)
{
    *settings = (trn_digest_settings){.rainflow = false};
    for (size_t i = 0; trn_choice_of_digest(i); i++) {
        const trn_choice *c = trn_choice_of_digest(i);
#define TRN_X(member, option, unit, range) \
        if (strcmp(c->name, option) == 0)  \
            settings->member = c->value;
        TRN_DIGEST_SETTINGS(TRN_X)
#undef TRN_X
    }
}

trn_digest *digest_new(const trn_digest_settings *settings)
{
    trn_digest *d = calloc(1, sizeof *d);
    if (!d)
        return NULL;
    (void)digest_cube_root(1); /* its table is made */
    d->settings = *settings;
    d->settings.names = (trn_log_names){.heading = {NULL}};
    if (pthread_mutex_init(&d->places.lock, NULL) != 0) {
        free(d);
        return NULL;
    }
    return d;
}

void trn_digest_free(trn_digest *d)
{
    if (!d)
        return;
    digest_sums_free(&d->sums);
    digest_edge_free(&d->edge);
    for (size_t i = 0; i < d->places.count; i++)
        free(d->places.name[i]);
    free(d->places.name);
    (void)pthread_mutex_destroy(&d->places.lock);
    trn_faults_free(&d->skipped);
    trn_buffer_free(&d->unused);
    free(d);
}

/* ---- rows ---------------------------------------------------------------------------------- */

typedef struct worker {
    trn_digest *digest;
    digest_sums sums;
    digest_edge edge; /* of the block at hand */
    trn_log_block *block;
    double low[DIGEST_OTHER], high[DIGEST_OTHER]; /* ranges of the other channels */
    /* the place of the last row */
    char name[TRN_LOG_POSITION_MAX];
    size_t name_size;
    int lift, wing;
    unsigned place;
    bool place_known;
} worker;

static void add_range(char *text, size_t size, const char *what, int class, double step)
{
    size_t n = strlen(text);
    char from[32];
    char to[32];
    trn_text_of_number(class * step, from, sizeof from);
    trn_text_of_number((class + 1) * step, to, sizeof to);
    (void)snprintf(text + n, size - n, "%s%s %s to %s", n ? " " : "", what, from, to);
    for (; text[n]; n++)
        if (text[n] == '.') /* names of a case hold no point */
            text[n] = ',';
}

static unsigned place_of(worker *w, const trn_log_row *sample)
{
    const trn_digest_settings *s = &w->digest->settings;
    double lift_mm = sample->value[TRN_LOG_LIFT];
    double wing_deg = sample->value[TRN_LOG_WING];
    int lift = s->lift_step_mm > 0 && isfinite(lift_mm) ? digest_class_of(lift_mm, s->lift_step_mm)
                                                        : INT_MIN;
    int wing = s->wing_step_deg > 0 && isfinite(wing_deg)
                   ? digest_class_of(wing_deg, s->wing_step_deg)
                   : INT_MIN;
    if (w->place_known && lift == w->lift && wing == w->wing &&
        sample->position_length == w->name_size &&
        memcmp(sample->position, w->name, w->name_size) == 0)
        return w->place;
    memcpy(w->name, sample->position, sample->position_length);
    w->name_size = sample->position_length;
    w->lift = lift;
    w->wing = wing;
    char text[2 * TRN_LOG_POSITION_MAX + 100];
    memcpy(text, w->name, w->name_size);
    text[w->name_size] = '\0';
    if (lift != INT_MIN)
        add_range(text, sizeof text, "lift", lift, s->lift_step_mm);
    if (wing != INT_MIN)
        add_range(text, sizeof text, "wing", wing, s->wing_step_deg);
    w->place = digest_place(&w->digest->places, text, strlen(text));
    w->place_known = w->place != UINT_MAX;
    if (!w->place_known) {
        w->sums.status = TRN_E_INPUT;
        w->place = 0;
    }
    return w->place;
}

static digest_kind kind_of(const trn_digest_settings *s, digest_row *row)
{
    if (isnan(row->speed))
        return DIGEST_BLANK;
    if (!(row->speed >= 0 && row->speed <= s->speed_limit_rpm))
        return DIGEST_SPIKE;
    if (fabs(row->torque) > s->torque_limit_nm)
        return DIGEST_SPIKE;
    if (row->speed < s->still_rpm) {
        if (isnan(row->torque))
            row->torque = 0;
        return DIGEST_STANDING;
    }
    return isnan(row->torque) ? DIGEST_BLANK : DIGEST_WORK;
}

static void on_sample(void *context, const trn_log_row *sample)
{
    static const double per_rpm = 6.283185307179586476925 / 60;
    worker *w = context;
    const trn_digest *d = w->digest;
    const double *v = sample->value;
    digest_row row = {.ns = sample->ns, .speed = v[TRN_LOG_SPEED], .torque = v[TRN_LOG_TORQUE]};
    if (!d->logged[TRN_LOG_TORQUE])
        row.torque = row.speed >= d->settings.still_rpm
                         ? 1000 * v[TRN_LOG_POWER] / (row.speed * per_rpm)
                         : NAN;
    for (size_t k = 0; k < DIGEST_OTHER; k++) {
        row.other[k] = v[TRN_LOG_AMBIENT + k];
        if (row.other[k] < w->low[k] || row.other[k] > w->high[k]) {
            row.other[k] = NAN;
            w->sums.events[TRN_EVENT_SPIKE_OTHER]++;
        }
    }
    row.kind = kind_of(&d->settings, &row);
    row.place = place_of(w, sample);
    digest_edge_row(&w->edge, &w->sums, &d->settings, &row);
}

/* ---- blocks -------------------------------------------------------------------------------- */

/* A block that was taken apart and waits for those before it. */
typedef struct slot {
    bool ready;
    digest_edge edge;
    trn_faults faults;
    trn_status status;
} slot;

enum { SLOTS = 32 };

typedef struct run {
    trn_digest *digest;
    trn_log *log;
    const trn_digest_settings *settings;
    worker *workers;
    trn_faults *faults;
    pthread_mutex_t read_lock, join_lock;
    pthread_cond_t joined;
    size_t next_read, next_join;
    slot slots[SLOTS];      /* under join_lock; block n in slot n % SLOTS */
    bool ended;             /* under read_lock */
    trn_faults read_faults;
    trn_status read_status;
    bool stop;              /* under join_lock */
    trn_status status;
    size_t *bad;            /* faulty cells of the record so far */
} run;

static void move_faults(trn_faults *to, trn_faults *from)
{
    for (size_t i = 0; i < from->kept && to->kept < TRN_FAULTS_KEPT; i++) {
        const trn_fault *f = &from->list[i];
        trn_fault_add(to, f->file, f->line, f->column, "%s", f->text);
        to->count--;
    }
    to->count += from->count;
    trn_faults_free(from);
}

static bool take_block(run *r, worker *w, size_t *number)
{
    pthread_mutex_lock(&r->read_lock);
    bool more = !r->ended;
    if (more) {
        r->read_status = trn_log_next(r->log, w->block, &r->read_faults, &more);
        more = more && r->read_status == TRN_OK;
        r->ended = !more;
        *number = r->next_read;
        r->next_read += more;
    }
    pthread_mutex_unlock(&r->read_lock);
    return more;
}

/* Under join_lock, in the order of the blocks; w: whoever holds the lock. */
static void join(run *r, worker *w, slot *s)
{
    trn_digest *d = r->digest;
    trn_status status = s->status;
    *r->bad += s->faults.count;
    move_faults(&d->skipped, &s->faults);
    digest_edge_join(&d->edge, &s->edge, &w->sums, &d->settings);
    if (status == TRN_OK && w->sums.status < 0) {
        status = w->sums.status;
        if (status == TRN_E_INPUT)
            trn_fault_add(r->faults, "log", 0, NULL,
                          "more than 50 000 classes or 65 000 positions; take wider steps");
    }
    if (status == TRN_OK && *r->bad > r->settings->skip_bad)
        status = TRN_E_INPUT;
    if (status < 0) {
        r->stop = true;
        r->status = status;
    }
}

/* Puts the block down and joins all whose turn has come. False: no further block is wanted. */
static bool put_down(run *r, worker *w, size_t number, trn_status status, trn_faults *faults)
{
    pthread_mutex_lock(&r->join_lock);
    while (number - r->next_join >= SLOTS)
        pthread_cond_wait(&r->joined, &r->join_lock);
    r->slots[number % SLOTS] =
        (slot){.ready = true, .edge = w->edge, .faults = *faults, .status = status};
    w->edge = (digest_edge){.any = false};
    for (slot *s; (s = &r->slots[r->next_join % SLOTS])->ready; r->next_join++) {
        if (!r->stop)
            join(r, w, s);
        trn_faults_free(&s->faults);
        digest_edge_free(&s->edge);
        s->ready = false;
    }
    bool go_on = !r->stop;
    pthread_cond_broadcast(&r->joined);
    pthread_mutex_unlock(&r->join_lock);
    return go_on;
}

static void work(void *context, unsigned thread, size_t item)
{
    (void)thread;
    run *r = context;
    worker *w = &r->workers[item];
    size_t number = 0;
    bool go_on = true;
    while (go_on && take_block(r, w, &number)) {
        trn_faults faults = {0};
        size_t lost = 0;
        trn_status status = trn_log_rows(r->log, w->block, !r->settings->parser_only, &faults,
                                         &lost, on_sample, w);
        w->sums.events[TRN_EVENT_LOST] += (int64_t)lost;
        w->sums.events[TRN_EVENT_BAD] += (int64_t)faults.count;
        go_on = put_down(r, w, number, status, &faults);
    }
}

/* ---- files --------------------------------------------------------------------------------- */

static trn_status take_columns(trn_digest *d, const trn_log *log, const char *path,
                               trn_faults *faults)
{
    for (size_t c = 0; c < TRN_LOG_CHANNEL_COUNT; c++)
        d->logged[c] = trn_log_has(log, (trn_log_channel)c);
    d->logged[TRN_LOG_POSITION] = trn_log_has_position(log);
    if (trn_log_unused(log)[0] && !strstr(d->unused.text ? d->unused.text : "",
                                          trn_log_unused(log)))
        trn_buffer_print(&d->unused, "%s%s", d->unused.length ? ", " : "", trn_log_unused(log));
    trn_log_clock clock = trn_log_clock_of(log);
    if (clock == TRN_CLOCK_NONE)
        return TRN_OK; /* no rows, or none with a good stamp */
    if (d->clock != TRN_CLOCK_NONE && d->clock != clock) {
        trn_fault_add(faults, path, 0, NULL,
                      "stamps of another kind than those of the files before (seconds, ISO 8601 "
                      "without offset, with offset): the step between them is not known");
        return TRN_E_INPUT;
    }
    d->clock = clock;
    return TRN_OK;
}

static void explain_bad(run *r)
{
    size_t bad = *r->bad;
    if (bad <= r->settings->skip_bad)
        return;
    move_faults(r->faults, &r->digest->skipped);
    if (r->settings->skip_bad > 0)
        trn_fault_add(r->faults, "--skip-bad", 0, NULL,
                      "%zu faulty cells so far, more than the %zu let pass", bad,
                      r->settings->skip_bad);
}

static trn_status read_file(trn_digest *d, const char *path, const trn_digest_settings *s,
                            worker *workers, unsigned jobs, size_t *bad, trn_faults *faults)
{
    run r = {.digest = d, .settings = s, .workers = workers, .faults = faults, .bad = bad};
    trn_status status = trn_log_open(path, &s->names, s->block, faults, &r.log);
    if (status == TRN_OK)
        status = take_columns(d, r.log, path, faults);
    if (status == TRN_OK) {
        (void)pthread_mutex_init(&r.read_lock, NULL);
        (void)pthread_mutex_init(&r.join_lock, NULL);
        (void)pthread_cond_init(&r.joined, NULL);
        trn_parallel(jobs, &(trn_parallel_task){.n = jobs, .run = work, .context = &r});
        (void)pthread_cond_destroy(&r.joined);
        (void)pthread_mutex_destroy(&r.join_lock);
        (void)pthread_mutex_destroy(&r.read_lock);
        status = r.status;
        if (status == TRN_OK && r.read_status < 0) {
            status = r.read_status;
            move_faults(faults, &r.read_faults);
        } else if (status < 0) {
            explain_bad(&r);
        }
        trn_faults_free(&r.read_faults);
    }
    trn_log_close(r.log);
    return status;
}

static worker *workers_new(trn_digest *d, unsigned jobs)
{
    worker *list = calloc(jobs, sizeof *list);
    for (unsigned i = 0; list && i < jobs; i++) {
        list[i].digest = d;
        list[i].block = trn_log_block_new();
        for (size_t k = 0; k < DIGEST_OTHER; k++)
            trn_log_channel_range((trn_log_channel)(TRN_LOG_AMBIENT + k), &list[i].low[k],
                                  &list[i].high[k]);
        if (!list[i].block) {
            while (i > 0)
                trn_log_block_free(list[--i].block);
            free(list);
            return NULL;
        }
    }
    return list;
}

static trn_status check_classes(const trn_digest_settings *s, const trn_digest *d,
                                trn_faults *faults)
{
    if (!d->logged[TRN_LOG_POSITION] || !(s->lift_step_mm > 0 || s->wing_step_deg > 0))
        return TRN_OK;
    trn_fault_add(faults, "log", 0, NULL,
                  "the log names positions itself: --lift-step and --wing-step are for logs "
                  "without that column");
    return TRN_E_INPUT;
}

static trn_status within_reach(const trn_digest *d, trn_faults *faults)
{
    int64_t ns = d->sums.ns[TRN_EVENT_WORK] + d->sums.ns[TRN_EVENT_STANDING];
    if (ns <= DIGEST_TIME_MAX_NS)
        return TRN_OK;
    trn_fault_add(faults, "log", 0, NULL, "more than 30 years of record");
    return TRN_E_INPUT;
}

trn_status trn_digest_logs(const char *const *paths, size_t count,
                           const trn_digest_settings *settings, trn_faults *faults,
                           trn_digest **out)
{
    *out = NULL;
    unsigned jobs = trn_jobs(settings->jobs, TRN_JOBS_MAX);
    trn_digest *d = digest_new(settings);
    worker *workers = d ? workers_new(d, jobs) : NULL;
    bool logged[TRN_LOG_POSITION + 1] = {false};
    size_t bad = 0;
    trn_status status = workers ? TRN_OK : TRN_E_MEMORY;
    for (size_t i = 0; i < count && status == TRN_OK; i++) {
        status = read_file(d, paths[i], settings, workers, jobs, &bad, faults);
        for (size_t c = 0; c <= TRN_LOG_POSITION; c++)
            logged[c] = logged[c] || d->logged[c];
        if (status == TRN_OK)
            status = check_classes(settings, d, faults);
    }
    for (unsigned i = 0; workers && i < jobs; i++) {
        if (status == TRN_OK)
            digest_sums_add(&d->sums, &workers[i].sums, NULL);
        digest_sums_free(&workers[i].sums);
        trn_log_block_free(workers[i].block);
        digest_edge_free(&workers[i].edge);
    }
    free(workers);
    if (status == TRN_OK) {
        memcpy(d->logged, logged, sizeof logged);
        status = d->sums.status < 0 ? d->sums.status : within_reach(d, faults);
    }
    if (status == TRN_OK)
        *out = d;
    else
        trn_digest_free(d);
    return status;
}

/* ---- merge --------------------------------------------------------------------------------- */

static bool same_settings(const trn_digest_settings *a, const trn_digest_settings *b,
                          const char **which)
{
    *which = "rainflow";
    bool same = a->rainflow == b->rainflow;
#define TRN_X(member, option, unit, range)                        \
    if (same && (a->member < b->member || a->member > b->member)) { \
        *which = option;                                          \
        same = false;                                             \
    }
    TRN_DIGEST_SETTINGS(TRN_X)
#undef TRN_X
    return same;
}

trn_status trn_digest_merge(trn_digest *d, const trn_digest *next, const char *name,
                            trn_faults *faults)
{
    const char *which = NULL;
    if (!same_settings(&d->settings, &next->settings, &which)) {
        trn_fault_add(faults, name, 0, NULL,
                      "made with another --%s than the part before; only parts of the same "
                      "settings add up", which);
        return TRN_E_INPUT;
    }
    if (d->clock != TRN_CLOCK_NONE && next->clock != TRN_CLOCK_NONE && d->clock != next->clock) {
        trn_fault_add(faults, name, 0, NULL,
                      "its stamps are of another kind than those of the part before (seconds, "
                      "ISO 8601 without offset, with offset)");
        return TRN_E_INPUT;
    }
    unsigned *place = calloc(next->places.count + 1, sizeof *place);
    digest_edge edge = {.any = false};
    bool good = place && digest_edge_copy(&edge, &next->edge);
    for (size_t i = 0; good && i < next->places.count; i++) {
        place[i] = digest_place(&d->places, next->places.name[i], strlen(next->places.name[i]));
        good = place[i] != UINT_MAX;
    }
    if (good) {
        if (d->clock == TRN_CLOCK_NONE)
            d->clock = next->clock;
        edge.first.place = edge.any ? place[edge.first.place] : 0;
        edge.last.place = edge.any ? place[edge.last.place] : 0;
        for (size_t c = 0; c <= TRN_LOG_POSITION; c++)
            d->logged[c] = d->logged[c] || next->logged[c];
        digest_sums_add(&d->sums, &next->sums, place);
        digest_edge_join(&d->edge, &edge, &d->sums, &d->settings);
        good = d->sums.status == TRN_OK;
    }
    digest_edge_free(&edge);
    free(place);
    if (!good)
        return d->sums.status < 0 ? d->sums.status : TRN_E_MEMORY;
    return within_reach(d, faults);
}
