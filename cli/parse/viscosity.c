/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "parse/viscosity.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "parse/number.h"
#include "parse/range.h"
#include "util/format.h"

/* -- Temperatures ------------------------------------------------------ */

/* Celsius where none is named */
static enum mw_temperature_scale take_scale(const char **text)
{
    static const struct {
        const char *symbol;
        enum mw_temperature_scale scale;
    } symbols[] = {{"\u00b0C", MW_CELSIUS},
                   {"\u00b0F", MW_FAHRENHEIT},
                   {"C", MW_CELSIUS},
                   {"F", MW_FAHRENHEIT},
                   {"K", MW_KELVIN}};
    *text = skip_spaces(*text);
    for (size_t i = 0; i < sizeof symbols / sizeof symbols[0]; i++) {
        size_t length = strlen(symbols[i].symbol);
        if (strncasecmp(*text, symbols[i].symbol, length) == 0) {
            *text += length;
            return symbols[i].scale;
        }
    }
    return MW_CELSIUS;
}

/* the temperature at *text, up to its end or a '/' */
static enum exit_code take_temperature(const char **text, double *celsius,
                                       struct error *error)
{
    const char *start = *text;
    double value;
    enum exit_code code = take_number(text, &value, error);
    if (code != EXIT_DONE) {
        return code;
    }
    enum mw_temperature_scale scale = take_scale(text);
    if (strncmp(*text, "+-", 2) == 0) {
        return refuse(error,
                      "\"%.*s\": limits of this temperature do not count; "
                      "leave +- out",
                      QUOTED, start);
    }
    if (**text != '\0' && **text != '/' && **text != ':') {
        return refuse(error,
                      "\"%.*s\" is not a temperature; write 12C, 54F or 285K",
                      QUOTED, start);
    }
    enum mw_status status = mw_celsius(value, scale, celsius);
    if (status != MW_OK || !mw_temperature_in_range(*celsius)) {
        return refuse(error, "%.*s: %s", (int)(*text - start), start,
                      mw_status_text(MW_ERR_TEMPERATURE));
    }
    return EXIT_DONE;
}

enum exit_code parse_temperature(const char *text, double *celsius,
                                 struct error *error)
{
    const char *at = text;
    enum exit_code code = take_temperature(&at, celsius, error);
    if (code != EXIT_DONE) {
        return code;
    }
    return *at == '\0'
               ? EXIT_DONE
               : refuse(error,
                        "\"%.*s\" is not a temperature; write 12C, 54F or 285K",
                        QUOTED, text);
}

bool is_fahrenheit(const char *text)
{
    size_t length = strcspn(text, ":");
    return length > 0 && (text[length - 1] == 'F' || text[length - 1] == 'f');
}

/* a difference of temperatures; bare it has the unit of the range */
static enum exit_code take_step(const char *text, bool fahrenheit, double *step,
                                struct error *error)
{
    enum exit_code code = take_number(&text, step, error);
    if (code != EXIT_DONE) {
        return code;
    }
    char unit = (char)toupper((unsigned char)*text);
    bool known = unit == '\0' || unit == 'C' || unit == 'K' || unit == 'F';
    if (!known || (unit != '\0' && text[1] != '\0')) {
        return refuse(error, "\"%.*s\" is not a step; write 5, 5C or 10F",
                      QUOTED, text);
    }
    *step *= unit == 'F' || (unit == '\0' && fahrenheit) ? 1 / 1.8 : 1;
    return EXIT_DONE;
}

