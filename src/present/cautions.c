/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <trunnion/cautions.h>

#include <stddef.h>

static const char *const texts[TRN_CAUTIONS] = {
    [TRN_CAUTION_SHAFTS] =
        "Never go near a turning shaft. Engine off, key out, and wait until everything stands "
        "still, since rotors run on; machine lowered or propped, wings locked. Every guard is "
        "back and whole before it turns again. A shaft is cut only as its own manual says: both "
        "tubes and both guard tubes by the same length.",
    [TRN_CAUTION_OIL] =
        "Oil and housing burn the skin above 60 degC, and a hot gearbox may be under pressure: "
        "stop, disconnect, let it cool, open plug or breather slowly. A gearbox found low is "
        "searched for its leak before it works again. Grade and quantity of the oil are the "
        "manual's.",
    [TRN_CAUTION_GREASE] =
        "Grease only at rest and put the guards back. Keep hands off the nozzle: grease under "
        "pressure goes through skin, and that means a hospital at once. Use the same grease or "
        "purge the old one first; none on friction linings, none into sealed bearings. Enough is "
        "when clean grease shows, as the manual says.",
    [TRN_CAUTION_INTERVALS] =
        "These are estimates. They shorten the manual's interval and never replace the manual or "
        "the maker's bulletins. A part that is hot, loose, noisy or leaking is stopped and "
        "repaired, not greased more often; damage that is there is not undone.",
    [TRN_CAUTION_EXTENSION] =
        "An interval longer than the manual's needs the written consent of whoever stands behind "
        "the warranty.",
    [TRN_CAUTION_REVIEW] =
        "Record level, plug, breather and the first drain before anything is moved, keep the "
        "oil, tell the other party before a step that destroys evidence, and do not run the "
        "machine again. A factor compares only the explanations listed, under the inputs listed.",
    [TRN_CAUTION_ALL] =
        "Inputs are the user's. The operator's manual, local law and a qualified person's "
        "inspection come first.",
};

const char *trn_caution_text(trn_caution caution)
{
    return (unsigned)caution < TRN_CAUTIONS ? texts[caution] : "";
}

static const char *const lines[TRN_CAUTIONS] = {
    [TRN_CAUTION_SHAFTS] =
        "Never near a turning shaft: engine off, key out, all at rest, propped, guards back on.",
    [TRN_CAUTION_OIL] =
        "Oil and housing burn above 60 degC: stopped, disconnected, cooled; a low box has a leak.",
    [TRN_CAUTION_GREASE] =
        "Grease only at rest, guards back on, hands off the nozzle; same grease or purge first.",
    [TRN_CAUTION_INTERVALS] =
        "Estimates that shorten the manual's interval, never replace it; stop a hot or loose part.",
    [TRN_CAUTION_EXTENSION] =
        "Longer than the manual's only with the written consent of who stands behind the warranty.",
    [TRN_CAUTION_REVIEW] =
        "Record and keep the evidence, tell the other party first, do not run the machine again.",
    [TRN_CAUTION_ALL] =
        "Inputs are the user's; manual, local law and a qualified person's inspection come first.",
};

const char *trn_caution_line(trn_caution caution)
{
    return (unsigned)caution < TRN_CAUTIONS ? lines[caution] : "";
}
