/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * fuzz - what the fuzz targets share.
 *
 * A target is one file with LLVMFuzzerTestOneInput(), linked with libFuzzer by
 * tests/long.sh, and with replay.c in the ordinary tests, which run the inputs
 * that are checked in under corpus/.
 */
#ifndef FUZZ_H
#define FUZZ_H

#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

/** Run one input; aborts where a condition is violated. */
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/** Abort unless a condition holds of the code under test. */
#define MUST(condition)                                                        \
    do {                                                                       \
        if (!(condition)) {                                                    \
            dprintf(2, "%s:%d: violated: %s\n", __FILE__, __LINE__,            \
                    #condition);                                               \
            abort();                                                           \
        }                                                                      \
    } while (0)

#endif
