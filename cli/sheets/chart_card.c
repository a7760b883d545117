/* SPDX-License-Identifier: GPL-3.0-or-later */
/* card chart: what is asked */
#include "parse/number.h"
#include "parse/viscosity.h"
#include "sheets/chart_sheet.h"
#include "sheets/commands.h"
#include "sheets/model/oil_list.h"

enum { FROM, TO, AT, BLEND, FAMILY, DENSITY };

static const struct argp_option options[] = {
    OPTION(FROM, "from", "T", "The coldest temperature"),
    OPTION(TO, "to", "T", "The warmest temperature"),
    OPTION(AT, "at", "T",
           "Today's temperature, as a line; with --blend the "
           "temperature of the mix"),
    OPTION(BLEND, "blend", NULL, "Two oils: the blends that they give"),
    OPTION(FAMILY, "family", "FAMILY",
           "What the oils are: silicone or mineral"),
    OPTION(DENSITY, "density", "D",
           "Density in g/ml (silicone at 25 C, mineral at 15 C)"),
    SHEET_OPTIONS,
    {0},
};

static enum outcome read_view(const struct words *words, struct view *view,
                              struct problem *problem)
{
    const struct {
        int option;
        bool *has;
        double *t;
    } parts[] = {{FROM, &view->has_from, &view->from},
                 {TO, &view->has_to, &view->to},
                 {AT, &view->has_today, &view->today}};
    *view = (struct view){0};
    for (size_t i = 0; i < 3; i++) {
        const char *text = words->value[parts[i].option];
        *parts[i].has = text != NULL;
        if (text &&
            parse_temperature(text, parts[i].t, problem) != OUTCOME_DONE) {
            break;
        }
    }
    return problem->outcome;
}

static enum outcome draw_blend(const struct words *words,
                               const struct bottles *rack,
                               struct problem *problem)
{
    struct blend_pair pair;
    struct mw_excess excess;
    size_t lessons;
    if (words->value[FROM] || words->value[TO]) {
        return REFUSE("a blend is at one temperature; leave --from and --to "
                      "out, or --blend");
    }
    if (sheet_wanted(words, problem) != OUTCOME_DONE ||
        rack_excess(words, &excess, &lessons, problem) != OUTCOME_DONE ||
        pair_make(rack, &excess, lessons, words->value[AT], &pair, problem) !=
            OUTCOME_DONE) {
        return problem->outcome;
    }
    return blend_sheet_make(words, &pair, problem);
}

static enum outcome draw_oils(const struct words *words,
                              const struct bottles *rack,
                              struct problem *problem)
{
    struct view view;
    if (read_view(words, &view, problem) != OUTCOME_DONE ||
        view_choose(rack, &view, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (words->output) {
        return chart_sheet_make(words, rack, &view, problem);
    }
    if (words->json) {
        return REFUSE("--json tells where a sheet was written; add -o");
    }
    chart_print(rack, &view);
    return OUTCOME_DONE;
}

static enum outcome make_chart(const struct words *words, struct bottles *rack,
                               struct problem *problem)
{
    struct oil_habits habits;
    if (parse_habits(words->value[FAMILY], words->value[DENSITY], &habits,
                     problem) != OUTCOME_DONE ||
        rack_fill(words, &habits, rack, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    return words->value[BLEND] ? draw_blend(words, rack, problem)
                               : draw_oils(words, rack, problem);
}

static enum outcome run(const struct command *command, int argc, char **argv,
                        struct problem *problem)
{
    return rack_run(command, options, argc, argv, make_chart, problem);
}

const struct command command_card_chart = {
    .name = "card chart",
    .summary = "oils over temperature, or the blends of a pair",
    .examples =
        "  midweight card chart                          the stock, as text\n"
        "  midweight card chart --at 12C -o oils.pdf     the same as a sheet\n"
        "  midweight card chart 350 500 --blend -o blends.svg\n",
    .arguments = "[OIL...]",
    .notes = "\vOn the axes of ASTM D341 an oil that is known at two "
             "temperatures is a straight line. Numbers are estimates: measure "
             "what matters.",
    .run = run,
};
