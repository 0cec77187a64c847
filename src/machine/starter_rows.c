/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An invented machine that no maker builds: a tractor's 540 rpm through one telescoping shaft
 * into one bevel gearbox, spiral bevels, four tapered bearings, rotor below. Numbers are round
 * and of a plausible size. Axle in_shaft: + to the rear; axle rotor_shaft: + downward, station 0
 * where the two axles cross. */
#include "starter_rows.h"

#include <string.h>

static const char *const machine[] = {
    "name=Example cutter (invented)|pto_speed=540|rated_power=30|hours_per_year=300|"
    "design_life=3000|reliability=90|risk=10|ambient=20|currency=EUR|labour_rate=45|"
    "warranty_hours=500|machine_hours=620|grams_per_stroke=1.2|manual=operator's manual (invented)",
};
static const char *const shafts[] = {
    "shaft=pto|from=tractor|to=box|kind=two_joint|power_share=100|yoke_error=0|cross_rating=24|"
    "cross_arm=33|needles=26|tube_outside=54|tube_bore=46|length_closed=800|overlap_closed=560|"
    "tube_length=620|profile_radius=22|profile_friction=0.1|sliding=10|angle_limit=25|"
    "angle_limit_brief=35|note=cross and tube by caliper",
};
static const char *const positions[] = {
    "position=cutting|shaft=pto|drive_side=0|tube_side=-8|driven_side=-2|length=930|pto_on=yes",
    "position=headland|shaft=pto|drive_side=0|tube_side=7|driven_side=6|length=900|pto_on=yes|"
    "note=machine half lifted",
};
static const char *const geometry[] = {
    "position=raised|shaft=pto|layout=hitch|pto_on=no|x=850|z=330|pitch=12|"
    "note=transport height",
};
static const char *const gearboxes[] = {
    "gearbox=box|shaft=pto|oil=gear_oil|oil_volume=2.2|headspace=0.9|level_margin=0.3|"
    "residual_oil=10|area=0.42|air_speed=1.4|height=260|emissivity=0.9|sun_area=0.04|mass=46|"
    "dust_intake=2|change_cost=60|gearbox_cost=1600",
};
static const char *const axles[] = {
    "axle=in_shaft|gearbox=box|role=input|shaft=pto|seals=45|overhang=70|note=+ to the rear",
    "axle=rotor_shaft|gearbox=box|role=output|seals=50|note=+ downward; 0 where the axles cross",
};
static const char *const gears[] = {
    "gear=crown|axle=in_shaft|mate=pinion|kind=spiral_bevel|teeth=27|module=6|face_width=28|"
    "pressure_angle=20|spiral_angle=35|hand=left|shaft_angle=90|station=140|apex=+|azimuth=270|"
    "rotation=ccw|power_share=100|dip=40|roughness=1|"
    "note=ccw looking to the rear = clockwise from behind the tractor",
    "gear=pinion|axle=rotor_shaft|mate=crown|kind=spiral_bevel|teeth=14|module=6|face_width=28|"
    "pressure_angle=20|spiral_angle=35|hand=right|shaft_angle=90|station=68|apex=-|azimuth=180|"
    "power_share=100|dip=0|roughness=1|note=rotation left blank: the mate turns the other way",
};
static const char *const bearings[] = {
    "bearing=in_front|axle=in_shaft|kind=tapered|station=30|C=85|C0=100|bore=45|outside=85|"
    "contact_angle=15|thrust=-",
    "bearing=in_rear|axle=in_shaft|kind=tapered|station=105|C=108|C0=120|bore=45|outside=100|"
    "contact_angle=13|thrust=+",
    "bearing=rotor_top|axle=rotor_shaft|kind=tapered|station=112|C=143|C0=170|bore=55|"
    "outside=120|contact_angle=13|thrust=-",
    "bearing=rotor_bottom|axle=rotor_shaft|kind=tapered|station=215|C=108|C0=120|bore=50|"
    "outside=90|contact_angle=15|thrust=+",
};
static const char *const oils[] = {
    "oil=gear_oil|base=mineral|kv40=190|kv100=17.5|density15=895",
};
static const char *const greases[] = {
    "grease=general|nlgi=2|base_kv40=150|base_kv100=14|limit=130|thickener=lithium complex",
};
static const char *const points[] = {
    "point=crosses|component=pto|task=grease_joint|lubricant=general|manual_interval=8|"
    "severe_interval=4|source=chapter on care; greasing chart (invented)|quantity=6|fittings=2|minutes=5",
    "point=tubes|component=pto|task=grease_tube|lubricant=general|manual_interval=8|quantity=15|"
    "minutes=4",
    "point=rotor_bearing|component=outboard rotor bearing|task=grease_bearing|lubricant=general|"
    "manual_interval=50|quantity=10|minutes=4|temperature=55|"
    "note=component is a free name: it is no row of bearings.csv",
    "point=hinges|component=lift hinges|task=grease_pivot|lubricant=general|manual_interval=50|"
    "quantity=4|fittings=4|minutes=6",
    "point=box_level|component=box|task=check_oil|lubricant=gear_oil|manual_interval=50|minutes=5",
    "point=box_oil|component=box|task=change_oil|lubricant=gear_oil|manual_interval=500|"
    "last_done=410|minutes=40",
    "point=cutter_bolts|component=rotor|task=other|manual_interval=25|minutes=10|"
    "note=tasks that are planned and never shortened",
};
static const char *const duty[] = {
    "condition=cutting|share=85|pto_speed=540|power=20|shock=1.4|position=cutting|ambient=25|"
    "alternates_with=field|dust=8|humidity=55|starts_per_100h=15|washes_per_100h=2|wash_water=0.2|sun=900",
    "condition=headland|share=15|pto_speed=540|power=4|shock=1.25|position=headland|ambient=25|"
    "alternates_with=field|dust=4|humidity=55|starts_per_100h=15|washes_per_100h=2|wash_water=0.2|sun=900",
};

