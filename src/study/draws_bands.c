/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bands of temperatures and lives: draws of power, shock, oil temperature, cleanliness and of the
 * life model itself, with the quantities that uncertainty.csv names, each through the whole
 * evaluation. */
#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/bearing.h>

#include "calibration.h"
#include "draws_inside.h"
#include "heat_box.h"
#include "parallel.h"
#include "study.h"

enum { BAND_DRAWS = 512 }; /* people see two digits of a life */

enum { Z_POWER, Z_SHOCK, Z_TEMPERATURE, Z_CLEANLINESS, Z_MODEL, Z_OWN };

typedef struct seat {
    trn_machine *machine;
    trn_results *results;
    char (*code)[48]; /* of each gearbox */
    trn_faults faults;
} seat;

typedef struct bands_run {
    trn_results *r;
    const trn_draws *draws;
    const trn_customs *customs;
    trn_normals normals;
    size_t quantities;
    double *value; /* [quantity * draws + draw] */
    bool *power_given; /* by condition: uncertainty.csv draws it */
    seat seats[TRN_JOBS_MAX];
} bands_run;

/* Temperatures by condition and gearbox, lives of bearings, lives and reliabilities of boxes. */
static size_t quantity_count(const trn_machine *m)
{
    return m->duty_count * m->gearboxes_count + m->bearings_count + 2 * m->gearboxes_count;
}

static bool sit(const bands_run *run, seat *s)
{
    s->machine = trn_machine_copy(run->r->machine);
    s->results = s->machine ? trn_results_new(s->machine) : NULL;
    if (s->results)
        s->results->machine = s->machine;
    s->code = calloc(run->r->machine->gearboxes_count + 1, sizeof *s->code);
    return s->results && s->code;
}

static void stand(seat *s)
{
    trn_results_free(s->results);
    trn_machine_free(s->machine);
    free(s->code);
    trn_faults_free(&s->faults);
}

static trn_spread power_spread(const trn_duty *d)
{
    return trn_choice_spread(d->power_basis == TRN_POWER_LOG ? TRN_CHOICE_POWER_LOG
                                                             : TRN_CHOICE_POWER);
}

/* Which powers uncertainty.csv draws; given[duty_count]. */
static void find_given(const trn_machine *m, const trn_path *path, bool *given)
{
    if (strcmp(path->table->name, "duty") != 0 || strcmp(path->column->name, "power") != 0)
        return;
    for (size_t r = 0; (r = trn_path_row(m, path, r)) != TRN_NONE; r++)
        given[r] = true;
}

void trn_draws_power_bases(const trn_machine *m, bool of[2])
{
    bool *given = calloc(m->duty_count + 1, sizeof *given);
    for (size_t i = 0; given && i < m->uncertainty_count; i++) {
        trn_path path;
        trn_buffer why = {0};
        if (trn_path_parse(m, m->uncertainty[i].quantity, &path, &why) == TRN_OK)
            find_given(m, &path, given);
        trn_buffer_free(&why);
    }
    of[0] = of[1] = false;
    for (size_t i = 0; given && i < m->duty_count; i++)
        if (!given[i])
            of[m->duty[i].power_basis == TRN_POWER_LOG] = true;
    free(given);
}

/* A third each: cleaner, as it is, dirtier. */
static double codes_off(double z)
{
    double u = gsl_cdf_ugaussian_P(z);
    double codes = trn_choice_value(TRN_CHOICE_CLEANLINESS);
    return u < 1.0 / 3 ? -codes : u > 2.0 / 3 ? codes : 0;
}

static void draw_cleanliness(const trn_results *r, seat *s, double codes)
{
    const trn_machine *base = r->machine;
    for (size_t g = 0; g < base->gearboxes_count; g++) {
        double r6 = 0;
        double r14 = 0;
        trn_gearbox *box = &s->machine->gearboxes[g];
        if (!base->gearboxes[g].cleanliness) {
            /* a code is a factor of two in particles, of the stated intake or that from silicon */
            box->dust_intake *= exp2(codes);
            s->results->calibrations[g].of.intake_l_h =
                r->calibrations[g].of.intake_l_h * exp2(codes);
            continue;
        }
        if (trn_bearing_code_of_text(base->gearboxes[g].cleanliness, &r6, &r14) < 0)
            continue;
        (void)snprintf(s->code[g], sizeof s->code[g], "-/%.0f/%.0f", fmax(0, r6 + codes),
                       fmax(0, r14 + codes));
        box->cleanliness = s->code[g];
    }
}

