/* SPDX-License-Identifier: GPL-3.0-or-later */
/* card: the printed sheets. A second executable draws them, so that no other
 * command pays for what drawing needs, and so that the libraries that draw can
 * break off without taking this program along. */
#include <errno.h>
#include <signal.h>
#include <spawn.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "commands.h"
#include "version.h"

#define DRAWER "midweight-card"

/* the place beside this program; false where it cannot be told */
static bool place_beside(char *path, size_t size)
{
    ssize_t length = readlink("/proc/self/exe", path, size);
    if (length < 0 || (size_t)length >= size) {
        return false;
    }
    path[length] = '\0';
    char *name = strrchr(path, '/');
    size_t room = size - (size_t)(name - path);
    return (size_t)snprintf(name, room, "/%s", DRAWER) < room;
}

/* start it from where it is; the first word of its command line stays "card".
 * An errno, or 0 */
static int start(pid_t *drawer, char **argv)
{
    char beside[4096];
    int error = ENOENT;
    if (place_beside(beside, sizeof beside)) {
        error = posix_spawn(drawer, beside, NULL, NULL, argv, environ);
    }
    if (error == ENOENT) {
        error = posix_spawn(drawer, MIDWEIGHT_LIBEXEC "/" DRAWER, NULL, NULL,
                            argv, environ);
    }
    return error;
}

/* SIGALRM: it has waited for its fonts for too long */
static bool is_crash(int number)
{
    return number == SIGSEGV || number == SIGBUS || number == SIGABRT ||
           number == SIGFPE || number == SIGILL || number == SIGALRM;
}

/* end as it did; returns only where it broke off by itself */
static enum outcome end_as(int status, struct problem *problem)
{
    if (WIFEXITED(status)) {
        exit(WEXITSTATUS(status));
    }
    int number = WTERMSIG(status);
    if (!is_crash(number)) {
        signal(number, SIG_DFL);
        raise(number);
    }
    return problem_set(problem, OUTCOME_OUTPUT,
                       "the part that draws, %s, broke off (%s); nothing was "
                       "drawn; too little memory is the usual reason",
                       DRAWER, strsignal(number));
}

/* returns only where the program is not there or broke off */
static enum outcome run(const struct command *command, int argc, char **argv,
                        struct problem *problem)
{
    pid_t drawer;
    int status = 0;
    (void)command;
    (void)argc;
    signal(SIGCHLD, SIG_DFL); /* ignored, it would take the status along */
    int error = start(&drawer, argv);
    if (error != 0) {
        return problem_set(problem, OUTCOME_OUTPUT,
                           "the part that draws, %s, cannot be started (%s); "
                           "install midweight as a whole, with cairo",
                           DRAWER, strerror(error));
    }
    while (waitpid(drawer, &status, 0) < 0 && errno == EINTR) {
        /* a signal came in between */
    }
    return end_as(status, problem);
}

const struct command command_card = {
    .name = "card",
    .summary = "sheets to print: mixes, temperatures, charts, labels",
    .run = run,
};
