/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "parse/toleranced.h"

#include <ctype.h>
#include <math.h>
#include <stdbool.h>
#include <string.h>

#include "parse/number.h"
#include "parse/unit.h"
#include "parse/viscosity.h"

/* -- A number and its unit --------------------------------------------- */

enum {
    PART_LENGTH = 80 /* of one value; longer than any sensible one */
};

/* A whole text: a number and a unit, or the usual unit where none follows; 0 is
 * none, and the unit is 0 where what follows is none. */
static enum exit_code read_in(const char *text, const struct unit *units,
                              double usual, struct unit_value *read,
                              struct error *error)
{
    const char *at = text + strspn(text, " ");
    enum exit_code code = take_unit_value(&at, units, read, error);
    if (code == EXIT_DONE && read->unit == 0 && *at == '\0') {
        read->unit = usual;
    } else if (*at != '\0') {
        read->unit = 0;
    }
    return code;
}

/* Cut a text at +-: what is before goes to part, limits receives what is
 * after, NULL where there is none. */
static enum exit_code cut(const char *text, char part[PART_LENGTH],
                          const char **limits, struct error *error)
{
    const char *signs[] = {"+-", "+/-", "\u00b1"};
    size_t length = strlen(text);
    *limits = NULL;
    for (size_t i = 0; i < sizeof signs / sizeof signs[0] && !*limits; i++) {
        const char *sign = strstr(text, signs[i]);
        if (sign) {
            length = (size_t)(sign - text);
            *limits = sign + strlen(signs[i]);
        }
    }
    if (length >= PART_LENGTH) {
        return refuse(error, "\"%.*s...\" is too long", QUOTED, text);
    }
    memcpy(part, text, length);
    part[length] = '\0';
    return EXIT_DONE;
}

