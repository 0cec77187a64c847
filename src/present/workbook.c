/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The results as a workbook: a sheet a result file, texts as texts. */
#define _DEFAULT_SOURCE /* libxlsxwriter's headers use u_int of BSD */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <trunnion.h>
#include <unistd.h>
#include <xlsxwriter.h>

#include "own_csv.h"

enum {
    DIGIT_FORMATS = 7,
    TEXT_MAX = 32000,   /* bytes; a cell holds 32767 characters */
    AS_TEXT_MAX = 255,  /* characters that a cell of the format `text` shows everywhere */
    ROWS_MAX = 1048575, /* of a sheet */
    WIDTH_MAX = 60
};

typedef struct book {
    lxw_workbook *workbook;
    lxw_format *head, *text, *long_text, *title, *number[DIGIT_FORMATS];
    bool failed;
} book;

typedef struct sheet {
    book *book;
    lxw_worksheet *page;
    lxw_row_t row;
    lxw_col_t column;
    size_t width[64]; /* of the widest text, in characters */
} sheet;

static const char *const number_formats[DIGIT_FORMATS] = {"0",      "0.0",    "0.00",    "0.000",
                                                          "0.0000", "0.00E+00", "General"};

/* Four digits for people; the cell keeps them all. */
static size_t number_format(double value)
{
    double size = fabs(value);
    if (size >= 1e9 || (size < 1e-3 && size > 0))
        return 5;
    if (size >= 1000 || value == floor(value))
        return 0;
    return size >= 100 ? 1 : size >= 10 ? 2 : size >= 0.1 ? 3 : 4;
}

static void note(sheet *s, size_t characters)
{
    if (s->column < sizeof s->width / sizeof s->width[0] && characters > s->width[s->column])
        s->width[s->column] = characters;
}

static void check(sheet *s, lxw_error error)
{
    if (error != LXW_NO_ERROR)
        s->book->failed = true;
}

static void put_text_as(sheet *s, const char *text, lxw_format *format)
{
    trn_buffer clean = {0};
    trn_text_clean(text ? text : "", TEXT_MAX, &clean);
    if (clean.failed)
        s->book->failed = true;
    else if (clean.length > 0)
        check(s, worksheet_write_string(s->page, s->row, s->column, clean.text, format));
    note(s, clean.length);
    trn_buffer_free(&clean);
    s->column++;
}

static void put_text(sheet *s, const char *text)
{
    bool is_long = text && strlen(text) > AS_TEXT_MAX;
    put_text_as(s, text, is_long ? s->book->long_text : s->book->text);
}

static void put_number(sheet *s, double value)
{
    if (isinf(value)) { /* no number of a spreadsheet */
        put_text(s, value > 0 ? "inf" : "-inf");
        return;
    }
    if (!isnan(value))
        check(s, worksheet_write_number(s->page, s->row, s->column, value,
                                        s->book->number[number_format(value)]));
    s->column++;
}

static void next_row(sheet *s)
{
    s->row++;
    s->column = 0;
}

static void begin(sheet *s, book *b, const char *name)
{
    *s = (sheet){.book = b, .page = workbook_add_worksheet(b->workbook, name)};
    if (!s->page) {
        b->failed = true;
        return;
    }
    worksheet_set_landscape(s->page);
    worksheet_set_paper(s->page, 9); /* A4 */
    worksheet_fit_to_pages(s->page, 1, 0);
    (void)worksheet_set_footer(s->page, "&L&A&RPage &P of &N");
}

/* Widths of the columns; a table keeps its header in sight and on each printed page. */
static void end(sheet *s, lxw_col_t columns, bool table)
{
    for (lxw_col_t c = 0; c < columns && c < sizeof s->width / sizeof s->width[0]; c++) {
        size_t width = s->width[c] > WIDTH_MAX ? WIDTH_MAX : s->width[c] < 9 ? 9 : s->width[c];
        check(s, worksheet_set_column(s->page, c, c, (double)width + 1, NULL));
    }
    if (!table)
        return;
    worksheet_freeze_panes(s->page, 1, 0);
    check(s, worksheet_repeat_rows(s->page, 0, 0));
    if (s->row > 1)
        check(s, worksheet_autofilter(s->page, 0, 0, s->row - 1, (lxw_col_t)(columns - 1)));
}

