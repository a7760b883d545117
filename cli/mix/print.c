/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>

#include "mix/mix.h"
#include "output/cautions.h"
#include "output/text.h"
#include "output/uncertainty.h"
#include "util/format.h"

enum { NAME_COLUMNS = 22 };

static bool has_batch(const struct mix_answer *answer)
{
    return isfinite(answer->total_ml);
}

static void print_heading(const struct mix_request *request,
                          const struct mix_answer *answer)
{
    char viscosity[FIGURES_LENGTH], low[FIGURES_LENGTH], high[FIGURES_LENGTH];
    print_text("%s mm2/s at %.6g C", figures(answer->viscosity, 3, viscosity),
               request->temperature);
    if (isfinite(answer->low)) {
        print_text(", between %s and %s (k = 2)", figures(answer->low, 3, low),
                   figures(answer->high, 3, high));
    }
    print_text("\n\n");
}

static void print_part(const struct mix_request *request,
                       const struct mix_answer *answer, size_t i, double least)
{
    char name[SHORT_LENGTH], viscosity[FIGURES_LENGTH];
    char parts[FIGURES_LENGTH], ml[FIGURES_LENGTH], g[FIGURES_LENGTH];
    bool to_add = answer->tops_up && i == answer->added;
    print_text("%c ", to_add ? '+' : ' ');
    print_padded(shortened(request->sources[i].name, NAME_COLUMNS, name),
                 NAME_COLUMNS);
    print_text(" %9s %7.1f %%",
               figures(answer->states[i].viscosity, 3, viscosity),
               100 * answer->shares[i]);
    print_text(" %7s",
               least > 0 ? figures(answer->shares[i] / least, 3, parts) : "-");
    if (has_batch(answer)) {
        print_text(" %8s %8s", figures(answer->volumes[i], 3, ml),
                   figures(answer->masses[i], 3, g));
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
    char name[SHORT_LENGTH], other[SHORT_LENGTH];
    size_t most = most_of(request, answer);
    double share = answer->shares[most];
    shortened(request->sources[most].name, NAME_COLUMNS, name);
    if (share == 1) {
        paragraph("%s alone.", name);
    } else if (request->count > 2) {
        paragraph("There is most of %s.", name);
    } else {
        /* within a hundredth, a syringe does not tell the shares apart */
        paragraph(
            "%s %s than %s.",
            share < 0.505  ? "As good as equal, a touch more"
            : share < 0.55 ? "A little more"
            : share < 0.75 ? "More"
                           : "Much more",
            name,
            shortened(request->sources[1 - most].name, NAME_COLUMNS, other));
    }
}

/* what a bottle cannot give, before it is poured */
static void print_missing(const struct mix_request *request,
                          const struct mix_answer *answer)
{
    char left[FIGURES_LENGTH], wanted[FIGURES_LENGTH], batch[FIGURES_LENGTH];
    char name[SHORT_LENGTH];
    if (answer->shortest == request->count) {
        return;
    }
    const struct source *source = &request->sources[answer->shortest];
    paragraph("Too little: %s holds %s ml of the %s ml wanted; the largest "
              "batch is %s ml.",
              shortened(source->name, NAME_COLUMNS, name),
              figures(source->left_ml, 3, left),
              figures(mix_poured(answer, answer->shortest), 3, wanted),
              figures(answer->largest_ml, 3, batch));
}

static void print_batch(const struct mix_request *request,
                        const struct mix_answer *answer)
{
    char add[FIGURES_LENGTH], total[FIGURES_LENGTH], name[SHORT_LENGTH];
    if (answer->tops_up) {
        paragraph(
            "Add %s ml of %s; together %s ml, so the bottle must hold "
            "%.0f ml or more.",
            figures(answer->volumes[answer->added], 3, add),
            shortened(request->sources[answer->added].name, NAME_COLUMNS, name),
            figures(answer->total_ml, 3, total), ceil(answer->total_ml));
    } else if (has_batch(answer)) {
        paragraph("Together %s ml.", figures(answer->total_ml, 3, total));
    }
}

static const char *rounded_to(enum mix_tool tool)
{
    return tool == TOOL_SYRINGE ? "ml marks"
           : tool == TOOL_SCALE ? "g digits"
                                : "ml drops";
}

/* the recipe in whole marks */
static void print_dosed(const struct mix_request *request,
                        const struct mix_answer *answer)
{
    const struct mw_recipe *dosed = &answer->dosed;
    char step[FIGURES_LENGTH], v[FIGURES_LENGTH], batch[FIGURES_LENGTH];
    if (!answer->has_dosed) {
        return;
    }
    print_text("In %s %s:\n", as_given(request->step, step),
               rounded_to(request->tool));
    for (size_t i = 0; i < 2; i++) {
        char name[SHORT_LENGTH], amount[FIGURES_LENGTH];
        double each = request->tool == TOOL_SCALE
                          ? request->step
                          : dosed->volumes[i] / dosed->marks[i];
        print_text("  %6s %s  %6d %s  %s\n",
                   with_decimals_of(dosed->marks[i] * each, step, amount),
                   request->tool == TOOL_SCALE ? "g" : "ml", dosed->marks[i],
                   request->tool == TOOL_SYRINGE ? "marks"
                   : request->tool == TOOL_SCALE ? "digits"
                                                 : "drops",
                   shortened(request->sources[i].name, NAME_COLUMNS, name));
    }
    paragraph("That is %s ml of %s mm2/s, %+.2f %% off the target.",
              figures(dosed->batch, 3, batch),
              figures(answer->dosed_viscosity, 3, v), 100 * dosed->miss);
}

/* amounts in drops, where the size of a drop is known */
static void print_drops(const struct mix_request *request,
                        const struct mix_answer *answer)
{
    for (size_t i = 0; i < request->count; i++) {
        double drops = answer->volumes[i] / request->sources[i].drop_ml;
        char name[SHORT_LENGTH];
        if (isfinite(drops)) {
            paragraph("%.0f drops of %s.", drops,
                      shortened(request->sources[i].name, NAME_COLUMNS, name));
        }
    }
}

static void print_residue(const struct mix_request *request,
                          const struct mix_answer *answer)
{
    char ml[FIGURES_LENGTH], poured[FIGURES_LENGTH], v[FIGURES_LENGTH];
    char name[SHORT_LENGTH];
    if (!request->has_residue) {
        return;
    }
    shortened(request->residue.name, NAME_COLUMNS, name);
    figures(request->residue_ml, 2, ml);
    if (answer->residue_shifts) {
        paragraph("Warning: nothing makes up for the %s ml of %s that stay; "
                  "with them it will be %s mm2/s.",
                  ml, name, figures(answer->viscosity, 3, v));
    } else {
        paragraph("With the %s ml of %s that stay; what is poured has %s "
                  "mm2/s.",
                  ml, name, figures(answer->without_residue, 3, poured));
    }
}

static void print_settling(const struct mix_answer *answer)
{
    char time[FIGURES_LENGTH];
    if (isfinite(answer->settle_s)) {
        bool minutes = answer->settle_s >= 90;
        paragraph("Let it stand %s %s, till bubbles of %.1f mm are out.",
                  figures(minutes ? answer->settle_s / 60 : answer->settle_s, 2,
                          time),
                  minutes ? "min" : "s", 1000 * MW_USUAL_BUBBLE);
    }
}

static const char *pair_name(const struct mix_request *request, size_t id,
                             char name[SHORT_LENGTH])
{
    return shortened(request->bottles.list[id].name, NAME_COLUMNS, name);
}

static void print_choice(const struct mix_request *request)
{
    char thin[SHORT_LENGTH], thick[SHORT_LENGTH];
    if (!request->chosen) {
        return;
    }
    paragraph("The best pair of the stock, by what is left and how sure it "
              "is.");
    if (request->pairs > 1) {
        const struct mw_choice *next = &request->pair[1];
        paragraph("Next best: %s and %s, +-%.1f %%.",
                  pair_name(request, next->thin, thin),
                  pair_name(request, next->thick, thick),
                  100 * MW_COVERAGE * next->uncertainty);
    }
}

/* what the user did not say */
static void print_family(const struct mix_request *request)
{
    if (request->found_family) {
        paragraph("Taken as %s oil by how it thins with temperature; --family "
                  "says otherwise.",
                  mw_family_name(request->oils[0].family));
    }
}

static void print_method(const struct mix_request *request,
                         const struct mix_answer *answer)
{
    const struct mw_method *method = &request->method;
    const char *rule = mw_rule_name(method->rule);
    char viscosity[FIGURES_LENGTH], name[SHORT_LENGTH];
    if (method->excess != 0) {
        char from[60] = "";
        if (request->lessons > 0) {
            snprintf(from, sizeof from, ", from %zu of your mixes",
                     request->lessons);
        }
        paragraph("Rule: ASTM D7152 (%s) with an excess of %s%s.", rule,
                  figures(method->excess, 2, viscosity), from);
    } else {
        paragraph("Rule: ASTM D7152 (%s).", rule);
    }
    if (request->has_target) {
        paragraph("Plain D7152: %.1f %% of %s; the rules are %.1f %% apart.",
                  100 * answer->plain_shares[1],
                  shortened(request->sources[1].name, NAME_COLUMNS, name),
                  100 * answer->spread);
    } else {
        paragraph("Plain D7152: %s mm2/s; the rules are %.1f %% apart.",
                  figures(answer->plain_viscosity, 3, viscosity),
                  100 * answer->spread);
    }
}

void mix_print(const struct mix_request *request,
               const struct mix_answer *answer)
{
    char viscosity[FIGURES_LENGTH];
    print_heading(request, answer);
    print_parts(request, answer);
    print_words(request, answer);
    print_choice(request);
    print_batch(request, answer);
    print_missing(request, answer);
    print_drops(request, answer);
    print_residue(request, answer);
    print_dosed(request, answer);
    if (answer->has_ratio && !request->has_residue) {
        paragraph("In whole parts %d : %d gives %s mm2/s.", answer->ratio[0],
                  answer->ratio[1],
                  figures(answer->ratio_viscosity, 3, viscosity));
    }
    print_family(request);
    print_method(request, answer);
    print_doubt(&answer->budget);
    print_settling(answer);
    print_notes(answer->notes);
    if (request->record) {
        paragraph("Recorded as %s; midweight stock undo takes it back.",
                  request->record);
    }
    paragraph("%s", CAUTION_MIX);
}
