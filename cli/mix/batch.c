/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* the batch that is wanted, and the tools at hand */
#include "mix/mix.h"
#include "parse/number.h"
#include "parse/tools.h"

/* whether the oils say how much of them there is, or all of their parts */
static bool has_own_amounts(const struct mix_request *request)
{
    size_t given = 0;
    bool own = false;
    for (size_t i = 0; i < request->count; i++) {
        enum mw_amount_kind kind = request->amounts[i].kind;
        given += kind != MW_AMOUNT_OPEN;
        own = own || kind == MW_AMOUNT_ML || kind == MW_AMOUNT_G ||
              kind == MW_AMOUNT_DROPS;
    }
    return own || (given == request->count && given > 0);
}

enum exit_code mix_read_batch(const struct args *args,
                              struct mix_request *request, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    /* amounts size the batch, whatever is usual */
    const char *make = args->value[MIX_MAKE];
    if (args->by_default[MIX_MAKE] && has_own_amounts(request)) {
        make = NULL;
    }
    if (args->value[MIX_WASTE] && !make && !args->by_default[MIX_WASTE]) {
        return refuse(error, "--waste goes with --make");
    }
    if (args->value[MIX_WASTE] && make &&
        (code = parse_percent(args->value[MIX_WASTE], &request->waste,
                              error)) != EXIT_DONE) {
        return code;
    }
    request->has_make = make != NULL;
    return make ? parse_batch(make, &request->make_count, &request->make_each,
                              error)
                : EXIT_DONE;
}

enum exit_code mix_batch(const struct mix_request *request, double *batch,
                         struct error *error)
{
    *batch = 0;
    if (!request->has_make) {
        return EXIT_DONE;
    }
    enum mw_status status = mw_dose_batch(
        request->make_count, request->make_each.value, request->waste, batch);
    return status == MW_OK
               ? EXIT_DONE
               : refuse(error, "--make: %s", mw_status_text(status));
}

enum exit_code mix_read_tools(const struct args *args,
                              struct mix_request *request, struct error *error)
{
    const struct tool_options options = {args->value[MIX_SYRINGE],
                                         args->value[MIX_SCALE],
                                         args->value[MIX_DROP]};
    request->usual_tools = args->by_default[MIX_SYRINGE] ||
                           args->by_default[MIX_SCALE] ||
                           args->by_default[MIX_DROP];
    return parse_tools(&options, &request->tools, error);
}
