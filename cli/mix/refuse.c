/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>

#include "mix/mix.h"
#include "output/text.h"
#include "parse/number.h"
#include "util/format.h"

#define NO_ANSWER(...) error_set(error, EXIT_NO_ANSWER, __VA_ARGS__)

void mix_nearest_alone(const struct mw_oil *oils, const char *const names[],
                       size_t count, const struct mw_point *target,
                       char text[NEAREST_LENGTH])
{
    size_t nearest;
    double v;
    char viscosity[FORMAT_LENGTH], name[TRUNCATED_LENGTH];
    text[0] = '\0';
    if (mw_mixture_nearest(oils, count, target->viscosity, target->temperature,
                           &nearest, &v) == MW_OK) {
        snprintf(text, NEAREST_LENGTH, "; the nearest is %s alone, %s mm2/s",
                 truncate_columns(names[nearest], QUOTED - 1, name),
                 format_significant(v, 3, viscosity));
    }
}

enum { STEP_LENGTH = 240 };

/* from the thinnest to the thickest of the oils, in words */
struct extremes {
    double thinnest, thickest; /* mm2/s */
    char thin[FORMAT_LENGTH], thick[FORMAT_LENGTH];
};

static struct extremes find_extremes(const struct mix_request *request,
                                     const struct mix_answer *answer)
{
    struct extremes found = {.thinnest = INFINITY};
    for (size_t i = 0; i < request->count; i++) {
        double v = answer->result.mix.states[i].viscosity;
        found.thinnest = fmin(found.thinnest, v);
        found.thickest = fmax(found.thickest, v);
    }
    format_significant(found.thinnest, 3, found.thin);
    format_significant(found.thickest, 3, found.thick);
    return found;
}

/* both of two steps, over an oil that is midway; "" without a target */
static void name_step(const struct mix_request *request,
                      const struct extremes *extremes, double midway,
                      char step[STEP_LENGTH])
{
    char target[FORMAT_LENGTH], between[FORMAT_LENGTH];
    bool thin = request->target.viscosity < midway;
    step[0] = '\0';
    if (request->has_target) {
        snprintf(step, STEP_LENGTH,
                 ": mix a third oil with %s to %s mm2/s, and then midweight "
                 "mix %s %s --target %s@%.6gC",
                 thin ? extremes->thick : extremes->thin,
                 format_significant(midway, 2, between),
                 thin ? extremes->thin : between,
                 thin ? between : extremes->thick,
                 format_compact(request->target.viscosity, target),
                 request->temperature);
    }
}

static enum exit_code refuse_ratio(const struct mix_request *request,
                                   struct extremes *extremes,
                                   struct error *error)
{
    char between[FORMAT_LENGTH], step[STEP_LENGTH];
    double midway = mw_mixture_midway(extremes->thinnest, extremes->thickest);
    format_compact(extremes->thinnest, extremes->thin);
    format_compact(extremes->thickest, extremes->thick);
    if (midway > MW_RATIO_MAX * extremes->thinnest) {
        return NO_ANSWER("%s with %s mm2/s is wider than %g to 1, too far to "
                         "calculate; mix in several steps, over oils in "
                         "between",
                         extremes->thick, extremes->thin, MW_RATIO_MAX);
    }
    name_step(request, extremes, midway, step);
    return NO_ANSWER("%s with %s mm2/s is wider than %g to 1, too far to "
                     "calculate; mix in two steps, over an oil near %s mm2/s%s",
                     extremes->thick, extremes->thin, MW_RATIO_MAX,
                     format_significant(midway, 2, between), step);
}

static enum exit_code refuse_target(const struct mix_request *request,
                                    const struct extremes *extremes,
                                    const char *nearest, struct error *error)
{
    char target[FORMAT_LENGTH];
    return NO_ANSWER("%s mm2/s at %.6g C is not between these oils, %s to %s "
                     "there%s",
                     format_compact(request->target.viscosity, target),
                     request->temperature, extremes->thin, extremes->thick,
                     nearest);
}

enum exit_code mix_refuse(const struct mix_request *request,
                          const struct mix_answer *answer,
                          enum mw_status status, struct error *error)
{
    char nearest[NEAREST_LENGTH] = "";
    const char *names[MW_MIX_OILS_MAX];
    struct extremes extremes = {0};
    if (answer) {
        extremes = find_extremes(request, answer);
    }
    for (size_t i = 0; i < request->count; i++) {
        names[i] = request->refs[i].name;
    }
    if (request->has_target) {
        mix_nearest_alone(request->known->oils, names, request->count,
                          &request->target, nearest);
    }
    switch (status) {
    case MW_ERR_TARGET:
        return refuse_target(request, &extremes, nearest, error);
    case MW_ERR_RATIO:
        return refuse_ratio(request, &extremes, error);
    case MW_ERR_FAMILY:
        return NO_ANSWER("silicone and mineral oil do not mix; take oils of "
                         "one family%s",
                         nearest);
    case MW_ERR_EQUAL_VISCOSITY:
        return NO_ANSWER("these oils are alike at %.6g C, and so is every mix "
                         "of them; use either",
                         request->temperature);
    case MW_ERR_EXCESS:
        return NO_ANSWER("with an excess of %g these oils do not thicken "
                         "steadily with the share; take oils that are closer, "
                         "or a smaller excess%s",
                         request->known->method.excess, nearest);
    case MW_ERR_NO_LINE:
        return refuse(error, "%s; write 32@40C/5.4@100C, or --rule astm",
                      mw_status_text(status));
    default:
        return NO_ANSWER("%s", mw_status_text(status));
    }
}
