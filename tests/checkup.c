/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a case can and cannot give, in words. */
#include <criterion/criterion.h>
#include <dirent.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/checkup.h>
#include <trunnion/schema.h>
#include <unistd.h>

static const double pi = 3.14159265358979323846;
static char root[64];
static trn_machine *m;

static void set_up(void)
{
    trn_faults faults = {0};
    (void)snprintf(root, sizeof root, "/tmp/trunnion-checkup-XXXXXX");
    cr_assert_not_null(mkdtemp(root));
    cr_assert_eq(trn_machine_new(root, &faults), TRN_OK);
    cr_assert_eq(trn_machine_read(root, &faults, &m), TRN_OK);
}

static void tear_down(void)
{
    trn_machine_free(m);
    DIR *dir = opendir(root);
    for (struct dirent *d; dir && (d = readdir(dir)) != NULL;) {
        char inner[512];
        (void)snprintf(inner, sizeof inner, "%s/%s", root, d->d_name);
        (void)unlink(inner);
    }
    if (dir)
        (void)closedir(dir);
    (void)rmdir(root);
}

static void set(const char *path, const char *value)
{
    trn_faults faults = {0};
    cr_assert_eq(trn_machine_set(m, path, value, "test", &faults), TRN_OK, "%s", path);
    cr_assert_eq(faults.count, 0);
}

static void link_again(void)
{
    trn_faults faults = {0};
    trn_status status = trn_machine_link(m, &faults);
    cr_assert_eq(status, TRN_OK, "%s", faults.kept ? faults.list[0].text : "");
}

/* Item of a part whose text holds `piece`; NULL: none. */
static const trn_checkup_item *find(const trn_checkup *c, trn_checkup_part part, const char *item,
                                    const char *piece)
{
    for (size_t i = 0; i < c->count; i++)
        if (c->items[i].part == part && strcmp(c->items[i].item, item) == 0 &&
            strstr(c->items[i].text, piece))
            return &c->items[i];
    return NULL;
}

static size_t count(const trn_checkup *c, trn_checkup_part part, trn_checkup_state state)
{
    size_t n = 0;
    for (size_t i = 0; i < c->count; i++)
        n += c->items[i].part == part && c->items[i].state == state;
    return n;
}

static void expect(const trn_checkup *c, trn_checkup_part part, trn_checkup_state state,
                   const char *item, const char *piece)
{
    const trn_checkup_item *found = find(c, part, item, piece);
    cr_expect(found && found->state == state, "no `%s` of %s: %s", trn_checkup_state_word(state),
              item, piece);
    for (size_t i = 0; !found && i < c->count; i++)
        if (c->items[i].part == part)
            cr_expect(false, "  %s %s: %s", trn_checkup_state_word(c->items[i].state),
                      c->items[i].item, c->items[i].text);
}

TestSuite(checkup, .init = set_up, .fini = tear_down);

Test(checkup, starter_case_lacks_only_evidence)
{
    trn_checkup c;
    cr_assert_eq(trn_checkup_make(m, &c), TRN_OK);
    cr_expect_eq(count(&c, TRN_CHECKUP_JOINTS, TRN_CHECKUP_MISSING), 0);
    cr_expect_eq(count(&c, TRN_CHECKUP_OIL, TRN_CHECKUP_MISSING), 0);
    cr_expect_eq(count(&c, TRN_CHECKUP_BEARINGS, TRN_CHECKUP_MISSING), 0);
    cr_expect_eq(count(&c, TRN_CHECKUP_AXLES, TRN_CHECKUP_OK), m->axles_count);
    cr_expect_eq(count(&c, TRN_CHECKUP_FIGURES, TRN_CHECKUP_LOOK), 1);
    expect(&c, TRN_CHECKUP_FIGURES, TRN_CHECKUP_LOOK, "example rows", "points.csv (7), duty.csv (2)");
    size_t empty = 0;
    for (size_t i = 0; i < trn_table_count(); i++)
        empty += trn_table_rows(m, trn_table_at(i)) == 0;
    cr_expect_geq(empty, 6, "the tables of evidence");
    cr_expect_eq(count(&c, TRN_CHECKUP_TABLES, TRN_CHECKUP_MISSING), empty);
    cr_expect_eq(count(&c, TRN_CHECKUP_TABLES, TRN_CHECKUP_OK), trn_table_count() - empty);
    trn_checkup_free(&c);
    cr_expect_eq(c.count, 0);
}

