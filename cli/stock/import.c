/* SPDX-License-Identifier: GPL-3.0-or-later */
/* stock import: a table of bottles from CSV */
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "output/csv.h"
#include "output/text.h"
#include "parse/amount.h"
#include "parse/number.h"
#include "parse/oil_spec.h"
#include "parse/viscosity.h"
#include "stock/commands.h"
#include "store/bottle.h"
#include "store/columns.h"
#include "store/cup.h"
#include "store/recipe.h"
#include "util/xalloc.h"

enum { SKIP_BAD };

static const struct argp_option options[] = {
    OPTION(SKIP_BAD, "skip-bad", NULL, "Leave bad rows out and take the rest"),
    {0},
};

static const char *const titles[] = {
#define STOCK_COLUMN_TITLE(name, title) title,
    STOCK_COLUMNS(STOCK_COLUMN_TITLE)
#undef STOCK_COLUMN_TITLE
};

struct importing {
    struct stock *stock;
    struct problem *problem; /* of the whole command */
    const struct csv_text *csv;
    bool skip_bad;
    bool has_header;
    size_t width;                               /* columns of the header */
    enum stock_column meaning[CSV_COLUMNS_MAX]; /* of each; _COUNT: none */
    const char *fields[STOCK_COLUMN_COUNT];     /* of this row, never NULL */
    enum stock_column column;                   /* the one that is being read */
    size_t taken, left_out;
    char **notes; /* what to print once the rows are in the stock */
    size_t note_count;
};

