/* The job sheet on a terminal or on plain paper. */
#ifndef CLI_SHEET_TEXT_H
#define CLI_SHEET_TEXT_H

#include "app/sheet/sheet.h"
#include "cli/paper.h"

/* bases: those of the plan, to be printed under their rows (--why); NULL for none */
void sheet_text(struct paper *p, const struct sheet *sheet, const struct basis *bases,
                size_t bases_n);

#endif
