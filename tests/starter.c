/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The starter case: whole, clean, and it computes. */
#include <criterion/criterion.h>
#include <dirent.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/file.h>
#include <trunnion/formula.h>
#include <trunnion/interval_rows.h>
#include <trunnion/schema.h>
#include <trunnion/starter.h>
#include <trunnion/study.h>
#include <unistd.h>

static char root[64];

static size_t entries(const char *path)
{
    size_t n = 0;
    DIR *dir = opendir(path);
    for (struct dirent *d; dir && (d = readdir(dir)) != NULL;)
        n += d->d_name[0] != '.';
    if (dir)
        (void)closedir(dir);
    return n;
}

static void empty(const char *path)
{
    DIR *dir = opendir(path);
    for (struct dirent *d; dir && (d = readdir(dir)) != NULL;) {
        char inner[512];
        (void)snprintf(inner, sizeof inner, "%s/%s", path, d->d_name);
        (void)unlink(inner);
    }
    if (dir)
        (void)closedir(dir);
}

static void set_up(void)
{
    (void)snprintf(root, sizeof root, "/tmp/trunnion-starter-XXXXXX");
    cr_assert_not_null(mkdtemp(root));
}

static void tear_down(void)
{
    empty(root);
    (void)rmdir(root);
}

static const trn_table *table_of(size_t i)
{
    return i == 0 ? trn_table_head() : trn_table_at(i - 1);
}

static void path_of(const char *table, char *out, size_t size)
{
    (void)snprintf(out, size, "%s/%s.csv", root, table);
}

static char *read_file(const char *table)
{
    char path[256];
    path_of(table, path, sizeof path);
    FILE *file = fopen(path, "rb");
    cr_assert_not_null(file, "%s", path);
    char *text = calloc(1, 65536);
    cr_assert_not_null(text);
    cr_assert_lt(fread(text, 1, 65535, file), 65535);
    (void)fclose(file);
    return text;
}

static trn_machine *read_case(void)
{
    trn_faults faults = {0};
    trn_machine *machine = NULL;
    trn_status status = trn_machine_read(root, &faults, &machine);
    for (size_t i = 0; i < faults.kept; i++)
        cr_expect(false, "%s:%zu %s: %s", faults.list[i].file, faults.list[i].line,
                  faults.list[i].column ? faults.list[i].column : "", faults.list[i].text);
    cr_assert_eq(status, TRN_OK);
    trn_faults_free(&faults);
    return machine;
}

static void make(void)
{
    trn_faults faults = {0};
    cr_assert_eq(trn_machine_new(root, &faults), TRN_OK);
    cr_assert_eq(faults.count, 0);
}

TestSuite(starter, .init = set_up, .fini = tear_down);

Test(starter, writes_every_table_with_every_column_explained)
{
    make();
    cr_assert_eq(entries(root), trn_table_count() + 1);
    for (size_t i = 0; i <= trn_table_count(); i++) {
        const trn_table *table = table_of(i);
        char *text = read_file(table->name);
        for (size_t c = 0; c < table->column_count; c++) {
            trn_buffer header = {0};
            trn_buffer line = {0};
            trn_column_header(&table->columns[c], &header);
            trn_buffer_print(&line, "#   %s ", header.text);
            cr_expect_not_null(strstr(text, line.text), "%s explains no %s", table->name,
                               header.text);
            trn_buffer_free(&line);
            trn_buffer_print(&line, "%s%s,", i == 0 ? "\n" : "", i == 0 ? table->columns[c].name
                                                                        : header.text);
            cr_expect(c + 1 == table->column_count || strstr(text, line.text),
                      "%s has no place for %s", table->name, header.text);
            trn_buffer_free(&line);
            trn_buffer_free(&header);
        }
        for (const char *p = text; *p; p += strcspn(p, "\n") + 1)
            cr_expect(*p != '#' || p[1] != ' ' || strcspn(p, "\n") <= 100, "%s: %.120s",
                      table->name, p);
        free(text);
    }
}

