/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * utf8 - untrusted text, and what of it is safe to print on a terminal.
 */
#ifndef UTIL_UTF8_H
#define UTIL_UTF8_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/**
 * The character at the start of a text, by RFC 3629: no overlong form, no
 * surrogate, nothing beyond U+10FFFF.
 *
 * Returned: code  the code point; may be NULL
 *           the bytes it takes: 1 to 4, 0 for what is not UTF-8
 */
size_t utf8_decode(const char *text, uint32_t *code);

/** Whether a character may steer a terminal or hide what a text says: controls
 * (C0, DEL, C1), bidirectional controls, line separators, a byte-order mark. */
bool utf8_is_control(uint32_t code);

/** The columns of a text, one for each character or stray byte. */
size_t utf8_columns(const char *text);

/** The bytes that the first so many characters of a text take. */
size_t utf8_bytes(const char *text, size_t columns);

/**
 * Put U+FFFD in the place of every control and every byte that is not UTF-8.
 *
 * Given:    lines  leave line breaks alone
 * Returned: the text, to be released with free()
 */
char *utf8_cleaned(const char *text, bool lines);

/** Do that in a buffer, whose text is cut where it would grow out of it. */
void utf8_clean(char *text, size_t size);

#endif
