/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Umbrella header of libtrunnion. */
#ifndef TRUNNION_H
#define TRUNNION_H

#define TRN_VERSION "0.1.0"
#define TRN_VERSION_DATE "2026-11-25"

#include <trunnion/address.h>
#include <trunnion/axle.h>
#include <trunnion/balance.h>
#include <trunnion/bearing.h>
#include <trunnion/cautions.h>
#include <trunnion/checkup.h>
#include <trunnion/choices.h>
#include <trunnion/clock.h>
#include <trunnion/compare.h>
#include <trunnion/constants.h>
#include <trunnion/csv_write.h>
#include <trunnion/digest.h>
#include <trunnion/draws.h>
#include <trunnion/evidence.h>
#include <trunnion/extension.h>
#include <trunnion/extras.h>
#include <trunnion/file.h>
#include <trunnion/field_sheet.h>
#include <trunnion/film.h>
#include <trunnion/formula.h>
#include <trunnion/gear_force.h>
#include <trunnion/gear_loss.h>
#include <trunnion/grease.h>
#include <trunnion/handover.h>
#include <trunnion/heat.h>
#include <trunnion/heat_reading.h>
#include <trunnion/interval.h>
#include <trunnion/interval_rows.h>
#include <trunnion/joint.h>
#include <trunnion/ledger.h>
#include <trunnion/life.h>
#include <trunnion/lift.h>
#include <trunnion/lives_paper.h>
#include <trunnion/lives_table.h>
#include <trunnion/log.h>
#include <trunnion/loss.h>
#include <trunnion/machine.h>
#include <trunnion/mechanism.h>
#include <trunnion/oil.h>
#include <trunnion/owner.h>
#include <trunnion/path.h>
#include <trunnion/plot.h>
#include <trunnion/present.h>
#include <trunnion/prove.h>
#include <trunnion/rainflow.h>
#include <trunnion/rank.h>
#include <trunnion/reference_docs.h>
#include <trunnion/review.h>
#include <trunnion/review_outside.h>
#include <trunnion/samples_rate.h>
#include <trunnion/samples_table.h>
#include <trunnion/scenario.h>
#include <trunnion/schema.h>
#include <trunnion/shaft.h>
#include <trunnion/starter.h>
#include <trunnion/spectrum.h>
#include <trunnion/status.h>
#include <trunnion/step.h>
#include <trunnion/study.h>
#include <trunnion/sweep.h>
#include <trunnion/sweep_plot.h>
#include <trunnion/table.h>
#include <trunnion/text.h>
#include <trunnion/trend.h>
#include <trunnion/turnbull.h>
#include <trunnion/units.h>
#include <trunnion/wear.h>
#include <trunnion/weibull.h>
#include <trunnion/working.h>

#endif
