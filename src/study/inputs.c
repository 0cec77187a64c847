/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The list of inputs: cell by cell, with what fills the blank ones. */
#include <trunnion/inputs.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/choices.h>
#include <trunnion/path.h>
#include <trunnion/units.h>

const char *trn_origin_word(trn_origin_kind origin)
{
    static const char *const words[] = {"given", "default", "override", "computed"};
    return words[origin];
}

const char *trn_basis_word(trn_input_basis basis)
{
    return trn_column_find(trn_table_find("basis"), "basis")->words[basis];
}

/* ---- values as text ------------------------------------------------------------------------- */

static void add_number(const trn_column *column, double inner, trn_buffer *out)
{
    char text[48];
    double shown = inner;
    if (strcmp(column->inner, column->unit) != 0 &&
        trn_unit_value(inner, column->inner, column->unit, &shown) != TRN_OK)
        shown = NAN;
    trn_text_of_number(shown, text, sizeof text);
    trn_buffer_add(out, text);
}

/* Adds nothing where the cell is not known. */
static void add_value(const trn_column *column, const void *row, trn_buffer *out)
{
    const char *at = (const char *)row + column->offset;
    if (column->cell == TRN_CELL_NUMBER) {
        double number = NAN;
        memcpy(&number, at, sizeof number);
        if (!isnan(number))
            add_number(column, number, out);
    } else if (column->cell == TRN_CELL_WORD) {
        int word = -1;
        memcpy(&word, at, sizeof word);
        if (word >= 0)
            trn_buffer_add(out, column->words[word]);
    } else if (column->cell == TRN_CELL_NUMBERS) {
        const trn_numbers *list = (const void *)at;
        for (size_t i = 0; i < list->n; i++) {
            trn_buffer_add(out, i ? "/" : "");
            add_number(column, list->v[i], out);
        }
    } else if (column->cell == TRN_CELL_TEXTS) {
        const trn_texts *list = (const void *)at;
        for (size_t i = 0; i < list->n; i++)
            trn_buffer_print(out, "%s%s", i ? "/" : "", list->v[i]);
    } else {
        const char *text = NULL;
        memcpy(&text, at, sizeof text);
        if (text)
            trn_buffer_add(out, text);
    }
}

/* ---- blank cells that follow from others ---------------------------------------------------- */

typedef struct blank {
    const trn_machine *m;
    const trn_trace *trace;
    size_t row;
} blank;

typedef struct filled {
    double inner; /* NaN: nothing fills it */
    trn_origin_kind origin;
} filled;

static const filled nothing = {NAN, TRN_ORIGIN_COMPUTED};

static filled computed(double inner)
{
    return (filled){inner, TRN_ORIGIN_COMPUTED};
}

static filled duty_share(const blank *b)
{
    return computed(b->m->duty[b->row].share); /* from the hours of all conditions */
}

static filled duty_ambient(const blank *b)
{
    return (filled){b->m->head.ambient, TRN_ORIGIN_DEFAULT};
}

static filled duty_dust(const blank *b)
{
    int class = b->m->duty[b->row].dust_class;
    const trn_dust_class *of = class < 0 ? NULL : trn_dust_class_at((size_t)class);
    return of ? computed(of->median_mg_m3 * 1e-6) : nothing;
}

static filled point_ref_dust(const blank *b)
{
    return (filled){b->m->points[b->row].ref_dust, TRN_ORIGIN_DEFAULT};
}

static filled point_ref_speed(const blank *b)
{
    size_t shaft = b->m->points[b->row].shaft_index;
    return shaft == TRN_NONE ? nothing
                             : computed(b->m->head.pto_speed * b->m->shafts[shaft].speed_ratio);
}

static filled oil_kv40(const blank *b)
{
    const trn_oil *oil = &b->m->oils[b->row];
    double kv40 = NAN;
    const double in[] = {oil->kv100, oil->index};
    return trn_step(NULL, TRN_STEP_OIL_KV40_FROM_INDEX, in, &kv40) < 0 ? nothing : computed(kv40);
}

