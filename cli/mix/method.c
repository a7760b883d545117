/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* the blending rule and the excess, where they are named */
#include "mix/mix.h"
#include "parse/number.h"

enum exit_code mix_read_method(const struct args *args,
                               struct mix_request *request, struct error *error)
{
    const char *rule = args->value[MIX_RULE], *excess = args->value[MIX_EXCESS];
    request->has_rule = rule != NULL;
    request->has_excess = excess != NULL;
    if (rule && excess) {
        return refuse(error,
                      "--rule is the plain standard and --excess is not; give "
                      "one of them");
    }
    if (excess) {
        return parse_number(excess, &request->method.excess, error);
    }
    return !rule || mw_rule_from_name(rule, &request->method.rule) == MW_OK
               ? EXIT_DONE
               : refuse(error, "\"%.*s\" is not a rule; write astm or wright",
                        QUOTED, rule);
}

const struct mw_method *mix_method(struct mix_request *request)
{
    struct mw_method usual;
    struct mw_oil oils[MW_MIX_OILS_MAX];
    for (size_t i = 0; i < request->all; i++) {
        oils[i] = request->refs[i].oil;
    }
    if (request->has_excess) {
        /* two families are refused later, with a better message */
        mw_method_default(oils, request->all, &usual);
        request->method.rule = usual.rule;
    }
    return request->has_rule || request->has_excess ? &request->method : NULL;
}
