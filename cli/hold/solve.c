/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "hold/hold.h"
#include "parse/number.h"
#include "util/format.h"

bool hold_piston_changes(const struct hold_request *request)
{
    const struct mw_piston *from = &request->piston_from;
    const struct mw_piston *to = &request->piston_to;
    return request->has_piston &&
           (from->holes != to->holes || from->diameter != to->diameter ||
            (!isnan(from->thickness) && from->thickness != to->thickness));
}

static enum exit_code refuse_lengths(struct error *error)
{
    return refuse(error,
                  "the damper does not fit together: the shaft is "
                  "thinner than the bore, the holes are smaller than "
                  "the piston, and a gap is at most a tenth of the bore");
}

static struct mw_damper damper_of(const struct hold_request *request,
                                  bool after)
{
    return (struct mw_damper){after ? request->piston_to : request->piston_from,
                              request->bore, request->shaft, request->gap};
}

static enum exit_code find_factors(const struct hold_request *request,
                                   struct hold_answer *answer,
                                   struct error *error)
{
    enum mw_status status = MW_OK;
    answer->f_spring = answer->f_mass = answer->f_piston = 1;
    if (request->has_spring) {
        status = mw_hold_factor(request->spring.from, request->spring.to,
                                &answer->f_spring);
    }
    if (status == MW_OK && request->has_mass) {
        status = mw_hold_factor(request->mass.from, request->mass.to,
                                &answer->f_mass);
    }
    if (status == MW_OK && request->gap > 0) {
        const struct mw_damper from = damper_of(request, false);
        const struct mw_damper to = damper_of(request, true);
        status = mw_hold_damper(&from, &to, &answer->f_piston);
    } else if (status == MW_OK && hold_piston_changes(request)) {
        status = mw_hold_piston(&request->piston_from, &request->piston_to,
                                &answer->f_piston, &answer->warnings);
    }
    if (status == MW_ERR_LENGTH && request->gap > 0) {
        return refuse_lengths(error);
    }
    return status == MW_OK
               ? EXIT_DONE
               : refuse(error,
                        "the change of spring or mass is too large to be one");
}

/* the oil before and, where it is known there, after */
static enum exit_code find_states(const struct hold_request *request,
                                  struct hold_answer *answer,
                                  struct error *error)
{
    const struct oil_ref *ref = &request->ref;
    enum mw_status status =
        mw_oil_at(&ref->oil, request->t_from, &answer->before);
    if (status != MW_OK) {
        return explain_oil_status(ref->name, &ref->oil, request->t_from, status,
                                  error);
    }
    status = mw_oil_at(&ref->oil, request->t_to, &answer->same_oil);
    return status == MW_ERR_ONE_POINT
               ? EXIT_DONE
               : explain_oil_status(ref->name, &ref->oil, request->t_to, status,
                                    error);
}

static enum exit_code refuse_wanted(const struct hold_request *request,
                                    double wanted, enum mw_status status,
                                    struct error *error)
{
    char dynamic[FORMAT_LENGTH];
    return error_set(error, EXIT_NO_ANSWER,
                     "the oil that keeps it would have %s mPa.s at %.6g C: "
                     "%s; change the spring, mass or piston less",
                     format_significant(wanted, 3, dynamic), request->t_to,
                     mw_status_text(status));
}

static enum exit_code find_oil(const struct hold_request *request,
                               struct hold_answer *answer, struct error *error)
{
    const struct mw_oil *oil = &request->ref.oil;
    double changes = answer->f_spring * answer->f_mass * answer->f_piston;
    double wanted = answer->before.dynamic * changes;
    enum mw_status status = mw_hold_oil(oil, request->t_from, request->t_to,
                                        changes, &answer->hold);
    if (status != MW_OK) {
        return refuse_wanted(request, wanted, status, error);
    }
    answer->matters =
        mw_change_matters(answer->hold.change, request->ref.uncertainty);
    answer->warnings |= answer->hold.warnings;
    answer->f_temperature = answer->before.dynamic / answer->same_oil.dynamic;
    answer->f_all = answer->f_temperature * changes;
    answer->wanted = (struct mw_point){answer->hold.viscosity, request->t_to};
    answer->rating = answer->wanted;
    double t = oil->points[0].temperature, rated;
    status =
        mw_hold_rating(oil, answer->hold.viscosity, request->t_to, t, &rated);
    answer->rated = status == MW_OK;
    if (answer->rated) {
        answer->rating = (struct mw_point){rated, t};
    }
    return answer->rated || status == MW_ERR_NO_LAW
               ? EXIT_DONE
               : refuse_wanted(request, wanted, status, error);
}

