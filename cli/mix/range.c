/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* a range of targets: a table of recipes, one for each */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "mix/mix.h"
#include "output/cautions.h"
#include "output/csv.h"
#include "output/text.h"
#include "util/format.h"
#include "util/utf8.h"
#include "util/xalloc.h"

enum { CELL_COLUMNS = 9, FIXED_COLUMNS = 5, OIL_COLUMNS = 3 };

/* Rows are written to memory first: a target that cannot be mixed refuses the
 * whole table. */
struct table {
    FILE *rows;
    char *text;
    size_t size;
    char **fields; /* of a row of CSV */
    json_t *recipes;
    bool has_recipe; /* what the tool gives is a column */
    unsigned warnings;
};

typedef void write_row(const struct mix_request *request,
                       const struct mix_answer *answer, struct table *table);

/* -- Text --------------------------------------------------------------- */

static void write_text(const struct mix_request *request,
                       const struct mix_answer *answer, struct table *table)
{
    char text[FORMAT_LENGTH];
    fprintf(table->rows, "%8s", format_compact(request->job.target, text));
    for (size_t i = 0; i < request->count; i++) {
        fprintf(table->rows, " %*s", (int)CELL_COLUMNS,
                mix_dose_text(request, answer, i, text));
    }
    table->has_recipe = answer->result.has_recipe;
    if (table->has_recipe) {
        fprintf(table->rows, " %8s",
                format_significant(answer->result.recipe.viscosity, 3, text));
    }
    fprintf(table->rows, " %5.1f\n",
            100 * MW_COVERAGE * answer->uncertainty.standard);
    table->warnings |= answer->result.warnings;
}

static void print_table(const struct mix_request *request,
                        const struct table *table)
{
    char name[TRUNCATED_LENGTH];
    print_text("Recipes at %.6g C, +-%% is k = 2.\n\n%8s", request->temperature,
               "mm2/s");
    for (size_t i = 0; i < request->count; i++) {
        truncate_columns(request->refs[i].name, CELL_COLUMNS, name);
        print_text(" %*s%s", (int)(CELL_COLUMNS - utf8_columns(name)), "",
                   name);
    }
    print_text("%s   +-%%\n", table->has_recipe ? "    gives" : "");
    fputs(table->text, stdout);
    print_text("\n");
    print_warnings(table->warnings);
    print_wrapped("%s", CAUTION_MIX);
}

/* -- CSV and JSON ------------------------------------------------------- */

/* a row of fields, which are freed once it is written */
static void write_fields(struct table *table)
{
    csv_row(table->rows, (const char *const *)table->fields);
    for (char **field = table->fields; *field; field++) {
        free(*field);
        *field = NULL;
    }
}

static char *number(double value)
{
    char text[ROUNDTRIP_LENGTH];
    return xstrdup(format_roundtrip(value, text));
}

/* "Elm ml" */
static char *title(const char *name, const char *unit)
{
    size_t size = strlen(name) + strlen(unit) + 2;
    char *text = xcalloc(size, 1);
    snprintf(text, size, "%s %s", name, unit);
    return text;
}

static void write_titles(const struct mix_request *request, struct table *table)
{
    static const char *const titles[FIXED_COLUMNS] = {
        "target", "temperature", "viscosity", "low", "high"};
    char **fields = table->fields;
    for (size_t i = 0; i < FIXED_COLUMNS; i++) {
        *fields++ = xstrdup(titles[i]);
    }
    for (size_t i = 0; i < request->count; i++) {
        *fields++ = title(request->refs[i].name, "share");
        *fields++ = title(request->refs[i].name, "ml");
        *fields++ = title(request->refs[i].name, "g");
    }
    write_fields(table);
}

static void write_csv(const struct mix_request *request,
                      const struct mix_answer *answer, struct table *table)
{
    char **fields = table->fields;
    const struct mw_mix_answer *result = &answer->result;
    bool dosed = result->has_recipe;
    *fields++ = number(request->job.target);
    *fields++ = number(request->temperature);
    *fields++ =
        number(dosed ? result->recipe.viscosity : result->mix.viscosity);
    *fields++ = number(answer->uncertainty.low);
    *fields++ = number(answer->uncertainty.high);
    for (size_t i = 0; i < request->count; i++) {
        double ml = mix_poured(answer, i);
        *fields++ =
            number(dosed ? result->recipe.shares[i] : result->shares[i]);
        *fields++ = number(ml);
        *fields++ = number(ml * result->mix.states[i].density);
    }
    write_fields(table);
}

static void write_json(const struct mix_request *request,
                       const struct mix_answer *answer, struct table *table)
{
    json_append(table->recipes, mix_json(request, answer));
}

/* -- The range ----------------------------------------------------------- */

static enum exit_code solve_all(struct mix_request *request, write_row *write,
                                struct table *table, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct mix_answer *answer = xcalloc(1, sizeof *answer);
    double from = request->target.viscosity;
    for (size_t row = 0; row < request->targets && code == EXIT_DONE; row++) {
        request->target.viscosity = from + (double)row * request->step;
        request->job.target = request->target.viscosity;
        code = mix_solve(request, answer, error);
        if (code == EXIT_DONE) {
            write(request, answer, table);
        }
    }
    free(answer);
    return code;
}

static void begin(const struct mix_request *request, struct table *table)
{
    table->rows = open_memstream(&table->text, &table->size);
    if (!table->rows) {
        out_of_memory();
    }
    table->recipes = json_array();
    table->fields = xcalloc(FIXED_COLUMNS + OIL_COLUMNS * request->count + 1,
                            sizeof table->fields[0]);
}

/* a full memory is found here */
static void end(struct table *table)
{
    if (fclose(table->rows) != 0) {
        out_of_memory();
    }
}

enum exit_code mix_answer_range(const struct args *args,
                                struct mix_request *request,
                                struct error *error)
{
    struct table table = {0};
    bool csv = args->value[MIX_CSV] && !args->json;
    begin(request, &table);
    if (csv) {
        write_titles(request, &table);
    }
    enum exit_code code = solve_all(request,
                                    args->json ? write_json
                                    : csv      ? write_csv
                                               : write_text,
                                    &table, error);
    end(&table);
    if (code == EXIT_DONE && args->json) {
        code = print_json("mix-range",
                          json_pack("{s:O}", "recipes", table.recipes), error);
    } else if (code == EXIT_DONE && csv) {
        fputs(table.text, stdout);
    } else if (code == EXIT_DONE) {
        print_table(request, &table);
    }
    json_decref(table.recipes);
    free(table.fields);
    free(table.text);
    return code;
}
