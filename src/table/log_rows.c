/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of a block. The library's parser is the authority; a block of ASCII without quotes is split
 * directly, and a row of it that shows anything but plain cells goes to the parser after all. */
#include <ctype.h>
#include <string.h>

#include "log_inside.h"

typedef struct rows {
    const trn_log *log;
    trn_faults *faults;
    trn_log_sink sink;
    void *context;
    size_t lost;
} rows;

static void blank(trn_log_row *sample, size_t line)
{
    for (size_t k = 0; k < TRN_LOG_CHANNEL_COUNT; k++)
        sample->value[k] = NAN;
    sample->position = "";
    sample->position_length = 0;
    sample->line = line;
    sample->bad = 0;
}

/* ---- by the parser ------------------------------------------------------------------------- */

static void on_row(void *context, const char *const *cells, size_t n, size_t line)
{
    rows *r = context;
    const trn_log *log = r->log;
    if (line <= log->header_line)
        return;
    trn_log_row sample;
    blank(&sample, line);
    if (n > log->columns) {
        trn_fault_add(r->faults, log->name, line, NULL,
                      "%zu cells, but the header in line %zu has %zu; the first too many is "
                      "`%.40s`",
                      n, log->header_line, log->columns, cells[log->columns]);
        r->lost++;
        return;
    }
    bool stamped = true;
    for (size_t c = 0; c < log->columns; c++)
        stamped = log_take(log, c, c < n ? cells[c] : "", line, r->faults, &sample) && stamped;
    if (stamped)
        r->sink(r->context, &sample);
    else
        r->lost++;
}

static trn_status by_parser(rows *r, const char *text, size_t size, size_t line)
{
    trn_piece piece = {.name = r->log->name,
                       .text = text,
                       .size = size,
                       .line = line,
                       .separator = r->log->separator,
                       .headed = true};
    return trn_rows_read(&piece, r->faults, on_row, r);
}

/* ---- directly ------------------------------------------------------------------------------ */

/* Powers of ten that are exact. A mantissa up to 2^53 divided by one is rounded once, as strtod
 * does. Source: Clinger, How to read floating point numbers accurately (1990). */
static const double powers[] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};

#if defined(__BYTE_ORDER__) && __BYTE_ORDER__ == __ORDER_LITTLE_ENDIAN__
enum { SHORT_NUMBERS = 1 };
#else
enum { SHORT_NUMBERS = 0 };
#endif

/* Digits with or without a decimal sign, seven characters at most, by arithmetic on eight bytes at
 * once: no branch hangs on how many there are. NULL where the cell holds anything else. */
static inline const char *short_number(const char *p, char decimal, char separator, double *out)
{
    static const uint64_t tops = UINT64_C(0x8080808080808080);
    uint64_t x = 0;
    memcpy(&x, p, sizeof x);
    x ^= UINT64_C(0x3030303030303030); /* digits become 0 to 9 */
    uint64_t other = ((x + UINT64_C(0x7676767676767676)) | x) & tops;
    if (other == 0)
        return NULL;
    unsigned end = (unsigned)__builtin_ctzll(other) >> 3;
    unsigned decimals = 0;
    if (p[end] == decimal) {
        uint64_t before = (UINT64_C(1) << 8 * end) - 1;
        unsigned point = end;
        other &= other - 1;
        if (other == 0)
            return NULL;
        end = (unsigned)__builtin_ctzll(other) >> 3;
        decimals = end - point - 1;
        x = (x & before) | ((x >> 8) & ~before);
    }
    unsigned digits = end - (decimals > 0 || (end > 0 && p[end - 1] == decimal));
    if (digits == 0 || (p[end] != separator && p[end] != '\n'))
        return NULL;
    x <<= 8 * (8 - digits);
    x = x * 10 + (x >> 8); /* pairs, then fours, then eight */
    x = ((x & UINT64_C(0x000000FF000000FF)) * UINT64_C(0x000F424000000064) +
         ((x >> 16) & UINT64_C(0x000000FF000000FF)) * UINT64_C(0x0000271000000001)) >> 32;
    *out = (double)x / powers[decimals];
    return p + end;
}

