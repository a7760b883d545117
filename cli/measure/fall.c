/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/fall.h"

#include <math.h>
#include <strings.h>

#include "parse/number.h"

typedef enum outcome parse(const char *text, struct within *within,
                           struct problem *problem);

/* an option, NaN where it was not given */
static enum outcome read_option(const struct words *words, int option,
                                parse *parser, struct within *within,
                                struct problem *problem)
{
    *within = (struct within){NAN, NAN};
    return words->value[option] ? parser(words->value[option], within, problem)
                                : problem->outcome;
}

static enum outcome read_tube(const struct words *words, struct within *tube,
                              struct problem *problem)
{
    if (words->value[FALL_TUBE] &&
        strcasecmp(words->value[FALL_TUBE], "none") == 0) {
        *tube = (struct within){INFINITY, NAN};
        return problem->outcome;
    }
    return read_option(words, FALL_TUBE, parse_length_within, tube, problem);
}

static enum outcome read_options(const struct words *words, struct fall *fall,
                                 struct problem *problem)
{
    read_option(words, FALL_DIAMETER, parse_length_within, &fall->diameter,
                problem);
    read_option(words, FALL_TRAVEL, parse_length_within, &fall->travel,
                problem);
    read_option(words, FALL_DEPTH, parse_length_within, &fall->depth, problem);
    read_option(words, FALL_BALL_DENSITY, parse_density_within,
                &fall->ball_density, problem);
    read_option(words, FALL_OIL_DENSITY, parse_density_within, &fall->density,
                problem);
    read_tube(words, &fall->tube, problem);
    fall->gravity = MW_GRAVITY;
    return words->value[FALL_GRAVITY] ? parse_number(words->value[FALL_GRAVITY],
                                                     &fall->gravity, problem)
                                      : problem->outcome;
}

/* what cannot be left out */
static enum outcome check_given(const struct words *words, bool whole,
                                struct problem *problem)
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
        if (!words->value[needed[i].option]) {
            return REFUSE("a fall needs %s", needed[i].hint);
        }
    }
    return OUTCOME_DONE;
}

enum outcome fall_read(const struct words *words, bool whole, struct fall *fall,
                       struct problem *problem)
{
    return check_given(words, whole, problem) == OUTCOME_DONE
               ? read_options(words, fall, problem)
               : problem->outcome;
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

enum outcome fall_refuse(const struct mw_ball_run *run, enum mw_status status,
                         struct problem *problem)
{
    const double mm = 1000;
    switch (status) {
    case MW_ERR_TUBE:
        return REFUSE("a ball of %.4g mm in a tube of %.4g mm: %s; take a "
                      "smaller ball",
                      mm * run->diameter, mm * run->tube,
                      mw_status_text(status));
    case MW_ERR_BALL:
        return REFUSE(
            "a ball of %.4g g/ml in oil of %.4g g/ml: %s", run->ball_density,
            isnan(run->density) ? 0.97 : run->density, mw_status_text(status));
    case MW_ERR_REYNOLDS:
        return problem_set(problem, OUTCOME_NO_ANSWER,
                           "%s; take a smaller or a lighter ball",
                           mw_status_text(status));
    default:
        return measure_refuse(status, problem);
    }
}
