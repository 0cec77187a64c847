/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/cli only: commands, options, exit codes. */
#ifndef TRUNNION_CLI_H
#define TRUNNION_CLI_H

#include <trunnion.h>
#include <trunnion/cautions.h>
#include <trunnion/draws.h>
#include <trunnion/present.h>
#include <trunnion/working.h>

/* X(name, code, in a word, in a sentence) */
#define CLI_EXITS(X)                                                                             \
    X(CLI_DONE, 0, "done", "Done.")                                                              \
    X(CLI_FAILED, 1, "could not finish",                                                         \
      "Could not finish: input or output failed, memory ran out, no convergence.")               \
    X(CLI_MISUSE, 2, "misuse", "The command line is wrong.")                                     \
    X(CLI_INPUT, 3, "wrong input", "The input is wrong; nothing was written.")                   \
    X(CLI_OUTSIDE, 4, "outside validity (--strict)",                                             \
      "Done, but a result lies outside its validity; only with --strict.")

typedef enum cli_exit {
#define TRN_X(name, code, word, sentence) name = (code),
    CLI_EXITS(TRN_X)
#undef TRN_X
} cli_exit;

enum { CLI_TEXTS_MAX = 4096 };

typedef struct cli_texts {
    const char *v[CLI_TEXTS_MAX];
    size_t n;
} cli_texts;

/* X(member, --option, argument or NULL, commands that take it, what it does)
 * commands: names parted by blanks, "case" for all that take a case, "all" */
