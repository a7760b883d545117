/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "parse/unit.h"

#include <stdbool.h>
#include <string.h>
#include <strings.h>

#include "parse/number.h"

/* all by definition */
const struct unit size_units[] = {{"mm", 1e-3}, {"cm", 1e-2},   {"m", 1},
                                  {"um", 1e-6}, {"in", 0.0254}, {NULL, 0}};

double in_unit(const struct unit_value *measured)
{
    return measured->value * measured->unit;
}

/* capitals do not matter, but that mPa is not MPa */
static bool is_unit(const char *text, size_t length, const char *symbol)
{
    return strlen(symbol) == length && strncasecmp(text, symbol, length) == 0 &&
           (*symbol != 'M' || *text == 'M');
}

/* the unit at *text, which ends it, or at ':' or the 'x' of a piston; *text
 * moves behind it */
static double take_unit(const char **text, const struct unit *units)
{
    *text = skip_spaces(*text);
    size_t length = strcspn(*text, " :xX");
    for (; units->symbol; units++) {
        if (is_unit(*text, length, units->symbol)) {
            *text = skip_spaces(*text + length);
            return units->size;
        }
    }
    return 0;
}

enum exit_code take_unit_value(const char **text, const struct unit *units,
                               struct unit_value *measured, struct error *error)
{
    enum exit_code code = take_number(text, &measured->value, error);
    if (code == EXIT_DONE) {
        measured->unit = take_unit(text, units);
    }
    return code;
}

enum exit_code parse_unit_value(const char *text, const struct unit *units,
                                const char *hint, double *value,
                                struct error *error)
{
    const char *at = text;
    struct unit_value measured;
    enum exit_code code = take_unit_value(&at, units, &measured, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (*at != '\0' || measured.unit == 0) {
        return refuse(error, "\"%.*s\" %s; write %s", QUOTED, text,
                      *at == '\0' ? "has no unit" : "is not understood", hint);
    }
    *value = in_unit(&measured);
    return EXIT_DONE;
}