Test(starter, reads_without_a_fault_and_is_the_small_machine)
{
    make();
    trn_machine *m = read_case();
    cr_expect_eq(m->shafts_count, 1);
    cr_expect_eq(m->gearboxes_count, 1);
    cr_expect_eq(m->axles_count, 2);
    cr_expect_eq(m->gears_count, 2);
    cr_expect_eq(m->bearings_count, 4);
    cr_expect_eq(m->duty_count, 2);
    cr_expect_eq(m->points_count, 7);
    cr_expect_float_eq(m->head.pto_speed, 540 * 3.14159265358979323846 / 30, 1e-9);
    /* evidence changes results: its example rows do not act */
    cr_expect_eq(m->samples_count + m->lives_count + m->uncertainty_count + m->scenarios_count +
                     m->failure_count + m->readings_count,
                 0);
    trn_machine_free(m);
}

Test(starter, computes_all_that_the_program_can)
{
    make();
    trn_machine *m = read_case();
    trn_results *r = trn_results_new(m);
    cr_assert_not_null(r);
    cr_assert_eq(trn_study_evaluate(m, TRN_WANT_ALL, r, NULL), TRN_OK);
    for (size_t i = 0; i < m->duty_count * m->shafts_count; i++) {
        cr_expect(r->joints[i].life_in_h > 0, "joint row %zu", i);
        cr_expect(r->joints[i].ripple_nm >= 0, "joint row %zu", i);
        cr_expect(r->joints[i].clearance_mm > 50, "joint row %zu", i);
    }
    for (size_t i = 0; i < m->duty_count * m->gearboxes_count; i++)
        cr_expect(r->heat[i].oil_temperature_c > 25 && r->heat[i].oil_temperature_c < 95,
                  "oil at %g degC", r->heat[i].oil_temperature_c);
    for (size_t i = 0; i < (m->duty_count + 1) * m->bearings_count; i++)
        cr_expect(r->bearings[i].lnmh_h > 1000, "life %zu is %g h", i, r->bearings[i].lnmh_h);
    for (size_t i = 0; i < m->points_count; i++)
        cr_expect(r->points[i].recommended_h > 0 &&
                      r->points[i].recommended_h <= m->points[i].manual_interval,
                  "point %zu: %g h", i, r->points[i].recommended_h);
    trn_results_free(r);
    trn_machine_free(m);
}

static void scenarios_apply(const trn_machine *m)
{
    static const char *const names[] = {"low oil", "overload"};
    for (size_t i = 0; i < 2; i++) {
        trn_faults faults = {0};
        trn_machine *copy = trn_machine_copy(m);
        cr_assert_not_null(copy);
        cr_expect_eq(trn_machine_scenario(copy, names[i], &faults), TRN_OK, "%s", names[i]);
        cr_expect_eq(trn_machine_link(copy, &faults), TRN_OK, "%s", names[i]);
        trn_faults_free(&faults);
        trn_machine_free(copy);
    }
}

/* The rows behind a # are right too: with the # taken away the case still reads. */
Test(starter, examples_of_evidence_are_right)
{
    make();
    for (size_t i = 0; i < trn_table_count(); i++) {
        const trn_table *table = trn_table_at(i);
        char *text = read_file(table->name);
        trn_buffer bare = {0};
        for (const char *p = text; *p;) {
            size_t n = strcspn(p, "\n") + 1;
            size_t skip = *p == '#' && p[1] != ' ' && p[1] != '\n';
            trn_buffer_add_n(&bare, p + skip, n - skip);
            p += n;
        }
        char path[256];
        path_of(table->name, path, sizeof path);
        trn_faults faults = {0};
        cr_assert_eq(trn_file_write(path, bare.text, bare.length, &faults), TRN_OK);
        trn_buffer_free(&bare);
        free(text);
    }
    trn_machine *m = read_case();
    for (size_t i = 0; i < trn_table_count(); i++)
        cr_expect_gt(trn_table_rows(m, trn_table_at(i)), 0, "%s has no example",
                     trn_table_at(i)->name);
    scenarios_apply(m);
    trn_machine_free(m);
}

/* ---- --for --------------------------------------------------------------------------------- */

static void make_for(trn_starter starter)
{
    trn_faults faults = {0};
    cr_assert_eq(trn_starter_write(root, starter, NULL, 0, &faults), TRN_OK);
}

