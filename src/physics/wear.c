/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <trunnion/wear.h>

trn_status trn_wear_archard(double k, double force_n, double slid_m, double hard_pa,
                            double *volume_m3)
{
    if (!(k >= 0) || !(force_n >= 0) || !(slid_m >= 0) || !(hard_pa > 0) || !isfinite(hard_pa))
        return TRN_E_DOMAIN;
    double volume = k * force_n * slid_m / hard_pa; /* Archard1953 */
    if (!isfinite(volume))
        return TRN_E_DOMAIN;
    *volume_m3 = volume;
    return TRN_OK;
}
