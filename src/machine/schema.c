/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every column of the driveline tables and of machine.csv: name, unit, range, default, meaning.
 * The evidence tables are in schema_evidence.c. */
#include "schema_rows.h"

#include <string.h>

static const char *const yes_no[] = {"no", "yes", NULL};
static const char *const shaft_kinds[] = {"two_joint", "one_joint", "wide_angle", NULL};
static const char *const layouts[] = {"hitch", "drawbar", "wing", "linkage", NULL};
static const char *const roles[] = {"input", "output", "through", "idle", NULL};
static const char *const gear_kinds[] = {"straight_bevel", "spiral_bevel", "spur", "helical",
                                         NULL};
static const char *const hands[] = {"right", "left", NULL};
static const char *const apexes[] = {"+", "-", NULL};
static const char *const rotations[] = {"cw", "ccw", NULL};
static const char *const bearing_kinds[] = {
    "deep_groove", "angular_15", "angular_20", "angular_25",  "angular_30", "angular_35",
    "angular_40",  "tapered",    "cylindrical", "needle",     NULL};
static const char *const thrusts[] = {"none", "+", "-", "both", NULL};
static const char *const bases[] = {"mineral", "pao", "ester", "pag", NULL};
static const char *const tasks[] = {"grease_joint", "grease_tube", "grease_bearing",
                                    "grease_clutch", "grease_pivot", "check_oil",
                                    "change_oil",   "other",         NULL};
static const char *const places[] = {"oil", "skin", NULL};
static const char *const power_bases[] = {"stated", "log", NULL};
static const char *const dust_classes[] = {"damp", "reference", "dusty", "severe", "extreme",
                                           NULL};

#define ROW trn_head
static const trn_column head_columns[] = {
    TEXT(name, true, "name of the machine"),
    REQ(pto_speed, "rpm", "rad/s", "(0,inf)", "rated PTO speed that the machine is built for"),
    REQ(rated_power, "kW", "W", "(0,inf)", "rated power of the machine at the PTO"),
    HOURS(hours_per_year, "(0,8784]", false, "300", "hours a year in which the PTO turns"),
    HOURS(design_life, "(0,inf)", false, "3000", "hours that the machine is meant to last"),
    DEF(reliability, "%", "1", "(0,100)", "90",
        "reliability of the gearbox bearings asked for at the design life"),
    DEF(risk, "%", "1", "(0,100)", "10",
        "share of uncertainty draws that may fall below a recommended interval"),
    DEF(ambient, "degC", "K", "[-60,70]", "20", "air temperature where the duty gives none"),
    TEXT(currency, false, "currency of the costs"),
    OPT(labour_rate, "1", "1", "[0,inf)", "cost of an hour of work"),
    {"service_clock", TRN_CELL_NUMBERS, AT(service_clock), "h", "h", "(0,inf)", false, NULL, NULL,
     "own steps of the service clock, parted by /", "h/min"},
    HOURS(warranty_hours, "[0,inf)", false, NULL, "hours covered by the warranty"),
    HOURS(machine_hours, "[0,inf)", false, NULL,
          "hour meter now, in the hours of this case; places last_done of points.csv"),
    DEF(grams_per_stroke, "g", "kg", "(0,1000]", "1.2",
        "grease that one stroke of the gun gives (common practice, no source)"),
    TEXT(serial, false, "serial number, for the head of the page"),
    TEXT(owner, false, "owner, for the head of the page"),
    TEXT(prepared_by, false, "who prepared the case"),
    TEXT(date, false, "date of the case"),
    TEXT(manual, false, "title and edition of the operator's manual"),
};
#undef ROW

