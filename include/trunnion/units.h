/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Units by UDUNITS-2, with the trade's spellings put before it (deg, rpm, gal, hp, PS, ppm ...)
 * and with the plane angle as a dimension of its own. */
#ifndef TRUNNION_UNITS_H
#define TRUNNION_UNITS_H

#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Value in `to` = scale * (value in `from`) + offset.
 * Given:    from, to   unit texts ("1", "-" or "" for a pure number)
 * Returned: scale, offset
 * Status:   TRN_E_UNIT where a text is no unit, or the two do not convert. A speed of rotation
 *           converts to none but such: the units library takes a radian for the pure number 1
 *           and would read 1 Hz or 1/min as rad/s or rad/min, and an angle as a ratio.
 *           Logarithmic units and points in time are refused.
 * Thread safe, independent of the locale; a pair that was asked for before is answered from a
 * cache. A slash divides by one factor only: W/m2/K, or W/(m2.K), never W/m2.K. */
trn_status trn_unit_convert(const char *from, const char *to, double *scale, double *offset);

/* One value converted, same rules.
 * Given: value in `from`. Returned: out in `to`. Status: as above, out untouched */
trn_status trn_unit_value(double value, const char *from, const char *to, double *out);

/* Frees the cache and the units library's data (for leak checks; optional). */
void trn_unit_finish(void);

#ifdef __cplusplus
}
#endif
#endif
