/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The dialect of a table, settled once per file: the separator on the header line, the decimal
 * sign by the cells of the whole file. */
#include <ctype.h>
#include <string.h>

#include "reader.h"

/* ---- separator ---------------------------------------------------------------------------- */

enum { COMMA, SEMICOLON, TAB, SEPARATORS };
static const char separators[SEPARATORS] = {',', ';', '\t'};
static const char *const separator_names[SEPARATORS] = {"comma", "semicolon", "tab"};

/* A record: a line, or several where a quoted cell holds newlines. */
typedef struct record {
    size_t line;
    size_t count[SEPARATORS]; /* outside quotes */
    bool said;                /* holds more than separators and blanks */
} record;

static bool is_separator(char c)
{
    return c == ',' || c == ';' || c == '\t';
}

/* Reads one record from p and gives where it ends; a comment leaves r->said false. */
static const char *scan_record(const char *p, const char *end, size_t *line, record *r)
{
    *r = (record){.line = *line};
    while (p < end && *p == ' ')
        p++;
    bool quoted_comment = end - p > 1 && p[0] == '"' && p[1] == '#';
    bool comment = p < end && *p == '#';
    bool quoted = false;
    bool behind = false; /* behind the first cell */
    bool more = false;   /* and something stands there */
    for (; p < end && (*p != '\n' || quoted); p++) {
        *line += *p == '\n';
        if (comment)
            continue;
        if (*p == '"') {
            quoted = !quoted;
        } else if (quoted || (*p != ' ' && !is_separator(*p))) {
            r->said = true;
            more = more || behind;
        } else {
            behind = behind || *p != ' ';
            for (size_t k = 0; k < SEPARATORS; k++)
                r->count[k] += *p == separators[k];
        }
    }
    /* a spreadsheet puts a comment that holds a separator in quotes and fills up the line */
    if (quoted_comment && !more)
        r->said = false;
    if (p < end) {
        p++;
        ++*line;
    }
    return p;
}

/* The first three records that are neither blank nor comment: how many there are. */
static size_t first_records(const char *text, const char *end, size_t line, record *records)
{
    size_t n = 0;
    while (text < end && n < 3) {
        text = scan_record(text, end, &line, &records[n]);
        n += records[n].said;
    }
    return n;
}

/* `sep=;` as the first line: the bytes it takes with its line end, 0 where there is none. */
static size_t hint(const char *text, size_t size, char *separator)
{
    const char *p = text;
    const char *end = memchr(text, '\n', size);
    if (!end)
        end = text + size;
    bool quoted = p < end && *p == '"';
    p += quoted;
    if (end - p < 5 || tolower((unsigned char)p[0]) != 's' || tolower((unsigned char)p[1]) != 'e' ||
        tolower((unsigned char)p[2]) != 'p' || p[3] != '=')
        return 0;
    *separator = p[4];
    p += 5;
    if (quoted && p < end && *p == '"')
        p++;
    while (p < end && *p == ' ')
        p++;
    if (p < end)
        return 0;
    return (size_t)(end - text) + (end < text + size);
}

static bool looks_like_title(const record *r, size_t n, size_t chosen)
{
    if (n < 2)
        return false;
    for (size_t k = 0; k < SEPARATORS; k++) {
        if (chosen == SEPARATORS && r[1].count[k] > 0)
            return true; /* one cell above a line of several */
        if (chosen < SEPARATORS && k != chosen && n == 3 && r[1].count[chosen] == 0 &&
            r[1].count[k] >= r[0].count[chosen] && r[2].count[k] == r[1].count[k])
            return true; /* the lines below are parted by another sign */
    }
    return false;
}

static trn_status choose(const char *name, const record *r, size_t n, trn_faults *faults,
                         char *separator)
{
    size_t best = SEPARATORS;
    size_t tie = SEPARATORS;
    for (size_t k = 0; n > 0 && k < SEPARATORS; k++) {
        size_t most = best < SEPARATORS ? r[0].count[best] : 0;
        if (r[0].count[k] > most) {
            best = k;
            tie = SEPARATORS;
        } else if (r[0].count[k] == most && most > 0) {
            tie = k;
        }
    }
    if (looks_like_title(r, n, best)) {
        trn_fault_add(faults, name, r[0].line, NULL,
                      "this looks like a title; the first line must be the header: begin a title "
                      "with #");
        return TRN_E_INPUT;
    }
    if (tie < SEPARATORS) {
        trn_fault_add(faults, name, r[0].line, NULL,
                      "the header holds as many of %s as of %s, so what parts its cells is not "
                      "clear; say it on a first line such as sep=;",
                      separator_names[best], separator_names[tie]);
        return TRN_E_INPUT;
    }
    *separator = best < SEPARATORS ? separators[best] : ',';
    return TRN_OK;
}

trn_status trn_dialect_separator(const char *name, const char *text, size_t size,
                                 trn_faults *faults, char *separator, size_t *start, size_t *line)
{
    *start = 0;
    *line = 1;
    char said = '\0';
    size_t n = size > 0 ? hint(text, size, &said) : 0;
    if (n > 0) {
        *start = n;
        *line = 2;
        if (is_separator(said)) {
            *separator = said;
            return TRN_OK;
        }
        trn_fault_add(faults, name, 1, NULL,
                      "sep=%c: cells are parted by a comma, a semicolon or a tab", said);
        return TRN_E_INPUT;
    }
    record records[3];
    size_t count = size > 0 ? first_records(text, text + size, 1, records) : 0;
    return choose(name, records, count, faults, separator);
}

