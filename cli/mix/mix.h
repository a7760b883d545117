/* SPDX-License-Identifier: GPL-3.0-or-later */
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
    size_t count;                        /* of oils that are poured */
    size_t all;                          /* with what is left over, the last */
    struct oil_ref *refs;                /* of all */
    struct mw_oil *oils;                 /* theirs, in a row */
    double uncertainty[MW_MIX_OILS_MAX]; /* likewise */
    struct amount amounts[MW_MIX_OILS_MAX];
    bool has_target;
    struct mw_point target; /* mm2/s at degC, when has_target */
    double step;            /* mm2/s, from one target of a range to the next */
    unsigned targets;       /* how many; 0: no range */
    double temperature;     /* degC at which all is compared */
    bool has_make;
    double make_count, waste;
    struct amount make_each;
    struct mw_method method;
    double excess_uncertainty;    /* standard; 0 where K was given */
    bool exact;                   /* the rule or K was given */
    size_t trial_mixes;           /* readings of mixes that K rests on */
    struct stock_network network; /* all that is known of the oils: */
    size_t nodes[MW_MIX_OILS_MAX];
    struct mw_network_bases *bases;
    double thermometer; /* K: limits of its reading */
    struct mw_tools tools;
    bool usual_tools;   /* they are defaults: left out where they do not fit */
    double residue_ml;  /* that stays on the walls, the last oil; 0: none */
    const char *record; /* name of the new bottle, or NULL */
    const char *date;   /* as written, or NULL */
    bool explain;       /* how it was calculated is wanted too */
    bool chosen;        /* of several oils: */
    struct bottles bottles;    /* those of the stock, where none is named */
    struct usual_excess usual; /* theirs */
    struct oil_ref *named;     /* or else those that are named; NULL: none */
    size_t alone;              /* what is the target already; SIZE_MAX: none */
    size_t pairs; /* how many there are: the best and a runner-up */
    struct mw_choice pair[MW_CHOICES];
};

struct mix_answer {
    struct mw_mix mix; /* with what is left over, as the last oil */
    double shares[MW_MIX_OILS_MAX]; /* of what is poured */
    struct oils_uncertainty uncertainty;
    double
        plain_shares[MW_MIX_OILS_MAX]; /* for the target by the plain rule, of
                                             what is poured */
    bool tops_up;   /* amounts were there and this is added: */
    size_t added;   /* index of the oil to add */
    bool has_dosed; /* rounded to the tool: */
    struct mw_recipe dosed;
    bool residue_shifts;    /* what is left over could not be made up for */
    double without_residue; /* mm2/s of what is poured */
    double settle_s;        /* for the batch to stand; NaN where not known */
    double settle_depth;    /* m, of the batch */
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

/** Whether a pair is to be chosen: of the stock, or of three oils or more that
 * are named without amounts. */
bool mix_is_choice(const struct mix_request *request);

/** Read the rule and the excess, or take the usual ones. */
enum exit_code mix_read_method(const struct args *args,
                               struct stock_handle *handle,
                               struct mix_request *request,
                               struct error *error);

/** Load the bottles of the stock, to choose a pair of them. */
enum exit_code mix_offer(struct mix_request *request,
                         struct stock_handle *handle, struct error *error);

/** Choose the best pair of the oils that are named; adds these two instead. */
enum exit_code mix_choose_named(struct mix_request *request,
                                struct error *error);

/** Choose the best pair of the stock for the target; adds its oils. */
enum exit_code mix_choose(struct mix_request *request, struct error *error);

/** Add an oil that is poured; before mix_add_residue(). */
void mix_add_oil_ref(struct mix_request *request, const struct oil_ref *ref);

/** Add oil that is in the cup already. */
void mix_add_residue(struct mix_request *request, const struct oil_ref *ref,
                     double ml);

/** The name of an oil that a pair was chosen from. */
const char *mix_offered_name(const struct mix_request *request, size_t id);

/** Release what a request holds; it is empty afterwards. */
void mix_request_free(struct mix_request *request);

enum exit_code mix_solve(const struct mix_request *request,
                         struct mix_answer *answer, struct error *error);

/** ml that are poured of oil i: by the tool, where there is one. */
double mix_poured(const struct mix_answer *answer, size_t i);

/** Bring the oils to what all that the stock knows says of them; to be called
 * once, when all are added. */
enum exit_code mix_join(struct stock_handle *handle,
                        struct mix_request *request, struct error *error);

/** Find the uncertainty of the mix. */
enum exit_code mix_find_uncertainty(const struct mix_request *request,
                                    const struct mw_mix_job *job,
                                    struct mix_answer *answer,
                                    struct error *error);

/** Round the recipe to the tool, when there is one. */
enum exit_code mix_dose(const struct mix_request *request,
                        const struct mw_mix_job *job, struct mix_answer *answer,
                        struct error *error);

enum { NEAREST_LENGTH = 200 };

/** Name the oil that comes nearest to the target on its own; "" for none. */
void mix_nearest_alone(const struct mw_oil *oils, const char *const names[],
                       size_t count, const struct mw_point *target,
                       char text[NEAREST_LENGTH]);

/** Say why there is no answer, and which is the nearest that there is. */
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
