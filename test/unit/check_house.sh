#!/bin/sh
# The house's walls: which folder includes what, who alone knows a library, what the core may call.
#   check_house.sh SOURCE_ROOT BUILD_ROOT
set -u
cd "$1" || exit 1
build=$2
passed=0 failed=0
ok() { passed=$((passed + 1)); }
bad() {
    failed=$((failed + 1))
    echo "FAILED $1"
}

# ---- directions: web --JSON--> server --> app --> store, photo, codec --> core; cli --> app -------
allowed() {
    case $1 in
    core) echo 'core tables.h' ;;
    codec) echo 'core codec tables.h' ;;
    store) echo 'core store tables.h' ;;
    photo) echo 'core photo tables.h' ;;
    app) echo 'core codec store photo app tables.h' ;;
    server) echo 'core codec app server tables.h' ;;
    cli) echo 'core codec app cli tables.h' ;;
    esac
}
for folder in core codec store photo app server cli; do
    wrong=$(find $folder -name '*.[ch]' 2>/dev/null | sort | xargs -r awk -v may="$(allowed $folder)" '
        BEGIN { n = split(may, w, " "); for (i = 1; i <= n; i++) good[w[i]] = 1 }
        /^[ \t]*#[ \t]*include[ \t]*"/ {
            split($0, q, "\""); split(q[2], part, "/")
            # the program itself is put together in cli/main.c
            if (FILENAME == "cli/main.c" && (part[1] == "server" || q[2] == "photo/picture.h")) next
            if (!(part[1] in good)) print FILENAME ": " q[2]
        }')
    if [ -z "$wrong" ]; then ok; else bad "$folder includes what it must not:
$wrong"; fi
done

# ---- who alone knows a library --------------------------------------------------------------------
alone() { # header, where
    wrong=$(grep -rl --include='*.[ch]' "include <$1" core codec store photo app server cli 2>/dev/null |
        grep -v "^$2")
    if [ -z "$wrong" ]; then ok; else bad "only $2 may know $1: $wrong"; fi
}
alone jansson.h codec/
alone sqlite3.h store/
alone microhttpd.h server/http
alone qrencode.h app/
alone zlib.h server/gzip
alone jpeglib.h photo/
alone png.h photo/
alone lcms2.h photo/
alone webp/ photo/
alone libheif/ photo/
alone seccomp.h photo/

