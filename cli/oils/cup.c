/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "oils/cup.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "output/text.h"
#include "parse/number.h"
#include "parse/toleranced.h"
#include "util/format.h"
#include "util/xalloc.h"

enum { INSTRUMENT_COLUMNS = 40 /* of a name */ };

#define SELECT_CUP "SELECT name, a, b, uncertainty, made, id FROM cup"

enum exit_code check_cup_name(const char *name, struct error *error)
{
    struct mw_cup standard;
    if (mw_cup_by_name(name, &standard) == MW_OK) {
        return refuse(error, "%s is a cup of %s; take another name",
                      standard.name, standard.standard);
    }
    return check_name(name, error);
}

static bool is_sound_run(const struct own_cup_run *run)
{
    return mw_viscosity_in_range(run->run.viscosity) &&
           run->run.time >= TIME_MIN && run->run.time <= TIME_MAX &&
           run->run.time_uncertainty >= 0 &&
           isfinite(run->run.time_uncertainty) &&
           mw_temperature_in_range(run->temperature) && run->uncertainty >= 0 &&
           run->uncertainty < 1;
}

static enum exit_code check_cup(const struct own_cup *cup, struct error *error)
{
    struct mw_cup made;
    enum mw_status status = mw_cup_own(cup->a, cup->b, &made);
    if (status != MW_OK) {
        return refuse(error, "%s", mw_status_text(status));
    }
    for (size_t i = 0; i < cup->run_count; i++) {
        if (!is_sound_run(&cup->runs[i])) {
            return refuse(error, "a run that no oil makes through a cup");
        }
    }
    return cup->uncertainty > 0 && cup->uncertainty < 1
               ? EXIT_DONE
               : refuse(error,
                        "no cup is exact; its uncertainty is above 0 and below "
                        "100 %%");
}

void own_cup_instrument(const struct own_cup *cup, char *text, size_t size)
{
    char name[TRUNCATED_LENGTH];
    snprintf(text, size, "own cup %s, v = %.6g t - %.6g/t",
             truncate_columns(cup->name, INSTRUMENT_COLUMNS, name), cup->a,
             cup->b);
}

/* its runs; one that is damaged leaves them all out */
static enum exit_code load_runs(struct stock *stock, sqlite3_int64 id,
                                struct own_cup *cup, struct error *error)
{
    sqlite3_stmt *select =
        stock_prepare(stock, "SELECT bottle, viscosity, temperature, time_s,"
                             " time_uncertainty_s, uncertainty FROM cup_run "
                             "WHERE cup = ? ORDER BY position");
    bool row = true, sound = true;
    enum exit_code code = EXIT_DONE;
    sqlite3_bind_int64(select, 1, id);
    while (code == EXIT_DONE && cup->run_count < MW_CUP_RUNS_MAX &&
           (code = stock_step(stock, select, &row, error)) == EXIT_DONE &&
           row) {
        struct own_cup_run *run = &cup->runs[cup->run_count++];
        run->bottle = sqlite3_column_int64(select, 0);
        run->run.viscosity = column_number(select, 1);
        run->temperature = column_number(select, 2);
        run->run.time = column_number(select, 3);
        run->run.time_uncertainty = column_number(select, 4);
        run->uncertainty = column_number(select, 5);
        sound = sound && is_sound_run(run);
    }
    sqlite3_finalize(select);
    if (!sound) {
        stock_set_aside(stock, "cup_run", id,
                        "the calibration of the cup \"%.*s\" is damaged",
                        QUOTED, cup->name);
        cup->run_count = 0;
    }
    return code;
}

static bool is_sound(const struct own_cup *cup)
{
    struct error error = {0};
    char date[DATE_LENGTH];
    return check_name(cup->name, &error) == EXIT_DONE &&
           check_cup(cup, &error) == EXIT_DONE &&
           parse_date(cup->made, date, &error) == EXIT_DONE;
}

/* the cup of the current row of a statement; not sound where it is damaged */
static enum exit_code load_row(struct stock *stock, sqlite3_stmt *row,
                               struct own_cup *cup, bool *sound,
                               struct error *error)
{
    sqlite3_int64 id = sqlite3_column_int64(row, 5);
    *cup = (struct own_cup){.name = xstrdup(column_text(row, 0)),
                            .a = column_number(row, 1),
                            .b = column_number(row, 2),
                            .uncertainty = column_number(row, 3)};
    snprintf(cup->made, DATE_LENGTH, "%s", column_text(row, 4));
    *sound = is_sound(cup);
    if (*sound) {
        return load_runs(stock, id, cup, error);
    }
    stock_set_aside(stock, "cup", id, "the cup \"%.*s\" is damaged", QUOTED,
                    cup->name);
    own_cup_free(cup);
    return EXIT_DONE;
}

