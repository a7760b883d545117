/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* what was measured, as text and as JSON */
#include <math.h>
#include <stdio.h>

#include "measure/measurement.h"
#include "output/json.h"
#include "output/text.h"
#include "util/format.h"

enum { INPUT_COLUMNS = 32 };

/* the band of k = 2 */
static void find_band(const struct measurement *measurement, double *low,
                      double *high)
{
    /* NaN, printed as such, where the result is no viscosity */
    mw_budget_band(&measurement->budget, measurement->viscosity, low, high);
}

/* what the oil is where its family is rated */
struct rating {
    struct mw_point point; /* NaN where the family has no law of its own */
    unsigned warnings;     /* how far the law is to be trusted */
};

static struct rating find_rating(const struct measurement *measurement)
{
    double t = measurement->temperature.value;
    const struct mw_point measured = {measurement->viscosity, t};
    struct mw_oil oil;
    struct rating rating = {{NAN, mw_family_rating_t(measurement->family)}, 0};
    struct mw_point *point = &rating.point;
    if (mw_oil_make(measurement->family, &measured, 1, NAN, &oil) == MW_OK &&
        mw_oil_viscosity(&oil, point->temperature, &point->viscosity) ==
            MW_OK &&
        !mw_same_temperature(t, point->temperature)) {
        rating.warnings = mw_oil_warnings(&oil, t);
    }
    return rating;
}

/* the lines of a budget, the largest contribution first */
static void sort_budget(const struct mw_budget *budget,
                        double shares[MW_BUDGET_MAX],
                        size_t order[MW_BUDGET_MAX])
{
    for (size_t i = 0; i < budget->count; i++) {
        size_t at = i;
        mw_budget_share(budget, i, &shares[i]);
        for (; at > 0 && shares[i] > shares[order[at - 1]]; at--) {
            order[at] = order[at - 1];
        }
        order[at] = i;
    }
}

/* -- Text -------------------------------------------------------------- */

/* what it brings, standard, of ln v */
static double part_of(const struct mw_contribution *part)
{
    return fabs(part->sensitivity * part->uncertainty);
}

static void print_budget(const struct mw_budget *budget)
{
    double shares[MW_BUDGET_MAX];
    size_t order[MW_BUDGET_MAX];
    sort_budget(budget, shares, order);
    print_text("  ");
    print_padded("uncertainty budget, k = 1", INPUT_COLUMNS);
    print_text("     +-%%    share\n");
    for (size_t i = 0; i < budget->count; i++) {
        const struct mw_contribution *part = &budget->parts[order[i]];
        print_text("  ");
        print_padded(part->name, INPUT_COLUMNS);
        print_text(" %7.2f %6.1f %%\n", 100 * part_of(part), shares[order[i]]);
    }
    print_text("  ");
    print_padded("combined standard uncertainty", INPUT_COLUMNS);
    print_text(" %7.2f\n\n", 100 * mw_budget_combined(budget));
}

/* what a better measurement would begin with */
static void print_largest(const struct mw_budget *budget)
{
    double shares[MW_BUDGET_MAX];
    size_t order[MW_BUDGET_MAX];
    sort_budget(budget, shares, order);
    if (budget->count > 0) {
        print_wrapped("Largest contribution: %s (%.0f %% of the variance).",
                      budget->parts[order[0]].name, shares[order[0]]);
    }
}

static void print_heading(const struct measurement *measurement)
{
    char v[FORMAT_LENGTH], from[FORMAT_LENGTH], to[FORMAT_LENGTH];
    double low, high;
    find_band(measurement, &low, &high);
    print_text("%s mm2/s at %.6g C, +-%.1f %% (k = 2): %s to %s\n\n",
               format_significant(measurement->viscosity, 3, v),
               measurement->temperature.value,
               100 * MW_COVERAGE * mw_budget_combined(&measurement->budget),
               format_significant(low, 3, from),
               format_significant(high, 3, to));
}

void measure_print(const struct measurement *measurement, bool explain)
{
    char text[FORMAT_LENGTH];
    const struct rating rating = find_rating(measurement);
    const struct mw_point *rated = &rating.point;
    print_heading(measurement);
    print_text("  by         %s", measurement->method);
    if (measurement->time.count > 0) {
        print_text(", %s s",
                   format_significant(measurement->time.mean, 3, text));
    }
    if (measurement->time.count > 1) {
        print_text(" (mean of %zu)", measurement->time.count);
    }
    print_text("\n");
    if (isfinite(measurement->reynolds)) {
        print_text("  Reynolds   %s\n",
                   format_significant(measurement->reynolds, 2, text));
    }
    if (isfinite(rated->viscosity) &&
        !mw_same_temperature(rated->temperature,
                             measurement->temperature.value)) {
        print_text("  at %.6g C    %s mm2/s, by the law of %s\n",
                   rated->temperature,
                   format_significant(rated->viscosity, 3, text),
                   mw_family_name(measurement->family));
    }
    print_text("\n");
    if (explain) {
        print_budget(&measurement->budget);
    } else {
        print_largest(&measurement->budget);
    }
    print_warnings(measurement->warnings | rating.warnings);
}

/* -- JSON -------------------------------------------------------------- */

static json_t *json_budget(const struct mw_budget *budget)
{
    double shares[MW_BUDGET_MAX], combined = mw_budget_combined(budget);
    size_t order[MW_BUDGET_MAX];
    json_t *list = json_array();
    sort_budget(budget, shares, order);
    for (size_t i = 0; i < budget->count; i++) {
        const struct mw_contribution *part = &budget->parts[order[i]];
        json_append(list,
                    json_contribution(part->name, part_of(part), combined));
    }
    return list;
}

static json_t *json_time(const struct timing *time)
{
    return json_pack("{s:o, s:i, s:o}", "mean", json_number(time->mean),
                     "count", (int)time->count, "uncertainty",
                     json_number(time->uncertainty));
}

static json_t *json_saved(const struct measurement *measurement)
{
    const struct mw_bottle *best = &measurement->bottle.best;
    return measurement->saving
               ? json_pack("{s:s, s:o, s:o}", "name", measurement->bottle.name,
                           "best", json_point(&best->oil.points[0]),
                           "uncertainty",
                           json_uncertainty_of(best->uncertainty,
                                               best->oil.points[0].viscosity))
               : json_null();
}

json_t *measure_json(const struct measurement *measurement)
{
    double low, high;
    const struct rating rating = find_rating(measurement);
    find_band(measurement, &low, &high);
    return json_pack(
        "{s:s, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o}", "method",
        measurement->method, "viscosity", json_number(measurement->viscosity),
        "temperature", json_number(measurement->temperature.value),
        "uncertainty",
        json_uncertainty(mw_budget_combined(&measurement->budget), low, high,
                         json_budget(&measurement->budget)),
        "with_known_oil_percent",
        json_number(100 * MW_COVERAGE * measurement->known), "reynolds",
        json_number(measurement->reynolds), "time_s",
        json_time(&measurement->time), "rating",
        isfinite(rating.point.viscosity) ? json_point(&rating.point)
                                         : json_null(),
        "warnings", json_warnings(measurement->warnings | rating.warnings),
        "saved", json_saved(measurement));
}
