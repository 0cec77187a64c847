/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stamps of logs as nanoseconds, exactly. */
#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include "log_inside.h"

__extension__ typedef __int128 wide;

static const int64_t second_ns = 1000000000;

typedef struct scan {
    const char *p, *end;
} scan;

/* Exactly n digits. */
static bool number(scan *s, size_t n, int *out)
{
    int value = 0;
    if ((size_t)(s->end - s->p) < n)
        return false;
    for (size_t i = 0; i < n; i++) {
        if (!isdigit((unsigned char)s->p[i]))
            return false;
        value = 10 * value + (s->p[i] - '0');
    }
    s->p += n;
    *out = value;
    return true;
}

static bool sign_is(scan *s, char c)
{
    if (s->p == s->end || *s->p != c)
        return false;
    s->p++;
    return true;
}

/* Days from 1970-01-01, Gregorian calendar throughout. */
static int64_t days_from_1970(int year, int month, int day)
{
    int64_t y = year - (month <= 2);
    int64_t era = (y >= 0 ? y : y - 399) / 400;
    int64_t of_era = y - era * 400;
    int64_t of_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
    return era * 146097 + of_era * 365 + of_era / 4 - of_era / 100 + of_year - 719468;
}

static bool date(scan *s, int64_t *days, bool *basic)
{
    static const int length[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    int year = 0;
    int month = 0;
    int day = 0;
    if (!number(s, 4, &year))
        return false;
    *basic = !sign_is(s, '-');
    if (!number(s, 2, &month) || (!*basic && !sign_is(s, '-')) || !number(s, 2, &day))
        return false;
    bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    if (year < 1900 || year > 2199 || month < 1 || month > 12 || day < 1 ||
        day > length[month - 1] + (month == 2 && leap))
        return false;
    *days = days_from_1970(year, month, day);
    return true;
}

/* Decimals of a second, further ones than nine cut off. */
static bool decimals(scan *s, int64_t *ns)
{
    if (!sign_is(s, '.') && !sign_is(s, ','))
        return true;
    int64_t unit = second_ns / 10;
    const char *from = s->p;
    for (; s->p < s->end && isdigit((unsigned char)*s->p); s->p++, unit /= 10)
        *ns += unit * (*s->p - '0');
    return s->p > from;
}

static bool clock_time(scan *s, bool basic, int64_t *ns)
{
    int hour = 0;
    int minute = 0;
    int second = 0;
    if (!number(s, 2, &hour) || (!basic && !sign_is(s, ':')) || !number(s, 2, &minute))
        return false;
    bool more = basic ? s->p < s->end && isdigit((unsigned char)*s->p) : sign_is(s, ':');
    int64_t part = 0;
    if (more && (!number(s, 2, &second) || !decimals(s, &part)))
        return false;
    if (hour > 24 || minute > 59 || second > 60 || (hour == 24 && (minute || second || part)))
        return false;
    *ns = ((int64_t)hour * 3600 + minute * 60 + second) * second_ns + part;
    return true;
}

static bool zone(scan *s, int64_t *offset_ns, trn_log_clock *clock)
{
    *offset_ns = 0;
    *clock = TRN_CLOCK_LOCAL;
    if (s->p == s->end)
        return true;
    *clock = TRN_CLOCK_UTC;
    if (sign_is(s, 'Z') || sign_is(s, 'z'))
        return s->p == s->end;
    bool west = false;
    if (strncmp(s->p, "\xE2\x88\x92", s->end - s->p < 3 ? 0 : 3) == 0 && s->end - s->p >= 3) {
        west = true; /* U+2212 */
        s->p += 3;
    } else if (sign_is(s, '-')) {
        west = true;
    } else if (!sign_is(s, '+')) {
        return false;
    }
    int hour = 0;
    int minute = 0;
    if (!number(s, 2, &hour))
        return false;
    if (s->p < s->end) {
        (void)sign_is(s, ':');
        if (!number(s, 2, &minute))
            return false;
    }
    *offset_ns = ((int64_t)hour * 3600 + minute * 60) * second_ns * (west ? -1 : 1);
    return s->p == s->end && hour <= 18 && minute <= 59;
}

trn_status trn_log_stamp(const char *text, size_t size, int64_t *ns, trn_log_clock *clock)
{
    scan s = {text, text + size};
    int64_t days = 0;
    int64_t of_day = 0;
    int64_t offset = 0;
    bool basic = false;
    trn_log_clock kind = TRN_CLOCK_NONE;
    if (!date(&s, &days, &basic))
        return TRN_E_NUMBER;
    if (!sign_is(&s, 'T') && !sign_is(&s, 't') && !sign_is(&s, ' '))
        return TRN_E_NUMBER;
    if (!clock_time(&s, basic, &of_day) || !zone(&s, &offset, &kind))
        return TRN_E_NUMBER;
    *ns = days * 86400 * second_ns + of_day - offset;
    *clock = kind;
    return TRN_OK;
}

/* Rounded to the nearest, halves away from zero. */
static wide divided(wide a, wide b)
{
    return a >= 0 ? (a + b / 2) / b : -((-a + b / 2) / b);
}

trn_status log_seconds(const char *plain, double unit_s, int64_t *ns)
{
    static const double most_ns = 4e18; /* differences then stay whole numbers of 64 bits */
    const char *p = plain;
    bool negative = *p == '-';
    p += negative;
    wide mantissa = 0;
    wide power = 1;
    size_t digits = 0;
    bool point = false;
    for (; isdigit((unsigned char)*p) || (*p == '.' && !point); p++) {
        if (*p == '.') {
            point = true;
            continue;
        }
        mantissa = 10 * mantissa + (*p - '0');
        power *= point ? 10 : 1;
        digits += mantissa > 0 || power > 1;
        if (digits > 20)
            break;
    }
    double unit_ns = unit_s * 1e9;
    double whole = nearbyint(unit_ns);
    double value = 0;
    if (*p == '\0' && whole >= 1 && whole <= 1e14 && fabs(unit_ns - whole) <= 1e-9 * whole) {
        wide exact = divided(mantissa * (wide)whole, power);
        if (exact > (wide)most_ns)
            return TRN_E_NUMBER;
        *ns = negative ? -(int64_t)exact : (int64_t)exact;
        return TRN_OK;
    }
    if (trn_text_number(plain, &value) != TRN_OK || !(fabs(value * unit_ns) <= most_ns))
        return TRN_E_NUMBER;
    *ns = (int64_t)llround(value * unit_ns);
    return TRN_OK;
}
