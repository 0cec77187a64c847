/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Units: the trade's spellings, angle as a dimension, refusals, threads, locale. Values: exact
 * definitions (inch 25.4 mm, pound 0.45359237 kg, g 9.80665 m/s2, gallon 231 in3, minute 60 s). */
#include <criterion/criterion.h>
#include <locale.h>
#include <math.h>
#include <pthread.h>
#include <stdio.h>
#include <string.h>
#include <trunnion/units.h>

#include "support.h"

#define PI 3.14159265358979323846
#define G 9.80665
#define LB 0.45359237
#define FT 0.3048

typedef struct row {
    const char *from, *to;
    double scale, offset;
} row;

/* Every unit of the catalogue's text, into its SI unit: scale and offset. */
static const row si[] = {
    {"deg", "rad", PI / 180, 0},
    {"rad", "rad", 1, 0},
    {"rpm", "rad/s", PI / 30, 0},
    {"rad/s", "rad/s", 1, 0},
    {"rad/s2", "rad/s2", 1, 0},
    {"kW", "W", 1000, 0},
    {"hp", "W", 550 * FT * LB * G, 0},
    {"PS", "W", 75 * G, 0},
    {"N.m", "N.m", 1, 0},
    {"lbf.ft", "N.m", FT * LB * G, 0},
    {"lbf.in", "N.m", FT / 12 * LB * G, 0},
    {"N.mm", "N.m", 1e-3, 0},
    {"N.m/deg", "N.m/rad", 180 / PI, 0},
    {"kN", "N", 1000, 0},
    {"lbf", "N", LB * G, 0},
    {"N/mm", "N/m", 1000, 0},
    {"MPa", "Pa", 1e6, 0},
    {"GPa", "Pa", 1e9, 0},
    {"1/GPa", "1/Pa", 1e-9, 0},
    {"mm", "m", 1e-3, 0},
    {"um", "m", 1e-6, 0},
    {"\xC2\xB5m", "m", 1e-6, 0},
    {"in", "m", 0.0254, 0},
    {"m2", "m2", 1, 0},
    {"mm3", "m3", 1e-9, 0},
    {"L", "m3", 1e-3, 0},
    {"mL", "m3", 1e-6, 0},
    {"gal", "m3", 231 * 0.0254 * 0.0254 * 0.0254, 0},
    {"L/h", "m3/s", 1e-3 / 3600, 0},
    {"degC", "K", 1, 273.15},
    {"degF", "K", 5.0 / 9, 273.15 - 32 * 5.0 / 9},
    {"\xC2\xB0" "C", "K", 1, 273.15},
    {"K", "K", 1, 0},
    {"mm2/s", "m2/s", 1e-6, 0},
    {"mm\xC2\xB2/s", "m2/s", 1e-6, 0},
    {"cSt", "m2/s", 1e-6, 0},
    {"mPa.s", "Pa.s", 1e-3, 0},
    {"Pa.s", "Pa.s", 1, 0},
    {"cP", "Pa.s", 1e-3, 0},
    {"h", "s", 3600, 0},
    {"min", "s", 60, 0},
    {"%", "1", 0.01, 0},
    {"ppm", "1", 1e-6, 0},
    {"ppm/h", "1/s", 1e-6 / 3600, 0},
    {"mg/m3", "kg/m3", 1e-6, 0},
    {"mg/L", "kg/m3", 1e-3, 0},
    {"mg/h", "kg/s", 1e-6 / 3600, 0},
    {"kg/h", "kg/s", 1.0 / 3600, 0},
    {"kg/m3", "kg/m3", 1, 0},
    {"kg.m2", "kg.m2", 1, 0},
    {"g", "kg", 1e-3, 0},
    {"oz", "kg", LB / 16, 0},
    {"W/m2", "W/m2", 1, 0},
    {"W/m2/K", "W/m2/K", 1, 0},
    {"W/(m2.K)", "W/m2/K", 1, 0},
    {"W/m2/degC", "W/m2/K", 1, 0},
    {"W/m/K", "W/m/K", 1, 0},
    {"W/K", "W/K", 1, 0},
    {"J/K", "J/K", 1, 0},
    {"J/kg/K", "J/kg/K", 1, 0},
    {"m/s", "m/s", 1, 0},
    {"m/s2", "m/s2", 1, 0},
    {"mm/min", "m/s", 1e-3 / 60, 0},
    {"1/h", "1/s", 1.0 / 3600, 0},
    {"Mrev", "rev", 1e6, 0},
    {"-", "1", 1, 0},
    {"", "1", 1, 0},
    {"1", "", 1, 0},
};

