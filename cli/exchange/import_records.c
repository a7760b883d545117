/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* rows that are no bottle: what was made, used and calibrated */
#include <math.h>

#include "exchange/import_row.h"
#include "oils/cup.h"
#include "parse/amount.h"
#include "parse/number.h"
#include "parse/viscosity.h"
#include "store/journal.h"
#include "store/recipe.h"

enum exit_code import_mix(struct import_row *row, struct error *error)
{
    struct recipe recipe = {.dose_ml = NAN};
    enum exit_code code;
    if ((*import_field(row, COLUMN_DOSE) &&
         (code = parse_ml(row->fields[COLUMN_DOSE], &recipe.dose_ml, error)) !=
             EXIT_DONE) ||
        (code = import_bottle(row, COLUMN_NAME, &recipe.bottle, error)) !=
            EXIT_DONE ||
        (code = parse_temperature(import_field(row, COLUMN_TEMPERATURE),
                                  &recipe.temperature, error)) != EXIT_DONE ||
        (code = import_date(row, recipe.made, error)) != EXIT_DONE) {
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

enum exit_code import_part(struct import_row *row, struct error *error)
{
    sqlite3_int64 bottle;
    struct recipe_part part;
    struct amount volume;
    enum exit_code code;
    if ((code = import_bottle(row, COLUMN_PARENT, &part.parent, error)) !=
            EXIT_DONE ||
        (code = parse_amount(import_field(row, COLUMN_VOLUME), &volume,
                             error)) != EXIT_DONE ||
        (code = import_bottle(row, COLUMN_NAME, &bottle, error)) != EXIT_DONE) {
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

enum exit_code import_cup(struct import_row *row, struct error *error)
{
    struct own_cup cup = {.name = (char *)import_field(row, COLUMN_NAME)};
    enum exit_code code;
    if ((code = check_cup_name(cup.name, error)) != EXIT_DONE ||
        (code = parse_number(import_field(row, COLUMN_CUP_A), &cup.a, error)) !=
            EXIT_DONE ||
        (code = parse_number(import_field(row, COLUMN_CUP_B), &cup.b, error)) !=
            EXIT_DONE ||
        (code = parse_percent(import_field(row, COLUMN_UNCERTAINTY),
                              &cup.uncertainty, error)) != EXIT_DONE ||
        (code = import_date(row, cup.made, error)) != EXIT_DONE) {
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

/* a run; of an oil that is no bottle it has the uncertainty */
static enum exit_code read_run(struct import_row *row, struct own_cup_run *run,
                               struct error *error)
{
    enum exit_code code;
    *run = (struct own_cup_run){0};
    if (*import_field(row, COLUMN_REFERENCE)) {
        code = import_bottle(row, COLUMN_REFERENCE, &run->bottle, error);
    } else {
        code = parse_percent(import_field(row, COLUMN_UNCERTAINTY),
                             &run->uncertainty, error);
    }
    if (code != EXIT_DONE ||
        (code = parse_number(import_field(row, COLUMN_VISCOSITY),
                             &run->run.viscosity, error)) != EXIT_DONE ||
        (code = parse_temperature(import_field(row, COLUMN_TEMPERATURE),
                                  &run->temperature, error)) != EXIT_DONE ||
        (code = parse_number(import_field(row, COLUMN_TIME), &run->run.time,
                             error)) != EXIT_DONE) {
        return code;
    }
    return parse_number(import_field(row, COLUMN_TIME_UNCERTAINTY),
                        &run->run.time_uncertainty, error);
}

enum exit_code import_run(struct import_row *row, struct error *error)
{
    struct own_cup cup;
    bool found;
    enum exit_code code = own_cup_load(
        row->stock, import_field(row, COLUMN_NAME), &cup, &found, error);
    if (code == EXIT_DONE && !found) {
        code = refuse(error, "\"%.*s\" is no cup before this row", QUOTED,
                      row->fields[COLUMN_NAME]);
    } else if (code == EXIT_DONE && cup.run_count == MW_CUP_RUNS_MAX) {
        code = refuse(error, "\"%.*s\" has %d runs already, the most of a cup",
                      QUOTED, row->fields[COLUMN_NAME], (int)MW_CUP_RUNS_MAX);
    } else if (code == EXIT_DONE) {
        code = read_run(row, &cup.runs[cup.run_count++], error);
    }
    if (code == EXIT_DONE) {
        code = own_cup_store(row->stock, &cup, error);
    }
    own_cup_free(&cup);
    return code;
}

/* ml of a row's volume column, above zero */
static enum exit_code read_volume(struct import_row *row, double *ml,
                                  struct error *error)
{
    return parse_ml(import_field(row, COLUMN_VOLUME), ml, error);
}

enum exit_code import_use(struct import_row *row, struct error *error)
{
    struct use use = {.note = (char *)import_field(row, COLUMN_NOTE)};
    enum exit_code code;
    if ((code = check_text(use.note, error)) != EXIT_DONE ||
        (code = import_bottle(row, COLUMN_NAME, &use.bottle, error)) !=
            EXIT_DONE ||
        (code = read_volume(row, &use.volume_ml, error)) != EXIT_DONE ||
        (code = import_date(row, use.made, error)) != EXIT_DONE) {
        return code;
    }
    return use_insert(row->stock, &use, error);
}

enum exit_code import_fill(struct import_row *row, struct error *error)
{
    struct fill fill = {0};
    enum exit_code code;
    if ((code = import_bottle(row, COLUMN_NAME, &fill.bottle, error)) !=
            EXIT_DONE ||
        (code = import_bottle(row, COLUMN_PARENT, &fill.previous, error)) !=
            EXIT_DONE ||
        (code = import_date(row, fill.made, error)) != EXIT_DONE) {
        return code;
    }
    return fill_insert(row->stock, &fill, error);
}
