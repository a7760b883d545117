/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "util/atomic_file.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "util/platform.h"
#include "util/xalloc.h"

struct new_file {
    int descriptor;  /* -1: not open */
    char *path;      /* where it will be */
    char *temporary; /* NULL: path is a device, and written as it is */
    bool force;
    mode_t mode; /* of the file that it replaces; 0: the usual one */
    struct error *error;
};

static enum exit_code refuse_file(struct new_file *file)
{
    return error_set(file->error, EXIT_OUTPUT,
                     "%.200s cannot be written: %s; choose another place "
                     "with -o",
                     file->path, strerror(errno));
}

static char *temporary_beside(const char *path)
{
    static const char name[] = ".midweight-XXXXXX";
    const char *slash = strrchr(path, '/');
    size_t folder = slash ? (size_t)(slash - path) + 1 : 0;
    char *temporary = xcalloc(folder + sizeof name, 1);
    memcpy(temporary, path, folder);
    memcpy(temporary + folder, name, sizeof name);
    return temporary;
}

/* what stands in the way; regular is set for what a rename replaces */
static enum exit_code look(struct new_file *file, bool *regular)
{
    struct stat there;
    *regular = true;
    if (stat(file->path, &there) != 0) {
        return EXIT_DONE;
    }
    if (S_ISDIR(there.st_mode)) {
        errno = EISDIR;
        return refuse_file(file);
    }
    if (!file->force) {
        return error_set(file->error, EXIT_OUTPUT,
                         "%.200s is there already; add --force to replace it",
                         file->path);
    }
    *regular = S_ISREG(there.st_mode);
    file->mode = there.st_mode & (S_IRWXU | S_IRWXG | S_IRWXO);
    char *target = real_path(file->path);
    if (target) {
        free(file->path);
        file->path = target;
    }
    return EXIT_DONE;
}

static int open_temporary(struct new_file *file)
{
    char *temporary = temporary_beside(file->path);
    int descriptor = mkstemp(temporary);
    if (descriptor < 0) {
        free(temporary);
    } else {
        file->temporary = temporary;
    }
    return descriptor;
}

static enum exit_code open_file(struct new_file *file, bool regular)
{
    file->descriptor =
        regular ? open_temporary(file) : open(file->path, O_WRONLY | O_TRUNC);
    return file->descriptor >= 0 ? EXIT_DONE : refuse_file(file);
}

/* the rights of the file that is replaced, or those of any new file */
static void give_rights(const struct new_file *file)
{
    mode_t mask = umask(0);
    umask(mask);
    fchmod(file->descriptor, file->mode != 0 ? file->mode : 0666 & ~mask);
}

static bool write_all(int descriptor, const char *data, size_t size)
{
    while (size > 0) {
        ssize_t written = write(descriptor, data, size);
        if (written > 0) {
            data += written;
            size -= (size_t)written;
        } else if (written == 0 || errno != EINTR) {
            return false;
        }
    }
    return true;
}

/* Write and close; of several failures the first is reported. Nothing is
 * allocated while the temporary file is there: a program that ends where its
 * memory ends would leave it behind. */
static enum exit_code fill(struct new_file *file, const void *data, size_t size)
{
    bool written = write_all(file->descriptor, data, size);
    if (written && file->temporary) {
        give_rights(file);
        written = fsync(file->descriptor) == 0 || errno == EINVAL;
    }
    enum exit_code code = written ? EXIT_DONE : refuse_file(file);
    if (close(file->descriptor) != 0 && written) {
        code = refuse_file(file);
    }
    return code;
}

/* the temporary file to its place, or removed after a failure */
static enum exit_code place(struct new_file *file, enum exit_code code)
{
    if (code == EXIT_DONE &&
        !rename_file(file->temporary, file->path, file->force)) {
        code = refuse_file(file);
    }
    if (code != EXIT_DONE) {
        unlink(file->temporary);
    }
    return code;
}

/* Hold back what would end the program and leave the temporary file behind.
 * A device or a pipe has none, and may keep the program waiting for ever.
 * before receives what was held back already. */
static void hold_signals(bool temporary, sigset_t *before)
{
    sigset_t ending;
    sigemptyset(&ending);
    if (temporary) {
        sigaddset(&ending, SIGHUP);
        sigaddset(&ending, SIGINT);
        sigaddset(&ending, SIGTERM);
    }
    sigprocmask(SIG_BLOCK, &ending, before);
}

enum exit_code new_file(const char *path, bool force, const void *data,
                        size_t size, struct error *error)
{
    bool regular;
    sigset_t before;
    struct new_file file = {.descriptor = -1,
                            .path = xstrdup(path),
                            .force = force,
                            .error = error};
    enum exit_code code = look(&file, &regular);
    hold_signals(regular, &before);
    if (code == EXIT_DONE) {
        code = open_file(&file, regular);
    }
    if (file.descriptor >= 0) {
        code = fill(&file, data, size);
    }
    if (file.temporary) {
        code = place(&file, code);
    }
    sigprocmask(SIG_SETMASK, &before, NULL);
    free(file.temporary);
    free(file.path);
    return code;
}
