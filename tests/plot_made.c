/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plot_made.h"

#include <math.h>
#include <stdio.h>
#include <trunnion/interval_rows.h>

enum { CONDITIONS = 2, NAMES = 128, NAME = 400, VISITS = 400 };

static char names[NAMES][NAME];
static size_t names_used;
static trn_machine machine;
static trn_results results;
static trn_extras extras;
static trn_duty duty[CONDITIONS];
static trn_shaft shafts[MADE_SHAFTS];
static trn_gearbox gearboxes[MADE_GEARBOXES];
static trn_axle axles[MADE_GEARBOXES];
static trn_bearing bearings[MADE_BEARINGS];
static trn_point points[MADE_POINTS];
static trn_joint_row joints[CONDITIONS * MADE_SHAFTS];
static trn_heat_row heat[CONDITIONS * MADE_GEARBOXES];
static trn_bearing_row lives[(CONDITIONS + 1) * MADE_BEARINGS];
static trn_gearbox_row systems[MADE_GEARBOXES];
static trn_point_row rows[MADE_POINTS];
static trn_turn_row turns[CONDITIONS * MADE_SHAFTS * 361];
static trn_warmup_row warmup[CONDITIONS * MADE_GEARBOXES * TRN_WARMUP_POINTS];
static trn_visit_row visits[VISITS];

static const char *called(const char *name, const char *kind, size_t i)
{
    char *text = names[names_used++];
    (void)snprintf(text, NAME, "%s%s%s%zu", name ? name : "", name ? " " : "", kind, i + 1);
    return text;
}

static void make_machine(const char *name)
{
    machine = (trn_machine){.head = {.design_life = 3200, .hours_per_year = 420},
                            .duty = duty,
                            .duty_count = CONDITIONS,
                            .shafts = shafts,
                            .shafts_count = MADE_SHAFTS,
                            .gearboxes = gearboxes,
                            .gearboxes_count = MADE_GEARBOXES,
                            .axles = axles,
                            .axles_count = MADE_GEARBOXES,
                            .bearings = bearings,
                            .bearings_count = MADE_BEARINGS,
                            .points = points,
                            .points_count = MADE_POINTS};
    for (size_t i = 0; i < CONDITIONS; i++)
        duty[i] = (trn_duty){.condition = called(name, "c", i), .share = i == 1 ? 0.63 : 0.37};
    for (size_t i = 0; i < MADE_SHAFTS; i++)
        shafts[i] = (trn_shaft){.shaft = called(name, "s", i),
                                .kind = i == 2 ? TRN_ONE_JOINT : TRN_TWO_JOINT};
    for (size_t i = 0; i < MADE_GEARBOXES; i++) {
        gearboxes[i] = (trn_gearbox){.gearbox = called(name, "g", i)};
        axles[i] = (trn_axle){.axle = "axle", .gearbox = gearboxes[i].gearbox,
                              .gearbox_index = i};
    }
    for (size_t i = 0; i < MADE_BEARINGS; i++)
        bearings[i] = (trn_bearing){.bearing = called(name, "b", i), .axle_index = i / 4};
    for (size_t i = 0; i < MADE_POINTS; i++)
        points[i] = (trn_point){.point = called(name, "p", i), .task = TRN_TASK_GREASE_JOINT};
}

static void make_turns(void)
{
    extras.turns = turns;
    extras.turns_count = 0;
    for (size_t c = 0; c < CONDITIONS; c++)
        for (size_t s = 0; s < MADE_SHAFTS; s++) {
            double swing = 0.0041 * (double)(s + 1); /* of the output, as a fraction */
            joints[c * MADE_SHAFTS + s] = (trn_joint_row){
                .condition = c, .shaft = s, .speed_rpm = 540, .fluctuation_pct = 100 * swing};
            for (size_t k = 0; k <= 360; k++) {
                double x = (double)k * 3.14159265358979 / 180;
                turns[extras.turns_count++] = (trn_turn_row){
                    .condition = c,
                    .shaft = s,
                    .turn_deg = (double)k,
                    .at = {540 * (1 + swing * cos(2 * x)), 540 * (1 + swing / 2 * sin(2 * x)), 0}};
            }
        }
}

static void make_heat(void)
{
    extras.warmup = warmup;
    extras.warmup_count = 0;
    for (size_t c = 0; c < CONDITIONS; c++)
        for (size_t g = 0; g < MADE_GEARBOXES; g++) {
            double k = (double)(g + 1);
            heat[c * MADE_GEARBOXES + g] =
                (trn_heat_row){.condition = c, .gearbox = g, .power_kw = 12.5,
                               .mesh_w = 40 * k, .bearings_w = 25 * k, .seals_w = 15 * k,
                               .churning_w = 20 * k, .churning_low_w = 12 * k,
                               .churning_high_w = 35 * k, .loss_w = 100 * k,
                               .oil_temperature_c = 55 + k};
            for (size_t t = 0; t < TRN_WARMUP_POINTS; t++)
                warmup[extras.warmup_count++] = (trn_warmup_row){
                    .condition = c, .gearbox = g, .time_min = (double)t,
                    .oil_temperature_c = 20 + (35 + k) * (1 - exp(-(double)t / 31.5))};
        }
}

/* b1 lives 1000 h, b2 2000 h and so on; the last two beyond the axis and not known. */
static void make_lives(void)
{
    for (size_t i = 0; i < MADE_BEARINGS; i++)
        lives[CONDITIONS * MADE_BEARINGS + i] =
            (trn_bearing_row){.condition = CONDITIONS, .bearing = i,
                              .l10h_h = 1600 * (double)(i + 1), .lnmh_h = 1000 * (double)(i + 1)};
    lives[CONDITIONS * MADE_BEARINGS + MADE_BEARINGS - 2].lnmh_h = 234567;
    lives[CONDITIONS * MADE_BEARINGS + MADE_BEARINGS - 1].l10h_h = NAN;
    lives[CONDITIONS * MADE_BEARINGS + MADE_BEARINGS - 1].lnmh_h = NAN;
}

/* The first point is due five times as often as the manual says; the last is not known. */
static void make_points(void)
{
    extras.visits = visits;
    extras.visits_count = 0;
    for (size_t i = 0; i < MADE_POINTS; i++) {
        double share = i == 0 ? 0.2 : i < 30 ? 0.5 : 1;
        rows[i] = (trn_point_row){.point = i, .manual_h = 50, .nominal_h = 70 * share,
                                  .at_risk_h = 55 * share, .recommended_h = 50 * share,
                                  .shortening = 1 / share,
                                  .governed_by = share < 1 ? TRN_CAUSE_DUST : TRN_CAUSE_MANUAL,
                                  .second_limit = TRN_CAUSE_NONE};
    }
    rows[MADE_POINTS - 1].recommended_h = rows[MADE_POINTS - 1].shortening = NAN;
    for (size_t visit = 1; visit <= 42; visit++)
        for (size_t i = 0; i < 3; i++)
            if (i == 0 || visit % 5 == 0)
                visits[extras.visits_count++] =
                    (trn_visit_row){.visit_h = 10 * (double)visit, .point = i};
}

trn_results *plot_made_to_change(void)
{
    return &results;
}

const trn_results *plot_made(const char *name)
{
    names_used = 0;
    results = (trn_results){.machine = &machine, .joints = joints, .heat = heat,
                            .bearings = lives, .gearboxes = systems, .points = rows,
                            .joints_count = CONDITIONS * MADE_SHAFTS, .extras = &extras};
    make_machine(name);
    make_turns();
    make_heat();
    make_lives();
    make_points();
    return &results;
}
