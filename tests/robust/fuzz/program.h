/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * program - the whole program inside the process of a target, in a folder of
 * its own in memory.
 */
#ifndef FUZZ_PROGRAM_H
#define FUZZ_PROGRAM_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { PROGRAM_WORDS_MAX = 64 };

/** The result of a run of the program; free it with program_free(). */
struct program_run {
    int code;
    char *out, *err;
};

/** Run with the words after "midweight", ended by NULL. Checks what holds
 * for every run: an exit code from 0 to 3, and an error message if and only
 * if it is not 0. */
struct program_run program_run(const char *const args[]);

void program_free(struct program_run *run);

/** Run and discard the output; the exit code. */
int program_code(const char *const args[]);

/**
 * Go to an empty folder that is removed at the end, and make a stock there with
 * every kind of row.
 */
void program_begin(void);

/** The path of the stock, which $MIDWEIGHT_STOCK names too. */
extern const char program_stock[];

/** Write a file, whose name is relative to the folder. */
void program_write(const char *name, const void *data, size_t size);

/** Read a file; the content is to be freed, size receives its length. */
uint8_t *program_read(const char *name, size_t *size);

#endif