static filled bearing_limit(const blank *b)
{
    const trn_bearing *own = &b->m->bearings[b->row];
    double cu = NAN;
    const double in[] = {own->kind > 5 ? 1 : 0, own->C0, (own->bore + own->outside) / 2};
    return trn_step(NULL, TRN_STEP_BEARING_FATIGUE_LIMIT, in, &cu) < 0 ? nothing : computed(cu);
}

static filled bearing_f0(const blank *b)
{
    int kind = b->m->bearings[b->row].kind; /* deep groove, angular_15 */
    return kind > 1 ? nothing : (filled){14, TRN_ORIGIN_DEFAULT};
}

/* In the condition of the largest share: it moves a little with the temperature. */
static filled box_heat_transfer(const blank *b)
{
    const trn_formula *wall = trn_step_formula(TRN_STEP_HEAT_WALL);
    size_t most = 0;
    for (size_t i = 1; i < b->m->duty_count; i++)
        if (b->m->duty[i].share > b->m->duty[most].share)
            most = i;
    for (size_t i = 0; b->trace && b->m->duty_count > 0 && i < b->trace->count; i++) {
        const trn_note *n = &b->trace->list[i];
        if (n->formula != wall || strcmp(n->variant, "") != 0 ||
            strcmp(n->condition, b->m->duty[most].condition) != 0 ||
            strcmp(n->object, b->m->gearboxes[b->row].gearbox) != 0)
            continue;
        for (size_t k = 0; k < wall->output_count; k++)
            if (strcmp(wall->outputs[k].name, "k") == 0)
                return computed(n->out[k]);
    }
    return nothing;
}

static filled fill(const blank *b, const trn_table *table, const trn_column *column)
{
    static const struct {
        const char *table, *column;
        filled (*fill)(const blank *b);
    } rules[] = {
        {"duty", "share", duty_share},
        {"duty", "ambient", duty_ambient},
        {"duty", "dust", duty_dust},
        {"points", "ref_dust", point_ref_dust},
        {"points", "ref_speed", point_ref_speed},
        {"oils", "kv40", oil_kv40},
        {"bearings", "Cu", bearing_limit},
        {"bearings", "f0", bearing_f0},
        {"gearboxes", "heat_transfer", box_heat_transfer},
    };
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++)
        if (strcmp(rules[i].table, table->name) == 0 &&
            strcmp(rules[i].column, column->name) == 0)
            return rules[i].fill(b);
    return nothing;
}

/* ---- the list ------------------------------------------------------------------------------- */

static trn_input *add(trn_inputs *inputs)
{
    if (inputs->count == inputs->capacity) {
        size_t room = inputs->capacity ? 2 * inputs->capacity : 256;
        trn_input *list = realloc(inputs->list, room * sizeof *list);
        if (!list) {
            inputs->failed = true;
            return NULL;
        }
        inputs->list = list;
        inputs->capacity = room;
    }
    inputs->list[inputs->count] = (trn_input){.basis_row = TRN_NONE, .basis = TRN_BASED_ASSUMED};
    return &inputs->list[inputs->count++];
}

static const char *key_of(const trn_table *table, size_t n, const void *row)
{
    for (size_t i = 0; i < table->column_count; i++) {
        const trn_column *c = &table->columns[i];
        bool task = strcmp(table->name, "points") == 0 && strcmp(c->name, "task") == 0;
        if ((c->cell == TRN_CELL_KEY || task) && n-- == 0) {
            const char *text = NULL;
            int word = -1;
            if (task) {
                memcpy(&word, (const char *)row + c->offset, sizeof word);
                return c->words[word];
            }
            memcpy(&text, (const char *)row + c->offset, sizeof text);
            return strcmp(c->name, "quantity") == 0 ? NULL : text;
        }
    }
    return NULL;
}

