/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The case: what is refused and how it is said, defaults, units, links, overrides. Expectations
 * are derived from docs/case-tables.md. */
#include <criterion/criterion.h>
#include <dirent.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "scratch.h"
#include "support.h"

#define BASE "bad/case/base"
static const double pi = 3.14159265358979323846;

/* ---- refused cases ------------------------------------------------------------------------ */

static int is_fault(const struct dirent *e)
{
    return e->d_name[0] != '.' && strchr(e->d_name, '.') == NULL && strcmp(e->d_name, "base") != 0;
}

/* Takes away the table that a file `without` names. */
static void leave_out(const char *folder, const char *from)
{
    char *file = scratch_read(from, "without");
    char path[SCRATCH_PATH];
    if (!file)
        return;
    file[strcspn(file, "\r\n")] = '\0';
    int n = snprintf(path, sizeof path, "%s/%s", folder, file);
    cr_assert(n > 0 && n < (int)sizeof path);
    cr_expect_eq(remove(path), 0, "%s", path);
    free(file);
}

static void check_refused(const char *name)
{
    char folder[SCRATCH_PATH];
    char below[SCRATCH_PATH];
    char from[SCRATCH_PATH];
    (void)snprintf(below, sizeof below, "bad/case/%.200s", name);
    (void)snprintf(from, sizeof from, "%.200s/bad/case/%.200s", test_root(), name);
    scratch_make(folder);
    scratch_copy(folder, BASE);
    scratch_copy(folder, below);
    leave_out(folder, from);
    trn_faults faults = {0};
    trn_machine *machine = (trn_machine *)folder;
    trn_status status = trn_machine_read(folder, &faults, &machine);
    char *got = scratch_faults(&faults);
    char *wanted = scratch_read(from, "expected");
    cr_expect_eq(status, TRN_E_INPUT, "%s: status %d", name, status);
    cr_expect_null(machine, "%s: a machine is returned", name);
    cr_assert_not_null(wanted, "%s has no file `expected`", name);
    cr_expect_str_eq(got, wanted, "%s\nwanted %sgot    %s", name, wanted, got);
    free(wanted);
    free(got);
    trn_faults_free(&faults);
    scratch_remove(folder);
}

Test(machine, every_fault_is_named_with_its_place)
{
    char path[SCRATCH_PATH];
    struct dirent **list = NULL;
    (void)snprintf(path, sizeof path, "%.200s/bad/case", test_root());
    int n = scandir(path, &list, is_fault, alphasort);
    cr_assert(n >= 35, "%d folders below %s", n, path);
    for (int i = 0; i < n; i++) {
        check_refused(list[i]->d_name);
        free(list[i]);
    }
    free(list);
}

Test(machine, the_base_of_the_faulty_cases_is_good)
{
    char path[SCRATCH_PATH];
    (void)snprintf(path, sizeof path, "%.200s/" BASE, test_root());
    trn_machine_free(scratch_case(path));
}

Test(machine, twenty_faults_are_kept_and_all_counted)
{
    char folder[SCRATCH_PATH];
    trn_faults faults = {0};
    trn_machine *machine = NULL;
    scratch_make(folder);
    scratch_copy(folder, BASE);
    scratch_copy(folder, "bad/case/duty_more_than_twenty");
    cr_expect_eq(trn_machine_read(folder, &faults, &machine), TRN_E_INPUT);
    cr_expect_eq(faults.kept, TRN_FAULTS_KEPT);
    cr_expect_eq(faults.count, 24);
    trn_faults_free(&faults);
    scratch_remove(folder);
}

Test(machine, what_is_no_folder_is_said_to_be_none)
{
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 16];
    trn_faults faults = {0};
    trn_machine *machine = NULL;
    scratch_make(folder);
    scratch_write(folder, "case", "no folder");
    (void)snprintf(path, sizeof path, "%s/case", folder);
    cr_expect_eq(trn_machine_read(path, &faults, &machine), TRN_E_IO);
    cr_expect_null(machine);
    cr_assert_eq(faults.kept, 1);
    cr_expect_str_eq(faults.list[0].text, "not a folder that can be read");
    cr_expect_str_eq(faults.list[0].file, path);
    trn_faults_free(&faults);
    (void)snprintf(path, sizeof path, "%s/none", folder);
    cr_expect_eq(trn_machine_read(path, &faults, &machine), TRN_E_IO);
    cr_assert_eq(faults.kept, 1);
    cr_expect_str_eq(faults.list[0].text, "there is no such folder");
    trn_faults_free(&faults);
    scratch_remove(folder);
}