#define CLI_OPTIONS(X)                                                                           \
    X(set, "set", "PATH=VALUE", "case prove", "changes a quantity of the case; may stand several times") \
    X(scenario, "scenario", "NAME", "case prove", "applies a scenario of scenarios.csv")               \
    X(purpose, "for", "WHAT", "new",                                                             \
      "intervals, shafts, heat, bearings or review: only the tables that this needs")            \
    X(out, "out", "DIR",                                                                         \
      "joints heat bearings intervals review report sweep compare lives samples spectrum digest",       \
      "writes files instead")                                                                    \
    X(vary, "vary", "PATH=from:to:steps", "sweep",                                               \
      "varies a quantity, steps + 1 values in the column's unit; twice: two quantities")         \
    X(show, "show", "RESULT", "sweep compare",                                                   \
      "follows a result, as heat.dry.centre.oil_temperature; may stand several times")           \
    X(working, "working", "RESULT", "joints heat bearings intervals",                            \
      "shows how a result came about, as heat.dry.centre.oil_temperature")                       \
    X(draws, "draws", "N", "intervals report sweep compare",                        \
      "draws of the uncertainty study; 0: medians only, as sweep does without")                  \
    X(seed, "seed", "S", "intervals report sweep compare", "another set of draws; 1")            \
    X(jobs, "jobs", "N", "intervals review report sweep compare digest",            \
      "threads; as many as cores. Results do not change")                                        \
    X(plain, "plain", NULL, "intervals report sweep compare",                         \
      "plain draws instead of shifted Sobol points")                                             \
    X(choices, "choices", NULL, "intervals",                                                     \
      "the chosen numbers that the intervals rest on; with --csv in place of them")             \
    X(slope, "slope", "B", "lives", "adds a row at this slope; needed where nothing failed")      \
    X(repeating, "repeating", NULL, "spectrum",                                                  \
      "closes every piece of the record to a loop: all cycles count 1")                          \
    X(step, "step", "N.m", "spectrum", "width of the torque levels and of the range bins")       \
    X(bins, "bins", "N", "spectrum", "at most so many bins and levels, of a round width")        \
    X(record_gap, "gap", "s", "spectrum", "a longer step is a gap and splits the record; 10")    \
    X(fatigue_slope, "slope", "M", "spectrum",                                                   \
      "slope of the S-N line of shafts and yokes; 5, beside 3 and 8")                            \
    X(shown_table, "show", "TABLE", "spectrum",                                                  \
      "the table that --csv prints: cycles (the usual one), levels, parts")                      \
    X(confidence, "confidence", "%", "lives", "confidence of the limits, two-sided; 95")         \
    X(oil_volume, "oil-volume", "L", "samples", "oil in the gearbox, to correct for top-ups")     \
    X(residual_oil, "residual-oil", "%", "samples", "old oil that stays behind at a change; 10") \
    X(limits, "limits", "FILE", "samples", "own limits, a table element,limit [ppm]")            \
    X(merge, "merge", NULL, "digest", "adds parts (folders of --out), in the order of time")      \
    X(skip_bad, "skip-bad", "N", "digest", "lets up to N faulty cells pass, counted; 0")          \
    X(column, "column", "NAME=HEADING", "digest", "heading under which a log has a channel")      \
    X(rainflow, "rainflow", NULL, "digest", "cycles of the torque by range and mean as well")     \
    X(no_plot, "no-plot", NULL, "digest", "no picture")                                           \
    X(digest_gap_s, "gap", "s", "digest", "a longer step is unknown time; 10")                    \
    X(digest_speed_step_rpm, "speed-step", "rpm", "digest", "width of a speed class; 50")         \
    X(digest_torque_step_nm, "torque-step", "N.m", "digest", "width of a torque class; 100")      \
    X(digest_temperature_step_k, "temperature-step", "K", "digest",                              \
      "classes of the oil temperature, without one of the ambient; none")                        \
    X(digest_lift_step_mm, "lift-step", "mm", "digest", "positions from classes of lift; none")   \
    X(digest_wing_step_deg, "wing-step", "deg", "digest", "positions from classes of wing; none") \
    X(digest_speed_limit_rpm, "speed-limit", "rpm", "digest", "a higher speed is a spike; 2000")  \
    X(digest_torque_limit_nm, "torque-limit", "N.m", "digest",                                   \
      "a higher torque is a spike; 20000")                                                       \
    X(digest_still_rpm, "still", "rpm", "digest", "below it the PTO is at rest; 1")               \
    X(digest_rest_s, "rest", "s", "digest", "rest after which a start is a warm-up; 7200")        \
    X(digest_trip_nm, "trip-torque", "N.m", "digest", "from it a fall is a clutch trip; 1000")    \
    X(digest_shock_nm, "shock-torque", "N.m", "digest", "a rise by it in a step is a shock; 500") \
    X(machine, "machine", NULL, "intervals", "a column machine for one case as well")             \
    X(the_case, "case", "CASE", "prove",                                                         \
      "judges rows whose formula is the address of a result of this case")                       \
    X(constants, "constants", "FILE", "case formula prove",                                      \
      "recalled constants as compared with the print; prove --constants alone lists them")       \
    X(strict, "strict", NULL, "case formula", "exit 4 where a result lies outside its validity") \
    X(csv, "csv", NULL, "all", "CSV, also on a terminal")                                        \
    X(table, "table", NULL, "all", "a table for reading, also into a pipe")                      \
    X(quiet, "quiet", NULL, "all", "no cautions and no talk on stderr")                          \
    X(help, "help", NULL, "all", "this help")                                                    \
    X(version, "version", NULL, "all", "the version")

typedef struct cli_options {
#define TRN_X(member, name, argument, commands, what) cli_texts member;
    CLI_OPTIONS(TRN_X)
#undef TRN_X
    cli_texts inputs;
    char **words; /* of the command line, behind the program's name */
    int word_count;
    bool as_csv; /* what the options and the kind of stdout come to */
} cli_options;

typedef struct cli_command {
    const char *name;
    const char *arguments;
    const char *what;
    const char *example;
    bool takes_case;
    cli_exit (*run)(const cli_options *options);
} cli_command;

