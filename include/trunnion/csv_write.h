/* SPDX-License-Identifier: GPL-3.0-or-later */
/* CSV tables out, cell by cell: commas, a point as decimal sign, UTF-8, lines ended by LF. */
#ifndef TRUNNION_CSV_WRITE_H
#define TRUNNION_CSV_WRITE_H

#include <stddef.h>
#include <trunnion/text.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Writes to a buffer of the caller, whose `failed` says in the end whether memory sufficed.
 * Start with {.out = &buffer}. Cells are quoted where RFC 4180 asks for it (comma, quote,
 * newline), and where the table reader would else take a cell for something other: outer
 * blanks, a '#' at the start of a line, a line that holds one empty cell.
 *
 *     trn_buffer out = {0};
 *     trn_csv_writer csv = {.out = &out};
 *     trn_csv_word(&csv, "shaft");
 *     trn_csv_word(&csv, "torque [N.m]");
 *     trn_csv_end(&csv);
 *     trn_csv_text(&csv, name);
 *     trn_csv_number(&csv, 238.5);
 *     trn_csv_end(&csv);
 */
typedef struct trn_csv_writer {
    trn_buffer *out;
    size_t cells; /* of the line at hand */
    bool filled;  /* that line holds more than one empty cell */
} trn_csv_writer;

/* A text that comes from outside. One that begins with = + - @ tab or CR gets an apostrophe
 * before it, so that no spreadsheet runs it as a formula. NULL: an empty cell. */
void trn_csv_text(trn_csv_writer *csv, const char *text);

/* A text of the program itself: a header, a choice such as `+` that must be read back as it is.
 * Quoted where needed, never changed. */
void trn_csv_word(trn_csv_writer *csv, const char *word);

/* A number by trn_text_of_number: never defused; NaN is an empty cell, infinity `inf`. */
void trn_csv_number(trn_csv_writer *csv, double value);

/* An empty cell. */
void trn_csv_blank(trn_csv_writer *csv);

/* Ends the line. */
void trn_csv_end(trn_csv_writer *csv);

#ifdef __cplusplus
}
#endif
#endif
