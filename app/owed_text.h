/* The money of open pieces as people read it in a terminal. */
#ifndef APP_OWED_TEXT_H
#define APP_OWED_TEXT_H

#include "app/op.h"

struct owed_row {
    const char *id, *title, *client_name, *stage, *price_is;
    double price_cent, paid_cent, to_come_cent, unbooked_cent, hours;
};

/* Appends each piece with whose it is, its price, what is paid and to come. Errors: E_MEMORY, those
 * of the shop's document. */
enum status owed_print(struct op_call *call, const struct owed_row *rows, size_t n,
                       struct why *why);

#endif
