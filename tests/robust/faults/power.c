/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Cut the power at every moment of a change of the stock, and see what a user
 * finds the next morning: the stock as before or as after, sound, and as after
 * once the program has said so. Prints TAP.
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "fluid/silicone.h"
#include "power_disk.h"
#include "store/bottle.h"
#include "store/recipe.h"
#include "store/stock.h"
#include "store/undo.h"
#include "util/xalloc.h"

enum { LOTS = 12 /* draws at each moment */ };

/* -- Changes of the stock ---------------------------------------------- */

/* of the change that is made */
static struct error failure;

static void add(struct stock *stock, const char *name, double viscosity)
{
    const struct mw_point point = {viscosity, MW_SILICONE_RATED};
    struct bottle bottle = {.name = xstrdup(name),
                            .note = xstrdup("cut"),
                            .added = "2026-10-03",
                            .tolerance = 0.05,
                            .left_ml = 31.5,
                            .drop_ml = NAN};
    if (mw_oil_make(MW_SILICONE, &point, 1, NAN, &bottle.label) != MW_OK) {
        abort();
    }
    bottle_insert(stock, &bottle, &failure);
    bottle_free(&bottle);
}

static void add_one(struct stock *stock)
{
    add(stock, "Fir", 385.5);
    stock_commit(stock, "add Fir", &failure);
}

/* more pages than the cache holds: some are written before the commit */
static void add_many(struct stock *stock)
{
    char name[32];
    sqlite3_exec(stock->db, "PRAGMA cache_size = 4", NULL, NULL, NULL);
    for (int i = 0; i < 150; i++) {
        snprintf(name, sizeof name, "Pine %d", i);
        add(stock, name, 100.25 + i);
    }
    stock_commit(stock, "import", &failure);
}

static void record_mix(struct stock *stock)
{
    add(stock, "hall", 419.5);
    struct recipe recipe = {
        .temperature = 22.5, .made = "2026-10-03", .count = 2};
    bottle_id(stock, "hall", &recipe.bottle, &failure);
    bottle_id(stock, "Elm", &recipe.parts[0].parent, &failure);
    bottle_id(stock, "Larch", &recipe.parts[1].parent, &failure);
    for (size_t i = 0; i < 2; i++) {
        recipe.parts[i].volume_ml = 5.25;
        bottle_take(stock, recipe.parts[i].parent, 5.25, &failure);
    }
    recipe_insert(stock, &recipe, &failure);
    stock_commit(stock, "mix hall", &failure);
}

static void undo(struct stock *stock)
{
    char what[80];
    stock_undo(stock, what, sizeof what, &failure);
    stock_commit(stock, NULL, &failure);
}

static void add_two(struct stock *stock)
{
    add(stock, "Elm", 350.5);
    add(stock, "Larch", 500.5);
    stock_commit(stock, "add", &failure);
}

static const struct change {
    const char *name;
    void (*prepare)(struct stock *stock); /* NULL: there is no stock yet */
    void (*change)(struct stock *stock);
} changes[] = {
    {"the first bottles", NULL, add_two},
    {"a bottle more", add_two, add_one},
    {"more than fits the cache", add_two, add_many},
    {"a mix recorded", add_two, record_mix},
    {"a change taken back", add_two, undo},
    {"a large change taken back", add_many, undo},
};

/* -- What a user finds ------------------------------------------------- */

static enum exit_code print_recipe(struct recipe *recipe, void *context,
                                   struct error *error)
{
    FILE *out = context;
    (void)error;
    fprintf(out, "%s:", recipe->name);
    for (size_t i = 0; i < recipe->count; i++) {
        fprintf(out, " %.17g %s", recipe->parts[i].volume_ml,
                recipe->parts[i].parent_name);
    }
    fprintf(out, "\n");
    return EXIT_DONE;
}

static void print_rows(struct stock *stock, const char *sql, FILE *out,
                       struct error *error)
{
    bool row;
    if (!stock->db) {
        return;
    }
    sqlite3_stmt *statement = stock_prepare(stock, sql);
    while (stock_step(stock, statement, &row, error) == EXIT_DONE && row) {
        fprintf(out, "%s\n", column_text(statement, 0));
    }
    sqlite3_finalize(statement);
}

/* all that a stock holds, as text to compare and to free() */
static char *describe(const char *path)
{
    struct error error = {0};
    struct stock stock;
    struct bottles bottles = {0};
    char *text = NULL;
    size_t size;
    FILE *out = open_memstream(&text, &size);
    if (stock_open(&stock, path, &error) == EXIT_DONE &&
        bottles_load_all(&stock, &bottles, &error) == EXIT_DONE) {
        for (size_t i = 0; i < bottles.count; i++) {
            const struct bottle *bottle = &bottles.list[i];
            fprintf(out, "%s %.17g %.17g\n", bottle->name,
                    bottle->label.points[0].viscosity, bottle->left_ml);
        }
        recipes_each(&stock, print_recipe, out, &error);
        print_rows(&stock, "SELECT what FROM change", out, &error);
        print_rows(&stock,
                   "SELECT * FROM pragma_integrity_check"
                   " WHERE integrity_check <> 'ok'",
                   out, &error);
        print_rows(&stock, "SELECT \"table\" FROM pragma_foreign_key_check",
                   out, &error);
    }
    fprintf(out, "%s\n", error.text);
    bottles_free(&bottles);
    stock_close(&stock);
    fclose(out);
    return text;
}

