/* SPDX-License-Identifier: GPL-3.0-or-later */
/* the answer in words, the first line */
#include <math.h>
#include <stdio.h>

#include "mix/mix.h"
#include "output/text.h"
#include "util/format.h"

enum { NAMED_OILS = 3, HEADLINE = 600 };

bool mix_has_batch(const struct mix_answer *answer)
{
    return isfinite(answer->mix.total_ml);
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
    const struct mw_dose_tool *tool = &answer->mix.tools[i];
    const struct mw_dose *dose = &answer->dosed.doses[i];
    char number[FORMAT_LENGTH], step[FORMAT_LENGTH];
    bool weighed = tool->tool == MW_TOOL_SCALE;
    double each = weighed ? request->tools.resolution_g : tool->step_ml;
    if (answer->shares[i] == 0) {
        snprintf(text, FORMAT_LENGTH, "-");
    } else if (!mix_has_batch(answer)) {
        snprintf(text, FORMAT_LENGTH, "%.1f %%", 100 * answer->shares[i]);
    } else if (!answer->has_dosed || dose->steps == 0) {
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
    bool dosed = answer->has_dosed;
    if (mix_has_batch(answer)) {
        format_significant(
            dosed ? answer->dosed.total_ml : answer->mix.total_ml, 3, ml);
    }
    if (request->residue_ml > 0) {
        snprintf(with, sizeof with, "with the %s ml of %.120s that stay ",
                 format_significant(request->residue_ml, 2, left),
                 mix_name(request, request->count, name));
    }
    format_significant(dosed ? answer->dosed.viscosity : answer->mix.viscosity,
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
        count += answer->shares[i] > 0;
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
        if (!(answer->shares[i] > 0)) {
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
        most = answer->shares[i] > answer->shares[most] ? i : most;
    }
    double off =
        100 * (answer->mix.viscosity / answer->mix.states[most].viscosity - 1);
    mix_name(request, most, name);
    if (fabs(off) < 0.05) {
        print_wrapped("%s, as thick as %s, +-%.1f %% (k = 2).", mix, name,
                      100 * MW_COVERAGE * answer->uncertainty.standard);
    } else {
        print_wrapped("%s, %.2g %% %s than %s, +-%.1f %% (k = 2).", mix,
                      fabs(off), off > 0 ? "thicker" : "thinner", name,
                      100 * MW_COVERAGE * answer->uncertainty.standard);
    }
}

void mix_print_headline(const struct mix_request *request,
                        const struct mix_answer *answer)
{
    char mix[HEADLINE], doses[HEADLINE], name[TRUNCATED_LENGTH];
    char dose[FORMAT_LENGTH];
    describe_mix(request, answer, mix, sizeof mix);
    if (!request->has_target) {
        print_made(request, answer, mix);
        return;
    }
    list_doses(request, answer, doses, sizeof doses);
    if (answer->tops_up) {
        print_wrapped("Add %s of %s: %s.",
                      mix_dose_text(request, answer, answer->added, dose),
                      mix_name(request, answer->added, name), mix);
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
