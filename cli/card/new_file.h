/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * new_file - a file that is there as a whole or not at all: it is written under
 * a temporary name beside the place where it will be, and renamed.
 */
#ifndef CARD_NEW_FILE_H
#define CARD_NEW_FILE_H

#include <stdbool.h>
#include <stdio.h>

#include "problem.h"

struct new_file {
    FILE *stream;
    char *path;      /* where it will be */
    char *temporary; /* NULL: path is a device, and written as it is */
    bool force;
    struct problem *problem;
};

/**
 * Begin a file. new_file_finish() it whatever the outcome.
 *
 * Given: path   where it will be; a link is followed
 *        force  whether an existing file is replaced
 */
enum outcome new_file_begin(struct new_file *file, const char *path, bool force,
                            struct problem *problem);

/** Write; false when that failed. The problem is noted in the end. */
bool new_file_write(struct new_file *file, const void *data, size_t length);

/** Put the file in its place, or take it away where there is a problem. */
enum outcome new_file_finish(struct new_file *file);

#endif
