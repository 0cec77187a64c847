/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a column of the schema cannot say: rules between the cells of a row or of a table. */
#include "rules.h"

#include <float.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "arena.h"

static bool given(double x)
{
    return !isnan(x);
}

static void check_duty_shares(trn_machine *m, trn_faults *faults)
{
    double sum = 0;
    size_t shares = 0;
    size_t hours = 0;
    for (size_t i = 0; i < m->duty_count; i++) {
        /* a share that was worked out from hours before does not count as given */
        shares += trn_cell_given("duty", "share", &m->duty[i].row);
        hours += given(m->duty[i].hours);
    }
    bool by_hours = hours > 0;
    if (shares > 0 && hours > 0) {
        trn_fault_add(faults, "duty.csv", 0, "share [%]",
                      "shares and hours are mixed; give every row a share or every row hours");
        return;
    }
    for (size_t i = 0; i < m->duty_count; i++) {
        double value = by_hours ? m->duty[i].hours : m->duty[i].share;
        if (!given(value)) {
            trn_fault_add(faults, "duty.csv", m->duty[i].row.line, "share [%]",
                          "the condition `%s` has neither share nor hours", m->duty[i].condition);
            return;
        }
        sum += value;
    }
    if (by_hours ? !(sum > 0) : fabs(sum - 1) > 0.001 * (1 + 1e-9)) {
        trn_fault_add(faults, "duty.csv", 0, by_hours ? "hours [h]" : "share [%]",
                      by_hours ? "the hours add to %.6g; they must be above 0"
                               : "the shares add to %.6g %%; they must add to 100 %% (+- 0.1)",
                      by_hours ? sum : 100 * sum);
        return;
    }
    if (!by_hours && fabs(sum - 1) <= 8 * DBL_EPSILON)
        return; /* adds up already: linking again moves no digit */
    for (size_t i = 0; i < m->duty_count; i++)
        m->duty[i].share = (by_hours ? m->duty[i].hours : m->duty[i].share) / sum;
}

static bool position_known(const trn_machine *m, const char *name)
{
    for (size_t i = 0; i < m->positions_count; i++)
        if (strcmp(m->positions[i].position, name) == 0)
            return true;
    for (size_t i = 0; i < m->geometry_count; i++)
        if (strcmp(m->geometry[i].position, name) == 0)
            return true;
    return false;
}

/* A group has members, and one temperature. */
static void check_group(const trn_machine *m, size_t i, trn_faults *faults)
{
    const trn_duty *d = &m->duty[i];
    size_t others = 0;
    for (size_t k = 0; d->alternates_with && k < m->duty_count; k++) {
        const trn_duty *e = &m->duty[k];
        if (k == i || !trn_alternating(m, i, k))
            continue;
        others++;
        if (k < i && given(d->oil_temperature) && given(e->oil_temperature) &&
            d->oil_temperature != e->oil_temperature) {
            trn_fault_add(faults, "duty.csv", d->row.line, "oil_temperature [degC]",
                          "differs from that of `%s`, but conditions that alternate share one oil "
                          "temperature; give it once in the group `%s`",
                          e->condition, d->alternates_with);
            return;
        }
    }
    if (d->alternates_with && others == 0)
        trn_fault_add(faults, "duty.csv", d->row.line, "alternates_with",
                      "no other condition has the word `%s`; it stands in every row of the group, "
                      "two at least",
                      d->alternates_with);
}

static void check_readings(const trn_machine *m, trn_faults *faults)
{
    for (size_t i = 0; i < m->readings_count; i++) {
        const trn_reading *d = &m->readings[i];
        if (!(d->temperature > d->ambient))
            trn_fault_add(faults, "readings.csv", d->row.line, "temperature [degC]",
                          "%.6g degC is not above the air of %.6g degC; are they swapped?",
                          d->temperature - 273.15, d->ambient - 273.15);
    }
}

static void check_duty(trn_machine *m, trn_faults *faults)
{
    check_duty_shares(m, faults);
    for (size_t i = 0; i < m->duty_count; i++)
        check_group(m, i, faults);
    for (size_t i = 0; i < m->duty_count; i++) {
        const trn_duty *d = &m->duty[i];
        if (d->position && !position_known(m, d->position))
            trn_fault_add(
                faults, "duty.csv", d->row.line, "position",
                "`%s` is in neither positions.csv nor geometry.csv; give it a row there or "
                "leave the cell blank",
                d->position);
    }
}

static void check_bearings(const trn_machine *m, trn_faults *faults)
{
    for (size_t i = 0; i < m->bearings_count; i++) {
        const trn_bearing *b = &m->bearings[i];
        if (b->kind == TRN_KIND_TAPERED && !given(b->contact_angle))
            trn_fault_add(faults, "bearings.csv", b->row.line, "contact_angle [deg]",
                          "a tapered bearing needs its contact angle: atan(e/1.5) of the "
                          "catalogue's e");
        if (!(b->outside > b->bore))
            trn_fault_add(faults, "bearings.csv", b->row.line, "outside [mm]",
                          "the outside diameter is not above the bore; are they swapped?");
    }
}

static bool is_bevel(int kind)
{
    return kind == TRN_STRAIGHT_BEVEL || kind == TRN_SPIRAL_BEVEL;
}

