/* What may go on what: the verdict of data/coat_rules.tsv on one coat over one ground.
 *
 * All rows that match count and the worst verdict decides; no row at all is VERDICT_UNKNOWN and is
 * shown as such. Among rows of the same verdict the most particular speaks: one that names the
 * ground and the coat before one that names only a kind. */
#ifndef CORE_WORK_COATS_RULES_H
#define CORE_WORK_COATS_RULES_H

#include "core/work/fact.h"

/* What a rule wants done first; the words of the table's prep column. */
#define PREP_LIST(X)                                                                               \
    X(PREP_DEWAX, "dewax") /* wipe with mineral spirits until clean */                             \
    X(PREP_STRIP, "strip") /* to bare wood */                                                      \
    X(PREP_SCUFF, "scuff")                                                                         \
    X(PREP_DEGREASE, "degrease") /* metal: to bright */                                            \
    X(PREP_EDGES, "edges")       /* seal cut edges twice */                                        \
    X(PREP_SPOT, "spot")         /* shellac on knots and stains only */                            \
    X(PREP_RUST, "rust")         /* metal primer on what is brushed bright */                      \
    X(PREP_PATCH, "patch")       /* bleeding patch, 48 h */                                        \
    X(PREP_BARRIER, "barrier")   /* shellac everywhere */                                          \
    X(PREP_DEWAXED, "dewaxed")   /* shellac without wax between */                                 \
    X(PREP_BOND_PRIMER, "bond_primer")                                                             \
    X(PREP_ALKYD_PRIMER, "alkyd_primer") /* oil stain-block */                                     \
    X(PREP_METAL_PRIMER, "metal_primer")                                                           \
    X(PREP_EXT_PRIMER, "ext_primer")                                                               \
    X(PREP_SEAL, "seal") /* a clear over it */                                                     \
    X(PREP_TEST, "test") /* patch of the system, two days, tape */                                 \
    X(PREP_DRY, "dry")   /* the wood is too wet */                                                 \
    X(PREP_WAIT, "wait") /* what lies below is too fresh */                                        \
    X(PREP_MASK, "mask")

enum prep_bit {
#define X(name, word) name##_BIT,
    PREP_LIST(X)
#undef X
        PREP_COUNT
};
#define PREP(name) (1u << (PREP_##name##_BIT))

enum { JUDGMENT_RULES = 24 };

struct judgment {
    enum verdict verdict;
    const struct coat_rules_row *rule; /* the one that speaks; NULL when UNKNOWN */
    unsigned prep;                     /* PREP bits of all PREPARE and WAIT rows that match */
    unsigned cure;                     /* PREP bits of the NEVER rows: what would lift them */
    const struct coat_rules_row *rules[JUDGMENT_RULES]; /* all that match, worst first */
    size_t rules_n;
};

/* Judges class `over` (or "none": nothing more comes) on material `under` for the piece or group
 * of *f. Cost: one pass over the table. */
struct judgment coats_judge(const struct facts *f, const char *under, const char *over);

/* The row that asked for a preparation, or NULL. */
const struct coat_rules_row *judgment_asks(const struct judgment *j, unsigned prep);

/* PREP bits of a prep cell; false if a word is not known. "none" and "" are no bits. */
bool prep_parse(const char *words, unsigned *out_bits);
enum verdict verdict_named(const char *word);

#endif