/* derived: tooth forces of a spiral bevel gear, docs/bearing.md, worked here by themselves */
static double crown_thrust_kn(bool away)
{
    double delta = atan2(27, 14);
    double torque = 30000 / (540 * pi / 30);
    double ft = 2 * torque / (0.162 - 0.028 * sin(delta));
    double psi = 35 * pi / 180;
    double alpha = 20 * pi / 180;
    double s = away ? 1 : -1;
    return ft / cos(psi) * (tan(alpha) * sin(delta) + s * sin(psi) * cos(delta)) / 1000;
}

static void expect_push(const trn_checkup *c, const char *way, double kn, const char *bearing)
{
    char piece[160];
    (void)snprintf(piece, sizeof piece,
                   "its gear pushes it toward %s with %.3g kN; bearing %s takes it", way, kn,
                   bearing);
    expect(c, TRN_CHECKUP_AXLES, TRN_CHECKUP_OK, "in_shaft", piece);
}

Test(checkup, says_turn_thrust_and_bearing)
{
    trn_checkup c;
    cr_assert_eq(trn_checkup_make(m, &c), TRN_OK);
    /* a tractor's PTO turns clockwise seen from behind, which is the + end of the axle */
    expect(&c, TRN_CHECKUP_AXLES, TRN_CHECKUP_OK, "in_shaft",
           "turns clockwise seen from its + end (where in_rear is) at 540 rpm");
    expect(&c, TRN_CHECKUP_AXLES, TRN_CHECKUP_OK, "rotor_shaft", "at 1041 rpm");
    /* the apex lies on +, away from it is toward - */
    expect_push(&c, "-", crown_thrust_kn(false), "in_front");
    trn_checkup_free(&c);
}

/* A wrong hand, and a wrong rotation, turn the axial part that the spiral makes. */
Test(checkup, a_wrong_hand_or_rotation_shows)
{
    trn_checkup c;
    set("gears.crown.hand", "right");
    set("gears.pinion.hand", "left");
    link_again();
    cr_assert_eq(trn_checkup_make(m, &c), TRN_OK);
    expect_push(&c, "-", crown_thrust_kn(true), "in_front");
    expect(&c, TRN_CHECKUP_AXLES, TRN_CHECKUP_OK, "rotor_shaft",
           "pushes it toward - "); /* the pinion is pulled into the mesh */
    trn_checkup_free(&c);
    set("gears.crown.rotation", "cw");
    link_again();
    cr_assert_eq(trn_checkup_make(m, &c), TRN_OK);
    expect_push(&c, "-", crown_thrust_kn(false), "in_front");
    expect(&c, TRN_CHECKUP_AXLES, TRN_CHECKUP_OK, "in_shaft", "turns counter-clockwise");
    trn_checkup_free(&c);
}

Test(checkup, thrust_follows_the_side_of_the_apex)
{
    trn_checkup c;
    set("gears.crown.apex", "-");
    set("gears.crown.rotation", "cw"); /* the same turn, seen from the other side */
    link_again();
    cr_assert_eq(trn_checkup_make(m, &c), TRN_OK);
    expect(&c, TRN_CHECKUP_AXLES, TRN_CHECKUP_OK, "in_shaft", "turns clockwise");
    expect_push(&c, "+", crown_thrust_kn(true), "in_rear");
    trn_checkup_free(&c);
}

Test(checkup, straight_teeth_on_parallel_axles_push_neither_way)
{
    trn_checkup c;
    set("gears.*.spiral_angle", "0");
    set("gears.*.kind", "spur");
    link_again();
    cr_assert_eq(trn_checkup_make(m, &c), TRN_OK);
    expect(&c, TRN_CHECKUP_AXLES, TRN_CHECKUP_OK, "in_shaft", "its gear pushes it neither way");
    trn_checkup_free(&c);
}

Test(checkup, unknown_turn_is_said)
{
    trn_checkup c;
    for (size_t i = 0; i < m->gears_count; i++)
        m->gears[i].row.given = m->gears[i].row.changed = 0;
    link_again();
    cr_assert_eq(trn_checkup_make(m, &c), TRN_OK);
    expect(&c, TRN_CHECKUP_AXLES, TRN_CHECKUP_MISSING, "in_shaft", "give the rotation of one gear");
    expect(&c, TRN_CHECKUP_BEARINGS, TRN_CHECKUP_MISSING, "box", "sense of turn not known");
    trn_checkup_free(&c);
}

