/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The result files: fixed names, columns and units; which there are. */
#include <string.h>
#include "views.h"

static const struct {
    const trn_view *views;
    const size_t *count;
} subjects[] = {
    {trn_views_of_setup, &trn_views_of_setup_count},
    {trn_views_of_intervals, &trn_views_of_intervals_count},
};
enum { SUBJECTS = sizeof subjects / sizeof subjects[0] };

size_t trn_view_count(void)
{
    size_t n = 0;
    for (size_t i = 0; i < SUBJECTS; i++)
        n += *subjects[i].count;
    return n;
}

const trn_view *trn_view_at(size_t i)
{
    for (size_t s = 0; s < SUBJECTS; s++) {
        if (i < *subjects[s].count)
            return &subjects[s].views[i];
        i -= *subjects[s].count;
    }
    return NULL;
}

const trn_view *trn_view_find(const char *name)
{
    for (size_t i = 0; i < trn_view_count(); i++)
        if (strcmp(trn_view_at(i)->name, name) == 0)
            return trn_view_at(i);
    return NULL;
}
