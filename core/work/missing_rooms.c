/* Rooms that are still being built on other branches; each line goes when its file lands. */
#include "core/work/room.h"
#pragma GCC diagnostic ignored "-Wunused-parameter"
#ifndef HAVE_AGREEMENT
enum status agreement_make(const struct room *r, struct notices *out, struct why *why) { return OK; }
#endif
#ifndef HAVE_SURFACE
enum status surface_make(const struct room *r, struct surfaces *out, struct why *why) { return OK; }
#endif
#ifndef HAVE_COATS
enum status coats_make(const struct room *r, struct piece_plan *p, struct why *why) { return OK; }
#endif
#ifndef HAVE_REPAIR
enum status repair_make(const struct room *r, struct piece_plan *p, struct why *why) { return OK; }
#endif
#ifndef HAVE_AMOUNT
enum status amount_make(const struct room *r, struct piece_plan *p, struct why *why) { return OK; }
#endif
#ifndef HAVE_FITTING
enum status fitting_make(const struct room *r, struct piece_plan *p, struct why *why) { return OK; }
#endif
#ifndef HAVE_PRICE
enum status price_make(const struct room *r, struct piece_plan *p, struct why *why) { return OK; }
#endif
#ifndef HAVE_CARE
enum status care_make(const struct room *r, struct piece_plan *p, struct why *why) { return OK; }
#endif
