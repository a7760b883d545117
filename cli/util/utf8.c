/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "util/utf8.h"

#include <stdlib.h>
#include <string.h>

#include "util/xalloc.h"

/* U+FFFD, the replacement character */
static const char replacement[] = "\xef\xbf\xbd";

/* the bytes that a first byte announces, 0 where it starts no character */
static size_t announced(unsigned char first)
{
    return first < 0x80             ? 1
           : (first & 0xe0) == 0xc0 ? 2
           : (first & 0xf0) == 0xe0 ? 3
           : (first & 0xf8) == 0xf0 ? 4
                                    : 0;
}

size_t utf8_decode(const char *text, uint32_t *code)
{
    /* the least code point that needs so many bytes */
    static const uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
    const unsigned char *bytes = (const unsigned char *)text;
    size_t length = announced(bytes[0]);
    uint32_t value = length > 1 ? bytes[0] & (0xffU >> (length + 1)) : bytes[0];
    for (size_t i = 1; i < length; i++) {
        if ((bytes[i] & 0xc0) != 0x80) {
            return 0;
        }
        value = value << 6 | (bytes[i] & 0x3fU);
    }
    if (length == 0 || value < least[length] || value > 0x10ffff ||
        (value >= 0xd800 && value <= 0xdfff)) {
        return 0;
    }
    if (code) {
        *code = value;
    }
    return length;
}

bool utf8_is_control(uint32_t code)
{
    static const uint32_t ranges[][2] = {
        {0, 0x1f},        {0x7f, 0x9f},     {0x61c, 0x61c},
        {0x200e, 0x200f}, {0x2028, 0x202e}, {0x2066, 0x2069},
        {0xfeff, 0xfeff}, {0xfff9, 0xfffb}, {0xe0000, 0xe007f}};
    for (size_t i = 0; i < sizeof ranges / sizeof ranges[0]; i++) {
        if (code >= ranges[i][0] && code <= ranges[i][1]) {
            return true;
        }
    }
    return false;
}

/* the bytes of the character or the stray byte at the start of a text */
static size_t step(const char *text)
{
    size_t length = utf8_decode(text, NULL);
    return length > 0 ? length : 1;
}

size_t utf8_columns(const char *text)
{
    size_t columns = 0;
    for (; *text; text += step(text)) {
        columns++;
    }
    return columns;
}

size_t utf8_bytes(const char *text, size_t columns)
{
    size_t bytes = 0;
    for (; text[bytes] && columns > 0; columns--) {
        bytes += step(text + bytes);
    }
    return bytes;
}

char *utf8_cleaned(const char *text, bool lines)
{
    /* the worst is a byte that becomes three */
    char *cleaned = xcalloc(strlen(text) + 1, strlen(replacement));
    char *to = cleaned;
    for (size_t length; *text; text += length) {
        uint32_t code = 0;
        bool valid = utf8_decode(text, &code) > 0;
        bool good =
            valid && (!utf8_is_control(code) || (lines && code == '\n'));
        length = step(text);
        size_t put = good ? length : strlen(replacement);
        memcpy(to, good ? text : replacement, put);
        to += put;
    }
    return cleaned;
}

void utf8_clean(char *text, size_t size)
{
    char *cleaned = utf8_cleaned(text, false);
    size_t length = 0;
    while (cleaned[length] && length + step(cleaned + length) < size) {
        length += step(cleaned + length);
    }
    memcpy(text, cleaned, length);
    text[length] = '\0';
    free(cleaned);
}
