/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Random commands on one stock: the volume of oil is conserved, undo restores
 * the state before, export then import is the identity, and the file stays
 * intact. Prints TAP; the argument is the number of commands, MIDWEIGHT_SEED
 * the seed.
 */
#include <math.h>
#include <sqlite3.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "fuzz.h"
#include "program.h"

enum { NAMES = 14, DEPTH = 150, WORD = 48 };

static uint64_t seed = 7152;

/* xorshift64*, by Vigna, ACM Trans. Math. Softw. 42 (2016) 30 (memory) */
static unsigned draw(unsigned below)
{
    seed ^= seed >> 12;
    seed ^= seed << 25;
    seed ^= seed >> 27;
    return (unsigned)((seed * 2685821657736338717U) >> 33) % below;
}

static double ask(const char *sql)
{
    sqlite3 *db;
    sqlite3_stmt *select;
    MUST(sqlite3_open(program_stock, &db) == SQLITE_OK);
    MUST(sqlite3_prepare_v2(db, sql, -1, &select, NULL) == SQLITE_OK);
    MUST(sqlite3_step(select) == SQLITE_ROW);
    double answer = sqlite3_column_double(select, 0);
    sqlite3_finalize(select);
    sqlite3_close(db);
    return answer;
}

static double total(void)
{
    return ask("SELECT coalesce(sum(left_ml), 0) FROM bottle");
}

/* a name, in capitals one time in three, which must not matter */
static void put_name(char word[WORD])
{
    unsigned number = draw(NAMES);
    snprintf(word, WORD, draw(3) ? "oak%u" : "OAK%u", number);
}

static double left_of(const char *name)
{
    char sql[160];
    snprintf(sql, sizeof sql,
             "SELECT coalesce((SELECT left_ml FROM bottle WHERE gone = 0"
             " AND name = '%s'), 0)",
             name);
    return ask(sql);
}

/* -- Commands, and how they change the volume of all bottles ----------- */

static char args[12][WORD];
static const char *command[13];

static void set_command(size_t count)
{
    for (size_t i = 0; i < count; i++) {
        command[i] = args[i];
    }
    command[count] = NULL;
}

static double add(void)
{
    double ml = 0.1 * draw(600);
    strcpy(args[0], "stock");
    strcpy(args[1], "add");
    put_name(args[2]);
    snprintf(args[3], WORD, "%u", 100 + draw(900));
    strcpy(args[4], "--left");
    snprintf(args[5], WORD, "%.1fml", ml);
    set_command(6);
    return ml;
}

static double set(void)
{
    double ml = 0.001 * draw(60000);
    strcpy(args[0], "stock");
    strcpy(args[1], "set");
    put_name(args[2]);
    strcpy(args[3], "--left");
    snprintf(args[4], WORD, "%.4fml", ml);
    set_command(5);
    return ml - left_of(args[2]);
}

static double take_away(void)
{
    char sql[160];
    strcpy(args[0], "stock");
    strcpy(args[1], "remove");
    put_name(args[2]);
    strcpy(args[3], "--force");
    set_command(4);
    /* a bottle that is part of a recipe stays in the file, with its oil */
    snprintf(sql, sizeof sql,
             "SELECT count(*) FROM part JOIN bottle ON bottle.id = parent"
             " WHERE gone = 0 AND name = '%s'",
             args[2]);
    return ask(sql) > 0 ? 0 : -left_of(args[2]);
}

/* two to four amounts, sometimes of one bottle twice, sometimes all that is
 * left */
static double record(void)
{
    size_t parts = 2 + draw(3);
    strcpy(args[0], "mix");
    for (size_t i = 1; i <= parts; i++) {
        char name[WORD];
        put_name(name);
        double ml = draw(4) ? 0.01 * (1 + draw(900)) : left_of(name);
        snprintf(args[i], WORD, "%.20s=%.17gml", name, ml);
    }
    strcpy(args[parts + 1], "--record");
    put_name(args[parts + 2]);
    set_command(parts + 3);
    return 0;
}

static double record_target(void)
{
    strcpy(args[0], "mix");
    put_name(args[1]);
    put_name(args[2]);
    strcpy(args[3], "--target");
    snprintf(args[4], WORD, "%u", 150 + draw(800));
    strcpy(args[5], "--make");
    snprintf(args[6], WORD, "%uml", 5 + draw(30));
    strcpy(args[7], "--record");
    put_name(args[8]);
    strcpy(args[9], draw(2) ? "--syringe" : "--scale");
    strcpy(args[10], draw(2) ? "0.2" : "0.01");
    set_command(draw(3) ? 11 : 9);
    return 0;
}

/* -- Invariants -------------------------------------------------------- */

static double history[DEPTH + 1];
static size_t depth;

static void undo(void)
{
    static const char *const once[] = {"stock", "undo", NULL};
    if (depth > 0) {
        MUST(program_code(once) == 0);
        depth--;
        MUST(fabs(total() - history[depth]) <= 1e-9);
    }
}

static void change(void)
{
    static double (*const kinds[])(void) = {
        add, set, take_away, record, record, record, record_target};
    double before = total();
    double delta = kinds[draw(sizeof kinds / sizeof kinds[0])]();
    bool done = program_code(command) == 0;
    MUST(fabs(total() - before - (done ? delta : 0)) <= 1e-9);
    MUST(ask("SELECT count(*) FROM bottle WHERE left_ml < 0") == 0);
    if (done && depth == DEPTH) {
        memmove(history, history + 1, (DEPTH - 1) * sizeof history[0]);
        depth--;
    }
    if (done) {
        history[depth++] = before;
    }
}

static char *exported(const char *stock)
{
    const char *const export[] = {"stock", "export", "--stock", stock, NULL};
    struct program_run run = program_run(export);
    MUST(run.code == 0 && run.err[0] == '\0');
    free(run.err);
    return run.out;
}

static void there_and_back(void)
{
    static const char *const import[] = {"stock",   "import",   "out.csv",
                                         "--stock", "other.db", NULL};
    char *before = exported(program_stock);
    unlink("other.db");
    program_write("out.csv", before, strlen(before));
    MUST(program_code(import) == 0);
    char *after = exported("other.db");
    MUST(strcmp(before, after) == 0);
    free(before);
    free(after);
}

static void check_file(void)
{
    sqlite3 *db;
    sqlite3_stmt *check;
    MUST(sqlite3_open(program_stock, &db) == SQLITE_OK);
    MUST(sqlite3_prepare_v2(db, "PRAGMA integrity_check", -1, &check, NULL) ==
         SQLITE_OK);
    MUST(sqlite3_step(check) == SQLITE_ROW &&
         strcmp((const char *)sqlite3_column_text(check, 0), "ok") == 0);
    sqlite3_finalize(check);
    sqlite3_close(db);
}

int main(int argc, char **argv)
{
    long count = argc > 1 ? strtol(argv[1], NULL, 10) : 1000;
    if (getenv("MIDWEIGHT_SEED")) {
        seed = strtoull(getenv("MIDWEIGHT_SEED"), NULL, 10) | 1;
    }
    program_begin();
    for (long i = 0; i < count; i++) {
        if (draw(6) == 0) {
            undo();
        } else {
            change();
        }
        if (i % 50 == 0) {
            there_and_back();
        }
    }
    there_and_back();
    check_file();
    printf("1..1\nok 1 - %ld commands, %.3f ml in the end\n", count, total());
    return 0;
}
