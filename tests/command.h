/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The program under test, run by command lines, and what it prints compared with what is wanted. */
#ifndef TRUNNION_TEST_COMMAND_H
#define TRUNNION_TEST_COMMAND_H

#include <stdbool.h>
#include <stddef.h>

/* exit is the code, 128 + the signal that ended it, or -1 where nothing could be run. */
typedef struct test_output {
    int exit;
    char *out, *err;
} test_output;

/* Runs a line by sh in the project's folder (the one above test_root()), with an empty standard
 * input. `trunnion` in it is the program of this build, or that of the environment variable
 * TRUNNION; $OUT is a folder of the line's own, gone afterwards. Two minutes of processor time. */
test_output test_command(const char *line);
void test_output_free(test_output *output);

/* Alike: characters as they are, numbers within a millionth (or both below 1e-12), blanks at the
 * end ignored. A number begins where no letter, digit or underscore stands before it. */
bool test_same_line(const char *want, const char *got);

/* Alike line by line; a wanted line `...` stands for any lines, also none. Where they are not,
 * *why says which line, wanted and got. */
bool test_same_text(const char *want, const char *got, char *why, size_t size);

/* Whole file, ended by '\0'; NULL where it cannot be read. */
char *test_file(const char *path);

/* Place of a command: a file under the project's folder and the line of its `$`. No pointers,
 * since a test runs in a process of its own. */
typedef struct test_place {
    char file[200];
    size_t line;
} test_place;

/* Commands of all files that a pattern names (as the shell would, relative to the project's
 * folder), found by `next`: from text and the place of the one before (line 0: none) to the line
 * number of the next, 0 behind the last. The list is the caller's (criterion's memory). */
typedef size_t (*test_next)(const char *text, size_t line);
size_t test_places(const char *const *patterns, size_t count, test_next next, test_place **list);

/* Text of a place's file; fails the test where it cannot be read. */
char *test_place_text(const test_place *place);

#endif
