/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "oils/bottle_json.h"

static json_t *json_readings(const struct bottle *bottle)
{
    json_t *readings = json_array();
    for (size_t i = 0; i < bottle->reading_count; i++) {
        const struct stock_reading *reading = &bottle->readings[i];
        json_append(
            readings,
            json_pack("{s:o, s:o, s:o, s:s, s:s}", "viscosity",
                      json_number(reading->value.viscosity), "temperature",
                      json_number(reading->value.temperature), "uncertainty",
                      json_uncertainty_of(reading->value.uncertainty,
                                          reading->value.viscosity),
                      "method", reading->method, "date", reading->taken));
    }
    return readings;
}

static json_t *json_best(const struct mw_bottle *best)
{
    json_t *json = json_point(&best->oil.points[0]);
    json_set(
        json, "uncertainty",
        json_uncertainty_of(best->uncertainty, best->oil.points[0].viscosity));
    return json;
}

json_t *json_bottle(const struct bottle *bottle)
{
    return json_pack(
        "{s:s, s:s, s:o, s:o, s:o, s:o, s:o, s:s, s:s, s:b}", "name",
        bottle->name, "family", mw_family_name(bottle->label.family), "points",
        json_points(&bottle->label), "tolerance_percent",
        json_number(100 * bottle->tolerance), "readings", json_readings(bottle),
        "best", json_best(&bottle->best), "left_ml",
        json_number(bottle->left_ml), "note", bottle->note, "added",
        bottle->added, "mixed", bottle->mixed);
}

json_t *json_recipe(const struct recipe *recipe)
{
    json_t *parts = json_array();
    for (size_t i = 0; i < recipe->count; i++) {
        json_append(parts, json_pack("{s:s, s:o}", "name",
                                     recipe->parts[i].parent_name, "volume_ml",
                                     json_number(recipe->parts[i].volume_ml)));
    }
    return json_pack("{s:s, s:s, s:o, s:o}", "name", recipe->name, "date",
                     recipe->made, "temperature",
                     json_number(recipe->temperature), "parts", parts);
}

json_t *json_use(const struct use *use)
{
    return json_pack("{s:s, s:s, s:o, s:s}", "name", use->name, "date",
                     use->made, "volume_ml", json_number(use->volume_ml),
                     "note", use->note);
}

json_t *json_fill(const struct fill *fill)
{
    return json_pack("{s:s, s:s, s:s}", "name", fill->name, "date", fill->made,
                     "previous", fill->previous_name);
}

enum exit_code print_change_json(const char *done, const char *what,
                                 const struct bottle *bottle, double rows,
                                 double skipped, struct error *error)
{
    return print_json("stock-change",
                      json_pack("{s:s, s:o, s:o, s:o, s:o}", "done", done,
                                "what", what ? json_text(what) : json_null(),
                                "rows", json_number(rows), "skipped",
                                json_number(skipped), "oil",
                                bottle ? json_bottle(bottle) : json_null()),
                      error);
}
