/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statics of an axle on two bearings. */
#include <gsl/gsl_math.h>
#include <trunnion/axle.h>

#include "bearing_guard.h"

static bool known_mesh(trn_mesh_kind kind)
{
    return (int)kind >= 0 && kind <= TRN_MESH_HELICAL;
}

static bool is_bevel(trn_mesh_kind kind)
{
    return kind == TRN_MESH_STRAIGHT_BEVEL || kind == TRN_MESH_SPIRAL_BEVEL;
}

static bool known_apex(trn_apex apex)
{
    return apex == TRN_APEX_PLUS || apex == TRN_APEX_MINUS;
}

/* sense of the axle when the gear turns cw */
static int sigma_of_cw(trn_mesh_kind kind, trn_apex apex)
{
    return is_bevel(kind) && apex == TRN_APEX_PLUS ? 1 : -1;
}

trn_status trn_axle_turn(trn_mesh_kind kind, trn_apex apex, trn_rotation rotation, int *sigma)
{
    if (!known_mesh(kind) || (is_bevel(kind) && !known_apex(apex)) ||
        (rotation != TRN_TURN_CW && rotation != TRN_TURN_CCW))
        return TRN_E_DOMAIN;
    int cw = sigma_of_cw(kind, apex);
    *sigma = rotation == TRN_TURN_CW ? cw : -cw;
    return TRN_OK;
}

trn_status trn_axle_rotation(trn_mesh_kind kind, trn_apex apex, int sigma,
                             trn_rotation *rotation)
{
    if (!known_mesh(kind) || (is_bevel(kind) && !known_apex(apex)) ||
        (sigma != 1 && sigma != -1))
        return TRN_E_DOMAIN;
    *rotation = sigma == sigma_of_cw(kind, apex) ? TRN_TURN_CW : TRN_TURN_CCW;
    return TRN_OK;
}

trn_status trn_axle_mate_rotation(trn_rotation rotation, trn_rotation *mate)
{
    if (rotation != TRN_TURN_CW && rotation != TRN_TURN_CCW)
        return TRN_E_DOMAIN;
    *mate = rotation == TRN_TURN_CW ? TRN_TURN_CCW : TRN_TURN_CW;
    return TRN_OK;
}

/* force along x on the gear */
static double along_axle(const trn_axle_mesh *mesh, double k)
{
    if (is_bevel(mesh->kind)) /* Fa points away from the apex */
        return mesh->apex == TRN_APEX_PLUS ? -mesh->force.Fa : mesh->force.Fa;
    if (mesh->kind == TRN_MESH_SPUR)
        return 0;
    double h = mesh->hand == TRN_HAND_RIGHT ? 1 : -1;
    return h * -k * mesh->sigma * mesh->force.Fa;
}

static bool mesh_holds(const trn_axle_mesh *mesh)
{
    const trn_tooth_force *f = &mesh->force;
    if (!known_mesh(mesh->kind) ||
        (mesh->role != TRN_MESH_DRIVER && mesh->role != TRN_MESH_DRIVEN) ||
        (mesh->sigma != 1 && mesh->sigma != -1) || !not_negative(f->Ft) || !isfinite(f->Fr) ||
        !isfinite(f->Fa) || !isfinite(mesh->azimuth_rad) || !isfinite(mesh->station) ||
        !is_positive(mesh->r_m))
        return false;
    if (is_bevel(mesh->kind))
        return known_apex(mesh->apex);
    if (mesh->kind == TRN_MESH_HELICAL)
        return not_negative(f->Fa) &&
               (mesh->hand == TRN_HAND_RIGHT || mesh->hand == TRN_HAND_LEFT);
    return true;
}

