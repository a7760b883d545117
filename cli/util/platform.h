/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * platform - all that the programs need beyond C11 and POSIX.1-2008, but for
 * getopt_long(): what another system does in another way is to be changed here
 * only.
 */
#ifndef UTIL_PLATFORM_H
#define UTIL_PLATFORM_H

#include <stdbool.h>
#include <stddef.h>
#include <sys/types.h>

/** Whether a text is a day of the calendar, to the letter YYYY-MM-DD. */
bool is_calendar_day(const char *text);

/** The path without links, to be freed; NULL where there is no such file. */
char *real_path(const char *path);

/**
 * Rename a file.
 *
 * Given:    replace  or else a file that has the name already is EEXIST, where
 *                    the file system can say so
 * Returned: whether it was; errno otherwise
 */
bool rename_file(const char *from, const char *to, bool replace);

/**
 * The path of the running program, without links, and who owns it.
 *
 * Returned: whether it is known and fits into path
 */
bool program_find(char *path, size_t size, uid_t *owner);

/** End this process when the one that started it ends, where the system can. */
void end_with_parent(void);

#endif
