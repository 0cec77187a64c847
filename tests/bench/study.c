/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Timings of the uncertainty study, for scripts/bench.sh.
 *   study export CASE DRAWS FILE.json FILE.z   inputs of the closed form and its normals
 *   study closed CASE DRAWS                    seconds, then 10, 50 and 90 % of every point
 *   study whole CASE DRAWS JOBS                whole draws a second of the clock and of CPU time
 *   study stages CASE                          share of a whole evaluation by stage
 *   study need CASE                            draws for 1 % error of the 10 % quantile */
#include <gsl/gsl_errno.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <trunnion/draws.h>
#include <trunnion/interval_rows.h>

#include "../../src/study/draws_inside.h"
#include "../../src/study/mechanism_inside.h"
#include "../../src/study/service_points.h"

static double now(void)
{
    struct timespec t;
    (void)clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

/* CPU time of all threads: does not see what else the machine does. */
static double busy(void)
{
    struct timespec t;
    (void)clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

typedef struct bench {
    trn_machine *m;
    trn_results *r;
    trn_interval_settings settings;
    trn_normals z;
} bench;

static bool drawn_point(const bench *b, size_t i)
{
    return b->m->points[i].task != TRN_TASK_CHECK_OIL && !isnan(b->r->points[i].nominal_h);
}

/* ---- the same inputs for the other model ------------------------------------------------------ */

static void number(FILE *f, const char *name, double value)
{
    if (isfinite(value))
        (void)fprintf(f, "\"%s\": %.17g, ", name, value);
    else
        (void)fprintf(f, "\"%s\": null, ", name);
}

static void export_state(FILE *f, const bench *b, const trn_service_point *sp,
                         const trn_duty_state *s)
{
    trn_grease_state g = trn_grease_taken(sp, s, &b->settings, trn_medians, 0);
    (void)fprintf(f, "{");
    number(f, "share", s ? s->share : 1);
    number(f, "dust", s ? s->dust_mg_m3 : NAN);
    number(f, "oil", s ? s->oil_c : NAN);
    number(f, "air", s ? s->ambient_c : NAN);
    number(f, "lambda", s ? s->load_ratio : NAN);
    number(f, "measured", s && s->oil_measured);
    number(f, "breath", s && sp->headspace_l > 0 && s->starts_per_100h != 0
                            ? s->starts_per_100h / 100 *
                                  trn_breath_mg(sp, s, s->ambient_c + 10) *
                                  (s->ambient_c + trn_zero_c + 10) / 10
                            : 0);
    number(f, "washed", s && s->washes_per_100h > 0
                            ? s->washes_per_100h * 10 * s->wash_water_ml
                            : 0);
    number(f, "g_dust", g.dust_mg_m3);
    number(f, "g_shock", g.shock);
    number(f, "g_t", g.t_c);
    number(f, "g_load", g.load);
    (void)fprintf(f, "\"g_motion\": %.17g}", g.motion);
}

static int export_case(bench *b, const char *json, const char *normals)
{
    FILE *f = fopen(json, "w");
    FILE *z = fopen(normals, "wb");
    if (!f || !z)
        return 1;
    (void)fprintf(f, "{\"draws\": %zu, \"points\": [\n", b->z.draws);
    bool first = true;
    for (size_t i = 0; i < b->m->points_count; i++) {
        if (!drawn_point(b, i))
            continue;
        trn_service_point sp;
        trn_service_point_of(b->m, b->r, i, &sp);
        (void)trn_duty_states_of(b->m, b->r, i, b->r->states);
        (void)fprintf(f, "%s{", first ? "" : ",\n");
        first = false;
        unsigned acts = trn_grease_factors_of(sp.task);
        number(f, "grease", acts != 0);
        number(f, "acts_dust", (acts & TRN_BIT(TRN_CAUSE_DUST)) != 0);
        number(f, "acts_shock", (acts & TRN_BIT(TRN_CAUSE_SHOCK)) != 0);
        number(f, "use", b->r->points[i].nominal.use);
        number(f, "manual", sp.manual_h);
        number(f, "ref_dust", sp.ref_dust_mg_m3);
        number(f, "ref_t", sp.ref_temperature_c);
        number(f, "kg", sp.oil_kg);
        number(f, "residual", sp.residual);
        number(f, "life", sp.ageing_life_h);
        number(f, "life_t", sp.ageing_c);
        number(f, "firm", sp.ageing_firm);
        number(f, "margin", sp.dust_margin);
        (void)fprintf(f, "\"reference\": ");
        export_state(f, b, &sp, NULL);
        (void)fprintf(f, ", \"states\": [");
        for (size_t k = 0; k < b->m->duty_count; k++) {
            (void)fprintf(f, "%s", k ? ", " : "");
            export_state(f, b, &sp, &b->r->states[k]);
        }
        (void)fprintf(f, "]}");
    }
    (void)fprintf(f, "]}\n");
    for (size_t d = 0; d < TRN_DRAWS; d++)
        (void)fwrite(&b->z.z[d * b->z.room], sizeof(double), b->z.draws, z);
    return fclose(f) | fclose(z);
}

/* ---- closed form ------------------------------------------------------------------------------- */

typedef struct room {
    double *life[TRN_LIMITS], *t;
} room;

static room room_of(const bench *b)
{
    room r = {.t = calloc(b->z.room, sizeof(double))};
    for (size_t c = 0; c <= TRN_CAUSE_WEAR; c++)
        r.life[c] = calloc(b->z.room, sizeof(double));
    return r;
}

/* T_k of a point into r->t */
static void draw_point(const bench *b, const trn_blocks *blocks, size_t point, room *r)
{
    trn_service_point sp;
    size_t n = b->m->duty_count;
    trn_service_point_of(b->m, b->r, point, &sp);
    (void)trn_duty_states_of(b->m, b->r, point, b->r->states);
    if (trn_grease_factors_of(sp.task)) {
        trn_blocks_grease(blocks, &sp, b->r->states, n, TRN_DRAWS, 0, r->t);
        return;
    }
    unsigned use = b->r->points[point].nominal.use;
    trn_blocks_oil(blocks, &sp, b->r->states, n, TRN_DRAWS, r->life);
    for (size_t k = 0; k < b->z.draws; k++)
        r->t[k] = INFINITY;
    for (size_t c = 0; c <= TRN_CAUSE_WEAR; c++)
        for (size_t k = 0; (use & TRN_BIT(c)) && k < b->z.draws; k++)
            r->t[k] = r->life[c][k] < r->t[k] ? r->life[c][k] : r->t[k];
}

static trn_blocks *blocks_of(const bench *b)
{
    double levels[512];
    size_t n = 0;
    trn_service_point sp;
    (void)trn_duty_states_of(b->m, b->r, 0, b->r->states);
    for (size_t i = 0; i < b->m->duty_count && n < 256; i++)
        levels[n++] = b->r->states[i].dust_mg_m3;
    for (size_t i = 0; i < b->m->points_count && n < 512; i++) {
        trn_service_point_of(b->m, b->r, i, &sp);
        levels[n++] = sp.ref_dust_mg_m3;
    }
    return trn_blocks_new(&b->settings, &b->z, levels, n);
}

static void closed(const bench *b)
{
    room r = room_of(b);
    double *q = calloc(3 * b->m->points_count, sizeof *q);
    static const double p[] = {0.1, 0.5, 0.9};
    double begun = busy();
    trn_blocks *blocks = blocks_of(b);
    for (size_t i = 0; i < b->m->points_count; i++) {
        if (!drawn_point(b, i))
            continue;
        draw_point(b, blocks, i, &r);
        for (size_t k = 0; k < 3; k++)
            q[3 * i + k] = trn_draw_quantile(r.t, b->z.draws, p[k]);
    }
    printf("%.6f\n", busy() - begun);
    for (size_t i = 0; i < b->m->points_count; i++)
        if (drawn_point(b, i))
            printf("%.15g %.15g %.15g\n", q[3 * i], q[3 * i + 1], q[3 * i + 2]);
}

/* ---- whole evaluations --------------------------------------------------------------------------- */

/* Each draw is evaluated once, and the first TRN_KNOWN_DRAWS again for what each quantity of
 * uncertainty.csv would be worth. */
static bool whole(bench *b, size_t draws, unsigned jobs)
{
    trn_draw_plan plan = {.draws = draws, .seed = 1, .jobs = jobs};
    trn_faults faults = {0};
    size_t again = draws < TRN_KNOWN_DRAWS ? draws : TRN_KNOWN_DRAWS;
    double count = (double)(draws + b->m->uncertainty_count * again);
    double begun = now();
    double worked = busy();
    if (trn_study_draws(b->r, &plan, false, &faults) != TRN_OK)
        return false;
    printf("%.1f %.1f\n", count / (now() - begun), count / (busy() - worked));
    return true;
}

static double time_of(const bench *b, unsigned wanted)
{
    enum { TIMES = 200 };
    double begun = busy();
    for (int i = 0; i < TIMES; i++)
        (void)trn_study_evaluate(b->m, wanted, b->r, NULL);
    return (busy() - begun) / TIMES;
}

static void stages(bench *b)
{
    double joints = time_of(b, TRN_WANT_JOINTS);
    double heat = time_of(b, TRN_WANT_HEAT);
    double lives = time_of(b, TRN_WANT_LIVES);
    double intervals = time_of(b, TRN_WANT_INTERVALS);
    double all = time_of(b, TRN_WANT_ALL);
    double draw = time_of(b, TRN_WANT_LIVES | TRN_WANT_LEAN);
    printf("a whole evaluation %.3f ms (CPU): joints %.0f %%, loads and heat %.0f %%, lives %.0f %%, "
           "intervals %.0f %%, fit and contacts %.0f %%\n",
           1e3 * all, 100 * joints / all, 100 * (heat - joints) / all, 100 * (lives - heat) / all,
           100 * (intervals - lives) / all, 100 * (all - intervals) / all);
    printf("what a draw needs of it %.3f ms (no churning band, time constant, fit, interval rows)\n",
           1e3 * draw);
}

/* ---- draws needed ------------------------------------------------------------------------------- */

/* Error of the 10 % quantile of all points at n draws, root of the mean square, of so many seeds. */
static double error_at(bench *b, size_t n, bool plain)
{
    enum { SEEDS = 48 };
    double sum = 0;
    size_t points = 0;
    double(*q)[SEEDS] = calloc(b->m->points_count, sizeof *q);
    for (uint64_t seed = 0; seed < SEEDS; seed++) {
        trn_draw_plan plan = {.draws = n, .seed = 100 + seed, .plain = plain};
        trn_normals_free(&b->z);
        (void)trn_normals_make(&plan, TRN_DRAWS, &b->z);
        room r = room_of(b);
        trn_blocks *blocks = blocks_of(b);
        for (size_t i = 0; i < b->m->points_count; i++)
            if (drawn_point(b, i)) {
                draw_point(b, blocks, i, &r);
                q[i][seed] = trn_draw_quantile(r.t, n, 0.1);
            }
        trn_blocks_free(blocks);
        free(r.t);
        for (size_t c = 0; c <= TRN_CAUSE_WEAR; c++)
            free(r.life[c]);
    }
    for (size_t i = 0; i < b->m->points_count; i++)
        if (drawn_point(b, i)) {
            sum += gsl_stats_variance(q[i], 1, SEEDS) / pow(gsl_stats_mean(q[i], 1, SEEDS), 2);
            points++;
        }
    free(q);
    return sqrt(sum / (double)points);
}

static double needed(bench *b, bool plain)
{
    double before = NAN;
    for (size_t n = 64; n <= 65536; n *= 2) {
        double error = error_at(b, n, plain);
        if (error < 0.01) /* between two sizes on a straight line of logarithms */
            return isnan(before) ? (double)n
                                 : (double)n * exp2(-log(0.01 / error) / log(before / error));
        before = error;
    }
    return NAN;
}

static void need(bench *b)
{
    double sobol = needed(b, false);
    double plain = needed(b, true);
    double far = error_at(b, TRN_DRAWS_DEFAULT, true) / error_at(b, TRN_DRAWS_DEFAULT, false);
    printf("draws for 1 %% error of the 10 %% quantile: shifted Sobol %.0f, plain %.0f, ratio %.1f\n",
           sobol, plain, plain / sobol);
    printf("at %d draws plain ones have %.1f times the error: as good with %.1f times as many\n",
           TRN_DRAWS_DEFAULT, far, far * far);
}

int main(int argc, char **argv)
{
    trn_faults faults = {0};
    bench b = {.m = NULL};
    (void)gsl_set_error_handler_off();
    if (argc < 3 || trn_machine_read(argv[2], &faults, &b.m) != TRN_OK)
        return 2;
    size_t draws = argc > 3 ? (size_t)strtoul(argv[3], NULL, 10) : 10000;
    trn_draw_plan plan = {.draws = draws, .seed = 1, .jobs = 1};
    trn_draw_settings(b.m, &b.settings);
    b.r = trn_results_new(b.m);
    if (!b.r || trn_study_evaluate(b.m, TRN_WANT_ALL, b.r, NULL) != TRN_OK ||
        trn_normals_make(&plan, TRN_DRAWS, &b.z) != TRN_OK)
        return 1;
    if (strcmp(argv[1], "export") == 0 && argc == 6)
        return export_case(&b, argv[4], argv[5]);
    if (strcmp(argv[1], "closed") == 0)
        closed(&b);
    else if (strcmp(argv[1], "whole") == 0 && argc == 5)
        return whole(&b, draws, (unsigned)strtoul(argv[4], NULL, 10)) ? 0 : 1;
    else if (strcmp(argv[1], "stages") == 0)
        stages(&b);
    else if (strcmp(argv[1], "need") == 0)
        need(&b);
    else
        return 2;
    return 0;
}
