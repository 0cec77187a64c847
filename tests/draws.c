/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The uncertainty study: streams, the block form against the plain one, quantiles of the worked
 * points (derived, docs/interval.md), what must hold whatever the numbers. */
#include <criterion/criterion.h>
#include <gsl/gsl_statistics_double.h>
#include <gsl/gsl_sort.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/draws.h>

#include "worked.h"

static const double tight = 1e-10; /* two orders of the same operations */

/* ---- streams ------------------------------------------------------------------------------ */

/* from memory: known answers of the published generator */
Test(draws, philox_known_answers)
{
    static const struct {
        uint32_t counter[4], key[2], want[4];
    } rows[] = {
        {{0, 0, 0, 0}, {0, 0}, {0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8}},
        {{0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff},
         {0xffffffff, 0xffffffff},
         {0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd}},
        {{0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344},
         {0xa4093822, 0x299f31d0},
         {0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1}},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        uint32_t got[4];
        trn_philox(rows[i].counter, rows[i].key, got);
        for (size_t k = 0; k < 4; k++)
            cr_expect_eq(got[k], rows[i].want[k], "row %zu word %zu: wanted %08x, got %08x", i, k,
                         rows[i].want[k], got[k]);
    }
}

/* derived: moments of the standard normal, to four standard errors */
Test(draws, stream_is_normal_and_independent)
{
    enum { N = 40000 };
    static double a[N], b[N], c[N];
    for (size_t k = 0; k < N; k++) {
        a[k] = trn_stream_normal(2385, k, 3);
        b[k] = trn_stream_normal(2385, k, 4);
        c[k] = trn_stream_normal(2386, k, 3);
    }
    double error = 1 / sqrt(N);
    cr_expect(fabs(gsl_stats_mean(a, 1, N)) < 4 * error);
    cr_expect(fabs(gsl_stats_variance(a, 1, N) - 1) < 4 * sqrt(2) * error);
    cr_expect(fabs(gsl_stats_correlation(a, 1, b, 1, N)) < 4 * error);
    cr_expect(fabs(gsl_stats_correlation(a, 1, c, 1, N)) < 4 * error);
    cr_expect(fabs(gsl_stats_correlation(a, 1, a + 1, 1, N - 1)) < 4 * error);
    cr_expect(fabs(gsl_stats_kurtosis(a, 1, N)) < 4 * sqrt(24) * error);
}

static trn_normals normals_of(size_t draws, uint64_t seed, bool plain, size_t dimensions)
{
    trn_draw_plan plan = {.draws = draws, .seed = seed, .plain = plain};
    trn_normals z;
    cr_assert_eq(trn_normals_make(&plan, dimensions, &z), TRN_OK);
    return z;
}

/* derived: a shifted Sobol sequence is even in each dimension, far more than a stream */
Test(draws, sobol_points_are_even_and_shifts_differ)
{
    trn_normals z = normals_of(8192, 1, false, TRN_DRAWS + 35);
    trn_normals other = normals_of(8192, 2, false, TRN_DRAWS);
    for (size_t d = 0; d < z.dimensions; d++) {
        const double *row = &z.z[d * z.room];
        double mean = gsl_stats_mean(row, 1, z.draws);
        double limit = d < 40 ? 0.004 : 4 / sqrt(8192);
        cr_expect(fabs(mean) < limit, "dimension %zu: mean %g", d, mean);
        double part[2] = {gsl_stats_mean(row, TRN_DRAW_SHIFTS, 1024),
                          gsl_stats_mean(row + 1, TRN_DRAW_SHIFTS, 1024)};
        cr_expect_neq(part[0], part[1]);
    }
    cr_expect_neq(z.z[17], other.z[17]);
    trn_normals again = normals_of(8192, 1, false, TRN_DRAWS);
    cr_expect_eq(memcmp(again.z, z.z, again.room * again.dimensions * sizeof *z.z), 0,
                 "more dimensions move the first ones");
    trn_normals_free(&z);
    trn_normals_free(&other);
    trn_normals_free(&again);
}