/* The balance's own error, or that of the reading, on top of what drawn power does to it. */
static void draw_temperatures(const bands_run *run, seat *s, double z)
{
    const trn_machine *m = s->machine;
    const trn_interval_settings *set = &run->draws->settings;
    for (size_t i = 0; i < m->duty_count * m->gearboxes_count; i++) {
        trn_heat_row *row = &s->results->heat[i];
        const trn_duty *d = &m->duty[row->condition];
        double air = (isnan(d->ambient) ? m->head.ambient : d->ambient) - 273.15;
        trn_duty_state state = {.oil_measured = row->measured, .oil_read = row->read,
                                .oil_calibrated = row->calibrated};
        trn_spread spread = trn_oil_spread(&state, set);
        if (isnan(row->oil_temperature_c))
            continue;
        row->oil_temperature_c = fmax(air, trn_spread_draw(row->oil_temperature_c, spread, z));
        size_t oil = m->gearboxes[row->gearbox].oil_index;
        double in[] = {NAN, m->oils[oil].kv100, row->oil_temperature_c + 273.15};
        double nu[TRN_OUTPUTS_MAX];
        row->viscosity_mm2s = NAN;
        if (trn_oil_kv40(m, oil, &in[0], NULL) >= 0 &&
            trn_step(NULL, TRN_STEP_OIL_VISCOSITY, in, nu) >= 0)
            row->viscosity_mm2s = nu[0] * 1e6;
    }
}

static void keep(bands_run *run, const seat *s, size_t draw, double model)
{
    const trn_machine *m = run->r->machine;
    size_t n = run->normals.draws;
    double *out = run->value + draw;
    for (size_t i = 0; i < m->duty_count * m->gearboxes_count; i++, out += n)
        *out = s->results->heat[i].oil_temperature_c;
    for (size_t b = 0; b < m->bearings_count; b++, out += n)
        *out = model * s->results->bearings[m->duty_count * m->bearings_count + b].lnmh_h;
    for (size_t g = 0; g < m->gearboxes_count; g++, out += n)
        *out = model * s->results->gearboxes[g].lnmh_h;
    for (size_t g = 0; g < m->gearboxes_count; g++, out += n)
        *out = s->results->gearboxes[g].reliability_pct;
}

static void run_draw(void *context, unsigned worker, size_t draw)
{
    bands_run *run = context;
    seat *s = &run->seats[worker];
    const trn_machine *base = run->r->machine;
    const double *z = run->normals.z + draw;
    size_t room = run->normals.room;
    double model = exp(trn_spread_draw(0, run->draws->settings.life_model, z[Z_MODEL * room]));
    bool holds = trn_customs_draw(base, s->machine, run->customs, &run->normals, Z_OWN, draw, TRN_NONE,
                                  NULL, &s->faults) == TRN_OK;
    for (size_t i = 0; i < base->duty_count; i++) {
        trn_duty *d = &s->machine->duty[i];
        if (!run->power_given[i])
            d->power = trn_spread_draw(d->power, power_spread(d), z[Z_POWER * room]);
        d->shock = fmax(1, trn_spread_draw(d->shock, run->draws->settings.spread[TRN_DRAW_SHOCK],
                                           z[Z_SHOCK * room]));
    }
    draw_cleanliness(run->r, s, codes_off(z[Z_CLEANLINESS * room]));
    /* all lives longer by a factor: the same as a design life shorter by it */
    s->machine->head.design_life /= model;
    trn_study_joints(s->machine, s->results, NULL);
    trn_study_loads(s->machine, s->results, NULL);
    trn_study_heat(s->machine, s->results, true, NULL);
    draw_temperatures(run, s, z[Z_TEMPERATURE * room]);
    trn_study_lives(s->machine, s->results, NULL);
    keep(run, s, draw, holds ? model : NAN);
}

/* ---- bands -------------------------------------------------------------------------------------- */