#define ROW trn_shaft
static const trn_column shaft_columns[] = {
    KEY(shaft, "PTO shaft or inner driveline"),
    NAME(from, true, "`tractor` or the gearbox that drives it"),
    NAME(to, true, "gearbox or rotor that it drives"),
    WORD(kind, true, NULL, shaft_kinds,
         "wide_angle: constant-velocity joint at the driving end, plain joint at the other"),
    DEF(power_share, "%", "1", "[0,100]", "100", "share of the machine's power"),
    DEF(yoke_error, "deg", "rad", "[-180,180]", "0",
        "angle between the two yokes of the tube less the right one"),
    OPT(cross_rating, "kN", "N", "(0,inf)", "dynamic rating of one needle cup of the cross"),
    OPT(cross_arm, "mm", "m", "(0,500]", "joint centre to the middle of the needles"),
    OPT(needles, "1", "1", "[3,100]", "needles in one cup"),
    OPT(tube_outside, "mm", "m", "(0,500]", "outside diameter of the weaker tube"),
    OPT(tube_bore, "mm", "m", "[0,500)", "inside diameter of the weaker tube"),
    OPT(length_closed, "mm", "m", "(0,20000]", "joint centre to joint centre, fully closed"),
    OPT(overlap_closed, "mm", "m", "(0,20000]", "cover of the tubes when closed"),
    OPT(tube_length, "mm", "m", "(0,20000]", "length of a tube"),
    OPT(profile_radius, "mm", "m", "(0,250]", "mean radius of the sliding profile's flanks"),
    DEF(profile_friction, "1", "1", "[0,2]", "0.1", "friction of the sliding profile"),
    DEF(sliding, "%", "1", "[0,100]", "10", "share of the time in which it slides under torque"),
    OPT(stiffness, "N.m/deg", "N.m/rad", "(0,inf)", "torsional stiffness of the shaft"),
    OPT(inertia_driven, "kg.m2", "kg.m2", "(0,inf)",
        "all that turns behind it, referred to its speed"),
    DEF(angle_limit, "deg", "rad", "(0,90)", "25", "largest joint angle turning under power"),
    OPT(angle_limit_brief, "deg", "rad", "(0,90)",
        "largest joint angle turning without power (35; wide_angle 50)"),
    NOTE,
};
#undef ROW

#define ROW trn_position
#define SLOPE(field, what) DEF(field, "deg", "rad", "(-90,90)", "0", what)
static const trn_column position_columns[] = {
    KEY(position, "name of the position"),
    {"shaft", TRN_CELL_KEY, AT(shaft), "", "", NULL, true, NULL, NULL, "shaft that stands so",
     NULL},
    SLOPE(drive_side, "axis that drives, side view, + where it rises along the power flow"),
    SLOPE(drive_plan, "axis that drives, plan view, + to the left along the power flow"),
    SLOPE(tube_side, "the shaft itself, side view"),
    SLOPE(tube_plan, "the shaft itself, plan view"),
    SLOPE(driven_side, "axis that it drives, side view"),
    SLOPE(driven_plan, "axis that it drives, plan view"),
    OPT(length, "mm", "m", "(0,20000]", "joint centre to joint centre in this position"),
    WORD(pto_on, true, NULL, yes_no, "does the PTO turn in this position"),
    NOTE,
};
#undef ROW

