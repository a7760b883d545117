/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/model/recipe_rows.h"

#include <math.h>

#include "parse/number.h"

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

static const struct mw_mix_part open_oils[2] = {{MW_AMOUNT_OPEN, NAN, NAN},
                                                {MW_AMOUNT_OPEN, NAN, NAN}};

/* all rows but for their targets */
static enum exit_code set_job(const struct blend_pair *pair,
                              const struct dosing *dosing,
                              struct mw_mix_job *job, struct error *error)
{
    double batch = NAN;
    enum mw_status status = MW_OK;
    if (dosing->count > 0) {
        status = mw_dose_batch(dosing->count, dosing->each.value, 0, &batch);
    }
    bool weighed = dosing->each.kind == MW_AMOUNT_G;
    *job = pair_job(pair, open_oils);
    *(weighed ? &job->batch_g : &job->batch_ml) = batch;
    job->tools = dosing->tools;
    return status == MW_OK
               ? EXIT_DONE
               : refuse(error, "--make: %s", mw_status_text(status));
}

/* what is measured out of oil i: ml, g or drops */
static double dose_of(const struct dosing *dosing,
                      const struct mw_mix_answer *answer, size_t i)
{
    double volume = answer->has_recipe ? answer->recipe.doses[i].volume_ml
                                       : answer->mix.volumes[i];
    return dosing->tools.drop_ml > 0 ? volume / dosing->tools.drop_ml
           : dosing->tools.resolution_g > 0
               ? volume * answer->mix.states[i].density
               : volume;
}

/* what all doses are together, in the unit of the batch */
static double batch_of(const struct dosing *dosing,
                       const struct mw_mix_answer *answer)
{
    double batch = 0;
    for (size_t i = 0; i < 2; i++) {
        double volume = answer->has_recipe ? answer->recipe.doses[i].volume_ml
                                           : answer->mix.volumes[i];
        bool weighed = dosing->each.kind == MW_AMOUNT_G;
        batch += volume * (weighed ? answer->mix.states[i].density : 1);
    }
    return batch;
}

/* what the rows have in common */
static void take_along(const struct dosing *dosing,
                       const struct mw_mix_answer *answer,
                       const struct recipe_row *recipe_row,
                       struct recipe_rows *recipe_rows)
{
    double batch = batch_of(dosing, answer);
    recipe_rows->least_batch = fmin(recipe_rows->least_batch, batch);
    recipe_rows->most_batch = fmax(recipe_rows->most_batch, batch);
    recipe_rows->warnings |= answer->warnings & ~(unsigned)MW_WARN_FEW_STEPS;
    if (isfinite(recipe_row->ratio_viscosity)) {
        double off = log(recipe_row->ratio_viscosity / recipe_row->target);
        recipe_rows->worst_ratio = fmax(recipe_rows->worst_ratio, fabs(off));
    }
    if (answer->has_recipe) {
        recipe_rows->worst_miss =
            fmax(recipe_rows->worst_miss, fabs(answer->recipe.miss));
    }
}

static void keep(const struct dosing *dosing,
                 const struct mw_mix_answer *answer,
                 struct recipe_row *recipe_row)
{
    const struct mw_mix *mix = &answer->mix;
    recipe_row->share = mix->shares[1];
    recipe_row->low = answer->low;
    recipe_row->high = answer->high;
    recipe_row->uncertainty = MW_COVERAGE * answer->uncertainty;
    recipe_row->ratio_viscosity =
        mix->ratio[0] > 0 ? mix->ratio_viscosity : (double)NAN;
    for (size_t i = 0; i < 2; i++) {
        recipe_row->ratio[i] = mix->ratio[i];
        recipe_row->doses[i] = dose_of(dosing, answer, i);
        recipe_row->few[i] =
            answer->has_recipe && answer->recipe.doses[i].steps < MW_STEPS_FEW;
    }
}

static enum mw_status solve_row(const struct blend_pair *pair,
                                const struct dosing *dosing,
                                struct mw_mix_job *job,
                                struct recipe_row *recipe_row,
                                struct recipe_rows *recipe_rows)
{
    struct mw_mix_answer answer;
    job->target = recipe_row->target;
    enum mw_status status = mw_mix_answer(&pair->known, job, &answer);
    if (status == MW_OK) {
        keep(dosing, &answer, recipe_row);
        take_along(dosing, &answer, recipe_row, recipe_rows);
    }
    return status;
}

/* each recipe is what the command mix answers */
static enum exit_code solve(const struct blend_pair *pair,
                            const struct dosing *dosing,
                            struct recipe_rows *recipe_rows,
                            struct error *error)
{
    struct mw_mix_job job;
    enum exit_code code = set_job(pair, dosing, &job, error);
    for (size_t i = 0; i < recipe_rows->count && code == EXIT_DONE; i++) {
        enum mw_status status =
            solve_row(pair, dosing, &job, &recipe_rows->list[i], recipe_rows);
        if (status != MW_OK) {
            code =
                error_set(error, EXIT_NO_ANSWER, "%.6g mm2/s: %s",
                          recipe_rows->list[i].target, mw_status_text(status));
        }
    }
    return code;
}

enum exit_code recipe_rows_make(const struct blend_pair *pair,
                                const struct row_range *row_range,
                                const struct ticks *ticks,
                                const struct dosing *dosing,
                                struct recipe_rows *recipe_rows,
                                struct error *error)
{
    *recipe_rows = (struct recipe_rows){
        .warnings = pair->warnings, .least_batch = NAN, .most_batch = NAN};
    enum exit_code code = choose(pair, row_range, ticks, recipe_rows, error);
    return code == EXIT_DONE ? solve(pair, dosing, recipe_rows, error) : code;
}

double dose_step(const struct dosing *dosing)
{
    const struct mw_tools *tools = &dosing->tools;
    return tools->drop_ml > 0        ? 1
           : tools->resolution_g > 0 ? tools->resolution_g
                                     : tools->graduation_ml;
}

const char *dose_unit(const struct dosing *dosing)
{
    if (dosing->tools.drop_ml > 0) {
        return "drops";
    }
    return dosing->tools.resolution_g > 0 ? "g" : "ml";
}
