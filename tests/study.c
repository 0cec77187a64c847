/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold for any case, whatever its numbers: balances, action and reaction, monotony.
 * Identities are derived; the invariants of intervals are those of the interval page, section 14.
 * The same case written otherwise: tests/study_same.c. */
#include <criterion/criterion.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/gear_force.h>
#include <trunnion/interval_rows.h>
#include <trunnion/lift.h>

#include "../src/study/heat_box.h"
#include "scratch.h"
#include "study_case.h"
#include "support.h"

static const double pi = 3.14159265358979323846;

/* ---- energy ------------------------------------------------------------------------------- */

/* loss + sun = k area (T - T_air), from the rows of the case through the parts of the balance. */
static size_t check_energy(const trn_machine *m, const trn_results *r)
{
    size_t checked = 0;
    trn_heat_parts *parts = malloc(sizeof *parts);
    trn_balance_ready *ready = malloc(sizeof *ready);
    cr_assert(parts && ready);
    for (size_t i = 0; i < m->duty_count; i++)
        for (size_t g = 0; g < m->gearboxes_count; g++) {
            const trn_heat_row *row = &r->heat[i * m->gearboxes_count + g];
            trn_balance_box box;
            trn_balance_loss at;
            trn_heat_path path;
            double absorbed = 0;
            double sun = 0;
            double t = row->modelled_temperature_c + 273.15;
            if (isnan(t) || trn_heat_box(m, r, i, g, parts, &box, NULL) < 0)
                continue;
            cr_assert(trn_balance_prepare(&box, ready) >= 0);
            cr_assert(trn_balance_loss_at(ready, t, &at) >= 0);
            cr_assert(trn_heat_wall(&box.surface, t, box.T_air_k, &path) >= 0);
            cr_assert(trn_heat_sun(box.sun_absorption, box.sun_w_m2, box.sun_area_m2, path.k_w_m2k,
                                   path.alpha_out_w_m2k, &absorbed, &sun) >= 0);
            double in = at.loss_w + sun;
            double c = box.cooling_factor > 0 ? box.cooling_factor : 1; /* from readings */
            double out = c * path.k_w_m2k * box.area_m2 * (t - box.T_air_k);
            cr_expect(test_near(in, out, 1e-6), "%s, %s: in %.12g W, out %.12g W",
                      m->duty[i].condition, m->gearboxes[g].gearbox, in, out);
            double parts_w = row->mesh_w + row->churning_w + row->bearings_w + row->seals_w;
            study_same("sum of the parts", parts_w, row->loss_w, 1e-12);
            if (!row->measured)
                study_same("loss as shown", at.loss_w, row->loss_w, 1e-9);
            checked++;
        }
    free(ready);
    free(parts);
    return checked;
}

Test(study, energy_balances_in_every_gearbox)
{
    size_t checked = 0;
    for (size_t c = 0; c < STUDY_CASES; c++) {
        trn_machine *m = study_read(study_cases[c]);
        trn_results *r = study_evaluated(m);
        checked += check_energy(m, r);
        trn_results_free(r);
        trn_machine_free(m);
    }
    cr_expect(checked > 40, "%zu balances", checked);
}

/* ---- teeth -------------------------------------------------------------------------------- */

/* Forces on the two gears of a bevel mesh add to nothing in the plane of the axles. With the
 * contact at cos d1 a1 + sin d1 r1 and a2 = cos S a1 + sin S r1, r2 = sin S a1 - cos S r1: */
static void check_bevel(const char *what, const trn_tooth_force *f1, const trn_tooth_force *f2,
                        double sigma)
{
    double size = f1->Ft + 1e-9;
    double along = f1->Fa + f2->Fa * cos(sigma) - f2->Fr * sin(sigma);
    double across = -f1->Fr + f2->Fa * sin(sigma) + f2->Fr * cos(sigma);
    cr_expect(fabs(along) < 1e-9 * size && fabs(across) < 1e-9 * size,
              "%s: %.3g N and %.3g N are left", what, along, across);
}

