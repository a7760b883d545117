/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* the table, and what else matters */
#include <math.h>
#include <stdint.h>
#include <stdio.h>

#include "mix/mix.h"
#include "output/cautions.h"
#include "output/text.h"
#include "util/format.h"

/* -- The table ----------------------------------------------------------- */

static void print_amounts(const struct mix_request *request,
                          const struct mix_answer *answer, size_t i,
                          double least)
{
    char text[FORMAT_LENGTH], g[FORMAT_LENGTH];
    const struct mw_dose *dose = &answer->result.recipe.doses[i];
    if (answer->result.has_recipe) {
        print_text(" %10s", mix_dose_text(request, answer, i, text));
        if (dose->draws > 1) {
            print_text("  %d x %.6g ml + %.6g ml", dose->draws - 1,
                       answer->result.mix.tools[i].draw_ml, dose->last_draw_ml);
        } else if (dose->steps > 0 &&
                   answer->result.mix.tools[i].tool == MW_TOOL_SYRINGE) {
            print_text("  %d graduations", dose->steps);
        }
    } else if (mix_has_batch(answer)) {
        print_text(" %8s %8s",
                   format_significant(answer->result.mix.volumes[i], 3, text),
                   format_significant(answer->result.mix.masses[i], 3, g));
    } else {
        print_text(" %7s", least > 0
                               ? format_significant(
                                     answer->result.shares[i] / least, 3, text)
                               : "-");
    }
}

static void print_table(const struct mix_request *request,
                        const struct mix_answer *answer)
{
    char name[TRUNCATED_LENGTH], viscosity[FORMAT_LENGTH];
    double least = 1;
    for (size_t i = 0; i < request->count; i++) {
        least = fmin(least, answer->result.shares[i]);
    }
    print_text("\n  %-*s %9s%s\n", MIX_NAME_COLUMNS, "oil", "mm2/s",
               answer->result.has_recipe ? "       dose"
               : mix_has_batch(answer)   ? "     share       ml        g"
                                         : "     share   parts");
    for (size_t i = 0; i < request->count; i++) {
        bool to_add = answer->result.tops_up && i == answer->result.mix.open[0];
        print_text("%c ", to_add ? '+' : ' ');
        print_padded(mix_name(request, i, name), MIX_NAME_COLUMNS);
        print_text(" %9s",
                   format_significant(answer->result.mix.states[i].viscosity, 3,
                                      viscosity));
        if (!answer->result.has_recipe) { /* a share that no tool can measure */
            print_text(" %7.1f %%", 100 * answer->result.shares[i]);
        }
        print_amounts(request, answer, i, least);
        print_text("\n");
    }
    print_text("\n");
}

/* -- What else matters --------------------------------------------------- */

enum { MISS_LENGTH = 60 };

/* what rounding to the tool makes of it: "0.02 % below target"; "" without a
 * tool */
static const char *miss_text(const struct mix_request *request,
                             const struct mix_answer *answer,
                             char text[MISS_LENGTH])
{
    double miss = 100 * answer->result.recipe.miss;
    bool meets = request->has_target && !answer->result.left_shifts;
    text[0] = '\0';
    if (answer->result.has_recipe) {
        snprintf(text, MISS_LENGTH, "%.2f %% %s %s", fabs(miss),
                 miss < 0 ? "below" : "above",
                 meets ? "target" : "the exact mix");
    }
    return text;
}

/* how near and how sure, where the first line has not said it */
static void print_band(const struct mix_request *request,
                       const struct mix_answer *answer)
{
    char low[FORMAT_LENGTH], high[FORMAT_LENGTH], miss[MISS_LENGTH];
    bool said = !request->has_target || !mix_has_batch(answer);
    miss_text(request, answer, miss);
    if (isfinite(answer->uncertainty.low) && (!said || request->explain)) {
        print_wrapped("%s%s+-%.1f %% (k = 2): %s to %s mm2/s.", miss,
                      *miss ? "; " : "",
                      100 * MW_COVERAGE * answer->uncertainty.standard,
                      format_significant(answer->uncertainty.low, 3, low),
                      format_significant(answer->uncertainty.high, 3, high));
    } else if (*miss) {
        print_wrapped("%s.", miss);
    }
    oils_print_uncertainty(&request->network, &answer->uncertainty);
}

