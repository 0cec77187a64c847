/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fit over a whole sweep against closed forms and vectors in space; the cut judged again. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <trunnion/lift.h>
#include <trunnion/shaft.h>

#include "support.h"

#define PI 3.14159265358979323846
#define DEG (PI / 180)
#define UNTOUCHED (-987.125)

/* One shaft from the tractor, rows of dimensions, one condition with power in the first. */
typedef struct rig {
    trn_shaft shaft;
    trn_geometry rows[6];
    trn_position measured[2];
    trn_duty duty;
    trn_machine machine;
} rig;

static const char *const names[] = {"low", "work", "high", "transport", "fifth", "sixth"};

static void rig_up(rig *g, size_t rows, int layout)
{
    memset(g, 0, sizeof *g);
    g->shaft = (trn_shaft){.shaft = "s", .from = "tractor", .to = "rotor", .power_share = 1,
                           .cross_rating = NAN, .cross_arm = NAN, .needles = NAN,
                           .tube_outside = NAN, .tube_bore = NAN, .length_closed = 0.6532,
                           .overlap_closed = 0.4871, .tube_length = NAN, .profile_radius = NAN,
                           .stiffness = NAN, .inertia_driven = NAN, .angle_limit = 25 * DEG,
                           .angle_limit_brief = 35 * DEG, .from_gearbox = TRN_NONE,
                           .to_gearbox = TRN_NONE, .from_axle = TRN_NONE, .power_total = 1,
                           .speed_ratio = 1};
    double unknown[sizeof(trn_geometry) / sizeof(double)];
    for (size_t i = 0; i < sizeof unknown / sizeof *unknown; i++)
        unknown[i] = NAN;
    for (size_t i = 0; i < rows; i++) {
        trn_geometry *r = &g->rows[i];
        memcpy(&r->x, unknown, (size_t)((char *)&r->link_angle - (char *)&r->x) + sizeof(double));
        r->position = names[i];
        r->shaft = "s";
        r->layout = layout;
        r->pto_on = 1;
    }
    g->duty = (trn_duty){.condition = "cutting", .share = 1, .hours = NAN, .pto_speed = 54.3,
                         .power = 21300, .shock = 1.25, .position = names[0]};
    g->machine.head.pto_speed = 56.5;
    g->machine.shafts = &g->shaft;
    g->machine.shafts_count = 1;
    g->machine.geometry = g->rows;
    g->machine.geometry_count = rows;
    g->machine.positions = g->measured;
    g->machine.duty = &g->duty;
    g->machine.duty_count = 1;
}

static trn_fit_row judged(const trn_machine *m)
{
    (void)gsl_set_error_handler_off();
    trn_results *r = trn_results_new(m);
    cr_assert_not_null(r);
    cr_assert_eq(trn_study_evaluate(m, TRN_WANT_JOINTS | TRN_WANT_FIT, r, NULL), TRN_OK);
    cr_assert_eq(r->fits_count, 1);
    trn_fit_row row = r->fits[0];
    trn_results_free(r);
    return row;
}

static void near_mm(double got, double wanted, double slack, const char *what)
{
    cr_expect(fabs(got - wanted) <= slack, "%s: wanted %.12g, got %.12g", what, wanted, got);
}

/* A hitch that is lifted straight: x fixed, z from -280 to +520 mm, level. */
static void straight_lift(rig *g)
{
    rig_up(g, 2, TRN_HITCH);
    for (size_t i = 0; i < 2; i++) {
        g->rows[i].x = 0.7131;
        g->rows[i].pitch = 0;
        g->rows[i].z = i ? 0.520 : -0.280;
    }
}

