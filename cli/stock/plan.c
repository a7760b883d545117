/* SPDX-License-Identifier: GPL-3.0-or-later */
/* stock plan: what the bottles are good for in a band of viscosities */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "oils/best.h"
#include "output/json.h"
#include "output/text.h"
#include "parse/number.h"
#include "parse/oil_spec.h"
#include "parse/viscosity.h"
#include "stock/commands.h"
#include "stock/plan_readings.h"
#include "store/bottle.h"
#include "store/stock.h"
#include "util/format.h"
#include "util/xalloc.h"

/* a bottle and where it stands */
struct place {
    const struct bottle *bottle;
    double v; /* mm2/s at the rating temperature of the family */
};

enum { FAMILY };

static const struct command_option options[] = {
    OPTION(FAMILY, "family", "FAMILY",
           "Take the oils of this family: silicone or mineral (default: "
           "silicone, where "
           "there is any)"),
    {0},
};

struct planning {
    enum mw_family family;
    double rated;     /* degC, its rating temperature */
    double low, high; /* mm2/s there */
    size_t count;
    struct place *places; /* thin to thick */
    double *v;            /* the same, as the library wants it */
    struct mw_plan plan;
    struct usual_excess usual;
    struct plan_readings readings;
    double middle; /* standard uncertainty of ln v in the middle of the widest
                      gap; NaN where no mix reaches */
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
static void find_middle(struct planning *planning,
                        const struct mw_excess *excess)
{
    const struct mw_gap *gap = &planning->plan.widest;
    struct mw_candidate pair[2];
    struct mw_choice choices[MW_CHOICES];
    const size_t ends[2] = {gap->thin, gap->thick};
    size_t count;
    planning->middle = NAN;
    if (gap->thin == MW_PLAN_EDGE || gap->thick == MW_PLAN_EDGE) {
        return;
    }
    for (size_t i = 0; i < 2; i++) {
        const struct place *place = &planning->places[ends[i]];
        pair[i] = (struct mw_candidate){.id = i,
                                        .oil = &place->bottle->best.oil,
                                        .uncertainty =
                                            place->bottle->best.uncertainty,
                                        .left = NAN};
    }
    const struct mw_wish wish = {.target =
                                     mw_mixture_midway(gap->low, gap->high),
                                 .temperature = planning->rated,
                                 .excess = *excess};
    if (mw_choose(pair, 2, &wish, choices, &count) == MW_OK) {
        planning->middle = choices[0].uncertainty;
    }
}

static enum exit_code plan_stock(struct planning *planning,
                                 const struct bottles *bottles,
                                 struct stock *stock, struct error *error)
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
    const struct mw_excess *excess = planning->low < MW_EXCESS_GRADE
                                         ? &planning->usual.thin
                                         : &planning->usual.thick;
    const struct mw_wish wish = {.temperature = planning->rated,
                                 .excess = *excess};
    find_middle(planning, excess);
    return plan_readings_find(stock, bottles, planning->family, &wish,
                              planning->low, planning->high,
                              &planning->readings, error);
}

/* -- Text -------------------------------------------------------------- */

static void print_reach(const struct planning *planning)
{
    const struct mw_plan *plan = &planning->plan;
    char low[FORMAT_LENGTH], high[FORMAT_LENGTH];
    if (isnan(plan->reach_low)) {
        print_wrapped("Nothing between %s and %s mm2/s at %g C can be mixed.",
                      format_compact(planning->low, low),
                      format_compact(planning->high, high), planning->rated);
    } else {
        print_wrapped("Mixes reach %s to %s mm2/s at %g C.",
                      format_significant(plan->reach_low, 3, low),
                      format_significant(plan->reach_high, 3, high),
                      planning->rated);
    }
}

/* the name of a mark, or "nothing" beyond the thinnest and the thickest */
static const char *mark_name(const struct planning *planning, size_t mark,
                             char name[TRUNCATED_LENGTH])
{
    return mark == MW_PLAN_EDGE
               ? "nothing"
               : truncate_columns(planning->places[mark].bottle->name, 24,
                                  name);
}

