/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "oil/print.h"

#include <math.h>
#include <stdio.h>

#include "output/cautions.h"
#include "output/csv.h"
#include "output/json.h"
#include "output/text.h"
#include "util/format.h"

double oil_row_temperature(const struct oil_question *question, unsigned row)
{
    return question->table.from + row * question->table.step;
}

bool oil_in_unit(const struct mw_oil_state *state, enum mw_viscosity_unit unit,
                 double *value)
{
    return mw_viscosity_from_mm2_s(state->viscosity, unit, state->density,
                                   state->temperature, value) == MW_OK;
}

/* -- Text -------------------------------------------------------------- */

static void print_one(const struct oil_answer *answer)
{
    char text[FORMAT_LENGTH];
    print_text("%s\n", format_compact(answer->in_unit, text));
}

static double fahrenheit_of(double celsius)
{
    double value;
    mw_from_celsius(celsius, MW_FAHRENHEIT, &value);
    return value;
}

/* what it is at the temperature asked about */
static void print_headline(const struct oil_question *question,
                           const struct oil_answer *answer)
{
    const struct mw_oil_state *state = &answer->state;
    double expanded = 100 * MW_COVERAGE * answer->uncertainty.standard;
    char v[FORMAT_LENGTH];
    char at[FORMAT_LENGTH];
    format_significant(state->viscosity, 3, v);
    snprintf(at, sizeof at, "%.6g C", state->temperature);
    if (question->fahrenheit) {
        snprintf(at, sizeof at, "%.6g F (%.1f C)",
                 fahrenheit_of(state->temperature), state->temperature);
    }
    if (isfinite(expanded)) {
        print_wrapped("%s mm2/s at %s, +-%.1f %% (k = 2).", v, at, expanded);
    } else {
        print_wrapped("%s mm2/s at %s.", v, at);
    }
}

static void print_points(const struct oil_question *question)
{
    char viscosity[FORMAT_LENGTH];
    const struct mw_oil *oil = &question->ref.oil;
    print_text("  oil        ");
    if (question->ref.id) {
        print_text("%s, ", question->ref.name);
    }
    print_text("%s", mw_family_name(oil->family));
    if (oil->count > 2) {
        /* they follow in a table of their own */
        print_text(", %zu points, %.6g to %.6g C\n", oil->count, oil->t_low,
                   oil->t_high);
        return;
    }
    for (size_t i = 0; i < oil->count; i++) {
        print_text(", %s mm2/s at %.6g C",
                   format_compact(oil->points[i].viscosity, viscosity),
                   oil->points[i].temperature);
    }
    print_text("\n");
}

static void print_classes(const struct oil_answer *answer)
{
    if (answer->iso_vg || answer->sae_j300) {
        print_text("  classes    ");
    }
    if (answer->iso_vg) {
        print_text("ISO 3448 VG %d by 40 C%s", answer->iso_vg,
                   answer->sae_j300 ? ", " : "\n");
    }
    if (answer->sae_j300) {
        print_text("SAE J300 %d by 100 C alone\n", answer->sae_j300);
    }
}

static void print_state(const struct oil_question *question,
                        const struct oil_answer *answer)
{
    const struct mw_oil_state *state = &answer->state;
    char text[FORMAT_LENGTH], density[FORMAT_LENGTH];
    double stokes, si, sus;
    oil_in_unit(state, MW_STOKES, &stokes);
    oil_in_unit(state, MW_M2_S, &si);
    if (isfinite(answer->uncertainty.low)) {
        print_text("  between    %s and %s mm2/s (cSt), k = 2\n",
                   format_significant(answer->uncertainty.low, 3, text),
                   format_significant(answer->uncertainty.high, 3, density));
    }
    print_text("  dynamic    %s mPa.s (cP), density %s g/ml\n",
               format_significant(state->dynamic, 3, text),
               format_significant(state->density, 3, density));
    print_text("  units      %s St, %s m2/s",
               format_significant(stokes, 3, text),
               format_significant(si, 3, density));
    if (oil_in_unit(state, MW_SUS, &sus)) {
        print_text(", %s SUS", format_significant(sus, 3, text));
    }
    print_text("\n");
    print_text("  factor     %s of the rating at %.6g C",
               format_significant(state->factor, 3, text),
               question->ref.oil.points[0].temperature);
    if (isfinite(state->slope)) {
        print_text(", %.2f %% per degree", 100 * state->slope);
    }
    print_text("\n");
    print_classes(answer);
    print_text("\n");
}

double oil_row_uncertainty(const struct oil_question *question, double t)
{
    const double whole = 1;
    const struct mw_network_mix alone = {1,    &question->node,       &whole,
                                         t,    question->thermometer, NULL,
                                         NULL, question->read};
    struct mw_budget budget;
    double v;
    return mw_network_mix(question->network.network, &alone, &v, &budget,
                          NULL) == MW_OK
               ? mw_budget_combined(&budget)
               : (double)NAN;
}

