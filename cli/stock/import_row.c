/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "stock/import_row.h"

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
#include "store/cup.h"
#include "store/recipe.h"
#include "util/xalloc.h"

/* the text of a column, which is where the next error is */
static const char *field(struct import_row *row, enum stock_column column)
{
    row->column = column;
    return row->fields[column];
}

/* the viscosity, with the temperature of its own column where it names none */
static enum exit_code read_label(struct import_row *row, struct bottle *bottle,
                                 struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct oil_defaults defaults = {.density = NAN};
    const char *family = field(row, COLUMN_FAMILY);
    if ((code = parse_oil_defaults(*family ? family : NULL, NULL, &defaults,
                                   error)) != EXIT_DONE) {
        return code;
    }
    const char *density = field(row, COLUMN_DENSITY);
    if (*density && (code = parse_density(density, &defaults.density, error)) !=
                        EXIT_DONE) {
        return code;
    }
    const char *temperature = field(row, COLUMN_TEMPERATURE);
    const char *viscosity = field(row, COLUMN_VISCOSITY);
    if (*temperature && strchr(viscosity, '@')) {
        return refuse(error, "%.*s names a temperature, and so does its column",
                      QUOTED, viscosity);
    }
    char *text = xcalloc(strlen(viscosity) + strlen(temperature) + 2, 1);
    sprintf(text, "%s%s%s", viscosity, *temperature ? "@" : "", temperature);
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
    const char *text = field(row, column);
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
    const char *tolerance = field(row, COLUMN_TOLERANCE);
    bottle->tolerance = mw_usual_tolerance(bottle->label.points[0].viscosity);
    if (*tolerance && (code = parse_percent(tolerance, &bottle->tolerance,
                                            error)) != EXIT_DONE) {
        return code;
    }
    if (!(bottle->tolerance > 0)) {
        return refuse(error, "a label is never exact");
    }
    code = read_ml(row, COLUMN_LEFT, &bottle->left_ml, error);
    return code == EXIT_DONE
               ? read_ml(row, COLUMN_DROP, &bottle->drop_ml, error)
               : code;
}

static enum exit_code read_date(struct import_row *row, char date[DATE_LENGTH],
                                struct error *error)
{
    const char *text = field(row, COLUMN_DATE);
    return parse_date(*text ? text : NULL, date, error);
}

static enum exit_code read_bottle(struct import_row *row, struct bottle *bottle,
                                  struct error *error)
{
    bottle->retired = strcasecmp(row->fields[COLUMN_KIND], "gone") == 0;
    const char *name = field(row, COLUMN_NAME);
    enum exit_code code;
    if ((code = (bottle->retired ? check_retired_name(name, error)
                                 : check_name(name, error))) != EXIT_DONE ||
        (code = check_text(field(row, COLUMN_NOTE), error)) != EXIT_DONE ||
        (code = read_date(row, bottle->added, error)) != EXIT_DONE ||
        (code = read_label(row, bottle, error)) != EXIT_DONE ||
        (code = read_numbers(row, bottle, error)) != EXIT_DONE) {
        return code;
    }
    bottle->name = xstrdup(name);
    bottle->note = xstrdup(row->fields[COLUMN_NOTE]);
    return bottle_estimate(bottle, error);
}

static enum exit_code take_bottle(struct import_row *row, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct bottle bottle = {0};
    if ((code = read_bottle(row, &bottle, error)) == EXIT_DONE) {
        row->column = COLUMN_NAME;
        code = bottle_insert(row->stock, &bottle, error);
    }
    bottle_free(&bottle);
    return code;
}

