/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside of the digest: sums that may be added in any order, and edges that must be joined in the
 * order of time. */
#ifndef TRUNNION_DIGEST_INSIDE_H
#define TRUNNION_DIGEST_INSIDE_H

#include <pthread.h>
#include <trunnion/digest.h>

/* 128 bits: a sum is the same in whatever order it is formed. */
__extension__ typedef __int128 digest_wide;

enum { DIGEST_OTHER = 5, DIGEST_PLACES_MAX = 65535, DIGEST_CELLS_MAX = 50000 };

/* Units of the sums. Torques enter the powers over 1024 N.m; with speeds up to 5000 rpm and
 * torques up to 50 000 N.m the largest sum of 30 years is 4e37, below 2^127 = 1.7e38. */
#define DIGEST_TURN 65536.0          /* of rpm ns */
#define DIGEST_ENERGY 1024.0         /* of N.m rpm ns */
#define DIGEST_DAMAGE 17179869184.0  /* 2^34, of rpm ns (T/1024 N.m)^p */
#define DIGEST_UNIT_NM 1024.0
#define DIGEST_OTHER_UNIT 1024.0     /* of the channel's unit x ns */
#define DIGEST_TIME_MAX_NS INT64_C(946728000000000000) /* 30 years */

typedef struct digest_cell {
    uint64_t key; /* 0: free */
    int64_t ns;
    digest_wide turn, energy, damage3, damage10_3;
    digest_wide sum[DIGEST_OTHER];
    int64_t known_ns[DIGEST_OTHER];
} digest_cell;

typedef struct digest_class {
    unsigned place;
    bool standing;
    int temperature, speed, torque; /* number of the class; INT_MIN: no temperature */
} digest_class;

typedef struct digest_cycle {
    int32_t range, mean;
    int64_t halves; /* 0: free */
} digest_cycle;

typedef enum digest_kind { DIGEST_WORK, DIGEST_STANDING, DIGEST_BLANK, DIGEST_SPIKE } digest_kind;

/* Edges of the cell used last: speed, torque, degrees. */
typedef struct digest_box {
    bool known;
    unsigned place;
    digest_kind kind;
    size_t slot;
    double low[3], high[3];
} digest_box;

typedef struct digest_sums {
    digest_cell *cells;
    size_t count, slots;
    digest_cycle *cycles;
    size_t cycle_count, cycle_slots;
    int64_t events[TRN_EVENT_COUNT], ns[TRN_EVENT_COUNT];
    size_t last;  /* slot of the cell looked up last */
    digest_box box;
    trn_status status;
} digest_sums;

typedef struct digest_row {
    int64_t ns;
    double speed, torque, other[DIGEST_OTHER];
    unsigned place;
    digest_kind kind;
} digest_row;

/* Turning points of the torque that are not counted yet. */
typedef struct digest_points {
    double *p;
    size_t n, capacity;
} digest_points;

/* head: open at its begin, only where the series was split; tail: open at its end. */
typedef struct digest_flow {
    digest_points head, tail;
    bool split;
} digest_flow;

typedef struct digest_edge {
    bool any;
    digest_row first, last;
    bool turned;
    int64_t first_turn, last_turn;
    digest_flow flow;
} digest_edge;

typedef struct digest_places {
    char **name;
    size_t count, capacity;
    pthread_mutex_t lock;
} digest_places;

struct trn_digest {
    trn_digest_settings settings;
    trn_log_clock clock;
    bool logged[TRN_LOG_POSITION + 1];
    digest_sums sums;
    digest_edge edge;
    digest_places places;
    trn_faults skipped;
    trn_buffer unused;
};

/* ---- digest_sums.c ------------------------------------------------------------------------- */

/* Class of a value: n with n*step <= value < (n + 1)*step, whichever way the division rounds. */
static inline int digest_class_of(double value, double step)
{
    int n = (int)(value / step);
    n -= value < n * step;
    n -= value < n * step;
    return n + (value >= (n + 1) * step);
}
/* Cube root of u >= 0 by one rule on every machine. */
double digest_cube_root(double u);
uint64_t digest_pack(const digest_class *c);
digest_class digest_unpack(uint64_t key);
/* Cell of a key, made where it is missing; NULL (and a status) without memory or room. */
digest_cell *digest_cell_of(digest_sums *sums, uint64_t key);
void digest_cell_add(digest_cell *to, const digest_cell *from);
/* A row holds for dt. */
void digest_hold(digest_sums *sums, const trn_digest_settings *s, const digest_row *row,
                 int64_t dt);
void digest_cycle_add(digest_sums *sums, int32_t range, int32_t mean, int64_t halves);
/* place[old] = new number of each place; NULL: unchanged */
void digest_sums_add(digest_sums *to, const digest_sums *from, const unsigned *place);
void digest_sums_free(digest_sums *sums);

/* Number of a name, added where it is new; safe from several threads. UINT_MAX: no room. */
unsigned digest_place(digest_places *places, const char *name, size_t n);

/* ---- digest_edge.c ------------------------------------------------------------------------- */

void digest_edge_row(digest_edge *edge, digest_sums *sums, const trn_digest_settings *s,
                     const digest_row *row);
/* next follows edge; its points are taken over or freed, *next is empty then. */
void digest_edge_join(digest_edge *edge, digest_edge *next, digest_sums *sums,
                      const trn_digest_settings *s);
bool digest_edge_copy(digest_edge *to, const digest_edge *from);
void digest_edge_free(digest_edge *edge);

/* ---- digest_flow.c ------------------------------------------------------------------------- */

void digest_flow_add(digest_flow *flow, double torque, double step, digest_sums *sums);
void digest_flow_split(digest_flow *flow, double step, digest_sums *sums);
void digest_flow_join(digest_flow *flow, digest_flow *next, bool broken, double step,
                      digest_sums *sums);
/* What is left counts half; flow stays as it is. */
void digest_flow_rest(const digest_flow *flow, double step, digest_sums *sums);
bool digest_points_push(digest_points *points, double x);
void digest_flow_free(digest_flow *flow);

trn_digest *digest_new(const trn_digest_settings *settings);

#endif
