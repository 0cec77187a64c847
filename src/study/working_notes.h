/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study only: steps that a person works between the formulas, noted where a trace asks.
 * None of them gives a number to the results: without a trace they do nothing. */
#ifndef TRUNNION_WORKING_NOTES_H
#define TRUNNION_WORKING_NOTES_H

#include <trunnion/balance.h>
#include <trunnion/interval_rows.h>
#include <trunnion/study.h>

/* Speeds of all axles behind a mesh, each condition. */
void trn_working_speeds(const trn_machine *m, trn_trace *trace);
/* Power of a shaft; angle of a cross where it is not the joint's; ripple without a model. */
void trn_working_share(double power_w, double share, trn_trace *trace);
void trn_working_cross(double angle_rad, bool wide, double least_rad, trn_trace *trace);
void trn_working_ripple(double torque_nm, double fluctuation, trn_trace *trace);

/* Torque of a gear with the application factor, its diameter. */
void trn_working_tooth(const trn_gear *g, double torque_nm, double scale, trn_trace *trace);
/* Sums of an axle: of meshes, of couples, of radial loads; one load case of the shaft thrusts. */
void trn_working_add(const double before[6], const double mesh[6], trn_trace *trace);
void trn_working_couple(const double *couples, size_t n, double scale, trn_trace *trace);
void trn_working_radial(double fr_a, double fr_b, double added, trn_trace *trace);
void trn_working_case(double k_n, const double thrust[2], const double sliding[2], size_t n,
                      size_t place, double scale, trn_trace *trace);

/* A value as an input and one formula of a bearing life. */
void trn_working_life(trn_step_id id, const double *in, trn_trace *trace);
/* Sum of damage: shares and lives, finite ones only. */
void trn_working_sum(const double *share, const double *life_h, size_t n, trn_trace *trace);
/* Lives of a bearing over the duty. */
void trn_working_duty(const trn_machine *m, const trn_results *r, size_t bearing, double a1,
                      trn_trace *trace);
void trn_working_cross_duty(const trn_machine *m, const trn_results *r, size_t shaft,
                            trn_trace *trace);
/* Survival of the bearings of a gearbox together; lives with a1. */
void trn_working_survival(double design_h, double a1, const double *life_h, size_t n,
                          trn_trace *trace);

/* Dust of an oil up to its mean. */
void trn_working_dust(const trn_machine *m, double intake, size_t gearbox, trn_trace *trace);

/* From the limits of a point to its row. */
void trn_working_point(const trn_machine *m, const trn_service_point *sp,
                       const trn_point_row *row, trn_trace *trace);
/* Temperature, load and motion that the grease of a point sees. */
void trn_working_grease(const trn_machine *m, const trn_results *r, size_t point,
                        const trn_service_point *sp, const trn_duty_state *states,
                        const trn_interval_settings *settings, trn_trace *trace);
void trn_working_first(const trn_machine *m, const trn_service_point *sp, const trn_point_row *row,
                       trn_trace *trace);

#endif
