/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdint.h>
#include <stdio.h>

#include "mix/mix.h"
#include "output/cautions.h"
#include "output/text.h"
#include "util/format.h"

enum { NAME_COLUMNS = 22 };

static bool has_batch(const struct mix_answer *answer)
{
    return isfinite(answer->mix.total_ml);
}

static void print_heading(const struct mix_request *request,
                          const struct mix_answer *answer)
{
    char viscosity[FORMAT_LENGTH], low[FORMAT_LENGTH], high[FORMAT_LENGTH];
    print_text("%s mm2/s at %.6g C",
               format_significant(answer->mix.viscosity, 3, viscosity),
               request->temperature);
    if (isfinite(answer->uncertainty.low)) {
        print_text(", between %s and %s (k = 2)",
                   format_significant(answer->uncertainty.low, 3, low),
                   format_significant(answer->uncertainty.high, 3, high));
    }
    print_text("\n\n");
}

static void print_part(const struct mix_request *request,
                       const struct mix_answer *answer, size_t i, double least)
{
    char name[TRUNCATED_LENGTH], viscosity[FORMAT_LENGTH];
    char parts[FORMAT_LENGTH], ml[FORMAT_LENGTH], g[FORMAT_LENGTH];
    bool to_add = answer->tops_up && i == answer->added;
    print_text("%c ", to_add ? '+' : ' ');
    print_padded(truncate_columns(request->refs[i].name, NAME_COLUMNS, name),
                 NAME_COLUMNS);
    print_text(
        " %9s %7.1f %%",
        format_significant(answer->mix.states[i].viscosity, 3, viscosity),
        100 * answer->shares[i]);
    print_text(" %7s", least > 0 ? format_significant(answer->shares[i] / least,
                                                      3, parts)
                                 : "-");
    if (has_batch(answer)) {
        print_text(" %8s %8s",
                   format_significant(answer->mix.volumes[i], 3, ml),
                   format_significant(answer->mix.masses[i], 3, g));
    }
    print_text("\n");
}

static void print_parts(const struct mix_request *request,
                        const struct mix_answer *answer)
{
    double least = 1;
    for (size_t i = 0; i < request->count; i++) {
        least = fmin(least, answer->shares[i]);
    }
    print_text("  %-*s %9s %9s %7s%s\n", (int)NAME_COLUMNS, "oil", "mm2/s",
               "share", "parts", has_batch(answer) ? "       ml        g" : "");
    for (size_t i = 0; i < request->count; i++) {
        print_part(request, answer, i, least);
    }
    print_text("\n");
}

static size_t most_of(const struct mix_request *request,
                      const struct mix_answer *answer)
{
    size_t most = 0;
    for (size_t i = 1; i < request->count; i++) {
        if (answer->shares[i] > answer->shares[most]) {
            most = i;
        }
    }
    return most;
}

/* which oil there is more of, in words */
static void print_words(const struct mix_request *request,
                        const struct mix_answer *answer)
{
    char name[TRUNCATED_LENGTH], other[TRUNCATED_LENGTH];
    size_t most = most_of(request, answer);
    double share = answer->shares[most];
    truncate_columns(request->refs[most].name, NAME_COLUMNS, name);
    if (share == 1) {
        print_wrapped("%s alone.", name);
    } else if (request->count > 2) {
        print_wrapped("There is most of %s.", name);
    } else {
        truncate_columns(request->refs[1 - most].name, NAME_COLUMNS, other);
        /* a syringe does not resolve a hundredth of a share */
        print_wrapped("%s %s %s %s.",
                      share < 0.505  ? "As much"
                      : share < 0.55 ? "A little more"
                      : share < 0.75 ? "More"
                                     : "Much more",
                      name, share < 0.505 ? "as" : "than", other);
    }
}

/* what a bottle cannot give, before it is poured */
static void print_missing(const struct mix_request *request,
                          const struct mix_answer *answer)
{
    char left[FORMAT_LENGTH], wanted[FORMAT_LENGTH], batch[FORMAT_LENGTH];
    char name[TRUNCATED_LENGTH];
    size_t shortest = answer->mix.shortest;
    if (answer->has_dosed || shortest >= request->count) {
        return;
    }
    const struct oil_ref *ref = &request->refs[shortest];
    print_wrapped("Too little: %s holds %s ml of the %s ml wanted; the largest "
                  "batch is %s ml.",
                  truncate_columns(ref->name, NAME_COLUMNS, name),
                  format_significant(ref->left_ml, 3, left),
                  format_significant(mix_poured(answer, shortest), 3, wanted),
                  format_significant(answer->mix.largest_ml, 3, batch));
}