Test(machine, an_empty_folder_lacks_the_three_tables)
{
    char folder[SCRATCH_PATH];
    trn_faults faults = {0};
    trn_machine *machine = NULL;
    scratch_make(folder);
    cr_expect_eq(trn_machine_read(folder, &faults, &machine), TRN_E_INPUT);
    cr_assert_eq(faults.count, 3);
    cr_expect_str_eq(faults.list[0].file, "machine.csv");
    cr_expect_str_eq(faults.list[1].file, "points.csv");
    cr_expect_str_eq(faults.list[2].file, "duty.csv");
    trn_faults_free(&faults);
    scratch_remove(folder);
}

/* ---- what is read ------------------------------------------------------------------------- */

static void near(const char *what, double wanted, double got)
{
    cr_expect(test_near(wanted, got, 1e-12), "%s: wanted %.15g got %.15g", what, wanted, got);
}

static trn_machine *base(void)
{
    char path[SCRATCH_PATH];
    (void)snprintf(path, sizeof path, "%.200s/" BASE, test_root());
    return scratch_case(path);
}

Test(machine, numbers_are_in_si_and_defaults_are_those_of_the_page)
{
    trn_machine *m = base();
    near("pto_speed", 540 * pi / 30, m->head.pto_speed);
    near("rated_power", 45e3, m->head.rated_power);
    near("design_life", 3000, m->head.design_life);
    near("reliability", 0.9, m->head.reliability);
    near("ambient", 293.15, m->head.ambient);
    cr_expect(isnan(m->head.labour_rate) && isnan(m->head.warranty_hours));
    const trn_shaft *s = &m->shafts[trn_find_shaft(m, "main")];
    near("profile_friction", 0.1, s->profile_friction);
    near("sliding", 0.1, s->sliding);
    near("angle_limit", 25 * pi / 180, s->angle_limit);
    near("angle_limit_brief", 35 * pi / 180, s->angle_limit_brief);
    cr_expect(isnan(s->cross_rating));
    const trn_gearbox *g = &m->gearboxes[0];
    near("oil_volume", 2.1e-3, g->oil_volume);
    near("residual_oil", 0.1, g->residual_oil);
    near("air_speed", 1.4, g->air_speed);
    cr_expect(isnan(g->area) && isnan(g->heat_transfer));
    near("spiral_angle", 30 * pi / 180, m->gears[0].spiral_angle);
    near("roughness", 1e-6, m->gears[0].roughness);
    near("share", 0.3, m->duty[1].share);
    near("humidity", 0.6, m->duty[1].humidity);
    cr_expect_eq(m->duty[1].dust_class, 3);
    near("ref_dust of a daily point", 15e-6, m->points[0].ref_dust);
    near("ref_dust of an oil", 3e-6, m->points[1].ref_dust);
    cr_expect_eq(m->axles[1].seals.n, 2);
    cr_expect_eq(m->duty[1].row.line, 3);
    trn_machine_free(m);
}

Test(machine, a_wide_angle_joint_may_fold_further)
{
    char folder[SCRATCH_PATH];
    scratch_make(folder);
    scratch_copy(folder, BASE);
    scratch_edit(folder, "shafts.csv", "two_joint", "wide_angle");
    trn_machine *m = scratch_case(folder);
    near("angle_limit_brief", 50 * pi / 180, m->shafts[0].angle_limit_brief);
    trn_machine_free(m);
    scratch_remove(folder);
}

Test(machine, the_power_tree_gives_speeds_and_senses)
{
    trn_machine *m = base();
    const trn_shaft *link = &m->shafts[trn_find_shaft(m, "link")];
    near("link", 25.0 / 19, link->speed_ratio);
    near("drum_out over drum_in", 17.0 / 31, m->axles[trn_find_axle(m, "drum_out")].ratio);
    cr_expect_eq(link->from_axle, trn_find_axle(m, "box_out"));
    cr_expect_eq(link->to_gearbox, trn_find_gearbox(m, "drum"));
    cr_expect_eq(m->shafts[0].from_gearbox, TRN_NONE);
    /* cw with the apex on + turns along +; mates turn opposite ways, and ccw with the apex on -
     * is along + again */
    cr_expect_eq(m->axles[trn_find_axle(m, "box_in")].sense, 1);
    cr_expect_eq(m->axles[trn_find_axle(m, "box_out")].sense, 1);
    cr_expect_eq(m->axles[trn_find_axle(m, "drum_in")].sense, 0, "no rotation is given there");
    cr_expect(m->gears[trn_find_gear(m, "wheel")].driver);
    cr_expect(!m->gears[trn_find_gear(m, "pinion")].driver);
    cr_expect_eq(m->points[0].shaft_index, 0);
    cr_expect_eq(m->points[1].gearbox_index, 0);
    cr_expect_eq(m->points[1].oil_index, 0);
    trn_machine_free(m);
}

