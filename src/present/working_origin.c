/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where an input came from: the alternatives of its rule, each tried against its value. */
#include "working_origin.h"

#include <string.h>
#include <trunnion/schema.h>
#include <trunnion/units.h>

static const double step_digits = 1e-9;

/* ---- speeds, other results, sums ---------------------------------------------------------- */

static trn_from speed_of_shaft(const trn_sought *s, size_t shaft);

static trn_from speed_of_axle(const trn_sought *s, size_t axle)
{
    const trn_place *p = s->place;
    const trn_machine *m = p->results->machine;
    if (axle == TRN_NONE)
        return trn_from_unknown;
    if (trn_working_driving_gear(m, axle) == TRN_NONE)
        return speed_of_shaft(s, m->gearboxes[m->axles[axle].gearbox_index].shaft_index);
    for (size_t i = 0; i < p->limit; i++) {
        const trn_note *n = &p->trace->list[i];
        double out = NAN;
        if (strcmp(n->stage, "speed") == 0 && strcmp(n->object, m->axles[axle].axle) == 0 &&
            strcmp(n->condition, p->condition_text) == 0 &&
            trn_unit_value(n->out[0], n->formula->outputs[0].si, s->si, &out) == TRN_OK &&
            trn_agrees(out, s->value, step_digits))
            return (trn_from){.kind = TRN_FROM_STEP, .note = i, .part = 1};
    }
    return trn_from_unknown;
}

static trn_from speed_of_shaft(const trn_sought *s, size_t shaft)
{
    const trn_machine *m = s->place->results->machine;
    if (shaft == TRN_NONE)
        return trn_from_unknown;
    if (m->shafts[shaft].from_gearbox != TRN_NONE && s->place->condition == TRN_NONE)
        return trn_from_say(TRN_FROM_WORDS, "machine.pto_speed and the teeth between");
    if (m->shafts[shaft].from_gearbox != TRN_NONE)
        return speed_of_axle(s, m->shafts[shaft].from_axle);
    trn_sought cell = *s;
    cell.rule = s->place->condition == TRN_NONE ? "machine.pto_speed" : "duty.@condition.pto_speed";
    return trn_from_cell(&cell, true);
}

static trn_from from_speed(const trn_sought *s)
{
    const trn_place *p = s->place;
    if (strcmp(s->rule, "shaft") == 0)
        return speed_of_shaft(s, p->shaft);
    if (strcmp(s->rule, "axle") == 0)
        return speed_of_axle(s, p->axle);
    return p->gear == TRN_NONE
               ? trn_from_unknown
               : speed_of_axle(s, p->results->machine->gears[p->gear].axle_index);
}

static bool result_is(const trn_sought *s, const char *address_text)
{
    trn_working_place a;
    trn_buffer why = {0};
    double value = NAN;
    trn_status status = trn_working_find(s->place->results, address_text, &a, &why);
    trn_buffer_free(&why);
    if (status != TRN_OK || !a.field)
        return false;
    memcpy(&value, (const char *)a.view->row(s->place->results, a.row) + a.field->offset,
           sizeof value);
    const char *unit = a.field->unit ? a.field->unit : "1";
    if (strcmp(unit, s->si) != 0 && trn_unit_value(value, unit, s->si, &value) != TRN_OK)
        return false;
    return trn_agrees(value, s->value, trn_cell_digits);
}

static trn_from from_result(const trn_sought *s)
{
    char text[160];
    if (!trn_rule_filled(s, s->rule, strlen(s->rule), text, sizeof text) || !result_is(s, text))
        return trn_from_unknown;
    return trn_from_say(TRN_FROM_RESULT, text);
}

/* One of the bearings inside the gearbox of the place. */
static trn_from from_inside(const trn_sought *s)
{
    const trn_machine *m = s->place->results->machine;
    const char *column = strrchr(s->rule, '.');
    for (size_t i = 0; column && i < m->bearings_count; i++) {
        char text[160];
        if (m->axles[m->bearings[i].axle_index].gearbox_index != s->place->gearbox ||
            (s->used && s->used[i]))
            continue;
        (void)snprintf(text, sizeof text, "bearing_lives.all.%s%s", m->bearings[i].bearing, column);
        if (!result_is(s, text))
            continue;
        if (s->used)
            s->used[i] = true;
        return trn_from_say(TRN_FROM_RESULT, text);
    }
    return trn_from_unknown;
}

