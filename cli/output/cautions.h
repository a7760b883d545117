/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * cautions - what is said beside a number. Usual for the work (common practice,
 * no source; eye contact from safety data sheets of silicone oil).
 */
#ifndef OUTPUT_CAUTIONS_H
#define OUTPUT_CAUTIONS_H

/* one line, under 72 columns */
#define CAUTION_MIX                                                            \
    "Estimate. Spilt oil is slippery as ice; read its safety data sheet."
#define CAUTION_MEASURE                                                        \
    "Estimate. A known oil, measured the same way, shows what it is worth."
#define CAUTION_OIL "Estimate, by the label and a viscosity-temperature law."
#define CAUTION_SETTLE                                                         \
    "Estimate, for single bubbles. Look at the oil before you fill it in."

/* where a vacuum is spoken of: a line, and all of it */
#define CAUTION_PUMP                                                           \
    "Vacuum: a vessel made for it, eye protection; the oil foams up."
#define CAUTION_VACUUM                                                         \
    "Vacuum: only in a vessel made for it, and wear eye protection. Follow "   \
    "the instructions of the pump and of its battery. Oil foams up: fill the " \
    "vessel low and let air in slowly."

#endif
