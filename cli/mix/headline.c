/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* the answer in words, the first line */
#include <math.h>
#include <stdint.h>
#include <stdio.h>

#include "mix/mix.h"
#include "output/text.h"
#include "util/format.h"

enum { NAMED_OILS = 3, HEADLINE = 600 };

bool mix_has_batch(const struct mix_answer *answer)
{
    return isfinite(answer->result.mix.total_ml);
}

const char *mix_name(const struct mix_request *request, size_t i,
                     char name[TRUNCATED_LENGTH])
{
    return truncate_columns(request->refs[i].name, MIX_NAME_COLUMNS, name);
}

const char *mix_dose_text(const struct mix_request *request,
                          const struct mix_answer *answer, size_t i,
                          char text[FORMAT_LENGTH])
{
    const struct mw_dose_tool *tool = &answer->result.mix.tools[i];
    const struct mw_dose *dose = &answer->result.recipe.doses[i];
    char number[FORMAT_LENGTH], step[FORMAT_LENGTH];
    bool weighed = tool->tool == MW_TOOL_SCALE;
    double each = weighed ? request->tools.resolution_g : tool->step_ml;
    if (answer->result.shares[i] == 0) {
        snprintf(text, FORMAT_LENGTH, "-");
    } else if (!mix_has_batch(answer)) {
        snprintf(text, FORMAT_LENGTH, "%.1f %%",
                 100 * answer->result.shares[i]);
    } else if (!answer->result.has_recipe || dose->steps == 0) {
        snprintf(text, FORMAT_LENGTH, "%s ml",
                 format_significant(mix_poured(answer, i), 3, number));
    } else if (tool->tool == MW_TOOL_DROPS) {
        snprintf(text, FORMAT_LENGTH, "%d drop%s", dose->steps,
                 dose->steps == 1 ? "" : "s");
    } else {
        snprintf(text, FORMAT_LENGTH, "%s %s",
                 format_decimals_of(dose->steps * each,
                                    format_compact(each, step), number),
                 weighed ? "g" : "ml");
    }
    return text;
}

/* -- The first line ------------------------------------------------------ */

/* "20.0 ml of 420 mm2/s at 25 C", by the tool where there is one */
static void describe_mix(const struct mix_request *request,
                         const struct mix_answer *answer, char *text,
                         size_t size)
{
    char v[FORMAT_LENGTH], ml[FORMAT_LENGTH] = "", left[FORMAT_LENGTH];
    char name[TRUNCATED_LENGTH], with[160] = "";
    bool dosed = answer->result.has_recipe;
    if (mix_has_batch(answer)) {
        format_significant(dosed ? answer->result.recipe.total_ml
                                 : answer->result.mix.total_ml,
                           3, ml);
    }
    if (request->residue_ml > 0) {
        snprintf(with, sizeof with, "with the %s ml of %.120s that stay ",
                 format_significant(request->residue_ml, 2, left),
                 mix_name(request, request->count, name));
    }
    format_significant(dosed ? answer->result.recipe.viscosity
                             : answer->result.mix.viscosity,
                       3, v);
    snprintf(text, size, "%s%s%s%s mm2/s at %.6g C", with, ml,
             *ml ? " ml of " : "", v, request->temperature);
}

/* oils of which something is poured */
static size_t count_poured(const struct mix_request *request,
                           const struct mix_answer *answer)
{
    size_t count = 0;
    for (size_t i = 0; i < request->count; i++) {
        count += answer->result.shares[i] > 0;
    }
    return count;
}

