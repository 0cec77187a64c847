/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Entries of the field sheet, in the order in which a person comes to them. */
#include <trunnion/field_sheet.h>

#define PAPERS(table, column, what, with) {TRN_FIELD_PAPERS, table, column, what, with},
#define COLD(table, column, what, with) {TRN_FIELD_COLD, table, column, what, with},
#define WORK(table, column, what, with) {TRN_FIELD_WORK, table, column, what, with},
#define WARM(table, column, what, with) {TRN_FIELD_WARM, table, column, what, with},
/* columns of tables with a line a part, filled in as they stand */
#define BLANK(time, table, column) {time, table, column, NULL, NULL},

static const trn_field_entry entries[] = {
    PAPERS("machine", "name", "make and model in your own words", "plate")
    PAPERS("machine", "pto_speed", "PTO speed that it is built for: 540 or 1000", "plate, manual")
    PAPERS("machine", "rated_power", "rated power of the machine, not of the tractor",
           "plate, manual")
    PAPERS("machine", "hours_per_year", "hours a year in which the PTO turns; a tractor's meter "
                                        "shows more", "records")
    PAPERS("machine", "design_life", "hours that the gearboxes are meant to last", "maker, else 3000")
    PAPERS("machine", "warranty_hours", "hours covered by the warranty", "papers")
    PAPERS("machine", "manual", "title and edition of the manual", "manual")
    PAPERS("gearboxes", "oil_volume", "oil of each gearbox at the full mark", "manual")
    PAPERS("gearboxes", "change_cost", "cost of one oil change with what stands still meanwhile",
           "bills")
    PAPERS("gearboxes", "gearbox_cost", "cost of the gearbox with the season lost", "bills")
    PAPERS("oils", "base", "mineral, pao, ester or pag", "oil's data sheet")
    PAPERS("oils", "kv40", "viscosity at 40 degC", "oil's data sheet")
    PAPERS("oils", "kv100", "viscosity at 100 degC", "oil's data sheet")
    PAPERS("oils", "density15", "density at 15 degC", "oil's data sheet")
    PAPERS("greases", "limit", "upper temperature limit (not the dropping point)",
           "grease's data sheet")
    PAPERS("greases", "base_kv40", "base oil at 40 degC", "grease's data sheet")
    PAPERS("greases", "base_kv100", "base oil at 100 degC", "grease's data sheet")
    PAPERS("greases", "thickener", "kind of soap: do not mix kinds", "grease's data sheet")
    BLANK(TRN_FIELD_PAPERS, "points", "point")
    BLANK(TRN_FIELD_PAPERS, "points", "component")
    BLANK(TRN_FIELD_PAPERS, "points", "task")
    BLANK(TRN_FIELD_PAPERS, "points", "manual_interval")
    BLANK(TRN_FIELD_PAPERS, "points", "severe_interval")
    BLANK(TRN_FIELD_PAPERS, "points", "last_done")
    BLANK(TRN_FIELD_PAPERS, "points", "lubricant")
    BLANK(TRN_FIELD_PAPERS, "points", "quantity")
    BLANK(TRN_FIELD_PAPERS, "points", "fittings")
    BLANK(TRN_FIELD_PAPERS, "points", "minutes")

    COLD("machine", "machine_hours", "hour meter now", "eye")
    COLD("machine", "grams_per_stroke", "ten strokes of the grease gun on paper, a tenth of it",
         "kitchen scale")
    COLD("shafts", "kind", "joints of the shaft: two_joint, one_joint, or wide_angle at the "
                           "driving end", "eye")
    COLD("shafts", "length_closed", "joint centre to joint centre, pushed fully together",
         "tape, off the machine")
    COLD("shafts", "overlap_closed", "cover of the two tubes when pushed together",
         "tape, off the machine")
    COLD("shafts", "tube_length", "length of one tube", "tape")
    COLD("shafts", "tube_outside", "outside diameter of the weaker tube", "caliper")
    COLD("shafts", "tube_bore", "inside diameter of the same tube", "caliper")
    COLD("shafts", "profile_radius", "axis to the middle of the sliding flanks", "caliper")
    COLD("shafts", "yoke_error", "twist between the two yokes of the tube; 0 where they line up",
         "protractor on both")
    COLD("shafts", "cross_arm", "joint centre to the middle of the needles: half the distance "
                                "between the middles of opposite cups", "caliper")
    COLD("shafts", "cross_rating", "C of one cup from its number; else trunnion and needle "
                                   "diameter, needle length, see bearing.rating", "catalogue, caliper")
    COLD("shafts", "needles", "needles in one cup, where one is open anyway", "count")
    COLD("shafts", "angle_limit", "largest angle under power", "shaft's manual")
    COLD("positions", "length", "joint centre to joint centre, in each position of work and "
                                "transport", "tape")
    COLD("positions", "drive_side", "slope of the tractor's PTO stub; + where it rises to the rear",
         "inclinometer")
    COLD("positions", "tube_side", "slope of the shaft itself, same sign", "inclinometer")
    COLD("positions", "driven_side", "slope of the machine's input axle, same sign", "inclinometer")
    COLD("positions", "tube_plan", "the shaft seen from above, + to the left; straight: 0",
         "tape, chalk line")
    COLD("positions", "driven_plan", "the input axle seen from above, same sign", "tape, chalk line")
    COLD("positions", "pto_on", "does the PTO turn there: yes or no", "as it is used")
    COLD("geometry", "x", "instead of slopes: joint 2 behind joint 1", "tape")
    COLD("geometry", "z", "joint 2 above joint 1", "tape, level")
    COLD("geometry", "pitch", "input axle of the machine, + up to the rear", "inclinometer")
    COLD("gearboxes", "level_margin", "oil between full and minimum mark; note the level as found",
         "dipstick, measure")
    COLD("gearboxes", "headspace", "air above the oil: whole content less oil", "manual, measure")
    COLD("gearboxes", "area", "all outside faces added, with half a metre of the deck plate",
         "tape")
    COLD("gearboxes", "height", "height of the housing", "tape")
    COLD("gearboxes", "sun_area", "surface that the sun falls on", "tape")
    COLD("gearboxes", "residue", "layer of crop on it, as it is found at work", "ruler")
    COLD("gearboxes", "mass", "of gearbox and gears", "papers, scale")
    BLANK(TRN_FIELD_COLD, "axles", "axle")
    BLANK(TRN_FIELD_COLD, "axles", "role")
    BLANK(TRN_FIELD_COLD, "axles", "shaft")
    BLANK(TRN_FIELD_COLD, "axles", "seals")
    BLANK(TRN_FIELD_COLD, "axles", "overhang")
    BLANK(TRN_FIELD_COLD, "gears", "gear")
    BLANK(TRN_FIELD_COLD, "gears", "axle")
    BLANK(TRN_FIELD_COLD, "gears", "kind")
    BLANK(TRN_FIELD_COLD, "gears", "teeth")
    BLANK(TRN_FIELD_COLD, "gears", "module")
    BLANK(TRN_FIELD_COLD, "gears", "face_width")
    BLANK(TRN_FIELD_COLD, "gears", "spiral_angle")
    BLANK(TRN_FIELD_COLD, "gears", "hand")
    BLANK(TRN_FIELD_COLD, "gears", "rotation")
    BLANK(TRN_FIELD_COLD, "gears", "station")
    BLANK(TRN_FIELD_COLD, "gears", "apex")
    BLANK(TRN_FIELD_COLD, "gears", "dip")
    BLANK(TRN_FIELD_COLD, "bearings", "bearing")
    BLANK(TRN_FIELD_COLD, "bearings", "axle")
    BLANK(TRN_FIELD_COLD, "bearings", "kind")
    BLANK(TRN_FIELD_COLD, "bearings", "bore")
    BLANK(TRN_FIELD_COLD, "bearings", "outside")
    BLANK(TRN_FIELD_COLD, "bearings", "C")
    BLANK(TRN_FIELD_COLD, "bearings", "C0")
    BLANK(TRN_FIELD_COLD, "bearings", "contact_angle")
    BLANK(TRN_FIELD_COLD, "bearings", "station")
    BLANK(TRN_FIELD_COLD, "bearings", "thrust")

    WORK("duty", "condition", "name of the kind of work", "your words")
    WORK("duty", "share", "share of the hours; all kinds together 100", "operator")
    WORK("duty", "pto_speed", "PTO speed held in this work", "tractor's display")
    WORK("duty", "power", "mean power at the PTO, pauses included; not the tractor's rating",
         "torque display, fuel used")
    WORK("duty", "shock", "mower 1.35 to 1.6, mulcher 1.6, shredder or stones 1.85, else 1.25",
         "kind of work")
    WORK("duty", "position", "position of the shafts in this work", "as it is used")
    WORK("duty", "ambient", "air in the shade", "thermometer")
    WORK("duty", "dust_class", "damp, reference, dusty, severe, extreme, at the machine, not in "
                               "the cab", "eye")
    WORK("duty", "alternates_with", "one word for rows that follow each other within minutes (a "
                                    "headland)", "your words")
    WORK("duty", "starts_per_100h", "times that it is started cold, in 100 h", "operator")
    WORK("duty", "washes_per_100h", "pressure washes in 100 h", "operator")

    WARM("duty", "oil_temperature", "hottest gearbox housing at oil level; add 5 K and enter the "
                                    "sum", "infrared on dull paint or tape")
    BLANK(TRN_FIELD_WARM, "points", "temperature")
    BLANK(TRN_FIELD_WARM, "readings", "gearbox")
    BLANK(TRN_FIELD_WARM, "readings", "condition")
    BLANK(TRN_FIELD_WARM, "readings", "where")
    BLANK(TRN_FIELD_WARM, "readings", "temperature")
    BLANK(TRN_FIELD_WARM, "readings", "ambient")
    BLANK(TRN_FIELD_WARM, "readings", "running")
    BLANK(TRN_FIELD_WARM, "readings", "stopped")
    BLANK(TRN_FIELD_WARM, "failure", "component")
    BLANK(TRN_FIELD_WARM, "failure", "hours")
    BLANK(TRN_FIELD_WARM, "failure", "hours_spread")
    BLANK(TRN_FIELD_WARM, "failure", "sign")
    BLANK(TRN_FIELD_WARM, "samples", "gearbox")
    BLANK(TRN_FIELD_WARM, "samples", "machine_hours")
    BLANK(TRN_FIELD_WARM, "samples", "oil_hours")
    BLANK(TRN_FIELD_WARM, "samples", "top_up")
};

size_t trn_field_entry_count(void)
{
    return sizeof entries / sizeof entries[0];
}

const trn_field_entry *trn_field_entry_at(size_t i)
{
    return &entries[i];
}
