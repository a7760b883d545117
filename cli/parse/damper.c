/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "parse/damper.h"

#include "parse/number.h"
#include "parse/unit.h"

#define APART_MAX 100.0 /* of a spring or mass: more is a slip */

/* no spring or mass of a model comes near these, in N/m and kg or without a
 * unit; kPa: from what a pump of two stages holds to 1000 bar; m/s */
#define CHANGE_MIN   1e-6
#define CHANGE_MAX   1e9
#define PRESSURE_MIN 1e-4
#define PRESSURE_MAX 1e5
#define SPEED_MIN    1e-6
#define SPEED_MAX    1e3

enum {
    SIDES = 2 /* of a change: before and after */
};

/* all by definition */
static const struct unit spring_units[] = {
    {"N/mm", 1e3}, {"N/cm", 1e2}, {"N/m", 1}, {NULL, 0}};
static const struct unit mass_units[] = {{"kg", 1}, {"g", 1e-3}, {NULL, 0}};
static const struct unit speed_units[] = {
    {"mm/s", 1e-3}, {"cm/s", 1e-2}, {"m/s", 1}, {NULL, 0}};
static const struct unit pressure_units[] = {
    {"kPa", 1},   {"hPa", 0.1},  {"MPa", 1e3}, {"Pa", 1e-3},
    {"bar", 100}, {"mbar", 0.1}, {NULL, 0}};

/* -- Sizes and speeds -------------------------------------------------- */

enum exit_code parse_size(const char *text, double *size, struct error *error)
{
    double read = 0;
    enum exit_code code = parse_unit_value(
        text, size_units, "20mm, 2cm, 0.02m or 0.8in", &read, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (!mw_length_in_range(read)) {
        return refuse(error, "%.*s: a size is 0.01 mm to 10 m", QUOTED, text);
    }
    *size = read;
    return EXIT_DONE;
}

enum exit_code parse_shaft(const char *text, double *diameter,
                           struct error *error)
{
    const char *at = text;
    struct unit_value none;
    if (take_unit_value(&at, size_units, &none, error) == EXIT_DONE &&
        none.value == 0 && *at == '\0') {
        *diameter = 0;
        return EXIT_DONE;
    }
    return parse_size(text, diameter, error);
}

enum exit_code parse_speed(const char *text, double *speed, struct error *error)
{
    double read = 0;
    enum exit_code code =
        parse_unit_value(text, speed_units, "0.1m/s or 100mm/s", &read, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (!(read > 0)) {
        return refuse(error, "%.*s: a speed is above zero", QUOTED, text);
    }
    if (!(read >= SPEED_MIN && read <= SPEED_MAX)) {
        return refuse(error, "%.*s: a speed is %g to %g m/s", QUOTED, text,
                      SPEED_MIN, SPEED_MAX);
    }
    *speed = read;
    return EXIT_DONE;
}

/* -- What changes ------------------------------------------------------ */

/* A, or A:B; *count says which */
static enum exit_code take_sides(const char *text, const struct unit *units,
                                 const char *hint,
                                 struct unit_value sides[SIDES], size_t *count,
                                 struct error *error)
{
    const char *at = text;
    bool more = true;
    for (*count = 0; more; (*count)++) {
        enum exit_code code =
            take_unit_value(&at, units, &sides[*count], error);
        if (code != EXIT_DONE) {
            return code;
        }
        more = *count + 1 < SIDES && *at == ':';
        at = more ? skip_spaces(at + 1) : at;
    }
    return *at == '\0' ? EXIT_DONE
                       : refuse(error, "\"%.*s\" is not understood; write %s",
                                QUOTED, text, hint);
}

static enum exit_code parse_change(const char *text, const struct unit *units,
                                   const char *hint, struct change *change,
                                   struct error *error)
{
    struct unit_value sides[SIDES];
    size_t count;
    enum exit_code code = take_sides(text, units, hint, sides, &count, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (count == 1) {
        sides[1] = sides[0];
    }
    double unit = sides[1].unit > 0 ? sides[1].unit : sides[0].unit;
    if (count == 1 && unit == 0) {
        return refuse(error, "\"%.*s\": what is it after? write %s", QUOTED,
                      text, hint);
    }
    for (size_t i = 0; i < SIDES; i++) {
        if (!(sides[i].value > 0)) {
            return refuse(error, "%.*s: both sides are above zero", QUOTED,
                          text);
        }
        if (sides[i].unit == 0) {
            sides[i].unit = unit > 0 ? unit : 1;
        }
    }
    double ratio = in_unit(&sides[1]) / in_unit(&sides[0]);
    if (!(ratio <= APART_MAX && ratio >= 1 / APART_MAX)) {
        return refuse(error,
                      "%.*s: more than %g to 1 apart; are the units right?",
                      QUOTED, text, APART_MAX);
    }
    if (!(in_unit(&sides[0]) >= CHANGE_MIN &&
          in_unit(&sides[0]) <= CHANGE_MAX)) {
        return refuse(error, "%.*s is out of range", QUOTED, text);
    }
    *change = (struct change){in_unit(&sides[0]), in_unit(&sides[1]), unit > 0};
    return EXIT_DONE;
}

enum exit_code parse_spring(const char *text, struct change *spring,
                            struct error *error)
{
    return parse_change(text, spring_units,
                        "2.4:2.7 (any unit, a ratio), 2.4:2.7N/mm or "
                        "2400N/m if it stays",
                        spring, error);
}

enum exit_code parse_mass(const char *text, struct change *mass,
                          struct error *error)
{
    return parse_change(text, mass_units,
                        "1.6:1.8 (any unit, a ratio), 1.6:1.8kg or 1600g if "
                        "it stays",
                        mass, error);
}

/* -- Pressures --------------------------------------------------------- */

static enum exit_code check_pressure(const char *text, double absolute,
                                     double *pressure, struct error *error)
{
    if (!(absolute >= PRESSURE_MIN && absolute <= PRESSURE_MAX)) {
        return refuse(error, "%.*s: an absolute pressure is %g to %g kPa",
                      QUOTED, text, PRESSURE_MIN, PRESSURE_MAX);
    }
    *pressure = absolute;
    return EXIT_DONE;
}

enum exit_code parse_pressure(const char *text, double *pressure,
                              struct error *error)
{
    double read = 0;
    enum exit_code code =
        parse_unit_value(text, pressure_units,
                         "10kPa or 0.1bar, absolute (a gauge below zero: "
                         "--gauge -90kPa)",
                         &read, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (!(read > 0)) {
        return refuse(error,
                      "%.*s: an absolute pressure is above zero; what a gauge "
                      "shows is written --gauge -90kPa",
                      QUOTED, text);
    }
    return check_pressure(text, read, pressure, error);
}

enum exit_code parse_gauge(const char *text, double *pressure,
                           struct error *error)
{
    double read = 0, absolute;
    enum exit_code code = parse_unit_value(text, pressure_units,
                                           "-90kPa or -0.9bar", &read, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (!(read < 0)) {
        return refuse(error,
                      "%.*s: a vacuum gauge shows less than zero, such as "
                      "--gauge -90kPa; an absolute pressure is --pressure",
                      QUOTED, text);
    }
    if (mw_pressure_of_gauge(read, &absolute) != MW_OK) {
        return refuse(error,
                      "%.*s: no gauge shows less than -%g kPa, the standard "
                      "atmosphere",
                      QUOTED, text, MW_STANDARD_ATMOSPHERE_KPA);
    }
    return check_pressure(text, absolute, pressure, error);
}