static trn_from share_of(const trn_sought *s, size_t condition)
{
    const trn_machine *m = s->place->results->machine;
    const trn_duty *duty = &m->duty[condition];
    char path[160];
    bool changed = false;
    bool fallback = false;
    if (!trn_agrees(duty->share, s->value, trn_cell_digits))
        return trn_from_unknown;
    (void)snprintf(path, sizeof path, "duty.%s.share", duty->condition);
    if (trn_cell_filled(m, path, &changed, &fallback))
        return trn_from_path(m, path);
    trn_from from = trn_from_say(TRN_FROM_WORDS, "");
    (void)snprintf(from.text, sizeof from.text, "duty.%s.hours over those of all conditions",
                   duty->condition);
    return from;
}

/* Place of a symbol such as L3 in its family, from 0. */
static size_t place_in_family(const char *symbol)
{
    size_t n = strcspn(symbol, "0123456789");
    double number = 0;
    return trn_text_number(symbol + n, &number) == TRN_OK && number >= 1 ? (size_t)number - 1
                                                                         : TRN_NONE;
}

typedef struct lived {
    double life_h;
    const char *view, *key, *column;
} lived;

/* Life of a condition in the sum that this note is: L10h or Lnmh of a bearing, in or out of a
 * shaft; which of the two shows in the sum itself. */
static lived life_in_sum(const trn_place *p, size_t condition)
{
    const trn_machine *m = p->results->machine;
    double sum = p->note->out[0];
    if (p->bearing != TRN_NONE) {
        const trn_bearing_row *rows = p->results->bearings;
        const trn_bearing_row *all = &rows[m->duty_count * m->bearings_count + p->bearing];
        const trn_bearing_row *row = &rows[condition * m->bearings_count + p->bearing];
        bool basic = trn_agrees(all->l10h_h, sum, step_digits);
        return (lived){basic ? row->l10h_h : row->lnmh_h, "bearing_lives",
                       m->bearings[p->bearing].bearing, basic ? "L10h" : "Lnmh"};
    }
    const trn_joint_row *all = trn_results_joint(p->results, m->duty_count, p->shaft);
    const trn_joint_row *row = trn_results_joint(p->results, condition, p->shaft);
    bool in = trn_agrees(all->life_in_h, sum, step_digits);
    return (lived){in ? row->life_in_h : row->life_out_h, "joints", m->shafts[p->shaft].shaft,
                   in ? "life_in" : "life_out"};
}

/* A share or a life in a sum over the duty: conditions without share or damage are not in it. */
static trn_from from_duty(const trn_sought *s)
{
    const trn_place *p = s->place;
    const trn_machine *m = p->results->machine;
    size_t place = place_in_family(s->symbol);
    if (place == TRN_NONE)
        return p->condition == TRN_NONE ? trn_from_unknown : share_of(s, p->condition);
    for (size_t i = 0; i < m->duty_count; i++) {
        lived l = life_in_sum(p, i);
        if (!(m->duty[i].share > 0) || !isfinite(l.life_h) || place-- > 0)
            continue;
        if (s->symbol[0] == 'q')
            return share_of(s, i);
        if (!trn_agrees(l.life_h, s->value, trn_cell_digits))
            return trn_from_unknown;
        trn_from from = trn_from_say(TRN_FROM_RESULT, "");
        (void)snprintf(from.text, sizeof from.text, "%s.%s.%s.%s", l.view, m->duty[i].condition,
                       l.key, l.column);
        trn_working_place address;
        trn_buffer why = {0};
        if (i == p->worked && trn_working_find(p->results, from.text, &address, &why) == TRN_OK) {
            trn_place end = trn_place_of_row(p->results, p->trace, address.view, address.row);
            trn_from step = trn_origin(&end, address.view->name, l.column, l.life_h, "h", NULL);
            if (step.kind == TRN_FROM_STEP)
                from = step;
        }
        trn_buffer_free(&why);
        return from;
    }
    return trn_from_unknown;
}

/* Shaft attached to the axle of the place, as key `attached` of a cell. */
static trn_from from_attached(const trn_sought *s)
{
    const trn_machine *m = s->place->results->machine;
    for (size_t i = 0; i < m->shafts_count; i++) {
        char path[160];
        double values[TRN_CELL_VALUES];
            if (!trn_shaft_attached(m, i, s->place->axle) || (s->used && s->used[i]))
            continue;
        (void)snprintf(path, sizeof path, "shafts.%s%s", m->shafts[i].shaft, strrchr(s->rule, '.'));
        if (trn_cell_values(m, path, s->si, values) != 1 ||
            !trn_agrees(values[0], s->value, trn_cell_digits))
            continue;
        if (s->used)
            s->used[i] = true;
        return trn_from_path(m, path);
    }
    return trn_from_unknown;
}

