/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "exchange/import_row.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "parse/amount.h"
#include "parse/number.h"
#include "parse/oil_spec.h"
#include "parse/viscosity.h"
#include "store/bottle.h"
#include "util/xalloc.h"

const char *import_field(struct import_row *row, enum stock_column column)
{
    row->column = column;
    return row->fields[column];
}

/* "350 @ 25 C" as "350@25 C": no space beside an @ */
static void close_up(char *text)
{
    char *to = text;
    for (const char *at = text; *at; at++) {
        const char *next = at + strspn(at, " ");
        bool beside = *next == '@' || (to > text && to[-1] == '@');
        if (*at != ' ' || !beside) {
            *to++ = *at;
        }
    }
    *to = '\0';
}

/* the viscosity, with the temperature of its own column where it names none */
static enum exit_code read_label(struct import_row *row, struct bottle *bottle,
                                 struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct oil_defaults defaults = {.density = NAN};
    const char *family = import_field(row, COLUMN_FAMILY);
    if ((code = parse_oil_defaults(*family ? family : NULL, NULL, &defaults,
                                   error)) != EXIT_DONE) {
        return code;
    }
    const char *density = import_field(row, COLUMN_DENSITY);
    if (*density && (code = parse_density(density, &defaults.density, error)) !=
                        EXIT_DONE) {
        return code;
    }
    const char *temperature = import_field(row, COLUMN_TEMPERATURE);
    const char *viscosity = import_field(row, COLUMN_VISCOSITY);
    if (*temperature && strchr(viscosity, '@')) {
        return refuse(error, "%.*s names a temperature, and so does its column",
                      QUOTED, viscosity);
    }
    char *text = xcalloc(strlen(viscosity) + strlen(temperature) + 2, 1);
    sprintf(text, "%s%s%s", viscosity, *temperature ? "@" : "", temperature);
    close_up(text);
    code = parse_oil(text, &defaults, &bottle->label, error);
    free(text);
    return code;
}

/* a volume in ml, NaN where the column is empty */
static enum exit_code read_ml(struct import_row *row, enum stock_column column,
                              double *ml, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct amount amount = {MW_AMOUNT_ML, NAN};
    const char *text = import_field(row, column);
    if (*text && (code = parse_left(text, &amount, error)) != EXIT_DONE) {
        return code;
    }
    *ml = amount.value;
    return amount.kind == MW_AMOUNT_ML && !(column == COLUMN_DROP && *ml <= 0)
               ? EXIT_DONE
               : refuse(error, "%.*s is no volume in ml for this column",
                        QUOTED, text);
}

static enum exit_code read_numbers(struct import_row *row,
                                   struct bottle *bottle, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    const char *tolerance = import_field(row, COLUMN_TOLERANCE);
    bottle->tolerance = mw_usual_tolerance(bottle->label.points[0].viscosity);
    if (*tolerance && (code = parse_percent(tolerance, &bottle->tolerance,
                                            error)) != EXIT_DONE) {
        return code;
    }
    if (!(bottle->tolerance >= UNCERTAINTY_MIN)) {
        return refuse(error, "a label is never exact");
    }
    code = read_ml(row, COLUMN_LEFT, &bottle->left_ml, error);
    return code == EXIT_DONE
               ? read_ml(row, COLUMN_DROP, &bottle->drop_ml, error)
               : code;
}

enum exit_code import_date(struct import_row *row, char date[DATE_LENGTH],
                           struct error *error)
{
    const char *text = import_field(row, COLUMN_DATE);
    return parse_date(*text ? text : NULL, date, error);
}

static enum exit_code read_bottle(struct import_row *row, struct bottle *bottle,
                                  struct error *error)
{
    bottle->retired = strcasecmp(row->fields[COLUMN_KIND], "gone") == 0;
    const char *name = import_field(row, COLUMN_NAME);
    enum exit_code code;
    if ((code = (bottle->retired ? check_retired_name(name, error)
                                 : check_name(name, error))) != EXIT_DONE ||
        (code = check_text(import_field(row, COLUMN_NOTE), error)) !=
            EXIT_DONE ||
        (code = import_date(row, bottle->added, error)) != EXIT_DONE ||
        (code = read_label(row, bottle, error)) != EXIT_DONE ||
        (code = read_numbers(row, bottle, error)) != EXIT_DONE) {
        return code;
    }
    bottle->name = xstrdup(name);
    bottle->note = xstrdup(row->fields[COLUMN_NOTE]);
    return bottle_estimate(bottle, error);
}

