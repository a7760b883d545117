/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "util/format.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum {
    PLAIN_DIGITS = 15 /* before or behind the point, without an exponent */
};

const char *format_significant(double value, int significant,
                               char buffer[FORMAT_LENGTH])
{
    char rounded[FORMAT_LENGTH];
    /* the exponent after rounding, so that 999.6 becomes 1000 */
    snprintf(rounded, sizeof rounded, "%.*e", significant - 1, value);
    const char *exponent = strchr(rounded, 'e');
    int magnitude = 0;
    double round_value = value;
    if (exponent) {
        magnitude = (int)strtol(exponent + 1, NULL, 10);
        round_value = strtod(rounded, NULL);
    }
    /* extreme magnitudes are written with an exponent rather than cut */
    if (abs(magnitude) > PLAIN_DIGITS) {
        snprintf(buffer, FORMAT_LENGTH, "%s", rounded);
        return buffer;
    }
    int decimals = significant - 1 - magnitude;
    snprintf(buffer, FORMAT_LENGTH, "%.*f", decimals > 0 ? decimals : 0,
             round_value);
    return buffer;
}

const char *format_compact(double value, char buffer[FORMAT_LENGTH])
{
    format_significant(value, 6, buffer);
    if (strchr(buffer, '.') && !strchr(buffer, 'e')) {
        char *last = buffer + strlen(buffer) - 1;
        while (*last == '0') {
            *last-- = '\0';
        }
        if (*last == '.') {
            *last = '\0';
        }
    }
    return buffer;
}

const char *format_duration(double seconds, char buffer[FORMAT_LENGTH])
{
    static const struct {
        double size, most; /* s; how many of it are said */
        const char *symbol;
    } units[] = {{1, 100, "s"}, {60, 100, "min"}, {3600, 48, "h"}};
    char number[FORMAT_LENGTH];
    double size = 86400;
    const char *symbol = "days";
    for (size_t i = sizeof units / sizeof units[0]; i-- > 0;) {
        if (seconds < units[i].most * units[i].size) {
            size = units[i].size;
            symbol = units[i].symbol;
        }
    }
    snprintf(buffer, FORMAT_LENGTH, "%s %s",
             format_significant(seconds / size, 2, number), symbol);
    return buffer;
}

const char *format_decimals_of(double value, const char *written,
                               char buffer[FORMAT_LENGTH])
{
    const char *point = strchr(written, '.');
    int length =
        snprintf(buffer, FORMAT_LENGTH, "%.*f",
                 point ? (int)strspn(point + 1, "0123456789") : 0, value);
    return length < FORMAT_LENGTH ? buffer
                                  : format_significant(value, 6, buffer);
}
