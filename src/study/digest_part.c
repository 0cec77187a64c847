/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A digest as a file that loses nothing: whole numbers in full, doubles in 17 digits. */
#include <errno.h>
#include <inttypes.h>
#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <trunnion/csv_write.h>

#include "digest_inside.h"

enum { VALUES = 19, FORM = 1 };

static const char *const clocks[] = {"none", "seconds", "local", "utc"};
static const char *const kinds[] = {"work", "standing", "blank", "spike"};

/* ---- writing ------------------------------------------------------------------------------- */

static void wide_text(digest_wide value, char *out)
{
    char digits[48];
    size_t n = 0;
    bool negative = value < 0;
    do {
        int d = (int)(value % 10);
        digits[n++] = (char)('0' + (d < 0 ? -d : d));
        value /= 10;
    } while (value != 0);
    if (negative)
        *out++ = '-';
    while (n > 0)
        *out++ = digits[--n];
    *out = '\0';
}

static void put_wide(trn_csv_writer *csv, digest_wide value)
{
    char text[64];
    wide_text(value, text);
    trn_csv_word(csv, text);
}

static void put_exact(trn_csv_writer *csv, double value)
{
    char text[64] = "";
    if (!isnan(value))
        (void)snprintf(text, sizeof text, "%.17g", value);
    for (char *p = text; *p; p++) /* whatever the locale */
        if (*p == ',')
            *p = '.';
    trn_csv_word(csv, text);
}

static void begin(trn_csv_writer *csv, const char *item, const char *name)
{
    trn_csv_word(csv, item);
    trn_csv_word(csv, name);
}

static void put_cell(trn_csv_writer *csv, const trn_digest *d, const digest_cell *cell)
{
    digest_class c = digest_unpack(cell->key);
    begin(csv, "cell", d->places.name[c.place]);
    put_wide(csv, c.standing);
    if (c.temperature == INT_MIN)
        trn_csv_blank(csv);
    else
        put_wide(csv, c.temperature);
    put_wide(csv, c.speed);
    put_wide(csv, c.torque);
    put_wide(csv, cell->ns);
    put_wide(csv, cell->turn);
    put_wide(csv, cell->energy);
    put_wide(csv, cell->damage3);
    put_wide(csv, cell->damage10_3);
    for (size_t k = 0; k < DIGEST_OTHER; k++) {
        put_wide(csv, cell->sum[k]);
        put_wide(csv, cell->known_ns[k]);
    }
    trn_csv_end(csv);
}

static void put_row(trn_csv_writer *csv, const trn_digest *d, const char *item,
                    const digest_row *row)
{
    begin(csv, item, d->places.name[row->place]);
    put_wide(csv, row->ns);
    trn_csv_word(csv, kinds[row->kind]);
    put_exact(csv, row->speed);
    put_exact(csv, row->torque);
    for (size_t k = 0; k < DIGEST_OTHER; k++)
        put_exact(csv, row->other[k]);
    trn_csv_end(csv);
}

static void put_points(trn_csv_writer *csv, const char *name, const digest_points *points)
{
    for (size_t i = 0; i < points->n; i++) {
        begin(csv, "point", name);
        put_exact(csv, points->p[i]);
        trn_csv_end(csv);
    }
}

static void put_head(trn_csv_writer *csv, const trn_digest *d)
{
    trn_csv_word(csv, "item");
    trn_csv_word(csv, "note_name");
    for (unsigned i = 1; i <= VALUES; i++) {
        char name[32];
        (void)snprintf(name, sizeof name, "note_%u", i);
        trn_csv_word(csv, name);
    }
    trn_csv_end(csv);
    begin(csv, "part", "trunnion");
    put_wide(csv, FORM);
    trn_csv_end(csv);
#define TRN_X(member, option, unit, range)   \
    begin(csv, "setting", option);           \
    put_exact(csv, d->settings.member);      \
    trn_csv_end(csv);
    TRN_DIGEST_SETTINGS(TRN_X)
#undef TRN_X
    begin(csv, "setting", "rainflow");
    put_wide(csv, d->settings.rainflow);
    trn_csv_end(csv);
    begin(csv, "clock", clocks[d->clock]);
    trn_csv_end(csv);
    for (size_t c = 0; c <= TRN_LOG_POSITION; c++)
        if (d->logged[c] && c != TRN_LOG_TIME) {
            begin(csv, "logged", c == TRN_LOG_POSITION
                                     ? "position"
                                     : trn_log_channel_name((trn_log_channel)c));
            trn_csv_end(csv);
        }
    for (size_t e = 0; e < TRN_EVENT_COUNT; e++) {
        begin(csv, "event", trn_digest_event_word((trn_digest_event)e));
        put_wide(csv, d->sums.events[e]);
        put_wide(csv, d->sums.ns[e]);
        trn_csv_end(csv);
    }
}