Test(draws, refuses_no_draws_and_too_many)
{
    trn_normals z = {.draws = 77};
    trn_draw_plan plan = {.draws = 0};
    cr_expect_eq(trn_normals_make(&plan, 3, &z), TRN_E_DOMAIN);
    plan.draws = TRN_DRAWS_MOST + 1;
    cr_expect_eq(trn_normals_make(&plan, 3, &z), TRN_E_DOMAIN);
    cr_expect_eq(z.draws, 77);
}

/* derived: element ceil(p N) of the sorted draws */
Test(draws, quantile_is_the_element_that_the_page_says)
{
    double v[1000], sorted[1000], work[1000];
    for (size_t k = 0; k < 1000; k++)
        v[k] = trn_stream_normal(9, k, 0);
    v[3] = INFINITY;
    memcpy(sorted, v, sizeof v);
    gsl_sort(sorted, 1, 1000);
    static const double p[] = {0.001, 0.07, 0.1, 0.25, 0.5, 0.9, 0.999, 1};
    static const size_t element[] = {1, 70, 100, 250, 500, 900, 999, 1000};
    for (size_t i = 0; i < 8; i++) {
        memcpy(work, v, sizeof v);
        cr_expect_eq(trn_draw_quantile(work, 1000, p[i]), sorted[element[i] - 1], "p %g", p[i]);
    }
    double error = trn_draw_error(v, 1000, 0.5, work);
    cr_expect(error > 0.01 && error < 0.12, "%g", error); /* sqrt(pi/2)/sqrt(1000) = 0.04 */
}

/* ---- the block form ------------------------------------------------------------------------- */

static void compare(const char *what, double got, double want, size_t draw)
{
    bool same = (isnan(got) && isnan(want)) || got == want ||
                fabs(got - want) <= tight * fabs(want);
    cr_expect(same, "%s, draw %zu: wanted %.15g, got %.15g", what, draw, want, got);
}

typedef struct lives {
    double *of[TRN_LIMITS];
} lives;

static lives lives_new(size_t room)
{
    lives l = {{NULL}};
    for (size_t c = 0; c <= TRN_CAUSE_WEAR; c++)
        l.of[c] = calloc(room, sizeof(double));
    return l;
}

static void lives_free(lives *l)
{
    for (size_t c = 0; c <= TRN_CAUSE_WEAR; c++)
        free(l->of[c]);
}

static void draw_at(const trn_normals *z, size_t draw, trn_draw_id frozen, double *out)
{
    for (size_t d = 0; d < TRN_DRAWS; d++)
        out[d] = d == (size_t)frozen ? 0 : z->z[d * z->room + draw];
}

static void block_against_plain(const trn_service_point *p, const trn_duty_state *s, size_t n,
                                const trn_interval_settings *settings)
{
    trn_normals z = normals_of(1500, 5, false, TRN_DRAWS);
    static const double levels[] = {45, 3};
    trn_blocks *b = trn_blocks_new(settings, &z, levels, 2);
    lives l = lives_new(z.room);
    double *life = calloc(z.room, sizeof *life);
    bool oil = p->task == TRN_TASK_CHANGE_OIL;
    unsigned acts = trn_grease_factors_of(p->task);
    for (size_t f = 0; f <= TRN_DRAWS; f++) {
        trn_draw_id frozen = (trn_draw_id)f;
        double one[TRN_DRAWS];
        if (oil)
            trn_blocks_oil(b, p, s, n, frozen, l.of);
        for (size_t k = 0; oil && k < z.draws; k += f < TRN_DRAWS ? 41 : 1) {
            trn_lives plain;
            draw_at(&z, k, frozen, one);
            trn_oil_lives(p, s, n, settings, one, &plain);
            for (size_t c = 0; c <= TRN_CAUSE_WEAR; c++)
                compare(trn_cause_word((trn_cause)c), l.of[c][k], plain.of[c], k);
        }
        for (unsigned bit = 0; !oil && bit < TRN_LIMITS; bit++) {
            unsigned at = bit == 0 ? 0 : acts & TRN_BIT(bit);
            trn_blocks_grease(b, p, s, n, frozen, at, life);
            for (size_t k = 0; k < z.draws; k += f < TRN_DRAWS ? 41 : 1) {
                draw_at(&z, k, frozen, one);
                compare("grease", life[k], trn_greasing_life(p, s, n, settings, one, at), k);
            }
        }
    }
    free(life);
    lives_free(&l);
    trn_blocks_free(b);
    trn_normals_free(&z);
}