/* what the row does not say stays as it is */
static void keep_unsaid(const struct import_row *row, struct bottle *old,
                        struct bottle *bottle)
{
    bottle->id = old->id;
    bottle->left_ml =
        *row->fields[COLUMN_LEFT] ? bottle->left_ml : old->left_ml;
    bottle->drop_ml =
        *row->fields[COLUMN_DROP] ? bottle->drop_ml : old->drop_ml;
    bottle->tolerance =
        *row->fields[COLUMN_TOLERANCE] ? bottle->tolerance : old->tolerance;
    if (*row->fields[COLUMN_NOTE] == '\0') {
        free(bottle->note);
        bottle->note = xstrdup(old->note);
    }
    if (*row->fields[COLUMN_DATE] == '\0') {
        memcpy(bottle->added, old->added, DATE_LENGTH);
    }
}

/* change the bottle of that name; *there where there is one */
static enum exit_code update_bottle(struct import_row *row,
                                    struct bottle *bottle, bool *there,
                                    struct error *error)
{
    struct bottle old = {0};
    sqlite3_int64 id;
    enum exit_code code = bottle_id(row->stock, bottle->name, &id, error);
    *there = code == EXIT_DONE && id != 0 && row->update;
    if (!*there) {
        return code;
    }
    code = bottle_load_id(row->stock, id, &old, error);
    if (code == EXIT_DONE && old.damaged) {
        code = refuse(error, "the bottle that is there is damaged");
    }
    if (code == EXIT_DONE) {
        keep_unsaid(row, &old, bottle);
        code = bottle_update(row->stock, bottle, error);
    }
    bottle_free(&old);
    return code;
}

static enum exit_code take_bottle(struct import_row *row, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct bottle bottle = {0};
    bool there = false;
    if ((code = read_bottle(row, &bottle, error)) == EXIT_DONE) {
        row->column = COLUMN_NAME;
        code = update_bottle(row, &bottle, &there, error);
    }
    if (code == EXIT_DONE && !there) {
        code = bottle_insert(row->stock, &bottle, error);
    }
    bottle_free(&bottle);
    return code;
}

enum exit_code import_bottle(struct import_row *row, enum stock_column column,
                             sqlite3_int64 *id, struct error *error)
{
    const char *name = import_field(row, column);
    enum exit_code code = bottle_id(row->stock, name, id, error);
    return code == EXIT_DONE && *id == 0
               ? refuse(error, "no bottle \"%.*s\" before this row", QUOTED,
                        name)
               : code;
}

static enum exit_code read_reference(struct import_row *row,
                                     struct reading_source *source,
                                     struct error *error)
{
    enum exit_code code =
        import_bottle(row, COLUMN_REFERENCE, &source->reference, error);
    if (code == EXIT_DONE) {
        code = parse_number(import_field(row, COLUMN_REFERENCE_VISCOSITY),
                            &source->reference_viscosity, error);
    }
    return code == EXIT_DONE && !(source->reference_viscosity > 0)
               ? refuse(error, "a viscosity is above zero")
               : code;
}

