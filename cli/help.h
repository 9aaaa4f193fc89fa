/* What --help prints: made from the operations table. */
#ifndef CLI_HELP_H
#define CLI_HELP_H

#include "app/op.h"
#include "cli/paper.h"

void help_all(struct paper *p);
void help_operation(struct paper *p, const struct op *op);

#endif
