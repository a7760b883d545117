/* SPDX-License-Identifier: GPL-3.0-or-later */
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

/** What a run of the program gave; free it with program_free(). */
struct program_run {
    int code;
    char *out, *err;
};

/** The words after "midweight", ended by NULL. Keeps what holds of every run:
 * an exit code from 0 to 3, and a message if and only if it is not 0. */
struct program_run program_run(const char *const args[]);

void program_free(struct program_run *run);

/** Run, and drop the answer; its code. */
int program_code(const char *const args[]);

/**
 * Go to an empty folder that is removed at the end, and make a stock there with
 * every kind of row.
 */
void program_begin(void);

/** Where the stock is; $MIDWEIGHT_STOCK names it too. */
extern const char program_stock[];

/** A file whose name is relative to the folder. */
void program_write(const char *name, const void *data, size_t size);

/** The content of a file, to be freed; size receives its length. */
uint8_t *program_read(const char *name, size_t *size);

#endif
