/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "mix/mix.h"
#include "parse/number.h"
#include "util/format.h"

double mix_poured(const struct mix_answer *answer, size_t i)
{
    return answer->has_dosed ? answer->dosed.doses[i].volume_ml
                             : answer->mix.volumes[i];
}

/* the bottles or the tool cannot give this batch */
static enum exit_code refuse_tool(const struct mix_request *request,
                                  const struct mix_answer *answer,
                                  struct error *error)
{
    char works[FORMAT_LENGTH], left[FORMAT_LENGTH];
    const struct mw_mix *mix = &answer->mix;
    const char *unit = request->make_each.kind == MW_AMOUNT_G ? "g" : "ml";
    if (isfinite(answer->dosed.works)) {
        return error_set(error, EXIT_NO_ANSWER,
                         "the bottles hold too little for this batch; %s %s is "
                         "possible",
                         format_compact(answer->dosed.works, works), unit);
    }
    if (mix->shortest < request->count) {
        const struct oil_ref *ref = &request->refs[mix->shortest];
        return error_set(error, EXIT_NO_ANSWER,
                         "%.*s holds only %s ml, too little for this tool",
                         QUOTED, ref->name,
                         format_significant(ref->left_ml, 3, left));
    }
    return error_set(error, EXIT_NO_ANSWER,
                     "the batch has more than %d steps of the tool; use a "
                     "coarser one",
                     (int)MW_STEPS_MAX);
}

static bool is_rounded(const struct mix_request *request)
{
    for (size_t i = 0; i < request->count; i++) {
        enum mw_amount_kind kind = request->amounts[i].kind;
        if (kind == MW_AMOUNT_OPEN || kind == MW_AMOUNT_SHARE ||
            kind == MW_AMOUNT_PARTS) {
            return true;
        }
    }
    return false;
}

enum exit_code mix_dose(const struct mix_request *request,
                        const struct mw_mix_job *job, struct mix_answer *answer,
                        struct error *error)
{
    bool fits = is_rounded(request) && isfinite(answer->mix.total_ml);
    if (!any_tool(&request->tools) || (request->usual_tools && !fits)) {
        return EXIT_DONE;
    }
    if (!is_rounded(request)) {
        return refuse(error, "all amounts are given, so a tool has nothing to "
                             "round; leave it out");
    }
    if (!isfinite(answer->mix.total_ml)) {
        return refuse(error, "a tool needs to know the batch; give --make");
    }
    double expanded = MW_COVERAGE * answer->uncertainty.standard;
    enum mw_status status =
        mw_recipe(job, &answer->mix, expanded, &answer->dosed);
    if (status == MW_ERR_TOOL) {
        return refuse_tool(request, answer, error);
    }
    if (status != MW_OK) {
        return mix_refuse(request, answer, status, error);
    }
    answer->has_dosed = true;
    answer->mix.warnings |= answer->dosed.warnings;
    return EXIT_DONE;
}