static void put_field(sheet *s, const trn_field *field, const trn_results *results,
                      const void *row)
{
    const char *cell = (const char *)row + field->offset;
    if (field->kind == TRN_FIELD_TEXT || field->kind == TRN_FIELD_WORD) {
        put_text(s, field->text(results, row));
    } else if (field->kind == TRN_FIELD_REMARK) {
        trn_buffer text = {0};
        trn_remarks_text((const trn_remarks *)(const void *)cell, &text);
        s->book->failed = s->book->failed || text.failed;
        put_text(s, text.text);
        trn_buffer_free(&text);
    } else {
        double value = NAN;
        memcpy(&value, cell, sizeof value);
        put_number(s, value);
    }
}

static void add_view(book *b, const trn_view *view, const trn_results *results)
{
    sheet s;
    begin(&s, b, view->name);
    if (b->failed)
        return;
    for (size_t c = 0; c < view->field_count; c++) {
        trn_buffer name = {0};
        trn_field_header(&view->fields[c], &name);
        put_text_as(&s, name.text, b->head);
        trn_buffer_free(&name);
    }
    next_row(&s);
    for (size_t i = 0; i < view->rows(results) && s.row < ROWS_MAX && !b->failed; i++) {
        for (size_t c = 0; c < view->field_count; c++)
            put_field(&s, &view->fields[c], results, view->row(results, i));
        next_row(&s);
    }
    end(&s, (lxw_col_t)view->field_count, true);
}

static void add_line(sheet *s, const char *name, const char *text)
{
    put_text_as(s, name, s->book->title);
    put_text(s, text);
    next_row(s);
}

static void add_about(book *b, const trn_results *results)
{
    const trn_head *head = &results->machine->head;
    sheet s;
    begin(&s, b, "about");
    if (b->failed)
        return;
    const char *const lines[][2] = {
        {"machine", head->name},   {"serial", head->serial},
        {"owner", head->owner},    {"manual", head->manual},
        {"date", head->date},      {"prepared by", head->prepared_by},
        {"program", "trunnion " TRN_VERSION},
        {"caution", trn_caution_text(TRN_CAUTION_INTERVALS)},
        {"caution", trn_caution_text(TRN_CAUTION_ALL)},
        {"numbers", "Shown with four digits, kept with all. Empty: not known. inf: no end. Units "
                    "stand in the brackets of the headers."}};
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++)
        if (lines[i][1] && *lines[i][1])
            add_line(&s, lines[i][0], lines[i][1]);
    next_row(&s);
    for (size_t i = 0; i < trn_view_count(); i++) {
        const trn_view *view = trn_view_at(i);
        trn_buffer text = {0};
        trn_buffer_print(&text, "%s%s%s", view->title, view->caption ? ". " : "",
                         view->caption ? view->caption : "");
        add_line(&s, view->name, text.text);
        trn_buffer_free(&text);
    }
    s.width[1] = 2 * WIDTH_MAX;
    end(&s, 1, false);
    check(&s, worksheet_set_column(s.page, 1, 1, 2 * WIDTH_MAX, NULL));
}

/* ---- the file ----------------------------------------------------------------------------- */

/* Seconds since 1970 of YYYY-MM-DD at noon; of the format's own first day where it is none. */
static time_t created(const char *date)
{
    int year = 1980;
    int month = 1;
    int day = 1;
    char rest = '\0';
    if (!date || sscanf(date, "%4d-%2d-%2d%c", &year, &month, &day, &rest) != 3 || year < 1980 ||
        year > 2100 || month < 1 || month > 12 || day < 1 || day > 31) {
        year = 1980;
        month = day = 1;
    }
    /* days of the civil calendar, years counted from March */
    int y = month > 2 ? year : year - 1;
    int m = month > 2 ? month - 3 : month + 9;
    long days = 365L * y + y / 4 - y / 100 + y / 400 + (153 * m + 2) / 5 + day - 719469L;
    return (time_t)days * 86400 + 43200;
}

static void make_formats(book *b)
{
    b->head = workbook_add_format(b->workbook);
    b->text = workbook_add_format(b->workbook);
    b->long_text = workbook_add_format(b->workbook);
    b->title = workbook_add_format(b->workbook);
    format_set_bold(b->head);
    format_set_text_wrap(b->head);
    format_set_bottom(b->head, LXW_BORDER_THIN);
    format_set_align(b->head, LXW_ALIGN_VERTICAL_TOP);
    format_set_text_wrap(b->text);
    format_set_num_format(b->text, "@"); /* stays a text when it is edited, too */
    format_set_align(b->text, LXW_ALIGN_VERTICAL_TOP);
    format_set_text_wrap(b->long_text);
    format_set_align(b->long_text, LXW_ALIGN_VERTICAL_TOP);
    format_set_bold(b->title);
    format_set_align(b->title, LXW_ALIGN_VERTICAL_TOP);
    for (size_t i = 0; i < DIGIT_FORMATS; i++) {
        b->number[i] = workbook_add_format(b->workbook);
        format_set_num_format(b->number[i], number_formats[i]);
        format_set_align(b->number[i], LXW_ALIGN_VERTICAL_TOP);
    }
}

