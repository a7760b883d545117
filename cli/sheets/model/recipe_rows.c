/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/model/recipe_rows.h"

#include <math.h>
#include <stdlib.h>

#include "parse/number.h"
#include "util/xalloc.h"

/* of a viscosity, or of a step: what rounding makes of a number */
#define SLACK 1e-9

/* -- Which ------------------------------------------------------------- */

static enum exit_code add_row(struct recipe_rows *recipe_rows, double target,
                              struct error *error)
{
    if (recipe_rows->count == RECIPE_ROWS_MAX) {
        return refuse(error, "more than %d recipes; take a larger --step",
                      (int)RECIPE_ROWS_MAX);
    }
    recipe_rows->list[recipe_rows->count++] =
        (struct recipe_row){.target = target};
    return EXIT_DONE;
}

/* the first of the steps above the thinner oil, where no beginning is named */
static double first_step(const struct blend_pair *pair,
                         const struct row_range *row_range)
{
    return row_range->has_from
               ? row_range->from
               : (floor(pair->thin / row_range->step) + 1) * row_range->step;
}

static enum exit_code add_steps(const struct blend_pair *pair,
                                const struct row_range *row_range, double to,
                                struct recipe_rows *recipe_rows,
                                struct error *error)
{
    enum exit_code code = EXIT_DONE;
    double first = first_step(pair, row_range);
    /* a step may miss the end by rounding; the oil alone is no recipe, unless
     * it is asked for */
    double last = to + (row_range->has_to ? SLACK : -SLACK) * row_range->step;
    for (double i = 0; first + i * row_range->step <= last; i++) {
        double v = fmin(first + i * row_range->step, to);
        if ((code = add_row(recipe_rows, v, error)) != EXIT_DONE) {
            break;
        }
    }
    return code;
}

static enum exit_code add_ticks(const struct blend_pair *pair,
                                const struct ticks *ticks, double from,
                                double to, struct recipe_rows *recipe_rows,
                                struct error *error)
{
    enum exit_code code = EXIT_DONE;
    for (size_t i = 0; i < ticks->count && code == EXIT_DONE; i++) {
        const struct tick *tick = &ticks->list[i];
        /* an oil alone is no recipe, nor is what rounding makes of it */
        bool between = tick->value > pair->thin * (1 + SLACK) &&
                       tick->value < pair->thick * (1 - SLACK);
        if (tick->labelled && between && tick->value >= from &&
            tick->value <= to) {
            code = add_row(recipe_rows, tick->value, error);
        }
    }
    return code;
}

static enum exit_code choose(const struct blend_pair *pair,
                             const struct row_range *row_range,
                             const struct ticks *ticks,
                             struct recipe_rows *recipe_rows,
                             struct error *error)
{
    enum exit_code code = EXIT_DONE;
    double from = row_range->has_from ? row_range->from : pair->thin;
    double to = row_range->has_to ? row_range->to : pair->thick;
    if ((code = pair_check_target(pair, from, error)) != EXIT_DONE ||
        (code = pair_check_target(pair, to, error)) != EXIT_DONE) {
        return code;
    }
    if (!(to >= from)) {
        return refuse(error, "--to is below --from");
    }
    if (row_range->has_step) {
        code = add_steps(pair, row_range, to, recipe_rows, error);
    } else {
        code = add_ticks(pair, ticks, from, to, recipe_rows, error);
    }
    return code != EXIT_DONE || recipe_rows->count > 0
               ? code
               : refuse(error,
                        "no recipe lies on these steps; take a smaller --step");
}

/* -- Recipes ----------------------------------------------------------- */

/* a row as the command mix is asked for it */
static void ask(const struct blend_pair *pair, const struct dosing *dosing,
                double target, struct mix_request *request)
{
    *request = (struct mix_request){
        .has_target = true,
        .target = {target, pair->temperature},
        .temperature = pair->temperature,
        .has_make = dosing->count > 0,
        .make_count = dosing->count,
        .make_each = dosing->each,
        .method = pair->method,
        .excess_uncertainty = pair->excess_uncertainty,
        .thermometer = MW_THERMOMETER,
        .tool = dosing->tool,
        .step = dosing->step,
    };
    for (size_t i = 0; i < 2; i++) {
        const struct oil_ref ref = {.name = pair->names[i],
                                    .oil = pair->oils[i],
                                    .uncertainty = pair->uncertainty[i],
                                    .shared = pair->shared[i],
                                    .left_ml = NAN,
                                    .drop_ml = NAN};
        mix_add_oil_ref(request, &ref);
    }
}

/* what is measured out of oil i: ml, g or drops */
static double dose_of(const struct dosing *dosing,
                      const struct mix_answer *answer, size_t i)
{
    bool rounded = answer->has_dosed;
    switch (dosing->tool) {
    case TOOL_SCALE:
        return rounded ? answer->dosed.marks[i] * dosing->step
                       : answer->mix.masses[i];
    case TOOL_DROP:
        return rounded ? answer->dosed.marks[i]
                       : answer->mix.volumes[i] / dosing->step;
    default:
        return rounded ? answer->dosed.volumes[i] : answer->mix.volumes[i];
    }
}

static void keep(const struct dosing *dosing, const struct mix_answer *answer,
                 struct recipe_row *recipe_row, struct recipe_rows *recipe_rows)
{
    recipe_row->share = answer->shares[1];
    recipe_row->low = answer->low;
    recipe_row->high = answer->high;
    recipe_row->ratio_viscosity =
        answer->mix.ratio[0] > 0 ? answer->mix.ratio_viscosity : NAN;
    for (size_t i = 0; i < 2; i++) {
        recipe_row->ratio[i] = answer->mix.ratio[i];
        recipe_row->doses[i] = dose_of(dosing, answer, i);
    }
    recipe_rows->warnings |= answer->mix.warnings;
    if (answer->has_dosed) {
        recipe_rows->worst_miss =
            fmax(recipe_rows->worst_miss, fabs(answer->dosed.miss));
    }
}

/* each recipe is what the command mix answers */
static enum exit_code solve(const struct blend_pair *pair,
                            const struct dosing *dosing,
                            struct recipe_rows *recipe_rows,
                            struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct mix_request *request = xcalloc(1, sizeof *request);
    for (size_t i = 0; i < recipe_rows->count; i++) {
        struct mix_answer answer = {0};
        ask(pair, dosing, recipe_rows->list[i].target, request);
        if ((code = mix_solve(request, &answer, error)) == EXIT_DONE) {
            keep(dosing, &answer, &recipe_rows->list[i], recipe_rows);
        }
        mix_request_free(request);
        if (code != EXIT_DONE) {
            break;
        }
    }
    free(request);
    return code;
}

enum exit_code recipe_rows_make(const struct blend_pair *pair,
                                const struct row_range *row_range,
                                const struct ticks *ticks,
                                const struct dosing *dosing,
                                struct recipe_rows *recipe_rows,
                                struct error *error)
{
    *recipe_rows = (struct recipe_rows){.warnings = pair->warnings};
    enum exit_code code = choose(pair, row_range, ticks, recipe_rows, error);
    return code == EXIT_DONE ? solve(pair, dosing, recipe_rows, error) : code;
}

const char *dose_unit(const struct dosing *dosing)
{
    if (dosing->tool == TOOL_DROP) {
        return "drops";
    }
    return dosing->tool == TOOL_SCALE ? "g" : "ml";
}