static size_t check_meshes(const trn_machine *m, const trn_results *r)
{
    size_t checked = 0;
    for (size_t i = 0; i < m->duty_count; i++)
        for (size_t g = 0; g < m->gears_count; g++) {
            const trn_gear *a = &m->gears[g];
            const trn_gear *b = &m->gears[a->mate_index];
            const trn_gear_row *x = &r->gears[i * m->gears_count + g];
            const trn_gear_row *y = &r->gears[i * m->gears_count + a->mate_index];
            /* forces act at the middle of each gear's own face */
            if (!a->driver || a->face_width != b->face_width)
                continue;
            trn_tooth_force f1 = {.Ft = x->ft_n, .Fr = x->fr_n, .Fa = x->fa_n};
            trn_tooth_force f2 = {.Ft = y->ft_n, .Fr = y->fr_n, .Fa = y->fa_n};
            study_same(a->gear, f1.Ft, f2.Ft, 1e-12);
            study_same(a->gear, x->torque_nm * b->teeth, y->torque_nm * a->teeth, 1e-12);
            if (a->kind <= TRN_SPIRAL_BEVEL) {
                check_bevel(a->gear, &f1, &f2, a->shaft_angle);
            } else {
                study_same(a->gear, f1.Fr, f2.Fr, 1e-12);
                study_same(a->gear, f1.Fa, f2.Fa, 1e-12);
            }
            if (fabs(a->shaft_angle - pi / 2) < 1e-12 && a->kind <= TRN_SPIRAL_BEVEL) {
                cr_expect(fabs(f1.Fr - f2.Fa) <= 1e-9 * f1.Ft, "%s: Fr1 %g Fa2 %g", a->gear, f1.Fr,
                          f2.Fa);
                cr_expect(fabs(f1.Fa - f2.Fr) <= 1e-9 * f1.Ft, "%s: Fa1 %g Fr2 %g", a->gear, f1.Fa,
                          f2.Fr);
            }
            checked++;
        }
    return checked;
}

Test(study, action_is_reaction_at_every_mesh)
{
    size_t checked = 0;
    for (size_t c = 0; c < STUDY_CASES; c++) {
        trn_machine *m = study_read(study_cases[c]);
        trn_results *r = study_evaluated(m);
        checked += check_meshes(m, r);
        trn_results_free(r);
        trn_machine_free(m);
    }
    cr_expect(checked > 60, "%zu meshes", checked);
}

/* ---- joints ------------------------------------------------------------------------------- */

Test(study, equal_angles_in_one_plane_leave_no_rest)
{
    static const struct {
        const char *tube, *driven; /* Z: parallel; W: twice the slope */
    } pairs[] = {{"-9.37", "0"}, {"14.81", "0"}, {"-7.13", "-14.26"}, {"3.3", "6.6"}};
    trn_machine *m = study_read("cases/rotary_mower");
    for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++) {
        study_set(m, "positions.work.main.tube_side", pairs[i].tube);
        study_set(m, "positions.work.main.driven_side", pairs[i].driven);
        study_link_again(m);
        trn_results *r = study_evaluated(m);
        const trn_joint_row *row = trn_results_joint(r, 0, 0);
        study_same("angles", row->angle_in_deg, row->angle_out_deg, 1e-12);
        cr_expect(row->angle_equivalent_deg < 1e-5, "rest %g deg", row->angle_equivalent_deg);
        cr_expect(row->fluctuation_pct < 1e-9 && row->ripple_nm < 1e-6, "U %g %%, ripple %g",
                  row->fluctuation_pct, row->ripple_nm);
        trn_results_free(r);
    }
    /* with the yokes 90 degrees out the two add: sqrt(b1^2 + b2^2) for small angles */
    study_set(m, "shafts.main.yoke_error", "90");
    study_link_again(m);
    trn_results *r = study_evaluated(m);
    const trn_joint_row *row = trn_results_joint(r, 0, 0);
    cr_expect(row->angle_equivalent_deg > 1.4 * row->angle_in_deg, "rest %g deg",
              row->angle_equivalent_deg);
    trn_results_free(r);
    trn_machine_free(m);
}

