/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* measure ball --for: which ball suits an oil */
#include <math.h>
#include <stdio.h>

#include "measure/fall.h"
#include "output/json.h"
#include "output/text.h"
#include "parse/number.h"
#include "util/format.h"

/* m; what --for takes where --travel does not say */
#define USUAL_ROOM 0.2

static void print_choices(const struct mw_ball_choice *choices, size_t count,
                          const struct mw_point *oil)
{
    char text[FORMAT_LENGTH];
    print_text("%s mm2/s at %.6g C\n\n",
               format_significant(oil->viscosity, 3, text), oil->temperature);
    print_text(
        "  ball       g/ml       mm   travel mm        s  Reynolds   +-%%\n");
    for (size_t i = 0; i < count; i++) {
        const struct mw_ball_choice *choice = &choices[i];
        char density[FORMAT_LENGTH], time[FORMAT_LENGTH];
        print_text("  %-8s %6s %8.4g %11.4g %8s %9s %5.1f\n", choice->material,
                   format_significant(choice->ball_density, 3, density),
                   1000 * choice->diameter, 1000 * choice->travel,
                   format_significant(choice->time, 3, time),
                   format_significant(choice->reynolds, 2, text),
                   100 * MW_COVERAGE * choice->uncertainty);
    }
    print_text("\n");
    print_wrapped(
        "+-%% is k = 2, timed once with usual tools. Keep the marks "
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
                              json_number(choice->reynolds), "uncertainty",
                              json_uncertainty_of(choice->uncertainty,
                                                  oil->viscosity)));
    }
    json_set(json, "balls", list);
    return json;
}

static enum exit_code refuse_choice(const struct mw_ball_run *run,
                                    const struct mw_point *oil,
                                    enum mw_status status, struct error *error)
{
    char text[FORMAT_LENGTH];
    if (status == MW_ERR_CHOICE) {
        return error_set(error, EXIT_NO_ANSWER,
                         "no usual ball falls through %s mm2/s in %g to %g s "
                         "over %.4g mm or less; %s",
                         format_significant(oil->viscosity, 3, text),
                         MW_SHORT_TIME, MW_CHOICE_TIME_MAX, 1000 * run->travel,
                         oil->viscosity < 100
                             ? "take a cup, or a longer --travel"
                             : "take a wider tube or a heavier ball");
    }
    return fall_refuse(run, status, error);
}

static enum exit_code offer(const struct args *args, const struct fall *fall,
                            const struct oil_ref *ref,
                            const struct mw_point *oil, struct error *error)
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
            mw_oil_density(&ref->oil, oil->temperature, &run.density, NULL);
    }
    if (status == MW_OK) {
        status = mw_ball_choose(&run, oil->viscosity, choices, &count);
    }
    if (status != MW_OK) {
        return refuse_choice(&run, oil, status, error);
    }
    if (args->json) {
        return print_json("balls", json_choices(choices, count, oil), error);
    }
    print_choices(choices, count, oil);
    return EXIT_DONE;
}

enum exit_code balls_for(const struct args *args, const char *oil,
                         struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct fall fall;
    struct oil_ref ref;
    struct mw_point point;
    if (args->count > 0 || args->value[FALL_TIME]) {
        return refuse(error, "--for asks which ball; there is no time yet");
    }
    return (code = fall_read(args, false, &fall, error)) == EXIT_DONE &&
                   (code = measure_wanted(args, oil, &ref, &point, error)) ==
                       EXIT_DONE
               ? offer(args, &fall, &ref, &point, error)
               : code;
}
