/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What each blank cell costs, the dearest first. The worth of a cell is found out, not claimed:
 * the case is evaluated with the low and the high end of what such a cell usually holds, and what
 * moves most is named. The spans are common practice, no source; they order this list and enter
 * no result. */
#include <stdlib.h>
#include <string.h>
#include <trunnion/interval_rows.h>
#include <trunnion/schema.h>
#include <trunnion/units.h>

#include "checkup_parts.h"
#include "study.h"

typedef struct blank {
    const char *table, *column;
    const char *other;   /* a column that does as well, or (needs) is needed too; NULL */
    bool needs;
    double other_value;  /* of the column that is needed too, where it is blank */
    double low, high;    /* usual span in the documented unit; NAN: nothing is computed with it */
    bool (*concerns)(const trn_machine *m, size_t row); /* NULL: each row */
    void (*span)(const trn_machine *m, size_t row, double span[2]); /* in place of low, high */
    const char *without, *effort;
    bool first;          /* before all that can be computed */
} blank;

/* Outside of a housing for its oil, by shape: a cube half full up to a ribbed one with plate. */
static void span_of_area(const trn_machine *m, size_t row, double span[2])
{
    double litres = m->gearboxes[row].oil_volume * 1000;
    span[0] = 0.15 * cbrt(litres * litres);
    span[1] = 0.35 * cbrt(litres * litres);
}

static void span_of_headspace(const trn_machine *m, size_t row, double span[2])
{
    span[0] = 0.2 * m->gearboxes[row].oil_volume * 1000;
    span[1] = m->gearboxes[row].oil_volume * 1000;
}

static bool temperatures_unknown(const trn_machine *m, size_t row)
{
    (void)row;
    for (size_t i = 0; i < m->gearboxes_count; i++)
        if (isnan(m->gearboxes[i].area))
            return true;
    return m->gearboxes_count == 0;
}

static bool free_grease_point(const trn_machine *m, size_t row)
{
    const trn_point *p = &m->points[row];
    return p->gearbox_index == TRN_NONE && p->bearing_index == TRN_NONE &&
           p->shaft_index == TRN_NONE && p->task != TRN_TASK_CHECK_OIL &&
           p->task != TRN_TASK_CHANGE_OIL && p->task != TRN_TASK_OTHER;
}

static bool has_no_class(const trn_machine *m, size_t row)
{
    return !m->gearboxes[row].cleanliness;
}

static bool has_greases(const trn_machine *m, size_t row)
{
    return (m->points[row].task != TRN_TASK_CHECK_OIL &&
            m->points[row].task != TRN_TASK_CHANGE_OIL && m->greases_count > 0);
}

static bool has_positions(const trn_machine *m, size_t row)
{
    return m->duty[row].power > 0 && m->positions_count + m->geometry_count > 0;
}

/* Of a wheel with a row for each mate one row has the dip. */
static bool alone_with_dip(const trn_machine *m, size_t row)
{
    for (size_t i = 0; i < m->gears_count; i++)
        if (i != row && m->gears[i].axle_index == m->gears[row].axle_index &&
            m->gears[i].station == m->gears[row].station && !isnan(m->gears[i].dip))
            return false;
    return true;
}

