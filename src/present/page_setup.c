/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fit and angles of the shafts, losses and temperatures, lives. */
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <trunnion/cautions.h>

#include "page_parts.h"
#include "views.h"

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

static const char *condition_of(const trn_results *r, size_t condition)
{
    return condition < r->machine->duty_count ? r->machine->duty[condition].condition : "all";
}

static const char joint_caption[] =
    "Speed swing: (largest - smallest)/mean of the output over one turn. Couple: on the bearings "
    "of the driving and of the driven axis. Speeds, accelerations and thrust are in joints.csv.";

/* ---- fit and angles ------------------------------------------------------------------------- */

static bool with_speed(const void *context, const trn_results *r, const void *row_)
{
    const trn_joint_row *row = row_;
    (void)context;
    return row->condition < r->machine->duty_count;
}

static bool of_no_condition(const void *context, const trn_results *r, const void *row_)
{
    const trn_joint_row *row = row_;
    (void)context;
    (void)r;
    return row->condition == TRN_NONE;
}

static void joint_basis(const void *context, const trn_results *r, const void *row_,
                        trn_buffer *out)
{
    const trn_joint_row *row = row_;
    char address[400];
    (void)snprintf(address, sizeof address, "joints.%s.%s", condition_of(r, row->condition),
                   r->machine->shafts[row->shaft].shaft);
    if (row->condition != TRN_NONE)
        trn_page_basis(context, address, out);
}

void trn_page_setup(trn_page *page)
{
    static const trn_html_pick fit[] = {
        {.field = "shaft", .head = "Shaft"},
        {.field = "shortest_at", .head = "Shortest at"},
        {.field = "clearance", .head = "Clearance [mm]"},
        {.field = "longest_at", .head = "Longest turning at"},
        {.field = "overlap", .head = "Overlap [mm]"},
        {.field = "overlap_needed", .head = "Needed [mm]"},
        {.field = "cut", .head = "Cut [mm]"},
        {.field = "largest_angle_turning", .head = "Angle turning [deg]"},
        {.field = "at", .head = "At"},
        {.field = "angle_limit", .head = "Limit [deg]"},
        {.field = "fits", .head = "Fits"},
        {.field = "remark", .head = "Notes"},
    };
    static const trn_html_pick joints[] = {
        {.field = "shaft", .head = "Shaft"},
        {.field = "position", .head = "Position"},
        {.field = "torque", .head = "Torque [N.m]"},
        {.field = "angle_in", .head = "Angle in [deg]"},
        {.field = "angle_out", .head = "Angle out [deg]"},
        {.field = "fluctuation", .head = "Speed swing [%]"},
        {.field = "ripple", .head = "Ripple [N.m]"},
        {.field = "couple_in", .head = "Couple in [N.m]"},
        {.field = "couple_out", .head = "Couple out [N.m]"},
        {.field = "remark", .head = "Notes"},
        {.head = "Weakest basis", .text = joint_basis},
    };
    static const trn_html_pick places[] = {
        {.field = "shaft", .head = "Shaft"},
        {.field = "position", .head = "Position"},
        {.field = "angle_in", .head = "Angle in [deg]"},
        {.field = "angle_out", .head = "Angle out [deg]"},
        {.field = "fluctuation", .head = "Speed swing [%]"},
        {.field = "length", .head = "Length [mm]"},
        {.field = "clearance", .head = "Clearance [mm]"},
        {.field = "overlap", .head = "Overlap [mm]"},
        {.field = "remark", .head = "Notes"},
    };
    trn_html *html = &page->html;
    trn_html_caution(html, "%s", trn_caution_text(TRN_CAUTION_SHAFTS));
    if (page->m->shafts_count == 0) {
        trn_html_paragraph(html, "The case has no shafts.csv: fit and angles were not computed.");
        return;
    }
    const trn_view *view = trn_view_find("joints");
    trn_html_view_planned(html, trn_view_find("fit"), page->r,
                          &(trn_html_plan){.picks = fit, .count = COUNT(fit)});
    trn_html_view_planned(html, view, page->r,
                          &(trn_html_plan){.title = "Joints in each condition", .picks = joints,
                                           .caption = joint_caption,
                                           .count = COUNT(joints), .keep = with_speed,
                                           .context = page});
    trn_html_view_planned(html, view, page->r,
                          &(trn_html_plan){.title = "Positions that no condition uses",
                                           .caption = "Geometry and speeds only: nothing that "
                                                      "needs a torque.",
                                           .picks = places, .count = COUNT(places),
                                           .keep = of_no_condition, .no_groups = true});
    trn_page_pictures(page, "one_turn", "one_turn.csv");
}

/* ---- heat ----------------------------------------------------------------------------------- */

static const trn_band_row *band_of(const trn_results *r, const char *quantity,
                                   const char *condition, const char *object)
{
    for (size_t i = 0; r->draws && i < r->draws->bands_count; i++) {
        const trn_band_row *b = &r->draws->bands[i];
        if (strcmp(b->quantity, quantity) == 0 && strcmp(b->object, object) == 0 &&
            strcmp(b->condition, condition) == 0)
            return b;
    }
    return NULL;
}

