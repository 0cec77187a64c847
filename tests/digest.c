/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The digest of logs: against a simple computation in doubles, cut everywhere and merged, on one
 * thread and several; what is counted; what enters a case. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/digest.h>
#include <trunnion/rainflow.h>
#include <trunnion/study.h>

#include "../src/study/digest_inside.h"
#include "scratch.h"
#include "support.h"

static void quiet(void)
{
    (void)gsl_set_error_handler_off();
}

TestSuite(digest, .init = quiet);

/* ---- a folder with logs -------------------------------------------------------------------- */

typedef struct bench {
    char folder[SCRATCH_PATH];
    trn_digest_settings settings;
} bench;

static bench begin(void)
{
    bench b;
    scratch_make(b.folder);
    trn_digest_defaults(&b.settings);
    b.settings.jobs = 1;
    return b;
}

static trn_digest *digest_files(const bench *b, const char *const *names, size_t n, char **faults)
{
    static char path[4][SCRATCH_PATH + 64];
    const char *paths[4];
    trn_faults list = {0};
    trn_digest *d = NULL;
    for (size_t i = 0; i < n; i++) {
        (void)snprintf(path[i], sizeof path[i], "%s/%s", b->folder, names[i]);
        paths[i] = path[i];
    }
    trn_status status = trn_digest_logs(paths, n, &b->settings, &list, &d);
    if (faults)
        *faults = scratch_faults(&list);
    else
        cr_assert_eq(status, TRN_OK, "%s", scratch_faults(&list));
    trn_faults_free(&list);
    return d;
}

static trn_digest *digest_text(const bench *b, const char *text)
{
    scratch_write(b->folder, "log.csv", text);
    return digest_files(b, (const char *const[]){"log.csv"}, 1, NULL);
}

/* Every result of a digest as one text: part, duty, histogram, cycles, counts. */
static char *whole(const trn_digest *d)
{
    trn_buffer out = {0};
    trn_digest_part_csv(d, &out);
    cr_assert_eq(trn_digest_duty_csv(d, &out), TRN_OK);
    cr_assert_eq(trn_digest_histogram_csv(d, &out), TRN_OK);
    cr_assert_eq(trn_digest_rainflow_csv(d, &out), TRN_OK);
    trn_digest_quality_csv(d, &out);
    cr_assert(!out.failed && out.text);
    return out.text;
}

/* ---- random logs --------------------------------------------------------------------------- */

static unsigned next(unsigned *state, unsigned n)
{
    *state = *state * 1664525u + 1013904223u;
    return (*state >> 8) % n;
}

typedef struct row {
    double t, speed, torque, ambient; /* NaN: blank */
    int position;
} row;

/* Steps of 0.5 s with gaps, repeats, steps back; blanks, spikes, rests, overrun. */
static void random_rows(row *rows, size_t n, unsigned seed)
{
    unsigned state = seed;
    double t = 86400;
    double torque = 400;
    for (size_t i = 0; i < n; i++) {
        unsigned u = next(&state, 100);
        t += u < 90 ? 0.5 : u < 92 ? 0 : u < 94 ? -3.5 : u < 96 ? 10 : u < 98 ? 10.5 : 9000;
        torque += 0.5 * ((double)next(&state, 400) - 200) + 0.05 * (350 - torque);
        rows[i].t = t;
        rows[i].speed = next(&state, 12) == 0 ? 0 : 500 + 0.25 * next(&state, 400);
        rows[i].torque = next(&state, 40) == 0 ? 1600 : torque;
        rows[i].torque = floor(rows[i].torque * 16) / 16;
        rows[i].ambient = next(&state, 10) == 0 ? NAN : 0.5 * next(&state, 60);
        rows[i].position = next(&state, 3) == 0;
        if (next(&state, 30) == 0)
            rows[i].torque = NAN;
        if (next(&state, 50) == 0)
            rows[i].speed = next(&state, 2) ? 65535 : NAN;
    }
}

static const char *const header = "time [s],pto_speed [rpm],torque [N.m],ambient [degC],position\n";

static void number(trn_buffer *out, double x, const char *end)
{
    if (!isnan(x))
        trn_buffer_print(out, "%.4f", x);
    trn_buffer_add(out, end);
}

