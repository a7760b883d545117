/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "util/stock_path.h"

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

enum exit_code stock_path(const char *file, char *path, size_t size,
                          struct error *error)
{
    int length = find_path(file, path, size);
    if (length < 0) {
        return error_set(error, EXIT_OUTPUT,
                         "no home directory for the stock; name a file with "
                         "--stock");
    }
    return (size_t)length < size
               ? EXIT_DONE
               : error_set(error, EXIT_OUTPUT,
                           "the name of the stock is too long");
}

void stock_path_make_folders(const char *path)
{
    char *folder = xstrdup(path);
    for (char *slash = strchr(folder + 1, '/'); slash;
         slash = strchr(slash + 1, '/')) {
        *slash = '\0';
        mkdir(folder, S_IRWXU);
        *slash = '/';
    }
    free(folder);
}
