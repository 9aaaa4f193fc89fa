/* Rows of the job book as C structs. One list a table gives the struct, the columns that are read
 * and written (store/row.c) and, by equal names, the members of results (the fields in app/op_*.c).
 *
 * KEPT columns are stored; SEEN ones come from the view and are never written. Unsaid: NULL text,
 * INT64_MIN, NAN. Texts of a row that was read belong to the arena it was read with. What each
 * column means stands in store/schema.sql. */
#ifndef STORE_ROWS_H
#define STORE_ROWS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum column_type { COLUMN_TEXT, COLUMN_INT, COLUMN_REAL, COLUMN_BOOL };

struct column {
    const char *name;
    enum column_type type;
    size_t offset;
    bool seen; /* computed by the view */
};

struct book_table {
    const char *name; /* written to */
    const char *from; /* read from: the table or its view */
    const struct column *columns;
    size_t columns_n, size;
};

#define COLUMN_C_TEXT const char *
#define COLUMN_C_INT int64_t
#define COLUMN_C_REAL double
#define COLUMN_C_BOOL bool

/* clang-format off */
#define CLIENT_ROW(KEPT, SEEN)                                                                     \
    KEPT(INT, number)                                                                              \
    KEPT(TEXT, id)                                                                                 \
    KEPT(INT, revision) KEPT(BOOL, removed) KEPT(TEXT, name) KEPT(TEXT, phone) KEPT(TEXT, email)   \
        KEPT(TEXT, address) KEPT(TEXT, waits_for) KEPT(TEXT, note)

#define PAINT_ROW(KEPT, SEEN)                                                                      \
    KEPT(INT, number)                                                                              \
    KEPT(TEXT, id)                                                                                 \
    KEPT(INT, revision) KEPT(BOOL, removed) KEPT(TEXT, name) KEPT(TEXT, class)                     \
        KEPT(TEXT, color_hex) KEPT(TEXT, sheen) KEPT(REAL, size_ml) KEPT(REAL, cost_cent)          \
            KEPT(INT, opened_day) KEPT(BOOL, leftover) KEPT(TEXT, document) SEEN(REAL, stock_ml)

#define STOCK_MOVEMENT_ROW(KEPT, SEEN)                                                             \
    KEPT(INT, number)                                                                              \
    KEPT(INT, revision)                                                                            \
    KEPT(TEXT, paint) KEPT(TEXT, kind) KEPT(REAL, amount_ml) KEPT(REAL, cost_cent)                 \
        KEPT(TEXT, piece) KEPT(TEXT, batch) KEPT(INT, at_utc_min) KEPT(TEXT, note)                 \
            KEPT(INT, corrects)

#define SUPPLY_ROW(KEPT, SEEN)                                                                     \
    KEPT(INT, number)                                                                              \
    KEPT(TEXT, id)                                                                                 \
    KEPT(INT, revision) KEPT(BOOL, removed) KEPT(TEXT, name) KEPT(TEXT, kind)                      \
        KEPT(REAL, cost_cent) KEPT(TEXT, note) SEEN(REAL, count)

#define SUPPLY_MOVEMENT_ROW(KEPT, SEEN)                                                            \
    KEPT(INT, number)                                                                              \
    KEPT(INT, revision)                                                                            \
    KEPT(TEXT, supply) KEPT(TEXT, kind) KEPT(REAL, count) KEPT(REAL, cost_cent) KEPT(TEXT, piece)  \
        KEPT(INT, at_utc_min) KEPT(TEXT, note) KEPT(INT, corrects)

#define SAMPLE_ROW(KEPT, SEEN)                                                                     \
    KEPT(INT, number)                                                                              \
    KEPT(TEXT, id)                                                                                 \
    KEPT(INT, revision) KEPT(BOOL, removed) KEPT(TEXT, color_hex) KEPT(TEXT, read)                 \
        KEPT(INT, at_utc_min) KEPT(TEXT, document)