trn_status trn_axle_mesh_load(trn_axle_mesh mesh, trn_axle_load *load)
{
    if (!mesh_holds(&mesh))
        return TRN_E_DOMAIN;
    double k = mesh.role == TRN_MESH_DRIVER ? -1 : 1;
    double c = cos(mesh.azimuth_rad);
    double s = sin(mesh.azimuth_rad);
    double tangential = k * mesh.sigma * mesh.force.Ft;
    double Fx = along_axle(&mesh, k);
    double Fy = -tangential * s - mesh.force.Fr * c;
    double Fz = tangential * c - mesh.force.Fr * s;
    /* r x F with r = (station, r_m e_r); about x the radial force has no arm */
    *load = (trn_axle_load){.Fx = Fx,
                            .Fy = Fy,
                            .Fz = Fz,
                            .Mx = tangential * mesh.r_m,
                            .My = mesh.r_m * s * Fx - mesh.station * Fz,
                            .Mz = mesh.station * Fy - mesh.r_m * c * Fx};
    return TRN_OK;
}

static bool load_is_finite(const trn_axle_load *load)
{
    return isfinite(load->Fx) && isfinite(load->Fy) && isfinite(load->Fz) &&
           isfinite(load->Mx) && isfinite(load->My) && isfinite(load->Mz);
}

trn_status trn_axle_sum(size_t n, const trn_axle_load *loads, trn_axle_load *sum)
{
    trn_axle_load total = {0};
    for (size_t i = 0; i < n; i++) {
        total.Fx += loads[i].Fx;
        total.Fy += loads[i].Fy;
        total.Fz += loads[i].Fz;
        total.Mx += loads[i].Mx;
        total.My += loads[i].My;
        total.Mz += loads[i].Mz;
    }
    if (!load_is_finite(&total))
        return TRN_E_DOMAIN;
    *sum = total;
    return TRN_OK;
}

trn_status trn_axle_reactions(trn_axle_load sum, double x_A, double x_B,
                              trn_axle_reaction *reaction)
{
    double L = x_B - x_A;
    if (!load_is_finite(&sum) || !isfinite(L) || L == 0)
        return TRN_E_DOMAIN;
    double about_y = sum.My + x_A * sum.Fz; /* moments about A */
    double about_z = sum.Mz - x_A * sum.Fy;
    double R_By = -about_z / L;
    double R_Bz = about_y / L;
    double R_Ay = -sum.Fy - R_By;
    double R_Az = -sum.Fz - R_Bz;
    *reaction = (trn_axle_reaction){.R_Ay = R_Ay,
                                    .R_Az = R_Az,
                                    .R_By = R_By,
                                    .R_Bz = R_Bz,
                                    .FrA = hypot(R_Ay, R_Az),
                                    .FrB = hypot(R_By, R_Bz),
                                    .K = sum.Fx,
                                    .T = sum.Mx};
    return TRN_OK;
}

trn_status trn_axle_couple(double M_p, double span, double *F)
{
    if (!not_negative(M_p) || !isfinite(span) || span == 0)
        return TRN_E_DOMAIN;
    *F = M_p / fabs(span);
    return TRN_OK;
}

trn_status trn_axle_couple_vector(double M_p, double theta_rad, double plane_rad, double *My,
                                  double *Mz)
{
    if (!not_negative(M_p) || !isfinite(theta_rad) || !isfinite(plane_rad))
        return TRN_E_DOMAIN;
    /* (M_p/2)(1 + cos 2 theta, sin 2 theta) = M_p cos theta (cos theta, sin theta) */
    double along = M_p * cos(theta_rad);
    *My = along * cos(plane_rad + theta_rad);
    *Mz = along * sin(plane_rad + theta_rad);
    return TRN_OK;
}

trn_status trn_axle_side_force(double T, double beta_rad, double L_t, double overhang,
                               double span, double *F, double *F_near)
{
    if (!not_negative(T) || !(beta_rad >= 0 && beta_rad < M_PI_2) || !is_positive(L_t) ||
        !not_negative(overhang) || !isfinite(span) || span == 0)
        return TRN_E_DOMAIN;
    double side = 2 * T * sin(beta_rad) / L_t;
    *F = side;
    *F_near = side * (1 + overhang / fabs(span));
    return TRN_OK;
}