/* ---- intervals ---------------------------------------------------------------------------- */

/* Hot oil dries: what water does may take longer, the water itself and, where it comes to count
 * as a catalyst, ageing. */
static bool excepted(const trn_nominal *before, trn_cause cause, bool heats)
{
    return heats &&
           (cause == TRN_CAUSE_WATER || (cause == TRN_CAUSE_AGEING && isfinite(before->damp_h)));
}

static void none_longer(const char *what, const trn_results *before, const trn_results *after,
                        bool heats)
{
    for (size_t i = 0; i < before->machine->points_count; i++) {
        const char *point = before->machine->points[i].point;
        const trn_point_row *x = &before->points[i];
        const trn_point_row *y = &after->points[i];
        if (!heats)
            cr_expect(!(y->nominal_h > x->nominal_h * (1 + 1e-12)) &&
                          !(y->recommended_h > x->recommended_h),
                      "%s lengthens `%s`: %.9g to %.9g h", what, point, x->nominal_h, y->nominal_h);
        for (int k = 0; k < TRN_LIMITS; k++) {
            double from = x->nominal.limit[k].life_h;
            double to = y->nominal.limit[k].life_h;
            cr_expect(excepted(&x->nominal, (trn_cause)k, heats) || !(to > from * (1 + 1e-12)),
                      "%s lengthens `%s` by %s: %.9g to %.9g h", what, point,
                      trn_cause_word((trn_cause)k), from, to);
        }
    }
}

typedef struct harder {
    const char *path, *value;
    bool heats; /* the oil too */
} harder;

static const harder steps[] = {
    {"duty.*.dust", "x1.37", false},      {"duty.*.shock", "+0.11", false},
    {"duty.*.shock", "x1.8", false},      {"duty.*.power", "x1.23", true},
    {"duty.*.ambient", "+7.3", true},     {"duty.*.washes_per_100h", "+3", false},
    {"duty.*.wash_water", "x4", false},   {"machine.rated_power", "x0.9", false},
    {"points.*.ref_dust", "x0.7", false},
};

/* 14.1: what is harder on the lubricant never lengthens an interval. */
Test(study, harder_use_never_lengthens_an_interval)
{
    size_t done = 0;
    for (size_t c = 0; c < STUDY_CASES; c++) {
        trn_machine *m = study_read(study_cases[c]);
        trn_results *before = study_evaluated(m);
        for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++) {
            trn_faults faults = {0};
            trn_machine *hard = trn_machine_copy(m);
            cr_assert_not_null(hard);
            /* a quantity that a case leaves open has nothing to act on */
            if (trn_machine_set(hard, steps[i].path, steps[i].value, "--set", &faults) == TRN_OK) {
                study_link_again(hard);
                trn_results *after = study_evaluated(hard);
                none_longer(steps[i].path, before, after, steps[i].heats);
                trn_results_free(after);
                done++;
            }
            trn_faults_free(&faults);
            trn_machine_free(hard);
        }
        trn_results_free(before);
        trn_machine_free(m);
    }
    cr_expect(done > 25, "%zu comparisons", done);
}

Test(study, a_larger_angle_never_lengthens_an_interval)
{
    trn_machine *m = study_read("../sample-data/winged");
    trn_results *before = study_evaluated(m);
    static const harder more[] = {{"positions.level.main.tube_side", "x1.6", false},
                                  {"positions.level.wing left.tube_plan", "x2.4", false},
                                  {"geometry.ditch.wing left.tau", "x1.5", false}};
    for (size_t i = 0; i < sizeof more / sizeof more[0]; i++) {
        trn_machine *hard = study_changed(m, more[i].path, more[i].value);
        trn_results *after = study_evaluated(hard);
        for (size_t p = 0; p < m->points_count; p++)
            if (m->points[p].gearbox_index == TRN_NONE)
                cr_expect(!(after->points[p].nominal_h > before->points[p].nominal_h * (1 + 1e-12)),
                          "%s lengthens %s", more[i].path, m->points[p].point);
        trn_results_free(after);
        trn_machine_free(hard);
    }
    trn_results_free(before);
    trn_machine_free(m);
}