/* derived: the shortest of hypot(x, z) is x, at z = 0, between the rows */
Test(lift, shortest_lies_between_the_rows)
{
    rig g;
    straight_lift(&g);
    trn_fit_row row = judged(&g.machine);
    near_mm(row.length_min_mm, 713.1, 1e-6, "shortest");
    near_mm(row.length_max_mm, 1000 * hypot(0.7131, 0.520), 1e-9, "longest");
    near_mm(row.clearance_mm, 713.1 - 653.2, 1e-6, "clearance");
    cr_expect_str_eq(row.shortest_at, "low to work at 35 %");
    cr_expect_str_eq(row.longest_at, "work");
    near_mm(row.largest_angle_deg, atan2(0.520, 0.7131) / DEG, 1e-9, "largest angle");
    cr_expect_str_eq(row.angle_at, "work");
}

/* derived: level hitch, beta = atan(z/x): the limit of 25 deg is met at z = x tan 25 deg */
Test(lift, stop_of_a_straight_lift)
{
    rig g;
    straight_lift(&g);
    trn_fit_row row = judged(&g.machine);
    near_mm(row.lift_stop_mm, 713.1 * tan(25 * DEG), 1e-6, "stop");
    cr_expect(isnan(row.tilt_stop_up_deg) && isnan(row.turn_stop_deg));
    g.shaft.angle_limit = 37 * DEG;
    row = judged(&g.machine);
    cr_expect(isnan(row.lift_stop_mm), "no stop is needed");
    cr_expect(trn_remark_has(&row.remarks, TRN_M_INSIDE));
    g.shaft.angle_limit = 20 * DEG; /* the row that is low is beyond it: start in neither */
    g.rows[1].pto_on = 0;
    row = judged(&g.machine);
    cr_expect(trn_remark_has(&row.remarks, TRN_M_OUTSIDE));
}

/* derived: the symmetric wing has beta = tau/2 at both joints (joint page, section 4), so it may
 * tilt twice the limit, either way */
Test(lift, stop_of_a_symmetric_wing)
{
    rig g;
    rig_up(&g, 3, TRN_WING);
    const double tau[] = {-71 * DEG, 0.4 * DEG, 83 * DEG};
    for (size_t i = 0; i < 3; i++) {
        g.rows[i].a = g.rows[i].b = 0.4123;
        g.rows[i].h1 = g.rows[i].h2 = -0.0517;
        g.rows[i].tau = tau[i];
        g.rows[i].pto_on = i == 1;
    }
    trn_fit_row row = judged(&g.machine);
    near_mm(row.tilt_stop_up_deg, 50, 1e-8, "up");
    near_mm(row.tilt_stop_down_deg, -50, 1e-8, "down");
    /* L = 2 (a cos tau/2 - h sin tau/2): shortest at an end or at the fold */
    double up = 2000 * (0.4123 * cos(41.5 * DEG) + 0.0517 * sin(41.5 * DEG));
    double down = 2000 * (0.4123 * cos(35.5 * DEG) - 0.0517 * sin(35.5 * DEG));
    near_mm(row.length_min_mm, fmin(up, down), 1e-9, "shortest");
    near_mm(row.largest_angle_deg, 0.2, 1e-9, "only the middle row turns");
}

/* derived: drawbar with x = y shares the turn by halves */
Test(lift, stop_of_a_drawbar)
{
    rig g;
    rig_up(&g, 2, TRN_DRAWBAR);
    for (size_t i = 0; i < 2; i++) {
        g.rows[i].x = g.rows[i].y = 0.5377;
        g.rows[i].psi = i ? 62 * DEG : 0;
    }
    trn_fit_row row = judged(&g.machine);
    near_mm(row.turn_stop_deg, 50, 1e-8, "turn");
    near_mm(row.length_min_mm, 2000 * 0.5377 * cos(31 * DEG), 1e-9, "shortest at the tightest");
    g.rows[1].psi = -62 * DEG; /* the machine turned the other way */
    trn_fit_row mirror = judged(&g.machine);
    near_mm(mirror.turn_stop_deg, row.turn_stop_deg, 1e-9, "mirrored turn");
    near_mm(mirror.length_min_mm, row.length_min_mm, 1e-12, "mirrored length");
    near_mm(mirror.largest_angle_deg, row.largest_angle_deg, 1e-12, "mirrored angle");
}

