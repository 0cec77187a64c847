/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the manual itself asks for, and the plan of a year. Expectations derived from
 * docs/interval.md (severe interval, tasks that stand, plan). */
#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <trunnion/choices.h>
#include <trunnion/clock.h>
#include <trunnion/draws.h>
#include <trunnion/extras.h>
#include <trunnion/interval_rows.h>

#include "scratch.h"
#include "study_case.h"
#include "support.h"

#define MACHINE                                                                               \
    "quantity,value,unit\nname,Invented,\npto_speed,540,rpm\nrated_power,60,kW\n"              \
    "hours_per_year,230,h\nlabour_rate,40,\n"
#define POINTS                                                                                \
    "point,component,task,manual_interval [h],severe_interval [h],source,last_done [h],"       \
    "quantity [g],fittings,minutes\n"

static trn_machine *machine_of(const char *head, const char *dust, const char *points)
{
    char folder[SCRATCH_PATH];
    char duty[256];
    scratch_make(folder);
    (void)snprintf(duty, sizeof duty,
                   "condition,share [%%],pto_speed [rpm],power [kW],dust [mg/m3],"
                   "washes_per_100h\na,60,540,40,%s,1\nb,40,540,40,2,0\n",
                   dust);
    scratch_write(folder, "machine.csv", head);
    scratch_write(folder, "duty.csv", duty);
    scratch_write(folder, "points.csv", points);
    trn_machine *m = scratch_case(folder);
    scratch_remove(folder);
    return m;
}

typedef struct evaluated {
    trn_machine *m;
    trn_results *r;
} evaluated;

static evaluated made(const char *head, const char *dust, const char *points)
{
    trn_machine *m = machine_of(head, dust, points);
    trn_results *r = study_evaluated(m);
    cr_assert_eq(trn_study_extras(r), TRN_OK);
    return (evaluated){m, r};
}

static void done(evaluated e)
{
    trn_results_free(e.r);
    trn_machine_free(e.m);
}

static const trn_plan_row *line(const trn_results *r, const char *name, const char *when)
{
    for (size_t i = 0; i < r->extras->plan_count; i++)
        if (strcmp(r->extras->plan[i].name, name) == 0 && strstr(r->extras->plan[i].when, when))
            return &r->extras->plan[i];
    cr_assert(false, "no line `%s` `%s`", name, when);
    return NULL;
}

/* ---- the manual's severe interval ------------------------------------------------------------ */

/* Mean dust 0.6 C + 0.4 x 2: 15 mg/m3 at C = 23.6667. */
Test(service, severe_interval_counts_from_dusty_on)
{
#define PIVOT POINTS "hinge,hinge,grease_pivot,50,8,\"clause 5.2, page 31\",,4,2,3\n"
    evaluated below = made(MACHINE, "23.6", PIVOT);
    evaluated above = made(MACHINE, "23.7", PIVOT);
    cr_expect_eq(trn_choice_value(TRN_CHOICE_SEVERE_DUST), 15);
    cr_expect_neq(below.r->points[0].governed_by, TRN_CAUSE_SEVERE);
    cr_expect_gt(below.r->points[0].recommended_h, 8);
    const trn_point_row *row = &above.r->points[0];
    cr_expect_eq(row->recommended_h, 8);
    cr_expect_eq(row->governed_by, TRN_CAUSE_SEVERE);
    cr_expect_str_eq(trn_cause_word(row->governed_by), "manual severe");
    cr_expect_eq(row->second_limit, TRN_CAUSE_DUST);
    cr_expect_not_null(strstr(row->reason, "the manual's own 8 h for severe service go before"));
    /* numbers of the model are those without it */
    cr_expect(test_near(row->nominal_h, below.r->points[0].nominal_h, 0.01));
    cr_expect_eq(row->shortening, row->manual_h / row->low_h);
    cr_expect_eq(row->severe_h, 8);
    done(below);
    done(above);
}

Test(service, severe_interval_never_lengthens)
{
    evaluated e = made(MACHINE, "90", POINTS "hinge,hinge,grease_pivot,50,40,,,4,2,3\n");
    cr_expect_lt(e.r->points[0].recommended_h, 40);
    cr_expect_neq(e.r->points[0].governed_by, TRN_CAUSE_SEVERE);
    done(e);
}

