/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
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
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "sheets/launch.h"
#include "util/platform.h"
#include "version.h"

#define DRAWER "midweight-card"

/* Signals that end this program must end the part that draws too. */
static const int ending[] = {SIGHUP, SIGINT, SIGTERM};
enum { ENDING = sizeof ending / sizeof ending[0] };

extern char **environ;

static volatile sig_atomic_t drawer_pid; /* 0: there is none */

static void pass_on(int number)
{
    if (drawer_pid != 0) {
        kill((pid_t)drawer_pid, number);
    }
}

static void pass_signals_on(void)
{
    struct sigaction before, action = {.sa_handler = pass_on};
    sigemptyset(&action.sa_mask);
    for (size_t i = 0; i < ENDING; i++) {
        /* what is ignored from outside, as by nohup, stays ignored */
        if (sigaction(ending[i], NULL, &before) == 0 &&
            before.sa_handler != SIG_IGN) {
            sigaction(ending[i], &action, NULL);
        }
    }
}

/* Who may own the part that draws: root, or who owns this program. What
 * somebody else put beside a copy of it, as in /tmp, is not run. */
static bool is_trusted(const char *path, uid_t owner)
{
    struct stat there;
    return lstat(path, &there) == 0 &&
           (there.st_uid == 0 || there.st_uid == owner);
}

/* the file and the folders on the way to it, from way on, which is in path:
 * who owns a folder can put another file there */
static bool is_trusted_way(char *path, char *way, uid_t owner)
{
    for (char *slash = strchr(way, '/'); slash;
         slash = strchr(slash + 1, '/')) {
        *slash = '\0';
        bool trusted = is_trusted(path, owner);
        *slash = '/';
        if (!trusted) {
            return false;
        }
    }
    return is_trusted(path, owner);
}

/* The one place of the part that draws: from the folder that this program is
 * really in, whatever link it was started by. An errno, or 0 */
static int find_drawer(char *path, size_t size)
{
    static const char up[] = "../";
    uid_t owner;
    if (!program_find(path, size, &owner)) {
        return ENOENT;
    }
    char *name = strrchr(path, '/') + 1;
    size_t room = size - (size_t)(name - path);
    if ((size_t)snprintf(name, room, "%s", MIDWEIGHT_DRAWER) >= room ||
        access(path, F_OK) != 0) {
        return ENOENT;
    }
    while (strncmp(name, up, strlen(up)) == 0) {
        name += strlen(up);
    }
    return is_trusted_way(path, name, owner) ? 0 : EACCES;
}

/* start it, its signals as they were; the first word of its command line stays
 * "card". An errno, or 0 */
static int start(char **argv)
{
    char path[4096];
    sigset_t blocked, before;
    posix_spawnattr_t attributes;
    pid_t pid;
    int failure = find_drawer(path, sizeof path);
    if (failure != 0) {
        return failure;
    }
    /* none may come between the start and the knowledge of whom it goes to */
    sigemptyset(&blocked);
    for (size_t i = 0; i < ENDING; i++) {
        sigaddset(&blocked, ending[i]);
    }
    sigprocmask(SIG_BLOCK, &blocked, &before);
    failure = posix_spawnattr_init(&attributes);
    if (failure == 0) {
        posix_spawnattr_setsigmask(&attributes, &before);
        posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETSIGMASK);
        failure = posix_spawn(&pid, path, NULL, &attributes, argv, environ);
        posix_spawnattr_destroy(&attributes);
    }
    if (failure == 0) {
        drawer_pid = pid;
        pass_signals_on();
    }
    sigprocmask(SIG_SETMASK, &before, NULL);
    return failure;
}

static bool is_crash(int number)
{
    return number == SIGSEGV || number == SIGBUS || number == SIGABRT ||
           number == SIGFPE || number == SIGILL;
}

/* end as it did; returns only where it broke off by itself */
static enum exit_code end_as(int status, struct error *error)
{
    if (WIFEXITED(status)) {
        exit(WEXITSTATUS(status));
    }
    int number = WTERMSIG(status);
    if (!is_crash(number)) {
        signal(number, SIG_DFL);
        raise(number);
    }
    return error_set(error, EXIT_OUTPUT,
                     "the part that draws, %s, broke off (%s); nothing was "
                     "drawn; too little memory is the usual reason",
                     DRAWER, strsignal(number));
}

/* returns only where the program is not there or broke off */
static enum exit_code launch(const struct command *command, int argc,
                             char **argv, struct error *error)
{
    int status = 0;
    (void)command;
    (void)argc;
    signal(SIGCHLD, SIG_DFL); /* ignored, it would take the status along */
    int failure = start(argv);
    if (failure != 0) {
        return error_set(error, EXIT_OUTPUT,
                         "the part that draws, %s, cannot be started (%s); "
                         "install midweight as a whole, with cairo and Pango",
                         DRAWER, strerror(failure));
    }
    while (waitpid((pid_t)drawer_pid, &status, 0) < 0 && errno == EINTR) {
        /* a signal came in between, and was passed on */
    }
    return end_as(status, error);
}

const struct command command_card = {
    .name = "card",
    .summary = "printed sheets: mixes, temperatures, charts, labels",
    .start = launch,
};
