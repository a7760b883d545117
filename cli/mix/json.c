/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdint.h>

#include "mix/mix.h"
#include "output/json.h"

static json_t *json_parts(const struct mix_request *request,
                          const struct mix_answer *answer)
{
    json_t *parts = json_array();
    for (size_t i = 0; i < request->count; i++) {
        json_append(
            parts,
            json_pack("{s:s, s:o, s:o, s:o, s:o}", "name",
                      request->refs[i].name, "viscosity",
                      json_number(answer->result.mix.states[i].viscosity),
                      "share", json_number(answer->result.shares[i]),
                      "volume_ml", json_number(answer->result.mix.volumes[i]),
                      "mass_g", json_number(answer->result.mix.masses[i])));
    }
    return parts;
}

static json_t *json_shares(const double *shares, size_t count)
{
    json_t *list = json_array();
    for (size_t i = 0; i < count; i++) {
        json_append(list, json_number(shares[i]));
    }
    return list;
}

static json_t *json_target(const struct mix_request *request)
{
    return request->has_target ? json_point(&request->target) : json_null();
}

/* the bottle that holds too little for this batch */
static json_t *json_missing(const struct mix_request *request,
                            const struct mix_answer *answer)
{
    if (answer->result.mix.shortest >= request->count) {
        return json_null();
    }
    const struct oil_ref *ref = &request->refs[answer->result.mix.shortest];
    return json_pack(
        "{s:s, s:o, s:o, s:o}", "name", ref->name, "left_ml",
        json_number(ref->left_ml), "wanted_ml",
        json_number(mix_poured(answer, answer->result.mix.shortest)),
        "largest_batch_ml", json_number(answer->result.mix.largest_ml));
}

static json_t *json_ratio(const struct mix_answer *answer)
{
    return answer->result.mix.ratio[0] > 0
               ? json_pack("{s:[i, i], s:o}", "parts",
                           answer->result.mix.ratio[0],
                           answer->result.mix.ratio[1], "viscosity",
                           json_number(answer->result.mix.ratio_viscosity))
               : json_null();
}

static json_t *json_dose(const struct mix_request *request,
                         const struct mix_answer *answer, size_t i)
{
    const struct mw_dose *dose = &answer->result.recipe.doses[i];
    double density = answer->result.mix.states[i].density;
    return json_pack("{s:s, s:o, s:o, s:i, s:i}", "name", request->refs[i].name,
                     "volume_ml", json_number(dose->volume_ml), "mass_g",
                     json_number(dose->volume_ml * density), "steps",
                     dose->steps, "draws", dose->draws);
}

static json_t *json_dosed(const struct mix_request *request,
                          const struct mix_answer *answer)
{
    const struct mw_recipe *dosed = &answer->result.recipe;
    if (!answer->result.has_recipe) {
        return json_null();
    }
    json_t *parts = json_array();
    for (size_t i = 0; i < request->count; i++) {
        json_append(parts, json_dose(request, answer, i));
    }
    return json_pack("{s:o, s:o, s:o, s:o}", "parts", parts, "viscosity",
                     json_number(dosed->viscosity), "batch_ml",
                     json_number(dosed->total_ml), "miss_percent",
                     json_number(100 * dosed->miss));
}

/* by each rule of the standard; null by one that is not for these oils */
static json_t *json_rules(const struct mw_mix *mix)
{
    json_t *rules = json_object();
    for (int i = 0; i < MW_RULES; i++) {
        json_set(rules, mw_rule_name((enum mw_rule)i),
                 json_number(mix->by_rule[i]));
    }
    return rules;
}

static json_t *json_runner_up(const struct mix_request *request)
{
    if (!request->chosen || request->pairs < 2) {
        return json_null();
    }
    const struct mw_choice *next = &request->pair[1];
    return json_pack(
        "{s:[s, s], s:o, s:o}", "names", mix_offered_name(request, next->thin),
        mix_offered_name(request, next->thick), "share",
        json_number(next->share), "uncertainty",
        json_uncertainty_of(next->uncertainty, request->target.viscosity));
}

json_t *mix_json(const struct mix_request *request,
                 const struct mix_answer *answer)
{
    json_t *result = json_pack(
        "{s:o, s:o, s:o}", "viscosity",
        json_number(answer->result.mix.viscosity), "temperature",
        json_number(request->temperature), "uncertainty",
        oils_json_uncertainty(&request->network, &answer->uncertainty));
    json_t *plain =
        json_pack("{s:s, s:o, s:o, s:o}", "rule",
                  mw_rule_name(request->known->method.rule), "viscosity",
                  json_number(answer->result.mix.plain_viscosity), "shares",
                  json_shares(answer->result.plain_shares, request->count),
                  "by_rule", json_rules(&answer->result.mix));
    return json_pack(
        "{s:o, s:s, s:o, s:i, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o, "
        "s:o, s:o, s:s, s:o, s:o, s:s?}",
        "target", json_target(request), "rule",
        mw_rule_name(request->known->method.rule), "excess",
        json_number(request->known->method.excess), "excess_trial_mixes",
        (int)mix_trial_mixes(request), "parts", json_parts(request, answer),
        "result", result, "plain", plain, "spread_percent",
        json_number(100 * answer->result.mix.spread), "whole_parts",
        json_ratio(answer), "total_ml",
        json_number(answer->result.mix.total_ml), "dosed",
        json_dosed(request, answer), "settle_s",
        json_number(answer->result.settle_s), "next_reading",
        oils_json_advice(&request->network, &answer->uncertainty), "runner_up",
        json_runner_up(request), "warnings",
        json_warnings(answer->result.warnings), "family",
        mw_family_name(request->family), "missing",
        json_missing(request, answer), "other_volume_ml",
        json_number(answer->result.mix.other_ml), "alone",
        request->chosen && request->alone != SIZE_MAX
            ? mix_offered_name(request, request->alone)
            : NULL);
}