static char *log_of(const row *rows, size_t n)
{
    trn_buffer out = {0};
    trn_buffer_add(&out, header);
    for (size_t i = 0; i < n; i++) {
        number(&out, rows[i].t, ",");
        number(&out, rows[i].speed, ",");
        number(&out, rows[i].torque, ",");
        number(&out, rows[i].ambient, ",");
        trn_buffer_add(&out, rows[i].position ? "headland\n" : "level\n");
    }
    return out.text;
}

/* ---- the simple computation ---------------------------------------------------------------- */

typedef struct simple {
    double seconds, turns, energy, d3, d10, ambient, known;
} simple;

enum { SPEEDS = 20, TORQUES = 40, BELOW = 10 };
static simple plain[2][SPEEDS][TORQUES]; /* of work, by position */
static simple all[SPEEDS][TORQUES];

static void add(simple *c, const row *r, double dt)
{
    double turns = r->speed * dt / 60;
    c->seconds += dt;
    c->turns += turns;
    c->energy += turns * r->torque;
    c->d3 += turns * pow(fabs(r->torque), 3);
    c->d10 += turns * pow(fabs(r->torque), 10.0 / 3);
    if (!isnan(r->ambient)) {
        c->ambient += r->ambient * dt;
        c->known += dt;
    }
}

static void compute_plainly(const row *rows, size_t n)
{
    memset(plain, 0, sizeof plain);
    memset(all, 0, sizeof all);
    for (size_t i = 0; i + 1 < n; i++) {
        row r = rows[i];
        double dt = rows[i + 1].t - r.t;
        if (r.speed < 1 && isnan(r.torque))
            r.torque = 0;
        if (dt <= 0 || dt > 10 || isnan(r.speed) || r.speed > 2000 || isnan(r.torque))
            continue;
        int speed = (int)floor(r.speed / 50);
        int torque = (int)floor(r.torque / 100) + BELOW;
        add(&all[speed][torque], &r, dt);
        if (r.speed >= 1)
            add(&plain[r.position][speed][torque], &r, dt);
    }
}

static simple *cell_at(const trn_digest_cell *c)
{
    int speed = (int)(c->speed_from_rpm / 50);
    int torque = (int)floor(c->torque_from_nm / 100 + 0.5) + BELOW;
    if (c->place[0] == '\0')
        return &all[speed][torque];
    return &plain[strcmp(c->place, "headland") == 0][speed][torque];
}

static void expect_near(double got, double want, const char *what, const trn_digest_cell *c)
{
    cr_expect(test_near(got, want, 1e-9), "%s of %s %g rpm %g N.m: %.12g, wanted %.12g", what,
              c->place, c->speed_from_rpm, c->torque_from_nm, got, want);
}

static void compare(const trn_digest_cell *c)
{
    simple *s = cell_at(c);
    expect_near(c->seconds, s->seconds, "seconds", c);
    expect_near(c->revolutions, s->turns, "revolutions", c);
    expect_near(c->speed_rpm, 60 * s->turns / s->seconds, "speed", c);
    expect_near(c->power_kw, s->energy / s->seconds * 6.283185307179586 / 1000, "power", c);
    if (s->turns > 0) {
        double p3 = pow(s->d3 / s->turns, 1.0 / 3);
        double p10 = pow(s->d10 / s->turns, 0.3);
        double mean = s->energy / s->turns;
        expect_near(c->equivalent_p3_nm, p3, "p3", c);
        expect_near(c->equivalent_p10_3_nm, p10, "p10/3", c);
        expect_near(c->shock, mean > 0 ? fmax(1, p10 / mean) : 1, "shock", c);
    }
    if (s->known > 0)
        expect_near(c->ambient_c, s->ambient / s->known, "ambient", c);
    s->seconds = 0; /* seen */
}

/* derived: another program for the same definition, in doubles */
Test(digest, equals_a_simple_computation_on_random_logs)
{
    enum { ROWS = 3000 };
    static row rows[ROWS];
    for (unsigned seed = 1; seed <= 5; seed++) {
        bench b = begin();
        trn_digest_cell *cells[2] = {NULL};
        size_t n[2] = {0};
        random_rows(rows, ROWS, seed);
        compute_plainly(rows, ROWS);
        char *text = log_of(rows, ROWS);
        trn_digest *d = digest_text(&b, text);
        cr_assert_eq(trn_digest_duty(d, &cells[0], &n[0]), TRN_OK);
        cr_assert_eq(trn_digest_histogram(d, &cells[1], &n[1]), TRN_OK);
        cr_expect_gt(n[0], 20);
        for (size_t k = 0; k < 2; k++)
            for (size_t i = 0; i < n[k]; i++)
                compare(&cells[k][i]);
        double left = 0;
        for (size_t s = 0; s < SPEEDS; s++)
            for (size_t t = 0; t < TORQUES; t++)
                left += all[s][t].seconds + plain[0][s][t].seconds + plain[1][s][t].seconds;
        cr_expect_eq(left, 0, "%g s are in no row", left);
        free(cells[0]);
        free(cells[1]);
        free(text);
        trn_digest_free(d);
        scratch_remove(b.folder);
    }
}

