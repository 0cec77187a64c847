/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_math.h>
#include <trunnion/gear_force.h>

#include "bearing_guard.h"

static bool pressure_angle(double alpha_rad)
{
    return alpha_rad > 0 && alpha_rad < M_PI_4;
}

static bool helix_angle(double beta_rad)
{
    return beta_rad >= 0 && beta_rad < M_PI / 3;
}

trn_status trn_gear_spur_force(double T, double d, double alpha_rad, trn_tooth_force *force)
{
    return trn_gear_helical_force(T, d, alpha_rad, 0, force);
}

trn_status trn_gear_helical_force(double T, double d, double alpha_n_rad, double beta_rad,
                                  trn_tooth_force *force)
{
    if (!not_negative(T) || !is_positive(d) || !pressure_angle(alpha_n_rad) ||
        !helix_angle(beta_rad))
        return TRN_E_DOMAIN;
    double Ft = 2 * T / d;
    /* Budynas and Nisbett, ch. 13 */
    *force = (trn_tooth_force){.Ft = Ft,
                               .Fr = Ft * tan(alpha_n_rad) / cos(beta_rad),
                               .Fa = Ft * tan(beta_rad)};
    return TRN_OK;
}

/* +1 where the inclined tooth pushes this gear away from its apex, -1 where it pulls it in */
static double spiral_sign(trn_hand hand, trn_rotation rotation, trn_mesh_role role)
{
    double s = (hand == TRN_HAND_RIGHT) == (rotation == TRN_TURN_CW) ? -1 : 1;
    return role == TRN_MESH_DRIVER ? s : -s;
}

static bool known_words(const trn_bevel_mesh *mesh)
{
    return (mesh->hand == TRN_HAND_RIGHT || mesh->hand == TRN_HAND_LEFT) &&
           (mesh->rotation == TRN_TURN_CW || mesh->rotation == TRN_TURN_CCW) &&
           (mesh->role == TRN_MESH_DRIVER || mesh->role == TRN_MESH_DRIVEN);
}

trn_status trn_gear_bevel_force(trn_bevel_mesh mesh, double *d_m, trn_tooth_force *force)
{
    if (!not_negative(mesh.T) || !is_positive(mesh.d_e) || !not_negative(mesh.b) ||
        !pressure_angle(mesh.alpha_n_rad) || !helix_angle(mesh.psi_rad) || !known_words(&mesh) ||
        !(mesh.delta_rad > 0 && mesh.delta_rad < M_PI_2))
        return TRN_E_DOMAIN;
    double sin_delta = sin(mesh.delta_rad);
    double cos_delta = cos(mesh.delta_rad);
    double cone_distance = mesh.d_e / (2 * sin_delta);
    if (!(mesh.b < cone_distance))
        return TRN_E_DOMAIN;
    double mean_diameter = mesh.d_e - mesh.b * sin_delta;
    double Ft = 2 * mesh.T / mean_diameter;
    double normal = Ft / cos(mesh.psi_rad);
    double s_sin_psi = spiral_sign(mesh.hand, mesh.rotation, mesh.role) * sin(mesh.psi_rad);
    double tan_alpha = tan(mesh.alpha_n_rad);
    *d_m = mean_diameter;
    *force = (trn_tooth_force){.Ft = Ft,
                               .Fr = normal * (tan_alpha * cos_delta - s_sin_psi * sin_delta),
                               .Fa = normal * (tan_alpha * sin_delta + s_sin_psi * cos_delta)};
    return at_most(mesh.b, cone_distance / 3) ? TRN_OK : TRN_R_GEAR_WIDE;
}