/* what a bottle cannot give, before it is poured */
static void print_missing(const struct mix_request *request,
                          const struct mix_answer *answer)
{
    char left[FORMAT_LENGTH], wanted[FORMAT_LENGTH], batch[FORMAT_LENGTH];
    char name[TRUNCATED_LENGTH];
    size_t shortest = answer->result.mix.shortest;
    if (answer->result.has_recipe || shortest >= request->count) {
        return;
    }
    print_wrapped("Too little: %s holds %s ml of the %s ml wanted; the largest "
                  "batch is %s ml.",
                  mix_name(request, shortest, name),
                  format_significant(request->refs[shortest].left_ml, 3, left),
                  format_significant(mix_poured(answer, shortest), 3, wanted),
                  format_significant(answer->result.mix.largest_ml, 3, batch));
}

static void print_top_up(const struct mix_answer *answer)
{
    char ml[FORMAT_LENGTH];
    if (answer->result.tops_up && isfinite(answer->result.mix.other_ml)) {
        print_wrapped("%s ml of it would do too.",
                      format_significant(answer->result.mix.other_ml, 3, ml));
    }
}

/* amounts in drops, where the size of a drop is known */
static void print_drops(const struct mix_request *request,
                        const struct mix_answer *answer)
{
    for (size_t i = 0; i < request->count && !answer->result.has_recipe; i++) {
        double drops = answer->result.mix.volumes[i] / request->refs[i].drop_ml;
        char name[TRUNCATED_LENGTH];
        if (isfinite(drops)) {
            print_wrapped("%.0f drops of %s.", drops,
                          mix_name(request, i, name));
        }
    }
}

static void print_residue(const struct mix_request *request,
                          const struct mix_answer *answer)
{
    char v[FORMAT_LENGTH];
    if (!(request->residue_ml > 0)) {
        return;
    }
    if (answer->result.left_shifts) {
        print_wrapped("Warning: nothing makes up for what stays; the mix "
                      "misses the target.");
    } else {
        print_wrapped(
            "What is poured has %s mm2/s.",
            format_significant(answer->result.poured_viscosity, 3, v));
    }
}

/* a thick mix in fast flow */
static void print_shear(const struct mix_request *request,
                        const struct mix_answer *answer)
{
    bool thick = answer->result.mix.viscosity >= MW_SHEAR_THICK;
    for (size_t i = 0; i < request->count; i++) {
        thick =
            thick || answer->result.mix.states[i].viscosity >= MW_SHEAR_THICK;
    }
    if (thick && request->family == MW_SILICONE) {
        print_wrapped("Thick silicone thins in fast flow, a wide mix earlier.");
    }
}

static void print_settling(const struct mix_answer *answer)
{
    char time[FORMAT_LENGTH];
    if (isfinite(answer->result.settle_s)) {
        print_wrapped(
            "Let it stand %s, until bubbles of %.1f mm are out of %.0f "
            "mm of oil.",
            format_duration(answer->result.settle_s, time),
            1000 * MW_USUAL_BUBBLE, 1000 * answer->result.settle_depth);
    }
}

static void print_choice(const struct mix_request *request)
{
    char thin[TRUNCATED_LENGTH], thick[TRUNCATED_LENGTH];
    if (!request->chosen || mix_is_alone(request)) {
        return;
    }
    if (request->pairs > 1) {
        const struct mw_choice *next = &request->pair[1];
        print_wrapped("The best pair of %s; next best: %s and %s, +-%.1f %%.",
                      request->named ? "these oils" : "the stock",
                      mix_offered(request, next->thin, thin),
                      mix_offered(request, next->thick, thick),
                      100 * MW_COVERAGE * next->uncertainty);
    } else {
        print_wrapped("The only pair of %s.",
                      request->named ? "these oils" : "the stock");
    }
}

static void print_ratio(const struct mix_answer *answer)
{
    char v[FORMAT_LENGTH];
    if (answer->result.mix.ratio[0] > 0 && !answer->result.has_recipe) {
        print_wrapped(
            "In whole parts %d : %d gives %s mm2/s.",
            answer->result.mix.ratio[0], answer->result.mix.ratio[1],
            format_significant(answer->result.mix.ratio_viscosity, 3, v));
    }
}

void mix_print(const struct mix_request *request,
               const struct mix_answer *answer)
{
    mix_print_headline(request, answer);
    print_table(request, answer);
    print_choice(request);
    print_missing(request, answer);
    print_top_up(answer);
    print_drops(request, answer);
    print_residue(request, answer);
    print_ratio(answer);
    print_band(request, answer);
    print_settling(answer);
    print_shear(request, answer);
    print_warnings(answer->result.warnings);
    if (request->record) {
        print_wrapped("Recorded as %s; midweight stock undo undoes it.",
                      request->record);
    }
    if (request->explain) {
        mix_explain(request, answer);
    }
    print_wrapped("%s", CAUTION_MIX);
}
