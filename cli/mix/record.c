/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>

#include "mix/mix.h"
#include "parse/number.h"
#include "store/recipe.h"
#include "util/format.h"
#include "util/xalloc.h"

static enum outcome check_left(const struct mix_request *request,
                               const struct mix_answer *answer,
                               struct problem *problem)
{
    char left[FIGURES_LENGTH], batch[FIGURES_LENGTH];
    if (answer->shortest == request->count) {
        return OUTCOME_DONE;
    }
    const struct source *source = &request->sources[answer->shortest];
    return problem_set(problem, OUTCOME_NO_ANSWER,
                       "%.*s holds only %s ml; the largest batch is %s ml",
                       QUOTED, source->name, figures(source->left_ml, 3, left),
                       figures(answer->largest_ml, 3, batch));
}

/* what goes into the mix, at most what is left: rounding makes no oil */
static double poured_from(const struct mix_request *request,
                          const struct mix_answer *answer, size_t i)
{
    double left = request->sources[i].left_ml;
    return isnan(left) ? mix_poured(answer, i)
                       : fmin(mix_poured(answer, i), left);
}

static double total_poured(const struct mix_request *request,
                           const struct mix_answer *answer)
{
    double total = 0;
    for (size_t i = 0; i < request->count; i++) {
        total += poured_from(request, answer, i);
    }
    return total;
}

static enum outcome check_record(const struct mix_request *request,
                                 const struct mix_answer *answer,
                                 struct problem *problem)
{
    if (check_name(request->record, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (!isfinite(answer->total_ml)) {
        return REFUSE("--record needs to know how much; give --make, or "
                      "amounts in ml or g");
    }
    for (size_t i = 0; i < request->count; i++) {
        if (request->sources[i].id == 0) {
            return REFUSE("%.*s is not in the stock, so it cannot be recorded; "
                          "midweight stock add puts it there",
                          QUOTED, request->sources[i].name);
        }
        if (!(mix_poured(answer, i) > 0)) {
            return REFUSE("nothing of %.*s is in this mix; record a mix of two",
                          QUOTED, request->sources[i].name);
        }
    }
    return check_left(request, answer, problem);
}

/* What was calculated, as a label. A mix of oils that are all known at several
 * temperatures is known at two. */
static enum mw_status make_label(const struct mix_request *request,
                                 const struct mix_answer *answer,
                                 struct mw_oil *label)
{
    struct mw_point points[2] = {
        {answer->has_dosed ? answer->dosed_viscosity : answer->viscosity,
         request->temperature},
        {NAN, NAN}};
    const struct mw_oil *first = &request->oils[0];
    size_t count = 2;
    double density;
    for (size_t i = 0; i < request->count; i++) {
        count = request->oils[i].has_line ? count : 1;
    }
    if (count == 2) {
        bool at_first = mw_same_temperature(first->points[0].temperature,
                                            request->temperature);
        points[1].temperature = first->points[at_first ? 1 : 0].temperature;
        enum mw_status status =
            mw_mixture(request->oils, answer->shares, request->count,
                       points[1].temperature, &request->method,
                       &points[1].viscosity, NULL);
        if (status != MW_OK) {
            return status;
        }
    }
    enum mw_status status = mw_mixture_density(request->oils, answer->shares,
                                               request->count, &density);
    return status == MW_OK
               ? mw_oil_make(first->family, points, count, density, label)
               : status;
}

/* the new bottle, its label being what was calculated and how sure that is */
static enum outcome insert_bottle(const struct mix_request *request,
                                  const struct mix_answer *answer,
                                  struct stock *stock, sqlite3_int64 *id)
{
    struct problem *problem = stock->problem;
    struct bottle bottle = {.name = need_copy(request->record),
                            .note = need_copy(""),
                            .left_ml = total_poured(request, answer),
                            .drop_ml = NAN};
    bottle.tolerance = mw_tolerance_of(mw_budget_combined(&answer->budget));
    enum mw_status status = make_label(request, answer, &bottle.label);
    if (status != MW_OK) {
        REFUSE("%s", mw_status_text(status));
    }
    if (problem->outcome == OUTCOME_DONE &&
        parse_date(request->date, bottle.added, problem) == OUTCOME_DONE &&
        bottle_estimate(&bottle, problem) == OUTCOME_DONE) {
        bottle_insert(stock, &bottle);
    }
    *id = bottle.id;
    bottle_free(&bottle);
    return problem->outcome;
}

static enum outcome insert_recipe(const struct mix_request *request,
                                  const struct mix_answer *answer,
                                  struct stock *stock, sqlite3_int64 id)
{
    struct recipe recipe = {.bottle = id,
                            .temperature = request->temperature,
                            .count = request->count};
    if (parse_date(request->date, recipe.made, stock->problem) !=
        OUTCOME_DONE) {
        return stock->problem->outcome;
    }
    for (size_t i = 0; i < request->count; i++) {
        recipe.parts[i].parent = request->sources[i].id;
        recipe.parts[i].volume_ml = poured_from(request, answer, i);
        bottle_take(stock, request->sources[i].id,
                    poured_from(request, answer, i));
    }
    return recipe_insert(stock, &recipe);
}

enum outcome mix_record(const struct mix_request *request,
                        const struct mix_answer *answer, struct stock *stock)
{
    sqlite3_int64 id;
    if (request->has_residue) {
        problem_set(stock->problem, OUTCOME_USAGE,
                    "--record keeps a mix of bottles; what is left over in a "
                    "damper is not one: leave --residue out");
    }
    if (stock->problem->outcome == OUTCOME_DONE &&
        check_record(request, answer, stock->problem) == OUTCOME_DONE &&
        insert_bottle(request, answer, stock, &id) == OUTCOME_DONE) {
        insert_recipe(request, answer, stock, id);
    }
    return stock->problem->outcome;
}
