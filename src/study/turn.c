/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Speeds and torque over one turn of the driving axis of a shaft. */
#include <trunnion/joint.h>
#include <trunnion/shaft.h>

#include "study.h"

/* Angles of the pair as it acts: the wide-angle joint adds nothing, one joint has no second. */
typedef struct pair {
    double beta1, beta2, epsilon;
    bool one;
} pair;

static pair pair_of(const trn_shaft *shaft, const trn_setting *s)
{
    pair p = {s->angle_in_rad, s->angle_out_rad, shaft->yoke_error - s->zeta_rad, false};
    if (shaft->kind == TRN_ONE_JOINT)
        p = (pair){s->angle_in_rad, 0, 0, true};
    else if (shaft->kind == TRN_WIDE_ANGLE)
        p = (pair){0, s->angle_out_rad, shaft->yoke_error, false};
    return p;
}

static trn_status ratios(const pair *p, double theta, double *tube, double *out)
{
    if (!p->one)
        return trn_joint_turn(p->beta1, p->beta2, p->epsilon, theta, tube, out);
    trn_status status = trn_joint_ratio(p->beta1, theta, tube);
    if (status >= 0)
        *out = *tube;
    return status;
}

trn_status trn_study_turn(const trn_results *results, size_t condition, size_t shaft_index,
                          trn_turn turn[361])
{
    const trn_joint_row *row = trn_results_joint(results, condition, shaft_index);
    const trn_shaft *shaft = &results->machine->shafts[shaft_index];
    if (row->setting == TRN_NONE || !results->settings[row->setting].known)
        return TRN_E_UNKNOWN;
    const trn_setting *s = &results->settings[row->setting];
    pair p = pair_of(shaft, s);
    bool model = !isnan(shaft->stiffness) && !isnan(shaft->inertia_driven);
    double theta0 = 0;
    trn_status status = TRN_OK;
    if (!p.one)
        status = trn_joint_pair_phase(p.beta1, p.beta2, p.epsilon, &theta0);
    /* the model wants a mean torque; the wave about it does not depend on it */
    double idle = row->torque_nm > 0 ? 0 : 1;
    trn_shaft_line line = {.torque_nm = row->torque_nm + idle,
                           .omega_rad_s = row->speed_rpm * trn_rpm,
                           .beta_e_rad = s->angle_equivalent_rad,
                           .stiffness_nm_rad = shaft->stiffness,
                           .inertia_driven_kg_m2 = shaft->inertia_driven,
                           .inertia_driving_kg_m2 = 1e6,
                           .damping = 0.02};
    for (int i = 0; i <= 360 && status >= 0; i++) {
        double theta = i * trn_degree;
        double tube = NAN;
        double out = NAN;
        status = ratios(&p, theta, &tube, &out);
        if (status < 0)
            break;
        turn[i].tube_speed_rpm = row->speed_rpm * tube;
        turn[i].out_speed_rpm = row->speed_rpm * out;
        turn[i].torque_nm = row->torque_nm * out;
        if (model) {
            status = trn_shaft_torque_wave(line, theta, theta0, &turn[i].torque_nm);
            turn[i].torque_nm -= idle;
        }
    }
    return status < 0 ? status : TRN_OK;
}
