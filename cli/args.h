/* Arguments of an operation from the command line. */
#ifndef CLI_ARGS_H
#define CLI_ARGS_H

#include "app/op.h"
#include "core/work/job.h"

/* What every command understands besides its own options. */
struct common {
    bool json, help;
    enum status failed;     /* of a value that was refused */
    const char *book;       /* --book FILE, or NULL */
    enum unit_system units; /* --units us|metric */
};

enum args_end { ARGS_GOOD, ARGS_BAD_USAGE, ARGS_BAD_VALUE };

/* The operation whose words argv begins with (the longest), and how many words it has; or NULL. */
const struct op *args_operation(int argc, char **argv, int *out_words);

/* Options --name VALUE, --name=VALUE, --flag and positionals into args (unsaid before). Dashes and
 * underscores in names are the same, "--" ends the options, a single dash begins a value (-5 °C).
 * ARGS_BAD_USAGE: the command line is wrong; ARGS_BAD_VALUE: a value is; why says which. */
enum args_end args_read(const struct op *op, int argc, char **argv, struct arena *arena, void *args,
                        struct common *common, struct why *why);

#endif
