/* What must be agreed and said before starting: the rows of data/agreement.tsv whose facts hold.
 * agreement_make is declared in core/work/room.h; it needs no inspection, so that it can be asked
 * before the piece is in the shop. */
#ifndef CORE_WORK_AGREEMENT_H
#define CORE_WORK_AGREEMENT_H

#include "core/work/room.h"

#endif
