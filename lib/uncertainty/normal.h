/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * normal - the normal equations of an adjustment, with its blocks eliminated.
 * Internal to the library.
 *
 * L = [D C'; C S], where D is one small matrix a block and S belongs to block
 * 0. Blocks meet only block 0, so that S - C D^-1 C' (Schur complement) is all
 * that is left of them.
 *
 * The factors are pivoted L D L', which GSL finds of any symmetric matrix, so
 * that no error handler is called where one is not positive definite.
 *
 * Reference: G. H. Golub, C. F. Van Loan, Matrix Computations, 4th ed. (2013),
 * 4.2 (from memory)
 */
#ifndef MIDWEIGHT_UNCERTAINTY_NORMAL_H
#define MIDWEIGHT_UNCERTAINTY_NORMAL_H

#include <stddef.h>

#include "base/status.h"
#include "uncertainty/adjustment.h"

/** Where an unknown stands. */
struct mw_normal_place {
    size_t block; /* index of its block; the number of blocks for block 0 */
    size_t row;   /* in it */
};

struct mw_normal_block {
    size_t size;
    double *diagonal; /* size x size, then its factor */
    double *coupling; /* size x shared, then D^-1 of it */
    size_t *order;    /* size: in which it was factored */
};

struct mw_normal {
    size_t n, shared, blocks;
    struct mw_normal_place *places; /* n */
    struct mw_normal_block *list;   /* blocks */
    double *dense;                  /* shared x shared, then its factor */
    size_t *order;                  /* shared */
    size_t *orders;                 /* memory of all orders */
    double *memory;                 /* of all these matrices */
    double *scratch;                /* shared */
};

/**
 * Failures:  MW_ERR_MEMORY
 *            MW_ERR_BUDGET  a block is out of order or too large
 * Notes:     mw_normal_free() it, also on failure
 */
enum mw_status mw_normal_make(const struct mw_unknown *unknowns, size_t n,
                              struct mw_normal *normal);
void mw_normal_free(struct mw_normal *normal);

/** Set it to zero. */
void mw_normal_clear(struct mw_normal *normal);

/** Add to the diagonal of an unknown. */
void mw_normal_add_diagonal(struct mw_normal *normal, size_t index,
                            double weight);

/** Add weight h h'. */
void mw_normal_add(struct mw_normal *normal, const struct mw_gradient *h,
                   double weight);

/** MW_ERR_UNCERTAINTY where it is not positive definite. */
enum mw_status mw_normal_factor(struct mw_normal *normal);

/** c' L^-1 c; the work is that of the blocks that c touches, and of block 0. */
double mw_normal_form(const struct mw_normal *normal,
                      const struct mw_gradient *c);

/** Replace b by L^-1 b. */
void mw_normal_solve(const struct mw_normal *normal, double *b);

#endif