/* derived: the same equations, written for one draw (src/study/mechanism*.c) */
Test(draws, block_equals_plain_oil)
{
    trn_interval_settings settings;
    trn_service_point p;
    trn_duty_state s[3];
    trn_interval_settings_default(&settings);
    worked_oil(&p, s);
    block_against_plain(&p, s, 2, &settings);
    s[1].oil_measured = false; /* cool, washed and breathing: water counts */
    s[1].oil_c = 48.3;
    s[1].washes_per_100h = 21.7;
    s[0].oil_c = 63.1;
    s[2] = s[0];
    s[2].share = 0.25;
    s[0].share = 0.35;
    s[2].dust_mg_m3 = NAN;
    s[2].load_ratio = 0;
    block_against_plain(&p, s, 3, &settings);
    p.intake_l_h = 9;
    p.intake_from_silicon = true;
    p.water_source_mg_h = 17.3;
    p.water_budget_ppm = 371;
    s[2].dust_mg_m3 = 0;
    p.element_count = 2;
    p.elements[0] = (trn_wear_element){"Fe", 0.31, 300, 2.1};
    p.elements[1] = (trn_wear_element){"Cu", 0.11, 275, NAN};
    trn_ageing_anchor(&p, TRN_AGEING_SYNTHETIC, NAN, NAN);
    block_against_plain(&p, s, 3, &settings);
    s[0].oil_c = NAN;
    p.intake_from_silicon = false;
    block_against_plain(&p, s, 3, &settings);
}

Test(draws, block_equals_plain_grease)
{
    trn_interval_settings settings;
    trn_service_point p;
    trn_duty_state s[2];
    trn_interval_settings_default(&settings);
    worked_joint(&p, s);
    for (int task = TRN_TASK_GREASE_JOINT; task <= TRN_TASK_GREASE_PIVOT; task++) {
        p.task = (trn_task)task;
        block_against_plain(&p, s, 2, &settings);
    }
    p.task = TRN_TASK_GREASE_BEARING;
    p.at_oil_temperature = true;
    s[0].oil_c = 93.7;
    s[1].dust_mg_m3 = NAN;
    s[0].dust_mg_m3 = 161;
    block_against_plain(&p, s, 2, &settings);
}

Test(draws, block_equals_plain_with_own_spreads)
{
    static const trn_spread kinds[] = {{TRN_SPREAD_NONE, 0},
                                       {TRN_SPREAD_LOGNORMAL, 1.41},
                                       {TRN_SPREAD_NORMAL, 0.37},
                                       {TRN_SPREAD_UNIFORM, 0.53}};
    for (size_t i = 0; i < 4; i++) {
        trn_interval_settings settings;
        trn_service_point p;
        trn_duty_state s[2];
        trn_interval_settings_default(&settings);
        for (int id = 0; id < TRN_DRAWS; id++)
            trn_interval_settings_spread(&settings, (trn_draw_id)id, kinds[i]);
        worked_oil(&p, s);
        s[1].oil_c = 55;
        block_against_plain(&p, s, 2, &settings);
        worked_joint(&p, s);
        block_against_plain(&p, s, 2, &settings);
    }
}

/* ---- worked points -------------------------------------------------------------------------- */

typedef struct drawn {
    double *t;
    size_t n;
} drawn;

/* T_k of the worked points by blocks; smallest: share of `cause` in the draws at or below q. */
static double *draws_of(const trn_normals *z, const trn_service_point *p, const trn_duty_state *s,
                        unsigned use, unsigned char *cause)
{
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    trn_blocks *b = trn_blocks_new(&settings, z, NULL, 0);
    double *t = calloc(z->room, sizeof *t);
    if (p->task != TRN_TASK_CHANGE_OIL) {
        trn_blocks_grease(b, p, s, 2, TRN_DRAWS, 0, t);
    } else {
        lives l = lives_new(z->room);
        trn_blocks_oil(b, p, s, 2, TRN_DRAWS, l.of);
        for (size_t k = 0; k < z->draws; k++) {
            t[k] = INFINITY;
            for (size_t c = 0; c <= TRN_CAUSE_WEAR; c++)
                if ((use & TRN_BIT(c)) && l.of[c][k] < t[k]) {
                    t[k] = l.of[c][k];
                    if (cause)
                        cause[k] = (unsigned char)c;
                }
        }
        lives_free(&l);
    }
    trn_blocks_free(b);
    return t;
}