/* what a reading is uncertain by, in parts, where it says so */
static enum exit_code read_source(struct import_row *row,
                                  struct reading_source *source,
                                  struct error *error)
{
    enum exit_code code;
    *source = (struct reading_source){0};
    if (*import_field(row, COLUMN_RANDOM) == '\0') {
        return EXIT_DONE;
    }
    source->known = true;
    if ((code = parse_percent(import_field(row, COLUMN_RANDOM), &source->random,
                              error)) != EXIT_DONE ||
        (code = parse_percent(import_field(row, COLUMN_SYSTEMATIC),
                              &source->systematic, error)) != EXIT_DONE ||
        (code = parse_number(import_field(row, COLUMN_THERMOMETER),
                             &source->thermometer, error)) != EXIT_DONE ||
        (code = check_text(import_field(row, COLUMN_INSTRUMENT), error)) !=
            EXIT_DONE) {
        return code;
    }
    source->instrument = xstrdup(row->fields[COLUMN_INSTRUMENT]);
    row->column = COLUMN_RANDOM;
    if (!(source->random >= UNCERTAINTY_MIN)) {
        return refuse(error, "no reading is exact");
    }
    if (!(source->thermometer >= 0 && source->thermometer <= THERMOMETER_MAX)) {
        row->column = COLUMN_THERMOMETER;
        return refuse(error, "a thermometer is off by 0 to %d degrees",
                      (int)THERMOMETER_MAX);
    }
    return *import_field(row, COLUMN_REFERENCE) != '\0'
               ? read_reference(row, source, error)
               : EXIT_DONE;
}

static enum exit_code read_reading(struct import_row *row,
                                   const struct bottle *bottle,
                                   struct stock_reading *reading,
                                   struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct viscosity viscosity;
    struct mw_point point;
    if ((code = parse_temperature(import_field(row, COLUMN_TEMPERATURE),
                                  &reading->value.temperature, error)) !=
            EXIT_DONE ||
        (code = parse_viscosity(import_field(row, COLUMN_VISCOSITY), &viscosity,
                                error)) != EXIT_DONE ||
        (code = resolve_viscosity(
             &viscosity, bottle->label.family, bottle->label.density,
             reading->value.temperature, &point, error)) != EXIT_DONE ||
        (code = parse_percent(import_field(row, COLUMN_UNCERTAINTY),
                              &reading->value.uncertainty, error)) !=
            EXIT_DONE ||
        (code = check_text(import_field(row, COLUMN_METHOD), error)) !=
            EXIT_DONE) {
        return code;
    }
    if (!(reading->value.uncertainty >= UNCERTAINTY_MIN)) {
        row->column = COLUMN_UNCERTAINTY;
        return refuse(error, "no reading is exact");
    }
    reading->value.viscosity = point.viscosity;
    code = import_date(row, reading->taken, error);
    return code == EXIT_DONE ? read_source(row, &reading->source, error) : code;
}

static enum exit_code take_reading(struct import_row *row, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct bottle bottle = {0};
    struct stock_reading *reading;
    sqlite3_int64 id;
    if ((code = import_bottle(row, COLUMN_NAME, &id, error)) == EXIT_DONE &&
        (code = bottle_load_id(row->stock, id, &bottle, error)) == EXIT_DONE) {
        bottle.readings =
            xreallocarray(bottle.readings, bottle.reading_count + 1,
                          sizeof bottle.readings[0]);
        reading = &bottle.readings[bottle.reading_count++];
        *reading = (struct stock_reading){
            .method = xstrdup(row->fields[COLUMN_METHOD])};
        if ((code = read_reading(row, &bottle, reading, error)) == EXIT_DONE &&
            (code = bottle_estimate(&bottle, error)) == EXIT_DONE) {
            code = bottle_add_reading(row->stock, bottle.id, reading, error);
        }
    }
    bottle_free(&bottle);
    return code;
}

enum exit_code import_row(struct import_row *row, struct error *error)
{
    static const struct {
        const char *kind;
        enum exit_code (*take)(struct import_row *row, struct error *error);
    } kinds[] = {{"", take_bottle},     {"bottle", take_bottle},
                 {"gone", take_bottle}, {"reading", take_reading},
                 {"mix", import_mix},   {"part", import_part},
                 {"cup", import_cup},   {"run", import_run},
                 {"use", import_use},   {"refill", import_fill}};
    const char *kind = import_field(row, COLUMN_KIND);
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        if (strcasecmp(kind, kinds[i].kind) == 0) {
            return kinds[i].take(row, error);
        }
    }
    return refuse(error,
                  "\"%.*s\" is no kind of row; write bottle, reading, mix, "
                  "part, gone, cup, run, use or refill",
                  QUOTED, kind);
}
