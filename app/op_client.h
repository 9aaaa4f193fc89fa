/* Clients, for the operations beside this one. */
#ifndef APP_OP_CLIENT_H
#define APP_OP_CLIENT_H

#include "app/book.h"

/* The id of a client who was named by id or name, letter case aside; entered when the book does not
 * know them. NULL in, NULL out. */
enum status client_named(struct op_call *call, const char *name, const char **out_id,
                         struct why *why);

#endif
