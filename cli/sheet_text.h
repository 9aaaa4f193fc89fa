/* The job sheet on a terminal or on plain paper. */
#ifndef CLI_SHEET_TEXT_H
#define CLI_SHEET_TEXT_H

#include "app/sheet/sheet.h"
#include "cli/paper.h"

/* Why a sheet says what it says. */
struct sheet_reasons {
    const struct basis *bases; /* of the plan, printed under their rows (--why); NULL for none */
    size_t bases_n;
    const struct assumption *assumed; /* listed at the end */
    size_t assumed_n;
};

void sheet_text(struct paper *p, const struct sheet *sheet, const struct sheet_reasons *reasons);

#endif