/* ---- decimal sign ------------------------------------------------------------------------- */

/* A cell that shows something about the decimal sign: the first of its kind. */
typedef struct witness {
    size_t row, column;
    bool there;
} witness;

typedef struct evidence {
    witness point, comma;            /* a number in one reading only */
    witness unclear_point, unclear_comma; /* 1.234 and 1,234: a number in both */
} evidence;

static void note(witness *w, size_t row, size_t column)
{
    if (!w->there)
        *w = (witness){row, column, true};
}

/* The numbers of a cell: one, or a list parted by '/'; a factor begins with x, and a unit may
 * follow. What is no number is no evidence. */
static void hear(evidence *e, const char *text, size_t row, size_t column)
{
    const char *p = text;
    if ((*p == 'x' || *p == 'X') || (*p == '+' && p[1] == '-'))
        p++;
    for (;;) {
        char plain[128];
        size_t point = trn_number_plain(p, '.', plain, sizeof plain);
        size_t comma = trn_number_plain(p, ',', plain, sizeof plain);
        size_t n = point > comma ? point : comma;
        if (n == 0)
            return;
        bool has_point = memchr(p, '.', n) != NULL;
        bool has_comma = memchr(p, ',', n) != NULL;
        if (has_point || has_comma) {
            if (point && !comma)
                note(&e->point, row, column);
            else if (comma && !point)
                note(&e->comma, row, column);
            else
                note(has_point ? &e->unclear_point : &e->unclear_comma, row, column);
        }
        p += n;
        if (*p != '/')
            return;
        p++;
    }
}

static trn_status both(const trn_sheet *sheet, trn_faults *faults, const evidence *e)
{
    const witness *first = &e->point;
    const witness *second = &e->comma;
    if (second->row < first->row) {
        first = &e->comma;
        second = &e->point;
    }
    trn_fault_add(faults, sheet->name, sheet->line[second->row], sheet->header[second->column],
                  "`%.40s` has a decimal %s, but `%.40s` in line %zu has a decimal %s; a file "
                  "has one decimal sign throughout",
                  trn_sheet_cell(sheet, second->row, second->column),
                  second == &e->point ? "point" : "comma",
                  trn_sheet_cell(sheet, first->row, first->column), sheet->line[first->row],
                  first == &e->point ? "point" : "comma");
    return TRN_E_INPUT;
}

static trn_status unclear(const trn_sheet *sheet, trn_faults *faults, const witness *w)
{
    const char *text = trn_sheet_cell(sheet, w->row, w->column);
    const char *p = text + ((*text == 'x' || *text == 'X') || (*text == '+' && text[1] == '-'));
    char point[128] = "";
    char comma[128] = "";
    /* of a list, the member that is unclear */
    for (;;) {
        size_t n = trn_number_plain(p, '.', point, sizeof point);
        (void)trn_number_plain(p, ',', comma, sizeof comma);
        if (memchr(p, '.', n) || memchr(p, ',', n) || p[n] != '/')
            break;
        p += n + 1;
    }
    trn_fault_add(faults, sheet->name, sheet->line[w->row], sheet->header[w->column],
                  "`%.40s` is %.40s with a decimal point and %.40s with a decimal comma, and no "
                  "other number of the file settles which; write it without a thousands mark, or "
                  "with one decimal more",
                  text, point, comma);
    return TRN_E_INPUT;
}

static void gather(const trn_sheet *sheet, evidence *with_unit, evidence *without)
{
    for (size_t c = 0; c < sheet->columns; c++) {
        if (strncmp(sheet->header[c], "note", 4) == 0)
            continue;
        evidence *e = strchr(sheet->header[c], '[') ? with_unit : without;
        for (size_t r = 0; r < sheet->rows; r++)
            hear(e, trn_sheet_cell(sheet, r, c), r, c);
    }
}

trn_status trn_dialect_decimal(trn_sheet *sheet, trn_faults *faults)
{
    static const evidence none;
    evidence e[2] = {none, none}; /* columns with a unit, and the others */
    gather(sheet, &e[0], &e[1]);
    sheet->decimal = sheet->separator == ';' ? ',' : '.';
    const witness *point = e[0].unclear_point.there ? &e[0].unclear_point : &e[1].unclear_point;
    const witness *comma = e[0].unclear_comma.there ? &e[0].unclear_comma : &e[1].unclear_comma;
    /* columns with a unit hold numbers; the others may hold words such as 1.1, and are asked
     * only where those are silent */
    for (size_t k = 0; k < 2; k++) {
        if (e[k].point.there && e[k].comma.there) {
            if (k == 0 || point->there || comma->there)
                return both(sheet, faults, &e[k]);
            return TRN_OK; /* words: a number in the other sign is refused where it is read */
        }
        if (e[k].point.there || e[k].comma.there) {
            sheet->decimal = e[k].point.there ? '.' : ',';
            return TRN_OK;
        }
    }
    /* a comma that parts cells speaks for the point, a semicolon for the comma; where the marks
     * agree with that there is nothing unclear */
    if (comma->there && sheet->separator != ';')
        return unclear(sheet, faults, comma);
    if (point->there && sheet->separator != ',')
        return unclear(sheet, faults, point);
    return TRN_OK;
}
