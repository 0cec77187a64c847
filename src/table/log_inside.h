/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of the log reader: bytes, blocks of whole rows, cells. */
#ifndef TRUNNION_LOG_INSIDE_H
#define TRUNNION_LOG_INSIDE_H

#include <math.h>
#include <trunnion/log.h>
#include <zlib.h>

#include "reader.h"

enum {
    LOG_HEAD = 65536,         /* bytes that settle the dialect, whatever the size of a block */
    LOG_BLOCK = 256 << 10,
    LOG_CHUNK = 65536,        /* bytes read at a time */
    LOG_ROW_MAX = 4 << 20,    /* beyond it a quote is not closed */
    LOG_SLACK = 64,           /* bytes behind a text that may be looked at */
    LOG_SKIP = 255            /* role of a column that nobody takes */
};

typedef struct log_text {
    char *p;
    size_t size, capacity;
} log_text;

struct trn_log_block {
    log_text text;  /* one byte more than size is there: '\n' */
    size_t line;    /* physical line of its first row */
    bool odd;       /* not all of it is ASCII */
    bool quotes;
};

struct trn_log {
    char *name;
    gzFile file;
    bool ended;
    trn_decoder decoder;
    log_text carry; /* decoded, not handed out yet */
    bool carry_odd;
    size_t line;    /* physical line where the carry begins */
    size_t block;   /* bytes of a block */

    char separator, decimal;
    bool settled;   /* a number of the head holds a decimal sign or a thousands mark */
    char **header;  /* of the file */
    size_t columns, header_line;
    unsigned char *role; /* a channel, TRN_LOG_TIME, TRN_LOG_POSITION or LOG_SKIP */
    size_t column_of[TRN_LOG_CHANNEL_COUNT + 2]; /* SIZE_MAX: not logged */
    double scale[TRN_LOG_CHANNEL_COUNT + 2], offset[TRN_LOG_CHANNEL_COUNT + 2];
    trn_log_clock clock;
    trn_buffer unused;
};

/* ---- log_bytes.c -------------------------------------------------------------------------- */

/* More decoded text at the end of the carry; nothing more at the end of the file. */
trn_status log_fill(trn_log *log, trn_faults *faults);
bool log_reserve(log_text *text, size_t size);
bool log_odd(const char *p, size_t n); /* not all ASCII */
size_t log_newlines(const char *p, size_t n);
/* Bytes up to the last end of a row within `target`, or to the first one behind it; 0: no row
 * ends. A newline within quotes ends none. */
size_t log_cut(const char *p, size_t n, size_t target, bool *quotes);

/* ---- log_cells.c -------------------------------------------------------------------------- */

/* Stamp of a number of `unit` seconds as nanoseconds; plain: as trn_number_plain gives it. */
trn_status log_seconds(const char *plain, double unit_s, int64_t *ns);

/* Why a name cannot be a position of the case; NULL: it can. */
const char *log_position_fault(const char *name, size_t n);

/* One cell, ended by NUL and without outer blanks. False: the row has no stamp. */
bool log_take(const trn_log *log, size_t column, const char *cell, size_t line,
              trn_faults *faults, trn_log_row *sample);

/* Settles columns, units and the kind of clock from the header and the first rows. */
trn_status log_layout(trn_log *log, const trn_log_names *names, const trn_sheet *head,
                      trn_faults *faults);

#endif
