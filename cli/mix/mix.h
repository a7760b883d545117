/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * mix - the pieces of the command mix: what was asked (read.c, method.c;
 * choose.c picks the bottles where none is named), what the library answers
 * (solve.c, dose.c, uncertainty.c; refuse.c where there is no answer), how it
 * is printed (print.c, json.c; range.c a table of recipes) and recorded
 * (record.c).
 */
#ifndef MIX_MIX_H
#define MIX_MIX_H

#include <stdbool.h>
#include <stddef.h>

#include "command/options.h"
#include "midweight.h"
#include "oils/best.h"
#include "oils/network.h"
#include "oils/oil_ref.h"
#include "oils/uncertainty.h"
#include "output/json.h"
#include "output/text.h"
#include "parse/amount.h"
#include "parse/oil_spec.h"
#include "parse/tools.h"
#include "util/error.h"
#include "util/format.h"

struct mix_request {
    enum mw_family family;
    size_t count;         /* of oils that are poured */
    size_t all;           /* with what is left over, the last */
    struct oil_ref *refs; /* of all */
    struct amount amounts[MW_MIX_OILS_MAX];
    bool has_target;
    struct mw_point target; /* mm2/s at degC, when has_target */
    double step;            /* mm2/s, from one target of a range to the next */
    unsigned targets;       /* how many; 0: no range */
    double temperature;     /* degC at which all is compared */
    double thermometer;     /* K: limits of its reading */
    bool read;              /* so that they count at a rating too */
    bool has_make;
    double make_count, waste;
    struct amount make_each;
    bool has_rule, has_excess; /* which are given by this: */
    struct mw_method method;
    struct mw_tools tools;
    bool usual_tools;  /* they are defaults: left out where they do not fit */
    double residue_ml; /* that stays on the walls, the last oil; 0: none */
    struct oil_ref residue; /* of it */
    double density;     /* g/ml of the mix that is recorded; NaN: by its oils */
    const char *record; /* name of the new bottle, or NULL */
    const char *date;   /* as written, or NULL */
    bool explain;       /* how it was calculated is wanted too */
    struct stock_network network; /* all that the stock knows */
    bool offered;                 /* of the stock, where no oil is named: */
    struct bottles bottles;
    bool chosen;           /* of several oils: */
    struct oil_ref *named; /* those that are named; NULL: of the stock */
    size_t alone;          /* what is the target already; SIZE_MAX: none */
    double alone_v;        /* mm2/s of that */
    size_t pairs;          /* how many there are: the best and a runner-up */
    struct mw_choice pair[MW_CHOICES];
    struct mw_mix_oils *known; /* what is known of all oils */
    struct mw_mix_part parts[MW_MIX_OILS_MAX];
    double left_ml[MW_MIX_OILS_MAX];
    struct mw_mix_job job; /* what the library is asked; it points to these */
};

struct mix_answer {
    struct mw_mix_answer result;
    struct oils_uncertainty uncertainty; /* with what to measure next */
};

/** The options of the command, by their index in words.value. */
enum mix_option {
    MIX_TARGET,
    MIX_MAKE,
    MIX_WASTE,
    MIX_SYRINGE,
    MIX_SCALE,
    MIX_DROP,
    MIX_RESIDUE,
    MIX_RECORD,
    MIX_DATE,
    MIX_AT,
    MIX_EXCESS,
    MIX_RULE,
    MIX_THERMOMETER,
    MIX_FAMILY,
    MIX_DENSITY,
    MIX_CSV,
};

/** Understand a command line; the stock is open afterwards where a bottle was
 * named or none at all. */
enum exit_code mix_read(const struct args *args, struct stock_handle *handle,
                        struct mix_request *request, struct error *error);

/** Read the batch, once the oils are read. */
enum exit_code mix_read_batch(const struct args *args,
                              struct mix_request *request, struct error *error);

/** Read the tools. */
enum exit_code mix_read_tools(const struct args *args,
                              struct mix_request *request, struct error *error);

/** The batch that is asked for, in the unit of make_each; 0: none. */
enum exit_code mix_batch(const struct mix_request *request, double *batch,
                         struct error *error);

/** Read the rule or the excess. */
enum exit_code mix_read_method(const struct args *args,
                               struct mix_request *request,
                               struct error *error);

