/* serve --job: one job document and its sheet, without a book. */
#ifndef SERVER_ONE_JOB_H
#define SERVER_ONE_JOB_H

#include "app/op.h"

/* The answer of "plan" with its bases for the document in a file, as the page takes it.
 *
 *   out_json  yours, text_free; untouched on failure
 *
 * Errors: E_IO (the file), those of plan. */
enum status one_job_plan(struct app *app, const char *path, struct text *out_json, struct why *why);

#endif
