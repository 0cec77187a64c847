/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cases that a test writes: a folder of its own, tables copied into it and changed. */
#ifndef TRUNNION_TEST_SCRATCH_H
#define TRUNNION_TEST_SCRATCH_H

#include <trunnion/machine.h>

enum { SCRATCH_PATH = 512 };

/* A new empty folder below TMPDIR or /tmp, and its removal with all tables in it. */
void scratch_make(char folder[SCRATCH_PATH]);
void scratch_remove(const char *folder);

/* Copies the tables (*.csv) of a folder below tests/. */
void scratch_copy(const char *folder, const char *from);
void scratch_write(const char *folder, const char *file, const char *text);
/* Text of a file, NULL where it is not there. */
char *scratch_read(const char *folder, const char *file);
/* Puts `to` for every `from` in a file; at least one must be there. */
void scratch_edit(const char *folder, const char *file, const char *from, const char *to);

/* Reads a case that must be good. */
trn_machine *scratch_case(const char *folder);
/* All faults, one a line, as the program prints them. */
char *scratch_faults(const trn_faults *faults);

#endif