static void add_path(const trn_table *table, size_t r, const void *row, const char *column,
                     trn_buffer *out)
{
    trn_buffer_add(out, table->name);
    for (size_t i = 0; i < 2 && table != trn_table_head(); i++) {
        const char *key = key_of(table, i, row);
        if (key)
            trn_buffer_print(out, ".%s", key);
        else if (i == 0)
            trn_buffer_print(out, ".%zu", r + 1);
        if (!key)
            break;
    }
    trn_buffer_print(out, ".%s", column);
}

void trn_cell_path(const trn_machine *machine, const trn_table *table, size_t row,
                   const trn_column *column, trn_buffer *out)
{
    add_path(table, row, trn_table_row(machine, table, row), column->name, out);
}

void trn_cell_value(const trn_machine *machine, const trn_table *table, size_t row,
                    const trn_column *column, trn_buffer *out)
{
    add_value(column, trn_table_row(machine, table, row), out);
}

/* Takes a path and a value over as one more input. */
static trn_input *keep(trn_inputs *inputs, trn_buffer *path, trn_buffer *value)
{
    trn_input *in = path->failed || value->failed ? NULL : add(inputs);
    if (in) {
        in->path = path->text;
        in->value = value->text;
        *path = *value = (trn_buffer){0};
    }
    inputs->failed = inputs->failed || !in;
    trn_buffer_free(path);
    trn_buffer_free(value);
    return in;
}

static void add_cell(trn_inputs *inputs, const trn_results *results, const trn_trace *trace,
                     const trn_table *table, size_t r, const trn_column *column)
{
    const void *row = trn_table_row(results->machine, table, r);
    const trn_row *from = row;
    uint64_t bit = (uint64_t)1 << (column - table->columns);
    trn_origin_kind origin = from->changed & bit ? TRN_ORIGIN_OVERRIDE
                             : from->given & bit ? TRN_ORIGIN_GIVEN
                                                 : TRN_ORIGIN_DEFAULT;
    trn_buffer value = {0};
    trn_buffer path = {0};
    filled other = nothing;
    if (origin == TRN_ORIGIN_DEFAULT)
        other = fill(&(blank){results->machine, trace, r}, table, column);
    if (!isnan(other.inner)) {
        origin = other.origin;
        add_number(column, other.inner, &value);
    } else {
        add_value(column, row, &value);
    }
    if (!value.text) {
        inputs->failed = inputs->failed || value.failed;
        return;
    }
    add_path(table, r, row, column->name, &path);
    trn_input *in = keep(inputs, &path, &value);
    if (!in)
        return;
    in->table = table;
    in->column = column;
    in->row = r;
    in->unit = trn_column_has_unit(column) ? column->unit : "";
    in->origin = origin;
    in->basis = origin == TRN_ORIGIN_GIVEN ? TRN_BASED_STATED : TRN_BASED_ASSUMED;
}

/* Lengths of positions that geometry.csv gives. */
static void add_lengths(trn_inputs *inputs, const trn_results *results)
{
    const trn_table *table = trn_table_find("positions");
    const trn_column *column = trn_column_find(table, "length");
    const trn_machine *m = results->machine;
    for (size_t i = 0; i < results->settings_count; i++) {
        const trn_setting *s = &results->settings[i];
        bool measured = false;
        for (size_t k = 0; k < m->positions_count; k++)
            measured = measured || (strcmp(m->positions[k].position, s->position) == 0 &&
                                    m->positions[k].shaft_index == s->shaft);
        if (measured || !s->known || isnan(s->length_m))
            continue;
        trn_buffer path = {0};
        trn_buffer value = {0};
        trn_buffer_print(&path, "positions.%s.%s.length", s->position, m->shafts[s->shaft].shaft);
        add_number(column, s->length_m, &value);
        trn_input *in = keep(inputs, &path, &value);
        if (in) {
            in->table = table;
            in->column = column;
            in->row = TRN_NONE;
            in->unit = column->unit;
            in->origin = TRN_ORIGIN_COMPUTED;
        }
    }
}

/* ---- what they rest on ---------------------------------------------------------------------- */

static size_t stars(const char *text)
{
    size_t n = 0;
    for (; *text; text++)
        n += *text == '*';
    return n;
}

