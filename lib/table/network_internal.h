/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** network_internal - the unknowns of a network, and what depends on them. */
#ifndef MIDWEIGHT_TABLE_NETWORK_INTERNAL_H
#define MIDWEIGHT_TABLE_NETWORK_INTERNAL_H

#include "table/network.h"
#include "uncertainty/adjustment.h"

/** What an unknown is of. */
struct mw_network_owner {
    enum mw_source_kind kind;
    size_t index; /* as in struct mw_source */
};

/** Where the unknowns of a bottle stand. */
struct mw_network_place {
    size_t first;   /* of them all */
    size_t points;  /* errors of its points: the first ones */
    size_t common;  /* one that all points share; NONE: none */
    size_t energy;  /* NONE: none */
    size_t largest; /* of a mix: the part that has no dosing error */
    double far_t;   /* degC: a second point, which readings alone determine */
    double far_v;   /* mm2/s there, to begin with; NaN: none */
    double along;   /* by an index: d ln v100/d ln v40 along one index, */
    double across;  /* and d ln v100/d index */
    bool shared;    /* stands in a row with others */
    size_t head;    /* its first reading; m: none */
    enum mw_agreement agreement; /* of its label */
    double p; /* how likely it is so far off by accident, among so many tests;
                 1 where all agrees */
};

#define MW_NO_UNKNOWN ((size_t)-1)

/** A pair of bottles that has an excess of its own. */
struct mw_network_pair {
    size_t first, second, unknown;
};

/** A number that several readings have in common. */
struct mw_network_common {
    long number;
    size_t unknown;
};

/** A reading, as a row of the adjustment sees it. */
struct mw_network_row {
    const struct mw_network *network;
    size_t reading;
    size_t *list; /* the unknowns of the row */
    size_t next;  /* of the same bottle; m ends */
    enum mw_agreement agreement;
    double p; /* as of a label */
};

struct mw_network {
    const struct mw_network_bottle *bottles;
    const struct mw_network_reading *readings;
    size_t n, m;
    struct mw_network_place *places; /* n */
    size_t count;                    /* of unknowns */
    struct mw_unknown *unknowns;
    struct mw_network_owner *owners;  /* of the unknowns */
    size_t excess, thin, thermometer; /* unknowns of their own */
    size_t pair_count, instrument_count, day_count;
    struct mw_network_pair *pairs;
    struct mw_network_common *instruments, *days; /* m */
    struct mw_row *rows;                          /* m */
    struct mw_network_row *params;                /* m */
    struct mw_adjustment *adjustment;
    double *scratch; /* as many as unknowns; their means until it is solved */
    double chi_squared; /* before anything is widened */
};

/** Variances by what they come from. */
struct mw_tally {
    double sums[MW_SOURCE_KINDS];
    struct mw_sources sources; /* the largest, falling; variances so far */
};

enum {
    MW_CHAIN_MAX = 16,    /* mixes of mixes */
    MW_VISITS_MAX = 4096, /* mixes of mixes branch */
    MW_LIST_MAX = 1024,   /* unknowns of one row */
    MW_BASES = MW_MIX_OILS_MAX
};

/** What a bottle, or a mix of bottles, is made of in the end. */
struct mw_composition {
    size_t count;
    size_t visits; /* of mixes, up to MW_VISITS_MAX */
    bool broken;   /* too many oils or mixes, or a mix of itself */
    size_t bottles[MW_BASES];
    double shares[MW_BASES];
};

/** A set of unknowns. */
struct mw_unknown_list {
    size_t count;
    bool full; /* there were more */
    size_t items[MW_LIST_MAX];
};

/** Add so much of a bottle, down to bottles with labels. */
void mw_network_compose(const struct mw_network *network, const double *x,
                        size_t bottle, double share, int depth,
                        struct mw_composition *composition);

/** Add all unknowns that the composition of a bottle, which is not broken,
 * depends on. */
void mw_network_depend(const struct mw_network *network, size_t bottle,
                       struct mw_unknown_list *list);

/** Add those of its excess. */
void mw_network_depend_excess(const struct mw_network *network,
                              const struct mw_composition *composition,
                              struct mw_unknown_list *list);

/** Add one unknown, once. */
void mw_unknown_add(struct mw_unknown_list *list, size_t unknown);

/** ln v of a composition at t degC, by a method or (NULL) by what is known of
 * the excess; NaN where there is none. */
double mw_network_ln_v(const struct mw_network *network, const double *x,
                       const struct mw_composition *composition, double t,
                       const struct mw_method *method);

/** The oil of a bottle with a label. */
enum mw_status mw_network_oil_at(const struct mw_network *network,
                                 const double *x, size_t bottle,
                                 struct mw_oil *oil);

/** The unknown of a pair; MW_NO_UNKNOWN where it has none. */
size_t mw_network_pair(const struct mw_network *network, size_t first,
                       size_t second);

/** Whether an oil of a pair is rated below MW_EXCESS_GRADE. */
bool mw_network_is_thin(const struct mw_network *network, size_t first,
                        size_t second);

/** K of a pair. */
double mw_network_excess_of(const struct mw_network *network, const double *x,
                            size_t first, size_t second);

/** The value of a row. */
double mw_network_row(const double *x, const void *params);

/** The estimates of all unknowns. */
const double *mw_network_estimates(const struct mw_network *network);

/** Lay out all rows, and the blocks of their unknowns. */
enum mw_status mw_network_add_rows(struct mw_network *network);

/** Check all readings: MW_OK where they are sound. */
enum mw_status mw_network_check_readings(const struct mw_network *network);

/** Lay out all unknowns and rows. */
enum mw_status mw_network_lay_out(struct mw_network *network);

/** Solve, and widen or set aside what contradicts the rest. */
enum mw_status mw_network_settle(struct mw_network *network);

/** Tally what priors and rows bring to z = V c. */
void mw_tally_parts(const struct mw_network *network, const double *z,
                    struct mw_tally *tally);

/** Add a variance; those of a kind without an index are one source, which
 * mw_tally_end() adds. */
void mw_tally_add(struct mw_tally *tally, enum mw_source_kind kind,
                  size_t index, double variance);

/** The lines of a budget, and the largest sources. */
enum mw_status mw_tally_end(struct mw_tally *tally, struct mw_budget *budget);

#endif
