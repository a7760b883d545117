/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/reading_load.h"

#include <math.h>
#include <stdio.h>

#include "parse/number.h"
#include "parse/viscosity.h"
#include "util/xalloc.h"

static bool is_sound_source(const struct reading_source *source)
{
    struct error error = {0};
    bool compared = source->reference != 0;
    return !source->known ||
           (check_text(source->instrument, &error) == EXIT_DONE &&
            source->random >= UNCERTAINTY_MIN && source->random < 1 &&
            source->systematic >= 0 && source->systematic < 1 &&
            source->thermometer >= 0 &&
            source->thermometer <= THERMOMETER_MAX &&
            (!compared || mw_viscosity_in_range(source->reference_viscosity)));
}

/* whether a reading is one that could have been typed */
static bool is_sound_reading(const struct stock_reading *reading)
{
    struct error error = {0};
    char date[DATE_LENGTH];
    const struct mw_reading *value = &reading->value;
    return value->viscosity > 0 && isfinite(value->viscosity) &&
           value->temperature > MW_ABSOLUTE_ZERO &&
           isfinite(value->temperature) &&
           value->uncertainty >= UNCERTAINTY_MIN && value->uncertainty < 1 &&
           is_sound_source(&reading->source) &&
           check_text(reading->method, &error) == EXIT_DONE &&
           parse_date(reading->taken, date, &error) == EXIT_DONE;
}

static void load_source(sqlite3_stmt *row, struct reading_source *source)
{
    bool compared = sqlite3_column_type(row, 10) != SQLITE_NULL;
    *source = (struct reading_source){
        .known = sqlite3_column_type(row, 6) != SQLITE_NULL,
        .instrument = xstrdup(column_text(row, 6)),
        .random = column_number(row, 7),
        .systematic = column_number(row, 8),
        .thermometer = column_number(row, 9),
        .reference = sqlite3_column_int64(row, 10),
        .reference_name = compared ? xstrdup(column_text(row, 12)) : NULL,
        .reference_viscosity = column_number(row, 11)};
}

void reading_load(struct stock *stock, sqlite3_stmt *row, struct bottle *bottle)
{
    size_t i = bottle->reading_count++;
    bottle->readings =
        xreallocarray(bottle->readings, i + 1, sizeof bottle->readings[0]);
    struct stock_reading *reading = &bottle->readings[i];
    reading->id = sqlite3_column_int64(row, 5);
    reading->value.viscosity = column_number(row, 0);
    reading->value.temperature = column_number(row, 1);
    reading->value.uncertainty = column_number(row, 2);
    reading->method = xstrdup(column_text(row, 3));
    snprintf(reading->taken, DATE_LENGTH, "%s", column_text(row, 4));
    load_source(row, &reading->source);
    if (!is_sound_reading(reading)) {
        stock_set_aside(stock, "reading", reading->id,
                        "a reading of \"%.*s\" is damaged", QUOTED,
                        bottle->name);
        stock_reading_free(reading);
        bottle->reading_count--;
    }
}