Test(checkup, a_table_that_is_not_there_is_said_with_what_it_buys)
{
    trn_checkup c;
    m->positions_count = m->geometry_count = 0;
    for (size_t i = 0; i < m->duty_count; i++)
        m->duty[i].position = NULL;
    m->bearings_count = 0;
    link_again();
    cr_assert_eq(trn_checkup_make(m, &c), TRN_OK);
    expect(&c, TRN_CHECKUP_TABLES, TRN_CHECKUP_MISSING, "positions.csv",
           trn_table_find("positions")->buys);
    expect(&c, TRN_CHECKUP_JOINTS, TRN_CHECKUP_OK, "pto", "speed and torque");
    expect(&c, TRN_CHECKUP_JOINTS, TRN_CHECKUP_MISSING, "pto", "no position given");
    expect(&c, TRN_CHECKUP_OIL, TRN_CHECKUP_MISSING, "box", "no bearings on an axle with gears");
    expect(&c, TRN_CHECKUP_BEARINGS, TRN_CHECKUP_MISSING, "box", "no bearings given");
    expect(&c, TRN_CHECKUP_AXLES, TRN_CHECKUP_MISSING, "in_shaft",
           "it has no bearings in bearings.csv");
    expect(&c, TRN_CHECKUP_INTERVALS, TRN_CHECKUP_MISSING, "box_oil",
           "the oil temperature is not known in every condition");
    trn_checkup_free(&c);
}

Test(checkup, only_the_condition_that_lacks_something_is_named)
{
    trn_checkup c;
    m->duty[1].position = NULL;
    link_again();
    cr_assert_eq(trn_checkup_make(m, &c), TRN_OK);
    expect(&c, TRN_CHECKUP_JOINTS, TRN_CHECKUP_MISSING, "pto", "(in headland)");
    expect(&c, TRN_CHECKUP_JOINTS, TRN_CHECKUP_OK, "pto", "joint angles (not everywhere)");
    trn_checkup_free(&c);
}

Test(checkup, newtons_in_a_column_of_kilonewtons)
{
    trn_checkup c;
    set("bearings.in_rear.C", "108000");
    set("bearings.in_rear.C0", "120000");
    set("bearings.in_front.C", "0.085");
    set("shafts.pto.cross_rating", "24000");
    link_again();
    cr_assert_eq(trn_checkup_make(m, &c), TRN_OK);
    expect(&c, TRN_CHECKUP_FIGURES, TRN_CHECKUP_LOOK, "in_rear", "C of 108000 kN is much too high");
    expect(&c, TRN_CHECKUP_FIGURES, TRN_CHECKUP_LOOK, "in_rear", "C0 of 120000 kN");
    expect(&c, TRN_CHECKUP_FIGURES, TRN_CHECKUP_LOOK, "in_front", "much too low");
    expect(&c, TRN_CHECKUP_FIGURES, TRN_CHECKUP_LOOK, "in_front", "more than half of its C");
    expect(&c, TRN_CHECKUP_FIGURES, TRN_CHECKUP_LOOK, "pto", "is it N, not kN?");
    trn_checkup_free(&c);
}

Test(checkup, power_that_does_not_add_up)
{
    trn_checkup c;
    set("gears.*.power_share", "60");
    link_again();
    cr_assert_eq(trn_checkup_make(m, &c), TRN_OK);
    expect(&c, TRN_CHECKUP_FIGURES, TRN_CHECKUP_LOOK, "box", "60 % of what enters");
    trn_checkup_free(&c);
}

/* common practice, no source: 540 and 1000 r/min; idling takes some per cent of the power */
Test(checkup, speed_and_power_by_a_factor_of_thousand)
{
    trn_checkup c;
    set("machine.pto_speed", "1");
    set("duty.*.power", "0.025");
    link_again();
    cr_assert_eq(trn_checkup_make(m, &c), TRN_OK);
    expect(&c, TRN_CHECKUP_FIGURES, TRN_CHECKUP_LOOK, "machine", "a PTO turns at 540 or 1000 rpm");
    expect(&c, TRN_CHECKUP_FIGURES, TRN_CHECKUP_LOOK, m->duty[0].condition, "is the unit right?");
    trn_checkup_free(&c);
}

/* ---- words for a mechanic ------------------------------------------------------------------ */

static void blank(const char *table_name, const char *column_name)
{
    const trn_table *table = trn_table_find(table_name);
    const trn_column *column = trn_column_find(table, column_name);
    const double unknown = NAN;
    for (size_t i = 0; i < trn_table_rows(m, table); i++) {
        trn_row *row = trn_table_row(m, table, i);
        memcpy((char *)row + column->offset, &unknown, sizeof unknown);
        row->given &= ~((uint64_t)1 << (column - table->columns));
    }
}

static size_t place(const trn_checkup *c, const char *item)
{
    for (size_t i = 0; i < c->count; i++)
        if (strcmp(c->items[i].item, item) == 0)
            return i;
    return c->count;
}

