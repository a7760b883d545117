/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "oil/compare.h"

#include <math.h>
#include <stdlib.h>

#include "midweight.h"
#include "oils/network.h"
#include "oils/oil_ref.h"
#include "oils/uncertainty.h"
#include "output/cautions.h"
#include "output/json.h"
#include "output/text.h"
#include "parse/number.h"
#include "parse/viscosity.h"
#include "util/format.h"
#include "util/xalloc.h"

enum { NAME_COLUMNS = 28 };

struct compared {
    struct oil_ref ref;
    size_t node;
    struct mw_oil_state state;
    struct oils_uncertainty uncertainty;
};

struct comparison {
    double t, thermometer;
    bool read;
    size_t count;
    struct compared oils[COMPARED_OILS];
    struct stock_network network;
};

static enum exit_code read_oils(const struct args *args, double t,
                                const struct oil_defaults *defaults,
                                struct stock_handle *handle,
                                struct comparison *comparison,
                                struct error *error)
{
    enum exit_code code = EXIT_DONE;
    if (args->count > COMPARED_OILS) {
        return refuse(error, "at most %d oils side by side",
                      (int)COMPARED_OILS);
    }
    for (size_t i = 0; i < args->count && code == EXIT_DONE; i++) {
        code = oil_ref_find_own(handle, args->argument[i], defaults,
                                &comparison->oils[i].ref, error);
        comparison->count++;
    }
    if (code != EXIT_DONE) {
        return code;
    }
    comparison->t =
        isnan(t) ? comparison->oils[0].ref.oil.points[0].temperature : t;
    return EXIT_DONE;
}

/* what all that the stock knows says of them */
static enum exit_code join(struct stock *stock, struct comparison *comparison,
                           struct error *error)
{
    struct stock_network *network = &comparison->network;
    enum exit_code code = stock_network_load(stock, network, error);
    if (code != EXIT_DONE) {
        return code;
    }
    for (size_t i = 0; i < comparison->count; i++) {
        comparison->oils[i].node =
            oil_ref_node(network, &comparison->oils[i].ref);
    }
    code = stock_network_solve(network, error);
    for (size_t i = 0; i < comparison->count && code == EXIT_DONE; i++) {
        struct compared *oil = &comparison->oils[i];
        oil_ref_adjust(network, oil->node, &oil->ref, error);
    }
    return code;
}

static enum exit_code solve(struct comparison *comparison, struct error *error)
{
    const double whole = 1;
    enum exit_code code = EXIT_DONE;
    for (size_t i = 0; i < comparison->count && code == EXIT_DONE; i++) {
        struct compared *oil = &comparison->oils[i];
        const struct mw_network_mix alone = {1,
                                             &oil->node,
                                             &whole,
                                             comparison->t,
                                             comparison->thermometer,
                                             NULL,
                                             NULL,
                                             comparison->read};
        code = oil_at(oil->ref.name, &oil->ref.oil, comparison->t, &oil->state,
                      error);
        oils_find_uncertainty(&comparison->network, &alone,
                              oil->state.viscosity, &oil->uncertainty);
    }
    return code;
}

static double ratio_of(const struct comparison *comparison, size_t i)
{
    return comparison->oils[i].state.viscosity /
           comparison->oils[0].state.viscosity;
}

static void print(const struct comparison *comparison)
{
    char first[TRUNCATED_LENGTH], name[TRUNCATED_LENGTH];
    char text[FORMAT_LENGTH], ratio[FORMAT_LENGTH];
    size_t thick = ratio_of(comparison, 1) < 1 ? 0 : 1;
    double times =
        ratio_of(comparison, thick) / ratio_of(comparison, 1 - thick);
    truncate_columns(comparison->oils[thick].ref.name, NAME_COLUMNS, first);
    truncate_columns(comparison->oils[1 - thick].ref.name, NAME_COLUMNS, name);
    print_wrapped("%s is %s times as thick as %s at %.6g C.", first,
                  format_significant(times, 3, ratio), name, comparison->t);
    print_text("\n  %-*s %9s   +-%%     ratio\n", NAME_COLUMNS, "oil", "mm2/s");
    for (size_t i = 0; i < comparison->count; i++) {
        const struct compared *oil = &comparison->oils[i];
        print_text("  ");
        print_padded(truncate_columns(oil->ref.name, NAME_COLUMNS, name),
                     NAME_COLUMNS);
        print_text(" %9s %5.1f %9s\n",
                   format_significant(oil->state.viscosity, 3, text),
                   100 * MW_COVERAGE * oil->uncertainty.standard,
                   format_significant(ratio_of(comparison, i), 3, ratio));
    }
    print_text("\n");
    print_wrapped("%s", CAUTION_OIL);
}

static enum exit_code print_as_json(const struct comparison *comparison,
                                    struct error *error)
{
    json_t *oils = json_array();
    for (size_t i = 0; i < comparison->count; i++) {
        const struct compared *oil = &comparison->oils[i];
        json_append(oils,
                    json_pack("{s:s, s:o, s:o, s:o}", "name", oil->ref.name,
                              "viscosity", json_number(oil->state.viscosity),
                              "ratio", json_number(ratio_of(comparison, i)),
                              "uncertainty",
                              oils_json_uncertainty(&comparison->network,
                                                    &oil->uncertainty)));
    }
    return print_json("oil-compare",
                      json_pack("{s:o, s:o}", "temperature",
                                json_number(comparison->t), "oils", oils),
                      error);
}

enum exit_code oil_compare(const struct args *args, const struct toleranced *t,
                           const struct oil_defaults *defaults,
                           struct error *error)
{
    struct stock_handle handle = {.file = args->stock};
    struct comparison *comparison = xcalloc(1, sizeof *comparison);
    comparison->thermometer = thermometer_of(t);
    comparison->read = isfinite(t->value) && isfinite(t->limit);
    enum exit_code code =
        read_oils(args, t->value, defaults, &handle, comparison, error);
    if (code == EXIT_DONE &&
        (code = join(&handle.stock, comparison, error)) == EXIT_DONE) {
        code = solve(comparison, error);
    }
    stock_handle_close(&handle);
    if (code == EXIT_DONE && args->json) {
        code = print_as_json(comparison, error);
    } else if (code == EXIT_DONE) {
        print(comparison);
    }
    stock_network_free(&comparison->network);
    free(comparison);
    return code;
}
