/* SPDX-License-Identifier: GPL-3.0-or-later */
/* measure ball --for: which ball suits an oil */
#include <math.h>
#include <stdio.h>

#include "measure/fall.h"
#include "output/json.h"
#include "output/text.h"
#include "parse/number.h"
#include "util/format.h"

/* m; what --for reckons with where --travel does not say */
#define USUAL_ROOM 0.2

static void print_choices(const struct mw_ball_choice *choices, size_t count,
                          const struct mw_point *oil)
{
    char text[FIGURES_LENGTH];
    print_text("%s mm2/s at %.6g C\n\n", figures(oil->viscosity, 3, text),
               oil->temperature);
    print_text(
        "  ball       g/ml       mm   travel mm        s  Reynolds   +-%%\n");
    for (size_t i = 0; i < count; i++) {
        const struct mw_ball_choice *choice = &choices[i];
        char density[FIGURES_LENGTH], time[FIGURES_LENGTH];
        print_text("  %-8s %6s %8.4g %11.4g %8s %9s %5.1f\n", choice->material,
                   figures(choice->ball_density, 3, density),
                   1000 * choice->diameter, 1000 * choice->travel,
                   figures(choice->time, 3, time),
                   figures(choice->reynolds, 2, text),
                   100 * MW_COVERAGE * choice->uncertainty);
    }
    print_text("\n");
    paragraph("+-%% is k = 2, timed once with usual tools. Keep the marks "
              "further than the radius of the tube from surface and bottom.");
}

static json_t *json_choices(const struct mw_ball_choice *choices, size_t count,
                            const struct mw_point *oil)
{
    json_t *list = json_array(), *json = json_point(oil);
    for (size_t i = 0; i < count; i++) {
        const struct mw_ball_choice *choice = &choices[i];
        json_append(list,
                    json_pack("{s:s, s:o, s:o, s:o, s:o, s:o, s:o}", "material",
                              choice->material, "ball_density",
                              json_number(choice->ball_density), "diameter",
                              json_number(choice->diameter), "travel",
                              json_number(choice->travel), "time",
                              json_number(choice->time), "reynolds",
                              json_number(choice->reynolds),
                              "uncertainty_percent",
                              json_number(100 * choice->uncertainty)));
    }
    json_set(json, "balls", list);
    return json;
}

static enum outcome refuse_choice(const struct mw_ball_run *run,
                                  const struct mw_point *oil,
                                  enum mw_status status,
                                  struct problem *problem)
{
    char text[FIGURES_LENGTH];
    if (status == MW_ERR_CHOICE) {
        return problem_set(problem, OUTCOME_NO_ANSWER,
                           "no usual ball falls through %s mm2/s in %g to %g s "
                           "over %.4g mm or less; %s",
                           figures(oil->viscosity, 3, text), MW_SHORT_TIME,
                           MW_CHOICE_TIME_MAX, 1000 * run->travel,
                           oil->viscosity < 100
                               ? "take a cup, or a longer --travel"
                               : "take a wider tube or a heavier ball");
    }
    return fall_refuse(run, status, problem);
}

static enum outcome offer(const struct words *words, const struct fall *fall,
                          const struct source *source,
                          const struct mw_point *oil, struct problem *problem)
{
    struct mw_ball_choice choices[MW_CHOICES_MAX];
    size_t count;
    struct mw_ball_run run = fall_run(fall, NAN);
    enum mw_status status = MW_OK;
    if (isnan(run.travel)) {
        run.travel = USUAL_ROOM;
    }
    if (isnan(run.density)) {
        status =
            mw_oil_density(&source->oil, oil->temperature, &run.density, NULL);
    }
    if (status == MW_OK) {
        status = mw_ball_choose(&run, oil->viscosity, choices, &count);
    }
    if (status != MW_OK) {
        return refuse_choice(&run, oil, status, problem);
    }
    if (words->json) {
        return print_json(json_choices(choices, count, oil), problem);
    }
    print_choices(choices, count, oil);
    return OUTCOME_DONE;
}

enum outcome balls_for(const struct words *words, const char *oil,
                       struct problem *problem)
{
    struct fall fall;
    struct source source;
    struct mw_point point;
    if (words->count > 0 || words->value[FALL_TIME]) {
        return REFUSE("--for asks which ball; there is no time yet");
    }
    return fall_read(words, false, &fall, problem) == OUTCOME_DONE &&
                   measure_wanted(words, oil, &source, &point, problem) ==
                       OUTCOME_DONE
               ? offer(words, &fall, &source, &point, problem)
               : problem->outcome;
}
