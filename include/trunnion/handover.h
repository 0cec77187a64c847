/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is handed over beside the CSV files of a report: the same tables as a workbook, and a
 * description of the files that other programs read. The same results give the same bytes. */
#ifndef TRUNNION_HANDOVER_H
#define TRUNNION_HANDOVER_H

#include <trunnion/present.h>

#ifdef __cplusplus
extern "C" {
#endif

/* A file of the report: its name, its bytes, and what is known of its columns. */
typedef struct trn_package_file {
    const char *name;     /* `heat.csv` */
    const char *bytes;
    size_t size;
    const trn_view *view; /* NULL: columns are read from the bytes, which csv_write.h wrote */
    bool unsized;         /* no size in the description: the file has the command line in it */
} trn_package_file;

/* Office Open XML workbook: a sheet `intervals`, a sheet `plan`, one for each other CSV file,
 * `about`. Texts are text cells, whatever they begin with: no text becomes a formula or a link.
 * Numbers that are not known are empty cells; inf is a text.
 * Its date is that of machine.csv (`date`, YYYY-MM-DD), else 1980-01-01.
 * Given:    results of trn_study_evaluate; files: what is written beside it, other than `.csv`
 *           left out
 * Returned: bytes added to `out` (with zeros among them: out->length counts)
 * Status:   TRN_E_MEMORY, TRN_E_IO (no room for the temporary file in $TMPDIR or /tmp); nothing
 *           is added then
 * Checked by tests/handover.c */
trn_status trn_workbook(const trn_results *results, const trn_package_file *files, size_t count,
                        trn_buffer *out);

/* `datapackage.json` by the Data Package and Table Schema specifications (version 1): a resource
 * a CSV file, each column with type, unit and heading. Column names are the headers as written,
 * `torque [N.m]`; `unit` holds what is inside the bracket. A column of a file without a view is
 * one of numbers where each filled cell is a number. Other files than `.csv` are left out.
 * Given:    results: for the name of the machine; files: what is written beside it
 * Returned: UTF-8 text added to `out`
 * Status:   TRN_E_MEMORY
 * Source:   specs.frictionlessdata.io (Data Package, Tabular Data Package, Table Schema, CSV
 *           Dialect), published
 * Checked by tests/handover.c */
trn_status trn_data_package(const trn_results *results, const trn_package_file *files,
                            size_t count, trn_buffer *out);

/* Text as XML and JSON may hold it: bytes that are no UTF-8, surrogates and control characters
 * other than tab and newline become U+FFFD; CR LF becomes LF. At most `most` bytes, whole
 * characters.
 * Status: none; out->failed where memory ran out */
void trn_text_clean(const char *text, size_t most, trn_buffer *out);

#ifdef __cplusplus
}
#endif
#endif