/* wording of the issue */
Test(checkup, a_blank_is_said_with_its_cost_and_its_work)
{
    trn_checkup c;
    blank("shafts", "cross_rating");
    blank("duty", "shock");
    for (size_t i = 0; i < m->duty_count; i++)
        m->duty[i].shock = 1.25; /* what a blank cell is read as */
    link_again();
    cr_assert_eq(trn_checkup_make(m, &c), TRN_OK);
    expect(&c, TRN_CHECKUP_BLANKS, TRN_CHECKUP_MISSING, "shafts.cross_rating",
           "pto: without cross_rating and cross_arm the load factor is taken as at the reference");
    expect(&c, TRN_CHECKUP_BLANKS, TRN_CHECKUP_MISSING, "shafts.cross_rating",
           "ten minutes with calipers");
    expect(&c, TRN_CHECKUP_BLANKS, TRN_CHECKUP_MISSING, "duty.shock",
           "cutting, headland: without shock 1.25 is taken");
    trn_checkup_free(&c);
}

/* derived: no fit before no figure before a figure that moves before what moves none */
Test(checkup, blanks_stand_by_their_worth)
{
    trn_checkup c;
    blank("shafts", "length_closed");
    blank("gearboxes", "area");
    blank("shafts", "cross_rating");
    m->head.row.given = 0;
    link_again();
    cr_assert_eq(trn_checkup_make(m, &c), TRN_OK);
    cr_expect_lt(place(&c, "shafts.length_closed"), place(&c, "gearboxes.area"));
    cr_expect_lt(place(&c, "gearboxes.area"), place(&c, "shafts.cross_rating"));
    cr_expect_lt(place(&c, "shafts.cross_rating"), place(&c, "machine.labour_rate"));
    cr_expect_lt(place(&c, "machine.labour_rate"), c.count);
    expect(&c, TRN_CHECKUP_BLANKS, TRN_CHECKUP_MISSING, "gearboxes.area", "it gives the life of");
    trn_checkup_free(&c);
}

/* A cell that would move nothing in this case is not asked for. */
Test(checkup, a_blank_that_costs_nothing_is_silent)
{
    trn_checkup c;
    blank("gearboxes", "dust_intake");
    for (size_t i = 0; i < m->gearboxes_count; i++)
        m->gearboxes[i].cleanliness = "17/14";
    link_again();
    cr_assert_eq(trn_checkup_make(m, &c), TRN_OK);
    cr_expect_eq(place(&c, "gearboxes.dust_intake"), c.count);
    trn_checkup_free(&c);
}

Test(checkup, what_to_look_at_comes_first_and_tables_last)
{
    trn_checkup c;
    set("duty.cutting.power", "50");
    link_again();
    cr_assert_eq(trn_checkup_make(m, &c), TRN_OK);
    trn_checkup_stage last = TRN_CHECKUP_STAGE_LOOK;
    for (size_t i = 0; i < c.count; i++) {
        trn_checkup_stage stage = trn_checkup_stage_of(&c.items[i]);
        cr_expect_geq(stage, last, "%s: %s", c.items[i].item, c.items[i].text);
        last = stage;
    }
    cr_expect_eq(last, TRN_CHECKUP_STAGE_TABLES);
    expect(&c, TRN_CHECKUP_FIGURES, TRN_CHECKUP_LOOK, "cutting",
           "power of 50 kW is 1.67 times the rated 30 kW");
    trn_checkup_free(&c);
}

/* derived: tau = 16 T D/(pi (D^4 - d^4)), T = 30 kW/(540 rpm) with shock 1.4 at 20 kW */
Test(checkup, a_tube_too_thin_for_its_torque)
{
    trn_checkup c;
    char piece[80];
    double torque = 20000 / (540 * pi / 30) * 1.4;
    double tau = 16 * torque * 0.03 / (pi * (pow(0.03, 4) - pow(0.027, 4))) / 1e6;
    cr_assert_gt(tau, 120);
    set("shafts.pto.tube_bore", "27");
    set("shafts.pto.tube_outside", "30");
    link_again();
    cr_assert_eq(trn_checkup_make(m, &c), TRN_OK);
    (void)snprintf(piece, sizeof piece, "30 x 27 mm is twisted with %.3g N/mm2", tau);
    expect(&c, TRN_CHECKUP_FIGURES, TRN_CHECKUP_LOOK, "pto", piece);
    trn_checkup_free(&c);
}

