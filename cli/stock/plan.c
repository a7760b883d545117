/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* stock plan: what the bottles are good for in a band of viscosities */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "oils/best.h"
#include "oils/oil_ref.h"
#include "oils/pair_mix.h"
#include "parse/number.h"
#include "parse/oil_spec.h"
#include "parse/viscosity.h"
#include "stock/commands.h"
#include "stock/plan.h"
#include "store/bottle.h"
#include "store/stock.h"
#include "util/format.h"
#include "util/xalloc.h"

enum { FAMILY, CSV };

static const struct command_option options[] = {
    OPTION(FAMILY, "family", "FAMILY",
           "Take the oils of this family: silicone or mineral (default: "
           "silicone, where "
           "there is any)"),
    OPTION(CSV, "csv", NULL, "Print the readings that help most as CSV"),
    {0},
};

/* an end of the plan, brought to the rating temperature */
static enum exit_code find_edge(const struct planning *planning,
                                const char *text, double *v,
                                struct error *error)
{
    struct viscosity viscosity;
    struct mw_point point;
    struct mw_oil edge;
    enum exit_code code;
    if ((code = parse_viscosity(text, &viscosity, error)) != EXIT_DONE ||
        (code = resolve_viscosity(&viscosity, planning->family, NAN,
                                  planning->rated, &point, error)) !=
            EXIT_DONE) {
        return code;
    }
    enum mw_status status =
        mw_oil_make(planning->family, &point, 1, NAN, &edge);
    if (status == MW_OK) {
        status = mw_oil_viscosity(&edge, planning->rated, v);
    }
    return status == MW_OK ? EXIT_DONE
                           : refuse(error, "%.*s: %s", QUOTED, text,
                                    mw_status_text(status));
}

/* the bottles of the family that are not empty, thin to thick */
static void find_places(struct bottles *bottles, struct planning *planning)
{
    bottles_sort(bottles, planning->rated);
    planning->places = xcalloc(bottles->count, sizeof(struct place));
    planning->v = xcalloc(bottles->count, sizeof(double));
    for (size_t i = 0; i < bottles->count; i++) {
        const struct bottle *bottle = &bottles->list[i];
        struct place *place = &planning->places[planning->count];
        place->bottle = bottle;
        if (bottle->best.oil.family == planning->family &&
            bottle->left_ml != 0 &&
            mw_oil_viscosity(&bottle->best.oil, planning->rated, &place->v) ==
                MW_OK) {
            planning->v[planning->count++] = place->v;
        }
    }
}

/* the uncertainty of the mix in the middle of the widest gap */
static void find_middle(struct planning *planning)
{
    const struct mw_gap *gap = &planning->plan.widest;
    struct pair_mix mix = {NAN, NAN};
    if (gap->thin != MW_PLAN_EDGE && gap->thick != MW_PLAN_EDGE) {
        const size_t nodes[2] = {planning->places[gap->thin].node,
                                 planning->places[gap->thick].node};
        const struct mw_point middle = {mw_mixture_midway(gap->low, gap->high),
                                        planning->rated};
        pair_mix_find(&planning->network, nodes, &middle, 0, NULL, &mix);
    }
    planning->middle = mix.uncertainty;
}

/* what to measure, of mixes in the band */
static void find_readings(struct planning *planning)
{
    struct mw_candidate *candidates =
        xcalloc(planning->count, sizeof candidates[0]);
    for (size_t i = 0; i < planning->count; i++) {
        const struct place *place = &planning->places[i];
        const struct bottle *bottle = place->bottle;
        candidates[i] =
            (struct mw_candidate){place->node, &bottle->best.oil,
                                  bottle->best.uncertainty, bottle->left_ml};
    }
    mw_rank_readings(planning->network.network, candidates, planning->count,
                     planning->rated, planning->low, planning->high,
                     &planning->readings);
    free(candidates);
}

static enum exit_code plan_stock(struct planning *planning, struct error *error)
{
    if (planning->count == 0) {
        return error_set(error, EXIT_NO_ANSWER,
                         "the stock has no %s oil; midweight stock add %s "
                         "puts a bottle in",
                         mw_family_name(planning->family),
                         planning->family == MW_SILICONE
                             ? "Elm 350"
                             : "Oak 32@40C/5.4@100C");
    }
    enum mw_status status = mw_plan(planning->v, planning->count, planning->low,
                                    planning->high, &planning->plan);
    if (status != MW_OK) {
        return refuse(error,
                      "a plan goes from thin to thick: midweight stock plan "
                      "200 1000");
    }
    for (size_t i = 0; i < planning->count; i++) {
        struct place *place = &planning->places[i];
        place->node = bottle_node(&planning->network, place->bottle);
    }
    enum exit_code code = stock_network_solve(&planning->network, error);
    if (code == EXIT_DONE) {
        find_middle(planning);
        find_readings(planning);
    }
    return code;
}

/* the family asked for, or that of the stock */
static enum exit_code find_family(const struct args *args,
                                  const struct bottles *bottles,
                                  struct planning *planning,
                                  struct error *error)
{
    struct oil_defaults defaults;
    enum exit_code code =
        parse_oil_defaults(args->value[FAMILY], NULL, &defaults, error);
    planning->family =
        defaults.has_family ? defaults.family : bottles_family(bottles);
    planning->rated = mw_family_rating_t(planning->family);
    return code;
}

static enum exit_code make_plan(const struct args *args, struct stock *stock,
                                struct bottles *bottles,
                                struct planning *planning, struct error *error)
{
    enum exit_code code;
    if ((code = bottles_load_best(stock, bottles, &planning->network, error)) !=
            EXIT_DONE ||
        (code = find_family(args, bottles, planning, error)) != EXIT_DONE ||
        (code = find_edge(planning, args->argument[0], &planning->low,
                          error)) != EXIT_DONE ||
        (code = find_edge(planning, args->argument[1], &planning->high,
                          error)) != EXIT_DONE) {
        return code;
    }
    find_places(bottles, planning);
    return plan_stock(planning, error);
}

static enum exit_code run(const struct args *args, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct stock stock;
    struct bottles bottles = {0};
    struct planning planning = {0};
    if (args->count != 2) {
        return refuse(error,
                      "from which viscosity to which? try midweight stock plan "
                      "200 1000");
    }
    if ((code = stock_open(&stock, args->stock, error)) == EXIT_DONE) {
        code = make_plan(args, &stock, &bottles, &planning, error);
    }
    stock_close(&stock);
    if (code == EXIT_DONE) {
        code = plan_print(args, args->value[CSV] != NULL, &planning, error);
    }
    free(planning.places);
    free(planning.v);
    stock_network_free(&planning.network);
    bottles_free(&bottles);
    return code;
}

const struct command command_stock_plan = {
    .name = "stock plan",
    .summary = "what the bottles can reach, and which to buy",
    .examples = "  midweight stock plan 200 1000\n",
    .arguments = "LOW HIGH",
    .notes = "The viscosities are at 25 C for silicone oil, and at 40 C for "
             "mineral oil.",
    .options = options,
    .run = run,
};