Test(service, severe_interval_stands_after_draws_and_under_the_calendar)
{
    evaluated e = made(MACHINE, "40",
                       POINTS "box,box,change_oil,400,300,,,,1,30\nlevel,box,check_oil,50,10,,,,1,3\n");
    trn_faults faults = {0};
    trn_draw_plan plan = {.draws = 400, .seed = 7, .jobs = 1};
    cr_assert_eq(trn_study_draws(e.r, &plan, false, &faults), TRN_OK);
    cr_expect_eq(e.r->points[1].recommended_h, 10);
    cr_expect_eq(e.r->points[1].governed_by, TRN_CAUSE_SEVERE);
    cr_expect_eq(e.r->points[1].second_limit, TRN_CAUSE_MANUAL);
    trn_faults_free(&faults);
    done(e);
    /* a year of 230 h is shorter than the 300 h */
    trn_recommendation rec = {.interval_h = 400, .manual = true};
    trn_recommend_severe(300, 15, &rec);
    cr_expect(rec.severe && !rec.manual && rec.interval_h == 300);
    trn_service_point sp;
    trn_service_point_clear(&sp);
    sp.task = TRN_TASK_CHANGE_OIL;
    trn_governing g = trn_govern(&sp, (trn_cause[]){TRN_CAUSE_DUST}, 1, &rec, 230);
    cr_expect(g.first == TRN_CAUSE_CALENDAR && g.second == TRN_CAUSE_SEVERE);
    g = trn_govern(&sp, (trn_cause[]){TRN_CAUSE_DUST}, 1, &rec, 301);
    cr_expect(g.first == TRN_CAUSE_SEVERE && g.second == TRN_CAUSE_DUST);
}

Test(service, no_severe_interval_or_no_dust_changes_nothing)
{
    static const double rows[][2] = {{NAN, 100}, {20, NAN}, {20, 14.9}, {50, 100}, {60, 100}};
    for (size_t i = 0; i < 5; i++) {
        trn_recommendation rec = {.interval_h = 50, .manual = true};
        trn_recommend_severe(rows[i][0], rows[i][1], &rec);
        cr_expect(rec.interval_h == 50 && rec.manual && !rec.severe, "row %zu", i);
    }
}

/* ---- tasks that stand ------------------------------------------------------------------------ */

Test(service, other_tasks_are_planned_and_never_shortened)
{
    evaluated e = made(MACHINE, "140", POINTS "knives,rotor,other,25,,,,,,15\n");
    trn_faults faults = {0};
    trn_draw_plan plan = {.draws = 300, .seed = 5, .jobs = 1};
    cr_assert_eq(trn_study_draws(e.r, &plan, false, &faults), TRN_OK);
    const trn_point_row *row = &e.r->points[0];
    cr_expect(row->manual_h == 25 && row->nominal_h == 25 && row->low_h == 25 &&
              row->high_h == 25 && row->at_risk_h == 25 && row->recommended_h == 25);
    cr_expect_eq(row->governed_by, TRN_CAUSE_MANUAL);
    cr_expect_eq(row->shortening, 1);
    cr_expect_eq(row->times_per_year, 9.2);
    cr_expect_not_null(strstr(row->reason, "planned as the manual says"));
    cr_expect_eq(row->remarks.n, 0);
    cr_expect_eq(e.r->extras->turning_count, 0); /* nothing to turn */
    trn_faults_free(&faults);
    done(e);
}

/* ---- plan ------------------------------------------------------------------------------------ */

