/* SPDX-License-Identifier: GPL-3.0-or-later */
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

static enum exit_code fill_by_words(const struct args *args,
                                    const struct oil_defaults *defaults,
                                    struct stock *stock,
                                    struct bottles *oil_list,
                                    struct error *error)
{
    enum exit_code code = EXIT_DONE;
    oil_list->list = xcalloc(args->count, sizeof oil_list->list[0]);
    for (size_t i = 0; i < args->count && code == EXIT_DONE; i++) {
        const char *word = args->argument[i];
        struct bottle *bottle = &oil_list->list[oil_list->count++];
        if (is_oil_spec(word) || *word == '\0') {
            code = make_bottle(word, defaults, bottle, error);
            continue;
        }
        if (!stock->db) {
            code = stock_open(stock, args->stock, error);
        }
        if (code == EXIT_DONE) {
            code = oil_ref_load(stock, word, bottle, error);
        }
        if (code == EXIT_DONE) {
            code = bottle_adjust(stock, bottle, error);
        }
    }
    return code;
}

static enum exit_code fill_by_stock(const struct args *args,
                                    struct stock *stock,
                                    struct bottles *oil_list,
                                    struct error *error)
{
    enum exit_code code;
    if ((code = stock_open(stock, args->stock, error)) != EXIT_DONE ||
        (code = bottles_load_best(stock, oil_list, NULL, error)) != EXIT_DONE) {
        return code;
    }
    if (oil_list->count == 0) {
        return refuse(error,
                      "no bottle in the stock yet; name the oils, such as 350 "
                      "500");
    }
    bottles_sort(oil_list, mw_family_rating_t(MW_SILICONE));
    return EXIT_DONE;
}

enum exit_code oil_list_fill(const struct args *args,
                             const struct oil_defaults *defaults,
                             struct bottles *oil_list, struct error *error)
{
    struct stock stock = {0};
    *oil_list = (struct bottles){0};
    enum exit_code code =
        args->count > 0 ? fill_by_words(args, defaults, &stock, oil_list, error)
                        : fill_by_stock(args, &stock, oil_list, error);
    stock_close(&stock);
    return code;
}

enum exit_code oil_list_known(const struct args *args,
                              const struct bottles *oil_list,
                              struct known *known, struct error *error)
{
    struct stock stock = {0};
    bool named = args->count == 0;
    *known = (struct known){0};
    for (size_t i = 0; i < args->count; i++) {
        named = named || !is_oil_spec(args->argument[i]);
    }
    enum exit_code code =
        named ? stock_open(&stock, args->stock, error) : EXIT_DONE;
    if (code == EXIT_DONE) {
        code = stock_network_load(&stock, &known->network, error);
    }
    for (size_t i = 0; i < oil_list->count && i < 2 && code == EXIT_DONE; i++) {
        const struct bottle *bottle = &oil_list->list[i];
        known->nodes[i] =
            stock_network_node(&known->network, bottle->id, bottle->name,
                               &bottle->best.oil, bottle->best.uncertainty);
    }
    if (code == EXIT_DONE) {
        code = stock_network_solve(&known->network, error);
    }
    if (code == EXIT_DONE && oil_list->count > 1) {
        known->bases = xcalloc(1, sizeof *known->bases);
        code = mw_network_bases(known->network.network, known->nodes, 2,
                                known->bases) == MW_OK
                   ? EXIT_DONE
                   : refuse(error, "a mix of more than %d bottles",
                            (int)MW_MIX_OILS_MAX);
    }
    stock_close(&stock);
    return code;
}

void oil_list_forget(struct known *known)
{
    stock_network_free(&known->network);
    free(known->bases);
}

enum exit_code oil_list_run(const struct args *args, make_card *make,
                            struct error *error)
{
    struct bottles oils = {0};
    enum exit_code code = make(args, &oils, error);
    bottles_free(&oils);
    return code;
}
