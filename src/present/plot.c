/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plots of a report. */
#include <trunnion/plot.h>

#include <stdio.h>
#include <stdlib.h>

size_t trn_plot_condition(const trn_results *results)
{
    const trn_machine *m = results->machine;
    size_t found = m->duty_count > 0 ? 0 : TRN_NONE;
    for (size_t i = 1; i < m->duty_count; i++)
        if (m->duty[i].share > m->duty[found].share)
            found = i;
    return found;
}

void trn_plots_free(trn_plots *plots)
{
    for (size_t i = 0; i < plots->n; i++) {
        trn_buffer_free(&plots->list[i].script);
        trn_buffer_free(&plots->list[i].finding);
    }
    free(plots->list);
    *plots = (trn_plots){.n = 0};
}

enum { PARTS_MAX = 16, OTHERS = 6 };

/* Keeps the plot at the end of the list if it was built; false where there was nothing. */
static bool keep(trn_plots *plots, trn_status built, const char *topic, trn_status *status)
{
    if (built == TRN_OK)
        plots->list[plots->n++].topic = topic;
    else if (built != TRN_E_UNKNOWN)
        *status = built;
    return built == TRN_OK;
}

static trn_plot *next(trn_plots *plots, const char *name, size_t part)
{
    trn_plot *plot = &plots->list[plots->n];
    if (part == 0)
        (void)snprintf(plot->name, sizeof plot->name, "%s", name);
    else
        (void)snprintf(plot->name, sizeof plot->name, "%s_%zu", name, part + 1);
    return plot;
}

static trn_status add_all(const trn_results *r, trn_plots *plots)
{
    size_t c = trn_plot_condition(r);
    trn_status status = TRN_OK;
    trn_plot *p = next(plots, "intervals", 0);
    (void)keep(plots, trn_plot_intervals(r, &p->script, &p->finding), "Intervals", &status);
    p = next(plots, "plan", 0);
    (void)keep(plots, trn_plot_plan(r, &p->script, &p->finding), "Service plan for a year",
               &status);
    p = next(plots, "buys", 0);
    (void)keep(plots, trn_plot_buys(r, &p->script, &p->finding),
               "What the recommended oil interval buys", &status);
    for (size_t part = 0; part < PARTS_MAX; part++) {
        p = next(plots, "cost_course", part);
        if (!keep(plots, trn_plot_cost(r, part, &p->script, &p->finding),
                  "Cost over the change interval", &status))
            break;
    }
    for (size_t part = 0; part < PARTS_MAX; part++) {
        p = next(plots, "one_turn", part);
        if (!keep(plots, trn_plot_turn(r, c, part, &p->script, &p->finding),
                  "Speed over one turn", &status))
            break;
    }
    p = next(plots, "losses", 0);
    (void)keep(plots, trn_plot_losses(r, c, &p->script, &p->finding), "Losses by gearbox",
               &status);
    p = next(plots, "warmup", 0);
    (void)keep(plots, trn_plot_warmup(r, c, &p->script, &p->finding), "Oil from a cold start",
               &status);
    p = next(plots, "bearing_lives", 0);
    (void)keep(plots, trn_plot_lives(r, &p->script, &p->finding), "Bearing lives", &status);
    return status;
}

trn_status trn_plots_for_report(const trn_results *results, trn_plots *plots)
{
    *plots = (trn_plots){.list = calloc(2 * PARTS_MAX + OTHERS + 1, sizeof *plots->list)};
    trn_status status = plots->list ? add_all(results, plots) : TRN_E_MEMORY;
    if (status != TRN_OK)
        trn_plots_free(plots);
    return status;
}
