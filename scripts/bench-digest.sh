#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Reading of logs, on a log of 200 MB and eight columns that is made here and removed at the end:
#   libcsv with callbacks that only count = 1.0, against the digest on one thread and on two,
#   runs taking turns, medians; and the memory of the program for it and for ten times as much.
# Ratios carry over to other machines, absolute figures do not. BYTES, RUNS, BUILD as wanted.
set -eu
BUILD=${BUILD:-build/release}
RUNS=${RUNS:-7}
BYTES=${BYTES:-200000000}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT INT TERM
bench=$work/bench
# shellcheck disable=SC2086 # a compiler with its wrapper
${CC:-cc} -std=c11 -D_POSIX_C_SOURCE=200809L -O2 -Iinclude tests/bench/log.c \
    "$BUILD/libtrunnion.a" -o "$bench" -lgsl -lgslcblas -lcsv -ludunits2 -lxlsxwriter -ljansson -lnettle -lz -lpthread -lm
"$bench" make "$BYTES" >"$work/log.csv"

median() { sort -n | awk '{v[NR] = $1} END {print v[int((NR + 1) / 2)]}'; }

i=0
while [ "$i" -lt "$RUNS" ]; do
    "$bench" count "$work/log.csv" >>"$work/count"
    "$bench" digest "$work/log.csv" 1 >>"$work/one"
    "$bench" digest "$work/log.csv" 2 >>"$work/two"
    i=$((i + 1))
done
field() { awk -v k="$2" '{print $k}' "$work/$1" | median; }
echo "$BYTES $(field count 1) $(field one 1) $(field two 1) $(field count 2) $(field one 2) $(field two 2)" |
    awk '{
        printf "log of %.0f MB, by the clock: libcsv counting %.3f s; digest on one thread %.3f s, ratio %.2f (floor 0.6, goal 1.3); on two %.3f s, ratio %.2f (goal 2.3)\n", $1 / 1e6, $2, $3, $2 / $3, $4, $2 / $4
        printf "processor time: %.3f s, %.3f s (ratio %.2f), %.3f s on two threads; where other work shares the cores these count\n", $5, $6, $5 / $6, $7 }'

# peak memory, in KB, by the kernel's count
peak() { "$bench" memory "$@"; }
log=$work/log.csv
echo "$(peak "$log") $(peak "$log" "$log" "$log" "$log" "$log" "$log" "$log" "$log" "$log" "$log")" |
    awk '{printf "memory: %.1f MB for it, %.1f MB for ten of it (goal: the same, under 16)\n", $1 / 1024, $2 / 1024}'
