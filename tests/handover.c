/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is handed over beside the CSV files: workbook and data package hold what the files hold.
 * The workbook is taken apart by unzip, so that its own writer is no witness. */
#include <criterion/criterion.h>
#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion.h>
#include <trunnion/handover.h>

#include "command.h"
#include "support.h"

/* A report of the small case with hostile texts, in a folder that is printed and kept. */
#define REPORT(more)                                                                     \
    "d=$(mktemp -d) && trunnion report sample-data/small --out \"$d\" --quiet --draws 0 " \
    "--set 'machine.name==HYPERLINK(\"http://x.example\",\"=1+1\")' "                     \
    "--set 'machine.owner=-2+3' --set 'machine.serial=http://x.example' " more

/* derived: Unicode's table of well-formed sequences; XML 1.0 section 2.2 Char */
Test(handover, texts_are_clean)
{
    static const char *const rows[][2] = {
        {"plain", "plain"},
        {"\xc3\xa9 \xe2\x82\xac \xf0\x9f\x98\x80", "\xc3\xa9 \xe2\x82\xac \xf0\x9f\x98\x80"},
        {"a\tb\nc\r\nd", "a\tb\nc\nd"},
        {"a\x01z", "a\xef\xbf\xbdz"},
        {"a\xffz", "a\xef\xbf\xbdz"},
        {"\xc0\xaf", "\xef\xbf\xbd\xef\xbf\xbd"},                         /* overlong */
        {"\xed\xa0\x80", "\xef\xbf\xbd\xef\xbf\xbd\xef\xbf\xbd"},         /* surrogate */
        {"\xf4\x90\x80\x80", "\xef\xbf\xbd\xef\xbf\xbd\xef\xbf\xbd\xef\xbf\xbd"},
        {"\xe2\x82", "\xef\xbf\xbd\xef\xbf\xbd"},                         /* cut off */
        {"\xef\xbf\xbf", "\xef\xbf\xbd\xef\xbf\xbd\xef\xbf\xbd"},         /* U+FFFF */
        {"", ""},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        trn_buffer out = {0};
        trn_text_clean(rows[i][0], 100, &out);
        cr_expect_str_eq(out.text ? out.text : "", rows[i][1], "row %zu: got `%s`", i,
                         out.text ? out.text : "");
        trn_buffer_free(&out);
    }
    trn_buffer cut = {0};
    trn_text_clean("ab\xc3\xa9z", 3, &cut); /* no half character */
    cr_expect_str_eq(cut.text, "ab");
    trn_buffer_free(&cut);
}

/* ---- workbook ------------------------------------------------------------------------------- */

typedef struct strings {
    char **v;
    size_t n;
} strings;

static void undo_entities(char *text)
{
    static const struct {
        const char *name;
        char is;
    } known[] = {{"&amp;", '&'}, {"&lt;", '<'}, {"&gt;", '>'}, {"&quot;", '"'}};
    char *to = text;
    for (const char *p = text; *p; to++) {
        size_t k = 0;
        while (k < 4 && strncmp(p, known[k].name, strlen(known[k].name)) != 0)
            k++;
        *to = k < 4 ? known[k].is : *p;
        p += k < 4 ? strlen(known[k].name) : 1;
    }
    *to = '\0';
}

static char *part(const char *folder, const char *name)
{
    char command[600];
    (void)snprintf(command, sizeof command, "unzip -p '%s/report.xlsx' '%s'", folder, name);
    test_output got = test_command(command);
    cr_assert_eq(got.exit, 0, "%s: %s", command, got.err);
    free(got.err);
    return got.out;
}

static strings shared_strings(const char *folder)
{
    strings s = {0};
    char *xml = part(folder, "xl/sharedStrings.xml");
    for (char *p = xml; (p = strstr(p, "<si>")) != NULL;) {
        char *from = strchr(strstr(p, "<t"), '>') + 1;
        char *end = strstr(from, "</t>");
        char **more = realloc(s.v, (s.n + 1) * sizeof *more);
        cr_assert(more && end);
        s.v = more;
        s.v[s.n] = trn_text_copy_n(from, (size_t)(end - from));
        undo_entities(s.v[s.n++]);
        p = end;
    }
    free(xml);
    return s;
}

/* Text of a cell of a sheet's XML, "" where it is empty. */
static void cell_text(const char *xml, size_t row, size_t column, const strings *s, char *out,
                      size_t size)
{
    char at[32];
    (void)snprintf(at, sizeof at, "<c r=\"%c%zu\"", (char)('A' + column), row + 1);
    const char *cell = strstr(xml, at);
    out[0] = '\0';
    if (!cell)
        return;
    const char *end = strchr(cell, '>');
    if (end[-1] == '/')
        return;
    const char *value = strstr(cell, "<v>");
    cr_assert(value);
    (void)snprintf(out, size, "%.*s", (int)strcspn(value + 3, "<"), value + 3);
    const char *shared = strstr(cell, "t=\"s\"");
    if (shared && shared < end) {
        size_t i = (size_t)strtoul(out, NULL, 10);
        cr_assert_lt(i, s->n);
        (void)snprintf(out, size, "%s", s->v[i]);
    }
}

