/* Inside of core/photo: input judged before anything is computed. */
#ifndef CORE_PHOTO_CHECK_H
#define CORE_PHOTO_CHECK_H

#include "core/photo/photo.h"

/* E_MISSING, E_DOMAIN, E_TOO_LARGE as in photo_read. */
enum status photo_check(const struct photo_shot *shot, struct why *why);

#endif