static void print_batch(const struct mix_request *request,
                        const struct mix_answer *answer)
{
    char add[FORMAT_LENGTH], total[FORMAT_LENGTH], name[TRUNCATED_LENGTH];
    if (answer->tops_up) {
        print_wrapped(
            "Add %s ml of %s; together %s ml, so the bottle must hold "
            "%.0f ml or more.",
            format_significant(answer->mix.volumes[answer->added], 3, add),
            truncate_columns(request->refs[answer->added].name, NAME_COLUMNS,
                             name),
            format_significant(answer->mix.total_ml, 3, total),
            ceil(answer->mix.total_ml));
        if (isfinite(answer->mix.other_ml)) {
            print_wrapped("%s ml of it would do too.",
                          format_significant(answer->mix.other_ml, 3, add));
        }
    } else if (has_batch(answer)) {
        print_wrapped("Together %s ml.",
                      format_significant(answer->mix.total_ml, 3, total));
    }
}

/* "26 graduations" and what a dose comes to in the unit of its tool */
static void print_dose(const struct mix_request *request,
                       const struct mix_answer *answer, size_t i)
{
    const struct mw_dose *dose = &answer->dosed.doses[i];
    const struct mw_dose_tool *tool = &answer->mix.tools[i];
    char name[TRUNCATED_LENGTH], amount[FORMAT_LENGTH], step[FORMAT_LENGTH];
    bool weighed = tool->tool == MW_TOOL_SCALE;
    double each = weighed ? request->tools.resolution_g : tool->step_ml;
    truncate_columns(request->refs[i].name, NAME_COLUMNS, name);
    if (dose->steps == 0) {
        print_text("  %6s ml  as it is  %s\n",
                   format_significant(dose->volume_ml, 3, amount), name);
        return;
    }
    print_text("  %6s %s  %6d %s  %s",
               format_decimals_of(dose->steps * each,
                                  format_compact(each, step), amount),
               weighed ? "g " : "ml", dose->steps,
               tool->tool == MW_TOOL_SYRINGE ? "graduations"
               : weighed                     ? "digits"
                                             : "drops",
               name);
    if (dose->draws > 1) {
        print_text(" (%d draws: %d of %.6g ml, then %.6g ml)", dose->draws,
                   dose->draws - 1, tool->draw_ml, dose->last_draw_ml);
    }
    print_text("\n");
}

/* the recipe in whole steps of the tool */
static void print_dosed(const struct mix_request *request,
                        const struct mix_answer *answer)
{
    const struct mw_recipe *dosed = &answer->dosed;
    char v[FORMAT_LENGTH], batch[FORMAT_LENGTH];
    if (!answer->has_dosed) {
        return;
    }
    print_text("By the tool:\n");
    for (size_t i = 0; i < request->count; i++) {
        print_dose(request, answer, i);
    }
    bool meets = request->has_target && !answer->residue_shifts;
    print_wrapped("That is %s ml of %s mm2/s, %+.2f %% off %s.",
                  format_significant(dosed->total_ml, 3, batch),
                  format_significant(dosed->viscosity, 3, v), 100 * dosed->miss,
                  meets ? "the target" : "the exact mix");
}

/* amounts in drops, where the size of a drop is known */
static void print_drops(const struct mix_request *request,
                        const struct mix_answer *answer)
{
    for (size_t i = 0; i < request->count; i++) {
        double drops = answer->mix.volumes[i] / request->refs[i].drop_ml;
        char name[TRUNCATED_LENGTH];
        if (isfinite(drops)) {
            print_wrapped(
                "%.0f drops of %s.", drops,
                truncate_columns(request->refs[i].name, NAME_COLUMNS, name));
        }
    }
}

static void print_residue(const struct mix_request *request,
                          const struct mix_answer *answer)
{
    char ml[FORMAT_LENGTH], poured[FORMAT_LENGTH], v[FORMAT_LENGTH];
    char name[TRUNCATED_LENGTH];
    if (!(request->residue_ml > 0)) {
        return;
    }
    truncate_columns(request->refs[request->count].name, NAME_COLUMNS, name);
    format_significant(request->residue_ml, 2, ml);
    if (answer->residue_shifts) {
        print_wrapped(
            "Warning: nothing makes up for the %s ml of %s that stay; "
            "with them it will be %s mm2/s.",
            ml, name, format_significant(answer->mix.viscosity, 3, v));
    } else {
        print_wrapped("With the %s ml of %s that stay; what is poured has %s "
                      "mm2/s.",
                      ml, name,
                      format_significant(answer->without_residue, 3, poured));
    }
}