#define PIECE_ROW(KEPT, SEEN)                                                                      \
    KEPT(INT, number)                                                                              \
    KEPT(TEXT, id)                                                                                 \
    KEPT(INT, revision) KEPT(BOOL, removed) KEPT(TEXT, stage) KEPT(TEXT, title)                    \
        KEPT(TEXT, template) KEPT(TEXT, client) KEPT(INT, due_day) KEPT(REAL, width_mm)            \
            KEPT(REAL, depth_mm) KEPT(REAL, height_mm) KEPT(TEXT, color_hex) KEPT(TEXT, finish)    \
                KEPT(INT, closed_utc_min) KEPT(TEXT, document) SEEN(TEXT, client_name)             \
                    SEEN(TEXT, next_step) SEEN(TEXT, next_task) SEEN(REAL, price_cent)             \
                        SEEN(REAL, cost_cent) SEEN(REAL, hours) SEEN(INT, ready_utc_min)           \
                            SEEN(TEXT, blocked_by) SEEN(TEXT, shown_hex)                           \
                                SEEN(INT, outlook_revision)

#define ACCEPTED_ROW(KEPT, SEEN)                                                                   \
    KEPT(INT, number)                                                                              \
    KEPT(INT, revision)                                                                            \
    KEPT(TEXT, piece) KEPT(TEXT, kind) KEPT(REAL, amount_cent) KEPT(INT, due_day) KEPT(TEXT, text) \
        KEPT(TEXT, document) KEPT(INT, at_utc_min) KEPT(TEXT, who) KEPT(TEXT, about)               \
            KEPT(INT, corrects) SEEN(BOOL, withdrawn)

#define RECIPE_ROW(KEPT, SEEN)                                                                     \
    KEPT(INT, number)                                                                              \
    KEPT(TEXT, id)                                                                                 \
    KEPT(INT, revision) KEPT(BOOL, removed) KEPT(TEXT, piece) KEPT(TEXT, name) KEPT(TEXT, target)  \
        KEPT(TEXT, color_hex) KEPT(REAL, difference) KEPT(TEXT, items) KEPT(TEXT, note)            \
            KEPT(TEXT, spectrum)

#define BATCH_ROW(KEPT, SEEN)                                                                      \
    KEPT(INT, number)                                                                              \
    KEPT(TEXT, id)                                                                                 \
    KEPT(INT, revision) KEPT(BOOL, removed) KEPT(TEXT, piece) KEPT(TEXT, recipe) KEPT(TEXT, name)  \
        KEPT(TEXT, target) KEPT(TEXT, predicted_hex) KEPT(TEXT, dried) KEPT(REAL, amount_ml)       \
            KEPT(TEXT, left_paint) KEPT(INT, made_utc_min) KEPT(TEXT, note) KEPT(TEXT, spectrum)

#define BATCH_ITEM_ROW(KEPT, SEEN)                                                                 \
    KEPT(INT, number)                                                                              \
    KEPT(INT, revision) KEPT(TEXT, batch) KEPT(TEXT, paint) KEPT(REAL, parts)                      \
        KEPT(REAL, amount_ml) KEPT(TEXT, color_hex)

#define TASK_ROW(KEPT, SEEN)                                                                       \
    KEPT(INT, number)                                                                              \
    KEPT(INT, revision)                                                                            \
    KEPT(TEXT, id) KEPT(TEXT, piece) KEPT(TEXT, name) KEPT(TEXT, operation) KEPT(TEXT, part_group) \
        KEPT(REAL, hands_min) KEPT(INT, start_utc_min) KEPT(INT, end_utc_min)                      \
            KEPT(INT, dry_until_utc_min) KEPT(INT, window_end_utc_min) KEPT(INT, begun_utc_min)    \
                KEPT(INT, done_utc_min) KEPT(REAL, took_min) KEPT(INT, not_before_utc_min) KEPT(TEXT, person)

#define RECORD_ROW(KEPT, SEEN)                                                                     \
    KEPT(INT, number)                                                                              \
    KEPT(INT, revision)                                                                            \
    KEPT(TEXT, piece) KEPT(TEXT, kind) KEPT(TEXT, class) KEPT(TEXT, method) KEPT(TEXT, operation)  \
        KEPT(REAL, planned) KEPT(REAL, actual) KEPT(INT, weight) KEPT(BOOL, doubted)               \
            KEPT(INT, at_utc_min) KEPT(TEXT, note) KEPT(INT, corrects) KEPT(TEXT, person)

