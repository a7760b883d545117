/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* measure calibrate: a cup of one's own by known oils */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "measure/measurement.h"
#include "oils/cup.h"
#include "output/cautions.h"
#include "output/csv.h"
#include "output/json.h"
#include "output/text.h"
#include "parse/number.h"
#include "util/format.h"

enum { FORGET = MEASURE_OWN };

static const struct command_option options[] = {
    OPTION(MEASURE_AT, "at", "T",
           "Take the oils at this temperature (default: where all are rated)"),
    OPTION(MEASURE_THERMOMETER, "thermometer", "K",
           "Allow for this error of the thermometer (default 0)"),
    OPTION(MEASURE_FAMILY, "family", "FAMILY",
           "Take the oils as silicone or mineral"),
    OPTION(MEASURE_SAVE, "save", "CUP", "Save the cup under this name"),
    OPTION(FORGET, "forget", "CUP", "Delete a saved cup"),
    {0},
};

/* known oils and the cup they give */
struct calibration {
    size_t count;
    const char *names[MW_CUP_RUNS_MAX];
    struct mw_oil oils[MW_CUP_RUNS_MAX];
    struct mw_cup_run runs[MW_CUP_RUNS_MAX];
    double known[MW_CUP_RUNS_MAX]; /* standard uncertainties, of ln v */
    sqlite3_int64 bottles[MW_CUP_RUNS_MAX]; /* 0: written out */
    double part[MW_CUP_RUNS_MAX]; /* of these: what the thermometer brings */
    double temperature, limit;    /* degC, and how it is known; NaN: exactly */
    struct mw_cup cup;
    double residual, law; /* of ln v */
    unsigned warnings;
};

/* -- The command line -------------------------------------------------- */

/* OIL=TIME, where TIME may be several joined by a slash */
static enum exit_code read_run(char *word, const struct oil_defaults *defaults,
                               struct stock_handle *handle,
                               struct calibration *calibration,
                               struct error *error)
{
    size_t i = calibration->count;
    char *equals = strrchr(word, '=');
    struct times times = {0};
    struct timing timing;
    struct oil_ref ref;
    if (!equals || i == MW_CUP_RUNS_MAX) {
        return refuse(error,
                      "\"%.*s\": up to %d known oils and their times are "
                      "wanted, such as 350=71s",
                      QUOTED, word, (int)MW_CUP_RUNS_MAX);
    }
    *equals = '\0';
    enum exit_code code;
    if ((code = oil_ref_find(handle, word, defaults, &ref, error)) !=
            EXIT_DONE ||
        (code = parse_times(equals + 1, &times, error)) != EXIT_DONE ||
        (code = measure_time(&times, &timing, error)) != EXIT_DONE) {
        return code;
    }
    calibration->names[i] = word;
    calibration->oils[i] = ref.oil;
    calibration->known[i] = ref.uncertainty;
    calibration->bottles[i] = ref.id;
    calibration->runs[i].time = timing.mean;
    calibration->runs[i].time_uncertainty = timing.uncertainty;
    calibration->count++;
    return EXIT_DONE;
}

/* --at, or the temperature that all oils are rated at */
static enum exit_code find_temperature(const struct args *args,
                                       struct calibration *calibration,
                                       struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct toleranced temperature = {calibration->oils[0].points[0].temperature,
                                     NAN};
    code = parse_thermometer(args->value[MEASURE_AT],
                             args->value[MEASURE_THERMOMETER], &temperature,
                             error);
    calibration->temperature = temperature.value;
    calibration->limit = temperature.limit;
    if (code != EXIT_DONE || args->value[MEASURE_AT]) {
        return code;
    }
    for (size_t i = 1; i < calibration->count; i++) {
        if (!mw_same_temperature(calibration->oils[i].points[0].temperature,
                                 calibration->temperature)) {
            return refuse(error,
                          "the oils are rated at different temperatures; say "
                          "with --at which they had");
        }
    }
    return EXIT_DONE;
}

/* the limits of the thermometer move each known oil by its slope */
static void add_temperature(struct calibration *calibration, size_t i)
{
    struct mw_oil_state state;
    double t = calibration->temperature, u;
    if (mw_rectangular(calibration->limit, &u) == MW_OK &&
        mw_oil_at(&calibration->oils[i], t, &state) == MW_OK &&
        isfinite(state.slope)) {
        calibration->part[i] = u * fabs(state.slope);
        calibration->known[i] =
            hypot(calibration->known[i], calibration->part[i]);
    }
}

