#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# What the checkers say that are there; exit 1 where one of them finds something.
set -u
cd "$(dirname "$0")/.." || exit 1
code=0
jobs=$(getconf _NPROCESSORS_ONLN 2>/dev/null || echo 1)

banned=$(grep -nE '\b(sprintf|strcpy|strcat|gets|atoi|atof|strtok)[[:space:]]*\(' \
    src/*/*.[ch] include/*.h include/trunnion/*.h tests/*.[ch])
if [ -n "$banned" ]; then
    echo "functions that are not used here:"
    echo "$banned"
    code=1
fi
echo 'comments of public functions'
awk -f scripts/docstrings.awk include/trunnion/*.h || code=1
if command -v shellcheck >/dev/null; then
    echo shellcheck
    shellcheck scripts/*.sh scripts/completion.bash .ci/run || code=1
fi
if command -v cppcheck >/dev/null; then
    echo cppcheck
    cppcheck --quiet -j "$jobs" --std=c11 --enable=warning,performance,portability \
        --inline-suppr --suppress=missingIncludeSystem --error-exitcode=1 \
        -Iinclude src || code=1
fi
if command -v clang-tidy >/dev/null; then
    echo clang-tidy
    # strerror: messages come from one thread; the checks of buffer functions ask for Annex K,
    # which no C library here has; parameters of one type side by side are physics.
    printf '%s\n' src/*/*.c | xargs -n 8 -P "$jobs" sh -c '
        clang-tidy --quiet --warnings-as-errors="*" --checks="-*,clang-analyzer-*,bugprone-*,\
-clang-analyzer-security.insecureAPI.DeprecatedOrUnsafeBufferHandling,\
-bugprone-easily-swappable-parameters" "$@" -- \
            -std=c11 -D_POSIX_C_SOURCE=200809L -Iinclude 2>/dev/null' sh || code=1
fi
[ $code = 0 ] && echo 'nothing found'
exit $code