/* -- Cuts -------------------------------------------------------------- */

struct cutting {
    const char *folder; /* where the disk after the cut is laid out */
    char *before, *after;
    bool acknowledged;
    size_t cuts, bad, lost; /* states looked at; neither nor; told, but lost */
};

static void look(struct cutting *cutting, enum survival survival, uint64_t lot)
{
    char path[4096];
    snprintf(path, sizeof path, "%s/stock.db", cutting->folder);
    disk_after_cut(cutting->folder, survival, lot);
    char *found = describe(path);
    bool before = strcmp(found, cutting->before) == 0;
    bool after = strcmp(found, cutting->after) == 0;
    cutting->cuts++;
    if (!before && !after) {
        cutting->bad++;
    } else if (cutting->acknowledged && !after) {
        cutting->lost++;
    }
    free(found);
}

static void cut(void *context)
{
    struct cutting *cutting = context;
    if (!cutting->after) {
        return; /* the run that finds out what after is */
    }
    disk_pause();
    look(cutting, SURVIVES_NOTHING, 0);
    look(cutting, SURVIVES_ALL, 0);
    look(cutting, SURVIVES_LAST, 0);
    for (uint64_t lot = 0; lot < LOTS; lot++) {
        look(cutting, SURVIVES_BY_LOT, cutting->cuts * LOTS + lot);
    }
    disk_resume();
}

static void make(const char *path, void (*change)(struct stock *stock))
{
    struct stock stock;
    failure = (struct error){0};
    if ((change == undo ? stock_begin_undo
                        : stock_begin)(&stock, path, &failure) == EXIT_DONE) {
        change(&stock);
    }
    stock_close(&stock);
    if (failure.text[0] != '\0') {
        printf("Bail out! %s\n", failure.text);
        exit(1);
    }
}

/* the change once, on a new stock; with cuts where cutting knows after */
static void run_change(const struct change *change, const char *path, bool lies,
                       struct cutting *cutting)
{
    unlink(path);
    disk_begin();
    if (change->prepare) {
        make(path, change->prepare);
    }
    disk_forget();
    disk_watch(cut, cutting, lies);
    make(path, change->change);
    cutting->acknowledged = true;
    cut(cutting);
    disk_end();
}

/* all cuts of a change */
static struct cutting cut_change(const struct change *change,
                                 const char *folder, bool lies)
{
    char path[4096], after[4096];
    snprintf(path, sizeof path, "%s/stock.db", folder);
    snprintf(after, sizeof after, "%s/after", folder);
    mkdir(after, 0777);
    struct cutting cutting = {.folder = after};
    unlink(path);
    if (change->prepare) {
        make(path, change->prepare);
    }
    cutting.before = describe(path);
    run_change(change, path, lies, &cutting);
    cutting.after = describe(path);
    cutting.acknowledged = false;
    run_change(change, path, lies, &cutting);
    free(cutting.before);
    free(cutting.after);
    return cutting;
}

static void clean(const char *folder)
{
    static const char *const names[] = {"stock.db", "stock.db-journal",
                                        "after/stock.db",
                                        "after/stock.db-journal", "after"};
    char path[4096];
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        snprintf(path, sizeof path, "%s/%s", folder, names[i]);
        remove(path);
    }
    remove(folder);
}

int main(void)
{
    enum { COUNT = sizeof changes / sizeof changes[0] };
    char folder[] = "/dev/shm/midweight-XXXXXX", other[] = "/tmp/cutXXXXXX";
    const char *place = mkdtemp(folder) ? folder : mkdtemp(other);
    size_t bad = 0;
    printf("1..%d\n", COUNT + 1);
    for (size_t i = 0; i < COUNT; i++) {
        struct cutting found = cut_change(&changes[i], place, false);
        bool good = found.cuts > 0 && found.bad == 0 && found.lost == 0;
        bad += !good;
        printf("%s %zu - %s: %zu states after a cut, %zu broken, %zu lost\n",
               good ? "ok" : "not ok", i + 1, changes[i].name, found.cuts,
               found.bad, found.lost);
    }
    /* the cuts can tell: a disk that only says it synced loses stocks */
    struct cutting found = cut_change(&changes[1], place, true);
    bool tells = found.bad > 0 && found.lost > 0;
    printf("%s %d - on a disk that lies: %zu states, %zu broken, %zu lost\n",
           tells ? "ok" : "not ok", COUNT + 1, found.cuts, found.bad,
           found.lost);
    clean(place);
    return bad == 0 && tells ? 0 : 1;
}
