/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * xalloc - allocation that ends the program when there is none left: exit 3, a
 * message, and a stock whose open transaction never happened.
 */
#ifndef UTIL_XALLOC_H
#define UTIL_XALLOC_H

#include <stddef.h>

/** End the program: there is no memory left. */
_Noreturn void out_of_memory(void);

/** From now on a lack of memory leaves a change behind, and says so. */
void out_of_memory_keeps(void);

/** A block of a size; never NULL. */
void *xmalloc(size_t size);

/** count zeroed elements of a size; never NULL. */
void *xcalloc(size_t count, size_t size);

/** The same block grown or shrunk; never NULL. */
void *xreallocarray(void *block, size_t count, size_t size);

/** A copy of a text; never NULL. */
char *xstrdup(const char *text);

#endif
