/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * cautions - what is said beside a number. Usual for the work (common practice,
 * no source; eye contact from safety data sheets of silicone oil).
 */
#ifndef CLI_CAUTIONS_H
#define CLI_CAUTIONS_H

/* one line, under 72 columns */
#define CAUTION_MIX                                                            \
    "Estimate. Spilt oil is slippery as ice; read its safety data sheet."
#define CAUTION_MEASURE                                                        \
    "Estimate. A known oil, measured the same way, shows what it is worth."
#define CAUTION_OIL "Estimate, from the label and a law. Measure what matters."

#endif
