/* SPDX-License-Identifier: GPL-3.0-or-later */
/* the blending rule and the excess, before the oils are all known */
#include "mix/mix.h"
#include "parse/number.h"

/* whether a pair is to be chosen: of the stock, or of several oils that are
 * named without amounts */
bool mix_is_choice(const struct mix_request *request)
{
    bool open = request->has_target && request->count != 2;
    for (size_t i = 0; i < request->count; i++) {
        open = open && request->amounts[i].kind == MW_AMOUNT_OPEN;
    }
    return open;
}

/* the excess of oils that have not been mixed yet, to choose a pair by */
static enum exit_code find_excess(struct stock_handle *handle,
                                  struct mix_request *request,
                                  struct error *error)
{
    struct mw_excess excess = {MW_SILICONE_EXCESS,
                               mw_usual_excess_uncertainty()};
    enum exit_code code = EXIT_DONE;
    if (mix_is_choice(request)) {
        if (!request->bottles.list) {
            code = stock_excess(&handle->stock, &request->usual, error);
        }
        excess = request->target.viscosity < MW_EXCESS_GRADE
                     ? request->usual.thin
                     : request->usual.thick;
        request->trial_mixes = request->usual.trial_mixes;
    }
    request->method.excess = excess.value;
    request->excess_uncertainty = excess.uncertainty;
    return code;
}

enum exit_code mix_read_method(const struct args *args,
                               struct stock_handle *handle,
                               struct mix_request *request, struct error *error)
{
    struct mw_method *method = &request->method;
    request->exact = args->value[MIX_RULE] || args->value[MIX_EXCESS];
    if (args->value[MIX_RULE] && args->value[MIX_EXCESS]) {
        return refuse(error,
                      "--rule is the plain standard and --excess is not; give "
                      "one of them");
    }
    if (args->value[MIX_RULE]) {
        return mw_rule_from_name(args->value[MIX_RULE], &method->rule) == MW_OK
                   ? EXIT_DONE
                   : refuse(error,
                            "\"%.*s\" is not a rule; write astm or wright",
                            QUOTED, args->value[MIX_RULE]);
    }
    if (request->count > 0) {
        /* two families are refused later, with a better message */
        mw_method_default(request->oils, request->count, method);
    }
    if (args->value[MIX_EXCESS]) {
        return parse_number(args->value[MIX_EXCESS], &method->excess, error);
    }
    return request->family == MW_SILICONE ? find_excess(handle, request, error)
                                          : EXIT_DONE;
}
