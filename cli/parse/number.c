/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "parse/number.h"

#include <ctype.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    NUMBER_LENGTH = 64 /* longer than any sensible number */
};

/* no quantity of this trade comes near it */
#define LARGEST 1e12

/* the pieces of a number: sign, whole part, separator, fraction, exponent */
struct digits {
    const char *whole;
    size_t whole_count;
    bool separated;
    size_t fraction_count;
    bool exponent;
    const char *end;
};

const char *skip_spaces(const char *text)
{
    return text + strspn(text, " ");
}

static size_t count_digits(const char *text)
{
    return strspn(text, "0123456789");
}

static bool is_separator(char c)
{
    return c == '.' || c == ',';
}

static struct digits split_number(const char *text)
{
    struct digits digits = {.whole = text + (*text == '-' || *text == '+')};
    const char *at = digits.whole;
    digits.whole_count = count_digits(at);
    at += digits.whole_count;
    if (is_separator(*at) && isdigit((unsigned char)at[1])) {
        digits.separated = true;
        digits.fraction_count = count_digits(at + 1);
        at += 1 + digits.fraction_count;
    }
    if (*at == 'e' || *at == 'E') {
        const char *power = at + 1 + (at[1] == '-' || at[1] == '+');
        if (isdigit((unsigned char)*power)) {
            digits.exponent = true;
            at = power + count_digits(power);
        }
    }
    digits.end = at;
    return digits;
}

/* one to three digits that do not start with 0, a separator and three digits */
static bool looks_like_thousands(const struct digits *digits)
{
    return digits->separated && !digits->exponent &&
           digits->fraction_count == 3 && digits->whole_count >= 1 &&
           digits->whole_count <= 3 && digits->whole[0] != '0';
}

/* "10,000" and "12.500" are thousands to some, 12.345 to none */
static bool is_ambiguous(const struct digits *digits)
{
    return looks_like_thousands(digits) &&
           (digits->whole[digits->whole_count] == ',' ||
            digits->end[-1] == '0');
}

/* the number and its ways to be written that are understood */
static enum exit_code refuse_ambiguous(const char *text,
                                       const struct digits *digits,
                                       struct error *error)
{
    int length = (int)(digits->end - text), whole = (int)digits->whole_count;
    const char *fraction = digits->whole + whole + 1;
    char plain[8];
    snprintf(plain, sizeof plain, "%.*s.%.3s", whole, digits->whole, fraction);
    for (char *last = plain + strlen(plain) - 1; *last == '0' || *last == '.';
         last--) {
        bool point = *last == '.';
        *last = '\0';
        if (point) {
            break;
        }
    }
    return refuse(error,
                  "%.*s can be read two ways; write %s, %.*s.%.3s0, %.*s%.3s "
                  "or %sk",
                  length, text, plain, whole, digits->whole, fraction, whole,
                  digits->whole, fraction, plain);
}

enum exit_code take_plain_viscosity(const char **text, double *value,
                                    struct error *error)
{
    const char *start = *text;
    struct digits digits = split_number(start);
    if (!is_separator(*digits.end) && is_ambiguous(&digits)) {
        return refuse_ambiguous(start, &digits, error);
    }
    return take_number(text, value, error);
}

bool may_mean_thousands(const char *text)
{
    struct digits digits = split_number(text);
    return digits.whole_count == 1 && looks_like_thousands(&digits);
}

/* the number at *text times a power of ten, rounded once; *text moves behind
 * it */
static enum exit_code take_scaled(const char **text, const char *power,
                                  double *value, struct error *error)
{
    struct digits digits = split_number(*text);
    size_t length = (size_t)(digits.end - *text);
    char plain[NUMBER_LENGTH + 4];
    if (digits.whole_count + digits.fraction_count == 0) {
        return refuse(error, "\"%.*s\" is not a number", QUOTED, *text);
    }
    if (length >= NUMBER_LENGTH) {
        return refuse(error, "a number of %zu characters is too long", length);
    }
    if (is_separator(*digits.end)) {
        return refuse(error,
                      "\"%.*s\" has a separator too many; write 1234567, 10k "
                      "or 0.5M",
                      QUOTED, *text);
    }
    memcpy(plain, *text, length);
    plain[length] = '\0';
    char *comma = strchr(plain, ',');
    if (comma) {
        *comma = '.';
    }
    if (!digits.exponent) {
        strcat(plain, power);
    }
    double number = strtod(plain, NULL);
    if (!(fabs(number) <= LARGEST)) {
        return refuse(error, "%s is out of range", plain);
    }
    *value = digits.exponent && *power ? number / 100 : number;
    *text = digits.end;
    return EXIT_DONE;
}

enum exit_code take_number(const char **text, double *value,
                           struct error *error)
{
    return take_scaled(text, "", value, error);
}

enum exit_code take_hundredths(const char **text, double *value,
                               struct error *error)
{
    return take_scaled(text, "e-2", value, error);
}

enum exit_code parse_number(const char *text, double *value,
                            struct error *error)
{
    const char *at = text;
    double number = NAN;
    enum exit_code code = take_number(&at, &number, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (*at != '\0') {
        return refuse(error, "\"%.*s\" is not a bare number", QUOTED, text);
    }
    *value = number;
    return EXIT_DONE;
}
