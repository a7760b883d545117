/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* stock list: the table of bottles */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "oils/best.h"
#include "oils/bottle_json.h"
#include "oils/outlier.h"
#include "output/csv.h"
#include "output/json.h"
#include "output/text.h"
#include "parse/number.h"
#include "stock/commands.h"
#include "store/bottle.h"
#include "store/stock.h"
#include "util/format.h"
#include "util/xalloc.h"

enum { CSV };

enum { NAME_COLUMNS = 28 };

static const struct command_option options[] = {
    OPTION(CSV, "csv", NULL, "Print as CSV"),
    {0},
};

/* a bottle and where it stands in the list */
struct row {
    const struct bottle *bottle;
    double v25; /* mm2/s at 25 C, NaN where the oil is not known there */
    double u;   /* standard, of ln v, there or else where it is rated */
};

static double uncertainty_of(const struct row *row,
                             const struct stock_network *network)
{
    double t = mw_family_rating_t(MW_SILICONE);
    const struct bottle *bottle = row->bottle;
    bool here = isnan(row->v25) ||
                mw_same_temperature(bottle->best.oil.points[0].temperature, t);
    return here ? bottle->best.uncertainty
                : bottle_uncertainty_at(network, bottle, t);
}

static struct row *sorted_rows(struct bottles *bottles,
                               const struct stock_network *network)
{
    bottles_sort(bottles, mw_family_rating_t(MW_SILICONE));
    struct row *rows = xcalloc(bottles->count, sizeof rows[0]);
    for (size_t i = 0; i < bottles->count; i++) {
        rows[i].bottle = &bottles->list[i];
        mw_oil_viscosity(&bottles->list[i].best.oil,
                         mw_family_rating_t(MW_SILICONE), &rows[i].v25);
        rows[i].u = uncertainty_of(&rows[i], network);
    }
    return rows;
}

/* -- Text -------------------------------------------------------------- */

static void print_row(const struct row *row, const struct row *next)
{
    char name[TRUNCATED_LENGTH], number[FORMAT_LENGTH];
    const struct bottle *bottle = row->bottle;
    const struct mw_point *rating = &bottle->best.oil.points[0];
    bool known = !isnan(row->v25);
    print_padded(truncate_columns(bottle->name, NAME_COLUMNS, name),
                 NAME_COLUMNS);
    print_text(" %9s", format_significant(known ? row->v25 : rating->viscosity,
                                          3, number));
    if (known) {
        print_text("       ");
    } else {
        print_text(" at %-3.3g", rating->temperature);
    }
    print_text(" %5.1f", 100 * MW_COVERAGE * row->u);
    print_text(" %8s",
               next && !isnan(next->v25) &&
                       next->bottle->label.family == bottle->label.family
                   ? format_significant(next->v25 / row->v25, 3, number)
                   : "");
    print_text(" %8s", isnan(bottle->left_ml)
                           ? "?"
                           : format_significant(bottle->left_ml, 3, number));
    print_text("%s\n", bottle->mixed               ? "  mixed"
                       : bottle->reading_count > 0 ? "  measured"
                                                   : "");
}

static void print_table(const struct row *rows, size_t count)
{
    if (count == 0) {
        print_wrapped("No bottle yet; try midweight stock add Elm 350 --left "
                      "31ml");
        return;
    }
    print_padded("bottle", NAME_COLUMNS);
    print_text(" %9s at 25 C   +-%%    ratio  ml left\n", "mm2/s");
    for (size_t i = 0; i < count; i++) {
        print_row(&rows[i], i + 1 < count ? &rows[i + 1] : NULL);
    }
    print_text("\n");
    for (size_t i = 0; i < count; i++) {
        char text[OUTLIER_LENGTH];
        if (*outlier_text(rows[i].bottle, rows[i].bottle->best.outlier, text)) {
            print_wrapped("Warning: %s.", text);
        }
    }
    print_wrapped(
        "+-%% is k = 2, by the label and the readings; ratio to the next.");
}

/* -- CSV and JSON ------------------------------------------------------ */

static void print_csv(const struct row *rows, size_t count)
{
    csv_row(stdout, (const char *[]){"name", "viscosity_25C", "rating",
                                     "rating_temperature",
                                     "uncertainty_percent", "left_ml", NULL});
    for (size_t i = 0; i < count; i++) {
        char numbers[5][ROUNDTRIP_LENGTH];
        const struct bottle *bottle = rows[i].bottle;
        const struct mw_point *rating = &bottle->best.oil.points[0];
        csv_row(
            stdout,
            (const char *[]){
                bottle->name, format_roundtrip(rows[i].v25, numbers[0]),
                format_roundtrip(rating->viscosity, numbers[1]),
                format_roundtrip(rating->temperature, numbers[2]),
                format_roundtrip(100 * bottle->best.uncertainty, numbers[3]),
                format_roundtrip(bottle->left_ml, numbers[4]), NULL});
    }
}

static enum exit_code print_as_json(const struct row *rows, size_t count,
                                    struct error *error)
{
    json_t *oils = json_array();
    for (size_t i = 0; i < count; i++) {
        json_append(oils, json_bottle(rows[i].bottle));
    }
    return print_json("stock-list", json_pack("{s:o}", "oils", oils), error);
}

static enum exit_code run(const struct args *args, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct stock stock;
    struct bottles bottles = {0};
    struct stock_network network = {0};
    if (args->count != 0) {
        return refuse(error,
                      "list shows all bottles; \"%.*s\" is one word too many",
                      QUOTED, args->argument[0]);
    }
    if ((code = stock_open(&stock, args->stock, error)) == EXIT_DONE) {
        code = bottles_load_best(&stock, &bottles, &network, error);
    }
    stock_close(&stock);
    if (code == EXIT_DONE) {
        struct row *rows = sorted_rows(&bottles, &network);
        if (args->json) {
            code = print_as_json(rows, bottles.count, error);
        } else if (args->value[CSV]) {
            print_csv(rows, bottles.count);
        } else {
            print_table(rows, bottles.count);
        }
        free(rows);
    }
    stock_network_free(&network);
    bottles_free(&bottles);
    return code;
}

const struct command command_stock_list = {
    .name = "stock list",
    .summary = "list the bottles, thin to thick",
    .examples = "  midweight stock list\n"
                "  midweight stock list --json\n",
    .options = options,
    .run = run,
};
