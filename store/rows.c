#include "store/rows.h"

#define KEPT_COLUMN(type, name) {#name, COLUMN_##type, offsetof(struct ROW, name), false},
#define SEEN_COLUMN(type, name) {#name, COLUMN_##type, offsetof(struct ROW, name), true},

/* ROW stands for the struct while its list is expanded. */
#define TABLE(UP, low, view, adds)                                                                 \
    const struct book_table table_##low = {#low, #view, columns_##low,                             \
                                           sizeof columns_##low / sizeof *columns_##low,           \
                                           sizeof(struct low##_row)};

#define ROW client_row
static const struct column columns_client[] = {CLIENT_ROW(KEPT_COLUMN, SEEN_COLUMN)};
#undef ROW
#define ROW paint_row
static const struct column columns_paint[] = {PAINT_ROW(KEPT_COLUMN, SEEN_COLUMN)};
#undef ROW
#define ROW stock_movement_row
static const struct column columns_stock_movement[] = {
    STOCK_MOVEMENT_ROW(KEPT_COLUMN, SEEN_COLUMN)};
#undef ROW
#define ROW supply_row
static const struct column columns_supply[] = {SUPPLY_ROW(KEPT_COLUMN, SEEN_COLUMN)};
#undef ROW
#define ROW supply_movement_row
static const struct column columns_supply_movement[] = {
    SUPPLY_MOVEMENT_ROW(KEPT_COLUMN, SEEN_COLUMN)};
#undef ROW
#define ROW sample_row
static const struct column columns_sample[] = {SAMPLE_ROW(KEPT_COLUMN, SEEN_COLUMN)};
#undef ROW
#define ROW piece_row
static const struct column columns_piece[] = {PIECE_ROW(KEPT_COLUMN, SEEN_COLUMN)};
#undef ROW
#define ROW accepted_row
static const struct column columns_accepted[] = {ACCEPTED_ROW(KEPT_COLUMN, SEEN_COLUMN)};
#undef ROW
#define ROW recipe_row
static const struct column columns_recipe[] = {RECIPE_ROW(KEPT_COLUMN, SEEN_COLUMN)};
#undef ROW
#define ROW batch_row
static const struct column columns_batch[] = {BATCH_ROW(KEPT_COLUMN, SEEN_COLUMN)};
#undef ROW
#define ROW batch_item_row
static const struct column columns_batch_item[] = {BATCH_ITEM_ROW(KEPT_COLUMN, SEEN_COLUMN)};
#undef ROW
#define ROW task_row
static const struct column columns_task[] = {TASK_ROW(KEPT_COLUMN, SEEN_COLUMN)};
#undef ROW
#define ROW record_row
static const struct column columns_record[] = {RECORD_ROW(KEPT_COLUMN, SEEN_COLUMN)};
#undef ROW
#define ROW money_row
static const struct column columns_money[] = {MONEY_ROW(KEPT_COLUMN, SEEN_COLUMN)};
#undef ROW
#define ROW closing_row
static const struct column columns_closing[] = {CLOSING_ROW(KEPT_COLUMN, SEEN_COLUMN)};
#undef ROW
#define ROW closing_product_row
static const struct column columns_closing_product[] = {
    CLOSING_PRODUCT_ROW(KEPT_COLUMN, SEEN_COLUMN)};
#undef ROW
#define ROW picture_row
static const struct column columns_picture[] = {PICTURE_ROW(KEPT_COLUMN, SEEN_COLUMN)};
#undef ROW

BOOK_TABLES(TABLE)
