/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/bottle.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "parse/amount.h"
#include "parse/number.h"
#include "store/reading_load.h"
#include "util/xalloc.h"

/* bottles are loaded, and what is damaged is set aside */
static void copy_date(char date[DATE_LENGTH], const char *text)
{
    snprintf(date, DATE_LENGTH, "%s", text);
}

/* sound: whether the label is one that an oil can have */
static enum exit_code load_label(struct stock *stock, sqlite3_stmt *select,
                                 enum mw_family family, double density,
                                 struct bottle *bottle, bool *sound,
                                 struct error *error)
{
    struct mw_point points[MW_POINTS_MAX];
    size_t count = 0;
    double index = NAN;
    bool row = true;
    enum exit_code code = EXIT_DONE;
    sqlite3_reset(select);
    sqlite3_bind_int64(select, 1, bottle->id);
    while (count < MW_POINTS_MAX && row) {
        code = stock_step(stock, select, &row, error);
        if (row) {
            points[count].viscosity = column_number(select, 0);
            points[count].temperature = column_number(select, 1);
            index = column_number(select, 2);
            count++;
        }
    }
    enum mw_status status =
        mw_oil_make(family, points, count, density, &bottle->label);
    *sound = status == MW_OK;
    if (*sound && !isnan(index)) {
        /* as it is typed: one viscosity at 40 C */
        *sound = family == MW_MINERAL && count == 2 &&
                 points[0].temperature == 40 &&
                 mw_oil_from_index(points[0].viscosity, index, density,
                                   &bottle->label) == MW_OK;
    }
    return code;
}

static enum exit_code load_readings(struct stock *stock, sqlite3_stmt *select,
                                    struct bottle *bottle, struct error *error)
{
    bool row;
    enum exit_code code;
    sqlite3_reset(select);
    sqlite3_bind_int64(select, 1, bottle->id);
    while ((code = stock_step(stock, select, &row, error)) == EXIT_DONE &&
           row) {
        reading_load(stock, select, bottle);
    }
    return code;
}

#define SELECT_BOTTLE                                                          \
    "SELECT id, name, family, tolerance, density, left_ml, note, added,"       \
    " EXISTS(SELECT 1 FROM mix WHERE mix.bottle = bottle.id), gone, drop_ml"   \
    " FROM bottle"

/* the statements that load a bottle */
struct loading {
    sqlite3_stmt *bottles, *label, *readings;
};

static void end_loading(struct loading *loading)
{
    sqlite3_finalize(loading->bottles);
    sqlite3_finalize(loading->label);
    sqlite3_finalize(loading->readings);
}

/* end_loading() it where it did not fail */
static enum exit_code begin_loading(struct stock *stock, const char *sql,
                                    struct loading *loading,
                                    struct error *error)
{
    *loading = (struct loading){0};
    if ((loading->bottles = stock_prepare(stock, sql)) &&
        (loading->label =
             stock_prepare(stock, "SELECT viscosity, temperature,"
                                  " (SELECT viscosity_index FROM label_index"
                                  " WHERE label_index.bottle = label.bottle)"
                                  " FROM label WHERE bottle = ?"
                                  " ORDER BY position")) &&
        (loading->readings = stock_prepare(
             stock, READING_COLUMNS " WHERE bottle = ? ORDER BY reading.id"))) {
        return EXIT_DONE;
    }
    enum exit_code code = stock_fail(stock, error);
    end_loading(loading);
    return code;
}

/* what is wrong with the plain values of a bottle, NULL where they could have
 * been typed */
