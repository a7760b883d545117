/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "power_disk.h"

#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum {
    FILES = 8,
    SECTOR = 512,
    SIZE_MAX_KEPT = 4 << 20 /* bytes: no stock of these tests is larger */
};

enum change_kind { WRITTEN, TRUNCATED, MADE, DELETED };

struct change {
    enum change_kind kind;
    size_t offset, size; /* of a write; the new size of a truncation */
    unsigned char *data;
};

/* a file as the disk has it for sure, and what may have come on top */
struct disk_file {
    char name[64];
    bool exists;
    unsigned char *data;
    size_t size;
    struct change *changes;
    size_t count;
};

static struct {
    struct disk_file files[FILES];
    size_t count;
    void (*moment)(void *context);
    void *context;
    bool lies;
    sqlite3_vfs *usual;
} disk;

static void *check(void *block)
{
    if (!block) {
        abort();
    }
    return block;
}

/* -- What the disk holds ----------------------------------------------- */

static struct disk_file *find(const char *path)
{
    const char *slash = strrchr(path, '/');
    const char *name = slash ? slash + 1 : path;
    for (size_t i = 0; i < disk.count; i++) {
        if (strcmp(disk.files[i].name, name) == 0) {
            return &disk.files[i];
        }
    }
    if (disk.count == FILES) {
        abort();
    }
    struct disk_file *file = &disk.files[disk.count++];
    snprintf(file->name, sizeof file->name, "%s", name);
    return file;
}

static void pend(struct disk_file *file, struct change change, const void *data)
{
    file->changes = check(
        realloc(file->changes, (file->count + 1) * sizeof file->changes[0]));
    if (data) {
        change.data = check(malloc(change.size));
        memcpy(change.data, data, change.size);
    }
    file->changes[file->count++] = change;
    disk.moment(disk.context);
}

static void resize(struct disk_file *file, size_t size, unsigned char filler)
{
    if (size > SIZE_MAX_KEPT) {
        abort();
    }
    file->data = check(realloc(file->data, size + 1));
    if (size > file->size) {
        memset(file->data + file->size, filler, size - file->size);
    }
    file->size = size;
}

static void put(struct disk_file *file, const struct change *change,
                size_t from, size_t to, unsigned char filler)
{
    if (change->offset + to > file->size) {
        resize(file, change->offset + to, filler);
    }
    memcpy(file->data + change->offset + from, change->data + from, to - from);
}

static void apply(struct disk_file *file, const struct change *change)
{
    switch (change->kind) {
    case WRITTEN:
        put(file, change, 0, change->size, 0);
        break;
    case TRUNCATED:
        resize(file, change->size, 0);
        break;
    case MADE:
        file->exists = true;
        break;
    case DELETED:
        file->exists = false;
        file->size = 0;
        break;
    }
}

static void forget_changes(struct disk_file *file)
{
    for (size_t i = 0; i < file->count; i++) {
        free(file->changes[i].data);
    }
    free(file->changes);
    file->changes = NULL;
    file->count = 0;
}

/* all that is pending is on the disk */
static void settle(struct disk_file *file)
{
    for (size_t i = 0; i < file->count; i++) {
        apply(file, &file->changes[i]);
    }
    forget_changes(file);
}

/* -- After a cut ------------------------------------------------------- */

