# schema.sql, views.sql and migrations/NNNN.sql as C texts (store/schema_text.h).
BEGIN { for (i = 1; i < ARGC; i++) name[i] = ARGV[i] }
FNR == 1 {
    if (open) print "    ;"
    open = 1
    base = FILENAME; sub(/.*\//, "", base); sub(/\.sql$/, "", base)
    if (base == "schema" || base == "views") print "const char " base "_text[] ="
    else { number[++n] = base + 0; print "static const char migration_" (base + 0) "[] =" }
}
{ line = $0; gsub(/\\/, "\\\\", line); gsub(/"/, "\\\"", line); print "    \"" line "\\n\"" }
END {
    print "    ;"
    print "const char *const migration_texts[] = {0"
    for (i = 1; i <= n; i++) print "    , [" number[i] "] = migration_" number[i]
    print "};"
}
BEGIN { print "#include \"store/schema_text.h\"\n" }
