#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Runs a command where a locale with a decimal comma is to be had: one that is installed, else
# one made here from the system's sources. Without either the tests that need it are skipped.
# usage: comma-locale.sh FOLDER COMMAND...
set -eu
folder=$1
shift
if ! locale -a 2>/dev/null | grep -qi '^de_DE\.utf'; then
    if [ ! -d "$folder/de_DE.UTF-8" ] && command -v localedef >/dev/null; then
        mkdir -p "$folder"
        localedef -c -i de_DE -f UTF-8 "$folder/de_DE.UTF-8" >/dev/null 2>&1 || :
    fi
    if [ -d "$folder/de_DE.UTF-8" ]; then
        LOCPATH=$(cd "$folder" && pwd)
        export LOCPATH
    fi
fi
exec "$@"
