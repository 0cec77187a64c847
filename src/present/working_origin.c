/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where an input came from: the alternatives of its rule, each tried against its value. */
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <trunnion/choices.h>
#include <trunnion/path.h>
#include <trunnion/units.h>

#include "working_inside.h"

static const double cell_digits = 1e-12; /* the same number, unit to unit */
static const double step_digits = 1e-9;  /* the same step by another order of operations */

typedef struct sought {
    const trn_place *place;
    const char *symbol;
    double value;
    const char *si;
    bool *used;
    const char *rule; /* of this alternative */
} sought;

static bool agrees(double a, double b, double digits)
{
    return a == b || fabs(a - b) <= digits * fmax(fabs(a), fabs(b));
}

static trn_from in_words(trn_from_kind kind, const char *text)
{
    trn_from from = {.kind = kind, .part = 1};
    (void)snprintf(from.text, sizeof from.text, "%s", text);
    return from;
}

static const trn_from unknown = {.kind = TRN_FROM_NOWHERE, .part = 1};

/* ---- keys of a place ---------------------------------------------------------------------- */

static const char *key_of_bearing(const trn_place *p, size_t which)
{
    const trn_machine *m = p->results->machine;
    if (p->axle == TRN_NONE || m->axles[p->axle].bearing_count <= which)
        return NULL;
    return m->bearings[m->axles[p->axle].bearing[which]].bearing;
}

static const char *oil_key(const trn_place *p)
{
    const trn_machine *m = p->results->machine;
    if (p->gearbox != TRN_NONE)
        return m->gearboxes[p->gearbox].oil;
    return p->point == TRN_NONE ? NULL : m->points[p->point].lubricant;
}

static const char *task_key(const trn_place *p)
{
    const trn_column *task = trn_column_find(trn_table_find("points"), "task");
    return p->point == TRN_NONE ? NULL : task->words[p->results->machine->points[p->point].task];
}