static const blank blanks[] = {
    {"shafts", "length_closed", "overlap_closed", true, NAN, NAN, NAN, NULL, NULL,
     "the fit is not judged: a shaft that bottoms breaks what it drives, and no interval covers "
     "that",
     "five minutes with a tape, shaft off the machine", true},
    {"positions", "length", NULL, false, NAN, NAN, NAN, NULL, NULL,
     "the fit is not judged in this position", "one minute with a tape", true},
    {"duty", "oil_temperature", NULL, false, NAN, 50, 95, temperatures_unknown, NULL,
     "heat is taken as at the manual's reference, or there is no interval for oil",
     "two minutes with an infrared thermometer after stopping", false},
    {"gearboxes", "area", "heat_transfer", false, NAN, NAN, NAN, NULL, span_of_area,
     "there is no heat balance, and without a measured temperature none at all",
     "ten minutes with a tape", false},
    {"duty", "dust", "dust_class", false, NAN, 1, 40, NULL, NULL,
     "dust is taken as at the manual's reference",
     "a word from who was there: damp, reference, dusty, severe, extreme", false},
    {"gearboxes", "dust_intake", NULL, false, NAN, 0.5, 8, has_no_class, NULL,
     "dirt in the oil is not known: no life with oil and dirt, no dust budget of this box",
     "one oil sample with silicon, or the class of one (cleanliness)", false},
    {"duty", "shock", NULL, false, NAN, 1.25, 1.85, NULL, NULL, "1.25 is taken",
     "a word for the kind of work: mower 1.35 to 1.6, mulcher 1.6, stones 1.85", false},
    {"shafts", "cross_rating", "cross_arm", true, 35, 12, 45, NULL, NULL,
     "the load factor is taken as at the reference, and the cross has no life",
     "ten minutes with calipers, or the number on the cup", false},
    {"duty", "position", NULL, false, NAN, NAN, NAN, has_positions, NULL,
     "there are no joint angles in this work: motion is taken as at the reference",
     "the name of one of the positions", false},
    {"gears", "dip", NULL, false, NAN, 0, 40, alone_with_dip, NULL,
     "no churning is counted and low oil is not warned of",
     "the dipstick and a drawing, or the lowest tooth seen through the plug", false},
    {"gearboxes", "headspace", NULL, false, NAN, NAN, NAN, NULL, span_of_headspace,
     "water that is breathed in is not counted", "the whole content less the oil", false},
    {"points", "temperature", NULL, false, NAN, 45, 90, free_grease_point, NULL,
     "heat is taken as at the manual's reference", "one minute with an infrared thermometer",
     false},
    {"points", "lubricant", NULL, false, NAN, NAN, NAN, has_greases, NULL,
     "the limit of the grease is not looked at", "the name on the cartridge", false},
    {"duty", "washes_per_100h", NULL, false, NAN, 0, 10, NULL, NULL,
     "it counts as never washed under pressure", "one question to the operator", false},
    {"duty", "ambient", NULL, false, NAN, 10, 35, NULL, NULL,
     "the air of machine.csv is taken", "a thermometer in the shade", false},
    {"shafts", "profile_radius", NULL, false, NAN, 15, 35, NULL, NULL,
     "no telescoping thrust loads the bearings", "one minute with calipers", false},
    {"greases", "limit", NULL, false, NAN, 110, 150, NULL, NULL,
     "the limit of the grease is not looked at", "its data sheet", false},
    {"machine", "hours_per_year", NULL, false, NAN, 50, 800, NULL, NULL, "300 h are taken",
     "the meter at two dates", false},
    {"points", "minutes", NULL, false, NAN, NAN, NAN, NULL, NULL,
     "no cost of this task is worked out", "a watch", false},
    {"points", "quantity", NULL, false, NAN, NAN, NAN, has_greases, NULL,
     "the plan has no quantity for it", "the manual, or strokes of the gun", false},
    {"machine", "labour_rate", NULL, false, NAN, NAN, NAN, NULL, NULL, "no cost is worked out",
     "one question at the desk", false},
};
enum { BLANKS = sizeof blanks / sizeof blanks[0], ROWS_NAMED = 3 };

/* ---- cells -------------------------------------------------------------------------------- */

static const trn_table *table_of(const blank *b)
{
    return strcmp(b->table, "machine") == 0 ? trn_table_head() : trn_table_find(b->table);
}

static size_t rows_of(const trn_machine *m, const blank *b)
{
    return strcmp(b->table, "machine") == 0 ? 1 : trn_table_rows(m, table_of(b));
}

static trn_row *row_of(const trn_machine *m, const blank *b, size_t i)
{
    if (strcmp(b->table, "machine") == 0)
        return (trn_row *)(uintptr_t)&m->head.row;
    return trn_table_row(m, table_of(b), i);
}

static bool given(const blank *b, const char *column, const trn_row *row)
{
    const trn_table *table = table_of(b);
    return ((row->given | row->changed) >> (trn_column_find(table, column) - table->columns)) & 1;
}

static bool is_blank(const trn_machine *m, const blank *b, size_t i)
{
    const trn_row *row = row_of(m, b, i);
    bool this_one = given(b, b->column, row);
    bool other = b->other && given(b, b->other, row);
    if (b->concerns && !b->concerns(m, i))
        return false;
    return b->needs ? !this_one || !other : !this_one && !other;
}

