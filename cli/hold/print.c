/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>

#include "hold/hold.h"
#include "output/cautions.h"
#include "output/text.h"
#include "util/format.h"

enum { NAME_COLUMNS = 28, LABEL_COLUMNS = 24, PHRASE_LENGTH = 80 };

#define MM 1000.0

/* a smaller change cannot be measured; our own limit */
#define SAME 0.005

/* where less than this is left, the loss has the decimals that show it */
#define LITTLE 0.01

/* what is kept, in a word */
static const char *kept(const struct hold_request *request)
{
    return request->has_spring || request->has_mass ? "damping ratio"
                                                    : "damping";
}

/* "33 % higher", "7.5 % lower", "99.91 % lower" or "the same" */
static const char *compared(double change, char phrase[PHRASE_LENGTH])
{
    char percent[FORMAT_LENGTH], left[FORMAT_LENGTH];
    format_significant(100 * fabs(change), 2, percent);
    if (1 + change < LITTLE) {
        format_significant(100 * (1 + change), 1, left);
        format_decimals_of(-100 * change, left, percent);
    }
    if (fabs(change) < SAME) {
        snprintf(phrase, PHRASE_LENGTH, "the same");
    } else {
        snprintf(phrase, PHRASE_LENGTH, "%s %% %s", percent,
                 change > 0 ? "higher" : "lower");
    }
    return phrase;
}

/* " at 12 C", where temperatures were given */
static const char *place_of(const struct hold_request *request,
                            char place[PHRASE_LENGTH])
{
    place[0] = '\0';
    if (request->has_temperatures) {
        snprintf(place, PHRASE_LENGTH, " at %.6g C", request->t_to);
    }
    return place;
}

/* which oil keeps the damping */
static void print_wanted(const struct hold_request *request,
                         const struct hold_answer *answer)
{
    char text[FORMAT_LENGTH], place[PHRASE_LENGTH];
    const char *family = mw_family_name(request->ref.oil.family);
    const struct mw_point *rating = &answer->rating;
    format_significant(rating->viscosity, 3, text);
    place_of(request, place);
    if (answer->rated && fabs(answer->f_all - 1) < SAME) {
        print_wrapped("The same oil keeps the %s%s.", kept(request), place);
    } else if (answer->rated) {
        print_wrapped("Fill %s oil rated %s mm2/s at %.6g C to keep the %s%s.",
                      family, text, rating->temperature, kept(request), place);
    } else {
        print_wrapped("Fill %s oil that has %s mm2/s at %.6g C to keep the %s. "
                      "Its rating depends on its own slope: see its data "
                      "sheet.",
                      family, text, rating->temperature, kept(request));
    }
}

/* what becomes of it with the same oil, and whether that matters */
static void print_change(const struct hold_request *request,
                         const struct hold_answer *answer)
{
    char phrase[PHRASE_LENGTH], place[PHRASE_LENGTH], before[PHRASE_LENGTH];
    double change = answer->hold.change;
    bool same = fabs(change) < SAME;
    place_of(request, place);
    if (answer->rated && fabs(answer->f_all - 1) < SAME) {
        return; /* the same oil is the answer */
    }
    if (isnan(change)) {
        print_wrapped(
            "What the same oil does%s is not known: it is known at %.6g "
            "C only.",
            place, request->t_from);
        return;
    }
    snprintf(before, sizeof before, " %s before", same ? "as" : "than");
    if (request->has_temperatures && request->t_from != request->t_to) {
        snprintf(before, sizeof before, " %s at %.6g C", same ? "as" : "than",
                 request->t_from);
    }
    print_wrapped("With the same oil the %s%s is %s%s: that %s (this oil is "
                  "known to +-%.2g %%).",
                  kept(request), place, compared(change, phrase), before,
                  answer->matters ? "matters" : "does not matter",
                  100 * MW_COVERAGE * request->ref.uncertainty);
}

static void print_oil(const char *what, double t, double viscosity,
                      double dynamic)
{
    char label[PHRASE_LENGTH];
    char kinematic[FORMAT_LENGTH], pascal[FORMAT_LENGTH];
    if (isnan(viscosity)) {
        return;
    }
    snprintf(label, sizeof label, "%s at %.6g C", what, t);
    print_text("  %-*s %9s mm2/s %9s mPa.s\n", (int)LABEL_COLUMNS, label,
               format_significant(viscosity, 3, kinematic),
               format_significant(dynamic, 3, pascal));
}

