/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/model/oil_list.h"

#include <math.h>
#include <stdlib.h>

#include "oils/best.h"
#include "oils/network.h"
#include "oils/oil_ref.h"
#include "parse/number.h"
#include "util/xalloc.h"

static enum exit_code make_bottle(const char *word,
                                  const struct oil_defaults *defaults,
                                  struct bottle *bottle, struct error *error)
{
    *bottle = (struct bottle){.name = xstrdup(word), .left_ml = NAN};
    enum exit_code code = parse_oil(word, defaults, &bottle->label, error);
    if (code != EXIT_DONE) {
        return code;
    }
    bottle->tolerance = mw_usual_tolerance(bottle->label.points[0].viscosity);
    return bottle_estimate(bottle, error);
}

/* a bottle of the stock, or an oil that is written out */
static enum exit_code find_bottle(const struct args *args, const char *word,
                                  const struct oil_defaults *defaults,
                                  struct stock *stock, struct bottle *bottle,
                                  struct error *error)
{
    enum exit_code code = EXIT_DONE;
    if (is_oil_spec(word) || *word == '\0') {
        return make_bottle(word, defaults, bottle, error);
    }
    if (!stock->db) {
        code = stock_open(stock, args->stock, error);
    }
    return code == EXIT_DONE ? oil_ref_load(stock, word, bottle, error) : code;
}

static enum exit_code fill_by_words(const struct args *args,
                                    const struct oil_defaults *defaults,
                                    struct stock *stock,
                                    struct oil_list *oil_list,
                                    struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct bottles *bottles = &oil_list->bottles;
    bottles->list = xcalloc(args->count, sizeof bottles->list[0]);
    for (size_t i = 0; i < args->count && code == EXIT_DONE; i++) {
        code = find_bottle(args, args->argument[i], defaults, stock,
                           &bottles->list[bottles->count++], error);
    }
    if (code != EXIT_DONE ||
        (code = stock_network_load(stock, &oil_list->network, error)) !=
            EXIT_DONE) {
        return code;
    }
    oil_list->nodes = xcalloc(bottles->count, sizeof oil_list->nodes[0]);
    for (size_t i = 0; i < bottles->count; i++) {
        oil_list->nodes[i] = bottle_node(&oil_list->network, &bottles->list[i]);
    }
    code = stock_network_solve(&oil_list->network, error);
    for (size_t i = 0; i < bottles->count && code == EXIT_DONE; i++) {
        bottle_adjust_by(&oil_list->network, &bottles->list[i], error);
    }
    return code;
}

static enum exit_code fill_by_stock(const struct args *args,
                                    struct stock *stock,
                                    struct oil_list *oil_list,
                                    struct error *error)
{
    enum exit_code code;
    struct bottles *bottles = &oil_list->bottles;
    if ((code = stock_open(stock, args->stock, error)) != EXIT_DONE ||
        (code = bottles_load_best(stock, bottles, &oil_list->network, error)) !=
            EXIT_DONE) {
        return code;
    }
    if (bottles->count == 0) {
        return refuse(error,
                      "no bottle in the stock yet; name the oils, such as 350 "
                      "500");
    }
    bottles_sort(bottles, mw_family_rating_t(MW_SILICONE));
    return EXIT_DONE;
}

enum exit_code oil_list_fill(const struct args *args,
                             const struct oil_defaults *defaults,
                             struct oil_list *oil_list, struct error *error)
{
    struct stock stock = {0};
    *oil_list = (struct oil_list){0};
    enum exit_code code =
        args->count > 0 ? fill_by_words(args, defaults, &stock, oil_list, error)
                        : fill_by_stock(args, &stock, oil_list, error);
    stock_close(&stock);
    return code;
}

enum exit_code oil_list_run(const struct args *args, make_card *make,
                            struct error *error)
{
    struct oil_list oils = {0};
    enum exit_code code = make(args, &oils, error);
    stock_network_free(&oils.network);
    bottles_free(&oils.bottles);
    free(oils.nodes);
    return code;
}
