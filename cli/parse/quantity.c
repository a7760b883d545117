/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "parse/quantity.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "output/report.h"
#include "parse/number.h"

enum {
    TABLE_ROWS_MAX = 1000,  /* more is a slip of the step */
    THERMOMETER_MAX = 20,   /* degrees; more is no thermometer */
    AMOUNT_MAX = 1000000000 /* ml, g, drops or parts; more is a slip */
};

static const char *skip_spaces(const char *text)
{
    return text + strspn(text, " ");
}

/* -- Temperatures ------------------------------------------------------ */

/* the temperature at *text, up to its end or a '/' */
static enum outcome take_temperature(const char **text, double *celsius,
                                     struct problem *problem)
{
    static const struct {
        const char *symbol;
        enum mw_temperature_scale scale;
    } symbols[] = {{"\u00b0C", MW_CELSIUS},
                   {"\u00b0F", MW_FAHRENHEIT},
                   {"C", MW_CELSIUS},
                   {"F", MW_FAHRENHEIT},
                   {"K", MW_KELVIN}};
    const char *start = *text;
    enum mw_temperature_scale scale = MW_CELSIUS;
    double value;
    if (take_number(text, &value, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    *text = skip_spaces(*text);
    for (size_t i = 0; i < sizeof symbols / sizeof symbols[0]; i++) {
        size_t length = strlen(symbols[i].symbol);
        if (strncasecmp(*text, symbols[i].symbol, length) == 0) {
            scale = symbols[i].scale;
            *text += length;
            break;
        }
    }
    if (**text != '\0' && **text != '/' && **text != ':') {
        return REFUSE("\"%.*s\" is not a temperature; write 12C, 54F or 285K",
                      QUOTED, start);
    }
    enum mw_status status = mw_celsius(value, scale, celsius);
    if (status != MW_OK || !mw_temperature_in_range(*celsius)) {
        return REFUSE("%.*s: %s", (int)(*text - start), start,
                      mw_status_text(MW_ERR_TEMPERATURE));
    }
    return OUTCOME_DONE;
}

enum outcome parse_temperature(const char *text, double *celsius,
                               struct problem *problem)
{
    const char *at = text;
    if (take_temperature(&at, celsius, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    return *at == '\0'
               ? OUTCOME_DONE
               : REFUSE("\"%.*s\" is not a temperature; write 12C, 54F or 285K",
                        QUOTED, text);
}

enum outcome parse_thermometer(const char *text, double *limit,
                               struct problem *problem)
{
    *limit = MW_THERMOMETER;
    if (text && parse_number(text, limit, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    return *limit >= 0 && *limit <= THERMOMETER_MAX
               ? OUTCOME_DONE
               : REFUSE("%.*s: a thermometer is off by 0 to %d degrees", QUOTED,
                        text, (int)THERMOMETER_MAX);
}

enum outcome parse_temperature_range(const char *text,
                                     struct temperature_range *range,
                                     struct problem *problem)
{
    const char *at = text;
    double *const parts[] = {&range->from, &range->to};
    for (size_t i = 0; i < 2; i++) {
        if (take_temperature(&at, parts[i], problem) != OUTCOME_DONE) {
            return problem->outcome;
        }
        if (*at++ != ':') {
            return REFUSE("\"%.*s\" is not FROM:TO:STEP, such as 0C:40C:5",
                          QUOTED, text);
        }
    }
    if (parse_number(at, &range->step, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (!(range->step > 0 && range->to >= range->from)) {
        return REFUSE("\"%.*s\": TO is not below FROM, and STEP is above zero",
                      QUOTED, text);
    }
    /* a step may miss TO by rounding */
    double rows = (range->to - range->from) / range->step * (1 + 1e-12) + 1;
    if (!(rows <= TABLE_ROWS_MAX)) {
        return REFUSE("\"%.*s\" makes more than %d rows; take a larger STEP",
                      QUOTED, text, (int)TABLE_ROWS_MAX);
    }
    range->rows = (unsigned)rows;
    return OUTCOME_DONE;
}

/* -- Viscosities ------------------------------------------------------- */

static bool ends_unit(char c)
{
    return c == '\0' || c == '@' || c == '/' || c == ' ';
}

/* the longest unit at *text that ends there; *text moves behind it */
static bool take_unit(const char **text, enum mw_viscosity_unit *unit)
{
    char symbol[16];
    for (size_t length = strnlen(*text, sizeof symbol - 1); length > 0;
         length--) {
        memcpy(symbol, *text, length);
        symbol[length] = '\0';
        if (ends_unit((*text)[length]) &&
            mw_viscosity_unit_from_symbol(symbol, unit) == MW_OK) {
            *text += length;
            return true;
        }
    }
    return false;
}

/* a multiplier, k or M, at *text; *text moves behind it */
static double take_multiplier(const char **text)
{
    if (**text == 'k' || **text == 'K') {
        (*text)++;
        return 1e3;
    }
    if (**text == 'M') {
        (*text)++;
        return 1e6;
    }
    return 1;
}

static enum outcome refuse_unit(const char *start, const char *rest,
                                struct problem *problem)
{
    if (tolower((unsigned char)*rest) == 'w') {
        return REFUSE("\"%.*s\": weight numbers follow no common scale; give "
                      "mm2/s from the data sheet, or measure",
                      QUOTED, start);
    }
    return REFUSE("\"%.*s\" is not a viscosity; write 350, 350cSt, 10k, 0.5M, "
                  "340mPa.s or 350@40C",
                  QUOTED, start);
}

enum outcome parse_viscosity_part(const char **text,
                                  struct viscosity *viscosity,
                                  struct problem *problem)
{
    const char *start = *text;
    struct viscosity read = {.unit = MW_MM2_S};
    if (take_plain_viscosity(text, &read.value, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    *text = skip_spaces(*text);
    if (!take_unit(text, &read.unit)) {
        read.value *= take_multiplier(text);
        *text = skip_spaces(*text);
        take_unit(text, &read.unit);
    }
    *text = skip_spaces(*text);
    if (**text == '@') {
        (*text)++;
        if (**text == '\0') {
            return REFUSE("%.*s: a temperature is missing after @", QUOTED,
                          start);
        }
        read.has_temperature = true;
        if (take_temperature(text, &read.temperature, problem) !=
            OUTCOME_DONE) {
            return problem->outcome;
        }
    }
    if (**text != '\0' && **text != '/') {
        return refuse_unit(start, *text, problem);
    }
    if (!(read.value > 0)) {
        return REFUSE("%.*s: a viscosity is above zero", QUOTED, start);
    }
    *viscosity = read;
    return OUTCOME_DONE;
}

enum outcome parse_viscosity(const char *text, struct viscosity *viscosity,
                             struct problem *problem)
{
    const char *at = text;
    if (parse_viscosity_part(&at, viscosity, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    return *at == '\0' ? OUTCOME_DONE : refuse_unit(text, at, problem);
}

enum outcome resolve_viscosity(const struct viscosity *viscosity,
                               enum mw_family family, double density,
                               double fallback, struct mw_point *point,
                               struct problem *problem)
{
    double t = viscosity->has_temperature ? viscosity->temperature : fallback;
    double v, value = viscosity->value;
    enum mw_status status;
    if (mw_viscosity_unit_is_dynamic(viscosity->unit)) {
        /* 1 g/ml turns any dynamic unit to mPa.s */
        mw_viscosity_to_mm2_s(value, viscosity->unit, 1, t, &value);
        status = mw_oil_from_dynamic(family, value, t, density, &v);
    } else {
        status = mw_viscosity_to_mm2_s(value, viscosity->unit, density, t, &v);
    }
    if (status == MW_OK && !mw_viscosity_in_range(v)) {
        status = MW_ERR_VISCOSITY;
    }
    if (status != MW_OK) {
        char given[FIGURES_LENGTH];
        return REFUSE("%s %s: %s", as_given(viscosity->value, given),
                      mw_viscosity_unit_symbol(viscosity->unit),
                      mw_status_text(status));
    }
    *point = (struct mw_point){v, t};
    return OUTCOME_DONE;
}

/* -- Amounts ----------------------------------------------------------- */

/* a number of either sign and its kind */
static enum outcome take_amount(const char *text, struct amount *amount,
                                struct problem *problem)
{
    const char *at = text;
    if (take_number(&at, &amount->value, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (!(fabs(amount->value) <= AMOUNT_MAX)) {
        return REFUSE("%.*s: an amount is at most %d", QUOTED, text,
                      (int)AMOUNT_MAX);
    }
    at = skip_spaces(at);
    if (strcasecmp(at, "ml") == 0) {
        amount->kind = AMOUNT_ML;
    } else if (strcasecmp(at, "g") == 0) {
        amount->kind = AMOUNT_G;
    } else if (strcasecmp(at, "drops") == 0 || strcasecmp(at, "drop") == 0) {
        amount->kind = AMOUNT_DROPS;
    } else if (*at == '\0') {
        amount->kind = AMOUNT_PARTS;
    } else {
        return REFUSE("\"%.*s\" is not an amount; write 20ml, 20g, 12drops "
                      "or parts such as 2",
                      QUOTED, text);
    }
    return OUTCOME_DONE;
}

enum outcome parse_amount(const char *text, struct amount *amount,
                          struct problem *problem)
{
    struct amount read;
    if (take_amount(text, &read, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (!(read.value > 0)) {
        return REFUSE("%.*s: an amount is above zero", QUOTED, text);
    }
    *amount = read;
    return OUTCOME_DONE;
}

enum outcome parse_left(const char *text, struct amount *amount,
                        struct problem *problem)
{
    struct amount read;
    if (take_amount(text, &read, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (!(read.value >= 0)) {
        return REFUSE("%.*s: what is left is not below zero", QUOTED, text);
    }
    if (read.kind == AMOUNT_PARTS) {
        read.kind = AMOUNT_ML;
    }
    if (read.kind == AMOUNT_DROPS) {
        return REFUSE("%.*s: what is left is in ml or g", QUOTED, text);
    }
    *amount = read;
    return OUTCOME_DONE;
}

enum outcome parse_batch(const char *text, double *count, struct amount *each,
                         struct problem *problem)
{
    const char *cross = strchr(text, 'x');
    size_t digits = strspn(text, "0123456789");
    *count = 1;
    if (cross && digits > 0 && text + digits == cross) {
        *count = strtod(text, NULL);
        text = cross + 1;
    }
    if (parse_amount(text, each, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if ((each->kind != AMOUNT_ML && each->kind != AMOUNT_G) || !(*count > 0)) {
        return REFUSE("\"%.*s\" is not a batch; write 20ml, 20g or 4x2.5ml",
                      QUOTED, text);
    }
    return OUTCOME_DONE;
}

/* an amount of one kind, whose unit may be left out */
static enum outcome parse_kind(const char *text, enum amount_kind kind,
                               const char *unit, double *value,
                               struct problem *problem)
{
    struct amount amount = {kind, 0};
    if (parse_amount(text, &amount, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    *value = amount.value;
    return amount.kind == kind || amount.kind == AMOUNT_PARTS
               ? OUTCOME_DONE
               : REFUSE("%.*s is not in %s", QUOTED, text, unit);
}

enum outcome parse_ml(const char *text, double *ml, struct problem *problem)
{
    return parse_kind(text, AMOUNT_ML, "ml", ml, problem);
}

enum outcome parse_g(const char *text, double *g, struct problem *problem)
{
    return parse_kind(text, AMOUNT_G, "g", g, problem);
}

enum outcome parse_drops(const char *text, double *count, struct amount *mass,
                         struct problem *problem)
{
    const char *at = text;
    if (take_number(&at, count, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (*at != '=' || !(*count > 0)) {
        return REFUSE("\"%.*s\" is not COUNT=MASS; weigh 50 drops and write "
                      "50=0.62g",
                      QUOTED, text);
    }
    mass->kind = AMOUNT_G;
    return parse_g(at + 1, &mass->value, problem);
}

enum outcome parse_density(const char *text, double *density,
                           struct problem *problem)
{
    double value;
    if (parse_number(text, &value, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (!mw_density_in_range(value)) {
        return REFUSE("%.*s: %s; silicone oil is about 0.97", QUOTED, text,
                      mw_status_text(MW_ERR_DENSITY));
    }
    *density = value;
    return OUTCOME_DONE;
}

enum outcome parse_percent(const char *text, double *fraction,
                           struct problem *problem)
{
    const char *at = text;
    double value;
    if (take_hundredths(&at, &value, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    at = skip_spaces(at);
    if (*at == '%') {
        at++;
    }
    if (*at != '\0' || !(value >= 0 && value < 1)) {
        return REFUSE("\"%.*s\" is not a per cent from 0 to below 100; write "
                      "30%%",
                      QUOTED, text);
    }
    *fraction = value;
    return OUTCOME_DONE;
}
