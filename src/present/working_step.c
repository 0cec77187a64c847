/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inputs that are outputs of earlier steps. */
#include <string.h>
#include <trunnion/units.h>

#include "working_origin.h"

static const double step_digits = 1e-9; /* the same step by another order of operations */

/* Shaft whose joints act on an axle. */
bool trn_shaft_attached(const trn_machine *m, size_t shaft, size_t axle)
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

#define AT(word) (strcmp(where, word) == 0)

static bool in_stage(const trn_place *o, const char *stage)
{
    return strcmp(o->stage, stage) == 0;
}

static bool in_variant(const trn_place *o, const char *variant)
{
    return strcmp(o->variant, variant) == 0;
}

/* Positions, shafts and the shafts on an axle. */
static bool of_shafts(const trn_place *p, const trn_place *o, const char *where, bool here)
{
    bool unused = in_stage(p, "unused");
    if (AT("position") || (AT("shaft") && unused))
        return in_stage(o, unused && AT("shaft") ? "unused" : "position") &&
               o->shaft == p->shaft && same_text(o->position, p->position);
    if (AT("shaft"))
        return here && in_stage(o, "joint") && o->shaft == p->shaft;
    if (AT("attached"))
        return here && in_stage(o, "joint") &&
               trn_shaft_attached(p->results->machine, o->shaft, p->axle);
    return AT("fit") && strcmp(p->condition_text, "all") == 0 && in_stage(o, "fit") &&
           o->shaft == p->shaft;
}

/* Gears, axles and bearings; losses and greases take the loads of the mean torque. */
static bool of_axles(const trn_place *p, const trn_place *o, const char *where, bool here)
{
    bool mean = strncmp(p->stage, "heat", 4) == 0 || in_stage(p, "interval");
    bool alike = in_variant(o, p->variant);
    if (AT("teeth"))
        return here && in_stage(o, "gear") && o->axle == p->axle && alike;
    if (AT("axle"))
        return here && in_stage(o, "axle") && o->axle == p->axle &&
               (mean ? in_variant(o, "mean") : alike);
    if (AT("A") || AT("B"))
        return here && in_stage(o, "axle bearing") && alike &&
               same_text(o->note->object, trn_place_bearing(p, AT("B")));
    if (AT("bearing"))
        return here && in_stage(o, "life") && o->bearing == p->bearing;
    return AT("duty") && strcmp(p->condition_text, "all") == 0 && in_stage(o, "duty") &&
           o->bearing == p->bearing;
}

/* Of the same box in a condition that it alternates with, or (read) a reading in any condition. */
static bool of_group(const trn_place *p, const trn_place *o, const char *where, bool alike)
{
    const trn_machine *m = p->results->machine;
    if (!in_stage(o, "heat") || o->gearbox != p->gearbox)
        return false;
    if (AT("read"))
        return strncmp(o->variant, "read", 4) == 0;
    if (strncmp(where, "group", 5) != 0 || p->condition >= m->duty_count ||
        o->condition >= m->duty_count ||
        !trn_alternating(m, p->condition, o->condition))
        return false;
    return where[5] ? in_variant(o, where + 5) : alike;
}

/* The heat balance of a box: within it the same variant, from outside the main one. */
static bool of_heat(const trn_place *p, const trn_place *o, const char *where, bool here)
{
    bool inside = strncmp(p->stage, "heat", 4) == 0 && p->note;
    bool alike = in_variant(o, inside ? p->variant : "");
    if (of_group(p, o, where, alike))
        return true;
    if (!here || o->gearbox != p->gearbox || strncmp(o->stage, "heat", 4) != 0)
        return false;
    if (AT("parts"))
        return alike;
    if (AT("mesh"))
        return in_stage(o, "heat mesh") && alike &&
               strcmp(o->note->object, p->note->object) == 0;
    if (!in_stage(o, "heat"))
        return false;
    if (AT("gearbox"))
        return alike;
    if (AT("oil"))
        return in_variant(o, "");
    return (AT("low") || AT("high") || AT("model")) && in_variant(o, where);
}

