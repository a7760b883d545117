/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * reference - compare the library with published values.
 *
 *     reference [--table] FILE.csv...
 *
 * A file starts with comment lines (#): the source, and a line "# sure:" that
 * begins with seen, second-hand, memory or computed. Then comes the header
 *
 *     function,inputs,expected,tolerance,unit,note
 *
 * and one row for each value. Inputs are separated by spaces. Expected is a
 * number, with a tolerance "abs X" or "rel X"; or the name of a status, with no
 * tolerance, and then the result must be NaN as well. Every row is one TAP
 * test. No locale is ever set, so that numbers are those of the C locale.
 *
 * With --table every row is printed with what the library gives, for the
 * manual: the fields of the row, the result and its status, tabs between them.
 */
#include <csv.h>
#include <errno.h>
#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reference_functions.h"

enum { COLUMNS = 6, FIELD_MAX = 200, WRONG_MAX = 1000 };

enum column { FUNCTION, INPUTS, EXPECTED, TOLERANCE, UNIT, NOTE };

static const char *const header[COLUMNS] = {"function",  "inputs", "expected",
                                            "tolerance", "unit",   "note"};

/* counts of what has been printed */
struct tally {
    bool table; /* not TAP */
    unsigned tests;
    unsigned misses;
};

struct reader {
    struct tally *tally;
    const char *path;
    unsigned line;
    unsigned rows;
    bool sure;   /* a comment has said how sure the values are */
    bool headed; /* the header has been read */
    size_t fields;
    char field[COLUMNS][FIELD_MAX];
    bool too_long;
};

/* print one TAP line; of a table only what is wrong, and not into it */
__attribute__((format(printf, 3, 4))) static void
print_answer(struct reader *reader, bool good, const char *format, ...)
{
    va_list arguments;
    struct tally *tally = reader->tally;
    FILE *out = tally->table ? stderr : stdout;
    tally->tests++;
    tally->misses += !good;
    if (tally->table && good) {
        return;
    }
    fprintf(out, "%sok %u - %s:%u: ", good ? "" : "not ", tally->tests,
            reader->path, reader->line);
    va_start(arguments, format);
    vfprintf(out, format, arguments);
    va_end(arguments);
    putc('\n', out);
}

static bool parse_number(const char *text, double *number)
{
    char *end;
    errno = 0;
    *number = strtod(text, &end);
    return end != text && *end == '\0' && errno == 0;
}

/* whether the inputs have the number and the kinds that the function takes;
 * the text is split in place, and the inputs point into it */
static bool parse_inputs(char *text, const char *kinds,
                         struct reference_input *in)
{
    size_t count = 0;
    char *rest = NULL;
    for (char *word = strtok_r(text, " ", &rest); word;
         word = strtok_r(NULL, " ", &rest)) {
        if (kinds[count] == '\0') {
            return false;
        }
        in[count].name = word;
        bool number = parse_number(word, &in[count].number);
        if (number != (kinds[count] == 'n')) {
            return false;
        }
        count++;
    }
    return kinds[count] == '\0';
}

/* the largest allowed difference from an expected number */
static bool parse_tolerance(const char *text, double expected,
                            double *tolerance)
{
    bool relative = strncmp(text, "rel ", 4) == 0;
    if (!relative && strncmp(text, "abs ", 4) != 0) {
        return false;
    }
    if (!parse_number(text + 4, tolerance) || !(*tolerance >= 0)) {
        return false;
    }
    *tolerance *= relative ? fabs(expected) : 1;
    return isfinite(*tolerance) && isfinite(expected);
}

/* what a row expects: a failure, or a number */
struct expectation {
    enum mw_status status;
    double number;
    double tolerance; /* absolute */
};

/* the status with a name such as "MW_ERR_TARGET" */
static bool status_from_name(const char *name, enum mw_status *status)
{
    for (*status = MW_OK; strcmp(mw_status_name(*status), "MW_ERR_?") != 0;
         ++*status) {
        if (strcmp(name, mw_status_name(*status)) == 0) {
            return true;
        }
    }
    return false;
}

static bool parse_expectation(const struct reader *reader,
                              struct expectation *wanted)
{
    const char *expected = reader->field[EXPECTED];
    const char *tolerance = reader->field[TOLERANCE];
    if (status_from_name(expected, &wanted->status)) {
        wanted->number = NAN;
        wanted->tolerance = 0;
        return wanted->status != MW_OK && tolerance[0] == '\0';
    }
    wanted->status = MW_OK;
    return parse_number(expected, &wanted->number) &&
           parse_tolerance(tolerance, wanted->number, &wanted->tolerance) &&
           reader->field[UNIT][0] != '\0';
}

/* print one line of a table */
static void print_row(const struct reader *reader, enum mw_status status,
                      double got)
{
    printf("%s", reader->path);
    for (size_t i = 0; i < COLUMNS; i++) {
        printf("\t%s", reader->field[i]);
    }
    printf("\t%.17g\t%s\n", got, mw_status_name(status));
}

static void compare(struct reader *reader, enum mw_status status, double got,
                    const struct expectation *wanted)
{
    if (reader->tally->table) {
        print_row(reader, status, got);
    }
    bool near = wanted->status == MW_OK
                    ? fabs(got - wanted->number) <= wanted->tolerance
                    : isnan(got);
    print_answer(reader, status == wanted->status && near,
                 "%s(%s) = %.10g (%s), expected %.10g (%s) +- %.3g %s",
                 reader->field[FUNCTION], reader->field[INPUTS], got,
                 mw_status_name(status), wanted->number,
                 mw_status_name(wanted->status), wanted->tolerance,
                 reader->field[UNIT]);
}

/* run the function of a row and compare */
static void check_row(struct reader *reader)
{
    struct reference_input in[REFERENCE_INPUTS_MAX] = {0};
    struct expectation wanted;
    char inputs[FIELD_MAX];
    double got = 0; /* not the NaN of a failure */
    const struct reference_function *function =
        reference_find(reader->field[FUNCTION]);
    if (!function) {
        print_answer(reader, false, "unknown function '%s'",
                     reader->field[FUNCTION]);
        return;
    }
    strcpy(inputs, reader->field[INPUTS]);
    if (!parse_inputs(inputs, function->kinds, in)) {
        print_answer(reader, false, "malformed inputs '%s'",
                     reader->field[INPUTS]);
        return;
    }
    if (!parse_expectation(reader, &wanted)) {
        print_answer(reader, false, "malformed expectation '%s', '%s', '%s'",
                     reader->field[EXPECTED], reader->field[TOLERANCE],
                     reader->field[UNIT]);
        return;
    }
    enum mw_status status = function->adapter(in, &got);
    compare(reader, status, got, &wanted);
}

static void check_header(struct reader *reader)
{
    bool good = reader->fields == COLUMNS;
    for (size_t i = 0; i < COLUMNS && good; i++) {
        good = strcmp(reader->field[i], header[i]) == 0;
    }
    reader->headed = true;
    if (!good) {
        print_answer(reader, false, "not the header this program reads");
    }
}

/* libcsv calls this for every field ... */
static void take_field(void *text, size_t length, void *data)
{
    struct reader *reader = data;
    if (reader->fields < COLUMNS) {
        char *field = reader->field[reader->fields];
        reader->too_long = reader->too_long || length >= FIELD_MAX;
        snprintf(field, FIELD_MAX, "%.*s", (int)length, (const char *)text);
    }
    reader->fields++;
}

/* ... and this for every row that is not blank */
static void take_row(int end, void *data)
{
    struct reader *reader = data;
    (void)end;
    if (!reader->headed) {
        check_header(reader);
    } else if (reader->fields != COLUMNS || reader->too_long) {
        print_answer(reader, false, "malformed row");
    } else {
        reader->rows++;
        check_row(reader);
    }
    reader->fields = 0;
    reader->too_long = false;
}

static void take_comment(struct reader *reader, const char *line)
{
    static const char *const words[] = {"seen", "second-hand", "memory",
                                        "computed"};
    const char *sure = "# sure: ";
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        reader->sure =
            reader->sure ||
            (strncmp(line, sure, strlen(sure)) == 0 &&
             strncmp(line + strlen(sure), words[i], strlen(words[i])) == 0);
    }
}