/* ---- parts --------------------------------------------------------------------------------- */

static trn_digest *through_file(const bench *b, trn_digest *d)
{
    trn_buffer text = {0};
    trn_faults faults = {0};
    trn_digest *back = NULL;
    char path[SCRATCH_PATH + 64];
    trn_digest_part_csv(d, &text);
    scratch_write(b->folder, "part.csv", text.text);
    (void)snprintf(path, sizeof path, "%s", b->folder);
    cr_assert_eq(trn_digest_part_read(path, &faults, &back), TRN_OK, "%s",
                 scratch_faults(&faults));
    trn_buffer_free(&text);
    trn_digest_free(d);
    return back;
}

static trn_digest *digest_rows(const bench *b, const row *rows, size_t n)
{
    char *text = log_of(rows, n);
    trn_digest *d = digest_text(b, text);
    free(text);
    return d;
}

static void merge(trn_digest *d, trn_digest *next_part)
{
    trn_faults faults = {0};
    cr_assert_eq(trn_digest_merge(d, next_part, "part", &faults), TRN_OK);
    trn_digest_free(next_part);
}

/* derived: whole numbers add up the same in any order; cut at every row, parts through files */
Test(digest, the_whole_equals_the_merge_of_its_parts_wherever_it_is_cut)
{
    enum { ROWS = 160 };
    static row rows[ROWS];
    bench b = begin();
    b.settings.rainflow = true;
    random_rows(rows, ROWS, 11);
    trn_digest *d = digest_rows(&b, rows, ROWS);
    char *want = whole(d);
    for (size_t cut = 0; cut <= ROWS; cut++) {
        trn_digest *first = through_file(&b, digest_rows(&b, rows, cut));
        merge(first, through_file(&b, digest_rows(&b, rows + cut, ROWS - cut)));
        char *got = whole(first);
        cr_expect_str_eq(got, want, "cut at %zu", cut);
        free(got);
        trn_digest_free(first);
    }
    /* three parts, joined from either side */
    for (size_t cut = 1; cut < ROWS - 20; cut += 7) {
        trn_digest *a = digest_rows(&b, rows, cut);
        trn_digest *c = digest_rows(&b, rows + cut, 13);
        trn_digest *e = digest_rows(&b, rows + cut + 13, ROWS - cut - 13);
        merge(c, e);
        merge(a, c);
        char *got = whole(a);
        cr_expect_str_eq(got, want, "cut at %zu and %zu", cut, cut + 13);
        free(got);
        trn_digest_free(a);
    }
    free(want);
    trn_digest_free(d);
    scratch_remove(b.folder);
}

Test(digest, threads_blocks_files_and_the_parser_alone_change_nothing)
{
    enum { ROWS = 2000 };
    static row rows[ROWS];
    bench b = begin();
    b.settings.rainflow = true;
    random_rows(rows, ROWS, 5);
    trn_digest *d = digest_rows(&b, rows, ROWS);
    char *want = whole(d);
    trn_digest_free(d);
    for (unsigned jobs = 1; jobs <= 4; jobs++)
        for (size_t block = 50; block <= 5000; block *= 10)
            for (int parser = 0; parser < 2; parser++) {
                b.settings.jobs = jobs;
                b.settings.block = block;
                b.settings.parser_only = parser != 0;
                d = digest_rows(&b, rows, ROWS);
                char *got = whole(d);
                cr_expect_str_eq(got, want, "%u threads, blocks of %zu, parser %d", jobs, block,
                                 parser);
                free(got);
                trn_digest_free(d);
            }
    char *parts[2] = {log_of(rows, 777), log_of(rows + 777, ROWS - 777)};
    scratch_write(b.folder, "a.csv", parts[0]);
    scratch_write(b.folder, "b.csv", parts[1]);
    d = digest_files(&b, (const char *const[]){"a.csv", "b.csv"}, 2, NULL);
    char *got = whole(d);
    cr_expect_str_eq(got, want);
    free(got);
    free(parts[0]);
    free(parts[1]);
    free(want);
    trn_digest_free(d);
    scratch_remove(b.folder);
}