#define ROW trn_geometry
#define LENGTH(field, what) OPT(field, "mm", "m", "[-20000,20000]", what)
static const trn_column geometry_columns[] = {
    {"position", TRN_CELL_KEY, AT(position), "", "", NULL, true, NULL, NULL,
     "name of the position", NULL},
    {"shaft", TRN_CELL_KEY, AT(shaft), "", "", NULL, true, NULL, NULL, "shaft that stands so",
     NULL},
    WORD(layout, true, NULL, layouts, "which dimensions are given"),
    WORD(pto_on, true, NULL, yes_no, "does the PTO turn in this position"),
    LENGTH(x, "hitch: joint 2 behind joint 1; drawbar: pin behind joint 1"),
    LENGTH(y, "drawbar: joint 2 behind the pin"),
    LENGTH(z, "hitch: joint 2 above joint 1"),
    OPT(pitch, "deg", "rad", "(-90,90)", "hitch: driven axis pitched up rearward"),
    OPT(psi, "deg", "rad", "(-180,180)", "drawbar: angle of the turn"),
    LENGTH(a, "wing: joint 1 inside of the hinge"),
    LENGTH(h1, "wing: joint 1 above the hinge"),
    LENGTH(b, "wing: joint 2 outside of the hinge when level"),
    LENGTH(h2, "wing: joint 2 above the hinge when level"),
    OPT(tau, "deg", "rad", "(-180,180)", "wing: tilt, + up"),
    LENGTH(lower_x, "linkage: lower pivot, behind joint 1's origin"),
    LENGTH(lower_z, "linkage: lower pivot, height"),
    LENGTH(lower_link, "linkage: length of the lower link"),
    LENGTH(upper_x, "linkage: upper pivot, behind the origin"),
    LENGTH(upper_z, "linkage: upper pivot, height"),
    LENGTH(upper_link, "linkage: length of the upper link"),
    LENGTH(mast, "linkage: mast height of the machine"),
    LENGTH(joint_x, "linkage: joint 1, behind the origin"),
    LENGTH(joint_z, "linkage: joint 1, height"),
    LENGTH(input_d, "linkage: joint 2 behind the lower hitch point"),
    LENGTH(input_e, "linkage: joint 2 above the lower hitch point"),
    OPT(link_angle, "deg", "rad", "(-90,90)", "linkage: slope of the lower link, + up rearward"),
    NOTE,
};
#undef ROW

#define ROW trn_gearbox
static const trn_column gearbox_columns[] = {
    KEY(gearbox, "name of the gearbox"),
    NAME(shaft, true, "shaft that drives it"),
    NAME(oil, true, "oil in it, of oils.csv"),
    REQ(oil_volume, "L", "m3", "(0,1000]", "oil at the full mark"),
    OPT(headspace, "L", "m3", "(0,1000]", "air above the oil when cold"),
    OPT(level_margin, "L", "m3", "(0,1000]", "oil between full and minimum mark"),
    DEF(residual_oil, "%", "1", "[0,100)", "10", "old oil that stays behind at a change"),
    OPT(area, "m2", "m2", "(0,100]", "outside surface that gives off heat"),
    OPT(heat_transfer, "W/m2/K", "W/m2/K", "(0,1000]", "given: used as it is"),
    DEF(air_speed, "m/s", "m/s", "[0,50]", "1.4", "air past the housing"),
    DEF(height, "mm", "m", "(0,5000]", "300", "height of the housing"),
    DEF(emissivity, "1", "1", "[0,1]", "0.9", "of the surface"),
    DEF(sun_area, "m2", "m2", "[0,100]", "0", "surface that the sun falls on"),
    DEF(sun_absorption, "1", "1", "[0,1]", "0.8", "share of the sun that the surface takes up"),
    DEF(residue, "mm", "m", "[0,500]", "0", "layer of crop residue on it"),
    OPT(mass, "kg", "kg", "(0,10000]", "of gearbox and gears, without oil"),
    TEXT(cleanliness, false, "ISO 4406 class such as 19/16, mean over a change interval"),
    OPT(dust_intake, "L/h", "m3/s", "[0,inf)", "outside-air equivalent that passes the seals"),
    DEF(dust_margin, "1", "1", "(0,100]", "1", "spare of the manual's interval against dust"),
    OPT(change_cost, "1", "1", "[0,inf)", "cost of one oil change with downtime"),
    OPT(gearbox_cost, "1", "1", "[0,inf)", "cost of the gearbox with the lost season"),
    NOTE,
};
#undef ROW

#define ROW trn_axle
static const trn_column axle_columns[] = {
    KEY(axle, "turning axle inside a gearbox"),
    NAME(gearbox, true, "gearbox that it belongs to"),
    WORD(role, true, NULL, roles, "what it does"),
    {"shaft", TRN_CELL_TEXTS, AT(shaft), "", "", NULL, false, NULL, NULL,
     "shaft attached to it (two parted by /)", NULL},
    {"seals", TRN_CELL_NUMBERS, AT(seals), "mm", "m", "(0,1000]", false, NULL, NULL,
     "seal diameters, parted by /", NULL},
    DEF(overhang, "mm", "m", "[0,5000]", "0", "joint centre from the nearer bearing"),
    NOTE,
};
#undef ROW

