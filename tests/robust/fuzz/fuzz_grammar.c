/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* A text, parsed as every kind of value that the command line knows: it is
 * accepted as a finite value, or refused with a message. */
#include <float.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "base/range.h"
#include "fuzz.h"
#include "output/csv.h"
#include "parse/amount.h"
#include "parse/damper.h"
#include "parse/names.h"
#include "parse/number.h"
#include "parse/oil_spec.h"
#include "parse/toleranced.h"
#include "parse/viscosity.h"
#include "util/format.h"

/* there is an error if and only if the text was refused */
static bool taken(enum exit_code exit_code, struct error *error)
{
    MUST(exit_code == EXIT_DONE || exit_code == EXIT_USAGE);
    MUST((exit_code == EXIT_DONE) == (error->text[0] == '\0'));
    *error = (struct error){0};
    return exit_code == EXIT_DONE;
}

typedef enum exit_code parse_value(const char *text, double *value,
                                   struct error *error);

/* a value that was accepted can be written, and is the same when read back */
static void read_back(double value, const char *unit, parse_value *parse)
{
    struct error error = {0};
    char number[ROUNDTRIP_LENGTH], text[ROUNDTRIP_LENGTH + 8];
    double again = NAN;
    snprintf(text, sizeof text, "%s%s", format_roundtrip(value, number), unit);
    MUST(taken(parse(text, &again, &error), &error));
    MUST(again == value);
}

/* a value is shown as a complete decimal number */
static void show(double value)
{
    char text[FORMAT_LENGTH];
    MUST(isfinite(value));
    for (int significant = 2; significant <= 6; significant++) {
        format_significant(value, significant, text);
        MUST(strspn(text, "-+.0123456789e") == strlen(text));
        MUST(fabs(strtod(text, NULL) - value) <=
                 0.50001 * pow(10, 1 - significant) * fabs(value) ||
             fabs(value) < DBL_MIN);
    }
    if (value > 0) {
        format_duration(value, text);
        char *unit = strchr(text, ' ');
        MUST(unit && strstr(" s min h days", unit));
    }
}

static void read_numbers(const char *text)
{
    /* the parser, the unit that a value is written with, and the parser of
     * that */
    static const struct {
        parse_value *parse;
        const char *unit;
        parse_value *again;
    } kinds[] = {
        {parse_number, "", parse_number},
        {parse_temperature, "C", parse_temperature},
        {parse_ml, "ml", parse_ml},
        {parse_g, "g", parse_g},
        {parse_density, "", parse_density},
        {parse_size, "m", parse_size},
        {parse_shaft, "m", parse_shaft},
        {parse_speed, "m/s", parse_speed},
        {parse_pressure, "kPa", parse_pressure},
        {parse_gauge, "kPa", parse_pressure},
    };
    struct error error = {0};
    double value;
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        value = NAN;
        if (taken(kinds[i].parse(text, &value, &error), &error)) {
            show(value);
            read_back(value, kinds[i].unit, kinds[i].again);
        }
    }
    if (taken(parse_percent(text, &value, &error), &error)) {
        MUST(value >= 0 && value < 1);
    }
}

static void read_within(const char *text)
{
    static enum exit_code (*const parsers[])(
        const char *text, struct toleranced *within, struct error *error) = {
        parse_length_toleranced, parse_density_toleranced,
        parse_temperature_toleranced};
    struct error error = {0};
    for (size_t i = 0; i < sizeof parsers / sizeof parsers[0]; i++) {
        struct toleranced within = {NAN, NAN};
        if (taken(parsers[i](text, &within, &error), &error)) {
            MUST(isfinite(within.value) && !isinf(within.limit));
        }
    }
    struct toleranced t = {25, NAN};
    if (taken(parse_thermometer(NULL, text, &t, &error), &error)) {
        MUST(t.value == 25 && t.limit >= 0 && t.limit <= THERMOMETER_MAX);
    }
    struct times times = {0};
    if (taken(parse_times(text, &times, &error), &error)) {
        MUST(times.count > 0 && times.count <= TIMES_MAX);
        for (size_t i = 0; i < times.count; i++) {
            show(times.list[i]);
            MUST(times.list[i] > 0 && times.list[i] < 1e8);
        }
    }
}

static void read_amounts(const char *text)
{
    struct error error = {0};
    struct amount amount;
    double count;
    if (taken(parse_amount(text, &amount, &error), &error) ||
        taken(parse_left(text, &amount, &error), &error)) {
        MUST(isfinite(amount.value) && amount.value >= 0);
    }
    if (taken(parse_batch(text, &count, &amount, &error), &error) ||
        taken(parse_drops(text, &count, &amount, &error), &error)) {
        MUST(isfinite(amount.value) && isfinite(count) && count > 0);
    }
}

static void read_damper(const char *text)
{
    struct error error = {0};
    struct change change;
    struct mw_piston from, to;
    if (taken(parse_spring(text, &change, &error), &error) ||
        taken(parse_mass(text, &change, &error), &error)) {
        MUST(change.from > 0 && isfinite(change.from));
        MUST(change.to > 0 && isfinite(change.to));
    }
    taken(parse_piston(text, &from, &to, &error), &error);
    struct temperature_range range;
    if (taken(parse_temperature_range(text, &range, &error), &error)) {
        MUST(range.rows > 0 && isfinite(range.from) && isfinite(range.step));
    }
}

/* an oil that was accepted has a viscosity, and its points, written as the
 * export writes them, give the same oil */
