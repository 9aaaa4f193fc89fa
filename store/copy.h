/* Copies of the whole book: put aside by themselves, by command, and brought back. */
#ifndef STORE_COPY_H
#define STORE_COPY_H

#include "core/base/limit.h"
#include "store/picture_file.h"

enum copy_kind { COPY_DAILY, COPY_UPGRADE, COPY_ASKED, COPY_RESTORE };
enum { COPIES_KEPT = 10 }; /* of each kind but ASKED, which stay */

struct copy_row {
    const char *name; /* daily-2026-10-12T0800Z-r42.book */
    const char *path;
    int64_t bytes, at_utc_min, revision;
};

/* Copies the book as it is into the folder PATH-copies, checks the copy, then takes older ones of
 * the same kind away. out_path, if asked for, is malloc'ed and yours. Errors: E_IO, E_DAMAGED. */
enum status copy_aside(struct store *s, enum copy_kind kind, int64_t now_utc_min, char **out_path,
                       struct why *why);
/* The copy of the day, when the last is over 24 h old; a clock that was set back makes one too many
 * rather than none. limit->stop (or NULL) ends it early and leaves nothing behind: E_IO. Beside
 * readers and writers. */
enum status copy_daily(struct store *s, int64_t now_utc_min, const struct limit *limit,
                       struct why *why);
/* Copies into a file of the person's choice, which must not exist, and the pictures beside it: a
 * whole book again. Copies put aside need none: they share the book's folder of pictures.
 *   out_pictures  what became of them; in the arena. Errors: E_CONFLICT, E_IO, E_DAMAGED. */
enum status copy_to(struct store *s, const char *path, struct arena *arena,
                    struct picture_files *out_pictures, struct why *why);

enum status copy_list(struct store *s, struct arena *arena, struct copy_row **out_rows,
                      size_t *out_n, struct why *why);

/* Brings a copy back: checks it (a whole book of this version or older, sound), puts the present
 * book aside, then replaces its content. Other connections see the restored book. The revision goes
 * on from the higher of both, so that no answer given before looks fresh. A damaged book cannot be
 * put aside as a copy: its file is kept as damaged-TIME.book among them, byte for byte. Pictures
 * that lie beside the copy and not here are brought along (out_pictures, in the arena). Errors:
 * E_NOT_FOUND, E_DAMAGED, E_NEWER, E_IO, E_BUSY. */
enum status copy_restore(struct store *s, const char *path, int64_t now_utc_min,
                         struct arena *arena, struct picture_files *out_pictures, struct why *why);

/* SQLite's own check of the whole file, and of all references. Sound: *out_findings is "" and OK
 * is returned; else E_DAMAGED with the first findings. */
enum status copy_check(struct book *b, struct why *why);

#endif
