/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * platform_malloc - a process that ends at its first failed allocation, of its
 * libraries too. For the program that draws: cairo and fontconfig can go on
 * without memory, say nothing, and leave letters out.
 *
 * The functions of the program itself come before those of libc, for every
 * library (symbol interposition of ELF; RTLD_NEXT is of GNU and BSD).
 */
/* RTLD_NEXT. NOLINTNEXTLINE(*-reserved-identifier,cert-*) */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <stddef.h>

#include "util/xalloc.h"

static void *or_end(void *block, size_t size)
{
    if (!block && size > 0) {
        out_of_memory();
    }
    return block;
}

void *malloc(size_t size)
{
    static void *(*next)(size_t);
    if (!next) {
        *(void **)&next = dlsym(RTLD_NEXT, "malloc");
    }
    return or_end(next(size), size);
}

void *calloc(size_t count, size_t size)
{
    static void *(*next)(size_t, size_t);
    if (!next) {
        *(void **)&next = dlsym(RTLD_NEXT, "calloc");
    }
    return or_end(next(count, size), count * size);
}

void *realloc(void *block, size_t size)
{
    static void *(*next)(void *, size_t);
    if (!next) {
        *(void **)&next = dlsym(RTLD_NEXT, "realloc");
    }
    return or_end(next(block, size), size);
}
