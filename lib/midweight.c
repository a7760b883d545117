/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "midweight.h"

const char *mw_version(void)
{
    return MW_VERSION;
}