/* A number up to the end of its cell; NULL where it is not plain. An empty cell leaves *out. */
static inline const char *plain_number(const char *p, char decimal, char separator, double *out)
{
    while (*p == ' ')
        p++;
    if (*p == separator || *p == '\n')
        return p;
    bool negative = *p == '-';
    p += negative;
    uint64_t mantissa = 0;
    const char *from = p;
    unsigned digit = 0;
    while ((digit = (unsigned)(unsigned char)*p - '0') < 10) {
        mantissa = 10 * mantissa + digit;
        p++;
    }
    ptrdiff_t digits = p - from;
    ptrdiff_t decimals = 0;
    if (*p == decimal) {
        from = ++p;
        while ((digit = (unsigned)(unsigned char)*p - '0') < 10) {
            mantissa = 10 * mantissa + digit;
            p++;
        }
        decimals = p - from;
        digits += decimals;
    }
    while (*p == ' ')
        p++;
    if ((*p != separator && *p != '\n') || digits == 0 || digits > 18 ||
        mantissa > (UINT64_C(1) << 53))
        return NULL;
    double value = (double)mantissa / powers[decimals];
    *out = negative ? -value : value;
    return p;
}

static inline const char *end_of_cell(const char *p, char separator)
{
    while (*p != separator && *p != '\n')
        p++;
    return p;
}

/* The last stamp of the form 2026-05-01T06:30:07..., up to its minutes. */
typedef struct minute {
    char text[17];
    bool known;
    int64_t ns; /* with the zone in it */
    char zone[8];
    size_t zone_size;
} minute;

static void remember(minute *m, const char *p, size_t n, int64_t ns)
{
    m->known = false;
    if (n < 19 || p[4] != '-' || p[13] != ':' || p[16] != ':' || p[17] > '5')
        return;
    size_t z = 19;
    int64_t part = 0;
    int64_t unit = 100000000;
    if (z < n && p[z] == '.')
        for (z++; z < n && isdigit((unsigned char)p[z]); z++, unit /= 10)
            part += unit * (p[z] - '0');
    if (n - z >= sizeof m->zone || (z < n && p[z] == ','))
        return;
    memcpy(m->text, p, sizeof m->text);
    memcpy(m->zone, p + z, n - z);
    m->zone_size = n - z;
    m->ns = ns - part - (int64_t)(10 * (p[17] - '0') + (p[18] - '0')) * 1000000000;
    m->known = true;
}

static inline bool in_minute(const minute *m, const char *p, size_t n, int64_t *ns)
{
    if (!m->known || n < 19 + m->zone_size || memcmp(p, m->text, sizeof m->text) != 0)
        return false;
    unsigned tens = (unsigned)(unsigned char)p[17] - '0';
    unsigned ones = (unsigned)(unsigned char)p[18] - '0';
    if (tens > 5 || ones > 9)
        return false;
    size_t end = n - m->zone_size;
    int64_t part = 0;
    int64_t unit = 100000000;
    size_t z = 19;
    if (z < end && p[z] == '.') {
        if (z + 1 == end)
            return false;
        for (z++; z < end && isdigit((unsigned char)p[z]); z++, unit /= 10)
            part += unit * (p[z] - '0');
    }
    if (z != end || memcmp(p + end, m->zone, m->zone_size) != 0)
        return false;
    *ns = m->ns + (int64_t)(10 * tens + ones) * 1000000000 + part;
    return true;
}

static const char *plain_time(const trn_log *log, const char *p, minute *m, int64_t *ns)
{
    /* most stamps: whole seconds of the minute before */
    if (m->known && m->zone_size == 0 && (p[19] == log->separator || p[19] == '\n') &&
        in_minute(m, p, 19, ns))
        return p + 19;
    const char *end = end_of_cell(p, log->separator);
    size_t n = (size_t)(end - p);
    if (log->clock == TRN_CLOCK_SECONDS) {
        char text[32];
        bool point = false;
        if (n == 0 || n >= sizeof text)
            return NULL;
        for (size_t i = 0; i < n; i++) {
            text[i] = p[i] == log->decimal ? '.' : p[i];
            bool mark = p[i] == log->decimal && !point && i > 0 && i + 1 < n;
            point = point || mark;
            if (!mark && !isdigit((unsigned char)p[i]))
                return NULL;
        }
        text[n] = '\0';
        return log_seconds(text, log->scale[TRN_LOG_TIME], ns) == TRN_OK ? end : NULL;
    }
    if (in_minute(m, p, n, ns))
        return end;
    trn_log_clock clock = TRN_CLOCK_NONE;
    if (trn_log_stamp(p, n, ns, &clock) != TRN_OK || clock != log->clock)
        return NULL;
    remember(m, p, n, *ns);
    return end;
}

