/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a result came about: the chain of formulas with inputs, values, units and sources, in the
 * order in which a person would work it. */
#ifndef TRUNNION_WORKING_H
#define TRUNNION_WORKING_H

#include <trunnion/present.h>
#include <trunnion/step.h>

#ifdef __cplusplus
extern "C" {
#endif

/* A result: `file.keys.column`, as heat.dry.centre.oil_temperature. */
typedef struct trn_working_place {
    const trn_view *view;
    size_t row;
    const trn_field *field; /* NULL: every column of the row that has a chain */
} trn_working_place;

/* Finds the result that a text names. The key `all` and the column may be left out; a point with
 * one task needs no task.
 * Given:    results  evaluated as trn_working_wanted says, or at least made for the case
 * Returned: out
 * Status:   TRN_E_USAGE (no such file or column: whatever the case), TRN_E_INPUT (no such row in
 *           this case); why names the nearest right ones. */
trn_status trn_working_find(const trn_results *results, const char *text, trn_working_place *out,
                             trn_buffer *why);

/* The address in full; parsing it gives the same address. */
void trn_working_place_text(const trn_results *results, const trn_working_place *address,
                            trn_buffer *out);

/* What trn_study_evaluate must be asked for before a result of the file can be worked; 0 where
 * the file has no chains (or is none). Looks at the text up to its first point only. */
unsigned trn_working_wanted(const char *text);

/* Where an input came from. */
typedef enum trn_from_kind {
    TRN_FROM_NOWHERE, /* not known for certain: nothing is said */
    TRN_FROM_STEP,    /* output of an earlier step */
    TRN_FROM_CELL,    /* cell of the case, a path as overrides write it */
    TRN_FROM_RESULT,  /* another result, an address to ask for */
    TRN_FROM_CHOICE,  /* number chosen here: choices.NAME */
    TRN_FROM_DEFAULT, /* default of the formula */
    TRN_FROM_WORDS    /* said in words */
} trn_from_kind;

typedef struct trn_from {
    trn_from_kind kind;
    size_t note, output; /* TRN_FROM_STEP: note of the trace, and its output */
    double part;         /* what is taken of it: 1, 0.5 half */
    char text[256];      /* address or words */
} trn_from;

typedef struct trn_working_step {
    const trn_note *note;
    trn_from from[TRN_INPUTS_MAX];
} trn_working_step;

/* Column of the row asked for: its value, and what it is taken from. */
typedef struct trn_working_end {
    const trn_field *field;
    double value; /* of the result file */
    trn_from from;
} trn_working_end;

enum { TRN_WORKING_ENDS_MAX = 24 };

typedef struct trn_working {
    const trn_results *results;
    trn_working_place address;
    trn_working_step *steps; /* in order; numbers of people are one more */
    size_t count;
    trn_working_end ends[TRN_WORKING_ENDS_MAX];
    size_t end_count;
    const char *worked; /* condition of an `all` result that is worked in full; NULL */
} trn_working;

/* Adds to a trace of the medians what the draws (trn_study_draws) put in their place: the steps
 * from the quantiles to the recommended intervals. */
void trn_working_note_drawn(trn_results *results, trn_trace *trace);

/* Selects from a trace what belongs to a result. The trace holds one evaluation and must outlive
 * the working, as the results must.
 * Returned: *out, to be freed with trn_working_free
 * Status:   TRN_E_MEMORY (also where the trace is not whole) */
trn_status trn_working_make(const trn_results *results, const trn_trace *trace,
                            const trn_working_place *address, trn_working **out);
/* NULL is allowed. */
void trn_working_free(trn_working *working);

/* Number of the step that a note has in a working, from 1; 0: none. */
size_t trn_working_number(const trn_working *working, const trn_note *note);

/* Where an input came from as text: `step 4: T`, `shafts.main.cross_arm`. */
void trn_from_text(const trn_working *working, const trn_trace *trace, const trn_from *from,
                   trn_buffer *out);

/* Numbered steps for reading, the sources in full, the result. */
void trn_working_text(const trn_working *working, const trn_trace *trace, size_t width,
                      trn_buffer *out);

/* step,formula,role,symbol,value,unit,from,source,standing; role input, output, result.
 * header: write the header line. */
void trn_working_csv(const trn_working *working, const trn_trace *trace, bool header,
                     trn_buffer *out);

#ifdef __cplusplus
}
#endif
#endif
