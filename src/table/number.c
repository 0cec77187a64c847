/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers as spreadsheets write them: decimal point or comma, thousands marks, a true minus. */
#include <ctype.h>
#include <stdbool.h>
#include <string.h>

#include "reader.h"

#define MINUS "\xE2\x88\x92"         /* U+2212 */
#define NO_BREAK "\xC2\xA0"          /* U+00A0 */
#define NARROW_NO_BREAK "\xE2\x80\xAF" /* U+202F */
#define RAISED_COMMA "\xE2\x80\x99"  /* U+2019 */

static size_t starts(const char *text, const char *with)
{
    size_t n = strlen(with);
    return strncmp(text, with, n) == 0 ? n : 0;
}

size_t trn_blank_length(const char *p)
{
    if (isspace((unsigned char)*p))
        return 1;
    size_t n = starts(p, NO_BREAK);
    return n ? n : starts(p, NARROW_NO_BREAK);
}

/* Thousands mark at p: its length, and whether it is one that could be a blank before a unit. */
static size_t mark_length(const char *p, char decimal, bool *blank)
{
    *blank = false;
    if (*p == '\'' || (*p == ',' && decimal != ',') || (*p == '.' && decimal != '.'))
        return 1;
    size_t n = starts(p, RAISED_COMMA);
    if (n)
        return n;
    *blank = true;
    n = starts(p, NO_BREAK);
    return n ? n : starts(p, NARROW_NO_BREAK);
}

static size_t digits(const char *p)
{
    size_t n = 0;
    while (isdigit((unsigned char)p[n]))
        n++;
    return n;
}

typedef struct plain_text {
    char *text;
    size_t n, size;
} plain_text;

static bool put(plain_text *out, const char *p, size_t n)
{
    if (n >= out->size - out->n)
        return false;
    memcpy(out->text + out->n, p, n);
    out->n += n;
    out->text[out->n] = '\0';
    return true;
}

static size_t sign(const char *p, plain_text *out)
{
    size_t n = starts(p, MINUS);
    if (n == 0 && (*p == '-' || *p == '+'))
        n = 1;
    if (n > 0 && *p != '+')
        (void)put(out, "-", 1);
    return n;
}

/* Whole part with its thousands marks; *p moves past it. False: the marks are not in order. */
static bool whole_part(const char **p, char decimal, plain_text *out, bool *grouped)
{
    size_t n = digits(*p);
    const char *first = *p;
    if (!put(out, first, n))
        return false;
    *p += n;
    bool blank = false;
    const char *mark = *p;
    size_t mark_size = n > 0 ? mark_length(mark, decimal, &blank) : 0;
    while (mark_size > 0 && strncmp(*p, mark, mark_size) == 0) {
        const char *group = *p + mark_size;
        bool in_order = digits(group) == 3 && n <= 3 && *first != '0';
        if (!in_order && (blank || !isdigit((unsigned char)*group)))
            break; /* a blank before a unit, or what the caller will not take as a number */
        if (!in_order || !put(out, group, 3))
            return false;
        *grouped = true;
        *p = group + 3;
    }
    return true;
}

static bool fraction(const char **p, char decimal, plain_text *out, size_t *count)
{
    if (**p != decimal)
        return true;
    *count = digits(*p + 1);
    if (!put(out, ".", 1) || !put(out, *p + 1, *count))
        return false;
    *p += 1 + *count;
    return true;
}

static bool exponent(const char **p, plain_text *out)
{
    if (**p != 'e' && **p != 'E')
        return true;
    const char *q = *p + 1;
    size_t before = out->n;
    (void)put(out, "e", 1);
    q += sign(q, out);
    size_t n = digits(q);
    if (n == 0) { /* a unit that begins with e, not an exponent */
        out->n = before;
        out->text[before] = '\0';
        return true;
    }
    *p = q + n;
    return put(out, q, n);
}

size_t trn_number_plain(const char *text, char decimal, char *plain, size_t size)
{
    if (size < 8)
        return 0;
    plain_text out = {plain, 0, size};
    plain[0] = '\0';
    const char *p = text;
    while (trn_blank_length(p) > 0)
        p += trn_blank_length(p);
    p += sign(p, &out);
    const char *start = p;
    bool grouped = false;
    size_t decimals = 0;
    if (!whole_part(&p, decimal, &out, &grouped))
        return 0;
    bool whole = p > start;
    if (!fraction(&p, decimal, &out, &decimals) || (!whole && decimals == 0))
        return 0;
    const char *before = p;
    if (!exponent(&p, &out) || (grouped && p > before))
        return 0; /* nobody writes 1,234e5: the mark was a decimal sign of the other kind */
    bool blank = false;
    size_t mark = mark_length(p, decimal, &blank);
    if (*p == decimal) {
        mark = 1;
        blank = false;
    }
    if (mark > 0 && !blank && isdigit((unsigned char)p[mark]))
        return 0; /* 1.2.3 is no number */
    return (size_t)(p - text);
}

trn_status trn_sheet_number_start(const trn_sheet *sheet, const char *text, double *out,
                                  const char **end)
{
    char plain[128];
    const char *ignored = NULL;
    size_t n = trn_number_plain(text, sheet->decimal, plain, sizeof plain);
    if (n == 0)
        return TRN_E_NUMBER;
    trn_status status = trn_text_number_start(plain, out, &ignored);
    if (status == TRN_OK)
        *end = text + n;
    return status;
}

trn_status trn_sheet_number(const trn_sheet *sheet, const char *text, double *out)
{
    double value = 0;
    const char *end = NULL;
    trn_status status = trn_sheet_number_start(sheet, text, &value, &end);
    if (status != TRN_OK)
        return status;
    while (trn_blank_length(end) > 0)
        end += trn_blank_length(end);
    if (*end != '\0')
        return TRN_E_NUMBER;
    *out = value;
    return TRN_OK;
}
