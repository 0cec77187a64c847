/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The log reader: rows of blocks split directly against those of the library's parser, in blocks
 * of every length; stamps; faults. */
#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/log.h>
#include <unistd.h>
#include <zlib.h>

#include "scratch.h"

/* ---- rows as text, to be compared ---------------------------------------------------------- */

static void on_row(void *context, const trn_log_row *row)
{
    trn_buffer *out = context;
    trn_buffer_print(out, "%zu %lld `%.*s` %u", row->line, (long long)row->ns,
                     (int)row->position_length, row->position, row->bad);
    for (size_t k = 0; k < TRN_LOG_CHANNEL_COUNT; k++) {
        if (isnan(row->value[k]))
            trn_buffer_add(out, " -");
        else
            trn_buffer_print(out, " %a", row->value[k]); /* every bit of it */
    }
    trn_buffer_add(out, "\n");
}

static size_t direct_blocks; /* of the last reading */

/* Rows, lost rows, faults and status of a file, one text. */
static char *events(const char *path, size_t size, bool plain)
{
    trn_buffer out = {0};
    trn_faults faults = {0};
    trn_log *log = NULL;
    size_t lost = 0;
    bool more = true;
    direct_blocks = 0;
    trn_status status = trn_log_open(path, NULL, size, &faults, &log);
    trn_log_block *block = trn_log_block_new();
    while (status == TRN_OK && more) {
        status = trn_log_next(log, block, &faults, &more);
        if (status == TRN_OK && more) {
            direct_blocks += plain && trn_log_block_plain(block);
            status = trn_log_rows(log, block, plain, &faults, &lost, on_row, &out);
        }
    }
    trn_buffer_print(&out, "status %d, lost %zu\n", (int)status, lost);
    char *list = scratch_faults(&faults);
    trn_buffer_add(&out, list);
    free(list);
    trn_log_block_free(block);
    trn_log_close(log);
    trn_faults_free(&faults);
    return out.text;
}