static void print_gap(const struct planning *planning)
{
    const struct mw_gap *gap = &planning->plan.widest;
    char thin[TRUNCATED_LENGTH], thick[TRUNCATED_LENGTH];
    char low[FORMAT_LENGTH], high[FORMAT_LENGTH], ratio[FORMAT_LENGTH];
    print_wrapped("The widest gap is %s to 1, from %s (%s) to %s (%s).",
                  format_significant(gap->ratio, 3, ratio),
                  format_significant(gap->low, 3, low),
                  mark_name(planning, gap->thin, thin),
                  format_significant(gap->high, 3, high),
                  mark_name(planning, gap->thick, thick));
    if (isfinite(planning->middle)) {
        print_wrapped(
            "A mix in the middle of it is known to +-%.1f %% (k = 2).",
            100 * MW_COVERAGE * planning->middle);
    }
}

static void print_advice(const struct planning *planning)
{
    const struct mw_plan *plan = &planning->plan;
    char v[FORMAT_LENGTH], ratio[FORMAT_LENGTH], name[TRUNCATED_LENGTH];
    const struct mw_gap *gap = &plan->widest;
    if (gap->thin == MW_PLAN_EDGE || gap->thick == MW_PLAN_EDGE) {
        print_wrapped("No mix reaches into it; a bottle near %s mm2/s would.",
                      format_significant(plan->addition, 2, v));
    } else {
        print_wrapped("One more bottle would help most near %s mm2/s: then the "
                      "widest gap is %s to 1.",
                      format_significant(plan->addition, 2, v),
                      format_significant(plan->addition_ratio, 3, ratio));
    }
    if (plan->spare == MW_PLAN_EDGE) {
        print_wrapped(
            "No bottle can stay at home: each of them is needed to reach "
            "as far.");
    } else {
        print_wrapped("%s could stay at home: the widest gap is then %s to 1.",
                      truncate_columns(
                          planning->places[plan->spare].bottle->name, 24, name),
                      format_significant(plan->spare_ratio, 3, ratio));
    }
}

/* -- JSON -------------------------------------------------------------- */

static json_t *json_mark(const struct planning *planning, size_t mark)
{
    return mark == MW_PLAN_EDGE
               ? json_null()
               : json_string(planning->places[mark].bottle->name);
}

static enum exit_code print_as_json(const struct planning *planning,
                                    struct error *error)
{
    const struct mw_plan *plan = &planning->plan;
    const struct mw_gap *gap = &plan->widest;
    json_t *widest = json_pack(
        "{s:o, s:o, s:o, s:o, s:o, s:o}", "thin",
        json_mark(planning, gap->thin), "thick",
        json_mark(planning, gap->thick), "low", json_number(gap->low), "high",
        json_number(gap->high), "ratio", json_number(gap->ratio),
        "uncertainty_percent", json_number(100 * planning->middle));
    return print_json(
        "stock-plan",
        json_pack("{s:{s:o, s:o}, s:o, s:{s:o, s:o}, s:{s:o, s:o}, s:o}",
                  "reach", "low", json_number(plan->reach_low), "high",
                  json_number(plan->reach_high), "widest_gap", widest, "add",
                  "viscosity", json_number(plan->addition), "ratio",
                  json_number(plan->addition_ratio), "spare", "name",
                  json_mark(planning, plan->spare), "ratio",
                  json_number(plan->spare_ratio), "measure",
                  plan_readings_json(&planning->readings)),
        error);
}

static enum exit_code print_plan(const struct args *args,
                                 const struct planning *planning,
                                 struct error *error)
{
    if (args->json) {
        return print_as_json(planning, error);
    }
    print_reach(planning);
    print_gap(planning);
    print_advice(planning);
    plan_readings_print(&planning->readings);
    return EXIT_DONE;
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
    if ((code = bottles_load_best(stock, bottles, &planning->usual, error)) !=
            EXIT_DONE ||
        (code = find_family(args, bottles, planning, error)) != EXIT_DONE ||
        (code = find_edge(planning, args->argument[0], &planning->low,
                          error)) != EXIT_DONE ||
        (code = find_edge(planning, args->argument[1], &planning->high,
                          error)) != EXIT_DONE) {
        return code;
    }
    find_places(bottles, planning);
    return plan_stock(planning, bottles, stock, error);
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
        code = print_plan(args, &planning, error);
    }
    free(planning.places);
    free(planning.v);
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
