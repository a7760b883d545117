/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "mix/mix.h"
#include "parse/number.h"

static const char *tool_option(enum mix_tool tool)
{
    return tool == TOOL_SYRINGE ? "--syringe"
           : tool == TOOL_SCALE ? "--scale"
                                : "--drop";
}

/* ln v of a share of the second oil in what is poured, with what is left over
 */
struct pouring {
    const struct mix_request *request;
    double part; /* of the whole that is left over */
};

static double ln_poured(double share, void *params)
{
    const struct pouring *pouring = params;
    const struct mix_request *request = pouring->request;
    const double shares[3] = {(1 - share) * (1 - pouring->part),
                              share * (1 - pouring->part), pouring->part};
    double v;
    mw_mixture(request->oils, shares, request->all, request->temperature,
               &request->method, &v, NULL);
    return log(v);
}

double mix_mark(const struct mix_request *request,
                const struct mix_answer *answer, size_t i)
{
    double mark = request->step;
    if (request->tool == TOOL_SCALE) {
        mw_dose_volume(request->step, answer->mix.states[i].density, &mark);
    }
    return mark;
}

double mix_poured(const struct mix_answer *answer, size_t i)
{
    return answer->has_dosed ? answer->dosed.volumes[i]
                             : answer->mix.volumes[i];
}

void mix_check_left(const struct mix_request *request,
                    struct mix_answer *answer)
{
    double volumes[MW_MIX_OILS_MAX], left[MW_MIX_OILS_MAX], part;
    for (size_t i = 0; i < request->count; i++) {
        volumes[i] = mix_poured(answer, i);
        left[i] = request->refs[i].left_ml;
    }
    if (mw_dose_largest(volumes, left, request->count, &part,
                        &answer->shortest) == MW_OK) {
        answer->largest_ml = part * answer->mix.total_ml;
    } else {
        answer->shortest = request->count;
        answer->largest_ml = answer->mix.total_ml;
    }
}

static enum exit_code round_recipe(const struct mix_request *request,
                                   struct mix_answer *answer,
                                   struct error *error)
{
    const struct mw_order order = {
        answer->shares[1],
        answer->mix.total_ml - request->residue_ml,
        MW_RECIPE_TOLERANCE,
        {mix_mark(request, answer, 0), mix_mark(request, answer, 1)}};
    struct pouring pouring = {request,
                              request->residue_ml / answer->mix.total_ml};
    enum mw_status status =
        mw_recipe(&order, ln_poured, &pouring, &answer->dosed);
    if (status == MW_ERR_TOOL) {
        return error_set(error, EXIT_NO_ANSWER,
                         "%s %.6g cannot measure this batch within %g %%; "
                         "take a finer tool or a larger batch",
                         tool_option(request->tool), request->step,
                         100 * MW_RECIPE_TOLERANCE);
    }
    if (status == MW_ERR_SHARES) {
        return EXIT_DONE; /* one oil alone: nothing to round */
    }
    if (status != MW_OK) {
        return mix_refuse(request, answer, status, error);
    }
    answer->has_dosed = true;
    answer->dosed_viscosity = exp(ln_poured(answer->dosed.share, &pouring));
    answer->mix.warnings |= answer->dosed.warnings;
    return EXIT_DONE;
}

enum exit_code mix_dose(const struct mix_request *request,
                        struct mix_answer *answer, struct error *error)
{
    const char *option = tool_option(request->tool);
    if (request->tool == TOOL_NONE) {
        return EXIT_DONE;
    }
    if (!request->has_target || answer->tops_up || request->count != 2) {
        return refuse(error,
                      "%s rounds a recipe for a target; give --target and no "
                      "amounts",
                      option);
    }
    if (!isfinite(answer->mix.total_ml)) {
        return refuse(error, "%s needs to know the batch; give --make", option);
    }
    return round_recipe(request, answer, error);
}