static const char *find_damage(const struct bottle *bottle)
{
    struct error error = {0};
    char date[DATE_LENGTH];
    /* a retired bottle has a name that cannot be typed */
    if ((bottle->retired ? check_retired_name(bottle->name, &error)
                         : check_name(bottle->name, &error)) != EXIT_DONE) {
        return "name";
    }
    if (!(bottle->tolerance >= UNCERTAINTY_MIN && bottle->tolerance < 1)) {
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

/* the label and the readings; damage receives the part that cannot be, NULL
 * where all can */
static enum exit_code load_values(struct stock *stock, struct loading *loading,
                                  struct bottle *bottle, const char **damage,
                                  struct error *error)
{
    sqlite3_stmt *row = loading->bottles;
    struct error contradiction = {0};
    enum mw_family family;
    bool sound;
    *damage = NULL;
    if (mw_family_from_name(column_text(row, 2), &family) != MW_OK) {
        *damage = "family";
        return EXIT_DONE;
    }
    enum exit_code code =
        load_label(stock, loading->label, family, column_number(row, 4), bottle,
                   &sound, error);
    if (code != EXIT_DONE || !sound) {
        *damage = "label";
        return code;
    }
    code = load_readings(stock, loading->readings, bottle, error);
    if (code == EXIT_DONE &&
        bottle_estimate(bottle, &contradiction) != EXIT_DONE) {
        *damage = "set of readings";
    }
    return code;
}

/* the rest of a bottle, and whether it is as it could have been typed */
static enum exit_code load_details(struct stock *stock, struct loading *loading,
                                   struct bottle *bottle, struct error *error)
{
    const char *damage = find_damage(bottle);
    enum exit_code code =
        damage ? EXIT_DONE
               : load_values(stock, loading, bottle, &damage, error);
    /* what could not be read is not damaged by that */
    if (code == EXIT_DONE && damage) {
        set_aside(stock, bottle, damage);
    }
    return code;
}

/* the bottle of the current row */
static enum exit_code load_row(struct stock *stock, struct loading *loading,
                               struct bottle *bottle, struct error *error)
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
    return load_details(stock, loading, bottle, error);
}

/* the bottle of the current row, at the end of a list that has room */
static enum exit_code append_row(struct stock *stock, struct loading *loading,
                                 struct bottles *bottles, struct error *error)
{
    struct bottle *bottle = &bottles->list[bottles->count++];
    enum exit_code code = load_row(stock, loading, bottle, error);
    if (bottle->damaged) {
        bottle_free(bottle);
        bottles->count--;
    }
    return code;
}

static enum exit_code load_list(struct stock *stock, const char *sql,
                                struct bottles *bottles, struct error *error)
{
    struct loading loading;
    size_t room = 0;
    bool row = true;
    *bottles = (struct bottles){0};
    if (!stock->db) {
        return EXIT_DONE;
    }
    enum exit_code code = begin_loading(stock, sql, &loading, error);
    if (code != EXIT_DONE) {
        return code;
    }
    while (code == EXIT_DONE &&
           (code = stock_step(stock, loading.bottles, &row, error)) ==
               EXIT_DONE &&
           row) {
        if (bottles->count == room) {
            room = room ? 2 * room : 64;
            bottles->list =
                xreallocarray(bottles->list, room, sizeof bottles->list[0]);
        }
        code = append_row(stock, &loading, bottles, error);
    }
    end_loading(&loading);
    return code;
}

/* bottles of which something was measured, or that stand in recipes */
#define EVIDENCE                                                               \
    "(SELECT bottle FROM reading UNION SELECT bottle FROM mix"                 \
    " UNION SELECT parent FROM part"                                           \
    " UNION SELECT reference FROM source WHERE reference IS NOT NULL"          \
    " UNION SELECT bottle FROM cup_run WHERE bottle IS NOT NULL)"

enum exit_code bottles_load_evidence(struct stock *stock,
                                     struct bottles *bottles,
                                     struct error *error)
{
    return load_list(stock, SELECT_BOTTLE " WHERE id IN " EVIDENCE, bottles,
                     error);
}

enum exit_code bottles_load_labels(struct stock *stock, struct bottles *bottles,
                                   struct error *error)
{
    return load_list(stock,
                     SELECT_BOTTLE " WHERE gone = 0 AND id NOT IN " EVIDENCE,
                     bottles, error);
}

enum exit_code bottles_load_all(struct stock *stock, struct bottles *bottles,
                                struct error *error)
{
    return load_list(stock, SELECT_BOTTLE " ORDER BY id", bottles, error);
}

/* the bottle of the first row, if there is one */
static enum exit_code load_first(struct stock *stock, struct loading *loading,
                                 struct bottle *bottle, bool *found,
                                 struct error *error)
{
    enum exit_code code = stock_step(stock, loading->bottles, found, error);
    return *found ? load_row(stock, loading, bottle, error) : code;
}

static enum exit_code load_named(struct stock *stock, const char *name,
                                 struct bottle *bottle, bool *found,
                                 struct error *error)
{
    struct loading loading;
    enum exit_code code = begin_loading(
        stock, SELECT_BOTTLE " WHERE gone = 0 AND name = ?", &loading, error);
    if (code == EXIT_DONE) {
        bind_text(loading.bottles, 1, name);
        code = load_first(stock, &loading, bottle, found, error);
        end_loading(&loading);
    }
    return code;
}

enum exit_code bottle_load(struct stock *stock, const char *name,
                           struct bottle *bottle, struct error *error)
{
    bool found = false;
    enum exit_code code = EXIT_DONE;
    *bottle = (struct bottle){0};
    if (stock->db) {
        code = load_named(stock, name, bottle, &found, error);
    }
    if (code != EXIT_DONE) {
        return code;
    }
    if (bottle->damaged) {
        return error_set(error, EXIT_OUTPUT,
                         "the bottle \"%.*s\" is damaged; midweight stock "
                         "remove --damaged deletes it",
                         QUOTED, name);
    }
    return found ? EXIT_DONE
                 : refuse(error,
                          "no bottle \"%.*s\" in the stock (see midweight "
                          "stock list), and no viscosity such as 350 or "
                          "46@40C/VI150",
                          QUOTED, name);
}

enum exit_code bottle_load_id(struct stock *stock, sqlite3_int64 id,
                              struct bottle *bottle, struct error *error)
{
    struct loading loading;
    bool found;
    *bottle = (struct bottle){0};
    enum exit_code code =
        begin_loading(stock, SELECT_BOTTLE " WHERE id = ?", &loading, error);
    if (code == EXIT_DONE) {
        sqlite3_bind_int64(loading.bottles, 1, id);
        code = load_first(stock, &loading, bottle, &found, error);
        end_loading(&loading);
    }
    return code;
}
