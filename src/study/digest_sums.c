/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sums of the digest by class. Each contribution is rounded once to a whole number of small units;
 * whole numbers add up the same in any order. */
#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "digest_inside.h"

enum { TEMPERATURE_BIAS = 1024, TORQUE_BIAS = 65536 };

/* used 1, standing 1, place 16, temperature 12, speed 14, torque 18 bits */
uint64_t digest_pack(const digest_class *c)
{
    unsigned temperature = c->temperature == INT_MIN
                               ? 0
                               : (unsigned)(c->temperature + TEMPERATURE_BIAS);
    return UINT64_C(1) << 62 | (uint64_t)c->standing << 61 | (uint64_t)c->place << 44 |
           (uint64_t)temperature << 32 | (uint64_t)(unsigned)c->speed << 18 |
           (uint64_t)(unsigned)(c->torque + TORQUE_BIAS);
}

digest_class digest_unpack(uint64_t key)
{
    unsigned temperature = (unsigned)(key >> 32 & 0xFFF);
    return (digest_class){.place = (unsigned)(key >> 44 & 0xFFFF),
                          .standing = (key >> 61 & 1) != 0,
                          .temperature = temperature == 0
                                             ? INT_MIN
                                             : (int)temperature - TEMPERATURE_BIAS,
                          .speed = (int)(key >> 18 & 0x3FFF),
                          .torque = (int)(key & 0x3FFFF) - TORQUE_BIAS};
}

static size_t slot_of(uint64_t key, size_t slots)
{
    key ^= key >> 29;
    key *= UINT64_C(0x9E3779B97F4A7C15);
    return (size_t)(key >> 32) & (slots - 1);
}

static bool grow(digest_sums *sums)
{
    size_t slots = sums->slots ? 2 * sums->slots : 64;
    digest_cell *cells = calloc(slots, sizeof *cells);
    if (!cells)
        return false;
    for (size_t i = 0; i < sums->slots; i++) {
        if (sums->cells[i].key == 0)
            continue;
        size_t k = slot_of(sums->cells[i].key, slots);
        while (cells[k].key != 0)
            k = (k + 1) & (slots - 1);
        cells[k] = sums->cells[i];
    }
    free(sums->cells);
    sums->cells = cells;
    sums->slots = slots;
    sums->last = 0;
    sums->box.known = false;
    return true;
}

digest_cell *digest_cell_of(digest_sums *sums, uint64_t key)
{
    if (sums->slots > 0 && sums->cells[sums->last].key == key)
        return &sums->cells[sums->last];
    if (4 * (sums->count + 1) > 3 * sums->slots && !grow(sums)) {
        sums->status = TRN_E_MEMORY;
        return NULL;
    }
    size_t k = slot_of(key, sums->slots);
    while (sums->cells[k].key != 0 && sums->cells[k].key != key)
        k = (k + 1) & (sums->slots - 1);
    if (sums->cells[k].key == 0) {
        if (sums->count == DIGEST_CELLS_MAX) {
            sums->status = TRN_E_INPUT;
            return NULL;
        }
        sums->count++;
        sums->cells[k].key = key;
    }
    sums->last = k;
    return &sums->cells[k];
}

/* Rounded to the nearest; a double of 2^53 and more is a whole number already. */
static inline digest_wide whole(double x)
{
    if (fabs(x) < 4e18)
        return (int64_t)(x < 0 ? x - 0.5 : x + 0.5);
    uint64_t bits = 0;
    memcpy(&bits, &x, sizeof bits);
    unsigned shift = (unsigned)(bits >> 52 & 0x7FF) - 1075;
    digest_wide value = (digest_wide)((bits & ((UINT64_C(1) << 52) - 1)) | UINT64_C(1) << 52)
                        << (shift & 63);
    return x < 0 ? -value : value;
}

/* ---- cube roots ---------------------------------------------------------------------------- */

/* Of the middles of 128 parts of 1 to 2, with their reciprocals: a root is that of the nearest
 * middle times a short series, without a division. It must be the same on every machine that
 * makes parts, so it is no affair of the C library's. */
enum { PARTS = 128 };
static struct {
    double inverse[PARTS], root[PARTS];
} table;
static const double root_of_power[3] = {1, 1.2599210498948731648, 1.5874010519681994748};
static pthread_once_t once = PTHREAD_ONCE_INIT;