/* Key that stands for a name such as `shaft` in a path; NULL: the place has none. */
static const char *key_of(const trn_place *p, const char *name, size_t n)
{
    const trn_machine *m = p->results->machine;
#define IS(word) (n == sizeof(word) - 1 && strncmp(name, word, n) == 0)
#define KEY(word, table, index)                                              \
    if (IS(#word))                                                           \
        return p->index == TRN_NONE ? NULL : m->table[p->index].word;
    KEY(shaft, shafts, shaft)
    KEY(gearbox, gearboxes, gearbox)
    KEY(axle, axles, axle)
    KEY(gear, gears, gear)
    KEY(bearing, bearings, bearing)
    KEY(point, points, point)
    KEY(condition, duty, condition)
#undef KEY
    if (IS("mate"))
        return p->gear == TRN_NONE ? NULL : m->gears[p->gear].mate;
    if (IS("position"))
        return p->position;
    if (IS("A"))
        return key_of_bearing(p, 0);
    if (IS("B"))
        return key_of_bearing(p, 1);
    if (IS("oil"))
        return oil_key(p);
    if (IS("task"))
        return task_key(p);
#undef IS
    return NULL;
}

static char side_of(const trn_place *p)
{
    const char *a = key_of_bearing(p, 0);
    const char *own = key_of(p, "bearing", 7);
    return a && own && strcmp(a, own) == 0 ? 'A' : 'B';
}

/* Writes a rule with the keys of the place; false where one is missing. */
static bool filled(const sought *s, const char *rule, size_t n, char *out, size_t size)
{
    size_t used = 0;
    for (size_t i = 0; i < n;) {
        const char *piece = rule + i;
        size_t length = 1;
        char side[2] = {side_of(s->place), '\0'};
        if (rule[i] == '@') {
            size_t k = 1;
            while (i + k < n && ((rule[i + k] >= 'a' && rule[i + k] <= 'z') ||
                                 rule[i + k] == 'A' || rule[i + k] == 'B'))
                k++;
            piece = key_of(s->place, rule + i + 1, k - 1);
            if (!piece)
                return false;
            length = strlen(piece);
            i += k;
        } else {
            if (rule[i] == '~') {
                piece = s->symbol;
                length = strlen(piece);
            } else if (rule[i] == '#') {
                piece = side;
            }
            i++;
        }
        if (used + length + 1 > size)
            return false;
        memcpy(out + used, piece, length);
        used += length;
    }
    out[used] = '\0';
    return true;
}

/* ---- cells -------------------------------------------------------------------------------- */

enum { VALUES = TRN_LIST_MAX };

/* Numbers of a cell in the unit asked for; 0 where it has none or is not known. */
static size_t cell_values(const trn_machine *m, const char *path_text, const char *si,
                          double *values, const trn_row **row)
{
    trn_path path;
    trn_buffer why = {0};
    trn_status status = trn_path_parse(m, path_text, &path, &why);
    trn_buffer_free(&why);
    if (status != TRN_OK)
        return 0;
    const char *at = trn_table_row(m, path.table, trn_path_row(m, &path, 0));
    size_t n = 0;
    *row = (const trn_row *)(const void *)at;
    if (path.column->cell == TRN_CELL_NUMBER) {
        memcpy(values, at + path.column->offset, sizeof *values);
        if (!isnan(values[0]))
            n = 1;
    } else if (path.column->cell == TRN_CELL_NUMBERS) {
        const trn_numbers *list = (const void *)(at + path.column->offset);
        n = list->n;
        memcpy(values, list->v, n * sizeof *values);
    }
    for (size_t i = 0; i < n; i++)
        if (strcmp(path.column->inner, si) != 0 &&
            trn_unit_value(values[i], path.column->inner, si, &values[i]) != TRN_OK)
            return 0;
    return n;
}

/* Filled in by the user, or by an override; has the column a default? */
static bool given_cell(const trn_machine *m, const char *path_text, bool *changed, bool *fallback)
{
    *changed = *fallback = false;
    trn_path path;
    trn_buffer why = {0};
    trn_status status = trn_path_parse(m, path_text, &path, &why);
    trn_buffer_free(&why);
    if (status != TRN_OK)
        return false;
    const trn_row *row = trn_table_row(m, path.table, trn_path_row(m, &path, 0));
    uint64_t bit = (uint64_t)1 << (unsigned)(path.column - path.table->columns);
    *changed = (row->changed & bit) != 0;
    *fallback = path.column->fallback != NULL;
    return (row->given & bit) != 0 || *changed;
}

static trn_from cell_from(const trn_machine *m, const char *path)
{
    bool changed = false;
    bool fallback = false;
    bool given = given_cell(m, path, &changed, &fallback);
    trn_from from = in_words(TRN_FROM_CELL, path);
    size_t n = strlen(from.text);
    if (!given || changed)
        (void)snprintf(from.text + n, sizeof from.text - n, "%s",
                       changed ? " (set)" : " (default)");
    return from;
}

static trn_from from_cell(const sought *s, bool compared)
{
    const trn_machine *m = s->place->results->machine;
    char path[160];
    double values[VALUES];
    const trn_row *row = NULL;
    if (!filled(s, s->rule, strlen(s->rule), path, sizeof path))
        return unknown;
    if (!compared) {
        bool changed = false;
        bool fallback = false;
        return given_cell(m, path, &changed, &fallback) || fallback ? cell_from(m, path) : unknown;
    }
    size_t n = cell_values(m, path, s->si, values, &row);
    for (size_t i = 0; i < n; i++)
        if (agrees(values[i], s->value, cell_digits))
            return cell_from(m, path);
    return unknown;
}

/* Two cells joined by + (their mean), * or /. */
static trn_from from_two(const sought *s, char sign)
{
    const trn_machine *m = s->place->results->machine;
    const char *middle = strchr(s->rule, sign);
    char path[2][120];
    double v[2][VALUES];
    const trn_row *row = NULL;
    if (!middle || middle == s->rule ||
        !filled(s, s->rule, (size_t)(middle - s->rule) - 1, path[0], sizeof path[0]) ||
        !filled(s, middle + 2, strlen(middle + 2), path[1], sizeof path[1]))
        return unknown;
    bool mean = sign == '+';
    for (size_t i = 0; i < 2; i++) {
        trn_path p;
        trn_buffer why = {0};
        bool known = trn_path_parse(m, path[i], &p, &why) == TRN_OK;
        trn_buffer_free(&why);
        if (!known || cell_values(m, path[i], mean ? s->si : p.column->inner, v[i], &row) != 1)
            return unknown;
    }
    double value = mean        ? (v[0][0] + v[1][0]) / 2
                   : sign == '*' ? v[0][0] * v[1][0]
                                 : v[0][0] / v[1][0];
    if (!agrees(value, s->value, cell_digits))
        return unknown;
    trn_from from = in_words(TRN_FROM_WORDS, "");
    if (mean)
        (void)snprintf(from.text, sizeof from.text, "mean of %s and %s", path[0], path[1]);
    else
        (void)snprintf(from.text, sizeof from.text, "%s %c %s", path[0], sign, path[1]);
    return from;
}

static trn_from from_part(const sought *s)
{
    double values[VALUES];
    const trn_row *row = NULL;
    char path[160];
    const char *end = s->rule;
    double n = 1;
    if (trn_text_number_start(s->rule, &n, &end) != TRN_OK ||
        !filled(s, end + 1, strlen(end + 1), path, sizeof path) ||
        cell_values(s->place->results->machine, path, s->si, values, &row) != 1 ||
        !agrees(values[0] / n, s->value, cell_digits))
        return unknown;
    trn_from from = in_words(TRN_FROM_WORDS, "");
    (void)snprintf(from.text, sizeof from.text, "%s/%g", path, n);
    return from;
}

static trn_from from_choice(const sought *s)
{
    for (size_t i = 0; trn_choice_at(i); i++) {
        const trn_choice *c = trn_choice_at(i);
        double value = trn_choice_value((trn_choice_id)i);
        if (strcmp(c->name, s->rule) != 0 || isnan(value))
            continue;
        if (strcmp(c->unit, s->si) != 0 && trn_unit_value(value, c->unit, s->si, &value) != TRN_OK)
            continue;
        if (!agrees(value, s->value, cell_digits))
            continue;
        trn_from from = in_words(TRN_FROM_CHOICE, "");
        (void)snprintf(from.text, sizeof from.text, "choices.%s", c->name);
        return from;
    }
    return unknown;
}

/* ---- steps -------------------------------------------------------------------------------- */

/* Shaft whose joints act on an axle. */
static bool attached(const trn_machine *m, size_t shaft, size_t axle)
{
    if (shaft == TRN_NONE || axle == TRN_NONE)
        return false;
    const trn_gearbox *g = &m->gearboxes[m->axles[axle].gearbox_index];
    return m->shafts[shaft].from_axle == axle ||
           (g->input_axle == axle && g->shaft_index == shaft);
}

static bool same_text(const char *a, const char *b)
{
    return a && b && strcmp(a, b) == 0;
}

/* Does a note belong to the place that a rule names? */
static bool belongs(const trn_place *p, const trn_place *o, const char *where)
{
    const trn_machine *m = p->results->machine;
    const char *stage = o->stage;
    bool here = strcmp(o->condition_text, p->condition_text) == 0;
    bool plain = o->variant[0] == '\0';
    bool heat = strncmp(p->stage, "heat", 4) == 0 && p->note;
    bool alike = heat ? strcmp(o->variant, p->variant) == 0 : plain;
#define AT(word) (strcmp(where, word) == 0)
    if (AT(""))
        return strcmp(stage, p->stage) == 0 && strcmp(o->variant, p->variant) == 0 &&
               (p->note ? strcmp(o->note->object, p->note->object) == 0 : here) &&
               (here || strcmp(stage, "cleanliness") == 0);
    if (AT("position"))
        return strcmp(stage, "position") == 0 && o->shaft == p->shaft &&
               same_text(o->position, p->position);
    if (AT("shaft") && strcmp(p->stage, "unused") == 0)
        return strcmp(stage, "unused") == 0 && o->shaft == p->shaft &&
               same_text(o->position, p->position);
    if (AT("shaft"))
        return here && strcmp(stage, "joint") == 0 && o->shaft == p->shaft;
    if (AT("attached"))
        return here && strcmp(stage, "joint") == 0 && attached(m, o->shaft, p->axle);
    if (AT("teeth"))
        return here && strcmp(stage, "gear") == 0 && o->axle == p->axle &&
               strcmp(o->variant, p->variant) == 0;
    if (AT("axle"))
        return here && (strcmp(stage, "axle") == 0) && o->axle == p->axle &&
               strcmp(o->variant, heat ? "mean" : p->variant) == 0;
    if (AT("A") || AT("B"))
        return here && strcmp(stage, "axle bearing") == 0 &&
               strcmp(o->variant, p->variant) == 0 &&
               same_text(o->note->object, key_of_bearing(p, AT("B")));
    if (AT("gearbox"))
        return here && strcmp(stage, "heat") == 0 && o->gearbox == p->gearbox && alike;
    if (AT("oil"))
        return here && strcmp(stage, "heat") == 0 && o->gearbox == p->gearbox && plain;
    if (AT("low") || AT("high") || AT("model"))
        return here && strcmp(stage, "heat") == 0 && o->gearbox == p->gearbox &&
               strcmp(o->variant, where) == 0;
    if (AT("parts"))
        return here && strncmp(stage, "heat", 4) == 0 && o->gearbox == p->gearbox && alike;
    if (AT("mesh"))
        return here && strcmp(stage, "heat mesh") == 0 && alike &&
               strcmp(o->note->object, p->note->object) == 0;
    if (AT("clean"))
        return strcmp(stage, "cleanliness") == 0 && o->gearbox == p->gearbox;
    if (AT("bearing"))
        return here && strcmp(stage, "life") == 0 && o->bearing == p->bearing;
    if (AT("duty"))
        return strcmp(p->condition_text, "all") == 0 && strcmp(stage, "duty") == 0 &&
               o->bearing == p->bearing;
    if (AT("fit"))
        return strcmp(p->condition_text, "all") == 0 && strcmp(stage, "fit") == 0 &&
               o->shaft == p->shaft;
    if (AT("system"))
        return strcmp(stage, "gearbox") == 0 && o->gearbox == p->gearbox;
    if (AT("reliability"))
        return strcmp(stage, "reliability") == 0;
    if (AT("point"))
        return strcmp(stage, "interval") == 0 && p->point != TRN_NONE && o->point == p->point &&
               (plain || (strcmp(o->variant, "drawn") == 0 && strstr(p->variant, "drawn")));
    if (AT("first") || AT("drawn") || AT("firstdrawn"))
        return strcmp(stage, "interval") == 0 && o->point == p->point &&
               strcmp(o->variant, where) == 0;
#undef AT
    return false;
}

/* The output of a formula by its name; ~ is the symbol, or the symbol without its digits. */
static size_t output_of(const trn_formula *f, const char *name, const char *symbol)
{
    bool same = strcmp(name, "~") == 0;
    size_t n = strlen(same ? symbol : name);
    for (size_t i = 0; same && i < f->output_count; i++)
        if (strcmp(f->outputs[i].name, symbol) == 0)
            return i;
    if (same) {
        name = symbol;
        while (n > 1 && name[n - 1] >= '0' && name[n - 1] <= '9')
            n--;
    }
    for (size_t i = 0; i < f->output_count; i++)
        if (strlen(f->outputs[i].name) == n && strncmp(f->outputs[i].name, name, n) == 0)
            return i;
    return TRN_NONE;
}

typedef struct wanted {
    char formula[48], output[32], where[24];
} wanted;

static bool read_wanted(const sought *s, wanted *w)
{
    char text[128];
    char side = side_of(s->place);
    (void)snprintf(text, sizeof text, "%s", s->rule);
    for (char *c = text; *c; c++)
        if (*c == '#')
            *c = side;
    char *where = strchr(text, '@');
    if (where)
        *where++ = '\0';
    char *dot = strrchr(text, '.');
    if (!dot)
        return false;
    *dot = '\0';
    (void)snprintf(w->formula, sizeof w->formula, "%.47s", text);
    (void)snprintf(w->output, sizeof w->output, "%.31s", dot + 1);
    (void)snprintf(w->where, sizeof w->where, "%.23s", where ? where : "");
    return true;
}

/* Is note i the step sought? *output is the output that gives the value. */
static bool gives(const sought *s, const wanted *w, size_t i, double part, bool compared,
                  size_t *output)
{
    const trn_place *p = s->place;
    const trn_note *n = &p->trace->list[i];
    if (n->status < 0 || strcmp(n->formula->name, w->formula) != 0)
        return false;
    *output = output_of(n->formula, w->output, s->symbol);
    if (*output == TRN_NONE || (s->used && s->used[i * TRN_OUTPUTS_MAX + *output]))
        return false;
    double out = n->out[*output];
    if (compared && strcmp(n->formula->outputs[*output].si, s->si) != 0 &&
        trn_unit_value(out, n->formula->outputs[*output].si, s->si, &out) != TRN_OK)
        return false;
    /* angles of a layout have a sign, those of a joint none */
    bool angle = strcmp(n->stage, "position") == 0;
    if (compared && !agrees(angle ? fabs(part * out) : part * out, s->value, step_digits))
        return false;
    trn_place other = trn_place_of_note(p->results, p->trace, i);
    return belongs(p, &other, w->where);
}

/* The nearest note before; with `used`, the first that is not taken yet. */
static trn_from from_step(const sought *s, double part, bool compared)
{
    wanted w;
    size_t output = 0;
    if (!read_wanted(s, &w))
        return unknown;
    for (size_t k = 0; k < s->place->limit; k++) {
        size_t i = s->used ? k : s->place->limit - 1 - k;
        if (!gives(s, &w, i, part, compared, &output))
            continue;
        if (s->used)
            s->used[i * TRN_OUTPUTS_MAX + output] = true;
        return (trn_from){.kind = TRN_FROM_STEP, .note = i, .output = output, .part = part};
    }
    return unknown;
}

/* ---- speeds, other results, sums ---------------------------------------------------------- */

static trn_from speed_of_shaft(const sought *s, size_t shaft);

static trn_from speed_of_axle(const sought *s, size_t axle)
{
    const trn_place *p = s->place;
    const trn_machine *m = p->results->machine;
    if (axle == TRN_NONE)
        return unknown;
    if (trn_working_driving_gear(m, axle) == TRN_NONE)
        return speed_of_shaft(s, m->gearboxes[m->axles[axle].gearbox_index].shaft_index);
    for (size_t i = 0; i < p->limit; i++) {
        const trn_note *n = &p->trace->list[i];
        double out = NAN;
        if (strcmp(n->stage, "speed") == 0 && strcmp(n->object, m->axles[axle].axle) == 0 &&
            strcmp(n->condition, p->condition_text) == 0 &&
            trn_unit_value(n->out[0], n->formula->outputs[0].si, s->si, &out) == TRN_OK &&
            agrees(out, s->value, step_digits))
            return (trn_from){.kind = TRN_FROM_STEP, .note = i, .part = 1};
    }
    return unknown;
}

static trn_from speed_of_shaft(const sought *s, size_t shaft)
{
    const trn_machine *m = s->place->results->machine;
    if (shaft == TRN_NONE)
        return unknown;
    if (m->shafts[shaft].from_gearbox != TRN_NONE && s->place->condition == TRN_NONE)
        return in_words(TRN_FROM_WORDS, "machine.pto_speed and the teeth between");
    if (m->shafts[shaft].from_gearbox != TRN_NONE)
        return speed_of_axle(s, m->shafts[shaft].from_axle);
    sought cell = *s;
    cell.rule = s->place->condition == TRN_NONE ? "machine.pto_speed" : "duty.@condition.pto_speed";
    return from_cell(&cell, true);
}

static trn_from from_speed(const sought *s)
{
    const trn_place *p = s->place;
    if (strcmp(s->rule, "shaft") == 0)
        return speed_of_shaft(s, p->shaft);
    if (strcmp(s->rule, "axle") == 0)
        return speed_of_axle(s, p->axle);
    return p->gear == TRN_NONE
               ? unknown
               : speed_of_axle(s, p->results->machine->gears[p->gear].axle_index);
}

static bool result_is(const sought *s, const char *address_text)
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
    return agrees(value, s->value, cell_digits);
}

static trn_from from_result(const sought *s)
{
    char text[160];
    if (!filled(s, s->rule, strlen(s->rule), text, sizeof text) || !result_is(s, text))
        return unknown;
    return in_words(TRN_FROM_RESULT, text);
}

/* One of the bearings inside the gearbox of the place. */
static trn_from from_inside(const sought *s)
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
        return in_words(TRN_FROM_RESULT, text);
    }
    return unknown;
}