#define ROW trn_gear
static const trn_column gear_columns[] = {
    KEY(gear, "name of the gear (one row and name for each mate)"),
    NAME(axle, true, "axle that carries it"),
    NAME(mate, true, "gear that it meshes with"),
    WORD(kind, true, NULL, gear_kinds, "kind of gear"),
    REQ(teeth, "1", "1", "[4,400]", "number of teeth"),
    REQ(module, "mm", "m", "(0,50]", "bevel: outer transverse, cylindrical: normal"),
    REQ(face_width, "mm", "m", "(0,500]", "face width"),
    DEF(pressure_angle, "deg", "rad", "(0,45)", "20", "normal pressure angle"),
    DEF(spiral_angle, "deg", "rad", "[0,60)", "0", "mean spiral angle, or helix angle"),
    WORD(hand, false, "right", hands, "hand of spiral or helix"),
    DEF(shaft_angle, "deg", "rad", "(0,180)", "90", "bevel: angle between the axles"),
    REQ(station, "mm", "m", "[-20000,20000]", "middle of the face, along the axle"),
    WORD(apex, false, NULL, apexes, "bevel: side on which the pitch-cone apex lies"),
    DEF(azimuth, "deg", "rad", "[-360,360]", "0", "direction of the mesh round the axle"),
    WORD(rotation, false, NULL, rotations,
         "seen from the large end toward the apex, or from + along the axle"),
    DEF(power_share, "%", "1", "[0,100]", "100", "of the gearbox's input that passes this mesh"),
    OPT(dip, "mm", "m", "[0,5000]", "lowest tooth tip below the oil at rest"),
    DEF(roughness, "um", "m", "(0,100]", "1", "Ra of the flanks"),
    NOTE,
};
#undef ROW

#define ROW trn_bearing
static const trn_column bearing_columns[] = {
    KEY(bearing, "name of the bearing"),
    NAME(axle, true, "axle that it carries"),
    WORD(kind, true, NULL, bearing_kinds, "kind of bearing"),
    REQ(station, "mm", "m", "[-20000,20000]", "pressure centre, along the axle"),
    REQ(C, "kN", "N", "(0,inf)", "dynamic rating, 1 Mrev"),
    REQ(C0, "kN", "N", "(0,inf)", "static rating"),
    OPT(Cu, "kN", "N", "(0,inf)", "fatigue load limit (else from C0)"),
    REQ(bore, "mm", "m", "(0,2000]", "bore"),
    REQ(outside, "mm", "m", "(0,3000]", "outside diameter"),
    OPT(contact_angle, "deg", "rad", "(0,45]", "tapered: contact angle"),
    OPT(f0, "1", "1", "(0,30]", "static factor of deep groove and 15 deg bearings (14)"),
    WORD(thrust, false, "none", thrusts, "shaft thrust that it takes"),
    NOTE,
};
#undef ROW

#define ROW trn_oil
static const trn_column oil_columns[] = {
    KEY(oil, "name of the oil"),
    WORD(base, true, NULL, bases, "base oil"),
    OPT(kv40, "mm2/s", "m2/s", "(0,1e5]", "kinematic viscosity at 40 degC (or index)"),
    OPT(index, "1", "1", "[-100,500]", "viscosity index, in place of kv40"),
    REQ(kv100, "mm2/s", "m2/s", "[0.21,1e4]", "kinematic viscosity at 100 degC"),
    DEF(density15, "kg/m3", "kg/m3", "[500,1500]", "890", "density at 15 degC"),
    HOURS(ageing_life, "(0,inf)", false, NULL, "life against ageing at ageing_temperature"),
    OPT(ageing_temperature, "degC", "K", "[0,250]", "temperature of that life"),
    NOTE,
};
#undef ROW

