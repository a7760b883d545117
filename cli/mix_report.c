/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>

#include "cautions.h"
#include "mix.h"
#include "report.h"

enum { NAME_COLUMNS = 22 };

/* -- Text -------------------------------------------------------------- */

static bool has_batch(const struct mix_answer *answer)
{
    return isfinite(answer->total_ml);
}

static void print_heading(const struct mix_request *request,
                          const struct mix_answer *answer)
{
    char viscosity[FIGURES_LENGTH];
    printf("%s mm2/s at %.6g C\n\n", figures(answer->viscosity, 3, viscosity),
           request->temperature);
}

static void print_part(const struct mix_request *request,
                       const struct mix_answer *answer, size_t i, double least)
{
    char name[SHORT_LENGTH], viscosity[FIGURES_LENGTH];
    char parts[FIGURES_LENGTH], ml[FIGURES_LENGTH], g[FIGURES_LENGTH];
    bool to_add = answer->tops_up && i == answer->added;
    printf("%c ", to_add ? '+' : ' ');
    print_padded(shortened(request->names[i], NAME_COLUMNS, name),
                 NAME_COLUMNS);
    printf(" %9s %7.1f %%", figures(answer->states[i].viscosity, 3, viscosity),
           100 * answer->shares[i]);
    printf(" %7s",
           least > 0 ? figures(answer->shares[i] / least, 3, parts) : "-");
    if (has_batch(answer)) {
        printf(" %8s %8s", figures(answer->volumes[i], 3, ml),
               figures(answer->masses[i], 3, g));
    }
    printf("\n");
}

static void print_parts(const struct mix_request *request,
                        const struct mix_answer *answer)
{
    double least = 1;
    for (size_t i = 0; i < request->count; i++) {
        least = fmin(least, answer->shares[i]);
    }
    printf("  %-*s %9s %9s %7s%s\n", (int)NAME_COLUMNS, "oil", "mm2/s", "share",
           "parts", has_batch(answer) ? "       ml        g" : "");
    for (size_t i = 0; i < request->count; i++) {
        print_part(request, answer, i, least);
    }
    printf("\n");
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
    shortened(request->names[most], NAME_COLUMNS, name);
    if (share == 1) {
        paragraph("%s alone.", name);
    } else if (request->count > 2) {
        paragraph("There is most of %s.", name);
    } else {
        /* within a hundredth, a syringe does not tell the shares apart */
        paragraph("%s %s than %s.",
                  share < 0.505  ? "As good as equal, a touch more"
                  : share < 0.55 ? "A little more"
                  : share < 0.75 ? "More"
                                 : "Much more",
                  name,
                  shortened(request->names[1 - most], NAME_COLUMNS, other));
    }
}

static void print_batch(const struct mix_request *request,
                        const struct mix_answer *answer)
{
    char add[FIGURES_LENGTH], total[FIGURES_LENGTH], name[SHORT_LENGTH];
    if (answer->tops_up) {
        paragraph("Add %s ml of %s; together %s ml, so the bottle must hold "
                  "%.0f ml or more.",
                  figures(answer->volumes[answer->added], 3, add),
                  shortened(request->names[answer->added], NAME_COLUMNS, name),
                  figures(answer->total_ml, 3, total), ceil(answer->total_ml));
    } else if (has_batch(answer)) {
        paragraph("Together %s ml.", figures(answer->total_ml, 3, total));
    }
}

static void print_method(const struct mix_request *request,
                         const struct mix_answer *answer)
{
    const struct mw_method *method = &request->method;
    const char *rule = mw_rule_name(method->rule);
    char viscosity[FIGURES_LENGTH], name[SHORT_LENGTH];
    if (method->excess != 0) {
        paragraph("Rule: ASTM D7152 (%s) with an excess of %s.", rule,
                  figures(method->excess, 2, viscosity));
    } else {
        paragraph("Rule: ASTM D7152 (%s).", rule);
    }
    if (request->has_target) {
        paragraph("Plain D7152: %.1f %% of %s; the rules are %.1f %% apart.",
                  100 * answer->plain_shares[1],
                  shortened(request->names[1], NAME_COLUMNS, name),
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
    print_batch(request, answer);
    if (answer->has_ratio) {
        paragraph("In whole parts %d : %d gives %s mm2/s.", answer->ratio[0],
                  answer->ratio[1],
                  figures(answer->ratio_viscosity, 3, viscosity));
    }
    print_method(request, answer);
    print_notes(answer->notes);
    paragraph("%s", CAUTION_MIX);
}

/* -- JSON -------------------------------------------------------------- */

static json_t *json_parts(const struct mix_request *request,
                          const struct mix_answer *answer)
{
    json_t *parts = json_array();
    for (size_t i = 0; i < request->count; i++) {
        json_array_append_new(
            parts,
            json_pack("{s:s, s:o, s:o, s:o, s:o}", "name", request->names[i],
                      "viscosity", json_number(answer->states[i].viscosity),
                      "share", json_number(answer->shares[i]), "volume_ml",
                      json_number(answer->volumes[i]), "mass_g",
                      json_number(answer->masses[i])));
    }
    return parts;
}

static json_t *json_shares(const double *shares, size_t count)
{
    json_t *list = json_array();
    for (size_t i = 0; i < count; i++) {
        json_array_append_new(list, json_number(shares[i]));
    }
    return list;
}

static json_t *json_target(const struct mix_request *request)
{
    return request->has_target ? json_point(&request->target) : json_null();
}

static json_t *json_ratio(const struct mix_answer *answer)
{
    return answer->has_ratio
               ? json_pack("{s:[i, i], s:o}", "parts", answer->ratio[0],
                           answer->ratio[1], "viscosity",
                           json_number(answer->ratio_viscosity))
               : json_null();
}

enum outcome mix_print_json(const struct mix_request *request,
                            const struct mix_answer *answer,
                            struct problem *problem)
{
    json_t *result =
        json_pack("{s:o, s:o}", "viscosity", json_number(answer->viscosity),
                  "temperature", json_number(request->temperature));
    json_t *plain =
        json_pack("{s:s, s:o, s:o}", "rule", mw_rule_name(request->method.rule),
                  "viscosity", json_number(answer->plain_viscosity), "shares",
                  json_shares(answer->plain_shares, request->count));
    json_t *answers = json_pack(
        "{s:o, s:s, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o}", "target",
        json_target(request), "rule", mw_rule_name(request->method.rule),
        "excess", json_number(request->method.excess), "parts",
        json_parts(request, answer), "result", result, "plain", plain,
        "spread_percent", json_number(100 * answer->spread), "whole_parts",
        json_ratio(answer), "total_ml", json_number(answer->total_ml),
        "warnings", json_notes(answer->notes));
    return print_json(answers, problem);
}
