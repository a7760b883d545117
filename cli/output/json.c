/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/json.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "util/utf8.h"
#include "util/xalloc.h"

enum { SCHEMA_LENGTH = 64 };

json_t *json_number(double value)
{
    return isfinite(value) ? json_real(value) : json_null();
}

json_t *json_point(const struct mw_point *point)
{
    return json_pack("{s:o, s:o}", "viscosity", json_number(point->viscosity),
                     "temperature", json_number(point->temperature));
}

json_t *json_points(const struct mw_oil *oil)
{
    json_t *points = json_array();
    for (size_t i = 0; i < oil->count; i++) {
        json_append(points, json_point(&oil->points[i]));
    }
    return points;
}

json_t *json_uncertainty(double standard, double low, double high,
                         json_t *budget)
{
    return json_pack(
        "{s:o, s:o, s:o, s:o, s:o, s:o}", "k", json_number(MW_COVERAGE),
        "standard_percent", json_number(100 * standard), "expanded_percent",
        json_number(100 * MW_COVERAGE * standard), "low", json_number(low),
        "high", json_number(high), "budget", budget ? budget : json_array());
}

json_t *json_uncertainty_of(double standard, double v)
{
    struct mw_budget budget = {0};
    double low, high;
    mw_budget_add(&budget, "", standard, 1);
    mw_budget_band(&budget, v, &low, &high);
    return json_uncertainty(standard, low, high, NULL);
}

json_t *json_contribution(const char *source, double standard, double combined)
{
    double part = combined > 0 ? standard / combined : 0;
    return json_pack("{s:o, s:o, s:o}", "source", json_text(source),
                     "standard_percent", json_number(100 * standard),
                     "variance_percent", json_number(100 * part * part));
}

static const enum mw_warning all_warnings[] = {
#define WARNING_VALUE(name, bit, code, text) name,
    MW_WARN_LIST(WARNING_VALUE)
#undef WARNING_VALUE
};

enum { WARNINGS = sizeof all_warnings / sizeof all_warnings[0] };

static json_t *json_warning(const char *code, const char *text)
{
    return json_pack("{s:s, s:o}", "code", code, "text", json_text(text));
}

json_t *json_warnings(unsigned warnings)
{
    json_t *list = json_array();
    for (size_t i = 0; i < WARNINGS; i++) {
        if (warnings & all_warnings[i]) {
            json_append(list, json_warning(mw_warning_name(all_warnings[i]),
                                           mw_warning_text(all_warnings[i])));
        }
    }
    return list;
}

void json_append(json_t *array, json_t *value)
{
    if (!value || json_array_append_new(array, value) != 0) {
        out_of_memory();
    }
}

void json_set(json_t *object, const char *key, json_t *value)
{
    if (!value || json_object_set_new(object, key, value) != 0) {
        out_of_memory();
    }
}

json_t *json_text(const char *text)
{
    char *cleaned = utf8_cleaned(text, true);
    json_t *json = json_string(cleaned);
    free(cleaned);
    return json;
}

/* JSON as jansson writes it, with the characters that a terminal must not see
 * escaped; they stand in strings only */
static void put_escaped(const char *text)
{
    for (size_t length; *text; text += length) {
        uint32_t code = 0;
        length = utf8_decode(text, &code);
        if (code == '\n' || !utf8_is_control(code)) {
            fwrite(text, 1, length, stdout);
        } else if (code < 0x10000) {
            printf("\\u%04x", (unsigned)code);
        } else {
            code -= 0x10000;
            printf("\\u%04x\\u%04x", 0xd800 | (unsigned)(code >> 10),
                   0xdc00 | (unsigned)(code & 0x3ff));
        }
    }
}

static char *scalar_with(const json_t *json, size_t digits)
{
    char *text =
        json_dumps(json, JSON_ENCODE_ANY | JSON_REAL_PRECISION(digits));
    if (!text) {
        out_of_memory();
    }
    return text;
}

/* a scalar in the shortest form that reads back the same */
static char *scalar_text(const json_t *json)
{
    enum { FEWEST = 15, MOST = 17 };
    double value = json_number_value(json);
    size_t digits = json_is_real(json) ? FEWEST : MOST;
    char *text = scalar_with(json, digits);
    while (digits < MOST && strtod(text, NULL) != value) {
        free(text);
        text = scalar_with(json, ++digits);
    }
    /* 350.0 says no more than 350 */
    size_t length = strlen(text);
    if (json_is_real(json) && length > 2 &&
        strcmp(text + length - 2, ".0") == 0) {
        text[length - 2] = '\0';
    }
    return text;
}

static void put_indent(int depth)
{
    printf("\n%*s", 2 * depth, "");
}

static void put(const json_t *json, int depth);

/* NOLINTNEXTLINE(misc-no-recursion): answers are a few levels deep */
static void put_array(const json_t *array, int depth)
{
    for (size_t i = 0; i < json_array_size(array); i++) {
        putchar(i ? ',' : '[');
        put_indent(depth + 1);
        put(json_array_get(array, i), depth + 1);
    }
    if (json_array_size(array) == 0) {
        putchar('[');
    } else {
        put_indent(depth);
    }
    putchar(']');
}

/* NOLINTNEXTLINE(misc-no-recursion): answers are a few levels deep */
static void put_object(const json_t *object, int depth)
{
    const char *key;
    json_t *value;
    bool first = true;
    /* jansson iterates over objects that are not constant only */
    json_object_foreach((json_t *)object, key, value)
    {
        printf(first ? "{" : ",");
        put_indent(depth + 1);
        printf("\"%s\": ", key);
        put(value, depth + 1);
        first = false;
    }
    if (first) {
        putchar('{');
    } else {
        put_indent(depth);
    }
    putchar('}');
}

/* NOLINTNEXTLINE(misc-no-recursion): answers are a few levels deep */
static void put(const json_t *json, int depth)
{
    if (json_is_array(json)) {
        put_array(json, depth);
    } else if (json_is_object(json)) {
        put_object(json, depth);
    } else {
        char *text = scalar_text(json);
        put_escaped(text);
        free(text);
    }
}

/* what stands in the answer is not printed after it again */
static void add_remarks(json_t *json, struct error *error)
{
    json_t *warnings = json_object_get(json, "warnings");
    if (!warnings) {
        warnings = json_array();
        json_set(json, "warnings", warnings);
    }
    for (size_t i = 0; i < error->remark_count; i++) {
        json_append(warnings,
                    json_warning(error->remark_codes[i], error->remarks[i]));
    }
    error->remark_count = 0;
}

/* what came from the file of defaults */
static void add_defaults(json_t *json, struct error *error)
{
    json_t *defaults = json_object();
    for (size_t i = 0; i < error->default_count; i++) {
        json_set(defaults, error->defaults[i].name,
                 json_text(error->defaults[i].value));
    }
    json_set(json, "defaults", defaults);
    error->default_count = 0;
}

enum exit_code print_json(const char *schema, json_t *json, struct error *error)
{
    char name[SCHEMA_LENGTH];
    if (!json) {
        return error_set(error, EXIT_OUTPUT,
                         "the answer cannot be written as JSON");
    }
    snprintf(name, sizeof name, "midweight/%s/1", schema);
    json_t *answer = json_pack("{s:s}", "schema", name);
    if (!answer || json_object_update(answer, json) != 0) {
        out_of_memory();
    }
    json_decref(json);
    add_remarks(answer, error);
    add_defaults(answer, error);
    /* a failed write shows in end_program() */
    put(answer, 0);
    putchar('\n');
    json_decref(answer);
    return EXIT_DONE;
}