static trn_from share_of(const sought *s, size_t condition)
{
    const trn_machine *m = s->place->results->machine;
    const trn_duty *duty = &m->duty[condition];
    char path[160];
    bool changed = false;
    bool fallback = false;
    if (!agrees(duty->share, s->value, cell_digits))
        return unknown;
    (void)snprintf(path, sizeof path, "duty.%s.share", duty->condition);
    if (given_cell(m, path, &changed, &fallback))
        return cell_from(m, path);
    trn_from from = in_words(TRN_FROM_WORDS, "");
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
        bool basic = agrees(all->l10h_h, sum, step_digits);
        return (lived){basic ? row->l10h_h : row->lnmh_h, "bearing_lives",
                       m->bearings[p->bearing].bearing, basic ? "L10h" : "Lnmh"};
    }
    const trn_joint_row *all = trn_results_joint(p->results, m->duty_count, p->shaft);
    const trn_joint_row *row = trn_results_joint(p->results, condition, p->shaft);
    bool in = agrees(all->life_in_h, sum, step_digits);
    return (lived){in ? row->life_in_h : row->life_out_h, "joints", m->shafts[p->shaft].shaft,
                   in ? "life_in" : "life_out"};
}

/* A share or a life in a sum over the duty: conditions without share or damage are not in it. */
static trn_from from_duty(const sought *s)
{
    const trn_place *p = s->place;
    const trn_machine *m = p->results->machine;
    size_t place = place_in_family(s->symbol);
    if (place == TRN_NONE)
        return p->condition == TRN_NONE ? unknown : share_of(s, p->condition);
    for (size_t i = 0; i < m->duty_count; i++) {
        lived l = life_in_sum(p, i);
        if (!(m->duty[i].share > 0) || !isfinite(l.life_h) || place-- > 0)
            continue;
        if (s->symbol[0] == 'q')
            return share_of(s, i);
        if (!agrees(l.life_h, s->value, cell_digits))
            return unknown;
        trn_from from = in_words(TRN_FROM_RESULT, "");
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
    return unknown;
}

/* Shaft attached to the axle of the place, as key `attached` of a cell. */
static trn_from from_attached(const sought *s)
{
    const trn_machine *m = s->place->results->machine;
    for (size_t i = 0; i < m->shafts_count; i++) {
        char path[160];
        double values[VALUES];
        const trn_row *row = NULL;
        if (!attached(m, i, s->place->axle) || (s->used && s->used[i]))
            continue;
        (void)snprintf(path, sizeof path, "shafts.%s%s", m->shafts[i].shaft, strrchr(s->rule, '.'));
        if (cell_values(m, path, s->si, values, &row) != 1 ||
            !agrees(values[0], s->value, cell_digits))
            continue;
        if (s->used)
            s->used[i] = true;
        return cell_from(m, path);
    }
    return unknown;
}

/* The change of oil that counts for the dust of a box: the most frequent one. */
static trn_from from_change(const sought *s)
{
    const trn_machine *m = s->place->results->machine;
    const trn_column *task = trn_column_find(trn_table_find("points"), "task");
    for (size_t i = 0; i < m->points_count; i++) {
        char path[160];
        if (m->points[i].gearbox_index != s->place->gearbox ||
            strcmp(task->words[m->points[i].task], "change_oil") != 0 ||
            !agrees(m->points[i].manual_interval * 3600, s->value, cell_digits))
            continue;
        (void)snprintf(path, sizeof path, "points.%s.change_oil.manual_interval",
                       m->points[i].point);
        return cell_from(m, path);
    }
    return unknown;
}

/* What an interval is anchored with: two steps before it stands the mechanism. */
static trn_from from_margin(const sought *s)
{
    const trn_place *p = s->place;
    sought margin = *s;
    if (p->limit < 2)
        return unknown;
    const char *mechanism = p->trace->list[p->limit - 2].formula->name;
    if (strcmp(mechanism, "interval.dust_rate") == 0) {
        margin.rule = "gearboxes.@gearbox.dust_margin";
        return from_cell(&margin, true);
    }
    margin.rule = "additive_margin";
    return strcmp(mechanism, "interval.additive_rate") == 0 ? from_choice(&margin) : unknown;
}

/* ---- one rule ----------------------------------------------------------------------------- */

static trn_from from_words(const sought *s)
{
    char text[160];
    return filled(s, s->rule, strlen(s->rule), text, sizeof text) ? in_words(TRN_FROM_WORDS, text)
                                                                  : unknown;
}

static trn_from alternative(const sought *s, char kind)
{
    bool inside = strstr(s->rule, "@inside") != NULL;
    bool on_axle = strstr(s->rule, "shafts.@attached") != NULL;
    bool change = strstr(s->rule, "@change") != NULL;
    switch (kind) {
    case 'c':
        return on_axle ? from_attached(s) : change ? from_change(s) : from_cell(s, true);
    case 'k':
        return from_cell(s, false);
    case 's':
        return from_step(s, 1, true);
    case 'S':
        return from_step(s, 1, false);
    case 'h':
        return from_step(s, 0.5, true);
    case 'm':
        return from_two(s, '+');
    case 'w':
        return from_two(s, '*');
    case 'v':
        return from_two(s, '/');
    case 'x':
        return from_part(s);
    case 'n':
        return from_speed(s);
    case 'r':
        return inside ? from_inside(s) : from_result(s);
    case 'H':
        return s->place->solves ? unknown : from_result(s);
    case 'o':
        return from_choice(s);
    case 'a':
        return from_margin(s);
    case 'l':
        return from_duty(s);
    case 't':
        return from_words(s);
    case 'z':
        return s->value == 0 ? from_words(s) : unknown;
    default:
        return unknown;
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
            sought s = {place, symbol, value, si, used, length > 2 ? one + 2 : ""};
            trn_from from = alternative(&s, one[0]);
            if (from.kind != TRN_FROM_NOWHERE)
                return from;
        }
        p += n + (p[n] == '|');
        while (*p == ' ')
            p++;
    }
    return unknown;
}
