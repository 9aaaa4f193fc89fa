# Puts the built web files into the binary: C with .incbin out of files.tsv.
#   awk -v dir=/abs/build/web -f embed.awk /abs/build/web/files.tsv
# files.tsv: url, file, media type, "immutable" or "-", gzip file or "-".
BEGIN { FS = "\t" }
function bytes(label, file) {
    printf "__asm__(\".section .rodata\\n.balign 16\\n%s:\\n.incbin \\\"%s/%s\\\"\\n%s_end:\\n.byte 0\\n.previous\\n\");\n", label, dir, file, label
    printf "extern const unsigned char %s[] __attribute__((visibility(\"hidden\")));\n", label
    printf "extern const unsigned char %s_end[] __attribute__((visibility(\"hidden\")));\n", label
}
NR == 1 { print "/* Made from build/web/files.tsv by server/embed.awk. */\n#include \"server/files.h\"\n" }
NF >= 5 {
    n++
    bytes("file_" n, $2)
    if ($5 != "-") bytes("file_" n "_gz", $5)
    row[n] = sprintf("    {\"%s\", \"%s\", %s, file_%d, file_%d_end, %s, %s},", $1, $3,
        $4 == "immutable" ? "true" : "false", n, n,
        $5 != "-" ? "file_" n "_gz" : "NULL", $5 != "-" ? "file_" n "_gz_end" : "NULL")
}
END {
    print "\nconst struct file_row file_rows[] = {"
    for (i = 1; i <= n; i++) print row[i]
    printf "};\nconst size_t file_rows_n = %d;\n", n
}
