/* Help at a step as people read it in a terminal: what keeps it from being begun and what must be
 * read before it first, then how it is done, then what can go wrong. */
#ifndef APP_HELP_TEXT_H
#define APP_HELP_TEXT_H

#include "app/op.h"
#include "core/work/help.h"

struct caution_view {
    const char *id, *text, *remedy, *source;
    int64_t read_utc_min;
};
struct help_answer {
    struct step_help step;
    const char *id, *piece, *piece_title;
    struct process_notes_row *notes;
    struct defects_row *defects;
    struct caution_view *cautions;
    struct notice *blocked;
    size_t notes_n, defects_n, cautions_n, blocked_n;
};
/* Appends the help. Errors: E_MEMORY, those of the shop's document. */
enum status help_print(struct op_call *call, const struct help_answer *a, struct why *why);

/* Appends what can go wrong: its name, its look, where it comes from, what to do now and next time.
 */
void defects_print(struct text *out, const struct defects_row *rows, size_t n);

#endif