/* the speed of the shaft from which on an oil thins in the holes */
static void find_shear(const struct hold_request *request,
                       const struct mw_oil *oil, double t,
                       struct hold_damper *state)
{
    struct mw_shear onset;
    state->thins_at = NAN;
    if (mw_shear_onset(oil, t, &onset) == MW_OK) {
        state->thins_at = request->speed * onset.rate / state->at.wall_rate;
    }
    state->at.warnings |= mw_shear_warnings(oil, t, state->at.wall_rate);
}

/* what is not known is NaN: that is no failure here */
static enum mw_status damper_state(const struct hold_request *request,
                                   bool after, double dynamic, double density,
                                   struct hold_damper *state)
{
    const struct mw_damper damper = damper_of(request, after);
    state->ratio = NAN;
    enum mw_status status = mw_damper_leak(&damper, &state->leak);
    if (status == MW_OK) {
        status = mw_damping(&damper, dynamic, &state->damping);
    }
    if (status == MW_OK && request->spring.absolute && request->mass.absolute) {
        status = mw_damping_ratio(
            state->damping, after ? request->spring.to : request->spring.from,
            after ? request->mass.to : request->mass.from, &state->ratio);
    }
    enum mw_status moving =
        mw_damper_at(&damper, dynamic, density, request->speed, &state->at);
    return status == MW_OK && !isnan(request->speed) ? moving : status;
}

static enum exit_code find_damper(const struct hold_request *request,
                                  struct hold_answer *answer,
                                  struct error *error)
{
    const struct mw_hold *hold = &answer->hold;
    struct hold_damper *dampers = answer->dampers;
    enum mw_status status =
        damper_state(request, false, answer->before.dynamic,
                     answer->before.density, &dampers[HOLD_BEFORE]);
    if (status == MW_OK) {
        status =
            damper_state(request, true, hold->wanted,
                         hold->wanted / hold->viscosity, &dampers[HOLD_WANTED]);
    }
    /* where the same oil is not known, all of it stays NaN */
    enum mw_status same =
        damper_state(request, true, answer->same_oil.dynamic,
                     answer->same_oil.density, &dampers[HOLD_SAME_OIL]);
    if (status == MW_OK && !isnan(answer->same_oil.dynamic)) {
        status = same;
    }
    const struct mw_oil *oil = &request->ref.oil;
    struct mw_oil wanted = *oil;
    if (mw_oil_make(oil->family, &answer->rating, 1, NAN, &wanted) == MW_OK) {
        find_shear(request, &wanted, request->t_to, &dampers[HOLD_WANTED]);
    }
    find_shear(request, oil, request->t_from, &dampers[HOLD_BEFORE]);
    find_shear(request, oil, request->t_to, &dampers[HOLD_SAME_OIL]);
    answer->warnings |= dampers[HOLD_BEFORE].at.warnings |
                        dampers[HOLD_WANTED].at.warnings |
                        dampers[HOLD_SAME_OIL].at.warnings;
    if (status == MW_ERR_LENGTH) {
        return refuse_lengths(error);
    }
    return status == MW_OK
               ? EXIT_DONE
               : refuse(error, "the damper: %s", mw_status_text(status));
}

enum exit_code hold_solve(const struct hold_request *request,
                          struct hold_answer *answer, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    if ((code = find_factors(request, answer, error)) == EXIT_DONE &&
        (code = find_states(request, answer, error)) == EXIT_DONE &&
        (code = find_oil(request, answer, error)) == EXIT_DONE &&
        request->has_damper) {
        return find_damper(request, answer, error);
    }
    return code;
}
