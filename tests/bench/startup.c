/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * The time of a whole process, from start to end: a mix compared with a program
 * that does nothing, and with Python and SciPy finding the same share. Medians
 * of alternating runs.
 *
 *     bench_startup midweight /bin/true [python3 same_solve.py]
 */
#include <fcntl.h>
#include <spawn.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

#include "ratio.h"

enum { RUNS = 401, SLOW_RUNS = 7 };

#define LIMIT 1.5 /* of /bin/true */

extern char **environ;

/* the time of one process, which must succeed */
static double time_of(char *const argv[])
{
    posix_spawn_file_actions_t quiet;
    pid_t child;
    int status = -1;
    posix_spawn_file_actions_init(&quiet);
    posix_spawn_file_actions_addopen(&quiet, STDOUT_FILENO, "/dev/null",
                                     O_WRONLY, 0);
    double start = now();
    if (posix_spawn(&child, argv[0], &quiet, NULL, argv, environ) == 0) {
        waitpid(child, &status, 0);
    }
    double time = now() - start;
    posix_spawn_file_actions_destroy(&quiet);
    if (status != 0) {
        fprintf(stderr, "%s could not be run\n", argv[0]);
        exit(1);
    }
    return time;
}

static int by_size(const void *left, const void *right)
{
    double a = *(const double *)left, b = *(const double *)right;
    return (a > b) - (a < b);
}

static double median(double times[], size_t n)
{
    qsort(times, n, sizeof *times, by_size);
    return times[n / 2];
}

static bool compare(const char *what, char *const program[],
                    char *const against[], size_t runs, double limit)
{
    static double times[RUNS], others[RUNS];
    for (size_t i = 0; i < runs; i++) {
        times[i] = time_of(program);
        others[i] = time_of(against);
    }
    return within(what, median(times, runs), median(others, runs), limit);
}

int main(int argc, char **argv)
{
    if (argc < 3) {
        fputs("which programs?\n", stderr);
        return 1;
    }
    char *mix[] = {argv[1], "mix", "350", "500", "--target", "420", NULL};
    char *nothing[] = {argv[2], NULL};
    bool good = compare("mix 350 500 --target 420; /bin/true", mix, nothing,
                        RUNS, LIMIT);
    if (argc > 4) {
        good &=
            compare("the same; Python with SciPy", mix, &argv[3], SLOW_RUNS, 1);
    }
    return good ? 0 : 1;
}