static void quantiles_near(const char *what, double *t, size_t n, const double want[][2],
                           size_t count, double relative)
{
    for (size_t i = 0; i < count; i++) {
        double got = trn_draw_quantile(t, n, want[i][0]);
        cr_expect(fabs(got - want[i][1]) <= relative * want[i][1],
                  "%s, quantile %g: wanted %g within %g %%, got %g", what, want[i][0], want[i][1],
                  100 * relative, got);
    }
}

static const unsigned oil_use = TRN_BIT(TRN_CAUSE_AGEING) | TRN_BIT(TRN_CAUSE_DUST) |
                                TRN_BIT(TRN_CAUSE_ADDITIVE);

/* derived: worked example of the model, quantiles to 3 %; both kinds of draws, three seeds */
Test(draws, worked_oil)
{
    static const double want[][2] = {{0.05, 145.4}, {0.10, 164.7}, {0.25, 195.8},
                                     {0.50, 228.3}, {0.75, 257.9}, {0.90, 282.3}};
    for (uint64_t seed = 1; seed <= 3; seed++)
        for (int plain = 0; plain < 2; plain++) {
            trn_service_point p;
            trn_duty_state s[2];
            worked_oil(&p, s);
            trn_normals z = normals_of(10000, seed, plain, TRN_DRAWS);
            unsigned char *cause = calloc(z.room, 1);
            double *t = draws_of(&z, &p, s, oil_use, cause);
            double *copy = calloc(z.room, sizeof *copy);
            memcpy(copy, t, z.room * sizeof *t);
            quantiles_near("oil", copy, z.draws, want, 6, 0.03);
            double tq = trn_draw_quantile(copy, z.draws, 0.1);
            double additive = 0, dust = 0, below = 0, first = 0;
            for (size_t k = 0; k < z.draws; k++) {
                first += cause[k] == TRN_CAUSE_ADDITIVE;
                if (t[k] > tq)
                    continue;
                below++;
                additive += cause[k] == TRN_CAUSE_ADDITIVE;
                dust += cause[k] == TRN_CAUSE_DUST;
            }
            cr_expect_eq(below, 1000);
            cr_expect_float_eq(first / 10000, 0.734, 0.02);
            cr_expect_float_eq(additive / below, 0.562, 0.05, "%g", additive / below);
            cr_expect_float_eq(dust / below, 0.438, 0.05);
            free(copy);
            free(cause);
            free(t);
            trn_normals_free(&z);
        }
}

Test(draws, worked_joint)
{
    static const double want[][2] = {{0.05, 10.0}, {0.10, 12.3}, {0.25, 16.3},
                                     {0.50, 20.9}, {0.75, 25.4}, {0.90, 29.0}};
    trn_service_point p;
    trn_duty_state s[2];
    worked_joint(&p, s);
    trn_normals z = normals_of(10000, 1, false, TRN_DRAWS);
    double *t = draws_of(&z, &p, s, 0, NULL);
    quantiles_near("joint", t, z.draws, want, 6, 0.03);
    free(t);
    trn_normals_free(&z);
}

/* derived: an independent run, another generator, the plain form; four standard errors of it */
Test(draws, quantiles_agree_with_another_generator)
{
    static double life[WORKED_DRAWS];
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    for (int which = 0; which < 2; which++) {
        trn_service_point p;
        trn_duty_state s[2];
        if (which)
            worked_joint(&p, s);
        else
            worked_oil(&p, s);
        worked_draws(&p, s, 2, &settings, oil_use, 0, life, NULL);
        trn_normals z = normals_of(65536, 4, false, TRN_DRAWS);
        double *t = draws_of(&z, &p, s, oil_use, NULL);
        double *work = calloc(z.room, sizeof *work);
        static const double probability[] = {0.05, 0.1, 0.25, 0.5, 0.75, 0.9};
        for (size_t i = 0; i < 6; i++) {
            double error = trn_draw_error(life, WORKED_DRAWS, probability[i], work);
            double other = worked_quantile(life, probability[i]);
            memcpy(work, t, z.room * sizeof *t);
            double got = trn_draw_quantile(work, z.draws, probability[i]);
            /* life is sorted from here on: its error no longer comes from parts */
            error = i == 0 ? fmax(error, 0.004 * other) : 0.004 * other;
            cr_expect(fabs(got - other) <= 4 * error, "%d, %g: %g against %g +- %g", which,
                      probability[i], got, other, error);
        }
        free(work);
        free(t);
        trn_normals_free(&z);
    }
}