enum exit_code own_cups_each(struct stock *stock, take_own_cup *take,
                             void *context, struct error *error)
{
    if (!stock->db) {
        return EXIT_DONE;
    }
    sqlite3_stmt *select = stock_prepare(stock, SELECT_CUP " ORDER BY name");
    bool row = true;
    enum exit_code code = EXIT_DONE;
    while (code == EXIT_DONE &&
           (code = stock_step(stock, select, &row, error)) == EXIT_DONE &&
           row) {
        struct own_cup cup;
        bool sound;
        code = load_row(stock, select, &cup, &sound, error);
        if (code == EXIT_DONE && sound) {
            code = take(&cup, context, error);
        }
        own_cup_free(&cup);
    }
    sqlite3_finalize(select);
    return code;
}

enum exit_code own_cup_load(struct stock *stock, const char *name,
                            struct own_cup *cup, bool *found,
                            struct error *error)
{
    *cup = (struct own_cup){0};
    *found = false;
    if (!stock->db) {
        return EXIT_DONE;
    }
    sqlite3_stmt *select = stock_prepare(stock, SELECT_CUP " WHERE name = ?");
    bind_text(select, 1, name);
    enum exit_code code = stock_step(stock, select, found, error);
    if (code == EXIT_DONE && *found) {
        code = load_row(stock, select, cup, found, error);
    }
    sqlite3_finalize(select);
    return code;
}

enum exit_code own_cup_exists(struct stock *stock, const char *name,
                              bool *exists, struct error *error)
{
    struct own_cup cup;
    enum exit_code code = own_cup_load(stock, name, &cup, exists, error);
    own_cup_free(&cup);
    return code;
}

/* the runs of a cup that is there, in place of its old ones */
static enum exit_code store_runs(struct stock *stock, const struct own_cup *cup,
                                 struct error *error)
{
#define CUP_ID "(SELECT id FROM cup WHERE name = ?1)"
    sqlite3_stmt *statement =
        stock_prepare(stock, "DELETE FROM cup_run WHERE cup = " CUP_ID);
    bind_text(statement, 1, cup->name);
    enum exit_code code = stock_run(stock, statement, error);
    for (size_t i = 0; i < cup->run_count && code == EXIT_DONE; i++) {
        const struct own_cup_run *run = &cup->runs[i];
        statement = stock_prepare(
            stock, "INSERT INTO cup_run(cup, position, bottle, viscosity,"
                   " temperature, time_s, time_uncertainty_s, uncertainty)"
                   " VALUES (" CUP_ID ", ?2, nullif(?3, 0), ?4, ?5, ?6, ?7,"
                   " ?8)");
        bind_text(statement, 1, cup->name);
        sqlite3_bind_int64(statement, 2, (sqlite3_int64)i);
        sqlite3_bind_int64(statement, 3, run->bottle);
        bind_number(statement, 4, run->run.viscosity);
        bind_number(statement, 5, run->temperature);
        bind_number(statement, 6, run->run.time);
        bind_number(statement, 7, run->run.time_uncertainty);
        bind_number(statement, 8, run->uncertainty);
        code = stock_run(stock, statement, error);
    }
    return code;
#undef CUP_ID
}

enum exit_code own_cup_store(struct stock *stock, const struct own_cup *cup,
                             struct error *error)
{
    enum exit_code code = check_cup(cup, error);
    if (code != EXIT_DONE) {
        return code;
    }
    sqlite3_stmt *insert = stock_prepare(
        stock, "INSERT INTO cup(name, a, b, uncertainty, made)"
               " VALUES (?, ?, ?, ?, ?) ON CONFLICT(name) DO UPDATE SET"
               " name = excluded.name, a = excluded.a, b = excluded.b,"
               " uncertainty = excluded.uncertainty, made = excluded.made");
    bind_text(insert, 1, cup->name);
    bind_number(insert, 2, cup->a);
    bind_number(insert, 3, cup->b);
    bind_number(insert, 4, cup->uncertainty);
    bind_text(insert, 5, cup->made);
    code = stock_run(stock, insert, error);
    return code == EXIT_DONE ? store_runs(stock, cup, error) : code;
}

enum exit_code own_cup_delete(struct stock *stock, const char *name,
                              struct error *error)
{
    sqlite3_stmt *statement =
        stock_prepare(stock, "DELETE FROM cup WHERE name = ?");
    bind_text(statement, 1, name);
    return stock_run(stock, statement, error);
}

void own_cup_free(struct own_cup *cup)
{
    free(cup->name);
    *cup = (struct own_cup){0};
}