/* Other spellings of the trade, against a unit of the catalogue. */
static const row spellings[] = {
    {"rev/min", "rpm", 1, 0},    {"r/min", "rpm", 1, 0},      {"turn/min", "rpm", 1, 0},
    {"rev/s", "rpm", 60, 0},     {"deg/s", "rpm", 1.0 / 6, 0}, {"deg/s2", "rad/s2", PI / 180, 0},
    {"degree", "deg", 1, 0},     {"degrees", "deg", 1, 0},    {"\xC2\xB0", "deg", 1, 0},
    {"arc_degree", "deg", 1, 0}, {"mrad", "rad", 1e-3, 0},    {"rev", "deg", 360, 0},
    {"Nm", "N.m", 1, 0},         {"kNm", "N.m", 1000, 0},     {"N\xC2\xB7m", "N.m", 1, 0},
    {"N m", "N.m", 1, 0},        {"N\xC2\xA0m", "N.m", 1, 0}, {"Nmm", "N.mm", 1, 0},
    {"ft.lbf", "lbf.ft", 1, 0},  {"Nm/deg", "N.m/deg", 1, 0}, {"J", "N.m", 1, 0},
    {"HP", "hp", 1, 0},          {"CV", "PS", 1, 0},          {"horsepower", "hp", 1, 0},
    {"mPas", "cP", 1, 0},        {"kp", "N", G, 0},           {"kWh", "J", 3.6e6, 0},
    {"l", "L", 1, 0},            {"cc", "mL", 1, 0},          {"dm3", "L", 1, 0},
    {"qt", "gal", 0.25, 0},      {"pt", "gal", 0.125, 0},     {"floz", "gal", 1.0 / 128, 0},
    {"gallon", "gal", 1, 0},     {"gal/h", "L/h", 3.785411784, 0},
    {"mph", "km/h", 1.609344, 0}, {"kph", "km/h", 1, 0},      {"psi", "Pa", LB * G / 0.0254 / 0.0254, 0},
    {" kW ", "W", 1000, 0},      {"hr", "h", 1, 0},           {"bar", "MPa", 0.1, 0},
    {"ft", "mm", 304.8, 0},      {"lb", "kg", LB, 0},         {"W/degF/m2", "W/m2/K", 1.8, 0},
    {"degF", "degC", 5.0 / 9, -32 * 5.0 / 9},
    {"K", "degC", 1, -273.15},
};

static void expect_row(const row *r)
{
    double scale = -1;
    double offset = -1;
    trn_status status = trn_unit_convert(r->from, r->to, &scale, &offset);
    cr_expect(status == TRN_OK && test_near(scale, r->scale, 1e-14) &&
                  fabs(offset - r->offset) <= 1e-12,
              "%s in %s: wanted %.17g and %.17g, got %.17g and %.17g (status %d)", r->from, r->to,
              r->scale, r->offset, scale, offset, status);
}

static void expect_all(void)
{
    for (size_t i = 0; i < sizeof si / sizeof si[0]; i++)
        expect_row(&si[i]);
    for (size_t i = 0; i < sizeof spellings / sizeof spellings[0]; i++)
        expect_row(&spellings[i]);
}

Test(units, every_unit_of_the_catalogue)
{
    expect_all();
    expect_all(); /* from the cache */
    trn_unit_finish();
    expect_all(); /* and after it was given back */
    trn_unit_finish();
}

Test(units, there_and_back)
{
    for (size_t i = 0; i < sizeof si / sizeof si[0]; i++) {
        double there = 0;
        double back = 0;
        cr_expect_eq(trn_unit_value(23.85, si[i].from, si[i].to, &there), TRN_OK);
        cr_expect_eq(trn_unit_value(there, si[i].to, si[i].from, &back), TRN_OK);
        cr_expect(test_near(back, 23.85, 1e-13), "%s: %.17g", si[i].from, back);
    }
}