static const char *plain_position(const trn_log *log, const char *p, trn_log_row *sample,
                                  const char **last, size_t *last_size)
{
    const char *end = end_of_cell(p, log->separator);
    size_t n = (size_t)(end - p);
    if (n > 0 && (isspace((unsigned char)p[0]) || isspace((unsigned char)p[n - 1])))
        return NULL;
    bool same = n == *last_size && memcmp(p, *last, n) == 0;
    if (!same && log_position_fault(p, n))
        return NULL;
    *last = sample->position = p;
    *last_size = sample->position_length = n;
    return end;
}

typedef struct splitter {
    minute minute;
    const char *position;
    size_t position_size;
} splitter;

static bool comment(const char *p)
{
    while (*p == ' ')
        p++;
    return *p == '#';
}

/* The row at p, up to its '\n'; NULL where it needs the parser. It has a stamp, so it is no blank
 * one. */
static const char *plain_row(const trn_log *log, const char *p, splitter *s, trn_log_row *sample)
{
    bool stamped = false;
    char separator = log->separator;
    for (size_t c = 0; c < log->columns; c++) {
        unsigned role = log->role[c];
        if (role < TRN_LOG_CHANNEL_COUNT) {
            double value = NAN;
            const char *end = SHORT_NUMBERS
                                  ? short_number(p, log->decimal, separator, &value)
                                  : NULL;
            p = end ? end : plain_number(p, log->decimal, separator, &value);
            sample->value[role] = value * log->scale[role] + log->offset[role];
        } else if (role == TRN_LOG_TIME) {
            p = plain_time(log, p, &s->minute, &sample->ns);
            stamped = true;
        } else if (role == TRN_LOG_POSITION) {
            p = plain_position(log, p, sample, &s->position, &s->position_size);
        } else {
            p = end_of_cell(p, separator);
        }
        if (!p)
            return NULL;
        if (*p == '\n')
            break;
        p++;
    }
    return *p == '\n' && stamped ? p : NULL;
}

static trn_status directly(rows *r, const char *text, size_t size, size_t line)
{
    splitter s = {.position = ""};
    const char *p = text;
    const char *end = text + size; /* a '\n' stands there, whatever the text ends with */
    trn_log_row sample;
    for (; p < end; line++) {
        blank(&sample, line);
        const char *stop = *p == '\n'    ? p
                           : comment(p) ? NULL
                                        : plain_row(r->log, p, &s, &sample);
        if (stop && stop > p) {
            r->sink(r->context, &sample);
        } else if (!stop) {
            stop = memchr(p, '\n', (size_t)(end - p));
            size_t n = stop ? (size_t)(stop - p) + 1 : (size_t)(end - p);
            trn_status status = by_parser(r, p, n, line);
            if (status < 0)
                return status;
            stop = p + n - (stop ? 1 : 0);
        }
        p = stop + 1;
    }
    return TRN_OK;
}

trn_status trn_log_rows(const trn_log *log, const trn_log_block *block, bool plain,
                        trn_faults *faults, size_t *lost, trn_log_sink sink, void *context)
{
    rows r = {.log = log, .faults = faults, .sink = sink, .context = context};
    /* decimal commas between commas stand in quotes, which a block without quotes has none of: its
     * commas part cells, and the parser knows that */
    bool apart = log->decimal != log->separator;
    trn_status status = plain && apart && trn_log_block_plain(block)
                            ? directly(&r, block->text.p, block->text.size, block->line)
                            : by_parser(&r, block->text.p, block->text.size, block->line);
    *lost += r.lost;
    return status;
}