Test(digest, parts_that_do_not_belong_together_are_refused)
{
    bench b = begin();
    trn_faults faults = {0};
    trn_digest *a = digest_text(&b, "time,pto_speed [rpm],torque [N.m]\n1,540,300\n2,540,300\n");
    trn_digest *c = digest_text(&b, "time,pto_speed [rpm],torque [N.m]\n"
                                    "2026-05-01T06:30:00,540,300\n");
    cr_expect_eq(trn_digest_merge(a, c, "c", &faults), TRN_E_INPUT);
    b.settings.torque_step_nm = 50;
    trn_digest *e = digest_text(&b, "time,pto_speed [rpm],torque [N.m]\n3,540,300\n");
    cr_expect_eq(trn_digest_merge(a, e, "e", &faults), TRN_E_INPUT);
    char *said = scratch_faults(&faults);
    cr_expect_not_null(strstr(said, "stamps are of another kind"), "%s", said);
    cr_expect_not_null(strstr(said, "another --torque-step"), "%s", said);
    free(said);
    trn_faults_free(&faults);
    trn_digest_free(a);
    trn_digest_free(c);
    trn_digest_free(e);
    scratch_remove(b.folder);
}

Test(digest, a_damaged_part_is_refused_line_by_line)
{
    enum { ROWS = 60 };
    static row rows[ROWS];
    bench b = begin();
    b.settings.rainflow = true;
    random_rows(rows, ROWS, 3);
    trn_digest *d = digest_rows(&b, rows, ROWS);
    trn_buffer text = {0};
    trn_digest_part_csv(d, &text);
    trn_digest_free(d);
    size_t refused = 0;
    /* a letter in the first figure of each line */
    for (char *line = text.text; line && *line; line = strchr(line, '\n') ? strchr(line, '\n') + 1
                                                                          : NULL) {
        char *end = strchr(line, '\n');
        char *figure = strpbrk(line, "0123456789");
        if (!figure || (end && figure > end) || strncmp(line, "item", 4) == 0)
            continue;
        char before = *figure;
        trn_faults faults = {0};
        trn_digest *back = NULL;
        *figure = 'x';
        scratch_write(b.folder, "part.csv", text.text);
        *figure = before;
        cr_expect_eq(trn_digest_part_read(b.folder, &faults, &back), TRN_E_INPUT, "%.60s", line);
        cr_expect_null(back);
        refused++;
        trn_faults_free(&faults);
    }
    cr_expect_gt(refused, 30);
    trn_buffer_free(&text);
    scratch_remove(b.folder);
}

/* ---- what is counted ----------------------------------------------------------------------- */

static void expect(const trn_digest *d, trn_digest_event event, size_t count, double seconds)
{
    cr_expect_eq(trn_digest_count(d, event), count, "%s: %zu, wanted %zu",
                 trn_digest_event_word(event), trn_digest_count(d, event), count);
    cr_expect(test_near(trn_digest_seconds(d, event), seconds, 1e-12), "%s: %g s, wanted %g s",
              trn_digest_event_word(event), trn_digest_seconds(d, event), seconds);
}

/* derived by hand from the semantics: a value holds until the next stamp, a step above 10 s is
 * unknown, the last stamp counts nothing */
