/* Inside of core/photo: what is wrong with a picture, in words that tell what to do. */
#ifndef CORE_PHOTO_JUDGE_H
#define CORE_PHOTO_JUDGE_H

#include "core/photo/fit.h"

/* Of one patch, seen alone and against the light of the whole picture: clipped, dark, glare,
 * shadow. */
unsigned judge_patch(const struct fit *f, const struct patch_view *v);

/* Of reference i, seen by all the others: reference, glare, shadow. */
unsigned judge_reference(const struct fit *f, size_t i);

/* Of the picture as a whole: dark. */
unsigned judge_picture(const struct fit *f);

/* Whether the light changes its color over the picture, from a fit with f->chroma. */
bool judge_mixed(const struct fit *f);

#endif