static bool of_points(const trn_place *p, const trn_place *o, const char *where)
{
    if (!in_stage(o, "interval") || p->point == TRN_NONE || o->point != p->point)
        return false;
    if (AT("point"))
        return in_variant(o, "") || (in_variant(o, "drawn") && strstr(p->variant, "drawn"));
    return (AT("first") || AT("drawn") || AT("firstdrawn")) && in_variant(o, where);
}

/* Does a note belong to the place that a rule names? */
static bool belongs(const trn_place *p, const trn_place *o, const char *where)
{
    bool here = strcmp(o->condition_text, p->condition_text) == 0;
    if (AT(""))
        return in_stage(o, p->stage) && in_variant(o, p->variant) &&
               (p->note ? strcmp(o->note->object, p->note->object) == 0 : here) &&
               (here || in_stage(o, "cleanliness"));
    if (AT("clean"))
        return in_stage(o, "cleanliness") && o->gearbox == p->gearbox;
    if (AT("system"))
        return in_stage(o, "gearbox") && o->gearbox == p->gearbox;
    if (AT("reliability"))
        return in_stage(o, "reliability");
    return of_shafts(p, o, where, here) || of_axles(p, o, where, here) ||
           of_heat(p, o, where, here) || of_points(p, o, where);
}
#undef AT

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
    const trn_formula *formula; /* NULL: there is none of the name */
    char output[32], where[24];
} wanted;

static bool read_wanted(const trn_sought *s, wanted *w)
{
    char text[128];
    char side = trn_place_side(s->place);
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
    w->formula = trn_formula_find(text);
    (void)snprintf(w->output, sizeof w->output, "%.31s", dot + 1);
    (void)snprintf(w->where, sizeof w->where, "%.23s", where ? where : "");
    return true;
}

/* Is note i the step sought? *output is the output that gives the value. */
static bool gives(const trn_sought *s, const wanted *w, size_t i, double part, bool compared,
                  size_t *output)
{
    const trn_place *p = s->place;
    const trn_note *n = &p->trace->list[i];
    if (n->status < 0 || n->formula != w->formula)
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
    if (compared && !trn_agrees(angle ? fabs(part * out) : part * out, s->value, step_digits))
        return false;
    trn_place other = trn_place_of_note(p->results, p->trace, i);
    return belongs(p, &other, w->where);
}

/* The nearest note before; with `used`, the first that is not taken yet. */
trn_from trn_from_step(const trn_sought *s, double part, bool compared)
{
    wanted w;
    size_t output = 0;
    if (!read_wanted(s, &w))
        return trn_from_unknown;
    for (size_t k = 0; k < s->place->limit; k++) {
        size_t i = s->used ? k : s->place->limit - 1 - k;
        if (!gives(s, &w, i, part, compared, &output))
            continue;
        if (s->used)
            s->used[i * TRN_OUTPUTS_MAX + output] = true;
        return (trn_from){.kind = TRN_FROM_STEP, .note = i, .output = output, .part = part};
    }
    return trn_from_unknown;
}

static bool alike(const trn_note *a, const trn_note *b)
{
    return a->formula == b->formula && strcmp(a->stage, b->stage) == 0 &&
           strcmp(a->condition, b->condition) == 0 && strcmp(a->object, b->object) == 0 &&
           strcmp(a->variant, b->variant) == 0;
}

/* How many notes like this one stand before it. */
static size_t turn_of(const trn_trace *trace, size_t note)
{
    size_t n = 0;
    for (size_t i = 0; i < note; i++)
        n += alike(&trace->list[i], &trace->list[note]);
    return n;
}

trn_from trn_from_case(const trn_sought *s)
{
    const trn_place *p = s->place;
    wanted w;
    size_t output = 0;
    if (!p->note || !read_wanted(s, &w))
        return trn_from_unknown;
    size_t turn = turn_of(p->trace, p->limit);
    for (size_t i = 0; i < p->limit; i++)
        if (gives(s, &w, i, 1, true, &output) && turn_of(p->trace, i) == turn)
            return (trn_from){.kind = TRN_FROM_STEP, .note = i, .output = output, .part = 1};
    return trn_from_unknown;
}
