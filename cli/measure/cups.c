/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/cups.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "measure/measurement.h"
#include "oils/cup.h"
#include "output/csv.h"
#include "output/json.h"
#include "output/text.h"
#include "parse/number.h"
#include "util/format.h"
#include "util/xalloc.h"

enum { NAME_COLUMNS = 20, STANDARD_COLUMNS = 18 };

/* -- All cups ---------------------------------------------------------- */

/* the standard cups, then one's own with names that belong to the list */
struct cups {
    size_t count;
    struct mw_cup *list;
};

static void add_cup(const struct mw_cup *cup, struct cups *cups)
{
    cups->list =
        xreallocarray(cups->list, cups->count + 1, sizeof cups->list[0]);
    cups->list[cups->count++] = *cup;
}

static enum exit_code add_own_cup(struct own_cup *own, void *context,
                                  struct error *error)
{
    struct mw_cup cup;
    (void)error;
    if (mw_cup_own(own->a, own->b, &cup) == MW_OK) {
        cup.name = xstrdup(own->name);
        cup.law = own->uncertainty;
        add_cup(&cup, context);
    }
    return EXIT_DONE;
}

static enum exit_code gather_cups(const struct args *args, struct cups *cups,
                                  struct error *error)
{
    struct stock stock;
    for (size_t i = 0; i < mw_cup_count(); i++) {
        add_cup(mw_cup_by_index(i), cups);
    }
    enum exit_code code = stock_open(&stock, args->stock, error);
    if (code == EXIT_DONE) {
        code = own_cups_each(&stock, add_own_cup, cups, error);
    }
    stock_close(&stock);
    return code;
}

static void free_cups(struct cups *cups)
{
    for (size_t i = mw_cup_count(); i < cups->count; i++) {
        free((char *)cups->list[i].name);
    }
    free(cups->list);
}

/* mm2/s at an end of the window; NaN for an own cup, which has none */
static double reads_at(const struct mw_cup *cup, double time)
{
    double v;
    mw_cup_viscosity(cup, time, &v);
    return v;
}

static json_t *json_cup(const struct mw_cup *cup)
{
    return json_pack("{s:s, s:s, s:o, s:o, s:o, s:o}", "name", cup->name,
                     "standard", cup->standard, "time_min",
                     json_number(cup->time_min), "time_max",
                     json_number(cup->time_max), "viscosity_min",
                     json_number(reads_at(cup, cup->time_min)), "viscosity_max",
                     json_number(reads_at(cup, cup->time_max)));
}

/* one cup; its time for an oil, NaN where none is asked about */
static void print_csv_cup(const struct mw_cup *cup, double time)
{
    const double values[] = {time, cup->time_min, cup->time_max,
                             reads_at(cup, cup->time_min),
                             reads_at(cup, cup->time_max)};
    enum { VALUES = sizeof values / sizeof values[0] };
    char text[VALUES][ROUNDTRIP_LENGTH];
    const char *fields[2 + VALUES + 1] = {cup->name, cup->standard};
    for (size_t i = 0; i < VALUES; i++) {
        fields[2 + i] =
            isfinite(values[i]) ? format_roundtrip(values[i], text[i]) : "";
    }
    csv_row(stdout, fields);
}

/* those with a time, or all where no times are given */
static void print_csv(const struct cups *cups, const double *times)
{
    static const char *const titles[] = {
        "cup",        "standard",      "time_s",        "time_min_s",
        "time_max_s", "viscosity_min", "viscosity_max", NULL};
    csv_row(stdout, titles);
    for (size_t i = 0; i < cups->count; i++) {
        if (!times || !isnan(times[i])) {
            print_csv_cup(&cups->list[i], times ? times[i] : (double)NAN);
        }
    }
}

static void print_name(const struct mw_cup *cup)
{
    char text[TRUNCATED_LENGTH];
    print_text("  ");
    print_padded(truncate_columns(cup->name, NAME_COLUMNS, text), NAME_COLUMNS);
    print_text(" ");
    print_padded(cup->standard, STANDARD_COLUMNS);
}