/* The change of oil that counts for the dust of a box: the most frequent one. */
static trn_from from_change(const trn_sought *s)
{
    const trn_machine *m = s->place->results->machine;
    const trn_column *task = trn_column_find(trn_table_find("points"), "task");
    for (size_t i = 0; i < m->points_count; i++) {
        char path[160];
        if (m->points[i].gearbox_index != s->place->gearbox ||
            strcmp(task->words[m->points[i].task], "change_oil") != 0 ||
            !trn_agrees(m->points[i].manual_interval * 3600, s->value, trn_cell_digits))
            continue;
        (void)snprintf(path, sizeof path, "points.%s.change_oil.manual_interval",
                       m->points[i].point);
        return trn_from_path(m, path);
    }
    return trn_from_unknown;
}

/* What an interval is anchored with: two steps before it stands the mechanism. */
static trn_from from_margin(const trn_sought *s)
{
    const trn_place *p = s->place;
    trn_sought margin = *s;
    if (p->limit < 2)
        return trn_from_unknown;
    const char *mechanism = p->trace->list[p->limit - 2].formula->name;
    if (strcmp(mechanism, "interval.dust_rate") == 0) {
        margin.rule = "gearboxes.@gearbox.dust_margin";
        return trn_from_cell(&margin, true);
    }
    margin.rule = "additive_margin";
    return strcmp(mechanism, "interval.additive_rate") == 0 ? trn_from_choice(&margin)
                                                            : trn_from_unknown;
}

/* ---- one rule ----------------------------------------------------------------------------- */

static trn_from from_words(const trn_sought *s)
{
    char text[160];
    bool whole = trn_rule_filled(s, s->rule, strlen(s->rule), text, sizeof text);
    return whole ? trn_from_say(TRN_FROM_WORDS, text) : trn_from_unknown;
}

static bool in_group(const trn_place *p)
{
    const trn_machine *m = p->results->machine;
    for (size_t k = 0; p->condition < m->duty_count && k < m->duty_count; k++)
        if (k != p->condition && trn_alternating(m, p->condition, k))
            return true;
    return false;
}

static trn_from alternative(const trn_sought *s, char kind)
{
    bool inside = strstr(s->rule, "@inside") != NULL;
    bool on_axle = strstr(s->rule, "shafts.@attached") != NULL;
    bool change = strstr(s->rule, "@change") != NULL;
    switch (kind) {
    case 'c':
        return on_axle ? from_attached(s) : change ? from_change(s) : trn_from_cell(s, true);
    case 'k':
        return trn_from_cell(s, false);
    case 's':
        return trn_from_step(s, 1, true);
    case 'e':
        return trn_from_case(s);
    case 'S':
        return trn_from_step(s, 1, false);
    case 'h':
        return trn_from_step(s, 0.5, true);
    case 'm':
        return trn_from_two(s, '+');
    case 'w':
        return trn_from_two(s, '*');
    case 'v':
        return trn_from_two(s, '/');
    case 'x':
        return trn_from_part(s);
    case 'n':
        return from_speed(s);
    case 'r':
        return inside ? from_inside(s) : from_result(s);
    case 'H':
        return s->place->solves ? trn_from_unknown : from_result(s);
    case 'o':
        return trn_from_choice(s);
    case 'a':
        return from_margin(s);
    case 'l':
        return from_duty(s);
    case 't':
        return from_words(s);
    case 'g':
        return in_group(s->place) ? from_words(s) : trn_from_unknown;
    case 'R':
        return strncmp(s->place->variant, "read", 4) == 0 ? from_words(s) : trn_from_unknown;
    case 'z':
        return s->value == 0 ? from_words(s) : trn_from_unknown;
    default:
        return trn_from_unknown;
    }
}

trn_from trn_origin(const trn_place *place, const char *formula, const char *symbol, double value,
                    const char *si, bool *used)
{
    const char *rule = trn_working_rule(formula, symbol, place->stage);
    for (const char *p = rule ? rule : ""; *p;) {
        char one[160];
        size_t n = strcspn(p, "|");
        size_t length = n;
        while (length > 0 && p[length - 1] == ' ')
            length--;
        if (length > 0 && length < sizeof one) {
            memcpy(one, p, length);
            one[length] = '\0';
            trn_sought s = {place, symbol, value, si, used, length > 2 ? one + 2 : ""};
            trn_from from = alternative(&s, one[0]);
            if (from.kind != TRN_FROM_NOWHERE)
                return from;
        }
        p += n + (p[n] == '|');
        while (*p == ' ')
            p++;
    }
    return trn_from_unknown;
}
