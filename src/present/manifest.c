/* SPDX-License-Identifier: GPL-3.0-or-later */
/* manifest.csv: files with their SHA-256, and how they were made. */
#include <math.h>
#include <stdio.h>
#include <trunnion.h>
#include <trunnion/csv_write.h>
#include <trunnion/draws.h>
#include <trunnion/page.h>

static void row(trn_csv_writer *csv, const char *kind, const char *name, const char *value)
{
    trn_csv_word(csv, kind);
    trn_csv_text(csv, name);
    trn_csv_text(csv, value);
    trn_csv_end(csv);
}

void trn_manifest_csv(const trn_manifest *manifest, trn_buffer *out)
{
    const trn_page_facts *facts = manifest->facts;
    const trn_draws *draws = facts->results->draws;
    trn_csv_writer csv = {.out = out};
    char text[64];
    row(&csv, "kind", "name", "value");
    row(&csv, "about", "machine", facts->results->machine->head.name);
    row(&csv, "about", "version", TRN_VERSION);
    row(&csv, "about", "command", facts->command);
    (void)snprintf(text, sizeof text, "%zu", draws ? draws->plan.draws : 0);
    row(&csv, "about", "draws", text);
    if (draws) {
        (void)snprintf(text, sizeof text, "%llu", (unsigned long long)draws->plan.seed);
        row(&csv, "about", "seed", text);
        row(&csv, "about", "points", draws->plan.plain ? "plain" : "shifted Sobol");
    }
    row(&csv, "about", "reliability_factor", trn_a1_edition_text);
    for (size_t i = 0; i < facts->file_count; i++)
        row(&csv, "input", facts->files[i].name, facts->files[i].sha256);
    for (size_t i = 0; i < manifest->result_count; i++)
        row(&csv, "result", manifest->results[i].name, manifest->results[i].sha256);
}
