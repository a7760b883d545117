/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "memory.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "problem.h"

void out_of_memory(void)
{
    fputs("midweight: out of memory; nothing was changed\n", stderr);
    _Exit(OUTCOME_OUTPUT);
}

static void *or_end(void *block)
{
    if (!block) {
        out_of_memory();
    }
    return block;
}

void *need_bytes(size_t size)
{
    return or_end(malloc(size ? size : 1));
}

void *need_zeroed(size_t count, size_t size)
{
    return or_end(calloc(count ? count : 1, size));
}

void *need_resized(void *block, size_t count, size_t size)
{
    return or_end(count <= SIZE_MAX / size
                      ? realloc(block, (count ? count : 1) * size)
                      : NULL);
}

char *need_copy(const char *text)
{
    return or_end(strdup(text));
}
