#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Timings of the uncertainty study on the winged sample case:
#   (a) closed form against the same model in blocked numpy, runs taking turns, results compared first
#   (b) one whole evaluation with its share by stage; whole draws a second on one thread and on two
#   (c) draws for 1 % error of the 10 % quantile, shifted Sobol against plain
# One thread is measured by its CPU time, so other work of the machine does not distort it; two
# threads can only be measured by the clock, so run that on an idle machine. Beside it stands the
# CPU time of two threads against one, which is 1 where they do not hinder each other.
# Ratios carry over to other machines, absolute figures do not.
set -eu
CASE=${CASE:-sample-data/winged}
PYTHON=${PYTHON:-/usr/bin/python3}
RUNS=${RUNS:-9}
DRAWS=${DRAWS:-100000}
bench=${BENCH:-build/release/bench}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT INT TERM

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
field() { awk -v k="$2" '{print $k}' "$1" | median; }
echo "$(field "$work/one" 2) $(field "$work/two" 1) $(field "$work/two" 2)" |
    awk '{printf "whole draws a second: %.0f on one thread (CPU), %.0f on two (clock), gain %.2f; CPU of two over one %.2f\n", $1, $2, $2 / $1, $1 / $3}'
"$bench" need "$CASE"
sh scripts/bench-digest.sh
sh scripts/bench-fleet.sh
