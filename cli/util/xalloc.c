/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "util/xalloc.h"

#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "util/error.h"

static bool kept; /* what was to be changed is changed */

void out_of_memory(void)
{
    fprintf(stderr, "midweight: out of memory; %s\n",
            kept ? "the change of the stock is kept" : "nothing was changed");
    _Exit(EXIT_OUTPUT);
}

void out_of_memory_keeps(void)
{
    kept = true;
}

static void *or_end(void *block)
{
    if (!block) {
        out_of_memory();
    }
    return block;
}

void *xmalloc(size_t size)
{
    return or_end(malloc(size ? size : 1));
}

void *xcalloc(size_t count, size_t size)
{
    return or_end(calloc(count ? count : 1, size));
}

void *xreallocarray(void *block, size_t count, size_t size)
{
    return or_end(count <= SIZE_MAX / size
                      ? realloc(block, (count ? count : 1) * size)
                      : NULL);
}

char *xstrdup(const char *text)
{
    return or_end(strdup(text));
}
