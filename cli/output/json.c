/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/json.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "util/utf8.h"
#include "util/xalloc.h"

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

static const enum mw_warning all_warnings[] = {
#define WARNING_VALUE(name, bit, code, text) name,
    MW_WARN_LIST(WARNING_VALUE)
#undef WARNING_VALUE
};

enum { WARNINGS = sizeof all_warnings / sizeof all_warnings[0] };

json_t *json_warnings(unsigned warnings)
{
    json_t *list = json_array();
    for (size_t i = 0; i < WARNINGS; i++) {
        if (warnings & all_warnings[i]) {
            json_append(list, json_string(mw_warning_text(all_warnings[i])));
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

/* what stands in the answer is not printed after it again */
static void add_remarks(json_t *json, struct error *error)
{
    json_t *warnings = json_object_get(json, "warnings");
    if (!warnings && error->remark_count > 0) {
        warnings = json_array();
        json_set(json, "warnings", warnings);
    }
    for (size_t i = 0; i < error->remark_count; i++) {
        json_append(warnings, json_text(error->remarks[i]));
    }
    error->remark_count = 0;
}

enum exit_code print_json(json_t *json, struct error *error)
{
    if (!json) {
        return error_set(error, EXIT_OUTPUT,
                         "the answer cannot be written as JSON");
    }
    add_remarks(json, error);
    char *text = json_dumps(json, JSON_INDENT(2) | JSON_REAL_PRECISION(17));
    json_decref(json);
    if (text) {
        /* a failed write shows in end_program() */
        put_escaped(text);
        putchar('\n');
    } else {
        out_of_memory();
    }
    free(text);
    return EXIT_DONE;
}
