#!/bin/sh
# One fuzz target for so many seconds, from its corpus; what was found is kept.
#   test/fuzz/run.sh PROGRAM SECONDS
set -u
program=$1 seconds=$2
[ -n "${COATWRIGHT_SLOW:-}" ] && seconds=$((4 * seconds)) # where somebody has the time
name=$(basename "$program" | sed 's/^fuzz_//')
here=$(cd "$(dirname "$0")" && pwd)
found=$here/found/$name
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir -p "$found"
if "$program" -max_total_time="$seconds" -timeout=10 -rss_limit_mb=1024 -malloc_limit_mb=2048 -max_len=8192 \
    -artifact_prefix="$found/" -print_final_stats=1 "$work" "$here/corpus/$name" >"$work.log" 2>&1
then
    sed -n 's/^stat::number_of_executed_units: */'"$name"': runs /p' "$work.log"
    rm -f "$work.log"
    rmdir "$found" 2>/dev/null
    echo "1 passed, 0 failed, 0 skipped"
else
    tail -60 "$work.log"
    for input in "$found"/*; do # a build machine keeps no files: the input goes with what is printed
        [ -f "$input" ] && echo "$(basename "$input"), base64:" && base64 "$input"
    done
    rm -f "$work.log"
    echo "0 passed, 1 failed, 0 skipped"
    exit 1
fi
