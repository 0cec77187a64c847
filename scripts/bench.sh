#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Timings of the uncertainty study on the winged sample case:
#   (a) closed form against the same model in blocked numpy, runs taking turns, results compared
#   (b) whole evaluations a second on one thread and on two, with the share of time by stage
#   (c) draws for 1 % error of the 10 % quantile, shifted Sobol against plain
# Ratios carry over to other machines, absolute figures do not.
set -eu
CASE=${CASE:-sample-data/winged}
BUILD=${BUILD:-build/release}
PYTHON=${PYTHON:-/usr/bin/python3}
RUNS=${RUNS:-9}
DRAWS=${DRAWS:-100000}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT INT TERM
bench=$work/study
${CC:-cc} -std=c11 -D_POSIX_C_SOURCE=200809L -O2 -Iinclude tests/bench/study.c \
    "$BUILD/libtrunnion.a" -o "$bench" -lgsl -lgslcblas -lcsv -ludunits2 -lnettle -lpthread -lm

median() { sort -n | awk '{v[NR] = $1} END {print v[int((NR + 1) / 2)]}'; }

if "$PYTHON" -c 'import numpy' 2>/dev/null; then
    "$bench" export "$CASE" "$DRAWS" "$work/case.json" "$work/case.z"
    export OMP_NUM_THREADS=1
    i=0
    while [ "$i" -lt "$RUNS" ]; do
        "$bench" closed "$CASE" "$DRAWS" >"$work/ours"
        "$PYTHON" tests/bench/closed.py "$work/case.json" "$work/case.z" >"$work/theirs"
        if [ "$i" -eq 0 ]; then
            paste "$work/ours" "$work/theirs" | awk 'NR > 1 {
                for (k = 1; k <= 3; k++) {
                    d = $k / $(k + 3) - 1; d = d < 0 ? -d : d
                    if (!(d <= 1e-6)) { print "point " NR - 1 ": " $k " against " $(k + 3); bad = 1 }
                    n++
                }
            } END { if (bad || n == 0) exit 1; print "results of " n " quantiles agree to 1e-6" }'
        fi
        head -n 1 "$work/ours" >>"$work/ours.times"
        head -n 1 "$work/theirs" >>"$work/theirs.times"
        i=$((i + 1))
    done
    a=$(median <"$work/ours.times")
    b=$(median <"$work/theirs.times")
    echo "$a $b $DRAWS" | awk '{printf "closed form, %d draws, one thread: %.4f s; blocked numpy %.4f s; ratio %.2f\n", $3, $1, $2, $1 / $2}'
else
    echo "numpy is not there ($PYTHON): the comparison is left out"
fi

cp -r "$CASE" "$work/whole"
printf 'quantity,kind,spread\ngearboxes.*.area,lognormal,1.2\n' >"$work/whole/uncertainty.csv"
"$bench" stages "$CASE"
i=0
while [ "$i" -lt 3 ]; do
    "$bench" whole "$work/whole" 1000 1 >>"$work/one"
    "$bench" whole "$work/whole" 1000 2 >>"$work/two"
    i=$((i + 1))
done
echo "$(median <"$work/one") $(median <"$work/two")" |
    awk '{printf "whole draws a second: %.0f on one thread, %.0f on two; ratio %.2f\n", $1, $2, $2 / $1}'
"$bench" need "$CASE"