/* "9.99 ml of 350 and 10.0 ml of 500", or "20.0 ml of 350 alone" */
static void list_doses(const struct mix_request *request,
                       const struct mix_answer *answer, char *text, size_t size)
{
    char name[TRUNCATED_LENGTH], dose[FORMAT_LENGTH];
    size_t used = 0, count = count_poured(request, answer), listed = 0;
    for (size_t i = 0; i < request->count; i++) {
        if (!(answer->result.shares[i] > 0)) {
            continue;
        }
        int more =
            snprintf(text + used, size - used, "%s%s of %s%s",
                     listed == 0           ? ""
                     : listed + 1 == count ? " and "
                                           : ", ",
                     mix_dose_text(request, answer, i, dose),
                     mix_name(request, i, name), count == 1 ? " alone" : "");
        used = used + (size_t)more < size ? used + (size_t)more : size - 1;
        listed++;
    }
}

/* what was made, against the oil that there is most of */
static void print_made(const struct mix_request *request,
                       const struct mix_answer *answer, const char *mix)
{
    char name[TRUNCATED_LENGTH];
    size_t most = 0;
    for (size_t i = 1; i < request->count; i++) {
        most =
            answer->result.shares[i] > answer->result.shares[most] ? i : most;
    }
    double off = 100 * (answer->result.mix.viscosity /
                            answer->result.mix.states[most].viscosity -
                        1);
    mix_name(request, most, name);
    if (fabs(off) < 0.05) {
        print_wrapped("%s, as thick as %s, +-%.1f %% (k = 2).", mix, name,
                      100 * MW_COVERAGE * answer->uncertainty.standard);
    } else if (off >= 100) {
        print_wrapped("%s, %.3g times as thick as %s, +-%.1f %% (k = 2).", mix,
                      1 + off / 100, name,
                      100 * MW_COVERAGE * answer->uncertainty.standard);
    } else {
        print_wrapped("%s, %.2g %% %s than %s, +-%.1f %% (k = 2).", mix,
                      fabs(off), off > 0 ? "thicker" : "thinner", name,
                      100 * MW_COVERAGE * answer->uncertainty.standard);
    }
}

const char *mix_offered(const struct mix_request *request, size_t id,
                        char name[TRUNCATED_LENGTH])
{
    return truncate_columns(mix_offered_name(request, id), MIX_NAME_COLUMNS,
                            name);
}

/* the oil that is the target already */
static void print_alone(const struct mix_request *request,
                        const struct mix_answer *answer)
{
    char v[FORMAT_LENGTH], name[TRUNCATED_LENGTH];
    mix_offered(request, request->alone, name);
    format_significant(request->alone_v, 3, v);
    if (mix_is_alone(request)) {
        print_wrapped("Use %s as it is: %s mm2/s at %.6g C, +-%.1f %% (k = 2).",
                      name, v, request->temperature,
                      100 * MW_COVERAGE * answer->uncertainty.standard);
    } else {
        print_wrapped("Use %s as it is: %s mm2/s at %.6g C. Or:", name, v,
                      request->temperature);
    }
}

void mix_print_headline(const struct mix_request *request,
                        const struct mix_answer *answer)
{
    char mix[HEADLINE], doses[HEADLINE], name[TRUNCATED_LENGTH];
    char dose[FORMAT_LENGTH];
    if (request->chosen && request->alone != SIZE_MAX) {
        print_alone(request, answer);
    }
    if (mix_is_alone(request)) {
        return;
    }
    describe_mix(request, answer, mix, sizeof mix);
    if (!request->has_target) {
        print_made(request, answer, mix);
        return;
    }
    list_doses(request, answer, doses, sizeof doses);
    if (answer->result.tops_up) {
        print_wrapped(
            "Add %s of %s: %s.",
            mix_dose_text(request, answer, answer->result.mix.open[0], dose),
            mix_name(request, answer->result.mix.open[0], name), mix);
    } else if (request->count > NAMED_OILS) {
        print_wrapped("%s as below: %s.",
                      mix_has_batch(answer) ? "Pour" : "Mix", mix);
    } else if (mix_has_batch(answer)) {
        print_wrapped("Pour %s: %s.", doses, mix);
    } else {
        print_wrapped("Mix %s: %s, +-%.1f %% (k = 2).", doses, mix,
                      100 * MW_COVERAGE * answer->uncertainty.standard);
    }
}