#define ROW trn_grease
static const trn_column grease_columns[] = {
    KEY(grease, "name of the grease"),
    TEXT(nlgi, false, "NLGI class"),
    OPT(base_kv40, "mm2/s", "m2/s", "(0,1e5]", "base oil at 40 degC"),
    OPT(base_kv100, "mm2/s", "m2/s", "(0,1e4]", "base oil at 100 degC"),
    OPT(limit, "degC", "K", "[0,400]", "upper temperature limit"),
    TEXT(thickener, false, "thickener"),
    NOTE,
};
#undef ROW

#define ROW trn_point
static const trn_column point_columns[] = {
    KEY(point, "lubrication point"),
    NAME(component, true, "shaft, gearbox or bearing of the case, or a free name"),
    {"task", TRN_CELL_WORD, AT(task), "", "", NULL, true, NULL, tasks, "what is done", NULL},
    NAME(lubricant, false, "oil or grease"),
    HOURS(manual_interval, "(0,inf)", true, NULL, "interval of the operator's manual"),
    HOURS(severe_interval, "(0,inf)", false, NULL,
          "the manual's own interval for severe service; goes before a longer one where the duty "
          "is dusty or worse"),
    TEXT(source, false, "clause of the manual that says so, shown beside the interval"),
    HOURS(last_done, "[0,inf)", false, NULL, "hour meter when it was last done"),
    OPT(quantity, "g", "kg", "[0,1e6]", "for each fitting"),
    DEF(fittings, "1", "1", "[1,1000]", "1", "number of fittings"),
    OPT(minutes, "1", "1", "[0,1e5]", "work for all of the task, in minutes"),
    OPT(ref_dust, "mg/m3", "kg/m3", "(0,1e5]",
        "dust that the manual's interval holds for (15 where it is 10 h or less, else 3)"),
    DEF(ref_shock, "1", "1", "[1,10]", "1.25", "application factor of the reference"),
    DEF(ref_temperature, "degC", "K", "[-60,300]", "70", "temperature of the reference"),
    DEF(ref_load, "1", "1", "(0,10]", "0.1", "P/C of the reference"),
    DEF(ref_angle, "deg", "rad", "(0,90)", "10", "joint angle of the reference"),
    OPT(ref_speed, "rpm", "rad/s", "(0,inf)",
        "speed of the reference (the shaft's own at the rated PTO speed)"),
    OPT(temperature, "degC", "K", "[-60,300]", "measured at the point"),
    NOTE,
};
#undef ROW

#define ROW trn_duty
static const trn_column duty_columns[] = {
    KEY(condition, "name of the condition"),
    OPT(share, "%", "1", "[0,100]", "share of the hours in which the PTO turns; they add to 100"),
    HOURS(hours, "[0,inf)", false, NULL, "in place of share"),
    REQ(pto_speed, "rpm", "rad/s", "[0,inf)", "PTO speed"),
    REQ(power, "kW", "W", "[0,inf)", "mean power over the condition, not the tractor's rating"),
    WORD(power_basis, false, "stated", power_bases,
         "log: the mean of a torque record; narrows the bands of lives"),
    DEF(shock, "1", "1", "[1,10]", "1.25",
        "application factor: mower 1.35 to 1.6, mulcher 1.6, shredder or stones 1.85"),
    NAME(position, false, "position of the shafts"),
    OPT(ambient, "degC", "K", "[-60,70]", "air temperature (the machine's)"),
    OPT(dust, "mg/m3", "kg/m3", "[0,1e5]", "dust at the machine, total"),
    WORD(dust_class, false, NULL, dust_classes, "in place of dust"),
    DEF(humidity, "%", "1", "[0,100]", "60", "relative humidity of the air"),
    DEF(starts_per_100h, "1", "1", "[0,1e4]", "12", "warm-up and cool-down cycles in 100 h"),
    DEF(washes_per_100h, "1", "1", "[0,1e4]", "0", "high-pressure washes in 100 h"),
    DEF(wash_water, "mL", "m3", "[0,1e5]", "0.2", "water that gets in per wash"),
    DEF(sun, "W/m2", "W/m2", "[0,1500]", "900", "falls on the gearboxes' sun_area"),
    OPT(oil_temperature, "degC", "K", "[-60,250]", "measured; else the heat balance"),
    TEXT(alternates_with, false,
         "word of a group: its conditions follow each other within minutes and share one oil "
         "temperature"),
    NOTE,
};
#undef ROW

