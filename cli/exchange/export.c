/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* stock export: the whole table as CSV */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "exchange/columns.h"
#include "exchange/commands.h"
#include "oils/cup.h"
#include "output/csv.h"
#include "parse/number.h"
#include "store/bottle.h"
#include "store/journal.h"
#include "store/recipe.h"
#include "util/xalloc.h"

static const char *const titles[] = {
#define STOCK_COLUMN_TITLE(name, title) title,
    STOCK_COLUMNS(STOCK_COLUMN_TITLE)
#undef STOCK_COLUMN_TITLE
        NULL};

/* the fields of a row, all empty but for its kind and name */
struct row {
    const char *fields[STOCK_COLUMN_COUNT + 1];
    char numbers[STOCK_COLUMN_COUNT][ROUNDTRIP_LENGTH];
};

static void start_row(struct row *row, const char *kind, const char *name)
{
    for (size_t i = 0; i < STOCK_COLUMN_COUNT; i++) {
        row->fields[i] = "";
    }
    row->fields[STOCK_COLUMN_COUNT] = NULL;
    row->fields[COLUMN_KIND] = kind;
    row->fields[COLUMN_NAME] = name;
}

static void set_number(struct row *row, enum stock_column column, double value)
{
    row->fields[column] = format_roundtrip(value, row->numbers[column]);
}

/* a label with several points, as it is written on the command line */
static void write_points(const struct mw_oil *oil, char *text, size_t size)
{
    char viscosity[ROUNDTRIP_LENGTH], temperature[ROUNDTRIP_LENGTH];
    size_t used = 0;
    if (!isnan(oil->index)) {
        snprintf(text, size, "%s@40C/VI%s",
                 format_roundtrip(oil->points[0].viscosity, viscosity),
                 format_roundtrip(oil->index, temperature));
        return;
    }
    for (size_t i = 0; i < oil->count && used < size; i++) {
        used += (size_t)snprintf(
            text + used, size - used, "%s%s@%sC", i > 0 ? "/" : "",
            format_roundtrip(oil->points[i].viscosity, viscosity),
            format_roundtrip(oil->points[i].temperature, temperature));
    }
}

static void export_bottle(const struct bottle *bottle, bool retired)
{
    char points[MW_POINTS_MAX * 2 * ROUNDTRIP_LENGTH];
    const struct mw_oil *label = &bottle->label;
    struct row row;
    start_row(&row, retired ? "gone" : "bottle", bottle->name);
    if (label->count == 1) {
        set_number(&row, COLUMN_VISCOSITY, label->points[0].viscosity);
        set_number(&row, COLUMN_TEMPERATURE, label->points[0].temperature);
    } else {
        write_points(label, points, sizeof points);
        row.fields[COLUMN_VISCOSITY] = points;
    }
    row.fields[COLUMN_FAMILY] = mw_family_name(label->family);
    row.fields[COLUMN_TOLERANCE] = format_roundtrip_percent(
        bottle->tolerance, row.numbers[COLUMN_TOLERANCE]);
    set_number(&row, COLUMN_DENSITY, label->density);
    set_number(&row, COLUMN_LEFT, bottle->left_ml);
    set_number(&row, COLUMN_DROP, bottle->drop_ml);
    row.fields[COLUMN_NOTE] = bottle->note;
    row.fields[COLUMN_DATE] = bottle->added;
    csv_row(stdout, row.fields);
}

static void export_source(const struct reading_source *source, struct row *row)
{
    if (!source->known) {
        return;
    }
    row->fields[COLUMN_INSTRUMENT] = source->instrument;
    row->fields[COLUMN_RANDOM] =
        format_roundtrip_percent(source->random, row->numbers[COLUMN_RANDOM]);
    row->fields[COLUMN_SYSTEMATIC] = format_roundtrip_percent(
        source->systematic, row->numbers[COLUMN_SYSTEMATIC]);
    set_number(row, COLUMN_THERMOMETER, source->thermometer);
    if (source->reference_name) {
        row->fields[COLUMN_REFERENCE] = source->reference_name;
        set_number(row, COLUMN_REFERENCE_VISCOSITY,
                   source->reference_viscosity);
    }
}

