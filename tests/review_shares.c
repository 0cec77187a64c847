/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Failure reviews of whole cases: shares, signs, further evidence, faults, text. */
#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/review.h>

#include "review_case.h"

TestSuite(review_shares, .init = review_begin, .fini = review_end);

/* ---- shares ------------------------------------------------------------------------------------ */

/* Mean marginal loss over all orders, order by order. */
static double by_orders(const double *life, size_t n, size_t i)
{
    double sum = 0;
    size_t orders = 1;
    for (size_t k = 2; k <= n; k++)
        orders *= k;
    for (size_t number = 0; number < orders; number++) {
        size_t rest = number;
        bool used[TRN_DEPARTURES_MAX] = {false};
        size_t set = 0;
        for (size_t k = 0; k < n; k++) { /* k-th of the order, by factorial digits */
            size_t pick = rest % (n - k);
            rest /= n - k;
            size_t at = 0;
            for (;; at++)
                if (!used[at] && pick-- == 0)
                    break;
            used[at] = true;
            if (at == i)
                sum += life[set] - life[set | (size_t)1 << at];
            set |= (size_t)1 << at;
        }
    }
    return sum / (double)orders / (life[0] - life[((size_t)1 << n) - 1]);
}

/* derived: the definition, every order in turn; shares add to 100 % on both scales */
Test(review_shares, shares_are_the_mean_over_all_orders)
{
    review_again(1);
    double sum = 0, logs = 0;
    for (size_t bit = 0; bit < review_made->parts[0].departures; bit++) {
        const trn_review_row *r = trn_review_at(review_made, 0, review_made->departing[bit]);
        review_near(r->scenario, r->share_pct, 100 * by_orders(review_made->subset_lives, 4, bit), 1e-9);
        sum += r->share_pct;
        logs += r->share_log_pct;
    }
    cr_expect_float_eq(sum, 100, 1e-9);
    cr_expect_float_eq(logs, 100, 1e-9);
    cr_expect_eq(review_made->parts[0].departures, 4);
    review_near("none", review_made->subset_lives[0], review_row("as specified")->life_h, 1e-12);
    review_near("one", review_made->subset_lives[1], review_row("dirt")->life_h, 1e-12);
}

Test(review_shares, shares_keep_the_axioms)
{
    review_scenarios("nothing,gearboxes.box.change_cost,90,\none,duty.*.power,x1.1,\n"
                    "twin,duty.*.power,x1.1,\nhelp,bearings.in_rear.C,x1.05,\n"
                    "dirt,gearboxes.box.cleanliness,20/17,\n");
    review_again(1);
    cr_expect_float_eq(review_row("nothing")->share_pct, 0, 1e-9);
    review_near("twins", review_row("twin")->share_pct, review_row("one")->share_pct, 1e-9);
    cr_expect(review_row("help")->share_pct < 0);
    cr_expect(review_row("dirt")->share_pct > 0);
    cr_expect_eq(review_row("nothing")->factor[TRN_ALONE], 1);
}

Test(review_shares, shares_do_not_hang_on_the_order_of_the_rows)
{
    static const char *const rows[] = {"a,duty.*.power,x1.3,\n", "b,duty.*.power,+2,\n",
                                       "c,duty.grass.power,25 kW,\n",
                                       "d,gearboxes.box.cleanliness,20/17,\n"};
    static const size_t orders[][4] = {{0, 1, 2, 3}, {3, 2, 1, 0}, {2, 0, 3, 1}};
    double first[4] = {0};
    for (size_t o = 0; o < 3; o++) {
        char text[512] = "";
        for (size_t i = 0; i < 4; i++)
            (void)snprintf(text + strlen(text), sizeof text - strlen(text), "%s",
                           rows[orders[o][i]]);
        review_scenarios(text);
        review_again(o == 1 ? 3 : 1);
        for (size_t i = 0; i < 4; i++) {
            const char name[] = {(char)('a' + (char)i), '\0'};
            if (o == 0)
                first[i] = review_row(name)->share_pct;
            review_near(name, review_row(name)->share_pct, first[i], 1e-9);
        }
    }
}

