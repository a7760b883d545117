/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "stock_guard.h"

#include <sqlite3.h>
#include <stdio.h>
#include <string.h>

static struct {
    sqlite3_vfs vfs;   /* a copy of the usual one, with three other methods */
    sqlite3_vfs *base; /* the usual one */
    char stock[4200];  /* the full path of the stock that is open */
    bool refused;
} guard;

/* whether a file is the stock or one of the three that SQLite keeps for it */
static bool is_own(const char *path)
{
    static const char *const suffixes[] = {"", "-journal", "-wal", "-shm"};
    size_t length = strlen(guard.stock);
    if (!path || length == 0 || strncmp(path, guard.stock, length) != 0) {
        return false;
    }
    for (size_t i = 0; i < sizeof suffixes / sizeof suffixes[0]; i++) {
        if (strcmp(path + length, suffixes[i]) == 0) {
            return true;
        }
    }
    return false;
}

static int refuse(int code)
{
    guard.refused = true;
    return code;
}

static int guarded_open(sqlite3_vfs *vfs, const char *path, sqlite3_file *file,
                        int flags, int *flags_out)
{
    (void)vfs;
    file->pMethods = NULL; /* nothing to close where it is refused */
    if (flags & SQLITE_OPEN_MAIN_DB) {
        if (!path || strlen(path) >= sizeof guard.stock) {
            return refuse(SQLITE_CANTOPEN);
        }
        snprintf(guard.stock, sizeof guard.stock, "%s", path);
        guard.refused = false;
    } else if ((flags & SQLITE_OPEN_SUPER_JOURNAL) || !is_own(path)) {
        return refuse(SQLITE_CANTOPEN);
    }
    return guard.base->xOpen(guard.base, path, file, flags, flags_out);
}

static int guarded_delete(sqlite3_vfs *vfs, const char *path, int sync)
{
    (void)vfs;
    return is_own(path) ? guard.base->xDelete(guard.base, path, sync)
                        : refuse(SQLITE_IOERR_DELETE);
}

/* SQLite asks for a file that a journal names before it deletes it */
static int guarded_access(sqlite3_vfs *vfs, const char *path, int flags,
                          int *result)
{
    (void)vfs;
    return is_own(path) ? guard.base->xAccess(guard.base, path, flags, result)
                        : refuse(SQLITE_IOERR_ACCESS);
}

/* in front of whatever is the usual VFS now */
static void stand_before(sqlite3_vfs *base, const char *name)
{
    if (guard.base) {
        sqlite3_vfs_unregister(&guard.vfs);
    }
    guard.base = base;
    guard.vfs = *base;
    guard.vfs.zName = name;
    guard.vfs.xOpen = guarded_open;
    guard.vfs.xDelete = guarded_delete;
    guard.vfs.xAccess = guarded_access;
    sqlite3_vfs_register(&guard.vfs, 0);
}

const char *stock_guard(void)
{
    static const char name[] = "midweight-stock";
    sqlite3_vfs *base = sqlite3_vfs_find(NULL);
    if (base != guard.base) {
        stand_before(base, name);
    }
    return name;
}

bool stock_guard_refused(void)
{
    return guard.refused;
}
