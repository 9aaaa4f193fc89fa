#!/bin/sh
# make.sh COATWRIGHT BOOK: the book of this version that is kept here (docs/HOWTO.md, a new version of the book).
# test/unit/test_old_book.c knows what is in it.
set -eu
program=$1 book=$2
rm -f "$book" "$book-wal" "$book-shm"
trap 'rm -rf "$book-copies" "$book.shop"' EXIT
run() { "$program" "$@" --book "$book" --json >/dev/null; }
echo '{"name":"Bench","zone":"America/New_York","rate":"$45/h"}' > "$book.shop"
run shop change "$book.shop"
run paint add --name 'Yellow ochre' --class wb_enamel --color '#c89b3c' --stock '16 fl oz' --size '1 qt' --cost '$24.50'
run client add --name Lane
run piece add --title 'Oak desk' --template desk --width '42 in' --depth '24 in' --height '30 in' --client Lane
run paint stock yellow-ochre --kind used --amount '3 fl oz'
run money add --kind deposit --amount '$120' --piece oak-desk
run piece add --title 'Pine stool' --template stool --width '14 in' --depth '14 in' --height '18 in' --color '#c89b3c'
run batch add --name Ochre --piece pine-stool --items '[{"paint":"yellow-ochre","parts":1}]' --amount '3 fl oz'
run recipe keep --name 'Plain ochre' --items '[{"paint":"yellow-ochre","parts":1}]'
run paint stock yellow-ochre --kind bought --amount '3 fl oz' --cost '$3'
run piece close pine-stool --hours '2 h' --price '$90' --used '[{"paint":"yellow-ochre","amount":"2.5 fl oz"}]'
run paint stock yellow-ochre --kind counted --amount '13 fl oz'
run piece change oak-desk --width '43 in'
"$program" check --book "$book"