/* derived: 25 kW x 1.3 + 2 kW, whatever the order of names */
Test(review_shares, together_values_come_first_then_factors_then_offsets)
{
    static const char *const orders[][3] = {{"a", "b", "c"}, {"c", "b", "a"}, {"b", "c", "a"}};
    review_scenarios("b,duty.*.power,+2,\na,duty.*.power,x1.3,\nc,duty.grass.power,25 kW,\n");
    review_machine = scratch_case(review_folder);
    for (size_t o = 0; o < 3; o++) {
        trn_faults faults = {0};
        trn_machine *m = trn_machine_copy(review_machine);
        cr_assert_eq(trn_machine_scenarios(m, orders[o], 3, &faults), TRN_OK);
        cr_expect_float_eq(m->duty[0].power, 34500, 1e-9);
        cr_expect_float_eq(m->duty[1].power, 31000 * 1.3 + 2000, 1e-9);
        trn_machine_free(m);
    }
}

Test(review_shares, two_values_on_one_path_exclude_each_other)
{
    review_scenarios("a,duty.grass.power,25,\nb,duty.*.power,26,\nc,duty.*.shock,+0.1,\n");
    review_again(1);
    for (size_t i = 1; i < review_made->explanation_count; i++) {
        cr_expect(isnan(review_made->rows[i].share_pct));
        cr_expect(review_has(&review_made->rows[i], "duty.grass.power"), "%s", review_made->rows[i].remark);
        cr_expect(review_made->rows[i].factor[TRN_ALONE] > 0);
    }
}

Test(review_shares, nine_departures_are_too_many_and_eight_are_not)
{
    char text[1024] = "";
    for (int i = 0; i < 9; i++)
        (void)snprintf(text + strlen(text), sizeof text - strlen(text), "s%d,duty.*.power,x1.0%d,\n",
                       i, i + 1);
    review_scenarios(text);
    review_again(1);
    cr_expect(isnan(review_row("s3")->share_pct) && review_has(review_row("s3"), "too many departures to share out"));
    text[strlen(text) - strlen("s8,duty.*.power,x1.09,\n")] = '\0';
    review_scenarios(text);
    review_again(2);
    double sum = 0;
    for (size_t i = 1; i < 9; i++)
        sum += review_made->rows[i].share_pct;
    cr_expect_float_eq(sum, 100, 1e-9);
}

Test(review_shares, no_life_lost_is_not_shared_out)
{
    review_scenarios("help,bearings.in_rear.C,x1.2,\n");
    review_again(1);
    cr_expect(isnan(review_row("help")->share_pct));
    cr_expect(review_has(review_row("help"), "no life is lost"));
    cr_expect(review_row("help")->factor[TRN_ALONE] < 1);
}

Test(review_shares, threads_change_nothing)
{
    review_again(1);
    trn_buffer one = {0}, four = {0};
    for (size_t f = 0; f < TRN_REVIEW_FILES; f++)
        trn_review_csv(review_made, f, &one);
    review_again(4);
    for (size_t f = 0; f < TRN_REVIEW_FILES; f++)
        trn_review_csv(review_made, f, &four);
    cr_expect_str_eq(one.text, four.text);
    trn_buffer_free(&one);
    trn_buffer_free(&four);
}

/* ---- signs ------------------------------------------------------------------------------------- */