static void compare_sheet(const char *folder, const char *file, const char *member,
                          const strings *s, size_t rows_at_least)
{
    char path[600];
    static char got[40000];
    trn_faults faults = {0};
    trn_sheet *csv = NULL;
    (void)snprintf(path, sizeof path, "%s/%s", folder, file);
    cr_assert_eq(trn_sheet_read(path, &faults, &csv), TRN_OK, "%s", path);
    cr_assert_geq(csv->rows, rows_at_least);
    char *xml = part(folder, member);
    cr_expect_not(strstr(xml, "<f>") || strstr(xml, "<f "), "%s holds a formula", file);
    cr_expect_not(strstr(xml, "<hyperlink"), "%s holds a link", file);
    for (size_t c = 0; c < csv->columns; c++) {
        cell_text(xml, 0, c, s, got, sizeof got);
        cr_expect_str_eq(got, csv->header[c]);
        for (size_t r = 0; r < csv->rows; r++) {
            const char *want = trn_sheet_cell(csv, r, c);
            cell_text(xml, r + 1, c, s, got, sizeof got);
            double x = 0;
            double y = 0;
            bool number = trn_text_number(want, &x) == TRN_OK && trn_text_number(got, &y) == TRN_OK;
            cr_expect(number ? test_near(x, y, 1e-11) : strcmp(want, got) == 0,
                      "%s row %zu column %s: wanted `%s`, got `%s`", file, r + 1, csv->header[c],
                      want, got);
        }
    }
    free(xml);
    trn_sheet_free(csv);
    trn_faults_free(&faults);
}

static void remove_folder(char *folder)
{
    char command[600];
    (void)snprintf(command, sizeof command, "rm -rf '%s'", folder);
    test_output gone = test_command(command);
    test_output_free(&gone);
}

static char *report_folder(void)
{
    test_output made = test_command(REPORT("&& printf %s \"$d\""));
    cr_assert_eq(made.exit, 0, "%s", made.err);
    free(made.err);
    return made.out;
}

/* derived: cells of the CSV files of the same run */
Test(handover, workbook_holds_what_the_files_hold, .timeout = 120)
{
    char *folder = report_folder();
    strings s = shared_strings(folder);
    compare_sheet(folder, "intervals.csv", "xl/worksheets/sheet1.xml", &s, 7);
    compare_sheet(folder, "plan.csv", "xl/worksheets/sheet2.xml", &s, 7);
    bool name = false;
    for (size_t i = 0; i < s.n; i++) {
        name = name || strcmp(s.v[i], "=HYPERLINK(\"http://x.example\",\"=1+1\")") == 0;
        free(s.v[i]);
    }
    cr_expect(name, "the machine's name is no text of the workbook");
    char *book = part(folder, "xl/workbook.xml");
    cr_expect(strstr(book, "<sheet name=\"intervals\" sheetId=\"1\""));
    cr_expect(strstr(book, "<sheet name=\"plan\" sheetId=\"2\""));
    cr_expect(strstr(book, "<sheet name=\"heat\""));
    cr_expect(strstr(book, "<sheet name=\"inputs\""));
    cr_expect(strstr(book, "<sheet name=\"about\""));
    free(book);
    free(s.v);
    remove_folder(folder);
    free(folder);
}

/* derived: no formula and no link anywhere, whatever the texts begin with */
Test(handover, no_text_becomes_a_formula, .timeout = 120)
{
    test_output got = test_command(
        REPORT("&& unzip -p \"$d/report.xlsx\" 'xl/worksheets/*.xml' >\"$d/all\" && "
               "grep -c '<row' \"$d/all\" && ! grep -E '<f[ >/]|<hyperlink' \"$d/all\" && "
               "rm -rf \"$d\""));
    cr_expect_eq(got.exit, 0, "%s%s", got.out, got.err);
    test_output_free(&got);
}

/* derived: the file's own date follows from the case, never from the clock */
Test(handover, same_input_same_bytes, .timeout = 120)
{
    test_output got = test_command(
        REPORT("&& e=$(mktemp -d) && sleep 2 && trunnion report sample-data/small --out \"$e\" "
               "--quiet --draws 0 --jobs 1 "
               "--set 'machine.name==HYPERLINK(\"http://x.example\",\"=1+1\")' "
               "--set 'machine.owner=-2+3' --set 'machine.serial=http://x.example' && "
               "cmp \"$d/report.xlsx\" \"$e/report.xlsx\" && "
               "cmp \"$d/datapackage.json\" \"$e/datapackage.json\" && rm -rf \"$d\" \"$e\""));
    cr_expect_eq(got.exit, 0, "%s%s", got.out, got.err);
    test_output_free(&got);
}

