/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>

#include "cautions.h"
#include "commands.h"
#include "doubt_report.h"
#include "midweight.h"
#include "number.h"
#include "quantity.h"
#include "report.h"
#include "source.h"

enum { AT, TABLE, THERMOMETER, FAMILY, DENSITY };

static const struct argp_option options[] = {
    OPTION(AT, "at", "T",
           "The temperature asked about (else where the oil is rated)"),
    OPTION(TABLE, "table", "FROM:TO:STEP", "A row for each temperature"),
    OPTION(THERMOMETER, "thermometer", "K",
           "How far off the thermometer may be (1 degree)"),
    OPTION(FAMILY, "family", "FAMILY", "What the oil is: silicone or mineral"),
    OPTION(DENSITY, "density", "D",
           "Density in g/ml (silicone at 25 C, mineral at 15 C)"),
    {0},
};

struct question {
    struct source source;
    double temperature;             /* degC */
    double thermometer;             /* K: limits of its reading */
    struct temperature_range table; /* no rows: no table */
};

struct answer {
    struct mw_oil_state state;
    double low, high; /* mm2/s, expanded, k = 2 */
    struct mw_budget budget;
    double sus; /* NaN where the scale does not reach */
    int iso_vg; /* 0 for none */
};

static enum outcome read_question(const struct words *words,
                                  struct question *question,
                                  struct problem *problem)
{
    struct oil_habits habits;
    if (parse_habits(words->value[FAMILY], words->value[DENSITY], &habits,
                     problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (words->count == 0) {
        return REFUSE("which oil? try midweight oil 450 --at 12C");
    }
    if (words->count > 1) {
        return REFUSE("one oil at a time; \"%.*s\" is one too many", QUOTED,
                      words->argument[1]);
    }
    struct shelf shelf = {.file = words->stock};
    source_find(&shelf, words->argument[0], &habits, &question->source,
                problem);
    shelf_close(&shelf);
    if (problem->outcome != OUTCOME_DONE) {
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
    return words->value[TABLE]
               ? parse_temperature_range(words->value[TABLE], &question->table,
                                         problem)
               : OUTCOME_DONE;
}

static enum outcome state_at(const struct question *question, double t,
                             struct mw_oil_state *state,
                             struct problem *problem)
{
    return explain_oil_status(question->source.name, &question->source.oil, t,
                              mw_oil_at(&question->source.oil, t, state),
                              problem);
}

static double row_temperature(const struct question *question, unsigned row)
{
    return question->table.from + row * question->table.step;
}

/* an answer is whole or refused: no table breaks off in the middle */
static enum outcome check_table(const struct question *question,
                                struct problem *problem)
{
    struct mw_oil_state state;
    for (unsigned row = 0; row < question->table.rows; row++) {
        if (state_at(question, row_temperature(question, row), &state,
                     problem) != OUTCOME_DONE) {
            break;
        }
    }
    return problem->outcome;
}

static void find_doubt(const struct question *question, struct answer *answer)
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

static enum outcome solve(const struct question *question,
                          struct answer *answer, struct problem *problem)
{
    double v40;
    if (state_at(question, question->temperature, &answer->state, problem) !=
        OUTCOME_DONE) {
        return problem->outcome;
    }
    find_doubt(question, answer);
    /* a scale or a standard that does not reach the oil is left out */
    mw_sus(answer->state.viscosity, question->temperature, &answer->sus);
    if (mw_oil_viscosity(&question->source.oil, 40, &v40) == MW_OK) {
        mw_iso_vg(v40, &answer->iso_vg);
    }
    return check_table(question, problem);
}

/* -- Text -------------------------------------------------------------- */

static void print_points(const struct question *question)
{
    char viscosity[FIGURES_LENGTH];
    const struct mw_oil *oil = &question->source.oil;
    if (question->source.id) {
        printf("%s, ", question->source.name);
    }
    printf("%s:", mw_family_name(oil->family));
    for (size_t i = 0; i < oil->count; i++) {
        printf("%s %s mm2/s at %.6g C", i ? "," : "",
               as_given(oil->points[i].viscosity, viscosity),
               oil->points[i].temperature);
    }
    printf("\n\n");
}

static void print_state(const struct question *question,
                        const struct answer *answer)
{
    const struct mw_oil_state *state = &answer->state;
    char text[FIGURES_LENGTH], density[FIGURES_LENGTH];
    printf("  at %.6g C    %s mm2/s (cSt)\n", state->temperature,
           figures(state->viscosity, 3, text));
    if (isfinite(answer->low)) {
        char high[FIGURES_LENGTH];
        printf("             between %s and %s (k = 2)\n",
               figures(answer->low, 3, text), figures(answer->high, 3, high));
    }
    printf("             %s mPa.s (cP), density %s g/ml\n",
           figures(state->dynamic, 3, text),
           figures(state->density, 3, density));
    if (isfinite(answer->sus)) {
        printf("             %s SUS\n", figures(answer->sus, 3, text));
    }
    printf("  factor     %s of the rating at %.6g C\n",
           figures(state->factor, 3, text),
           question->source.oil.points[0].temperature);
    if (isfinite(state->slope)) {
        printf("  slope      %.2f %% per degree\n", 100 * state->slope);
    }
    if (answer->iso_vg) {
        printf("  ISO 3448   VG %d, by 40 C\n", answer->iso_vg);
    }
    printf("\n");
}

static void print_table(const struct question *question)
{
    char v[FIGURES_LENGTH], mu[FIGURES_LENGTH], factor[FIGURES_LENGTH];
    if (question->table.rows == 0) {
        return;
    }
    printf("  %8s %10s %10s %8s\n", "C", "mm2/s", "mPa.s", "factor");
    for (unsigned row = 0; row < question->table.rows; row++) {
        struct mw_oil_state state;
        mw_oil_at(&question->source.oil, row_temperature(question, row),
                  &state);
        printf("  %8.6g %10s %10s %8s\n", state.temperature,
               figures(state.viscosity, 3, v), figures(state.dynamic, 3, mu),
               figures(state.factor, 3, factor));
    }
    printf("\n");
}

/* -- JSON -------------------------------------------------------------- */

static json_t *json_state(const struct mw_oil_state *state, double sus)
{
    return json_pack("{s:o, s:o, s:o, s:o, s:o, s:o, s:o}", "temperature",
                     json_number(state->temperature), "viscosity",
                     json_number(state->viscosity), "dynamic_mpas",
                     json_number(state->dynamic), "density",
                     json_number(state->density), "sus", json_number(sus),
                     "factor", json_number(state->factor), "percent_per_degree",
                     json_number(100 * state->slope));
}

static json_t *json_at(const struct answer *answer)
{
    json_t *at = json_state(&answer->state, answer->sus);
    json_object_set_new(at, "low", json_number(answer->low));
    json_object_set_new(at, "high", json_number(answer->high));
    return at;
}

static json_t *json_table(const struct question *question)
{
    json_t *table = json_array();
    for (unsigned row = 0; row < question->table.rows; row++) {
        struct mw_oil_state state;
        double t = row_temperature(question, row), sus;
        mw_oil_at(&question->source.oil, t, &state);
        mw_sus(state.viscosity, t, &sus);
        json_array_append_new(table, json_state(&state, sus));
    }
    return table;
}

static json_t *json_classes(const struct answer *answer)
{
    return answer->iso_vg
               ? json_pack("[{s:s, s:i, s:i}]", "standard", "ISO 3448", "grade",
                           answer->iso_vg, "temperature", 40)
               : json_array();
}

static enum outcome print_as_json(const struct question *question,
                                  const struct answer *answer,
                                  struct problem *problem)
{
    return print_json(json_pack("{s:s, s:s, s:o, s:o, s:o, s:o, s:o}", "name",
                                question->source.name, "family",
                                mw_family_name(question->source.oil.family),
                                "points", json_points(&question->source.oil),
                                "at", json_at(answer), "table",
                                json_table(question), "classes",
                                json_classes(answer), "warnings",
                                json_notes(answer->state.notes)),
                      problem);
}

static enum outcome run(const struct command *command, int argc, char **argv,
                        struct problem *problem)
{
    struct words words;
    struct question question = {0};
    struct answer answer = {0};
    if (options_read(command, options, argc, argv, &words, problem) !=
            OUTCOME_DONE ||
        words.helped) {
        return problem->outcome;
    }
    if (read_question(&words, &question, problem) != OUTCOME_DONE ||
        solve(&question, &answer, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (words.json) {
        return print_as_json(&question, &answer, problem);
    }
    print_points(&question);
    print_state(&question, &answer);
    print_table(&question);
    print_doubt(&answer.budget);
    print_notes(answer.state.notes);
    paragraph("%s", CAUTION_OIL);
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
        "  midweight oil 340mPa.s@20C --at 68F\n",
    .arguments = "OIL",
    .notes = "\vAn OIL is 350, 350@40C, 32@40C/5.4@100C or 46@40C/VI150. One "
             "point is silicone at 25 C unless --family says otherwise. "
             "Numbers are estimates: measure what matters.",
    .run = run,
};