Test(digest, everything_beside_work_is_counted_with_its_time)
{
    bench b = begin();
    trn_digest *d = digest_text(&b, "time,pto_speed [rpm],torque [N.m]\n"
                                    "0,0,0\n"        /* 2 s at rest */
                                    "2,0,\n"         /* 1 s at rest: no torque is none */
                                    "3,540,300\n"    /* 10 s of work */
                                    "13,540,300\n"   /* 10.5 s unknown */
                                    "23.5,540,1200\n" /* 1 s of work, then a trip */
                                    "24.5,540,200\n" /* nothing: repeated */
                                    "24.5,540,-40\n" /* 1 s of overrun */
                                    "25.5,540,\n"    /* 1 s blank */
                                    "26.5,,300\n"    /* 2 s blank */
                                    "28.5,9999,300\n" /* 1 s spike */
                                    "29.5,540,-30000\n" /* 1 s spike */
                                    "30.5,540,100\n" /* nothing: the clock steps back */
                                    "20.5,540,700\n" /* 1 s of work, a shock before it? no: broken */
                                    "21.5,0,0\n"     /* 1 s at rest */
                                    "22.5,540,600\n"); /* a start with a shock, no time */
    expect(d, TRN_EVENT_ROW, 15, 0);
    expect(d, TRN_EVENT_WORK, 8, 13);
    expect(d, TRN_EVENT_STANDING, 3, 4);
    expect(d, TRN_EVENT_NEGATIVE, 1, 1);
    expect(d, TRN_EVENT_GAP, 1, 10.5);
    expect(d, TRN_EVENT_BACK, 1, 0);
    expect(d, TRN_EVENT_REPEATED, 1, 0);
    expect(d, TRN_EVENT_BLANK, 2, 3);
    expect(d, TRN_EVENT_SPIKE, 2, 2);
    expect(d, TRN_EVENT_ENGAGED, 2, 0);
    expect(d, TRN_EVENT_TRIP, 1, 0);
    expect(d, TRN_EVENT_SHOCK, 1, 0);
    expect(d, TRN_EVENT_WARM_UP, 1, 0);
    trn_digest_free(d);
    scratch_remove(b.folder);
}

/* common practice, no source: edges lower in, upper out */
Test(digest, a_value_on_an_edge_belongs_to_the_cell_above_it)
{
    bench b = begin();
    trn_digest_cell *cells = NULL;
    size_t n = 0;
    trn_digest *d = digest_text(&b, "time,pto_speed [rpm],torque [N.m]\n0,550,300\n1,549.999,"
                                    "299.999\n2,550,-0.001\n3,550,-100\n4,550,0\n5,550,0\n");
    cr_assert_eq(trn_digest_histogram(d, &cells, &n), TRN_OK);
    static const double want[][2] = {{500, 200}, {550, -100}, {550, 0}, {550, 300}};
    cr_assert_eq(n, 4);
    for (size_t i = 0; i < n; i++)
        cr_expect(cells[i].speed_from_rpm == want[i][0] && cells[i].torque_from_nm == want[i][1] &&
                      cells[i].speed_to_rpm == want[i][0] + 50 &&
                      cells[i].torque_to_nm == want[i][1] + 100,
                  "%zu: %g rpm, %g N.m", i, cells[i].speed_from_rpm, cells[i].torque_from_nm);
    cr_expect_eq(cells[1].seconds, 2);
    free(cells);
    trn_digest_free(d);
    scratch_remove(b.folder);
}

/* derived: steps such as 0.1 have no exact double; each edge k x 0.1 belongs to class k */
Test(digest, classes_hold_their_own_lower_edge_whatever_the_step)
{
    static const double steps[] = {0.1, 0.3, 1, 7.7, 50, 100, 0.7};
    for (size_t s = 0; s < sizeof steps / sizeof steps[0]; s++)
        for (int k = -1000; k <= 1000; k++) {
            double edge = k * steps[s];
            cr_expect_eq(digest_class_of(edge, steps[s]), k);
            cr_expect_eq(digest_class_of(nextafter(edge, -INFINITY), steps[s]), k - 1);
        }
}

/* derived: cbrt of the C library */
Test(digest, the_cube_root_is_good_to_a_few_last_digits)
{
    for (double u = 1e-12; u < 1e4; u *= 1.00713)
        cr_expect(fabs(digest_cube_root(u) / cbrt(u) - 1) < 8e-16, "%.17g", u);
    cr_expect_eq(digest_cube_root(0), 0);
    cr_expect(fabs(digest_cube_root(8) - 2) < 1e-15);
}

/* ---- closed forms -------------------------------------------------------------------------- */

static trn_digest *steady(const bench *b, const char *torque, const char *value, size_t seconds)
{
    trn_buffer text = {0};
    trn_buffer_print(&text, "time,pto_speed [rpm],%s\n", torque);
    for (size_t i = 0; i <= seconds; i++)
        trn_buffer_print(&text, "2026-05-01T%02zu:%02zu:%02zu,540,%s\n", 6 + i / 3600,
                         i / 60 % 60, i % 60, value);
    trn_digest *d = digest_text(b, text.text);
    trn_buffer_free(&text);
    return d;
}