/* derived: 2024-02-29 follows 2024-02-28; what is no day is 1980-01-01 */
Test(handover, date_of_the_workbook, .timeout = 120)
{
    static const char *const dates[][2] = {{"2024-02-29", "2024-02-29T12:00:00Z"},
                                           {"1999-12-31", "1999-12-31T12:00:00Z"},
                                           {"2024-13-01", "1980-01-01T12:00:00Z"},
                                           {"spring 2024", "1980-01-01T12:00:00Z"}};
    for (size_t i = 0; i < sizeof dates / sizeof dates[0]; i++) {
        char line[600];
        (void)snprintf(line, sizeof line,
                       "trunnion report sample-data/small --out \"$OUT\" --quiet --draws 0 "
                       "--set 'machine.date=%s' && unzip -p \"$OUT/report.xlsx\" docProps/core.xml",
                       dates[i][0]);
        test_output got = test_command(line);
        cr_expect(strstr(got.out, dates[i][1]), "%s: %s%s", dates[i][0], got.out, got.err);
        test_output_free(&got);
    }
}

/* derived: nothing is written where the temporary file finds no room */
Test(handover, no_room_for_the_temporary_file, .timeout = 120)
{
    test_output got = test_command("mkdir \"$OUT/r\" && TMPDIR=/nowhere/at/all trunnion report "
                                   "sample-data/small --out \"$OUT/r\" --draws 0; echo \"$?\"; "
                                   "ls -A \"$OUT/r\"");
    cr_expect_str_eq(got.out, "1\n");
    cr_expect(strstr(got.err, "report.xlsx: no room for its temporary file"), "%s", got.err);
    test_output_free(&got);
}

/* ---- data package --------------------------------------------------------------------------- */

static const char *text_of(const json_t *object, const char *key)
{
    const char *text = json_string_value(json_object_get(object, key));
    return text ? text : "";
}

/* The columns that the file has, in its order, and numbers where numbers are promised. */
static void check_resource(const char *folder, const json_t *resource)
{
    char path[600];
    trn_faults faults = {0};
    trn_sheet *csv = NULL;
    const json_t *fields = json_object_get(json_object_get(resource, "schema"), "fields");
    (void)snprintf(path, sizeof path, "%s/%s", folder, text_of(resource, "path"));
    cr_assert_eq(trn_sheet_read(path, &faults, &csv), TRN_OK, "%s", path);
    cr_expect_eq(json_array_size(fields), csv->columns, "%s", path);
    char *bytes = test_file(path);
    /* the manifest holds the hash of this very file: its size is not said */
    if (strcmp(text_of(resource, "path"), "manifest.csv") == 0)
        cr_expect_null(json_object_get(resource, "bytes"));
    else
        cr_expect_eq((size_t)json_integer_value(json_object_get(resource, "bytes")),
                     strlen(bytes));
    free(bytes);
    for (size_t c = 0; c < csv->columns; c++) {
        const json_t *field = json_array_get(fields, c);
        char *name = NULL;
        char *unit = NULL;
        cr_expect_str_eq(text_of(field, "name"), csv->header[c], "%s", path);
        cr_assert_eq(trn_header_split(csv->header[c], &name, &unit), TRN_OK);
        cr_expect_str_eq(text_of(field, "unit"), unit ? unit : "", "%s %s", path, name);
        bool number = strcmp(text_of(field, "type"), "number") == 0;
        cr_expect(number || strcmp(text_of(field, "type"), "string") == 0);
        cr_expect(number || !unit, "%s %s has a unit and is no number", path, name);
        for (size_t r = 0; number && r < csv->rows; r++) {
            const char *cell = trn_sheet_cell(csv, r, c);
            double x = 0;
            cr_expect(!*cell || strcmp(cell, "inf") == 0 || trn_text_number(cell, &x) == TRN_OK,
                      "%s %s: `%s`", path, name, cell);
        }
        free(name);
        free(unit);
    }
    trn_sheet_free(csv);
    trn_faults_free(&faults);
}

/* published: Data Package and Table Schema specifications, version 1: profile, name, resources;
 * path, schema, fields, type, missingValues */
Test(handover, data_package_describes_the_files, .timeout = 120)
{
    char *folder = report_folder();
    char path[600];
    (void)snprintf(path, sizeof path, "%s/datapackage.json", folder);
    json_error_t error;
    json_t *package = json_load_file(path, JSON_REJECT_DUPLICATES, &error);
    cr_assert(package, "%s: %s", path, error.text);
    cr_expect_str_eq(text_of(package, "profile"), "tabular-data-package");
    cr_expect_str_eq(text_of(package, "name"), "hyperlink-http-x-example-1-1");
    const json_t *resources = json_object_get(package, "resources");
    char count[700];
    (void)snprintf(count, sizeof count, "ls '%s' | grep -v manifest.csv | grep -c '[.]csv$'",
                   folder); /* the manifest has the hash of the description */
    test_output files = test_command(count);
    cr_expect_eq(json_array_size(resources), (size_t)strtoul(files.out, NULL, 10));
    cr_expect_geq(json_array_size(resources), 20);
    test_output_free(&files);
    for (size_t i = 0; i < json_array_size(resources); i++) {
        const json_t *resource = json_array_get(resources, i);
        cr_expect_str_eq(text_of(resource, "profile"), "tabular-data-resource");
        cr_expect_str_eq(text_of(resource, "encoding"), "utf-8");
        check_resource(folder, resource);
    }
    json_decref(package);
    remove_folder(folder);
    free(folder);
}