/* Evidence changes results, so these rows do not act until their # is taken away. */
static const char *const samples[] = {
    "gearbox=box|machine_hours=250|oil_hours=250|fe=120|cu=9|si=35|al=8|water=300|kv40=186",
    "gearbox=box|machine_hours=400|oil_hours=400|fe=185|cu=14|si=54|al=13|water=420|kv40=184|"
    "top_up=0.1",
};
static const char *const readings[] = {
    "gearbox=box|condition=cutting|where=oil|temperature=68|ambient=19|running=150|stopped=0|"
    "note=thermometer through the filler; stopped and disconnected",
    "gearbox=box|condition=cutting|where=skin|temperature=61|ambient=23|running=180|stopped=5|"
    "note=infrared on tape",
};
static const char *const lives[] = {
    "unit=A101|hours=620|state=failed|count=1",
    "unit=A102|hours=910|state=running|count=1",
    "unit=A103|after=500|by=750|count=1|note=seen sound at 500 h; found failed at 750 h",
};
static const char *const uncertainty[] = {
    "quantity=duty.*.dust|kind=lognormal|spread=2",
    "quantity=gearboxes.box.area|kind=normal|spread=0.05",
};
static const char *const scenarios[] = {
    "scenario=low oil|quantity=gearboxes.box.oil_volume|value=x0.5|note=lower the dips too",
    "scenario=low oil|quantity=gears.crown.dip|value=5 mm",
    "scenario=overload|quantity=duty.*.power|value=x1.5",
    "scenario=part at fault|quantity=life|value=1..100 %|note=material; machining or assembly",
    "scenario=starved|quantity=life|value=|note=fill in LOW..HIGH h and give the reason here",
};
static const char *const failure[] = {
    "component=in_rear|hours=420|hours_spread=20|sign=rimmed_dents",
};
static const char *const basis[] = {
    "quantity=gearboxes.box.oil_volume|basis=manual|evidence=manual page 14 (invented)",
    ("quantity=gearboxes.box.area|basis=measured|plus_minus=15 %|instrument=folding rule|"
     "date=2026-05-14"),
    "quantity=bearings.*.C|basis=catalogue|instrument=by the number on the ring",
};

#define ROWS(table, acts) {#table, acts, table, sizeof table / sizeof table[0]}
static const trn_starter_rows all[] = {
    ROWS(machine, true),   ROWS(shafts, true),  ROWS(positions, true),    ROWS(geometry, true),
    ROWS(gearboxes, true), ROWS(axles, true),   ROWS(gears, true),        ROWS(bearings, true),
    ROWS(oils, true),      ROWS(greases, true), ROWS(points, true),       ROWS(duty, true),
    ROWS(readings, false), ROWS(samples, false), ROWS(lives, false), ROWS(uncertainty, false),
    ROWS(scenarios, false), ROWS(failure, false),  ROWS(basis, false),
};

const trn_starter_rows *trn_starter_rows_of(const char *table)
{
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
        if (strcmp(all[i].table, table) == 0)
            return &all[i];
    return NULL;
}
