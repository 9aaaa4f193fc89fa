/* Descriptions of the computed plan (core/work/plan.h) for JSON and its published schema. */
#ifndef CODEC_PLAN_DESC_H
#define CODEC_PLAN_DESC_H

#include "codec/desc.h"
#include "codec/job_desc.h"

extern const struct desc desc_plan;
extern const struct desc desc_piece_plan, desc_basis, desc_assumption;
extern const struct desc desc_days;
extern const struct desc desc_price;
extern const struct desc desc_color_plan;
extern const struct desc desc_notice;

/* Rows of a plan that stands in struct S behind the path p ("" or "answer."). */
#define PLAN_FIELDS(S, p)                                                                          \
    {.name = "title", .offset = offsetof(S, p title), .type = FIELD_TEXT, .help = "title"},        \
        {.name = "now",                                                                            \
         .offset = offsetof(S, p now_utc_min),                                                     \
         .type = FIELD_INSTANT,                                                                    \
         .help = "when this was computed"},                                                        \
        {.name = "shop",                                                                           \
         .offset = offsetof(S, p shop),                                                            \
         .type = FIELD_RECORD,                                                                     \
         .of = &desc_shop,                                                                         \
         .help = "the shop, completed"},                                                           \
        {.name = "pieces",                                                                         \
         .offset = offsetof(S, p pieces),                                                          \
         .count_offset = offsetof(S, p pieces_n),                                                  \
         .type = FIELD_LIST,                                                                       \
         .of = &desc_piece_plan,                                                                   \
         .items_max = 64,                                                                          \
         .help = "pieces"},                                                                        \
        {.name = "days",                                                                           \
         .offset = offsetof(S, p days),                                                            \
         .type = FIELD_RECORD,                                                                     \
         .of = &desc_days,                                                                         \
         .help = "all pieces together"},                                                           \
        {.name = "settle",                                                                         \
         .offset = offsetof(S, p settle.rows),                                                     \
         .count_offset = offsetof(S, p settle.n),                                                  \
         .type = FIELD_LIST,                                                                       \
         .of = &desc_notice,                                                                       \
         .items_max = 1000,                                                                        \
         .help = "what must be settled before starting"},                                          \
        {.name = "assumed",                                                                        \
         .offset = offsetof(S, p assumed),                                                         \
         .count_offset = offsetof(S, p assumed_n),                                                 \
         .type = FIELD_LIST,                                                                       \
         .of = &desc_assumption,                                                                   \
         .items_max = 100000,                                                                      \
         .help = "what nobody has said"},                                                          \
    {                                                                                              \
        .name = "basis", .offset = offsetof(S, p bases), .count_offset = offsetof(S, p bases_n),   \
        .type = FIELD_MAP, .of = &desc_basis, .items_max = 100000,                                 \
        .help = "where the figures come from, by pointer; filled when asked for"                   \
    }

#endif