/* ---- thrust ------------------------------------------------------------------------------- */

static bool support_holds(const trn_axle_support *support)
{
    return (int)support->kind >= 0 && support->kind < TRN_BEARING_KINDS &&
           (int)support->thrust >= 0 && support->thrust <= TRN_THRUST_BOTH &&
           not_negative(support->S);
}

static bool needs_partner(trn_bearing_kind kind)
{
    return kind >= TRN_BEARING_ANGULAR_15 && kind <= TRN_BEARING_TAPERED;
}

static bool are_opposed(trn_thrust_word a, trn_thrust_word b)
{
    return (a == TRN_THRUST_PLUS && b == TRN_THRUST_MINUS) ||
           (a == TRN_THRUST_MINUS && b == TRN_THRUST_PLUS);
}

static bool takes(trn_thrust_word thrust, double K)
{
    return thrust == TRN_THRUST_BOTH || (thrust == TRN_THRUST_PLUS && K > 0) ||
           (thrust == TRN_THRUST_MINUS && K < 0);
}

/* the thrust that counts: sums of tooth forces that cancel leave a rounding error */
static double counted(double K, double largest)
{
    return fabs(K) <= SLACK * largest ? 0 : K;
}

static trn_axle_hold hold_of(const trn_axle_support *A, const trn_axle_support *B, double K)
{
    if (are_opposed(A->thrust, B->thrust))
        return TRN_HOLD_HELD;
    if (needs_partner(A->kind) || needs_partner(B->kind))
        return TRN_HOLD_NOT_OPPOSED;
    if (A->thrust == TRN_THRUST_BOTH && B->thrust == TRN_THRUST_BOTH)
        return TRN_HOLD_OVER_LOCATED;
    if (A->thrust == TRN_THRUST_BOTH || B->thrust == TRN_THRUST_BOTH || K == 0)
        return TRN_HOLD_HELD;
    bool by_A = takes(A->thrust, K);
    bool by_B = takes(B->thrust, K);
    return by_A && by_B ? TRN_HOLD_OVER_LOCATED
           : by_A || by_B ? TRN_HOLD_HELD
                          : TRN_HOLD_NOT_HELD;
}

trn_status trn_axle_held(trn_axle_support A, trn_axle_support B, double K, double largest,
                         trn_axle_hold *hold)
{
    if (!support_holds(&A) || !support_holds(&B) || !isfinite(K) || !not_negative(largest))
        return TRN_E_DOMAIN;
    *hold = hold_of(&A, &B, counted(K, largest));
    return TRN_OK;
}

trn_status trn_axle_thrust(trn_axle_support A, trn_axle_support B, double K, double largest,
                           double *FaA, double *FaB)
{
    trn_axle_hold hold = TRN_HOLD_HELD;
    trn_status status = trn_axle_held(A, B, K, largest, &hold);
    if (status < 0)
        return status;
    if (hold == TRN_HOLD_NOT_HELD || hold == TRN_HOLD_NOT_OPPOSED)
        return TRN_E_DOMAIN;
    if (are_opposed(A.thrust, B.thrust))
        return A.thrust == TRN_THRUST_PLUS ? trn_bearing_opposed(A.S, B.S, K, FaA, FaB)
                                           : trn_bearing_opposed(B.S, A.S, K, FaB, FaA);
    double left = counted(K, largest);
    /* a `both` bearing locates, whatever the other takes */
    bool one_locates = (A.thrust == TRN_THRUST_BOTH) != (B.thrust == TRN_THRUST_BOTH);
    bool by_A = takes(A.thrust, left) && !(one_locates && B.thrust == TRN_THRUST_BOTH);
    bool by_B = takes(B.thrust, left) && !(one_locates && A.thrust == TRN_THRUST_BOTH);
    *FaA = by_A ? fabs(left) : 0;
    *FaB = by_B ? fabs(left) : 0;
    return hold == TRN_HOLD_OVER_LOCATED ? TRN_R_AXLE_OVER_LOCATED : TRN_OK;
}
