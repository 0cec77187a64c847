/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Damage signs against causes: engineering judgement (standing: practice), made to be
 * calibrated. */
#include <trunnion/evidence.h>

const char *const trn_evidence_causes[] = {"overload",      "over_angle", "low_oil", "heat",
                                           "contamination", "water",      "normal",  "part",
                                           NULL};

const char *const trn_evidence_signs[] = {"scuffing",
                                          "all_tinted",
                                          "plastic_flow",
                                          "full_face_pitting",
                                          "one_end_pitting",
                                          "trunnion_end_wear",
                                          "rimmed_dents",
                                          "rust_at_pitch",
                                          "clean_spall",
                                          "low_level_fresh_leak",
                                          "origin_inclusion",
                                          "preload_marks",
                                          "wrong_oil",
                                          NULL};

const char *const trn_evidence_signs_seen[] = {
    "matt bands torn along the sliding, tinted by heat; the upper bearings ran dry",
    "every surface tinted under a hard film of oil, seals baked",
    "flanks or roots flowed or broke within few cycles; dents without rims",
    "pits over the full face width",
    "contact or pits at one end, a ball track aslant, marks twice a turn",
    "ends of the cross worn, yokes have touched, grease flung out",
    "dents with raised rims, lapped flanks, silicon with aluminium and iron, a worn seal lip",
    "rust as far apart as the rolling elements, milky oil, dark etching, micropits",
    "a clean spall from below the surface in clean oil, hours near L10 or above",
    "low level, but by a leak that is younger than the break",
    "crack or spall from an inclusion, a grinding burn, a forging lap or a soft case",
    "both races marked over their full width, roller ends polished, heat tint near new",
    "another oil in the box than the manual asks for",
    NULL};

enum { SIGNS = 13, CAUSES = 8 };

/* overload over_angle low_oil heat contamination water normal part */
static const signed char weights[SIGNS][CAUSES] = {
    {0, 0, 2, 1, 0, 0, -1, 0},    /* scuffing */
    {0, 0, 1, 2, 0, 0, -1, 0},    /* all_tinted */
    {2, 1, -1, 0, 0, 0, -1, 0},   /* plastic_flow */
    {1, -1, 0, 0, 0, 0, 2, 0},    /* full_face_pitting */
    {0, 2, 0, 0, 0, 0, -1, 1},    /* one_end_pitting */
    {1, 2, 1, 1, 0, 0, 0, 0},     /* trunnion_end_wear */
    {0, 0, 0, 0, 2, 1, -1, 0},    /* rimmed_dents */
    {0, 0, 0, 0, 1, 2, -1, 0},    /* rust_at_pitch */
    {0, 0, -1, -1, -1, -1, 2, -1}, /* clean_spall */
    {0, 0, -1, 0, 0, 0, 0, 0},    /* low_level_fresh_leak */
    {0, 0, 0, 0, 0, 0, -1, 2},    /* origin_inclusion */
    {0, 0, 0, 1, 0, 0, -1, 2},    /* preload_marks */
    {0, 0, 1, 1, 0, 0, -1, 0},    /* wrong_oil */
};

trn_status trn_evidence_sign_weight(size_t sign, size_t cause, int *weight)
{
    if (sign >= SIGNS || cause >= CAUSES)
        return TRN_E_DOMAIN;
    *weight = weights[sign][cause];
    return TRN_OK;
}
