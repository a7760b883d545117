/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/path.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "util/xalloc.h"

static int find_path(const char *file, char *path, size_t size)
{
    const char *chosen = file ? file : getenv("MIDWEIGHT_STOCK");
    const char *data = getenv("XDG_DATA_HOME");
    const char *home = getenv("HOME");
    if (chosen && *chosen) {
        /* "./" keeps SQLite from reading anything into a name */
        return snprintf(path, size, "%s%s", *chosen == '/' ? "" : "./", chosen);
    }
    if (data && *data == '/') {
        return snprintf(path, size, "%s/midweight/stock.db", data);
    }
    return home && *home ? snprintf(path, size,
                                    "%s/.local/share/midweight/stock.db", home)
                         : -1;
}

enum outcome stock_path(const char *file, char *path, size_t size,
                        struct problem *problem)
{
    int length = find_path(file, path, size);
    if (length < 0) {
        return problem_set(problem, OUTCOME_OUTPUT,
                           "no home directory for the stock; name a file with "
                           "--stock");
    }
    return (size_t)length < size
               ? OUTCOME_DONE
               : problem_set(problem, OUTCOME_OUTPUT,
                             "the name of the stock is too long");
}

void stock_path_make_folders(const char *path)
{
    char *folder = need_copy(path);
    for (char *slash = strchr(folder + 1, '/'); slash;
         slash = strchr(slash + 1, '/')) {
        *slash = '\0';
        mkdir(folder, S_IRWXU);
        *slash = '/';
    }
    free(folder);
}