/* Numbers of places hang on what was read first: cells are sorted by name. */
typedef struct named {
    const char *place;
    const digest_cell *cell;
} named;

static int by_name(const void *a, const void *b)
{
    const named *x = a;
    const named *y = b;
    int d = strcmp(x->place, y->place);
    uint64_t mask = ~(UINT64_C(0xFFFF) << 44);
    uint64_t p = x->cell->key & mask;
    uint64_t q = y->cell->key & mask;
    return d ? d : (p > q) - (p < q);
}

static int by_cycle(const void *a, const void *b)
{
    const digest_cycle *const *x = a;
    const digest_cycle *const *y = b;
    if ((*x)->range != (*y)->range)
        return (*x)->range < (*y)->range ? -1 : 1;
    return ((*x)->mean > (*y)->mean) - ((*x)->mean < (*y)->mean);
}

void trn_digest_part_csv(const trn_digest *d, trn_buffer *out)
{
    trn_csv_writer csv = {.out = out};
    put_head(&csv, d);
    named *cells = calloc(d->sums.count + 1, sizeof *cells);
    const digest_cycle **cycles = calloc(d->sums.cycle_count + 1, sizeof(digest_cycle *));
    size_t n = 0;
    size_t m = 0;
    if (!cells || !cycles) {
        out->failed = true;
    } else {
        for (size_t i = 0; i < d->sums.slots; i++)
            if (d->sums.cells[i].key != 0)
                cells[n++] = (named){
                    d->places.name[digest_unpack(d->sums.cells[i].key).place], &d->sums.cells[i]};
        for (size_t i = 0; i < d->sums.cycle_slots; i++)
            if (d->sums.cycles[i].halves != 0)
                cycles[m++] = &d->sums.cycles[i];
        qsort(cells, n, sizeof *cells, by_name);
        qsort(cycles, m, sizeof(digest_cycle *), by_cycle);
    }
    for (size_t i = 0; i < n; i++)
        put_cell(&csv, d, cells[i].cell);
    if (d->edge.any) {
        put_row(&csv, d, "first", &d->edge.first);
        put_row(&csv, d, "last", &d->edge.last);
    }
    if (d->edge.turned) {
        begin(&csv, "turned", "");
        put_wide(&csv, d->edge.first_turn);
        put_wide(&csv, d->edge.last_turn);
        trn_csv_end(&csv);
    }
    for (size_t i = 0; i < m; i++) {
        begin(&csv, "cycles", "");
        put_wide(&csv, cycles[i]->range);
        put_wide(&csv, cycles[i]->mean);
        put_wide(&csv, cycles[i]->halves);
        trn_csv_end(&csv);
    }
    if (d->edge.flow.split) {
        begin(&csv, "split", "");
        trn_csv_end(&csv);
    }
    put_points(&csv, "head", &d->edge.flow.head);
    put_points(&csv, "tail", &d->edge.flow.tail);
    free(cells);
    free((void *)cycles);
}

/* ---- reading ------------------------------------------------------------------------------- */

typedef struct reading {
    trn_digest *d;
    const trn_sheet *sheet;
    size_t row;
    bool good; /* what was read so far */
} reading;

static const char *text_of(const reading *r, size_t i)
{
    return i + 1 < r->sheet->columns ? trn_sheet_cell(r->sheet, r->row, i + 1) : "";
}

static digest_wide wide_of(reading *r, size_t i)
{
    static const digest_wide most = ((digest_wide)INT64_MAX << 63) / 10; /* of 2^126 */
    const char *p = text_of(r, i);
    bool negative = *p == '-';
    digest_wide value = 0;
    p += negative;
    if (*p == '\0')
        r->good = false;
    for (; *p; p++) {
        if (*p < '0' || *p > '9' || value > most) {
            r->good = false;
            return 0;
        }
        value = 10 * value + (*p - '0');
    }
    return negative ? -value : value;
}