#define ROW trn_reading
static const trn_column reading_columns[] = {
    KEY(gearbox, "gearbox that was read"),
    {"condition", TRN_CELL_KEY, AT(condition), "", "", NULL, true, NULL, NULL,
     "condition of duty.csv in which it ran before", NULL},
    WORD(where, true, NULL, places, "oil: in the oil; skin: outside of the housing"),
    REQ(temperature, "degC", "K", "[-60,250]", "as read"),
    REQ(ambient, "degC", "K", "[-60,70]", "air at the reading"),
    OPT(running, "min", "s", "[0,1e5]",
        "without a break in that condition before the stop (two time constants at least)"),
    DEF(stopped, "min", "s", "[0,1440]", "0", "from the stop to the reading"),
    NOTE,
};
#undef ROW

static const trn_table head_table = {
    "machine", "the machine: one quantity a row", sizeof(trn_head), 0, 0, head_columns,
    COUNT(head_columns), true, "name, rated values, hours, risk"};

static const trn_table tables[] = {
    TABLE(shafts, shaft_columns, false, "PTO shafts and inner drivelines",
          "torques, joint effects, motion of grease points"),
    TABLE(positions, position_columns, false, "where the shafts stand",
          "joint angles, couples, fit, cross lives"),
    TABLE(geometry, geometry_columns, false, "positions from dimensions",
          "positions without an inclinometer"),
    TABLE(gearboxes, gearbox_columns, false, "gearboxes", "oil temperatures and oil budgets"),
    TABLE(axles, axle_columns, false, "turning axles of the gearboxes",
          "speeds, seals, bearing loads"),
    TABLE(gears, gear_columns, false, "gears", "tooth forces, mesh and churning losses"),
    TABLE(bearings, bearing_columns, false, "bearings", "bearing lives"),
    TABLE(oils, oil_columns, false, "oils", "viscosity, ageing"),
    TABLE(greases, grease_columns, false, "greases", "temperature limits"),
    TABLE(points, point_columns, true, "what the manual asks for, one row a point and task",
          "the interval table"),
    TABLE(duty, duty_columns, true, "how the machine is used, one row a condition",
          "everything that depends on use"),
    TABLE(readings, reading_columns, false, "temperatures read at the gearboxes",
          "a heat balance that agrees with them, and narrower draws"),
};

size_t trn_table_count(void)
{
    return COUNT(tables) + trn_evidence_table_count;
}

const trn_table *trn_table_at(size_t i)
{
    return i < COUNT(tables) ? &tables[i] : &trn_evidence_tables[i - COUNT(tables)];
}

const trn_table *trn_table_head(void)
{
    return &head_table;
}

const trn_table *trn_table_find(const char *name)
{
    if (strcmp(name, head_table.name) == 0)
        return &head_table;
    for (size_t i = 0; i < trn_table_count(); i++)
        if (strcmp(trn_table_at(i)->name, name) == 0)
            return trn_table_at(i);
    return NULL;
}

void *trn_table_row(const trn_machine *machine, const trn_table *table, size_t i)
{
    if (table == &head_table)
        return (void *)(uintptr_t)&machine->head;
    char *rows = NULL;
    memcpy(&rows, (const char *)machine + table->rows, sizeof rows);
    return rows + i * table->row_size;
}

size_t trn_table_rows(const trn_machine *machine, const trn_table *table)
{
    if (table == &head_table)
        return 1;
    size_t count = 0;
    memcpy(&count, (const char *)machine + table->count, sizeof count);
    return count;
}
