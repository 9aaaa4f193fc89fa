/* One description of a C struct for everything that crosses a border.
 *
 * From it follow: reading a document with exact errors, printing JSON, the published JSON Schema,
 * the OpenAPI document, command-line options and the plain listing of a result. A new value costs
 * one member in the struct and one row here.
 *
 * Two spellings of the same member: an INPUT document has `"width": "32 3/4 in"` (the stem and a
 * string with a unit); a RESULT, and everything stored, has `"width_mm": 831.85` (stem + suffix
 * and a number). FIELD_QUANTITY knows its dimension, so one row serves both. Times work alike: the
 * input has `"due": "2026-10-12"`, the result `"due_day": 20738`; the suffixes are _min (clock),
 * _day, _local_min and _utc_min.
 *
 * Unsaid values (see core/work/job.h) are left out of what is printed. */
#ifndef CODEC_DESC_H
#define CODEC_DESC_H

#include "core/base/dimension.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum field_type {
    FIELD_TEXT,     /* const char *; at most 4,096 bytes of UTF-8 */
    FIELD_ID,       /* const char *; a short lower-case word: a-z 0-9 - _, at most 64 */
    FIELD_BOOL,     /* bool, or enum yes_no when FLAG_TRI */
    FIELD_INT,      /* int64_t */
    FIELD_NUMBER,   /* double without a unit */
    FIELD_QUANTITY, /* double in the canonical unit of `dimension` */
    FIELD_WORD,     /* enum (int); words[0] is "" for UNSAID */
    FIELD_COLOR,    /* struct color_said: CSS color text in documents; text and Lab in results */
    FIELD_LAB,      /* struct color_said again, said as "lab": [L, a, b]; read only */
    FIELD_CLOCK,    /* int64_t minutes from midnight: "8:00 am", "13:30" */
    FIELD_DAY,      /* int64_t days since 1970: "2026-10-12" */
    FIELD_LOCAL,    /* int64_t local minutes since 1970: "2026-10-12 08:00" */
    FIELD_INSTANT,  /* int64_t UTC minutes since 1970: "2026-10-12T12:00Z"; of arguments also as
                       FIELD_LOCAL, until app/when.h has made an instant of it */
    FIELD_RECORD,   /* a struct inside */
    FIELD_LIST,     /* struct *: pointer at offset, size_t at count_offset */
    FIELD_MAP,      /* as FIELD_LIST, printed as an object whose keys are each row's first field */
    FIELD_TEXTS,    /* const char **, the same */
    FIELD_NUMBERS,  /* double *, the same; or double[n] inside when `fixed` > 0 */
    FIELD_DAYS,     /* int64_t * days, the same: ["2026-10-12"] in both spellings */
    FIELD_JSON      /* const char *: any JSON value as its compact text, kept as it was written and
                       printed as the value itself */
};

enum field_flags {
    FLAG_REQUIRED = 1,
    FLAG_KEY = 2,   /* unique id in its list */
    FLAG_TRI = 4,   /* enum yes_no: unsaid, false, true */
    FLAG_PATH = 8,  /* a text that names a file of the person's */
    FLAG_NAME = 64, /* a text that no other of its list has (core/base/name.h), where it is said */
    FLAG_HOURS = 128,   /* a number of hours: listed as 3 h 20 min */
    FLAG_BY_UNIT = 256, /* a number whose dimension stands beside it, at count_offset */
    FLAG_CLASS = 512, /* a FIELD_ID that may be a class of product: its name is as good as its id */
    FLAG_WHOLE = 1024,  /* a FLAG_FILE that holds a whole book: many documents, at most 256 MB */
    FLAG_DRIVEN = 2048, /* a length that is a way: said in miles or kilometers */
    FLAG_NULL = 32,     /* a record of a result: null when there is nothing to say of it */
    FLAG_FILE =
        16 /* FIELD_JSON and FIELD_TEXT on a command line: the path of a file ("-": standard input),
              whose text is handed over unparsed, at most 4 MB; over HTTP the value itself */
};

struct desc;

struct field {
    const char *name; /* stem; results add the dimension's suffix */
    enum field_type type;
    size_t offset, count_offset;
    enum dimension dimension;
    double min, max;          /* inclusive, canonical unit; both 0: any finite number */
    const char *const *words; /* NULL-terminated, words[0] = ""; of a FIELD_ID: nothing else */
    const struct desc *of;    /* record, list */
    size_t fixed, items_max;
    unsigned flags;
    const char *help; /* one line, for schema, API and --help */
};

struct desc {
    const char *name; /* of the type in schema and API: "piece"; unique in the program */
    const char *help;
    size_t size;
    const struct field *fields;
    size_t fields_n;
    const char *format; /* a document of its own begins with "format" and "version"; or NULL */
    int version;
    bool open; /* members that are not known are passed over; elsewhere they are errors */
};

/* Shorthand for tables: F_TEXT(struct piece, title, "...") and so on. */
#define F_AT(S, m) .name = #m, .offset = offsetof(S, m)
#define F_TEXT(S, m, h)                                                                            \
    { F_AT(S, m), .type = FIELD_TEXT, .help = h }