/* The invented linkage of the joint page: angle at joint 1 from its points in space. */
static void linkage_rows(rig *g)
{
    rig_up(g, 2, TRN_LINKAGE);
    for (size_t i = 0; i < 2; i++) {
        trn_geometry *r = &g->rows[i];
        r->lower_x = -0.4;
        r->lower_z = 0.5;
        r->lower_link = 0.95;
        r->upper_x = -0.25;
        r->upper_z = 0.93;
        r->upper_link = 0.792197;
        r->mast = 0.61;
        r->joint_x = 0;
        r->joint_z = 0.6;
        r->input_d = 0.3;
        r->input_e = 0.15;
        r->link_angle = (i ? 28 : -12) * DEG;
    }
}

static trn_shaft_layout linkage_at(double link_angle)
{
    trn_shaft_four_bar k = {-0.4, 0.5, 0.95, -0.25, 0.93, 0.792197, 0.61, 0, 0.6, 0.3, 0.15,
                            link_angle};
    trn_shaft_layout a = {0, 0, 0, 0};
    double pitch = 0;
    cr_assert_eq(trn_shaft_linkage(k, &pitch, &a), TRN_OK);
    return a;
}

/* derived: a fine walk of the same linkage; joint page: the length is least near level, not at an
 * end, and joint 1 passes 16.94 deg at a link angle of 10 deg, 29.73 deg at 20 deg */
Test(lift, linkage_against_a_fine_walk)
{
    rig g;
    linkage_rows(&g);
    trn_fit_row row = judged(&g.machine);
    double least = INFINITY;
    double stop = NAN;
    for (int i = 0; i <= 200000; i++) {
        double q = (-12 + 40 * i / 200000.0) * DEG;
        trn_shaft_layout a = linkage_at(q);
        least = fmin(least, a.length_m);
        if (isnan(stop) && q > 0 && fabs(a.beta1_rad) > 25 * DEG)
            stop = a.length_m * sin(a.beta1_rad);
    }
    near_mm(row.length_min_mm, 1000 * least, 1e-5, "shortest");
    near_mm(row.lift_stop_mm, 1000 * stop, 0.02, "stop");
    cr_expect(strstr(row.shortest_at, "low to work at ") != NULL, "%s", row.shortest_at);
    cr_expect(trn_remark_has(&row.remarks, TRN_M_LINK_STOP));
}

/* derived: both tubes c shorter: closed c shorter, cover at any length 2 c less */
Test(lift, cut_by_hand)
{
    static const struct {
        double clearance, overlap, cut, after;
    } rows[] = {
        {50, 200, 0, 200},      {49.9999999, 200, 0, 200}, {49.99, 200, 5, 190},
        {45, 200, 5, 190},      {44.9, 200, 10, 180},      {-12.3, 233, 65, 103},
        {0, 91.5, 50, -8.5},    {812, 10, 0, 10},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double cut = UNTOUCHED;
        double after = UNTOUCHED;
        cr_expect_eq(trn_shaft_cut(rows[i].clearance / 1000, rows[i].overlap / 1000, 0.050, &cut,
                                   &after),
                     TRN_OK);
        near_mm(1000 * cut, rows[i].cut, 1e-9, "cut");
        near_mm(1000 * after, rows[i].after, 1e-9, "overlap after");
    }
}

Test(lift, refused_cuts_leave_outputs_untouched)
{
    static const double rows[][3] = {
        {NAN, 0.2, 0.05}, {0.1, NAN, 0.05}, {0.1, 0.2, NAN}, {0.1, 0.2, -0.01},
        {INFINITY, 0.2, 0.05}, {0.1, INFINITY, 0.05}, {0.1, 0.2, INFINITY}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double cut = UNTOUCHED;
        double after = UNTOUCHED;
        cr_expect_eq(trn_shaft_cut(rows[i][0], rows[i][1], rows[i][2], &cut, &after),
                     TRN_E_DOMAIN, "row %zu", i);
        cr_expect(cut == UNTOUCHED && after == UNTOUCHED, "row %zu", i);
    }
}