static void add_note(struct importing *importing, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

static void add_note(struct importing *importing, const char *format, ...)
{
    char text[sizeof((struct problem *)0)->text + 100];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    importing->notes = need_resized(importing->notes, importing->note_count + 1,
                                    sizeof importing->notes[0]);
    importing->notes[importing->note_count++] = need_copy(text);
}

/* -- One row ----------------------------------------------------------- */

/* the text of a column, which is to blame for what goes wrong next */
static const char *field(struct importing *importing, enum stock_column column)
{
    importing->column = column;
    return importing->fields[column];
}

/* the viscosity, with the temperature of its own column where it names none */
static enum outcome read_label(struct importing *importing,
                               struct bottle *bottle, struct problem *problem)
{
    struct oil_habits habits = {.density = NAN};
    const char *family = field(importing, COLUMN_FAMILY);
    if (parse_habits(*family ? family : NULL, NULL, &habits, problem) !=
        OUTCOME_DONE) {
        return problem->outcome;
    }
    const char *density = field(importing, COLUMN_DENSITY);
    if (*density &&
        parse_density(density, &habits.density, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    const char *temperature = field(importing, COLUMN_TEMPERATURE);
    const char *viscosity = field(importing, COLUMN_VISCOSITY);
    if (*temperature && strchr(viscosity, '@')) {
        return REFUSE("%.*s names a temperature, and so does its column",
                      QUOTED, viscosity);
    }
    char *text = need_zeroed(strlen(viscosity) + strlen(temperature) + 2, 1);
    sprintf(text, "%s%s%s", viscosity, *temperature ? "@" : "", temperature);
    parse_oil(text, &habits, &bottle->label, problem);
    free(text);
    return problem->outcome;
}

/* a volume in ml, NaN where the column is empty */
static enum outcome read_ml(struct importing *importing,
                            enum stock_column column, double *ml,
                            struct problem *problem)
{
    struct amount amount = {AMOUNT_ML, NAN};
    const char *text = field(importing, column);
    if (*text && parse_left(text, &amount, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    *ml = amount.value;
    return amount.kind == AMOUNT_ML && !(column == COLUMN_DROP && *ml <= 0)
               ? OUTCOME_DONE
               : REFUSE("%.*s is no volume in ml for this column", QUOTED,
                        text);
}

static enum outcome read_numbers(struct importing *importing,
                                 struct bottle *bottle, struct problem *problem)
{
    const char *tolerance = field(importing, COLUMN_TOLERANCE);
    bottle->tolerance = mw_usual_tolerance(bottle->label.points[0].viscosity);
    if (*tolerance &&
        parse_percent(tolerance, &bottle->tolerance, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (!(bottle->tolerance > 0)) {
        return REFUSE("a label is never exact");
    }
    return read_ml(importing, COLUMN_LEFT, &bottle->left_ml, problem) ==
                   OUTCOME_DONE
               ? read_ml(importing, COLUMN_DROP, &bottle->drop_ml, problem)
               : problem->outcome;
}

static enum outcome read_date(struct importing *importing,
                              char date[DATE_LENGTH], struct problem *problem)
{
    const char *text = field(importing, COLUMN_DATE);
    return parse_date(*text ? text : NULL, date, problem);
}

static enum outcome read_bottle(struct importing *importing,
                                struct bottle *bottle, struct problem *problem)
{
    bottle->gone = strcasecmp(importing->fields[COLUMN_KIND], "gone") == 0;
    const char *name = field(importing, COLUMN_NAME);
    if ((bottle->gone ? check_retired_name(name, problem)
                      : check_name(name, problem)) != OUTCOME_DONE ||
        check_text(field(importing, COLUMN_NOTE), problem) != OUTCOME_DONE ||
        read_date(importing, bottle->added, problem) != OUTCOME_DONE ||
        read_label(importing, bottle, problem) != OUTCOME_DONE ||
        read_numbers(importing, bottle, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    bottle->name = need_copy(name);
    bottle->note = need_copy(importing->fields[COLUMN_NOTE]);
    return bottle_estimate(bottle, problem);
}

static enum outcome take_bottle(struct importing *importing,
                                struct problem *problem)
{
    struct bottle bottle = {0};
    if (read_bottle(importing, &bottle, problem) == OUTCOME_DONE) {
        importing->column = COLUMN_NAME;
        bottle_insert(importing->stock, &bottle);
    }
    bottle_free(&bottle);
    return problem->outcome;
}

/* the bottle that a reading, a mix or a part belongs to */
static enum outcome find_bottle(struct importing *importing,
                                enum stock_column column, sqlite3_int64 *id,
                                struct problem *problem)
{
    const char *name = field(importing, column);
    *id = bottle_id(importing->stock, name);
    return *id ? problem->outcome
               : REFUSE("no bottle \"%.*s\" before this row", QUOTED, name);
}

static enum outcome read_reading(struct importing *importing,
                                 const struct bottle *bottle,
                                 struct stock_reading *reading,
                                 struct problem *problem)
{
    struct viscosity viscosity;
    struct mw_point point;
    if (parse_temperature(field(importing, COLUMN_TEMPERATURE),
                          &reading->value.temperature,
                          problem) != OUTCOME_DONE ||
        parse_viscosity(field(importing, COLUMN_VISCOSITY), &viscosity,
                        problem) != OUTCOME_DONE ||
        resolve_viscosity(&viscosity, bottle->label.family,
                          bottle->label.density, reading->value.temperature,
                          &point, problem) != OUTCOME_DONE ||
        parse_percent(field(importing, COLUMN_UNCERTAINTY),
                      &reading->value.uncertainty, problem) != OUTCOME_DONE ||
        check_text(field(importing, COLUMN_METHOD), problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    reading->value.viscosity = point.viscosity;
    return read_date(importing, reading->taken, problem);
}

static enum outcome take_reading(struct importing *importing,
                                 struct problem *problem)
{
    struct bottle bottle = {0};
    struct stock_reading *reading;
    sqlite3_int64 id;
    if (find_bottle(importing, COLUMN_NAME, &id, problem) == OUTCOME_DONE &&
        bottle_load_id(importing->stock, id, &bottle) == OUTCOME_DONE) {
        bottle.readings =
            need_resized(bottle.readings, bottle.reading_count + 1,
                         sizeof bottle.readings[0]);
        reading = &bottle.readings[bottle.reading_count++];
        *reading = (struct stock_reading){
            .method = need_copy(importing->fields[COLUMN_METHOD])};
        if (read_reading(importing, &bottle, reading, problem) ==
                OUTCOME_DONE &&
            bottle_estimate(&bottle, problem) == OUTCOME_DONE) {
            bottle_add_reading(importing->stock, bottle.id, reading);
        }
    }
    bottle_free(&bottle);
    return problem->outcome;
}

static enum outcome take_mix(struct importing *importing,
                             struct problem *problem)
{
    struct recipe recipe = {0};
    if (find_bottle(importing, COLUMN_NAME, &recipe.bottle, problem) !=
            OUTCOME_DONE ||
        parse_temperature(field(importing, COLUMN_TEMPERATURE),
                          &recipe.temperature, problem) != OUTCOME_DONE ||
        read_date(importing, recipe.made, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    importing->column = COLUMN_NAME;
    return recipe_exists(importing->stock, recipe.bottle)
               ? REFUSE("\"%.*s\" has a recipe already", QUOTED,
                        importing->fields[COLUMN_NAME])
               : recipe_insert(importing->stock, &recipe);
}

static enum outcome take_part(struct importing *importing,
                              struct problem *problem)
{
    sqlite3_int64 bottle;
    struct recipe_part part;
    struct amount volume;
    if (find_bottle(importing, COLUMN_PARENT, &part.parent, problem) !=
            OUTCOME_DONE ||
        parse_amount(field(importing, COLUMN_VOLUME), &volume, problem) !=
            OUTCOME_DONE ||
        find_bottle(importing, COLUMN_NAME, &bottle, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    part.volume_ml = volume.value;
    if (volume.kind != AMOUNT_ML && volume.kind != AMOUNT_PARTS) {
        importing->column = COLUMN_VOLUME;
        return REFUSE("%.*s is no volume in ml", QUOTED,
                      importing->fields[COLUMN_VOLUME]);
    }
    if (!recipe_exists(importing->stock, bottle)) {
        return REFUSE("\"%.*s\" is no mix before this row", QUOTED,
                      importing->fields[COLUMN_NAME]);
    }
    return recipe_count_parts(importing->stock, bottle) < MW_DOUBT_OILS_MAX
               ? recipe_add_part(importing->stock, bottle, &part)
               : REFUSE("\"%.*s\" has %d parts already, the most of a mix",
                        QUOTED, importing->fields[COLUMN_NAME],
                        (int)MW_DOUBT_OILS_MAX);
}

static enum outcome take_cup(struct importing *importing,
                             struct problem *problem)
{
    struct own_cup cup = {.name = (char *)field(importing, COLUMN_NAME)};
    if (check_name(cup.name, problem) != OUTCOME_DONE ||
        parse_number(field(importing, COLUMN_CUP_A), &cup.a, problem) !=
            OUTCOME_DONE ||
        parse_number(field(importing, COLUMN_CUP_B), &cup.b, problem) !=
            OUTCOME_DONE ||
        parse_percent(field(importing, COLUMN_UNCERTAINTY), &cup.uncertainty,
                      problem) != OUTCOME_DONE ||
        read_date(importing, cup.made, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    importing->column = COLUMN_NAME;
    return own_cup_exists(importing->stock, cup.name)
               ? REFUSE("there is a cup \"%.*s\" already", QUOTED, cup.name)
               : own_cup_store(importing->stock, &cup);
}

static enum outcome take_kind(struct importing *importing,
                              struct problem *problem)
{
    static const struct {
        const char *kind;
        enum outcome (*take)(struct importing *importing,
                             struct problem *problem);
    } kinds[] = {{"", take_bottle},     {"bottle", take_bottle},
                 {"gone", take_bottle}, {"reading", take_reading},
                 {"mix", take_mix},     {"part", take_part},
                 {"cup", take_cup}};
    const char *kind = field(importing, COLUMN_KIND);
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        if (strcasecmp(kind, kinds[i].kind) == 0) {
            return kinds[i].take(importing, problem);
        }
    }
    return REFUSE("\"%.*s\" is no kind of row; write bottle, reading, mix, "
                  "part, gone or cup",
                  QUOTED, kind);
}

/* -- The file ---------------------------------------------------------- */

static void read_header(const char *const fields[], size_t count,
                        struct importing *importing)
{
    bool known[STOCK_COLUMN_COUNT] = {false};
    struct problem *problem = importing->problem;
    importing->has_header = true;
    importing->width = count;
    for (size_t i = 0; i < count; i++) {
        enum stock_column column = 0;
        while (column < STOCK_COLUMN_COUNT &&
               strcasecmp(fields[i], titles[column]) != 0) {
            column++;
        }
        importing->meaning[i] = column;
        if (column < STOCK_COLUMN_COUNT && known[column]) {
            REFUSE("%s: two columns are called %s", importing->csv->path,
                   titles[column]);
        } else if (column < STOCK_COLUMN_COUNT) {
            known[column] = true;
        }
    }
    if (!known[COLUMN_NAME] || !known[COLUMN_VISCOSITY]) {
        REFUSE("%s: the first row names the columns, and name and viscosity "
               "are among them",
               importing->csv->path);
    }
    for (size_t i = 0; i < count && problem->outcome == OUTCOME_DONE; i++) {
        if (importing->meaning[i] == STOCK_COLUMN_COUNT) {
            add_note(importing,
                     "The column \"%.*s\" is not known and was left aside.",
                     QUOTED, fields[i]);
        }
    }
}

static void fill_fields(const char *const fields[], size_t count,
                        struct importing *importing)
{
    for (size_t i = 0; i < STOCK_COLUMN_COUNT; i++) {
        importing->fields[i] = "";
    }
    for (size_t i = 0; i < count && i < importing->width; i++) {
        if (importing->meaning[i] != STOCK_COLUMN_COUNT) {
            importing->fields[importing->meaning[i]] = fields[i];
        }
    }
}

/* what went wrong with a row: the end of it all, or a row left out */
static void blame(struct importing *importing, const struct problem *row,
                  size_t line)
{
    const char *title = titles[importing->column];
    if (row->outcome == OUTCOME_OUTPUT) {
        *importing->problem = *row;
    } else if (importing->skip_bad) {
        importing->left_out++;
        add_note(importing, "Left out: line %zu, column %s: %s.", line, title,
                 row->text);
    } else {
        problem_set(importing->problem, OUTCOME_USAGE,
                    "%s, line %zu, column %s: %s; nothing was taken "
                    "(--skip-bad takes the good rows)",
                    importing->csv->path, line, title, row->text);
    }
}

static void take(const char *const fields[], size_t count, size_t line,
                 void *context)
{
    struct importing *importing = context;
    struct problem row = {0};
    if (!importing->has_header) {
        read_header(fields, count, importing);
        return;
    }
    fill_fields(fields, count, importing);
    importing->column = COLUMN_NAME;
    importing->stock->problem = &row;
    if (count > importing->width) {
        problem_set(&row, OUTCOME_USAGE, "%zu fields, but the header has %zu",
                    count, importing->width);
    } else {
        take_kind(importing, &row);
    }
    importing->stock->problem = importing->problem;
    if (row.outcome == OUTCOME_DONE) {
        importing->taken++;
    } else {
        blame(importing, &row, line);
    }
}

static enum outcome import_file(struct importing *importing)
{
    char what[QUOTED * 4];
    if (csv_read(importing->csv, take, importing, importing->problem) !=
        OUTCOME_DONE) {
        return importing->problem->outcome;
    }
    if (!importing->has_header) {
        return problem_set(importing->problem, OUTCOME_USAGE,
                           "%s is empty; its first row names the columns",
                           importing->csv->path);
    }
    snprintf(what, sizeof what, "import %.*s", 2 * QUOTED,
             importing->csv->path);
    return stock_commit(importing->stock, what);
}

static void print_import(const struct importing *importing)
{
    for (size_t i = 0; i < importing->note_count; i++) {
        paragraph("%s", importing->notes[i]);
    }
    paragraph("Taken: %zu row%s; left out: %zu.", importing->taken,
              importing->taken == 1 ? "" : "s", importing->left_out);
}

static void free_notes(struct importing *importing)
{
    for (size_t i = 0; i < importing->note_count; i++) {
        free(importing->notes[i]);
    }
    free(importing->notes);
}

static enum outcome run(const struct command *command, int argc, char **argv,
                        struct problem *problem)
{
    struct words words;
    struct stock stock;
    struct csv_text csv;
    if (options_read(command, options, argc, argv, &words, problem) !=
            OUTCOME_DONE ||
        words.helped) {
        return problem->outcome;
    }
    if (words.count != 1) {
        return REFUSE("which file? try midweight stock import bottles.csv");
    }
    struct importing importing = {.stock = &stock,
                                  .problem = problem,
                                  .csv = &csv,
                                  .skip_bad = words.value[SKIP_BAD] != NULL};
    /* a slow pipe is waited for before the stock is locked, not after */
    if (csv_load(words.argument[0], &csv, problem) == OUTCOME_DONE) {
        if (stock_begin(&stock, words.stock, problem) == OUTCOME_DONE) {
            import_file(&importing);
        }
        stock_close(&stock);
    }
    if (problem->outcome == OUTCOME_DONE) {
        print_import(&importing);
    }
    free_notes(&importing);
    csv_unload(&csv);
    return problem->outcome;
}

const struct command command_stock_import = {
    .name = "stock import",
    .summary = "bottles from a CSV file",
    .examples = "  midweight stock import bottles.csv\n"
                "  midweight stock import --skip-bad bottles.csv\n",
    .arguments = "FILE",
    .notes = "\vThe first row names the columns: name and viscosity, and of "
             "temperature, family, tolerance_percent, density, left_ml, note "
             "what there is. Commas, semicolons or tabs; a decimal comma is "
             "fine. An apostrophe before = + - @ in a cell is taken away.",
    .run = run,
};
