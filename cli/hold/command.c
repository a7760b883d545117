/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "hold/hold.h"

#include <math.h>

#include "command/options.h"
#include "hold/command.h"
#include "parse/number.h"
#include "parse/toleranced.h"
#include "parse/viscosity.h"

enum {
    FROM,
    TO,
    THERMOMETER,
    SPRING,
    MASS,
    PISTON,
    BORE,
    SHAFT,
    GAP,
    SPEED,
    FAMILY,
    DENSITY
};

static const struct command_option options[] = {
    OPTION(FROM, "from", "T",
           "Start from this temperature (default: the rating)"),
    OPTION(TO, "to", "T", "Go to this temperature"),
    OPTION(THERMOMETER, "thermometer", "K", THERMOMETER_HELP("to")),
    OPTION(SPRING, "spring", "A:B",
           "Change the spring rate: a ratio, or in N/m or N/mm"),
    OPTION(MASS, "mass", "A:B", "Change the mass: a ratio, or in kg or g"),
    OPTION(PISTON, "piston", "NxD[xL]:NxD[xL]",
           "Change the piston: number of holes, diameter, length"),
    OPTION(BORE, "bore", "D", "Give the damping in N s/m for this bore"),
    OPTION(SHAFT, "shaft", "D",
           "Count a shaft of this diameter; 0mm where none is on the working "
           "side"),
    OPTION(GAP, "gap", "L",
           "Count what passes the piston through a gap of this width all "
           "round it"),
    OPTION(SPEED, "speed", "V", "Give the force at this speed of the shaft"),
    OPTION(FAMILY, "family", "FAMILY", "Take the oil as silicone or mineral"),
    OPTION(DENSITY, "density", "D",
           "Take this density in g/ml (silicone at 25 C, mineral at 15 C)"),
    {0},
};

static enum exit_code read_temperatures(const struct args *args,
                                        struct hold_request *request,
                                        struct error *error)
{
    const char *from = args->value[FROM], *to = args->value[TO];
    request->t_from = request->t_to = request->ref.oil.points[0].temperature;
    request->has_temperatures = to != NULL;
    request->explain = args->explain;
    if (from && !to) {
        return refuse(error, "--from needs --to, such as --from 25C --to 12C");
    }
    enum exit_code code =
        from ? parse_temperature(from, &request->t_from, error) : EXIT_DONE;
    struct toleranced t = {request->t_to, NAN};
    if (code == EXIT_DONE) {
        code = parse_thermometer(to, args->value[THERMOMETER], &t, error);
    }
    request->t_to = t.value;
    request->thermometer = thermometer_of(&t);
    return code;
}

static enum exit_code read_changes(const struct args *args,
                                   struct hold_request *request,
                                   struct error *error)
{
    enum exit_code code = EXIT_DONE;
    request->has_spring = args->value[SPRING] != NULL;
    request->has_mass = args->value[MASS] != NULL;
    request->has_piston = args->value[PISTON] != NULL;
    if (request->has_spring) {
        code = parse_spring(args->value[SPRING], &request->spring, error);
    }
    if (request->has_mass && code == EXIT_DONE) {
        code = parse_mass(args->value[MASS], &request->mass, error);
    }
    if (request->has_piston && code == EXIT_DONE) {
        code = parse_piston(args->value[PISTON], &request->piston_from,
                            &request->piston_to, error);
    }
    if (code == EXIT_DONE && !request->has_temperatures &&
        !request->has_spring && !request->has_mass && !request->has_piston) {
        return refuse(error,
                      "what changes? --from 25C --to 12C, --spring 2.4:2.7, "
                      "--mass 1.6:1.8 or --piston 3x1.2mm:4x1.2mm");
    }
    return code;
}