static void print_oils(const struct hold_request *request,
                       const struct hold_answer *answer)
{
    print_oil("before,", request->t_from, answer->before.viscosity,
              answer->before.dynamic);
    print_oil("the same oil", request->t_to, answer->same_oil.viscosity,
              answer->same_oil.dynamic);
    print_oil("wanted", request->t_to, answer->hold.viscosity,
              answer->hold.wanted);
    print_text("\n");
}

static void print_factor(const char *name, double factor, const char *because)
{
    char text[FORMAT_LENGTH];
    print_text("  %-12s %7s%s%s\n", name,
               isnan(factor) ? "?" : format_significant(factor, 3, text),
               *because ? "    " : "", because);
}

static void print_change_factor(const char *name, double factor,
                                const struct change *change, const char *unit)
{
    char because[PHRASE_LENGTH], from[FORMAT_LENGTH], to[FORMAT_LENGTH];
    snprintf(because, sizeof because, "%s to %s%s, by the square root",
             format_compact(change->from, from), format_compact(change->to, to),
             change->absolute ? unit : "");
    print_factor(name, factor, because);
}

static void describe_piston(const struct mw_piston *piston,
                            char phrase[PHRASE_LENGTH])
{
    char diameter[FORMAT_LENGTH], thickness[FORMAT_LENGTH];
    int length = snprintf(phrase, PHRASE_LENGTH, "%d x %s mm", piston->holes,
                          format_compact(MM * piston->diameter, diameter));
    if (!isnan(piston->thickness)) {
        snprintf(phrase + length, PHRASE_LENGTH - (size_t)length, " x %s mm",
                 format_compact(MM * piston->thickness, thickness));
    }
}

static void print_piston_factor(const struct hold_request *request,
                                const struct hold_answer *answer)
{
    char from[PHRASE_LENGTH], to[PHRASE_LENGTH];
    char because[2 * PHRASE_LENGTH + 8];
    describe_piston(&request->piston_from, from);
    describe_piston(&request->piston_to, to);
    snprintf(because, sizeof because, "%s to %s", from, to);
    print_factor("piston", answer->f_piston, because);
}

static void print_factors(const struct hold_request *request,
                          const struct hold_answer *answer)
{
    char because[PHRASE_LENGTH];
    print_text("Factors on the oil, which multiply:\n");
    snprintf(because, sizeof because, "%.6g C to %.6g C", request->t_from,
             request->t_to);
    print_factor("temperature", answer->f_temperature, because);
    if (request->has_spring) {
        print_change_factor("spring", answer->f_spring, &request->spring,
                            " N/m");
    }
    if (request->has_mass) {
        print_change_factor("mass", answer->f_mass, &request->mass, " kg");
    }
    if (request->has_piston) {
        print_piston_factor(request, answer);
    }
    print_factor("together", answer->f_all, "");
    print_text("\n");
}

/* a line of the damper's table: a number for each state */
static void print_line(const char *label, const double values[HOLD_STATES])
{
    char text[FORMAT_LENGTH];
    if (isnan(values[HOLD_BEFORE])) {
        return;
    }
    print_text("  %-*s", (int)LABEL_COLUMNS, label);
    for (size_t i = 0; i < HOLD_STATES; i++) {
        print_text(" %9s", isnan(values[i])
                               ? "?"
                               : format_significant(values[i], 3, text));
    }
    print_text("\n");
}

/* from where on the oil thins, where that is asked about or reached */
static void print_shear(const struct hold_request *request,
                        const struct hold_answer *answer)
{
    double before = answer->dampers[HOLD_BEFORE].thins_at;
    double wanted = answer->dampers[HOLD_WANTED].thins_at;
    char one[FORMAT_LENGTH], other[FORMAT_LENGTH];
    bool reached = (answer->warnings & MW_WARN_SHEAR) != 0;
    if (!isnan(before) && !isnan(wanted) && (reached || request->explain)) {
        print_wrapped("The oil in the damper has lost 5 %% to shear at %s m/s "
                      "of the shaft, the one wanted at %s m/s (an estimate, "
                      "good to a factor of %.0f).",
                      format_significant(before, 2, one),
                      format_significant(wanted, 2, other), MW_SHEAR_FACTOR);
    }
}

