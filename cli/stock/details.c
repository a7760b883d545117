/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "stock/details.h"

#include <math.h>
#include <stdlib.h>

#include "oils/bottle_json.h"
#include "output/text.h"
#include "parse/amount.h"
#include "parse/number.h"
#include "util/format.h"
#include "util/xalloc.h"

enum exit_code details_check_left(const struct bottle *bottle, double ml,
                                  struct error *error)
{
    char left[FORMAT_LENGTH];
    return bottle->left_ml < ml
               ? error_set(error, EXIT_NO_ANSWER, "%.*s holds only %s ml",
                           QUOTED, bottle->name,
                           format_significant(bottle->left_ml, 3, left))
               : EXIT_DONE;
}

/* ml of what is written in ml or g */
static enum exit_code read_ml(const char *text, const struct bottle *bottle,
                              double *ml, struct error *error)
{
    struct amount amount;
    double density;
    enum exit_code code = parse_left(text, &amount, error);
    if (code != EXIT_DONE) {
        return code;
    }
    *ml = amount.value;
    if (amount.kind == MW_AMOUNT_G) {
        enum mw_status status = mw_oil_density(
            &bottle->label, mw_family_density_t(bottle->label.family), &density,
            NULL);
        if (status == MW_OK) {
            status = mw_dose_volume(amount.value, density, ml);
        }
        if (status != MW_OK) {
            return refuse(error, "%s; write --left in ml",
                          mw_status_text(status));
        }
    }
    return EXIT_DONE;
}

/* 31ml, or +5ml and -2ml against what is left now */
static enum exit_code read_left(const char *text, struct bottle *bottle,
                                struct error *error)
{
    bool more = *text == '+', less = *text == '-';
    double ml;
    enum exit_code code = read_ml(text + (more || less), bottle, &ml, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if ((more || less) && isnan(bottle->left_ml)) {
        return refuse(error,
                      "how much is left is not known; write --left 31ml first");
    }
    if (less && (code = details_check_left(bottle, ml, error)) != EXIT_DONE) {
        return code;
    }
    bottle->left_ml = more   ? bottle->left_ml + ml
                      : less ? bottle->left_ml - ml
                             : ml;
    return EXIT_DONE;
}

/* the drop of a bottle from drops that were measured, such as 50=0.62g or
 * 50=0.65ml */
static enum exit_code read_drops(const char *text, struct bottle *bottle,
                                 struct error *error)
{
    double count, density;
    struct amount mass;
    enum exit_code code = parse_drops(text, &count, &mass, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (mass.kind == MW_AMOUNT_ML) {
        bottle->drop_ml = mass.value / count;
        return EXIT_DONE;
    }
    enum mw_status status = mw_oil_density(
        &bottle->label, mw_family_density_t(bottle->label.family), &density,
        NULL);
    if (status == MW_OK) {
        status = mw_drop_volume(count, mass.value, density, &bottle->drop_ml);
    }
    return status == MW_OK
               ? EXIT_DONE
               : refuse(error, "--drops: %s", mw_status_text(status));
}

enum exit_code details_read(const struct args *args, struct bottle *bottle,
                            struct error *error)
{
    enum exit_code code = EXIT_DONE;
    const char *const *value = args->value;
    if (value[DETAIL_TOLERANCE] &&
        (code = parse_percent(value[DETAIL_TOLERANCE], &bottle->tolerance,
                              error)) != EXIT_DONE) {
        return code;
    }
    if (!(bottle->tolerance >= UNCERTAINTY_MIN)) {
        return refuse(error,
                      "a label is never exact; give a tolerance above zero");
    }
    if (value[DETAIL_LEFT] &&
        (code = read_left(value[DETAIL_LEFT], bottle, error)) != EXIT_DONE) {
        return code;
    }
    if (value[DETAIL_DROPS] &&
        (code = read_drops(value[DETAIL_DROPS], bottle, error)) != EXIT_DONE) {
        return code;
    }
    if (value[DETAIL_NOTE]) {
        code = check_text(value[DETAIL_NOTE], error);
        if (code != EXIT_DONE) {
            return code;
        }
        free(bottle->note);
        bottle->note = xstrdup(value[DETAIL_NOTE]);
    }
    return bottle_estimate(bottle, error);
}

enum exit_code details_print(const struct args *args, const char *what,
                             const char *done, const struct bottle *bottle,
                             struct error *error)
{
    char viscosity[FORMAT_LENGTH];
    if (args->json) {
        return print_change_json(done, bottle->name, bottle, NAN, NAN, error);
    }
    const struct mw_oil *oil = &bottle->best.oil;
    print_wrapped("%s %s: %s mm2/s at %.6g C, +-%.1f %%.", what, bottle->name,
                  format_significant(oil->points[0].viscosity, 3, viscosity),
                  oil->points[0].temperature,
                  100 * MW_COVERAGE * bottle->best.uncertainty);
    return EXIT_DONE;
}
