#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# `make install` and `make uninstall`; the Makefile sets DESTDIR PREFIX LIBDIR VERSION SONAME BUILD.
set -eu
bin=$DESTDIR$PREFIX/bin
lib=$DESTDIR$LIBDIR
include=$DESTDIR$PREFIX/include
share=$DESTDIR$PREFIX/share
shared=libtrunnion.so.$VERSION

put() { # MODE FILE FOLDER [NAME]
    mkdir -p "$3"
    install -m "$1" "$2" "$3/${4:-$(basename "$2")}"
}

put_all() {
    put 755 "$BUILD/trunnion" "$bin"
    put 644 "$BUILD/libtrunnion.a" "$lib"
    put 755 "$BUILD/$shared" "$lib"
    [ "$SONAME" = "$shared" ] || ln -sf "$shared" "$lib/$SONAME"
    ln -sf "$SONAME" "$lib/libtrunnion.so"
    put 644 include/trunnion.h "$include"
    for header in include/trunnion/*.h; do
        put 644 "$header" "$include/trunnion"
    done
    mkdir -p "$lib/pkgconfig"
    sed -e "s|@PREFIX@|$PREFIX|" -e "s|@LIBDIR@|$LIBDIR|" -e "s|@VERSION@|$VERSION|" \
        scripts/trunnion.pc.in > "$lib/pkgconfig/trunnion.pc"
    chmod 644 "$lib/pkgconfig/trunnion.pc"
    [ ! -f docs/trunnion.1 ] || put 644 docs/trunnion.1 "$share/man/man1"
    [ ! -f scripts/completion.bash ] ||
        put 644 scripts/completion.bash "$share/bash-completion/completions" trunnion
    # Where DESTDIR is set a package is being made, whose installation does this.
    if [ -z "$DESTDIR" ] && [ "$(id -u)" = 0 ] && command -v ldconfig >/dev/null; then
        ldconfig
    fi
}

case $1 in
install) put_all ;;
uninstall)
    rm -f "$bin/trunnion" "$lib/libtrunnion.a" "$lib/$shared" "$lib/$SONAME" \
        "$lib/libtrunnion.so" "$lib/pkgconfig/trunnion.pc" "$include/trunnion.h" \
        "$share/man/man1/trunnion.1" "$share/bash-completion/completions/trunnion"
    rm -rf "$include/trunnion"
    ;;
*)
    echo "usage: make install | make uninstall" >&2
    exit 2
    ;;
esac
