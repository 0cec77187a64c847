/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rules of what a failure review rests on: failure.csv, and rows of `life` in scenarios.csv. */
#include <string.h>
#include <trunnion/evidence.h>
#include <trunnion/scenario.h>

#include "arena.h"
#include "rules.h"

/* The most similar of some names so far. */
typedef struct nearest {
    const char *name;
    size_t distance;
} nearest;

static void nearer(nearest *best, const char *wanted, const char *name)
{
    size_t d = trn_edit_distance(wanted, name);
    if (!best->name || d < best->distance)
        *best = (nearest){name, d};
}

static void check_component(const trn_machine *m, const trn_failure *f, trn_faults *faults)
{
    if (trn_find_bearing(m, f->component) != TRN_NONE ||
        trn_find_gearbox(m, f->component) != TRN_NONE ||
        trn_find_shaft(m, f->component) != TRN_NONE)
        return;
    nearest best = {NULL, 0};
    for (size_t i = 0; i < m->bearings_count; i++)
        nearer(&best, f->component, m->bearings[i].bearing);
    for (size_t i = 0; i < m->gearboxes_count; i++)
        nearer(&best, f->component, m->gearboxes[i].gearbox);
    for (size_t i = 0; i < m->shafts_count; i++)
        nearer(&best, f->component, m->shafts[i].shaft);
    trn_fault_add(faults, "failure.csv", f->row.line, "component",
                  "`%s` is no bearing, gearbox or shaft of the case%s%s%s", f->component,
                  best.name ? "; the nearest is `" : "", best.name ? best.name : "",
                  best.name ? "`" : "");
}

static void check_sign(const trn_failure *f, const char *sign, trn_faults *faults)
{
    enum { TOLD = 3 };
    const char *told[TOLD] = {NULL, NULL, NULL};
    for (size_t i = 0; trn_evidence_signs[i]; i++)
        if (strcmp(trn_evidence_signs[i], sign) == 0)
            return;
    for (size_t k = 0; k < TOLD; k++) {
        nearest best = {NULL, 0};
        for (size_t i = 0; trn_evidence_signs[i]; i++) {
            bool before = false;
            for (size_t j = 0; j < k; j++)
                before = before || told[j] == trn_evidence_signs[i];
            if (!before)
                nearer(&best, sign, trn_evidence_signs[i]);
        }
        told[k] = best.name;
    }
    trn_fault_add(faults, "failure.csv", f->row.line, "sign",
                  "`%s` is no damage sign of the list; the nearest: `%s`, `%s`, `%s`", sign,
                  told[0], told[1], told[2]);
}

static void check_failures(const trn_machine *m, trn_faults *faults)
{
    for (size_t i = 0; i < m->failure_count; i++) {
        const trn_failure *f = &m->failure[i];
        check_component(m, f, faults);
        for (size_t k = 0; k < i; k++)
            if (strcmp(m->failure[k].component, f->component) == 0) {
                trn_fault_add(faults, "failure.csv", f->row.line, "component",
                              "`%s` stands in line %zu already; a component has one row",
                              f->component, m->failure[k].row.line);
                break;
            }
        if (f->hours_spread > f->hours)
            trn_fault_add(faults, "failure.csv", f->row.line, "hours_spread [h]",
                          "half a width of %.10g h is more than the %.10g h themselves",
                          f->hours_spread, f->hours);
        for (size_t k = 0; k < f->sign.n; k++)
            check_sign(f, f->sign.v[k], faults);
    }
}

static void check_lives(const trn_machine *m, trn_faults *faults)
{
    for (size_t i = 0; i < m->scenarios_count; i++) {
        const trn_scenario *s = &m->scenarios[i];
        trn_buffer why = {0};
        trn_life_range range;
        if (strcmp(s->scenario, "as specified") == 0)
            trn_fault_add(faults, "scenarios.csv", s->row.line, "scenario",
                          "`as specified` is what a review calls the case itself; take another name");
        if (!trn_scenario_is_life(s))
            continue;
        if (trn_life_range_parse(s->value, &range, &why) != TRN_OK)
            trn_fault_add(faults, "scenarios.csv", s->row.line, "value", "%s",
                          why.text ? why.text : "no life");
        trn_buffer_free(&why);
        for (size_t k = 0; k < i; k++)
            if (trn_scenario_is_life(&m->scenarios[k]) &&
                strcmp(m->scenarios[k].scenario, s->scenario) == 0)
                trn_fault_add(faults, "scenarios.csv", s->row.line, "quantity",
                              "`%s` has a life in line %zu already", s->scenario,
                              m->scenarios[k].row.line);
    }
}

void trn_rules_evidence(const trn_machine *machine, trn_faults *faults)
{
    check_failures(machine, faults);
    check_lives(machine, faults);
}
