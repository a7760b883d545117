/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * power_disk - a SQLite VFS over the usual one that knows what would be on the
 * disk if the power failed now.
 *
 * A write, a truncation, a new file or a deleted one is pending until it is
 * synced. When the power fails any of the pending ones may be there or not, in
 * any order, and of a write any of its sectors. What SQLite assumes of a disk
 * is kept (SQLITE_IOCAP_POWERSAFE_OVERWRITE): a sector that nobody writes stays
 * as it is, and one that is written is old or new.
 */
#ifndef POWER_DISK_H
#define POWER_DISK_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/** What survives of the pending writes. */
enum survival {
    SURVIVES_NOTHING,
    SURVIVES_ALL,
    SURVIVES_LAST, /* the last write only: they were done out of order */
    SURVIVES_BY_LOT
};

/** Watch the files that SQLite opens from now on. */
void disk_begin(void);

/**
 * Look more closely.
 *
 * Given: moment  called after every change and every sync of a file
 *        lies    syncs do nothing, as on a disk that only says so
 */
void disk_watch(void (*moment)(void *context), void *context, bool lies);

/** The files as they are become the state that is safe on the disk. */
void disk_forget(void);

/** Open files by the usual VFS for a while; resume watching. */
void disk_pause(void);
void disk_resume(void);

/** Open files by the usual VFS again, and forget all. */
void disk_end(void);

/**
 * Write what the disk would hold into a folder.
 *
 * Given: lot  the seed, for SURVIVES_BY_LOT
 */
void disk_after_cut(const char *folder, enum survival survival, uint64_t lot);

#endif
