/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plots of a sweep, as plot.h makes those of a report. */
#ifndef TRUNNION_SWEEP_PLOT_H
#define TRUNNION_SWEEP_PLOT_H

#include <trunnion/address.h>
#include <trunnion/plot.h>

#ifdef __cplusplus
extern "C" {
#endif

/* One followed result: a line over one quantity, contours over two, with the places where it
 * crosses a limit.
 * Given:    followed  the addresses in the order of the sweep's results; follow: which of them
 * Returned: script, finding  added to (plot.h)
 * Status:   TRN_E_UNKNOWN where fewer than two points are known (contours: where any is not),
 *           TRN_E_MEMORY; both buffers untouched then */
trn_status trn_plot_sweep(const trn_sweep *sweep, const trn_addresses *followed, size_t follow,
                          trn_buffer *script, trn_buffer *finding);

/* `rises above 95 degC (the sump limit of mineral oil) at PATH = 1094.7 rpm`, after the result's
 * address. */
void trn_crossing_text(const trn_sweep *sweep, const trn_addresses *followed,
                       const trn_crossing *crossing, trn_buffer *out);

#ifdef __cplusplus
}
#endif
#endif
