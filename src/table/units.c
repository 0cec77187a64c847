/* SPDX-License-Identifier: GPL-3.0-or-later */
/* UDUNITS-2 does the converting. A short alias table stands before it, because part of the
 * trade's spelling is unknown there or means something else (gal: an acceleration; PS:
 * petasiemens; deg, cP, rev, Mrev, qt: unknown). */
#include <ctype.h>
#include <math.h>
#include <pthread.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/text.h>
#include <trunnion/units.h>
#include <udunits2.h>

static const struct alias {
    const char *name, *meaning;
} aliases[] = {
    {"deg", "arc_degree"},
    {"rev", "revolution"},
    {"Mrev", "1e6 revolution"},
    {"cP", "1e-3 Pa.s"},
    {"gal", "3.785411784e-3 m3"}, /* US gallon, exact */
    {"qt", "0.946352946e-3 m3"},  /* US quart, exact */
    {"hp", "745.69987158227022 W"}, /* 550 ft.lbf/s, exact */
    {"PS", "735.49875 W"},          /* 75 kgf.m/s, exact */
    {"CV", "735.49875 W"},
    {"oz", "28.349523125e-3 kg"}, /* avoirdupois ounce, exact */
    {"mph", "0.44704 m/s"},
    {"ppm", "1e-6"},
    {"lbf", "4.4482216152605 N"},
};

typedef struct pair {
    char *from, *to;
    double scale, offset;
    trn_status status;
} pair;

enum { SLOTS = 1024 }; /* open addressing; past 3/4 full answers are not kept */
static pair *cache;
static size_t cached;
static ut_system *units;
static bool unusable;
static pthread_mutex_t lock = PTHREAD_MUTEX_INITIALIZER;

static bool name_letter(char c)
{
    return isalpha((unsigned char)c) || c == '_';
}

/* The text with every alias put in parentheses in place of its name. */
static void spell(const char *text, trn_buffer *out)
{
    const char *p = text;
    while (*p) {
        if (isdigit((unsigned char)*p)) {
            const char *end = p;
            double ignored = 0;
            if (trn_text_number_start(p, &ignored, &end) != TRN_OK || end == p)
                end = p + 1;
            trn_buffer_add_n(out, p, (size_t)(end - p));
            p = end;
            continue;
        }
        if (!name_letter(*p)) {
            trn_buffer_add_n(out, p++, 1);
            continue;
        }
        size_t n = 0;
        while (name_letter(p[n]))
            n++;
        const char *meaning = NULL;
        for (size_t i = 0; i < sizeof aliases / sizeof aliases[0]; i++)
            if (strlen(aliases[i].name) == n && strncmp(aliases[i].name, p, n) == 0)
                meaning = aliases[i].meaning;
        if (meaning)
            trn_buffer_print(out, "(%s)", meaning);
        else
            trn_buffer_add_n(out, p, n);
        p += n;
        if (meaning && isdigit((unsigned char)*p))
            trn_buffer_add(out, "^");
    }
}

static ut_unit *parse(const char *text)
{
    char plain[128];
    const char *start = text;
    while (isspace((unsigned char)*start))
        start++;
    size_t n = strlen(start);
    while (n > 0 && isspace((unsigned char)start[n - 1]))
        n--;
    if (n == 0)
        return ut_get_dimensionless_unit_one(units);
    if (n >= sizeof plain)
        return NULL;
    memcpy(plain, start, n);
    plain[n] = '\0';
    trn_buffer spelled = {0};
    spell(plain, &spelled);
    ut_unit *unit = spelled.failed ? NULL : ut_parse(units, spelled.text, UT_UTF8);
    trn_buffer_free(&spelled);
    return unit;
}

static bool asks_rotation(const char *to)
{
    return strcmp(to, "rpm") == 0 || strcmp(to, "rad/s") == 0;
}

static trn_status look_up(const char *from, const char *to, double *scale, double *offset)
{
    if (asks_rotation(to) && strstr(from, "Hz"))
        return TRN_E_UNIT;
    ut_unit *a = parse(from);
    ut_unit *b = parse(to);
    trn_status status = TRN_E_UNIT;
    if (a && b && ut_are_convertible(a, b)) {
        cv_converter *converter = ut_get_converter(a, b);
        if (converter) {
            double zero = cv_convert_double(converter, 0.0);
            double one = cv_convert_double(converter, 1.0);
            if (isfinite(zero) && isfinite(one)) {
                *scale = zero == 0.0 ? one : one - zero;
                *offset = zero;
                status = TRN_OK;
            }
            cv_free(converter);
        }
    }
    ut_free(a);
    ut_free(b);
    return status;
}

static size_t hash(const char *from, const char *to)
{
    size_t h = 1469598103u;
    for (const char *p = from; *p; p++)
        h = (h ^ (unsigned char)*p) * 16777619u;
    h = (h ^ 0xffu) * 16777619u;
    for (const char *p = to; *p; p++)
        h = (h ^ (unsigned char)*p) * 16777619u;
    return h % SLOTS;
}

static bool start(void)
{
    if (!units && !unusable) {
        ut_set_error_message_handler(ut_ignore);
        units = ut_read_xml(NULL);
        cache = calloc(SLOTS, sizeof *cache);
        unusable = !units || !cache;
    }
    return !unusable;
}

trn_status trn_unit_convert(const char *from, const char *to, double *scale, double *offset)
{
    if (strcmp(from, to) == 0 && (from[0] == '\0' || strcmp(from, "1") == 0)) {
        *scale = 1;
        *offset = 0;
        return TRN_OK;
    }
    pthread_mutex_lock(&lock);
    trn_status status = TRN_E_UNIT;
    if (start()) {
        size_t i = hash(from, to);
        while (cache[i].from && (strcmp(cache[i].from, from) != 0 || strcmp(cache[i].to, to) != 0))
            i = (i + 1) % SLOTS;
        if (cache[i].from) {
            status = cache[i].status;
            if (status == TRN_OK) {
                *scale = cache[i].scale;
                *offset = cache[i].offset;
            }
        } else {
            double a = 1;
            double b = 0;
            status = look_up(from, to, &a, &b);
            char *key_from = cached < SLOTS / 4 * 3 ? trn_text_copy(from) : NULL;
            char *key_to = key_from ? trn_text_copy(to) : NULL;
            if (key_from && key_to) {
                cache[i] = (pair){key_from, key_to, a, b, status};
                cached++;
            } else {
                free(key_from);
            }
            if (status == TRN_OK) {
                *scale = a;
                *offset = b;
            }
        }
    }
    pthread_mutex_unlock(&lock);
    return status;
}

trn_status trn_unit_value(double value, const char *from, const char *to, double *out)
{
    double scale = 1;
    double offset = 0;
    trn_status status = trn_unit_convert(from, to, &scale, &offset);
    if (status == TRN_OK)
        *out = scale * value + offset;
    return status;
}

void trn_unit_finish(void)
{
    pthread_mutex_lock(&lock);
    for (size_t i = 0; cache && i < SLOTS; i++) {
        free(cache[i].from);
        free(cache[i].to);
    }
    free(cache);
    cache = NULL;
    cached = 0;
    if (units)
        ut_free_system(units);
    units = NULL;
    unusable = false;
    pthread_mutex_unlock(&lock);
}
