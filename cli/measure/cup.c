/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* measure cup: the time a cup takes to run out */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "measure/cups.h"
#include "measure/measurement.h"
#include "oils/cup.h"
#include "output/text.h"
#include "parse/number.h"

enum { OWN = MEASURE_OWN, FOR, LIST, CSV };

static const struct command_option options[] = {
    MEASURE_OPTIONS(THERMOMETER_HELP("at")),
    OPTION(OWN, "own", "A:B", "Use a cup of your own, v = A t - B/t"),
    OPTION(FOR, "for", "OIL", "Choose a cup for this oil"),
    OPTION(LIST, "list", NULL, "List the cups and their ranges"),
    OPTION(CSV, "csv", NULL, "Print the cups of --for or --list as CSV"),
    {0},
};

enum { NAME_COLUMNS = 24 };

/* a cup and how well its formula is known */
struct chosen {
    struct mw_cup cup;
    char name[METHOD_LENGTH];
    char instrument[METHOD_LENGTH]; /* of a cup of one's own; else "" */
    double law;                     /* of ln v; NaN: as a label is known */
    size_t first_time;              /* which argument the times begin at */
};

/* -- Which cup --------------------------------------------------------- */

static enum exit_code read_own(const char *text, struct chosen *chosen,
                               struct error *error)
{
    chosen->law = NAN;
    snprintf(chosen->name, METHOD_LENGTH, "own cup %.*s", QUOTED, text);
    return parse_cup_constants("--own", text, &chosen->cup, error);
}

/* what may be written for a cup, one after the other */
static void add_name(char *list, size_t size, const char *name)
{
    size_t used = strlen(list);
    if (used + strlen(name) + sizeof ", " <= size) {
        sprintf(list + used, "%s%s", used ? ", " : "", name);
    }
}

static enum exit_code add_own_name(struct own_cup *cup, void *context,
                                   struct error *error)
{
    (void)error;
    add_name(context, METHOD_LENGTH, cup->name);
    return EXIT_DONE;
}

/* "ISO4" for "ISO 4": one word on the command line */
static void add_standard_name(char *list, size_t size, const char *name)
{
    char word[16];
    size_t length = 0;
    for (; *name && length + 1 < sizeof word; name++) {
        if (*name != ' ') {
            word[length++] = *name;
        }
    }
    word[length] = '\0';
    add_name(list, size, word);
}

static enum exit_code refuse_unknown(const char *name, struct stock *stock,
                                     struct error *error)
{
    char standard[256] = "", own[METHOD_LENGTH] = "";
    for (size_t i = 0; i < mw_cup_count(); i++) {
        add_standard_name(standard, sizeof standard, mw_cup_by_index(i)->name);
    }
    enum exit_code code = own_cups_each(stock, add_own_name, own, error);
    if (code != EXIT_DONE) {
        return code;
    }
    return refuse(error, "no cup \"%.*s\"; there are %s, and of your own %s",
                  QUOTED, name, standard,
                  *own ? own : "none yet (see midweight measure calibrate)");
}

static enum exit_code find_own(struct stock *stock, const char *name,
                               struct chosen *chosen, struct error *error)
{
    struct own_cup own;
    char short_name[TRUNCATED_LENGTH];
    bool found;
    enum exit_code code = own_cup_load(stock, name, &own, &found, error);
    if (code == EXIT_DONE && found) {
        code = measure_refuse(mw_cup_own(own.a, own.b, &chosen->cup), error);
        chosen->law = own.uncertainty;
        snprintf(chosen->name, METHOD_LENGTH, "own cup %s",
                 truncate_columns(own.name, NAME_COLUMNS, short_name));
        own_cup_instrument(&own, chosen->instrument, METHOD_LENGTH);
    } else if (code == EXIT_DONE) {
        code = refuse_unknown(name, stock, error);
    }
    own_cup_free(&own);
    return code;
}

static enum exit_code find_cup(const struct args *args, const char *name,
                               struct chosen *chosen, struct error *error)
{
    struct stock stock;
    if (mw_cup_by_name(name, &chosen->cup) == MW_OK) {
        chosen->law = chosen->cup.law;
        snprintf(chosen->name, METHOD_LENGTH, "cup %s", chosen->cup.name);
        return EXIT_DONE;
    }
    enum exit_code code = stock_open(&stock, args->stock, error);
    if (code == EXIT_DONE) {
        code = find_own(&stock, name, chosen, error);
    }
    stock_close(&stock);
    return code;
}

static enum exit_code choose_cup(const struct args *args, struct chosen *chosen,
                                 struct error *error)
{
    if (args->value[OWN]) {
        return read_own(args->value[OWN], chosen, error);
    }
    if (args->count == 0) {
        return refuse(error,
                      "which cup, and which time? try midweight measure cup "
                      "ISO4 64.5s --at 22C");
    }
    chosen->first_time = 1;
    return find_cup(args, args->argument[0], chosen, error);
}

/* -- Its time ---------------------------------------------------------- */

/* the next narrower or wider cup of the same standard, NULL for none */
static const struct mw_cup *neighbour(const struct mw_cup *cup, bool wider)
{
    const struct mw_cup *last = NULL, *one;
    for (size_t i = 0; (one = mw_cup_by_index(i)); i++) {
        /* a cup of one's own has no standard */
        bool same = cup->standard && strcmp(one->standard, cup->standard) == 0;
        if (same && wider && last && strcmp(last->name, cup->name) == 0) {
            return one;
        }
        if (same && !wider && strcmp(one->name, cup->name) == 0) {
            return last;
        }
        last = same ? one : last;
    }
    return NULL;
}

