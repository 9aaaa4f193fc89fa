# Adds up the closing lines of all test programs in meson's log; a program that ends badly without
# having counted a failure (a crash, a timeout) is one more failure. The log names a test's result
# before its output, so each test is judged when the next one begins.
function judge() {
    if (name == "") return
    if (!ok && failed < 1) { f++; print "ended badly: " name }
    if (ok && failed < 0) { f++; print "counted nothing: " name }
    name = ""
}
/^[0-9]+ passed, [0-9]+ failed, [0-9]+ skipped$/ { p += $1; f += $3; s += $5; failed = $3 }
/^test: / { judge(); sub(/^test: +/, ""); name = $0; failed = -1; ok = 0; seen++ }
/^result: / { ok = ($0 ~ /exit status 0/) || ($0 ~ /exit status 77/) }
END {
    judge()
    if (!seen) { print "no test ran"; f++ }
    printf "%d passed, %d failed, %d skipped\n", p, f, s
    exit f > 0
}