/* derived: an hour at 540 rpm and 350 N.m is 32 400 revolutions and 19.792034 kW */
Test(digest, an_hour_of_constant_torque_meets_the_closed_form)
{
    static const char *const as[][2] = {
        {"torque [N.m]", "350"}, {"torque [kN.m]", "0.35"}, {"power [kW]", "19.79203371761569740"}};
    for (size_t i = 0; i < 3; i++) {
        bench b = begin();
        trn_digest_cell *cells = NULL;
        size_t n = 0;
        trn_digest *d = steady(&b, as[i][0], as[i][1], 3600);
        cr_assert_eq(trn_digest_duty(d, &cells, &n), TRN_OK);
        cr_assert_eq(n, 1);
        expect_near(cells->seconds, 3600, "seconds", cells);
        expect_near(cells->revolutions, 32400, "revolutions", cells);
        expect_near(cells->power_kw, 350 * 2 * 3.14159265358979323846 * 9 / 1000, "power", cells);
        expect_near(cells->equivalent_p3_nm, 350, "p3", cells);
        expect_near(cells->equivalent_p10_3_nm, 350, "p10/3", cells);
        expect_near(cells->shock, 1, "shock", cells);
        cr_expect(test_near(trn_digest_starts(d), 100, 1e-12));
        free(cells);
        trn_digest_free(d);
        scratch_remove(b.folder);
    }
}

/* derived: half the revolutions at T, half at 0 */
Test(digest, equivalent_torque_and_shock_of_two_levels_meet_the_closed_form)
{
    bench b = begin();
    trn_buffer text = {0};
    trn_digest_cell *cells = NULL;
    size_t n = 0;
    b.settings.torque_step_nm = 1000;
    trn_buffer_add(&text, "time,pto_speed [rpm],torque [N.m]\n");
    for (size_t i = 0; i <= 1000; i++)
        trn_buffer_print(&text, "%zu,540,%s\n", i, i % 2 ? "0" : "800");
    trn_digest *d = digest_text(&b, text.text);
    trn_buffer_free(&text);
    cr_assert_eq(trn_digest_duty(d, &cells, &n), TRN_OK);
    cr_assert_eq(n, 1);
    expect_near(cells->torque_nm, 400, "mean", cells);
    expect_near(cells->equivalent_p3_nm, 800 * pow(0.5, 1.0 / 3), "p3", cells);
    expect_near(cells->equivalent_p10_3_nm, 800 * pow(0.5, 0.3), "p10/3", cells);
    expect_near(cells->shock, 2 * pow(0.5, 0.3), "shock", cells);
    free(cells);
    trn_digest_free(d);
    scratch_remove(b.folder);
}

/* ---- clocks -------------------------------------------------------------------------------- */

/* derived: in Central Europe the clock goes from 03:00 back to 02:00 on 2026-10-25, from 02:00 to
 * 03:00 on 2026-03-29 */
Test(digest, daylight_saving_is_a_step_back_or_a_gap_without_offset_and_nothing_with_one)
{
    bench b = begin();
    const char *head = "time,pto_speed [rpm],torque [N.m]\n";
    char text[1000];
    (void)snprintf(text, sizeof text, "%s2026-10-25T02:59:58,540,300\n2026-10-25T02:59:59,540,300\n"
                   "2026-10-25T02:00:00,540,300\n2026-10-25T02:00:01,540,300\n", head);
    trn_digest *d = digest_text(&b, text);
    expect(d, TRN_EVENT_BACK, 1, 0);
    expect(d, TRN_EVENT_GAP, 0, 0);
    expect(d, TRN_EVENT_WORK, 4, 2);
    trn_digest_free(d);
    (void)snprintf(text, sizeof text, "%s2026-03-29T01:59:58,540,300\n2026-03-29T01:59:59,540,300\n"
                   "2026-03-29T03:00:00,540,300\n2026-03-29T03:00:01,540,300\n", head);
    d = digest_text(&b, text);
    expect(d, TRN_EVENT_BACK, 0, 0);
    expect(d, TRN_EVENT_GAP, 1, 3601);
    expect(d, TRN_EVENT_WORK, 4, 2);
    trn_digest_free(d);
    (void)snprintf(text, sizeof text,
                   "%s2026-10-25T02:59:58+02:00,540,300\n2026-10-25T02:59:59+02:00,540,300\n"
                   "2026-10-25T02:00:00+01:00,540,300\n2026-10-25T02:00:01+01:00,540,300\n", head);
    d = digest_text(&b, text);
    expect(d, TRN_EVENT_BACK, 0, 0);
    expect(d, TRN_EVENT_GAP, 0, 0);
    expect(d, TRN_EVENT_WORK, 4, 3);
    trn_digest_free(d);
    scratch_remove(b.folder);
}