static const trn_band_row *band_of_oil(const trn_results *r, const trn_heat_row *row)
{
    return band_of(r, "oil_temperature", condition_of(r, row->condition),
                   r->machine->gearboxes[row->gearbox].gearbox);
}

/* Without draws the balance is good to some 7 K either way. */
static void oil_text(const void *context, const trn_results *r, const void *row_, trn_buffer *out)
{
    const trn_heat_row *row = row_;
    const trn_band_row *b = band_of_oil(r, row);
    double t = row->oil_temperature_c;
    char text[48];
    (void)context;
    trn_number_within(t, b ? b->low : t - 7, b ? b->high : t + 7, text, sizeof text);
    trn_buffer_add(out, text);
}

static void oil_band(const void *context, const trn_results *r, const void *row,
                     trn_buffer *out)
{
    const trn_band_row *b = band_of_oil(r, row);
    (void)context;
    if (b)
        trn_page_band(b->low, b->high, out);
}

static void heat_basis(const void *context, const trn_results *r, const void *row_,
                       trn_buffer *out)
{
    const trn_heat_row *row = row_;
    char address[400];
    (void)snprintf(address, sizeof address, "heat.%s.%s", condition_of(r, row->condition),
                   r->machine->gearboxes[row->gearbox].gearbox);
    trn_page_basis(context, address, out);
}

void trn_page_heat(trn_page *page)
{
    static const trn_html_pick picks[] = {
        {.field = "gearbox", .head = "Gearbox"},
        {.field = "power", .head = "Power [kW]"},
        {.field = "mesh", .head = "Mesh [W]"},
        {.field = "churning", .head = "Churning [W]"},
        {.field = "bearings", .head = "Bearings [W]"},
        {.field = "seals", .head = "Seals [W]"},
        {.field = "loss", .head = "Loss [W]"},
        {.head = "Oil [degC]", .text = oil_text, .number = true},
        {.head = "10 to 90 % [degC]", .text = oil_band},
        {.field = "viscosity", .head = "Viscosity [mm2/s]"},
        {.field = "time_constant", .head = "Time constant [min]"},
        {.field = "remark", .head = "Notes"},
        {.head = "Weakest basis", .text = heat_basis},
    };
    trn_html *html = &page->html;
    trn_html_caution(html, "%s", trn_caution_text(TRN_CAUTION_OIL));
    if (page->m->gearboxes_count == 0) {
        trn_html_paragraph(html, "The case has no gearboxes.csv: losses and oil temperatures were "
                                 "not computed.");
        return;
    }
    trn_html_view_planned(
        html, trn_view_find("heat"), page->r,
        &(trn_html_plan){.caption = "A balance is good to some 7 K either way, to more where the "
                                    "surface is a guess. 10 to 90 %: of the draws. The spread of "
                                    "the churning laws alone is in heat.csv.",
                         .picks = picks, .count = COUNT(picks), .context = page});
    trn_page_pictures(page, "losses", "the table above and heat.csv");
    trn_page_pictures(page, "warmup", "warmup.csv");
}

/* ---- lives ---------------------------------------------------------------------------------- */

enum { LONG_LIFE_H = 100000 };

static void life_text(double life, double low, double high, trn_buffer *out)
{
    char text[48];
    if (life > LONG_LIFE_H) {
        trn_buffer_add(out, "> 100 000");
        return;
    }
    trn_number_within(life, low, high, text, sizeof text);
    trn_buffer_add(out, text);
}

static void life_band(double low, double high, trn_buffer *out)
{
    if (low > LONG_LIFE_H)
        trn_buffer_add(out, "> 100 000");
    else if (high > LONG_LIFE_H && !isnan(low)) {
        char text[48];
        trn_number_within(low, low, 2 * low, text, sizeof text);
        trn_buffer_print(out, "%s to > 100 000", text);
    } else
        trn_page_band(low, high, out);
}

static void system_life(const void *context, const trn_results *r, const void *row_,
                        trn_buffer *out)
{
    const trn_gearbox_row *row = row_;
    (void)context;
    (void)r;
    if (!isnan(row->lnmh_h))
        life_text(row->lnmh_h, row->lnmh_low_h, row->lnmh_high_h, out);
}

static void system_band(const void *context, const trn_results *r, const void *row_,
                        trn_buffer *out)
{
    const trn_gearbox_row *row = row_;
    (void)context;
    (void)r;
    life_band(row->lnmh_low_h, row->lnmh_high_h, out);
}

static void reliability(const void *context, const trn_results *r, const void *row_,
                        trn_buffer *out)
{
    const trn_gearbox_row *row = row_;
    char text[48];
    (void)context;
    (void)r;
    trn_number_within(row->reliability_pct, row->reliability_low_pct, row->reliability_high_pct,
                      text, sizeof text);
    trn_buffer_add(out, text);
}

static void reliability_band(const void *context, const trn_results *r, const void *row_,
                             trn_buffer *out)
{
    const trn_gearbox_row *row = row_;
    (void)context;
    (void)r;
    trn_page_band(row->reliability_low_pct, row->reliability_high_pct, out);
}