static void print_settling(const struct mix_answer *answer)
{
    char time[FORMAT_LENGTH];
    if (isfinite(answer->settle_s)) {
        bool minutes = answer->settle_s >= 90;
        print_wrapped("Let it stand %s %s, till bubbles of %.1f mm are out.",
                      format_significant(minutes ? answer->settle_s / 60
                                                 : answer->settle_s,
                                         2, time),
                      minutes ? "min" : "s", 1000 * MW_USUAL_BUBBLE);
    }
}

static const char *pair_name(const struct mix_request *request, size_t id,
                             char name[TRUNCATED_LENGTH])
{
    return truncate_columns(mix_offered_name(request, id), NAME_COLUMNS, name);
}

static void print_choice(const struct mix_request *request)
{
    char thin[TRUNCATED_LENGTH], thick[TRUNCATED_LENGTH];
    if (!request->chosen) {
        return;
    }
    if (request->alone != SIZE_MAX) {
        print_wrapped("%s alone is that already, as well as it is known.",
                      pair_name(request, request->alone, thin));
    }
    print_wrapped("The best pair of %s, by what is left and how sure it is.",
                  request->named ? "these oils" : "the stock");
    if (request->pairs > 1) {
        const struct mw_choice *next = &request->pair[1];
        print_wrapped("Next best: %s and %s, +-%.1f %%.",
                      pair_name(request, next->thin, thin),
                      pair_name(request, next->thick, thick),
                      100 * MW_COVERAGE * next->uncertainty);
    }
}

/* the oil that was solved for, the last of two */
static size_t last_open(const struct mix_request *request,
                        const struct mix_answer *answer)
{
    const size_t *open = answer->mix.open;
    return open[1] < request->count ? open[1] : open[0];
}

static void print_method(const struct mix_request *request,
                         const struct mix_answer *answer)
{
    const struct mw_method *method = &request->method;
    const char *rule = mw_rule_name(method->rule);
    const char *standard = mw_rule_standard(method->rule);
    char viscosity[FORMAT_LENGTH], name[TRUNCATED_LENGTH];
    if (method->excess != 0) {
        char from[60] = "";
        if (request->trial_mixes > 0) {
            snprintf(from, sizeof from, ", from %zu of your mixes",
                     request->trial_mixes);
        }
        print_wrapped("Rule: %s (%s) with an excess of %s%s.", standard, rule,
                      format_significant(method->excess, 2, viscosity), from);
    } else {
        print_wrapped("Rule: %s (%s).", standard, rule);
    }
    if (request->has_target) {
        size_t solved = request->count == 2 ? 1 : last_open(request, answer);
        print_wrapped(
            "Plain D7152: %.1f %% of %s; the rules are %.1f %% apart.",
            100 * answer->plain_shares[solved],
            truncate_columns(request->refs[solved].name, NAME_COLUMNS, name),
            100 * answer->mix.spread);
    } else {
        print_wrapped(
            "Plain D7152: %s mm2/s; the rules are %.1f %% apart.",
            format_significant(answer->mix.plain_viscosity, 3, viscosity),
            100 * answer->mix.spread);
    }
}

void mix_print(const struct mix_request *request,
               const struct mix_answer *answer)
{
    char viscosity[FORMAT_LENGTH];
    print_heading(request, answer);
    print_parts(request, answer);
    print_words(request, answer);
    print_choice(request);
    print_batch(request, answer);
    print_missing(request, answer);
    print_drops(request, answer);
    print_residue(request, answer);
    print_dosed(request, answer);
    if (answer->mix.ratio[0] > 0) {
        print_wrapped(
            "In whole parts %d : %d gives %s mm2/s.", answer->mix.ratio[0],
            answer->mix.ratio[1],
            format_significant(answer->mix.ratio_viscosity, 3, viscosity));
    }
    print_method(request, answer);
    oils_print_uncertainty(&request->network, &answer->uncertainty);
    print_settling(answer);
    print_warnings(answer->mix.warnings);
    if (request->record) {
        print_wrapped("Recorded as %s; midweight stock undo takes it back.",
                      request->record);
    }
    print_wrapped("%s", CAUTION_MIX);
}
