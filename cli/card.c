/* SPDX-License-Identifier: GPL-3.0-or-later */
/* card: the printed sheets. A second executable draws them, so that no other
 * command pays for what drawing needs. */
#include <errno.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
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

/* does not return where the program is there; the first word of the command
 * line stays "card" */
static enum outcome run(const struct command *command, int argc, char **argv,
                        struct problem *problem)
{
    char beside[4096];
    (void)command;
    (void)argc;
    errno = ENOENT;
    if (place_beside(beside, sizeof beside)) {
        execv(beside, argv);
    }
    if (errno == ENOENT) {
        execv(MIDWEIGHT_LIBEXEC "/" DRAWER, argv);
    }
    return problem_set(problem, OUTCOME_OUTPUT,
                       "the part that draws, %s, cannot be started (%s); "
                       "install midweight as a whole, with cairo",
                       DRAWER, strerror(errno));
}

const struct command command_card = {
    .name = "card",
    .summary = "sheets to print: mixes, temperatures, charts, labels",
    .run = run,
};