Test(machine, other_units_convert)
{
    char folder[SCRATCH_PATH];
    scratch_make(folder);
    scratch_copy(folder, BASE);
    scratch_write(folder, "duty.csv",
                  "condition,hours [min],pto_speed [rad/s],power [hp],ambient [degF],dust [g/m3]\n"
                  "a,7200,56.548667764616276,27.3,68,0.0033\n"
                  "b,2400,50,41,86.9,0.0123\n");
    trn_machine *m = scratch_case(folder);
    near("share", 0.75, m->duty[0].share);
    near("speed", 18 * pi, m->duty[0].pto_speed);
    /* 550 ft lbf/s (derived) */
    near("power", 27.3 * 745.69987158227022, m->duty[0].power);
    near("ambient", 293.15, m->duty[0].ambient);
    near("dust", 12.3e-6, m->duty[1].dust);
    trn_machine_free(m);
    scratch_remove(folder);
}

Test(machine, dialect_column_order_notes_and_comments_do_not_matter)
{
    char folder[SCRATCH_PATH];
    scratch_make(folder);
    scratch_copy(folder, BASE);
    scratch_write(folder, "duty.csv",
                  "\xEF\xBB\xBFpower [kW];note who;shock;condition;note;dust_class;pto_speed [rpm];"
                  "position;share [%];;\r\n"
                  "# a comment; with a separator\r\n"
                  "22;me;1,35;grass;\"two\nlines\";damp;540;work;70;;\r\n"
                  "\r\n"
                  "31;;1,6;stubble;;severe;500;work;30;;\r\n");
    trn_machine *m = scratch_case(folder);
    trn_machine *b = base();
    cr_assert_eq(m->duty_count, 2);
    for (size_t i = 0; i < 2; i++) {
        cr_expect_str_eq(m->duty[i].condition, b->duty[i].condition);
        near("power", b->duty[i].power, m->duty[i].power);
        near("shock", b->duty[i].shock, m->duty[i].shock);
        near("share", b->duty[i].share, m->duty[i].share);
        cr_expect_eq(m->duty[i].dust_class, b->duty[i].dust_class);
    }
    cr_expect_str_eq(m->duty[0].note, "me; two\nlines");
    cr_expect_null(m->duty[1].note);
    cr_expect_eq(m->duty[0].row.line, 3);
    cr_expect_eq(m->duty[1].row.line, 6, "line %zu", m->duty[1].row.line);
    trn_machine_free(m);
    trn_machine_free(b);
    scratch_remove(folder);
}

/* ---- overrides ---------------------------------------------------------------------------- */

static void set(trn_machine *m, const char *path, const char *value)
{
    trn_faults faults = {0};
    trn_status status = trn_machine_set(m, path, value, "--set", &faults);
    cr_expect_eq(status, TRN_OK, "%s = %s: %s", path, value,
                 faults.kept ? faults.list[0].text : "");
    trn_faults_free(&faults);
}

