/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdint.h>
#include <string.h>

#include "mix/mix.h"
#include "parse/amount.h"
#include "parse/number.h"
#include "parse/range.h"
#include "parse/toleranced.h"
#include "parse/viscosity.h"

/* OIL or OIL=AMOUNT */
/* the same bottle a second time is more of the one part that it is */
static enum exit_code merge_part(struct mix_request *request, size_t same,
                                 struct error *error)
{
    size_t last = request->count;
    struct amount *first = &request->amounts[same];
    struct amount *second = &request->amounts[last];
    if (first->kind != second->kind) {
        return refuse(error, "%.*s is named twice; give its amount once",
                      QUOTED, request->refs[same].name);
    }
    first->value += second->value;
    *second = (struct amount){0};
    return EXIT_DONE;
}

/* the index of a part that is from the same bottle; count where there is none
 */
static size_t find_same(const struct mix_request *request,
                        const struct oil_ref *ref)
{
    size_t i = 0;
    while (i < request->count &&
           (ref->id == 0 || request->refs[i].id != ref->id)) {
        i++;
    }
    return i;
}

static enum exit_code read_oil(char *word, const struct oil_defaults *defaults,
                               struct stock_handle *handle,
                               struct mix_request *request, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    size_t i = request->count;
    struct oil_ref ref;
    char *equals = strrchr(word, '=');
    if (equals) {
        *equals = '\0';
        if ((code = parse_amount(equals + 1, &request->amounts[i], error)) !=
            EXIT_DONE) {
            return code;
        }
    }
    code = oil_ref_find_own(handle, word, defaults, &ref, error);
    if (code != EXIT_DONE) {
        return code;
    }
    size_t same = find_same(request, &ref);
    if (same < request->count) {
        code = merge_part(request, same, error);
    } else {
        mix_add_oil_ref(request, &ref);
    }
    return code;
}

/* a target in mm2/s; *named where it names its temperature */
static enum exit_code resolve_target(const char *text, const struct args *args,
                                     const struct oil_defaults *defaults,
                                     struct mix_request *request,
                                     struct mw_point *point,
                                     struct error *error)
{
    struct viscosity target;
    enum exit_code code = parse_viscosity(text, &target, error);
    if (code == EXIT_DONE) {
        code = resolve_viscosity(&target, request->family, defaults->density,
                                 request->temperature, point, error);
    }
    if (code == EXIT_DONE && args->value[MIX_AT] && target.has_temperature &&
        target.temperature != request->temperature) {
        return refuse(error,
                      "--at and --target name two temperatures; leave --at "
                      "out");
    }
    return code;
}

/* V:V:STEP, with a temperature behind it or none */
static enum exit_code read_range(const char *text, const struct args *args,
                                 const struct oil_defaults *defaults,
                                 struct mix_request *request,
                                 struct error *error)
{
    struct target_range range;
    struct mw_point to;
    enum exit_code code;
    if ((code = parse_target_range(text, &range, error)) != EXIT_DONE ||
        (code = resolve_target(range.from, args, defaults, request,
                               &request->target, error)) != EXIT_DONE ||
        (code = resolve_target(range.to, args, defaults, request, &to,
                               error)) != EXIT_DONE) {
        return code;
    }
    request->step = range.step;
    return count_steps(text, request->target.viscosity, to.viscosity,
                       range.step, &request->targets, error);
}

/* where all oils are rated, else where their family is */
static double rating_t(const struct mix_request *request)
{
    struct mw_oil oils[MW_MIX_OILS_MAX];
    for (size_t i = 0; i < request->count; i++) {
        oils[i] = request->refs[i].oil;
    }
    return request->count > 0 ? mw_common_rating_t(oils, request->count)
                              : mw_family_rating_t(request->family);
}

