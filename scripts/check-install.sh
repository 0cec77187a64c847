#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs into a folder of its own, builds a small program against the shared and the static
# library, looks at the names that the shared one shows, and takes all away again.
set -eu
cd "$(dirname "$0")/.."
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
root=$work/root
cc=${CC:-cc}

make --no-print-directory install PREFIX="$root"
cat > "$work/user.c" <<'C'
#include <stdio.h>
#include <trunnion.h>

int main(void)
{
    const trn_formula *f = trn_formula_find("joint.fluctuation");
    const char *const pairs[] = {"beta=15deg", "n=540rpm"};
    trn_answer answer;
    if (!f || trn_formula_evaluate(f, pairs, 2, &answer) < 0)
        return 1;
    for (size_t i = 0; i < f->output_count; i++)
        (void)printf("%s %.9g\n", f->outputs[i].name,
                     trn_formula_shown(&f->outputs[i], answer.out[i].x));
    return 0;
}
C
own="-I$root/include -L$root/lib -ltrunnion"
rest="-lgsl -lgslcblas -lcsv -ludunits2 -lxlsxwriter -ljansson -lnettle -lz -lpthread -lm"
if command -v pkg-config >/dev/null; then
    PKG_CONFIG_PATH=$root/lib/pkgconfig
    export PKG_CONFIG_PATH
    own=$(pkg-config --cflags --libs trunnion)
    rest=$(pkg-config --static --libs trunnion)
fi
# shellcheck disable=SC2086 # lists of words
$cc -std=c11 -Wall -Wextra -Wpedantic -Werror "$work/user.c" $own -o "$work/shared"
# shellcheck disable=SC2086
$cc -std=c11 -I"$root/include" "$work/user.c" "$root/lib/libtrunnion.a" $rest -o "$work/static"
LD_LIBRARY_PATH=$root/lib "$work/shared" > "$work/shared.txt"
rm "$root"/lib/libtrunnion.so*
"$work/static" > "$work/static.txt"
cmp "$work/shared.txt" "$work/static.txt"
[ -s "$work/shared.txt" ]
# Each header alone, as C and as C++ (by whichever compiler there is for it).
cxx=${CXX:-}
for candidate in c++ g++ clang++ clang; do
    [ -n "$cxx" ] || ! command -v "$candidate" >/dev/null || cxx=$candidate
done
for header in "$root"/include/trunnion.h "$root"/include/trunnion/*.h; do
    name=${header#"$root"/include/}
    echo "#include <$name>" > "$work/one.c"
    $cc -std=c11 -Wall -Wextra -Wpedantic -Werror -I"$root/include" -fsyntax-only "$work/one.c"
    [ -z "$cxx" ] || $cxx -x c++ -Wall -Wextra -Werror -I"$root/include" -fsyntax-only "$work/one.c"
done
[ -n "$cxx" ] || echo 'no C++ compiler: headers tried as C only'

make --no-print-directory install PREFIX="$root" >/dev/null
nm -D --defined-only "$root/lib/libtrunnion.so" | awk '$3 !~ /^trn_/' > "$work/names.txt"
if [ -s "$work/names.txt" ]; then
    echo 'libtrunnion.so shows names that do not begin with trn_:' >&2
    cat "$work/names.txt" >&2
    exit 1
fi
"$root/bin/trunnion" --version
[ -f "$root/share/man/man1/trunnion.1" ]
[ -f "$root/share/bash-completion/completions/trunnion" ]

make --no-print-directory uninstall PREFIX="$root"
if [ -n "$(find "$root" ! -type d)" ]; then
    echo 'left behind by uninstall:' >&2
    find "$root" ! -type d >&2
    exit 1
fi