static const char *const logs[] = {
    /* plain */
    "time,pto_speed [rpm],torque [N.m]\n2026-05-01T06:30:00,540,300.5\n"
    "2026-05-01T06:30:01,541.25,-12\n2026-05-01T06:31:59.125,0,0\n",
    /* no newline at the end, blank lines, comments, blank cells, fewer cells, trailing commas */
    "# title\n\ntime,pto_speed [rpm],torque [N.m],x,position\n"
    "2026-05-01T06:30:00,540,,7,\n# no row\n  # nor this\n,,,,\n\n2026-05-01T06:30:01,540\n"
    "2026-05-01T06:30:02,540,300,,field,,\n#2026-05-01T06:30:02,540,300\n"
    "2026-05-01T06:30:03,540,300,#,turn",
    /* quotes, newlines in them, a quoted comment sign */
    "time,note,pto_speed [rpm],torque [N.m]\n2026-05-01T06:30:00,\"a, \"\"b\"\"\",540,300\n"
    "2026-05-01T06:30:01,\"two\nlines\n# three\",540,300\n2026-05-01T06:30:02,,\"540\",\"1,200.5\"\n"
    "# a \" in a comment\n2026-05-01T06:30:03,\"\",540,300\n",
    /* faulty cells of every kind */
    "time,pto_speed [rpm],torque [N.m],position\n2026-05-01T06:30:00,54O,300,a\n"
    "yesterday,540,300,a\n,540,300,a\n2026-05-01T06:30:02,5.4.0,1e3,a.b\n"
    "2026-05-01T06:30:03Z,540,300,a\n2026-05-01T06:30:04,540,300,a,b,c\n"
    "2026-05-01T06:30:05,0x10,nan,all\n2026-05-01T06:30:06, 540 ,\t300\t, a b \n",
    /* numbers that take the long way */
    "time,pto_speed [rpm],torque [N.m]\n1,+5,1e2\n2,.5,5.\n3,-.25,-0\n4,1234567890123456789012,"
    "0.1234567890123456789\n5,9007199254740993,9007199254740992\n6,0.30000000000000004,1'234.5\n"
    "7,123456789012345678,0.000000000000000001\n8.5,1E-2,-\n",
    /* semicolons and decimal commas, CRLF, byte-order mark */
    "\xEF\xBB\xBFtime;pto_speed [rpm];torque [kN.m];oil_temperature [\xC2\xB0"
    "C]\r\n2026-05-01 06:30:00;540,5;0,3005;40,5\r\n2026-05-01 06:30:01,5;540;1.234,5;41\r\n\r\n"
    "2026-05-01 06:30:02;\xE2\x88\x92" "1;1;1\r\n",
    /* tabs, lone CR, other units, power */
    "time [min]\tpto_speed [rad/s]\tpower [hp]\r0\t56.5\t30\r0.5\t56.5\t30.5\r1.25\t\t\r",
    /* offsets */
    "time,pto_speed [rpm],torque [N.m]\n2026-05-01T06:30:59.5+02:00,540,1\n"
    "2026-05-01T06:30:59.75+02:00,540,2\n2026-05-01T06:31:00+02:00,540,3\n"
    "2026-05-01T06:30:58.25+0130,540,3\n20260501T063101Z,540,4\n2026-05-01T06:31:02,540,5\n",
    /* sep= and a column that comes before the time */
    "sep=;\n a ;pto_speed [rpm];torque [N.m];time\n#;540;300;2026-05-01T06:30:00\nx;540;1,5;"
    "2026-05-01T06:30:60\n #x;1;2;2026-05-01T06:30:00\n;540;;2026-05-01T24:00:00\n",
    /* decimal commas in quotes between commas, then rows without any */
    "time,pto_speed [rpm],torque [N.m]\n1,\"540,5\",\"300,25\"\n2,540,300\n3,541,301\n"
    "4,\"0,5\",1\n",
    /* short and long numbers of every shape */
    "time,pto_speed [rpm],torque [N.m]\n1,5,5.\n2,.5,.\n3,1234567,123456.\n4,12345678,12345.67\n"
    "5,1.234567,0.00001\n6,000,-12.5\n7,1..2,1.2.3\n8,1234567.,.1234567\n9,12:3,1/2\n10,,1\n",
    /* quotes out of order */
    "time,pto_speed [rpm],torque [N.m]\n1,540,300\n2,\"540\"x,300\n3,540,300\n",
    "time,pto_speed [rpm],torque [N.m]\n1,540,300\n2,\"540,300\n3,540,300\n",
};
enum { LOGS = sizeof logs / sizeof logs[0] };

/* derived: a block that is split directly gives what the parser gives, wherever blocks end */
Test(log, direct_splitting_gives_the_events_of_the_parser_in_blocks_of_every_length)
{
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 16];
    scratch_make(folder);
    (void)snprintf(path, sizeof path, "%s/log.csv", folder);
    for (size_t i = 0; i < LOGS; i++) {
        scratch_write(folder, "log.csv", logs[i]);
        char *want = events(path, 0, false);
        for (size_t size = 1; size <= strlen(logs[i]) + 1; size++)
            for (int plain = 0; plain < 2; plain++) {
                char *got = events(path, size, plain != 0);
                cr_expect_str_eq(got, want, "log %zu, blocks of %zu, plain %d:\n%s\nwanted\n%s", i,
                                 size, plain, got, want);
                free(got);
            }
        free(want);
    }
    scratch_remove(folder);
}

static unsigned next(unsigned *state, unsigned n)
{
    *state = *state * 1664525u + 1013904223u;
    return (*state >> 8) % n;
}

