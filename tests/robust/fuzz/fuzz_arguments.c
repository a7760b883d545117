/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The whole command line: one word a line. The stock is the same each time. */
#include <jansson.h>
#include <string.h>

#include "fuzz.h"
#include "output/json.h"
#include "program.h"

/* words that could lead out of the folder */
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

static void run(const char *const args[])
{
    struct program_run run = program_run(args);
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
