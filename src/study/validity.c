/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which remarks say that a number lies outside what its formula was made for. */
#include <trunnion/balance.h>
#include <trunnion/study.h>

/* Statuses that tell of an input that is missing, or of a plain result. */
static bool plain(trn_status status)
{
    switch (status) {
    case TRN_R_INTERVAL_NO_OIL_TEMPERATURE:
    case TRN_R_INTERVAL_NO_AGEING_LIFE:
    case TRN_R_INTERVAL_NO_OIL_MASS:
    case TRN_R_INTERVAL_NO_WATER:
    case TRN_R_INTERVAL_NO_HEADSPACE:
    case TRN_R_INTERVAL_NO_RATED_POWER:
    case TRN_R_INTERVAL_NO_SAMPLES:
    case TRN_R_INTERVAL_WATER_NEVER:
    case TRN_R_INTERVAL_NEVER:
        return true;
    default:
        return false;
    }
}

/* Warnings of the heat balance under which its laws are extrapolated or hold no longer. */
static bool extrapolated(const char *warning)
{
    static const trn_balance_warning_place places[] = {
        TRN_BALANCE_PLACE_LOW_OIL,         TRN_BALANCE_PLACE_NO_BALANCE,
        TRN_BALANCE_PLACE_NO_BALANCE_HIGH, TRN_BALANCE_PLACE_COLD,
        TRN_BALANCE_PLACE_GROUND,          TRN_BALANCE_PLACE_DEEP,
        TRN_BALANCE_PLACE_LIGHT,           TRN_BALANCE_PLACE_FAST_FRICTION,
        TRN_BALANCE_PLACE_PATH,            TRN_BALANCE_PLACE_FACE};
    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++)
        if (warning == trn_balance_warning_text(places[i]))
            return true;
    return false;
}

bool trn_remarks_outside(const trn_remarks *list)
{
    for (size_t i = 0; i < list->n; i++)
        switch (list->v[i].id) {
        case TRN_M_STATUS:
            if (list->v[i].status > 0 && !plain(list->v[i].status))
                return true;
            break;
        case TRN_M_TEXT:
            if (extrapolated(list->v[i].name))
                return true;
            break;
        case TRN_M_SMALL_ANGLE:
        case TRN_M_OSCILLATION:
        case TRN_M_RESONANCE:
        case TRN_M_HANGS_ON_RESONANCE:
        case TRN_M_BOTTOMS:
        case TRN_M_NO_ROOT:
        case TRN_M_LOW_OIL:
        case TRN_M_MIN_LOAD:
        case TRN_M_DIRTIER:
            return true;
        default:
            break;
        }
    return false;
}
