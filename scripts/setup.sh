#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs what is missing, then makes the target:
#     sh scripts/setup.sh demo     builds, and shows what the program gives for a sample case
#     sh scripts/setup.sh check    that, and the whole test suite
# Where all is there nothing is installed. Debian and its relatives: apt-get, as root or by sudo.
set -eu
cd "$(dirname "$0")/.."
target=${1:-all}
compiler=${CC:-cc}

has() { command -v "$1" >/dev/null 2>&1; }
has_header() { # of the compiler's own search, so that a library built by hand counts too
    echo "#include <$1>" | $compiler -E - >/dev/null 2>&1
}

missing() {
    has make || echo make
    has "$compiler" && has_header stdio.h || echo gcc libc6-dev
    has_header gsl/gsl_math.h || echo libgsl-dev
    has_header csv.h || echo libcsv-dev
    has_header udunits2.h || echo libudunits2-dev
    has_header xlsxwriter.h || echo libxlsxwriter-dev
    has_header jansson.h || echo libjansson-dev
    has_header nettle/sha2.h || echo nettle-dev
    has_header zlib.h || echo zlib1g-dev
    case $target in
    demo | check | test | coverage) has gnuplot || echo gnuplot-nox ;;
    esac
    case $target in
    check | test | coverage) has_header criterion/criterion.h || echo libcriterion-dev ;;
    esac
    case $target in # the workbook is taken apart by unzip, not by what wrote it
    check | test | coverage) has unzip || echo unzip ;;
    esac
    if [ "$target" = coverage ]; then
        has gcovr || echo gcovr
    fi
    if [ "${CI:-}" = true ] && [ "$target" = check ]; then # .ci/run builds with these as well
        has clang || echo clang
        has chromium || echo chromium
        has pdftotext || echo poppler-utils
        has pkg-config || echo pkg-config
        has mandoc || echo mandoc
        has localedef && [ -f /usr/share/i18n/locales/de_DE ] || echo locales
    fi
}

install_packages() {
    as_root=
    if [ "$(id -u)" != 0 ]; then
        as_root=sudo
        has sudo || return 1
    fi
    # shellcheck disable=SC2086 # a list of words; sudo or nothing
    $as_root apt-get -qq update &&
        $as_root env DEBIAN_FRONTEND=noninteractive \
            apt-get -qq -o Dpkg::Use-Pty=0 install -y --no-install-recommends $packages
}

packages=$(missing | tr '\n' ' ')
if [ -n "$packages" ]; then
    if ! has apt-get; then
        echo "This needs what Debian calls: $packages" >&2
        echo "Install it in your system's way, then: make $target" >&2
        exit 1
    fi
    echo "installing: $packages" >&2
    if ! install_packages >&2; then
        echo "once more in ten seconds" >&2
        sleep 10
        install_packages >&2 || :
    fi
    packages=$(missing | tr '\n' ' ')
    if [ -n "$packages" ]; then
        echo "still missing; as root: apt-get install $packages" >&2
        exit 1
    fi
fi
exec make -j "$(getconf _NPROCESSORS_ONLN 2>/dev/null || echo 1)" "$target"
