/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * network - all that is known of a person's oils, as one body of evidence:
 * labels, readings, recorded mixes and what was measured of them.
 *
 * The unknowns of the adjustment (adjustment.h) are
 *   - the error of ln v of a label, at each of its points; of a petroleum oil
 *     with several points a quarter of the variance is common to all of them
 *     (our own compromise, by trial). An oil by its viscosity index has the
 *     error of its point at 40 C and one of the index, s = 5 units (our own
 *     assumption);
 *   - the departure of a silicone oil that is known at one temperature from the
 *     activation energy of the silicone law, s = 0.97 kJ/mol: the root mean
 *     square distance of 14 to 16.5, the values in print (from memory), from
 *     the law's 14.61;
 *   - K of silicone, 0.20 with s = 0.058; one more for pairs of which an oil is
 *     rated below 1000 mm2/s, s = 0.08; and one for each pair of bottles of a
 *     measured mix, s = 0.03 (our own judgement);
 *   - the factor of each instrument that several readings share; a common
 *     error of the thermometer, and one for each day, half the variance each
 *     (our own judgement);
 *   - the doses of each recorded mix.
 * A recorded mix has no label: it counts as its bottles' volumes, however many
 * mixes lie between. Its readings are readings of all of them.
 *
 * A label or a reading that contradicts all the rest is set aside or widened,
 * see mw_network_make().
 *
 * Reference: adjustment.h; the model is our own
 */
#ifndef MIDWEIGHT_TABLE_NETWORK_H
#define MIDWEIGHT_TABLE_NETWORK_H

#include <stdbool.h>
#include <stddef.h>

#include "base/status.h"
#include "blend/mix.h"
#include "fluid/oil.h"
#include "uncertainty/budget.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Standard uncertainties. K of pairs that have an oil rated below
 * MW_EXCESS_GRADE mm2/s departs from that of thicker ones by so much: nothing
 * measured lies between 7 and 1000 mm2/s, so that its limits are 0.03 to 0.37
 * there (our own estimate), which with those of MW_SILICONE_EXCESS is 0.08. And
 * that of each pair by so much more: our own judgement, as the measured blends
 * scatter less than their uncertainties. */
#define MW_EXCESS_GRADE 1000.0
#define MW_EXCESS_THIN  0.08
#define MW_EXCESS_PAIR  0.03

/* of the variance of a petroleum oil's points: what they have in common; our
 * own compromise, by simulation (tests/coverage) */
#define MW_POINTS_COMMON 0.25

/* K: limits of the excess of silicone, as stated at MW_SILICONE_EXCESS */
#define MW_EXCESS_LOW  0.10
#define MW_EXCESS_HIGH 0.30

/* standard uncertainty of a viscosity index on a bottle (our own assumption) */
#define MW_INDEX_UNCERTAINTY 5.0

/* kJ/mol: standard uncertainty of a silicone oil's activation energy: the root
 * mean square distance of 14 to 16.5, the limits in the literature (from
 * memory), from the law's own 14.61; theirs, 0.72, held 84 of 100. */
#define MW_ENERGY_UNCERTAINTY 0.97

/* K: limits of a pocket thermometer (common practice, no source) */
#define MW_THERMOMETER 1.0

enum { MW_NONE = -1 /* no instrument */ };

/** An excess and how well it is known. */
struct mw_excess {
    double value;       /* K */
    double uncertainty; /* standard */
};

/** Oil from a bottle that went into a recorded mix. */
struct mw_network_part {
    size_t bottle; /* its index */
    double volume_ml;
};

/** A bottle: one with a label, or a recorded mix. */
struct mw_network_bottle {
    struct mw_oil label;
    double tolerance; /* of the label, a fraction with rectangular limits */
    const struct mw_network_part *parts; /* of a recorded mix; its label only
                                            says where it is rated */
    size_t part_count;                   /* 0: a bottle with a label */
    double dose_ml; /* standard uncertainty of each dose; NaN: not known, so
                       MW_DOSE_UNKNOWN counts */
};

/** A known oil that a reading rests on. */
struct mw_network_reference {
    size_t bottle;
    double viscosity;   /* mm2/s, what it was taken to be */
    double temperature; /* degC, at which it was run */
    double weight;      /* d ln v of the reading/d ln v of this oil: 1 in a
                           comparison, mw_cup_weights() of a calibrated cup */
};

/** A viscosity that was measured. */
struct mw_network_reading {
    size_t bottle;
    double viscosity;   /* mm2/s */
    double temperature; /* degC */
    double random;      /* standard, of ln v: of this reading alone */
    double systematic;  /* standard, of ln v: of the instrument; negative where
                           its error moves the reading the other way */
    long instrument;    /* equal numbers share it; MW_NONE: none */
    double thermometer; /* K, limits; 0: it plays no part */
    long day;           /* readings of one day share half of its variance */
    const struct mw_network_reference *references; /* bottles it rests on */
    size_t reference_count;
};

