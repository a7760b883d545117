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
    struct error *error; /* of the whole command */
    const struct csv_text *csv;
    bool skip_bad;
    bool has_header;
    size_t width;                               /* columns of the header */
    enum stock_column meaning[CSV_COLUMNS_MAX]; /* of each; _COUNT: none */
    const char *fields[STOCK_COLUMN_COUNT];     /* of this row, never NULL */
    enum stock_column column;                   /* the one that is being read */
    size_t taken, left_out;
    char **warnings; /* what to print once the rows are in the stock */
    size_t note_count;
};

static void add_note(struct importing *importing, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

static void add_note(struct importing *importing, const char *format, ...)
{
    char text[sizeof((struct error *)0)->text + 100];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    importing->warnings =
        xreallocarray(importing->warnings, importing->note_count + 1,
                      sizeof importing->warnings[0]);
    importing->warnings[importing->note_count++] = xstrdup(text);
}

/* -- One row ----------------------------------------------------------- */

/* the text of a column, which is to blame for what goes wrong next */
static const char *field(struct importing *importing, enum stock_column column)
{
    importing->column = column;
    return importing->fields[column];
}

/* the viscosity, with the temperature of its own column where it names none */
static enum exit_code read_label(struct importing *importing,
                                 struct bottle *bottle, struct error *error)
{
    struct oil_defaults defaults = {.density = NAN};
    const char *family = field(importing, COLUMN_FAMILY);
    if (parse_oil_defaults(*family ? family : NULL, NULL, &defaults, error) !=
        EXIT_DONE) {
        return error->exit_code;
    }
    const char *density = field(importing, COLUMN_DENSITY);
    if (*density &&
        parse_density(density, &defaults.density, error) != EXIT_DONE) {
        return error->exit_code;
    }
    const char *temperature = field(importing, COLUMN_TEMPERATURE);
    const char *viscosity = field(importing, COLUMN_VISCOSITY);
    if (*temperature && strchr(viscosity, '@')) {
        return REFUSE("%.*s names a temperature, and so does its column",
                      QUOTED, viscosity);
    }
    char *text = xcalloc(strlen(viscosity) + strlen(temperature) + 2, 1);
    sprintf(text, "%s%s%s", viscosity, *temperature ? "@" : "", temperature);
    parse_oil(text, &defaults, &bottle->label, error);
    free(text);
    return error->exit_code;
}

/* a volume in ml, NaN where the column is empty */
static enum exit_code read_ml(struct importing *importing,
                              enum stock_column column, double *ml,
                              struct error *error)
{
    struct amount amount = {AMOUNT_ML, NAN};
    const char *text = field(importing, column);
    if (*text && parse_left(text, &amount, error) != EXIT_DONE) {
        return error->exit_code;
    }
    *ml = amount.value;
    return amount.kind == AMOUNT_ML && !(column == COLUMN_DROP && *ml <= 0)
               ? EXIT_DONE
               : REFUSE("%.*s is no volume in ml for this column", QUOTED,
                        text);
}

static enum exit_code read_numbers(struct importing *importing,
                                   struct bottle *bottle, struct error *error)
{
    const char *tolerance = field(importing, COLUMN_TOLERANCE);
    bottle->tolerance = mw_usual_tolerance(bottle->label.points[0].viscosity);
    if (*tolerance &&
        parse_percent(tolerance, &bottle->tolerance, error) != EXIT_DONE) {
        return error->exit_code;
    }
    if (!(bottle->tolerance > 0)) {
        return REFUSE("a label is never exact");
    }
    return read_ml(importing, COLUMN_LEFT, &bottle->left_ml, error) == EXIT_DONE
               ? read_ml(importing, COLUMN_DROP, &bottle->drop_ml, error)
               : error->exit_code;
}

static enum exit_code read_date(struct importing *importing,
                                char date[DATE_LENGTH], struct error *error)
{
    const char *text = field(importing, COLUMN_DATE);
    return parse_date(*text ? text : NULL, date, error);
}

static enum exit_code read_bottle(struct importing *importing,
                                  struct bottle *bottle, struct error *error)
{
    bottle->retired = strcasecmp(importing->fields[COLUMN_KIND], "gone") == 0;
    const char *name = field(importing, COLUMN_NAME);
    if ((bottle->retired ? check_retired_name(name, error)
                         : check_name(name, error)) != EXIT_DONE ||
        check_text(field(importing, COLUMN_NOTE), error) != EXIT_DONE ||
        read_date(importing, bottle->added, error) != EXIT_DONE ||
        read_label(importing, bottle, error) != EXIT_DONE ||
        read_numbers(importing, bottle, error) != EXIT_DONE) {
        return error->exit_code;
    }
    bottle->name = xstrdup(name);
    bottle->note = xstrdup(importing->fields[COLUMN_NOTE]);
    return bottle_estimate(bottle, error);
}

static enum exit_code take_bottle(struct importing *importing,
                                  struct error *error)
{
    struct bottle bottle = {0};
    if (read_bottle(importing, &bottle, error) == EXIT_DONE) {
        importing->column = COLUMN_NAME;
        bottle_insert(importing->stock, &bottle);
    }
    bottle_free(&bottle);
    return error->exit_code;
}

/* the bottle that a reading, a mix or a part belongs to */
static enum exit_code find_bottle(struct importing *importing,
                                  enum stock_column column, sqlite3_int64 *id,
                                  struct error *error)
{
    const char *name = field(importing, column);
    *id = bottle_id(importing->stock, name);
    return *id ? error->exit_code
               : REFUSE("no bottle \"%.*s\" before this row", QUOTED, name);
}

static enum exit_code read_reading(struct importing *importing,
                                   const struct bottle *bottle,
                                   struct stock_reading *reading,
                                   struct error *error)
{
    struct viscosity viscosity;
    struct mw_point point;
    if (parse_temperature(field(importing, COLUMN_TEMPERATURE),
                          &reading->value.temperature, error) != EXIT_DONE ||
        parse_viscosity(field(importing, COLUMN_VISCOSITY), &viscosity,
                        error) != EXIT_DONE ||
        resolve_viscosity(&viscosity, bottle->label.family,
                          bottle->label.density, reading->value.temperature,
                          &point, error) != EXIT_DONE ||
        parse_percent(field(importing, COLUMN_UNCERTAINTY),
                      &reading->value.uncertainty, error) != EXIT_DONE ||
        check_text(field(importing, COLUMN_METHOD), error) != EXIT_DONE) {
        return error->exit_code;
    }
    reading->value.viscosity = point.viscosity;
    return read_date(importing, reading->taken, error);
}

static enum exit_code take_reading(struct importing *importing,
                                   struct error *error)
{
    struct bottle bottle = {0};
    struct stock_reading *reading;
    sqlite3_int64 id;
    if (find_bottle(importing, COLUMN_NAME, &id, error) == EXIT_DONE &&
        bottle_load_id(importing->stock, id, &bottle) == EXIT_DONE) {
        bottle.readings =
            xreallocarray(bottle.readings, bottle.reading_count + 1,
                          sizeof bottle.readings[0]);
        reading = &bottle.readings[bottle.reading_count++];
        *reading = (struct stock_reading){
            .method = xstrdup(importing->fields[COLUMN_METHOD])};
        if (read_reading(importing, &bottle, reading, error) == EXIT_DONE &&
            bottle_estimate(&bottle, error) == EXIT_DONE) {
            bottle_add_reading(importing->stock, bottle.id, reading);
        }
    }
    bottle_free(&bottle);
    return error->exit_code;
}

static enum exit_code take_mix(struct importing *importing, struct error *error)
{
    struct recipe recipe = {0};
    if (find_bottle(importing, COLUMN_NAME, &recipe.bottle, error) !=
            EXIT_DONE ||
        parse_temperature(field(importing, COLUMN_TEMPERATURE),
                          &recipe.temperature, error) != EXIT_DONE ||
        read_date(importing, recipe.made, error) != EXIT_DONE) {
        return error->exit_code;
    }
    importing->column = COLUMN_NAME;
    return recipe_exists(importing->stock, recipe.bottle)
               ? REFUSE("\"%.*s\" has a recipe already", QUOTED,
                        importing->fields[COLUMN_NAME])
               : recipe_insert(importing->stock, &recipe);
}

static enum exit_code take_part(struct importing *importing,
                                struct error *error)
{
    sqlite3_int64 bottle;
    struct recipe_part part;
    struct amount volume;
    if (find_bottle(importing, COLUMN_PARENT, &part.parent, error) !=
            EXIT_DONE ||
        parse_amount(field(importing, COLUMN_VOLUME), &volume, error) !=
            EXIT_DONE ||
        find_bottle(importing, COLUMN_NAME, &bottle, error) != EXIT_DONE) {
        return error->exit_code;
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
    return recipe_count_parts(importing->stock, bottle) < MW_MIX_OILS_MAX
               ? recipe_add_part(importing->stock, bottle, &part)
               : REFUSE("\"%.*s\" has %d parts already, the most of a mix",
                        QUOTED, importing->fields[COLUMN_NAME],
                        (int)MW_MIX_OILS_MAX);
}

static enum exit_code take_cup(struct importing *importing, struct error *error)
{
    struct own_cup cup = {.name = (char *)field(importing, COLUMN_NAME)};
    if (check_name(cup.name, error) != EXIT_DONE ||
        parse_number(field(importing, COLUMN_CUP_A), &cup.a, error) !=
            EXIT_DONE ||
        parse_number(field(importing, COLUMN_CUP_B), &cup.b, error) !=
            EXIT_DONE ||
        parse_percent(field(importing, COLUMN_UNCERTAINTY), &cup.uncertainty,
                      error) != EXIT_DONE ||
        read_date(importing, cup.made, error) != EXIT_DONE) {
        return error->exit_code;
    }
    importing->column = COLUMN_NAME;
    return own_cup_exists(importing->stock, cup.name)
               ? REFUSE("there is a cup \"%.*s\" already", QUOTED, cup.name)
               : own_cup_store(importing->stock, &cup);
}

static enum exit_code take_kind(struct importing *importing,
                                struct error *error)
{
    static const struct {
        const char *kind;
        enum exit_code (*take)(struct importing *importing,
                               struct error *error);
    } kinds[] = {{"", take_bottle},     {"bottle", take_bottle},
                 {"gone", take_bottle}, {"reading", take_reading},
                 {"mix", take_mix},     {"part", take_part},
                 {"cup", take_cup}};
    const char *kind = field(importing, COLUMN_KIND);
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        if (strcasecmp(kind, kinds[i].kind) == 0) {
            return kinds[i].take(importing, error);
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
    struct error *error = importing->error;
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
    for (size_t i = 0; i < count && error->exit_code == EXIT_DONE; i++) {
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
static void report_row_error(struct importing *importing,
                             const struct error *row, size_t line)
{
    const char *title = titles[importing->column];
    if (row->exit_code == EXIT_OUTPUT) {
        *importing->error = *row;
    } else if (importing->skip_bad) {
        importing->left_out++;
        add_note(importing, "Left out: line %zu, column %s: %s.", line, title,
                 row->text);
    } else {
        error_set(importing->error, EXIT_USAGE,
                  "%s, line %zu, column %s: %s; nothing was taken "
                  "(--skip-bad takes the good rows)",
                  importing->csv->path, line, title, row->text);
    }
}

static void take(const char *const fields[], size_t count, size_t line,
                 void *context)
{
    struct importing *importing = context;
    struct error row = {0};
    if (!importing->has_header) {
        read_header(fields, count, importing);
        return;
    }
    fill_fields(fields, count, importing);
    importing->column = COLUMN_NAME;
    importing->stock->error = &row;
    if (count > importing->width) {
        error_set(&row, EXIT_USAGE, "%zu fields, but the header has %zu", count,
                  importing->width);
    } else {
        take_kind(importing, &row);
    }
    importing->stock->error = importing->error;
    if (row.exit_code == EXIT_DONE) {
        importing->taken++;
        for (size_t i = 0; i < row.remark_count; i++) {
            add_note(importing, "Note: line %zu, %s.", line, row.remarks[i]);
        }
    } else {
        report_row_error(importing, &row, line);
    }
}

static enum exit_code import_file(struct importing *importing)
{
    char what[QUOTED * 4];
    if (csv_read(importing->csv, take, importing, importing->error) !=
        EXIT_DONE) {
        return importing->error->exit_code;
    }
    if (!importing->has_header) {
        return error_set(importing->error, EXIT_USAGE,
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
        print_wrapped("%s", importing->warnings[i]);
    }
    print_wrapped("Taken: %zu row%s; left out: %zu.", importing->taken,
                  importing->taken == 1 ? "" : "s", importing->left_out);
}

static void free_notes(struct importing *importing)
{
    for (size_t i = 0; i < importing->note_count; i++) {
        free(importing->warnings[i]);
    }
    free(importing->warnings);
}

static enum exit_code run(const struct args *args, struct error *error)
{
    struct stock stock;
    struct csv_text csv;
    if (args->count != 1) {
        return REFUSE("which file? try midweight stock import bottles.csv");
    }
    struct importing importing = {.stock = &stock,
                                  .error = error,
                                  .csv = &csv,
                                  .skip_bad = args->value[SKIP_BAD] != NULL};
    /* a slow pipe is waited for before the stock is locked, not after */
    if (csv_load(args->argument[0], &csv, error) == EXIT_DONE) {
        if (stock_begin(&stock, args->stock, error) == EXIT_DONE) {
            import_file(&importing);
        }
        stock_close(&stock);
    }
    if (error->exit_code == EXIT_DONE) {
        print_import(&importing);
    }
    free_notes(&importing);
    csv_unload(&csv);
    return error->exit_code;
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
    .options = options,
    .run = run,
};