/* derived: the shaft is cut as printed and judged again: the overlap printed, and it fits */
Test(lift, cut_shaft_judged_again)
{
    for (int i = 0; i < 40; i++) {
        rig g;
        straight_lift(&g);
        g.rows[1].z = 0.11;
        g.shaft.length_closed = 0.6631 + 0.00171 * i;
        g.shaft.overlap_closed = 0.4971;
        trn_fit_row before = judged(&g.machine);
        cr_assert(before.fits == TRN_FIT_CUT || before.fits == TRN_FIT_YES ||
                  before.fits == TRN_FIT_OTHER);
        if (before.fits == TRN_FIT_OTHER) {
            cr_expect(before.overlap_after_cut_mm < before.overlap_needed_mm);
            continue;
        }
        double cut = before.cut_mm / 1000;
        g.shaft.length_closed -= cut;
        g.shaft.overlap_closed -= cut;
        trn_fit_row after = judged(&g.machine);
        near_mm(after.overlap_mm, before.overlap_after_cut_mm, 1e-9, "overlap of the cut shaft");
        cr_expect_eq(after.fits, TRN_FIT_YES, "%d", i);
        cr_expect_eq(after.cut_mm, 0);
        double most = cut > 0 ? 55 : INFINITY;
        cr_expect(after.clearance_mm >= 50 - 1e-6 && after.clearance_mm < most + 1e-6,
                  "least multiple of 5 mm: %g left", after.clearance_mm);
    }
}

/* derived: needs 50 mm of clearance and 150 mm of overlap; one of the two cannot be had */
Test(lift, refusals)
{
    rig g;
    straight_lift(&g);
    g.shaft.overlap_closed = 0.3015; /* 73.8 mm are left of it at the longest */
    trn_fit_row row = judged(&g.machine);
    cr_expect_eq(row.fits, TRN_FIT_OTHER);
    cr_expect(trn_remark_has(&row.remarks, TRN_M_TOO_SHORT));
    cr_expect_eq(row.overlap_needed_mm, 150);
    g.shaft.overlap_closed = 0.4115;
    g.shaft.length_closed = 0.7012; /* bottoms at 713.1 mm but for 11.9 mm: 40 mm to cut */
    g.shaft.tube_length = 0.6;      /* a third of it is 200 mm */
    row = judged(&g.machine);
    near_mm(row.cut_mm, 40, 1e-9, "cut");
    near_mm(row.overlap_mm, 411.5 - (1000 * hypot(0.7131, 0.520) - 701.2), 1e-6, "overlap");
    near_mm(row.overlap_needed_mm, 200, 1e-9, "a third of the tube");
    cr_expect_eq(row.fits, TRN_FIT_OTHER);
    cr_expect(trn_remark_has(&row.remarks, TRN_M_CUT_FAILS));
    cr_expect_str_eq(trn_fit_word(row.fits), "no: another shaft length");
    g.shaft.length_closed = NAN;
    row = judged(&g.machine);
    cr_expect_eq(row.fits, TRN_FIT_UNKNOWN);
    cr_expect(isnan(row.clearance_mm) && isnan(row.cut_mm) && isnan(row.overlap_mm));
}