/** How a reading or a label stands to the rest. */
enum mw_agreement {
    MW_AGREES,
    MW_WIDENED,  /* counted with a larger uncertainty */
    MW_SET_ASIDE /* not counted */
};

struct mw_network;

/**
 * Adjust all that is known.
 *
 * Given:     bottles, n  and readings, m  which must outlive it. No mix is made
 *                    of itself, however long the chain.
 * Returned:  network  allocated; mw_network_free() it. NULL on failure
 * Failures:  MW_ERR_MEMORY
 *            MW_ERR_UNCERTAINTY  a tolerance, or what a reading says of its
 *                    uncertainty
 *            MW_ERR_VISCOSITY  a reading, or a reference, is out of range
 *            MW_ERR_BUDGET  readings share more bottles than can be adjusted
 *            MW_ERR_READINGS  a mix of too many oils, of itself, or that has no
 *                    value at the temperature of a reading
 *            those of mw_oil_viscosity()  a bottle has none there
 * Notes:     Three readings or more of one bottle that scatter more than they
 *            claim (p below 0.12) are widened by the Birge ratio times t/2, two
 *            (p below 0.01) by the Birge ratio. A label that the rest
 *            contradicts (p below 0.13, divided by the number of labels that
 *            the rest tests) is set aside, the worst one first; where it and
 *            one other are equally far off (by 5 %) both are widened by the
 *            Birge ratio. A reading more than a factor of 3 off is set aside.
 *            The limits were found by simulation.
 * Reference: R. T. Birge, Phys. Rev. 40 (1932) 207 (from memory)
 */
MW_API enum mw_status mw_network_make(const struct mw_network_bottle *bottles,
                                      size_t n,
                                      const struct mw_network_reading *readings,
                                      size_t m, struct mw_network **network);

/**
 * Release a network.
 *
 * Given:     network of mw_network_make(), or NULL
 * Returned:  nothing
 */
MW_API void mw_network_free(struct mw_network *network);

/**
 * What is known of one bottle.
 *
 * Given:     network made
 *            bottle  its index
 * Returned:  oil     at its best value, rated where its label is
 *            u       standard uncertainty of ln v there
 * Failures:  those of mw_network_mix()
 */
MW_API enum mw_status mw_network_oil(const struct mw_network *network,
                                     size_t bottle, struct mw_oil *oil,
                                     double *u);

/**
 * How the label of a bottle stands to the rest.
 *
 * Given:     network made
 *            bottle  its index
 * Returned:  whether it was widened or set aside
 */
MW_API enum mw_agreement mw_network_label(const struct mw_network *network,
                                          size_t bottle);

/**
 * How a reading stands to the rest.
 *
 * Given:     network made
 *            reading its index
 * Returned:  whether it was widened or set aside
 */
MW_API enum mw_agreement mw_network_reading(const struct mw_network *network,
                                            size_t reading);

/* A reading that is off by more than this factor from what all the rest says is
 * no reading of this oil: a slip of the pen, or another bottle (our own limit).
 */
#define MW_FAR_READING 3.0

/**
 * Whether a new reading is off by more than MW_FAR_READING.
 *
 * Given:     network made
 *            bottle  its index
 *            v, t    what was read: mm2/s at degC
 * Returned:  expected  mm2/s, what the network says; NaN where it says nothing
 *            whether it is; false where there is nothing to compare it with
 */
MW_API bool mw_network_is_far(const struct mw_network *network, size_t bottle,
                              double v, double t, double *expected);

/* p-value, among all tests, below which a label or a reading is an outlier: its
 * owner is to look at it (our own choice) */
#define MW_OUTLIER_P 0.01

/**
 * What contradicts the rest so clearly that its owner should look at it.
 *
 * Given:     network made
 *            bottle  its index
 * Returned:  MW_NO_OUTLIER, MW_LABEL_OUTLIER, or which of its readings, from 0
 *            in their order: what is farthest off where p, times the number of
 *            tests, is below MW_OUTLIER_P
 */
MW_API int mw_network_outlier(const struct mw_network *network, size_t bottle);

/**
 * K of silicone oils that have not been mixed yet.
 *
 * Given:     network made
 *            v       mm2/s, what they are mixed to: below MW_EXCESS_GRADE one
 *                    of them is rated below it
 * Returned:  excess  K and its standard uncertainty
 */
MW_API void mw_network_usual_excess(const struct mw_network *network, double v,
                                    struct mw_excess *excess);

/**
 * K of a pair of bottles.
 *
 * Given:     network made
 *            first, second  their indices; recorded mixes count as silicone
 *                    oils of their own here
 * Returned:  excess  K and its standard uncertainty; 0 for petroleum oils
 */
