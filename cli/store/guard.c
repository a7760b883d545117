/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/guard.h"

#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

/* whether a file is the stock or one of the three that SQLite keeps for it */
static bool is_own(const struct stock_guard *guard, const char *path)
{
    static const char *const suffixes[] = {"", "-journal", "-wal", "-shm"};
    size_t length = strlen(guard->stock);
    if (!path || length == 0 || strncmp(path, guard->stock, length) != 0) {
        return false;
    }
    for (size_t i = 0; i < sizeof suffixes / sizeof suffixes[0]; i++) {
        if (strcmp(path + length, suffixes[i]) == 0) {
            return true;
        }
    }
    return false;
}

static int refuse(struct stock_guard *guard, int code)
{
    guard->refused = true;
    return code;
}

static int guarded_open(sqlite3_vfs *vfs, const char *path, sqlite3_file *file,
                        int flags, int *flags_out)
{
    struct stock_guard *guard = (struct stock_guard *)vfs;
    file->pMethods = NULL; /* nothing to close where it is refused */
    if (flags & SQLITE_OPEN_MAIN_DB) {
        if (!path || strlen(path) >= sizeof guard->stock) {
            return refuse(guard, SQLITE_CANTOPEN);
        }
        snprintf(guard->stock, sizeof guard->stock, "%s", path);
    } else if ((flags & SQLITE_OPEN_SUPER_JOURNAL) || !is_own(guard, path)) {
        return refuse(guard, SQLITE_CANTOPEN);
    }
    return guard->base->xOpen(guard->base, path, file, flags, flags_out);
}

static int guarded_delete(sqlite3_vfs *vfs, const char *path, int sync)
{
    struct stock_guard *guard = (struct stock_guard *)vfs;
    return is_own(guard, path) ? guard->base->xDelete(guard->base, path, sync)
                               : refuse(guard, SQLITE_IOERR_DELETE);
}

/* SQLite asks for a file that a journal names before it deletes it */
static int guarded_access(sqlite3_vfs *vfs, const char *path, int flags,
                          int *result)
{
    struct stock_guard *guard = (struct stock_guard *)vfs;
    return is_own(guard, path)
               ? guard->base->xAccess(guard->base, path, flags, result)
               : refuse(guard, SQLITE_IOERR_ACCESS);
}

int stock_guard_open(struct stock_guard *guard, const char *path, bool make,
                     sqlite3 **db)
{
    sqlite3_vfs *base = sqlite3_vfs_find(NULL);
    if (!base) {
        *db = NULL; /* SQLite could not start */
        return SQLITE_NOMEM;
    }
    *guard = (struct stock_guard){.vfs = *base, .base = base};
    guard->vfs.zName = "midweight-stock";
    guard->vfs.xOpen = guarded_open;
    guard->vfs.xDelete = guarded_delete;
    guard->vfs.xAccess = guarded_access;
    /* registered only to be found by its name */
    sqlite3_vfs_register(&guard->vfs, 0);
    mode_t mask = umask(S_IRWXG | S_IRWXO);
    int result = sqlite3_open_v2(
        path, db, SQLITE_OPEN_READWRITE | (make ? SQLITE_OPEN_CREATE : 0),
        guard->vfs.zName);
    umask(mask);
    sqlite3_vfs_unregister(&guard->vfs);
    return result;
}