/* derived: calendar */
Test(digest, the_end_of_a_year_and_of_a_february_is_a_step_like_any_other)
{
    bench b = begin();
    trn_digest *d = digest_text(
        &b, "time,pto_speed [rpm],torque [N.m]\n2027-12-31T23:59:58,540,300\n"
            "2027-12-31T23:59:59,540,300\n2028-01-01T00:00:00,540,300\n2028-02-28T23:59:59,540,300\n"
            "2028-02-29T00:00:00,540,300\n2028-02-29T23:59:59,540,300\n2028-03-01T00:00:00,540,300\n");
    expect(d, TRN_EVENT_WORK, 7, 4);
    expect(d, TRN_EVENT_GAP, 2, 58.0 * 86400 + 86399 + 86399);
    trn_digest_free(d);
    scratch_remove(b.folder);
}

/* derived: two hours of work round three hours without a torque */
Test(digest, a_torque_channel_that_is_blank_for_hours_gives_no_work)
{
    bench b = begin();
    trn_buffer text = {0};
    trn_digest_cell *cells = NULL;
    size_t n = 0;
    trn_buffer_add(&text, "time,pto_speed [rpm],torque [N.m]\n");
    for (size_t i = 0; i <= 5 * 3600; i++)
        trn_buffer_print(&text, "%zu,540,%s\n", i, i / 3600 >= 1 && i / 3600 < 4 ? "" : "350");
    trn_digest *d = digest_text(&b, text.text);
    trn_buffer_free(&text);
    expect(d, TRN_EVENT_BLANK, 3 * 3600, 3 * 3600);
    cr_assert_eq(trn_digest_duty(d, &cells, &n), TRN_OK);
    cr_assert_eq(n, 1);
    expect_near(cells->seconds, 7200, "seconds", cells);
    expect_near(cells->equivalent_p10_3_nm, 350, "p10/3", cells);
    free(cells);
    trn_digest_free(d);
    scratch_remove(b.folder);
}

/* derived: rests of 1:59:59 and 2:00:01 between spells of work */
Test(digest, a_start_after_a_long_rest_is_a_warm_up)
{
    bench b = begin();
    trn_digest *d = digest_text(&b, "time,pto_speed [rpm],torque [N.m]\n0,540,300\n1,540,300\n"
                                    "7199,540,300\n7200,540,300\n14401,540,300\n14402,0,0\n");
    expect(d, TRN_EVENT_WARM_UP, 2, 0);
    trn_digest_free(d);
    scratch_remove(b.folder);
}

/* ---- cycles -------------------------------------------------------------------------------- */

enum { RANGES = 20 };

static void put(void *context, double from, double to, double count)
{
    double *halves = context;
    halves[(int)fabs(from - to)] += 2 * count;
}

/* published: the example of ASTM E1049; derived: the three-point rule of the library on random
 * histories with many ties (of equal ranges the two rules may pair other points, so the means of
 * such cycles may differ) */
Test(digest, cycles_are_those_of_the_three_point_rule)
{
    static const double example[] = {-2, 1, -3, 5, -1, 3, -4, 4, -2};
    double load[64];
    double work[65];
    unsigned state = 99;
    for (unsigned round = 0; round < 400; round++) {
        size_t n = round == 0 ? 9 : 2 + next(&state, 62);
        for (size_t i = 0; i < n; i++)
            load[i] = round == 0 ? example[i] : (double)next(&state, 9) - 4;
        double want[RANGES] = {0};
        digest_sums got = {.cells = NULL};
        digest_flow flow = {.split = false};
        if (trn_rainflow_count(load, n, false, work, put, want) == TRN_OK) {
            for (size_t i = 0; i < n; i++)
                digest_flow_add(&flow, load[i], 1, &got);
            digest_flow_rest(&flow, 1, &got);
        }
        for (size_t i = 0; i < got.cycle_slots; i++)
            want[got.cycles[i].range] -= (double)got.cycles[i].halves;
        for (size_t i = 0; i < RANGES; i++)
            cr_expect_eq(want[i], 0, "round %u: %g half cycles of range %zu", round, want[i], i);
        digest_flow_free(&flow);
        digest_sums_free(&got);
    }
}

