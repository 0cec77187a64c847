#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# What the program itself writes into the tree: manual page, completion, pictures of the README, the
# starter case that docs/manual.md goes on with.
#     scripts/made.sh PROGRAM           writes them
#     scripts/made.sh PROGRAM FOLDER    into another folder, for a comparison
set -eu
program=$1
root=$(cd "$(dirname "$0")/.." && pwd)
to=${2:-$root}
mkdir -p "$to/docs/pictures" "$to/scripts"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT INT TERM

put() { # FILE, from standard input; whole or not at all
    cat > "$work/part"
    cmp -s "$work/part" "$to/$1" || cp "$work/part" "$to/$1"
}

"$program" --make-manual-page | put docs/trunnion.1
"$program" --make-completion | put scripts/completion.bash
"$program" new "$work/cutter" --quiet >/dev/null
mkdir -p "$to/sample-data/cutter"
for table in "$work"/cutter/*; do
    cp "$table" "$to/sample-data/cutter/"
done
if command -v gnuplot >/dev/null; then
    "$program" report "$root/sample-data/winged" --out "$work/report" --quiet
    put docs/pictures/intervals.svg < "$work/report/intervals.svg"
    put docs/pictures/losses.svg < "$work/report/losses.svg"
fi
