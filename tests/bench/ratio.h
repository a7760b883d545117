/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * ratio - what the benchmarks share. Each compares two times of the same run,
 * because seconds depend on the machine, and ratios hardly do.
 */
#ifndef RATIO_H
#define RATIO_H

#include <stdbool.h>
#include <stdio.h>
#include <time.h>

/** Seconds of a monotonic clock. */
static inline double now(void)
{
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

/** Print a ratio of two times; true where it is within the limit. */
static inline bool within(const char *what, double time, double against,
                          double limit)
{
    double ratio = time / against;
    printf("%-44s %9.3g s against %9.3g s: %.2f (at most %.2f)\n", what, time,
           against, ratio, limit);
    return ratio <= limit;
}

#endif
