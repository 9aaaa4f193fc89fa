/* The schema and the migrations as text, made from store/schema.sql, views.sql and migrations by
 * store/embed.awk. */
#ifndef STORE_SCHEMA_TEXT_H
#define STORE_SCHEMA_TEXT_H

extern const char schema_text[];
extern const char views_text[];             /* views and fixed triggers */
extern const char *const migration_texts[]; /* by the version that they lead to; NULL: none */

#endif