static const char reference_duty[] =
    "condition,share [%],pto_speed [rpm],power [kW],shock,ambient [degC],dust [mg/m3],"
    "oil_temperature [degC]\n"
    "reference,100,540,45,1.25,45,3,70\n";

/* 14.2: the reference condition as the only state gives the manual's interval for every task. */
Test(study, the_reference_duty_gives_the_manual)
{
    char folder[SCRATCH_PATH];
    scratch_make(folder);
    scratch_copy(folder, "cases/tedder");
    scratch_write(folder, "duty.csv", reference_duty);
    scratch_write(folder, "points.csv",
                  "point,component,task,manual_interval [h],ref_dust [mg/m3]\n"
                  "a,shaft,grease_joint,8,3\nb,shaft,grease_tube,20,\nc,hub,grease_bearing,47,\n"
                  "d,ratchet,grease_clutch,50,\ne,hinge,grease_pivot,40,\n"
                  "f,box,check_oil,50,\ng,box,change_oil,500,\n");
    trn_machine *m = scratch_case(folder);
    trn_results *r = study_evaluated(m);
    for (size_t i = 0; i < m->points_count; i++) {
        study_same(m->points[i].point, m->points[i].manual_interval, r->points[i].nominal_h, 1e-9);
        cr_expect_eq(r->points[i].recommended_h, m->points[i].manual_interval, "%s: %g h",
                     m->points[i].point, r->points[i].recommended_h);
    }
    trn_results_free(r);
    trn_machine_free(m);
    scratch_remove(folder);
}

/* The same with a shaft that is described: its own load, angle and speed as the reference. */
Test(study, a_shaft_at_its_reference_gives_the_manual)
{
    trn_machine *m = study_read("cases/rotary_mower");
    static const char *const same_state[][2] = {
        {"duty.*.dust", "15"},         {"duty.*.shock", "1.25"},    {"duty.*.ambient", "45"},
        {"duty.*.position", "work"},   {"duty.*.pto_speed", "540"}, {"duty.*.power", "27.3"},
        {"points.tube.ref_dust", "15"}};
    for (size_t i = 0; i < sizeof same_state / sizeof same_state[0]; i++)
        study_set(m, same_state[i][0], same_state[i][1]);
    study_link_again(m);
    trn_results *r = study_evaluated(m);
    const trn_joint_row *row = trn_results_joint(r, 0, 0);
    m->points[0].ref_load = row->cross_load_n / m->shafts[0].cross_rating;
    m->points[0].ref_angle = row->cross_angle_rad;
    cr_assert_eq(trn_study_evaluate(m, TRN_WANT_ALL, r, NULL), TRN_OK);
    for (size_t i = 0; i < 2; i++)
        study_same(m->points[i].point, m->points[i].manual_interval, r->points[i].nominal_h, 1e-9);
    /* away from it in one direction: shorter */
    m->points[0].ref_angle *= 0.9;
    cr_assert_eq(trn_study_evaluate(m, TRN_WANT_ALL, r, NULL), TRN_OK);
    study_same("angle over the reference", m->points[0].manual_interval * 0.9,
               r->points[0].nominal_h, 1e-9);
    trn_results_free(r);
    trn_machine_free(m);
}