static void export_readings(const struct bottle *bottle)
{
    for (size_t i = 0; i < bottle->reading_count; i++) {
        const struct stock_reading *reading = &bottle->readings[i];
        struct row row;
        start_row(&row, "reading", bottle->name);
        set_number(&row, COLUMN_VISCOSITY, reading->value.viscosity);
        set_number(&row, COLUMN_TEMPERATURE, reading->value.temperature);
        row.fields[COLUMN_UNCERTAINTY] = format_roundtrip_percent(
            reading->value.uncertainty, row.numbers[COLUMN_UNCERTAINTY]);
        row.fields[COLUMN_METHOD] = reading->method;
        row.fields[COLUMN_DATE] = reading->taken;
        export_source(&reading->source, &row);
        csv_row(stdout, row.fields);
    }
}

static void export_recipe(const struct recipe *recipe)
{
    struct row row;
    if (recipe->count == 0) {
        return;
    }
    start_row(&row, "mix", recipe->name);
    set_number(&row, COLUMN_TEMPERATURE, recipe->temperature);
    set_number(&row, COLUMN_DOSE, recipe->dose_ml);
    row.fields[COLUMN_DATE] = recipe->made;
    csv_row(stdout, row.fields);
    for (size_t i = 0; i < recipe->count; i++) {
        start_row(&row, "part", recipe->name);
        row.fields[COLUMN_PARENT] = recipe->parts[i].parent_name;
        set_number(&row, COLUMN_VOLUME, recipe->parts[i].volume_ml);
        csv_row(stdout, row.fields);
    }
}

static const char *name_of(const struct bottles *bottles, sqlite3_int64 id)
{
    for (size_t i = 0; i < bottles->count; i++) {
        if (bottles->list[i].id == id) {
            return bottles->list[i].name;
        }
    }
    return NULL;
}

/* a calibration with a bottle that was set aside goes with it */
static void export_runs(const struct own_cup *cup,
                        const struct bottles *bottles)
{
    struct row row;
    bool whole = true;
    for (size_t i = 0; i < cup->run_count; i++) {
        sqlite3_int64 id = cup->runs[i].bottle;
        whole = whole && (id == 0 || name_of(bottles, id));
    }
    for (size_t i = 0; i < cup->run_count && whole; i++) {
        const struct own_cup_run *run = &cup->runs[i];
        start_row(&row, "run", cup->name);
        set_number(&row, COLUMN_VISCOSITY, run->run.viscosity);
        set_number(&row, COLUMN_TEMPERATURE, run->temperature);
        set_number(&row, COLUMN_TIME, run->run.time);
        set_number(&row, COLUMN_TIME_UNCERTAINTY, run->run.time_uncertainty);
        if (run->bottle != 0) {
            row.fields[COLUMN_REFERENCE] = name_of(bottles, run->bottle);
        } else {
            row.fields[COLUMN_UNCERTAINTY] = format_roundtrip_percent(
                run->uncertainty, row.numbers[COLUMN_UNCERTAINTY]);
        }
        csv_row(stdout, row.fields);
    }
}

static void export_cup(const struct own_cup *cup)
{
    struct row row;
    start_row(&row, "cup", cup->name);
    set_number(&row, COLUMN_CUP_A, cup->a);
    set_number(&row, COLUMN_CUP_B, cup->b);
    row.fields[COLUMN_UNCERTAINTY] = format_roundtrip_percent(
        cup->uncertainty, row.numbers[COLUMN_UNCERTAINTY]);
    row.fields[COLUMN_DATE] = cup->made;
    csv_row(stdout, row.fields);
}

static void export_use(const struct use *use)
{
    struct row row;
    start_row(&row, "use", use->name);
    set_number(&row, COLUMN_VOLUME, use->volume_ml);
    row.fields[COLUMN_NOTE] = use->note;
    row.fields[COLUMN_DATE] = use->made;
    csv_row(stdout, row.fields);
}

static void export_fill(const struct fill *fill)
{
    struct row row;
    start_row(&row, "refill", fill->name);
    row.fields[COLUMN_PARENT] = fill->previous_name;
    row.fields[COLUMN_DATE] = fill->made;
    csv_row(stdout, row.fields);
}

