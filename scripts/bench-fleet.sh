#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# The recipe of docs/fleet.md on CASES cases (1000) made from a sample: cost of a case under GNU
# parallel on all cores against that of a case on its own, core for core. Goal: 1.2 at most.
set -eu
TRUNNION=${TRUNNION:-build/release/trunnion}
CASE=${CASE:-sample-data/winged}
CASES=${CASES:-1000}
DRAWS=${DRAWS:-100}
if ! command -v parallel >/dev/null 2>&1; then
    echo "GNU parallel is not there: the fleet is left out"
    exit 0
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT INT TERM
mkdir "$work/cases"
i=0
while [ "$i" -lt "$CASES" ]; do
    name=$(printf 'm%04d' "$i")
    mkdir "$work/cases/$name"
    cp "$CASE"/*.csv "$work/cases/$name"
    sed "s/^name,[^,]*/name,machine $name/" "$CASE/machine.csv" >"$work/cases/$name/machine.csv"
    i=$((i + 1))
done
cores=$(getconf _NPROCESSORS_ONLN)
program=$(cd "$(dirname "$TRUNNION")" && pwd)/$(basename "$TRUNNION")
export PARALLEL_HOME="$work"

seconds() { # of a command, wall clock
    start=$(date +%s.%N)
    "$@" >/dev/null 2>&1
    date +%s.%N | awk -v start="$start" '{print $1 - start}'
}
fleet() {
    (cd "$work" && find cases -mindepth 1 -type d | sort | parallel -k -n 25 \
        "$program intervals --machine --csv --quiet --jobs 1 --draws $DRAWS {}" |
        awk 'NR == 1 || !/^machine,point,/' >intervals.csv)
}
single() { # as many at a time as there are cores, each a program of its own
    core=0
    while [ "$core" -lt "$cores" ]; do
        "$program" intervals --csv --quiet --jobs 1 --draws "$DRAWS" "$CASE" &
        core=$((core + 1))
    done
    wait
}
k=0
while [ "$k" -lt 9 ]; do
    seconds single >>"$work/single"
    k=$((k + 1))
done
all=$(seconds fleet)
k=0
while [ "$k" -lt 9 ]; do
    seconds single >>"$work/single"
    k=$((k + 1))
done
one=$(sort -n "$work/single" | awk '{v[NR] = $1} END {print v[int((NR + 1) / 2)]}')
machines=$(awk -F, 'NR > 1 {print $1}' "$work/intervals.csv" | sort -u | wc -l)
echo "$all $one $CASES $cores $machines" | awk '{
    a = $1 * $4 / $3
    printf "fleet of %d cases on %d cores: %.4f s a case and core, a single one %.4f s; ratio %.2f (goal 1.2); %d machines in the table\n", $3, $4, a, $2, a / $2, $5
    if ($5 != $3) exit 1 }'
