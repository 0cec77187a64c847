#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Console blocks of the pages: those whose first line begins with `$ trunnion`.
#     scripts/replay.sh            compares them with what the program gives (in the tests too)
#     scripts/replay.sh --update   writes what the program gives into the pages
# TRUNNION: the program, build/release/trunnion by default. A block that holds a line `...` (any
# lines) is written by hand and only compared.
set -eu
cd "$(dirname "$0")/.."
if [ "${1:-}" != --update ]; then
    exec make --no-print-directory test FILTER='replay/*'
fi
program=${TRUNNION:-build/release/trunnion}
PATH=$(cd "$(dirname "$program")" && pwd):$PATH
export PATH
work=$(mktemp)
trap 'rm -f "$work"' EXIT
code=0
for page in README.md docs/*.md docs/*/*.md docs/*/*/*.md sample-data/*/README.md; do
    [ -f "$page" ] || continue
    awk -v page="$page" '
        # Talk goes to stderr and is not part of a page, unless the command asks for it.
        function run(command,    line, failed) {
            command = "{ " command "\n} 2>/dev/null </dev/null"
            while ((command | getline line) > 0) {
                sub(/[ \t]+$/, "", line)
                print line
            }
            failed = close(command)
            if (failed && command !~ /2>&1|--strict/) {
                print page ":" NR ": exit " failed ": " command | "cat >&2"
                bad = 1
            }
        }
        function block(    i, command, by_hand) {
            for (i = 1; i <= n; i++)
                by_hand = by_hand || line[i] == "..."
            for (i = 1; i <= n; i++) {
                if (by_hand || line[i] ~ /^\$ /)
                    print line[i]
                if (by_hand || line[i] !~ /^\$ /)
                    continue
                command = substr(line[i], 3)
                while (command ~ /\\$/ && i < n) {
                    print line[++i]
                    command = substr(command, 1, length(command) - 1) line[i]
                }
                fflush()
                run(command)
            }
        }
        !inside { print; inside = /^```console$/; n = 0; next }
        /^```$/ {
            if (n && line[1] ~ /^\$ trunnion /)
                block()
            else
                for (i = 1; i <= n; i++)
                    print line[i]
            inside = 0
            print
            next
        }
        { line[++n] = $0 }
        END { exit bad }' "$page" > "$work" || code=1
    if ! cmp -s "$work" "$page"; then
        cat "$work" > "$page"
        echo "$page: written"
    fi
done
exit $code
