/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/status.h"

#include <stddef.h>
#include <string.h>

static const struct {
    const char *name;
    const char *text;
} statuses[] = {
#define STATUS_ROW(name, text) {#name, text},
    MW_STATUS_LIST(STATUS_ROW)
#undef STATUS_ROW
};

enum { STATUS_COUNT = sizeof statuses / sizeof statuses[0] };

const char *mw_status_text(enum mw_status status)
{
    return (unsigned)status < STATUS_COUNT ? statuses[status].text
                                           : "an unknown status";
}

const char *mw_status_name(enum mw_status status)
{
    return (unsigned)status < STATUS_COUNT ? statuses[status].name : "MW_ERR_?";
}

enum mw_status mw_status_from_name(const char *name, enum mw_status *status)
{
    for (size_t i = 0; i < STATUS_COUNT; i++) {
        if (strcmp(name, statuses[i].name) == 0) {
            *status = (enum mw_status)i;
            return MW_OK;
        }
    }
    return MW_ERR_NAME;
}

const char *mw_note_text(enum mw_note note)
{
    switch (note) {
#define NOTE_CASE(name, bit, text)                                             \
    case name:                                                                 \
        return text;
        MW_NOTE_LIST(NOTE_CASE)
#undef NOTE_CASE
    }
    return "an unknown note";
}
