/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <trunnion/hash.h>

#include <nettle/sha2.h>
#include <stdint.h>
#include <stdio.h>

static void finish(struct sha256_ctx *context, char out[TRN_SHA256_TEXT])
{
    uint8_t digest[SHA256_DIGEST_SIZE];
    sha256_digest(context, sizeof digest, digest);
    for (size_t i = 0; i < sizeof digest; i++)
        (void)snprintf(out + 2 * i, 3, "%02x", digest[i]);
}

void trn_sha256(const void *bytes, size_t size, char out[TRN_SHA256_TEXT])
{
    struct sha256_ctx context;
    sha256_init(&context);
    if (size > 0)
        sha256_update(&context, size, bytes);
    finish(&context, out);
}

trn_status trn_sha256_file(const char *path, char out[TRN_SHA256_TEXT])
{
    uint8_t piece[16384];
    struct sha256_ctx context;
    FILE *file = fopen(path, "rb");
    if (!file)
        return TRN_E_IO;
    sha256_init(&context);
    for (size_t n = 0; (n = fread(piece, 1, sizeof piece, file)) > 0;)
        sha256_update(&context, n, piece);
    trn_status status = ferror(file) ? TRN_E_IO : TRN_OK;
    (void)fclose(file);
    if (status == TRN_OK)
        finish(&context, out);
    return status;
}
