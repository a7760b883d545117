/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * damper - sizes, springs, masses, speeds and pressures as people
 * write them.
 *
 *     size      20mm  2cm  0.02m  0.8in
 *     change    2.4:2.7 (a ratio)  2.4:2.7N/mm  1.6kg:1800g  1.6kg (it stays)
 *     piston    3x1.2mmx2mm  3x1.2x2mm  3x1.2mm:4x1.2mm (thickness not known)
 *     speed     0.1m/s  100mm/s
 *     pressure  10kPa  0.1bar  100mbar  0.01MPa
 *
 * A unit is never guessed; one that stands once in a change or a piston is for
 * all of it. Numbers are those of number.h. Every function takes the whole
 * text, writes its result on success only, and otherwise notes the error
 * (EXIT_USAGE).
 */
#ifndef PARSE_DAMPER_H
#define PARSE_DAMPER_H

#include <stdbool.h>

#include "midweight.h"
#include "util/error.h"

/** What a spring or a mass was and becomes. */
struct change {
    double from, to;
    bool absolute; /* N/m or kg; else they are a ratio without a unit */
};

/** A size in m, 0.01 mm to 10 m. */
enum exit_code parse_size(const char *text, double *size, struct error *error);

/** The diameter of a shaft in m: a size, or 0 for none. */
enum exit_code parse_shaft(const char *text, double *diameter,
                           struct error *error);

enum exit_code parse_spring(const char *text, struct change *spring,
                            struct error *error);

enum exit_code parse_mass(const char *text, struct change *mass,
                          struct error *error);

/** Two pistons, or one that stays; their thickness is NaN where it is left out
 * of both. */
enum exit_code parse_piston(const char *text, struct mw_piston *from,
                            struct mw_piston *to, struct error *error);

/** A speed in m/s. */
enum exit_code parse_speed(const char *text, double *speed,
                           struct error *error);

/** An absolute pressure in kPa. */
enum exit_code parse_pressure(const char *text, double *pressure,
                              struct error *error);

/** What a vacuum gauge shows, below zero, as an absolute pressure in kPa. */
enum exit_code parse_gauge(const char *text, double *pressure,
                           struct error *error);

#endif