static void put(const blank *b, const char *name, double value, trn_row *row)
{
    const trn_table *table = table_of(b);
    const trn_column *column = trn_column_find(table, name);
    double scale[2] = {1, 0};
    if (trn_unit_convert(column->unit, column->inner, &scale[0], &scale[1]) != TRN_OK)
        return;
    value = value * scale[0] + scale[1];
    memcpy((char *)row + column->offset, &value, sizeof value);
    row->changed |= (uint64_t)1 << (column - table->columns);
}

/* Fills the blanks with one end of the span; false where there is no span. */
static bool fill(trn_machine *m, const blank *b, const bool *rows, int end, double shown[2])
{
    size_t n = rows_of(m, b);
    if (isnan(b->low) && !b->span)
        return false;
    for (size_t i = 0; i < n; i++) {
        double span[2] = {b->low, b->high};
        trn_row *row = row_of(m, b, i);
        if (!rows[i])
            continue;
        if (b->span)
            b->span(m, i, span);
        put(b, b->column, span[end], row);
        if (b->needs && !given(b, b->other, row))
            put(b, b->other, b->other_value, row);
        memcpy(shown, span, sizeof span);
    }
    return true;
}

/* ---- worth -------------------------------------------------------------------------------- */


static size_t figure_count(const trn_machine *m)
{
    return m->points_count + m->bearings_count + m->shafts_count;
}

/* Hours; what lies above the manual's interval, or above 100 000 h, moves nobody. */
static double figure_of(const trn_results *r, size_t i)
{
    static const double long_h = 1e5;
    const trn_machine *m = r->machine;
    if (i < m->points_count)
        return isnan(r->points[i].nominal_h)
                   ? NAN
                   : fmin(r->points[i].nominal_h, r->points[i].manual_h);
    i -= m->points_count;
    double life = i < m->bearings_count
                      ? r->bearings[m->duty_count * m->bearings_count + i].lnmh_h
                      : r->joints[m->duty_count * m->shafts_count + i - m->bearings_count].life_in_h;
    return isnan(life) ? NAN : fmin(life, long_h);
}

static void figure_name(const trn_machine *m, size_t i, trn_buffer *out)
{
    if (i < m->points_count)
        trn_buffer_print(out, "the interval of %s", m->points[i].point);
    else if (i < m->points_count + m->bearings_count)
        trn_buffer_print(out, "the life of %s", m->bearings[i - m->points_count].bearing);
    else
        trn_buffer_print(out, "the cross life of %s",
                         m->shafts[i - m->points_count - m->bearings_count].shaft);
}

typedef struct worth {
    double value;        /* orders the list; 0: nothing moves */
    size_t moved;        /* figure, TRN_NONE */
    double at[2], span[2];
    size_t missing, first_missing; /* figures that are there only with the cell */
} worth;

static void weigh(const trn_results *base, const trn_results *low, const trn_results *high,
                  worth *w)
{
    for (size_t i = 0; i < figure_count(base->machine); i++) {
        double a = figure_of(low, i);
        double b = figure_of(high, i);
        if (isnan(a) || isnan(b))
            continue;
        if (isnan(figure_of(base, i)) && w->missing++ == 0)
            w->first_missing = i;
        double ratio = fmax(a, b) / fmax(fmin(a, b), 1e-9);
        if (ratio > w->value) {
            w->value = ratio;
            w->moved = i;
            w->at[0] = a;
            w->at[1] = b;
        }
    }
    if (w->missing > 0)
        w->value += 1e5 * (double)w->missing; /* none at all is dearer than a wrong one */
}

static worth worth_of(const trn_results *base, const blank *b, const bool *rows,
                      trn_checkup *checkup)
{
    worth w = {.value = b->first ? 1e9 : 1, .moved = TRN_NONE};
    trn_results *results[2] = {NULL, NULL};
    trn_machine *filled[2] = {NULL, NULL};
    bool done = true;
    for (int end = 0; end < 2 && done; end++) {
        trn_faults faults = {0};
        filled[end] = trn_machine_copy(base->machine);
        results[end] = filled[end] ? trn_results_new(filled[end]) : NULL;
        checkup->failed = checkup->failed || !results[end];
        done = results[end] && fill(filled[end], b, rows, end, w.span) &&
               trn_machine_link(filled[end], &faults) == TRN_OK;
        if (done)
            (void)trn_study_evaluate(filled[end],
                                     TRN_WANT_JOINTS | TRN_WANT_HEAT | TRN_WANT_LIVES |
                                         TRN_WANT_INTERVALS,
                                     results[end], NULL);
        trn_faults_free(&faults);
    }
    if (done)
        weigh(base, results[0], results[1], &w);
    for (int end = 0; end < 2; end++) {
        trn_results_free(results[end]);
        trn_machine_free(filled[end]);
    }
    if (done && w.value < 1.02)
        w.value = 0; /* a blank that costs nothing here */
    return w;
}

