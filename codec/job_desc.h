/* Descriptions of the job document (core/work/job.h): shop, shelf, pieces. */
#ifndef CODEC_JOB_DESC_H
#define CODEC_JOB_DESC_H

#include "codec/desc.h"

/* documents of their own, with "format" and "version" */
extern const struct desc desc_job;   /* struct job, "coatwright-job" */
extern const struct desc desc_shelf; /* struct shelf, "coatwright-shelf" */

/* the parts they are made of */
extern const struct desc desc_shop, desc_shop_hours;
extern const struct desc desc_shelf_part; /* struct shelf inside a job: without a head */
extern const struct desc desc_paint, desc_supply, desc_sample, desc_mix_item, desc_spectrum;
extern const struct desc desc_piece, desc_part, desc_agreement, desc_wanted, desc_tests;

/* Words of enums, for forms: NULL-terminated, [0] is "". */
extern const char *const words_units[], *const words_measure[];
extern const char *const words_sheen[], *const words_supply[], *const words_reading[];
extern const char *const words_treatment[];

#endif
