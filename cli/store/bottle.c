/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/bottle.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "parse/amount.h"
#include "parse/number.h"
#include "util/xalloc.h"

/* -- Loading ----------------------------------------------------------- */

static void copy_date(char date[DATE_LENGTH], const char *text)
{
    snprintf(date, DATE_LENGTH, "%s", text);
}

static bool load_label(struct stock *stock, sqlite3_stmt *select,
                       enum mw_family family, double density,
                       struct bottle *bottle)
{
    struct mw_point points[MW_POINTS_MAX];
    size_t count = 0;
    sqlite3_reset(select);
    sqlite3_bind_int64(select, 1, bottle->id);
    while (count < MW_POINTS_MAX && stock_row(stock, select)) {
        points[count].viscosity = column_number(select, 0);
        points[count].temperature = column_number(select, 1);
        count++;
    }
    return mw_oil_make(family, points, count, density, &bottle->label) == MW_OK;
}

/* whether a reading is one that could have been typed */
static bool is_sound_reading(const struct stock_reading *reading)
{
    struct error error = {0};
    char date[DATE_LENGTH];
    const struct mw_reading *value = &reading->value;
    return value->viscosity > 0 && isfinite(value->viscosity) &&
           value->temperature > MW_ABSOLUTE_ZERO &&
           isfinite(value->temperature) && value->uncertainty > 0 &&
           value->uncertainty < 1 &&
           check_text(reading->method, &error) == EXIT_DONE &&
           parse_date(reading->taken, date, &error) == EXIT_DONE;
}

static void load_readings(struct stock *stock, sqlite3_stmt *select,
                          struct bottle *bottle)
{
    sqlite3_reset(select);
    sqlite3_bind_int64(select, 1, bottle->id);
    while (stock_row(stock, select)) {
        size_t i = bottle->reading_count++;
        bottle->readings =
            xreallocarray(bottle->readings, i + 1, sizeof bottle->readings[0]);
        struct stock_reading *reading = &bottle->readings[i];
        reading->value.viscosity = column_number(select, 0);
        reading->value.temperature = column_number(select, 1);
        reading->value.uncertainty = column_number(select, 2);
        reading->method = xstrdup(column_text(select, 3));
        copy_date(reading->taken, column_text(select, 4));
        if (!is_sound_reading(reading)) {
            stock_set_aside(stock, "reading", sqlite3_column_int64(select, 5),
                            "a reading of \"%.*s\" is damaged", QUOTED,
                            bottle->name);
            free(reading->method);
            bottle->reading_count--;
        }
    }
}

enum exit_code bottle_estimate(struct bottle *bottle, struct error *error)
{
    struct mw_reading readings[MW_READINGS_MAX];
    if (bottle->left_ml > AMOUNT_MAX || bottle->drop_ml > AMOUNT_MAX) {
        return REFUSE("\"%.*s\": more than %d ml is no bottle", QUOTED,
                      bottle->name, (int)AMOUNT_MAX);
    }
    if (bottle->reading_count > MW_READINGS_MAX) {
        return REFUSE("\"%.*s\" has %d readings already; add a new bottle",
                      QUOTED, bottle->name, (int)MW_READINGS_MAX);
    }
    for (size_t i = 0; i < bottle->reading_count; i++) {
        readings[i] = bottle->readings[i].value;
    }
    enum mw_status status =
        mw_bottle_make(&bottle->label, bottle->tolerance, readings,
                       bottle->reading_count, &bottle->best);
    if (status == MW_ERR_ONE_POINT) {
        return REFUSE("\"%.*s\" is labelled at %.6g C only; measure it there, "
                      "or %g degrees or more away",
                      QUOTED, bottle->name, bottle->label.points[0].temperature,
                      MW_SLOPE_SPAN);
    }
    return status == MW_OK ? EXIT_DONE
                           : REFUSE("\"%.*s\": %s", QUOTED, bottle->name,
                                    mw_status_text(status));
}

#define SELECT_BOTTLE                                                          \
    "SELECT id, name, family, tolerance, density, left_ml, note, added,"       \
    " EXISTS(SELECT 1 FROM mix WHERE mix.bottle = bottle.id), gone, drop_ml"   \
    " FROM bottle"

/* the statements that load a bottle */
struct loading {
    sqlite3_stmt *bottles, *label, *readings;
};

static struct loading begin_loading(struct stock *stock, const char *sql)
{
    return (struct loading){
        stock_prepare(stock, sql),
        stock_prepare(stock, "SELECT viscosity, temperature FROM label"
                             " WHERE bottle = ? ORDER BY position"),
        stock_prepare(stock,
                      "SELECT viscosity, temperature, uncertainty, method,"
                      " taken, id FROM reading WHERE bottle = ? ORDER BY id"),
    };
}

static void end_loading(struct loading *loading)
{
    sqlite3_finalize(loading->bottles);
    sqlite3_finalize(loading->label);
    sqlite3_finalize(loading->readings);
}

/* what is wrong with the plain values of a bottle, NULL where they could have
 * been typed */
static const char *find_damage(const struct bottle *bottle)
{
    struct error error = {0};
    char date[DATE_LENGTH];
    /* a bottle that is gone has a name that nobody could give it */
    if ((bottle->retired ? check_retired_name(bottle->name, &error)
                         : check_name(bottle->name, &error)) != EXIT_DONE) {
        return "name";
    }
    if (!(bottle->tolerance > 0 && bottle->tolerance < 1)) {
        return "tolerance";
    }
    if (bottle->left_ml < 0 || bottle->left_ml > AMOUNT_MAX) {
        return "amount";
    }
    if (bottle->drop_ml <= 0 || bottle->drop_ml > AMOUNT_MAX) {
        return "drop";
    }
    if (check_text(bottle->note, &error) != EXIT_DONE) {
        return "note";
    }
    return parse_date(bottle->added, date, &error) == EXIT_DONE ? NULL : "date";
}

