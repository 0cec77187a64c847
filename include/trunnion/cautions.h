/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cautions that go with results: one list for the terminal, the starter case and the report. */
#ifndef TRUNNION_CAUTIONS_H
#define TRUNNION_CAUTIONS_H

#ifdef __cplusplus
extern "C" {
#endif

typedef enum trn_caution {
    TRN_CAUTION_SHAFTS,    /* joints, new */
    TRN_CAUTION_OIL,       /* heat, samples, oil tasks */
    TRN_CAUTION_GREASE,    /* grease tasks */
    TRN_CAUTION_INTERVALS,
    TRN_CAUTION_EXTENSION,
    TRN_CAUTION_REVIEW,
    TRN_CAUTION_ALL,
    TRN_CAUTIONS
} trn_caution;

/* In full, for a page; in one line, for a terminal. */
const char *trn_caution_text(trn_caution caution);
/* The same in one line of at most 100 characters, for a terminal. "" for no such caution. */
const char *trn_caution_line(trn_caution caution);

#ifdef __cplusplus
}
#endif
#endif
