#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Opens the report page of every sample case in a headless browser, prints it and looks at the
# print: pages, none of them blank, every font embedded, the texts found, nothing asked of a
# network. Says so and does nothing where browser or print tools are missing, unless CI=true.
#     TRUNNION=build/release/trunnion sh scripts/check-page.sh [CASE ...]
set -eu
cd "$(dirname "$0")/.."
trunnion=${TRUNNION:-build/release/trunnion}
[ $# -gt 0 ] || set -- sample-data/*/
browser=
for name in chromium chromium-browser google-chrome; do
    [ -n "$browser" ] || browser=$(command -v "$name" || :)
done
for tool in pdfinfo pdftotext pdffonts; do
    command -v "$tool" >/dev/null 2>&1 || browser=
done
if [ -z "$browser" ]; then
    echo "page: not looked at in a browser (chromium and poppler-utils are not installed)"
    [ "${CI:-}" != true ] || exit 1
    exit 0
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
faults=0
fault() {
    echo "page: $*" >&2
    faults=$((faults + 1))
}

# Without a network where the system lets us; the log of what was asked for in any case.
alone=
if unshare --user --map-root-user --net true >/dev/null 2>&1; then
    alone='unshare --user --map-root-user --net'
elif unshare --net true >/dev/null 2>&1; then
    alone='unshare --net'
fi

print_page() { # page pdf log
    # shellcheck disable=SC2086 # words
    timeout 180 $alone "$browser" --headless=new --no-sandbox --disable-gpu --disable-quic \
        --disable-dev-shm-usage --no-first-run --disable-background-networking \
        --disable-component-update --disable-sync --disable-extensions \
        --disable-features=OptimizationHints,OptimizationGuideModelDownloading \
        --user-data-dir="$work/profile" --log-net-log="$3" --no-pdf-header-footer \
        --print-to-pdf="$2" "file://$1" >"$work/out" 2>&1 || return 1
    [ -s "$2" ]
}

# What the page itself could load.
check_text() { # page
    if grep -Eiq '(src|href|action|data|xlink:href)="?(https?:)?//|url\((https?:)?//|@import|<script|<link|<iframe|<object|<embed' "$1"; then
        fault "$1: names something outside of itself"
    fi
    grep -q "Content-Security-Policy\" content=\"default-src 'none'" "$1" || fault "$1: no policy"
    # relative references lie beside it
    grep -Eo 'href="[^#"][^"]*"' "$1" | sort -u | sed 's/^href="//; s/"$//' | while read -r file; do
        [ -f "$(dirname "$1")/$file" ] || echo "$file"
    done >"$work/missing"
    [ ! -s "$work/missing" ] || fault "$1: links to files that are not there: $(cat "$work/missing")"
    # every id once
    again=$(grep -Eo ' id="[^"]*"' "$1" | sort | uniq -d | head -n 3)
    [ -z "$again" ] || fault "$1: twice: $again"
}

check_print() { # case pdf
    pages=$(pdfinfo "$2" | sed -n 's/^Pages: *//p')
    size=$(pdfinfo "$2" | sed -n 's/^Page size: *//p')
    case $size in
    *A4* | 594.*x*841.* | 595*x*84[12]*) ;;
    *) fault "$1: printed on $size, not A4" ;;
    esac
    if [ "$pages" -lt 2 ] || [ "$pages" -gt 40 ]; then
        fault "$1: $pages pages"
    fi
    page=1
    while [ "$page" -le "$pages" ]; do
        pdftotext -layout -f "$page" -l "$page" "$2" "$work/text"
        words=$(wc -w <"$work/text")
        [ "$words" -ge 15 ] || fault "$1: page $page is all but blank ($words words)"
        grep -Eq "(^| )$page */ *$pages\$" "$work/text" || fault "$1: page $page has no number"
        grep -q 'inputs [0-9a-f]\{16\}' "$work/text" || fault "$1: page $page has no hash"
        page=$((page + 1))
    done
    pdftotext -layout "$2" "$work/text"
    name=$(sed -n 's/^name,\([^,"]*\),.*/\1/p' "$1/machine.csv" | head -n 1)
    for text in "$name" 'Decision: service intervals' 'What governs' 'Set-up' 'Lives' 'Sources' \
        'What was not computed' 'Inputs' 'Signatures'; do
        grep -qF "$text" "$work/text" || fault "$1: \`$text\` is not in the print"
    done
    pdffonts "$2" | sed '1,2d' >"$work/fonts"
    [ -s "$work/fonts" ] || fault "$1: the print has no fonts"
    # columns from the end: object, generation, unicode, subset, embedded
    loose=$(awk '$(NF-4) != "yes" {print $1}' "$work/fonts")
    [ -z "$loose" ] || fault "$1: not embedded: $loose"
}

# Requests to a host, of the page or of the browser on its behalf.
check_net() { # case log
    [ -s "$2" ] || {
        fault "$1: no log of the network"
        return
    }
    # all but the clock and the updates of the browser itself, which no option switches off
    asked=$(grep -Eo '"(url|original_url)":"(https?|wss?|ftp)://[^"]*"' "$2" |
        grep -Ev '://(clients2\.google|(update|optimizationguide-pa)\.googleapis)\.com/' | sort -u | head -n 3 || :)
    [ -z "$asked" ] || fault "$1: asked for $asked"
}

for case in "$@"; do
    case=${case%/}
    [ -f "$case/machine.csv" ] || continue
    out=$work/$(basename "$case")
    "$trunnion" report "$case" --out "$out" --quiet
    check_text "$out/report.html"
    if print_page "$out/report.html" "$out.pdf" "$work/net.json"; then
        check_print "$case" "$out.pdf"
        check_net "$case" "$work/net.json"
        echo "page: $case prints on $(pdfinfo "$out.pdf" | sed -n 's/^Pages: *//p') pages"
    else
        fault "$case: the browser did not print ($(tail -n 1 "$work/out"))"
    fi
done
[ "$faults" = 0 ]