static void fill_table(void)
{
    for (int i = 0; i < PARTS; i++) {
        double middle = 1 + (i + 0.5) / PARTS;
        double t = 1.1;
        for (int k = 0; k < 8; k++) /* Newton, far beyond its convergence */
            t = t - (t * t * t - middle) / (3 * t * t);
        table.inverse[i] = 1 / middle;
        table.root[i] = t;
    }
}

/* derived: binomial series of (1 + z)^(1/3), |z| < 2^-8 */
static inline double cube_root(double u)
{
    uint64_t bits = 0;
    memcpy(&bits, &u, sizeof bits);
    unsigned exponent = (unsigned)(bits >> 52); /* u >= 0 */
    if (exponent == 0)
        return 0; /* below 1e-307 */
    unsigned i = (unsigned)(bits >> 45) & (PARTS - 1);
    bits = (bits & ((UINT64_C(1) << 52) - 1)) | UINT64_C(1023) << 52;
    double m = 0;
    memcpy(&m, &bits, sizeof m);
    double z = m * table.inverse[i] - 1;
    double series = 1 + z * (1.0 / 3 + z * (-1.0 / 9 + z * (5.0 / 81 + z * (-10.0 / 243 +
                    z * (22.0 / 729 + z * (-154.0 / 6561))))));
    unsigned third = (exponent + 3 * 1023 - 1023) / 3; /* of the exponent + 3 * 1023 */
    unsigned left = (exponent + 3 * 1023 - 1023) % 3;
    uint64_t power = (uint64_t)third << 52;
    double scale = 0;
    memcpy(&scale, &power, sizeof scale);
    return scale * root_of_power[left] * (table.root[i] * series);
}

double digest_cube_root(double u)
{
    (void)pthread_once(&once, fill_table);
    return cube_root(u);
}

/* ---- a row holds --------------------------------------------------------------------------- */

static bool inside(const digest_box *box, const digest_row *row, double degrees)
{
    return box->known && row->speed >= box->low[0] && row->speed < box->high[0] &&
           row->torque >= box->low[1] && row->torque < box->high[1] && row->place == box->place &&
           row->kind == box->kind && degrees >= box->low[2] && degrees < box->high[2];
}

/* Cell of a row; most rows fall into that of the row before. */
static digest_cell *find_cell(digest_sums *sums, const trn_digest_settings *s,
                              const digest_row *row)
{
    static const double none = -1000; /* degrees where there are no classes */
    double degrees = none;
    if (s->temperature_step_k > 0) {
        double oil = row->other[TRN_LOG_OIL - TRN_LOG_AMBIENT];
        degrees = isnan(oil) ? row->other[0] : oil;
        if (isnan(degrees))
            degrees = none;
    }
    digest_box *box = &sums->box;
    if (inside(box, row, degrees))
        return &sums->cells[box->slot];
    bool classes = degrees > none;
    digest_class c = {.place = row->place,
                      .standing = row->kind == DIGEST_STANDING,
                      .temperature = classes ? digest_class_of(degrees, s->temperature_step_k)
                                             : INT_MIN,
                      .speed = digest_class_of(row->speed, s->speed_step_rpm),
                      .torque = digest_class_of(row->torque, s->torque_step_nm)};
    digest_cell *cell = digest_cell_of(sums, digest_pack(&c));
    if (!cell)
        return NULL;
    *box = (digest_box){
        .known = true,
        .place = row->place,
        .kind = row->kind,
        .slot = (size_t)(cell - sums->cells),
        .low = {c.speed * s->speed_step_rpm, c.torque * s->torque_step_nm,
                classes ? c.temperature * s->temperature_step_k : none},
        .high = {(c.speed + 1) * s->speed_step_rpm, (c.torque + 1) * s->torque_step_nm,
                 classes ? (c.temperature + 1) * s->temperature_step_k : none + 1}};
    return cell;
}

void digest_hold(digest_sums *sums, const trn_digest_settings *s, const digest_row *row,
                 int64_t dt)
{
    digest_cell *cell = find_cell(sums, s, row);
    if (!cell)
        return;
    double time = (double)dt;
    double turn = row->speed * time;
    double u = fabs(row->torque) * (1 / DIGEST_UNIT_NM);
    double damage = DIGEST_DAMAGE * turn * (u * u * u);
    cell->ns += dt;
    cell->turn += whole(DIGEST_TURN * turn);
    cell->energy += whole(DIGEST_ENERGY * turn * row->torque);
    cell->damage3 += whole(damage);
    cell->damage10_3 += whole(damage * cube_root(u));
    for (size_t k = 0; k < DIGEST_OTHER; k++)
        if (!isnan(row->other[k])) {
            cell->sum[k] += whole(DIGEST_OTHER_UNIT * row->other[k] * time);
            cell->known_ns[k] += dt;
        }
}