static enum exit_code read_runs(const struct args *args,
                                struct calibration *calibration,
                                struct error *error)
{
    struct oil_defaults defaults;
    struct stock_handle handle = {.file = args->stock};
    if (args->count < 2) {
        return refuse(error,
                      "two known oils or more are wanted, such as midweight "
                      "measure calibrate 100=21s 350=71s");
    }
    enum exit_code code =
        parse_oil_defaults(args->value[MEASURE_FAMILY], NULL, &defaults, error);
    if (code != EXIT_DONE) {
        return code;
    }
    for (size_t i = 0; i < args->count && code == EXIT_DONE; i++) {
        /* argv belongs to the program, which may write to it */
        code = read_run((char *)args->argument[i], &defaults, &handle,
                        calibration, error);
    }
    stock_handle_close(&handle);
    if (code != EXIT_DONE ||
        (code = find_temperature(args, calibration, error)) != EXIT_DONE) {
        return code;
    }
    for (size_t i = 0; i < calibration->count && code == EXIT_DONE; i++) {
        double t = calibration->temperature;
        const struct mw_oil *oil = &calibration->oils[i];
        code = oil_viscosity_at(calibration->names[i], oil, t,
                                &calibration->runs[i].viscosity, error);
        calibration->warnings |= mw_oil_warnings(oil, t);
        add_temperature(calibration, i);
    }
    return code;
}

static enum exit_code calibrate(struct calibration *calibration,
                                struct error *error)
{
    enum mw_status status = mw_cup_calibrate(
        calibration->runs, calibration->count, &calibration->cup,
        &calibration->residual, &calibration->warnings);
    if (status == MW_OK) {
        status = mw_cup_own_law(&calibration->cup, calibration->runs,
                                calibration->known, calibration->count,
                                calibration->residual, &calibration->law);
    }
    return measure_refuse(status, error);
}

/* -- Printing ---------------------------------------------------------- */

/* by how much the cup reads a known oil high, a fraction */
static double reads_high(const struct calibration *calibration, size_t i)
{
    double v;
    mw_cup_viscosity(&calibration->cup, calibration->runs[i].time, &v);
    double high = v / calibration->runs[i].viscosity - 1;
    /* two oils are met but for rounding */
    return fabs(high) < 1e-12 ? 0 : high;
}

static void print_cup(const struct calibration *calibration, const char *kept)
{
    char one[FORMAT_LENGTH], other[FORMAT_LENGTH], name[TRUNCATED_LENGTH];
    print_text("v = %s t", format_significant(calibration->cup.a, 5, one));
    if (calibration->cup.b > 0) {
        print_text(" - %s/t", format_significant(calibration->cup.b, 5, other));
    }
    print_text("  (mm2/s, t in s)\n\n");
    print_text("  %-24s %10s %8s %10s\n", "known oil", "mm2/s", "s",
               "cup reads");
    for (size_t i = 0; i < calibration->count; i++) {
        const struct mw_cup_run *run = &calibration->runs[i];
        print_text("  ");
        print_padded(truncate_columns(calibration->names[i], 24, name), 24);
        print_text(" %10s %8s %+8.1f %%\n",
                   format_significant(run->viscosity, 3, one),
                   format_significant(run->time, 3, other),
                   100 * reads_high(calibration, i));
    }
    print_text("\n");
    print_wrapped(
        "At %.6g C. Known to +-%.1f %% (k = 2), by the known oils and "
        "how well they fit.",
        calibration->temperature, 100 * MW_COVERAGE * calibration->law);
    print_warnings(calibration->warnings);
    print_wrapped("%s%s%s", kept ? "Saved as " : "--save CUP keeps it",
                  kept ? kept : " under a name",
                  kept ? "; midweight measure cup takes it by this name."
                       : ".");
    print_wrapped("%s", CAUTION_MEASURE);
}

static json_t *json_cup(const struct calibration *calibration, const char *kept)
{
    json_t *runs = json_array();
    for (size_t i = 0; i < calibration->count; i++) {
        const struct mw_cup_run *run = &calibration->runs[i];
        json_append(runs,
                    json_pack("{s:s, s:o, s:o, s:o}", "name",
                              calibration->names[i], "viscosity",
                              json_number(run->viscosity), "time",
                              json_number(run->time), "reads_high_percent",
                              json_number(100 * reads_high(calibration, i))));
    }
    return json_pack("{s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o}", "a",
                     json_number(calibration->cup.a), "b",
                     json_number(calibration->cup.b), "temperature",
                     json_number(calibration->temperature), "residual_percent",
                     json_number(100 * calibration->residual), "uncertainty",
                     json_uncertainty_of(calibration->law, NAN), "runs", runs,
                     "warnings", json_warnings(calibration->warnings), "saved",
                     kept ? json_string(kept) : json_null());
}