/* 14.3, medians: never longer than the manual, on the clock, at most 10 % above T_q. */
Test(study, recommendations_keep_to_manual_and_clock)
{
    static const double clock[] = {4, 8, 10, 20, 25, 40, 50, 100, 125, 200, 250, 400, 500, 1000};
    for (size_t c = 0; c < STUDY_CASES; c++) {
        trn_machine *m = study_read(study_cases[c]);
        trn_results *r = study_evaluated(m);
        for (size_t i = 0; i < m->points_count; i++) {
            const trn_point_row *p = &r->points[i];
            bool step = p->recommended_h == p->manual_h;
            if (isnan(p->recommended_h))
                continue;
            for (size_t k = 0; k < sizeof clock / sizeof clock[0]; k++)
                step = step || p->recommended_h == clock[k];
            for (size_t k = 0; k < m->head.service_clock.n; k++)
                step = step || p->recommended_h == m->head.service_clock.v[k];
            cr_expect(step, "%s: %g h is no step", m->points[i].point, p->recommended_h);
            cr_expect(p->recommended_h <= p->manual_h, "%s", m->points[i].point);
            cr_expect(p->recommended_h <= fmax(4, 1.1 * p->at_risk_h * (1 + 1e-9)), "%s",
                      m->points[i].point);
        }
        trn_results_free(r);
        trn_machine_free(m);
    }
}

/* 14.10: a stated dust intake without samples is in no interval. */
Test(study, a_stated_dust_intake_changes_no_interval)
{
    trn_machine *m = study_read("../sample-data/winged");
    trn_machine *more = study_changed(m, "gearboxes.*.dust_intake", "9");
    trn_results *a = study_evaluated(m);
    trn_results *b = study_evaluated(more);
    study_same_outcome("dust_intake", a, b, 1e-12, STUDY_INTERVALS);
    cr_expect(b->gearboxes[1].lnmh_h < a->gearboxes[1].lnmh_h, "dirtier oil, shorter life");
    trn_results_free(a);
    trn_results_free(b);
    trn_machine_free(more);
    trn_machine_free(m);
}

/* ---- the sample ---------------------------------------------------------------------------- */

/* The invented mulcher stays a sensible one: temperatures, lives, angles, fit, oil levels. */
Test(study, the_sample_machine_is_plausible)
{
    trn_machine *m = study_read("../sample-data/winged");
    trn_results *r = study_evaluated(m);
    for (size_t i = 0; i < m->duty_count * m->gearboxes_count; i++) {
        const trn_heat_row *h = &r->heat[i];
        cr_expect(h->oil_temperature_c > 45 && h->oil_temperature_c < 95, "%s, %s: %g degC",
                  m->duty[h->condition].condition, m->gearboxes[h->gearbox].gearbox,
                  h->oil_temperature_c);
        cr_expect(!h->low_oil);
    }
    for (size_t i = 0; i < m->bearings_count; i++) {
        const trn_bearing_row *b = &r->bearings[m->duty_count * m->bearings_count + i];
        cr_expect(b->lnmh_h > 2500, "%s: %g h", m->bearings[i].bearing, b->lnmh_h);
    }
    size_t misfits = 0;
    for (size_t i = 0; i < m->shafts_count; i++) {
        misfits += r->fits[i].fits != TRN_FIT_YES;
        for (size_t k = 0; k < m->duty_count; k++) {
            const trn_joint_row *j = trn_results_joint(r, k, i);
            cr_expect(j->angle_in_deg > 2 && j->angle_in_deg < 21 && j->angle_out_deg < 21,
                      "%s: %g and %g deg", m->shafts[i].shaft, j->angle_in_deg, j->angle_out_deg);
        }
    }
    cr_expect_eq(misfits, 1);
    cr_expect_eq(r->fits[trn_find_shaft(m, "wing right")].fits, TRN_FIT_CUT);
    trn_results_free(r);
    for (size_t i = 0; i < m->scenarios_count; i++) {
        trn_faults faults = {0};
        trn_machine *n = trn_machine_copy(m);
        cr_assert_not_null(n);
        cr_expect_eq(trn_machine_scenario(n, m->scenarios[i].scenario, &faults), TRN_OK, "%s",
                     m->scenarios[i].scenario);
        study_link_again(n);
        trn_results *s = study_evaluated(n);
        bool low = strcmp(m->scenarios[i].scenario, "low oil") == 0;
        cr_expect_eq(s->heat[0].low_oil, low, "%s", m->scenarios[i].scenario);
        trn_results_free(s);
        trn_machine_free(n);
        trn_faults_free(&faults);
    }
    trn_machine_free(m);
}