void digest_cell_add(digest_cell *to, const digest_cell *from)
{
    to->ns += from->ns;
    to->turn += from->turn;
    to->energy += from->energy;
    to->damage3 += from->damage3;
    to->damage10_3 += from->damage10_3;
    for (size_t k = 0; k < DIGEST_OTHER; k++) {
        to->sum[k] += from->sum[k];
        to->known_ns[k] += from->known_ns[k];
    }
}

/* ---- cycles -------------------------------------------------------------------------------- */

static uint64_t cycle_key(int32_t range, int32_t mean)
{
    return (uint64_t)(uint32_t)range << 32 | (uint32_t)mean;
}

static bool grow_cycles(digest_sums *sums)
{
    size_t slots = sums->cycle_slots ? 2 * sums->cycle_slots : 64;
    digest_cycle *cycles = calloc(slots, sizeof *cycles);
    if (!cycles)
        return false;
    for (size_t i = 0; i < sums->cycle_slots; i++) {
        const digest_cycle *c = &sums->cycles[i];
        if (c->halves == 0)
            continue;
        size_t k = slot_of(cycle_key(c->range, c->mean), slots);
        while (cycles[k].halves != 0)
            k = (k + 1) & (slots - 1);
        cycles[k] = *c;
    }
    free(sums->cycles);
    sums->cycles = cycles;
    sums->cycle_slots = slots;
    return true;
}

void digest_cycle_add(digest_sums *sums, int32_t range, int32_t mean, int64_t halves)
{
    if (4 * (sums->cycle_count + 1) > 3 * sums->cycle_slots && !grow_cycles(sums)) {
        sums->status = TRN_E_MEMORY;
        return;
    }
    size_t k = slot_of(cycle_key(range, mean), sums->cycle_slots);
    digest_cycle *c = sums->cycles;
    while (c[k].halves != 0 && (c[k].range != range || c[k].mean != mean))
        k = (k + 1) & (sums->cycle_slots - 1);
    sums->cycle_count += c[k].halves == 0;
    c[k].range = range;
    c[k].mean = mean;
    c[k].halves += halves;
}

/* ---- all of it ----------------------------------------------------------------------------- */

void digest_sums_add(digest_sums *to, const digest_sums *from, const unsigned *place)
{
    for (size_t i = 0; i < from->slots; i++) {
        uint64_t key = from->cells[i].key;
        if (key == 0)
            continue;
        digest_class c = digest_unpack(key);
        if (place)
            c.place = place[c.place];
        digest_cell *cell = digest_cell_of(to, digest_pack(&c));
        if (cell)
            digest_cell_add(cell, &from->cells[i]);
    }
    for (size_t i = 0; i < from->cycle_slots; i++)
        if (from->cycles[i].halves != 0)
            digest_cycle_add(to, from->cycles[i].range, from->cycles[i].mean,
                             from->cycles[i].halves);
    for (size_t i = 0; i < TRN_EVENT_COUNT; i++) {
        to->events[i] += from->events[i];
        to->ns[i] += from->ns[i];
    }
    if (from->status < 0)
        to->status = from->status;
}

void digest_sums_free(digest_sums *sums)
{
    free(sums->cells);
    free(sums->cycles);
    *sums = (digest_sums){.cells = NULL};
}

/* ---- places -------------------------------------------------------------------------------- */

static unsigned add_place(digest_places *places, const char *name, size_t n)
{
    for (size_t i = 0; i < places->count; i++)
        if (strlen(places->name[i]) == n && memcmp(places->name[i], name, n) == 0)
            return (unsigned)i;
    if (places->count == DIGEST_PLACES_MAX)
        return UINT_MAX;
    if (places->count == places->capacity) {
        size_t capacity = places->capacity ? 2 * places->capacity : 16;
        char **names = realloc(places->name, capacity * sizeof *names);
        if (!names)
            return UINT_MAX;
        places->name = names;
        places->capacity = capacity;
    }
    char *copy = trn_text_copy_n(name, n);
    if (!copy)
        return UINT_MAX;
    places->name[places->count] = copy;
    return (unsigned)places->count++;
}

unsigned digest_place(digest_places *places, const char *name, size_t n)
{
    pthread_mutex_lock(&places->lock);
    unsigned number = add_place(places, name, n);
    pthread_mutex_unlock(&places->lock);
    return number;
}
