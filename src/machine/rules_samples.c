/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Oil samples that contradict each other. */
#include <math.h>
#include <string.h>

#include "rules.h"

/* The sample of the same gearbox before this one, or at the same hour and higher up in the table;
 * `logged`: the last one whose oil hours are known. */
static const trn_sample *before(const trn_machine *m, size_t at, bool logged)
{
    const trn_sample *s = &m->samples[at];
    const trn_sample *found = NULL;
    for (size_t i = 0; i < m->samples_count; i++) {
        const trn_sample *other = &m->samples[i];
        bool earlier = other->machine_hours < s->machine_hours ||
                       (other->machine_hours <= s->machine_hours && i < at);
        if (i == at || !earlier || (logged && isnan(other->oil_hours)) ||
            strcmp(other->gearbox, s->gearbox) != 0)
            continue;
        if (!found || other->machine_hours >= found->machine_hours)
            found = other;
    }
    return found;
}

void trn_rules_samples(const trn_machine *m, trn_faults *faults)
{
    for (size_t i = 0; i < m->samples_count; i++) {
        const trn_sample *s = &m->samples[i];
        const trn_sample *last = before(m, i, false);
        const trn_sample *logged = before(m, i, true);
        double slack = TRN_METERS_AGREE_H + 1e-9 * s->machine_hours;
        if (last && !(s->machine_hours > last->machine_hours)) {
            trn_fault_add(faults, "samples.csv", s->row.line, "machine_hours [h]",
                          "a sample of `%s` at %.10g h stands in line %zu already; one sample at "
                          "a time",
                          s->gearbox, s->machine_hours, last->row.line);
            continue;
        }
        double birth = s->machine_hours - s->oil_hours;
        if (logged && birth < logged->machine_hours - logged->oil_hours - slack)
            trn_fault_add(faults, "samples.csv", s->row.line, "oil_hours [h]",
                          "the oil is older than it can be: it was filled at %.10g machine hours, "
                          "and at %.10g by line %zu",
                          birth, logged->machine_hours - logged->oil_hours, logged->row.line);
    }
}