static enum exit_code refuse_time(const struct chosen *chosen, double time,
                                  struct error *error)
{
    const struct mw_cup *cup = &chosen->cup;
    bool wider = time > cup->time_max;
    const struct mw_cup *other = neighbour(cup, wider);
    return error_set(error, EXIT_NO_ANSWER,
                     "%.6g s is outside %.6g to %.6g s, for which %s holds "
                     "for %s; take a %s hole%s%s",
                     time, cup->time_min, cup->time_max, cup->standard,
                     cup->name, wider ? "wider" : "narrower",
                     other ? ", such as " : "", other ? other->name : "");
}

static enum exit_code run_out(const struct chosen *chosen,
                              struct measurement *measurement,
                              struct error *error)
{
    struct mw_cup_uncertainty u = {measurement->time.uncertainty, chosen->law};
    double time = measurement->time.mean;
    enum mw_status status =
        mw_cup_viscosity(&chosen->cup, time, &measurement->viscosity);
    if (status == MW_ERR_CUP_TIME) {
        return refuse_time(chosen, time, error);
    }
    if (status == MW_OK && isnan(u.law)) {
        status = mw_label_uncertainty(measurement->viscosity, &u.law);
    }
    if (status == MW_OK) {
        status = mw_cup_budget(&chosen->cup, time, &u, &measurement->budget);
    }
    if (status == MW_OK && time < MW_SHORT_TIME) {
        measurement->warnings |= MW_WARN_SHORT_TIME;
    }
    return measure_refuse(status, error);
}

/* one known oil, whose label is as good as most, in place of the formula */
static enum exit_code find_known(const struct chosen *chosen,
                                 struct measurement *measurement,
                                 struct error *error)
{
    struct measurement other = *measurement;
    struct chosen calibrated = *chosen;
    enum exit_code code;
    calibrated.law = NAN;
    other.budget = (struct mw_budget){0};
    if ((code = run_out(&calibrated, &other, error)) == EXIT_DONE &&
        (code = measure_add_temperature(&other, error)) == EXIT_DONE) {
        measurement->known = mw_budget_combined(&other.budget);
    }
    return code;
}

static enum exit_code read_times(const struct args *args,
                                 const struct chosen *chosen,
                                 struct timing *timing, struct error *error)
{
    struct times times = {0};
    if (args->count == chosen->first_time) {
        return refuse(error, "which time? add it, such as 64.5s or several");
    }
    for (size_t i = chosen->first_time; i < args->count; i++) {
        enum exit_code code = parse_times(args->argument[i], &times, error);
        if (code != EXIT_DONE) {
            return code;
        }
    }
    return measure_time(&times, timing, error);
}

static enum exit_code measure(const struct args *args,
                              struct measurement *measurement,
                              struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct chosen chosen = {.law = NAN};
    if ((code = choose_cup(args, &chosen, error)) != EXIT_DONE ||
        (code = read_times(args, &chosen, &measurement->time, error)) !=
            EXIT_DONE ||
        (code = measure_begin(args, NAN, MW_SILICONE, measurement, error)) !=
            EXIT_DONE ||
        (code = run_out(&chosen, measurement, error)) != EXIT_DONE ||
        (code = measure_add_temperature(measurement, error)) != EXIT_DONE) {
        return code;
    }
    if (!isnan(chosen.cup.law) &&
        (code = find_known(&chosen, measurement, error)) != EXIT_DONE) {
        return code;
    }
    memcpy(measurement->method, chosen.name, METHOD_LENGTH);
    memcpy(measurement->instrument,
           *chosen.instrument ? chosen.instrument : chosen.name, METHOD_LENGTH);
    return measure_finish(args, measurement, error);
}

static enum exit_code run(const struct args *args, struct error *error)
{
    struct measurement measurement = {0};
    bool csv = args->value[CSV] != NULL;
    if (args->value[LIST]) {
        return list_cups(args, csv, error);
    }
    if (args->value[FOR]) {
        return cups_for(args, args->value[FOR], csv, error);
    }
    if (csv) {
        return refuse(error, "--csv prints a table; it goes with --for or "
                             "--list");
    }
    enum exit_code code = measure(args, &measurement, error);
    measure_end(&measurement);
    return code;
}

const struct command command_measure_cup = {
    .name = "measure cup",
    .summary = "by the time a flow cup takes to empty",
    .examples =
        "  midweight measure cup ISO4 64.5s --at 22C\n"
        "  midweight measure cup ISO6 58.1s 58.5s --at 22C --save Elm\n"
        "  midweight measure cup --for 350            which cup to take\n"
        "  midweight measure cup --list               what each cup reads\n"
        "  midweight measure cup --own 4.5:320 71s --at 22C\n",
    .arguments = "CUP TIME...",
    .notes = "A TIME is 64.5s, 3min or 1:04.5; several are averaged. "
             "A CUP is a standard one (ISO4, Ford3, Zahn2) or one of "
             "your own, saved by midweight measure calibrate. --at "
             "22C+-0.5C gives the limits of the thermometer (default 1 "
             "C).",
    .options = options,
    .run = run,
};