/* A measured row wins, and the sweep is led through it: no jump beside the row. */
Test(lift, sweep_is_led_through_measured_rows)
{
    rig g;
    straight_lift(&g);
    g.machine.positions_count = 1;
    g.measured[0] = (trn_position){.position = "work", .shaft = "s", .pto_on = 1,
                                   .tube_side = 37.2 * DEG, .length = 0.8891};
    trn_fit_row row = judged(&g.machine);
    near_mm(row.length_max_mm, 889.1, 1e-9, "measured length");
    near_mm(row.largest_angle_deg, 37.2, 1e-9, "measured angle");
    /* derived: length = hypot(x, z) + t d, d = what was measured more at the end */
    double d = 0.8891 - hypot(0.7131, 0.520);
    double least = INFINITY;
    for (int i = 0; i <= 100000; i++) {
        double t = i / 100000.0;
        least = fmin(least, hypot(0.7131, -0.28 + 0.8 * t) + t * d);
    }
    near_mm(row.length_min_mm, 1000 * least, 1e-5, "shortest");
    g.measured[0].length = NAN; /* not measured: the dimensions count inside the sweep */
    near_mm(judged(&g.machine).length_min_mm, 713.1, 1e-6, "shortest without");
}

/* Neighbouring sweeps have neighbouring figures: no step as the place moves from row to row. */
Test(lift, continuous_over_the_end_of_a_sweep)
{
    double before[4] = {0};
    for (int i = 0; i <= 400; i++) {
        rig g;
        straight_lift(&g);
        g.rows[0].z = -0.28 + 0.8 * i / 400.0; /* passes level, and the stop */
        trn_fit_row row = judged(&g.machine);
        double now[] = {row.length_min_mm, row.length_max_mm, row.clearance_mm,
                        row.largest_angle_deg};
        for (int k = 0; k < 4 && i > 0; k++)
            cr_expect(fabs(now[k] - before[k]) < 1.3, "figure %d steps at %d: %g to %g", k, i,
                      before[k], now[k]);
        memcpy(before, now, sizeof now);
    }
}

/* A wing and its mirror image, tilted the other way about the axis across, have the same figures:
 * joint heights change sign with the tilt. */
Test(lift, mirrored_machine)
{
    rig g;
    rig_up(&g, 2, TRN_WING);
    for (size_t i = 0; i < 2; i++) {
        g.rows[i].a = 0.431;
        g.rows[i].h1 = 0.087;
        g.rows[i].b = 0.389;
        g.rows[i].h2 = 0.142;
        g.rows[i].tau = (i ? 78 : -13) * DEG;
    }
    trn_fit_row one = judged(&g.machine);
    for (size_t i = 0; i < 2; i++) {
        g.rows[i].h1 = -g.rows[i].h1;
        g.rows[i].h2 = -g.rows[i].h2;
        g.rows[i].tau = -g.rows[i].tau;
    }
    trn_fit_row two = judged(&g.machine);
    near_mm(two.length_min_mm, one.length_min_mm, 1e-9, "shortest");
    near_mm(two.length_max_mm, one.length_max_mm, 1e-9, "longest");
    near_mm(two.largest_angle_deg, one.largest_angle_deg, 1e-9, "angle");
    near_mm(-two.tilt_stop_down_deg, one.tilt_stop_up_deg, 1e-9, "stop");
}

/* A whole machine seen in a mirror: every plan slope and yoke error changes its sign, and no
 * figure of its shafts does. */