Test(machine, a_path_sets_numbers_words_lists_and_every_key)
{
    trn_machine *m = base();
    set(m, "machine.rated_power", "52.5");
    near("rated_power", 52500, m->head.rated_power);
    set(m, "machine.hours_per_year", "9000 min");
    near("hours_per_year", 150, m->head.hours_per_year);
    set(m, "gearboxes.box.oil_volume", "0.5 gal");
    near("gal", 0.5 * 3.785411784e-3, m->gearboxes[0].oil_volume);
    set(m, "gearboxes.*.oil_volume", "x1.2");
    near("x1.2", 0.6 * 3.785411784e-3, m->gearboxes[0].oil_volume);
    near("x1.2", 1.56e-3, m->gearboxes[1].oil_volume);
    set(m, "gearboxes.drum.oil_volume", "+-0.3");
    near("+-0.3", 1.26e-3, m->gearboxes[1].oil_volume);
    set(m, "gearboxes.drum.oil_volume", "+100 mL");
    near("+100 mL", 1.36e-3, m->gearboxes[1].oil_volume);
    set(m, "machine.ambient", "+9 degF"); /* differences: 5 K */
    near("ambient", 298.15, m->head.ambient);
    set(m, "duty.stubble.dust_class", "extreme");
    cr_expect_eq(m->duty[1].dust_class, 4);
    set(m, "axles.box_out.seals", "40/42.5/50");
    cr_expect_eq(m->axles[1].seals.n, 3);
    near("seal", 0.0425, m->axles[1].seals.v[1]);
    set(m, "positions.work.main.tube_side", "-12.5");
    near("tube_side", -12.5 * pi / 180, m->positions[0].tube_side);
    set(m, "positions.work.*.pto_on", "no");
    cr_expect_eq(m->positions[1].pto_on, 0);
    set(m, "geometry.lifted.main.z", "200");
    near("z", 0.2, m->geometry[0].z);
    set(m, "points.crosses.manual_interval", "8");
    near("manual_interval", 8, m->points[0].manual_interval);
    set(m, "points.box oil.change_oil.lubricant", "other oil");
    cr_expect_str_eq(m->points[1].lubricant, "other oil");
    set(m, "gears.wheel.apex", "-");
    cr_expect_eq(m->gears[0].apex, 1);
    trn_machine_free(m);
}

typedef struct refusal {
    const char *path, *value, *says;
} refusal;

static const refusal refusals[] = {
    {"machine.rated_pwoer", "50", "machine has no column `rated_pwoer` to set; the nearest: "},
    {"gearbox.box.oil_volume", "2", "there is no table `gearbox`; the nearest: `gearboxes`"},
    {"gearboxes.bxo.oil_volume", "2", "gearboxes has no `bxo`; the nearest: `box`"},
    {"gearboxes.box.oil_volum", "2",
     "gearboxes has no column `oil_volum` to set; the nearest: "
     "`oil_volume`"},
    {"gearboxes.box.gearbox", "x", "gearboxes has no column `gearbox` to set"},
    {"gearboxes.box", "2", "`gearboxes.box`: write gearboxes.KEY.COLUMN"},
    {"rated_power", "2", "is no path; write table.key.column or machine.quantity"},
    {"positions.work.tube_side", "2", "write positions.KEY.KEY.COLUMN"},
    {"gearboxes.box.oil_volume", "-1", "-1 is not above 0; a value above 0 to 1000 L is expected"},
    {"gearboxes.box.oil_volume", "x-1", "is not a number"},
    {"gearboxes.box.oil_volume", "2 kW", "`kW` does not convert to L"},
    {"gearboxes.box.oil_volume", "", "no value is given"},
    {"gearboxes.box.area", "x1.2", "area is not known in the case"},
    {"duty.grass.dust_class", "dry", "`dry` is none of damp, reference, dusty, severe, extreme"},
    {"duty.grass.position", "x2", ""},
    {"machine.hours_per_year", "10 day", "hours of use take h or min, not `day`"},
};

Test(machine, a_wrong_override_is_refused_and_says_what_is_nearest)
{
    for (size_t i = 0; i < sizeof refusals / sizeof refusals[0]; i++) {
        const refusal *r = &refusals[i];
        trn_machine *m = base();
        trn_faults faults = {0};
        double before = m->gearboxes[0].oil_volume;
        trn_status status = trn_machine_set(m, r->path, r->value, "--set", &faults);
        if (strcmp(r->path, "duty.grass.position") == 0) {
            /* a name like any other: the link finds that there is none */
            cr_expect_eq(status, TRN_OK);
            status = trn_machine_link(m, &faults);
        }
        cr_expect_eq(status, TRN_E_INPUT, "%s = %s: status %d", r->path, r->value, status);
        cr_assert_eq(faults.kept, 1, "%s = %s", r->path, r->value);
        cr_expect(strstr(faults.list[0].text, r->says) != NULL, "%s = %s: wanted `%s` got `%s`",
                  r->path, r->value, r->says, faults.list[0].text);
        cr_expect_eq(m->gearboxes[0].oil_volume, before);
        trn_faults_free(&faults);
        trn_machine_free(m);
    }
}