static void refused(const char *from, const char *to)
{
    double scale = 2.385;
    double offset = -2.385;
    trn_status status = trn_unit_convert(from, to, &scale, &offset);
    cr_expect_eq(status, TRN_E_UNIT, "%s in %s gave %.10g", from, to, scale);
    cr_expect(scale == 2.385 && offset == -2.385);
    double value = 2.385;
    cr_expect_eq(trn_unit_value(1, from, to, &value), TRN_E_UNIT);
    cr_expect_eq(value, 2.385);
}

Test(units, refusals)
{
    static const char *const pairs[][2] = {
        {"W/m2.K", "W/m2/K"}, /* reads as W K/m2 */
        {"W/m2 K", "W/m2/K"},
        {"ft.lb", "N.m"}, /* a pound of mass */
        {"kg", "N"},
        {"kg", "deg"},
        {"C", "degC"},  /* coulomb */
        {"F", "degF"},  /* farad */
        {"g", "m/s2"},
        {"mm", "mm2/s"},
        {"furlongs of oats", "m"},
        {"km/", "m"},
        {"W/m2/K", "W/m2/Q"},
        {"0 m", "m"},
        {"1e400 m", "m"},
        {"lg(re 1 W)", "W"},
        {"dBm", "W"},
        {"s since 2000-01-01", "s"},
        {"kW\n\x01", "W"},
        {"((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((("
         "((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((m",
         "m"},
    };
    for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++)
        refused(pairs[i][0], pairs[i][1]);
}

/* To the units library a radian is the number 1: 1 Hz would be 9.5 rpm and 540/min 86 rpm. */
Test(units, rotation_is_no_frequency)
{
    static const char *const frequencies[] = {"Hz", "kHz", "1/s", "s-1", "1/min", "min-1", "/min",
                                              "hertz", "Bq"};
    for (size_t i = 0; i < sizeof frequencies / sizeof frequencies[0]; i++) {
        refused(frequencies[i], "rpm");
        refused(frequencies[i], "rad/s");
        refused("rpm", frequencies[i]);
    }
    refused("deg", "1");
    refused("%", "deg");
    refused("rev", "1");
    refused("rad/s", "1/s");
    refused("rpm.mm", "mm/min");
    refused("N.m/deg", "N.m");
    refused("rad/s", "rad/s2");
}

Test(units, many_texts_do_not_grow_without_end)
{
    for (int i = 0; i < 3000; i++) {
        char text[32];
        double x = 0;
        (void)snprintf(text, sizeof text, "%d mm", i + 1);
        cr_expect_eq(trn_unit_value(1, text, "m", &x), TRN_OK);
        cr_expect(test_near(x, (i + 1) * 1e-3, 1e-14), "%s: %.17g", text, x);
    }
    expect_all();
    trn_unit_finish();
}

static void *convert_often(void *failures)
{
    size_t *n = failures;
    for (size_t k = 0; k < 200; k++)
        for (size_t i = 0; i < sizeof si / sizeof si[0]; i++) {
            double x = 0;
            trn_status status = trn_unit_value(2, si[i].from, si[i].to, &x);
            *n += status != TRN_OK || !test_near(x, 2 * si[i].scale + si[i].offset, 1e-13);
        }
    return NULL;
}

Test(units, threads)
{
    enum { THREADS = 4 };
    pthread_t thread[THREADS];
    size_t failures[THREADS] = {0};
    for (size_t i = 0; i < THREADS; i++)
        cr_assert_eq(pthread_create(&thread[i], NULL, convert_often, &failures[i]), 0);
    for (size_t i = 0; i < THREADS; i++) {
        (void)pthread_join(thread[i], NULL);
        cr_expect_eq(failures[i], 0);
    }
    trn_unit_finish();
}

Test(units, comma_locale)
{
    if (!setlocale(LC_ALL, "de_DE.UTF-8") && !setlocale(LC_ALL, "de_DE.utf8"))
        cr_skip_test("no locale with a decimal comma is installed");
    expect_all();
    cr_expect_eq(localeconv()->decimal_point[0], ',');
    trn_unit_finish();
}