static void check_gears(const trn_machine *m, trn_faults *faults)
{
    for (size_t i = 0; i < m->gears_count; i++) {
        const trn_gear *g = &m->gears[i];
        if (fabs(g->teeth - round(g->teeth)) > 1e-9)
            trn_fault_add(faults, "gears.csv", g->row.line, "teeth",
                          "%.6g is not a whole number of teeth", g->teeth);
        if (is_bevel(g->kind) && g->apex < 0)
            trn_fault_add(faults, "gears.csv", g->row.line, "apex",
                          "a bevel gear needs the side (+ or -) on which its apex lies");
        if ((g->kind == TRN_STRAIGHT_BEVEL || g->kind == TRN_SPUR) && g->spiral_angle != 0)
            trn_fault_add(faults, "gears.csv", g->row.line, "spiral_angle [deg]",
                          "a straight gear has no spiral or helix angle; the kind is %s then",
                          g->kind == TRN_SPUR ? "helical" : "spiral_bevel");
    }
}

static void check_oils(const trn_machine *m, trn_faults *faults)
{
    for (size_t i = 0; i < m->oils_count; i++) {
        const trn_oil *o = &m->oils[i];
        if (!given(o->kv40) && !given(o->index))
            trn_fault_add(
                faults, "oils.csv", o->row.line, "kv40 [mm2/s]",
                "the viscosity at 40 degC is needed, or the column index (viscosity index)");
        if (given(o->kv40) && !(o->kv40 > o->kv100))
            trn_fault_add(
                faults, "oils.csv", o->row.line, "kv40 [mm2/s]",
                "the viscosity at 40 degC is not above that at 100 degC; are they swapped?");
        if (given(o->ageing_life) != given(o->ageing_temperature))
            trn_fault_add(faults, "oils.csv", o->row.line, "ageing_life [h]",
                          "ageing_life and ageing_temperature go together; give both or neither");
    }
}

static void check_points(const trn_machine *m, trn_faults *faults)
{
    for (size_t i = 0; i < m->points_count; i++)
        for (size_t k = 0; k < i; k++)
            if (m->points[i].task == m->points[k].task &&
                strcmp(m->points[i].point, m->points[k].point) == 0) {
                trn_fault_add(
                    faults, "points.csv", m->points[i].row.line, "point",
                    "`%s` with this task stands in line %zu already; a point has a row a task",
                    m->points[i].point, m->points[k].row.line);
                break;
            }
    for (size_t i = 0; i < m->points_count; i++) {
        const trn_point *p = &m->points[i];
        if (p->severe_interval > p->manual_interval * (1 + 1e-9))
            trn_fault_add(faults, "points.csv", p->row.line, "severe_interval [h]",
                          "%.6g h for severe service are more than the manual_interval of %.6g h; "
                          "are they swapped?",
                          p->severe_interval, p->manual_interval);
        if (p->last_done > m->head.machine_hours * (1 + 1e-9))
            trn_fault_add(faults, "points.csv", p->row.line, "last_done [h]",
                          "%.6g h are more than the hour meter shows now (machine_hours %.6g h)",
                          p->last_done, m->head.machine_hours);
    }
}

static void check_shafts(const trn_machine *m, trn_faults *faults)
{
    for (size_t i = 0; i < m->shafts_count; i++) {
        const trn_shaft *s = &m->shafts[i];
        if (given(s->tube_bore) && given(s->tube_outside) && !(s->tube_bore < s->tube_outside))
            trn_fault_add(
                faults, "shafts.csv", s->row.line, "tube_bore [mm]",
                "the inside diameter is not below the outside diameter; are they swapped?");
        if (given(s->overlap_closed) && given(s->length_closed) &&
            s->overlap_closed > s->length_closed)
            trn_fault_add(
                faults, "shafts.csv", s->row.line, "overlap_closed [mm]",
                "the overlap is longer than the closed shaft; both are of the shaft pushed "
                "together");
    }
}

/* Dimensions that a layout cannot do without. */
enum { DIMENSIONS_MAX = 12 };
static const char *const dimensions[][DIMENSIONS_MAX] = {
    [TRN_HITCH] = {"x", "z", "pitch"},
    [TRN_DRAWBAR] = {"x", "y", "psi"},
    [TRN_WING] = {"a", "h1", "b", "h2", "tau"},
    [TRN_LINKAGE] = {"lower_x", "lower_z", "lower_link", "upper_x", "upper_z", "upper_link", "mast",
                     "joint_x", "joint_z", "input_d", "input_e", "link_angle"},
};

static void check_geometry(const trn_machine *m, trn_faults *faults)
{
    const trn_table *table = trn_table_find("geometry");
    for (size_t i = 0; i < m->geometry_count; i++) {
        trn_geometry *g = &m->geometry[i];
        for (size_t k = 0; k < DIMENSIONS_MAX && dimensions[g->layout][k]; k++) {
            const trn_column *column = trn_column_find(table, dimensions[g->layout][k]);
            if (given(*trn_cell_number(column, g)))
                continue;
            char header[64];
            (void)snprintf(header, sizeof header, "%s [%s]", column->name, column->unit);
            trn_fault_add(faults, "geometry.csv", g->row.line, header, "the layout needs it: %s",
                          column->what);
        }
    }
}

bool trn_cell_given(const char *table_name, const char *column_name, const trn_row *row)
{
    const trn_table *table = trn_table_find(table_name);
    const trn_column *column = trn_column_find(table, column_name);
    return ((row->given | row->changed) >> (column - table->columns)) & 1;
}

void trn_rules_check(trn_machine *machine, trn_faults *faults)
{
    check_shafts(machine, faults);
    check_geometry(machine, faults);
    check_gears(machine, faults);
    check_bearings(machine, faults);
    check_oils(machine, faults);
    check_points(machine, faults);
    check_duty(machine, faults);
    check_readings(machine, faults);
    trn_rules_samples(machine, faults);
    trn_rules_evidence(machine, faults);
}