#define F_ID(S, m, fl, h)                                                                          \
    { F_AT(S, m), .type = FIELD_ID, .flags = fl, .help = h }
/* an id of which there are only those few */
#define F_CHOICE(S, m, w, fl, h)                                                                   \
    { F_AT(S, m), .type = FIELD_ID, .words = w, .flags = fl, .help = h }
#define F_INT(S, m, lo, hi, h)                                                                     \
    { F_AT(S, m), .type = FIELD_INT, .min = lo, .max = hi, .help = h }
#define F_NUM(S, m, lo, hi, h)                                                                     \
    { F_AT(S, m), .type = FIELD_NUMBER, .min = lo, .max = hi, .help = h }
#define F_HOURS(S, m, h)                                                                           \
    { F_AT(S, m), .type = FIELD_NUMBER, .flags = FLAG_HOURS, .help = h }
#define F_BY_UNIT(S, m, unit_member, h)                                                            \
    {                                                                                              \
        F_AT(S, m), .type = FIELD_NUMBER, .flags = FLAG_BY_UNIT,                                   \
                    .count_offset = offsetof(S, unit_member), .help = h                            \
    }
#define F_BOOL(S, m, h)                                                                            \
    { F_AT(S, m), .type = FIELD_BOOL, .help = h }
#define F_TRI(S, m, h)                                                                             \
    { F_AT(S, m), .type = FIELD_BOOL, .flags = FLAG_TRI, .help = h }
#define F_WORD(S, m, w, h)                                                                         \
    { F_AT(S, m), .type = FIELD_WORD, .words = w, .help = h }
#define F_JSON(S, m, h)                                                                            \
    { F_AT(S, m), .type = FIELD_JSON, .help = h }
#define F_COLOR(S, m, h)                                                                           \
    { F_AT(S, m), .type = FIELD_COLOR, .help = h }
/* stem and member differ by the suffix: F_QTY(struct piece, width, width_mm, DIM_LENGTH, ...) */
#define F_QTY(S, stem, m, dim, lo, hi, h)                                                          \
    {                                                                                              \
        .name = #stem, .offset = offsetof(S, m), .type = FIELD_QUANTITY, .dimension = dim,         \
        .min = lo, .max = hi, .help = h                                                            \
    }
#define F_RECORD(S, m, d, h)                                                                       \
    { F_AT(S, m), .type = FIELD_RECORD, .of = d, .help = h }
#define F_LIST(S, m, d, most, h)                                                                   \
    {                                                                                              \
        F_AT(S, m), .count_offset = offsetof(S, m##_n), .type = FIELD_LIST, .of = d,               \
                    .items_max = most, .help = h                                                   \
    }
#define F_TEXTS(S, m, most, h)                                                                     \
    {                                                                                              \
        F_AT(S, m), .count_offset = offsetof(S, m##_n), .type = FIELD_TEXTS, .items_max = most,    \
                    .help = h                                                                      \
    }
/* the same struct color_said as the F_COLOR beside it */
#define F_LAB(S, m, h)                                                                             \
    { .name = "lab", .offset = offsetof(S, m), .type = FIELD_LAB, .help = h }
/* times: stem and member differ by the suffix, as with quantities */
#define F_TIME(S, stem, m, kind, h)                                                                \
    { .name = #stem, .offset = offsetof(S, m), .type = kind, .help = h }
#define F_NUMBERS(S, m, most, h)                                                                   \
    {                                                                                              \
        F_AT(S, m), .count_offset = offsetof(S, m##_n), .type = FIELD_NUMBERS, .items_max = most,  \
                    .help = h                                                                      \
    }
#define F_FIXED(S, m, n, h)                                                                        \
    { F_AT(S, m), .type = FIELD_NUMBERS, .fixed = n, .help = h }
#define F_DAYS(S, m, most, h)                                                                      \
    {                                                                                              \
        F_AT(S, m), .count_offset = offsetof(S, m##_n), .type = FIELD_DAYS, .items_max = most,     \
                    .help = h                                                                      \
    }
/* a file on the command line, the document itself over HTTP */
#define F_FILE(S, m, h)                                                                            \
    { F_AT(S, m), .type = FIELD_JSON, .flags = FLAG_FILE, .help = h }
#define DESC(var, type, label, h, table)                                                           \
    const struct desc var = {label, h, sizeof(type), table, sizeof table / sizeof *table,          \
                             NULL,  0, false}
#define DESC_DOCUMENT(var, type, label, h, table, fmt, ver)                                        \
    const struct desc var = {label, h,   sizeof(type), table, sizeof table / sizeof *table,        \
                             fmt,   ver, false}

/* for files that other programs write too */
#define DESC_OPEN(var, type, label, h, table)                                                      \
    const struct desc var = {label, h, sizeof(type), table, sizeof table / sizeof *table,          \
                             NULL,  0, true}

#endif
