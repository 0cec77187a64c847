#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# `make deb`: a Debian package from an install tree, build/deb/trunnion_VERSION_ARCH.deb. The same
# sources and tools give the same bytes, wherever they lie: no time but SOURCE_DATE_EPOCH (the
# day of the version where it is not set), no owner but root, no debug information.
# The Makefile sets VERSION SONAME BUILD DATE.
set -eu
umask 022
cd "$(dirname "$0")/.."
for tool in dpkg-deb dpkg-query strip objdump; do
    command -v $tool >/dev/null || { echo "deb: $tool is needed" >&2; exit 1; }
done
SOURCE_DATE_EPOCH=${SOURCE_DATE_EPOCH:-$(date -u -d "$DATE" +%s)}
export SOURCE_DATE_EPOCH LC_ALL=C TZ=UTC
arch=$(dpkg --print-architecture)
root=build/deb/root
package=build/deb/trunnion_${VERSION}_$arch.deb
rm -rf build/deb
DESTDIR=$PWD/$root PREFIX=/usr LIBDIR=/usr/lib/$(${CC:-cc} -print-multiarch 2>/dev/null || :) \
    sh scripts/install.sh install

shared=$(find "$root/usr/lib" -name 'libtrunnion.so.*' -type f)
chmod 644 "$shared"
static=$(find "$root/usr/lib" -name 'libtrunnion.a')
strip --strip-unneeded --remove-section=.comment --remove-section=.note "$shared" \
    "$root/usr/bin/trunnion"
strip --strip-debug --enable-deterministic-archives "$static"

doc=$root/usr/share/doc/trunnion
mkdir -p "$doc"
gzip -9n "$root/usr/share/man/man1/trunnion.1"
cp README.md docs/*.md "$doc"
cat > "$doc/copyright" <<C
Format: https://www.debian.org/doc/packaging-manuals/copyright-format/1.0/
Upstream-Name: trunnion

Files: *
Copyright: 2026, the authors of trunnion
License: GPL-3.0-or-later
 On Debian systems the text of the licence is in /usr/share/common-licenses/GPL-3.
C
cp -r sample-data "$doc/examples"

# What the program and the library load, as the packages that hold it, in versions not older.
needs() {
    objdump -p "$shared" "$root/usr/bin/trunnion" | awk '/NEEDED/ {print $2}' | sort -u |
        while read -r library; do
            path=$(/sbin/ldconfig -p | awk -v l="$library" '$1 == l {print $NF; exit}')
            dpkg-query -S "$(readlink -f "$path")" "$path" 2>/dev/null || :
        done | sed -e 's/:.*//' | sort -u |
        while read -r name; do
            echo "$name (>= $(dpkg-query -W -f '${Version}' "$name" | sed -e 's/-[^-]*$//'))"
        done
}
depends=$(needs | awk '{printf "%s%s", (NR > 1 ? ", " : ""), $0}')
[ -n "$depends" ] || { echo 'deb: no package holds the libraries' >&2; exit 1; }

mkdir -p "$root/DEBIAN"
cat > "$root/DEBIAN/control" <<C
Package: trunnion
Version: $VERSION
Architecture: $arch
Maintainer: the authors of trunnion <trunnion@localhost>
Section: science
Priority: optional
Installed-Size: $(find "$root/usr" -type f -exec wc -c {} + |
    awk '$2 != "total" {k += int(($1 + 1023) / 1024)} END {print k}')
Depends: $depends
Recommends: gnuplot-nox | gnuplot
Description: service intervals of PTO-driven machines
 From a folder of tables that describe one machine, its set-up and its use,
 trunnion computes joint angles, loads, lives, heat, oil and grease budgets,
 and from these a table of service intervals with reasons. Program, library,
 headers, manual and sample cases.
C
echo "libtrunnion ${SONAME#libtrunnion.so.} trunnion (>= $VERSION)" > "$root/DEBIAN/shlibs"
echo 'activate-noawait ldconfig' > "$root/DEBIAN/triggers"
(cd "$root" && find usr -type f | sort | xargs -d '\n' md5sum > DEBIAN/md5sums)

find "$root" -type d -exec chmod 755 {} +
find "$root" -exec touch -h -d "@$SOURCE_DATE_EPOCH" {} +
dpkg-deb --root-owner-group -Zxz --build "$root" "$package" >/dev/null
echo "$package"