static enum exit_code read_damper(const struct args *args,
                                  struct hold_request *request,
                                  struct error *error)
{
    const char *bore = args->value[BORE], *shaft = args->value[SHAFT];
    const char *speed = args->value[SPEED], *gap = args->value[GAP];
    request->has_damper = bore && shaft;
    request->speed = NAN;
    if (!bore && !shaft && !speed && !gap) {
        return EXIT_DONE;
    }
    if (!bore || !shaft) {
        return refuse(error,
                      "--bore and --shaft go together (--shaft 0mm for none "
                      "on the side that pushes)%s",
                      speed ? ", and --speed needs them"
                      : gap ? ", and --gap needs them"
                            : "");
    }
    if (!request->has_piston || isnan(request->piston_to.thickness)) {
        return refuse(error,
                      "--bore needs a piston with its thickness, such as "
                      "--piston 3x1.2mmx2mm");
    }
    enum exit_code code;
    if ((code = parse_size(bore, &request->bore, error)) != EXIT_DONE ||
        (code = parse_shaft(shaft, &request->shaft, error)) != EXIT_DONE) {
        return code;
    }
    if (gap && (code = parse_size(gap, &request->gap, error)) != EXIT_DONE) {
        return code;
    }
    return speed ? parse_speed(speed, &request->speed, error) : EXIT_DONE;
}

static enum exit_code read_oil(const struct args *args,
                               struct hold_request *request,
                               struct error *error)
{
    struct oil_defaults defaults;
    struct stock_handle handle = {.file = args->stock};
    enum exit_code code = parse_oil_defaults(
        args->value[FAMILY], args->value[DENSITY], &defaults, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (args->count == 0) {
        return refuse(error,
                      "which oil is in the damper? try midweight hold 450 "
                      "--from 25C --to 12C");
    }
    if (args->count > 1) {
        return refuse(error, "one oil at a time; \"%.*s\" is one too many",
                      QUOTED, args->argument[1]);
    }
    request->stock = args->stock;
    code = oil_ref_find(&handle, args->argument[0], &defaults, &request->ref,
                        error);
    stock_handle_close(&handle);
    return code;
}

static enum exit_code run(const struct args *args, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct hold_request request = {0};
    struct hold_answer answer = {0};
    if ((code = read_oil(args, &request, error)) == EXIT_DONE &&
        (code = read_temperatures(args, &request, error)) == EXIT_DONE &&
        (code = read_changes(args, &request, error)) == EXIT_DONE &&
        (code = read_damper(args, &request, error)) == EXIT_DONE &&
        (code = hold_solve(&request, &answer, error)) == EXIT_DONE &&
        (code = hold_pour(&request, &answer, error)) == EXIT_DONE) {
        if (args->json) {
            code = hold_print_json(&request, &answer, error);
        } else {
            hold_print(&request, &answer);
        }
    }
    hold_answer_free(&answer);
    return code;
}

const struct command command_hold = {
    .name = "hold",
    .summary = "the oil that keeps the damping after a change",
    .examples =
        "  midweight hold 450 --from 25C --to 12C      a cold morning\n"
        "  midweight hold 450 --from 22C --to 9C --spring 2.4:2.7\n"
        "  midweight hold 350 --piston 3x1.2mmx2mm:4x1.2mmx2mm\n"
        "  midweight hold 350 --from 20C --to 30C --piston 3x1.2x2mm \\\n"
        "      --bore 12mm --shaft 3mm --speed 0.1m/s  the damping itself\n",
    .arguments = "OIL",
    .notes = "OIL is the oil in the damper: 350, 350@40C, "
             "32@40C/5.4@100C or the name of a bottle. The damping "
             "ratio is kept, which is the damping itself where spring "
             "and mass stay the same. A:B means before and after, A "
             "alone means unchanged. Spring and mass may be ratios; "
             "sizes and speeds need a unit. The temperature is the oil's, not "
             "the hall's: a damper that turns 0.7 W into heat warms by roughly "
             "6 K in 5 minutes, which costs silicone some 12 % (estimate). "
             "Results are estimates.",
    .options = options,
    .run = run,
};