Test(lift, mirrored_case)
{
    char folder[1024];
    trn_faults faults = {0};
    trn_machine *m = NULL;
    (void)gsl_set_error_handler_off();
    (void)snprintf(folder, sizeof folder, "%s/cases/winged_shredder", test_root());
    cr_assert_eq(trn_machine_read(folder, &faults, &m), TRN_OK);
    trn_machine *mirror = trn_machine_copy(m);
    for (size_t i = 0; i < mirror->positions_count; i++) {
        trn_position *p = &mirror->positions[i];
        p->drive_plan = -p->drive_plan;
        p->tube_plan = -p->tube_plan;
        p->driven_plan = -p->driven_plan;
    }
    for (size_t i = 0; i < mirror->shafts_count; i++)
        mirror->shafts[i].yoke_error = -mirror->shafts[i].yoke_error;
    trn_results *a = trn_results_new(m);
    trn_results *b = trn_results_new(mirror);
    cr_assert_eq(trn_study_evaluate(m, TRN_WANT_ALL, a, NULL), TRN_OK);
    cr_assert_eq(trn_study_evaluate(mirror, TRN_WANT_ALL, b, NULL), TRN_OK);
    for (size_t i = 0; i < a->joints_count; i++) {
        const trn_joint_row *x = &a->joints[i];
        const trn_joint_row *y = &b->joints[i];
        const double pairs[][2] = {{x->angle_in_deg, y->angle_in_deg},
                                   {x->angle_out_deg, y->angle_out_deg},
                                   {x->angle_equivalent_deg, y->angle_equivalent_deg},
                                   {x->ripple_nm, y->ripple_nm},
                                   {x->couple_out_nm, y->couple_out_nm},
                                   {x->life_in_h, y->life_in_h},
                                   {x->life_out_h, y->life_out_h}};
        for (size_t k = 0; k < sizeof pairs / sizeof *pairs; k++)
            cr_expect((isnan(pairs[k][0]) && isnan(pairs[k][1])) || pairs[k][0] == pairs[k][1] ||
                          test_near(pairs[k][0], pairs[k][1], 1e-9),
                      "row %zu, figure %zu: %.15g and %.15g", i, k, pairs[k][0], pairs[k][1]);
    }
    for (size_t i = 0; i < m->shafts_count; i++) {
        cr_expect_str_eq(a->fits[i].shortest_at, b->fits[i].shortest_at);
        cr_expect_eq(a->fits[i].fits, b->fits[i].fits);
    }
    trn_results_free(a);
    trn_results_free(b);
    trn_machine_free(mirror);
    trn_machine_free(m);
}

/* Vectors in space: the same shaft by trn_shaft_between, at the place where it is longest. */
Test(lift, against_vectors_in_space)
{
    rig g;
    rig_up(&g, 2, TRN_WING);
    for (size_t i = 0; i < 2; i++) {
        g.rows[i].a = 0.431;
        g.rows[i].h1 = 0.087;
        g.rows[i].b = 0.389;
        g.rows[i].h2 = 0.142;
        g.rows[i].tau = (i ? 64 : -64) * DEG;
    }
    trn_fit_row row = judged(&g.machine);
    double longest = 0;
    double bend = 0;
    for (int i = 0; i <= 20000; i++) {
        double tau = (-64 + 128 * i / 20000.0) * DEG;
        double p1[] = {-0.431, 0, 0.087};
        double a1[] = {1, 0, 0};
        double p2[] = {0.389 * cos(tau) - 0.142 * sin(tau), 0,
                       0.389 * sin(tau) + 0.142 * cos(tau)};
        double a3[] = {cos(tau), 0, sin(tau)};
        double length = 0;
        trn_joint_space s;
        cr_assert(trn_shaft_between(p1, a1, p2, a3, 0, &length, &s) >= 0);
        longest = fmax(longest, length);
        bend = fmax(bend, fmax(s.beta1_rad, s.beta2_rad));
    }
    near_mm(row.length_max_mm, 1000 * longest, 1e-4, "longest");
    near_mm(row.largest_angle_deg, bend / DEG, 1e-4, "largest angle");
}

Test(lift, a_missing_dimension_is_named)
{
    rig g;
    straight_lift(&g);
    g.rows[1].pitch = NAN;
    (void)gsl_set_error_handler_off();
    trn_results *r = trn_results_new(&g.machine);
    cr_assert_eq(trn_study_evaluate(&g.machine, TRN_WANT_JOINTS | TRN_WANT_FIT, r, NULL), TRN_OK);
    trn_buffer text = {0};
    trn_remarks_text(&r->settings[1].remarks, &text);
    cr_expect_str_eq(text.text, "without `pitch`");
    cr_expect_str_eq(r->fits[0].shortest_at, "low");
    trn_buffer_free(&text);
    trn_results_free(r);
}
