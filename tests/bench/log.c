/* SPDX-License-Identifier: GPL-3.0-or-later */
/* For scripts/bench-digest.sh:
 *   log make BYTES         a log of eight columns on stdout, the same each time
 *   log count FILE         the baseline: libcsv with callbacks that only count
 *   log digest FILE N      the digest on N threads
 *   log memory FILE...     the digest of all files on two threads
 * They print seconds by the clock and of processor time, the last one its peak memory in KB. */
#include <csv.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>
#include <trunnion/digest.h>

static double seconds(clockid_t clock)
{
    struct timespec t;
    (void)clock_gettime(clock, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static double wall, cpu; /* at the start */

static void begin(void)
{
    wall = seconds(CLOCK_MONOTONIC);
    cpu = seconds(CLOCK_PROCESS_CPUTIME_ID);
}

static void end(void)
{
    double used = seconds(CLOCK_PROCESS_CPUTIME_ID) - cpu;
    printf("%.6f %.6f\n", seconds(CLOCK_MONOTONIC) - wall, used);
}

/* Uniform from 0 to 1, from a counter. */
static double uniform(uint64_t *state)
{
    uint64_t z = (*state += UINT64_C(0x9E3779B97F4A7C15));
    z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
    return (double)((z ^ (z >> 31)) >> 11) / 9007199254740992.0;
}

/* A day of work in a season of days: 1 Hz, nights as gaps, torque that wanders. */
static int make(long long bytes)
{
    uint64_t state = 20260501;
    double torque = 300;
    long long written = printf("time,pto_speed [rpm],torque [N.m],ambient [degC],"
                               "oil_temperature [degC],lift [mm],wing [deg],dust [mg/m3]\n");
    for (long second = 0; written < bytes; second++) {
        long of_day = second % 36000;
        long day = second / 36000;
        long clock = of_day + 25200;
        torque += 60 * (uniform(&state) - 0.5) + 0.02 * (350 - torque);
        double speed = of_day % 900 < 60 ? 0 : 540 + 12 * (uniform(&state) - 0.5);
        written += printf("%04ld-%02ld-%02ldT%02ld:%02ld:%02ld,%.1f,%.2f,%.1f,%.1f,%.0f,%.1f,%.2f\n",
                          2000 + day / 336, 1 + day / 28 % 12, 1 + day % 28, clock / 3600,
                          clock / 60 % 60, clock % 60, speed, speed > 0 ? torque : 0,
                          15 + 10 * uniform(&state), 40 + 30 * uniform(&state),
                          300 + 600 * uniform(&state), 20 * uniform(&state),
                          30 * uniform(&state));
    }
    return fflush(stdout) == 0 ? 0 : 1;
}

static size_t cells, lines;

static void on_cell(void *p, size_t n, void *context)
{
    (void)p;
    (void)n;
    (void)context;
    cells++;
}

static void on_line(int end, void *context)
{
    (void)end;
    (void)context;
    lines++;
}

static int count(const char *path)
{
    static char piece[65536];
    struct csv_parser parser;
    FILE *file = fopen(path, "rb");
    if (!file || csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI) != 0)
        return 1;
    begin();
    size_t n = 0;
    while ((n = fread(piece, 1, sizeof piece, file)) > 0)
        (void)csv_parse(&parser, piece, n, on_cell, on_line, NULL);
    (void)csv_fini(&parser, on_cell, on_line, NULL);
    end();
    csv_free(&parser);
    (void)fclose(file);
    return cells > 0 && lines > 0 ? 0 : 1;
}

static int digest(const char *path, unsigned jobs)
{
    trn_digest_settings settings;
    trn_faults faults = {0};
    trn_digest *d = NULL;
    trn_digest_defaults(&settings);
    settings.jobs = jobs;
    begin();
    trn_status status = trn_digest_logs(&path, 1, &settings, &faults, &d);
    end();
    trn_digest_free(d);
    trn_faults_free(&faults);
    return status == TRN_OK ? 0 : 1;
}

static int memory(const char *const *paths, size_t n)
{
    trn_digest_settings settings;
    trn_faults faults = {0};
    trn_digest *d = NULL;
    struct rusage use;
    trn_digest_defaults(&settings);
    settings.jobs = 2;
    trn_status status = trn_digest_logs(paths, n, &settings, &faults, &d);
    trn_digest_free(d);
    trn_faults_free(&faults);
    if (getrusage(RUSAGE_SELF, &use) != 0)
        return 1;
    printf("%ld\n", use.ru_maxrss);
    return status == TRN_OK ? 0 : 1;
}

int main(int argc, char **argv)
{
    if (argc == 3 && strcmp(argv[1], "make") == 0)
        return make(strtoll(argv[2], NULL, 10));
    if (argc == 3 && strcmp(argv[1], "count") == 0)
        return count(argv[2]);
    if (argc == 4 && strcmp(argv[1], "digest") == 0)
        return digest(argv[2], (unsigned)strtoul(argv[3], NULL, 10));
    if (argc >= 3 && strcmp(argv[1], "memory") == 0)
        return memory((const char *const *)(void *)(argv + 2), (size_t)argc - 2);
    return 2;
}
