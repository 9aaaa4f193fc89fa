/* What an operation did, as a history says it. */
#ifndef APP_DONE_WORDS_H
#define APP_DONE_WORDS_H

/* "Piece closed" of "piece close"; NULL of an operation that writes nothing, or is none. */
const char *done_words(const char *operation);

#endif
