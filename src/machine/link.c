/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Links the tables of a case by their keys and derives what follows from several of them: the
 * power tree, speeds, senses of turn. What contradicts itself is a fault. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "arena.h"
#include "rules.h"

#define FIND(function, table, key_member)                                          \
    size_t function(const trn_machine *machine, const char *key)                   \
    {                                                                              \
        for (size_t i = 0; key && i < machine->table##_count; i++)                 \
            if (strcmp(machine->table[i].key_member, key) == 0)                    \
                return i;                                                          \
        return TRN_NONE;                                                           \
    }

FIND(trn_find_shaft, shafts, shaft)
FIND(trn_find_gearbox, gearboxes, gearbox)
FIND(trn_find_axle, axles, axle)
FIND(trn_find_gear, gears, gear)
FIND(trn_find_bearing, bearings, bearing)
FIND(trn_find_condition, duty, condition)
FIND(trn_find_oil, oils, oil)
FIND(trn_find_grease, greases, grease)

bool trn_alternating(const trn_machine *machine, size_t i, size_t k)
{
    const char *a = machine->duty[i].alternates_with;
    const char *b = machine->duty[k].alternates_with;
    return i == k || (a && b && strcmp(a, b) == 0);
}

/* A key that no row of another table has, with the most similar one it has. */
static void unknown_key(const trn_machine *m, const char *file, size_t line, const char *column,
                        const char *key, const char *what, const char *table_name,
                        trn_faults *faults)
{
    const trn_table *table = trn_table_find(table_name);
    const trn_column *keys = &table->columns[0]; /* the key stands first in these tables */
    const char *nearest = NULL;
    size_t best = TRN_NONE;
    for (size_t i = 0; i < trn_table_rows(m, table); i++) {
        const char *name = trn_cell_text(keys, trn_table_row(m, table, i));
        size_t d = trn_edit_distance(key, name);
        if (strcmp(key, name) != 0 && d < best) {
            best = d;
            nearest = name;
        }
    }
    if (nearest)
        trn_fault_add(faults, file, line, column, "`%s` is no %s of %s.csv; the nearest is `%s`",
                      key, what, table_name, nearest);
    else
        trn_fault_add(faults, file, line, column, "`%s` is no %s; the case has no %s.csv", key,
                      what, table_name);
}

/* ---- shafts and gearboxes: the tree ------------------------------------------------------- */

static void link_shafts(trn_machine *m, trn_faults *faults)
{
    size_t from_tractor = TRN_NONE;
    for (size_t i = 0; i < m->shafts_count; i++) {
        trn_shaft *s = &m->shafts[i];
        s->from_axle = TRN_NONE;
        s->speed_ratio = NAN;
        s->power_total = s->power_share;
        s->to_gearbox = trn_find_gearbox(m, s->to);
        if (!trn_cell_given("shafts", "angle_limit_brief", &s->row)) {
            /* the least in circulation; the shaft's own manual decides */
            const double degree = 3.14159265358979323846 / 180;
            s->angle_limit_brief = (s->kind == TRN_WIDE_ANGLE ? 50 : 35) * degree;
        }
        s->from_gearbox = trn_find_gearbox(m, s->from);
        if (strcmp(s->from, "tractor") == 0) {
            if (from_tractor != TRN_NONE)
                trn_fault_add(faults, "shafts.csv", s->row.line, "from",
                              "a second shaft from the tractor (the first is `%s`); one drives "
                              "the machine",
                              m->shafts[from_tractor].shaft);
            from_tractor = i;
        } else if (s->from_gearbox == TRN_NONE) {
            trn_fault_add(faults, "shafts.csv", s->row.line, "from",
                          "`%s` is neither `tractor` nor a gearbox of gearboxes.csv", s->from);
        }
        if (s->to_gearbox != TRN_NONE &&
            strcmp(m->gearboxes[s->to_gearbox].shaft, s->shaft) != 0 &&
            trn_find_shaft(m, m->gearboxes[s->to_gearbox].shaft) != TRN_NONE)
            trn_fault_add(faults, "shafts.csv", s->row.line, "to",
                          "the gearbox `%s` says that the shaft `%s` drives it", s->to,
                          m->gearboxes[s->to_gearbox].shaft);
    }
    if (m->shafts_count > 0 && from_tractor == TRN_NONE)
        trn_fault_add(faults, "shafts.csv", 0, "from", "no shaft comes from the tractor; the first of the driveline has `tractor` "
                      "here");
}

static void link_gearboxes(trn_machine *m, trn_faults *faults)
{
    for (size_t i = 0; i < m->gearboxes_count; i++) {
        trn_gearbox *g = &m->gearboxes[i];
        g->input_axle = TRN_NONE;
        g->shaft_index = trn_find_shaft(m, g->shaft);
        g->oil_index = trn_find_oil(m, g->oil);
        if (g->shaft_index == TRN_NONE)
            unknown_key(m, "gearboxes.csv", g->row.line, "shaft", g->shaft, "shaft", "shafts",
                        faults);
        else if (m->shafts[g->shaft_index].to_gearbox != i)
            trn_fault_add(faults, "gearboxes.csv", g->row.line, "shaft",
                          "the shaft `%s` goes to `%s`, not to this gearbox", g->shaft,
                          m->shafts[g->shaft_index].to);
        if (g->oil_index == TRN_NONE)
            unknown_key(m, "gearboxes.csv", g->row.line, "oil", g->oil, "oil", "oils", faults);
    }
}

/* Every shaft must lead back to the tractor. */
static void check_loops(const trn_machine *m, trn_faults *faults)
{
    for (size_t i = 0; i < m->shafts_count; i++) {
        size_t s = i;
        size_t steps = 0;
        while (m->shafts[s].from_gearbox != TRN_NONE && steps <= m->shafts_count) {
            s = m->gearboxes[m->shafts[s].from_gearbox].shaft_index;
            steps++;
        }
        if (steps > m->shafts_count) {
            trn_fault_add(faults, "shafts.csv", m->shafts[i].row.line, "from",
                          "the power tree has a loop: `%s` drives itself; every shaft must lead "
                          "back to the tractor",
                          m->shafts[i].shaft);
            return;
        }
    }
}

static void check_power(const trn_machine *m, trn_faults *faults)
{
    for (size_t g = 0; g < m->gearboxes_count; g++) {
        const trn_shaft *in = &m->shafts[m->gearboxes[g].shaft_index];
        double out = 0;
        for (size_t i = 0; i < m->shafts_count; i++)
            if (m->shafts[i].from_gearbox == g)
                out += m->shafts[i].power_share;
        if (out > in->power_share + 1e-6)
            trn_fault_add(faults, "shafts.csv", in->row.line, "power_share [%]",
                          "%.6g %% enter the gearbox `%s` but %.6g %% leave it (shares are of the "
                          "machine's power)",
                          100 * in->power_share, m->gearboxes[g].gearbox, 100 * out);
    }
}

/* ---- axles, gears, bearings --------------------------------------------------------------- */

static void link_axle_shafts(trn_machine *m, size_t a, trn_faults *faults)
{
    trn_axle *axle = &m->axles[a];
    for (size_t k = 0; k < axle->shaft.n; k++) {
        size_t s = trn_find_shaft(m, axle->shaft.v[k]);
        if (s == TRN_NONE) {
            unknown_key(m, "axles.csv", axle->row.line, "shaft", axle->shaft.v[k], "shaft",
                        "shafts", faults);
        } else if (m->shafts[s].from_gearbox == axle->gearbox_index) {
            if (m->shafts[s].from_axle != TRN_NONE)
                trn_fault_add(faults, "axles.csv", axle->row.line, "shaft",
                              "the shaft `%s` is attached to the axle `%s` already",
                              m->shafts[s].shaft, m->axles[m->shafts[s].from_axle].axle);
            m->shafts[s].from_axle = a;
        } else if (m->gearboxes[axle->gearbox_index].shaft_index != s ||
                   axle->role != TRN_INPUT) {
            trn_fault_add(faults, "axles.csv", axle->row.line, "shaft",
                          "the shaft `%s` does not come from the gearbox `%s`",
                          m->shafts[s].shaft, axle->gearbox);
        }
    }
}

static void link_axles(trn_machine *m, trn_faults *faults)
{
    size_t before = faults->count;
    for (size_t i = 0; i < m->axles_count; i++) {
        trn_axle *a = &m->axles[i];
        a->bearing_count = 0;
        a->ratio = NAN;
        a->sense = 0;
        a->gearbox_index = trn_find_gearbox(m, a->gearbox);
        if (a->gearbox_index == TRN_NONE) {
            unknown_key(m, "axles.csv", a->row.line, "gearbox", a->gearbox, "gearbox",
                        "gearboxes", faults);
            continue;
        }
        trn_gearbox *g = &m->gearboxes[a->gearbox_index];
        if (a->role == TRN_INPUT) {
            if (g->input_axle != TRN_NONE)
                trn_fault_add(faults, "axles.csv", a->row.line, "role",
                              "the gearbox `%s` has the input axle `%s` already", a->gearbox,
                              m->axles[g->input_axle].axle);
            g->input_axle = i;
        }
        link_axle_shafts(m, i, faults);
    }
    for (size_t g = 0; g < m->gearboxes_count && faults->count == before; g++) {
        size_t first = 0;
        while (first < m->axles_count && m->axles[first].gearbox_index != g)
            first++;
        if (first < m->axles_count && m->gearboxes[g].input_axle == TRN_NONE)
            trn_fault_add(faults, "axles.csv", m->axles[first].row.line, "role",
                          "the gearbox `%s` has axles but none with role input",
                          m->gearboxes[g].gearbox);
    }
}

static void link_bearings(trn_machine *m, trn_faults *faults)
{
    for (size_t i = 0; i < m->bearings_count; i++) {
        trn_bearing *b = &m->bearings[i];
        b->axle_index = trn_find_axle(m, b->axle);
        if (b->axle_index == TRN_NONE) {
            unknown_key(m, "bearings.csv", b->row.line, "axle", b->axle, "axle", "axles", faults);
            continue;
        }
        trn_axle *a = &m->axles[b->axle_index];
        if (a->bearing_count < 2)
            a->bearing[a->bearing_count] = i;
        a->bearing_count++;
    }
}

static bool differs(double a, double b)
{
    return fabs(a - b) > 1e-9 * fmax(fabs(a), fabs(b));
}

static void check_mesh(const trn_machine *m, const trn_gear *g, const trn_gear *mate,
                       trn_faults *faults)
{
    const char *what = NULL;
    const char *column = NULL;
    if (!mate->mate || strcmp(mate->mate, g->gear) != 0) {
        trn_fault_add(faults, "gears.csv", g->row.line, "mate",
                      "`%s` names `%s` as its mate, not `%s`; mates name each other", g->mate,
                      mate->mate, g->gear);
        return;
    }
    if (m->axles[g->axle_index].gearbox_index != m->axles[mate->axle_index].gearbox_index)
        what = "are in different gearboxes", column = "mate";
    else if (g->axle_index == mate->axle_index)
        what = "sit on one axle", column = "mate";
    else if (g->kind != mate->kind)
        what = "are of different kind", column = "kind";
    else if (differs(g->module, mate->module))
        what = "have different modules", column = "module [mm]";
    else if (differs(g->pressure_angle, mate->pressure_angle))
        what = "have different pressure angles", column = "pressure_angle [deg]";
    else if (differs(g->spiral_angle, mate->spiral_angle))
        what = "have different spiral or helix angles", column = "spiral_angle [deg]";
    else if (differs(g->power_share, mate->power_share))
        what = "have different shares of power", column = "power_share [%]";
    else if (g->kind <= TRN_SPIRAL_BEVEL && differs(g->shaft_angle, mate->shaft_angle))
        what = "have different shaft angles", column = "shaft_angle [deg]";
    else if (g->spiral_angle > 0 && g->hand == mate->hand)
        what = "have the same hand; the hands of a pair are opposite", column = "hand";
    if (what)
        trn_fault_add(faults, "gears.csv", g->row.line, column, "`%s` and its mate `%s` %s",
                      g->gear, mate->gear, what);
}

static void link_gears(trn_machine *m, trn_faults *faults)
{
    size_t before = faults->count;
    for (size_t i = 0; i < m->gears_count; i++) {
        trn_gear *g = &m->gears[i];
        g->driver = false;
        if (!trn_cell_given("gears", "rotation", &g->row))
            g->rotation = -1; /* follows, again after every change */
        g->axle_index = trn_find_axle(m, g->axle);
        g->mate_index = trn_find_gear(m, g->mate);
        if (g->axle_index == TRN_NONE)
            unknown_key(m, "gears.csv", g->row.line, "axle", g->axle, "axle", "axles", faults);
        if (g->mate_index == TRN_NONE || g->mate_index == i)
            unknown_key(m, "gears.csv", g->row.line, "mate", g->mate, "other gear", "gears",
                        faults);
    }
    for (size_t i = 0; i < m->gears_count && faults->count == before; i++)
        if (m->gears[i].mate_index > i ||
            strcmp(m->gears[m->gears[i].mate_index].mate, m->gears[i].gear) != 0)
            check_mesh(m, &m->gears[i], &m->gears[m->gears[i].mate_index], faults);
}

/* ---- speeds and senses -------------------------------------------------------------------- */

/* Speed of each axle over its gearbox's input axle, outward from that axle. */
static void spread_speeds(trn_machine *m, trn_faults *faults)
{
    for (size_t g = 0; g < m->gearboxes_count; g++)
        if (m->gearboxes[g].input_axle != TRN_NONE)
            m->axles[m->gearboxes[g].input_axle].ratio = 1;
    for (bool again = true; again;) {
        again = false;
        for (size_t i = 0; i < m->gears_count; i++) {
            trn_gear *gear = &m->gears[i];
            trn_gear *mate = &m->gears[gear->mate_index];
            double from = m->axles[gear->axle_index].ratio;
            trn_axle *to = &m->axles[mate->axle_index];
            if (isnan(from))
                continue;
            double ratio = from * gear->teeth / mate->teeth;
            if (isnan(to->ratio)) {
                to->ratio = ratio;
                gear->driver = true;
                again = true;
            } else if (differs(to->ratio, ratio)) {
                trn_fault_add(faults, "gears.csv", mate->row.line, "teeth",
                              "the gears give the axle `%s` two speeds: %.6g and %.6g times the "
                              "input axle's (`%s` with `%s`)",
                              to->axle, to->ratio, ratio, gear->gear, mate->gear);
                return;
            } else if (!gear->driver && !mate->driver) {
                gear->driver = true; /* a second mesh between axles already reached */
            }
        }
    }
}

/* Sign of omega along the axle from the word of one of its gears, and back. */
static int sense_of(const trn_gear *g)
{
    int seen = g->rotation == 0 ? 1 : -1; /* cw looking along the line of sight */
    if (g->kind <= TRN_SPIRAL_BEVEL)      /* looks toward the apex */
        return g->apex == 0 ? seen : -seen;
    return -seen; /* looks from + toward - */
}

static int rotation_of(const trn_gear *g, int sense)
{
    trn_gear probe = *g;
    probe.rotation = 0;
    return sense_of(&probe) == sense ? 0 : 1;
}

static void turn_fault(const trn_gear *g, trn_faults *faults)
{
    trn_fault_add(faults, "gears.csv", g->row.line, "rotation",
                  "the rotation of `%s` contradicts that of another gear of the gearbox (seen "
                  "from the large end toward the apex, or from + along the axle; mates turn "
                  "opposite ways)",
                  g->gear);
}

static void spread_senses(trn_machine *m, trn_faults *faults)
{
    for (bool again = true; again;) {
        again = false;
        for (size_t i = 0; i < m->gears_count; i++) {
            trn_gear *g = &m->gears[i];
            trn_axle *axle = &m->axles[g->axle_index];
            trn_gear *mate = &m->gears[g->mate_index];
            if (g->rotation < 0 && axle->sense != 0) {
                g->rotation = rotation_of(g, axle->sense);
                again = true;
            }
            if (g->rotation < 0)
                continue;
            if (axle->sense == 0) {
                axle->sense = sense_of(g);
                again = true;
            } else if (axle->sense != sense_of(g)) {
                turn_fault(g, faults);
                return;
            }
            if (mate->rotation < 0) {
                mate->rotation = 1 - g->rotation;
                again = true;
            } else if (mate->rotation == g->rotation) {
                turn_fault(mate, faults);
                return;
            }
        }
    }
}

static void spread_shaft_speeds(trn_machine *m)
{
    for (size_t pass = 0; pass <= m->shafts_count; pass++)
        for (size_t i = 0; i < m->shafts_count; i++) {
            trn_shaft *s = &m->shafts[i];
            if (s->from_gearbox == TRN_NONE)
                s->speed_ratio = 1;
            else if (s->from_axle != TRN_NONE)
                s->speed_ratio = m->shafts[m->gearboxes[s->from_gearbox].shaft_index].speed_ratio *
                                 m->axles[s->from_axle].ratio;
        }
}

/* ---- the rest ----------------------------------------------------------------------------- */

static void link_others(trn_machine *m, trn_faults *faults)
{
    for (size_t i = 0; i < m->positions_count; i++) {
        m->positions[i].shaft_index = trn_find_shaft(m, m->positions[i].shaft);
        if (m->positions[i].shaft_index == TRN_NONE)
            unknown_key(m, "positions.csv", m->positions[i].row.line, "shaft",
                        m->positions[i].shaft, "shaft", "shafts", faults);
    }
    for (size_t i = 0; i < m->geometry_count; i++) {
        m->geometry[i].shaft_index = trn_find_shaft(m, m->geometry[i].shaft);
        if (m->geometry[i].shaft_index == TRN_NONE)
            unknown_key(m, "geometry.csv", m->geometry[i].row.line, "shaft",
                        m->geometry[i].shaft, "shaft", "shafts", faults);
        else if (m->shafts[m->geometry[i].shaft_index].kind == TRN_ONE_JOINT)
            trn_fault_add(faults, "geometry.csv", m->geometry[i].row.line, "shaft",
                          "the layouts are for two joints; give a one_joint shaft a row of "
                          "positions.csv");
    }
    for (size_t i = 0; i < m->points_count; i++) {
        trn_point *p = &m->points[i];
        p->shaft_index = trn_find_shaft(m, p->component);
        p->gearbox_index = trn_find_gearbox(m, p->component);
        p->bearing_index = trn_find_bearing(m, p->component);
        p->oil_index = trn_find_oil(m, p->lubricant);
        p->grease_index = trn_find_grease(m, p->lubricant);
        if (!trn_cell_given("points", "ref_dust", &p->row)) /* who asks for it every day had dust in mind */
            p->ref_dust = p->manual_interval <= 10 * (1 + 1e-9) ? 15e-6 : 3e-6;
    }
    for (size_t i = 0; i < m->readings_count; i++) {
        trn_reading *d = &m->readings[i];
        d->gearbox_index = trn_find_gearbox(m, d->gearbox);
        d->duty_index = trn_find_condition(m, d->condition);
        if (d->gearbox_index == TRN_NONE)
            unknown_key(m, "readings.csv", d->row.line, "gearbox", d->gearbox, "gearbox",
                        "gearboxes", faults);
        if (d->duty_index == TRN_NONE)
            unknown_key(m, "readings.csv", d->row.line, "condition", d->condition, "condition",
                        "duty", faults);
    }
    for (size_t i = 0; i < m->samples_count; i++) {
        m->samples[i].gearbox_index = trn_find_gearbox(m, m->samples[i].gearbox);
        if (m->gearboxes_count > 0 && m->samples[i].gearbox_index == TRN_NONE)
            unknown_key(m, "samples.csv", m->samples[i].row.line, "gearbox",
                        m->samples[i].gearbox, "gearbox", "gearboxes", faults);
    }
}

trn_status trn_machine_link(trn_machine *m, trn_faults *faults)
{
    size_t before = faults->count;
    trn_rules_check(m, faults);
    link_shafts(m, faults);
    link_gearboxes(m, faults);
    if (faults->count == before) {
        check_loops(m, faults);
        check_power(m, faults);
    }
    if (faults->count == before)
        link_axles(m, faults);
    if (faults->count == before) {
        link_bearings(m, faults);
        link_gears(m, faults);
    }
    if (faults->count == before) {
        spread_speeds(m, faults);
        spread_senses(m, faults);
        spread_shaft_speeds(m);
    }
    link_others(m, faults);
    trn_basis_check(m, faults);
    return faults->count == before ? TRN_OK : TRN_E_INPUT;
}