/* the oldest first: what comes in again in this order is what it was */
static void export_journal(const struct journal *journal)
{
    for (size_t i = journal->use_count; i-- > 0;) {
        export_use(&journal->uses[i]);
    }
    for (size_t i = journal->fill_count; i-- > 0;) {
        export_fill(&journal->fills[i]);
    }
}

/* all that a stock holds, so that it can be closed before anything is printed
 */
struct table {
    struct bottles bottles;
    struct recipe *recipes; /* of each bottle, or none */
    struct own_cup *cups;
    size_t cup_count;
    struct journal journal;
};

static enum exit_code take_cup(struct own_cup *cup, void *context,
                               struct error *error)
{
    struct table *table = context;
    (void)error;
    table->cups =
        xreallocarray(table->cups, table->cup_count + 1, sizeof table->cups[0]);
    table->cups[table->cup_count++] = *cup;
    *cup = (struct own_cup){0};
    return EXIT_DONE;
}

/* a recipe with a bottle that was set aside goes with it */
static void leave_incomplete_out(struct stock *stock,
                                 const struct bottles *bottles,
                                 struct recipe *recipe)
{
    for (size_t i = 0; stock->damage_count > 0 && i < recipe->count; i++) {
        if (!name_of(bottles, recipe->parts[i].parent)) {
            recipe_free(recipe);
        }
    }
}

static enum exit_code load_table(struct stock *stock, struct table *table,
                                 struct error *error)
{
    enum exit_code code = bottles_load_all(stock, &table->bottles, error);
    if (code != EXIT_DONE) {
        return code;
    }
    size_t count = table->bottles.count;
    table->recipes = xcalloc(count, sizeof table->recipes[0]);
    for (size_t i = 0; i < count && code == EXIT_DONE; i++) {
        code = recipe_load(stock, table->bottles.list[i].id, &table->recipes[i],
                           error);
        leave_incomplete_out(stock, &table->bottles, &table->recipes[i]);
    }
    return code == EXIT_DONE ? own_cups_each(stock, take_cup, table, error)
                             : code;
}

static void free_table(struct table *table)
{
    for (size_t i = 0; table->recipes && i < table->bottles.count; i++) {
        recipe_free(&table->recipes[i]);
    }
    for (size_t i = 0; i < table->cup_count; i++) {
        own_cup_free(&table->cups[i]);
    }
    free(table->recipes);
    free(table->cups);
    journal_free(&table->journal);
    bottles_free(&table->bottles);
}

static void export_table(const struct table *table)
{
    const struct bottles *bottles = &table->bottles;
    csv_row(stdout, titles);
    for (size_t i = 0; i < bottles->count; i++) {
        export_bottle(&bottles->list[i], bottles->list[i].retired);
    }
    /* a reading may name any bottle as its reference */
    for (size_t i = 0; i < bottles->count; i++) {
        export_readings(&bottles->list[i]);
    }
    for (size_t i = 0; i < bottles->count; i++) {
        export_recipe(&table->recipes[i]);
    }
    for (size_t i = 0; i < table->cup_count; i++) {
        export_cup(&table->cups[i]);
        export_runs(&table->cups[i], bottles);
    }
    export_journal(&table->journal);
}

static enum exit_code run(const struct args *args, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct stock stock;
    struct table table = {0};
    if (args->count != 0) {
        return refuse(error,
                      "export writes to stdout; send it to a file with >");
    }
    if ((code = stock_open(&stock, args->stock, error)) == EXIT_DONE) {
        code = load_table(&stock, &table, error);
    }
    if (code == EXIT_DONE) {
        code = journal_load(&stock, &table.journal, error);
    }
    stock_close(&stock);
    if (code == EXIT_DONE) {
        export_table(&table);
    }
    free_table(&table);
    return code;
}

const struct command command_stock_export = {
    .name = "stock export",
    .summary = "write the table as CSV to standard output",
    .examples = "  midweight stock export > bottles.csv\n",
    .notes = "A cell that a spreadsheet would run as a formula (it "
             "starts with = + - @ and is not a number) is preceded by "
             "an apostrophe; import removes it.",
    .run = run,
};
