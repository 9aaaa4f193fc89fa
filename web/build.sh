#!/bin/sh
# Builds the page into $1, or, where node or its packages are missing, a page that says so, so that
# the program itself can always be built.
#   web/build.sh OUT_DIR
set -eu
web=$(cd "$(dirname "$0")" && pwd)
out=$1
if command -v node >/dev/null 2>&1 && [ -d "$web/node_modules/esbuild" ]; then
    exec node "$web/build.mjs" "$out"
fi
mkdir -p "$out"
echo "web: node or web/node_modules is missing (npm ci in web/); building a bare page" >&2
cp "$web/src/bare.html" "$out/index.html"
cp "$web/src/favicon.svg" "$out/favicon.svg"
for f in app.js rest.js shared.js app.css; do : >"$out/$f"; done
for f in app.js rest.js shared.js app.css favicon.svg; do gzip -n -c "$out/$f" >"$out/$f.gz"; done
tab=$(printf '\t')
{
    echo "/files/app.js${tab}app.js${tab}text/javascript; charset=utf-8${tab}-${tab}app.js.gz"
    echo "/files/app.css${tab}app.css${tab}text/css; charset=utf-8${tab}-${tab}app.css.gz"
    echo "/files/favicon.svg${tab}favicon.svg${tab}image/svg+xml${tab}-${tab}favicon.svg.gz"
    echo "/${tab}index.html${tab}text/html; charset=utf-8${tab}-${tab}-"
} >"$out/files.tsv"
