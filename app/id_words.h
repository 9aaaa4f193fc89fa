/* The id of a row of the trade's tables, as people read it: "wb_enamel" is waterborne enamel.
 *
 * Ids stay what is typed, stored and sent; what is shown to be read says the row's name. */
#ifndef APP_ID_WORDS_H
#define APP_ID_WORDS_H

#include "codec/document.h"
#include "tables.h"

/*   member   name of the member that holds the id: "class", "template", "finish" ...
 *
 * Borrowed from the tables; NULL: the member names no row, or not this one (an id of the book). */
const char *id_words(const struct tables *t, const char *member, const char *id);

/* The pointer of a member as words, without its slash in front and its unit: "wanted/color" is
 * wanted color, "cost_cent" is cost. */
void member_words(const char *pointer, struct text *out);

#endif
