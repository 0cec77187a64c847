/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files out: a full disk or a kill leaves the old file or the new one, never half of one. */
#ifndef TRUNNION_FILE_H
#define TRUNNION_FILE_H

#include <stddef.h>
#include <trunnion/status.h>
#include <trunnion/table.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Content of one file; name without a slash, each name once in a set. */
typedef struct trn_file {
    const char *name;
    const void *bytes;
    size_t size;
} trn_file;

/* Makes a folder and those above it that are missing; one that is there is fine.
 * Status: TRN_E_IO, a fault gives path and reason. */
trn_status trn_folder_make(const char *path, trn_faults *faults);

/* Writes a set of files into a folder, which is made if it is missing.
 * Each goes to a temporary name in the same folder and to the disk; only when all are there are
 * they renamed. Files of these names are replaced and keep their permissions; a symbolic link
 * of such a name is replaced, not followed.
 * Status: TRN_E_IO, a fault gives path and reason, the temporaries are removed. Where a rename
 *         fails (rare: names that are folders are found before) the files before it are new, the
 *         others old, each of them whole; the fault says so. TRN_E_MEMORY. */
trn_status trn_files_write(const char *folder, const trn_file *files, size_t count,
                           trn_faults *faults);

/* One file, same rules; the folder must be there.
 * Status: TRN_E_IO, TRN_E_MEMORY */
trn_status trn_file_write(const char *path, const void *bytes, size_t size, trn_faults *faults);

#ifdef __cplusplus
}
#endif
#endif
