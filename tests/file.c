/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files out: all of a set or none of it, and nothing left behind. */
#include <criterion/criterion.h>
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <trunnion/file.h>
#include <unistd.h>

static char root[64];

static void set_up(void)
{
    (void)snprintf(root, sizeof root, "/tmp/trunnion-file-XXXXXX");
    cr_assert_not_null(mkdtemp(root));
}

static void remove_tree(const char *path)
{
    DIR *dir = opendir(path);
    for (struct dirent *d; dir && (d = readdir(dir)) != NULL;) {
        char inner[512];
        (void)snprintf(inner, sizeof inner, "%s/%s", path, d->d_name);
        if (strcmp(d->d_name, ".") == 0 || strcmp(d->d_name, "..") == 0)
            continue;
        if (unlink(inner) != 0)
            remove_tree(inner);
    }
    if (dir)
        (void)closedir(dir);
    (void)rmdir(path);
}

static void tear_down(void) { remove_tree(root); }

static const char *at(const char *name)
{
    static char path[4][512];
    static size_t next;
    char *p = path[next++ % 4];
    (void)snprintf(p, sizeof path[0], "%s/%s", root, name);
    return p;
}

static void expect_content(const char *name, const char *wanted)
{
    char text[256] = "";
    FILE *file = fopen(at(name), "rb");
    cr_assert_not_null(file, "%s is not there", name);
    size_t n = fread(text, 1, sizeof text - 1, file);
    (void)fclose(file);
    text[n] = '\0';
    cr_expect_str_eq(text, wanted, "%s: wanted `%s`, got `%s`", name, wanted, text);
}

static size_t entries(const char *folder)
{
    DIR *dir = opendir(folder);
    size_t n = 0;
    for (struct dirent *d; dir && (d = readdir(dir)) != NULL;)
        n += strcmp(d->d_name, ".") != 0 && strcmp(d->d_name, "..") != 0;
    if (dir)
        (void)closedir(dir);
    return n;
}

static trn_status put(const char *name, const char *text)
{
    trn_faults faults = {0};
    trn_status status = trn_file_write(at(name), text, strlen(text), &faults);
    trn_faults_free(&faults);
    return status;
}

/* The one fault that a call must have left. */
static void expect_fault(trn_faults *faults, const char *path, const char *text)
{
    cr_assert_eq(faults->kept, 1);
    cr_expect_str_eq(faults->list[0].file, path);
    cr_expect_not_null(strstr(faults->list[0].text, text), "`%s`", faults->list[0].text);
    trn_faults_free(faults);
}

TestSuite(file, .init = set_up, .fini = tear_down);

Test(file, folders_are_made)
{
    trn_faults faults = {0};
    cr_expect_eq(trn_folder_make(at("a/b/c"), &faults), TRN_OK);
    cr_expect_eq(trn_folder_make(at("a/b/c/"), &faults), TRN_OK);
    cr_expect_eq(faults.count, 0);
    struct stat s;
    cr_expect(stat(at("a/b/c"), &s) == 0 && S_ISDIR(s.st_mode));
    cr_expect_eq(put("f", "x"), TRN_OK);
    cr_expect_eq(trn_folder_make(at("f"), &faults), TRN_E_IO);
    expect_fault(&faults, at("f"), "the folder cannot be made: Not a directory");
    cr_expect_eq(trn_folder_make(at("f/g"), &faults), TRN_E_IO);
    expect_fault(&faults, at("f"), "Not a directory");
}

Test(file, a_set_is_written)
{
    trn_file files[] = {{"intervals.csv", "a,b\n", 4}, {"empty.csv", "", 0}, {"x.svg", "<svg/>", 6}};
    trn_faults faults = {0};
    cr_expect_eq(trn_files_write(at("out/deep"), files, 3, &faults), TRN_OK);
    expect_content("out/deep/intervals.csv", "a,b\n");
    expect_content("out/deep/empty.csv", "");
    expect_content("out/deep/x.svg", "<svg/>");
    cr_expect_eq(entries(at("out/deep")), 3);
    cr_expect_eq(trn_files_write(at("out/none"), NULL, 0, &faults), TRN_OK);
    cr_expect_eq(faults.count, 0);
}

Test(file, old_files_are_replaced_and_keep_their_permissions)
{
    cr_assert_eq(put("a.csv", "old, longer than the new one"), TRN_OK);
    struct stat s;
    cr_assert_eq(stat(at("a.csv"), &s), 0);
    mode_t mask = umask(0);
    (void)umask(mask);
    cr_expect_eq(s.st_mode & 0777, 0666 & ~mask);
    cr_assert_eq(chmod(at("a.csv"), 0640), 0);
    cr_assert_eq(put("a.csv", "new"), TRN_OK);
    expect_content("a.csv", "new");
    cr_assert_eq(stat(at("a.csv"), &s), 0);
    cr_expect_eq(s.st_mode & 0777, 0640);
}

