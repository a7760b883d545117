/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/json.h"
#include "hold/hold.h"

static json_t *json_oil(double t, double viscosity, double dynamic)
{
    return json_pack("{s:o, s:o, s:o}", "temperature", json_number(t),
                     "viscosity", json_number(viscosity), "dynamic_mpas",
                     json_number(dynamic));
}

static json_t *json_damper(const struct hold_damper *damper)
{
    return json_pack("{s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o}", "damping",
                     json_number(damper->damping), "damping_ratio",
                     json_number(damper->ratio), "leak_percent",
                     json_number(100 * damper->leak), "reynolds",
                     json_number(damper->at.reynolds), "viscous_n",
                     json_number(damper->at.viscous), "kinetic_n",
                     json_number(damper->at.kinetic), "kinetic_share",
                     json_number(damper->at.kinetic_share), "wall_rate_per_s",
                     json_number(damper->at.wall_rate), "thins_at_m_per_s",
                     json_number(damper->thins_at));
}

static json_t *json_dampers(const struct hold_request *request,
                            const struct hold_answer *answer)
{
    const struct hold_damper *dampers = answer->dampers;
    return request->has_damper
               ? json_pack("{s:o, s:o, s:o, s:o}", "speed",
                           json_number(request->speed), "before",
                           json_damper(&dampers[HOLD_BEFORE]), "same_oil",
                           json_damper(&dampers[HOLD_SAME_OIL]), "wanted",
                           json_damper(&dampers[HOLD_WANTED]))
               : json_null();
}

static json_t *json_factor(const struct hold_answer *answer)
{
    return json_pack("{s:o, s:o, s:o, s:o, s:o}", "temperature",
                     json_number(answer->f_temperature), "spring",
                     json_number(answer->f_spring), "mass",
                     json_number(answer->f_mass), "piston",
                     json_number(answer->f_piston), "together",
                     json_number(answer->f_all));
}

static json_t *json_bottle(const struct hold_bottle *bottle)
{
    return json_pack(
        "{s:s, s:o, s:o, s:o, s:o, s:o}", "name", bottle->name, "rating",
        json_point(&bottle->rating), "uncertainty",
        json_uncertainty_of(bottle->uncertainty, bottle->rating.viscosity),
        "viscosity", json_number(bottle->viscosity), "change_percent",
        json_number(100 * bottle->change), "left_ml",
        json_number(bottle->left_ml));
}

static json_t *json_mix(const struct hold_mix *mix, double v)
{
    return mix->names[0]
               ? json_pack("{s:[{s:s, s:o}, {s:s, s:o}], s:o}", "parts", "name",
                           mix->names[0], "share", json_number(1 - mix->share),
                           "name", mix->names[1], "share",
                           json_number(mix->share), "uncertainty",
                           json_uncertainty_of(mix->uncertainty, v))
               : json_null();
}

static json_t *json_pour(const struct hold_answer *answer)
{
    return answer->bottle.name
               ? json_pack("{s:o, s:o}", "bottle", json_bottle(&answer->bottle),
                           "mix",
                           json_mix(&answer->mix, answer->wanted.viscosity))
               : json_null();
}

static json_t *json_all_warnings(const struct hold_answer *answer)
{
    json_t *warnings = json_warnings(answer->warnings);
    if (*answer->stock_trouble) {
        json_append(warnings, json_pack("{s:s, s:o}", "code", "stock", "text",
                                        json_text(answer->stock_trouble)));
    }
    return warnings;
}

enum exit_code hold_print_json(const struct hold_request *request,
                               const struct hold_answer *answer,
                               struct error *error)
{
    const struct mw_hold *hold = &answer->hold;
    return print_json(
        "hold",
        json_pack(
            "{s:s, s:s, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o, "
            "s:o}",
            "name", request->ref.name, "family",
            mw_family_name(request->ref.oil.family), "viscosity_now",
            json_number(answer->before.viscosity), "before",
            json_oil(request->t_from, answer->before.viscosity,
                     answer->before.dynamic),
            "same_oil",
            json_oil(request->t_to, answer->same_oil.viscosity,
                     answer->same_oil.dynamic),
            "wanted", json_oil(request->t_to, hold->viscosity, hold->wanted),
            "change_percent", json_number(100 * hold->change), "matters",
            json_boolean(answer->matters), "rating",
            json_point(&answer->rating), "factor", json_factor(answer),
            "damper", json_dampers(request, answer), "pour", json_pour(answer),
            "warnings", json_all_warnings(answer)),
        error);
}