/* A file that no view describes: numbers are what reads as one. */
static void add_read_sheet(book *b, const trn_package_file *file, const char *name)
{
    sheet s;
    trn_buffer cell = {0};
    size_t at = 0;
    lxw_col_t columns = 0;
    begin(&s, b, name);
    for (bool last = false; !b->failed && trn_own_csv_cell(file, &at, &cell, &last);) {
        double number = 0;
        b->failed = b->failed || cell.failed;
        if (s.row > 0 && !cell.failed && trn_text_number(cell.text, &number) == TRN_OK)
            put_number(&s, number);
        else
            put_text_as(&s, cell.text, s.row > 0 ? b->text : b->head);
        columns = s.column > columns ? s.column : columns;
        if (last)
            next_row(&s);
        if (s.row > ROWS_MAX)
            break;
    }
    if (!b->failed)
        end(&s, columns, true);
    trn_buffer_free(&cell);
}

/* A sheet's name is at most 31 characters. */
static void add_file_sheet(book *b, const trn_package_file *file, const trn_results *results)
{
    char name[LXW_SHEETNAME_MAX + 1];
    size_t n = strlen(file->name) - strlen(".csv");
    (void)snprintf(name, sizeof name, "%.*s", (int)n, file->name);
    if (file->view)
        add_view(b, file->view, results);
    else
        add_read_sheet(b, file, name);
}

static bool is_first(const char *name)
{
    return strcmp(name, "intervals.csv") == 0 || strcmp(name, "plan.csv") == 0;
}

/* Interval table and plan first, then the others as they come. */
static void add_sheets(book *b, const trn_results *results, const trn_package_file *files,
                       size_t count)
{
    for (int later = 0; later < 2; later++)
        for (size_t i = 0; i < count && !b->failed; i++)
            if (trn_own_csv(&files[i]) && is_first(files[i].name) == (later == 0))
                add_file_sheet(b, &files[i], results);
    if (!b->failed)
        add_about(b, results);
}

static trn_status write_book(const trn_results *results, const trn_package_file *files,
                             size_t count, const char *path, const char *folder)
{
    lxw_workbook_options options = {.tmpdir = (char *)(uintptr_t)folder};
    book b = {.workbook = workbook_new_opt(path, &options)};
    if (!b.workbook)
        return TRN_E_MEMORY;
    lxw_doc_properties properties = {.title = (char *)(uintptr_t) "Results of trunnion",
                                     .created = created(results->machine->head.date)};
    b.failed = workbook_set_properties(b.workbook, &properties) != LXW_NO_ERROR;
    make_formats(&b);
    if (!b.failed)
        add_sheets(&b, results, files, count);
    lxw_error error = workbook_close(b.workbook);
    return b.failed ? TRN_E_MEMORY : error != LXW_NO_ERROR ? TRN_E_IO : TRN_OK;
}

static trn_status read_back(FILE *file, trn_buffer *out)
{
    char block[1 << 14];
    for (size_t n; (n = fread(block, 1, sizeof block, file)) > 0;)
        trn_buffer_add_n(out, block, n);
    return ferror(file) ? TRN_E_IO : out->failed ? TRN_E_MEMORY : TRN_OK;
}

/* The library writes by file name only: a file of our own in the temporary folder. */
trn_status trn_workbook(const trn_results *results, const trn_package_file *files, size_t count,
                        trn_buffer *out)
{
    const char *folder = getenv("TMPDIR");
    char path[4096];
    if (!folder || !*folder)
        folder = "/tmp";
    int n = snprintf(path, sizeof path, "%s/trunnion-XXXXXX", folder);
    int fd = n > 0 && (size_t)n < sizeof path ? mkstemp(path) : -1;
    if (fd < 0)
        return TRN_E_IO;
    trn_buffer bytes = {0};
    trn_status status = write_book(results, files, count, path, folder);
    FILE *file = status == TRN_OK ? fopen(path, "rb") : NULL;
    if (status == TRN_OK)
        status = file ? read_back(file, &bytes) : TRN_E_IO;
    if (file)
        (void)fclose(file);
    (void)close(fd);
    (void)unlink(path);
    if (status == TRN_OK)
        trn_buffer_add_n(out, bytes.text, bytes.length);
    if (status == TRN_OK && out->failed)
        status = TRN_E_MEMORY;
    trn_buffer_free(&bytes);
    return status;
}