/* derived, as above, on rows made at random from plain and odd cells */
Test(log, direct_splitting_gives_the_events_of_the_parser_on_random_logs)
{
    static const char *const cells[] = {
        "540", "0", "12.5", "-3.75", "", " ", "1e3", "300.125", "x", "1 000", "+7", "\"8\"", "#",
        " 5 ", "7.", ".7", "--1", "0.1", "123456789.987654321", "\"a\nb\"", "\t9"};
    static const char *const stamps[] = {"2026-05-01T06:30:%02u", "2026-05-01T06:30:%02u.5",
                                         "2026-05-01T06:31:%02u", "2026-05-01 06:30:%02u",
                                         "20260501T0630%02u",     "# %u",
                                         "",                      "2026-05-01T06:30:%02uZ"};
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 16];
    unsigned state = 7;
    size_t direct = 0;
    scratch_make(folder);
    (void)snprintf(path, sizeof path, "%s/log.csv", folder);
    for (unsigned round = 0; round < 60; round++) {
        trn_buffer text = {0};
        trn_buffer_add(&text, "time,pto_speed [rpm],torque [N.m],position,other\n"
                              "2026-05-01T06:30:00,540,1.5,a,\n");
        bool odd = round % 2 == 1;
        for (unsigned row = 0; row < 40; row++) {
            char stamp[64];
            unsigned second = next(&state, 62);
            (void)snprintf(stamp, sizeof stamp,
                           stamps[next(&state, odd ? sizeof stamps / sizeof stamps[0] : 2)],
                           second);
            trn_buffer_add(&text, stamp);
            unsigned columns = odd ? next(&state, 6) : 4;
            for (unsigned c = 0; c < columns; c++)
                trn_buffer_print(&text, ",%s",
                                 cells[next(&state, odd ? sizeof cells / sizeof cells[0] : 5)]);
            trn_buffer_add(&text, odd && next(&state, 9) == 0 ? "\r\n" : "\n");
        }
        scratch_write(folder, "log.csv", text.text);
        char *want = events(path, 0, false);
        for (size_t size = 1; size < 400; size += 37) {
            char *got = events(path, size, true);
            cr_expect_str_eq(got, want, "round %u, blocks of %zu:\n%s\nwanted\n%s", round, size,
                             got, want);
            direct += direct_blocks;
            free(got);
        }
        free(want);
        trn_buffer_free(&text);
    }
    cr_expect_gt(direct, 1000, "only %zu blocks were split directly", direct);
    scratch_remove(folder);
}

/* ---- files --------------------------------------------------------------------------------- */

/* gzip, also of several members, whatever the name; UTF-16 */
Test(log, compressed_and_utf16_logs_give_the_rows_of_the_plain_one)
{
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 16];
    char zipped[SCRATCH_PATH + 16];
    scratch_make(folder);
    (void)snprintf(path, sizeof path, "%s/log.csv", folder);
    (void)snprintf(zipped, sizeof zipped, "%s/zip.csv", folder);
    scratch_write(folder, "log.csv", logs[0]);
    scratch_write(folder, "zip.csv", "");
    char *want = events(path, 0, true);
    size_t half = 70;
    for (int part = 0; part < 2; part++) {
        gzFile file = gzopen(zipped, part ? "ab" : "wb");
        const char *from = logs[0] + (part ? half : 0);
        (void)gzwrite(file, from, (unsigned)(part ? strlen(from) : half));
        (void)gzclose(file);
    }
    char *got = events(zipped, 0, true);
    cr_expect_str_eq(got, want);
    free(got);
    FILE *file = fopen(zipped, "wb");
    (void)fwrite("\xFF\xFE", 1, 2, file);
    for (const char *p = logs[0]; *p; p++)
        (void)fwrite((char[]){*p, '\0'}, 1, 2, file);
    (void)fclose(file);
    got = events(zipped, 9, true);
    cr_expect_str_eq(got, want);
    free(got);
    free(want);
    scratch_remove(folder);
}

