#include "app/op.h"

enum status op_run(const struct op *op, struct op_call *call, struct why *why) {
    call->op = op;
    call->out_revision = INT64_MIN;
    if ((op->flags & (OP_READS | OP_WRITES)) && !call->app->store)
        return why_say(why, E_NOT_FOUND, "", "No book is open. Name one: --book FILE.");
    return op->run(call, why);
}
