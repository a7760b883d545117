/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** fail_calloc - a calloc() that fails when asked to; linked with
 * -Wl,--wrap=calloc. */
#ifndef FAIL_CALLOC_H
#define FAIL_CALLOC_H

#include <stddef.h>

/* the call that fails, counted from 1; 0: none */
static int failing_calloc;

void *__real_calloc(size_t count, size_t size);
void *__wrap_calloc(size_t count, size_t size);

void *__wrap_calloc(size_t count, size_t size)
{
    if (failing_calloc > 0 && --failing_calloc == 0) {
        return NULL;
    }
    return __real_calloc(count, size);
}

#endif