/* -- The list ---------------------------------------------------------- */

static void print_cup(const struct mw_cup *cup)
{
    char one[FORMAT_LENGTH], other[FORMAT_LENGTH];
    print_name(cup);
    if (isfinite(cup->time_max)) {
        print_text(" %3.6g to %-3.6g %8s to %s\n", cup->time_min, cup->time_max,
                   format_significant(reads_at(cup, cup->time_min), 3, one),
                   format_significant(reads_at(cup, cup->time_max), 3, other));
    } else {
        print_text(" v = %s t - %s/t\n", format_significant(cup->a, 4, one),
                   format_significant(cup->b, 4, other));
    }
}

static void print_cups(const struct cups *cups)
{
    print_text("  %-*s %-*s %-10s %8s\n", (int)NAME_COLUMNS, "cup",
               (int)STANDARD_COLUMNS, "standard", "  s", "mm2/s");
    for (size_t i = 0; i < cups->count; i++) {
        print_cup(&cups->list[i]);
    }
}

static json_t *json_cups(const struct cups *cups)
{
    json_t *list = json_array();
    for (size_t i = 0; i < cups->count; i++) {
        json_append(list, json_cup(&cups->list[i]));
    }
    return json_pack("{s:o}", "cups", list);
}

enum exit_code list_cups(const struct args *args, bool csv, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct cups cups = {0};
    if (args->count > 0) {
        return refuse(error,
                      "--list shows all cups; \"%.*s\" is one word too many",
                      QUOTED, args->argument[0]);
    }
    if ((code = gather_cups(args, &cups, error)) == EXIT_DONE) {
        if (args->json) {
            code = print_json("cups", json_cups(&cups), error);
        } else if (csv) {
            print_csv(&cups, NULL);
        } else {
            print_cups(&cups);
        }
    }
    free_cups(&cups);
    return code;
}

/* -- Which cup for an oil ---------------------------------------------- */

static enum exit_code refuse_oil(double viscosity, struct error *error)
{
    char v[FORMAT_LENGTH], least[FORMAT_LENGTH], most[FORMAT_LENGTH];
    double low = INFINITY, high = 0;
    const struct mw_cup *cup;
    for (size_t i = 0; (cup = mw_cup_by_index(i)); i++) {
        low = fmin(low, reads_at(cup, cup->time_min));
        high = fmax(high, reads_at(cup, cup->time_max));
    }
    return error_set(error, EXIT_NO_ANSWER,
                     "no cup suits %s mm2/s: the standard ones reach from "
                     "%s to %s; a falling ball reaches further (midweight "
                     "measure ball --for)",
                     format_significant(viscosity, 3, v),
                     format_significant(low, 2, least),
                     format_significant(high, 3, most));
}

/* standard uncertainty of ln v of one run by hand; NaN of a cup that does not
 * suit */
static double uncertainty_of(const struct mw_cup *cup, double time)
{
    struct mw_cup_uncertainty u = {NAN, cup->law};
    struct mw_budget budget = {0};
    double mean;
    bool good = mw_hand_time(&time, 1, &mean, &u.time) == MW_OK &&
                mw_cup_budget(cup, time, &u, &budget) == MW_OK;
    return good ? mw_budget_combined(&budget) : (double)NAN;
}

static size_t surest_cup(const struct cups *cups, const double *times)
{
    size_t surest = 0;
    double least = INFINITY;
    for (size_t i = 0; i < cups->count; i++) {
        double u = uncertainty_of(&cups->list[i], times[i]);
        if (u < least) {
            least = u;
            surest = i;
        }
    }
    return surest;
}

