/* SPDX-License-Identifier: GPL-3.0-or-later */
/* UDUNITS-2 does the converting. A short alias table stands before it, because part of the
 * trade's spelling is unknown there (cP, rev, Mrev, Nm), means something else (gal: an
 * acceleration; PS: petasiemens; oz: a volume; mph, kph: kilophots) or is rounded (gallon). */
#include <ctype.h>
#include <locale.h>
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
    {"Mrev", "1e6 revolution"},
    {"rev", "revolution"},
    {"r", "revolution"}, /* r/min, as standards write it */
    {"cP", "1e-3 Pa.s"},
    {"mPas", "1e-3 Pa.s"},
    {"Nm", "N.m"},
    {"kNm", "1e3 N.m"},
    {"Nmm", "1e-3 N.m"},
    {"kWh", "3.6e6 J"},
    {"gal", "3.785411784e-3 m3"}, /* US gallon of 231 cubic inches, exact */
    {"gallon", "3.785411784e-3 m3"},
    {"gallons", "3.785411784e-3 m3"},
    {"qt", "0.946352946e-3 m3"}, /* a quarter of it */
    {"quart", "0.946352946e-3 m3"},
    {"quarts", "0.946352946e-3 m3"},
    {"pt", "0.473176473e-3 m3"},
    {"pint", "0.473176473e-3 m3"},
    {"pints", "0.473176473e-3 m3"},
    {"floz", "29.5735295625e-6 m3"},
    {"hp", "745.69987158227022 W"}, /* 550 ft.lbf/s, exact */
    {"HP", "745.69987158227022 W"},
    {"horsepower", "745.69987158227022 W"},
    {"PS", "735.49875 W"}, /* 75 kgf.m/s, exact */
    {"CV", "735.49875 W"},
    {"oz", "28.349523125e-3 kg"}, /* avoirdupois ounce, exact */
    {"mph", "0.44704 m/s"},
    {"kph", "1e3 m/h"},
    {"ppm", "1e-6"},
    {"lbf", "4.4482216152605 N"},
    {"kp", "9.80665 N"},
};

/* Names of plane angles, which the units library derives from a radian that is the number 1:
 * they are mapped anew, from a radian that is a base unit. */
#define TURN 6.283185307179586476925
static const struct angle {
    const char *name;
    bool symbol;
    double radians;
} angles[] = {
    {"radian", false, 1},
    {"radians", false, 1},
    {"rad", true, 1},
    {"deg", true, TURN / 360},
    {"degree", false, TURN / 360},
    {"degrees", false, TURN / 360},
    {"arc_degree", false, TURN / 360},
    {"arc_degrees", false, TURN / 360},
    {"angular_degree", false, TURN / 360},
    {"angular_degrees", false, TURN / 360},
    {"arcdeg", false, TURN / 360},
    {"\xC2\xB0", true, TURN / 360},
    {"arc_minute", false, TURN / 21600},
    {"arc_minutes", false, TURN / 21600},
    {"arcminute", false, TURN / 21600},
    {"arcminutes", false, TURN / 21600},
    {"arcmin", false, TURN / 21600},
    {"'", true, TURN / 21600},
    {"grade", false, TURN / 400},
    {"gon", true, TURN / 400},
    {"revolution", false, TURN},
    {"revolutions", false, TURN},
    {"rotation", false, TURN},
    {"rotations", false, TURN},
    {"turn", false, TURN},
    {"turns", false, TURN},
    {"circle", false, TURN},
    {"circles", false, TURN},
    {"cycle", false, TURN},
    {"cycles", false, TURN},
};

enum { TEXT_MAX = 128 }; /* of a unit */

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

/* Without outer blanks, and with plain ones inside. */
static bool plain_text(const char *text, char *plain)
{
    size_t n = 0;
    for (const char *p = text; *p; p++) {
        bool blank = isspace((unsigned char)*p);
        if (strncmp(p, "\xC2\xA0", 2) == 0) { /* U+00A0 */
            blank = true;
            p++;
        }
        if (n + 1 >= TEXT_MAX)
            return false;
        if (!blank || n > 0)
            plain[n++] = blank ? ' ' : *p;
    }
    while (n > 0 && plain[n - 1] == ' ')
        n--;
    plain[n] = '\0';
    return true;
}

static ut_unit *parse(const char *text)
{
    char plain[TEXT_MAX];
    if (!plain_text(text, plain))
        return NULL;
    if (plain[0] == '\0' || strcmp(plain, "-") == 0)
        return ut_get_dimensionless_unit_one(units);
    trn_buffer spelled = {0};
    spell(plain, &spelled);
    ut_unit *unit = spelled.failed ? NULL : ut_parse(units, spelled.text, UT_UTF8);
    trn_buffer_free(&spelled);
    return unit;
}

/* Two points give the line, a third shows that it is one (a logarithmic unit has none). The
 * points are far apart, so that an offset takes no digits from the scale. */