/* the rules of the reference page */
Test(review_shares, causes_of_what_is_changed)
{
    static const struct {
        const char *path, *cause;
    } rules[] = {{"duty.*.power", "overload"},          {"duty.grass.shock", "overload"},
                 {"machine.rated_power", "overload"},   {"positions.a.b.tube_side", "over_angle"},
                 {"geometry.a.b.tau", "over_angle"},    {"shafts.main.yoke_error", "over_angle"},
                 {"duty.grass.position", "over_angle"}, {"gearboxes.box.oil_volume", "low_oil"},
                 {"gears.wheel.dip", "low_oil"},        {"gearboxes.box.level_margin", "low_oil"},
                 {"duty.*.pto_speed", "heat"},          {"machine.ambient", "heat"},
                 {"duty.*.ambient", "heat"},            {"duty.*.oil_temperature", "heat"},
                 {"gearboxes.*.heat_transfer", "heat"}, {"gearboxes.*.air_speed", "heat"},
                 {"gearboxes.*.residue", "heat"},       {"duty.*.sun", "heat"},
                 {"duty.*.dust", "contamination"},      {"gearboxes.*.dust_intake", "contamination"},
                 {"duty.*.washes_per_100h", "water"},   {"duty.*.wash_water", "water"},
                 {"duty.*.humidity", "water"},          {"bearings.in_rear.C", "part"},
                 {"gears.wheel.face_width", "part"},    {"life", "part"},
                 {"oils.ep90.kv100", ""},               {"machine.reliability", ""}};
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++) {
        unsigned want = 0;
        for (unsigned c = 0; trn_evidence_causes[c]; c++)
            if (strcmp(trn_evidence_causes[c], rules[i].cause) == 0)
                want = 1U << c;
        cr_expect_eq(trn_review_causes(rules[i].path), want, "%s", rules[i].path);
    }
}

/* derived: by hand from the sign table of the page */
Test(review_shares, signs_are_counted_and_several_causes_add)
{
    scratch_write(review_folder, "failure.csv",
                  "component,hours [h],sign,sign of heat,sign 3\n"
                  "in_rear,310,rimmed_dents/clean_spall,all_tinted,scuffing / wrong_oil\n");
    review_again(1);
    const trn_review_row *r = review_row("dirt"); /* 2 -1 0 0 0 */
    cr_expect(r->signs_for == 1 && r->signs_against == 1 && r->signs_neutral == 3);
    cr_expect(review_has(r, "signs: 1 for, 1 against, 3 neutral"), "%s", r->remark);
    r = review_row("overspeed"); /* overload + heat: 0, 0 - 1, 0 + 2, 0 + 1, 0 + 1 */
    cr_expect_str_eq(r->cause, "overload/heat");
    cr_expect(r->signs_for == 3 && r->signs_against == 1 && r->signs_neutral == 1);
    cr_expect_eq(r->sign_weight, 3);
    r = review_row("as specified"); /* normal: -1 +2 -1 -1 -1 */
    cr_expect(r->signs_for == 1 && r->signs_against == 4 && r->signs_neutral == 0);
    r = review_row("low oil"); /* 0 -1 1 2 1: the hours say nothing, the signs count */
    cr_expect(r->signs_for == 3 && r->signs_against == 1 && r->signs_neutral == 1);
}

/* Signs are no part of any factor. */
Test(review_shares, signs_leave_the_factors_alone)
{
    review_again(1);
    double before = review_row("dirt")->factor[TRN_FLEET];
    scratch_edit(review_folder, "failure.csv", "rimmed_dents", "clean_spall");
    review_again(1);
    cr_expect_eq(review_row("dirt")->factor[TRN_FLEET], before);
    cr_expect_eq(review_row("dirt")->signs_against, 1);
}

/* ---- further evidence ------------------------------------------------------------------------- */

/* derived: what is supposed, put into lives.csv, gives what was foretold */
Test(review_shares, supposed_sisters_come_true)
{
    review_again(1);
    double then = NAN;
    for (size_t i = 0; i < review_made->next_count; i++)
        if (strcmp(review_made->next[i].scenario, "overspeed") == 0 &&
            strcmp(review_made->next[i].what, "5 more sister units found sound at 620 h") == 0) {
            then = review_made->next[i].then;
            review_near("now", review_made->next[i].now, review_row("overspeed")->factor[TRN_FLEET], 1e-12);
        }
    cr_assert(then > 0);
    char *lives = scratch_read(review_folder, "lives.csv");
    char text[1024];
    (void)snprintf(text, sizeof text, "%s", lives);
    free(lives);
    for (int i = 0; i < 5; i++)
        (void)snprintf(text + strlen(text), sizeof text - strlen(text), "n%d,620,running\n", i);
    scratch_write(review_folder, "lives.csv", text);
    review_again(1);
    review_near("then", review_row("overspeed")->factor[TRN_FLEET], then, 1e-8);
}

