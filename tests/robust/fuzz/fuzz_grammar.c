/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A text, read as every kind of value that the command line knows: it is taken
 * as a finite one, or refused with args. */
#include <float.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

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

/* a error if and only if it was refused */
static bool taken(enum exit_code exit_code, struct error *error)
{
    MUST(exit_code == error->exit_code);
    MUST(exit_code == EXIT_DONE || exit_code == EXIT_USAGE);
    MUST((exit_code == EXIT_DONE) == (error->text[0] == '\0'));
    *error = (struct error){0};
    return exit_code == EXIT_DONE;
}

static void read_numbers(const char *text)
{
    static enum exit_code (*const parsers[])(const char *text, double *value,
                                             struct error *error) = {
        parse_number, parse_temperature, parse_thermometer, parse_ml,
        parse_g,      parse_density,     parse_percent,     parse_size,
        parse_shaft,  parse_speed,       parse_pressure,    parse_gauge};
    struct error error = {0};
    for (size_t i = 0; i < sizeof parsers / sizeof parsers[0]; i++) {
        double value = NAN;
        if (taken(parsers[i](text, &value, &error), &error)) {
            MUST(isfinite(value));
        }
    }
}

static void read_within(const char *text)
{
    static enum exit_code (*const parsers[])(
        const char *text, struct toleranced *within,
        struct error *error) = {parse_length_within, parse_density_within,
                                parse_temperature_toleranced};
    struct error error = {0};
    for (size_t i = 0; i < sizeof parsers / sizeof parsers[0]; i++) {
        struct toleranced within = {NAN, NAN};
        if (taken(parsers[i](text, &within, &error), &error)) {
            MUST(isfinite(within.value) && !isinf(within.limit));
        }
    }
    struct times times = {0};
    if (taken(parse_times(text, &times, &error), &error)) {
        MUST(times.count > 0 && times.count <= TIMES_MAX);
        for (size_t i = 0; i < times.count; i++) {
            MUST(isfinite(times.list[i]));
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

/* an oil that can be made is one that can be asked */
static void read_oil(const char *text, const struct oil_defaults *defaults)
{
    struct error error = {0};
    struct mw_oil oil;
    double v;
    if (!taken(parse_oil(text, defaults, &oil, &error), &error)) {
        return;
    }
    MUST(oil.count >= 1 && oil.count <= MW_POINTS_MAX);
    MUST(mw_viscosity_in_range(oil.points[0].viscosity));
    enum mw_status status =
        mw_oil_viscosity(&oil, oil.points[0].temperature, &v);
    MUST(status == MW_OK ? isfinite(v) : isnan(v));
}

static void read_oils(const char *text)
{
    static const struct oil_defaults defaults[] = {{false, MW_SILICONE, NAN},
                                                   {true, MW_SILICONE, 0.971},
                                                   {true, MW_MINERAL, NAN},
                                                   {true, MW_MINERAL, 0.871}};
    struct error error = {0};
    struct viscosity viscosity;
    is_oil_spec(text);
    if (taken(parse_viscosity(text, &viscosity, &error), &error)) {
        MUST(isfinite(viscosity.value));
    }
    for (size_t i = 0; i < sizeof defaults / sizeof defaults[0]; i++) {
        read_oil(text, &defaults[i]);
    }
}

/* a number that is written by the export is the same when it is read again */
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
        return; /* what rounds to infinity, or has fewer bits */
    }
    /* text has three figures, however large or small, and is never cut */
    format_significant(value, 3, shown);
    MUST(fabs(strtod(shown, NULL) - value) <= 0.005001 * fabs(value));
    format_compact(value, shown);
    MUST(fabs(strtod(shown, NULL) - value) <= 5.0001e-6 * fabs(value));
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct error error = {0};
    char date[DATE_LENGTH];
    char *text = strndup((const char *)data, size);
    MUST(text);
    read_numbers(text);
    read_within(text);
    read_amounts(text);
    read_damper(text);
    read_oils(text);
    taken(check_name(text, &error), &error);
    taken(check_text(text, &error), &error);
    taken(parse_date(text, date, &error), &error);
    write_number(data, size);
    free(text);
    return 0;
}
