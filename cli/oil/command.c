/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <ctype.h>
#include <math.h>
#include <string.h>

#include "midweight.h"
#include "oil/command.h"
#include "oil/print.h"
#include "parse/number.h"
#include "parse/viscosity.h"

enum { AT, TABLE, IN, THERMOMETER, FAMILY, DENSITY };

static const struct argp_option options[] = {
    OPTION(AT, "at", "T",
           "The temperature asked about (else where the oil is rated)"),
    OPTION(TABLE, "table", "FROM:TO:STEP", "A row for each temperature"),
    OPTION(IN, "in", "UNIT",
           "One number alone, in mm2/s, St, m2/s, mPa.s, "
           "Pa.s, P or SUS"),
    OPTION(THERMOMETER, "thermometer", "K",
           "How far off the thermometer may be (1 degree)"),
    OPTION(FAMILY, "family", "FAMILY", "What the oil is: silicone or mineral"),
    OPTION(DENSITY, "density", "D",
           "Density in g/ml (silicone at 25 C, mineral at 15 C)"),
    {0},
};

/* "wt", "30wt", "W" and the like */
static bool is_weight(const char *text)
{
    return tolower((unsigned char)text[strspn(text, "0123456789 ")]) == 'w';
}

static enum outcome read_unit(const char *text, struct oil_question *question,
                              struct problem *problem)
{
    if (question->table.rows > 0) {
        return REFUSE("--in is for one number; leave --table out");
    }
    question->one_unit = true;
    if (mw_viscosity_unit_from_symbol(text, &question->unit) == MW_OK) {
        return OUTCOME_DONE;
    }
    return is_weight(text)
               ? REFUSE("\"%.*s\": weight numbers follow no common scale, so "
                        "none can be given",
                        QUOTED, text)
               : REFUSE("\"%.*s\" is not a unit; write mm2/s, St, m2/s, "
                        "mPa.s, Pa.s, P or SUS",
                        QUOTED, text);
}

/* the oil, and the fit of its points while its bottle is at hand */
static enum outcome read_oil(const struct words *words,
                             struct oil_question *question, struct fit *fit,
                             struct problem *problem)
{
    struct oil_habits habits;
    struct shelf shelf = {.file = words->stock};
    if (parse_habits(words->value[FAMILY], words->value[DENSITY], &habits,
                     problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (source_find(&shelf, words->argument[0], &habits, &question->source,
                    problem) == OUTCOME_DONE) {
        fit_find(&shelf.stock, &question->source, fit, problem);
    }
    shelf_close(&shelf);
    return problem->outcome;
}

static enum outcome read_question(const struct words *words,
                                  struct oil_question *question,
                                  struct fit *fit, struct problem *problem)
{
    if (words->count == 0) {
        return REFUSE("which oil? try midweight oil 450 --at 12C");
    }
    if (words->count > 1) {
        return REFUSE("one oil at a time; \"%.*s\" is one too many", QUOTED,
                      words->argument[1]);
    }
    if (read_oil(words, question, fit, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    question->temperature = question->source.oil.points[0].temperature;
    if (words->value[AT] &&
        parse_temperature(words->value[AT], &question->temperature, problem) !=
            OUTCOME_DONE) {
        return problem->outcome;
    }
    if (parse_thermometer(words->value[THERMOMETER], &question->thermometer,
                          problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (words->value[TABLE] &&
        parse_temperature_range(words->value[TABLE], &question->table,
                                problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    return words->value[IN] ? read_unit(words->value[IN], question, problem)
                            : OUTCOME_DONE;
}

static enum outcome state_at(const struct oil_question *question, double t,
                             struct mw_oil_state *state,
                             struct problem *problem)
{
    return explain_oil_status(question->source.name, &question->source.oil, t,
                              mw_oil_at(&question->source.oil, t, state),
                              problem);
}

/* an answer is whole or refused: no table breaks off in the middle */
static enum outcome check_table(const struct oil_question *question,
                                struct problem *problem)
{
    struct mw_oil_state state;
    for (unsigned row = 0; row < question->table.rows; row++) {
        if (state_at(question, oil_row_temperature(question, row), &state,
                     problem) != OUTCOME_DONE) {
            break;
        }
    }
    return problem->outcome;
}

static void find_doubt(const struct oil_question *question,
                       struct oil_answer *answer)
{
    const struct source *source = &question->source;
    answer->low = NAN;
    answer->high = NAN;
    if (mw_doubt_oil(&source->oil, question->temperature, source->uncertainty,
                     question->thermometer, &answer->budget) == MW_OK) {
        mw_budget_band(&answer->budget, answer->state.viscosity, &answer->low,
                       &answer->high);
    }
}

static enum outcome solve(const struct oil_question *question,
                          struct oil_answer *answer, struct problem *problem)
{
    double v40, v100;
    const struct mw_oil *oil = &question->source.oil;
    if (state_at(question, question->temperature, &answer->state, problem) !=
        OUTCOME_DONE) {
        return problem->outcome;
    }
    find_doubt(question, answer);
    if (question->one_unit &&
        !oil_in_unit(&answer->state, question->unit, &answer->in_unit)) {
        return problem_set(problem, OUTCOME_NO_ANSWER,
                           "%.*s at %.6g C is outside the range of %s", QUOTED,
                           question->source.name, question->temperature,
                           mw_viscosity_unit_symbol(question->unit));
    }
    /* a standard that does not reach the oil is left out */
    if (mw_oil_viscosity(oil, 40, &v40) == MW_OK) {
        mw_iso_vg(v40, &answer->iso_vg);
    }
    if (oil->family == MW_MINERAL &&
        mw_oil_viscosity(oil, 100, &v100) == MW_OK) {
        mw_sae_j300(v100, &answer->sae_j300);
    }
    return check_table(question, problem);
}

static enum outcome run(const struct command *command, int argc, char **argv,
                        struct problem *problem)
{
    struct words words;
    struct oil_question question = {0};
    struct oil_answer answer = {0};
    if (options_read(command, options, argc, argv, &words, problem) !=
            OUTCOME_DONE ||
        words.helped) {
        return problem->outcome;
    }
    if (read_question(&words, &question, &answer.fit, problem) !=
            OUTCOME_DONE ||
        solve(&question, &answer, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (words.json) {
        return oil_print_json(&question, &answer, problem);
    }
    oil_print(&question, &answer);
    return OUTCOME_DONE;
}

const struct command command_oil = {
    .name = "oil",
    .summary = "one oil at a temperature, in every unit",
    .examples =
        "  midweight oil 450 --at 12C                 a cold morning\n"
        "  midweight oil 450 --table 0C:40C:5         a table for the pit box\n"
        "  midweight oil 32@40C/5.4@100C --family mineral --at 20C\n"
        "  midweight oil 46@40C/VI150 --at 10C        by its viscosity index\n"
        "  midweight oil 340mPa.s@20C --at 68F\n"
        "  midweight oil 200SUS@100F --in mm2/s       one number alone\n",
    .arguments = "OIL",
    .notes = "\vAn OIL is 350, 350@40C, 32@40C/5.4@100C or 46@40C/VI150. One "
             "point is silicone at 25 C unless --family says otherwise. "
             "Numbers are estimates: measure what matters.",
    .run = run,
};
