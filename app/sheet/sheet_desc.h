/* Description of the sheet for JSON (app/sheet/sheet.h). */
#ifndef APP_SHEET_SHEET_DESC_H
#define APP_SHEET_SHEET_DESC_H

#include "codec/desc.h"

extern const struct desc desc_sheet;

#endif
