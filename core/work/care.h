/* The care card: rows of data/care.tsv whose facts hold, each with the date until which it is
 * valid. care_make is declared in core/work/room.h and runs after the dates are known. */
#ifndef CORE_WORK_CARE_H
#define CORE_WORK_CARE_H

#include "core/work/room.h"

#endif
