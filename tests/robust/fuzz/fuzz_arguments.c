/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#define _GNU_SOURCE /* strcasestr, strsep */
/* The whole command line: one word a line. The stock is the same each time. */
#include <ctype.h>
#include <jansson.h>
#include <stdbool.h>
#include <string.h>

#include "fuzz.h"
#include "output/json.h"
#include "program.h"

/* whether a word could name a file outside the folder */
static bool is_outside(const char *text)
{
    return text[0] == '/' || strstr(text, "=/") || strstr(text, "..") ||
           strstr(text, "\n/");
}

static bool asks(const char *const args[], const char *word)
{
    while (*args && strcmp(*args, word) != 0) {
        args++;
    }
    return *args;
}

/* whether a text has a word, with no letter before or after it */
static bool has_word(const char *text, const char *word)
{
    size_t length = strlen(word);
    for (const char *at = strcasestr(text, word); at;
         at = strcasestr(at + 1, word)) {
        if ((at == text || !isalpha((unsigned char)at[-1])) &&
            !isalpha((unsigned char)at[length])) {
            return true;
        }
    }
    return false;
}

/* whether a text has a number of so many digits that it was truncated or
 * padded */
static bool has_long_number(const char *text)
{
    size_t digits = 0;
    for (; *text && digits < 24; text++) {
        digits = isdigit((unsigned char)*text) ? digits + 1 : 0;
    }
    return digits == 24;
}

/* no answer has nan, inf or a number that was truncated, unless an argument
 * had it */
static void check_numbers(const char *const args[], const char *out)
{
    bool nan = has_word(out, "nan"), infinite = has_word(out, "inf"),
         long_number = has_long_number(out);
    for (; *args; args++) {
        nan = nan && !strcasestr(*args, "nan");
        infinite = infinite && !strcasestr(*args, "inf");
        long_number = long_number && !has_long_number(*args);
    }
    MUST(!nan && !infinite && !long_number);
}

static void run(const char *const args[])
{
    struct program_run run = program_run(args);
    check_numbers(args, run.out);
    check_numbers(args, run.err);
    if (run.code == 0 && asks(args, "--json") && run.out[0] == '{') {
        json_t *json = json_loads(run.out, 0, NULL);
        MUST(json);
        json_decref(json);
    }
    program_free(&run);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static uint8_t *stock;
    static size_t stock_size;
    const char *args[PROGRAM_WORDS_MAX + 1] = {NULL};
    size_t count = 0;
    if (!stock) {
        program_begin();
        stock = program_read(program_stock, &stock_size);
    }
    char *text = strndup((const char *)data, size);
    MUST(text);
    if (!is_outside(text)) {
        for (char *word = text; word && count < PROGRAM_WORDS_MAX; count++) {
            args[count] = strsep(&word, "\n");
        }
        program_write(program_stock, stock, stock_size);
        run(args);
    }
    free(text);
    return 0;
}
