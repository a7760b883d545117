/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/mix_tools.h"

#include <math.h>

#include "base/positive.h"
#include "blend/recipe.h"

static const struct mw_dose_tool none = {MW_TOOL_NONE, NAN, INFINITY};

static struct mw_dose_tool scale(const struct mw_mix_job *job,
                                 const struct mw_mix *mix, size_t i)
{
    return (struct mw_dose_tool){
        MW_TOOL_SCALE, job->tools.resolution_g / mix->states[i].density,
        INFINITY};
}

static struct mw_dose_tool drops(const struct mw_mix_job *job, size_t i)
{
    double own = job->parts[i].drop_ml;
    return (struct mw_dose_tool){MW_TOOL_DROPS,
                                 mw_is_positive(own) ? own : job->tools.drop_ml,
                                 INFINITY};
}

static struct mw_dose_tool syringe(const struct mw_tools *tools)
{
    double step = tools->graduation_ml;
    double full = floor(tools->capacity_ml / step * (1 + 1e-9)) * step;
    return (struct mw_dose_tool){MW_TOOL_SYRINGE, step,
                                 full > 0 ? full : (double)INFINITY};
}

/* with both a syringe and a scale the smallest dose is weighed, and every one
 * that has few graduations */
static bool is_weighed(const struct mw_mix_job *job, const struct mw_mix *mix,
                       size_t i)
{
    double volume = mix->volumes[i], smallest = INFINITY;
    for (size_t j = 0; j < job->count; j++) {
        smallest =
            mix->volumes[j] > 0 ? fmin(smallest, mix->volumes[j]) : smallest;
    }
    return !(job->tools.graduation_ml > 0) || volume <= smallest ||
           volume < MW_STEPS_FEW * job->tools.graduation_ml;
}

void mw_mix_set_tools(const struct mw_mix_job *job, struct mw_mix *mix)
{
    const struct mw_tools *tools = &job->tools;
    for (size_t i = 0; i < job->count; i++) {
        bool weighed = tools->resolution_g > 0 && is_weighed(job, mix, i);
        mix->tools[i] = tools->drop_ml > 0         ? drops(job, i)
                        : weighed                  ? scale(job, mix, i)
                        : tools->graduation_ml > 0 ? syringe(tools)
                                                   : none;
    }
}