static void set_aside(struct stock *stock, struct bottle *bottle,
                      const char *part)
{
    bottle->damaged = true;
    stock_set_aside(stock, "bottle", bottle->id,
                    "the %s of the bottle \"%.*s\" is damaged", part, QUOTED,
                    bottle->name);
}

/* the rest of a bottle, and whether it adds up */
static void load_details(struct stock *stock, struct loading *loading,
                         struct bottle *bottle)
{
    sqlite3_stmt *row = loading->bottles;
    struct error error = {0};
    enum mw_family family;
    const char *damage = find_damage(bottle);
    if (damage) {
        set_aside(stock, bottle, damage);
    } else if (mw_family_from_name(column_text(row, 2), &family) != MW_OK) {
        set_aside(stock, bottle, "family");
    } else if (!load_label(stock, loading->label, family, column_number(row, 4),
                           bottle)) {
        set_aside(stock, bottle, "label");
    } else {
        load_readings(stock, loading->readings, bottle);
        if (bottle_estimate(bottle, &error) != EXIT_DONE) {
            set_aside(stock, bottle, "set of readings");
        }
    }
}

/* the bottle of the current row */
static enum exit_code load_row(struct stock *stock, struct loading *loading,
                               struct bottle *bottle)
{
    sqlite3_stmt *row = loading->bottles;
    *bottle = (struct bottle){
        .id = sqlite3_column_int64(row, 0),
        .name = xstrdup(column_text(row, 1)),
        .tolerance = column_number(row, 3),
        .left_ml = column_number(row, 5),
        .note = xstrdup(column_text(row, 6)),
        .mixed = sqlite3_column_int(row, 8) != 0,
        .retired = sqlite3_column_int(row, 9) != 0,
        .drop_ml = column_number(row, 10),
    };
    copy_date(bottle->added, column_text(row, 7));
    load_details(stock, loading, bottle);
    return stock->error->exit_code;
}

static enum exit_code load_list(struct stock *stock, const char *sql,
                                struct bottles *bottles)
{
    size_t room = 0;
    *bottles = (struct bottles){0};
    if (!stock->db) {
        return EXIT_DONE;
    }
    struct loading loading = begin_loading(stock, sql);
    while (stock_row(stock, loading.bottles)) {
        if (bottles->count == room) {
            room = room ? 2 * room : 64;
            bottles->list =
                xreallocarray(bottles->list, room, sizeof bottles->list[0]);
        }
        struct bottle *bottle = &bottles->list[bottles->count++];
        load_row(stock, &loading, bottle);
        if (bottle->damaged) {
            bottle_free(bottle);
            bottles->count--;
        }
    }
    end_loading(&loading);
    return stock->error->exit_code;
}

enum exit_code bottles_load(struct stock *stock, struct bottles *bottles)
{
    return load_list(stock, SELECT_BOTTLE " WHERE gone = 0 ORDER BY id",
                     bottles);
}

enum exit_code bottles_load_all(struct stock *stock, struct bottles *bottles)
{
    return load_list(stock, SELECT_BOTTLE " ORDER BY id", bottles);
}

enum exit_code bottle_load(struct stock *stock, const char *name,
                           struct bottle *bottle)
{
    bool found = false;
    *bottle = (struct bottle){0};
    if (stock->db) {
        struct loading loading =
            begin_loading(stock, SELECT_BOTTLE " WHERE gone = 0 AND name = ?");
        bind_text(loading.bottles, 1, name);
        found = stock_row(stock, loading.bottles);
        if (found) {
            load_row(stock, &loading, bottle);
        }
        end_loading(&loading);
    }
    if (bottle->damaged) {
        return error_set(stock->error, EXIT_OUTPUT,
                         "the bottle \"%.*s\" is damaged; midweight stock "
                         "remove --damaged deletes it",
                         QUOTED, name);
    }
    if (!found) {
        /* the first error stands, if the table could not be read */
        error_set(stock->error, EXIT_USAGE,
                  "no bottle \"%.*s\" in the stock (see midweight stock "
                  "list), and no viscosity such as 350 or 46@40C/VI150",
                  QUOTED, name);
    }
    return stock->error->exit_code;
}

enum exit_code bottle_load_id(struct stock *stock, sqlite3_int64 id,
                              struct bottle *bottle)
{
    *bottle = (struct bottle){0};
    struct loading loading =
        begin_loading(stock, SELECT_BOTTLE " WHERE id = ?");
    sqlite3_bind_int64(loading.bottles, 1, id);
    if (stock_row(stock, loading.bottles)) {
        load_row(stock, &loading, bottle);
    }
    end_loading(&loading);
    return stock->error->exit_code;
}

sqlite3_int64 bottle_id(struct stock *stock, const char *name)
{
    sqlite3_stmt *select =
        stock_prepare(stock, "SELECT id FROM bottle WHERE name = ?");
    bind_text(select, 1, name);
    sqlite3_int64 id =
        stock_row(stock, select) ? sqlite3_column_int64(select, 0) : 0;
    sqlite3_finalize(select);
    return id;
}

void bottle_free(struct bottle *bottle)
{
    for (size_t i = 0; i < bottle->reading_count; i++) {
        free(bottle->readings[i].method);
    }
    free(bottle->readings);
    free(bottle->name);
    free(bottle->note);
    *bottle = (struct bottle){0};
}

void bottles_free(struct bottles *bottles)
{
    for (size_t i = 0; i < bottles->count; i++) {
        bottle_free(&bottles->list[i]);
    }
    free(bottles->list);
    *bottles = (struct bottles){0};
}
