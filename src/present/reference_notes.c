/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The hand-written part of the reference pages. */
#include "reference_notes.h"

#include <string.h>

const char *const trn_notes_case =
    "Measure only with the engine off, the key out and everything at rest, the machine lowered or "
    "propped. Rotors run on.\n\n"
    "## What a case is\n\n"
    "A case is one machine as it is built, set up, used and serviced: a folder of CSV files, one "
    "file a table. `trunnion new DIR` writes all of them, each with its columns explained and an "
    "invented machine to overwrite. `trunnion check CASE` says what is wrong and what can be "
    "computed.\n\n"
    "Three tables are required: `machine.csv`, `points.csv` and `duty.csv`. Every other table adds "
    "something, which its section below names. Nothing is made up for a table or a cell that is "
    "not there: the figure is left out, and the output says which and why.\n\n"
    "## How a table is written\n\n"
    "- The first line that is neither blank nor a comment is the header. A line that begins with "
    "`#` is a comment.\n"
    "- A column with a unit carries it in square brackets, as `oil_volume [L]`. Any unit that "
    "converts may stand there instead: `oil_volume [gal]`. Words, money and pure numbers have no "
    "bracket, or `[-]`.\n"
    "- Columns may stand in any order. A column that the table does not know is a fault, unless "
    "its name begins with `note`: such a column is yours, and its text is printed with the row.\n"
    "- A blank cell counts as a column left out: the default where there is one, else not known. "
    "A required cell may not be blank.\n"
    "- A list stands in one cell, its members parted by `/`.\n"
    "- Names of shafts, gearboxes, conditions and the like hold no `.` `/` `*` `=`; `all` and "
    "`tractor` are taken.\n"
    "- Hours are hours in which the PTO turns, headlands and idling with it. A tractor's meter "
    "shows more: note which one was read. Intervals and hours of use take `h` or `min` only, "
    "because a day is 24 h to a units library and eight or ten to a manual.\n\n"
    "Comma, semicolon or tab may part the cells, and the decimal sign may be a point or a comma; "
    "both are settled once for the whole file, and a file that can be read in two ways is a "
    "fault, not a guess. Text is UTF-8 (with or without byte-order mark) or UTF-16. A fault names "
    "file, line, column and what would be right; up to twenty are shown in one run.\n\n"
    "## Changing a quantity: paths\n\n"
    "`--set`, scenarios, sweeps and uncertainty.csv name a quantity in the same way:\n\n"
    "| path | what it names |\n|---|---|\n"
    "| `machine.rated_power` | a quantity of machine.csv |\n"
    "| `gearboxes.box.oil_volume` | table, key, column |\n"
    "| `positions.cutting.pto.tube_side` | two keys, also in `geometry` |\n"
    "| `points.crosses.grease_joint.manual_interval` | point and task; the task may be left out "
    "where the point has one |\n"
    "| `duty.*.dust` | every row |\n\n"
    "Every column but the keys can be set. A value is a number in the column's unit, a number with "
    "its own unit (`2 gal`), a word or a list. `x1.2` multiplies; `+10` and `+-10` add (a bare "
    "minus is an absolute value, and degrees Celsius add as kelvins). On one cell absolute values "
    "come first, then factors, then offsets; two absolute values in one scenario are a fault. A "
    "scenario is applied before any `--set`, each `--set` in its order, and the changed case is "
    "checked like one that was read.\n";