#define MONEY_ROW(KEPT, SEEN)                                                                      \
    KEPT(INT, number)                                                                              \
    KEPT(INT, revision)                                                                            \
    KEPT(TEXT, kind) KEPT(INT, amount_cent) KEPT(TEXT, piece) KEPT(TEXT, client)                   \
        KEPT(REAL, distance_m) KEPT(INT, day) KEPT(TEXT, note) KEPT(INT, at_utc_min)               \
            KEPT(INT, corrects) SEEN(TEXT, piece_title)

#define CLOSING_ROW(KEPT, SEEN)                                                                    \
    KEPT(INT, number)                                                                              \
    KEPT(INT, revision)                                                                            \
    KEPT(TEXT, piece) KEPT(BOOL, removed) KEPT(REAL, planned_hours) KEPT(REAL, actual_hours)       \
        KEPT(REAL, planned_material_cent) KEPT(REAL, actual_material_cent)                         \
            KEPT(REAL, planned_price_cent) KEPT(REAL, actual_price_cent) KEPT(REAL, fee_cent)      \
                KEPT(REAL, bought_cent) KEPT(REAL, hour_cent) KEPT(INT, at_utc_min)                \
                    KEPT(TEXT, note) KEPT(INT, days_to_sell) SEEN(TEXT, title)                     \
                        SEEN(TEXT, template)

#define CLOSING_PRODUCT_ROW(KEPT, SEEN)                                                            \
    KEPT(INT, number)                                                                              \
    KEPT(INT, revision)                                                                            \
    KEPT(TEXT, piece) KEPT(TEXT, paint) KEPT(TEXT, name) KEPT(TEXT, class) KEPT(REAL, planned_ml)  \
        KEPT(REAL, actual_ml) KEPT(REAL, planned_cent) KEPT(REAL, actual_cent)

#define PICTURE_ROW(KEPT, SEEN)                                                                    \
    KEPT(INT, number)                                                                              \
    KEPT(TEXT, id)                                                                                 \
    KEPT(INT, revision) KEPT(BOOL, removed) KEPT(TEXT, piece) KEPT(TEXT, kind) KEPT(TEXT, file)    \
        KEPT(TEXT, type) KEPT(INT, bytes) KEPT(TEXT, sha256) KEPT(INT, at_utc_min)                 \
            KEPT(TEXT, note)

/*                name             view              only added to */
#define BOOK_TABLES(X)                                                                             \
    X(CLIENT, client, client, false)                                                               \
    X(PAINT, paint, paint_now, false)                                                              \
    X(STOCK_MOVEMENT, stock_movement, stock_movement, true)                                        \
    X(SUPPLY, supply, supply_now, false)                                                           \
    X(SUPPLY_MOVEMENT, supply_movement, supply_movement, true)                                     \
    X(SAMPLE, sample, sample, false)                                                               \
    X(PIECE, piece, piece_now, false)                                                              \
    X(ACCEPTED, accepted, accepted_now, true)                                                      \
    X(RECIPE, recipe, recipe, false)                                                               \
    X(BATCH, batch, batch, false)                                                                  \
    X(BATCH_ITEM, batch_item, batch_item, false)                                                   \
    X(TASK, task, task, false)                                                                     \
    X(RECORD, record, record, true)                                                                \
    X(MONEY, money, money_now, true)                                                               \
    X(CLOSING, closing, closing_now, false)                                                        \
    X(CLOSING_PRODUCT, closing_product, closing_product, false)                                    \
    X(PICTURE, picture, picture, false)

/* clang-format on */

#define ROW_MEMBER(type, name) COLUMN_C_##type name;
#define ROW_STRUCT(UP, low, view, adds)                                                            \
    struct low##_row {                                                                             \
        UP##_ROW(ROW_MEMBER, ROW_MEMBER)                                                           \
    };                                                                                             \
    extern const struct book_table table_##low;
BOOK_TABLES(ROW_STRUCT)
#undef ROW_STRUCT

#endif
