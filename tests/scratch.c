/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "scratch.h"

#include <criterion/criterion.h>
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "support.h"

static void join(char path[SCRATCH_PATH], const char *folder, const char *file)
{
    int n = snprintf(path, SCRATCH_PATH, "%s/%s", folder, file);
    cr_assert(n > 0 && n < SCRATCH_PATH);
}

void scratch_make(char folder[SCRATCH_PATH])
{
    const char *root = getenv("TMPDIR");
    join(folder, root && *root ? root : "/tmp", "trunnion-XXXXXX");
    cr_assert_not_null(mkdtemp(folder));
}

void scratch_remove(const char *folder)
{
    DIR *list = opendir(folder);
    cr_assert_not_null(list);
    for (struct dirent *e; (e = readdir(list));) {
        char path[SCRATCH_PATH];
        if (e->d_name[0] == '.')
            continue;
        join(path, folder, e->d_name);
        cr_expect_eq(unlink(path), 0);
    }
    (void)closedir(list);
    cr_expect_eq(rmdir(folder), 0);
}

char *scratch_read(const char *folder, const char *file)
{
    char path[SCRATCH_PATH];
    trn_buffer text = {0};
    char piece[4096];
    size_t n;
    join(path, folder, file);
    FILE *in = fopen(path, "rb");
    if (!in)
        return NULL;
    trn_buffer_add(&text, "");
    while ((n = fread(piece, 1, sizeof piece, in)) > 0)
        trn_buffer_add_n(&text, piece, n);
    (void)fclose(in);
    cr_assert(!text.failed && text.text);
    return text.text;
}

void scratch_write(const char *folder, const char *file, const char *text)
{
    char path[SCRATCH_PATH];
    join(path, folder, file);
    FILE *out = fopen(path, "wb");
    cr_assert_not_null(out);
    cr_assert_geq(fputs(text, out), 0);
    cr_assert_eq(fclose(out), 0);
}

void scratch_copy(const char *folder, const char *from)
{
    char path[SCRATCH_PATH];
    join(path, test_root(), from);
    DIR *list = opendir(path);
    cr_assert_not_null(list, "no folder %s", path);
    for (struct dirent *e; (e = readdir(list));) {
        const char *end = strrchr(e->d_name, '.');
        if (!end || strcmp(end, ".csv") != 0)
            continue;
        char *text = scratch_read(path, e->d_name);
        scratch_write(folder, e->d_name, text);
        free(text);
    }
    (void)closedir(list);
}

void scratch_edit(const char *folder, const char *file, const char *from, const char *to)
{
    char *text = scratch_read(folder, file);
    trn_buffer out = {0};
    size_t found = 0;
    cr_assert_not_null(text, "no %s", file);
    const char *p = text;
    for (const char *q; (q = strstr(p, from)); p = q + strlen(from), found++) {
        trn_buffer_add_n(&out, p, (size_t)(q - p));
        trn_buffer_add(&out, to);
    }
    trn_buffer_add(&out, p);
    cr_assert(found > 0, "%s holds no `%s`", file, from);
    cr_assert(!out.failed);
    scratch_write(folder, file, out.text);
    trn_buffer_free(&out);
    free(text);
}

char *scratch_faults(const trn_faults *faults)
{
    trn_buffer out = {0};
    trn_buffer_add(&out, "");
    for (size_t i = 0; i < faults->kept; i++) {
        trn_fault_text(&faults->list[i], &out);
        trn_buffer_add(&out, "\n");
    }
    if (faults->count > faults->kept)
        trn_buffer_print(&out, "and %zu more\n", faults->count - faults->kept);
    cr_assert(!out.failed);
    return out.text;
}

trn_machine *scratch_case(const char *folder)
{
    trn_faults faults = {0};
    trn_machine *machine = NULL;
    trn_status status = trn_machine_read(folder, &faults, &machine);
    char *text = scratch_faults(&faults);
    cr_assert_eq(status, TRN_OK, "%s: %s", folder, text);
    cr_assert_not_null(machine);
    free(text);
    trn_faults_free(&faults);
    return machine;
}