Test(file, links_are_replaced_not_followed)
{
    cr_assert_eq(put("target.csv", "untouched"), TRN_OK);
    cr_assert_eq(symlink(at("target.csv"), at("link.csv")), 0);
    cr_assert_eq(put("link.csv", "new"), TRN_OK);
    expect_content("target.csv", "untouched");
    expect_content("link.csv", "new");
}

Test(file, a_folder_in_the_way_stops_all_of_the_set)
{
    cr_assert_eq(put("a.csv", "old"), TRN_OK);
    cr_assert_eq(mkdir(at("b.csv"), 0777), 0);
    trn_file files[] = {{"a.csv", "new", 3}, {"b.csv", "new", 3}};
    trn_faults faults = {0};
    cr_expect_eq(trn_files_write(root, files, 2, &faults), TRN_E_IO);
    expect_fault(&faults, at("b.csv"), "the file cannot be written: Is a directory");
    expect_content("a.csv", "old");
    cr_expect_eq(entries(root), 2);
}

Test(file, names_that_are_refused)
{
    static const char *const names[] = {"", ".", "..", "a/b", "../a"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        trn_file file = {names[i], "x", 1};
        trn_faults faults = {0};
        cr_expect_eq(trn_files_write(root, &file, 1, &faults), TRN_E_IO, "`%s`", names[i]);
        cr_expect_eq(faults.count, 1);
        trn_faults_free(&faults);
    }
    trn_file twice[] = {{"a", "x", 1}, {"a", "y", 1}};
    trn_faults faults = {0};
    cr_expect_eq(trn_files_write(root, twice, 2, &faults), TRN_E_IO);
    trn_faults_free(&faults);
    cr_expect_eq(entries(root), 0);
}

/* The second file does not fit (a limit on the size of files stands for a full disk): the first
 * stays as it was, and no temporary is left. */
Test(file, a_full_disk_leaves_the_old_set)
{
    cr_assert_eq(put("a.csv", "old"), TRN_OK);
    char *large = calloc(1, 200000);
    cr_assert_not_null(large);
    (void)signal(SIGXFSZ, SIG_IGN);
    struct rlimit before;
    cr_assert_eq(getrlimit(RLIMIT_FSIZE, &before), 0);
    struct rlimit small = {100000, before.rlim_max};
    cr_assert_eq(setrlimit(RLIMIT_FSIZE, &small), 0);
    trn_file files[] = {{"a.csv", "new", 3}, {"b.csv", large, 200000}, {"c.csv", "new", 3}};
    trn_faults faults = {0};
    cr_expect_eq(trn_files_write(root, files, 3, &faults), TRN_E_IO);
    cr_assert_eq(setrlimit(RLIMIT_FSIZE, &before), 0);
    free(large);
    expect_fault(&faults, at("b.csv"), "the file cannot be written: File too large");
    expect_content("a.csv", "old");
    cr_expect_eq(entries(root), 1);
}

Test(file, a_folder_that_is_not_there)
{
    trn_faults faults = {0};
    cr_expect_eq(trn_file_write(at("no/a.csv"), "x", 1, &faults), TRN_E_IO);
    expect_fault(&faults, at("no"), "the folder cannot be opened: No such file or directory");
    cr_expect_eq(trn_files_write("", NULL, 0, &faults), TRN_E_IO);
    trn_faults_free(&faults);
}

Test(file, a_plain_name_goes_to_the_current_folder)
{
    char here[512];
    cr_assert_not_null(getcwd(here, sizeof here));
    cr_assert_eq(chdir(root), 0);
    trn_faults faults = {0};
    cr_expect_eq(trn_file_write("plain.csv", "x", 1, &faults), TRN_OK);
    cr_expect_eq(mkdir("d", 0777), 0);
    cr_expect_eq(trn_file_write("d", "x", 1, &faults), TRN_E_IO);
    expect_fault(&faults, "d", "Is a directory");
    cr_assert_eq(chdir(here), 0);
    expect_content("plain.csv", "x");
}

Test(file, leftovers_of_a_killed_run_do_not_stop_the_next)
{
    char name[64];
    (void)snprintf(name, sizeof name, ".trunnion-%ld-0-0.tmp", (long)getpid());
    int fd = open(at(name), O_WRONLY | O_CREAT, 0600);
    cr_assert_geq(fd, 0);
    (void)close(fd);
    cr_expect_eq(put("a.csv", "new"), TRN_OK);
    expect_content("a.csv", "new");
    expect_content(name, "");
}
