/* Descriptions of the computed plan (core/work/plan.h) for JSON and its published schema. */
#ifndef CODEC_PLAN_DESC_H
#define CODEC_PLAN_DESC_H

#include "codec/desc.h"
#include "codec/job_desc.h"

extern const struct desc desc_piece_plan, desc_basis, desc_assumption;
extern const struct desc desc_days;
extern const struct desc desc_notice;

#endif