/* derived: Sobol points need fewer draws for the same error (of twelve seeds, 10 % quantile) */
Test(draws, sobol_is_closer_than_plain_and_says_its_error)
{
    enum { SEEDS = 12, N = 2048 };
    trn_service_point p;
    trn_duty_state s[2];
    worked_oil(&p, s);
    double spread[2];
    double told[2] = {0, 0};
    for (int plain = 0; plain < 2; plain++) {
        double q[SEEDS];
        for (uint64_t seed = 0; seed < SEEDS; seed++) {
            trn_normals z = normals_of(N, 10 + seed, plain, TRN_DRAWS);
            double *t = draws_of(&z, &p, s, oil_use, NULL);
            double *work = calloc(z.room, sizeof *work);
            told[plain] += trn_draw_error(t, N, 0.1, work) / SEEDS;
            q[seed] = trn_draw_quantile(t, N, 0.1);
            free(work);
            free(t);
            trn_normals_free(&z);
        }
        spread[plain] = gsl_stats_sd(q, 1, SEEDS);
    }
    cr_expect_lt(spread[0], 0.6 * spread[1], "Sobol %g, plain %g", spread[0], spread[1]);
    for (int i = 0; i < 2; i++)
        cr_expect(told[i] > spread[i] / 2.5 && told[i] < 2.5 * spread[i], "told %g, seen %g",
                  told[i], spread[i]);
}

/* derived: no spread, every draw is the nominal evaluation */
Test(draws, still_draws_are_nominal)
{
    trn_interval_settings settings;
    trn_interval_settings_default(&settings);
    trn_interval_settings_still(&settings);
    trn_service_point p;
    trn_duty_state s[2];
    worked_joint(&p, s);
    trn_normals z = normals_of(100, 1, false, TRN_DRAWS);
    trn_blocks *b = trn_blocks_new(&settings, &z, NULL, 0);
    double *t = calloc(z.room, sizeof *t);
    trn_blocks_grease(b, &p, s, 2, TRN_DRAWS, 0, t);
    double nominal = trn_greasing_life(&p, s, 2, &settings, NULL, 0);
    for (size_t k = 0; k < 100; k++)
        compare("still", t[k], nominal, k);
    free(t);
    trn_blocks_free(b);
    trn_normals_free(&z);
}

/* derived: common scatter cancels, the reference as the only state gives T_m in every draw */
Test(draws, reference_gives_the_manual_in_every_draw)
{
    trn_service_point p;
    trn_duty_state s[2];
    worked_joint(&p, s);
    s[0].share = 1;
    s[1].share = 0;
    s[0].dust_mg_m3 = 3;
    s[0].shock = 1.25;
    s[0].ambient_c = 45;
    s[0].load_pc = 0.1;
    s[0].angle_deg = 10;
    trn_normals z = normals_of(3000, 1, false, TRN_DRAWS);
    double *t = draws_of(&z, &p, s, 0, NULL);
    for (size_t k = 0; k < z.draws; k++)
        compare("grease", t[k], 50, k);
    free(t);
    worked_oil(&p, s);
    s[0].share = 1;
    s[1].share = 0;
    s[0].dust_mg_m3 = 3;
    s[0].oil_c = 70;
    s[0].load_ratio = 1;
    t = draws_of(&z, &p, s, TRN_BIT(TRN_CAUSE_DUST) | TRN_BIT(TRN_CAUSE_ADDITIVE), NULL);
    for (size_t k = 0; k < z.draws; k++)
        compare("oil", t[k], 500, k);
    free(t);
    trn_normals_free(&z);
}
