/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Universal joints: motion, equivalent joint of a pair, couples, life of the cross, heat. */
#ifndef TRUNNION_JOINT_H
#define TRUNNION_JOINT_H

#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Speed ratio of one universal joint at a turn of its driving shaft.
 *
 *   r = cos beta / (1 - sin^2 beta cos^2 theta)
 *
 * Given:    beta_rad   angle between the two axes, 0 <= beta < pi/2
 *           theta_rad  turn of the driving shaft, any; 0 where the driving yoke lies in the
 *                      plane of both axes
 * Returned: ratio      speed of the driven over speed of the driving shaft
 * Status:   TRN_E_DOMAIN
 * Valid for rigid shafts that meet in one point.
 * Source:   encyclopaedia article on the universal joint, equation of motion [E1]
 * Standing: published
 * Checked by tests/published/joint.csv, tests/joint.c */
trn_status trn_joint_ratio(double beta_rad, double theta_rad, double *ratio);

#ifdef __cplusplus
}
#endif
#endif
