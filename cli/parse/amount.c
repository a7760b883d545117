/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "parse/amount.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "parse/number.h"

enum { DAMPERS_MAX = 10000 /* of one batch; more is a slip */ };

/* a US fluid ounce: 231 in3/128 by definition */
#define ML_PER_FLUID_OUNCE (231 * 2.54 * 2.54 * 2.54 / 128)

/* what an amount may be in, and its size in the unit of its kind */
static const struct {
    const char *symbol;
    enum mw_amount_kind kind;
    double size;
} amount_units[] = {
    {"", MW_AMOUNT_PARTS, 1},
    {"ml", MW_AMOUNT_ML, 1},
    {"cc", MW_AMOUNT_ML, 1},
    {"l", MW_AMOUNT_ML, 1000},
    {"floz", MW_AMOUNT_ML, ML_PER_FLUID_OUNCE},
    {"g", MW_AMOUNT_G, 1},
    {"drops", MW_AMOUNT_DROPS, 1},
    {"drop", MW_AMOUNT_DROPS, 1},
    {"%", MW_AMOUNT_SHARE, 0.01},
};

enum { AMOUNT_UNITS = sizeof amount_units / sizeof amount_units[0] };

/* a number of either sign and its kind */
static enum exit_code take_amount(const char *text, struct amount *amount,
                                  struct error *error)
{
    const char *at = text;
    size_t i = 0;
    enum exit_code code = take_number(&at, &amount->value, error);
    if (code != EXIT_DONE) {
        return code;
    }
    at = skip_spaces(at);
    while (i < AMOUNT_UNITS && strcasecmp(at, amount_units[i].symbol) != 0) {
        i++;
    }
    if (i == AMOUNT_UNITS) {
        return refuse(error,
                      "\"%.*s\" is not an amount; write 20ml, 20g, 12drops, "
                      "20%% or parts such as 2",
                      QUOTED, text);
    }
    amount->kind = amount_units[i].kind;
    amount->value *= amount_units[i].size;
    return fabs(amount->value) <= AMOUNT_MAX
               ? EXIT_DONE
               : refuse(error, "%.*s: an amount is at most %d", QUOTED, text,
                        (int)AMOUNT_MAX);
}

enum exit_code parse_amount(const char *text, struct amount *amount,
                            struct error *error)
{
    struct amount read;
    enum exit_code code = take_amount(text, &read, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (!(read.value > 0)) {
        return refuse(error, "%.*s: an amount is above zero", QUOTED, text);
    }
    if (read.kind == MW_AMOUNT_SHARE && !(read.value < 1)) {
        return refuse(error, "%.*s: a share is below 100 %%", QUOTED, text);
    }
    *amount = read;
    return EXIT_DONE;
}

enum exit_code parse_left(const char *text, struct amount *amount,
                          struct error *error)
{
    struct amount read;
    enum exit_code code = take_amount(text, &read, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (!(read.value >= 0)) {
        return refuse(error, "%.*s: what is left is not below zero", QUOTED,
                      text);
    }
    if (read.kind == MW_AMOUNT_PARTS) {
        read.kind = MW_AMOUNT_ML;
    }
    if (read.kind != MW_AMOUNT_ML && read.kind != MW_AMOUNT_G) {
        return refuse(error, "%.*s: what is left is in ml or g", QUOTED, text);
    }
    *amount = read;
    return EXIT_DONE;
}

enum exit_code parse_batch(const char *text, double *count, struct amount *each,
                           struct error *error)
{
    const char *cross = strchr(text, 'x');
    size_t digits = strspn(text, "0123456789");
    *count = 1;
    if (cross && digits > 0 && text + digits == cross) {
        *count = strtod(text, NULL);
        text = cross + 1;
    }
    enum exit_code code = parse_amount(text, each, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (each->kind == MW_AMOUNT_PARTS) {
        each->kind = MW_AMOUNT_ML;
    }
    if (each->kind == MW_AMOUNT_SHARE || !(*count > 0)) {
        return refuse(error,
                      "\"%.*s\" is not a batch; write 20ml, 20g or 4x2.5ml",
                      QUOTED, text);
    }
    if (!(*count <= DAMPERS_MAX && *count * each->value <= AMOUNT_MAX)) {
        return refuse(
            error,
            "\"%.*s\": a batch is for at most %d dampers, and at most "
            "%d ml",
            QUOTED, text, (int)DAMPERS_MAX, (int)AMOUNT_MAX);
    }
    return EXIT_DONE;
}

enum exit_code batch_in_ml(struct amount *each, double drop_ml,
                           struct error *error)
{
    if (each->kind != MW_AMOUNT_DROPS) {
        return EXIT_DONE;
    }
    if (!(drop_ml > 0)) {
        return refuse(error, "a batch in drops needs their size; add --drop, "
                             "such as --drop 0.015ml");
    }
    *each = (struct amount){MW_AMOUNT_ML, each->value * drop_ml};
    return EXIT_DONE;
}

/* an amount of one kind, whose unit may be left out */
static enum exit_code parse_kind(const char *text, enum mw_amount_kind kind,
                                 const char *unit, double *value,
                                 struct error *error)
{
    struct amount amount = {kind, 0};
    enum exit_code code = parse_amount(text, &amount, error);
    if (code != EXIT_DONE) {
        return code;
    }
    *value = amount.value;
    return amount.kind == kind || amount.kind == MW_AMOUNT_PARTS
               ? EXIT_DONE
               : refuse(error, "%.*s is not in %s", QUOTED, text, unit);
}

enum exit_code parse_ml(const char *text, double *ml, struct error *error)
{
    return parse_kind(text, MW_AMOUNT_ML, "ml", ml, error);
}

enum exit_code parse_g(const char *text, double *g, struct error *error)
{
    return parse_kind(text, MW_AMOUNT_G, "g", g, error);
}

enum exit_code parse_drops(const char *text, double *count, struct amount *all,
                           struct error *error)
{
    const char *at = text;
    enum exit_code code = take_number(&at, count, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (*at != '=' || !(*count > 0)) {
        return refuse(error,
                      "\"%.*s\" is not COUNT=AMOUNT; weigh 50 drops and write "
                      "50=0.62g, or 50=0.65ml",
                      QUOTED, text);
    }
    if ((code = parse_amount(at + 1, all, error)) != EXIT_DONE) {
        return code;
    }
    if (all->kind == MW_AMOUNT_PARTS) {
        all->kind = MW_AMOUNT_G;
    }
    return all->kind == MW_AMOUNT_G || all->kind == MW_AMOUNT_ML
               ? EXIT_DONE
               : refuse(error, "%.*s is not in g or ml", QUOTED, at + 1);
}

enum exit_code parse_density(const char *text, double *density,
                             struct error *error)
{
    double value;
    enum exit_code code = parse_number(text, &value, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (!mw_density_in_range(value)) {
        return refuse(error, "%.*s: %s; silicone oil is about 0.97", QUOTED,
                      text, mw_status_text(MW_ERR_DENSITY));
    }
    *density = value;
    return EXIT_DONE;
}

enum exit_code parse_percent(const char *text, double *fraction,
                             struct error *error)
{
    const char *at = text;
    double value;
    enum exit_code code = take_hundredths(&at, &value, error);
    if (code != EXIT_DONE) {
        return code;
    }
    at = skip_spaces(at);
    if (*at == '%') {
        at++;
    }
    if (*at != '\0' || !(value >= 0 && value < 1)) {
        return refuse(error,
                      "\"%.*s\" is not a per cent from 0 to below 100; write "
                      "30%%",
                      QUOTED, text);
    }
    *fraction = value;
    return EXIT_DONE;
}