Test(review_shares, half_a_departure_comes_true)
{
    review_again(1);
    double then = NAN;
    for (size_t i = 0; i < review_made->next_count; i++)
        if (strstr(review_made->next[i].what, "bearings.in_rear.C found to have gone only half way"))
            then = review_made->next[i].then;
    cr_assert(then > 0);
    scratch_edit(review_folder, "scenarios.csv", "x0.8", "x0.89442719099991588");
    review_again(1);
    review_near("then", review_row("small bearing")->factor[TRN_FLEET], then, 1e-9);
}

/* ---- faults ------------------------------------------------------------------------------------ */

static void take_away(const char *file)
{
    char path[SCRATCH_PATH + 32];
    (void)snprintf(path, sizeof path, "%s/%s", review_folder, file);
    cr_assert_eq(remove(path), 0);
}

Test(review_shares, missing_tables_are_named)
{
    take_away("failure.csv");
    review_refused("failure.csv: a review needs it");
    trn_machine_free(review_machine);
    scratch_copy(review_folder, "cases/failed");
    take_away("scenarios.csv");
    review_refused("scenarios.csv: a review needs it");
}

Test(review_shares, a_wrong_path_is_named_with_its_line)
{
    review_scenarios("a,duty.*.power,x1.1,\nb,duty.*.powr,x1.1,\n");
    review_refused("scenarios.csv:3: duty.*.powr = x1.1: duty has no column `powr` to set");
}

Test(review_shares, the_failed_unit_is_not_among_the_others)
{
    scratch_edit(review_folder, "lives.csv", "RM-009", "RM-017");
    review_refused("lives.csv:5: column unit: `RM-017` is the serial of the machine that failed");
}

Test(review_shares, a_sister_of_the_very_hours_is_remarked_on)
{
    scratch_edit(review_folder, "lives.csv", "290", "310");
    review_again(1);
    cr_expect_not_null(strstr(review_made->fleet_remark, "line 5 failed at the very hours of in_rear"));
}

/* ---- text -------------------------------------------------------------------------------------- */

Test(review_shares, the_text_says_what_it_must_and_no_more)
{
    static const char *const wanted[] = {
        "FACTS", "COMPUTED", "OPINION", "share of the life lost is no share of fault",
        "statistics.bayes_factor", "statistics.bayes_factor_ceiling", "statistics.posterior",
        "statistics.shares", "statistics.weibull_probability", "statistics.at_least_one",
        "statistics.damage_sign", "Listed by: workshop of the dealer (invented)",
        "What further evidence would decide", "Alternatives not excluded",
        "What may not be concluded", "do not run the machine again"};
    static const char *const never[] = {"guarantee", " safe", "proves", "misuse ", "probability of"};
    review_again(1);
    trn_buffer out = {0}, flat = {0};
    trn_review_text(review_made, 100, &out);
    cr_assert(!out.failed);
    for (const char *p = out.text; *p; p++) /* lines joined, so that a break hides nothing */
        if (*p != '\n' && !(*p == ' ' && p[1] == ' '))
            trn_buffer_add_n(&flat, p, 1);
        else if (*p == '\n' && p[1] != ' ')
            trn_buffer_add(&flat, " ");
    for (size_t i = 0; i < sizeof wanted / sizeof wanted[0]; i++)
        cr_expect_not_null(strstr(flat.text, wanted[i]), "%s", wanted[i]);
    for (size_t i = 0; i < sizeof never / sizeof never[0]; i++)
        cr_expect_null(strstr(flat.text, never[i]), "%s", never[i]);
    for (const char *line = out.text; line;) {
        const char *next = strchr(line, '\n');
        cr_expect(!next || next - line <= 100, "%.*s", next ? (int)(next - line) : 0, line);
        line = next ? next + 1 : NULL;
    }
    trn_buffer_free(&out);
    trn_buffer_free(&flat);
}
