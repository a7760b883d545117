/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
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

static const struct {
    enum mw_warning warning;
    const char *code;
    const char *text;
} warnings[] = {
#define WARNING_ROW(name, bit, code, text) {name, code, text},
    MW_WARN_LIST(WARNING_ROW)
#undef WARNING_ROW
};

enum { WARNING_COUNT = sizeof warnings / sizeof warnings[0] };

/* the row of a warning; WARNING_COUNT for an invalid value */
static size_t find_warning(enum mw_warning warning)
{
    size_t i = 0;
    while (i < WARNING_COUNT && warnings[i].warning != warning) {
        i++;
    }
    return i;
}

const char *mw_warning_text(enum mw_warning warning)
{
    size_t i = find_warning(warning);
    return i < WARNING_COUNT ? warnings[i].text : "an unknown warning";
}

const char *mw_warning_name(enum mw_warning warning)
{
    size_t i = find_warning(warning);
    return i < WARNING_COUNT ? warnings[i].code : "?";
}
