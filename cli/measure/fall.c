/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/fall.h"

#include <math.h>
#include <strings.h>

#include "parse/number.h"

typedef enum exit_code parse(const char *text, struct toleranced *toleranced,
                             struct error *error);

/* an option, NaN where it was not given */
static enum exit_code read_option(const struct args *args, int option,
                                  parse *parser, struct toleranced *toleranced,
                                  struct error *error)
{
    *toleranced = (struct toleranced){NAN, NAN};
    return args->value[option] ? parser(args->value[option], toleranced, error)
                               : EXIT_DONE;
}

static enum exit_code read_tube(const struct args *args,
                                struct toleranced *tube, struct error *error)
{
    if (args->value[FALL_TUBE] &&
        strcasecmp(args->value[FALL_TUBE], "none") == 0) {
        *tube = (struct toleranced){INFINITY, NAN};
        return EXIT_DONE;
    }
    return read_option(args, FALL_TUBE, parse_length_toleranced, tube, error);
}

static enum exit_code read_options(const struct args *args, struct fall *fall,
                                   struct error *error)
{
    enum exit_code code;
    if ((code = read_option(args, FALL_DIAMETER, parse_length_toleranced,
                            &fall->diameter, error)) != EXIT_DONE ||
        (code = read_option(args, FALL_TRAVEL, parse_length_toleranced,
                            &fall->travel, error)) != EXIT_DONE ||
        (code = read_option(args, FALL_DEPTH, parse_length_toleranced,
                            &fall->depth, error)) != EXIT_DONE ||
        (code = read_option(args, FALL_BALL_DENSITY, parse_density_toleranced,
                            &fall->ball_density, error)) != EXIT_DONE ||
        (code = read_option(args, FALL_OIL_DENSITY, parse_density_toleranced,
                            &fall->density, error)) != EXIT_DONE ||
        (code = read_tube(args, &fall->tube, error)) != EXIT_DONE) {
        return code;
    }
    fall->gravity = MW_GRAVITY;
    return args->value[FALL_GRAVITY]
               ? parse_number(args->value[FALL_GRAVITY], &fall->gravity, error)
               : EXIT_DONE;
}

/* what cannot be left out */
static enum exit_code check_given(const struct args *args, bool whole,
                                  struct error *error)
{
    static const struct {
        int option;
        const char *hint;
    } needed[] = {
        {FALL_TUBE,
         "--tube, such as --tube 38mm (or none where no wall is near)"},
        {FALL_DIAMETER, "--diameter of the ball, such as --diameter 3mm"},
        {FALL_TRAVEL, "--travel from mark to mark, such as --travel 200mm"},
        {FALL_BALL_DENSITY,
         "--ball-density in g/ml, such as --ball-density 7.8"},
    };
    size_t count = whole ? sizeof needed / sizeof needed[0] : 1;
    for (size_t i = 0; i < count; i++) {
        if (!args->value[needed[i].option]) {
            return refuse(error, "a fall needs %s", needed[i].hint);
        }
    }
    return EXIT_DONE;
}

enum exit_code fall_read(const struct args *args, bool whole, struct fall *fall,
                         struct error *error)
{
    enum exit_code code = check_given(args, whole, error);
    return code == EXIT_DONE ? read_options(args, fall, error) : code;
}

struct mw_ball_run fall_run(const struct fall *fall, double time)
{
    return (struct mw_ball_run){.diameter = fall->diameter.value,
                                .tube = fall->tube.value,
                                .travel = fall->travel.value,
                                .depth = fall->depth.value,
                                .time = time,
                                .ball_density = fall->ball_density.value,
                                .density = fall->density.value,
                                .gravity = fall->gravity};
}

enum exit_code fall_refuse(const struct mw_ball_run *run, enum mw_status status,
                           struct error *error)
{
    const double mm = 1000;
    switch (status) {
    case MW_ERR_TUBE:
        return refuse(error,
                      "a ball of %.4g mm in a tube of %.4g mm: %s; take a "
                      "smaller ball",
                      mm * run->diameter, mm * run->tube,
                      mw_status_text(status));
    case MW_ERR_BALL:
        return refuse(error, "a ball of %.4g g/ml in oil of %.4g g/ml: %s",
                      run->ball_density,
                      isnan(run->density) ? 0.97 : run->density,
                      mw_status_text(status));
    case MW_ERR_REYNOLDS:
        return error_set(error, EXIT_NO_ANSWER,
                         "%s; take a smaller or a lighter ball",
                         mw_status_text(status));
    default:
        return measure_refuse(status, error);
    }
}
