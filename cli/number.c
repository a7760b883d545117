/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "number.h"

#include <ctype.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

enum {
    NUMBER_LENGTH = 64 /* longer than any number somebody means */
};

/* the pieces of a number: sign, whole part, separator, fraction, exponent */
struct digits {
    const char *whole;
    size_t whole_count;
    bool separated;
    size_t fraction_count;
    bool exponent;
    const char *end;
};

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

/* "10,000" is ten thousand to some and ten to others */
static bool is_ambiguous(const struct digits *digits)
{
    return digits->separated && !digits->exponent &&
           digits->fraction_count == 3 && digits->whole_count >= 1 &&
           digits->whole_count <= 3 && digits->whole[0] != '0';
}

static enum outcome refuse_ambiguous(const char *text,
                                     const struct digits *digits,
                                     struct problem *problem)
{
    int length = (int)(digits->end - text);
    int whole = (int)digits->whole_count;
    const char *fraction = digits->whole + whole + 1;
    if (strncmp(fraction, "000", 3) == 0) {
        return REFUSE("%.*s can be read two ways; write %.*sk or %.*s.0",
                      length, text, whole, digits->whole, whole, digits->whole);
    }
    return REFUSE("%.*s can be read two ways; write %.*s%.3s or %.*s.%.3s0",
                  length, text, whole, digits->whole, fraction, whole,
                  digits->whole, fraction);
}

/* the number at *text; *text moves behind it */
enum outcome take_number(const char **text, double *value,
                         struct problem *problem)
{
    struct digits digits = split_number(*text);
    size_t length = (size_t)(digits.end - *text);
    char plain[NUMBER_LENGTH];
    if (digits.whole_count + digits.fraction_count == 0) {
        return REFUSE("\"%.*s\" is not a number", QUOTED, *text);
    }
    if (length >= sizeof plain) {
        return REFUSE("a number of %zu characters is too long", length);
    }
    if (is_separator(*digits.end)) {
        return REFUSE("\"%.*s\" has a separator too many; write 1234567, 10k "
                      "or 0.5M",
                      QUOTED, *text);
    }
    if (is_ambiguous(&digits)) {
        return refuse_ambiguous(*text, &digits, problem);
    }
    memcpy(plain, *text, length);
    plain[length] = '\0';
    char *comma = strchr(plain, ',');
    if (comma) {
        *comma = '.';
    }
    double number = strtod(plain, NULL);
    if (!isfinite(number)) {
        return REFUSE("%s is too large", plain);
    }
    *value = number;
    *text = digits.end;
    return OUTCOME_DONE;
}

enum outcome parse_number(const char *text, double *value,
                          struct problem *problem)
{
    const char *at = text;
    double number = NAN;
    if (take_number(&at, &number, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (*at != '\0') {
        return REFUSE("\"%.*s\" is not a bare number", QUOTED, text);
    }
    *value = number;
    return OUTCOME_DONE;
}