/* common practice, no source: the tables that each question cannot do without, by the issue */
static const struct {
    trn_starter starter;
    const char *tables;
} wanted[] = {
    {TRN_STARTER_INTERVALS, "machine points duty"},
    {TRN_STARTER_SHAFTS, "machine shafts positions geometry points duty"},
    {TRN_STARTER_HEAT, "machine shafts gearboxes axles gears bearings oils points duty readings"},
    {TRN_STARTER_BEARINGS,
     "machine shafts positions gearboxes axles gears bearings oils points duty readings"},
    {TRN_STARTER_REVIEW, "machine shafts positions gearboxes axles gears bearings oils points duty "
                         "lives scenarios failure"},
};

Test(starter, a_question_has_its_tables_and_no_others)
{
    for (size_t k = 0; k < sizeof wanted / sizeof wanted[0]; k++) {
        size_t n = 0;
        make_for(wanted[k].starter);
        for (const char *p = wanted[k].tables; *p;) {
            char path[256];
            char table[32];
            size_t length = strcspn(p, " ");
            (void)snprintf(table, sizeof table, "%.*s", (int)length, p);
            path_of(table, path, sizeof path);
            cr_expect_eq(access(path, R_OK), 0, "%s lacks %s",
                         trn_starter_word(wanted[k].starter), table);
            p += length + (p[length] == ' ');
            n++;
        }
        cr_expect_eq(entries(root), n, "%s", trn_starter_word(wanted[k].starter));
        empty(root);
    }
}

/* derived: a case reads, and what it was made for is there in numbers */
Test(starter, each_question_gets_its_answer)
{
    for (size_t k = 0; k < sizeof wanted / sizeof wanted[0]; k++) {
        trn_starter starter = wanted[k].starter;
        make_for(starter);
        trn_machine *m = read_case();
        trn_results *r = trn_results_new(m);
        cr_assert(r && trn_study_evaluate(m, TRN_WANT_ALL, r, NULL) == TRN_OK);
        for (size_t i = 0; starter == TRN_STARTER_INTERVALS && i < m->points_count; i++)
            cr_expect(r->points[i].recommended_h > 0, "%s", m->points[i].point);
        for (size_t i = 0; starter == TRN_STARTER_SHAFTS && i < m->duty_count; i++)
            cr_expect(r->joints[i].life_in_h > 0 && r->joints[i].clearance_mm > 0);
        for (size_t i = 0; starter == TRN_STARTER_HEAT && i < m->duty_count; i++)
            cr_expect(r->heat[i].oil_temperature_c > 25);
        for (size_t i = 0; starter >= TRN_STARTER_BEARINGS && i < m->bearings_count; i++)
            cr_expect(r->bearings[i].lnmh_h > 0);
        if (starter == TRN_STARTER_REVIEW) {
            cr_expect_gt(m->failure_count, 0);
            cr_expect_gt(m->scenarios_count, 0);
            scenarios_apply(m);
        }
        trn_results_free(r);
        trn_machine_free(m);
        empty(root);
    }
}

/* The measured temperature of the three tables shortens the oil's interval: it acts. */
Test(starter, three_tables_use_the_temperature_that_was_read)
{
    make_for(TRN_STARTER_INTERVALS);
    trn_machine *m = read_case();
    for (size_t i = 0; i < m->duty_count; i++)
        cr_expect(m->duty[i].oil_temperature > 300, "K");
    trn_machine_free(m);
}

/* Every row that acts is marked, so that nobody takes it for a measured one. */
Test(starter, rows_are_marked_as_examples)
{
    for (size_t k = 0; k < TRN_STARTERS; k++) {
        make_for((trn_starter)k);
        for (size_t i = 0; i <= trn_table_count(); i++) {
            if (!trn_starter_has((trn_starter)k, table_of(i)->name))
                continue;
            char *text = read_file(table_of(i)->name);
            bool header = true;
            for (char *p = text; *p; p += strcspn(p, "\n") + 1) {
                size_t n = strcspn(p, "\n");
                if (*p == '#')
                    continue;
                char line[1000];
                (void)snprintf(line, sizeof line, "%.*s", (int)n, p);
                bool blank = i == 0 && strstr(line, ",,") != NULL;
                cr_expect(header || blank || strstr(line, trn_starter_mark), "%s: %s",
                          table_of(i)->name, line);
                header = false;
            }
            free(text);
        }
        empty(root);
    }
}

