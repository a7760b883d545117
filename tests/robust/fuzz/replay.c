/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* Run a target on every file of the given folders; print TAP. */
#include <dirent.h>
#include <string.h>
#include <unistd.h>

#include "fuzz.h"

enum { SIZE = 1 << 20 };

static void replay(const char *path)
{
    uint8_t *data = malloc(SIZE);
    FILE *file = fopen(path, "rb");
    MUST(data && file);
    size_t size = fread(data, 1, SIZE, file);
    MUST(size < SIZE && !ferror(file));
    fclose(file);
    /* a separate block, so that a sanitizer finds reads beyond its end */
    uint8_t *input = malloc(size + (size == 0));
    MUST(input);
    memcpy(input, data, size);
    LLVMFuzzerTestOneInput(input, size);
    free(input);
    free(data);
}

int main(int argc, char **argv)
{
    int count = 0;
    FILE *tap = fdopen(dup(STDOUT_FILENO), "w");
    MUST(tap);
    setvbuf(tap, NULL, _IOLBF, 0);
    for (int i = 1; i < argc; i++) {
        struct dirent **names;
        int found = scandir(argv[i], &names, NULL, alphasort);
        MUST(found > 0);
        for (int j = 0; j < found; j++) {
            char path[4096];
            snprintf(path, sizeof path, "%s/%s", argv[i], names[j]->d_name);
            if (names[j]->d_name[0] != '.') {
                replay(path);
                fprintf(tap, "ok %d - %s\n", ++count, names[j]->d_name);
            }
            free(names[j]);
        }
        free(names);
    }
    fprintf(tap, "1..%d\n", count);
    fclose(tap);
    return count > 0 ? 0 : 1;
}
