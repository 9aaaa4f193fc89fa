/* The published schemas, printed from the same descriptions that read and print. */
#include "app/color_work.h"
#include "app/op.h"
#include "app/op_plan.h"
#include "codec/job_desc.h"

#include <stdio.h>

struct schema_args {
    int which;
};

static const char *const words_which[] = {"", "job", "shelf", "plan", "recipes", NULL};
static const struct schema_root roots[] = {{NULL, SPELL_INPUT},
                                           {&desc_job, SPELL_INPUT},
                                           {&desc_shelf, SPELL_INPUT},
                                           {&desc_plan_answer, SPELL_RESULT},
                                           {&desc_recipe_answer, SPELL_RESULT}};

static const struct field args_fields[] = {
    {F_AT(struct schema_args, which), .type = FIELD_WORD, .words = words_which,
     .flags = FLAG_REQUIRED, .help = "which document"},
};
static DESC(desc_args, struct schema_args, "schema_args", "Which schema.", args_fields);

static enum status run(struct op_call *call, struct why *why) {
    const struct schema_args *args = call->args;
    const struct schema_root *root = &roots[args->which];
    char id[64];
    snprintf(id, sizeof id, "coatwright/%s.schema.json", words_which[args->which]);
    call->out_type = "application/schema+json";
    enum status s = schema_print(root->d, root->spelling, id, &call->out_body);
    return s == OK ? OK : why_say(why, s, "", "The schema could not be printed.");
}

static const char *const positional[] = {"which", NULL};
static const struct op rows[] = {
    {"schema", OP_GET, "/api/schemas/{which}", &desc_args, NULL, positional, 0,
     "JSON Schema (draft 2020-12) of a document or result: job, shelf, plan, recipes", run},
};
extern const struct ops ops_schema;
const struct ops ops_schema = {rows, sizeof rows / sizeof *rows};
