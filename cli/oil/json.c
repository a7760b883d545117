/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* an oil as JSON */
#include <math.h>

#include "oil/print.h"
#include "output/json.h"

static json_t *json_in(const struct mw_oil_state *state,
                       enum mw_viscosity_unit unit)
{
    double value;
    oil_in_unit(state, unit, &value);
    return json_number(value);
}

static json_t *json_state(const struct mw_oil_state *state)
{
    return json_pack("{s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o}",
                     "temperature", json_number(state->temperature),
                     "viscosity", json_number(state->viscosity), "stokes",
                     json_in(state, MW_STOKES), "m2_s", json_in(state, MW_M2_S),
                     "dynamic_mpas", json_number(state->dynamic), "density",
                     json_number(state->density), "sus", json_in(state, MW_SUS),
                     "factor", json_number(state->factor), "percent_per_degree",
                     json_number(100 * state->slope));
}

static json_t *json_at(const struct oil_question *question,
                       const struct oil_answer *answer)
{
    json_t *at = json_state(&answer->state);
    json_set(at, "uncertainty",
             oils_json_uncertainty(&question->network, &answer->uncertainty));
    return at;
}

static json_t *json_amount(const struct oil_question *question,
                           const struct oil_answer *answer)
{
    return isnan(answer->ml)
               ? json_null()
               : json_pack(
                     "{s:o, s:o, s:o}", "volume_ml", json_number(answer->ml),
                     "mass_g", json_number(answer->ml * answer->state.density),
                     "drops", json_number(answer->ml / question->ref.drop_ml));
}

static json_t *json_shear(const struct oil_answer *answer)
{
    return isnan(answer->shear.rate)
               ? json_null()
               : json_pack("{s:o, s:o, s:o}", "rate_per_s",
                           json_number(answer->shear.rate), "stress_kpa",
                           json_number(answer->shear.stress / 1000), "factor",
                           json_number(MW_SHEAR_FACTOR));
}

static json_t *json_table(const struct oil_question *question)
{
    json_t *table = json_array();
    for (unsigned row = 0; row < question->table.rows; row++) {
        struct mw_oil_state state;
        mw_oil_at(&question->ref.oil, oil_row_temperature(question, row),
                  &state);
        json_t *json = json_state(&state);
        json_set(json, "uncertainty",
                 json_uncertainty_of(
                     oil_row_uncertainty(question, state.temperature),
                     state.viscosity));
        json_append(table, json);
    }
    return table;
}

static json_t *json_class(const char *standard, int grade, int temperature)
{
    return json_pack("{s:s, s:i, s:i}", "standard", standard, "grade", grade,
                     "temperature", temperature);
}

static json_t *json_classes(const struct oil_answer *answer)
{
    json_t *classes = json_array();
    if (answer->iso_vg) {
        json_append(classes, json_class("ISO 3448", answer->iso_vg, 40));
    }
    if (answer->sae_j300) {
        json_append(classes, json_class("SAE J300", answer->sae_j300, 100));
    }
    return classes;
}

static json_t *json_one(const struct oil_question *question,
                        const struct oil_answer *answer)
{
    return question->one_unit
               ? json_pack("{s:s, s:o}", "unit",
                           mw_viscosity_unit_symbol(question->unit), "value",
                           json_number(answer->in_unit))
               : json_null();
}

enum exit_code oil_print_json(const struct oil_question *question,
                              const struct oil_answer *answer,
                              struct error *error)
{
    return print_json(
        "oil",
        json_pack("{s:s, s:s, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o}",
                  "name", question->ref.name, "family",
                  mw_family_name(question->ref.oil.family), "points",
                  json_points(&question->ref.oil), "at",
                  json_at(question, answer), "in", json_one(question, answer),
                  "amount", json_amount(question, answer), "shear",
                  json_shear(answer), "table", json_table(question), "classes",
                  json_classes(answer), "residuals", json_fit(&answer->fit),
                  "warnings", json_warnings(answer->state.warnings)),
        error);
}