MW_API void mw_network_excess(const struct mw_network *network, size_t first,
                              size_t second, struct mw_excess *excess);

/** What an uncertainty comes from. */
enum mw_source_kind {
    MW_SOURCE_LABEL,       /* of a bottle */
    MW_SOURCE_LAW,         /* how a bottle follows the silicone law; the slope
                              of a petroleum oil of one point */
    MW_SOURCE_READING,     /* the random part of one */
    MW_SOURCE_INSTRUMENT,  /* by its number */
    MW_SOURCE_THERMOMETER, /* of readings */
    MW_SOURCE_EXCESS,
    MW_SOURCE_RECIPE,      /* the doses of a recorded mix: a bottle */
    MW_SOURCE_DOSING,      /* the doses of the mix that is asked about */
    MW_SOURCE_TEMPERATURE, /* at which it is asked about */
    MW_SOURCE_KINDS
};

struct mw_source {
    enum mw_source_kind kind;
    size_t index;       /* of the bottle or the reading, or the number of the
                           instrument; else 0 */
    double uncertainty; /* standard, of ln v: what it contributes */
};

enum { MW_SOURCES_MAX = 8 /* that are worth naming; our own limit */ };

/** The largest sources, the largest first. */
struct mw_sources {
    size_t count;
    struct mw_source list[MW_SOURCES_MAX];
};

/* Lines of a budget. */
#define MW_FROM_OILS        "bottles"
#define MW_FROM_READINGS    "readings"
#define MW_FROM_EXCESS      "excess"
#define MW_FROM_LAW         "temperature law"
#define MW_FROM_DOSING      "dosing"
#define MW_FROM_TEMPERATURE "temperature"

/** A mix of bottles that is asked about. */
struct mw_network_mix {
    size_t count;          /* of bottles, 1 to MW_MIX_OILS_MAX */
    const size_t *bottles; /* their indices */
    const double *shares;
    double temperature;  /* degC */
    double thermometer;  /* K, limits of how it is known; it plays no part where
                            a bottle is rated: that is by definition */
    const double *doses; /* standard uncertainties, of parts of the batch; NULL:
                            dosed exactly */
    const struct mw_method *method; /* a rule and K to take as exact; NULL: by
                                       all that is known */
    bool read; /* off the thermometer, which counts at a rating too */
};

/**
 * The viscosity of a mix of bottles, and how well it is known.
 *
 * Given:     network made
 *            mix     as above
 * Returned:  v       mm2/s
 *            budget  its lines: labels, readings, excess, law, dosing and
 *                    temperature, those that bring nothing left out
 *            sources its largest primary inputs, or NULL; independent, so that
 *                    the squares of all inputs add up to that of the budget
 * Failures:  those of mw_mixture(); MW_ERR_BUDGET  of too many oils
 */
MW_API enum mw_status mw_network_mix(const struct mw_network *network,
                                     const struct mw_network_mix *mix,
                                     double *v, struct mw_budget *budget,
                                     struct mw_sources *sources);

/**
 * How sure a mix would be after one more reading, at its own temperature.
 *
 * Given:     network made
 *            mix     as above
 *            bottles, count  that could be measured
 *            s       standard uncertainty of the reading, of ln v, above 0; all
 *                    of it random
 * Returned:  after   count numbers: the standard uncertainty of ln v of the mix
 *                    after a reading of each; never more than before
 *            itself  the same after a reading of the mix itself
 * Failures:  those of mw_network_mix(); MW_ERR_UNCERTAINTY  s
 * Notes:     what it says is not known yet, so no conflict is foreseen
 */
MW_API enum mw_status mw_network_after(const struct mw_network *network,
                                       const struct mw_network_mix *mix,
                                       const size_t *bottles, size_t count,
                                       double s, double *after, double *itself);

/** What bottles are made of, for a mix job. */
struct mw_network_bases {
    struct mw_mix_bases bases; /* points to what follows */
    struct mw_oil oils[MW_MIX_OILS_MAX];
    double made[MW_MIX_OILS_MAX * MW_MIX_OILS_MAX];
    double excess[MW_MIX_OILS_MAX * MW_MIX_OILS_MAX];
};

/**
 * What bottles are made of, at best values.
 *
 * Given:     network made
 *            bottles, count  their indices, 1 to MW_MIX_OILS_MAX
 * Returned:  bases   of mw_mix_job
 * Failures:  MW_ERR_BUDGET  more than MW_MIX_OILS_MAX oils
 */
MW_API enum mw_status mw_network_bases(const struct mw_network *network,
                                       const size_t *bottles, size_t count,
                                       struct mw_network_bases *bases);

#ifdef __cplusplus
}
#endif

#endif