enum exit_code parse_temperature_range(const char *text,
                                       struct temperature_range *range,
                                       struct error *error)
{
    const char *at = text;
    double *const parts[] = {&range->from, &range->to};
    for (size_t i = 0; i < 2; i++) {
        enum exit_code code = take_temperature(&at, parts[i], error);
        if (code != EXIT_DONE) {
            return code;
        }
        if (*at++ != ':') {
            return refuse(error,
                          "\"%.*s\" is not FROM:TO:STEP, such as 0C:40C:5",
                          QUOTED, text);
        }
    }
    range->fahrenheit = is_fahrenheit(text);
    enum exit_code code = take_step(at, range->fahrenheit, &range->step, error);
    if (code != EXIT_DONE) {
        return code;
    }
    return count_steps(text, range->from, range->to, range->step, &range->rows,
                       error);
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

/* a unit, or a multiplier and perhaps a unit, at *text, which moves behind them
 * and the spaces around; the multiplier, 1 for none */
static double take_size(const char **text, enum mw_viscosity_unit *unit)
{
    double multiplier = 1;
    *text = skip_spaces(*text);
    if (!take_unit(text, unit)) {
        multiplier = take_multiplier(text);
        *text = skip_spaces(*text);
        take_unit(text, unit);
    }
    *text = skip_spaces(*text);
    return multiplier;
}

static const char *skip_figures(const char *text)
{
    return text + strspn(text, " -.,0123456789");
}

static bool skip_word(const char **text, const char *word)
{
    bool found = strncasecmp(*text, word, strlen(word)) == 0;
    *text += found ? strlen(word) : 0;
    return found;
}

bool names_weight(const char *text)
{
    const char *at = skip_figures(text);
    bool weight = skip_word(&at, "SAE");
    at = skip_figures(at);
    weight = skip_word(&at, "weight") || skip_word(&at, "wt") ||
             skip_word(&at, "w") || weight;
    at = skip_figures(at);
    return weight && ends_unit(*at);
}

enum exit_code refuse_weight(const char *text, struct error *error)
{
    return refuse(error,
                  "\"%.*s\": weight numbers follow no common scale; give mm2/s "
                  "from the data sheet, or measure",
                  QUOTED, text);
}

static enum exit_code refuse_unit(const char *start, const char *rest,
                                  struct error *error)
{
    if (tolower((unsigned char)*rest) == 'w') {
        return refuse_weight(start, error);
    }
    return refuse(error,
                  "\"%.*s\" is not a viscosity; write 350, 350cSt, 10k, 0.5M, "
                  "340mPa.s or 350@40C",
                  QUOTED, start);
}

enum exit_code parse_viscosity_part(const char **text,
                                    struct viscosity *viscosity,
                                    struct error *error)
{
    const char *start = *text;
    struct viscosity read = {.unit = MW_MM2_S};
    if (names_weight(start)) {
        return refuse_weight(start, error);
    }
    enum exit_code code = take_plain_viscosity(text, &read.value, error);
    if (code != EXIT_DONE) {
        return code;
    }
    double multiplier = take_size(text, &read.unit);
    read.value *= multiplier;
    if (**text == '@') {
        (*text)++;
        if (**text == '\0') {
            return refuse(error, "%.*s: a temperature is missing after @",
                          QUOTED, start);
        }
        read.has_temperature = true;
        code = take_temperature(text, &read.temperature, error);
        if (code != EXIT_DONE) {
            return code;
        }
    }
    if (**text != '\0' && **text != '/') {
        return refuse_unit(start, *text, error);
    }
    if (!(read.value > 0)) {
        return refuse(error, "%.*s: a viscosity is above zero", QUOTED, start);
    }
    if (multiplier == 1 && may_mean_thousands(start)) {
        start += *start == '+';
        error_remark(error, "decimals", "viscosity read as %.5s, not %c%.3s",
                     start, *start, start + 2);
    }
    *viscosity = read;
    return EXIT_DONE;
}

enum exit_code parse_viscosity(const char *text, struct viscosity *viscosity,
                               struct error *error)
{
    const char *at = text;
    enum exit_code code = parse_viscosity_part(&at, viscosity, error);
    if (code != EXIT_DONE) {
        return code;
    }
    return *at == '\0' ? EXIT_DONE : refuse_unit(text, at, error);
}

enum exit_code resolve_viscosity(const struct viscosity *viscosity,
                                 enum mw_family family, double density,
                                 double fallback, struct mw_point *point,
                                 struct error *error)
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
        char given[FORMAT_LENGTH];
        return refuse(
            error, "%s %s: %s", format_compact(viscosity->value, given),
            mw_viscosity_unit_symbol(viscosity->unit), mw_status_text(status));
    }
    *point = (struct mw_point){v, t};
    return EXIT_DONE;
}