static int64_t whole_of(reading *r, size_t i, int64_t low, int64_t high)
{
    digest_wide value = wide_of(r, i);
    if (value < low || value > high)
        r->good = false;
    return r->good ? (int64_t)value : 0;
}

static double exact_of(reading *r, size_t i)
{
    const char *text = text_of(r, i);
    double value = NAN;
    if (*text && trn_text_number(text, &value) != TRN_OK)
        r->good = false;
    return value;
}

static unsigned place_of(reading *r)
{
    const char *name = text_of(r, 0);
    unsigned place = digest_place(&r->d->places, name, strlen(name));
    r->good = r->good && place != UINT_MAX;
    return r->good ? place : 0;
}

static size_t word_of(reading *r, const char *text, const char *const *words, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (strcmp(words[i], text) == 0)
            return i;
    r->good = false;
    return 0;
}

static void read_cell(reading *r)
{
    digest_class c = {.place = place_of(r), .temperature = INT_MIN};
    c.standing = whole_of(r, 1, 0, 1) != 0;
    if (text_of(r, 2)[0])
        c.temperature = (int)whole_of(r, 2, -1023, 1023);
    c.speed = (int)whole_of(r, 3, 0, 16383);
    c.torque = (int)whole_of(r, 4, -65536, 65536);
    digest_cell cell = {.ns = whole_of(r, 5, 0, DIGEST_TIME_MAX_NS)};
    cell.turn = wide_of(r, 6);
    cell.energy = wide_of(r, 7);
    cell.damage3 = wide_of(r, 8);
    cell.damage10_3 = wide_of(r, 9);
    for (size_t k = 0; k < DIGEST_OTHER; k++) {
        cell.sum[k] = wide_of(r, 10 + 2 * k);
        cell.known_ns[k] = whole_of(r, 11 + 2 * k, 0, DIGEST_TIME_MAX_NS);
    }
    digest_cell *to = r->good ? digest_cell_of(&r->d->sums, digest_pack(&c)) : NULL;
    if (to)
        digest_cell_add(to, &cell);
}

static digest_row read_row(reading *r)
{
    digest_row row = {.place = place_of(r)};
    row.ns = whole_of(r, 1, -INT64_C(4000000000000000000), INT64_C(8000000000000000000));
    row.kind = (digest_kind)word_of(r, text_of(r, 2), kinds, 4);
    row.speed = exact_of(r, 3);
    row.torque = exact_of(r, 4);
    for (size_t k = 0; k < DIGEST_OTHER; k++)
        row.other[k] = exact_of(r, 5 + k);
    bool known = row.kind == DIGEST_WORK || row.kind == DIGEST_STANDING;
    if (known && (!(row.speed >= 0 && row.speed <= 5000) || !(fabs(row.torque) <= 50000)))
        r->good = false;
    return row;
}

static void read_setting(reading *r)
{
    const char *name = text_of(r, 0);
#define TRN_X(member, option, unit, range)  \
    if (strcmp(name, option) == 0) {        \
        r->d->settings.member = exact_of(r, 1); \
        return;                             \
    }
    TRN_DIGEST_SETTINGS(TRN_X)
#undef TRN_X
    if (strcmp(name, "rainflow") == 0)
        r->d->settings.rainflow = whole_of(r, 1, 0, 1) != 0;
    else
        r->good = false;
}

static void read_logged(reading *r)
{
    const char *name = text_of(r, 0);
    size_t c = 0;
    while (c < TRN_LOG_CHANNEL_COUNT &&
           strcmp(trn_log_channel_name((trn_log_channel)c), name) != 0)
        c++;
    if (c == TRN_LOG_CHANNEL_COUNT)
        c = TRN_LOG_POSITION;
    r->good = r->good && (c < TRN_LOG_POSITION || strcmp(name, "position") == 0);
    r->d->logged[c] = true;
}

static void read_event(reading *r)
{
    const char *name = text_of(r, 0);
    for (size_t e = 0; e < TRN_EVENT_COUNT; e++)
        if (strcmp(trn_digest_event_word((trn_digest_event)e), name) == 0) {
            r->d->sums.events[e] = whole_of(r, 1, 0, INT64_MAX / 4);
            r->d->sums.ns[e] = whole_of(r, 2, 0, INT64_MAX / 4);
            return;
        }
    r->good = false;
}