Test(log, a_compressed_log_that_is_cut_off_is_said_so)
{
    char folder[SCRATCH_PATH];
    char zipped[SCRATCH_PATH + 16];
    scratch_make(folder);
    (void)snprintf(zipped, sizeof zipped, "%s/zip.csv", folder);
    scratch_write(folder, "zip.csv", "");
    gzFile file = gzopen(zipped, "wb");
    (void)gzwrite(file, logs[0], (unsigned)strlen(logs[0]));
    (void)gzclose(file);
    cr_assert_eq(truncate(zipped, 60), 0);
    char *got = events(zipped, 0, true);
    cr_expect_not_null(strstr(got, "the compressed file ends too early; is it cut off?"), "%s",
                       got);
    free(got);
    scratch_remove(folder);
}

/* ---- stamps -------------------------------------------------------------------------------- */

/* derived: days counted by hand or by `date -u -d ... +%s` */
Test(log, stamps_are_read_as_iso_8601_writes_them)
{
    static const struct {
        const char *text;
        long long s;
        long ns;
        trn_log_clock clock;
    } rows[] = {
        {"1970-01-01T00:00:00Z", 0, 0, TRN_CLOCK_UTC},
        {"2026-05-01T06:30:00", 1777617000, 0, TRN_CLOCK_LOCAL},
        {"2026-05-01 06:30", 1777617000, 0, TRN_CLOCK_LOCAL},
        {"20260501T063000", 1777617000, 0, TRN_CLOCK_LOCAL},
        {"20260501T0630", 1777617000, 0, TRN_CLOCK_LOCAL},
        {"2026-05-01T06:30:00.123456789", 1777617000, 123456789, TRN_CLOCK_LOCAL},
        {"2026-05-01T06:30:00,5", 1777617000, 500000000, TRN_CLOCK_LOCAL},
        {"2026-05-01T08:30:00+02:00", 1777617000, 0, TRN_CLOCK_UTC},
        {"2026-05-01T08:30:00+02", 1777617000, 0, TRN_CLOCK_UTC},
        {"2026-05-01T01:00:00-0530", 1777617000, 0, TRN_CLOCK_UTC},
        {"2024-02-29T23:59:60Z", 1709251200, 0, TRN_CLOCK_UTC},
        {"2025-12-31T24:00:00", 1767225600, 0, TRN_CLOCK_LOCAL},
        {"1969-12-31T23:59:59Z", -1, 0, TRN_CLOCK_UTC},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        int64_t ns = 0;
        trn_log_clock clock = TRN_CLOCK_NONE;
        cr_expect_eq(trn_log_stamp(rows[i].text, strlen(rows[i].text), &ns, &clock), TRN_OK, "%s",
                     rows[i].text);
        cr_expect_eq(ns, rows[i].s * 1000000000 + rows[i].ns, "%s: %lld", rows[i].text,
                     (long long)ns);
        cr_expect_eq(clock, rows[i].clock, "%s", rows[i].text);
    }
}

Test(log, what_is_no_stamp_is_refused)
{
    static const char *const rows[] = {
        "",          "2026",      "2026-05-01",          "2026-13-01T00:00:00",
        "2026-02-29T00:00:00",    "2026-05-01T25:00:00", "2026-05-01T24:00:01",
        "2026-05-01T06:60:00",    "2026-05-01T06:30:61", "2026-05-01T06:30:00.",
        "2026-05-01T06:30:00 Z",  "2026-05-01T06:30:00+2", "2026-05-01T06:30:00+02:0",
        "2026-5-1T06:30:00",      "01.05.2026 06:30",    "2026-05-01x06:30:00",
        "2026-05-01T06:30:00+99", "1777617000"};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        int64_t ns = 77;
        trn_log_clock clock = TRN_CLOCK_NONE;
        cr_expect_eq(trn_log_stamp(rows[i], strlen(rows[i]), &ns, &clock), TRN_E_NUMBER, "%s",
                     rows[i]);
        cr_expect(ns == 77 && clock == TRN_CLOCK_NONE, "%s: outputs touched", rows[i]);
    }
}

