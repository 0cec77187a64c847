/* SPDX-License-Identifier: GPL-3.0-or-later */
/* SHA-256, as text. */
#ifndef TRUNNION_HASH_H
#define TRUNNION_HASH_H

#include <stddef.h>
#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

enum { TRN_SHA256_TEXT = 65 }; /* 64 hexadecimal digits and the end */

/* Of bytes in memory; as sha256sum prints it. */
void trn_sha256(const void *bytes, size_t size, char out[TRN_SHA256_TEXT]);

/* Of a file, read in pieces.
 * Status: TRN_E_IO, out is then untouched */
trn_status trn_sha256_file(const char *path, char out[TRN_SHA256_TEXT]);

#ifdef __cplusplus
}
#endif
#endif