static enum exit_code read_target(const struct args *args,
                                  const struct oil_defaults *defaults,
                                  struct mix_request *request,
                                  struct error *error)
{
    enum exit_code code = EXIT_DONE;
    const char *text = args->value[MIX_TARGET];
    struct toleranced t = {rating_t(request), NAN};
    if ((code = parse_thermometer(args->value[MIX_AT],
                                  args->value[MIX_THERMOMETER], &t, error)) !=
        EXIT_DONE) {
        return code;
    }
    request->temperature = t.value;
    request->thermometer = thermometer_of(&t);
    request->read = args->value[MIX_AT] && isfinite(t.limit);
    if (!text) {
        return args->value[MIX_CSV]
                   ? refuse(error, "--csv prints a table; give --target "
                                   "FROM:TO:STEP")
                   : EXIT_DONE;
    }
    code = strchr(text, ':') ? read_range(text, args, defaults, request, error)
                             : resolve_target(text, args, defaults, request,
                                              &request->target, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (args->value[MIX_CSV] && request->targets == 0) {
        return refuse(error,
                      "--csv prints a table; give --target FROM:TO:STEP");
    }
    request->has_target = true;
    request->temperature = request->target.temperature;
    return EXIT_DONE;
}

/* whether a pair is to be chosen: of the stock, or of several oils that are
 * named without amounts */
static bool is_choice(const struct mix_request *request)
{
    bool open = request->has_target && request->count != 2;
    for (size_t i = 0; i < request->count; i++) {
        open = open && request->amounts[i].kind == MW_AMOUNT_OPEN;
    }
    return open;
}

/* ML=OIL */
static enum exit_code read_residue(const struct args *args,
                                   const struct oil_defaults *defaults,
                                   struct stock_handle *handle,
                                   struct mix_request *request,
                                   struct error *error)
{
    /* argv belongs to the program, which may write to it (C11 5.1.2.2.1) */
    char *text = (char *)args->value[MIX_RESIDUE];
    char *equals = text ? strchr(text, '=') : NULL;
    if (!text) {
        return EXIT_DONE;
    }
    if (request->all == MW_MIX_OILS_MAX) {
        return refuse(error,
                      "a mix has at most %d oils, with what is left over",
                      (int)MW_MIX_OILS_MAX);
    }
    if (!equals) {
        return refuse(error, "\"%.*s\" is not ML=OIL; write 0.3ml=350", QUOTED,
                      text);
    }
    *equals = '\0';
    enum exit_code code = parse_ml(text, &request->residue_ml, error);
    return code == EXIT_DONE ? oil_ref_find_own(handle, equals + 1, defaults,
                                                &request->residue, error)
                             : code;
}

static enum exit_code read_oils(const struct args *args,
                                const struct oil_defaults *defaults,
                                struct stock_handle *handle,
                                struct mix_request *request,
                                struct error *error)
{
    if (args->count == 1 || (args->count == 0 && !args->value[MIX_TARGET])) {
        return refuse(error,
                      "a mix needs two oils or more; try midweight mix 350 500 "
                      "--target 420");
    }
    if (args->count > MW_MIX_OILS_MAX) {
        return refuse(error, "a mix has at most %d oils", (int)MW_MIX_OILS_MAX);
    }
    for (size_t i = 0; i < args->count; i++) {
        /* argv belongs to the program, which may write to it (C11 5.1.2.2.1) */
        enum exit_code code = read_oil((char *)args->argument[i], defaults,
                                       handle, request, error);
        if (code != EXIT_DONE) {
            return code;
        }
    }
    if (request->count == 1) {
        return refuse(error, "a mix needs two oils, and this is %.*s alone",
                      QUOTED, request->refs[0].name);
    }
    enum exit_code code = EXIT_DONE;
    if (args->count > 0) {
        request->family = request->refs[0].oil.family;
    } else {
        code = mix_offer(request, handle, error);
    }
    if (args->count == 0 && defaults->has_family) {
        request->family = defaults->family;
    }
    return code;
}

/* a pair of petroleum oils where no two silicone oils have the target between
 * them; false where there is none either */
static bool choose_petroleum(const struct args *args,
                             const struct oil_defaults *defaults,
                             struct mix_request *request)
{
    struct error other = {0};
    request->family = MW_MINERAL;
    return read_target(args, defaults, request, &other) == EXIT_DONE &&
           mix_choose(request, &other) == EXIT_DONE;
}

static enum exit_code choose(const struct args *args,
                             const struct oil_defaults *defaults,
                             struct mix_request *request, struct error *error)
{
    if (args->count > 0) {
        return mix_choose_named(request, error);
    }
    enum exit_code code = mix_choose(request, error);
    if (code == EXIT_NO_ANSWER && !defaults->has_family &&
        request->family == MW_SILICONE &&
        choose_petroleum(args, defaults, request)) {
        code = EXIT_DONE;
    }
    return code;
}

/* ml of a drop of these bottles, where each has a size of its own; 0: not known
 */
static double mean_drop(const struct mix_request *request)
{
    double sum = 0;
    for (size_t i = 0; i < request->count; i++) {
        sum += request->refs[i].drop_ml;
    }
    return sum > 0 ? sum / (double)request->count : 0;
}

/* how the mix is made */
static enum exit_code read_ways(const struct args *args,
                                const struct oil_defaults *defaults,
                                struct stock_handle *handle,
                                struct mix_request *request,
                                struct error *error)
{
    enum exit_code code;
    if ((code = mix_read_batch(args, request, error)) != EXIT_DONE ||
        (code = mix_read_tools(args, request, error)) != EXIT_DONE) {
        return code;
    }
    if (request->make_each.kind == MW_AMOUNT_DROPS &&
        !any_tool(&request->tools)) {
        request->tools.drop_ml = mean_drop(request);
    }
    if ((code = batch_in_ml(&request->make_each, request->tools.drop_ml,
                            error)) != EXIT_DONE ||
        (code = mix_read_method(args, request, error)) != EXIT_DONE) {
        return code;
    }
    return read_residue(args, defaults, handle, request, error);
}

enum exit_code mix_read(const struct args *args, struct stock_handle *handle,
                        struct mix_request *request, struct error *error)
{
    struct oil_defaults defaults;
    request->record = args->value[MIX_RECORD];
    request->date = args->value[MIX_DATE];
    request->explain = args->explain;
    request->alone = SIZE_MAX;
    if (args->value[MIX_DATE] && !args->value[MIX_RECORD]) {
        return refuse(error, "--date goes with --record");
    }
    enum exit_code code;
    if ((code = parse_oil_defaults(args->value[MIX_FAMILY],
                                   args->value[MIX_DENSITY], &defaults,
                                   error)) != EXIT_DONE) {
        return code;
    }
    request->density = NAN;
    if (request->record) {
        /* all its oils are bottles, which have theirs */
        request->density = defaults.density;
        defaults.density = NAN;
    }
    if ((code = read_oils(args, &defaults, handle, request, error)) !=
            EXIT_DONE ||
        (code = read_target(args, &defaults, request, error)) != EXIT_DONE ||
        (code = read_ways(args, &defaults, handle, request, error)) !=
            EXIT_DONE) {
        return code;
    }
    bool choice = is_choice(request);
    if (request->targets > 0 && (choice || request->record)) {
        return refuse(error, "a range of targets is for oils that are named, "
                             "and nothing of it is recorded");
    }
    if ((code = mix_join(handle, request, error)) != EXIT_DONE ||
        (choice &&
         (code = choose(args, &defaults, request, error)) != EXIT_DONE)) {
        return code;
    }
    return mix_gather(request, error);
}