/* A row of CLI_OPTIONS; offset: of its list in cli_options. */
typedef struct cli_option {
    size_t offset;
    const char *name, *argument, *commands, *what;
} cli_option;

/* NULL past the end */
const cli_option *cli_option_at(size_t i);
bool cli_takes(const cli_command *command, const cli_option *option);

extern const cli_command cli_commands[];
extern const size_t cli_command_count;

const cli_command *cli_command_find(const char *name);
cli_exit cli_help(void);
cli_exit cli_help_command(const cli_command *command);

/* From the same tables: the manual page (mdoc) and the completion of bash. */
cli_exit cli_manual_page(void);
cli_exit cli_completion(void);

/* Parses the words after the command; says what is wrong on stderr. */
cli_exit cli_parse(const cli_command *command, int argc, char **argv, cli_options *options);

/* Writes to stdout; a full disk or a closed pipe is CLI_FAILED. */
cli_exit cli_print(trn_buffer *text);
/* Prints the faults on stderr and gives the exit code that belongs to the status. */
cli_exit cli_faults(trn_status status, const trn_faults *faults, const char *lead);

/* Reads a case and applies --scenario and --set; NULL with *code where that fails. The case
 * behind `base` must be freed after the one returned; both with trn_machine_free. */
trn_machine *cli_case(const cli_options *options, const char *folder, trn_machine **base,
                      cli_exit *code);

/* The same in two steps: the case as its tables have it, and a copy with scenarios and --set. */
trn_machine *cli_case_read(const char *folder, cli_exit *code);
trn_machine *cli_case_change(const cli_options *options, const trn_machine *base,
                             const char *const *scenarios, size_t count, cli_exit *code);

/* Refuses a folder of results that holds a case. */
cli_exit cli_refuse_case_folder(const char *folder);

/* The last of the values given to an option, in `unit` (another that converts may follow the
 * number); out untouched where none was given; misuse is said on stderr. */
cli_exit cli_number(const char *command, const char *option, const cli_texts *given,
                    const char *unit, const char *range, double *out);

/* Writes result files to --out: those named. */
cli_exit cli_write(const cli_options *options, const trn_results *results,
                   const char *const *names, size_t count);

/* A caution on stderr, wrapped; not with --quiet. */
void cli_caution(const cli_options *options, trn_caution caution);

/* Everything evaluated; extras: with the series too. NULL with *code where that fails. */
trn_results *cli_evaluate(const trn_machine *machine, bool extras, cli_exit *code);

/* The same with the draws that the options ask for. */
trn_results *cli_evaluate_drawn(const cli_options *options, const trn_machine *machine,
                                bool extras, cli_exit *code);

/* The draws that the options ask for; fallback: how many without --draws. */
cli_exit cli_draw_plan(const cli_options *options, size_t fallback, trn_draw_plan *plan);

/* Does a remark of the view say that a number is outside its validity? */
bool cli_outside_validity(const trn_view *view, const trn_results *results);

/* Prints the workings asked for with --working; refused where a result is not known. */
cli_exit cli_working(const cli_options *options, const trn_machine *machine, unsigned wanted);

cli_exit cli_new(const cli_options *options);
cli_exit cli_check(const cli_options *options);
cli_exit cli_joints(const cli_options *options);
cli_exit cli_heat(const cli_options *options);
cli_exit cli_bearings(const cli_options *options);
cli_exit cli_intervals(const cli_options *options);
cli_exit cli_report(const cli_options *options);
cli_exit cli_sweep(const cli_options *options);
cli_exit cli_compare(const cli_options *options);
cli_exit cli_digest(const cli_options *options);
cli_exit cli_review(const cli_options *options);
cli_exit cli_lives(const cli_options *options);
cli_exit cli_samples(const cli_options *options);
cli_exit cli_spectrum(const cli_options *options);
cli_exit cli_formula(const cli_options *options);
cli_exit cli_prove(const cli_options *options);

#endif