/** The method that was given, with the usual rule of the oils where only the
 * excess was; NULL: none. */
const struct mw_method *mix_method(struct mix_request *request);

/** Load the bottles of the stock, to choose a pair of them. */
enum exit_code mix_offer(struct mix_request *request,
                         struct stock_handle *handle, struct error *error);

/** Ask all that the stock knows of the oils that are named. */
enum exit_code mix_join(struct stock_handle *handle,
                        struct mix_request *request, struct error *error);

/** Choose the best pair of the oils that are named; adds these two instead. */
enum exit_code mix_choose_named(struct mix_request *request,
                                struct error *error);

/** Choose the best pair of the stock for the target; adds its oils. */
enum exit_code mix_choose(struct mix_request *request, struct error *error);

/** The oils of the pair that came second. */
void mix_runner_up(const struct mix_request *request, struct oil_ref refs[2]);

/** Add an oil that is poured. */
void mix_add_oil_ref(struct mix_request *request, const struct oil_ref *ref);

/** Bring together what is known of the oils, once all are added, as a job. */
enum exit_code mix_gather(struct mix_request *request, struct error *error);

/** Readings of mixes that K rests on. */
size_t mix_trial_mixes(const struct mix_request *request);

/** The job of a request whose oils are known. */
enum exit_code mix_set_job(struct mix_request *request, struct error *error);

/** The name of an oil that a pair was chosen from. */
const char *mix_offered_name(const struct mix_request *request, size_t id);

/** The same as answers show it. */
const char *mix_offered(const struct mix_request *request, size_t id,
                        char name[TRUNCATED_LENGTH]);

/** Release what a request holds; it is empty afterwards. */
void mix_request_free(struct mix_request *request);

/** Ask the library. */
enum exit_code mix_solve(const struct mix_request *request,
                         struct mix_answer *answer, struct error *error);

/** Find what to measure next for an answer. */
void mix_advise(const struct mix_request *request, struct mix_answer *answer);

/** ml that are poured of oil i: by the tool, where there is one. */
double mix_poured(const struct mix_answer *answer, size_t i);

enum { NEAREST_LENGTH = 200 };

/** Name the oil that comes nearest to the target on its own; "" for none. */
void mix_nearest_alone(const struct mw_oil *oils, const char *const names[],
                       size_t count, const struct mw_point *target,
                       char text[NEAREST_LENGTH]);

/** Say why there is no answer, and which is the nearest that there is; of no
 * answer where it came to none. */
enum exit_code mix_refuse(const struct mix_request *request,
                          const struct mix_answer *answer,
                          enum mw_status status, struct error *error);

/** Take what is poured off the bottles and add the mix as a new one; to last by
 * stock_commit(, error). */
enum exit_code mix_record(const struct mix_request *request,
                          const struct mix_answer *answer, struct stock *stock,
                          struct error *error);

enum { MIX_NAME_COLUMNS = 22 };

/** The name of an oil as answers show it. */
const char *mix_name(const struct mix_request *request, size_t i,
                     char name[TRUNCATED_LENGTH]);

/** Whether it is known how much there is. */
bool mix_has_batch(const struct mix_answer *answer);

/** What is poured of an oil, as its tool measures it: "6.8 ml", "12 drops";
 * without a batch its share. */
const char *mix_dose_text(const struct mix_request *request,
                          const struct mix_answer *answer, size_t i,
                          char text[FORMAT_LENGTH]);

/** Whether the answer is one oil as it is, since no two can be mixed. */
bool mix_is_alone(const struct mix_request *request);

/** Print the answer in words. */
void mix_print_headline(const struct mix_request *request,
                        const struct mix_answer *answer);

void mix_print(const struct mix_request *request,
               const struct mix_answer *answer);

/** Print how it was calculated, and what was assumed. */
void mix_explain(const struct mix_request *request,
                 const struct mix_answer *answer);

/** The answer as JSON; a new reference. */
json_t *mix_json(const struct mix_request *request,
                 const struct mix_answer *answer);

/** Answer a range of targets: a table of recipes. */
enum exit_code mix_answer_range(const struct args *args,
                                struct mix_request *request,
                                struct error *error);

#endif
