/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/draw/label_spacing.h"

#include <math.h>
#include <stdlib.h>

#include "util/xalloc.h"

/* neighbours that touch, and move as one */
struct block {
    double sum; /* of where its members would be if gaps took no room */
    size_t count;
};

static double mean(const struct block *block)
{
    return block->sum / (double)block->count;
}

/* Without the gaps the task is to make places rise with least squares: pooling
 * neighbours that do not does it. */
void space_labels(double *places, size_t count, double gap, double low,
                  double high)
{
    struct block *blocks = xcalloc(count, sizeof blocks[0]);
    size_t used = 0;
    for (size_t i = 0; i < count; i++) {
        blocks[used++] = (struct block){places[i] - (double)i * gap, 1};
        while (used > 1 && mean(&blocks[used - 2]) >= mean(&blocks[used - 1])) {
            blocks[used - 2].sum += blocks[used - 1].sum;
            blocks[used - 2].count += blocks[used - 1].count;
            used--;
        }
    }
    double most = high - gap * ((double)count - 1);
    for (size_t i = 0, b = 0, member = 0; i < count; i++) {
        double place = fmax(fmin(mean(&blocks[b]), most), low);
        places[i] = place + (double)i * gap;
        if (++member == blocks[b].count) {
            member = 0;
            b++;
        }
    }
    free(blocks);
}