Test(machine, an_override_is_checked_like_a_cell_that_was_read)
{
    static const refusal wrong[] = {
        {"duty.grass.share", "60", "the shares add to 90 %"},
        {"gears.pinion.hand", "left", "have the same hand"},
        {"shafts.main.power_share", "40", "40 % enter the gearbox `box` but 60 % leave it"},
        {"bearings.drum_a.kind", "tapered", "a tapered bearing needs its contact angle"},
        {"gearboxes.drum.oil", "ep140", "`ep140` is no oil of oils.csv; the nearest is `ep90`"},
    };
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        trn_machine *m = base();
        trn_faults faults = {0};
        set(m, wrong[i].path, wrong[i].value);
        cr_expect_eq(trn_machine_link(m, &faults), TRN_E_INPUT, "%s", wrong[i].path);
        cr_assert(faults.kept > 0, "%s", wrong[i].path);
        cr_expect(strstr(faults.list[0].text, wrong[i].says) != NULL, "wanted `%s` got `%s`",
                  wrong[i].says, faults.list[0].text);
        trn_faults_free(&faults);
        trn_machine_free(m);
    }
}

static trn_machine *with_scenarios(char folder[SCRATCH_PATH], const char *rows)
{
    scratch_make(folder);
    scratch_copy(folder, BASE);
    scratch_write(folder, "scenarios.csv", rows);
    trn_machine *m = scratch_case(folder);
    scratch_remove(folder);
    return m;
}

Test(machine, a_scenario_applies_values_then_factors_then_offsets)
{
    char folder[SCRATCH_PATH];
    trn_faults faults = {0};
    trn_machine *m = with_scenarios(folder, "scenario,quantity,value,note\n"
                                            "a,machine.rated_power,+5,last\n"
                                            "a,machine.rated_power,x1.5,second\n"
                                            "other,machine.rated_power,99,not of this one\n"
                                            "a,machine.rated_power,40,first\n"
                                            "a,duty.*.power,x0.8,\n");
    cr_expect_eq(trn_machine_scenario(m, "a", &faults), TRN_OK);
    near("40 x 1.5 + 5", 65e3, m->head.rated_power);
    near("0.8 x 22", 17.6e3, m->duty[0].power);
    cr_expect_eq(trn_machine_scenario(m, "none", &faults), TRN_E_INPUT);
    cr_assert_eq(faults.kept, 1);
    cr_expect_str_eq(faults.list[0].text, "there is no scenario `none`");
    trn_faults_free(&faults);
    trn_machine_free(m);
}

Test(machine, two_absolute_values_on_one_cell_are_a_fault)
{
    char folder[SCRATCH_PATH];
    trn_faults faults = {0};
    trn_machine *m = with_scenarios(folder, "scenario,quantity,value\n"
                                            "a,duty.*.power,30\n"
                                            "a,duty.grass.power,20\n"
                                            "b,gearboxes.box.oil_volum,2\n");
    cr_expect_eq(trn_machine_scenario(m, "a", &faults), TRN_E_INPUT);
    cr_assert_eq(faults.kept, 1);
    cr_expect_eq(faults.list[0].line, 3);
    cr_expect_str_eq(faults.list[0].text, "`a` gives a second absolute value to what line 2 sets");
    trn_faults_free(&faults);
    cr_expect_eq(trn_machine_scenario(m, "b", &faults), TRN_E_INPUT);
    cr_assert_eq(faults.kept, 1);
    cr_expect_str_eq(faults.list[0].file, "scenarios.csv:4");
    trn_faults_free(&faults);
    trn_machine_free(m);
}

Test(machine, a_copy_has_rows_of_its_own)
{
    trn_machine *m = base();
    trn_machine *copy = trn_machine_copy(m);
    trn_faults faults = {0};
    cr_assert_not_null(copy);
    set(copy, "gearboxes.*.oil_volume", "x2");
    set(copy, "duty.grass.position", "lifted");
    set(copy, "machine.rated_power", "12");
    near("original", 2.1e-3, m->gearboxes[0].oil_volume);
    cr_expect_str_eq(m->duty[0].position, "work");
    near("original", 45e3, m->head.rated_power);
    cr_expect_eq(trn_machine_link(copy, &faults), TRN_OK);
    cr_expect_str_eq(copy->duty[0].position, "lifted");
    trn_machine_free(copy);
    trn_machine_free(m);
}
