/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* card label: what is asked */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "parse/number.h"
#include "sheets/commands.h"
#include "sheets/label_sheet.h"
#include "sheets/model/oil_list.h"
#include "util/xalloc.h"

enum { NEW_COPIES = 2, COPIES_MOST = 50 };
enum { COPIES, EMPTY };

static const struct command_option options[] = {
    OPTION(COPIES, "copies", "N",
           "Print each label so often (default: 2 of a bottle that is named or "
           "was mixed today, 1 of others)"),
    OPTION(EMPTY, "empty", NULL, "Print labels for empty bottles too"),
    SHEET_OPTIONS,
    {0},
};

static enum exit_code load_recipes(struct labels *labels,
                                   const char *stock_file, struct error *error)
{
    struct stock stock;
    enum exit_code code = stock_open(&stock, stock_file, error);
    for (size_t i = 0; i < labels->count; i++) {
        struct label *label = &labels->list[i];
        if (label->bottle->mixed && code == EXIT_DONE) {
            code =
                recipe_load(&stock, label->bottle->id, &label->recipe, error);
        }
    }
    stock_close(&stock);
    return code;
}

/* of all bottles those that hold something, unless empty ones are asked for;
 * what is named is asked for */
static enum exit_code choose_bottles(struct labels *labels,
                                     const struct args *args,
                                     const struct bottles *bottles,
                                     struct error *error)
{
    bool all = args->count > 0 || args->value[EMPTY];
    labels->list = xcalloc(bottles->count, sizeof labels->list[0]);
    for (size_t i = 0; i < bottles->count; i++) {
        if (all || bottles->list[i].left_ml != 0) {
            labels->list[labels->count++].bottle = &bottles->list[i];
        }
    }
    return labels->count > 0 ? EXIT_DONE
                             : refuse(error, "all bottles are empty; name one, "
                                             "or add --empty");
}

static enum exit_code choose_copies(struct labels *labels,
                                    const struct args *args,
                                    struct error *error)
{
    double copies = 0;
    char today[DATE_LENGTH];
    enum exit_code code = parse_date(args->value[SHEET_DATE], today, error);
    if (code == EXIT_DONE && args->value[COPIES] &&
        (code = parse_number(args->value[COPIES], &copies, error)) ==
            EXIT_DONE &&
        !(copies >= 1 && copies <= COPIES_MOST && copies == floor(copies))) {
        return refuse(error, "--copies is a whole number from 1 to %d",
                      (int)COPIES_MOST);
    }
    for (size_t i = 0; i < labels->count; i++) {
        struct label *label = &labels->list[i];
        bool is_new = args->count > 0 || strcmp(label->recipe.made, today) == 0;
        label->copies = copies > 0 ? (size_t)copies : is_new ? NEW_COPIES : 1;
    }
    return code;
}

static void free_labels(struct labels *labels)
{
    for (size_t i = 0; i < labels->count; i++) {
        recipe_free(&labels->list[i].recipe);
    }
    free(labels->list);
}

static enum exit_code make_sheet(const struct args *args,
                                 struct oil_list *oil_list, struct error *error)
{
    const struct oil_defaults defaults = {.density = NAN};
    struct labels labels = {0};
    enum exit_code code;
    if ((code = sheet_wanted(args, error)) != EXIT_DONE ||
        (code = oil_list_fill(args, &defaults, oil_list, error)) != EXIT_DONE) {
        return code;
    }
    if ((code = choose_bottles(&labels, args, &oil_list->bottles, error)) ==
            EXIT_DONE &&
        (code = load_recipes(&labels, args->stock, error)) == EXIT_DONE &&
        (code = choose_copies(&labels, args, error)) == EXIT_DONE) {
        code = label_sheet_make(args, &labels, error);
    }
    free_labels(&labels);
    return code;
}

static enum exit_code run(const struct args *args, struct error *error)
{
    return oil_list_run(args, make_sheet, error);
}

const struct command command_card_label = {
    .name = "card label",
    .summary = "labels of 50 x 30 mm for bottles",
    .examples = "  midweight card label Maple -o maple.pdf   two copies\n"
                "  midweight card label -o labels.pdf        the whole stock\n",
    .arguments = "[NAME...]",
    .notes =
        "A label names the oil, its viscosity and temperature, "
        "the recipe and date of a mix, and the uncertainty, and has a "
        "line to write on. Without names all bottles have one that hold "
        "something. Print at full size. Results are estimates: measure what "
        "matters.",
    .options = options,
    .run = run,
};