static enum exit_code print_answer(const struct args *args,
                                   const struct calibration *calibration,
                                   struct error *error)
{
    const char *kept = args->value[MEASURE_SAVE];
    if (args->json) {
        return print_json("calibrate", json_cup(calibration, kept), error);
    }
    print_cup(calibration, kept);
    return EXIT_DONE;
}

/* -- Keeping ----------------------------------------------------------- */

static enum exit_code keep(const struct args *args,
                           const struct calibration *calibration,
                           struct error *error)
{
    enum exit_code code = EXIT_DONE;
    const char *name = args->value[MEASURE_SAVE];
    struct stock stock = {0};
    char what[QUOTED * 4];
    struct own_cup cup = {.name = (char *)name,
                          .a = calibration->cup.a,
                          .b = calibration->cup.b,
                          .uncertainty = calibration->law};
    for (size_t i = 0; i < calibration->count; i++) {
        bool bottle = calibration->bottles[i] != 0;
        cup.runs[cup.run_count++] = (struct own_cup_run){
            calibration->bottles[i], calibration->temperature,
            bottle ? calibration->part[i] : calibration->known[i],
            calibration->runs[i]};
    }
    if ((code = parse_date(NULL, cup.made, error)) == EXIT_DONE &&
        (code = stock_begin(&stock, args->stock, error)) == EXIT_DONE &&
        (code = own_cup_store(&stock, &cup, error)) == EXIT_DONE) {
        snprintf(what, sizeof what, "cup %.*s", 2 * QUOTED, name);
        code = stock_commit(&stock, what, error);
    }
    stock_close(&stock);
    return code == EXIT_DONE ? print_answer(args, calibration, error) : code;
}

static enum exit_code forget(const struct args *args, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    const char *name = args->value[FORGET];
    struct stock stock;
    char what[QUOTED * 4];
    if (args->count > 0) {
        return refuse(error,
                      "--forget stands alone; \"%.*s\" is one word too many",
                      QUOTED, args->argument[0]);
    }
    bool exists = false;
    if ((code = stock_begin_existing(&stock, args->stock, error)) ==
            EXIT_DONE &&
        (code = own_cup_exists(&stock, name, &exists, error)) == EXIT_DONE) {
        code = exists ? own_cup_delete(&stock, name, error)
                      : refuse(error,
                               "no cup \"%.*s\" is kept; see midweight measure "
                               "cup --list",
                               QUOTED, name);
    }
    if (code == EXIT_DONE) {
        snprintf(what, sizeof what, "delete cup %.*s", 2 * QUOTED, name);
        code = stock_commit(&stock, what, error);
    }
    stock_close(&stock);
    if (code == EXIT_DONE) {
        print_wrapped("Deleted %s; midweight stock undo brings it back.", name);
    }
    return code;
}

static enum exit_code run(const struct args *args, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct calibration calibration = {0};
    const char *save = args->value[MEASURE_SAVE];
    if (args->value[FORGET]) {
        return forget(args, error);
    }
    if (save && (code = check_cup_name(save, error)) != EXIT_DONE) {
        return code;
    }
    if ((code = read_runs(args, &calibration, error)) != EXIT_DONE ||
        (code = calibrate(&calibration, error)) != EXIT_DONE) {
        return code;
    }
    return save ? keep(args, &calibration, error)
                : print_answer(args, &calibration, error);
}

const struct command command_measure_calibrate = {
    .name = "measure calibrate",
    .summary = "calibrate a cup of your own with known oils",
    .examples =
        "  midweight measure calibrate 100=21.4s 350=71.8s\n"
        "  midweight measure calibrate Birch=42s/42.4s Elm=71.8s --at 21C \\\n"
        "      --save Syringe\n"
        "  midweight measure cup Syringe 55.2s --at 21C\n"
        "  midweight measure calibrate --forget Syringe\n",
    .arguments = "OIL=TIME OIL=TIME...",
    .notes = "A cup is anything that empties through a hole, such as "
             "the body of a syringe. Its law, v = A t - B/t, is fitted "
             "by least squares. Oils of the stock that have been "
             "measured calibrate a cup better than labels do.",
    .options = options,
    .run = run,
};
