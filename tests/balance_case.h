/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two gearboxes for the tests of the heat balance. */
#ifndef TRUNNION_TEST_BALANCE_CASE_H
#define TRUNNION_TEST_BALANCE_CASE_H

#include <gsl/gsl_math.h>
#include <trunnion/balance.h>

static const double rpm = M_PI / 30;
static const double deg = M_PI / 180;
static const double zero_c = 273.15;

/* The worked case of the heat page: invented, its figures follow from the formulas (derived), so
 * they test the code, not the physics. */
typedef struct worked {
    trn_balance_mesh mesh;
    trn_balance_bearing bearings[4];
    trn_balance_seal seals[2];
    trn_balance_box box;
} worked;

/* A second box: helical and spur meshes on one axle, ball and roller bearings, load cases. */
typedef struct helical_box {
    trn_balance_mesh meshes[2];
    trn_balance_bearing bearings[3];
    trn_balance_seal seal;
    trn_balance_box box;
} helical_box;

void worked_case(worked *w);
void helical_case(helical_box *h);

/* The balance of a box that has one. */
trn_balance_result solved(const trn_balance_box *box);

/* Half a unit of the last digit printed; `what` is printed on failure. */
void printed(const char *what, double wanted, double got, double digit);

#endif