static void read_point(reading *r)
{
    digest_flow *flow = &r->d->edge.flow;
    digest_points *to = strcmp(text_of(r, 0), "head") == 0 ? &flow->head : &flow->tail;
    double x = exact_of(r, 1);
    r->good = r->good && fabs(x) <= 50000 && digest_points_push(to, x);
}

static void read_item(reading *r)
{
    digest_edge *edge = &r->d->edge;
    const char *item = trn_sheet_cell(r->sheet, r->row, 0);
    if (strcmp(item, "setting") == 0) {
        read_setting(r);
    } else if (strcmp(item, "clock") == 0) {
        r->d->clock = (trn_log_clock)word_of(r, text_of(r, 0), clocks, 4);
    } else if (strcmp(item, "logged") == 0) {
        read_logged(r);
    } else if (strcmp(item, "event") == 0) {
        read_event(r);
    } else if (strcmp(item, "cell") == 0) {
        read_cell(r);
    } else if (strcmp(item, "first") == 0) {
        edge->any = true;
        edge->first = read_row(r);
    } else if (strcmp(item, "last") == 0) {
        edge->last = read_row(r);
    } else if (strcmp(item, "turned") == 0) {
        edge->turned = true;
        edge->first_turn = whole_of(r, 1, INT64_MIN / 2, INT64_MAX);
        edge->last_turn = whole_of(r, 2, INT64_MIN / 2, INT64_MAX);
    } else if (strcmp(item, "cycles") == 0) {
        int32_t range = (int32_t)whole_of(r, 1, 0, 100000);
        int32_t mean = (int32_t)whole_of(r, 2, -50001, 50000);
        int64_t halves = whole_of(r, 3, 1, INT64_MAX / 4);
        if (r->good)
            digest_cycle_add(&r->d->sums, range, mean, halves);
    } else if (strcmp(item, "split") == 0) {
        edge->flow.split = true;
    } else if (strcmp(item, "point") == 0) {
        read_point(r);
    } else {
        r->good = false;
    }
}

static bool settings_good(const trn_digest_settings *s)
{
    return s->gap_s > 0 && s->speed_step_rpm >= 1 && s->torque_step_nm >= 1 &&
           s->temperature_step_k >= 0 && s->speed_limit_rpm > 0 && s->torque_limit_nm > 0 &&
           s->still_rpm > 0 && s->rest_s >= 60;
}

static trn_status take(trn_digest *d, const trn_sheet *sheet, trn_faults *faults)
{
    reading r = {.d = d, .sheet = sheet, .good = true};
    bool known = sheet->rows > 0 && sheet->columns >= 3 &&
                 strcmp(trn_sheet_cell(sheet, 0, 0), "part") == 0 &&
                 strcmp(text_of(&r, 0), "trunnion") == 0 && whole_of(&r, 1, FORM, FORM) == FORM;
    if (!known) {
        trn_fault_add(faults, sheet->name, sheet->header_line, NULL,
                      "no part of a digest, or one of another version; `trunnion digest LOG --out "
                      "DIR` makes it anew");
        return TRN_E_INPUT;
    }
    for (r.row = 1; r.row < sheet->rows && r.good && d->sums.status == TRN_OK; r.row++)
        read_item(&r);
    if (d->sums.status < 0 && d->sums.status != TRN_E_INPUT)
        return d->sums.status;
    if (r.good && d->sums.status == TRN_OK && settings_good(&d->settings))
        return TRN_OK;
    trn_fault_add(faults, sheet->name, sheet->line[r.row - 1], NULL,
                  "the part is damaged here; `trunnion digest LOG --out DIR` makes it anew");
    return TRN_E_INPUT;
}

trn_status trn_digest_part_read(const char *path, trn_faults *faults, trn_digest **out)
{
    struct stat info;
    trn_buffer file = {0};
    trn_sheet *sheet = NULL;
    *out = NULL;
    trn_digest_settings settings;
    trn_digest_defaults(&settings);
    trn_buffer_add(&file, path);
    if (stat(path, &info) == 0 && S_ISDIR(info.st_mode))
        trn_buffer_add(&file, "/part.csv");
    trn_digest *d = file.failed ? NULL : digest_new(&settings);
    trn_status status = d ? trn_sheet_read(file.text, faults, &sheet) : TRN_E_MEMORY;
    if (status == TRN_OK)
        status = take(d, sheet, faults);
    trn_sheet_free(sheet);
    trn_buffer_free(&file);
    if (status == TRN_OK)
        *out = d;
    else
        trn_digest_free(d);
    return status;
}
