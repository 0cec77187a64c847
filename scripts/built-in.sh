#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Check files as C source: each line a string, so that the program can replay them anywhere.
set -eu
echo '/* made by scripts/built-in.sh */'
echo '#include <trunnion/prove.h>'
n=0
for file in "$@"; do
    n=$((n + 1))
    echo "static const char *const lines_${n}[] = {"
    sed -e 's/\r$//' -e 's/[\\"]/\\&/g' -e 's/?/\\?/g' -e 's/^/    "/' -e 's/$/\\n",/' "$file"
    echo '    NULL};'
done
echo 'const trn_built_in_file trn_built_in[] = {'
n=0
for file in "$@"; do
    n=$((n + 1))
    echo "    {\"$(basename "$file")\", lines_$n},"
done
echo '};'
echo 'const size_t trn_built_in_count = sizeof trn_built_in / sizeof trn_built_in[0];'