# ---- the core computes and nothing else ------------------------------------------------------------
headers='assert complex errno float inttypes limits math stdalign stdarg stdbool stddef stdint stdio stdlib
string cminpack emmintrin immintrin'
wrong=$(grep -rhn --include='*.[ch]' -o 'include <[a-z0-9_./]*\.h>' core | sed 's/.*<//; s/\.h>//' |
    sort -u | awk -v may="$headers" 'BEGIN { n = split(may, w); for (i = 1; i <= n; i++) good[w[i]] = 1 }
        !($1 in good)')
if [ -z "$wrong" ]; then ok; else bad "core includes <$wrong.h>"; fi

calls='malloc free qsort bsearch abs labs llabs strtod strtol strtoll
memcpy memmove memset memcmp memchr
__cpu_model strcat strncat strlen strcmp strncmp strchr strrchr strstr strspn strcspn strnlen strpbrk
snprintf vsnprintf __snprintf_chk __vsnprintf_chk __stack_chk_fail __assert_fail abort
__isoc99_sscanf sscanf
lmdif_ lmder_ lmdif lmder lmdif1 lmder1 enorm dpmpar covar __cminpack_func__
atanh acosh sin cos tan asin acos atan atan2 sinh cosh tanh asinh exp exp2 expm1 log log2 log10 log1p pow sqrt cbrt
hypot floor ceil round trunc rint nearbyint lround llround lrint llrint fabs fmin fmax fmod remainder
fma erf erfc tgamma lgamma frexp ldexp modf copysign nan isnan sincos scalbn logb nextafter
__udivti3 __umodti3 __divti3 __popcountdi2 _GLOBAL_OFFSET_TABLE_'
wrong=$(nm -A "$build"/core/libcore.a 2>/dev/null | awk -v may="$calls" '
    BEGIN { n = split(may, w); for (i = 1; i <= n; i++) good[w[i]] = 1 }
    $(NF - 1) == "U" { need[$NF] = $1; next }
    { have[$NF] = 1 }
    END { for (s in need) if (!(s in have) && !(s in good)) print "  " s " (" need[s] ")" }' | sort)
if [ ! -f "$build"/core/libcore.a ]; then bad "no core library in $build"
elif [ -z "$wrong" ]; then ok
else bad "core calls what it must not:
$wrong"; fi

# ---- what nobody asks for ----------------------------------------------------------------------------
# Tests and benches alone ask these: generators, and second ways to a result that must agree.
asked_by_tests='fact_known picture_worker_leak project_solve random_normal recipe_judge sample_recipe_variance'
wrong=$({
    nm -A "$build"/*/lib*.a 2>/dev/null | awk 'NF > 1 && $(NF - 1) == "T" { print "T", $NF }'
    find core codec store photo app server cli -name '*.c' -exec cat {} + | grep -v '^ \*'
} | awk -v may="$asked_by_tests" '
    BEGIN { n = split(may, w); for (i = 1; i <= n; i++) good[w[i]] = 1 }
    $1 == "T" && NF == 2 { have[$2] = 1; next }
    { gsub(/[^A-Za-z0-9_]+/, " "); n = split($0, w); for (i = 1; i <= n; i++) named[w[i]]++ }
    END { for (s in have) if (named[s] < 2 && !(s in good)) print "  " s }' | sort)
if [ -z "$wrong" ]; then ok; else bad "functions that nothing in the program calls:
$wrong"; fi
wrong=$(for table in data/*.tsv; do
    awk -v table="$table" -F'\t' '/^#/ { next } { for (i = 1; i <= NF; i++) { sub(/:.*/, "", $i); print table, $i }; exit }' "$table"
done | awk '
    NR == FNR { column[NR] = $2; where[NR] = $1; n = NR; next }
    { gsub(/[^A-Za-z0-9_.>]+/, " "); k = split($0, w, /[ .>]+/); for (i = 1; i <= k; i++) named[w[i]] = 1 }
    END { for (i = 1; i <= n; i++) if (!(column[i] in named)) print "  " where[i] ": " column[i] }
    ' - $(find core codec store photo app server cli -name '*.c'))
if [ -z "$wrong" ]; then ok; else bad "columns that nothing reads:
$wrong"; fi
wrong=$(awk -F'\t' '/^#/ { next } head++ { print "FIGURES_" toupper($1) }' data/figures.tsv | while read -r id; do
    grep -rqw -e "$id" core app || echo "  $id"
done)
if [ -z "$wrong" ]; then ok; else bad "figures that nothing asks for:
$wrong"; fi
wrong=$(awk -F'\t' '/^#/ { next } head++ { print $1 }' data/sources.tsv | while read -r id; do
    grep -rqw --exclude=sources.tsv -e "$id" data core app codec photo bench test || echo "  $id"
done)
if [ -z "$wrong" ]; then ok; else bad "sources that nothing cites:
$wrong"; fi

# ---- size and form --------------------------------------------------------------------------------
long=$(find core codec store photo app server cli -name '*.[ch]' -exec wc -l {} + 2>/dev/null |
    awk '$1 > 800 && $2 != "total" { print "  " $2 " (" $1 " lines)" }')
if [ -z "$long" ]; then ok; else bad "files over 800 lines:
$long"; fi
if command -v clang-format >/dev/null 2>&1; then
    wrong=$(git ls-files '*.[ch]' 2>/dev/null | xargs -r clang-format --dry-run 2>&1 |
        sed -n 's/^\([^:]*\):[0-9]*:.*/  \1/p' | sort -u)
    if [ -z "$wrong" ]; then ok; else bad "not formatted (clang-format -i):
$wrong"; fi
    echo "$passed passed, $failed failed, 0 skipped"
else
    echo "skipped the format check: no clang-format"
    echo "$passed passed, $failed failed, 1 skipped"
fi
[ $failed = 0 ]