static void print_suitable(const struct cups *cups, const double *times,
                           const struct mw_point *oil)
{
    char text[FORMAT_LENGTH], v[FORMAT_LENGTH], name[TRUNCATED_LENGTH];
    size_t surest = surest_cup(cups, times);
    print_wrapped("Take %s: %s mm2/s at %.6g C runs out in %s s.",
                  truncate_columns(cups->list[surest].name, NAME_COLUMNS, name),
                  format_significant(oil->viscosity, 3, v), oil->temperature,
                  format_significant(times[surest], 3, text));
    print_text("\n  %-20s %-18s %8s %6s  window\n", "cup", "standard", "s",
               "+-%");
    for (size_t i = 0; i < cups->count; i++) {
        const struct mw_cup *cup = &cups->list[i];
        if (isnan(times[i])) {
            continue;
        }
        print_name(cup);
        print_text(" %8s %6.1f", format_significant(times[i], 3, text),
                   100 * MW_COVERAGE * uncertainty_of(cup, times[i]));
        if (isfinite(cup->time_max)) {
            print_text("  %.6g to %.6g", cup->time_min, cup->time_max);
        }
        print_text("\n");
    }
    print_text("\n");
    print_wrapped(
        "+-%% is k = 2, by the cup and one run by hand; the surest is "
        "taken. A longer run makes the stopwatch count for less.");
}

static json_t *json_suitable(const struct cups *cups, const double *times,
                             const struct mw_point *oil)
{
    json_t *list = json_array(), *json = json_point(oil);
    for (size_t i = 0; i < cups->count; i++) {
        if (!isnan(times[i])) {
            json_t *cup = json_cup(&cups->list[i]);
            json_set(cup, "time", json_number(times[i]));
            json_append(list, cup);
        }
    }
    json_set(json, "cups", list);
    return json;
}

static enum exit_code offer(const struct args *args, bool csv,
                            const struct cups *cups, const struct mw_point *oil,
                            struct error *error)
{
    enum exit_code code = EXIT_DONE;
    double *times = xcalloc(cups->count, sizeof times[0]);
    size_t suitable = 0;
    for (size_t i = 0; i < cups->count; i++) {
        /* NaN for a cup that does not suit */
        suitable +=
            mw_cup_time(&cups->list[i], oil->viscosity, &times[i]) == MW_OK;
    }
    if (suitable == 0) {
        code = refuse_oil(oil->viscosity, error);
    } else if (args->json) {
        code = print_json("cups-for", json_suitable(cups, times, oil), error);
    } else if (csv) {
        print_csv(cups, times);
    } else {
        print_suitable(cups, times, oil);
    }
    free(times);
    return code;
}

enum exit_code cups_for(const struct args *args, const char *oil, bool csv,
                        struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct cups cups = {0};
    struct oil_ref ref;
    struct mw_point point;
    if (args->count > 0) {
        return refuse(error,
                      "--for asks which cup; \"%.*s\" is one word too many",
                      QUOTED, args->argument[0]);
    }
    if ((code = measure_wanted(args, oil, &ref, &point, error)) == EXIT_DONE &&
        (code = gather_cups(args, &cups, error)) == EXIT_DONE) {
        code = offer(args, csv, &cups, &point, error);
    }
    free_cups(&cups);
    return code;
}

enum exit_code parse_cup_constants(const char *option, const char *text,
                                   struct mw_cup *cup, struct error *error)
{
    double a, b;
    const char *at = text;
    if (!strchr(text, ':')) {
        return refuse(error,
                      "\"%.*s\": write %s A:B, such as 4.5:320; a comma may "
                      "be a decimal comma",
                      QUOTED, text, option);
    }
    enum exit_code code = take_number(&at, &a, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (*at++ != ':') {
        return refuse(error, "\"%.*s\": write %s A:B, such as 4.5:320", QUOTED,
                      text, option);
    }
    code = parse_number(at, &b, error);
    return code == EXIT_DONE ? measure_refuse(mw_cup_own(a, b, cup), error)
                             : code;
}
