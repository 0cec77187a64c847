/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Explanations of a failure compared by what the hours of the failed part say, with and without
 * the hours of sister units; the life lost shared out; damage signs counted apart from both.
 * Method and standing: docs/review.md */
#ifndef TRUNNION_REVIEW_H
#define TRUNNION_REVIEW_H

#include <trunnion/evidence.h>
#include <trunnion/scenario.h>
#include <trunnion/study.h>

#ifdef __cplusplus
extern "C" {
#endif

enum {
    TRN_REVIEW_GRID = 9, /* slopes x model errors: [3 * slope + error], the middle is chosen */
    TRN_REVIEW_PRIORS = 7,
    TRN_REVIEW_NEXT_MAX = 512,
    TRN_REVIEW_REMARK = 1024
};

/* Slope and model error of a place of the sensitivity table; 4 is the chosen one. */
double trn_review_slope(size_t place);
/* Model error s of ln L10 at the same place. */
double trn_review_error(size_t place);

/* Prior probabilities of the table of posteriors, fractions. */
extern const double trn_review_priors[TRN_REVIEW_PRIORS];

/* The case (first, `as specified`) or a scenario. */
typedef struct trn_explanation {
    const char *name;
    bool has_life;       /* its life is stated, not computed */
    trn_life_range life; /* then */
    bool departs;        /* it changes the case */
    unsigned causes;     /* bit i: trn_evidence_causes[i] */
    const char *note;    /* of its first row that has one; NULL */
    size_t line;         /* first row in scenarios.csv */
} trn_explanation;

typedef enum trn_part_kind { TRN_PART_BEARING, TRN_PART_GEARBOX, TRN_PART_SHAFT } trn_part_kind;

typedef struct trn_review_part { /* a row of failure.csv */
    const trn_failure *failure;
    const char *name;
    trn_part_kind kind;
    size_t index, gearbox; /* in its table; gearbox TRN_NONE for a shaft */
    bool modified;         /* the lives compared are Lnmh, a1 left out; else L10h */
    double ceiling;        /* the most that one failure time can favour any life; NaN */
    double ceiling_life_h;
    bool sign_twice;       /* a sign was entered more than once; each counts once */
    bool fault_compared;   /* one of the explanations is a fault of this part */
    size_t departures;     /* explanations among which life is shared out */
    double lost_h;         /* life lost by all of them together; NaN */
    char no_shares[256];   /* why it is not shared out; "" */
} trn_review_part;

/* Three readings of one factor: this unit alone; its sisters under the same explanation; its
 * sisters as specified, for a cause that concerns this unit only. NaN: not known. */
typedef enum trn_review_model { TRN_ALONE, TRN_FLEET, TRN_FLEET_APART, TRN_MODELS } trn_review_model;

typedef struct trn_review_row { /* part by part, in the order of the explanations */
    size_t explanation, part;
    const char *scenario, *component; /* their names */
    double life_h;               /* life at 90 %; NaN: a range, starved, not known */
    double life_low_h, life_high_h;
    double failed_pct;           /* by the hours seen, without model error */
    double failed_least_pct;     /* the same with the minimum life of rolling bearings; NaN */
    double ln_m[TRN_MODELS];     /* per hour; at the chosen slope and error */
    double factor[TRN_MODELS];
    double factor_less; /* with the sisters but those that may be the failed unit; NaN */
    double grid[TRN_MODELS][TRN_REVIEW_GRID];
    double low[TRN_MODELS], high[TRN_MODELS]; /* 10 and 90 % of the grid */
    double share_pct, share_log_pct;
    bool starved;
    bool outside;                /* a result behind it is outside its validity */
    bool unlike;                 /* another kind of life than that as specified */
    double signs_for, signs_against, signs_neutral; /* NaN: no signs, or no cause of the table */
    double sign_weight;          /* sum of the weights */
    char cause[96];              /* words, parted by '/' */
    double hours_h, spread_h, ceiling; /* of the part, for the file */
    char remark[TRN_REVIEW_REMARK];
} trn_review_row;

typedef enum trn_next_kind {
    TRN_NEXT_SISTERS, /* more sister units found */
    TRN_NEXT_HOURS,   /* the hours of the failure known exactly */
    TRN_NEXT_EXTENT,  /* a departure found to be half as large */
    TRN_NEXT_SIGN     /* a damage sign looked for */
} trn_next_kind;

/* What further evidence would do to one explanation. */
typedef struct trn_review_next {
    trn_next_kind kind;
    const char *kind_text, *component, *scenario;
    size_t part, explanation;
    char what[200];
    double now, then; /* factor, with the fleet where there is one; weights of a sign: of this
                         explanation, of the other; then NaN: not computed */
    double change;    /* |ln(then/now)|; difference of weights; NaN */
} trn_review_next;

typedef struct trn_review {
    const trn_machine *machine;
    trn_explanation *explanations; /* the first is the case */
    size_t explanation_count;
    trn_failure *failures; /* of failure.csv, each sign once */
    trn_review_part *parts;
    size_t part_count;
    trn_review_row *rows; /* [part * explanation_count + explanation] */
    trn_weibull_row *units;
    trn_weibull_data fleet; /* of units */
    bool has_fleet;
    trn_weibull_row *units_less; /* without those that may be the failed unit */
    trn_weibull_data fleet_less;
    size_t suspects;        /* rows that may be the failed unit */
    bool has_less;          /* some other unit is left then */
    char fleet_remark[600]; /* ""; several are parted by `; ` */
    double *subset_lives;   /* of each part: lives of all combinations, [part << 8 | set] */
    size_t *departing;      /* explanations behind the bits of a set, [part * 8 + bit] */
    trn_review_next *next;  /* largest change first within part and kind */
    size_t next_count;
} trn_review;

/* Compares the explanations of a case. The case itself is the first; each scenario of
 * scenarios.csv is another, evaluated in full.
 * Given:    machine   linked; must outlive the review
 *           jobs      threads; 0: as many as cores. Results do not change
 * Returned: *out      to be freed with trn_review_free; faults
 * Status:   TRN_E_INPUT: no failure.csv or scenarios.csv, a scenario that cannot be applied,
 *           lives.csv refused or the failed unit in it; TRN_E_MEMORY */
trn_status trn_review_run(const trn_machine *machine, unsigned jobs, trn_faults *faults,
                          trn_review **out);
/* NULL is allowed. */
void trn_review_free(trn_review *review);

/* Row of a part and explanation. */
const trn_review_row *trn_review_at(const trn_review *review, size_t part, size_t explanation);

/* Factor of a stated range of lives, at the chosen slope and error, with its lower end moved to
 * `times` of what it is; NaN where no range is left or nothing is known. */
double trn_review_range_factor(const trn_review *review, size_t part, size_t explanation,
                               double times, trn_review_model model);

/* Causes of the sign table that follow from what a path changes, as bits; 0: none. */
unsigned trn_review_causes(const char *path);
/* Weight of a damage sign for several causes at once: the sum. */
int trn_review_weight(unsigned causes, const char *sign);

/* ---- src/present -------------------------------------------------------------------------- */

/* Result files: review, review_sensitivity, review_posterior, review_signs, review_shares,
 * review_next. */
enum { TRN_REVIEW_FILES = 6 };
extern const char *const trn_review_files[TRN_REVIEW_FILES];
/* One of them as CSV, by its place in the list. */
void trn_review_csv(const trn_review *review, size_t file, trn_buffer *out);

/* The report: facts, computed results and opinion apart. */
void trn_review_text(const trn_review *review, size_t width, trn_buffer *out);
/* Its tables alone, for a terminal. */
void trn_review_table(const trn_review *review, size_t width, trn_buffer *out);

/* Plots of a part, as plot.h makes them: factors with their range, hours seen against the lives,
 * shares. Status: TRN_E_UNKNOWN where there is nothing to show */
trn_status trn_plot_review_factors(const trn_review *review, size_t part, trn_buffer *script,
                                   trn_buffer *finding);
/* Status: as trn_plot_review_factors */
trn_status trn_plot_review_lives(const trn_review *review, size_t part, trn_buffer *script,
                                 trn_buffer *finding);
/* Status: as trn_plot_review_factors */
trn_status trn_plot_review_shares(const trn_review *review, size_t part, trn_buffer *script,
                                  trn_buffer *finding);
struct trn_plots;
/* All of them, part by part. Status: TRN_E_MEMORY */
trn_status trn_plots_for_review(const trn_review *review, struct trn_plots *plots);

#ifdef __cplusplus
}
#endif
#endif