static void system_basis(const void *context, const trn_results *r, const void *row_,
                         trn_buffer *out)
{
    size_t i = (size_t)((const trn_gearbox_row *)row_ - r->gearboxes);
    char address[400];
    (void)snprintf(address, sizeof address, "gearbox_life.%s", r->machine->gearboxes[i].gearbox);
    trn_page_basis(context, address, out);
}

static bool over_the_duty(const void *context, const trn_results *r, const void *row_)
{
    const trn_bearing_row *row = row_;
    (void)context;
    return row->condition == r->machine->duty_count;
}

static void modified_life(const void *context, const trn_results *r, const void *row_,
                          trn_buffer *out)
{
    const trn_bearing_row *row = row_;
    (void)context;
    (void)r;
    if (!isnan(row->lnmh_h))
        life_text(row->lnmh_h, row->lnmh_low_h, row->lnmh_high_h, out);
}

static void modified_band(const void *context, const trn_results *r, const void *row_,
                          trn_buffer *out)
{
    const trn_bearing_row *row = row_;
    (void)context;
    (void)r;
    life_band(row->lnmh_low_h, row->lnmh_high_h, out);
}

static void bearing_basis(const void *context, const trn_results *r, const void *row_,
                          trn_buffer *out)
{
    const trn_bearing_row *row = row_;
    char address[400];
    (void)snprintf(address, sizeof address, "bearing_lives.all.%s",
                   r->machine->bearings[row->bearing].bearing);
    trn_page_basis(context, address, out);
}

static bool joint_over_the_duty(const void *context, const trn_results *r, const void *row_)
{
    const trn_joint_row *row = row_;
    (void)context;
    return row->condition == r->machine->duty_count;
}

static const trn_html_pick systems[] = {
    {.field = "gearbox", .head = "Gearbox"},
    {.field = "L10h", .head = "Basic life L10h [h]"},
    {.head = "Modified life Lnmh [h]", .text = system_life, .number = true},
    {.head = "10 to 90 % [h]", .text = system_band},
    {.head = "Reach the design life [%]", .text = reliability, .number = true},
    {.head = "10 to 90 % [%]", .text = reliability_band},
    {.field = "weakest", .head = "Weakest"},
    {.field = "remark", .head = "Notes"},
    {.head = "Weakest basis", .text = system_basis},
};

static const trn_html_pick bearings[] = {
    {.field = "bearing", .head = "Bearing"},
    {.field = "gearbox", .head = "Gearbox"},
    {.field = "a_iso", .head = "a_iso"},
    {.field = "L10h", .head = "Basic life L10h [h]"},
    {.head = "Modified life Lnmh [h]", .text = modified_life, .number = true},
    {.head = "10 to 90 % [h]", .text = modified_band},
    {.field = "remark", .head = "Notes"},
    {.head = "Weakest basis", .text = bearing_basis},
};

static const trn_html_pick crosses[] = {
    {.field = "shaft", .head = "Shaft"},
    {.field = "life_in", .head = "Life in [h]"},
    {.field = "life_out", .head = "Life out [h]"},
    {.field = "remark", .head = "Notes"},
    {.head = "Weakest basis", .text = joint_basis},
};

static void life_tables(trn_page *page)
{
    trn_html *html = &page->html;
    trn_html_view_planned(html, trn_view_find("gearbox_life"), page->r,
                          &(trn_html_plan){.picks = systems, .count = COUNT(systems),
                                           .context = page});
    trn_html_view_planned(html, trn_view_find("bearing_lives"), page->r,
                          &(trn_html_plan){.title = "Bearings over the duty",
                                           .caption = "Loads, kappa and e_C in each condition are "
                                                      "in bearing_lives.csv.",
                                           .picks = bearings, .count = COUNT(bearings),
                                           .keep = over_the_duty, .context = page,
                                           .no_groups = true});
    trn_html_view_planned(html, trn_view_find("joints"), page->r,
                          &(trn_html_plan){.title = "Crosses over the duty",
                                           .caption = "Fatigue of the needles only, an upper "
                                                      "bound: dirt and poor grease end most "
                                                      "crosses long before.",
                                           .picks = crosses, .count = COUNT(crosses),
                                           .keep = joint_over_the_duty, .context = page,
                                           .no_groups = true});
}

void trn_page_lives(trn_page *page)
{
    trn_html *html = &page->html;
    char r[48];
    trn_number_for_people(100 * page->m->head.reliability, 3, r, sizeof r);
    if (page->m->bearings_count == 0) {
        trn_html_paragraph(html, "The case has no bearings.csv: lives of bearings were not "
                                 "computed.");
        if (page->m->shafts_count == 0)
            return;
    } else {
        trn_html_paragraph(html,
                           "Basic life: hours that 90 of a hundred such bearings reach; modified "
                           "life: that %s of a hundred reach, oil and dirt counted in. Bearings "
                           "only: teeth, axles, splines, seals and housings are not in it.",
                           r);
    }
    life_tables(page);
    trn_page_pictures(page, "bearing_lives", "the tables above and bearing_lives.csv");
}
