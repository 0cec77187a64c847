/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <trunnion.h>

int main(int argc, char **argv)
{
    trn_faults faults = {0};
    trn_checks checks = {0};
    for (int i = 1; i < argc; i++)
        (void)trn_prove_file(argv[i], &faults, &checks);
    for (size_t i = 0; i < checks.count; i++)
        if (!checks.list[i].pass)
            printf("%s %s %s: computed %s, expected %s\n", checks.list[i].id,
                   checks.list[i].formula, checks.list[i].output, checks.list[i].computed,
                   checks.list[i].expected);
    printf("%zu of %zu\n", checks.passed, checks.count);
    trn_checks_free(&checks);
    trn_faults_free(&faults);
    trn_unit_finish();
    return 0;
}
