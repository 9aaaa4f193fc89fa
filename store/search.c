#include "store/search.h"
#include "store/sql.h"

#include <ctype.h>

enum { QUERY_MAX = 512 };

/* "deep blue-green" -> "deep"* "blue"* "green"*; bytes above 127 belong to words. */
static bool query_of(const char *words, char *out) {
    size_t n = 0;
    bool inside = false;
    for (; *words && n < QUERY_MAX - 8; words++) {
        unsigned char c = (unsigned char)*words;
        bool letter = c > 127 || isalnum(c);
        if (letter && !inside) {
            if (n) out[n++] = ' ';
            out[n++] = '"';
        }
        if (letter) out[n++] = (char)c;
        if (!letter && inside) out[n++] = '"', out[n++] = '*';
        inside = letter;
    }
    if (inside) out[n++] = '"', out[n++] = '*';
    out[n] = 0;
    return n > 0;
}

const char *search_query(const char *words, struct arena *arena) {
    char query[QUERY_MAX];
    return arena_text(arena, query_of(words, query) ? query : "\"\"");
}

enum status search_words(struct book *b, const char *words, int64_t limit, struct arena *arena,
                         struct found_row **out_rows, size_t *out_n, struct why *why) {
    char query[QUERY_MAX];
    *out_n = 0;
    struct found_row *rows = arena_array(arena, (size_t)limit + 1, sizeof *rows);
    if (!rows) return why_no_memory(why);
    *out_rows = rows;
    if (!query_of(words, query)) return OK;
    sqlite3_stmt *st;
    enum status s =
        sql_prepare(b,
                    "SELECT subject, id, title, snippet(words, 3, '[', ']', '...', 12) FROM words"
                    " WHERE words MATCH ?1 ORDER BY bm25(words, 0, 0, 4.0, 1.0), rowid LIMIT ?2",
                    &st, why);
    if (s) return s;
    sql_bind(st, "ti", query, limit);
    int rc;
    size_t n = 0;
    for (; (rc = sql_step(st)) == SQLITE_ROW; n++)
        rows[n] =
            (struct found_row){sql_column_text(b, st, 0, arena), sql_column_text(b, st, 1, arena),
                               sql_column_text(b, st, 2, arena), sql_column_text(b, st, 3, arena)};
    if ((s = sql_end(b, rc, why))) return s;
    *out_n = n;
    return OK;
}