/* the bottle that a reading, a mix or a part belongs to */
static enum exit_code find_bottle(struct import_row *row,
                                  enum stock_column column, sqlite3_int64 *id,
                                  struct error *error)
{
    const char *name = field(row, column);
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
        find_bottle(row, COLUMN_REFERENCE, &source->reference, error);
    if (code == EXIT_DONE) {
        code = parse_number(field(row, COLUMN_REFERENCE_VISCOSITY),
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
    if (*field(row, COLUMN_RANDOM) == '\0') {
        return EXIT_DONE;
    }
    source->known = true;
    if ((code = parse_percent(field(row, COLUMN_RANDOM), &source->random,
                              error)) != EXIT_DONE ||
        (code = parse_percent(field(row, COLUMN_SYSTEMATIC),
                              &source->systematic, error)) != EXIT_DONE ||
        (code = parse_number(field(row, COLUMN_THERMOMETER),
                             &source->thermometer, error)) != EXIT_DONE ||
        (code = check_text(field(row, COLUMN_INSTRUMENT), error)) !=
            EXIT_DONE) {
        return code;
    }
    source->instrument = xstrdup(row->fields[COLUMN_INSTRUMENT]);
    row->column = COLUMN_RANDOM;
    if (!(source->random > 0)) {
        return refuse(error, "no reading is exact");
    }
    if (!(source->thermometer >= 0 && source->thermometer <= THERMOMETER_MAX)) {
        row->column = COLUMN_THERMOMETER;
        return refuse(error, "a thermometer is off by 0 to %d degrees",
                      (int)THERMOMETER_MAX);
    }
    return *field(row, COLUMN_REFERENCE) != '\0'
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
    if ((code = parse_temperature(field(row, COLUMN_TEMPERATURE),
                                  &reading->value.temperature, error)) !=
            EXIT_DONE ||
        (code = parse_viscosity(field(row, COLUMN_VISCOSITY), &viscosity,
                                error)) != EXIT_DONE ||
        (code = resolve_viscosity(
             &viscosity, bottle->label.family, bottle->label.density,
             reading->value.temperature, &point, error)) != EXIT_DONE ||
        (code = parse_percent(field(row, COLUMN_UNCERTAINTY),
                              &reading->value.uncertainty, error)) !=
            EXIT_DONE ||
        (code = check_text(field(row, COLUMN_METHOD), error)) != EXIT_DONE) {
        return code;
    }
    reading->value.viscosity = point.viscosity;
    code = read_date(row, reading->taken, error);
    return code == EXIT_DONE ? read_source(row, &reading->source, error) : code;
}

static enum exit_code take_reading(struct import_row *row, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct bottle bottle = {0};
    struct stock_reading *reading;
    sqlite3_int64 id;
    if ((code = find_bottle(row, COLUMN_NAME, &id, error)) == EXIT_DONE &&
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

static enum exit_code take_mix(struct import_row *row, struct error *error)
{
    struct recipe recipe = {.dose_ml = NAN};
    enum exit_code code;
    if ((*field(row, COLUMN_DOSE) &&
         (code = parse_ml(row->fields[COLUMN_DOSE], &recipe.dose_ml, error)) !=
             EXIT_DONE) ||
        (code = find_bottle(row, COLUMN_NAME, &recipe.bottle, error)) !=
            EXIT_DONE ||
        (code = parse_temperature(field(row, COLUMN_TEMPERATURE),
                                  &recipe.temperature, error)) != EXIT_DONE ||
        (code = read_date(row, recipe.made, error)) != EXIT_DONE) {
        return code;
    }
    row->column = COLUMN_NAME;
    bool exists;
    code = recipe_exists(row->stock, recipe.bottle, &exists, error);
    if (code != EXIT_DONE) {
        return code;
    }
    return exists ? refuse(error, "\"%.*s\" has a recipe already", QUOTED,
                           row->fields[COLUMN_NAME])
                  : recipe_insert(row->stock, &recipe, error);
}

static enum exit_code take_part(struct import_row *row, struct error *error)
{
    sqlite3_int64 bottle;
    struct recipe_part part;
    struct amount volume;
    enum exit_code code;
    if ((code = find_bottle(row, COLUMN_PARENT, &part.parent, error)) !=
            EXIT_DONE ||
        (code = parse_amount(field(row, COLUMN_VOLUME), &volume, error)) !=
            EXIT_DONE ||
        (code = find_bottle(row, COLUMN_NAME, &bottle, error)) != EXIT_DONE) {
        return code;
    }
    part.volume_ml = volume.value;
    if (volume.kind != MW_AMOUNT_ML && volume.kind != MW_AMOUNT_PARTS) {
        row->column = COLUMN_VOLUME;
        return refuse(error, "%.*s is no volume in ml", QUOTED,
                      row->fields[COLUMN_VOLUME]);
    }
    bool exists;
    sqlite3_int64 parts;
    if ((code = recipe_exists(row->stock, bottle, &exists, error)) !=
            EXIT_DONE ||
        (code = recipe_count_parts(row->stock, bottle, &parts, error)) !=
            EXIT_DONE) {
        return code;
    }
    if (!exists) {
        return refuse(error, "\"%.*s\" is no mix before this row", QUOTED,
                      row->fields[COLUMN_NAME]);
    }
    return parts < MW_MIX_OILS_MAX
               ? recipe_add_part(row->stock, bottle, &part, error)
               : refuse(error,
                        "\"%.*s\" has %d parts already, the most of a mix",
                        QUOTED, row->fields[COLUMN_NAME], (int)MW_MIX_OILS_MAX);
}

static enum exit_code take_cup(struct import_row *row, struct error *error)
{
    struct own_cup cup = {.name = (char *)field(row, COLUMN_NAME)};
    enum exit_code code;
    if ((code = check_name(cup.name, error)) != EXIT_DONE ||
        (code = parse_number(field(row, COLUMN_CUP_A), &cup.a, error)) !=
            EXIT_DONE ||
        (code = parse_number(field(row, COLUMN_CUP_B), &cup.b, error)) !=
            EXIT_DONE ||
        (code = parse_percent(field(row, COLUMN_UNCERTAINTY), &cup.uncertainty,
                              error)) != EXIT_DONE ||
        (code = read_date(row, cup.made, error)) != EXIT_DONE) {
        return code;
    }
    row->column = COLUMN_NAME;
    bool exists;
    code = own_cup_exists(row->stock, cup.name, &exists, error);
    if (code != EXIT_DONE) {
        return code;
    }
    return exists ? refuse(error, "there is a cup \"%.*s\" already", QUOTED,
                           cup.name)
                  : own_cup_store(row->stock, &cup, error);
}

enum exit_code import_row(struct import_row *row, struct error *error)
{
    static const struct {
        const char *kind;
        enum exit_code (*take)(struct import_row *row, struct error *error);
    } kinds[] = {{"", take_bottle},     {"bottle", take_bottle},
                 {"gone", take_bottle}, {"reading", take_reading},
                 {"mix", take_mix},     {"part", take_part},
                 {"cup", take_cup}};
    const char *kind = field(row, COLUMN_KIND);
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        if (strcasecmp(kind, kinds[i].kind) == 0) {
            return kinds[i].take(row, error);
        }
    }
    return refuse(error,
                  "\"%.*s\" is no kind of row; write bottle, reading, mix, "
                  "part, gone or cup",
                  QUOTED, kind);
}