static bool line_of(const cv_converter *converter, double *scale, double *offset)
{
    const double far = 1099511627776.0; /* 2^40 */
    double zero = cv_convert_double(converter, 0.0);
    double a = zero == 0 ? cv_convert_double(converter, 1.0)
                         : (cv_convert_double(converter, far) - zero) / far;
    if (fabs(a - 1) < 1e-15)
        a = 1;
    double third = cv_convert_double(converter, 3.0);
    if (!isfinite(zero) || !isfinite(a) || a == 0 ||
        !(fabs(third - (3 * a + zero)) <= 1e-9 * (fabs(3 * a) + fabs(zero))))
        return false;
    *scale = a;
    *offset = zero;
    return true;
}

static trn_status look_up(const char *from, const char *to, double *scale, double *offset)
{
    ut_unit *a = parse(from);
    ut_unit *b = parse(to);
    trn_status status = TRN_E_UNIT;
    if (a && b && ut_are_convertible(a, b)) {
        cv_converter *converter = ut_get_converter(a, b);
        if (converter && line_of(converter, scale, offset))
            status = TRN_OK;
        cv_free(converter);
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

/* A name or symbol for a unit, in place of the one that it has; frees the unit. */
static bool map(const char *name, bool symbol, ut_unit *unit)
{
    ut_encoding encoding = (unsigned char)name[0] < 0x80 ? UT_ASCII : UT_UTF8;
    if (symbol) {
        (void)ut_unmap_symbol_to_unit(units, name, encoding);
        (void)ut_unmap_name_to_unit(units, name, encoding);
    } else {
        (void)ut_unmap_name_to_unit(units, name, encoding);
    }
    ut_status status = !unit ? UT_OS
                     : symbol ? ut_map_symbol_to_unit(name, encoding, unit)
                              : ut_map_name_to_unit(name, encoding, unit);
    ut_free(unit);
    return status == UT_SUCCESS;
}

static bool map_angles(void)
{
    ut_unit *radian = ut_new_base_unit(units);
    ut_unit *minute = ut_get_unit_by_name(units, "minute");
    bool good = radian && minute;
    for (size_t i = 0; good && i < sizeof angles / sizeof angles[0]; i++)
        good = map(angles[i].name, angles[i].symbol, ut_scale(angles[i].radians, radian));
    ut_unit *turn = good ? ut_scale(TURN, radian) : NULL;
    good = good && map("rpm", true, ut_divide(turn, minute));
    ut_free(turn);
    ut_free(minute);
    ut_free(radian);
    return good;
}

static bool start(void)
{
    if (!units && !unusable) {
        ut_set_error_message_handler(ut_ignore);
        units = ut_read_xml(NULL);
        cache = calloc(SLOTS, sizeof *cache);
        unusable = !units || !cache || !map_angles();
    }
    return !unusable;
}

/* The units library reads numbers with the locale's decimal sign, in its own tables too. */
static trn_status look_up_plain(const char *from, const char *to, double *scale, double *offset)
{
    locale_t plain = newlocale(LC_NUMERIC_MASK | LC_CTYPE_MASK, "C", (locale_t)0);
    if (plain == (locale_t)0)
        return TRN_E_MEMORY;
    locale_t before = uselocale(plain);
    trn_status status = start() ? look_up(from, to, scale, offset) : TRN_E_UNIT;
    (void)uselocale(before);
    freelocale(plain);
    return status;
}

/* Under the lock. A pair that is new is kept, with its refusal where it has one. */
static trn_status answer(const char *from, const char *to, double *scale, double *offset)
{
    size_t i = hash(from, to);
    while (cache && cache[i].from &&
           (strcmp(cache[i].from, from) != 0 || strcmp(cache[i].to, to) != 0))
        i = (i + 1) % SLOTS;
    if (cache && cache[i].from) {
        *scale = cache[i].scale;
        *offset = cache[i].offset;
        return cache[i].status;
    }
    trn_status status = look_up_plain(from, to, scale, offset);
    if (!cache || cached >= SLOTS / 4 * 3 || status == TRN_E_MEMORY || strlen(from) > TEXT_MAX ||
        strlen(to) > TEXT_MAX)
        return status;
    char *key_from = trn_text_copy(from);
    char *key_to = key_from ? trn_text_copy(to) : NULL;
    if (key_to) {
        i = hash(from, to);
        while (cache[i].from)
            i = (i + 1) % SLOTS;
        cache[i] = (pair){key_from, key_to, *scale, *offset, status};
        cached++;
    } else {
        free(key_from);
    }
    return status;
}

trn_status trn_unit_convert(const char *from, const char *to, double *scale, double *offset)
{
    if (strcmp(from, to) == 0 && (from[0] == '\0' || strcmp(from, "1") == 0)) {
        *scale = 1;
        *offset = 0;
        return TRN_OK;
    }
    double a = 1;
    double b = 0;
    pthread_mutex_lock(&lock);
    trn_status status = answer(from, to, &a, &b);
    pthread_mutex_unlock(&lock);
    if (status == TRN_OK) {
        *scale = a;
        *offset = b;
    }
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
