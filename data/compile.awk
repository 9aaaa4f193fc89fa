# Compiles the trade's tables to C.  mawk -v mode=h|c -f compile.awk *.tsv
#
# A table is a TSV file: '#' lines are remarks; the first other line names the columns, each
# name:type with type id (unique key), name (an id by which code names the row: TABLE_ID in
# capitals is its place), text, num or int; "-" in a num or int column means "not known" (NAN,
# INT_MIN). The last column must be source:text and no row may leave it empty.
# mode=h prints the row structs and struct tables; mode=c prints the data.
BEGIN { FS = "\t"; bad = 0 }
function fail(msg) { printf "%s:%d: %s\n", FILENAME, FNR, msg > "/dev/stderr"; bad = 1; exit 1 }
function quote(s) { gsub(/\\/, "\\\\", s); gsub(/"/, "\\\"", s); gsub(/\?/, "\\?", s); return "\"" s "\"" }
FNR == 1 {
    sub(/\r$/, "")
    name = FILENAME; sub(/.*\//, "", name); sub(/\.tsv$/, "", name)
    tables[++tn] = name; rows[name] = 0; have = 0
}
{ sub(/\r$/, "") }
/^#/ { next }
!have {
    have = 1; cols = NF
    for (i = 1; i <= NF; i++) {
        if (split($i, p, ":") != 2) fail("column " i " is not name:type: " $i)
        cname[name, i] = p[1]; ctype[name, i] = p[2]
        if (p[2] !~ /^(id|name|text|num|int)$/) fail("column " p[1] " has no type that is known: " p[2])
    }
    if (cname[name, NF] != "source") fail("the last column must be source:text")
    ncol[name] = NF
    next
}
{
    if (NF != cols) fail(NF " columns, " cols " wanted")
    if ($NF == "" || $NF == "-") fail("no source")
    line = ""
    for (i = 1; i <= NF; i++) {
        t = ctype[name, i]; v = $i
        if (t == "id" || t == "name") { if (v == "" || (name, i, v) in seen) fail("id empty or twice: " v); seen[name, i, v] = 1 }
        if (t == "name") places[name] = places[name] "    " toupper(name "_" v) ",\n"
        if (t == "num") {
            if (v == "-") v = "NAN"
            else if (v !~ /^-?[0-9]+(\.[0-9]+)?([eE][-+]?[0-9]+)?$/) fail(cname[name, i] " is not a number: " v)
        } else if (t == "int") {
            if (v == "-") v = "INT_MIN"
            else if (v !~ /^-?[0-9]+$/) fail(cname[name, i] " is not a whole number: " v)
        } else v = quote(v == "-" ? "" : v)
        line = line (i > 1 ? ", " : "") "." cname[name, i] " = " v
    }
    data[name, ++rows[name]] = line
}
END {
    if (bad) exit 1
    if (mode == "h") {
        print "/* Made from data/ by compile.awk: the trade's tables. Texts are never NULL. */"
        print "#ifndef DATA_TABLES_H\n#define DATA_TABLES_H\n#include <stddef.h>\n"
        for (k = 1; k <= tn; k++) {
            n = tables[k]; print "struct " n "_row {"
            for (i = 1; i <= ncol[n]; i++) {
                t = ctype[n, i]
                print "    " (t == "num" ? "double " : t == "int" ? "int " : "const char *") cname[n, i] ";"
            }
            print "};\n"
            if (n in places) print "enum " n "_place {\n" places[n] "};\n"
        }
        print "struct tables {"
        for (k = 1; k <= tn; k++) print "    const struct " tables[k] "_row *" tables[k] ";\n    size_t " tables[k] "_n;"
        print "};\n\n/* The tables as shipped, compiled in. */\nextern const struct tables tables_builtin;\n#endif"
    } else {
        print "/* Made from data/ by compile.awk. */\n#include \"tables.h\"\n#include <limits.h>\n#include <math.h>\n"
        for (k = 1; k <= tn; k++) {
            n = tables[k]; print "static const struct " n "_row " n "_rows[] = {"
            for (r = 1; r <= rows[n]; r++) print "    {" data[n, r] "},"
            print "};\n"
        }
        print "const struct tables tables_builtin = {"
        for (k = 1; k <= tn; k++) print "    ." tables[k] " = " tables[k] "_rows, ." tables[k] "_n = " rows[tables[k]] ","
        print "};"
    }
}