static bool hits(const trn_machine *m, const trn_path *path, const trn_input *in)
{
    return path->table == in->table && path->column == in->column && in->row != TRN_NONE &&
           trn_path_row(m, path, in->row) == in->row;
}

static void find_bases(const trn_machine *m, trn_inputs *inputs)
{
    for (size_t b = 0; b < m->basis_count; b++) {
        trn_path path;
        trn_buffer why = {0};
        bool known = trn_path_parse(m, m->basis[b].quantity, &path, &why) == TRN_OK;
        trn_buffer_free(&why);
        for (size_t i = 0; known && i < inputs->count; i++) {
            trn_input *in = &inputs->list[i];
            /* what an override put there is not what was measured */
            if (in->origin == TRN_ORIGIN_OVERRIDE || !hits(m, &path, in) ||
                (in->basis_row != TRN_NONE && stars(m->basis[in->basis_row].quantity) <
                                                  stars(m->basis[b].quantity)))
                continue;
            in->basis_row = b;
            in->basis = (trn_input_basis)m->basis[b].basis;
        }
    }
}

/* ---- order by path -------------------------------------------------------------------------- */

typedef struct named {
    const char *path;
    size_t place;
} named;

static int by_path(const void *a, const void *b)
{
    const named *x = a;
    const named *y = b;
    int order = strcmp(x->path, y->path);
    return order ? order : (x->place > y->place) - (x->place < y->place);
}

static void sort(trn_inputs *inputs)
{
    named *names = calloc(inputs->count + 1, sizeof *names);
    inputs->sorted = calloc(inputs->count + 1, sizeof *inputs->sorted);
    inputs->failed = inputs->failed || !names || !inputs->sorted;
    if (!inputs->failed) {
        for (size_t i = 0; i < inputs->count; i++)
            names[i] = (named){inputs->list[i].path, i};
        qsort(names, inputs->count, sizeof *names, by_path);
        for (size_t i = 0; i < inputs->count; i++)
            inputs->sorted[i] = names[i].place;
    }
    free(names);
}

size_t trn_inputs_find(const trn_inputs *inputs, const char *path)
{
    size_t low = 0;
    size_t high = inputs->sorted ? inputs->count : 0;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (strcmp(inputs->list[inputs->sorted[middle]].path, path) < 0)
            low = middle + 1;
        else
            high = middle;
    }
    bool found = inputs->sorted && low < inputs->count &&
                 strcmp(inputs->list[inputs->sorted[low]].path, path) == 0;
    return found ? inputs->sorted[low] : TRN_NONE;
}

trn_status trn_inputs_make(const trn_results *results, const trn_trace *trace, trn_inputs *inputs)
{
    *inputs = (trn_inputs){.count = 0};
    for (size_t t = 0; t <= trn_table_count(); t++) {
        const trn_table *table = t == 0 ? trn_table_head() : trn_table_at(t - 1);
        size_t rows = t == 0 ? 1 : trn_table_rows(results->machine, table);
        if (strcmp(table->name, "basis") == 0)
            continue;
        for (size_t r = 0; r < rows; r++)
            for (size_t c = 0; c < table->column_count; c++) {
                const trn_column *column = &table->columns[c];
                bool key = column->cell == TRN_CELL_KEY && strcmp(column->name, "quantity") != 0;
                bool task = strcmp(table->name, "points") == 0 && strcmp(column->name, "task") == 0;
                if (!key && !task && strcmp(column->name, "note") != 0)
                    add_cell(inputs, results, trace, table, r, column);
            }
        if (strcmp(table->name, "positions") == 0)
            add_lengths(inputs, results);
    }
    find_bases(results->machine, inputs);
    sort(inputs);
    return inputs->failed ? TRN_E_MEMORY : TRN_OK;
}

void trn_inputs_free(trn_inputs *inputs)
{
    for (size_t i = 0; i < inputs->count; i++) {
        free(inputs->list[i].path);
        free(inputs->list[i].value);
    }
    free(inputs->list);
    free(inputs->sorted);
    *inputs = (trn_inputs){.count = 0};
}
