/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* card chart: what is asked */
#include "parse/number.h"
#include "parse/viscosity.h"
#include "sheets/chart_sheet.h"
#include "sheets/commands.h"
#include "sheets/model/oil_list.h"

enum { FROM, TO, AT, BLEND, FAMILY, DENSITY };

static const struct command_option options[] = {
    OPTION(FROM, "from", "T", "Begin at this temperature"),
    OPTION(TO, "to", "T", "End at this temperature"),
    OPTION(AT, "at", "T",
           "Draw a line at today's temperature; with --blend the "
           "temperature of the mix"),
    OPTION(BLEND, "blend", NULL, "Draw viscosity over share for two oils"),
    OPTION(FAMILY, "family", "FAMILY", "Take the oils as silicone or mineral"),
    OPTION(DENSITY, "density", "D",
           "Take this density in g/ml (silicone at 25 C, mineral at 15 C)"),
    SHEET_OPTIONS,
    {0},
};

static enum exit_code read_view(const struct args *args,
                                struct chart_range *view, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    const struct {
        int option;
        bool *has;
        double *t;
    } parts[] = {{FROM, &view->has_from, &view->from},
                 {TO, &view->has_to, &view->to},
                 {AT, &view->has_today, &view->today}};
    *view = (struct chart_range){0};
    for (size_t i = 0; i < 3; i++) {
        const char *text = args->value[parts[i].option];
        *parts[i].has = text != NULL;
        if (text &&
            (code = parse_temperature(text, parts[i].t, error)) != EXIT_DONE) {
            break;
        }
    }
    return code;
}

static enum exit_code draw_blend(const struct args *args,
                                 struct oil_list *oil_list, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct blend_pair pair;
    if (args->value[FROM] || args->value[TO]) {
        return refuse(error,
                      "a blend is at one temperature; leave --from and --to "
                      "out, or --blend");
    }
    if ((code = sheet_wanted(args, error)) == EXIT_DONE &&
        (code = pair_make(oil_list, args->value[AT], &pair, error)) ==
            EXIT_DONE) {
        code = blend_sheet_make(args, &pair, error);
    }
    return code;
}

static enum exit_code draw_oils(const struct args *args,
                                const struct bottles *oil_list,
                                struct error *error)
{
    struct chart_range view;
    enum exit_code code;
    if ((code = read_view(args, &view, error)) != EXIT_DONE ||
        (code = view_choose(oil_list, &view, error)) != EXIT_DONE) {
        return code;
    }
    if (args->output) {
        return chart_sheet_make(args, oil_list, &view, error);
    }
    if (args->json) {
        return refuse(error, "--json says where a sheet was written; add -o");
    }
    chart_print(oil_list, &view);
    return EXIT_DONE;
}

static enum exit_code make_chart(const struct args *args,
                                 struct oil_list *oil_list, struct error *error)
{
    struct oil_defaults defaults;
    enum exit_code code;
    if ((code = parse_oil_defaults(args->value[FAMILY], args->value[DENSITY],
                                   &defaults, error)) != EXIT_DONE ||
        (code = oil_list_fill(args, &defaults, oil_list, error)) != EXIT_DONE) {
        return code;
    }
    return args->value[BLEND] ? draw_blend(args, oil_list, error)
                              : draw_oils(args, &oil_list->bottles, error);
}

static enum exit_code run(const struct args *args, struct error *error)
{
    return oil_list_run(args, make_chart, error);
}

const struct command command_card_chart = {
    .name = "card chart",
    .summary = "oils over temperature, or the blends of two oils",
    .examples =
        "  midweight card chart                          the stock, as text\n"
        "  midweight card chart --at 12C -o oils.pdf     the same as a sheet\n"
        "  midweight card chart 350 500 --blend -o blends.svg\n",
    .arguments = "[OIL...]",
    .notes = "On the axes of ASTM D341 an oil known at two "
             "temperatures is a straight line. Results are estimates.",
    .options = options,
    .run = run,
};