Test(starter, words_of_the_questions)
{
    trn_starter starter = TRN_STARTER_HEAT;
    for (size_t k = 0; k < TRN_STARTERS; k++) {
        cr_expect_eq(trn_starter_find(trn_starter_word((trn_starter)k), &starter), TRN_OK);
        cr_expect_eq(starter, k);
    }
    cr_expect_eq(trn_starter_find("everything", &starter), TRN_E_UNKNOWN);
    cr_expect_eq(starter, TRN_STARTERS - 1, "untouched");
}

Test(starter, a_file_beside_the_tables_is_not_overwritten)
{
    char path[256];
    trn_faults faults = {0};
    trn_file sheet = {"sheet.html", "new", 3};
    (void)snprintf(path, sizeof path, "%s/sheet.html", root);
    cr_assert_eq(trn_file_write(path, "mine", 4, &faults), TRN_OK);
    cr_expect_eq(trn_starter_write(root, TRN_STARTER_INTERVALS, &sheet, 1, &faults), TRN_E_INPUT);
    cr_expect_eq(entries(root), 1);
    trn_faults_free(&faults);
    empty(root);
    cr_expect_eq(trn_starter_write(root, TRN_STARTER_INTERVALS, &sheet, 1, &faults), TRN_OK);
    cr_expect_eq(entries(root), 4);
}

Test(starter, refuses_a_folder_that_holds_any_of_the_tables)
{
    for (size_t i = 0; i <= trn_table_count(); i++) {
        char path[256];
        trn_faults faults = {0};
        path_of(table_of(i)->name, path, sizeof path);
        cr_assert_eq(trn_file_write(path, "mine", 4, &faults), TRN_OK);
        cr_expect_eq(trn_machine_new(root, &faults), TRN_E_INPUT, "%s", path);
        cr_assert_eq(faults.count, 1);
        cr_expect_str_eq(faults.list[0].file, path);
        cr_expect_eq(entries(root), 1, "something was written beside %s", path);
        char *text = read_file(table_of(i)->name);
        cr_expect_str_eq(text, "mine");
        free(text);
        trn_faults_free(&faults);
        empty(root);
    }
}

Test(starter, refuses_a_link_that_leads_nowhere)
{
    char path[256];
    trn_faults faults = {0};
    path_of("duty", path, sizeof path);
    cr_assert_eq(symlink("/nonexistent/duty.csv", path), 0);
    cr_expect_eq(trn_machine_new(root, &faults), TRN_E_INPUT);
    cr_expect_eq(entries(root), 1);
    trn_faults_free(&faults);
}

Test(starter, other_files_of_the_folder_stay)
{
    char path[256];
    trn_faults faults = {0};
    path_of("my_notes", path, sizeof path);
    cr_assert_eq(trn_file_write(path, "mine", 4, &faults), TRN_OK);
    make();
    char *text = read_file("my_notes");
    cr_expect_str_eq(text, "mine");
    free(text);
}

Test(starter, a_file_in_place_of_the_folder_is_a_fault)
{
    char path[256];
    trn_faults faults = {0};
    path_of("folder", path, sizeof path);
    cr_assert_eq(trn_file_write(path, "x", 1, &faults), TRN_OK);
    cr_expect_eq(trn_machine_new(path, &faults), TRN_E_IO);
    cr_expect_geq(faults.count, 1);
    cr_expect_eq(entries(root), 1);
    trn_faults_free(&faults);
}

Test(starter, ranges_in_words)
{
    static const char *const rows[][2] = {
        {"[0,100]", "0 to 100"},
        {"[0,90)", "0 to below 90"},
        {"(0,500]", "above 0, up to 500"},
        {"(-90,90)", "above -90, below 90"},
        {"(0,inf)", "above 0"},
        {"[1,inf)", "1 or more"},
        {"(-inf,5]", "up to 5"},
        {"(-inf,5)", "below 5"},
        {"(-inf,inf)", "any"},
        {"[0,1e5]", "0 to 100000"},
        {"[1e-3,2]", "1e-3 to 2"},
        {"", ""},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        trn_buffer words = {0};
        trn_range_words(rows[i][0], &words);
        cr_expect_str_eq(words.text ? words.text : "", rows[i][1], "%s", rows[i][0]);
        trn_buffer_free(&words);
    }
    trn_buffer none = {0};
    trn_range_words(NULL, &none);
    cr_expect_null(none.text);
}