static void read_lines(struct reader *reader, FILE *file,
                       struct csv_parser *parser)
{
    char *line = NULL;
    size_t room = 0;
    ssize_t length;
    bool good = true;
    while (good && (length = getline(&line, &room, file)) > 0) {
        reader->line++;
        if (line[0] == '#') {
            take_comment(reader, line);
        } else {
            good = csv_parse(parser, line, (size_t)length, take_field, take_row,
                             reader) == (size_t)length;
        }
    }
    good = good && csv_fini(parser, take_field, take_row, reader) == 0;
    if (!good || ferror(file)) {
        print_answer(reader, false, "not CSV, or not readable");
    }
    free(line);
}

static void check_file(struct tally *tally, const char *path)
{
    struct reader reader = {.tally = tally, .path = path};
    struct csv_parser parser;
    FILE *file = fopen(path, "r");
    if (!file || csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI) != 0) {
        print_answer(&reader, false, "cannot be read: %s", strerror(errno));
        return;
    }
    read_lines(&reader, file, &parser);
    if (!reader.sure || reader.rows == 0) {
        print_answer(&reader, false,
                     reader.sure ? "no rows"
                                 : "no line '# sure: ' among the comments");
    }
    csv_free(&parser);
    fclose(file);
}

int main(int argc, char **argv)
{
    struct tally tally = {.table = argc > 1 && strcmp(argv[1], "--table") == 0};
    for (int i = tally.table ? 2 : 1; i < argc; i++) {
        check_file(&tally, argv[i]);
    }
    if (!tally.table) {
        printf("1..%u\n", tally.tests);
    }
    return tally.tests == 0 || tally.misses > 0;
}