Test(service, words_of_an_interval)
{
    static const struct {
        double h;
        const char *words;
    } rows[] = {{3, "every 3 h"},           {4, "twice a day"},         {5, "twice a day"},
                {8, "each working day"},    {10, "each working day"},   {12.5, "every 12.5 h"},
                {50, "every 50 h"},         {1000, "every 1000 h"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char text[64];
        trn_interval_words(rows[i].h, text, sizeof text);
        cr_expect_str_eq(text, rows[i].words);
    }
    cr_expect(trn_interval_is_routine(10) && !trn_interval_is_routine(12.5) &&
              !trn_interval_is_routine(NAN));
}

Test(service, due_follows_last_done_and_the_hour_meter)
{
#define METER MACHINE "machine_hours,515,h\n"
    evaluated e = made(METER, "1",
                       POINTS "early,x,other,50,,,480,,,1\nlate,x,other,50,,,452.5,,,1\n"
                              "just,x,other,50,,,465,,,1\nnone,x,other,50,,,,,,1\n"
                              "rare,x,other,900,,,500,,,1\n");
    const trn_plan_row *row = line(e.r, "early", "every 50 h");
    cr_expect(row->visit_h == 15 && row->due_h == 530 && row->overdue_h == 0 && row->times == 5);
    row = line(e.r, "late", "overdue by 12.5 h; then every 50 h");
    cr_expect(row->visit_h == 0 && row->due_h == 502.5 && row->overdue_h == 12.5 &&
              row->times == 5); /* 0, 50 ... 200 */
    row = line(e.r, "just", "every 50 h");
    cr_expect(row->visit_h == 0 && row->due_h == 515 && row->overdue_h == 0);
    row = line(e.r, "none", "every 50 h");
    cr_expect(row->visit_h == 50 && row->due_h == 565 && row->times == 4);
    row = line(e.r, "rare", "once a year"); /* due beyond the year */
    cr_expect(row->visit_h == 230 && row->due_h == 745 && row->times == 1);
    /* every visit stands among the visits, in order */
    size_t late = 0;
    for (size_t i = 0; i < e.r->extras->visits_count; i++) {
        const trn_visit_row *v = &e.r->extras->visits[i];
        cr_expect(i == 0 || v->visit_h >= v[-1].visit_h - 1e-9);
        late += v->point == 1;
    }
    cr_expect_eq(late, 5);
    done(e);
}

Test(service, without_a_meter_the_plan_begins_with_the_year)
{
    evaluated e = made(MACHINE, "1",
                       POINTS "a,x,other,50,,,480,,,1\nb,x,other,50,,,,,,1\n");
    const trn_plan_row *row = line(e.r, "a", "every 50 h");
    cr_expect(row->visit_h == 50 && row->due_h == 530);
    row = line(e.r, "b", "every 50 h");
    cr_expect(row->visit_h == 50 && isnan(row->due_h));
    done(e);
}

Test(service, grease_in_strokes_and_events)
{
    evaluated e = made(MACHINE "grams_per_stroke,0.8,g\n", "1",
                       POINTS "a,x,grease_pivot,20,,,,5,3,6\nb,y,grease_tube,40,,,,8,1,2\n"
                              "c,z,other,40,,,,5,1,2\n");
    const trn_plan_row *row = line(e.r, "a", "");
    cr_expect(row->strokes_each == 7 && row->strokes == 21 && row->quantity_g == 15 &&
              row->fittings == 3); /* 5/0.8 = 6.25 */
    row = line(e.r, "b", "");
    cr_expect(row->strokes_each == 10 && row->strokes == 10);
    cr_expect(isnan(line(e.r, "c", "")->strokes));
    row = line(e.r, "every grease fitting", "after each wash");
    cr_expect(isnan(row->visit_h) && row->strokes == 31 && row->quantity_g == 23 &&
              row->minutes == 8);
    cr_expect(test_near(row->times, 230 * 0.6 / 100, 1e-12));
    cr_expect_eq(line(e.r, "every grease fitting", "start of the season")->visit_h, 0);
    cr_expect_eq(line(e.r, "every grease fitting", "before storage")->visit_h, 230);
    /* the gun's default is common practice, no source */
    trn_machine *m = machine_of(MACHINE, "1", POINTS "a,x,grease_pivot,20,,,,5,3,6\n");
    cr_expect(test_near(m->head.grams_per_stroke, 1.2e-3, 1e-12));
    trn_machine_free(m);
    done(e);
}

Test(service, the_year_s_cost_of_a_task)
{
    evaluated e = made(MACHINE, "1", POINTS "c,z,other,40,20,,,,1,3\n");
    const trn_plan_row *row = line(e.r, "c", "");
    cr_expect(test_near(row->cost_manual, 230.0 / 40 * 3 / 60 * 40, 1e-12));
    cr_expect_eq(row->cost_recommended, row->cost_manual);
    cr_expect(test_near(e.r->extras->season_cost_manual, row->cost_manual, 1e-12));
    done(e);
}

Test(service, winged_plan_can_be_worked)
{
    trn_machine *m = study_read("../sample-data/winged");
    trn_results *r = study_evaluated(m);
    cr_assert_eq(trn_study_extras(r), TRN_OK);
    const trn_extras *x = r->extras;
    cr_expect_lt(x->plan_count, 40);
    size_t routine = 0;
    size_t first = 0;
    for (size_t i = 0; i < x->plan_count; i++) {
        const trn_plan_row *row = &x->plan[i];
        bool daily = strstr(row->when, "each working day") || strstr(row->when, "twice a day");
        cr_expect(!trn_interval_is_routine(row->every_h) || daily, "%s", row->name);
        routine += daily;
        first += strstr(row->when, "new or rebuilt") != NULL;
        for (size_t k = 0; k < i; k++) /* one line a task */
            cr_expect(row->point == TRN_NONE || x->plan[k].point != row->point, "%s", row->name);
    }
    cr_expect_gt(routine, 0);
    cr_expect_eq(first, 1); /* six boxes, one hour */
    const trn_plan_row *oil = line(r, "splitter oil", "due now (by the manual at 880 h)");
    cr_expect(test_near(oil->oil_l, 4.2, 1e-12));
    cr_expect_not_null(strstr(oil->source, "manual 7.4"));
    cr_expect_str_eq(oil->manual, "every 500 h");
    cr_expect_gt(x->season_cost_recommended, x->season_cost_manual);
    trn_results_free(r);
    trn_machine_free(m);
}