static void print_damper(const struct hold_request *request,
                         const struct hold_answer *answer)
{
    const struct hold_damper *d = answer->dampers;
    char speed[FORMAT_LENGTH];
#define LINE(label, value)                                                     \
    print_line(label, (const double[HOLD_STATES]){d[HOLD_BEFORE].value,        \
                                                  d[HOLD_SAME_OIL].value,      \
                                                  d[HOLD_WANTED].value})
    print_text("  %-*s %9s %9s %9s\n", (int)LABEL_COLUMNS, "The damper",
               "before", "same oil", "wanted");
    LINE("damping c, N s/m", damping);
    LINE("damping ratio", ratio);
    if (request->gap > 0) {
        LINE("leak, % of the holes", leak * 100);
    }
    if (!isnan(request->speed)) {
        print_text("  at %s m/s:\n", format_compact(request->speed, speed));
    }
    LINE("Reynolds number", at.reynolds);
    LINE("wall rate, 1/s", at.wall_rate);
    LINE("viscous force, N", at.viscous);
    LINE("kinetic force, N", at.kinetic);
    LINE("kinetic share, %", at.kinetic_share * 100);
#undef LINE
    print_text("\n");
    print_shear(request, answer);
    if (!isnan(d[HOLD_BEFORE].ratio)) {
        print_wrapped(
            "The damping ratio is that of one damper, its spring and the "
            "mass on it, without a lever between them.");
    }
}

static void print_pour(const struct hold_request *request,
                       const struct hold_answer *answer)
{
    const struct hold_bottle *bottle = &answer->bottle;
    char name[TRUNCATED_LENGTH], rating[FORMAT_LENGTH], left[FORMAT_LENGTH];
    char phrase[PHRASE_LENGTH], still[PHRASE_LENGTH] = "";
    if (answer->has_stock && !bottle->name) {
        print_wrapped(
            "No bottle of the stock is %s oil that is known at %.6g C "
            "and not empty.",
            mw_family_name(request->ref.oil.family), request->t_to);
    }
    if (!bottle->name) {
        return;
    }
    if (!isnan(bottle->left_ml)) {
        snprintf(still, sizeof still, ", %s ml left",
                 format_significant(bottle->left_ml, 3, left));
    }
    print_wrapped("Nearest bottle of the stock: %s (%s mm2/s at %.6g C, "
                  "+-%.2g %%%s); the %s is then %s%s%s.",
                  truncate_columns(bottle->name, NAME_COLUMNS, name),
                  format_significant(bottle->rating.viscosity, 3, rating),
                  bottle->rating.temperature,
                  100 * MW_COVERAGE * bottle->uncertainty, still, kept(request),
                  compared(bottle->change, phrase),
                  fabs(bottle->change) < SAME ? " as before" : " than before",
                  fabs(bottle->miss) >= fabs(log1p(answer->hold.change))
                      ? ", no better than with the same oil"
                      : "");
}

static void print_mix(const struct hold_request *request,
                      const struct hold_answer *answer)
{
    const struct hold_mix *mix = &answer->mix;
    char thin[TRUNCATED_LENGTH], thick[TRUNCATED_LENGTH], v[FORMAT_LENGTH];
    bool mineral = request->ref.oil.family == MW_MINERAL;
    if (mix->names[0]) {
        print_wrapped(
            "Or mix %.1f %% of %s into %s; for the amounts: midweight "
            "mix --target %s@%.6gC%s",
            100 * mix->share,
            truncate_columns(mix->names[1], NAME_COLUMNS, thick),
            truncate_columns(mix->names[0], NAME_COLUMNS, thin),
            format_significant(answer->wanted.viscosity, 3, v),
            answer->wanted.temperature, mineral ? " --family mineral" : "");
    }
}

void hold_print(const struct hold_request *request,
                const struct hold_answer *answer)
{
    print_wanted(request, answer);
    print_change(request, answer);
    print_pour(request, answer);
    print_mix(request, answer);
    print_text("\n");
    print_oils(request, answer);
    if (request->explain) {
        print_factors(request, answer);
    }
    if (request->has_damper) {
        print_damper(request, answer);
    }
    if (hold_piston_changes(request)) {
        print_wrapped(
            "Other holes with another oil keep the slow feel only: the "
            "part of the force that grows with the square of the speed "
            "follows the holes, not the oil.%s",
            request->gap > 0 ? ""
                             : " A leak past the piston makes the change of "
                               "holes count for less (--gap).");
    }
    print_warnings(answer->warnings);
    if (*answer->stock_trouble) {
        print_wrapped("Warning: %s.", answer->stock_trouble);
    }
    print_wrapped("%s", CAUTION_OIL);
}
