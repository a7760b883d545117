/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "parse/tools.h"

#include <string.h>

#include "parse/amount.h"
#include "parse/number.h"

/* GRADUATION or GRADUATION/CAPACITY */
static enum exit_code parse_syringe(const char *text, struct mw_tools *tools,
                                    struct error *error)
{
    char graduation[64];
    const char *slash = strchr(text, '/');
    if (!slash) {
        return parse_ml(text, &tools->graduation_ml, error);
    }
    size_t length = (size_t)(slash - text);
    if (length >= sizeof graduation) {
        return refuse(error,
                      "\"%.*s\" is not a syringe; write 0.2ml or 0.2/5ml",
                      QUOTED, text);
    }
    memcpy(graduation, text, length);
    graduation[length] = '\0';
    enum exit_code code = parse_ml(graduation, &tools->graduation_ml, error);
    if (code == EXIT_DONE) {
        code = parse_ml(slash + 1, &tools->capacity_ml, error);
    }
    return code == EXIT_DONE && tools->capacity_ml < tools->graduation_ml
               ? refuse(error, "a syringe holds more than one graduation; "
                               "write 0.2/5ml")
               : code;
}

enum exit_code parse_tools(const struct tool_options *options,
                           struct mw_tools *tools, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    *tools = (struct mw_tools){0};
    if (options->drop && (options->syringe || options->scale)) {
        return refuse(error, "drops are counted, not measured; leave --drop or "
                             "the other tool out");
    }
    if (options->syringe) {
        code = parse_syringe(options->syringe, tools, error);
    }
    if (code == EXIT_DONE && options->scale) {
        code = parse_g(options->scale, &tools->resolution_g, error);
    }
    if (code == EXIT_DONE && options->drop) {
        code = parse_ml(options->drop, &tools->drop_ml, error);
    }
    return code;
}

bool any_tool(const struct mw_tools *tools)
{
    return tools->graduation_ml > 0 || tools->resolution_g > 0 ||
           tools->drop_ml > 0;
}