static const struct {
    const char *table, *text;
} notes[] = {
    {"machine",
     "One quantity a row: `quantity,value,unit,note`. The unit stands in its own cell and may be "
     "any that converts. `labour_rate` is in the currency for an hour; its unit cell stays blank. "
     "`service_clock` are the steps that intervals are rounded down to; without it the built-in "
     "steps serve."},
    {"shafts",
     "One shaft comes from the tractor, and every other leads back to it. Shares are of the "
     "machine's power, not of the gearbox's. `cross_rating` is the dynamic rating of one needle "
     "cup; where only a caliper is at hand, `trunnion formula bearing.rating` estimates it. "
     "`tube_outside` and `tube_bore` are the two diameters of the weaker tube, not of the outer "
     "and the inner tube. `inertia_driven` sums m r2 (speed over the shaft's)2 of all that turns "
     "behind it. The shaft's own manual goes before the angle limits."},
    {"positions",
     "Slopes as an inclinometer and a view from above read them, against the horizontal and "
     "against straight ahead (against straight across for a shaft that runs across the machine). "
     "Only differences count. `pto_on` asks whether the PTO turns there, not whether the tractor "
     "drives round a bend. Where a position stands here and in geometry.csv, this row is used and "
     "the other compared with it."},
    {"geometry",
     "Dimensions in place of slopes, for shafts with two joints. `hitch` needs x, z, pitch; "
     "`drawbar` x, y, psi; `wing` a, h1, b, h2, tau; `linkage` the twelve that follow. Angles "
     "and lengths are those of the formulas `shaft.hitch`, `shaft.drawbar`, `shaft.wing` and "
     "`shaft.linkage`."},
    {"gearboxes",
     "`area` decides the oil temperature more than anything else: count the deck plate within "
     "some half a metre of the box, and check the figure on one measured temperature; a fifth "
     "less area is some 10 K more. `heat_transfer` is used as it is where it is given; else it "
     "follows from air speed, height and emissivity. Of a `cleanliness` code of three numbers the "
     "last two count."},
    {"axles",
     "An axle is a turning shaft inside a gearbox; `shaft` always means a PTO shaft or "
     "driveline. A gearbox with axles has one with role `input`. A through axle with a shaft at "
     "each end names both, parted by `/`. Bearing loads need two bearings on the axle."},
    {"gears",
     "Mates name each other and agree in kind, module, angles and power share; the hands of a "
     "spiral or helical pair are opposite. A wheel with two mates has a row and a name for each, "
     "and its `dip` on one of them. By caliper: bevel module = tip diameter/(teeth + 2 cos of the "
     "cone angle), spur module = tip diameter/(teeth + 2). One `rotation` in a gearbox is enough, "
     "the rest follows. `dip` 0 is clear of the oil; left out it is not known, so no churning is "
     "counted and no warning of low oil can come."},
    {"bearings",
     "By the number on the ring any catalogue gives the ratings; a tapered rating for 90 million "
     "revolutions is multiplied by 3.857. `station` is the pressure centre, where the line of "
     "load cuts the axle, not the middle of the ring. A catalogue's e gives the contact angle as "
     "atan(e/1.5). `thrust` is the way in which the bearing can be pushed: `+` takes an axle that "
     "pushes toward +."},
    {"oils", "`kv40` or `index` is needed. `ageing_life` and `ageing_temperature` go together."},
    {"points",
     "One row for each point and task. `component` is a shaft, gearbox or bearing of the case, or "
     "a name of your own where the case has no such part. `grease_clutch` is the fitting of a "
     "ratchet, cam or overrunning clutch, never the linings of a friction clutch. The `ref_` "
     "columns describe the use that the manual's interval is meant for; what the manual itself "
     "says goes before their defaults."},
    {"duty",
     "Shares add up to 100 % (0.1 either way), or every row has hours instead. `power` is the mean "
     "over the condition, not the tractor's rating; `power_basis` is `log` where it is the mean of "
     "a torque record. Shock: disc and drum mowers 1.35 to 1.6, "
     "flail mowers and mulchers 1.6, shredders among stones and stumps 1.85. `dust` is measured "
     "at the machine, never in the cab; where it is not known, `dust_class` gives a middle value. "
     "A measured oil temperature is taken for every gearbox: enter that of the hottest; by an "
     "infrared thermometer on dull paint or tape within two minutes of stopping, plus 5 K."},
    {"lives",
     "Either `hours` with `state`, or `after` with `by`: seen sound at the one, found failed by "
     "the other. An empty `by` means still running."},
    {"uncertainty",
     "A row replaces the built-in spread of its quantity. `normal` and `uniform` spreads are in "
     "the quantity's unit, a lognormal one is a factor."},
    {"scenarios",
     "Rows of one name belong together. A value stands with its unit, or as `x1.2`, or as `+10`. "
     "For a review the case is the machine as its manual has it, and each scenario one departure "
     "from it. Whoever lowers the oil lowers the `dip` of the gears too. An "
     "explanation without a model has the quantity `life` and as its value the life at 90 %: "
     "`200..900 h`, or `1..100 %` of the life as specified, or blank where none can be stated (the "
     "note gives the reason). `as specified` is the name of the case itself."},
    {"failure",
     "Any number of columns whose name begins with `sign`; a cell may hold several signs parted "
     "by `/`. The words are listed by `trunnion formula statistics.damage_sign`. The component is a "
     "bearing, a gearbox or a shaft of the case, each in one row. `hours_spread` is half the width "
     "of what is not known of the hours."},
    {"basis",
     "`*` stands for every key. Where several rows hit a cell, the one with the fewest `*` holds, "
     "among such the last. A filled cell without a row counts as stated, a default or an override "
     "as assumed: [report.md](report.md)."},
};

const char *trn_notes_table(const char *table)
{
    for (size_t i = 0; i < sizeof notes / sizeof notes[0]; i++)
        if (strcmp(notes[i].table, table) == 0)
            return notes[i].text;
    return NULL;
}

static const trn_subject_note subjects[] = {
    {"power", "Power, speed and torque down the tree", "study.md"},
    {"joint", "Universal joints", "joint.md"},
    {"shaft", "PTO shafts and drivelines", "joint.md"},
    {"oil", "Oil", "lubricant.md"},
    {"grease", "Grease", "lubricant.md"},
    {"bearing", "Rolling bearings", "bearing.md"},
    {"gear", "Gears", "bearing.md"},
    {"axle", "Axles on two bearings", "bearing.md"},
    {"loss", "Power losses", "heat.md"},
    {"heat", "Heat balance", "heat.md"},
    {"wear", "Wear and films", "lubricant.md"},
    {"interval", "Service intervals", "interval.md"},
    {"statistics", "Statistics of lives, samples and loads", "review.md"},
};

const trn_subject_note *trn_notes_subject(const char *subject, size_t length)
{
    for (size_t i = 0; i < sizeof subjects / sizeof subjects[0]; i++)
        if (strlen(subjects[i].subject) == length &&
            strncmp(subjects[i].subject, subject, length) == 0)
            return &subjects[i];
    return NULL;
}
