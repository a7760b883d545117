/* SPDX-License-Identifier: GPL-3.0-or-later */
/* measure cup: the time a cup takes to run out */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "measure/cups.h"
#include "measure/measurement.h"
#include "output/text.h"
#include "parse/number.h"
#include "store/cup.h"

enum { OWN = MEASURE_OWN, FOR, LIST };

static const struct argp_option options[] = {
    MEASURE_OPTIONS,
    OPTION(OWN, "own", "A:B", "A cup of one's own, v = A t - B/t"),
    OPTION(FOR, "for", "OIL", "Which cups suit this oil"),
    OPTION(LIST, "list", NULL, "Every cup, and what it reads"),
    {0},
};

enum { NAME_COLUMNS = 24 };

/* a cup and how well its formula is known */
struct chosen {
    struct mw_cup cup;
    char name[METHOD_LENGTH];
    double law;        /* of ln v; NaN: as a label is known */
    size_t first_time; /* which argument the times begin at */
};

/* -- Which cup --------------------------------------------------------- */

static enum outcome read_own(const char *text, struct chosen *chosen,
                             struct problem *problem)
{
    double a, b;
    const char *at = text;
    if (!strchr(text, ':')) {
        return REFUSE("\"%.*s\": write --own A:B, such as 4.5:320; a comma may "
                      "be a decimal comma",
                      QUOTED, text);
    }
    if (take_number(&at, &a, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (*at++ != ':') {
        return REFUSE("\"%.*s\": write --own A:B, such as 4.5:320", QUOTED,
                      text);
    }
    if (parse_number(at, &b, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    chosen->law = NAN;
    snprintf(chosen->name, METHOD_LENGTH, "own cup %.*s", QUOTED, text);
    return measure_refuse(mw_cup_own(a, b, &chosen->cup), problem);
}

/* what may be written for a cup, one after the other */
static void add_name(char *list, size_t size, const char *name)
{
    size_t used = strlen(list);
    if (used + strlen(name) + sizeof ", " <= size) {
        sprintf(list + used, "%s%s", used ? ", " : "", name);
    }
}

static void add_own_name(struct own_cup *cup, void *context)
{
    add_name(context, METHOD_LENGTH, cup->name);
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

static enum outcome refuse_unknown(const char *name, struct stock *stock,
                                   struct problem *problem)
{
    char standard[256] = "", own[METHOD_LENGTH] = "";
    for (size_t i = 0; i < mw_cup_count(); i++) {
        add_standard_name(standard, sizeof standard, mw_cup_by_index(i)->name);
    }
    own_cups_each(stock, add_own_name, own);
    return REFUSE("no cup \"%.*s\"; there are %s, and of your own %s", QUOTED,
                  name, standard,
                  *own ? own : "none yet (see midweight measure calibrate)");
}

static enum outcome find_cup(const struct words *words, const char *name,
                             struct chosen *chosen, struct problem *problem)
{
    struct stock stock;
    struct own_cup own;
    if (mw_cup_by_name(name, &chosen->cup) == MW_OK) {
        chosen->law = MW_CUP_LAW;
        snprintf(chosen->name, METHOD_LENGTH, "cup %s", chosen->cup.name);
        return OUTCOME_DONE;
    }
    if (stock_open(&stock, words->stock, problem) == OUTCOME_DONE) {
        if (own_cup_load(&stock, name, &own)) {
            measure_refuse(mw_cup_own(own.a, own.b, &chosen->cup), problem);
            chosen->law = own.uncertainty;
            char short_name[SHORT_LENGTH];
            snprintf(chosen->name, METHOD_LENGTH, "own cup %s",
                     shortened(own.name, NAME_COLUMNS, short_name));
        } else if (problem->outcome == OUTCOME_DONE) {
            refuse_unknown(name, &stock, problem);
        }
        own_cup_free(&own);
    }
    stock_close(&stock);
    return problem->outcome;
}

static enum outcome choose_cup(const struct words *words, struct chosen *chosen,
                               struct problem *problem)
{
    if (words->value[OWN]) {
        return read_own(words->value[OWN], chosen, problem);
    }
    if (words->count == 0) {
        return REFUSE("which cup, and which time? try midweight measure cup "
                      "ISO4 64.5s --at 22C");
    }
    chosen->first_time = 1;
    return find_cup(words, words->argument[0], chosen, problem);
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

static enum outcome refuse_time(const struct chosen *chosen, double time,
                                struct problem *problem)
{
    const struct mw_cup *cup = &chosen->cup;
    bool wider = time > cup->time_max;
    const struct mw_cup *other = neighbour(cup, wider);
    return problem_set(problem, OUTCOME_NO_ANSWER,
                       "%.6g s is outside %.6g to %.6g s, for which %s holds "
                       "for %s; take a %s hole%s%s",
                       time, cup->time_min, cup->time_max, cup->standard,
                       cup->name, wider ? "wider" : "narrower",
                       other ? ", such as " : "", other ? other->name : "");
}

static enum outcome run_out(const struct chosen *chosen,
                            struct measurement *measurement,
                            struct problem *problem)
{
    struct mw_cup_uncertainty u = {measurement->time.uncertainty, chosen->law};
    double time = measurement->time.mean;
    enum mw_status status =
        mw_cup_viscosity(&chosen->cup, time, &measurement->viscosity);
    if (status == MW_ERR_CUP_TIME) {
        return refuse_time(chosen, time, problem);
    }
    if (status == MW_OK && isnan(u.law)) {
        status = mw_label_uncertainty(measurement->viscosity, &u.law);
    }
    if (status == MW_OK) {
        status = mw_cup_budget(&chosen->cup, time, &u, &measurement->budget);
    }
    if (status == MW_OK && time < MW_SHORT_TIME) {
        measurement->notes |= MW_NOTE_SHORT_TIME;
    }
    return measure_refuse(status, problem);
}

static enum outcome read_times(const struct words *words,
                               const struct chosen *chosen,
                               struct timing *timing, struct problem *problem)
{
    struct times times = {0};
    if (words->count == chosen->first_time) {
        return REFUSE("which time? add it, such as 64.5s or several");
    }
    for (size_t i = chosen->first_time; i < words->count; i++) {
        if (parse_times(words->argument[i], &times, problem) != OUTCOME_DONE) {
            return problem->outcome;
        }
    }
    return measure_time(&times, timing, problem);
}

static enum outcome measure(const struct words *words,
                            struct measurement *measurement,
                            struct problem *problem)
{
    struct chosen chosen = {.law = NAN};
    if (choose_cup(words, &chosen, problem) != OUTCOME_DONE ||
        read_times(words, &chosen, &measurement->time, problem) !=
            OUTCOME_DONE ||
        measure_begin(words, NAN, MW_SILICONE, measurement, problem) !=
            OUTCOME_DONE ||
        run_out(&chosen, measurement, problem) != OUTCOME_DONE ||
        measure_add_temperature(measurement, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    memcpy(measurement->method, chosen.name, METHOD_LENGTH);
    return measure_finish(words, measurement, problem);
}

static enum outcome run(const struct command *command, int argc, char **argv,
                        struct problem *problem)
{
    struct words words;
    struct measurement measurement = {0};
    if (options_read(command, options, argc, argv, &words, problem) !=
            OUTCOME_DONE ||
        words.helped) {
        return problem->outcome;
    }
    if (words.value[LIST]) {
        return list_cups(&words, problem);
    }
    if (words.value[FOR]) {
        return cups_for(&words, words.value[FOR], problem);
    }
    measure(&words, &measurement, problem);
    measure_end(&measurement);
    return problem->outcome;
}

const struct command command_measure_cup = {
    .name = "measure cup",
    .summary = "by the time a cup takes to run out",
    .examples =
        "  midweight measure cup ISO4 64.5s --at 22C\n"
        "  midweight measure cup Ford4 36.1s 35.8s --at 22C --save Elm\n"
        "  midweight measure cup --for 350            which cup to take\n"
        "  midweight measure cup --list               what each cup reads\n"
        "  midweight measure cup --own 4.5:320 71s --at 22C\n",
    .arguments = "CUP TIME...",
    .notes = "\vA TIME is 64.5s, 3min or 1:04.5; several are averaged. CUP is "
             "that of a standard (ISO4, Ford3, Zahn2) or one calibrated by "
             "midweight measure calibrate. --at 22C+-0.5C says how far the "
             "thermometer may be off (1 C).",
    .run = run,
};