Test(checkup, oil_that_does_not_fit_its_gears)
{
    trn_checkup c;
    set("gearboxes.box.oil_volume", "50");
    link_again();
    cr_assert_eq(trn_checkup_make(m, &c), TRN_OK);
    expect(&c, TRN_CHECKUP_FIGURES, TRN_CHECKUP_LOOK, "box", "50 L is very much");
    trn_checkup_free(&c);
    set("gearboxes.box.oil_volume", "0.02");
    link_again();
    cr_assert_eq(trn_checkup_make(m, &c), TRN_OK);
    expect(&c, TRN_CHECKUP_FIGURES, TRN_CHECKUP_LOOK, "box", "0.02 L is very little");
    trn_checkup_free(&c);
}

Test(checkup, a_headland_row_is_asked_for_its_work)
{
    trn_checkup c;
    for (size_t i = 0; i < m->duty_count; i++)
        m->duty[i].alternates_with = NULL;
    link_again();
    cr_assert_eq(trn_checkup_make(m, &c), TRN_OK);
    expect(&c, TRN_CHECKUP_FIGURES, TRN_CHECKUP_LOOK, "headland", "`cutting`, one word in the "
                                                                  "column alternates_with");
    trn_checkup_free(&c);
    /* a measured temperature is its own answer */
    for (size_t i = 0; i < m->duty_count; i++)
        m->duty[i].oil_temperature = 330;
    link_again();
    cr_assert_eq(trn_checkup_make(m, &c), TRN_OK);
    cr_expect_null(find(&c, TRN_CHECKUP_FIGURES, "headland", "alternates_with"));
    trn_checkup_free(&c);
}

/* The same remark about several gearboxes is one line, with their names. */
Test(checkup, one_line_for_all_boxes_concerned)
{
    trn_faults faults = {0};
    trn_machine *winged = NULL;
    trn_checkup c;
    size_t n = 0;
    cr_assert_eq(trn_machine_read("sample-data/winged", &faults, &winged), TRN_OK);
    cr_assert_eq(trn_checkup_make(winged, &c), TRN_OK);
    for (size_t i = 0; i < c.count; i++)
        n += strstr(c.items[i].text, "churning law") != NULL;
    cr_expect_eq(n, 1);
    expect(&c, TRN_CHECKUP_OIL, TRN_CHECKUP_LOOK,
           "splitter, wing box left, wing box right, rotor box centre and 2 more", "churning law");
    trn_checkup_free(&c);
    trn_machine_free(winged);
}

/* Every number that may be left out, left out alone: no figure goes without a word of why. */
Test(checkup, every_gap_has_a_reason, .timeout = 120)
{
    static const char *const tables[] = {"shafts", "positions", "gearboxes", "gears", "bearings",
                                         "oils",   "points",    "duty"};
    for (size_t t = 0; t < sizeof tables / sizeof tables[0]; t++) {
        const trn_table *table = trn_table_find(tables[t]);
        for (size_t i = 0; i < table->column_count; i++) {
            const trn_column *column = &table->columns[i];
            trn_faults faults = {0};
            trn_machine *copy = trn_machine_copy(m);
            trn_checkup c;
            if (column->cell != TRN_CELL_NUMBER || column->required || column->fallback) {
                trn_machine_free(copy);
                continue;
            }
            const double unknown = NAN;
            for (size_t k = 0; k < trn_table_rows(copy, table); k++) {
                trn_row *row = trn_table_row(copy, table, k);
                memcpy((char *)row + column->offset, &unknown, sizeof unknown);
                row->given &= ~((uint64_t)1 << i);
            }
            if (trn_machine_link(copy, &faults) == TRN_OK) {
                cr_assert_eq(trn_checkup_make(copy, &c), TRN_OK);
                for (size_t k = 0; k < c.count; k++)
                    cr_expect(c.items[k].text[0] != '\0' &&
                                  !strstr(c.items[k].text, "an input is not known"),
                              "%s.%s: %s: %s", tables[t], column->name, c.items[k].item,
                              c.items[k].text);
                trn_checkup_free(&c);
            }
            trn_faults_free(&faults);
            trn_machine_free(copy);
        }
    }
}

Test(checkup, leaves_the_case_as_it_was)
{
    trn_checkup c;
    trn_machine *before = trn_machine_copy(m);
    cr_assert_not_null(before);
    cr_assert_eq(trn_checkup_make(m, &c), TRN_OK);
#define TRN_X(name, type)                                                                     \
    cr_expect_eq(m->name##_count, before->name##_count);                                      \
    cr_expect_eq(memcmp(m->name, before->name, m->name##_count * sizeof *m->name), 0, #name);
    TRN_TABLE_LIST(TRN_X)
#undef TRN_X
    trn_checkup_free(&c);
    trn_machine_free(before);
}