/* ---- words -------------------------------------------------------------------------------- */

static void add_rows(const trn_machine *m, const blank *b, const bool *rows, trn_buffer *out)
{
    size_t total = 0;
    size_t named = 0;
    size_t n = rows_of(m, b);
    if (strcmp(b->table, "machine") == 0)
        return;
    for (size_t i = 0; i < n; i++)
        total += rows[i];
    for (size_t i = 0; i < n && named < ROWS_NAMED; i++) {
        const char *key = NULL;
        if (!rows[i])
            continue;
        memcpy(&key, (const char *)row_of(m, b, i) + table_of(b)->columns[0].offset, sizeof key);
        trn_buffer_print(out, "%s%s", named++ ? ", " : "", key ? key : "");
    }
    if (total > named)
        trn_buffer_print(out, " and %zu more", total - named);
    trn_buffer_add(out, ": ");
}

static void add_blank(const trn_machine *m, const blank *b, const bool *rows, const worth *w,
                      trn_checkup *checkup)
{
    trn_buffer item = {0};
    trn_buffer text = {0};
    const trn_column *column = trn_column_find(table_of(b), b->column);
    trn_buffer_print(&item, "%s.%s", b->table, b->column);
    add_rows(m, b, rows, &text);
    trn_buffer_print(&text, "without %s%s%s %s", b->column, b->needs ? " and " : "",
                     b->needs ? b->other : "", b->without);
    if (w->missing > 0) {
        trn_buffer_add(&text, "; it gives ");
        figure_name(m, w->first_missing, &text);
        if (w->missing > 1)
            trn_buffer_print(&text, " and %zu more figures", w->missing - 1);
    } else if (w->moved != TRN_NONE) {
        trn_buffer_add(&text, "; ");
        figure_name(m, w->moved, &text);
        trn_buffer_print(&text, " goes from %.3g to %.3g h between %.2g and %.2g%s%s", w->at[0],
                         w->at[1], w->span[0], w->span[1],
                         trn_column_has_unit(column) ? " " : "",
                         trn_column_has_unit(column) ? column->unit : "");
    }
    trn_buffer_print(&text, "; %s", b->effort);
    checkup->failed = checkup->failed || item.failed;
    trn_checkup_add(checkup, TRN_CHECKUP_BLANKS, TRN_CHECKUP_MISSING, item.text ? item.text : "",
                    &text);
    trn_buffer_free(&item);
}

/* ---- all ---------------------------------------------------------------------------------- */

void trn_checkup_blanks(const trn_results *base, trn_checkup *checkup)
{
    const trn_machine *m = base->machine;
    bool *rows[BLANKS] = {NULL};
    worth worths[BLANKS];
    for (size_t k = 0; k < BLANKS; k++) {
        size_t n = rows_of(m, &blanks[k]);
        bool any = false;
        worths[k] = (worth){.value = 0};
        rows[k] = calloc(n + 1, sizeof *rows[k]);
        checkup->failed = checkup->failed || !rows[k];
        for (size_t i = 0; rows[k] && i < n; i++) {
            rows[k][i] = is_blank(m, &blanks[k], i);
            any = any || rows[k][i];
        }
        if (any && !checkup->failed)
            worths[k] = worth_of(base, &blanks[k], rows[k], checkup);
    }
    for (size_t said = 0; said < BLANKS && !checkup->failed; said++) {
        size_t best = TRN_NONE;
        for (size_t k = 0; k < BLANKS; k++)
            if (worths[k].value > 0 && (best == TRN_NONE || worths[k].value > worths[best].value))
                best = k;
        if (best == TRN_NONE)
            break;
        add_blank(m, &blanks[best], rows[best], &worths[best], checkup);
        worths[best].value = 0;
    }
    for (size_t k = 0; k < BLANKS; k++)
        free(rows[k]);
}
