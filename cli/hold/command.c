/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "hold/hold.h"

#include <math.h>

#include "command/options.h"
#include "hold/command.h"
#include "parse/number.h"
#include "parse/viscosity.h"

enum { FROM, TO, SPRING, MASS, PISTON, BORE, SHAFT, SPEED, FAMILY, DENSITY };

static const struct argp_option options[] = {
    OPTION(FROM, "from", "T", "The temperature before"),
    OPTION(TO, "to", "T", "The temperature after"),
    OPTION(SPRING, "spring", "A:B",
           "Spring before and after: a ratio, or with N/m or N/mm"),
    OPTION(MASS, "mass", "A:B",
           "Mass before and after: a ratio, or with kg or g"),
    OPTION(PISTON, "piston", "NxD[xL]:NxD[xL]",
           "Pistons before and after: holes, their diameter, their length"),
    OPTION(BORE, "bore", "D",
           "Inner diameter of the tube, for the damping in N s/m"),
    OPTION(SHAFT, "shaft", "D",
           "Diameter of the shaft, 0mm for none on the side that pushes"),
    OPTION(SPEED, "speed", "V", "Speed of the shaft, for the forces at it"),
    OPTION(FAMILY, "family", "FAMILY", "What the oil is: silicone or mineral"),
    OPTION(DENSITY, "density", "D",
           "Density in g/ml (silicone at 25 C, mineral at 15 C)"),
    {0},
};

static enum outcome read_temperatures(const struct words *words,
                                      struct hold_request *request,
                                      struct problem *problem)
{
    const char *from = words->value[FROM], *to = words->value[TO];
    request->t_from = request->t_to = request->source.oil.points[0].temperature;
    request->has_temperatures = from && to;
    if (!from && !to) {
        return OUTCOME_DONE;
    }
    if (!from || !to) {
        return REFUSE("--from and --to go together, such as --from 25C --to "
                      "12C");
    }
    return parse_temperature(from, &request->t_from, problem) == OUTCOME_DONE
               ? parse_temperature(to, &request->t_to, problem)
               : problem->outcome;
}

static enum outcome read_changes(const struct words *words,
                                 struct hold_request *request,
                                 struct problem *problem)
{
    request->has_spring = words->value[SPRING] != NULL;
    request->has_mass = words->value[MASS] != NULL;
    request->has_piston = words->value[PISTON] != NULL;
    if (request->has_spring) {
        parse_spring(words->value[SPRING], &request->spring, problem);
    }
    if (request->has_mass && problem->outcome == OUTCOME_DONE) {
        parse_mass(words->value[MASS], &request->mass, problem);
    }
    if (request->has_piston && problem->outcome == OUTCOME_DONE) {
        parse_piston(words->value[PISTON], &request->piston_from,
                     &request->piston_to, problem);
    }
    if (problem->outcome == OUTCOME_DONE && !request->has_temperatures &&
        !request->has_spring && !request->has_mass && !request->has_piston) {
        return REFUSE("what changes? --from 25C --to 12C, --spring 2.4:2.7, "
                      "--mass 1.6:1.8 or --piston 3x1.2mm:4x1.2mm");
    }
    return problem->outcome;
}

static enum outcome read_damper(const struct words *words,
                                struct hold_request *request,
                                struct problem *problem)
{
    const char *bore = words->value[BORE], *shaft = words->value[SHAFT];
    const char *speed = words->value[SPEED];
    request->has_damper = bore && shaft;
    request->speed = NAN;
    if (!bore && !shaft && !speed) {
        return OUTCOME_DONE;
    }
    if (!bore || !shaft) {
        return REFUSE("--bore and --shaft go together (--shaft 0mm for none "
                      "on the side that pushes)%s",
                      speed ? ", and --speed needs them" : "");
    }
    if (!request->has_piston || isnan(request->piston_to.thickness)) {
        return REFUSE("--bore needs a piston with its thickness, such as "
                      "--piston 3x1.2mmx2mm");
    }
    if (parse_size(bore, &request->bore, problem) != OUTCOME_DONE ||
        parse_shaft(shaft, &request->shaft, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    return speed ? parse_speed(speed, &request->speed, problem) : OUTCOME_DONE;
}

static enum outcome read_oil(const struct words *words,
                             struct hold_request *request,
                             struct problem *problem)
{
    struct oil_habits habits;
    struct shelf shelf = {.file = words->stock};
    if (parse_habits(words->value[FAMILY], words->value[DENSITY], &habits,
                     problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (words->count == 0) {
        return REFUSE("which oil is in the damper? try midweight hold 450 "
                      "--from 25C --to 12C");
    }
    if (words->count > 1) {
        return REFUSE("one oil at a time; \"%.*s\" is one too many", QUOTED,
                      words->argument[1]);
    }
    request->stock = words->stock;
    source_find(&shelf, words->argument[0], &habits, &request->source, problem);
    shelf_close(&shelf);
    return problem->outcome;
}

static enum outcome run(const struct command *command, int argc, char **argv,
                        struct problem *problem)
{
    struct words words;
    struct hold_request request = {0};
    struct hold_answer answer = {0};
    if (options_read(command, options, argc, argv, &words, problem) !=
            OUTCOME_DONE ||
        words.helped) {
        return problem->outcome;
    }
    if (read_oil(&words, &request, problem) == OUTCOME_DONE &&
        read_temperatures(&words, &request, problem) == OUTCOME_DONE &&
        read_changes(&words, &request, problem) == OUTCOME_DONE &&
        read_damper(&words, &request, problem) == OUTCOME_DONE &&
        hold_solve(&request, &answer, problem) == OUTCOME_DONE &&
        hold_pour(&request, &answer, problem) == OUTCOME_DONE) {
        if (words.json) {
            hold_print_json(&request, &answer, problem);
        } else {
            hold_print(&request, &answer);
        }
    }
    hold_answer_free(&answer);
    return problem->outcome;
}

const struct command command_hold = {
    .name = "hold",
    .summary = "the oil that keeps the damping when something changes",
    .examples =
        "  midweight hold 450 --from 25C --to 12C      a cold morning\n"
        "  midweight hold 450 --from 22C --to 9C --spring 2.4:2.7\n"
        "  midweight hold 350 --piston 3x1.2mmx2mm:4x1.2mmx2mm\n"
        "  midweight hold 350 --from 20C --to 30C --piston 3x1.2x2mm \\\n"
        "      --bore 12mm --shaft 3mm --speed 0.1m/s  the damping itself\n",
    .arguments = "OIL",
    .notes =
        "\vOIL is what is in the damper: 350, 350@40C, 32@40C/5.4@100C, or a "
        "bottle of the stock. What is kept is the damping ratio; without a "
        "change of spring or mass that is the damping. A:B is before and "
        "after, A alone is what stays. Springs and masses may be ratios; sizes "
        "and speeds need a unit. Numbers are estimates: measure what matters.",
    .run = run,
};
