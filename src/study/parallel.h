/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study only: independent items shared out among threads. */
#ifndef TRUNNION_PARALLEL_H
#define TRUNNION_PARALLEL_H

#include <stddef.h>

enum { TRN_JOBS_MAX = 64 };

/* Threads for a wish of jobs (0: as many as cores) and n items. */
unsigned trn_jobs(unsigned jobs, size_t n);

typedef struct trn_parallel_task {
    size_t n;
    void (*run)(void *context, unsigned worker, size_t item);
    void *context;
    void (*progress)(void *context, double done); /* NULL, or called on the caller's thread */
    void *progress_context;
    double from, to; /* part of the whole that these items are */
} trn_parallel_task;

/* Runs every item once, on trn_jobs(jobs, n) workers numbered from 0 (fewer where no more threads
 * can be had); items must not depend on each other. */
void trn_parallel(unsigned jobs, const trn_parallel_task *task);

#endif