static void read_oil(const char *text, const struct oil_defaults *defaults,
                     struct mw_oil *oil)
{
    struct error error = {0};
    struct oil_defaults named = {true, MW_SILICONE, defaults->density};
    char points[MW_POINTS_MAX * (2 * ROUNDTRIP_LENGTH + 3)],
        number[ROUNDTRIP_LENGTH];
    struct mw_oil again;
    size_t used = 0;
    double v;
    oil->count = 0;
    if (!taken(parse_oil(text, defaults, oil, &error), &error)) {
        return;
    }
    MUST(oil->count >= 1 && oil->count <= MW_POINTS_MAX);
    enum mw_status status =
        mw_oil_viscosity(oil, oil->points[0].temperature, &v);
    MUST(status == MW_OK ? isfinite(v) : isnan(v));
    for (size_t i = 0; i < oil->count; i++) {
        MUST(mw_viscosity_in_range(oil->points[i].viscosity));
        used +=
            (size_t)sprintf(points + used, "%s%s@", i > 0 ? "/" : "",
                            format_roundtrip(oil->points[i].viscosity, number));
        used += (size_t)sprintf(
            points + used, "%sC",
            format_roundtrip(oil->points[i].temperature, number));
    }
    named.family = oil->family;
    enum exit_code exit_code = parse_oil(points, &named, &again, &error);
    MUST(error.remark_count == 0);
    MUST(taken(exit_code, &error) && again.count == oil->count);
    MUST(memcmp(again.points, oil->points,
                oil->count * sizeof oil->points[0]) == 0);
}

/* naming the family that was found gives the same oil */
static void find_family(const char *text)
{
    struct mw_oil found, named;
    struct oil_defaults defaults = {false, MW_SILICONE, NAN};
    read_oil(text, &defaults, &found);
    if (found.count > 0) {
        defaults = (struct oil_defaults){true, found.family, NAN};
        read_oil(text, &defaults, &named);
        MUST(named.count == found.count &&
             memcmp(named.points, found.points,
                    found.count * sizeof found.points[0]) == 0);
    }
}

/* each spelling that a refusal proposes is accepted */
static void follow_hint(const char *hint)
{
    static const char start[] = "can be read two ways; write ";
    struct error error = {0};
    struct viscosity viscosity;
    const char *at = strstr(hint, start);
    char spelling[40];
    for (at = at ? at + strlen(start) : ""; *at; at += strcspn(at, " ")) {
        at += strspn(at, " ");
        size_t length = strcspn(at, ", ");
        snprintf(spelling, sizeof spelling, "%.*s", (int)length, at);
        MUST(strcmp(spelling, "or") == 0 ||
             taken(parse_viscosity(spelling, &viscosity, &error), &error));
    }
}

static void read_oils(const char *text)
{
    static const struct oil_defaults defaults[] = {{true, MW_SILICONE, NAN},
                                                   {true, MW_SILICONE, 0.971},
                                                   {true, MW_MINERAL, NAN},
                                                   {true, MW_MINERAL, 0.871},
                                                   {false, MW_SILICONE, 0.871}};
    struct error error = {0};
    struct viscosity viscosity;
    struct mw_oil oil;
    is_oil_spec(text);
    if (parse_viscosity(text, &viscosity, &error) == EXIT_DONE) {
        show(viscosity.value);
        MUST(viscosity.value > 0);
    } else if (!strchr(text, ' ')) { /* else it may look like a hint */
        follow_hint(error.text);
    }
    for (size_t i = 0; i < sizeof defaults / sizeof defaults[0]; i++) {
        read_oil(text, &defaults[i], &oil);
    }
    find_family(text);
}

/* a date that is accepted is copied unchanged, and has the length of a date */
static void read_date(const char *text)
{
    struct error error = {0};
    char date[DATE_LENGTH];
    if (taken(parse_date(text, date, &error), &error)) {
        MUST(strlen(text) == DATE_LENGTH - 1 && strcmp(date, text) == 0);
    }
}

/* a number that the export writes is the same when read back */
static void write_number(const uint8_t *data, size_t size)
{
    struct error error = {0};
    char buffer[ROUNDTRIP_LENGTH], shown[FORMAT_LENGTH];
    double value = 0, again = NAN;
    memcpy(&value, data, size < sizeof value ? size : sizeof value);
    if (!isfinite(value)) {
        return;
    }
    format_roundtrip(value, buffer);
    bool read = taken(parse_number(buffer, &again, &error), &error);
    MUST(read == (fabs(value) <= 1e12));
    MUST(!read || again == value);
    double fraction = fabs(value);
    if (fraction > 1e-18 && fraction < 1) {
        format_roundtrip_percent(fraction, buffer);
        MUST(taken(parse_percent(buffer, &again, &error), &error));
        MUST(again == fraction);
    }
    if (!(fabs(value) > DBL_MIN && fabs(value) < 0.99 * DBL_MAX)) {
        return; /* it rounds to infinity, or has fewer bits */
    }
    /* text has three figures, however large or small, and is not truncated */
    format_significant(value, 3, shown);
    MUST(fabs(strtod(shown, NULL) - value) <= 0.005001 * fabs(value));
    format_compact(value, shown);
    MUST(fabs(strtod(shown, NULL) - value) <= 5.0001e-6 * fabs(value));
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct error error = {0};
    char *text = strndup((const char *)data, size);
    MUST(text);
    read_numbers(text);
    read_within(text);
    read_amounts(text);
    read_damper(text);
    read_oils(text);
    taken(check_name(text, &error), &error);
    taken(check_text(text, &error), &error);
    read_date(text);
    write_number(data, size);
    free(text);
    return 0;
}