/* ---- into a case --------------------------------------------------------------------------- */

/* The duty of a log takes the place of the case's, as it is, and the case is evaluated. */
Test(digest, the_duty_of_a_log_enters_a_case_as_it_is)
{
    enum { ROWS = 3000 };
    static row rows[ROWS];
    bench b = begin();
    char folder[SCRATCH_PATH];
    trn_buffer duty = {0};
    random_rows(rows, ROWS, 21);
    char *text = log_of(rows, ROWS);
    trn_digest *d = digest_text(&b, text);
    cr_assert_eq(trn_digest_duty_csv(d, &duty), TRN_OK);
    scratch_make(folder);
    scratch_copy(folder, "../sample-data/winged");
    scratch_write(folder, "duty.csv", duty.text);
    char readings[SCRATCH_PATH + 16]; /* they belong to the conditions of the old duty */
    (void)snprintf(readings, sizeof readings, "%s/readings.csv", folder);
    (void)remove(readings);
    trn_machine *machine = scratch_case(folder);
    cr_assert_not_null(machine);
    double hours = 0;
    for (size_t i = 0; i < machine->duty_count; i++) {
        hours += machine->duty[i].hours;
        cr_expect_geq(machine->duty[i].shock, 1);
    }
    cr_expect(test_near(hours, trn_digest_seconds(d, TRN_EVENT_WORK) / 3600, 1e-9));
    trn_results *results = trn_results_new(machine);
    cr_expect_eq(trn_study_evaluate(machine, TRN_WANT_ALL, results, NULL), TRN_OK);
    trn_results_free(results);
    trn_machine_free(machine);
    trn_buffer_free(&duty);
    free(text);
    trn_digest_free(d);
    scratch_remove(folder);
    scratch_remove(b.folder);
}

/* ---- faults -------------------------------------------------------------------------------- */

Test(digest, a_faulty_cell_ends_it_unless_it_may_pass)
{
    bench b = begin();
    char *said = NULL;
    scratch_write(b.folder, "log.csv", "time,pto_speed [rpm],torque [N.m]\n0,540,300\n1,540,3OO\n"
                                       "2,x,300\nlater,540,300\n4,540,300\n");
    const char *const names[] = {"log.csv"};
    cr_expect_null(digest_files(&b, names, 1, &said));
    cr_expect_not_null(strstr(said, "log.csv:3: column torque [N.m]: `3OO` is no number"), "%s",
                       said);
    cr_expect_not_null(strstr(said, "log.csv:5: column time: `later` is no time"), "%s", said);
    free(said);
    b.settings.skip_bad = 2;
    cr_expect_null(digest_files(&b, names, 1, &said));
    cr_expect_not_null(strstr(said, "3 faulty cells so far, more than the 2 let pass"), "%s", said);
    free(said);
    b.settings.skip_bad = 3;
    trn_digest *d = digest_files(&b, names, 1, &said);
    cr_assert_not_null(d);
    cr_expect_str_empty(said);
    expect(d, TRN_EVENT_BAD, 3, 0);
    expect(d, TRN_EVENT_LOST, 1, 0);
    expect(d, TRN_EVENT_BLANK, 2, 3); /* 1 s from 1 to 2, 2 s from 2 to 4 */
    expect(d, TRN_EVENT_WORK, 2, 1);
    cr_expect_eq(trn_digest_skipped(d)->count, 3);
    trn_digest_free(d);
    free(said);
    scratch_remove(b.folder);
}

Test(digest, files_with_other_kinds_of_stamps_make_no_record)
{
    bench b = begin();
    char *said = NULL;
    scratch_write(b.folder, "a.csv", "time,pto_speed [rpm],torque [N.m]\n"
                                     "2026-05-01T06:30:00,540,300\n");
    scratch_write(b.folder, "b.csv", "time,pto_speed [rpm],torque [N.m]\n"
                                     "2026-05-01T06:30:01Z,540,300\n");
    cr_expect_null(digest_files(&b, (const char *const[]){"a.csv", "b.csv"}, 2, &said));
    cr_expect_not_null(strstr(said, "stamps of another kind"), "%s", said);
    free(said);
    scratch_remove(b.folder);
}
