/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "parallel.h"

#include <pthread.h>
#include <stdatomic.h>
#include <unistd.h>

unsigned trn_jobs(unsigned jobs, size_t n)
{
    if (jobs == 0) {
        long cores = sysconf(_SC_NPROCESSORS_ONLN);
        jobs = cores > 0 ? (unsigned)cores : 1;
    }
    jobs = jobs < TRN_JOBS_MAX ? jobs : TRN_JOBS_MAX;
    return n < jobs ? (n > 0 ? (unsigned)n : 1) : jobs;
}

typedef struct shared {
    const trn_parallel_task *task;
    atomic_size_t next, done;
} shared;

typedef struct worker {
    shared *all;
    unsigned number;
} worker;

static void work(shared *all, unsigned number)
{
    const trn_parallel_task *t = all->task;
    for (;;) {
        size_t item = atomic_fetch_add(&all->next, 1);
        if (item >= t->n)
            return;
        t->run(t->context, number, item);
        size_t done = atomic_fetch_add(&all->done, 1) + 1;
        if (number == 0 && t->progress)
            t->progress(t->progress_context,
                        t->from + (t->to - t->from) * (double)done / (double)t->n);
    }
}

static void *start(void *argument)
{
    worker *w = argument;
    work(w->all, w->number);
    return NULL;
}

void trn_parallel(unsigned jobs, const trn_parallel_task *task)
{
    shared all = {.task = task};
    atomic_init(&all.next, 0);
    atomic_init(&all.done, 0);
    unsigned wanted = trn_jobs(jobs, task->n);
    pthread_t thread[TRN_JOBS_MAX];
    worker workers[TRN_JOBS_MAX];
    unsigned running = 0;
    for (unsigned i = 1; i < wanted; i++) {
        workers[i] = (worker){&all, i};
        if (pthread_create(&thread[running], NULL, start, &workers[i]) != 0)
            break;
        running++;
    }
    work(&all, 0);
    for (unsigned i = 0; i < running; i++)
        (void)pthread_join(thread[i], NULL);
}