/* splitmix64 (Steele, Lea and Flood 2014): numbers that look like chance */
static uint64_t draw(uint64_t *lot)
{
    uint64_t z = *lot += 0x9e3779b97f4a7c15u;
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

/* of a write by lot: none, all, or some of its sectors */
static void apply_by_lot(struct disk_file *file, const struct change *change,
                         uint64_t *lot)
{
    uint64_t fate = draw(lot) % 3;
    if (change->kind != WRITTEN || fate == 1) {
        if (fate > 0) {
            apply(file, change);
        }
        return;
    }
    unsigned char filler = draw(lot) % 2 ? 0xa5 : 0;
    for (size_t from = 0, to; fate == 2 && from < change->size; from = to) {
        to =
            (change->offset + from) / SECTOR * SECTOR + SECTOR - change->offset;
        to = to < change->size ? to : change->size;
        if (draw(lot) % 2) {
            put(file, change, from, to, filler);
        }
    }
}

static void survive(struct disk_file *file, enum survival survival,
                    uint64_t *lot)
{
    for (size_t i = 0; i < file->count; i++) {
        if (survival == SURVIVES_BY_LOT) {
            apply_by_lot(file, &file->changes[i], lot);
        } else if (survival == SURVIVES_ALL ||
                   (survival == SURVIVES_LAST && i + 1 == file->count)) {
            apply(file, &file->changes[i]);
        }
    }
}

void disk_after_cut(const char *folder, enum survival survival, uint64_t lot)
{
    for (size_t i = 0; i < disk.count; i++) {
        struct disk_file left = disk.files[i];
        char path[4096];
        left.data = check(malloc(left.size + 1));
        if (left.size > 0) {
            memcpy(left.data, disk.files[i].data, left.size);
        }
        survive(&left, survival, &lot);
        snprintf(path, sizeof path, "%s/%s", folder, left.name);
        unlink(path);
        FILE *out = left.exists ? check(fopen(path, "wb")) : NULL;
        if (out && (fwrite(left.data, 1, left.size, out) != left.size ||
                    fclose(out) != 0)) {
            abort();
        }
        free(left.data);
    }
}

/* -- Open files -------------------------------------------------------- */

struct open_file {
    sqlite3_file base;
    struct disk_file *kept;
    sqlite3_file *usual; /* stands behind this */
};

#define USUAL(file)     (((struct open_file *)(file))->usual)
#define CALL(file, ...) USUAL(file)->pMethods->__VA_ARGS__

static int close_file(sqlite3_file *file)
{
    return CALL(file, xClose(USUAL(file)));
}

static int read_file(sqlite3_file *file, void *data, int size,
                     sqlite3_int64 offset)
{
    return CALL(file, xRead(USUAL(file), data, size, offset));
}

static int write_file(sqlite3_file *file, const void *data, int size,
                      sqlite3_int64 offset)
{
    int result = CALL(file, xWrite(USUAL(file), data, size, offset));
    pend(((struct open_file *)file)->kept,
         (struct change){WRITTEN, (size_t)offset, (size_t)size, NULL}, data);
    return result;
}

static int truncate_file(sqlite3_file *file, sqlite3_int64 size)
{
    int result = CALL(file, xTruncate(USUAL(file), size));
    pend(((struct open_file *)file)->kept,
         (struct change){TRUNCATED, 0, (size_t)size, NULL}, NULL);
    return result;
}

static int sync_file(sqlite3_file *file, int flags)
{
    (void)flags; /* nothing is lost by not doing it: the disk is played here */
    if (!disk.lies) {
        settle(((struct open_file *)file)->kept);
    }
    disk.moment(disk.context);
    return SQLITE_OK;
}

static int size_of_file(sqlite3_file *file, sqlite3_int64 *size)
{
    return CALL(file, xFileSize(USUAL(file), size));
}

static int lock_file(sqlite3_file *file, int lock)
{
    return CALL(file, xLock(USUAL(file), lock));
}

static int unlock_file(sqlite3_file *file, int lock)
{
    return CALL(file, xUnlock(USUAL(file), lock));
}

static int check_reserved_lock(sqlite3_file *file, int *held)
{
    return CALL(file, xCheckReservedLock(USUAL(file), held));
}

static int control_file(sqlite3_file *file, int operation, void *argument)
{
    return CALL(file, xFileControl(USUAL(file), operation, argument));
}

static int sector_size(sqlite3_file *file)
{
    (void)file;
    return SECTOR;
}

static int characteristics(sqlite3_file *file)
{
    return CALL(file, xDeviceCharacteristics(USUAL(file)));
}

static const sqlite3_io_methods methods = {
    .iVersion = 1,
    .xClose = close_file,
    .xRead = read_file,
    .xWrite = write_file,
    .xTruncate = truncate_file,
    .xSync = sync_file,
    .xFileSize = size_of_file,
    .xLock = lock_file,
    .xUnlock = unlock_file,
    .xCheckReservedLock = check_reserved_lock,
    .xFileControl = control_file,
    .xSectorSize = sector_size,
    .xDeviceCharacteristics = characteristics,
};

/* -- The VFS ----------------------------------------------------------- */

static int open_path(sqlite3_vfs *vfs, const char *path, sqlite3_file *file,
                     int flags, int *out_flags)
{
    struct open_file *opened = (struct open_file *)file;
    (void)vfs;
    if (!path || flags & SQLITE_OPEN_DELETEONCLOSE) {
        return disk.usual->xOpen(disk.usual, path, file, flags, out_flags);
    }
    bool was_there = access(path, F_OK) == 0;
    opened->base.pMethods = NULL;
    opened->usual = (sqlite3_file *)(opened + 1);
    int result =
        disk.usual->xOpen(disk.usual, path, opened->usual, flags, out_flags);
    if (result == SQLITE_OK) {
        opened->base.pMethods = &methods;
        opened->kept = find(path);
        if (!was_there) {
            pend(opened->kept, (struct change){.kind = MADE}, NULL);
        }
    }
    return result;
}

static int delete_path(sqlite3_vfs *vfs, const char *path, int sync)
{
    (void)vfs;
    int result = disk.usual->xDelete(disk.usual, path, 0);
    if (result == SQLITE_OK) {
        struct disk_file *file = find(path);
        pend(file, (struct change){.kind = DELETED}, NULL);
        if (sync && !disk.lies) {
            settle(file);
            disk.moment(disk.context);
        }
    }
    return result;
}

static sqlite3_vfs power;

static void quiet(void *context)
{
    (void)context;
}

void disk_watch(void (*moment)(void *context), void *context, bool lies)
{
    disk.moment = moment;
    disk.context = context;
    disk.lies = lies;
}

void disk_begin(void)
{
    disk_watch(quiet, NULL, false);
    disk.usual = sqlite3_vfs_find("unix");
    power = *disk.usual;
    power.zName = "power";
    power.pNext = NULL;
    power.szOsFile = (int)sizeof(struct open_file) + disk.usual->szOsFile;
    power.xOpen = open_path;
    power.xDelete = delete_path;
    sqlite3_vfs_register(&power, 1);
}

void disk_forget(void)
{
    for (size_t i = 0; i < disk.count; i++) {
        settle(&disk.files[i]);
    }
}

void disk_pause(void)
{
    sqlite3_vfs_register(disk.usual, 1);
}

void disk_resume(void)
{
    sqlite3_vfs_register(&power, 1);
}

void disk_end(void)
{
    sqlite3_vfs_unregister(&power);
    disk_pause();
    for (size_t i = 0; i < disk.count; i++) {
        forget_changes(&disk.files[i]);
        free(disk.files[i].data);
        disk.files[i] = (struct disk_file){0};
    }
    disk.count = 0;
}
