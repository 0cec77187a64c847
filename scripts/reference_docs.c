/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes the reference pages into a folder: `reference-docs docs`. */
#include <stdio.h>
#include <trunnion/file.h>
#include <trunnion/reference_docs.h>

int main(int argc, char **argv)
{
    enum { PAGES_MAX = 8 };
    trn_file files[PAGES_MAX];
    trn_buffer text[PAGES_MAX] = {{0}};
    trn_faults faults = {0};
    if (argc != 2 || trn_docs_page_count > PAGES_MAX) {
        (void)fprintf(stderr, "usage: reference-docs DIR\n");
        return 2;
    }
    int code = 0;
    for (size_t i = 0; i < trn_docs_page_count; i++) {
        trn_docs_pages[i].write(&text[i]);
        files[i] = (trn_file){trn_docs_pages[i].file, text[i].text, text[i].length};
        code = code || text[i].failed;
    }
    if (code == 0 && trn_files_write(argv[1], files, trn_docs_page_count, &faults) < 0)
        code = 1;
    for (size_t i = 0; i < faults.kept; i++)
        (void)fprintf(stderr, "%s: %s\n", faults.list[i].file, faults.list[i].text);
    for (size_t i = 0; i < trn_docs_page_count; i++)
        trn_buffer_free(&text[i]);
    trn_faults_free(&faults);
    return code;
}
