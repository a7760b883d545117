/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** tools - what oils are measured with, as people write it. */
#ifndef PARSE_TOOLS_H
#define PARSE_TOOLS_H

#include <stdbool.h>

#include "midweight.h"
#include "util/error.h"

/** The options, or NULL. */
struct tool_options {
    const char *syringe; /* 0.2ml, 0.2 or 0.2/5ml: with what it holds */
    const char *scale;   /* 0.01g */
    const char *drop;    /* 0.015ml */
};

/**
 * Understand the tools; a syringe and a scale go together.
 *
 * Returned: tools  zero where there is none
 */
enum exit_code parse_tools(const struct tool_options *options,
                           struct mw_tools *tools, struct error *error);

/** Whether there is any tool. */
bool any_tool(const struct mw_tools *tools);

#endif
