# Adds up the closing lines of all test programs in meson's log; a program that ends badly without
# having counted a failure (a crash, a timeout) is one more failure.
/^[0-9]+ passed, [0-9]+ failed, [0-9]+ skipped$/ { p += $1; f += $3; s += $5; said = $3 }
/^(=+ +[0-9]+\/[0-9]+ =+)$/ { said = -1; seen++ }
/^result: / {
    ok = ($0 ~ /exit status 0/) || ($0 ~ /exit status 77/)
    if (!ok && said <= 0) { f++; print "ended badly: " name }
    if (ok && said == -1) { f++; print "counted nothing: " name }
}
/^test: / { name = $2 }
END {
    if (!seen) { print "no test ran"; f++ }
    printf "%d passed, %d failed, %d skipped\n", p, f, s
    exit f > 0
}