static trn_band_row band_of(const bands_run *run, size_t quantity)
{
    size_t n = run->normals.draws;
    double *v = run->value + quantity * n;
    trn_band_row band = {.condition = "", .low = NAN, .median = NAN, .high = NAN};
    for (size_t k = 0; k < n; k++)
        if (isnan(v[k]))
            return band;
    band.low = trn_draw_quantile(v, n, 0.1);
    band.median = trn_draw_quantile(v, n, 0.5);
    band.high = trn_draw_quantile(v, n, 0.9);
    return band;
}

static void add(trn_draws *draws, trn_band_row band, const char *quantity, const char *unit,
                const char *condition, const char *object)
{
    if (isnan(band.median))
        return;
    band.quantity = quantity;
    band.unit = unit;
    band.condition = condition;
    band.object = object;
    draws->bands[draws->bands_count++] = band;
}

static void list_bands(bands_run *run, trn_draws *draws)
{
    trn_results *r = run->r;
    const trn_machine *m = r->machine;
    size_t q = 0;
    for (size_t i = 0; i < m->duty_count; i++)
        for (size_t g = 0; g < m->gearboxes_count; g++)
            add(draws, band_of(run, q++), "oil_temperature", "degC", m->duty[i].condition,
                m->gearboxes[g].gearbox);
    for (size_t b = 0; b < m->bearings_count; b++) {
        trn_bearing_row *row = &r->bearings[m->duty_count * m->bearings_count + b];
        trn_band_row band = band_of(run, q++);
        row->lnmh_low_h = band.low;
        row->lnmh_high_h = band.high;
        add(draws, band, "Lnmh", "h", "all", m->bearings[b].bearing);
    }
    for (size_t g = 0; g < m->gearboxes_count; g++) {
        trn_band_row band = band_of(run, q++);
        r->gearboxes[g].lnmh_low_h = band.low;
        r->gearboxes[g].lnmh_high_h = band.high;
        add(draws, band, "Lnmh", "h", "all", m->gearboxes[g].gearbox);
    }
    for (size_t g = 0; g < m->gearboxes_count; g++) {
        trn_band_row band = band_of(run, q++);
        r->gearboxes[g].reliability_low_pct = band.low;
        r->gearboxes[g].reliability_high_pct = band.high;
        add(draws, band, "reliability_at_design_life", "%", "all", m->gearboxes[g].gearbox);
    }
}

static bool begin(bands_run *run, const trn_draw_plan *plan, unsigned jobs)
{
    trn_draw_plan own = *plan;
    const trn_machine *m = run->r->machine;
    own.draws = plan->draws < BAND_DRAWS ? plan->draws : BAND_DRAWS;
    if (trn_normals_make(&own, Z_OWN + run->customs->n, &run->normals) != TRN_OK)
        return false;
    run->quantities = quantity_count(m);
    run->value = calloc(run->quantities * own.draws + 1, sizeof *run->value);
    run->power_given = calloc(m->duty_count + 1, sizeof *run->power_given);
    for (size_t i = 0; run->power_given && i < run->customs->n; i++)
        find_given(m, &run->customs->v[i].path, run->power_given);
    bool whole = run->value && run->power_given;
    for (unsigned i = 0; whole && i < jobs; i++)
        whole = sit(run, &run->seats[i]);
    return whole;
}

trn_status trn_draws_bands(trn_results *r, trn_draws *draws, trn_customs *customs)
{
    bands_run *run = calloc(1, sizeof *run);
    if (!run)
        return TRN_E_MEMORY;
    run->r = r;
    run->draws = draws;
    run->customs = customs;
    unsigned jobs = trn_jobs(draws->plan.jobs, BAND_DRAWS);
    draws->bands = calloc(quantity_count(r->machine) + 1, sizeof *draws->bands);
    bool whole = draws->bands && begin(run, &draws->plan, jobs);
    if (whole) {
        trn_parallel(jobs, &(trn_parallel_task){.n = run->normals.draws, .run = run_draw,
                                                .context = run});
        list_bands(run, draws);
    }
    for (unsigned i = 0; i < jobs; i++)
        stand(&run->seats[i]);
    trn_normals_free(&run->normals);
    free(run->value);
    free(run->power_given);
    free(run);
    return whole ? TRN_OK : TRN_E_MEMORY;
}
