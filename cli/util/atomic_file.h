/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * atomic_file - a file that is there as a whole or not at all: it is written
 * under a temporary name beside the place where it will be, and renamed.
 */
#ifndef UTIL_ATOMIC_FILE_H
#define UTIL_ATOMIC_FILE_H

#include <stdbool.h>
#include <stddef.h>

#include "util/error.h"

/**
 * Write a file.
 *
 * Given: path   where it will be; a link is followed
 *        force  whether an existing file is replaced
 *        data   what it will hold
 *        size   of that, in bytes
 */
enum exit_code new_file(const char *path, bool force, const void *data,
                        size_t size, struct error *error);

#endif