static void print_table(const struct oil_question *question)
{
    char v[FORMAT_LENGTH], mu[FORMAT_LENGTH], factor[FORMAT_LENGTH];
    if (question->table.rows == 0) {
        return;
    }
    if (question->table.fahrenheit) {
        print_text("  %8s", "F");
    }
    print_text("  %8s %10s %6s %10s %8s\n", "C", "mm2/s", "+-%", "mPa.s",
               "factor");
    for (unsigned row = 0; row < question->table.rows; row++) {
        struct mw_oil_state state;
        mw_oil_at(&question->ref.oil, oil_row_temperature(question, row),
                  &state);
        if (question->table.fahrenheit) {
            print_text("  %8.4g", fahrenheit_of(state.temperature));
        }
        double u = oil_row_uncertainty(question, state.temperature);
        print_text("  %8.6g %10s %6.1f %10s %8s\n", state.temperature,
                   format_significant(state.viscosity, 3, v),
                   100 * MW_COVERAGE * u,
                   format_significant(state.dynamic, 3, mu),
                   format_significant(state.factor, 3, factor));
    }
    print_text("\n");
}

static void explain(const struct oil_question *question,
                    const struct oil_answer *answer)
{
    const struct mw_oil *oil = &question->ref.oil;
    if (oil->has_line) {
        print_wrapped("Method: ASTM D341 through its points.");
    } else {
        print_wrapped("Method: the silicone law, ln v falls with 14.61 kJ/mol "
                      "over temperature.");
    }
    oils_print_budget(&question->network, &answer->uncertainty);
    print_wrapped("Assumed: the label within its tolerance, rectangular; a "
                  "thermometer to +-%.3g K. Where the constants come from "
                  "stands in midweight(1).",
                  question->thermometer);
    print_text("\n");
}

static void print_amount(const struct oil_question *question,
                         const struct oil_answer *answer)
{
    char ml[FORMAT_LENGTH], g[FORMAT_LENGTH], drops[FORMAT_LENGTH + 20] = "";
    char name[TRUNCATED_LENGTH];
    double count = answer->ml / question->ref.drop_ml;
    if (isnan(answer->ml)) {
        return;
    }
    if (isfinite(count)) {
        snprintf(drops, sizeof drops, ", %.*f drops", count < 10 ? 1 : 0,
                 count);
    }
    print_wrapped(
        "%s ml of %s at %.6g C are %s g%s.",
        format_significant(answer->ml, 3, ml),
        truncate_columns(question->ref.name, 22, name), question->temperature,
        format_significant(answer->ml * answer->state.density, 3, g), drops);
}

/* where it thins, of an oil that does so by hand */
static void print_shear(const struct oil_question *question,
                        const struct oil_answer *answer)
{
    char rate[FORMAT_LENGTH], stress[FORMAT_LENGTH];
    if (answer->state.viscosity >= MW_SHEAR_THICK || question->explain) {
        format_significant(answer->shear.rate, 2, rate);
        format_significant(answer->shear.stress / 1000, 2, stress);
        if (isfinite(answer->shear.rate)) {
            print_wrapped(
                "It thins in fast flow: 5 %% are lost at about %s 1/s, %s kPa "
                "(an estimate, good to a factor of %.0f).",
                rate, stress, MW_SHEAR_FACTOR);
        }
    }
}

void oil_print(const struct oil_question *question,
               const struct oil_answer *answer)
{
    if (question->one_unit) {
        print_one(answer);
        return;
    }
    print_amount(question, answer);
    print_headline(question, answer);
    if (question->table.rows > 0) {
        print_text("\n");
    }
    if (question->table.rows == 0 || question->explain) {
        print_points(question);
        print_state(question, answer);
    }
    print_table(question);
    fit_print(&answer->fit);
    if (question->explain) {
        explain(question, answer);
    }
    oils_print_uncertainty(&question->network, &answer->uncertainty);
    print_shear(question, answer);
    print_warnings(answer->state.warnings);
    print_wrapped("%s", CAUTION_OIL);
}

/* -- CSV --------------------------------------------------------------- */

void oil_print_csv(const struct oil_question *question)
{
    csv_row(stdout,
            (const char *[]){"temperature", "viscosity", "dynamic_mpas",
                             "density", "factor", "expanded_percent", NULL});
    for (unsigned row = 0; row < question->table.rows; row++) {
        char numbers[6][ROUNDTRIP_LENGTH];
        struct mw_oil_state state;
        mw_oil_at(&question->ref.oil, oil_row_temperature(question, row),
                  &state);
        csv_row(stdout,
                (const char *[]){
                    format_roundtrip(state.temperature, numbers[0]),
                    format_roundtrip(state.viscosity, numbers[1]),
                    format_roundtrip(state.dynamic, numbers[2]),
                    format_roundtrip(state.density, numbers[3]),
                    format_roundtrip(state.factor, numbers[4]),
                    format_roundtrip(
                        100 * MW_COVERAGE *
                            oil_row_uncertainty(question, state.temperature),
                        numbers[5]),
                    NULL});
    }
}
