/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "command/suggest.h"

#include <string.h>

enum {
    LONGEST = 24,   /* words of commands and options; longer ones match none */
    FARTHEST = 100, /* more than any distance of these */
    LETTERS = 3 /* a wrong letter for each so many is near; our own choice */
};

static unsigned least(unsigned a, unsigned b)
{
    return a < b ? a : b;
}

unsigned edit_distance(const char *one, const char *other)
{
    unsigned rows[LONGEST + 1][LONGEST + 1];
    size_t n = strlen(one), m = strlen(other);
    if (n > LONGEST || m > LONGEST) {
        return FARTHEST;
    }
    for (size_t i = 0; i <= n; i++) {
        for (size_t j = 0; j <= m; j++) {
            if (i == 0 || j == 0) {
                rows[i][j] = (unsigned)(i + j);
                continue;
            }
            unsigned change = one[i - 1] != other[j - 1];
            rows[i][j] = least(least(rows[i - 1][j], rows[i][j - 1]) + 1,
                               rows[i - 1][j - 1] + change);
            if (i > 1 && j > 1 && one[i - 1] == other[j - 2] &&
                one[i - 2] == other[j - 1]) {
                rows[i][j] = least(rows[i][j], rows[i - 2][j - 2] + 1);
            }
        }
    }
    return rows[n][m];
}

void suggest(struct suggestion *suggestion, const char *candidate)
{
    unsigned distance = edit_distance(suggestion->word, candidate);
    unsigned most = (unsigned)strlen(suggestion->word) / LETTERS + 1;
    if (distance <= most &&
        (!suggestion->nearest || distance < suggestion->distance)) {
        suggestion->nearest = candidate;
        suggestion->distance = distance;
    }
}
