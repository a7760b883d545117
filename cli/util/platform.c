/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* strptime, timegm, realpath, renameat2 */
/* NOLINTNEXTLINE(*-reserved-identifier,cert-*) */
#define _GNU_SOURCE
#include "util/platform.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>
#ifdef __linux__
#include <sys/prctl.h>
#endif

bool is_calendar_day(const char *text)
{
    struct tm day = {0};
    char again[sizeof "YYYY-MM-DD"];
    if (strlen(text) != sizeof again - 1 || !strptime(text, "%Y-%m-%d", &day)) {
        return false;
    }
    struct tm same = day;
    same.tm_hour = 12;
    /* timegm() puts the 31st of a short month right: then it is another day */
    timegm(&same);
    return strftime(again, sizeof again, "%Y-%m-%d", &same) > 0 &&
           strcmp(again, text) == 0;
}

char *real_path(const char *path)
{
    return realpath(path, NULL);
}

bool rename_file(const char *from, const char *to, bool replace)
{
    unsigned flags = replace ? 0 : RENAME_NOREPLACE;
    if (renameat2(AT_FDCWD, from, AT_FDCWD, to, flags) == 0) {
        return true;
    }
    /* a file system that knows no flags */
    return errno == EINVAL && rename(from, to) == 0;
}

bool program_find(char *path, size_t size, uid_t *owner)
{
    static const char self[] = "/proc/self/exe";
    struct stat program;
    ssize_t length = readlink(self, path, size);
    if (length < 0 || (size_t)length >= size || stat(self, &program) != 0) {
        return false;
    }
    path[length] = '\0';
    *owner = program.st_uid;
    return true;
}

void end_with_parent(void)
{
#ifdef PR_SET_PDEATHSIG
    prctl(PR_SET_PDEATHSIG, SIGTERM);
#endif
}
