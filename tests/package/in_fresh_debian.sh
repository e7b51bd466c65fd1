#!/usr/bin/env bash
# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
# in_fresh_debian.sh FOLDER: the packages there are installed by apt into a Debian 12 that holds
# nothing else, and tried: the command, its pages, its completion, and somebody else's build.
# Needs root, and a mirror of Debian (MIRROR, or else Debian's own).
set -euo pipefail
here=$(dirname "$(readlink -f "$0")")
debs=$(readlink -f "$1")
root=$(mktemp -d)
chmod 755 "$root"  # apt gives up its rights to look at it
trap 'umount "$root/proc" 2>/dev/null; rm -rf --one-file-system "$root"' EXIT

mirror=${MIRROR:-http://deb.debian.org/debian}
debootstrap --variant=minbase bookworm "$root" "$mirror" >"$root.log" ||
  { cat "$root.log" >&2; exit 1; }
rm -f "$root.log"
mount -t proc proc "$root/proc"
mkdir "$root/debs" "$root/consumer"
cp "$debs"/*.deb "$root/debs/"
cp "$here"/../consumer/{CMakeLists.txt,consumer.cpp,pkg_config.sh} "$root/consumer/"
cp /etc/resolv.conf "$root/etc/resolv.conf"
# Manual pages are left out of minimal systems where this says so.
rm -f "$root"/etc/dpkg/dpkg.cfg.d/*

inside() { chroot "$root" /usr/bin/env -i PATH=/usr/bin:/bin:/usr/sbin:/sbin LC_ALL=C.UTF-8 \
  DEBIAN_FRONTEND=noninteractive DEBCONF_NOWARNINGS=yes "$@"; }
install() {
  inside sh -c "apt-get install -qqy -o Dpkg::Use-Pty=0 --no-install-recommends $*" >/dev/null
}
say() { printf '\n== %s\n' "$*"; }

say "apt install the command"
install '/debs/stilling_*.deb'
inside stilling --version
inside sh -c 'stilling --help >/dev/null'
inside sh -c 'stilling simulate first_visit --seed 7 --out /test.csv && stilling settle /test.csv' |
  grep -m 1 'settled: '
inside sh -c 'stilling simulate first_visit --seed 7 | stilling report - --html >/report.html'
test -s "$root/report.html"

say "its pages and its completion"
install man-db bash-completion
inside sh -c 'MANWIDTH=80 man stilling-settle' | sed -n '1,8p'
inside bash -c 'source /usr/share/bash-completion/bash_completion; _completion_loader stilling
  COMP_WORDS=(stilling settle --fuel no2) COMP_CWORD=3; _stilling; echo "${COMPREPLY[@]}"' |
  grep -x no2_oil

say "somebody else's build"
install '/debs/libstilling-dev_*.deb' g++ cmake make pkg-config
inside sh -c 'cmake -S /consumer -B /build >/dev/null && cmake --build /build >/dev/null &&
  /build/consumer_headers && /build/consumer_stilling'
inside sh -c '/consumer/pkg_config.sh g++ /usr /by_pkg_config'

say "and gone without a trace"
inside apt-get purge -qqy -o Dpkg::Use-Pty=0 stilling libstilling-dev >/dev/null
! find "$root/usr" -name '*stilling*' | grep .
echo "all of it works"