/* derived: tenths of seconds since 1970 are whole nanoseconds, which no double holds */
Test(log, seconds_are_exact_to_the_nanosecond)
{
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 16];
    scratch_make(folder);
    (void)snprintf(path, sizeof path, "%s/log.csv", folder);
    scratch_write(folder, "log.csv", "time [s],pto_speed [rpm],torque [N.m]\n"
                                     "1777617000.1,540,1\n1777617000.123456789,540,1\n"
                                     "1777617000.1234567894,540,1\n-0.5,540,1\n");
    char *got = events(path, 0, true);
    cr_expect_not_null(strstr(got, "2 1777617000100000000 "), "%s", got);
    cr_expect_not_null(strstr(got, "3 1777617000123456789 "), "%s", got);
    cr_expect_not_null(strstr(got, "4 1777617000123456789 "), "%s", got);
    cr_expect_not_null(strstr(got, "5 -500000000 "), "%s", got);
    free(got);
    scratch_remove(folder);
}

/* derived: the first 64 KiB hold whole numbers only; then a mark could be of either kind */
Test(log, a_mark_that_the_first_rows_do_not_explain_is_a_fault)
{
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 16];
    trn_buffer text = {0};
    scratch_make(folder);
    (void)snprintf(path, sizeof path, "%s/log.csv", folder);
    trn_buffer_add(&text, "time\tpto_speed [rpm]\ttorque [N.m]\n");
    for (unsigned i = 0; i < 6000; i++)
        trn_buffer_print(&text, "%u\t540\t300\n", i);
    trn_buffer_add(&text, "6000\t540\t1,234\n6001\t540\t12.5\n");
    scratch_write(folder, "log.csv", text.text);
    char *got = events(path, 0, true);
    cr_expect_not_null(strstr(got, "log.csv:6002: column torque [N.m]: `1,234` can be read in two "
                                   "ways, and no number in the first rows of the file shows which"),
                       "%s", strstr(got, "status"));
    cr_expect_null(strstr(got, "log.csv:6003"));
    free(got);
    trn_buffer_free(&text);
    scratch_remove(folder);
}

/* ---- faults -------------------------------------------------------------------------------- */

Test(log, a_header_that_cannot_be_used_is_refused_with_the_reason)
{
    static const char *const rows[][2] = {
        {"", "the log is empty: not even a header line"},
        {"pto_speed [rpm],torque [N.m]\n1,2\n", "there is no column `time`"},
        {"time,torque [N.m]\n1,2\n", "there is no column `pto_speed`"},
        {"time,pto_speed [rpm]\n1,2\n", "neither a column `torque` nor a column `power`"},
        {"time,pto_speed,torque [N.m]\n1,2,3\n", "the unit is missing"},
        {"time,pto_speed [kW],torque [N.m]\n1,2,3\n", "`kW` does not convert to rpm"},
        {"time,pto_speed [rpm],torque [N.m],torque [kN.m]\n1,2,3,4\n", "the name is there twice"},
        {"time [m],pto_speed [rpm],torque [N.m]\n1,2,3\n", "`m` does not convert to s"},
        {"time,pto_speed [rpm,torque [N.m]\n1,2,3\n", "there is no column `pto_speed`"},
        {"time;pto_speed [rpm],torque [N.m]\n1;2,3\n", "what parts its cells is not clear"},
    };
    char folder[SCRATCH_PATH];
    char path[SCRATCH_PATH + 16];
    scratch_make(folder);
    (void)snprintf(path, sizeof path, "%s/log.csv", folder);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        scratch_write(folder, "log.csv", rows[i][0]);
        char *got = events(path, 0, true);
        cr_expect_not_null(strstr(got, rows[i][1]), "%s\n%s", rows[i][0], got);
        free(got);
    }
    scratch_remove(folder);
}
