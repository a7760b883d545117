/* SPDX-License-Identifier: GPL-3.0-or-later */
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

enum { CELL_COLUMNS = 9 };

/* -- Text --------------------------------------------------------------- */

static void print_row(const struct mix_request *request,
                      const struct mix_answer *answer, double target)
{
    char text[FORMAT_LENGTH];
    print_text("%8s", format_compact(target, text));
    for (size_t i = 0; i < request->count; i++) {
        print_text(" %*s", (int)CELL_COLUMNS,
                   mix_dose_text(request, answer, i, text));
    }
    if (answer->has_dosed) {
        print_text(" %8s",
                   format_significant(answer->dosed.viscosity, 3, text));
    }
    print_text(" %5.1f\n", 100 * MW_COVERAGE * answer->uncertainty.standard);
}

static void print_range(const struct mix_request *request,
                        const struct mix_answer *answers, const double *targets)
{
    char name[TRUNCATED_LENGTH];
    unsigned warnings = 0;
    print_text("Recipes at %.6g C, +-%% is k = 2.\n\n%8s", request->temperature,
               "mm2/s");
    for (size_t i = 0; i < request->count; i++) {
        truncate_columns(request->refs[i].name, CELL_COLUMNS, name);
        print_text(" %*s%s", (int)(CELL_COLUMNS - utf8_columns(name)), "",
                   name);
    }
    print_text("%s   +-%%\n", answers->has_dosed ? "    gives" : "");
    for (size_t row = 0; row < request->targets; row++) {
        print_row(request, &answers[row], targets[row]);
        warnings |= answers[row].mix.warnings;
    }
    print_text("\n");
    print_warnings(warnings);
    print_wrapped("%s", CAUTION_MIX);
}

/* -- CSV and JSON ------------------------------------------------------- */

enum { FIXED_COLUMNS = 5, OIL_COLUMNS = 3 };

/* a row of fields, which are freed once it is written */
static void write_row(char **fields, size_t count)
{
    csv_row(stdout, (const char *const *)fields);
    for (size_t i = 0; i < count; i++) {
        free(fields[i]);
        fields[i] = NULL;
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

static void csv_titles(const struct mix_request *request, char **fields)
{
    static const char *const titles[FIXED_COLUMNS] = {
        "target", "temperature", "viscosity", "low", "high"};
    size_t count = 0;
    for (size_t i = 0; i < FIXED_COLUMNS; i++) {
        fields[count++] = xstrdup(titles[i]);
    }
    for (size_t i = 0; i < request->count; i++) {
        fields[count++] = title(request->refs[i].name, "share");
        fields[count++] = title(request->refs[i].name, "ml");
        fields[count++] = title(request->refs[i].name, "g");
    }
    write_row(fields, count);
}

static void csv_answer(const struct mix_request *request,
                       const struct mix_answer *answer, double target,
                       char **fields)
{
    size_t count = 0;
    fields[count++] = number(target);
    fields[count++] = number(request->temperature);
    fields[count++] = number(answer->has_dosed ? answer->dosed.viscosity
                                               : answer->mix.viscosity);
    fields[count++] = number(answer->uncertainty.low);
    fields[count++] = number(answer->uncertainty.high);
    for (size_t i = 0; i < request->count; i++) {
        double ml = mix_poured(answer, i);
        fields[count++] = number(answer->has_dosed ? answer->dosed.shares[i]
                                                   : answer->shares[i]);
        fields[count++] = number(ml);
        fields[count++] = number(ml * answer->mix.states[i].density);
    }
    write_row(fields, count);
}

static void print_csv(const struct mix_request *request,
                      const struct mix_answer *answers, const double *targets)
{
    char **fields = xcalloc(FIXED_COLUMNS + OIL_COLUMNS * request->count + 1,
                            sizeof fields[0]);
    csv_titles(request, fields);
    for (size_t row = 0; row < request->targets; row++) {
        csv_answer(request, &answers[row], targets[row], fields);
    }
    free(fields);
}

static enum exit_code print_list(struct mix_request *request,
                                 const struct mix_answer *answers,
                                 const double *targets, struct error *error)
{
    json_t *recipes = json_array();
    for (size_t row = 0; row < request->targets; row++) {
        request->target.viscosity = targets[row];
        json_append(recipes, mix_json(request, &answers[row]));
    }
    return print_json("mix-range", json_pack("{s:o}", "recipes", recipes),
                      error);
}

/* -- The range ----------------------------------------------------------- */

static enum exit_code solve_all(struct mix_request *request,
                                struct mix_answer *answers, double *targets,
                                struct error *error)
{
    enum exit_code code = EXIT_DONE;
    double from = request->target.viscosity;
    for (size_t row = 0; row < request->targets && code == EXIT_DONE; row++) {
        targets[row] = from + (double)row * request->step;
        request->target.viscosity = targets[row];
        code = mix_solve(request, &answers[row], error);
    }
    return code;
}

enum exit_code mix_answer_range(const struct args *args,
                                struct mix_request *request,
                                struct error *error)
{
    double *targets = xcalloc(request->targets, sizeof targets[0]);
    struct mix_answer *answers = xcalloc(request->targets, sizeof answers[0]);
    enum exit_code code = solve_all(request, answers, targets, error);
    if (code == EXIT_DONE && args->json) {
        code = print_list(request, answers, targets, error);
    } else if (code == EXIT_DONE && args->value[MIX_CSV]) {
        print_csv(request, answers, targets);
    } else if (code == EXIT_DONE) {
        print_range(request, answers, targets);
    }
    free(answers);
    free(targets);
    return code;
}