static enum exit_code read_limit(const char *text, const struct unit *units,
                                 double usual, double *limit,
                                 struct error *error)
{
    struct unit_value read;
    *limit = NAN;
    if (!text) {
        return EXIT_DONE;
    }
    enum exit_code code = read_in(text, units, usual, &read, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (read.unit == 0 || !(read.value >= 0)) {
        return refuse(error,
                      "\"%.*s\": limits are written like 3mm+-0.01mm or "
                      "22C+-0.5C",
                      QUOTED, text);
    }
    *limit = in_unit(&read);
    return EXIT_DONE;
}

/* limits that reach zero say nothing of a length or a density */
static enum exit_code check_limit(const char *text,
                                  const struct toleranced *toleranced,
                                  struct error *error)
{
    return isnan(toleranced->limit) || toleranced->limit < toleranced->value
               ? EXIT_DONE
               : refuse(error, "\"%.*s\": the limits are as wide as the value",
                        QUOTED, text);
}

/* usual: the unit of a bare number, 0 for none; hint: what such a value is, and
 * how it is written */
static enum exit_code parse_toleranced(const char *text,
                                       const struct unit *units, double usual,
                                       const char *hint,
                                       struct toleranced *toleranced,
                                       struct error *error)
{
    char part[PART_LENGTH];
    struct unit_value read;
    const char *limits;
    enum exit_code code;
    if ((code = cut(text, part, &limits, error)) != EXIT_DONE ||
        (code = read_in(part, units, usual, &read, error)) != EXIT_DONE) {
        return code;
    }
    if (read.unit == 0) {
        return refuse(error, "\"%.*s\" is not a %s", QUOTED, text, hint);
    }
    toleranced->value = in_unit(&read);
    if (!(toleranced->value > 0)) {
        return refuse(error, "\"%.*s\" is not above zero", QUOTED, text);
    }
    code = read_limit(limits, units, read.unit, &toleranced->limit, error);
    return code == EXIT_DONE ? check_limit(text, toleranced, error) : code;
}

enum exit_code parse_length_toleranced(const char *text,
                                       struct toleranced *length,
                                       struct error *error)
{
    return parse_toleranced(text, size_units, 0,
                            "length; write 1.2mm, 7.5cm or 0.3m", length,
                            error);
}

enum exit_code parse_density_toleranced(const char *text,
                                        struct toleranced *density,
                                        struct error *error)
{
    static const struct unit units[] = {
        {"g/ml", 1}, {"g/cm3", 1}, {"kg/m3", 1e-3}, {NULL, 0}};
    return parse_toleranced(text, units, 1,
                            "density; write 7.8 (g/ml) or 7800kg/m3", density,
                            error);
}

/* differences: a degree Fahrenheit is 5/9 of a kelvin */
static const struct unit degrees[] = {
    {"C", 1}, {"K", 1}, {"F", 5.0 / 9}, {"\u00b0C", 1}, {"\u00b0F", 5.0 / 9},
    {NULL, 0}};

static enum exit_code refuse_thermometer(const char *text, struct error *error)
{
    return refuse(error, "\"%.*s\": a thermometer is off by 0 to %d degrees",
                  QUOTED, text, (int)THERMOMETER_MAX);
}

static enum exit_code check_thermometer(const char *text, double limit,
                                        struct error *error)
{
    return isnan(limit) || limit <= THERMOMETER_MAX
               ? EXIT_DONE
               : refuse_thermometer(text, error);
}

enum exit_code parse_temperature_toleranced(const char *text,
                                            struct toleranced *temperature,
                                            struct error *error)
{
    char part[PART_LENGTH];
    const char *limits;
    enum exit_code code;
    if ((code = cut(text, part, &limits, error)) != EXIT_DONE ||
        (code = parse_temperature(part, &temperature->value, error)) !=
            EXIT_DONE) {
        return code;
    }
    size_t length = strlen(part);
    bool fahrenheit =
        length > 0 && toupper((unsigned char)part[length - 1]) == 'F';
    code = read_limit(limits, degrees, fahrenheit ? 5.0 / 9 : 1,
                      &temperature->limit, error);
    return code == EXIT_DONE
               ? check_thermometer(text, temperature->limit, error)
               : code;
}

static enum exit_code read_thermometer(const char *text, double *limit,
                                       struct error *error)
{
    struct unit_value read;
    enum exit_code code = read_in(text, degrees, 1, &read, error);
    if (code != EXIT_DONE) {
        return code;
    }
    *limit = in_unit(&read);
    return read.unit > 0 && *limit >= 0 ? check_thermometer(text, *limit, error)
                                        : refuse_thermometer(text, error);
}

enum exit_code parse_thermometer(const char *at, const char *thermometer,
                                 struct toleranced *temperature,
                                 struct error *error)
{
    struct toleranced read = *temperature;
    enum exit_code code = EXIT_DONE;
    if (thermometer &&
        (code = read_thermometer(thermometer, &temperature->limit, error)) !=
            EXIT_DONE) {
        return code;
    }
    if (at &&
        (code = parse_temperature_toleranced(at, &read, error)) == EXIT_DONE) {
        temperature->value = read.value;
        temperature->limit =
            isnan(read.limit) ? temperature->limit : read.limit;
    }
    return code;
}

double thermometer_of(const struct toleranced *temperature)
{
    return isnan(temperature->limit) ? MW_THERMOMETER : temperature->limit;
}

/* -- Times ------------------------------------------------------------- */

static enum exit_code refuse_time(const char *text, struct error *error)
{
    return refuse(error, "\"%.*s\" is not a time; write 64.5s, 3min or 1:04.5",
                  QUOTED, text);
}

/* minutes and seconds, 1:04.5 */
static enum exit_code read_clock(const char *text, double *time,
                                 struct error *error)
{
    size_t digits = strspn(text, "0123456789");
    const char *seconds = text + digits + 1;
    double minutes = 0;
    if (digits == 0 || digits > 4 || text[digits] != ':' ||
        !isdigit((unsigned char)seconds[0]) ||
        !isdigit((unsigned char)seconds[1]) ||
        isdigit((unsigned char)seconds[2])) {
        return refuse_time(text, error);
    }
    for (size_t i = 0; i < digits; i++) {
        minutes = 10 * minutes + (text[i] - '0');
    }
    enum exit_code code = parse_number(seconds, time, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (*time >= 60) {
        return refuse_time(text, error);
    }
    *time += 60 * minutes;
    return EXIT_DONE;
}

static enum exit_code parse_time(const char *text, double *time,
                                 struct error *error)
{
    static const struct unit units[] = {
        {"s", 1}, {"sec", 1}, {"min", 60}, {NULL, 0}};
    struct unit_value read = {0, 1};
    enum exit_code code = strchr(text, ':')
                              ? read_clock(text, &read.value, error)
                              : read_in(text, units, 1, &read, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (read.unit == 0) {
        return refuse_time(text, error);
    }
    *time = in_unit(&read);
    if (!(*time > 0)) {
        return refuse(error, "\"%.*s\": a time is above zero", QUOTED, text);
    }
    return *time >= TIME_MIN && *time <= TIME_MAX
               ? EXIT_DONE
               : refuse(error, "\"%.*s\": a time is %g s to %.0f s", QUOTED,
                        text, TIME_MIN, TIME_MAX);
}

enum exit_code parse_times(const char *text, struct times *times,
                           struct error *error)
{
    for (;;) {
        char part[PART_LENGTH];
        size_t length = strcspn(text, "/");
        if (times->count == TIMES_MAX || length >= PART_LENGTH) {
            return refuse(error, "\"%.*s...\": at most %d times, each as 64.5s",
                          QUOTED, text, (int)TIMES_MAX);
        }
        memcpy(part, text, length);
        part[length] = '\0';
        enum exit_code code =
            parse_time(part, &times->list[times->count], error);
        if (code != EXIT_DONE) {
            return code;
        }
        times->count++;
        if (text[length] == '\0') {
            return EXIT_DONE;
        }
        text += length + 1;
    }
}
